package work

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// opening puts what lies on the pieces of one opening into words. Places come
// from the pieces and from nowhere else.
type opening struct {
	p       *rules.Planned
	u       measure.Unit
	short   bool // lengths in one unit alone, as in a sum
	name    string
	thing   string // the piece it lies on where it joins no fronts: catalog.Closure.LiesOn
	sizes   []int  // that are told of
	first   int    // of its closures: the one that holds the pieces
	members []int  // its closures
	front   bool   // it joins the wearer's right and left
	bare    bool   // the under piece has no edge of its own
	line    string
	lap     *plan.Closure // the first that is neither a zip nor on a flap of its own
	zip     *plan.Closure
	flap    *plan.Closure // the one that has a flap of its own
}

// opening is the opening that closure i closes.
func (w *planner) opening(i int) *opening {
	o := openingOf(w.p, i)
	o.sizes = w.sizes
	return o
}

// openings runs do for every opening, in the order of the file.
func (w *planner) openings(do func(o *opening)) {
	for i := range w.p.Closures {
		if o := w.opening(i); o.first == i {
			do(o)
		}
	}
}

// openingOf is the opening that closure i closes.
func openingOf(p *rules.Planned, i int) *opening {
	g := p.Garment
	o := &opening{p: p, u: g.Units, name: g.Closures[i].OpeningName()}
	for j := range g.Sizes {
		o.sizes = append(o.sizes, j)
	}
	for j := range g.Closures {
		c, k := &g.Closures[j], &p.Closures[j]
		if c.OpeningName() != o.name {
			continue
		}
		o.members = append(o.members, j)
		switch {
		case c.Notion.Kind == catalog.Zip:
			o.zip = firstOf(o.zip, k)
		case !c.Flap.Has():
			o.lap = firstOf(o.lap, k)
		}
		if c.Flap.Has() {
			o.flap = firstOf(o.flap, k)
		}
	}
	o.first = o.members[0]
	c := &g.Closures[o.first]
	o.front, o.bare, o.thing = plan.IsFront(c), plan.Bare(c.Where), c.LiesOn()
	o.line = rules.MeetingLine(p.Plan, o.first)
	return o
}

// MeetingLine is the line where the two sides of the opening that closure i closes
// meet: the centre line, the line of the holes of a flap, and so on.
func MeetingLine(p *rules.Planned, i int) string { return openingOf(p, i).line }

func firstOf(a, b *plan.Closure) *plan.Closure {
	if a != nil {
		return a
	}
	return b
}

// pieces are the pieces in one size, none where its run is not known.
func (o *opening) pieces(size int) []plan.Piece { return o.p.PiecesOf(o.first, size) }

// piece is one of them, nil if there is none.
func (o *opening) piece(size int, side plan.Side) *plan.Piece {
	pcs := o.pieces(size)
	for i := range pcs {
		if pcs[i].Side == side {
			return &pcs[i]
		}
	}
	return nil
}

// meets says whether the sides meet, with neither over the other.
func (o *opening) meets() bool {
	return o.lap == nil && (o.zip == nil || o.zip.Stand.Construction != "fly") || o.lap != nil && plan.LapOf(o.lap.Closure) == "edge"
}

// called is a piece by its name: the right front.
func (o *opening) called(pc *plan.Piece) string {
	switch {
	case pc.Side == plan.Flap:
		return "the flap"
	case o.front:
		return "the " + pc.Piece
	case pc.Side == plan.Over:
		return "the " + o.thing
	case o.cuff():
		return "the under end of the " + o.thing
	case o.bare, o.points():
		return "the cloth beneath the " + o.thing
	case o.meets():
		return "the other side of the " + o.thing
	}
	return "the under side of the " + o.thing
}

// Meets says whether the sides of the opening that closure i closes meet, with
// neither over the other.
func Meets(p *rules.Planned, i int) bool { return openingOf(p, i).meets() }

// Called is a piece of the opening that closure i closes by its name: the right
// front, the cloth beneath the flap.
func Called(p *rules.Planned, i int, pc *plan.Piece) string { return openingOf(p, i).called(pc) }

// cuff says whether the opening is that of a cuff, which laps over itself.
func (o *opening) cuff() bool { return o.p.Garment.Closures[o.first].Where == "cuff" }

