package plan

import (
	"errors"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/spacing"
)

const (
	FirstBelowNeck = quarter // beyond D: R. Carr, Couture, as quoted
	LastAboveHem   = 4 * in  // leg room: a sewing column, 1999
	EndLeast       = in / 2  // trade pattern maker: first and last from the finished edges
	shortRun       = 8 * in  // ours: a run this short is a flap, a cuff or a tab
	farthest       = 2       // times its default that an end may move: ours
	FirstLow       = in      // first below the top, at most: also printed, see first-high
	// AboveTurnUp is how far above the turned-up hem a hole should end, its bar
	// included: from memory.
	AboveTurnUp = in * 3 / 8
)

// HemGaps is how many gaps above the hem the last hole should lie: R. Carr,
// Couture, as quoted.
var HemGaps = Ratio{3, 2}

// Thresholds of the run.
var (
	EndLimit       = Inches("end", EndLeast, Published)
	FirstLowLimit  = Inches("low", FirstLow, Published)
	BelowNeckLimit = Inches("below neck", FirstBelowNeck, Published)
	TurnUpLimit    = Inches("turn-up", AboveTurnUp, Memory)
	HemGapsLimit   = Number("gaps", float64(HemGaps.Num)/float64(HemGaps.Den), "", Published)
	LegRoomLimit   = Inches("leg room", LastAboveHem, Published)
	EvenLimit      = Inches("spread", spacing.EvenSpread, Ours)
	EvenMMLimit    = Metric("spread mm", spacing.EvenSpreadMM, Ours)
	EvenStepsLimit = Number("steps", spacing.EvenSteps, "", Ours)
	FarthestLimit  = Number("farthest", farthest, "", Ours)
	MarksLimit     = Words("marks", Practice, func(u measure.Unit) string {
		switch {
		case u.IsAlone():
			return marksOf(u)
		case u.Is(measure.MM):
			return marksOf(measure.MM) + " (" + marksOf(measure.In) + ")"
		}
		return marksOf(measure.In) + " (" + marksOf(measure.MM) + ")"
	})
)

// marksOf are the steps of a ruler in words.
func marksOf(u measure.Unit) string {
	var words []string
	for _, m := range Marks(u) {
		words = append(words, m.ShortPlace(u))
	}
	return text.And(words...)
}

// UsualFirst is where the first of a front's fasteners d across lies below the
// top where nothing is said: d + 1/4 in, up to what a ruler marks; in a garment
// in millimetres d + 6 mm, as metric books print it, up to whole 5 mm.
func UsualFirst(d measure.Length, u measure.Unit) measure.Length {
	if u.Is(measure.MM) {
		return (d + 6*mm).RoundUp(5 * mm)
	}
	return (d + FirstBelowNeck).RoundUp(sixteenth)
}

// UsualLast is where its last lies above the end: 4 in, or 100 mm.
func UsualLast(u measure.Unit) measure.Length {
	if u.Is(measure.MM) {
		return 100 * mm
	}
	return LastAboveHem
}

// usualShort is where the first and the last of a flap, cuff or tab lie from
// their own edges: D, and no less than the least of all, up to 1/16 in or 1 mm.
func usualShort(d measure.Length, u measure.Unit) measure.Length {
	return max(d, EndLeast).RoundUp(HoleStep(u))
}

// MarkEvery is the step where the garment gives none.
func MarkEvery(u measure.Unit) measure.Length {
	if u.Is(measure.In) {
		return eighth
	}
	return 5 * mm
}

// Marks are the steps that a ruler of those units marks.
func Marks(u measure.Unit) []measure.Length {
	if u.Is(measure.In) {
		return []measure.Length{in / 2, quarter, eighth, sixteenth}
	}
	return []measure.Length{10 * mm, 5 * mm, 2 * mm, mm}
}

