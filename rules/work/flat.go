package work

import (
	"fmt"
	"slices"
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

// flatFasteners says whether its fasteners are sewn on before that: toggles,
// snaps that are sewn on, and hardware that the facing covers. Frogs lie on the
// finished front.
func flatFasteners(k *plan.Closure) bool {
	c := k.Closure
	if c.Flap.Has() || rules.JoinedPiece(c) {
		return false
	}
	switch c.Notion.Kind {
	case catalog.Toggle, catalog.Frog:
		return k.Loop.Needed && !k.SewnOnTop()
	case catalog.Snap:
		if c.Notion.Attach == "sewn" {
			return true
		}
	}
	// Hardware goes through all layers that it holds: where the facing is one of
	// them, it must be there first; where it is not, it covers the backs.
	return rules.SetWithTool(&c.Notion) && !k.Hole.Needed && k.Stand.Construction == "faced" && plan.IsFront(c) && cloths(c.Over) == 1 && cloths(c.Under) == 1
}

// cloths counts the layers of cloth.
func cloths(ls []catalog.Layer) (n int) {
	for i := range ls {
		if ls[i].Cloth != nil {
			n++
		}
	}
	return n
}

// flat is what is worked while the front still lies flat, after the fitting.
func (w *planner) flat() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if c.Notion.Kind == catalog.Zip || c.Flap.Has() || rules.JoinedPiece(c) {
			return
		}
		switch {
		case flatHoles(k):
			w.joinFly(c, k)
			w.holeTask(StageFlat, c, k)
		case k.HasLoops() && !k.SewnOnTop():
			w.loopTask(StageFlat, c, k)
		}
		if flatFasteners(k) {
			w.fastenOne(StageFlat, c, k)
		}
	})
}

// joinFly makes the fly that takes the holes of its two layers.
func (w *planner) joinFly(c *catalog.Closure, k *plan.Closure) {
	at := ""
	if w.fronts() > 1 {
		at = of(c)
	}
	switch o := w.opening(c.Index); {
	case !o.fly() || o.lap != k || o.lost():
	case k.Stand.Seam <= 0:
		w.add(StageFlat, c.Name, "Make the fly%s: its layers wrong sides together, stitched along the edge, which stays raw: there is no seam allowance.", at).through(k)
	default:
		w.add(StageFlat, c.Name, "Make the fly%s: its layers right sides together, a seam of %s along the edge; grade the allowances, and %s.", at, w.len(k.Stand.Seam), turning(c)).through(k)
	}
}

// facedBy is the closure that the facing is put on with, or nil: of a front, and
// of a hood or another edge that the file faces.
func (o *opening) facedBy() *plan.Closure {
	k := o.lap
	if k == nil {
		k = o.zip
	}
	if k == nil || !o.front && !o.faced(plan.Over) || rules.JoinedPiece(k.Closure) {
		return nil
	}
	st := &k.Stand
	if st.Construction == "folded" || st.Construction == "band" || !o.faced(plan.Over) && st.Construction != "faced" {
		return nil
	}
	return k
}

// face puts the facing of a front on.
func (w *planner) face(o *opening) {
	k := o.facedBy()
	if k == nil {
		for _, i := range o.members {
			if m := &w.p.Closures[i]; flatHoles(m) {
				w.slashed(StageEdge, m.Closure, m)
			}
		}
		return
	}
	c, st := k.Closure, &k.Stand
	widest := "the front"
	if !o.front {
		widest = "the outer layer"
	}
	turn, at := turning(c), of(c)
	if at == "" {
		at = o.among()
	}
	if st.Seam == 0 {
		w.add(StageEdge, c.Name, "Put the facings%s on, wrong sides together, and stitch along the edge, which stays raw: there is no seam allowance.", at).through(k)
		return
	}
	t := w.add(StageEdge, c.Name, "Put the facings%s on: face to face along the edge, the seam %s; grade the allowances, %s's the widest, %s.", at, w.len(st.Seam), widest, turn).through(k)
	for _, i := range o.members {
		m := &w.p.Closures[i]
		if m.Hole.Kind == "bound" && flatHoles(m) {
			t.Do += w.slashing(m)
			t.use(w.fell(m.Closure)...)
		}
	}
}

