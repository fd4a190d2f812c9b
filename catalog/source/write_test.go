package source

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// listing is what a folder holds: names, modes and contents.
func listing(t *testing.T, dir string) map[string]string {
	t.Helper()
	list := map[string]string{}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		info, err := e.Info()
		if err != nil {
			t.Fatal(err)
		}
		text := ""
		if info.Mode().IsRegular() {
			data, err := os.ReadFile(filepath.Join(dir, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			text = " " + string(data)
		}
		list[e.Name()] = info.Mode().String() + text
	}
	return list
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	must(t, os.WriteFile(at("old"), []byte("before, and longer"), 0o600))
	must(t, os.Chmod(at("old"), 0o640))
	must(t, os.WriteFile(at("shared"), []byte("before"), 0o600))
	must(t, os.Chmod(at("shared"), 0o666))
	must(t, os.Symlink("old", at("link")))
	must(t, WriteFile(at("link"), []byte("through the link")))
	must(t, WriteFile(at("shared"), []byte("after")))
	must(t, WriteFile(at("empty"), nil))
	must(t, WriteFile(at(strings.Repeat("n", 255)), []byte("x")))
	must(t, os.Remove(at(strings.Repeat("n", 255))))

	// A new file has the mode that the system gives to new files.
	must(t, WriteFile(at("new"), []byte("new")))
	f, err := os.Create(at("ordinary"))
	must(t, err)
	must(t, f.Close())
	a, _ := os.Stat(at("new"))
	b, _ := os.Stat(at("ordinary"))
	if a.Mode() != b.Mode() {
		t.Errorf("a new file has mode %v, ordinarily %v", a.Mode(), b.Mode())
	}
	must(t, os.Remove(at("ordinary")))

	want := map[string]string{
		"old":    "-rw-r----- through the link",
		"shared": "-rw-rw-rw- after",
		"link":   "Lrwxrwxrwx",
		"empty":  a.Mode().String() + " ",
		"new":    a.Mode().String() + " new",
	}
	if diff := cmp.Diff(want, listing(t, dir)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestWriteFailureLeavesAllAsItWas(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	must(t, os.WriteFile(at("old"), []byte("before"), 0o600))
	must(t, os.WriteFile(at("read-only"), []byte("before"), 0o600))
	must(t, os.Chmod(at("read-only"), 0o444))
	must(t, os.Mkdir(at("folder"), 0o700))
	must(t, os.Symlink("folder", at("folder-link")))
	must(t, os.Symlink("nowhere", at("lost-link")))
	before := listing(t, dir)

	broken := errors.New("no more ink")
	half := func(w io.Writer) error {
		fmt.Fprint(w, "half a")
		return broken
	}
	whole := func(w io.Writer) error {
		_, err := fmt.Fprint(w, "whole")
		return err
	}
	for _, c := range []struct {
		name string
		fill func(io.Writer) error
		want string
	}{
		{at("old"), half, at("old") + ": cannot write it: no more ink"},
		{at("new"), half, at("new") + ": cannot write it: no more ink"},
		{at("folder"), whole, at("folder") + " is a folder; name a file in it"},
		{at("folder-link"), whole, at("folder-link") + " is a folder; name a file in it"},
		{at("lost-link"), whole, at("lost-link") + " is a link to a file that does not exist; remove it or choose another name"},
		{at("read-only"), whole, at("read-only") + " is read-only; allow writing or choose another name"},
		{at("no/new"), whole, "the folder " + at("no") + " does not exist; make it first"},
		{at("no") + "/", whole, "the folder " + at("no") + " does not exist; make it first"},
		{at("old/new"), whole, at("old/new") + ": a part of the name before the last is not a folder"},
		{at(strings.Repeat("n", 300)), whole, at(strings.Repeat("n", 300)) + ": the name is too long"},
		{"", whole, "no file is named to write to"},
	} {
		err := Write(c.name, c.fill)
		if err == nil || err.Error() != c.want {
			t.Errorf("%s: got %v, want %s", c.name, err, c.want)
		}
		if strings.HasSuffix(c.want, "no more ink") && !errors.Is(err, broken) {
			t.Errorf("%s: the error beneath is lost", c.name)
		}
	}

	// The last step itself fails: the name has become a folder meanwhile.
	err := Write(at("becomes"), func(w io.Writer) error {
		must(t, os.Mkdir(at("becomes"), 0o700))
		return whole(w)
	})
	if err == nil || !strings.HasPrefix(err.Error(), at("becomes")+": cannot write it: ") || strings.Contains(err.Error(), ".tmp") {
		t.Errorf("got %v", err)
	}
	must(t, os.Remove(at("becomes")))

	func() {
		defer func() {
			if recover() == nil {
				t.Error("the panic is swallowed")
			}
		}()
		Write(at("old"), func(w io.Writer) error {
			fmt.Fprint(w, "half a")
			panic("stop")
		})
	}()
	if diff := cmp.Diff(before, listing(t, dir)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestWriteDevice(t *testing.T) {
	if err := WriteFile(os.DevNull, []byte("x")); err != nil {
		t.Error(err)
	}
	if info, err := os.Stat(os.DevNull); err != nil || info.Mode().IsRegular() {
		t.Fatalf("%s was replaced", os.DevNull)
	}
	if info, err := os.Stat("/dev/full"); err == nil && !info.Mode().IsRegular() {
		if err := WriteFile("/dev/full", []byte("x")); err == nil || err.Error() != "/dev/full: the disk is full" {
			t.Errorf("got %v", err)
		}
	}
	r, w, err := os.Pipe()
	must(t, err)
	defer r.Close()
	name := fmt.Sprintf("/dev/fd/%d", w.Fd())
	if _, err := os.Stat(name); err != nil {
		t.Skipf("no %s here", name)
	}
	must(t, WriteFile(name, []byte("through a pipe")))
	must(t, w.Close())
	if data, err := io.ReadAll(r); err != nil || string(data) != "through a pipe" {
		t.Errorf("got %q, %v", data, err)
	}
}
