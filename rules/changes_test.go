package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"

	"github.com/google/go-cmp/cmp"
)

// proposedFor are the changes that a rule proposes for a garment, with what
// each costs at least.
func proposedFor(t *testing.T, rule, base, with string) map[string]float64 {
	t.Helper()
	g, err := edgeGarment(base, with, "")
	if err != nil {
		t.Fatalf("%s: %s: %v", rule, with, err)
	}
	p := Plan(g)
	out := map[string]float64{}
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Rule != rule {
			continue
		}
		x := Context{G: g, P: p, U: g.Units, Rule: Find(rule), Size: f.Size}
		for i := range p.Closures {
			if p.Closures[i].Closure.Name == f.Closure {
				x.C, x.K = p.Closures[i].Closure, &p.Closures[i]
			}
		}
		for _, c := range Find(rule).Propose(&x, f) {
			if cost, twice := out[c.Says]; !twice || c.Cost < cost {
				out[c.Says] = c.Cost
			}
		}
	}
	return out
}

// What is proposed for a run is found by hand: what must move, by how much, and
// what it costs, ours: a count the square of how many times 10, a marking step 2
// or 3, gaps 2 and the millimetres, an end 3, an anchor 4, an end that is too near
// a quarter of where it goes. A limit is moved 16 steps at most. The run is 600 mm,
// of four, the first and last at 30 mm where nothing is said: 540 mm between.
func TestChangesOfARun(t *testing.T) {
	const ends = "closure.front.run.first=30 mm|closure.front.run.last=30 mm|closure.front.run.step=5 mm|"
	for _, c := range []struct {
		rule, with string
		want       map[string]float64
	}{
		// Three gaps of 180 are 80 over, six of 90 go.
		{"spacing-clash", ends + "closure.front.run.gap.max=100 mm", map[string]float64{"let gaps be 80 mm (3 1/8 in) wider": 82, "use 7 buttons": 90}},
		// 85 are 17 steps.
		{"spacing-clash", ends + "closure.front.run.gap.max=95 mm", map[string]float64{"use 7 buttons": 90}},
		// Two gaps of 270.
		{"spacing-clash", ends + "closure.front.run.gap.min=200 mm", map[string]float64{"use 3 buttons": 10, "let gaps be 20 mm (13/16 in) narrower": 22}},
		// One run for all sizes is one question.
		{"spacing-clash", `sizes.names=["S","M"]|` + ends + "closure.front.run.gap.min=200 mm", map[string]float64{"use 3 buttons": 10, "let gaps be 20 mm (13/16 in) narrower": 22}},
		// 135 in M; one fewer has 180, two fewer 270.
		{"spacing-clash", `sizes.names=["S","M"]|` + ends + "closure.front.run.count={S=4,M=5}|closure.front.run.gap.min=170", map[string]float64{"use one fewer in every size": 10, "use two fewer in every size": 40, "let gaps be 35 mm (1 3/8 in) narrower": 37}},
		// Three gaps of 178.75 from 30 to 566.25: the quarter of 5.
		{"spacing-clash", ends + "closure.front.run.last=33.75 mm|closure.front.run.gap={min=178.75,max=178.75}", map[string]float64{"mark to 1.25 mm (1/16 in)": 2}},
		// Of 30 and 570 none lies near 300: a third does, and nothing else within 16 steps.
		{"spacing-clash", ends + `closure.front.run.count=2|closure.front.run.anchor=[{name="bust",at=300,within=10}]`, map[string]float64{"use 3 buttons": 10}},
		// The first lies at 30, 10 above the anchor's leeway.
		{"spacing-clash", ends + `closure.front.run.anchor=[{name="bust",at=50,within=10}]|closure.front.run.gap.min=140`, map[string]float64{
			"set the first 10 mm (13/32 in) farther from the top": 13, "let bust be 10 mm (13/32 in) farther from a fastener": 14, "move bust 10 mm (13/32 in) higher": 14}},
		// Of 4 or 5: seven at least, or gaps of 135.
		{"spacing-clash", ends + "closure.front.run.count={min=4,max=5}|closure.front.run.gap.max=100", map[string]float64{"use 4 to 7 buttons": 40, "let gaps be 35 mm (1 3/8 in) wider": 37}},
		// 180 in S and 135 in M; one more is 135 and 108.
		{"spacing-clash", `sizes.names=["S","M"]|` + ends + "closure.front.run.count={S=4,M=5}|closure.front.run.gap.max=150", map[string]float64{"use one more in every size": 10, "use two more in every size": 40, "let gaps be 30 mm (1 3/16 in) wider": 32}},
		// Three gaps of 179 from 30 to 567; of 177.5 to 562.5.
		{"spacing-clash", ends + "closure.front.run.last=33 mm|closure.front.run.gap={min=179,max=179}", map[string]float64{"mark to 1 mm (1/32 in)": 2}},
		{"spacing-clash", ends + "closure.front.run.last=37.5 mm|closure.front.run.gap={min=177.5,max=177.5}", map[string]float64{"mark to 2.5 mm (3/32 in)": 2}},
		// 525 where 540 are asked for: 15 at either end, or gaps of 175 all three.
		{"spacing-clash", ends + "closure.front.run.last=45 mm|closure.front.run.gap={min=180,max=180}", map[string]float64{"set the first 15 mm (9/16 in) nearer the top": 18, "set the last 15 mm (9/16 in) nearer the end": 18, "let gaps be 5 mm (3/16 in) narrower": 7}},
		// 20: the first would lie at 10, less than 1/2 in.
		{"spacing-clash", ends + "closure.front.run.last=50 mm|closure.front.run.gap={min=180,max=180}", map[string]float64{"set the last 20 mm (13/16 in) nearer the end": 23, "let gaps be 10 mm (13/32 in) narrower": 12}},
		// The second lies at 170 at the nearest, the anchor to 160.
		{"spacing-clash", ends + `closure.front.run.anchor=[{name="bust",at=150,within=10}]|closure.front.run.gap.min=140`, map[string]float64{
			"let gaps be 10 mm (13/32 in) narrower": 12, "set the first 10 mm (13/32 in) nearer the top": 13,
			"let bust be 10 mm (13/32 in) farther from a fastener": 14, "move bust 10 mm (13/32 in) lower": 14}},
		// At 205 and 45 off: farther than the anchor's own leeway, so it is not moved.
		{"spacing-clash", ends + `closure.front.run.anchor=[{name="bust",at=150,within=10}]|closure.front.run.gap.min=175`, map[string]float64{
			"let gaps be 45 mm (1 3/4 in) narrower": 47, "let bust be 45 mm (1 3/4 in) farther from a fastener": 49}},
		// 200 are the most of a file.
		{"spacing-clash", ends + "closure.front.run.length=1055|closure.front.run.count=180|closure.front.run.gap.max=5", map[string]float64{"use 200 buttons": 4000, "let gaps be 5 mm (3/16 in) wider": 7}},
		{"spacing-clash", ends + "closure.front.run.length=1060|closure.front.run.count=180|closure.front.run.gap.max=5", map[string]float64{"let gaps be 5 mm (3/16 in) wider": 7}},
		// One fewer of 1 is none.
		{"spacing-clash", `sizes.names=["S","M"]|closure.front.run.count={S=1,M=3}|closure.front.run.gap.min=320`, map[string]float64{}},
		// Two at 20 of 40 lie on each other, for a gap of 0 is none: it is one.
		{"spacing-clash", "closure.front.run.first=20 mm|closure.front.run.last=20 mm|closure.front.run.length=40 mm|closure.front.run.count=2|closure.front.run.step=20 mm|closure.front.run.gap.min=20", map[string]float64{"use 1 button": 10}},
		// A gap of 4 would have 80 taken off a least of 80, which is none.
		{"spacing-clash", ends + "closure.front.run.length=64|closure.front.run.count=2|closure.front.run.gap.min=80", map[string]float64{}},
		// The first 15 nearer is half a button of 30 below the top.
		{"spacing-clash", ends + "closure.front.notion.diameter=30 mm|closure.front.run.last=45 mm|closure.front.run.gap={min=180,max=180}", map[string]float64{"set the first 15 mm (9/16 in) nearer the top": 18, "set the last 15 mm (9/16 in) nearer the end": 18, "let gaps be 5 mm (3/16 in) narrower": 7}},
		{"spacing-clash", ends + "closure.front.notion.diameter=30.1 mm|closure.front.run.last=45 mm|closure.front.run.gap={min=180,max=180}", map[string]float64{"set the last 15 mm (9/16 in) nearer the end": 18, "let gaps be 5 mm (3/16 in) narrower": 7}},
		// M has none from 90 to 110: its anchor 10 higher would put that of S on the edge.
		{"spacing-clash", `sizes.names=["S","M"]|` + ends + `closure.front.run.first={S="10 mm",M="80 mm"}|closure.front.run.anchor=[{name="bust",at={S=10,M=100},within=10}]|closure.front.run.gap.min=140`, map[string]float64{
			"set the first 10 mm (13/32 in) farther from the top": 13, "let bust be 10 mm (13/32 in) farther from a fastener": 14}},
		{"spacing-clash", `sizes.names=["M","S"]|` + ends + `closure.front.run.first={S="10 mm",M="80 mm"}|closure.front.run.anchor=[{name="bust",at={S=10,M=100},within=10}]|closure.front.run.gap.min=140`, map[string]float64{
			"set the first 10 mm (13/32 in) farther from the top": 13, "let bust be 10 mm (13/32 in) farther from a fastener": 14}},
		// A cloth without a repeat has no step of its own: 85 are 17 of 5.
		{"spacing-clash", "closure.front.run.first=30 mm|closure.front.run.last=30 mm|closure.front.run.match=shell|closure.front.run.gap.max=95 mm", map[string]float64{"use 7 buttons": 90}},
		// What gave way of its own accord is kept by writing it down.
		{"ends-moved", "cloth.shell.repeat.along=84 mm|closure.front.run.match=shell|closure.front.run.length=565 mm|closure.front.run.first=45 mm|closure.front.run.last=100 mm|closure.front.run.count=6", map[string]float64{"keep the step where it is": 1}},
		// Half a button of 40, and 40 + 6 up to whole 5 mm.
		{"first-high", "closure.front.notion.diameter=40 mm|closure.front.run.first=10 mm", map[string]float64{"set the first 20 mm (13/16 in) below the top": 5, "set the first 50 mm (2 in) below the top": 13.5}},
		{"last-low", "closure.front.notion.diameter=40 mm|closure.front.direction=across|closure.front.run.last=10 mm", map[string]float64{"set the last 20 mm (13/16 in) above the end": 5, "set the last 50 mm (2 in) above the end": 13.5}},
		// 12.7 up to 13, and 24 + 6 where it is usual.
		{"first-high", "closure.front.run.first=10 mm", map[string]float64{"set the first 13 mm (9/16 in) below the top": 3.25, "set the first 30 mm (1 3/16 in) below the top": 8.5}},
		{"last-low", "closure.front.run.last=9 mm", map[string]float64{"set the last 13 mm (9/16 in) above the end": 3.25, "set the last 30 mm (1 3/16 in) above the end": 8.5}},
		// Holes along of 28 and their bars reach 26.4125 down, rims 12 up, 38.4125 from one to
		// the next: thirteen gaps of 40 and 45 do.
		{"rims-touch", ends + along + "|closure.front.hole_length=28 mm|closure.front.run.count=17", map[string]float64{"use 14 buttons": 90, "set the holes across": 12}},
		// 22 buttons of 24 in 540: 21 gaps of 25 and more; 23 would have 24.5, in steps of
		// 5 mm some of 20.
		{"rims-touch", ends + "closure.front.run.count=24", map[string]float64{"use 22 buttons": 40}},
		{"rims-touch", ends + "closure.front.run.count=30", map[string]float64{"use 22 buttons": 640}},
	} {
		got := proposedFor(t, c.rule, edgeCoat, c.with)
		for says := range got {
			if strings.HasPrefix(says, "use ") && strings.Contains(says, "-") {
				delete(got, says) // another button, from the catalogue
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s, %s (-by hand +proposed):\n%s", c.rule, c.with, diff)
		}
	}
}

// Another fastener of the catalogue costs twice the difference in width and that
// of what passes, 8 more where it is of another make, and 8 more of metal where the
// old one is none, ours; the nearest come first, and none that would do is passed over for one that is farther.
func TestOtherNotionsAreTheNearest(t *testing.T) {
	g, err := edgeGarment(edgeCoat, "closure.front.use=horn-36|closure.front.notion=", "")
	if err != nil {
		t.Fatal(err)
	}
	p := Plan(g)
	x := &Context{G: g, P: p, U: g.Units, C: &g.Closures[0], K: &p.Closures[0]}
	now := plan.ShapeOf(&x.C.Notion)
	smaller := func(s plan.Shape) bool {
		return s.Across() <= now.Across() && s.Passing() <= now.Passing() && (s.Across() < now.Across() || s.Passing() < now.Passing())
	}
	for _, c := range []struct {
		name string
		most int
		out  []Change
		will func(plan.Shape) bool
	}{
		{"smaller", 12, proposeSmaller(x, &Finding{}), smaller},
		{"that pass 24", 8, proposeFitting(x, 24*mm, 0), func(s plan.Shape) bool {
			return s.Across() <= now.Across() && s.Passing() <= now.Passing() && s.Passing() <= 24*mm
		}},
		{"on a stand of 12", 8, proposeFitting(x, 0, 12*mm), func(s plan.Shape) bool {
			return s.Across() <= now.Across() && s.Passing() <= now.Passing() && s.StandLeast() <= 12*mm
		}},
	} {
		if len(c.out) != c.most {
			t.Errorf("%s: %d, want %d", c.name, len(c.out), c.most)
		}
		costs := map[string]float64{}
		for _, n := range g.Catalog.Notions {
			if s := plan.ShapeOf(n); n.Kind == catalog.Button && n.Name != "horn-36" && c.will(s) {
				cost := 2*(now.Across()-s.Across()).Abs().MM() + (now.Passing() - s.Passing()).Abs().MM()
				if !strings.HasPrefix(n.Name, "horn-") || strings.Count(n.Name, "-") > 1 {
					cost += 8
				}
				if n.Material == "brass" || n.Material == "metal" || n.Material == "copper alloy" {
					cost += 8
				}
				costs[n.Name] = cost
			}
		}
		for i, o := range c.out {
			name := strings.TrimPrefix(o.Says, "use ")
			if want, is := costs[name]; !is || want-o.Cost > 1e-9 || o.Cost-want > 1e-9 {
				t.Errorf("%s: %s costs %v, want %v", c.name, name, o.Cost, want)
			}
			if i > 0 && c.out[i-1].Cost > o.Cost {
				t.Errorf("%s: %s before %s", c.name, c.out[i-1].Says, o.Says)
			}
			delete(costs, name)
		}
		for name, cost := range costs {
			if cost < c.out[len(c.out)-1].Cost {
				t.Errorf("%s: %s, which costs %v, is passed over", c.name, name, cost)
			}
		}
	}
}

// Heats of resins where the product does not say, °C: an interfacing maker's
// table. Against a cloth that stands 150 °C (two dots, ISO 3758): a caution from
// 10 below it, a conflict from 5 over it, ours.
func TestHeatsOfResins(t *testing.T) {
	for resin, want := range map[string][2]measure.Temperature{
		"polyamide": {135, 135}, "polyester": {125, 125}, "hdpe": {155, 165}, "polyvinyl acetate": {100, 100}, "": {120, 165},
	} {
		if lo, hi := FuseRange(&catalog.Interfacing{Resin: resin}); lo != want[0] || hi != want[1] {
			t.Errorf("%s: %v to %v, want %v", resin, lo, hi, want)
		}
	}
	wool := plan.Limit{Fibre: "wool", Symbol: 150, Main: 150, MainOther: 150}
	for heat, want := range map[measure.Temperature]string{139: "", 140: "caution", 154: "caution", 155: "conflict"} {
		sev, is := FuseHeat(heat, wool)
		if got := sev.String(); is && got != want || is != (want != "") {
			t.Errorf("%v °C on wool: %s, told %v", heat, got, is)
		}
	}
	if sev, is := FuseHeat(135, plan.Limit{}); sev != Note || !is {
		t.Error("of an unknown fibre nothing is told")
	}
}

// What shrinks more is named, and of two alike the interfacing.
func TestWhatShrinksIsNamed(t *testing.T) {
	for _, c := range []struct {
		cloth, in float64
		key       string
	}{{5, 1, "cloth.shell.shrink"}, {1, 5, "interfacing.in.shrink"}} {
		g, err := edgeGarment(edgeCoat, fmt.Sprintf("cloth.shell.shrink=%g|interfacing.in.shrink=%g", c.cloth, c.in), "")
		if err != nil {
			t.Fatal(err)
		}
		p := Plan(g)
		n := 0
		for i := range p.Findings {
			if f := &p.Findings[i]; f.Rule == "shrink-apart" {
				if n++; f.Path() != c.key {
					t.Errorf("%+v: at %s", c, f.Path())
				}
			}
		}
		if n != 1 {
			t.Errorf("%+v: %d findings", c, n)
		}
	}
}

// A finding's own line holds 70 columns, and not one more.
func TestLineOfSeventy(t *testing.T) {
	if LineWidth != 70 {
		t.Errorf("%d columns", LineWidth)
	}
}

// The last hole along the edge clears a hem of 40: 40 + 24.825 + 1.5875 below the
// button and 9.525 above the turn-up (from memory) are 75.9375, up to whole mm;
// a quarter of it is what that costs.
func TestLastAboveTheHem(t *testing.T) {
	got := proposedFor(t, "last-low", edgeCoat, along+"|closure.front.hole_length=28 mm|closure.front.run.hem=40 mm|closure.front.run.last=70 mm")
	if got["set the last 76 mm (3 in) above the end"] != 19 {
		t.Errorf("%v", got)
	}
}

// Where the gaps of a matched run skip a stripe, what makes them even is the count
// that fits, 10, an end moved to the next place, a quarter of the way, and no match,
// 30; ours. The first and last at 60 of 600, eight repeats of 60 in three gaps: 180,
// 180 and 120.
func TestChangesOfASkippedStripe(t *testing.T) {
	const run = "cloth.shell.repeat.along=60 mm|closure.front.run.match=shell|closure.front.run.first=60 mm|closure.front.run.step=5 mm|"
	const leave = "let the gaps leave the repeat of shell"
	// Three of 120 end 180 above the end, or begin 180 below the top; of three of 180
	// nothing is left of either.
	by := func(key string) string { return "move the " + key + " so that all gaps are of as many repeats" }
	moved := map[string]float64{"use 3 buttons": 10, "use 5 buttons": 10, by("last"): 30, by("first"): 30, leave: 30}
	for with, want := range map[string]map[string]float64{
		"closure.front.run.last=60 mm":                           moved,
		"closure.front.run.last=60 mm|closure.front.run.group=1": moved,
		// Pairs 30 apart, of which the last begins 60 above the end; another count of
		// them is not offered.
		"closure.front.run.last=30 mm|closure.front.run.count=8|closure.front.run.group=2|closure.front.run.group_gap=30 mm": {by("last"): 30, by("first"): 30, leave: 30},
		// One alone has no gap to make even by moving an end.
		`sizes.names=["S","M"]|closure.front.run.count={S=1,M=4}|closure.front.run.last={S="540 mm",M="60 mm"}`: {"use 3 buttons": 10, "use 5 buttons": 10, leave: 30},
		// In 660 M has three gaps of 180, of four buttons, and stays.
		`sizes.names=["S","M"]|closure.front.run.length={S="600 mm",M="660 mm"}|closure.front.run.last=60 mm`: {"use 3 buttons": 10, "use 5 buttons": 10, "use 4 buttons": 10, by("last"): 30, by("first"): 30, leave: 30},
	} {
		if diff := cmp.Diff(want, proposedFor(t, "gaps-uneven", edgeCoat, run+with)); diff != "" {
			t.Errorf("%s (-by hand +proposed):\n%s", with, diff)
		}
	}
	for with, want := range map[string]string{
		"": "closure.front.run.last=180 mm", `sizes.names=["S","M"]|closure.front.run.length={S="600 mm",M="660 mm"}|`: `closure.front.run.last={ M = "60 mm", S = "180 mm" }`,
	} {
		x := costsOf(t, edgeCoat, with+run+"closure.front.run.last=60 mm")
		cs := proposeEven(x, &Finding{Severity: Caution})
		if i := slices.IndexFunc(cs, func(c Change) bool { return c.Says == by("last") }); i == -1 || len(cs[i].With) != 1 || cs[i].With[0].String() != want {
			t.Errorf("%s: %v, want %s", with, cs, want)
		}
	}
}

// What a skipped gap lies between is named: buttons, or groups of more than one.
func TestSkippedGapsAreNamed(t *testing.T) {
	const run = "cloth.shell.repeat.along=60 mm|closure.front.run.match=shell|closure.front.run.first=60 mm|closure.front.run.step=5 mm|closure.front.run."
	for with, want := range map[string]string{
		"last=60 mm|closure.front.run.group=1": "between button 1 and 2",
		"last=30 mm|closure.front.run.count=8|closure.front.run.group=2|closure.front.run.group_gap=30": "between group 1 and 2",
	} {
		g, err := edgeGarment(edgeCoat, run+with, "")
		if err != nil {
			t.Fatal(err)
		}
		if got := says(g, "gaps-uneven", Caution); len(got) != 1 || !strings.Contains(got[0], want) {
			t.Errorf("%s: %q, want %q", with, got, want)
		}
	}
}

// Where a run of 600 meets its repeat of 150: one end moves to the nearest place on
// either side, no nearer its end than half a button of 30; 3 and a quarter of the
// millimetres, 1 more at the neck, 1 more for a range, 2 for another step; ours. Four
// buttons span 450.
func TestChangesOfARepeat(t *testing.T) {
	const run = "cloth.shell.repeat.along=150 mm|closure.front.run.match=shell|closure.front.notion.diameter=@ mm|closure.front.run."
	const leave = "let the gaps leave the repeat of shell"
	for _, c := range []struct {
		size, with string
		want       map[string]float64
	}{
		{"30", "step=5 mm|closure.front.run.first=135 mm|closure.front.run.last=40 mm", map[string]float64{
			"set the last 15 mm above the end, on the repeat": 9.25, "set the first 110 mm below the top, on the repeat": 10.25, leave: 30}},
		{"30.1", "step=5 mm|closure.front.run.first=135 mm|closure.front.run.last=40 mm", map[string]float64{
			"set the first 110 mm below the top, on the repeat": 10.25, leave: 30}},
		{"30", "step=5 mm|closure.front.run.first=40 mm|closure.front.run.last=135 mm", map[string]float64{
			"set the first 15 mm below the top, on the repeat": 10.25, "set the last 110 mm above the end, on the repeat": 9.25, leave: 30}},
		{"30.1", "step=5 mm|closure.front.run.first=40 mm|closure.front.run.last=135 mm", map[string]float64{
			"set the last 110 mm above the end, on the repeat": 9.25, leave: 30}},
		// A last of 30 to 40 lies 15 off, as the first does from 570.
		{"30", `step=5 mm|closure.front.run.first=135 mm|closure.front.run.last={min="30 mm",max="40 mm"}`, map[string]float64{
			"let the last lie 15 mm to 40 mm above the end, on the repeat": 6.75, "set the first 120 mm below the top, on the repeat": 7.75, leave: 30}},
		{"30", `step=5 mm|closure.front.run.first={min="30 mm",max="40 mm"}|closure.front.run.last=135 mm`, map[string]float64{
			"let the first lie 15 mm to 40 mm below the top, on the repeat": 7.75, "set the last 120 mm above the end, on the repeat": 6.75, leave: 30}},
		// 430 and 410 are no steps of 20.
		{"24", "step=20 mm|closure.front.run.first=130 mm|closure.front.run.last=40 mm", map[string]float64{
			"set the last 20 mm above the end, on the repeat, marked to 10 mm": 10, "set the first 110 mm below the top, on the repeat, marked to 10 mm": 11, leave: 30}},
		// Stripes at 20 and 470: 10 and 90 off.
		{"24", "step=5 mm|closure.front.run.phase=20 mm|closure.front.run.first=30 mm|closure.front.run.last=40 mm", map[string]float64{
			"set the first 20 mm below the top, set the last 130 mm above the end, on the repeat": 29, leave: 30}},
		// Three to six: three repeats end at 480, 60 off in 600 and 110 off in 650, or begin
		// at 90 and at 140.
		{"24", `step=5 mm|sizes.names=["S","M"]|closure.front.run.length={S="600 mm",M="650 mm"}|closure.front.run.count={min=3,max=6}|closure.front.run.first=30 mm|closure.front.run.last=60 mm`, map[string]float64{
			"set the last 120 mm to 170 mm above the end, by size, on the repeat": 30.5, "let the last lie 60 mm to 170 mm above the end, on the repeat": 31.5,
			"set the first 90 mm to 140 mm below the top, by size, on the repeat": 31.5, leave: 30}},
		// A range by size is not moved: from 535 and 585 the first begins 85 and 135 below.
		{"24", `step=5 mm|sizes.names=["S","M"]|closure.front.run.length={S="600 mm",M="650 mm"}|closure.front.run.count={min=3,max=6}|closure.front.run.first=30 mm|closure.front.run.last={min={S="60 mm",M="60 mm"},max={S="65 mm",M="65 mm"}}`, map[string]float64{
			"set the first 85 mm to 135 mm below the top, by size, on the repeat": 30.25, leave: 30}},
	} {
		got := proposedFor(t, "spacing-clash", edgeCoat, strings.ReplaceAll(run+c.with, "@", c.size))
		for says := range got {
			if strings.HasPrefix(says, "use ") && strings.Contains(says, "-") {
				delete(got, says)
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("a button of %s, %s (-by hand +proposed):\n%s", c.size, c.with, diff)
		}
	}
}
