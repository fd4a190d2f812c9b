package guide

import (
	"fmt"
	"math"
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
	leastCheck = 5.0 // a finer repeat is not drawn: it would be all lines
)

// part is a closure in one size, or in several that come out the same.
type part struct {
	g     *catalog.Garment
	k     *plan.Closure
	s     *plan.Size
	index int      // of the first size
	sizes []string // their names
}

// shortRun is the run, as the plan takes it, up to which a closure that does
// not say what it is on is a flap, a cuff or a tab.
const shortRun = 8 * measure.Inch

// front says whether the closure joins the wearer's right and left.
func (p *part) front() bool {
	switch p.k.Closure.Where {
	case "front", "fly":
		return true
	case "":
		return p.s.Run > shortRun
	}
	return false
}

// upperRight says whether the wearer's right side lies on top.
func (p *part) upperRight() bool { return p.g.Over(p.k.Closure) == "right" }

// sizeWords names the sizes: "size M", "sizes S and M", "all sizes".
func (p *part) sizeWords() string {
	switch {
	case len(p.sizes) == 1 && p.sizes[0] == "":
		return ""
	case len(p.sizes) > 1 && len(p.sizes) == len(p.g.Sizes):
		return "all sizes"
	case len(p.sizes) == 1:
		return "size " + p.sizes[0]
	}
	return "sizes " + text.And(p.sizes...)
}

func (p *part) name() string {
	s := p.k.Closure.Name
	if w := p.sizeWords(); w != "" {
		s += ", " + w
	}
	if n := p.k.Closure.Pieces; n > 1 {
		s += fmt.Sprintf(", %d pieces", n)
	}
	return s
}

// small says whether it is a flap, a cuff or a tab: it is labelled more
// briefly, to share a page.
func (p *part) small() bool { return p.s.Run <= shortRun }

// length is a place as the guide labels it.
func (p *part) length(l measure.Length) string {
	if p.small() {
		return l.ShortPlace(p.g.Units)
	}
	return l.TextPlace(p.g.Units)
}

// what the closure's two sides carry, in a word or two.
func (p *part) upperWork() string {
	n := &p.k.Closure.Notion
	switch {
	case p.k.Hole.Needed && p.k.Hole.Kind == "loop":
		return "loop"
	case p.k.Hole.Needed:
		return "hole"
	case n.Kind == catalog.Snap:
		return "snap cap"
	}
	return words(n.Kind)
}

func (p *part) underWork() string {
	n := &p.k.Closure.Notion
	switch n.Kind {
	case catalog.Snap:
		return "snap stud"
	case catalog.Hook:
		return "eye or bar"
	case catalog.TackButton:
		return "tack button"
	}
	return words(n.Kind)
}

func words(kind string) string { return strings.ReplaceAll(kind, "-", " ") }

// panel is one of the two sides, drawn.
type panel struct {
	list
	box     rect
	keep    []span // stretches, from its own top, that a page edge should not cut
	upper   bool
	centreX float64
	topY    float64
}

type span struct{ from, to float64 }

// drawer draws one side. Across, u is millimetres from the centre line
// towards the edge; down, v is millimetres from the top of the run.
type drawer struct {
	*part
	panel
	units measure.Unit
	sign  float64 // 1: the edge is on the viewer's right
	run   float64
	in    float64 // innermost u drawn, negative
	out   float64 // outermost
	comb  []combLine
	side  []sideLabel
	below bool
}

type combLine struct {
	u    float64
	name string
}

type sideLabel struct {
	v    float64
	text string
	bold bool
}

func (d *drawer) at(u, v float64) pt { return pt{d.sign * u, v} }

func (d *drawer) seg(p *pen, u0, v0, u1, v1 float64) { d.line(p, d.at(u0, v0), d.at(u1, v1)) }

func (d *drawer) box4(p *pen, u0, v0, u1, v1 float64) {
	d.shape(p, d.at(u0, v0), d.at(u1, v0), d.at(u1, v1), d.at(u0, v1))
}

