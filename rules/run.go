package rules

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
	"placketeer/spacing"
)

// clashPath is the place in the file of a constraint of the run.
func (x *Context) clashPath(c spacing.Constraint, size int) string {
	sized := func(key string, s catalog.Sized) string {
		p := x.path("run." + key)
		if len(s) > 1 && x.G.Sizes[size] != "" {
			return source.Join(p, x.G.Sizes[size])
		}
		return p
	}
	run := &x.C.Run
	switch c.Kind {
	case spacing.KindRun:
		return sized("length", run.Length)
	case spacing.KindFirst:
		return sized("first", run.First)
	case spacing.KindLast:
		return sized("last", run.Last)
	case spacing.KindCount:
		if len(run.Count) > 1 {
			return source.Join(x.path("run.count"), x.G.Sizes[size])
		}
		return x.path("run.count")
	case spacing.KindStep:
		return x.path("run.step")
	case spacing.KindGapMin:
		return sized("gap.min", run.GapMin)
	case spacing.KindGapMax:
		return sized("gap.max", run.GapMax)
	case spacing.KindMatch:
		return x.path("run.match")
	case spacing.KindAnchor:
		return source.Item(x.path("run.anchor"), c.Index)
	case spacing.KindClear:
		if c.Index >= len(run.Clears) {
			return sized("hem", run.Hem)
		}
		return source.Item(x.path("run.clear"), c.Index)
	}
	return x.path("run")
}

// clashWords is a constraint in words with its figures.
func (x *Context) clashWords(c spacing.Constraint, p *spacing.Problem) string {
	run := &x.C.Run
	switch c.Kind {
	case spacing.KindRun:
		return "the run's length"
	case spacing.KindFirst:
		return usual(run.First.Has()) + "first at " + x.window(p.First)
	case spacing.KindLast:
		return usual(run.Last.Has()) + "last at " + x.window(p.Last)
	case spacing.KindCount:
		if p.CountMin == p.CountMax {
			return "count " + strconv.Itoa(p.CountMin)
		}
		return "count " + strconv.Itoa(p.CountMin) + " to " + strconv.Itoa(p.CountMax)
	case spacing.KindStep:
		return usual(run.Step.Has()) + "step " + x.len(p.Step)
	case spacing.KindGapMin:
		return "gap at least " + x.len(p.Gap.Min)
	case spacing.KindGapMax:
		return "gap at most " + x.len(p.Gap.Max)
	case spacing.KindMatch:
		return "the repeat of " + x.C.Run.Match + ", " + x.len(p.Repeat)
	case spacing.KindAnchor:
		a := p.Anchors[c.Index]
		return "anchor " + a.Name + " at " + x.len(a.At) + " within " + x.len(a.Within)
	case spacing.KindClear:
		z := p.Clear[c.Index]
		free := x.len(z.From+x.K.Reach.Down) + " to " + x.len(min(z.To-x.K.Reach.Up, p.Run))
		what := "clear " + z.Name + " "
		if c.Index >= len(x.C.Run.Clears) {
			what = "the turned-up hem, "
		}
		return what + free + ", with " + x.len(max(x.K.Reach.Up, x.K.Reach.Down)) + " for the fastener"
	}
	return c.String()
}

// clashLine names what cannot hold together in one line.
func (x *Context) clashLine(c *spacing.Clash, p *spacing.Problem) string {
	names := make([]string, len(c.Constraints))
	for i, at := range c.Constraints {
		switch at.Kind {
		case spacing.KindRun:
			names[i] = "the run's length"
		case spacing.KindGapMin:
			names[i] = "the least gap"
		case spacing.KindGapMax:
			names[i] = "the greatest gap"
		case spacing.KindMatch:
			names[i] = "the repeat"
		case spacing.KindAnchor:
			names[i] = "anchor " + p.Anchors[at.Index].Name
		case spacing.KindClear:
			names[i] = "clear " + p.Clear[at.Index].Name
			if at.Index >= len(x.C.Run.Clears) {
				names[i] = "the turned-up hem"
			}
		default:
			names[i] = "the " + at.Kind.String()
		}
	}
	end := " cannot hold together"
	if len(names) == 1 {
		end = " cannot hold"
	}
	if line := text.And(names...) + end; text.Width(line) <= LineWidth {
		return line
	}
	return strconv.Itoa(len(names)) + " settings of the run" + end
}

// clashBasis is what a clash in a size rests on: on a usual end where one that
// the file does not give may lie elsewhere, and on the fastener's own reach where
// with none it could be laid out.
func (x *Context) clashBasis(i int) plan.Basis {
	switch z := &x.K.Sizes[i]; {
	case z.UsualEnd:
		key := "last"
		if x.C.Run.Last.Has() {
			key = "first"
		}
		return plan.Basis{Ground: plan.Default, Key: catalog.Key("closure", x.C.Name, "run", key)}
	case z.Room:
		b := plan.DownBasis(x.C, x.K)
		if b.Tol > 0 && !plan.LaidOut(x.G, x.C, x.K, i, b.Tol) {
			b.Tol = 0 // no ± helps
		}
		return b
	}
	return plan.Basis{}
}

// usual marks a value that the file does not give.
func usual(given bool) string {
	if given {
		return ""
	}
	return "the usual "
}

func (x *Context) window(w spacing.Window) string {
	above := func(l measure.Length) string { // what does not fit comes to lie before the run begins
		if l < 0 {
			return x.len(-l) + " above the top"
		}
		return x.len(l)
	}
	if w.Fixed() {
		return above(w.Min)
	}
	return above(w.Min) + " to " + above(w.Max)
}

// eachSize runs do for every size with a layout, with the context's size
// set.
func (x *Context) eachSize(do func(i int, s *plan.Size)) {
	for i := range x.K.Sizes {
		if s := &x.K.Sizes[i]; s.Solved {
			x.Size = s.Size
			do(i, s)
		}
	}
	x.Size = ""
}

// sizePath is the path of a value that may be given by size.
func (x *Context) sizePath(key string, s catalog.Sized, size string) place {
	switch {
	case !s.Has():
		return x.at("run")
	case len(s) > 1 && size != "":
		return whole(source.Join(x.path("run."+key), size))
	}
	return x.at("run." + key)
}

// sizeKey is the place where such a value is written, also where the file
// gives none.
func (x *Context) sizeKey(key string, s catalog.Sized, size string) place {
	if !s.Has() {
		return x.at("run." + key)
	}
	return x.sizePath(key, s, size)
}

