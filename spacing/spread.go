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