// Ends are the first and last centres of a size, both from the top, with
// their windows.
func Ends(g *catalog.Garment, c *catalog.Closure, k *Closure, size int) (first, last spacing.Window) {
	run := &c.Run
	length := run.Length.At(size).V
	d := AlongOf(&c.Notion)
	below := UsualFirst(d, g.Units)
	if c.Notion.Kind == catalog.Hook {
		below = (d/2 + HookLeast).RoundUp(HoleStep(g.Units)) // as near to the neck edge as to the other
	}
	short := IsShort(c, length)
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
		first = spacing.At(usualShort(d, g.Units))
	default:
		first = spacing.At(below)
	}
	switch {
	case run.Last.Has():
	case one:
		last = first
	case short:
		last = spacing.At(length - usualShort(d, g.Units))
	default:
		last = spacing.At(length - UsualLast(g.Units))
	}
	return first, last
}

// IsShort says whether the closure is a flap, cuff or tab, which takes its
// fasteners from its own edges and not from neck and hem.
func IsShort(c *catalog.Closure, length measure.Length) bool {
	switch c.Where {
	case "front", "fly":
		return false
	case "":
		return length <= shortRun
	}
	return true
}

// ProblemOf is what the run of one size asks of the spacing.
func ProblemOf(g *catalog.Garment, c *catalog.Closure, k *Closure, size int) spacing.Problem {
	run := &c.Run
	p := spacing.Problem{
		Run:      run.Length.At(size).V,
		Step:     run.Step.Or(MarkEvery(g.Units)),
		Gap:      spacing.Limits{Min: run.GapMin.At(size).V, Max: run.GapMax.At(size).V},
		Wish:     run.GapAbout.At(size).V,
		Group:    run.Group,
		GroupGap: run.GroupGap.V,
	}
	if g.Units.Is(measure.MM) {
		p.EvenWithin = spacing.EvenSpreadMM
	}
	p.First, p.Last = Ends(g, c, k, size)
	if n := run.CountAt(size); n.Set {
		p.CountMin, p.CountMax = n.Min, n.Max
	}
	for _, a := range run.Anchors {
		within := a.Within.At(size)
		p.Anchors = append(p.Anchors, spacing.Anchor{Name: a.Name, At: a.At.At(size).V, Within: within.Or(AnchorWithin(g.Units))})
	}
	for _, z := range run.Clears {
		p.Clear = append(p.Clear, spacing.Widen(spacing.Zone{Name: z.Name, From: z.From.At(size).V, To: z.To.At(size).V}, k.Reach.Up, k.Reach.Down))
	}
	if run.Hem.Has() {
		// Nothing of the fastener lies in the turned-up hem, and no hole ends on
		// its line.
		p.Clear = append(p.Clear, spacing.Widen(spacing.Zone{Name: "hem", From: p.Run - run.Hem.At(size).V, To: p.Run + in}, k.Reach.Up, k.EndReach()))
	}
	if run.Match != "" {
		if cl := g.ClothNamed(run.Match); cl != nil && cl.Repeat.Along.Has() {
			p.Repeat = cl.Repeat.Along.V
			p.Phase, p.HasPhase = run.Phase.V, run.Phase.Has()
		}
	}
	return p
}

// Below is how far the stitched hole reaches below its centre.
func (h *Hole) Below() measure.Length {
	if h.Direction == "along" {
		return h.Inside + (h.Stitched-h.Length)/2
	}
	return h.Width / 2
}

// EndReach is how far above the hem or the end the last fastener must lie for
// its hole: one that ends on the line is cut into it.
func (k *Closure) EndReach() measure.Length {
	if d := k.Reach.Down; d > k.Reach.Rim {
		return d + 1
	}
	return k.Reach.Down
}

// AnchorWithin is how near a fastener must lie to an anchor where the garment
// does not say: 1/2 in, or 12 mm. Ours.
func AnchorWithin(u measure.Unit) measure.Length {
	if u.Is(measure.MM) {
		return 12 * mm
	}
	return in / 2
}

// EndLeastOf is the least from the centre of a fastener to a finished edge at
// the ends of its run: of a rivet its rim decides, which is set in the very
// corner of a pocket.
func EndLeastOf(n *catalog.Notion) measure.Length {
	if n.Kind == catalog.Rivet {
		return min(EndLeast, AlongOf(n)/2+RimClear)
	}
	return EndLeast
}

// EndsLeast are how near the top the first centre and how near the end the
// last may come: half the fastener, the reach of its hole and the least that
// is usual. A hole that ends on the end of the run would be cut into it.
func EndsLeast(c *catalog.Closure, k *Closure) (first, last measure.Length) {
	least := max(EndLeastOf(&c.Notion), AlongOf(&c.Notion)/2)
	return max(least, k.Reach.Up), max(least, k.EndReach())
}

