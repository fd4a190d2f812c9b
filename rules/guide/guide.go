// Package guide draws a plan: the marking guide at full size, to be laid on
// the cloth, and the little upright strip for the terminal.
//
// A guide is drawn once, as a list of things in millimetres, and that list is
// rendered as PDF, SVG or PNG. The same plan gives the same bytes.
package guide

import (
	"fmt"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/rules"
)

// Options say what of a plan to draw and on what.
type Options struct {
	Closure string // name of the closure; "" draws all that have a place
	Size    string // name of the size; "" draws all, one after another
	Paper   string // of a PDF, a4 or letter; "" is letter for a garment in inches, else a4
	Format  string // pdf, svg or png
	DPI     int    // of a PNG, 36 to 600; 0 is 150
}

const (
	maxPages = 200
	leastDPI = 36
	mostDPI  = 600
	usualDPI = 150
	rim      = 8.0   // white round an SVG or PNG, mm
	wide     = 170.0 // of the words before an SVG or PNG, mm
	maxSide  = 20000.0
)

// Mark draws the marking guide and gives the whole file. A PDF is tiled over
// the paper behind a first page that says how to put it together; SVG and
// PNG hold everything side by side. It refuses names that are not in the
// plan, a plan without a run, more than 200 pages, and a picture of more
// than 100 million dots.
func Mark(p *rules.Planned, o Options) ([]byte, error) {
	switch o.Format {
	case "pdf", "svg", "png":
	default:
		return nil, fmt.Errorf("cannot draw %q: write pdf, svg or png", o.Format)
	}
	if o.Paper == "" {
		o.Paper = "a4"
		if p.Garment.Units == measure.In {
			o.Paper = "letter"
		}
	}
	on, ok := papers[strings.ToLower(o.Paper)]
	if !ok {
		return nil, fmt.Errorf("there is no paper %q: write a4 or letter", o.Paper)
	}
	if o.DPI == 0 {
		o.DPI = usualDPI
	}
	if o.DPI < leastDPI || o.DPI > mostDPI {
		return nil, fmt.Errorf("%d dots an inch is out of range: write %d to %d", o.DPI, leastDPI, mostDPI)
	}
	parts, err := chosen(p, o)
	if err != nil {
		return nil, err
	}
	f := shelf.Get().(*faces)
	defer shelf.Put(f)
	if o.Format == "pdf" {
		return printed(p, parts, f, on)
	}
	return whole(p, parts, f, o)
}

// printed is the guide tiled over paper.
func printed(p *rules.Planned, parts []*opening, f *faces, on paper) ([]byte, error) {
	w, h := on.inner()
	ss := sheets(parts, f, &on)
	front := cover(p, parts, ss, f, &on, w, h)
	total := len(front)
	for _, s := range ss {
		total += s.count()
	}
	if total > maxPages {
		return nil, fmt.Errorf("the guide would take %d pages of %s, more than %d: draw one size or one closure", total, on.name, maxPages)
	}
	var pages []*list
	for _, c := range front {
		l := &list{faces: f}
		l.put(c, marginSide, marginTop)
		st := small
		st.grey = 60
		l.named("page-name").text(fmt.Sprintf("page %d of %d", len(pages)+1, total), on.w-marginSide, on.h-marginBottom+4.6, st.at(1))
		pages = append(pages, l)
	}
	for _, s := range ss {
		for _, t := range s.tiles(w, h) {
			pages = append(pages, t.page(on, p.Garment.Name, unitWords(p.Garment.Units), len(pages)+1, total))
		}
	}
	return pdfOf(pages, on, p.Garment.Name)
}

// whole is the guide in one piece: the words, then every sheet beside the
// last.
func whole(p *rules.Planned, parts []*opening, f *faces, o Options) ([]byte, error) {
	ss := sheets(parts, f, nil)
	all := &list{faces: f}
	front := cover(p, parts, ss, f, nil, wide, 0)[0]
	all.put(front, rim, rim)
	x, high := rim+wide+2*rim, front.bounds().y1+rim
	for _, s := range ss {
		all.put(&s.list, x, rim)
		x += s.w + 2*rim
		high = max(high, rim+s.h)
	}
	w, h := x-rim, high+rim
	if w > maxSide || h > maxSide {
		return nil, fmt.Errorf("the guide would be %.0f × %.0f mm: draw one size or one closure", w, h)
	}
	if o.Format == "svg" {
		return svgOf(all, w, h, p.Garment.Name+": marking guide"), nil
	}
	return pngOf(all, w, h, o.DPI)
}
