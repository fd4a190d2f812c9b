package rules

import (
	"slices"

	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// noRoom is the room of rules that compare no figures.
func noRoom(*Context) Numbers { return Numbers{} }

// Share is the margin as a part of the need: 0.1 is 10 % to spare.
func (n Numbers) Share() float64 {
	if n.Need == 0 {
		if n.Margin < 0 {
			return n.Margin
		}
		return 1 // nothing is needed: all of it is to spare
	}
	return n.Margin / max(n.Need, -n.Need)
}

// leastOf is the size that comes nearest to a need.
func (x *Context) leastOf(need measure.Length, of func(*plan.Size) (measure.Length, bool)) Numbers {
	var ls []measure.Length
	for i := range x.K.Sizes {
		if s := &x.K.Sizes[i]; s.Solved {
			if l, is := of(s); is {
				ls = append(ls, l)
			}
		}
	}
	least, any := shortest(ls)
	if !any {
		return Numbers{}
	}
	return atLeast(least, need)
}

func shortest(ls []measure.Length) (measure.Length, bool) {
	if len(ls) == 0 {
		return 0, false
	}
	return slices.Min(ls), true
}
