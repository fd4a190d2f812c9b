package guide

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
	"placketeer/rules/work"
)

// The two squares that show whether a print is at full size.
const (
	squareMM = 50.0
	squareIn = 50.8
)

// flow writes down a page and begins another when it is full.
type flow struct {
	faces *faces
	w, h  float64 // h 0: never full
	y     float64
	pages []*list
}

func (f *flow) page() *list { return f.pages[len(f.pages)-1] }

func (f *flow) turn() {
	f.pages = append(f.pages, &list{faces: f.faces})
	f.y = 0
}

// need makes room for something so high.
func (f *flow) need(high float64) {
	if len(f.pages) == 0 || f.h > 0 && f.y > 0 && f.y+high > f.h {
		f.turn()
	}
}

func (f *flow) words(class, s string, st style, indent float64) {
	pitch := st.size * 1.28
	for _, line := range f.faces.wrap(s, st, f.w-indent) {
		f.need(pitch)
		f.y += pitch
		f.page().named(class).text(line, indent, f.y-0.28*st.size, st)
	}
}

func (f *flow) steps(class string, steps []string) {
	for i, s := range steps {
		f.need(5)
		y, page := f.y, len(f.pages)
		f.words(class, s, normal, 6)
		if len(f.pages) != page {
			y = 0
		}
		f.page().named(class).text(fmt.Sprintf("%d.", i+1), 0, y+normal.size, normal)
		f.y += 0.8
	}
}

func (f *flow) heading(s string) {
	f.need(14)
	f.y += 3
	f.words("heading", s, title, 0)
	f.y += 1.2
}

// sample is one kind of line or mark and what it means.
type sample struct {
	class, says string
	draw        func(l *list, r rect)
}

func stroke(p *pen) func(*list, rect) {
	return func(l *list, r rect) { y := (r.y0 + r.y1) / 2; l.line(p, pt{r.x0, y}, pt{r.x1, y}) }
}

