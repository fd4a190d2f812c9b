package guide

import (
	"fmt"
	"math"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
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
	panelGap     = 8.0
	pieceGap     = 10.0
)

// inner is the part of the paper that is drawn on.
func (p paper) inner() (w, h float64) {
	return p.w - 2*marginSide, p.h - marginTop - marginBottom
}

// sheet is one drawing at full size: a closure in a size, or a page of small
// pieces.
type sheet struct {
	list
	name       string
	w, h       float64
	cols, rows int
	column     int // of the first column among all sheets
}

// chosen are the closures and sizes asked for, those that come out the same
// in several sizes once.
func chosen(p *rules.Planned, o Options) ([]*part, error) {
	g := p.Garment
	if o.Closure != "" && !slices.ContainsFunc(g.Closures, func(c catalog.Closure) bool { return c.Name == o.Closure }) {
		var names []string
		for i := range g.Closures {
			names = append(names, g.Closures[i].Name)
		}
		return nil, text.NoSuchError("the garment", "closure", o.Closure, names)
	}
	if o.Size != "" && !slices.Contains(g.Sizes, o.Size) {
		return nil, text.NoSuchError("the garment", "size", o.Size, g.Sizes)
	}
	var parts []*part
	lengths := false
	for i := range p.Closures {
		k := &p.Closures[i]
		if o.Closure != "" && k.Closure.Name != o.Closure {
			continue
		}
		if !k.Closure.Run.Length.Has() {
			continue
		}
		lengths = true
		var own []*part
	sizes:
		for j := range k.Sizes {
			s := &k.Sizes[j]
			if o.Size != "" && s.Size != o.Size {
				continue
			}
			for _, q := range own {
				if q.same(s, j) {
					q.sizes = append(q.sizes, s.Size)
					continue sizes
				}
			}
			own = append(own, &part{g: g, k: k, s: s, index: j, sizes: []string{s.Size}})
		}
		parts = append(parts, own...)
	}
	if !lengths {
		return nil, fmt.Errorf("there is nothing to draw: give the length of a run, like closure.%s.run.length", firstName(g, o.Closure))
	}
	// One size after another, the closures of each in the file's order.
	slices.SortStableFunc(parts, func(a, b *part) int { return a.index - b.index })
	return parts, nil
}

func firstName(g *catalog.Garment, closure string) string {
	if closure == "" && len(g.Closures) > 0 {
		return g.Closures[0].Name
	}
	return closure
}

// same says whether size j of the closure is drawn as this one is.
func (p *part) same(s *plan.Size, j int) bool {
	if p.s.Run != s.Run || p.s.Solved != s.Solved || !slices.Equal(p.s.Positions, s.Positions) || !slices.Equal(p.s.Rows, s.Rows) {
		return false
	}
	run, at := &p.k.Closure.Run, func(x catalog.Sized) bool { return x.At(p.index).V == x.At(j).V }
	for _, a := range run.Anchors {
		if !at(a.At) || !at(a.Within) {
			return false
		}
	}
	for _, z := range run.Clears {
		if !at(z.From) || !at(z.To) {
			return false
		}
	}
	return at(run.Hem) && at(run.First) && at(run.Last) && at(p.k.Closure.ZipLength)
}

// pair draws the two sides, the wearer's right first: it is on the viewer's
// left.
func (p *part) pair(f *faces, below bool) []*panel {
	return []*panel{p.draw(f, p.upperRight(), below), p.draw(f, !p.upperRight(), below)}
}

// sheets lays the pieces out for the paper, or, without one, each on a sheet
// of its own.
func sheets(parts []*part, f *faces, on *paper) []*sheet {
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
		panels := p.pair(f, !p.small())
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
			long := across(p.name(), f, panels, w, h)
			if short := across(p.name(), f, p.pair(f, false), w, h); short.rows < long.rows {
				long = short
			}
			out = append(out, long)
			continue
		}
		flush()
		shelf = fresh
	}
	flush()
	column := 0
	for _, s := range out {
		s.column = column
		column += s.cols
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
		s.put(&p.list, xs[i], y+top-p.topY)
	}
}

// beside is a sheet without pages.
func beside(name string, f *faces, panels []*panel) *sheet {
	s := &sheet{list: list{faces: f}, name: name, cols: 1, rows: 1}
	s.level(panels, []float64{0, panels[0].box.x1 + panelGap}, 0)
	s.w, s.h = size(panels)
	b := s.bounds()
	s.w, s.h = max(s.w, b.x1), max(s.h, b.y1)
	return s
}

// across is a sheet of several pages. Where each side fits the width of one
// page it gets its own column of pages, and the sheet is moved down a little
// if that saves a hole from being cut by a page's edge.
func across(name string, f *faces, panels []*panel, w, h float64) *sheet {
	s := &sheet{list: list{faces: f}, name: name}
	xs := []float64{0, panels[0].box.x1 + panelGap}
	pw, _ := size(panels)
	// A side that begins on a page of its own is easier to put together.
	own := float64(pages(panels[0].box.x1, w))*(w-overlap) + overlap
	if pages(own+panels[1].box.x1, w) <= pages(pw, w) {
		xs[1] = own
	}
	high := 0.0
	top := 0.0
	for _, p := range panels {
		top = max(top, p.topY)
	}
	for _, p := range panels {
		high = max(high, top-p.topY+p.box.y1)
	}
	s.rows = pages(high, h)
	down, fewest := 0.0, math.MaxInt
	for try := 0.0; high+try <= tiled(s.rows, h)+1e-9; try++ {
		cut := 0
		for _, p := range panels {
			for _, k := range p.keep {
				if !onOnePage(k.from+try+top-p.topY, k.to+try+top-p.topY, h) {
					cut++
				}
			}
		}
		if cut < fewest {
			down, fewest = try, cut
		}
	}
	s.level(panels, xs, down)
	s.w, s.h = xs[1]+panels[1].box.x1, high+down
	s.cols = pages(s.w, w)
	return s
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
func (s *shelves) add(p *part, panels []*panel) bool {
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
		s.put(&q.list, places[i].x, places[i].y)
	}
	s.x, s.y, s.row = x, y, row
	if s.sheet.name == "" {
		s.sheet.name = p.name()
	} else {
		s.sheet.name += "; " + p.name()
	}
	return true
}
