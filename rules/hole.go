package rules

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

var holeRules = []*Rule{
	{
		Name: "hole-short", Severity: Conflict,
		Rests: []string{"closure.*.hole", "closure.*.hole_length", "closure.*.lap", "closure.*.measured", "closure.*.notion"},
		Task:  NoTask,
		Reads: ReadsNotion | ReadsInterfacing, // another takes the sample out
		Room: func(x *Context) Numbers {
			// A hole that is worked out always passes: there is nothing to compare.
			if h := &x.K.Hole; h.Needed && h.Kind != "loop" && (h.Given || h.Fixed) {
				return atLeast(h.Length, h.Passing)
			}
			return Numbers{}
		},
		Title:   "the button must go through its hole",
		Figure:  "hole",
		Formula: "flat: diameter + thickness; domed: (diameter + arc) ÷ 2; ball: 1.571 × diameter; square: diagonal + thickness; toggle: half width + shorter end + thickness; tack button: its head as domed, the hub under it not counted; any shape: half the measured girth, which wins; and over all of them the cut that the button went through on a sample (measured.hole_length)",
		Why:     "A slit of length L in cloth that does not stretch opens to a girth of 2 L. Anything larger does not go through.",
		Sources: []string{
			"Extension Bulletin 576, Buttons and Buttonholes, 1965: diameter + thickness",
			"Nebraska 4-H Clothing Leaflet 9, 1965: diameter + thickness",
			"geometry: half the girth of the section that goes through",
			"New Mexico State University Guide C-231: half of the tape round the widest part",
		},
		Ours:   "a hole_rule that the file names is a published rule: where the button does not go through by the figures it is a caution, and the sample decides",
		Others: "hole_rule = \"plus-eighth\" (diameter + 1/8 in, sewing handbooks), \"plus-thickness-eighth\" (diameter + thickness + 1/8 in), \"percent\" (1.25 × diameter, thread maker's bulletin), \"diameter\" (old hand-work lessons; A-A-55095A asks 3/4 in for a 3/4 in button). A whole wrap + 1/8 in for balls, also printed, is twice too long and is not offered.",
		Check: func(x *Context) {
			h := &x.K.Hole
			if !h.Needed || h.Kind == "loop" || h.Length >= h.Passing {
				return
			}
			path := x.at("hole_length")
			have, need := x.Short(h.Length, h.Passing)
			if !h.Given {
				x.report(Caution, x.at("hole_rule"), atLeast(h.Length, h.Passing),
					"by this rule, %s, the hole is %s; in cloth that does not give the %s needs %s to go through, %s: push the real one through a sample, and where it sticks cut %s",
					HoleRuleSays(x.C.Rule, x.U), have, text.One(x.C.Notion.Kind), x.holeLeast(need), plan.ShapeOf(&x.C.Notion).Formula(), x.cutIt()).Line("the hole is %s long; the %s needs %s to go through", have, text.One(x.C.Notion.Kind), need)
				return
			}
			x.report(Conflict, path, atLeast(h.Length, h.Passing).on(plan.CutBasis(x.C, x.K), plan.GivenHole(x.C)),
				"the hole is %s long, but the %s needs %s to go through, %s: cut it %s", have, text.One(x.C.Notion.Kind), x.holeLeast(need), x.passesBy(), x.cutIt()).Line("the hole is %s long; the %s needs %s to go through", have, text.One(x.C.Notion.Kind), need)
		},
		Touches: []string{"closure.*.hole_length", "closure.*.hole_rule"},
		Propose: func(x *Context, f *Finding) []Change {
			out := x.proposeCut()
			if !x.K.Hole.Given && x.C.Rule != "" {
				out = append(out, Change{With: x.takeOut("hole_rule"), Says: "make the hole as long as the button needs", Cost: 1})
			}
			return out
		},
	},
	{
		Name: "hole-tight", Severity: Caution,
		Task:    TaskSample,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a hole in bulky cloth wants ease",
		Formula: "passing length + {bulk ease} where the layers exceed {bulky}, wadding and quilting counted as they are pressed, and a tack button given diameter + {bulk ease} in all; + {shank ease} for a rigid shank",
		Why:     "The edge of a thick hole takes up part of its length: a hole that the button goes through on thin cloth is tight on a coat.",
		Sources: []string{
			"Extension Bulletin 576, 1965: on bulky cloth add 1/8 in",
			"The Vogue Sewing Book, 1970, as quoted: shank button + 1/8 in",
			"Butterick, The New Dressmaker, 1921: a hole is tighter after it is worked",
			"a historical tailor's masterclass on jeans: hole of a tack button in its waistband, diameter + 1/8 in",
		},
		Ours:   "{bulky} as the thickness above which cloth counts as bulky",
		Limits: []plan.Threshold{plan.BulkEaseLimit, plan.BulkyLimit, plan.ShankEaseLimit},
		Check: func(x *Context) {
			h := &x.K.Hole
			if !h.Given || h.Kind == "loop" || h.Length < h.Passing || h.Length >= h.Passing+h.Ease {
				return
			}
			have, need := x.Short(h.Length, h.Passing+h.Ease)
			x.report(Caution, x.at("hole_length"), atLeast(h.Length, h.Passing+h.Ease),
				"the hole is %s long; with %s it would be %s: sew a sample through all the layers and push the real %s through", have, x.easeFor(), x.holeLeast(need), text.One(x.C.Notion.Kind)).Line("the hole is %s long, %s with ease: sew a sample and try it", have, need)
		},
		Touches: []string{"closure.*.hole_length"},
		Propose: func(x *Context, f *Finding) []Change {
			return x.proposeCut()
		},
	},
	{
		Name: "hole-long", Severity: Caution,
		Task:    TaskSample,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a hole that is too long lets the button slip out",
		Figure:  "hole",
		Formula: "hole length ≤ passing length + {slip}, + {shank ease} more for a rigid shank",
		Why:     "A slack hole lets go under strain and gapes.",
		Limits:  []plan.Threshold{plan.HoleSlipLimit, plan.ShankEaseLimit},
		Ours:    "{shank ease} more for a rigid shank, because the hole's own ease for it would come too near the limit",
		Sources: []string{"every flat rule printed in handbooks from 1907 to 2023 stays inside diameter + thickness + 1/4 in: comparison of published rules"},
		Check: func(x *Context) {
			h := &x.K.Hole
			if !h.Needed || h.Kind == "loop" {
				return
			}
			most := x.slipsAt()
			if h.Length <= most {
				return
			}
			path, says := x.holeAt(), ""
			if h.Fixed {
				path, says = whole(x.diesPath()), ", the next length that the attachment sews"
			}
			have, limit := x.Over(h.Length, most)
			x.report(Caution, path, atMost(h.Length, most),
				"the hole is %s long%s, more than %s: the %s may slip out; sew a sample", have, says, x.holeLimit(limit), text.One(x.C.Notion.Kind)).Line("the hole is %s long, over %s: the %s may slip out", have, limit, text.One(x.C.Notion.Kind))
		},
		Touches: []string{"closure.*.hole_length"},
		Propose: func(x *Context, f *Finding) []Change {
			return x.proposeCut()
		},
	},
	{
		Name: "hole-machine", Severity: Conflict,
		Rests: []string{"closure.*.hole", "closure.*.hole_length", "closure.*.notion", "machine.buttonhole_max", "machine.buttonhole_sizes", "machine.keyhole", "machine.keyhole_sizes"},
		Task:  NoTask,
		Reads: ReadsNotion | ReadsInterfacing, // another takes the sample out
		Room: func(x *Context) Numbers {
			h, m := &x.K.Hole, &x.G.Machine
			if !h.Needed || !h.Worked() {
				return Numbers{}
			}
			sizes := plan.Dies(m, h.Kind)
			switch {
			case len(sizes) > 0 && h.Given:
				// One shorter than what passes is judged by hole-short.
				l, longest := h.Length, sizes[len(sizes)-1]
				if (l < h.Passing || h.Passing <= longest) && l <= longest+plan.DieSlip {
					l = min(l, longest) // it is meant
				}
				return atMost(l, longest)
			case len(sizes) > 0:
				return atMost(h.Asked(), sizes[len(sizes)-1])
			case !m.ButtonholeMax.Has() && m.Kind != "" && m.Kind != "household":
				return Numbers{}
			}
			return atMost(h.Asked(), m.ButtonholeMax.Or(plan.DefaultHoleMax))
		},
		Title:   "the machine must be able to sew a hole that long",
		Figure:  "hole on this machine",
		Formula: "passing length ≤ longest automatic hole, which is buttonhole_max or, where the garment does not say, {longest}; the ease is not counted; with fixed lengths, the next one up must exist; a keyhole only where the machine sews them",
		Why:     "The buttonhole foot stops at the end of its slide: the machine turns round too early and the button does not go through.",
		Sources: []string{
			"household machine manual: longest automatic hole about 28 mm, counted as diameter + thickness of the button",
			"user's page on a buttonhole attachment with fixed dies: straight 10, 13, 16, 18, 21 mm, keyhole 16, 18, 21, 24 mm",
		},
		Limits: []plan.Threshold{plan.HoleMaxLimit},
		Ours:   "an industrial or straight-stitch machine sews no hole by itself unless the garment says how long",
		Check: func(x *Context) {
			h, m := &x.K.Hole, &x.G.Machine
			most, need := h.MachineSews, h.Asked()
			switch sizes := plan.Dies(m, h.Kind); {
			case h.BeyondMachine == "":
			case h.BeyondMachine == plan.SewsNoKeyhole:
				x.report(Conflict, x.at("hole"), Numbers{}.on(x.keyholeBasis()), "the machine sews no keyholes: take hole = \"machine\", or a bound or hand-worked hole").Line("the machine sews no keyholes: take plain, bound or hand-worked holes")
			case h.BeyondMachine == plan.SewsNone:
				x.report(Caution, whole(x.machinePath("kind")), Numbers{}, "a machine of the kind %s sews no buttonholes by itself: say buttonhole_max if yours does, or where the holes are made, hole = \"hand\" or \"bound\"", m.Kind).Line("this machine sews no buttonholes by itself: say where they are made")
			case len(sizes) > 0:
				x.checkDies(sizes)
			case h.BeyondMachine == plan.SewsLessEase:
				have, limit := x.Apart(h.Length, most)
				x.report(Note, whole(x.machinePath("buttonhole_max")), atMost(h.Length, most),
					"with ease the hole is %s long, but the machine's longest is %s: the %s goes through with less ease; sew the longest it can through the real layers and push a %s through", have, limit, text.One(x.C.Notion.Kind), text.One(x.C.Notion.Kind)).Line("%s is the machine's longest hole and leaves less ease: try it", x.say(most))
			case h.Passing <= most || need < h.Passing:
				have, limit := x.Apart(h.Length, most)
				at := x.holeAt()
				if need < h.Passing {
					x.report(Conflict, at, atMost(need, most).on(x.holeMaxBasis(), x.askedBasis()),
						"the hole is to be %s long, but the machine's longest is %s: choose a smaller or thinner %s, or a bound or hand-worked hole", have, limit, text.One(x.C.Notion.Kind)).Line("the hole is to be %s long; the machine sews %s", have, limit)
					return
				}
				x.report(Conflict, at, atMost(need, most).on(x.holeMaxBasis(), plan.GivenHole(x.C)),
					"the hole is to be %s long%s, but the machine's longest is %s: cut it %s, or make a bound or hand-worked hole", have, x.lessEase(), limit, x.cutIt()).Line("the hole is to be %s long; the machine sews %s", have, limit)
			default:
				has, needs := x.Short(most, h.Passing)
				n := atMost(h.Passing, most).on(x.ruledBasis(), x.holeMaxBasis())
				if !n.forbids() {
					if asked := atMost(need, most).on(x.holeMaxBasis(), x.askedBasis()); asked.forbids() {
						have, limit := x.Apart(h.Length, most)
						x.report(Conflict, x.holeAt(), asked, "the hole is to be %s long, but the machine's longest is %s: choose a smaller or thinner %s, or a bound or hand-worked hole", have, limit, text.One(x.C.Notion.Kind)).Line("the hole is to be %s long; the machine sews %s", have, limit)
						return
					}
				}
				x.report(Conflict, whole(x.machinePath("buttonhole_max")), n,
					"the %s needs a hole of at least %s%s but the machine's longest is %s: choose a smaller or thinner one, or a bound or hand-worked hole", text.One(x.C.Notion.Kind), needs.For(whole("machine.buttonhole_max")), x.withEase(), has).Line("the %s needs a hole of %s; the machine sews %s", text.One(x.C.Notion.Kind), needs, has)
			}
		},
		Touches: slices.Concat(anotherNotion, []string{"closure.*.hole", "closure.*.hole_length"}),
		Propose: func(x *Context, f *Finding) []Change {
			out := append(proposeFitting(x, measure.FromMM(x.Rule.Room(x).Need), 0),
				Change{With: set(x, "hole", "hand"), Says: "work the holes by hand", Cost: 40},
				Change{With: set(x, "hole", "bound"), Says: "make bound holes", Cost: 45})
			h, m := &x.K.Hole, &x.G.Machine
			if h.Given {
				if h.Passing <= x.holeMost() {
					out = append(out, x.proposeCut()...)
				}
			}
			other := map[string]string{"machine": "keyhole", "keyhole": "machine"}[h.Kind]
			if other == "machine" || m.Keyhole.Or(false) {
				out = append(out, Change{With: set(x, "hole", other), Says: "sew " + map[string]string{"machine": "plain holes", "keyhole": "keyholes"}[other], Cost: 5})
			}
			return out
		},
	},
	{
		Name: "hole-edge", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a hole must not come too near the edge",
		Formula: "finished stand − {beyond} ≥ {edge}, for a hole across the edge",
		Why:     "With less than {edge} of cloth between hole and edge the hole tears out.",
		Limits:  []plan.Threshold{plan.BeyondLimit, plan.HoleEdgeLimit},
		Sources: []string{
			"K. H. Watson, Textiles and Clothing, 1907: hole 1/4 in from the edge",
			"household machine manuals, Extension Bulletin 576, 1965: hole begins 1/8 in beyond the centre line",
		},
		Check: func(x *Context) {
			h, st := &x.K.Hole, &x.K.Stand
			if !h.Needed || h.Kind == "loop" || h.Direction != "across" || !st.Known || st.Lost {
				return
			}
			switch d := st.Have - h.Beyond; {
			case d <= 0:
				_, need := x.Short(0, plan.HoleEdge)
				x.report(Caution, whole(st.From), atLeast(d, plan.HoleEdge), "no cloth is left between the hole and the edge; %s is the least", need).Line("no cloth is left between hole and edge; %s is the least", need)
			case d < plan.HoleEdge:
				have, need := x.Short(d, plan.HoleEdge)
				x.report(Caution, whole(st.From), atLeast(d, plan.HoleEdge), "only %s of cloth is left between the hole and the edge; %s is the least", have, need).Line("only %s of cloth between hole and edge; %s is the least", have, need)
			}
		},
		Touches: anotherStand,
		Propose: proposeStand,
	},
}

