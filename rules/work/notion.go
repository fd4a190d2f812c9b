package work

import (
	"fmt"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/text"
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
		real := func(format string, args ...any) {
			counts := fmt.Sprintf(format, args...)
			w.listed(StageMeasure, c.Name, "Measure the real fasteners. The plan counts on", w.called(c)+": "+counts, "Measure a real "+w.called(c)+": the plan counts on "+counts+".")
		}
		switch {
		case n.Kind == catalog.Zip:
			w.add(StageMeasure, c.Name, "Measure the finished opening of the %s: the plan counts on", c.OpeningName()).bySizes(w, "", func(i int) string {
				run, need := c.Run.Length.At(i).V, k.Zip.Sizes[i].Need
				if need == run || need == 0 {
					return w.len(run)
				}
				return w.len(run) + ", " + w.len(need) + " of it for the zip"
			})
			if t := &w.out[len(w.out)-1]; len(t.Lines) > 0 {
				t.Do = strings.ReplaceAll(t.Do, ": the plan", ". The plan") // one colon a sentence
			}
		case n.Kind == catalog.Toggle:
			real("%s long, %s wide and %s thick", w.len(n.Length.V), w.len(s.Width), w.len(s.Thickness))
		case s.Girth > 0:
			w.add(StageMeasure, c.Name, "Wind a strip of paper round a real %s at its widest: the plan counts on %s.", w.called(c), w.len(s.Girth))
		case n.Kind == catalog.Hook && n.Length.Has() && n.Width.Has():
			real("%s long and %s wide", w.len(n.Length.V), w.len(n.Width.V))
		case n.Kind == catalog.TackButton && n.Thickness.Has():
			real("%s across and a head %s high, the hub under it not counted", w.len(plan.AcrossOf(n)), w.len(n.Thickness.V))
		case n.Thickness.Has():
			real("%s across and %s thick", w.len(plan.AcrossOf(n)), w.len(n.Thickness.V))
		default:
			real("%s across", w.len(plan.AcrossOf(n)))
		}
		if n.Kind != catalog.Zip {
			w.out[len(w.out)-1].use(k.FastenerIDs(w.sizes)...)
		}
	})
}

// kindOf is the kind of a closure's fastener in words.
func kindOf(c *catalog.Closure) string { return strings.ReplaceAll(c.Notion.Kind, "-", " ") }

// called is the fastener of a closure by its name and kind.
func (w *planner) called(c *catalog.Closure) string {
	kind := kindOf(c)
	switch {
	case c.Use == "" && (c.Name == kind || c.Name == text.Plural(c.Notion.Kind)):
		return kind
	case c.Use == "":
		return kind + " of the " + c.Name
	case strings.Contains(c.Notion.Name, c.Notion.Kind):
		return c.Notion.Name
	}
	return c.Notion.Name + " " + kind
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
