package desk

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/sheet"
	"placketeer/spacing"
)

func spacingCommand() *command {
	run := 100 * measure.Metre
	pair := func(name, value, hint, doc string) flag {
		return flag{name: name, kind: lengthFlag, list: true, value: value, hint: hint, doc: doc, most: 10 * measure.Metre, zero: true}
	}
	return &command{
		name:  "spacing",
		does:  "where the fasteners go along a front, exactly",
		about: "Finds the most even places on the marks you can make, with a fastener near every --anchor and none in a --clear stretch. Every place is measured from the top, so that nothing drifts. Where nothing fits it names what cannot hold together, and what works instead.",
		examples: []string{
			"spacing --length 26in --first 5/8in --last 4in --count 6",
			"spacing --length 26in --first 5/8in --last 4in --gap about=4in",
			"spacing --between 5/8in:22in --count 6",
			"spacing --length 26in --first 5/8in --last 4in --count 5-7 --anchor bust=8in:1/2in --diameter 1in",
			"spacing --length 70cm --first 2cm --last 10cm --gap-min 8cm --gap-max 11cm --clear belt=40cm:44cm --use horn-30",
		},
		flags: quickFlags(slices.Concat([]flag{
			lengthFlagOf("length", 10*measure.Metre, "26in", "length of the run, neck edge to hem"),
			orZero(pair("first", "LENGTH|MIN:MAX", "5/8in", "top to the first centre, or between which two it may lie (of a fastener that is described: as usual)").once()),
			orZero(pair("last", "LENGTH|MIN:MAX", "4in", "last centre to the end, or between which two (the same)").once()),
			orZero(pair("between", "FROM:TO", "2in:20in", "instead of these three: the first and the last centre, from one point").once()),
			{name: "count", value: "N|MIN-MAX", doc: "how many, or from how many to how many", hint: "6"},
			{name: "gap", kind: lengthFlag, value: "about=LENGTH", doc: "about how far apart, where the count is open", hint: "about=4in", most: run},
			lengthFlagOf("step", 100*mm, "1/8in", "what can be marked (otherwise 1/8 in or 5 mm)"),
			pair("anchor", "[NAME=]AT:WITHIN", "bust=8in:1/2in", "a place that wants a fastener near it"),
			pair("clear", "[NAME=]FROM:TO", "belt=14in:15 1/2in", "a stretch that stays free of the whole fastener: give --diameter, --use or --reach too"),
			orZero(lengthFlagOf("reach", 200*mm, "1/2in", "how far a fastener or its hole reaches up and down from its centre, where no fastener is described")),
			lengthFlagOf("gap-min", run, "3in", "smallest gap"),
			lengthFlagOf("gap-max", run, "4 1/2in", "largest gap"),
			lengthFlagOf("repeat", 1000*mm, "3 1/2in", "repeat of the cloth that the gaps keep"),
			orZero(lengthFlagOf("phase", 1000*mm, "1in", "where in the repeat every fastener lies, from the top")),
			{name: "group", kind: numberFlag, value: "N", doc: "set in pairs (2) or threes (3)", lo: 1, hi: 3, whole: true, hint: "2"},
			lengthFlagOf("group-gap", 300*mm, "1 1/2in", "gap inside a group"),
			{name: "direction", words: []string{"across", "along"}, doc: "holes across the edge or along it", first: "across"},
		}, fastenerFlags())...),
		action: space,
	}
}

// once makes a flag that is given at most once.
func (f flag) once() flag { f.list = false; return f }

func space(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	if err := q.putReach(); err != nil {
		return err
	}
	if err := q.putRun(); err != nil {
		return err
	}
	q.notes, q.says = []string{"gaps-uneven"}, []string{"spacing-clash"}
	p, err := q.plan()
	if err != nil {
		return err
	}
	s := &p.Closures[0].Sizes[0]
	var clash *spacing.Clash
	switch {
	case errors.As(s.Err, &clash):
		return q.handClash(clash, p)
	case s.Err != nil:
		return usagef("%s", strings.TrimPrefix(s.Err.Error(), "spacing: "))
	}
	return q.handLayout(s, p)
}

