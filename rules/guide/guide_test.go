package guide

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"

	"github.com/google/go-cmp/cmp"
)

const (
	watchCoat = "../../testdata/garments/watch-coat.toml"
	slipCoat  = "testdata/slip-coat.toml"
	wideCoat  = "testdata/wide-coat.toml"
)

// garments are the demos and the coat with a closure of every kind.
func garments(t testing.TB) []string {
	t.Helper()
	files := []string{slipCoat}
	demos, err := filepath.Glob("../../testdata/garments/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range demos {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if regexp.MustCompile(`(?m)^garment *=`).Match(b) { // not a catalogue
			files = append(files, f)
		}
	}
	if len(files) < 3 {
		t.Fatalf("only %d garments", len(files))
	}
	return files
}

func planned(t testing.TB, file string, with ...string) *rules.Planned {
	t.Helper()
	g, err := catalog.Load(file, catalog.Options{With: with})
	if err != nil {
		t.Fatal(err)
	}
	return rules.Plan(g)
}

func read(t testing.TB, toml string) *rules.Planned {
	t.Helper()
	return readRapid(t, toml)
}

// fails is what a test and a property have in common.
type fails interface{ Fatal(...any) }

func readRapid(t fails, toml string) *rules.Planned {
	g, err := catalog.Read("test.toml", []byte(toml), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return rules.Plan(g)
}

func marked(t testing.TB, p *rules.Planned, o Options) []byte {
	t.Helper()
	b, _, err := Mark(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// group is a <g> of the SVG with the paths in it.
type group struct {
	class string
	data  map[string]string
	paths [][]pt
	texts []string
}

// parsed reads an SVG as XML and gives its attributes and groups in order.
func parsed(t *testing.T, b []byte) (map[string]string, []group) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(b))
	root := map[string]string{}
	var groups []group
	inText := false
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("not XML: %v", err)
		}
		e, ok := tok.(xml.StartElement)
		if s, words := tok.(xml.CharData); words && inText {
			g := &groups[len(groups)-1]
			g.texts = append(g.texts, string(s))
		}
		if !ok {
			continue
		}
		inText = e.Name.Local == "text"
		attr := map[string]string{}
		for _, a := range e.Attr {
			attr[a.Name.Local] = a.Value
		}
		switch e.Name.Local {
		case "svg":
			root = attr
		case "g":
			groups = append(groups, group{class: attr["class"], data: attr})
		case "path":
			if len(groups) > 0 {
				g := &groups[len(groups)-1]
				g.paths = append(g.paths, points(t, attr["d"]))
			}
		}
	}
	return root, groups
}

// points are the ends of the lines of a path, and the top and bottom of its
// half circles.
func points(t *testing.T, d string) []pt {
	t.Helper()
	at := pt{}
	var out []pt
	i := 0
	next := func() float64 {
		j := i
		for j < len(d) && (d[j] == ' ' || d[j] == ',') {
			j++
		}
		k := j
		for k < len(d) && (d[k] == '-' && k == j || d[k] == '.' || d[k] == 'e' || d[k] == '-' && d[k-1] == 'e' || d[k] >= '0' && d[k] <= '9') {
			k++
		}
		v, err := strconv.ParseFloat(d[j:k], 64)
		if err != nil {
			t.Fatalf("path %q at %d: %v", d, i, err)
		}
		i = k
		return v
	}
	for i < len(d) {
		c := d[i]
		i++
		switch c {
		case 'M', 'L':
			at = pt{next(), next()}
		case 'H':
			at.x = next()
		case 'V':
			at.y = next()
		case 'z', 'Z':
			continue
		case 'A':
			r, _, _ := next(), next(), next()
			i += 3 // a blank and two flags of one digit each
			from := at
			at = pt{next(), next()}
			mid := pt{(from.x + at.x) / 2, (from.y + at.y) / 2} // arcs here are half circles
			out = append(out, pt{mid.x, mid.y - r}, pt{mid.x, mid.y + r})
		default:
			t.Fatalf("path %q: command %q", d, c)
		}
		out = append(out, at)
	}
	return out
}

func near(a, b, by float64) bool { return math.Abs(a-b) <= by }

