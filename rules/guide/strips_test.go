package guide

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/plan"

	"github.com/google/go-cmp/cmp"
)

// tenSizes is a single front of ten sizes, invented, the smallest of that
// length.
func tenSizes(inches float64) string {
	var names, runs []string
	for i := range 10 {
		n := strconv.Itoa(6 + 2*i)
		names, runs = append(names, strconv.Quote(n)), append(runs, fmt.Sprintf("%s = %v", n, inches+float64(i)/4))
	}
	return `garment = "Slip coat"
units = "in"
sizes.names = [` + strings.Join(names, ", ") + `]
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "horn-45"
hole = "keyhole"
over = ["shell", "shell"]
stand = { construction = "faced", finished = "1 1/4 in" }
[closure.run]
length = { ` + strings.Join(runs, ", ") + ` }
count = 6
first = "1 1/4 in"
last = "4 in"
`
}

// TestPagesOfStrips: ten sizes of a 28 in single front take at most 14 pages
// as strips, and a page more for every three where it is longer.
func TestPagesOfStrips(t *testing.T) {
	for _, paper := range []string{"a4", "letter", "a3", "a0"} {
		for inches, most := range map[float64]int{26: 14, 28: 14, 32: 17} {
			p := read(t, tenSizes(inches))
			d, err := laid(p, Options{Paper: paper, Layout: "strip"})
			if err != nil {
				t.Fatal(err)
			}
			_, strips := d.number()
			d, err = laid(p, Options{Paper: paper})
			if err != nil {
				t.Fatal(err)
			}
			_, full := d.number()
			if strips > most || full < 3*strips && paper != "a0" && paper != "a3" {
				t.Errorf("%s, %g in: %d pages of strips, want at most %d; %d in full", paper, inches, strips, most, full)
			}
			if paper == "a0" && strips != 2 {
				t.Errorf("%d pages of A0, want the words and one that holds all strips", strips)
			}
		}
	}
}

// TestPagesInPDF counts the pages of the file.
func TestPagesInPDF(t *testing.T) {
	info := tool(t, "pdfinfo", saved(t, marked(t, read(t, tenSizes(28)), Options{Format: "pdf", Layout: "strip", Paper: "a4"})))
	m := regexp.MustCompile(`Pages: +(\d+)`).FindSubmatch(info)
	if n, _ := strconv.Atoi(string(m[1])); n < 3 || n > 14 {
		t.Errorf("%d pages, want at most 14", n)
	}
}

// TestPaperNone: one page as large as the drawing, to scale.
func TestPaperNone(t *testing.T) {
	p := planned(t, watchCoat)
	for _, layout := range Layouts {
		o := Options{Format: "pdf", Layout: layout, Paper: "none", Sizes: []string{"M", "L"}}
		file := saved(t, marked(t, p, o))
		info := string(tool(t, "pdfinfo", file))
		m := regexp.MustCompile(`Pages: +1\n(?s:.*)Page size: +([\d.]+) x ([\d.]+) pts`).FindStringSubmatch(info)
		if m == nil {
			t.Fatalf("pdfinfo: %s", info)
		}
		o.Format = "svg"
		root, _ := parsed(t, marked(t, p, o))
		w, _ := strconv.ParseFloat(m[1], 64)
		h, _ := strconv.ParseFloat(m[2], 64)
		if want := fmt.Sprintf("%.0f %.0f", w*pointSize, h*pointSize); fmt.Sprintf("%.0f %.0f", number(root["width"]), number(root["height"])) != want {
			t.Errorf("%s: the PDF is %s mm, the SVG %s × %s", layout, want, root["width"], root["height"])
		}
		first := drawn(t, file, 1)
		squaresMeasured(t, first.dark, first.w, first.h, perMM)
		if text := string(tool(t, "pdftotext", file, "-")); !strings.Contains(text, "2 conflicts: cut nothing") || strings.Contains(text, "goes here") {
			t.Errorf("%s: on one sheet it says %s", layout, text)
		}
	}
}

func number(mm string) float64 {
	x, _ := strconv.ParseFloat(strings.TrimSuffix(mm, "mm"), 64)
	return x
}

// strip is a strip as it is drawn: its groups, up to its sides.
type drawnStrip struct{ groups []group }

