package spacing

import (
	"slices"

	"placketeer/catalog/measure"
)

// A Size is the answer for one of several sizes.
type Size struct {
	Layout Layout
	Err    error // no layout at any count, or a problem that makes no sense
	Own    bool  // the common count has no layout here: this one has its own
}

// SolveSizes solves the same closure in several sizes with one count for all
// where the limits allow. That count is one of those that the most sizes have
// a layout for; of these the one that is even enough in the most sizes; then,
// if there is any that is, the one whose even gaps are nearest the wishes of
// the sizes in sum, and if there is none first the one with the smallest sum
// of spreads; of several still the smallest. A size that has no layout at that
// count gets the best it has and is marked. The count is 0 if no size has a
// layout.
//
// To choose the count it tries no more than the smallest Most of the problems
// allows; where that is not enough the error of every size is a *TooMany.
func SolveSizes(ps []Problem) (count int, sizes []Size) {
	sizes = make([]Size, len(ps))
	able := map[int][]int{} // count to the sizes that have it
	w := newWork()
	defer w.release()
	w.budget = MaxTries
	all := make([]*Problem, len(ps))
	for i := range ps {
		all[i] = &ps[i]
		counts, err := Counts(ps[i])
		sizes[i].Err = err
		for _, n := range counts {
			able[n] = append(able[n], i)
		}
		if err == nil && ps[i].Most > 0 {
			w.budget = min(w.budget, ps[i].Most)
		}
	}
	count, choice := w.pick(all, contenders(all, able))
	if len(ps) > 0 {
		w.tell(&ps[0])
	}
	for i, p := range ps {
		if w.out() && sizes[i].Err == nil {
			sizes[i].Err = w.tooMany(&p)
		}
		if sizes[i].Err != nil {
			continue
		}
		common := slices.Contains(able[count], i)
		if common {
			p.CountMin, p.CountMax = count, count
		}
		sizes[i].Layout, sizes[i].Err = Solve(p)
		sizes[i].Own = sizes[i].Err == nil && sizes[i].Layout.Count() != count
		if common && sizes[i].Err == nil && ps[i].open() {
			wish := ps[i].wish()
			choice.Wish = measure.Length(wish.num / wish.den)
			sizes[i].Layout.Choice = choice
		}
	}
	return count, sizes
}
