package rules

import (
	"math"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
	"placketeer/spacing"
)

// A clash is named by its settings where they take no more than a line.
func TestClashLineAsLongAsTheScreen(t *testing.T) {
	x := &Context{C: &catalog.Closure{}}
	for _, c := range []struct {
		long int
		want string
	}{{LineWidth, ""}, {LineWidth + 1, "2 settings of the run cannot hold together"}} {
		p := &spacing.Problem{Anchors: []spacing.Anchor{{Name: "bust"}, {Name: ""}}}
		whole := "anchor bust and anchor  cannot hold together"
		p.Anchors[1].Name = strings.Repeat("a", c.long-len(whole))
		want := c.want
		if want == "" {
			want = "anchor bust and anchor " + p.Anchors[1].Name + " cannot hold together"
		}
		clash := &spacing.Clash{Constraints: []spacing.Constraint{{Kind: spacing.KindAnchor}, {Kind: spacing.KindAnchor, Index: 1}}}
		if got := x.clashLine(clash, p); got != want || text.Width(got) > LineWidth {
			t.Errorf("%d columns: %q, want %q", c.long, got, want)
		}
	}
}

// An end at the top is 0 below it, one that does not fit above it.
func TestWindowsInWords(t *testing.T) {
	x := &Context{U: measure.MM.Alone()}
	for want, w := range map[string]spacing.Window{
		"0 mm":                        spacing.At(0),
		"5 mm above the top":          spacing.At(-5 * mm),
		"0 mm to 5 mm":                {Max: 5 * mm},
		"5 mm above the top to 10 mm": {Min: -5 * mm, Max: 10 * mm},
		"5 mm above the top to 0 mm":  {Min: -5 * mm},
		"10 mm to 12 mm":              {Min: 10 * mm, Max: 12 * mm},
	} {
		if got := x.window(w); got != want {
			t.Errorf("%v: %q, want %q", w, got, want)
		}
	}
}

// The least of an end names its key where the run has room for it and for the other
// end: 12.7, which is printed as 13 at most, and 587 are 600.
func TestEndsThatTheRunHasRoomFor(t *testing.T) {
	for last, named := range map[string]bool{"587": true, "587.01": false} {
		x := costsOf(t, edgeCoat, "closure.front.run.count=1|closure.front.run.first={min=\"5 mm\",max=\"12 mm\"}|closure.front.run.last="+last+" mm")
		_, is := x.endAt(x.Least(plan.EndLeast), "first", &x.K.Sizes[0]).(bounded)
		if is != named {
			t.Errorf("before a last of %s: named %v", last, is)
		}
	}
}

// The least gap names its key where the file sets no most, nor groups of more than one.
func TestLeastGapsAreNamed(t *testing.T) {
	for with, named := range map[string]bool{
		"closure.front.run.count=4":                                true,
		"closure.front.run.group=1":                                true,
		"closure.front.run.group=2|closure.front.run.group_gap=30": false,
		"closure.front.run.gap.max=200":                            false,
	} {
		x := costsOf(t, edgeCoat, with)
		if _, is := x.gapLeast(x.Least(30 * mm)).(bounded); is != named {
			t.Errorf("%s: named %v", with, is)
		}
	}
}

// On a front whose hem lies below the hip the last lies 1.5 gaps above it, or 4 in,
// whichever is less, and the note says which.
func TestWhichLegRoomDecides(t *testing.T) {
	for with, want := range map[string]string{
		// Gaps of 60, and of (600 − 30 − 90) ÷ 3 = 160.
		"closure.front.run.length=415 mm|closure.front.run.count=6|closure.front.run.last=85 mm": "nearer than 1.5 gaps, 90 mm",
		"closure.front.run.last=90 mm": "nearer than what leaves leg room, 100 mm",
	} {
		g, err := edgeGarment(edgeCoat, across+"|hem_at=knee|closure.front.run.first=30 mm|closure.front.run.step=0.1 mm|"+with, "")
		if err != nil {
			t.Fatal(err)
		}
		if got := says(g, "last-low", Note); len(got) != 1 || !strings.Contains(got[0], want) {
			t.Errorf("%s: %q, want %q", with, got, want)
		}
	}
}

