package guide

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"

	"pgregory.net/rapid"
)

// tool runs a program of the outside on a file, see program.
func tool(t *testing.T, name string, args ...string) []byte {
	t.Helper()
	in := "poppler-utils"
	if name == "qpdf" {
		in = name
	}
	program(t, name, in)
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return out
}

func saved(t *testing.T, b []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "guide.pdf")
	if err := os.WriteFile(file, b, 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// checkPDF has qpdf check the file's structure.
func checkPDF(t *testing.T, b []byte) {
	t.Helper()
	out := tool(t, "qpdf", "--check", saved(t, b))
	if bytes.Contains(out, []byte("WARNING")) {
		t.Errorf("qpdf: %s", out)
	}
}

func TestPDF(t *testing.T) {
	p := planned(t, watchCoat)
	// ISO 216: A4 is 210 × 297 mm. ANSI Y14.1: Letter is 8 1/2 × 11 in. A
	// point is 1/72 in.
	for paper, want := range map[string][2]float64{"a4": {210 / 25.4 * 72, 297 / 25.4 * 72}, "letter": {8.5 * 72, 11 * 72}} {
		b := marked(t, p, Options{Format: "pdf", Sizes: []string{"M"}, Paper: paper})
		checkPDF(t, b)
		info := tool(t, "pdfinfo", saved(t, b))
		m := regexp.MustCompile(`Page size: +([\d.]+) x ([\d.]+) pts`).FindSubmatch(info)
		if m == nil {
			t.Fatalf("pdfinfo: %s", info)
		}
		w, _ := strconv.ParseFloat(string(m[1]), 64)
		h, _ := strconv.ParseFloat(string(m[2]), 64)
		if !near(w, want[0], 0.1) || !near(h, want[1], 0.1) {
			t.Errorf("%s: the page is %g × %g points, want %g × %g", paper, w, h, want[0], want[1])
		}
		if bytes.Contains(info, []byte("CreationDate")) {
			t.Error("the PDF holds a date")
		}
	}
	for _, file := range garments(t) {
		checkPDF(t, marked(t, planned(t, file), Options{Format: "pdf"}))
	}
	b := marked(t, p, Options{Format: "pdf", Sizes: []string{"M"}})
	fonts := tool(t, "pdffonts", saved(t, b))
	for _, l := range strings.Split(strings.TrimSpace(string(fonts)), "\n")[2:] {
		if f := strings.Fields(l); f[len(f)-5] != "yes" { // emb sub uni object ID
			t.Errorf("a font is not embedded: %s", l)
		}
	}
}

// TestPDFText reads the text back: the labels, the names of the sides, the
// caution, the pages.
func TestPDFText(t *testing.T) {
	p := planned(t, watchCoat)
	text := string(tool(t, "pdftotext", "-layout", saved(t, marked(t, p, Options{Format: "pdf", Sizes: []string{"M"}, Paper: "a4"})), "-"))
	want := []string{
		"Harbour watch coat", "size M", "lengths in inches (mm)",
		"Check the squares before cutting.", "50 mm", "2 in",
		"Wearer's right front, on top: hole", "Wearer's left front, underneath: button",
		"neck edge", "hem 28 in (711 mm)", "bust 8 1/2 in ± 1 1/2 in", "belt: keep clear",
		"page 1 of", "page 3 goes here", "page 4 goes here", "2 conflicts: cut nothing",
		"put a pin across each end",
	}
	for _, at := range p.Closures[0].Sizes[2].Positions {
		want = append(want, at.Text(p.Garment.Units))
	}
	for _, s := range want {
		if !strings.Contains(text, s) {
			t.Errorf("pdftotext does not find %q", s)
		}
	}
	if t.Failed() {
		t.Log(text)
	}
}

// picture is a page drawn by poppler, at 254 dots an inch: 10 a millimetre.
type picture struct {
	w, h int
	pix  []byte
}

const perMM = 10

func (p *picture) dark(x, y int) bool {
	return x >= 0 && y >= 0 && x < p.w && y < p.h && p.pix[y*p.w+x] < 160
}

// level is the middle of a thin line that lies about y below one of the
// places xs, all in millimetres; false where there is none. The thinnest is
// taken first: two lines that touch have another middle.
func (p *picture) level(xs []float64, y float64) (float64, bool) {
	for _, thick := range []int{3, 8} {
		for _, x := range xs {
			col := int(x * perMM)
			for _, d := range []int{0, 1, -1, 2, -2, 3, -3, 4, -4} {
				j := int(y*perMM) + d
				if !p.dark(col, j) {
					continue
				}
				from, to := j, j
				for p.dark(col, from-1) {
					from--
				}
				for p.dark(col, to+1) {
					to++
				}
				if to-from < thick {
					return (float64(from+to)/2 + 0.5) / perMM, true
				}
				break
			}
		}
	}
	return 0, false
}

func drawn(t *testing.T, pdf string, page int) *picture {
	t.Helper()
	prefix := filepath.Join(t.TempDir(), "page")
	tool(t, "pdftoppm", "-r", "254", "-gray", "-singlefile", "-f", strconv.Itoa(page), pdf, prefix)
	b, err := os.ReadFile(prefix + ".pgm")
	if err != nil {
		t.Fatal(err)
	}
	var p picture
	var most int
	if _, err := fmt.Sscanf(string(b[:40]), "P5\n%d %d\n%d\n", &p.w, &p.h, &most); err != nil {
		t.Fatal(err)
	}
	p.pix = b[len(b)-p.w*p.h:]
	return &p
}

// TestPDFMeasured measures the printed page as a ruler would: the squares,
// and every centre from the neck edge, on every page it is on.
func TestPDFMeasured(t *testing.T) {
	t.Parallel()
	for name, on := range papers {
		if name == "a0" {
			continue // the picture of a page would be too large
		}
		o := Options{Format: "pdf", Sizes: []string{"M"}, Paper: name}
		p := planned(t, watchCoat)
		file := saved(t, marked(t, p, o))
		first := drawn(t, file, 1)
		if !near(float64(first.w)/perMM, on.w, 0.2) || !near(float64(first.h)/perMM, on.h, 0.2) {
			t.Fatalf("the page is %d × %d dots", first.w, first.h)
		}
		squaresMeasured(t, first.dark, first.w, first.h, perMM)
		measurePDF(t, p, o)
		o.Layout = "strip"
		measurePDF(t, p, o)
	}
	for _, file := range garments(t) {
		p := planned(t, file)
		measurePDF(t, p, Options{Format: "pdf", Paper: "a4", Sizes: []string{p.Garment.Sizes[0]}})
		measurePDF(t, p, Options{Format: "pdf", Paper: "a4", Sizes: []string{p.Garment.Sizes[0]}, Layout: "strip"})
	}
	for seed, n := uint64(0), 0; n < many(2, 20); seed++ {
		g, err := catalog.Read("coat.toml", []byte(randomGarment(seed)), catalog.Options{})
		if err != nil {
			continue
		}
		n++
		p := rules.Plan(g)
		size := g.Sizes[0]
		measurePDF(t, p, Options{Format: "pdf", Paper: "a4", Sizes: []string{size}})
		text := string(tool(t, "pdftotext", "-layout", saved(t, marked(t, p, Options{Format: "pdf", Sizes: []string{size}})), "-"))
		for i := range p.Closures {
			for _, at := range p.Closures[i].Sizes[0].Positions {
				if want := at.ShortPlace(g.Units); !strings.Contains(text, want) {
					t.Errorf("seed %d: pdftotext does not find %q", seed, want)
				}
			}
		}
	}
}

// measurePDF measures every centre from the top line of its piece.
func measurePDF(t *testing.T, p *rules.Planned, o Options) {
	t.Helper()
	// Where to look: the sheets as they are laid out.
	d, err := laid(p, o)
	if err != nil {
		t.Fatal(err)
	}
	if o.Layout == "strip" && !d.strips {
		return // all of it in full, as without the word
	}
	d.number()
	file := saved(t, marked(t, p, o))
	all, measured := 0, 0
	for _, s := range d.sheets {
		tiles := s.tiles()
		pages := make([]*picture, len(tiles))
		look := func(from, to, y float64, unit int) (float64, bool) {
			for n, tl := range tiles {
				if tl.shown(); unit > 0 && !s.boxes[unit].inside(tl.window) {
					continue // left out of this page
				}
				if y < tl.window.y0+2 || y > tl.window.y1-2 {
					continue
				}
				var xs []float64
				for x := from; x <= to; x += 0.3 {
					if x > tl.window.x0+6 && x < tl.window.x1-6 {
						xs = append(xs, x-tl.window.x0+marginSide)
					}
				}
				if len(xs) == 0 {
					continue
				}
				if pages[n] == nil {
					pages[n] = drawn(t, file, s.page(tl.col, tl.row))
				}
				if got, ok := pages[n].level(xs, y-tl.window.y0+marginTop); ok {
					return got - marginTop + tl.window.y0, true
				}
			}
			return 0, false
		}
		var top float64
		known, size := false, 0
		for n, i := range s.items {
			switch {
			case i.class == "line-top":
				top, known = look(min(i.pts[0].x, i.pts[1].x)+1, max(i.pts[0].x, i.pts[1].x)-1, i.pts[0].y, 0)
				first, _, _ := strings.Cut(i.data[slices.Index(i.data, "data-sizes")+1], " ")
				size = slices.Index(p.Garment.Sizes, first)
			case strings.HasPrefix(i.class, "centre ") && known && s.items[n+1].class == i.class && i.pts[0].y == i.pts[1].y:
				all++
				c := slices.IndexFunc(p.Garment.Closures, func(c catalog.Closure) bool { return c.Name == i.data[1] })
				number, _ := strconv.Atoi(i.data[3])
				want := p.Closures[c].Sizes[size].Positions[number-1].MM()
				if y, ok := look(i.pts[0].x+0.3, i.pts[1].x-0.3, i.pts[0].y, i.unit); ok {
					measured++
					if !near(y-top, want, 0.2) {
						t.Errorf("%s, %s: no. %d of %s measures %.2f mm from the top, planned %.2f", p.Garment.Name, s.name, number, i.data[1], y-top, want)
					}
				}
			}
		}
	}
	if measured*3 < all*2 { // others lie on lines of the drawing
		t.Errorf("only %d of %d centres could be measured", measured, all)
	}
}

// TestTiles: the pages cover every sheet, neighbours overlap by what the
// first page says at least, what is held is whole on a page, pages with a mark
// hang together, none is spare, and neighbours are joined in three places that
// are the same on both.
func TestTiles(t *testing.T) {
	f := shelf.Get().(*faces)
	rapid.Check(t, func(t *rapid.T) {
		on := papers[rapid.SampledFrom([]string{"a4", "letter", "a3"}).Draw(t, "paper")]
		w, h := on.inner()
		s := &sheet{list: list{faces: f}, name: "x", w: rapid.Float64Range(5, 1500).Draw(t, "w"), h: rapid.Float64Range(5, 1500).Draw(t, "h"), first: 2}
		for range rapid.IntRange(0, 12).Draw(t, "marks") {
			x, y := rapid.Float64Range(0, s.w).Draw(t, "x"), rapid.Float64Range(0, s.h).Draw(t, "y")
			k := rect{x, y, min(s.w, x+rapid.Float64Range(1, 90).Draw(t, "wide")), min(s.h, y+rapid.Float64Range(1, 90).Draw(t, "high"))}
			s.keep, s.marks = append(s.keep, k), append(s.marks, k)
		}
		s.begins = rapid.SliceOfN(rapid.Float64Range(0, s.w), 0, 3).Draw(t, "begins")
		s.lay(w, h)
		last := s.tile(len(s.xs)-1, len(s.ys)-1).window
		if first := s.tile(0, 0).window; first.x0 != 0 || first.y0 != 0 || last.x1 < s.w-1e-5 || last.y1 < s.h-1e-5 {
			t.Fatalf("%g × %g mm is not covered: %v to %v", s.w, s.h, first, last)
		}
		for _, q := range []struct {
			at          []float64
			long, inner float64
		}{{s.xs, s.w, w}, {s.ys, s.h, h}} {
			for i := 1; i < len(q.at); i++ {
				if got := q.at[i-1] + q.inner - q.at[i]; got < overlap-1e-6 {
					t.Fatalf("pages overlap by %g", got)
				}
				if q.at[i-1]+q.inner >= q.long {
					t.Fatalf("a page begins at %g of %g, where the last one reaches the end", q.at[i], q.long)
				}
			}
		}
		ts := s.tiles()
		for _, k := range s.marks {
			if !slices.ContainsFunc(ts, func(a tile) bool { return k.inside(a.window) }) {
				t.Fatalf("a mark at %v is whole on no page", k)
			}
		}
		seen := map[int]bool{}
		together := map[int]bool{s.first: true}
		for range ts {
			for _, a := range ts {
				for _, b := range ts {
					if abs(a.col-b.col)+abs(a.row-b.row) == 1 && together[s.page(a.col, a.row)] {
						together[s.page(b.col, b.row)] = true
					}
				}
			}
		}
		foot := footer{"", "", 0, 9}
		for n, a := range ts {
			number := s.page(a.col, a.row)
			if number != s.first+n || seen[number] || !together[number] {
				t.Fatalf("page %d of %d: numbered %d, hangs together: %v", n, len(ts), number, together[number])
			}
			seen[number] = true
			own := joined(a, on, foot)
			for _, b := range ts {
				if abs(b.col-a.col)+abs(b.row-a.row) != 1 {
					continue
				}
				both := 0
				for _, q := range joined(b, on, foot) {
					for _, p := range own {
						if near(p.x, q.x, 1e-6) && near(p.y, q.y, 1e-6) {
							both++
						}
					}
				}
				if both < 3 {
					t.Fatalf("two pages share %d places that join them, want 3", both)
				}
				if says := fmt.Sprintf("page %d goes here", s.page(b.col, b.row)); !slices.ContainsFunc(a.page(on, foot).items, func(i item) bool { return i.text == says }) {
					t.Fatalf("page %d does not say %q", number, says)
				}
			}
		}
	})
}

func abs(n int) int { return max(n, -n) }

// joined are the places that join a page to others, as places of the sheet.
func joined(a tile, on paper, foot footer) []pt {
	var out []pt
	for _, i := range a.page(on, foot).items {
		if i.class == "join" && i.loop {
			out = append(out, pt{i.pts[0].x - marginSide + a.window.x0, i.pts[0].y - marginTop + a.window.y0})
		}
	}
	return out
}

// wholeOnPages holds the pages of a guide against its sheets: every hole,
// fastener and loop is whole on a page, and drawn on no page that would cut
// it; so is every label of a place; and every page has a mark, or joins two
// that have.
func wholeOnPages(t *testing.T, p *rules.Planned, o Options) {
	t.Helper()
	d, err := laid(p, o)
	if err != nil {
		t.Fatal(err)
	}
	if o.Layout == "strip" && !d.strips {
		return // all of it in full, as without the word
	}
	_, total := d.number()
	foot := footer{"", "", 0, total}
	for _, s := range d.sheets {
		shown := make([]map[int]int, 0) // by page, the items of each unit
		tiles := s.tiles()
		for _, a := range tiles {
			on := map[int]int{}
			for _, i := range a.shown().items {
				if i.unit > 0 {
					on[i.unit]++
				}
				if i.unit > 0 && !s.boxes[i.unit].inside(a.window) {
					t.Errorf("%s, page %d: %s %q is cut", s.name, s.page(a.col, a.row), i.class, i.text)
				}
			}
			shown = append(shown, on)
			a.page(*d.on, foot)
			if len(tiles) > 1 && !wholeOn(s, a) && !fallsApart(tiles, a) {
				t.Errorf("%s, page %d shows no mark whole, and joins no pages", s.name, s.page(a.col, a.row))
			}
		}
		want := map[int]int{}
		for _, i := range s.items {
			if i.unit > 0 {
				want[i.unit]++
			}
		}
		for _, i := range s.items {
			_, part := strings.CutPrefix(i.class, "part-")
			label := i.class == "label" && slices.Contains(i.data, "data-number")
			if long := strings.HasPrefix(i.class, "part-teeth") || strings.HasPrefix(i.class, "part-tape"); long || !part && !label || want[i.unit] == 0 {
				continue
			}
			if i.unit == 0 || !slices.ContainsFunc(shown, func(on map[int]int) bool { return on[i.unit] == want[i.unit] }) {
				t.Errorf("%s: %s %q at %v is whole on no page", s.name, i.class, i.text, i.box)
			}
			want[i.unit] = 0 // said
		}
	}
}

// wholeOn says whether a page shows a mark whole.
func wholeOn(s *sheet, a tile) bool {
	for _, k := range s.marks {
		if k.x0 >= a.window.x0-1e-6 && k.x1 <= a.window.x1+1e-6 && k.y0 >= a.window.y0-1e-6 && k.y1 <= a.window.y1+1e-6 {
			return true
		}
	}
	return false
}

// fallsApart says whether the other pages are no longer all beside one another
// without one of them: found by painting from a first page.
func fallsApart(all []tile, without tile) bool {
	left := map[[2]int]bool{}
	for _, a := range all {
		if a != without {
			left[[2]int{a.col, a.row}] = true
		}
	}
	var paint func(at [2]int)
	paint = func(at [2]int) {
		if !left[at] {
			return
		}
		delete(left, at)
		for _, by := range [][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			paint([2]int{at[0] + by[0], at[1] + by[1]})
		}
	}
	for at := range left {
		paint(at)
		break
	}
	return len(left) > 0
}

// TestWholeOnAPage: what is marked is whole on a page, and cut on none.
func TestWholeOnAPage(t *testing.T) {
	t.Parallel()
	try := func(p *rules.Planned, layouts ...string) {
		for _, name := range []string{"a4", "letter", "a3", "a0"} {
			for _, layout := range layouts {
				wholeOnPages(t, p, Options{Paper: name, Layout: layout})
			}
		}
	}
	for _, file := range append(garments(t), wideCoat) {
		try(planned(t, file), "full", "strip")
	}
	for seed, n := uint64(0), many(60, 2000); n > 0; seed++ {
		g, err := catalog.Read("coat.toml", []byte(randomGarment(seed)), catalog.Options{})
		if err != nil {
			continue
		}
		n--
		if try(rules.Plan(g), "full", "strip"); t.Failed() {
			t.Fatalf("seed %d:\n%s", seed, randomGarment(seed))
		}
	}
}

// edgesShown: beside whatever a page shows of a piece, a page shows the finished
// edge of the piece, not only at its rim.
func edgesShown(t *testing.T, p *rules.Planned, o Options) {
	t.Helper()
	d, err := laid(p, o)
	if err != nil {
		t.Fatal(err)
	}
	d.number()
	for _, s := range d.sheets {
		for n, from := range s.begins {
			to := s.w
			if n+1 < len(s.begins) && s.begins[n+1] > from {
				to = s.begins[n+1]
			}
			for _, i := range s.items {
				if i.class != "line-finished" || i.box.x0 < from || i.box.x1 > to {
					continue
				}
				for r, y := range s.ys {
					shown, of := false, false
					for c, x := range s.xs {
						if s.has(c, r) && i.box.y0 < y+s.inH-5 && i.box.y1 > y+5 {
							of = of || x < to-panelGap && x+s.inW > from+panelGap
							shown = shown || i.box.x0 > x+0.5 && i.box.x1 < x+s.inW-0.5
						}
					}
					if of && !shown {
						t.Errorf("%s on %s: no page of row %d shows the finished edge", s.name, o.Paper, r+1)
					}
				}
			}
		}
	}
}

// TestEdgeIsOnAPage: what is marked is laid on and checked from the finished
// edge, which is there on every row of pages of the piece.
func TestEdgeIsOnAPage(t *testing.T) {
	t.Parallel()
	for _, file := range append(garments(t), wideCoat) {
		for _, name := range []string{"a4", "letter", "a3"} {
			edgesShown(t, planned(t, file), Options{Paper: name})
		}
	}
}

// TestSpread: labels moved apart do not overlap, stay in order, and do not
// move where there is room.
func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		want, high := make([]float64, n), make([]float64, n)
		at := 0.0
		for i := range want {
			at += rapid.Float64Range(0, 9).Draw(t, "step")
			want[i], high[i] = at, rapid.Float64Range(1, 8).Draw(t, "high")
		}
		got := spread(want, high)
		free := true
		for i := range got {
			if i > 0 {
				if got[i]-got[i-1] < (high[i]+high[i-1])/2-1e-9 {
					t.Fatalf("%v overlap with heights %v", got, high)
				}
				free = free && want[i]-want[i-1] >= (high[i]+high[i-1])/2
			}
		}
		if free {
			for i := range got {
				if !near(got[i], want[i], 1e-9) {
					t.Fatalf("%v moved to %v without need", want, got)
				}
			}
		}
	})
}
