package spacing

import (
	"errors"
	"slices"
)

// errTooLarge guards against problems whose tables would not fit in memory:
// a fine step over a long run whose gaps must differ by a great deal.
var errTooLarge = errors.New("spacing: too many possible places to compare: ask for a coarser step")

const maxRows = 1 << 23

// A candidate is the best layout seen so far, by the objective's four numbers
// and then its starts.
type candidate struct {
	found   bool
	spread  int64
	squares int64 // sum of squared gaps, as cost counts them
	drift   wide  // sum of squared distances from the even places, times (n-1)²
	starts  []int64
}

// gaps are the values a gap can have, numbered in ascending order: a whole
// number of strides less what a fixed end off the grid takes away.
type gapValues struct {
	stride int64
	rest   [3]int64
	n      int64
}

func (w *work) gapValues(n int) gapValues {
	v := gapValues{stride: w.stride}
	add := func(off int64) {
		rest := mod(-off, w.stride)
		if !slices.Contains(v.rest[:v.n], rest) {
			v.rest[v.n] = rest
			v.n++
		}
	}
	add(w.first.off)
	add(w.last.off)
	if n > 3 {
		add(0)
	}
	slices.Sort(v.rest[:v.n])
	return v
}

func (v gapValues) at(i int64) int64 {
	q := floorDiv(i, v.n)
	return q*v.stride + v.rest[i-q*v.n]
}

// down is the number of the largest value that is at most gap.
func (v gapValues) down(gap int64) int64 {
	q := floorDiv(gap, v.stride)
	i, rest := q*v.n-1, gap-q*v.stride
	for _, r := range v.rest[:v.n] {
		if r <= rest {
			i++
		}
	}
	return i
}

// up is the number of the smallest value that is at least gap.
func (v gapValues) up(gap int64) int64 { return v.down(gap-1) + 1 }

// leastSpread finds the smallest spread of n places, at least 3, that have a
// layout, and leaves in ties every range of gaps, as wide as that and no
// wider, that has one. Ranges wider than bound do not count; without any, ok
// is false.
//
// The lower the smallest gap, the lower the largest can be, so one sweep of
// the two is enough.
func (w *work) leastSpread(n int, bound int64) (spread int64, ok bool) {
	m := int64(n - 1)
	shortest, longest := w.stretch()
	v := w.gapValues(n)
	if !w.holds(n, w.least, w.most) {
		return 0, false
	}
	// The smallest gap is at most the even gap, the largest at least that.
	highest := min(w.most, longest)
	lowA, lowB := v.up(w.least), v.up(max(w.least, ceilDiv(shortest, m)))
	b := v.down(highest)

	// a is the largest smallest gap there is.
	a := lowA
	for over := v.down(min(highest, longest/m)) + 1; over-a > 1; {
		mid := a + (over-a)/2
		if w.holds(n, v.at(mid), v.at(b)) {
			a = mid
		} else {
			over = mid
		}
	}

	w.ties = w.ties[:0]
	for ; a >= lowA; a-- {
		least := max(a, lowB)
		if v.at(least)-v.at(a) > bound {
			break
		}
		// b always has a layout with this a; first see whether it may stay
		// within the bound, then lower it as far as it goes.
		if top := v.down(v.at(a) + bound); top < b {
			if !w.holds(n, v.at(a), v.at(top)) {
				continue
			}
			b = top
		}
		for jump, fails := int64(1), least-1; b-fails > 1; {
			try := max(b-jump, fails+1)
			if w.holds(n, v.at(a), v.at(try)) {
				b, jump = try, 2*jump
			} else {
				fails, jump = try, max(1, (b-try)/2)
			}
		}
		if s := v.at(b) - v.at(a); s < bound || len(w.ties) == 0 {
			bound, w.ties = s, append(w.ties[:0], span{v.at(a), v.at(b)})
		} else {
			w.ties = append(w.ties, span{v.at(a), v.at(b)})
		}
	}
	slices.Reverse(w.ties)
	return bound, len(w.ties) > 0
}

// stretch gives the shortest and longest distance from first to last, in nm.
func (w *work) stretch() (shortest, longest int64) {
	near, far := span{w.first.place, w.first.place}, span{w.last.place, w.last.place}
	if !w.first.fixed {
		near = span{w.at(w.first.lo), w.at(w.first.hi)}
	}
	if !w.last.fixed {
		far = span{w.at(w.last.lo), w.at(w.last.hi)}
	}
	return far.lo - near.hi, far.hi - near.lo
}

// A row is a place on a level of the table, with the least cost from there to
// the last place, and the rows of the next level that can follow it.
type row struct {
	k, cost  int64
	from, to int32 // within the next level; to is not included
}

