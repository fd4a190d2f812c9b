package catalog

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"placketeer/catalog/source"
)

// whole has every table that a garment file may hold.
const whole = `garment = "Quay coat (invented)"
units = "in"
[machine]
use = "domestic"
swing = { min = "2 mm" }
[sizes]
names = ["S", "M"]
[cloth.shell]
use = "melton"
fibre = { wool = 100 }
repeat = { along = 3 }
[interfacing.front]
use = "weft-fusible-medium"
fibre = { polyester = 100 }
[thread.seam]
use = "polyester-tex-40"
[[closure]]
name = "front"
lap = "double"
over = ["shell", "front", "shell"]
notion = { diameter = 1, thickness = "5 mm" }
[closure.stand]
finished = 4
strips = [{ name = "front" }]
[closure.run]
length = { S = 24, M = 25 }
first = { min = 1, max = 2 }
count = { min = 4, max = 6 }
gap = { min = 3 }
anchor = [{ name = "bust", at = 8 }]
clear = [{ name = "belt", from = 14, to = 15 }]
[closure.rows]
distance = 3
row = [{ row = 1, distance = 4 }]
[closure.flap]
width = 3
[closure.check]
cloth = "shell"
[[cord]]
name = "hood"
at = "hood"
[[settled]]
rule = "stack-bulky"
because = "a sample"
have = "5 mm"
need = "4 mm"
[sleepwear]
parts = 1
`

// tableOf is one table of the file: where it stands and its keys.
type tableOf struct {
	path   string
	fields []field
}

// tablesOf are all tables below, with the paths that whole has.
func tablesOf(path string, fields []field) []tableOf {
	out := []tableOf{{path, fields}}
	for _, fd := range fields {
		p := source.Join(path, fd.name)
		switch dst := fd.dst.(type) {
		case subTable:
			out = append(out, tablesOf(p, dst)...)
		case named:
			name := map[string]string{"cloth": "shell", "interfacing": "front", "thread": "seam"}[fd.name]
			out = append(out, tablesOf(source.Join(p, name), dst.blank())...)
		case list:
			dst.grow(1)
			out = append(out, tablesOf(source.Item(p, 0), dst.item(0))...)
		case rawTable:
			out = append(out, tableOf{p, notionFields(Button, &Notion{})})
		}
	}
	return out
}

func wholeTables(t *testing.T) (*source.Document, []tableOf) {
	t.Helper()
	doc, err := source.Parse("whole.toml", []byte(whole))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := build(doc, Options{}, nil); err != nil {
		t.Fatal(err)
	}
	stock, err := StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	g := &Garment{Catalog: stock}
	return doc, tablesOf("", g.rootFields(&rawRoot{closures: make([]rawClosure, 1)}))
}

// An unknown key is one fault wherever it stands, and what is near is
// offered.
func TestUnknownKeysAtEveryDepth(t *testing.T) {
	doc, tables := wholeTables(t)
	for _, tb := range tables {
		near := tb.fields[len(tb.fields)-1].name
		wrong := near + near[len(near)-1:]
		changed, err := doc.Set(source.Join(tb.path, wrong), int64(1), "test")
		if err != nil {
			t.Errorf("%s: %v", tb.path, err)
			continue
		}
		_, err = build(changed, Options{}, nil)
		var ps source.Problems
		if !errors.As(err, &ps) || len(ps) != 1 || ps[0].Message != fmt.Sprintf("unknown key %q", wrong) || !strings.Contains(ps[0].Instead, near) {
			t.Errorf("%s.%s: %v", tb.path, wrong, err)
		}
	}
	// Tables that are no list of fields of their own.
	for path, says := range map[string]string{
		"closure[0].run.first.least":     "",
		"closure[0].run.count.least":     "",
		"closure[0].run.length.XXL":      "XXL",
		"machine.swing.least":            "unknown key",
		"cloth.shell.fibre.woool":        "wool",
		"closure[0].rows.row[0].columns": "unknown key",
	} {
		changed, err := doc.Set(path, int64(1), "test")
		if err != nil {
			t.Errorf("%s: %v", path, err)
			continue
		}
		_, err = build(changed, Options{}, nil)
		var ps source.Problems
		if !errors.As(err, &ps) || !strings.Contains(ps[0].Message+ps[0].Instead, says) {
			t.Errorf("%s: %v", path, err)
		}
	}
}

