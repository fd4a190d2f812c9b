package plan

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

const (
	ShankAllow   = eighth // from memory: allowed over the layers
	threadWaste  = 1.15   // thread makers' guides: 10 to 20 %
	ButtonThread = in * 11 / 2

	ShankSlack = quarter // ours: a rigid shank this much over the layers lets the button hang
	ShankShort = mm / 10 // ours: nobody winds a shank finer than this

	// Stitches of a button machine's cycles: thread maker's bulletin on
	// buttonsew.
	fewStitches, usualStitches, manyStitches = 8, 16, 32

	usualHoles = 4 // of a coat's button that does not say: common practice, no source
)

// BackingShare is a backing button to its button: a repair guide for coats, 18
// ligne behind 36. BackingOff is how far off that is let pass: ours.
var BackingShare, BackingOff = Ratio{1, 2}, Ratio{1, 4}

// Thresholds of how a fastener is sewn on.
var (
	ShankAllowLimit   = Inches("allowed", ShankAllow, Memory)
	ShankSlackLimit   = Inches("slack", ShankSlack, Ours)
	ShankShortLimit   = Thin("wound", ShankShort, Ours)
	BackingLimit      = Share("half", BackingShare, Published)
	BackingOffLimit   = Share("off", BackingOff, Ours)
	FewStitchesLimit  = Number("few", fewStitches, "", Published)
	StitchesLimit     = Number("usual", usualStitches, "", Published)
	ManyStitchesLimit = Number("many", manyStitches, "", Published)
	FlyLimit          = Inches("stitched", flyStitched, Published)
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
		return fewStitches
	case class == "very heavy":
		return manyStitches
	}
	return usualStitches
}

// LignesSold are the lignes that buttons are usually sold in: common
// practice, no source.
var LignesSold = []int{14, 16, 18, 20, 22, 24, 26, 28, 30, 32, 34, 36, 40, 44, 45, 48, 54, 60}

// FlatSold is the diameter nearest to want that a flat sewn-through button is
// sold in, and that button where the catalogue has one: a backing button where
// there is one, else a polyester one, else the thinnest. Of two as near it is the larger one. The
// catalogue may be nil.
func FlatSold(cat *catalog.Catalog, want measure.Length) (d measure.Length, n *catalog.Notion) {
	nearer := func(a measure.Length) bool {
		off, now := (a - want).Abs(), (d - want).Abs()
		return d == 0 || off < now || off == now && a > d
	}
	for _, l := range LignesSold {
		if a := measure.Length(l) * measure.Ligne; nearer(a) {
			d = a
		}
	}
	if cat == nil {
		return d, nil
	}
	flat := catalog.Derive(cat, flatKey{}, flatButtons)
	at, _ := slices.BinarySearchFunc(flat, want, func(b *catalog.Notion, l measure.Length) int { return cmp.Compare(b.Diameter.V, l) })
	for _, b := range flat[max(0, at-1):min(len(flat), at+1)] {
		if nearer(b.Diameter.V) {
			d = b.Diameter.V
		}
	}
	at, ok := slices.BinarySearchFunc(flat, d, func(b *catalog.Notion, l measure.Length) int { return cmp.Compare(b.Diameter.V, l) })
	if ok {
		n = flat[at]
	}
	return d, n
}

type flatKey struct{}

// flatButtons are the best backing buttons of a catalogue, one of each
// diameter, by diameter.
func flatButtons(cat *catalog.Catalog) []*catalog.Notion {
	var out []*catalog.Notion
	for _, b := range cat.Notions {
		if backs(b) {
			out = append(out, b)
		}
	}
	slices.SortStableFunc(out, func(a, b *catalog.Notion) int { return cmp.Compare(a.Diameter.V, b.Diameter.V) })
	best := out[:0]
	for _, b := range out {
		if n := len(best); n == 0 || best[n-1].Diameter.V != b.Diameter.V {
			best = append(best, b)
		} else if flatter(b, best[n-1]) {
			best[n-1] = b
		}
	}
	return best
}

// ForBacking says whether a button is sold to lie behind another, and for
// nothing else: by the name of its entry.
func ForBacking(b *catalog.Notion) bool { return strings.HasPrefix(b.Name, "backing-") }

