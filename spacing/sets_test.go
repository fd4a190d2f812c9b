package spacing

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

var spans = cmp.AllowUnexported(span{})

// Sets of places are spans that do not touch: what touches is joined, what has a
// place between is not. It is told whether the set has grown.
func TestSetsAreJoined(t *testing.T) {
	for _, c := range []struct {
		name           string
		old, new, want []span
		more           bool
	}{
		{"alike", []span{{1, 3}}, []span{{1, 3}}, []span{{1, 3}}, false},
		{"within", []span{{1, 9}}, []span{{2, 3}, {5, 5}}, []span{{1, 9}}, false},
		{"nothing new", []span{{1, 3}, {7, 9}}, nil, []span{{1, 3}, {7, 9}}, false},
		{"nothing old", nil, []span{{1, 3}}, []span{{1, 3}}, true},
		{"overlapping", []span{{1, 5}}, []span{{3, 9}}, []span{{1, 9}}, true},
		{"touching", []span{{1, 3}}, []span{{4, 6}}, []span{{1, 6}}, true},
		{"a place between", []span{{1, 3}}, []span{{5, 6}}, []span{{1, 3}, {5, 6}}, true},
		{"before", []span{{5, 6}}, []span{{1, 3}}, []span{{1, 3}, {5, 6}}, true},
		{"touching before", []span{{4, 6}}, []span{{1, 3}}, []span{{1, 6}}, true},
		{"between", []span{{1, 2}, {8, 9}}, []span{{4, 5}}, []span{{1, 2}, {4, 5}, {8, 9}}, true},
		{"filling", []span{{1, 2}, {6, 9}}, []span{{3, 5}}, []span{{1, 9}}, true},
		{"larger, as many spans", []span{{1, 2}, {6, 7}}, []span{{6, 8}}, []span{{1, 2}, {6, 8}}, true},
		{"from the same place", []span{{1, 2}, {6, 9}}, []span{{1, 3}, {6, 7}}, []span{{1, 3}, {6, 9}}, true},
	} {
		w := newWork()
		w.levels = append(w.levels[:0], 0, len(c.old), len(c.old)+len(c.new))
		w.spans = append(append(w.spans[:0], c.old...), c.new...)
		more := w.keep(0, len(c.old))
		got := slices.Clone(w.spans[len(c.old):])
		if diff := cmp.Diff(c.want, got, spans); diff != "" || more != c.more || w.levels[2] != len(w.spans) {
			t.Errorf("%s: grown: %v (-want +got)\n%s", c.name, more, diff)
		}
		w.release()
	}
}

// Places 1 to 2 and 6 to 7, moved by a gap: where the moved ones touch they are
// one span, and where a place is left out they are two. Of the free places alone,
// and past an anchor none leaps.
func TestSetsMoveDownTheRun(t *testing.T) {
	for _, c := range []struct {
		name        string
		least, most int64
		clip        span
		free        []span
		leaps       []leap
		want        []span
	}{
		{"one gap", 10, 10, span{0, 99}, []span{{0, 99}}, nil, []span{{11, 12}, {16, 17}}},
		{"a place between", 10, 12, span{0, 99}, []span{{0, 99}}, nil, []span{{11, 14}, {16, 19}}},
		{"touching", 10, 13, span{0, 99}, []span{{0, 99}}, nil, []span{{11, 20}}},
		{"overlapping", 10, 20, span{0, 99}, []span{{0, 99}}, nil, []span{{11, 27}}},
		{"clipped", 10, 20, span{12, 25}, []span{{0, 99}}, nil, []span{{12, 25}}},
		{"clipped to one", 10, 12, span{19, 99}, []span{{0, 99}}, nil, []span{{19, 19}}},
		{"clipped away", 10, 12, span{20, 99}, []span{{0, 99}}, nil, nil},
		{"free to the ends", 10, 20, span{0, 99}, []span{{0, 11}, {20, 20}, {27, 99}}, nil, []span{{11, 11}, {20, 20}, {27, 27}}},
		{"beside the free", 10, 20, span{0, 99}, []span{{0, 10}, {28, 99}}, nil, nil},
		// From 1, above 2, none may go below 11; from 2 they go from 12 on.
		{"an anchor", 10, 20, span{0, 99}, []span{{0, 99}}, []leap{{2, 11}}, []span{{11, 27}}},
		{"an anchor above", 9, 20, span{0, 99}, []span{{0, 99}}, []leap{{8, 11}}, []span{{10, 11}}},
	} {
		w := newWork()
		w.budget = MaxTries
		w.track = track{grid: grid{stride: 1}, free: c.free, leaps: c.leaps}
		w.spans = append(w.spans[:0], span{1, 2}, span{6, 7})
		w.advance(0, 2, c.least, c.most, c.clip)
		got := slices.Clone(w.spans[2:])
		if diff := cmp.Diff(c.want, got, spans, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.name, diff)
		}
		w.release()
	}
}

