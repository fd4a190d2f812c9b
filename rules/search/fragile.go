package search

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// How far off a length may be that has no ± of its own, by how it was
// measured: a length laid against the ruler or taken between the jaws, and
// the percent of a thickness of cloth.
var measurings = map[string]struct {
	length measure.Length
	cloth  float64
}{
	"hand":    {plan.HandLength, plan.HandCloth},
	"caliper": {plan.CaliperLength, plan.CaliperCloth},
}

// Measurings are the ways of measuring that CheckOptions takes.
var Measurings = []string{"hand", "caliper"}

// byRuler are the keys of a closure that somebody lays a ruler to. What is
// drafted, cut or marked (extension, strip, run, gaps, anchors) is chosen and
// not measured: it carries a ± only where the file writes one.
var byRuler = []string{
	"notion.diameter", "notion.thickness", "notion.side", "notion.girth", "notion.shank", "notion.head", "notion.flange",
	"notion.length", "notion.width", "notion.short_end", "notion.knot", "notion.cord", "notion.post", "notion.post_width",
	"notion.inside", "notion.chain", "notion.chain_thickness", "notion.slider", "notion.tape",
	"stand.finished", "stand.band", "thickness_step", "cord",
	"measured.stack", "measured.stack_under", "measured.stack_pressed", "measured.hole_length",
}

// input is a measured length of a garment that can be moved.
type input struct {
	path string
	set  string // where what is measured is written, "" for path
	says string
	now  measure.Toleranced
	move func(to measure.Length)

	estimated bool

	closure int        // that it lies in, -1 for what many of them share
	touch   plan.Touch // how much of that plan it can alter
}

// what is what was measured, whether it is an estimate aside.
func (in *input) what() string { return strings.TrimSuffix(in.says, ", an estimate,") }

// within marks the findings of a plan that flip when a measured length is
// moved within its tolerance, and adds what comes then.
func within(p *rules.Planned, measuring string) {
	f := newFrail(p, measuring)
	f.look()
	f.say()
}

// frail collects what flips.
type frail struct {
	p      *rules.Planned
	g      *catalog.Garment // with the lengths moved
	inputs []input
	from   *rules.Planned // of g as it was, to plan again from
	room   *rules.Planned // where it is planned again: no such plan is kept
	base   tally
	come   []flip
	gone   []flip
	left   []input // that were not moved
	budget *budget
}

func newFrail(p *rules.Planned, measuring string) *frail {
	f := &frail{p: p, g: p.Garment.Clone(), room: newRoom(), base: tallied(p), budget: newBudget()}
	f.inputs = inputsOf(f.g, measuring)
	return f
}

// look moves every length to both ends of its ±. It neither reads the plan nor
// writes into it.
func (f *frail) look() {
	if len(f.inputs) == 0 {
		return
	}
	f.from = rules.Base(f.g, &f.budget.tries)
	f.left = f.inputs
	for i := range f.inputs {
		if in := &f.inputs[i]; !f.moved(in, -in.now.Tol) || !f.moved(in, in.now.Tol) {
			break
		}
		f.left = f.inputs[i+1:]
	}
}

// say puts what was seen into the plan.
func (f *frail) say() {
	if len(f.inputs) == 0 {
		return
	}
	f.p.First = f.first()
	f.tell()
	if len(f.left) > 0 {
		f.stopped(f.left)
	}
}

// stopped says which lengths were not moved.
func (f *frail) stopped(left []input) {
	o := rules.Finding{
		Rule: rules.WithinRule.Name, Severity: rules.Note, Pos: f.g.At(left[0].path), Sources: rules.WithinRule.Sources,
	}.At(left[0].path).Saying("whether the ± of %s decides anything was not found out: the search %s before %s",
		text.Count(len(left), "length"), looked(f.budget.plans), left[0].says)
	f.p.Findings = append(f.p.Findings, *o.Line("too many lengths to try: the search stopped before %s", left[0].says))
}

// flip is a finding that comes, goes or changes its gravity when a length is
// moved by so much.
type flip struct {
	replaced bool // it goes because something as grave comes in its place: no better
	spot     spot
	severity rules.Severity // with the length moved
	in       *input
	by       measure.Length

	slack measure.Length // how far it can be moved before that
	less  bool           // moved towards less
}

