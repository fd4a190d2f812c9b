package plan

import (
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
