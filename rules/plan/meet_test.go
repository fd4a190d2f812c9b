package plan

import (
	"math"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/trial"
)

// Half of a cloth of wool and hair makes it wool, ours; where no fibre is named
// its family does.
func TestWhatIsWool(t *testing.T) {
	for _, c := range []struct {
		fibre map[string]float64
		kind  string
		want  bool
	}{
		{map[string]float64{"wool": 50, "cotton": 50}, "", true}, {map[string]float64{"wool": 49.9, "cotton": 50.1}, "melton", false},
		{map[string]float64{"wool": 30, "hair": 20, "cotton": 50}, "", true}, {nil, "melton", true}, {nil, "suiting", false}, {map[string]float64{"wool": 0}, "melton", true},
	} {
		if got := isWool(&catalog.Cloth{Fibre: c.fibre, Kind: c.kind}); got != c.want {
			t.Errorf("%v %s: %v", c.fibre, c.kind, got)
		}
	}
}

// Coat cloth is heavy from 300 g/m² (a menswear magazine's guide to coats), other
// cloth from 400, denim and duck never.
func TestWhatIsHeavy(t *testing.T) {
	for _, c := range []struct {
		kind, weight string
		want         bool
	}{{"melton", "300", true}, {"melton", "299.9", false}, {"suiting", "400", true}, {"suiting", "399.9", false}, {"heavy-cotton", "500", false}} {
		k := sumsPlan(t, "", "", "cloth.shell.kind="+c.kind, "cloth.shell.weight="+c.weight+" g/m2")
		if got := Heavy(k); got != c.want {
			t.Errorf("%s of %s g/m²: %v", c.kind, c.weight, got)
		}
	}
}

// 100 of a cloth that shrinks 20 % is cut 125 long; what shrinks nothing, or all,
// is cut as it is. Arithmetic.
func TestCutForShrink(t *testing.T) {
	for percent, want := range map[float64]float64{20: 125, 50: 200, 0: 100, -1: 100, 100: 100, 101: 100} {
		if got := CutForShrink(100*mm, percent).MM(); math.Abs(got-want) > 1e-3 {
			t.Errorf("%g %%: %v, want %v", percent, got, want)
		}
	}
	for _, c := range []struct{ a, b, want float64 }{{2, 5, 3}, {5, 2, 3}, {3, 3, 0}} {
		if got := ShrinkApart(100*mm, c.a, c.b).MM(); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%g and %g %%: %v apart, want %v", c.a, c.b, got, c.want)
		}
	}
}

// What just fits is laid beside or below what lies there. Geometry.
func TestLayJustFits(t *testing.T) {
	for _, c := range []struct {
		name   string
		pieces []CutPiece
		need   measure.Length
		fits   bool
	}{
		{"as wide as the goods", []CutPiece{{"a", 10 * mm, 30 * mm, 1}}, 30 * mm, true},
		{"wider", []CutPiece{{"a", 10*mm + 1, 30 * mm, 1}}, 0, false},
		{"side by side", []CutPiece{{"a", 6 * mm, 30 * mm, 1}, {"b", 4 * mm, 20 * mm, 1}}, 30 * mm, true},
		{"one too wide for that", []CutPiece{{"a", 6 * mm, 30 * mm, 1}, {"b", 4*mm + 1, 20 * mm, 1}}, 50 * mm, true},
		{"below, as wide and as long as the room", []CutPiece{{"a", 6 * mm, 30 * mm, 1}, {"b", 4 * mm, 20 * mm, 1}, {"c", 4 * mm, 10 * mm, 1}}, 30 * mm, true},
		{"below, too long", []CutPiece{{"a", 6 * mm, 30 * mm, 1}, {"b", 4 * mm, 20 * mm, 1}, {"c", 4 * mm, 10*mm + 1, 1}}, 40*mm + 1, true},
		{"no length", []CutPiece{{"a", 4 * mm, 0, 1}}, 0, false}, {"no width", []CutPiece{{"a", 0, 4 * mm, 1}}, 0, false}, {"none of it", []CutPiece{{"a", 0, 0, 0}}, 0, true},
	} {
		l := Lay(10*mm, 0, c.pieces)
		if l.Fits != c.fits || l.Fits && l.Need != c.need {
			t.Errorf("%s: fits %v, need %v, want %v and %v", c.name, l.Fits, l.Need, c.fits, c.need)
		}
	}
}

// A fastener serves an anchor as far off as that allows, half an inch or 12 mm
// where it says nothing, and no farther; of two the nearest, of two as near the
// first.
func TestServes(t *testing.T) {
	for _, c := range []struct {
		at   []measure.Length
		with []string
		want int // which serves it, -1 for none
	}{
		{[]measure.Length{30 * mm, 160 * mm}, []string{"closure.front.run.anchor.bust.within=10"}, 1},
		{[]measure.Length{30 * mm, 160*mm + 1}, []string{"closure.front.run.anchor.bust.within=10"}, -1},
		{[]measure.Length{138 * mm, 163 * mm}, nil, 0}, {[]measure.Length{137 * mm}, nil, -1}, {[]measure.Length{140 * mm, 160 * mm}, nil, 0}, {[]measure.Length{140 * mm, 159 * mm}, nil, 1},
	} {
		g := trial.Read(t, strings.NewReplacer("KEYS", "", "STAND", "", "length = 600", "length = 600\nanchor = [{ name = \"bust\", at = 150 }]").Replace(sumsCoat), c.with...)
		got := -1
		for i := range Serves(g, &g.Closures[0], &Size{Positions: c.at}) {
			got = i
		}
		if got != c.want {
			t.Errorf("%v: %d serves it, want %d", c.at, got, c.want)
		}
	}
}

