package work

import (
	"fmt"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func (w *working) places() {
	for _, p := range w.x.K.Places {
		says := fmt.Sprintf("%s: %s of cloth, %s lying free, %s under the foot", p.Name, text.Count(p.Cloths, "layer"), p.Thick.TextThin(), p.Pressed.ShortThin())
		if p.Graded > 0 && p.Graded != p.Pressed {
			says += fmt.Sprintf(", %s once it is trimmed and graded", p.Graded.ShortThin())
		}
		if p.Says != "" {
			says += " (" + p.Says + ")"
		}
		w.say(TopicThick, "place-thick", "%s", says)
	}
}

// bulk is the work at the thickest place of a closure.
func (w *planner) bulk(stage string, c *catalog.Closure, k *plan.Closure) {
	p := k.Thick()
	if p == nil {
		return
	}
	t := w.add(stage, c.Name, "Count the layers at %s: %d of cloth, %s thick.", rules.PlaceCalled(p), p.Cloths, p.Thick.TextThin())
	w.take(t, c.Name, rules.TaskThick)
	if len(t.Take) == 0 {
		t.Do += " First " + rules.PlaceTrim(p, w.u) + "."
	}
	if p.Trim == plan.GradeWords {
		widths := plan.Grade(p.Cloths - plyCount(&k.Over))
		texts := make([]string, len(widths))
		for i, l := range widths {
			texts[i] = l.Short(w.u)
		}
		if len(texts) > 1 {
			w.add(stage, c.Name, "Grade the %d allowances there, from the outside in: %s.", len(texts), strings.Join(texts, ", "))
		}
	}
	t = w.add(stage, c.Name, "Check the needle clamp and put in %s before you sew over it; stitch %s, the wheel turned by hand.", k.Needle.Thick, k.Stitch.Length.TextThin())
	t.use(plan.NeedleID(k.Needle.Thick, k.Needle.Point))
	w.take(t, "", rules.TaskNeedle)
}