// checkDies checks a hole against an attachment that sews fixed lengths.
func (x *Context) checkDies(sizes []measure.Length) {
	h := &x.K.Hole
	longest := sizes[len(sizes)-1]
	switch {
	case h.BeyondMachine == plan.SewsShorter && h.Asked() >= h.Passing && h.Passing > longest:
		has, needs := x.Short(longest, h.Passing)
		x.report(Conflict, whole(x.diesPath()), atMost(h.Passing, longest).on(x.ruledBasis(), x.diesBasis(), x.plainBasis()),
			"the %s needs a hole of at least %s%s but the longest that the attachment sews is %s: choose a smaller or thinner one, or a bound or hand-worked hole", text.One(x.C.Notion.Kind), needs, x.withEase(), has).Line("the %s needs a hole of %s; the attachment sews %s", text.One(x.C.Notion.Kind), needs, has)
	case h.BeyondMachine == plan.SewsShorter:
		have, limit := x.Apart(h.Length, longest)
		need := h.Length
		if h.Sampled && !h.Given {
			need = h.Asked() // the rest is ease
		}
		x.report(Conflict, x.at("hole_length"), atMost(need, longest).on(x.askedBasis(), x.diesBasis(), x.plainBasis()), "the hole is to be %s long, but the longest that the attachment sews is %s: cut it %s", have, limit, x.cutIt()).Line("the hole is to be %s long; the attachment sews %s", have, limit)
	case h.BeyondMachine == plan.SewsOther:
		x.report(Caution, x.at("hole_length"), Numbers{}, "the attachment does not sew %s, only %s: the next is %s", h.Length.ShortPlace(x.U), x.list(sizes), h.MachineSews.ShortPlace(x.U)).Line("the attachment does not sew %s; the next is %s", h.Length.ShortPlace(x.U), h.MachineSews.ShortPlace(x.U))
	case h.BeyondMachine == plan.SewsLessEase:
		x.report(Caution, whole(x.diesPath()), atMost(h.Passing+h.Ease, longest),
			"the attachment's longest hole, %s, leaves no %s: the %s goes through, so sew a sample", x.say(longest), x.easeFor(), text.One(x.C.Notion.Kind)).Line("%s is the attachment's longest hole and leaves no ease: try it", x.say(longest))
	}
}

