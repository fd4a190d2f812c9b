package rules

import (
	"cmp"
	"fmt"
	"math"
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
	"slices"
)

// pieceRules are about how the closures of an opening lie on its pieces.
var pieceRules = []*Rule{
	{
		Name: "zip-clear", Severity: Conflict,
		Rests: []string{"closure.*.edge", "closure.*.flap", "closure.*.hole", "closure.*.hole_length", "closure.*.inset", "closure.*.lap", "closure.*.notion", "closure.*.rows", "closure.*.stand"},
		Task:  NoTask,
		Reads: ReadsNotion,
		Room: func(x *Context) Numbers {
			if inside, need, is := x.zipClear(); is {
				return atLeast(inside, need)
			}
			return Numbers{}
		},
		Title:   "nothing is sewn, set or cut through a zip",
		Figure:  "clear of the zip's teeth",
		Formula: "stitches, post or patch of the other fasteners of the opening: at least tape + {stitching} inside the teeth, and half their own width; their rim {rim} inside the edge folded beside the zip; holes of a double-breasted front: half the chain + {stitching} outside the teeth",
		Limits:  []plan.Threshold{plan.ZipStitchLimit, plan.RimLimit},
		Why:     "A needle, a post or a hole through tape or teeth ruins the zip; beside the tape the slider and its foot need room.",
		Sources: []string{
			"US Army TM 10-8400-203-23, p. 79: stitching clear of the chain and the slider by 1/4 in",
			"geometry of tape and fastener",
			"Sew Today, 2019: rim at least 3 mm inside the finished edge",
		},
		Check: func(x *Context) {
			far, need, is := x.zipClear()
			if is && x.K.Inner() {
				x.report(Conflict, x.at("rows.inner"), Numbers{}, "the under front ends at the zip: there is no cloth for the hole of an inner button").Line("the under front ends at the zip: leave the inner button out")
			}
			if end, least := x.holeClear(); is && end < least {
				have, want := x.Short(max(end, 0), least)
				says := "end " + have.String() + " outside"
				if end <= 0 {
					says = "reach across"
				}
				x.report(Conflict, x.at("rows"), atLeast(end, least).on(plan.ChainBasis(x.P.Zip(x.C.Index).Closure), plan.HoleBasis(x.C, x.K), plan.ColumnBasis(x.C)), "the holes of the outer column %s the teeth of the zip of the same opening; %s outside them clears its stitching: set the columns further apart", says, want).Line("the holes %s the zip's teeth; %s outside clears them", says, want)
			}
			if !is || far >= need {
				return
			}
			c := x.C
			what := text.Plural(c.Notion.Kind)
			have, want := x.Short(max(far, 0), need)
			switch {
			case x.K.Apart():
				x.report(Conflict, x.at("inset"), atLeast(far, need).on(x.clearBasis(need)...), "the cord of the %s is sewn on %s; its patch needs %s to clear the tape of the zip by %s", what, inside(have, "the teeth"), want.For(x.at("inset")), x.say(plan.ZipStitch)).Line("the cord is sewn on %s; its patch needs %s", inside(have, "the teeth"), want)
			case c.Flap.Has():
				x.report(Conflict, x.at("flap.inset"), atLeast(far, need).on(x.clearBasis(need)...), "under the flap the %s stand %s, but need %s to clear the tape of the zip by %s: %s", what, inside(have, "the teeth"), want, x.say(plan.ZipStitch), x.setFlap(need)).Line("they stand %s; %s clears its tape", from(have, "the zip's teeth"), want)
			case far <= 0:
				x.report(Conflict, x.at(""), atLeast(far, need).on(x.clearBasis(need)...), "the %s stand on the teeth of the zip of the same opening: give them %s", what, instead(x)).Line("the %s stand on the zip's teeth: give them %s", what, insteadShort(x))
			default:
				guess := ""
				if r := &c.Rows; !r.Distance.Has() && !r.Top.Has() {
					guess = x.guessFolds() // they stand where the stand has them
				}
				x.report(Conflict, x.at(""), atLeast(far, need).on(x.clearBasis(need)...), "the %s stand %s%s inside the teeth of the zip of the same opening, but need %s to clear its tape by %s: give them %s", what, have, guess, want, x.say(plan.ZipStitch), instead(x)).Line("they stand %s from the zip's teeth; %s clears its tape", have, want)
			}
		},
		Touches: []string{"closure.*.inset", "closure.*.rows.inner", "closure.*.flap.width", "closure.*.flap.inset"},
		Propose: func(x *Context, f *Finding) []Change {
			_, need, is := x.zipClear()
			if !is {
				return nil
			}
			if !f.Compared {
				return []Change{{With: set(x, "rows.inner", false), Says: "leave the inner button out", Cost: 1}}
			}
			need = need.RoundUp(plan.HoleStep(x.U))
			switch {
			case x.K.Loop.Needed:
				need = max(need, x.K.Stand.Have+plan.PatchHalf).RoundUp(plan.HoleStep(x.U))
				return []Change{{With: x.setLength("inset", need), Says: "sew cord and loop on " + x.up(need) + " inside the meeting line", Cost: 2}}
			case x.C.Notion.Kind == catalog.Hook:
				return nil
			}
			width := max(x.C.Flap.Width.V, (need + max(x.K.Stand.Usual, x.K.Stand.Full)).RoundUp(plan.HoleStep(x.U)))
			with := x.setLength("flap.inset", need)
			if width != x.C.Flap.Width.V {
				with = append(x.setLength("flap.width", width), with...)
			}
			return []Change{{
				With: with,
				Says: "set them on a flap " + x.up(width) + " wide, " + x.up(need) + " from the meeting line", Cost: 2,
			}}
		},
	},
	{
		Name: "zip-seam", Severity: Conflict,
		Rests:   []string{"closure.*.notion.chain", "closure.*.notion.kind", "closure.*.notion.number", "closure.*.notion.tape"},
		Task:    TaskZip,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "the stitching must catch the zip's tape, and the seam must hold it",
		Figure:  "the zip's tape",
		Formula: "tape > half the chain + {stitching} (conflict below), + {tape} more (caution below); tape ≤ seam allowance + half the chain + {fold}, where no facing covers it (note)",
		Limits:  []plan.Threshold{plan.ZipStitchLimit, plan.TapeBeyondLimit, plan.ZipFoldLimit},
		Why:     "Stitched beside the tape the zip hangs loose; a tape that stands out of the seam frays and catches.",
		Sources: []string{
			"US Army TM 10-8400-203-23, p. 79: stitching at least 1/4 in from the inner edge of the chain",
			"geometry of tape and seam",
		},
		Ours: "{tape} of tape beyond the stitching",
		Check: func(x *Context) {
			z := &x.K.Zip
			if !z.Needed || z.Tape == 0 {
				return
			}
			least := z.Half + z.Stitched
			at := x.notionWord("tape")
			switch {
			case z.Tape <= least:
				have, need := x.Short(z.Tape, least+1)
				x.report(Conflict, at, atLeast(z.Tape, least).on(plan.NotionBasis(x.C, x.C.Notion.Tape, "tape"), plan.ChainBasis(x.C)), "the tape is %s wide to the middle of the teeth, but stitching %s from them lies %s away: it catches no tape; take a zip with a wider one", have, x.say(z.Stitched), need.For(x.at("notion.tape"))).Line("the tape is %s wide; stitching that clears the teeth misses it", have)
			case z.Tape < least+plan.TapeBeyond:
				have, need := x.Short(z.Tape, least+plan.TapeBeyond)
				x.report(Caution, at, atLeast(z.Tape, least+plan.TapeBeyond), "the tape is %s wide to the middle of the teeth; %s leaves %s beyond the stitching", have, need.For(x.at("notion.tape")), x.say(plan.TapeBeyond)).Line("the tape is %s wide; %s leaves enough beyond the stitching", have, need)
			case z.TapeIn < 0:
				if facing, _ := x.P.Facing(x.C.Index); facing >= z.Tape {
					return
				}
				x.report(Note, x.at("stand"), atLeast(x.K.Stand.Seam, x.K.Stand.Seam-z.TapeIn), "the tape stands %s out of %s: bind it, cover it with a facing, or cut the allowance %s", x.say(-z.TapeIn), x.allowance(), x.Least((x.K.Stand.Seam-z.TapeIn).RoundUp(plan.HoleStep(x.U))).For(x.at("stand.seam"))).Line("the tape stands %s out of the seam allowance: bind or face it", x.say(-z.TapeIn))
			}
		},
		Touches: slices.Concat(anotherNotion, []string{"closure.*.stand.seam"}),
		Propose: func(x *Context, f *Finding) []Change {
			if f.Severity == Note {
				w := (x.K.Stand.Seam - x.K.Zip.TapeIn).RoundUp(plan.HoleStep(x.U))
				return []Change{{With: x.setLength("stand.seam", w), Says: "cut the seam allowance " + x.up(w), Cost: 1}}
			}
			return x.otherZips(func(n *catalog.Notion) bool { return n.Tape.V >= plan.ZipHalf(n)+plan.ZipStitch+plan.TapeBeyond })
		},
	},
	{
		Name: "zip-stops", Severity: Conflict,
		Rests:   []string{FileSays, "closure.*.notion.kind", "closure.*.run"},
		Task:    TaskZip,
		Reads:   ReadsRest,
		Room:    noRoom,
		Title:   "the stops of a zip lie inside its opening",
		Formula: "run.first, or {top} on a front where it is not given, + run.last < run.length",
		Limits:  []plan.Threshold{plan.ZipTopLimit},
		Why:     "There is no zip to sew in between.",
		Sources: []string{"geometry", "a costume maker's page, 2015: top of the chain about 1/2 in below the neck edge"},
		Check: func(x *Context) {
			for i := range x.K.Zip.Sizes {
				s := &x.K.Zip.Sizes[i]
				run := x.C.Run.Length.At(i).V
				if !x.C.Run.Length.Has() || s.Need > 0 {
					continue
				}
				x.Size = s.Size
				ends := s.Top + x.C.Run.Last.At(i).V
				have, need := x.Short(run, ends)
				x.report(Conflict, x.sizePath("length", x.C.Run.Length, s.Size), atLeast(run, ends).on(plan.ZipNeedBasis(x.C, i)), "the stops of the zip take %s of a run of %s: nothing is left between them", need, have).Line("the stops take %s of a run of %s: nothing is left between", need, have)
			}
			x.Size = ""
		},
	},
	{
		Name: "toggle-patch", Severity: Conflict,
		Rests:   []string{FileSays, "closure.*.inset", "closure.*.lap", "closure.*.notion.kind", "closure.*.stand", "closure.*.where"},
		Task:    TaskFasten,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the cord of a toggle comes out from under the lap",
		Figure:  "cord sewn on inside the centre line",
		Formula: "inset ≥ centre line to the edge of the lap (conflict below), + half a patch of {patch} (caution below); without inset: a note, usual {near} to {far}",
		Limits:  []plan.Threshold{plan.PatchLimit, plan.PatchNearLimit, plan.PatchFarLimit},
		Why:     "A toggle is held by its cord on the under front, beyond the edge of the front that laps over it. Sewn on beneath the lap it does not come out to its loop.",
		Sources: []string{
			"a sewing teacher's page, 2013: fronts lapped on their centre lines, toggle centred on them, round each patch drawn",
			"a sewer's page, 2010: leather patch 1 3/4 × 3 in, folded",
			"from memory: a patch's edge 5 to 8 cm from the centre line",
		},
		Check: func(x *Context) {
			k := x.K
			if !k.Loop.Needed || x.C.Notion.Kind != catalog.Toggle && x.C.Notion.Kind != catalog.Frog || x.C.Lap == "double" || plan.Bare(x.C.Where) {
				return
			}
			if !k.Apart() {
				if x.C.Lap != "edge" && !x.C.Flap.Has() {
					x.report(Note, x.at(""), Numbers{}, "where the cords of the %s are sewn on is not said: it lies beyond the lap of %s; set inset, usually %s with patches over the ends", text.Plural(x.C.Notion.Kind), x.say(k.Stand.Have), measure.TextSpan(plan.PatchNear, plan.PatchFar, x.U)).Line("say where the cords are sewn on, with inset: usually %s", x.later(func(x *Context) string { return measure.TextSpan(plan.PatchNear, plan.PatchFar, x.U) }))
				}
				return
			}
			edge := x.lapEdge()
			switch inset := x.C.Inset.V; {
			case inset < edge:
				have, need := x.Short(inset, edge)
				x.report(Conflict, x.at("inset"), atLeast(inset, edge).on(plan.BasisOf(x.C.Inset, x.key("inset")), x.lapBasis()), "the cord is sewn on %s, beneath the lap, which reaches %s: sew it on %s inside", inside(have, x.meeting()), need.For(x.at("inset")), x.Least(edge+plan.PatchHalf).For(x.at("inset"))).Line("sewn on beneath the lap, %s: %s is the least", inside(have, "the line"), need)
			case inset < edge+plan.PatchHalf:
				have, need := x.Short(inset, edge+plan.PatchHalf)
				x.report(Caution, x.at("inset"), atLeast(inset, edge+plan.PatchHalf), "the cord is sewn on %s inside %s: the lap covers part of its patch; %s clears it", have, x.meeting(), need.For(x.at("inset"))).Line("the lap covers part of the patch, %s inside; %s clears it", have, need)
			}
		},
		Touches: []string{"closure.*.inset"},
		Propose: func(x *Context, f *Finding) []Change {
			if f.Severity == Note {
				return nil
			}
			w := (x.lapEdge() + plan.PatchHalf).RoundUp(plan.HoleStep(x.U))
			return []Change{{With: x.setLength("inset", w), Says: "sew cord and loop on " + x.up(w) + " inside " + x.meeting(), Cost: 2}}
		},
	},
	{
		Name: "strip-start", Severity: Conflict,
		Rests:   []string{"closure.*.direction", "closure.*.hole", "closure.*.lap", "closure.*.notion", "closure.*.rows", "closure.*.stand"},
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the interfacing begins outside the holes",
		Figure:  "strip outside the line of the holes",
		Formula: "extension − strip_from_edge ≥ the hole's reach towards the edge, or half its width where it lies along",
		Why:     "A hole that begins on bare cloth stretches at the end that takes the pull.",
		Sources: []string{"geometry", "common practice, no source: a 3 in strip begun 1/2 in from the cut edge"},
		Check: func(x *Context) {
			s := &x.K.Support
			if !s.Needed || !s.Placed || s.Interfacing == nil {
				return
			}
			if need := x.K.Outward(); s.Begins < need {
				if from := x.K.Stand.Extension - x.K.Stand.Column - need; x.C.Stand.StripFromEdge.Has() && from >= 0 {
					x.report(Conflict, x.at("stand.strip_from_edge"), atLeast(s.Begins, need).on(x.outwardBasis()...), "the strip begins %s %s, but the work there reaches %s: begin it at most %s from the cut edge", x.outside(s.Begins), x.holesLine(), x.outTo(need), x.Most(from).For(x.at("stand.strip_from_edge"))).Line("the strip begins %s the holes' line; they reach %s", x.outside(s.Begins), x.outTo(need))
					return
				}
				x.report(Conflict, x.at("stand.extension"), atLeast(s.Begins, need).on(x.outwardBasis()...), "the cloth begins %s %s, but the work there reaches %s: draft more", x.outside(s.Begins), x.holesLine(), x.outTo(need)).Line("the cloth begins %s the line of the work; it reaches %s", x.outside(s.Begins), x.outTo(need))
			}
		},
		Touches: []string{"closure.*.stand.strip_from_edge", "closure.*.stand.strip"},
		Propose: func(x *Context, f *Finding) []Change {
			if !x.C.Stand.StripFromEdge.Has() {
				return nil
			}
			st, s := &x.K.Stand, &x.K.Support
			from := max(0, st.Extension-st.Column-x.K.Outward()-quarter).RoundDown(plan.HoleStep(x.U))
			with := x.setLength("stand.strip_from_edge", from)
			if s.Given {
				w := (st.Extension - st.Column - from + s.UsualReach).RoundUp(plan.HoleStep(x.U))
				if w > s.Strip {
					with = append(with, x.setLength("stand.strip", w)...)
				}
			}
			return []Change{{With: with, Says: "begin the strip " + x.down(from) + " from the cut edge", Cost: 1}}
		},
	},
	{
		Name: "flap-seam", Severity: Conflict,
		Rests:   []string{"closure.*.direction", "closure.*.flap", "closure.*.hole", "closure.*.hole_length", "closure.*.lap", "closure.*.notion", "closure.*.stand", "closure.*.where"},
		Task:    NoTask,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "a flap's fasteners stand clear of its seam and the edge beneath",
		Figure:  "the flap's fasteners from the meeting line",
		Formula: "meeting line to the line of the fasteners ≥ D/2, or what a hole reaches inside, + {rim}, counted on the flap from its seam, half the chain + {stitching} or {stitching} inside, and on the under front from its edge, half the chain + {fold} inside or the meeting line",
		Limits:  []plan.Threshold{plan.RimLimit, plan.ZipStitchLimit, plan.ZipFoldLimit},
		Why:     "A cap that straddles a seam or an edge tilts, and its tool strikes the ridge.",
		Sources: []string{"geometry", "Sew Today, 2019: rim 3 mm inside the finished edge, taken for the seam too"},
		Check: func(x *Context) {
			if !x.C.Flap.Has() || x.K.Zip.Needed {
				return
			}
			if inset, need := x.C.Flap.Width.V-x.K.Stand.Have, x.flapInset(); inset < need {
				h, n := x.Short(inset, need)
				x.report(Conflict, x.at("flap.inset"), atLeast(inset, need).on(x.flapNeed(), plan.FlapBasis(x.C, x.K)), "the fasteners of the flap stand %s; %s from it keeps them %s clear of its seam and of the edge beneath: %s", from(h, "the meeting line"), n, x.say(plan.RimClear), x.setFlap(need)).Line("they stand %s; %s clears the seam", from(h, "the meeting line"), n)
			}
		},
		Touches: []string{"closure.*.flap.inset"},
		Propose: func(x *Context, f *Finding) []Change {
			w := x.flapInset().RoundUp(plan.HoleStep(x.U))
			return []Change{{With: x.setLength("flap.inset", w), Says: "set them " + x.up(w) + " from the meeting line", Cost: 1}}
		},
	},
	{
		Name: "stitch-hole", Severity: Caution,
		Task:    TaskSample,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "top-stitching must not cross the holes",
		Figure:  "top-stitching from the edge",
		Formula: "finished edge − topstitch ≥ the hole's reach towards the edge",
		Why:     "The row of stitches is cut when the hole is opened, and ravels.",
		Sources: []string{"geometry"},
		Check: func(x *Context) {
			h, st, top := &x.K.Hole, &x.K.Stand, x.C.Stand.TopstitchInset
			if !top.Has() || !h.Needed || h.Kind == "loop" || x.C.Lap == "edge" || st.Lost {
				return
			}
			if have, need := st.Have-top.V, x.K.Outward(); have < need && have > -x.K.Reach.In {
				if st.Have <= need {
					x.report(Caution, x.at("stand.topstitch"), atMost(top.V, st.Have-need), "top-stitching %s from the edge runs through the holes, which reach the edge", x.say(top.V)).Line("top-stitching %s from the edge runs through the holes", x.say(top.V))
					return
				}
				a, b := x.Over(top.V, st.Have-need)
				x.report(Caution, x.at("stand.topstitch"), atMost(top.V, st.Have-need), "top-stitching %s from the edge runs through the holes, which end %s from it", a, b).Line("top-stitching %s from the edge runs through the holes, at %s", a, b)
			}
		},
		Touches: []string{"closure.*.stand.topstitch"},
		Propose: func(x *Context, f *Finding) []Change {
			w := (x.K.Stand.Have - x.K.Outward()).RoundDown(plan.HoleStep(x.U))
			if w <= 0 {
				return nil
			}
			w = min(w, UsualTopstitch(x.U))
			return []Change{{With: x.setLength("stand.topstitch", w), Says: "top-stitch " + x.down(w) + " from the edge", Cost: 1}}
		},
	},
	{
		Name: "edge-shared", Severity: Conflict,
		Rests:   []string{"closure.*.edge", "closure.*.hole", "closure.*.lap", "closure.*.notion", "closure.*.rows", "closure.*.stand", "closure.*.where"},
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "every closure of an opening stands inside its one edge",
		Figure:  "edge from the centre line",
		Formula: "edge of the over piece, as the first closure with a lap draws it, ≥ the fastener's or hole's outer end + {rim}",
		Limits:  []plan.Threshold{plan.RimLimit},
		Why:     "An opening has one edge: a second row drafted for another edge hangs over it.",
		Sources: []string{"geometry", "Sew Today, 2019: rim at least 3 mm inside the finished edge"},
		Check: func(x *Context) {
			i := x.C.Index
			lap := x.P.Lap(i)
			if lap == -1 || lap == i || x.K.Zip.Needed || x.K.Apart() {
				return
			}
			zip := x.P.Zip(i) != nil
			x.onPieces(func(pc *plan.Piece) {
				if pc.Side == plan.Flap || pc.Side == plan.Under && (zip || !pc.Edged) {
					return // its edge lies beside the zip, see zip-clear
				}
				for n := range pc.Parts {
					q := &pc.Parts[n]
					if int(q.Closure) != i || soft(q.Kind) {
						continue
					}
					if seam, is := crossed(pc, q, plan.SeamLine); is {
						x.report(Conflict, x.at("run"), Numbers{Margin: -min(seam-q.OutFrom, q.OutTo-seam).MM()}.on(x.partBasis(q), plan.EdgeBasis(&x.G.Closures[lap], &x.P.Closures[lap]), plan.ColumnBasis(x.C)), "these %s lie on the seam of the band, %s from the centre line", text.Plural(x.C.Notion.Kind), x.say(seam.Abs())).Line("they lie on the seam of the band, %s from the centre line", x.say(seam.Abs()))
						continue
					}
					if row, is := crossed(pc, q, plan.StitchLine); is && q.Kind == plan.HolePart && !zip {
						x.report(Caution, x.at("run"), Numbers{}, "the holes run across the stitching of the front, %s from the centre line, as %s has it: set them along, or make the band wider", x.say(row.Abs()), x.G.Closures[lap].Name).Line("the holes cross the front's stitching: set them along")
					}
					if need := q.OutTo + plan.RimClear; pc.Edged && !x.C.Flap.Has() && q.Kind != plan.EyePart && pc.Finished < need {
						have, want := x.Short(pc.Finished, need)
						if y := &x.G.Closures[lap]; plan.LapOf(y) == "edge" {
							x.report(Conflict, x.at("run"), atLeast(pc.Finished, need).on(x.outBasis(q), plan.ColumnBasis(x.C)), "the fronts meet edge to edge, as %s has it; these %s need a front that laps by %s", y.Name, text.Plural(x.C.Notion.Kind), want).Line("the fronts meet edge to edge, but these need a lap of %s", want)
							continue
						}
						lies := later(func() string { return have.String() + " from" })
						if pc.Finished == 0 {
							lies = func() string { return "on" }
						}
						x.report(Conflict, x.at("run"), atLeast(pc.Finished, need).on(x.outBasis(q), plan.EdgeBasis(&x.G.Closures[lap], &x.P.Closures[lap]), plan.ColumnBasis(&x.G.Closures[lap]), plan.ColumnBasis(x.C)), "the edge of the front lies %s the centre line, as %s has it; these %s need %s%s", lies, x.G.Closures[lap].Name, text.Plural(x.C.Notion.Kind), want, x.widenLap(lap, need)).Line("the edge lies %s the centre line, but they need %s", lies, want)
					}
				}
			})
		},
	},
	{
		Name: "parts-touch", Severity: Conflict,
		Rests:   []string{"closure.*.notion", "closure.*.run"},
		Task:    NoTask,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "two closures of one opening must not lie on each other",
		Formula: "no fastener or hole of one overlaps one of the other on the same piece",
		Why:     "Two fasteners cannot be set at one place.",
		Sources: []string{"geometry"},
		Check: func(x *Context) {
			i := x.C.Index
			if x.K.PieceOf == "" || x.K.Zip.Needed {
				return
			}
			x.onPieces(func(pc *plan.Piece) {
				touching(pc, i, func(a, b *plan.Part) {
					x.report(Conflict, x.at("run"), x.overlap(a, b), "the %s at %s lies on the %s of the %s, at %s", text.One(a.Kind.String()), x.say(a.Centre.At), text.One(b.Kind.String()), x.G.Closures[b.Closure].Name, x.say(b.Centre.At)).Line("the %s at %s lies on the %s of the %s, at %s", text.One(a.Kind.String()), x.say(a.Centre.At), text.One(b.Kind.String()), x.G.Closures[b.Closure].Name, x.say(b.Centre.At))
				})
			})
		},
	},
}

