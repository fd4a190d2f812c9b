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

	wanted, ready bool // EndOnSignal was called; signals are waited for
}

// begin is called before a file is made: from now on a signal is waited for,
// where that is wanted. Until then there is nothing to take away, and a
// program that writes no file starts sooner.
func begin() {
	half.Lock()
	defer half.Unlock()
	if half.wanted && !half.ready {
		half.ready = true
		waitForSignal()
	}
}

// begun notes that a file is being written, ended that it no longer is.
func begun(temp string) {
	begin()
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

// EndOnSignal has an interrupt, a termination or a hang-up take away what is
// half written before it ends the program. The exit code is then 128 and the
// number of the signal, as shells have it of a program that a signal ended. A
// signal that is ignored stays ignored.
func EndOnSignal() {
	half.Lock()
	defer half.Unlock()
	half.wanted = true
}

func waitForSignal() {
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
