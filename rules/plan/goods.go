package plan

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// CutPiece is a kind of rectangle to be cut from goods, with its length along
// the goods: strips and patches are cut on the lengthwise grain.
type CutPiece struct {
	Name   string
	Width  measure.Length // across the goods
	Length measure.Length // along the goods
	N      int
}

// Laid is where one piece lies: from the left edge of the goods, and from
// the end that is cut first.
type Laid struct {
	Piece  int // its place in the list of pieces
	Across measure.Length
	Along  measure.Length
	Width  measure.Length
	Length measure.Length
}

// Layout is how pieces are cut from goods.
type Layout struct {
	Goods  measure.Length // width
	Need   measure.Length // length to buy, shrinking counted
	Used   measure.Length // the same before shrinking
	Pieces []Laid
	Fits   bool // false: a piece is wider than the goods, and Need is 0
}

// Lay lays pieces across goods of that width in shelves, longest first; a
// short piece also takes the room below a shorter one of its shelf. It never
// needs more than cutting each kind in rows of its own, floor(goods ÷ width)
// side by side, because that is what it falls back to. shrink is the percent
// by which the goods shrink before they are cut; it counts along the length.
func Lay(goods measure.Length, shrink float64, pieces []CutPiece) Layout {
	out := Layout{Goods: goods, Fits: true}
	for _, p := range pieces {
		if p.N > 0 && (p.Width <= 0 || p.Length <= 0 || p.Width > goods) {
			out.Fits = false
			return out
		}
	}
	shelves, used := layShelves(goods, pieces)
	if rows, plain := layRows(goods, pieces); plain < used {
		shelves, used = rows, plain
	}
	out.Pieces, out.Used = shelves, used
	out.Need = CutForShrink(used, shrink)
	return out
}

// laidMost is how many pieces are laid one by one; more are cut in rows.
const laidMost = 2000

// LayNeed is the length of Lay alone. Very many pieces are cut in rows of each
// kind: there is little to gain from the ends of rows then.
func LayNeed(goods measure.Length, shrink float64, pieces []CutPiece) (need measure.Length, fits bool) {
	n := 0
	var used measure.Length
	for _, p := range pieces {
		if p.N <= 0 {
			continue
		}
		if p.Width <= 0 || p.Length <= 0 || p.Width > goods {
			return 0, false
		}
		n += p.N
		used += measure.Length(CeilDiv(p.N, int(goods/p.Width))) * p.Length
	}
	if n <= laidMost {
		l := Lay(goods, shrink, pieces)
		return l.Need, l.Fits
	}
	return CutForShrink(used, shrink), true
}

// layRows cuts each kind of piece in rows of its own.
func layRows(goods measure.Length, pieces []CutPiece) ([]Laid, measure.Length) {
	var out []Laid
	var y measure.Length
	for i, p := range pieces {
		if p.N <= 0 {
			continue
		}
		across := int(goods / p.Width)
		for n := range p.N {
			if n > 0 && n%across == 0 {
				y += p.Length
			}
			out = append(out, Laid{Piece: i, Across: measure.Length(n%across) * p.Width, Along: y, Width: p.Width, Length: p.Length})
		}
		y += p.Length
	}
	return out, y
}

// slot is a column of a shelf, as wide as its first piece.
type slot struct {
	at, width, used measure.Length
}

// shelf is a row of slots, as long as its longest piece.
type shelf struct {
	along, length, width measure.Length // width: taken so far
	slots                []slot
}

// layShelves lays the longest pieces first, each in the first slot with room
// below, else beside the others on the first shelf with room, else on a new
// shelf.
func layShelves(goods measure.Length, pieces []CutPiece) ([]Laid, measure.Length) {
	order := make([]int, 0, len(pieces))
	for i := range pieces {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(pieces[b].Length, pieces[a].Length), cmp.Compare(pieces[b].Width, pieces[a].Width), cmp.Compare(a, b))
	})
	var out []Laid
	var shelves []shelf
	var end measure.Length
	for _, i := range order {
		p := pieces[i]
	next:
		for range p.N {
			for s := range shelves {
				sh := &shelves[s]
				for t := range sh.slots {
					sl := &sh.slots[t]
					if sl.width >= p.Width && sh.length-sl.used >= p.Length {
						out = append(out, Laid{Piece: i, Across: sl.at, Along: sh.along + sl.used, Width: p.Width, Length: p.Length})
						sl.used += p.Length
						continue next
					}
				}
				if goods-sh.width >= p.Width {
					out = append(out, Laid{Piece: i, Across: sh.width, Along: sh.along, Width: p.Width, Length: p.Length})
					sh.slots = append(sh.slots, slot{sh.width, p.Width, p.Length})
					sh.width += p.Width
					continue next
				}
			}
			shelves = append(shelves, shelf{along: end, length: p.Length, width: p.Width, slots: []slot{{0, p.Width, p.Length}}})
			out = append(out, Laid{Piece: i, Along: end, Width: p.Width, Length: p.Length})
			end += p.Length
		}
	}
	return out, end
}

