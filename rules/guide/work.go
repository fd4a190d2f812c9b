package guide

import (
	"math"
	"strconv"

	"placketeer/catalog"
	"placketeer/rules/plan"
)

// hidden says whether a part lies behind the piece: in a layer below its
// outermost one, or behind a fly.
func (d *drawer) hidden(q *plan.Part) bool {
	if d.beneath {
		return true
	}
	if d.pc.Side != plan.Over {
		return false
	}
	if d.p.Closures[q.Closure].Stand.Construction == "fly" {
		return true
	}
	for i := range d.pc.Parts {
		if d.pc.Parts[i].Layer < q.Layer {
			return true
		}
	}
	return false
}

// part draws a part as it lies: the outline of its rectangle, and a cross on
// its centre.
func (d *drawer) part(q *plan.Part) {
	k := &d.p.Closures[q.Closure]
	class := "part-" + q.Kind.String() + " " + q.Role.String()
	if q.Kind == plan.HolePart && d.p.Closures[q.Closure].Hole.Kind == "bound" {
		class += " bound"
	}
	hidden := d.hidden(q)
	solid, thin := penFastener, penStitched
	if hidden {
		class += " behind"
		solid, thin = penHidden, penHidden
	}
	data := []string{
		"data-closure", k.Closure.Name, "data-number", strconv.Itoa(int(q.Number)), "data-role", q.Role.String(), "data-layer", strconv.Itoa(int(q.Layer)),
		"data-out-mm", mm(q.Centre.Out), "data-at-mm", mm(q.Centre.At),
		"data-out-from-mm", mm(q.OutFrom), "data-out-to-mm", mm(q.OutTo), "data-from-mm", mm(q.From), "data-to-mm", mm(q.To),
	}
	if q.Kind == plan.HolePart {
		data = append(data, "data-cut-mm", mm(q.Cut), "data-stitched-mm", mm(q.Stitched))
		if q.Eye != plan.NoEye {
			data = append(data, "data-eye", q.Eye.String())
		}
	}
	r := partQuad(q)
	if q.Kind != plan.TapePart && q.Kind != plan.TeethPart {
		d.whole()
		d.unitOf[q] = d.unit
		first := len(d.items)
		defer func() {
			d.loose()
			d.mark(d.drawn(first, 1))
		}()
	}
	d.place(class, data...)
	switch q.Kind {
	case plan.TapePart:
		d.box4(penTape, r)
		return
	case plan.TeethPart:
		d.teeth(r, hidden)
		return
	case plan.CordPart:
		d.box4(thin, r)
		return
	case plan.BackingPart:
		d.round(penRim, r)
		return
	case plan.HolePart:
		d.hole(q, r, thin, hidden)
	case plan.LoopPart:
		d.tongue(solid, r, false)
		d.named("bar")
		d.seg(penBar, r.a, r.v-1, r.a, r.w+1)
	case plan.HookPart, plan.EyePart:
		d.tongue(solid, r, true)
	default:
		if k.Closure.Notion.Shape == "square" {
			d.box4(solid, r)
		} else {
			d.round(solid, r)
		}
		d.fastener(k, q)
	}
	d.named("centre "+q.Kind.String(), data[:4]...)
	d.cross(penCross, d.point(q.Centre), 3)
}

// fastener adds what is worth seeing of a fastener inside its outline: the
// cap on its flange, and the hole to punch.
func (d *drawer) fastener(k *plan.Closure, q *plan.Part) {
	n := &k.Closure.Notion
	c := d.point(q.Centre)
	if own, all := n.Diameter.V.MM()/2, (q.OutTo-q.OutFrom).MM()/2; n.Kind != catalog.Toggle && n.Shape != "toggle" && own > 0 && own < all-0.1 && n.Shape != "square" {
		d.named("cap", "data-diameter-mm", num(2*own))
		d.circle(penRim, c, own)
	}
	punch := k.Hardware.Punch
	if punch == 0 {
		punch = k.Closure.PunchHole.Or(n.Hole.V)
	}
	if punch > 0 {
		d.named("punch", "data-diameter-mm", mm(punch))
		d.circle(penHole, c, punch.MM()/2)
	}
}

// round is an outline with round ends, a circle where it is as wide as high.
func (d *drawer) round(p *pen, q quad) {
	across, down := q.b-q.a, q.w-q.v
	r := min(across, down) / 2
	if r <= 0 {
		d.line(p, d.at(q.a, q.v), d.at(q.b, q.w))
		return
	}
	if math.Abs(across-down) < 1e-6 {
		d.circle(p, d.at(q.a+r, q.v+r), r)
		return
	}
	var pts []pt
	if across > down {
		pts = append(arc(pt{q.b - r, q.v + r}, r, -1, 1), arc(pt{q.a + r, q.v + r}, r, 1, 3)...)
	} else {
		pts = append(arc(pt{q.a + r, q.w - r}, r, 0, 2), arc(pt{q.a + r, q.v + r}, r, 2, 4)...)
	}
	d.shape(p, d.turned(pts)...)
}