// The cost of a gap is its square, less what all layouts have in common, over
// the stride: k·(stride·k − 2·off) for a gap of k·stride − off. The squares of
// a whole run then stay below MaxRun·MaxPlaces. It is convex, and steeper for
// longer gaps, which is why the best next places of two rows never cross.
func (t *track) cost(k, off int64) int64 { return k * (t.stride*k - 2*off) }

// tabulate fills the rows of all levels, last level first, for gaps from least
// to most. It leaves w.begin[i] where the rows of the i-th place begin.
func (w *work) tabulate(n int, least, most int64) error {
	w.holds(n, least, most)
	w.rows = w.rows[:0]
	w.begin = slices.Grow(w.begin[:0], n+1)[:n+1]
	for i := n - 1; i >= 0; i-- {
		w.begin[i] = len(w.rows)
		off := w.off(n, i)
		lo, hi := w.steps(least, most, off)
		var next []row
		if i < n-1 {
			next = w.rows[w.begin[i+1]:]
		}
		switch {
		case i == n-1 && w.last.fixed:
			w.rows = append(w.rows, row{k: w.last.lo})
			continue
		case i == n-1:
			for _, s := range w.spans[w.levels[i]:w.levels[i+1]] {
				for k := max(s.lo, w.last.lo); k <= min(s.hi, w.last.hi); k++ {
					w.rows = append(w.rows, row{k: k})
				}
			}
			if len(w.rows) > maxRows {
				return errTooLarge
			}
			continue
		}
		from, to, leaping := 0, 0, 0
		for _, s := range w.spans[w.levels[i]:w.levels[i+1]] {
			if s.hi-s.lo > maxRows-int64(len(w.rows)) {
				return errTooLarge
			}
			for k := s.lo; k <= s.hi; k++ {
				limit := int64(noGap)
				switch {
				case i == 0 && w.first.fixed:
					limit = w.firstTo
				default:
					for leaping < len(w.leaps) && w.leaps[leaping].from <= k {
						leaping++
					}
					if leaping < len(w.leaps) {
						limit = w.leaps[leaping].to
					}
				}
				if i == n-2 && w.last.fixed {
					if limit = noGap; k < w.lastFrom {
						continue
					}
				}
				for from < len(next) && next[from].k < k+lo {
					from++
				}
				for to < len(next) && next[to].k <= min(k+hi, limit) {
					to++
				}
				if from < to {
					w.rows = append(w.rows, row{k: k, from: int32(from), to: int32(to)})
				}
			}
		}
		// Appending may have moved the rows.
		next = w.rows[w.begin[i+1]:w.begin[i]]
		w.fill(w.rows[w.begin[i]:], next, off, 0, int32(len(next)))
	}
	return nil
}

// off is what the gap after the i-th of n places is shorter than in k.
func (t *track) off(n, i int) (off int64) {
	if i == 0 {
		off = t.first.off
	}
	if i == n-2 {
		off += t.last.off
	}
	return off
}

// fill finds the cost of each row. As best next places never cross, that of
// the middle row divides the places the rows above and below it need to try.
func (w *work) fill(rows, next []row, off int64, lo, hi int32) {
	for len(rows) > 0 {
		mid := len(rows) / 2
		r := &rows[mid]
		best := int32(-1)
		for j := max(r.from, lo); j < min(r.to, hi); j++ {
			if c := w.cost(next[j].k-r.k, off) + next[j].cost; best < 0 || c < r.cost {
				r.cost, best = c, j
			}
		}
		w.fill(rows[:mid], next, off, lo, best+1)
		rows, lo = rows[mid+1:], best
	}
}

// A node is a row on some layout with the least sum of squares. Its next
// nodes lie side by side, for the same reason.
type node struct {
	row      int32
	from, to int32 // within the next level; to is not included
	near     bool  // the last place being looked at can be reached
	drift    wide  // least sum of squared distances from here on
}

// refine compares the layouts of n places with gaps from least to most, none
// with a smaller spread, to best.
func (w *work) refine(n int, least, most int64, best *candidate) error {
	if best.found && w.floor(n, least) > best.squares {
		return nil
	}
	if err := w.tabulate(n, least, most); err != nil {
		return err
	}
	squares := int64(-1)
	for _, r := range w.rows[w.begin[0]:] {
		if squares < 0 || r.cost < squares {
			squares = r.cost
		}
	}
	if best.found && squares > best.squares {
		return nil
	}
	if best.found && squares < best.squares {
		best.found = false
	}
	best.squares = squares
	w.connect(n, squares)

	// The even places depend on both ends, so each pair is looked at alone.
	// From the top: of equals the first start stays.
	for f := range w.nodes[w.start[0]:w.start[1]] {
		even := false
		for l := range w.nodes[w.start[n-1]:w.start[n]] {
			w.drift(n, f, l)
			first := &w.nodes[f]
			even = even || first.near && first.drift == (wide{})
			if !first.near || best.found && best.drift.less(first.drift) {
				continue
			}
			if best.found && first.drift == best.drift && !w.above(n, f, best.starts) {
				continue
			}
			best.found, best.drift = true, first.drift
			w.follow(n, f, best)
		}
		if even {
			break // nothing is better, and all others start lower
		}
	}
	return nil
}