// endAt is the least of first or last, to be written where the run has room
// for it.
func (x *Context) endAt(need Said, key string, s *plan.Size) fmt.Stringer {
	given, other := x.C.Run.First, x.C.Run.Last
	if key == "last" {
		given, other = other, given
	}
	for i, size := range x.G.Sizes {
		far := measure.Length(0)
		if other.Has() {
			far = other.At(i).V
		}
		if (len(given) < 2 || size == s.Size) && printedUp(need.l)+far > x.C.Run.Length.At(i).V {
			return need
		}
	}
	return need.For(x.sizeKey(key, given, s.Size))
}

// clearsHem is how far above the hem line the last fastener must lie so that
// its hole clears the hem turned up in any size; 0 without one.
func (x *Context) clearsHem() measure.Length {
	most := measure.Length(0)
	if !x.K.SewnHole() || !x.P.Hems(x.C.Index) {
		return 0
	}
	for i := range x.G.Sizes {
		hem, _ := x.P.Hem(x.C.Index, i)
		most = max(most, hem.V+x.K.Hole.Below()+plan.AboveTurnUp)
	}
	return most
}

// gapLeast is the least gap, to be written where the file does not keep gaps
// below it.
func (x *Context) gapLeast(need Said) fmt.Stringer {
	if most := x.C.Run.GapMax; x.C.Run.Group > 1 || most.Has() {
		return need
	}
	return need.For(x.at("run.gap.min"))
}