// putReach writes the fastener, or as much of one as --reach says: a snap, of
// which nothing else is asked.
func (q *quick) putReach() error {
	f, err := q.putFastener(false)
	if err != nil {
		return err
	}
	q.putHole()
	q.described = f.known
	reach, there, err := q.length("reach")
	switch {
	case err != nil:
		return err
	case f.known && there:
		return usagef("--reach is of a fastener that is not described, and --diameter or --use describe one")
	case f.known:
		return nil
	}
	q.put("fastener", "snap")
	q.bare = true
	q.take("notion", map[string]any{"diameter": "0.000001 mm", "attach": "sewn"})
	if reach > 0 {
		q.put("notion.diameter", lengthText(measure.Toleranced{V: reach + reach}), "--reach")
	}
	return nil
}

// putRun writes the run.
func (q *quick) putRun() error {
	q.own(map[string]any{})
	if q.has("between") {
		for _, n := range []string{"length", "first", "last"} {
			if q.has(n) {
				return usagef("--between is the first and the last centre: --%s does not go with it", n)
			}
		}
		_, from, to, err := q.pair("between", q.text("between"))
		if err != nil {
			return err
		}
		if to <= from {
			return usagef("--between %s ends where it has not begun", q.text("between")).write("--between 2in:20in")
		}
		q.put("run.length", lengthText(measure.Toleranced{V: to}), "--between")
		q.put("run.first", lengthText(measure.Toleranced{V: from}), "--between")
		q.put("run.last", "0 mm", "--between")
		q.taken = append(q.taken, "closure[0].run.first", "closure[0].run.last") // what lies beyond is not said
	} else {
		if !q.has("length") {
			return q.missing("length")
		}
		if err := q.putLengths(map[string]string{"length": "run.length"}); err != nil {
			return err
		}
		for _, n := range []string{"first", "last"} {
			if !q.has(n) && q.described {
				continue // as usual for that fastener
			}
			if err := q.putWindow(n); err != nil {
				return err
			}
			if l, _, err := q.length(n); q.bare && err == nil && l == 0 {
				q.taken = append(q.taken, "closure[0].run."+n) // from the centre of the fastener, and not from an edge
			}
		}
	}
	if err := q.putCounts(); err != nil {
		return err
	}
	if err := q.putLengths(map[string]string{
		"step": "run.step", "gap-min": "run.gap.min", "gap-max": "run.gap.max", "phase": "run.phase", "group-gap": "run.group_gap",
	}); err != nil {
		return err
	}
	if s := q.text("gap"); s != "" {
		name, value, about := strings.Cut(s, "=")
		if rest, ok := strings.CutPrefix(s, "about "); ok {
			name, value, about = "about", rest, true
		}
		if !about || strings.TrimSpace(name) != "about" {
			return usagef("--gap %q: a gap is wished for", s).write("--gap %s", text.Shell("about="+afterName(s)))
		}
		l, err := q.parse("gap", strings.TrimSpace(value))
		if err != nil {
			return err
		}
		q.put("run.gap.about", lengthText(l), "--gap")
	}
	if q.has("repeat") {
		if err := q.putLengths(map[string]string{"repeat": ".cloth.checked.repeat.along"}); err != nil {
			return err
		}
		q.put(".cloth.checked.weight", "300 g/m2")
		q.taken = append(q.taken, "cloth.checked.weight")
		q.put("run.match", "checked", "--repeat")
	}
	if n, there, err := q.count("group"); err != nil {
		return err
	} else if there {
		q.put("run.group", n, "--group")
	}
	if err := q.sense(); err != nil {
		return err
	}
	return q.putMarks()
}

