package guide

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// tile is one page of a sheet: the window of the sheet that it shows.
type tile struct {
	sheet    *sheet
	col, row int
	window   rect // on the sheet
}

// tiles are the pages of a sheet, column by column, but for those left out.
func (s *sheet) tiles(w, h float64) []tile {
	var out []tile
	for c := range s.cols {
		for r := range s.rows {
			if s.has(c, r) {
				out = append(out, tile{s, c, r, s.window(c, r, w, h)})
			}
		}
	}
	return out
}

// window is what of the sheet a page shows.
func (s *sheet) window(col, row int, w, h float64) rect {
	x, y := float64(col)*(w-overlap), float64(row)*(h-overlap)
	return rect{x, y, x + w, y + h}
}

// name is the page's letter and number: a letter a column, a number a row.
// The letters go on from sheet to sheet, so that no two pages share a name.
func (s *sheet) page(col, row int) string {
	n := s.column
	for c := range col {
		if !s.bare(c) {
			n++
		}
	}
	return letters(n) + strconv.Itoa(row+1)
}

// bare says whether all pages of a column are left out.
func (s *sheet) bare(col int) bool {
	for r := range s.rows {
		if s.has(col, r) {
			return false
		}
	}
	return true
}

func (t tile) name() string { return t.sheet.page(t.col, t.row) }

// letters counts A, B … Z, AA, AB …
func letters(n int) string {
	s := ""
	for n++; n > 0; n = (n - 1) / 26 {
		s = string(rune('A'+(n-1)%26)) + s
	}
	return s
}

// span names the pages of a sheet.
func (s *sheet) span() string {
	if s.cols*s.rows == 1 {
		return s.page(0, 0)
	}
	last := s.cols - 1
	for last > 0 && s.bare(last) {
		last--
	}
	return s.page(0, 0) + " to " + s.page(last, s.rows-1)
}

// nameLines writes the names of the lines that run down the page beside them,
// where they are not named already and nothing else is drawn or written.
func (t tile) nameLines(l, seen *list, dx, dy float64) {
	const margin, beside, step = 12.0, 0.8, 4.0
	w := t.window
	st := small
	st.up = true
	var names []lineName
	long := 0.0
	for _, n := range t.sheet.lines {
		named := n.from.y-margin >= w.y0 && n.from.y < w.y1 // above its upper end
		if named || n.to.y < w.y0+margin || n.from.y > w.y1-margin || n.from.x < w.x0 || n.from.x > w.x1-2*margin/3 {
			continue
		}
		names = append(names, n)
		long = max(long, l.faces.width(l.faces.printable(n.name()), st.size, false))
	}
	if len(names) == 0 {
		return
	}
	slices.SortStableFunc(names, func(a, b lineName) int { return cmp.Compare(a.from.x, b.from.x) })
	// Where the names would lie if they ended at a height, and how much of
	// the drawing they would hide there.
	lay := func(y float64) (xs []float64, hides int) {
		var want, wide []float64
		for _, n := range names {
			want, wide = append(want, n.x(y)+beside+0.48*st.size), append(wide, nameEvery)
		}
		xs = spread(want, wide)
		for _, x := range xs {
			b := rect{x - nameEvery/2, y - long, x + nameEvery/2, y + 2}
			for i := range seen.items {
				if it := &seen.items[i]; drawnOver(it) && it.box.meets(b) {
					hides++
				}
			}
		}
		return xs, hides
	}
	best, least := 0.0, math.MaxInt
	for y := w.y0 + margin + long; y < w.y1-margin; y += step {
		if _, hides := lay(y); hides < least {
			best, least = y, hides
		}
	}
	xs, _ := lay(best)
	for i, n := range names {
		if best < n.from.y || best-long > n.to.y {
			continue // it does not run so far
		}
		x := n.x(best)
		if math.Abs(xs[i]-x-beside-0.48*st.size) > 0.5 {
			l.line(penThin, pt{xs[i] + dx, best + 0.6 + dy}, pt{x + dx, best + 3 + dy})
		}
		l.text(n.name(), xs[i]+0.27*st.size+dx, best+dy, st)
	}
}