// floor is less than the cost of any n places whose gaps are at least least.
func (w *work) floor(n int, least int64) (sum int64) {
	for i := range n - 1 {
		off := w.off(n, i)
		k, _ := w.steps(least, least, off)
		sum += w.cost(k, off)
	}
	return sum
}

// rowsOf gives the rows of the i-th place.
func (w *work) rowsOf(n, i int) []row {
	if i == 0 {
		return w.rows[w.begin[0]:]
	}
	return w.rows[w.begin[i]:w.begin[i-1]]
}

// connect gathers the nodes of all layouts whose cost is squares.
func (w *work) connect(n int, squares int64) {
	w.nodes = w.nodes[:0]
	w.start = append(w.start[:0], 0)
	for i, r := range w.rowsOf(n, 0) {
		if r.cost == squares {
			w.nodes = append(w.nodes, node{row: int32(i)})
		}
	}
	for i := range n - 1 {
		rows, next, off := w.rowsOf(n, i), w.rowsOf(n, i+1), w.off(n, i)
		begin, end := w.start[i], len(w.nodes)
		for j := begin; j < end; j++ {
			r := rows[w.nodes[j].row]
			w.nodes[j].from = -1
			for to := r.from; to < r.to; to++ {
				if w.cost(next[to].k-r.k, off)+next[to].cost != r.cost {
					continue
				}
				if last := len(w.nodes) - 1; last < end || w.nodes[last].row != to {
					w.nodes = append(w.nodes, node{row: to})
				}
				if w.nodes[j].from < 0 {
					w.nodes[j].from = int32(len(w.nodes) - 1 - end)
				}
			}
			w.nodes[j].to = int32(len(w.nodes) - end)
		}
		w.start = append(w.start, end)
	}
	w.start = append(w.start, len(w.nodes))
}

// place is the place in nm of a row of the i-th of n places.
func (w *work) place(n, i int, r row) int64 {
	switch {
	case i == 0 && w.first.fixed:
		return w.first.place
	case i == n-1 && w.last.fixed:
		return w.last.place
	}
	return w.at(r.k)
}

// drift finds, for all nodes on the way from the f-th first to the l-th last,
// the least sum of squared distances from the even places.
func (w *work) drift(n, f, l int) {
	m := int64(n - 1)
	rows := w.rowsOf(n, 0)
	first := w.place(n, 0, rows[w.nodes[f].row])
	rows = w.rowsOf(n, n-1)
	last := w.place(n, n-1, rows[w.nodes[w.start[n-1]+l].row])

	for i := n - 1; i >= 0; i-- {
		rows := w.rowsOf(n, i)
		nodes := w.nodes[w.start[i]:w.start[i+1]]
		for j := range nodes {
			v := &nodes[j]
			if i == n-1 {
				v.near, v.drift = j == l, wide{}
				continue
			}
			v.near = false
			for _, to := range w.nodes[w.start[i+1]+int(v.from) : w.start[i+1]+int(v.to)] {
				if to.near && (!v.near || to.drift.less(v.drift)) {
					v.near, v.drift = true, to.drift
				}
			}
			if v.near && i > 0 {
				v.drift = v.drift.plus(w.own(n, i, rows[v.row], first, last, m))
			}
		}
	}
}

// own is the squared distance of one place from its even place, times m².
func (w *work) own(n, i int, r row, first, last, m int64) wide {
	return square(m*(w.place(n, i, r)-first) - int64(i)*(last-first))
}

// walk calls visit with the topmost best places from the f-th first on, until
// it returns false.
func (w *work) walk(n, f int, visit func(i int, place int64) bool) {
	at := w.start[0] + f
	for i := 0; ; i++ {
		v := w.nodes[at]
		if !visit(i, w.place(n, i, w.rowsOf(n, i)[v.row])) || i == n-1 {
			return
		}
		best := -1
		for j := w.start[i+1] + int(v.from); j < w.start[i+1]+int(v.to); j++ {
			if to := &w.nodes[j]; to.near && (best < 0 || to.drift.less(w.nodes[best].drift)) {
				best = j
			}
		}
		at = best
	}
}

// above tells whether the walk from f comes before starts.
func (w *work) above(n, f int, starts []int64) (above bool) {
	w.walk(n, f, func(i int, place int64) bool {
		above = place < starts[i]
		return place == starts[i]
	})
	return above
}

// follow keeps the walk from f.
func (w *work) follow(n, f int, best *candidate) {
	best.starts = slices.Grow(best.starts[:0], n)[:0]
	w.walk(n, f, func(i int, place int64) bool {
		best.starts = append(best.starts, place)
		return true
	})
}
