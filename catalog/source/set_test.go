package source

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestSet(t *testing.T) {
	const text = `garment = "Coat"
[[closure]]
name = "front"
use = "horn-40"
[closure.run]
length = "24 in"
anchor = [ { name = "bust", at = "8 in" } ]
[[closure]]
name = "cuff"
`
	base, err := Parse("coat.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	fresh, _ := Parse("coat.toml", []byte(text))

	d := base
	for _, c := range []struct {
		path  string
		value any
	}{
		{"closure[0].use", "horn-36"},
		{"closure[0].run.anchor[0].at", int64(9)},
		{"closure[1].stand.seam", "5/8 in"},
		{"closure[0].run.length", map[string]any{"S": "23 in"}},
		{"closure[2].name", "flap"},
		{"wearer", "child"},
	} {
		if d, err = d.Set(c.path, c.value, "--with "+c.path); err != nil {
			t.Fatal(err)
		}
		if got, _ := d.Get(c.path); !cmp.Equal(got, c.value) {
			t.Errorf("%s: got %v, want %v", c.path, got, c.value)
		}
	}
	want := map[string]any{
		"garment": "Coat", "wearer": "child",
		"closure": []any{
			map[string]any{"name": "front", "use": "horn-36", "run": map[string]any{
				"length": map[string]any{"S": "23 in"},
				"anchor": []any{map[string]any{"name": "bust", "at": int64(9)}},
			}},
			map[string]any{"name": "cuff", "stand": map[string]any{"seam": "5/8 in"}},
			map[string]any{"name": "flap"},
		},
	}
	if diff := cmp.Diff(want, d.Root); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if diff := cmp.Diff(fresh.Root, base.Root); diff != "" {
		t.Errorf("the document itself was changed (-want +got)\n%s", diff)
	}

	for path, want := range map[string]string{
		"closure[0].use":              "--with closure[0].use",
		"closure[0].name":             "coat.toml:3:8",
		"closure[0].run.length":       "--with closure[0].run.length",
		"closure[0].run.length.S":     "--with closure[0].run.length",
		"closure[0].run.length.M":     "--with closure[0].run.length",
		"closure[0].run.anchor[0]":    "coat.toml:7:12",
		"closure[0].run.anchor[0].at": "--with closure[0].run.anchor[0].at",
		"closure[1].stand":            "coat.toml:8:1",
		"closure[1].stand.seam":       "--with closure[1].stand.seam",
		"closure[1].stand.extension":  "coat.toml:8:1",
		"closure[2].name":             "--with closure[2].name",
		"closure[2]":                  "coat.toml:2:1",
		"wearer":                      "--with wearer",
		"garment":                     "coat.toml:1:11",
		"":                            "coat.toml:1:1",
	} {
		if got := d.Pos(path).String(); got != want {
			t.Errorf("Pos(%s) = %s, want %s", path, got, want)
		}
		pos, _ := d.ValuePos(path)
		if got := pos.String(); got != want {
			t.Errorf("ValuePos(%s) = %s, want %s", path, got, want)
		}
	}
	if got := d.Problem("wearer", "no such wearer", "adult").String(); got != "--with wearer: no such wearer" {
		t.Errorf("got %s", got)
	}
	if diff := cmp.Diff([]string{"garment", "closure", "wearer"}, d.Keys("")); diff != "" {
		t.Errorf("keys (-want +got)\n%s", diff)
	}
	// A later change of the whole takes the place of an earlier one in it,
	// and two changes of one document know nothing of each other.
	a, _ := d.Set("closure[0]", map[string]any{"use": "x"}, "first")
	b, _ := d.Set("closure[0].use", "y", "second")
	if got := a.Pos("closure[0].use").File + " " + b.Pos("closure[0].use").File; got != "first second" {
		t.Errorf("labels: %s", got)
	}
	if v, _ := a.Get("closure[0].use"); v != "x" {
		t.Errorf("a: %v", v)
	}
}

func TestSetRefused(t *testing.T) {
	d, err := Parse("f", []byte("a = 1\nb = [1]\n[t]\nx = \"y\"\n[[l]]\n"))
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		"":        `with: "" does not name a value`,
		"a..b":    `with: "a..b" does not name a value`,
		"a.b":     "with: a is a single value, it has no b",
		"t.x.y.z": "with: t.x is a single value, it has no y",
		"b.c":     "with: b is a list: say which of it, such as b[0]",
		"b[3]":    "with: b has 1 items, the next is b[1]",
		"a[0]":    "with: a is not a list",
		"l.name":  "with: l is a list: say which of it, such as l[0]",
	} {
		_, err := d.Set(path, 1, "with")
		if _, ok := err.(Problems); !ok || err.Error() != want {
			t.Errorf("%s: got %v, want %s", path, err, want)
		}
	}
}

