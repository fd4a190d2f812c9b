package work

import (
	"fmt"

	"placketeer/rules/plan"
)

// loop is the working of a loop, or of where hooks are set.
func (w *working) loop() {
	l := &w.x.K.Loop
	switch {
	case l.Hooks && w.x.C.Edge.Has():
		w.say(TopicLoop, "hook-edge", "hooks end %s from the edge, as given; usual is %s", w.t(l.HookEdge), w.s(plan.HookLeast))
	case l.Hooks:
		w.say(TopicLoop, "hook-edge", "hooks end %s from the edge", w.t(l.HookEdge)).Default = w.set("edge", "the hooks' distance from the edge")
	case l.Needed:
		says := fmt.Sprintf("loop: %s = %s; with %s of ease, to what can be marked: %s round the inside", l.Formula, w.s(l.Girth), w.s(plan.LoopEase), w.made(l.Usual, false))
		if l.Given {
			says += "; yours is " + w.t(l.Inside)
		}
		st := w.say(TopicLoop, "loop-length", "%s", says)
		if !l.Given {
			st.Default = w.set("loop", "the loop's length")
		}
		bend := ""
		if l.Cord > 0 {
			bend = fmt.Sprintf(" + %s for the bend of a %s cord", w.s(plan.LoopCut(0, l.Cord, 0)), w.s(l.Cord))
		}
		w.say(TopicLoop, "", "cut for one loop: %s%s + two seam allowances of %s = %s", w.s(l.Inside), bend, w.s(w.x.K.Stand.Seam), w.t(l.Cut))
	}
}