// defaultsOf are the figures of a run that the file does not give, and how far
// they may give way: an end from the least to farthest times its default.
func defaultsOf(g *catalog.Garment, c *catalog.Closure, k *Closure, size int, p *spacing.Problem) spacing.Defaults {
	run := &c.Run
	var d spacing.Defaults
	if !run.Step.Has() {
		d.Steps = Marks(g.Units)
	}
	count := run.CountAt(size)
	one := count.Set && count.Max == 1 // first and last at once
	leastFirst, leastLast := EndsLeast(c, k)
	if !run.First.Has() && !(one && run.Last.Has()) && p.First.Fixed() {
		at := p.First.Min
		most := min(farthest*at, p.Run-leastLast)
		if c.Where == "cuff" && run.Last.Has() {
			most = p.Run - leastLast // a row that is counted from the lower edge
		}
		d.First = &spacing.Window{Min: min(at, leastFirst), Max: max(at, most)}
	}
	switch {
	case run.Last.Has() || !p.Last.Fixed():
	case one:
		d.Last = d.First
	default:
		at := p.Run - p.Last.Min
		d.Last = &spacing.Window{Min: min(p.Last.Min, max(p.Run-farthest*at, leastFirst)), Max: max(p.Last.Min, p.Run-leastLast)}
	}
	return d
}

// sizesOf lays every size out, with one count for all of them where that is
// open and the limits allow it.
func (p *Plan) sizesOf(c *catalog.Closure, k *Closure) []Size {
	g := p.Garment
	runs := c.Run.Length.Has() && c.Notion.Kind != catalog.Zip
	key := runKey{closure: c.Index}
	if p.runs != nil && runs {
		key.take(c, k)
		for _, key := range [...]runKey{key, key.given(c, k)} {
			if run, ok := p.runs[key]; ok {
				if p.tries != nil {
					p.tries.Tried += run.tried // however often it is solved
				}
				return run.sizes
			}
		}
	}
	out := make([]Size, len(g.Sizes))
	for i, s := range g.Sizes {
		out[i] = Size{Size: s, Run: c.Run.Length.At(i).V}
	}
	if !runs {
		return out
	}
	before := 0
	if p.tries != nil {
		before = p.tries.Tried
	}
	problems := make([]spacing.Problem, len(out))
	if SameForAll(&c.Run) {
		problems = problems[:1]
	}
	for i := range problems {
		problems[i] = ProblemOf(g, c, k, i)
		problems[i].Bare = true
	}
	open := openCount(&c.Run)
	found, gave := p.layouts(c, k, problems, open)
	for i, s := range found {
		z := &out[i]
		switch z.Err = s.Err; {
		case s.Err == nil:
			z.place(k, s.Layout)
			z.OwnCount = open && s.Own
			z.Moved, z.Step = s.Moved, s.Step
			problems[i].Step = s.Step
			z.EvenTo = problems[i].EvenTo()
		case errors.As(s.Err, new(*spacing.Clash)):
			z.UsualEnd = anyEnd(c, k, problems[i], 0)
			z.Room = !z.UsualEnd && LaidOut(g, c, k, i, max(EndsLeast(c, k)))
			if !p.bare {
				problems[i].Bare = false // which constraints clash
				_, z.Err = spacing.Solve(problems[i])
			}
		}
	}
	if len(problems) == 1 { // what is chosen for one is chosen for all
		out[0].Choice.Even *= len(out)
		out[0].Choice.Sizes *= len(out)
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
		if gave {
			key = key.given(c, k)
		}
		run := laidRun{sizes: out}
		if p.tries != nil {
			run.tried = p.tries.Tried - before
		}
		p.runs[key] = run
	}
	return out
}

// laidRun is a run that was laid out, and how many places that tried.
type laidRun struct {
	sizes []Size
	tried int
}

