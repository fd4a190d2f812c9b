package search

import (
	"cmp"
	"math"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// turning are the keys that are moved, of a closure where they begin with a
// point, and from where to where, mm.
var turning = []moving{
	{".hole_length", 2, 120}, {".stand.finished", 1, 150}, {".stand.band", 2, 160}, {".stand.extension", 2, 150}, {".stand.facing", 1, 200},
	{".stand.strip", 1, 300}, {".stand.strip_from_edge", 0, 90}, {".stand.seam", 3, 60}, {".stand.topstitch", 0.5, 60}, {".stand.turn_under", 1, 40},
	{".flap.width", 2, 150}, {".flap.inset", 1, 90}, {".inset", 2, 150}, {".loop", 2, 300}, {".cord", 0.5, 30}, {".edge", 0.5, 90},
	{".run.first", 0.5, 150}, {".run.last", 0.5, 200}, {".run.hem", 5, 120}, {".run.length", 100, 900}, {".rows.distance", 2, 200},
	{".zip_length", 30, 900}, {".stitch", 0.5, 8}, {".punch", 0.5, 30}, {".thickness_step", 0.1, 9}, {".thread_shank", 0.2, 30}, {".backing", 4, 60},
	{".turn", 0.1, 20}, {".packing", 0.1, 20},
	{".notion.diameter", 3, 100}, {".notion.thickness", 0.5, 40}, {".notion.shank", 0.3, 30}, {".notion.post", 0.5, 40}, {".notion.post_width", 0.5, 20},
	{".notion.tape", 2, 60}, {".notion.chain", 1, 25}, {".notion.inside", 1, 40}, {".notion.length", 4, 120}, {".notion.width", 2, 60}, {".notion.hole_gap", 0.5, 12},
	{"machine.foot_lift", 1, 15}, {"machine.buttonhole_max", 5, 90}, {"machine.stitch_max", 1, 8},
	{".rows.top", 2, 200}, {".rows.bottom", 2, 200}, {".stand.tuck", 1, 50}, {".measured.hole_length", 2, 120}, {".measured.stack", 0.5, 30},
	{".measured.stack_under", 0.5, 30}, {".measured.stack_pressed", 0.5, 30}, {".run.group_gap", 5, 120},
	{".check.over", 0.5, 90}, {".check.under", 0.5, 90}, {".check.over_along", 0.5, 90}, {".check.under_along", 0.5, 90},
	{".notion.grip.min", 0.2, 9}, {".notion.grip.max", 0.5, 12}, {".notion.hole", 1, 20}, {"machine.swing.min", 0.5, 9}, {"machine.swing.max", 1, 15},
	{".run.first.min", 0.5, 150}, {".run.first.max", 0.5, 150}, {".run.last.min", 0.5, 200}, {".run.last.max", 0.5, 200}, {".run.gap.min", 5, 200}, {".run.gap.max", 5, 300},
	{".notion.side", 3, 100}, {".notion.girth", 8, 300}, {".notion.knot", 3, 60}, {".notion.head", 4, 100}, {".notion.flange", 4, 100},
	{".notion.short_end", 2, 80}, {".notion.pitch", 5, 90}, {".notion.eye_pitch", 5, 90}, {".notion.slider", 2, 30}, {".notion.cord", 0.5, 19},
	{"machine.foot_lift_extra", 1, 15}, {"machine.sewing_max", 1, 15}, {"cloth.shell.repeat.along", 3, 300}, {"cloth.shell.repeat.across", 3, 300},
	{"cloth.lining.thickness", 0.1, 4}, {"interfacing.front.thickness", 0.1, 4},
	{"cloth.shell.thickness", 0.1, 8}, {"interfacing.front.width", 10, 900}, {"interfacing.inner.width", 10, 900},
}

// verdictOf is what a rule has found of a closure, of a gravity or graver.
type verdictOf struct {
	rule, closure string
	sev           rules.Severity
}

func (v verdictOf) of(p *rules.Planned) (out []rules.Finding) {
	for _, f := range p.Findings {
		if f.Rule == v.rule && f.Closure == v.closure && f.Severity >= v.sev {
			out = append(out, f)
		}
	}
	return out
}

// atEquals are the conflicts that come where the two figures are equal: a hole
// must be smaller than the post that is forced through it, a post longer than its
// layers, the tape reach past its stitching, and something be left between the stops.
var atEquals = []string{"hardware-hole caution", "hardware-hole conflict", "hardware-post caution", "hardware-post conflict", "zip-seam conflict", "zip-stops conflict"}

// leeways are what rules let pass before they speak, mm, each said by its rule:
// 1/10 mm at an attachment's longest hole, a shank, a swing; half a mark of a
// band; half a millimetre at a hook's edge and of a step in thickness; 1 mm of
// work beyond a strip; 1/16 in of turn of cloth; what a zip may be short, 1/4 in.
var leeways = map[string]float64{
	"hole-machine conflict": 0.1, "shank-thread caution": 0.1, "button-swing caution": 0.1, // of a machine and of thread
	"strip-start conflict": 1, "turn-cloth caution": 1.5875, "hardware-step conflict": 0.5,
	"band-extension conflict": 0.5, "hook-edge caution": 0.5, "zip-length conflict": 6.35,
}

// others are the keys at which a verdict turns for another reason: there is a
// condition before the comparison, or a length that is rounded or chosen.
var others = map[string]string{
	"band-extension caution":  "a band is chosen by marks",
	"band-hole caution":       "a small button has holes by another rule",
	"edge-shared conflict":    "a tape on the hem is another matter",
	"facing-short caution":    "a small button has holes by another rule",
	"flap-seam caution":       "a length in between is rounded to 1/10 mm",
	"foot-lift caution":       "a thick shank is sewn by hand",
	"gaps-uneven caution":     "fasteners move by whole repeats",
	"hole-edge caution":       "where the edge lies on the holes or inside them, stand-narrow alone speaks",
	"hole-long caution":       "an attachment sews some lengths only",
	"hook-tape conflict":      "one hook fewer",
	"first-high conflict":     "within a range it moves by marks, and a run that cannot be laid out has no first",
	"zip-fly caution":         "of a stand of which nothing is left another rule speaks alone",
	"rows-touch conflict":     "a large button has holes by another rule",
	"zip-clear conflict":      "fasteners move by marks",
	"backing-button caution":  "as large as the button is too large; the figure named is the half of it",
	"edge-near conflict":      "how wide a flange is depends on the class of the cap",
	"hole-machine caution":    "a longer hole is asked for in bulky layers",
	"hole-tight caution":      "only in bulky layers, or of a ball; a shorter one does not pass at all",
	"first-high caution":      "a higher one hangs over; 1/2 in is asked of a button, a rim of another",
	"last-low caution":        "the hole's own length decides where it reaches",
	"last-low conflict":       "a usual place is taken where none is given",
	"rims-touch caution":      "an end that nobody said moves by marks",
	"rows-touch caution":      "the largest button has holes by another rule",
	"stack-bulky caution":     "a foot that lifts less makes it a conflict",
	"strip-second caution":    "a strip that begins inside the stand is another matter",
	"band-extension conflict": "a band is chosen by marks",
	"button-swing caution":    "a thick shank or cloth is sewn by hand",
	"flap-seam conflict":      "a length in between is rounded to 1/10 mm",
	"foot-lift conflict":      "a button that the machine cannot swing over is sewn by hand",
	"goods-narrow conflict":   "what is over the least of a strip is a caution",
	"hole-machine conflict":   "a given hole is held against what the fastener passes",
	"plaid-level conflict":    "a repeat counts as often as it lies between the stripes",
	"plaid-phase conflict":    "a repeat counts as often as it lies between the stripes",
	"place-thick caution":     "what the extra lift passes is a note",
	"rims-touch conflict":     "one fastener fewer leaves other gaps",
	"stitch-hole caution":     "stitching inside the whole hole is clear too",
	"strip-narrow caution":    "usual is rounded to a mark",
	"strip-narrow conflict":   "what is over the least is a caution, and beside a hole it is rounded",
}

// A verdict turns exactly where the two figures that it names meet: with one
// length of a garment moved to the nanometre at which a rule begins to speak, the
// margin is under zero there, and by a hair. So a least is kept where it is just
// reached, and a rule compares what it says that it compares.
func TestVerdictsTurnWhereFiguresMeet(t *testing.T) {
	t.Parallel()
	files, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "rules", "*", "*.toml"))
	more, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "worked", "*.toml"))
	files = append(files, more...)
	var mu sync.Mutex
	seen, met := map[string]int{}, map[string]int{}
	trial.Each(uint64(len(files)), func(n uint64) {
		g, err := catalog.Load(files[n], catalog.Options{})
		if err != nil {
			return
		}
		base := rules.Base(g, nil)
		for i, k := range turning {
			if (int(n)+i)%trial.Many(17, 1) != 0 {
				continue
			}
			for j := range g.Closures {
				m := mover{base: base, key: k.key}
				if k.key[0] == '.' {
					m.key = catalog.Key("closure", g.Closures[j].Name) + k.key
				} else if j > 0 {
					break
				}
				m.turns(k.lo, k.hi, func(v verdictOf, speaks *rules.Planned, at measure.Length) {
					what := v.rule + " " + v.sev.String()
					best, says := math.Inf(-1), ""
					for _, f := range v.of(speaks) {
						margin := f.Margin
						if f.Severity == rules.Conflict {
							margin += f.Tol // it forbids at the favourable end of its ±
						}
						if margin > best {
							best, says = margin, f.Message()
						}
					}
					mu.Lock()
					defer mu.Unlock()
					seen[what]++
					const hair = 1e-5 // mm
					leeway, lets := leeways[what]
					switch {
					case best > -1e-9 && slices.Contains(atEquals, what), best < -1e-9 && best > -hair:
						met[what]++
					case best > -1e-9:
						t.Errorf("%s: %s speaks though nothing is short: %s=%d nm: %s", files[n], what, m.key, at, says)
					case lets && math.Abs(best+leeway) < hair:
						met[what]++
					case others[what] == "":
						t.Errorf("%s: %s turns at %s=%d nm, where its margin is %g mm: %s", files[n], what, m.key, at, best, says)
					}
				})
			}
		}
	})
	if len(met) < 60 {
		t.Errorf("only %d verdicts were seen to turn: %v", len(met), met)
	}
	for _, what := range atEquals {
		if met[what] == 0 && trial.Long() {
			t.Errorf("%s was not seen to turn", what)
		}
	}
	t.Logf("%d verdicts, %d", len(met), len(seen))
}

