//go:build unix

package source

import (
	"syscall"
	"time"
)

func init() {
	spent = func() time.Duration {
		var r syscall.Rusage
		if syscall.Getrusage(syscall.RUSAGE_SELF, &r) != nil {
			return time.Since(started)
		}
		return time.Duration(r.Utime.Nano() + r.Stime.Nano())
	}
}