// A value of the wrong kind is a fault at its own place, whatever the key
// and the kind, and never a panic.
func TestWrongKindsEverywhere(t *testing.T) {
	doc, tables := wholeTables(t)
	wrong := map[string]any{
		"text":  "zzz?!",
		"bool":  true,
		"float": 0.12345,
		"minus": int64(-7),
		"list":  []any{[]any{}},
		"date":  time.Date(2026, 1, 2, 0, 0, 0, 0, time.UTC),
		"table": map[string]any{"zzz?!": int64(1)},
	}
	takes := func(fd field, kind string) bool {
		switch fd.dst.(type) {
		case *string:
			return kind == "text" && fd.enum == nil
		case *Opt[bool]:
			return kind == "bool"
		case *Measured, *Sized, window:
			return kind == "float" // in inches
		case *Opt[float64]:
			return kind == "float"
		case *Amount:
			return kind == "float" || kind == "minus"
		}
		return false
	}
	for _, tb := range tables {
		for _, fd := range tb.fields {
			path := source.Join(tb.path, fd.name)
			for _, kind := range sortedKeys(wrong) {
				changed, err := doc.Set(path, wrong[kind], "test")
				if err != nil {
					continue
				}
				_, err = build(changed, Options{ReadFile: func(string) ([]byte, error) { return nil, errors.New("no") }}, nil)
				if takes(fd, kind) || fd.signed && kind == "minus" {
					continue
				}
				var ps source.Problems
				if !errors.As(err, &ps) {
					t.Errorf("%s as %s: %v", path, kind, err)
					continue
				}
				for _, p := range ps {
					if p.Message == "" || strings.Contains(p.Message, "%!") {
						t.Errorf("%s as %s: %q", path, kind, p.Message)
					}
				}
				if ps[0].Pos.File != "test" && ps[0].Pos.Line == 0 {
					t.Errorf("%s as %s: no place: %v", path, kind, err)
				}
			}
		}
	}
}

// Lengths that no garment has.
func TestLengthsOutOfReason(t *testing.T) {
	doc, tables := wholeTables(t)
	for _, tb := range tables {
		for _, fd := range tb.fields {
			switch fd.dst.(type) {
			case *Measured, *Sized:
			default:
				continue
			}
			path := source.Join(tb.path, fd.name)
			for _, v := range []any{"-1 in", "0.000000001 mm", "11 m", "1e300 mm", int64(-1), 1e9, "1 in ± 2 in"} {
				if fd.zero && v == "0.000000001 mm" {
					continue // rounds to nothing, which is allowed
				}
				if fd.signed && (v == "-1 in" || v == int64(-1)) {
					continue // a place to the other side
				}
				changed, err := doc.Set(path, v, "test")
				if err != nil {
					t.Fatal(err)
				}
				if _, err := build(changed, Options{}, nil); err == nil {
					t.Errorf("%s = %v is taken", path, v)
				}
			}
			// Nothing at all: only where nothing makes sense.
			changed, _ := doc.Set(path, "0 mm", "test")
			if _, err := build(changed, Options{}, nil); err == nil && !fd.zero {
				t.Errorf("%s = 0 is taken", path)
			}
		}
	}
}

