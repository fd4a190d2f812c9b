package spacing

import "placketeer/catalog/measure"

// Solve finds the best layout for p. All of what p asks for holds; among the
// layouts of which that is true it takes, in this order, the count nearest
// the wish (see Problem), the smallest spread of the gaps, the smallest sum
// of their squares, the smallest sum of squared distances from the exactly
// even places between first and last, and the topmost places.
//
// If there is none the error is a *Clash. It is a *TooMany if the search was
// stopped at its budget. Any other says what in p makes no sense.
func Solve(p Problem) (Layout, error) {
	if err := p.check(); err != nil {
		return Layout{}, err
	}
	w := newWork()
	w.allow(&p)
	defer w.tell(&p)
	w.survey(&p)
	n := w.choose(&p)
	switch {
	case w.out():
		return Layout{}, w.tooMany(&p)
	case n == 0 && p.Bare:
		return Layout{}, &Clash{}
	case n == 0:
		return Layout{}, clash(&p, w)
	}
	var best candidate
	if w.best(&p, n, &best); w.out() {
		return Layout{}, w.tooMany(&p)
	}

	group := p.members()
	l := Layout{Positions: make([]measure.Length, 0, n*group), Spread: measure.Length(best.spread), Group: group}
	for _, s := range best.starts {
		for i := range group {
			l.Positions = append(l.Positions, measure.Length(s)+measure.Length(i)*p.GroupGap)
		}
	}
	return l, nil
}

// Possible tells whether p has a layout. That takes far less than to find the
// best one. The error is a *TooMany if the search was stopped at its budget;
// any other says what in p makes no sense.
func Possible(p Problem) (bool, error) {
	if err := p.check(); err != nil {
		return false, err
	}
	w := newWork()
	w.allow(&p)
	defer w.tell(&p)
	if w.exists(&p) {
		return true, nil
	}
	if w.out() {
		return false, w.tooMany(&p)
	}
	return false, nil
}

// Counts gives every count of fasteners p has a layout for, ascending, none
// if there is none. The errors are those of Possible.
func Counts(p Problem) ([]int, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	w := newWork()
	w.allow(&p)
	defer w.tell(&p)
	w.survey(&p)
	fewest, most := p.groups()
	has := make([]bool, most+1)
	for _, g := range w.grids {
		if w.lay(&p, g) {
			w.counts(most, func(n int) bool {
				has[n] = true
				return true
			})
		}
	}
	if w.out() {
		return nil, w.tooMany(&p)
	}
	var counts []int
	for n := fewest; n <= most; n++ {
		if has[n] {
			counts = append(counts, n*p.members())
		}
	}
	return counts, nil
}

// choose gives the number of groups nearest the wish that has a layout, or 0.
func (w *work) choose(p *Problem) int {
	fewest, most := p.groups()
	wish := p.wish()
	best := 0
	for _, g := range w.grids {
		if !w.lay(p, g) {
			continue
		}
		if fewest == most && most > 1 {
			if w.holds(most, w.track.least, w.track.most) {
				return most
			}
			continue
		}
		w.counts(most, func(n int) bool {
			if n < fewest {
				return true
			}
			if best == 0 || wish.nearer(n, best) {
				best = n
			}
			return wish.over(n) > 0 // beyond the wish, more is further away
		})
	}
	return best
}

// A wish is an even gap of num/den in a stretch.
type wish struct{ stretch, num, den int64 }

func (p *Problem) wish() wish {
	first, last := max(p.First.Min, 0), min(p.Last.Max, p.Run)
	w := wish{stretch: max(int64(last-first)-p.width(), 0), den: 1}
	switch lo, hi := int64(p.Gap.Min), int64(p.Gap.Max); {
	case lo > 0 && hi > 0:
		w.num, w.den = lo+hi, 2
	case lo > 0 || hi > 0:
		w.num = lo + hi
	default:
		w.num = w.stretch
		if fewest, most := p.groups(); p.CountMax > 0 {
			w.den = int64(max((fewest+most)/2-1, 1))
		}
	}
	return w
}

// over is how much the even gap of n groups is over the wish, times
// (n-1)·den. A single group has no gap: it is over any wish.
func (w wish) over(n int) int64 {
	if n == 1 {
		return 1
	}
	return w.stretch*w.den - w.num*int64(n-1)
}

// nearer tells whether the even gap of a groups is nearer the wish than that
// of b; of two equally near the fewer.
func (w wish) nearer(a, b int) bool {
	if a == 1 || b == 1 {
		return b == 1 && a > 1
	}
	da, db := abs(w.over(a))*int64(b-1), abs(w.over(b))*int64(a-1)
	return da < db || da == db && a < b
}

// best finds the best layout of n groups, one of which there is.
func (w *work) best(p *Problem, n int, best *candidate) {
	bound := int64(noGap)
	for pass := range 2 {
		// With one grid the first pass would only repeat the second.
		if pass == 0 && len(w.grids) == 1 {
			continue
		}
		for _, g := range w.grids {
			if w.out() || !w.lay(p, g) {
				continue
			}
			switch {
			case n == 1:
				if w.singleExists && (!best.found || w.single < best.starts[0]) {
					best.found, best.starts = true, append(best.starts[:0], w.single)
				}
				continue
			case n == 2 && w.first.fixed && w.last.fixed:
				best.found, best.starts = true, append(best.starts[:0], w.first.place, w.last.place)
				return
			}
			spread, ok := w.leastSpread(n, bound)
			if !ok {
				continue
			}
			if bound = spread; pass == 0 {
				continue
			}
			best.spread = bound
			for _, t := range w.ties {
				w.refine(n, t.lo, t.hi, best)
			}
		}
	}
}
