//go:build unix

package live

import "syscall"

func mkfifo(file string) error { return syscall.Mkfifo(file, 0o644) }