func TestItemsByName(t *testing.T) {
	d, err := Parse("f", []byte(`
cloth.shell.use = "melton"
[[closure]]
name = "front"
run.anchor = [ { name = "waist" }, { name = "bust" } ]
[[closure]]
name = "cuff tab"
[[closure]]
name = "cuff"
[[closure]]
name = "cuff"
[[cord]]
at = "hood"
`))
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]struct{ number, name, pos string }{
		"closure.front.use":                {"closure[0].use", "closure.front.use", "f:3:1"},
		"closure.front.run.anchor.bust.at": {"closure[0].run.anchor[1].at", "closure.front.run.anchor.bust.at", "f:5:36"},
		`closure."cuff tab".name`:          {"closure[1].name", "closure.cuff tab.name", "f:7:8"},
		"closure.cuff tab.name":            {"closure[1].name", "closure.cuff tab.name", "f:7:8"},
		"closure[1].stand.seam":            {"closure[1].stand.seam", "closure.cuff tab.stand.seam", "f:6:1"},
		"closure[7].use":                   {"closure[7].use", "closure[7].use", "f:3:1"},
		"closure.back.use":                 {"closure.back.use", "closure.back.use", "f:3:1"},
		"closure.cuff.use":                 {"closure.cuff.use", "closure.cuff.use", "f:3:1"}, // there are two
		"cord[0].at":                       {"cord[0].at", "cord[0].at", "f:13:6"},
		"cloth.shell.weight":               {"cloth.shell.weight", "cloth.shell.weight", "f:2:7"},
		"":                                 {"", "", "f:1:1"},
	} {
		p, _ := d.path(path)
		n, ok := d.Named(path)
		if !ok || p.String() != want.number || n.Key() != want.name {
			t.Errorf("%s: got %s and %s, want %s and %s", path, p, n.Key(), want.number, want.name)
		}
		if got := d.Pos(path).String(); got != want.pos {
			t.Errorf("Pos(%s) = %s, want %s", path, got, want.pos)
		}
	}
	if d, err = d.Set("closure.front.run.anchor.bust.at", int64(8), "with"); err != nil {
		t.Fatal(err)
	}
	if v, _ := d.Get("closure[0].run.anchor[1].at"); v != int64(8) || d.Pos("closure[0].run.anchor[1].at").File != "with" {
		t.Errorf("set by name: %v", v)
	}
	text, _, err := d.Edit(Assignment{Path: "closure.cuff tab.use", Value: "horn-24"})
	if err != nil || !strings.Contains(string(text), "name = \"cuff tab\"\nuse  = \"horn-24\"\n") {
		t.Errorf("written by name: %v in\n%s", err, text)
	}
	for path, want := range map[string]string{
		"closure.back.use": `with: closure has no item named "back", only front, cuff tab, cuff, cuff`,
		"closure.cuff.use": `with: closure has two items named "cuff", say which: closure[2] or closure[3]`,
		"cord.hood.use":    `with: cord is a list: say which of it, such as cord[0]`,
	} {
		if _, err := d.Set(path, "x", "with"); err == nil || err.Error() != want {
			t.Errorf("%s: got %v, want %s", path, err, want)
		}
	}
}

func TestParseValue(t *testing.T) {
	for in, want := range map[string]any{
		"horn-36":                        "horn-36",
		" 24 in ":                        "24 in",
		"5":                              int64(5),
		"-3":                             int64(-3),
		"2.5":                            2.5,
		"1e3":                            1000.0,
		"true":                           true,
		"false":                          false,
		"True":                           "True",
		`"24 in"`:                        "24 in",
		`'1 1/8"'`:                       `1 1/8"`,
		`"a\tb"`:                         "a\tb",
		`1 1/8"`:                         `1 1/8"`,
		"[1, 'a']":                       []any{int64(1), "a"},
		`{ min = 4, max = "7" }`:         map[string]any{"min": int64(4), "max": "7"},
		"[{name = 'bust', at = '8 in'}]": []any{map[string]any{"name": "bust", "at": "8 in"}},
		"[1, 2":                          "[1, 2",
		`"open`:                          `"open`,
		"5 # five":                       "5 # five",
		"5\nother = 6":                   "5\nother = 6",
		"5 } x":                          "5 } x",
		"2,5":                            "2,5",
		"08":                             "08",
		"nan":                            "nan",
		"-inf":                           "-inf",
		"2026-01-02":                     "2026-01-02",
		"07:30":                          "07:30",
		"":                               "",
		"[]":                             []any{},
		"½":                              "½",
		"'a' 'b'":                        "'a' 'b'",
	} {
		if diff := cmp.Diff(want, ParseValue(in)); diff != "" {
			t.Errorf("%q (-want +got)\n%s", in, diff)
		}
	}
}
