package live

import (
	"fmt"
	"html"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// The picture of an opening: its pieces beside each other as they lie on the
// table, drawn from the plan's geometry, with what was there before a change
// behind them.

const (
	drawnHigh   = 520.0 // of the longest run, in the units of the picture
	drawnTop    = 34.0
	drawnGap    = 96.0                     // between pieces, for the places
	drawnLetter = 7.5                      // a letter of a name is no wider
	drawnMost   = 4.0                      // a small piece is drawn at most so many units a millimetre
	inside      = 120 * measure.Millimetre // how far inside a piece is drawn
)

// canvas writes SVG.
type canvas struct {
	strings.Builder
	scale float64
	left  float64 // of the meeting line
	sign  float64 // +1 where out goes to the right
}

func num(f float64) string { return strconv.FormatFloat(f, 'f', 1, 64) }

func (c *canvas) x(l measure.Length) float64 { return c.left + c.sign*mm(l)*c.scale }
func (c *canvas) y(l measure.Length) float64 { return drawnTop + mm(l)*c.scale }

func mm(l measure.Length) float64 { return l.MM() }

func esc(s string) string { return html.EscapeString(text.Safe(s)) }

// rect draws what lies between two places across and along.
func (c *canvas) rect(class string, outFrom, outTo, from, to measure.Length) {
	x1, x2 := c.x(outFrom), c.x(outTo)
	if x1 > x2 {
		x1, x2 = x2, x1
	}
	y1, y2 := c.y(from), c.y(to)
	fmt.Fprintf(c, `<rect class="%s" x="%s" y="%s" width="%s" height="%s"/>`, class, num(x1), num(y1), num(max(x2-x1, .5)), num(max(y2-y1, .5)))
}

// drawing is the SVG of an opening in one size.
func drawing(p, before *rules.Planned, o catalog.Opening, z int) string {
	first := o.Closures[0]
	pieces := p.PiecesOf(first, z)
	if len(pieces) == 0 {
		return `<p class="none">` + esc(nothing(p, first)) + `</p>`
	}
	u := p.Garment.Units
	high := measure.Length(0)
	for i := range pieces {
		for _, l := range pieces[i].Lines {
			high = max(high, l.From.At, l.To.At)
		}
		for _, q := range pieces[i].Parts {
			high = max(high, q.To)
		}
	}
	if high <= 0 {
		high = measure.Inch
	}
	c := &canvas{scale: min(drawnHigh/mm(high), drawnMost)}
	var body, unlaid strings.Builder
	x := 8.0
	for _, i := range asWorn(pieces) {
		pc := &pieces[i]
		lo, hi := span(pc)
		c.sign = 1
		if strings.HasPrefix(pc.Piece, "left") || i%2 == 1 && !strings.HasPrefix(pc.Piece, "right") {
			c.sign = -1
		}
		wide := mm(hi-lo) * c.scale
		if c.sign > 0 {
			c.left = x + drawnGap/2 - mm(lo)*c.scale
		} else {
			c.left = x + drawnGap/2 + mm(hi)*c.scale
		}
		c.Reset()
		var old *plan.Piece
		if before != nil {
			if was := before.PiecesOf(first, min(z, len(before.Closures[min(first, len(before.Closures)-1)].Sizes)-1)); i < len(was) {
				old = &was[i]
			}
		}
		c.piece(p, pc, old, z, u)
		name := pc.Piece
		if s := pc.Side.String(); !strings.Contains(name, s) {
			name += ", " + s
		}
		fmt.Fprintf(&body, `<g class="piece"><text class="name" x="%s" y="14">%s</text>%s</g>`, num(x+drawnGap/2), esc(name), c.String())
		x += max(wide+drawnGap, drawnGap/2+float64(utf8.RuneCountInString(name))*drawnLetter)
	}
	w, h := num(x+8), num(drawnTop+mm(high)*c.scale+16)
	for _, i := range o.Closures { // pieces without their fasteners
		if k := &p.Closures[i]; k.Sizes[z].Err != nil {
			fmt.Fprintf(&unlaid, `<p class="none">%s</p>`, esc(fmt.Sprintf("The fasteners of %s have no place: %v.", k.Closure.Name, k.Sizes[z].Err)))
		}
	}
	return unlaid.String() + fmt.Sprintf(`<svg viewBox="0 0 %s %s" role="group" aria-label="%s">%s</svg>`, w, h, esc("The pieces of "+o.Name+", drawn to scale"), body.String())
}

// asWorn are the pieces in the order in which they are seen on the wearer: the
// right front at the left, and what is no front behind.
func asWorn(pieces []plan.Piece) []int {
	at := func(i int) int {
		switch name := pieces[i].Piece; {
		case strings.HasPrefix(name, "right"):
			return 0
		case strings.HasPrefix(name, "left"):
			return 1
		}
		return 2
	}
	out := make([]int, len(pieces))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int { return at(a) - at(b) })
	return out
}