// textIn sets a text that begins at u and runs away from the edge; textOut
// one that runs outwards.
func (d *drawer) textIn(s string, u, v float64, st style) {
	d.text(s, d.sign*u, v, st.at(int(d.sign)))
}

func (d *drawer) textOut(s string, u, v float64, st style) {
	d.text(s, d.sign*u, v, st.at(-int(d.sign)))
}

// long is a line down the whole run, named at its ends.
func (d *drawer) long(p *pen, u float64, class, name string, data ...string) {
	d.named(class, append(data, "data-out-mm", num(u))...)
	d.seg(p, u, 0, u, d.run)
	d.comb = append(d.comb, combLine{u, name})
	d.reach(u, u)
}

func (d *drawer) reach(from, to float64) {
	d.in, d.out = min(d.in, from, to), max(d.out, from, to)
}

// edges are the lines that make the edge of the piece.
type edges struct {
	finished, cut   float64
	hasCut          bool
	finishedName    string
	folds           []combLine
	stitch          []combLine
	facing          float64
	hasFacing       bool
	fuseIn, fuseOut float64
	fused           bool
}

func (p *part) edges() edges {
	st, f := &p.k.Stand, &p.k.Closure.Stand
	e := edges{finished: (st.Column + st.Have).MM(), finishedName: "finished edge"}
	thick := 0.0
	if st.Folds > 0 {
		thick = st.FoldLoss.MM() / float64(st.Folds)
	}
	seam, band := st.Seam.MM(), st.Band.MM()
	switch st.Construction {
	case "folded":
		e.finishedName = "finished edge, fold"
		e.cut, e.hasCut = st.Extension.MM(), true
		if st.TurnUnder > 0 {
			e.folds = append(e.folds, combLine{e.finished + thick + band, "fold of the turn-under"})
		}
		e.stitch = append(e.stitch, combLine{e.finished - band, "band, inner edge"})
	case "band":
		e.finishedName = "finished edge, fold of the band"
		e.stitch = append(e.stitch, combLine{e.finished - band, "band seam"})
		e.cut, e.hasCut = e.finished-band+seam, true
	default:
		if p.k.Closure.Notion.Kind == catalog.Zip && !st.Known {
			e.finished = -p.teeth() // the teeth meet on the centre line
			e.cut, e.hasCut = e.finished+seam, true
			break
		}
		e.cut, e.hasCut = st.Extension.MM(), st.Extension > 0
	}
	if !st.Known && p.front() {
		e.finishedName += ", to be drafted"
	}
	if f.Facing.Has() {
		e.facing, e.hasFacing = -f.Facing.V.MM(), true
	}
	if s := &p.k.Support; s.Needed && s.Interfacing != nil && s.Strip > 0 {
		column := 0.0
		if len(p.s.Rows) > 0 {
			column = st.Column.MM()
		}
		e.fused = true
		e.fuseIn, e.fuseOut = column-s.Covers.MM(), column+(s.Strip-s.Covers).MM()
	}
	return e
}

// works says whether row i of a double-breasted front really buttons: where
// fewer rows work than there are, the lowest ones do.
func (p *part) works(i int) bool {
	return i >= p.s.Count-plan.Working(p.k.Closure, p.s.Count)
}

