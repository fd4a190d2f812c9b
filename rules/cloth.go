package rules

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// Heat of the resins of fusible interfacings where the product does not say,
// °C: an interfacing maker's table.
var resinHeat = map[string][2]measure.Temperature{
	"polyamide":         {135, 135},
	"polyester":         {125, 125},
	"hdpe":              {155, 165},
	"polyvinyl acetate": {100, 100},
}

// FuseHeat says how grave it is to fuse with a resin that needs that heat,
// and whether there is anything to say at all.
func FuseHeat(resin measure.Temperature, l plan.Limit) (Severity, bool) {
	switch {
	case l.Fibre == "":
		return Note, true
	case resin >= max(l.Main, l.MainOther)+plan.SameHeat:
		return Conflict, true
	case resin >= l.Symbol-plan.HeatMargin:
		return Caution, true
	}
	return Note, false
}

// fuseBasis is what the heat of an interfacing rests on.
func (x *Context) fuseBasis(i int) plan.Basis {
	in := x.G.Interfacings[i]
	b := plan.Basis{Ground: plan.FigureGround(in.Fuse.From, &in.Entry), Key: x.interfacingPath(i, "fuse")}
	if !in.Fuse.Has() {
		b.Ground = plan.Ours
		if _, ok := resinHeat[in.Resin]; ok {
			b.Ground = max(plan.Published, plan.ListGround(&in.Entry, "resin"))
		}
	}
	return b
}

// fibreBasis is what it rests on how hot a cloth may be pressed: its shares of
// fibres, as the file or its entry has them, and what each of these stands.
func (x *Context) fibreBasis(j int, l *plan.Limit) plan.Basis {
	b := plan.Basis{Ground: plan.ListGround(&x.G.Cloths[j].Entry, "fibre"), Key: x.clothPath(j, "fibre")}
	return b.And(plan.Basis{Ground: l.Ground, Key: "iron of [[fibre]] " + l.MainFibre + " in a catalogue of your own"})
}

// FuseRange is the heat an interfacing needs, from and to.
func FuseRange(in *catalog.Interfacing) (lo, hi measure.Temperature) {
	if in.Fuse.Has() {
		return in.Fuse.V, in.Fuse.V
	}
	if r, ok := resinHeat[in.Resin]; ok {
		return r[0], r[1]
	}
	return plan.FuseLow, plan.FuseHigh
}

// Turns says whether the piece that a closure sits on is folded back on
// itself, so that its upper layer goes the longer way.
func Turns(c *catalog.Closure) bool { return c.Where == "flap" || c.Where == "collar" }

// HoldsPress says whether a fold of the cloth stays where it was pressed.
func HoldsPress(c *catalog.Cloth) bool { return plan.HoldsPress(c) }

// NoFuse says in a word why a cloth is not fused, "" if it may be.
func NoFuse(c *catalog.Cloth) string {
	switch {
	case c.Kind == "waxed-cotton":
		return "waxed: the wax melts under the iron and the resin will not hold"
	case c.Kind == "leather":
		return "leather: steam and heat harden it"
	case c.Surface == "looped":
		return "looped: the loops hold the resin off and are crushed"
	case c.Surface == "pile":
		return "a pile cloth: the iron crushes it"
	case c.Surface == "coated":
		return "coated: the coating softens and the resin will not hold"
	case c.Surface == "laminated":
		return "laminated: the heat lifts the membrane"
	case c.Surface == "quilted":
		return "quilted: the iron flattens the wadding"
	}
	return ""
}

// unfused is the first word of what NoFuse says, as it stands behind the name of a cloth.
func unfused(why string) string {
	is, _, _ := strings.Cut(why, ":")
	return is
}

// Shell is the outermost cloth of the layers, or nil.
func Shell(ls []catalog.Layer) *catalog.Cloth { return plan.Shell(ls) }

// Together says whether a closure has the interfacing on the cloth: the cloth
// that it lies directly under, or over where it is the outermost layer.
func Together(ls []catalog.Layer, in *catalog.Interfacing, cl *catalog.Cloth) bool {
	return plan.Together(ls, in, cl)
}

// supports runs do for each interfacing and each cloth it is put on, with the
// longest run of the closures that have them so.
func (x *Context) supports(do func(in, cl int, run measure.Length)) {
	for i, in := range x.G.Interfacings {
		for j, cl := range x.G.Cloths {
			run, found := measure.Length(0), false
			for k := range x.G.Closures {
				c := &x.G.Closures[k]
				if !Together(c.Over, in, cl) && !Together(c.Under, in, cl) {
					continue
				}
				found = true
				for s := range x.G.Sizes {
					long := c.Run.Length.At(s).V
					if p := &x.P.Closures[k]; p.Patch(s) { // it covers no more of the run
						long = min(long, p.PatchLength())
					}
					run = max(run, long)
				}
			}
			if found {
				do(i, j, run)
			}
		}
	}
}

func (x *Context) interfacingPath(i int, key string) string {
	return source.Join("interfacing", x.G.InterfNames[i]) + "." + key
}

// fusePath is where the heat of an interfacing comes from.
func (x *Context) fusePath(i int) string {
	if x.G.Interfacings[i].Fuse.From == catalog.Given {
		return x.interfacingPath(i, "fuse")
	}
	return x.interfacingPath(i, "use")
}

func (x *Context) clothPath(i int, key string) string {
	return source.Join("cloth", x.G.ClothNames[i]) + "." + key
}

// heat is a heat as a message says it, worked out only when it is printed.
func (x *Context) heat(t measure.Temperature) heatText { return heatText{t, x.U, false} }

// heatMost is a limit: rounded down.
func (x *Context) heatMost(t measure.Temperature) heatText { return heatText{t, x.U, true} }

type heatText struct {
	t    measure.Temperature
	u    measure.Unit
	most bool
}

// A heat is printed as the file or a maker has it, a limit as an iron is set.
func (h heatText) String() string {
	if h.most {
		return h.t.TextMost(h.u)
	}
	return h.t.TextGiven(h.u)
}

// For is a limit to write at a key.
func (h heatText) For(at place) bounded { return bound(h, h.t.C(), at).notOver() }

// Dots are the dots of an iron that stay within a limit, in words.
func Dots(t measure.Temperature) string {
	switch t.Dots() {
	case 0:
		return "below one dot"
	case 1:
		return "one dot"
	case 2:
		return "two dots"
	}
	return "three dots"
}

// atMostHeat are the numbers of a heat against its limit.
func atMostHeat(have, need measure.Temperature) Numbers {
	return noMore(have, need, "C")
}