// Whether any layout exists, told without finding one: just so, and just not.
func TestPossible(t *testing.T) {
	base := Problem{Run: 20, Step: 5, First: Window{0, 20}, Last: Window{0, 20}}
	for _, c := range []struct {
		name string
		set  func(*Problem)
		want bool
	}{
		{"one in two places", func(p *Problem) { p.First, p.Last, p.CountMin, p.CountMax = At(0), At(10), 1, 1 }, false},
		{"one in one", func(p *Problem) { p.First, p.Last, p.CountMin, p.CountMax = At(10), At(10), 1, 1 }, true},
		{"one in a window below the other", func(p *Problem) {
			p.First, p.Last, p.CountMin, p.CountMax = Window{0, 5}, Window{10, 20}, 1, 1
		}, false},
		{"one, where the window begins", func(p *Problem) { p.First, p.Last, p.CountMin, p.CountMax = Window{10, 20}, At(10), 1, 1 }, true},
		{"one, where the window ends", func(p *Problem) { p.First, p.Last, p.CountMin, p.CountMax = Window{0, 10}, At(10), 1, 1 }, true},
		{"one above the window", func(p *Problem) { p.First, p.Last, p.CountMin, p.CountMax = Window{15, 20}, At(10), 1, 1 }, false},
		{"one below the window", func(p *Problem) { p.First, p.Last, p.CountMin, p.CountMax = Window{0, 5}, At(10), 1, 1 }, false},
		{"one, where the last may begin", func(p *Problem) { p.First, p.Last, p.CountMin, p.CountMax = At(10), Window{10, 20}, 1, 1 }, true},
		{"one, where the last may end", func(p *Problem) { p.First, p.Last, p.CountMin, p.CountMax = At(10), Window{0, 10}, 1, 1 }, true},
		{"one above the last", func(p *Problem) { p.First, p.Last, p.CountMin, p.CountMax = At(10), Window{15, 20}, 1, 1 }, false},
		{"one below the last", func(p *Problem) { p.First, p.Last, p.CountMin, p.CountMax = At(10), Window{0, 5}, 1, 1 }, false},
		// Gaps of at least 10 leave room for three on 20.
		{"three of 3 to 5", func(p *Problem) { p.CountMin, p.CountMax, p.Gap.Min = 3, 5, 10 }, true},
		{"three of 4 to 5", func(p *Problem) { p.CountMin, p.CountMax, p.Gap.Min = 4, 5, 10 }, false},
		{"at least three", func(p *Problem) { p.CountMin, p.Gap.Min = 3, 10 }, true},
		{"at least four", func(p *Problem) { p.CountMin, p.Gap.Min = 4, 10 }, false},
		// From 2 a gap of 5 ends off the steps; 5, 10 and 15 do not help it.
		{"off the steps", func(p *Problem) { p.First, p.Last, p.Gap = At(2), At(15), Limits{5, 5} }, false},
		{"off the steps, with a gap of 8", func(p *Problem) { p.First, p.Last, p.Gap = At(2), At(15), Limits{5, 8} }, true},
		// 10 can follow 2, and 12 neither. It could follow 5, which can follow the top,
		// but no fastener lies there.
		{"off the steps, and as from the top", func(p *Problem) { p.First, p.Last, p.Gap = At(2), At(12), Limits{5, 8} }, false},
		{"the second of two is out of reach", func(p *Problem) { p.First, p.CountMin, p.Gap = At(2), 2, Limits{19, 19} }, false},
	} {
		p := base
		c.set(&p)
		ok, err := Possible(p)
		if ok != c.want || err != nil {
			t.Errorf("%s: %v, %v", c.name, ok, err)
		}
		if _, err := Solve(p); (err == nil) != c.want {
			t.Errorf("%s: solved: %v", c.name, err)
		}
		// The same by any count of at least one, where it is known to be alone.
		if counts, err := Counts(p); err != nil || (len(counts) > 0) != c.want {
			t.Errorf("%s: counts %v, %v", c.name, counts, err)
		}
	}
}

