package plan

import (
	"math"
	"path/filepath"
	"slices"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"

	"pgregory.net/rapid"
)

// Strips of 2 1/2 in cut side by side: whole strips in the width of the
// goods, plain arithmetic. Widths from memory.
func TestLayAcross(t *testing.T) {
	for _, c := range []struct {
		goods  measure.Length
		across int
	}{{20 * in, 8}, {45 * in, 18}, {60 * in, 24}} {
		strip := CutPiece{Name: "strip", Width: in * 5 / 2, Length: 24 * in, N: c.across}
		if l := Lay(c.goods, 0, []CutPiece{strip}); !l.Fits || l.Need != 24*in {
			t.Errorf("%d strips from %s: need %s, want 24 in", c.across, c.goods, l.Need)
		}
		strip.N++
		if l := Lay(c.goods, 0, []CutPiece{strip}); l.Need != 48*in {
			t.Errorf("%d strips from %s: need %s, want 48 in", strip.N, c.goods, l.Need)
		}
	}
}

// Hair canvas that shrinks 5 % lengthwise, measured on a square by a tailor
// who sells it (Why you must pre-shrink hair canvas): to have 24 in, 24 ÷ 0.95
// = 25.26 in is cut.
func TestLayShrink(t *testing.T) {
	l := Lay(60*in, 5, []CutPiece{{"canvas", 3 * in, 24 * in, 2}})
	if got := l.Need.In(); math.Abs(got-25.26) > 0.01 {
		t.Errorf("need %.3f in, want 25.26 in", got)
	}
	if l.Used != 24*in {
		t.Errorf("used %s, want 24 in", l.Used)
	}
}

func TestLayTooWide(t *testing.T) {
	if l := Lay(2*in, 0, []CutPiece{{"strip", 3 * in, 24 * in, 1}}); l.Fits || l.Need != 0 {
		t.Errorf("a strip of 3 in fits goods of 2 in: %+v", l)
	}
	if l := Lay(2*in, 0, nil); !l.Fits || l.Need != 0 {
		t.Errorf("nothing to cut needs %s", l.Need)
	}
}

// Short pieces take the room below a shorter one: two strips of 20 and four
// patches of 5 in, 4 in wide, in goods 16 in wide need one length of 20 in,
// where rows of each kind would take 25 in.
func TestLayBelow(t *testing.T) {
	l := Lay(16*in, 0, []CutPiece{{"strip", 4 * in, 20 * in, 2}, {"patch", 4 * in, 5 * in, 4}})
	if l.Need != 20*in {
		t.Errorf("need %s, want 20 in", l.Need.Exact(measure.In))
	}
}

// Whatever is laid: all pieces are there, inside the goods and apart, and it
// takes no more than rows of each kind, nor less than the area and the
// longest piece ask for.
func TestLayAlways(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		goods := measure.Length(rapid.IntRange(4, 60).Draw(t, "goods")) * in
		kinds := rapid.IntRange(0, 5).Draw(t, "kinds")
		var pieces []CutPiece
		var plain, longest measure.Length
		var area float64
		for range kinds {
			p := CutPiece{
				Width:  measure.Length(rapid.IntRange(1, int(goods/in)*4).Draw(t, "width")) * in / 4,
				Length: measure.Length(rapid.IntRange(1, 120).Draw(t, "length")) * in / 4,
				N:      rapid.IntRange(0, 12).Draw(t, "n"),
			}
			pieces = append(pieces, p)
			if p.N == 0 {
				continue
			}
			_, cloth := Strips(p.N, p.Width, p.Length, goods, 0)
			plain += cloth
			longest = max(longest, p.Length)
			area += float64(p.N) * p.Width.In() * p.Length.In()
		}
		l := Lay(goods, 0, pieces)
		if !l.Fits {
			t.Fatalf("pieces narrower than the goods do not fit")
		}
		if l.Need > plain {
			t.Fatalf("need %s, rows of each kind %s", l.Need, plain)
		}
		if l.Need < longest || l.Need.In()*goods.In() < area-1e-6 {
			t.Fatalf("need %s is less than there is", l.Need)
		}
		count := make([]int, len(pieces))
		for i, a := range l.Pieces {
			count[a.Piece]++
			if a.Width != pieces[a.Piece].Width || a.Length != pieces[a.Piece].Length {
				t.Fatalf("a piece changed its size: %+v", a)
			}
			if a.Across < 0 || a.Along < 0 || a.Across+a.Width > goods || a.Along+a.Length > l.Used {
				t.Fatalf("a piece lies outside the goods: %+v", a)
			}
			for _, b := range l.Pieces[:i] {
				if a.Across < b.Across+b.Width && b.Across < a.Across+a.Width && a.Along < b.Along+b.Length && b.Along < a.Along+a.Length {
					t.Fatalf("two pieces overlap: %+v %+v", a, b)
				}
			}
		}
		for i, p := range pieces {
			if count[i] != p.N {
				t.Fatalf("%d pieces of %d laid", count[i], p.N)
			}
		}
	})
}

