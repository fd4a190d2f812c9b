package rules

import (
	"fmt"
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
		// 12.7 up to 13, and 24 + 6 where it is usual.
		{"first-high", "closure.front.run.first=10 mm", map[string]float64{"set the first 13 mm (9/16 in) below the top": 3.25, "set the first 30 mm (1 3/16 in) below the top": 8.5}},
		{"last-low", "closure.front.run.last=9 mm", map[string]float64{"set the last 13 mm (9/16 in) above the end": 3.25, "set the last 30 mm (1 3/16 in) above the end": 8.5}},
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
