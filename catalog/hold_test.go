package catalog

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"placketeer/catalog/source"
)

// ownButton is a catalogue file.
const ownButton = "[[button]]\nname = \"quay-30\"\nsource = \"measured\"\ndiameter = \"30L\"\nthickness = \"4 mm\"\n"

func write(t *testing.T, files map[string]string) {
	t.Helper()
	for name, text := range files {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// A garment names catalogues of its own folder, of the one above, or of the
// project that .git marks, and none elsewhere: not by .., not by a link.
func TestCatalogsStayBelowTheRoot(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	write(t, map[string]string{
		at("out.toml"): ownButton, at("a/near.toml"): ownButton, at("a/b/own.toml"): ownButton, at("a/b/sub/below.toml"): ownButton,
		at("p/.git/HEAD"): "ref", at("p/top.toml"): ownButton, at("p/q/r/s/x"): "",
	})
	if err := os.Symlink(at("out.toml"), at("a/b/link.toml")); err != nil {
		t.Fatal(err)
	}
	const outside = "lies outside the folders"
	for _, c := range []struct{ folder, catalog, says string }{
		{"a/b", "own.toml", ""},
		{"a/b", "./sub/../own.toml", ""},
		{"a/b", "sub/below.toml", ""},
		{"a/b", "../near.toml", ""},
		{"a/b", at("a/b/own.toml"), ""},
		{"a/b", "../../out.toml", outside},
		{"a/b", at("out.toml"), outside},
		{"a/b", "link.toml", outside},
		{"a/b", "/etc/passwd", outside},
		{"a/b", "/nowhere/at/all", outside},
		{"a/b", "../..", outside},
		{"p/q/r/s", "../../../top.toml", ""},
		{"p/q/r/s", "../../../../out.toml", outside},
		{"a/b", "no.toml", "there is no such file"},
		{"a/b", ".", "this is a folder"},
	} {
		name := filepath.Join(dir, c.folder, "coat.toml")
		write(t, map[string]string{name: fmt.Sprintf("catalog = [%q]\n", c.catalog) + good})
		_, err := Load(name, Options{})
		if got := fmt.Sprint(err); c.says == "" && err != nil || !strings.Contains(got, c.says) || strings.Contains(got, "root:") {
			t.Errorf("%s of %s: %v", c.catalog, c.folder, err)
		}
	}
	// The command line may name others.
	if _, err := Load(at("a/b/coat.toml"), Options{Catalogs: []string{at("out.toml")}}); err == nil || !strings.Contains(err.Error(), "folder") {
		t.Errorf("got %v", err) // the garment's own is still wrong
	}
	write(t, map[string]string{at("a/b/coat.toml"): good})
	if _, err := Load(at("a/b/coat.toml"), Options{Catalogs: []string{at("out.toml")}}); err != nil {
		t.Error(err)
	}
}

// What is no file of ours is said to be none, and nothing of it is shown; a
// file of ours with a fault is shown.
func TestNothingOfOtherFilesIsShown(t *testing.T) {
	const passwd = "root:x:0:0:root:/root:/bin/bash\nmachine:x:7:7::/home/m:/bin/sh\nthread:secret\n"
	const none, ours, swapped = "this is not a garment file", "between a key and its value stands =, not :", "this is a catalogue file and not a garment"
	for _, c := range []struct{ text, says, shown string }{
		{passwd, none, ""},
		{"-----BEGIN KEY-----\nMIIEvQIBADANBgkq\n", none, ""},
		{"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", none, ""},
		{"<html><body>secret</body></html>", none, ""},
		{"garment: Coat\n", ours, "Coat"},
		{"garment \"Coat\"\n", "there is no =", "Coat"},
		{"[cloth.shell\n", "no closing ]", "[cloth.shell"},
		{ownButton, swapped, ""},
		{"[[cloth]]\nname = \"x\"\nsource = \"y\"\nweight = \"300 g/m2\"\n", swapped, ""},
	} {
		_, err := read(c.text)
		var ps source.Problems
		var b strings.Builder
		if !errors.As(err, &ps) {
			t.Errorf("%.20q: got %v", c.text, err)
			continue
		}
		ps.Render(&b)
		if got := b.String(); !strings.Contains(got, c.says) || !strings.Contains(got, c.shown) || strings.Contains(got, "secret") || strings.Contains(got, "bash") || strings.Contains(got, "MII") {
			t.Errorf("%.20q: %s", c.text, got)
		}
	}
	dir := t.TempDir()
	for text, says := range map[string]string{
		passwd:                   "this is not a catalogue file",
		"[tool]\nx = \"secret\"": "this is not a catalogue file",
		good:                     "this is a garment file and not a catalogue",
		"[[buton]]\n":            `unknown key "buton"`,
		"[[button]\n":            "ends with one",
	} {
		name := filepath.Join(dir, "own.toml")
		write(t, map[string]string{name: text})
		_, err := Open(name)
		var ps source.Problems
		var b strings.Builder
		if errors.As(err, &ps) {
			ps.Render(&b)
		}
		if got := b.String(); !strings.Contains(got, says) || strings.Contains(got, "secret") || strings.Contains(got, "bash") {
			t.Errorf("%.20q: %v\n%s", text, err, got)
		}
	}
}

// many is n copies of a text with their numbers in it.
func many(n int, format, between string) string {
	parts := make([]string, n)
	for i := range parts {
		parts[i] = fmt.Sprintf(format, i)
	}
	return strings.Join(parts, between)
}

// Each limit lets through what is just within it and refuses what is beyond,
// with the limit in the message.
func TestLimitsOfAGarment(t *testing.T) {
	const closure = "[[closure]]\nname = \"c%d\"\nuse = \"horn-30\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = 24\ncount = 5\n"
	head := "garment = \"x\"\nunits = \"in\"\n[cloth.shell]\nuse = \"melton\"\n"
	one := fmt.Sprintf(closure, 0)
	for _, c := range []struct {
		name string
		most int
		file func(n int) string
	}{
		{"closure", MaxClosures, func(n int) string { return head + many(n, closure, "") }},
		{"cloth", MaxParts, func(n int) string { return head + many(n-1, "[cloth.c%d]\nuse = \"melton\"\n", "") + one }},
		{"interfacing", MaxParts, func(n int) string {
			return head + many(n, "[interfacing.i%d]\nuse = \"weft-fusible-medium\"\n", "") + one
		}},
		{"thread", MaxParts, func(n int) string { return head + many(n, "[thread.t%d]\nuse = \"polyester-tex-40\"\n", "") + one }},
		{"cord", MaxParts, func(n int) string { return head + one + many(n, "[[cord]]\nname = \"r%d\"\nat = \"hood\"\n", "") }},
		{"names", MaxSizes, func(n int) string { return head + "[sizes]\nnames = [" + many(n, `"s%d"`, ", ") + "]\n" + one }},
		{"anchor", MaxMarks, func(n int) string {
			return head + one + "anchor = [" + many(n, `{ name = "a%d", at = 3 }`, ", ") + "]\n"
		}},
		{"clear", MaxMarks, func(n int) string {
			return head + one + "clear = [" + many(n, `{ name = "a%d", at = 3 }`, ", ") + "]\n"
		}},
		{"over", MaxLayers, func(n int) string {
			return head + strings.Replace(one, `"shell", "shell"`, strings.Repeat(`"shell", `, n), 1)
		}},
		{"keep", MaxItems, func(n int) string {
			return "keep = [" + strings.Repeat(`"closure.c0.use", `, n) + "]\n" + head + one
		}},
		{"garment", MaxName, func(n int) string { return strings.Replace(head, `"x"`, `"`+strings.Repeat("ä", n)+`"`, 1) + one }},
		{"name", MaxName, func(n int) string { return head + strings.Replace(one, "c0", strings.Repeat("ä", n), 1) }},
		{"material", MaxText, func(n int) string {
			return head + strings.Replace(one, "[closure.run]", "[closure.notion]\nmaterial = \""+strings.Repeat("m", n)+"\"\n[closure.run]", 1)
		}},
	} {
		if _, err := read(c.file(c.most)); err != nil {
			t.Errorf("%d of %s: %.300s", c.most, c.name, err)
		}
		_, err := read(c.file(c.most + 1))
		if want := fmt.Sprintf(": %d is the most", c.most); err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), c.name+" has ") || strings.Count(err.Error(), "\n") > 3 {
			t.Errorf("%d of %s: %.300v", c.most+1, c.name, err)
		}
	}
}

