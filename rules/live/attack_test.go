package live

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// Requests that no browser makes: each is answered in words, and none with
// the page.
func TestRawRequests(t *testing.T) {
	tb := lay(t, "coat.toml", coat)
	for name, c := range map[string]struct{ head, want string }{
		"no host":            {"GET /%[2]s/ HTTP/1.0\r\n\r\n", " 421 "},
		"another host's URL": {"GET http://sail.example/%[2]s/ HTTP/1.1\r\nHost: %[1]s\r\n\r\n", " 421 "},
		"two hosts":          {"GET /%[2]s/ HTTP/1.1\r\nHost: %[1]s\r\nHost: sail.example\r\n\r\n", " 400 "},
		"a rebound name":     {"GET /%[2]s/ HTTP/1.1\r\nHost: sail.example\r\n\r\n", " 421 "},
		"a double slash":     {"GET //%[2]s/ HTTP/1.1\r\nHost: %[1]s\r\n\r\n", " 404 "},
		"a step up":          {"GET /x/../%[2]s/ HTTP/1.1\r\nHost: %[1]s\r\n\r\n", " 404 "},
		"a coded step up":    {"GET /%[2]s/print/%%2e%%2e%%2fspec.html HTTP/1.1\r\nHost: %[1]s\r\n\r\n", " 404 "},
		"a file above":       {"GET /%[2]s/print/../../../../etc/passwd HTTP/1.1\r\nHost: %[1]s\r\n\r\n", " 404 "},
		"asked beforehand":   {"OPTIONS /%[2]s/keep HTTP/1.1\r\nHost: %[1]s\r\nOrigin: http://sail.example\r\nAccess-Control-Request-Method: POST\r\n\r\n", " 403 "},
		"written":            {"PUT /%[2]s/ HTTP/1.1\r\nHost: %[1]s\r\nContent-Length: 1\r\n\r\nx", " 404 "},
		"a head too long":    {"GET /%[2]s/ HTTP/1.1\r\nHost: %[1]s\r\nX: " + strings.Repeat("x", 2<<20) + "\r\n\r\n", " 431 "},
		"an endless length":  {"POST /%[2]s/view HTTP/1.1\r\nHost: %[1]s\r\nOrigin: http://%[1]s\r\nContent-Type: application/json\r\nContent-Length: 9999999999\r\n\r\n{\"because\":\"" + strings.Repeat("x", mostBody), " 400 "},
	} {
		c0, err := net.Dial("tcp", tb.s.host)
		if err != nil {
			t.Fatal(err)
		}
		c0.SetDeadline(time.Now().Add(10 * time.Second))
		go fmt.Fprintf(c0, c.head, tb.s.host, tb.s.secret)
		line, err := bufio.NewReader(c0).ReadString('\n')
		c0.Close()
		if err != nil && line == "" || !strings.Contains(line, c.want) {
			t.Errorf("%s: %q %v, not%s", name, line, err, c.want)
		}
	}
	if tb.text() != coat {
		t.Error("something was written")
	}
}

// Who sends nothing, or a byte now and then, is not waited for, and keeps
// nobody else waiting.
func TestSlowVisitors(t *testing.T) {
	defer func(was time.Duration) { patience = was }(patience)
	patience = 300 * time.Millisecond
	file := filepath.Join(t.TempDir(), "coat.toml")
	if err := os.WriteFile(file, []byte(coat), 0o644); err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	s, err := New(Options{File: file}, l)
	if err != nil {
		t.Fatal(err)
	}
	go s.Serve(l)
	var idle []net.Conn
	for i := range 200 {
		c, err := net.Dial("tcp", s.host)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		if i%2 == 0 {
			io.WriteString(c, "GET / HTTP/1.1\r\nHost: ")
		}
		idle = append(idle, c)
	}
	a, err := http.Get(s.Address())
	if err != nil {
		t.Fatal(err)
	}
	a.Body.Close()
	if a.StatusCode != 200 {
		t.Errorf("beside them: %s", a.Status)
	}
	for _, c := range idle {
		c.SetReadDeadline(time.Now().Add(10 * time.Second))
		if _, err := io.Copy(io.Discard, c); err != nil {
			t.Fatalf("still waited for: %v", err)
		}
	}
}