// askedBasis is what the length that is asked of a machine rests on: of a hole
// that the file gives, one by a rule that it names, or one of a sample.
func (x *Context) askedBasis() plan.Basis {
	switch h := &x.K.Hole; {
	case h.Given && h.Sampled && h.Asked() > min(h.Formula, h.Passing): // less what the sample leaves as ease
		return plan.GivenHole(x.C).And(plan.CutBasis(x.C, x.K)).And(plan.PassingBasis(x.C))
	case h.Given && (!h.Sampled || h.Asked() == h.Length):
		return plan.GivenHole(x.C)
	case h.Sampled:
		return plan.Smaller(h.Passing, plan.CutBasis(x.C, x.K), h.Formula, plan.PassingBasis(x.C))
	}
	return x.ruledBasis()
}

// ruledBasis is what the shorter of the length by the rule that the file names
// and of what passes rests on.
func (x *Context) ruledBasis() plan.Basis {
	h, passing := &x.K.Hole, plan.CutBasis(x.C, x.K)
	if h.Given || h.Sampled || x.C.Rule == "" || x.C.Rule == "passing" {
		return passing
	}
	return plan.Smaller(h.Length, plan.RuleBasis(x.C, x.K), h.Passing, passing)
}

// withEase adds the hole as it is to be cut to the length that just passes,
// so that both figures of the plan are known by their names.
func (x *Context) withEase() later {
	return x.later(func(x *Context) string {
		if x.K.Hole.Ease <= 0 {
			return ","
		}
		return ", " + x.Least(x.K.Hole.Wanted).String() + " with ease,"
	})
}

