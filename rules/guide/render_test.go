package guide

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"encoding/binary"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"
)

// svgFonts are the fonts inside an SVG, pdfFonts those inside a PDF.
func svgFonts(t *testing.T, svg []byte) [][]byte {
	t.Helper()
	var out [][]byte
	for _, m := range regexp.MustCompile(`base64,([A-Za-z0-9+/=]+)`).FindAllSubmatch(svg, -1) {
		b, err := base64.StdEncoding.DecodeString(string(m[1]))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, b)
	}
	return out
}

func pdfFonts(t *testing.T, rest []byte) [][]byte {
	t.Helper()
	var out [][]byte
	for {
		_, after, ok := bytes.Cut(rest, []byte(">>\nstream\n"))
		if !ok {
			return out
		}
		data, left, _ := bytes.Cut(after, []byte("\nendstream"))
		rest = left
		r, err := zlib.NewReader(bytes.NewReader(data))
		if err != nil {
			continue
		}
		b, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.HasPrefix(b, []byte{0, 1, 0, 0}) {
			out = append(out, b)
		}
	}
}

// table is a table of a font and the sum that the font says it has.
func table(font []byte, name string) (data []byte, sum uint32) {
	for i := range int(binary.BigEndian.Uint16(font[4:])) {
		entry := font[12+16*i:]
		if string(entry[:4]) == name {
			from, size := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
			return font[from : from+size], binary.BigEndian.Uint32(entry[4:])
		}
	}
	return nil, 0
}

func sumOf(b []byte) (sum uint32) {
	for b = slices.Concat(b, make([]byte, -len(b)&3)); len(b) > 0; b = b[4:] {
		sum += binary.BigEndian.Uint32(b)
	}
	return sum
}

// TestFonts: the fonts inside are cut down, carry the times of their maker
// and not that of writing, and their checksums hold: OpenType specification,
// table directory and head table. (A reader of PDF does not ask for the sum
// of the whole font, and fpdf gets it wrong now and then.)
func TestFonts(t *testing.T) {
	p := planned(t, watchCoat)
	inSVG := svgFonts(t, marked(t, p, Options{Format: "svg", Sizes: []string{"M"}}))
	inPDF := pdfFonts(t, marked(t, p, Options{Format: "pdf", Sizes: []string{"M"}}))
	if len(inSVG) != 2 || len(inPDF) != 2 {
		t.Fatalf("%d fonts in the SVG and %d in the PDF, want regular and bold in both", len(inSVG), len(inPDF))
	}
	for n := range 4 {
		b, whole := append(inSVG, inPDF...)[n], fontData[n%2]
		if len(b) > len(whole)/3 {
			t.Errorf("font %d has %d bytes of %d", n, len(b), len(whole))
		}
		if sum := sumOf(b); n < 2 && sum != 0xB1B0AFBA {
			t.Errorf("font %d: the words add up to %#x, want 0xb1b0afba", n, sum)
		}
		for _, name := range []string{"head", "hhea", "hmtx", "maxp", "loca", "glyf", "cmap", "post", "OS/2", "name"} {
			data, want := table(b, name)
			data = slices.Clone(data)
			if name == "head" && data != nil {
				was, _ := table(whole, name)
				if !bytes.Equal(data[20:36], was[20:36]) {
					t.Errorf("font %d: made and changed at %x, its maker says %x", n, data[20:36], was[20:36])
				}
				clear(data[8:12])
			}
			if got := sumOf(data); data == nil || got != want {
				t.Errorf("font %d: the words of %s add up to %#x, want %#x", n, name, got, want)
			}
		}
	}
}

