package desk

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
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
		about: "Finds the most even places on the marks you can make, with a fastener near every --anchor and none in a --clear stretch. Every place is measured from the top, so that nothing drifts. Where nothing fits it names what cannot hold together.",
		examples: []string{
			"spacing --length 26in --first 5/8in --last 4in --count 6",
			"spacing --length 26in --first 5/8in --last 4in --count 5-7 --anchor bust=8in:1/2in",
			"spacing --length 70cm --first 2cm --last 10cm --gap-min 8cm --gap-max 11cm --clear belt=40cm:44cm",
		},
		flags: quickFlags(
			lengthFlagOf("length", 10*measure.Metre, "26in", "length of the run, neck edge to hem"),
			orZero(pair("first", "LENGTH|MIN:MAX", "5/8in", "top to the first centre, or between which two it may lie").once()),
			orZero(pair("last", "LENGTH|MIN:MAX", "4in", "last centre to the end, or between which two").once()),
			flag{name: "count", value: "N|MIN-MAX", doc: "how many, or from how many to how many", hint: "6"},
			lengthFlagOf("step", 100*mm, "1/8in", "what can be marked (otherwise 1/8 in or 5 mm)"),
			pair("anchor", "[NAME=]AT:WITHIN", "bust=8in:1/2in", "a place that wants a fastener near it"),
			pair("clear", "[NAME=]FROM:TO", "belt=14in:15 1/2in", "a stretch that stays free"),
			orZero(lengthFlagOf("reach", 200*mm, "1/2in", "how far a fastener or its hole reaches up and down from its centre: widens every --clear")),
			lengthFlagOf("gap-min", run, "3in", "smallest gap"),
			lengthFlagOf("gap-max", run, "4 1/2in", "largest gap"),
			lengthFlagOf("repeat", 1000*mm, "3 1/2in", "repeat of the cloth that the gaps keep"),
			orZero(lengthFlagOf("phase", 1000*mm, "1in", "where in the repeat every fastener lies, from the top")),
			flag{name: "group", kind: numberFlag, value: "N", doc: "set in pairs (2) or threes (3)", lo: 1, hi: 3, whole: true, hint: "2"},
			lengthFlagOf("group-gap", 300*mm, "1 1/2in", "gap inside a group"),
		),
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
	var p spacing.Problem
	if p.Run, err = q.need("length"); err != nil {
		return err
	}
	first, err := q.window("first")
	if err != nil {
		return err
	}
	last, err := q.window("last")
	if err != nil {
		return err
	}
	p.First, p.Last = first, spacing.Window{Min: p.Run - last.Max, Max: p.Run - last.Min}
	if p.CountMin, p.CountMax, err = q.counts(); err != nil {
		return err
	}
	stepGiven := false
	if p.Step, stepGiven, err = q.length("step"); err != nil {
		return err
	}
	if !stepGiven {
		p.Step = plan.MarkEvery(q.unit)
	}
	if q.unit == measure.MM {
		p.EvenWithin = spacing.EvenSpreadMM
	}
	for name, dst := range map[string]*measure.Length{
		"gap-min": &p.Gap.Min, "gap-max": &p.Gap.Max, "repeat": &p.Repeat, "phase": &p.Phase, "group-gap": &p.GroupGap,
	} {
		if *dst, _, err = q.length(name); err != nil {
			return err
		}
	}
	p.HasPhase = q.has("phase")
	if p.Group, _, err = q.count("group"); err != nil {
		return err
	}
	reach, _, err := q.length("reach")
	if err != nil {
		return err
	}
	for _, s := range q.list("anchor") {
		name, at, within, err := q.pair("anchor", s)
		if err != nil {
			return err
		}
		p.Anchors = append(p.Anchors, spacing.Anchor{Name: name, At: at, Within: within})
	}
	for _, s := range q.list("clear") {
		name, from, to, err := q.pair("clear", s)
		if err != nil {
			return err
		}
		if to <= from {
			return usagef("--clear %s ends where it has not begun", s).write("--clear %s", "FROM:TO with the smaller first")
		}
		p.Clear = append(p.Clear, spacing.Widen(spacing.Zone{Name: name, From: from, To: to}, reach, reach))
	}
	if err := q.sense(&p, first, last); err != nil {
		return err
	}

	var d spacing.Defaults
	if !stepGiven {
		d.Steps = plan.Marks(q.unit)
	}
	found := spacing.Loosen(p, d)
	var clash *spacing.Clash
	switch {
	case errors.As(found.Err, &clash):
		return q.handClash(clash, &p, stepGiven)
	case found.Err != nil:
		return usagef("%s", strings.TrimPrefix(found.Err.Error(), "spacing: "))
	}
	p.Step = found.Step
	return q.handLayout(&found, &p, stepGiven)
}

