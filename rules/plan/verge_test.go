package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/trial"
)

// nm is the least that a length can differ by.
const nm = measure.Length(1)

// What is exactly as long, as wide or as thick as a figure lies on this side of
// it or on that, as the words of the figure say: up to 8 in is a tab, more is a
// front; a stack thicker than 4 mm is thick.
func TestOnTheVergeOfAFigure(t *testing.T) {
	tab := &catalog.Closure{}
	for _, c := range []struct {
		name     string
		on, over bool // at the figure, and just over it
		of       func(over measure.Length) bool
	}{
		{"a short run, 8 in", true, false, func(d measure.Length) bool { return IsShort(tab, 8*in+d) }},
		{"a front, longer than 8 in", false, true, func(d measure.Length) bool {
			g := &catalog.Garment{Sizes: []string{""}, Closures: []catalog.Closure{{}}}
			g.Closures[0].Run.Length = catalog.Sized{{V: 8*in + d, From: catalog.Given}}
			where, _ := WhereOf(g, &g.Closures[0])
			return where == "front"
		}},
		{"a thick place, over 4 mm", false, true, func(d measure.Length) bool {
			return (&Closure{Places: []Place{{Thick: 4*mm + d}}}).Thick() != nil
		}},
		{"the longest of a grip", true, false, func(d measure.Length) bool { return FitOf(5*mm+d, 2*mm, 5*mm) == Fits }},
		{"the shortest of a grip", false, false, func(d measure.Length) bool { return FitOf(2*mm+d, 2*mm, 5*mm) == TooThin }},
		{"under the shortest", true, false, func(d measure.Length) bool { return FitOf(2*mm-nm+d, 2*mm, 5*mm) == TooThin }},
		{"no longest", true, true, func(d measure.Length) bool { return FitOf(50*mm+d, 2*mm, 0) == Fits }},
		{"all that may be tried is tried", true, true, func(d measure.Length) bool { return (&Tries{Most: 7, Tried: 7 + int(d)}).Out() }},
		{"one is left", false, true, func(d measure.Length) bool { return (&Tries{Most: 7, Tried: 6 + int(d)}).Out() }},
	} {
		if on, over := c.of(0), c.of(nm); on != c.on || over != c.over {
			t.Errorf("%s: %v at it and %v over it, want %v and %v", c.name, on, over, c.on, c.over)
		}
	}
	var f Fit
	if f != Fits {
		t.Error("what says nothing of a fit fits")
	}
}

// Nothing of either plant or wool is mostly so; half of it is (ours), just less is not.
func TestHalfOfPlant(t *testing.T) {
	for share, want := range map[float64]bool{0: false, 49.9: false, 50: true, 100: true} {
		c := &catalog.Cloth{Fibre: map[string]float64{"cotton": share / 2, "hemp": share / 4, "linen": share / 4, "polyester": 100 - share}}
		if isCotton(c) != want {
			t.Errorf("%v %% of plant: %v", share, isCotton(c))
		}
	}
}

// A band no wider than its folds are thick is one; narrower it is none (geometry).
// With one fold of 2 mm an extension of 5 leaves two thirds of 3.
func TestNarrowestBand(t *testing.T) {
	for ext, want := range map[measure.Length]measure.Length{5 * mm: 2 * mm, 5*mm - 2*nm: 0, 8 * mm: 4 * mm} {
		if got := (Band{Cloth: 2 * mm}).From(ext).Width; got != want {
			t.Errorf("an extension of %v leaves %v, want %v", ext, got, want)
		}
	}
}

// A stand on the very line of the holes is none, and one of a nanometre is one.
func TestNoStandIsLeft(t *testing.T) {
	for distance, lost := range map[string]bool{"30": true, "29.999999": false, "31": true} {
		k := sumsPlan(t, `lap = "double"`, "finished = 30\n[closure.rows]\ndistance = "+distance)
		if k.Stand.Lost != lost {
			t.Errorf("columns %s from the centre, the edge 30: lost %v", distance, k.Stand.Lost)
		}
	}
}

