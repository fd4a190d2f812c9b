package rules

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/rules/plan"
	"slices"
)

var stackRules = []*Rule{
	{
		Name: "foot-lift", Severity: Conflict,
		Rests: []string{"closure.*.measured", "closure.*.notion.hole_gap", "closure.*.notion.kind", "closure.*.over", "closure.*.sewn_by", "closure.*.under", "cloth.*.kind", "cloth.*.surface", "cloth.*.thickness", "cloth.*.weight", "machine.foot_lift", "machine.swing"},
		Task:  NoTask,
		Reads: ReadsInterfacing,
		Room: func(x *Context) Numbers {
			m := &x.G.Machine
			if !m.FootLift.Has() {
				return Numbers{}
			}
			thick, any := measure.Length(0), false
			for _, s := range x.stacks() {
				thick, any = max(thick, s.stack.UnderFoot()), true
			}
			if !any {
				return Numbers{}
			}
			return atMost(thick, max(m.FootLift.V, m.FootLiftExtra.V))
		},
		Title:   "the layers must go under the presser foot",
		Figure:  "layers under the foot",
		Formula: "the layers' thickness added up ≤ the room under the lifted foot (foot_lift), or under its extra lift (foot_lift_extra); lofty layers (wadding, quilted, fleece, high pile) count as pressed, and lying free over it they are a caution",
		Why:     "A stack that does not go under the foot cannot be sewn there at all; one that only just goes under drags, and the hole stalls.",
		Sources: []string{
			"household machine service manual: foot raised 5.5 to 6.2 mm",
			"household machine manual: about 6.5 mm more with the extra lift",
			"industrial lockstitch: 5.5 mm by hand, 13 mm by knee (dealer's list)",
		},
		Ours: "which cloths count as lofty; how far they are pressed is from memory, so they may be pressed twice as far",
		Check: func(x *Context) {
			m := &x.G.Machine
			if !m.FootLift.Has() {
				return
			}
			for _, s := range x.stacks() {
				lift := m.FootLift.V
				switch {
				case s.stack.Thick <= lift:
				case m.FootLiftExtra.Has() && s.stack.Thick <= m.FootLiftExtra.V:
					have, need := x.ThinApart(s.stack.Thick, lift)
					x.report(Caution, whole(s.path), atMost(s.stack.Thick, lift),
						"%s %s thick%s, more than the foot lifts by hand, %s: use the extra lift or the knee lift, up to %s",
						s.says, have, x.guess(s.stack), need, x.sayThin(m.FootLiftExtra.V)).Line("%s thick under the foot: use the extra or the knee lift", x.free(s.stack))
				case s.stack.UnderFoot() <= max(lift, m.FootLiftExtra.Or(lift)):
					have, need := x.ThinOver(s.stack.Thick, max(lift, m.FootLiftExtra.Or(lift)))
					x.report(Caution, whole(s.path), atMost(s.stack.Thick, max(lift, m.FootLiftExtra.Or(lift))),
						"%s %s thick%s lying free, more than the foot lifts, %s, and %s pressed: press them flat with the hand, or clamp them, as they go under it",
						s.says, have, x.guess(s.stack), need, x.sayThin(s.stack.UnderFoot())).Line("%s free, the foot lifts %s: press it flat going under", x.free(s.stack), need)
				default:
					most, thick := max(lift, m.FootLiftExtra.Or(lift)), s.stack.UnderFoot()
					have, lifts := x.ThinApart(thick, most)
					f := x.report(Conflict, whole(s.path), atMost(thick, most).on(s.stack.FootBasis(), x.liftBasis(), s.basis),
						"%s %s thick%s and will not go under the foot, which lifts %s: leave a layer out, trim the seam allowances away, or work it by hand",
						s.says, have, x.guess(s.stack), lifts)
					if s.stack.Estimated {
						f.Line("%s ± %s, the foot lifts %s: leave a layer out", have, x.sayThin(s.stack.Tol), lifts)
					} else {
						f.Line("%s, the foot lifts %s: leave a layer out", have, lifts)
					}
				}
			}
		},
		Touches: thinner,
		Propose: proposeThinner,
	},
	{
		Name: "stack-bulky", Severity: Caution,
		Task:    TaskSample,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "a thick stack wants a sample first",
		Figure:  "bulk of the layers",
		Formula: "the layers' thickness added up ≤ {foot} on a household machine, and ≤ what its maker says it sews (sewing_max)",
		Why:     "Above about {foot} a household machine feeds unevenly, the hole comes out with gaps, and the needle may bend and break.",
		Limits:  []plan.Threshold{plan.FootLimit},
		Sources: []string{
			"from memory: usual working limit of household machines",
			"shop catalogue of a straight-stitch household machine: foot lift 6 mm, greatest sewing thickness 5 mm",
		},
		Check: func(x *Context) {
			m := &x.G.Machine
			for _, s := range x.stacks() {
				if m.SewingMax.Has() && s.stack.Thick > m.SewingMax.V {
					have, need := x.ThinApart(s.stack.Thick, m.SewingMax.V)
					x.report(Caution, whole(s.path), atMost(s.stack.Thick, m.SewingMax.V),
						"%s %s thick%s; the machine's maker says it sews up to %s: sew a sample through the real layers", s.says, have, x.guess(s.stack), need).Line("%s thick; the machine sews up to %s: sew the real layers", x.free(s.stack), need)
					continue
				}
				if m.Kind != "industrial" && m.Kind != "walking-foot" && s.stack.Thick > plan.FootBulky && s.stack.Thick <= max(m.FootLift.Or(plan.FootBulky), m.FootLiftExtra.Or(0)) {
					have, need := x.ThinApart(s.stack.Thick, plan.FootBulky)
					x.report(Caution, whole(s.path), atMost(s.stack.Thick, plan.FootBulky),
						"%s %s thick%s, over %s: sew a sample through the real layers, slowly, with a fresh needle", s.says, have, x.guess(s.stack), need).Line("%s thick, over %s: sew slowly, fresh needle", x.free(s.stack), need)
				}
			}
		},
		Touches: thinner,
		Propose: proposeThinner,
	},
	{
		Name: "thickness-estimated", Severity: Note,
		Task:    NoTask,
		At:      AtTable,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a thickness worked out from the weight is only an estimate",
		Formula: "thickness in mm = g/m² ÷ (1000 × bulk density of the cloth's family in g/cm³), with that family's ±",
		Why:     "Weight alone does not give thickness. Fold the real cloth into four or eight, lay a ruler on it, and divide.",
		Sources: []string{
			"definition of bulk density",
			"shop fabrics weighed and gauged by one laboratory: Rogak and others, mask materials survey, 2020, open data",
			"firefighter clothing layers: Advances in Materials Science and Engineering 2015, article 540394, table 2",
			"brackets for melton, tweed, duck and denim: inference between measured neighbours",
		},
		garment: true,
		Check: func(x *Context) {
			for i, c := range x.G.Cloths {
				if c.Thickness.Has() || !x.Used(c) || x.sampled(c) {
					continue
				}
				l := plan.LayerOf(x.G, catalog.Layer{Cloth: c})
				eight, short := "fold the cloth in eight", "fold it in eight"
				if c.Kind == "leather" { // a fold marks it
					eight, short = "stack eight scraps", "stack eight scraps"
				}
				x.report(Note, whole(source.Join("cloth", x.G.ClothNames[i])), Numbers{},
					"the thickness of %s is an estimate from its weight, %s: %s, measure the stack with a ruler, divide by eight, and write it as thickness",
					x.G.ClothNames[i], measure.Toleranced{V: l.Thick, Tol: l.Tol}.TextThin(x.U), eight).Line("%s counts as %s by weight: %s, measure", x.G.ClothNames[i], measure.Toleranced{V: l.Thick, Tol: l.Tol}.TextThin(x.U), short)
			}
		},
	},
}