// nothing says why there is nothing to draw.
func nothing(p *rules.Planned, c int) string {
	for _, s := range p.Closures[c].Sizes {
		if s.Err != nil {
			return "There is nothing to draw: " + s.Err.Error()
		}
	}
	return "There is nothing to draw."
}

// span is how far a piece is drawn across.
func span(pc *plan.Piece) (lo, hi measure.Length) {
	for _, l := range pc.Lines {
		lo, hi = min(lo, l.From.Out, l.To.Out), max(hi, l.From.Out, l.To.Out)
	}
	for _, a := range pc.Areas {
		lo, hi = min(lo, a.OutFrom), max(hi, a.OutTo)
	}
	for _, q := range pc.Parts {
		lo, hi = min(lo, q.OutFrom), max(hi, q.OutTo)
	}
	return max(lo, -inside) - 4*measure.Millimetre, hi
}

// piece draws one piece.
func (c *canvas) piece(p *rules.Planned, pc, old *plan.Piece, z int, u measure.Unit) {
	bottom, top := measure.Length(0), measure.Length(0)
	for _, l := range pc.Lines {
		bottom = max(bottom, l.From.At, l.To.At)
	}
	lo, _ := span(pc)
	edge := max(pc.Cloth, pc.Finished)
	if edge > lo {
		c.rect("cloth", lo, edge, top, bottom)
	}
	for _, a := range pc.Areas {
		if a.Kind == plan.InterfacingArea || a.Kind == plan.FacingArea || a.Kind == plan.ClearArea || a.Kind == plan.TurnUpArea || a.Kind == plan.PatchArea {
			c.rect(a.Kind.String(), max(a.OutFrom, lo), a.OutTo, a.From, min(a.To, max(bottom, a.From)))
		}
	}
	for _, l := range pc.Lines {
		c.line(l.Kind.String(), l, lo)
	}
	if old != nil {
		for _, l := range old.Lines {
			if (l.Kind == plan.EdgeLine || l.Kind == plan.HemLine || l.Kind == plan.CutLine) && !slices.Contains(pc.Lines, l) {
				c.line("was", l, lo)
			}
		}
		for i := range old.Parts {
			if q := &old.Parts[i]; main(q) && !same(pc, q) {
				c.shape("was", q)
			}
		}
	}
	for i := range pc.Parts {
		c.part(&pc.Parts[i])
	}
	c.handles(p, pc, z, u)
}

// line draws a line, as far inside as the piece is drawn.
func (c *canvas) line(class string, l plan.Line, lo measure.Length) {
	fmt.Fprintf(c, `<line class="%s" x1="%s" y1="%s" x2="%s" y2="%s"/>`, class, num(c.x(max(l.From.Out, lo))), num(c.y(l.From.At)), num(c.x(max(l.To.Out, lo))), num(c.y(l.To.At)))
}

// same says whether a part lies where one lay before.
func same(pc *plan.Piece, q *plan.Part) bool {
	return slices.ContainsFunc(pc.Parts, func(o plan.Part) bool {
		return o.Kind == q.Kind && o.OutFrom == q.OutFrom && o.OutTo == q.OutTo && o.From == q.From && o.To == q.To
	})
}

