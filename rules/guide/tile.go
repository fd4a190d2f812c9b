package guide

import (
	"fmt"
	"strconv"
)

// tile is one page of a sheet: the window of the sheet that it shows.
type tile struct {
	sheet    *sheet
	col, row int
	window   rect // on the sheet
}

// tiles are the pages of a sheet, column by column.
func (s *sheet) tiles(w, h float64) []tile {
	var out []tile
	for c := range s.cols {
		for r := range s.rows {
			x, y := float64(c)*(w-overlap), float64(r)*(h-overlap)
			out = append(out, tile{s, c, r, rect{x, y, x + w, y + h}})
		}
	}
	return out
}

// name is the page's letter and number: a letter a column, a number a row.
// The letters go on from sheet to sheet, so that no two pages share a name.
func (s *sheet) page(col, row int) string { return letters(s.column+col) + strconv.Itoa(row+1) }

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
	return s.page(0, 0) + " to " + s.page(s.cols-1, s.rows-1)
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
	left, right := t.col > 0, t.col < t.sheet.cols-1
	up, down := t.row > 0, t.row < t.sheet.rows-1
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