// onPieces runs do for the pieces of the closure's opening in every size. Of all
// that it reports the worst stays: the gravest, then what is short by most, then
// the first.
func (x *Context) onPieces(do func(pc *plan.Piece)) {
	from := len(x.P.Findings)
	for size, name := range x.G.Sizes {
		x.Size = name
		for _, pc := range x.P.PiecesOf(x.C.Index, size) {
			do(&pc)
		}
	}
	x.Size = ""
	if said := x.P.Findings[from:]; len(said) != 0 {
		said[0] = slices.MinFunc(said, func(a, b Finding) int {
			return cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(a.Margin, b.Margin))
		})
		x.P.Findings = x.P.Findings[:from+1]
	}
}

// zipClear is how far inside the teeth of the opening's zip the other
// fasteners are held, and how far they must be.
func (x *Context) zipClear() (inside, need measure.Length, is bool) {
	k := x.K
	if x.C.Opening == "" || k.Zip.Needed {
		return 0, 0, false
	}
	zip := x.P.Zip(x.C.Index)
	if zip == nil {
		return 0, 0, false
	}
	inside, half := k.Held()
	need = max(zip.Zip.Tape, zip.Zip.Half) + plan.ZipStitch + half
	if !k.Loop.Needed {
		need = max(need, k.Reach.Rim+plan.RimClear+zip.Zip.Fold) // on the under front, which is folded there
	}
	return inside, need, true
}