// turning says how an edge is turned out and laid flat.
func turning(c *catalog.Closure) string {
	switch cl := rules.Shell(c.Over); {
	case cl != nil && rules.Hardly(cl):
		return "turn it and roll the edge flat, without an iron"
	case cl != nil && rules.Steamed(cl):
		return "turn it and steam the edge from above, the iron held off it"
	}
	return "turn and press"
}

// fell is what felling the facing behind bound holes uses.
func (w *planner) fell(c *catalog.Closure) []plan.GoodID {
	return w.byHand(c, plan.JobHoles)
}

// fitting is what the try-on asks for; of the legs only where the closing runs
// down to them.
func (w *planner) fitting(legs bool) string {
	if legs && w.g.LegRoom() {
		return "sit down, climb a step, reach forward"
	}
	return "sit down, reach forward"
}

// fit is the fitting of one opening: no mark is final before it (a Savile Row
// trained tailor's notes on a dinner jacket).
func (w *planner) fit(o *opening) {
	var parts, keys, lines []string
	zips, pin := 0, "pin"
	for _, i := range o.members {
		c, k := &w.g.Closures[i], &w.p.Closures[i]
		if k.Unbasted() {
			pin = "clip"
		}
		if c.Notion.Kind == catalog.Zip {
			keys = append(keys, w.lengthKey(i))
			zips++
			continue
		}
		if !k.WaitsForHem(w.g) {
			continue
		}
		keys = append(keys, w.lengthKey(i))
		kind := strings.ReplaceAll(c.Notion.Kind, "-", " ")
		of := func(i int) string {
			if z := &k.Sizes[i]; z.Solved {
				return w.len(z.Last)
			}
			return "not laid out, see above"
		}
		last, by := w.sized(of)
		switch {
		case len(by) == 0 && slices.ContainsFunc(w.sizes, func(i int) bool { return k.Sizes[i].Solved }):
			last += " above it"
		case len(by) != 0:
			last = "as far above it as the list says"
			for _, l := range by {
				if w.fits(o) > 1 {
					l = "the last " + kind + ", " + l
				}
				lines = append(lines, l)
			}
		}
		parts = append(parts, "the last "+kind+" placed, "+last)
	}
	if !o.front || len(w.sizes) == 0 {
		return
	}
	if zips == len(o.members) && w.g.HemAt != "none" {
		parts = append(parts, "the zip sewn in")
	}
	name := w.g.Closures[o.first].Name
	shut := pin + " the " + o.name + " shut"
	if zips == len(o.members) {
		shut = pin + " the fronts edge to edge"
	}
	if len(parts) == 0 {
		w.add(StageTry, name, "%s and try it on: %s. No mark is final before that.", text.Capital(shut), w.fitting(false))
		return
	}
	w.add(StageTry, name, "Turn the hem up and %s it, %s, and try it on: %s. Only when the hem line is fixed is %s; no mark is final before that.", pin, shut, w.fitting(true), text.And(parts...)).Lines = lines
	w.add(StageTry, name, "If the hem line moved, plan again with the new length, on the page or with %s, and mark from the new list.", strings.Join(keys, " "))
}

// fits counts the closures of an opening whose last fastener waits for the hem.
func (w *planner) fits(o *opening) (n int) {
	for _, i := range o.members {
		if w.g.Closures[i].Notion.Kind != catalog.Zip && w.p.Closures[i].WaitsForHem(w.g) {
			n++
		}
	}
	return n
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
	holes := "bound holes" + of(c) + " (" + n + ", and one for the sample)"
	if n == "1" {
		holes = "bound hole" + of(c) + " and for those of its sample"
	}
	w.add(StageCut, c.Name, "Cut strips of %s for the lips of the %s: %s wide and %s long each%s.", cloth, holes, w.len(h.LipWidth), w.len(h.LipLength), row)
}