// draw draws one side of a closure.
// Below says whether the long lines are named at their lower ends too.
func (p *part) draw(f *faces, upper, below bool) *panel {
	d := &drawer{part: p, below: below, units: p.g.Units, run: p.s.Run.MM()}
	d.panel.faces, d.panel.upper = f, upper
	d.sign = 1
	if upper != p.upperRight() {
		d.sign = -1 // the wearer's left: the edge is on the viewer's left
	}
	e := p.edges()
	zip := p.k.Closure.Notion.Kind == catalog.Zip
	r := &p.k.Reach

	// How wide the drawn cloth is.
	d.reach(-leastSide, 0)
	d.reach(0, e.finished)
	if e.hasCut {
		d.reach(e.cut, e.cut)
	}
	if e.hasFacing {
		d.reach(e.facing, e.facing)
	}
	if e.fused {
		d.reach(e.fuseIn, e.fuseOut)
	}
	inner := r.In.MM()
	if !upper || p.loops() {
		inner = r.Rim.MM()
	}
	if p.loops() && upper {
		inner = max(inner, p.loopIn())
		d.reach(0, p.loopOut(e))
	}
	if p.k.Loop.Hooks {
		u := p.hookAt(e)
		if !upper {
			u = -u
		}
		inner = max(inner, p.k.Closure.Notion.Length.V.MM()-u)
		d.reach(u-p.k.Closure.Notion.Length.V.MM(), u)
	}
	if k := p.k.Closure.Notion.Kind; k == catalog.Toggle && !upper {
		n := &p.k.Closure.Notion
		inner = max(inner, (n.Length.V - n.ShortEnd.Or(n.Length.V/2)).MM())
	}
	for _, row := range p.s.Rows {
		inner = max(inner, row.MM()+max(r.Rim, r.In).MM())
		d.reach(-row.MM(), row.MM()+r.Rim.MM())
	}
	labels := 0.0
	for i := range p.s.Positions {
		for _, s := range d.centreLabel(i) {
			labels = max(labels, badge+f.width(s, normal.size, true))
		}
	}
	if zip {
		inner, labels = p.tape()-e.finished, leastSide
		d.reach(0, e.finished+p.teeth())
	}
	d.reach(-inner-labelGap-labels-2, r.Rim.MM())
	if e.hasCut {
		d.reach(e.cut, e.cut)
	}

	// Under everything: what must stay clear, and the check.
	d.zones()
	d.check(upper)

	d.long(penCentre, 0, "centre-line", "centre line")
	d.long(penFinished, e.finished, "finished-edge", e.finishedName)
	if e.hasCut {
		name := "cut edge"
		if p.k.Stand.Construction == "band" {
			name = "cut edge under the band"
		}
		d.long(penCut, e.cut, "cut-edge", name)
	}
	for _, l := range e.folds {
		d.long(penFold, l.u, "fold", l.name)
	}
	for _, l := range e.stitch {
		d.long(penSeam, l.u, "band", l.name)
	}
	if e.hasFacing {
		d.long(penFacing, e.facing, "facing", "facing, inner edge")
	}
	if e.fused {
		d.named("interfacing", "data-in-mm", num(-e.fuseIn), "data-out-mm", num(e.fuseOut))
		d.box4(penFusing, e.fuseIn, 0.6, e.fuseOut, d.run-0.6)
		d.comb = append(d.comb, combLine{e.fuseIn, "interfacing, inner edge"})
		if math.Abs(e.fuseOut-e.finished) > 1 && (!e.hasCut || math.Abs(e.fuseOut-e.cut) > 1) {
			d.comb = append(d.comb, combLine{e.fuseOut, "interfacing, outer edge"})
		}
	}
	d.ends()
	d.anchors()
	if zip {
		d.zip(e)
	}
	if !p.s.Solved && !zip {
		d.named("unsolved")
		d.textIn("No places: the run cannot be laid out.", -labelGap, d.run/2, strong)
		d.textIn("See what check says of it.", -labelGap, d.run/2+4.5, normal)
	}
	for i := range p.s.Positions {
		d.centre(i, upper, inner, e)
	}
	d.sides()
	d.combs()
	return d.finish()
}

func (p *part) loops() bool { return p.k.Hole.Needed && p.k.Hole.Kind == "loop" }

// loopLength is the length of a loop lying flat.
func (p *part) loopLength() float64 { return max(p.k.Loop.Depth.MM(), 1) }

// loopOut is how far a loop reaches towards the edge: round the neck of the
// fastener, which sits on the centre line, or over the edge where the two
// edges meet.
func (p *part) loopOut(e edges) float64 {
	if p.k.Closure.Lap == "edge" {
		return e.finished + p.loopLength()
	}
	return min(p.k.Reach.Rim.MM()/2, p.loopLength())
}

