package catalog

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog/source"

	"github.com/BurntSushi/toml"
	"github.com/google/go-cmp/cmp"
)

const good = `garment = "Quay coat (invented)"
units   = "in"
[sizes]
names = ["S", "M"]
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use  = "horn-40"
over = ["shell", "shell"]
[closure.run]
length = { S = 24, M = "24 1/2 in" }
count  = 5
`

func read(text string) (*Garment, error) { return Read("coat.toml", []byte(text), Options{}) }

func TestReadSmallestGarment(t *testing.T) {
	g, err := read(good)
	if err != nil {
		t.Fatal(err)
	}
	c := &g.Closures[0]
	if c.Fastener != Button || c.Notion.Name != "horn-40" || len(c.Under) != 2 || c.Pieces != 1 {
		t.Errorf("closure read as %+v", c)
	}
	if got := c.Run.Length.At(1).V.In(); got != 24.5 {
		t.Errorf("length of size M is %v in", got)
	}
	if got := g.At("closure[0].run.length.M").String(); got != "coat.toml:12:24" {
		t.Errorf("length of size M stands at %s", got)
	}
}

// Each change to the good garment is one mistake; where it must be reported
// and with what words.
func TestMistakes(t *testing.T) {
	for _, c := range []struct {
		old, new string
		at       string
		says     string
		instead  string
	}{
		{`use  = "horn-40"`, `use  = "horn-41"`, "9:8", `no fastener "horn-41"`, `"horn-40"`},
		{`use  = "horn-40"`, `use  = "zebra"`, "9:8", `no fastener "zebra"`, "catalog"},
		{`count  = 5`, `cuont  = 5`, "13:1", `unknown key "cuont"`, "count"},
		{`count  = 5`, `COUNT  = 5`, "13:1", `unknown key "COUNT"`, "count"},
		{`count  = 5`, `count  = -5`, "13:10", "between 1 and 200", ""},
		{`count  = 5`, `count  = 5.5`, "13:10", "whole number", "5"},
		{`count  = 5`, `count  = "5"`, "13:10", "whole number", ""},
		{`count  = 5`, `count  = { min = 6, max = 4 }`, "13:10", "min is more than max", ""},
		{`count  = 5`, ``, "11:1", "neither how many nor how far apart", "count = 5"},
		{`S = 24`, `S = "24 inn"`, "12:20", "inn", "24 in"},
		{`S = 24`, `S = "24,5 in"`, "12:", "comma", "24.5"},
		{`S = 24`, `S = nan`, "12:16", "not a number", ""},
		{`S = 24`, `S = -24`, "12:16", "negative", ""},
		{`S = 24`, `S = 0`, "12:16", "zero", ""},
		{`S = 24`, `S = "20 m"`, "12:", "", ""},
		{`S = 24, `, ``, "12:", "nothing for size S", ""},
		{`S = 24`, `S = 24, L = 25`, "12:", `no size "L"`, ""},
		{`"shell", "shell"`, `"shell", "shel"`, "10:18", `no cloth or interfacing "shel"`, `"shell"`},
		{`use = "melton"`, `use = "meltn"`, "6:7", `no cloth "meltn"`, `"melton"`},
		{`use = "melton"`, `use = "melton"` + "\nthickness = 0", "7:13", "zero", ""},
		{`use = "melton"`, `use = "melton"` + "\nweight = \"12 oz\"", "7:", "", ""},
		{`use = "melton"`, `use = "melton"` + "\nfibre = { wool = 80, polyamide = 30 }", "7:9", "add to 110", ""},
		{`use = "melton"`, `use = "melton"` + "\nfibre = { wol = 100 }", "7:11", `unknown fibre "wol"`, "wool"},
		{`use = "melton"`, `use = "melton"` + "\nsurface = \"fluffy\"", "7:11", `cannot be "fluffy"`, "napped"},
		{`use = "melton"`, `use = "melton"` + "\nthickness = \"0.3 mm\"", "7:13", "fibres alone", ""},
		{`units   = "in"`, `units   = "inches"`, "2:11", `cannot be "inches"`, "in, mm"},
		{`units   = "in"`, ``, "1:1", "units is missing", `units = "in"`},
		{`names = ["S", "M"]`, `names = ["S", "M", "S"]`, "4:20", "listed twice", ""},
		{`name = "front"`, `name = 7`, "8:8", "text in quotes", `"7"`},
		{`name = "front"`, ``, "7:", "name is missing", ""},
		{`use  = "horn-40"`, ``, "7:", "names no fastener", "horn-40"},
		{`use  = "horn-40"`, `fastener = "button"` + "\nnotion = { diameter = \"900 mm\", thickness = \"3 mm\" }", "10:", "diameter is too much", ""},
		{`use  = "horn-40"`, `fastener = "snap"` + "\nuse = \"horn-40\"", "9:12", "is a button, not a snap", `"button"`},
		{`use  = "horn-40"`, `fastener = "buton"` + "\nuse = \"horn-40\"", "9:12", `cannot be "buton"`, `"button"`},
		{`count  = 5`, `count  = 5` + "\nfirst = 14\nlast = 15", "14:9", "longer than the run", ""},
		{`count  = 5`, `count  = 5` + "\nmatch = \"shell2\"", "14:9", `no cloth "shell2"`, `"shell"`},
		{`count  = 5`, `count  = 5` + "\nclear = [{ name = \"belt\", from = 12, to = 10 }]", "14:", "where it has not begun", ""},
		{`over = ["shell", "shell"]`, ``, "7:", "sewn through", "over ="},
		{`over = ["shell", "shell"]`, `over = "shell"`, "10:8", "list of names", `["shell"]`},
	} {
		text := strings.Replace(good, c.old, c.new, 1)
		if text == good {
			t.Fatalf("%q is not in the garment", c.old)
		}
		_, err := read(text)
		var ps source.Problems
		if !errors.As(err, &ps) {
			t.Errorf("%q: got %v, want problems", c.new, err)
			continue
		}
		if len(ps) != 1 && !strings.Contains(c.says, "longer than the run") { // said of each size
			t.Errorf("%q: %d problems: %v", c.new, len(ps), ps)
		}
		p := ps[0]
		if !strings.HasPrefix(p.Pos.String(), "coat.toml:"+c.at) || !strings.Contains(p.Message, c.says) || !strings.Contains(p.Instead, c.instead) {
			t.Errorf("%q:\ngot  %s: %s; write %s\nwant %s: …%s…; write …%s…", c.new, p.Pos, p.Message, p.Instead, c.at, c.says, c.instead)
		}
	}
}

