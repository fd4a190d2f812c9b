package desk

import (
	"fmt"
	"strings"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/sheet"
	"placketeer/rules/work"
)

func buttonholeCommand() *command {
	return &command{
		name:  "buttonhole",
		does:  "how long to cut a buttonhole",
		about: "Gives the cut length for a button, with its working, and what other published rules would give. Measure the button; a paper strip round its widest part is the surest (--girth).",
		examples: []string{
			"buttonhole --diameter 1in --thickness 1/8in --over 5mm",
			"buttonhole --diameter 40L --thickness 5mm",
			"buttonhole --shape ball --diameter 14mm",
		},
		flags: quickFlags(append(buttonFlags(),
			flag{name: "rule", words: catalog.HoleRules, doc: "which published rule gives the length", first: "passing"})...),
		action: buttonhole,
	}
}

func buttonhole(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	c, err := q.button()
	if err != nil {
		return err
	}
	if err := q.needThickness(&c); err != nil {
		return err
	}
	c.Hole, c.Rule = "machine", q.text("rule")
	g, err := q.garment(c)
	if err != nil {
		return err
	}
	p := rules.PlanOnly(g, "hole-short")
	k := &p.Closures[0]
	h := &k.Hole
	working := work.HoleWorking(k, q.unit)
	others := rules.HoleByRule(plan.ShapeOf(&k.Closure.Notion), k.Over.Thick, q.on("shank"), q.unit)

	a := &answer{head: "Cut the hole " + h.Length.TextLeast(q.unit) + "."}
	if h.Length < h.Passing {
		a.head = fmt.Sprintf("By this rule cut the hole %s; in cloth that does not give, this button needs %s to pass.", h.Length.TextLeast(q.unit), h.Passing.TextLeast(q.unit))
	}
	for _, w := range working {
		a.rows = append(a.rows, []string{w})
	}
	var list []pairs
	var says []string
	for _, o := range others {
		list = append(list, pairs{{"rule", o.Rule}, {"says", o.Says}, {"length_mm", sheet.MM(o.Length)}})
		if o.Rule != q.or("rule", "passing") {
			says = append(says, fmt.Sprintf("%s: %s", o.Says, o.Length.Short(q.unit)))
		}
	}
	a.notes = append(a.notes, "Other published rules would give: "+strings.Join(says, "; ")+".")
	if h.Asked() > plan.DefaultHoleMax {
		a.notes = append(a.notes, fmt.Sprintf("It is longer than many household machines sew by themselves, %s: look in the manual of yours.", plan.DefaultHoleMax.TextMost(q.unit)))
	}
	if !q.has("over") {
		a.notes = append(a.notes, "Give --over, the thickness of the layers: bulky cloth wants a longer hole.")
	}
	a.notes = append(a.notes, "Sew one through the real layers first, and push the real button through.")
	a.json = pairs{
		{"length_mm", sheet.MM(h.Length)}, {"passing_mm", sheet.MM(h.Passing)}, {"ease_mm", sheet.MM(h.Ease)},
		{"stitched_mm", sheet.MM(h.Stitched)}, {"rule", q.or("rule", "passing")}, {"units", q.unit.String()},
		{"working", working}, {"others", list},
	}
	return q.hand(a, p.Findings)
}
