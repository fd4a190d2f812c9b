package rules

import (
	"math"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

var loopRules = []*Rule{
	{
		Name: "loop-length", Severity: Conflict,
		Rests: []string{"closure.*.hole", "closure.*.loop", "closure.*.notion"},
		Task:  NoTask,
		Reads: ReadsNotion,
		Room: func(x *Context) Numbers {
			if l := &x.K.Loop; l.Needed && l.Given {
				return atLeast(l.Inside, l.Least)
			}
			return Numbers{}
		},
		Title:   "the loop must let the fastener through and then hold it",
		Figure:  "loop, inside",
		Formula: "inside of the loop ≥ the girth that passes (toggle, end on: 2 × (width + thickness); ball: π × diameter; flat: 2 × (diameter + thickness); a measured girth wins); + {ease} of ease; at most {slack share} of it or {slack} more, whichever is more",
		Limits:  []plan.Threshold{plan.LoopEaseLimit, plan.LoopShareLimit, plan.LoopSlackLimit},
		Why:     "A loop too short cannot be done up with cold hands; one too long lets go.",
		Sources: []string{
			"geometry: a loop opens to a girth as long as its inside",
			"from memory: the loop is the wrap round the fastener at its widest and two seam allowances, with a try-out",
			"newspaper sewing column, Press, 3 June 1981: wind the cord round the button and mark it",
		},
		Ours:   "{ease} as the ease, {slack share} or {slack} as too much",
		Others: memory + ": inside = twice the toggle's thickness or a little more, tried with the toggle end on; gloved hands want more",
		Check: func(x *Context) {
			l := &x.K.Loop
			if !l.Needed || !l.Given {
				return
			}
			path, what := x.at("loop"), text.One(x.C.Notion.Kind)
			switch {
			case l.Inside < l.Least:
				have, need := x.Short(l.Inside, l.Least)
				x.report(Conflict, path, atLeast(l.Inside, l.Least).on(plan.LoopBasis(x.C), plan.BasisOf(x.C.Loop, x.key("loop"))), "the loop is %s round the inside, but the %s needs %s to pass (%s): make it %s", have, what, need.For(path), l.Formula, x.Least(l.Usual).For(path)).Line("the loop is %s round the inside; the %s needs %s to pass", have, what, need)
			case l.Inside < l.Least+plan.LoopEase:
				have, need := x.Short(l.Inside, l.Least+plan.LoopEase)
				x.report(Caution, path, atLeast(l.Inside, l.Least+plan.LoopEase), "the loop is %s round the inside; with a little ease it would be %s: try it on the real %s, with gloves on if it is worn so", have, need.For(path), what).Line("the loop is %s round the inside; with ease it is %s: try it", have, need)
			case l.Inside > l.Most:
				have, limit := x.Over(l.Inside, l.Most)
				x.report(Caution, path, atMost(l.Inside, l.Most), "the loop is %s round the inside, more than %s: the %s may slip out; make it %s", have, limit.For(path), what, x.Least(l.Usual)).Line("the loop is %s round the inside; over %s the %s may slip out", have, limit, what)
			}
		},
		Touches: []string{"closure.*.loop"},
		Propose: func(x *Context, f *Finding) []Change {
			l := x.K.Loop.Usual
			return []Change{{With: x.setLength("loop", l), Says: "make the loop " + x.up(l) + " round the inside", Cost: math.Abs((l - x.K.Loop.Inside).MM()) / 4}}
		},
	},
	{
		Name: "loop-cord", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the loop's cord must suit the toggle",
		Formula: "toggle and frog: cord {thin} to {thick}",
		Limits:  []plan.Threshold{plan.CordLeastLimit, plan.CordMostLimit},
		Why:     "Thin cord cuts and frays; thick cord will not turn so small a bend.",
		Sources: []string{
			memory + ": toggle loop cord 3 to 6 mm",
			"US officers' overcoat, 1861 uniform regulations: frog loop of cord 0.15 in (3.8 mm)",
		},
		Check: func(x *Context) {
			l, n := &x.K.Loop, &x.C.Notion
			if !l.Needed || l.Cord == 0 || n.Kind != catalog.Toggle && n.Kind != catalog.Frog {
				return
			}
			path := x.notionPath("cord", n.Cord.From)
			if l.CordFrom != "" {
				path = x.at(l.CordFrom)
			}
			switch {
			case l.Cord < plan.CordLeast:
				have, need := x.Short(l.Cord, plan.CordLeast)
				x.report(Caution, path, atLeast(l.Cord, plan.CordLeast), "a cord of %s is thin for a %s: %s is the least usual", have, text.One(n.Kind), need.For(x.at("cord"))).Line("a cord of %s is thin for a %s: usual is %s or more", have, text.One(n.Kind), need)
			case l.Cord > plan.CordMost:
				have, limit := x.Over(l.Cord, plan.CordMost)
				x.report(Caution, path, atMost(l.Cord, plan.CordMost), "a cord of %s is thick for a %s, over the usual %s: it will not turn a small loop", have, text.One(n.Kind), limit.For(x.at("cord"))).Line("a cord of %s is thick for a %s: usual is up to %s", have, text.One(n.Kind), limit)
			}
		},
		Touches: []string{"closure.*.cord"},
		Propose: func(x *Context, f *Finding) []Change {
			c := 4 * mm
			return []Change{{With: x.setMM("cord", c), Says: "take a cord of " + x.len(c), Cost: 1}}
		},
	},
	{
		Name: "edge-lap", Severity: Conflict,
		Rests:   []string{"closure.*.hole", "closure.*.lap", "closure.*.notion.kind"},
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "edges that only meet need loops, hooks or a zip",
		Formula: "lap = \"edge\": hole = \"loop\", or a hook and eye, a frog, toggle or zip; a note asks for a guard behind",
		Why:     "A buttonhole, a snap or the bar of a hook needs one side to lie over the other.",
		Sources: []string{"common practice, no source", "New Mexico State University Extension guide C-232: the hook on the overlap, a straight eye on the underlap"},
		Check: func(x *Context) {
			if x.C.Lap != "edge" {
				return
			}
			switch x.C.Notion.Kind {
			case catalog.Hook:
				if x.C.Notion.HookKind == "hook-and-bar" {
					x.report(Conflict, x.at("lap"), Numbers{}.on(plan.NotionWord(x.C, "kind")), "the edges only meet, but the bar of a hook is sewn flat on a side that lies under: use a hook and eye, or give the front a lap").Line("the edges only meet: a hook with an eye, not a bar, or a lap")
				}
				return
			case catalog.Zip, catalog.Eyelet:
				return
			case catalog.Snap, catalog.Rivet:
				x.report(Conflict, x.at("lap"), Numbers{}, "the edges only meet, but a %s needs one side to lie over the other: use loops or hooks, or give the front a lap", text.One(x.C.Notion.Kind)).Line("the edges only meet: use loops or hooks, or give it a lap")
				return
			}
			if x.K.Hole.Kind != "loop" {
				x.report(Conflict, x.at("lap"), Numbers{}, "the edges only meet, but a buttonhole needs one side to lie over the other: use loops (hole = \"loop\"), or give the front a lap").Line("the edges only meet: use loops or hooks, or give it a lap")
				return
			}
			x.report(Note, x.at("lap"), Numbers{}, "the edges only meet: put a guard strip behind the loops, or wind and skin show between them").Line("the edges only meet: put a guard strip behind the loops")
		},
		Touches: slices.Concat(anotherNotion, []string{"closure.*.lap", "closure.*.hole"}),
		Propose: func(x *Context, f *Finding) []Change {
			out := []Change{{With: set(x, "lap", "single"), Says: "give the front a lap", Cost: 20}}
			if x.C.Notion.Kind == catalog.Hook {
				out = append(out, x.nearestUse(func(n *catalog.Notion) bool { return n.Kind == catalog.Hook && n.HookKind == "hook-and-eye" },
					func(n *catalog.Notion) measure.Length { return n.Length.V })...)
			}
			if plan.Passes(x.C.Notion.Kind) {
				out = append(out, Change{With: set(x, "hole", "loop"), Says: "use loops", Cost: 10})
			}
			sortChanges(out)
			return out
		},
	},
	{
		Name: "hook-edge", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "hooks are set just inside the edge",
		Formula: "end of the hook to the edge (edge): {least} to {old}; its eye where the bend reaches: stand − edge inside the centre line of the under side, or standing out as far where edges only meet",
		Limits:  []plan.Threshold{plan.HookLeastLimit, plan.HookOldLimit, plan.HookSlipLimit},
		Why:     "Nearer, the hook peeps out; farther in, the edge gapes and turns back.",
		Sources: []string{
			"New Mexico State University Extension guide C-232: 1/8 in from the edge, the hook on the overlap, a straight eye on the underlap",
			"sewing and design professionals' standards, p. 25: usually 1/8 in",
		},
		Others: "Text-Book on Domestic Art: 1/4 in",
		Ours:   "{slip} either way is let pass: nobody sets a hook finer",
		Check: func(x *Context) {
			own := x.C.Flap.Inset.Has() // which is told from the seam
			key := x.at("edge")
			if own {
				key = x.at("flap.inset")
			}
			named := func(s Said) any {
				if own {
					return s
				}
				return s.For(key)
			}
			if !x.K.Loop.Hooks || !own && !x.C.Edge.Has() {
				return
			}
			switch e := x.K.Loop.HookEdge; {
			case e < plan.HookLeast-plan.HookSlip:
				have, need := x.Short(e, plan.HookLeast)
				x.report(Caution, key, atLeast(e, plan.HookLeast), "the hook ends %s from the edge and will peep out; set it %s in", have, named(need)).Line("the hook ends %s from the edge and peeps out: set it %s in", have, need)
			case e > plan.HookOld+plan.HookSlip:
				have, limit := x.Over(e, plan.HookOld)
				x.report(Caution, key, atMost(e, plan.HookOld), "the hook ends %s from the edge, which will gape; set it %s in, or as older books do, %s", have, x.Least(plan.HookLeast), named(limit)).Line("the hook ends %s from the edge, which gapes: set it %s in", have, x.Least(plan.HookLeast))
			}
		},
		Touches: []string{"closure.*.edge", "closure.*.flap.inset"},
		Propose: func(x *Context, f *Finding) []Change {
			e := measure.Length(plan.HookLeast).Least(x.U)
			if w := x.C.Flap.Width.V; x.C.Flap.Inset.Has() {
				return []Change{{With: x.setLength("flap.inset", w-e), Says: "set the hooks " + x.up(e) + " from the edge of the flap", Cost: 1}}
			}
			return []Change{{With: x.setLength("edge", e), Says: "set the hooks " + x.up(e) + " from the edge", Cost: 1}}
		},
	},
	{
		Name: "hook-number", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a hook's number is no measure",
		Formula: "compare lengths, never numbers",
		Why:     "One maker's 4 is another's 1: the numbers run different ways.",
		Sources: []string{
			"Text-Book on Domestic Art: hooks from 000 to 6",
			"Dictionary of Dry Goods: hooks from 1, small, to 10, large",
		},
		Check: func(x *Context) {
			n := &x.C.Notion
			if n.Kind != catalog.Hook || !n.Number.Has() {
				return
			}
			x.report(Note, x.notionPath("number", n.Number.From), Numbers{}, "number %g means another size with every maker: match these hooks by their measure, %s", n.Number.V, x.say(max(n.Length.V, n.Width.V))).Line("number %g tells no size: match the hooks by measure, %s", n.Number.V, x.say(max(n.Length.V, n.Width.V)))
		},
	},
	{
		Name: "hook-size", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "small hooks for light cloth, large ones for heavy",
		Formula: "hook and eye over {long} on light cloth, under {short} on heavy cloth: caution",
		Limits:  []plan.Threshold{plan.HookLongLimit, plan.HookShortLimit},
		Why:     "A small hook pulls out of a coat; a large one drags light cloth and shows.",
		Sources: []string{"New Mexico State University Extension guide C-232: small for light cloth, large for heavy"},
		Ours:    "{long} and {short}: no published sizes in millimetres were found",
		Check: func(x *Context) {
			n := &x.C.Notion
			if n.Kind != catalog.Hook || n.HookKind != "hook-and-eye" || !n.Length.Has() {
				return
			}
			cl, _ := plan.ClassOf(x.K)
			path := x.notionPath("length", n.Length.From)
			switch {
			case cl.Heavy() && n.Length.V < plan.HookShort:
				have, need := x.Short(n.Length.V, plan.HookShort)
				x.report(Caution, path, atLeast(n.Length.V, plan.HookShort), "a hook of %s is small for %s cloth: take one of %s or more", have, cl.Name, need).Line("a hook of %s is small for %s cloth: take %s or more", have, cl.Name, need)
			case cl.Name == "light" && n.Length.V > plan.HookLong:
				have, limit := x.Over(n.Length.V, plan.HookLong)
				x.report(Caution, path, atMost(n.Length.V, plan.HookLong), "a hook of %s is large for light cloth: take one up to %s", have, limit).Line("a hook of %s is large for light cloth: take one up to %s", have, limit)
			}
		},
		Touches: anotherNotion,
		Propose: func(x *Context, f *Finding) []Change {
			if x.C.Use == "" {
				return nil
			}
			now := &x.C.Notion
			return x.nearestUse(func(n *catalog.Notion) bool {
				return n.Kind == catalog.Hook && n.HookKind == now.HookKind && n.Name != now.Name
			}, func(n *catalog.Notion) measure.Length { return n.Length.V })
		},
	},
	{
		Name: "hook-tape", Severity: Conflict,
		Lenient: []string{"slip"},
		Rests:   []string{"closure.*.notion.eye_pitch", "closure.*.notion.kind", "closure.*.notion.pitch", "closure.*.run"},
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "hook tape and eye tape must have one pitch",
		Formula: "|pitch − eye_pitch| × (hooks − 1) ≤ {slip}",
		Limits:  []plan.Threshold{plan.TapeSlipLimit},
		Why:     "A small difference adds up row by row until the hooks miss their eyes.",
		Sources: []string{"hook tape trade page: pitches of 17 and of 19 mm"},
		Ours:    "{slip} as what still meets: it is in the tape's favour",
		Check: func(x *Context) {
			n := &x.C.Notion
			if n.Kind != catalog.Hook || !n.Pitch.Has() || !n.EyePitch.Has() {
				return
			}
			count := 0
			for i := range x.K.Sizes {
				count = max(count, x.K.Sizes[i].Count)
			}
			if out := plan.TapeOut(n.Pitch.V, n.EyePitch.V, count); out > plan.TapeSlip {
				x.report(Conflict, x.notionPath("eye_pitch", n.EyePitch.From), atMost(out, plan.TapeSlip).on(plan.NotionBasis(x.C, n.Pitch, "pitch").Scaled(float64(count-1)), plan.NotionBasis(x.C, n.EyePitch, "eye_pitch").Scaled(float64(count-1))),
					"hooks %s apart meet eyes %s apart: at the last of %d they are %s out; take both tapes from one maker", x.say(n.Pitch.V), x.say(n.EyePitch.V), count, x.say(out)).Line("hooks %s apart, eyes %s: out by %s at the last of %d", x.say(n.Pitch.V), x.say(n.EyePitch.V), x.say(out), count)
			}
		},
		Touches: []string{"closure.*.notion.eye_pitch"},
		Propose: func(x *Context, f *Finding) []Change {
			p := x.C.Notion.Pitch.V
			return []Change{{With: x.setMM("notion.eye_pitch", p), Says: "take an eye tape of pitch " + x.len(p), Cost: 1}}
		},
	},
}
