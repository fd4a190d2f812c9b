package spacing

import "placketeer/catalog/measure"

// Even gives count centres from first to last at the gap
// (last − first)/(count − 1), each moved to the nearest multiple of step from
// the top of the run; half a step goes up the run. First and last are taken as
// they are. Every centre is rounded from its own exact place, so none is more
// than half a step off however many there are. A step of 0 rounds to 1 nm.
// A count of 1 is the first alone, below that none.
func Even(first, last measure.Length, count int, step measure.Length) []measure.Length {
	if count < 1 {
		return nil
	}
	step = max(step, 1)
	at := make([]measure.Length, count)
	at[0] = first
	m := measure.Length(count - 1)
	for i := measure.Length(1); i < m; i++ {
		// The exact place is num/m; its nearest multiple of step, ties down.
		num := first*m + (last-first)*i
		at[i] = ceilDiv(2*num-step*m, 2*step*m) * step
	}
	if count > 1 {
		at[m] = last
	}
	return at
}

// Widen grows a zone for a fastener that reaches up and down from its own
// centre (by its rim or its hole, whichever is more), so that the centre may
// be kept out of the result: a fastener whose edge only touches the zone is
// clear of it.
func Widen(z Zone, up, down measure.Length) Zone {
	z.From -= down
	z.To += up
	return z
}