// What lies behind and beside a fastener, and what is cut for it; mm, geometry.
func TestPartsByHand(t *testing.T) {
	k := sumsPlan(t, "backing = \"18L\"", "construction = \"faced\"\nfinished = 20")
	n := 0
	for _, pc := range k.Pieces[0] {
		for _, q := range pc.Parts {
			if q.Kind == BackingPart {
				if n++; q.OutTo-q.OutFrom != 18*measure.Ligne || q.To-q.From != 18*measure.Ligne || q.OutFrom+q.OutTo != 2*q.Centre.Out || q.From+q.To != 2*q.Centre.At {
					t.Errorf("a backing button of 18 ligne lies from %v to %v, %v to %v", q.OutFrom, q.OutTo, q.From, q.To)
				}
			}
		}
	}
	if n != 4 {
		t.Errorf("%d backing buttons", n)
	}
	// A toggle of 60 by 16, its hole 29 from the end, sewn on 70 inside: legs of 70 and
	// to half the reach of its rim, twice, the cord's bend, two seams of 15.
	g := trial.Read(t, `garment = "Duffel coat (invented)"
units = "mm"
[cloth.shell]
use = "melton-heavy"
[[closure]]
name = "toggles"
fastener = "toggle"
cord = 5
inset = 70
over = ["shell", "shell"]
[closure.notion]
length = 60
width = 16
thickness = 14
short_end = 29
[closure.stand]
finished = 40
seam = 15
[closure.run]
length = 700
count = 3
`)
	l := &Of(g, false).Closures[0]
	if got, want := l.Loop.Cut.MM(), 2*(70+l.Reach.Rim.MM()/2)+5*math.Pi/2+30; math.Abs(got-want) > 2e-3 {
		t.Errorf("cut %v for a loop, want %v", got, want)
	}
	if got, want := l.Loop.CutFastener.MM(), 140+5*math.Pi/2+30; math.Abs(got-want) > 2e-3 {
		t.Errorf("cut %v for a toggle, want %v", got, want)
	}
	// Nothing said: a band twice the full stand, 24.
	if b := sumsPlan(t, "", "construction = \"folded\"").Stand.Band; b != 48*mm {
		t.Errorf("a band of %v for a button of 24 mm", b)
	}
	if b := sumsPlan(t, "", "construction = \"band\"").Stand.Band; b != 48*mm {
		t.Errorf("a band sewn on of %v for a button of 24 mm", b)
	}
	if b := sumsPlan(t, "", "construction = \"fly\"\nfinished = 30"); b.Sewing.FlyStitched != 25400*measure.Micrometre/4 || b.Sewing.FlyTacks != 3 {
		t.Errorf("a fly of four is stitched at %v and tacked %d times", b.Sewing.FlyStitched, b.Sewing.FlyTacks)
	}
}

// The weaker ground of two is that of their sum; of two firm ones the wider ±
// names the key to measure. A chain of 6 ± 0.4 is 3 ± 0.2 to its middle.
func TestBasesTogether(t *testing.T) {
	firm := func(tol measure.Length, key string) Basis { return Basis{Tol: tol, Ground: Read, Key: key} }
	if b := firm(1, "a").And(firm(2, "b")); b.Tol != 3 || b.Key != "b" {
		t.Errorf("%+v", b)
	}
	if b := firm(2, "a").And(firm(2, "b")); b.Key != "a" {
		t.Errorf("%+v", b)
	}
	if b := firm(1, "a").And(Basis{Ground: Memory, Key: "b"}); b.Ground != Memory || b.Key != "b" {
		t.Errorf("%+v", b)
	}
	c := &catalog.Closure{}
	c.Notion.Kind = catalog.Zip
	c.Notion.Chain = catalog.Measured{V: 6 * mm, Tol: mm * 4 / 10, From: catalog.Given}
	if b := ChainBasis(c); b.Tol != mm*2/10 {
		t.Errorf("± %v", b.Tol)
	}
}

// Gaps keep a repeat by whole repeats or by up to a twelfth of one, whichever
// is nearest to the wish: 120 ÷ 12 = 10. Arithmetic.
func TestRepeatGaps(t *testing.T) {
	for _, c := range []struct {
		wish, gap measure.Length
		n         int
	}{{120, 120, 1}, {170, 120, 1}, {190, 240, 2}, {61, 60, -2}, {40, 40, -3}, {10, 10, -12}, {9, 10, -12}, {89, 60, -2}, {91, 120, 1}} {
		if gap, n := RepeatGap(c.wish*mm, 120*mm); gap != c.gap*mm || n != c.n {
			t.Errorf("a wish of %d: %v, %d repeats, want %d and %d", c.wish, gap, n, c.gap, c.n)
		}
	}
}

// How far inside a toggle reaches, mm: half its length ± 1, or the longer end,
// that of its length and of its shorter end together. Arithmetic.
func TestToggleBasis(t *testing.T) {
	c := &catalog.Closure{}
	c.Notion.Kind = catalog.Toggle
	c.Notion.Length = catalog.Measured{V: 60 * mm, Tol: mm, From: catalog.Given}
	if b := InBasis(c); b.Tol != mm/2 {
		t.Errorf("half its length: ± %v", b.Tol)
	}
	c.Notion.ShortEnd = catalog.Measured{V: 25 * mm, Tol: mm / 5, From: catalog.Given}
	if b := InBasis(c); b.Tol != mm+mm/5 {
		t.Errorf("the longer end: ± %v", b.Tol)
	}
	if b := RimBasis(c); b.Tol != mm/5 {
		t.Errorf("the shorter end: ± %v", b.Tol)
	}
}
