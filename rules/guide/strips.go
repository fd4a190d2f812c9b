package guide

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
	"placketeer/rules/work"
)

// A strip shows one closure in one size as it lies when it is closed, seen
// from outside, and across only as far as its marks: a double-breasted front
// has a strip a column.

const (
	stripMost  = 63.0 // across: three lie side by side on A4 and Letter
	stripPad   = 2.0
	stripEdge  = 4.6 // beyond a line, for its name
	stripTag   = 8.5 // beside the marks, the number before its label
	stripLeast = 30.0
	stripPitch = 3.7
	farOff     = 40.0 // from its place, nobody looks for a label
)

// slip is what a strip shows.
type slip struct {
	*opening
	closure int
	column  int // 1 towards the over piece's edge, -1 inside; 0 where there is one
}

var columnWords = map[int]string{1: "outer column", -1: "inner column"}

// name is what a strip is called, with its sizes or without.
func (s *slip) name(sizes bool) string {
	name := s.p.Closures[s.closure].Closure.Name
	if w := columnWords[s.column]; w != "" {
		name += ", " + w
	}
	if w := s.sizeWords(); w != "" && sizes {
		name += ", " + w
	}
	return name
}

// closed is 1 where what lies out on a piece lies out on the closed garment,
// told on the over piece, and -1 where it lies inside.
func closed(pc *plan.Piece) int {
	if pc.Side == plan.Under {
		return -1
	}
	return 1
}

// has says whether a part is on the strip.
func (s *slip) has(pc *plan.Piece, q *plan.Part) bool {
	return int(q.Closure) == s.closure && s.shows(pc) && (s.column == 0 || cmp.Compare(q.Centre.Out, 0)*closed(pc) == s.column)
}

// slips are the strips of an opening.
func (o *opening) slips() []*slip {
	var out []*slip
	for _, i := range o.members {
		c := o.p.Closures[i].Closure
		columns := []int{0}
		if c.Lap == "double" && !c.Flap.Has() && !o.p.Closures[i].Zip.Needed {
			columns = []int{1, -1}
		}
		for _, column := range columns {
			s := &slip{o, i, column}
			if slices.ContainsFunc(o.pieces, func(pc plan.Piece) bool {
				return slices.ContainsFunc(pc.Parts, func(q plan.Part) bool { return s.has(&pc, &q) })
			}) {
				out = append(out, s)
			}
		}
	}
	return out
}

// strips lays the strips out, as many side by side as the paper takes. It
// gives what no strip shows, to be drawn in full, and says why.
func strips(parts []*opening, f *faces, on *paper) (sheets []*sheet, full []*opening, left []string) {
	out := pile{on: on}
	type wide struct {
		closure int
		column  int
		most    float64
	}
	var all []*slip
	var tooWide []wide
	none := map[string]bool{}
	order := map[*opening]int{}
	for i, o := range parts {
		order[o] = i
		slips := o.slips()
		all = append(all, slips...)
		if name := text.And(o.names()...); len(slips) == 0 {
			full = append(full, o)
			if !none[name] {
				none[name] = true
				left = append(left, name+": it has no places, see what check says")
			}
		}
	}
	// The sizes of a closure beside each other.
	slices.SortStableFunc(all, func(a, b *slip) int {
		return cmp.Or(cmp.Compare(a.closure, b.closure), -cmp.Compare(a.column, b.column))
	})
	var row []*panel
	var names []*slip
	var shelf *shelves
	across := 0.0
	flush := func() {
		if len(row) > 0 {
			s := &sheet{list: list{faces: f}, name: nameOf(names), gapless: true}
			s.level(row, 0)
			if on != nil {
				s.lay(on.inner())
			} else {
				s.lay(s.w, s.h)
				s.tile(0, 0).nameLines(&s.list, &list{faces: f, items: slices.Clone(s.items)}, 0, 0)
			}
			out.add(s)
		}
		row, names, across = nil, nil, 0
	}
	long := func(p *panel, s *slip) {
		if on != nil {
			if w, _ := on.inner(); across+p.box.x1 > w {
				flush()
			}
		}
		row, names, across = append(row, p), append(names, s), across+p.box.x1
	}
	// Where one column is too wide, the full drawing shows the other as well.
	type of struct {
		*opening
		closure int
	}
	gone := map[of]bool{}
	for _, s := range all {
		_, most := s.draw(f, false)
		if most == 0 {
			continue
		}
		i := slices.IndexFunc(tooWide, func(w wide) bool { return w.closure == s.closure && w.column == s.column })
		if i < 0 {
			i = len(tooWide)
			tooWide = append(tooWide, wide{s.closure, s.column, 0})
		}
		tooWide[i].most = max(tooWide[i].most, most)
		gone[of{s.opening, s.closure}] = true
		if !slices.Contains(full, s.opening) {
			full = append(full, s.opening)
		}
	}
	for _, s := range all {
		if gone[of{s.opening, s.closure}] {
			continue
		}
		p, _ := s.draw(f, true)
		if on == nil {
			long(p, s)
			continue
		}
		w, h := on.inner()
		if p.box.y1 > h {
			long(p, s)
			continue
		}
		if shelf == nil || !shelf.add(s.name(true), []*panel{p}) {
			if shelf != nil {
				shelf.lay(w, h)
				out.add(shelf.sheet)
			}
			shelf = &shelves{sheet: &sheet{list: list{faces: f}, w: w, h: h, gapless: true}}
			shelf.add(s.name(true), []*panel{p})
		}
	}
	flush()
	if shelf != nil {
		shelf.lay(shelf.w, shelf.h)
		out.add(shelf.sheet)
	}
	for _, w := range tooWide {
		its, units := "its marks take", parts[0].p.Garment.Units
		if w.column != 0 {
			its = "the marks of its " + columnWords[w.column] + " take"
		}
		left = append(left, fmt.Sprintf("%s: %s %s across, and a strip is at most %s wide", parts[0].p.Closures[w.closure].Closure.Name, its, measure.FromMM(math.Ceil(w.most)).Text(units), measure.FromMM(stripMost).Text(units)))
	}
	slices.SortStableFunc(full, func(a, b *opening) int { return cmp.Compare(order[a], order[b]) })
	return out.sheets, full, left
}

