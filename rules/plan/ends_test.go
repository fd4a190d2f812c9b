package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/trial"
	"placketeer/spacing"
)

// A hole by an attachment of 20 and 30 mm, for a fastener that passes 28: what is
// within a tenth of a millimetre of a size means it, the next longer one is sewn
// else; what passes by none is too long, what passes with less ease is sewn so.
// The tenth is ours.
func TestHolesOfAnAttachment(t *testing.T) {
	const nm = measure.Length(1)
	m := &catalog.Machine{Kind: "household", ButtonholeSizes: []measure.Length{20 * mm, 30 * mm}}
	hole := func(length, passing, ease measure.Length, given bool) Hole {
		return Hole{Kind: "machine", Length: length, Passing: passing, Formula: passing, Wanted: passing, Advised: passing, Ease: ease, Given: given}
	}
	sampled := func(h Hole) Hole { h.Sampled = true; return h }
	for _, c := range []struct {
		name string
		h    Hole
		why  string
		sews measure.Length
	}{
		{"as planned", hole(30*mm, 28*mm, 2*mm, false), "", 0},
		{"passes by the longest", hole(30*mm, 30*mm, 0, false), "", 0},
		{"passes by none", hole(31*mm, 30*mm+nm, 0, false), SewsShorter, 30 * mm},
		{"less ease", hole(30*mm, 28*mm, 2*mm+nm, false), SewsLessEase, 30 * mm},
		{"given, a tenth over", hole(30*mm+mm/10, 28*mm, 2*mm, true), "", 0},
		{"given, more", hole(30*mm+mm/10+nm, 28*mm, 2*mm, true), SewsShorter, 30 * mm},
		{"given, passes by none", hole(30*mm+mm/20, 30*mm+mm/20, 0, true), SewsShorter, 30 * mm},
		{"given, as long as passes", hole(30*mm+mm/20, 30*mm, 0, true), "", 0},
		{"given, shorter than passes", hole(30*mm+mm/20, 30*mm+mm/20+nm, 0, true), "", 0},
		{"given, a tenth under", hole(30*mm-mm/10, 28*mm, 0, true), "", 0},
		{"given, less", hole(30*mm-mm/10-nm, 28*mm, 0, true), SewsOther, 30 * mm},
		{"given, a tenth over the short one", hole(20*mm+mm/10, 18*mm, 0, true), "", 0},
		{"given, more than that", hole(20*mm+mm/10+nm, 18*mm, 0, true), SewsOther, 30 * mm},
		{"of a sample, a tenth over", sampled(hole(30*mm+mm/10, 28*mm, 0, false)), "", 0},
		{"of a sample, more", sampled(hole(30*mm+mm/10+nm, 28*mm, 0, false)), SewsLessEase, 30 * mm},
		{"by hand", Hole{Kind: "hand", Length: 40 * mm, Passing: 40 * mm}, "", 0},
	} {
		if why, sews := beyondMachine(m, &c.h); why != c.why || sews != c.sews {
			t.Errorf("%s: %q, %v; want %q, %v", c.name, why, sews, c.why, c.sews)
		}
	}
	// Without sizes the longest is told.
	m = &catalog.Machine{ButtonholeMax: catalog.Measured{V: 30 * mm, From: catalog.Given}}
	for _, c := range []struct {
		name string
		h    Hole
		why  string
	}{
		{"the longest", hole(30*mm, 30*mm, 0, false), ""}, {"passes by none", hole(30*mm+nm, 30*mm+nm, 0, false), SewsShorter}, {"less ease", hole(30*mm+nm, 30*mm, nm, false), SewsLessEase},
	} {
		if why, _ := beyondMachine(m, &c.h); why != c.why {
			t.Errorf("%s: %q, want %q", c.name, why, c.why)
		}
	}
}

// Together says which cloth an interfacing is on: the one it lies under, the
// outermost too, else the one over it.
func TestWhatLiesOnACloth(t *testing.T) {
	shell, lining, in := &catalog.Cloth{}, &catalog.Cloth{Kind: "lining"}, &catalog.Interfacing{}
	for _, c := range []struct {
		name   string
		layers []catalog.Layer
		on     *catalog.Cloth
	}{
		{"under the outermost", []catalog.Layer{{Cloth: shell}, {Interfacing: in}, {Cloth: lining}}, shell},
		{"outermost", []catalog.Layer{{Interfacing: in}, {Cloth: lining}, {Cloth: shell}}, lining},
		{"under another interfacing", []catalog.Layer{{Cloth: shell}, {Interfacing: &catalog.Interfacing{}}, {Interfacing: in}, {Cloth: lining}}, shell},
	} {
		for _, cl := range []*catalog.Cloth{shell, lining} {
			if got := Together(c.layers, in, cl); got != (cl == c.on) {
				t.Errorf("%s: on %q %v", c.name, cl.Kind, got)
			}
		}
	}
}

