package rules

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
	"placketeer/spacing"
)

// repeatStep is the step that a matched run falls back to where the file gives
// none: the coarsest mark that divides the repeat and on which the first, where
// it is given, lies; 0 where there is none, or no match.
func (x *Context) repeatStep() measure.Length {
	if x.C.Run.Match == "" || x.C.Run.Step.Has() {
		return 0
	}
	for _, step := range plan.Marks(x.U) {
		good := true
		for i := range x.K.Sizes {
			p := plan.ProblemOf(x.G, x.C, x.K, i)
			at := measure.Length(0)
			switch {
			case p.HasPhase:
				at = p.Phase
			case x.C.Run.First.Has() && p.First.Fixed():
				at = p.First.Min
			}
			good = good && p.Repeat > 0 && p.Repeat%step == 0 && at%step == 0
		}
		if good {
			return step
		}
	}
	return 0
}

// A matchMove is where the ends of a size would have to lie to meet the
// repeat; 0 leaves an end where it is.
type matchMove struct{ first, last measure.Length } // both from the top

// way is where an end of a run moves.
type way int8

const (
	stays way = iota
	up
	down
)

// matched moves the ends that the file gives to the nearest places on either
// side that meet the repeat: of a fixed count those that leave all gaps as many
// repeats. With a phase both may have to move. Where the file gives a step that
// does not fall on them, another step goes with the move.
func (r *runChanges) matched() {
	x, run := r.x, &r.x.C.Run
	leastFirst, leastLast := plan.EndsLeast(x.C, x.K)
	for _, kind := range []struct{ first, last way }{
		{stays, down}, {stays, up}, {up, stays}, {down, stays},
		{up, down}, {up, up}, {down, down}, {down, up},
	} {
		moves, cost, good := make([]matchMove, len(r.problems)), measure.Length(0), true
		for i := range r.problems {
			p := &r.problems[i]
			m := meet(p, kind.first, kind.last)
			if kind.first != stays && (m.first < leastFirst || !run.First.Has()) || kind.last != stays && (m.last == 0 || m.last > p.Run-leastLast || !run.Last.Has()) {
				good = false
				break
			}
			by := measure.Length(0)
			if m.first != 0 {
				by += max(p.First.Min-m.first, m.first-p.First.Max)
			}
			if m.last != 0 {
				by += max(p.Last.Min-m.last, m.last-p.Last.Max)
			}
			cost = max(cost, by)
			moves[i] = m
		}
		if !good {
			continue
		}
		step, ok := r.stepFor(moves)
		if !ok {
			continue
		}
		r.move(moves, step, cost, kind.first == stays)
	}
}

// meet is where the ends of a run meet its repeat when they move that way.
func meet(p *spacing.Problem, first, last way) matchMove {
	unit := p.Repeat
	if n := p.CountMin; n == p.CountMax && p.Group <= 1 {
		unit *= measure.Length(max(1, n-1))
	}
	var m matchMove
	lo, hi := p.First.Min, p.First.Max
	if first != stays && last != stays { // the first to its place in the repeat
		if !p.HasPhase {
			return m
		}
		at := (p.First.Min - p.Phase).RoundDown(p.Repeat) + p.Phase
		if first == down {
			at = (p.First.Max - p.Phase).RoundUp(p.Repeat) + p.Phase
		}
		m.first, lo, hi = at, at, at
	}
	long := p.Last.Max - lo       // the longest span there is
	short := p.Last.Min - hi      // and the shortest
	more := long.RoundUp(unit)    // the next that meets the repeat
	less := short.RoundDown(unit) // and the one before
	switch {
	case last == down && more > 0:
		m.last = lo + more
	case last == up && less > 0:
		m.last = hi + less
	case first == up && last == stays:
		m.first = p.Last.Max - more
	case first == down && last == stays && less > 0:
		m.first = p.Last.Min - less
	}
	return m
}

// stepFor is the step with which every size has a layout after the moves.
func (r *runChanges) stepFor(moves []matchMove) (measure.Length, bool) {
	now := r.problems[0].Step
	for _, step := range append([]measure.Length{now}, plan.Marks(r.x.U)...) {
		i := 0
		if r.holds(func(p *spacing.Problem) {
			m := moves[i]
			i++
			p.Step = step
			if m.first != 0 {
				p.First = spacing.At(m.first)
			}
			if m.last != 0 {
				p.Last = spacing.At(m.last)
			}
		}) {
			return step, true
		}
	}
	return 0, false
}

// move adds the change, and for sizes that differ the one that lets the last
// lie anywhere between them.
func (r *runChanges) move(moves []matchMove, step, by measure.Length, window bool) {
	x, run := r.x, &r.x.C.Run
	cost := 3 + by.MM()/4
	var with []catalog.With
	mark := ""
	if step != r.problems[0].Step && run.Step.Has() {
		mark = ", marked to " + step.ShortPlace(x.U)
		with = x.setLength("run.step", step)
		cost += 2
	}
	at := func(key string) []measure.Length {
		out := make([]measure.Length, len(moves))
		for i, m := range moves {
			if out[i] = m.first; key == "last" {
				out[i] = r.problems[i].Run - m.last
			}
			if !shownIn(out[i], x.U) {
				return nil
			}
		}
		return out
	}
	says := ""
	for _, key := range []string{"first", "last"} {
		given, most, from := run.First, run.FirstMax, " below the top"
		if key == "last" {
			given, most, from = run.Last, run.LastMax, x.fromEnd(key)
		}
		if key == "first" && moves[0].first == 0 || key == "last" && moves[0].last == 0 {
			continue
		}
		to := at(key)
		if to == nil || len(given) > 1 && most.Has() {
			return
		}
		if key == "first" {
			cost++ // the neck shows more than the hem
		}
		if says != "" {
			says += ", "
		}
		least, longest := to[0], to[0]
		for _, l := range to {
			least, longest = min(least, l), max(longest, l)
		}
		between := func(lo, hi measure.Length) string {
			return "let the " + key + " lie " + lo.ShortPlace(x.U) + " to " + hi.ShortPlace(x.U) + from
		}
		switch {
		case most.Has():
			lo, hi := min(least, given.At(0).V), max(longest, most.At(0).V)
			with = append(with, catalog.SetWindow(x.key("run."+key), lo, hi, x.U))
			says += between(lo, hi)
		case len(to) == 1:
			with = append(with, x.setLength("run."+key, to[0])...)
			says += "set the " + key + " " + to[0].ShortPlace(x.U) + from
		default:
			if window && key == "last" {
				lo, hi := least, longest
				for i := range x.G.Sizes {
					lo, hi = min(lo, given.At(i).V), max(hi, given.At(i).V)
				}
				r.add(cost+1, between(lo, hi)+", on the repeat"+mark, append(with[:len(with):len(with)], catalog.SetWindow(x.key("run.last"), lo, hi, x.U)))
			}
			with = append(with, catalog.SetSizes(x.key("run."+key), x.G.Sizes, to, x.U))
			says += "set the " + key + " " + least.ShortPlace(x.U) + " to " + longest.ShortPlace(x.U) + from + ", by size"
		}
	}
	if says == "" {
		return
	}
	r.add(cost, says+", on the repeat"+mark, with)
}
