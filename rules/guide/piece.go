package guide

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

const (
	labelGap   = 3.0 // between the work and its label, mm
	sideGap    = 2.5
	badge      = 6.5 // room for the number before its label
	pad        = 1.5 // white round a panel
	leastSide  = 6.0 // cloth shown inside the innermost line
	hatchEvery = 5.0
	tagGap     = 1.2 // between a fastener and the words under it
	tagPitch   = 3.3
	leastTag   = 24.0
	noteEvery  = 3.2
	zipNote    = 40.0 // room for what is said of a zip, inside its tape
	titleWide  = 90.0
)

// panel is one piece, drawn.
type panel struct {
	list
	name  string
	box   rect
	keep  []rect // what a page's edge should not cut
	lines []lineName
	topY  float64
}

// lineName is the name of a line that runs down the piece, or the names of
// lines that do so in one place.
type lineName struct {
	from, to pt
	names    []string
}

func (n *lineName) name() string { return strings.Join(n.names, ", ") }

// drawer draws one piece. Every place is one of the plan's: across, u is
// millimetres out, from the meeting line towards the piece's edge; down, v is
// millimetres from the top of the opening.
type drawer struct {
	*opening
	panel
	pc     *plan.Piece
	places []string // data of everything that is a place of the piece
	units  measure.Unit
	sign   float64 // 1: the edge is on the viewer's right
	end    float64 // of the run
	in     float64 // innermost u drawn, negative
	out    float64 // outermost
	labels []sideLabel
	notes  []note
	below  bool
}

// note is written on the cloth, from its inner side.
type note struct {
	v    float64
	text string
	style
}

type sideLabel struct {
	v    float64
	text string
	bold bool
}

func (d *drawer) at(u, v float64) pt { return pt{d.sign * u, v} }

func (d *drawer) point(p plan.Point) pt { return d.at(p.Out.MM(), p.At.MM()) }

func (d *drawer) seg(p *pen, u0, v0, u1, v1 float64) { d.line(p, d.at(u0, v0), d.at(u1, v1)) }

// quad is a rectangle of the piece: across from a to b, down from v to w.
type quad struct{ a, b, v, w float64 }

func partQuad(q *plan.Part) quad {
	return quad{q.OutFrom.MM(), q.OutTo.MM(), q.From.MM(), q.To.MM()}
}

func areaQuad(a *plan.Area) quad {
	return quad{a.OutFrom.MM(), a.OutTo.MM(), a.From.MM(), a.To.MM()}
}

// hold notes what a page's edge should not cut.
func (d *drawer) hold(q quad) {
	d.keep = append(d.keep, boxOf([]pt{d.at(q.a, q.v), d.at(q.b, q.w)}, 1))
}

func (d *drawer) box4(p *pen, q quad) {
	d.shape(p, d.at(q.a, q.v), d.at(q.b, q.v), d.at(q.b, q.w), d.at(q.a, q.w))
}

// textIn sets a text that begins at u and runs away from the edge; textOut
// one that runs outwards.
func (d *drawer) textIn(s string, u, v float64, st style) {
	d.text(s, d.sign*u, v, st.at(int(d.sign)))
}

func (d *drawer) textOut(s string, u, v float64, st style) {
	d.text(s, d.sign*u, v, st.at(-int(d.sign)))
}

// place names what is drawn next as a place of the piece.
func (d *drawer) place(class string, data ...string) {
	d.named(class, slices.Concat(d.places, data)...)
}

func (d *drawer) reach(from, to float64) {
	d.in, d.out = min(d.in, from, to), max(d.out, from, to)
}

func mm(l measure.Length) string { return num(l.MM()) }

