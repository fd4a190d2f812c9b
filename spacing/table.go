package spacing

import "slices"

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
func (w *work) tabulate(n int, least, most int64) {
	w.rows = w.rows[:0]
	if !w.holds(n, least, most) {
		return
	}
	w.begin = slices.Grow(w.begin[:0], n)[:n]
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
				lo, hi := max(s.lo, w.last.lo), min(s.hi, w.last.hi)
				if w.crowded(lo, hi) {
					return
				}
				for k := lo; k <= hi; k++ {
					w.rows = append(w.rows, row{k: k})
				}
			}
			continue
		}
		from, to, leaping := 0, 0, 0
		for _, s := range w.spans[w.levels[i]:w.levels[i+1]] {
			if w.crowded(s.lo, s.hi) {
				return
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
		if w.tries += len(next); w.out() {
			return
		}
	}
}

// crowded tells whether rows from lo to hi more are too many.
func (w *work) crowded(lo, hi int64) bool {
	more := max(hi-lo+1, 0)
	w.hold(int64(len(w.rows)) + more)
	w.tries += int(more)
	return w.out()
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
		from, to := max(r.from, lo), min(r.to, hi)
		w.tries += int(max(to-from, 0))
		for j := from; j < to; j++ {
			if c := w.cost(next[j].k-r.k, off) + next[j].cost; best == -1 || c < r.cost {
				r.cost, best = c, j
			}
		}
		w.fill(rows[:mid], next, off, lo, best+1)
		rows, lo = rows[mid+1:], best
	}
}

// rowsOf gives the rows of the i-th place.
func (w *work) rowsOf(n, i int) []row {
	if i == 0 {
		return w.rows[w.begin[0]:]
	}
	return w.rows[w.begin[i]:w.begin[i-1]]
}