// Where the first of a group may lie: not in a zone with any of its members, nor
// so that an anchor falls between two of them. Two zones that meet leave the
// place between, a zone of nothing shuts nothing. Geometry.
func TestRoomOnTheRun(t *testing.T) {
	for _, c := range []struct {
		name string
		set  func(*Problem)
		want []span
	}{
		{"all of it", func(*Problem) {}, []span{{0, 100}}},
		{"a zone", func(p *Problem) { p.Clear = []Zone{{"", 20, 30}} }, []span{{0, 20}, {30, 100}}},
		{"zones that meet", func(p *Problem) { p.Clear = []Zone{{"", 20, 30}, {"", 30, 40}} }, []span{{0, 20}, {30, 30}, {40, 100}}},
		{"zones that overlap", func(p *Problem) { p.Clear = []Zone{{"", 20, 31}, {"", 30, 40}} }, []span{{0, 20}, {40, 100}}},
		{"a zone in another", func(p *Problem) { p.Clear = []Zone{{"", 20, 60}, {"", 30, 40}} }, []span{{0, 20}, {60, 100}}},
		{"a zone of nothing", func(p *Problem) { p.Clear = []Zone{{"", 20, 20}} }, []span{{0, 100}}},
		{"a zone from the top", func(p *Problem) { p.Clear = []Zone{{"", 0, 20}} }, []span{{0, 0}, {20, 100}}},
		{"a zone to the end", func(p *Problem) { p.Clear = []Zone{{"", 80, 100}} }, []span{{0, 80}, {100, 100}}},
		{"a zone over the end", func(p *Problem) { p.Clear = []Zone{{"", 80, 101}} }, []span{{0, 80}}},
		{"a last above the end", func(p *Problem) { p.Last = At(70) }, []span{{0, 70}}},
		{"an anchor", func(p *Problem) { p.Anchors = []Anchor{{"", 50, 2}} }, []span{{0, 100}}},
		{"pairs", func(p *Problem) { p.Group, p.GroupGap = 2, 10 }, []span{{0, 90}}},
		{"pairs and a zone", func(p *Problem) { p.Group, p.GroupGap, p.Clear = 2, 10, []Zone{{"", 40, 45}} }, []span{{0, 30}, {35, 40}, {45, 90}}},
		{"pairs and an anchor", func(p *Problem) { p.Group, p.GroupGap, p.Anchors = 2, 10, []Anchor{{"", 50, 2}} }, []span{{0, 42}, {48, 90}}},
		{"pairs and an anchor as wide", func(p *Problem) { p.Group, p.GroupGap, p.Anchors = 2, 10, []Anchor{{"", 50, 5}} }, []span{{0, 90}}},
		{"threes and an anchor", func(p *Problem) { p.Group, p.GroupGap, p.Anchors = 3, 10, []Anchor{{"", 50, 2}} }, []span{{0, 32}, {38, 42}, {48, 80}}},
	} {
		w := newWork()
		p := Problem{Run: 100, Step: 1, First: Window{0, 100}, Last: Window{0, 100}}
		c.set(&p)
		w.allow(&p)
		w.survey(&p)
		if diff := cmp.Diff(c.want, w.room, spans); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.name, diff)
		}
		w.release()
	}
}

