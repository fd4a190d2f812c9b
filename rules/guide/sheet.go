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

// papers: ISO 216 for the sizes of the A series, ANSI Y14.1 for Letter.
var papers = map[string]paper{
	"a4":     {"A4", 210, 297},
	"letter": {"Letter", 215.9, 279.4},
	"a3":     {"A3", 297, 420},
	"a0":     {"A0", 841, 1189},
}

// Margins that home printers keep free, with room below for the page's name.
const (
	marginSide   = 10.0
	marginTop    = 10.0
	marginBottom = 15.0
	overlap      = 10.0 // of neighbouring pages, at least
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
	lines    []lineName
	keep     []rect // what a page's edge should not cut
	marks    []rect // what a page is kept for
	edges    []edge // finished edges
	hems     []ending
	begins   []float64 // where pieces begin, across
	gapless  bool      // its pieces touch
	name     string
	w, h     float64
	inW, inH float64   // of a page
	xs, ys   []float64 // where pages begin
	kept     [][]bool  // by column and row: pages that show a mark of their own
	first    int       // number of its first page
	boxes    []rect    // of the units
	wholeOn  []bool    // whether a page shows the unit whole
	legend   []string  // what the legend must tell of it, where it is forgotten
}

// forget drops what is drawn and keeps how large it is, for a guide that is
// too large to be drawn: it is to be said how large.
func (s *sheet) forget() {
	s.legend = s.legendOf()
	s.list = list{faces: s.faces}
	s.lines, s.keep, s.marks, s.edges, s.hems, s.boxes, s.wholeOn = nil, nil, nil, nil, nil, nil, nil
}

// legendOf is what the legend must tell of a sheet.
func (s *sheet) legendOf() []string {
	out, tiles := slices.Clone(s.legend), s.tiles()
	for i := range s.items {
		if len(tiles) > 0 && !slices.ContainsFunc(tiles, func(t tile) bool { return s.items[i].box.meets(t.window) }) {
			continue // on no page
		}
		for _, key := range legendKeys(s.items[i].class) {
			if !slices.Contains(out, key) {
				out = append(out, key)
			}
		}
	}
	return out
}

// pile is what of a guide is laid out so far.
type pile struct {
	on           *paper // nil for one sheet
	sheets       []*sheet
	pages        int
	area, widest float64 // of sheets without pages
}

// add lays sheets on the pile, and forgets those with which the guide is too
// large to be drawn, whatever comes after them.
func (p *pile) add(sheets ...*sheet) {
	for _, s := range sheets {
		p.sheets = append(p.sheets, s)
		over := false
		if p.on != nil {
			p.pages += s.count()
			over = p.pages > maxPages
		} else {
			p.area += s.w * s.h
			p.widest = max(p.widest, s.w)
			over = p.area > (rowWide+p.widest)*maxSide
		}
		if over {
			s.forget()
		}
	}
}

// place puts a panel on the sheet.
func (s *sheet) place(p *panel, x, y float64) {
	s.put(&p.list, x, y)
	for _, n := range p.lines {
		n = n.moved(x, y)
		n.piece = len(s.begins)
		s.lines = append(s.lines, n)
	}
	for _, k := range p.keep {
		s.keep = append(s.keep, k.moved(x, y))
	}
	for _, k := range p.marks {
		s.marks = append(s.marks, k.moved(x, y))
	}
	for _, e := range p.edges {
		s.edges = append(s.edges, edge{e.line.moved(x, y), p.box.moved(x, y)})
	}
	for _, e := range p.hems {
		s.hems = append(s.hems, ending{pt{e.at.x + x, e.at.y + y}, e.text, e.wide})
	}
	s.begins = append(s.begins, x)
}