// sampled says whether a sample makes up for the thickness of a cloth: every
// stack that it lies in was measured, and nothing is folded of it besides.
func (x *Context) sampled(c *catalog.Cloth) bool {
	in := func(ls []catalog.Layer) bool {
		return slices.ContainsFunc(ls, func(l catalog.Layer) bool { return l.Cloth == c })
	}
	for i := range x.P.Closures {
		k, cl := &x.P.Closures[i], &x.G.Closures[i]
		over, under := in(cl.Over), in(cl.Under)
		if over && !k.Over.Sampled() || under && !k.Under.Sampled() || (over || under) && (len(k.Places) > 0 || k.Stand.FoldLoss > 0) {
			return false
		}
	}
	return true
}

// Used says whether any closure has the cloth among its layers.
func (x *Context) Used(c *catalog.Cloth) bool {
	for i := range x.G.Closures {
		for _, ls := range [][]catalog.Layer{x.G.Closures[i].Over, x.G.Closures[i].Under} {
			for _, l := range ls {
				if l.Cloth == c {
					return true
				}
			}
		}
	}
	return false
}

// namedStack is a stack with the words and the place for it.
type namedStack struct {
	stack *plan.Stack
	says  string
	path  string
	basis plan.Basis // what it rests on that it goes under the foot at all
}

