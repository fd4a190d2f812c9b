//go:build unix

package desk

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// What has no end or no writer is refused with a plain message, wherever a
// file is read: a garment, a folder, a catalogue of the file or of the command.
func TestReadsRegularFilesAlone(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	for name, text := range map[string]string{
		"coat.toml": coat, "huge.toml": "", "sub/coat.toml": coat,
		"pipe-catalog.toml": "catalog = [\"pipe\"]\n" + coat, "zero-catalog.toml": "catalog = [\"/dev/zero\"]\n" + coat,
	} {
		if err := os.MkdirAll(filepath.Dir(at(name)), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at(name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Truncate(at("huge.toml"), 20<<30); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"pipe", "sub/pipe.toml"} {
		if err := syscall.Mkfifo(at(name), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	const pipe, device, large = "this is a pipe and not a file", "this is a device and not a file", "and at most 1048576 are read"
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"check", "/dev/zero"}, device},
		{[]string{"spec", at("pipe")}, pipe},
		{[]string{"checklist", at("huge.toml")}, large},
		{[]string{"check", at("pipe-catalog.toml")}, "the catalogue pipe cannot be read: " + pipe},
		{[]string{"check", at("zero-catalog.toml")}, "the catalogue /dev/zero lies outside"},
		{[]string{"check", at("coat.toml"), "--catalog", "/dev/zero"}, device},
		{[]string{"check", at("coat.toml"), "--catalog", at("pipe")}, pipe},
		{[]string{"catalog", "list", "--catalog", at("huge.toml")}, large},
		{[]string{"needle", "--cloth", "melton", "--catalog", at("pipe")}, pipe},
	} {
		if got := runIn(t, "", nil, c.args...); got.code != ExitInput || got.out != "" || !strings.Contains(got.err, c.says) {
			t.Errorf("%v: %+v", c.args, got)
		}
	}
	// In a folder it does not keep the others from being checked.
	if got := runIn(t, "", nil, "check", at("sub")); got.code != ExitInput || !strings.Contains(got.out, "Quay coat") || !strings.Contains(got.err, "pipe.toml: "+pipe) {
		t.Errorf("a folder: %+v", got)
	}
}

// A standard input without an end is read no farther than a file.
func TestReadsAnEndlessInput(t *testing.T) {
	var out, errs bytes.Buffer
	in := &spaces{}
	code := run([]string{Program, "check", "-"}, world{in: in, out: &out, err: &errs, getenv: os.Getenv})
	if code != ExitInput || out.Len() > 0 || !strings.Contains(errs.String(), "<standard input>: the file has more than 1048576 bytes") || in.n > 4<<20 {
		t.Errorf("code %d, %d bytes read: %s%s", code, in.n, out.String(), errs.String())
	}
}

// spaces gives spaces for ever.
type spaces struct{ n int }

func (s *spaces) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = ' '
	}
	s.n += len(b)
	return len(b), nil
}