func (p *part) loopIn() float64 {
	if p.k.Closure.Lap == "edge" {
		return p.k.Reach.Rim.MM()
	}
	return p.loopLength() - min(p.k.Reach.Rim.MM()/2, p.loopLength())
}

// ends are the neck and the hem.
func (d *drawer) ends() {
	top, end := "top", "end"
	if d.part.front() {
		top, end = "neck edge", "hem"
	}
	d.named("neck", "data-run-mm", "0")
	d.seg(penEnd, d.in, 0, d.out, 0)
	d.named("hem", "data-run-mm", num(d.run))
	d.seg(penEnd, d.in, d.run, d.out, d.run)
	end += " " + d.part.length(d.s.Run)
	if d.small() {
		d.named("label")
		st := small
		st.bold = true
		d.textOut(top, d.in+0.8, 3.2, st)
		d.textOut(end, d.in+0.8, d.run-1.3, st)
	} else {
		d.side = append(d.side, sideLabel{0, top, true}, sideLabel{d.run, end, true})
	}
	if h := d.k.Closure.Run.Hem.At(d.index); h.Has() && h.V < d.s.Run {
		v := d.run - h.V.MM()
		d.named("hem-depth", "data-run-mm", num(v))
		d.seg(penHem, d.in, v, d.out, v)
		d.side = append(d.side, sideLabel{v, "hem is turned up to here", false})
	}
}

func (d *drawer) anchors() {
	for _, a := range d.k.Closure.Run.Anchors {
		at := a.At.At(d.index).V
		within := a.Within.At(d.index).Or(anchorWithin)
		v, w := at.MM(), within.MM()
		if v > d.run {
			continue
		}
		d.named("anchor", "data-name", a.Name, "data-run-mm", num(v), "data-within-mm", num(w))
		d.seg(penAnchor, d.in, v, d.out, v)
		u := d.out + 1
		d.line(penBracket, d.at(u-1, v-w), d.at(u, v-w), d.at(u, v+w), d.at(u-1, v+w))
		d.side = append(d.side, sideLabel{v, fmt.Sprintf("%s %s ± %s", a.Name, at.ShortPlace(d.units), within.ShortPlace(d.units)), false})
	}
}

// anchorWithin is how near a fastener must lie where the file does not say,
// as the plan takes it.
const anchorWithin = measure.Inch / 2

func (d *drawer) zones() {
	for _, z := range d.k.Closure.Run.Clears {
		from, to := z.From.At(d.index).V, min(z.To.At(d.index).V, d.s.Run)
		if from >= to {
			continue
		}
		a, b := from.MM(), to.MM()
		d.named("clear", "data-name", z.Name, "data-from-mm", num(a), "data-to-mm", num(b))
		p, q := d.at(d.in, a), d.at(d.out, b)
		d.hatch(penHatch, rect{min(p.x, q.x), a, max(p.x, q.x), b}, hatchEvery)
		d.seg(penClear, d.in, a, d.out, a)
		d.seg(penClear, d.in, b, d.out, b)
		d.side = append(d.side, sideLabel{(a + b) / 2, fmt.Sprintf("%s: keep clear %s to %s", z.Name, from.ShortPlace(d.units), to.ShortPlace(d.units)), false})
	}
}