func stripsDrawn(groups []group) []drawnStrip {
	var out []drawnStrip
	var s drawnStrip
	begun := false
	for _, g := range groups {
		kind, _, _ := strings.Cut(g.class, "-")
		begun = begun || (kind == "line" || kind == "area") && g.data["data-side"] != ""
		if !begun {
			continue
		}
		s.groups = append(s.groups, g)
		if g.class == "strip-side" {
			out = append(out, s)
			s, begun = drawnStrip{}, false
		}
	}
	return out
}

// compareStrips holds strips against the plan's pieces, law 5: every part of
// a closure that is not said to be too wide is on a strip, once, where the
// piece has it, and no other; what is too wide is drawn in full. A place is read from what is drawn: across from
// the line on which the strip is laid, down from its top.
func compareStrips(t *testing.T, p *rules.Planned, side string) {
	t.Helper()
	svg, left, err := Mark(p, Options{Format: "svg", Layout: "strip", Side: side})
	if err != nil {
		t.Fatal(err)
	}
	_, groups := parsed(t, svg)
	last := -1
	for i := range groups {
		if groups[i].class == "strip-side" {
			last = i
		}
	}
	full := placesDrawn(t, p, groups[last+1:])
	groups = groups[:last+1]
	got := map[pieceKey][]place{}
	for _, s := range stripsDrawn(groups) {
		var x0, y0 float64
		found := 0
		sides := s.groups[len(s.groups)-1].paths
		if wide := sides[1][0].x - sides[0][0].x; wide > stripMost+1e-6 {
			t.Errorf("a strip is %g mm wide", wide)
		}
		for _, g := range s.groups {
			first, _, _ := strings.Cut(g.data["data-sizes"], " ")
			sign := overSign(p, g.data["data-opening"])
			if g.data["data-side"] == "under" {
				sign = -sign
			}
			switch g.class {
			case "line-centre", "line-meeting":
				x0 = g.paths[0][0].x
				found |= 1
			case "line-top":
				y0 = g.paths[0][0].y
				found |= 2
			case "line-column":
				if found&1 == 0 {
					for _, o := range p.Garment.Openings() {
						j := slices.Index(p.Garment.Sizes, first)
						for _, pc := range p.PiecesOf(o.Closures[0], max(j, 0)) {
							for _, l := range pc.Lines {
								if o.Name == g.data["data-opening"] && pc.Side.String() == g.data["data-side"] && l.Kind == plan.ColumnLine && num(l.From.Out.MM()) == g.data["data-out-from-mm"] {
									x0 = g.paths[0][0].x - sign*l.From.Out.MM()
									found |= 4
								}
							}
						}
					}
				}
			}
		}
		if found&2 == 0 {
			t.Fatal("a strip has no top")
		}
		for n := 0; n < len(s.groups); n++ {
			g := s.groups[n]
			kind, _, _ := strings.Cut(g.class, " ")
			if !strings.HasPrefix(kind, "part-") {
				continue
			}
			sign := overSign(p, g.data["data-opening"])
			if g.data["data-side"] == "under" {
				sign = -sign
			}
			q := place{class: kind}
			box := nowhere
			for _, path := range g.paths {
				box = box.join(boxOf(path, 0))
			}
			for _, name := range []string{"layer", "name", "role", "number", "closure", "stitched-mm", "eye"} {
				if v := g.data["data-"+name]; v != "" {
					q.says += name + " " + v + "; "
				}
			}
			var cross *pt
			for _, h := range s.groups[n+1:] {
				if strings.HasPrefix(h.class, "part-") || strings.HasPrefix(h.class, "label") {
					break
				}
				switch word, _, _ := strings.Cut(h.class, " "); word {
				case "centre":
					a, b := h.paths[0], h.paths[1]
					cross = &pt{(a[0].x + a[1].x) / 2, (b[0].y + b[1].y) / 2}
				case "cut":
					c := nowhere
					for _, path := range h.paths {
						c = c.join(boxOf(path, 0))
					}
					q.cut = max(c.x1-c.x0, c.y1-c.y0)
				}
			}
			if found&5 == 0 { // no line: a single row of two columns
				mid := (box.x0 + box.x1) / 2 // of what has no cross, such as a backing button
				if cross != nil {
					mid = cross.x
				}
				x0 = mid - sign*number(g.data["data-out-mm"])
			}
			a, b := (box.x0-x0)*sign, (box.x1-x0)*sign
			q.x = [4]float64{min(a, b), box.y0 - y0, max(a, b), box.y1 - y0}
			if cross != nil {
				q.cross = pt{(cross.x - x0) * sign, cross.y - y0}
			}
			for _, size := range strings.Split(g.data["data-sizes"], " ") {
				k := pieceKey{g.data["data-opening"], size, g.data["data-side"]}
				got[k] = append(got[k], q)
			}
		}
	}
	clean := func(list []place) []place {
		out := append([]place(nil), list...)
		for i := range out {
			out[i].words = ""
		}
		slices.SortFunc(out, comparePlace)
		return slices.Compact(out)
	}
	same := func(want, got []place) string {
		return cmp.Diff(clean(want), clean(got), cmp.AllowUnexported(place{}, pt{}), near01)
	}
	for k, want := range placesPlanned(p) {
		if side != "" && (side == "under") != (k.side == "under") {
			want = nil
		}
		wide, drawn := false, full[k]
		if delete(full, k); drawn != nil {
			if diff := same(want, drawn); diff != "" {
				t.Errorf("%v in full (-planned +drawn)\n%s", k, diff)
			}
		}
		// What is said to be too wide is on no strip.
		want = slices.DeleteFunc(slices.Clone(want), func(q place) bool {
			if !strings.HasPrefix(q.class, "part-") {
				return true
			}
			return slices.ContainsFunc(left, func(says string) bool {
				name, _, _ := strings.Cut(says, ":")
				outer := q.outer(k.side)
				gone := strings.Contains(q.says, "closure "+name+";") &&
					!slices.ContainsFunc(got[k], func(d place) bool {
						return d.says == q.says && d.class == q.class && d.outer(k.side) == outer
					})
				wide = wide || gone
				return gone
			})
		})
		if wide && drawn == nil {
			t.Errorf("%v: what no strip shows is not drawn in full", k)
		}
		if diff := same(want, got[k]); diff != "" {
			t.Errorf("%v (-planned +drawn)\n%s", k, diff)
		}
		delete(got, k)
	}
	for k := range got {
		t.Errorf("%v is drawn and is not planned", k)
	}
	for k := range full {
		t.Errorf("%v is drawn in full and is not planned", k)
	}
}