// backs says whether a button may serve as a backing button: sewn through,
// flat, and no thicker than a third of its diameter, which is ours.
func backs(b *catalog.Notion) bool {
	return b.Kind == catalog.Button && (b.Shape == "flat" || b.Shape == "") && !b.Shank.Has() &&
		b.Diameter.Has() && b.Holes.Or(usualHoles) >= 2 && b.Thickness.Has() && 3*b.Thickness.V <= b.Diameter.V
}

// flatter says whether a makes a better backing button than b of its size.
func flatter(a, b *catalog.Notion) bool {
	const usual = "polyester" // small clear ones are usual
	if x, y := ForBacking(a), ForBacking(b); x != y {
		return x
	}
	if x, y := a.Material == usual, b.Material == usual; x != y {
		return x
	}
	return cmp.Or(cmp.Compare(a.Thickness.V, b.Thickness.V), cmp.Compare(a.Name, b.Name)) == -1
}

// BackingButton is the backing button of a button d across: the size on sale
// nearest to half its ligne (a repair guide for coats: 18 ligne behind 36),
// or 0 where none that is smaller than the button is sold.
func BackingButton(cat *catalog.Catalog, d measure.Length) measure.Length {
	if b, _ := FlatSold(cat, BackingShare.Of(d)); b < d {
		return b
	}
	return 0
}

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
	switch h := &k.Hole; {
	case !h.Needed || h.Kind == "loop":
	case h.Kind == "bound":
		s.HoleThread = BoundThread(h.Length, h.Width, k.Over.Pressed, k.Stitch.Length)
	case h.Twist != 0:
		s.HoleThread = h.Twist
	default:
		// A leg is a little under half of the stitched width.
		s.HoleThread = ZigzagThread(HoleStitches(h.Length, h.Pitch), h.Width*2/5, h.Pitch, k.Over.Pressed)
	}
	if s.Sewn {
		cl, cloth := ClassOf(k)
		s.Stitches = ButtonStitches(cl.Name, n.Holes.Or(usualHoles), n.Shank.Has())
		if n.Kind == catalog.Button && !n.Shank.Has() {
			s.ThreadShank = c.ThreadShank.Or(k.Over.UnderFoot()) // pile and wadding give way under the button
			s.ShankMost = s.ThreadShank + ShankAllow
			s.BackingSold = BackingButton(g.Catalog, AcrossOf(n))
			// Behind an infant's button it would be one more small part.
			if cloth != nil && cl.Heavy() && g.Wearer != "infant" {
				s.Backing = s.BackingSold
				s.Suggested = s.Backing != 0
			}
		}
		s.handOrMachine(&g.Machine, c, g.Units)
		s.byHand(c, k)
		if t := g.ThreadNamed(cmp.Or(c.ButtonThread, "button")); t != nil && t.Tex.Has() {
			s.ButtonTex, s.ButtonName = t.Tex.V, cmp.Or(c.ButtonThread, "button")
		}
		if c.Backing.Has() {
			s.Backing, _ = FlatSold(g.Catalog, c.Backing.V)
			s.Suggested = false
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
func (s *Sewing) handOrMachine(m *catalog.Machine, c *catalog.Closure, u measure.Unit) {
	n := &c.Notion
	swings := m.Swing.Min.Has() || m.Swing.Max.Has()
	switch {
	case c.SewnBy == "hand":
		s.ByHand = true
	case n.Kind != catalog.Button:
		s.ByHand, s.HandReason = true, "it has no pair of holes that a machine sews"
	case n.Shank.Has():
		s.ByHand, s.HandReason = true, "it has a shank"
	case c.SewnBy != "machine" && c.Backing.Has():
		s.ByHand, s.HandReason = true, "a household machine holds no backing button"
	case c.SewnBy != "machine" && s.ThreadShank > Bulky:
		s.ByHand, s.HandReason = true, "a household machine leaves no shank of "+s.ThreadShank.TextThin(u)
	case !swings:
		s.ByHand, s.HandReason = true, "the machine has no button setting"
	case n.HoleGap.Has() && !SwingReaches(m.Swing, n.HoleGap.V):
		s.ByHand, s.HandReason, s.OffSwing = true, "its holes lie outside the needle's swing", true
	}
}

// UsualSpool is the thread on a spool where nothing is said: common practice,
// no source.
const UsualSpool = 100 * measure.Metre

// Spools are the spools that a length of thread takes.
func Spools(used, spool measure.Length) int {
	if spool <= 0 {
		return 0
	}
	return int((used + spool - 1) / spool)
}