// holeClear is how far outside the teeth of the zip of the opening the holes
// of a double-breasted front end, nearest of those that are cut, and how far
// they must: outside the stitching of the zip's other half.
func (x *Context) holeClear() (end, least measure.Length) {
	h := &x.K.Hole
	zip := x.P.Zip(x.C.Index)
	if zip == nil || x.C.Lap != "double" || x.C.Flap.Has() || !h.Needed || h.Kind == "loop" {
		return 0, 0
	}
	in := h.Inside
	if h.Direction == "along" {
		in = h.Width / 2
	}
	end = math.MaxInt64
	for i := range x.K.Sizes {
		rows := x.K.Sizes[i].Rows
		for _, r := range rows[len(rows)-plan.Working(x.C, len(rows)):] {
			end = min(end, r-in)
		}
	}
	return end, zip.Zip.Half + plan.ZipStitch
}

// flapInset is how far from the meeting line the fasteners of a flap must
// stand to clear its seam and the edge of the under front.
func (x *Context) flapInset() measure.Length {
	edge, seam := x.flapInsets()
	return max(edge, seam)
}

// flapInsets are how far for the edge, and how far for the seam.
func (x *Context) flapInsets() (edge, seam measure.Length) {
	if pc := x.underPiece(); pc != nil {
		edge = -pc.Finished
	}
	return x.K.Reach.Rim + plan.RimClear + edge, x.K.Reach.In + plan.RimClear - x.P.SewnOn(x.C.Index)
}