// The mouth of a slider at the limits of ASTM D3657-03, and just over them: 3.8,
// 5.7 and 7 mm; 0.15, 0.225 and 0.275 in.
func TestMouthsOfSliders(t *testing.T) {
	for _, c := range []struct {
		mouth      measure.Length
		mm, inches string
	}{
		{mm * 38 / 10, "1–2", "1–2"}, {mm*38/10 + 1, "3–4", "1–2"},
		{in * 150 / 1000, "3–4", "1–2"}, {in*150/1000 + 1, "3–4", "3–4"},
		{mm * 57 / 10, "3–4", "3–4"}, {mm*57/10 + 1, "5–6", "3–4"},
		{in * 225 / 1000, "5–6", "3–4"}, {in*225/1000 + 1, "5–6", "5–6"},
		{in * 275 / 1000, "5–6", "5–6"}, {in*275/1000 + 1, "5–6", "7–10"},
		{7 * mm, "5–6", "7–10"}, {7*mm + 1, "7–10", "7–10"},
	} {
		if a, b := ZipGroup(c.mouth); a != c.mm || b != c.inches {
			t.Errorf("%v: %s and %s, want %s and %s", c.mouth, a, b, c.mm, c.inches)
		}
	}
	// Coils are made from number 2 to 25, others from 1, in whole numbers.
	for number, made := range map[float64]bool{0: false, 1: true, 25: true, 26: false, 4.5: false} {
		if ZipNumberMade(number) != made {
			t.Errorf("number %v made: %v", number, !made)
		}
	}
	if fit, longest := NearestZip([]measure.Length{200, 150, 100, 300}, 150); fit != 150 || longest != 300 {
		t.Errorf("150 or longer: %d, up to %d", fit, longest)
	}
}

// A zip 2 mm longer than its opening is shortened, ours; less is left.
func TestZipLeftAsItIs(t *testing.T) {
	for over, want := range map[measure.Length]measure.Length{2*mm - 1: 0, 2 * mm: 2 * mm, 10 * mm: 10 * mm} {
		s := ZipSize{Need: 500 * mm, Length: 500*mm + over, Listed: true}
		if s.buy(nil); s.Shorten != want || s.Buy != s.Length {
			t.Errorf("%v longer: shortened by %v, bought %v", over, s.Shorten, s.Buy)
		}
	}
	s := ZipSize{Need: 500 * mm, Length: 500 * mm} // not sold: the next that is
	if s.buy([]measure.Length{450 * mm, 550 * mm}); s.Buy != 550*mm || s.Shorten != 50*mm {
		t.Errorf("bought %v, shortened by %v", s.Buy, s.Shorten)
	}
	s = ZipSize{Length: 520 * mm} // the opening is not known
	if s.buy([]measure.Length{550 * mm}); s.Buy != 550*mm || s.Shorten != 30*mm {
		t.Errorf("bought %v, shortened by %v", s.Buy, s.Shorten)
	}
}

// Bars of nothing do not move, and no gap is found for them. A repeat is parted
// into up to twelve: the fewest parts of those as near. Arithmetic.
func TestGapsOfARepeat(t *testing.T) {
	for _, c := range []struct{ over, under, repeat, want measure.Length }{
		{5, 3, 0, 0}, {5, 3, -1, 0}, {5, 3, 10, 2}, {3, 5, 10, -2}, {8, 3, 10, 5}, {3, 8, 10, 5}, {9, 3, 10, -4}, {5, 5, 10, 0},
	} {
		if got := PhaseApart(c.over, c.under, c.repeat); got != c.want {
			t.Errorf("%d over %d of %d: %d, want %d", c.over, c.under, c.repeat, got, c.want)
		}
	}
	for _, c := range []struct {
		wish, repeat, gap measure.Length
		n                 int
	}{
		{0, 60, 0, 0}, {60, 0, 0, 0}, {-1, 60, 0, 0}, {60, -1, 0, 0},
		{101, 60, 120, 2}, {60, 60, 60, 1}, {59, 60, 60, 1}, {45, 60, 60, 1}, {44, 60, 30, -2}, {25, 60, 30, -2}, {24, 60, 20, -3}, {5, 60, 5, -12}, {1, 60, 5, -12}, {40, 60, 30, -2}, {16, 60, 15, -4},
	} {
		if gap, n := RepeatGap(c.wish*mm, c.repeat*mm); gap != c.gap*mm || n != c.n {
			t.Errorf("%d of %d: %d, %d; want %d, %d", c.wish, c.repeat, gap, n, c.gap, c.n)
		}
	}
}