var runRules = []*Rule{
	{
		Name: "spacing-clash", Severity: Conflict,
		Rests:   []string{"closure.*.direction", "closure.*.hole", "closure.*.hole_length", "closure.*.lap", "closure.*.notion", "closure.*.run", "closure.*.stand"},
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "what is asked of the run must be possible together",
		Formula: "all centres on the marking step, gaps within their limits, a centre near every anchor, none in a clear zone widened by the fastener's own reach; where it is possible with another end than a usual one, which the file does not give, a caution",
		Why:     "Forcing it on the cutting table ends in an uneven front or a buttonhole under the belt.",
		Sources: []string{"exact search over all layouts; the smallest set that cannot hold together is named"},
		Check: func(x *Context) {
			if x.C.Notion.Kind == catalog.Zip || !x.C.Run.Length.Has() {
				return
			}
			for i := range x.K.Sizes {
				if x.K.Sizes[i].Solved {
					continue
				}
				x.Size = x.K.Sizes[i].Size
				var clash *spacing.Clash
				err := x.K.Sizes[i].Err
				if err == nil {
					// Alone it could be: it is the search over all sizes that was stopped.
					err = &spacing.TooMany{Tried: spacing.MaxTries, Give: []spacing.Kind{spacing.KindCount, spacing.KindStep}}
				}
				if !errors.As(err, &clash) || len(clash.Constraints) == 0 {
					x.report(Conflict, x.at("run"), Numbers{}.on(x.clashBasis(i)), "the run cannot be laid out: %s", x.later(func(*Context) string { return strings.TrimPrefix(err.Error(), "spacing: ") })).Line("the run cannot be laid out: %s", x.later(func(*Context) string { return strings.TrimPrefix(err.Error(), "spacing: ") }))
					continue
				}
				p := plan.ProblemOf(x.G, x.C, x.K, i)
				words := make([]string, len(clash.Constraints))
				for j, c := range clash.Constraints {
					words[j] = x.clashWords(c, &p)
				}
				verb := "cannot hold together: change one of them"
				if len(words) == 1 {
					verb = "cannot hold"
				}
				f := x.report(Conflict, whole(x.clashPath(clash.Constraints[0], i)), Numbers{}.on(x.clashBasis(i)), "%s %s", text.And(words...), verb).Line("%s", x.later(func(x *Context) string { return x.clashLine(clash, &p) }))
				for j, c := range clash.Constraints {
					f.Related = append(f.Related, Related{words[j], x.G.At(x.clashPath(c, i))})
				}
			}
			x.Size = ""
		},
		unlaid:  true,
		Touches: anotherRun,
		Propose: proposeRun,
	},
	{
		Name: "size-count", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a size that needs another count than the rest",
		Formula: "the count that most sizes have a layout for is taken for all; a size without one gets its own",
		Why:     "One size with another number of buttons means other marks, another count to buy, and a pattern sheet of its own.",
		Sources: []string{"exact search over all layouts of all sizes"},
		Check: func(x *Context) {
			common := 0
			for i := range x.K.Sizes {
				if s := &x.K.Sizes[i]; s.Solved && !s.OwnCount {
					common = s.Count
				}
			}
			x.eachSize(func(i int, s *plan.Size) {
				if s.OwnCount {
					x.report(Caution, x.at("run.gap"), noMore(s.Count, common, ""),
						"this size takes %d where the others take %d: widen the gap limits, or mark and buy for it apart", s.Count, common).Line("%d here, %d in the other sizes: widen the gap limits", s.Count, common)
				}
			})
		},
	},
	{
		Name: "first-high", Severity: Conflict,
		Rests: []string{"closure.*.direction", "closure.*.hole_centred", "closure.*.hole_length", "closure.*.notion", "closure.*.run"},
		Task:  NoTask,
		Reads: ReadsNotion,
		Room: func(x *Context) Numbers {
			return x.leastOf(plan.AlongOf(&x.C.Notion)/2, func(s *plan.Size) (measure.Length, bool) { return s.First, true })
		},
		Title:   "the first fastener must clear the top edge",
		Figure:  "first below the top",
		Formula: "first ≥ D/2 and a hole along must begin below the top (conflict below), ≥ {end}, of a rivet ≥ D/2 + {rim} where that is less (caution below); over {low} and over D + {below neck}, up to what can be marked: note, unless it is the only one",
		Limits:  []plan.Threshold{plan.EndLimit, plan.RimLimit, plan.FirstLowLimit, plan.BelowNeckLimit},
		Why:     "A rim over the neck edge catches; a first button too low lets the neck fall open.",
		Sources: []string{
			"trade pattern maker, Reverse engineering standard work: first and last at least 1/2 in from the finished edges",
			"R. Carr, Couture, as quoted: first hole D + 1/4 in below the neck edge",
			"IASRI e-course: centre at least D/2 from an edge",
		},
		Others: "5 mm, one D, 1.5 to 2 cm and at most 1 in are also printed",
		Ours:   "a rivet may stand as near an end as its rim to any edge (see edge-near): common practice, no source, on the pockets of jeans",
		Check: func(x *Context) {
			d := plan.AlongOf(&x.C.Notion)
			x.eachSize(func(i int, s *plan.Size) {
				path := x.sizePath("first", x.C.Run.First, s.Size)
				switch {
				case s.First < d/2 && d/2 >= x.K.Reach.Up:
					have, need := x.Short(s.First, d/2)
					x.report(Conflict, path, atLeast(s.First, d/2).on(plan.AlongBasis(x.C).Scaled(0.5), plan.EndBasis(x.C, x.K, "first", i)), "the first %s lies %s below the top, less than half its own width (%s): it would hang over the edge", text.One(x.C.Notion.Kind), have, x.endAt(need, "first", s)).Line("the first lies %s below the top; %s or its rim hangs over", have, need)
				case s.First < x.K.Reach.Up:
					have, need := x.Short(s.First, x.K.Reach.Up)
					x.report(Conflict, path, atLeast(s.First, x.K.Reach.Up).on(plan.UpBasis(x.C, x.K), plan.EndBasis(x.C, x.K, "first", i)), "the first %s lies %s below the top, but its hole reaches %s above it: it would run over the edge", text.One(x.C.Notion.Kind), have, x.endAt(need, "first", s)).Line("the first lies %s below the top, but its hole reaches %s up", have, need)
				case s.First < plan.EndLeastOf(&x.C.Notion) && x.C.Notion.Kind != catalog.Hook:
					least := plan.EndLeastOf(&x.C.Notion)
					have, need := x.Short(s.First, least)
					x.report(Caution, path, atLeast(s.First, least), "the first %s lies only %s below the top; %s is the least usual", text.One(x.C.Notion.Kind), have, x.endAt(need, "first", s)).Line("the first lies only %s below the top; %s is the least usual", have, need)
				case !s.Moved.First && s.First > plan.FirstLow && s.First > plan.UsualFirst(d, x.U).RoundUp(s.Step) && !plan.IsShort(x.C, s.Run) && s.Count > 1:
					most := max(plan.FirstLow, plan.UsualFirst(d, x.U).RoundUp(s.Step))
					x.report(Note, path, atMost(s.First, most), "the first %s lies %s below the top, lower than the usual %s", text.One(x.C.Notion.Kind), x.say(s.First), x.Most(most)).Line("the first lies %s below the top, lower than the usual %s", x.say(s.First), x.Most(most))
				}
			})
		},
		Touches: []string{"closure.*.run.first"},
		Propose: func(x *Context, f *Finding) []Change { return proposeEnd(x, "first", x.C.Run.First) },
	},
	{
		Name: "last-low", Severity: Conflict,
		Rests: []string{"closure.*.direction", "closure.*.hole", "closure.*.hole_length", "closure.*.lap", "closure.*.notion", "closure.*.run", "closure.*.stand"},
		Task:  NoTask,
		Reads: ReadsNotion,
		Room: func(x *Context) Numbers {
			least := x.K.EndReach()               // half of it at least
			if x.C.Notion.Kind != catalog.Rivet { // nearer its own least it is a caution
				least = max(least, plan.EndLeastOf(&x.C.Notion))
			}
			return x.leastOf(least, func(s *plan.Size) (measure.Length, bool) { return s.Last, true })
		},
		Title:   "the last fastener must clear the hem",
		Figure:  "last above the end",
		Formula: "last ≥ {end}, or of a rivet D/2 + {rim} where that is less (caution below), ≥ D/2 and, for a hole along, ≥ the rest of the stitched hole above the end of the run (conflict below); a stitched hole in the turned hem: conflict, with its end less than {turn-up} above the turn-up: caution; on a front whose hem is below the hip (hem_at) ≥ {gaps} gaps or {leg room}, whichever is less (note below)",
		Limits:  []plan.Threshold{plan.EndLimit, plan.RimLimit, plan.TurnUpLimit, plan.HemGapsLimit, plan.LegRoomLimit},
		Why:     "A hole on the fold of the hem goes through more layers at one end than at the other; a last button too low binds when you sit or climb.",
		Sources: []string{
			"trade pattern maker, Reverse engineering standard work: at least 1/2 in from the finished edges",
			"R. Carr, Couture, as quoted: last hole at least 1.5 gaps above the hem",
			"a sewing column, 1999: about 4 in above the hem for leg room",
			memory + ": the hole 3/8 in above the turned-up hem",
		},
		Ours: "leg room is judged only where hem_at says that the hem is below the hip; a rivet may stand as near an end as its rim to any edge (see edge-near): common practice, no source, on the pockets of jeans",
		Check: func(x *Context) {
			d := plan.AlongOf(&x.C.Notion)
			hems := x.P.Hems(x.C.Index)
			x.eachSize(func(i int, s *plan.Size) {
				path := x.sizePath("last", x.C.Run.Last, s.Size)
				least := max(plan.EndLeastOf(&x.C.Notion), x.K.EndReach())
				gap := measure.Length(0)
				if n := len(s.Pitches); n > 0 {
					gap = s.Pitches[n-1]
				}
				hole, below := x.K.SewnHole(), x.K.Hole.Below()
				hem, by := catalog.Measured{}, -1
				if hems {
					hem, by = x.P.Hem(x.C.Index, i)
				}
				switch {
				case s.Last < least && least == x.K.EndReach() && least > d/2:
					have, need := x.Short(s.Last, least)
					x.report(Conflict, path, atLeast(s.Last, least).on(plan.DownBasis(x.C, x.K), plan.EndBasis(x.C, x.K, "last", i)), "the last %s lies %s%s, but its hole reaches %s below it: it would run into the edge", text.One(x.C.Notion.Kind), have, x.fromEnd("last"), x.endAt(need, "last", s)).Line("the last lies %s%s, its hole reaches %s down", have, x.fromEnd("last"), need)
				case s.Last < least:
					sev, basis := Conflict, plan.AlongBasis(x.C).Scaled(0.5)
					switch rivet := x.C.Notion.Kind == catalog.Rivet; {
					case !rivet:
						basis = plan.Larger(d/2, basis, plan.EndLeast, plan.Basis{})
					case s.Last >= d/2:
						sev = Caution
					default:
						least = d / 2 // beyond that it is a caution
					}
					have, need := x.Short(s.Last, least)
					x.report(sev, path, atLeast(s.Last, least).on(basis, plan.EndBasis(x.C, x.K, "last", i)), "the last %s lies %s%s, but needs at least %s", text.One(x.C.Notion.Kind), have, x.fromEnd("last"), x.endAt(need, "last", s)).Line("the last lies %s%s, but needs at least %s", have, x.fromEnd("last"), need)
				case hole && by != -1 && s.Last <= hem.V+below:
					least := hem.V + below + 1 // one that ends on the line ends in it
					have, need := x.Short(s.Last, least)
					x.report(Conflict, path, atLeast(s.Last, least).on(plan.DownBasis(x.C, x.K), plan.EndBasis(x.C, x.K, "last", i), plan.BasisOf(hem, catalog.Key("closure", x.G.Closures[by].Name, "run", "hem"))),
						"the last %s lies %s above the hem line, and its hole ends in the hem that is turned up %s: set it %s above the line", text.One(x.C.Notion.Kind), have, x.say(hem.V), x.endAt(need, "last", s)).Line("the last hole ends in the turned-up hem: set it %s above the hem", need)
				case hole && by != -1 && s.Last < hem.V+below+plan.AboveTurnUp:
					have, need := x.Short(s.Last, hem.V+below+plan.AboveTurnUp)
					x.report(Caution, path, atLeast(s.Last, hem.V+below+plan.AboveTurnUp),
						"the last %s lies %s above the hem line: its hole ends nearer than %s to the hem that is turned up (a figure from memory), where the layers under the foot change; %s clears it", text.One(x.C.Notion.Kind), have, x.say(plan.AboveTurnUp), x.endAt(need, "last", s)).Line("the last hole ends close to the turned-up hem; %s above clears it", need)
				case by != -1 && by != x.C.Index && s.Last < hem.V+x.K.Reach.Down:
					have, need := x.Short(s.Last, hem.V+x.K.Reach.Down)
					x.report(Caution, path, atLeast(s.Last, hem.V+x.K.Reach.Down), "the last %s lies %s above the hem line, in the hem that %s turns up %s; %s clears it", text.One(x.C.Notion.Kind), have, x.G.Closures[by].Name, x.say(hem.V), x.endAt(need, "last", s)).Line("the last lies %s above the hem, in the turn-up; %s clears it", have, need)
				case x.G.LegRoom() && !plan.IsShort(x.C, s.Run) && s.Last < min(plan.HemGaps.Of(gap), plan.UsualLast(x.U)):
					least, why := min(plan.HemGaps.Of(gap), plan.UsualLast(x.U)), "what leaves leg room"
					if least == plan.HemGaps.Of(gap) {
						why = plan.HemGapsLimit.String() + " gaps"
					}
					have, need := x.Short(s.Last, least)
					x.report(Note, path, atLeast(s.Last, least), "the last %s lies %s above the hem, nearer than %s, %s: sit down and climb a step in the try-on", text.One(x.C.Notion.Kind), have, why, need).Line("the last lies %s above the hem, under %s: sit down in it", have, need)
				}
			})
		},
		Touches: []string{"closure.*.run.last"},
		Propose: func(x *Context, f *Finding) []Change { return proposeEnd(x, "last", x.C.Run.Last) },
	},
	{
		Name: "place-jumps", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a row stands alike to belts and anchors in all sizes",
		Formula: "in sizes of one count, counted from the top: those above each clear zone, and the one nearest to each anchor, are the same in all",
		Why:     "Each size is even by itself, but the range looks like two designs: three buttons above the belt in one size, four in the next.",
		Sources: []string{"common practice, no source: a range is graded so that every size shows the same design"},
		Check: func(x *Context) {
			if x.P.Unnoted || len(x.K.Sizes) < 2 {
				return
			}
			run := &x.C.Run
			for n := range run.Clears {
				i, j, a, b := x.jumps(func(i int, s *plan.Size) int {
					return above(s.Positions, run.Clears[n].From.At(i).V)
				})
				if i < 0 {
					continue
				}
				what := named(run.Clears[n].Name, "the clear zone")
				x.report(Note, x.at("run.clear"), Numbers{}, "in size %s %s above %s, in size %s %d: one goes over it from size to size. Grade it, or the ends of the run, so that it does not, unless you like it so", x.K.Sizes[i].Size, lie(a), what, x.K.Sizes[j].Size, b).Line("%d above %s in %s, %d in %s: one goes over it", a, what, x.K.Sizes[i].Size, b, x.K.Sizes[j].Size)
			}
			for n := range run.Anchors {
				i, j, a, b := x.jumps(func(i int, s *plan.Size) int {
					return nearest(s.Positions, run.Anchors[n].At.At(i).V) + 1
				})
				if i < 0 {
					continue
				}
				what := named(run.Anchors[n].Name, "the anchor")
				x.report(Note, x.at("run.anchor"), Numbers{}, "at %s stands number %d in size %s and number %d in size %s. Grade it, or the ends of the run, so that the same one stands there, unless you like it so", what, a, x.K.Sizes[i].Size, b, x.K.Sizes[j].Size).Line("at %s stands number %d in %s, number %d in %s", what, a, x.K.Sizes[i].Size, b, x.K.Sizes[j].Size)
			}
		},
	},
	{
		Name: "ends-moved", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a step, first or last that the file does not say gave way",
		Formula: "where the usual ones allow no layout, or with run.match none that keeps every gap to the repeat, in this order: the step becomes the coarsest of {marks} that divides the repeat; the last moves; the first moves; both. An end moves no nearer than its least and no farther than {farthest} times the usual, of a cuff that says its last as far as it must, and lies as near the usual as the smallest spread allows",
		Why:     "An end that nobody asked for is a wish. A better place does no harm, but you should know of it, and fix it once you have decided.",
		Sources: []string{"exact search over all layouts"},
		Limits:  []plan.Threshold{plan.MarksLimit, plan.FarthestLimit},
		Ours:    "which gives way first, and {farthest} times the usual as the farthest",
		Check: func(x *Context) {
			for _, m := range defaultMoves {
				sizes := m.of(x)
				if len(sizes) == 0 {
					continue
				}
				if len(sizes) == 1 {
					x.Size = x.K.Sizes[sizes[0]].Size
				}
				x.report(Note, x.at("run"), Numbers{}, "%s", x.later(func(x *Context) string { return m.says(x, sizes) })).Line("%s", x.later(func(x *Context) string { return m.line(x, sizes) }))
				x.Size = ""
			}
		},
		Touches: []string{"closure.*.run.step", "closure.*.run.first", "closure.*.run.last"},
		Propose: func(x *Context, f *Finding) []Change {
			var out []Change
			for _, m := range defaultMoves {
				if len(m.of(x)) > 0 {
					out = append(out, Change{With: m.fix(x), Says: "keep the " + m.key + " where it is", Cost: 1})
				}
			}
			return out
		},
	},
	{
		Name: "gaps-uneven", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the gaps are not even",
		Formula: "largest gap − smallest gap > the larger of {steps} marking steps and {spread}, in a file in millimetres {spread mm}: note; with run.match, some gaps of more repeats than others: caution",
		Why:     "An eye sees a larger step in a row of buttons. A gap that skips a stripe looks like a missing button.",
		Sources: []string{"sewing and design professionals' standards, p. 24: holes equal in spacing", "exact search over all layouts: no other is more even"},
		Limits:  []plan.Threshold{plan.EvenStepsLimit, plan.EvenLimit, plan.EvenMMLimit},
		Ours:    "{steps} marking steps, or {spread}, in millimetres {spread mm}, as what the eye lets pass",
		Check: func(x *Context) {
			x.eachSize(func(i int, s *plan.Size) {
				switch {
				case len(s.Skips) > 0:
					x.report(Caution, x.at("run.match"), atMost(s.Spread, s.EvenTo), "the gaps keep the repeat of %s, but not evenly: %s", x.C.Run.Match, x.later(func(x *Context) string { return x.skipWords(s) })).Line("the gaps skip a stripe of %s", x.C.Run.Match)
				case !s.Even && !x.P.Unnoted:
					x.report(Note, x.at("run"), atMost(s.Spread, s.EvenTo), "the gaps differ by %s: %s", x.say(s.Spread), x.later(func(x *Context) string { return x.whyUneven(s.Step) })).Line("the gaps differ by %s, the most even there is", x.say(s.Spread))
				}
			})
		},
		Touches: []string{"closure.*.run.count", "closure.*.run.first", "closure.*.run.last", "closure.*.run.match"},
		Propose: proposeEven,
	},
	{
		Name: "rims-touch", Severity: Conflict,
		Rests: []string{"closure.*.direction", "closure.*.hole", "closure.*.hole_length", "closure.*.notion", "closure.*.run", "closure.*.stand"},
		Task:  NoTask,
		Reads: ReadsNotion | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			r := x.K.Reach
			return x.leastOf(max(r.Up+r.Down, 2*r.Rim), func(s *plan.Size) (measure.Length, bool) { return shortest(s.Gaps) })
		},
		Title:   "neighbouring fasteners must not touch",
		Figure:  "centre to centre",
		Formula: "smallest gap ≥ the fastener's reach up + down",
		Why:     "Buttons that overlap cannot be buttoned, and holes that meet tear into one.",
		Sources: []string{"geometry"},
		Check: func(x *Context) {
			r := x.K.Reach
			x.eachSize(func(i int, s *plan.Size) {
				if g, any := shortest(s.Gaps); any {
					if need := max(r.Up+r.Down, 2*r.Rim); g < need {
						have, want := x.Short(g, need)
						x.report(Conflict, x.at("run"), atLeast(g, need).on(plan.UpBasis(x.C, x.K), plan.DownBasis(x.C, x.K), plan.GapBasis(x.C, x.K, i, g)), "two fasteners lie %s apart but take %s each: use fewer", have, x.gapLeast(want)).Line("two lie %s apart but take %s: use fewer", have, want)
					}
				}
			})
		},
		Touches: anotherRun,
		Propose: proposeRun,
	},
}