// outer says whether a part of a double-breasted front lies in its outer
// column: by its middle, for not every part has a cross.
func (q *place) outer(side string) bool {
	mid := q.x[0] + q.x[2]
	if q.cross != (pt{}) {
		mid = q.cross.x
	}
	if side == "under" {
		mid = -mid
	}
	return mid > 0
}

// overSign is 1 where the edge of the over piece looks to the viewer's right.
func overSign(p *rules.Planned, opening string) float64 {
	for i := range p.Garment.Closures {
		if c := &p.Garment.Closures[i]; c.OpeningName() == opening && p.Garment.Over(c) == "right" {
			return 1
		}
	}
	return -1
}

// TestPlacesOnStrips: law 5 for the strips.
func TestPlacesOnStrips(t *testing.T) {
	t.Parallel()
	for _, file := range append(garments(t), wideCoat) {
		for _, side := range []string{"", "over", "under"} {
			if compareStrips(t, planned(t, file), side); t.Failed() {
				t.Fatal(file, side)
			}
		}
	}
	drawn := 0
	for seed, n := uint64(0), many(60, 1000); n > 0; seed++ {
		g, err := catalog.Read("coat.toml", []byte(randomGarment(seed)), catalog.Options{})
		if err != nil {
			continue
		}
		n--
		p := rules.Plan(g)
		if compareStrips(t, p, []string{"", "over", "under"}[seed%3]); t.Failed() {
			t.Fatalf("seed %d:\n%s", seed, randomGarment(seed))
		}
		if d, err := laid(p, Options{Paper: "none", Layout: "strip"}); err == nil && d.strips {
			drawn++
		}
	}
	if drawn < 30 {
		t.Errorf("only %d random garments have a strip", drawn)
	}
}

// TestSides: one side alone draws its pieces and no others.
func TestSides(t *testing.T) {
	for _, file := range append(garments(t), wideCoat) {
		p := planned(t, file)
		for _, side := range Sides {
			_, groups := parsed(t, marked(t, p, Options{Format: "svg", Side: side}))
			seen := false
			for _, g := range groups {
				if s := g.data["data-side"]; s != "" {
					seen = true
					if (s == "under") != (side == "under") {
						t.Errorf("%s: --side %s draws the side %s", file, side, s)
					}
				}
			}
			if !seen {
				t.Errorf("%s: --side %s draws nothing", file, side)
			}
		}
	}
}

