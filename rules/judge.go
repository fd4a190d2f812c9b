package rules

import (
	"placketeer/catalog"
	"placketeer/rules/plan"
)

// Planned is a plan and what the rules found in it.
type Planned struct {
	*plan.Plan
	Findings []Finding
	Quiet    bool // findings without words: for searches over many plans

	// Change is what the garment's what-if changes made of its plan; nil
	// without any, or where the garment cannot be planned without them. Only
	// a search fills it.
	Change *Difference
}

// NewPlanned is a plan in which nothing has been looked for yet.
func NewPlanned(p *plan.Plan, quiet bool) *Planned { return &Planned{Plan: p, Quiet: quiet} }

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

// Plan plans a garment and checks it with every rule.
func Plan(g *catalog.Garment) *Planned { return judge(g, false) }

// Quietly is Plan with the words of the findings left out, which makes a
// search over many plans cheap.
func Quietly(g *catalog.Garment) *Planned { return judge(g, true) }

func judge(g *catalog.Garment, quiet bool) *Planned {
	p := NewPlanned(plan.Of(g, quiet), quiet)
	p.Check()
	if !quiet {
		p.Findings = SortFindings(p.Findings)
	}
	return p
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
