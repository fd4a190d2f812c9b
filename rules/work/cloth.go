package work

import (
	"fmt"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// measureCloths measures the real cloths.
func (w *planner) measureCloths() {
	for i, cl := range w.g.Cloths {
		if !w.used(cl) {
			continue
		}
		l := plan.LayerOf(w.g, catalog.Layer{Cloth: cl})
		guess := ""
		if l.Estimated {
			guess = ", an estimate from its weight"
		}
		means := fmt.Sprintf("%s means %s a layer, as planned%s", (l.Thick * layersInStack).TextThin(), l.Thick.TextThin(), guess)
		w.listed(StageMeasure, "", "Fold each cloth in eight and lay a ruler on the stack", w.g.ClothNames[i]+": "+means, "Fold "+w.g.ClothNames[i]+" in eight and lay a ruler on the stack: "+means+".")
	}
	for i, cl := range w.g.Cloths {
		if !w.used(cl) {
			continue
		}
		if r := &cl.Repeat; r.Along.Has() || r.Across.Has() {
			parts := []string{}
			if r.Along.Has() {
				parts = append(parts, w.len(r.Along.V)+" along")
			}
			if r.Across.Has() {
				parts = append(parts, w.len(r.Across.V)+" across")
			}
			w.add(StageMeasure, "", "Measure the repeat of %s over three repeats: %s each.", w.g.ClothNames[i], strings.Join(parts, " and "))
		}
	}
}

// testIron tries the iron on scraps.
func (w *planner) testIron() {
	hot := false
	for j, cl := range w.g.Cloths {
		if w.used(cl) && rules.NoIron(cl) {
			w.add(StageTest, "", "Fold a scrap of %s with a bone folder, without an iron, and see whether the fold holds.", w.g.ClothNames[j])
		}
	}
	for j, cl := range w.g.Cloths {
		l := plan.IronLimit(w.g.Catalog, cl.Fibre)
		if !w.used(cl) || rules.NoIron(cl) || l.Fibre == "" {
			continue
		}
		how := rules.HowPressed(cl) + "," + rules.PressHeat(l, w.u)
		t := w.listed(StageTest, "", "Press a scrap of each cloth, and look for shine and shrinkage", w.g.ClothNames[j]+": "+how, "Press a scrap of "+w.g.ClothNames[j]+" "+how+". Look for shine and shrinkage.")
		if !hot {
			t.Take = append(t.Take, "Irons burn: keep fingers off the steam, and set the iron on its heel.")
			hot = true
		}
	}
}

// used says whether any closure has the cloth.
func (w *planner) used(cl *catalog.Cloth) bool {
	x := rules.Context{G: w.g}
	return x.Used(cl)
}

// coolest is the limit of the most delicate cloth, which is that of the
// finished garment.
func (w *planner) coolest() (plan.Limit, string) {
	best, name := plan.Limit{}, ""
	for i, cl := range w.g.Cloths {
		if l := plan.IronLimit(w.g.Catalog, cl.Fibre); w.used(cl) && l.Fibre != "" && (name == "" || l.Main < best.Main) {
			best, name = l, w.g.ClothNames[i]
		}
	}
	return best, name
}

// shrinking is the shrinking of goods before they are cut.
func (w *planner) shrinking() {
	long, called := measure.Length(measure.Yard), "a yard"
	if w.u == measure.MM {
		long, called = measure.Metre, "a metre"
	}
	for j, cl := range w.g.Cloths {
		if !w.used(cl) {
			continue
		}
		z, name := plan.ShrinkOf(w.g, cl), w.g.ClothNames[j]
		counted := fmt.Sprintf("it loses %s, %s in %s", rules.Percent(z.Percent), w.len(plan.ShrinkApart(long, z.Percent, 0)), called)
		if !z.Known {
			more := plan.CutForShrink(long, z.Percent) - long
			counted = fmt.Sprintf("count on %s, %s more to %s, until a swatch of 6 in (15 cm), measured before and after, says better; then set cloth.%s.shrink, 0 once it is done", rules.Percent(z.Percent), w.len(more), called, name)
		}
		switch z.How {
		case plan.Wash:
			w.add(StageCut, "", "Wash %s before cutting, as the garment will be washed, and press it: %s.", name, counted)
		case plan.Steam:
			nap := ""
			if z.Nap {
				nap = " Try the swatch first: damp may change its nap."
			}
			w.add(StageCut, "", "Shrink %s before cutting: %s. Damp it evenly, leave it rolled up an hour or two, steam it through a cloth without stretching it, and let it dry flat; what the iron is to shape is only steamed.%s", name, counted, nap)
		case plan.Shrunk:
			w.add(StageCut, "", "Shrink %s before cutting: %s.", name, counted)
		}
	}
	for i, in := range w.g.Interfacings {
		if w.supported(in) && in.Shrink.Or(0) > 0 {
			w.add(StageCut, "", "Shrink %s before cutting: it loses %s, %s in %s.", w.g.InterfNames[i], rules.Percent(in.Shrink.V), w.len(plan.ShrinkApart(long, in.Shrink.V, 0)), called)
		}
	}
}

// checkIron is the heat of the last pressing.
func (w *planner) checkIron() {
	if l, name := w.coolest(); name != "" && l.Main < rules.NoPressCloth {
		w.add(StageCheck, "", "Finish with the iron at %s at most, %s: the %s of %s stands no more.", rules.Dots(l.Main), l.Main.TextMost(w.u), l.MainFibre, name)
	}
}

// testTurn tries how far the upper layer of a flap or collar creeps.
func (w *planner) testTurn(c *catalog.Closure, k *plan.Closure) {
	if rules.Turns(c) && rules.TurnOf(&k.Over) > 0 {
		w.add(StageTest, c.Name, "Roll the real layers of the %s over your finger and mark how far the upper one creeps: about %s is planned.", c.Name, w.len(c.Turn.Or(rules.TurnOf(&k.Over).RoundNearest(plan.HoleStep(w.u)))))
	}
}

// cutTurn cuts it larger by as much.
func (w *planner) cutTurn(c *catalog.Closure, k *plan.Closure) {
	if rules.Turns(c) && rules.TurnOf(&k.Over) > 0 {
		w.add(StageCut, c.Name, "Cut the upper layer of the %s %s larger than the under one at the edges that roll.", c.Name, w.len(c.Turn.Or(rules.TurnOf(&k.Over).RoundNearest(plan.HoleStep(w.u)))))
	}
}
