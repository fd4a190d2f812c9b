package work

import (
	"fmt"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// loop is the working of a loop, or of where hooks are set.
func (w *working) loop() {
	l := &w.x.K.Loop
	switch {
	case l.Hooks:
		says := "hooks lie across, their bends " + w.t(l.HookEdge) + " inside the edge"
		given := w.x.C.Edge.Has() || w.x.C.Flap.Inset.Has()
		if given {
			says += ", as given; usual is " + w.s(plan.HookLeast)
		}
		if at := w.x.K.EyeAt(); w.x.C.Flap.Has() {
			says += fmt.Sprintf("; flap %s − %s: the bar of each eye lies %s inside %s", w.s(w.x.C.Flap.Width.V), w.s(l.HookEdge), w.t(at), w.opening().line)
		} else if w.x.K.Stand.Lost {
			says += "; where each eye lies follows from the edge: not before " + Unsettled
		} else if plan.LapOf(w.x.C) == "double" {
			says += "; each eye lies where its bend reaches"
		} else if at < 0 {
			says += fmt.Sprintf("; the edges meet, so each eye stands %s beyond its own", w.t(-at))
		} else if at == 0 {
			says += "; the bar of each eye lies on the centre line of the under side"
		} else {
			says += fmt.Sprintf("; stand %s − %s: the bar of each eye lies %s inside the centre line of the under side", w.s(w.x.K.Stand.Have), w.s(l.HookEdge), w.t(at))
		}
		st := w.say(TopicLoop, "hook-edge", "%s", says)
		if !given {
			st.Default = w.set("edge", "the hooks' distance from the edge")
		}
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
		if l.Cord != 0 {
			bend = fmt.Sprintf(" + %s for the bend of a %s cord", w.s(plan.LoopCut(0, l.Cord, 0)), w.s(l.Cord))
		}
		round := w.s(l.Inside)
		if legs := l.Cut - plan.LoopCut(0, l.Cord, w.x.K.Stand.Seam); legs > l.Inside {
			round = "both legs to where they are sewn on " + w.s(legs)
		}
		if l.Cut == 0 {
			break // it comes with its frog
		}
		w.say(TopicLoop, "", "cut for one loop: %s%s + %s = %s", round, bend, w.allowances(), w.made(l.Cut, false))
	}
}

// loopTask makes the loops of a closure and sews them in.
func (w *planner) loopTask(stage string, c *catalog.Closure, k *plan.Closure) {
	o, side := w.opening(c.Index), plan.Over
	count := w.count(o, k)
	loops := its(count, "loops", "loop")
	if l := k.Loop.Cut; l > 0 {
		cords, legs := "", ""
		if l := k.Loop.CutFastener; l != 0 {
			name, _ := number(text.Plural(c.Notion.Kind), count)
			cords = fmt.Sprintf(", and the %s of the %s, %s%s", its(count, "cords", "cord"), name, w.made(l, false), its(count, " each", ""))
			if c.Notion.Kind == catalog.Toggle {
				legs = " Draw " + its(count, "each cord through its toggle, and join the two legs of each cord", "the cord through the toggle, and join its two legs") + " right up to the toggle."
			}
		}
		w.add(stage, c.Name, "Cut the %s%s from cord, %s%s with what is sewn in%s, and knot or seal the ends.%s", loops, of(c), w.made(l, false), its(count, " each", ""), cords, legs).use(k.LoopCordID())
	}
	if n := w.bySize(func(i int) string { return strconv.Itoa(k.Patched(i)) }); k.Patched(w.sizes[0]) != 0 {
		w.add(stage, c.Name, "Cut the patches for the ends of the cords%s from leather or firm cloth (%s), %s wide and %s long: punch a hole for the cord in the middle of each and fold it there over the ends, to %s.", of(c), n, w.len(plan.PatchWide), w.len(plan.PatchLong), w.len(2*plan.PatchHalf))
	}
	if c.Flap.Has() {
		side = plan.Flap
	}
	with := "needle " + k.Needle.Use.String() + ", " + w.thread(c, plan.JobLoops)
	done := func(t *Task) {
		if k.Loop.Cut != 0 {
			t.use(k.LoopCordID())
		}
		if k.SewnOnTop() {
			t.use(w.byHand(c, plan.JobLoops)...)
			return
		}
		t.sew(w, k, plan.JobLoops)
	}
	if k.SewnOnTop() {
		with = "by hand, " + w.thread(c, plan.JobLoops)
	}
	marked := false
	for _, s := range o.find(c.Index, side, plan.Works, plan.LoopPart) {
		at, lines := w.marks(o, &s)
		t := w.add(stage, c.Name, "Mark the %s%s%s from %s%s, %s, %s.", loops, of(c), o.on(side), o.top(), at, strings.Replace(o.loopLies(&s), "and sew each ", "and sew "+each(count)+" ", 1), with)
		t.Lines = lines
		done(t)
		marked = true
	}
	if !marked {
		done(w.add(stage, c.Name, "Mark the loops%s%s, not laid out, see above, and sew each in with %s round its inside, %s.", of(c), o.on(side), w.made(k.Loop.Inside, k.Loop.Given), with))
	}
}

// loopLies says where each loop is sewn on and how far it reaches.
func (o *opening) loopLies(s *set) string {
	pc, q := o.one(s)
	k := &o.p.Closures[s.closure]
	_, uniform := o.uniform(s, o.sizes)
	switch {
	case !uniform:
		return "and sew each in with " + o.made(k.Loop.Inside, k.Loop.Given) + " round its inside, its ends " + o.len(q.Centre.Out-q.OutFrom) + " inside its mark, its head " + o.len(q.OutTo-q.Centre.Out) + " beyond that"
	case k.Apart():
		under := ""
		if a := o.patchOver(pc, q); a != nil {
			under = ", its ends under a patch" + o.patchLies(pc, a)
		}
		return "and sew each on " + o.out(q.OutFrom) + under + ", its head " + o.out(q.OutTo)
	case k.SewnOnTop():
		return "and sew each on top of the finished front, its cords laid out inside the edge, the loop " + o.made(k.Loop.Inside, k.Loop.Given) + " round its inside, its head " + o.out(q.OutTo)
	case o.lap == k && plan.LapOf(k.Closure) == "edge":
		return "and sew each into the edge with " + o.made(k.Loop.Inside, k.Loop.Given) + " round its inside, its head " + o.out(q.OutTo)
	}
	return "and sew each in with " + o.made(k.Loop.Inside, k.Loop.Given) + " round its inside, its ends " + o.out(q.OutFrom) + ", its head " + o.its(q.OutTo)
}

// patchOver is the patch over the ends of a cord, nil if there is none.
func (o *opening) patchOver(pc *plan.Piece, q *plan.Part) *plan.Area {
	for i := range pc.Areas {
		if a := &pc.Areas[i]; a.Kind == plan.PatchArea && a.From <= q.Centre.At && q.Centre.At <= a.To {
			return a
		}
	}
	return nil
}

// patchLies says how far such a patch reaches.
func (o *opening) patchLies(pc *plan.Piece, a *plan.Area) string {
	return " from " + o.reach(a.OutTo, o.line) + " to " + o.reach(a.OutFrom, "it")
}
