package work

import (
	"fmt"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// Which work comes before the facing and which after: bound holes, loops,
// toggles and sewn snaps while the front lies flat, worked holes once all its
// layers are closed (USDA Farmers' Bulletin 1894, order of its contents; Every
// Woman's Encyclopaedia, tailoring lessons; a magazine pattern of 2011); the
// holes of a band or a fly before it is sewn on (a pattern house's sew-along).

// flatHoles says whether the holes of a closure are made before its edge is
// closed.
func flatHoles(k *plan.Closure) bool {
	if !k.SewnHole() || k.Closure.Flap.Has() || rules.JoinedPiece(k.Closure) {
		return false
	}
	st := &k.Closure.Stand
	switch st.Construction {
	case "band", "fly":
		return true
	case "folded":
		return st.Concealed.Or(false)
	}
	return k.Hole.Kind == "bound"
}

// flatFasteners says whether its fasteners are sewn on before that: toggles
// and frogs, and snaps that are sewn on.
func flatFasteners(k *plan.Closure) bool {
	c := k.Closure
	if c.Flap.Has() || rules.JoinedPiece(c) {
		return false
	}
	switch c.Notion.Kind {
	case catalog.Toggle, catalog.Frog:
		return k.Loop.Needed
	case catalog.Snap:
		return c.Notion.Attach == "sewn"
	}
	return false
}

// flat is what is worked while the front still lies flat, after the fitting.
func (w *planner) flat() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if c.Notion.Kind == catalog.Zip || c.Flap.Has() || rules.JoinedPiece(c) {
			return
		}
		switch {
		case flatHoles(k):
			w.holeTask(StageFlat, c, k)
		case k.HasLoops():
			w.loopTask(StageFlat, c, k)
		}
		if flatFasteners(k) {
			w.fastenOne(StageFlat, c, k)
		}
	})
}

// face puts the facing of a front on.
func (w *planner) face(o *opening) {
	k := o.lap
	if k == nil {
		k = o.zip
	}
	if k == nil || !o.front || rules.JoinedPiece(k.Closure) {
		return
	}
	st := &k.Stand
	if st.Construction == "folded" || st.Construction == "band" || !o.faced(plan.Over) && st.Construction != "faced" {
		return
	}
	c := k.Closure
	t := w.add(StageEdge, c.Name, "Put the facings%s on: face to face along the edge, the seam %s; grade the allowances, the front's the widest, turn and press.", of(c), w.len(st.Seam))
	for _, i := range o.members {
		m := &w.p.Closures[i]
		if m.Hole.Kind == "bound" && flatHoles(m) {
			t.Do += " Behind each bound hole slash the facing to its corners, turn the edges in and fell them down by hand."
			t.use(w.fell(m.Closure)...)
		}
	}
}

// fell is what felling the facing behind bound holes uses.
func (w *planner) fell(c *catalog.Closure) []plan.GoodID {
	return w.byHand(c, plan.JobHoles)
}

// fitting is what the try-on asks of the legs.
func (w *planner) fitting() string {
	if w.g.LegRoom() {
		return "sit down, climb a step, reach forward"
	}
	return "sit down, reach forward"
}

// fit is the fitting of one opening: no mark is final before it (a Savile Row
// trained tailor's notes on a dinner jacket).
func (w *planner) fit(o *opening) {
	var parts, keys []string
	pinned := false
	for _, i := range o.members {
		c, k := &w.g.Closures[i], &w.p.Closures[i]
		if c.Notion.Kind == catalog.Zip {
			keys = append(keys, w.lengthKey(i))
			continue
		}
		pinned = true
		if !k.WaitsForHem(w.g) {
			continue
		}
		keys = append(keys, w.lengthKey(i))
		kind := strings.ReplaceAll(c.Notion.Kind, "-", " ")
		parts = append(parts, "the last "+kind+" placed, "+w.bySize(func(i int) string {
			if z := &k.Sizes[i]; z.Solved && z.Count > 0 {
				return w.len(z.Last)
			}
			return "not laid out"
		})+" above it")
	}
	if !o.front || !pinned || len(w.sizes) == 0 {
		return
	}
	name := w.g.Closures[o.first].Name
	if len(parts) == 0 {
		w.add(StageTry, name, "Pin the %s shut and try it on: %s. No mark is final before that.", o.name, w.fitting())
		return
	}
	w.add(StageTry, name, "Turn the hem up and pin it, pin the %s shut, and try it on: %s. Only when the hem line is fixed is %s; no mark is final before that.", o.name, w.fitting(), text.And(parts...))
	w.add(StageTry, name, "If the hem line moved, plan again with %s and mark from the new list.", strings.Join(keys, " "))
}

// boundStrips cuts the cloth for the lips of bound holes.
func (w *planner) boundStrips(c *catalog.Closure, k *plan.Closure) {
	h := &k.Hole
	if h.Kind != "bound" || h.LipWidth == 0 {
		return
	}
	cloth := "cloth"
	if cl := rules.Shell(c.Over); cl != nil {
		cloth = w.g.NameOf(cl)
	}
	row := ""
	if h.Direction == "across" {
		if says := w.bySize(func(i int) string {
			z := &k.Sizes[i]
			if !z.Solved || z.Count < 2 {
				return ""
			}
			wide, long := plan.RowStrip(h.Length, z.Positions[z.Count-1]-z.Positions[0])
			return w.len(wide) + " wide and " + w.len(long) + " long"
		}); says != "" {
			row = "; or one strip for the row, " + says
		}
	}
	n := w.bySize(func(i int) string { return fmt.Sprint(k.Holes(i)) })
	w.add(StageCut, c.Name, "Cut strips of %s for the lips of the bound holes%s (%s, and one for the sample): %s wide and %s long each%s.", cloth, of(c), n, w.len(h.LipWidth), w.len(h.LipLength), row)
}