// More than can be answered at once are told so in plain words, and let in when
// others have left.
func TestFullHouse(t *testing.T) {
	file := filepath.Join(t.TempDir(), "coat.toml")
	if err := os.WriteFile(file, []byte(coat), 0o644); err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	s, err := New(Options{File: file}, l)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	go s.Serve(l)
	// Whoever is turned away may hear so before it has asked, which the client of the
	// library takes for an answer to nothing.
	ask := func() (int, string) {
		for try := 0; ; try++ {
			client := http.Client{Transport: &http.Transport{DisableKeepAlives: true}}
			a, err := client.Get(s.Address())
			if err != nil && try < 20 && strings.Contains(err.Error(), "readLoopPeekFailLocked") {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			says, err := io.ReadAll(a.Body)
			a.Body.Close()
			if err != nil {
				t.Fatal(err)
			}
			return a.StatusCode, string(says)
		}
	}
	var inside []net.Conn
	for range mostOpen {
		c, err := net.Dial("tcp", s.host)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		inside = append(inside, c)
	}
	for range 3 * mostTurned {
		if code, says := ask(); code != 503 || !strings.Contains(says, "Close other windows of it") || strings.Contains(says, "<") {
			t.Fatalf("%d: %s", code, says)
		}
	}
	for _, c := range inside {
		c.Close()
	}
	for end := time.Now().Add(10 * time.Second); ; time.Sleep(10 * time.Millisecond) {
		code, _ := ask()
		if code == 200 {
			break
		}
		if time.Now().After(end) {
			t.Fatalf("when they had left: %d", code)
		}
	}
}

// So many pages hear of changes; the next one is told that it does not, and
// does once another is closed.
func TestFullOfListeners(t *testing.T) {
	tb := lay(t, "coat.toml", coat)
	var hear []*http.Response
	for range mostListen {
		a, err := http.Get(tb.s.Address() + "events")
		if err != nil {
			t.Fatal(err)
		}
		defer a.Body.Close()
		if a.StatusCode != 200 {
			t.Fatal(a.Status)
		}
		hear = append(hear, a)
	}
	r, _ := http.NewRequest("GET", tb.s.Address()+"events", nil)
	if code, says := tb.do(r); code != 503 || !strings.Contains(string(says), "windows show this page already") {
		t.Errorf("%d %s", code, says)
	}
	tb.view("view", request{}) // what is asked is answered all the same
	hear[0].Body.Close()
	for end := time.Now().Add(10 * time.Second); ; time.Sleep(10 * time.Millisecond) {
		a, err := http.Get(tb.s.Address() + "events")
		if err != nil {
			t.Fatal(err)
		}
		a.Body.Close()
		if a.StatusCode == 200 {
			break
		}
		if time.Now().After(end) {
			t.Fatalf("when one was closed: %s", a.Status)
		}
	}
}

// Whatever takes the file's place while it is served: the page says so and
// stays as it was, nothing is written, and it goes on when the file is back.
func TestAnotherInItsPlace(t *testing.T) {
	elsewhere := filepath.Join(t.TempDir(), "other.toml")
	if err := os.WriteFile(elsewhere, []byte("a secret = [\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for name, put := range map[string]func(file string) error{
		"nothing":           func(string) error { return nil },
		"a folder":          func(f string) error { return os.Mkdir(f, 0o755) },
		"a pipe":            mkfifo,
		"a link to nothing": func(f string) error { return os.Symlink(f+".none", f) },
		"a link to itself":  func(f string) error { return os.Symlink(f, f) },
		"a device":          func(f string) error { return os.Symlink("/dev/zero", f) },
		"another file":      func(f string) error { return os.Symlink(elsewhere, f) },
		"no garment":        func(f string) error { return os.WriteFile(f, []byte("\x00\x1b[2J"), 0o644) },
		"an empty one":      func(f string) error { return os.WriteFile(f, nil, 0o644) },
		"a huge one": func(f string) error {
			return errorsOf(os.WriteFile(f, nil, 0o644), os.Truncate(f, 64<<30))
		},
	} {
		t.Run(name, func(t *testing.T) {
			tb := lay(t, "coat.toml", coat)
			before := tb.view("view", request{})
			if err := errorsOf(os.Remove(tb.file), put(tb.file)); err != nil {
				t.Skip(err)
			}
			q := request{Version: before.Version, With: []string{"closure.front.needle=100/16"}}
			begin := time.Now()
			// Kept before the page has heard of it, and after.
			if code, out := tb.post("keep", q); code == 200 {
				t.Errorf("kept into it: %s", out)
			}
			tb.s.Refresh()
			v := tb.view("view", request{})
			if v.Broken == "" || !strings.Contains(v.Picture, "<svg") || v.Version == before.Version || strings.ContainsAny(v.Broken, "\x1b\x00") {
				t.Errorf("%q %s", v.Broken, v.Version)
			}
			if code, out := tb.post("keep", request{Version: v.Version, With: q.With}); code == 200 {
				t.Errorf("kept into it: %s", out)
			}
			if d := time.Since(begin); d > 8*time.Second {
				t.Errorf("it took %v", d)
			}
			if data, _ := os.ReadFile(elsewhere); string(data) != "a secret = [\n" {
				t.Errorf("another file was written: %s", data)
			}
			if err := errorsOf(os.RemoveAll(tb.file), os.WriteFile(tb.file, []byte(coat), 0o644)); err != nil {
				t.Fatal(err)
			}
			tb.s.Refresh()
			if v := tb.view("view", request{}); v.Broken != "" || v.Version != before.Version {
				t.Errorf("back: %q %s, not %s", v.Broken, v.Version, before.Version)
			}
			tb.view("keep", q)
		})
	}
}

func errorsOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// What the garment is made from is watched as the garment is.
func TestAnotherCatalogue(t *testing.T) {
	dir := t.TempDir()
	own := filepath.Join(dir, "sub")
	notions := "[[button]]\nname = \"boat-button\"\ndiameter = \"%s\"\nthickness = \"4 mm\"\nsource = \"measured\"\nsure = \"invented\"\n"
	write := func(name, text string) {
		t.Helper()
		if err := errorsOf(os.MkdirAll(filepath.Dir(name), 0o755), os.WriteFile(name, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	write(filepath.Join(own, "notions.toml"), fmt.Sprintf(notions, "20 mm"))
	text := strings.NewReplacer(`units = "in"`, "units = \"in\"\ncatalog = [\"sub/notions.toml\"]", `"horn-36"`, `"boat-button"`).Replace(coat)
	tb := layIn(t, dir, "coat.toml", text)
	before := tb.view("view", request{})
	write(filepath.Join(own, "notions.toml"), fmt.Sprintf(notions, "26 mm"))
	tb.s.Refresh()
	after := tb.view("view", request{})
	hole := func(v *View) string {
		return v.Fields[slices.IndexFunc(v.Fields, func(f field) bool { return f.Key == "closure.front.hole_length" })].Value
	}
	if before.Version == after.Version || hole(before) == hole(after) {
		t.Errorf("not noticed: %s, %s", hole(before), hole(after))
	}
	// And noticed by itself, in another folder than the garment's.
	go tb.s.Watch()
	time.Sleep(100 * time.Millisecond)
	write(filepath.Join(own, "notions.toml"), fmt.Sprintf(notions, "23 mm"))
	for end := time.Now().Add(10 * time.Second); tb.version() == after.Version; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("not noticed by itself")
		}
	}
	// A catalogue that is gone is told, and the page stays.
	if err := os.Remove(filepath.Join(own, "notions.toml")); err != nil {
		t.Fatal(err)
	}
	tb.s.Refresh()
	if v := tb.view("view", request{}); !strings.Contains(v.Broken, "notions.toml") {
		t.Errorf("%q", v.Broken)
	}
}

// A value that the file gives size by size is typed, and moved by hand, for
// the size that is seen alone.
func TestBySize(t *testing.T) {
	tb := lay(t, "coat.toml", strings.Replace(coat, `first = "1 1/4 in"`, `first = { S = "1 in", M = "1 1/4 in" }`, 1))
	label := func(v *View, key string) field {
		t.Helper()
		for _, f := range v.Fields {
			if f.Key == "closure.front."+key {
				return f
			}
		}
		t.Fatalf("no field %s: %v", key, v.Fields)
		return field{}
	}
	v := tb.view("view", request{Size: "M"})
	if f := label(v, "run.first"); f.Label != "First below the top, size M" || f.Value != "1 1/4 in" || !f.Said {
		t.Errorf("%+v", f)
	}
	if f := label(v, "run.last"); f.Label != "Last above the hem" || f.Value != "5 in" || !f.Said {
		t.Errorf("%+v", f)
	}
	const only = `first = { S = "1 in", M = "1 1/2 in" }`
	for name, q := range map[string]request{
		"typed": {Size: "M", Set: &field{Key: "closure.front.run.first", Value: "1 1/2 in"}},
		"moved": {Size: "M", Move: &move{"front", 1, 38.1}},
	} {
		v := tb.view("view", q)
		if got := strings.Join(v.Lines, "\n"); !strings.Contains(got, only) {
			t.Errorf("%s: %s", name, got)
		}
		// And then the other size, on top of it.
		v = tb.view("view", request{With: v.With, Size: "S", Set: &field{Key: "closure.front.run.first", Value: "2 in"}})
		if got := strings.Join(v.Lines, "\n"); !strings.Contains(got, `first = { S = "2 in", M = "1 1/2 in" }`) {
			t.Errorf("%s, both: %s", name, got)
		}
	}
	// What the file does not say is emptied without a fault, what it says is
	// taken out.
	v = tb.view("view", request{With: []string{"closure.front.hole_length=1 1/2 in"}, Set: &field{Key: "closure.front.hole_length"}})
	if len(v.With) != 0 {
		t.Errorf("%q", v.With)
	}
	v = tb.view("view", request{Set: &field{Key: "closure.front.run.last"}})
	if len(v.With) != 1 || v.With[0] != "closure.front.run.last=" {
		t.Errorf("%q", v.With)
	}
	if code, out := tb.post("view", request{Set: &field{Key: "closure.front.use"}}); code != 422 || !strings.Contains(string(out), "choose a fastener") {
		t.Errorf("%d %s", code, out)
	}
}

// A garment that cannot be laid out is served too, and has the fields to put
// it right; a zip has its own; ten sizes and several openings are flipped
// through.
func TestFieldsOfAll(t *testing.T) {
	text := "garment = \"Clash\"\nunits = \"in\"\n[sizes]\nnames = [\"A\", \"B\", \"C\", \"D\", \"E\", \"F\", \"G\", \"H\", \"I\", \"J\"]\n[cloth.shell]\nuse = \"melton\"\n" +
		"[[closure]]\nname = \"front\"\nwhere = \"front\"\nuse = \"horn-30\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = 11\nfirst = 1\nlast = 2\ncount = 6\ngap = { min = 4, max = 5 }\n" +
		"[[closure]]\nname = \"cuff\"\nwhere = \"cuff\"\nuse = \"horn-24\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = 4\ncount = 1\n"
	tb := lay(t, "clash.toml", text)
	v := tb.view("view", request{Size: "J"})
	if v.Verdict != "conflict" || !strings.Contains(v.Picture, "The fasteners of front have no place: ") || v.Size != "J" || len(v.Sizes) != 10 || len(v.Openings) != 2 {
		t.Errorf("%s %s %q %q", v.Verdict, v.Picture, v.Sizes, v.Openings)
	}
	got := fmt.Sprint(v.Fields)
	for _, want := range []string{"{closure.front.use Fastener horn-30", "{closure.front.run.count How many 6 true", "{closure.front.run.first First below the top 1 in true", "{closure.front.run.last Last above the hem 2 in true"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s: %s", want, got)
		}
	}
	v = tb.view("view", request{Set: &field{Key: "closure.front.run.count", Value: "3"}})
	if v.Verdict == "conflict" || !strings.Contains(v.Picture, "<svg") {
		t.Errorf("%s %s", v.Verdict, v.Picture)
	}
	// What cannot be laid out is printed as far as it goes, or said.
	a, err := http.Get(tb.s.Address() + "print/guide.pdf")
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	if out, _ := io.ReadAll(a.Body); a.StatusCode != 200 && a.StatusCode != 422 {
		t.Errorf("%s %s", a.Status, out)
	}

	data, err := os.ReadFile("../../testdata/garments/squall-jacket-ready.toml")
	if err != nil {
		t.Fatal(err)
	}
	tb = layBeside(t, "squall.toml", string(data))
	v = tb.view("view", request{Closure: "zip", Size: "L"})
	got = fmt.Sprint(v.Fields)
	for _, want := range []string{"{closure.zip.run.length Opening, top to bottom, size L 690 mm true", "{closure.zip.run.first Zip begins below the top 15 mm true", "{closure.zip.zip_length Zip to buy  false"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s: %s", want, got)
		}
	}
	v = tb.view("view", request{Closure: "zip", Size: "L", Set: &field{Key: "closure.zip.run.length", Value: "70 cm"}})
	if got := strings.Join(v.Lines, "\n"); !strings.Contains(got, `S = "640 mm"`) && !strings.Contains(got, "S = 640") || !strings.Contains(got, "700") {
		t.Error(got)
	}
}

// Two pages and an editor at once: whatever is kept is kept into the text that
// the page showed, and what the editor wrote last is there.
func TestRacingWithAnEditor(t *testing.T) {
	tb := lay(t, "coat.toml", coat)
	go tb.s.Watch()
	stop := make(chan struct{})
	var pages sync.WaitGroup
	var kept atomic.Int64
	for range 2 {
		pages.Go(func() {
			for i := 0; ; i++ {
				select {
				case <-stop:
					return
				default:
				}
				v, err := tb.s.view(&request{Quick: true})
				if err != nil {
					t.Error(err)
					return
				}
				body, _ := json.Marshal(request{Version: v.(*View).Version, With: []string{fmt.Sprintf("closure.front.run.count=%d", 4+i%4)}})
				r, _ := http.NewRequest("POST", tb.s.Address()+"keep", bytes.NewReader(body))
				r.Header.Set("Content-Type", "application/json")
				r.Header.Set("Origin", tb.web.URL)
				a, err := http.DefaultClient.Do(r)
				if err != nil {
					t.Error(err)
					return
				}
				said, _ := io.ReadAll(a.Body)
				a.Body.Close()
				switch a.StatusCode {
				case 200:
					kept.Add(1)
				case 409, 422:
				default:
					t.Errorf("%s: %s", a.Status, said)
					return
				}
			}
		})
	}
	last := ""
	for i := range 60 {
		data, err := os.ReadFile(tb.file)
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.SplitAfter(string(data), "\n")
		last = fmt.Sprintf("# note %d of the editor\n", i)
		lines[0] = last
		next := tb.file + ".new"
		if err := errorsOf(os.WriteFile(next, []byte(strings.Join(lines, "")), 0o644), os.Rename(next, tb.file)); err != nil {
			t.Fatal(err)
		}
		time.Sleep(5 * time.Millisecond)
		if now := tb.text(); !strings.HasPrefix(now, last) {
			t.Fatalf("%q was lost: %.60q", last, now)
		}
	}
	// An editor that never rests may leave no page the time to keep anything.
	for end := time.Now().Add(20 * time.Second); kept.Load() == 0 && time.Now().Before(end); {
		time.Sleep(5 * time.Millisecond)
	}
	close(stop)
	pages.Wait()
	if kept.Load() == 0 {
		t.Error("nothing was ever kept")
	}
	if now := tb.text(); !strings.HasPrefix(now, last) || !strings.HasSuffix(now, "\n") {
		t.Errorf("%q was lost: %s", last, now)
	}
}

// Names, sizes and notes from a file steer neither the page nor what is
// printed, and no header.
func TestHostileFile(t *testing.T) {
	evil := `</svg></script><img src=x onerror=alert(1)>"'&` + "\u202e\u009b"
	const wild = `S><img src onerror>& $(x)` // of a size and a closure, which may hold no quotes and nothing unseen
	text := strings.NewReplacer(
		`"Slip coat"`, catalogText(evil), `name = "front"`, "name = "+catalogText(wild), `"S", "M"`, catalogText(wild)+`, "M"`,
		`S = "24 in"`, catalogText(wild)+` = "24 in"`, "# the boatswain's", "# "+`<img src=x onerror=alert(1)>`,
	).Replace(coat)
	tb := lay(t, "co\nat\"\r\n<img> .toml", text)
	read := func(path string) string {
		t.Helper()
		a, err := http.Get(tb.s.Address() + path)
		if err != nil {
			t.Fatal(err)
		}
		defer a.Body.Close()
		out, err := io.ReadAll(a.Body)
		if err != nil || a.StatusCode != 200 {
			t.Fatalf("%s: %s %v %.200s", path, a.Status, err, out)
		}
		if d := a.Header.Get("Content-Disposition"); path != "" && d != `inline; filename="co-at-img-`+strings.TrimPrefix(strings.SplitN(path, "?", 2)[0], "print/")+`"` {
			t.Errorf("%s: %q", path, d)
		}
		return string(out)
	}
	v := tb.view("view", request{With: []string{"cloth.shell.thickness=3 mm"}})
	_, paper := tb.post("paper", request{})
	var printed struct{ HTML string }
	if err := json.Unmarshal(paper, &printed); err != nil || printed.HTML == "" {
		t.Fatalf("%v %s", err, paper)
	}
	size := "?size=" + url.QueryEscape(v.Sizes[0])
	for name, s := range map[string]string{
		"page": read(""), "picture": v.Picture, "screen": v.Screen, "paper": printed.HTML,
		"checklist": read("print/checklist.html" + size), "spec": read("print/spec.html" + size),
	} {
		if strings.Contains(s, "<img") || strings.ContainsAny(s, "\u202e\u009b") {
			t.Errorf("%s: %q", name, s)
		}
	}
	if !strings.HasPrefix(read("print/guide.pdf"+size), "%PDF-") {
		t.Error("no guide")
	}
}

// A paper is of what is asked for, and of nothing that is not there.
func TestPapers(t *testing.T) {
	tb := lay(t, "coat.toml", coat)
	for _, c := range []struct {
		path string
		code int
		says string
	}{
		{"guide.pdf", 200, "%PDF-"},
		{"guide.pdf?paper=a4&size=M", 200, "%PDF-"},
		{"strips.pdf?with=" + url.QueryEscape("closure.front.run.count=6"), 200, "%PDF-"},
		{"spec.html?with=" + url.QueryEscape("closure.front.needle=100/16"), 200, "100/16"},
		{"checklist.html?size=M", 200, "size M"},
		{"guide.pdf?paper=napkin", 400, "cannot be read"},
		{"guide.pdf?size=XXL", 422, "XXL"},
		{"checklist.html?size=XXL", 422, "XXL"},
		{"spec.html?with=closure.front.use=unobtainium", 422, "unobtainium"},
		{"spec.html?with=" + strings.Repeat("&with=x", mostWith), 400, "cannot be read"},
		{"guide.svg", 404, "nothing here"},
		{"", 404, "nothing here"},
	} {
		a, err := http.Get(tb.s.Address() + "print/" + c.path)
		if err != nil {
			t.Fatal(err)
		}
		out, _ := io.ReadAll(a.Body)
		a.Body.Close()
		if a.StatusCode != c.code || !strings.Contains(string(out), c.says) {
			t.Errorf("%s: %s %.200s", c.path, a.Status, out)
		}
	}
	code, _ := tb.post("print/guide.pdf", request{})
	if code != 404 {
		t.Errorf("by POST: %d", code)
	}
	if tb.text() != coat {
		t.Error("something was written")
	}
}

// Whether this program serves a page is told without the secret, to this
// computer's own programs.
func TestKnown(t *testing.T) {
	tb := lay(t, "coat.toml", coat)
	if !Answers(tb.s.host, tb.s.secret) || Answers(tb.s.host, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") {
		t.Error("it knows not its own secret, or another")
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	heard := make(chan string, 1)
	go http.Serve(l, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		heard <- fmt.Sprint(r.URL, r.Header)
		io.WriteString(w, r.URL.RawQuery)
	}))
	defer l.Close()
	if Answers(l.Addr().String(), tb.s.secret) || strings.Contains(<-heard, tb.s.secret) {
		t.Error("another program passes for it, or is told the secret")
	}
	r, _ := http.NewRequest("GET", "http://"+tb.s.host+"/known?x", nil)
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	if code, _ := tb.do(r); code != 403 {
		t.Errorf("another site is told: %d", code)
	}
}
