package spacing

import (
	"cmp"
	"math/bits"
	"slices"
	"sync"
)

// noGap stands for a gap without an upper limit: more than far, yet a
// thousand of them still fit an int64.
const noGap = 1 << 41

// A span is what lies between two numbers, both included.
type span struct{ lo, hi int64 }

// A grid is the places a centre may take: origin + k·stride for every whole k,
// or none at all.
type grid struct {
	stride, origin int64
	none           bool
}

// down and up are the last k at or above a place and the first at or below it,
// as one looks down the run.
func (g grid) down(place int64) int64 { return floorDiv(place-g.origin, g.stride) }
func (g grid) up(place int64) int64   { return ceilDiv(place-g.origin, g.stride) }
func (g grid) at(k int64) int64       { return g.origin + k*g.stride }

// A leap is an anchor seen from the gaps: a group that starts above from may
// not be followed by one that starts below to, for then nothing would lie at
// the anchor.
type leap struct{ from, to int64 }

// A track is a problem laid on one grid and reduced to three rules for the
// first centres of the groups, its places: each lies in free, each gap within
// limits, and no gap leaps over an anchor. Places are counted in k of the
// grid. A fixed end off the grid counts as the next grid place outside it, and
// its gap is shorter by off.
type track struct {
	grid
	free         []span // where a place may lie, ascending
	leaps        []leap // in k, by from; to is the least of this and all later ones
	least, most  int64  // gap limits in nm
	first, last  end
	direct       bool  // both ends fixed and no anchor between them missed
	firstTo      int64 // fixed first: the furthest next place
	lastFrom     int64 // fixed last: the nearest previous place
	single       int64 // the place, in nm, of a single group
	singleExists bool
}

// An end is the first or last place of a track.
type end struct {
	fixed  bool
	place  int64 // fixed: in nm
	off    int64 // fixed: how much nearer than k, in nm
	lo, hi int64 // in k; equal if fixed
}

// work is the memory of one solution, taken once and used again.
type work struct {
	track
	room   []span // free places, in nm
	jumps  []leap // leaps, in nm
	grids  []grid
	spans  []span // sets of places, level upon level
	levels []int  // where each level's set begins in spans

	rows  []row // see best.go
	begin []int
	nodes []node
	start []int

	ties []span

	tries, budget int  // what was tried, and what may be
	full          bool // the memory that may be used is full

	buf struct {
		room, free, spans [24]span
		jumps, leaps      [8]leap
		grids             [1]grid
		levels, begin     [12]int
		start             [12]int
		ties              [4]span
		rows              [48]row
		nodes             [16]node
	}
}

var works = sync.Pool{New: func() any { return new(work) }}

// newWork is the memory for a solution; release gives it back.
func newWork() *work {
	w := works.Get().(*work)
	w.track, w.tries, w.budget, w.full = track{}, 0, 0, false
	b := &w.buf
	w.room, w.free, w.spans, w.ties = b.room[:0], b.free[:0], b.spans[:0], b.ties[:0]
	w.jumps, w.leaps, w.grids = b.jumps[:0], b.leaps[:0], b.grids[:0]
	w.levels, w.begin, w.start = b.levels[:0], b.begin[:0], b.start[:0]
	w.rows, w.nodes = b.rows[:0], b.nodes[:0]
	return w
}

func (w *work) release() { works.Put(w) }

// survey reads what of the problem does not depend on the grid, then lists the
// grids. It must come before lay.
func (w *work) survey(p *Problem) {
	width, gap := p.width(), int64(p.GroupGap)

	// Zones and anchors become stretches the start of a group keeps out of,
	// open at both ends: a group must neither have a member in a zone nor
	// straddle an anchor between two members.
	w.spans = w.spans[:0]
	shut := func(lo, hi int64) {
		if lo < hi {
			w.spans = append(w.spans, span{lo, hi})
		}
	}
	for _, z := range p.Clear {
		for i := range int64(p.members()) {
			shut(int64(z.From)-i*gap, int64(z.To)-i*gap)
		}
	}
	w.jumps = w.jumps[:0]
	for _, a := range p.Anchors {
		lo, hi := int64(a.At-a.Within), int64(a.At+a.Within)
		w.jumps = append(w.jumps, leap{lo - width, hi})
		for i := range int64(p.members() - 1) {
			shut(hi-(i+1)*gap, lo-i*gap)
		}
	}
	w.tries += len(w.spans) + len(w.jumps)
	slices.SortFunc(w.spans, func(a, b span) int { return cmp.Compare(a.lo, b.lo) })
	slices.SortFunc(w.jumps, func(a, b leap) int { return cmp.Compare(a.from, b.from) })

	// What the shut stretches leave. Two that meet leave the point between.
	w.room = w.room[:0]
	clear, end := int64(0), int64(min(p.Run, p.Last.Max))-width // nothing lies beyond the last
	for _, s := range w.spans {
		if s.lo >= clear && clear <= end {
			w.room = append(w.room, span{clear, min(s.lo, end)})
		}
		clear = max(clear, s.hi)
	}
	if clear <= end {
		w.room = append(w.room, span{clear, end})
	}
	w.findGrids(p)
}

