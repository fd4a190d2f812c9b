package live

import (
	"bytes"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"placketeer/catalog"
)

const coat = `# A coat of the boatyard, invented.
garment = "Slip coat"
units = "in"

[sizes]
names = ["S", "M"]

[machine]
buttonhole_max = "28 mm"

[cloth.shell]
use = "melton"
weight = "620 g/m2"
thickness = "2.4 mm ± 0.1"

[interfacing.stay]
use = "weft-fusible-medium"
thickness = "0.3 mm"

[[closure]]
name = "front"
where = "front"
use = "horn-36" # the boatswain's
needle = "75/11"
over = ["shell", "stay", "shell"]

[closure.run]
length = { S = "24 in", M = "25 in" }
first = "1 1/4 in"
last = "5 in"
count = 5
`

// table is a server of a file, listening on this computer.
type table struct {
	*testing.T
	file string
	s    *Server
	web  *httptest.Server
}

func lay(t *testing.T, name, text string) *table { return layIn(t, t.TempDir(), name, text) }

func layIn(t *testing.T, dir, name, text string) *table {
	t.Helper()
	return layRead(t, dir, name, text, catalog.Options{})
}

func layRead(t *testing.T, dir, name, text string, o catalog.Options) *table {
	t.Helper()
	file := filepath.Join(dir, name)
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(Options{File: file, Reading: o}, l)
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

// post asks as the page does.
func (t *table) post(path string, body any, change ...func(*http.Request)) (int, []byte) {
	t.Helper()
	data, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	r, err := http.NewRequest("POST", t.s.Address()+path, bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Origin", t.web.URL)
	for _, c := range change {
		c(r)
	}
	return t.do(r)
}

func (t *table) do(r *http.Request) (int, []byte) {
	t.Helper()
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	out, err := io.ReadAll(a.Body)
	if err != nil {
		t.Fatal(err)
	}
	return a.StatusCode, out
}

func (t *table) view(path string, q request) *View {
	t.Helper()
	code, out := t.post(path, q)
	if code != 200 {
		t.Fatalf("%s: %d %s", path, code, out)
	}
	v := &View{}
	if err := json.Unmarshal(out, v); err != nil {
		t.Fatal(err)
	}
	return v
}

func (t *table) text() string {
	t.Helper()
	data, err := os.ReadFile(t.file)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// Only the page itself is answered: the host that was listened on, the secret
// in the address, and for what changes anything the page as the origin.
func TestOnlyThePageIsAnswered(t *testing.T) {
	tb := lay(t, "coat.toml", coat)
	get := func(change func(*http.Request)) int {
		r, err := http.NewRequest("GET", tb.s.Address(), nil)
		if err != nil {
			t.Fatal(err)
		}
		change(r)
		code, _ := tb.do(r)
		return code
	}
	for name, c := range map[string]struct {
		want   int
		change func(*http.Request)
	}{
		"the page":          {200, func(*http.Request) {}},
		"by its name":       {421, func(r *http.Request) { r.Host = "localhost:" + r.URL.Port() }},
		"another host":      {421, func(r *http.Request) { r.Host = "sail.example" }},
		"no secret":         {404, func(r *http.Request) { r.URL.Path = "/" }},
		"a wrong secret":    {404, func(r *http.Request) { r.URL.Path = "/ABCDEFGHIJKLMNOPQRSTUVWXYZ/" }},
		"part of it":        {404, func(r *http.Request) { r.URL.Path = r.URL.Path[:9] + "/" }},
		"foreign origin":    {403, func(r *http.Request) { r.Header.Set("Origin", "http://sail.example") }},
		"origin null":       {403, func(r *http.Request) { r.Header.Set("Origin", "null") }},
		"from another site": {403, func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }},
		"typed":             {200, func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "none") }},
		"a file above":      {404, func(r *http.Request) { r.URL.Path += "../../etc/passwd" }},
		"keeping by GET":    {404, func(r *http.Request) { r.URL.Path += "keep" }},
	} {
		if code := get(c.change); code != c.want {
			t.Errorf("%s: %d, not %d", name, code, c.want)
		}
	}
	keep := request{Version: tb.s.current().version, With: []string{"closure.front.needle=100/16"}}
	for name, c := range map[string]struct {
		want   int
		change func(*http.Request)
	}{
		"no origin":         {403, func(r *http.Request) { r.Header.Del("Origin") }},
		"foreign origin":    {403, func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:1") }},
		"as a form":         {403, func(r *http.Request) { r.Header.Set("Content-Type", "text/plain") }},
		"from another site": {403, func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") }},
		"another host":      {421, func(r *http.Request) { r.Host = "sail.example" }},
	} {
		if code, _ := tb.post("keep", keep, c.change); code != c.want {
			t.Errorf("keep, %s: %d, not %d", name, code, c.want)
		}
	}
	if code, _ := tb.post("view", map[string]string{"unknown": "x"}); code != 400 {
		t.Errorf("an unknown word in a request: %d", code)
	}
	if code, _ := tb.post("view", request{Because: strings.Repeat("x", mostBody)}); code != 400 {
		t.Errorf("a request too long: %d", code)
	}
	if code, _ := tb.post("view", request{With: make([]string, mostWith+1)}); code != 400 {
		t.Errorf("too many changes: %d", code)
	}
	if tb.text() != coat {
		t.Error("something was written")
	}
	r, _ := http.NewRequest("GET", tb.s.Address(), nil)
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	for h, want := range map[string]string{"Content-Security-Policy": "default-src 'none'", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "Cache-Control": "no-store"} {
		if got := a.Header.Get(h); !strings.Contains(got, want) {
			t.Errorf("%s: %q", h, got)
		}
	}
}

// A change is tried on the page, and is in the file only when it is kept; the
// comments stay; it can be taken back, and nothing of another editor is lost.
func TestTryKeepTakeBack(t *testing.T) {
	tb := lay(t, "coat.toml", coat)
	v := tb.view("view", request{})
	if v.Verdict != "conflict" || !strings.Contains(v.Screen, "needle 75/11 is too thin") {
		t.Fatalf("%s: %s", v.Verdict, v.Screen)
	}
	q := request{Version: v.Version, With: []string{"closure.front.needle=100/16"}, Size: "M"}
	v = tb.view("view", q)
	if v.Verdict == "conflict" || v.Size != "M" || tb.text() != coat {
		t.Fatalf("tried: %s in %s; written: %v", v.Verdict, v.Size, tb.text() != coat)
	}
	if len(v.Lines) != 1 || !strings.HasPrefix(v.Lines[0], `needle = "100/16"`) {
		t.Errorf("would be written: %q", v.Lines)
	}
	v = tb.view("keep", q)
	want := strings.Replace(coat, `needle = "75/11"`, `needle = "100/16"`, 1)
	if tb.text() != want || !v.Undo || len(v.With) != 0 {
		t.Fatalf("kept: %s", tb.text())
	}
	if code, _ := tb.post("keep", q); code != 409 {
		t.Errorf("kept from an old page: %d", code)
	}
	back := tb.view("undo", request{Version: v.Version})
	if tb.text() != coat || back.Verdict != "conflict" {
		t.Errorf("taken back: %s", tb.text())
	}
	// Another editor saves meanwhile: its text stays.
	theirs := strings.Replace(coat, "count = 5", "count = 6", 1)
	if err := os.WriteFile(tb.file, []byte(theirs), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, out := tb.post("keep", request{Version: back.Version, With: q.With}); code != 409 || tb.text() != theirs {
		t.Errorf("%d %s, and the file: %s", code, out, tb.text())
	}
	tb.s.Refresh()
	v = tb.view("view", request{With: q.With})
	tb.view("keep", request{Version: v.Version, With: q.With})
	if got := tb.text(); !strings.Contains(got, "count = 6") || !strings.Contains(got, `needle = "100/16"`) {
		t.Errorf("on top of theirs: %s", got)
	}
	// A file that cannot be planned: what was there stays to be seen.
	if err := os.WriteFile(tb.file, []byte(coat+"\ncount = \n"), 0o644); err != nil {
		t.Fatal(err)
	}
	tb.s.Refresh()
	v = tb.view("view", request{})
	if v.Broken == "" || !strings.Contains(v.Picture, "<svg") {
		t.Errorf("broken: %q", v.Broken)
	}
	if code, _ := tb.post("keep", request{Version: v.Version, With: q.With}); code == 200 {
		t.Error("written into a file that cannot be read")
	}
}

// On the page of a variant what is kept stands in the variant's table.
func TestVariantAtTheTable(t *testing.T) {
	file := filepath.Join(t.TempDir(), "coat.toml")
	text := coat + "\n[variant.light]\n\"cloth.shell.thickness\" = \"1.6 mm\"\n"
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	s, err := New(Options{File: file, Reading: catalog.Options{Variant: "light"}}, l)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.keep(&request{Version: s.current().version, With: []string{"closure.front.needle=100/16"}}); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	own, variant, _ := strings.Cut(string(data), "[variant.light]")
	if !strings.Contains(own, `needle = "75/11"`) || !strings.Contains(strings.Join(strings.Fields(variant), " "), `"closure.front.needle" = "100/16"`) {
		t.Errorf("%s", data)
	}
}

// The first and the last moved by hand give the ends of the run, one between
// them an anchor; the rest is laid anew, and what that costs is said.
func TestMovedByHand(t *testing.T) {
	tb := lay(t, "coat.toml", coat)
	for _, c := range []struct {
		row  int
		at   float64 // mm
		line string
		at5  []string // places that are on the picture
	}{
		{1, 38.2, `first = "1 1/2 in"`, []string{">1 1/2 in<", ">20 in<"}},
		{5, 511, `last = { S = "3 7/8 in", M = "3 7/8 in" }`, nil},
		{3, 280, `anchor`, []string{">11 in<", ">1 1/4 in<", ">20 in<"}},
		{1, -50, `first = "1/8 in"`, nil}, // no farther than the first mark
	} {
		v := tb.view("view", request{Size: "M", Move: &move{"front", c.row, c.at}})
		lines := strings.Join(v.Lines, "\n")
		if c.row == 5 { // 25 in less 20 1/8 in
			c.line = `last = "4 7/8 in"`
		}
		if !strings.Contains(lines, c.line) {
			t.Errorf("%d to %g mm: %s", c.row, c.at, lines)
		}
		for _, p := range c.at5 {
			if !strings.Contains(v.Picture, p) {
				t.Errorf("%d to %g mm: no %s: %s", c.row, c.at, p, regexp.MustCompile(`>[0-9 /]+ in<`).FindAllString(v.Picture, -1))
			}
		}
		if c.row == 3 && !strings.Contains(v.Effect, "gaps") {
			t.Errorf("what it costs: %q", v.Effect)
		}
	}
	if code, _ := tb.post("view", request{Move: &move{"front", 9, 100}}); code != 422 {
		t.Errorf("a fastener that is not there: %d", code)
	}
	if code, _ := tb.post("view", request{Move: &move{"back", 1, 100}}); code != 422 {
		t.Errorf("a closure that is not there: %d", code)
	}
}

// What is typed above is read as in the file, in any unit; a size of fastener
// takes the best of that size.
func TestTypedAbove(t *testing.T) {
	tb := lay(t, "coat.toml", coat)
	for _, c := range []struct{ key, value, line string }{
		{"closure.front.run.first", "28 mm", `first = "28 mm"`},
		{"closure.front.run.first", "1 1/8 in", `first = "1 1/8 in"`},
		{"closure.front.run.count", "7", `count = 7`},
		{"closure.front.use", "horn-30", `use = "horn-30"`},
		{"closure.front.use", "45L", `-45"`},
	} {
		v := tb.view("view", request{Set: &field{Key: c.key, Value: c.value}})
		if lines := strings.Join(v.Lines, "\n"); !strings.Contains(lines, c.line) {
			t.Errorf("%s %s: %s", c.key, c.value, lines)
		}
	}
	for _, c := range []struct{ key, value, says string }{
		{"closure.front.run.first", "one", "begins with a number"},
		{"closure.front.run.count", "many", "count"},
		{"closure.front.use", "unobtainium", "unobtainium"},
		{"garment", "x", "no value garment"},
	} {
		code, out := tb.post("view", request{Set: &field{Key: c.key, Value: c.value}})
		if code != 422 || !strings.Contains(string(out), c.says) {
			t.Errorf("%s %s: %d %s", c.key, c.value, code, out)
		}
	}
}

// A caution that a sample has answered is settled with its reason.
func TestSettledOnThePage(t *testing.T) {
	tb := lay(t, "coat.toml", coat)
	v := tb.view("view", request{})
	if !strings.Contains(v.Screen, `data-rule="stack-bulky"`) {
		t.Fatal(v.Screen)
	}
	v = tb.view("settle", request{Version: v.Version, Rule: "stack-bulky", Closure: "front", Because: `sewn, "well" <b>`})
	if !strings.Contains(tb.text(), "[[settled]]") || !strings.Contains(v.Screen, "sewn, &#34;well&#34; &lt;b&gt;") {
		t.Errorf("%s\n%s", tb.text(), v.Screen)
	}
	for _, q := range []request{
		{Version: v.Version, Rule: "stack-bulky", Closure: "front", Because: "again"},
		{Version: v.Version, Rule: "needle-cloth", Closure: "front", Because: "a conflict"},
		{Version: v.Version, Rule: "button-stitches", Closure: "front", Because: ""},
	} {
		if code, _ := tb.post("settle", q); code != 422 {
			t.Errorf("%s: %d", q.Rule, code)
		}
	}
}

// Names from a file steer no page.
func TestHostileNames(t *testing.T) {
	evil := `</script><img src=x onerror=alert(1)>"'&` + "\u202e\u009b"
	text := strings.NewReplacer(`"Slip coat"`, catalogText(evil)).Replace(coat)
	tb := lay(t, "coat.toml", text)
	r, _ := http.NewRequest("GET", tb.s.Address(), nil)
	_, page := tb.do(r)
	_, view := tb.post("view", request{})
	v := &View{}
	if err := json.Unmarshal(view, v); err != nil {
		t.Fatal(err)
	}
	for name, s := range map[string]string{"page": string(page), "picture": v.Picture, "screen": v.Screen, "view": string(view)} {
		if strings.Contains(s, "<img") && name != "view" || strings.ContainsAny(s, "\u202e\u009b") {
			t.Errorf("%s: %q", name, s)
		}
	}
}

func catalogText(s string) string {
	data, _ := json.Marshal(s)
	return strings.NewReplacer(`\u003c`, "<", `\u003e`, ">", `\u0026`, "&").Replace(string(data))
}

// Another editor's save is told within a second.
func TestSavedElsewhere(t *testing.T) {
	tb := lay(t, "coat.toml", coat)
	go tb.s.Watch()
	time.Sleep(100 * time.Millisecond) // till the folder is watched
	a, err := http.Get(tb.s.Address() + "events")
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	first := tb.s.current().version
	told := make(chan string, 8)
	go func() {
		buf := make([]byte, 4096)
		for {
			n, err := a.Body.Read(buf)
			if err != nil {
				close(told)
				return
			}
			told <- string(buf[:n])
		}
	}()
	if s := <-told; !strings.Contains(s, first) {
		t.Fatalf("first %q", s)
	}
	// As editors do: a new file takes the name.
	next := tb.file + ".new"
	if err := os.WriteFile(next, []byte(strings.Replace(coat, "count = 5", "count = 6", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(next, tb.file); err != nil {
		t.Fatal(err)
	}
	select {
	case s := <-told:
		if strings.Contains(s, first) {
			t.Errorf("told of the old one: %q", s)
		}
	case <-time.After(10 * time.Second):
		t.Error("nothing was told")
	}
	tb.s.Close()
}

// From a key to the picture: what the program takes for it, with the five-size
// coat. Quick is what each key and each step of a hand asks, whole what the
// page asks for when they rest.
func BenchmarkView(b *testing.B) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		b.Fatal(err)
	}
	defer l.Close()
	s, err := New(Options{File: filepath.Join("../../testdata/garments", "watch-coat.toml")}, l)
	if err != nil {
		b.Fatal(err)
	}
	for name, quick := range map[string]bool{"quick": true, "whole": false} {
		b.Run(name, func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				v, err := s.view(&request{With: []string{"closure.front.run.count=" + string(rune('4'+i%3))}, Quick: quick})
				if err != nil || v.(*View).Picture == "" || (v.(*View).Screen == "") != quick {
					b.Fatal(err)
				}
			}
		})
	}
}