// sense refuses what no layout could follow from.
func (q *quick) sense(p *spacing.Problem, first, last spacing.Window) error {
	switch {
	case p.CountMax == 0 && p.Gap == (spacing.Limits{}):
		return usagef("say how many, or how far apart").write("--count 6   or   --gap-min 3in --gap-max 4.5in")
	case first.Min > p.Run:
		return usagef("--first %s lies beyond the run, --length %s", q.text("first"), q.text("length"))
	case last.Min > p.Run:
		return usagef("--last %s is longer than the run, --length %s", q.text("last"), q.text("length"))
	case first.Min+last.Min > p.Run:
		return usagef("--first %s and --last %s are together longer than the run, --length %s", q.text("first"), q.text("last"), q.text("length"))
	case p.Gap.Min > 0 && p.Gap.Max > 0 && p.Gap.Min > p.Gap.Max:
		return usagef("--gap-min %s is more than --gap-max %s", q.text("gap-min"), q.text("gap-max"))
	case p.HasPhase && p.Repeat == 0:
		return usagef("--phase is a place in a repeat: --repeat is missing").write(`--repeat "3 1/2 in"`)
	case p.HasPhase && p.Phase >= p.Repeat:
		return usagef("--phase %s lies beyond the repeat, %s", q.text("phase"), q.text("repeat"))
	case p.Group > 1 && p.GroupGap == 0:
		return usagef("fasteners in groups need the gap inside a group").write(`--group-gap "1 1/2 in"`)
	case p.Group <= 1 && p.GroupGap > 0:
		return usagef("--group-gap belongs to groups").write("--group 2")
	case p.Group > 1 && p.CountMin == p.CountMax && p.CountMin%p.Group != 0:
		return usagef("--count %d cannot be set in groups of %d", p.CountMin, p.Group).write("--count %d", p.CountMin+p.Group-p.CountMin%p.Group)
	}
	for i, a := range p.Anchors {
		if a.At > p.Run {
			return usagef("--anchor %s lies beyond the run, --length %s", q.list("anchor")[i], q.text("length"))
		}
	}
	return nil
}

// window is a length, or MIN:MAX.
func (q *quick) window(name string) (spacing.Window, error) {
	if !q.has(name) {
		_, err := q.need(name)
		return spacing.Window{}, err
	}
	s := q.text(name)
	lo, hi, two := strings.Cut(s, ":")
	var w spacing.Window
	var err error
	if w.Min, err = q.parse(name, strings.TrimSpace(lo)); err != nil {
		return w, err
	}
	w.Max = w.Min
	if two {
		if w.Max, err = q.parse(name, strings.TrimSpace(hi)); err != nil {
			return w, err
		}
	}
	if w.Max < w.Min {
		return w, usagef("--%s %s: the first is more than the second", name, s).write("--%s %s:%s", name, hi, lo)
	}
	return w, nil
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
	if a, err = q.parse(flag, strings.TrimSpace(one)); err != nil {
		return name, a, b, err
	}
	b, err = q.parse(flag, strings.TrimSpace(two))
	return name, a, b, err
}

// counts are the fewest and the most, both 0 where --count is not given.
func (q *quick) counts() (lo, hi int, err error) {
	if !q.has("count") {
		return 0, 0, nil
	}
	s := q.text("count")
	one, two, both := strings.Cut(s, "-")
	if !both {
		two = one
	}
	lo, errLo := strconv.Atoi(strings.TrimSpace(one))
	hi, errHi := strconv.Atoi(strings.TrimSpace(two))
	switch {
	case errLo != nil || errHi != nil:
		return 0, 0, usagef("--count %q is neither a whole number nor two of them", s).write("--count 6   or   --count 5-7")
	case lo < 1 || hi > 200:
		return 0, 0, usagef("--count %s: it must lie between 1 and 200", s)
	case lo > hi:
		return 0, 0, usagef("--count %s: the first is more than the second", s).write("--count %d-%d", hi, lo)
	}
	return lo, hi, nil
}

