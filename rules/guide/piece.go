package guide

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
	"placketeer/rules/work"
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
	titleWide  = 120.0
)

// panel is one piece, drawn.
type panel struct {
	list
	name  string
	box   rect
	keep  []rect // what a page's edge should not cut
	marks []rect // of these, what is marked on the cloth, and where the piece is laid on
	lines []lineName
	edges []edge
	hems  []ending
	topY  float64
}

// edge is a finished edge, and the piece that it belongs to.
type edge struct{ line, piece rect }

// ending is where a piece ends, and what is said of it.
type ending struct {
	at   pt
	text string
	wide float64 // of the strip that it ends, 0 for a piece
}

// lineName is the name of a line that runs down the piece, or the names of
// lines that do so in one place.
type lineName struct {
	from, to pt
	names    []string
	lies     string // how far from the line where the two sides meet
	piece    int    // of its sheet
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
	strip  bool // both sides are drawn where they come to lie
	// beneath says whether the piece lies beneath another that is drawn.
	beneath bool
	unitOf  map[*plan.Part]int // what is drawn of a part
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

// hold notes what is marked on the cloth, which a page's edge should not cut.
func (d *drawer) hold(q quad) {
	d.mark(boxOf([]pt{d.at(q.a, q.v), d.at(q.b, q.w)}, 1))
}

func (d *drawer) mark(r rect) {
	d.keep, d.marks = append(d.keep, r), append(d.marks, r)
}

// drawn is what is covered by what was drawn from that item on, with so much
// white round it.
func (d *drawer) drawn(first int, by float64) rect {
	b := nowhere
	for i := first; i < len(d.items); i++ {
		b = b.join(d.items[i].box)
	}
	return rect{b.x0 - by, b.y0 - by, b.x1 + by, b.y1 + by}
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
		opening: o, pc: pc, units: o.p.Garment.Units, sign: o.sign(pc), end: o.run(), below: below, unitOf: map[*plan.Part]int{},
		places: []string{"data-opening", o.closure().OpeningName(), "data-sizes", strings.Join(o.sizes, " "), "data-side", pc.Side.String()},
	}
	d.panel.faces, d.panel.name = f, o.called(pc)

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

	d.hold(quad{-2, 2, -2, 2}) // where it is laid on
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
	d.writeNotes()
	d.sides()
	d.combs()
	return d.finish()
}

// linePens are the pens of the lines of a piece.
var linePens = [...]*pen{
	plan.CentreLine: penCentre, plan.MeetingLine: penCentre, plan.ColumnLine: penColumn, plan.EdgeLine: penFinished,
	plan.FoldLine: penFold, plan.CutLine: penCut, plan.SeamLine: penSeam, plan.StitchLine: penStitching, plan.TackLine: penBar, plan.FacingLine: penFacing,
	plan.TopLine: penEnd, plan.HemLine: penEnd, plan.TurnUpLine: penHem, plan.StripeLine: penRepeat,
}

// lineBegins begins a line, and gives its pen: where a band is sewn on, the
// front's cut edge lies beneath it, and nobody shall cut the band there.
func (d *drawer) lineBegins(l *plan.Line) *pen {
	class, p := "line-"+l.Kind.String(), linePens[l.Kind]
	if l.Kind == plan.CutLine && d.bandSewnOn() {
		class, p = class+" behind", penBeneath
	}
	d.place(class, "data-out-from-mm", mm(l.From.Out), "data-at-from-mm", mm(l.From.At), "data-out-to-mm", mm(l.To.Out), "data-at-to-mm", mm(l.To.At))
	return p
}

func (d *drawer) pieceLine(l *plan.Line) {
	d.line(d.lineBegins(l), d.point(l.From), d.point(l.To))
	v := l.From.At.MM()
	switch l.Kind {
	case plan.StripeLine, plan.TackLine:
	case plan.TopLine, plan.HemLine:
		d.ends(l)
	case plan.TurnUpLine:
		d.inside(v, true, false, "turned up to here")
	default:
		if l.Kind == plan.EdgeLine {
			d.edges = append(d.edges, edge{line: boxOf([]pt{d.point(l.From), d.point(l.To)}, 1)})
		}
		d.nameLine(l.From, l.To, d.lineWords(l))
	}
}

