package search

import (
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// onTheSafeSide are those that reach farther than the lengths within the ±, each
// for one of these: how far layers are pressed is guessed both ways, in a thicker
// stack as in a thinner one; fasteners move by marks; a stand of nothing is no
// less; of a slanting column each end counts whole; of two pieces with one edge the
// first that fails is told.
var onTheSafeSide = []string{
	"foot-lift .measured.stack", "foot-lift .measured.stack_under", "foot-lift cloth.*.thickness", "hardware-grip .measured.stack",
	"hardware-grip .measured.stack_under", "hardware-grip cloth.*.thickness", "hardware-grip interfacing.*.thickness",
	"hardware-post .measured.stack", "hardware-post .measured.stack_under", "hardware-post cloth.*.thickness", "hardware-post interfacing.*.thickness",
	"shank-rigid .measured.stack", "first-high .run.first.min", "last-low .run.last.min",
	"rims-touch .notion.diameter", "rims-touch .notion.flange", "rims-touch .run.first", "rims-touch .run.last", "rims-touch .run.length",
	"edge-shared .stand.extension", "edge-shared .stand.finished", "stand-narrow .stand.band", "stand-narrow .stand.extension", "stand-narrow .stand.finished",
	"stand-narrow .stand.seam", "stand-narrow .stand.tuck", "zip-fly .stand.extension",
	"rows-touch .notion.flange", "rows-touch .rows.bottom", "rows-touch .rows.top", "stand-narrow .rows.bottom", "stand-narrow .rows.distance", "stand-narrow .rows.top",
}

// The ± of a margin is the sum of what each length's own ± moves it: a length with
// a ± of its own adds to that of a conflict's margin as much as the margin moves
// when the length does (worst case, JCGM 100:2008 for a linear sum without
// correlation taken at its bounds).
func TestTolerancesAreTheirShares(t *testing.T) {
	var files []string
	for _, in := range []string{"rules/*", "worked", "garments"} {
		more, _ := filepath.Glob(filepath.Join("..", "..", "testdata", in, "*.toml"))
		files = append(files, more...)
	}
	const by = 100 * measure.Micrometre
	t.Parallel()
	met := map[string]int{}
	for n, file := range files {
		g, err := catalog.Load(file, catalog.Options{})
		if err != nil {
			continue
		}
		for v, h := range shapesOf(t, g) {
			base := rules.Base(h, nil)
			for i, k := range lengthsIn(h) {
				if (n+v+i)%trial.Many(11, 1) != 0 {
					continue
				}
				for j := range h.Closures {
					m := mover{base: base, key: k.key}
					if k.key[0] == '.' {
						m.key = catalog.Key("closure", h.Closures[j].Name) + k.key
					} else if j > 0 {
						break
					}
					for q := range 4 {
						l := measure.Length(1e6*(max(k.lo, 0.5)*math.Pow(k.hi/max(k.lo, 0.5), float64(q)/3))).RoundNearest(by) + by
						m.share(l, by, func(is *rules.Finding, over float64) {
							switch what := is.Rule + " " + thickness.ReplaceAllString(k.key, "$1.*.thickness"); {
							case over < -1e-5 && is.Rule == "rims-touch" && math.Abs(math.Remainder(over, 1)) < 1e-5:
								// Beside a zone that is left free the run moves by whole marks with it.
							case is.Rule == "stand-narrow" && strings.HasPrefix(is.Message(), "nothing is left"):
								// Beside it another figure is compared: a conflict either way.
							case over < -1e-5:
								t.Errorf("%s, shape %d: %s at %g mm, with ± 0.1: the favourable end lies %g farther: %s", file, v, what, l.MM(), -over, is.Message())
							case over < 1e-5:
								met[what]++
							case !slices.Contains(onTheSafeSide, what):
								t.Errorf("%s, shape %d: %s at %g mm, with ± 0.1: the favourable end lies %g nearer: %s", file, v, what, l.MM(), over, is.Message())
							}
						})
					}
				}
			}
		}
	}
	if len(met) < 45 {
		t.Errorf("only %d were seen: %v", len(met), met)
	}
}

// thickness is the key of a layer's.
var thickness = regexp.MustCompile(`^(cloth|interfacing)\.[^.]+\.thickness$`)

// shapesOf are the garment, and where its first button is described in the file
// the same with one of each other shape.
func shapesOf(t *testing.T, g *catalog.Garment) []*catalog.Garment {
	out := []*catalog.Garment{g}
	if n := &g.Closures[0].Notion; g.Closures[0].Use != "" || n.Kind != catalog.Button || n.Shape != "" {
		return out
	}
	for _, notion := range []string{
		`{ shape = "ball", diameter = 21 }`, `{ shape = "domed", diameter = 24, thickness = 6 }`, `{ shape = "domed", diameter = 20, thickness = 13 }`,
		`{ shape = "square", side = 20, thickness = 4 }`, `{ girth = 62, thickness = 4 }`, `{ shape = "ball", girth = 62 }`,
		`{ shape = "toggle", length = 60, width = 18 }`, `{ shape = "toggle", length = 60, width = 18, short_end = 25, thickness = 12 }`,
	} {
		w, err := catalog.ParseWith(catalog.Key("closure", g.Closures[0].Name, "notion") + "=" + notion)
		if err != nil {
			t.Fatal(notion, err)
		}
		if h, err := g.Alter(w); err == nil {
			out = append(out, h)
		}
	}
	return out
}

// A moving is a key that is moved, and from where to where, mm.
type moving struct {
	key    string
	lo, hi float64
}

// lengthsIn are the keys that are turned, and those that have a name of the
// garment in them.
func lengthsIn(g *catalog.Garment) []moving {
	out := slices.Clone(turning)
	for _, name := range g.ClothNames {
		if name != "shell" && name != "lining" {
			out = append(out, moving{catalog.Key("cloth", name, "thickness"), 0.1, 8})
		}
	}
	for _, name := range g.InterfNames {
		out = append(out, moving{catalog.Key("interfacing", name, "width"), 10, 900})
		if name != "front" {
			out = append(out, moving{catalog.Key("interfacing", name, "thickness"), 0.1, 4})
		}
	}
	for i := range g.Closures {
		c := &g.Closures[i]
		of := catalog.Key("closure", c.Name)
		for _, s := range c.Stand.Strips {
			out = append(out, moving{catalog.Key(of, "stand", "strips", s.Name, "width"), 10, 200}, moving{catalog.Key(of, "stand", "strips", s.Name, "from_edge"), 1, 60})
		}
		for _, a := range c.Run.Anchors {
			out = append(out, moving{catalog.Key(of, "run", "anchor", a.Name, "at"), 10, 500}, moving{catalog.Key(of, "run", "anchor", a.Name, "within"), 1, 60})
		}
		for _, z := range c.Run.Clears {
			out = append(out, moving{catalog.Key(of, "run", "clear", z.Name, "from"), 10, 500}, moving{catalog.Key(of, "run", "clear", z.Name, "to"), 10, 500})
		}
	}
	return out
}

// share plans with a length that has a ±, and with both its ends without one. It
// tells of the findings that may be conflicts by how much more the margin may be
// than at the better of those.
func (m *mover) share(l, by measure.Length, tell func(is *rules.Finding, over float64)) {
	with := func(l, tol measure.Length) *rules.Planned {
		w, err := catalog.ParseWith(fmt.Sprintf("%s=\"%v mm ± %v mm\"", m.key, l.MM(), tol.MM()))
		if err != nil {
			return nil
		}
		h, err := m.base.Garment.Alter(w)
		if err != nil {
			return nil
		}
		return m.base.Again(h, plan.Touches(h, []catalog.With{w}))
	}
	was := m.to(l)
	if was == nil {
		return
	}
	var is, more, less *rules.Planned
	for i := range was.Findings {
		f := &was.Findings[i]
		if !f.Compared || f.Unit != "mm" || f.Severity != rules.Conflict && !f.Unsure {
			continue
		}
		if is == nil {
			if is, more, less = with(l, by), m.to(l+by), m.to(l-by); is == nil || more == nil || less == nil {
				return
			}
		}
		same := func(p *rules.Planned) *rules.Finding {
			var one *rules.Finding
			for j := range p.Findings {
				if o := &p.Findings[j]; o.Rule == f.Rule && o.Closure == f.Closure && o.Size == f.Size && (o.Severity == rules.Conflict || o.Unsure) {
					if one != nil {
						return nil
					}
					one = o
				}
			}
			return one
		}
		a, b, c, d := same(was), same(is), same(more), same(less)
		if a == nil || b == nil || c == nil || d == nil {
			continue
		}
		best := max(c.Margin+c.Tol, d.Margin+d.Tol)
		if over := b.Margin + b.Tol - best; math.Abs(over) > 1e-5 || math.Abs(c.Margin-d.Margin) > 1e-5 {
			tell(b, over)
		}
	}
}
