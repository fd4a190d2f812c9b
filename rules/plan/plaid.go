package plan

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// PhaseWithin is what laying and cutting are off by: ours. The bars must meet.
const PhaseWithin = sixteenth

// PhaseLimit is PhaseWithin as a threshold.
var PhaseLimit = Inches("within", PhaseWithin, Ours)

// PhaseApart is how far the bars of an under front must move, towards the
// wearer's left where it is positive, to lie on those of the upper front: the
// shorter way round the repeat. over and under are the distances of a bar
// from the centre line, towards the wearer's left.
func PhaseApart(over, under, repeat measure.Length) measure.Length {
	if repeat <= 0 {
		return 0
	}
	d := ((over-under)%repeat + repeat) % repeat
	if 2*d > repeat {
		d -= repeat
	}
	return d
}

// RepeatGap is the gap nearest to the wish that puts every fastener on the
// same bar, and how many repeats it is; for a wish under one repeat it is a
// repeat divided by a whole number, and the count is negative.
func RepeatGap(wish, repeat measure.Length) (gap measure.Length, repeats int) {
	if repeat <= 0 || wish <= 0 {
		return 0, 0
	}
	n := max(1, wish.RoundNearest(repeat)/repeat)
	gap, repeats = n*repeat, int(n)
	for parts := measure.Length(2); parts <= 12; parts++ {
		if g := repeat / parts; (g - wish).Abs() < (gap - wish).Abs() {
			gap, repeats = g, -int(parts)
		}
	}
	return gap, repeats
}

// Extra is the extra cloth that one printed rule asks for, for matching.
type Extra struct {
	Rule  string
	Cloth measure.Length
}

// RepeatCloth is the extra cloth for matching by each of the printed rules
// that the figures allow: pieces are the large pieces, stacked those that lie
// one below another in the layout, yardage what the pattern asks for; 0 where
// it is not known.
func RepeatCloth(repeat measure.Length, pieces, stacked int, yardage measure.Length) []Extra {
	out := []Extra{{"at least one repeat", repeat}}
	if stacked != 0 {
		out = append(out, Extra{"a repeat for each piece stacked along the length", repeat * measure.Length(stacked)})
	}
	if pieces != 0 {
		out = append(out, Extra{"a repeat for each large piece", repeat * measure.Length(pieces)})
	}
	if yardage != 0 {
		out = append(out, Extra{"a quarter of the yardage", yardage / 4})
	}
	return out
}

// IsFront says whether a closure joins two fronts that must match.
func IsFront(c *catalog.Closure) bool {
	return c.Where == "front" || c.Where == "" || c.Where == "fly"
}
