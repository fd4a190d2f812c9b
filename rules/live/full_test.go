package live

import (
	"net"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"placketeer/rules/trial"

	"github.com/chromedp/chromedp"
)

// on serves a file that is there already.
func on(t *testing.T, file string) *table {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(Options{File: file}, l)
	if err != nil {
		t.Fatal(err)
	}
	web := httptest.NewUnstartedServer(s)
	web.Listener.Close()
	web.Listener = l
	web.Start()
	t.Cleanup(func() { s.Close(); web.CloseClientConnections(); web.Close() })
	return &table{t, file, s, web}
}

func (t *table) besides() (names string) {
	t.Helper()
	all, err := os.ReadDir(filepath.Dir(t.file))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		names += e.Name() + " "
	}
	return names
}

// On a full disk nothing is written: the file is as it was, nothing else is left
// behind, and the page says so; with room made it goes on.
func TestFullDisk(t *testing.T) {
	tb := on(t, trial.FullDisk(t, "coat.toml", coat, 0))
	v := tb.view("view", request{})
	keep := request{Version: v.Version, With: []string{"closure.front.needle=100/16"}}
	settle := request{Version: v.Version, Rule: "stack-bulky", Closure: "front", Because: "sewn"}
	for path, q := range map[string]request{"keep": keep, "settle": settle} {
		code, says := tb.post(path, q)
		for _, want := range []string{"the disk is full", "nothing was written", "the file is as it was", "make room"} {
			if code != 422 || !strings.Contains(string(says), want) {
				t.Errorf("%s: %d, not %q: %s", path, code, want, says)
			}
		}
		if strings.Contains(string(says), filepath.Dir(tb.file)) {
			t.Errorf("%s names the folder: %s", path, says)
		}
		if tb.text() != coat || tb.besides() != "coat.toml filler " {
			t.Errorf("%s: beside it %s: %s", path, tb.besides(), tb.text())
		}
	}
	os.Remove(filepath.Join(filepath.Dir(tb.file), "filler"))
	tb.view("keep", keep)
	if !strings.Contains(tb.text(), `needle = "100/16"`) {
		t.Error(tb.text())
	}
}

// The same in the browser: what was tried stays on the page.
func TestFullDiskOnThePage(t *testing.T) {
	v := visit(t)
	tb := on(t, trial.FullDisk(t, "coat.toml", coat, 0))
	v.does("open", chromedp.EmulateViewport(390, 900), chromedp.Navigate(tb.s.Address()))
	v.does("try", chromedp.Click(`[data-try*="closure.front.needle=100/16"]`))
	v.sees("tried", holds("#lines", `needle = "100/16"`))
	v.does("keep", chromedp.Click("#keep"))
	v.sees("told", holds("#banner", "the disk is full")+" && "+holds("#lines", `needle = "100/16"`)+" && !document.querySelector('#trying').hidden")
	if tb.text() != coat {
		t.Error(tb.text())
	}
	os.Remove(filepath.Join(filepath.Dir(tb.file), "filler"))
	v.does("keep", chromedp.Click("#keep"))
	v.sees("kept", `document.querySelector("#trying").hidden && document.querySelector("#banner").hidden`)
}
