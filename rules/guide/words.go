package guide

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// ends names the top and the end of the run.
func (d *drawer) ends(l *plan.Line) {
	name := d.endWords(l)
	if l.Kind == plan.HemLine {
		d.hems = append(d.hems, ending{at: d.at(0, l.From.At.MM()), text: name})
	}
	d.inside(l.From.At.MM(), l.Kind == plan.TopLine, true, name)
}

// endWords are the name of the top or the end of the run.
func (d *drawer) endWords(l *plan.Line) string {
	switch {
	case l.Kind == plan.TopLine && plan.LiesAcross(d.closure()):
		return "front end"
	case l.Kind == plan.TopLine && (d.short() || d.closure().Where == "fly"):
		return "top"
	case l.Kind == plan.TopLine:
		return "neck edge"
	case d.short() || d.p.Garment.HemAt == "none":
		return "end " + d.length(l.From.At)
	}
	return "hem " + d.length(l.From.At)
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

// writeNotes writes what stands on the cloth, or beside the piece where it is
// too long or something is written there.
func (d *drawer) writeNotes() {
	d.named("label")
	for _, n := range d.notes {
		wide := d.faces.width(n.text, n.size, n.style.bold) + 1.5
		b := boxOf([]pt{d.at(d.in, n.v-0.8*n.size), d.at(d.in+wide, n.v+0.3*n.size)}, 0)
		if wide > d.out-d.in || slices.ContainsFunc(d.items, func(i item) bool { return i.pen == nil && i.box.meets(b) }) {
			d.labels = append(d.labels, sideLabel{n.v, n.text, n.style.bold})
			continue
		}
		d.textOut(n.text, d.in+0.8, n.v, n.style)
		if n.bold {
			d.keep = append(d.keep, d.items[len(d.items)-1].box)
		}
	}
}

// length is a length as the guide labels it.
func (d *drawer) length(l measure.Length) string {
	if d.small() {
		return l.ShortPlace(d.units)
	}
	return l.TextPlace(d.units)
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
	line := d.meetingLine()
	out := s.centre.Out.Abs()
	if st := &d.p.Closures[s.closure].Stand; st.Drafts && (out == st.Have || out == st.Have+st.Column) {
		return out.ShortLeast(d.units) + " from the " + line // drafted, as the other papers tell it
	}
	return out.Short(d.units) + " from the " + line
}

// words writes beside every place where it lies and what it is for.
func (d *drawer) words() {
	spots := d.spots()
	mixed, several := d.mixed(), d.several()
	var columns [2][]*spot // on either side of a double-breasted front
	var single, apart []*spot
	for _, s := range spots {
		c := d.p.Closures[s.closure].Closure
		switch {
		case d.p.Closures[s.closure].Apart():
			apart = append(apart, s) // beside its patch it would not fit a page
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
	for _, s := range single {
		inner = min(inner, s.box.a)
	}
	for i := range d.pc.Areas {
		if a := &d.pc.Areas[i]; a.Kind == plan.PatchArea || a.Kind == plan.InterfacingArea && a.From > 0 {
			inner = min(inner, a.OutFrom.MM())
		}
	}
	d.beside(single, words, inner-labelGap)
	d.under(apart, words, 60)
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
		d.whole()
		first := len(d.items)
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
		d.loose()
		d.labelled(s, first)
	}
}

// held are the parts of a place, and the cord that its fastener hangs on.
func (d *drawer) held(s *spot) []*plan.Part {
	out := slices.Clone(s.parts)
	if !d.p.Closures[s.closure].Loop.Needed {
		return out
	}
	for i := range d.pieces {
		for j := range d.pieces[i].Parts {
			q := &d.pieces[i].Parts[j]
			if _, is := d.unitOf[q]; is && q.Kind == plan.CordPart && int(q.Closure) == s.closure && int(q.Number) == s.number {
				out = append(out, q)
			}
		}
	}
	return out
}

// labelled holds a place together with its label, which was drawn from that
// item on: a page shows both or none, where they are not too large for that.
func (d *drawer) labelled(s *spot, first int) {
	b := d.drawn(first, 0).join(boxOf([]pt{d.at(s.box.a, s.box.v), d.at(s.box.b, s.box.w)}, 1))
	parts := d.held(s)
	for _, q := range parts {
		for i := range d.items {
			if d.items[i].unit == d.unitOf[q] {
				b = b.join(d.items[i].box)
			}
		}
	}
	d.mark(b)
	if b.x1-b.x0 > 180 || b.y1-b.y0 > 240 || first == len(d.items) {
		return
	}
	unit := d.items[first].unit
	for _, q := range parts {
		for i := range d.items {
			if d.items[i].unit == d.unitOf[q] {
				d.items[i].unit = unit
			}
		}
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
		d.whole()
		first := len(d.items)
		x, top := d.point(s.centre).x, y-high[i]/2
		if math.Abs(y-want[i]) > 1 {
			d.line(penThin, pt{x, top}, d.point(s.centre))
		}
		st := strong
		w := d.faces.width(lines[i][0], st.size, true)
		left := x - (w+6)/2
		for j, l := range lines[i] {
			half := w/2 + 3
			if j > 0 {
				half = d.faces.width(l, small.size, false) / 2
			}
			d.reach(s.centre.Out.MM()-half, s.centre.Out.MM()+half)
		}
		d.badge(s.number, pt{left + 2.4, top + 2.5})
		d.text(lines[i][0], left+6, top+3.6, st)
		for j, l := range lines[i][1:] {
			d.text(l, x, top+3.6+tagPitch*float64(j+1)+0.4, small.at(0))
		}
		d.loose()
		d.labelled(s, first)
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
	sort.SliceStable(d.labels, func(i, j int) bool { return d.labels[i].v < d.labels[j].v })
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

// combs writes the names of the long lines above and below the run, clear of
// what is written there.
func (d *drawer) combs() {
	b := nowhere
	for i := range d.items {
		if d.items[i].pen == nil {
			b = b.join(d.items[i].box)
		}
	}
	d.named("line-name")
	d.comb(func(n lineName) pt { return n.from }, 0, -1, max(0, -b.y0))
	if d.below {
		d.comb(func(n lineName) pt { return n.to }, d.end, 1, max(0, b.y1-d.end))
	}
}

// comb writes names that read upwards, above a height or, for dir 1, below
// it, so far away.
func (d *drawer) comb(end func(lineName) pt, y, dir, away float64) {
	cs := slices.Clone(d.lines)
	sort.SliceStable(cs, func(i, j int) bool { return end(cs[i]).x < end(cs[j]).x })
	var want, wide []float64
	for _, c := range cs {
		want, wide = append(want, end(c).x), append(wide, nameEvery)
	}
	st := small
	st.up = true
	for i, x := range spread(want, wide) {
		d.line(penThin, pt{want[i], y + 0.5*dir}, pt{want[i], y + (1.5+away)*dir}, pt{x, y + (4+away)*dir})
		d.text(cs[i].name(), x+0.9, y+(4.8+away)*dir, st.at(int(dir)))
	}
}