// PatchMargin is how far a patch reaches beyond the fastener and its hole.
const PatchMargin = in / 2 // above and below it; common practice, no source

// StripPieces are the pieces of one interfacing of a closure, the nth of its
// strips, for one garment of that size: strips along the whole run, or, where
// it has one fastener alone, patches round it.
func (p *Plan) StripPieces(closure, n, size int) CutPiece {
	c, k := &p.Garment.Closures[closure], &p.Closures[closure]
	s := &k.Support
	if n >= len(s.Strips) {
		return CutPiece{}
	}
	x := &s.Strips[n]
	out := CutPiece{Name: c.Name, Width: x.Width, Length: c.Run.Length.At(size).V, N: x.Pieces(c)}
	if k.Patch(size) {
		out.Length = min(out.Length, k.PatchLength())
	}
	carried, _ := p.Carried(closure, n, size)
	out.N -= c.Pieces * carried
	return out
}

// Patch says whether the interfacing of that size is a patch round a single
// fastener, not a strip along the run.
func (k *Closure) Patch(size int) bool {
	z := &k.Sizes[size]
	return z.Solved && z.Count == 1
}

func (k *Closure) PatchLength() measure.Length {
	return 2 * (max(k.Reach.Up, k.Reach.Down) + PatchMargin)
}

// Packs is how many packs of so many hold n pieces.
func Packs(n, pack int) int {
	return CeilDiv(n, max(pack, 1))
}

// Fasteners is how many fasteners one garment of that size takes in this
// closure, and whether that is known: as laid out, or as the file wishes
// where nothing fits.
func (k *Closure) Fasteners(size int) (n int, known bool) {
	c := k.Closure
	switch z := &k.Sizes[size]; {
	case c.Notion.Kind == catalog.Zip:
		n = 1
	case z.Solved:
		n = z.Fasteners
	case c.Run.CountAt(size).Set:
		n = c.Run.CountAt(size).Min
		if LapOf(c) == "double" {
			n *= 2
			if k.Inner() {
				n++
			}
		}
	default:
		return 0, false
	}
	return n * c.Pieces, true
}

// Backed is how many of its buttons have a backing button, and whether that is
// known: those that fasten. What is for show takes no pull, and a disc behind
// the inner button would lie on the face of the coat, under a button for show.
func (k *Closure) Backed(size int) (n int, known bool) {
	n, known = k.Fasteners(size)
	if !known || LapOf(k.Closure) != "double" {
		return n, known
	}
	rows := k.Closure.Run.CountAt(size).Min
	if z := &k.Sizes[size]; z.Solved {
		rows = z.Count
	}
	return Working(k.Closure, rows) * k.Closure.Pieces, true
}

// Holes is how many holes are cut in one garment of that size in this
// closure: one for each row that buttons, and one for the inner button.
func (k *Closure) Holes(size int) int {
	c, z := k.Closure, &k.Sizes[size]
	if !k.Hole.Needed {
		return 0
	}
	n := z.Count
	if LapOf(c) == "double" {
		n = Working(c, n)
		if n != 0 && k.Inner() {
			n++
		}
	}
	return n * c.Pieces
}

// SewnHoles is how many holes are sewn: those cut, and those of the rows for
// show.
func (k *Closure) SewnHoles(size int) int {
	n := k.Holes(size)
	if rows := k.Sizes[size].Count; k.ShowHoles() {
		n += (rows - Working(k.Closure, rows)) * k.Closure.Pieces
	}
	return n
}

// ThreadFor is the thread for all holes and fasteners of one garment of that
// size in this closure, waste included.
func (k *Closure) ThreadFor(size int) measure.Length {
	return Scale(k.holeThread(size)+k.fastenThread(size), threadWaste)
}

// holeThread is the thread for the holes of one garment of that size.
func (k *Closure) holeThread(size int) measure.Length {
	return k.Sewing.HoleThread * measure.Length(k.SewnHoles(size))
}

// fastenThread is the thread for sewing the fasteners of one garment of that
// size on.
func (k *Closure) fastenThread(size int) measure.Length {
	if !k.Sewing.Sewn {
		return 0
	}
	n, _ := k.Fasteners(size)
	if each := k.Sewing.ThreadCut; each != 0 {
		return each * measure.Length(n)
	}
	return ButtonThread * measure.Length(n)
}

// GoodKind says what sort of good it is.
type GoodKind string

// The sorts of goods, in the order of the list.
const (
	GoodFastener    GoodKind = "fastener"
	GoodBacking     GoodKind = "backing button"
	GoodLoopCord    GoodKind = "cord for loops"
	GoodCord        GoodKind = "cord"
	GoodThread      GoodKind = "thread"
	GoodSealant     GoodKind = "sealant" // for cut edges
	GoodNeedle      GoodKind = "needle"
	GoodHandNeedle  GoodKind = "hand needle"
	GoodInterfacing GoodKind = "interfacing"
)

var goodKinds = []GoodKind{
	GoodFastener, GoodBacking, GoodLoopCord, GoodCord, GoodThread, GoodSealant, GoodNeedle, GoodHandNeedle, GoodInterfacing,
}

