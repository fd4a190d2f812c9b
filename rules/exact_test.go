package rules

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// The cylinder of 16 CFR 1501.4 is 1.25 in across and 1 to 2.25 in deep: what is
// as wide as it is no sure fit and no sure miss; a rod is too long where it is
// longer than the way through, the root of 31.75² + 57.15² = 65.4 mm, and fits for
// sure where it is no longer with its width than the cylinder is deep (geometry).
func TestGaugeAtItsEnds(t *testing.T) {
	const nm = measure.Length(1)
	bore, shallow, deep := measure.Inch*5/4, measure.Length(measure.Inch), measure.Inch*9/4
	for _, c := range []struct {
		what      string
		got, want Gauge
	}{
		{"a disc under the bore", GaugeDisc(bore-nm, shallow), GaugeFits},
		{"a disc under the bore, too thick", GaugeDisc(bore-nm, shallow+nm), GaugeTry},
		{"a disc of the bore", GaugeDisc(bore, mm), GaugeTry},
		{"a disc over the bore", GaugeDisc(bore+nm, mm), GaugeNo},
		{"a rod of the depth", GaugeRod(deep-5*mm, 5*mm), GaugeFits},
		{"a rod over the depth", GaugeRod(deep-5*mm+nm, 5*mm), GaugeTry},
		{"a rod as long as the way through", GaugeRod(65400*measure.Micrometre, mm), GaugeTry},
		{"a longer one", GaugeRod(65400*measure.Micrometre+nm, mm), GaugeNo},
		{"a rod as thick as the bore", GaugeRod(30*mm, bore), GaugeTry},
		{"a thicker one", GaugeRod(30*mm, bore+nm), GaugeNo},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, want %d", c.what, c.got, c.want)
		}
	}
}

// A line of 70 columns is printed as it is; one of 71 is not.
func TestLinesAsLongAsTheScreen(t *testing.T) {
	r := Find("hole-short")
	for n, kept := range map[int]bool{LineWidth: true, LineWidth + 1: false} {
		says := strings.Repeat("a", n)
		short := Finding{Rule: r.Name, format: "longer words: " + says, short: says}
		whole := Finding{Rule: r.Name, format: says}
		for what, f := range map[string]*Finding{"its line": &short, "its message": &whole} {
			if line, _ := r.Say(f, measure.MM); (line == says) != kept || text.Width(line) > LineWidth {
				t.Errorf("%s of %d columns: %q", what, n, line)
			}
		}
	}
}

// A rule without anything that its conflicts rest on is by no file.
func TestByFile(t *testing.T) {
	for _, r := range Rules() {
		if r.ByFile() != (len(r.Rests) > 0 && r.Rests[0] == FileSays) {
			t.Errorf("%s", r.Name)
		}
	}
}

// Between n holes there are n − 1 places for a tack.
func TestTacksOfAFly(t *testing.T) {
	counts := regexp.MustCompile(`([0-9]+|one|two|three|four|five) tacks? on ([0-9]+|one|two|three|four|five) holes?`)
	for n := 2; n <= 6; n++ {
		g, err := edgeGarment(edgeCoat, "closure.front.stand.construction=fly|closure.front.stand.finished=30 mm|closure.front.run.count=@", strconv.Itoa(n))
		if err != nil {
			t.Fatal(err)
		}
		got := counts.FindStringSubmatch(strings.Join(says(g, "fly-front", Note), "\n"))
		if got == nil {
			t.Fatalf("no tacks with %d holes: %q", n, says(g, "fly-front", Note))
		}
		if got[1] != strconv.Itoa(n-1) || got[2] != strconv.Itoa(n) {
			t.Errorf("%d holes: %q", n, got[0])
		}
	}
	g, err := edgeGarment(edgeCoat, "closure.front.stand.construction=fly|closure.front.stand.finished=30 mm|closure.front.run.count=@", "1")
	if err == nil {
		if got := strings.Join(says(g, "fly-front", Note), "\n"); counts.MatchString(got) {
			t.Errorf("one hole: %q", got)
		}
	}
}

// What is just as long, as wide or as large as the limit may be proposed: "no
// longer than" lets it through, and a notion of the same size in another make too.
func TestWhatJustFitsIsProposed(t *testing.T) {
	g, err := edgeGarment(edgeCoat, "closure.front.use=horn-40|closure.front.notion=", "")
	if err != nil {
		t.Fatal(err)
	}
	p := Plan(g)
	x := &Context{G: g, P: p, U: g.Units, C: &g.Closures[0], K: &p.Closures[0]}
	now := plan.ShapeOf(&x.C.Notion)
	offers := func(cs []Change, name string) bool {
		for _, c := range cs {
			for _, w := range c.With {
				if strings.Contains(w.String(), `"`+name+`"`) || strings.HasSuffix(w.String(), "="+name) {
					return true
				}
			}
		}
		return false
	}
	fit, same := 0, 0
	for _, n := range g.Catalog.Notions {
		s := plan.ShapeOf(n)
		if n.Kind != x.C.Notion.Kind || n.Name == x.C.Notion.Name || s.Across() > now.Across() || s.Passing() > now.Passing() {
			continue
		}
		if s.Across() == now.Across() || s.Passing() == now.Passing() {
			same++
		}
		for what, cs := range map[string][]Change{"it passes": proposeFitting(x, s.Passing(), 0), "it needs a stand": proposeFitting(x, 0, s.StandLeast())} {
			switch {
			case offers(cs, n.Name):
				fit++
			case len(cs) < 8:
				t.Errorf("%s, where %s no more than that: not among %d", n.Name, what, len(cs))
			}
		}
	}
	if fit < 10 || same == 0 {
		t.Errorf("only %d fit, %d of the same size", fit, same)
	}
}

// A band narrower than twice the least stand is drafted for that: 24 ÷ 2 + 3 to
// the edge, so a band of 30; half of it, the band, 10 turned under and two folds of
// 1 mm round 0.5 are 57.5, to a mark 58.
func TestANarrowBandIsDraftedForItsStand(t *testing.T) {
	got := proposedFor(t, "band-extension", edgeCoat, "closure.front.stand.construction=folded|closure.front.stand.band=20 mm|closure.front.stand.turn_under=10 mm|closure.front.stand.extension=30 mm")
	found := false
	for says := range got {
		found = found || strings.Contains(says, "58 mm")
	}
	if !found {
		t.Errorf("58 mm is not among %v", got)
	}
}