// TestTooWide: a front too wide for a strip says so and is drawn in full, and
// what fits as a strip.
func TestTooWide(t *testing.T) {
	for _, closure := range []string{"", "front"} {
		b, left, err := Mark(planned(t, wideCoat), Options{Format: "svg", Layout: "strip", Closure: closure})
		if err != nil {
			t.Fatal(err)
		}
		if len(left) != 2 || !strings.HasPrefix(left[0], "front: the marks of its outer column take ") || !strings.HasSuffix(left[0], "a strip is at most 2 1/2 in (63 mm) wide") {
			t.Errorf("in full: %q", left)
		}
		svg := string(b)
		if !strings.Contains(svg, "Drawn in full, not as a strip: front: the marks of its outer column") || strings.Contains(svg, ">cuff-tab, all sizes<") != (closure == "") {
			t.Error("the words do not say what is drawn in full, or what fits is not drawn")
		}
		_, groups := parsed(t, b)
		if !slices.ContainsFunc(groups, func(g group) bool { return g.class == "line-cut" && g.data["data-opening"] == "front" }) {
			t.Error("the front is not drawn in full")
		}
		if closure != "" && (strings.Contains(svg, "A strip shows") || strings.Contains(svg, "strip-side")) {
			t.Error("it tells of strips, and there are none")
		}
	}
}

// TestNames: on every page, every line that runs through it is named.
func TestNames(t *testing.T) {
	for _, file := range append(garments(t), wideCoat) {
		for _, layout := range Layouts {
			d, err := laid(planned(t, file), Options{Paper: "a4", Layout: layout})
			if err != nil {
				t.Fatal(err)
			}
			_, total := d.number()
			for _, s := range d.sheets {
				for _, tl := range s.tiles() {
					page := tl.page(*d.on, footer{"", "", 0, total})
					for _, i := range page.items { // what says where a strip ends goes with it when they are cut apart
						if says, is := strings.CutPrefix(i.text, "further down:"); is && !slices.ContainsFunc(s.hems, func(e ending) bool {
							at := e.at.x - tl.window.x0 + marginSide
							return strings.HasSuffix(" "+e.text, says) && (e.wide == 0 || i.box.x0 > at-e.wide/2 && i.box.x1 < at+e.wide/2)
						}) {
							t.Errorf("%s, page %d: %q stands on no strip that it is about", file, s.page(tl.col, tl.row), i.text)
						}
					}
					for _, n := range s.lines {
						w := tl.window
						from, to := max(n.from.y, w.y0), min(n.to.y, w.y1)
						if x := n.x((from + to) / 2); to-from < 80 || x < w.x0+1 || x > w.x1-1 {
							continue // no room for a name
						}
						name := d.faces.printable(n.name())
						if !slices.ContainsFunc(page.items, func(i item) bool {
							return i.pen == nil && i.text == name && math.Abs(i.box.x0-marginSide+w.x0-n.x(i.box.y1-marginTop+w.y0)) < 20
						}) {
							t.Errorf("%s, %s, page %d: the line %q at %.0f mm has no name", file, layout, s.page(tl.col, tl.row), name, n.from.x-w.x0)
						}
					}
				}
			}
		}
	}
}

// TestTaper: a row of columns that taper is told across as on every other
// paper, to the marks of a ruler.
func TestTaper(t *testing.T) {
	for units, want := range map[string]string{ // geometry: 4 to 2 3/4 in, a third of the way
		"in": "3 9/16 in from the centre line", "mm": "91 mm from the centre line",
	} {
		p := read(t, `garment = "Slip coat (invented)"
units = "`+units+`"
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "horn-30"
lap = "double"
over = ["shell", "shell"]
[closure.rows]
top = "4 in"
bottom = "2 3/4 in"
[closure.stand]
construction = "faced"
[closure.run]
length = "26 in"
first = "2 in"
last = "6 in"
count = 4
step = "0.01 in"
`)
		for _, layout := range Layouts {
			_, groups := parsed(t, marked(t, p, Options{Format: "svg", Layout: layout}))
			found := false
			for _, g := range groups {
				for _, s := range g.texts {
					found = found || strings.Contains(s, want)
					if at, is := strings.CutSuffix(s, " "+units+" from the centre line"); is && strings.Contains(at, ".") && units == "in" {
						t.Errorf("%s: %q is on no ruler", layout, s)
					}
				}
			}
			if !found {
				t.Errorf("%s, %s: nothing says %q", units, layout, want)
			}
		}
	}
}