// A file within 1 MiB is answered at once, whatever it asks for. The time is
// one that a quadratic search exceeds by far.
func TestHostileGarments(t *testing.T) {
	const M = source.MaxSize - 2000
	rep := func(s string) string { return strings.Repeat(s, M/len(s)) }
	head := "garment = \"x\"\nunits = \"in\"\n[cloth.shell]\nuse = \"melton\"\n"
	const run = "[[closure]]\nname = \"c\"\nuse = \"horn-30\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = 24\ncount = 5\n"
	for name, text := range map[string]string{
		"closures on one line": "garment = \"x\"\nunits = \"in\"\nclosure = [" + rep("{x=1},") + "]",
		"closures":             head + rep("[[closure]]\n"),
		"sizes":                head + "[sizes]\nnames = [" + rep(`"abc",`) + "]\n" + run,
		"cloths":               head + many(M/32, "[cloth.c%d]\nuse=\"melton\"\n", "") + run,
		"unknown cloths":       head + many(M/32, "[cloth.c%d]\nuse=\"meltin\"\n", "") + run,
		"anchors":              head + run + "anchor = [" + rep(`{name="a",at=1},`) + "]",
		"keep":                 "keep = [" + rep(`"a.b",`) + "]\n" + head + run,
		"layers":               head + strings.Replace(run, `"shell", "shell"`, rep(`"shel",`), 1),
		"unknown keys":         "garment = \"x\"\nunits = \"in\"\n" + many(M/12, "k%d=1\n", ""),
		"unknown fibres":       head + "fibre = {" + many(M/16, "k%d=1", ",") + "}\n" + run,
		"unknown sizes":        head + run + "first = {" + many(M/16, "k%d=1", ",") + "}\n",
		"counts by size":       head + "[sizes]\nnames = [\"S\"]\n" + strings.Replace(run, "count = 5", "count = {"+many(M/16, "k%d=1", ",")+"}", 1),
		"a long name":          strings.Replace(head, `"x"`, `"`+rep(`\u202e`)+`"`, 1) + run,
		"a long length":        strings.Replace(head+run, "length = 24", `length = "`+rep("1 ")+`"`, 1),
		"a long number":        strings.Replace(head+run, "length = 24", `length = `+rep("1"), 1),
		"a long use":           strings.Replace(head+run, "horn-30", rep("horn-"), 1),
		"notions":              head + strings.Replace(run, `use = "horn-30"`, "notion = {"+many(M/16, "k%d=1", ",")+"}", 1),
	} {
		begin := spent()
		_, err := read(text)
		if err == nil {
			t.Errorf("%s: taken", name)
		} else if ps := asProblems(err); len(ps.First()) > source.MaxProblems+1 {
			t.Errorf("%s: %d problems", name, len(ps))
		}
		if took := spent() - begin; took > answered {
			t.Errorf("%s: %v", name, took)
		}
	}
	for name, text := range map[string]string{
		"entries on one line": "button = [" + many(M/44, `{name="b%d",source="x",diameter="1in"}`, ",") + "]",
		"the same name":       rep("[[button]]\nname=\"b\"\nsource=\"x\"\n"),
		"unknown keys":        "[[button]]\nname = \"b\"\nsource = \"x\"\n" + many(M/12, "k%d=1\n", ""),
	} {
		begin := spent()
		_, err := (&Catalog{}).with(func(string) ([]byte, error) { return []byte(text), nil }, "own.toml")
		if name == "entries on one line" && err != nil || name != "entries on one line" && err == nil {
			t.Errorf("%s: %.200v", name, err)
		}
		if took := spent() - begin; took > answered {
			t.Errorf("%s: %v", name, took)
		}
	}
}