// TestLetterForms reads the fonts inside an SVG back: each letter that is
// written has its width and its form.
func TestLetterForms(t *testing.T) {
	before := [2][]byte{bytes.Clone(fontData[0]), bytes.Clone(fontData[1])}
	l := &list{faces: shelf.Get().(*faces)}
	words := "Garment’s ½ × Æsir ÀÉÎõü ŵ ž Ω д № — “cuff” ﬁ 0123"
	l.text(words, 10, 10, normal)
	l.text(words, 10, 20, strong)
	svg := svgOf(l, 200, 30, "x")
	if !bytes.Equal(before[0], fontData[0]) || !bytes.Equal(before[1], fontData[1]) {
		t.Fatal("cutting a font down changed it")
	}
	var a, b sfnt.Buffer
	for n, data := range svgFonts(t, svg) {
		font, err := sfnt.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		whole := fonts()[n]
		em := fixedEm(whole)
		for _, r := range words {
			i, err1 := font.GlyphIndex(&a, r)
			j, err2 := whole.GlyphIndex(&b, r)
			if err1 != nil || err2 != nil || (i == 0) != (j == 0) {
				t.Errorf("font %d, %q: glyphs %d %d, errors %v %v", n, r, i, j, err1, err2)
				continue
			}
			v, _ := font.GlyphAdvance(&a, i, em, 0)
			w, _ := whole.GlyphAdvance(&b, j, em, 0)
			if v != w {
				t.Errorf("font %d, %q: %v wide, want %v", n, r, v, w)
			}
			x, err1 := font.LoadGlyph(&a, i, em, nil)
			y, err2 := whole.LoadGlyph(&b, j, em, nil)
			if err1 != nil || err2 != nil || !slices.Equal(x, y) {
				t.Errorf("font %d, %q: its form is not the same (errors %v %v)", n, r, err1, err2)
			}
		}
	}
}

// TestInfo: the title is told as it is, whatever its letters, who wrote the
// file, and no date.
func TestInfo(t *testing.T) {
	f := shelf.Get().(*faces)
	for name, want := range map[string]string{
		"Coat (winter) \\ 1":     "",
		"Küste č 日本":             "",
		"\u0a0d \u0d0a ऍ ਊ (":    "", // bytes that look like line ends
		"a 👩 b":                  "a ? b",
		"/CreationDate (D:2000)": "",
	} {
		if want == "" {
			want = name
		}
		b, err := pdfOf([]*list{{faces: f}}, papers["a4"], name)
		if err != nil {
			t.Fatal(err)
		}
		checkPDF(t, b)
		info := string(tool(t, "pdfinfo", "-enc", "UTF-8", saved(t, b)))
		got := map[string]string{}
		for _, l := range strings.Split(info, "\n") {
			k, v, _ := strings.Cut(l, ":")
			got[k] = strings.TrimSpace(v)
		}
		if got["Title"] != want+": marking guide" || got["Producer"] != "placketeer" {
			t.Errorf("%q: title %q, producer %q", name, got["Title"], got["Producer"])
		}
		if got["CreationDate"] != "" || got["ModDate"] != "" {
			t.Errorf("%q: dates %q, %q", name, got["CreationDate"], got["ModDate"])
		}
	}
	if undate([]byte("%PDF /CreationDate (D:20240101)")) == nil {
		t.Error("a date that cannot be taken out is let through")
	}
}

// TestWidth: words are as wide in the PDF as they were measured, by poppler.
func TestWidth(t *testing.T) {
	l := &list{faces: shelf.Get().(*faces)}
	var want []float64
	for n, st := range []style{small, normal, strong, title, huge} {
		s := strings.Repeat("Wool-1/8~", 4)
		l.text(s, 20, 20+10*float64(n), st)
		want = append(want, l.faces.width(s, st.size, st.bold))
	}
	b, err := pdfOf([]*list{l}, papers["a4"], "x")
	if err != nil {
		t.Fatal(err)
	}
	boxes := regexp.MustCompile(`<word xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)"`).FindAllSubmatch(tool(t, "pdftotext", "-bbox", saved(t, b), "-"), -1)
	if len(boxes) != len(want) {
		t.Fatalf("%d words, want %d", len(boxes), len(want))
	}
	for n, m := range boxes {
		x0, _ := strconv.ParseFloat(string(m[1]), 64)
		x1, _ := strconv.ParseFloat(string(m[2]), 64)
		if got := (x1 - x0) * pointSize; !near(got, want[n], 0.1) || !near(x0*pointSize, 20, 0.1) {
			t.Errorf("line %d begins at %.2f mm and is %.2f mm wide, want 20 and %.2f", n, x0*pointSize, got, want[n])
		}
	}
}

// decoded is a PNG as dots, 255 white.
func decoded(t fails, b []byte) *image.Gray {
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return img.(*image.Gray)
}

// ink is the area that is black, mm².
func ink(g *image.Gray, perMM float64) float64 {
	sum := 0.0
	for _, v := range g.Pix {
		sum += float64(255-v) / 255
	}
	return sum / perMM / perMM
}