// Lengths that differ from size to size are laid out size by size; one that is
// the same for all, but written by size, is one of several as well.
func TestSameForAll(t *testing.T) {
	one, two := catalog.Sized{{V: mm}}, catalog.Sized{{V: mm}, {V: mm}}
	count := func(n int) []catalog.Count { return make([]catalog.Count, n) }
	for name, set := range map[string]func(*catalog.Run, catalog.Sized, int){
		"length": func(r *catalog.Run, s catalog.Sized, _ int) { r.Length = s }, "first": func(r *catalog.Run, s catalog.Sized, _ int) { r.First = s },
		"last": func(r *catalog.Run, s catalog.Sized, _ int) { r.Last = s }, "first max": func(r *catalog.Run, s catalog.Sized, _ int) { r.FirstMax = s },
		"last max": func(r *catalog.Run, s catalog.Sized, _ int) { r.LastMax = s }, "gap min": func(r *catalog.Run, s catalog.Sized, _ int) { r.GapMin = s },
		"gap max": func(r *catalog.Run, s catalog.Sized, _ int) { r.GapMax = s }, "gap about": func(r *catalog.Run, s catalog.Sized, _ int) { r.GapAbout = s },
		"hem":    func(r *catalog.Run, s catalog.Sized, _ int) { r.Hem = s },
		"anchor": func(r *catalog.Run, s catalog.Sized, _ int) { r.Anchors = []catalog.Anchor{{At: s}} }, "within": func(r *catalog.Run, s catalog.Sized, _ int) { r.Anchors = []catalog.Anchor{{Within: s}} },
		"clear from": func(r *catalog.Run, s catalog.Sized, _ int) { r.Clears = []catalog.Clear{{From: s}} }, "clear to": func(r *catalog.Run, s catalog.Sized, _ int) { r.Clears = []catalog.Clear{{To: s}} },
		"count": func(r *catalog.Run, _ catalog.Sized, n int) { r.Count = count(n) },
	} {
		var a, b catalog.Run
		set(&a, one, 1)
		set(&b, two, 2)
		if !SameForAll(&a) || SameForAll(&b) {
			t.Errorf("%s: the same for all %v, by size %v", name, SameForAll(&a), SameForAll(&b))
		}
	}
	if !SameForAll(&catalog.Run{}) {
		t.Error("of nothing all is the same")
	}
}

// A count is open where none is given or a range is: from one for all alone.
func TestOpenCount(t *testing.T) {
	of := func(min, max int) catalog.Count { return catalog.Count{Min: min, Max: max, Set: true} }
	for _, c := range []struct {
		name  string
		count []catalog.Count
		open  bool
	}{{"none", nil, true}, {"four", []catalog.Count{of(4, 4)}, false}, {"four to six", []catalog.Count{of(4, 6)}, true}, {"by size", []catalog.Count{of(4, 4), of(5, 5)}, false}} {
		if got := openCount(&catalog.Run{Count: c.count}); got != c.open {
			t.Errorf("%s: open %v", c.name, got)
		}
	}
}

