package rules

import (
	"errors"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/spacing"
)

const (
	firstBelowNeck = quarter // beyond D: R. Carr, Couture, as quoted
	lastAboveHem   = 4 * in  // leg room: about.com sewing column, 1999
	endLeast       = in / 2  // trade pattern maker: first and last from the finished edges
	shortRun       = 8 * in  // ours: a run this short is a flap, a cuff or a tab
	hemGaps        = 3       // half gaps: the last hole 1.5 gaps above the hem, R. Carr, Couture, as quoted
	unevenGap      = 1 * in / 16
)

// markEvery is the step where the garment gives none.
func markEvery(u measure.Unit) measure.Length {
	if u == measure.In {
		return eighth
	}
	return 5 * mm
}

// ends are the first and last centres of a size, both from the top, with
// their windows.
func ends(g *catalog.Garment, c *catalog.Closure, k *ClosurePlan, size int) (first, last spacing.Window) {
	run := &c.Run
	length := run.Length.At(size).V
	d := acrossOf(&c.Notion)
	short := isShort(c, length)
	count := run.CountAt(size)
	one := count.Set && count.Max == 1
	if run.Last.Has() {
		l := run.Last.At(size).V
		last = spacing.At(length - l)
		if run.LastMax.Has() {
			last.Min = length - run.LastMax.At(size).V
		}
	}
	switch {
	case run.First.Has():
		f := run.First.At(size).V
		first = spacing.At(f)
		if run.FirstMax.Has() {
			first.Max = run.FirstMax.At(size).V
		}
	case one && run.Last.Has():
		first = last // one fastener is first and last at once
	case short && one:
		first = spacing.At(length / 2)
	case short:
		first = spacing.At(d)
	default:
		first = spacing.At(d + firstBelowNeck)
	}
	switch {
	case run.Last.Has():
	case one:
		last = first
	case short:
		last = spacing.At(length - d)
	default:
		last = spacing.At(length - lastAboveHem)
	}
	return first, last
}

// isShort says whether the closure is a flap, cuff or tab, which takes its
// fasteners from its own edges and not from neck and hem.
func isShort(c *catalog.Closure, length measure.Length) bool {
	switch c.Where {
	case "front", "fly":
		return false
	case "":
		return length <= shortRun
	}
	return true
}

// ProblemOf is what the run of one size asks of the spacing.
func ProblemOf(g *catalog.Garment, c *catalog.Closure, k *ClosurePlan, size int) spacing.Problem {
	run := &c.Run
	p := spacing.Problem{
		Run:      run.Length.At(size).V,
		Step:     run.Step.Or(markEvery(g.Units)),
		Gap:      spacing.Limits{Min: run.GapMin.At(size).V, Max: run.GapMax.At(size).V},
		Group:    run.Group,
		GroupGap: run.GroupGap.V,
	}
	if g.Units == measure.MM {
		p.EvenWithin = spacing.EvenSpreadMM
	}
	p.First, p.Last = ends(g, c, k, size)
	if n := run.CountAt(size); n.Set {
		p.CountMin, p.CountMax = n.Min, n.Max
	}
	if len(run.Anchors) > 0 {
		p.Anchors = make([]spacing.Anchor, len(run.Anchors))
		for i, a := range run.Anchors {
			within := a.Within.At(size)
			p.Anchors[i] = spacing.Anchor{Name: a.Name, At: a.At.At(size).V, Within: within.Or(anchorWithin)}
		}
	}
	if len(run.Clears) > 0 {
		p.Clear = make([]spacing.Zone, len(run.Clears))
		for i, z := range run.Clears {
			p.Clear[i] = spacing.Widen(spacing.Zone{Name: z.Name, From: z.From.At(size).V, To: z.To.At(size).V}, k.Reach.Up, k.Reach.Down)
		}
	}
	if run.Hem.Has() {
		// Nothing of the fastener lies in the turned-up hem.
		p.Clear = append(p.Clear, spacing.Widen(spacing.Zone{Name: "hem", From: p.Run - run.Hem.At(size).V, To: p.Run + in}, k.Reach.Up, k.Reach.Down))
	}
	if run.Match != "" {
		if cl := g.ClothNamed(run.Match); cl != nil && cl.Repeat.Along.Has() {
			p.Repeat = cl.Repeat.Along.V
		}
	}
	return p
}

const anchorWithin = in / 2 // ours, where the garment does not say

