package spacing

import (
	"cmp"
	"errors"
	"slices"

	"placketeer/catalog/measure"
)

// Defaults are the figures of a problem that nobody has asked for. They are
// wishes and give way, see SolveLoose.
type Defaults struct {
	// Steps are the lengths that can be marked. Without any the step is given.
	Steps []measure.Length

	// First and Last are where that end may move, from the top, both nil if
	// it is given. The problem itself has the default: a fixed window.
	First, Last *Window
}

// Moved tells which defaults gave way.
type Moved struct{ Step, First, Last bool }

// A Loose is the answer for one size of SolveLoose.
type Loose struct {
	Size
	Moved Moved
	Step  measure.Length // what was marked in the end
}

// A stage is how far the defaults have given way.
type stage int

const (
	asTheyAre stage = iota
	stepGives
	lastMoves
	firstMoves
	bothMove
)

// homes are where moved ends come from.
type homes struct{ first, last measure.Length }

// Loosen is SolveLoose for one size.
func Loosen(p Problem, d Defaults) Loose {
	_, sizes := SolveLoose([]Problem{p}, []Defaults{d})
	return sizes[0]
}

// SolveLoose is SolveSizes for problems with defaults in them; ds are those of
// ps, in the same order. Where they allow no layout, or with a repeat none that
// skips no place of it, they give way in this order, each only if nothing was
// found before:
//
//   - the step, for all sizes at once, becomes the coarsest of Steps that
//     divides the repeat, and on which the place in the repeat falls where it
//     is known (or if none does, the coarsest that divides the repeat);
//   - the last moves;
//   - the first moves, the last being back in its place;
//   - both move.
//
// The count is chosen by the wish that the defaults have. An end that moves
// takes the place nearest its default that the smallest spread allows: of the
// layouts with that spread, the one whose ends lie nearest their defaults in
// sum, then the one whose first does, then as in Solve. (Between the same ends
// the sum of the squares decides which gaps are even; between others it would
// only draw the ends together.)
//
// Where nothing helps a size keeps the layout it had first, or the clash of
// the defaults as they are.
func SolveLoose(ps []Problem, ds []Defaults) (count int, sizes []Loose) {
	l := &loosening{ps: ps, ds: ds, at: make([]stage, len(ps))}
	had := make([]stage, len(ps)) // the first stage with a layout of any kind
	for i := range had {
		had[i] = -1
	}
	solve := func() {
		count, l.found = SolveSizes(l.problems())
		for i, f := range l.found {
			if had[i] == -1 && f.Err == nil {
				had[i] = l.at[i]
			}
		}
	}
	solve()
	for s := stepGives; s <= bothMove; s++ {
		step, moved := l.step(), false
		for i := range ps {
			if l.wanting(i) && l.may(i, s) {
				l.at[i] = s
				moved = moved || s != stepGives
			}
		}
		if moved || l.step() != step {
			solve()
		}
	}
	// What did not help is taken back.
	back := false
	for i := range ps {
		if to := max(had[i], asTheyAre); l.wanting(i) && to != l.at[i] {
			l.at[i], back = to, true
		}
	}
	if back {
		solve()
	}

	step := l.step()
	for i, f := range l.found {
		s := Loose{Size: f, Step: ps[i].Step}
		if at := f.Layout.Positions; f.Err == nil {
			s.Step = step
			s.Moved = Moved{
				Step:  step != ps[i].Step,
				First: l.at[i] > stepGives && at[0] != ps[i].First.Min,
				Last:  l.at[i] > stepGives && at[len(at)-1] != ps[i].Last.Max,
			}
		}
		sizes = append(sizes, s)
	}
	return count, sizes
}

// A loosening is the state of SolveLoose.
type loosening struct {
	ps    []Problem
	ds    []Defaults
	at    []stage
	found []Size
}

// wanting tells whether a size has no layout, or one that skips.
func (l *loosening) wanting(i int) bool {
	f := l.found[i]
	return errors.As(f.Err, new(*Clash)) || f.Err == nil && len(f.Layout.Skips) > 0
}

// may tells whether a size has what gives way in a stage. An end that moves
// must have a default to come from.
func (l *loosening) may(i int, s stage) bool {
	first := l.ds[i].First != nil && l.ps[i].First.Fixed()
	last := l.ds[i].Last != nil && l.ps[i].Last.Fixed()
	switch s {
	case stepGives:
		return true
	case lastMoves:
		return last
	case firstMoves:
		return first
	}
	return first && last
}

// problems are those of all sizes as far as they have given way.
func (l *loosening) problems() []Problem {
	now, step := slices.Clone(l.ps), l.step()
	for i := range now {
		p := &now[i]
		p.Step = step
		if l.at[i] <= stepGives {
			continue
		}
		p.home = &homes{p.First.Min, p.Last.Max}
		if l.at[i] != lastMoves {
			p.First = *l.ds[i].First
		}
		if l.at[i] != firstMoves {
			p.Last = *l.ds[i].Last
		}
	}
	return now
}

