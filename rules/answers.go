package rules

import (
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

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

// OtherHole is the length of a hole by one published rule.
type OtherHole struct {
	Rule   string // as hole_rule names it
	Says   string // what the rule says
	Length measure.Length
}

var HoleRuleSays = map[string]string{
	"passing":               "what passes, with ease for bulk and shank",
	"plus-eighth":           "diameter + 1/8 in",
	"plus-thickness-eighth": "what passes + 1/8 in",
	"percent":               "1.25 × diameter",
	"diameter":              "diameter alone",
}

// HoleByRule is the length that each published rule gives for a fastener
// in layers so thick, in the order in which a garment file may name them.
func HoleByRule(s plan.Shape, over measure.Length, shank bool, u measure.Unit) []OtherHole {
	out := make([]OtherHole, len(catalog.HoleRules))
	for i, rule := range catalog.HoleRules {
		_, _, l := plan.RuleLength(rule, s, over, shank, u)
		out[i] = OtherHole{rule, HoleRuleSays[rule], l}
	}
	return out
}