// Seven mistakes in one file are seven problems, in the order of the file.
func TestAllMistakesAtOnce(t *testing.T) {
	text := good
	for _, r := range [][2]string{
		{`units   = "in"`, `units   = "in"` + "\nwaerer = \"adult\""},
		{`use = "melton"`, `use = "meltn"` + "\nweight = \"12 oz\""},
		{`count  = 5`, `count  = "five"` + "\nstep = -1"},
		{`S = 24`, `S = "24 inn"`},
		{`"shell", "shell"]`, `"shell", "shel"]`},
	} {
		text = strings.Replace(text, r[0], r[1], 1)
	}
	_, err := read(text)
	var ps source.Problems
	if !errors.As(err, &ps) {
		t.Fatalf("got %v", err)
	}
	var lines []int
	for _, p := range ps {
		lines = append(lines, p.Pos.Line)
	}
	if diff := cmp.Diff([]int{3, 7, 8, 12, 14, 15, 16}, lines); diff != "" {
		t.Errorf("lines (-want +got):\n%s\n%v", diff, err)
	}
}

func TestWhatIf(t *testing.T) {
	g, err := read(good)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		with string
		ok   func(*Garment) bool
	}{
		{"closure.front.use=horn-36", func(g *Garment) bool { return g.Closures[0].Notion.Name == "horn-36" }},
		{`closure.front.run.length.M="26 in"`, func(g *Garment) bool { return g.Closures[0].Run.Length.At(1).V.In() == 26 }},
		{"closure.front.run.length=26 in", func(g *Garment) bool { return g.Closures[0].Run.Length.At(0).V.In() == 26 }},
		{"closure.front.run.first=1 in", func(g *Garment) bool { return g.Closures[0].Run.First.At(0).V.In() == 1 }},
		{`cloth.shell.thickness="2 mm"`, func(g *Garment) bool { return g.Cloths[0].Thickness.V.MM() == 2 }},
		{"closure.front.run.count=6", func(g *Garment) bool { return g.Closures[0].Run.CountAt(0).Min == 6 }},
		{"machine.buttonhole_max=30 mm", func(g *Garment) bool { return g.Machine.ButtonholeMax.V.MM() == 30 }},
		{"closure.front.stand.finished=1 in", func(g *Garment) bool { return g.Closures[0].Stand.Finished.V.In() == 1 }},
	} {
		changed, err := change(g, c.with)
		if err != nil {
			t.Errorf("%s: %v", c.with, err)
			continue
		}
		if !c.ok(changed) {
			t.Errorf("%s changed nothing", c.with)
		}
		if diff := cmp.Diff([]string{c.with}, Texts(changed.Withs())); diff != "" {
			t.Errorf("With (-want +got):\n%s", diff)
		}
	}
	// One size of a value that stands for all.
	one, err := change(g, "closure.front.run.first=1 in", "closure.front.run.first.M=2 in")
	if err != nil || one.Closures[0].Run.First.At(0).V.In() != 1 || one.Closures[0].Run.First.At(1).V.In() != 2 {
		t.Errorf("first of size M: %v %v", err, one)
	}
	for with, near := range map[string]string{
		"closure.front.ues=horn-36":       "closure.front.use",
		"closure.frnt.use=horn-36":        "closure.front.use",
		"cloth.shel.thickness=2 mm":       "cloth.shell.thickness",
		"closure.front.run.length.L=3 in": "one of S, M",
		"closure.front":                   "closure.front.use=horn-36",
		"garmnt=x":                        "garment",
		"closure.front.use.x=1":           "closure.front.use",
	} {
		_, err := change(g, with)
		var ce *ChangeError
		if !errors.As(err, &ce) || !strings.Contains(ce.Near, near) {
			t.Errorf("%s: got %v, want a hint of %q", with, err, near)
		}
	}
	if _, err := change(g, "closure.front.use=nothing"); err == nil || !strings.Contains(err.Error(), "--with closure.front.use=nothing") {
		t.Errorf("an unknown notion must name the change: %v", err)
	}
}

