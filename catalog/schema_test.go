package catalog_test

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

// schemas are the two schemas, compiled by a validator that is not ours.
func schemas(t *testing.T) (garment, file *jsonschema.Schema) {
	t.Helper()
	stock, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	compile := func(name string, data []byte, err error) *jsonschema.Schema {
		if err != nil {
			t.Fatal(err)
		}
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		c := jsonschema.NewCompiler()
		if err := c.AddResource(name, doc); err != nil {
			t.Fatal(err)
		}
		s, err := c.Compile(name)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	data, err := stock.GarmentSchema()
	garment = compile("garment.json", data, err)
	data, err = stock.FileSchema()
	return garment, compile("file.json", data, err)
}

// asJSON is a TOML document as JSON.
func asJSON(t *testing.T, root any) any {
	t.Helper()
	data, err := json.Marshal(root)
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func parse(t *testing.T, name string) *source.Document {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := source.Parse(name, data)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// The schema takes every garment that the reader takes, and the reader's
// catalogue files.
func TestSchemaTakesAllFiles(t *testing.T) {
	garment, file := schemas(t)
	stock, err := filepath.Glob("stock/*.toml")
	if err != nil || len(stock) == 0 {
		t.Fatal("no stock files", err)
	}
	for _, name := range stock {
		if err := file.Validate(asJSON(t, parse(t, name).Root)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	garments, files := 0, 0
	err = filepath.WalkDir("../testdata", func(name string, e fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(name) != ".toml" {
			return err
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		doc, err := source.Parse(name, data)
		if err != nil {
			return nil // a bad file on purpose
		}
		if _, is := doc.Root["garment"]; !is {
			if _, err := catalog.Open(name); err == nil {
				files++
				if err := file.Validate(asJSON(t, doc.Root)); err != nil {
					t.Errorf("%s: %v", name, err)
				}
			}
			return nil
		}
		if _, err := catalog.Load(name, catalog.Options{}); err != nil {
			return nil
		}
		garments++
		if err := garment.Validate(asJSON(t, doc.Root)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if garments == 0 || files == 0 {
		t.Errorf("%d garments and %d catalogue files seen", garments, files)
	}
}

// An unknown key is refused in every table of a garment and of a catalogue
// file, and a word that is not among the words.
func TestSchemaRefuses(t *testing.T) {
	garment, file := schemas(t)
	try := func(s *jsonschema.Schema, name, from string, to ...string) {
		t.Helper()
		doc, err := source.Parse("x", []byte(from))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(asJSON(t, doc.Root)); err != nil {
			t.Fatalf("%s: what it begins from is refused: %v", name, err)
		}
		for _, with := range to {
			changed := doc
			path, value, _ := strings.Cut(with, "=")
			if changed, err = doc.Set(path, source.ParseValue(value), "change"); err != nil {
				t.Fatal(err)
			}
			if err := s.Validate(asJSON(t, changed.Root)); err == nil {
				t.Errorf("%s: %s is taken", name, with)
			}
		}
	}
	try(garment, "garment", `
garment = "x"
units = "in"
[machine]
use = "domestic"
[sizes]
names = ["S"]
[cloth.shell]
use = "melton"
repeat = { along = 3 }
[interfacing.front]
use = "weft-fusible-medium"
[thread.seam]
tex = "Tex 40"
[[closure]]
name = "front"
notion = { diameter = 1, thickness = "5 mm" }
over = ["shell"]
stand = { finished = "1 in" }
rows = { distance = 3, row = [ { row = 1, distance = 4 } ] }
check = { cut = "mirror" }
[closure.run]
length = { S = 24 }
first = { min = 1, max = "2 in" }
count = { min = 4, max = 6 }
gap = { min = 3 }
anchor = [ { name = "bust", at = 8 } ]
clear = [ { name = "belt", from = 1, to = 2 } ]
[[cord]]
name = "hood"
at = "hood"
`,
		"shade=red", "machine.shade=red", "sizes.shade=red", "cloth.shell.shade=red", "cloth.shell.repeat.shade=red",
		"interfacing.front.shade=red", "thread.seam.shade=red", "closure[0].shade=red", "closure[0].notion.shade=red",
		"closure[0].stand.shade=red", "closure[0].rows.shade=red", "closure[0].rows.row[0].shade=red", "closure[0].check.shade=red",
		"closure[0].run.shade=red", "closure[0].run.gap.shade=red", "closure[0].run.anchor[0].shade=red",
		"closure[0].run.clear[0].shade=red", "closure[0].run.first.shade=red", "closure[0].run.count.shade=red", "cord[0].shade=red",
		"units=cm", "wearer=dog", "closure[0].hole=round", "closure[0].run.count=0", "closure[0].run.count=2.5",
		"closure[0].run.length=-1", "closure[0].run.length=true", "closure[0].over=shell", "closure[0].pieces=0",
		`cloth.shell.fibre={ wol = 100 }`, `cloth.shell.fibre={ wool = 130 }`, "cloth.shell.frays=7", "thread.seam.tex=40",
	)
	try(file, "catalogue", `
[[button]]
name = "x"
source = "measured"
diameter = "20 mm"
[[snap]]
name = "y"
source = "measured"
grip = { min = "1 mm", max = "2 mm" }
[[cloth]]
name = "z"
source = "measured"
`,
		"shade=red", "button[0].shade=red", "snap[0].grip.shade=red", "cloth[0].shade=red", "button[0].name=7", "snap[0].attach=glue",
	)
}

// What the schema asks for is what the reader asks for: a file without it is
// refused by both.
func TestSchemaRequires(t *testing.T) {
	garment, _ := schemas(t)
	for _, text := range []string{
		"units = \"in\"\n[[closure]]\nname = \"a\"\nuse = \"horn-40\"\nover = [\"shell\"]\n[cloth.shell]\nuse = \"melton\"\n",
		"garment = \"x\"\nunits = \"in\"\n",
		"garment = \"x\"\nunits = \"in\"\n[[closure]]\nuse = \"horn-40\"\n",
	} {
		doc, err := source.Parse("x", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := garment.Validate(asJSON(t, doc.Root)); err == nil {
			t.Errorf("the schema takes\n%s", text)
		}
		if _, err := catalog.Read("x", []byte(text), catalog.Options{}); err == nil {
			t.Errorf("the reader takes\n%s", text)
		}
	}
}

// A file with a base may leave to it what else must stand there; its closures
// have names all the same.
func TestSchemaOfAFileWithABase(t *testing.T) {
	garment, _ := schemas(t)
	for text, takes := range map[string]bool{
		"base = \"house.toml\"\n[[closure]]\nname = \"a\"\n[closure.run]\ncount = 5\n": true,
		"base = \"house.toml\"\ngarment = \"x\"\n":                                     true,
		"base = \"house.toml\"\n[[closure]]\nuse = \"horn-40\"\n":                      false,
		"base = [\"house.toml\"]\ngarment = \"x\"\n":                                   false,
		"garment = \"x\"\n[[closure]]\nname = \"a\"\n":                                 false,
	} {
		doc, err := source.Parse("x", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := garment.Validate(asJSON(t, doc.Root)); (err == nil) != takes {
			t.Errorf("%v for\n%s", err, text)
		}
	}
}

// An entry written as TOML reads back as the same entry: all of the stock.
func TestItemsReadBack(t *testing.T) {
	stock, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	items := stock.Items()
	var all strings.Builder
	for _, it := range items {
		all.WriteString(it.TOML() + "\n")
	}
	name := filepath.Join(t.TempDir(), "all.toml")
	if err := os.WriteFile(name, []byte(all.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	again, err := catalog.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	back := again.Items()
	if len(back) != len(items) {
		t.Fatalf("%d entries, want %d", len(back), len(items))
	}
	for i, it := range items {
		if back[i].File != name {
			t.Fatalf("%s %s was not read back", it.Kind, it.Name)
		}
		if a, b := it.TOML(), back[i].TOML(); a != b {
			t.Errorf("%s\n%s", a, b)
		}
		a, b := it.Figures(measure.In), back[i].Figures(measure.In)
		if !slices.EqualFunc(a, b, func(x, y catalog.Figure) bool { return x.Key == y.Key && x.Text == y.Text && x.TOML == y.TOML }) {
			t.Errorf("%s %s: figures differ", it.Kind, it.Name)
		}
	}
}

// needs are lines that a key of the file to begin from needs beside it, by
// the table it stands in, and lines that must go.
var needs = map[string]struct{ add, drop []string }{
	"[interfacing.stay]": {add: []string{"use"}},
	"[thread.seam]":      {add: []string{"use"}},
	"[closure.notion]":   {},
	"[closure.rows]":     {add: []string{"lap"}},
	"[closure.flap]":     {add: []string{"width"}},
	"[[cord]]":           {add: []string{"name", "at"}},
	"[[settled]]":        {add: []string{"rule", "because", "have", "need"}},
}

// The file to begin from works as it is, in both units, and so it does with
// any one of its options taken in.
func TestStarter(t *testing.T) {
	stock, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	garment, _ := schemas(t)
	for _, u := range []measure.Unit{measure.In, measure.MM} {
		text := stock.Starter(`Deck "jacket"`, u)
		read := func(text string) error {
			_, err := catalog.Read("start.toml", []byte(text), catalog.Options{ReadFile: func(string) ([]byte, error) { return nil, nil }})
			return err
		}
		if err := read(text); err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(text, "\n")
		heading, options := -1, 0
		for i, l := range lines {
			bare := strings.TrimPrefix(l, "# ")
			if strings.HasPrefix(bare, "[") {
				heading = i
			}
			if bare == l || !strings.Contains(bare, " = ") || strings.HasPrefix(bare, "  ") {
				continue
			}
			options++
			one := slices.Clone(lines)
			one[i] = bare
			take := func(from int, keys ...string) {
				for j := from; j < len(lines); j++ {
					k, _, _ := strings.Cut(strings.TrimPrefix(lines[j], "# "), " ")
					if slices.Contains(keys, k) && strings.Contains(lines[j], " = ") {
						one[j] = strings.TrimPrefix(lines[j], "# ")
						keys = slices.DeleteFunc(slices.Clone(keys), func(s string) bool { return s == k })
					}
				}
			}
			if heading >= 0 {
				one[heading] = strings.TrimPrefix(lines[heading], "# ")
				head, _, _ := strings.Cut(one[heading], " ")
				if n, there := needs[head]; there {
					if head == "[closure.rows]" {
						take(0, n.add...)
						one = swap(one, `lap `, `lap = "double"`)
						if k, _, _ := strings.Cut(bare, " "); k == "top" || k == "bottom" {
							take(heading, "top", "bottom")
						}
					} else {
						take(heading, n.add...)
					}
				}
			}
			key, _, _ := strings.Cut(bare, " ")
			switch key {
			case "behind":
				one = append(one, `[[closure]]
name = "toggles"
opening = "front"
use = "horn-30"
over = ["shell", "shell"]
[closure.run]`, lineOf(one, "length "), "count = 5")
			case "inset":
				if !strings.HasPrefix(lines[heading], "# [closure.flap]") {
					at := slices.Index(one, lineOf(one, "[[closure]]"))
					swap(one[at:], "use ", `use = "toggle-horn-50"`)
				}
			case "side":
				one = swap(one, "# shape ", `shape = "square"`)
			case "length", "width", "short_end":
				if head := lines[heading]; strings.HasPrefix(head, "# [closure.notion]") {
					one = swap(one, "# shape ", `shape = "toggle"`)
					take(heading, "length", "width", "short_end")
				}
			case "thread", "button_thread":
				take(0, "[thread.seam]")
				one = swap(one, "# [thread.seam]", "[thread.seam]\nuse = \"polyester-tex-40\"")
			case "strips":
				take(0, "[interfacing.stay]")
				one = swap(one, "# [interfacing.stay]", "[interfacing.stay]\nuse = \"hair-canvas\"")
			case "size":
				one = swap(one, "# [sizes]", "[sizes]\nnames = [\"S\", \"M\"]")
			case "group", "group_gap":
				take(i-2, "group", "group_gap")
			}
			if err := read(strings.Join(one, "\n")); err != nil {
				t.Errorf("%s, %s:\n%v\n(does it want an example in start.go?)", u, strings.TrimSpace(bare), err)
			}
			doc, err := source.Parse("start.toml", []byte(strings.Join(one, "\n")))
			if err != nil {
				t.Errorf("%s: %v", bare, err)
				continue
			}
			if err := garment.Validate(asJSON(t, doc.Root)); err != nil {
				t.Errorf("%s: %v", bare, err)
			}
		}
		if options < 100 {
			t.Errorf("only %d options", options)
		}
		for i, l := range lines {
			if len([]rune(l)) > 130 {
				t.Errorf("line %d is too long: %s", i+1, l)
			}
		}
	}
}

// lineOf is the first line that begins so.
func lineOf(lines []string, begins string) string {
	return lines[slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, begins) })]
}

// swap replaces the first line that begins so.
func swap(lines []string, begins, with string) []string {
	for i, l := range lines {
		if strings.HasPrefix(l, begins) {
			lines[i] = with
			return lines
		}
	}
	return lines
}
