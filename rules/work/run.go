package work

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/spacing"
)

func (w *working) run() {
	c, k := w.x.C, w.x.K
	if c.Notion.Kind == catalog.Zip || !c.Run.Length.Has() {
		return
	}
	end := func(key string) string { return rules.FromEnd(w.x.P.Plan, c, key) }
	run := &c.Run
	d := plan.AlongOf(&c.Notion)
	short := plan.IsShort(c, run.Length.At(0).V)
	var says string
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
		says = fmt.Sprintf("a short piece: %s from the end, %s", shortEnd(c, d), w.t(first.Min))
	case k.Loop.Hooks:
		says = fmt.Sprintf("half of the hook's width, %s, + %s, up to %s = %s%s", w.s(d/2), w.s(plan.HookLeast), w.s(plan.HoleStep(w.x.U)), w.t(first.Min), end("first"))
	default:
		more, up := measure.Length(plan.FirstBelowNeck), ""
		if first.Min > d+more {
			up = ", up to 1/16 in"
		}
		if w.x.U.Is(measure.MM) {
			more, up = 6*measure.Millimetre, ", up to whole 5 mm"
		}
		says = fmt.Sprintf("%s %s across + %s%s = %s%s", kindOf(c), w.s(d), w.s(more), up, w.t(first.Min), end("first"))
	}
	says += w.moved(func(m spacing.Moved) bool { return m.First }, func(z *plan.Size) measure.Length { return z.First })
	st := w.say(TopicFirst, "first-high", "%s", says)
	if !run.First.Has() {
		st.Default = w.set("run.first", "the first one's place")
	}
	if !one || run.Last.Has() {
		above := func(i int) measure.Length { _, l := plan.Ends(w.x.G, c, k, i); return run.Length.At(i).V - l.Max }
		switch {
		case run.Last.Has():
			says = "as given: " + w.bySize(above) + end("last")
			if run.LastMax.Has() {
				says += ", or higher where that comes out more even"
			}
		case short:
			says = fmt.Sprintf("a short piece: %s from the end, %s", shortEnd(c, d), w.bySize(above))
		default:
			says = w.bySize(above) + end("last")
			if w.x.G.HemAt != "none" {
				says += ", for leg room"
			}
		}
		says += w.moved(func(m spacing.Moved) bool { return m.Last }, func(z *plan.Size) measure.Length { return z.Last })
		st = w.say(TopicLast, "last-low", "%s", says)
		if !run.Last.Has() {
			st.Default = w.set("run.last", "the last one's place")
		}
	}
	w.gaps()
	switch rows := plan.LapOf(c) == "double" && len(k.Sizes[0].Rows) != 0; {
	case rows && k.Stand.Column == 0:
		w.say(TopicRows, "rows-distance", "the columns stand on the centre line%s", w.roles())
	case rows:
		w.say(TopicRows, "rows-distance", "the columns stand this far from the centre line, on both sides, from the top row down: %s%s", w.row(k.Sizes[0].Rows), w.roles())
	}
}

// roles says which rows of a double-breasted front are for show, and where its
// inner button is.
func (w *working) roles() string {
	o, says := w.opening(), ""
	pc := o.piece(0, plan.Over)
	if pc == nil {
		return ""
	}
	for _, s := range sets(pc) {
		switch {
		case s.closure != w.x.C.Index || !slices.Contains(fastenerKinds, s.kind) && s.kind != plan.HolePart:
		case s.role == plan.Works:
			says += "; " + inRows(s.in(pc)) + verb(s.in(pc), " works", " work")
		case s.role == plan.Show && s.beyond && s.kind != plan.HolePart:
			says += "; " + inRows(s.in(pc)) + verb(s.in(pc), " is for show", " are for show")
		case s.role == plan.Inner:
			says += "; the inner " + partWord(s.kind) + " is in " + inRows(s.in(pc))
		}
	}
	return says
}

// verb is what one row does, or several do.
func verb(qs []*plan.Part, one, several string) string {
	if len(qs) == 1 {
		return one
	}
	return several
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
		parts[i] = s + ": " + w.s(at(i))
	}
	return strings.Join(parts, "; ")
}

// moved says where an end went that gave way.
func (w *working) moved(is func(spacing.Moved) bool, at func(*plan.Size) measure.Length) string {
	if !slices.ContainsFunc(w.x.K.Sizes, func(z plan.Size) bool { return is(z.Moved) }) {
		return ""
	}
	return "; moved to " + w.bySize(func(i int) measure.Length { return at(&w.x.K.Sizes[i]) })
}