// An own catalogue beside the garment wins over the stock, and says so.
func TestOwnCatalogue(t *testing.T) {
	dir := t.TempDir()
	own := `[[button]]
name = "horn-40"
source = "invented"
diameter = "25 mm"
thickness = "3 mm"
`
	if err := os.WriteFile(filepath.Join(dir, "own.toml"), []byte(own), 0o600); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, "coat.toml")
	text := strings.Replace(good, "[sizes]", "catalog = [\"own.toml\"]\n[sizes]", 1)
	g, err := Read(name, []byte(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if d := g.Closures[0].Notion.Diameter.V.MM(); d != 25 {
		t.Errorf("diameter %v mm, want the own catalogue's 25", d)
	}
	if len(g.Notes) != 1 || !strings.Contains(g.Notes[0], "own.toml") {
		t.Errorf("notes %q", g.Notes)
	}
	more := own + `[[cloth]]
name = "melton"
source = "invented"
weight = "500 g/m2"
[[machine]]
name = "domestic"
source = "invented"
[[cloth]]
name = "sail-green"
source = "invented"
weight = "300 g/m2"
`
	if err := os.WriteFile(filepath.Join(dir, "own.toml"), []byte(more), 0o600); err != nil {
		t.Fatal(err)
	}
	if g, err = Read(name, []byte(text), Options{}); err != nil {
		t.Fatal(err)
	}
	if w := g.Cloths[0].Weight.V.GSM(); w != 500 {
		t.Errorf("weight %v g/m², want the own catalogue's 500", w)
	}
	for _, of := range []string{"horn-40 is", "melton is", "domestic is"} {
		if !slices.ContainsFunc(g.Notes, func(s string) bool { return strings.HasPrefix(s, of) && strings.Contains(s, "own.toml") }) {
			t.Errorf("no note begins with %q: %q", of, g.Notes)
		}
	}
	if len(g.Notes) != 3 {
		t.Errorf("%d notes, want one for each entry that won: %q", len(g.Notes), g.Notes)
	}
	_, err = Read(name, []byte(strings.Replace(text, "own.toml", "gone.toml", 1)), Options{})
	if err == nil || !strings.Contains(err.Error(), ":3:12") {
		t.Errorf("a missing catalogue: %v", err)
	}
	if err := os.WriteFile(filepath.Join(dir, "own.toml"), []byte(own+"\nthicknes = 3\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err = Read(name, []byte(text), Options{})
	if err == nil || !strings.Contains(err.Error(), "own.toml:7:1") {
		t.Errorf("a mistake in the own catalogue: %v", err)
	}
}

func TestStock(t *testing.T) {
	c, err := StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	for _, n := range c.Notions {
		count[n.Kind]++
	}
	for kind, least := range map[string]int{Button: 34, TackButton: 4, Toggle: 2, Snap: 4, Zip: 4} {
		if count[kind] < least {
			t.Errorf("%d of %s, want at least %d", count[kind], kind, least)
		}
	}
	if n := count[Button] + count[TackButton] + count[Toggle]; n < 40 {
		t.Errorf("%d buttons and button-like fasteners, want at least 40", n)
	}
	for what, n := range map[string][2]int{
		"cloths": {len(c.Cloths), 25}, "interfacings": {len(c.Interfacings), 15}, "threads": {len(c.Threads), 20}, "machines": {len(c.Machines), 4},
	} {
		if n[0] < n[1] {
			t.Errorf("%d %s, want at least %d", n[0], what, n[1])
		}
	}
	sizes := map[int]bool{}
	for _, n := range c.Needles {
		sizes[int(n.Size.V)] = true
	}
	for _, nm := range []int{60, 65, 70, 75, 80, 90, 100, 110, 120, 130, 140, 160} {
		if !sizes[nm] {
			t.Errorf("no needle %d", nm)
		}
	}
	for _, n := range c.Notions {
		if n.Sure == "" || n.Source == "" {
			t.Errorf("%s does not say where it is from or how sure it is", n.Name)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(good))
	for _, pattern := range []string{"../testdata/garments/*.toml", "../testdata/rules/*/*.toml"} {
		names, _ := filepath.Glob(pattern)
		for _, name := range names {
			if data, err := os.ReadFile(name); err == nil {
				f.Add(data)
			}
		}
	}
	nothing := func(string) ([]byte, error) { return nil, os.ErrNotExist }
	f.Fuzz(func(t *testing.T, data []byte) {
		g, err := Read("x.toml", data, Options{ReadFile: nothing})
		if (g == nil) == (err == nil) {
			t.Fatalf("garment %v, error %v", g, err)
		}
		var ps source.Problems
		if errors.As(err, &ps) {
			for _, p := range ps {
				whole := strings.HasPrefix(p.Message, "this is ") || strings.HasPrefix(p.Message, "and ")
				if p.Message == "" || !whole && (p.Pos.Line < 1 || p.Pos.Column < 1) {
					t.Errorf("a problem without words or place: %+v", p)
				}
			}
		}
	})
}

func BenchmarkRead(b *testing.B) {
	data, err := os.ReadFile("../testdata/garments/watch-coat.toml")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read("../testdata/garments/watch-coat.toml", data, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkDecode is the decoder alone on the file of BenchmarkRead: what
// reading is measured against.
func BenchmarkDecode(b *testing.B) {
	data, err := os.ReadFile("../testdata/garments/watch-coat.toml")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		var root map[string]any
		if _, err := toml.Decode(string(data), &root); err != nil {
			b.Fatal(err)
		}
	}
}