var clothRules = []*Rule{
	{
		Name: "fuse-heat", Severity: Conflict,
		Lenient: []string{"same"},
		Rests:   []string{"cloth.*.fibre", "fibre.*.iron", "fibre.*.iron_other", "interfacing.*.fixing", "interfacing.*.fuse", "interfacing.*.resin"},
		Task:    TaskFuseTest,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "the cloth must stand the heat that the fusible needs",
		Figure:  "fusing heat",
		Formula: "heat of the resin ≤ ironing limit of the most delicate fibre of the cloth it is fused to: one dot {one}, two dots {two}, three dots {three}; over it by {same} or more, conflict, where that fibre makes up {blend} of the cloth or more, else the limit of the fibres that do so together counts; within {margin}, or over it but within another published table, or with less of that fibre, caution",
		Why:     "Fibres that soften under the iron go hard and shiny for good, or shrink and take the front with them. The sole of the iron must be hotter still than the glue line.",
		Sources: []string{
			"ISO 3758 care symbols, as the textile care association GINETEX words them",
			"iron maker's manual: a blend is set for the fibre that needs the least heat, 70 % synthetic with 30 % cotton",
			"R. Franco, forensic page on clothes irons, citing the NFPA Fire Protection Handbook: acetate 143 °C, nylon, acrylic and elastane 135 °C",
			"interfacing maker: polyamide resin about 135 °C, polyester about 125 °C, high-density polyethylene 155 to 165 °C",
			"page quoting a patent: polypropylene cloth crinkles from 100 °C and goes hard and shiny from 120 °C",
		},
		Others:  "One iron maker's dial puts viscose and silk at one dot. Old dials put wool at 450 °F and more: never use them as a limit. Makers print fusing heats from 110 to 175 °C: use the product's own figure (fuse).",
		Ours:    "{margin} as the margin; less than {same} apart, half of what heats are printed to, counts as the same heat; {coolest} to {hottest} where neither heat nor resin is given",
		Limits:  plan.HeatLimits,
		garment: true,
		Check: func(x *Context) {
			x.supports(func(i, j int, _ measure.Length) {
				in, cl := x.G.Interfacings[i], x.G.Cloths[j]
				if in.Fixing != "fusible" {
					return
				}
				l := plan.IronLimit(x.G.Catalog, cl.Fibre)
				lo, hi := FuseRange(in)
				name, on := x.G.InterfNames[i], x.G.ClothNames[j]
				if l.Fibre == "" {
					x.report(Note, whole(x.fusePath(i)), Numbers{}, "the fibres of %s are not given, so the heat of %s, %s, cannot be checked: fuse a scrap first", on, name, x.heat(hi)).Line("say the fibres of %s, or fuse %s to a scrap of it first", on, name)
					return
				}
				sev, speak := FuseHeat(lo, l)
				if lo != hi && sev != Conflict {
					// Not known closer: the hottest product is only a warning.
					if _, s := FuseHeat(hi, l); s {
						sev, speak = Caution, true
					}
				}
				if !speak {
					return
				}
				path := x.fusePath(i)
				n := atMostHeat(hi, l.Symbol)
				few := l.Fibre
				if l.Fibres != l.Fibre {
					few = "of " + on
				}
				switch {
				case sev == Conflict:
					x.report(sev, whole(path), atMostHeat(lo, l.Main).on(x.fuseBasis(i), x.fibreBasis(j, &l)), "%s fuses at %s, but the %s in %s stands no more than %s, %s: sew an interfacing in, or take one that fuses cooler", name, x.heat(lo), l.MainFibre, on, x.heatMost(l.Main).For(whole(x.interfacingPath(i, "fuse"))), Dots(l.Main)).Line("%s fuses at %s; the %s in %s stands %s", name, x.heat(lo), l.MainFibre, on, x.heatMost(l.Main))
				case !l.Covered() && lo == hi:
					f := x.report(sev, whole(path), n, "%s fuses at %s; by the care symbol the %s of %s in %s stands %s, %s. It is too little for the whole cloth to go by it: fuse a scrap through a press cloth and look for shine and shrinkage", name, x.heat(hi), Percent(l.Share), l.Fibres, on, x.heatMost(l.Symbol), Dots(l.Symbol))
					if hi == l.Symbol {
						f.Line("%s fuses at %s, all that %s %s takes: fuse a scrap", name, x.heat(hi), Percent(l.Share), few)
						break
					}
					f.Line("%s fuses at %s, %s %s takes %s: fuse a scrap", name, x.heat(hi), Percent(l.Share), few, x.heatMost(l.Symbol))
				case lo != hi:
					x.report(sev, whole(path), n, "the heat that %s needs is not given; fusibles take %s to %s, and the %s in %s stands %s, %s: look it up and write it as fuse", name, x.heat(lo), x.heat(hi), l.Fibre, on, x.heatMost(l.Symbol), Dots(l.Symbol)).Line("look up the heat of %s and write it as fuse: %s stands %s", name, on, x.heatMost(l.Symbol))
				case hi >= l.Symbol+plan.SameHeat:
					x.report(sev, whole(path), n, "%s fuses at %s; by the care symbol the %s in %s stands no more than %s, %s, by another published table %s: fuse a scrap through a press cloth and look for shine and shrinkage", name, x.heat(hi), l.Fibre, on, x.heatMost(l.Symbol), Dots(l.Symbol), x.heatMost(l.Other)).Line("%s fuses at %s, %s stands %s by its symbol", name, x.heat(hi), on, x.heatMost(l.Symbol))
				default:
					x.report(sev, whole(path), n, "%s fuses at %s, close to what the %s in %s stands, %s, %s: fuse a scrap first, through a press cloth", name, x.heat(hi), l.Fibre, on, x.heatMost(l.Symbol), Dots(l.Symbol)).Line("%s fuses at %s, %s stands %s: fuse a scrap", name, x.heat(hi), on, x.heatMost(l.Symbol))
				}
			})
		},
		Touches: anotherInterfacing,
		Propose: proposeSewnIn,
	},
	{
		Name: "fuse-surface", Severity: Caution,
		Task:    TaskFuseTest,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "looped, pile, coated and waxed cloths are not fused",
		Formula: "a fusible is not put on a looped, pile, coated, quilted or waxed cloth, nor on leather",
		Why:     "The iron crushes loops and pile, melts wax and coatings, and the resin holds on none of them: it lets go after the first wear.",
		Sources: []string{
			"sewing handbook as quoted: sew-in where pile or texture cannot take the iron",
			"National Instructional Media Institute, India, Dress Making theory, 2024, p. 130: crushing of pile, strike-through",
			"Threads magazine, 2007 and 2008: leather takes a fusible only on a test piece, dry, through a cloth",
			"from memory: wax melts at 50 to 70 °C",
		},
		garment: true,
		Check: func(x *Context) {
			x.supports(func(i, j int, _ measure.Length) {
				in, cl := x.G.Interfacings[i], x.G.Cloths[j]
				if in.Fixing != "fusible" {
					return
				}
				if why := NoFuse(cl); why != "" {
					x.report(Caution, whole(x.interfacingPath(i, "use")), Numbers{}, "%s is a fusible, but %s is %s; sew an interfacing in instead", x.G.InterfNames[i], x.G.ClothNames[j], why).Line("%s is %s: sew an interfacing in, do not fuse %s", x.G.ClothNames[j], x.later(func(*Context) string { return unfused(why) }), x.G.InterfNames[i])
				}
			})
		},
		Touches: anotherInterfacing,
		Propose: proposeSewnIn,
	},
	{
		Name: "press-setting", Severity: Note,
		Task:    NoTask,
		At:      AtTable,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "how hot to press, and through what",
		Formula: "the dots of the most delicate fibre where it makes up {bulk} of the cloth or more; else those of the bulk, and its own told beside them; one dot, {one}, without steam; below three dots, {three}, through a press cloth and from the wrong side. By its face: pile face down on a towel or its own pile; quilted from above with steam and no weight; fleece cool; coated, laminated and waxed hardly at all",
		Limits:  []plan.Threshold{plan.BulkLimit, plan.OneDotLimit, plan.ThreeDotsLimit},
		Why:     "A bare iron leaves shine on wool and synthetics before it does any good; pile, wadding and coatings do not come back.",
		Sources: []string{
			"ISO 3758 care symbols: one dot 110 °C, two dots 150 °C, three dots 200 °C",
			"iron maker's manual: 70 % synthetic with 30 % cotton, one dot and no steam; wool, silk and synthetics from the wrong side or through a cloth; velvet lightly, in one direction",
			"Every Woman's Encyclopaedia, Practical Lessons in Tailoring, about 1911: a wool coat is shaped with a damp cloth",
			"a sewing teacher's page on corduroy: over a towel or another piece of the cloth, with steam and little weight",
			"sewing pages: quilted cloth steamed all over without pressing down; fleece cool and through a cloth, or steam from above",
			"canvas merchant's catalogue, 2023: waxed canvas rolled rather than ironed; if ironed, low heat and several cloths",
			"common practice, no source: iron lowered to the synthetic setting, with a press cloth, for cloth with synthetic content",
		},
		Others:  "For leather four practices are printed, from never to the linen setting: dry, through a cloth, on a test piece.",
		garment: true,
		Check: func(x *Context) {
			for j, cl := range x.G.Cloths {
				if !x.Used(cl) {
					continue
				}
				l := plan.IronLimit(x.G.Catalog, cl.Fibre)
				by := PressedBy(cl)
				if by == pressFlat && (l.Fibre == "" || l.Symbol >= plan.NoPressCloth) {
					continue
				}
				name, path := x.G.ClothNames[j], x.clothPath(j, "fibre")
				if by == pressHardly {
					x.report(Note, whole(path), Numbers{}, "press %s hardly at all: %s", name, HowPressed(cl, l)).Line("%s", x.later(func(x *Context) string { return pressLine(name, cl, l, x.U) }))
					continue
				}
				x.report(Note, whole(path), Numbers{}, "press %s %s,%s", name, HowPressed(cl, l), x.later(func(x *Context) string { return PressHeat(cl, l, ", and a scrap first", x.U) })).Line("%s", x.later(func(x *Context) string { return pressLine(name, cl, l, x.U) }))
			}
		},
	},
	{
		Name: "shrink-apart", Severity: Caution,
		Task:    TaskShrink,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "interfacing and cloth must shrink alike",
		Figure:  "shrinkage apart over the run",
		Formula: "run × difference of their shrinkages ≤ {shows}; above it caution. Cut length for a finished length L at shrinkage s: L ÷ (1 − s)",
		Why:     "After the first steaming the layer that shrinks more pulls the front into bubbles, or the edge into waves.",
		Sources: []string{
			"a dressmaker's own test of hair canvas: a 5 in square lost 10 % across, and 5 % along when steamed dry",
			"a tricot maker and the American Sewing Guild: soak fusibles before cutting",
			"MIL-DTL-3738L, table I: wool uniform cloth may shrink 5.5 to 6.5 % along",
			"arithmetic: run × difference",
		},
		Others:  "The cloth trade allows ± 3 % for wovens and 1 % between a fused panel and its shell, from memory.",
		Ours:    "{shows} as the step that shows: so it is a caution, however much it is",
		Limits:  []plan.Threshold{plan.ShrinkShowsLimit},
		garment: true,
		Check: func(x *Context) {
			x.supports(func(i, j int, run measure.Length) {
				in, cl := x.G.Interfacings[i], x.G.Cloths[j]
				if !in.Shrink.Has() && !cl.Shrink.Has() {
					return
				}
				apart := plan.ShrinkApart(run, in.Shrink.Or(0), cl.Shrink.Or(0))
				if apart <= plan.ShrinkShows {
					return
				}
				path := x.interfacingPath(i, "shrink")
				if cl.Shrink.Or(0) > in.Shrink.Or(0) {
					path = x.clothPath(j, "shrink")
				}
				name, on := x.G.InterfNames[i], x.G.ClothNames[j]
				switch {
				case in.Shrink.Has() && cl.Shrink.Has():
					x.report(Caution, whole(path), atMost(apart, plan.ShrinkShows), "%s shrinks %s and %s %s: over %s they come %s apart. Shrink both before cutting, then write shrink = 0", name, Percent(in.Shrink.V), on, Percent(cl.Shrink.V), x.say(run), x.say(apart)).Line("%s shrinks %s, %s %s, %s apart: shrink both first", name, Percent(in.Shrink.V), on, Percent(cl.Shrink.V), x.say(apart))
				case in.Shrink.Has():
					x.report(Caution, whole(path), atMost(apart, plan.ShrinkShows), "%s shrinks %s, %s over the %s of the run: soak or steam it before cutting, then write shrink = 0", name, Percent(in.Shrink.V), x.say(apart), x.say(run)).Line("%s shrinks %s, %s over the run: shrink it first", name, Percent(in.Shrink.V), x.say(apart))
				default:
					x.report(Caution, whole(path), atMost(apart, plan.ShrinkShows), "%s shrinks %s, %s over the %s of the run, and the shrinkage of %s is not given: shrink both before cutting, then write shrink = 0", on, Percent(cl.Shrink.V), x.say(apart), x.say(run), name).Line("%s shrinks %s, %s over the run: shrink both first", on, Percent(cl.Shrink.V), x.say(apart))
				}
			})
		},
		Touches: []string{"cloth.*.shrink", "interfacing.*.shrink"},
		Propose: func(x *Context, f *Finding) []Change {
			var out []Change
			for _, n := range x.G.ClothNames {
				if g := x.G.ClothNamed(n); g.Shrink.Or(0) > 0 {
					out = append(out, Change{With: []catalog.With{catalog.Set(catalog.Key("cloth", n, "shrink"), 0)}, Says: "shrink " + n + " before cutting", Cost: 2})
				}
			}
			for _, n := range x.G.InterfNames {
				if g := x.G.InterfacingNamed(n); g.Shrink.Or(0) > 0 {
					out = append(out, Change{With: []catalog.With{catalog.Set(catalog.Key("interfacing", n, "shrink"), 0)}, Says: "shrink " + n + " before cutting", Cost: 1})
				}
			}
			if len(out) > 1 {
				both := Change{Says: "shrink all of them before cutting", Cost: 3}
				for _, c := range out {
					both.With = append(both.With, c.With...)
				}
				out = append(out, both)
			}
			sortChanges(out)
			return out
		},
	},
	{
		Name: "turn-cloth", Severity: Caution,
		Task:    NoTask,
		At:      AtTable,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "the upper layer of a flap or collar goes the longer way",
		Figure:  "upper layer cut larger by",
		Formula: "extra length of the upper layer = π × the distance of the two layers' middles, (outer + inner) ÷ 2 + what lies between, where they fold back on themselves; a turn given more than {short} below it: caution. A band folded from one piece needs one thickness for each fold instead: see band-extension",
		Why:     "Cut alike, the upper layer is too short to go round: the edge curls up and the under layer shows.",
		Sources: []string{
			"J. Barlup, Understand Turn-of-Cloth, Threads no. 131: 1/8 in off the outer edges of the under collar; heavier cloth needs more",
			"geometry: two layers turned through half a circle differ by π × their distance",
		},
		Others: "1/8 in, as printed, suits layers about 1 mm apart.",
		Ours:   "{short} short is let pass; always find it on a rolled sample of the real layers",
		Limits: []plan.Threshold{plan.TurnShortLimit},
		Check: func(x *Context) {
			if !Turns(x.C) {
				return
			}
			need := x.K.Over.Turn()
			if need == 0 {
				return
			}
			guess := ""
			if s := &x.K.Over; s.Estimated {
				guess = known(false, true, need, s.TurnTol(), x.U)
			}
			switch {
			case !x.C.Turn.Has() && x.C.Where == "collar" && x.K.Stand.Seam > quarter:
				under, outer, neck := plan.CollarSeams(x.K.Stand.Seam)
				x.report(Note, x.at("turn"), Numbers{}, "cut the upper collar about %s larger than the under one%s, for the turn of the cloth. In thin cloth seams of %s all round the under collar, and %s at the outer edges and %s at the neck of the upper one, make %s of it: roll a sample of the real layers to see", x.say(need.RoundNearest(plan.HoleStep(x.U))), guess, x.say(under), x.say(outer), x.say(neck), x.say(plan.CollarTurn)).Line("cut the upper collar about %s larger, for the turn of the cloth", x.say(need.RoundNearest(plan.HoleStep(x.U))))
			case !x.C.Turn.Has():
				x.report(Note, x.at("turn"), Numbers{}, "cut the upper layer of the %s about %s larger than the under one%s, for the turn of the cloth: roll a sample of the real layers to see", x.C.Where, x.say(need.RoundNearest(plan.HoleStep(x.U))), guess).Line("cut the upper layer about %s larger, for the turn of the cloth", x.say(need.RoundNearest(plan.HoleStep(x.U))))
			case x.C.Turn.V < need-plan.TurnShort:
				have, want := x.say(x.C.Turn.V), x.say(need.RoundNearest(plan.HoleStep(x.U)))
				x.report(Caution, x.at("turn"), atLeast(x.C.Turn.V, need), "the upper layer of the %s is cut %s larger, but in this cloth it takes about %s to go round%s: roll a sample of the real layers", x.C.Where, have, want.For(x.at("turn")), guess).Line("cut the upper layer about %s larger, not %s", want, have)
			}
		},
		Touches: []string{"closure.*.turn"},
		Propose: func(x *Context, f *Finding) []Change {
			need := x.K.Over.Turn().RoundNearest(plan.HoleStep(x.U))
			return []Change{{With: x.setLength("turn", need), Says: "cut the upper layer " + x.up(need) + " larger", Cost: (need - x.C.Turn.V).MM()}}
		},
	},
	{
		Name: "block-ease", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a pattern drafted for other cloth fits otherwise",
		Formula: "from a block for medium cloth: very thin or elastic cloth {thin ease} less a side, heavy melton and velveteen {heavy ease} more",
		Why:     "Thick cloth takes up room inside: a front that met at the centre line no longer does, and the stand is used up.",
		Sources: []string{"W. D. F. Vincent, Vincent's Systems of Cutting All Kinds of Tailor-Made Garments, early 20th century"},
		Ours:    "heavy is coat cloth from {heavy coat} and other cloth from {heavy}; thin is under {thin}",
		Limits:  plan.BlockLimits,
		garment: true,
		Check: func(x *Context) {
			if x.G.Block == "" || len(x.G.Closures) == 0 {
				return
			}
			_, cloth := plan.ClassOf(&x.P.Closures[0])
			if cloth == nil || !cloth.Weight.Has() {
				return
			}
			is := blockClass(cloth)
			switch ease := BlockEase(x.G.Block, is); {
			case ease > 0:
				x.report(Note, whole("block"), Numbers{}, "the block is for %s cloth and this is %s: allow about %s more a side, and see that the centre lines still meet", x.G.Block, is, x.say(ease)).Line("the block is for %s cloth, this is %s: %s more a side", x.G.Block, is, x.say(ease))
			case ease < 0:
				x.report(Note, whole("block"), Numbers{}, "the block is for %s cloth and this is %s: take about %s off a side", x.G.Block, is, x.say(-ease)).Line("the block is for %s cloth, this is %s: %s less a side", x.G.Block, is, x.say(-ease))
			}
		},
	},
	{
		Name: "fold-hold", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "a fold that will not stay pressed must be stitched",
		Formula: "the cloth of the edge holds a press (holds_press), or the edge is top-stitched (stand.topstitch), or the row that holds a zip holds it",
		Why:     "In fleece, coated cloth, leather and deep loops a pressed edge rolls open again, and the centre line walks with it.",
		Sources: []string{
			"common practice, no source: baste the fold, then top-stitch 1/8 in from the edge",
			"a trade pattern maker and sewing guides: edge-stitch 1/16 to 1/8 in, top-stitch about 1/4 in",
		},
		Check: func(x *Context) {
			s := &x.C.Stand
			if s.Construction != "folded" && s.Construction != "band" && s.Construction != "faced" || s.TopstitchInset.Has() || x.K.Zip.Needed {
				return
			}
			if cl := plan.Folded(x.C.Over); cl == nil || HoldsPress(cl) {
				return
			}
			x.report(Caution, x.at("stand.construction"), Numbers{}, "the fold at the edge will not stay pressed in %s: %s it, then stitch it %s from the edge", x.G.NameOf(plan.Folded(x.C.Over)), holdFold(plan.Folded(x.C.Over)), x.say(UsualTopstitch(x.U))).Line("%s holds no pressed fold: top-stitch the edge", x.G.NameOf(plan.Folded(x.C.Over)))
		},
		Touches: []string{"closure.*.stand.topstitch"},
		Propose: func(x *Context, f *Finding) []Change {
			l := UsualTopstitch(x.U)
			return []Change{{With: x.setLength("stand.topstitch", l), Says: "top-stitch " + x.len(l) + " from the edge", Cost: 1}}
		},
	},
	{
		Name: "holes-stay", Severity: Note,
		Task:    TaskCut,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "where needle holes stay, nothing is pinned, basted or sewn twice",
		Formula: "leather, coated and laminated cloth: clips or narrow tape, pins only inside the seam allowance, one row, its ends tied. Waxed cotton: clips, no pins; its holes close when it is warmed",
		Why:     "A wrong row cannot be taken out unseen, and a row of holes tears like a stamp.",
		Sources: []string{
			"a sewing teacher's page on leather-like cloth, 2018: pins in the seam allowance only, clips or tape, no back-stitch; a wrong row shows",
			"Threads magazine, 2008: leather held with small clips, no back-stitch, no second row over the first",
			"canvas merchant's catalogue, 2023: waxed canvas clipped, not pinned; holes close again when warmed",
		},
		garment: true,
		Check: func(x *Context) {
			for j, cl := range x.G.Cloths {
				if !x.Used(cl) || !plan.NoBasting(cl) {
					continue
				}
				name, path := x.G.ClothNames[j], whole(source.Join("cloth", x.G.ClothNames[j]))
				if plan.HolesStay(cl) {
					x.report(Note, path, Numbers{}, "needle holes stay in %s: hold it with clips or narrow tape, pin only inside the seam allowances, and sew each line once, its ends tied, not stitched back", name).Line("needle holes stay in %s: clips, no pins, and each line sewn once", name)
				} else {
					x.report(Note, path, Numbers{}, "hold %s with clips, not pins: pin holes show in the wax until it is warmed", name).Line("hold %s with clips: pin holes show in the wax", name)
				}
			}
		},
	},
	{
		Name: "seam-seal", Severity: Note,
		Task:    TaskSeal,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a needle hole in coated or laminated cloth leaks",
		Formula: "coated or laminated shell, wax and softshell apart: seams taped with tape of {tape}, iron-on tape at a heat tried on a scrap, as it melts near {melts}, through baking paper; snaps and the like with a patch inside",
		Limits:  []plan.Threshold{plan.SeamTapeLimit, plan.TapeMeltsLimit},
		Why:     "Every stitch and every post is a way in for the rain. Decoration sewn on afterwards spoils a laminated shell.",
		Sources: []string{
			"police uniform specification, 2019: seam tape 7/8 in on three layers, 1 in on a lining; no water in 3 minutes at 3 psi (20.7 kPa), method 5514 of Federal Standard 191",
			"a sewer's trial of iron-on seam tape, 2018: melts near 150 °C; through baking paper it held, through cloth it did not",
			"a maker's page: few tapes stay down above 50 to 60 °C in use; a sailing magazine's test: spray proofing can ruin the tape's glue",
			"a buyer's guide to outerwear: what is sewn on a laminated shell afterwards makes it leak",
			"from memory: a backing patch inside a snap, a sealant under its cap",
		},
		garment: true,
		Check: func(x *Context) {
			for j, cl := range x.G.Cloths {
				if !x.Used(cl) || !plan.Proofed(cl) || !x.outermost(cl) {
					continue
				}
				set, patch := "", ""
				for i := range x.G.Closures {
					if c := &x.G.Closures[i]; SetWithTool(&c.Notion) && set == "" {
						set = SealSet + text.One(c.Notion.Kind) + " with a patch of cloth behind it inside; it leaks like a needle hole"
						patch = ", a patch behind each " + text.One(c.Notion.Kind)
					}
				}
				x.report(Note, whole(source.Join("cloth", x.G.ClothNames[j])), Numbers{}, "%s leaks at every needle hole: tape the seams inside with seam tape %s wide; try iron-on tape on a scrap, through baking paper, with the iron below wool%s", x.G.ClothNames[j], x.say(plan.SeamTape), set).Line("tape the seams of %s, %s wide%s", x.G.ClothNames[j], x.say(plan.SeamTape), patch)
			}
		},
	},
	{
		Name: "hole-frays", Severity: Caution,
		Task:    TaskSample,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the cut edge of a hole in fraying cloth must be held",
		Formula: "a worked hole in a cloth that frays: hole_finish = twice, corded, sealed or overcast; loose coatings caution, other cloths a note",
		Why:     "Threads work out from between the stitches, first in loose coatings, and the hole grows.",
		Sources: []string{
			"common practice, no source: sew the hole twice over, or over a cord; seal the cut on a scrap first; overcast the layers before",
			"K. H. Watson, Textiles and Clothing, 1907: overcast the edge of a hole before working it",
		},
		Ours: "which families count as loose: tweed, boucle, brushed coatings",
		Check: func(x *Context) {
			h := &x.K.Hole
			if !h.Needed || h.Kind == "loop" || h.Kind == "bound" || x.C.Finish != "" {
				return
			}
			var frays *catalog.Cloth
			for i := range x.C.Over {
				cl := x.C.Over[i].Cloth
				if cl == nil || !cl.Frays.Or(false) {
					continue
				}
				if frays == nil || loose(cl) && !loose(frays) {
					frays = cl
				}
			}
			switch {
			case frays == nil:
			case h.HoleByHand():
				x.report(Note, x.at("hole_finish"), Numbers{}, "%s frays: overcast the cut edges of each hole together before you work it", x.G.NameOf(frays)).Line("%s frays: overcast the edges of each hole before you work it", x.G.NameOf(frays))
			case loose(frays):
				x.report(Caution, x.at("hole_finish"), Numbers{}, "%s is loose and frays: overcast the layers together first, sew the hole twice over or over a cord, and seal the cut; try it on a sample", x.G.NameOf(frays)).Line("%s is loose and frays: overcast first, sew each hole twice", x.G.NameOf(frays))
			default:
				x.report(Note, x.at("hole_finish"), Numbers{}, "%s frays: sew the hole twice over, or over a cord, or seal the cut on a scrap first", x.G.NameOf(frays)).Line("%s frays: sew each hole twice, or over a cord", x.G.NameOf(frays))
			}
		},
		Touches: []string{"closure.*.hole_finish", "closure.*.hole"},
		Propose: func(x *Context, f *Finding) []Change {
			if x.K.Hole.HoleByHand() {
				return nil
			}
			return []Change{
				{With: set(x, "hole_finish", "twice"), Says: "sew each hole twice over", Cost: 1},
				{With: set(x, "hole_finish", "corded"), Says: "sew the holes over a cord", Cost: 2},
				{With: set(x, "hole", "bound"), Says: "make bound holes", Cost: 20},
			}
		},
	},
	{
		Name: "hole-pile", Severity: Caution,
		Task:    TaskSample,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "no worked holes in fur fabric",
		Formula: "a hole through fur fabric or another deep pile is a loop, or bound, and not worked by machine or by hand",
		Why:     "The pile is caught in the stitches and the foot stalls on it; the knit beneath gives at every buttoning.",
		Sources: []string{
			"extension leaflet, Sewing on Today's Fabrics: fake fur: worked holes avoided",
			"fabric sewing guide on fur: closed with large hooks, covered snaps, loops, toggles or a zip, or with faced holes",
		},
		Check: func(x *Context) {
			h := &x.K.Hole
			if !h.Needed || h.Kind == "loop" || h.Kind == "bound" {
				return
			}
			for i := range x.C.Over {
				if cl := x.C.Over[i].Cloth; cl != nil && cl.Kind == "pile" {
					x.report(Caution, x.at("hole"), Numbers{}, "%s has a deep pile: avoid worked holes in it; take loops, large hooks, covered snaps or toggles, or make bound holes", x.G.NameOf(cl)).Line("%s has a deep pile: no worked holes, take loops or hooks", x.G.NameOf(cl))
					return
				}
			}
		},
		Touches: []string{"closure.*.hole"},
		Propose: func(x *Context, f *Finding) []Change {
			return []Change{{With: set(x, "hole", "bound"), Says: "make bound holes", Cost: 20}}
		},
	},
	{
		Name: "hole-stretch", Severity: Caution,
		Task:    TaskSample,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "nothing may stretch along the hole",
		Formula: "a cloth that stretches along the hole has an interfacing under it that does not; a knit interfacing, or one that stretches every way, does not stretch along the hole. A strip is cut along the goods, so its crosswise stretch runs along a hole across the edge",
		Why:     "The hole ripples under the foot and grows with every buttoning.",
		Sources: []string{
			"tricot maker: a tricot fusible stretches across; to stop stretch cut the strip lengthwise",
			"Apparel: Design, Textiles and Construction, 2012, p. 454: woven interfacing on the grain of the garment piece, all-bias nonwovens stretch every way",
			"common practice, no source: the firm way along the hole, or a small patch turned a quarter round under each hole",
		},
		Check: func(x *Context) {
			h := &x.K.Hole
			if !h.Needed || h.Kind == "loop" {
				return
			}
			stretchy, soft, firm := x.stretchyAlong(), (*catalog.Layer)(nil), false
			for i := range x.C.Over {
				l := &x.C.Over[i]
				switch {
				case l.Cloth != nil:
				case stretchAlong(l.Interfacing.Stretch, h.Direction):
					soft = cmp.Or(soft, l)
				default:
					firm = true
				}
			}
			switch {
			case firm, x.bare(): // interfacing-none asks for a firm one
			case soft != nil:
				if stretchy == nil && soft.Interfacing.Kind != "knit" && soft.Interfacing.Stretch != "both" {
					return // the crosswise yarns of a weft insertion hold enough
				}
				x.report(Caution, x.at("over"), Numbers{}, "%s gives along the hole: cut the strip the other way of the goods, or fuse a small patch turned a quarter round under each hole", soft.Name).Line("the strip of %s gives along the hole: cut it the other way", soft.Name)
			case stretchy != nil:
				x.report(Caution, x.at("over"), Numbers{}, "%s stretches along the hole and nothing holds it: put an interfacing under it that does not stretch that way", x.G.NameOf(stretchy)).Line("%s stretches along the hole: put firm interfacing under it", x.G.NameOf(stretchy))
			}
		},
		Touches: anotherInterfacing,
		Propose: func(x *Context, f *Finding) []Change {
			name, in := plan.InterfacingOf(x.C.Over)
			if in == nil {
				return nil
			}
			var out []Change
			for _, c := range x.G.Catalog.Interfacings {
				if c.Fixing == in.Fixing && c.Kind != "stay-tape" && !stretchAlong(c.Stretch, x.K.Hole.Direction) && c.Weight.Has() {
					out = append(out, Change{With: x.G.Replace("interfacing", name, c.Name), Says: "use " + c.Name, Cost: 2 + math.Abs(c.Weight.V.GSM()-in.Weight.V.GSM())/10})
				}
			}
			return cheapest(out, 6)
		},
	},
	{
		Name: "care-limit", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "every part must stand the cleaning of the whole",
		Formula: "the care of the garment (care) against the resin of each fusible, polyamide being washed at {washes} at most, the shrinkage of each cloth, wool or hair of {woolly} or more, wax and leather",
		Limits:  []plan.Threshold{plan.PolyamideLimit, plan.WoolLimit},
		Why:     "What cleans the shell lets the glue go, shrinks the canvas or washes the wax out. The limit of the garment is that of its weakest part.",
		Sources: []string{
			"Apparel: Design, Textiles and Construction, 2012, p. 454, and Washington State University Extension EM014: interfacing, lining and trim take the garment's care",
			"clothing-technology page on resins: polyamide for dry cleaning, its high-temperature kinds also wash at 60 °C; polyvinyl acetate is not dry-cleanable",
			"16 CFR 423.1(c): dry cleaning may tumble at up to 71 °C and steam",
			"from memory: waxed cotton is wiped, never washed or dry-cleaned",
		},
		garment: true,
		Check: func(x *Context) {
			if x.G.Care == "" {
				return
			}
			wash := x.G.Care != "dry-clean" && x.G.Care != "wipe"
			for i, in := range x.G.Interfacings {
				if !x.Supported(in) || in.Fixing != "fusible" {
					continue
				}
				switch {
				case x.G.Care == "dry-clean" && in.Resin == "polyvinyl acetate":
					x.report(Caution, whole(x.interfacingPath(i, "use")), Numbers{}, "%s has a resin that dry cleaning dissolves: take a polyamide or polyester one, or sew it in", x.G.InterfNames[i]).Line("dry cleaning dissolves the resin of %s: take another", x.G.InterfNames[i])
				case wash && in.Resin == "polyvinyl acetate":
					x.report(Caution, whole(x.interfacingPath(i, "use")), Numbers{}, "%s has a resin that stands little washing: take one of polyester or polyethylene, or sew it in", x.G.InterfNames[i]).Line("the resin of %s stands little washing: take one that washes", x.G.InterfNames[i])
				case wash && in.Resin == "polyamide":
					x.report(Caution, whole(x.interfacingPath(i, "use")), Numbers{}, "%s has a polyamide resin, made for dry cleaning; only some kinds wash, to %s: ask for one, or take one of polyester or polyethylene", x.G.InterfNames[i], x.heatMost(plan.PolyamideWash)).Line("%s (polyamide) may not wash: ask, or take one that washes", x.G.InterfNames[i])
				}
			}
			for j, cl := range x.G.Cloths {
				if !x.Used(cl) {
					continue
				}
				name := x.G.ClothNames[j]
				switch {
				case x.G.Care != "wipe" && cl.Kind == "waxed-cotton":
					x.report(Caution, whole("care"), Numbers{}, "%s is waxed and is only wiped clean: washing or dry cleaning takes the wax out", name).Line("%s is waxed: only wipe it, washing takes the wax out", name)
				case x.G.Care != "wipe" && cl.Kind == "leather":
					x.report(Caution, whole("care"), Numbers{}, "%s is leather: it is wiped, or goes to a leather cleaner", name).Line("%s is leather: wipe it, or take it to a leather cleaner", name)
				case wash && cl.Fibre["wool"]+cl.Fibre["hair"] >= plan.WoolShare && !(cl.Shrink.Has() && cl.Shrink.V == 0):
					x.report(Caution, whole("care"), Numbers{}, "%s is wool: wash a measured square first, shrink all the cloth before cutting, and then write shrink = 0", name).Line("%s is wool: shrink all of it before cutting", name)
				case wash && cl.Shrink.Or(0) > 0:
					x.report(Caution, whole("care"), Numbers{Have: cl.Shrink.V, Need: 0, Margin: -cl.Shrink.V, Unit: "%", Compared: true}, "%s shrinks %s: wash it before cutting, and then write shrink = 0", name, Percent(cl.Shrink.V)).Line("%s shrinks %s: wash it before cutting", name, Percent(cl.Shrink.V))
				}
			}
		},
		Touches: slices.Concat(anotherInterfacing, []string{"care"}),
		Propose: func(x *Context, f *Finding) []Change {
			wash := x.G.Care != "dry-clean" && x.G.Care != "wipe"
			out := proposeInterfacing(x, f.Path(), func(n *catalog.Interfacing) bool {
				return n.Weight.Has() && n.Weight.V <= x.heaviest() && (n.Fixing == "sewn" || n.Resin != "polyvinyl acetate" && n.Resin != "" && !(wash && n.Resin == "polyamide"))
			})
			return append(out, Change{With: []catalog.With{catalog.Set("care", "dry-clean")}, Says: "have it dry-cleaned", Cost: 25}, Change{With: []catalog.With{catalog.Set("care", "wipe")}, Says: "only wipe it clean", Cost: 28})
		},
	},
}

