package guide

import (
	"math"
	"slices"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// StripOptions say how the strip for the terminal is drawn.
type StripOptions struct {
	UTF8   bool // false keeps to ASCII
	Height int  // lines of the run, 3 to 200; 0 is as many as its centres need
}

const (
	stripWidth  = 80
	leastHeight = 3
	mostHeight  = 200
)

// glyphs of a strip. The run is five cells across: the two columns of a
// double-breasted front with the centre line between them.
type glyphs struct {
	line, top, end, centre, show, zip, clear, anchor, within, dots string
}

var (
	asciiGlyphs = glyphs{"|", "+", "+", "o", "x", "z", "#", "<", "'", "..."}
	utf8Glyphs  = glyphs{"│", "┬", "┴", "●", "○", "╫", "▒", "◂", "┊", "…"}
)

// Strip draws the run of one closure in one size upright, to scale, at most
// 80 columns wide: the distance of every centre from the top, the centres,
// the places that want one near and the stretches to keep clear. The closure
// and size are places in p.Closures and its Sizes. A closure without a run
// or without a layout gives no lines.
func Strip(p *rules.Planned, closure, size int, o StripOptions) []string {
	k := &p.Closures[closure]
	pc, end := carrier(p, closure, size)
	if pc == nil || end <= 0 {
		return nil
	}
	g := asciiGlyphs
	if o.UTF8 {
		g = utf8Glyphs
	}
	u := p.Garment.Units
	var ats []measure.Length // the places of the run
	width, closed := 1, false
	var teeth *plan.Part
	for i := range pc.Parts {
		switch q := &pc.Parts[i]; {
		case int(q.Closure) != closure:
		case q.Kind == plan.TeethPart:
			teeth, closed = q, true
		case numbered(q):
			if !slices.Contains(ats, q.Centre.At) {
				ats = append(ats, q.Centre.At)
			}
			if q.Role == plan.Show {
				width = 5 // double-breasted
			}
			closed = true
		}
	}
	if !closed {
		return nil
	}
	n := stripHeight(end, ats, o.Height)
	// The line of a place: the first is the top, the last the end, and what lies
	// between them is on neither.
	line := func(at measure.Length) int {
		l := int(math.Round(float64(at) / float64(end) * float64(n-1)))
		if n > 3 && at > 0 && at < end {
			return min(max(l, 1), n-2)
		}
		return min(max(l, 0), n-1)
	}
	// The ends keep their lines to themselves, but where a centre would come to
	// lie on the line of another for it.
	taken := make(map[int]int)
	for _, at := range ats {
		taken[line(at)]++
	}
	centre := func(at measure.Length) int {
		l := line(at)
		switch {
		case l == 0 && at > 0 && n > leastHeight && taken[0] == 1 && taken[1] == 0:
			return 1
		case l == n-1 && at < end && n > leastHeight && taken[n-1] == 1 && taken[n-2] == 0:
			return n - 2
		}
		return l
	}
	short := func(l measure.Length) string { return l.ShortPlace(u) }

	type row struct {
		left, side string
		cells      []string // of the run
		right      []string
	}
	rows := make([]row, n)
	middle := width / 2
	for i := range rows {
		rows[i].cells = slices.Repeat([]string{" "}, width)
		rows[i].cells[middle] = g.line
		rows[i].side = " "
	}
	for i := range width {
		rows[0].cells[i], rows[n-1].cells[i] = g.top, g.end
	}
	say := func(r *row, words string) {
		if words != "" && !slices.Contains(r.right, words) {
			r.right = append(r.right, words)
		}
	}
	if teeth != nil {
		for i := line(teeth.From); i <= line(teeth.To); i++ {
			rows[i].cells[middle] = g.zip
		}
		for _, stop := range []struct {
			at   measure.Length
			name string
		}{{teeth.From, "top stop"}, {teeth.To, "bottom stop"}} {
			r := &rows[line(stop.at)]
			r.left = text.Join(", ", r.left, short(stop.at))
			say(r, stop.name)
		}
	}
	for _, at := range ats {
		r := &rows[centre(at)]
		r.left = text.Join(", ", r.left, short(at))
	}
	for i := range pc.Parts {
		q := &pc.Parts[i]
		if int(q.Closure) != closure || !numbered(q) {
			continue
		}
		r := &rows[centre(q.Centre.At)]
		cell := &r.cells[middle]
		if width > 1 && q.Centre.Out < 0 {
			cell = &r.cells[0]
		} else if width > 1 {
			cell = &r.cells[width-1]
		}
		switch {
		case q.Role == plan.Works:
			*cell = g.centre
		case q.Role == plan.Show && *cell != g.centre:
			*cell = g.show
			if q.Centre.Out > 0 {
				say(r, "for show")
			}
		case q.Role == plan.Inner:
			say(r, "inner button behind")
		}
	}
	for i := range pc.Areas {
		z := &pc.Areas[i]
		if z.Kind != plan.ClearArea {
			continue
		}
		// Lines that lie inside it and carry no centre; at least the nearest.
		first, last := n, -1
		for i := line(z.From); i <= line(z.To); i++ {
			if at := end * measure.Length(i) / measure.Length(n-1); at >= z.From && at <= z.To && rows[i].left == "" {
				first, last = min(first, i), i
			}
		}
		if last < 0 {
			first = line((z.From + z.To) / 2)
			last = first
		}
		for i := first; i <= last; i++ {
			rows[i].side = g.clear
		}
		say(&rows[(first+last)/2], z.Name+": clear "+stretch("from ", short(z.From), short(z.To)))
	}
	for _, a := range k.Closure.Run.Anchors {
		at, within := a.At.At(size).V, a.Within.At(size).Or(plan.AnchorWithin(p.Garment.Units))
		if at > end {
			continue
		}
		for i := line(max(at-within, 0)); i <= line(min(at+within, end)); i++ {
			if rows[i].side == " " {
				rows[i].side = g.within
			}
		}
		r := &rows[line(at)]
		r.side = g.anchor
		near := ", within " + short(within)
		if within == 0 {
			near = " exactly"
		}
		r.right = append(r.right, a.Name+" at "+short(at)+near)
	}
	top, bottom := "neck edge", "hem"
	switch {
	case plan.LiesAcross(k.Closure):
		top, bottom = "front end", "end"
	case plan.IsShort(k.Closure, end):
		top, bottom = "top", "end"
	case k.Closure.Where == "fly":
		top = "top"
	}
	if p.Garment.HemAt == "none" {
		bottom = "end"
	}
	rows[0].right = append([]string{top}, rows[0].right...)
	rows[n-1].right = append([]string{bottom}, rows[n-1].right...)
	if rows[0].left == "" {
		rows[0].left = "0"
	} else if rows[0].left != "0" {
		rows[0].right[0] += " at 0"
	}
	if rows[n-1].left == "" {
		rows[n-1].left = short(end)
	} else {
		rows[n-1].right[0] += " " + short(end)
	}

	widest := 0
	for i := range rows {
		widest = max(widest, text.Width(rows[i].left))
	}
	widest = min(widest, 30)
	out := make([]string, n)
	for i := range rows {
		r := &rows[i]
		left := text.Shorten(r.left, widest, g.dots)
		head := strings.Repeat(" ", widest-text.Width(left)) + left + "  " + strings.Join(r.cells, "") + " " + r.side + " "
		says := text.Safe(strings.Join(r.right, "; "))
		if !o.UTF8 {
			says = text.ASCII(says)
		}
		out[i] = strings.TrimRight(head+text.Shorten(says, stripWidth-text.Width(head), g.dots), " ")
	}
	return out
}

// carrier is the piece that carries a closure on top, and how long it runs.
func carrier(p *rules.Planned, closure, size int) (*plan.Piece, measure.Length) {
	pieces := p.PiecesOf(closure, size)
	for i := range pieces {
		pc := &pieces[i]
		if pc.Side == plan.Under || !slices.ContainsFunc(pc.Parts, func(q plan.Part) bool { return int(q.Closure) == closure }) {
			continue
		}
		for _, l := range pc.Lines {
			if l.Kind == plan.HemLine {
				return pc, l.From.At
			}
		}
	}
	return nil, 0
}

// numbered says whether a part is one of the places of a run.
func numbered(q *plan.Part) bool {
	switch q.Kind {
	case plan.TeethPart, plan.TapePart, plan.CordPart, plan.BackingPart:
		return false
	}
	return true
}

// stripHeight is as many lines as keep neighbouring places on lines of their
// own, where the wish is 0.
func stripHeight(end measure.Length, ats []measure.Length, wish int) int {
	if wish > 0 {
		return min(max(wish, leastHeight), mostHeight)
	}
	least := end
	for i, at := range ats {
		gap := at
		if i > 0 {
			gap -= ats[i-1]
		}
		if gap > 0 {
			least = min(least, gap)
		}
	}
	if n := len(ats); n > 0 && ats[n-1] < end {
		least = min(least, end-ats[n-1])
	}
	n := int(math.Ceil(float64(end)/float64(least))) + 1
	return min(max(n, 9, len(ats)*2+3), 40)
}
