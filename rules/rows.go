package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// columnsApart is how far the columns of a double-breasted front must lie
// apart, so that neither buttons nor holes of the two touch.
func (x *Context) columnsApart() measure.Length {
	return max(plan.AcrossOf(&x.C.Notion), x.K.Reach.In+plan.LieOf(&x.C.Notion).Out)
}

// setColumns says where to set the columns so that they lie so far apart.
func (x *Context) setColumns(apart measure.Length) fmt.Stringer {
	r, need := &x.C.Rows, (apart+1)/2
	for _, own := range r.Own {
		if own < need {
			return x.later(func(x *Context) string {
				return "set each row at least " + x.Least(need).String() + " from the centre line"
			})
		}
	}
	var out together
	for _, m := range []struct {
		key string
		l   catalog.Measured
	}{{"rows.distance", r.Distance}, {"rows.top", r.Top}, {"rows.bottom", r.Bottom}} {
		if m.l.Has() && m.l.V < need {
			out = append(out, x.Least(need).For(x.at(m.key)).in("set "+m.key+" at ", ""))
		}
	}
	return out
}

// columnsBasis is what that rests on.
func (x *Context) columnsBasis() plan.Basis {
	if x.columnsApart() > plan.AcrossOf(&x.C.Notion) {
		return plan.ReachInBasis(x.C, x.K).And(plan.RimBasis(x.C))
	}
	return plan.AcrossBasis(x.C)
}