// chosen says how an open count was chosen.
func (w *working) chosen(z *plan.Size) string {
	c, wish := &z.Choice, "the wish for gaps of "+w.s(z.Choice.Wish)
	own, in := "", ""
	if z.OwnCount {
		own = "; the count of the others has no layout here"
	}
	if c.Sizes > 1 && c.Even == c.Sizes {
		in = " in all sizes"
	} else if c.Sizes > 1 {
		in = fmt.Sprintf(" in %d of %d sizes", c.Even, c.Sizes)
	}
	over := make([]string, len(c.Over))
	for i, n := range c.Over {
		over[i] = strconv.Itoa(n)
	}
	passed := ""
	if len(over) > 0 {
		passed = "; " + text.And(over...) + map[bool]string{true: " is", false: " are"}[len(over) == 1] + " nearer, but less even"
	}
	switch c.Why {
	case spacing.WhyOnly:
		return own + fmt.Sprintf("; %d is the only count that has a layout", z.Count)
	case spacing.WhyWish:
		return own + fmt.Sprintf("; %d is nearest %s", z.Count, wish)
	case spacing.WhyEven:
		return own + fmt.Sprintf("; of the counts that come out even%s, %d is nearest %s%s", in, z.Count, wish, passed)
	case spacing.WhySpread:
		return own + fmt.Sprintf("; no count comes out even, and %d has the smallest difference%s", z.Count, passed)
	}
	return ""
}

func (w *working) gaps() {
	k, run := w.x.K, &w.x.C.Run
	notGiven, notChosen := "", true // neither is said yet
	if len(run.Count) == 0 {
		notGiven = w.set("run.count", "how many")
	}
	if i := slices.IndexFunc(k.Sizes, func(z plan.Size) bool { return z.Solved }); !run.Step.Has() && i != -1 {
		notGiven = text.Join("; ", notGiven, w.set("run.step", "what can be marked, "+k.Sizes[i].Step.ShortPlace(w.x.U)+","))
	}
	// Sizes that are laid out alike stand in one line.
	type alike struct {
		sizes       []string
		says, count string
	}
	var all []alike
	laid := 0
	for i := range k.Sizes {
		z := &k.Sizes[i]
		if !z.Solved || z.Count < 2 {
			continue
		}
		laid++
		first, last := z.Positions[0], z.Positions[len(z.Positions)-1]
		n := len(z.Positions) - 1
		gaps := w.row(z.Gaps)
		if z.Spread == 0 {
			gaps = fmt.Sprintf("%d × %s", n, z.Gaps[0].Text(w.x.U))
		}
		says := fmt.Sprintf("(%s − %s) ÷ %s = %s if exactly even", w.s(last), w.s(first), text.Count(n, "gap"), w.s((last-first)/measure.Length(n)))
		if run.Group > 1 {
			says = fmt.Sprintf("in groups of %d, %s apart inside a group", run.Group, w.s(run.GroupGap.V))
		}
		says += fmt.Sprintf("; marked to %s: %s", z.Step.ShortPlace(w.x.U), gaps)
		if z.Spread > 0 && run.Group <= 1 {
			says += fmt.Sprintf(", %s between the largest and the smallest", w.s(z.Spread))
		}
		count := ""
		if z.OwnCount || notChosen {
			count = w.chosen(z)
			notChosen = notChosen && z.OwnCount
		}
		n = slices.IndexFunc(all, func(a alike) bool { return a.says == says && (count == "" && !z.OwnCount || a.count == count) })
		if n == -1 {
			n, all = len(all), append(all, alike{says: says, count: count})
		}
		all[n].sizes = append(all[n].sizes, z.Size)
	}
	for _, a := range all {
		sizes := ""
		if a.sizes[0] != "" && (len(a.sizes) < laid || laid == 1 || laid < len(k.Sizes)) {
			sizes = text.And(a.sizes...) + ": "
		}
		st := w.say(TopicGaps, "gaps-uneven", "%s", sizes+a.says+a.count)
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

// marks are the places of a set, as marked from the top of the opening: at
// 4 in, 9 in, or a line for each size.
func (w *planner) marks(o *opening, s *set) (text string, lines []string) {
	_, uniform := o.uniform(s, w.sizes)
	text, lines = w.sized(func(i int) string { return o.down(s, i, !uniform) })
	switch {
	case text == "":
	case strings.HasPrefix(text, "row"):
		text = ", " + text
	default:
		text = " at " + text
	}
	return text, lines
}

// try is the fitting, before the last fasteners are placed.
func (w *planner) try() { w.openings(w.fit) }

// lengthKey is what to plan again with when the hem line has moved.
func (w *planner) lengthKey(i int) string {
	size := ""
	if len(w.sizes) != 0 && w.g.Stated(source.Item("closure", i)+".run.length."+w.g.Sizes[w.sizes[0]]) {
		size = "." + w.g.Sizes[w.sizes[0]]
	}
	return "--with closure." + w.g.Closures[i].Name + ".run.length" + size + "=…"
}

// shortEnd is what the first and the last of a short piece keep from its ends.
func shortEnd(c *catalog.Closure, d measure.Length) string {
	if d < plan.EndLeast {
		return "the least of all"
	}
	return "the " + kindOf(c) + "'s own width"
}