// nameOf names strips side by side: each closure and column with its sizes.
func nameOf(all []*slip) string {
	var names []string
	for i, s := range all {
		if i > 0 && all[i-1].closure == s.closure && all[i-1].column == s.column {
			continue
		}
		together := *s.opening
		together.sizes = nil
		for _, o := range all[i:] {
			if o.closure != s.closure || o.column != s.column {
				break
			}
			together.sizes = append(together.sizes, o.sizes...)
		}
		names = append(names, (&slip{&together, s.closure, s.column}).name(true))
	}
	return strings.Join(names, "; ")
}

// entry is what is written on a strip about a place.
type entry struct {
	v      float64 // where the place lies
	want   float64 // the middle of what is written
	number int     // 0 without
	lines  []string
	bold   bool
	spot   *spot
}

func (e *entry) high() float64 { return stripPitch*float64(len(e.lines)) + 1.6 }

// both is a spot of the closed garment: what both pieces have there.
type both struct {
	*spot
	roles []string
}

// draw draws a strip, or says how wide its marks are where that is too much;
// where it is only asked that, nothing is drawn.
func (s *slip) draw(f *faces, all bool) (out *panel, most float64) {
	o := s.opening
	k := &o.p.Closures[s.closure]
	d := &drawer{opening: o, units: o.p.Garment.Units, end: o.run(), strip: true, unitOf: map[*plan.Part]int{}}
	d.panel.faces = f
	// The piece whose lines are drawn: the first that is shown and has parts.
	turn := func(pc *plan.Piece) {
		d.pc, d.sign, d.beneath = pc, o.sign(pc), pc.Side == plan.Under && o.side == ""
		d.places = []string{"data-opening", o.closure().OpeningName(), "data-sizes", strings.Join(o.sizes, " "), "data-side", pc.Side.String()}
	}
	var ref *plan.Piece
	for i := range o.pieces {
		pc := &o.pieces[i]
		if o.shows(pc) && slices.ContainsFunc(pc.Parts, func(q plan.Part) bool { return s.has(pc, &q) }) && (ref == nil || ref.Side == plan.Under) {
			ref = pc
		}
	}
	turn(ref)

	// How wide it is: its marks, its line, then its edge and its words where
	// there is room.
	marks := nowhere
	var spots []*both
	for i := range o.pieces {
		pc := &o.pieces[i]
		turn(pc)
		for j := range pc.Parts {
			q := &pc.Parts[j]
			if !s.has(pc, q) {
				continue
			}
			r := partQuad(q)
			marks = marks.join(boxOf([]pt{d.at(r.a, r.v), d.at(r.b, r.w)}, 0.5))
			if !numbered(q) {
				continue
			}
			marks = marks.join(boxOf([]pt{d.point(q.Centre)}, 3.2))
			s.gather(&spots, pc, q)
		}
	}
	turn(ref)
	slices.SortStableFunc(spots, func(a, b *both) int { return cmp.Compare(a.centre.At, b.centre.At) })
	line := s.line(ref)
	if line != nil {
		marks = marks.join(boxOf([]pt{d.point(line.From), d.point(line.To)}, 0.5))
	}
	x0, x1 := marks.x0-stripPad, marks.x1+stripPad
	if x1-x0 > stripMost {
		return nil, x1 - x0
	}
	if !all {
		return nil, 0
	}
	for i := range ref.Lines {
		if l := &ref.Lines[i]; l.Kind == plan.EdgeLine {
			if e := d.point(l.From).x; max(x1, e+stripEdge)-min(x0, e-stripEdge) <= stripMost {
				x0, x1 = min(x0, e-stripEdge), max(x1, e+stripEdge)
			}
		}
	}
	var entries []*entry
	for _, b := range spots {
		entries = append(entries, s.entry(d, b))
	}
	words := s.wide(f, entries)
	beside := x1-x0+words+stripTag+1 <= stripMost
	if !beside && s.column == 0 && tight(entries) {
		// No room for a label between two places: beside them, shorter, and where
		// it must be without the edge.
		short := make([]string, len(entries))
		for i, e := range entries {
			short[i], e.lines[0] = e.lines[0], e.spot.centre.At.ShortPlace(d.units)
		}
		brief := s.wide(f, entries)
		switch a, b := marks.x0-stripPad, marks.x1+stripPad; {
		case x1-x0+brief+stripTag+1 <= stripMost:
			words, beside = brief, true
		case b-a+brief+stripTag+1 <= stripMost:
			x0, x1, words, beside = a, b, brief, true
		default:
			for i, e := range entries {
				e.lines[0] = short[i]
			}
		}
	}
	inner := -d.sign // towards the inside
	label := span{}  // across, where the words are
	switch wide := max(words+stripTag+1, stripLeast); {
	case beside:
		wide = min(wide, stripMost-(x1-x0))
		if inner < 0 {
			label = span{x0 - wide, x0}
			x0 -= wide
		} else {
			label = span{x1, x1 + wide}
			x1 += wide
		}
	default:
		if more := min(wide, stripMost) - (x1 - x0); more > 0 && inner < 0 {
			x0 -= more
		} else if more > 0 {
			x1 += more
		}
		label = span{x0, x1}
	}

	// Below everything: zones, lines, anchors.
	name := func(l *plan.Line) {
		d.nameLine(l.From, l.To, d.lineWords(l))
	}
	for i := range ref.Areas {
		a := &ref.Areas[i]
		if a.Kind != plan.ClearArea {
			continue
		}
		q := areaQuad(a)
		d.place("area-clear", "data-out-from-mm", mm(a.OutFrom), "data-out-to-mm", mm(a.OutTo), "data-from-mm", mm(a.From), "data-to-mm", mm(a.To), "data-name", a.Name)
		d.hatch(penHatch, rect{x0, q.v, x1, q.w}, hatchEvery)
		d.line(penClear, pt{x0, q.v}, pt{x1, q.v})
		d.line(penClear, pt{x0, q.w}, pt{x1, q.w})
		entries = append(entries, &entry{v: (q.v + q.w) / 2, want: (q.v + q.w) / 2, lines: d.faces.wrap(a.Name+": keep clear "+stretch("", a.From.ShortPlace(d.units), a.To.ShortPlace(d.units)), small, label.to-label.from-3)})
	}
	for i := range ref.Lines {
		l := &ref.Lines[i]
		a, b := d.point(l.From), d.point(l.To)
		p := d.lineBegins(l)
		switch l.Kind {
		case plan.StripeLine, plan.TurnUpLine:
			continue
		case plan.TopLine, plan.HemLine:
			d.line(p, pt{x0, a.y}, pt{x1, a.y})
			says := d.endWords(l)
			e := &entry{v: a.y, want: a.y + 3.4, lines: d.faces.wrap(says, small, label.to-label.from-3)}
			if at := strings.Index(says, " ("); at > 0 && len(e.lines) > 1 { // a length is not broken
				e.lines = []string{says[:at], says[at+1:]}
			}
			if l.Kind == plan.HemLine {
				e.want = a.y - 3 - stripPitch*float64(len(e.lines)-1)/2
				d.hems = append(d.hems, ending{pt{(x0 + x1) / 2, a.y}, says, x1 - x0})
			}
			entries = append(entries, e)
		default:
			if min(a.x, b.x) < x0 || max(a.x, b.x) > x1 {
				continue
			}
			d.line(p, a, b)
			switch {
			case l.Kind == plan.TackLine:
			case l == line && s.column != 0 && l.From.Out == l.To.Out:
				// A strip is laid along its column, from the top to the end.
				whole := plan.Line{Kind: l.Kind, From: plan.Point{Out: l.From.Out}, To: plan.Point{Out: l.To.Out, At: endOf(ref, l.To.At)}}
				d.named("lay")
				d.line(p, d.point(whole.From), a)
				d.line(p, b, d.point(whole.To))
				name(&whole)
			default:
				name(l)
			}
		}
	}
	for _, a := range k.Closure.Run.Anchors {
		at, within := a.At.At(d.index).V, a.Within.At(d.index).Or(plan.AnchorWithin(d.units))
		if v := at.MM(); v <= d.end {
			d.named("anchor", "data-name", a.Name, "data-run-mm", num(v), "data-within-mm", num(within.MM()))
			d.line(penAnchor, pt{x0, v}, pt{x1, v})
			entries = append(entries, &entry{v: v, want: v, lines: d.faces.wrap(anchorWords(a.Name, at, within, d.units), small, label.to-label.from-3)})
		}
	}
	for i := range o.pieces {
		pc := &o.pieces[i]
		turn(pc)
		for j := range pc.Parts {
			if q := &pc.Parts[j]; s.has(pc, q) {
				d.part(q)
				if q.Kind == plan.TeethPart && pc == ref {
					top, end := q.From.MM(), q.To.MM() // told clear of the ends of the run
					entries = append(entries,
						&entry{v: top, want: max(top, 6.8), lines: []string{d.topStop(q)}},
						&entry{v: end, want: min(end, d.end-6.4), lines: []string{"bottom stop " + q.To.ShortPlace(d.units)}})
				}
			}
		}
	}
	turn(ref)
	if !k.Zip.Needed && !o.size(s.closure).Solved {
		entries = append(entries, &entry{v: d.end / 2, want: d.end / 2, lines: []string{"no places: see what check says"}, bold: true})
	}
	s.write(d, entries, label, beside)
	d.hold(quad{-0.5, 0.5, 0, 1}) // where it is laid on
	if line == nil || s.column != 0 {
		d.marks = d.marks[:len(d.marks)-1]
		d.mark(rect{x0 + 1, -1, x1 - 1, 1})
	}
	return s.finish(d, x0, x1), 0
}