// check draws the repeat lines of a checked cloth.
func (d *drawer) check(upper bool) {
	c := &d.k.Closure.Check
	cl := d.checked()
	if cl == nil {
		return
	}
	// Without a measured bar nobody knows where the repeat lies.
	side, along := c.Under, c.UnderAlng
	if upper {
		side, along = c.Over, c.OverAlong
	}
	d.named("repeat", "data-across-mm", num(cl.Repeat.Across.V.MM()), "data-along-mm", num(cl.Repeat.Along.V.MM()))
	if every := cl.Repeat.Across.V.MM(); side.Has() && every >= leastCheck {
		// Bars are measured towards the wearer's left, which is the viewer's right.
		first, last := d.at(d.in, 0).x, d.at(d.out, 0).x
		if first > last {
			first, last = last, first
		}
		phase := side.V.MM()
		for n := math.Ceil((first - phase) / every); phase+n*every <= last; n++ {
			x := phase + n*every
			d.line(penRepeat, pt{x, 0}, pt{x, d.run})
		}
	}
	if every := cl.Repeat.Along.V.MM(); along.Has() && every >= leastCheck {
		for v := math.Mod(along.V.MM(), every); v <= d.run; v += every {
			d.seg(penRepeat, d.in, v, d.out, v)
		}
	}
}

// checked is the checked cloth of the closure, or nil.
func (p *part) checked() *catalog.Cloth {
	c := p.k.Closure
	cl := p.g.ClothNamed(c.Check.Cloth)
	if cl == nil && len(c.Over) > 0 {
		cl = c.Over[0].Cloth
	}
	return cl
}

// centreLabel is what is written beside a centre.
func (d *drawer) centreLabel(i int) []string {
	out := []string{d.part.length(d.s.Positions[i])}
	if i < len(d.s.Rows) {
		out = append(out, d.s.Rows[i].ShortPlace(d.units)+" from the centre line")
		if !d.works(i) {
			out = append(out, "for show")
		}
	}
	return out
}

// centre draws the work at one place of the run.
func (d *drawer) centre(i int, upper bool, inner float64, e edges) {
	v := d.s.Positions[i].MM()
	r := &d.k.Reach
	d.keep = append(d.keep, span{v - max(r.Up, r.Rim).MM() - 1, v + max(r.Down, r.Rim).MM() + 1})
	switch {
	case d.k.Loop.Hooks:
		d.hook(i, v, e)
	case len(d.s.Rows) == 0:
		d.work(i, 0, v, upper, e)
	default:
		row := d.s.Rows[i].MM()
		switch {
		case upper && d.works(i):
			d.work(i, row, v, true, e)
			d.show(i, -row, v)
		case upper:
			d.show(i, row, v)
			d.show(i, -row, v)
		case d.works(i):
			d.work(i, -row, v, false, e)
		default:
			return // a row for show is on the upper front alone
		}
	}
	d.named("label", "data-n", num(float64(i+1)))
	lines := d.centreLabel(i)
	const pitch = 3.9
	y := v + 1.1 - pitch*float64(len(lines)-1)/2
	for j, s := range lines {
		st := normal
		st.bold = j == 0
		d.textIn(s, -inner-labelGap-badge, y+pitch*float64(j), st)
	}
	c := d.at(-inner-labelGap-badge/2+0.6, v)
	d.circle(penWhite, c, 2.4)
	d.circle(penStitched, c, 2.4)
	st := strong.at(0)
	st.bare = true
	d.text(strconv.Itoa(i+1), c.x, v+1.15, st)
}

// mark is the centre itself, found by its data.
func (d *drawer) mark(i int, u, v float64, what string) {
	side := "under"
	if d.upper {
		side = "upper"
	}
	d.named("centre "+what, "data-closure", d.k.Closure.Name, "data-size", strings.Join(d.sizes, " "), "data-side", side,
		"data-n", num(float64(i+1)), "data-centre-mm", num(v), "data-out-mm", num(u))
	d.cross(penCross, d.at(u, v), 3)
}

// show is a button for show, sewn on without a hole.
func (d *drawer) show(i int, u, v float64) {
	d.named("show")
	d.circle(penFastener, d.at(u, v), d.k.Reach.Rim.MM())
	d.mark(i, u, v, "for-show")
}

