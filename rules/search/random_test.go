package search

import (
	"fmt"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/trial"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// maker writes random garments, and an own catalogue for them, all invented.
type maker struct{ *trial.Maker }

func newMaker(seed uint64) *maker { return &maker{trial.New(seed, 1907)} }

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
	m.Begin()
	m.Add("catalog = [\"own.toml\"]")
	if m.Chance(0.2) {
		m.Add("wearer = %q", m.One("adult", "child", "infant"))
	}
	if m.Chance(0.25) {
		m.Add("keep = [%s]", m.One(`"cloth"`, `"machine"`, `"closure.front.use"`, `"closure.front.run"`, `"closure.front.use", "closure.front.hole"`, `"closure"`))
	}
	if m.Chance(0.6) {
		m.SomeSizes("S", "M", "L", "XL")
	}
	m.Add("[machine]\nuse = \"domestic\"")
	if m.Chance(0.7) {
		m.Add("foot_lift = %s", m.Length(3, 12))
	}
	if m.Chance(0.6) {
		m.Add("buttonhole_max = %s", m.Length(18, 45))
	} else if m.Chance(0.3) {
		m.Add("buttonhole_sizes = [\"13 mm\", \"16 mm\", \"21 mm\", \"27 mm\"]")
	}
	m.Add("[cloth.shell]\nuse = %q", m.One("melton", "duck-10", "wool-uniform-18", "fleece", "denim"))
	if m.Chance(0.6) {
		m.Add("thickness = \"%.1f mm%s\"", 1.2+2*m.Float64(), m.One("", " ± 0.1", " ± 0.3"))
	}
	m.Add("[cloth.lining]\nuse = \"lining-viscose\"")
	m.Add("[interfacing.inner]\nuse = %q", m.One("weft-fusible-medium", "hair-canvas", "woven-sewn-medium", "nonwoven-fusible-heavy", "weft-fusible-low-heat"))
	if m.Chance(0.4) {
		m.Add("thickness = \"0.%d mm\"", 2+m.IntN(6))
	}
	if m.Chance(0.3) {
		m.Add("width = %s", m.Length(60, 900))
	}
	if m.Chance(0.7) {
		m.Add("[thread.seam]\nuse = %q", m.One("polyester-tex-24", "polyester-tex-40", "polyester-tex-60", "polyester-tex-90", "cotton-50-3"))
	}
	for i, name := range []string{"front", "flap", "cuff"}[:1+m.IntN(3)] {
		m.closure(t, i, name)
		m.sample()
	}
	return m.String()
}

// sample adds what a sewn sample taught, to few closures, and draws for it
// apart: the rest of the garment is what it would be without.
func (m *maker) sample() {
	r := trial.New(uint64(m.Len()), 12)
	if r.Float64() > 0.25 {
		return
	}
	m.Add("[closure.measured]")
	if r.Float64() < 0.6 {
		m.Add("stack = \"%.1f mm ± 0.1\"", 2+6*r.Float64())
	}
	if r.Float64() < 0.3 {
		m.Add("stack_pressed = \"%.1f mm\"", 1+r.Float64())
	}
	if r.Float64() < 0.3 {
		m.Add("stack_under = \"%.1f mm ± 0.2\"", 2+4*r.Float64())
	}
	if r.Float64() < 0.5 {
		m.Add("hole_length = \"%d mm\"", 16+r.IntN(24))
	}
}

