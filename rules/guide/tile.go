package guide

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"placketeer/catalog/text"
)

// tile is one page of a sheet: the window of the sheet that it shows.
type tile struct {
	sheet    *sheet
	col, row int
	window   rect // on the sheet
}

// tiles are the pages of a sheet, row by row, but for those left out.
func (s *sheet) tiles() []tile {
	var out []tile
	for r := range s.ys {
		for c := range s.xs {
			if s.has(c, r) {
				out = append(out, s.tile(c, r))
			}
		}
	}
	return out
}

func (s *sheet) tile(col, row int) tile {
	x, y := s.xs[col], s.ys[row]
	return tile{s, col, row, rect{x, y, x + s.inW, y + s.inH}}
}

// span is a stretch.
type span struct{ from, to float64 }

// windows are the places at which pages of an inner length begin, so that
// they cover a length, neighbours overlap, and everything held is whole on
// one of them, in as few pages as that takes. Where it takes no more, a page
// begins where a piece does.
func windows(length, inner float64, held []span, begins []float64) []float64 {
	next := func(at float64) (to float64, more bool) {
		end := at + inner
		if end >= length-1e-6 {
			return 0, false
		}
		to = end - overlap
		for _, h := range held {
			if h.from > at && h.to > end && h.to-h.from <= inner {
				to = min(to, h.from)
			}
		}
		return to, true
	}
	count := func(at float64) int {
		n := 1
		for to, more := next(at); more; to, more = next(to) {
			n++
		}
		return n
	}
	out := []float64{0}
	for to, more := next(0); more; to, more = next(to) {
		at, n := out[len(out)-1], count(to)
		for i := len(begins) - 1; i >= 0; i-- {
			if b := begins[i]; b > at+overlap && b < to && count(b) == n {
				to = b
				break
			}
		}
		out = append(out, to)
	}
	return out
}

// lay cuts the sheet into pages of that inner size and leaves out those
// without a mark.
func (s *sheet) lay(w, h float64) {
	s.inW, s.inH = w, h
	var across, down []span
	for _, k := range s.keep {
		across, down = append(across, span{k.x0, k.x1}), append(down, span{k.y0, k.y1})
	}
	slices.Sort(s.begins)
	s.xs, s.ys = windows(s.w, w, across, s.begins), windows(s.h, h, down, nil)
	s.leaveOut()
	for n := 0; n <= len(s.edges)*len(s.ys) && s.showEdges(); n++ { // each time at least one more
		s.leaveOut()
	}
	s.prune()
}

// prune leaves out pages that were kept to join others, and no longer do.
func (s *sheet) prune() {
	for n := len(s.xs) * len(s.ys); n > 0; n-- {
		tiles := s.tiles()
		i := slices.IndexFunc(tiles, func(a tile) bool { return !s.marked(a) && !s.joining(tiles, a) })
		if i < 0 || len(tiles) == 1 {
			return
		}
		s.kept[tiles[i].col][tiles[i].row] = false
	}
}

// marked says whether a page shows a mark whole.
func (s *sheet) marked(a tile) bool {
	return slices.ContainsFunc(s.marks, func(k rect) bool { return k.inside(a.window) })
}

// joining says whether pages with a mark would fall apart without a page.
func (s *sheet) joining(all []tile, without tile) bool {
	reached := map[[2]int]bool{}
	for _, a := range all {
		if a != without {
			reached[[2]int{a.col, a.row}] = true
			break
		}
	}
	for range all {
		for _, a := range all {
			for _, b := range all {
				if a != without && b != without && reached[[2]int{a.col, a.row}] && max(a.col-b.col, b.col-a.col)+max(a.row-b.row, b.row-a.row) == 1 {
					reached[[2]int{b.col, b.row}] = true
				}
			}
		}
	}
	return len(reached) < len(all)-1
}