// work is the hole, or the fastener, at one place.
func (d *drawer) work(i int, u, v float64, upper bool, e edges) {
	switch {
	case upper && d.loops():
		d.loop(u, v, e)
		d.mark(i, u, v, "loop")
	case upper && d.k.Hole.Needed:
		d.named("fastener-in-hole")
		d.outline(penRim, u, v)
		d.hole(u, v)
		d.mark(i, u, v, "hole")
	default:
		d.named("fastener", "data-diameter-mm", num(2*d.k.Reach.Rim.MM()))
		d.outline(penFastener, u, v)
		d.punch(u, v)
		d.mark(i, u, v, "fastener")
	}
}

// hookAt is where the bend of a hook lies, and, when the centre lines meet,
// the bar or eye that it holds.
func (p *part) hookAt(e edges) float64 { return e.finished - p.k.Loop.HookEdge.MM() }

// hook is a hook on the upper side and its eye or bar on the under side.
func (d *drawer) hook(i int, v float64, e edges) {
	n := &d.k.Closure.Notion
	long, w, u := n.Length.V.MM(), n.Width.V.MM()/2, d.hookAt(e)
	if !d.upper {
		u, long = -u, long/2
	}
	d.named("fastener", "data-length-mm", num(long))
	d.box4(penFastener, u-long, v-w, u, v+w)
	d.mark(i, u, v, "fastener")
}

// outline is the fastener as it lies on the cloth.
func (d *drawer) outline(p *pen, u, v float64) {
	n := &d.k.Closure.Notion
	rim := d.k.Reach.Rim.MM()
	switch {
	case n.Kind == catalog.Toggle:
		d.stick(p, u, v, n.Length.V.MM(), n.ShortEnd.Or(n.Length.V/2).MM(), 2*rim)
	case n.Shape == "toggle":
		d.stick(p, u, v, n.Length.V.MM(), n.ShortEnd.Or(n.Length.V/2).MM(), n.Width.Or(n.Diameter.V).MM())
	case n.Shape == "square":
		h := n.Side.V.MM() / 2
		if h == 0 {
			h = n.Diameter.V.MM() / 2 / math.Sqrt2
		}
		d.box4(p, u-h, v-h, u+h, v+h)
	default:
		d.circle(p, d.at(u, v), n.Diameter.Or(d.k.Reach.Rim*2).MM()/2)
		if flange := max(n.Flange.V, n.Head.V).MM() / 2; flange > 0 && p == penFastener {
			d.named("flange", "data-diameter-mm", num(2*flange))
			d.circle(penRim, d.at(u, v), flange)
		}
	}
}

// stick is a toggle lying across, its shorter end towards the edge.
func (d *drawer) stick(p *pen, u, v, length, short, width float64) {
	if length <= width {
		d.circle(p, d.at(u, v), width/2)
		return
	}
	r := width / 2
	a, b := u+short-r, u-(length-short)+r
	pts := append(arc(pt{a, v}, r, -1, 1), arc(pt{b, v}, r, 1, 3)...)
	for i := range pts {
		pts[i].x *= d.sign
	}
	d.shape(p, pts...)
}

// punch is the hole to punch for set hardware.
func (d *drawer) punch(u, v float64) {
	hole := d.k.Hardware.Punch
	if hole == 0 {
		hole = d.k.Closure.PunchHole.Or(d.k.Closure.Notion.Hole.V)
	}
	if hole > 0 {
		d.named("punch", "data-diameter-mm", num(hole.MM()))
		d.circle(penHole, d.at(u, v), hole.MM()/2)
	}
}

