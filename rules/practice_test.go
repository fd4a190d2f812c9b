package rules

import (
	"placketeer/catalog/measure"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// Numbers that a sewing practitioner works by; common practice, no source.
// They must pass: a rule that faults them is wrong, not the practice.
const practice = `garment = "Slip canvas jacket (invented)"
units = "in"
[cloth.shell]
use = "duck-10"
thickness = "1 mm"
[interfacing.front]
use = "weft-fusible-medium"
[[closure]]
name = "front"
use = "horn-30"
over = ["shell", "front", "shell"]
[closure.stand]
construction = "folded"
extension = "3 in"
turn_under = "1/2 in"
strip = "3 in"
strip_from_edge = "1/2 in"
[closure.run]
length = 26
count = 6
hem = 1
`

func practicePlan(t *testing.T, change ...string) *Planned {
	t.Helper()
	g := trial.Read(t, practice, change...)
	return Plan(g)
}

func TestCommonPracticePasses(t *testing.T) {
	p := practicePlan(t)
	for _, f := range p.Findings {
		switch f.Rule {
		case "strip-narrow", "stand-narrow", "band-extension", "band-hole", "hole-edge", "last-low", "first-high", "spacing-clash", "gaps-uneven":
			t.Errorf("%s: %s", f.Rule, f.Message())
		}
	}
	k := &p.Closures[0]
	// 3 in less 1/2 in turned under, less two folds of 1 mm and the interfacing
	// that the edge folds round, two thirds of it.
	near(t, "band", k.Stand.Band, (inch(2.5)-2*mm-k.Over.Layers[1].Thick)*2/3, 2)
	// The strip begins 2 1/2 in outside the centre line.
	near(t, "strip inside the centre line", k.Support.Covers, inch(.5), 0)
	if s := plan.UsualSeam(measure.In); s != inch(.625) {
		t.Errorf("seam allowance %s", s)
	}
	// The strip that the plan would cut there is a 3 in one or narrower.
	g := trial.Read(t, strings.Replace(practice, "strip = \"3 in\"\n", "", 1))
	if s := Plan(g).Closures[0].Support; s.Strip > inch(3) || s.Covers < s.Reach {
		t.Errorf("a strip %s wide, %s inside the centre line", s.Strip, s.Covers)
	}
}

// The same, moved until it fails: the strip must reach past the holes.
func TestStripFollowsWhereItBegins(t *testing.T) {
	for _, c := range []struct{ from, width, want string }{
		{"1/2 in", "3 in", ""},
		{"0 in", "3 in", "conflict"}, // ends on the centre line
		{"0 in", "3 1/2 in", ""},
		{"1/2 in", "2 3/4 in", "conflict"},
		{"1 in", "2 1/2 in", ""},
	} {
		p := practicePlan(t, "closure.front.stand.strip="+c.width, "closure.front.stand.strip_from_edge="+c.from)
		got := strings.Join(of(p, "strip-narrow"), "; ")
		if (got == "") != (c.want == "") || !strings.HasPrefix(got, c.want) {
			t.Errorf("%s from %s: %q", c.width, c.from, got)
		}
	}
	// Without a place it lies with its middle under holes along the edge.
	for width, want := range map[string]string{"3/4 in": "note", "5/8 in": "conflict"} {
		g := trial.Read(t, strings.Replace(strings.Replace(practice, "strip_from_edge = \"1/2 in\"\n", "", 1), `strip = "3 in"`, `strip = "`+width+`"`, 1))
		if got := strings.Join(of(Plan(g), "strip-narrow"), "; "); !strings.HasPrefix(got, want) {
			t.Errorf("%s in the middle: %q", width, got)
		}
	}
	// Holes across: from the finished edge of a band.
	p := practicePlan(t, "closure.front.direction=across", "closure.front.stand.strip_from_edge=1/2 in", "closure.front.stand.strip=4 in")
	if got := of(p, "strip-narrow"); len(got) != 0 {
		t.Errorf("across: %q", got)
	}
}

// An estimate is called an estimate wherever a number hangs on one.
func TestEstimatesAreNamed(t *testing.T) {
	text := strings.Replace(practice, "thickness = \"1 mm\"\n", "", 1)
	for rule, change := range map[string][]string{
		"stand-narrow":   {"closure.front.use=horn-40"},
		"band-extension": {"closure.front.stand.band=2 in"},
		"hole-tight":     {"closure.front.use=horn-36", "cloth.shell.weight=900 g/m2", "closure.front.hole_length=1 1/8 in"},
	} {
		g := trial.Read(t, text, change...)
		got := of(Plan(g), rule)
		if len(got) == 0 || !strings.Contains(got[0], "by estimate") {
			t.Errorf("%s: %q", rule, got)
		}
		g = trial.Read(t, text, append(change, "cloth.shell.thickness=2 mm", "interfacing.front.thickness=0.3 mm")...)
		if got := of(Plan(g), rule); len(got) > 0 && strings.Contains(got[0], "estimate") {
			t.Errorf("%s with a measured cloth: %q", rule, got)
		}
	}
}

// The smallest garment of all: what is not said has the default that the
// description of the file promises.
func TestSmallestGarment(t *testing.T) {
	const smallest = `garment = "Coat"
units   = "in"
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use  = "horn-40"
over = ["shell", "shell"]
[closure.run]
length = 24
count  = 5
`
	read := func(text string) *plan.Closure {
		g := trial.Read(t, text)
		return &Plan(g).Closures[0]
	}
	k := read(smallest)
	s := k.Sizes[0]
	if k.Closure.Fastener != catalog.Button || len(k.Under.Layers) != 2 || k.Under.Thick != k.Over.Thick {
		t.Errorf("kind %s, under %d layers", k.Closure.Fastener, len(k.Under.Layers))
	}
	if k.Stand.Have != k.Closure.Notion.Diameter.V || k.Stand.Known {
		t.Errorf("stand %s", k.Stand.Have)
	}
	if s.First != k.Closure.Notion.Diameter.V+inch(.25) || s.Last != inch(4) || s.Count != 5 {
		t.Errorf("first %s, last %s, %d of them", s.First, s.Last, s.Count)
	}
	for _, at := range s.Positions[1:4] {
		if at%inch(.125) != 0 {
			t.Errorf("%s is no multiple of 1/8 in", at)
		}
	}
	if k.Hole.Length == 0 || k.Hole.Kind == "" || k.Hole.Direction != "across" || k.Support.Strip == 0 || k.Needle.NM == 0 || k.Thread.Tex == 0 || k.Stitch.Length == 0 {
		t.Errorf("not everything is worked out: %+v", k)
	}
	k = read(strings.NewReplacer(`"in"`, `"mm"`, "24", "610").Replace(smallest))
	for _, at := range k.Sizes[0].Positions[1:4] {
		if at%(5*mm) != 0 {
			t.Errorf("%s is no multiple of 5 mm", at)
		}
	}
	// R. Carr, Couture: D + 1/4 in, printed 6 mm in metric books: 31.4 mm, up to
	// whole 5 mm; and 100 mm in the place of 4 in.
	if z := k.Sizes[0]; z.First != 35*mm || z.Last != 100*mm {
		t.Errorf("first %s, last %s", z.First, z.Last)
	}
	// A small button needs more stand than its own width.
	k = read(strings.Replace(smallest, "horn-40", "polyester-14", 1))
	if k.Stand.Have != k.Stand.Usual || k.Stand.Have <= k.Stand.Full {
		t.Errorf("stand of a 14 ligne button: %s", k.Stand.Have)
	}
}
