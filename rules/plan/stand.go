package plan

import (
	"strconv"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

const (
	RimClear = 3 * mm  // rim inside the finished edge: Sew Today, 2019
	StandRim = quarter // the same, usual: sewing and design professionals' standards, p. 24
	// InnerClear is how far beyond the rim of a button of the inner column the
	// facing and the interfacing should reach: from memory.
	InnerClear = 10 * mm
)

// StandShare is the part of a fastener's width that is a usual stand: household
// machine manuals.
var StandShare = Ratio{3, 4}

// Thresholds of stands and facings.
var (
	RimLimit        = Metric("rim", RimClear, Published)
	StandRimLimit   = Inches("usual rim", StandRim, Published)
	StandShareLimit = Share("usual share", StandShare, Published)
	InnerLimit      = Metric("inner", InnerClear, Memory)
)

// StandLeast, StandUsual and StandFull are the button stand, centre line to
// finished edge, for a fastener d across: the least that keeps the rim on
// the cloth, the usual minimum, and the trade's full stand.
func StandLeast(d measure.Length) measure.Length { return d/2 + RimClear }

// StandUsual is the larger of d/2 + StandRim and StandShare of d.
func StandUsual(d measure.Length) measure.Length { return max(d/2+StandRim, StandShare.Of(d)) }

// StandFull is d.
func StandFull(d measure.Length) measure.Length { return d }

// StandHolds is the other way round: the largest fastener that is at home on
// a stand so wide (full: it is the stand's own width, and that is usual), the
// largest of which it is the usual stand, and the largest that it carries at
// all. 0 where it carries none.
func StandHolds(stand measure.Length) (full, usual, most measure.Length) {
	usual = max(0, min(2*(stand-quarter), stand*4/3))
	return min(stand, usual), usual, max(0, 2*(stand-RimClear))
}

// Band is a band folded back on itself at the edge.
type Band struct {
	Width     measure.Length // finished
	TurnUnder measure.Length // turned under at the inside edge, 0 for none
	Tuck      measure.Length // finished with a tuck instead: stitched this far from its fold, 0 for none
	Concealed bool           // folded once more, which hides the holes
	Cloth     measure.Length // thickness of the cloth
	Core      measure.Length // what lies between its two layers, which the fold at the edge goes round
}

// CoverMore is how much wider the covering layer of a concealed band is than
// the one with the holes: a sewing machine maker's page, 2024.
const CoverMore = mm

// Loss is the cloth that the folds take: one thickness each, and at the edge
// that of the core.
func (b Band) Loss() measure.Length { return measure.Length(b.Folds())*b.Cloth + b.Core }

// Folds is how many folds the band has: at the edge, and at the turn-under or
// the tuck; of a concealed one at the edge, at the holes' layer and between.
func (b Band) Folds() int {
	switch {
	case b.Concealed:
		return 3
	case b.Tuck > 0, b.TurnUnder > 0:
		return 2
	}
	return 1
}

// Extension is what must be drafted from the centre line to the cut edge:
// half the band, the whole of it folded back, the turn-under or twice the tuck,
// and what the folds take. Of a concealed band three times its
// width lie beyond its edge, and no further allowance (a sewing machine maker's
// page, 2024).
func (b Band) Extension() measure.Length {
	back := b.Width
	switch {
	case b.Concealed:
		back = 3 * b.Width
	case b.Tuck > 0:
		back += 2 * b.Tuck
	default:
		back += b.TurnUnder
	}
	return b.Width/2 + back + b.Loss()
}

// Widths are how many widths of the band its extension takes: the ± of the one
// counts as often in the other.
func (b Band) Widths() float64 {
	if b.Concealed {
		return 3.5
	}
	return 1.5
}

// From is the widest band of that make that an extension already drafted
// leaves.
func (b Band) From(extension measure.Length) Band {
	b.Width = 0
	left := max(0, extension-b.Extension())
	if b.Concealed {
		b.Width = left * 2 / 7
	} else {
		b.Width = left * 2 / 3
	}
	if b.Width < b.Loss() { // narrower than its folds are thick it is no band: geometry
		b.Width = 0
	}
	return b
}

// Folding is a folded band of that width, made as the closure has it.
func (k *Closure) Folding(width measure.Length) Band {
	f := &k.Closure.Stand
	b := Band{Width: width, Tuck: f.Tuck.V, Concealed: f.Concealed.Or(false), Cloth: ShellThickness(k), Core: k.Over.Core()}
	if b.Tuck == 0 && !b.Concealed {
		b.TurnUnder = f.TurnUnder.V
	}
	return b
}

// SeparateBand is the cut width of a band sewn on: twice its finished width,
// a seam allowance at each edge, and what the fold takes: the thickness of the
// cloth and of what it goes round.
func SeparateBand(width, seam, fold measure.Length) measure.Length {
	return 2*width + 2*seam + fold
}

// UsualSeam is a seam allowance where none is given: 5/8 in, or 15 mm. Common
// practice, no source.
func UsualSeam(u measure.Unit) measure.Length {
	if u.Is(measure.MM) {
		return 15 * mm
	}
	return in * 5 / 8
}

func standOf(g *catalog.Garment, c *catalog.Closure, k *Closure) Stand {
	n := &c.Notion
	least, usual, full := StandFor(n)
	s := Stand{
		Least: least, Usual: usual, Full: full,
		Construction: c.Stand.Construction,
		TurnUnder:    c.Stand.TurnUnder.Or(0),
		Seam:         c.Stand.Seam.Or(UsualSeam(g.Units)),
	}
	base := "closure[" + strconv.Itoa(c.Index) + "].stand"
	shell := ShellThickness(k)
	f := &c.Stand
	switch {
	case n.Kind == catalog.Zip && s.Construction != "folded" && s.Construction != "band":
		s.zip(n, f, base)
	case c.Flap.Has():
		s.flap(c, &k.Loop)
	case s.Construction == "folded":
		b := k.Folding(2 * max(s.draft(), s.Least))
		switch {
		case f.Band.Has():
			b.Width, s.BandKnown, s.From = f.Band.V, true, base+".band"
		case f.Finished.Has():
			b.Width, s.BandKnown, s.From = 2*f.Finished.V, true, base+".finished"
		case f.Extension.Has():
			b = b.From(f.Extension.V)
			s.BandKnown, s.From = true, base+".extension"
		}
		s.Band, s.Folds, s.TurnUnder = b.Width, b.Folds(), b.TurnUnder
		s.FoldLoss, s.FoldCore = b.Loss(), b.Core
		s.Extension = f.Extension.Or(b.Extension())
		s.Have, s.Known = b.Width/2, s.BandKnown
	case s.Construction == "band":
		s.Band = 2 * max(s.draft(), s.Least)
		switch {
		case f.Band.Has():
			s.Band, s.BandKnown, s.From = f.Band.V, true, base+".band"
		case f.Finished.Has():
			s.Band, s.BandKnown, s.From = 2*f.Finished.V, true, base+".finished"
		}
		s.Folds, s.FoldLoss, s.FoldCore = 1, shell+k.Over.Core(), k.Over.Core()
		s.BandCut = SeparateBand(s.Band, s.Seam, s.FoldLoss)
		s.Have, s.Known = s.Band/2, s.BandKnown
	default: // faced, fly, or not said
		switch {
		case s.drawn(f, base):
			s.Past = max(0, -s.Have)
			s.Have = max(0, s.Have)
		case k.Loop.Hooks && LapOf(c) == "edge":
			s.Have = k.Loop.HookEdge
		case k.Loop.Needed && LapOf(c) == "edge":
			// The loop is sewn at the edge: its button lies as far inside the other.
			s.Have = k.Loop.Depth - min(k.Reach.Rim/2, k.Loop.Depth)
		case c.Edge.Has() && (SetWithTool(n) || n.Kind == catalog.Snap):
			s.Have = c.Edge.V
		default:
			s.Have, s.Drafts = s.draft(), true
		}
		if f.Finished.Has() && f.Extension.Has() { // the file draws both lines
			s.Seam = f.Extension.V - f.Finished.V
		}
		s.Extension = f.Extension.Or(s.Have + s.Seam)
		if f.Facing.Has() {
			s.FacingCut = s.Have + f.Facing.V + s.Seam
			if LapOf(c) == "edge" {
				s.FacingCut -= s.Have // it begins where the edges meet
			}
		}
	}
	if LapOf(c) == "double" && n.Kind != catalog.Zip {
		s.double(c)
	}
	if s.Construction == "folded" || s.Construction == "band" {
		s.Drafts = !s.Known && n.Kind != catalog.Zip
	}
	s.Lost = s.Known && s.Have <= 0 && n.Kind != catalog.Zip && !c.Flap.Has() && LapOf(c) != "edge"
	s.FacingLeast, s.FacingUsual = facingFor(c, k, &s)
	return s
}

// StandFor is the least, usual and full stand of a fastener. Of a toggle,
// which lies across, its shorter end counts in the place of half the
// diameter; it has no other full stand. A hook hangs over nothing: its bend
// needs HookLeast of lap, and on a full stand the whole of it lies on the lap.
func StandFor(n *catalog.Notion) (least, usual, full measure.Length) {
	if n.Kind == catalog.Hook {
		return HookLeast, HookLeast, HookLeast + LieOf(n).In
	}
	if ShapeOf(n).Kind == "toggle" {
		out := LieOf(n).Out
		return out + RimClear, out + StandRim, out + StandRim
	}
	d := AcrossOf(n)
	return StandLeast(d), StandUsual(d), StandFull(d)
}

// StandLeast is the least stand of a fastener of that shape.
func (s Shape) StandLeast() measure.Length {
	if s.Kind == "toggle" {
		return max(s.ShortEnd, s.Width/2) + RimClear
	}
	return StandLeast(s.Across())
}

// drawn takes the edge of a front that is not folded as the file draws it, and
// says whether it does.
func (s *Stand) drawn(f *catalog.Stand, base string) bool {
	switch {
	case f.Finished.Has():
		s.Have, s.From = f.Finished.V, base+".finished"
	case f.Band.Has():
		s.Have, s.From = f.Band.V/2, base+".band"
	case f.Extension.Has():
		s.Have, s.From = f.Extension.V-s.Seam, base+".extension"
	default:
		return false
	}
	s.Known = true
	return true
}

// zip is the edge of a front that a zip closes, counted from its teeth: where
// the file draws it; over the zip where it is a fly; else folded beside the
// teeth.
func (s *Stand) zip(n *catalog.Notion, f *catalog.Stand, base string) {
	half := ZipHalf(n)
	switch {
	case s.drawn(f, base):
	case s.Construction == "fly":
		_, s.Have = FlyOver(half, n.Tape.V)
	default:
		s.Have = -(half + zipFold)
	}
	s.Extension = f.Extension.Or(s.Have + s.Seam)
	if f.Facing.Has() {
		s.FacingCut = s.Have + f.Facing.V + s.Seam
	}
}

// flap is the edge of a flap of its own, counted from the line of its
// fasteners.
func (s *Stand) flap(c *catalog.Closure, l *Loop) {
	w := c.Flap.Width.V
	s.Have = min(s.draft(), w)
	switch {
	case c.Flap.Inset.Has():
		s.Have = w - c.Flap.Inset.V
	case l.Hooks: // whose bends are their line
		s.Have = min(l.HookEdge, w)
		s.Least = min(s.Least, l.HookEdge)
	}
	s.Construction = "faced"
	s.Known, s.From = true, "closure["+strconv.Itoa(c.Index)+"].flap.width"
	s.Extension = s.Have + s.Seam
}

// facingFor is how far inside the centre line a facing must reach: past the
// holes, past the inner column of a double-breasted front, under all that a
// toggle covers, and under what its cord is sewn on by.
func facingFor(c *catalog.Closure, k *Closure, s *Stand) (least, usual measure.Length) {
	h := &k.Hole
	switch {
	case LapOf(c) == "double":
		least = s.Column + LieOf(&c.Notion).In
		usual = least + InnerClear
	case c.Flap.Has():
		// Its studs or buttons stand on the under front.
		least = c.Flap.Width.V - s.Have
		usual = least + k.Reach.Rim + SupportLeast
		return least, usual
	case k.Apart():
		least = c.Inset.V + PatchHalf
		usual = least + SupportLeast
	case ShapeOf(&c.Notion).Kind == "toggle" && h.Kind == "loop":
		least = k.Reach.In
		usual = least + SupportLeast
	}
	if h.Needed && h.Kind != "loop" {
		in := h.Inside
		if h.Direction == "along" {
			in = h.Width / 2
		}
		if LapOf(c) == "double" {
			in -= s.Column // beside the outer column
		}
		least, usual = max(least, in), max(usual, in+SupportLeast)
	}
	return max(0, least), max(0, usual)
}

// draft is the stand to draft where none is given: the full stand, or the
// usual one where a small fastener needs more than its own width.
func (s *Stand) draft() measure.Length { return max(s.Full, s.Usual) }

// double moves the stand of a double-breasted front from the centre line to
// its outer column, where the holes are.
func (s *Stand) double(c *catalog.Closure) {
	r := &c.Rows
	s.Column = max(r.Distance.V, r.Top.V, r.Bottom.V)
	for _, own := range r.Own {
		s.Column = max(s.Column, own)
	}
	switch {
	case s.Column == 0 && s.Known:
		s.Column = max(0, s.Have-s.draft()) // the full stand outside the column
		s.Have -= s.Column
	case s.Known:
		s.Past = max(0, s.Past+s.Column-s.Have)
		s.Have = max(0, s.Have-s.Column)
	default:
		s.Extension += s.Column
		if s.FacingCut != 0 {
			s.FacingCut += s.Column
		}
	}
}

// AlongOf is how much of the run a fastener takes: its widest way across, and
// of a hook, which lies across the edge, its width.
func AlongOf(n *catalog.Notion) measure.Length {
	if n.Kind == catalog.Hook {
		return n.Width.Or(n.Length.V)
	}
	return AcrossOf(n)
}

// AcrossOf is D for the rules of the stand: the widest the fastener reaches
// across, flange included.
func AcrossOf(n *catalog.Notion) measure.Length {
	switch n.Kind {
	case catalog.Zip:
		return 0
	case catalog.Hook:
		return max(n.Width.V, n.Length.V)
	case catalog.Eyelet:
		return max(n.Flange.V, n.Diameter.V, n.Inside.V)
	case catalog.Frog:
		return ShapeOf(n).Across()
	case catalog.Toggle:
		return ShapeOf(n).Width
	}
	return max(ShapeOf(n).Across(), n.Flange.V)
}

// ShellThickness is the thickness of the outermost cloth.
func ShellThickness(k *Closure) measure.Length {
	for _, l := range k.Over.Layers {
		if l.Layer.Cloth != nil {
			return l.Thick
		}
	}
	return 0
}

// CeilDiv is a ÷ b rounded up, for whole pieces.
func CeilDiv(a, b int) int {
	q := a / b
	if a%b > 0 {
		q++
	}
	return q
}

// LapOf is how the two sides meet at a closure: single, double, edge, or ""
// for single. A flap of its own lies over the opening, whatever lap says.
func LapOf(c *catalog.Closure) string {
	if c.Flap.Has() {
		return ""
	}
	return c.Lap
}
