package guide

import (
	"math"
	"slices"

	"placketeer/catalog/text"
)

// paper is what a tiled guide is printed on, in millimetres.
type paper struct {
	name string
	w, h float64
}

var papers = map[string]paper{
	"a4":     {"A4", 210, 297},
	"letter": {"Letter", 215.9, 279.4},
}

// Margins that home printers keep free, with room below for the page's name.
const (
	marginSide   = 10.0
	marginTop    = 10.0
	marginBottom = 15.0
	overlap      = 10.0 // of neighbouring pages
	panelGap     = 6.0
	pieceGap     = 10.0
)

// inner is the part of the paper that is drawn on.
func (p paper) inner() (w, h float64) {
	return p.w - 2*marginSide, p.h - marginTop - marginBottom
}

// sheet is one drawing at full size: an opening in a size, or a page of small
// pieces.
type sheet struct {
	list
	lines      []lineName
	name       string
	w, h       float64
	cols, rows int
	column     int      // of the first column among all sheets
	blank      [][]bool // by column and row: pages that would show nothing of their own
}

// place puts a panel on the sheet.
func (s *sheet) place(p *panel, x, y float64) {
	s.put(&p.list, x, y)
	for _, n := range p.lines {
		s.lines = append(s.lines, n.moved(x, y))
	}
}

// leaveOut finds the pages that show nothing that another does not.
func (s *sheet) leaveOut(w, h float64) {
	s.blank = make([][]bool, s.cols)
	for c := range s.blank {
		s.blank[c] = make([]bool, s.rows)
	}
	for _, t := range s.tiles(w, h) {
		s.blank[t.col][t.row] = !slices.ContainsFunc(s.items, func(i item) bool {
			if i.pen == penWhite || !i.box.meets(t.window) {
				return false
			}
			own := i.box.within(t.window)
			for _, n := range []tile{{s, t.col - 1, t.row, rect{}}, {s, t.col + 1, t.row, rect{}}, {s, t.col, t.row - 1, rect{}}, {s, t.col, t.row + 1, rect{}}} {
				if s.has(n.col, n.row) && own.inside(s.window(n.col, n.row, w, h)) {
					return false
				}
			}
			return true
		})
	}
}

// has says whether the sheet has that page.
func (s *sheet) has(col, row int) bool {
	return col >= 0 && row >= 0 && col < s.cols && row < s.rows && (s.blank == nil || !s.blank[col][row])
}

// leftOut names the pages that the sheet would have.
func (s *sheet) leftOut() []string {
	var out []string
	for c := range s.cols {
		for r := range s.rows {
			if !s.has(c, r) && !s.bare(c) {
				out = append(out, s.page(c, r))
			}
		}
	}
	return out
}

// count is how many pages the sheet has.
func (s *sheet) count() int {
	n := 0
	for c := range s.cols {
		for r := range s.rows {
			if s.has(c, r) {
				n++
			}
		}
	}
	return n
}

// sheets lays the pieces out for the paper, or, without one, each on a sheet
// of its own.
func sheets(parts []*opening, f *faces, on *paper) []*sheet {
	var out []*sheet
	var shelf *shelves
	flush := func() {
		if shelf != nil {
			out = append(out, shelf.sheet)
			shelf = nil
		}
	}
	last := -1
	for _, p := range parts {
		if p.index != last {
			flush()
			last = p.index
		}
		panels := p.panels(f, !p.small())
		if on == nil {
			out = append(out, beside(p.name(), f, panels))
			continue
		}
		w, h := on.inner()
		if shelf != nil && shelf.add(p, panels) {
			continue
		}
		fresh := &shelves{sheet: &sheet{list: list{faces: f}, w: w, h: h, cols: 1, rows: 1}}
		if !fresh.add(p, panels) {
			out = append(out, p.tiled(f, w, h)...)
			continue
		}
		flush()
		shelf = fresh
	}
	flush()
	column := 0
	for _, s := range out {
		s.column = column
		if on != nil {
			w, h := on.inner()
			s.leaveOut(w, h)
		}
		for c := range s.cols {
			if !s.bare(c) {
				column++
			}
		}
	}
	return out
}

func size(panels []*panel) (w, h float64) {
	for i, p := range panels {
		if i > 0 {
			w += panelGap
		}
		w += p.box.x1
		h = max(h, p.box.y1)
	}
	return w, h
}

// level puts the panels in a row, their necks level, at those places.
func (s *sheet) level(panels []*panel, xs []float64, y float64) {
	top := 0.0
	for _, p := range panels {
		top = max(top, p.topY)
	}
	for i, p := range panels {
		s.place(p, xs[i], y+top-p.topY)
	}
}

// beside is a sheet without pages.
func beside(name string, f *faces, panels []*panel) *sheet {
	s := &sheet{list: list{faces: f}, name: name, cols: 1, rows: 1}
	xs := make([]float64, len(panels))
	for i := 1; i < len(panels); i++ {
		xs[i] = xs[i-1] + panels[i-1].box.x1 + panelGap
	}
	s.level(panels, xs, 0)
	s.w, s.h = size(panels)
	b := s.bounds()
	s.w, s.h = max(s.w, b.x1), max(s.h, b.y1)
	return s
}