// A defaultMove is a figure that the file does not say and that gave way.
type defaultMove struct {
	key   string
	moved func(spacing.Moved) bool
}

var defaultMoves = []defaultMove{
	{"step", func(m spacing.Moved) bool { return m.Step }},
	{"first", func(m spacing.Moved) bool { return m.First }},
	{"last", func(m spacing.Moved) bool { return m.Last }},
}

// of are the sizes in which it gave way. The step is one for all of them, and
// one fastener alone is first and last at once.
func (m defaultMove) of(x *Context) (sizes []int) {
	for i := range x.K.Sizes {
		if s := &x.K.Sizes[i]; s.Solved && m.moved(s.Moved) && !(m.key == "last" && s.Count == 1 && s.Moved.First) {
			sizes = append(sizes, i)
		}
	}
	return sizes
}

// fix is the change that keeps it as it is now.
func (m defaultMove) fix(x *Context) []catalog.With {
	if m.key == "step" {
		return x.setLength("run.step", x.K.Sizes[m.of(x)[0]].Step)
	}
	now, same := x.endNow(m.key), true
	lengths := make([]measure.Length, len(x.K.Sizes))
	for i := range lengths {
		lengths[i] = now(i)
		same = same && lengths[i] == lengths[0]
	}
	if same {
		return x.setLength("run."+m.key, lengths[0])
	}
	return []catalog.With{catalog.SetSizes(x.key("run."+m.key), x.G.Sizes, lengths, x.U)}
}

