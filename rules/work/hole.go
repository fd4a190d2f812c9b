package work

import (
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// HoleWorking is how the length of a hole came about, a line a step.
func HoleWorking(k *plan.Closure, u measure.Unit) []string {
	h := &k.Hole
	if !h.Needed {
		return nil
	}
	n := &k.Closure.Notion
	s := plan.ShapeOf(n)
	say := func(l measure.Length) string { return l.ShortFine(u) }
	out := []string{passingWords(s, u) + ": it passes"}
	rule := k.Closure.Rule
	switch {
	case rule != "" && rule != "passing":
		out = append(out, "hole_rule "+rule+", "+rules.HoleRuleSays[rule]+": "+say(h.Passing+h.Ease))
	default:
		if bulk := k.Over.Bulk(); bulk > plan.Bulky {
			guess := ""
			if k.Over.Estimated {
				guess = " by estimate"
			}
			what := " for bulk"
			if s.Tack {
				what = ", to diameter + " + say(plan.BulkyEase) + ", for bulk"
			}
			out = append(out, "+ "+say(s.BulkEase())+what+": the layers are "+bulk.TextThin()+" thick"+guess+", over "+measure.Length(plan.Bulky).TextThin())
		}
		if plan.RigidShank(n) {
			out = append(out, "+ "+say(plan.ShankEase)+" for the rigid shank")
		}
	}
	step := "next " + say(plan.HoleStep(u))
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
func passingWords(s plan.Shape, u measure.Unit) string {
	say := func(l measure.Length) string { return l.ShortFine(u) }
	d, t, p := s.Across(), s.Thickness, say(s.Passing())
	switch {
	case s.Girth > 0:
		return "girth " + say(s.Girth) + " ÷ 2 = " + p
	case s.Kind == "domed" && 2*t >= d:
		return "diameter " + say(d) + ", a half ball and " + say(t-d/2) + " below it: half the way round = " + p
	case s.Kind == "domed":
		return "(diameter " + say(d) + " + arc over the dome " + say(plan.CapArc(d, t)) + ") ÷ 2 = " + p
	case s.Kind == "ball":
		return "diameter " + say(d) + " × 1.571, half the way round a ball = " + p
	case s.Kind == "square":
		return "diagonal " + say(d) + " + thickness " + say(t) + " = " + p
	case s.Kind == "toggle":
		return "half the width " + say(s.Width/2) + " + shorter end " + say(s.ShortEnd) + " + thickness " + say(t) + " = " + p
	}
	return "diameter " + say(d) + " + thickness " + say(t) + " = " + p
}
