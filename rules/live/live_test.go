package live

import (
	"bytes"
	"cmp"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/search"
	"placketeer/rules/sheet"
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

// version is that of the file that is at the table.
func (t *table) version() string { return now(t.T, t.s) }

func now(t *testing.T, s *Server) string {
	t.Helper()
	st, err := s.current("")
	if err != nil {
		t.Fatal(err)
	}
	return st.version
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
	keep := request{Version: tb.version(), With: []string{"closure.front.needle=100/16"}}
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

const varied = coat + `
[variant.light]
"cloth.shell.thickness" = "2.7 mm"

[variant.dark]
"closure.front.run.count" = 6
`

// What is kept while a variant is shown stands in the variant's table, and the
// file itself and the other variants stay as they are.
func TestVariantAtTheTable(t *testing.T) {
	tb := lay(t, "coat.toml", varied)
	v := tb.view("view", request{Variant: "light"})
	if v.Variant != "light" || strings.Join(v.Variants, " ") != "light dark" || !strings.Contains(v.Screen, "needle 75/11 is too thin") {
		t.Fatalf("%q of %q: %s", v.Variant, v.Variants, v.Screen)
	}
	q := request{Version: v.Version, Variant: "light", With: []string{"closure.front.needle=100/16"}}
	v = tb.view("view", q)
	if len(v.Lines) != 1 || !strings.Contains(v.Lines[0], `"closure.front.needle"`) || !strings.Contains(v.Into, "[variant.light]") {
		t.Errorf("%s %q", v.Into, v.Lines)
	}
	v = tb.view("keep", q)
	own, table, _ := strings.Cut(tb.text(), "[variant.light]")
	table, other, _ := strings.Cut(table, "[variant.dark]")
	if !strings.HasPrefix(varied, own) || !strings.HasSuffix(varied, other) || !strings.Contains(strings.Join(strings.Fields(table), " "), `"closure.front.needle" = "100/16"`) {
		t.Errorf("%s", tb.text())
	}
	if v.Variant != "light" || v.Verdict == "conflict" {
		t.Errorf("after keeping: %q %s", v.Variant, v.Verdict)
	}
	for name, verdict := range map[string]string{"": "conflict", "dark": "conflict"} {
		if v := tb.view("view", request{Variant: name}); v.Verdict != verdict {
			t.Errorf("%q: %s", name, v.Verdict)
		}
	}
	if v := tb.view("view", request{Variant: "dark"}); !strings.Contains(v.Picture, `data-row="6"`) {
		t.Error("the picture is not that of the variant")
	}
	// A caution of the file and of a variant are settled each at its own figure.
	for _, name := range []string{"", "light"} {
		v := tb.view("view", request{Variant: name})
		if !strings.Contains(v.Screen, `data-rule="stack-bulky"`) {
			t.Fatalf("%q: %s", name, v.Screen)
		}
		tb.view("settle", request{Version: v.Version, Variant: name, Rule: "stack-bulky", Closure: "front", Because: "sewn as " + cmp.Or(name, "itself")})
	}
	for name, because := range map[string]string{"": "sewn as itself", "light": "sewn as light"} {
		if v := tb.view("view", request{Variant: name}); !strings.Contains(v.Screen, because) || strings.Contains(v.Screen, `data-rule="stack-bulky"`) {
			t.Errorf("%q: %s", name, v.Screen)
		}
	}
	// One that is not there, and one that is gone.
	if v := tb.view("view", request{Variant: "drak"}); v.Variant != "" || !strings.Contains(v.Gone, "drak") {
		t.Errorf("%q %q", v.Variant, v.Gone)
	}
	for _, path := range []string{"keep", "settle", "choices", "paper"} {
		if code, out := tb.post(path, request{Version: tb.version(), Variant: "drak", With: q.With, Rule: "stack-bulky", Because: "x"}); code != 422 {
			t.Errorf("%s of none: %d %s", path, code, out)
		}
	}
	// What would leave a variant that cannot be planned is not written.
	out := lay(t, "out.toml", coat+"\n[variant.own]\n\"closure.front.needle\" = \"\"\n")
	if code, says := out.post("keep", request{Version: out.version(), With: []string{"closure.front.needle="}}); code != 422 || !strings.Contains(string(says), "the variant own could not be planned then") || strings.Contains(out.text(), "needle = \"\"\n[[") {
		t.Errorf("%d %s: %s", code, says, out.text())
	}
	// An entry that only a variant needs is not called unused on the other pages.
	for _, name := range []string{"", "light", "dark"} {
		if v := tb.view("view", request{Variant: name}); strings.Contains(v.Screen, "take the entry out") {
			t.Errorf("%q: %s", name, v.Screen)
		}
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
		{"closure.front.run.first", "about 2 inches", `first = "2 in`},
		{"closure.front.run.last", "12,5 cm", `last = "12.5 cm"`},
		{"closure.front.run.count", "six", `count = 6`},
		{"closure.front.use", "about 45L", `-45"`},
		{"cloth.shell.thickness", "2,1 mm", `thickness = "2.1 mm"`},
		{"machine.buttonhole_max", "1 3/8 in", `buttonhole_max = "1 3/8 in"`},
	} {
		v := tb.view("view", request{Set: &field{Key: c.key, Value: c.value}})
		if lines := strings.Join(v.Lines, "\n"); !strings.Contains(lines, c.line) {
			t.Errorf("%s %s: %s", c.key, c.value, lines)
		}
	}
	for _, c := range []struct{ key, value, says string }{
		{"closure.front.run.first", "far", "begins with a number"},
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

// What a person with her own button, a plaid and a machine may have to change
// stands on the page too, though out of the way.
func TestMoreValues(t *testing.T) {
	own := strings.Replace(strings.Replace(coat, `use = "horn-36" # the boatswain's`, "", 1), "[closure.run]", "[closure.notion]\ndiameter = \"1 1/8 in\"\nthickness = \"6 mm\"\n\n[closure.run]", 1)
	own = strings.Replace(own, `use = "melton"`, `use = "coating-check"`, 1)
	own = strings.Replace(own, "[machine]\nbuttonhole_max = \"28 mm\"\n", "", 1)
	tb := lay(t, "coat.toml", own)
	has := map[string]string{}
	for _, f := range tb.view("view", request{}).Fields {
		has[f.Key] = f.Value
		if f.More != !strings.Contains("closure.front.use closure.front.run.count closure.front.run.first closure.front.run.last closure.front.stand.finished closure.front.hole_length", f.Key) {
			t.Errorf("%s: more %v", f.Key, f.More)
		}
	}
	for key, value := range map[string]string{"closure.front.notion.diameter": "1 1/8 in", "closure.front.notion.thickness": "6 mm", "closure.front.run.length": "24 in", "cloth.shell.thickness": "2.4 mm ± 0.1", "cloth.shell.repeat.along": "", "machine.buttonhole_max": ""} {
		if got, ok := has[key]; !ok || got != value {
			t.Errorf("%s: %q %v, not %q", key, got, ok, value)
		}
	}
	for _, c := range []struct{ key, value, line string }{
		{"closure.front.notion.diameter", "2,9 cm", `diameter = "2.9 cm"`},
		{"closure.front.run.length", "26 in", `length = { S = "26 in", M = "25 in" }`},
		{"cloth.shell.repeat.along", "3 1/2 in", `"3 1/2 in"`},
		{"closure.front.check.over", "1,5 cm", `over = "1.5 cm"`},
		{"machine.buttonhole_max", "32 mm", `buttonhole_max = "32 mm"`},
		{"machine.foot_lift", "7 mm", `foot_lift = "7 mm"`},
	} {
		v := tb.view("view", request{Set: &field{Key: c.key, Value: c.value}})
		if lines := strings.Join(v.Lines, "\n"); !strings.Contains(lines, c.line) {
			t.Errorf("%s %s: %s", c.key, c.value, lines)
		}
	}
}

// Of a double-breasted front the stand is shown as the file has it, from the
// centre line: what is shown, typed again, changes nothing.
func TestStandOfADoubleBreastedFront(t *testing.T) {
	text := strings.Replace(coat, "needle =", "lap = \"double\"\nneedle =", 1) + "[closure.rows]\ndistance = \"3 in\"\n"
	tb := lay(t, "coat.toml", text)
	for _, f := range tb.view("view", request{}).Fields {
		if f.Key != "closure.front.stand.finished" {
			continue
		}
		if l, err := measure.ParseLength(f.Value, measure.In); err != nil || l < 3*measure.Inch {
			t.Errorf("the edge lies inside the column: %s", f.Value)
		}
		v := tb.view("view", request{Set: &f})
		for _, after := range v.Fields {
			if after.Key == f.Key && after.Value != f.Value {
				t.Errorf("%s typed again is %s", f.Value, after.Value)
			}
		}
		return
	}
	t.Error("no stand")
}

// What stands beside a toggle and a zip is of a toggle and a zip.
func TestFieldsOfOtherFasteners(t *testing.T) {
	for _, c := range []struct{ file, key, hint, line, typed string }{
		{"duffel-coat-ready.toml", "closure.toggles.inset", "", "inset", "2 3/4 in"},
		{"duffel-coat-ready.toml", "closure.toggles.use", "a name of the catalogue", "", ""},
		{"squall-jacket-ready.toml", "closure.zip.zip_length", "planned", "", ""},
	} {
		data, err := os.ReadFile(filepath.Join("../../testdata/garments", c.file))
		if err != nil {
			t.Fatal(err)
		}
		tb := layBeside(t, c.file, string(data))
		name := strings.Split(c.key, ".")[1]
		i := slices.IndexFunc(tb.view("view", request{Closure: name}).Fields, func(f field) bool { return f.Key == c.key })
		if i < 0 {
			t.Errorf("no %s: %v", c.key, tb.view("view", request{Closure: name}).Fields)
			continue
		}
		if f := tb.view("view", request{Closure: name}).Fields[i]; !strings.Contains(f.Hint, c.hint) {
			t.Errorf("%s: %q", c.key, f.Hint)
		}
		if c.line == "" {
			continue
		}
		if v := tb.view("view", request{Closure: name, Set: &field{Key: c.key, Value: c.typed}}); !strings.Contains(strings.Join(v.Lines, " "), c.line) {
			t.Errorf("%s: %q", c.key, v.Lines)
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

// Every figure of a text is filled in.
func TestFiguresFilledIn(t *testing.T) {
	files, err := filepath.Glob("../../testdata/garments/*.toml")
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		g, err := catalog.Load(file, catalog.Options{})
		if err != nil {
			continue // a catalogue
		}
		p := checked(g, search.CheckOptions{Fixes: true})
		for _, part := range screenOf(sheet.ScreenOf(p, sheet.Options{}), p).Shown {
			for _, th := range part.Things {
				if strings.ContainsAny(th.Says+th.Whole+th.Explains, "{}") {
					t.Errorf("%s: %s", file, th.Explains)
				}
			}
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
	first := tb.version()
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

// How high the foot lifts decides what goes under it whatever the fastener: it
// stands on the page for each, zips and toggles too.
func TestFootOnThePage(t *testing.T) {
	for _, use := range []string{"horn-36", "toggle-wood-60", "coil-5-separating"} {
		text := "garment = \"Coat\"\nunits = \"mm\"\n[cloth.shell]\nuse = \"melton\"\n[[closure]]\nname = \"front\"\nwhere = \"front\"\nuse = \"" + use + "\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = 600\n"
		if use != "coil-5-separating" {
			text += "count = 4\n"
		}
		found := false
		for _, f := range lay(t, "coat.toml", text).view("view", request{}).Fields {
			found = found || f.Key == "machine.foot_lift"
		}
		if !found {
			t.Errorf("%s: no field for the foot", use)
		}
	}
}