// stacks are the stacks of the closure that the machine must sew.
func (x *Context) stacks() []namedStack {
	var out []namedStack
	// What is worked or sewn on by hand never goes under the foot, nor do hooks,
	// and set hardware meets the die.
	switch h := &x.K.Hole; {
	case x.C.Notion.Kind == catalog.Zip:
		out = append(out, namedStack{&x.K.Over, "the layers the zip is sewn to are", x.path("over"), plan.Basis{}})
	case h.Needed && h.Kind == "loop":
		out = append(out, namedStack{&x.K.Over, "the layers the loop is sewn to are", x.path("over"), plan.Basis{}})
	case h.Needed && h.Kind == "bound": // made before the facing is on
		out = append(out, namedStack{&x.K.Over, "the layers at the hole, its facing with them, are", x.path("over"), plan.Basis{}})
	case h.Needed && h.Kind != "hand":
		out = append(out, namedStack{&x.K.Over, "the layers under the hole are", x.path("over"), plan.Basis{}})
	}
	if x.K.Sewing.Sewn && !x.K.Sewing.ByHand && x.C.Notion.Kind != catalog.Hook && (len(out) == 0 || x.K.Under.Thick > x.K.Over.Thick) {
		out = append(out, namedStack{&x.K.Under, "the layers the fastener is set on are", x.path("under"), x.sewnByBasis()})
	}
	return out
}

// sewnByBasis is what it rests on that the machine sews a fastener on: the file
// says so, and its holes lie within the needle's swing.
func (x *Context) sewnByBasis() plan.Basis {
	if x.C.SewnBy != "machine" {
		return plan.Basis{Ground: plan.Default, Key: x.key("sewn_by")}
	}
	m, n := &x.G.Machine, &x.C.Notion
	var b plan.Basis
	for _, end := range [...]catalog.Measured{m.Swing.Min, m.Swing.Max} {
		if end.Has() {
			b = b.And(x.machineGround(end.From, "swing"))
		}
	}
	if n.HoleGap.Has() {
		gap := plan.NotionBasis(x.C, n.HoleGap, "hole_gap")
		gap.Tol = 0 // within it or not, and no part of a thickness
		b = b.And(gap)
	}
	return b
}

// guess marks a thickness that is an estimate, or that a sample gave.
func (x *Context) guess(s *plan.Stack) string {
	return known(s.Sampled(), s.Estimated, s.Thick, s.Tol, x.U)
}

// guessPressed is guess of the thickness pressed.
func (x *Context) guessPressed(s *plan.Stack) string {
	return known(s.SampledPressed(), s.Estimated, s.Pressed, s.PressedBasis().Tol, x.U)
}

// known says where a thickness comes from, and how far off an estimate may be:
// pressed, a lofty layer may be next to nothing, and so thick as it lies free.
func known(sampled, estimated bool, l, tol measure.Length, u measure.Unit) string {
	switch {
	case sampled:
		return " (from your sample)"
	case estimated && tol > l:
		return " by estimate (at most " + (l + tol).ShortThin(u) + ")"
	case estimated:
		return " by estimate (± " + tol.ShortThin(u) + ")"
	}
	return ""
}

// liftBasis is what the room under the foot rests on.
func (x *Context) liftBasis() plan.Basis {
	m := &x.G.Machine
	if m.FootLiftExtra.V > m.FootLift.V {
		return x.machineBasis(m.FootLiftExtra, "foot_lift_extra")
	}
	return x.machineBasis(m.FootLift, "foot_lift")
}

// machineBasis is what a figure of the machine rests on: of a machine that
// the file does not name it is a default.
func (x *Context) machineBasis(m catalog.Measured, key string) plan.Basis {
	b := x.machineGround(m.From, key)
	b.Tol = m.Tol
	return b
}

// machineGround is machineBasis of a figure that has no ±.
func (x *Context) machineGround(from catalog.Origin, key string) plan.Basis {
	m := &x.G.Machine
	return plan.Basis{Ground: x.ofMachine(plan.FigureGround(from, &m.Entry), from == catalog.Given), Key: "machine." + key}
}