func ring(p *pen, radius float64) func(*list, rect) {
	return func(l *list, r rect) { l.circle(p, pt{(r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2}, radius) }
}

func box(p *pen) func(*list, rect) { return func(l *list, r rect) { l.rect(p, r) } }

// bars is a little hole, cut or not.
func bars(cut bool) func(*list, rect) {
	return func(l *list, r rect) {
		x, y := (r.x0+r.x1)/2, (r.y0+r.y1)/2
		if cut {
			l.line(penHole, pt{x - 6, y}, pt{x + 6, y})
		}
		l.line(penStitched, pt{x - 7, y - 1.3}, pt{x + 7, y - 1.3})
		l.line(penStitched, pt{x - 7, y + 1.3}, pt{x + 7, y + 1.3})
		l.line(penBar, pt{x - 6.5, y - 1.3}, pt{x - 6.5, y + 1.3})
		l.line(penBar, pt{x + 6.5, y - 1.3}, pt{x + 6.5, y + 1.3})
	}
}

// tongue is a little loop, or a hook.
func tongue(closed bool) func(*list, rect) {
	return func(l *list, r rect) {
		x, y := (r.x0+r.x1)/2, (r.y0+r.y1)/2
		pts := append(append([]pt{{x - 6, y - 1.4}}, arc(pt{x + 4.6, y}, 1.4, -1, 1)...), pt{x - 6, y + 1.4})
		if closed {
			l.shape(penFastener, pts...)
		} else {
			l.line(penFastener, pts...)
		}
	}
}

func stick(p *pen) func(*list, rect) {
	return func(l *list, r rect) {
		x, y := (r.x0+r.x1)/2, (r.y0+r.y1)/2
		l.shape(p, append(arc(pt{x + 4, y}, 1.6, -1, 1), arc(pt{x - 4, y}, 1.6, 1, 3)...)...)
	}
}

var samples = sync.OnceValue(func() []sample {
	return []sample{
		{"line-cut", "cut edge", stroke(penCut)},
		{"cut-beneath", "front's cut edge, beneath the band: no cut here", stroke(penBeneath)},
		{"line-finished", "finished edge", stroke(penFinished)},
		{"line-centre", "centre line, or the line in its place", stroke(penCentre)},
		{"line-meeting", "where the two sides meet", stroke(penCentre)},
		{"line-column", "column of fasteners", stroke(penColumn)},
		{"line-fold", "fold", stroke(penFold)},
		{"line-seam", "seam", stroke(penSeam)},
		{"line-stitching", "stitching", stroke(penStitching)},
		{"line-tack", "tack of the fly, midway between two holes", func(l *list, r rect) {
			y := (r.y0 + r.y1) / 2
			l.line(penBar, pt{(r.x0+r.x1)/2 - 3, y}, pt{(r.x0+r.x1)/2 + 3, y})
		}},
		{"line-facing", "inner edge of the facing", stroke(penFacing)},
		{"area-interfacing", "outline of the interfacing", stroke(penFusing)},
		{"area-patch", "patch over the ends of the cord", box(penPatch)},
		{"area-frog", "how far a frog reaches", box(penPatch)},
		{"line-top", "top and end: neck, hem", stroke(penEnd)},
		{"line-turn-up", "turned up to here", stroke(penHem)},
		{"part-hole", "hole: the cut, its stitching, its bar tacks", bars(true)},
		{"bound-hole", "bound hole: the cut between its two lips", func(l *list, r rect) {
			x, y := (r.x0+r.x1)/2, (r.y0+r.y1)/2
			l.line(penHole, pt{x - 6, y}, pt{x + 6, y})
			l.rect(penStitched, rect{x - 6.5, y - 1.3, x + 6.5, y + 1.3})
		}},
		{"show-hole", "hole for show: sewn and not cut", bars(false)},
		{"meets", "the fastener that comes to lie in it", ring(penRim, 2.2)},
		{"part-loop", "loop, lying flat", tongue(false)},
		{"part-cord", "cord that is sewn on", box(penStitched)},
		{"part-button", "button", ring(penFastener, 2.2)},
		{"part-tack-button", "tack button", ring(penFastener, 2.2)},
		{"part-snap-cap", "snap, cap", ring(penFastener, 2.2)},
		{"part-snap-stud", "snap, stud", ring(penFastener, 2.2)},
		{"part-rivet", "rivet", ring(penFastener, 2.2)},
		{"part-eyelet", "eyelet", ring(penFastener, 2.2)},
		{"part-toggle", "toggle, as it lies", stick(penFastener)},
		{"part-frog", "frog", ring(penFastener, 2.2)},
		{"part-hook", "hook, its bend towards the edge", tongue(true)},
		{"part-eye", "what the hook goes into", tongue(true)},
		{"part-backing", "backing button, on the inside", ring(penRim, 2.2)},
		{"cap", "what is seen of it", ring(penRim, 1.8)},
		{"punch", "hole to punch", ring(penHole, 1.1)},
		{"part-teeth", "zip: one half, its teeth and stops", func(l *list, r rect) {
			y := (r.y0 + r.y1) / 2
			b := rect{r.x0, y - 1.3, r.x1, y + 1.3}
			l.rect(penStitched, b)
			for x := b.x0 + 2; x < b.x1; x += 3 {
				l.line(penStitched, pt{x, b.y0}, pt{x, b.y1})
			}
			l.line(penBar, pt{b.x0, b.y0}, pt{b.x0, b.y1})
			l.line(penBar, pt{b.x1, b.y0}, pt{b.x1, b.y1})
		}},
		{"part-tape", "zip tape", stroke(penTape)},
		{"behind", "dashed: on the inside, or beneath", ring(penHidden, 2.2)},
		{"centre", "centre, measured from the top", func(l *list, r rect) {
			l.cross(penCross, pt{(r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2}, 2.2)
		}},
		{"anchor", "a place that wants a fastener near it", stroke(penAnchor)},
		{"area-clear", "keep clear of fasteners", func(l *list, r rect) {
			l.hatch(penHatch, r, 2.5)
			l.line(penClear, pt{r.x0, r.y0}, pt{r.x1, r.y0})
			l.line(penClear, pt{r.x0, r.y1}, pt{r.x1, r.y1})
		}},
		{"line-stripe", "stripes of the plaid", stroke(penRepeat)},
	}
})

// legendKeys are the samples that explain a thing: by the first word of its
// class, and by what it is besides.
func legendKeys(class string) []string {
	words := strings.Fields(class)
	if len(words) == 0 {
		return nil
	}
	keys := words[:1:1]
	if len(words) > 1 && words[0] == "part-hole" && words[1] == "show" {
		keys[0] = "show-hole"
	}
	if slices.Contains(words, "bound") {
		keys[0] = "bound-hole"
	}
	if words[0] == "line-cut" && len(words) > 1 {
		return []string{"cut-beneath"}
	}
	if slices.Contains(words, "behind") {
		keys = append(keys, "behind")
	}
	return keys
}

// squares draws the two squares, or the one in the unit that is read alone.
func (f *flow) squares(u measure.Unit) {
	const high = squareIn + 6
	f.need(high)
	top, left := f.y+1, 1.0
	for _, q := range []struct {
		class, says string
		unit        measure.Unit
		side        float64
	}{{"square-50-mm", "50 mm", measure.MM, squareMM}, {"square-2-in", "2 in", measure.In, squareIn}} {
		if !u.Or(q.unit).Is(q.unit) {
			continue
		}
		l := f.page().named("square "+q.class, "data-side-mm", num(q.side))
		l.rect(penSquare, rect{left, top, left + q.side, top + q.side})
		l.named("square-words")
		l.text(q.says, left+q.side/2, top+q.side/2, title.at(0))
		l.text("measure every side", left+q.side/2, top+q.side/2+5, small.at(0))
		left += q.side + 12
	}
	x := left - 6
	y := top + 5.0
	l := f.page().named("caution")
	for _, s := range []style{strong, normal} {
		words, them, off := "Check the squares before cutting.", "both", "half a millimetre (1/32 in)"
		switch {
		case u.IsAlone() && u.Is(measure.In):
			words, them, off = "Check the square before cutting.", "it", "1/32 in"
		case u.IsAlone():
			words, them, off = "Check the square before cutting.", "it", "half a millimetre"
		}
		if !s.bold {
			words = "Measure " + them + " with a ruler. If a side is wrong by more than " + off + ", the print is not at full size: print again at 100 %, without fitting to the page."
		}
		for _, line := range f.faces.wrap(words, s, f.w-x) {
			l.text(line, x, y, s)
			y += 4.2
		}
		y += 1.5
	}
	f.y += high
}

// unitWords say in what the lengths are written.
func unitWords(u measure.Unit) string {
	switch {
	case u == measure.In.Alone():
		return "lengths in inches"
	case u.IsAlone():
		return "lengths in mm"
	case u.Is(measure.In):
		return "lengths in inches (mm)"
	}
	return "lengths in mm (in)"
}

// cover is what stands before the guide: what it is, the squares, how to put
// it together, what the lines mean.
func (d *drawing) cover(w, h float64) []*list {
	g, parts, on := d.Garment, d.parts, d.on
	fl := &flow{faces: d.faces, w: w, h: h}
	fl.turn()
	fl.words("title", g.Title(), huge, 0)
	fl.words("title", "Marking guide at full size, "+unitWords(g.Units), strong, 0)
	var names []string
	seen := map[string]bool{}
	for _, q := range parts {
		for _, n := range q.names() {
			if !seen[n] {
				seen[n] = true
				names = append(names, n)
			}
		}
	}
	line := "Closures: " + strings.Join(names, ", ") + "."
	var sizes []string
	for _, s := range g.Sizes {
		for _, q := range parts {
			if s != "" && slices.Contains(q.sizes, s) {
				sizes = append(sizes, s)
				break
			}
		}
	}
	if len(sizes) > 0 {
		line += " Sizes: " + strings.Join(sizes, ", ") + "."
	}
	fl.words("title", line, normal, 0)
	for _, w := range catalog.Texts(g.Withs()) {
		fl.words("title", "Changed: "+w, normal, 0)
	}
	if n := d.Conflicts(); n > 0 {
		fl.y += 2.5
		says := fmt.Sprintf("This plan has %d conflicts: cut nothing until they are settled.", n)
		if n == 1 {
			says = "This plan has 1 conflict: cut nothing until it is settled."
		}
		b := fl.page().named("conflict").text(says, 2, fl.y+4, title)
		fl.page().rect(penBox, rect{0, b.y0 - 1.6, b.x1 + 2, b.y1 + 1.6})
		fl.y += 7
	}
	fl.y += 2
	fl.squares(g.Units)

	if on != nil {
		squares := "both squares"
		if g.Units.IsAlone() {
			squares = "the square"
		}
		fl.heading("How to put it together")
		steps := []string{
			"Print every page on " + on.name + " at 100 % (actual size), not fitted to the page. Measure " + squares + " above.",
			fmt.Sprintf("The pages are numbered, and an edge says which page goes there. Pages overlap by at least %s.", measure.FromMM(overlap).Text(g.Units)),
			"Cut off the margin on the side that lies on top, along the thin frame. Lay it on its neighbour until the points of the arrowheads meet, and tape them.",
		}
		if d.strips {
			steps = append(steps, "Then cut the strips apart along their sides.")
		}
		fl.steps("how", steps)
	}
	fl.heading("How to use it")
	var use []string
	if d.strips {
		use = append(use, "A strip shows the closure closed, from outside, and across only as far as its marks; what is dashed lies beneath. Lay its line on the same line of the garment, its top on the neck edge or the top of the opening. The under side has its centres at the same distances from the top.")
	}
	if len(d.full) > 0 {
		use = append(use, "Lay each piece on the right side of its cloth: its centre line, or the line in its place, on the garment's, its top on the neck edge or the top of the opening. What is dashed and called inside lies behind it.")
	}
	use = append(use, d.ways()...)
	fl.steps("use", use)
	for _, s := range d.left {
		fl.words("left", "Drawn in full, not as a strip: "+s+".", strong, 0)
		fl.y += 0.8
	}
	for _, s := range sideWords(parts, d.full) {
		fl.words("sides", s, small, 0)
		fl.y += 0.8
	}

	for _, s := range fusingWords(d.full) {
		fl.words("interfacing", s, small, 0)
		fl.y += 0.8
	}

	for _, q := range parts {
		if slices.ContainsFunc(q.members, func(i int) bool { return d.Closures[i].Hardware.Needed }) {
			fl.words("caution", "Hardware: protect your eyes, keep steel hammers off it, and make a test set in scraps of all the layers first, as its maker says.", normal, 0)
			break
		}
	}

	used := map[string]bool{}
	for _, s := range d.sheets {
		for _, key := range s.legendOf() {
			used[key] = true
		}
	}
	var legend []sample
	for _, s := range samples() {
		if used[s.class] {
			if s.class == "part-eye" {
				s.says = d.eyes() + " of the hook"
			}
			legend = append(legend, s)
		}
	}
	const row, cell = 5.2, 18.0
	half := (len(legend) + 1) / 2
	fl.need(float64(half)*row + 10)
	fl.heading("What the lines mean")
	for i, s := range legend {
		x, y := 0.0, fl.y+float64(i)*row
		if i >= half {
			x, y = w/2, fl.y+float64(i-half)*row
		}
		l := fl.page().named("legend")
		s.draw(l, rect{x, y, x + cell - 2, y + row - 1})
		l.text(s.says, x+cell, y+3.3, normal)
	}
	fl.y += float64(half) * row

	if on != nil {
		fl.heading("Pages")
		pages := make([]string, len(d.sheets))
		for i, s := range d.sheets {
			pages[i] = s.pages()
		}
		if room := h - fl.y - 1; h > 0 && float64(len(pages))*normal.size*1.28 > room { // no page more for two lines
			if run := strings.Join(pages, ". "); float64(len(d.faces.wrap(run, normal, w)))*normal.size*1.28 <= room {
				pages = []string{run}
			}
		}
		for _, says := range pages {
			fl.words("pages", says, normal, 0)
		}
	}
	return fl.pages
}

// eyes are what its hooks go into, as every paper calls it.
func (d *drawing) eyes() (out string) {
	for _, q := range d.parts {
		for _, i := range q.members {
			if k := &d.Closures[i]; k.Closure.Notion.Kind == catalog.Hook && !strings.Contains(out, work.EyeWord(k)) {
				out = text.Join(" or ", out, work.EyeWord(k))
			}
		}
	}
	return out
}

// notDrawn stands in the place of what follows from an edge that cannot be.
const notDrawn = "The finished edge, cut edge, facing and interfacing of %s are not drawn before " + work.Unsettled + "."

// ways say what to do with what is marked: nothing about holes where there is
// none.
func (d *drawing) ways() []string {
	holes, pins, opened, set, fasteners := false, false, false, false, false
	for _, q := range d.parts {
		for _, i := range q.members {
			k := &d.Closures[i]
			holes, set = holes || k.SewnHole(), set || k.Hardware.Needed
			pins = pins || k.SewnHole() && k.Hole.ByMachine()
			fasteners = fasteners || k.Closure.Notion.Kind != catalog.Zip
		}
		opened = opened || slices.ContainsFunc(q.pieces, func(pc plan.Piece) bool {
			return q.shows(&pc) && slices.ContainsFunc(pc.Parts, func(r plan.Part) bool { return r.Kind == plan.HolePart && r.Cut > 0 })
		})
	}
	try := "Sew a sample"
	switch {
	case holes && set:
		try = "Sew and open a sample hole, and make a test set,"
	case holes:
		try = "Sew and open a sample hole"
	case set:
		try = "Make a test set"
	}
	out := []string{try + " through all the layers first."}
	switch {
	case holes:
		out = append(out, "Mark and sew the holes; cut only those with a cut line. Then close the garment flat and mark the fasteners through the holes: the places underneath are for checking them.")
	case fasteners:
		out = append(out, "Mark the one side. Then close the garment flat and mark the other side from it: the places drawn there are for checking them.")
	}
	switch {
	case opened && !pins:
		out = append(out, "Cut a hole with the blade away from your hand, on a block.")
	case opened:
		out = append(out, "Open a hole: put a pin across each end, cut from the middle towards the pins, the blade away from your hand, on a block.")
	}
	return out
}

// fusingWords say where the interfacing lies, in the words of every paper.
func fusingWords(parts []*opening) []string {
	type laid struct{ name, lies string }
	var all []laid
	pieces := map[laid][]string{}
	for _, q := range parts {
		for i := range q.pieces {
			pc := &q.pieces[i]
			if !q.shows(pc) {
				continue
			}
			for j := range pc.Areas {
				if a := &pc.Areas[j]; a.Kind == plan.InterfacingArea {
					l := laid{a.Name, work.Lies(q.p, q.members[0], pc, a)}
					if pieces[l] == nil {
						all = append(all, l)
					}
					name := q.called(pc)
					if !slices.Contains(pieces[l], name) {
						pieces[l] = append(pieces[l], name)
					}
				}
			}
		}
	}
	var out []string
	for _, q := range parts {
		if !q.lost() {
			continue
		}
		var names []string
		for i := range q.pieces {
			if pc := &q.pieces[i]; q.shows(pc) && !pc.Edged && !(pc.Side == plan.Under && plan.Bare(q.closure().Where)) {
				names = append(names, "the "+pc.Piece)
			}
		}
		if says := fmt.Sprintf(notDrawn, text.And(names...)); len(names) > 0 && !slices.Contains(out, says) {
			out = append(out, says)
		}
	}
	for _, l := range all {
		out = append(out, text.Capital(l.name)+" interfacing, "+text.And(pieces[l]...)+": "+l.lies+".")
	}
	return out
}

// sideWords say which side lies on top, and how to change it.
func sideWords(parts, full []*opening) []string {
	mirrored := ""
	if len(full) > 0 {
		mirrored = "; the under side is a mirror image"
	}
	var out []string
	said := map[string]bool{}
	drawn, meet := "Drawn as the wearer faces you, so the wearer's right is on your left"+mirrored+".", false
	for _, right := range []bool{true, false} {
		var names []string
		for _, q := range parts {
			if q.fronts() && work.Meets(q.p, q.members[0]) && !q.flapped() {
				meet = true
				continue
			}
			if n := text.And(q.names()...); q.fronts() && q.rightOver() == right && !said[n] {
				said[n] = true
				names = append(names, n)
			}
		}
		if len(names) == 0 {
			continue
		}
		top, other := "right", "left"
		if !right {
			top, other = other, top
		}
		out = append(out, fmt.Sprintf("%s On top lies the wearer's %s: %s. For %s over %s set lap_over = %q in the closure.",
			drawn, top, strings.Join(names, ", "), other, top, other))
	}
	if len(out) == 0 && meet {
		out = append(out, drawn)
	}
	return out
}
