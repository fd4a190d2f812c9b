package plan

import (
	"math"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// Loop is what is worked out for the loop of a button, toggle or frog,
// and for hooks. A length is 0 where it does not apply.
type Loop struct {
	Needed      bool           // a loop
	Girth       measure.Length // round the section that passes through it
	Formula     string         // how Girth is worked out
	Least       measure.Length // inside the loop, edge to edge along the cord: conflict below
	Usual       measure.Length // with ease, rounded up to what can be marked: caution below Least and its ease
	Most        measure.Length // caution above
	Inside      measure.Length // given, or Usual
	Given       bool
	Depth       measure.Length // of the loop lying flat
	Cut         measure.Length // cord to cut for one loop, both seam allowances included; 0: it comes with its frog
	CutFastener measure.Length // cord to cut for one toggle sewn on apart, the same counted; else 0
	Cord        measure.Length // its thickness, 0 if not known
	CordFrom    string         // path of the figure

	Hooks    bool
	HookEdge measure.Length // end of the hook to the edge it is set at
}

// EndGirth is the girth round a toggle seen end on, which is how it goes
// through its loop: round an oval, or where it is a box twice its width and
// thickness. The oval is an ellipse's, by Ramanujan's approximation, which is
// exact for a circle.
func EndGirth(width, thickness measure.Length, box bool) measure.Length {
	if box {
		return 2 * (width + thickness)
	}
	a, b := float64(width)/2, float64(thickness)/2
	return measure.Length(math.Round(math.Pi * (3*(a+b) - math.Sqrt((3*a+b)*(a+3*b)))))
}

// LoopGirth is what must pass through a loop: a toggle end on, anything else
// with the girth that a slit would have to open to. A measured girth wins.
func LoopGirth(s Shape) measure.Length {
	if s.Kind == "toggle" && s.Girth == 0 {
		return EndGirth(s.Width, s.Thickness, s.Box)
	}
	return 2 * s.Passing()
}

// LoopCut is the cord for one loop: round its bend, and a seam allowance at
// each end. The middle of a cord that bends half round lies half its
// thickness outside.
func LoopCut(inside, cord, seam measure.Length) measure.Length {
	return inside + Scale(cord, math.Pi/2) + 2*seam
}

// EyeLong is how far inwards the eye or bar of a hook reaches: half its hook,
// which is ours.
func EyeLong(n *catalog.Notion) measure.Length { return LieOf(n).In / 2 }

// EyeAt is where the eye of a hook lies on the under piece: how far inside the
// meeting line its bar lies, negative where it stands out beyond the edge.
func (k *Closure) EyeAt() measure.Length { return k.meets() }

// RoundEye says whether the eyes of the hooks are round: they stand out beyond
// the edge, where edges meet. On what laps under they lie flat.
func (k *Closure) RoundEye() bool { return LapOf(k.Closure) == "edge" && k.EyeAt() < 0 }

// TapeOut is how far the hooks of one tape are out at the last row of n when
// the first is matched.
func TapeOut(pitch, eyes measure.Length, n int) measure.Length {
	return (pitch - eyes).Abs() * measure.Length(max(0, n-1))
}

// SewnOnTop says whether loops and fasteners are sewn by hand on the finished
// front: the cords of frogs lie on top of it, from memory.
func (k *Closure) SewnOnTop() bool {
	return k.Closure.Notion.Kind == catalog.Frog && k.Loop.Needed && IsFront(k.Closure) && !k.Closure.Flap.Has() && !k.Apart()
}

const (
	LoopEase           = eighth          // ours: "a little more" than the girth
	loopSlack          = in / 2          // ours: more lets go
	HookLeast, HookOld = eighth, quarter // from the edge: extension bulletin; older textbook
	HookSlip           = mm / 2          // ours: nobody sets a fastener finer than this

	CordLeast, CordMost = 3 * mm, 6 * mm  // of a toggle's loop, from memory
	HookShort, HookLong = 9 * mm, 12 * mm // ours: too small for heavy cloth, too large for light
	TapeSlip            = mm              // ours: a hook tape still meets its eyes
)

// loopShare is the part of a girth that a loop may be too long: ours.
var loopShare = Ratio{1, 4}

// Thresholds of loops and hooks.
var (
	LoopEaseLimit  = Inches("ease", LoopEase, Ours)
	LoopShareLimit = Share("slack share", loopShare, Ours)
	LoopSlackLimit = Inches("slack", loopSlack, Ours)
	CordLeastLimit = Metric("thin", CordLeast, Memory)
	CordMostLimit  = Metric("thick", CordMost, Memory)
	HookLeastLimit = Inches("least", HookLeast, Published)
	HookOldLimit   = Inches("old", HookOld, Published)
	HookSlipLimit  = Thin("slip", HookSlip, Ours)
	HookShortLimit = Metric("short", HookShort, Ours)
	HookLongLimit  = Metric("long", HookLong, Ours)
	TapeSlipLimit  = Thin("slip", TapeSlip, Ours)
)

func loopOf(c *catalog.Closure, k *Closure, u measure.Unit) Loop {
	l := Loop{}
	n := &c.Notion
	if n.Kind == catalog.Hook {
		l.Hooks, l.HookEdge = true, c.Edge.Or(HookLeast)
		if in := c.Flap.Inset; in.Has() {
			l.HookEdge = c.Flap.Width.V - in.V // a flap tells it from its seam
		}
		return l
	}
	if !k.Hole.Needed || k.Hole.Kind != "loop" {
		return l
	}
	s := ShapeOf(n)
	l.Needed, l.Girth, l.Least = true, LoopGirth(s), LoopGirth(s)
	switch {
	case s.Girth != 0:
		l.Formula = "the measured girth"
	case s.Kind == "toggle" && s.Box:
		l.Formula = "2 × (width + thickness), the toggle end on"
	case s.Kind == "toggle":
		l.Formula = "round the oval of width and thickness, the toggle end on"
	case s.Kind == "ball":
		l.Formula = "π × diameter"
	default:
		l.Formula = "2 × the length of the slit it goes through"
	}
	l.Usual = (l.Least + LoopEase).RoundUp(HoleStep(u))
	l.Most = l.Least + max(loopShare.Of(l.Least), loopSlack)
	l.Inside = c.Loop.Or(l.Usual)
	l.Given = c.Loop.Has()
	l.Depth = l.Inside / 2
	switch {
	case c.Cord.Has():
		l.Cord, l.CordFrom = c.Cord.V, "cord"
	case n.Cord.Has():
		l.Cord = n.Cord.V
	}
	seam := c.Stand.Seam.Or(UsualSeam(u))
	l.Cut = LoopCut(l.Inside, l.Cord, seam)
	if c.Inset.Has() && LapOf(c) != "double" && !c.Flap.Has() {
		// Both legs run from the loop to where they are sewn on; those of the
		// fastener run up to it.
		l.Cut = LoopCut(max(l.Inside, 2*(c.Inset.V+min(k.Reach.Rim/2, l.Depth))), l.Cord, seam)
		l.CutFastener = LoopCut(2*c.Inset.V, l.Cord, seam)
	}
	if n.Kind == catalog.Frog && !c.Cord.Has() {
		l.Cut, l.CutFastener = 0, 0 // a frog is sold with its loop: common practice, no source
	}
	return l
}