func (q *quick) handLayout(found *spacing.Loose, p *spacing.Problem, stepGiven bool) error {
	l := &found.Layout
	gaps := l.Gaps()
	n := l.Count()
	a := &answer{json: pairs{
		{"positions_mm", exact(l.Positions)}, {"gaps_mm", exact(gaps)}, {"spread_mm", sheet.MM(l.Spread)}, {"count", n},
		{"step_mm", sheet.MM(p.Step)}, {"last_mm", sheet.MM(p.Run - l.Positions[n-1])}, {"units", q.unit.String()},
	}}
	switch {
	case n == 1:
		a.head = "One fastener."
	case l.Spread == 0:
		a.head = fmt.Sprintf("%d fasteners, all gaps %s.", n, gaps[0].TextPlace(q.unit))
		if l.Group > 1 {
			a.head = fmt.Sprintf("%d fasteners in groups of %d, evenly apart.", n, l.Group)
		}
	default:
		a.head = fmt.Sprintf("%d fasteners; the gaps differ by %s.", n, l.Spread.TextPlace(q.unit))
	}
	a.rows = append(a.rows, []string{"", "from the top", "gap"})
	for i, at := range l.Positions {
		gap := ""
		if i > 0 {
			gap = gaps[i-1].TextPlace(q.unit)
		}
		a.rows = append(a.rows, []string{strconv.Itoa(i + 1), at.TextPlace(q.unit), gap})
	}
	a.rows = append(a.rows, []string{"", p.Run.TextPlace(q.unit), (p.Run - l.Positions[n-1]).TextPlace(q.unit) + " to the end"})
	if says := q.chosen(l); says != "" {
		a.notes = append(a.notes, says)
	}
	switch {
	case len(l.Skips) > 0:
		a.notes = append(a.notes, "All gaps keep the repeat, but some skip a place of it: take another count, or move first or last.")
	case !l.Even:
		a.notes = append(a.notes, "An eye sees gaps that differ by more than "+p.EvenTo().TextPlace(q.unit)+".")
	}
	switch {
	case found.Moved.Step:
		a.notes = append(a.notes, "Places between the first and the last fall on whole steps of "+p.Step.TextPlace(q.unit)+" from the top, since steps of "+plan.MarkEvery(q.unit).TextPlace(q.unit)+" do not meet the repeat; --step changes that.")
	case !stepGiven:
		a.notes = append(a.notes, "Places between the first and the last fall on whole steps of "+p.Step.TextPlace(q.unit)+" from the top; --step changes that.")
	}
	a.notes = append(a.notes, "Measure every place from the top, not from its neighbour.")
	return q.hand(a, nil)
}

// chosen says how an open count was chosen.
func (q *quick) chosen(l *spacing.Layout) string {
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
		return fmt.Sprintf("%d is the only count that has a layout.", l.Count())
	case spacing.WhyWish:
		return fmt.Sprintf("%d is the count nearest %s.", l.Count(), wish)
	case spacing.WhyEven:
		return fmt.Sprintf("Of the counts that come out even %d is nearest %s%s.", l.Count(), wish, nearer)
	case spacing.WhySpread:
		return fmt.Sprintf("No count comes out even; with %d the gaps differ least%s.", l.Count(), nearer)
	}
	return ""
}

// handClash names what cannot hold together, in the words of the flags.
func (q *quick) handClash(c *spacing.Clash, p *spacing.Problem, stepGiven bool) error {
	var names []string
	for _, k := range c.Constraints {
		names = append(names, q.flagOf(k, p, stepGiven))
	}
	head := "No layout: these cannot hold together."
	if len(names) == 1 {
		head = "No layout: this cannot hold."
	}
	a := &answer{head: head, json: pairs{
		{"positions_mm", []int{}}, {"gaps_mm", []int{}}, {"spread_mm", 0}, {"count", 0}, {"clash", names}, {"units", q.unit.String()},
	}}
	for _, n := range names {
		a.rows = append(a.rows, []string{n})
	}
	if len(names) > 1 {
		a.notes = append(a.notes, "Change any one of them: the others can hold.")
	}
	if err := q.hand(a, nil); err != nil {
		return err
	}
	return conflict{}
}

// flagOf is a constraint as the command line has it.
func (q *quick) flagOf(k spacing.Constraint, p *spacing.Problem, stepGiven bool) string {
	value := func(name string) string { return "--" + name + " " + text.Shell(q.text(name)) }
	switch k.Kind {
	case spacing.KindRun:
		return value("length")
	case spacing.KindFirst:
		return value("first")
	case spacing.KindLast:
		return value("last")
	case spacing.KindCount:
		return value("count")
	case spacing.KindStep:
		if !stepGiven {
			return "--step " + text.Shell(p.Step.ShortPlace(q.unit)) + " (taken, none was given)"
		}
		return value("step")
	case spacing.KindGapMin:
		return value("gap-min")
	case spacing.KindGapMax:
		return value("gap-max")
	case spacing.KindMatch:
		if p.HasPhase {
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