// outermost says whether any closure has the cloth as its outermost layer.
func (x *Context) outermost(cl *catalog.Cloth) bool {
	for i := range x.G.Closures {
		if Shell(x.G.Closures[i].Over) == cl {
			return true
		}
	}
	return false
}

// Percent is a share as a message says it.
func Percent(p float64) string { return measure.Percent(p).String() }

// UsualTopstitch is 1/8 in, common practice.
func UsualTopstitch(u measure.Unit) measure.Length {
	if u.Is(measure.In) {
		return eighth
	}
	return 3 * mm
}

// The ways of pressing, by the face of a cloth.
const (
	pressFlat   = "flat"
	pressPile   = "pile"
	pressLofty  = "lofty"
	pressFleece = "fleece"
	pressHardly = "hardly"
)

// PressedBy is the way a cloth is pressed.
func PressedBy(c *catalog.Cloth) string {
	switch {
	case c.Kind == "waxed-cotton", c.Kind == "leather", c.Surface == "coated", c.Surface == "laminated":
		return pressHardly
	case c.Surface == "pile", c.Surface == "looped":
		return pressPile
	case c.Surface == "quilted", c.Kind == "wadding":
		return pressLofty
	case c.Kind == "fleece":
		return pressFleece
	}
	return pressFlat
}

