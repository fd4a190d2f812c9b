package source

import (
	"errors"
	"io"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
)

func TestRead(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	must(t, os.WriteFile(at("a.toml"), []byte("a = 1"), 0o600))
	must(t, os.Symlink("a.toml", at("link")))
	must(t, os.WriteFile(at("full"), []byte(strings.Repeat("#", MaxSize)), 0o600))
	// A file of 20 GiB that takes no room on the disk.
	must(t, os.WriteFile(at("huge"), nil, 0o600))
	must(t, os.Truncate(at("huge"), 20<<30))
	must(t, os.Symlink("/dev/zero", at("zero")))
	must(t, os.Symlink("nowhere", at("dangling")))
	socket, err := net.Listen("unix", at("socket"))
	must(t, err)
	defer socket.Close()

	const most = ", and at most 1048576 are read"
	for _, c := range []struct {
		name string
		r    io.Reader
		want string
	}{
		{dir, nil, dir + ": this is a folder; name a file in it"},
		{at("no.toml"), nil, at("no.toml") + ": there is no such file"},
		{at("dangling"), nil, at("dangling") + ": there is no such file"},
		{"", nil, "there is no such file"},
		{at("a.toml/x"), nil, at("a.toml/x") + ": a part of the name before the last is not a folder"},
		{dir + "/" + strings.Repeat("n", 300), nil, dir + "/" + strings.Repeat("n", 300) + ": the name is too long"},
		{"\x1b[2J.toml", nil, `\x1b[2J.toml: there is no such file`},
		{at("huge"), nil, at("huge") + ": the file has 21474836480 bytes" + most},
		{"/dev/zero", nil, "/dev/zero: this is a device and not a file"},
		{at("zero"), nil, at("zero") + ": this is a device and not a file"},
		{at("socket"), nil, at("socket") + ": this is not a file that can be read whole"},
		{"-", iotest.ErrReader(errors.New("broken\npipe")), `-: cannot read it: broken\npipe`},
		{"-", &endless{}, "-: the file has more than 1048576 bytes" + most},
	} {
		var data []byte
		var err error
		if c.r != nil {
			data, err = ReadAll(c.name, c.r)
		} else {
			data, err = ReadFile(c.name)
		}
		if _, ok := err.(Problems); !ok || err.Error() != c.want || data != nil {
			t.Errorf("got %v, want %s", err, c.want)
		}
	}
	for name, want := range map[string]string{"a.toml": "a = 1", "link": "a = 1", "full": strings.Repeat("#", MaxSize)} {
		if data, err := ReadFile(at(name)); err != nil || string(data) != want {
			t.Errorf("%s: %d bytes, %v", name, len(data), err)
		}
	}
	if data, err := ReadAll("-", strings.NewReader("a = 1")); err != nil || string(data) != "a = 1" {
		t.Errorf("%q, %v", data, err)
	}
}

// endless gives spaces for ever.
type endless struct{}

func (*endless) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = ' '
	}
	return len(b), nil
}
