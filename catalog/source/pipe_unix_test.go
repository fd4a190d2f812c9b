//go:build unix

package source

import (
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// A pipe without a writer is refused and not waited for.
func TestReadPipe(t *testing.T) {
	name := filepath.Join(t.TempDir(), "pipe")
	must(t, syscall.Mkfifo(name, 0o600))
	done := make(chan error, 1)
	go func() {
		_, err := ReadFile(name)
		done <- err
	}()
	select {
	case err := <-done:
		if want := name + ": this is a pipe and not a file; send it to the standard input, which is named -"; err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("it waits for a writer")
	}
}
