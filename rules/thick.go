package rules

import (
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/rules/plan"
)

// called is the place as a message names it.
func PlaceCalled(p *plan.Place) string {
	if p.Path == "clear" {
		return "the crossing of the " + p.Name
	}
	return "the " + p.Name
}

// placeBare is the place as a line begins with it.
func placeBare(p *plan.Place) string { return strings.TrimPrefix(PlaceCalled(p), "the ") }

// PlaceTrim says where to trim or grade first.
func PlaceTrim(p *plan.Place, u measure.Unit) string {
	return strings.NewReplacer("{quarter}", measure.Length(quarter).Text(u), "{eighth}", measure.Length(eighth).Text(u)).Replace(p.Trim)
}

// placePath is the path of the value that a thick place follows from.
func (x *Context) placePath(p *plan.Place) string {
	switch p.Path {
	case "clear":
		for i := range x.C.Run.Clears {
			if x.C.Run.Clears[i].Name == p.Name {
				return source.Item(x.path("run.clear"), i)
			}
		}
	case "":
		return x.path("over")
	}
	return x.path("run." + p.Path)
}

// guessPlace marks the thickness of a place that is an estimate.
func (x *Context) guessPlace(p *plan.Place) string {
	return known(x.K.Over.Sampled() && !p.Estimated, p.Estimated, p.Thick, p.Tol, x.U)
}

// placeThick is how thick a place lies, with its ± where it is an estimate.
func (x *Context) placeThick(p *plan.Place) Said { return x.estimate(p.Thick, p.Tol, p.Estimated) }

// ByHandPlace is said of a place that goes under no foot.
const ByHandPlace = "sew this place by hand"

var thickRules = []*Rule{
	{
		Name: "place-thick", Severity: Caution,
		Task:    TaskThick,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "the thickest places of all must go under the foot too",
		Figure:  "thickest place under the foot",
		Formula: "top of the band or the front edge: layers + every cloth once more; foot: the same with the hem folded in (twice where its raw edge is turned in); a turn-under adds two layers; fold of a flap: layers + allowances + the body; seam crossing: an allowance more in every cloth. Over the foot's lift: caution, with where to trim first (note where the extra lift clears it); pressed, trimmed and graded still over it: sew that place by hand",
		Why:     "The band's foot and top have twice the layers of the front between: there the machine jams, the needle bends and strikes, and the last hole is lost.",
		Sources: []string{
			"geometry: layers counted from the construction",
			"Apparel: Design, Textiles and Construction, 2012, p. 451: allowances graded from 1/4 in next to the outside to 1/8 in",
			"household machine service manual: foot raised 5.5 to 6.2 mm",
			"common practice, no source: the hem of the body is turned up and folded into the band; the allowance in a turned collar is trimmed to 1/4 in",
		},
		Ours:   "interfacing counted as trimmed out of the allowances; one layer of allowance left after trimming and grading; {over} over the lift is let pass",
		Limits: []plan.Threshold{plan.GradedLimit},
		Check: func(x *Context) {
			m := &x.G.Machine
			if !m.FootLift.Has() || len(x.K.Places) == 0 {
				return
			}
			p := &x.K.Places[0]
			lift := m.FootLift.V
			most := max(lift, m.FootLiftExtra.Or(0))
			if p.Thick <= lift || slices.ContainsFunc(x.stacks(), func(s namedStack) bool { return s.stack.Thick > most }) {
				return // the layers alone are too much: foot-lift speaks of that
			}
			have, need := x.ThinApart(p.Thick, lift)
			n := atMost(p.Thick, lift)
			if p.Graded > most+plan.GradedOver {
				x.report(Caution, whole(x.placePath(p)), n, "%s is %d layers of cloth, %s thick%s (%s), and the foot lifts %s; even pressed, trimmed and graded it is %s: %s, and "+ByHandPlace, PlaceCalled(p), p.Cloths, have, x.guessPlace(p), p.Says, need, x.sayThin(p.Graded), x.later(func(x *Context) string { return PlaceTrim(p, x.U) })).Line("%s %s, foot lifts %s: by hand", placeBare(p), x.placeThick(p), need)
				return
			}
			if p.Thick <= most {
				x.report(Note, whole(x.placePath(p)), n, "%s is %d layers of cloth, %s thick%s (%s), more than the foot lifts by hand, %s: use the extra lift or the knee lift, and %s", PlaceCalled(p), p.Cloths, have, x.guessPlace(p), p.Says, need, x.later(func(x *Context) string { return PlaceTrim(p, x.U) })).Line("%s at its thickest: use the extra or the knee lift", x.placeThick(p))
				return
			}
			x.report(Caution, whole(x.placePath(p)), n, "%s is %d layers of cloth, %s thick%s (%s), more than the foot lifts, %s: %s; pressed, that leaves %s. Turn the wheel by hand over it", PlaceCalled(p), p.Cloths, have, x.guessPlace(p), p.Says, need, x.later(func(x *Context) string { return PlaceTrim(p, x.U) }), x.sayThin(p.Graded)).Line("%s %s, foot lifts %s: trim", placeBare(p), x.placeThick(p), need)
		},
		Touches: []string{"closure.*.run.hem_under", "closure.*.run.clear.*.pressed"},
		Propose: func(x *Context, f *Finding) []Change {
			var out []Change
			if x.C.Run.HemUnder.Or(0) > 0 {
				out = append(out, Change{With: set(x, "run.hem_under", 0), Says: "overcast the hem's raw edge and do not turn it in", Cost: 2})
			}
			for i := range x.C.Run.Clears {
				if z := &x.C.Run.Clears[i]; z.Pressed == "one-side" {
					out = append(out, Change{With: set(x, catalog.Key("run", "clear", z.Name, "pressed"), "open"), Says: "press the " + z.Name + " open", Cost: 1})
				}
			}
			return out
		},
	},
	{
		Name: "place-needle", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNeedle | ReadsThread | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the needle for the bulkiest places",
		Formula: "where the thickest place, pressed and graded, is over {thick} and the layers of the hole are not, the needle is at least one size above the thin end of its range",
		Why:     "A needle chosen for the front between bends at the bottom of the band, strikes the plate and breaks: pieces fly.",
		Sources: []string{
			"household machine manual: thin needles in thick cloth may bend or break",
			"common ground of twelve published needle charts: one size up for more layers",
		},
		Ours:   "{thick} as the thickness that asks for a thicker needle",
		Limits: []plan.Threshold{plan.ThickStackLimit},
		Check: func(x *Context) {
			if len(x.K.Places) == 0 {
				return
			}
			p, n := &x.K.Places[0], &x.K.Needle
			if n.NM == 0 || p.Graded <= plan.ThickStack || max(x.K.Over.Pressed, x.K.Under.Pressed) > plan.ThickStack {
				return
			}
			want := n.ForThick()
			if n.NM >= want {
				return
			}
			sev, path := Note, x.at("needle")
			if n.Given {
				sev = Caution
			}
			x.report(sev, path, noLess(n.NM, want, "NM"), "%s is still %s thick when pressed and graded: check the needle clamp and change to %s before sewing over it", PlaceCalled(p), x.sayThin(p.Graded), want).Line("change to needle %s at %s, %s graded", want, PlaceCalled(p), x.sayThin(p.Graded))
		},
		Touches: []string{"closure.*.needle"},
		Propose: func(x *Context, f *Finding) []Change { return proposeNeedle(x) },
	},
}
