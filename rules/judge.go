package rules

import (
	"placketeer/catalog"
	"placketeer/rules/plan"
	"slices"
)

// Planned is a plan and what the rules found in it.
type Planned struct {
	*plan.Plan
	Findings []Finding

	// Change is what the garment's what-if changes made of its plan; nil
	// without any, or where the garment cannot be planned without them. Only
	// a search fills it.
	Change *Difference

	// Joint settles all conflicts together; nil where there are not several, or
	// none was looked for. Only a search fills it.
	Joint *JointFix

	// First are the readings that decide verdicts within their ±, the one to
	// measure first before the others. Only a search fills it.
	First []MeasureFirst

	// Variants are the plans of the variants of the garment's file. Only who
	// reads the file fills it.
	Variants []*Planned

	// Unnoted leaves notes out, for a search that looks at none.
	Unnoted bool
	unnoted Finding // room for one that is left out

	// spans are where the findings of each closure begin, and then those of
	// the whole garment, as they were found; nil once they were put in order.
	spans []int
}

// NewPlanned is a plan in which nothing has been looked for yet.
func NewPlanned(p *plan.Plan) *Planned { return &Planned{Plan: p} }

// Verdict is the worst severity found, and whether anything was found. What
// a sample has settled does not count; what has no places cannot be cut, so the
// verdict is then that of a conflict, as the exit code is.
func (p *Planned) Verdict() (Severity, bool) {
	v, found := Note, false
	for i := range p.Findings {
		switch f := &p.Findings[i]; {
		case f.Settled != "":
		case f.Unlaid():
			return Conflict, true
		default:
			v, found = max(v, f.Severity), true
		}
	}
	return v, found
}

// Count is how many findings that are not settled have that severity.
func (p *Planned) Count(s Severity) int {
	n := 0
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Severity == s && f.Settled == "" {
			n++
		}
	}
	return n
}

// Plan plans a garment and checks it with every rule. The findings know their
// places in the file and stand in order.
func Plan(g *catalog.Garment) *Planned {
	p := NewPlanned(plan.Of(g, false))
	p.Check()
	p.Arrange()
	p.Settle()
	return p
}

// Found is Plan for a search over many plans: the findings stand as they were
// found, without their places, and layouts come without what only words need.
func Found(g *catalog.Garment) *Planned {
	p := NewPlanned(plan.Of(g, true))
	p.Check()
	return p
}

// Base is Found for a search that plans the garment many times, and keeps to
// a number of places: see Again.
func Base(g *catalog.Garment, tries *plan.Tries) *Planned {
	p := plan.New(g, true)
	p.KeepRuns()
	p.Within(tries)
	p.All()
	q := NewPlanned(p)
	q.Check()
	return q
}

// Again is Found of g, of which only what is touched differs from the garment
// of p. What is not touched is taken over from p, which is one of Base.
func (p *Planned) Again(g *catalog.Garment, touch []plan.Touch) *Planned {
	q := NewPlanned(p.Plan.Again(g, touch))
	q.CheckAgain(p, touch)
	return q
}

// AgainIn is Again in the room of a plan that nobody looks at any more, for a
// search that keeps none: q is used again each time.
func (p *Planned) AgainIn(q *Planned, g *catalog.Garment, touch []plan.Touch) {
	p.Unchecked(q, g, touch)
	q.CheckAgain(p, touch)
}

// Unchecked is AgainIn without its findings: CheckAgain looks for them.
func (p *Planned) Unchecked(q *Planned, g *catalog.Garment, touch []plan.Touch) {
	p.Plan.AgainIn(q.Plan, g, touch)
	clear(q.Findings)
	*q = Planned{Plan: q.Plan, Findings: q.Findings[:0], Unnoted: q.Unnoted, spans: q.spans[:0]}
}

// Has says whether one rule finds something about a closure of that name, or
// where it looks at the garment about that, of which is says yes. Nothing is
// added to the findings.
func (p *Planned) Has(r *Rule, closure string, is func(*Finding) bool) bool {
	n := len(p.Findings)
	x := Context{G: p.Garment, P: p, U: p.Garment.Units, Rule: r}
	if r.garment {
		r.Check(&x)
	} else {
		for i := range p.Closures {
			if x.C = &p.Garment.Closures[i]; x.C.Name == closure {
				x.K, x.Size = &p.Closures[i], ""
				r.Check(&x)
			}
		}
	}
	found := p.Findings[n:]
	has := slices.ContainsFunc(found, func(f Finding) bool { return is(&f) })
	clear(found)
	p.Findings = p.Findings[:n]
	return has
}

// Arrange gives the findings their places in the file and puts them in order.
func (p *Planned) Arrange() {
	for i := range p.Findings {
		p.Findings[i].Pos = p.Garment.At(p.Findings[i].Path())
	}
	p.Sort()
}

// Check adds what every rule finds.
func (p *Planned) Check() { p.CheckAgain(nil, plan.TouchAll(p.Garment, plan.Touched)) }

// CheckAgain is Check, with what was found before in closures that are not
// touched taken over from there.
func (p *Planned) CheckAgain(before *Planned, touch []plan.Touch) {
	g := p.Garment
	x := Context{G: g, P: p, U: g.Units}
	p.spans = p.spans[:0]
	if before != nil {
		p.Findings = slices.Grow(p.Findings, len(before.Findings)) // about as many as there will be
	}
	for i := range g.Closures {
		p.spans = append(p.spans, len(p.Findings))
		x.C, x.K = &g.Closures[i], &p.Closures[i]
		if touch[i] != plan.Untouched || before.spans == nil {
			p.run(&x, closureRules)
			continue
		}
		p.Findings = append(p.Findings, before.Findings[before.spans[i]:before.spans[i+1]]...)
	}
	p.spans = append(p.spans, len(p.Findings))
	x.C, x.K = nil, nil
	p.run(&x, garmentRules)
}

func (p *Planned) run(x *Context, rules []*Rule) {
	for _, r := range rules {
		if p.Unnoted && r.Severity == Note {
			continue
		}
		x.Rule, x.Size = r, ""
		r.Check(x)
	}
}

// The rules that look at one closure, and those that look at the garment.
var closureRules, garmentRules = slices.DeleteFunc(slices.Clone(AllRules), func(r *Rule) bool { return r.garment }),
	slices.DeleteFunc(slices.Clone(AllRules), func(r *Rule) bool { return !r.garment })
