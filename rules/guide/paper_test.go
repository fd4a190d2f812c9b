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
		b := marked(t, p, Options{Format: "pdf", Size: "M", Paper: paper})
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
	b := marked(t, p, Options{Format: "pdf", Size: "M"})
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
	text := string(tool(t, "pdftotext", "-layout", saved(t, marked(t, p, Options{Format: "pdf", Size: "M", Paper: "a4"})), "-"))
	want := []string{
		"Harbour watch coat", "size M", "lengths in inches (mm)",
		"Check the squares before cutting.", "50 mm", "2 in",
		"Wearer's right front, on top: hole", "Wearer's left front, underneath: button",
		"neck edge", "hem 28 in (711 mm)", "bust 8 1/2 in ± 1 1/2 in", "belt: keep clear",
		"A1", "B3", "page 1 of", "joins B1", "joins A2", "2 conflicts: cut nothing",
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
	for name, on := range papers {
		o := Options{Format: "pdf", Size: "M", Paper: name}
		p := planned(t, watchCoat)
		file := saved(t, marked(t, p, o))
		first := drawn(t, file, 1)
		if !near(float64(first.w)/perMM, on.w, 0.2) || !near(float64(first.h)/perMM, on.h, 0.2) {
			t.Fatalf("the page is %d × %d dots", first.w, first.h)
		}
		squaresMeasured(t, first.dark, first.w, first.h, perMM)
		measurePDF(t, p, o)
	}
	for _, file := range garments(t) {
		p := planned(t, file)
		measurePDF(t, p, Options{Format: "pdf", Paper: "a4", Size: p.Garment.Sizes[0]})
	}
	for seed, n := uint64(0), 0; n < many(2, 20); seed++ {
		g, err := catalog.Read("coat.toml", []byte(randomGarment(seed)), catalog.Options{})
		if err != nil {
			continue
		}
		n++
		p := rules.Plan(g)
		size := g.Sizes[0]
		measurePDF(t, p, Options{Format: "pdf", Paper: "a4", Size: size})
		text := string(tool(t, "pdftotext", "-layout", saved(t, marked(t, p, Options{Format: "pdf", Size: size})), "-"))
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
	file := saved(t, marked(t, p, o))
	on := papers[o.Paper]
	// Where to look: the sheets as they are laid out.
	f := shelf.Get().(*faces)
	parts, err := chosen(p, o)
	if err != nil {
		t.Fatal(err)
	}
	ss := sheets(parts, f, &on)
	w, h := on.inner()
	pdf := len(cover(p, parts, ss, f, &on, w, h))
	all, measured := 0, 0
	for _, s := range ss {
		tiles := s.tiles(w, h)
		pages := make([]*picture, len(tiles))
		look := func(from, to, y float64) (float64, bool) {
			for n, tl := range tiles {
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
					pages[n] = drawn(t, file, pdf+n+1)
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
				top, known = look(min(i.pts[0].x, i.pts[1].x)+1, max(i.pts[0].x, i.pts[1].x)-1, i.pts[0].y)
				first, _, _ := strings.Cut(i.data[slices.Index(i.data, "data-sizes")+1], " ")
				size = slices.Index(p.Garment.Sizes, first)
			case strings.HasPrefix(i.class, "centre ") && known && s.items[n+1].class == i.class && i.pts[0].y == i.pts[1].y:
				all++
				c := slices.IndexFunc(p.Garment.Closures, func(c catalog.Closure) bool { return c.Name == i.data[1] })
				number, _ := strconv.Atoi(i.data[3])
				want := p.Closures[c].Sizes[size].Positions[number-1].MM()
				if y, ok := look(i.pts[0].x+0.3, i.pts[1].x-0.3, i.pts[0].y); ok {
					measured++
					if !near(y-top, want, 0.2) {
						t.Errorf("%s, %s: no. %d measures %.2f mm from the top, planned %.2f", s.name, i.data[1], number, y-top, want)
					}
				}
			}
		}
		pdf += len(tiles)
	}
	if measured*3 < all*2 { // others lie on lines of the drawing
		t.Errorf("only %d of %d centres could be measured", measured, all)
	}
}

// TestTiles: the pages cover every sheet, neighbours overlap by what the
// first page says, no page is spare, and the crosses of two neighbours are
// the same places of the sheet.
func TestTiles(t *testing.T) {
	f := shelf.Get().(*faces)
	rapid.Check(t, func(t *rapid.T) {
		on := papers[rapid.SampledFrom([]string{"a4", "letter"}).Draw(t, "paper")]
		w, h := on.inner()
		s := &sheet{list: list{faces: f}, name: "x", w: rapid.Float64Range(5, 3000).Draw(t, "w"), h: rapid.Float64Range(5, 3000).Draw(t, "h")}
		s.cols, s.rows = pages(s.w, w), pages(s.h, h)
		ts := s.tiles(w, h)
		at := func(c, r int) tile { return ts[c*s.rows+r] }
		last := at(s.cols-1, s.rows-1).window
		if first := at(0, 0).window; first.x0 != 0 || first.y0 != 0 || last.x1 < s.w-1e-6 || last.y1 < s.h-1e-6 {
			t.Fatalf("%g × %g mm is not covered: %v to %v", s.w, s.h, first, last)
		}
		if s.cols > 1 && last.x0+overlap >= s.w || s.rows > 1 && last.y0+overlap >= s.h {
			t.Fatalf("the last page holds nothing of its own: %v of %g × %g", last, s.w, s.h)
		}
		seen := map[string]bool{}
		for _, a := range ts {
			if seen[a.name()] {
				t.Fatalf("two pages are called %s", a.name())
			}
			seen[a.name()] = true
			for _, d := range [][2]int{{1, 0}, {0, 1}} {
				c, r := a.col+d[0], a.row+d[1]
				if c >= s.cols || r >= s.rows {
					continue
				}
				b := at(c, r)
				if got := a.window.x1 - b.window.x0; d[0] == 1 && !near(got, overlap, 1e-6) {
					t.Fatalf("%s and %s overlap by %g", a.name(), b.name(), got)
				}
				if got := a.window.y1 - b.window.y0; d[1] == 1 && !near(got, overlap, 1e-6) {
					t.Fatalf("%s and %s overlap by %g", a.name(), b.name(), got)
				}
			}
		}
		// The crosses of one page and its neighbours.
		a := ts[rapid.IntRange(0, len(ts)-1).Draw(t, "page")]
		own := crosses(a, on)
		for _, b := range ts {
			if d := abs(b.col-a.col) + abs(b.row-a.row); d != 1 {
				continue
			}
			both := 0
			for _, q := range crosses(b, on) {
				for _, p := range own {
					if near(p.x, q.x, 1e-6) && near(p.y, q.y, 1e-6) {
						both++
					}
				}
			}
			if both < 3 {
				t.Fatalf("%s and %s share %d crosses, want 3", a.name(), b.name(), both)
			}
		}
	})
}

func abs(n int) int { return max(n, -n) }

// crosses are a page's crosses as places of the sheet.
func crosses(a tile, on paper) []pt {
	var out []pt
	for _, i := range a.page(on, "", "", 1, 1).items {
		if i.class == "cross" && i.r > 0 {
			out = append(out, pt{i.pts[0].x - marginSide + a.window.x0, i.pts[0].y - marginTop + a.window.y0})
		}
	}
	return out
}

// TestLetters counts pages as columns of a table are counted.
func TestLetters(t *testing.T) {
	for n, want := range map[int]string{0: "A", 1: "B", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := letters(n); got != want {
			t.Errorf("letters(%d) = %s, want %s", n, got, want)
		}
	}
}

// TestWholeOnAPage: no hole or button of the coats is cut by a page's edge on
// every page that shows it.
func TestWholeOnAPage(t *testing.T) {
	f := shelf.Get().(*faces)
	for _, file := range garments(t) {
		for name, on := range papers {
			parts, err := chosen(planned(t, file), Options{})
			if err != nil {
				t.Fatal(err)
			}
			w, h := on.inner()
			for _, s := range sheets(parts, f, &on) {
				for _, i := range s.items {
					if kind, part := strings.CutPrefix(i.class, "part-"); !part || strings.HasPrefix(kind, "teeth") || strings.HasPrefix(kind, "tape") {
						continue
					}
					whole := false
					for _, a := range s.tiles(w, h) {
						whole = whole || i.box.y0 >= a.window.y0 && i.box.y1 <= a.window.y1
					}
					if !whole {
						t.Errorf("%s on %s: a fastener at %v is whole on no page", s.name, name, i.box)
					}
				}
			}
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
