package work

import (
	"fmt"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

func (w *working) run() {
	c, k := w.x.C, w.x.K
	if c.Notion.Kind == catalog.Zip || !c.Run.Length.Has() {
		return
	}
	run := &c.Run
	d := plan.AcrossOf(&c.Notion)
	short := plan.IsShort(c, run.Length.At(0).V)
	var says string
	step := run.Step.Or(plan.MarkEvery(w.x.U))
	first, last := plan.Ends(w.x.G, c, k, 0)
	one := first == last
	switch {
	case run.First.Has():
		says = "as given: " + w.bySize(func(i int) measure.Length { f, _ := plan.Ends(w.x.G, c, k, i); return f.Min })
		if run.FirstMax.Has() {
			says += ", or lower where that comes out more even"
		}
	case one && run.Last.Has():
		says = "one alone, at the place of the last"
	case short && one:
		says = "one alone: half of the length, " + w.bySize(func(i int) measure.Length { f, _ := plan.Ends(w.x.G, c, k, i); return f.Min })
	case short:
		says = fmt.Sprintf("a short piece: the %s's own width from the end, %s", c.Notion.Kind, w.t(first.Min))
	default:
		says = fmt.Sprintf("%s %s across + %s = %s below the top", c.Notion.Kind, w.s(d), w.s(plan.FirstBelowNeck), w.t(first.Min))
	}
	st := w.say(TopicFirst, "first-high", "%s", says)
	if !run.First.Has() {
		st.Default = w.set("run.first", "the first one's place")
	}
	if !one || run.Last.Has() {
		above := func(i int) measure.Length { _, l := plan.Ends(w.x.G, c, k, i); return run.Length.At(i).V - l.Max }
		switch {
		case run.Last.Has():
			says = "as given: " + w.bySize(above) + " above the end"
			if run.LastMax.Has() {
				says += ", or higher where that comes out more even"
			}
		case short:
			says = fmt.Sprintf("a short piece: the %s's own width from the end, %s", c.Notion.Kind, w.bySize(above))
		default:
			says = fmt.Sprintf("%s above the hem, for leg room", w.bySize(above))
		}
		st = w.say(TopicLast, "last-low", "%s", says)
		if !run.Last.Has() {
			st.Default = w.set("run.last", "the last one's place")
		}
	}
	w.gaps(step)
	if c.Lap == "double" && len(k.Sizes) > 0 && len(k.Sizes[0].Rows) > 0 {
		w.say(TopicRows, "rows-distance", "the columns stand this far from the centre line, on both sides, from the top row down: %s", w.row(k.Sizes[0].Rows))
	}
}

// bySize is a length that may differ between the sizes.
func (w *working) bySize(at func(int) measure.Length) string {
	sizes := w.x.G.Sizes
	same := true
	for i := range sizes {
		same = same && at(i) == at(0)
	}
	if same {
		return w.t(at(0))
	}
	parts := make([]string, len(sizes))
	for i, s := range sizes {
		parts[i] = s + " " + w.s(at(i))
	}
	return strings.Join(parts, ", ")
}

func (w *working) gaps(step measure.Length) {
	k, run := w.x.K, &w.x.C.Run
	notGiven := ""
	if len(run.Count) == 0 {
		notGiven = w.set("run.count", "how many")
	}
	if !run.Step.Has() {
		notGiven = joinSemi(notGiven, w.set("run.step", "what can be marked, "+step.ShortFine(w.x.U)+","))
	}
	for i := range k.Sizes {
		z := &k.Sizes[i]
		if !z.Solved || z.Count < 2 {
			continue
		}
		size := ""
		if z.Size != "" {
			size = z.Size + ": "
		}
		first, last := z.Positions[0], z.Positions[len(z.Positions)-1]
		n := len(z.Positions) - 1
		gaps := w.row(z.Gaps)
		if z.Spread == 0 {
			gaps = fmt.Sprintf("%d × %s", n, z.Gaps[0].Text(w.x.U))
		}
		says := fmt.Sprintf("%s(%s − %s) ÷ %d gaps = %s if exactly even", size, w.s(last), w.s(first), n, w.s((last-first)/measure.Length(n)))
		if run.Group > 1 {
			says = fmt.Sprintf("%sin groups of %d, %s apart inside a group", size, run.Group, w.s(run.GroupGap.V))
		}
		says += fmt.Sprintf("; marked to %s: %s", step.ShortFine(w.x.U), gaps)
		if z.Spread > 0 && run.Group <= 1 {
			says += fmt.Sprintf(", %s between the largest and the smallest", w.s(z.Spread))
		}
		st := w.say(TopicGaps, "gaps-uneven", "%s", says)
		st.Default, notGiven = notGiven, ""
	}
}

// row is a row of lengths in the garment's units.
func (w *working) row(ls []measure.Length) string {
	parts := make([]string, len(ls))
	for i, l := range ls {
		parts[i] = strings.TrimSuffix(l.Short(w.x.U), " "+w.x.U.String())
	}
	return strings.Join(parts, ", ") + " " + w.x.U.String()
}

// places are the positions of one closure as marked from the top of its run.
func (w *planner) places(k *plan.Closure) (text string, lines []string) {
	text, lines = w.sized(func(i int) string {
		z := &k.Sizes[i]
		if !z.Solved {
			return "not laid out, see above"
		}
		texts := make([]string, len(z.Positions))
		for j, p := range z.Positions {
			texts[j] = p.Short(w.u)
		}
		s := strings.Join(texts, ", ")
		if len(z.Rows) > 0 && w.tapers(z) {
			for j, r := range z.Rows {
				texts[j] = r.Short(w.u)
			}
			s += "; from the centre line " + strings.Join(texts, ", ")
		}
		return s
	})
	if text != "" {
		text = " at " + text
	}
	return text, lines
}

// tapers says whether the columns of a double-breasted front draw together.
func (w *planner) tapers(z *plan.Size) bool {
	for _, r := range z.Rows {
		if r != z.Rows[0] {
			return true
		}
	}
	return false
}

// line is the line that the holes of a closure lie on.
func (w *planner) line(c *catalog.Closure, k *plan.Closure) string {
	if c.Lap != "double" {
		return "the centre line"
	}
	for _, i := range w.sizes {
		if z := &k.Sizes[i]; len(z.Rows) > 0 && !w.tapers(z) {
			return "its column, " + w.len(z.Rows[0]) + " from the centre line,"
		}
	}
	return "its column"
}

// from is what a position is measured from.
func from(c *catalog.Closure) string {
	if plan.IsFront(c) {
		return "the neck edge"
	}
	return "the top of the " + c.Name
}

func (w *planner) try() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if !plan.IsFront(c) || c.Notion.Kind == catalog.Zip || len(w.sizes) == 0 {
			return
		}
		last := w.bySize(func(i int) string {
			if z := &k.Sizes[i]; z.Solved && z.Count > 0 {
				return w.len(z.Last)
			}
			return "not laid out"
		})
		w.add(StageTry, c.Name, "Turn the hem up and pin it, pin the %s shut, and try it on: sit down, climb a step, reach forward. Only when the hem line is fixed is the last %s placed, %s above it.", c.Name, c.Notion.Kind, last)
		size := ""
		if len(w.g.Sizes) > 1 {
			size = "." + w.g.Sizes[w.sizes[0]]
		}
		w.add(StageTry, c.Name, "If the hem line moved, plan again with --with closure.%s.run.length%s=… and mark from the new list.", c.Name, size)
	})
}
