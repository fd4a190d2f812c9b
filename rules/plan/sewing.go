package plan

import (
	"cmp"
	"math"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

const (
	ShankAllow   = eighth // from memory: allowed over the layers
	threadWaste  = 1.15   // thread makers' guides: 10 to 20 %
	ButtonThread = in * 11 / 2
)

// LockstitchRatio is the thread of a lockstitch seam, needle and under
// thread together, over the length of the seam: 2 + 2 T ÷ p for layers T
// thick and stitches p long (A. K. Das, thread consumption, 2015).
func LockstitchRatio(thick, stitch measure.Length) float64 {
	return 2 + 2*float64(thick)/float64(stitch)
}

// ZigzagThread is the thread of n stitches w wide and p apart through T:
// n · 2 (√(w² + p²) + T), which is the lockstitch sum at no width.
func ZigzagThread(n int, w, p, thick measure.Length) measure.Length {
	return Scale(mm, float64(n)*2*(math.Hypot(w.MM(), p.MM())+thick.MM()))
}

// HoleStitches is how many stitches a machine buttonhole takes: two legs at
// that pitch and two bars of a dozen.
func HoleStitches(length, pitch measure.Length) int {
	return int(math.Round(2*float64(length)/float64(pitch))) + 24
}

const HolePitch = mm * 4 / 10 // household machine manual: automatic setting

// ButtonStitches is a button machine's cycle for a weight class of cloth:
// light 8 for a shank or two holes and 16 for four, medium and heavy 16,
// very heavy 32.
func ButtonStitches(class string, holes int, shank bool) int {
	switch {
	case class == "light" && (shank || holes == 2):
		return 8
	case class == "very heavy":
		return 32
	}
	return 16
}

// BackingButton is the backing button of a coat button: half its ligne, to a
// whole ligne.
func BackingButton(d measure.Length) measure.Length { return (d / 2).RoundNearest(measure.Ligne) }

// SwingReaches says whether a machine that sews buttons on by swinging its
// needle reaches a pair of holes that far apart.
func SwingReaches(swing catalog.Range, gap measure.Length) bool {
	return FitOf(gap, swing.Min.V, swing.Max.V) == Fits
}

func sewingOf(g *catalog.Garment, c *catalog.Closure, k *Closure) Sewing {
	n := &c.Notion
	s := Sewing{}
	switch n.Kind {
	case catalog.Button, catalog.Toggle, catalog.Frog:
		s.Sewn = true
	case catalog.Snap:
		s.Sewn = n.Attach == "sewn"
	case catalog.Hook:
		s.Sewn = true
	}
	if h := &k.Hole; h.Needed && h.Kind != "loop" {
		// A leg is a little under half of the stitched width.
		s.HoleThread = ZigzagThread(HoleStitches(h.Length, HolePitch), h.Width*2/5, HolePitch, k.Over.Pressed)
	}
	if s.Sewn {
		cl, cloth := ClassOf(k)
		s.Stitches = ButtonStitches(cl.Name, n.Holes.Or(4), n.Shank.Has())
		if n.Kind == catalog.Button && !n.Shank.Has() {
			s.ThreadShank = k.Over.Thick
			s.ShankMost = s.ThreadShank + ShankAllow
			if cloth != nil && cl.NeedleMin >= 90 {
				s.Backing = BackingButton(AcrossOf(n))
			}
		}
		s.handOrMachine(&g.Machine, c)
		if t := g.ThreadNamed(cmp.Or(c.ButtonThread, "button")); t != nil && t.Tex.Has() {
			s.ButtonTex, s.ButtonName = t.Tex.V, cmp.Or(c.ButtonThread, "button")
		}
		if c.Backing.Has() {
			s.Backing = c.Backing.V
		}
	}
	count := 0
	k.Sewing = s
	for i := range k.Sizes {
		s.Used = max(s.Used, k.ThreadFor(i))
		count = max(count, k.Sizes[i].Count)
	}
	if n.Kind == catalog.Button && c.Stand.Construction == "fly" {
		s.FlyStitched, s.FlyTacks = flyStitched, max(0, count-1)
	}
	return s
}

// flyStitched is how far from the front edge a fly's facing is stitched:
// Butterick's text on coats and jackets.
const flyStitched = quarter

// handOrMachine says how a fastener is sewn on.
func (s *Sewing) handOrMachine(m *catalog.Machine, c *catalog.Closure) {
	n := &c.Notion
	swings := m.Swing.Min.Has() || m.Swing.Max.Has()
	switch {
	case c.SewnBy == "hand":
		s.ByHand = true
	case n.Kind != catalog.Button:
		s.ByHand, s.HandReason = true, "it has no pair of holes that a machine sews"
	case n.Shank.Has():
		s.ByHand, s.HandReason = true, "it has a shank"
	case !swings:
		s.ByHand, s.HandReason = true, "the machine has no button setting"
	case n.HoleGap.Has() && !SwingReaches(m.Swing, n.HoleGap.V):
		s.ByHand, s.HandReason = true, "its holes lie outside the needle's swing"
	}
}