// A level tells whether anything can follow; to look whether it arrives counts
// what is looked at.
func TestLevels(t *testing.T) {
	w := newWork()
	defer w.release()
	p := Problem{Run: 20, Step: 1, First: Window{0, 3}, Last: Window{0, 20}, Clear: []Zone{{"", 0, 2}}}
	for gap, any := range map[int64]bool{17: true, 18: true, 20: true, 21: false} {
		w.allow(&p)
		w.survey(&p)
		w.lay(&p, w.grids[0])
		w.beginLevels()
		if got := w.level(gap, gap, span{-noGap, noGap}); got != any {
			t.Errorf("a gap of %d: %v", gap, got)
		}
		before, looked := w.tries, w.levels[2]-w.levels[1]
		if got := w.arrives(gap, gap); got != any || w.tries-before != looked {
			t.Errorf("a gap of %d: arrives: %v, %d tried of %d", gap, got, w.tries-before, looked)
		}
	}
}

// None that starts above an anchor is followed by one below it, nor by one below
// an anchor that begins further down and ends before.
func TestLeapsOverAnchors(t *testing.T) {
	w := newWork()
	defer w.release()
	p := Problem{Run: 100, Step: 1, First: Window{0, 100}, Last: Window{0, 100}, Anchors: []Anchor{{"", 50, 40}, {"", 57, 12}, {"", 70, 15}, {"", 80, 2}}}
	w.allow(&p)
	w.survey(&p)
	w.lay(&p, w.grids[0])
	if diff := cmp.Diff([]leap{{10, 69}, {45, 69}, {55, 82}, {78, 82}}, w.leaps, cmp.AllowUnexported(leap{})); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	// The first lies no lower than the end of any, the last no higher than the
	// beginning of any.
	if w.first.hi != 69 || w.last.lo != 78 {
		t.Errorf("first to %d, last from %d", w.first.hi, w.last.lo)
	}
}

// What a gap costs is its square less that of what its ends take from it, over
// the stride: arithmetic.
func TestCostOfAGap(t *testing.T) {
	for _, c := range []struct{ stride, k, off int64 }{{1, 7, 0}, {5, 2, 0}, {5, 2, 2}, {5, 3, 4}, {12, 1, 11}} {
		w := track{grid: grid{stride: c.stride}}
		gap := c.k*c.stride - c.off
		if got := w.cost(c.k, c.off); got*c.stride != gap*gap-c.off*c.off {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

// Both ends off the steps of 5, four in all: 8 5 8 is the least uneven. Places
// between are 5 10 15 20; 10 and 15 have gaps that differ by 3, all others by 5 or
// more. Arithmetic.
func TestTheMiddleGapCounts(t *testing.T) {
	l, err := Solve(Problem{Run: 30, Step: 5, First: At(2), Last: At(23), CountMin: 4, CountMax: 4})
	if diff := cmp.Diff([]length{2, 10, 15, 23}, l.Positions); diff != "" || l.Spread != 3 || err != nil {
		t.Errorf("spread %d, %v (-want +got)\n%s", l.Spread, err, diff)
	}
}

// To the nearest nanometre, halves away from 0.
func TestScale(t *testing.T) {
	for _, c := range []struct{ a, num, den, want length }{
		{1, 0, 10, 0}, {1, 4, 10, 0}, {1, 5, 10, 1}, {1, 10, 10, 1}, {3, 5, 10, 2}, {-1, 4, 10, 0}, {-1, 5, 10, -1}, {-3, 5, 10, -2}, {1, 1, 3, 0}, {1, 2, 3, 1}, {1 << 40, 1, 1 << 40, 1},
	} {
		if got := scale(c.a, c.num, c.den); got != c.want {
			t.Errorf("%d of %d/%d: %d, want %d", c.a, c.num, c.den, got, c.want)
		}
	}
}

// One row, and rows at one place, have no lower end to taper to.
func TestOneRowIsAtTheTop(t *testing.T) {
	for _, at := range [][]length{{7}, {7, 7}} {
		for i, r := range Rows(at, Taper{Top: 40, Bottom: 60}) {
			if r.Out != 40 || r.At != 7 {
				t.Errorf("row %d of %d: %+v", i, len(at), r)
			}
		}
	}
}
