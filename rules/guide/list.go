package guide

import (
	"math"
	"slices"
	"strconv"
)

// A drawing is a list of things in millimetres, y downwards from the top
// left. It is made once; PDF, SVG and PNG are all rendered from it.

type pt struct{ x, y float64 }

type rect struct{ x0, y0, x1, y1 float64 }

func (r rect) empty() bool { return r.x1 < r.x0 || r.y1 < r.y0 }

func (r rect) meets(o rect) bool {
	return r.x0 <= o.x1 && o.x0 <= r.x1 && r.y0 <= o.y1 && o.y0 <= r.y1
}

func (r rect) moved(dx, dy float64) rect { return rect{r.x0 + dx, r.y0 + dy, r.x1 + dx, r.y1 + dy} }

// inside says whether all of it lies in another, to a millionth of a
// millimetre.
func (r rect) inside(o rect) bool {
	const by = 1e-6
	return r.x0 >= o.x0-by && r.x1 <= o.x1+by && r.y0 >= o.y0-by && r.y1 <= o.y1+by
}

func (r rect) join(o rect) rect {
	switch {
	case r.empty():
		return o
	case o.empty():
		return r
	}
	return rect{min(r.x0, o.x0), min(r.y0, o.y0), max(r.x1, o.x1), max(r.y1, o.y1)}
}

var nowhere = rect{1, 1, 0, 0}

// A pen is a kind of line. Everything is black or grey, so that the kinds
// are told apart on any printer, by dash and weight alone.
type pen struct {
	width float64 // mm
	grey  uint8   // 0 is black
	dash  []float64
	fill  bool // filled with grey, without a line
}

var (
	penCut      = &pen{width: 0.6}
	penFinished = &pen{width: 0.35}
	penCentre   = &pen{width: 0.3, dash: []float64{9, 1.8, 1.2, 1.8}}
	penFold     = &pen{width: 0.3, dash: []float64{5, 2}}
	penFacing   = &pen{width: 0.25, dash: []float64{7, 1.2, 0.6, 1.2, 0.6, 1.2}}
	penFusing   = &pen{width: 0.3, dash: []float64{0.5, 1.5}}
	penSeam     = &pen{width: 0.25, dash: []float64{2, 1.2}}
	penRepeat   = &pen{width: 0.15, grey: 130, dash: []float64{20, 2.5}}
	penEnd      = &pen{width: 0.6}
	penHem      = &pen{width: 0.25, dash: []float64{3, 1}}
	penHole     = &pen{width: 0.6}
	penStitched = &pen{width: 0.18}
	penBar      = &pen{width: 0.9}
	penRim      = &pen{width: 0.22, dash: []float64{1.4, 1}}
	penFastener = &pen{width: 0.4}
	penCross    = &pen{width: 0.22}
	penAnchor   = &pen{width: 0.25, dash: []float64{1, 1}}
	penClear    = &pen{width: 0.25, dash: []float64{3, 1.2, 1, 1.2}}
	penHatch    = &pen{width: 0.13, grey: 120}
	penThin     = &pen{width: 0.13, grey: 90}
	penBox      = &pen{width: 0.35}
	penSquare   = &pen{width: 0.2}
	penWhite    = &pen{grey: 255, fill: true}

	penColumn     = &pen{width: 0.2, dash: []float64{9, 1.8, 1.2, 1.8}}
	penStitching  = &pen{width: 0.2, dash: []float64{1, 0.8}}
	penTape       = &pen{width: 0.2, dash: []float64{4, 1}}
	penPatch      = &pen{width: 0.3, dash: []float64{3, 1.5, 0.8, 1.5}}
	penBeneath    = &pen{width: 0.2, grey: 90, dash: []float64{0.8, 2.8}}
	penHidden     = &pen{width: 0.35, dash: []float64{2.4, 1.2}}
	penHoleHidden = &pen{width: 0.6, dash: []float64{2.4, 1.2}}
	penHair       = &pen{width: 0.1, grey: 150}
)

// item is one line, circle or text.
type item struct {
	class string
	data  []string // pairs of name and value, for whoever reads the SVG
	pen   *pen     // nil for a text
	pts   []pt
	loop  bool    // a closed line
	r     float64 // a circle about pts[0]

	text string
	size float64 // of the type, mm
	bold bool
	grey uint8
	up   bool // reads upwards
	box  rect
	unit int // what is shown whole on a page or not at all; 0 may be cut
}

// list is a drawing.
type list struct {
	faces *faces
	items []item
	class string
	data  []string
	unit  int // of what is drawn next
	units int // handed out
}

// whole begins a unit: what is drawn until loose is shown whole on a page or
// not at all.
func (l *list) whole() {
	l.units++
	l.unit = l.units
}

// loose ends a unit.
func (l *list) loose() { l.unit = 0 }

// named gives what is drawn next a class and data.
func (l *list) named(class string, data ...string) *list {
	l.class, l.data = class, data
	return l
}

func (l *list) add(i item) {
	i.class, i.data, i.unit = l.class, l.data, l.unit
	l.items = append(l.items, i)
}

func boxOf(pts []pt, by float64) rect {
	b := nowhere
	for _, p := range pts {
		b = b.join(rect{p.x - by, p.y - by, p.x + by, p.y + by})
	}
	return b
}

func (l *list) line(p *pen, pts ...pt) {
	l.add(item{pen: p, pts: pts, box: boxOf(pts, p.width/2)})
}