// underPiece is the under piece of the opening, nil where it has no edge.
func (x *Context) underPiece() *plan.Piece {
	ps := x.P.PiecesOf(x.C.Index, 0)
	for i := range ps {
		if ps[i].Side == plan.Under && ps[i].Edged {
			return &ps[i]
		}
	}
	return nil
}

// flapNeed is what flapInset rests on.
func (x *Context) flapNeed() plan.Basis {
	edge := plan.RoundBasis(x.C)
	if under := x.underPiece(); under != nil {
		edge = edge.And(x.P.UnderEdgeBasis(x.C.Index))
	}
	seam := plan.ReachInBasis(x.C, x.K).And(x.sewnBasis())
	e, s := x.flapInsets()
	return plan.Larger(e, edge, s, seam)
}

// clearBasis is what the distance from a zip rests on: its tape, half of what
// holds the fastener, and where that stands. Where the rim asks for more, so much
// of it rests on the rim and on the fold beside the zip, which is our own.
func (x *Context) clearBasis(need measure.Length) []plan.Basis {
	zip, key := x.P.Zip(x.C.Index), "flap.inset"
	if x.K.Loop.Needed {
		key = "inset"
	}
	_, half := x.K.Held()
	tape, held := max(zip.Zip.Tape, zip.Zip.Half)+plan.ZipStitch+half, plan.ZipBasis(zip.Closure)
	if !x.K.Apart() {
		held = held.And(plan.HeldBasis(x.C))
	}
	if need > tape {
		rim := plan.RoundBasis(x.C).And(plan.ChainBasis(zip.Closure)).And(plan.Basis{Tol: zip.Zip.Fold - zip.Zip.Half, Ground: plan.Derived, Key: x.key(key)})
		held = plan.Larger(need, rim, tape, held)
	}
	return []plan.Basis{held, plan.HeldAtBasis(x.C, x.K)}
}