var rowsRules = []*Rule{
	{
		Name: "rows-distance", Severity: Conflict,
		Rests:   []string{FileSays, "closure.*.lap", "closure.*.notion.kind"},
		Task:    NoTask,
		Reads:   ReadsRest,
		Room:    noRoom,
		Title:   "the columns of a double-breasted front need their distance",
		Formula: "column to centre line + stand = centre line to finished edge; the same distance on both sides of the centre line. Nearer than {near} to it or farther than {far}: caution; usual {low} to {high}",
		Limits:  []plan.Threshold{plan.RowsNearLimit, plan.RowsFarLimit, plan.RowsLowLimit, plan.RowsHighLimit},
		Why:     "The two centre lines meet when the front is buttoned: buttons sit as far behind the centre line as the holes sit in front of it.",
		Sources: []string{
			"W. D. F. Vincent, Vincent's Systems of Cutting, p. 136: buttons as far behind the breast line as the holes in front of it",
			"trade article on setting button positions: column 6 to 8 cm from the centre front",
			"US Army uniform regulations, 1861: rows 5 1/2 in apart at the top, 3 1/2 in at the bottom",
		},
		Check: func(x *Context) {
			if plan.LapOf(x.C) != "double" || x.C.Notion.Kind == catalog.Zip {
				return // a zip has no columns
			}
			r, st := &x.C.Rows, &x.K.Stand
			switch {
			case !r.Distance.Has() && !r.Top.Has() && !st.Known:
				x.report(Conflict, x.at("lap"), Numbers{}, "a double-breasted front needs the distance of its columns: set rows.distance, usually %s", measure.TextSpan(plan.RowsLow, plan.RowsHigh, x.U)).Line("give the distance of the columns, usually %s", x.later(func(x *Context) string { return measure.TextSpan(plan.RowsLow, plan.RowsHigh, x.U) }))
			case !r.Distance.Has() && !r.Top.Has() && st.Column == 0:
				x.report(Caution, x.at("lap"), Numbers{}, "no distance of the columns is given, and the finished edge leaves none beyond the full stand, %s: set rows.distance, usually %s, and draw the edge farther out", x.say(st.Full), measure.TextSpan(plan.RowsLow, plan.RowsHigh, x.U)).Line("the edge leaves no room for columns: set rows.distance, and draw it wider")
			case !r.Distance.Has() && !r.Top.Has():
				x.report(Note, x.at("lap"), Numbers{}, "no distance of the columns is given: %s from the centre line leaves the full stand of %s%s outside them; set rows.distance", x.say(st.Column), x.say(st.Have), x.guessFolds()).Line("the columns lie %s from the centre line, by the full stand", x.say(st.Column))
			case st.Column < plan.RowsNear || st.Column > plan.RowsFar:
				x.report(Caution, x.at("rows"), Numbers{}, "the columns lie %s from the centre line; published fronts run from %s to %s", x.say(st.Column), x.Least(plan.RowsNear), x.Most(plan.RowsFar)).Line("the columns lie %s from the centre; usual is %s to %s", x.say(st.Column), x.Least(plan.RowsNear), x.Most(plan.RowsFar))
			}
		},
		Touches: []string{"closure.*.rows.distance"},
		Propose: func(x *Context, f *Finding) []Change {
			l := measure.Length((plan.RowsLow + plan.RowsHigh) / 2).Least(x.U)
			return []Change{{With: x.setLength("rows.distance", l), Says: "set the columns " + x.up(l) + " from the centre line", Cost: 10}}
		},
	},
	{
		Name: "rows-touch", Severity: Conflict,
		Rests: []string{"closure.*.direction", "closure.*.hole", "closure.*.lap", "closure.*.notion", "closure.*.rows", "closure.*.run", "closure.*.stand"},
		Task:  NoTask,
		Reads: ReadsNotion,
		Room: func(x *Context) Numbers {
			if plan.LapOf(x.C) != "double" || !x.C.Rows.Distance.Has() && !x.C.Rows.Top.Has() {
				return Numbers{}
			}
			return x.leastOf(x.columnsApart(), func(s *plan.Size) (measure.Length, bool) {
				l, any := shortest(s.Rows)
				return 2 * l, any
			})
		},
		Title:   "the two columns must not touch",
		Figure:  "the columns apart",
		Formula: "2 × the smallest distance of a row ≥ D, and ≥ D/2 + what a hole reaches inside its column",
		Why:     "Buttons of the two columns would lie on top of each other.",
		Sources: []string{"geometry"},
		Check: func(x *Context) {
			if plan.LapOf(x.C) != "double" || !x.C.Rows.Distance.Has() && !x.C.Rows.Top.Has() {
				return
			}
			d, says := x.columnsApart(), "but the buttons are %s across"
			if d > plan.AcrossOf(&x.C.Notion) {
				says = "but from the inner end of a hole to the far rim of the other button they take %s"
			}
			x.eachSize(func(i int, s *plan.Size) {
				for _, out := range s.Rows {
					if 2*out < d {
						have, need := x.Short(2*out, d)
						x.report(Conflict, x.at("rows"), atLeast(2*out, d).on(x.columnsBasis(), plan.ColumnBasis(x.C).Scaled(2)), "the columns come as near as %s, "+says+": %s", have, need, x.setColumns(d)).Line("the columns come as near as %s; %s is the least", have, need)
						return
					}
				}
			})
		},
		Touches: slices.Concat(anotherNotion, []string{"closure.*.rows"}),
		Propose: func(x *Context, f *Finding) []Change {
			r, need := &x.C.Rows, (x.columnsApart() / 2).RoundUp(plan.HoleStep(x.U))
			var out []Change
			wider := func(key string, now measure.Length) {
				if now < need {
					out = append(out, Change{With: x.setLength("rows."+key, need), Says: "set the column " + x.up(need) + " from the centre line (" + key + ")", Cost: 2 * (need - now).MM()})
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
		Rests:   []string{FileSays, "closure.*.notion.kind", "closure.*.rows", "closure.*.run"},
		Task:    NoTask,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "rows that button, and rows for show",
		Formula: "working rows ≤ rows",
		Why:     "A row for show has both its buttons on the upper front and no hole to use; holes and buttons need not be equal in number.",
		Sources: []string{
			"W. D. F. Vincent, Vincent's Systems of Cutting: Royal Navy undress coat, five holes and buttons, four to button",
			"US Navy peacoat: four buttons on the right front, three on the left",
		},
		Check: func(x *Context) {
			w := x.C.Rows.Working
			if !w.Has() {
				return
			}
			x.eachSize(func(i int, s *plan.Size) {
				if w.V > s.Count {
					x.report(Conflict, x.at("rows.working"), noMore(w.V, s.Count, ""), "%d rows are to button, but there are only %d", w.V, s.Count).Line("%d rows are to button, but there are only %d", w.V, s.Count)
				}
			})
		},
		Touches: []string{"closure.*.run.count", "closure.*.rows.working"},
		Propose: func(x *Context, f *Finding) []Change {
			rows := 0
			for i := range x.K.Sizes {
				if s := &x.K.Sizes[i]; s.Solved {
					rows = min(cmp.Or(rows, s.Count), s.Count)
				}
			}
			w := x.C.Rows.Working.V
			out := []Change{{With: set(x, "run.count", w), Says: "lay out " + strconv.Itoa(w) + " rows", Cost: 10}}
			if rows != 0 {
				out = append(out, Change{With: set(x, "rows.working", rows), Says: "let " + strconv.Itoa(rows) + " rows button", Cost: 1})
			}
			return out
		},
	},
}
