package catalog

import (
	"errors"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"

	"github.com/google/go-cmp/cmp"
)

// A front closed by toggles, with snaps and a zip in the layers behind them.
const duffel = `garment = "Quay duffel (invented)"
units   = "in"
[sizes]
names = ["S", "M"]
[cloth.shell]
use = "melton"
[[closure]]
name = "toggles"
opening = "front"
use  = "toggle-horn-50"
over = ["shell", "shell"]
inset = "1 1/2 in"
[closure.run]
length = { S = 24, M = 25 }
count  = 4
[[closure]]
name = "snaps"
opening = "front"
behind = "toggles"
use  = "ring-spring-15"
over = ["shell", "shell"]
[closure.flap]
width = "2 1/2 in"
inset = "1 in"
[closure.run]
length = { S = 24, M = 25 }
count  = 5
[[closure]]
name = "zip"
opening = "front"
behind = "snaps"
use  = "moulded-3-separating"
over = ["shell", "shell"]
[closure.run]
length = { S = 24, M = 25 }
[[closure]]
name = "cuff"
use  = "horn-24"
pieces = 2
over = ["shell", "shell"]
[closure.run]
length = 3
count = 1
`

func TestOpenings(t *testing.T) {
	g, err := read(duffel)
	if err != nil {
		t.Fatal(err)
	}
	want := []Opening{{"front", []int{0, 1, 2}}, {"cuff", []int{3}}}
	if diff := cmp.Diff(want, g.Openings()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	toggles, snaps := &g.Closures[0], &g.Closures[1]
	if toggles.Inset.V != 3*measure.Inch/2 || snaps.Behind != "toggles" || !snaps.Flap.Has() || snaps.Flap.Width.V != 5*measure.Inch/2 || snaps.Flap.Inset.V != measure.Inch || toggles.Flap.Has() {
		t.Errorf("read as %+v and %+v", toggles.Inset, snaps.Flap)
	}
	// A closure that names no opening closes the one that has its own name.
	if _, err := read(strings.Replace(duffel, "name = \"toggles\"\nopening = \"front\"", `name = "front"`, 1)); err == nil {
		t.Error("snaps lie behind toggles that are not there any more")
	}
	g, err = read(strings.NewReplacer("name = \"toggles\"\nopening = \"front\"", `name = "front"`, `behind = "toggles"`, `behind = "front"`).Replace(duffel))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, g.Openings()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// What the closures of one opening cannot say together, each with its place.
func TestOpeningMistakes(t *testing.T) {
	for _, c := range []struct {
		old, new string
		at       string
		says     string
		instead  string
	}{
		{`behind = "toggles"`, `behind = "togles"`, "19:10", `no closure "togles"`, `"toggles"`},
		{`behind = "toggles"`, `behind = "cuffs"`, "19:10", `no closure "cuffs"`, "one of toggles, zip"},
		{`behind = "toggles"`, `behind = "snaps"`, "19:10", "cannot lie behind itself", "one of toggles, zip"},
		{`behind = "toggles"`, `behind = "cuff"`, "19:10", `closes another opening, "cuff"`, `opening = "cuff" in both`},
		{`behind = "toggles"`, `behind = "zip"`, "19:10", "snaps behind zip behind snaps", "on top"},
		{`inset = "1 1/2 in"`, `behind = "zip"`, "12:10", "toggles behind zip behind snaps behind toggles", "on top"},
		{"pieces = 2", `behind = "zip"`, "39:10", `"cuff" cannot lie behind it`, `opening = "front" in both`},
		{"pieces = 2", `behind = "zipp"`, "39:10", `no closure "zipp"`, `opening = "cuff"`},
		{"pieces = 2", `opening = "a.b"`, "39:11", "the name of an opening cannot hold", "letters"},
		{"pieces = 2", `opening = ""`, "39:11", "opening is empty", ""},
		{"pieces = 2", `inset = 1`, "39:9", "belongs to a toggle or a frog", "[closure.flap]"},
		{"pieces = 2", "rows = { inner = true }", "39:8", "double-breasted", `lap = "double"`},
		{"pieces = 2", "rows = { show_holes = false }", "39:8", "double-breasted", `lap = "double"`},
		{"pieces = 2", "lap = \"double\"\nrows = { inner = 1 }", "40:18", "yes or no", "true or false"},
		{"pieces = 2", "flap = { inset = 1 }", "39:1", "width is missing", "width ="},
		{`width = "2 1/2 in"`, `width = "1 in"`, "24:9", "does not lie inside its finished edge, 1 in", ""},
		{`inset = "1 in"`, `inset = 0`, "24:9", "zero", ""},
		{`inset = "1 1/2 in"`, "flap = { width = 2 }", "22:1", `"snaps" has a flap of its own, and so has "toggles", which closes the same opening, at coat.toml:12`, "one flap for the opening"},
		{`units   = "in"`, "units   = \"in\"\nhem_at = \"hips\"", "3:10", `cannot be "hips"`, `"hip"`},
		// The lengths of one opening, with both lines.
		{"length = { S = 24, M = 25 }\n[[closure]]\nname = \"cuff\"", "length = 24\n[[closure]]\nname = \"cuff\"", "35:10",
			`"zip" runs along 24 in (609.5 mm) in size M and "toggles", which closes the same opening, along 25 in (635 mm), at coat.toml:14:24`, "the same length in both"},
		{"length = { S = 24, M = 25 }\ncount  = 5", "length = { S = 24, M = \"25 1/8 in\" }\ncount  = 5", "26:24",
			`"snaps" runs along 25 1/8 in (638 mm) in size M and "toggles", which closes the same opening, along 25 in (635 mm), at coat.toml:14:24`, ""},
		{"length = { S = 24, M = 25 }\n[[closure]]\nname = \"cuff\"", "length = { S = 23, M = 26 }\n[[closure]]\nname = \"cuff\"", "35:16", "in size S", ""},
		{`behind = "toggles"`, "lap_over = \"left\"\nbehind = \"toggles\"", "", "", ""},
		{`behind = "snaps"`, "lap_over = \"left\"\nbehind = \"snaps\"", "", "", ""},
	} {
		text := strings.Replace(duffel, c.old, c.new, 1)
		if text == duffel {
			t.Fatalf("%q is not in the garment", c.old)
		}
		_, err := read(text)
		if c.at == "" {
			if err != nil {
				t.Errorf("%q: %v", c.new, err)
			}
			continue
		}
		var ps source.Problems
		if !errors.As(err, &ps) {
			t.Errorf("%q: got %v, want problems", c.new, err)
			continue
		}
		p := ps[0]
		if len(ps) != 1 || !strings.HasPrefix(p.Pos.String(), "coat.toml:"+c.at) || !strings.Contains(p.Message, c.says) || !strings.Contains(p.Instead, c.instead) {
			t.Errorf("%q: %d problems\ngot  %s: %s; write %s\nwant %s: …%s…; write …%s…", c.new, len(ps), p.Pos, p.Message, p.Instead, c.at, c.says, c.instead)
		}
	}
	text := strings.Replace(duffel, `behind = "toggles"`, "behind = \"toggles\"\nlap_over = \"left\"", 1)
	_, err := read(strings.Replace(text, `behind = "snaps"`, "behind = \"snaps\"\nlap_over = \"right\"", 1))
	if err == nil || !strings.Contains(err.Error(), `coat.toml:33:12: "zip" laps right over and "snaps", which closes the same opening, left over, at coat.toml:20:12`) {
		t.Errorf("two ways of lapping: %v", err)
	}
}

// A what-if change of one closure is checked against the others of its
// opening.
func TestChangeInOneOpening(t *testing.T) {
	g, err := read(duffel)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ with, says string }{
		{"closure.zip.run.length.M=26", "which closes the same opening"},
		{"closure.zip.behind=zip", "behind itself"},
		{"closure.toggles.opening=other", "another opening"},
		{"closure.toggles.use=horn-30", "belongs to a toggle"},
	} {
		if _, err := change(g, c.with); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.with, err)
		}
	}
	if g.SetNotion(0, g.Catalog.Notion("horn-30")) {
		t.Error("a button took the place of a toggle that has an inset")
	}
}