// NoIron says whether a cloth is folded without an iron.
func NoIron(c *catalog.Cloth) bool { return PressedBy(c) == pressHardly && c.Kind != "leather" }

// Steamed says whether a cloth is steamed from above and never pressed.
func Steamed(c *catalog.Cloth) bool { return PressedBy(c) == pressLofty }

// Hardly says whether a cloth is pressed hardly at all.
func Hardly(c *catalog.Cloth) bool { return PressedBy(c) == pressHardly }

// HowPressed says how a cloth with that limit is pressed, its heat apart.
func HowPressed(c *catalog.Cloth, l plan.Limit) string {
	by := PressedBy(c)
	if dry := l.Fibre != "" && l.Pressed() && l.Symbol <= plan.NoSteam; dry {
		switch by {
		case pressPile:
			return "face down on a towel or on another piece of its own pile, with little weight"
		case pressLofty:
			return "from above, the iron held off it"
		case pressFleece:
			return "through a cloth"
		}
	}
	switch by {
	case pressPile:
		return "face down on a towel or on another piece of its own pile, with steam and little weight"
	case pressLofty:
		return "from above, with steam and no weight: do not set the iron down"
	case pressFleece:
		return "through a cloth, or with steam from above and no weight"
	case pressHardly:
		switch {
		case c.Kind == "leather":
			return "if at all, dry, cool and through a press cloth, on a scrap first"
		case c.Kind == "waxed-cotton":
			return "wax melts. Crease folds with a bone folder or a seam roller and stitch them; if it must be ironed, cool and through several cloths"
		}
		return "never on the " + map[bool]string{true: "membrane", false: "coating"}[c.Surface == "laminated"] + ". Crease folds with a bone folder or a seam roller and stitch them"
	}
	return "through a press cloth, from the wrong side"
}

