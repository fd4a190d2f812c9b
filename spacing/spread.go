package spacing

import "slices"

// gapValues are the values a gap can have, numbered in ascending order: a whole
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
	switch n {
	case 2: // one gap, from end to end
		add(w.first.off + w.last.off)
	case 3:
		add(w.first.off)
		add(w.last.off)
	default:
		add(w.first.off)
		add(w.last.off)
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

// even finds the smallest gap that n places, at least 2, can all be apart, and
// leaves the levels of holds with it.
func (w *work) even(n int) (gap int64, ok bool) {
	m := int64(n - 1)
	shortest, longest := w.stretch()
	lo, hi := max(w.least, ceilDiv(shortest, m)), min(w.most, floorDiv(longest, m))
	if lo > hi {
		return 0, false
	}
	v := w.gapValues(n)
	if v.n > 1 {
		return 0, false // the gap at an end off the grid is never like the others
	}
	for i := v.up(lo); ; i++ {
		w.tries++
		gap = v.at(i)
		if gap > hi || w.out() {
			return 0, false
		}
		if w.holds(n, gap, gap) {
			return gap, true
		}
	}
}

// leastSpread finds the smallest spread of n places, at least 2, that have a
// layout, and leaves in ties every range of gaps, as wide as that and no
// wider, that has one, or for a spread of 0 the one with the smallest gap.
// Ranges wider than bound do not count; without any, ok is false. sure says
// that there is a layout.
//
// The lower the smallest gap, the lower the largest can be, so one sweep of
// the two is enough.
func (w *work) leastSpread(n int, bound int64, sure bool) (spread int64, ok bool) {
	if gap, ok := w.even(n); ok {
		w.ties = append(w.ties[:0], span{gap, gap})
		return 0, true
	}
	w.ties = w.ties[:0]
	if bound == 0 || !sure && !w.holds(n, w.least, w.most) {
		return 0, false
	}
	m := int64(n - 1)
	shortest, longest := w.stretch()
	v := w.gapValues(n)
	// The smallest gap is at most the even gap, the largest at least that.
	highest := min(w.most, longest)
	lowA, lowB := v.up(w.least), v.up(max(w.least, ceilDiv(shortest, m)))
	b := v.down(highest)

	// a is the largest smallest gap there is.
	a := lowA
	for over := v.down(min(highest, floorDiv(longest, m))) + 1; over-a > 1; {
		mid := a + (over-a)/2
		if w.holds(n, v.at(mid), v.at(b)) {
			a = mid
		} else {
			over = mid
		}
	}

	for ; a >= lowA; a-- {
		least := max(a, lowB)
		w.tries++
		if v.at(least)-v.at(a) > bound || w.out() {
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
