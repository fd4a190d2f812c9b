package work

import (
	"strings"

	"placketeer/catalog"
	"placketeer/rules/plan"
)

// measureNotions measures the real fasteners.
func (w *planner) measureNotions() {
	seen := map[string]bool{}
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		n := &c.Notion
		if seen[n.Name] && c.Use != "" {
			return
		}
		seen[n.Name] = true
		s := plan.ShapeOf(n)
		switch {
		case n.Kind == catalog.Zip:
			w.add(StageMeasure, c.Name, "Measure the finished opening of the %s: the plan counts on %s.", c.OpeningName(), w.bySize(func(i int) string { return w.len(c.Run.Length.At(i).V) }))
		case n.Kind == catalog.Toggle:
			w.add(StageMeasure, c.Name, "Measure a real %s: the plan counts on %s long, %s wide and %s thick.", w.called(c), w.len(n.Length.V), w.len(s.Width), w.len(s.Thickness))
		case s.Girth > 0:
			w.add(StageMeasure, c.Name, "Wind a strip of paper round a real %s at its widest: the plan counts on %s.", w.called(c), w.len(s.Girth))
		case n.Kind == catalog.Hook && n.Length.Has() && n.Width.Has():
			w.add(StageMeasure, c.Name, "Measure a real %s: the plan counts on %s long and %s wide.", w.called(c), w.len(n.Length.V), w.len(n.Width.V))
		case n.Kind == catalog.TackButton && n.Thickness.Has():
			w.add(StageMeasure, c.Name, "Measure a real %s: the plan counts on %s across and a head %s high, the hub under it not counted.", w.called(c), w.len(plan.AcrossOf(n)), w.len(n.Thickness.V))
		case n.Thickness.Has():
			w.add(StageMeasure, c.Name, "Measure a real %s: the plan counts on %s across and %s thick.", w.called(c), w.len(plan.AcrossOf(n)), w.len(n.Thickness.V))
		default:
			w.add(StageMeasure, c.Name, "Measure a real %s: the plan counts on %s across.", w.called(c), w.len(plan.AcrossOf(n)))
		}
		if n.Kind != catalog.Zip {
			w.out[len(w.out)-1].use(k.FastenerIDs(w.sizes)...)
		}
	})
}

// called is the fastener of a closure by its name and kind.
func (w *planner) called(c *catalog.Closure) string {
	if c.Use == "" {
		return c.Notion.Kind + " of the " + c.Name
	}
	if strings.Contains(c.Notion.Name, c.Notion.Kind) {
		return c.Notion.Name
	}
	return c.Notion.Name + " " + c.Notion.Kind
}

// sews says whether there is anything for the machine to sew through.
func (w *planner) sews() bool {
	for i := range w.p.Closures {
		if w.p.Closures[i].Closure.Notion.Kind != catalog.Zip {
			return true
		}
	}
	return false
}