// TestSVGIsFullSize: a unit of the drawing is a millimetre.
func TestSVGIsFullSize(t *testing.T) {
	for _, file := range garments(t)[:3] {
		root, _ := parsed(t, marked(t, planned(t, file), Options{Format: "svg"}))
		w, _ := strconv.ParseFloat(strings.TrimSuffix(root["width"], "mm"), 64)
		h, _ := strconv.ParseFloat(strings.TrimSuffix(root["height"], "mm"), 64)
		if want := fmt.Sprintf("0 0 %g %g", w, h); root["viewBox"] != want || w < 300 || !strings.HasSuffix(root["width"], "mm") {
			t.Errorf("%s: width %q, height %q, viewBox %q", file, root["width"], root["height"], root["viewBox"])
		}
	}
}

// TestHole holds the drawn cut against the trade's rule: across the edge it
// begins 1/8 in beyond the centre line (Extension Bulletin 576, Buttons and
// Buttonholes, 1965) and is as long as planned; along, the centre lies 1/8 in
// below its upper end.
func TestHole(t *testing.T) {
	const eighth = 25.4 / 8
	for _, direction := range []string{"across", "along"} {
		for _, kind := range []string{"machine", "bound", "hand", "keyhole"} {
			p := planned(t, watchCoat, "closure.front.direction="+direction, "closure.front.hole="+kind, "closure.front.hole_length=1 1/4 in")
			_, groups := parsed(t, marked(t, p, Options{Format: "svg", Sizes: []string{"M"}, Closure: "front"}))
			var centre, neck float64
			holes := 0
			for _, g := range groups {
				switch {
				case g.class == "line-centre":
					centre = g.paths[0][0].x
				case g.class == "line-top":
					neck = g.paths[0][0].y
				case strings.HasPrefix(g.class, "cut "):
					at := p.Closures[0].Sizes[2].Positions[holes].MM()
					holes++
					box := nowhere
					for _, path := range g.paths {
						box = box.join(boxOf(path, 0))
					}
					from, to := box.x0-centre, box.x1-centre
					if direction == "along" {
						// upwards is outwards
						from, to = neck+at-box.y1, neck+at-box.y0
					}
					if !near(to, eighth, 1e-3) || !near(to-from, 31.75, 1e-3) {
						t.Errorf("%s %s: the hole runs from %.3f to %.3f mm of its centre, want %.3f to %.3f", kind, direction, from, to, eighth-31.75, eighth)
					}
				}
			}
			if holes != 6 {
				t.Errorf("%s %s: %d holes are drawn, want 6 as in the file", kind, direction, holes)
			}
		}
	}
}

// TestBand draws the published folded band: 3 cm wide, 1.5 + 3 + 3 = 7.5 cm
// beyond the centre (sewing teacher's tutorial, 2011), where the second 3 cm
// is the fold back and the rest turned under.
func TestBand(t *testing.T) {
	p := read(t, `garment = "Band"
units = "mm"
[cloth.shell]
use = "cotton-drill"
thickness = "0.4 mm"
[[closure]]
name = "front"
use = "horn-24"
over = ["shell", "shell"]
[closure.stand]
construction = "folded"
band = "3 cm"
turn_under = "3 cm"
extension = "7.5 cm"
[closure.run]
length = "60 cm"
count = 6
`)
	_, groups := parsed(t, marked(t, p, Options{Format: "svg"}))
	lines := map[string][]float64{}
	centre := 0.0
	for _, g := range groups {
		switch g.class {
		case "line-centre":
			if len(lines["line-cut"]) > 0 {
				centre = math.NaN() // the other side
			} else {
				centre = g.paths[0][0].x
			}
		case "line-finished", "line-cut", "line-fold", "line-stitching":
			if v := g.paths[0][0].x - centre; !math.IsNaN(v) {
				lines[g.class] = append(lines[g.class], math.Round(v*1000)/1000)
			}
		}
	}
	// The fold of the turn-under lies one thickness of cloth beyond the band.
	want := map[string][]float64{"line-finished": {15}, "line-cut": {75}, "line-fold": {45.4}, "line-stitching": {-15}}
	if diff := cmp.Diff(want, lines); diff != "" {
		t.Errorf("lines beyond the centre line, mm (-want +got)\n%s", diff)
	}
}