// Of two lengths of which the larger, or the smaller, decides; of two as large the first.
func TestLargerAndSmallerOfTwo(t *testing.T) {
	a, b, weak := Basis{Tol: 3, Key: "a"}, Basis{Tol: 2, Key: "b"}, Basis{Tol: 2, Ground: Ours, Key: "w"}
	for _, c := range []struct {
		name   string
		got    Basis
		tol    measure.Length
		ground Ground
		key    string
	}{
		{"as large", Larger(10, a, 10, b), 2, Read, "a"}, {"as large, the other way", Larger(10, b, 10, a), 2, Read, "b"},
		{"larger", Larger(20, a, 10, b), 3, Read, "a"}, {"the second", Larger(10, b, 20, a), 3, Read, "a"}, {"larger by little", Larger(10, a, 10, Basis{}), 0, Read, "a"},
		{"the other is weak", Larger(10, a, 10, weak), 3, Read, "a"}, {"weak itself", Larger(11, weak, 10, a), 4, Derived, "w"},
		{"smaller, as large", Smaller(10, a, 10, b), 3, Read, "a"}, {"smaller by 2", Smaller(8, a, 10, b), 3, Read, "a"}, {"the second smaller by 2", Smaller(10, a, 8, b), 2, Read, "a"},
		{"by more than either", Smaller(10, a, 20, b), 3, Read, "a"},
	} {
		if c.got.Tol != c.tol || c.got.Ground != c.ground || c.got.Key != c.key {
			t.Errorf("%s: %+v", c.name, c.got)
		}
	}
	// What two together rest on: the key of the weaker, else of that with the larger ±;
	// of two alike the first.
	for _, c := range []struct {
		name string
		a, b Basis
		key  string
	}{
		{"alike", Basis{3, Read, "a"}, Basis{3, Read, "b"}, "a"}, {"larger ±", Basis{3, Read, "a"}, Basis{4, Read, "b"}, "b"}, {"smaller ±", Basis{3, Read, "a"}, Basis{2, Read, "b"}, "a"},
		{"weak", Basis{3, Read, "a"}, Basis{0, Ours, "b"}, "b"}, {"as weak", Basis{3, Ours, "a"}, Basis{4, Ours, "b"}, "a"}, {"weaker", Basis{3, Ours, "a"}, Basis{0, Memory, "b"}, "b"},
		{"not weak, but less firm", Basis{3, Read, "a"}, Basis{0, Practice, "b"}, "a"}, {"less weak", Basis{3, Memory, "a"}, Basis{9, Ours, "b"}, "a"},
	} {
		got := c.a.And(c.b)
		if got.Key != c.key || got.Tol != c.a.Tol+c.b.Tol || got.Ground != max(c.a.Ground, c.b.Ground) {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	// Over layers it is the same, from the outside.
	stack := Stack{Layers: []Layer{{Layer: catalog.Layer{Name: "a", Cloth: &catalog.Cloth{}}}, {Layer: catalog.Layer{Name: "b", Interfacing: &catalog.Interfacing{}}}}}
	for _, c := range []struct {
		name   string
		tol    [2]measure.Length
		ground [2]Ground
		key    string
	}{
		{"alike", [2]measure.Length{3, 3}, [2]Ground{}, "cloth.a.thickness"}, {"none", [2]measure.Length{}, [2]Ground{}, "cloth.a.thickness"},
		{"more", [2]measure.Length{3, 4}, [2]Ground{}, "interfacing.b.thickness"}, {"weak", [2]measure.Length{3, 0}, [2]Ground{Read, Ours}, "interfacing.b.thickness"},
		{"as weak", [2]measure.Length{3, 4}, [2]Ground{Ours, Ours}, "cloth.a.thickness"}, {"firm enough", [2]measure.Length{3, 0}, [2]Ground{Read, Practice}, "cloth.a.thickness"},
	} {
		i := -1
		got := stack.layers(0, 2, func(*Layer) (measure.Length, Ground, string) { i++; return c.tol[i], c.ground[i], "thickness" })
		if got.Key != c.key || got.Tol != c.tol[0]+c.tol[1] {
			t.Errorf("layers, %s: %+v", c.name, got)
		}
	}
	for g, weak := range map[Ground]bool{Read: false, Published: false, Derived: false, Practice: false, Ours: true, Default: true, Memory: true} {
		if g.Weak() != weak {
			t.Errorf("%s: weak %v", g, g.Weak())
		}
	}
}

// A stack under the post, or the holes that a button is sewn through: the wider
// of the two, and nothing where neither is told.
func TestWhatHolds(t *testing.T) {
	for _, c := range []struct {
		gap, post measure.Length
		key       string
		tol       measure.Length
	}{{0, 0, "", 0}, {4 * mm, 3 * mm, "hole_gap", 50}, {3 * mm, 4 * mm, "post_width", 100}, {3 * mm, 3 * mm, "post_width", 100}} {
		x := &catalog.Closure{Name: "front"}
		if c.gap != 0 {
			x.Notion.HoleGap = catalog.Measured{V: c.gap, Tol: 100, From: catalog.Given}
		}
		if c.post != 0 {
			x.Notion.PostWidth = catalog.Measured{V: c.post, Tol: 200, From: catalog.Given}
		}
		got := HeldBasis(x)
		if c.key != "" && got.Key != notionKey(x, c.key) || got.Tol != c.tol || got.Ground != Read || c.key == "" && got != (Basis{}) {
			t.Errorf("%+v: %+v", c, got)
		}
	}
}

// A fly is worked with the trade's even steps: one allowance is left 1/4 in, of
// two the other 1/8, of three the middle one between (J. Barlup, grading).
func TestGradedSeams(t *testing.T) {
	for n, want := range map[int][]measure.Length{0: {}, 1: {quarter}, 2: {quarter, eighth}, 3: {quarter, in * 3 / 16, eighth}} {
		if got := Grade(n); !slices.Equal(got, want) {
			t.Errorf("%d: %v", n, got)
		}
	}
}

// Thick places, thickest first, of the same thickness in the order of the front,
// its top before its foot. Two shells of 2 mm and 0.5 of canvas are 4.5; with the
// cloths once more 8.5, with those of a hem whose raw edge is turned in 12.5, and
// a turn-under counts once for each layer of cloth that it lies in.
func TestThickPlacesInOrder(t *testing.T) {
	for _, c := range []struct {
		where, stand, run string
		want              []string
	}{
		{"front", `construction = "faced"`, "", []string{"top of the front edge 8.5, 4 cloths", "foot of the front edge 8.5, 4 cloths"}},
		{"front", `construction = "faced"`, "hem = 40\nhem_under = 10", []string{"foot of the front edge 12.5, 6 cloths", "top of the front edge 8.5, 4 cloths"}},
		{"front", "construction = \"folded\"\nturn_under = 10", "", []string{"top of the band 12.5, 6 cloths", "foot of the band 12.5, 6 cloths"}},
		{"front", "construction = \"folded\"\nturn_under = 10", "hem = 40\nhem_under = 10", []string{"foot of the band 16.5, 8 cloths", "top of the band 12.5, 6 cloths"}},
		{"front", `construction = "faced"`, `clear = [{ name = "seam", from = 300, to = 310, pressed = "one-side" }, { name = "yoke", from = 200, to = 210, pressed = "open" }]`,
			[]string{"seam 12.5, 6 cloths", "top of the front edge 8.5, 4 cloths", "foot of the front edge 8.5, 4 cloths", "yoke 8.5, 4 cloths"}},
		{"flap", "", "", []string{"fold of the flap 10.5, 5 cloths"}},
		{"pocket", "", "", []string{"mouth of the pocket 8.5, 4 cloths"}},
	} {
		k := Of(trial.Read(t, strings.NewReplacer("KEYS", fmt.Sprintf("where = %q", c.where), "STAND", c.stand).Replace(sumsCoat)+c.run), false).Closures[0]
		var got []string
		for _, p := range k.Places {
			got = append(got, fmt.Sprintf("%s %g, %d cloths", p.Name, p.Thick.MM(), p.Cloths))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s, %s, %s: %q, want %q", c.where, c.stand, c.run, got, c.want)
		}
	}
}

// A blend is pressed by what is half of it, and a source covers 70 %: of the most
// delicate fibres together; a little less is not it.
func TestSharesOfABlend(t *testing.T) {
	cat, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		acrylic    float64
		bulk, main string
	}{{50, "acrylic", "cotton"}, {49.7, "cotton", "cotton"}, {70, "acrylic", "acrylic"}, {69.5, "acrylic", "cotton"}} {
		l := IronLimit(cat, map[string]float64{"acrylic": c.acrylic, "cotton": 100 - c.acrylic})
		if l.BulkFibre != c.bulk || l.MainFibre != c.main || l.Fibre != "acrylic" || math.Abs(l.Share-c.acrylic) > 1e-9 {
			t.Errorf("%v %% of acrylic: %+v", c.acrylic, l)
		}
	}
}

// The cloth between two turned layers counts whole: 1, 0.5 and 2 mm are
// π (1.5 + 0.5) longer, their ± half of the outer ones and all of the others.
func TestTurnOfThreeLayers(t *testing.T) {
	cloth := catalog.Layer{Cloth: &catalog.Cloth{}}
	s := Stack{Layers: []Layer{{Layer: cloth, Thick: mm, Tol: mm / 10}, {Thick: mm / 2, Tol: mm / 20}, {Thick: mm / 4, Tol: mm / 20}, {Layer: cloth, Thick: 2 * mm, Tol: mm / 10}}}
	if got, want := s.Turn(), TurnOfCloth(mm*3/2+mm*3/4); got != want {
		t.Errorf("%v, want %v", got, want)
	}
	if got, want := s.TurnTol(), TurnOfCloth(mm/10+mm/10); got != want {
		t.Errorf("± %v, want %v", got, want)
	}
	s.Layers = s.Layers[:3]
	if s.Turn() != 0 || s.TurnTol() != 0 {
		t.Error("one cloth has no turn")
	}
}

// Cloth that shrinks by nothing is cut as it is; by half twice as long; by all of
// it no cutting helps.
func TestCutForAllShrinkage(t *testing.T) {
	for percent, want := range map[float64]measure.Length{-5: 100 * mm, 0: 100 * mm, 50: 200 * mm, 100: 100 * mm, 120: 100 * mm} {
		if got := CutForShrink(100*mm, percent); got != want {
			t.Errorf("%v %%: %v", percent, got)
		}
	}
}

// The division rounded up, on both sides of 0.
func TestCeil(t *testing.T) {
	for a, want := range map[measure.Length]measure.Length{-11: -2, -10: -2, -9: -1, 0: 0, 1: 1, 9: 2, 10: 2, 11: 3} {
		if got := ceil(a, 5); got != want {
			t.Errorf("%d ÷ 5: %d, want %d", a, got, want)
		}
		if got := CeilDiv(int(a), 5); got != int(want) {
			t.Errorf("%d pieces of 5: %d", a, got)
		}
	}
}

// Of two gimps as near to Tex 210 (IASRI e-course) the first is taken; one of
// another fibre or for another job never.
func TestNearestGimp(t *testing.T) {
	gimp := func(tex float64, fibre, job string) *catalog.Thread {
		th := &catalog.Thread{Fibre: fibre, Jobs: []string{job}}
		th.Tex.V, th.Tex.From = measure.LinearDensity(tex), catalog.Stock
		return th
	}
	a, b := gimp(200, "cotton", "gimp"), gimp(220, "cotton", "gimp")
	for _, c := range []struct {
		threads []*catalog.Thread
		want    *catalog.Thread
		tex     measure.LinearDensity
	}{
		{[]*catalog.Thread{a, b}, a, 200}, {[]*catalog.Thread{b, a}, b, 220}, {[]*catalog.Thread{gimp(240, "cotton", "gimp"), a}, a, 200},
		{[]*catalog.Thread{gimp(210, "polyester", "gimp"), gimp(210, "cotton", "seam")}, nil, 210},
	} {
		p := &Plan{Garment: &catalog.Garment{Catalog: &catalog.Catalog{Threads: c.threads}}}
		if th, got := p.Gimp(); got != c.want || th.Tex != c.tex {
			t.Errorf("%v: %v, Tex %v", c.threads, got, float64(th.Tex))
		}
	}
	if got := (&Hole{Length: 25 * mm}).Gimping(); got != 2*25*mm+2*in {
		t.Errorf("gimp of a hole of 25 mm: %v", got) // two legs, an inch at each end
	}
}

// Of two ways to lay pieces that take as much the longest come first; very many
// pieces of no length are not laid.
func TestLaidLongestFirst(t *testing.T) {
	l := Lay(100, 0, []CutPiece{{"short", 100, 10, 1}, {"long", 100, 20, 1}})
	if l.Need != 30 || len(l.Pieces) != 2 || l.Pieces[0].Piece != 1 || l.Pieces[1].Along != 20 {
		t.Errorf("%+v", l)
	}
	if need, fits := LayNeed(100, 0, []CutPiece{{"", 10, 0, 3000}}); need != 0 || fits {
		t.Errorf("%v, %v", need, fits)
	}
}

// A size of which none is made is not asked for what it takes.
func TestNoneOfASize(t *testing.T) {
	g := &Good{Kind: GoodFastener, Pack: 1, N: []int{4, 5}, Spare: []int{1, 1}, Unknown: []bool{true, false}, Len: make([]measure.Length, 2)}
	for _, c := range []struct {
		made  []int
		known bool
		n     int
	}{{[]int{0, 2}, true, 12}, {[]int{1, 2}, false, 17}} {
		if a := g.Amount(measure.MM, c.made); a.Known != c.known || a.Needed+a.Spare != c.n {
			t.Errorf("%v: %+v", c.made, a)
		}
	}
	if size, a := (Goods{g}).Most(measure.MM, []int{0, 1}); size != 1 || a.Needed != 5 || a.Known {
		t.Errorf("most: %d, %+v", size, a)
	}
}

// A machine's limit is held against what passes; of a longer hole that the file
// asks for, against it less its ease, and of a shorter one against that.
func TestAskedOfTheMachine(t *testing.T) {
	for _, c := range []struct {
		name string
		h    Hole
		want measure.Length
	}{
		{"as worked out", Hole{Length: 31, Wanted: 31, Advised: 31, Passing: 28, Ease: 2}, 28},
		{"given, as worked out", Hole{Given: true, Length: 31, Wanted: 31, Advised: 31, Passing: 28, Ease: 2}, 28},
		{"given, longer", Hole{Given: true, Length: 32, Wanted: 31, Advised: 31, Passing: 28, Ease: 2}, 30},
		{"given, shorter", Hole{Given: true, Length: 26, Wanted: 31, Advised: 31, Passing: 28, Ease: 2}, 26},
		{"given, what passes", Hole{Given: true, Length: 28, Wanted: 31, Advised: 31, Passing: 28, Ease: 2}, 28},
		{"by a rule, shorter than what passes", Hole{Given: true, Length: 30, Wanted: 24, Advised: 31, Passing: 28, Ease: -4}, 28},
		{"of a sample", Hole{Sampled: true, Length: 33, Wanted: 33, Advised: 33, Passing: 33, Formula: 28}, 28},
		{"of a sample, given longer", Hole{Sampled: true, Given: true, Length: 40, Wanted: 33, Advised: 33, Passing: 33, Formula: 28}, 35},
	} {
		if got := c.h.Asked(); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// An attachment sews the hole that passes by exactly one of its lengths. A keyhole
// is usual from 20 mm across (ours), and where what passes is longer than the
// longest plain hole.
func TestHolesAtTheLengthsOfAnAttachment(t *testing.T) {
	const machine = "[machine]\nkeyhole = true\nbuttonhole_sizes = [28, 40]\nkeyhole_sizes = [50]\n"
	hole := func(diameter, thickness, more string, with ...string) *Hole {
		text := strings.NewReplacer("KEYS", "", "STAND", "", `diameter = "24 mm ± 0.4"`, "diameter = "+diameter, `thickness = "4 mm"`, "thickness = "+thickness, "[cloth.shell]", more+"[cloth.shell]").Replace(sumsCoat)
		return &Of(trial.Read(t, text, with...), false).Closures[0].Hole
	}
	const plain = "[machine]\nkeyhole = false\nbuttonhole_sizes = [28, 40]\n"
	for _, c := range []struct {
		name, diameter, thickness, machine string
		kind                               string
		length                             measure.Length
		fixed                              bool
	}{
		{"passes 28", "24", "4", plain, "machine", 40 * mm, true}, // with 1/8 in for bulk
		{"passes 40", "36", "4", plain, "machine", 40 * mm, true},
		{"passes 40.01", "36.01", "4", plain, "machine", 44 * mm, false},
		{"19.99 across", "19.99", "4", machine, "machine", 28 * mm, true},
		{"20 across", "20", "4", machine, "keyhole", 50 * mm, true},
		{"passes 40, 19 across", "19", "21", machine, "machine", 40 * mm, true},
		{"passes 40.01, 19 across", "19", "21.01", machine, "keyhole", 50 * mm, true},
	} {
		if h := hole(c.diameter, c.thickness, c.machine); h.Kind != c.kind || h.Length != c.length || h.Fixed != c.fixed {
			t.Errorf("%s: %s of %v, fixed %v", c.name, h.Kind, h.Length, h.Fixed)
		}
	}
}