// findGrids lists the grids worth trying: one, or with a free phase one for
// each place some rule holds a start back from above. Any other layout could
// be moved up the run without changing a gap until it meets such a place, and
// would be the better for it.
func (w *work) findGrids(p *Problem) {
	w.grids = w.grids[:0]
	step, repeat := int64(p.Step), int64(p.Repeat)
	first, last := int64(p.First.Min), int64(p.Last.Min)-p.width()
	if repeat == 0 {
		w.grids = append(w.grids, grid{stride: step})
		return
	}
	var phase int64
	switch {
	case p.HasPhase:
		phase = int64(p.Phase)
	case p.First.Fixed():
		phase = first
	case p.Last.Fixed():
		phase = last
	default:
		stride := lcm(step, repeat)
		add := func(place int64) {
			g := grid{stride: stride, origin: mod(ceilDiv(place, step)*step, stride)}
			w.tries += len(w.grids)
			if !w.out() && !slices.Contains(w.grids, g) {
				w.grids = append(w.grids, g)
			}
		}
		add(first)
		add(last)
		for _, s := range w.room {
			add(s.lo)
		}
		for _, j := range w.jumps {
			add(j.from)
		}
		if p.home == nil {
			return
		}
		// Or it could be moved up or down until it meets such a place or one
		// that holds it back from below, or lies nearest its home.
		under := func(place int64) { add(floorDiv(place, step) * step) }
		under(int64(p.First.Max))
		under(int64(p.Last.Max) - p.width())
		for _, s := range w.room {
			under(s.hi)
		}
		for _, j := range w.jumps {
			under(j.to)
		}
		for _, home := range []int64{int64(p.home.first), int64(p.home.last) - p.width()} {
			add(home)
			under(home)
		}
		return
	}
	if p.First.Fixed() && mod(first-phase, repeat) != 0 || p.Last.Fixed() && mod(last-phase, repeat) != 0 {
		return
	}
	w.grids = append(w.grids, meet(step, repeat, mod(phase, repeat)))
}

// lcm is the least common multiple, or noGap if it is more.
func lcm(a, b int64) int64 {
	hi, lo := bits.Mul64(uint64(a/gcd(a, b)), uint64(b))
	if hi != 0 {
		return noGap
	}
	return int64(min(lo, noGap))
}

// meet is the grid of the multiples of step that have a phase in the repeat.
func meet(step, repeat, phase int64) grid {
	g := gcd(step, repeat)
	if phase%g != 0 {
		return grid{stride: 1, none: true}
	}
	m := repeat / g
	hi, lo := bits.Mul64(uint64(step), uint64(mulMod(phase/g%m, inverse(step/g, m), m)))
	if hi != 0 || lo > noGap {
		return grid{stride: 1, none: true} // the first of them is out of reach
	}
	return grid{stride: lcm(step, repeat), origin: int64(lo)}
}

// lay puts the surveyed problem on a grid. It tells whether the ends have a
// place at all.
func (w *work) lay(p *Problem, g grid) bool {
	t := &w.track
	w.tries += len(w.room) + len(w.jumps)
	width := p.width()
	*t = track{grid: g, free: t.free[:0], leaps: t.leaps[:0]}
	t.least, t.most = max(int64(p.Gap.Min), width+1), noGap
	if p.Gap.Max > 0 {
		t.most = int64(p.Gap.Max)
	}
	if !g.none {
		for _, s := range w.room {
			if k := (span{g.up(s.lo), g.down(s.hi)}); k.lo <= k.hi {
				t.free = append(t.free, k)
			}
		}
	}

	// No start above every anchor's reach may be missing, so the first start
	// lies no lower than the end of any anchor, and the last no higher than
	// the beginning of any.
	firstMost, lastLeast := int64(p.First.Max), int64(p.Last.Min)-width
	for _, j := range w.jumps {
		firstMost, lastLeast = min(firstMost, j.to), max(lastLeast, j.from)
		t.leaps = append(t.leaps, leap{g.up(j.from), g.down(j.to)})
	}
	for i := len(t.leaps) - 2; i >= 0; i-- {
		t.leaps[i].to = min(t.leaps[i].to, t.leaps[i+1].to)
	}

	first, last := int64(p.First.Min), int64(p.Last.Max)-width
	if p.First.Fixed() {
		if first > firstMost || !w.hasRoom(first) {
			return false
		}
		k := g.down(first)
		t.first = end{fixed: true, place: first, off: first - g.at(k), lo: k, hi: k}
		t.firstTo = noGap
		for _, j := range w.jumps {
			if first < j.from {
				t.firstTo = min(t.firstTo, g.down(j.to))
			}
		}
	} else {
		t.first = end{lo: g.up(first), hi: g.down(firstMost)}
	}
	if p.Last.Fixed() {
		if last < lastLeast || !w.hasRoom(last) {
			return false
		}
		k := g.up(last)
		t.last = end{fixed: true, place: last, off: g.at(k) - last, lo: k, hi: k}
		t.lastFrom = -noGap
		for _, j := range w.jumps {
			if last > j.to {
				t.lastFrom = max(t.lastFrom, g.up(j.from))
			}
		}
	} else {
		t.last = end{lo: g.up(lastLeast), hi: g.down(last)}
	}
	t.direct = t.first.fixed && t.last.fixed
	for _, j := range w.jumps {
		if first < j.from && last > j.to {
			t.direct = false
		}
	}

	// A single group is first and last at once.
	switch {
	case t.first.fixed:
		t.single, t.singleExists = first, first >= lastLeast && first <= last
	case t.last.fixed:
		t.single, t.singleExists = last, last >= int64(p.First.Min) && last <= firstMost
	default:
		both := span{max(t.first.lo, t.last.lo), min(t.first.hi, t.last.hi)}
		for _, s := range t.free {
			if k := max(s.lo, both.lo); k <= min(s.hi, both.hi) {
				t.single, t.singleExists = g.at(k), true
				break
			}
		}
	}
	return true
}

// hasRoom tells whether a place in nm is free.
func (w *work) hasRoom(place int64) bool {
	for _, s := range w.room {
		if s.lo <= place && place <= s.hi {
			return true
		}
	}
	return false
}