// gravest is the gravest finding of at least caution at a spot, and whether
// there is any.
func (t tally) gravest(s spot) (rules.Severity, bool) {
	n, any := t[s]
	switch {
	case !any:
		return rules.Note, false
	case n[1] > 0:
		return rules.Conflict, true
	}
	return rules.Caution, true
}

// plan moves a length and plans with it. It is false where the search is to
// stop.
func (f *frail) plan(in *input, by measure.Length) (tally, bool) {
	if f.budget.out() {
		return nil, false
	}
	f.budget.plans++
	in.move(in.now.V + by)
	defer in.move(in.now.V)
	count := tallied(f.again(in))
	return count, !f.budget.tries.Out()
}

// again is the plan with that length moved.
func (f *frail) again(in *input) *rules.Planned {
	touch := plan.TouchAll(f.g, in.touch)
	if in.closure != -1 {
		touch = plan.TouchOne(f.g, in.closure, in.touch)
	}
	f.from.AgainIn(f.room, f.g, touch)
	return f.room
}

// moved notes what flips with a length moved by so much.
func (f *frail) moved(in *input, by measure.Length) bool {
	if in.now.V+by <= 0 {
		return true
	}
	count, ok := f.plan(in, by)
	if !ok {
		return false
	}
	before := len(f.come)
	for _, s := range count.spots() {
		sev, _ := count.gravest(s)
		if was, any := f.base.gravest(s); !any || sev > was {
			f.come = append(f.come, flip{spot: s, severity: sev, in: in, by: by})
		}
	}
	for _, s := range f.base.spots() {
		was, _ := f.base.gravest(s)
		if sev, any := count.gravest(s); !any || sev < was {
			if !any {
				sev = rules.Note
			}
			replaced := slices.ContainsFunc(f.come[before:], func(x flip) bool { return x.spot.closure == s.closure && x.severity >= was })
			f.gone = append(f.gone, flip{spot: s, severity: sev, in: in, by: by, replaced: replaced})
		}
	}
	return true
}

const finest = mm / 100 // how finely the place of a flip is looked for: ours

// nearest moves the length only as far as the flip needs.
func (f *frail) nearest(x flip) flip {
	was, any := f.base.gravest(x.spot)
	far, near := x.by, measure.Length(0)
	for (far - near).Abs() > finest {
		mid := near + (far-near)/2
		count, ok := f.plan(x.in, mid)
		if !ok {
			break
		}
		sev, is := count.gravest(x.spot)
		if is != any || sev != was {
			far = mid
		} else {
			near = mid
		}
	}
	x.slack, x.less = near.Abs(), far < 0
	return x
}

// tell puts the flips into the plan: beside the finding where there is one,
// as a finding of its own where there is none.
func (f *frail) tell() {
	type about struct{ rule, closure, path string }
	tightest := map[about]flip{}
	var order []about
	for _, x := range append(f.come, f.gone...) {
		if x.replaced || f.mark(x) {
			continue
		}
		k := about{x.spot.rule, x.spot.closure, x.spot.path}
		old, seen := tightest[k]
		x = f.nearest(x)
		if !seen {
			order = append(order, k)
		}
		if !seen || tighter(x, old) {
			tightest[k] = x
		}
	}
	inOrder(order, func(a, b about) int {
		return cmp.Or(strings.Compare(a.rule, b.rule), strings.Compare(a.closure, b.closure), strings.Compare(a.path, b.path))
	})
	for _, k := range order {
		f.report(tightest[k])
	}
}

// tighter says whether a is the flip to tell of: a conflict before a
// caution, then the one that takes the smaller part of its tolerance.
func tighter(a, b flip) bool {
	return cmp.Or(
		cmp.Compare(b.severity, a.severity),
		cmp.Compare(float64(a.slack)/float64(a.in.now.Tol), float64(b.slack)/float64(b.in.now.Tol)),
		strings.Compare(a.in.path, b.in.path),
		strings.Compare(a.spot.size, b.spot.size),
	) < 0
}

