package search

import (
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/trial"

	"github.com/google/go-cmp/cmp"
)

// A hem turned up after the try-on: the run is shorter, the first fastener
// stays and the last goes with the hem. Five centres from 2 to 22 in are 5 in
// apart; from 2 to 18 in they are 4 in apart (arithmetic).
func TestCompareHemMoved(t *testing.T) {
	text := `garment = "Quay coat (invented)"
units = "in"
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "horn-30"
over = ["shell", "shell"]
[closure.run]
length = 26
first = 2
last = 4
count = 5
`
	g := trial.Read(t, text)
	h, err := g.Alter(catalog.SetLength("closure.front.run.length", 22*measure.Inch, measure.In))
	if err != nil {
		t.Fatal(err)
	}
	d := Compare(rules.Plan(g), rules.Plan(h))
	inches := func(ls ...float64) []measure.Length {
		out := make([]measure.Length, len(ls))
		for i, l := range ls {
			out[i] = measure.Length(l * float64(in))
		}
		return out
	}
	want := []rules.Moved{{
		Closure: "front", Run: [2]measure.Length{26 * in, 22 * in}, Count: [2]int{5, 5},
		Stayed: []int{1}, Rows: []int{2, 3, 4, 5}, From: inches(7, 12, 17, 22), To: inches(6, 10, 14, 18),
	}}
	if diff := cmp.Diff(want, d.Moved); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if same := Compare(rules.Plan(g), rules.Plan(g)); len(same.Moved)+len(same.Gone)+len(same.Come) != 0 {
		t.Errorf("a plan differs from itself: %+v", same)
	}
}

// A button that the machine can sew a hole for settles its conflict, and only
// that; another closure's findings stay.
func TestCompareVerdicts(t *testing.T) {
	d := Compare(rules.Plan(demo(t, "watch-coat")), rules.Plan(demo(t, "watch-coat", "closure.front.use=quay-horn-36")))
	gone, come := only(d.Gone, "hole-machine"), only(d.Come, "hole-machine")
	if len(gone) != 1 || gone[0].Severity != rules.Conflict || len(come) != 1 || come[0].Severity != rules.Note {
		t.Errorf("gone %v, come %v", d.Gone, d.Come) // the note: the button passes, with less ease
	}
	for _, f := range append(d.Gone, d.Come...) {
		if f.Closure != "front" && f.Closure != "" {
			t.Errorf("%s on %s is said to have changed", f.Rule, f.Closure)
		}
	}
	if d.Before != rules.Conflict || d.After != rules.Conflict {
		t.Errorf("before %s, after %s: the needle is still wrong", d.Before, d.After)
	}
	d = Compare(rules.Plan(demo(t, "watch-coat")), rules.Plan(demo(t, "watch-coat", "closure.front.use=quay-horn-36", "closure.front.needle=100/16")))
	if d.After == rules.Conflict {
		t.Error("both conflicts are settled, but the verdict stays")
	}
}

// What comes and goes is what the plans have and have not, whatever the
// change.
func TestCompareIsADifference(t *testing.T) {
	for seed := uint64(20_000); seed < 20_000+uint64(many(60, 1000)); seed++ {
		g, _, _ := random(t, seed, 5)
		if g == nil {
			continue
		}
		h, err := g.Alter(catalog.Set("closure.front.run.count", 4), catalog.Set("cloth.shell.use", "duck-10"))
		if err != nil {
			continue
		}
		a, b := rules.Plan(g), rules.Plan(h)
		d := Compare(a, b)
		if len(a.Findings)-len(d.Gone) != len(b.Findings)-len(d.Come) {
			t.Errorf("seed %d: %d - %d and %d - %d findings are not the same number", seed, len(a.Findings), len(d.Gone), len(b.Findings), len(d.Come))
		}
		for _, m := range d.Moved {
			if len(m.Stayed)+len(m.Rows) != min(m.Count[0], m.Count[1]) {
				t.Errorf("seed %d: %+v does not tell of every row", seed, m)
			}
		}
	}
}

// Closures and sizes are told by name, in whatever order they stand: a file
// with its closures the other way round, one more of them and a size less
// moves nothing.
func TestCompareByName(t *testing.T) {
	closure := func(name string) string {
		return "[[closure]]\nname = \"" + name + "\"\nopening = \"" + name + "\"\nuse = \"horn-30\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = { SIZES }\nfirst = 2\nlast = 4\ncount = 5\n"
	}
	read := func(names, sizes string, closures ...string) *rules.Planned {
		text := "garment = \"Quay coat (invented)\"\nunits = \"in\"\n[sizes]\nnames = [" + names + "]\n[cloth.shell]\nuse = \"melton\"\n"
		for _, c := range closures {
			text += closure(c)
		}
		return rules.Plan(trial.Read(t, strings.ReplaceAll(text, "SIZES", sizes)))
	}
	a := read(`"S", "M", "L"`, "S = 26, M = 26, L = 22", "front", "back")
	b := read(`"M", "L"`, "M = 26, L = 22", "back", "side", "front")
	d := Compare(a, b)
	if len(d.Moved) > 0 {
		t.Errorf("moved: %+v", d.Moved)
	}
	got := [][]string{d.GoneClosures, d.ComeClosures, d.GoneSizes, d.ComeSizes}
	if diff := cmp.Diff([][]string{nil, {"side"}, {"S"}, nil}, got); diff != "" {
		t.Errorf("closures and sizes that went and came (-want +got):\n%s", diff)
	}
	// A size that only the new one has is none that has moved.
	d = Compare(rules.Plan(a.Garment), read(`"M", "XL"`, "M = 26, XL = 30", "front", "back"))
	if diff := cmp.Diff([][]string{{"S", "L"}, {"XL"}}, [][]string{d.GoneSizes, d.ComeSizes}); diff != "" || len(d.Moved) > 0 {
		t.Errorf("moved %+v, sizes that went and came (-want +got):\n%s", d.Moved, diff)
	}
	d = Compare(a, b)
	for _, f := range d.Come {
		if f.Closure != "side" && f.Closure != "" {
			t.Errorf("%s on %s came", f.Rule, f.Closure)
		}
	}
	for _, f := range d.Gone {
		if f.Size != "S" && f.Closure != "" {
			t.Errorf("%s on %s, size %s went", f.Rule, f.Closure, f.Size)
		}
	}
}