// Lignes from one to another, both of them: 18, 20 and 22 are sold.
func TestLignesFromTo(t *testing.T) {
	l := measure.Length(measure.Ligne)
	if got := LignesBetween(18*l, 22*l); !slices.Equal(got, []measure.Length{18 * l, 20 * l, 22 * l}) {
		t.Errorf("%v", got)
	}
	if got := LignesBetween(18*l+1, 22*l-1); !slices.Equal(got, []measure.Length{20 * l}) {
		t.Errorf("%v", got)
	}
}

// Of buttons none of which is of the size, the nearest tells how thick it is; of
// two as near, the first of the catalogue. What is 2 lignes off is of the size.
func TestNearestButton(t *testing.T) {
	l := measure.Length(measure.Ligne)
	button := func(d, thick measure.Length) *catalog.Notion {
		n := &catalog.Notion{Kind: catalog.Button}
		n.Diameter, n.Thickness = catalog.Measured{V: d, From: catalog.Stock}, catalog.Measured{V: thick, From: catalog.Stock}
		return n
	}
	for _, c := range []struct {
		name string
		with []*catalog.Notion
		want measure.Length
	}{
		{"as near", []*catalog.Notion{button(30*l, 3*mm), button(50*l, 5*mm)}, 3 * mm},
		{"as near, the other way", []*catalog.Notion{button(50*l, 5*mm), button(30*l, 3*mm)}, 5 * mm},
		{"nearer", []*catalog.Notion{button(30*l, 3*mm), button(50*l-1, 5*mm)}, 5 * mm},
		{"2 lignes off", []*catalog.Notion{button(40*l, 3*mm), button(42*l, 5*mm), button(38*l, 6*mm)}, 5 * mm},
		{"more", []*catalog.Notion{button(40*l, 3*mm), button(42*l+1, 5*mm), button(38*l-1, 6*mm)}, 3 * mm},
	} {
		if got := UsualThickness(&catalog.Catalog{Notions: c.with}, 40*l); got.V != c.want {
			t.Errorf("%s: %v, want %v", c.name, got.V, c.want)
		}
	}
}

// Pieces of no width or length, or wider than the goods, are not laid; those of
// which there are none are left out; and of more than 2000 each kind has rows of
// its own. A thousand of 60 across and a thousand of 40 lie side by side in goods
// of 100, 10 long each: 10 000; in rows 10 000 and half as many.
func TestWhatIsLaid(t *testing.T) {
	both := func(goods measure.Length, pieces []CutPiece) (measure.Length, bool) {
		t.Helper()
		need, fits := LayNeed(goods, 0, pieces)
		if l := Lay(goods, 0, pieces); l.Fits != fits || fits && len(l.Pieces) <= 2000 && l.Need != need {
			t.Errorf("%v: laid %v %v, counted %v %v", pieces, l.Need, l.Fits, need, fits)
		}
		return need, fits
	}
	for _, c := range []struct {
		name   string
		pieces []CutPiece
		need   measure.Length
		fits   bool
	}{
		{"no width", []CutPiece{{"", 0, 10, 1}}, 0, false}, {"no length", []CutPiece{{"", 10, 0, 1}}, 0, false}, {"a little", []CutPiece{{"", 1, 1, 1}}, 1, true},
		{"as wide", []CutPiece{{"", 100, 10, 1}}, 10, true}, {"wider", []CutPiece{{"", 101, 10, 1}}, 0, false},
		{"none of it", []CutPiece{{"", 101, 10, 0}, {"", 50, 7, 2}}, 7, true}, {"none of no width", []CutPiece{{"", 0, 0, 0}}, 0, true}, {"one", []CutPiece{{"", 101, 10, 1}, {"", 50, 7, 2}}, 0, false},
		{"two thousand", []CutPiece{{"", 60, 10, 1000}, {"", 40, 10, 1000}}, 10000, true},
		{"one more", []CutPiece{{"", 60, 10, 1000}, {"", 40, 10, 1001}}, 15010, true},
	} {
		if need, fits := both(100, c.pieces); need != c.need || fits != c.fits {
			t.Errorf("%s: %v, %v; want %v, %v", c.name, need, fits, c.need, c.fits)
		}
	}
	for _, c := range []struct {
		n, across                   int
		width, length, goods, cloth measure.Length
	}{{4, 0, 0, 10, 100, 0}, {4, 0, 101, 10, 100, 0}, {4, 1, 100, 10, 100, 40}, {4, 2, 50, 10, 100, 20}, {5, 2, 50, 10, 100, 30}, {4, 100, 1, 10, 100, 10}} {
		if across, cloth := Strips(c.n, c.width, c.length, c.goods, 0); across != c.across || cloth != c.cloth {
			t.Errorf("%d of %v in %v: %d across, %v; want %d, %v", c.n, c.width, c.goods, across, cloth, c.across, c.cloth)
		}
	}
}

