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
}

// NewPlanned is a plan in which nothing has been looked for yet.
func NewPlanned(p *plan.Plan) *Planned { return &Planned{Plan: p} }

// Verdict is the gravest severity found, and whether anything was found.
func (p *Planned) Verdict() (Severity, bool) {
	if len(p.Findings) == 0 {
		return Note, false
	}
	v := Note
	for i := range p.Findings {
		v = max(v, p.Findings[i].Severity)
	}
	return v, true
}

// Count is how many findings have that severity.
func (p *Planned) Count(s Severity) int {
	n := 0
	for i := range p.Findings {
		if p.Findings[i].Severity == s {
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
	return p
}

// Found is Plan for a search over many plans: the findings stand as they were
// found, without their places, and layouts come without what only words need.
func Found(g *catalog.Garment) *Planned {
	p := NewPlanned(plan.Of(g, true))
	p.Check()
	return p
}

// Arrange gives the findings their places in the file and puts them in order.
func (p *Planned) Arrange() {
	for i := range p.Findings {
		p.Findings[i].Pos = p.Garment.At(p.Findings[i].Path())
	}
	p.Findings = SortFindings(p.Findings)
}

// Check adds what every rule finds.
func (p *Planned) Check() {
	g := p.Garment
	x := Context{G: g, P: p, U: g.Units}
	for i := range g.Closures {
		x.C, x.K = &g.Closures[i], &p.Closures[i]
		for _, r := range AllRules {
			if !r.garment {
				x.Rule, x.Size = r, ""
				r.Check(&x)
			}
		}
	}
	x.C, x.K = nil, nil
	for _, r := range AllRules {
		if r.garment {
			x.Rule, x.Size = r, ""
			r.Check(&x)
		}
	}
}

// PlanOnly is Plan with the named rules alone, for a closure of which only
// some things are known, as when one answer is asked for on the command line.
func PlanOnly(g *catalog.Garment, names ...string) *Planned {
	p := NewPlanned(plan.Of(g, false))
	x := Context{G: g, P: p, U: g.Units}
	for i := range g.Closures {
		x.C, x.K = &g.Closures[i], &p.Closures[i]
		for _, r := range AllRules {
			if !r.garment && slices.Contains(names, r.Name) {
				x.Rule, x.Size = r, ""
				r.Check(&x)
			}
		}
	}
	p.Arrange()
	return p
}
