package spacing

import (
	"cmp"
	"slices"
)

// A candidate is the best layout seen so far, by the objective's four numbers
// and then its starts.
type candidate struct {
	found   bool
	spread  int64
	squares int64 // sum of squared gaps, as cost counts them
	drift   wide  // sum of squared distances from the even places, times (n-1)²
	starts  []int64
}

// A node is a row on some layout with the least sum of squares. Its next
// nodes lie side by side, for the same reason.
type node struct {
	row      int32
	from, to int32 // within the next level; to is not included
	near     bool  // the last place being looked at can be reached
	drift    wide  // least sum of squared distances from here on
}

// evenly compares the layout of n places all gap apart to best: the topmost,
// for all have the same squares and lie on the even places.
func (w *work) evenly(n int, gap int64, best *candidate) {
	squares := w.floor(n, gap)
	if best.found && squares > best.squares || !w.holds(n, gap, gap) {
		return
	}
	// All places on the last level come from a first place as far above.
	start, stretch := w.first.place, gap*int64(n-1)
	switch {
	case w.first.fixed:
	case w.last.fixed:
		start = w.last.place - stretch
	default:
		for _, s := range w.spans[w.levels[n-1]:w.levels[n]] {
			if k := max(s.lo, w.last.lo); k <= min(s.hi, w.last.hi) {
				start = w.at(k) - stretch
				break
			}
		}
	}
	if best.found && squares == best.squares { // the same gap on another grid
		start = min(start, best.starts[0])
	}
	best.found, best.squares, best.drift = true, squares, wide{}
	best.starts = slices.Grow(best.starts[:0], n)[:0]
	for i := range int64(n) {
		best.starts = append(best.starts, start+i*gap)
	}
}

// refine compares the layouts of n places with gaps from least to most, none
// with a smaller spread, to best.
func (w *work) refine(n int, least, most int64, best *candidate) {
	if least == most {
		w.evenly(n, least, best)
		return
	}
	if best.found && w.floor(n, least) > best.squares {
		return
	}
	if w.tabulate(n, least, most); w.out() {
		return
	}
	squares := slices.MinFunc(w.rowsOf(n, 0), func(a, b row) int { return cmp.Compare(a.cost, b.cost) }).cost
	if best.found && squares > best.squares {
		return
	}
	if best.found && squares < best.squares {
		best.found = false
	}
	best.squares = squares
	if w.connect(n, squares); w.out() {
		return
	}

	// The even places depend on both ends, so each pair is looked at alone.
	// From the top: of equals the first start stays.
	for f := range w.nodes[w.start[0]:w.start[1]] {
		for l := range w.nodes[w.start[n-1]:w.start[n]] {
			if w.drift(n, f, l); w.out() {
				return
			}
			first := &w.nodes[f]
			if !first.near || best.found && best.drift.less(first.drift) {
				continue
			}
			if best.found && first.drift == best.drift && !w.above(n, f, best.starts) {
				continue
			}
			best.found, best.drift = true, first.drift
			w.follow(n, f, best)
		}
	}
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
			w.tries += int(r.to - r.from)
			if w.hold(int64(len(w.nodes))); w.out() {
				return
			}
			for to := r.from; to < r.to; to++ {
				if w.cost(next[to].k-r.k, off)+next[to].cost != r.cost {
					continue
				}
				if len(w.nodes) == end || w.nodes[len(w.nodes)-1].row != to {
					w.nodes = append(w.nodes, node{row: to})
				}
				if w.nodes[j].from == -1 {
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
			if w.tries++; i == n-1 {
				v.near, v.drift = j == l, wide{}
				continue
			}
			w.tries += int(v.to - v.from)
			v.near = false
			for _, to := range w.nodes[w.start[i+1]+int(v.from) : w.start[i+1]+int(v.to)] {
				if to.near && (!v.near || to.drift.less(v.drift)) {
					v.near, v.drift = true, to.drift
				}
			}
			if v.near && i != 0 { // the first is where it is even
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
			if to := &w.nodes[j]; to.near && (best == -1 || to.drift.less(w.nodes[best].drift)) {
				best = j
			}
		}
		at = best
	}
}

// above tells whether the walk from f comes before starts.
func (w *work) above(n, f int, starts []int64) bool {
	c := 0
	w.walk(n, f, func(i int, place int64) bool {
		c = cmp.Compare(place, starts[i])
		return c == 0
	})
	return c == -1
}

// follow keeps the walk from f.
func (w *work) follow(n, f int, best *candidate) {
	best.starts = slices.Grow(best.starts[:0], n)[:0]
	w.walk(n, f, func(i int, place int64) bool {
		best.starts = append(best.starts, place)
		return true
	})
}