// sewnBasis is what the seam of a flap beside a zip rests on.
func (x *Context) sewnBasis() plan.Basis {
	if z := x.P.Zip(x.C.Index); z != nil {
		return plan.ChainBasis(z.Closure)
	}
	return plan.Basis{}
}

// lapBasis is what it rests on how far the over piece reaches.
func (x *Context) lapBasis() plan.Basis {
	if i := x.P.Lap(x.C.Index); i != -1 {
		return plan.EdgeBasis(&x.G.Closures[i], &x.P.Closures[i])
	}
	return plan.EdgeBasis(x.C, x.K)
}

// allowance names the seam allowance of the edge.
func (x *Context) allowance() string {
	if s := x.K.Stand.Seam; s > 0 {
		return "the seam allowance, " + x.len(s)
	}
	return "an edge without a seam allowance"
}

// outTo says how far outside the line of the holes work reaches.
func (x *Context) outTo(l measure.Length) any {
	if l == 0 {
		return "it"
	}
	return x.say(l)
}

// inside says how far inside a line something lies, or that it lies on it.
func inside(l Said, line string) later {
	return func() string {
		if l.l == 0 {
			return "on " + line
		}
		return l.String() + " inside " + line
	}
}

// from says how far from a line something stands, or that it stands on it.
func from(l Said, line string) later {
	return func() string {
		if l.l == 0 {
			return "on " + line
		}
		return l.String() + " from " + line
	}
}

