package spacing

import (
	"cmp"
	"math/big"
	"slices"
	"sort"

	"placketeer/catalog/measure"
)

// The spreads up to which a layout is even enough, however fine the step; see
// Problem.EvenWithin.
const (
	EvenSpread   = measure.Inch / 8       // in a file in inches
	EvenSpreadMM = 3 * measure.Millimetre // in a file in millimetres
	EvenSteps    = 2                      // steps, where that is more
)

// EvenTo is the largest spread that is even enough: two steps or EvenWithin,
// whichever is more, and none at all where the gaps keep to a repeat.
func (p *Problem) EvenTo() measure.Length {
	switch {
	case p.Repeat > 0:
		return 0
	case p.EvenWithin > 0:
		return max(EvenSteps*p.Step, p.EvenWithin)
	}
	return max(EvenSteps*p.Step, EvenSpread)
}

// Why tells why a layout has the count it has.
type Why int

// The reasons for a count. Nearer the wish is told in Problem.CountMin.
const (
	WhyGiven  Why = iota // it is the one asked for
	WhyOnly              // no other has a layout, or one in as many sizes
	WhyWish              // nearest the wish, and none is even enough in more sizes
	WhyEven              // nearest the wish of those that are even enough, in most sizes
	WhySpread            // none is even enough: it has the smallest spread
)

var whyNames = [...]string{"given", "only", "wish", "even", "spread"}

func (w Why) String() string {
	if w < 0 || int(w) >= len(whyNames) {
		return "?"
	}
	return whyNames[w]
}

// A Choice is how an open count was chosen. Of a given count it is empty.
type Choice struct {
	Why  Why
	Wish measure.Length // the even gap wished for in this size, to the nanometre below
	Over []int          // the counts passed over though nearer the wish, the nearest first

	// Of the Sizes that have a layout at this count, Even are even enough.
	Even, Sizes int
}

// A wish is an even gap of num/den in a stretch.
type wish struct{ stretch, num, den int64 }

func (p *Problem) wish() wish {
	first, last := max(p.First.Min, 0), min(p.Last.Max, p.Run)
	if p.home != nil {
		first, last = max(p.home.first, 0), min(p.home.last, p.Run)
	}
	w := wish{stretch: max(int64(last-first)-p.width(), 0), den: 1}
	switch lo, hi := int64(p.Gap.Min), int64(p.Gap.Max); {
	case p.Wish > 0:
		w.num = int64(p.Wish)
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

// away is how far the even gap of n groups, at least 2, is from the wish, in
// nm.
func (w wish) away(n int) *big.Rat {
	return big.NewRat(abs(w.stretch*w.den-w.num*int64(n-1)), w.den*int64(n-1))
}

// A contender is a count that could be taken.
type contender struct {
	count int   // of fasteners
	sizes []int // that have a layout
	away  *big.Rat
}

// contenders gives the counts that have a layout in the most sizes, those
// nearest the wishes in sum first, of those equally near the smaller. A single
// fastener or group has no gap and is no contender unless it is the only one.
func contenders(ps []*Problem, able map[int][]int) (cs []contender) {
	most, single := 0, 0
	for _, sizes := range able {
		most = max(most, len(sizes))
	}
	for n, sizes := range able {
		if len(sizes) < most {
			continue
		}
		single = min(cmp.Or(single, n), n)
		c := contender{n, sizes, new(big.Rat)}
		for _, i := range sizes {
			groups := n / ps[i].members()
			if groups == 1 {
				c.away = nil
				break
			}
			c.away.Add(c.away, ps[i].wish().away(groups))
		}
		if c.away != nil {
			cs = append(cs, c)
		}
	}
	if len(cs) == 0 && single != 0 {
		return []contender{{count: single, sizes: able[single]}}
	}
	sort.Slice(cs, func(i, j int) bool {
		return cmp.Or(cs[i].away.Cmp(cs[j].away), cmp.Compare(cs[i].count, cs[j].count)) == -1
	})
	return cs
}

// pick chooses the count by evenness first, see SolveSizes. It is 0 if there
// is no contender or the budget is spent.
func (w *work) pick(ps []*Problem, cs []contender) (count int, c Choice) {
	open := func(p *Problem) bool { return p.open() }
	switch {
	case len(cs) == 0:
		return 0, c
	case len(cs) == 1 && !slices.ContainsFunc(ps, open):
		return cs[0].count, c
	}
	take := func(i, even int, why Why) (int, Choice) {
		c = Choice{Why: why, Even: even, Sizes: len(cs[i].sizes)}
		for _, over := range cs[:i] {
			c.Over = append(c.Over, over.count)
		}
		if len(cs) == 1 {
			c.Why = WhyOnly
		}
		return cs[i].count, c
	}
	best, most := 0, 0
	for i, c := range cs {
		even := 0
		for _, size := range c.sizes {
			if _, ok := w.spreadOf(ps[size], c.count, int64(ps[size].EvenTo())); ok {
				even++
			}
		}
		if w.out() {
			return 0, Choice{}
		}
		if even > most {
			best, most = i, even
		}
		if most == len(c.sizes) {
			break
		}
	}
	switch {
	case best > 0:
		return take(best, most, WhyEven)
	case most > 0 || len(cs) == 1:
		return take(0, most, WhyWish)
	}
	least := int64(noGap)
	for i, c := range cs {
		sum := int64(0)
		for _, size := range c.sizes {
			// Only less than before counts.
			spread, ok := w.spreadOf(ps[size], c.count, least-1-sum)
			if !ok {
				sum = least
				break
			}
			sum += spread
		}
		if w.out() {
			return 0, Choice{}
		}
		if sum < least {
			best, least = i, sum
		}
	}
	return take(best, 0, WhySpread)
}

// spreadOf is the smallest spread of so many fasteners, for which p has a
// layout. It is not ok if that is more than bound.
func (w *work) spreadOf(p *Problem, count int, bound int64) (least int64, ok bool) {
	n := count / p.members()
	if bound < 0 {
		return 0, false
	}
	if n == 1 || n == 2 && p.First.Fixed() && p.Last.Fixed() {
		return 0, true
	}
	w.survey(p)
	for _, g := range w.grids {
		if w.out() || !w.lay(p, g) {
			continue
		}
		if spread, found := w.leastSpread(n, bound, len(w.grids) == 1); found {
			least, bound, ok = spread, spread, true
		}
	}
	return least, ok
}

// choose gives the number of groups that p's layout is to have, or 0 if there
// is none.
func (w *work) choose(p *Problem) (groups int, c Choice) {
	if _, most := p.groups(); !p.open() {
		for _, g := range w.grids {
			if w.lay(p, g) && (most == 1 && w.singleExists || most > 1 && w.holds(most, w.least, w.most)) {
				return most, c
			}
		}
		return 0, c
	}
	able := map[int][]int{}
	for _, n := range w.able(p) {
		able[n] = []int{0}
	}
	ps := []*Problem{p}
	count, c := w.pick(ps, contenders(ps, able))
	wish := p.wish()
	c.Wish = measure.Length(wish.num / wish.den)
	return count / p.members(), c
}

// able lists the counts of fasteners, ascending, that p has a layout for.
func (w *work) able(p *Problem) (counts []int) {
	fewest, most := p.groups()
	var has [MaxCount + 1]bool
	w.survey(p)
	for _, g := range w.grids {
		if w.lay(p, g) {
			w.counts(most, func(n int) bool {
				has[n] = true
				return true
			})
		}
	}
	for n := fewest; n <= most; n++ {
		if has[n] {
			counts = append(counts, n*p.members())
		}
	}
	return counts
}
