// Package guide draws a plan: the marking guide at full size, to be laid on
// the cloth, and the little upright strip for the terminal.
//
// A guide is drawn once, as a list of things in millimetres, and that list is
// rendered as PDF, SVG or PNG. The same plan gives the same bytes.
package guide

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
)

// Options say what of a plan to draw and on what.
type Options struct {
	Closure string   // name of the closure; "" draws all that have a place
	Sizes   []string // names of the sizes; none draws all, one after another
	Side    string   // over or under; "" draws both
	Layout  string   // full or strip; "" is full
	Paper   string   // of a PDF, a4, letter, a3, a0 or none, which is one sheet; "" is letter for a garment in inches, else a4
	Format  string   // pdf, svg or png
	DPI     int      // of a PNG, 36 to 600; 0 is 150
}

// Layouts, Sides and Papers are the words that Options take.
var (
	Layouts = []string{"full", "strip"}
	Sides   = []string{"over", "under"}
	Papers  = []string{"a4", "letter", "a3", "a0", "none"}
)

const (
	maxPages = 200
	leastDPI = 36
	mostDPI  = 600
	usualDPI = 150
	rim      = 8.0   // white round an SVG or PNG, mm
	wide     = 170.0 // of the words before an SVG or PNG, mm
	maxSide  = 20000.0
	// A page of a PDF may be 14 400 points wide: ISO 32000-1:2008, annex C.
	maxPDF = 14400 * pointSize
	// A row of pieces side by side, where all lie on one sheet.
	rowWide = 4800.0
)

// Mark draws the marking guide and gives the whole file, and, of strips, what
// no strip shows and is drawn in full, a line each. A PDF is tiled over the paper behind a first page that
// says how to put it together; SVG, PNG and a PDF without paper hold
// everything on one sheet. It refuses names that are not in the plan, a plan
// without a run, more than 200 pages, and a picture of more than 100 million
// dots.
func Mark(p *rules.Planned, o Options) (data []byte, left []string, err error) {
	switch o.Format {
	case "pdf", "svg", "png":
	default:
		return nil, nil, fmt.Errorf("cannot draw %q: write pdf, svg or png", o.Format)
	}
	for _, w := range []struct {
		kind, word string
		known      []string
	}{{"layout", o.Layout, Layouts}, {"side", o.Side, Sides}, {"paper", strings.ToLower(o.Paper), Papers}} {
		if w.word != "" && !slices.Contains(w.known, w.word) {
			return nil, nil, fmt.Errorf("there is no %s %q: write %s", w.kind, w.word, text.Or(w.known...))
		}
	}
	o.Paper = strings.ToLower(o.Paper)
	if o.Paper == "" {
		o.Paper = "a4"
		if p.Garment.Units.Is(measure.In) {
			o.Paper = "letter"
		}
		if o.Format != "pdf" {
			o.Paper = "none"
		}
	}
	if o.Format != "pdf" && o.Paper != "none" {
		return nil, nil, fmt.Errorf("a picture is one sheet: leave the paper %s out, or draw a PDF", o.Paper)
	}
	if o.DPI == 0 {
		o.DPI = usualDPI
	}
	if o.DPI < leastDPI || o.DPI > mostDPI {
		return nil, nil, fmt.Errorf("%d dots an inch is out of range: write %d to %d", o.DPI, leastDPI, mostDPI)
	}
	d, err := laid(p, o)
	if err != nil {
		return nil, nil, err
	}
	defer shelf.Put(d.faces)
	if o.Paper == "none" {
		data, err = d.one(o)
	} else {
		data, err = d.printed()
	}
	return data, d.left, err
}

// drawing is a guide, laid out.
type drawing struct {
	*rules.Planned
	faces  *faces
	on     *paper // nil for one sheet
	strips bool   // some of it is drawn as strips
	parts  []*opening
	full   []*opening // those drawn in full
	sheets []*sheet
	left   []string // what no strip shows, though strips were asked for
}

// laid lays a guide out. Its faces go back on the shelf when it is drawn.
func laid(p *rules.Planned, o Options) (*drawing, error) {
	parts, err := chosen(p, o)
	if err != nil {
		return nil, err
	}
	d := &drawing{Planned: p, strips: o.Layout == "strip", parts: parts, faces: shelf.Get().(*faces)}
	if on, ok := papers[o.Paper]; ok {
		d.on = &on
	}
	if d.strips {
		d.sheets, d.full, d.left = strips(parts, d.faces, d.on)
		d.strips = len(d.sheets) > 0
	} else {
		d.full = parts
	}
	d.sheets = append(d.sheets, sheets(d.full, d.faces, d.on)...)
	return d, nil
}

// number numbers the pages, and gives those of the words before them.
func (d *drawing) number() (front []*list, total int) {
	w, h := d.on.inner()
	before := 1
	for {
		n := before
		for _, s := range d.sheets {
			s.first = n + 1
			n += s.count()
		}
		front = d.cover(w, h)
		if len(front) <= before {
			return front, n - before + len(front)
		}
		before = len(front)
	}
}

// printed is the guide tiled over paper.
func (d *drawing) printed() ([]byte, error) {
	front, total := d.number()
	if total > maxPages {
		or := ", or --layout strip"
		if d.strips || len(d.left) > 0 {
			or = ""
		}
		return nil, fmt.Errorf("the guide would take %d pages of %s, more than %d: draw one size or one closure%s", total, d.on.name, maxPages, or)
	}
	foot := footer{d.Garment.Title(), unitWords(d.Garment.Units), d.Conflicts(), total}
	var pages []*list
	for _, c := range front {
		l := &list{faces: d.faces}
		l.put(c, marginSide, marginTop)
		foot.write(l, *d.on, len(pages)+1, "")
		pages = append(pages, l)
	}
	for _, s := range d.sheets {
		for _, t := range s.tiles() {
			pages = append(pages, t.page(*d.on, foot))
		}
	}
	return pdfOf(pages, *d.on, d.Garment.Title())
}

// one is the guide on one sheet: the words, then every piece beside the last,
// in rows.
func (d *drawing) one(o Options) ([]byte, error) {
	all := &list{faces: d.faces}
	front := d.cover(wide, 0)[0]
	all.put(front, rim, rim)
	x, y := rim+wide+2*rim, rim
	w, high := x-2*rim, front.bounds().y1
	row := 0.0
	for _, s := range d.sheets {
		if x > rim && x+s.w > rowWide {
			x, y, row = rim, max(y+row+2*rim, high+2*rim), 0
		}
		all.put(&s.list, x, y)
		x += s.w + 2*rim
		row = max(row, s.h)
		w, high = max(w, x-2*rim), max(high, y+s.h)
	}
	if n := d.Conflicts(); n > 0 {
		all.named("page-name").text(text.Count(n, "conflict")+": cut nothing", rim, high+rim, strong)
		high += rim
	}
	w, h := w+rim, high+rim
	if w > maxSide || h > maxSide {
		return nil, fmt.Errorf("the guide would be %.0f × %.0f mm: draw one size or one closure", w, h)
	}
	switch o.Format {
	case "pdf":
		if w > maxPDF || h > maxPDF {
			return nil, fmt.Errorf("the guide would be %.0f × %.0f mm, more than a page of a PDF may be: draw one size or one closure, or an .svg", w, h)
		}
		return pdfOf([]*list{all}, paper{"", w, h}, d.Garment.Title())
	case "svg":
		return svgOf(all, w, h, d.Garment.Title()+": marking guide"), nil
	}
	return pngOf(all, w, h, o.DPI)
}