// outwardBasis is what the outer end of a strip and of the work on it rest on.
func (x *Context) outwardBasis() []plan.Basis {
	out := []plan.Basis{plan.StripBasis(x.C, x.K), plan.ColumnBasis(x.C)}
	switch h := &x.K.Hole; {
	case h.Needed && h.Direction == "along" && h.Kind != "loop":
		out = append(out, x.kindBasis(x.K.Outward()-x.K.Support.Begins, plan.KeyholeWider/2))
	case !h.Needed || h.Kind == "loop":
		out = append(out, plan.HeldBasis(x.C))
	}
	return out
}

// partBasis is what it rests on how far a part reaches from its centre, and
// where that lies: its end of the run is a default where the file does not say it.
func (x *Context) partBasis(q *plan.Part) plan.Basis {
	c, k := &x.G.Closures[q.Closure], &x.P.Closures[q.Closure]
	b := plan.InBasis(c)
	if q.Kind == plan.HolePart {
		b = plan.HoleBasis(c, k)
	}
	for _, end := range []string{"first", "last"} {
		given := c.Run.First
		if end == "last" {
			given = c.Run.Last
		}
		if !given.Has() {
			b = b.And(plan.Basis{Ground: plan.Default, Key: catalog.Key("closure", c.Name, "run", end)})
		}
	}
	return b
}