// points says whether the opening is a pair of lapels or collar points, each of
// which is fastened to the front beneath it.
func (o *opening) points() bool {
	c := &o.p.Garment.Closures[o.first]
	return c.Where == "collar" && c.Pieces > 1 && !plan.Whole(c)
}

// among names a front opening where the garment has another, which has a right
// and a left front too: of the hook.
func (o *opening) among() string {
	if !o.front || o.name == "front" {
		return ""
	}
	for i := range o.p.Closures {
		if k := &o.p.Closures[i]; k.PieceOf == "" && i != o.first && plan.IsFront(k.Closure) {
			return " of the " + o.name
		}
	}
	return ""
}

// which is a piece by its name, with where it lies: the right front of the
// frogs, which lies over.
func (o *opening) which(pc *plan.Piece, of string) string {
	s := o.called(pc)
	if pc.Side == plan.Flap {
		return s
	}
	s += of
	if !o.front || o.meets() {
		return s
	}
	return s + ", which lies " + pc.Side.String()
}

// on is a piece that something is marked on: on the right front (it lies
// over).
func (o *opening) on(side plan.Side) string {
	pc := o.any(side)
	if pc == nil || side == plan.Over && !o.front { // it has the name of the closure
		return ""
	}
	s := " on " + o.called(pc)
	if o.front && side != plan.Flap && !o.meets() {
		s += " (it lies " + side.String() + ")"
	}
	return s
}

// sideName is the same without the on.
func (o *opening) sideName(side plan.Side) string {
	if pc := o.any(side); pc != nil {
		return o.called(pc)
	}
	return "the " + o.name
}

// Unsettled names what must be done before anything is said that follows from
// an edge that the file leaves no place (plan.Stand.Lost).
const Unsettled = "stand-narrow is settled"

// lost says whether the file leaves the edge of the opening no place.
func (o *opening) lost() bool { return o.lap != nil && o.lap.Stand.Lost }

// fly says whether the over front closes over holes in the layers of a fly.
func (o *opening) fly() bool {
	return o.lap != nil && o.lap.Stand.Construction == "fly" && rules.SewnHole(o.lap)
}

// any is the piece of that side in any of the sizes.
func (o *opening) any(side plan.Side) *plan.Piece {
	for _, i := range o.sizes {
		if pc := o.piece(i, side); pc != nil {
			return pc
		}
	}
	return nil
}

// len is a length as the pieces have it, like any other on paper.
func (o *opening) len(l measure.Length) string {
	if o.drafted(l) {
		return o.made(l, false)
	}
	if o.short {
		return l.Short(o.u)
	}
	return l.Text(o.u)
}

// drafted says whether a length is a stand that the file does not give, or
// where its edges lie, or what its folds come to: a least that was worked out,
// told as in the finding.
func (o *opening) drafted(l measure.Length) bool {
	if o.lap == nil || l <= 0 {
		return false
	}
	s := &o.lap.Stand
	if s.Construction == "folded" && !o.lap.Closure.Stand.Extension.Has() && l == s.Extension {
		return true
	}
	return s.Drafts && (l == s.Have || l == s.Have+s.Column || l == s.Have+s.Column+s.Seam)
}

// made is a length to make, see planner.made.
func (o *opening) made(l measure.Length, given bool) string {
	switch {
	case !o.short:
		return made(l, given, o.u)
	case given:
		return l.Short(o.u)
	}
	return l.ShortLeast(o.u)
}

// hole is the length of a hole as it is cut.
func (o *opening) hole(h *plan.Hole, l measure.Length) string { return o.made(l, fixed(h, l)) }

// strip is the width of a strip or patch of interfacing.
func (o *opening) strip(wide measure.Length) string {
	return o.made(wide, !slices.ContainsFunc(o.members, func(i int) bool {
		return slices.ContainsFunc(o.p.Closures[i].Support.Strips, func(x plan.Strip) bool { return x.Width == wide && !x.Given })
	}))
}

// out is a place across: 1 1/8 in (28.5 mm) beyond the centre line.
func (o *opening) out(l measure.Length) string { return o.outOf(l, o.line) }

// its is out where the line was named just before.
func (o *opening) its(l measure.Length) string { return o.outOf(l, "it") }

