package rules

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// pieceRules are about how the closures of an opening lie on its pieces.
var pieceRules = []*Rule{
	{
		Name: "zip-clear", Severity: Conflict,
		Task:  NoTask,
		Reads: ReadsNotion,
		Room: func(x *Context) Numbers {
			if inside, need, is := x.zipClear(); is {
				return atLeast(inside, need)
			}
			return Numbers{}
		},
		Title:   "nothing is sewn, set or cut through a zip",
		Formula: "stitches, post or patch of the other fasteners of the opening: at least tape + 1/4 in inside the teeth, and half their own width",
		Why:     "A needle, a post or a hole through tape or teeth ruins the zip; beside the tape the slider and its foot need room.",
		Sources: []string{
			"US Army TM 10-8400-203-23, p. 79: stitching clear of the chain and the slider by 1/4 in",
			"geometry of tape and fastener",
		},
		Check: func(x *Context) {
			inside, need, is := x.zipClear()
			if !is || inside >= need {
				return
			}
			c := x.C
			what := c.Notion.Kind
			have, want := x.Apart(max(inside, 0), need)
			switch {
			case x.K.Apart():
				x.report(Conflict, x.at("inset"), atLeast(inside, need), "the cord of the %s is sewn on %s inside the teeth; its patch needs %s to clear the tape of the zip by 1/4 in", what, have, want)
			case c.Flap.Has():
				at := x.at("flap")
				if c.Flap.Inset.Has() {
					at = x.at("flap.inset")
				}
				x.report(Conflict, at, atLeast(inside, need), "under the flap the %ss stand %s inside the teeth, but need %s to clear the tape of the zip by 1/4 in", what, have, want)
			case inside <= 0:
				x.report(Conflict, x.at(""), atLeast(inside, need), "the %ss stand on the teeth of the zip of the same opening: give them %s", what, instead(x))
			default:
				x.report(Conflict, x.at(""), atLeast(inside, need), "the %ss stand %s inside the teeth of the zip of the same opening, but need %s to clear its tape by 1/4 in", what, have, want)
			}
		},
		Propose: func(x *Context, f *Finding) []Change {
			_, need, is := x.zipClear()
			if !is {
				return nil
			}
			need = need.RoundUp(plan.HoleStep(x.U))
			switch {
			case x.K.Loop.Needed:
				need = max(need, x.K.Stand.Have+plan.PatchHalf).RoundUp(plan.HoleStep(x.U))
				return []Change{{With: []string{x.key("inset") + "=" + need.Exact(x.U)}, Says: "sew cord and loop on " + x.len(need) + " inside the meeting line", Cost: 2}}
			case x.C.Notion.Kind == catalog.Hook:
				return nil
			}
			width := max(x.C.Flap.Width.V, (need + max(x.K.Stand.Usual, x.K.Stand.Full)).RoundUp(plan.HoleStep(x.U)))
			return []Change{{
				With: []string{x.key("flap.width") + "=" + width.Exact(x.U), x.key("flap.inset") + "=" + need.Exact(x.U)},
				Says: "set them on a flap " + x.len(width) + " wide, " + x.len(need) + " from the meeting line", Cost: 2,
			}}
		},
	},
	{
		Name: "zip-seam", Severity: Conflict,
		Task:    TaskZip,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "the stitching must catch the zip's tape, and the seam must hold it",
		Formula: "tape > half the chain + 1/4 in (conflict below), + 1/8 in (caution below); tape ≤ seam allowance + half the chain + 1/8 in, where no facing covers it (note)",
		Why:     "Stitched beside the tape the zip hangs loose; a tape that stands out of the seam frays and catches.",
		Sources: []string{
			"US Army TM 10-8400-203-23, p. 79: stitching at least 1/4 in from the inner edge of the chain",
			"geometry of tape and seam",
		},
		Ours: "1/8 in of tape beyond the stitching",
		Check: func(x *Context) {
			z := &x.K.Zip
			if !z.Needed || z.Tape == 0 {
				return
			}
			least := z.Half + z.Stitched
			at := x.notionWord("tape")
			switch {
			case z.Tape <= least:
				have, need := x.small(z.Tape, least)
				x.report(Conflict, at, atLeast(z.Tape, least), "the tape is %s wide to the middle of the teeth, but stitching 1/4 in from them lies %s away: it catches no tape; take a zip with a wider one", have, need)
			case z.Tape < least+eighth:
				have, need := x.small(z.Tape, least+eighth)
				x.report(Caution, at, atLeast(z.Tape, least+eighth), "the tape is %s wide to the middle of the teeth; %s leaves 1/8 in beyond the stitching", have, need)
			case z.TapeIn < 0:
				if facing, by := x.P.Facing(x.C.Index); by >= 0 && facing >= z.Tape {
					return
				}
				x.report(Note, x.at("stand"), atLeast(x.K.Stand.Seam, x.K.Stand.Seam-z.TapeIn), "the tape stands %s out of the seam allowance, %s: bind it, cover it with a facing, or cut the allowance %s", x.sayFine(-z.TapeIn), x.say(x.K.Stand.Seam), x.say((x.K.Stand.Seam - z.TapeIn).RoundUp(plan.HoleStep(x.U))))
			}
		},
		Propose: func(x *Context, f *Finding) []Change {
			if f.Severity == Note {
				w := (x.K.Stand.Seam - x.K.Zip.TapeIn).RoundUp(plan.HoleStep(x.U))
				return []Change{{With: []string{x.key("stand.seam") + "=" + w.Exact(x.U)}, Says: "cut the seam allowance " + x.len(w), Cost: 1}}
			}
			return x.otherZips(func(n *catalog.Notion) bool { return n.Tape.V >= plan.ZipHalf(n)+plan.ZipStitch+eighth })
		},
	},
	{
		Name: "zip-stops", Severity: Conflict,
		Task:    TaskZip,
		Reads:   ReadsRest,
		Room:    noRoom,
		Title:   "the stops of a zip lie inside its opening",
		Formula: "run.first (1/2 in on a front where it is not given) + run.last < run.length",
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
				have, need := x.Apart(run, ends)
				x.report(Conflict, x.sizePath("length", x.C.Run.Length, s.Size), atLeast(run, ends), "the stops of the zip take %s of a run of %s: nothing is left between them", need, have)
			}
			x.Size = ""
		},
	},
	{
		Name: "toggle-patch", Severity: Conflict,
		Task:    TaskFasten,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the cord of a toggle comes out from under the lap",
		Formula: "inset ≥ centre line to the edge of the lap (conflict below), + half a patch of 1 1/2 in (caution below); without inset: a note",
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
					x.report(Note, x.at(""), Numbers{}, "where the cords of the %ss are sewn on is not said: it lies beyond the lap of %s; set inset, usually %s to %s with patches over the ends", x.C.Notion.Kind, x.say(k.Stand.Have), x.say(patchNear), x.say(patchFar))
				}
				return
			}
			edge := x.lapEdge()
			switch inset := x.C.Inset.V; {
			case inset < edge:
				have, need := x.Apart(inset, edge)
				x.report(Conflict, x.at("inset"), atLeast(inset, edge+plan.PatchHalf), "the cord is sewn on %s inside the centre line, beneath the lap, which reaches %s: sew it on %s inside", have, need, x.say(edge+plan.PatchHalf))
			case inset < edge+plan.PatchHalf:
				have, need := x.Apart(inset, edge+plan.PatchHalf)
				x.report(Caution, x.at("inset"), atLeast(inset, edge+plan.PatchHalf), "the cord is sewn on %s inside the centre line: the lap covers part of its patch; %s clears it", have, need)
			}
		},
		Propose: func(x *Context, f *Finding) []Change {
			if f.Severity == Note {
				return nil
			}
			w := (x.lapEdge() + plan.PatchHalf).RoundUp(plan.HoleStep(x.U))
			return []Change{{With: []string{x.key("inset") + "=" + w.Exact(x.U)}, Says: "sew cord and loop on " + x.len(w) + " inside the centre line", Cost: 2}}
		},
	},
	{
		Name: "strip-start", Severity: Conflict,
		Task:    NoTask,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "the interfacing begins outside the holes",
		Formula: "extension − strip_from_edge ≥ the hole's reach towards the edge, or half its width where it lies along",
		Why:     "A hole that begins on bare cloth stretches at the end that takes the pull.",
		Sources: []string{"geometry", "common practice, no source: a 3 in strip begun 1/2 in from the cut edge"},
		Check: func(x *Context) {
			s := &x.K.Support
			if !s.Needed || !s.Placed || s.Interfacing == nil {
				return
			}
			if need := x.K.Outward(); s.Begins < need {
				x.report(Conflict, x.stripStart(), atLeast(s.Begins, need), "the strip begins %s outside %s, but the work there reaches %s: begin it nearer to the edge", x.Signed(s.Begins), x.holesLine(), x.say(need))
			}
		},
		Propose: func(x *Context, f *Finding) []Change {
			if !x.C.Stand.StripFromEdge.Has() {
				return nil
			}
			st, s := &x.K.Stand, &x.K.Support
			from := max(0, st.Extension-st.Column-x.K.Outward()-quarter).RoundDown(plan.HoleStep(x.U))
			with := []string{x.key("stand.strip_from_edge") + "=" + from.Exact(x.U)}
			if s.Given {
				w := (st.Extension - st.Column - from + s.UsualReach).RoundUp(plan.HoleStep(x.U))
				with = append(with, x.key("stand.strip")+"="+max(w, s.Strip).Exact(x.U))
			}
			return []Change{{With: with, Says: "begin the strip " + x.len(from) + " from the cut edge", Cost: 1}}
		},
	},
	{
		Name: "flap-seam", Severity: Conflict,
		Task:    NoTask,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "the fasteners of a flap stand clear of its seam",
		Formula: "meeting line to the line of the fasteners + to the flap's seam (half the chain + 1/4 in, or 1/4 in) ≥ D/2 + 3 mm",
		Why:     "A cap that straddles the seam tilts, and its tool strikes the ridge.",
		Sources: []string{"geometry", "Sew Today, 2019: rim 3 mm clear of the edge, taken for the seam too"},
		Check: func(x *Context) {
			if !x.C.Flap.Has() || x.K.Zip.Needed {
				return
			}
			inset := x.C.Flap.Width.V - x.K.Stand.Have
			have, need := inset+x.P.SewnOn(x.C.Index), x.K.Reach.Rim+plan.RimClear
			if have < need {
				h, n := x.Apart(have, need)
				x.report(Conflict, x.at("flap"), atLeast(have, need), "the fasteners of the flap stand %s from its seam, but need %s: set them farther out", h, n)
			}
		},
		Propose: func(x *Context, f *Finding) []Change {
			w := (x.K.Reach.Rim + plan.RimClear - x.P.SewnOn(x.C.Index)).RoundUp(plan.HoleStep(x.U))
			return []Change{{With: []string{x.key("flap.inset") + "=" + w.Exact(x.U)}, Says: "set them " + x.len(w) + " from the meeting line", Cost: 1}}
		},
	},
	{
		Name: "stitch-hole", Severity: Caution,
		Task:    TaskSample,
		Reads:   ReadsNotion,
		Room:    noRoom,
		Title:   "top-stitching must not cross the holes",
		Formula: "finished edge − topstitch ≥ the hole's reach towards the edge",
		Why:     "The row of stitches is cut when the hole is opened, and ravels.",
		Sources: []string{"geometry"},
		Check: func(x *Context) {
			h, st, top := &x.K.Hole, &x.K.Stand, x.C.Stand.TopstitchInset
			if !top.Has() || !h.Needed || h.Kind == "loop" || x.C.Lap == "edge" {
				return
			}
			if have, need := st.Have-top.V, x.K.Outward(); have < need && have > -x.K.Reach.In {
				a, b := x.Apart(top.V, max(0, st.Have-need))
				x.report(Caution, x.at("stand.topstitch"), atMost(top.V, st.Have-need), "top-stitching %s from the edge runs through the holes, which end %s from it", a, b)
			}
		},
		Propose: func(x *Context, f *Finding) []Change {
			w := (x.K.Stand.Have - x.K.Outward()).RoundDown(plan.HoleStep(x.U))
			if w <= 0 {
				return nil
			}
			w = min(w, eighth)
			return []Change{{With: []string{x.key("stand.topstitch") + "=" + w.Exact(x.U)}, Says: "top-stitch " + x.len(w) + " from the edge", Cost: 1}}
		},
	},
	{
		Name: "parts-touch", Severity: Conflict,
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
			for size, name := range x.G.Sizes {
				for _, pc := range x.P.PiecesOf(i, size) {
					if a, b, touch := touching(&pc, i); touch {
						x.Size = name
						x.report(Conflict, x.at("run"), Numbers{}, "the %s at %s lies on the %s of %s, at %s", a.Kind, x.say(a.Centre.At), b.Kind, x.G.Closures[b.Closure].Name, x.say(b.Centre.At))
						x.Size = ""
						return // once is enough
					}
				}
			}
		},
	},
}

