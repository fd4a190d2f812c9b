package work

import (
	"fmt"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// pieces are the small pieces, whose holes and hardware are made before they
// are joined.
func (w *planner) pieces() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if c.Notion.Kind != catalog.Zip && !c.Flap.Has() && rules.JoinedPiece(c) {
			w.joined(c, k)
		}
	})
}

// flaps are the flaps of openings, before they are sewn on.
func (w *planner) flaps() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if !c.Flap.Has() {
			return
		}
		w.joinFlap(c, k)
		if c.Notion.Kind != catalog.Zip {
			w.ownFlap(c, k)
		}
	})
}

// joined is the work on a flap, a pocket, a tab or a strap.
func (w *planner) joined(c *catalog.Closure, k *plan.Closure) {
	// Bound holes go in before the facing, and the thick edge comes with it.
	bound := rules.SewnHole(k) && k.Hole.Kind == "bound"
	if !bound {
		w.joinLayers(StagePieces, c, k)
	}
	if c.Where != "flap" && !bound {
		w.bulk(StagePieces, c, k)
	}
	if k.StitchedEdge() && !bound {
		w.stitchEdge(StagePieces, c, k)
	}
	at := len(w.out)
	switch {
	case rules.SewnHole(k):
		w.holeTask(StagePieces, c, k)
		w.slashed(StagePieces, c, k)
		if c.Where != "flap" && bound {
			w.bulk(StagePieces, c, k)
		}
		if k.StitchedEdge() && bound {
			w.stitchEdge(StagePieces, c, k)
		}
	case k.HasLoops():
		w.loopTask(StagePieces, c, k)
	case rules.SetWithTool(&c.Notion) && !plan.Whole(c) && c.Notion.Kind != catalog.Rivet:
		w.setFirst(StagePieces, c, k, plan.Over)
	}
	if plan.Whole(c) {
		w.fastenOne(StagePieces, c, k)
	}
	if len(w.out) > at {
		to := "body"
		if c.Where == "cuff" {
			to = "sleeve"
		}
		w.add(StagePieces, c.Name, "Only now join the %s to the %s (%s).", c.LiesOn(), to, piecesOf(c.Pieces, "piece"))
	}
	if c.Where == "flap" {
		w.bulk(StagePieces, c, k)
	}
}

// joinLayers makes one small piece of its layers, where they are not folded of
// one; those of bound holes are put on behind them.
func (w *planner) joinLayers(stage string, c *catalog.Closure, k *plan.Closure) {
	if cloths(c.Over) < 2 || c.Stand.Construction == "folded" || c.Stand.Construction == "band" {
		return
	}
	at, open := "at the edges that stay free", " The side that is sewn on stays open."
	if c.Where == "pocket" {
		at, open = "at its mouth", ""
	}
	w.add(stage, c.Name, "Join the layers of the %s, right sides together, %s; grade the allowances, and %s.%s", c.LiesOn(), at, turning(c), open).through(k)
}

// joinFlap makes one flap of its layers; bound holes are made before that.
func (w *planner) joinFlap(c *catalog.Closure, k *plan.Closure) {
	whose := of(c)
	if c.Name == "flap" {
		whose = ""
	}
	switch o := w.opening(c.Index); {
	case o.flap != k || rules.SewnHole(k) && k.Hole.Kind == "bound":
	case k.Stand.Seam == 0 && foldedFlap(k):
		w.add(StageEdge, c.Name, "Fold the flap%s on its edge, wrong sides together, and stitch its ends, which stay raw: there is no seam allowance.", whose).through(k)
	case k.Stand.Seam == 0 && cloths(c.Over) > 1:
		w.add(StageEdge, c.Name, "Lay the layers of the flap%s wrong sides together and stitch along its edge and both ends, which stay raw: there is no seam allowance.", whose).through(k)
	case foldedFlap(k):
		w.add(StageEdge, c.Name, "Fold the flap%s on its edge, right sides together, sew its ends, the seam %s, and %s.", whose, w.len(k.Stand.Seam), turning(c)).through(k)
	case cloths(c.Over) > 1:
		w.add(StageEdge, c.Name, "Join the layers of the flap%s, right sides together, at its edge and both ends, the seam %s; grade the allowances, and %s. The side that is sewn on stays open.", whose, w.len(k.Stand.Seam), turning(c)).through(k)
	}
}