// kindBasis is what it rests on that a hole is a keyhole where the file does not
// say so: on our own choice where a plain one, narrower by so much, would pass
// with what is short now. Of a hole across its width is no matter.
func (x *Context) kindBasis(short, narrower measure.Length) plan.Basis {
	if h := &x.K.Hole; !h.Needed || h.Kind != "keyhole" || x.C.Hole != "" || h.Direction == "across" && narrower > 0 || short > narrower {
		return plan.Basis{}
	}
	return plan.Basis{Ground: plan.Ours, Key: x.key("hole")}
}

// plainBasis is kindBasis for an attachment that sews plain holes of other
// lengths.
func (x *Context) plainBasis() plan.Basis {
	h, m := &x.K.Hole, &x.G.Machine
	most := m.ButtonholeMax.V
	if d := m.ButtonholeSizes; len(d) > 0 {
		most = d[len(d)-1]
	}
	if h.Asked() > most {
		return plan.Basis{}
	}
	return x.kindBasis(0, 0)
}

// diesPath is the place of the lengths that the attachment sews.
func (x *Context) diesPath() string {
	if x.K.Hole.Kind == "keyhole" && len(x.G.Machine.KeyholeSizes) > 0 {
		return x.machinePath("keyhole_sizes")
	}
	return x.machinePath("buttonhole_sizes")
}