// KindOrder is the place of a sort of goods in the list.
func KindOrder(k GoodKind) int { return slices.Index(goodKinds, k) }

// GoodID names a good: its sort and what it is.
type GoodID string

func goodID(kind GoodKind, what string) GoodID { return GoodID(kind) + ": " + GoodID(what) }

// Job is a kind of work on a closure that takes goods.
type Job string

// The jobs.
const (
	JobTest   Job = "tests"  // a set of hardware, swatches of fusible
	JobStrip  Job = "strips" // and patches of interfacing
	JobHoles  Job = "holes"
	JobFasten Job = "fasteners"
	JobZip    Job = "zips"
	JobLoops  Job = "loops"
	JobEdge   Job = "edges" // the fold of an edge, stitched down
	JobTacks  Job = "tacks" // of a fly
	JobBaste  Job = "basting"
	JobThick  Job = "thick places"
	JobCord   Job = "cords"
)

// GoodUse is what a good is used for.
type GoodUse struct {
	Closure int // -1: the whole garment
	Job     Job
}

// Good is one thing to buy, with how much of it one garment of each size
// takes. What is sold by the piece has N, what is sold by length Len, and
// interfacing the pieces to be cut.
type Good struct {
	ID        GoodID
	Kind      GoodKind
	Name      string         // of the catalogue entry, else of the garment file, else ""
	Entry     *catalog.Entry // nil where it is not of a catalogue
	Uses      []GoodUse
	Suggested bool // nobody asked for it: neither ordered nor priced
	Pack      int  // pieces sold together, at least 1

	Size  measure.Length // diameter of a backing button, length of a zip, thickness of a cord; 0: none, or not known
	Asked measure.Length // of a backing button or zip: what the file asks for, where that is not sold; else 0
	Least bool           // a zip whose lengths nobody lists: Size is the least

	Needle measure.NeedleSize
	Point  string
	Hand   HandNeedle
	Tex    measure.LinearDensity
	Fibre  string
	Own    string // a thread's or interfacing's name in the garment file
	Index  int    // a fastener's first closure, an interfacing's place in the garment; else -1
	Cords  []int  // drawcords of the garment

	N       []int  // pieces
	Spare   []int  // spares
	Unknown []bool // nothing says how much this size takes
	Waits   string // of interfacing: the rule that must be settled before it is known how much, see Support.Waits
	Once    int    // pieces however many garments are made: test sets, needles

	Len   []measure.Length // thread and cord
	Spool measure.Length   // on one spool, 0: not known

	Width    measure.Length // of the goods, 0: not known
	Shrink   float64
	Cut      [][]CutPiece
	Swatches []CutPiece // once, for the test
}

// Goods is what to buy for a garment: everything that its work uses, each
// thing once, and what is only suggested.
type Goods []*Good

// Find is the good of that ID, or nil.
func (l Goods) Find(id GoodID) *Good {
	for _, g := range l {
		if g.ID == id {
			return g
		}
	}
	return nil
}

// FastenerID is the good that a closure's fasteners are; of a zip, that length
// of it.
func FastenerID(c *catalog.Closure, length measure.Length) GoodID {
	what := c.Notion.Name
	if c.Use == "" {
		what += " (" + c.Name + ")"
	}
	if c.Notion.Kind == catalog.Zip {
		what += " " + length.Exact(measure.MM)
	}
	return goodID(GoodFastener, what)
}