// tiled lays the pieces over as few pages as they need, side by side or, if
// that takes no more, each on sheets of its own, which need not be joined.
func (o *opening) tiled(f *faces, w, h float64) []*sheet {
	long, short := o.panels(f, true), o.panels(f, false)
	var best []*row
	fewest := math.MaxInt
	// A bit that is set ends a sheet behind that piece.
	for ends := range 1 << (len(long) - 1) {
		var rows []*row
		n, first := 0, 0
		for i := range long {
			if i < len(long)-1 && ends&(1<<i) == 0 {
				continue
			}
			r := across(long[first:i+1], w, h)
			if s := across(short[first:i+1], w, h); s.rows < r.rows {
				r = s
			}
			rows = append(rows, r)
			n += r.cols * r.rows
			first = i + 1
		}
		if n < fewest || n == fewest && len(rows) > len(best) {
			best, fewest = rows, n
		}
	}
	var out []*sheet
	for _, r := range best {
		s := &sheet{list: list{faces: f}, name: o.name(), cols: r.cols, rows: r.rows}
		if len(best) > 1 {
			var names []string
			for _, p := range r.panels {
				names = append(names, p.name)
			}
			s.name += ": " + text.And(names...)
		}
		s.level(r.panels, r.xs, r.down)
		last := len(r.panels) - 1
		s.w, s.h = r.xs[last]+r.panels[last].box.x1, r.high+r.down
		out = append(out, s)
	}
	return out
}

// row is pieces side by side over several pages.
type row struct {
	panels     []*panel
	xs         []float64
	high, down float64
	cols, rows int
}

// across lays pieces side by side. They are moved apart and down as far as
// the pages they need have room, if that saves a hole or a fastener from
// being cut by a page's edge, or a piece from lying on more pages than it
// needs.
func across(panels []*panel, w, h float64) *row {
	r := &row{panels: panels, xs: make([]float64, len(panels))}
	top := 0.0
	for _, p := range panels {
		top = max(top, p.topY)
	}
	for _, p := range panels {
		r.high = max(r.high, top-p.topY+p.box.y1)
	}
	wide, _ := size(panels)
	r.cols, r.rows = pages(wide, w), pages(r.high, h)

	spare, at := tiled(r.cols, w)-wide, 0.0
	for i, p := range panels {
		right, fewest := 0.0, math.MaxInt
		for try := 0.0; try <= spare; try++ {
			cut := 3 * p.cut(at+try, w, func(k rect) (float64, float64) { return k.x0, k.x1 })
			cut += touched(at+try, at+try+p.box.x1, w) - pages(p.box.x1, w)
			if cut < fewest {
				right, fewest = try, cut
			}
		}
		r.xs[i] = at + right
		spare -= right
		at = r.xs[i] + p.box.x1 + panelGap
	}
	fewest := math.MaxInt
	for try := 0.0; r.high+try <= tiled(r.rows, h)+1e-9; try++ {
		cut := 0
		for _, p := range panels {
			cut += p.cut(try+top-p.topY, h, func(k rect) (float64, float64) { return k.y0, k.y1 })
		}
		if cut < fewest {
			r.down, fewest = try, cut
		}
	}
	return r
}

// cut is how much of what is to be held together the edges of pages would
// cut, were the panel to begin there.
func (p *panel) cut(at, inner float64, along func(rect) (from, to float64)) int {
	n := 0
	for _, k := range p.keep {
		if from, to := along(k); !onOnePage(at+from, at+to, inner) {
			n++
		}
	}
	return n
}

// touched is how many pages show something of a stretch.
func touched(from, to, inner float64) int {
	first := max(0, math.Ceil((from-inner)/(inner-overlap)))
	return int(math.Floor(to/(inner-overlap))-first) + 1
}

// pages is how many pages of that inner length cover a length; tiled is the
// length that so many cover.
func pages(length, inner float64) int {
	return max(1, int(math.Ceil((length-overlap)/(inner-overlap)-1e-9)))
}

func tiled(n int, inner float64) float64 { return float64(n)*(inner-overlap) + overlap }

// onOnePage says whether a stretch shows whole on at least one page.
func onOnePage(from, to, inner float64) bool {
	page := math.Floor(from / (inner - overlap))
	return to <= page*(inner-overlap)+inner
}

// shelves puts small pieces on one page, in rows, both sides of a piece on
// the same page.
type shelves struct {
	*sheet
	x, y, row float64
}

// add places a piece, or says that it does not fit.
func (s *shelves) add(p *opening, panels []*panel) bool {
	x, y, row := s.x, s.y, s.row
	places := make([]pt, len(panels))
	for i, q := range panels {
		w, h := q.box.x1, q.box.y1
		if x > 0 && x+w > s.w {
			x, y, row = 0, y+row+pieceGap, 0
		}
		if x+w > s.w || y+h > s.h {
			return false
		}
		places[i] = pt{x, y}
		x += w + panelGap
		row = max(row, h)
	}
	for i, q := range panels {
		s.place(q, places[i].x, places[i].y)
	}
	s.x, s.y, s.row = x, y, row
	if s.sheet.name == "" {
		s.sheet.name = p.name()
	} else {
		s.sheet.name += "; " + p.name()
	}
	return true
}
