package rules

import (
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// A name without its size: what stands before it, a size of two parts whole.
func TestMakesOfNames(t *testing.T) {
	for name, want := range map[string]string{"horn-40": "horn", "hook-eye-8-5mm": "hook-eye", "horn": "horn", "ring-spring": "ring", "-9": "", "9-9": "9", "a-0-9": "a", "a-9-0": "a", "hook-x2-8": "hook-x2"} {
		if got := make_(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// What has and needs tell whether a least or a most was asked for: by the margin,
// or, where figures of a sum were rounded, by which of them is larger.
func TestLeastOrMost(t *testing.T) {
	for _, c := range []struct {
		n     Numbers
		least bool
		says  string
	}{
		{Numbers{Have: 5, Need: 3, Margin: 2, Unit: "Tex"}, true, "5 Tex, at least 3 Tex"},
		{Numbers{Have: 3, Need: 5, Margin: -2, Unit: "Tex"}, true, "3 Tex, at least 5 Tex"},
		{Numbers{Have: 5, Need: 3, Margin: -2, Unit: "Tex"}, false, "5 Tex, at most 3 Tex"},
		{Numbers{Have: 3, Need: 5, Margin: 2, Unit: "Tex"}, false, "3 Tex, at most 5 Tex"},
		{Numbers{Have: 3, Need: 5, Margin: -1, Unit: "Tex"}, true, "3 Tex, at least 5 Tex"},
		{Numbers{Have: 5, Need: 3, Margin: -1, Unit: "Tex"}, false, "5 Tex, at most 3 Tex"},
		{Numbers{Have: 3, Need: 5, Margin: 0, Unit: "Tex"}, false, "3 Tex, at most 5 Tex"},
		{Numbers{Have: 5, Need: 5, Margin: -1, Unit: "Tex"}, false, "5 Tex, at most 5 Tex"},
		{Numbers{Have: 2.5, Need: 3.25, Margin: -0.75}, true, "2.5, at least 3.25"},
		{Numbers{Have: 20, Need: 30, Margin: -10, Unit: "mm"}, true, "20 mm, at least 30 mm"},
	} {
		if got := c.n.least(); got != c.least {
			t.Errorf("%+v: least %v", c.n, got)
		}
		f := Finding{Numbers: c.n}
		if got := f.figures(measure.MM); got != c.says {
			t.Errorf("%+v: %q, want %q", c.n, got, c.says)
		}
	}
	// The margin as a part of the need; where nothing is needed, all is to spare
	// unless something is there.
	for _, c := range []struct{ need, margin, want float64 }{{10, 1, 0.1}, {10, -1, -0.1}, {-10, 1, 0.1}, {0, -2, -2}, {0, 0, 1}, {0, 3, 1}} {
		if got := (Numbers{Need: c.need, Margin: c.margin}).Share(); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// A zip 2 mm longer than its opening is shortened, ours; less is left as it is.
func TestZipsAreShortened(t *testing.T) {
	x := &Context{U: measure.MM, K: &plan.Closure{}}
	x.K.Zip.End = "top"
	for cut, left := range map[measure.Length]bool{2*mm - 1: true, 2 * mm: false, 0: true, 20 * mm: false} {
		if got := strings.Contains(x.Shorten(cut), "leave it"); got != left {
			t.Errorf("%v: left %v", cut, got)
		}
		if got := x.shortenAt(cut) == ": leave it"; got != left {
			t.Errorf("%v: left %v", cut, got)
		}
	}
}

// The hole to punch in cloth is the maker's where it lies from half the barrel to
// less than all of it, else 0.85 of the barrel, ours.
func TestSmallPunch(t *testing.T) {
	for maker, want := range map[measure.Length]measure.Length{0: 8500, 5000: 5000, 4999: 8500, 9999: 9999, 10000: 8500} {
		x := &Context{C: &catalog.Closure{}, K: &plan.Closure{}}
		x.K.Hardware.Barrel = 10 * mm
		if maker > 0 {
			x.C.Notion.Hole = catalog.Measured{V: maker * measure.Micrometre, From: catalog.Given}
		}
		if got := x.smallPunch(); got != want*measure.Micrometre {
			t.Errorf("%d µm: %v, want %d", maker, got, want)
		}
	}
}

// Another piece of hardware takes a stack whose post reaches from the least to the
// most that its maker has: of a post through 4 mm the ends of its range serve too.
func TestPostsThatSuit(t *testing.T) {
	g, err := edgeGarment(edgeCoat, hardware("snap", `diameter=15,post=5,attach="post"`), "")
	if err != nil {
		g, err = edgeGarment(edgeCoat, hardware("snap", `diameter=15,post=5`), "")
	}
	if err != nil {
		t.Fatal(err)
	}
	p := Plan(g)
	x := &Context{G: g, P: p, U: g.Units, C: &g.Closures[0], K: &p.Closures[0]}
	thin, thick := x.K.Hardware.Stack()
	n := x.C.Notion
	lo, hi, rule, _ := plan.PostRange(plan.AttachOf(&n), thin, thick, n.PostWidth.V, x.U)
	if rule == "" || lo > hi {
		t.Fatalf("%v to %v: %q", lo, hi, rule)
	}
	n.Grip = catalog.Range{}
	for post, want := range map[measure.Length]bool{lo - 1: false, lo: true, hi: true, hi + 1: false} {
		n.Post = catalog.Measured{V: post, From: catalog.Stock}
		if got := x.suits(&n); got != want {
			t.Errorf("a post of %v in %v to %v suits: %v", post, lo, hi, got)
		}
	}
}

// Behind a button of which no smaller one is sold nothing can lie: it is left out.
func TestBackingOfTheSmallest(t *testing.T) {
	got := proposedFor(t, "backing-button", edgeCoat, "closure.front.notion.diameter=6 mm|closure.front.backing=8 mm")
	if cost, is := got["leave the backing button out"]; !is || cost != 1 {
		t.Errorf("%v", got)
	}
}

// Of sizes of 4 and 6 rows as many may button as the smaller has.
func TestRowsThatMayButton(t *testing.T) {
	got := proposedFor(t, "rows-working", edgeCoat, `sizes.names=["S","M","L"]|closure.front.lap=double|closure.front.rows.distance=60 mm|closure.front.run.count={S=4,M=3,L=6}|closure.front.rows.working=5`)
	if _, is := got["let 3 rows button"]; !is || len(got) != 2 {
		t.Errorf("%v", got)
	}
}

// A stripe lies on the line, or to one side of it.
func TestSidesOfAStripe(t *testing.T) {
	x := &Context{U: measure.MM}
	for l, want := range map[measure.Length]string{0: "on the centre line", 5 * mm: "wearer's left", -5 * mm: "5 mm", -6 * mm: "wearer's right"} {
		if got := x.Left(l); !strings.Contains(got, want) {
			t.Errorf("%v: %q, want %q", l, got, want)
		}
	}
}

// Under a foot that lifts too little a thinner cloth is offered for the inner layers,
// the innermost too, and never for the outermost; 25 and its thickness, ours.
func TestThinnerInnerLayers(t *testing.T) {
	got := proposedFor(t, "foot-lift", strings.Replace(edgeCoat, "[interfacing.in]", "[cloth.lining]\nthickness = 0.2\n[interfacing.in]", 1), `machine.foot_lift=1 mm`)
	if cost, is := got["make the inner layer of lining instead of shell"]; !is || cost != 25.2 {
		t.Errorf("%v", got)
	}
	if cost := got["leave the interfacing in out there"]; cost != 20 {
		t.Errorf("%v", got)
	}
	for over, out := range map[string]bool{`["shell","in"]`: true, `["in"]`: false} {
		got := proposedFor(t, "foot-lift", edgeCoat, "machine.foot_lift=0.1 mm|closure.front.over="+over)
		if _, is := got["leave the interfacing in out there"]; is != out {
			t.Errorf("%s: %v", over, got)
		}
	}
	if _, is := got["trim one layer of shell away there"]; is {
		t.Error("of two layers, the cloth and its facing, one is trimmed away")
	}
}

// A hole by an attachment of 20 and 30 mm has the room to the longer one: a length
// within a tenth of a millimetre of it means it, where the fastener passes by it.
func TestRoomOfAnAttachment(t *testing.T) {
	for _, c := range []struct {
		length, passing float64
		given           bool
		margin          float64
	}{
		{28, 28, true, 2}, {30, 28, true, 0}, {30.1, 28, true, 0}, {30.2, 28, true, -0.2}, {30.05, 30, true, 0}, {30.05, 30.04, true, -0.05}, {30.05, 30.06, true, 0},
		{30, 28, false, 2}, {31, 30, false, 0}, {31, 31, false, -1},
	} {
		x := &Context{G: &catalog.Garment{}, C: &catalog.Closure{}, K: &plan.Closure{}}
		x.G.Machine = catalog.Machine{Kind: "household", ButtonholeSizes: []measure.Length{20 * mm, 30 * mm}}
		l, passes := measure.FromMM(c.length), measure.FromMM(c.passing)
		x.K.Hole = plan.Hole{Needed: true, Kind: "machine", Length: l, Passing: passes, Formula: passes, Wanted: passes, Advised: passes, Given: c.given}
		if got := Find("hole-machine").Room(x).Margin; got-c.margin > 1e-6 || c.margin-got > 1e-6 {
			t.Errorf("%+v: %v to spare", c, got)
		}
	}
	x := &Context{G: &catalog.Garment{}, C: &catalog.Closure{}, K: &plan.Closure{}}
	for wanted, want := range map[measure.Length]measure.Length{28 * mm: 28 * mm, 28*mm - 1: 30 * mm, 34*mm + 350*measure.Micrometre: 34*mm + 350*measure.Micrometre, 34*mm + 350*measure.Micrometre + 1: 30 * mm} {
		x.K.Hole = plan.Hole{Passing: 28 * mm, Wanted: wanted, Advised: 30 * mm}
		if got := x.goodHole(); got != want {
			t.Errorf("wanted %v: %v, want %v", wanted, got, want)
		}
	}
}

// What keeps gaps from being even is named: anchors, clear stretches and the hem,
// the repeat, and the step always.
func TestWhyUneven(t *testing.T) {
	x := &Context{U: measure.MM, C: &catalog.Closure{}}
	run := &x.C.Run
	for _, c := range []struct {
		set  func()
		want string
	}{
		{func() {}, "between these ends, steps of 5 mm"},
		{func() { run.Anchors = make([]catalog.Anchor, 1) }, "the anchors and steps of 5 mm"},
		{func() { run.Clears = make([]catalog.Clear, 1) }, "the anchors, the clear zones and steps of 5 mm"},
		{func() { run.Match = "shell" }, "the anchors, the clear zones, the repeat and steps of 5 mm"},
		{func() { run.Anchors, run.Clears, run.Match = nil, nil, "shell" }, "the repeat and steps of 5 mm"},
	} {
		if c.set(); !strings.HasPrefix(strings.ReplaceAll(x.whyUneven(5*mm), " (3/16 in)", ""), c.want) {
			t.Errorf("%q, want %q", x.whyUneven(5*mm), c.want)
		}
	}
}

// Of thinner cloths of the family the three nearest in thickness are offered, ours.
func TestThinnerCloths(t *testing.T) {
	most := 0
	for _, kind := range []string{"suiting", "melton", "heavy-cotton", "corduroy"} {
		g, err := edgeGarment(edgeCoat, "cloth.shell.thickness=9 mm|cloth.shell.kind=@", kind)
		if err != nil {
			t.Fatal(err)
		}
		family := 0
		for _, c := range g.Catalog.Cloths {
			if c.Kind == kind {
				family++
			}
		}
		most = max(most, family)
		got := proposeCloth(&Context{G: g, P: Plan(g), U: g.Units, C: &g.Closures[0]}, g.Cloths[0])
		if len(got) != min(3, family) {
			t.Errorf("%s: %d of %d", kind, len(got), family)
		}
		for i, c := range got {
			if c.Cost <= 80 || i > 0 && c.Cost < got[i-1].Cost {
				t.Errorf("%s: %s costs %v", kind, c.Says, c.Cost)
			}
		}
	}
	if most < 4 {
		t.Errorf("no family of more than %d", most)
	}
}
