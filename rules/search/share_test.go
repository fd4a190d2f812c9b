package search

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
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
// less; of a slanting column each end counts whole.
var onTheSafeSide = []string{
	"foot-lift .measured.stack", "foot-lift .measured.stack_under", "foot-lift cloth.shell.thickness", "hardware-grip .measured.stack",
	"hardware-grip .measured.stack_under", "hardware-grip cloth.shell.thickness", "hardware-grip interfacing.front.thickness",
	"hardware-post .measured.stack", "hardware-post .measured.stack_under", "hardware-post cloth.shell.thickness", "shank-rigid .measured.stack",
	"rims-touch .notion.diameter", "rims-touch .notion.flange", "rims-touch .run.first", "rims-touch .run.last", "rims-touch .run.length",
	"edge-shared .stand.extension", "stand-narrow .stand.band", "stand-narrow .stand.extension", "stand-narrow .stand.finished",
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
		base := rules.Base(g, nil)
		for i, k := range turning {
			if (n+i)%trial.Many(11, 1) != 0 {
				continue
			}
			for j := range g.Closures {
				m := mover{base: base, key: k.key}
				if k.key[0] == '.' {
					m.key = catalog.Key("closure", g.Closures[j].Name) + k.key
				} else if j > 0 {
					break
				}
				for q := range 4 {
					l := measure.Length(1e6*(max(k.lo, 0.5)*math.Pow(k.hi/max(k.lo, 0.5), float64(q)/3))).RoundNearest(by) + by
					m.share(l, by, func(is *rules.Finding, over float64) {
						switch what := is.Rule + " " + k.key; {
						case over < -1e-5:
							t.Errorf("%s: %s at %g mm, with ± 0.1: the favourable end lies %g farther: %s", file, what, l.MM(), -over, is.Message())
						case over < 1e-5:
							met[what]++
						case !slices.Contains(onTheSafeSide, what):
							t.Errorf("%s: %s at %g mm, with ± 0.1: the favourable end lies %g nearer: %s", file, what, l.MM(), over, is.Message())
						}
					})
				}
			}
		}
	}
	if len(met) < 45 {
		t.Errorf("only %d were seen: %v", len(met), met)
	}
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