func TestLapOver(t *testing.T) {
	edge := func(p *rules.Planned) (x float64, title string) {
		_, groups := parsed(t, marked(t, p, Options{Format: "svg", Sizes: []string{"M"}, Closure: "front"}))
		centre := 0.0
		for _, g := range groups {
			switch g.class {
			case "line-centre":
				centre = g.paths[0][0].x
			case "line-finished":
				return g.paths[0][0].x - centre, ""
			}
		}
		return 0, ""
	}
	// The first side drawn is the wearer's right, its edge to the viewer's
	// right, whichever lies on top.
	for _, over := range []string{"right", "left"} {
		p := planned(t, watchCoat, "closure.front.lap_over="+over)
		if x, _ := edge(p); x <= 0 {
			t.Errorf("%s over: the wearer's right has its edge %g mm to the right of its centre line", over, x)
		}
		text := string(marked(t, p, Options{Format: "svg", Sizes: []string{"M"}}))
		other := map[string]string{"right": "left", "left": "right"}[over]
		for _, want := range []string{
			"Wearer&#39;s " + over + " front, on top: hole", "Wearer&#39;s " + other + " front, underneath: button",
			"lap_over = &#34;" + other + "&#34;",
		} {
			if !strings.Contains(text, want) {
				t.Errorf("%s over: no %q", over, want)
			}
		}
	}
}

// Whose clothes they are says which side lies on top, where the closure does
// not: men's lap left over right.
func TestLapFollowsCutFor(t *testing.T) {
	for with, over := range map[string]string{"wearer=adult": "right", "cut_for=women": "right", "cut_for=men": "left", "cut_for=unisex": "left"} {
		text := string(marked(t, planned(t, watchCoat, with), Options{Format: "svg", Sizes: []string{"M"}}))
		if want := "Wearer&#39;s " + over + " front, on top: hole"; !strings.Contains(text, want) {
			t.Errorf("%s: no %q", with, want)
		}
	}
}

// TestSameBytes draws twice, with faces that have drawn other things between.
func TestSameBytes(t *testing.T) {
	p, q := planned(t, watchCoat), planned(t, slipCoat)
	for _, format := range []string{"pdf", "svg", "png"} {
		o := Options{Format: format, Closure: "front", DPI: 40}
		a := marked(t, p, o)
		marked(t, q, o)
		b := marked(t, planned(t, watchCoat), o)
		if !bytes.Equal(a, b) {
			t.Errorf("two %ss of one plan differ", format)
		}
		for _, date := range []string{"CreationDate", "ModDate", "tIME"} {
			if bytes.Contains(a, []byte(date)) {
				t.Errorf("the %s holds a %s", format, date)
			}
		}
	}
}

func TestAtOnce(t *testing.T) {
	p := planned(t, watchCoat)
	o := Options{Format: "pdf", Sizes: []string{"M"}}
	want := marked(t, p, o)
	done := make(chan []byte)
	for range 4 {
		go func() {
			b, _, _ := Mark(p, o)
			done <- b
		}()
	}
	for range 4 {
		if !bytes.Equal(<-done, want) {
			t.Error("a guide drawn beside others differs")
		}
	}
}