// What layouts there are besides the one asked for. A run of 600 from 30 to 570
// is 540: gaps of at most 100 take seven fasteners, six gaps of 90. With four the
// gaps are 180 each, without their limit.
func TestNearestRuns(t *testing.T) {
	runs := func(keys string) []Otherwise {
		text := strings.NewReplacer("KEYS\n", "", "STAND\n", "").Replace(sumsCoat) + "first = 30\nlast = 30\nstep = 1\n" + keys
		p := Of(trial.Read(t, text), false)
		if p.Closures[0].Sizes[0].Solved {
			t.Fatalf("%s: there is a layout", keys)
		}
		return p.NearestRuns(0, 0)
	}
	count := func(n int, gap measure.Length) Otherwise {
		return Otherwise{Count: n, Least: gap, Most: gap, First: 30 * mm, LastEnd: 30 * mm}
	}
	without := func(o Otherwise, k spacing.Kind) Otherwise {
		o.Without, o.Given = k, true
		return o
	}
	four := count(4, 180*mm)
	for _, c := range []struct {
		keys string
		want []Otherwise
	}{
		{"gap.max = 100", []Otherwise{count(7, 90*mm), without(four, spacing.KindGapMax)}},
		// The nearest count that goes, on either side: 3 has gaps of 270, 5 of 135.
		{"gap = { min = 185, max = 300 }", []Otherwise{count(3, 270*mm), without(four, spacing.KindGapMax)}},
		// Twelve have gaps of 50 at most, eight more than four; thirteen are too far off.
		{"gap = { min = 48, max = 50 }", []Otherwise{{Count: 12, Least: 49 * mm, Most: 50 * mm, First: 30 * mm, LastEnd: 30 * mm}, without(four, spacing.KindGapMax)}},
		{"gap = { min = 45, max = 45 }", []Otherwise{without(four, spacing.KindGapMax)}},
		{`clear = [{ name = "dart", from = 205, to = 215 }]` + "\ngap.max = 180\ngap.min = 180", []Otherwise{without(four, spacing.KindClear)}},
		{`anchor = [{ name = "bust", at = 150, within = 0 }]` + "\ngap.min = 140", []Otherwise{without(four, spacing.KindAnchor)}},
	} {
		got := runs(c.keys)
		for _, o := range got {
			if !o.Given && !slices.Contains(c.want, o) {
				t.Errorf("%s: too far off: %+v", c.keys, o)
			}
		}
		for _, w := range c.want {
			if !slices.Contains(got, w) {
				t.Errorf("%s: no %+v in %+v", c.keys, w, got)
			}
		}
	}
}

// What a bound hole is wide: two lips of 1/8 in, in bulky cloth (over 3 mm, ours)
// of 3/16 in (state extension, Tailoring series).
func TestWidthOfABoundHole(t *testing.T) {
	for thick, want := range map[string]float64{"1.25": 6.35, "1.255": 9.525} {
		k := sumsPlan(t, `hole = "bound"`, "", "cloth.shell.thickness="+thick+" mm")
		if got := k.Hole.Width.MM(); math.Abs(got-want) > 1e-6 {
			t.Errorf("two layers of %s mm and 0.5: %v mm wide, want %v", thick, got, want)
		}
	}
}
