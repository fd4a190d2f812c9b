package spacing

import (
	"slices"

	"placketeer/catalog/measure"
)

// Solve finds the best layout for p. All of what p asks for holds; among the
// layouts of which that is true it takes, in this order, the count that can be
// even enough and is nearest the wish (see Problem), the smallest spread of
// the gaps, the smallest sum of their squares, the smallest sum of squared
// distances from the exactly even places between first and last, and the
// topmost places.
//
// If there is none the error is a *Clash. It is a *TooMany if the search was
// stopped at its budget. Any other says what in p makes no sense.
func Solve(p Problem) (Layout, error) {
	if err := p.check(); err != nil {
		return Layout{}, err
	}
	w := newWork()
	defer w.release()
	w.allow(&p)
	defer w.tell(&p)
	w.survey(&p)
	n, choice := w.choose(&p)
	switch {
	case w.out():
		return Layout{}, w.tooMany(&p)
	case n == 0 && p.Bare:
		return Layout{}, &Clash{}
	case n == 0:
		return Layout{}, clash(&p, w)
	}
	if p.open() {
		w.survey(&p)
	}
	if p.home != nil {
		first, last := w.nearest(&p, n)
		if w.out() {
			return Layout{}, w.tooMany(&p)
		}
		p.First, p.Last = At(measure.Length(first)), At(measure.Length(last+p.width()))
		w.survey(&p)
	}
	var best candidate
	if w.best(&p, n, &best); w.out() {
		return Layout{}, w.tooMany(&p)
	}

	group := p.members()
	l := Layout{
		Positions: make([]measure.Length, 0, n*group), Spread: measure.Length(best.spread), Group: group,
		Even: measure.Length(best.spread) <= p.EvenTo(), Choice: choice,
	}
	for _, s := range best.starts {
		for i := range group {
			l.Positions = append(l.Positions, measure.Length(s)+measure.Length(i)*p.GroupGap)
		}
	}
	if p.Repeat > 0 && l.Spread > 0 {
		l.Skips = skips(l.Pitches())
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
	defer w.release()
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

// skips lists the gaps that are larger than the smallest.
func skips(gaps []measure.Length) (at []int) {
	least := slices.Min(gaps)
	for i, g := range gaps {
		if g > least {
			at = append(at, i)
		}
	}
	return at
}

// Counts gives every count of fasteners p has a layout for, ascending, none
// if there is none. The errors are those of Possible.
func Counts(p Problem) ([]int, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	w := newWork()
	defer w.release()
	w.allow(&p)
	defer w.tell(&p)
	counts := w.able(&p)
	if w.out() {
		return nil, w.tooMany(&p)
	}
	return counts, nil
}

// best finds the best layout of n groups, one of which there is.
func (w *work) best(p *Problem, n int, best *candidate) {
	bound := int64(noGap)
	for _, seek := range [...]bool{true, false} { // how small the spread is, then which
		// With one grid the first pass would only repeat the second.
		if seek && len(w.grids) == 1 {
			continue
		}
		for _, g := range w.grids {
			if w.out() || !w.lay(p, g) {
				continue
			}
			switch {
			case n == 1:
				if best.found {
					w.single = min(w.single, best.starts[0])
				}
				if w.singleExists {
					best.found, best.starts = true, append(best.starts[:0], w.single)
				}
				continue
			case n == 2 && w.first.fixed && w.last.fixed:
				best.found, best.starts = true, append(best.starts[:0], w.first.place, w.last.place)
				return
			}
			spread, ok := w.leastSpread(n, bound, len(w.grids) == 1)
			if !ok {
				continue
			}
			if bound = spread; seek {
				continue
			}
			best.spread = bound
			for _, t := range w.ties {
				w.refine(n, t.lo, t.hi, best)
			}
		}
	}
}