// FastenerIDs are the goods that the fasteners of a closure are in those
// sizes of the garment: several where it takes zips of several lengths.
func (k *Closure) FastenerIDs(sizes []int) []GoodID {
	if k.Closure.Notion.Kind != catalog.Zip {
		return []GoodID{FastenerID(k.Closure, 0)}
	}
	var out []GoodID
	for _, s := range sizes {
		if id := FastenerID(k.Closure, k.Zip.Sizes[s].Buy); !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}

// BackingID is the good that backing buttons of that diameter are.
func BackingID(d measure.Length) GoodID { return goodID(GoodBacking, d.Exact(measure.MM)) }

// NeedleID is the good that a machine needle is.
func NeedleID(nm measure.NeedleSize, point string) GoodID {
	return goodID(GoodNeedle, nm.String()+" "+point)
}

// HandNeedleID is the good that a hand needle is.
func HandNeedleID(h HandNeedle) GoodID {
	return goodID(GoodHandNeedle, h.Kind+" "+strconv.Itoa(h.Number))
}

// ThreadID is the good that a thread is.
func ThreadID(t Thread) GoodID {
	if t.Name != "" {
		return goodID(GoodThread, t.Name)
	}
	return goodID(GoodThread, t.Tex.String()+" "+t.Fibre)
}

// InterfacingID is the good that an interfacing of the garment is.
func InterfacingID(g *catalog.Garment, in *catalog.Interfacing) GoodID {
	return goodID(GoodInterfacing, g.InterfNames[slices.Index(g.Interfacings, in)])
}

// CordID is the good that a drawcord is.
func CordID(c *catalog.GarmentCord) GoodID {
	switch {
	case c.Instead == "elastic" || c.Instead == "snaps":
		return goodID(GoodCord, c.Instead)
	case c.Use != "":
		return goodID(GoodCord, c.Use)
	}
	return goodID(GoodCord, "("+c.Name+")")
}

// LoopCordID is the good that the cord of a closure's loops is.
func (k *Closure) LoopCordID() GoodID {
	return goodID(GoodLoopCord, k.Loop.Cord.Exact(measure.MM))
}

// SealantID is the good that seals cut edges.
const SealantID = GoodID(GoodSealant) + ": for cut edges"

// ThreadOf is the thread of a job on closure i: the one that the file names
// for it, else that of its holes.
func (p *Plan) ThreadOf(i int, job Job) Thread {
	c, k := &p.Garment.Closures[i], &p.Closures[i]
	names := [2]string{"", "seam"}
	switch job {
	case JobHoles:
		if k.Hole.Twist != 0 {
			return p.twist(i)
		}
		return k.Thread
	case JobFasten:
		switch {
		case k.Sewing.ButtonName != "":
			names = [2]string{k.Sewing.ButtonName}
		case k.Hole.Twist != 0 && k.Sewing.ByHand && c.Thread != "":
			names = [2]string{c.Thread} // that of the holes
		default:
			return k.Thread
		}
	case JobLoops:
		names[0] = c.Thread
	case JobEdge:
		if c.Stand.TopstitchInset.Has() {
			names[0] = "topstitch"
		}
	case JobBaste:
		names[0] = "basting"
	}
	for _, name := range names {
		if th := p.Garment.ThreadNamed(name); th != nil && name != "" {
			return namedThread(name, th)
		}
	}
	return k.Thread
}

// namedThread is a thread of the garment file.
func namedThread(name string, th *catalog.Thread) Thread {
	t := Thread{Name: name, Given: true, Tex: th.Tex.V, Fibre: cmp.Or(th.Fibre, "polyester")}
	t.thicken()
	return t
}

// Gimp is the cord that holes are sewn over: the thread called gimp of the
// garment, else the cotton gimp nearest to Tex 210 of the catalogue (IASRI
// e-course: buttonhole gimp Tex 210).
func (p *Plan) Gimp() (Thread, *catalog.Thread) {
	const name = "gimp"
	if th := p.Garment.ThreadNamed(name); th != nil {
		return namedThread(name, th), th
	}
	t, best := Thread{Tex: usualGimp, Fibre: "cotton"}, (*catalog.Thread)(nil)
	if cat := p.Garment.Catalog; cat != nil {
		for _, th := range cat.Threads {
			if !th.Tex.Has() || th.Fibre != t.Fibre || !slices.Contains(th.Jobs, name) {
				continue
			}
			if best == nil || math.Abs(float64(th.Tex.V-usualGimp)) < math.Abs(float64(best.Tex.V-usualGimp)) {
				best = th
			}
		}
	}
	if best != nil {
		t.Tex = best.Tex.V
	}
	t.Fibre += " gimp"
	t.Diameter, _ = t.Tex.Diameter("cotton")
	return t, best
}

const (
	usualGimp    = 210
	gimpEnds     = 2 * in        // ours: an inch at each end, to be drawn in
	loopSewn     = 2 * in        // ours: stitching over one loop's ends, there and back
	tackThread   = 5 * in        // ours: one tack of a fly
	needlesEach  = 2             // common practice, no source: they break
	triesOfFuse  = 3             // the swatch is fused three times
	basteAllowed = 1.1           // ours: basting runs in and out of the cloth
	cordSame     = mm * 25 / 100 // ours: a cord this near is the thickness asked for
)

// Gimping is the gimp of one hole: round its two legs, and its ends.
func (h *Hole) Gimping() measure.Length { return 2*h.Length + gimpEnds }

// goodsList is the list while it is made.
type goodsList struct {
	p    *Plan
	list Goods
}

// Goods is what to buy for the garment. Drawcords that are left out are not
// on it.
func (p *Plan) Goods(leftOut ...int) Goods {
	l := goodsList{p: p}
	for i := range p.Closures {
		l.closure(i)
	}
	l.interfacings()
	for i := range p.Garment.Cords {
		if in := p.Garment.Cords[i].Instead; !slices.Contains(leftOut, i) && in != "none" {
			l.drawcord(i)
		}
	}
	slices.SortStableFunc(l.list, func(a, b *Good) int {
		return cmp.Or(
			cmp.Compare(slices.Index(goodKinds, a.Kind), slices.Index(goodKinds, b.Kind)),
			cmp.Compare(a.Needle, b.Needle), cmp.Compare(a.Own, b.Own),
		)
	})
	return l.list
}

// good is the good of that ID, begun where it is not on the list yet, with
// that use.
func (l *goodsList) good(id GoodID, kind GoodKind, use GoodUse, begin func(*Good)) *Good {
	g := l.list.Find(id)
	if g == nil {
		n := len(l.p.Garment.Sizes)
		g = &Good{
			ID: id, Kind: kind, Pack: 1, Index: -1,
			N: make([]int, n), Spare: make([]int, n), Unknown: make([]bool, n), Len: make([]measure.Length, n),
		}
		begin(g)
		if g.Entry != nil {
			g.Name = g.Entry.Name
			g.Pack = max(1, g.Entry.Pack.Or(1))
		}
		l.list = append(l.list, g)
	}
	if !slices.Contains(g.Uses, use) {
		g.Uses = append(g.Uses, use)
	}
	return g
}

// closure adds what the work on a closure takes.
func (l *goodsList) closure(i int) {
	k := &l.p.Closures[i]
	c := k.Closure
	l.fasteners(i)
	if k.SewnHole() {
		h := &k.Hole
		if h.ByMachine() || h.Kind == "bound" {
			l.needle(k.Needle.Use, k.Needle.Point, GoodUse{i, JobHoles})
		}
		if h.Twist != 0 || h.Kind == "bound" || h.BeyondMachine == SewsLessEase {
			l.handNeedle(i, JobHoles) // the lips of a bound hole; or where the sample says so
		}
		l.thread(i, JobHoles, func(s int) measure.Length { return k.holeThread(s) })
		if h.Gimp || c.Finish == "corded" {
			t, th := l.p.Gimp()
			l.lengthOf(t, th, GoodUse{i, JobHoles}, func(s int) measure.Length { return h.Gimping() * measure.Length(k.Holes(s)) })
		}
		if c.Finish == "sealed" {
			g := l.good(SealantID, GoodSealant, GoodUse{i, JobHoles}, func(*Good) {})
			g.Once = 1
		}
		if k.Sewing.FlyTacks != 0 && !JoinedPiece(c) {
			l.handNeedle(i, JobTacks)
			l.thread(i, JobTacks, func(s int) measure.Length {
				return tackThread * measure.Length(max(0, k.Sizes[s].Count-1)*c.Pieces)
			})
		}
	}
	if k.Sewing.Sewn {
		if k.Sewing.ByHand {
			l.handNeedle(i, JobFasten)
		} else {
			l.needle(k.Needle.Use, k.Needle.Point, GoodUse{i, JobFasten})
		}
		l.thread(i, JobFasten, func(s int) measure.Length { return k.fastenThread(s) })
	}
	ratio := LockstitchRatio(k.Over.Pressed, k.Stitch.Length)
	run := func(s int) measure.Length { return c.Run.Length.At(s).V * measure.Length(2*c.Pieces) } // both sides
	if k.HasLoops() {
		l.loops(i, ratio)
	}
	if c.Notion.Kind == catalog.Zip {
		l.needle(k.Needle.Use, k.Needle.Point, GoodUse{i, JobZip})
		l.thread(i, JobZip, func(s int) measure.Length { return Scale(run(s), ratio) })
		if !k.Unbasted() {
			l.baste(i, run)
		}
	}
	if k.StitchedEdge() {
		l.needle(k.Needle.Use, k.Needle.Point, GoodUse{i, JobEdge})
		l.thread(i, JobEdge, func(s int) measure.Length { return Scale(run(s), ratio) })
		if !Unbasted(c) {
			l.baste(i, run)
		}
	}
	for n := range k.Support.Strips {
		if x := &k.Support.Strips[n]; x.Interfacing.Fixing != "fusible" && !Unbasted(c) {
			l.baste(i, func(s int) measure.Length {
				p := l.p.StripPieces(i, n, s)
				return p.Length * measure.Length(2*p.N)
			})
		}
	}
	if k.Support.Waits != "" && !Unbasted(c) && slices.ContainsFunc(slices.Concat(c.Over, c.Under), func(x catalog.Layer) bool { return x.Interfacing != nil && x.Interfacing.Fixing != "fusible" }) {
		// What basting its interfacing takes follows from the edge.
		l.baste(i, func(int) measure.Length { return 0 })
		g := l.good(ThreadID(l.p.ThreadOf(i, JobBaste)), GoodThread, GoodUse{i, JobBaste}, nil)
		for s := range g.Unknown {
			g.Unknown[s] = true
		}
	}
	if k.Thick() != nil {
		l.needle(k.Needle.Thick, k.Needle.Point, GoodUse{i, JobThick})
	}
}

// fasteners adds the fasteners of a closure and their backing buttons.
func (l *goodsList) fasteners(i int) {
	k := &l.p.Closures[i]
	c := k.Closure
	entry := &c.Notion.Entry
	count := func(g *Good, s int) {
		n, known := k.Fasteners(s)
		g.N[s] += n
		g.Unknown[s] = g.Unknown[s] || !known
	}
	if c.Notion.Kind == catalog.Zip {
		for s := range k.Zip.Sizes {
			z := &k.Zip.Sizes[s]
			g := l.good(FastenerID(c, z.Buy), GoodFastener, GoodUse{i, JobZip}, func(g *Good) {
				g.Entry, g.Index, g.Size = entry, i, z.Buy
				g.Least = len(c.Notion.Lengths) == 0
				if z.Given && z.Buy != z.Length {
					g.Asked = z.Length
				}
			})
			count(g, s)
			g.Spare[s] += c.Spare
		}
		return
	}
	g := l.good(FastenerID(c, 0), GoodFastener, GoodUse{i, JobFasten}, func(g *Good) { g.Entry, g.Index = entry, i })
	for s := range k.Sizes {
		count(g, s)
		g.Spare[s] += c.Spare
	}
	if SetWithTool(&c.Notion) {
		l.good(g.ID, GoodFastener, GoodUse{i, JobTest}, nil).Once++ // the set that is tried in scrap
	}
	if d := k.Sewing.Backing; d != 0 && k.Sewing.Sewn {
		id := BackingID(d)
		if k.Sewing.Suggested {
			id += ", suggested"
		}
		b := l.good(id, GoodBacking, GoodUse{i, JobFasten}, func(b *Good) {
			b.Size, b.Suggested, b.Index = d, k.Sewing.Suggested, i
			if _, n := FlatSold(l.p.Garment.Catalog, d); n != nil {
				b.Entry = &n.Entry
			}
		})
		if c.Backing.Has() && (c.Backing.V-d).Abs() >= mm/10 {
			b.Asked = c.Backing.V
		}
		for s := range k.Sizes {
			n, known := k.Backed(s)
			b.N[s] += n
			b.Unknown[s] = b.Unknown[s] || !known
		}
	}
}

// loops adds what the loops of a closure take.
func (l *goodsList) loops(i int, ratio float64) {
	k := &l.p.Closures[i]
	use := GoodUse{i, JobLoops}
	if k.SewnOnTop() {
		l.handNeedle(i, JobLoops)
	} else {
		l.needle(k.Needle.Use, k.Needle.Point, use)
	}
	if k.Loop.Cut != 0 {
		g := l.good(k.LoopCordID(), GoodLoopCord, use, func(g *Good) {
			g.Size = k.Loop.Cord
			if cord := cordOf(l.p.Garment.Catalog, k.Loop.Cord); cord != nil {
				g.Entry = &cord.Entry
			}
		})
		for s := range k.Sizes {
			n, _ := k.Fasteners(s)
			g.Len[s] += k.Loop.Cut*measure.Length(k.Holes(s)) + k.Loop.CutFastener*measure.Length(n)
			g.Unknown[s] = g.Unknown[s] || !k.Sizes[s].Solved
		}
	}
	l.thread(i, JobLoops, func(s int) measure.Length { return Scale(loopSewn*measure.Length(k.Holes(s)), ratio) })
}

// cordOf is a cord of the catalogue of that thickness that does not stretch,
// or nil.
func cordOf(cat *catalog.Catalog, thick measure.Length) *catalog.CordPart {
	if cat == nil || thick == 0 {
		return nil
	}
	var best *catalog.CordPart
	for _, c := range cat.Cords {
		off := (c.Thickness.V - thick).Abs()
		if !c.Thickness.Has() || off > cordSame || strings.Contains(c.Material, "elast") {
			continue
		}
		if best == nil || off < (best.Thickness.V-thick).Abs() {
			best = c
		}
	}
	return best
}

// interfacings adds the strips and patches, and the swatches of what is fused.
func (l *goodsList) interfacings() {
	g := l.p.Garment
	for n, it := range g.Interfacings {
		begin := func(x *Good) {
			x.Entry, x.Own, x.Index = &it.Entry, g.InterfNames[n], n
			if it.Name == "" {
				x.Entry, x.Name = nil, x.Own
			}
			x.Width, x.Shrink = it.Width.V, it.Shrink.Or(0)
			x.Cut = make([][]CutPiece, len(g.Sizes))
		}
		id := InterfacingID(g, it)
		for i := range l.p.Closures {
			if k := &l.p.Closures[i]; k.Support.Waits != "" && (InterfacedWith(k.Closure.Over, it) || InterfacedWith(k.Closure.Under, it)) {
				l.good(id, GoodInterfacing, GoodUse{i, JobStrip}, begin).Waits = k.Support.Waits
				continue
			}
			strips := l.p.Closures[i].Support.Strips
			n := slices.IndexFunc(strips, func(x Strip) bool { return x.Interfacing == it })
			if n == -1 {
				continue
			}
			x := l.good(id, GoodInterfacing, GoodUse{i, JobStrip}, begin)
			for s := range g.Sizes {
				if piece := l.p.StripPieces(i, n, s); piece.N != 0 { // else another's carries it
					x.Cut[s] = append(x.Cut[s], piece)
				}
			}
		}
		for _, cl := range g.Cloths {
			if it.Fixing == "fusible" && l.p.Fused(it, cl) {
				x := l.good(id, GoodInterfacing, GoodUse{-1, JobTest}, begin)
				_, swatch := FuseTest(1)
				if x.Width != 0 {
					swatch[0] = min(swatch[0], x.Width)
				}
				x.Swatches = append(x.Swatches, CutPiece{"test on " + g.NameOf(cl), swatch[0], swatch[1], triesOfFuse})
			}
		}
	}
}

// InterfacedWith says whether the interfacing is one of the layers.
func InterfacedWith(ls []catalog.Layer, in *catalog.Interfacing) bool {
	return slices.ContainsFunc(ls, func(l catalog.Layer) bool { return l.Interfacing == in })
}

// Fused says whether any closure has the interfacing on the cloth.
func (p *Plan) Fused(in *catalog.Interfacing, cl *catalog.Cloth) bool {
	for i := range p.Garment.Closures {
		c := &p.Garment.Closures[i]
		if Together(c.Over, in, cl) || Together(c.Under, in, cl) {
			return true
		}
	}
	return false
}

// drawcord adds a drawcord, or the elastic or the snaps in its place. How long its channel is the file does not say.
func (l *goodsList) drawcord(i int) {
	c := &l.p.Garment.Cords[i]
	g := l.good(CordID(c), GoodCord, GoodUse{-1, JobCord}, func(g *Good) {
		g.Size = c.Part.Thickness.V
		switch g.Name = c.Name; {
		case c.Instead != "":
			g.Name, g.Size = c.Instead, 0
		case c.Use != "":
			g.Entry = &c.Part.Entry
		}
	})
	g.Cords = append(g.Cords, i)
	for s := range g.N {
		g.N[s]++
		g.Unknown[s] = true
	}
}

func (l *goodsList) needle(nm measure.NeedleSize, point string, use GoodUse) {
	if nm == 0 {
		return
	}
	g := l.good(NeedleID(nm, point), GoodNeedle, use, func(g *Good) {
		g.Needle, g.Point = nm, point
		if cat := l.p.Garment.Catalog; cat != nil {
			for _, n := range cat.Needles {
				if n.Size.V == nm && n.Point == point {
					g.Entry = &n.Entry
					break
				}
			}
		}
	})
	g.Once = needlesEach
}

func (l *goodsList) handNeedle(i int, job Job) {
	h := l.p.HandNeedle(i, job)
	l.good(HandNeedleID(h), GoodHandNeedle, GoodUse{i, job}, func(g *Good) { g.Hand = h }).Once = 1
}

// baste adds the basting of so much of a closure.
func (l *goodsList) baste(i int, of func(size int) measure.Length) {
	l.handNeedle(i, JobBaste)
	l.thread(i, JobBaste, func(s int) measure.Length { return Scale(of(s), basteAllowed) })
}

// thread adds so much thread of a job on a closure, and the waste.
func (l *goodsList) thread(i int, job Job, of func(size int) measure.Length) {
	t := l.p.ThreadOf(i, job)
	l.lengthOf(t, l.p.Garment.ThreadNamed(t.Name), GoodUse{i, job}, func(s int) measure.Length { return Scale(of(s), threadWaste) })
}

// lengthOf adds so much of a thread.
func (l *goodsList) lengthOf(t Thread, th *catalog.Thread, use GoodUse, of func(size int) measure.Length) {
	g := l.good(ThreadID(t), GoodThread, use, func(g *Good) {
		g.Tex, g.Fibre, g.Own = t.Tex, t.Fibre, t.Name
		if th != nil {
			if th.Name != "" {
				g.Entry = &th.Entry
			}
			g.Spool = measure.FromMM(th.Metres.Or(0) * 1000)
		}
	})
	counted := use.Job == JobHoles || use.Job == JobFasten || use.Job == JobLoops || use.Job == JobTacks
	for s := range g.Len {
		g.Len[s] += of(s)
		if counted && !l.p.Closures[use.Closure].Sizes[s].Solved {
			g.Unknown[s] = true
		}
	}
}

// Batch is how many garments of each size are made by one plan, and one good
// of that plan.
type Batch struct {
	Good     *Good
	Garments []int // one for each size
}

// Shared says whether a good serves all that is made: one needle sews many
// garments, but each garment's hardware and fusing has its own test.
func (g *Good) Shared() bool {
	switch g.Kind {
	case GoodNeedle, GoodHandNeedle, GoodSealant:
		return true
	}
	return false
}

// Pooled is how much to buy of one good for several batches together: packs,
// spools and lengths of goods are shared. It is never more than buying for
// each batch by itself.
func Pooled(u measure.Unit, batches []Batch) GoodAmount {
	first := batches[0].Good
	all := Good{Kind: first.Kind, Pack: first.Pack, Spool: first.Spool, Width: first.Width, Shrink: first.Shrink}
	var garments []int
	var apart measure.Length
	for _, b := range batches {
		g := b.Good
		garments = append(garments, b.Garments...)
		all.N, all.Spare = append(all.N, g.N...), append(all.Spare, g.Spare...)
		all.Unknown, all.Len, all.Cut = append(all.Unknown, g.Unknown...), append(all.Len, g.Len...), append(all.Cut, g.Cut...)
		all.Swatches = append(all.Swatches, g.Swatches...)
		all.Waits = cmp.Or(all.Waits, g.Waits)
		if all.Once += g.Once; g.Shared() {
			all.Once = max(all.Once-g.Once, g.Once)
		}
		apart += g.Amount(u, b.Garments).Length
	}
	a := all.Amount(u, garments)
	if first.Kind == GoodInterfacing && a.Known && a.Fits {
		a.Length = min(a.Length, apart)
		a.Buy = a.Length.RoundUp(GoodsStep(u))
	}
	return a
}

// Used is how much of a good the garments of a batch take: pieces with their
// spares, or a length; of interfacing that which its pieces cover, without
// what falls off. What is bought once is not in it.
func (b *Batch) Used() (pieces int, length measure.Length) {
	g := b.Good
	var area float64
	for s, n := range b.Garments {
		pieces += n * (g.N[s] + g.Spare[s])
		length += measure.Length(n) * g.Len[s]
		if g.Kind == GoodInterfacing {
			for _, p := range g.Cut[s] {
				area += float64(n*p.N) * p.Width.MM() * p.Length.MM()
			}
		}
	}
	if g.Kind == GoodInterfacing && g.Width > 0 {
		length = CutForShrink(measure.FromMM(area/g.Width.MM()), g.Shrink)
	}
	return pieces, length
}

// GoodAmount is how much of a good to buy.
type GoodAmount struct {
	Known  bool // false: a size that is made does not say how much it takes
	Needed int  // pieces that are sewn or set
	Spare  int
	Once   int // for tests, or however many garments are made
	Packs  int
	Pieces int // in those packs

	Length measure.Length // needed, of what is sold by length
	Buy    measure.Length // in what is sold: spools, or lengths as shops cut them; 0: not known
	Spools int            // 0: not known
	Fits   bool           // false: a piece is wider than the goods
}

// GoodsStep is what shops cut goods and cord to: 1/8 yd or 10 cm. Common
// practice, no source.
func GoodsStep(u measure.Unit) measure.Length {
	if u.Is(measure.In) {
		return measure.Yard / 8
	}
	return 10 * measure.Centimetre
}

// Amount is how much to buy for so many garments of each size. What is bought
// once is bought once.
func (g *Good) Amount(u measure.Unit, garments []int) GoodAmount {
	a := GoodAmount{Known: true, Once: g.Once, Fits: true}
	var pieces []CutPiece
	for s, n := range garments {
		if n <= 0 {
			continue
		}
		a.Known = a.Known && !g.Unknown[s]
		a.Needed += n * g.N[s]
		a.Spare += n * g.Spare[s]
		a.Length += measure.Length(n) * g.Len[s]
		if g.Kind == GoodInterfacing {
			for _, p := range g.Cut[s] {
				p.N *= n
				pieces = append(pieces, p)
			}
		}
	}
	switch g.Kind {
	case GoodThread:
		a.Buy = a.Length
		if g.Spool > 0 {
			a.Spools = CeilDiv(int(a.Length), int(g.Spool))
			a.Buy = measure.Length(a.Spools) * g.Spool
		}
	case GoodLoopCord:
		a.Buy = a.Length.RoundUp(GoodsStep(u))
	case GoodInterfacing:
		pieces = append(pieces, g.Swatches...)
		if a.Known = g.Width > 0 && g.Waits == ""; a.Known {
			a.Length, a.Fits = LayNeed(g.Width, g.Shrink, pieces)
			a.Buy = a.Length.RoundUp(GoodsStep(u))
		}
	default:
		a.Packs = Packs(a.Needed+a.Spare+a.Once, g.Pack)
		a.Pieces = a.Packs * g.Pack
	}
	return a
}

// Amount is how much to buy of several goods of one sort together, as of zips
// of several lengths.
func (l Goods) Amount(u measure.Unit, garments []int) GoodAmount {
	sum := GoodAmount{Known: true, Fits: true}
	for _, g := range l {
		a := g.Amount(u, garments)
		sum.Known, sum.Fits = sum.Known && a.Known, sum.Fits && a.Fits
		sum.Needed, sum.Spare, sum.Once = sum.Needed+a.Needed, sum.Spare+a.Spare, sum.Once+a.Once
		sum.Packs, sum.Pieces, sum.Spools = sum.Packs+a.Packs, sum.Pieces+a.Pieces, sum.Spools+a.Spools
		sum.Length, sum.Buy = sum.Length+a.Length, sum.Buy+a.Buy
	}
	return sum
}

// Most is the same for one garment of that of the sizes which needs most, and
// which that is.
func (l Goods) Most(u measure.Unit, sizes []int) (size int, most GoodAmount) {
	size = -1
	known, fits := true, true
	for _, s := range sizes {
		a := l.Amount(u, One(l[0], s))
		known, fits = known && a.Known, fits && a.Fits
		if size == -1 || a.Needed+a.Spare > most.Needed+most.Spare || a.Length > most.Length {
			size, most = s, a
		}
	}
	most.Known, most.Fits = known, fits
	return size, most
}

// One is one garment of that size.
func One(g *Good, size int) []int {
	out := make([]int, len(g.N))
	out[size] = 1
	return out
}