// Values that are right alone and wrong together, or names that --with and
// messages could not say.
func TestMoreMistakes(t *testing.T) {
	const run = "count  = 5\n"
	for _, c := range []struct {
		old, new string
		at       string
		says     string
	}{
		{`name = "front"`, `name = "a.b"`, "8:8", "cannot hold"},
		{`name = "front"`, `name = "a=b"`, "8:8", "cannot hold"},
		{`name = "front"`, `name = " front"`, "8:8", "begin or end with a space"},
		{`name = "front"`, `name = "fr\u202eont"`, "8:8", "cannot hold"},
		{`name = "front"`, `name = "` + strings.Repeat("x", 90) + `"`, "8:8", "80 is the most"},
		{`[cloth.shell]`, `[cloth."a.b"]` + "\nuse = \"melton\"\n[cloth.shell]", "5:8", "cannot be used"},
		{`[cloth.shell]`, `[cloth."wool, black"]` + "\nwidth = 60\n[cloth.shell]", "5:8", "neither weight nor thickness"},
		{`names = ["S", "M"]`, `names = ["S", "M", "X=L"]`, "4:20", "cannot be used"},
		{`names = ["S", "M"]`, `names = []`, "4:9", "lists no size"},
		{run, run + "step = \"0.01 mm\"\n", "14:8", "too small"},
		{run, run + "hem = 30\n", "14:7", "beyond the run"},
		{run, run + "gap = { min = \"0.5 mm\" }\n", "14:15", "too small"},
		{run, run + "gap = { min = { S = 3, M = 5 }, max = 4 }\n", "14:", "of size M: min is more than max"},
		{run, run + "anchor = [{ name = \"bust\", at = { S = 8, M = 30 } }]\n", "14:", "of size M"},
		{run, run + "anchor = [{ name = \"bust\", at = 8 }, { name = \"bust\", at = 9 }]\n", "14:", `are called "bust"`},
		{run, run + "anchor = [{ name = \"bust\", at = 8 }]\nclear = [{ name = \"bust\", at = 9 }]\n", "15:", `are called "bust"`},
		{run, run + "clear = [{ name = \"belt\" }, { name = \"seam\" }]\n", "14:", "does not say where"},
		{run, "count = { min = 4, max = 5 }\ngroup = 3\ngroup_gap = 1\n", "13:", "4 to 5 fasteners cannot be set in groups of 3"},
		{run, "count = { S = 6, M = 7 }\ngroup = 3\ngroup_gap = 1\n", "13:", "7 fasteners cannot be set in groups of 3"},
		{run, run + "[closure.rows]\nworking = 2\n", "14:", "double-breasted"},
		{run, run + "[closure.rows]\nrow = [{ row = 1, distance = 2 }, { row = 1, distance = 3 }]\n", "15:", "row 1 is given twice"},
		{run, run + "[closure.stand]\nconstruction = \"folded\"\nband = 2\nfinished = 2\n", "17:", "middle of the band"},
		{`use  = "horn-40"`, `notion = { side = "20 mm", shape = "ball", thickness = "3 mm", diameter = 1 }`, "9:", "side belongs to a square button"},
		{`use  = "horn-40"`, `notion = { length = "20 mm", thickness = "3 mm", diameter = 1 }`, "9:", "length belongs to a toggle-shaped button"},
		{`use  = "horn-40"`, `notion = { side = "20 mm", diameter = "20 mm", thickness = "3 mm" }`, "9:", "corner to corner"},
		{`use  = "horn-40"`, `notion = { diameter = "20 mm", girth = "30 mm" }`, "9:", "less than twice the diameter"},
		{`use  = "horn-40"`, `notion = { thickness = "20 mm", girth = "30 mm" }`, "9:", "less than twice the thickness"},
		{`use  = "horn-40"`, `notion = { thickness = "3 mm" }`, "9:", "needs its diameter"},
		{`use = "melton"`, "weight = \"620 g/m2\"\nthickness = \"0.3 mm\"", "7:13", "densest fibre"},
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
		want := 1
		if strings.Contains(c.says, "does not say where") || strings.Contains(c.new, "hem = ") || strings.HasPrefix(c.new, "names = [") {
			want = 2 // of each clear zone or size, or what follows from the wrong size
		}
		if p := ps[0]; len(ps) != want || !strings.HasPrefix(p.Pos.String(), "coat.toml:"+c.at) || !strings.Contains(p.Message, c.says) {
			t.Errorf("%q: got %v\nwant %s …%s…", c.new, err, c.at, c.says)
		}
	}
}

// What is allowed, because a real notion can be so.
func TestNotionsThatAreRight(t *testing.T) {
	for _, notion := range []string{
		`{ side = "20 mm", thickness = "3 mm" }`,
		`{ shape = "ball", diameter = "12 mm" }`,
		`{ shape = "ball", girth = "40 mm" }`,
		`{ shape = "odd", diameter = "30 mm", girth = "50 mm" }`,
		`{ shape = "toggle", width = "12 mm", short_end = "20 mm", thickness = "9 mm" }`,
		`{ diameter = "20 mm ± 0.5", girth = "39.5 mm" }`,
	} {
		g, err := read(strings.Replace(good, `use  = "horn-40"`, "notion = "+notion, 1))
		if err != nil {
			t.Errorf("%s: %v", notion, err)
			continue
		}
		if n := g.Closures[0].Notion; n.Side.Has() && n.Shape != "square" {
			t.Errorf("a button with a side is square, not %q", n.Shape)
		}
	}
}
