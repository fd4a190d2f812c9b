//go:build unix

package source

import (
	"bytes"
	"os"
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

// A pipe that nobody reads is waited for a little, and not for ever; one that
// is read gets everything, more than it holds at once too.
func TestWritePipe(t *testing.T) {
	name := filepath.Join(t.TempDir(), "pipe")
	must(t, syscall.Mkfifo(name, 0o600))
	defer func(d time.Duration) { pipeWait = d }(pipeWait)
	pipeWait = 50 * time.Millisecond
	done := make(chan error, 1)
	go func() { done <- WriteFile(name, []byte("x")) }()
	select {
	case err := <-done:
		if want := name + ": this is a pipe that nobody reads"; err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("it waits for a reader")
	}
	pipeWait = 10 * time.Second
	all := bytes.Repeat([]byte("quay "), 100_000)
	go func() { done <- WriteFile(name, all) }()
	got, err := os.ReadFile(name)
	must(t, err)
	must(t, <-done)
	if !bytes.Equal(got, all) {
		t.Errorf("%d of %d bytes came", len(got), len(all))
	}
}
