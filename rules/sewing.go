package rules

import (
	"math"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

const (
	shankAllow   = eighth // from memory: allowed over the layers
	threadWaste  = 1.15   // thread makers' guides: 10 to 20 %
	buttonThread = in * 11 / 2
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
	return scale(mm, float64(n)*2*(math.Hypot(w.MM(), p.MM())+thick.MM()))
}

// HoleStitches is how many stitches a machine buttonhole takes: two legs at
// that pitch and two bars of a dozen.
func HoleStitches(length, pitch measure.Length) int {
	return int(math.Round(2*float64(length)/float64(pitch))) + 24
}

const holePitch = mm * 4 / 10 // household machine manual: automatic setting

func sewingOf(c *catalog.Closure, k *ClosurePlan) Sewing {
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
		s.HoleThread = ZigzagThread(HoleStitches(h.Length, holePitch), h.Width*2/5, holePitch, k.Over.Pressed)
	}
	if s.Sewn {
		cl, cloth := classOf(k)
		s.Stitches = cl.buttonStitches
		if n.Kind == catalog.Button && !n.Shank.Has() {
			s.ThreadShank = k.Over.Thick
			if cloth != nil && cl.needleMin >= 90 {
				s.Backing = backingFor(acrossOf(n))
			}
		}
		if c.Backing.Has() {
			s.Backing = c.Backing.V
		}
	}
	k.Sewing = s
	for i := range k.Sizes {
		s.Used = max(s.Used, k.ThreadFor(i))
	}
	return s
}

// backingFor is the backing button of a button: half its ligne (a 36 ligne
// coat button goes with an 18 ligne one), to a whole ligne.
func backingFor(d measure.Length) measure.Length {
	return (d / 2).RoundNearest(measure.Ligne)
}