// draw draws one piece of the opening.
func (o *opening) draw(pc *plan.Piece, f *faces, below bool) *panel {
	d := &drawer{
		opening: o, pc: pc, units: o.p.Garment.Units, sign: o.sign(pc), end: o.run(), below: below,
		places: []string{"data-opening", o.closure().OpeningName(), "data-sizes", strings.Join(o.sizes, " "), "data-side", pc.Side.String()},
	}
	d.panel.faces, d.panel.name = f, pc.Piece

	// How wide the drawn cloth is.
	d.reach(-leastSide, max(0, pc.Cloth.MM()))
	for i := range pc.Lines {
		d.reach(pc.Lines[i].From.Out.MM(), pc.Lines[i].To.Out.MM())
	}
	for i := range pc.Areas {
		d.reach(pc.Areas[i].OutFrom.MM(), pc.Areas[i].OutTo.MM())
	}
	for i := range pc.Parts {
		d.reach(pc.Parts[i].OutFrom.MM(), pc.Parts[i].OutTo.MM())
	}

	for i := range pc.Areas {
		d.area(&pc.Areas[i])
	}
	for i := range pc.Lines {
		d.pieceLine(&pc.Lines[i])
	}
	d.anchors()
	for i := range pc.Parts {
		d.part(&pc.Parts[i])
	}
	d.words()
	d.named("label")
	for _, n := range d.notes {
		if d.faces.width(n.text, n.size, n.style.bold)+1.5 > d.out-d.in {
			d.labels = append(d.labels, sideLabel{n.v, n.text, n.style.bold})
			continue
		}
		d.textOut(n.text, d.in+0.8, n.v, n.style)
		if n.bold {
			d.keep = append(d.keep, d.items[len(d.items)-1].box)
		}
	}
	d.sides()
	d.combs()
	return d.finish()
}

// linePens are the pens of the lines of a piece.
var linePens = [...]*pen{
	plan.CentreLine: penCentre, plan.MeetingLine: penCentre, plan.ColumnLine: penColumn, plan.EdgeLine: penFinished,
	plan.FoldLine: penFold, plan.CutLine: penCut, plan.SeamLine: penSeam, plan.StitchLine: penStitching, plan.FacingLine: penFacing,
	plan.TopLine: penEnd, plan.HemLine: penEnd, plan.TurnUpLine: penHem, plan.StripeLine: penRepeat,
}

func (d *drawer) pieceLine(l *plan.Line) {
	d.place("line-"+l.Kind.String(), "data-out-from-mm", mm(l.From.Out), "data-at-from-mm", mm(l.From.At), "data-out-to-mm", mm(l.To.Out), "data-at-to-mm", mm(l.To.At))
	d.line(linePens[l.Kind], d.point(l.From), d.point(l.To))
	v := l.From.At.MM()
	switch l.Kind {
	case plan.StripeLine:
	case plan.TopLine, plan.HemLine:
		d.ends(l)
	case plan.TurnUpLine:
		d.inside(v, true, false, "turned up to here")
	default:
		d.nameLine(l.From, l.To, d.lineWords(l))
	}
}

// nameLine notes the name of what runs down the piece, once for what lies in one
// place.
func (d *drawer) nameLine(from, to plan.Point, name string) {
	n := lineName{d.point(from), d.point(to), []string{name}}
	for i := range d.lines {
		o := &d.lines[i]
		if math.Abs(o.from.x-n.from.x) < 0.05 && math.Abs(o.to.x-n.to.x) < 0.05 {
			if !slices.Contains(o.names, name) {
				o.names = append(o.names, name)
			}
			o.from.y, o.to.y = min(o.from.y, n.from.y), max(o.to.y, n.to.y)
			return
		}
	}
	d.lines = append(d.lines, n)
}

// lineWords is what a line is called.
func (d *drawer) lineWords(l *plan.Line) string {
	switch l.Kind {
	case plan.CentreLine:
		if !d.fronts() {
			return "line of the fasteners"
		}
		return "centre line"
	case plan.MeetingLine:
		return "meeting line"
	case plan.ColumnLine:
		return "column"
	case plan.EdgeLine:
		if d.pc.Side != plan.Flap && d.toDraft() {
			return "finished edge, to be drafted"
		}
		return "finished edge"
	case plan.FoldLine:
		return "fold of the turn-under"
	case plan.CutLine:
		return "cut edge"
	case plan.SeamLine:
		if d.pc.Side == plan.Flap {
			return "sewn on here"
		}
	}
	return l.Kind.String()
}