// PressHeat says how hot a cloth is pressed, and what its fibres forbid; first
// is what to do before it is pressed beyond that, where it is.
func PressHeat(c *catalog.Cloth, l plan.Limit, first string, u measure.Unit) string {
	switch {
	case l.Fibre == "":
		return ", as hot as a scrap stands"
	case !l.Pressed():
		steam := " with steam"
		if strings.Contains(HowPressed(c, l), "steam") {
			steam = ""
		}
		why := "as tailors do"
		if l.BulkFibre != "wool" { // no tailor's cloth
			why = "for its " + l.BulkFibre
		}
		return fmt.Sprintf("%s at %s at most (%s), %s%s: the care symbol of the %s of %s in it allows only %s, %s", steam, l.Bulk.TextMost(u), Dots(l.Bulk), why, first, Percent(l.Share), l.Fibres, l.Symbol.TextMost(u), Dots(l.Symbol))
	case l.Symbol <= plan.NoSteam:
		return fmt.Sprintf(" at %s at most (%s), for its %s: no steam", l.Symbol.TextMost(u), Dots(l.Symbol), l.Fibre)
	}
	return fmt.Sprintf(" at %s at most (%s), for its %s", l.Symbol.TextMost(u), Dots(l.Symbol), l.Fibre)
}

