package desk

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
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
			"buttonhole --use horn-40 --cloth melton --layers 2",
			"buttonhole --shape ball --diameter 14mm",
			"buttonhole --table 18L-45L",
		},
		flags: quickFlags(slices.Concat(fastenerFlags(), []flag{
			{name: "hole", words: []string{"machine", "keyhole", "bound", "hand"}, doc: "kind of hole", first: "as the machine sews it"},
			{name: "rule", words: catalog.HoleRules, doc: "which published rule gives the length", first: "passing"},
			{name: "table", value: "FROM-TO", doc: "a table of the lignes on sale between two", hint: "18L-45L"},
		}, machineFlags())...),
		action: buttonhole,
	}
}

// putHole writes how the hole is made.
func (q *quick) putHole() {
	for _, k := range [][2]string{{"hole", "hole"}, {"rule", "hole_rule"}, {"direction", "direction"}} {
		if s := q.text(k[0]); s != "" && q.cmd.flag(k[0]) != nil {
			q.put(k[1], s, "--"+k[0])
		}
	}
}

func buttonhole(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	if q.has("table") {
		return q.holeTable()
	}
	f, err := q.putFastener(true)
	if err != nil {
		return err
	}
	if err := q.putMachine(); err != nil {
		return err
	}
	q.putHole()
	q.notes = []string{"hole-machine"}
	p, err := q.plan()
	if err != nil {
		return err
	}
	k := &p.Closures[0]
	h, u := &k.Hole, p.Garment.Units
	if h.Kind == "loop" {
		return usagef("%s goes through a loop, not a hole", q.text("use")).write("%s %s", Program, q.again("loop"))
	}

	a := &answer{head: "Cut the hole " + h.Length.TextLeast(u) + "."}
	if f.thickness.Has() {
		a.head = "Cut the hole " + h.Length.TextLeast(u) + ", by estimate."
	}
	if h.Length < h.Passing {
		a.head = fmt.Sprintf("By this rule cut the hole %s; in cloth that does not give, this button needs %s to pass.", h.Length.TextLeast(u), h.Passing.TextLeast(u))
	}
	working := work.HoleWorking(k, u)
	for _, w := range working {
		a.rows = append(a.rows, []string{w})
	}
	var list []pairs
	var says []string
	for _, o := range rules.HoleByRule(plan.ShapeOf(&k.Closure.Notion), k.Over.Thick, k.Closure.Notion.Shank.Has(), u) {
		list = append(list, pairs{{"rule", o.Rule}, {"says", o.Says}, {"length_mm", sheet.MM(o.Length)}})
		if o.Rule != q.or("rule", "passing") {
			says = append(says, fmt.Sprintf("%s: %s", o.Says, o.Length.ShortLeast(u)))
		}
	}
	a.estimates(f.guess(u), sold(&k.Closure.Notion, u), q.stackSays(k))
	a.say("Other published rules would give: " + strings.Join(says, "; ") + ".")
	if !f.layers {
		a.say("Give --over, the thickness of the layers: bulky cloth wants a longer hole.")
	}
	a.say("Sew one through the real layers first, and push the button through.")
	a.json = pairs{
		{"length_mm", sheet.MM(h.Length)}, {"passing_mm", sheet.MM(h.Passing)}, {"ease_mm", sheet.MM(h.Ease)},
		{"stitched_mm", sheet.MM(h.Stitched)}, {"kind", h.Kind}, {"rule", q.or("rule", "passing")}, {"units", u.String()},
		{"working", working}, {"others", list},
	}
	a.next = q.again("strip")
	return q.hand(a, p)
}

// stackSays says how thick the layers came to where that is an estimate.
func (q *quick) stackSays(k *plan.Closure) string {
	if !k.Over.Estimated {
		return ""
	}
	q.says = append(q.says, "thickness-estimated")
	are := " are "
	if len(k.Over.Layers) == 1 {
		are = " is "
	}
	return text.Count(len(k.Over.Layers), "layer") + are + measure.Toleranced{V: k.Over.Thick, Tol: k.Over.Tol}.TextThin(q.unit) + " thick by weight"
}

// holeTable is the hole of every size on sale between two.
func (q *quick) holeTable() error {
	from, to, ok := strings.Cut(strings.Replace(q.text("table"), " to ", "-", 1), "-")
	from, to = strings.TrimSpace(from), strings.TrimSpace(to)
	lo, err := measure.ParseLength(from, measure.NoUnit)
	hi, wrong := measure.ParseLength(to, measure.NoUnit)
	if !ok || err != nil || wrong != nil || lo > hi {
		e := usagef("--table %q is not from one size to a larger one", q.text("table"))
		if a, wrong := strconv.Atoi(from); wrong == nil {
			if b, wrong := strconv.Atoi(to); wrong == nil && a < b {
				return usagef("--table %q: the numbers have no unit", q.text("table")).write("--table %dL-%dL", a, b)
			}
		}
		return e.write("--table 18L-45L")
	}
	for _, name := range []string{"diameter", "use", "girth"} {
		if q.has(name) {
			return usagef("--table is of many sizes, and --%s of one", name)
		}
	}
	sizes := plan.LignesBetween(lo, hi)
	if len(sizes) == 0 {
		return usagef("no button is sold from %s to %s", lo.Text(q.unit), hi.Text(q.unit)).write("--table 18L-45L")
	}
	a := &answer{head: "Holes for flat buttons, by size."}
	var list []pairs
	for _, d := range sizes {
		one, err := startQuick(q.call)
		if err != nil {
			return err
		}
		if err := one.putFlat(d); err != nil {
			return err
		}
		if err := one.putMachine(); err != nil {
			return err
		}
		one.putHole()
		p, err := one.plan()
		if err != nil {
			return err
		}
		k := &p.Closures[0]
		thick := measure.Toleranced{V: k.Closure.Notion.Thickness.V, Tol: k.Closure.Notion.Thickness.Tol}
		says := "thick " + thick.TextThin(q.unit)
		told, _ := one.told(p)
		for _, f := range told {
			if f.Severity > rules.Note {
				says += "; " + f.Severity.String() + " " + f.Rule
			}
		}
		a.rows = append(a.rows, []string{rules.Ligne(d) + "L", d.Short(one.unit), k.Hole.Length.TextLeast(one.unit), says})
		list = append(list, pairs{{"ligne", d.Lignes()}, {"diameter_mm", sheet.MM(d)}, {"thickness_mm", sheet.MM(thick.V)}, {"thickness_tolerance_mm", sheet.MM(thick.Tol)}, {"length_mm", sheet.MM(k.Hole.Length)}})
	}
	a.rows = slices.Insert(a.rows, 0, []string{"size", "diameter", "hole", ""})
	if !q.has("thickness") {
		a.say("The thicknesses are estimates, as flat buttons of each size have them: measure yours and give --thickness.")
	}
	a.json = pairs{{"sizes", list}, {"units", q.unit.String()}}
	a.next = "buttonhole --diameter " + rules.Ligne(sizes[0]) + "L"
	return q.hand(a, nil)
}