// toDraft says whether the edge is of our drafting: no closure of the
// opening says where it lies.
func (o *opening) toDraft() bool {
	for _, i := range o.members {
		if o.p.Closures[i].Stand.Known {
			return false
		}
	}
	return o.fronts()
}

// ends names the top and the end of the run.
func (d *drawer) ends(l *plan.Line) {
	name := "neck edge"
	if d.short() {
		name = "top"
	}
	if l.Kind == plan.HemLine {
		if name = "hem"; d.short() {
			name = "end"
		}
		name += " " + d.length(l.From.At)
	}
	d.inside(l.From.At.MM(), l.Kind == plan.TopLine, true, name)
}

// inside writes a name on the cloth, on the lower or the upper side of a line
// that crosses it, beyond what is written there already.
func (d *drawer) inside(v float64, below, bold bool, name string) {
	st := small
	st.bold = bold
	away := -noteEvery
	if v -= 1.3; below {
		v, away = v+4.5, noteEvery
	}
	for slices.ContainsFunc(d.notes, func(n note) bool { return math.Abs(n.v-v) < noteEvery-0.1 }) {
		v += away
	}
	d.notes = append(d.notes, note{v, name, st})
}

// length is a length as the guide labels it.
func (d *drawer) length(l measure.Length) string {
	if d.small() {
		return l.ShortPlace(d.units)
	}
	return l.TextPlace(d.units)
}

func (d *drawer) area(a *plan.Area) {
	data := []string{"data-out-from-mm", mm(a.OutFrom), "data-out-to-mm", mm(a.OutTo), "data-from-mm", mm(a.From), "data-to-mm", mm(a.To)}
	if a.Kind == plan.InterfacingArea {
		data = append(data, "data-layer", a.Layer.String())
	}
	if a.Name != "" {
		data = append(data, "data-name", a.Name)
	}
	q := areaQuad(a)
	d.place("area-"+a.Kind.String(), data...)
	switch a.Kind {
	case plan.FacingArea, plan.TurnUpArea:
		d.box4(penHair, q)
		if a.Kind == plan.FacingArea {
			d.nameArea(a, "facing")
		}
	case plan.InterfacingArea:
		d.box4(penFusing, q)
		d.nameArea(a, "interfacing")
	case plan.PatchArea:
		d.box4(penPatch, q)
		d.named("label")
		d.textOut("patch", q.a+1, q.v+3, small)
	case plan.ClearArea:
		c0, c1 := d.at(q.a, q.v), d.at(q.b, q.w)
		d.hatch(penHatch, rect{min(c0.x, c1.x), c0.y, max(c0.x, c1.x), c1.y}, hatchEvery)
		d.seg(penClear, q.a, q.v, q.b, q.v)
		d.seg(penClear, q.a, q.w, q.b, q.w)
		d.notes = append(d.notes, note{(q.v+q.w)/2 + 0.9, fmt.Sprintf("%s: keep clear %s to %s", a.Name, a.From.ShortPlace(d.units), a.To.ShortPlace(d.units)), small})
	}
}

// nameArea notes the name of an area at both its edges, but for an outer
// edge that lies on a line.
func (d *drawer) nameArea(a *plan.Area, name string) {
	if a.From > 0 {
		d.named("label")
		d.textOut(name, a.OutFrom.MM()+1, a.From.MM()+3, small)
		return
	}
	d.nameLine(plan.Point{Out: a.OutFrom, At: a.From}, plan.Point{Out: a.OutFrom, At: a.To}, name)
	for i := range d.pc.Lines {
		if l := &d.pc.Lines[i]; l.From.Out == a.OutTo && l.To.Out == a.OutTo {
			return
		}
	}
	d.nameLine(plan.Point{Out: a.OutTo, At: a.From}, plan.Point{Out: a.OutTo, At: a.To}, name)
}

