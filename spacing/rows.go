package spacing

import "placketeer/catalog/measure"

// A Row is one row of a double-breasted front: a place on the run and how far
// to either side of the centre line its two fasteners lie.
type Row struct{ At, Out measure.Length }

// A Taper says how far from the centre line the columns of a double-breasted
// front run: straight from Top at the first row to Bottom at the last. Own
// gives single rows, counted from 0, a distance of their own, as for a top
// pair that sits wider or a waist that is drawn in; the others keep to the
// straight line.
type Taper struct {
	Top, Bottom measure.Length
	Own         map[int]measure.Length
}

// Rows gives the row of each of the centres at, which run from the top. A
// distance is rounded to the nearest nanometre. All fasteners of a run lie at
// At, half of them Out to the left of the centre line and half to the right;
// which side works and which is for show is the caller's business.
func Rows(at []measure.Length, t Taper) []Row {
	rows := make([]Row, len(at))
	for i, p := range at {
		rows[i] = Row{At: p, Out: t.Top}
		if run := at[len(at)-1] - at[0]; run > 0 {
			rows[i].Out += scale(t.Bottom-t.Top, min(max(p-at[0], 0), run), run)
		}
		if own, ok := t.Own[i]; ok {
			rows[i].Out = own
		}
	}
	return rows
}

// scale is a·num/den to the nearest whole, halves away from 0, for
// 0 <= num <= den.
func scale(a, num, den measure.Length) measure.Length {
	if a < 0 {
		return -scale(-a, num, den)
	}
	return measure.Length(mulDiv(int64(a), int64(num), int64(den)/2, int64(den)))
}
