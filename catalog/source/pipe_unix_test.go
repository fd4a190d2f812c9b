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

// What takes the name between the look and the opening, and what the system
// makes up as it is read, is not waited for.
func TestFilesThatWait(t *testing.T) {
	begin := time.Now()
	for _, name := range []string{"/proc/kmsg", "/proc/sys/kernel/random/uuid", "/dev/null", "/proc/self/mem"} {
		ReadFile(name) // whether it may be read is the system's
	}
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, "coat.toml")
	stop := make(chan struct{})
	turned := make(chan struct{})
	go func() { // now a file, now the pipe
		defer close(turned)
		for {
			select {
			case <-stop:
				return
			default:
			}
			os.WriteFile(name+".new", []byte("x = 1\n"), 0o600)
			os.Rename(name+".new", name)
			os.Link(pipe, name+".new")
			os.Rename(name+".new", name)
		}
	}()
	for range 300 {
		if data, err := ReadFile(name); err == nil && string(data) != "x = 1\n" {
			t.Fatalf("%q", data)
		}
	}
	close(stop)
	<-turned
	if d := time.Since(begin); d > 20*time.Second {
		t.Errorf("it took %v", d)
	}
}

// A file that became another before it is replaced stays as it is.
func TestReplace(t *testing.T) {
	name := filepath.Join(t.TempDir(), "coat.toml")
	for _, c := range []struct {
		there, was string
		ok         bool
	}{{"old", "old", true}, {"other", "old", false}, {"", "old", false}} {
		if err := os.WriteFile(name, []byte(c.there), 0o600); err != nil {
			t.Fatal(err)
		}
		ok, err := Replace(name, []byte(c.was), []byte("new"))
		got, _ := os.ReadFile(name)
		want := c.there
		if c.ok {
			want = "new"
		}
		if err != nil || ok != c.ok || string(got) != want {
			t.Errorf("%q: %v %v, %q", c.there, ok, err, got)
		}
	}
	os.Remove(name)
	if ok, err := Replace(name, nil, []byte("new")); ok || err == nil {
		t.Error("a file that is not there was replaced")
	}
	if err := syscall.Mkfifo(name, 0o600); err != nil {
		t.Fatal(err)
	}
	if ok, _ := Replace(name, nil, []byte("new")); ok {
		t.Error("a pipe was replaced")
	}
	if left, _ := os.ReadDir(filepath.Dir(name)); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}