// putMarks writes the anchors and the clear stretches.
func (q *quick) putMarks() error {
	named := func(kind, name string, i int) string {
		if name == "" {
			return kind + " " + strconv.Itoa(i+1)
		}
		return name
	}
	var anchors, clears []map[string]any
	for i, s := range q.list("anchor") {
		name, at, within, err := q.pair("anchor", s)
		if err != nil {
			return err
		}
		anchors = append(anchors, map[string]any{
			"name": named("anchor", name, i), "at": lengthText(measure.Toleranced{V: at}), "within": lengthText(measure.Toleranced{V: within}),
		})
	}
	for i, s := range q.list("clear") {
		name, from, to, err := q.pair("clear", s)
		if err != nil {
			return err
		}
		if to <= from {
			return usagef("--clear %s ends where it has not begun", s).write("--clear belt=14in:15.5in")
		}
		clears = append(clears, map[string]any{
			"name": named("clear", name, i), "from": lengthText(measure.Toleranced{V: from}), "to": lengthText(measure.Toleranced{V: to}),
		})
	}
	if anchors != nil {
		q.put("run.anchor", anchors, "--anchor")
	}
	if clears != nil {
		q.put("run.clear", clears, "--clear")
	}
	return nil
}

// sense refuses what a file could not say.
func (q *quick) sense() error {
	switch {
	case !q.has("count") && !q.has("gap-min") && !q.has("gap-max") && !q.has("gap"):
		return usagef("say how many, or how far apart").write("--count 6" + orElse + "--gap about=4in" + orElse + "--gap-min 3in --gap-max 4.5in")
	case q.has("phase") && !q.has("repeat"):
		return usagef("--phase is a place in a repeat: --repeat is missing").write(`--repeat "3 1/2 in"`)
	case q.has("group-gap") && !q.has("group"):
		return usagef("--group-gap belongs to groups").write("--group 2")
	case q.has("group") && q.text("group") != "1" && !q.has("group-gap"):
		return usagef("fasteners in groups need the gap inside a group").write(`--group-gap "1 1/2 in"`)
	}
	if r, there, err := q.length("repeat"); err == nil && there {
		if p, phased, _ := q.length("phase"); phased && p >= r {
			return usagef("--phase %s lies beyond the repeat, %s", q.text("phase"), q.text("repeat"))
		}
	}
	return nil
}

// putWindow writes a length, or MIN:MAX.
func (q *quick) putWindow(name string) error {
	if !q.has(name) {
		return q.missing(name)
	}
	s := q.text(name)
	lo, hi, two := strings.Cut(s, ":")
	least, err := q.parse(name, strings.TrimSpace(lo))
	if err != nil {
		return err
	}
	if !two {
		q.put("run."+name, lengthText(least), "--"+name)
		return nil
	}
	most, err := q.parse(name, strings.TrimSpace(hi))
	if err != nil {
		return err
	}
	if most.V < least.V {
		return usagef("--%s %s: the first is more than the second", name, s).write("--%s %s:%s", name, hi, lo)
	}
	q.put("run."+name, map[string]any{"min": lengthText(least), "max": lengthText(most)}, "--"+name)
	return nil
}

// pair is [NAME=]A:B.
func (q *quick) pair(flag, s string) (name string, a, b measure.Length, err error) {
	span := afterName(s)
	if span != s {
		name = strings.TrimSpace(s[:len(s)-len(span)-1])
	}
	one, two, both := strings.Cut(span, ":")
	if !both || strings.Contains(two, ":") {
		f := q.cmd.flag(flag)
		return "", 0, 0, usagef("--%s %q is not %s", flag, s, f.value).write("--%s %s", flag, text.Shell(f.hint))
	}
	l, err := q.parse(flag, strings.TrimSpace(one))
	if err != nil {
		return name, a, b, err
	}
	r, err := q.parse(flag, strings.TrimSpace(two))
	return name, l.V, r.V, err
}

