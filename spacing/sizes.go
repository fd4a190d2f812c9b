package spacing

import "math/big"

// A Size is the answer for one of several sizes.
type Size struct {
	Layout Layout
	Err    error // no layout at any count, or a problem that makes no sense
	Own    bool  // the common count has no layout here: this one has its own
}

// SolveSizes solves the same closure in several sizes with one count for all
// where the limits allow. That count is the one that the most sizes have a
// layout for; of several, the one whose even gaps are nearest the wishes of
// these sizes in sum, and of several still the smallest. A size that has no
// layout at that count gets the best it has and is marked. The count is 0 if
// no size has a layout.
func SolveSizes(ps []Problem) (count int, sizes []Size) {
	sizes = make([]Size, len(ps))
	able := map[int][]int{} // count to the sizes that have it
	for i := range ps {
		counts, err := Counts(ps[i])
		sizes[i].Err = err
		for _, n := range counts {
			able[n] = append(able[n], i)
		}
	}
	var away *big.Rat
	for n := 1; n <= MaxCount; n++ {
		if len(able[n]) == 0 || len(able[n]) < len(able[count]) {
			continue
		}
		sum := new(big.Rat)
		for _, i := range able[n] {
			if d := ps[i].wish().away(n / ps[i].members()); d != nil && sum != nil {
				sum.Add(sum, d)
			} else {
				sum = nil // a single fastener has no gap: it is furthest away
			}
		}
		if len(able[n]) > len(able[count]) || sum != nil && (away == nil || sum.Cmp(away) < 0) {
			count, away = n, sum
		}
	}
	for i, p := range ps {
		if sizes[i].Err != nil {
			continue
		}
		for _, j := range able[count] {
			if i == j {
				p.CountMin, p.CountMax = count, count
			}
		}
		sizes[i].Layout, sizes[i].Err = Solve(p)
		sizes[i].Own = sizes[i].Err == nil && sizes[i].Layout.Count() != count
	}
	return count, sizes
}

// away is how far the even gap of n groups is from the wish, in nm, or nil if
// there is no gap.
func (w wish) away(n int) *big.Rat {
	if n == 1 {
		return nil
	}
	return big.NewRat(abs(w.over(n)), w.den*int64(n-1))
}