// gather adds a part to the spot that it belongs to.
func (s *slip) gather(spots *[]*both, pc *plan.Piece, q *plan.Part) {
	centre := q.Centre
	r := partQuad(q)
	if pc.Side == plan.Under {
		centre.Out = -centre.Out
		r.a, r.b = -r.b, -r.a
	}
	i := slices.IndexFunc(*spots, func(b *both) bool { return b.number == int(q.Number) && b.centre.At == centre.At })
	if i < 0 {
		i = len(*spots)
		*spots = append(*spots, &both{spot: &spot{closure: s.closure, number: int(q.Number), centre: centre, box: r}})
	}
	b := (*spots)[i]
	b.parts = append(b.parts, q)
	b.cover(r)
	role := ""
	switch {
	case q.Role == plan.Works:
		role = "works"
	case q.Role == plan.Show && q.Kind == plan.HolePart:
		role = "show, sewn and not cut"
	case q.Role == plan.Show && !slices.ContainsFunc(b.roles, func(r string) bool { return strings.HasPrefix(r, "show") }):
		role = "show"
	case q.Role == plan.Inner && q.Kind == plan.HolePart:
		role = "hole of the inner button"
	case q.Role == plan.Inner:
		role = "inner button inside"
	}
	if role != "" && !slices.Contains(b.roles, role) {
		b.roles = append(b.roles, role)
	}
}