// diesBasis is what they rest on.
func (x *Context) diesBasis() plan.Basis {
	if x.K.Hole.Kind == "keyhole" && len(x.G.Machine.KeyholeSizes) > 0 {
		return x.machineList("keyhole_sizes")
	}
	return x.machineList("buttonhole_sizes")
}

// machinePath is the place of a figure of the machine: where the file gives
// it, else where it names the machine, else the fastener that asks too much.
func (x *Context) machinePath(key string) string {
	for _, p := range []string{"machine." + key, "machine.use", "machine"} {
		if x.G.Stated(p) {
			return p
		}
	}
	return x.path("use")
}

// easeFor says what the ease of the hole is for.
func (x *Context) easeFor() string {
	o, shank := &x.K.Over, plan.RigidShank(&x.C.Notion)
	layers := "layers " + o.Thick.TextThin(x.U) + " thick" + x.guess(o)
	bulky := o.Bulk() > plan.Bulky && x.K.Hole.Kind != "bound"
	switch {
	case bulky && shank:
		return "ease for the shank and for " + layers
	case shank:
		return "ease for the shank"
	case bulky:
		return "ease for " + layers
	}
	return "ease"
}

// list is a list of lengths.
func (x *Context) list(ls []measure.Length) string {
	s := ""
	for i, l := range ls {
		if i > 0 {
			s += ", "
		}
		s += l.ShortPlace(x.U)
	}
	return s
}