func TestRefused(t *testing.T) {
	p := planned(t, watchCoat)
	noRun := read(t, "garment = \"Bare\"\nunits = \"in\"\n[cloth.shell]\nuse = \"melton\"\n[[closure]]\nname = \"front\"\nuse = \"horn-40\"\nover = [\"shell\"]\nrun.length = 24\nrun.count = 5\n")
	noRun.Closures[0].Closure.Run.Length, noRun.Closures[0].Pieces = nil, nil
	long := read(t, strings.ReplaceAll(`garment = "Long"
units = "mm"
[sizes]
names = ["1","2","3","4","5","6","7","8","9","10"]
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "shell"]
[closure.run]
length = {1=9001,2=9002,3=9003,4=9004,5=9005,6=9006,7=9007,8=9008,9=9009,10=9010}
count = 5
`, "\t", ""))
	for _, c := range []struct {
		p    *rules.Planned
		o    Options
		want string
	}{
		{p, Options{Format: "gif"}, `cannot draw "gif": write pdf, svg or png`},
		{p, Options{Format: "pdf", Paper: "a5"}, `there is no paper "a5": write a4, letter, a3, a0 or none`},
		{p, Options{Format: "pdf", Side: "top"}, `there is no side "top": write over or under`},
		{p, Options{Format: "pdf", Layout: "band"}, `there is no layout "band": write full or strip`},
		{p, Options{Format: "svg", Paper: "a3"}, "a picture is one sheet: leave the paper a3 out, or draw a PDF"},
		{p, Options{Format: "png", DPI: 5}, "5 dots an inch is out of range: write 36 to 600"},
		{p, Options{Format: "pdf", Closure: "frunt"}, `the garment has no closure "frunt": write front`},
		{p, Options{Format: "pdf", Sizes: []string{"52"}}, `the garment has no size "52": write one of XS, S, M, L, XL`},
		{noRun, Options{Format: "pdf", Sizes: []string{"M"}}, `the garment lists no sizes, so there is no size "M"`},
		{noRun, Options{Format: "pdf"}, "there is nothing to draw: give the length of a run, like closure.front.run.length"},
		{long, Options{Format: "pdf"}, "more than 200: draw one size or one closure"},
		{long, Options{Format: "png", DPI: 600}, "more than 100 million: draw one size or one closure, or take fewer dots"},
	} {
		b, _, err := Mark(c.p, c.o)
		if err == nil || !strings.Contains(err.Error(), c.want) || b != nil {
			t.Errorf("%+v: %d bytes, error %v, want %q", c.o, len(b), err, c.want)
		}
	}
}

// TestHostileNames puts what could break the formats into every name.
func TestHostileNames(t *testing.T) {
	p := read(t, `garment = "Coat </title><script>x</script> ) \\ ( \u001b[31m \u202e č 日本 \u2028 end"
units = "mm"
[cloth.shell]
use = "melton"
[[closure]]
name = "front <&> 'a' -->"
where = "front"
use = "horn-40"
over = ["shell", "shell"]
[closure.run]
length = 600
count = 4
anchor = [{ name = "<bust> & 日本", at = 200, within = 100 }]
clear = [{ name = "belt ' <onload>", from = 300, to = 310 }]
`)
	b := marked(t, p, Options{Format: "svg"})
	_, groups := parsed(t, b)
	if bytes.Contains(b, []byte("<script")) || bytes.ContainsRune(b, 0x1b) || bytes.Contains(b, []byte("<onload")) {
		t.Error("a name got through as markup")
	}
	found := false
	for _, g := range groups {
		found = found || g.data["data-name"] == "belt ' <onload>"
	}
	if !found {
		t.Error("the clear zone lost its name")
	}
	for _, l := range Strip(p, 0, 0, StripOptions{UTF8: true}) {
		if strings.ContainsAny(l, "\x1b\x07\u202e\u2028") {
			t.Errorf("control character in %q", l)
		}
	}
	checkPDF(t, marked(t, p, Options{Format: "pdf"}))
}

// TestSelfContained: nothing is fetched, the letters are inside.
func TestSelfContained(t *testing.T) {
	b := marked(t, planned(t, watchCoat), Options{Format: "svg", Sizes: []string{"M"}})
	if n := bytes.Count(b, []byte("@font-face")); n != 2 {
		t.Errorf("%d faces are embedded, want regular and bold", n)
	}
	rest := bytes.ReplaceAll(b, []byte(`xmlns="http://www.w3.org/2000/svg"`), nil)
	rest = bytes.ReplaceAll(rest, []byte(`xmlns:xlink="http://www.w3.org/1999/xlink"`), nil)
	for _, s := range []string{"http:", "https:", "href", "@import"} {
		if bytes.Contains(rest, []byte(s)) {
			t.Errorf("the SVG refers to something by %q", s)
		}
	}
}