// layouts are the best of each size. What the file does not give gives way
// where it must, see spacing.SolveLoose; gave says whether it was tried.
func (p *Plan) layouts(c *catalog.Closure, k *Closure, problems []spacing.Problem, open bool) (out []spacing.Loose, gave bool) {
	out = make([]spacing.Loose, len(problems))
	hold := func() {
		for i := range problems {
			p.tries.Hold(&problems[i])
		}
	}
	if hold(); open {
		_, sizes := spacing.SolveSizes(problems)
		for i, s := range sizes {
			out[i].Size = s
		}
	} else {
		for i := range problems {
			p.tries.Hold(&problems[i]) // the sizes before it have tried some
			out[i].Layout, out[i].Err = spacing.Solve(problems[i])
		}
	}
	wanting := false
	for i := range out {
		out[i].Step = problems[i].Step
		wanting = wanting || errors.As(out[i].Err, new(*spacing.Clash)) || len(out[i].Layout.Skips) != 0
	}
	if !wanting {
		return out, false
	}
	defaults := make([]spacing.Defaults, len(problems))
	for i := range problems {
		d := defaultsOf(p.Garment, c, k, i, &problems[i])
		gave = gave || d.First != nil || d.Last != nil || len(d.Steps) != 0 && problems[i].Repeat != 0
		defaults[i] = d
	}
	switch hold(); {
	case !gave:
	case len(c.Run.Count) > 1: // each size has a count of its own
		for i := range problems {
			p.tries.Hold(&problems[i])
			out[i] = spacing.Loosen(problems[i], defaults[i])
		}
	default:
		_, out = spacing.SolveLoose(problems, defaults)
	}
	return out, gave
}

// endTries is how many places are tried to see whether other ends would do.
const endTries = 1 << 14

// anyEnd says whether there is a layout with ends that the file does not give
// anywhere on the run, as near its ends as may be, or nearer by so much.
func anyEnd(c *catalog.Closure, k *Closure, p spacing.Problem, nearer measure.Length) bool {
	if c.Run.First.Has() && c.Run.Last.Has() {
		return false
	}
	first, last := EndsLeast(c, k)
	all := spacing.Window{Min: max(0, first-nearer), Max: p.Run - max(0, last-nearer)}
	if all.Max < all.Min {
		return false
	}
	if !c.Run.First.Has() {
		p.First = all
	}
	if !c.Run.Last.Has() {
		p.Last = all
	}
	p.Bare, p.Most, p.Tried = true, endTries, nil
	_, err := spacing.Solve(p)
	return err == nil
}

// LaidOut says whether there is a layout in a size, its ends anywhere where the
// file does not give them, of fasteners that reach less far from their centres
// by so much.
func LaidOut(g *catalog.Garment, c *catalog.Closure, k *Closure, size int, less measure.Length) bool {
	thin := *k
	r := &thin.Reach
	for _, l := range [...]*measure.Length{&r.Up, &r.Down, &r.Rim} {
		*l = max(0, *l-less)
	}
	p := ProblemOf(g, c, &thin, size)
	if anyEnd(c, k, p, less) {
		return true
	}
	p.Bare, p.Most, p.Tried = true, endTries, nil
	_, err := spacing.Solve(p)
	return err == nil
}

const runsKept = 1 << 12 // so that a search cannot fill the memory

// runKey is all that the layout of a run depends on besides its own keys. A
// search over many plans keeps the layouts under it, see Plan.KeepRuns.
type runKey struct {
	closure          int
	across, up, down measure.Length
	first, last      measure.Length // how far the ends may move
	column           measure.Length
	double, inner    bool
}

func (r *runKey) take(c *catalog.Closure, k *Closure) {
	if LapOf(c) == "double" {
		r.double, r.column, r.inner = true, k.Stand.Column, k.Inner()
	}
	if !c.Run.First.Has() || !c.Run.Last.Has() {
		r.across = AlongOf(&c.Notion) // the ends go by it
	}
	if len(c.Run.Clears) != 0 || c.Run.Hem.Has() {
		r.up, r.down = k.Reach.Up, k.Reach.Down
	}
}

// given is the key of a layout for which the ends may have moved.
func (r runKey) given(c *catalog.Closure, k *Closure) runKey {
	if !c.Run.First.Has() || !c.Run.Last.Has() {
		r.first, r.last = EndsLeast(c, k)
	}
	return r
}