// showEdges makes marks of the finished edges of what the kept pages show, so
// far as these reach down, and says whether there are any that they do not
// show: to where a piece ends is what everybody measures from.
func (s *sheet) showEdges() (missing bool) {
	for _, e := range s.edges {
		for r := range s.ys {
			row := s.tile(0, r).window
			at := rect{e.line.x0, max(e.line.y0, row.y0), e.line.x1, min(e.line.y1, row.y1)}
			if at.y1 <= at.y0 {
				continue
			}
			shown, beside := false, false
			for c := range s.xs {
				if w := s.tile(c, r).window; s.has(c, r) {
					shown = shown || at.inside(w)
					beside = beside || w.meets(e.piece)
				}
			}
			if beside && !shown {
				missing = true
				s.marks = append(s.marks, at)
			}
		}
	}
	return missing
}

// leaveOut keeps the pages that show a mark whole that no other kept page
// does, and those that join them.
func (s *sheet) leaveOut() {
	s.kept = make([][]bool, len(s.xs))
	for c := range s.kept {
		s.kept[c] = make([]bool, len(s.ys))
	}
	type spot struct{ c, r int }
	var all []spot
	for c := range s.xs {
		for r := range s.ys {
			all = append(all, spot{c, r})
		}
	}
	var left [][]spot // of each mark, the pages on which it is whole
	for _, k := range s.marks {
		var on []spot
		for _, p := range all {
			if k.inside(s.tile(p.c, p.r).window) {
				on = append(on, p)
			}
		}
		if len(on) > 0 {
			left = append(left, on)
		}
	}
	keep := func(p spot) {
		s.kept[p.c][p.r] = true
		left = slices.DeleteFunc(left, func(on []spot) bool { return slices.Contains(on, p) })
	}
	for _, on := range slices.Clone(left) {
		if len(on) == 1 {
			keep(on[0])
		}
	}
	for len(left) > 0 {
		best, most := spot{}, 0
		for _, p := range all {
			n := 0
			for _, on := range left {
				if slices.Contains(on, p) {
					n++
				}
			}
			if n > most {
				best, most = p, n
			}
		}
		keep(best)
	}
	if s.count() == 0 {
		s.kept[0][0] = true
	}
	// Join what is apart: from the pages that hang together the shortest way
	// to another.
	for {
		var queue []spot
		from := map[spot]spot{}
		visit := func(p, by spot) {
			if _, seen := from[p]; !seen && p.c >= 0 && p.r >= 0 && p.c < len(s.xs) && p.r < len(s.ys) {
				from[p] = by
				queue = append(queue, p)
			}
		}
		around := func(p spot) []spot {
			return []spot{{p.c, p.r + 1}, {p.c + 1, p.r}, {p.c - 1, p.r}, {p.c, p.r - 1}}
		}
		for _, p := range all {
			if s.has(p.c, p.r) {
				visit(p, p)
				break
			}
		}
		for i := 0; i < len(queue); i++ { // what hangs together already
			for _, n := range around(queue[i]) {
				if s.has(n.c, n.r) {
					visit(n, n)
				}
			}
		}
		if len(queue) == s.count() {
			return
		}
		for i := 0; i < len(queue); i++ {
			p := queue[i]
			if from[p] != p && s.has(p.c, p.r) {
				for ; from[p] != p; p = from[p] {
					s.kept[p.c][p.r] = true
				}
				break
			}
			for _, n := range around(p) {
				visit(n, p)
			}
		}
	}
}

// has says whether the sheet has that page.
func (s *sheet) has(col, row int) bool {
	return col >= 0 && row >= 0 && col < len(s.xs) && row < len(s.ys) && s.kept[col][row]
}

// count is how many pages the sheet has.
func (s *sheet) count() int { return len(s.tiles()) }

// page is the number of a page of the sheet.
func (s *sheet) page(col, row int) int {
	n := s.first
	for _, t := range s.tiles() {
		if t.col == col && t.row == row {
			break
		}
		n++
	}
	return n
}

