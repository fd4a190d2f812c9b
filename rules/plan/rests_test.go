package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/trial"
)

// What a figure rests on where two of its parts meet: the key of what moves it
// more, of two alike the first; mm, by hand.
func TestRestsOnTheVerge(t *testing.T) {
	closure := func(keys, stand string, with ...string) *Closure { return sumsPlan(t, keys, stand, with...) }
	at := func(run string, with ...string) *Closure {
		text := strings.NewReplacer("KEYS", "", "STAND", "").Replace(sumsCoat) + run
		return &Of(trial.Read(t, text, with...), false).Closures[0]
	}
	toggle := func(inset string) *Closure {
		return &duffelPlan(t, "closure.toggles.inset="+inset+" mm", "closure.toggles.notion.length=60 mm ± 1").Closures[0]
	}
	for _, c := range []struct {
		name string
		got  Basis
		tol  float64
		key  string // "" is not asked
	}{
		// 23.5 ± 0.5 and 4 pass by 27.5; the hole is rounded up by 0.5, as much as that ±.
		{"a hole, rounded up by as much", func() Basis {
			k := closure("", "", "closure.front.notion.diameter=23.5 mm ± 0.5", "cloth.shell.thickness=1 mm")
			return HoleBasis(k.Closure, k)
		}(), 1, "closure.front.notion.diameter"},
		{"a hole, rounded up by more", func() Basis {
			k := closure("", "", "closure.front.notion.diameter=23.5 mm ± 0.4", "cloth.shell.thickness=1 mm")
			return HoleBasis(k.Closure, k)
		}(), 0.9, "closure.front.hole_length"},
		{"a hole as long as it passes", func() Basis {
			k := closure("", "", "closure.front.notion.diameter=24 mm", "cloth.shell.thickness=1 mm")
			return HoleBasis(k.Closure, k)
		}(), 0, ""},
		// A toggle of 60, its hole 29 from one end, reaches 31 inside.
		{"inside, as the inset", func() Basis { k := toggle("31"); return InsideBasis(k.Closure, k) }(), 0, "closure.toggles.inset"},
		{"inside, as the toggle", func() Basis { k := toggle("30.9"); return InsideBasis(k.Closure, k) }(), 1, ""},
		// A hole that ends inside the rim of its button, 12, does not count.
		{"inside, as the rim", func() Basis {
			k := closure("hole_length = \"13 mm ± 2\"\ndirection = \"across\"", "")
			return ReachInBasis(k.Closure, k)
		}(), 0.2, "closure.front.notion.diameter"},
		{"inside, as the hole", func() Basis {
			k := closure("hole_length = \"30 mm ± 2\"\ndirection = \"across\"", "")
			return ReachInBasis(k.Closure, k)
		}(), 2, "closure.front.hole_length"},
		// Where a full stand of 25.4 is the usual one as well (half and 1/2 in), both its
		// halves move; a smaller button's usual one moves by half.
		{"a full stand", func() Basis {
			k := closure("", "", "closure.front.notion.diameter=25.4 mm ± 0.4")
			return EdgeBasis(k.Closure, k)
		}(), 0.4, ""},
		{"a full stand of 1/2 in", func() Basis {
			k := closure("", "", "closure.front.notion.diameter=12.7 mm ± 0.4")
			return EdgeBasis(k.Closure, k)
		}(), 0.4, ""},
		{"a usual stand", func() Basis {
			k := closure("", "", "closure.front.notion.diameter=12.6 mm ± 0.4")
			return EdgeBasis(k.Closure, k)
		}(), 0.2, ""},
		// Four on 600 from 30 to 570: three gaps of 180; the run and both ends move them.
		{"a gap", GapBasis(nil2(at("first = \"30 mm ± 0.6\"\nlast = \"30 mm ± 0.9\"", "closure.front.run.length=600 mm ± 1.5"), 180*mm)), 1, "closure.front.run.length"},
		{"a gap of two", GapBasis(nil2(at("first = \"30 mm ± 0.6\"\nlast = \"30 mm ± 0.9\"", "closure.front.run.count=2"), 540*mm)), 1.5, "closure.front.run.last"},
		{"no gap", GapBasis(nil2(at("first = \"30 mm ± 0.6\"", "closure.front.run.count=1"), 0)), 0, ""},
		// What does not move at all takes no part of a mark: of 605 three gaps of 545 ÷ 3.
		{"a gap between marks", GapBasis(nil2(at("first = 30\nlast = 30\nstep = 5", "closure.front.run.length=605 mm"), 180*mm)), 0, ""},
		{"a gap between marks that moves", GapBasis(nil2(at("first = 30\nlast = 30\nstep = 5", "closure.front.run.length=605 mm ± 3"), 180*mm)), 1 + 5./3, ""},
	} {
		if math.Abs(c.got.Tol.MM()-c.tol) > 1e-5 || c.key != "" && c.got.Key != c.key {
			t.Errorf("%s: ± %v of %s, want %v of %s", c.name, c.got.Tol.MM(), c.got.Key, c.tol, c.key)
		}
	}
}

