package work

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"slices"
)

// zip is the working of a zip.
func (w *working) zip() {
	z := &w.x.K.Zip
	if !z.Needed {
		return
	}
	if z.Group != "" {
		width := w.x.C.Notion.Slider.Or(z.Chain)
		w.say(TopicZip, "zip-group", "size group %s by its %s, %s", z.Group, z.GroupBy, w.t(width))
	}
	if z.Number != 0 {
		w.say(TopicZip, "zip-use", "number %g; usual for this cloth and place: %g to %g", z.Number, z.NumberMin, min(z.NumberMax, plan.ZipNumberSold))
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
		case len(w.x.C.Notion.Lengths) != 0:
			says += "; the nearest on sale that is long enough is " + w.t(s.Length)
		}
		if s.Buy != 0 && s.Buy != s.Length {
			says += ", which is not sold: buy " + w.t(s.Buy)
		}
		if s.Shorten > 0 {
			says += ": " + w.x.Shorten(s.Shorten)
		}
		w.say(TopicZip, "zip-length", "%s", says)
	}
	if z.Tape != 0 {
		if z.TapeIn > 0 {
			w.say(TopicZip, "zip-tape", "one tape %s wide, %s: the tape's edge lies %s inside the cut edge, the fold %s from the teeth, the stitching %s", w.s(z.Tape), w.allowance(), w.t(z.TapeIn), w.s(z.Fold-z.Half), w.s(z.Stitched))
		} else {
			w.say(TopicZip, "zip-tape", "one tape %s wide, %s: lay the tape's edge on the cut edge; the stitching runs %s or more from the teeth", w.s(z.Tape), w.allowance(), w.s(z.Stitched))
		}
	}
	o := w.opening()
	for i, s := range z.Sizes {
		if pc := o.piece(i, plan.Over); pc != nil && s.Need != 0 {
			of := ""
			if s.Size != "" {
				of = "size " + s.Size + ": "
			}
			stitched := ""
			if l := lineAt(pc, plan.StitchLine, -(z.Half + z.Stitched)); l != nil {
				stitched = ", stitched " + o.out(l.From.Out)
			}
			w.say(TopicZip, "zip-stops", "%steeth %s%s", of, o.teeth(i, w.x.C.Index), stitched)
		}
	}
	if w.x.K.Stand.Construction == "fly" {
		w.say(TopicZip, "zip-fly", "fly over it, from the middle of the teeth: at least %s, and %s to clear the tape", w.made(z.FlyLeast, false), w.made(z.FlyUsual, false))
	}
}

// zip is the work on a zip.
func (w *planner) zip(c *catalog.Closure, k *plan.Closure) {
	z := &k.Zip
	shorter := func(s int) bool { return z.Sizes[s].Shorten != 0 }
	stops := ""
	if slices.ContainsFunc(w.sizes, shorter) {
		stops = ", with a new stop there"
		if z.End == "top" {
			stops = ", with new stops there, never at the pin and box"
		}
		by, lines := w.sized(func(s int) string {
			if l := z.Sizes[s].Shorten; l != 0 {
				return "by " + w.len(l)
			}
			return "not at all"
		})
		if lines != nil {
			by = "as below"
		}
		t := w.add(StageEdge, c.Name, "Shorten the zip%s, %s, at the %s only%s.", of(c), by, z.End, stops)
		t.Lines = lines
		t.use(k.FastenerIDs(w.sizes)...)
	}
	o := w.opening(c.Index)
	lies, stitched := "", ""
	var lines []string
	if pc := o.any(plan.Over); pc != nil {
		on := ""
		if o.line != "the line of the teeth" {
			on = " on " + o.line
		}
		where := ""
		where, lines = w.sized(func(i int) string { return o.teeth(i, c.Index) })
		if where != "" {
			where = " " + where
		} else {
			where = " as below"
		}
		lies = ", the middle of its teeth" + on + where
		if on == "" {
			lies = ", its teeth" + where
		}
		if l := w.zipLine(o, k); l != nil {
			stitched = " " + o.out(l.From.Out)
		}
	}
	far := ", " + w.len(z.Stitched) + " from the teeth"
	fly, before := "", ""
	if c.Stand.Construction == "fly" && o.flap == nil { // a flap is sewn on through the zip
		of := " of the fly"
		if o.lap != nil && o.lap.Stand.Construction != "fly" { // the front laps over it
			of = ""
		}
		fly = " Stitch " + o.sideName(plan.Over) + "'s half to the facing" + of + " alone, so that no stitch shows."
	}
	if o.faced(plan.Over) {
		before = " Do it before the facing covers it."
		if fly != "" {
			before = " Do it before the facings are put on."
		}
		if k.HolesStay() && o.flap != nil {
			before = " Do it before the facing covers it; on the side of the flap only hold it, and sew zip and flap on in one row."
		}
	}
	how, once := "Baste the zip%s in%s; run it", ""
	if k.Unbasted() {
		how = "Hold the zip%s with narrow tape or clips%s, without basting; run it"
	}
	if k.HolesStay() {
		once = ": one row of about " + pitch(w.u) + ", its ends tied; the needle's holes stay"
	}
	if w.stitchedLast(o, k) {
		t := w.add(StageEdge, c.Name, how+" up and down. It is stitched when the facing is on.", of(c), lies)
		t.Lines = lines
		t.use(k.FastenerIDs(w.sizes)...)
		w.take(t, c.Name, rules.TaskZip)
		return
	}
	t := w.add(StageEdge, c.Name, how+" up and down before you stitch it%s%s, with a zip foot, needle %s, %s%s.%s%s", of(c), lies, stitched, far, k.Needle.Use, w.thread(c, plan.JobZip), once, fly, before)
	t.Lines = lines
	t.use(k.FastenerIDs(w.sizes)...).sew(w, k, plan.JobZip)
	if !k.Unbasted() {
		t.use(w.byHand(c, plan.JobBaste)...)
	}
	w.take(t, c.Name, rules.TaskZip)
}

