package plan

import (
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/trial"
)

// What garments take, and what is bought for them, added up by hand: two of S at
// 4 and 1 spare, three of M at 5 and none, one to test; packs of 6.
func TestAmountsByHand(t *testing.T) {
	g := &Good{Kind: GoodFastener, Pack: 6, N: []int{4, 5}, Spare: []int{1, 0}, Unknown: make([]bool, 2), Len: make([]measure.Length, 2), Once: 1}
	b := Batch{Good: g, Garments: []int{2, 3}}
	if n, l := b.Used(); n != 2*5+3*5 || l != 0 {
		t.Errorf("%d pieces, %v", n, l)
	}
	if a := g.Amount(measure.MM, b.Garments); a.Needed != 23 || a.Spare != 2 || a.Once != 1 || a.Packs != 5 || a.Pieces != 30 {
		t.Errorf("%+v", a)
	}
	if n, _ := (&Batch{Good: g, Garments: []int{1, 0}}).Used(); n != 5 {
		t.Errorf("one S: %d", n)
	}
	for _, c := range []struct{ n, pack, want int }{{0, 6, 0}, {1, 6, 1}, {6, 6, 1}, {7, 6, 2}, {3, 0, 3}, {3, 1, 3}} {
		if got := Packs(c.n, c.pack); got != c.want {
			t.Errorf("%d in packs of %d: %d, want %d", c.n, c.pack, got, c.want)
		}
	}
	// A spool of 100 m: 100 m are one, a little more is two.
	th := &Good{Kind: GoodThread, Unknown: make([]bool, 1), Len: []measure.Length{50 * measure.Metre}, N: make([]int, 1), Spare: make([]int, 1), Spool: 100 * measure.Metre}
	if a := th.Amount(measure.MM, []int{2}); a.Spools != 1 || a.Buy != 100*measure.Metre {
		t.Errorf("%+v", a)
	}
	th.Len[0]++
	if a := th.Amount(measure.MM, []int{2}); a.Spools != 2 || a.Buy != 200*measure.Metre {
		t.Errorf("%+v", a)
	}
	th.Spool = 0 // not known
	if a := th.Amount(measure.MM, []int{2}); a.Spools != 0 || a.Buy != a.Length {
		t.Errorf("%+v", a)
	}
	// Interfacing: two strips of 50 × 600 in goods of 100, and a swatch of 100 × 100;
	// what it covers is 2 × 50 × 600 ÷ 100; of goods of no known width nothing is told.
	in := &Good{Kind: GoodInterfacing, Unknown: make([]bool, 1), Len: make([]measure.Length, 1), N: make([]int, 1), Spare: make([]int, 1),
		Width: 100 * mm, Cut: [][]CutPiece{{{"front", 50 * mm, 600 * mm, 2}}}, Swatches: []CutPiece{{"test", 100 * mm, 100 * mm, 1}}}
	if a := in.Amount(measure.MM, []int{1}); !a.Known || !a.Fits || a.Length != 700*mm || a.Buy != 700*mm {
		t.Errorf("%+v", a)
	}
	if _, l := (&Batch{Good: in, Garments: []int{3}}).Used(); l != 1800*mm {
		t.Errorf("covers %v", l)
	}
	in.Width = 0
	if a := in.Amount(measure.MM, []int{1}); a.Known || a.Length != 0 {
		t.Errorf("%+v", a)
	}
	if _, l := (&Batch{Good: in, Garments: []int{3}}).Used(); l != 0 {
		t.Errorf("covers %v", l)
	}
}

// What serves all that is made is bought once for several batches, the most that
// any asks for; tests are made for each.
func TestPooledOnce(t *testing.T) {
	good := func(kind GoodKind, once int) Batch {
		return Batch{Good: &Good{Kind: kind, Pack: 1, Once: once, N: []int{0}, Spare: []int{0}, Unknown: []bool{false}, Len: []measure.Length{0}}, Garments: []int{1}}
	}
	for _, c := range []struct {
		kind GoodKind
		want int
	}{{GoodNeedle, 3}, {GoodHandNeedle, 3}, {GoodSealant, 3}, {GoodFastener, 6}} {
		if a := Pooled(measure.MM, []Batch{good(c.kind, 2), good(c.kind, 3), good(c.kind, 1)}); a.Once != c.want {
			t.Errorf("%s: %d, want %d", c.kind, a.Once, c.want)
		}
	}
}