func TestPacks(t *testing.T) {
	for _, c := range []struct{ n, pack, want int }{{0, 4, 0}, {1, 4, 1}, {4, 4, 1}, {5, 4, 2}, {7, 0, 7}, {7, 1, 7}} {
		if got := Packs(c.n, c.pack); got != c.want {
			t.Errorf("%d in packs of %d: %d, want %d", c.n, c.pack, got, c.want)
		}
	}
}

// planned plans a garment of testdata/plan.
func planned(t testing.TB, name string, with ...string) *Plan {
	t.Helper()
	g, err := catalog.Load(filepath.Join("..", "..", "testdata", "plan", name+".toml"), catalog.Options{With: with})
	if err != nil {
		t.Fatal(err)
	}
	return Of(g, false)
}

// What a garment takes is counted by piece and size.
func TestFasteners(t *testing.T) {
	p := planned(t, "test-coat")
	for i, want := range []struct{ fasteners, holes int }{{5, 5}, {2, 2}} {
		k := &p.Closures[i]
		n, known := k.Fasteners(0)
		if n != want.fasteners || !known || k.Holes(0) != want.holes {
			t.Errorf("%s: %d fasteners, %d holes, want %+v", k.Closure.Name, n, k.Holes(0), want)
		}
		one := k.Sewing.HoleThread + ButtonThread
		if k.Sewing.ThreadCut > 0 { // by hand
			one = k.Sewing.HoleThread + k.Sewing.ThreadCut
		}
		if got := k.ThreadFor(0); (got - Scale(one, float64(n)*threadWaste)).Abs() > mm {
			t.Errorf("%s: thread %s", k.Closure.Name, got)
		}
		if k.Sewing.Used != max(k.ThreadFor(0), k.ThreadFor(1)) {
			t.Errorf("%s: thread used %s is not that of the size that takes most", k.Closure.Name, k.Sewing.Used)
		}
	}
	// A front of two columns has two buttons a row, and a hole a row that buttons.
	p = planned(t, "test-coat", "closure.front.lap=double", "closure.front.rows.distance=2 1/2 in", "closure.front.rows.working=3")
	if n, _ := p.Closures[0].Fasteners(0); n != 10 || p.Closures[0].Holes(0) != 3 {
		t.Errorf("double-breasted: %d fasteners, %d holes, want 10 and 3", n, p.Closures[0].Holes(0))
	}
}

// The flat button nearest to a diameter, found by its place among them, is the
// one that looking at every button finds.
func TestFlatSoldIsTheNearest(t *testing.T) {
	stock, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	with := 0
	for want := measure.Length(0); want < 60*mm; want += mm / 8 {
		d, n := FlatSold(stock, want)
		best := measure.Length(0)
		sizes := slices.Clone(LignesSold)
		off := func(a measure.Length) measure.Length { return (a - want).Abs() }
		better := func(a measure.Length) bool { return best == 0 || off(a) < off(best) || off(a) == off(best) && a > best }
		for _, l := range sizes {
			if a := measure.Length(l) * measure.Ligne; better(a) {
				best = a
			}
		}
		for _, b := range stock.Notions {
			if backs(b) && better(b.Diameter.V) {
				best = b.Diameter.V
			}
		}
		if d != best {
			t.Errorf("nearest to %s is %s, want %s", want.ShortFine(measure.MM), d.ShortFine(measure.MM), best.ShortFine(measure.MM))
		}
		for _, b := range stock.Notions {
			if backs(b) && b.Diameter.V == d && (n == nil || flatter(b, n)) {
				t.Errorf("%s: %v, but %s is better", d.ShortFine(measure.MM), n, b.Name)
			}
		}
		if n != nil {
			if with++; n.Diameter.V != d {
				t.Errorf("%s is not %s across", n.Name, d.ShortFine(measure.MM))
			}
		}
	}
	if with < 50 {
		t.Errorf("only %d have a button", with)
	}
}
