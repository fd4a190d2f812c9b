package plan

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/spacing"
)

const (
	RowsNear = in      // half of 2 in: Confederate tunic, May 1861, at the waist
	RowsFar  = 5 * in  // half of 10 in: US Army dress coat, at the top
	RowsLow  = 60 * mm // trade article: column 6 to 8 cm from the centre
	RowsHigh = 80 * mm
)

// Thresholds of a double-breasted column, from the centre line.
var (
	RowsNearLimit = Inches("near", RowsNear, Published)
	RowsFarLimit  = Inches("far", RowsFar, Published)
	RowsLowLimit  = Metric("low", RowsLow, Published)
	RowsHighLimit = Metric("high", RowsHigh, Published)
)

// taperOf are the columns of a double-breasted front.
func taperOf(k *Closure) spacing.Taper {
	r := &k.Closure.Rows
	t := spacing.Taper{Top: r.Distance.V, Bottom: r.Distance.V}
	if !r.Distance.Has() {
		t.Top, t.Bottom = k.Stand.Column, k.Stand.Column // what the stand leaves
	}
	if r.Top.Has() && r.Bottom.Has() {
		t.Top, t.Bottom = r.Top.V, r.Bottom.V
	}
	for i, d := range r.Own {
		if t.Own == nil {
			t.Own = make(map[int]measure.Length, len(r.Own))
		}
		t.Own[i] = d
	}
	return t
}

// rowsOf is the distance of each row from the centre line.
func rowsOf(k *Closure, at []measure.Length) []measure.Length {
	rows := spacing.Rows(at, taperOf(k))
	out := make([]measure.Length, len(rows))
	for i, r := range rows {
		out[i] = r.Out
	}
	return out
}

// Inner says whether an inner button holds the under front: with a hole in
// the under front, level with the top row that buttons.
func (k *Closure) Inner() bool {
	c := k.Closure
	return LapOf(c) == "double" && c.Rows.Inner.Or(false) && k.Hole.Needed && k.Hole.Kind != "loop"
}

// ShowHoles says whether the rows for show have a hole that is sewn and not
// cut.
func (k *Closure) ShowHoles() bool {
	c := k.Closure
	return LapOf(c) == "double" && c.Rows.ShowHoles.Or(false) && k.Hole.Needed && k.Hole.Kind != "loop"
}

// Working says how many rows of a double-breasted front of so many really
// button: all of them where the garment does not say.
func Working(c *catalog.Closure, rows int) int {
	return min(c.Rows.Working.Or(rows), rows)
}