// putCounts writes the count, where it is given.
func (q *quick) putCounts() error {
	if !q.has("count") {
		return nil
	}
	s := q.text("count")
	one, two, both := strings.Cut(strings.Replace(s, " to ", "-", 1), "-")
	if !both {
		two = one
	}
	lo, errLo := strconv.Atoi(strings.TrimSpace(one))
	hi, errHi := strconv.Atoi(strings.TrimSpace(two))
	switch {
	case errLo != nil || errHi != nil:
		return usagef("--count %q is neither a whole number nor two of them", s).write("--count 6" + orElse + "--count 5-7")
	case lo < 1 || hi > 200:
		return usagef("--count %s: it must lie between 1 and 200", s).write("--count 6")
	case lo > hi:
		return usagef("--count %s: the first is more than the second", s).write("--count %d-%d", hi, lo)
	case lo == hi:
		q.put("run.count", lo, "--count")
		return nil
	}
	q.put("run.count", map[string]any{"min": lo, "max": hi}, "--count")
	return nil
}

func (q *quick) handLayout(s *plan.Size, p *rules.Planned) error {
	n, u := s.Count, p.Garment.Units
	a := &answer{json: pairs{
		{"positions_mm", exact(s.Positions)}, {"gaps_mm", exact(s.Gaps)}, {"spread_mm", sheet.MM(s.Spread)}, {"count", n},
		{"step_mm", sheet.MM(s.Step)}, {"last_mm", sheet.MM(s.Last)}, {"units", u.String()},
	}}
	group := p.Closures[0].Closure.Run.Group
	switch {
	case n == 1:
		a.head = "One fastener."
	case s.Spread == 0 && group > 1:
		a.head = fmt.Sprintf("%d fasteners in groups of %d, evenly apart.", n, group)
	case s.Spread == 0:
		a.head = fmt.Sprintf("%d fasteners, all gaps %s.", n, s.Gaps[0].TextPlace(u))
	default:
		a.head = fmt.Sprintf("%d fasteners; the gaps differ by %s.", n, s.Spread.TextPlace(u))
	}
	a.rows = append(a.rows, []string{"", "from the top", "gap", ""})
	serves := plan.Serves(p.Garment, p.Closures[0].Closure, s)
	for i, at := range s.Positions {
		gap := ""
		if i > 0 {
			gap = s.Gaps[i-1].TextPlace(u)
		}
		a.rows = append(a.rows, []string{strconv.Itoa(i + 1), at.TextPlace(u), gap, text.And(serves[i]...)})
	}
	if !q.has("between") {
		a.rows = append(a.rows, []string{"", s.Run.TextPlace(u), s.Last.TextPlace(u) + " to the end", ""})
	}
	bare := len(q.list("clear")) > 0 && !q.has("reach") && p.Closures[0].Closure.Notion.Kind == "snap"
	if bare {
		a.say("Only the centres stay out of the --clear stretch: half a fastener may still lie in it. Give --diameter or --use, or --reach.")
	}
	a.say(q.chosen(s))
	switch {
	case len(s.Skips) > 0:
		a.say("All gaps keep the repeat, but some skip a place of it: take another count, or move first or last.")
	case !s.Even:
		a.say("An eye sees gaps that differ by more than " + s.EvenTo.TextPlace(u) + ".")
	}
	switch {
	case s.Moved.Step:
		a.say("Places between the first and the last fall on whole steps of " + s.Step.TextPlace(u) + " from the top, since steps of " + plan.MarkEvery(u).TextPlace(u) + " do not meet the repeat; --step changes that.")
	case !q.has("step"):
		a.say("Places between the first and the last fall on whole steps of " + s.Step.TextPlace(u) + " from the top; --step changes that.")
	}
	if !q.has("between") && !(q.has("first") && q.has("last")) {
		a.say("The ends that are not given are the usual ones; --first and --last change them.")
	}
	a.say("Measure every place from the top, not from its neighbour.")
	a.next = "stand --diameter 1in"
	switch {
	case q.has("diameter") || q.has("use"):
		a.next = q.again("stand")
	case bare:
		a.next = q.again("spacing", "--diameter", "1in")
	}
	return q.hand(a, p)
}