// mover moves one length of a garment.
type mover struct {
	base *rules.Planned
	key  string
}

// to is the plan with the length there; nil where no garment has it.
func (m *mover) to(l measure.Length) *rules.Planned {
	w := catalog.SetLength(m.key, l, measure.MM)
	h, err := m.base.Garment.Alter(w)
	if err != nil {
		return nil
	}
	return m.base.Again(h, plan.Touches(h, []catalog.With{w}))
}

// turns finds where verdicts of lengths turn between two lengths, mm, to the nanometre.
func (m *mover) turns(lo, hi float64, tell func(v verdictOf, speaks *rules.Planned, at measure.Length)) {
	const points = 6
	var was *rules.Planned
	var from measure.Length
	for i := range points {
		l := measure.Length(1e6 * (max(lo, 0.1) * math.Pow(hi/max(lo, 0.1), float64(i)/(points-1))))
		p := m.to(l)
		if p != nil && was != nil {
			for _, v := range verdicts(was, p) {
				m.turn(v, from, l, was, p, tell)
			}
		}
		was, from = p, l
	}
}

func (m *mover) turn(v verdictOf, lo, hi measure.Length, below, above *rules.Planned, tell func(verdictOf, *rules.Planned, measure.Length)) {
	speaks := len(v.of(above)) > 0
	for hi-lo > 1 {
		mid := (lo + hi) / 2
		p := m.to(mid)
		switch {
		case p == nil:
			return
		case (len(v.of(p)) > 0) == speaks:
			hi, above = mid, p
		default:
			lo, below = mid, p
		}
	}
	if speaks {
		tell(v, above, hi)
	} else {
		tell(v, below, lo)
	}
}

// verdicts are those about lengths that one of two plans has and the other has not.
func verdicts(a, b *rules.Planned) (out []verdictOf) {
	for _, p := range []*rules.Planned{a, b} {
		for _, f := range p.Findings {
			v := verdictOf{f.Rule, f.Closure, f.Severity}
			if f.Severity >= rules.Caution && f.Compared && f.Unit == "mm" && (len(v.of(a)) > 0) != (len(v.of(b)) > 0) {
				out = append(out, v)
			}
		}
	}
	slices.SortFunc(out, func(a, b verdictOf) int {
		return cmp.Or(cmp.Compare(a.rule, b.rule), cmp.Compare(a.closure, b.closure), cmp.Compare(a.sev, b.sev))
	})
	return slices.Compact(out)
}