// Which side lies on top is one answer: what is said, else what is usual for
// women, men or both; nothing said at all goes as women's. The usual sides
// are those of the rule lap-side, with its sources.
func TestOver(t *testing.T) {
	for _, c := range []struct{ cutFor, lapOver, want string }{
		{"", "", "right"}, {"women", "", "right"}, {"men", "", "left"}, {"unisex", "", "left"},
		{"men", "right", "right"}, {"women", "left", "left"}, {"", "left", "left"},
	} {
		text := good
		if c.cutFor != "" {
			text = strings.Replace(text, "[sizes]", "cut_for = \""+c.cutFor+"\"\n[sizes]", 1)
		}
		if c.lapOver != "" {
			text = strings.Replace(text, "[closure.run]", "lap_over = \""+c.lapOver+"\"\n[closure.run]", 1)
		}
		g, err := read(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := g.Over(&g.Closures[0]); got != c.want {
			t.Errorf("cut_for %q, lap_over %q: %s over, want %s", c.cutFor, c.lapOver, got, c.want)
		}
		if h, err := change(g, "cut_for=men"); err != nil || c.lapOver == "" && h.Over(&h.Closures[0]) != "left" {
			t.Errorf("cut_for=men by a change: %v", err)
		}
	}
	// The closures of one opening lap one way.
	g, err := read(strings.Replace(duffel, `behind = "snaps"`, "behind = \"snaps\"\nlap_over = \"left\"", 1))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"left", "left", "left", "right"} {
		if got := g.Over(&g.Closures[i]); got != want {
			t.Errorf("closure %s: %s over, want %s", g.Closures[i].Name, got, want)
		}
	}
}