// stretchyAlong is the first cloth over a sewn hole that stretches along it, or
// nil.
func (x *Context) stretchyAlong() *catalog.Cloth {
	if h := &x.K.Hole; h.Needed && h.Kind != "loop" {
		for i := range x.C.Over {
			if cl := x.C.Over[i].Cloth; cl != nil && stretchAlong(cl.Stretch, h.Direction) {
				return cl
			}
		}
	}
	return nil
}

// SealSet begins the sentence of seam-seal that is about what is set in the
// cloth, and belongs where it is set.
const SealSet = ". Set each "

// pressLine says in one line how a cloth with that limit is pressed.
func pressLine(name string, c *catalog.Cloth, l plan.Limit, u measure.Unit) string {
	steam, most, through := true, "", "through a cloth"
	if name == "cloth" {
		through = "through another"
	}
	switch {
	case l.Fibre == "":
		most = ", try the heat on a scrap first"
	case !l.Pressed():
		most = ", try " + l.Bulk.TextMost(u) + " on a scrap first"
	default:
		steam = l.Symbol > plan.NoSteam
		most = ", " + l.Symbol.TextMost(u) + " at most"
		if !steam {
			most += ", no steam"
		}
	}
	switch PressedBy(c) {
	case pressPile:
		return "press " + name + " face down on a towel" + most
	case pressLofty:
		if steam {
			return "steam " + name + " from above, no weight" + most
		}
		return "press " + name + " from above, iron held off" + most
	case pressFleece:
		return "press " + name + " " + through + most
	case pressHardly:
		if c.Kind == "leather" {
			return "press " + name + " dry and cool, " + through + ", a scrap first"
		}
		return "do not iron " + name + ": crease folds with a bone folder and stitch them"
	}
	return "press " + name + " " + through + ", wrong side" + most
}