// TestPNG measures the squares in the picture: their sides are 50 mm and 2 in.
func TestPNG(t *testing.T) {
	const dpi = 254 // 10 dots a millimetre
	p := planned(t, watchCoat)
	b := marked(t, p, Options{Format: "png", Sizes: []string{"M"}, Closure: "cuff-tab", DPI: dpi})
	// PNG specification, 11.3.5.3: pHYs holds dots a metre.
	want := []byte{0, 0, 0, 9, 'p', 'H', 'Y', 's', 0, 0, 0x27, 0x10, 0, 0, 0x27, 0x10, 1}
	if !bytes.Contains(b[:80], want) {
		t.Error("the picture does not say that it has 10 000 dots a metre")
	}
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	dark := func(x, y int) bool { r, _, _, _ := img.At(x, y).RGBA(); return r < 0xa000 }
	squaresMeasured(t, dark, img.Bounds().Dx(), img.Bounds().Dy(), 10)
}

// squaresMeasured looks for both squares in a picture: a row of dots that
// crosses exactly their four upright sides, and columns through each.
func squaresMeasured(t *testing.T, dark func(x, y int) bool, w, h int, perMM float64) {
	t.Helper()
	w = min(w, int(140*perMM)) // what else is on the page lies further right
	line := func(n int, at func(i int) bool) (mid []float64) {
		for i := 0; i < n; i++ {
			if !at(i) {
				continue
			}
			j := i
			for j < n && at(j) {
				j++
			}
			mid = append(mid, float64(i+j)/2/perMM)
			i = j
		}
		return mid
	}
	ok := func(a, b, want float64) bool { return near(b-a, want, 0.2) }
	for y := 0; y < h; y++ {
		xs := line(w, func(i int) bool { return dark(i, y) })
		if len(xs) != 4 || !ok(xs[0], xs[1], 50) || !ok(xs[2], xs[3], 50.8) {
			continue
		}
		// Just inside the left side of each, clear of the words.
		for i, want := range []float64{50, 50.8} {
			x := int((xs[2*i] + 3) * perMM)
			found := false
			ys := line(h, func(i int) bool { return dark(x, i) })
			for k := 0; k+1 < len(ys); k++ {
				found = found || ok(ys[k], ys[k+1], want) && ys[k] < float64(y)/perMM && ys[k+1] > float64(y)/perMM
			}
			if !found {
				t.Errorf("no upright side of %g mm: lines at %v mm", want, ys)
			}
		}
		return
	}
	t.Error("no row of the picture shows sides 50 mm and 50.8 mm apart")
}

// TestNoOverlap: no label lies on another.
func TestNoOverlap(t *testing.T) {
	for _, file := range garments(t) {
		noOverlap(t, planned(t, file))
	}
	for seed := range uint64(60) {
		if g, err := catalog.Read("coat.toml", []byte(randomGarment(seed)), catalog.Options{}); err == nil {
			if noOverlap(t, rules.Plan(g)); t.Failed() {
				t.Fatalf("seed %d:\n%s", seed, randomGarment(seed))
			}
		}
	}
}

func noOverlap(t *testing.T, p *rules.Planned) {
	t.Helper()
	f := shelf.Get().(*faces)
	parts, err := chosen(p, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range parts {
		panels := q.panels(f, true)
		for _, s := range q.slips() {
			if strip, _ := s.draw(f, true); strip != nil {
				panels = append(panels, strip)
			}
		}
		for _, panel := range panels {
			var texts []item
			for _, i := range panel.items {
				if i.pen == nil {
					texts = append(texts, i)
				}
			}
			for a := range texts {
				for b := range a {
					if in := 0.15; texts[a].box.meets(rect{texts[b].box.x0 + in, texts[b].box.y0 + in, texts[b].box.x1 - in, texts[b].box.y1 - in}) {
						t.Errorf("%s, %s: %q lies on %q", q.name(), panel.name, texts[a].text, texts[b].text)
					}
				}
			}
		}
	}
}

// TestLabels: every centre of the plan is labelled in the garment's units.
func TestLabels(t *testing.T) {
	p := planned(t, watchCoat)
	text := string(marked(t, p, Options{Format: "svg", Closure: "front"}))
	for _, s := range p.Closures[0].Sizes {
		for _, at := range s.Positions {
			if want := ">" + at.TextPlace(measure.In) + "<"; strings.Count(text, want) < 2 {
				t.Errorf("size %s: %q is not on both sides", s.Size, want)
			}
		}
	}
}
