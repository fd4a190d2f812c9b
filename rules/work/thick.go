package work

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func (w *working) places() {
	for _, p := range w.x.K.Places {
		says := fmt.Sprintf("%s: %s of cloth, %s lying free, %s under the foot", p.Name, text.Count(p.Cloths, "layer"), p.Thick.TextThin(w.x.U), p.Pressed.ShortThin(w.x.U))
		if p.Graded != 0 && p.Graded != p.Pressed {
			says += fmt.Sprintf(", %s once it is trimmed and graded", p.Graded.ShortThin(w.x.U))
		}
		if p.Says != "" {
			says += " (" + p.Says + ")"
		}
		w.say(TopicThick, "place-thick", "%s", says)
	}
}

// denim says whether a stack has denim, duck or the like, whose steps a hammer
// flattens: a pattern house's page on jeans.
func denim(s *plan.Stack) bool {
	return slices.ContainsFunc(s.Layers, func(l plan.Layer) bool { return l.Layer.Cloth != nil && l.Layer.Cloth.Kind == "heavy-cotton" })
}

// bulk is the work at the thickest place of a closure.
func (w *planner) bulk(stage string, c *catalog.Closure, k *plan.Closure) {
	p := k.Thick()
	if p == nil {
		return
	}
	t := w.add(stage, c.Name, "")
	w.take(t, c.Name, rules.TaskThick)
	if len(t.Take) > 0 {
		t.Do, t.Take = "Count the layers: "+lower(t.Take[0]), t.Take[1:]
	} else {
		t.Do = fmt.Sprintf("Count the layers at %s: %d of cloth, %s thick. First %s.", rules.PlaceCalled(p), p.Cloths, p.Thick.TextThin(w.u), rules.PlaceTrim(p, w.u))
	}
	if p.Trim == plan.GradeWords { // at length the first time only
		widths := plan.Grade(p.Cloths - plyCount(&k.Over))
		texts := make([]string, len(widths))
		for i, l := range widths {
			texts[i] = l.Short(w.u)
		}
		trim := rules.PlaceTrim(p, w.u)
		how := w.once(trim, "grade the allowances as before, and cut the corner away")
		if len(texts) > 2 {
			how = fmt.Sprintf("grade the %d allowances, from the outside in %s, and cut the corner away", len(texts), text.And(texts...))
		}
		t.Do = strings.ReplaceAll(t.Do, trim, how)
	}
	t.Do = strings.ReplaceAll(t.Do, " Turn the wheel by hand over it.", "")
	if denim(&k.Over) {
		t.Do += " Hammer the steps flat."
	}
	over := "over"
	if strings.Contains(t.Do, rules.ByHandPlace) { // the machine stops before it
		over = "up to"
	}
	t.Do += fmt.Sprintf(" Sew "+over+" it with stitches of %s, the wheel turned by hand.", k.Stitch.Length.TextThin(w.u))
	t.with(k.Needle.Thick, k.Needle.Point).use(plan.NeedleID(k.Needle.Thick, k.Needle.Point))
	w.take(t, "", rules.TaskNeedle)
}

// sameThick says whether the thickest place of two closures is one, and is sewn
// over alike.
func sameThick(a, b *plan.Closure) bool {
	p, q := a.Thick(), b.Thick()
	return p != nil && q != nil && p.Name == q.Name && p.Cloths == q.Cloths && p.Thick == q.Thick && p.Graded == q.Graded &&
		a.Needle.Thick == b.Needle.Thick && a.Needle.Point == b.Needle.Point && a.Stitch.Length == b.Stitch.Length
}
