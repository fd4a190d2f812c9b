package plan

import (
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

const (
	SupportLeast = quarter // beyond the hole: reader's answer, trade pattern maker's site
	SupportUsual = in / 2  // common practice, no source
	boundPatch   = in      // beside a bound hole: a sewing page, a patch 2 in wider than the hole
	// Stagger is how far a second interfacing reaches past the first, so that
	// two edges do not end on one line: that they are set apart is common
	// practice, no source; the figure is ours.
	Stagger, StaggerMM = in * 3 / 8, 10 * mm
)

// Thresholds of strips.
var (
	SupportLimit      = Inches("past", SupportLeast, Published)
	SupportUsualLimit = Inches("usual past", SupportUsual, Practice)
	StaggerLimit      = Inches("stagger", Stagger, Ours)
	StaggerMMLimit    = Metric("stagger mm", StaggerMM, Ours)
)

// Strips says how many strips of that width lie side by side in goods of
// that width, and how much of the goods to buy for n strips of that length
// when it shrinks by so many percent.
func Strips(n int, width, length, goods measure.Length, shrink float64) (across int, cloth measure.Length) {
	if width <= 0 || goods < width {
		return 0, 0
	}
	across = int(goods / width)
	rows := CeilDiv(n, across)
	return across, CutForShrink(measure.Length(rows)*length, shrink)
}

// Buy is how many of n strips lie side by side in the goods, and how much of
// the goods to buy for them.
func (s *Support) Buy(n int) (across int, cloth measure.Length) {
	if s.Interfacing == nil {
		return 0, 0
	}
	return Strips(n, s.Strip, s.Length, s.Interfacing.Width.V, s.Interfacing.Shrink.Or(0))
}

// InterfacingOf is the first interfacing among the layers, or nil.
func InterfacingOf(ls []catalog.Layer) (string, *catalog.Interfacing) {
	for _, l := range ls {
		if l.Interfacing != nil {
			return l.Name, l.Interfacing
		}
	}
	return "", nil
}

func supportOf(g *catalog.Garment, c *catalog.Closure, k *Closure) Support {
	s := Support{Needed: c.Notion.Kind != catalog.Zip}
	if !s.Needed {
		return s
	}
	_, s.Interfacing = InterfacingOf(c.Over)
	if s.Interfacing == nil {
		_, s.Interfacing = InterfacingOf(c.Under)
	}
	// How far inside the line of the holes it must reach, and should.
	along := false
	switch {
	case k.Loop.Hooks:
		in := k.hookIn()
		s.Reach, s.UsualReach = in+SupportLeast, in+SupportUsual
	case !k.Hole.Needed || k.Hole.Kind == "loop":
		// Set or sewn on without a hole: the flange and a margin all round.
		s.Reach, s.UsualReach = k.Reach.In+SupportLeast, k.Reach.In+SupportUsual
		if k.Apart() {
			s.Reach = max(s.Reach, c.Inset.V+SupportLeast)
			s.UsualReach = max(s.UsualReach, c.Inset.V+PatchHalf+SupportLeast)
		} else if st := &k.Stand; LapOf(c) != "double" && !k.Hole.Needed && !c.Flap.Has() && (st.Construction == "folded" || st.Construction == "band") {
			s.Whole, s.UsualReach = st.Band, s.Reach
		}
	case k.Hole.Direction == "across":
		s.Reach, s.UsualReach = k.Hole.Inside+SupportLeast, k.Hole.Inside+SupportUsual
	default:
		along = true
		s.Reach = k.Hole.Width/2 + SupportLeast
		s.UsualReach = s.Reach
		if st := &k.Stand; LapOf(c) != "double" && (st.Construction == "folded" || st.Construction == "band") {
			s.Whole = max(st.Band, 2*s.Reach) // the whole band, its edges at the strip's
		} else if k.Hole.Kind == "bound" { // as far as the finished edge leaves room
			s.UsualReach = max(s.Reach, min(k.Hole.Width/2+boundPatch, st.Have))
		}
	}
	f, st := &c.Stand, &k.Stand
	if LapOf(c) == "double" {
		// Past the buttons of the inner column as well, as far behind the
		// centre line as the holes lie in front of it.
		along = false
		s.Reach = max(s.Reach, st.Column+st.FacingLeast)
		s.UsualReach = max(s.UsualReach, st.Column+st.FacingUsual)
	}
	switch {
	case st.Extension != 0 && f.StripFromEdge.Has():
		s.Begins, s.Placed = st.Extension-st.Column-f.StripFromEdge.V, true
	case s.cutEdge(f):
		s.Begins, s.Placed = st.Extension-st.Column, true
	case along:
		s.Begins = s.Reach // it lies with its middle under the holes
	case k.InFly():
		s.Begins = st.Have - FlyShort // from the edge of the fly
	default:
		s.Begins = st.Have // from the finished edge
	}
	s.Least, s.Usual = max(0, s.Begins+s.Reach), max(0, s.Begins+s.UsualReach)
	if along && !s.Placed {
		s.Usual = 2 * s.UsualReach
	}
	if c.Flap.Has() {
		// On the under front the same strip is laid against the edge.
		inset := c.Flap.Width.V - st.Have
		s.Least, s.Usual = max(s.Least, inset+s.Reach), max(s.Usual, inset+s.UsualReach)
	}
	sewnOn := st.Construction == "band" && LapOf(c) != "double" && !c.Flap.Has() && !s.Placed && st.Band != 0
	if sewnOn { // nothing of it lies past the seam that the band is sewn on with
		s.Reach, s.UsualReach = min(s.Reach, st.Band-st.Have), min(s.UsualReach, st.Band-st.Have)
		s.Least, s.Usual, s.Whole = min(s.Least, st.Band), min(s.Usual, st.Band), st.Band
	}
	step := measure.Length(eighth)
	if g.Units.Is(measure.MM) {
		step = 5 * mm
	}
	if s.Placed {
		s.Whole = 0
	}
	if s.Whole != 0 {
		s.Whole = max(s.Whole, s.Usual)
	}
	s.Usual = max(s.Usual, s.Whole)
	s.Strip = max(step, s.Usual.RoundUp(step))
	if s.Whole != 0 {
		s.Strip = s.Whole
	}
	if f.Strip.Has() {
		s.Strip, s.Given = f.Strip.V, true
	}
	if along && !s.Placed {
		s.Begins = s.Strip / 2
	}
	s.Covers = s.Strip - s.Begins
	s.BareCords = k.Apart() && s.Covers < c.Inset.V+SupportLeast
	switch {
	case st.Lost: // there is no edge to lay it against; what is drafted to the cut edge can still be judged
		if !s.Placed {
			s = Support{Needed: true, Interfacing: s.Interfacing, Reach: s.Reach, UsualReach: s.UsualReach}
		}
		s.Waits = "stand-narrow"
		return s
	case s.Placed && !s.Given && s.Least == 0:
		s.Waits = "strip-start"
		return s
	}
	s.Strips = s.strips(c, st, along, g.Units)
	if len(s.Strips) != 0 { // one for each of the two sides that meet, as often as it lies there
		s.Pieces = s.Strips[0].Pieces(c)
	}
	for i := range g.Sizes {
		s.Length = max(s.Length, c.Run.Length.At(i).V)
	}
	if s.Interfacing != nil && s.Interfacing.Width.Has() {
		s.Across, s.Cloth = Strips(s.Pieces, s.Strip, s.Length, s.Interfacing.Width.V, s.Interfacing.Shrink.Or(0))
	}
	return s
}

// strips are the interfacings of the layers, each once, the first first. What
// lies beside another is cut as the file says, else wider by Stagger where its
// inner edge lies free.
func (s *Support) strips(c *catalog.Closure, st *Stand, along bool, u measure.Unit) []Strip {
	if s.Interfacing == nil {
		return nil
	}
	var out []Strip
	for side, ls := range [...][]catalog.Layer{c.Over, c.Under} {
		first := true
		for i := range ls {
			in := ls[i].Interfacing
			if in == nil {
				continue
			}
			n := slices.IndexFunc(out, func(x Strip) bool { return x.Interfacing == in })
			if n == -1 {
				n = len(out)
				out = append(out, s.strip(c, st, ls[i].Name, in, along, !first, u))
			}
			if first = false; side == 0 {
				out[n].Over++
			} else {
				out[n].Under++
			}
		}
	}
	return out
}

func (s *Support) strip(c *catalog.Closure, st *Stand, name string, in *catalog.Interfacing, along, beside bool, u measure.Unit) Strip {
	x := Strip{Name: name, Interfacing: in, Width: s.Strip, Given: s.AsTold(), Begins: s.Begins, Beside: beside}
	if !beside {
		return x
	}
	said, by, step := c.Stand.StripOf(name), measure.Length(Stagger), measure.Length(eighth)
	if u.Is(measure.MM) {
		by, step = StaggerMM, 5*mm
	}
	centred := along && !s.Placed
	switch {
	case said != nil && said.Width.Has():
		x.Width, x.Given = said.Width.V, true
	case centred && s.Whole == 0 && !c.Flap.Has():
		x.Width, x.Given = (x.Width + 2*by).RoundUp(step), false
	case s.Whole == 0 && !c.Flap.Has():
		x.Width, x.Given = (x.Width + by).RoundUp(step), false
	}
	if g := in.Width; !x.Given && g.Has() && x.Width > max(s.Strip, g.V) {
		x.Width, x.Given = max(s.Strip, g.V), true // as wide as its goods
	}
	switch {
	case said != nil && said.FromEdge.Has() && st.Extension != 0:
		x.Begins = st.Extension - st.Column - said.FromEdge.V
	case centred:
		x.Begins = x.Width / 2
	}
	return x
}

// Covers is how far it reaches inside the line of the holes.
func (x *Strip) Covers() measure.Length { return x.Width - x.Begins }

// Pieces are how many of it a garment takes.
func (x *Strip) Pieces(c *catalog.Closure) int { return c.Pieces * (x.Over + x.Under) }

// Twice says whether it lies more than once in one stack.
func (x *Strip) Twice() bool { return x.Over > 1 || x.Under > 1 }

// AsTold says whether the strip's width is one of the file, its own or that of
// the band, and not worked out.
func (s *Support) AsTold() bool { return s.Given || s.Whole != 0 && s.Strip == s.Whole }

// hookIn is how far inside the line of the fasteners a hook and, on the under
// piece, its eye reach.
func (k *Closure) hookIn() measure.Length {
	at, long := k.meets(), LieOf(&k.Closure.Notion).In
	if k.Closure.Flap.Has() {
		at = 0 // the line is that of the bends
	}
	in := max(long-at, at+EyeLong(&k.Closure.Notion))
	if LapOf(k.Closure) == "edge" {
		in -= k.Stand.Have // where the line lies inside the edge
	}
	return max(0, in)
}

// cutEdge says whether the strip begins at the cut edge: where
// the edge is faced and drafted and the file does not say otherwise. On a
// folded band it is laid against the fold.
func (s *Support) cutEdge(f *catalog.Stand) bool {
	return f.Extension.Has() && !f.StripFromEdge.Has() && f.Construction != "folded" && f.Construction != "band" && f.Construction != "fly"
}

// FlyShort is how far the edge of a fly lies inside the front edge: from
// memory.
const FlyShort = eighth

// InFly says whether the holes of a closure are in the layers of a fly.
func (k *Closure) InFly() bool {
	return k.Closure.Stand.Construction == "fly" && k.SewnHole() && !k.Closure.Flap.Has()
}