// nameLine notes the name of what runs down the piece, once for what lies in one
// place.
func (d *drawer) nameLine(from, to plan.Point, name string) {
	n := lineName{from: d.point(from), to: d.point(to), names: []string{name}}
	if from.Out != 0 && from.Out == to.Out {
		way := " beyond the "
		if from.Out < 0 {
			way = " inside the "
		}
		n.lies = from.Out.Abs().Text(d.units) + way + d.meetingLine()
	}
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
	case plan.CentreLine, plan.MeetingLine:
		return d.meetingLine()
	case plan.ColumnLine:
		return "column"
	case plan.EdgeLine:
		says := "finished edge"
		if work.Folds(d.p, d.members[0], d.pc) {
			says += ", folded"
		}
		if d.pc.Side != plan.Flap && d.toDraft() {
			says += ", to be drafted"
		}
		return says
	case plan.FoldLine:
		return "fold of the turn-under"
	case plan.CutLine:
		if d.bandSewnOn() {
			return "front's cut edge, beneath the band"
		}
		return "cut edge"
	case plan.SeamLine:
		switch {
		case d.pc.Side == plan.Flap:
			return "sewn on here"
		case d.bandSewnOn():
			return "seam of the band"
		}
	case plan.StitchLine:
		for _, i := range d.members {
			if top := d.p.Closures[i].Closure.Stand.TopstitchInset; top.Has() && l.From.Out == d.pc.Finished-top.V {
				return "top-stitching"
			}
			if fly := d.p.Closures[i].Sewing.FlyStitched; fly > 0 && l.From.Out == d.pc.Finished-fly {
				return "stitching of the fly"
			}
		}
	}
	return l.Kind.String()
}

// meetingLine is what the line where the two sides meet is called.
func (o *opening) meetingLine() string {
	return strings.TrimPrefix(work.MeetingLine(o.p, o.members[0]), "the ")
}

// bandSewnOn says whether the front's cut edge lies beneath a band of its own.
func (d *drawer) bandSewnOn() bool {
	if d.banded() {
		return true
	}
	return d.pc.Side != plan.Flap && d.fronts() && slices.ContainsFunc(d.members, func(i int) bool {
		c := &d.p.Garment.Closures[i]
		return c.Stand.Construction == "band" && plan.LapOf(c) == "double" && slices.ContainsFunc(d.pc.Lines, func(l plan.Line) bool { return l.Kind == plan.SeamLine })
	})
}

// banded says whether the piece is drawn with a band of its own sewn on, which
// carries what is marked.
func (d *drawer) banded() bool {
	if d.pc.Side == plan.Flap {
		return false
	}
	for _, i := range d.members {
		c := &d.p.Garment.Closures[i]
		if c.Stand.Construction == "band" && plan.LapOf(c) != "double" && plan.LapOf(c) != "edge" && !c.Flap.Has() && slices.ContainsFunc(d.pc.Lines, func(l plan.Line) bool { return l.Kind == plan.SeamLine }) {
			return true
		}
	}
	return false
}

// toDraft says whether the edge is of our drafting: no closure of the
// opening says where it lies. Where a zip alone closes it, the edge is folded
// beside the teeth.
func (o *opening) toDraft() bool {
	zip, lap := false, false
	for _, i := range o.members {
		k := &o.p.Closures[i]
		if k.Stand.Known {
			return false
		}
		switch {
		case k.Closure.Notion.Kind == catalog.Zip:
			zip = true
		case !k.Closure.Flap.Has():
			lap = true
		}
	}
	return o.fronts() && (lap || !zip)
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
		switch {
		case a.Kind == plan.FacingArea && d.banded():
			d.nameArea(a, "seam of the band")
		case a.Kind == plan.FacingArea && d.pc.Side != plan.Flap && slices.ContainsFunc(d.members, func(i int) bool {
			c := &d.p.Garment.Closures[i]
			return c.Stand.Construction == "folded" && !c.Flap.Has()
		}):
			d.nameArea(a, "inner edge of the band")
		case a.Kind == plan.FacingArea:
			d.nameArea(a, "facing")
		}
	case plan.InterfacingArea:
		d.box4(penFusing, q)
		d.nameArea(a, d.interfacingName(a))
	case plan.PatchArea:
		d.whole()
		d.box4(penPatch, q)
		d.hold(q)
		d.named("label")
		d.textOut("patch", q.a+1, q.v+3, small)
		d.loose()
	case plan.FrogArea:
		d.box4(penPatch, q)
	case plan.ClearArea:
		c0, c1 := d.at(q.a, q.v), d.at(q.b, q.w)
		d.hatch(penHatch, rect{min(c0.x, c1.x), c0.y, max(c0.x, c1.x), c1.y}, hatchEvery)
		d.seg(penClear, q.a, q.v, q.b, q.v)
		d.seg(penClear, q.a, q.w, q.b, q.w)
		d.notes = append(d.notes, note{(q.v+q.w)/2 + 0.9, a.Name + ": keep clear " + stretch("", a.From.ShortPlace(d.units), a.To.ShortPlace(d.units)), small})
	}
}

