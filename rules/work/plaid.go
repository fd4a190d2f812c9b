package work

import (
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// checks are the tasks of laying the two fronts of a plaid.
func (w *planner) checks(c *catalog.Closure, cl *catalog.Cloth) {
	x := rules.Context{G: w.g, C: c, U: w.u}
	k := &c.Check
	name := w.g.NameOf(cl)
	under, known := rules.BarUnder(k)
	o := w.opening(c.Index)
	if known && k.Over.Has() {
		w.add(StageCut, c.Name, "Lay %s, which lies over, on %s with a stripe %s; %s with a stripe %s. Match at the seam line, not at the cut edge.", o.sideName(plan.Over), name, x.Left(k.Over.V), o.sideName(plan.Under), x.Left(under))
	} else {
		w.add(StageCut, c.Name, "Lay both fronts on %s with a stripe at the same distance from the centre line: best the main stripe on it, or the middle between two. Match at the seam line, not at the cut edge.", name)
	}
	// Folded, what lies to the left on one front lies as far to the right on the
	// other: measured otherwise, they are cut apart.
	mirrored := !known || !k.Over.Has() || !cl.Repeat.Across.Has() || plan.PhaseApart(k.Over.V, -under, cl.Repeat.Across.V).Abs() <= plan.PhaseWithin
	switch {
	case k.Cut == "mirror" && mirrored:
		w.add(StageCut, c.Name, "Fold %s face to face and pin stripe on stripe, pins close together, before you cut both fronts at once.", name)
	default:
		w.add(StageCut, c.Name, "Cut the fronts one at a time, %s lying the same way; turn the pattern over for the second.", name)
	}
}

// checkBars looks at the stripes of a plaid.
func (w *planner) checkBars() {
	away := "six feet (2 m)"
	switch {
	case w.u.IsAlone() && w.u.Is(measure.In):
		away = "six feet"
	case w.u.IsAlone():
		away = "2 m"
	}
	for i := range w.g.Cloths {
		if w.g.Cloths[i].Repeat.Across.Has() && w.used(w.g.Cloths[i]) {
			w.add(StageCheck, "", "Button up and look at the stripes of %s from %s away.", w.g.ClothNames[i], away)
		}
	}
}

// checkedPiece is the task of cutting a flap, pocket, collar or separate band
// of a plaid so that the stripes run on.
func (w *planner) checkedPiece(c *catalog.Closure, cl *catalog.Cloth) {
	name, k := w.g.NameOf(cl), &c.Check
	x := rules.Context{G: w.g, C: c, U: w.u}
	what := c.Where
	switch {
	case plan.IsFront(c) && c.Stand.Construction == "band":
		what = "bands"
	case plan.IsFront(c) || what == "":
		return
	}
	of := "the " + what + " of the " + c.Name
	if what == c.Name {
		of = "the " + what
	}
	if k.Band == "bias" {
		w.add(StageCut, c.Name, "Cut %s on the bias of %s, alike on both sides, and stay it with interfacing on the straight grain.", of, name)
		return
	}
	at := ""
	if k.Over.Has() {
		at = ", a stripe " + strings.ReplaceAll(x.Left(k.Over.V), "the centre line", "its middle")
	}
	or := ""
	if k.Band == "" {
		or = ", or cut it on the bias"
	}
	switch what {
	case "collar":
		w.add(StageCut, c.Name, "Fold %s at its middle on a stripe of %s, or midway between two%s: the two sides must show the same stripe at their points%s.", of, name, at, or)
	case "bands":
		w.add(StageCut, c.Name, "Cut %s of %s so that the stripes run on over them from the fronts, stripe on stripe at the centre line%s.", of, name, or)
	case "cuff", "vent":
		w.add(StageCut, c.Name, "Cut %s of %s so that the stripes run on over it from the sleeve%s, the other sleeve as its mirror image%s.", of, name, at, or)
	default:
		w.add(StageCut, c.Name, "Mark the place of %s on the body, lay its pattern there and copy the stripes on it; cut it of %s with each on its stripe%s, the other side as its mirror image%s.", of, name, at, or)
	}
}
