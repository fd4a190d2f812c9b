package desk

import (
	"fmt"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/sheet"
	"placketeer/rules/work"
)

func threadCommand() *command {
	return &command{
		name:  "thread",
		does:  "how much thread the holes and buttons take, the shank and the backing button",
		about: "Gives the thread of all holes and of sewing the fasteners on, waste counted, and the spools that it makes; the thread shank for the layers; and the backing button that is sold.",
		examples: []string{
			"thread --diameter 1in --thickness 1/8in --count 6 --cloth melton",
			"thread --use horn-36 --count 8 --cloth-thickness 2mm --thread polyester-tex-60",
		},
		flags: quickFlags(slices.Concat([]flag{
			{name: "count", kind: numberFlag, value: "N", doc: "how many", first: "1", lo: 1, hi: 200, whole: true, hint: "6"},
			lengthFlagOf("spool", 10000*measure.Metre, "100m", "thread on a spool (otherwise 100 m: common practice)"),
			{name: "hole", words: []string{"machine", "keyhole", "bound", "hand"}, doc: "kind of hole", first: "as the machine sews it"},
		}, threadFlags(), fastenerFlags(), machineFlags())...),
		action: thread,
	}
}

func thread(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	f, err := q.putFastener(true)
	if err != nil {
		return err
	}
	if err := q.putMachine(); err != nil {
		return err
	}
	if err := q.putThread(); err != nil {
		return err
	}
	q.putHole()
	n, there, err := q.count("count")
	if err != nil {
		return err
	}
	if there {
		q.put("run.count", n, "--count")
		q.take("run.length", "9 m")
	}
	p, err := q.plan()
	if err != nil {
		return err
	}
	k, u := &p.Closures[0], p.Garment.Units
	s := &k.Sewing
	a := &answer{head: "The holes and buttons take " + work.Metres(s.Used, u) + " of thread."}
	if n <= 1 {
		a.head = "One hole and its button take " + work.Metres(s.Used, u) + " of thread."
	}
	for _, step := range work.Working(p, 0) {
		if step.Topic == work.TopicUsed {
			a.rows = append(a.rows, []string{"used", step.Says})
		}
	}
	t := &k.Thread
	spool, err := q.spool(p.Garment)
	if err != nil {
		return err
	}
	spools := plan.Spools(s.Used, spool)
	a.rows = append(a.rows, []string{"spools", fmt.Sprintf("%d of %s", spools, work.Spool(spool, u))})
	a.rows = append(a.rows, []string{"size", fmt.Sprintf("%s to %s for holes, %s to %s to sew buttons on", t.Min, t.Max, t.ButtonMin, t.ButtonMax)})
	if s.ThreadShank > 0 {
		a.rows = append(a.rows, []string{"shank", s.ThreadShank.TextThin(q.unit) + " of thread, up to " + s.ShankMost.TextThin(q.unit) + ": as thick as the layers over it"})
	} else if !f.layers {
		a.say("Give --over or --cloth, the layers: the thread shank is as long as they are thick.")
	}
	backing := s.BackingSold
	if q.has("cloth") && !s.Suggested { // a light cloth needs none
		backing = 0
	}
	if backing > 0 {
		a.rows = append(a.rows, []string{"backing", fmt.Sprintf("%s ligne, %s: the size on sale nearest to half of the button", rules.Ligne(s.BackingSold), s.BackingSold.Text(u))})
	}
	a.estimates(f.guess(u), sold(&k.Closure.Notion, u), q.stackSays(k))
	a.say("The seams are not counted.")
	a.json = pairs{
		{"used_mm", sheet.MM(s.Used)}, {"hole_mm", sheet.MM(s.HoleThread)}, {"spools", spools}, {"shank_mm", maybe(s.ThreadShank)}, {"shank_most_mm", maybe(s.ShankMost)},
		{"backing_mm", maybe(backing)}, {"thread_tex", t.Tex.Tex()}, {"units", u.String()},
	}
	a.next = "catalog --kind thread"
	return q.hand(a, p)
}

// spool is how much thread is on a spool: as given, as the thread's entry has
// it, else what is usual.
func (q *quick) spool(g *catalog.Garment) (measure.Length, error) {
	l, there, err := q.length("spool")
	if err != nil || there {
		return l, err
	}
	if th := g.ThreadNamed("thread"); th != nil && th.Metres.Has() {
		return measure.FromMM(th.Metres.V * 1000), nil
	}
	return plan.UsualSpool, nil
}