// x is how far across the line is at a height.
func (n *lineName) x(y float64) float64 {
	if n.to.y <= n.from.y {
		return n.from.x
	}
	part := min(max((y-n.from.y)/(n.to.y-n.from.y), 0), 1)
	return n.from.x + part*(n.to.x-n.from.x)
}

// drawnOver says whether a name of a line must not lie on it: on all but the
// lines and areas of a piece.
func drawnOver(i *item) bool {
	return !strings.HasPrefix(i.class, "line-") && !strings.HasPrefix(i.class, "area-") || i.pen == nil
}

// page draws one page on paper: the window of the sheet, white over what
// hangs out of it, the frame, the crosses and the names.
func (t tile) page(on paper, garment, unitWords string, number, of int) *list {
	w, h := on.inner()
	l := &list{faces: t.sheet.faces}
	dx, dy := marginSide-t.window.x0, marginTop-t.window.y0
	seen := &list{faces: l.faces}
	for _, i := range t.sheet.items {
		if i.box.meets(t.window) {
			seen.items = append(seen.items, i)
		}
	}
	l.put(seen, dx, dy)
	l.named("line-name")
	t.nameLines(l, seen, dx, dy)
	l.named("margin")
	for _, r := range []rect{
		{-1, -1, on.w + 1, marginTop}, {-1, marginTop + h, on.w + 1, on.h + 1},
		{-1, 0, marginSide, on.h}, {marginSide + w, 0, on.w + 1, on.h},
	} {
		l.rect(penWhite, r)
	}
	l.named("page-frame")
	l.rect(penThin, rect{marginSide, marginTop, marginSide + w, marginTop + h})

	// Crosses stand in the middle of the overlaps, the same place of the
	// sheet on both pages.
	l.named("cross")
	half := overlap / 2
	left, right := t.sheet.has(t.col-1, t.row), t.sheet.has(t.col+1, t.row)
	up, down := t.sheet.has(t.col, t.row-1), t.sheet.has(t.col, t.row+1)
	x0, x1 := marginSide+half, marginSide+w-half
	y0, y1 := marginTop+half, marginTop+h-half
	mark := func(on bool, x, y float64) {
		if on {
			l.cross(penCross, pt{x, y}, 4)
			l.circle(penCross, pt{x, y}, 2)
		}
	}
	mark(left || up, x0, y0)
	mark(right || up, x1, y0)
	mark(left || down, x0, y1)
	mark(right || down, x1, y1)
	mark(left, x0, (y0+y1)/2)
	mark(right, x1, (y0+y1)/2)
	mark(up, (x0+x1)/2, y0)
	mark(down, (x0+x1)/2, y1)

	l.named("page-name")
	st := small
	st.grey = 60
	join := func(on bool, col, row int, x, y float64, up bool) {
		if on {
			s := st.at(0)
			s.up = up
			l.text("joins "+t.sheet.page(col, row), x, y, s)
		}
	}
	join(left, t.col-1, t.row, marginSide+2.6, marginTop+h/4, true)
	join(right, t.col+1, t.row, marginSide+w-0.8, marginTop+h/4, true)
	join(up, t.col, t.row-1, marginSide+w/4, marginTop+2.6, false)
	join(down, t.col, t.row+1, marginSide+w/4, marginTop+h-0.8, false)

	y := marginTop + h + 4.6
	b := l.text(t.name(), marginSide, y, style{size: 13 * pointSize, bold: true, align: -1})
	right2 := fmt.Sprintf("page %d of %d", number, of)
	e := l.text(right2, marginSide+w, y, st.at(1))
	words := garment + " · " + t.sheet.name + " · full size · " + unitWords
	l.text(l.faces.cut(words, st, e.x0-b.x1-8), b.x1+4, y, st)
	return l
}