// says tells what gave way in those sizes, why, and the line that keeps it.
func (m defaultMove) says(x *Context, sizes []int) string {
	s := &x.K.Sizes[sizes[0]]
	var what string
	switch m.key {
	case "step":
		what = "centres are marked to " + s.Step.ShortPlace(x.U) + ", not to the usual " + plan.MarkEvery(x.U).ShortPlace(x.U)
	default:
		now, from := x.endNow(m.key), x.fromEnd(m.key)
		usual := func(i int) measure.Length { return m.usual(x, i) }
		what = "the " + m.key + " " + x.C.Notion.Kind + " lies " + x.bySize(sizes, now, measure.Length.TextPlace) + from + ", not the usual " + x.bySize(sizes, usual, measure.Length.Text)
	}
	return what + ": so " + x.asked() + "; to keep it, write " + m.key + " = " + source.Text(m.fix(x)[0].Value)
}

// line is the same in one line.
func (m defaultMove) line(x *Context, sizes []int) string {
	if m.key == "step" {
		return "centres are marked to " + x.K.Sizes[sizes[0]].Step.ShortPlace(x.U) + ", not to the usual " + plan.MarkEvery(x.U).ShortPlace(x.U)
	}
	now, from := x.endNow(m.key), x.fromEnd(m.key)
	usual := m.usual(x, sizes[0]).Short(x.U)
	for _, i := range sizes {
		if now(i) != now(sizes[0]) {
			return "the " + m.key + " lies off the usual " + usual + from + ", by size"
		}
	}
	return "the " + m.key + " lies " + now(sizes[0]).ShortPlace(x.U) + from + ", not the usual " + usual
}

// usual is where the end lies when nothing moves it.
func (m defaultMove) usual(x *Context, size int) measure.Length {
	first, last := plan.Ends(x.G, x.C, x.K, size)
	if m.key == "first" {
		return first.Min
	}
	return x.K.Sizes[size].Run - last.Max
}