// sizesOf lays every size out, with one count for all of them where that is
// open and the limits allow it.
func (p *Planned) sizesOf(c *catalog.Closure, k *ClosurePlan) []SizePlan {
	g := p.Garment
	key := runKey{closure: c.Index}
	if p.runs != nil {
		key.take(c, k)
		if out, ok := p.runs[key]; ok {
			return out
		}
	}
	out := make([]SizePlan, len(g.Sizes))
	for i, s := range g.Sizes {
		out[i] = SizePlan{Size: s, Run: c.Run.Length.At(i).V}
	}
	if !c.Run.Length.Has() || c.Notion.Kind == catalog.Zip {
		return out
	}
	problems := make([]spacing.Problem, len(out))
	if sameForAll(&c.Run) {
		problems = problems[:1]
	}
	for i := range problems {
		problems[i] = ProblemOf(g, c, k, i)
		problems[i].Bare = p.Quiet
	}
	if openCount(&c.Run) {
		_, sizes := spacing.SolveSizes(problems)
		for i, s := range sizes {
			if s.Err == nil {
				out[i].place(c, s.Layout)
				out[i].OwnCount = s.Own
			}
		}
	} else {
		for i := range problems {
			if l, err := spacing.Solve(problems[i]); err == nil {
				out[i].place(c, l)
			}
		}
	}
	for i := len(problems); i < len(out); i++ {
		size := out[i].Size
		out[i] = out[0]
		out[i].Size = size
	}
	if p.runs != nil {
		if len(p.runs) >= runsKept {
			clear(p.runs)
		}
		p.runs[key] = out
	}
	return out
}

const runsKept = 1 << 12 // so that a search cannot fill the memory

// runKey is all of a notion that the layout of a run depends on. A search
// over many notions keeps the layouts under it, see Planned.runs.
type runKey struct {
	closure          int
	across, up, down measure.Length
}

func (r *runKey) take(c *catalog.Closure, k *ClosurePlan) {
	if !c.Run.First.Has() || !c.Run.Last.Has() {
		r.across = acrossOf(&c.Notion) // the ends go by it
	}
	if len(c.Run.Clears) > 0 || c.Run.Hem.Has() {
		r.up, r.down = k.Reach.Up, k.Reach.Down
	}
}

// sameForAll says whether nothing of a run differs from size to size.
func sameForAll(r *catalog.Run) bool {
	for _, s := range [...]catalog.Sized{r.Length, r.First, r.Last, r.FirstMax, r.LastMax, r.GapMin, r.GapMax, r.Hem} {
		if len(s) > 1 {
			return false
		}
	}
	for i := range r.Anchors {
		if len(r.Anchors[i].At) > 1 || len(r.Anchors[i].Within) > 1 {
			return false
		}
	}
	for i := range r.Clears {
		if len(r.Clears[i].From) > 1 || len(r.Clears[i].To) > 1 {
			return false
		}
	}
	return len(r.Count) < 2
}

// openCount says whether the count is for the solver to choose, the same
// for all sizes.
func openCount(r *catalog.Run) bool {
	return len(r.Count) == 0 || len(r.Count) == 1 && r.Count[0].Min != r.Count[0].Max
}

func (s *SizePlan) place(c *catalog.Closure, l spacing.Layout) {
	s.Positions, s.Count, s.Spread, s.Solved = l.Positions, l.Count(), l.Spread, true
	s.Gaps, s.Pitches = l.Gaps(), l.Pitches()
	s.Fasteners = s.Count
	if n := len(l.Positions); n > 0 {
		s.First, s.Last = l.Positions[0], s.Run-l.Positions[n-1]
	}
	if c.Lap == "double" {
		s.Fasteners = 2 * s.Count
		s.Rows = rowsOf(c, s.Positions)
	}
}

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
			return "count " + itoa(p.CountMin)
		}
		return "count " + itoa(p.CountMin) + " to " + itoa(p.CountMax)
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
func (x *Context) eachSize(do func(i int, s *SizePlan)) {
	for i := range x.K.Sizes {
		if s := &x.K.Sizes[i]; s.Solved && s.Count > 0 {
			x.size = s.Size
			do(i, s)
		}
	}
	x.size = ""
}

// sizePath is the path of a value that may be given by size.
func (x *Context) sizePath(key string, s catalog.Sized, size string) string {
	if x.quiet() {
		return ""
	}
	p := x.path("run." + key)
	if !s.Has() {
		return x.path("run")
	}
	if len(s) > 1 && size != "" {
		return source.Join(p, size)
	}
	return p
}

