package work

import (
	"fmt"

	"placketeer/rules/plan"
)

// loop is the working of a loop, or of where hooks are set.
func (w *working) loop() {
	l := &w.x.K.Loop
	switch {
	case l.Hooks:
		says := "hooks lie across, their bends " + w.t(l.HookEdge) + " inside the edge"
		if w.x.C.Edge.Has() {
			says += ", as given; usual is " + w.s(plan.HookLeast)
		}
		if at := w.x.K.EyeAt(); at < 0 {
			says += fmt.Sprintf("; the edges meet, so each eye stands %s beyond its own", w.t(-at))
		} else {
			says += fmt.Sprintf("; stand %s − %s: the bar of each eye lies %s inside the centre line of the under side", w.s(w.x.K.Stand.Have), w.s(l.HookEdge), w.t(at))
		}
		st := w.say(TopicLoop, "hook-edge", "%s", says)
		if !w.x.C.Edge.Has() {
			st.Default = w.set("edge", "the hooks' distance from the edge")
		}
	case l.Needed:
		says := fmt.Sprintf("loop: %s = %s; with %s of ease, to what can be marked: %s round the inside", l.Formula, w.s(l.Girth), w.s(plan.LoopEase), w.t(l.Usual))
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
