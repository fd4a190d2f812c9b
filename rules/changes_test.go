package rules

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// proposedFor are the changes that a rule proposes for a garment, with what
// each costs.
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
			out[c.Says] = c.Cost
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
		{"spacing-clash", ends + "closure.front.run.gap.max=100 mm", map[string]float64{"let gaps be 80 mm (3 1/8 in) wider": 82, "use 7": 90}},
		// 85 are 17 steps.
		{"spacing-clash", ends + "closure.front.run.gap.max=95 mm", map[string]float64{"use 7": 90}},
		// Two gaps of 270.
		{"spacing-clash", ends + "closure.front.run.gap.min=200 mm", map[string]float64{"use 3": 10, "let gaps be 20 mm (13/16 in) narrower": 22}},
		// Of 4 or 5: seven at least, or gaps of 135.
		{"spacing-clash", ends + "closure.front.run.count={min=4,max=5}|closure.front.run.gap.max=100", map[string]float64{"use 4 to 7": 40, "let gaps be 35 mm (1 3/8 in) wider": 37}},
		// 180 in S and 135 in M; one more is 135 and 108.
		{"spacing-clash", `sizes.names=["S","M"]|` + ends + "closure.front.run.count={S=4,M=5}|closure.front.run.gap.max=150", map[string]float64{"use one more in every size": 10, "use two more in every size": 40, "let gaps be 30 mm (1 3/16 in) wider": 32}},
		// Three gaps of 179 from 30 to 567; of 177.5 to 562.5.
		{"spacing-clash", ends + "closure.front.run.last=33 mm|closure.front.run.gap={min=179,max=179}", map[string]float64{"mark to 1 mm (1/32 in)": 3}},
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
		{"rims-touch", ends + "closure.front.run.count=24", map[string]float64{"use 22": 40}},
		{"rims-touch", ends + "closure.front.run.count=30", map[string]float64{"use 22": 640}},
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