// What is bought for a work once: two needles of a sort, for they break, one
// needle for the hand, one sealant for cuts (common practice, no source), and a
// set of hardware to try.
func TestWhatIsBoughtOnce(t *testing.T) {
	for keys, want := range map[string]map[GoodKind]int{
		`hole_finish = "sealed"`: {GoodSealant: 1, GoodFastener: 0, GoodNeedle: 2, GoodHandNeedle: 1},
		"":                       {GoodSealant: 0, GoodFastener: 0, GoodNeedle: 2, GoodHandNeedle: 1},
	} {
		p := Of(trial.Read(t, strings.NewReplacer("KEYS", keys, "STAND", "").Replace(sumsCoat)), false)
		got := map[GoodKind]int{}
		for _, g := range p.Goods() {
			got[g.Kind] = max(got[g.Kind], g.Once)
		}
		for kind, n := range want {
			if got[kind] != n {
				t.Errorf("%s: %d of %s, want %d", keys, got[kind], kind, n)
			}
		}
	}
	p := Of(trial.Read(t, strings.NewReplacer("KEYS", "", "STAND", "", `fastener = "button"`, `fastener = "snap"`, "holes = 4\nhole_gap = \"3 mm ± 0.2\"", "post = 6").Replace(sumsCoat)), false)
	for _, g := range p.Goods() {
		if g.Kind == GoodFastener && g.Once != 1 {
			t.Errorf("%d sets to try", g.Once)
		}
	}
}

// Of two cords as near to the thickness asked for the first is taken, within a
// quarter of a millimetre, ours; one that stretches never.
func TestCordAsThick(t *testing.T) {
	cord := func(thick measure.Length, of string) *catalog.CordPart {
		return &catalog.CordPart{Thickness: catalog.Measured{V: thick, From: catalog.Stock}, Material: of}
	}
	a, b, c := cord(4*mm+mm/4, "cotton"), cord(4*mm-mm/4, "cotton"), cord(4*mm, "elastic")
	for _, q := range []struct {
		have []*catalog.CordPart
		want *catalog.CordPart
	}{
		{[]*catalog.CordPart{a, b, c}, a}, {[]*catalog.CordPart{b, a}, b}, {[]*catalog.CordPart{a, cord(4*mm, "cotton")}, nil}, {[]*catalog.CordPart{c}, nil},
		{[]*catalog.CordPart{cord(4*mm+mm/4+1, "cotton"), cord(4*mm-mm/4-1, "cotton")}, nil},
	} {
		got := cordOf(&catalog.Catalog{Cords: q.have}, 4*mm)
		if len(q.have) == 2 && q.want == nil && q.have[0] == a {
			q.want = q.have[1] // nearer
		}
		if got != q.want {
			t.Errorf("%d cords: %v, want %v", len(q.have), got, q.want)
		}
	}
}

// Half the widest way across of an eyelet: flange, barrel or what goes through.
func TestRimOfAnEyelet(t *testing.T) {
	for _, c := range []struct{ flange, across, inside, want measure.Length }{{16 * mm, 10 * mm, 8 * mm, 8 * mm}, {0, 10 * mm, 8 * mm, 5 * mm}, {0, 0, 8 * mm, 4 * mm}} {
		n := &catalog.Notion{Kind: catalog.Eyelet}
		n.Flange.V, n.Diameter.V, n.Inside.V = c.flange, c.across, c.inside
		if got := rimOf(n); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// A sample of layers of which nothing is known has their thickness; of those that
// have one, each keeps its share.
func TestSampleOfNothing(t *testing.T) {
	c := &catalog.Closure{Name: "front"}
	free := catalog.Measured{V: 5 * mm, From: catalog.Given}
	var s Stack
	if s.sampled(c, free, "stack", catalog.Measured{}); s.Thick != 5*mm || s.Pressed != 0 || s.Bulk() != 5*mm {
		t.Errorf("%v, %v pressed, %v of bulk", s.Thick, s.Pressed, s.Bulk())
	}
	s = Stack{Thick: 4 * mm, Pressed: 2 * mm, Layers: []Layer{{Thick: 4 * mm, Pressed: 2 * mm}}}
	if s.sampled(c, free, "stack", catalog.Measured{}); s.Thick != 5*mm || s.Pressed != mm*5/2 || s.Bulk() != 5*mm {
		t.Errorf("%v, %v pressed, %v of bulk", s.Thick, s.Pressed, s.Bulk())
	}
}
