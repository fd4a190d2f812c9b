package plan

import (
	"math"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

const (
	Bulky        = 3 * mm // ours: the stack above which cloth counts as bulky
	BulkyEase    = eighth // Extension Bulletin 576, 1965
	ShankEase    = eighth // The Vogue Sewing Book, 1970
	Bars         = eighth // both bars: household machine manual
	BeyondCentre = eighth // hole begins this far beyond the centre line
	belowUpper   = eighth // button below the upper end of a hole along the edge
	// DefaultHoleMax is the longest automatic hole where the garment does not
	// say: household machine manual, counted as diameter + thickness.
	DefaultHoleMax = 28 * mm
	HoleSlip       = quarter // over what passes: the most of any flat rule printed in handbooks from 1907 to 2023
	HoleEdge       = quarter // cloth between a hole and the edge: K. H. Watson, Textiles and Clothing, 1907
)

// Thresholds of holes.
var (
	BulkyLimit     = Thin("bulky", Bulky, Ours)
	BulkEaseLimit  = Inches("bulk ease", BulkyEase, Published)
	ShankEaseLimit = Inches("shank ease", ShankEase, Published)
	BeyondLimit    = Inches("beyond", BeyondCentre, Published)
	HoleMaxLimit   = Metric("longest", DefaultHoleMax, Default)
	HoleSlipLimit  = Inches("slip", HoleSlip, Published)
	HoleEdgeLimit  = Inches("edge", HoleEdge, Published)
)

// Widths of a stitched hole.
var holeWidth = map[string]measure.Length{
	"machine": plainWidth,
	"keyhole": plainWidth + KeyholeWider,
	"bound":   2 * boundHalf,
	"hand":    2 * PurlDepth,
}

// KeyholeWider is by how much a keyhole is wider than a plain hole.
const (
	plainWidth   = 5 * mm // household machine manual, automatic setting
	KeyholeWider = 2 * mm // the same: 7 mm
)

// A hole in a knit is sewn wider and more open, by the same manual: 6 mm wide,
// its stitches 1 to 1.5 mm apart.
const (
	knitWidth = 6 * mm
	knitPitch = mm
)

// Shape is the outline of a fastener that must pass through a hole.
type Shape struct {
	Kind      string         // flat, domed, ball, square, toggle, odd
	Diameter  measure.Length // the widest way across
	Thickness measure.Length // without a shank
	Side      measure.Length // square only
	Width     measure.Length // toggle only
	ShortEnd  measure.Length // toggle only: sewing hole to the nearer end
	Girth     measure.Length // measured: half of it wins over every formula
	Box       bool           // toggle only: seen end on it is a box, not an oval
	Tack      bool           // the head of a tack button: its hub stays outside
}

// ShapeOf is the outline of a notion.
func ShapeOf(n *catalog.Notion) Shape {
	s := Shape{
		Kind: n.Shape, Diameter: n.Diameter.V, Thickness: n.Thickness.V,
		Side: n.Side.V, Width: n.Width.V, ShortEnd: n.ShortEnd.V, Girth: n.Girth.V, Box: n.Section == "box",
	}
	switch n.Kind {
	case catalog.Toggle:
		s.Kind = "toggle"
	case catalog.Frog:
		s.Kind, s.Diameter = "ball", n.Knot.V
	case catalog.TackButton:
		s.Tack = true
		if s.Kind == "" {
			s.Kind = "domed" // a shallow dome
		}
	}
	if s.Kind == "" {
		s.Kind = "flat"
	}
	if s.Kind == "toggle" {
		if s.Width == 0 {
			s.Width = n.Diameter.V
		}
		if s.Width == 0 {
			s.Width = Scale(s.Girth, 1/math.Pi) // as if it were round
		}
		if s.Thickness == 0 {
			s.Thickness = s.Width
		}
		if s.ShortEnd == 0 {
			s.ShortEnd = n.Length.V / 2
		}
	}
	return s
}

// Across is the widest way across: D in the rules for the stand. Where only
// the girth was measured it follows from that, and where the shape leaves it
// open it is the most that it can be.
func (s Shape) Across() measure.Length {
	switch {
	case s.Kind == "square" && s.Diameter == 0 && s.Side != 0:
		return Scale(s.Side, math.Sqrt2)
	case s.Kind == "toggle":
		return max(s.Width, s.Diameter)
	case s.Diameter == 0 && s.Girth != 0:
		switch s.Kind {
		case "ball":
			return Scale(s.Girth, 1/math.Pi)
		case "flat", "square":
			return max(0, s.Girth/2-s.Thickness)
		}
		return s.Girth / 2 // there and back over next to no height
	}
	return s.Diameter
}

func Scale(l measure.Length, by float64) measure.Length {
	return measure.Length(math.Round(float64(l) * by))
}

// Passing is the shortest slit that the fastener goes through in cloth that
// does not stretch: half the girth of the section that passes.
func (s Shape) Passing() measure.Length {
	d, t := s.Across(), s.Thickness
	switch {
	case s.Girth != 0:
		return s.Girth / 2
	case s.Kind == "domed" && 2*t >= d:
		return Scale(d, (1+math.Pi/2)/2) + t - d/2
	case s.Kind == "domed":
		return (d + CapArc(d, t)) / 2
	case s.Kind == "ball":
		return Scale(d, math.Pi/2)
	case s.Kind == "toggle":
		return s.Width/2 + s.ShortEnd + t
	}
	return d + t
}

// CapArc is the arc over a spherical cap of base d and height t < d/2.
func CapArc(d, t measure.Length) measure.Length {
	if t <= 0 {
		return d
	}
	a, h := float64(d)/2, float64(t)
	r := (a*a + h*h) / (2 * h)
	return measure.Length(math.Round(2 * r * math.Asin(a/r)))
}

// Formula says in words how Passing is worked out.
func (s Shape) Formula() string {
	switch {
	case s.Girth != 0:
		return "half the measured girth"
	case s.Kind == "domed":
		return "half of diameter and arc over the dome"
	case s.Kind == "ball":
		return "half the girth of a ball, 1.571 × diameter"
	case s.Kind == "square":
		return "diagonal + thickness"
	case s.Kind == "toggle":
		return "half width + shorter end + thickness"
	}
	return "diameter + thickness"
}

// RigidShank says whether a hole needs ease for a shank: a button's goes
// through it, the hub of a tack button stays outside.
func RigidShank(n *catalog.Notion) bool {
	return n.Kind != catalog.TackButton && n.Shank.Has()
}

// HoleStep is what a hole is rounded up to: 1/16 in or 1 mm.
func HoleStep(u measure.Unit) measure.Length {
	if u.Is(measure.In) {
		return sixteenth
	}
	return mm
}

// HoleLength is the cut length of a hole: passing, with ease for bulky cloth
// and for a rigid shank, rounded up to what can be marked.
func HoleLength(s Shape, over measure.Length, shank bool, u measure.Unit) (passing, ease, length measure.Length) {
	passing = s.Passing()
	if over > Bulky {
		ease += s.BulkEase()
	}
	if shank {
		ease += ShankEase
	}
	return passing, ease, (passing + ease).RoundUp(HoleStep(u))
}

// BulkEase is the ease that bulky cloth asks for. A tack button is worn in
// thick cloth: the worked hole of its trade, diameter + 1/8 in (a historical
// tailor's masterclass on jeans), is all that it gets.
func (s Shape) BulkEase() measure.Length {
	if s.Tack {
		return max(0, s.Across()+BulkyEase-s.Passing())
	}
	return BulkyEase
}

// RuleLength is the cut length by another published rule that a garment may
// ask for by name.
func RuleLength(rule string, s Shape, over measure.Length, shank bool, u measure.Unit) (passing, ease, length measure.Length) {
	passing, ease, length = HoleLength(s, over, shank, u)
	d := s.Across()
	var wanted measure.Length
	switch rule {
	case "plus-eighth":
		wanted = d + eighth
	case "plus-thickness-eighth":
		wanted = passing + eighth
	case "percent":
		wanted = Scale(d, 1.25)
	case "diameter":
		wanted = d
	default:
		return passing, ease, length
	}
	return passing, wanted - passing, wanted.RoundUp(HoleStep(u))
}

// Passes says whether the fastener goes through a hole at all.
func Passes(kind string) bool {
	switch kind {
	case catalog.Button, catalog.TackButton, catalog.Toggle, catalog.Frog:
		return true
	}
	return false
}

func holeOf(g *catalog.Garment, c *catalog.Closure, k *Closure) Hole {
	h := Hole{Needed: Passes(c.Notion.Kind)}
	if !h.Needed {
		return h
	}
	h.Kind, h.Direction = c.Hole, c.Direction
	if h.Kind == "" {
		h.Kind = usualHole(g, c)
	}
	if h.Direction == "" {
		h.Direction = usualDirection(c)
	}
	s := ShapeOf(&c.Notion)
	over := k.Over.Bulk()
	if h.Kind == "bound" {
		over = 0 // its lips lie open: a sewing book, as reported in 2010, drops what a worked hole has for bulk
	}
	shank := RigidShank(&c.Notion)
	h.Passing, h.Ease, h.Wanted = RuleLength(c.Rule, s, over, shank, g.Units)
	h.Length = h.Wanted
	_, _, h.Advised = HoleLength(s, over, shank, g.Units)
	h.Formula = h.Passing
	if h.Kind == "loop" {
		h.Direction = "across"
		return h
	}
	if m := c.Sample.HoleLength; m.Has() {
		h.Passing, h.Ease, h.Wanted, h.Sampled = m.V, 0, m.V, true
		h.Length, h.Advised = m.V, m.V
	}
	if c.HoleLen.Has() {
		h.Length, h.Given = c.HoleLen.V, true
	} else if sizes := Dies(&g.Machine, h.Kind); len(sizes) != 0 {
		if l := NextDie(sizes, h.Passing+h.Ease); l >= h.Passing {
			h.Length, h.Fixed = l, true
		}
	}
	h.Width, h.Pitch = holeWidth[h.Kind], HolePitch
	if cl := Shell(c.Over); h.Kind == "machine" && cl != nil && cl.Weave == "knit" {
		h.Width, h.Pitch = knitWidth, knitPitch
	}
	if h.Kind == "bound" && k.Over.Thick > Bulky {
		h.Width = 2 * boundHalfBulky
	}
	h.Stitched = h.Length + Bars
	if h.Kind == "bound" {
		h.Stitched = h.Length
	}
	switch {
	case h.Direction == "across":
		h.Beyond = min(BeyondCentre, h.Length/2)
	case c.Centred.Or(false):
		h.Beyond, h.Centred = h.Length/2, true
	default:
		h.Beyond = min(belowUpper, h.Length/2)
	}
	h.Inside = h.Length - h.Beyond
	h.BeyondMachine, h.MachineSews = beyondMachine(&g.Machine, &h)
	return h
}

// DieSlip is how near a length must come to a fixed one of an attachment to
// mean it: as it may be written in the other unit.
const DieSlip = mm / 10

// Why a machine does not sew a hole as it is planned.
const (
	SewsNone      = "none"      // it sews no holes by itself
	SewsNoKeyhole = "keyhole"   // it sews no keyholes
	SewsShorter   = "shorter"   // its longest is too short
	SewsLessEase  = "less ease" // its longest passes the fastener, with less ease than planned
	SewsOther     = "other"     // its attachment sews the next fixed length, not this one
)

// beyondMachine says why the machine does not sew a hole as it is planned,
// and what it sews instead.
func beyondMachine(m *catalog.Machine, h *Hole) (why string, sews measure.Length) {
	if !h.Worked() {
		return "", 0
	}
	if h.Kind == "keyhole" && m.Keyhole.Has() && !m.Keyhole.V && len(m.KeyholeSizes) == 0 {
		return SewsNoKeyhole, 0
	}
	if sizes := Dies(m, h.Kind); len(sizes) != 0 {
		longest := sizes[len(sizes)-1]
		switch next := NextDie(sizes, h.Length-DieSlip); {
		case !h.Given && h.Asked() > longest, h.Given && (h.Length > longest+DieSlip || h.Length >= h.Passing && h.Passing > longest):
			return SewsShorter, longest
		case h.Given && (next-h.Length).Abs() > DieSlip:
			return SewsOther, next
		case !h.Given && (h.Length < h.Passing+h.Ease || h.Sampled && h.Length > longest+DieSlip):
			return SewsLessEase, longest
		}
		return "", 0
	}
	if !m.ButtonholeMax.Has() && m.Kind != "" && m.Kind != "household" {
		return SewsNone, 0
	}
	most := m.ButtonholeMax.Or(DefaultHoleMax)
	switch {
	case h.Asked() > most:
		return SewsShorter, most
	case h.Length > most:
		return SewsLessEase, most
	}
	return "", 0
}

// Sewn is the length of the cut as it is sewn: another than planned where the
// machine sews another.
func (h *Hole) Sewn() measure.Length {
	if h.ByMachine() && h.MachineSews != 0 {
		return h.MachineSews
	}
	return h.Length
}

// ByMachine says whether the machine sews the hole, if need be in another
// length than planned.
func (h *Hole) ByMachine() bool {
	if !h.Needed || !h.Worked() {
		return false
	}
	switch h.BeyondMachine {
	case "", SewsLessEase, SewsOther:
		return true
	}
	return false
}

// Dies are the only lengths that the machine sews of that kind of hole, none
// where it sews any length.
func Dies(m *catalog.Machine, kind string) []measure.Length {
	switch {
	case kind == "keyhole" && len(m.KeyholeSizes) != 0:
		return m.KeyholeSizes
	case kind == "machine", kind == "keyhole":
		return m.ButtonholeSizes
	}
	return nil
}

// NextDie is the shortest of the sizes that is at least so long, or the
// longest there is.
func NextDie(sizes []measure.Length, wanted measure.Length) measure.Length {
	for _, l := range sizes {
		if l >= wanted {
			return l
		}
	}
	return sizes[len(sizes)-1]
}

func usualHole(g *catalog.Garment, c *catalog.Closure) string {
	switch c.Notion.Kind {
	case catalog.Toggle, catalog.Frog:
		return "loop"
	}
	if LapOf(c) == "edge" {
		return "loop"
	}
	if s := ShapeOf(&c.Notion); g.Machine.Keyhole.Or(false) {
		d := g.Machine.ButtonholeSizes
		if s.Across() >= keyholeFrom || len(d) != 0 && len(g.Machine.KeyholeSizes) != 0 && s.Passing() > d[len(d)-1] {
			return "keyhole"
		}
	}
	return "machine"
}

const keyholeFrom = 20 * mm // ours: coat and jacket fronts, where a shank needs the eye

// usualDirection is across where there is sideways strain, and along on
// bands, where small fasteners sit on a narrow strip.
func usualDirection(c *catalog.Closure) string {
	switch c.Stand.Construction {
	case "folded", "band", "fly":
		return "along"
	}
	return "across"
}

// Lie is how far a fastener covers the cloth round its centre as it lies:
// inside, towards its own edge, and up and down.
type Lie struct{ In, Out, Up measure.Length }

// LieOf is how a fastener lies. A toggle lies across, its shorter end towards
// the edge; a hook too, from its bend inwards.
func LieOf(n *catalog.Notion) Lie {
	r := rimOf(n)
	if n.Kind == catalog.Hook {
		return Lie{In: n.Length.Or(n.Width.V), Up: r}
	}
	if s := ShapeOf(n); s.Kind == "toggle" && n.Length.V != 0 {
		out := s.ShortEnd
		return Lie{In: max(n.Length.V-out, r), Out: max(out, r), Up: r}
	}
	return Lie{r, r, r}
}

// rimOf is half the widest way across of a fastener; of a toggle and a hook,
// which lie across, of their width.
func rimOf(n *catalog.Notion) measure.Length {
	switch n.Kind {
	case catalog.Zip:
		return 0
	case catalog.Hook:
		return AlongOf(n) / 2
	case catalog.Eyelet:
		return max(n.Flange.V, n.Diameter.V, n.Inside.V) / 2
	case catalog.Frog:
		return AcrossOf(n) / 2
	case catalog.Toggle:
		return ShapeOf(n).Width / 2
	}
	return max(ShapeOf(n).Across(), n.Flange.V, n.Head.V) / 2
}

// reachOf is how far the fastener and its hole lie from the centre, along
// and across the run.
func reachOf(c *catalog.Closure, k *Closure) Reach {
	n := &c.Notion
	r := Reach{Rim: rimOf(n)}
	if n.Kind == catalog.Zip {
		return r
	}
	lie := LieOf(n)
	r.Up, r.Down, r.In, r.Out = r.Rim, r.Rim, lie.In, lie.Out
	if h := &k.Hole; h.Needed && h.Kind != "loop" {
		bar := (h.Stitched - h.Length) / 2
		if h.Direction == "along" {
			r.Up, r.Down = max(r.Up, h.Beyond+bar), max(r.Down, h.Inside+bar)
			r.In, r.Out = max(r.In, h.Width/2), max(r.Out, h.Width/2)
		} else {
			r.Up, r.Down = max(r.Up, h.Width/2), max(r.Down, h.Width/2)
			r.In, r.Out = max(r.In, h.Inside+bar), max(r.Out, h.Beyond+bar)
		}
	}
	return r
}

// Asked is the length that a machine's limit is held against. The limit is
// counted as diameter + thickness; of a length that the file asks for, beyond
// the one worked out, what is not ease counts, and of a shorter one what is to
// be sewn. Of one that a sample asks for, what is beyond the fastener's own
// passing length is ease.
func (h *Hole) Asked() measure.Length {
	passes, ease := h.Passing, max(0, h.Ease)
	if h.Sampled {
		passes = min(h.Formula, h.Passing)
		ease = h.Passing - passes
	}
	if h.Given && h.Length > max(h.Wanted, h.Advised, passes) {
		return max(passes, h.Length-ease)
	}
	return min(passes, h.Length)
}

// Eyed says whether the hole has an eye: of those worked by hand the ones over
// a gimp, in heavy cloth.
func (h *Hole) Eyed() bool { return h.Kind == "keyhole" || h.Kind == "hand" && h.Gimp }

// Worked says whether the machine makes the hole.
func (h *Hole) Worked() bool { return h.Kind == "machine" || h.Kind == "keyhole" }
