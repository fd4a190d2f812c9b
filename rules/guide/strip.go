package guide

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"placketeer/catalog"
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
	s := &k.Sizes[size]
	zip := k.Closure.Notion.Kind == catalog.Zip
	if s.Run <= 0 || !s.Solved && !zip {
		return nil
	}
	g := asciiGlyphs
	if o.UTF8 {
		g = utf8Glyphs
	}
	u := p.Garment.Units
	n := stripHeight(s, o.Height)
	// The line of a place: the first is the top, the last the end.
	line := func(at measure.Length) int {
		l := int(math.Round(float64(at) / float64(s.Run) * float64(n-1)))
		return min(max(l, 0), n-1)
	}
	short := func(l measure.Length) string { return l.ShortPlace(u) }

	type row struct {
		left, side string
		cells      []string // of the run
		right      []string
	}
	rows := make([]row, n)
	width := 1
	if len(s.Rows) > 0 {
		width = 5
	}
	middle := width / 2
	for i := range rows {
		rows[i].cells = slices.Repeat([]string{" "}, width)
		rows[i].cells[middle] = g.line
		if zip {
			rows[i].cells[middle] = g.zip
		}
		rows[i].side = " "
	}
	for i := range width {
		rows[0].cells[i], rows[n-1].cells[i] = g.top, g.end
	}
	for i, at := range s.Positions {
		r := &rows[line(at)]
		r.left = text.Join(", ", r.left, short(at))
		switch {
		case len(s.Rows) == 0:
			r.cells[middle] = g.centre
		default:
			mark := g.centre
			if i < s.Count-plan.Working(k.Closure, s.Count) {
				mark = g.show
				r.right = append(r.right, "for show")
			}
			r.cells[0], r.cells[width-1] = g.show, mark
		}
	}
	for _, z := range k.Closure.Run.Clears {
		from, to := z.From.At(size).V, min(z.To.At(size).V, s.Run)
		if from > s.Run {
			continue
		}
		// Lines that lie inside it and carry no centre; at least the nearest.
		first, last := n, -1
		for i := line(from); i <= line(to); i++ {
			if at := s.Run * measure.Length(i) / measure.Length(n-1); at >= from && at <= to && rows[i].left == "" {
				first, last = min(first, i), i
			}
		}
		if last < 0 {
			first = line((from + to) / 2)
			last = first
		}
		for i := first; i <= last; i++ {
			rows[i].side = g.clear
		}
		r := &rows[(first+last)/2]
		r.right = append(r.right, fmt.Sprintf("%s: clear from %s to %s", z.Name, short(from), short(to)))
	}
	for _, a := range k.Closure.Run.Anchors {
		at, within := a.At.At(size).V, a.Within.At(size).Or(anchorWithin)
		if at > s.Run {
			continue
		}
		for i := line(max(at-within, 0)); i <= line(min(at+within, s.Run)); i++ {
			if rows[i].side == " " {
				rows[i].side = g.within
			}
		}
		r := &rows[line(at)]
		r.side = g.anchor
		r.right = append(r.right, fmt.Sprintf("%s at %s, within %s", a.Name, short(at), short(within)))
	}
	top, end := "top", "end"
	if (&part{k: k, s: s}).front() {
		top, end = "neck edge", "hem"
	}
	rows[0].right = append([]string{top}, rows[0].right...)
	rows[n-1].right = append([]string{end}, rows[n-1].right...)
	if rows[0].left == "" {
		rows[0].left = "0"
	}
	if rows[n-1].left == "" {
		rows[n-1].left = short(s.Run)
	} else {
		rows[n-1].right[0] += " " + short(s.Run)
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

// stripHeight is as many lines as keep neighbouring centres on lines of their
// own, where the wish is 0.
func stripHeight(s *plan.Size, wish int) int {
	if wish > 0 {
		return min(max(wish, leastHeight), mostHeight)
	}
	least := s.Run
	for _, g := range s.Gaps {
		if g > 0 {
			least = min(least, g)
		}
	}
	if len(s.Positions) > 0 {
		if s.First > 0 {
			least = min(least, s.First)
		}
		if s.Last > 0 {
			least = min(least, s.Last)
		}
	}
	n := int(math.Ceil(float64(s.Run)/float64(least))) + 1
	return min(max(n, 9, len(s.Positions)*2+3), 40)
}
