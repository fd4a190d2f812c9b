package plan

import (
	"cmp"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// CutPiece is a kind of rectangle to be cut from goods, with its length along
// the goods: strips and patches are cut on the lengthwise grain.
type CutPiece struct {
	Name   string
	Width  measure.Length // across the goods
	Length measure.Length // along the goods
	N      int
}

// Laid is where one piece lies: from the left edge of the goods, and from
// the end that is cut first.
type Laid struct {
	Piece  int // its place in the list of pieces
	Across measure.Length
	Along  measure.Length
	Width  measure.Length
	Length measure.Length
}

// Layout is how pieces are cut from goods.
type Layout struct {
	Goods  measure.Length // width
	Need   measure.Length // length to buy, shrinking counted
	Used   measure.Length // the same before shrinking
	Pieces []Laid
	Fits   bool // false: a piece is wider than the goods, and Need is 0
}

// Lay lays pieces across goods of that width in shelves, longest first; a
// short piece also takes the room below a shorter one of its shelf. It never
// needs more than cutting each kind in rows of its own, floor(goods ÷ width)
// side by side, because that is what it falls back to. shrink is the percent
// by which the goods shrink before they are cut; it counts along the length.
func Lay(goods measure.Length, shrink float64, pieces []CutPiece) Layout {
	out := Layout{Goods: goods, Fits: true}
	for _, p := range pieces {
		if p.N > 0 && (p.Width <= 0 || p.Length <= 0 || p.Width > goods) {
			out.Fits = false
			return out
		}
	}
	shelves, used := layShelves(goods, pieces)
	if rows, plain := layRows(goods, pieces); plain < used {
		shelves, used = rows, plain
	}
	out.Pieces, out.Used = shelves, used
	out.Need = CutForShrink(used, shrink)
	return out
}

// layRows cuts each kind of piece in rows of its own.
func layRows(goods measure.Length, pieces []CutPiece) ([]Laid, measure.Length) {
	var out []Laid
	var y measure.Length
	for i, p := range pieces {
		if p.N <= 0 {
			continue
		}
		across := int(goods / p.Width)
		for n := range p.N {
			if n > 0 && n%across == 0 {
				y += p.Length
			}
			out = append(out, Laid{Piece: i, Across: measure.Length(n%across) * p.Width, Along: y, Width: p.Width, Length: p.Length})
		}
		y += p.Length
	}
	return out, y
}

// slot is a column of a shelf, as wide as its first piece.
type slot struct {
	at, width, used measure.Length
}

// shelf is a row of slots, as long as its longest piece.
type shelf struct {
	along, length, width measure.Length // width: taken so far
	slots                []slot
}

// layShelves lays the longest pieces first, each in the first slot with room
// below, else beside the others on the first shelf with room, else on a new
// shelf.
func layShelves(goods measure.Length, pieces []CutPiece) ([]Laid, measure.Length) {
	order := make([]int, 0, len(pieces))
	for i := range pieces {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(pieces[b].Length, pieces[a].Length), cmp.Compare(pieces[b].Width, pieces[a].Width), cmp.Compare(a, b))
	})
	var out []Laid
	var shelves []shelf
	var end measure.Length
	for _, i := range order {
		p := pieces[i]
	next:
		for range p.N {
			for s := range shelves {
				sh := &shelves[s]
				for t := range sh.slots {
					sl := &sh.slots[t]
					if sl.width >= p.Width && sh.length-sl.used >= p.Length {
						out = append(out, Laid{Piece: i, Across: sl.at, Along: sh.along + sl.used, Width: p.Width, Length: p.Length})
						sl.used += p.Length
						continue next
					}
				}
				if goods-sh.width >= p.Width {
					out = append(out, Laid{Piece: i, Across: sh.width, Along: sh.along, Width: p.Width, Length: p.Length})
					sh.slots = append(sh.slots, slot{sh.width, p.Width, p.Length})
					sh.width += p.Width
					continue next
				}
			}
			shelves = append(shelves, shelf{along: end, length: p.Length, width: p.Width, slots: []slot{{0, p.Width, p.Length}}})
			out = append(out, Laid{Piece: i, Along: end, Width: p.Width, Length: p.Length})
			end += p.Length
		}
	}
	return out, end
}

// PatchMargin is how far a patch reaches beyond the fastener and its hole.
const PatchMargin = in / 2 // above and below it; common practice, no source

// StripPieces are the pieces of interfacing of a closure for one garment of
// that size: strips along the whole run, or, where it has one fastener
// alone, patches round it.
func (p *Plan) StripPieces(closure, size int) CutPiece {
	c, k := &p.Garment.Closures[closure], &p.Closures[closure]
	s := &k.Support
	if !s.Needed || s.Interfacing == nil || s.Strip <= 0 {
		return CutPiece{}
	}
	out := CutPiece{Name: c.Name, Width: s.Strip, Length: c.Run.Length.At(size).V, N: s.Pieces}
	if k.Patch(size) {
		out.Length = min(out.Length, k.PatchLength())
	}
	return out
}

// Patch says whether the interfacing of that size is a patch round a single
// fastener, not a strip along the run.
func (k *Closure) Patch(size int) bool {
	z := &k.Sizes[size]
	return z.Solved && z.Count == 1
}

func (k *Closure) PatchLength() measure.Length {
	return 2 * (max(k.Reach.Up, k.Reach.Down) + PatchMargin)
}

// Packs is how many packs of so many hold n pieces.
func Packs(n, pack int) int {
	if n <= 0 {
		return 0
	}
	return CeilDiv(n, max(pack, 1))
}

// Fasteners is how many fasteners one garment of that size takes in this
// closure, and whether that is known: as laid out, or as the file wishes
// where nothing fits.
func (k *Closure) Fasteners(size int) (n int, known bool) {
	c := k.Closure
	switch z := &k.Sizes[size]; {
	case c.Notion.Kind == catalog.Zip:
		n = 1
	case z.Solved:
		n = z.Fasteners
	case c.Run.CountAt(size).Set:
		n = c.Run.CountAt(size).Min
		if LapOf(c) == "double" {
			n *= 2
			if k.Inner() {
				n++
			}
		}
	default:
		return 0, false
	}
	return n * c.Pieces, true
}

// Holes is how many holes are cut in one garment of that size in this
// closure: one for each row that buttons, and one for the inner button.
func (k *Closure) Holes(size int) int {
	c, z := k.Closure, &k.Sizes[size]
	if !k.Hole.Needed {
		return 0
	}
	n := z.Count
	if LapOf(c) == "double" {
		n = Working(c, n)
		if n > 0 && k.Inner() {
			n++
		}
	}
	return n * c.Pieces
}

// SewnHoles is how many holes are sewn: those cut, and those of the rows for
// show.
func (k *Closure) SewnHoles(size int) int {
	n := k.Holes(size)
	if rows := k.Sizes[size].Count; k.ShowHoles() {
		n += (rows - Working(k.Closure, rows)) * k.Closure.Pieces
	}
	return n
}

// ThreadFor is the thread for all holes and fasteners of one garment of that
// size in this closure, waste included.
func (k *Closure) ThreadFor(size int) measure.Length {
	l := float64(k.Sewing.HoleThread) * float64(k.SewnHoles(size))
	if k.Sewing.Sewn {
		n, _ := k.Fasteners(size)
		l += float64(ButtonThread) * float64(n)
	}
	return Scale(measure.Length(l), threadWaste)
}
