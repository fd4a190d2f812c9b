package rules

import (
	"errors"
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

const (
	endLeast  = in / 2 // trade pattern maker: first and last from the finished edges
	hemGaps   = 3      // half gaps: the last hole 1.5 gaps above the hem, R. Carr, Couture, as quoted
	unevenGap = 1 * in / 16
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
		return "clear " + z.Name + " " + free + ", with " + x.len(max(x.K.Reach.Up, x.K.Reach.Down)) + " for the fastener"
	}
	return c.String()
}

// usual marks a value that the file does not give.
func usual(given bool) string {
	if given {
		return ""
	}
	return "the usual "
}

func (x *Context) window(w spacing.Window) string {
	if w.Fixed() {
		return x.len(w.Min)
	}
	return x.len(w.Min) + " to " + x.len(w.Max)
}

// eachSize runs do for every size with a layout, with the context's size
// set.
func (x *Context) eachSize(do func(i int, s *plan.Size)) {
	for i := range x.K.Sizes {
		if s := &x.K.Sizes[i]; s.Solved && s.Count > 0 {
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

// endReach is how far above the hem the last fastener must lie for its hole:
// one that ends on the hem line is cut into it.
func (x *Context) endReach() measure.Length {
	if d := x.K.Reach.Down; d > x.K.Reach.Rim {
		return d + 1
	}
	return x.K.Reach.Down
}

var runRules = []*Rule{
	{
		Name: "spacing-clash", Severity: Conflict,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "what is asked of the run must be possible together",
		Formula: "all centres on the marking step, gaps within their limits, a centre near every anchor, none in a clear zone widened by the fastener's own reach",
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
					x.report(Conflict, x.at("run"), Numbers{}, "the run cannot be laid out: %s", x.later(func(*Context) string { return strings.TrimPrefix(err.Error(), "spacing: ") }))
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
				f := x.report(Conflict, whole(x.clashPath(clash.Constraints[0], i)), Numbers{}, "%s %s", text.And(words...), verb)
				for j, c := range clash.Constraints {
					f.Related = append(f.Related, Related{words[j], x.G.At(x.clashPath(c, i))})
				}
			}
			x.Size = ""
		},
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
					x.report(Caution, x.at("run.gap"), Numbers{Have: float64(s.Count), Need: float64(common), Margin: float64(common - s.Count), Compared: true},
						"this size takes %d where the others take %d: widen the gap limits, or mark and buy for it apart", s.Count, common)
				}
			})
		},
	},
	{
		Name: "first-high", Severity: Conflict,
		Task:  NoTask,
		Reads: ReadsNotion,
		Room: func(x *Context) Numbers {
			return x.leastOf(plan.AlongOf(&x.C.Notion)/2, func(s *plan.Size) (measure.Length, bool) { return s.First, true })
		},
		Title:   "the first fastener must clear the top edge",
		Formula: "first ≥ D/2 and a hole along must begin below the top (conflict below), ≥ 1/2 in (caution below); over 1 in and over D + 1/4 in: note, unless it is the only one",
		Why:     "A rim over the neck edge catches; a first button too low lets the neck fall open.",
		Sources: []string{
			"trade pattern maker, Reverse engineering standard work: first and last at least 1/2 in from the finished edges",
			"R. Carr, Couture, as quoted: first hole D + 1/4 in below the neck edge",
			"IASRI e-course: centre at least D/2 from an edge",
		},
		Others: "5 mm, one D, 1.5 to 2 cm and at most 1 in are also printed",
		Check: func(x *Context) {
			d := plan.AlongOf(&x.C.Notion)
			x.eachSize(func(i int, s *plan.Size) {
				path := x.sizePath("first", x.C.Run.First, s.Size)
				switch {
				case s.First < d/2:
					have, need := x.Apart(s.First, d/2)
					x.report(Conflict, path, atLeast(s.First, d/2).on(plan.AcrossBasis(x.C).Scaled(0.5)), "the first %s lies %s below the top, less than half its own width (%s): it would hang over the edge", x.C.Notion.Kind, have, need)
				case s.First < x.K.Reach.Up:
					have, need := x.Apart(s.First, x.K.Reach.Up)
					x.report(Conflict, path, atLeast(s.First, x.K.Reach.Up), "the first %s lies %s below the top, but its hole reaches %s above it: it would run over the edge", x.C.Notion.Kind, have, need)
				case s.First < endLeast && x.C.Notion.Kind != catalog.Hook:
					have, need := x.Apart(s.First, endLeast)
					x.report(Caution, path, atLeast(s.First, endLeast), "the first %s lies only %s below the top; %s is the least usual", x.C.Notion.Kind, have, need)
				case s.First > in && s.First > d+plan.FirstBelowNeck && !plan.IsShort(x.C, s.Run) && s.Count > 1:
					x.report(Note, path, atMost(s.First, max(in, d+plan.FirstBelowNeck)), "the first %s lies %s below the top, lower than usual (%s)", x.C.Notion.Kind, x.say(s.First), x.say(max(in, d+plan.FirstBelowNeck)))
				}
			})
		},
		Touches: []string{"closure.*.run.first"},
		Propose: func(x *Context, f *Finding) []Change { return proposeEnd(x, "first", x.C.Run.First) },
	},
	{
		Name: "last-low", Severity: Conflict,
		Task:  NoTask,
		Reads: ReadsNotion,
		Room: func(x *Context) Numbers {
			return x.leastOf(max(endLeast, plan.AlongOf(&x.C.Notion)/2, x.endReach()), func(s *plan.Size) (measure.Length, bool) { return s.Last, true })
		},
		Title:   "the last fastener must clear the hem",
		Formula: "last ≥ 1/2 in, ≥ D/2 and, for a hole along, ≥ the rest of the stitched hole above the end of the run (conflict below); on a front buttoned to the hem ≥ 1.5 gaps or 4 in, whichever is less (note below)",
		Why:     "A hole in the hem goes through the fold; a last button too low binds when you sit or climb.",
		Sources: []string{
			"trade pattern maker, Reverse engineering standard work: at least 1/2 in from the finished edges",
			"R. Carr, Couture, as quoted: last hole at least 1.5 gaps above the hem",
			"about.com sewing column, 1999: about 4 in above the hem for leg room",
		},
		Check: func(x *Context) {
			d := plan.AlongOf(&x.C.Notion)
			x.eachSize(func(i int, s *plan.Size) {
				path := x.sizePath("last", x.C.Run.Last, s.Size)
				least := max(endLeast, d/2, x.endReach())
				gap := measure.Length(0)
				if n := len(s.Pitches); n > 0 {
					gap = s.Pitches[n-1]
				}
				switch {
				case s.Last < least && least == x.endReach() && least > d/2:
					have, need := x.Apart(s.Last, least)
					x.report(Conflict, path, atLeast(s.Last, least), "the last %s lies %s above the end, but its hole reaches %s below it: it would run into the edge", x.C.Notion.Kind, have, need)
				case s.Last < least:
					have, need := x.Apart(s.Last, least)
					x.report(Conflict, path, atLeast(s.Last, least), "the last %s lies %s above the end, but needs at least %s", x.C.Notion.Kind, have, need)
				case !plan.IsShort(x.C, s.Run) && 2*s.Last < hemGaps*gap && s.Last < plan.LastAboveHem:
					have, need := x.Apart(s.Last, hemGaps*gap/2)
					x.report(Note, path, atLeast(s.Last, hemGaps*gap/2), "the last %s lies %s above the hem, nearer than 1.5 gaps (%s): sit down and climb a step in the try-on", x.C.Notion.Kind, have, need)
				}
			})
		},
		Touches: []string{"closure.*.run.last"},
		Propose: func(x *Context, f *Finding) []Change { return proposeEnd(x, "last", x.C.Run.Last) },
	},
	{
		Name: "gaps-uneven", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "the gaps are not even",
		Formula: "largest gap − smallest gap > 1/16 in and more than one marking step",
		Why:     "An eye sees a step of 1/4 in in a row of buttons.",
		Sources: []string{"sewing and design professionals' standards, p. 24: holes equal in spacing", "from memory: 1/16 in"},
		Check: func(x *Context) {
			step := x.C.Run.Step.Or(plan.MarkEvery(x.U))
			x.eachSize(func(i int, s *plan.Size) {
				if s.Spread <= max(unevenGap, step) {
					return
				}
				x.report(Note, x.at("run"), atMost(s.Spread, step), "the gaps differ by %s: %s", x.say(s.Spread), x.later(func(x *Context) string { return x.whyUneven(step) }))
			})
		},
	},
	{
		Name: "rims-touch", Severity: Conflict,
		Task:  NoTask,
		Reads: ReadsNotion | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			r := x.K.Reach
			return x.leastOf(max(r.Up+r.Down, 2*r.Rim), func(s *plan.Size) (measure.Length, bool) { return shortest(s.Gaps) })
		},
		Title:   "neighbouring fasteners must not touch",
		Formula: "smallest gap ≥ the fastener's reach up + down",
		Why:     "Buttons that overlap cannot be buttoned, and holes that meet tear into one.",
		Sources: []string{"geometry"},
		Check: func(x *Context) {
			r := x.K.Reach
			x.eachSize(func(i int, s *plan.Size) {
				for _, g := range s.Gaps {
					if need := max(r.Up+r.Down, 2*r.Rim); g < need {
						have, want := x.Apart(g, need)
						x.report(Conflict, x.at("run"), atLeast(g, need).on(plan.AcrossBasis(x.C)), "two fasteners lie %s apart but take %s each: use fewer", have, want)
						return
					}
				}
			})
		},
		Touches: anotherRun,
		Propose: proposeRun,
	},
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
// top or the end.
func (x *Context) endNow(key string) func(int) measure.Length {
	return func(i int) measure.Length {
		first, last := plan.Ends(x.G, x.C, x.K, i)
		if key == "first" {
			return first.Min
		}
		return x.C.Run.Length.At(i).V - last.Max
	}
}

