package rules

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/spacing"
)

const (
	rowsNear = in      // half of 2 in: Confederate tunic, May 1861, at the waist
	rowsFar  = 5 * in  // half of 10 in: US Army dress coat, at the top
	rowsLow  = 60 * mm // trade article: column 6 to 8 cm from the centre
	rowsHigh = 80 * mm
)

// taperOf are the columns of a double-breasted front.
func taperOf(c *catalog.Closure) spacing.Taper {
	r := &c.Rows
	t := spacing.Taper{Top: r.Distance.V, Bottom: r.Distance.V}
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
func rowsOf(c *catalog.Closure, at []measure.Length) []measure.Length {
	rows := spacing.Rows(at, taperOf(c))
	out := make([]measure.Length, len(rows))
	for i, r := range rows {
		out[i] = r.Out
	}
	return out
}

// Working says how many rows of a double-breasted front of so many really
// button: all of them where the garment does not say.
func Working(c *catalog.Closure, rows int) int {
	return min(c.Rows.Working.Or(rows), rows)
}

var rowsRules = []*Rule{
	{
		Name: "rows-distance", Severity: Conflict,
		Title:   "the columns of a double-breasted front need their distance",
		Formula: "column to centre line + stand = centre line to finished edge; the same distance on both sides of the centre line",
		Why:     "The two centre lines meet when the front is buttoned: buttons sit as far behind the centre line as the holes sit in front of it.",
		Sources: []string{
			"W. D. F. Vincent, Vincent's Systems of Cutting, p. 136: buttons as far behind the breast line as the holes in front of it",
			"trade article on setting button positions: column 6 to 8 cm from the centre front",
			"US Army uniform regulations, 1861: rows 5 1/2 in apart at the top, 3 1/2 in at the bottom",
		},
		check: func(x *Context) {
			if x.C.Lap != "double" {
				return
			}
			r, st := &x.C.Rows, &x.K.Stand
			switch {
			case !r.Distance.Has() && !r.Top.Has() && !st.Known:
				x.report(Conflict, x.path("lap"), Numbers{}, "a double-breasted front needs the distance of its columns: set rows.distance, usually %s to %s", x.len(rowsLow), x.len(rowsHigh))
			case !r.Distance.Has() && !r.Top.Has():
				x.report(Note, x.path("lap"), Numbers{}, "no distance of the columns is given: %s from the centre line leaves the full stand of %s outside them; set rows.distance", x.len(st.Column), x.len(st.Full))
			case st.Column < rowsNear || st.Column > rowsFar:
				x.report(Caution, x.path("rows"), Numbers{}, "the columns lie %s from the centre line; published fronts run from %s to %s", x.len(st.Column), x.len(rowsNear), x.len(rowsFar))
			}
		},
		propose: func(x *Context, f *Finding) []Change {
			return []Change{{With: []string{x.key("rows.distance") + "=" + measure.Length(70*mm).Exact(x.U)}, Says: "set the columns " + x.len(70*mm) + " from the centre line", Cost: 10}}
		},
	},
	{
		Name: "rows-touch", Severity: Conflict,
		Title:   "the two columns must not touch",
		Formula: "2 × the smallest distance of a row ≥ D",
		Why:     "Buttons of the two columns would lie on top of each other.",
		Sources: []string{"geometry"},
		check: func(x *Context) {
			if x.C.Lap != "double" || !x.C.Rows.Distance.Has() && !x.C.Rows.Top.Has() {
				return
			}
			d := acrossOf(&x.C.Notion)
			x.eachSize(func(i int, s *SizePlan) {
				for _, out := range s.Rows {
					if 2*out < d {
						have, need := x.apart(2*out, d)
						x.report(Conflict, x.path("rows"), atLeast(2*out, d), "the columns come as near as %s, but the buttons are %s across", have, need)
						return
					}
				}
			})
		},
		propose: func(x *Context, f *Finding) []Change {
			r, need := &x.C.Rows, (acrossOf(&x.C.Notion) / 2).RoundUp(markStep(x.U))
			var out []Change
			wider := func(key string, now measure.Length) {
				if now < need {
					out = append(out, Change{With: []string{x.key("rows."+key) + "=" + need.Exact(x.U)}, Says: "set the column " + x.len(need) + " from the centre line (" + key + ")", Cost: 2 * (need - now).MM()})
				}
			}
			if r.Distance.Has() && !r.Top.Has() {
				wider("distance", r.Distance.V)
			} else {
				wider("top", r.Top.V)
				wider("bottom", r.Bottom.V)
			}
			return append(out, proposeSmaller(x, f)...)
		},
	},
	{
		Name: "rows-working", Severity: Conflict,
		Title:   "rows that button, and rows for show",
		Formula: "working rows ≤ rows",
		Why:     "A row for show has its buttons sewn on both sides and no hole to use; holes and buttons need not be equal in number.",
		Sources: []string{
			"W. D. F. Vincent, Vincent's Systems of Cutting: Royal Navy undress coat, five holes and buttons, four to button",
			"US Navy peacoat: four buttons on the right front, three on the left",
		},
		check: func(x *Context) {
			w := x.C.Rows.Working
			if !w.Has() {
				return
			}
			x.eachSize(func(i int, s *SizePlan) {
				switch {
				case w.V > s.Count:
					x.report(Conflict, x.path("rows.working"), Numbers{Have: float64(w.V), Need: float64(s.Count), Margin: float64(s.Count - w.V), Compared: true}, "%d rows are to button, but there are only %d", w.V, s.Count)
				case w.V < s.Count && i == 0:
					x.report(Note, x.path("rows.working"), Numbers{}, "%d of %d rows button; sew the others on both fronts and leave their holes out", w.V, s.Count)
				}
			})
		},
		propose: func(x *Context, f *Finding) []Change {
			rows := 0
			for i := range x.K.Sizes {
				if n := x.K.Sizes[i].Count; n > 0 && (rows == 0 || n < rows) {
					rows = n
				}
			}
			w := x.C.Rows.Working.V
			out := []Change{{With: []string{x.key("run.count") + "=" + itoa(w)}, Says: "lay out " + itoa(w) + " rows", Cost: 10}}
			if rows > 0 {
				out = append(out, Change{With: []string{x.key("rows.working") + "=" + itoa(rows)}, Says: "let " + itoa(rows) + " rows button", Cost: 1})
			}
			return out
		},
	},
}