// A change to a run is tried where its ends stay on it, at its very ends too, and as
// long as there are places left to try.
func TestChangesKeepToTheRun(t *testing.T) {
	p := spacing.Problem{Run: 600 * mm, Step: 5 * mm, CountMin: 4, CountMax: 4, First: spacing.At(30 * mm), Last: spacing.At(570 * mm)}
	ends := func(first, last measure.Length) func(*spacing.Problem) {
		return func(p *spacing.Problem) { p.First, p.Last = spacing.At(first), spacing.At(last) }
	}
	for _, c := range []struct {
		first, last measure.Length
		tried       int
		holds       bool
	}{
		{30 * mm, 570 * mm, 0, true}, {0, 570 * mm, 0, true}, {-1, 570 * mm, 0, false}, {30 * mm, 600 * mm, 0, true}, {30 * mm, 600*mm + 1, 0, false},
		{30 * mm, 570 * mm, runTries / 2, true}, {30 * mm, 570 * mm, runTries, false},
	} {
		r := runChanges{x: &Context{}, problems: []spacing.Problem{p}, tried: c.tried}
		if got := r.holds(ends(c.first, c.last)); got != c.holds {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// A fastener on the line of a zone does not lie above it; of two as near to an anchor
// it is the upper that stands there; and a name of 16 letters is short enough.
func TestWordsOfARow(t *testing.T) {
	places := []measure.Length{10 * mm, 20 * mm, 30 * mm}
	for line, want := range map[measure.Length][2]int{0: {0, 0}, 10 * mm: {0, 0}, 10*mm + 1: {1, 0}, 15 * mm: {1, 0}, 15*mm + 1: {1, 1}, 20 * mm: {1, 1}, 30 * mm: {2, 2}, 40 * mm: {3, 2}} {
		if got := [2]int{above(places, line), nearest(places, line)}; got != want {
			t.Errorf("a line at %v: %v, want %v", line, got, want)
		}
	}
	for name, want := range map[string]string{"": "the anchor", "bust": "bust", strings.Repeat("ä", 16): strings.Repeat("ä", 16), strings.Repeat("ä", 17): "the anchor"} {
		if got := named(name, "the anchor"); got != want {
			t.Errorf("%q: %q", name, got)
		}
	}
}

// A stitch that is said to be usual can be written: the machine sews it.
func TestStitchesThatTheMachineSews(t *testing.T) {
	for most, want := range map[string][]float64{"2.4": nil, "2.5": {2.5, 2.5}, "2.6": {2.5, 2.6}} {
		g, err := edgeGarment(edgeCoat, "closure.front.stitch=2 mm|machine.stitch_max="+most+" mm", "")
		if err != nil {
			t.Fatal(err)
		}
		p := Plan(g)
		var got []float64
		for i := range p.Findings {
			if f := &p.Findings[i]; f.Rule == "stitch-length" {
				for _, b := range f.Bounds(g) {
					got = append(got, b.Figure)
				}
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("a machine that sews %s mm: write %v, want %v", most, got, want)
		}
	}
}

// A constraint stands in the file where it is written: in its size where it is by size,
// and the hem behind the zones of the run.
func TestWhereAClashStands(t *testing.T) {
	x := costsOf(t, edgeCoat, `sizes.names=["S","M"]|closure.front.run.first={S="30 mm",M="31 mm"}|closure.front.run.last=30 mm|closure.front.run.count={S=4,M=5}|closure.front.run.hem=20 mm|closure.front.run.clear=[{name="belt",from=100,to=110}]`)
	for c, want := range map[spacing.Constraint]string{
		{Kind: spacing.KindFirst}: "run.first.M", {Kind: spacing.KindLast}: "run.last", {Kind: spacing.KindCount}: "run.count.M",
		{Kind: spacing.KindClear}: "run.clear[0]", {Kind: spacing.KindClear, Index: 1}: "run.hem", {Kind: spacing.KindRun}: "run.length", {Kind: spacing.KindStep}: "run.step",
	} {
		if got := x.clashPath(c, 1); got != "closure[0]."+want {
			t.Errorf("%v: %s, want %s", c, got, want)
		}
	}
	if got := x.sizePath("first", x.C.Run.First, "M").String() + " " + x.sizePath("last", x.C.Run.Last, "M").String() + " " + x.sizePath("first", x.C.Run.First, "").String(); got != "closure[0].run.first.M closure[0].run.last closure[0].run.first" {
		t.Error(got)
	}
	p := plan.ProblemOf(x.G, x.C, x.K, 1)
	for c, want := range map[spacing.Constraint][2]string{
		{Kind: spacing.KindClear}:           {"clear belt 100 mm", "clear belt cannot hold"},
		{Kind: spacing.KindClear, Index: 1}: {"the turned-up hem, ", "the turned-up hem cannot hold"},
	} {
		if got := x.clashWords(c, &p); !strings.HasPrefix(got, want[0]) {
			t.Errorf("%v: %q", c, got)
		}
		if got := x.clashLine(&spacing.Clash{Constraints: []spacing.Constraint{c}}, &p); got != want[1] {
			t.Errorf("%v: %q", c, got)
		}
	}
	one := costsOf(t, edgeCoat, "closure.front.run.count=4")
	if got := one.clashPath(spacing.Constraint{Kind: spacing.KindCount}, 0); got != "closure[0].run.count" {
		t.Error(got)
	}
	for n, want := range map[int]string{1: "1 lies", 2: "2 lie", 0: "0 lie"} {
		if got := lie(n); got != want {
			t.Errorf("%d: %q", n, got)
		}
	}
}

// A first of 13 and a last of 500 have no room in the 510 of M: nothing is said of S
// where each size has its own.
func TestEndsBySizeThatHaveRoom(t *testing.T) {
	for first, want := range map[string][2]bool{`"5 mm"`: {false, false}, `{S="5 mm",M="5 mm"}`: {true, false}} {
		x := costsOf(t, edgeCoat, `sizes.names=["S","M"]|closure.front.run.length={S="600 mm",M="510 mm"}|closure.front.run.count=1|closure.front.run.last={min="500 mm",max="595 mm"}|closure.front.run.first=`+first)
		for i := range x.K.Sizes {
			_, is := x.endAt(x.Least(plan.EndLeast), "first", &plan.Size{Size: x.G.Sizes[i]}).(bounded)
			if is != want[i] {
				t.Errorf("first=%s, size %s: named %v", first, x.G.Sizes[i], is)
			}
		}
	}
}

// How far a run is from a conflict: half a button from the top and 1/2 in from the end,
// or half of one that is wider; half a rivet; and from centre to centre.
func TestRoomOfARun(t *testing.T) {
	const ends = across + "|closure.front.run.first=30 mm|closure.front.run.last=30 mm|"
	for _, c := range []struct {
		rule, with   string
		need, margin float64
	}{
		{"first-high", ends + "closure.front.notion.diameter=24 mm", 12, 18}, {"last-low", ends + "closure.front.notion.diameter=24 mm", 12.7, 17.3},
		{"last-low", ends + "closure.front.notion.diameter=40 mm", 20, 10}, {"last-low", ends + hardware("rivet", "diameter=10,post=5"), 5, 25},
		{"rims-touch", ends + "closure.front.notion.diameter=24 mm", 24, 156},
	} {
		if got := Find(c.rule).Room(costsOf(t, edgeCoat, c.with)); math.Abs(got.Need-c.need) > 1e-9 || math.Abs(got.Margin-c.margin) > 1e-9 {
			t.Errorf("%s, %s: %+v, want %v and %v to spare", c.rule, c.with, got, c.need, c.margin)
		}
	}
}

// A fastener clears the hem of its front with its hole along it: 40 + 24.825 + 1.5875 and
// 9.525 above, from memory. Where no hem is turned up there is nothing to clear.
func TestHolesThatClearTheHem(t *testing.T) {
	for with, want := range map[string]float64{"closure.front.run.hem=40 mm": 75.9375, "closure.front.where=front": 0} {
		if got := costsOf(t, edgeCoat, along+"|closure.front.hole_length=28 mm|"+with).clearsHem(); math.Abs(got.MM()-want) > 1e-9 {
			t.Errorf("%s: %v, want %v", with, got, want)
		}
	}
}

// What gave way in one size of several is said of that size.
func TestMovedInOneSize(t *testing.T) {
	for lengths, want := range map[string]string{`{S="565 mm",M="600 mm"}`: "M", `{S="600 mm",M="600 mm"}`: "", `{S="600 mm",M="565 mm"}`: "S"} {
		g, err := edgeGarment(edgeCoat, `sizes.names=["S","M"]|cloth.shell.repeat.along=84 mm|closure.front.run.match=shell|closure.front.run.first=45 mm|closure.front.run.step=1 mm|closure.front.run.count=6|closure.front.run.length=`+lengths, "")
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		p := Plan(g)
		for i := range p.Findings {
			if f := &p.Findings[i]; f.Rule == "ends-moved" {
				if n++; f.Size != want {
					t.Errorf("%s: said of %q, want %q", lengths, f.Size, want)
				}
			}
		}
		if n != 1 {
			t.Errorf("%s: said %d times", lengths, n)
		}
	}
}

// One fastener alone is first and last at once: where it gave way is said once.
func TestMovedAlone(t *testing.T) {
	for count, want := range map[string]int{"1": 1, "2": 2} {
		g, err := edgeGarment(edgeCoat, `closure.front.run.length=300 mm|closure.front.run.anchor=[{name="bust",at=50,within=0},{name="tab",at=@,within=0}]|closure.front.run.count=`+count, map[string]string{"1": "50", "2": "190"}[count])
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		p := Plan(g)
		for i := range p.Findings {
			if p.Findings[i].Rule == "ends-moved" {
				n++
			}
		}
		if n != want {
			t.Errorf("%s: said %d times, at %v", count, n, p.Closures[0].Sizes[0].Positions)
		}
	}
}

// Of smaller fasteners six are tried where rims touch.
func TestSmallerWhereRimsTouch(t *testing.T) {
	x := costsOf(t, edgeCoat, across+"|closure.front.use=horn-36|closure.front.notion=|closure.front.run.first=30 mm|closure.front.run.last=30 mm|closure.front.run.count=25")
	n := 0
	for _, c := range proposeRun(x, &Finding{Rule: "rims-touch"}) {
		if x.G.Catalog.Notion(c.use()) != nil {
			n++
		}
	}
	if n != 6 {
		t.Errorf("%d are tried", n)
	}
}