// reach is an end of what reaches across: the same, but to the line itself
// where it ends on it.
func (o *opening) reach(l measure.Length, line string) string {
	if OnLine(l) {
		return line
	}
	return o.outOf(l, line)
}

// OnLine says whether what lies so far from a line is marked on the line itself:
// a quarter of a millimetre is less than a pencil's stroke.
func OnLine(l measure.Length) bool { return l.Abs() < measure.Millimetre/4 }

func (o *opening) outOf(l measure.Length, line string) string {
	switch {
	case OnLine(l):
		return "on " + line
	case l < 0:
		return o.len(-l) + " inside " + line
	}
	return o.len(l) + " beyond " + line
}

// edge is what the finished edge of a piece is: a fold, or a seam.
func (o *opening) edge(pc *plan.Piece) string {
	if o.folds(pc) {
		return "the fold"
	}
	return "the finished edge"
}

func (o *opening) folds(pc *plan.Piece) bool {
	switch {
	case pc.Side == plan.Flap:
		return o.flap.Closure.Stand.Construction == "folded"
	case pc.Finished < 0 && o.zip != nil:
		return true
	case o.lap != nil && plan.LapOf(o.lap.Closure) != "edge":
		return o.lap.Stand.Construction == "folded" || o.lap.Stand.Construction == "band"
	}
	return false
}

// Folds says whether the finished edge of a piece, one of the opening that
// closure i closes, is a fold.
func Folds(p *rules.Planned, i int, pc *plan.Piece) bool { return openingOf(p, i).folds(pc) }

// Lies says where an area of interfacing lies on its piece, which is one of
// the opening that closure i closes: with its middle under the holes, from the
// fold inward, from the edge to past the inner column, and so on, and in
// figures.
func Lies(p *rules.Planned, i int, pc *plan.Piece, a *plan.Area) string {
	return openingOf(p, i).lies(pc, a)
}

// lies says where an area of interfacing lies on its piece: with its middle
// under the holes, from the fold inward, from the edge to past the inner
// column, and so on, and in figures.
func (o *opening) lies(pc *plan.Piece, a *plan.Area) string {
	under, body := o.liesUnder(pc, a)
	return o.head(under, pc, a) + body
}

// head is what an area has its middle under, or is level with.
func (o *opening) head(under string, pc *plan.Piece, a *plan.Area) string {
	patch := o.patch(pc, a)
	switch {
	case under != "" && patch:
		return "a patch with its middle under the " + under + ": "
	case under != "":
		return "with its middle under the " + under + "s: "
	case patch:
		return "a patch level with the " + o.level(pc, a) + ": "
	}
	return ""
}

// liesUnder is what has its middle over that of an area, "" if nothing, and
// how far the area reaches.
func (o *opening) liesUnder(pc *plan.Piece, a *plan.Area) (under, body string) {
	patch, inner := o.patch(pc, a), measure.Length(0)
	for i := range pc.Parts {
		q := &pc.Parts[i]
		if q.Kind == plan.TeethPart || q.Kind == plan.TapePart || q.Centre.At < a.From || q.Centre.At > a.To {
			continue
		}
		if q.Centre.Out == (a.OutFrom+a.OutTo)/2 && under == "" {
			under = partWord(q.Kind)
		}
		if q.Role == plan.Show && q.Centre.Out < 0 {
			inner = min(inner, q.OutFrom)
		}
		if q.Role == plan.Works && q.Kind != plan.HolePart && pc.Side == plan.Under && o.columns() {
			inner = min(inner, q.OutFrom)
		}
	}
	from, mark := o.begins(pc, a)
	if a.OutFrom == 0 {
		mark = o.line
	}
	to, past := "", ""
	switch at := a.OutFrom; {
	case inner < 0 && at <= inner:
		past = ", past the inner column"
	case pc.Edged && at == pc.Finished-o.band() && o.band() != 0:
		to = "the stitching of the band, "
		if o.sewnOn() {
			to = "the seam of the band, "
		}
	}
	end := o.reach(a.OutFrom, mark)
	if a.OutTo == 0 { // so far as it is wide: one text for both
		end = o.strip(-a.OutFrom) + " inside " + mark
	}
	s := "from " + from + " to " + to + end + past
	if o.short && patch && under != "" && a.OutTo+a.OutFrom == 0 && from == o.reach(a.OutTo, o.line) {
		if a.From == 0 {
			return under, "the first " + o.len(a.To) + o.fromTop()
		}
		return under, o.len(a.From) + " to " + o.len(a.To) + o.fromTop() // how wide it is says the rest
	}
	switch {
	case patch && a.From == 0:
		s += ", the first " + o.len(a.To) + o.fromTop()
	case patch:
		s += ", " + o.len(a.From) + " to " + o.len(a.To) + o.fromTop()
	}
	return under, s
}