// sheets lays the pieces out for the paper, or, without one, each on a sheet
// of its own.
func sheets(parts []*opening, f *faces, on *paper) []*sheet {
	out := pile{on: on}
	var shelf *shelves
	flush := func() {
		if shelf != nil {
			shelf.lay(shelf.w, shelf.h)
			out.add(shelf.sheet)
			shelf = nil
		}
	}
	if on != nil { // the fronts of all sizes, then what shares pages
		parts = slices.Clone(parts)
		slices.SortStableFunc(parts, func(a, b *opening) int { return at(a.small()) - at(b.small()) })
	}
	for _, p := range parts {
		panels := p.panels(f, !p.small())
		if on == nil {
			out.add(beside(p.name(), f, panels))
			continue
		}
		w, h := on.inner()
		if shelf != nil && shelf.add(p.name(), panels) {
			continue
		}
		fresh := &shelves{sheet: &sheet{list: list{faces: f}, w: w, h: h}}
		if !fresh.add(p.name(), panels) {
			out.add(p.tiled(f, w, h)...)
			continue
		}
		flush()
		shelf = fresh
	}
	flush()
	return out.sheets
}

// level puts the panels in a row, their necks level, the first at a place.
func (s *sheet) level(panels []*panel, x float64) {
	top := 0.0
	for _, p := range panels {
		top = max(top, p.topY)
	}
	for _, p := range panels {
		s.place(p, x, top-p.topY)
		s.w, s.h = max(s.w, x+p.box.x1), max(s.h, top-p.topY+p.box.y1)
		x += p.box.x1 + s.gap()
	}
	b := s.bounds()
	s.w, s.h = max(s.w, b.x1), max(s.h, b.y1)
}

// gap is what lies between two pieces of the sheet.
func (s *sheet) gap() float64 {
	if s.gapless {
		return 0
	}
	return panelGap
}

// beside is a sheet without pages.
func beside(name string, f *faces, panels []*panel) *sheet {
	s := &sheet{list: list{faces: f}, name: name}
	s.level(panels, 0)
	return s
}

// tiled lays the pieces over as few pages as they need, side by side or, if
// that takes no more, each on sheets of its own, which need not be joined.
func (o *opening) tiled(f *faces, w, h float64) []*sheet {
	long, short := o.panels(f, true), o.panels(f, false)
	var best []*sheet
	fewest := math.MaxInt
	// A bit that is set ends a sheet behind that piece.
	for ends := range 1 << (len(long) - 1) {
		var all []*sheet
		n, first := 0, 0
		for i := range long {
			if i < len(long)-1 && ends&(1<<i) == 0 {
				continue
			}
			name := o.name()
			if ends != 0 {
				var names []string
				for _, p := range long[first : i+1] {
					names = append(names, p.name)
				}
				name += ": " + text.And(names...)
			}
			s := paged(name, f, long[first:i+1], w, h)
			if t := paged(name, f, short[first:i+1], w, h); t.count() < s.count() {
				s = t
			}
			all = append(all, s)
			n += s.count()
			first = i + 1
		}
		if n < fewest || n == fewest && len(all) > len(best) {
			best, fewest = all, n
		}
	}
	return best
}

// paged is a row of pieces on pages.
func paged(name string, f *faces, panels []*panel, w, h float64) *sheet {
	s := beside(name, f, panels)
	s.lay(w, h)
	return s
}

// shelves puts small pieces on one page, in rows, both sides of a piece on
// the same page.
type shelves struct {
	*sheet
	x, y, row float64
}

// add places the pieces, or says that they do not fit.
func (s *shelves) add(name string, panels []*panel) bool {
	x, y, row := s.x, s.y, s.row
	places := make([]pt, len(panels))
	top := 0.0 // what belongs together begins level
	for _, q := range panels {
		top = max(top, q.topY)
	}
	for i, q := range panels {
		w, h := q.box.x1, q.box.y1+top-q.topY
		if x > 0 && x+w > s.w {
			x, y, row = 0, y+row+min(pieceGap, 2*s.gap()), 0
		}
		if x+w > s.w || y+h > s.h {
			return false
		}
		places[i] = pt{x, y + top - q.topY}
		x += w + s.gap()
		row = max(row, h)
	}
	for i, q := range panels {
		s.place(q, places[i].x, places[i].y)
	}
	s.x, s.y, s.row = x, y, row
	if s.sheet.name == "" {
		s.sheet.name = name
	} else {
		s.sheet.name += "; " + name
	}
	return true
}
