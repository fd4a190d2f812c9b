package work

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
		if s.Buy > 0 && s.Buy != s.Length {
			says += ", which is not sold: buy " + w.t(s.Buy)
		}
		if s.Shorten > 0 {
			says += ": " + w.x.Shorten(s.Shorten)
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
		w.say(TopicZip, "zip-fly", "flap over it, from the middle of the teeth: at least %s, and %s to clear the tape", w.made(z.FlyLeast, false), w.made(z.FlyUsual, false))
	}
}
