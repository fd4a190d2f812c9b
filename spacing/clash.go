package spacing

import (
	"math/bits"
	"placketeer/catalog/measure"
	"slices"
	"sort"
)

// clash finds a smallest set of the constraints of p, which has no layout,
// that has none either: no set of fewer constraints would do, so none of them
// can be spared. With more than 64 constraints, or where the search for the
// fewest would take long, it is still true that none can be spared.
// It spends what is left of the budget of w.
func clash(p *Problem, w *work) *Clash {
	r := relaxed{p: p, w: w, given: given(p)}
	keep := r.spare()
	c := &Clash{Partial: w.out()}
	if len(r.given) <= 64 {
		keep = r.fewest(keep)
	}
	for i, k := range r.given {
		if keep[i] {
			c.Constraints = append(c.Constraints, k)
		}
	}
	sort.SliceStable(c.Constraints, func(i, j int) bool { return c.Constraints[i].Kind < c.Constraints[j].Kind })
	return c
}

// given lists the constraints of p, the ones most worth naming first.
func given(p *Problem) []Constraint {
	var all []Constraint
	add := func(given bool, k Constraint) {
		if given {
			all = append(all, k)
		}
	}
	anywhere := func(w Window) bool { return w.Min <= 0 && w.Max >= p.Run && !w.Fixed() }
	for i, a := range p.Anchors {
		add(true, Constraint{KindAnchor, i, a.Name})
	}
	for i, z := range p.Clear {
		add(z.From < z.To, Constraint{KindClear, i, z.Name})
	}
	add(p.Gap.Max > 0, Constraint{Kind: KindGapMax})
	add(p.Gap.Min > 0, Constraint{Kind: KindGapMin})
	add(p.CountMin > p.members() || p.CountMax > 0, Constraint{Kind: KindCount})
	add(p.Repeat > 0, Constraint{Kind: KindMatch})
	add(!anywhere(p.First), Constraint{Kind: KindFirst})
	add(!anywhere(p.Last), Constraint{Kind: KindLast})
	add(p.Step > 1, Constraint{Kind: KindStep})
	add(true, Constraint{Kind: KindRun})
	return all
}

// A relaxed problem is one with some of its constraints taken away.
type relaxed struct {
	p     *Problem
	w     *work
	given []Constraint
	asked int // times the solver was asked
	tried int // sets looked at

	anchors []Anchor
	clear   []Zone
}

// holds tells whether the constraints kept can hold together. Taking one away
// never forbids what was allowed, so a fixed end that may go anywhere may also
// stay, off the grid or not. Where the budget does not suffice to tell, they
// are taken to hold.
func (r *relaxed) holds(keep []bool) bool {
	if r.asked++; r.w.out() {
		return true
	}
	q := *r.p
	var room [2][2]Window
	firsts, lasts := append(room[0][:0], q.First), append(room[1][:0], q.Last)
	r.anchors, r.clear = r.anchors[:0], r.clear[:0]
	for i, k := range slices.Backward(r.given) { // the run comes before the ends
		if keep[i] {
			switch k.Kind {
			case KindAnchor:
				r.anchors = append(r.anchors, q.Anchors[k.Index])
			case KindClear:
				r.clear = append(r.clear, q.Clear[k.Index])
			}
			continue
		}
		switch k.Kind {
		case KindRun:
			q.Run = far
			for _, w := range []*Window{&firsts[0], &lasts[0]} {
				if w.Max >= r.p.Run && !w.Fixed() {
					w.Max = far
				}
			}
		case KindStep:
			q.Step = 1
		case KindFirst:
			firsts = free(firsts, q.Run)
		case KindLast:
			lasts = free(lasts, q.Run)
		case KindMatch:
			q.Repeat = 0
		case KindCount:
			q.CountMin, q.CountMax = 0, 0
		case KindGapMin:
			q.Gap.Min = 0
		case KindGapMax:
			q.Gap.Max = 0
		}
	}
	q.Anchors, q.Clear = r.anchors, r.clear
	for _, q.First = range firsts {
		for _, q.Last = range lasts {
			if r.w.exists(&q) || r.w.out() {
				return true
			}
		}
	}
	return false
}

// free lets an end lie anywhere in the run, and in its own place if it has one.
func free(end []Window, run measure.Length) []Window {
	own := end[0]
	if end = append(end[:0], Window{0, run}); own.Fixed() {
		end = append(end, own)
	}
	return end
}

// spare takes away every constraint that can be spared, one after the other,
// beginning with those least worth naming.
func (r *relaxed) spare() (keep []bool) {
	keep = make([]bool, len(r.given))
	for i := range keep {
		keep[i] = true
	}
	for i := range slices.Backward(keep) {
		if keep[i] = false; r.holds(keep) {
			keep[i] = true
		}
	}
	return keep
}

// Bounds on the search for the fewest, besides the budget of all.
const (
	maxAsked = 5000    // times the solver is asked
	maxTried = 1 << 20 // sets looked at
)

// out tells whether the search for the fewest must stop.
func (r *relaxed) out() bool { return r.asked > maxAsked || r.tried > maxTried || r.w.out() }

// fewest looks for a clashing set smaller than keep, which clashes.
//
// Of each set that holds and could not be larger, a clashing set has one of
// the others: so it meets every such remainder. The smallest set that meets
// all remainders known either clashes, and nothing smaller can, or it holds
// and gives another remainder.
func (r *relaxed) fewest(keep []bool) []bool {
	size := 0
	for _, k := range keep {
		if k {
			size++
		}
	}
	var rests []uint64
	for n := 1; n != size; {
		set, ok := r.meet(rests, 0, n)
		if r.out() {
			return keep
		}
		if !ok {
			n++
			continue
		}
		some := make([]bool, len(r.given))
		for i := range some {
			some[i] = set>>i&1 == 1
		}
		if !r.holds(some) {
			return some
		}
		rest := uint64(0)
		for i := range some {
			if !some[i] {
				if some[i] = true; !r.holds(some) {
					some[i] = false
					rest |= 1 << i
				}
			}
		}
		rests = append(rests, rest)
	}
	return keep
}

// meet adds up to n constraints to set so that it has one of each of rests.
func (r *relaxed) meet(rests []uint64, set uint64, n int) (uint64, bool) {
	if r.tried++; r.out() {
		return 0, false
	}
	// As many rests without a common constraint need as many constraints.
	var unmet, apart uint64
	need := 0
	for _, rest := range rests {
		if rest&set != 0 {
			continue
		}
		if unmet == 0 || bits.OnesCount64(rest) < bits.OnesCount64(unmet) {
			unmet = rest
		}
		if rest&apart == 0 {
			apart |= rest
			need++
		}
	}
	if need == 0 {
		return set, true
	}
	if need > n {
		return 0, false
	}
	for ; unmet != 0; unmet &= unmet - 1 {
		if s, ok := r.meet(rests, set|unmet&-unmet, n-1); ok {
			return s, true
		}
	}
	return 0, false
}
