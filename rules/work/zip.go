package work

import (
	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// zip is the working of a zip.
func (w *working) zip() {
	z := &w.x.K.Zip
	if !z.Needed {
		return
	}
	if z.Group != "" {
		width := w.x.C.Notion.Slider.Or(z.Chain)
		w.say(TopicZip, "zip-group", "size group %s by its %s, %s", z.Group, z.GroupBy, w.x.Fine(width))
	}
	if z.Number > 0 {
		w.say(TopicZip, "zip-use", "number %g; usual for this cloth and place: %g to %g", z.Number, z.NumberMin, min(z.NumberMax, 10))
	}
	for _, s := range z.Sizes {
		if s.Need == 0 {
			continue
		}
		of := ""
		if s.Size != "" {
			of = "size " + s.Size + ": "
		}
		says := of + "the opening takes " + w.t(s.Need)
		switch {
		case s.Given:
			says += "; yours is " + w.t(s.Length)
		case s.Length == 0:
			says += "; the longest on sale is " + w.t(s.Longest)
		case len(w.x.C.Notion.Lengths) > 0:
			says += "; the nearest on sale that is long enough is " + w.t(s.Length)
		}
		if s.CutOff > 0 {
			says += ": " + w.x.Shorten(s.CutOff)
		}
		w.say(TopicZip, "zip-length", "%s", says)
	}
	if z.Tape > 0 {
		if z.TapeIn > 0 {
			w.say(TopicZip, "zip-tape", "one tape %s wide, seam allowance %s: the tape's edge lies %s inside the cut edge, the fold %s from the teeth, the stitching %s", w.s(z.Tape), w.s(w.x.K.Stand.Seam), w.t(z.TapeIn), w.s(z.Fold-z.Half), w.s(z.Stitched))
		} else {
			w.say(TopicZip, "zip-tape", "one tape %s wide, seam allowance %s: lay the tape's edge on the cut edge; the stitching runs %s or more from the teeth", w.s(z.Tape), w.s(w.x.K.Stand.Seam), w.s(z.Stitched))
		}
	}
	if w.x.K.Stand.Construction == "fly" {
		w.say(TopicZip, "zip-fly", "flap over it, from the middle of the teeth: at least %s, and %s to clear the tape", w.t(z.FlyLeast), w.t(z.FlyUsual))
	}
}

// zip is the work on a zip.
func (w *planner) zip(c *catalog.Closure, k *plan.Closure) {
	z := &k.Zip
	if text := w.bySize(func(s int) string {
		if l := z.Sizes[s].Shorten; l > 0 {
			return "by " + w.len(l)
		}
		return "if it must be"
	}); text != "" {
		w.add(StageEdge, c.Name, "Shorten the zip of the %s, %s, at the %s only.", c.Name, text, z.End).use(k.FastenerIDs(w.sizes)...)
	}
	far := ""
	if z.Stitched > 0 {
		far = ", " + w.fine(z.Stitched) + " from the teeth"
	}
	t := w.add(StageEdge, c.Name, "Baste the zip of the %s in and run it up and down before you stitch it%s, with a zip foot, needle %s, %s.", c.Name, far, k.Needle.Use, w.thread(c, plan.JobZip))
	t.use(k.FastenerIDs(w.sizes)...).use(w.byMachine(c, plan.JobZip)...).use(w.byHand(c, plan.JobBaste)...)
	w.take(t, c.Name, rules.TaskZip)
}
