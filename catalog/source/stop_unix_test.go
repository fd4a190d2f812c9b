//go:build unix

package source

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestHalfWritten is not a test: it is the program that TestSignals ends. It
// writes half a file, says so, and waits.
func TestHalfWritten(t *testing.T) {
	name := os.Getenv("PLACKETEER_HALF")
	if name == "" {
		t.Skip("run by TestSignals")
	}
	EndOnSignal()
	err := Write(name, func(w io.Writer) error {
		fmt.Fprint(w, "half a")
		fmt.Println("begun")
		select {}
	})
	t.Fatal(err)
}

// A signal ends the program, what is half written goes, and the old file
// stays. What was killed outright leaves the old file too.
func TestSignals(t *testing.T) {
	for _, s := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGKILL} {
		t.Run(s.String(), func(t *testing.T) {
			if signal.Ignored(s) {
				t.Skip("whoever runs the tests has it ignored, as nohup does")
			}
			dir := t.TempDir()
			name := filepath.Join(dir, "old")
			must(t, os.WriteFile(name, []byte("before"), 0o600))
			before := listing(t, dir)
			cmd := exec.Command(os.Args[0], "-test.run", "^TestHalfWritten$")
			cmd.Env = append(os.Environ(), "PLACKETEER_HALF="+name)
			out, err := cmd.StdoutPipe()
			must(t, err)
			must(t, cmd.Start())
			if line, err := bufio.NewReader(out).ReadString('\n'); line != "begun\n" {
				t.Fatalf("%q, %v", line, err)
			}
			if n := len(listing(t, dir)); n != 2 {
				t.Fatalf("%d files while it is written", n)
			}
			must(t, cmd.Process.Signal(s))
			err = cmd.Wait()
			if s == syscall.SIGKILL {
				if data, _ := os.ReadFile(name); string(data) != "before" {
					t.Errorf("the file is now %q", data)
				}
				return
			}
			var exit *exec.ExitError
			if !errors.As(err, &exit) || exit.ExitCode() != 128+int(s) {
				t.Errorf("ended with %v, not %d", err, 128+int(s))
			}
			if diff := cmp.Diff(before, listing(t, dir)); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}