// hole is a buttonhole with its bars. Along itself, a runs from the centre
// towards its outer or upper end.
func (d *drawer) hole(u, v float64) {
	h := &d.k.Hole
	place := func(a, b float64) pt { return d.at(u+a, v+b) }
	if h.Direction == "along" {
		place = func(a, b float64) pt { return d.at(u+b, v-a) }
	}
	out, in := h.Beyond.MM(), -h.Inside.MM()
	bar, w := (h.Stitched-h.Length).MM()/2, h.Width.MM()/2
	d.named("hole "+h.Kind+" "+h.Direction, "data-length-mm", num(h.Length.MM()), "data-beyond-mm", num(out), "data-inside-mm", num(-in))
	eye := 0.0 // radius of a keyhole's eye
	if h.Kind == "keyhole" {
		eye = min(0.55*w, (out-in)/4)
	}
	d.line(penHole, place(out-2*eye, 0), place(in, 0))
	if eye > 0 {
		d.circle(penHole, place(out-eye, 0), eye)
	}
	d.named("hole-edge")
	switch h.Kind {
	case "bound":
		d.shape(penStitched, place(out, -w), place(out, w), place(in, w), place(in, -w))
		return
	case "keyhole", "hand":
		// Round at the end where the shank sits, a bar at the other.
		r := min(w, out+bar-in)
		pts := []pt{place(in-bar, -w)}
		for _, q := range arc(pt{out + bar - r, 0}, r, -1, 1) {
			pts = append(pts, place(q.x, q.y*w/r))
		}
		d.line(penStitched, append(pts, place(in-bar, w))...)
	default:
		d.line(penStitched, place(in-bar, -w), place(out+bar, -w))
		d.line(penStitched, place(in-bar, w), place(out+bar, w))
		d.named("bar")
		d.line(penBar, place(out+bar/2, -w), place(out+bar/2, w))
	}
	d.named("bar")
	d.line(penBar, place(in-bar/2, -w), place(in-bar/2, w))
}

// loop is a loop lying flat.
func (d *drawer) loop(u, v float64, e edges) {
	out := d.loopOut(e)
	if d.k.Closure.Lap != "edge" {
		out += u
	}
	in := out - d.loopLength()
	r := max(d.k.Closure.Notion.Cord.V.MM(), min(3, d.loopLength()/4))
	d.named("loop-cord", "data-length-mm", num(d.loopLength()))
	pts := []pt{{in, v - r}}
	pts = append(pts, arc(pt{out - r, v}, r, -1, 1)...)
	pts = append(pts, pt{in, v + r})
	for i := range pts {
		pts[i].x *= d.sign
	}
	d.line(penFastener, pts...)
	d.named("bar")
	d.seg(penBar, in, v-r-1, in, v+r+1)
}

// tape is how far the tape of a zip reaches inside the finished edge, along
// which it is stitched; teeth how far outside it the middle of the teeth lies.
func (p *part) tape() float64 {
	z := &p.k.Zip
	if z.Tape == 0 {
		return 10 // a usual tape: common practice, no source
	}
	return max((z.Tape - z.Chain/2 - z.Stitched).MM(), 3)
}

func (p *part) teeth() float64 { return p.k.Zip.Stitched.MM() + p.chain()/2 }

func (p *part) chain() float64 {
	if c := p.k.Zip.Chain; c > 0 {
		return c.MM()
	}
	return p.k.Zip.Number + 1 // a chain is about its number of millimetres wide
}

func (d *drawer) zipWords() string {
	z := &d.k.Zip.Sizes[d.index]
	s := "opening for the zip " + z.Need.Text(d.units)
	if z.Length > 0 {
		s += ", zip " + z.Length.Text(d.units)
	}
	return s
}

