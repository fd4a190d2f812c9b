package search

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// maker writes random garments, and an own catalogue for them, all invented.
type maker struct {
	*rand.Rand
	strings.Builder
	mm bool
}

func newMaker(seed uint64) *maker { return &maker{Rand: rand.New(rand.NewPCG(seed, 1907))} }

func (m *maker) add(format string, args ...any) { fmt.Fprintf(m, format+"\n", args...) }

func (m *maker) chance(p float64) bool { return m.Float64() < p }

func (m *maker) one(words ...string) string { return words[m.IntN(len(words))] }

// length is one between lo and hi mm, to a step in the garment's units.
func (m *maker) length(lo, hi float64) string {
	x := lo + m.Float64()*(hi-lo)
	if m.mm {
		return fmt.Sprintf("\"%.1f mm\"", x)
	}
	return fmt.Sprintf("\"%d/16 in\"", max(1, int(x/25.4*16)))
}

var stockUse = map[string][]string{
	"button":      {"horn-24", "horn-30", "horn-36", "horn-40", "horn-45", "wood-60", "metal-dome-30", "square-25mm", "ball-16", "polyester-14", "leather-knot-32"},
	"snap":        {"prong-snap-14", "ring-spring-15", "s-spring-12", "sewn-snap-14", "plastic-snap-12-4mm", "magnet-19"},
	"tack-button": {},
	"toggle":      {},
	"zip":         {"coil-5-separating", "moulded-5-separating", "metal-5-closed", "coil-3-closed"},
}

// notions names what the stock has of a kind.
func notions(t testing.TB, kind string) []string {
	if s := stockUse[kind]; len(s) > 0 {
		return s
	}
	c, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, n := range c.Notions {
		if n.Kind == kind {
			out = append(out, n.Name)
		}
	}
	return out
}

// garment writes a garment.
func (m *maker) garment(t testing.TB) string {
	m.Reset()
	m.mm = m.chance(0.5)
	units := "in"
	if m.mm {
		units = "mm"
	}
	m.add("garment = \"Quay coat %d (invented)\"\nunits = %q", m.IntN(1000), units)
	m.add("catalog = [\"own.toml\"]")
	if m.chance(0.2) {
		m.add("wearer = %q", m.one("adult", "child", "infant"))
	}
	if m.chance(0.25) {
		m.add("keep = [%s]", m.one(`"cloth"`, `"machine"`, `"closure.front.use"`, `"closure.front.run"`, `"closure.front.use", "closure.front.hole"`, `"closure"`))
	}
	sizes := []string{""}
	if m.chance(0.6) {
		sizes = []string{"S", "M", "L", "XL"}[:2+m.IntN(3)]
		m.add("[sizes]\nnames = [\"%s\"]", strings.Join(sizes, `", "`))
	}
	m.add("[machine]\nuse = \"domestic\"")
	if m.chance(0.7) {
		m.add("foot_lift = %s", m.length(3, 12))
	}
	if m.chance(0.6) {
		m.add("buttonhole_max = %s", m.length(18, 45))
	} else if m.chance(0.3) {
		m.add("buttonhole_sizes = [\"13 mm\", \"16 mm\", \"21 mm\", \"27 mm\"]")
	}
	m.add("[cloth.shell]\nuse = %q", m.one("melton", "duck-10", "wool-uniform-18", "fleece", "denim"))
	if m.chance(0.6) {
		m.add("thickness = \"%.1f mm%s\"", 1.2+2*m.Float64(), m.one("", " ± 0.1", " ± 0.3"))
	}
	m.add("[cloth.lining]\nuse = \"lining-viscose\"")
	m.add("[interfacing.inner]\nuse = %q", m.one("weft-fusible-medium", "hair-canvas", "woven-sewn-medium", "nonwoven-fusible-heavy", "weft-fusible-low-heat"))
	if m.chance(0.4) {
		m.add("thickness = \"0.%d mm\"", 2+m.IntN(6))
	}
	if m.chance(0.3) {
		m.add("width = %s", m.length(60, 900))
	}
	if m.chance(0.7) {
		m.add("[thread.seam]\nuse = %q", m.one("polyester-tex-24", "polyester-tex-40", "polyester-tex-60", "polyester-tex-90", "cotton-50-3"))
	}
	for i, name := range []string{"front", "flap", "cuff"}[:1+m.IntN(3)] {
		m.closure(t, i, name, sizes)
	}
	return m.String()
}

