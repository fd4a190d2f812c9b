package work

import (
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// hardware is the working of how hardware is set.
func (w *working) hardware() {
	h := &w.x.K.Hardware
	if !h.Needed {
		return
	}
	name, word := w.x.C.Notion.Name, rules.PostWord(h.Attach)
	for _, s := range h.Sides[:h.Count] {
		says := rules.GripSideStackWords(&s) + " press down to " + s.Pressed.TextThin(w.x.U) + rules.GripSideBy(&s, w.x.U)
		if h.Packing > 0 {
			says += ", " + w.s(h.Packing) + " of packing in it"
		}
		switch {
		case h.GripGiven:
			verdict := map[plan.Fit]string{plan.TooThin: "too thin", plan.Fits: "inside", plan.TooThick: "too thick"}[plan.FitOf(s.Pressed, h.GripMin, h.GripMax)]
			says += "; " + name + " grips " + w.x.GripRange() + ": " + verdict
		default:
			says += "; no grip range is known for " + name
		}
		w.say(TopicHardware, "hardware-grip", "%s", says)
	}
	if h.PostRule != "" && !h.GripGiven {
		says := word + " = " + h.PostRule + ": " + measure.TextThinSpan(min(h.PostMin, h.PostMax), max(h.PostMin, h.PostMax), w.x.U)
		if h.PostMin > h.PostMax {
			says = word + " = " + h.PostRule + ": no one length serves both sides"
		}
		if h.Post > 0 {
			says += "; this one is " + w.s(h.Post)
		}
		w.say(TopicHardware, "hardware-post", "%s", says)
	}
	switch {
	case h.Setting == plan.SetNail && h.Punch == 0:
		w.say(TopicHardware, "hardware-hole", "no hole: the nail is pushed through from underneath, where a pin has marked its place; heavy cloth is pierced with an awl first")
	case h.Attach == "prong":
		w.say(TopicHardware, "hardware-hole", "no hole: the prongs bite through by themselves")
	case h.Into == "leather":
		says := ""
		switch {
		case w.x.C.PunchHole.Has():
			says = "yours is " + w.s(h.Punch) + "; "
		case h.Punch > 0:
			says = "it is listed with " + w.s(h.Punch) + "; "
		}
		w.say(TopicHardware, "hardware-hole", "hole in leather: there is no published rule; %stry it on a scrap", says)
	case h.Barrel > 0 && h.Into == "rigid":
		w.say(TopicHardware, "hardware-hole", "hole in a rigid part = %s of %s + %s: %s", word, w.s(h.Barrel), rules.RigidPlay(w.x.U), measure.TextSpan(h.HoleMin, h.HoleMax, w.x.U))
	case h.Barrel > 0:
		w.say(TopicHardware, "hardware-hole", "hole in %s: smaller than the %s, %s, which is forced through: %s", h.Into, word, w.s(h.Barrel), w.t(h.Punch))
	}
	w.say(TopicHardware, "edge-near", "centre to the finished edge: half the widest part, %s, + %s = %s at least", w.s(w.x.K.Reach.Rim), w.rim(), w.t(h.EdgeLeast))
}

// testSet sets hardware in scrap.
func (w *planner) testSet(c *catalog.Closure, k *plan.Closure) {
	if !rules.SetWithTool(&c.Notion) {
		return
	}
	if w.setAlike(c, k) {
		return
	}
	through, pressed := layerNames(&k.Under), k.Under.Pressed
	if s := &k.Hardware.Sides[0]; s.Both {
		through, pressed = layerNames(&k.Over)+" on "+through, s.Pressed
	}
	t := w.add(StageTest, c.Name, "Make a test set of the %s of the %s through %s, %s pressed together. %s.", w.called(c), c.Name, through, pressed.TextThin(w.u), rules.SetRight(&k.Hardware))
	w.take(t, c.Name, rules.TaskTestSet)
	if len(t.Take) != 0 { // it says the whole task
		w.sets[t.Take[0]] = len(w.out) - 1
		t.Do, t.Take = "For the "+c.Name+", "+lower(t.Take[0]), t.Take[1:]
		right := rules.SetRight(&k.Hardware) + "."
		if first, told := w.judged[right]; told {
			t.Do = strings.Replace(t.Do, right, "It must come out as that of the "+first+".", 1)
		} else {
			w.judged[right] = c.Name
		}
	}
	t.use(k.FastenerIDs(w.sizes)...)
	w.take(t, c.Name, rules.TaskSet)
}

// setAlike puts a closure to the test set of one before it that is made of the
// same in the same layers; false where there is none.
func (w *planner) setAlike(c *catalog.Closure, k *plan.Closure) bool {
	for i := range w.p.Findings {
		f := &w.p.Findings[i]
		if w.taken[f] || f.Closure != c.Name || rules.Find(f.Rule).Task != rules.TaskTestSet {
			continue
		}
		n, told := w.sets[says(f.Message())]
		if !told {
			continue
		}
		w.taken[f] = true
		t := &w.out[n]
		head, rest, _ := strings.Cut(t.Do, ", make ")
		t.Do = head + " and the " + c.Name + ", make " + rest
		t.Closure = ""
		t.use(k.FastenerIDs(w.sizes)...)
		w.take(t, c.Name, rules.TaskSet)
		return true
	}
	return false
}
