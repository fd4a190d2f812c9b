package plan

import (
	"cmp"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// Piece is one piece of cloth of an opening in one size, lying flat as it is
// sewn. Every place is told by two lengths: out, from the line where the two
// sides meet towards the piece's own edge (negative inside), and at, down
// from the top of the opening. When the garment is closed the meeting lines
// lie on each other: what lies at (out, at) on the over piece or a flap comes
// to lie on (−out, at) of the under piece.
type Piece struct {
	Piece string // right front, left front, flap, or what it is on
	Side  Side
	Lines []Line
	Areas []Area
	Parts []Part

	Finished measure.Length // out of its finished edge
	Cloth    measure.Length // out of its outermost cloth, cut edge included
	Edged    bool           // whether its edge is part of the plan: not of what lies under a pocket's flap, nor where no stand is left (Stand.Lost)
}

// Side is what a piece is to its opening.
type Side uint8

// The sides.
const (
	Over Side = iota
	Under
	Flap // of its own, sewn on over the opening
)

func (s Side) String() string { return [...]string{"over", "under", "flap"}[s] }

// Point is a place on a piece.
type Point struct{ Out, At measure.Length }

// Line is a line of a piece.
type Line struct {
	Kind     LineKind
	From, To Point
}

// LineKind is what a line is.
type LineKind uint8

// Kinds of line, in the order in which a piece has them.
const (
	CentreLine  LineKind = iota // centre line, or the line of the holes where there is no centre
	MeetingLine                 // of edges that meet, and of teeth
	ColumnLine                  // of a double-breasted front, and of a flap's fasteners
	EdgeLine                    // finished edge
	FoldLine                    // of a turn-under
	CutLine
	SeamLine
	StitchLine
	TackLine   // of a fly: a tack between two holes
	FacingLine // inner edge of the facing
	TopLine
	HemLine
	TurnUpLine
	StripeLine
)

func (k LineKind) String() string {
	return [...]string{"centre", "meeting", "column", "finished", "fold", "cut", "seam", "stitching", "tack", "facing", "top", "hem", "turn-up", "stripe"}[k]
}

// Area is a rectangle of a piece.
type Area struct {
	Kind           AreaKind
	Layer          Side   // of interfacing: whether the over or the under layers hold it
	Name           string // of interfacing and of a clear zone, as in the file
	OutFrom, OutTo measure.Length
	From, To       measure.Length
	Closure        int8 // of interfacing: whose strip it is
}

// AreaKind is what an area is.
type AreaKind uint8

// Kinds of area, in the order in which a piece has them.
const (
	InterfacingArea AreaKind = iota
	FacingArea
	PatchArea // that covers where a cord is sewn on
	FrogArea  // that the cords of a frog cover
	ClearArea
	TurnUpArea
)

func (k AreaKind) String() string {
	return [...]string{"interfacing", "facing", "patch", "frog", "clear", "turn-up"}[k]
}

// Part is a fastener, a hole or a loop as it lies, with all that it covers.
type Part struct {
	Role           Role
	Kind           PartKind
	Eye            Eye   // of a hole with an eye
	Layer          int8  // how many layers of the opening lie over it
	Number         int32 // of its row or place from the top, from 1
	Closure        int32 // index of its closure
	Centre         Point
	OutFrom, OutTo measure.Length
	From, To       measure.Length
	Cut, Stitched  measure.Length // of a hole; Cut is 0 where it is sewn for show
}

// Role is what a part is for.
type Role uint8

// The roles.
const (
	Works Role = iota
	Show       // fastens nothing
	Inner      // holds the under front of a double-breasted one
)

func (r Role) String() string { return [...]string{"works", "show", "inner"}[r] }

// PartKind is what a part is.
type PartKind uint8

// Kinds of part.
const (
	ButtonPart PartKind = iota
	TackPart
	SnapCap
	SnapStud
	RivetPart
	EyeletPart
	TogglePart
	FrogPart
	HookPart
	EyePart // of a hook: eye or bar
	HolePart
	LoopPart
	CordPart // of a toggle or frog sewn on apart from it
	TeethPart
	TapePart
	BackingPart
)

func (k PartKind) String() string {
	return [...]string{
		"button", "tack-button", "snap-cap", "snap-stud", "rivet", "eyelet", "toggle", "frog", "hook", "eye",
		"hole", "loop", "cord", "teeth", "tape", "backing",
	}[k]
}

// Eye is where the eye of a hole looks.
type Eye uint8

// Where it may look.
const (
	NoEye  Eye = iota
	EyeOut     // towards the edge
	EyeUp
)

func (e Eye) String() string { return [...]string{"", "out", "up"}[e] }

const (
	patchAcross = in * 3 / 2 // finished, leather: a sewer's page, 2010 (cut 1 3/4 × 3 in and folded)
	patchAlong  = in * 7 / 4
	tackHalf    = in / 8 // ours: half a tack of a fly, as it is drawn
	loopRoom    = 3 * mm // half the width of a loop of unknown cord: the thinnest, from memory
	leastStripe = 5 * mm // a finer repeat is not laid out: it would be all lines
)

// PatchWide and PatchLong are what is cut for one patch, which is folded over the
// ends of the cord: the same page.
const PatchWide, PatchLong = patchAlong, 2 * patchAcross

// Patched says how many patches cover the ends of cords in a size.
func (k *Closure) Patched(size int) int {
	if !k.Apart() || k.Closure.Notion.Kind != catalog.Toggle {
		return 0
	}
	return 2 * len(k.Sizes[size].Positions) * k.Closure.Pieces
}

// PatchHalf is half the width, across, of a patch over a cord's ends.
const PatchHalf = patchAcross / 2

// UnderCord is how large the piece of interfacing is that carries a cord's
// ends where no strip reaches: as their patch and SupportLeast all round.
const (
	UnderCordAcross = patchAcross + 2*SupportLeast
	UnderCordAlong  = patchAlong + 2*SupportLeast
)

// The patch over the cord of a toggle: its edge from the centre line, from
// memory.
const PatchNear, PatchFar = 50 * mm, 80 * mm

// TapeBeyond is how much of a zip's tape should lie beyond its stitching: ours.
const TapeBeyond = eighth

// Thresholds of zips and patches on a piece.
var (
	ZipStitchLimit  = Inches("stitching", ZipStitch, Published)
	ZipFoldLimit    = Inches("fold", zipFold, Ours)
	ZipTopLimit     = Inches("top", ZipTop, Published)
	TapeBeyondLimit = Inches("tape", TapeBeyond, Ours)
	PatchLimit      = Inches("patch", patchAcross, Published)
	PatchNearLimit  = Metric("near", PatchNear, Memory)
	PatchFarLimit   = Metric("far", PatchFar, Memory)
)

// Bare says whether what lies under a closure there has no edge that meets:
// a pocket under its flap, the body under a tab.
func Bare(where string) bool {
	switch where {
	case "flap", "pocket", "tab", "strap", "cuff":
		return true
	}
	return false
}

// LayPieces lays the pieces of every opening, once all its closures are
// worked out. They stand in its first closure; the others name it.
func (p *Plan) LayPieces() {
	for i := range p.Closures {
		p.layPieces(i)
	}
}

// layPieces lays those that stand in closure i. A bare plan waits until they
// are asked for.
func (p *Plan) layPieces(i int) {
	p.Closures[i].PieceOf, p.Closures[i].Pieces = "", nil
	if first := p.firstOf(i); first != i {
		p.Closures[i].PieceOf = p.Garment.Closures[first].Name
	} else if !p.bare {
		p.layOpening(i)
	}
}

// PiecesOf are the pieces of the opening that closure i closes, in that size.
func (p *Plan) PiecesOf(i, size int) []Piece {
	first := p.firstOf(i)
	k := &p.Closures[first]
	if k.Pieces == nil && p.bare {
		p.layOpening(first)
	}
	if size >= len(k.Pieces) {
		return nil
	}
	return k.Pieces[size]
}

// firstOf is the first closure of the opening that closure i closes.
func (p *Plan) firstOf(i int) int {
	name := p.Garment.Closures[i].OpeningName()
	for j := range i {
		if p.Garment.Closures[j].OpeningName() == name {
			return j
		}
	}
	return i
}

// Held is where the under piece holds a fastener: how far inside the meeting
// line its stitches, its post or the patch over its cord lie, nearest of all
// rows, and half the width that they take.
func (k *Closure) Held() (inside, half measure.Length) {
	c, n := k.Closure, &k.Closure.Notion
	half = max(n.PostWidth.V, n.HoleGap.V) / 2
	switch {
	case k.Apart():
		return c.Inset.V, PatchHalf
	case LapOf(c) == "double" && !c.Flap.Has():
		inside = k.Stand.Column
		for i := range k.Sizes {
			for _, r := range k.Sizes[i].Rows {
				inside = min(inside, r)
			}
		}
		return inside, half
	}
	return k.meets(), half
}

// Facing is how far inside the meeting line the facing of the opening of
// closure i reaches, and the closure that says so, -1 if none does.
func (p *Plan) Facing(i int) (reach measure.Length, by int) {
	by = -1
	for j := range p.Closures {
		if f := p.Garment.Closures[j].Stand.Facing; f.Has() && p.same(i, j) && f.V > reach {
			reach, by = f.V, j
		}
	}
	return reach, by
}

// Lap is the closure that says how the sides of the opening of closure i meet
// and where their edges lie: the first that is neither a zip nor on a flap of
// its own, -1 if there is none.
func (p *Plan) Lap(i int) int {
	for j := range p.Closures {
		if c := &p.Garment.Closures[j]; c.Notion.Kind != catalog.Zip && !c.Flap.Has() && p.same(i, j) {
			return j
		}
	}
	return -1
}

// Zip is the first zip of the opening of closure i, nil if there is none.
func (p *Plan) Zip(i int) *Closure {
	for j := range p.Closures {
		if p.Closures[j].Zip.Needed && p.same(i, j) {
			return &p.Closures[j]
		}
	}
	return nil
}

// Cover is how far past the middle of its teeth a zip is covered by the cloth
// before it: a flap, else its own fly or the lap of another closure of the
// opening. by is the closure that it follows from, -1 if nothing covers it or
// the file does not say how far.
func (p *Plan) Cover(zip int) (reach measure.Length, by int) {
	by = -1
	for j := range p.Closures {
		k := &p.Closures[j]
		c := k.Closure
		if !p.same(zip, j) {
			continue
		}
		var r measure.Length
		switch {
		case c.Flap.Has():
			return c.Flap.Width.V, j
		case k.Zip.Needed && k.Stand.Construction != "fly", !k.Stand.Known, k.Stand.Lost, LapOf(c) == "edge":
			continue
		default:
			r = k.Stand.Column + k.Stand.Have
		}
		if by == -1 || r > reach {
			reach, by = r, j
		}
	}
	return reach, by
}

// same says whether two closures close one opening.
func (p *Plan) same(i, j int) bool {
	return i == j || p.Garment.Closures[i].OpeningName() == p.Garment.Closures[j].OpeningName()
}

// Outward is how far outside its line the interfacing must begin, so that no
// hole, stitch or post lies on bare cloth.
func (k *Closure) Outward() measure.Length {
	h := &k.Hole
	switch {
	case !h.Needed || h.Kind == "loop":
		_, half := k.Held()
		if k.Apart() {
			half = 0
		}
		return half
	case h.Direction == "along":
		return h.Width / 2
	}
	return h.Beyond + (h.Stitched-h.Length)/2
}

// SewnOn is how far inside the meeting line a flap of its own is sewn on.
func (p *Plan) SewnOn(i int) measure.Length {
	if z := p.Zip(i); z != nil {
		return z.Zip.stitching()
	}
	return ZipStitch
}

// opening is the closures that close one opening, by what they do there.
type opening struct {
	p       *Plan
	members []int
	zip     *Closure // the first zip
	flap    *Closure // the first with a flap of its own
	lap     *Closure // the first other one: it says how the sides meet
	facing  measure.Length
	faced   bool
	bare    bool // the under piece has no edge of its own
	right   bool // the wearer's right lies on top
}

func (p *Plan) layOpening(first int) {
	var room [4]int
	o := opening{p: p, members: room[:0]}
	g := p.Garment
	name := g.Closures[first].OpeningName()
	for i := first; i < len(g.Closures); i++ {
		c, k := &g.Closures[i], &p.Closures[i]
		if c.OpeningName() != name {
			continue
		}
		o.members = append(o.members, i)
		switch {
		case c.Notion.Kind == catalog.Zip:
			if o.zip == nil {
				o.zip = k
			}
		case c.Flap.Has():
			if o.flap == nil {
				o.flap = k
			}
		case o.lap == nil:
			o.lap = k
		}
		if c.Notion.Kind == catalog.Zip && c.Flap.Has() && o.flap == nil {
			o.flap = k
		}
		if c.Stand.Facing.Has() {
			o.facing, o.faced = max(o.facing, c.Stand.Facing.V), true
		}
	}
	c := p.Closures[first].Closure
	o.bare, o.right = Bare(c.Where), g.Over(c) == "right"
	sides := []Side{Over, Under}
	if o.flap != nil {
		sides = append(sides, Flap)
	}
	all := make([][]Piece, len(g.Sizes))
	for size := range g.Sizes {
		if !c.Run.Length.Has() {
			continue
		}
		all[size] = make([]Piece, len(sides))
		for i, side := range sides {
			o.lay(&all[size][i], side, size)
		}
	}
	p.Closures[first].Pieces = all
}

// name is what the piece is called.
func (o *opening) name(side Side) string {
	c := o.p.Closures[o.members[0]].Closure
	switch {
	case side == Flap:
		return "flap"
	case c.Where != "" && c.Where != "front" && c.Where != "fly":
		return c.Where
	case (side == Over) == o.right:
		return "right front"
	}
	return "left front"
}

// run is how long the opening is.
func (o *opening) run(size int) measure.Length {
	return o.p.Closures[o.members[0]].Closure.Run.Length.At(size).V
}

// edge is where the edge of a piece lies.
type edge struct {
	finished, cut measure.Length
	from          *Closure // whose stand it is
	none          bool     // the piece has no edge of its own
}

func (o *opening) edge(side Side) edge {
	switch {
	case side == Flap:
		w := o.flap.Closure.Flap.Width.V
		return edge{finished: w, cut: w + o.flap.Stand.Seam, from: o.flap}
	case side == Under && o.bare:
		return edge{none: true}
	case side == Under && o.zip != nil && o.zip.folds():
		f := -o.zip.Zip.Fold
		return edge{finished: f, cut: f + o.zip.Stand.Seam, from: o.zip}
	case o.lap != nil:
		st := &o.lap.Stand
		switch {
		case LapOf(o.lap.Closure) == "edge":
			return edge{cut: st.Seam, from: o.lap}
		case st.Lost: // as far as its holes, so that these are drawn
			return edge{finished: st.Column, cut: st.Column, from: o.lap, none: true}
		}
		e := edge{finished: st.Column + st.Have, cut: st.Extension, from: o.lap}
		if st.Construction == "band" {
			e.cut = e.finished - st.Band + st.Seam
		}
		return e
	case o.zip != nil:
		st := &o.zip.Stand
		if !st.Known && st.Construction != "fly" {
			return edge{finished: -o.zip.Zip.Fold, cut: st.Seam - o.zip.Zip.Fold, from: o.zip}
		}
		return edge{finished: st.Have, cut: st.Extension, from: o.zip}
	}
	return edge{cut: o.flap.Stand.Seam, from: o.flap} // the edges meet under the flap
}

// lost says whether the file leaves the edge no place: see Stand.Lost.
func (o *opening) lost() bool { return o.lap != nil && o.lap.Stand.Lost }

// folds says whether the under front of a zip is folded back beside its
// teeth: unless the file draws its edge, and always under a fly.
func (k *Closure) folds() bool {
	return k.Stand.Construction == "fly" || !k.Stand.Known || k.Stand.Have > 0
}

func (o *opening) lay(pc *Piece, side Side, size int) {
	pc.Piece, pc.Side = o.name(side), side
	e := o.edge(side)
	pc.Finished, pc.Cloth, pc.Edged = e.finished, max(e.finished, e.cut), !e.none
	run := o.run(size)

	for _, i := range o.members {
		pc.parts(o, i, size)
	}

	for _, i := range o.members {
		pc.interfacing(o, i, size, run)
	}
	pc.carry(o)
	pc.facing(o, e, run)
	for _, i := range o.members {
		pc.patches(o, i, size)
		pc.frogs(o, i, size)
	}

	pc.edgeLines(o, e, size, run)

	inner := pc.inner()
	pc.across(TopLine, inner, 0)
	pc.across(HemLine, inner, run)
	for _, i := range o.members {
		for _, z := range o.p.Closures[i].Closure.Run.Clears {
			if from, to := z.From.At(size).V, min(z.To.At(size).V, run); from <= to {
				pc.Areas = append(pc.Areas, Area{ClearArea, Over, z.Name, inner, pc.Finished, from, to, 0})
			}
		}
	}
	// A flap is sewn shut at its ends: the hem is that of the fronts.
	if hem := o.hem(size); hem != 0 && hem < run && side != Flap {
		pc.across(TurnUpLine, inner, run-hem)
		pc.Areas = append(pc.Areas, Area{TurnUpArea, Over, "", inner, pc.Finished, run - hem, run, 0})
	}
	pc.stripes(o, inner, run)
}

// hem is how much is turned up at the end of the opening.
func (o *opening) hem(size int) measure.Length {
	h, _ := o.p.Hem(o.members[0], size)
	return h.V
}

// Hems says whether any closure of the opening of closure i has a hem.
func (p *Plan) Hems(i int) bool {
	for j := range p.Closures {
		if p.Garment.HasHem(&p.Garment.Closures[j].Run) && p.same(i, j) {
			return true
		}
	}
	return false
}

// Hem is how much is turned up at the end of the opening of closure i, and the
// closure that says so: an opening has one hem, the most that any of its
// closures says. by is -1 where none does.
func (p *Plan) Hem(i, size int) (hem catalog.Measured, by int) {
	by = -1
	for j := range p.Closures {
		run := &p.Garment.Closures[j].Run
		if !p.Garment.HasHem(run) || !p.same(i, j) {
			continue
		}
		if h := run.Hem.At(size); h.V > hem.V {
			hem, by = h, j
		}
	}
	return hem, by
}

// inner is the farthest inside of all that lies on the piece.
func (pc *Piece) inner() measure.Length {
	inner := min(0, pc.Finished)
	for i := range pc.Lines {
		inner = min(inner, pc.Lines[i].From.Out, pc.Lines[i].To.Out)
	}
	for i := range pc.Areas {
		inner = min(inner, pc.Areas[i].OutFrom)
	}
	for i := range pc.Parts {
		inner = min(inner, pc.Parts[i].OutFrom)
	}
	return inner
}

// across adds a line from inside to the finished edge.
func (pc *Piece) across(kind LineKind, inner, at measure.Length) {
	pc.Lines = append(pc.Lines, Line{kind, Point{inner, at}, Point{pc.Finished, at}})
}

// down adds a line from the top to the end of the opening.
func (pc *Piece) down(kind LineKind, out, run measure.Length) {
	pc.Lines = append(pc.Lines, Line{kind, Point{out, 0}, Point{out, run}})
}

func (pc *Piece) edgeLines(o *opening, e edge, size int, run measure.Length) {
	if o.lap != nil && LapOf(o.lap.Closure) != "edge" {
		pc.down(CentreLine, 0, run)
	} else {
		pc.down(MeetingLine, 0, run)
	}
	pc.columns(o, 1)
	pc.columns(o, -1)
	if e.none {
		if o.zip != nil && o.lost() {
			pc.down(StitchLine, -o.zip.Zip.stitching(), run)
		}
		return
	}
	pc.down(EdgeLine, e.finished, run)
	st := &e.from.Stand
	banded := e.from == o.lap && LapOf(e.from.Closure) != "edge"
	if banded && st.Construction == "folded" && st.TurnUnder != 0 {
		pc.down(FoldLine, e.finished+st.Band+st.FoldCore+(st.FoldLoss-st.FoldCore)/measure.Length(st.Folds), run)
	}
	if pc.Side != Flap || e.from.Closure.Stand.Construction != "folded" {
		pc.down(CutLine, e.cut, run)
	}
	if pc.Side == Flap {
		sewnOn := o.sewnOn()
		pc.down(CutLine, sewnOn-st.Seam, run)
		pc.down(SeamLine, sewnOn, run)
	}
	switch {
	case banded && st.Construction == "folded":
		pc.down(StitchLine, e.finished-st.Band, run)
	case banded && st.Construction == "band":
		pc.down(SeamLine, e.finished-st.Band, run)
	case pc.Side == Over && e.from == o.lap && o.lap.Sewing.FlyStitched != 0:
		pc.down(StitchLine, e.finished-o.lap.Sewing.FlyStitched, run)
		pc.tacks(o.lap, size)
	}
	if o.zip != nil && pc.Side != Flap {
		pc.down(StitchLine, -o.zip.Zip.stitching(), run)
	}
	if top := e.from.Closure.Stand.TopstitchInset; top.Has() {
		pc.down(StitchLine, e.finished-top.V, run)
	}
	if o.faced && pc.Side != Flap {
		pc.down(FacingLine, -o.facing, run)
	}
}

// tacks adds those of a fly: midway between its holes, on their line.
func (pc *Piece) tacks(k *Closure, size int) {
	at := k.Sizes[size].Positions
	if k.Sewing.FlyTacks == 0 || LapOf(k.Closure) == "double" {
		return
	}
	for i := 1; i < len(at); i++ {
		mid := (at[i-1] + at[i]) / 2
		pc.Lines = append(pc.Lines, Line{TackLine, Point{-tackHalf, mid}, Point{tackHalf, mid}})
	}
}

// sewnOn is where a flap of its own is sewn on: where the zip is stitched, or
// as far inside the meeting line.
func (o *opening) sewnOn() measure.Length {
	if o.zip != nil {
		return -o.zip.Zip.stitching()
	}
	return -ZipStitch
}

// stitching is how far inside the meeting line a zip is stitched.
func (z *Zip) stitching() measure.Length { return z.Half + ZipStitch }

// columns adds the lines on which the fasteners of a double-breasted front,
// or of a flap, stand on that side of the meeting line, 1 outside it and -1
// inside: from the first to the last of them.
func (pc *Piece) columns(o *opening, side int) {
	for _, i := range o.members {
		c := o.p.Closures[i].Closure
		if c.Notion.Kind == catalog.Zip || LapOf(c) != "double" && !c.Flap.Has() {
			continue
		}
		l, n := Line{Kind: ColumnLine}, 0
		for j := range pc.Parts {
			if q := &pc.Parts[j]; int(q.Closure) == i && cmp.Compare(q.Centre.Out, 0) == side {
				if n == 0 {
					l.From = q.Centre
				}
				if l.To != q.Centre {
					n++
				}
				l.To = q.Centre
			}
		}
		if n > 1 {
			pc.Lines = append(pc.Lines, l)
		}
	}
}

func (pc *Piece) interfacing(o *opening, i, size int, run measure.Length) {
	k := &o.p.Closures[i]
	own := k.Closure.Flap.Has()
	if pc.Side != Under && own != (pc.Side == Flap) {
		return
	}
	for n := range k.Support.Strips {
		x := &k.Support.Strips[n]
		if pc.Side == Under && x.Under != 0 || pc.Side != Under && x.Over != 0 {
			pc.Areas = append(pc.Areas, pc.strip(o, i, size, run, x))
		}
	}
}

// carry leaves out the strips that lie whole within a strip of the same
// interfacing of another closure: the layers have it once, and that one carries
// both.
func (pc *Piece) carry(o *opening) {
	if len(o.members) == 1 {
		return
	}
	all := pc.Areas
	pc.Areas = make([]Area, 0, len(all))
	for i := range all {
		if !slices.ContainsFunc(all, func(by Area) bool { return o.carries(&by, &all[i]) }) {
			pc.Areas = append(pc.Areas, all[i])
		}
	}
}

// carries says whether one strip does for another that lies on it; of two alike
// the first does.
func (o *opening) carries(by, a *Area) bool {
	if by.Closure == a.Closure || by.Name != a.Name || by.Layer != a.Layer || o.times(by) < o.times(a) {
		return false
	}
	if by.OutFrom > a.OutFrom || by.OutTo < a.OutTo || by.From > a.From || by.To < a.To {
		return false
	}
	alike := by.OutFrom == a.OutFrom && by.OutTo == a.OutTo && by.From == a.From && by.To == a.To && o.times(by) == o.times(a)
	return !alike || by.Closure < a.Closure
}

// times is how often the layers have the interfacing of a strip.
func (o *opening) times(a *Area) int {
	for n := range o.p.Closures[a.Closure].Support.Strips {
		if x := &o.p.Closures[a.Closure].Support.Strips[n]; x.Name == a.Name {
			if a.Layer == Under {
				return x.Under
			}
			return x.Over
		}
	}
	return 0
}

// Carried is how often the nth strip of closure i need not be cut, since a strip
// of another closure of the opening carries it, and the closure that does, -1
// where none does.
func (p *Plan) Carried(i, n, size int) (times, by int) {
	x := &p.Closures[i].Support.Strips[n]
	if !p.shared(i, x) {
		return 0, -1
	}
	by = -1
	pieces := p.PiecesOf(i, size)
	for j := range pieces {
		pc := &pieces[j]
		for k := range pc.Areas {
			if a := &pc.Areas[k]; a.Kind == InterfacingArea && a.Name == x.Name && int(a.Closure) != i && !pc.hasStrip(i, x.Name) && pc.holds(p, i, x) {
				by = int(a.Closure)
				if a.Layer == Under {
					times += x.Under
				} else {
					times += x.Over
				}
				break
			}
		}
	}
	return times, by
}

// shared says whether another closure of the opening has strips of the same
// interfacing.
func (p *Plan) shared(i int, x *Strip) bool {
	name := p.Garment.Closures[i].OpeningName()
	for j := range p.Closures {
		if j != i && p.Garment.Closures[j].OpeningName() == name && slices.ContainsFunc(p.Closures[j].Support.Strips, func(y Strip) bool { return y.Name == x.Name }) {
			return true
		}
	}
	return false
}

// hasStrip says whether a strip of that closure lies on the piece.
func (pc *Piece) hasStrip(i int, name string) bool {
	return slices.ContainsFunc(pc.Areas, func(a Area) bool {
		return a.Kind == InterfacingArea && int(a.Closure) == i && a.Name == name
	})
}

// holds says whether the strip of a closure lies on such a piece, or is carried
// there.
func (pc *Piece) holds(p *Plan, i int, x *Strip) bool {
	if pc.Side == Under {
		return x.Under != 0
	}
	return x.Over != 0 && p.Garment.Closures[i].Flap.Has() == (pc.Side == Flap)
}

// strip is where one interfacing of a closure lies.
func (pc *Piece) strip(o *opening, i, size int, run measure.Length, x *Strip) Area {
	k := &o.p.Closures[i]
	c, s := k.Closure, &k.Support
	own := c.Flap.Has()
	a := Area{Kind: InterfacingArea, Layer: Over, Name: x.Name, To: run, Closure: int8(i)}
	if pc.Side == Under {
		a.Layer = Under
	}
	switch {
	case pc.Side == Under && !pc.Edged && !k.Apart():
		a.OutTo = x.Width / 2 // its middle under the fasteners
		if own {
			a.OutTo -= c.Flap.Width.V - k.Stand.Have
		}
	case pc.Side == Under && (o.zip != nil || own && pc.Finished == 0):
		a.OutTo = pc.Finished // laid against the edge, whose stitching holds it
	case pc.Side == Under && own: // the edge of another closure lies farther out
		a.OutTo = min(pc.Finished, k.Stand.Have-c.Flap.Width.V+x.Begins)
	case own:
		a.OutTo = c.Flap.Width.V - k.Stand.Have + x.Begins
	case LapOf(c) == "edge":
		a.OutTo = x.Begins - k.Stand.Have
	default:
		a.OutTo = k.Stand.Column + x.Begins
		if pc.Side == Under && k.InFly() && !s.Placed && x.Begins == k.Stand.Have-FlyShort {
			a.OutTo += FlyShort // of no fly: from its own edge
		}
	}
	a.OutFrom = a.OutTo - x.Width
	if k.Patch(size) {
		l := min(run, k.PatchLength())
		a.From = min(max(0, k.Sizes[size].Positions[0]-l/2), run-l)
		a.To = a.From + l
	}
	return a
}

// facing adds what lines the edge: a facing, or the band folded back.
func (pc *Piece) facing(o *opening, e edge, run measure.Length) {
	if e.none || pc.Side == Flap {
		return
	}
	st := &e.from.Stand
	if e.from == o.lap && LapOf(o.lap.Closure) != "double" && !o.lap.Apart() && (st.Construction == "folded" || st.Construction == "band") {
		pc.Areas = append(pc.Areas, Area{FacingArea, Over, "", e.finished - st.Band, e.finished, 0, run, 0})
	}
	if o.faced && -o.facing < e.finished {
		pc.Areas = append(pc.Areas, Area{FacingArea, Over, "", -o.facing, e.finished, 0, run, 0})
	}

}

// patches adds what covers the ends of cords that are sewn on apart.
func (pc *Piece) patches(o *opening, i, size int) {
	k := &o.p.Closures[i]
	if !k.Apart() || pc.Side == Flap {
		return
	}
	at := -k.Closure.Inset.V
	for _, y := range k.Sizes[size].Positions {
		pc.Areas = append(pc.Areas, Area{PatchArea, Over, "", at - PatchHalf, at + PatchHalf, y - patchAlong/2, y + patchAlong/2, 0})
	}
}

// frogs adds how far the cords of frogs reach from the meeting line across
// the front, either side of it.
func (pc *Piece) frogs(o *opening, i, size int) {
	k := &o.p.Closures[i]
	n := &k.Closure.Notion
	if n.Kind != catalog.Frog || !n.Length.Has() || LapOf(k.Closure) == "double" || k.Closure.Flap.Has() {
		return
	}
	half := max(k.Reach.Rim, k.cord())
	for _, y := range k.Sizes[size].Positions {
		pc.Areas = append(pc.Areas, Area{FrogArea, Over, "", -n.Length.V, min(0, pc.Finished), y - half, y + half, 0})
	}
}

// Apart says whether cord and loop are sewn on apart from the meeting line.
// On a double-breasted front the columns say where they are, on a flap its inset.
func (k *Closure) Apart() bool {
	return k.Closure.Inset.Has() && k.Loop.Needed && LapOf(k.Closure) != "double" && !k.Closure.Flap.Has()
}

// depth is how many closures of the opening lie over closure i.
func (o *opening) depth(i int) int {
	n := 0
	for behind := o.p.Garment.Closures[i].Behind; behind != ""; n++ {
		next := ""
		for _, j := range o.members {
			if c := &o.p.Garment.Closures[j]; c.Name == behind {
				next = c.Behind
				break
			}
		}
		behind = next
	}
	return n
}

// placer puts the parts of one closure on one piece.
type placer struct {
	*Piece
	k     *Closure
	index int32
	layer int8
}

func (pc *Piece) parts(o *opening, i, size int) {
	k := &o.p.Closures[i]
	c, s := k.Closure, &k.Sizes[size]
	if own := c.Flap.Has() && !k.Zip.Needed; own && pc.Side == Over || !own && pc.Side == Flap {
		return
	}
	d := placer{pc, k, int32(i), int8(o.depth(i))}
	if k.Zip.Needed {
		d.zip(size)
		return
	}
	over := pc.Side != Under
	first := s.Count - Working(c, s.Count) // rows above are for show
	for n, at := range s.Positions {
		number := int32(n + 1)
		switch {
		case LapOf(c) != "double":
			d.place(over, Works, number, k.meets(), at)
		default:
			r := s.Rows[n]
			works := n >= first
			if works {
				d.place(over, Works, number, r, at)
			} else if over {
				if k.ShowHoles() {
					d.hole(Show, number, Point{r, at})
				}
				d.fastener(Show, number, Point{r, at}, k.kind(over))
			}
			if over {
				d.fastener(Show, number, Point{-r, at}, k.kind(over))
			}
			if n == first && k.Inner() {
				d.layer++
				if over {
					d.fastener(Inner, number, Point{-r, at}, k.kind(over))
				} else {
					d.hole(Inner, number, Point{r, at})
				}
				d.layer--
			}
		}
	}
}

// meets is how far outside the meeting line of the over piece its fasteners
// come to lie: 0 where one side laps over the other. Where edges meet, a loop
// carries its button beyond the edge, and a hook stops short of it. The
// fasteners of a flap lie where it has them.
func (k *Closure) meets() measure.Length {
	if f := &k.Closure.Flap; f.Has() && !k.Zip.Needed {
		return f.Width.V - k.Stand.Have
	}
	if k.Loop.Hooks {
		if LapOf(k.Closure) == "edge" {
			return -k.Loop.HookEdge
		}
		return k.Stand.Have - k.Loop.HookEdge
	}
	if LapOf(k.Closure) == "edge" && k.Loop.Needed && !k.Apart() {
		return k.Stand.Have
	}
	return 0
}

// kind is what the closure carries on that side.
func (k *Closure) kind(over bool) PartKind {
	switch k.Closure.Notion.Kind {
	case catalog.TackButton:
		return TackPart
	case catalog.Rivet:
		return RivetPart
	case catalog.Eyelet:
		return EyeletPart
	case catalog.Toggle:
		return TogglePart
	case catalog.Frog:
		return FrogPart
	case catalog.Snap:
		if over {
			return SnapCap
		}
		return SnapStud
	case catalog.Hook:
		if over {
			return HookPart
		}
		return EyePart
	}
	return ButtonPart
}

// place puts what one place has on that side: out is told on the over piece.
func (d *placer) place(over bool, role Role, number int32, out, at measure.Length) {
	k := d.k
	c := Point{out, at}
	if !over {
		c.Out = -out
	}
	switch {
	case !over && OneSided(k.Closure):
	case over && k.Loop.Needed:
		d.loop(role, number, c)
	case over && k.Hole.Needed:
		d.hole(role, number, c)
	case k.Closure.Notion.Kind == catalog.Eyelet && LapOf(k.Closure) == "edge":
		// Laced: an eyelet on either side, inside its own edge.
		c.Out = -k.Closure.Edge.Or(k.Reach.Rim + RimClear)
		d.fastener(role, number, c, EyeletPart)
	default:
		d.fastener(role, number, c, k.kind(over))
		if !over {
			d.behind(role, number, c)
		}
	}
}

// behind adds what belongs to a fastener on the under piece: the cord that
// holds it, or its backing button.
func (d *placer) behind(role Role, number int32, c Point) {
	k := d.k
	if k.Apart() {
		r := k.cord()
		d.add(Part{Role: role, Kind: CordPart, Number: number, Centre: c, OutFrom: -k.Closure.Inset.V, OutTo: max(c.Out, -k.Closure.Inset.V), From: c.At - r, To: c.At + r})
	}
	if b := k.Closure.Backing; b.Has() && k.Sewing.Sewn {
		d.add(around(Part{Role: role, Kind: BackingPart, Number: number, Centre: c}, b.V/2))
	}
}

// cord is half the width of a loop or cord lying flat, two legs side by side.
func (k *Closure) cord() measure.Length {
	return cmp.Or(k.Loop.Cord, loopRoom)
}

func around(q Part, r measure.Length) Part {
	q.OutFrom, q.OutTo, q.From, q.To = q.Centre.Out-r, q.Centre.Out+r, q.Centre.At-r, q.Centre.At+r
	return q
}

func (d *placer) add(q Part) {
	q.Closure, q.Layer = d.index, d.layer
	d.Parts = append(d.Parts, q)
}

// fastener puts the fastener itself, as it lies.
func (d *placer) fastener(role Role, number int32, c Point, kind PartKind) {
	k := d.k
	q := Part{Role: role, Kind: kind, Number: number, Centre: c}
	if k.Loop.Hooks {
		// From its bend inside.
		long := LieOf(&k.Closure.Notion).In
		if kind == EyePart {
			long = EyeLong(&k.Closure.Notion)
		}
		w := AlongOf(&k.Closure.Notion) / 2
		q.OutFrom, q.OutTo, q.From, q.To = c.Out-long, c.Out, c.At-w, c.At+w
		d.add(q)
		return
	}
	l := LieOf(&k.Closure.Notion)
	q.OutFrom, q.OutTo, q.From, q.To = c.Out-l.In, c.Out+l.Out, c.At-l.Up, c.At+l.Up
	d.add(q)
}

func (d *placer) hole(role Role, number int32, c Point) {
	h := &d.k.Hole
	q := Part{Role: role, Kind: HolePart, Number: number, Centre: c, Cut: h.Length, Stitched: h.Stitched}
	if role == Show {
		q.Cut = 0
	}
	bar, w := (h.Stitched-h.Length)/2, h.Width/2
	eye := EyeOut
	if h.Direction == "along" {
		eye = EyeUp
		q.OutFrom, q.OutTo, q.From, q.To = c.Out-w, c.Out+w, c.At-h.Beyond-bar, c.At+h.Inside+bar
	} else {
		q.OutFrom, q.OutTo, q.From, q.To = c.Out-h.Inside-bar, c.Out+h.Beyond+bar, c.At-w, c.At+w
	}
	if h.Eyed() {
		q.Eye = eye
	}
	d.add(q)
}

// loop puts a loop lying flat: round the neck of the fastener at c, or, where
// edges meet, out over its edge.
func (d *placer) loop(role Role, number int32, c Point) {
	k := d.k
	r := k.cord()
	depth, past := max(k.Loop.Depth, mm), min(k.Reach.Rim/2, max(k.Loop.Depth, mm))
	q := Part{Role: role, Kind: LoopPart, Number: number, Centre: c, From: c.At - r, To: c.At + r}
	switch {
	case k.Apart():
		q.OutFrom, q.OutTo = min(-k.Closure.Inset.V, c.Out), c.Out+past
	case LapOf(k.Closure) == "edge":
		q.OutFrom, q.OutTo = 0, max(depth, c.Out)
	default:
		q.OutFrom, q.OutTo = c.Out+past-depth, c.Out+past
	}
	d.add(q)
}

// zip puts one half of a zip, between its stops.
func (d *placer) zip(size int) {
	z := &d.k.Zip
	s := &z.Sizes[size]
	if s.Need == 0 {
		return
	}
	c := Point{0, s.Top + s.Need/2}
	d.add(Part{Role: Works, Kind: TeethPart, Number: 1, Centre: c, OutFrom: -z.Half, OutTo: z.Half, From: s.Top, To: s.Top + s.Need})
	if z.Tape != 0 {
		d.add(Part{Role: Works, Kind: TapePart, Number: 1, Centre: c, OutFrom: -z.Tape, From: s.Top, To: s.Top + s.Need})
	}
}

// stripes adds the bars of a checked cloth.
func (pc *Piece) stripes(o *opening, inner, run measure.Length) {
	k := o.lap
	if k == nil {
		k = o.zip
	}
	if k == nil || pc.Side == Flap || !pc.Edged {
		return
	}
	c := k.Closure
	across, along := c.Check.Over, c.Check.OverAlong
	if pc.Side == Under {
		across, along = c.Check.Under, c.Check.UnderAlng
	}
	if !across.Has() && !along.Has() {
		return
	}
	cl := o.p.Garment.ClothNamed(c.Check.Cloth)
	if cl == nil && len(c.Over) != 0 {
		cl = c.Over[0].Cloth
	}
	if cl == nil {
		return
	}
	if every := cl.Repeat.Across.V; across.Has() && every >= leastStripe {
		// Bars are told towards the wearer's left, where the edge of the
		// right side looks.
		phase := across.V
		if (pc.Side == Over) != o.right {
			phase = -phase
		}
		for x := phase + every*ceil(inner-phase, every); x <= pc.Cloth; x += every {
			pc.down(StripeLine, x, run)
		}
	}
	if every := cl.Repeat.Along.V; along.Has() && every >= leastStripe {
		for y := (along.V%every + every) % every; y <= run; y += every {
			pc.across(StripeLine, inner, y)
		}
	}
}

// ceil is a ÷ b rounded up, for b > 0.
func ceil(a, b measure.Length) measure.Length {
	q := a / b
	if a%b > 0 {
		q++
	}
	return q
}
