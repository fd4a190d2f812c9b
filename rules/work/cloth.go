package work

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func (w *planner) test() {
	hot := false
	for j, cl := range w.g.Cloths {
		if !w.used(cl) {
			continue
		}
		l := plan.IronLimit(w.g.Catalog, cl.Fibre)
		if rules.NoFuse(cl) != "" && (cl.Kind == "waxed-cotton" || cl.Surface == "coated") {
			w.add(StageTest, "", "Fold a scrap of %s with a bone folder, without an iron, and see whether the fold holds.", w.g.ClothNames[j])
			continue
		}
		if l.Fibre == "" {
			continue
		}
		steam := ""
		if l.Symbol <= measure.OneDot {
			steam = ", no steam"
		}
		t := w.add(StageTest, "", "Press a scrap of %s at %s, %s at most, through a press cloth%s: no shine, no shrinkage.", w.g.ClothNames[j], rules.Dots(l.Symbol), l.Symbol.TextMost(w.u), steam)
		if !hot {
			t.Take = append(t.Take, "Irons burn: keep fingers off the steam, and set the iron on its heel.")
			hot = true
		}
	}
	for i, in := range w.g.Interfacings {
		for j, cl := range w.g.Cloths {
			if in.Fixing != "fusible" || !w.p.Fused(in, cl) {
				continue
			}
			lo, hi := rules.FuseRange(in)
			heat := lo.TextGiven(w.u)
			if hi > lo {
				heat = "at the heat its maker gives (" + heat + " to " + hi.TextGiven(w.u) + " are printed)"
			} else {
				heat = "at " + heat + " in the glue line, the sole hotter"
			}
			shell, fus := plan.FuseTest(1)
			t := w.add(StageTest, "", "Fuse the %s interfacing on %s, a swatch %s square on one %s square, three times, %s: lift and press 10 to 15 s a spot, let it cool flat. Rub the edge, and measure the swatch again for shrinkage.", w.g.InterfNames[i], w.g.ClothNames[j], w.len(fus[0]), w.len(shell[0]), heat)
			t.use(plan.InterfacingID(w.g, in))
			w.take(t, "", rules.TaskFuseTest)
		}
	}
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if rules.SewnHole(k) {
			t := w.sample(c, k)
			w.take(t, c.Name, rules.TaskSample)
		}
		if rules.SetWithTool(&c.Notion) {
			t := w.add(StageTest, c.Name, "Make a test set of the %s of the %s through %s, %s pressed together: it must not turn by hand, and must open and close freely.", w.called(c), c.Name, layerNames(&k.Under), k.Under.Pressed.TextThin())
			w.take(t, c.Name, rules.TaskTestSet)
			if len(t.Take) > 0 { // it says the whole task
				t.Do, t.Take = "For the "+c.Name+", "+lower(t.Take[0]), t.Take[1:]
			}
			t.use(k.FastenerIDs(w.sizes)...)
			w.take(t, c.Name, rules.TaskSet)
		}
		if rules.Turns(c) && rules.TurnOf(&k.Over) > 0 {
			w.add(StageTest, c.Name, "Roll the real layers of the %s over your finger and mark how far the upper one creeps: about %s is planned.", c.Name, w.len(c.Turn.Or(rules.TurnOf(&k.Over).RoundNearest(plan.HoleStep(w.u)))))
		}
	})
}

func (w *planner) used(cl *catalog.Cloth) bool {
	x := rules.Context{G: w.g}
	return x.Used(cl)
}

// coolest is the limit of the most delicate cloth, which is that of the
// finished garment.
func (w *planner) coolest() (plan.Limit, string) {
	best, name := plan.Limit{}, ""
	for i, cl := range w.g.Cloths {
		if l := plan.IronLimit(w.g.Catalog, cl.Fibre); w.used(cl) && l.Fibre != "" && (name == "" || l.Symbol < best.Symbol) {
			best, name = l, w.g.ClothNames[i]
		}
	}
	return best, name
}

// shrinking is the shrinking of goods before they are cut.
func (w *planner) shrinking() {
	for j, cl := range w.g.Cloths {
		if w.used(cl) && cl.Shrink.Or(0) > 0 {
			w.add(StageCut, "", "Shrink %s before cutting: it loses %s, %s in a yard (0.9 m).", w.g.ClothNames[j], rules.Percent(cl.Shrink.V), w.len(plan.ShrinkApart(measure.Yard, cl.Shrink.V, 0)))
		}
	}
	for i, in := range w.g.Interfacings {
		if w.supported(in) && in.Shrink.Or(0) > 0 {
			w.add(StageCut, "", "Shrink %s before cutting: it loses %s, %s in a yard (0.9 m).", w.g.InterfNames[i], rules.Percent(in.Shrink.V), w.len(plan.ShrinkApart(measure.Yard, in.Shrink.V, 0)))
		}
	}
}
