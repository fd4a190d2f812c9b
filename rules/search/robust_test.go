package search

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/rules"
	"placketeer/rules/work"

	"github.com/google/go-cmp/cmp"
)

// anyGarment draws the text of a garment file: any notion, cloth and
// machine of the catalogue, any construction, sizes, runs with everything a
// run can have, small and large. Most are valid; the rest must be refused
// with a place.
func anyGarment(t testing.TB, seed uint64) string {
	cat, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	d := draw{rnd: rand.New(rand.NewPCG(seed, 1))}
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	d.inch = d.chance(50)
	units := "mm"
	if d.inch {
		units = "in"
	}
	line("garment = \"Quay coat (invented)\"\nunits = %q", units)
	if d.chance(30) {
		line("wearer = %q\nmarket = %q", d.of("adult", "child", "infant"), d.of("us", "eu"))
	}
	if d.chance(60) {
		line("[machine]\nuse = %q", cat.Machines[d.up(len(cat.Machines))].Name)
		if d.chance(30) {
			line("foot_lift = %s", d.length(3, 12))
		}
		if d.chance(20) {
			line("buttonhole_sizes = [%s, %s]", d.length(8, 20), d.length(8, 40))
		}
		if d.chance(20) {
			line("buttonhole_max = %s", d.length(10, 60))
		}
	}
	var sizes []string
	if d.chance(60) {
		n := 1 + d.up(5)
		if d.chance(5) {
			n = 60
		}
		for i := range n {
			sizes = append(sizes, "s"+strconv.Itoa(i))
		}
		line("[sizes]\nnames = [\"%s\"]", strings.Join(sizes, `", "`))
	}
	d.sizes = sizes

	cloths := []string{"shell", "lining"}
	for _, name := range cloths {
		line("[cloth.%s]", name)
		if d.chance(80) {
			line("use = %q", cat.Cloths[d.up(len(cat.Cloths))].Name)
		} else {
			line("weight = \"%d g/m2\"", 40+d.up(1200))
		}
		if d.chance(50) {
			line("thickness = %s", d.length(1.2, 8))
		}
		if d.chance(30) {
			line("repeat = { along = %s, across = %s, even = %v }", d.length(5, 150), d.length(5, 150), d.chance(50))
		}
		if d.chance(30) {
			line("shrink = %d", d.up(12))
		}
	}
	line("[interfacing.front]\nuse = %q", cat.Interfacings[d.up(len(cat.Interfacings))].Name)
	if d.chance(40) {
		line("[thread.seam]\nuse = %q", cat.Threads[d.up(len(cat.Threads))].Name)
	}
	for i := range 1 + d.up(4) {
		line("[[closure]]\nname = \"c%d\"", i)
		n := cat.Notions[d.up(len(cat.Notions))]
		if d.chance(75) {
			line("use = %q", n.Name)
		} else {
			line("notion = %s", d.of(
				fmt.Sprintf("{ diameter = %s, thickness = %s }", d.length(3, 100), d.length(0.5, 40)),
				fmt.Sprintf("{ shape = \"ball\", girth = %s }", d.length(8, 300)),
				fmt.Sprintf("{ side = %s, thickness = %s, shank = %s }", d.length(5, 80), d.length(1, 20), d.length(1, 20)),
				fmt.Sprintf("{ shape = \"domed\", diameter = %s, thickness = %s }", d.length(8, 60), d.length(1, 50)),
				fmt.Sprintf("{ shape = \"toggle\", width = %s, length = %s, thickness = %s }", d.length(4, 40), d.length(10, 150), d.length(2, 40)),
			))
		}
		layers := []string{"shell", "front", "lining"}
		stack := func() string {
			out := make([]string, 1+d.up(6))
			out[0] = "shell"
			for j := 1; j < len(out); j++ {
				out[j] = layers[d.up(len(layers))]
			}
			return `["` + strings.Join(out, `", "`) + `"]`
		}
		line("over = %s", stack())
		if d.chance(50) {
			line("under = %s", stack())
		}
		d.maybe(line, 50, "where = %q", d.of("front", "fly", "pocket", "flap", "cuff", "tab", "collar", "waist", "hood", "vent", "strap"))
		d.maybe(line, 40, "hole = %q", d.of("machine", "keyhole", "bound", "hand", "loop"))
		d.maybe(line, 40, "direction = %q", d.of("across", "along"))
		d.maybe(line, 20, "hole_length = %s", d.length(5, 90))
		d.maybe(line, 20, "hole_rule = %q", d.of(catalog.HoleRules...))
		d.maybe(line, 30, "needle = %q", d.of("60/8", "75/11", "90/14", "110/18", "160/23"))
		d.maybe(line, 20, "stitch = %q", d.of("0.5 mm", "2.5 mm", "6 mm"))
		d.maybe(line, 20, "pieces = %d", 1+d.up(4))
		d.maybe(line, 20, "loop = %s", d.length(10, 300))
		double := d.chance(20)
		if double {
			line("lap = \"double\"")
		}
		if d.chance(70) {
			line("[closure.stand]")
			d.maybe(line, 80, "construction = %q", d.of("folded", "faced", "band", "fly"))
			d.maybe(line, 50, "extension = %s", d.length(20, 200))
			d.maybe(line, 30, "finished = %s", d.length(4, 100))
			d.maybe(line, 20, "band = %s", d.length(10, 120))
			d.maybe(line, 30, "turn_under = %s", d.length(2, 18))
			d.maybe(line, 30, "seam = %s", d.length(3, 25))
			d.maybe(line, 30, "facing = %s", d.length(10, 150))
			d.maybe(line, 40, "strip = %s", d.length(5, 150))
			d.maybe(line, 30, "strip_from_edge = %s", d.length(1, 40))
		}
		d.run(line, n.Kind)
		if double && d.chance(80) {
			line("[closure.rows]")
			if d.chance(50) {
				line("distance = %s", d.length(5, 150))
			} else {
				line("top = %s\nbottom = %s", d.length(5, 150), d.length(5, 150))
			}
			d.maybe(line, 30, "working = %d", 1+d.up(6))
			d.maybe(line, 20, "row = [{ row = 1, distance = %s }]", d.length(5, 150))
		}
	}
	return b.String()
}

