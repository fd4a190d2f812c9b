package plan

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// JoinedPiece says whether a closure is on a small piece that is joined to the
// body when it is done.
func JoinedPiece(c *catalog.Closure) bool {
	switch c.Where {
	case "flap", "pocket", "tab", "strap":
		return true
	}
	return Whole(c)
}

// LiesAcross says whether the run of a closure lies across the body: along the
// lower edge of a pocket's flap, or the mouth of a pocket. It is told from the
// end nearer the front, so that a pair comes out mirrored, which is ours.
func LiesAcross(c *catalog.Closure) bool {
	return (c.Where == "flap" || c.Where == "pocket") && !c.Flap.Has()
}

// Whole says whether a closure has both its sides on one small piece that is
// joined when both are done: a cuff whose fasteners are set before it is sewn
// on.
func Whole(c *catalog.Closure) bool {
	return c.When == "before-joining" && (c.Where == "cuff" || c.Where == "collar")
}

// OneSided says whether a closure's fasteners are set in one piece alone: the
// eyelets of a hood, a waist, a cuff or a belt, not those that two sides of an
// opening or a flap and what lies beneath are laced or tied by.
func OneSided(c *catalog.Closure) bool {
	if c.Notion.Kind != catalog.Eyelet || LapOf(c) == "edge" || c.Flap.Has() || IsFront(c) {
		return false
	}
	return c.Where != "flap" && c.Where != "pocket"
}

// SewnHole says whether a closure has a hole to sew or cut open.
func (k *Closure) SewnHole() bool { return k.Hole.Needed && k.Hole.Kind != "loop" }

// HasLoops says whether a closure has loops to sew in.
func (k *Closure) HasLoops() bool { return k.Loop.Needed && k.Loop.Inside != 0 }

// StitchedEdge says whether the fold of the edge is stitched down: where the
// file asks for it to show, or where the cloth does not hold a press.
func (k *Closure) StitchedEdge() bool {
	c := k.Closure
	if c.Notion.Kind == catalog.Zip {
		return false
	}
	cl := Folded(c.Over)
	return c.Stand.TopstitchInset.Has() || cl != nil && !HoldsPress(cl) && c.Stand.Construction != ""
}

// Thick is the thickest place where it is thick enough to be worked on its
// own, or nil.
func (k *Closure) Thick() *Place {
	if len(k.Places) == 0 || k.Places[0].Thick <= ThickStack {
		return nil
	}
	return &k.Places[0]
}

// FuseTest is the cloth and the fusible for that many test swatches, width and
// length: 12 in squares of cloth with 9 in squares on them.
func FuseTest(n int) (cloth, fusible [2]measure.Length) {
	k := measure.Length(n)
	return [2]measure.Length{12 * in * k, 12 * in}, [2]measure.Length{9 * in * k, 9 * in}
}