// chosen says how an open count was chosen.
func (q *quick) chosen(l *plan.Size) string {
	over := make([]string, len(l.Choice.Over))
	for i, n := range l.Choice.Over {
		over[i] = strconv.Itoa(n)
	}
	nearer := ""
	if len(over) > 0 {
		nearer = "; nearer, but less even: " + strings.Join(over, ", ")
	}
	wish := "the wish for gaps of " + l.Choice.Wish.Short(q.unit)
	switch l.Choice.Why {
	case spacing.WhyOnly:
		return fmt.Sprintf("%d is the only count that has a layout.", l.Count)
	case spacing.WhyWish:
		return fmt.Sprintf("%d is the count nearest %s.", l.Count, wish)
	case spacing.WhyEven:
		return fmt.Sprintf("Of the counts that come out even %d is nearest %s%s.", l.Count, wish, nearer)
	case spacing.WhySpread:
		return fmt.Sprintf("No count comes out even; with %d the gaps differ least%s.", l.Count, nearer)
	}
	return ""
}

// handClash names what cannot hold together, in the words of the flags, and
// the nearest that works.
func (q *quick) handClash(c *spacing.Clash, p *rules.Planned) error {
	var names []string
	for _, k := range c.Constraints {
		names = append(names, q.flagOf(k, p))
	}
	head := "No layout: these cannot hold together."
	if len(names) == 1 {
		head = "No layout: this cannot hold."
	}
	u := p.Garment.Units
	var works []string
	others := []pairs{}
	for _, o := range p.NearestRuns(0, 0) {
		gaps := o.Least.ShortPlace(u)
		if o.Most > o.Least {
			gaps += " to " + o.Most.ShortPlace(u)
		}
		says := fmt.Sprintf("%d at %s", o.Count, gaps)
		if o.Count == 1 {
			says = "1 alone"
		}
		without := ""
		if o.Given {
			without = q.flagOf(spacing.Constraint{Kind: o.Without}, p)
			says += " without " + without
		}
		works = append(works, says)
		others = append(others, pairs{{"count", o.Count}, {"gap_least_mm", sheet.MM(o.Least)}, {"gap_most_mm", sheet.MM(o.Most)}, {"without", without}})
	}
	a := &answer{head: head, bad: true, json: pairs{
		{"positions_mm", []int{}}, {"gaps_mm", []int{}}, {"spread_mm", 0}, {"count", 0}, {"clash", names}, {"works", others}, {"units", u.String()},
	}}
	for _, n := range names {
		a.rows = append(a.rows, []string{n})
	}
	if len(works) > 0 {
		a.say("What works: " + strings.Join(works, ", or ") + ".")
	} else if len(names) > 1 {
		a.say("Change any one of them: the others can hold.")
	}
	a.next = "explain spacing-clash"
	return q.hand(a, p)
}

// flagOf is a constraint as the command line has it.
func (q *quick) flagOf(k spacing.Constraint, p *rules.Planned) string {
	value := func(name string) string { return "--" + name + " " + text.Shell(q.text(name)) }
	switch k.Kind {
	case spacing.KindRun, spacing.KindFirst, spacing.KindLast:
		if q.has("between") {
			return value("between")
		}
		return value(map[spacing.Kind]string{spacing.KindRun: "length", spacing.KindFirst: "first", spacing.KindLast: "last"}[k.Kind])
	case spacing.KindCount:
		return value("count")
	case spacing.KindStep:
		if !q.has("step") {
			return "--step " + text.Shell(plan.MarkEvery(p.Garment.Units).ShortPlace(p.Garment.Units)) + " (taken, none was given)"
		}
		return value("step")
	case spacing.KindGapMin:
		return value("gap-min")
	case spacing.KindGapMax:
		if !q.has("gap-max") {
			return value("gap-min")
		}
		return value("gap-max")
	case spacing.KindMatch:
		if q.has("phase") {
			return value("repeat") + " " + value("phase")
		}
		return value("repeat")
	case spacing.KindAnchor:
		return "--anchor " + text.Shell(q.list("anchor")[k.Index])
	case spacing.KindClear:
		s := "--clear " + text.Shell(q.list("clear")[k.Index])
		if q.has("reach") {
			s += " with " + value("reach")
		}
		return s
	}
	return k.String()
}