func (l *list) shape(p *pen, pts ...pt) {
	l.add(item{pen: p, pts: pts, loop: true, box: boxOf(pts, p.width/2)})
}

func (l *list) rect(p *pen, r rect) {
	l.shape(p, pt{r.x0, r.y0}, pt{r.x1, r.y0}, pt{r.x1, r.y1}, pt{r.x0, r.y1})
}

func (l *list) circle(p *pen, c pt, r float64) {
	if r > 0 {
		l.add(item{pen: p, pts: []pt{c}, r: r, box: boxOf([]pt{c}, r+p.width/2)})
	}
}

func (l *list) cross(p *pen, c pt, arm float64) {
	l.line(p, pt{c.x - arm, c.y}, pt{c.x + arm, c.y})
	l.line(p, pt{c.x, c.y - arm}, pt{c.x, c.y + arm})
}

// type is how a text is set.
type style struct {
	size  float64 // mm
	bold  bool
	grey  uint8
	align int  // -1 begins at the place, 0 is centred on it, 1 ends at it
	up    bool // reads upwards
	bare  bool // no white behind it
}

const pointSize = 25.4 / 72

var (
	small  = style{size: 7.5 * pointSize, align: -1}
	normal = style{size: 9 * pointSize, align: -1}
	strong = style{size: 9 * pointSize, align: -1, bold: true}
	title  = style{size: 12 * pointSize, align: -1, bold: true}
	huge   = style{size: 20 * pointSize, align: -1, bold: true}
)

func (s style) at(align int) style { s.align = align; return s }

// text sets a line of text with its baseline at y. White behind it keeps it
// readable over lines.
func (l *list) text(s string, x, y float64, st style) rect {
	s = l.faces.printable(s)
	if s == "" {
		return nowhere
	}
	if l.unit == 0 { // words are never cut
		l.whole()
		defer l.loose()
	}
	w := l.faces.width(s, st.size, st.bold)
	along := -w * float64(st.align+1) / 2
	at := pt{x + along, y}
	b := rect{at.x, y - 0.75*st.size, at.x + w, y + 0.22*st.size}
	if st.up {
		at = pt{x, y - along}
		b = rect{x - 0.75*st.size, at.y - w, x + 0.22*st.size, at.y}
	}
	if !st.bare {
		along, beside := 0.4, 0.2
		if st.up {
			along, beside = beside, along
		}
		l.rect(penWhite, rect{b.x0 - along, b.y0 - beside, b.x1 + along, b.y1 + beside})
	}
	l.add(item{text: s, pts: []pt{at}, size: st.size, bold: st.bold, grey: st.grey, up: st.up, box: b})
	return b
}

// put draws another drawing, moved.
func (l *list) put(o *list, dx, dy float64) {
	l.items = slices.Grow(l.items, len(o.items))
	first := l.units
	l.units += o.units
	for _, i := range o.items {
		pts := make([]pt, len(i.pts))
		for j, p := range i.pts {
			pts[j] = pt{p.x + dx, p.y + dy}
		}
		i.pts = pts
		i.box = i.box.moved(dx, dy)
		if i.unit > 0 {
			i.unit += first
		}
		l.items = append(l.items, i)
	}
}

// bounds is what the drawing covers.
func (l *list) bounds() rect {
	b := nowhere
	for i := range l.items {
		b = b.join(l.items[i].box)
	}
	return b
}

// hatch draws slanting lines, every so far apart, inside r.
func (l *list) hatch(p *pen, r rect, every float64) {
	w, h := r.x1-r.x0, r.y1-r.y0
	for d := every; d < w+h; d += every {
		// from the left or bottom side up to the top or right side
		a := pt{r.x0, r.y0 + d}
		if d > h {
			a = pt{r.x0 + d - h, r.y1}
		}
		b := pt{r.x0 + d, r.y0}
		if d > w {
			b = pt{r.x1, r.y0 + d - w}
		}
		l.line(p, a, b)
	}
}

// round is a polygon along part of a circle, angles in quarter turns from
// the right, y downwards.
func arc(c pt, r, from, to float64) []pt {
	const steps = 16
	pts := make([]pt, steps+1)
	for i := range pts {
		a := (from + (to-from)*float64(i)/steps) * math.Pi / 2
		pts[i] = pt{c.x + r*math.Cos(a), c.y + r*math.Sin(a)}
	}
	return pts
}

// spread moves labels of those heights, wanted at those places in rising
// order, as little as it can so that they do not overlap.
func spread(want, height []float64) []float64 {
	type block struct{ sum, n, size float64 } // sum of (want - offset)
	var blocks []block
	var count []int
	place := func(b block) float64 { return b.sum / b.n }
	for i := range want {
		blocks = append(blocks, block{sum: want[i] - height[i]/2, n: 1, size: height[i]})
		count = append(count, 1)
		for k := len(blocks) - 1; k > 0 && place(blocks[k-1])+blocks[k-1].size > place(blocks[k]); k-- {
			a, b := blocks[k-1], blocks[k]
			blocks[k-1] = block{sum: a.sum + b.sum - b.n*a.size, n: a.n + b.n, size: a.size + b.size}
			count[k-1] += count[k]
			blocks, count = blocks[:k], count[:k]
		}
	}
	out := make([]float64, 0, len(want))
	for k, b := range blocks {
		at := place(b)
		for range count[k] {
			i := len(out)
			out = append(out, at+height[i]/2)
			at += height[i]
		}
	}
	return out
}

// num is a number as the data of the SVG gives it: exact to a nanometre.
func num(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
}