// holdFold says how a fold is held until it is stitched.
func holdFold(c *catalog.Cloth) string {
	if plan.NoBasting(c) {
		return "clip or tape"
	}
	return "baste"
}

// loose says whether a cloth is so loose that a cut edge falls apart.
func loose(c *catalog.Cloth) bool {
	return c.Kind == "loose-coating" || c.Kind == "woollen-brushed" || c.Surface == "looped"
}

// stretchAlong says whether a stretch of the goods runs along a hole: goods
// are cut with their length along the front.
func stretchAlong(stretch, direction string) bool {
	return stretch == "both" || stretch == direction
}

// Supported says whether any closure has the interfacing among its layers.
func (x *Context) Supported(in *catalog.Interfacing) bool {
	for i := range x.G.Closures {
		for _, ls := range [...][]catalog.Layer{x.G.Closures[i].Over, x.G.Closures[i].Under} {
			for k := range ls {
				if ls[k].Interfacing == in {
					return true
				}
			}
		}
	}
	return false
}

// heaviest is the weight of the heaviest cloth, 0 where none is known.
func (x *Context) heaviest() measure.AreaWeight {
	var most measure.AreaWeight
	for j := range x.G.Cloths {
		if w := x.G.Cloths[j].Weight; w.Has() && x.Used(x.G.Cloths[j]) {
			most = max(most, w.V)
		}
	}
	return most
}