// zip is one half of the opening: the tape under the edge and the teeth
// beside it, from the top stop to the end of the opening.
func (d *drawer) zip(e edges) {
	top := min(d.k.Closure.Run.First.At(d.index).V.MM(), d.run)
	end := min(top+d.k.Zip.Sizes[d.index].Need.MM(), d.run)
	half := d.chain() / 2
	middle := e.finished + d.teeth()
	d.named("zip", "data-from-mm", num(top), "data-to-mm", num(end))
	d.seg(penSeam, e.finished-d.tape(), top, e.finished-d.tape(), end)
	d.seg(penStitched, middle, top, middle, end)
	for v := top; v <= end; v += 4 {
		d.seg(penStitched, middle-half, v, middle, v)
	}
	d.comb = append(d.comb, combLine{e.finished - d.tape(), "zip tape, edge"})
	if math.Abs(middle) > 0.5 {
		d.comb = append(d.comb, combLine{middle, "zip teeth, middle"})
	}
	for _, v := range []float64{top, end} {
		d.named("zip-stop", "data-run-mm", num(v))
		d.seg(penBar, middle-half, v, middle, v)
	}
	d.named("label")
	// Upright, so that both halves fit the width of one page.
	st := strong.at(0)
	st.up = true
	x := d.sign*(e.finished-d.tape()) - 2
	if d.sign < 0 {
		x += 4 + 0.75*st.size
	}
	d.text(d.zipWords(), x, min(d.run/2, 100), st)
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
	var bs []block
	for _, l := range d.side {
		t := st
		t.bold = l.bold
		bs = append(bs, block{l.v, d.faces.wrap(l.text, t, width), l.bold})
	}
	// in order down the run; a stable order for what lies level
	for i := 1; i < len(bs); i++ {
		for j := i; j > 0 && bs[j].v < bs[j-1].v; j-- {
			bs[j], bs[j-1] = bs[j-1], bs[j]
		}
	}
	var want, high []float64
	for _, b := range bs {
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

// combs writes the names of the long lines above and below the run.
func (d *drawer) combs() {
	cs := append([]combLine(nil), d.comb...)
	for i := range cs {
		cs[i].u *= d.sign
	}
	for i := 1; i < len(cs); i++ {
		for j := i; j > 0 && cs[j].u < cs[j-1].u; j-- {
			cs[j], cs[j-1] = cs[j-1], cs[j]
		}
	}
	var want, wide []float64
	for _, c := range cs {
		want, wide = append(want, c.u), append(wide, 3.3)
	}
	st := small
	st.up = true
	d.named("line-name")
	for i, x := range spread(want, wide) {
		d.line(penThin, pt{cs[i].u, -0.5}, pt{cs[i].u, -1.5}, pt{x, -4})
		d.text(cs[i].name, x+0.9, -4.8, st.at(-1))
		if !d.below {
			continue
		}
		d.line(penThin, pt{cs[i].u, d.run + 0.5}, pt{cs[i].u, d.run + 1.5}, pt{x, d.run + 4})
		d.text(cs[i].name, x+0.9, d.run+4.8, st.at(1))
	}
}

// finish writes the title and moves the panel so that its top left is 0, 0.
func (d *drawer) finish() *panel {
	b := d.bounds()
	width := max(b.x1-b.x0, 60)
	var side, under string
	switch {
	case d.part.front():
		side = "wearer's left"
		if d.upper == d.upperRight() {
			side = "wearer's right"
		}
		side = " front, " + side
	case d.upper:
		side = " piece"
	default:
		side = " piece"
	}
	if d.upper {
		under = "Upper (" + d.upperWork() + ")"
	} else {
		under = "Under (" + d.underWork() + ")"
	}
	y := b.y0 - 3
	head := d.faces.wrap(under+side, title, width)
	sub := d.faces.wrap(d.name(), normal, width)
	d.named("panel-title")
	for i := len(sub) - 1; i >= 0; i-- {
		d.text(sub[i], b.x0, y, normal)
		y -= 4.2
	}
	y -= 0.6
	for i := len(head) - 1; i >= 0; i-- {
		d.text(head[i], b.x0, y, title)
		y -= 5.4
	}
	b = d.bounds()
	b = rect{b.x0 - pad, b.y0 - pad, b.x1 + pad, b.y1 + pad}
	out := &panel{list: list{faces: d.faces}, upper: d.upper, centreX: -b.x0, topY: -b.y0}
	out.put(&d.panel.list, -b.x0, -b.y0)
	out.box = rect{0, 0, b.x1 - b.x0, b.y1 - b.y0}
	for _, s := range d.keep {
		out.keep = append(out.keep, span{s.from - b.y0, s.to - b.y0})
	}
	return out
}