// pages says which pages a sheet takes and how they lie.
func (s *sheet) pages() string {
	n := s.count()
	if n == 1 {
		return fmt.Sprintf("Page %d: %s", s.first, s.name) + s.beyond("it")
	}
	says := fmt.Sprintf("Pages %d to %d: %s", s.first, s.first+n-1, s.name)
	var rows []string
	apart := false
	for r := range s.ys {
		var in []string
		for c := range s.xs {
			if s.has(c, r) {
				in = append(in, strconv.Itoa(s.page(c, r)))
			}
		}
		if len(in) > 0 {
			rows = append(rows, text.And(in...))
		}
		apart = apart || len(in) > 1
	}
	if apart {
		says += ". From the top, side by side: " + strings.Join(rows, "; ")
	}
	return says + s.beyond("them")
}

// beyond says where the lines lie that are on no page of the sheet.
func (s *sheet) beyond(pages string) string {
	var out []string
	for i := range s.lines {
		n := &s.lines[i]
		if n.lies != "" && !slices.ContainsFunc(s.tiles(), func(t tile) bool {
			return boxOf([]pt{n.from, n.to}, 0).meets(t.window)
		}) {
			out = append(out, n.name()+" "+n.lies)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return ". Not on " + pages + ": " + strings.Join(out, ", ")
}

// nameLines writes the names of the lines that run down the page beside them,
// where they are not named already and nothing else is drawn or written.
func (t tile) nameLines(l, seen *list, dx, dy float64) {
	for n := range t.sheet.begins {
		t.nameLinesOf(n, l, seen, dx, dy)
	}
}

// nameLinesOf names those of one piece, at one height.
func (t tile) nameLinesOf(piece int, l, seen *list, dx, dy float64) {
	const margin, beside, step = 12.0, 0.8, 4.0
	w := t.window
	st := small
	st.up = true
	var names []lineName
	var named []rect // what is taken by names already
	long := 0.0
	for _, n := range t.sheet.lines {
		x := n.x((max(n.from.y, w.y0) + min(n.to.y, w.y1)) / 2)
		if n.piece != piece || n.to.y < w.y0+margin || n.from.y > w.y1-margin || x < w.x0 || x > w.x1 {
			continue
		}
		name := l.faces.printable(n.name())
		if slices.ContainsFunc(seen.items, func(i item) bool {
			return i.pen == nil && i.text == name && math.Abs(i.box.x0-n.x(i.box.y1)) < 12
		}) {
			continue
		}
		names = append(names, n)
		long = max(long, l.faces.width(name, st.size, false))
	}
	if len(names) == 0 {
		return
	}
	sort.SliceStable(names, func(i, j int) bool { return names[i].from.x < names[j].from.x })
	// What they could hide: nothing that lies farther off than all of them
	// beside each other reach.
	reach := 2 * (nameEvery*float64(len(names)+2) + beside + st.size)
	left, right := math.Inf(1), math.Inf(-1)
	for _, n := range names {
		left, right = min(left, n.from.x, n.to.x), max(right, n.from.x, n.to.x)
	}
	var near []*item
	for i := range seen.items {
		if it := &seen.items[i]; it.box.x1 >= left-reach && it.box.x0 <= right+reach && drawnOver(it) {
			near = append(near, it)
		}
	}
	// How much of the drawing a name hides that ends at a height.
	hidden := func(n lineName, x, y float64) (hides int) {
		if y < n.from.y || y-long > n.to.y {
			hides += 3 // it does not run so far
		}
		b := rect{x - nameEvery/2, y - l.faces.width(l.faces.printable(n.name()), st.size, false), x + nameEvery/2, y + 2}
		lines := 0
		for _, it := range near {
			switch {
			case !it.box.meets(b):
			case it.pen == nil:
				hides += 50 // words over words can be read by nobody
			default:
				lines++
			}
		}
		for _, q := range named {
			if q.meets(b) {
				hides += 50
			}
		}
		return hides + min(lines, 6) // the teeth of a zip are many, and one thing
	}
	// Where the names would lie if they ended at a height, and how much of
	// the drawing they would hide there.
	lay := func(y float64) (xs []float64, hides int) {
		var want, wide []float64
		for _, n := range names {
			x := n.x(y) + beside + 0.48*st.size
			if x > w.x1-nameEvery/2 {
				x = n.x(y) - beside - 0.48*st.size
			}
			want, wide = append(want, x), append(wide, nameEvery)
		}
		xs = spread(want, wide)
		if over := xs[len(xs)-1] + nameEvery/2 - w.x1; over > 0 {
			for i := len(xs) - 1; i >= 0; i-- { // back onto the page
				if most := w.x1 - nameEvery*(float64(len(xs)-1-i)+0.5); xs[i] > most {
					xs[i] = most
				}
			}
		}
		for i, x := range xs {
			hides += hidden(names[i], x, y)
		}
		return xs, hides
	}
	best, least := 0.0, math.MaxInt
	from, to := math.Inf(1), math.Inf(-1)
	for _, n := range names {
		from, to = min(from, n.from.y), max(to, n.to.y)
	}
	for y := max(w.y0+margin, from+3) + long; y < min(w.y1-margin, to); y += step {
		if _, hides := lay(y); hides < least {
			best, least = y, hides
		}
	}
	xs, _ := lay(best)
	for i, n := range names {
		if best < n.from.y || best-long > n.to.y {
			continue // it does not run so far
		}
		x, y := xs[i], best
		// One that would hide something has a height of its own.
		if least := hidden(n, x, y); least > 0 {
			for at := max(w.y0+margin, n.from.y+3) + long; at < min(w.y1-margin, n.to.y); at += step {
				over := n.x(at) + beside + 0.48*st.size
				if over > w.x1-nameEvery/2 {
					over = n.x(at) - beside - 0.48*st.size
				}
				if h := hidden(n, over, at); h < least {
					x, y, least = over, at, h
				}
			}
			if least >= 50 {
				continue // better read on the page before than over other words
			}
		}
		named = append(named, rect{x - nameEvery/2, y - l.faces.width(l.faces.printable(n.name()), st.size, false), x + nameEvery/2, y})
		if on := n.x(y); math.Abs(x-on) > beside+0.48*st.size+0.5 {
			l.line(penThin, pt{x + dx, y + 0.6 + dy}, pt{on + dx, y + 3 + dy})
		}
		l.text(n.name(), x+0.27*st.size+dx, y+dy, st)
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

// shown is what of the sheet a page shows: what is to be whole only where it
// is, and cut only where no page has it whole.
func (t tile) shown() *list {
	s := t.sheet
	if s.boxes == nil {
		s.boxes = make([]rect, s.units+1)
		for i := range s.boxes {
			s.boxes[i] = nowhere
		}
		for i := range s.items {
			if u := s.items[i].unit; u > 0 && s.items[i].pen != penWhite {
				s.boxes[u] = s.boxes[u].join(s.items[i].box)
			}
		}
		s.wholeOn = make([]bool, s.units+1)
		for _, q := range s.tiles() {
			for u, b := range s.boxes {
				s.wholeOn[u] = s.wholeOn[u] || b.inside(q.window)
			}
		}
	}
	seen := &list{faces: s.faces}
	for _, i := range s.items {
		if i.unit > 0 && !s.boxes[i.unit].inside(t.window) && (s.wholeOn[i.unit] || i.pen == nil || i.pen == penWhite) {
			continue
		}
		if i.box.meets(t.window) {
			seen.items = append(seen.items, i)
		}
	}
	return seen
}

// footer is what stands below every page.
type footer struct {
	garment   string
	units     string
	conflicts int
	of        int // pages
}

// write writes the foot of a page.
func (f footer) write(l *list, on paper, number int, name string) {
	l.named("page-name")
	st := small
	st.grey = 60
	left, right, y := marginSide, on.w-marginSide, on.h-marginBottom+4.6
	b := l.text(strconv.Itoa(number), left, y, style{size: 13 * pointSize, bold: true, align: -1})
	e := l.text(fmt.Sprintf("page %d of %d", number, f.of), right, y, st.at(1))
	if n := f.conflicts; n > 0 {
		t := small.at(1)
		t.bold = true
		e = l.text(text.Count(n, "conflict")+": cut nothing", e.x0-4, y, t)
	}
	words := f.garment
	if name != "" {
		words += " · " + name + " · full size · " + f.units
	}
	l.text(l.faces.cut(words, st, e.x0-b.x1-8), b.x1+4, y, st)
}

// page draws one page on paper: the window of the sheet, white over what
// hangs out of it, the frame, the marks that join it to its neighbours, and
// the names.
func (t tile) page(on paper, foot footer) *list {
	s := t.sheet
	w, h := s.inW, s.inH
	l := &list{faces: s.faces}
	dx, dy := marginSide-t.window.x0, marginTop-t.window.y0
	seen := t.shown()
	t.neighbours(seen)
	l.put(seen, dx, dy)
	l.named("line-name")
	t.nameLines(l, seen, dx, dy)
	t.further(l, dx, dy)
	l.named("margin")
	for _, r := range []rect{
		{-1, -1, on.w + 1, marginTop}, {-1, marginTop + h, on.w + 1, on.h + 1},
		{-1, 0, marginSide, on.h}, {marginSide + w, 0, on.w + 1, on.h},
	} {
		l.rect(penWhite, r)
	}
	l.named("page-frame")
	l.rect(penThin, rect{marginSide, marginTop, marginSide + w, marginTop + h})

	foot.write(l, on, s.page(t.col, t.row), s.name)
	return l
}

// neighbours draws the marks that join a page to its neighbours, and says
// which pages they are, all clear of what is marked there.
func (t tile) neighbours(seen *list) {
	s, w := t.sheet, t.window
	st := small.at(0)
	st.grey = 60
	for _, d := range []struct{ col, row int }{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
		if !s.has(t.col+d.col, t.row+d.row) {
			continue
		}
		seen.named("join")
		for _, p := range s.joins(w, s.tile(t.col+d.col, t.row+d.row).window) {
			seen.join(p, d.row != 0)
		}
		says := fmt.Sprintf("page %d goes here", s.page(t.col+d.col, t.row+d.row))
		half := seen.faces.width(says, st.size, false)/2 + 1
		at := pt{w.x0 + s.inW/4, w.y0 + 2.6}
		switch {
		case d.col < 0:
			at = pt{w.x0 + 2.6, w.y0 + s.inH/4}
		case d.col > 0:
			at = pt{w.x1 - 0.8, w.y0 + s.inH/4}
		case d.row > 0:
			at.y = w.y1 - 0.8
		}
		st.up = d.col != 0
		for at = range moved(at, d.row != 0) {
			b := boxOf([]pt{{at.x - half, at.y - 2}, {at.x + half, at.y}}, 0.4)
			if st.up {
				b = boxOf([]pt{{at.x - 2, at.y - half}, {at.x, at.y + half}}, 0.4)
			}
			if b.inside(w) && !slices.ContainsFunc(seen.items, func(i item) bool { return drawnOver(&i) && i.pen != penWhite && i.box.meets(b) }) {
				break
			}
		}
		seen.named("page-name").text(says, at.x, at.y, st)
	}
}

// moved is a place and places beside it, nearest first, across or down.
func moved(p pt, across bool) func(func(pt) bool) {
	return func(yield func(pt) bool) {
		for n := range 101 {
			by := float64((n+1)/2) * 3
			if n%2 == 0 {
				by = -by
			}
			q := pt{p.x, p.y + by}
			if across {
				q = pt{p.x + by, p.y}
			}
			if !yield(q) {
				return
			}
		}
		yield(p)
	}
}

// joins are the three places, in the middle of what two neighbours both show,
// that join them, clear of what is marked there.
func (s *sheet) joins(a, b rect) []pt {
	both := rect{max(a.x0, b.x0), max(a.y0, b.y0), min(a.x1, b.x1), min(a.y1, b.y1)}
	c := pt{(both.x0 + both.x1) / 2, (both.y0 + both.y1) / 2}
	const in, long, half = 9.0, 4.5, 3.0
	wish := []pt{{both.x0 + in, c.y}, c, {both.x1 - in, c.y}}
	level := a.y0 != b.y0
	if !level { // side by side
		wish = []pt{{c.x, both.y0 + in}, c, {c.x, both.y1 - in}}
	}
	var marked []rect
	for i := range s.items {
		if it := &s.items[i]; it.unit > 0 && it.pen != penWhite && it.box.meets(both) {
			marked = append(marked, it.box)
		}
	}
	for i, p := range wish {
	search:
		for along := range moved(p, level) {
			for q := range moved(along, !level) {
				r := rect{q.x - long, q.y - half, q.x + long, q.y + half}
				if !level {
					r = rect{q.x - half, q.y - long, q.x + half, q.y + long}
				}
				switch {
				case q != c && q != p && !r.inside(both):
					continue
				case slices.ContainsFunc(wish[:i], func(o pt) bool { return math.Hypot(o.x-q.x, o.y-q.y) < 20 }):
				case !slices.ContainsFunc(marked, r.meets):
					wish[i] = q
					break search
				}
			}
		}
	}
	return wish
}

// join draws a mark that joins two pages: two arrowheads whose points meet on
// the place, on the line along which the pages meet.
func (l *list) join(c pt, level bool) {
	const long, half = 4.0, 1.5
	turn := func(x, y float64) pt {
		if level {
			return pt{c.x + x, c.y + y}
		}
		return pt{c.x + y, c.y + x}
	}
	l.shape(penCross, c, turn(-long, -half), turn(-long, half))
	l.shape(penCross, c, turn(long, -half), turn(long, half))
	l.line(penCross, turn(0, -half-1), turn(0, half+1))
}

// further says where a piece ends that no page shows to its end.
func (t tile) further(l *list, dx, dy float64) {
	s := t.sheet
	for _, e := range s.hems {
		if e.at.x < t.window.x0 || e.at.x > t.window.x1 || e.at.y <= t.window.y1 || t.row+1 < len(s.ys) && s.has(t.col, t.row+1) {
			continue
		}
		st := small
		says := []string{"further down: " + e.text}
		half := l.faces.width(l.faces.printable(says[0]), st.size, false) / 2
		if e.wide > 0 && 2*half > e.wide-2 { // a strip is cut apart from its neighbours
			says = []string{"further down:", e.text}
			half = l.faces.width(l.faces.printable(e.text), st.size, false) / 2
		}
		from, to := t.window.x0+half+1, t.window.x1-half-1
		if room := max(e.wide/2-half-0.5, 0); e.wide > 0 {
			from, to = max(from, e.at.x-room), min(to, e.at.x+room)
		}
		hides := func(x, y float64, words bool) bool {
			b := rect{x - half - 1, y - 3*float64(len(says)), x + half + 1, y + 1}.moved(dx, dy)
			return slices.ContainsFunc(l.items, func(i item) bool {
				return drawnOver(&i) && i.pen != penWhite && (i.pen == nil || !words) && i.box.meets(b)
			})
		}
		// Low on the page, under its end or beside it; where all is taken, on
		// no other words.
		beneath := min(max(e.at.x, from), to)
		x, y, found := beneath, t.window.y1-6, false
		for _, words := range []bool{false, true} {
			for at := t.window.y1 - 6; at > t.window.y1-60 && !found; at -= 3 {
				for off := 0.0; off < to-from && !found; off += 6 {
					for _, over := range []float64{beneath - off, beneath + off} {
						if over >= from && over <= to && !hides(over, at, words) {
							x, y, found = over, at, true
							break
						}
					}
				}
			}
		}
		for i, s := range says {
			l.named("label").text(s, x+dx, y+dy-3*float64(len(says)-1-i), st.at(0))
		}
	}
}