// An end that lies as near as it may goes no nearer; one that lies farther may come
// nearer, and its reach counts only where that is more than the usual least of 1/2 in.
func TestGapsRestOnEnds(t *testing.T) {
	tab := func(diameter, where string) (*Closure, Basis) {
		text := strings.NewReplacer("KEYS", "where = \""+where+"\"", "STAND", "", `"mm"`, `"in"`, `"24 mm ± 0.4"`, "\""+diameter+" mm ± 0.4\"", "length = 600", "length = \"8 in ± 1/8\"", "count = 4", "count = 3").Replace(sumsCoat)
		k := &Of(trial.Read(t, text), false).Closures[0]
		return k, GapBasis(k.Closure, k, 0, k.Sizes[0].Gaps[0])
	}
	// Both ends of a tab lie 1/2 in from its own: only the run moves, two gaps of it.
	if k, got := tab("12", "tab"); k.Sizes[0].First != in/2 || got.Tol != in/16 || got.Ground != Read {
		t.Errorf("as near as may be, %v: %+v", k.Sizes[0].First, got)
	}
	// Of a button of 24 half of it and a hole are less than 1/2 in: the ends may come there.
	k, got := tab("24", "tab")
	z := &k.Sizes[0]
	if want := (in/8 + z.First - in/2 + z.Last - in/2) / 2; got.Tol != want || got.Ground != Derived {
		t.Errorf("farther, %v: %+v, want ± %v", z.First, got, want)
	}
	// Of one of 30 half of it is more, and half its ± counts at either end.
	k, got = tab("30", "tab")
	z = &k.Sizes[0]
	if want := (in/8 + z.First - 15*mm + z.Last - 15*mm + mm*4/10) / 2; (got.Tol-want).Abs() > 1 || got.Ground != Derived {
		t.Errorf("larger, %v: %+v, want ± %v", z.First, got, want)
	}
}

// nil2 are what GapBasis takes of the first size of a closure.
func nil2(k *Closure, gap measure.Length) (*catalog.Closure, *Closure, int, measure.Length) {
	return k.Closure, k, 0, gap
}