// anchors are the places that want a fastener near them, as the file has
// them.
func (d *drawer) anchors() {
	for _, i := range d.members {
		for _, a := range d.p.Closures[i].Closure.Run.Anchors {
			at, within := a.At.At(d.index).V, a.Within.At(d.index).Or(plan.AnchorWithin)
			v, w := at.MM(), within.MM()
			if v > d.end {
				continue
			}
			d.named("anchor", "data-name", a.Name, "data-run-mm", num(v), "data-within-mm", num(w))
			d.seg(penAnchor, d.in, v, d.out, v)
			u := d.out + 1
			d.line(penBracket, d.at(u-1, v-w), d.at(u, v-w), d.at(u, v+w), d.at(u-1, v+w))
			d.labels = append(d.labels, sideLabel{v, fmt.Sprintf("%s %s ± %s", a.Name, at.ShortPlace(d.units), within.ShortPlace(d.units)), false})
		}
	}
}

// hidden says whether a part lies behind the piece: in a layer below its
// outermost one, or behind a fly.
func (d *drawer) hidden(q *plan.Part) bool {
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
	if numbered(q) {
		d.hold(r)
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
	if o := d.meets(q); o != nil {
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
		d.seg(penBar, r.a, v, r.b, v)
	}
}

// spot is what a piece has in one place.
type spot struct {
	closure int
	number  int
	centre  plan.Point
	parts   []*plan.Part
	box     quad // all that it covers, and what it meets
}

// spots are the places of fasteners, holes and loops, from the top.
func (d *drawer) spots() []*spot {
	var out []*spot
	for i := range d.pc.Parts {
		q := &d.pc.Parts[i]
		if !numbered(q) {
			continue
		}
		j := slices.IndexFunc(out, func(s *spot) bool { return s.closure == int(q.Closure) && s.centre == q.Centre })
		if j < 0 {
			j = len(out)
			out = append(out, &spot{closure: int(q.Closure), number: int(q.Number), centre: q.Centre, box: partQuad(q)})
		}
		s := out[j]
		s.parts = append(s.parts, q)
		s.cover(partQuad(q))
		if q.Kind == plan.HolePart && q.Cut > 0 {
			if o := d.meets(q); o != nil {
				m := partQuad(o)
				s.cover(quad{-m.b, -m.a, m.v, m.w})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *spot) int { return cmp.Compare(a.centre.At, b.centre.At) })
	return out
}

func (s *spot) cover(q quad) {
	s.box = quad{min(s.box.a, q.a), max(s.box.b, q.b), min(s.box.v, q.v), max(s.box.w, q.w)}
}

// roles says what a place is for, where not all places do the same.
func (s *spot) roles(all bool) string {
	var out []string
	show := false
	for _, q := range s.parts {
		switch {
		case q.Role == plan.Works && all:
			out = append(out, "works")
		case q.Role == plan.Show && q.Kind == plan.HolePart:
			out, show = append(out, "show, sewn and not cut"), true
		case q.Role == plan.Show && !show:
			out = append(out, "show")
		case q.Role == plan.Inner && q.Kind == plan.HolePart:
			out = append(out, "hole of the inner button")
		case q.Role == plan.Inner:
			out = append(out, "inner button on the inside")
		}
	}
	return strings.Join(out, "; ")
}

// mixed says whether the opening has parts that do not all work.
func (o *opening) mixed() bool {
	for i := range o.pieces {
		for j := range o.pieces[i].Parts {
			if o.pieces[i].Parts[j].Role != plan.Works {
				return true
			}
		}
	}
	return false
}

// several says whether more than one closure of the opening has places that
// are numbered.
func (o *opening) several() bool {
	n := 0
	for _, i := range o.members {
		if !o.p.Closures[i].Zip.Needed {
			n++
		}
	}
	return n > 1
}

// from says how far from the meeting line a place lies.
func (d *drawer) from(s *spot) string {
	if s.centre.Out == 0 {
		return ""
	}
	line := "meeting line"
	for i := range d.pc.Lines {
		if l := &d.pc.Lines[i]; l.Kind == plan.CentreLine {
			line = "centre line"
		}
	}
	if line == "centre line" && !d.fronts() {
		line = "line of the fasteners"
	}
	return s.centre.Out.Abs().ShortPlace(d.units) + " from the " + line
}

// words writes beside every place where it lies and what it is for.
func (d *drawer) words() {
	spots := d.spots()
	mixed, several := d.mixed(), d.several()
	var columns [2][]*spot // on either side of a double-breasted front
	var single []*spot
	for _, s := range spots {
		c := d.p.Closures[s.closure].Closure
		switch {
		case c.Lap != "double" || c.Flap.Has() || s.centre.Out == 0:
			single = append(single, s)
		case s.centre.Out < 0:
			columns[0] = append(columns[0], s)
		default:
			columns[1] = append(columns[1], s)
		}
	}
	words := func(s *spot) []string {
		out := []string{d.length(s.centre.At)}
		if f := d.from(s); f != "" {
			out = append(out, f)
		}
		if r := s.roles(mixed); r != "" {
			out = append(out, r)
		}
		if s.parts[0].Role == plan.Works && d.hidden(s.parts[0]) {
			out = append(out, "inside")
		}
		if several {
			out = append(out, d.p.Closures[s.closure].Closure.Name)
		}
		return out
	}

	inner := 0.0
	for i := range d.pc.Parts {
		inner = min(inner, d.pc.Parts[i].OutFrom.MM())
	}
	for i := range d.pc.Areas {
		if a := &d.pc.Areas[i]; a.Kind == plan.PatchArea || a.Kind == plan.InterfacingArea && a.From > 0 {
			inner = min(inner, a.OutFrom.MM())
		}
	}
	d.beside(single, words, inner-labelGap)
	for n, col := range columns {
		wide := 60.0
		if len(columns[1-n]) > 0 && len(col) > 0 {
			// room between the two columns where they come nearest
			wide = math.Inf(1)
			for _, s := range col {
				wide = min(wide, 2*math.Abs(s.centre.Out.MM())-2)
			}
			wide = min(max(wide, leastTag), 60)
		}
		d.under(col, words, wide)
	}
	d.zipWords(spots)
	n := 0.0
	for _, i := range d.members {
		k := &d.p.Closures[i]
		if !k.Zip.Needed && !d.size(i).Solved {
			d.named("unsolved")
			d.textIn(k.Closure.Name+": no places, the run cannot be laid out.", -labelGap, d.end/2+n, strong)
			d.textIn("See what check says of it.", -labelGap, d.end/2+4.5+n, normal)
			n += 10
		}
	}
}

// beside writes the words of places at u, running inwards, each behind its
// number.
func (d *drawer) beside(spots []*spot, words func(*spot) []string, u float64) {
	const pitch = 3.9
	var want, high []float64
	var lines [][]string
	for _, s := range spots {
		w := words(s)
		lines = append(lines, w)
		want, high = append(want, s.centre.At.MM()), append(high, max(6, pitch*float64(len(w))+1))
	}
	for i, y := range spread(want, high) {
		s := spots[i]
		d.named("label", "data-closure", d.p.Closures[s.closure].Closure.Name, "data-number", strconv.Itoa(s.number))
		if math.Abs(y-want[i]) > 1 {
			d.seg(penThin, u-badge/2+3, y, s.box.a, want[i])
		}
		at := y + 1.1 - pitch*float64(len(lines[i])-1)/2
		for j, w := range lines[i] {
			st := normal
			st.bold = j == 0
			d.textIn(w, u-badge, at+pitch*float64(j), st)
			d.reach(u-badge-d.faces.width(w, st.size, st.bold)-2, 0)
		}
		d.badge(s.number, d.at(u-badge/2+0.6, y))
	}
}

func (d *drawer) badge(number int, c pt) {
	d.circle(penWhite, c, 2.4)
	d.circle(penStitched, c, 2.4)
	st := strong.at(0)
	st.bare = true
	d.text(strconv.Itoa(number), c.x, c.y+1.15, st)
}

// under writes the words of the places of a column under them.
func (d *drawer) under(spots []*spot, words func(*spot) []string, wide float64) {
	var want, high []float64
	var lines [][]string
	for _, s := range spots {
		all := words(s)
		w := []string{all[0]}
		for _, l := range all[1:] {
			w = append(w, d.faces.wrap(l, small, wide)...)
		}
		lines = append(lines, w)
		h := 5 + tagPitch*float64(len(w)-1) + 0.6
		high = append(high, h)
		want = append(want, s.box.w+tagGap+h/2)
	}
	for i, y := range spread(want, high) {
		s := spots[i]
		d.named("label", "data-closure", d.p.Closures[s.closure].Closure.Name, "data-number", strconv.Itoa(s.number))
		x, top := d.point(s.centre).x, y-high[i]/2
		if math.Abs(y-want[i]) > 1 {
			d.line(penThin, pt{x, top}, d.point(s.centre))
		}
		st := strong
		w := d.faces.width(lines[i][0], st.size, true)
		left := x - (w+6)/2
		d.badge(s.number, pt{left + 2.4, top + 2.5})
		d.text(lines[i][0], left+6, top+3.6, st)
		for j, l := range lines[i][1:] {
			d.text(l, x, top+3.6+tagPitch*float64(j+1)+0.4, small.at(0))
		}
		d.keep = append(d.keep, rect{left, top, left + w + 6, top + high[i]})
	}
}

// zipWords names the stops of a zip and what lies between them.
func (d *drawer) zipWords(spots []*spot) {
	for i := range d.pc.Parts {
		q := &d.pc.Parts[i]
		if q.Kind != plan.TeethPart {
			continue
		}
		k := &d.p.Closures[q.Closure]
		says := fmt.Sprintf("%s: top stop %s, teeth for %s", k.Closure.Name, q.From.ShortPlace(d.units), d.length(q.To-q.From))
		if z := k.Zip.Sizes[d.index]; z.Length > 0 {
			says += ", zip " + d.length(z.Length)
		}
		end := fmt.Sprintf("%s: bottom stop %s", k.Closure.Name, q.To.ShortPlace(d.units))
		if room := q.OutFrom.MM() - d.in; room > zipNote && !d.small() {
			lines := d.faces.wrap(says, small, room-4)
			top := q.From.MM()
			if !slices.ContainsFunc(spots, func(s *spot) bool {
				return s.box.v-2 < top+noteEvery*float64(len(lines)+1) && s.box.w+2 > top
			}) {
				for _, s := range lines {
					d.inside(top, true, false, s)
				}
				d.inside(q.To.MM(), false, false, end)
				continue
			}
		}
		d.labels = append(d.labels, sideLabel{q.From.MM(), says, false}, sideLabel{q.To.MM(), end, false})
	}
}

// sides writes the names of what crosses the run beside it.
func (d *drawer) sides() {
	st := small
	const pitch = 3.2
	width := 30.0
	if d.small() {
		width = 20
	}
	type block struct {
		v     float64
		lines []string
		bold  bool
	}
	slices.SortStableFunc(d.labels, func(a, b sideLabel) int { return cmp.Compare(a.v, b.v) })
	var bs []block
	var want, high []float64
	for _, l := range d.labels {
		t := st
		t.bold = l.bold
		b := block{l.v, d.faces.wrap(l.text, t, width), l.bold}
		bs = append(bs, b)
		want, high = append(want, b.v), append(high, pitch*float64(len(b.lines))+1.2)
	}
	u := d.out + sideGap
	for i, y := range spread(want, high) {
		d.named("label")
		if math.Abs(y-bs[i].v) > 1 {
			d.seg(penThin, u-0.6, y, d.out, bs[i].v)
		}
		t := st
		t.bold = bs[i].bold
		for j, s := range bs[i].lines {
			d.textOut(s, u, y+pitch*(float64(j)-float64(len(bs[i].lines)-1)/2)+0.9, t)
		}
	}
}

const nameEvery = 3.3 // room for a name that reads upwards

// combs writes the names of the long lines above and below the run.
func (d *drawer) combs() {
	d.named("line-name")
	d.comb(func(n lineName) pt { return n.from }, 0, -1)
	if d.below {
		d.comb(func(n lineName) pt { return n.to }, d.end, 1)
	}
}

// comb writes names that read upwards, above a height or, for dir 1, below
// it.
func (d *drawer) comb(end func(lineName) pt, y, dir float64) {
	cs := slices.Clone(d.lines)
	slices.SortStableFunc(cs, func(a, b lineName) int { return cmp.Compare(end(a).x, end(b).x) })
	var want, wide []float64
	for _, c := range cs {
		want, wide = append(want, end(c).x), append(wide, nameEvery)
	}
	st := small
	st.up = true
	for i, x := range spread(want, wide) {
		d.line(penThin, pt{want[i], y + 0.5*dir}, pt{want[i], y + 1.5*dir}, pt{x, y + 4*dir})
		d.text(cs[i].name(), x+0.9, y+4.8*dir, st.at(int(dir)))
	}
}

// carries is what a piece carries, in a word or two.
func (d *drawer) carries() string {
	var out []string
	for i := range d.pc.Parts {
		q := &d.pc.Parts[i]
		word := strings.ReplaceAll(q.Kind.String(), "-", " ")
		switch q.Kind {
		case plan.TapePart, plan.CordPart, plan.BackingPart:
			continue
		case plan.TeethPart:
			word = "zip"
		case plan.EyePart:
			word = "eye or bar"
		}
		if !slices.Contains(out, word) {
			out = append(out, word)
		}
	}
	return text.And(out...)
}

// finish writes the title and moves the panel so that its top left is 0, 0.
func (d *drawer) finish() *panel {
	b := d.bounds()
	width := min(max(b.x1-b.x0, 60), titleWide)
	name := d.pc.Piece
	if d.fronts() && d.pc.Side != plan.Flap {
		name = "wearer's " + name
	}
	switch d.pc.Side {
	case plan.Over:
		name += ", on top"
	case plan.Under:
		name += ", underneath"
	case plan.Flap:
		name += ", sewn on over the opening"
	}
	name = strings.ToUpper(name[:1]) + name[1:]
	if c := d.carries(); c != "" {
		name += ": " + c
	}
	y := b.y0 - 3
	head := d.faces.wrap(name, title, width)
	sub := d.faces.wrap(d.opening.name(), normal, width)
	d.named("panel-title")
	for i := len(sub) - 1; i >= 0; i-- {
		d.keep = append(d.keep, d.text(sub[i], b.x0, y, normal))
		y -= 4.2
	}
	y -= 0.6
	for i := len(head) - 1; i >= 0; i-- {
		d.keep = append(d.keep, d.text(head[i], b.x0, y, title))
		y -= 5.4
	}
	b = d.bounds()
	b = rect{b.x0 - pad, b.y0 - pad, b.x1 + pad, b.y1 + pad}
	out := &panel{list: list{faces: d.faces}, name: d.panel.name, topY: -b.y0}
	out.put(&d.panel.list, -b.x0, -b.y0)
	out.box = rect{0, 0, b.x1 - b.x0, b.y1 - b.y0}
	for _, k := range d.keep {
		out.keep = append(out.keep, k.moved(-b.x0, -b.y0))
	}
	for _, n := range d.lines {
		out.lines = append(out.lines, n.moved(-b.x0, -b.y0))
	}
	return out
}

func (n lineName) moved(dx, dy float64) lineName {
	n.from, n.to = pt{n.from.x + dx, n.from.y + dy}, pt{n.to.x + dx, n.to.y + dy}
	return n
}