// ownFlap is the work on a flap over an opening, after the fitting and before
// it is sewn on: what is set or cut later goes through the front and the zip
// below it.
func (w *planner) ownFlap(c *catalog.Closure, k *plan.Closure) {
	bound := rules.SewnHole(k) && k.Hole.Kind == "bound"
	if k.StitchedEdge() && !bound {
		w.stitchEdge(StageEdge, c, k)
	}
	switch {
	case bound:
		w.holeTask(StageEdge, c, k)
		w.slashed(StageEdge, c, k)
		if k.StitchedEdge() {
			w.stitchEdge(StageEdge, c, k)
		}
	case rules.SewnHole(k):
		w.holeTask(StageEdge, c, k)
	case k.HasLoops():
		w.loopTask(StageEdge, c, k)
	case rules.SetWithTool(&c.Notion):
		w.setFirst(StageEdge, c, k, plan.Flap)
	}
}

// setFirst marks and sets what a small piece carries of its fasteners.
func (w *planner) setFirst(stage string, c *catalog.Closure, k *plan.Closure, side plan.Side) {
	o := w.opening(c.Index)
	what, marked := "", false
	for _, s := range o.find(c.Index, side, plan.Works, fastenerKinds...) {
		what = partWord(s.kind) + "s"
		name, _ := number(what, w.count(o, k))
		at, lines := w.marks(o, &s)
		where := ""
		if out, is := o.uniform(&s, w.sizes); is {
			where = ": " + o.out(out) + o.insideEdge(side, out)
		}
		w.add(stage, c.Name, "Mark the %s%s%s from %s%s%s.", name, of(c), o.on(side), o.top(), at, where).Lines = lines
		marked = true
	}
	if !marked {
		w.add(stage, c.Name, "Mark what the %s carries: not laid out, see above.", o.shut())
	}
	w.fixTask(stage, c, k, what)
}

// insideEdge says how far inside the edge of a small piece a place lies.
func (o *opening) insideEdge(side plan.Side, out measure.Length) string {
	if pc := o.any(side); pc.Edged && pc.Finished > out {
		return ", " + o.len(pc.Finished-out) + " from its finished edge"
	}
	return ""
}

// sewFlap sews the flap of an opening on, over its zip.
func (w *planner) sewFlap(o *opening) {
	pc := o.any(plan.Flap)
	if pc == nil {
		return
	}
	seam := ""
	for i := range pc.Lines {
		if l := &pc.Lines[i]; l.Kind == plan.SeamLine {
			seam = ", its seam " + o.out(l.From.Out)
		}
	}
	over, facing, sew := "", "", "sew it on"
	if o.zip != nil {
		over = ", over the zip and on its stitching"
		if o.zip.HolesStay() {
			over, sew = ", over the zip", "sew both on in one row"
		}
	}
	if o.faced(plan.Over) {
		facing = ", before the facing covers that seam"
	}
	what := "finished flap"
	if o.flap.Closure.Notion.Kind != catalog.Zip {
		what += fmt.Sprintf(" with its %s", partsOf(o.flap))
	}
	w.add(StageEdge, o.flap.Closure.Name, "Lay the %s on %s%s%s, and %s%s: it reaches %s.", what, o.sideName(plan.Over), over, seam, sew, facing, o.out(pc.Finished))
}

// partsOf is what a flap carries of its fasteners.
func partsOf(k *plan.Closure) string {
	switch {
	case rules.SewnHole(k):
		return "holes"
	case k.Loop.Needed:
		return "loops"
	case k.Closure.Notion.Kind == catalog.Snap:
		return "snap caps"
	}
	return text.Plural(kindOf(k.Closure))
}

// faced says whether a facing covers the piece of that side.
func (o *opening) faced(side plan.Side) bool {
	pc := o.any(side)
	if pc == nil {
		return false
	}
	for i := range pc.Lines {
		if pc.Lines[i].Kind == plan.FacingLine {
			return true
		}
	}
	return false
}
