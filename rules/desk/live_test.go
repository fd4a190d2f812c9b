package desk

import (
	"bufio"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// The command prints an address that answers; started again it is the same
// one, so that an open page goes on.
func TestLive(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	file := filepath.Join(t.TempDir(), "coat.toml")
	if err := os.WriteFile(file, []byte("garment = \"Coat\"\nunits = \"in\"\n[cloth.shell]\nuse = \"melton\"\n[[closure]]\nname = \"front\"\nuse = \"horn-30\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = 24\ncount = 5\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	r, w := io.Pipe()
	ended := make(chan int, 1)
	go func() {
		ended <- run([]string{Program, "live", file, "--no-open"}, world{strings.NewReader(""), w, w, func(string) string { return "" }})
	}()
	address := ""
	for lines := bufio.NewScanner(r); address == "" && lines.Scan(); {
		if l := strings.TrimSpace(lines.Text()); strings.HasPrefix(l, "http://127.0.0.1:") {
			address = l
		}
	}
	a, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	if page, err := io.ReadAll(a.Body); err != nil || !strings.Contains(string(page), "<h1 id=\"garment\">Coat</h1>") {
		t.Errorf("%v: %s", err, page)
	}
	kept := keptAddress(file)
	if st, err := os.Stat(string(kept)); err != nil || st.Mode().Perm() != 0o600 {
		t.Errorf("the address is kept for others too: %v %v", st, err)
	}
	l, secret, err := kept.listen() // the port is taken, so another
	if err != nil || secret != "" {
		t.Errorf("%v, %q", err, secret)
	}
	l.Close()
	// A second one of the same file tells where the first is, and ends.
	code, out, wrong := asked("live", file, "--no-open")
	if code != ExitOK || !strings.Contains(out, "at the table already") || !strings.Contains(out, address) {
		t.Errorf("a second one: %d %s%s", code, out, wrong)
	}
	// What is kept of the address is believed only if it is one.
	for _, bad := range []string{"sail.example:80 ABCDEFGHIJKLMNOPQRSTUVWXYZ", "127.0.0.1:80@sail.example ABCDEFGHIJKLMNOPQRSTUVWXYZ", "127.0.0.1:1 short", "", "127.0.0.1:99999 ABCDEFGHIJKLMNOPQRSTUVWXYZ"} {
		odd := addressFile(filepath.Join(t.TempDir(), "kept"))
		if err := os.WriteFile(string(odd), []byte(bad), 0o600); err != nil {
			t.Fatal(err)
		}
		if host, _ := odd.known(); host != "" {
			t.Errorf("%q is believed: %s", bad, host)
		}
	}
	select {
	case code := <-ended:
		t.Errorf("ended with %d", code)
	default:
	}
	for args, code := range map[string]int{"start --no-open": ExitUsage, "start --ask --no-open": ExitUsage, "live": ExitUsage, "live -": ExitUsage, "live no-such.toml --no-open": ExitInput} {
		if got, _, _ := asked(strings.Fields(args)...); got != code {
			t.Errorf("%s: %d, not %d", args, got, code)
		}
	}
}

// The interview goes on to the page where that is asked for, and with
// --no-open opens no browser.
func TestAskThenLive(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	bin := t.TempDir()
	opened := filepath.Join(bin, "opened")
	for _, name := range []string{"xdg-open", "open"} {
		if err := os.WriteFile(filepath.Join(bin, name), []byte("#!/bin/sh\necho >"+opened+"\n"), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	t.Setenv("PATH", bin)
	askedThenLive(t, "--no-open")
	// The one that opens is asked last, and is waited for.
	if _, err := os.Stat(opened); err == nil {
		t.Error("--no-open opened a browser")
	}
	askedThenLive(t)
	if runtime.GOOS == "windows" {
		return // opened by what is no file on the path
	}
	for n := 0; ; n++ {
		if _, err := os.Stat(opened); err == nil {
			return
		}
		if n == 100 {
			t.Fatal("no browser was opened")
		}
		time.Sleep(50 * time.Millisecond)
	}
}

func askedThenLive(t *testing.T, flags ...string) {
	t.Helper()
	out := filepath.Join(t.TempDir(), "coat.toml")
	r, w := io.Pipe()
	go func() {
		run(append([]string{Program, "start", "--ask", "--live", "--out", out}, flags...), world{strings.NewReader("coat\nmelton\n45L\n24 in\n6\nend\n"), w, w, func(string) string { return "" }})
		w.Close()
	}()
	for lines := bufio.NewScanner(r); lines.Scan(); {
		address := strings.TrimSpace(lines.Text())
		if !strings.HasPrefix(address, "http://127.0.0.1:") {
			continue
		}
		a, err := http.Get(address + "print/guide.pdf")
		if err != nil {
			t.Fatal(err)
		}
		defer a.Body.Close()
		if head := make([]byte, 5); a.StatusCode != 200 {
			t.Errorf("the guide: %s", a.Status)
		} else if _, err := io.ReadFull(a.Body, head); err != nil || string(head) != "%PDF-" {
			t.Errorf("the guide: %v %q", err, head)
		}
		return
	}
	t.Error("no address was printed")
}