// bySize is a place of some sizes, in words.
func (x *Context) bySize(sizes []int, at func(int) measure.Length, say func(measure.Length, measure.Unit) string) string {
	same := true
	for _, i := range sizes {
		same = same && at(i) == at(sizes[0])
	}
	if same {
		return say(at(sizes[0]), x.U)
	}
	words := make([]string, len(sizes))
	for k, i := range sizes {
		words[k] = say(at(i), x.U) + " in size " + x.K.Sizes[i].Size
	}
	return text.And(words...)
}

// asked is what the file asks of the run, as that which a default gives way
// to.
func (x *Context) asked() string {
	run := &x.C.Run
	var words []string
	if run.Match != "" {
		words = append(words, "the gaps keep the repeat of "+run.Match)
	}
	for i := range run.Anchors {
		words = append(words, "one lies near "+cmp.Or(run.Anchors[i].Name, "the anchor"))
	}
	for i := range run.Clears {
		words = append(words, "none lies in "+cmp.Or(run.Clears[i].Name, "the clear stretch"))
	}
	if run.Hem.Has() {
		words = append(words, "none lies in the hem")
	}
	if run.GapMin.Has() || run.GapMax.Has() {
		words = append(words, "the gaps keep to their limits")
	}
	if len(words) == 0 {
		return "there is a layout"
	}
	return text.And(words...)
}

// skipWords are the gaps that skip a place of the repeat.
func (x *Context) skipWords(s *plan.Size) string {
	least, _ := shortest(s.Pitches)
	what := x.C.Notion.Kind
	if x.C.Run.Group > 1 {
		what = "group"
	}
	words := make([]string, len(s.Skips))
	for i, k := range s.Skips {
		words[i] = s.Pitches[k].TextPlace(x.U) + " between " + what + " " + strconv.Itoa(k+1) + " and " + strconv.Itoa(k+2)
	}
	return "they are " + least.TextPlace(x.U) + ", but " + text.And(words...) + "; take another count, or move first or last"
}

// proposeEven offers what lets all gaps of a matched run be of as many
// repeats: the count that fits between its ends, an end moved to the nearest
// place, or gaps that leave the repeat.
func proposeEven(x *Context, f *Finding) []Change {
	run := &x.C.Run
	if run.Match == "" || f.Severity != Caution {
		return nil
	}
	var out []Change
	counts := map[int]bool{}
	x.eachSize(func(i int, s *plan.Size) {
		for _, p := range s.Pitches {
			counts[int((s.Positions[s.Count-1]-s.Positions[0])/p)+1] = true
		}
	})
	if run.Group <= 1 {
		for _, n := range slices.Sorted(maps.Keys(counts)) {
			out = append(out, Change{With: set(x, "run.count", n), Says: "use " + text.Counted(n, x.C.Notion.Kind), Cost: 10})
		}
	}
	for _, key := range []string{"last", "first"} {
		for _, longest := range []bool{false, true} {
			var cost float64
			moved, good := make([]measure.Length, len(x.K.Sizes)), true
			for i := range x.K.Sizes {
				s := &x.K.Sizes[i]
				if good = good && s.Solved && len(s.Pitches) > 0; !good {
					break
				}
				pitch := slices.Min(s.Pitches)
				if longest {
					pitch = slices.Max(s.Pitches)
				}
				sum := measure.Length(0)
				for _, p := range s.Pitches {
					sum += p
				}
				by := measure.Length(len(s.Pitches))*pitch - sum // longer by so much
				at := s.Last - by
				if key == "first" {
					at = s.First - by
				}
				moved[i], good = x.writable(at), at > 0
				cost = max(cost, by.Abs().MM()/4)
			}
			if !good {
				continue
			}
			with := x.setLength("run."+key, moved[0])
			if len(moved) > 1 {
				with = []catalog.With{catalog.SetSizes(x.key("run."+key), x.G.Sizes, moved, x.U)}
			}
			out = append(out, Change{With: with, Says: "move the " + key + " so that all gaps are of as many repeats", Cost: cost})
		}
	}
	return append(out, Change{With: x.takeOut("run.match"), Says: "let the gaps leave the repeat of " + run.Match, Cost: 30})
}

// whyUneven says what keeps the gaps from being even.
func (x *Context) whyUneven(step measure.Length) string {
	run := &x.C.Run
	var words []string
	if len(run.Anchors) > 0 {
		words = append(words, "the anchors")
	}
	if len(run.Clears) > 0 || run.Hem.Has() {
		words = append(words, "the clear zones")
	}
	if run.Match != "" {
		words = append(words, "the repeat")
	}
	if len(words) == 0 {
		return "between these ends, steps of " + x.len(step) + " leave nothing more even; set step finer, or move first or last"
	}
	return text.And(append(words, "steps of "+x.len(step))...) + " leave nothing more even"
}

// endNow is where the first or last fastener of a size lies now, from the
// top or the end: as the file says, else where it was laid.
func (x *Context) endNow(key string) func(int) measure.Length {
	run := &x.C.Run
	return func(i int) measure.Length {
		if s := &x.K.Sizes[i]; s.Solved {
			switch {
			case key == "first" && !run.First.Has():
				return s.First
			case key == "last" && !run.Last.Has():
				return s.Last
			}
		}
		first, last := plan.Ends(x.G, x.C, x.K, i)
		if key == "first" {
			return first.Min
		}
		return x.C.Run.Length.At(i).V - last.Max
	}
}

// fromEnd says from where the first or last fastener is told: a front ends at
// its hem, unless its run ends in the cloth.
func (x *Context) fromEnd(key string) string {
	switch {
	case key == "first":
		return " below the top"
	case plan.IsFront(x.C) && x.G.HemAt != "none" && x.C.Where != "":
		return " above the hem"
	}
	return " above the end"
}

// proposeEnd moves the first or last fastener as far from its end as it must
// be.
func proposeEnd(x *Context, key string, s catalog.Sized) []Change {
	says := x.fromEnd(key)
	reach := map[string]measure.Length{"first": x.K.Reach.Up, "last": max(x.K.EndReach(), x.clearsHem())}[key]
	d := plan.AlongOf(&x.C.Notion)
	var out []Change
	for i, want := range []measure.Length{max(plan.EndLeastOf(&x.C.Notion), reach), max(plan.UsualFirst(d, x.U), reach)} {
		want = want.RoundUp(x.C.Run.Step.Or(plan.HoleStep(x.U)))
		out = append(out, Change{
			With: x.sized("run."+key, s, x.endNow(key), func(now measure.Length) measure.Length { return max(now, want) }),
			Says: "set the " + key + " " + x.up(want) + says, Cost: want.MM()/4 + float64(i),
		})
	}
	return out
}

