package sheet

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/search"
	"placketeer/rules/work"

	"github.com/google/go-cmp/cmp"
	"github.com/rivo/uniseg"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

var update = flag.Bool("update", false, "write the golden files anew")

const (
	garments = "../../testdata/garments"
	goldens  = "../../testdata/sheet"
)

// demos are the garment files of the demo; the catalogues beside them are
// not garments.
func demos(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(garments, "*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(data, []byte("\ngarment")) || bytes.HasPrefix(data, []byte("garment")) {
			out = append(out, f)
		}
	}
	if len(out) == 0 {
		t.Fatal("there is no demo garment")
	}
	return out
}

// planned plans a demo under a name that does not depend on the folder.
func planned(t testing.TB, file string) *rules.Planned {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	beside := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(filepath.Dir(file), name)) }
	g, err := catalog.Read(filepath.Base(file), data, catalog.Options{ReadFile: beside})
	if err != nil {
		t.Fatal(err)
	}
	return search.Checked(g, search.CheckOptions{Fixes: true})
}

func demo(t testing.TB, name string) *rules.Planned {
	return planned(t, filepath.Join(garments, name+".toml"))
}

// fromText plans a garment from its text.
func fromText(t testing.TB, text string) *rules.Planned {
	t.Helper()
	g, err := catalog.Read("test.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return rules.Plan(g)
}

type writer func(*testing.T, []*rules.Planned, Options) string

func checked(t *testing.T, ps []*rules.Planned, o Options) string {
	t.Helper()
	var b strings.Builder
	if err := Check(&b, ps, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func specified(t *testing.T, ps []*rules.Planned, o Options) string {
	t.Helper()
	var b strings.Builder
	if err := Spec(&b, ps, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var writers = map[string]writer{"check": checked, "spec": specified}

// goldenWriters are those whose text is kept.
var goldenWriters = map[string]writer{"check": checked, "spec": specified, "checklist": listedText}

// The text of every demo is that of its golden file: -update writes them. A
// golden file without its demo, or a demo without it, fails.
func TestGolden(t *testing.T) {
	want := map[string]bool{}
	for _, f := range demos(t) {
		p := planned(t, f)
		for kind, write := range goldenWriters {
			name := strings.TrimSuffix(filepath.Base(f), ".toml") + "." + kind + ".txt"
			want[name] = true
			got := write(t, []*rules.Planned{p}, Options{UTF8: true})
			path := filepath.Join(goldens, name)
			if *update {
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			old, err := os.ReadFile(path)
			if err != nil {
				t.Errorf("%v: run the tests of this package with -update, and read what comes", err)
				continue
			}
			if diff := cmp.Diff(strings.Split(string(old), "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("%s (-want +got), -update writes it anew:\n%s", name, diff)
			}
		}
	}
	files, err := filepath.Glob(filepath.Join(goldens, "*.txt"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if name := filepath.Base(f); !want[name] {
			if *update {
				if err := os.Remove(f); err != nil {
					t.Fatal(err)
				}
				continue
			}
			t.Errorf("%s has no demo", name)
		}
	}
}

// Every line of the text fits its width, whatever that is, and ASCII where no
// more can be shown.
func TestWidth(t *testing.T) {
	long := regexp.MustCompile(`--with|^\s+(below )?line \d+: |^\s+[a-z_.0-9]+ = |^  all: `) // ready to paste, never broken
	for _, f := range demos(t) {
		p := planned(t, f)
		for kind, write := range writers {
			for i, width := range []int{0, 60, 80, 132, 80, 60} {
				o := Options{UTF8: true, Width: width, Working: i > 3, Sources: i > 3}
				most := width
				if most == 0 {
					most = DefaultWidth
				}
				lines := strings.Split(write(t, []*rules.Planned{p}, o), "\n")
				for i, l := range lines {
					if strings.Contains(l, "\t") {
						t.Errorf("%s %s: a tab in %q", kind, f, l)
					}
					source := i+1 < len(lines) && strings.Trim(lines[i+1], " ^~") == "" && strings.Contains(lines[i+1], "^") || strings.Contains(l, "^")
					if n := uniseg.StringWidth(l); n > most && !long.MatchString(l) && !source {
						t.Errorf("%s %s at %d: %d columns: %s", kind, f, most, n, l)
					}
				}
			}
			plain := write(t, []*rules.Planned{p}, Options{})
			if i := strings.IndexFunc(plain, func(r rune) bool { return r > 126 || r < 32 && r != '\n' && r != '\t' }); i >= 0 {
				t.Errorf("%s %s: not ASCII: %q", kind, f, plain[max(0, i-20):i+10])
			}
		}
	}
}

// The contract of the JSON, written down here apart from the code.
type contract []struct {
	File     *string `json:"file"`
	Garment  *string `json:"garment"`
	Verdict  *string `json:"verdict"`
	Findings []struct {
		Rule     *string   `json:"rule"`
		Severity *string   `json:"severity"`
		Closure  *string   `json:"closure"`
		Size     *string   `json:"size"`
		Message  *string   `json:"message"`
		Have     *float64  `json:"have_mm"`
		Need     *float64  `json:"need_mm"`
		Margin   *float64  `json:"margin_mm"`
		Line     *int      `json:"line"`
		Column   *int      `json:"column"`
		Sources  *[]string `json:"sources"`
		Fixes    *[]struct {
			With   *[]string `json:"with"`
			Says   *string   `json:"says"`
			Clears *bool     `json:"clears"`
		} `json:"fixes"`
	} `json:"findings"`
	Closures []struct {
		Name  *string `json:"name"`
		Stack *struct {
			Over        *float64 `json:"over_mm"`
			Under       *float64 `json:"under_mm"`
			OverPressed *float64 `json:"over_pressed_mm"`
			Estimated   *bool    `json:"estimated"`
		} `json:"stack"`
		Hole *struct {
			Kind      *string   `json:"kind"`
			Direction *string   `json:"direction"`
			Length    *float64  `json:"length_mm"`
			Passing   *float64  `json:"passing_mm"`
			Stitched  *float64  `json:"stitched_mm"`
			Working   *[]string `json:"working"`
		} `json:"hole"`
		Stand *struct {
			Least *float64 `json:"least_mm"`
			Usual *float64 `json:"usual_mm"`
			Full  *float64 `json:"full_mm"`
			Have  *float64 `json:"have_mm"`
		} `json:"stand"`
		Support *struct {
			Strip *float64 `json:"strip_mm"`
			Cloth *float64 `json:"cloth_needed_mm"`
		} `json:"support"`
		Needle *struct {
			NM    *int    `json:"nm"`
			US    *int    `json:"us"`
			Point *string `json:"point"`
		} `json:"needle"`
		Thread *struct {
			Tex *float64 `json:"tex"`
		} `json:"thread"`
		Stitch *float64 `json:"stitch_mm"`
		Sizes  []struct {
			Size      *string    `json:"size"`
			Count     *int       `json:"count"`
			Positions *[]float64 `json:"positions_mm"`
			Gaps      *[]float64 `json:"gaps_mm"`
			Spread    *float64   `json:"spread_mm"`
		} `json:"sizes"`
	} `json:"closures"`
}

func TestContract(t *testing.T) {
	p := demo(t, "watch-coat")
	for kind, write := range writers {
		out := write(t, []*rules.Planned{p}, Options{Format: "json"})
		var got contract
		if err := json.Unmarshal([]byte(out), &got); err != nil {
			t.Fatal(err)
		}
		if len(got) != 1 || got[0].Verdict == nil || *got[0].Verdict != "conflict" || len(got[0].Closures) != len(p.Closures) || len(got[0].Findings) != len(rules.Gather(p.Findings)) {
			t.Fatalf("%s: not one object with the verdict, closures and findings of the garment:\n%s", kind, out[:300])
		}
		g := got[0]
		k, c := &p.Closures[0], &g.Closures[0]
		if c.Stack == nil || c.Hole == nil || c.Stand == nil || c.Support == nil || c.Needle == nil || c.Thread == nil || c.Stitch == nil {
			t.Fatalf("%s: a part of the first closure is missing: %+v", kind, c)
		}
		for name, pair := range map[string]struct {
			got  *float64
			want measure.Length
		}{
			"over": {c.Stack.Over, k.Over.Thick}, "under": {c.Stack.Under, k.Under.Thick}, "over pressed": {c.Stack.OverPressed, k.Over.Pressed},
			"length": {c.Hole.Length, k.Hole.Length}, "passing": {c.Hole.Passing, k.Hole.Passing}, "stitched": {c.Hole.Stitched, k.Hole.Stitched},
			"least": {c.Stand.Least, k.Stand.Least}, "usual": {c.Stand.Usual, k.Stand.Usual}, "full": {c.Stand.Full, k.Stand.Full}, "have": {c.Stand.Have, k.Stand.Have},
			"strip": {c.Support.Strip, k.Support.Strip}, "cloth": {c.Support.Cloth, k.Support.Cloth}, "stitch": {c.Stitch, k.Stitch.Length},
		} {
			if pair.got == nil || measure.FromMM(*pair.got) != pair.want {
				t.Errorf("%s: %s is not %s to the nanometre", kind, name, pair.want)
			}
		}
		if c.Hole.Working == nil || len(*c.Hole.Working) == 0 || *c.Needle.NM != int(k.Needle.NM) || *c.Needle.US != k.Needle.NM.US() || *c.Thread.Tex != p.ThreadOf(0, plan.JobHoles).Tex.Tex() {
			t.Errorf("%s: hole, needle or thread differ: %+v %+v", kind, c.Hole, c.Needle)
		}
		if len(c.Sizes) != len(k.Sizes) {
			t.Fatalf("%s: %d sizes", kind, len(c.Sizes))
		}
		for i, z := range c.Sizes {
			want := k.Sizes[i]
			if *z.Size != want.Size || *z.Count != want.Count || measure.FromMM(*z.Spread) != want.Spread {
				t.Errorf("%s: size %s differs", kind, *z.Size)
			}
			var at []measure.Length
			for _, mm := range *z.Positions {
				at = append(at, measure.FromMM(mm))
			}
			if !slices.Equal(at, want.Positions) || len(*z.Gaps) != len(want.Gaps) {
				t.Errorf("%s: the places of size %s differ", kind, *z.Size)
			}
		}
		for i, f := range g.Findings {
			if f.Rule == nil || f.Severity == nil || f.Closure == nil || f.Size == nil || f.Message == nil || f.Line == nil || f.Column == nil || f.Sources == nil || f.Fixes == nil {
				t.Errorf("%s: finding %d lacks a key", kind, i)
			}
			for _, x := range *f.Fixes {
				if x.With == nil || x.Says == nil || x.Clears == nil {
					t.Errorf("%s: a fix of finding %d lacks a key", kind, i)
				}
			}
		}
	}
}

// Every output is valid against the schema that is handed out, which allows
// no other key and asks for every one.
func TestSchema(t *testing.T) {
	data, err := json.Marshal(Schema("spec"))
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("output.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("output.json")
	if err != nil {
		t.Fatal(err)
	}
	var all []*rules.Planned
	for _, f := range demos(t) {
		all = append(all, planned(t, f))
	}
	all = append(all, withVariants(t, threeCoats), fromText(t, oneSnap), fromText(t, nothingFits), fromText(t, zipped), fromText(t, double))
	for kind, write := range writers {
		out := write(t, all, Options{Format: "json"})
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s: %v", kind, err)
		}
		if again := write(t, all, Options{Format: "json"}); again != out {
			t.Errorf("%s: two runs differ", kind)
		}
	}
	// What is missing or not known to it must not pass.
	for _, bad := range []string{`{}`, `[{}]`, `[{"file":"x"}]`} {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(bad))
		if err != nil {
			t.Fatal(err)
		}
		if schema.Validate(v) == nil {
			t.Errorf("%s passes the schema", bad)
		}
	}
}

const head = `
garment = "Test"
units = "mm"
[cloth.shell]
use = "melton"
thickness = 1
weight = "300 g/m2"
[interfacing.stay]
use = "weft-fusible-medium"
`

const (
	oneSnap = head + `
[[closure]]
name = "flap"
where = "flap"
use = "s-spring-12"
over = ["shell", "stay", "shell"]
[closure.run]
length = 120
count = 1
`
	nothingFits = head + `
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "stay", "shell"]
[closure.run]
length = 500
count = 5
gap = { max = 20 }
`
	zipped = head + `
[[closure]]
name = "front"
fastener = "zip"
over = ["shell"]
[closure.notion]
number = 5
opening = "separating"
lengths = [400, 500]
[closure.run]
length = 610
`
	double = head + `
[[closure]]
name = "front"
use = "horn-40"
lap = "double"
over = ["shell", "stay", "shell"]
rows = { distance = 60 }
[closure.run]
length = 500
count = 4
`
)

// A garment without a layout, with a zip, with two columns, with one fastener:
// every format writes it and says what there is.
func TestKinds(t *testing.T) {
	for name, c := range map[string]struct {
		text  string
		wants []string
	}{
		"snap":   {oneSnap, []string{"s-spring-12", "patch"}},
		"clash":  {nothingFits, []string{"nothing fits", "cannot hold together"}},
		"zip":    {zipped, []string{"none long enough", "zip"}},
		"double": {double, []string{"from the centre line", "60 mm"}},
	} {
		p := fromText(t, c.text)
		for _, format := range Formats {
			out := specified(t, []*rules.Planned{p}, Options{Format: format, UTF8: true})
			if out == "" {
				t.Errorf("%s: no %s", name, format)
			}
			if format == "text" || format == "html" || format == "markdown" {
				for _, w := range c.wants {
					if !strings.Contains(out, w) {
						t.Errorf("%s: the %s lacks %q", name, format, w)
					}
				}
			}
		}
	}
}

// --size shows that size alone, and says so where there is none.
func TestSize(t *testing.T) {
	p := demo(t, "watch-coat")
	out := specified(t, []*rules.Planned{p}, Options{Format: "json", Size: "M"})
	var got []Garment
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"M"}, got[0].Sizes); diff != "" {
		t.Errorf("sizes (-want +got):\n%s", diff)
	}
	for _, f := range got[0].Findings {
		if f.Size != "" && f.Size != "M" {
			t.Errorf("a finding of size %s", f.Size)
		}
	}
	for _, c := range got[0].Closures {
		if len(c.Sizes) != 1 || c.Sizes[0].Size != "M" {
			t.Errorf("%s has the sizes %+v", c.Name, c.Sizes)
		}
	}
	var b strings.Builder
	if err := Spec(&b, []*rules.Planned{p}, Options{Size: "XXS"}); err == nil || !strings.Contains(err.Error(), `no size "XXS": write XS`) || b.Len() > 0 {
		t.Errorf("an unknown size: %v, %d bytes written", err, b.Len())
	}
	if err := Check(&b, []*rules.Planned{fromText(t, oneSnap)}, Options{Size: "M"}); err == nil || !strings.Contains(err.Error(), "lists no sizes") {
		t.Errorf("a size of a garment without sizes: %v", err)
	}
	if err := Spec(&b, []*rules.Planned{p}, Options{Format: "yaml"}); err == nil || !strings.Contains(err.Error(), "markdown") {
		t.Errorf("an unknown format: %v", err)
	}
}

// UnmarshalJSON is for the tests: the reader of our own output.
func (m *MM) UnmarshalJSON(b []byte) error {
	var f float64
	if err := json.Unmarshal(b, &f); err != nil {
		return err
	}
	*m = MM(measure.FromMM(f))
	return nil
}

// One cause is said once, with its worst figure and the sizes it holds for.
func TestOneCauseIsOneEntry(t *testing.T) {
	const key = "closure[0].run.first"
	p := demo(t, "watch-coat-ready")
	p.Findings = slices.DeleteFunc(p.Findings, func(f rules.Finding) bool { return f.Rule == "first-high" })
	n := len(rules.Gather(p.Findings))
	found := func(sev rules.Severity, size string, have float64, says string) {
		p.Findings = append(p.Findings, rules.Finding{
			Rule: "first-high", Severity: sev, Closure: "front", Size: size, Pos: p.Garment.At(key),
			Numbers: rules.Numbers{Have: have, Need: 10, Margin: have - 10, Unit: "mm", Compared: true},
		}.At(key).Saying("%s", says))
	}
	found(rules.Caution, "XS", 9, "nearly enough")
	for _, size := range []string{"S", "M", "L"} {
		found(rules.Conflict, size, 5, "far too little")
	}
	found(rules.Conflict, "XL", 8, "too little")
	for format, places := range map[string][]string{
		"text":     {"  for:   front, sizes S, M, L\n", "  also:  front, size XS, caution: nearly enough\n", "  also:  front, size XL: too little\n"},
		"markdown": {"  - for front, sizes S, M, L\n", "  - also front, size XS, caution: nearly enough\n", "  - also front, size XL: too little\n"},
		"html":     {">for front, sizes S, M, L,", "<dt>also</dt><dd>front, size XS, caution: nearly enough</dd>", "<dt>also</dt><dd>front, size XL: too little</dd>"},
	} {
		out := checked(t, []*rules.Planned{p}, Options{Format: format, UTF8: true, Full: true})
		if got := strings.Count(out, "far too little"); got != 1 {
			t.Errorf("%s: the finding of three sizes is said %d times", format, got)
		}
		for _, w := range places {
			if !strings.Contains(out, w) {
				t.Errorf("%s lacks %q:\n%s", format, w, out)
			}
		}
		if !strings.Contains(out, "1 conflict, ") {
			t.Errorf("%s does not count causes:\n%s", format, out)
		}
	}
	var got []Garment
	if err := json.Unmarshal([]byte(checked(t, []*rules.Planned{p}, Options{Format: "json"})), &got); err != nil {
		t.Fatal(err)
	}
	if len(got[0].Findings) != n+1 {
		t.Fatalf("%d findings in JSON, not %d", len(got[0].Findings), n+1)
	}
	f := &got[0].Findings[0]
	if f.Severity != "conflict" || *f.HaveMM != 5 || !slices.Contains([]string{"S", "M", "L"}, f.Size) {
		t.Errorf("%s of size %s with %v mm is not the worst", f.Severity, f.Size, *f.HaveMM)
	}
	if diff := cmp.Diff([]string{"XS", "S", "M", "L", "XL"}, f.Sizes); diff != "" {
		t.Errorf("sizes (-want +got):\n%s", diff)
	}
	var have []float64
	for _, w := range f.Where {
		have = append(have, *w.HaveMM)
	}
	if diff := cmp.Diff([]float64{9, 5, 5, 5, 8}, have); diff != "" {
		t.Errorf("figures of each size (-want +got):\n%s", diff)
	}
	// A table has a row for each.
	if rows := strings.Count(checked(t, []*rules.Planned{p}, Options{Format: "csv"}), "first-high"); rows != 5 {
		t.Errorf("%d rows of CSV", rows)
	}
}

// A finding is shown with its place, the line and a mark under it, and what
// to try, ready to paste.
func TestFinding(t *testing.T) {
	g, err := catalog.Read("coat.toml", []byte(nothingFits), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := rules.Plan(g)
	p.Findings = []rules.Finding{rules.Finding{
		Rule: "spacing-clash", Severity: rules.Conflict, Closure: "front", Pos: g.At("closure[0].run.count"),
		Related: []rules.Related{{Says: "the other one", Pos: g.At("closure[0].run.gap.max")}},
		Fragile: "a millimetre more would do",
		Fixes:   []rules.Fix{{With: []catalog.With{catalog.SetLength("closure.front.run.gap.max", 120*measure.Millimetre, measure.MM)}, Says: "let gaps be wider", TOML: []string{"gap = { max = 120 }"}, Clears: true}},
	}.At("closure[0].run.count").Saying("it cannot be")}
	out := checked(t, []*rules.Planned{p}, Options{UTF8: true, Full: true})
	want := `coat.toml:17:9: conflict: it cannot be [spacing-clash]
  count = 5
          ^
  close: a millimetre more would do
  see:   the other one (coat.toml:18:15)
  try:   let gaps be wider
         gap = { max = 120 }
         --with 'closure.front.run.gap.max=120 mm'

`
	if diff := cmp.Diff(want, out[:min(len(want), len(out))]); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	colour := checked(t, []*rules.Planned{p}, Options{UTF8: true, Color: true, Full: true})
	if !strings.Contains(colour, "\x1b[1;31mconflict:\x1b[0m") {
		t.Errorf("no colour: %q", colour[:80])
	}
	if got := regexp.MustCompile(`\x1b\[[0-9;]*m`).ReplaceAllString(colour, ""); got != out {
		t.Errorf("colour changes the words (-want +got):\n%s", cmp.Diff(out, got))
	}
}

// Numbers that JSON does not have are null, others exact to the nanometre.
func TestNumbers(t *testing.T) {
	p := fromText(t, oneSnap)
	p.Findings = []rules.Finding{
		{Rule: "a", Numbers: rules.Numbers{Have: math.NaN(), Need: math.Inf(1), Margin: math.Inf(-1), Unit: "mm", Compared: true}},
		{Rule: "b", Numbers: rules.Numbers{Have: 15.8750005, Need: 0.1 + 0.2, Margin: -1e-9, Unit: "mm", Compared: true}},
		{Rule: "c", Numbers: rules.Numbers{Have: 90, Need: 100, Margin: -10, Unit: "NM", Compared: true}},
		{Rule: "d"},
	}
	out := checked(t, []*rules.Planned{p}, Options{Format: "json"})
	var got []struct {
		Findings []map[string]any `json:"findings"`
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	want := []map[string]any{
		{"have_mm": nil, "need_mm": nil, "margin_mm": nil, "have": nil, "need": nil, "margin": nil, "unit": nil},
		{"have_mm": 15.875001, "need_mm": 0.3, "margin_mm": 0.0, "have": nil, "need": nil, "margin": nil, "unit": nil},
		{"have_mm": nil, "need_mm": nil, "margin_mm": nil, "have": 90.0, "need": 100.0, "margin": -10.0, "unit": "NM"},
		{"have_mm": nil, "need_mm": nil, "margin_mm": nil, "have": nil, "need": nil, "margin": nil, "unit": nil},
	}
	for i, w := range want {
		for key, v := range w {
			if g, there := got[0].Findings[i][key]; !there || g != v {
				t.Errorf("%d: %s is %v, want %v", i, key, g, v)
			}
		}
	}
	if strings.Contains(out, "-0,") || strings.Contains(out, "null,\n      \"fixes\"") {
		t.Errorf("negative zero or a missing list in:\n%s", out)
	}
	for l, want := range map[measure.Length]string{15_875_000: "15.875", 396_875: "0.396875", 0: "0", -1: "-0.000001", 10 * measure.Metre: "10000"} {
		if b, err := json.Marshal(MM(l)); err != nil || string(b) != want {
			t.Errorf("%d nm is %s, want %s", int64(l), b, want)
		}
	}
}

// Nothing found is one clear line.
func TestClear(t *testing.T) {
	p := demo(t, "watch-coat-ready")
	p.Findings = nil
	out := checked(t, []*rules.Planned{p}, Options{UTF8: true, Width: 500})
	last, _, _ := strings.Cut(out, "\n")
	want := "Harbour watch coat, ready: ok: nothing to object to (3 closures, 5 sizes). Sew a sample hole through the real layers, then cut."
	if !strings.HasSuffix(last, want[strings.Index(want, ": ok"):]) {
		t.Errorf("got %q", last)
	}
	if strict := checked(t, []*rules.Planned{p}, Options{UTF8: true, Width: 500, Strict: true}); strict != out {
		t.Errorf("--strict changes a clear answer:\n%s", strict)
	}
}

// Names that a terminal, a page or a spreadsheet would obey do no harm.
func TestHarmless(t *testing.T) {
	nasty := []string{
		"<script>alert(1)</script>", `"><img src=x onerror=alert(1)>`, "=HYPERLINK(\"x\")", "+1+1", "-2+3", "@SUM(A1)", "a|b`c`", "\x1b[31mred\x1b[0m", "new\nline", "tab\there", "\u202eback", "日本語の上着", "[x](javascript:alert(1))", "&amp;",
	}
	for _, name := range nasty {
		quoted, err := json.Marshal(name)
		if err != nil {
			t.Fatal(err)
		}
		p := fromText(t, strings.Replace(double, `"Test"`, string(quoted), 1))
		p.Garment.Closures[0].Name, p.Garment.Closures[0].Notion.Name = name, name
		p.Findings = append(p.Findings, rules.Finding{
			Rule: "x", Severity: rules.Caution, Closure: name, Fragile: name, Sources: []string{name},
			Fixes: []rules.Fix{{With: []catalog.With{catalog.Set(name, name)}, Says: name, TOML: []string{name}, Clears: true}}, Related: []rules.Related{{Says: name}},
		}.Saying("%s", name))
		for kind, write := range writers {
			for _, format := range Formats {
				out := write(t, []*rules.Planned{p}, Options{Format: format, UTF8: true})
				for _, r := range out {
					if r < 32 && r != '\n' || r == 0x7f || r == '\u202e' && format != "json" {
						t.Errorf("%s %s of %q holds %q", kind, format, name, r)
						break
					}
				}
				switch format {
				case "html":
					if strings.Contains(out, "<script") || strings.Contains(out, "<img") || strings.Contains(out, "onerror=alert(1)>\n<") {
						t.Errorf("%s: the page obeys %q", kind, name)
					}
				case "markdown":
					out = codeSpans.ReplaceAllString(out, "")
					if strings.Contains(out, "<script") || strings.Contains(out, "[x](java") {
						t.Errorf("%s: Markdown obeys %q", kind, name)
					}
				case "csv":
					noFormula(t, out)
				case "json":
					var got []Garment
					if err := json.Unmarshal([]byte(out), &got); err != nil || got[0].Garment != name {
						t.Errorf("%s: JSON does not give %q back: %v", kind, name, err)
					}
				}
			}
		}
	}
}

// codeSpans are texts between backquotes, fenced ones too, which Markdown shows as they are.
var codeSpans = regexp.MustCompile("(?s)\n```text\n.*?\n```\n|``[^`].*?[^`]``|`[^`\n]*`")

// noFormula reads CSV back: equal rows, and no cell that a spreadsheet takes
// for a formula.
func noFormula(t *testing.T, out string) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil {
		t.Fatalf("%v in:\n%s", err, out)
	}
	number := regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)
	for _, r := range rows {
		for _, c := range r {
			if c != "" && strings.ContainsAny(c[:1], "=+-@\t\r") && !number.MatchString(c) {
				t.Errorf("a formula: %q", c)
			}
		}
	}
	return rows
}

// The CSV holds the places and the notions of the JSON.
func TestCSV(t *testing.T) {
	p := demo(t, "watch-coat")
	rows := noFormula(t, specified(t, []*rules.Planned{p}, Options{Format: "csv"}))
	var places, notions int
	k := &p.Closures[0]
	for _, r := range rows {
		switch {
		case r[0] == "places" && r[3] == k.Closure.Name:
			i := slices.IndexFunc(k.Sizes, func(z plan.Size) bool { return z.Size == r[4] })
			n := slices.Index([]string{"1", "2", "3", "4", "5", "6", "7", "8", "9"}, r[5])
			if i < 0 || n < 0 || r[6] != exact(MM(k.Sizes[i].Positions[n])) {
				t.Errorf("place %v", r)
			}
			places++
		case r[0] == "notions" && r[3] == k.Closure.Notion.Name:
			if r[8] != "6" {
				t.Errorf("needed %s of %s, want 6", r[8], r[3])
			}
			notions++
		}
	}
	if want := 5 * 6; places != want || notions != 1 {
		t.Errorf("%d places, want %d; %d rows of the notion", places, want, notions)
	}
	noFormula(t, checked(t, []*rules.Planned{p}, Options{Format: "csv"}))
}

// Markdown tables are whole: every row has as many cells as its head.
func TestMarkdown(t *testing.T) {
	bars := regexp.MustCompile(`(^|[^\\])\|`)
	for _, f := range demos(t) {
		out := specified(t, []*rules.Planned{planned(t, f)}, Options{Format: "markdown", Working: true, Sources: true})
		want := 0
		for _, l := range strings.Split(out, "\n") {
			if !strings.HasPrefix(l, "|") {
				want = 0
				continue
			}
			n := len(bars.FindAllString(l, -1))
			if want == 0 {
				want = n
			}
			if n != want {
				t.Errorf("%d cells, want %d: %s", n, want, l)
			}
		}
		if !strings.Contains(out, "| --- |") || !strings.Contains(out, "## Sources") {
			t.Errorf("no table or no sources in:\n%s", out)
		}
	}
}

// What to buy is counted from the plan: with spares, in whole packs, for one
// garment and for the range.
func TestBuy(t *testing.T) {
	p := demo(t, "watch-coat")
	g := prepare(p, Options{})
	i := slices.IndexFunc(g.Buy.Notions, func(n BuyNotion) bool { return n.Notion == "quay-horn-45" })
	if i < 0 {
		t.Fatalf("no quay-horn-45 in %+v", g.Buy.Notions)
	}
	n := g.Buy.Notions[i]
	// 6 a coat and 1 spare, in packs of 4 at 1.40 a piece: 2 packs, 11.20; for
	// five coats 35 in 9 packs, 50.40.
	cost, all := 11.20, 50.40
	if diff := cmp.Diff(Amount{Needed: 6, Spare: 1, Packs: 2, Pieces: 8, Cost: &cost}, n.Garment); diff != "" {
		t.Errorf("one garment (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(Amount{Needed: 30, Spare: 5, Packs: 9, Pieces: 36, Cost: &all}, n.Range); diff != "" {
		t.Errorf("the range (-want +got):\n%s", diff)
	}
	for _, x := range g.Buy.Interfacing {
		if x.Garment == nil || x.GarmentBuy == nil || *x.GarmentBuy < *x.Garment || measure.Length(*x.GarmentBuy)%(measure.Yard/8) != 0 {
			t.Errorf("interfacing %+v", x)
		}
	}
}

func BenchmarkSpecText(b *testing.B) {
	p := demo(b, "watch-coat")
	for b.Loop() {
		if err := Spec(&bytes.Buffer{}, []*rules.Planned{p}, Options{UTF8: true}); err != nil {
			b.Fatal(err)
		}
	}
}

// Tables, JSON and CSV have every line of the list of goods, and nothing that
// is only suggested.
func TestBuyIsTheList(t *testing.T) {
	for _, f := range demos(t) {
		p := planned(t, f)
		lines, suggested := work.Lines(p)
		var want, got, cells []string
		for _, l := range lines {
			want = append(want, l.What)
		}
		b := prepare(p, Options{}).Buy
		for _, x := range b.Notions {
			got = append(got, x.Notion)
		}
		for _, x := range b.Cord {
			got = append(got, x.Cord)
		}
		for _, x := range b.Thread {
			got = append(got, x.Thread)
		}
		for _, x := range b.Sundries {
			got = append(got, x.What)
		}
		for _, x := range b.Needles {
			got = append(got, x.Needle)
		}
		for _, x := range b.Interfacing {
			got = append(got, x.Interfacing)
		}
		if diff := cmp.Diff(want, got); diff != "" || len(b.Suggested) != len(suggested) {
			t.Errorf("%s: %d suggested; (-list +JSON):\n%s", filepath.Base(f), len(b.Suggested), diff)
		}
		for _, table := range [][][]string{csvNotions([]*Garment{prepare(p, Options{})}), csvGoods([]*Garment{prepare(p, Options{})})} {
			for _, r := range table[1:] {
				if len(r) != len(table[0]) {
					t.Errorf("%s: a row of %d cells under %d: %v", filepath.Base(f), len(r), len(table[0]), r)
				}
				cells = append(cells, r[3])
			}
		}
		slices.Sort(want)
		slices.Sort(cells)
		if diff := cmp.Diff(want, cells); diff != "" {
			t.Errorf("%s (-list +CSV):\n%s", filepath.Base(f), diff)
		}
	}
}

// One zip of the catalogue in two closures is one line, with its lengths
// closure by closure. 420 mm, less 1/2 in below the neck edge, take 18 in =
// 457.2 mm, 465 mm the same; a pocket of 7 in takes 7 in.
func TestOneZipTwice(t *testing.T) {
	p := fromText(t, `garment = "Jacket (invented)"
units = "mm"
sizes = { names = ["S", "M"] }
[cloth.shell]
use = "duck-10"
[[closure]]
name = "front"
where = "front"
use = "coil-5-closed"
over = ["shell", "shell"]
[closure.run]
length = { S = 420, M = 465 }
[[closure]]
name = "pocket"
where = "pocket"
use = "coil-5-closed"
over = ["shell", "shell"]
pieces = 2
[closure.run]
length = "7 in"
`)
	var b bytes.Buffer
	if err := Spec(&b, []*rules.Planned{p}, Options{UTF8: true}); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(b.String()), " ")
	for _, want := range []string{"coil-5-closed to buy for the front: 457 mm.", "coil-5-closed to buy for the pocket: 178 mm."} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	n := prepare(p, Options{}).Buy.Notions
	if len(n) != 1 || n[0].Garment.Needed != 3 || n[0].Range.Needed != 6 || len(n[0].Lengths) != 4 {
		t.Errorf("%+v", n)
	}
}
