package work

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
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
		stack := (l.Thick * layersInStack).TextThin(w.u)
		if l.Estimated { // eight of what is printed
			stack = "about " + (l.Thick.Printed(measure.MM) * layersInStack).TextThin(w.u)
		}
		means := fmt.Sprintf("%s means %s a layer, as planned%s", stack, l.Thick.TextThin(w.u), guess)
		if cl.Kind == "leather" { // a fold marks it
			w.listed(StageMeasure, "", "Stack eight scraps of each leather and lay a ruler on the stack", w.g.ClothNames[i]+": "+means, "Stack eight scraps of "+w.g.ClothNames[i]+" and lay a ruler on the stack: "+means+".")
			continue
		}
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
	heat := func(cl *catalog.Cloth) (how string, known bool) {
		l := plan.IronLimit(w.g.Catalog, cl.Fibre)
		return rules.HowPressed(cl, l) + "," + rules.PressHeat(cl, l, "", w.u), l.Fibre != ""
	}
	for j, cl := range w.g.Cloths {
		how, known := heat(cl)
		switch {
		case !w.used(cl):
		case rules.NoIron(cl):
			w.add(StageTest, "", "Fold a scrap of %s with a bone folder or a seam roller, without an iron, and see whether the fold holds.", w.g.ClothNames[j])
		case known && rules.Steamed(cl):
			how = strings.ReplaceAll(how, "no weight: do not set the iron down,", "no weight, the iron not set down,")
			t := w.add(StageTest, "", "Try the iron on a scrap of %s: %s. Look for shine and shrinkage.", w.g.ClothNames[j], how)
			w.care(t, ironsBurn)
		}
	}
	for j, cl := range w.g.Cloths {
		how, known := heat(cl)
		if !w.used(cl) || rules.NoIron(cl) || rules.Steamed(cl) || !known {
			continue
		}
		if rules.Hardly(cl) {
			t := w.add(StageTest, "", "If %s must be pressed, try a scrap: dry, cool and through a press cloth,%s. Look for shine and shrinkage.", w.g.ClothNames[j], rules.PressHeat(cl, plan.IronLimit(w.g.Catalog, cl.Fibre), "", w.u))
			w.care(t, ironsBurn)
			continue
		}
		t := w.listed(StageTest, "", "Press a scrap of each cloth, and look for shine and shrinkage", w.g.ClothNames[j]+": "+how, "Press a scrap of "+w.g.ClothNames[j]+" "+how+". Look for shine and shrinkage.")
		w.care(t, ironsBurn)
	}
}

// ironsBurn is the caution about irons.
const ironsBurn = "Irons burn: keep fingers off the steam, and set the iron on its heel."

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
		if l := plan.IronLimit(w.g.Catalog, cl.Fibre); w.used(cl) && !rules.Hardly(cl) && l.Fibre != "" && (name == "" || l.Bulk < best.Bulk) {
			best, name = l, w.g.ClothNames[i]
		}
	}
	return best, name
}

// symbols are the parts of blends whose care symbol allows less heat than that,
// though the bulk of their cloth stands it.
func (w *planner) symbols(main measure.Temperature) []string {
	var out []string
	for i, cl := range w.g.Cloths {
		if l := plan.IronLimit(w.g.Catalog, cl.Fibre); w.used(cl) && !rules.Hardly(cl) && l.Fibre != "" && !l.Pressed() && l.Symbol < main {
			out = append(out, fmt.Sprintf("the %s of %s in %s %s, %s", rules.Percent(l.Share), l.Fibres, w.g.ClothNames[i], l.Symbol.TextMost(w.u), rules.Dots(l.Symbol)))
		}
	}
	return out
}

// unpressed are the names of the cloths that are pressed hardly at all.
func (w *planner) unpressed() []string {
	var names []string
	for i, cl := range w.g.Cloths {
		if w.used(cl) && rules.Hardly(cl) {
			names = append(names, w.g.ClothNames[i])
		}
	}
	return names
}