// mark says of a finding that it flips; it is false where the plan has none
// at the spot.
func (f *frail) mark(x flip) bool {
	done := false
	for i := range f.p.Findings {
		o := &f.p.Findings[i]
		if spotOf(o) != x.spot {
			continue
		}
		done = true
		if o.Fragile != "" || o.Severity == x.severity {
			continue
		}
		y := f.nearest(x)
		way := "more"
		if y.less {
			way = "less"
		}
		by, have := max(y.slack, finest).TextThin(f.g.Units), x.in.now.TextThin(f.g.Units)
		switch {
		case x.severity > o.Severity:
			o.Fragile = fmt.Sprintf("a %s if %s is %s %s, and it is %s: sew a sample", x.severity, x.in.says, by, way, have)
		case x.severity != rules.Note:
			o.Fragile = fmt.Sprintf("only a %s if %s is %s %s, and it is %s: measure it again", x.severity, x.in.says, by, way, have)
		default:
			o.Fragile = fmt.Sprintf("it passes if %s is %s %s, and it is %s: measure it again", x.in.says, by, way, have)
		}
	}
	return done
}

// byHair is by how little something passes.
func byHair(slack measure.Length, u measure.Unit) string {
	if slack < 10*measure.Micrometre {
		return "it is at the very limit"
	}
	return "it passes by " + slack.TextThin(u) + " only"
}

func (f *frail) report(x flip) {
	sev := rules.Note
	if x.severity == rules.Conflict {
		sev = rules.Caution
	}
	slack := x.slack
	o := rules.Finding{
		Rule: rules.WithinRule.Name, Severity: sev, Closure: x.spot.closure,
		Numbers: rules.Numbers{Have: slack.MM(), Need: x.in.now.Tol.MM(), Margin: (slack - x.in.now.Tol).MM(), Unit: "mm", Compared: true},
		Pos:     f.g.At(x.in.path), Sources: rules.WithinRule.Sources,
	}.At(x.in.path).Saying("%s: %s, and %s is %s: sew a sample (see %s)", rules.Find(x.spot.rule).Title, byHair(slack, f.g.Units), x.in.says, x.in.now.TextThin(f.g.Units), x.spot.rule)
	f.p.Findings = append(f.p.Findings, *o.Line("%s", justLine(rules.Find(x.spot.rule), slack, x.in, f.g.Units)))
}

// justLine says in one line what only just passes, and what to measure.
func justLine(r *rules.Rule, slack measure.Length, in *input, u measure.Unit) string {
	by := "passes by only " + slack.TextThin(u)
	if slack < 10*measure.Micrometre {
		by = "at the limit"
	}
	says, _, _ := strings.Cut(in.says, ", an estimate,")
	for _, line := range [...]string{
		cmp.Or(r.Figure, r.Title) + ": " + by + "; measure " + says,
		cmp.Or(r.Figure, r.Title) + ": " + by,
		by + ": measure " + says,
	} {
		if line = rules.OneUnit(line); text.Width(line) <= rules.LineWidth {
			return line
		}
	}
	return rules.OneUnit(by) + ": " + r.Name
}