// A word of the garment's own file is read; one of the stock is what a thing is
// sold as; one of an own catalogue no surer than that.
func TestWordsRestOn(t *testing.T) {
	stock := &catalog.Entry{Name: "coat-button", Sure: "memory"}
	own := &catalog.Entry{Name: "coat-button", Sure: "memory", File: "own.toml"}
	for _, c := range []struct {
		name string
		e    *catalog.Entry
		want Ground
	}{{"stock", stock, Published}, {"own", own, Memory}, {"none", &catalog.Entry{}, Default}} {
		if got := WordGround(c.e, "shape"); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	g := trial.Read(t, strings.NewReplacer("KEYS", "", "STAND", "", "holes = 4", "holes = 4\nshape = \"flat\"").Replace(sumsCoat))
	e := g.Closures[0].Notion.Entry
	e.Name, e.Sure = "coat-button", "memory"
	if got := WordGround(&e, "shape"); got != Read {
		t.Errorf("a word of the file over the stock's: %v", got)
	}
}

// Where pressing moves a layer more than its ± its pressed thickness is to be
// measured, else its thickness; where both move it alike too.
func TestPressedRestsOn(t *testing.T) {
	layer := func(tol measure.Length) *Stack {
		return &Stack{Layers: []Layer{{Layer: catalog.Layer{Name: "shell", Cloth: &catalog.Cloth{}}, Thick: 2 * mm, Pressed: mm, Share: 0.5, Tol: tol}}}
	}
	for tol, key := range map[measure.Length]string{2 * mm: "cloth.shell.thickness", 2*mm - 2: "cloth.shell.pressed", 3 * mm: "cloth.shell.thickness"} {
		if got := layer(tol).PressedBasis(); got.Key != key || got.Tol != mm+tol/2 || got.Ground != Derived {
			t.Errorf("± %v: %+v", tol, got)
		}
	}
}

// A flap's fasteners lie their usual stand inside its edge, or on its seam where
// it is no wider: that follows from the default alone.
func TestFlapRestsOn(t *testing.T) {
	for width, key := range map[string]string{"20": "closure.upper.flap.inset", "19": "closure.upper.flap.inset", "30": "closure.upper.flap.inset"} {
		text := strings.Replace(laidCoat[:strings.LastIndex(laidCoat, "[[closure]]")], "last = 330", "last = 270", 1)
		p := Of(trial.Read(t, text, "closure.upper.flap.width="+width+" mm ± 2"), false)
		got := FlapBasis(p.Closures[0].Closure, &p.Closures[0])
		if wide := p.Closures[0].Stand.Have < p.Closures[0].Closure.Flap.Width.V; got.Key != key || got.Ground != Default || (got.Tol != 0) != wide {
			t.Errorf("a flap of %s: %+v", width, got)
		}
	}
}

// Thread for a button sewn by hand, twice (passes × pairs × (2 × (through, shank,
// button) + 2 × the gap) + winds + tails): two pairs of four holes, one of two or
// three; where nothing is said there are four.
func TestThreadByHoles(t *testing.T) {
	for holes, pairs := range map[string]float64{"holes = 2": 1, "holes = 3": 1, "holes = 4": 2, "": 2} {
		text := strings.NewReplacer("KEYS", `sewn_by = "hand"`, "STAND", "", "holes = 4", holes).Replace(sumsCoat)
		k := Of(trial.Read(t, text), false).Closures[0]
		want := 2 * (pairs*5*(2*(4.5+4.5+4)+2*3) + 5*math.Pi*4 + 120)
		if got := k.Sewing.ThreadCut.MM(); math.Abs(got-want) > 1e-3 {
			t.Errorf("%s: %v mm, want %v", holes, got, want)
		}
		stitches := map[float64]int{1: 16, 2: 16}[pairs]
		if k.Sewing.Stitches != stitches {
			t.Errorf("%s: %d stitches", holes, k.Sewing.Stitches)
		}
	}
	// Through a shank once each pass: 3.5 across it, and no shank of thread.
	text := strings.NewReplacer("KEYS", "", "STAND", "", "holes = 4\nhole_gap = \"3 mm ± 0.2\"", "shank = 5").Replace(sumsCoat)
	k := Of(trial.Read(t, text), false).Closures[0]
	if got, want := k.Sewing.ThreadCut.MM(), 2*(5*(2*(4.5+4)+2*3.5)+120.); math.Abs(got-want) > 1e-3 {
		t.Errorf("a shank: %v mm, want %v", got, want)
	}
}

// Of two buttons alike the thinner backs better, then the first by name; a backing
// button better than any.
func TestFlatterButtons(t *testing.T) {
	button := func(name string, thick measure.Length, of string) *catalog.Notion {
		n := &catalog.Notion{Kind: catalog.Button, Material: of}
		n.Name = name
		n.Diameter, n.Thickness = catalog.Measured{V: 12 * mm, From: catalog.Stock}, catalog.Measured{V: thick, From: catalog.Stock}
		return n
	}
	order := []*catalog.Notion{button("backing-b", 3*mm, ""), button("z", 3*mm, "polyester"), button("y", 2*mm, "horn"), button("a", 3*mm, "horn"), button("b", 3*mm, "horn")}
	other := button("backing-a", mm, "") // better than all, but smaller
	other.Diameter.V = 11 * mm
	cat := &catalog.Catalog{Notions: append(slices.Clone(order), other)}
	slices.Reverse(cat.Notions)
	if got := flatButtons(cat); !slices.Equal(got, []*catalog.Notion{other, order[0]}) {
		t.Errorf("one of each size: %v", got)
	}
	for i, a := range order {
		for j, b := range order {
			if got := flatter(a, b); got != (i < j) {
				t.Errorf("%s before %s: %v", a.Name, b.Name, got)
			}
		}
	}
}

// What is bought of nothing is bought for the first of the sizes, and belongs to
// no closure where it is for tests.
func TestGoodsOfNone(t *testing.T) {
	g := &Good{Kind: GoodFastener, Pack: 1, N: []int{0, 0}, Spare: []int{0, 0}, Unknown: make([]bool, 2), Len: make([]measure.Length, 2)}
	if size, a := (Goods{g}).Most(measure.MM, []int{1, 0}); size != 1 || !a.Known {
		t.Errorf("size %d, %+v", size, a)
	}
	p := Of(trial.Read(t, strings.NewReplacer("KEYS", "", "STAND", "", `fixing = "sewn"`, `fixing = "fusible"`).Replace(sumsCoat)), false)
	tests := 0
	for _, g := range p.Goods() {
		if g.Kind != GoodFastener && g.Kind != GoodBacking && g.Kind != GoodInterfacing && g.Index != -1 {
			t.Errorf("%s is that of closure %d", g.ID, g.Index)
		}
		if g.Entry == nil && g.Pack != 1 {
			t.Errorf("%s in packs of %d", g.ID, g.Pack)
		}
		for _, u := range g.Uses {
			if u.Job == JobTest && g.Kind == GoodInterfacing {
				if tests++; u.Closure != -1 || len(g.Swatches) != 1 || g.Swatches[0].Width != 9*in || g.Swatches[0].Length != 9*in || g.Swatches[0].N != 3 {
					t.Errorf("%s: %+v of closure %d", g.ID, g.Swatches, u.Closure)
				}
			}
		}
	}
	if tests != 1 {
		t.Errorf("%d tests of fusing", tests)
	}
	// 12 in squares of cloth with 9 in squares on them, side by side.
	if cloth, fusible := FuseTest(2); cloth != [2]measure.Length{24 * in, 12 * in} || fusible != [2]measure.Length{18 * in, 9 * in} {
		t.Errorf("%v, %v", cloth, fusible)
	}
}

// How wide a fastener is, how far it reaches and what goes through follow from its
// measures: each with its ±, half of it for a half, a πth for what is round (mm).
func TestMeasuresRestOn(t *testing.T) {
	m := func(v, tol float64) catalog.Measured {
		return catalog.Measured{V: measure.FromMM(v), Tol: measure.FromMM(tol), From: catalog.Given}
	}
	of := func(kind, shape string, set func(n *catalog.Notion)) *catalog.Closure {
		c := &catalog.Closure{Name: "front"}
		c.Notion.Kind, c.Notion.Shape = kind, shape
		set(&c.Notion)
		return c
	}
	for _, c := range []struct {
		name string
		got  Basis
		tol  float64
		key  string
	}{
		{"a hook, longer", AcrossBasis(of(catalog.Hook, "", func(n *catalog.Notion) { n.Width, n.Length = m(5, 0.1), m(8, 0.3) })), 0.3, "length"},
		{"a hook, wider", AcrossBasis(of(catalog.Hook, "", func(n *catalog.Notion) { n.Width, n.Length = m(8, 0.1), m(5, 0.3) })), 0.1, "width"},
		{"along, a hook", AlongBasis(of(catalog.Hook, "", func(n *catalog.Notion) { n.Width, n.Length = m(5, 0.1), m(8, 0.3) })), 0.1, "width"},
		{"round, a hook", RoundBasis(of(catalog.Hook, "", func(n *catalog.Notion) { n.Width, n.Length = m(5, 0.1), m(8, 0.3) })), 0.05, "width"},
		{"an eyelet's flange", AcrossBasis(of(catalog.Eyelet, "", func(n *catalog.Notion) { n.Flange, n.Diameter, n.Inside = m(16, 0.4), m(10, 0.2), m(8, 0.1) })), 0.4, "flange"},
		{"an eyelet's barrel", AcrossBasis(of(catalog.Eyelet, "", func(n *catalog.Notion) { n.Diameter, n.Inside = m(10, 0.2), m(8, 0.1) })), 0.2, "diameter"},
		{"an eyelet's hole", AcrossBasis(of(catalog.Eyelet, "", func(n *catalog.Notion) { n.Inside = m(8, 0.1) })), 0.1, "inside"},
		{"a flange", AcrossBasis(of(catalog.Snap, "", func(n *catalog.Notion) { n.Diameter, n.Flange = m(12, 0.2), m(15, 0.3) })), 0.3, "flange"},
		{"a head", RoundBasis(of(catalog.TackButton, "", func(n *catalog.Notion) { n.Diameter, n.Head = m(12, 0.2), m(17, 0.4) })), 0.2, "head"},
		{"without its head", AcrossBasis(of(catalog.TackButton, "", func(n *catalog.Notion) { n.Diameter, n.Head = m(12, 0.2), m(17, 0.4) })), 0.2, "diameter"},
		{"a knot", AcrossBasis(of(catalog.Frog, "", func(n *catalog.Notion) { n.Knot = m(14, 0.4) })), 0.4, "knot"},
		{"a toggle", AcrossBasis(of(catalog.Toggle, "", func(n *catalog.Notion) { n.Width = m(16, 0.3) })), 0.3, "width"},
		{"a button like a toggle", AcrossBasis(of(catalog.Button, "toggle", func(n *catalog.Notion) { n.Width, n.Diameter = m(10, 0.1), m(20, 0.4) })), 0.4, "diameter"},
		{"a round toggle", AcrossBasis(of(catalog.Toggle, "", func(n *catalog.Notion) { n.Girth = m(50, 0.6) })), 0.6 / math.Pi, "girth"},
		{"a square", AcrossBasis(of(catalog.Button, "square", func(n *catalog.Notion) { n.Side = m(20, 0.3) })), 0.3 * math.Sqrt2, "side"},
		{"a ball", AcrossBasis(of(catalog.Button, "ball", func(n *catalog.Notion) { n.Girth = m(60, 0.6) })), 0.6 / math.Pi, "girth"},
		{"a dome", AcrossBasis(of(catalog.Button, "domed", func(n *catalog.Notion) { n.Girth = m(60, 0.6) })), 0.3, "girth"},
		{"a flat one by its girth", AcrossBasis(of(catalog.Button, "flat", func(n *catalog.Notion) { n.Girth, n.Thickness = m(60, 0.6), m(4, 0.2) })), 0.5, "girth"},
		{"a stand", StandNeedBasis(of(catalog.Button, "flat", func(n *catalog.Notion) { n.Diameter = m(24, 0.4) })), 0.2, "diameter"},
		{"a toggle's shorter end", RimBasis(of(catalog.Toggle, "", func(n *catalog.Notion) { n.Length, n.Width = m(60, 1), m(16, 0.2) })), 0.5, "length"},
		{"half a chain by its number", ChainBasis(of(catalog.Zip, "", func(n *catalog.Notion) { n.Number = catalog.Opt[float64]{V: 5, From: catalog.Given} })), 0.75, "chain"},
		{"what passes", PassingBasis(of(catalog.Button, "flat", func(n *catalog.Notion) { n.Diameter, n.Thickness = m(24, 0.4), m(4, 0.1) })), 0.5, "diameter"},
	} {
		if math.Abs(c.got.Tol.MM()-c.tol) > 2e-6 || c.got.Key != "closure.front.notion."+c.key {
			t.Errorf("%s: ± %v of %s, want %v of %s", c.name, c.got.Tol.MM(), c.got.Key, c.tol, c.key)
		}
	}
	// Of a thickness from memory all but a hair may be wrong.
	c := of(catalog.Button, "flat", func(n *catalog.Notion) {
		n.Diameter, n.Thickness = m(24, 0), m(4, 0)
		n.Thickness.From = catalog.Stock
		n.Name, n.Sure = "b", "memory"
	})
	if got := PassingBasis(c); got.Tol != 4*mm-nm || got.Ground != Derived {
		t.Errorf("a thickness from memory: %+v", got)
	}
	if got := sampleKey("closure.front.measured.stack", "stack_pressed"); got != "closure.front.measured.stack_pressed" {
		t.Errorf("beside a sample: %s", got)
	}
	// One cloth folded twice, and none.
	k := &Closure{Stand: Stand{Folds: 2}, Over: Stack{Layers: []Layer{{Layer: catalog.Layer{Name: "shell", Cloth: &catalog.Cloth{}}, Tol: mm}}}}
	if got := FoldBasis(k); got.Tol != 2*mm || got.Key != "cloth.shell.thickness" {
		t.Errorf("one cloth: %+v", got)
	}
	k.Over.Layers[0].Layer = catalog.Layer{Name: "in", Interfacing: &catalog.Interfacing{}}
	if got := FoldBasis(k); got != (Basis{}) {
		t.Errorf("no cloth: %+v", got)
	}
}

// How far a hole along the edge reaches up and down: a fixed way and all of it, or
// half of it each way where it is centred; its rim where that is farther (mm).
func TestHolesAlongRestOn(t *testing.T) {
	for _, c := range []struct {
		keys     string
		up, down float64
	}{
		// 13 + 1.5875 up, 30 − 13 + 1.5875 down, half of ± 2 each, over a rim of 12 ± 0.2.
		{"hole_centred = true", 1, 1}, {"", 0.2, 2},
	} {
		k := sumsPlan(t, "direction = \"along\"\nhole_length = \"30 mm ± 2\"\n"+c.keys, "")
		if up, down := UpBasis(k.Closure, k).Tol.MM(), DownBasis(k.Closure, k).Tol.MM(); math.Abs(up-c.up) > 1e-6 || math.Abs(down-c.down) > 1e-6 {
			t.Errorf("%s: ± %v up and ± %v down", c.keys, up, down)
		}
	}
	// The farther end decides by no more than the rim takes: a hole of 20 ± 9 reaches
	// 11.5875 to either side, 0.4125 less than a rim of 12 ± 0.2, so the rim's ± counts.
	k := sumsPlan(t, "direction = \"along\"\nhole_length = \"20 mm ± 9\"\nhole_centred = true", "")
	if up, down := UpBasis(k.Closure, k).Tol.MM(), DownBasis(k.Closure, k).Tol.MM(); math.Abs(up-0.2) > 1e-6 || math.Abs(down-0.2) > 1e-6 {
		t.Errorf("a short hole: ± %v up and ± %v down", up, down)
	}
	// One of 22 ± 9 reaches 12.5875, 0.5875 more than the rim: that, and the rim's ±.
	k = sumsPlan(t, "direction = \"along\"\nhole_length = \"22 mm ± 9\"\nhole_centred = true", "")
	if up, down := UpBasis(k.Closure, k).Tol.MM(), DownBasis(k.Closure, k).Tol.MM(); math.Abs(up-0.7875) > 1e-6 || math.Abs(down-0.7875) > 1e-6 {
		t.Errorf("a hole as long as the button: ± %v up and ± %v down", up, down)
	}
	if got := k.Hole.Below(); got != 11*mm+eighth/2 {
		t.Errorf("it ends %v below", got)
	}
	if got := sumsPlan(t, "direction = \"across\"\nhole_length = 30", "").Hole.Below(); got != mm*7/2 { // a keyhole, 7 wide
		t.Errorf("across it ends %v below", got)
	}
	// By a rule of 5/4 of the diameter, 24 ± 0.4: 30 ± 0.5.
	k = sumsPlan(t, "hole_rule = \"percent\"", "", "cloth.shell.thickness=1 mm")
	if got := RuleBasis(k.Closure, k); math.Abs(got.Tol.MM()-0.5) > 1e-6 || k.Hole.Length != 30*mm {
		t.Errorf("by percent: %+v of %v", got, k.Hole.Length)
	}
	// A single fastener set from the other end rests on that and on the run; two do not.
	for _, c := range []struct {
		count string
		tol   measure.Length
	}{{"1", mm*6/10 + mm}, {"2", 0}} {
		text := strings.NewReplacer("KEYS", "", "STAND", "", "count = 4", "count = "+c.count, "length = 600", `length = "600 mm ± 1"`).Replace(sumsCoat) + "last = \"30 mm ± 0.6\"\n"
		k := Of(trial.Read(t, text), false).Closures[0]
		if got := EndBasis(k.Closure, &k, "first", 0); got.Tol != c.tol {
			t.Errorf("the first of %s: %+v", c.count, got)
		}
		if got := EndBasis(k.Closure, &k, "last", 0); got.Tol != mm*6/10 {
			t.Errorf("the last of %s: %+v", c.count, got)
		}
	}
	// What is left to try, and one place at least.
	tries := &Tries{Most: 7, Tried: 3}
	p := laidPlan(t)
	problem := ProblemOf(p.Garment, &p.Garment.Closures[0], &p.Closures[0], 0)
	if tries.Hold(&problem); problem.Most != 4 {
		t.Errorf("%d are left", problem.Most)
	}
	tries.Tried = 9
	if tries.Hold(&problem); problem.Most != 1 {
		t.Errorf("%d are left of none", problem.Most)
	}
}
