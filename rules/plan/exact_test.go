package plan

import (
	"reflect"
	"slices"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// An anchor is served by the nearest centre, the upper one of two as near, where it
// is no farther than it may be.
func TestNearestServesAnAnchor(t *testing.T) {
	anchor := catalog.Anchor{Name: "bust"}
	anchor.At = catalog.Sized{{V: 100 * mm, From: catalog.Given}}
	anchor.Within = catalog.Sized{{V: 10 * mm, From: catalog.Given}}
	c := &catalog.Closure{}
	c.Run.Anchors = []catalog.Anchor{anchor}
	g := &catalog.Garment{Sizes: []string{"M"}}
	for _, q := range []struct {
		at   []measure.Length
		want int // -1: none
	}{
		{[]measure.Length{90 * mm, 200 * mm}, 0}, {[]measure.Length{90*mm - 1, 200 * mm}, -1}, {[]measure.Length{0, 110 * mm}, 1}, {[]measure.Length{0, 110*mm + 1}, -1},
		{[]measure.Length{95 * mm, 105 * mm}, 0}, {[]measure.Length{95 * mm, 105*mm - 1}, 1}, {[]measure.Length{100 * mm}, 0}, {nil, -1},
	} {
		got := Serves(g, c, &Size{Size: "M", Positions: q.at})
		if (q.want < 0) != (len(got) == 0) || q.want >= 0 && !slices.Equal(got[q.want], []string{"bust"}) {
			t.Errorf("%v: %v, want %d", q.at, got, q.want)
		}
	}
}

// Of sizes that need as much, the first is the one that needs most; a longer one
// or one with a spare more comes before it.
func TestFirstOfThoseThatNeedMost(t *testing.T) {
	good := func(n, spare []int, l []measure.Length) Goods {
		return Goods{{Kind: GoodFastener, Pack: 1, Index: 0, N: n, Spare: spare, Unknown: make([]bool, len(n)), Len: l}}
	}
	none, flat := []int{0, 0, 0}, make([]measure.Length, 3)
	for _, c := range []struct {
		l    Goods
		want int
	}{
		{good([]int{4, 4, 4}, none, flat), 0}, {good([]int{4, 5, 5}, none, flat), 1}, {good([]int{4, 5, 6}, none, flat), 2},
		{good([]int{4, 4, 4}, []int{0, 1, 1}, flat), 1},
	} {
		if size, _ := c.l.Most(measure.MM, []int{0, 1, 2}); size != c.want {
			t.Errorf("%v and %v: size %d, want %d", c.l[0].N, c.l[0].Spare, size, c.want)
		}
	}
}

// The usual thickness of a button is that of the middle one of its size (the upper
// of two), to 1/20 mm, and at least half of those of its size lie within its ±.
func TestUsualThicknessIsTheMiddleOne(t *testing.T) {
	button := func(d, thick measure.Length) *catalog.Notion {
		n := &catalog.Notion{Kind: catalog.Button}
		n.Diameter = catalog.Measured{V: d, From: catalog.Stock}
		n.Thickness = catalog.Measured{V: thick, From: catalog.Stock}
		return n
	}
	cat := &catalog.Catalog{}
	for i, tenths := range []measure.Length{52, 20, 31, 24, 40, 28, 36, 25} { // 20 24 25 28 31 36 40 52
		cat.Notions = append(cat.Notions, button(20*mm+measure.Length(i-4)*mm/4, tenths*mm/10))
	}
	cat.Notions = append(cat.Notions, button(40*mm, 9*mm), button(20*mm+likeSize+1, 9*mm))
	for n, want := range map[int][3]measure.Length{ // in tenths: the middle one, and the quarters
		8: {31, 25, 40}, 7: {31, 24, 40}, 5: {31, 24, 40}, 3: {31, 20, 52}, 2: {52, 20, 52}, 1: {52, 52, 52},
	} {
		few := &catalog.Catalog{Notions: append(slices.Clone(cat.Notions[:n]), cat.Notions[8:]...)}
		got := UsualThickness(few, 20*mm)
		if v := want[0] * mm / 10; got.V != v || got.Tol != max(want[2]*mm/10-v, v-want[1]*mm/10) {
			t.Errorf("of %d: %v ± %v, want %v, quarters %v and %v", n, got.V, got.Tol, want[0], want[1], want[2])
		}
		in := 0
		for _, b := range few.Notions[:n] {
			if (b.Thickness.V - got.V).Abs() <= got.Tol {
				in++
			}
		}
		if 2*in < n {
			t.Errorf("of %d only %d lie within ±", n, in)
		}
	}
	if got := UsualThickness(cat, 60*mm); got.V != 9*mm {
		t.Errorf("the nearest, where none is of that size: %v", got.V)
	}
}

// A fibre of which there is none limits nothing.
func TestNoneOfAFibreLimitsNothing(t *testing.T) {
	cat, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	all, none := IronLimit(cat, map[string]float64{"cotton": 100}), IronLimit(cat, map[string]float64{"cotton": 100, "polyamide": 0})
	if !reflect.DeepEqual(all, none) || all.Fibre != "cotton" {
		t.Errorf("%+v, with none of another %+v", all, none)
	}
}

// A hole that ends on the line of the hem is cut into it: the last fastener lies a
// hair farther up than its hole reaches down, but no more; where the rim reaches
// as far or farther, that much is enough, for it lies on top.
func TestAHoleEndsAboveTheLine(t *testing.T) {
	for _, c := range []struct{ down, rim, want measure.Length }{
		{12 * mm, 10 * mm, 12*mm + 1}, {12*mm + 1, 12 * mm, 12*mm + 2}, {12 * mm, 12 * mm, 12 * mm}, {10 * mm, 12 * mm, 10 * mm},
	} {
		k := &Closure{}
		k.Reach.Down, k.Reach.Rim = c.down, c.rim
		if got := k.EndReach(); got != c.want {
			t.Errorf("down %v, rim %v: %d nm, want %d", c.down, c.rim, got, c.want)
		}
	}
}

// Pieces lie side by side, as many as the width takes, from the end that is cut
// first: of five 40 mm wide two lie across goods of 100 mm, in three rows.
func TestRowsBeginAtTheEnd(t *testing.T) {
	laid, used := layRows(100*mm, []CutPiece{{Width: 40 * mm, Length: 10 * mm, N: 5}, {Width: 100 * mm, Length: 30 * mm, N: 1}, {Width: 10 * mm, Length: 5 * mm}})
	want := [][2]measure.Length{{0, 0}, {40, 0}, {0, 10}, {40, 10}, {0, 20}, {0, 30}}
	if len(laid) != len(want) || used != 60*mm {
		t.Fatalf("%d laid on %v", len(laid), used)
	}
	for i, l := range laid {
		if l.Across != want[i][0]*mm || l.Along != want[i][1]*mm {
			t.Errorf("piece %d lies at %v, %v, want %v", i, l.Across, l.Along, want[i])
		}
	}
}

// What is held against a machine's longest hole: of a given length beyond the one
// worked out what is not ease, never less than what passes; of a shorter one what
// is sewn; of one worked out what passes.
func TestWhatIsAskedOfTheMachine(t *testing.T) {
	for _, c := range []struct {
		given                                        bool
		length, passing, wanted, advised, ease, want measure.Length
	}{
		{false, 31, 28, 31, 31, 3, 28}, {true, 27, 28, 31, 31, 0, 27}, {true, 28, 28, 31, 31, 0, 28}, {true, 31, 28, 31, 31, 3, 28},
		{true, 32, 28, 31, 31, 3, 29}, {true, 40, 28, 31, 31, 3, 37}, {true, 29, 28, 28, 28, 3, 28},
	} {
		h := &Hole{Given: c.given, Length: c.length * mm, Passing: c.passing * mm, Wanted: c.wanted * mm, Advised: c.advised * mm, Ease: c.ease * mm}
		if got := h.Asked(); got != c.want*mm {
			t.Errorf("%+v: %v", c, got)
		}
	}
}