// anotherRun are the keys that proposeRun touches.
var anotherRun = slices.Concat([]string{
	"closure.*.run.count", "closure.*.run.step", "closure.*.run.gap", "closure.*.run.first", "closure.*.run.last",
	"closure.*.run.anchor.*.within", "closure.*.run.anchor.*.at", "closure.*.run.match", "closure.*.direction",
}, anotherNotion)

// proposeRun offers other counts, steps, gap limits, ends and anchors: of
// each the smallest move that gives every size a layout. Only what takes
// part in the clash is moved; the length of the run and its clear zones are
// the garment's own and stay.
func proposeRun(x *Context, f *Finding) []Change {
	r := runChanges{x: x, problems: make([]spacing.Problem, len(x.K.Sizes)), part: map[spacing.Constraint]bool{}}
	touching := f.Rule == "rims-touch"
	step := x.repeatStep()
	for i := range r.problems {
		r.problems[i] = plan.ProblemOf(x.G, x.C, x.K, i)
		if step > 0 {
			r.problems[i].Step = step
		}
		if touching {
			least := max(x.K.Reach.Up+x.K.Reach.Down, 2*x.K.Reach.Rim)
			r.problems[i].Gap.Min = max(r.problems[i].Gap.Min, least)
		}
		if plan.SameForAll(&x.C.Run) {
			r.problems = r.problems[:1]
			break
		}
	}
	zones := false
	for i := range r.problems {
		x.Tries.Hold(&r.problems[i])
		if _, err := spacing.Solve(r.problems[i]); err != nil {
			if clash, ok := err.(*spacing.Clash); ok {
				for _, c := range clash.Constraints {
					c.Name = ""
					r.part[c] = true
					zones = zones || c.Kind == spacing.KindClear
				}
			}
		}
	}
	r.counts()
	r.steps()
	r.gaps()
	if r.in(spacing.KindMatch) {
		r.matched()
	} else {
		r.ends("first", spacing.KindFirst, x.C.Run.First)
		r.ends("last", spacing.KindLast, x.C.Run.Last)
	}
	r.anchors()
	if r.in(spacing.KindMatch) {
		r.add(30, "let the gaps leave the repeat of "+x.C.Run.Match, x.takeOut("run.match"))
	}
	if zones || touching {
		if x.K.Hole.Needed && x.K.Hole.Kind != "loop" && x.K.Hole.Direction == "along" {
			r.add(12, "set the holes across", set(x, "direction", "across"))
		}
		r.out = append(r.out, cheapest(proposeSmaller(x, f), 6)...)
	}
	if x.Tries != nil {
		x.Tries.Tried += r.tried
	}
	return r.out
}

// runChanges collects changes to a run.
type runChanges struct {
	x        *Context
	problems []spacing.Problem // one for each size, or one for all
	part     map[spacing.Constraint]bool
	tried    int // places, see runTries
	out      []Change
}

// runTries is how many places all questions about one run try together, as
// spacing.MaxTries counts them: ours, a thousand times what the garments of
// the tests take. Beyond it a change counts as no help.
const runTries = 1 << 22

func (r *runChanges) in(k spacing.Kind) bool { return r.part[spacing.Constraint{Kind: k}] }

func (r *runChanges) add(cost float64, says string, with []catalog.With) {
	r.out = append(r.out, Change{With: with, Says: says, Cost: cost})
}

// holds says whether every size has a layout when its problem is changed so.
func (r *runChanges) holds(change func(*spacing.Problem)) bool {
	for i := range r.problems {
		p := r.problems[i]
		p.Anchors = slices.Clone(p.Anchors)
		change(&p)
		p.Most, p.Tried = runTries-r.tried, &r.tried
		if p.First.Min < 0 || p.Last.Max > p.Run || p.Most <= 0 {
			return false
		}
		if ok, err := spacing.Possible(p); err != nil || !ok {
			return false
		}
	}
	return true
}

const moves = 16 // ours: how many steps a run's limits are moved at most

// smallest is the smallest number of steps up to moves that gives every size
// a layout, 0 if none does.
func (r *runChanges) smallest(change func(p *spacing.Problem, by measure.Length)) (int, measure.Length) {
	step := r.problems[0].Step
	for n := 1; n <= moves; n++ {
		by := measure.Length(n) * step
		if r.holds(func(p *spacing.Problem) { change(p, by) }) {
			return n, by
		}
	}
	return 0, 0
}

// counts offers the nearest counts below and above that every size has a
// layout for, or, where each size has its own, one or two more or fewer.
func (r *runChanges) counts() {
	x, run := r.x, &r.x.C.Run
	if !r.in(spacing.KindCount) || len(run.Count) == 0 {
		return
	}
	if len(run.Count) > 1 {
		r.countsBySize()
		return
	}
	have := map[int]int{} // count to how many sizes have it
	for _, p := range r.problems {
		p.CountMin, p.CountMax = 0, 0
		x.Tries.Hold(&p)
		counts, err := spacing.Counts(p)
		if err != nil {
			return
		}
		for _, n := range counts {
			have[n]++
		}
	}
	now := run.Count[0]
	below, above := 0, math.MaxInt
	for n, sizes := range have {
		switch {
		case sizes != len(r.problems):
		case n < now.Min:
			below = max(below, n)
		default: // the counts between have no layout
			above = min(above, n)
		}
	}
	for _, n := range []int{below, above} {
		if n < 1 || n > 200 {
			continue
		}
		d := float64(min((now.Min-n)*(now.Min-n), (now.Max-n)*(now.Max-n)))
		if now.Min == now.Max {
			r.add(10*d, "use "+text.Counted(n, x.C.Notion.Kind), set(x, "run.count", n))
		} else {
			lo, hi := min(now.Min, n), max(now.Max, n)
			r.add(10*d, "use "+strconv.Itoa(lo)+" to "+text.Counted(hi, x.C.Notion.Kind), x.setTable("run.count", map[string]any{"min": lo, "max": hi}))
		}
	}
}

func (r *runChanges) countsBySize() {
	x, run := r.x, &r.x.C.Run
	for _, d := range []int{-1, 1, -2, 2} {
		table := map[string]any{}
		good := true
		for i, size := range x.G.Sizes {
			c := run.Count[i]
			c.Min, c.Max = c.Min+d, c.Max+d
			good = good && c.Min > 0
			table[size] = int64(c.Min)
			if c.Min != c.Max {
				table[size] = map[string]any{"min": int64(c.Min), "max": int64(c.Max)}
			}
		}
		i := 0
		if !good || !r.holds(func(p *spacing.Problem) {
			p.CountMin, p.CountMax = run.Count[i].Min+d, run.Count[i].Max+d
			i++
		}) {
			continue
		}
		says := map[int]string{-2: "two fewer", -1: "one fewer", 1: "one more", 2: "two more"}[d]
		r.add(10*float64(d*d), "use "+says+" in every size", x.setTable("run.count", table))
	}
}