const (
	patchNear = 50 * mm // a patch's edge from the centre line, from memory
	patchFar  = 80 * mm
)

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
	return inside, max(zip.Zip.Tape, zip.Zip.Half) + plan.ZipStitch + half, true
}

// instead is what keeps fasteners off the teeth.
func instead(x *Context) string {
	if x.K.Loop.Needed {
		return "an inset, where cord and loop are sewn on"
	}
	return "a flap of their own, [closure.flap] with width and inset"
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

// stripStart is the place of where a strip begins.
func (x *Context) stripStart() place {
	if x.C.Stand.StripFromEdge.Has() {
		return x.at("stand.strip_from_edge")
	}
	return x.at("stand.strip")
}

// touching are a part of closure i and one of a closure before it that lie on
// each other.
func touching(pc *plan.Piece, i int) (a, b *plan.Part, touch bool) {
	for m := range pc.Parts {
		a := &pc.Parts[m]
		if int(a.Closure) != i || soft(a.Kind) {
			continue
		}
		for n := range pc.Parts {
			b := &pc.Parts[n]
			if b.Closure < a.Closure && !soft(b.Kind) && a.OutFrom < b.OutTo && b.OutFrom < a.OutTo && a.From < b.To && b.From < a.To {
				return a, b, true
			}
		}
	}
	return nil, nil, false
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