// entry is what is written beside a spot.
func (s *slip) entry(d *drawer, b *both) *entry {
	e := &entry{v: b.centre.At.MM(), number: b.number, lines: []string{b.centre.At.TextPlace(d.units)}, bold: true, spot: b.spot}
	if s.column != 0 {
		st := small
		for _, l := range []string{fmt.Sprintf("row %d: %s", b.number, strings.Join(b.roles, "; ")), d.from(b.spot)} {
			e.lines = append(e.lines, d.faces.wrap(l, st, stripMost-stripTag-4)...)
		}
	} else if w := d.from(b.spot); w != "" {
		e.lines = append(e.lines, w)
	}
	e.want = e.v
	return e
}

// wide is how wide the widest of their lines is.
func (s *slip) wide(f *faces, entries []*entry) (most float64) {
	for _, e := range entries {
		for i, l := range e.lines {
			st := small
			if i == 0 {
				st = strong
			}
			most = max(most, f.width(f.printable(l), st.size, st.bold))
		}
	}
	return most
}

// tight says whether two places lie so near each other that what is written of
// one has no room between them.
func tight(entries []*entry) bool {
	for i := 1; i < len(entries); i++ {
		if a, b := entries[i-1], entries[i]; b.spot.box.v-a.spot.box.w < a.high()+1.2 {
			return true
		}
	}
	return false
}