// begins says where an area begins, and how the line it was told from is
// called after that.
func (o *opening) begins(pc *plan.Piece, a *plan.Area) (from, line string) {
	at := a.OutTo
	named := ""
	strip := measure.Length(0)
	for _, i := range o.members {
		if s := o.p.Garment.Closures[i].Stand.StripFromEdge; s.Has() {
			strip = s.V
		}
	}
	switch {
	case pc.Edged && at == pc.Finished:
		named = o.edge(pc)
	case pc.Side == plan.Over && o.fly() && at == pc.Finished-plan.FlyShort:
		named = "the edge of the fly"
	case pc.Edged && at == pc.Cloth:
		named = "the cut edge"
	case pc.Edged && strip != 0 && at == pc.Cloth-strip:
		named = o.len(strip) + " inside the cut edge"
	}
	switch {
	case named == "":
		return o.reach(at, o.line), "it"
	case at == 0:
		return named + ", " + o.line + ",", "it"
	}
	return named + ", " + o.out(at) + ",", "it"
}

// patch says whether an area of interfacing is shorter than the opening.
func (o *opening) patch(pc *plan.Piece, a *plan.Area) bool {
	for i := range pc.Lines {
		if l := &pc.Lines[i]; l.Kind == plan.HemLine {
			return a.From > 0 || a.To < l.From.At
		}
	}
	return false
}

// level is what a patch is level with.
func (o *opening) level(pc *plan.Piece, a *plan.Area) string {
	for i := range pc.Parts {
		if q := &pc.Parts[i]; q.Centre.At >= a.From && q.Centre.At <= a.To {
			if q.Kind == plan.EyePart {
				return EyeWord(&o.p.Closures[q.Closure])
			}
			return partWord(q.Kind)
		}
	}
	return "place"
}

// band is the finished width of the band that the edge is made of, 0 where it
// is made otherwise.
func (o *opening) band() measure.Length {
	if o.lap == nil || o.lost() || o.lap.Stand.Construction != "folded" && o.lap.Stand.Construction != "band" {
		return 0
	}
	return o.lap.Stand.Band
}

// sewnOn says whether that band is a piece of its own.
func (o *opening) sewnOn() bool { return o.band() > 0 && o.lap.Stand.Construction == "band" }

// columns says whether the fasteners stand in two columns.
func (o *opening) columns() bool { return o.lap != nil && plan.LapOf(o.lap.Closure) == "double" }

// top is what places down the opening are told from.
func (o *opening) top() string { return from(&o.p.Garment.Closures[o.first]) }

// fromTop says which way a place lies from there.
func (o *opening) fromTop() string {
	if plan.LiesAcross(&o.p.Garment.Closures[o.first]) {
		return " from " + o.top()
	}
	return " below " + o.top()
}

// From is what the places of a closure are told from.
func From(c *catalog.Closure) string { return from(c) }

// from is From, for sentences.
func from(c *catalog.Closure) string {
	switch {
	case c.Where == "fly": // of trousers as of coats
		return "the top of the fly"
	case plan.IsFront(c):
		return "the neck edge"
	case plan.LiesAcross(c):
		return "the front end of the " + c.LiesOn()
	}
	return "the top of the " + c.LiesOn()
}

// of names the closure that things are of: of the front. Where its name says
// no more than what they are it is left out.
func of(c *catalog.Closure) string {
	name := c.Name
	if kind := c.Notion.Kind; name == kind || name == text.Plural(kind) {
		if name = c.OpeningName(); name == c.Name {
			return ""
		}
	}
	return " of the " + name
}

// partWord is what a part is called.
func partWord(k plan.PartKind) string { return strings.ReplaceAll(k.String(), "-", " ") }

