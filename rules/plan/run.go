package plan

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/spacing"
)

const (
	FirstBelowNeck = quarter // beyond D: R. Carr, Couture, as quoted
	LastAboveHem   = 4 * in  // leg room: about.com sewing column, 1999
	shortRun       = 8 * in  // ours: a run this short is a flap, a cuff or a tab
)

// MarkEvery is the step where the garment gives none.
func MarkEvery(u measure.Unit) measure.Length {
	if u == measure.In {
		return eighth
	}
	return 5 * mm
}

// Ends are the first and last centres of a size, both from the top, with
// their windows.
func Ends(g *catalog.Garment, c *catalog.Closure, k *Closure, size int) (first, last spacing.Window) {
	run := &c.Run
	length := run.Length.At(size).V
	d := AlongOf(&c.Notion)
	below := d + FirstBelowNeck
	if c.Notion.Kind == catalog.Hook {
		below = d/2 + HookLeast // as near to the neck edge as to the other
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
		first = spacing.At(d)
	default:
		first = spacing.At(below)
	}
	switch {
	case run.Last.Has():
	case one:
		last = first
	case short:
		last = spacing.At(length - d)
	default:
		last = spacing.At(length - LastAboveHem)
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
		Group:    run.Group,
		GroupGap: run.GroupGap.V,
	}
	if g.Units == measure.MM {
		p.EvenWithin = spacing.EvenSpreadMM
	}
	p.First, p.Last = Ends(g, c, k, size)
	if n := run.CountAt(size); n.Set {
		p.CountMin, p.CountMax = n.Min, n.Max
	}
	if len(run.Anchors) > 0 {
		p.Anchors = make([]spacing.Anchor, len(run.Anchors))
		for i, a := range run.Anchors {
			within := a.Within.At(size)
			p.Anchors[i] = spacing.Anchor{Name: a.Name, At: a.At.At(size).V, Within: within.Or(AnchorWithin)}
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

const AnchorWithin = in / 2 // ours, where the garment does not say

// sizesOf lays every size out, with one count for all of them where that is
// open and the limits allow it.
func (p *Plan) sizesOf(c *catalog.Closure, k *Closure) []Size {
	g := p.Garment
	key := runKey{closure: c.Index}
	if p.runs != nil {
		key.take(c, k)
		if out, ok := p.runs[key]; ok {
			return out
		}
	}
	out := make([]Size, len(g.Sizes))
	for i, s := range g.Sizes {
		out[i] = Size{Size: s, Run: c.Run.Length.At(i).V}
	}
	if !c.Run.Length.Has() || c.Notion.Kind == catalog.Zip {
		return out
	}
	problems := make([]spacing.Problem, len(out))
	if SameForAll(&c.Run) {
		problems = problems[:1]
	}
	for i := range problems {
		problems[i] = ProblemOf(g, c, k, i)
		problems[i].Bare = p.bare
	}
	if openCount(&c.Run) {
		_, sizes := spacing.SolveSizes(problems)
		for i, s := range sizes {
			if out[i].Err = s.Err; s.Err == nil {
				out[i].place(k, s.Layout)
				out[i].OwnCount = s.Own
			}
		}
	} else {
		for i := range problems {
			l, err := spacing.Solve(problems[i])
			if out[i].Err = err; err == nil {
				out[i].place(k, l)
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
// over many notions keeps the layouts under it, see Plan.KeepRuns.
type runKey struct {
	closure          int
	across, up, down measure.Length
	column           measure.Length
	inner            bool
}

func (r *runKey) take(c *catalog.Closure, k *Closure) {
	if LapOf(c) == "double" {
		r.column, r.inner = k.Stand.Column, k.Inner()
	}
	if !c.Run.First.Has() || !c.Run.Last.Has() {
		r.across = AlongOf(&c.Notion) // the ends go by it
	}
	if len(c.Run.Clears) > 0 || c.Run.Hem.Has() {
		r.up, r.down = k.Reach.Up, k.Reach.Down
	}
}

// SameForAll says whether nothing of a run differs from size to size.
func SameForAll(r *catalog.Run) bool {
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

func (s *Size) place(k *Closure, l spacing.Layout) {
	s.Positions, s.Count, s.Spread, s.Solved = l.Positions, l.Count(), l.Spread, true
	s.Gaps, s.Pitches = l.Gaps(), l.Pitches()
	s.Fasteners = s.Count
	if n := len(l.Positions); n > 0 {
		s.First, s.Last = l.Positions[0], s.Run-l.Positions[n-1]
	}
	if c := k.Closure; LapOf(c) == "double" {
		s.Fasteners = 2 * s.Count
		if k.Inner() {
			s.Fasteners++
		}
		s.Rows = rowsOf(k, s.Positions)
	}
}