// outBasis is what it rests on how far a part reaches towards the edge from its
// centre: a hole as far as it always does, a short one half its length.
func (x *Context) outBasis(q *plan.Part) plan.Basis {
	if h := &x.K.Hole; q.Kind == plan.HolePart {
		if h.Direction == "across" && h.Beyond == h.Length/2 {
			return plan.HoleBasis(x.C, x.K).Scaled(0.5)
		}
		return plan.Basis{}
	}
	return plan.RimBasis(x.C)
}

// overlap is by how much two parts lie on each other, with what it rests on.
func (x *Context) overlap(a, b *plan.Part) Numbers {
	by := min(min(a.OutTo, b.OutTo)-max(a.OutFrom, b.OutFrom), min(a.To, b.To)-max(a.From, b.From))
	return Numbers{Margin: -by.MM()}.on(x.partBasis(a), x.partBasis(b))
}

// instead is what keeps fasteners off the teeth.
func instead(x *Context) string {
	if x.K.Loop.Needed {
		return "an inset, where cord and loop are sewn on"
	}
	return "a flap of their own, [closure.flap] with width and inset"
}

// insteadShort is the same in a few words.
func insteadShort(x *Context) string {
	if x.K.Loop.Needed {
		return "an inset"
	}
	return "a flap of their own"
}