// main says whether a part is what fastens, or its hole.
func main(q *plan.Part) bool {
	return q.Kind != plan.BackingPart && q.Kind != plan.TapePart && q.Kind != plan.CordPart
}

// part draws a fastener, a hole or a loop.
func (c *canvas) part(q *plan.Part) { c.shape(q.Kind.String()+" "+q.Role.String(), q) }

func (c *canvas) shape(class string, q *plan.Part) {
	switch q.Kind {
	case plan.ButtonPart, plan.TackPart, plan.SnapCap, plan.SnapStud, plan.RivetPart, plan.EyeletPart, plan.BackingPart:
		r := max(mm(q.To-q.From), mm(q.OutTo-q.OutFrom)) / 2 * c.scale
		fmt.Fprintf(c, `<circle class="%s" cx="%s" cy="%s" r="%s"/>`, class, num(c.x(q.Centre.Out)), num(c.y(q.Centre.At)), num(max(r, 1.5)))
	case plan.HolePart:
		if q.OutTo-q.OutFrom >= q.To-q.From {
			mid := q.Centre.At
			fmt.Fprintf(c, `<line class="%s" x1="%s" y1="%s" x2="%s" y2="%s"/>`, class, num(c.x(q.OutFrom)), num(c.y(mid)), num(c.x(q.OutTo)), num(c.y(mid)))
		} else {
			fmt.Fprintf(c, `<line class="%s" x1="%s" y1="%s" x2="%s" y2="%s"/>`, class, num(c.x(q.Centre.Out)), num(c.y(q.From)), num(c.x(q.Centre.Out)), num(c.y(q.To)))
		}
	default:
		c.rect(class, q.OutFrom, q.OutTo, q.From, q.To)
	}
}

// handles are what a fastener is taken by, with its place.
func (c *canvas) handles(p *rules.Planned, pc *plan.Piece, z int, u measure.Unit) {
	if pc.Side == plan.Under && len(p.PiecesOf(int(closureOf(pc)), z)) > 1 {
		return // one handle a fastener: on the piece that lies over
	}
	done := map[[2]int32]bool{}
	for i := range pc.Parts {
		q := &pc.Parts[i]
		k := [2]int32{q.Closure, q.Number}
		if !main(q) || q.Kind == plan.TeethPart || q.Number < 1 || done[k] {
			continue
		}
		size := &p.Closures[q.Closure].Sizes[z]
		if int(q.Number) > len(size.Positions) {
			continue
		}
		done[k] = true
		at := size.Positions[q.Number-1]
		name := p.Garment.Closures[q.Closure].Name
		says := at.ShortPlace(u)
		x, y := c.x(max(pc.Finished, q.OutTo)), c.y(at)
		anchor, dx := "start", 8.0
		if c.sign < 0 {
			anchor, dx = "end", -8
		}
		fmt.Fprintf(c, `<g class="handle" tabindex="0" role="slider" aria-orientation="vertical" aria-label="%s" aria-valuemin="0" aria-valuemax="%s" aria-valuenow="%s" aria-valuetext="%s" data-closure="%s" data-row="%d" data-at="%s" data-step="%s" data-scale="%s"><rect class="grip" x="%s" y="%s" width="44" height="24"/><text class="place" text-anchor="%s" x="%s" y="%s">%s</text></g>`,
			esc(fmt.Sprintf("%s, fastener %d of %d", name, q.Number, size.Count)), num(mm(size.Run)), num(mm(at)), esc(says), esc(name), q.Number,
			strconv.FormatFloat(mm(at), 'f', -1, 64), strconv.FormatFloat(mm(max(size.Step, 1)), 'f', -1, 64), strconv.FormatFloat(c.scale, 'f', 5, 64),
			num(min(x+dx, x+dx+c.sign*44)), num(y-12), anchor, num(x+dx), num(y+4), esc(says))
	}
}

// closureOf is the first closure that has a part on a piece.
func closureOf(pc *plan.Piece) int32 {
	for i := range pc.Parts {
		return pc.Parts[i].Closure
	}
	return 0
}
