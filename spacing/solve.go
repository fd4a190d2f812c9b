package spacing

import "errors"

// Solve finds the best layout for p.
func Solve(p Problem) (Layout, error) {
	if !p.First.Fixed() || !p.Last.Fixed() || p.CountMin < 2 || p.CountMin != p.CountMax ||
		p.Group > 1 || p.Repeat != 0 || len(p.Anchors)+len(p.Clear) > 0 {
		return Layout{}, errors.New("only an even run between fixed ends is solved so far")
	}
	at := Even(p.First.Min, p.Last.Min, p.CountMin, p.Step)
	l := Layout{Positions: at, Group: 1}
	lo, hi := at[1]-at[0], at[1]-at[0]
	for _, g := range l.Gaps() {
		lo, hi = min(lo, g), max(hi, g)
	}
	l.Spread = hi - lo
	return l, nil
}
