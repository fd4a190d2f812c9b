package source

import (
	"os"
	"os/signal"
	"sync"
	"syscall"
)

// half are the files that are being written and have not got their name yet.
var half struct {
	sync.Mutex
	names map[string]bool
}

// begun notes that a file is being written, ended that it no longer is.
func begun(temp string) {
	half.Lock()
	defer half.Unlock()
	if half.names == nil {
		half.names = map[string]bool{}
	}
	half.names[temp] = true
}

func ended(temp string) {
	half.Lock()
	defer half.Unlock()
	delete(half.names, temp)
}

// EndOnSignal ends the program at an interrupt, a termination or a hang-up,
// and takes away what is half written. The exit code is 128 and the number of
// the signal, as shells have it. A signal that is ignored stays ignored.
func EndOnSignal() {
	stop := make(chan os.Signal, 1)
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		if !signal.Ignored(s) {
			signal.Notify(stop, s)
		}
	}
	go func() {
		s := <-stop
		half.Lock() // for good: nothing is begun or named any more
		for name := range half.names {
			os.Remove(name)
		}
		code := 1
		if n, ok := s.(syscall.Signal); ok {
			code = 128 + int(n)
		}
		os.Exit(code)
	}()
}