// shrinking is the shrinking of goods before they are cut.
func (w *planner) shrinking() {
	long, called := measure.Length(measure.Yard), "a yard"
	if w.u.Is(measure.MM) {
		long, called = measure.Metre, "a metre"
	}
	swatch := "6 in (15 cm)"
	switch {
	case !w.u.IsAlone() && w.u.Is(measure.MM):
		swatch = "15 cm (6 in)"
	case w.u.IsAlone() && w.u.Is(measure.In):
		swatch = "6 in"
	case w.u.IsAlone():
		swatch = "15 cm"
	}
	for j, cl := range w.g.Cloths {
		if !w.used(cl) {
			continue
		}
		z, name := plan.ShrinkOf(w.g, cl), w.g.ClothNames[j]
		counted := fmt.Sprintf("it loses %s, %s in %s", rules.Percent(z.Percent), w.len(plan.ShrinkApart(long, z.Percent, 0)), called)
		if !z.Known {
			more := plan.CutForShrink(long, z.Percent) - long
			counted = fmt.Sprintf("count on %s, %s more to %s, until a swatch of %s, measured before and after, says better; then set cloth.%s.shrink, 0 once it is done", rules.Percent(z.Percent), w.len(more), called, swatch, name)
		}
		switch z.How {
		case plan.Wash:
			w.add(StageCut, "", "Wash %s before cutting, as the garment will be washed, and press it: %s.%s", name, counted, w.washedFusible(j))
		case plan.MayWash:
			w.add(StageCut, "", "If the garment will be washed, wash %s the same way before cutting, and press it: %s. How it will be washed goes into the file, as care.%s", name, counted, w.washedFusible(j))
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
			t := w.add(StageCut, "", "Shrink %s before cutting: it loses %s, %s in %s.", w.g.InterfNames[i], rules.Percent(in.Shrink.V), w.len(plan.ShrinkApart(long, in.Shrink.V, 0)), called)
			w.carry(t, func(f *rules.Finding) bool {
				return rules.Find(f.Rule).Task == rules.TaskShrink && strings.HasPrefix(f.Path(), source.Join("interfacing", w.g.InterfNames[i])+".")
			})
		}
	}
}

// washedFusible is what is known of a fusible on washed cloth: a thesis, Virginia
// Tech, found it to hold much less on a shirting of polyester and cotton.
func (w *planner) washedFusible(cloth int) string {
	f := w.g.Cloths[cloth].Fibre
	if f["polyester"] == 0 || f["cotton"] == 0 {
		return ""
	}
	for i := range w.g.Closures {
		for _, l := range slices.Concat(w.g.Closures[i].Over, w.g.Closures[i].Under) {
			if in := l.Interfacing; in != nil && in.Fixing == "fusible" {
				return " Fuse a washed and an unwashed scrap: on polyester with cotton a fusible may hold less once it is washed."
			}
		}
	}
	return ""
}

// checkIron is the heat of the last pressing.
func (w *planner) checkIron() {
	if l, name := w.coolest(); name != "" && l.Bulk < plan.NoPressCloth {
		off := ""
		if names := w.unpressed(); len(names) != 0 {
			off = " Keep it off " + text.And(names...) + "."
		}
		fibre := l.BulkFibre
		if l.Symbol == l.Bulk { // the one that its scrap was pressed for
			fibre = l.Fibre
		}
		why := fmt.Sprintf("the %s of %s stands no more", fibre, name)
		if symbols := w.symbols(l.Bulk); len(symbols) > 0 {
			why = "no hotter than the scrap stood it, for the care symbol allows " + text.And(symbols...)
		}
		w.add(StageCheck, "", "Finish with the iron at %s at most, %s: %s.%s", rules.Dots(l.Bulk), l.Bulk.TextMost(w.u), why, off)
	}
}

// testTurn tries how far the upper layer of a flap or collar creeps.
func (w *planner) testTurn(c *catalog.Closure, k *plan.Closure) {
	if rules.Turns(c) && k.Over.Turn() > 0 {
		w.add(StageTest, c.Name, "Roll the real layers of the %s over your finger and mark how far the upper one creeps: about %s is planned.", c.Name, w.len(c.Turn.Or(k.Over.Turn().RoundNearest(plan.HoleStep(w.u)))))
	}
}

// cutTurn cuts it larger by as much.
func (w *planner) cutTurn(c *catalog.Closure, k *plan.Closure) {
	if rules.Turns(c) && k.Over.Turn() > 0 {
		w.add(StageCut, c.Name, "Cut the upper layer of the %s %s larger than the under one at the edges that roll.", c.Name, w.len(c.Turn.Or(k.Over.Turn().RoundNearest(plan.HoleStep(w.u)))))
	}
}