// stitchedLast says whether a zip is only held until its facing is on: where a
// needle's holes stay, one row goes through all.
func (w *planner) stitchedLast(o *opening, k *plan.Closure) bool {
	return k.HolesStay() && o.flap == nil && o.facedBy() == k
}

// zipRow is the row that holds such a zip.
func (w *planner) zipRow(o *opening) {
	k := o.zip
	if k == nil || !w.stitchedLast(o, k) {
		return
	}
	c := k.Closure
	row := ""
	if l := w.zipLine(o, k); l != nil {
		row = " " + o.out(l.From.Out)
	}
	row += ", " + w.len(k.Zip.Stitched) + " from the teeth"
	w.add(StageEdge, c.Name, "Stitch the zip%s%s, with a zip foot, needle %s, %s, through front, tape and facing, in one row of about %s, its ends tied: the needle's holes stay.", of(c), row, k.Needle.Use, w.thread(c, plan.JobZip), pitch(w.u)).sew(w, k, plan.JobZip)
}

// zipLine is the row of a zip on the over piece, or nil.
func (w *planner) zipLine(o *opening, k *plan.Closure) *plan.Line {
	if pc := o.any(plan.Over); pc != nil {
		return lineAt(pc, plan.StitchLine, -(k.Zip.Half + k.Zip.Stitched))
	}
	return nil
}

// stretch is a stretch down the opening.
func (o *opening) stretch(from, to measure.Length) string {
	if from == to {
		return "at " + o.place(from) + o.fromTop()
	}
	if from == 0 {
		way := " below it"
		if plan.LiesAcross(&o.p.Garment.Closures[o.first]) { // or on a slant
			way = " from it"
		}
		return "from " + o.top() + " to " + o.place(to) + way
	}
	return "from " + o.place(from) + " to " + o.place(to) + o.fromTop()
}

// teeth is where the teeth of a zip begin and end in one size.
func (o *opening) teeth(size, closure int) string {
	if pc := o.piece(size, plan.Over); pc != nil {
		for i := range pc.Parts {
			if q := &pc.Parts[i]; q.Kind == plan.TeethPart && int(q.Closure) == closure {
				return o.stretch(q.From, q.To)
			}
		}
	}
	return "not laid out, see above"
}

// pitch is the stitch of a zip in cloth whose holes stay.
func pitch(u measure.Unit) string {
	if u.IsAlone() {
		return rules.Pitch(8, 8, u)
	}
	return rules.Pitch(8, 8, u) + " (" + (measure.Inch / 8).ShortThin(u) + ")"
}