// machineList is machineGround of a list.
func (x *Context) machineList(key string) plan.Basis {
	m := &x.G.Machine
	return plan.Basis{Ground: x.ofMachine(plan.ListGround(&m.Entry, key), m.Says(key)), Key: "machine." + key}
}

// ofMachine is that ground, and a default where the file names no machine.
func (x *Context) ofMachine(g plan.Ground, said bool) plan.Ground {
	if !said && !x.G.Machine.Says("use") {
		return plan.Default
	}
	return g
}

// thinner are the keys that proposeThinner touches.
var thinner = []string{"closure.*.over", "closure.*.under", "closure.*.measured", "interfacing.*", "cloth.*"}

// proposeThinner offers what makes the stack of a finding thinner: a layer
// of interfacing or a doubled layer left out, a thinner cloth of the garment
// as facing, a thinner interfacing, at last another cloth of the same family.
func proposeThinner(x *Context, f *Finding) []Change {
	var out []Change
	for _, side := range []struct {
		key    string
		layers []plan.Layer
	}{{"over", x.K.Over.Layers}, {"under", x.K.Under.Layers}} {
		if f.Path() != "" && f.Path() != x.path(side.key) && !(side.key == "over" && plan.SameLayers(x.C.Over, x.C.Under)) {
			continue
		}
		names := make([]string, len(side.layers))
		count, cloths := map[string]int{}, 0
		for i := range side.layers {
			names[i] = side.layers[i].Layer.Name
			count[names[i]]++
			if side.layers[i].Layer.Cloth != nil {
				cloths++
			}
		}
		put := func(names []string, says string, cost float64) {
			with := append(x.G.Unsampled(x.C.Index), x.setNames(side.key, names)...)
			// Layers that both stacks share are thinned in both.
			if side.key == "over" && plan.SameLayers(x.C.Over, x.C.Under) && x.G.Stated(x.path("under")) {
				with = append(with, x.setNames("under", names)...)
			}
			out = append(out, Change{With: with, Says: says, Cost: cost})
		}
		seen := map[string]bool{}
		for i := range slices.Backward(side.layers) {
			l := &side.layers[i]
			if seen[names[i]] || len(names) < 2 {
				continue
			}
			seen[names[i]] = true
			less := slices.Delete(slices.Clone(names), i, i+1)
			switch {
			case l.Layer.Interfacing != nil:
				put(less, "leave the interfacing "+names[i]+" out there", 20)
			case count[names[i]] > 1 && cloths > 2: // two are a cloth and its facing
				put(less, "trim one layer of "+names[i]+" away there", 10)
			}
			if i == 0 || l.Layer.Cloth == nil {
				continue
			}
			for k, c := range x.G.Cloths {
				if t := plan.LayerOf(x.G, catalog.Layer{Cloth: c}); t.Thick < l.Thick {
					thin := slices.Clone(names)
					thin[i] = x.G.ClothNames[k]
					put(thin, "make the inner layer of "+thin[i]+" instead of "+names[i], 25+t.Thick.MM())
				}
			}
		}
		for i := range side.layers {
			l := &side.layers[i]
			if in := l.Layer.Interfacing; in != nil {
				out = append(out, proposeInterfacing(x, source.Join("interfacing", names[i]), func(n *catalog.Interfacing) bool {
					return n.Fixing == in.Fixing && plan.LayerOf(x.G, catalog.Layer{Interfacing: n}).Thick < l.Thick
				})...)
				break
			}
		}
		if cl := Shell(layersOf(side.layers)); cl != nil {
			out = append(out, proposeCloth(x, cl)...)
		}
	}
	return cheapest(out, 24)
}

func layersOf(ps []plan.Layer) []catalog.Layer {
	out := make([]catalog.Layer, len(ps))
	for i := range ps {
		out[i] = ps[i].Layer
	}
	return out
}

// proposeCloth offers thinner cloths of the same family.
func proposeCloth(x *Context, now *catalog.Cloth) []Change {
	name, thick := x.G.NameOf(now), plan.LayerOf(x.G, catalog.Layer{Cloth: now}).Thick
	if name == "" {
		return nil
	}
	var out []Change
	for _, c := range x.G.Catalog.Cloths {
		if t := plan.LayerOf(x.G, catalog.Layer{Cloth: c}).Thick; c.Kind == now.Kind && c.Name != now.Name && t < thick && t > 0 {
			out = append(out, Change{With: x.G.Replace("cloth", name, c.Name), Says: "make " + name + " of " + c.Name, Cost: 80 + (thick - t).MM()})
		}
	}
	return cheapest(out, 3)
}