// What stands in an empty list is not taken for nothing to check.
func TestEmptyLists(t *testing.T) {
	for _, c := range []struct{ old, new, says string }{
		{good[strings.Index(good, "[[closure]]"):], "", "closure is missing"},
		{"[sizes]", "closure = []\n[sizes]", "closure is empty"},
		{`over = ["shell", "shell"]`, "over = []", "over is empty"},
		{`over = ["shell", "shell"]`, "over = [\"shell\", \"shell\"]\nunder = []", "under is empty"},
		{`names = ["S", "M"]`, "names = []", "lists no size"},
	} {
		text := strings.Replace(good, c.old, c.new, 1)
		if strings.Contains(c.new, "closure = []") {
			text = text[:strings.Index(text, "[[closure]]")]
		}
		if _, err := read(text); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v, want %s", c.new, err, c.says)
		}
	}
	g, err := read(good)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := g.Alter(SetNames("closure.front.over")); err == nil || !strings.Contains(err.Error(), "over is empty") {
		t.Errorf("altered: %v", err)
	}
}

// A key that stands in a table further down is told where it belongs.
func TestKeysOneTableTooHigh(t *testing.T) {
	for change, near := range map[string]string{
		"closure.front.count=6":     "closure.front.run.count=…",
		"closure.front.extension=2": "closure.front.stand.extension=…",
		"closure.front.distance=2":  "closure.front.rows.distance=…",
		"names=1":                   "sizes.names=…",
		"cloth.shell.along=2":       "cloth.shell.repeat.along=…",
		"closure.front.run.max=2":   "closure.front.run.gap.max=…",
		`catalog=["own.toml"]`:      "--catalog own-notions.toml",
		"catalog=":                  "--catalog own-notions.toml",
	} {
		_, err := Read("coat.toml", []byte(good), Options{With: []string{change}})
		var e *ChangeError
		if !errors.As(err, &e) || e.Near != near {
			t.Errorf("%s: %v, want %s", change, err, near)
		}
	}
	_, err := read(strings.Replace(good, "[closure.run]", "count = 5\nextension = 2\n[closure.run]", 1))
	ps := asProblems(err)
	if len(ps) != 2 || ps[0].Instead != "count below [closure.run]" || ps[1].Instead != "extension below [closure.stand]" {
		t.Errorf("got %v", ps)
	}
}