// widenLap says what to write in the closure that draws the edge for it to
// lie so far from the meeting line, where the file draws it.
func (x *Context) widenLap(lap int, edge measure.Length) fmt.Stringer {
	y := *x
	y.C, y.K = &x.G.Closures[lap], &x.P.Closures[lap]
	var w together
	switch {
	case y.standKey() != "":
		w = y.widen(edge - y.K.Stand.Column)
	case !y.K.Stand.Known && y.C.Edge.Has() && y.K.Stand.Have == y.C.Edge.V:
		w = together{y.Least(edge).For(y.at("edge")).in("set them ", " from the edge")}
	default:
		return later(func() string { return "" })
	}
	w[0].before = ": in " + y.C.Name + ", " + w[0].before
	return w
}

// setFlap says how far from the meeting line to set the fasteners of a flap,
// and how wide it is to be where that leaves them no stand.
func (x *Context) setFlap(inset measure.Length) together {
	out := together{x.Least(inset).For(x.at("flap.inset")).in("set them ", " from the meeting line")}
	least, _, _ := plan.StandFor(&x.C.Notion) // whole, once the file says the inset
	if w := printedUp(inset) + least; x.C.Flap.Width.V < w {
		out = append(out, x.Least(w).For(x.at("flap.width")).in("make the flap ", " wide"))
	}
	return out
}

// lapEdge is how far beyond the meeting line the over piece reaches.
func (x *Context) lapEdge() measure.Length {
	for _, pc := range x.P.PiecesOf(x.C.Index, 0) {
		if pc.Side == plan.Over {
			return max(0, pc.Finished)
		}
	}
	return max(0, x.K.Stand.Have)
}

// touching tells the parts of closure i with those of closures before it that
// they lie on.
func touching(pc *plan.Piece, i int, tell func(a, b *plan.Part)) {
	for m := range pc.Parts {
		a := &pc.Parts[m]
		if int(a.Closure) != i || soft(a.Kind) {
			continue
		}
		for n := range pc.Parts {
			b := &pc.Parts[n]
			if b.Closure < a.Closure && !soft(b.Kind) && a.OutFrom < b.OutTo && b.OutFrom < a.OutTo && a.From < b.To && b.From < a.To {
				tell(a, b)
			}
		}
	}
}

// crossed is a line of that kind of the piece that a part lies on.
func crossed(pc *plan.Piece, q *plan.Part, kind plan.LineKind) (out measure.Length, is bool) {
	for _, l := range pc.Lines {
		if l.Kind == kind && q.OutFrom < l.From.Out && q.OutTo > l.From.Out {
			return l.From.Out, true
		}
	}
	return 0, false
}

// soft says whether a part may lie over another: loops and cords, and the
// zip, which zip-clear keeps clear of.
func soft(k plan.PartKind) bool {
	switch k {
	case plan.LoopPart, plan.CordPart, plan.TeethPart, plan.TapePart, plan.BackingPart:
		return true
	}
	return false
}

// MeetingLine is the line where the two sides of the opening that closure i closes
// meet: the centre line, the line of the holes of a flap, and so on.
func MeetingLine(p *plan.Plan, i int) string {
	switch l := p.Lap(i); {
	case l != -1 && plan.LapOf(&p.Garment.Closures[l]) != "edge" && plan.IsFront(&p.Garment.Closures[l]):
		return "the centre line"
	case l != -1 && plan.LapOf(&p.Garment.Closures[l]) != "edge" && p.Closures[l].SewnHole():
		return "the line of the holes"
	case l != -1 && plan.LapOf(&p.Garment.Closures[l]) != "edge" && p.Closures[l].Loop.Needed:
		return "the line of the loops"
	case l != -1 && plan.LapOf(&p.Garment.Closures[l]) != "edge":
		return "the line of the " + text.Plural(p.Garment.Closures[l].Notion.Kind)
	case p.Zip(i) != nil:
		return "the line of the teeth"
	}
	return "the line where the edges meet"
}

func (x *Context) meeting() string { return MeetingLine(x.P.Plan, x.C.Index) }