// step is the step of all sizes: the one they have, until one of them needs
// another.
func (l *loosening) step() measure.Length {
	if len(l.ps) == 0 {
		return 0
	}
	now := l.ps[0].Step
	steps := slices.Clone(l.ds[0].Steps)
	slices.SortFunc(steps, func(a, b measure.Length) int { return cmp.Compare(b, a) })
	needed := false
	for i := range l.ps {
		needed = needed || l.at[i] != asTheyAre && l.ps[i].Repeat != 0
		if len(l.ds[i].Steps) == 0 || l.ps[i].Step != now {
			return now
		}
	}
	if !needed {
		return now
	}
	divides := func(s measure.Length, phases bool) bool {
		for i := range l.ps {
			p := &l.ps[i]
			phase, known := l.phase(i)
			if s <= 0 || p.Run/s > MaxPlaces || p.Repeat%s != 0 || phases && known && phase%s != 0 {
				return false
			}
		}
		return true
	}
	for _, phases := range []bool{true, false} {
		for _, s := range append([]measure.Length{now}, steps...) {
			if divides(s, phases) {
				return s
			}
		}
	}
	return now
}

// phase is the place in the repeat of a size, if it is known.
func (l *loosening) phase(i int) (measure.Length, bool) {
	p, s := &l.ps[i], l.at[i]
	switch {
	case p.Repeat == 0:
		return 0, false
	case p.HasPhase:
		return p.Phase, true
	case p.First.Fixed() && s < firstMoves:
		return p.First.Min, true
	case p.Last.Fixed() && s != lastMoves && s != bothMove:
		return p.Last.Min - measure.Length(p.width()), true
	}
	return 0, false
}

// nearest finds among the layouts of n groups with the smallest spread the
// first and last starts nearest the homes of p.
func (w *work) nearest(p *Problem, n int) (first, last int64) {
	home := struct{ first, last int64 }{int64(p.home.first), int64(p.home.last) - p.width()}
	var best struct {
		found       bool
		total, away int64 // of both ends, of the first
	}
	see := func(f, l int64) {
		away := abs(f - home.first)
		total := away + abs(l-home.last)
		c := cmp.Or(cmp.Compare(total, best.total), cmp.Compare(away, best.away), cmp.Compare(f, first), cmp.Compare(l, last))
		if !best.found || c == -1 {
			best.found, best.total, best.away, first, last = true, total, away, f, l
		}
	}
	// in tries all ends of layouts with gaps from least to most.
	in := func(least, most int64) {
		end := w.first
		defer func() { w.first = end }()
		from := func(k int64) {
			if !end.fixed {
				w.first.lo, w.first.hi = k, k
			}
			if !w.holds(n, least, most) {
				return
			}
			f := w.at(k) + end.off
			if w.last.fixed {
				see(f, w.last.place)
				return
			}
			for _, s := range w.spans[w.levels[n-1]:w.levels[n]] {
				lo, hi := max(s.lo, w.last.lo), min(s.hi, w.last.hi)
				if lo > hi {
					continue
				}
				for _, k := range []int64{w.down(home.last), w.up(home.last)} {
					see(f, w.at(min(max(k, lo), hi)))
				}
			}
		}
		// From the home outwards, as long as the first alone is no farther
		// than both ends of the best.
		up := min(max(w.down(home.first), end.lo-1), end.hi)
		for down := up + 1; up >= end.lo || down <= end.hi; {
			k := up
			if up < end.lo || down <= end.hi && w.at(down)-home.first < home.first-w.at(up) {
				k = down
				down++
			} else {
				up--
			}
			if best.found && abs(w.at(k)+end.off-home.first) > best.total || w.out() {
				return
			}
			from(k)
		}
	}
	least := int64(noGap)
	for _, seek := range [...]bool{true, false} { // how small the spread is, then where
		for _, g := range w.grids {
			if w.out() || !w.lay(p, g) {
				continue
			}
			switch {
			case n == 1 && (!w.singleExists || seek):
			case n == 1 && (w.first.fixed || w.last.fixed):
				see(w.single, w.single)
			case n == 1:
				for _, s := range w.free {
					lo, hi := max(s.lo, w.first.lo, w.last.lo), min(s.hi, w.first.hi, w.last.hi)
					for _, to := range []int64{home.first, home.last} {
						for _, k := range []int64{w.down(to), w.up(to)} {
							if lo <= hi {
								at := w.at(min(max(k, lo), hi))
								see(at, at)
							}
						}
					}
				}
			case n == 2:
				if !seek { // it is 0
					in(w.least, w.most)
				}
			default:
				spread, ok := w.leastSpread(n, least, false)
				if !ok {
					continue
				}
				if least = spread; seek {
					continue
				}
				if least > 0 {
					for _, t := range slices.Clone(w.ties) {
						in(t.lo, t.hi)
					}
					continue
				}
				_, far := w.stretch()
				v, longest := w.gapValues(n), min(w.most, floorDiv(far, int64(n-1)))
				for i := v.up(w.ties[0].lo); v.at(i) <= longest && !w.out(); i++ {
					in(v.at(i), v.at(i))
				}
			}
		}
	}
	return first, last
}