// A name of two words finds the entry that is written with a dash.
func TestTwoWordsFindTheEntry(t *testing.T) {
	for old, new := range map[string]string{
		`use = "melton"`:  `use = "boiled wool"`,
		`use = "horn-30"`: `use = "horn 30"`,
	} {
		text := strings.Replace(strings.Replace(good, "horn-40", "horn-30", 1), `use  =`, "use =", 1)
		_, err := read(strings.Replace(text, old, new, 1))
		ps := asProblems(err)
		if len(ps) != 1 || ps[0].Instead != strings.ReplaceAll(strings.TrimPrefix(new, "use = "), " ", "-") {
			t.Errorf("%s: %v", new, err)
		}
	}
	_, err := read(strings.Replace(good, `use = "melton"`, "kind = \"boiled wool\"\nweight = \"400 g/m2\"", 1))
	if ps := asProblems(err); len(ps) != 1 || ps[0].Instead != `"boiled-wool"` {
		t.Errorf("%v", err)
	}
}

// No catalogue file brings the reader down, and what is taken can be listed
// and read back as it was.
func FuzzCatalog(f *testing.F) {
	f.Add([]byte(ownButton))
	f.Add([]byte("[[cloth]]\nname = \"x\"\nsource = \"y\"\nweight = \"300 g/m2\"\nfibre = { wool = 100 }\n"))
	names, _ := filepath.Glob("../testdata/garments/tarn-quay-*.toml")
	for _, name := range names {
		if data, err := os.ReadFile(name); err == nil {
			f.Add(data)
		}
	}
	stock, err := StockCatalog()
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		give := func(data []byte) (*Catalog, error) {
			return stock.with(func(string) ([]byte, error) { return data, nil }, "own.toml")
		}
		c, err := give(data)
		if (c == nil) == (err == nil) {
			t.Fatalf("catalogue %v, error %v", c, err)
		}
		if err != nil {
			var ps source.Problems
			if errors.As(err, &ps) && len(ps) > maxFaults+1 {
				t.Errorf("%d problems", len(ps))
			}
			return
		}
		var again strings.Builder
		for _, it := range c.Items() {
			if it.File != "" {
				again.WriteString(it.TOML())
			}
		}
		back, err := give([]byte(again.String()))
		if err != nil {
			t.Fatalf("%v\n%s", err, again.String())
		}
		var twice strings.Builder
		for _, it := range back.Items() {
			if it.File != "" {
				twice.WriteString(it.TOML())
			}
		}
		if again.String() != twice.String() {
			t.Errorf("reads back otherwise:\n%s\n%s", again.String(), twice.String())
		}
	})
}

// No change of a garment brings it down, and a change that is taken can be
// written into the file, which then reads as the same garment.
func FuzzEdits(f *testing.F) {
	for _, w := range []string{
		"closure.front.use=horn-36", "closure.front.run.length.M=30", "closure.front.run.count={min=3,max=7}", "cloth.shell.thickness=2.4 mm ± 0.2",
		"closure.front.run.anchor.bust={at=8}", "wearer=child", "closure.front.run.first=", "cloth.shell.fibre.wool=100", "keep=[\"closure.front.use\"]", "interfacing.front={use=\"weft-fusible-medium\"}",
	} {
		f.Add(w)
	}
	f.Fuzz(func(t *testing.T, change string) {
		g, err := read(good)
		if err != nil {
			t.Fatal(err)
		}
		w, err := ParseWith(change)
		if err != nil {
			return
		}
		n, err := g.Alter(w)
		if (n == nil) == (err == nil) {
			t.Fatalf("%q: garment %v, error %v", change, n, err)
		}
		if err != nil {
			return
		}
		text, _, err := g.Rewrite(w)
		if err != nil {
			return // it cannot be written, and says so
		}
		if _, err := read(string(text)); err != nil {
			t.Errorf("%q is written as\n%s\n%v", change, text, err)
		}
	})
}

// asProblems are the problems of an error, one for any other.
func asProblems(err error) source.Problems {
	if p, ok := err.(source.Problems); ok {
		return p
	}
	return source.Problems{{Message: err.Error()}}
}