// goodHole is the length to cut the hole: by the rule asked for where that
// passes and does not let the fastener slip out, else what passes with its
// usual ease.
func (x *Context) goodHole() measure.Length {
	h := &x.K.Hole
	if h.Wanted < h.Passing || h.Wanted > x.slipsAt() {
		return h.Advised
	}
	return h.Wanted
}

// holeAt is where the file says how long the hole is.
func (x *Context) holeAt() place {
	switch h := &x.K.Hole; {
	case h.Given:
		return x.at("hole_length")
	case h.Sampled:
		return x.at("measured.hole_length")
	}
	return x.at("hole_rule")
}

// passesBy says how the passing length of the hole is known.
func (x *Context) passesBy() string {
	if x.K.Hole.Sampled {
		return "from your sample"
	}
	return plan.ShapeOf(&x.C.Notion).Formula()
}

// slipsAt is how long a hole may be before the fastener slips out of it.
func (x *Context) slipsAt() measure.Length {
	most := x.K.Hole.Passing + plan.HoleSlip
	if plan.RigidShank(&x.C.Notion) {
		most += plan.ShankEase
	}
	return most
}

// toCut is the length to cut the hole: goodHole, and no longer than the machine
// sews where that passes; and from and to where it may lie.
func (x *Context) toCut() (cut, least, most measure.Length) {
	h := &x.K.Hole
	cut, least, most = max(x.goodHole(), h.Passing.RoundUp(plan.HoleStep(x.U))), h.Passing, x.holeMost()
	if most < h.Passing {
		return cut, least, measure.MaxLength // which the machine does not sew
	}
	if sizes := plan.Dies(&x.G.Machine, h.Kind); h.Worked() && len(sizes) > 0 {
		cut = plan.NextDie(sizes, cut)
		return cut, cut, cut
	}
	return min(cut, most), least, most
}