func (m *maker) sized(sizes []string, lo, hi float64) string {
	if len(sizes) < 2 || m.chance(0.4) {
		return m.length(lo, hi)
	}
	parts := make([]string, len(sizes))
	for i, s := range sizes {
		parts[i] = s + " = " + m.length(lo+float64(i)*10, lo+float64(i)*10+5)
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

func (m *maker) closure(t testing.TB, i int, name string, sizes []string) {
	kind := m.one("button", "button", "button", "button", "snap", "tack-button", "toggle", "zip")
	m.add("[[closure]]\nname = %q\nwhere = %q", name, map[string]string{"front": "front", "flap": "flap", "cuff": "cuff"}[name])
	inline := kind == "button" && m.chance(0.2)
	if !inline {
		use := m.one(notions(t, kind)...)
		if kind == "button" && m.chance(0.5) {
			use = m.one("own-horn-20", "own-horn-28", "own-horn-36", "own-horn-44", "own-thick-30")
		}
		m.add("use = %q", use)
	}
	over := m.one(`"shell", "inner", "shell"`, `"shell", "shell"`, `"shell", "inner", "lining"`, `"shell", "inner", "shell", "shell"`, `"shell"`)
	m.add("over = [%s]", over)
	if m.chance(0.4) {
		m.add("under = [%s]", m.one(`"shell", "inner"`, `"shell", "shell"`, `"shell"`))
	}
	if kind == "button" {
		if m.chance(0.5) {
			m.add("hole = %q", m.one("machine", "keyhole", "hand", "bound", "loop"))
		}
		if m.chance(0.4) {
			m.add("direction = %q", m.one("across", "along"))
		}
		if m.chance(0.25) {
			m.add("hole_length = %s", m.length(14, 45))
		}
	}
	if m.chance(0.4) {
		m.add("needle = %q", m.one("70/10", "80/12", "90/14", "100/16", "110/18"))
	}
	if m.chance(0.2) {
		m.add("stitch = \"%.1f mm\"", 1+3.5*m.Float64())
	}
	if m.chance(0.2) {
		m.add("edge = %s", m.length(6, 40))
	}
	if name != "front" && m.chance(0.3) {
		m.add("when = %q", m.one("before-joining", "after-joining"))
	}
	if inline {
		m.add("[closure.notion]\ndiameter = %s\nthickness = \"%.1f mm%s\"", m.length(12, 40), 2+5*m.Float64(), m.one("", " ± 0.3"))
	}
	if m.chance(0.7) {
		m.add("[closure.stand]\nconstruction = %q", m.one("faced", "folded", "band", "fly"))
		switch m.IntN(4) {
		case 0:
			m.add("finished = %s", m.length(8, 40))
		case 1:
			m.add("extension = %s", m.length(20, 110))
		case 2:
			m.add("band = %s", m.length(16, 70))
		}
		if m.chance(0.3) {
			m.add("facing = %s", m.length(15, 90))
		}
		if m.chance(0.3) {
			m.add("strip = %s", m.length(15, 110))
		}
	}
	m.add("[closure.run]")
	if name != "front" && m.chance(0.7) {
		m.add("length = %s\ncount = 1", m.length(50, 180))
		return
	}
	m.add("length = %s", m.sized(sizes, 400, 700))
	if m.chance(0.6) {
		m.add("first = %s", m.sized(sizes, 8, 50))
	}
	if m.chance(0.6) {
		m.add("last = %s", m.sized(sizes, 10, 130))
	}
	switch m.IntN(4) {
	case 0:
		lo := 60 + 40*m.Float64()
		m.add("gap = { min = \"%.0f mm\", max = \"%.0f mm\" }", lo, lo+5+40*m.Float64())
	case 1:
		n := 2 + m.IntN(6)
		m.add("count = { min = %d, max = %d }", n, n+m.IntN(4))
		m.add("gap = { max = \"%.0f mm\" }", 70+80*m.Float64())
	case 2:
		m.add("count = %d", 2+m.IntN(9))
		if m.chance(0.4) {
			m.add("gap = { max = \"%.0f mm\" }", 60+80*m.Float64())
		}
	default:
		m.add("count = %d", 2+m.IntN(20))
	}
	if m.chance(0.3) {
		at := 100 + 200*m.Float64()
		m.add("anchor = [{ name = \"bust\", at = \"%.0f mm\", within = \"%.0f mm\" }]", at, 2+15*m.Float64())
	}
	if m.chance(0.3) {
		at := 150 + 150*m.Float64()
		m.add("clear = [{ name = \"belt\", from = \"%.0f mm\", to = \"%.0f mm\" }]", at, at+20+40*m.Float64())
	}
}

// own writes an own catalogue: five fixed buttons and as many others as are
// asked for.
func (m *maker) own(more int) string {
	m.Reset()
	entry := func(kind, name string) {
		m.add("[[%s]]\nname = %q\nsource = \"invented\"", kind, name)
		if m.chance(0.7) {
			m.add("price = %.2f", 0.2+3*m.Float64())
		}
	}
	for _, n := range []int{20, 28, 36, 44} {
		entry("button", fmt.Sprintf("own-horn-%d", n))
		m.add("diameter = \"%dL\"\nthickness = \"%d.%d mm%s\"\nholes = 4", n, 2+n/16, m.IntN(10), m.one("", " ± 0.3"))
	}
	entry("button", "own-thick-30")
	m.add("diameter = \"30L\"\nthickness = \"9 mm\"")
	for i := range more {
		switch kind := m.one("button", "button", "button", "snap", "tack-button", "toggle"); kind {
		case "button":
			entry(kind, fmt.Sprintf("own-%s-%d-%d", m.one("bone", "brass", "corozo"), i, 14+m.IntN(40)))
			m.add("diameter = \"%.1f mm\"\nthickness = \"%.1f mm\"", 8+30*m.Float64(), 1.5+7*m.Float64())
			if m.chance(0.3) {
				m.add("shape = %q", m.one("domed", "ball", "flat"))
			}
			if m.chance(0.2) {
				m.add("shank = \"%.1f mm\"", 2+6*m.Float64())
			}
		case "snap":
			entry(kind, fmt.Sprintf("own-snap-%d", i))
			lo := 0.5 + 3*m.Float64()
			m.add("diameter = \"%.1f mm\"\nattach = \"post\"\npost = \"%.1f mm\"\ngrip = { min = \"%.1f mm\", max = \"%.1f mm\" }", 9+10*m.Float64(), lo+3, lo, lo+2)
		case "tack-button":
			entry(kind, fmt.Sprintf("own-tack-%d", i))
			m.add("diameter = \"%.1f mm\"\nthickness = \"%.1f mm\"\npost = \"%.1f mm\"", 14+8*m.Float64(), 3+4*m.Float64(), 4+6*m.Float64())
		case "toggle":
			entry(kind, fmt.Sprintf("own-toggle-%d", i))
			m.add("length = \"%.0f mm\"\nwidth = \"%.0f mm\"", 35+30*m.Float64(), 9+8*m.Float64())
		}
	}
	return m.String()
}

// random reads a random garment with its own catalogue; nil where what came
// out contradicts itself.
func random(t testing.TB, seed uint64, more int) (*catalog.Garment, []byte, catalog.Options) {
	t.Helper()
	m := newMaker(seed)
	own := m.own(more)
	text := []byte(m.garment(t))
	opts := catalog.Options{ReadFile: func(name string) ([]byte, error) {
		if strings.HasSuffix(name, "own.toml") {
			return []byte(own), nil
		}
		return text, nil
	}}
	g, err := catalog.Read("coat.toml", text, opts)
	if err != nil {
		if testing.Verbose() {
			t.Logf("seed %d: %v", seed, err)
		}
		return nil, text, opts
	}
	return g, text, opts
}

// Random garments are of use only where most can be read, and many rules
// speak about them.
func TestRandomGarments(t *testing.T) {
	read, seen := 0, map[string]int{}
	n := many(60, 300)
	for seed := range uint64(n) {
		g, _, _ := random(t, seed, 10)
		if g == nil {
			continue
		}
		read++
		for _, f := range rules.Found(g).Findings {
			if f.Severity == rules.Conflict {
				seen[f.Rule]++
			}
		}
	}
	if read < n/2 || len(seen) < 12 {
		t.Errorf("%d of %d can be read, with conflicts of %d rules: %v", read, n, len(seen), seen)
	}
	t.Logf("%d read; conflicts %v", read, seen)
}

// A quiet plan finds what a plan with words finds.
func TestQuietlyFindsTheSame(t *testing.T) {
	t.Parallel()
	type what struct {
		Rule, Closure, Size, Path string
		Severity                  rules.Severity
		Numbers                   rules.Numbers
	}
	set := func(p *rules.Planned) map[what]bool {
		out := map[what]bool{}
		for i := range p.Findings {
			f := &p.Findings[i]
			s := spotOf(f)
			out[what{s.rule, s.closure, s.size, s.path, f.Severity, f.Numbers}] = true
		}
		return out
	}
	for seed := uint64(9000); seed < 9000+uint64(many(60, 2000)); seed++ {
		g, _, _ := random(t, seed, 5)
		if g == nil {
			continue
		}
		if diff := cmp.Diff(set(rules.Plan(g)), set(rules.Found(g)), cmpopts.EquateNaNs()); diff != "" {
			t.Errorf("seed %d (-plan +quietly):\n%s", seed, diff)
		}
	}
}
