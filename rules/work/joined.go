package work

import (
	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func (w *planner) pieces() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if !rules.JoinedPiece(c) || c.Notion.Kind == catalog.Zip {
			return
		}
		if c.Where != "flap" {
			w.bulk(StagePieces, c, k)
		}
		at := len(w.out)
		switch {
		case rules.SewnHole(k):
			w.holeTask(StagePieces, c, k)
		case k.HasLoops():
			w.loopTask(StagePieces, c, k)
		}
		if rules.SetWithTool(&c.Notion) && !rules.SewnHole(k) {
			places, lines := w.places(k)
			w.add(StagePieces, c.Name, "Mark the %s of the %s from %s%s.", text.Plural(c.Notion.Kind), c.Name, from(c), places).Lines = lines
			w.fixTask(StagePieces, c, k)
		}
		if len(w.out) > at {
			w.add(StagePieces, c.Name, "Only now join the %s to the body (%s).", c.Name, piecesOf(c.Pieces, "piece"))
		}
		if c.Where == "flap" {
			w.bulk(StagePieces, c, k)
		}
	})
}