// nameArea notes the name of an area at both its edges, but for an outer
// edge that lies on a line.
// interfacingName is what an interfacing is called on its edge: by its name
// where the piece has several.
func (d *drawer) interfacingName(a *plan.Area) string {
	for i := range d.pc.Areas {
		if b := &d.pc.Areas[i]; b.Kind == plan.InterfacingArea && b.Name != a.Name && a.Name != "" {
			return text.Safe(a.Name)
		}
	}
	return "interfacing"
}

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
			at, within := a.At.At(d.index).V, a.Within.At(d.index).Or(plan.AnchorWithin(d.p.Garment.Units))
			v, w := at.MM(), within.MM()
			if v > d.end {
				continue
			}
			d.named("anchor", "data-name", a.Name, "data-run-mm", num(v), "data-within-mm", num(w))
			d.seg(penAnchor, d.in, v, d.out, v)
			u := d.out + 1
			d.line(penAnchor, d.at(u-1, v-w), d.at(u, v-w), d.at(u, v+w), d.at(u-1, v+w))
			d.labels = append(d.labels, sideLabel{v, anchorWords(a.Name, at, within, d.units), false})
		}
	}
}

// anchorWords are a place that wants a fastener near it.
func anchorWords(name string, at, within measure.Length, u measure.Unit) string {
	if within == 0 {
		return name + " " + at.ShortPlace(u)
	}
	return fmt.Sprintf("%s %s ± %s", name, at.ShortPlace(u), within.ShortPlace(u))
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
			word = work.EyeWord(&d.p.Closures[q.Closure])
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
	if !d.fronts() && d.pc.Side != plan.Flap {
		name = d.closure().LiesOn()
	}
	if d.fronts() && d.pc.Side != plan.Flap {
		name = "wearer's " + name
	}
	if d.banded() {
		name = "band, sewn to the " + name
	}
	meets := d.pc.Side != plan.Flap && work.Meets(d.p, d.members[0])
	switch {
	case meets && (d.fronts() || d.pc.Side == plan.Over): // neither lies on the other
	case meets:
		name += ", other side"
	case d.pc.Side == plan.Over:
		name += ", on top"
	case d.pc.Side == plan.Under:
		name += ", underneath"
	default:
		name += ", sewn on over the opening"
	}
	name = strings.ToUpper(name[:1]) + name[1:]
	if c := d.carries(); c != "" {
		name += ": " + c
	}
	y := b.y0 - 3
	head := d.faces.wrap(name, title, width)
	sub := d.faces.wrap(d.opening.name(), normal, width)
	long := 0.0
	for _, l := range head {
		long = max(long, d.faces.width(l, title.size, true))
	}
	for _, l := range sub {
		long = max(long, d.faces.width(l, normal.size, false))
	}
	// On the page where the piece is laid on.
	x := min(max(-20, b.x0+pad), max(b.x0, b.x1-long))
	words := boxOf([]pt{{}}, 2)
	d.named("panel-title")
	d.whole()
	for i := len(sub) - 1; i >= 0; i-- {
		words = words.join(d.text(sub[i], x, y, normal))
		y -= 4.2
	}
	y -= 0.6
	for i := len(head) - 1; i >= 0; i-- {
		words = words.join(d.text(head[i], x, y, title))
		y -= 5.4
	}
	d.loose()
	d.mark(rect{words.x0 - pad, words.y0, words.x1 + pad, words.y1})
	b = d.bounds()
	b = rect{b.x0 - pad, b.y0 - pad, b.x1 + pad, b.y1 + pad}
	out := &panel{list: list{faces: d.faces}, name: d.panel.name, topY: -b.y0}
	out.put(&d.panel.list, -b.x0, -b.y0)
	out.box = rect{0, 0, b.x1 - b.x0, b.y1 - b.y0}
	for _, k := range d.keep {
		out.keep = append(out.keep, k.moved(-b.x0, -b.y0))
	}
	for _, k := range d.marks {
		out.marks = append(out.marks, k.moved(-b.x0, -b.y0))
	}
	for _, e := range d.edges {
		out.edges = append(out.edges, edge{line: e.line.moved(-b.x0, -b.y0)})
	}
	for _, e := range d.hems {
		out.hems = append(out.hems, ending{pt{e.at.x - b.x0, e.at.y - b.y0}, e.text, e.wide})
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