// inputsOf are the measured lengths of a garment that carry a tolerance, and
// how to move them in it.
func inputsOf(g *catalog.Garment, measuring string) []input {
	var out []input
	by := measurings[measuring]
	own := func(m catalog.Measured, e *catalog.Entry) bool {
		return m.From == catalog.Given || m.From == catalog.Stock && e.File != ""
	}
	used := func(c *catalog.Cloth, in *catalog.Interfacing) bool {
		for i := range g.Closures {
			for _, ls := range [...][]catalog.Layer{g.Closures[i].Over, g.Closures[i].Under} {
				for _, l := range ls {
					if c != nil && l.Cloth == c || in != nil && l.Interfacing == in {
						return true
					}
				}
			}
		}
		return false
	}
	layer := func(l catalog.Layer, table, name string, thick *catalog.Measured, density, spread *catalog.Opt[float64], e *catalog.Entry) {
		path, now := source.Join(source.Join(table, name), "thickness"), plan.LayerOf(g, l)
		in := input{closure: -1, touch: plan.Touched, path: path, says: "the thickness of " + name, now: measure.Toleranced{V: now.Thick, Tol: now.Tol}}
		if now.Estimated {
			in.says += ", an estimate,"
			in.estimated = true
			old, oldSpread := *density, catalog.Opt[float64]{}
			if spread != nil {
				oldSpread = *spread
			}
			have := float64(now.Thick)
			in.move = func(to measure.Length) {
				*density = old
				if spread != nil {
					*spread = oldSpread
				}
				if to != now.Thick {
					// The same weight in another thickness: it stays an estimate.
					d := effectiveDensity(g, l)
					*density = catalog.Opt[float64]{V: d * have / float64(to), From: catalog.Given}
					if spread != nil {
						*spread = catalog.Opt[float64]{From: catalog.Given}
					}
				}
			}
		} else {
			if in.now.Tol == 0 && own(*thick, e) {
				in.now.Tol = plan.Scale(now.Thick, by.cloth/100)
			}
			in.move = moves(thick)
		}
		if in.now.Tol > 0 {
			out = append(out, in)
		}
	}
	for i, c := range g.Cloths {
		if used(c, nil) {
			layer(catalog.Layer{Name: g.ClothNames[i], Cloth: c}, "cloth", g.ClothNames[i], &c.Thickness, &c.Density, &c.Spread, &c.Entry)
		}
	}
	for i, c := range g.Interfacings {
		if used(nil, c) {
			layer(catalog.Layer{Name: g.InterfNames[i], Interfacing: c}, "interfacing", g.InterfNames[i], &c.Thickness, &c.Density, nil, &c.Entry)
		}
	}
	if lift := &g.Machine.FootLift; lift.Has() {
		in := input{closure: -1, touch: plan.Touched, path: "machine.foot_lift", says: "the room under the foot", now: measure.Toleranced{V: lift.V, Tol: lift.Tol}, move: moves(lift)}
		if in.now.Tol == 0 && lift.From == catalog.Given {
			in.now.Tol = by.length
		}
		if in.now.Tol > 0 {
			out = append(out, in)
		}
	}
	for i := range g.Closures {
		c := &g.Closures[i]
		for _, k := range g.Lengths(i) {
			tol := k.At.Tol
			if tol == 0 && slices.Contains(byRuler, k.Key) && own(*k.At, &c.Notion.Entry) {
				tol = by.length
			}
			if tol <= 0 || tol >= k.At.V {
				continue
			}
			set := ""
			says, path := "the "+lastWord(k.Key)+" of "+c.Name, k.Path
			if name, ok := strings.CutPrefix(k.Key, "measured."); ok {
				says = "the " + lastWord(name) + " of " + c.Name + " on your sample"
			}
			if name, ok := strings.CutPrefix(k.Key, "notion."); ok {
				says = "the " + strings.ReplaceAll(name, "_", " ") + " of the " + c.Notion.Kind
				if k.At.From != catalog.Given && c.Use != "" {
					path, set = source.Item("closure", i)+".use", k.Path
				}
			}
			touch := plan.Touched
			if strings.HasPrefix(k.Key, "run.") || strings.HasPrefix(k.Key, "rows.") {
				touch = plan.Rerun
			}
			out = append(out, input{closure: i, touch: touch, path: path, set: set, says: says, now: measure.Toleranced{V: k.At.V, Tol: tol}, move: moves(k.At)})
		}
	}
	return out
}

// moves moves a length. Where it is moved it is taken to be sure: its ± is in
// the move.
func moves(m *catalog.Measured) func(to measure.Length) {
	now := *m
	return func(to measure.Length) {
		*m = now
		if to != now.V {
			m.V, m.Tol = to, 0
		}
	}
}

// effectiveDensity is the bulk density that a layer's thickness is estimated
// with.
func effectiveDensity(g *catalog.Garment, l catalog.Layer) float64 {
	now := plan.LayerOf(g, l)
	var w float64
	if l.Cloth != nil {
		w = l.Cloth.Weight.V.GSM()
	} else {
		w = l.Interfacing.Weight.V.GSM()
	}
	return w / (1000 * now.Thick.MM())
}

func lastWord(key string) string {
	return strings.ReplaceAll(strings.ReplaceAll(key, "_", " "), ".", " ")
}