// SameForAll says whether nothing of a run differs from size to size.
func SameForAll(r *catalog.Run) bool {
	for _, s := range [...]catalog.Sized{r.Length, r.First, r.Last, r.FirstMax, r.LastMax, r.GapMin, r.GapMax, r.GapAbout, r.Hem} {
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

func (s *Size) place(k *Closure, l spacing.Layout) {
	s.Positions, s.Count, s.Spread, s.Solved = l.Positions, l.Count(), l.Spread, true
	s.Gaps, s.Pitches = l.Gaps(), l.Pitches()
	s.Even, s.Skips, s.Choice = l.Even, l.Skips, l.Choice
	s.Fasteners = s.Count
	s.First, s.Last = l.Positions[0], s.Run-l.Positions[s.Count-1]
	if c := k.Closure; LapOf(c) == "double" {
		s.Fasteners = 2 * s.Count
		if k.Inner() {
			s.Fasteners++
		}
		s.Rows = rowsOf(k, s.Positions)
	}
}

// Otherwise is a layout that is there where what was asked has none.
type Otherwise struct {
	Count          int
	Least, Most    measure.Length // of its gaps
	Without        spacing.Kind   // what was given up for it, where Given
	Given          bool           // something besides the count was given up
	First, LastEnd measure.Length // first centre from the top, last from the end
}

// NearestRuns are the layouts nearest to a run that has none: with another
// count, which keeps all else, and with the same count but without its gap
// limits, its clear stretches, its anchors or its repeat. Nothing where none
// of them helps.
func (p *Plan) NearestRuns(i, size int) []Otherwise {
	g := p.Garment
	asked := ProblemOf(g, &g.Closures[i], &p.Closures[i], size)
	asked.Bare = true
	var out []Otherwise
	try := func(q spacing.Problem, without spacing.Kind, given bool) bool {
		l, err := spacing.Solve(q)
		if err != nil || l.Count() == 0 {
			return false
		}
		o := Otherwise{Count: l.Count(), Without: without, Given: given, First: l.Positions[0], LastEnd: q.Run - l.Positions[l.Count()-1]}
		if gaps := l.Gaps(); len(gaps) != 0 {
			o.Least, o.Most = slices.Min(gaps), slices.Max(gaps)
		}
		out = append(out, o)
		return true
	}
	if asked.CountMin != 0 {
		for off := 1; off <= nearCounts; off++ {
			found := false
			for _, n := range [...]int{asked.CountMax + off, asked.CountMin - off} {
				if q := asked; n > 0 {
					q.CountMin, q.CountMax = n, n
					found = try(q, 0, false) || found
				}
			}
			if found {
				break
			}
		}
	}
	for _, less := range []struct {
		kind spacing.Kind
		has  bool
		drop func(*spacing.Problem)
	}{
		{spacing.KindGapMax, asked.Gap != (spacing.Limits{}), func(q *spacing.Problem) { q.Gap = spacing.Limits{} }},
		{spacing.KindClear, len(asked.Clear) != 0, func(q *spacing.Problem) { q.Clear = nil }},
		{spacing.KindAnchor, len(asked.Anchors) != 0, func(q *spacing.Problem) { q.Anchors = nil }},
		{spacing.KindMatch, asked.Repeat != 0, func(q *spacing.Problem) { q.Repeat, q.Phase, q.HasPhase = 0, 0, false }},
	} {
		if !less.has || asked.CountMax == 0 {
			continue
		}
		q := asked
		less.drop(&q)
		try(q, less.kind, true)
	}
	return out
}

// nearCounts is how far from the count asked for another one is looked for.
const nearCounts = 8

// Serves names the anchors that each centre of a size is near enough to: the
// nearest one of each anchor.
func Serves(g *catalog.Garment, c *catalog.Closure, s *Size) map[int][]string {
	out := map[int][]string{}
	for i := range c.Run.Anchors {
		a, size := &c.Run.Anchors[i], max(0, slices.Index(g.Sizes, s.Size))
		best, off := -1, measure.Length(0)
		for j, at := range s.Positions {
			if d := (at - a.At.At(size).V).Abs(); best == -1 || d < off {
				best, off = j, d
			}
		}
		if within := a.Within.At(size); best != -1 && off <= within.Or(AnchorWithin(g.Units)) {
			out[best] = append(out[best], a.Name)
		}
	}
	return out
}
