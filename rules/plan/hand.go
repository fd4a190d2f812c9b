package plan

import (
	"math"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// A hole worked by hand.
const (
	// PurlDepth is how deep the purls lie on either side: J. Williams, Historical
	// Tailoring masterclass.
	PurlDepth = eighth
	// PurlsLeast and PurlsMost are the purls of a tailor's hole to the inch: from
	// memory.
	PurlsLeast, PurlsMost = 20, 25

	// EyeLeast and EyeMost are the punch for the eye, OvercastDepth how deep its
	// edges are overcast: the same masterclass.
	EyeLeast, EyeMost = in * 3 / 16, quarter
	OvercastDepth     = eighth
	// RowsApart is from one to the other of the rows that hold the layers before
	// the slit is cut between them: K. H. Watson, Textiles and Clothing, 1907.
	RowsApart = eighth

	twistOverSlit = 36                   // 3/4 yd for a hole of 3/4 in: Every Woman's Encyclopaedia, tailoring lessons, about 1911
	twistLeast    = measure.Yard * 3 / 4 // the same lesson; a masterclass takes 1 yd for a small keyhole
	twistTex      = 90                   // buttonhole twist for coat cloth: from memory
	twistLight    = 44                   // cotton no. 40: Text-Book on Domestic Art, for the weight of a blouse
)

// A bound hole.
const (
	boundHalf      = eighth      // of its width, one lip: University of Hawaii Extension Circular 442
	boundHalfBulky = in * 3 / 16 // state extension, Tailoring series, Making bound buttonholes
	lipStripWidth  = in * 3 / 2  // the same: a strip 1 1/2 in wide and four times the hole long
	lipStripHoles  = 4           //
	RowStripExtra  = in          // above and below the row: The Sun (Auckland), 4 July 1927
	rowStripWidth  = in * 5 / 2  // the same, for a hole of medium length
	rowStripBeyond = in / 2      // beyond each end of the hole: the least that either relative rule gives, derived
	boundTail      = 25 * mm     // at each end of a row of stitches: thread makers' guides, 2 to 3 cm
	boundRows      = 4           // two lips and two ends
)

// HoleByHand says whether the hole is worked by hand: where that is asked for,
// or where the machine does not sew it.
func (h *Hole) HoleByHand() bool {
	return h.Needed && h.Kind != "loop" && h.Kind != "bound" && !h.ByMachine()
}

// TwistFor is the twist for one hole that is worked by hand, its tail included.
func TwistFor(slit measure.Length) measure.Length { return max(slit*twistOverSlit, twistLeast) }

// LipStrip is the strip of cloth that the lips of one bound hole are made of.
func LipStrip(hole measure.Length) (width, length measure.Length) {
	return lipStripWidth, lipStripHoles * hole
}

// RowStrip is one strip for the lips of a whole row of bound holes across the
// edge: from the first to the last and 1 in beyond either.
func RowStrip(hole, span measure.Length) (width, length measure.Length) {
	return max(rowStripWidth, hole+2*rowStripBeyond), span + 2*RowStripExtra
}

// BoundThread is the thread of the seams of one bound hole: along its lips and
// across its ends.
func BoundThread(hole, width, thick, stitch measure.Length) measure.Length {
	return Scale(2*hole+2*width+2*boundRows*boundTail, LockstitchRatio(thick, stitch))
}

// handHole fills in what a hole made by hand takes.
func (h *Hole) handHole(c *catalog.Closure, k *Closure) {
	switch {
	case h.Kind == "bound":
		h.LipWidth, h.LipLength = LipStrip(h.Length)
	case h.HoleByHand():
		h.Purl, h.Twist = PurlDepth, TwistFor(h.Length)
		cl, _ := ClassOf(k)
		h.Gimp = cl.Heavy() || c.Finish == "corded"
	}
}

// heavyNeedle is the thin end of the needle band of heavy cloth.
const heavyNeedle = 90

// twist is the thread that holes are worked with by hand: the garment's thread
// called twist or buttonhole, one named for the closure that is no seam
// thread, else the usual one for the cloth.
func (p *Plan) twist(i int) Thread {
	c, k := &p.Garment.Closures[i], &p.Closures[i]
	for _, name := range []string{"twist", "buttonhole", c.Thread} {
		if th := p.Garment.ThreadNamed(name); th != nil && name != "" && name != "seam" {
			t := namedThread(name, th)
			t.limits(&k.Thread)
			return t
		}
	}
	t := Thread{Tex: twistLight, Fibre: "cotton"}
	if cl, _ := ClassOf(k); cl.Heavy() {
		t.Tex, t.Fibre = twistTex, "silk twist"
	}
	t.limits(&k.Thread)
	t.thicken()
	return t
}

// limits takes what the cloth asks of a thread from another.
func (t *Thread) limits(of *Thread) {
	t.Min, t.Max, t.ButtonMin, t.ButtonMax, t.Topstitch = of.Min, of.Max, of.ButtonMin, of.ButtonMax, of.Topstitch
}

// twistNeedle is the hand needle for buttonhole twist: a costume maker's page,
// 2015, betweens; crewels 5 to 7 from memory.
var twistNeedle = HandNeedle{"crewel", 5}

// HandNeedle is the needle for a job by hand on closure i.
func (p *Plan) HandNeedle(i int, job Job) HandNeedle {
	if job == JobHoles && p.Closures[i].Hole.Twist != 0 {
		return twistNeedle
	}
	return HandNeedleFor(p.ThreadOf(i, job).Diameter)
}

// WaitsForHem says whether the last fastener of a front is placed from the
// hem: not where the run ends in the cloth, nor one alone that hangs from the
// neck.
func (k *Closure) WaitsForHem(g *catalog.Garment) bool {
	c := k.Closure
	if g.HemAt == "none" || !IsFront(c) || c.Notion.Kind == catalog.Zip {
		return false
	}
	for i := range k.Sizes {
		if z := &k.Sizes[i]; !z.Solved || z.Count > 1 {
			return true
		}
	}
	return c.Run.Last.Has() && !c.Run.First.Has()
}

// Sewing a button on by hand.
const (
	passesLight = 4            // through each pair of holes: mending guides, 3 to 6
	passesHeavy = 5            // a clothes-mending house, 2016: 4 to 5 on a coat; a sewing page says 6 to 8
	ShankWinds  = 5            // Text-Book on Domestic Art: 4 to 5; de Dillmont: 6 to 7
	shankThick  = 4 * mm       // of the thread of a shank: derived, as in the published sum
	handTails   = 120 * mm     // the same
	usualGap    = mm * 35 / 10 // between a pair of holes: household machine manual, the usual swing
	toggleSewn  = 12 * in      // thread used double: a sewing page on toggles, 4 to 5 small stitches over the base
)

// HandThread is how much doubled thread sews one button on by hand: passes up
// and down through the cloth, the shank and the button, the winds of the shank
// and the tails. Twice as much is cut.
func HandThread(stack, shank, thick, gap measure.Length, pairs, passes int) measure.Length {
	one := 2*(stack+shank+thick) + 2*gap
	winds := measure.Length(0)
	if shank != 0 {
		winds = Scale(shankThick, math.Pi*ShankWinds)
	}
	return measure.Length(pairs*passes)*one + winds + handTails
}

// byHand fills in how a fastener is sewn on by hand.
func (s *Sewing) byHand(c *catalog.Closure, k *Closure) {
	n := &c.Notion
	if !s.ByHand {
		return
	}
	switch n.Kind {
	case catalog.Toggle:
		s.ThreadCut = toggleSewn
	case catalog.Button:
		cl, _ := ClassOf(k)
		s.Passes = passesLight
		if cl.Heavy() {
			s.Passes = passesHeavy
		}
		pairs := 1
		if !n.Shank.Has() {
			pairs = max(1, n.Holes.Or(usualHoles)/2)
		}
		s.ThreadCut = 2 * HandThread(k.Under.Thick, s.ThreadShank, n.Thickness.V, n.HoleGap.Or(usualGap), pairs, s.Passes)
		if s.ThreadShank != 0 {
			s.Winds = ShankWinds
		}
	}
}
