package desk

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// process runs the program as a process of its own, as somebody who is not
// the administrator where that can be done: to the administrator nothing is
// forbidden.
func process(t *testing.T, set func(*exec.Cmd), args ...string) ran {
	t.Helper()
	var out, errs bytes.Buffer
	cmd := exec.Command(Program, args...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = strings.NewReader(""), &out, &errs
	if set != nil {
		set(cmd)
	}
	err := cmd.Run()
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		return ran{exit.ExitCode(), out.String(), errs.String()}
	case err != nil:
		t.Fatal(err)
	}
	return ran{0, out.String(), errs.String()}
}

// leftOver are the files of a folder that nobody asked for.
func leftOver(t *testing.T, dir string) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(dir, ".placketeer-*"))
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// The standard input's own file is not written over.
func TestInputAsOutput(t *testing.T) {
	at := files(t, map[string]string{"coat.toml": coat})
	for _, out := range []string{at("coat.toml"), "/dev/stdin"} {
		in, err := os.Open(at("coat.toml"))
		if err != nil {
			t.Fatal(err)
		}
		got := process(t, func(c *exec.Cmd) { c.Stdin = in }, "check", "-", "--out", out)
		in.Close()
		if data, err := os.ReadFile(at("coat.toml")); got.code != ExitUsage || !strings.Contains(got.err, "over the file it is made from") || string(data) != coat || err != nil {
			t.Errorf("--out %s: %+v", out, got)
		}
	}
}

// A full disk, a file without leave to write, a folder without: exit 3, the
// file that was named in plain words, the old file as it was, nothing left.
func TestCannotBeWritten(t *testing.T) {
	at := files(t, map[string]string{"coat.toml": coat, "kept.html": "before", "locked/kept.html": "before", "small/x": ""})
	small := at("small")
	if err := syscall.Mount("none", small, "tmpfs", 0, "size=16k"); err != nil {
		t.Logf("no small disk here: %v", err)
		small = ""
	} else {
		defer syscall.Unmount(small, 0)
		if err := os.WriteFile(filepath.Join(small, "kept.html"), []byte("before"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Chmod(at("kept.html"), 0o444); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(at("locked"), 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(at("locked"), 0o755)
	for _, c := range []struct {
		name, says string
		root       bool // the administrator is refused too
	}{
		{filepath.Join(small, "kept.html"), "the disk is full", true},
		{filepath.Join(small, "new.html"), "the disk is full", true},
		{"/dev/full", "the disk is full", true},
		{at("kept.html"), "is read-only", true},
		{at("locked/kept.html"), "you are not allowed to write it", false},
		{at("locked/new.html"), "you are not allowed to write it", false},
		{at("no/new.html"), "does not exist; make it first", true},
		{at("coat.toml") + "/new.html", "is not a folder", true},
	} {
		if small == "" && strings.Contains(c.says, "full") && !strings.HasPrefix(c.name, "/dev/") || !c.root && os.Getuid() == 0 {
			continue
		}
		got := process(t, nil, "spec", at("coat.toml"), "--format", "html", "--out", c.name)
		if got.code != ExitInput || got.out != "" || !strings.Contains(got.err, c.says) || strings.Contains(got.err, ".tmp") || strings.Count(got.err, "\n") != 1 {
			t.Errorf("%s: %+v", c.name, got)
		}
		if c.name == "/dev/full" { // it can be read without an end
			continue
		}
		if data, err := os.ReadFile(c.name); err == nil && string(data) != "before" {
			t.Errorf("%s holds %.50q", c.name, data)
		}
		if left := leftOver(t, filepath.Dir(c.name)); len(left) > 0 {
			t.Errorf("%s: left %v", c.name, left)
		}
	}
	// The standard output itself.
	for _, args := range [][]string{{"check", at("coat.toml")}, {"--help"}, {"--version"}, {"spec", "--help"}, {"convert", "40L"}, {"catalog"}, {"start"}, {"schema"}, {"explain"}, {"check", at("coat.toml"), "--out", at("y.html")}} {
		full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		if err != nil {
			t.Skip(err)
		}
		got := process(t, func(c *exec.Cmd) { c.Stdout = full }, args...)
		full.Close()
		if got.code != ExitInput || !strings.Contains(got.err, "the result cannot be written: the disk is full") {
			t.Errorf("%v: %+v", args, got)
		}
	}
}

// What nobody reads ends the program without a word, or with exit 3; it does
// not hang.
func TestClosedPipe(t *testing.T) {
	at := files(t, map[string]string{"coat.toml": coat})
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	r.Close()
	got := process(t, func(c *exec.Cmd) { c.Stdout = w }, "spec", at("coat.toml"))
	w.Close()
	if got.code != ExitInput && got.code != -1 || strings.Contains(got.err, "fault in the program") {
		t.Errorf("%+v", got)
	}
}

// A file or folder that may not be read is named, and the others are checked.
func TestUnreadable(t *testing.T) {
	at := files(t, map[string]string{"d/a.toml": coat, "d/b.toml": coat, "d/sub/c.toml": coat, "d/z.toml": coat})
	for name, mode := range map[string]os.FileMode{"d/b.toml": 0, "d/sub": 0} {
		if err := os.Chmod(at(name), mode); err != nil {
			t.Fatal(err)
		}
	}
	defer os.Chmod(at("d/sub"), 0o755)
	as := func(*exec.Cmd) {}
	if os.Getuid() == 0 {
		// The program lies in a folder of the administrator's own: a copy is run
		// by nobody.
		path, err := exec.LookPath(Program)
		if err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at(Program), data, 0o755); err != nil {
			t.Fatal(err)
		}
		for d := at("d"); len(d) > len(os.TempDir()); d = filepath.Dir(d) {
			os.Chmod(d, 0o755)
		}
		as = func(c *exec.Cmd) {
			c.Path, c.Err = at(Program), nil
			c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		}
	}
	got := process(t, as, "check", at("d"), "--format", "csv")
	if got.code != ExitInput || !strings.Contains(got.out, at("d/a.toml")) || !strings.Contains(got.out, at("d/z.toml")) {
		t.Errorf("%+v", got)
	}
	for _, says := range []string{at("d/b.toml") + ": you are not allowed to read it", at("d/sub") + ": you may not read or write it"} {
		if strings.Count(got.err, says) != 1 {
			t.Errorf("%q is not said once: %s", says, got.err)
		}
	}
}

// What the system says of an answer, an input or a link is told in plain words.
func TestSystemInPlainWords(t *testing.T) {
	at := files(t, map[string]string{"long.txt": strings.Repeat("x", 1<<17), "coat.toml": coat})
	if err := os.Symlink("loop.toml", at("loop.toml")); err != nil {
		t.Fatal(err)
	}
	from := func(name string) func(*exec.Cmd) {
		return func(c *exec.Cmd) {
			f, err := os.Open(name)
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { f.Close() })
			c.Stdin = f
		}
	}
	for _, c := range []struct {
		stdin, says string
		args        []string
	}{
		{at("long.txt"), "so nothing was written: a line is longer than 64 kB\n", []string{"start", "--ask"}},
		{filepath.Dir(at("coat.toml")), "<standard input>: this is a folder and not a file\n", []string{"check", "-"}},
		{os.DevNull, "loop.toml: this is a link that leads back to itself\n", []string{"check", at("loop.toml")}},
	} {
		if got := process(t, from(c.stdin), c.args...); got.code != ExitInput || !strings.HasSuffix(got.err, c.says) {
			t.Errorf("%v: %d %q, not %q", c.args, got.code, got.err, c.says)
		}
	}
}