// proposeSewnIn offers cooler fusibles and sewn-in interfacings in place of
// the one that the finding speaks of.
func proposeSewnIn(x *Context, f *Finding) []Change {
	for i, name := range x.G.InterfNames {
		if f.Path() != x.interfacingPath(i, "fuse") && f.Path() != x.interfacingPath(i, "use") {
			continue
		}
		now := x.G.Interfacings[i]
		heaviest := max(now.Weight.Or(0), x.heaviest())
		var out []Change
		for _, c := range x.G.Catalog.Interfacings {
			if c.Name == now.Name || c.Kind == "stay-tape" || !c.Weight.Has() || c.Weight.V > heaviest {
				continue
			}
			cost := 3 + math.Abs(c.Weight.V.GSM()-now.Weight.V.GSM())/20
			with := x.G.Replace("interfacing", name, c.Name)
			switch {
			case c.Fixing == "sewn":
				out = append(out, Change{With: with, Says: "sew in " + c.Name, Cost: cost})
			case f.Rule == "fuse-heat" && c.Fuse.Has() && now.Fuse.Has() && c.Fuse.V < now.Fuse.V:
				if now.Fuse.From == catalog.Given {
					continue // its own heat would stay
				}
				out = append(out, Change{With: with, Says: "use " + c.Name + ", which fuses at " + c.Fuse.V.TextGiven(x.U), Cost: cost - 1})
			}
		}
		return cheapest(out, 8)
	}
	return nil
}

// blockEase is the ease a side of each class over a block for medium cloth.
var blockEase = map[string]measure.Length{"thin": -plan.BlockThinEase, "medium": 0, "heavy": plan.BlockHeavyEase}

// BlockEase is how much a side of the garment grows, or shrinks where it is
// negative, when a block drafted for one class of cloth (thin, medium, heavy)
// is cut in another.
func BlockEase(block, cloth string) measure.Length { return blockEase[cloth] - blockEase[block] }

// blockClass is the class of a cloth for BlockEase.
func blockClass(c *catalog.Cloth) string {
	switch w := c.Weight.V; {
	case w < plan.BlockThin:
		return "thin"
	case w >= plan.BlockHeavyCoat || w >= plan.BlockHeavy && !plan.CoatKinds[c.Kind]:
		return "heavy"
	}
	return "medium"
}