// set is parts of one closure that are told together: on one piece, of one
// kind and role, on one side of the meeting line.
type set struct {
	closure int
	side    plan.Side
	kind    plan.PartKind
	role    plan.Role
	beyond  bool // of the meeting line
}

// in are the parts of the set on a piece.
func (s *set) in(pc *plan.Piece) []*plan.Part {
	var out []*plan.Part
	for i := range pc.Parts {
		if q := &pc.Parts[i]; s.has(q) {
			out = append(out, q)
		}
	}
	return out
}

func (s *set) has(q *plan.Part) bool {
	return int(q.Closure) == s.closure && q.Kind == s.kind && q.Role == s.role && q.Centre.Out > 0 == s.beyond
}

// sets are the sets of a piece, in the order of its parts.
func sets(pc *plan.Piece) []set {
	var out []set
	for i := range pc.Parts {
		q := &pc.Parts[i]
		s := set{int(q.Closure), pc.Side, q.Kind, q.Role, q.Centre.Out > 0}
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// find is the set of the closure on that side whose parts are of one of those
// kinds and have that role; false if it has none in any size.
func (o *opening) find(closure int, side plan.Side, role plan.Role, kinds ...plan.PartKind) []set {
	var out []set
	for _, i := range o.sizes {
		pc := o.piece(i, side)
		if pc == nil {
			continue
		}
		for _, s := range sets(pc) {
			if s.closure == closure && s.role == role && slices.Contains(kinds, s.kind) && !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	return out
}

// fastenerKinds are the parts that are fasteners.
var fastenerKinds = []plan.PartKind{
	plan.ButtonPart, plan.TackPart, plan.SnapCap, plan.SnapStud, plan.RivetPart, plan.EyeletPart,
	plan.TogglePart, plan.FrogPart, plan.HookPart, plan.EyePart,
}

// outs are the places across of parts; same says whether they are all one.
func outs(qs []*plan.Part) (ls []measure.Length, same bool) {
	same = true
	for _, q := range qs {
		ls = append(ls, q.Centre.Out)
		same = same && q.Centre.Out == qs[0].Centre.Out
	}
	return ls, same
}

// uniform is the one place across that the parts of a set have in those sizes;
// false where they differ, or where there are none.
func (o *opening) uniform(s *set, sizes []int) (out measure.Length, is bool) {
	for _, i := range sizes {
		pc := o.piece(i, s.side)
		if pc == nil {
			continue
		}
		for _, q := range s.in(pc) {
			if is && q.Centre.Out != out {
				return 0, false
			}
			out, is = q.Centre.Out, true
		}
	}
	return out, is
}

// inRows are the numbers of parts in words: rows 3 to 5.
func inRows(qs []*plan.Part) string {
	var runs []string
	first, last, n := int32(0), int32(0), 0
	flush := func() {
		switch {
		case first == 0:
		case first == last:
			runs = append(runs, strconv.Itoa(int(first)))
		case last == first+1:
			runs = append(runs, strconv.Itoa(int(first)), strconv.Itoa(int(last)))
		default:
			runs = append(runs, strconv.Itoa(int(first))+" to "+strconv.Itoa(int(last)))
		}
	}
	for _, q := range qs {
		if q.Number != last+1 || first == 0 {
			flush()
			first = q.Number
		}
		last = q.Number
		n++
	}
	flush()
	if n == 1 {
		return "row " + runs[0]
	}
	return "rows " + text.And(runs...)
}

// ats are the places down of parts.
func (o *opening) ats(qs []*plan.Part) string {
	texts := make([]string, len(qs))
	for i, q := range qs {
		texts[i] = o.place(q.Centre.At)
	}
	return strings.Join(texts, ", ")
}

// place is a place down the opening, as it is marked.
func (o *opening) place(l measure.Length) string { return l.ShortPlace(o.u) }

// across is where parts lie across, each for itself where they differ: 3 in,
// 2 7/8 in, 2 3/4 in beyond the centre line.
func (o *opening) across(qs []*plan.Part) string {
	ls, same := outs(qs)
	if same {
		return o.out(ls[0])
	}
	texts := make([]string, len(ls))
	for i, l := range ls {
		texts[i] = l.Abs().Short(o.u)
	}
	side := " beyond "
	if ls[0] < 0 {
		side = " inside "
	}
	return strings.Join(texts, ", ") + side + o.line
}

// down is where parts lie, for one size: their rows where the closure has rows
// for show, how far down, and how far across where they differ.
func (o *opening) down(s *set, size int, across bool) string {
	pc := o.piece(size, s.side)
	if pc == nil {
		return "not laid out, see above"
	}
	qs := s.in(pc)
	switch {
	case len(qs) == 0 && !o.p.Closures[s.closure].Sizes[size].Solved:
		return "not laid out, see above"
	case len(qs) == 0:
		return "none"
	}
	out := o.ats(qs)
	if o.hasRows(s) {
		out = inRows(qs) + " at " + out
	}
	if across {
		out += "; " + o.across(qs)
	}
	return out
}

// hasRows says whether the parts stand in the rows of a double-breasted front.
func (o *opening) hasRows(s *set) bool {
	for i := range o.p.Closures[s.closure].Sizes {
		if len(o.p.Closures[s.closure].Sizes[i].Rows) > 0 {
			return true
		}
	}
	return false
}

// ends are the places across of one end of several parts: one where they
// agree.
func (o *opening) ends(qs []*plan.Part, of func(q *plan.Part) measure.Length, line string) string {
	var ls []measure.Length
	same, sides := true, true
	for _, q := range qs {
		ls = append(ls, of(q))
		same = same && of(q) == ls[0]
		sides = sides && cmp.Compare(of(q), 0)*cmp.Compare(ls[0], 0) == 1 // all beyond, or all inside
	}
	if same {
		return o.reach(ls[0], line)
	}
	texts := make([]string, len(ls))
	for i, l := range ls {
		if texts[i] = o.reach(l, o.line); sides {
			texts[i] = l.Abs().Short(o.u)
		}
	}
	says := strings.Join(texts, ", ")
	switch {
	case !sides:
		return says
	case ls[0] < 0:
		return says + " inside " + line
	}
	return says + " beyond " + line
}

func outTo(q *plan.Part) measure.Length { return q.OutTo }

func outFrom(q *plan.Part) measure.Length { return q.OutFrom }

// cutOf is where the cut of a hole begins, towards the edge or above its mark,
// and where it ends, inside or below it, told from the mark; of a hole that is
// not cut, its stitching.
func cutOf(q *plan.Part, along bool) (begins, ends measure.Length) {
	bar := measure.Length(0)
	if q.Cut > 0 {
		bar = (q.Stitched - q.Cut) / 2
	}
	if along {
		return q.Centre.At - q.From - bar, q.To - bar - q.Centre.At
	}
	return q.OutTo - bar - q.Centre.Out, q.Centre.Out - q.OutFrom - bar
}

// one is a part of the set, of the first size that has any; nil if none has.
func (o *opening) one(s *set) (*plan.Piece, *plan.Part) {
	for _, i := range o.sizes {
		if pc := o.piece(i, s.side); pc != nil {
			if qs := s.in(pc); len(qs) != 0 {
				return pc, qs[0]
			}
		}
	}
	return nil, nil
}

// holeLies says how each hole of a set lies about its mark; several says that
// it is told of more than one.
func (o *opening) holeLies(s *set, several bool) string {
	_, q := o.one(s)
	if q == nil {
		return ""
	}
	along := o.p.Closures[s.closure].Hole.Direction == "along"
	on, mark, each := "", "its mark", ""
	if several {
		each = "each "
	}
	if out, is := o.uniform(s, o.sizes); is {
		switch {
		case out == 0 && !along:
			mark = o.line
		case out == 0:
			on = "on " + o.line + ", "
		default:
			on, mark = "on the line "+o.out(out)+", ", "that line"
		}
	}
	return each + on + o.about(q, along, mark)
}

// about says how a hole lies about its mark.
func (o *opening) about(q *plan.Part, along bool, mark string) string {
	begins, ends := cutOf(q, along)
	if along && plan.LiesAcross(&o.p.Garment.Closures[q.Closure]) {
		return "from " + o.len(begins) + " short of the mark to " + o.len(ends) + " past it"
	}
	if along {
		return "from " + o.len(begins) + " above the mark to " + o.len(ends) + " below it"
	}
	return "from " + o.len(begins) + " beyond " + mark + " towards the edge, to " + o.len(ends) + " inside it"
}