// endOf is where the run of a piece ends, or what is said where it has no end.
func endOf(pc *plan.Piece, or measure.Length) measure.Length {
	for i := range pc.Lines {
		if l := &pc.Lines[i]; l.Kind == plan.HemLine {
			return l.From.At
		}
	}
	return or
}

// line is the line on which a strip is laid.
func (s *slip) line(pc *plan.Piece) *plan.Line {
	for i := range pc.Lines {
		l := &pc.Lines[i]
		switch l.Kind {
		case plan.CentreLine, plan.MeetingLine:
			if s.column == 0 {
				return l
			}
		case plan.ColumnLine:
			if s.column != 0 && cmp.Compare(l.From.Out, 0)*closed(pc) == s.column {
				return l
			}
		}
	}
	return nil
}

// write writes on a strip: beside the marks, or between them.
func (s *slip) write(d *drawer, entries []*entry, label span, beside bool) {
	slices.SortStableFunc(entries, func(a, b *entry) int { return cmp.Compare(a.want, b.want) })
	at, far := make([]float64, len(entries)), false
	if !beside {
		var taken []span
		for _, e := range entries {
			if e.spot != nil {
				taken = append(taken, span{e.spot.box.v - 0.6, e.spot.box.w + 0.6})
				e.want = e.spot.box.w + 1.4 + e.high()/2
			}
		}
		// What tells of a place first, then what crosses the run.
		for _, places := range []bool{true, false} {
			for i, e := range entries {
				if (e.spot != nil) != places {
					continue
				}
				at[i] = free(taken, e.want, e.high())
				taken = append(taken, span{at[i] - e.high()/2, at[i] + e.high()/2})
				far = far || math.Abs(at[i]-e.want) > farOff
			}
		}
	}
	if far { // where fasteners overlap, on what it tells of
		for _, e := range entries {
			if e.spot != nil {
				e.want = e.v
			}
		}
		slices.SortStableFunc(entries, func(a, b *entry) int { return cmp.Compare(a.want, b.want) })
	}
	if beside || far {
		var want, high []float64
		for _, e := range entries {
			want, high = append(want, e.want), append(high, e.high())
		}
		at = spread(want, high)
	}
	for i, e := range entries {
		y := at[i]
		data := []string{"data-closure", d.p.Closures[s.closure].Closure.Name}
		if e.number > 0 {
			data = append(data, "data-number", strconv.Itoa(e.number))
		}
		d.named("label", data...)
		d.whole()
		first := len(d.items)
		room := 0.0
		if e.number > 0 {
			room = 6
		}
		wide := 0.0
		for j, l := range e.lines {
			st := s.style(e, j)
			wide = max(wide, room+d.faces.width(d.faces.printable(l), st.size, st.bold))
		}
		x := label.from + 1.5
		if !beside || d.sign < 0 {
			x = (label.from + label.to - wide) / 2
		}
		top := y - stripPitch*float64(len(e.lines))/2
		if e.spot != nil && (beside && math.Abs(y-e.want) > 1.5 || !beside && math.Abs(y-e.want) > 6) {
			edge := x + wide + 0.6
			if d.sign < 0 {
				edge = x - 0.6
			}
			if !beside {
				edge = x + wide/2
			}
			d.line(penThin, pt{edge, y}, d.point(e.spot.centre))
		}
		if e.number > 0 {
			d.badge(e.number, pt{x + 2.4, top + stripPitch/2})
		}
		for j, l := range e.lines {
			d.text(l, x+room, top+stripPitch*float64(j)+2.9, s.style(e, j))
		}
		d.loose()
		if e.spot != nil {
			d.labelled(e.spot, first)
		}
	}
}