func joinAnd(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

var runRules = []*Rule{
	{
		Name: "spacing-clash", Severity: Conflict,
		Title:   "what is asked of the run must be possible together",
		Formula: "all centres on the marking step, gaps within their limits, a centre near every anchor, none in a clear zone widened by the fastener's own reach",
		Why:     "Forcing it on the cutting table ends in an uneven front or a buttonhole under the belt.",
		Sources: []string{"exact search over all layouts; the smallest set that cannot hold together is named"},
		check: func(x *Context) {
			if x.C.Notion.Kind == catalog.Zip || !x.C.Run.Length.Has() {
				return
			}
			for i := range x.K.Sizes {
				if x.K.Sizes[i].Solved {
					continue
				}
				x.size = x.K.Sizes[i].Size
				if x.quiet() {
					x.report(Conflict, "", Numbers{}, "")
					continue
				}
				p := ProblemOf(x.G, x.C, x.K, i)
				_, err := spacing.Solve(p)
				var clash *spacing.Clash
				if err == nil {
					// Alone it could be: it is the search over all sizes that was stopped.
					err = &spacing.TooMany{Tried: spacing.MaxTries, Give: []spacing.Kind{spacing.KindCount, spacing.KindStep}}
				}
				if !errors.As(err, &clash) {
					x.report(Conflict, x.path("run"), Numbers{}, "the run cannot be laid out: %s", strings.TrimPrefix(err.Error(), "spacing: "))
					continue
				}
				words := make([]string, len(clash.Constraints))
				for j, c := range clash.Constraints {
					words[j] = x.clashWords(c, &p)
				}
				verb := "cannot hold together: change one of them"
				if len(words) == 1 {
					verb = "cannot hold"
				}
				f := x.report(Conflict, x.clashPath(clash.Constraints[0], i), Numbers{}, "%s %s", joinAnd(words), verb)
				for j, c := range clash.Constraints {
					f.Related = append(f.Related, Related{words[j], x.G.At(x.clashPath(c, i))})
				}
			}
			x.size = ""
		},
		propose: proposeRun,
	},
	{
		Name: "size-count", Severity: Caution,
		Title:   "a size that needs another count than the rest",
		Formula: "the count that most sizes have a layout for is taken for all; a size without one gets its own",
		Why:     "One size with another number of buttons means other marks, another count to buy, and a pattern sheet of its own.",
		Sources: []string{"exact search over all layouts of all sizes"},
		check: func(x *Context) {
			common := 0
			for i := range x.K.Sizes {
				if s := &x.K.Sizes[i]; s.Solved && !s.OwnCount {
					common = s.Count
				}
			}
			x.eachSize(func(i int, s *SizePlan) {
				if s.OwnCount {
					x.report(Caution, x.path("run.gap"), Numbers{Have: float64(s.Count), Need: float64(common), Margin: float64(common - s.Count), Compared: true},
						"this size takes %d where the others take %d: widen the gap limits, or mark and buy for it apart", s.Count, common)
				}
			})
		},
	},
	{
		Name: "first-high", Severity: Conflict,
		Title:   "the first fastener must clear the top edge",
		Formula: "first ≥ D/2 and a hole along must begin below the top (conflict below), ≥ 1/2 in (caution below); over 1 in and over D + 1/4 in: note, unless it is the only one",
		Why:     "A rim over the neck edge catches; a first button too low lets the neck fall open.",
		Sources: []string{
			"trade pattern maker, Reverse engineering standard work: first and last at least 1/2 in from the finished edges",
			"R. Carr, Couture, as quoted: first hole D + 1/4 in below the neck edge",
			"IASRI e-course: centre at least D/2 from an edge",
		},
		Others: "5 mm, one D, 1.5 to 2 cm and at most 1 in are also printed",
		check: func(x *Context) {
			d := acrossOf(&x.C.Notion)
			x.eachSize(func(i int, s *SizePlan) {
				path := x.sizePath("first", x.C.Run.First, s.Size)
				switch {
				case s.First < d/2:
					have, need := x.apart(s.First, d/2)
					x.report(Conflict, path, atLeast(s.First, d/2), "the first %s lies %s below the top, less than half its own width (%s): it would hang over the edge", x.C.Notion.Kind, have, need)
				case s.First < x.K.Reach.Up:
					have, need := x.apart(s.First, x.K.Reach.Up)
					x.report(Conflict, path, atLeast(s.First, x.K.Reach.Up), "the first %s lies %s below the top, but its hole reaches %s above it: it would run over the edge", x.C.Notion.Kind, have, need)
				case s.First < endLeast:
					have, need := x.apart(s.First, endLeast)
					x.report(Caution, path, atLeast(s.First, endLeast), "the first %s lies only %s below the top; %s is the least usual", x.C.Notion.Kind, have, need)
				case s.First > in && s.First > d+firstBelowNeck && !isShort(x.C, s.Run) && s.Count > 1:
					x.report(Note, path, atMost(s.First, max(in, d+firstBelowNeck)), "the first %s lies %s below the top, lower than usual (%s)", x.C.Notion.Kind, x.len(s.First), x.len(max(in, d+firstBelowNeck)))
				}
			})
		},
		propose: func(x *Context, f *Finding) []Change { return proposeEnd(x, "first", x.C.Run.First) },
	},
	{
		Name: "last-low", Severity: Conflict,
		Title:   "the last fastener must clear the hem",
		Formula: "last ≥ 1/2 in, ≥ D/2 and, for a hole along, ≥ the rest of the stitched hole above the end of the run (conflict below); on a front buttoned to the hem ≥ 1.5 gaps or 4 in, whichever is less (note below)",
		Why:     "A hole in the hem goes through the fold; a last button too low binds when you sit or climb.",
		Sources: []string{
			"trade pattern maker, Reverse engineering standard work: at least 1/2 in from the finished edges",
			"R. Carr, Couture, as quoted: last hole at least 1.5 gaps above the hem",
			"about.com sewing column, 1999: about 4 in above the hem for leg room",
		},
		check: func(x *Context) {
			d := acrossOf(&x.C.Notion)
			x.eachSize(func(i int, s *SizePlan) {
				path := x.sizePath("last", x.C.Run.Last, s.Size)
				least := max(endLeast, d/2, x.K.Reach.Down)
				gap := measure.Length(0)
				if n := len(s.Pitches); n > 0 {
					gap = s.Pitches[n-1]
				}
				switch {
				case s.Last < least && least == x.K.Reach.Down && least > d/2:
					have, need := x.apart(s.Last, least)
					x.report(Conflict, path, atLeast(s.Last, least), "the last %s lies %s above the end, but its hole reaches %s below it: it would run over the edge", x.C.Notion.Kind, have, need)
				case s.Last < least:
					have, need := x.apart(s.Last, least)
					x.report(Conflict, path, atLeast(s.Last, least), "the last %s lies %s above the end, but needs at least %s", x.C.Notion.Kind, have, need)
				case !isShort(x.C, s.Run) && 2*s.Last < hemGaps*gap && s.Last < lastAboveHem:
					have, need := x.apart(s.Last, hemGaps*gap/2)
					x.report(Note, path, atLeast(s.Last, hemGaps*gap/2), "the last %s lies %s above the hem, nearer than 1.5 gaps (%s): sit down and climb a step in the try-on", x.C.Notion.Kind, have, need)
				}
			})
		},
		propose: func(x *Context, f *Finding) []Change { return proposeEnd(x, "last", x.C.Run.Last) },
	},
	{
		Name: "gaps-uneven", Severity: Note,
		Title:   "the gaps are not even",
		Formula: "largest gap − smallest gap > 1/16 in and more than one marking step",
		Why:     "An eye sees a step of 1/4 in in a row of buttons.",
		Sources: []string{"sewing and design professionals' standards, p. 24: holes equal in spacing", "from memory: 1/16 in"},
		check: func(x *Context) {
			step := x.C.Run.Step.Or(markEvery(x.U))
			x.eachSize(func(i int, s *SizePlan) {
				if s.Spread <= max(unevenGap, step) {
					return
				}
				x.report(Note, x.path("run"), atMost(s.Spread, step), "the gaps differ by %s: %s", x.len(s.Spread), x.whyUneven(step))
			})
		},
	},
	{
		Name: "rims-touch", Severity: Conflict,
		Title:   "neighbouring fasteners must not touch",
		Formula: "smallest gap ≥ the fastener's reach up + down",
		Why:     "Buttons that overlap cannot be buttoned, and holes that meet tear into one.",
		Sources: []string{"geometry"},
		check: func(x *Context) {
			r := x.K.Reach
			x.eachSize(func(i int, s *SizePlan) {
				for _, g := range s.Gaps {
					if need := max(r.Up+r.Down, 2*r.Rim); g < need {
						have, want := x.apart(g, need)
						x.report(Conflict, x.path("run"), atLeast(g, need), "two fasteners lie %s apart but take %s each: use fewer", have, want)
						return
					}
				}
			})
		},
		propose: proposeRun,
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
	return joinAnd(append(words, "steps of "+x.len(step))) + " leave nothing more even"
}