func (r *runChanges) steps() {
	if !r.in(spacing.KindStep) {
		return
	}
	x, now := r.x, r.problems[0].Step
	marks := plan.Marks(x.U)
	for _, step := range marks {
		if step < now && r.holds(func(p *spacing.Problem) { p.Step = step }) {
			r.add(2, "mark to "+step.TextPlace(x.U), x.setLength("run.step", step))
			return
		}
	}
	for half := now / 2; half >= marks[len(marks)-1]; half /= 2 {
		step := x.writable(half)
		if r.holds(func(p *spacing.Problem) { p.Step = step }) {
			r.add(2, "mark to "+step.TextPlace(x.U), x.setLength("run.step", step))
			return
		}
	}
}

func (r *runChanges) gaps() {
	x, run := r.x, &r.x.C.Run
	if r.in(spacing.KindGapMin) && run.GapMin.Has() {
		if _, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Gap.Min -= by }); by > 0 && by < smallest(run.GapMin) {
			r.add(2+by.MM(), "let gaps be "+x.len(by)+" narrower", x.sized("run.gap.min", run.GapMin, func(i int) measure.Length { return run.GapMin.At(i).V }, func(l measure.Length) measure.Length { return (l - by).RoundDown(plan.HoleStep(x.U)) }))
		}
	}
	if r.in(spacing.KindGapMax) && run.GapMax.Has() {
		if _, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Gap.Max += by }); by > 0 {
			r.add(2+by.MM(), "let gaps be "+x.len(by)+" wider", x.sized("run.gap.max", run.GapMax, func(i int) measure.Length { return run.GapMax.At(i).V }, func(l measure.Length) measure.Length { return (l + by).RoundUp(plan.HoleStep(x.U)) }))
		}
	}
}

// smallest is the least of a length over the sizes.
func smallest(s catalog.Sized) measure.Length {
	l := s.At(0).V
	for i := range s {
		l = min(l, s.At(i).V)
	}
	return l
}

func (r *runChanges) ends(key string, kind spacing.Kind, s catalog.Sized) {
	x := r.x
	if !r.in(kind) || x.C.Run.FirstMax.Has() && key == "first" || x.C.Run.LastMax.Has() && key == "last" {
		return
	}
	least := max(plan.EndLeastOf(&x.C.Notion), plan.AlongOf(&x.C.Notion)/2)
	now := x.endNow(key)
	end := map[string]string{"first": "top", "last": "end"}[key]
	for _, move := range []struct {
		dir measure.Length
		way string
	}{{-1, "nearer the "}, {1, "farther from the "}} {
		dir := move.dir
		_, by := r.smallest(func(p *spacing.Problem, by measure.Length) {
			by *= dir
			if key == "first" {
				p.First.Min, p.First.Max = p.First.Min+by, p.First.Max+by
			} else {
				p.Last.Min, p.Last.Max = p.Last.Min-by, p.Last.Max-by
			}
		})
		if by == 0 {
			continue
		}
		to := now(0) + dir*by
		if to < least {
			continue
		}
		r.add(3+by.MM(), "set the "+key+" "+x.len(by)+" "+move.way+end, x.sized("run."+key, s, now, func(l measure.Length) measure.Length { return l + dir*by }))
	}
}

func (r *runChanges) anchors() {
	x := r.x
	for i := range x.C.Run.Anchors {
		a := &x.C.Run.Anchors[i]
		if !r.part[spacing.Constraint{Kind: spacing.KindAnchor, Index: i}] || a.Name == "" {
			continue
		}
		key := func(k string) string { return catalog.Key("run", "anchor", a.Name, k) }
		within := func(k int) measure.Length { w := a.Within.At(k); return w.Or(plan.AnchorWithin(x.U)) }
		if _, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Anchors[i].Within += by }); by > 0 {
			r.add(4+by.MM(), "let "+a.Name+" be "+x.len(by)+" farther from a fastener", x.sized(key("within"), a.Within, within, func(l measure.Length) measure.Length { return (l + by).RoundUp(plan.HoleStep(x.U)) }))
		}
		// An anchor moved farther than its own leeway would be another place.
		for _, move := range []struct {
			dir measure.Length
			way string
		}{{-1, "higher"}, {1, "lower"}} {
			dir := move.dir
			n, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Anchors[i].At += dir * by })
			if n == 0 || by > within(0) || smallest(a.At)+dir*by <= 0 {
				continue
			}
			r.add(4+by.MM(), "move "+a.Name+" "+x.len(by)+" "+move.way, x.sized(key("at"), a.At, func(k int) measure.Length { return a.At.At(k).V }, func(l measure.Length) measure.Length { return l + dir*by }))
		}
	}
}

// jumps are the first two sizes of one count that do not have alike what of
// says of a size, and what they have; -1 where there are none.
func (x *Context) jumps(of func(i int, s *plan.Size) int) (i, j, a, b int) {
	for i := range x.K.Sizes {
		s := &x.K.Sizes[i]
		if !s.Solved || s.OwnCount || len(s.Positions) == 0 {
			continue
		}
		a := of(i, s)
		for j := i + 1; j < len(x.K.Sizes); j++ {
			t := &x.K.Sizes[j]
			if !t.Solved || t.OwnCount || t.Count != s.Count {
				continue
			}
			if b := of(j, t); a != b {
				return i, j, a, b
			}
		}
		break
	}
	return -1, -1, 0, 0
}

// above is how many of the places lie above a line.
func above(places []measure.Length, line measure.Length) int {
	n := 0
	for n < len(places) && places[n] < line {
		n++
	}
	return n
}

// nearest is which of the places lies nearest to a line, the upper of two.
func nearest(places []measure.Length, line measure.Length) int {
	best := 0
	for i, p := range places {
		if (p - line).Abs() < (places[best] - line).Abs() {
			best = i
		}
	}
	return best
}

// lie are so many that lie somewhere.
func lie(n int) string {
	if n == 1 {
		return "1 lies"
	}
	return strconv.Itoa(n) + " lie"
}

// named is a name of the file for a short line: what it is where it has none,
// or one too long.
func named(name, what string) string {
	if name == "" || len([]rune(name)) > 16 {
		return what
	}
	return name
}