// draw draws the parts of a garment.
type draw struct {
	rnd   *rand.Rand
	inch  bool
	sizes []string
}

func (d *draw) up(n int) int { return d.rnd.IntN(n) }

func (d *draw) chance(pct int) bool { return d.up(100) < pct }

func (d *draw) of(s ...string) string { return s[d.up(len(s))] }

func (d *draw) maybe(line func(string, ...any), pct int, format string, args ...any) {
	if d.chance(pct) {
		line(format, args...)
	}
}

// length is a length from lo to hi mm as the file may write it.
func (d *draw) length(lo, hi float64) string {
	x := lo + d.rnd.Float64()*(hi-lo)
	switch d.up(4) {
	case 0:
		return fmt.Sprintf("\"%.2f mm\"", x)
	case 1:
		return fmt.Sprintf("\"%d/16 in\"", max(1, int(x/25.4*16)))
	case 2:
		if d.inch {
			return fmt.Sprintf("%.3f", x/25.4)
		}
		return fmt.Sprintf("%.3f", x)
	}
	return fmt.Sprintf("\"%.1f mm ± %.1f\"", x, x/20)
}

// sized is one length, or sometimes one for each size.
func (d *draw) sized(lo, hi float64) string {
	if len(d.sizes) == 0 || len(d.sizes) > 10 || !d.chance(30) {
		return d.length(lo, hi)
	}
	parts := make([]string, len(d.sizes))
	for i, s := range d.sizes {
		parts[i] = s + " = " + d.length(lo, hi)
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

func (d *draw) run(line func(string, ...any), kind string) {
	long := []float64{30, 120, 650, 2000, 9000}[d.up(5)]
	line("[closure.run]\nlength = %s", d.sized(long*.9, long))
	d.maybe(line, 40, "first = %s", d.sized(long*.01, long*.3))
	if d.chance(20) {
		line("last = { min = %s, max = %s }", d.length(long*.01, long*.2), d.length(long*.2, long*.5))
	} else {
		d.maybe(line, 40, "last = %s", d.sized(long*.01, long*.3))
	}
	counted := d.chance(60)
	group := 1
	if d.chance(10) {
		group = 2 + d.up(2)
		line("group = %d\ngroup_gap = %s", group, d.length(3, 40))
	}
	if counted {
		n := group * (1 + d.up(8))
		switch {
		case d.chance(5):
			n = 120
			n -= n % group
			line("count = %d", n)
		case d.chance(70):
			line("count = %d", n)
		default:
			line("count = { min = %d, max = %d }", n, n+group*d.up(4))
		}
	}
	if !counted || d.chance(20) {
		switch d.up(3) {
		case 0:
			line("gap = { min = %s, max = %s }", d.length(5, 60), d.length(60, 200))
		case 1:
			line("gap = { max = %s }", d.length(10, 200))
		default:
			line("gap = { min = %s }", d.length(5, 100))
		}
	}
	d.maybe(line, 20, "step = %s", d.length(0.5, 20))
	if d.chance(30) {
		line("anchor = [{ name = \"bust\", at = %s, within = %s }]", d.sized(long*.2, long*.6), d.length(0.5, 40))
	}
	if d.chance(30) {
		line("clear = [{ name = \"belt\", from = %s, to = %s }, { name = \"seam\", at = %s }]", d.length(long*.3, long*.45), d.length(long*.5, long*.6), d.sized(0.2, long*.9))
	}
	d.maybe(line, 15, "hem = %s", d.length(5, long*.2+6))
	d.maybe(line, 10, "match = \"shell\"")
}

// Any garment that can be read can be planned: nothing panics, every number
// and word of it makes sense, and saying it quietly finds the same.
func TestAnyGarment(t *testing.T) {
	t.Parallel()
	n, planned := uint64(many(60, 4000)), uint64(0)
	for seed := range n {
		text := anyGarment(t, seed)
		g, err := catalog.Read("random.toml", []byte(text), catalog.Options{})
		if err != nil {
			var ps source.Problems
			if !errors.As(err, &ps) {
				t.Fatalf("seed %d: %v\n%s", seed, err, text)
			}
			for _, p := range ps {
				if p.Pos.Line < 1 || p.Pos.Column < 1 || bad(p.Message) {
					t.Fatalf("seed %d: %+v\n%s", seed, p, text)
				}
			}
			continue
		}
		planned++
		p := rules.Plan(g)
		for _, fault := range faultsOf(p) {
			t.Errorf("seed %d: %s", seed, fault)
		}
		if diff := cmp.Diff(kindsOf(p), kindsOf(rules.Found(g))); diff != "" {
			t.Errorf("seed %d: quietly (-want +got)\n%s", seed, diff)
		}
		for i := range g.Closures {
			for _, s := range work.Working(p, i) {
				if bad(s.Says) || bad(s.Default+".") {
					t.Errorf("seed %d: working: %q %q", seed, s.Says, s.Default)
				}
			}
		}
		if t.Failed() {
			t.Fatal(text)
		}
	}
	if planned*2 < n {
		t.Errorf("only %d of %d random garments could be read", planned, n)
	}
}

// kindsOf are the findings of a plan without their words, each once.
func kindsOf(p *rules.Planned) map[string]bool {
	out := map[string]bool{}
	for _, f := range p.Findings {
		out[fmt.Sprint(spotOf(&f), f.Severity, f.Numbers)] = true
	}
	return out
}

// bad says whether a message shows what no message may.
func bad(s string) bool {
	for _, w := range []string{"%!", "NaN", "Inf", "<nil>", "  ", "spacing:"} {
		if strings.Contains(s, w) {
			return true
		}
	}
	return strings.TrimSpace(s) == ""
}

// faultsOf are what makes no sense in a plan.
func faultsOf(p *rules.Planned) (faults []string) {
	fail := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	unsolved, clashes := 0, 0
	for _, f := range p.Findings {
		if bad(f.Message()) || f.Pos.Line < 1 || len(f.Sources) == 0 {
			fail("%s: %q at %s", f.Rule, f.Message(), f.Pos)
		}
		for _, x := range []float64{f.Have, f.Need, f.Margin} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				fail("%s: %v", f.Rule, f.Numbers)
			}
		}
		if f.Compared && f.Severity == rules.Conflict && f.Unit == "mm" && f.Margin > 0 {
			fail("%s: a conflict with a margin of %v mm: %s", f.Rule, f.Margin, f.Message())
		}
		if f.Rule == "spacing-clash" {
			clashes++
		}
	}
	for i := range p.Closures {
		k := &p.Closures[i]
		for what, l := range map[string]measure.Length{
			"over": k.Over.Thick, "under": k.Under.Thick, "passing": k.Hole.Passing, "hole": k.Hole.Length, "stitched": k.Hole.Stitched,
			"width": k.Hole.Width, "least": k.Stand.Least, "stand": k.Stand.Have, "band": k.Stand.Band, "extension": k.Stand.Extension,
			"strip": k.Support.Strip, "goods": k.Support.Cloth, "reach up": k.Reach.Up, "reach down": k.Reach.Down, "stitch": k.Stitch.Length,
			"thread": k.Sewing.Used, "shank": k.Sewing.ThreadShank,
		} {
			if (what == "stand" || what == "extension") && k.Zip.Needed && l > -50*measure.Millimetre {
				continue // the edge lies inside the teeth, and its seam may not reach past them
			}
			if l < 0 || l > 1_000_000*measure.Metre {
				fail("%s: %s of %s", k.Closure.Name, what, l)
			}
		}
		h := &k.Hole
		if h.Needed && h.Kind != "loop" && !h.Given && k.Closure.Rule == "" && h.Length < h.Passing {
			fail("%s: a hole of %s does not pass %s", k.Closure.Name, h.Length, h.Passing)
		}
		for _, s := range k.Sizes {
			if !s.Solved {
				if k.Closure.Notion.Kind != catalog.Zip && k.Closure.Run.Length.Has() {
					unsolved++
				}
				continue
			}
			last := measure.Length(-1)
			for _, at := range s.Positions {
				if at <= last || at > s.Run {
					fail("%s %s: %v in a run of %s", k.Closure.Name, s.Size, s.Positions, s.Run)
				}
				last = at
			}
			if len(s.Positions) != s.Count || s.Count == 0 || s.First+s.Last > s.Run {
				fail("%s %s: %+v", k.Closure.Name, s.Size, s)
			}
		}
	}
	if unsolved != clashes {
		fail("%d sizes without a layout, %d clashes", unsolved, clashes)
	}
	return faults
}
