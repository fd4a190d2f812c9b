package rules

import (
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// PlanOnly is Plan with the named rules alone, for a closure of which only
// some things are known, as when one answer is asked for on the command line.
func PlanOnly(g *catalog.Garment, names ...string) *Planned {
	p := newPlanned(ofGarment(g, false), false)
	x := Context{G: g, P: p, U: g.Units}
	for i := range g.Closures {
		x.C, x.K = &g.Closures[i], &p.Closures[i]
		for _, r := range allRules {
			if !r.garment && slices.Contains(names, r.Name) {
				x.rule, x.size = r, ""
				r.check(&x)
			}
		}
	}
	p.Findings = sortFindings(p.Findings)
	return p
}

// OtherHole is the length of a hole by one published rule.
type OtherHole struct {
	Rule   string // as hole_rule names it
	Says   string // what the rule says
	Length measure.Length
}

var holeRuleSays = map[string]string{
	"passing":               "what passes, with ease for bulk and shank",
	"plus-eighth":           "diameter + 1/8 in",
	"plus-thickness-eighth": "what passes + 1/8 in",
	"percent":               "1.25 × diameter",
	"diameter":              "diameter alone",
}

// HoleByRule is the length that each published rule gives for a fastener
// in layers so thick, in the order in which a garment file may name them.
func HoleByRule(s Shape, over measure.Length, shank bool, u measure.Unit) []OtherHole {
	out := make([]OtherHole, len(catalog.HoleRules))
	for i, rule := range catalog.HoleRules {
		_, _, l := ruleLength(rule, s, over, shank, u)
		out[i] = OtherHole{rule, holeRuleSays[rule], l}
	}
	return out
}

// HoleWorking is how the length of a hole came about, a line a step.
func HoleWorking(k *ClosurePlan, u measure.Unit) []string {
	h := &k.Hole
	if !h.Needed {
		return nil
	}
	n := &k.Closure.Notion
	s := shapeOf(n)
	say := func(l measure.Length) string { return l.ShortFine(u) }
	out := []string{s.working(u) + ": it passes"}
	rule := k.Closure.Rule
	switch {
	case rule != "" && rule != "passing":
		out = append(out, "hole_rule "+rule+", "+holeRuleSays[rule]+": "+say(h.Passing+h.Ease))
	default:
		if k.Over.Thick > bulky {
			guess := ""
			if k.Over.Estimated {
				guess = " by estimate"
			}
			out = append(out, "+ "+say(bulkyEase)+" for bulk: the layers are "+k.Over.Thick.TextFine(u)+" thick"+guess+", over "+measure.Length(bulky).TextFine(u))
		}
		if n.Shank.Has() {
			out = append(out, "+ "+say(shankEase)+" for the rigid shank")
		}
	}
	step := "next " + say(markStep(u))
	switch {
	case h.Kind == "loop":
		return append(out, "= "+say(h.Wanted)+" inside the loop, to the "+step)
	case h.Given:
		out = append(out, "= "+say(h.Wanted)+", to the "+step, "the file asks for "+say(h.Length))
	case h.Fixed:
		out = append(out, "= "+say(h.Wanted)+", to the "+step, say(h.Length)+" is the next length that the attachment sews")
	default:
		out = append(out, "= "+say(h.Length)+" to cut, to the "+step)
	}
	if h.Stitched > h.Length {
		out = append(out, "+ "+say(h.Stitched-h.Length)+" for the two bars = "+say(h.Stitched)+" stitched")
	}
	return out
}

// working is Passing with its figures in words.
func (s Shape) working(u measure.Unit) string {
	say := func(l measure.Length) string { return l.ShortFine(u) }
	d, t, p := s.Across(), s.Thickness, say(s.Passing())
	switch {
	case s.Girth > 0:
		return "girth " + say(s.Girth) + " ÷ 2 = " + p
	case s.Kind == "domed" && 2*t >= d:
		return "diameter " + say(d) + ", a half ball and " + say(t-d/2) + " below it: half the way round = " + p
	case s.Kind == "domed":
		return "(diameter " + say(d) + " + arc over the dome " + say(capArc(d, t)) + ") ÷ 2 = " + p
	case s.Kind == "ball":
		return "diameter " + say(d) + " × 1.571, half the way round a ball = " + p
	case s.Kind == "square":
		return "diagonal " + say(d) + " + thickness " + say(t) + " = " + p
	case s.Kind == "toggle":
		return "half the width " + say(s.Width/2) + " + shorter end " + say(s.ShortEnd) + " + thickness " + say(t) + " = " + p
	}
	return "diameter " + say(d) + " + thickness " + say(t) + " = " + p
}
