package work

import (
	"placketeer/catalog"
	"placketeer/rules"
)

// checks are the tasks of laying the two fronts of a checked cloth.
func (w *planner) checks(c *catalog.Closure, cl *catalog.Cloth) {
	x := rules.Context{G: w.g, C: c, U: w.u}
	k := &c.Check
	name := w.g.NameOf(cl)
	if under, known := rules.BarUnder(k); known && k.Over.Has() {
		w.add(StageCut, c.Name, "Lay the upper front on %s with a bar %s; the under front with a bar %s. Match at the seam line, not at the cut edge.", name, x.Left(k.Over.V), x.Left(under))
	} else {
		w.add(StageCut, c.Name, "Lay both fronts on %s with a bar at the same distance from the centre line. Match at the seam line, not at the cut edge.", name)
	}
	switch k.Cut {
	case "mirror":
		w.add(StageCut, c.Name, "Fold %s face to face and pin bar on bar every few inches before you cut both fronts at once.", name)
	default:
		w.add(StageCut, c.Name, "Cut the fronts one at a time, %s lying the same way; turn the pattern over for the second.", name)
	}
}

// checkBars looks at the bars of a checked cloth.
func (w *planner) checkBars() {
	for i := range w.g.Cloths {
		if w.g.Cloths[i].Repeat.Across.Has() && w.used(w.g.Cloths[i]) {
			w.add(StageCheck, "", "Button up and look at the bars of %s from six feet (2 m) away.", w.g.ClothNames[i])
		}
	}
}
