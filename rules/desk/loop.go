package desk

import (
	"slices"

	"placketeer/catalog"
	"placketeer/rules/sheet"
)

func loopCommand() *command {
	return &command{
		name:  "loop",
		does:  "how long a loop for a button, a ball or a toggle",
		about: "Gives the length inside the loop, edge to edge along the cord, and the cord to cut. A toggle goes through end on. --loop checks a loop that you have.",
		examples: []string{
			"loop --diameter 20mm --thickness 4mm --cord 3mm",
			"loop --use toggle-wood-40",
			"loop --shape ball --diameter 14mm --loop 50mm",
		},
		flags: quickFlags(slices.Concat([]flag{
			lengthFlagOf("loop", 400*mm, "50mm", "length inside the loop you mean to make: it is checked"),
			lengthFlagOf("cord", 40*mm, "3mm", "thickness of the cord"),
			orZero(lengthFlagOf("seam", 100*mm, "5/8in", "seam allowance that its ends are caught in (otherwise 5/8 in or 15 mm)")),
		}, fastenerFlags())...),
		action: loop,
	}
}

func loop(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	if q.text("shape") == "toggle" && !q.has("use") {
		q.put("fastener", catalog.Toggle, "--shape")
	}
	f, err := q.putFastener(true)
	if err != nil {
		return err
	}
	if q.text("shape") == "toggle" {
		delete(q.closure["notion"].(map[string]any), "shape") // a toggle has no other
	}
	q.put("hole", "loop")
	if err := q.putLengths(map[string]string{"loop": "loop", "cord": "cord", "seam": "stand.seam"}); err != nil {
		return err
	}
	p, err := q.plan()
	if err != nil {
		return err
	}
	k, u := &p.Closures[0], p.Garment.Units
	l := &k.Loop
	a := &answer{head: "Make the loop " + l.Usual.TextLeast(u) + " inside."}
	if l.Given {
		a.head = "A loop of " + l.Inside.Text(u) + " inside; " + l.Usual.TextLeast(u) + " is usual."
	}
	a.rows = [][]string{
		{"least", l.Least.TextLeast(u), l.Formula},
		{"usual", l.Usual.TextLeast(u), "with a little ease, to what can be marked"},
		{"at most", l.Most.TextMost(u), "longer, it slips off"},
	}
	switch {
	case l.Cut == 0:
		a.say("A frog is sold with its loop: measure that one. With --cord you make your own.")
	default:
		a.rows = append(a.rows, []string{"cut", l.Cut.TextLeast(u), "of cord: round its bend, and " + p.Closures[0].Stand.Seam.Short(u) + " of seam at each end"})
	}
	if l.Cord == 0 && l.Cut > 0 {
		a.say("Give --cord, its thickness: a thick one needs more for its bend.")
	}
	a.estimates(f.guess(u), sold(&k.Closure.Notion, u))
	a.say("Make one first, and put the real fastener through it.")
	a.json = pairs{
		{"girth_mm", sheet.MM(l.Girth)}, {"least_mm", sheet.MM(l.Least)}, {"inside_mm", sheet.MM(l.Inside)}, {"usual_mm", sheet.MM(l.Usual)}, {"most_mm", sheet.MM(l.Most)},
		{"cut_mm", sheet.MM(l.Cut)}, {"cord_mm", maybe(l.Cord)}, {"units", u.String()},
	}
	a.next = "catalog --kind cord"
	return q.hand(a, p)
}