// graded is a length, one for each size, rising, or for all.
func (m *maker) graded(lo, hi float64) string {
	if len(m.Sizes) < 2 || m.Chance(0.4) {
		return m.Length(lo, hi)
	}
	parts := make([]string, len(m.Sizes))
	for i, s := range m.Sizes {
		parts[i] = s + " = " + m.Length(lo+float64(i)*10, lo+float64(i)*10+5)
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

func (m *maker) closure(t testing.TB, i int, name string) {
	kind := m.One("button", "button", "button", "button", "snap", "tack-button", "toggle", "zip")
	m.Add("[[closure]]\nname = %q\nwhere = %q", name, map[string]string{"front": "front", "flap": "flap", "cuff": "cuff"}[name])
	inline := kind == "button" && m.Chance(0.2)
	if !inline {
		use := m.One(notions(t, kind)...)
		if kind == "button" && m.Chance(0.5) {
			use = m.One("own-horn-20", "own-horn-28", "own-horn-36", "own-horn-44", "own-thick-30")
		}
		m.Add("use = %q", use)
	}
	over := m.One(`"shell", "inner", "shell"`, `"shell", "shell"`, `"shell", "inner", "lining"`, `"shell", "inner", "shell", "shell"`, `"shell"`)
	m.Add("over = [%s]", over)
	if m.Chance(0.4) {
		m.Add("under = [%s]", m.One(`"shell", "inner"`, `"shell", "shell"`, `"shell"`))
	}
	if kind == "button" {
		if m.Chance(0.5) {
			m.Add("hole = %q", m.One("machine", "keyhole", "hand", "bound", "loop"))
		}
		if m.Chance(0.4) {
			m.Add("direction = %q", m.One("across", "along"))
		}
		if m.Chance(0.25) {
			m.Add("hole_length = %s", m.Length(14, 45))
		}
	}
	if m.Chance(0.4) {
		m.Add("needle = %q", m.One("70/10", "80/12", "90/14", "100/16", "110/18"))
	}
	if m.Chance(0.2) {
		m.Add("stitch = \"%.1f mm\"", 1+3.5*m.Float64())
	}
	if m.Chance(0.2) {
		m.Add("edge = %s", m.Length(6, 40))
	}
	if name != "front" && m.Chance(0.3) {
		m.Add("when = %q", m.One("before-joining", "after-joining"))
	}
	if inline {
		m.Add("[closure.notion]\ndiameter = %s\nthickness = \"%.1f mm%s\"", m.Length(12, 40), 2+5*m.Float64(), m.One("", " ± 0.3"))
	}
	if m.Chance(0.7) {
		m.Add("[closure.stand]\nconstruction = %q", m.One("faced", "folded", "band", "fly"))
		switch m.IntN(4) {
		case 0:
			m.Add("finished = %s", m.Length(8, 40))
		case 1:
			m.Add("extension = %s", m.Length(20, 110))
		case 2:
			m.Add("band = %s", m.Length(16, 70))
		}
		if m.Chance(0.3) {
			m.Add("facing = %s", m.Length(15, 90))
		}
		if m.Chance(0.3) {
			m.Add("strip = %s", m.Length(15, 110))
		}
	}
	m.Add("[closure.run]")
	if name != "front" && m.Chance(0.7) {
		m.Add("length = %s\ncount = 1", m.Length(50, 180))
		return
	}
	m.Add("length = %s", m.graded(400, 700))
	if m.Chance(0.6) {
		m.Add("first = %s", m.graded(8, 50))
	}
	if m.Chance(0.6) {
		m.Add("last = %s", m.graded(10, 130))
	}
	switch m.IntN(4) {
	case 0:
		lo := 60 + 40*m.Float64()
		m.Add("gap = { min = \"%.0f mm\", max = \"%.0f mm\" }", lo, lo+5+40*m.Float64())
	case 1:
		n := 2 + m.IntN(6)
		m.Add("count = { min = %d, max = %d }", n, n+m.IntN(4))
		m.Add("gap = { max = \"%.0f mm\" }", 70+80*m.Float64())
	case 2:
		m.Add("count = %d", 2+m.IntN(9))
		if m.Chance(0.4) {
			m.Add("gap = { max = \"%.0f mm\" }", 60+80*m.Float64())
		}
	default:
		m.Add("count = %d", 2+m.IntN(20))
	}
	if m.Chance(0.3) {
		at := 100 + 200*m.Float64()
		m.Add("anchor = [{ name = \"bust\", at = \"%.0f mm\", within = \"%.0f mm\" }]", at, 2+15*m.Float64())
	}
	if m.Chance(0.3) {
		at := 150 + 150*m.Float64()
		m.Add("clear = [{ name = \"belt\", from = \"%.0f mm\", to = \"%.0f mm\" }]", at, at+20+40*m.Float64())
	}
}

// own writes an own catalogue: five fixed buttons and as many others as are
// asked for.
func (m *maker) own(more int) string {
	m.Reset()
	entry := func(kind, name string) {
		m.Add("[[%s]]\nname = %q\nsource = \"invented\"", kind, name)
		if m.Chance(0.7) {
			m.Add("price = %.2f", 0.2+3*m.Float64())
		}
	}
	for _, n := range []int{20, 28, 36, 44} {
		entry("button", fmt.Sprintf("own-horn-%d", n))
		m.Add("diameter = \"%dL\"\nthickness = \"%d.%d mm%s\"\nholes = 4", n, 2+n/16, m.IntN(10), m.One("", " ± 0.3"))
	}
	entry("button", "own-thick-30")
	m.Add("diameter = \"30L\"\nthickness = \"9 mm\"")
	for i := range more {
		switch kind := m.One("button", "button", "button", "snap", "tack-button", "toggle"); kind {
		case "button":
			entry(kind, fmt.Sprintf("own-%s-%d-%d", m.One("bone", "brass", "corozo"), i, 14+m.IntN(40)))
			m.Add("diameter = \"%.1f mm\"\nthickness = \"%.1f mm\"", 8+30*m.Float64(), 1.5+7*m.Float64())
			if m.Chance(0.3) {
				m.Add("shape = %q", m.One("domed", "ball", "flat"))
			}
			if m.Chance(0.2) {
				m.Add("shank = \"%.1f mm\"", 2+6*m.Float64())
			}
		case "snap":
			entry(kind, fmt.Sprintf("own-snap-%d", i))
			lo := 0.5 + 3*m.Float64()
			m.Add("diameter = \"%.1f mm\"\nattach = \"post\"\npost = \"%.1f mm\"\ngrip = { min = \"%.1f mm\", max = \"%.1f mm\" }", 9+10*m.Float64(), lo+3, lo, lo+2)
		case "tack-button":
			entry(kind, fmt.Sprintf("own-tack-%d", i))
			m.Add("diameter = \"%.1f mm\"\nthickness = \"%.1f mm\"\npost = \"%.1f mm\"", 14+8*m.Float64(), 3+4*m.Float64(), 4+6*m.Float64())
		case "toggle":
			entry(kind, fmt.Sprintf("own-toggle-%d", i))
			m.Add("length = \"%.0f mm\"\nwidth = \"%.0f mm\"", 35+30*m.Float64(), 9+8*m.Float64())
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

// Every finding of a random garment stands in one entry, which reads as the
// worst of its cause; no cause stands twice, and none is put together from two
// rules or two keys.
func TestGatherLosesNothing(t *testing.T) {
	t.Parallel()
	several := 0
	for seed := uint64(500); seed < 500+uint64(many(60, 2000)); seed++ {
		g, _, _ := random(t, seed, 5)
		if g == nil {
			continue
		}
		p := rules.Plan(g)
		es, seen := rules.Gather(p.Findings), map[*rules.Finding]bool{}
		for i := range es {
			e := &es[i]
			if i > 0 && e.Severity > es[i-1].Severity {
				t.Errorf("seed %d: %s stands behind what is less grave", seed, e.Rule)
			}
			worst := false
			for _, f := range e.Where {
				if seen[f] {
					t.Errorf("seed %d: %s stands twice", seed, f.Message())
				}
				seen[f] = true
				if f.Rule != e.Rule || f.Severity > e.Severity || f.Severity == e.Severity && f.Margin < e.Margin {
					t.Errorf("seed %d: %s is worse than its entry, %s", seed, f.Message(), e.Message())
				}
				worst = worst || f.Message() == e.Message()
			}
			if !worst {
				t.Errorf("seed %d: %s is none of its findings", seed, e.Message())
			}
			// What the places say are all messages, in words or in figures.
			says := map[string]bool{}
			for _, f := range e.Where {
				says[f.Closure+f.Size+f.Message()] = true
			}
			places := 0
			for _, pl := range e.Places(g.Units) {
				places += max(1, len(pl.Sizes))
			}
			if len(e.Where) > 1 {
				several++
			}
			if places > len(says) || len(says) > 0 && places == 0 {
				t.Errorf("seed %d: %s: %d places of %d sayings", seed, e.Message(), places, len(says))
			}
		}
		if len(seen) != len(p.Findings) {
			t.Errorf("seed %d: %d of %d findings are in an entry", seed, len(seen), len(p.Findings))
		}
	}
	if several < 10 {
		t.Errorf("only %d causes are of several findings", several)
	}
}
