package sheet

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
)

// Thing is one thing of the screen, for those who settle them one by one.
type Thing struct {
	Says     string // where and what, in one line, the rule in brackets
	Rule     string
	Closure  string // of the worst, "" for the whole garment
	Size     string // of the worst, "" for all
	Severity rules.Severity
	Whole    string // all that the worst says
	Offer    []*rules.Fix
	Stuck    string // that nothing was found that clears it, or ""
}

// Part is a part of the screen.
type Part struct {
	Title  string
	Things []Thing
}

// Screen is what a person reads of a plan first: its verdict, what to settle,
// what to sample, what to know.
type Screen struct {
	Garment  string
	Verdict  string // ok, note, caution or conflict
	Summary  string
	Next     string // what to do now
	Parts    []Part
	Joint    string          // what settles all conflicts together in words, "" without
	JointFix *rules.JointFix // nil where there is none that does
	Measure  string          // what to measure first, "" where nothing decides
	Settled  []string        // what a sample has settled
}

// ScreenOf is the screen of a plan, of the sizes and severities asked for.
func ScreenOf(p *rules.Planned, o Options) *Screen {
	s := screened(p, o)
	parts, _, count := s.things(o.Only)
	out := &Screen{Garment: s.Garment, Verdict: s.Verdict, Settled: s.settledWords()}
	out.Summary, out.Next = s.summaryOf(count[rules.Conflict], count[rules.Caution], count[rules.Note], o.Strict)
	for i := range parts {
		part := Part{Title: parts[i].Title}
		for j := range parts[i].Items {
			it := &parts[i].Items[j]
			worst := it.entries[0]
			t := Thing{Says: it.Says(), Rule: it.rule, Closure: worst.Closure, Size: worst.Size, Severity: it.severity(), Whole: worst.Message(), Offer: it.offer}
			t.Stuck = it.Stuck()
			part.Things = append(part.Things, t)
		}
		out.Parts = append(out.Parts, part)
	}
	out.Joint, _ = s.jointWords()
	if j := p.Joint; out.Joint != "" && len(j.With) > 0 {
		out.JointFix = j
	}
	if ms := s.measureWords(); len(ms) > 0 {
		out.Measure = ms[0]
	}
	return out
}

// Says is a change in words, its lengths in one unit.
func Says(x *rules.Fix) string { return rules.OneUnit(fixSays(x)) }

// Effect is what a change makes of a plan, in one line: what moves, and what
// it brings. What it settles goes without saying.
func Effect(d *rules.Difference, u measure.Unit) string {
	type moved struct {
		closure       string
		rows, sizes   int
		most          measure.Length
		before, after int
	}
	var all []*moved
	for _, m := range d.Moved {
		if len(all) == 0 || all[len(all)-1].closure != m.Closure {
			all = append(all, &moved{closure: m.Closure})
		}
		a := all[len(all)-1]
		if len(m.Rows) > 0 || m.Count[0] != m.Count[1] {
			a.sizes++
		}
		a.rows += len(m.Rows)
		a.before, a.after = m.Count[0], m.Count[1]
		for i := range m.Rows {
			a.most = max(a.most, (m.From[i] - m.To[i]).Abs())
		}
	}
	var out []string
	for _, a := range all {
		switch {
		case a.sizes == 0:
		case a.before != a.after:
			out = append(out, fmt.Sprintf("%s: %d fasteners instead of %d", a.closure, a.after, a.before))
		default:
			in := ""
			if a.sizes > 1 {
				in = fmt.Sprintf(" in %d sizes", a.sizes)
			}
			out = append(out, fmt.Sprintf("%s: %s%s moved, by %s at most", a.closure, text.Count(a.rows, "fastener"), in, a.most.ShortPlace(u)))
		}
	}
	if len(out) == 0 {
		out = append(out, "no fastener moves")
	}
	for _, sev := range []rules.Severity{rules.Conflict, rules.Caution} {
		var names []string
		for _, f := range d.Come {
			if f.Severity == sev {
				names = append(names, f.Rule)
			}
		}
		if len(names) > 0 {
			out = append(out, "brings "+sev.String()+" "+text.And(slices.Compact(slices.Sorted(slices.Values(names)))...))
		}
	}
	return strings.Join(out, "; ")
}

// Writes are the changes of a fix as they are typed after --with.
func Writes(x *rules.Fix) []string { return catalog.Texts(x.With) }