func (s *slip) style(e *entry, line int) style {
	st := small
	if e.bold && line == 0 {
		st = strong
	}
	return st
}

// free is the place nearest to a wish at which so much lies clear of what is
// taken.
func free(taken []span, want, high float64) float64 {
	clear := func(y float64) bool {
		return !slices.ContainsFunc(taken, func(t span) bool { return y-high/2 < t.to-1e-9 && y+high/2 > t.from+1e-9 })
	}
	best := math.Inf(1)
	try := func(y float64) {
		if math.Abs(y-want) < math.Abs(best-want) && clear(y) {
			best = y
		}
	}
	try(want)
	for _, t := range taken {
		try(t.to + high/2)
		try(t.from - high/2)
	}
	return best
}

// finish writes the head of a strip and draws its sides.
func (s *slip) finish(d *drawer, x0, x1 float64) *panel {
	b := d.bounds()
	y, end := min(b.y0, 0)-2.5, max(b.y1, d.end)+2
	var head []string
	first := s.name(true)
	rest := []string{s.lays(d)}
	if n := s.p.Closures[s.closure].Closure.Pieces; n > 1 {
		rest = append(rest, pieceWords(n))
	}
	for _, r := range rest {
		head = append(head, d.faces.wrap(r, small, x1-x0-3)...)
	}
	d.named("panel-title")
	for i := len(head) - 1; i >= 0; i-- {
		d.keep = append(d.keep, d.text(head[i], x0+1.5, y, small))
		y -= 3.4
	}
	y -= 0.4
	lines := d.faces.wrap(first, strong, x1-x0-3)
	for i := len(lines) - 1; i >= 0; i-- {
		d.keep = append(d.keep, d.text(lines[i], x0+1.5, y, strong))
		y -= 4
	}
	d.named("strip-side")
	d.line(penThin, pt{x0, y}, pt{x0, end})
	d.line(penThin, pt{x1, y}, pt{x1, end})
	d.lines = append(d.lines, lineName{from: pt{x0, min(y, 0)}, to: pt{x0, end}, names: []string{first}})
	out := &panel{list: list{faces: d.faces}, name: first, topY: -y, box: rect{0, 0, x1 - x0, end - y}}
	out.put(&d.panel.list, -x0, -y)
	move := func(rs []rect) (out []rect) {
		for _, r := range rs {
			out = append(out, r.moved(-x0, -y))
		}
		return out
	}
	out.keep, out.marks = move(d.keep), move(d.marks)
	for _, e := range d.hems {
		out.hems = append(out.hems, ending{pt{e.at.x - x0, e.at.y - y}, e.text, e.wide})
	}
	for _, n := range d.lines {
		out.lines = append(out.lines, n.moved(-x0, -y))
	}
	return out
}

// lays says what a strip shows and on what line it is laid.
func (s *slip) lays(d *drawer) string {
	var on, under []string
	for i := range s.pieces {
		pc := &s.pieces[i]
		for j := range pc.Parts {
			if q := &pc.Parts[j]; s.has(pc, q) {
				word := strings.ReplaceAll(q.Kind.String(), "-", " ")
				switch q.Kind {
				case plan.TapePart, plan.CordPart, plan.BackingPart:
					continue
				case plan.TeethPart:
					word = "zip"
				case plan.EyePart:
					word = work.EyeWord(&d.p.Closures[q.Closure])
				}
				list := &on
				if pc.Side == plan.Under {
					list = &under
				}
				if !slices.Contains(*list, word) {
					*list = append(*list, word)
				}
			}
		}
	}
	says := text.And(on...)
	switch {
	case says == "zip" && slices.Equal(on, under):
		says = "both halves of the zip"
	case slices.Equal(on, under):
		says += " on both sides"
	case len(under) > 0:
		says = text.Join("; ", says, "underneath "+text.And(under...))
	}
	line := ""
	switch l := s.line(d.pc); {
	case l == nil:
	case s.column == 0:
		line = "laid on the " + d.lineWords(l)
	case l.From.Out == l.To.Out:
		line = "laid on the column, " + l.From.Out.Abs().Short(d.units) + " from the centre line"
	default:
		line = "laid on the column"
	}
	return text.Capital(text.Join("; ", says, line))
}