// cutIt is that length in words.
func (x *Context) cutIt() fmt.Stringer {
	cut, least, most := x.toCut()
	if most == measure.MaxLength && x.holeMost() < most || least >= most {
		return x.Least(cut) // between the two there is no figure, or none in the other unit
	}
	return x.Within(cut, least, most).Bounding(x.at("hole_length"))
}

// proposeCut proposes it.
func (x *Context) proposeCut() []Change {
	cut, least, most := x.toCut()
	return []Change{{
		With: x.setSold("hole_length", cut),
		Says: "cut the hole " + cut.TextWithin(least, most, x.U.Or(x.unitFor(cut))), Cost: (cut - x.K.Hole.Length).Abs().MM(),
	}}
}

// holeMost is the longest hole that the machine sews.
func (x *Context) holeMost() measure.Length {
	h, m := &x.K.Hole, &x.G.Machine
	if !h.Worked() {
		return measure.MaxLength
	}
	if sizes := plan.Dies(m, h.Kind); len(sizes) > 0 {
		return sizes[len(sizes)-1]
	}
	if !m.ButtonholeMax.Has() && m.Kind != "" && m.Kind != "household" {
		return measure.MaxLength
	}
	most := m.ButtonholeMax.Or(plan.DefaultHoleMax)
	if h.Passing <= most {
		most = max(h.Wanted, h.Advised, most+max(0, h.Ease)) // the ease does not count
	}
	return most
}

// holeLimit is the most of a hole's length, to write where the machine sews it
// that long.
func (x *Context) holeLimit(limit Said) fmt.Stringer {
	if limit.l > x.holeMost() {
		return limit
	}
	return limit.For(x.at("hole_length"))
}

// holeLeast is the least of a hole's length, to write where the machine sews
// it.
func (x *Context) holeLeast(need Said) fmt.Stringer {
	if need.l >= x.holeMost() { // what is just as long as the machine sews has no figure in the other unit
		return need
	}
	return x.Within(need.l, need.l, x.holeMost()).Bounding(x.at("hole_length"))
}

// lessEase says that the ease of a hole does not count for the machine.
func (x *Context) lessEase() string {
	if e := x.K.Hole.Ease; e > 0 {
		return ", " + x.len(e) + " of it ease"
	}
	return ""
}

// keyholeBasis is what it rests on that the machine sews no keyholes.
func (x *Context) keyholeBasis() plan.Basis {
	return x.machineGround(x.G.Machine.Keyhole.From, "keyhole")
}

// holeMaxBasis is what the longest hole that the machine sews rests on.
func (x *Context) holeMaxBasis() plan.Basis {
	return x.machineBasis(x.G.Machine.ButtonholeMax, "buttonhole_max")
}

// OtherHole is the length of a hole by one published rule.
type OtherHole struct {
	Rule   string // as hole_rule names it
	Says   string // what the rule says
	Length measure.Length
}

var holeRuleSays = map[string]string{
	"passing":               "what the button needs, with ease for bulk and shank",
	"plus-eighth":           "diameter + {eighth}",
	"plus-thickness-eighth": "what the button needs + {eighth}",
	"percent":               "1.25 × diameter",
	"diameter":              "diameter alone",
}

// HoleRuleSays is a hole rule in words, with the eighth of an inch that its
// sources print.
func HoleRuleSays(rule string, u measure.Unit) string {
	return strings.ReplaceAll(holeRuleSays[rule], "{eighth}", (measure.Inch / 8).Short(u.Or(measure.In)))
}

// HoleByRule is the length that each published rule gives for a fastener
// in layers so thick, in the order in which a garment file may name them.
func HoleByRule(s plan.Shape, over measure.Length, shank bool, u measure.Unit) []OtherHole {
	out := make([]OtherHole, len(catalog.HoleRules))
	for i, rule := range catalog.HoleRules {
		_, _, l := plan.RuleLength(rule, s, over, shank, u)
		out[i] = OtherHole{rule, HoleRuleSays(rule, u), l}
	}
	return out
}