// TestInk: what is drawn covers as much of the picture as geometry says: a
// line its length by its width, a dashed one its dashes, a ring 2πr by its
// width, and nothing is filled twice where lines turn.
func TestInk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
		dpi := rapid.SampledFrom([]int{72, 150, 300}).Draw(t, "dpi")
		wide := mm("width", 0.3, 1.5)
		pen := &pen{width: wide}
		l := &list{}
		want := 0.0
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0: // slanting, over several strips
			a, b := pt{mm("x0", 2, 98), mm("y0", 2, 98)}, pt{mm("x1", 2, 98), mm("y1", 2, 98)}
			l.line(pen, a, b)
			want = wide * math.Hypot(a.x-b.x, a.y-b.y)
		case 1: // whole dashes: 2 of every 3 mm
			n := rapid.IntRange(1, 20).Draw(t, "n")
			a, turn := pt{50, 50}, mm("turn", 0, 6.3)
			pen.dash = []float64{1, 0.5, 1, 0.5}
			long := 1.5 * float64(n)
			l.line(pen, a, pt{a.x + long*math.Cos(turn), a.y + long*math.Sin(turn)})
			want = wide * float64(n)
		case 2:
			r := mm("r", 3, 40)
			l.circle(pen, pt{mm("x", 45, 55), mm("y", 45, 55)}, r)
			want = wide * 2 * math.Pi * r
		case 3: // an open right angle with its rounded corner
			l.line(pen, pt{10, 80}, pt{10, 20}, pt{70, 20})
			// a quarter disc fills the outside of the corner; inside, a square
			// half a width long and wide lies under both
			want = wide*120 - wide*wide/4 + math.Pi*wide*wide/16
		case 4:
			l.rect(pen, rect{10, 10, 60, 30})
			want = wide*140 - 4*(wide*wide/4-math.Pi*wide*wide/16)
		}
		b, err := pngOf(l, 100, 100, dpi)
		if err != nil {
			t.Fatal(err)
		}
		if got := ink(decoded(t, b), float64(dpi)/25.4); !near(got, want, 0.01*want+0.02) {
			t.Fatalf("%g mm² are black, want %g", got, want)
		}
	})
}

// TestPNGAsPDF holds the picture against poppler's of the same drawing: the
// same grey on every 4 mm of it, to what thin lines are shifted by there.
func TestPNGAsPDF(t *testing.T) {
	d, err := laid(planned(t, slipCoat), Options{Paper: "a4"})
	if err != nil {
		t.Fatal(err)
	}
	on := *d.on
	front, _ := d.number()
	first := &list{faces: d.faces}
	first.put(front[0], marginSide, marginTop)
	pages := []*list{first}
	for _, s := range d.sheets {
		for _, tl := range s.tiles() {
			pages = append(pages, tl.page(on, footer{"Coat", "mm", 1, 1}))
		}
	}
	pages = pages[:min(len(pages), 8)]
	b, err := pdfOf(pages, on, "x")
	if err != nil {
		t.Fatal(err)
	}
	file := saved(t, b)
	for n, l := range pages {
		want := drawn(t, file, n+1)
		b, err := pngOf(l, on.w, on.h, 254)
		if err != nil {
			t.Fatal(err)
		}
		got := decoded(t, b)
		const block = 4 * perMM
		for y := 0; y+block <= min(want.h, got.Rect.Dy()); y += block {
			for x := 0; x+block <= min(want.w, got.Rect.Dx()); x += block {
				a, b := 0.0, 0.0
				for j := y; j < y+block; j++ {
					for i := x; i < x+block; i++ {
						a += float64(want.pix[j*want.w+i])
						b += float64(got.Pix[j*got.Stride+i])
					}
				}
				if d := math.Abs(a-b) / (255 * block * block); d > 0.06 {
					t.Errorf("page %d at %d, %d mm: grey differs by %.3f", n+1, x/perMM, y/perMM, d)
				}
			}
		}
	}
}

// TestLightLegs: drawing needs no network and no window system.
func TestLightLegs(t *testing.T) {
	goTool, err := exec.LookPath("go")
	if err != nil {
		t.Skip("go is not on the path")
	}
	cmd := exec.Command(goTool, "list", "-deps", ".")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range strings.Fields(string(out)) {
		if name == "net" || strings.HasPrefix(name, "net/") || strings.Contains(name, "xgb") || name == "os/exec" {
			t.Errorf("rules/guide links %s", name)
		}
	}
}

func fixedEm(f *sfnt.Font) fixed.Int26_6 { return fixed.I(int(f.UnitsPerEm())) }