// proposeEnd moves the first or last fastener as far from its end as it must
// be.
func proposeEnd(x *Context, key string, s catalog.Sized) []Change {
	says := map[string]string{"first": " below the top", "last": " above the end"}[key]
	reach := map[string]measure.Length{"first": x.K.Reach.Up, "last": x.endReach()}[key]
	d := plan.AlongOf(&x.C.Notion)
	var out []Change
	for i, want := range []measure.Length{max(endLeast, d/2, reach), max(d+plan.FirstBelowNeck, reach)} {
		want = want.RoundUp(x.C.Run.Step.Or(plan.HoleStep(x.U)))
		out = append(out, Change{
			With: x.sized("run."+key, s, x.endNow(key), func(now measure.Length) measure.Length { return max(now, want) }),
			Says: "set the " + key + " " + x.len(want) + says, Cost: want.MM()/4 + float64(i),
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
	for i := range r.problems {
		r.problems[i] = plan.ProblemOf(x.G, x.C, x.K, i)
		if touching {
			least := max(x.K.Reach.Up+x.K.Reach.Down, 2*x.K.Reach.Rim)
			r.problems[i].Gap.Min = max(r.problems[i].Gap.Min, least)
		}
		if i > 0 && plan.SameForAll(&x.C.Run) {
			r.problems = r.problems[:1]
			break
		}
	}
	zones := false
	for i := range r.problems {
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
	r.ends("first", spacing.KindFirst, x.C.Run.First)
	r.ends("last", spacing.KindLast, x.C.Run.Last)
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
		if p.Run <= 0 || p.First.Min < 0 || p.Last.Max > p.Run || p.Gap.Min < 0 || p.Most <= 0 {
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
		counts, err := spacing.Counts(p)
		if err != nil {
			return
		}
		for _, n := range counts {
			have[n]++
		}
	}
	now := run.Count[0]
	below, above := 0, 0
	for n, sizes := range have {
		switch {
		case sizes < len(r.problems):
		case n < now.Min:
			below = max(below, n)
		case n > now.Max && (above == 0 || n < above):
			above = n
		}
	}
	for _, n := range []int{below, above} {
		if n < 1 || n > 200 {
			continue
		}
		d := float64(min((now.Min-n)*(now.Min-n), (now.Max-n)*(now.Max-n)))
		if now.Min == now.Max {
			r.add(10*d, "use "+strconv.Itoa(n), set(x, "run.count", n))
		} else {
			lo, hi := min(now.Min, n), max(now.Max, n)
			r.add(10*d, "use "+strconv.Itoa(lo)+" to "+strconv.Itoa(hi), x.setTable("run.count", map[string]any{"min": lo, "max": hi}))
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
	finest := sixteenth
	if x.U == measure.MM {
		finest = mm
	}
	for step := now / 2; step >= finest; step /= 2 {
		if r.holds(func(p *spacing.Problem) { p.Step = step }) {
			r.add(2, "mark to "+step.TextPlace(x.U), x.setLength("run.step", step))
			return
		}
	}
	if now > finest && r.holds(func(p *spacing.Problem) { p.Step = finest }) {
		r.add(3, "mark to "+finest.TextPlace(x.U), x.setLength("run.step", finest))
	}
}

func (r *runChanges) gaps() {
	x, run := r.x, &r.x.C.Run
	if r.in(spacing.KindGapMin) && run.GapMin.Has() {
		if _, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Gap.Min -= by }); by > 0 {
			r.add(2+by.MM(), "let gaps be "+x.len(by)+" narrower", x.sized("run.gap.min", run.GapMin, func(i int) measure.Length { return run.GapMin.At(i).V }, func(l measure.Length) measure.Length { return (l - by).RoundDown(plan.HoleStep(x.U)) }))
		}
	}
	if r.in(spacing.KindGapMax) && run.GapMax.Has() {
		if _, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Gap.Max += by }); by > 0 {
			r.add(2+by.MM(), "let gaps be "+x.len(by)+" wider", x.sized("run.gap.max", run.GapMax, func(i int) measure.Length { return run.GapMax.At(i).V }, func(l measure.Length) measure.Length { return (l + by).RoundUp(plan.HoleStep(x.U)) }))
		}
	}
}

func (r *runChanges) ends(key string, kind spacing.Kind, s catalog.Sized) {
	x := r.x
	if !r.in(kind) || x.C.Run.FirstMax.Has() && key == "first" || x.C.Run.LastMax.Has() && key == "last" {
		return
	}
	least := max(endLeast, plan.AlongOf(&x.C.Notion)/2)
	now := x.endNow(key)
	for _, dir := range []measure.Length{-1, 1} {
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
		way := "farther from the "
		if dir < 0 {
			way = "nearer the "
		}
		way += map[string]string{"first": "top", "last": "end"}[key]
		r.add(3+by.MM(), "set the "+key+" "+x.len(by)+" "+way, x.sized("run."+key, s, now, func(l measure.Length) measure.Length { return l + dir*by }))
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
		within := func(k int) measure.Length { w := a.Within.At(k); return w.Or(plan.AnchorWithin) }
		if _, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Anchors[i].Within += by }); by > 0 {
			r.add(4+by.MM(), "let "+a.Name+" be "+x.len(by)+" farther from a fastener", x.sized(key("within"), a.Within, within, func(l measure.Length) measure.Length { return (l + by).RoundUp(plan.HoleStep(x.U)) }))
		}
		// An anchor moved farther than its own leeway would be another place.
		for _, dir := range []measure.Length{-1, 1} {
			n, by := r.smallest(func(p *spacing.Problem, by measure.Length) { p.Anchors[i].At += dir * by })
			if n == 0 || by > within(0) || a.At.At(0).V+dir*by <= 0 {
				continue
			}
			way := "lower"
			if dir < 0 {
				way = "higher"
			}
			r.add(4+by.MM(), "move "+a.Name+" "+x.len(by)+" "+way, x.sized(key("at"), a.At, func(k int) measure.Length { return a.At.At(k).V }, func(l measure.Length) measure.Length { return l + dir*by }))
		}
	}
}