// tongue is an outline whose outer end is round, open or closed at the inner
// one.
func (d *drawer) tongue(p *pen, q quad, closed bool) {
	half := (q.w - q.v) / 2
	r := min(half, q.b-q.a)
	pts := []pt{{q.a, q.v}}
	for _, c := range arc(pt{q.b - r, 0}, r, -1, 1) {
		y := c.y
		if r > 0 {
			y *= half / r
		}
		pts = append(pts, pt{c.x, q.v + half + y})
	}
	pts = d.turned(append(pts, pt{q.a, q.w}))
	if closed {
		d.shape(p, pts...)
	} else {
		d.line(p, pts...)
	}
}

// turned turns places of the piece to places of the drawing.
func (d *drawer) turned(pts []pt) []pt {
	for i := range pts {
		pts[i] = d.at(pts[i].x, pts[i].y)
	}
	return pts
}

// hole is a buttonhole: its stitching, its bars and, where it is cut, the
// cut. Along itself, a runs towards its outer or upper end.
func (d *drawer) hole(q *plan.Part, r quad, thin *pen, hidden bool) {
	h := &d.p.Closures[q.Closure].Hole
	c := q.Centre
	in, out, w := r.a, r.b, (r.w-r.v)/2
	place := func(a, b float64) pt { return d.at(a, c.At.MM()+b) }
	if h.Direction == "along" {
		in, out, w = -r.w, -r.v, (r.b-r.a)/2
		place = func(a, b float64) pt { return d.at(c.Out.MM()+b, -a) }
	}
	bar := (h.Stitched - h.Length).MM() / 2
	cut := penHole
	if hidden {
		cut = penHoleHidden
	}
	switch h.Kind {
	case "keyhole", "hand":
		// Round at the end where the shank sits, a bar at the other.
		e := min(w, out-in)
		pts := []pt{place(in, -w)}
		for _, p := range arc(pt{out - e, 0}, e, -1, 1) {
			pts = append(pts, place(p.x, p.y*w/max(e, 1e-9)))
		}
		d.line(thin, append(pts, place(in, w))...)
	case "bound":
		d.shape(thin, place(in, -w), place(out, -w), place(out, w), place(in, w))
	default:
		d.line(thin, place(in, -w), place(out, -w))
		d.line(thin, place(in, w), place(out, w))
	}
	if h.Kind != "bound" {
		d.named("bar")
		d.line(penBar, place(in+bar/2, -w), place(in+bar/2, w))
		if h.Kind == "machine" {
			d.line(penBar, place(out-bar/2, -w), place(out-bar/2, w))
		}
	}
	if q.Cut <= 0 {
		return // sewn for show
	}
	in, out = in+bar, out-bar
	eye := 0.0 // radius of a keyhole's eye
	if h.Kind == "keyhole" {
		eye = min(0.55*w, (out-in)/4)
	}
	d.named("cut "+h.Kind+" "+h.Direction, "data-length-mm", mm(q.Cut))
	d.line(cut, place(out-2*eye, 0), place(in, 0))
	d.circle(cut, place(out-eye, 0), eye)
	if o := d.meets(q); o != nil && !d.strip {
		m := partQuad(o)
		d.named("meets")
		if d.p.Closures[q.Closure].Closure.Notion.Shape == "square" {
			d.box4(penRim, quad{-m.b, -m.a, m.v, m.w})
		} else {
			d.round(penRim, quad{-m.b, -m.a, m.v, m.w})
		}
	}
}

// meets is the fastener of the other side that comes to lie in a hole.
func (d *drawer) meets(q *plan.Part) *plan.Part {
	for i := range d.pieces {
		pc := &d.pieces[i]
		if (pc.Side == plan.Under) == (d.pc.Side == plan.Under) {
			continue
		}
		for j := range pc.Parts {
			o := &pc.Parts[j]
			if o.Closure == q.Closure && o.Number == q.Number && o.Role == q.Role && o.Kind != plan.HolePart && o.Kind != plan.BackingPart && o.Centre.Out == -q.Centre.Out {
				return o
			}
		}
	}
	return nil
}

// teeth is one half of a zip between its stops.
func (d *drawer) teeth(r quad, hidden bool) {
	p := penStitched
	if hidden {
		p = penHidden
	}
	d.box4(p, r)
	d.named("teeth")
	for v := r.v + 2; v < r.w; v += 4 {
		d.seg(penStitched, r.a, v, r.b, v)
	}
	d.named("stop")
	for _, v := range []float64{r.v, r.w} {
		d.hold(quad{r.a, r.b, v - 1, v + 1})
		d.seg(penBar, r.a, v, r.b, v)
	}
}
