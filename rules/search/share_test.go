package search

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// onTheSafeSide are those that add more than the margin moves: of two lengths that
// move together each is counted, and what a rounded or chosen length takes up.
var onTheSafeSide = []string{
	"band-extension .stand.turn_under", "edge-shared .stand.band", "edge-shared .stand.extension", "facing-short .flap.width",
	"facing-short .notion.diameter", "facing-short .notion.thickness", "flap-seam .flap.width", "hole-machine .notion.diameter",
	"hole-machine .notion.thickness", "last-low .notion.diameter", "last-low .notion.thickness", "loop-length .notion.diameter",
	"rims-touch .hole_length", "rims-touch .notion.diameter", "rows-touch .notion.diameter", "rows-touch .notion.thickness",
	"stand-narrow .rows.distance", "stand-narrow .stand.band", "stand-narrow .stand.extension", "stand-narrow .stand.finished",
	"strip-narrow .flap.width", "strip-narrow .inset", "strip-narrow .notion.diameter", "strip-narrow .notion.thickness",
	"strip-narrow .stand.band", "strip-start .flap.width", "toggle-patch .stand.band", "zip-clear .flap.width", "zip-clear .notion.tape",
	"zip-fly .flap.inset", "zip-fly .stand.extension",
}

// uncounted are those that add less: our own fold of 1/8 in stands for it, or the
// length decides only now and then.
var uncounted = []string{
	"edge-shared .edge", "edge-shared .notion.diameter", "flap-seam .stand.extension", "hole-machine .hole_length",
	"rims-touch .notion.diameter", "stand-narrow .notion.width", "stitch-length machine.stitch_max", "strip-narrow .notion.length",
	"strip-narrow .rows.distance", "strip-start .flap.width", "zip-clear .notion.chain", "zip-clear .notion.diameter",
}

// The ± of a margin is the sum of what each length's own ± moves it: a length with
// a ± of its own adds to that of a conflict's margin as much as the margin moves
// when the length does (worst case, JCGM 100:2008 for a linear sum without
// correlation taken at its bounds).
func TestTolerancesAreTheirShares(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "rules", "*", "*.toml"))
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
					m.share(l, by, func(rule string, was, is *rules.Finding, moves float64) {
						what := rule + " " + k.key
						if moves == 0 && is.Tol == was.Tol || strings.HasPrefix(k.key, ".run.") && is.Tol == was.Tol {
							return // a run is chosen, not measured
						}
						if adds := is.Tol - was.Tol; math.Abs(adds-moves) < 1e-5 {
							met[what]++
						} else if adds > moves && !slices.Contains(onTheSafeSide, what) || adds < moves && !slices.Contains(uncounted, what) {
							t.Errorf("%s: %s at %g mm, with ± 0.1: the ± of the margin grows by %g, but the margin moves by %g: %s", file, what, l.MM(), adds, moves, is.Message())
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

// share plans with a length without a ± and with one, and moves it by that.
func (m *mover) share(l, by measure.Length, tell func(rule string, was, is *rules.Finding, moves float64)) {
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
		if a == nil || b == nil || c == nil || d == nil || math.Abs(c.Margin+d.Margin-2*a.Margin) > 1e-6 {
			continue // it is not straight there
		}
		tell(f.Rule, a, b, math.Abs(c.Margin-a.Margin))
	}
}
