package desk

import (
	"fmt"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/sheet"
)

func stripCommand() *command {
	own := append(buttonFlags(),
		flag{name: "direction", words: []string{"across", "along"}, doc: "holes across the edge or along it", first: "across"},
		flag{name: "hole", words: []string{"machine", "keyhole", "bound", "hand"}, doc: "kind of hole", first: "machine"},
		lengthFlagOf("stand", 400*mm, "1in", "centre line to finished edge (otherwise the button's own width)"),
		flag{name: "pieces", kind: numberFlag, value: "N", doc: "strips to cut", lo: 1, hi: 10000, whole: true, hint: "2"},
		lengthFlagOf("length", 10*measure.Metre, "26in", "length of one strip"),
		lengthFlagOf("goods-width", 10*measure.Metre, "90cm", "width of the interfacing as it is sold"),
		flag{name: "shrink", value: "PERCENT", doc: "how much it shrinks, in percent", first: "0", lo: 0, hi: 40, hint: "2%"},
	)
	return &command{
		name:  "strip",
		does:  "how wide an interfacing strip the holes need, and how much to buy",
		about: "The strip is measured from the finished edge inwards, past the inner ends of the holes. With --pieces, --length and --goods-width it also says how much to buy.",
		examples: []string{
			"strip --diameter 1in --thickness 1/8in --stand 1in",
			"strip --diameter 20mm --thickness 4mm --direction along --pieces 2 --length 60cm --goods-width 90cm",
		},
		flags:  quickFlags(own...),
		action: strip,
	}
}

func strip(in *call) error {
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
	c.Direction, c.Hole = q.or("direction", "across"), q.or("hole", "machine")
	if c.Stand.Finished, err = q.measured("stand"); err != nil {
		return err
	}
	pieces, many, err := q.count("pieces")
	if err != nil {
		return err
	}
	shrink, err := q.percent("shrink")
	if err != nil {
		return err
	}
	length, long, err := q.length("length")
	if err != nil {
		return err
	}
	goods, wide, err := q.length("goods-width")
	if err != nil {
		return err
	}
	for _, f := range []struct {
		there bool
		name  string
	}{{many, "pieces"}, {long, "length"}, {wide, "goods-width"}} {
		if !f.there && (many || long || wide || q.has("shrink")) {
			e := usagef("what to buy follows from --pieces, --length and --goods-width together: --%s is missing", f.name)
			return e.write("--%s %s", f.name, q.cmd.flag(f.name).like())
		}
	}
	if wide {
		c.Over = append(c.Over, catalog.Layer{Name: "goods", Interfacing: &catalog.Interfacing{
			Width: catalog.Measured{V: goods, From: catalog.Given}, Shrink: catalog.Opt[float64]{V: shrink, From: catalog.Given},
		}})
	}
	g, err := q.garment(c)
	if err != nil {
		return err
	}
	p := rules.PlanOnly(g, "goods-narrow")
	k := &p.Closures[0]
	s, h := &k.Support, &k.Hole
	say := func(l measure.Length) string { return l.Text(q.unit) }
	least := func(l measure.Length) string { return l.TextLeast(q.unit) }

	a := &answer{head: "Cut the strip " + least(s.Strip) + " wide."}
	if h.Direction == "across" {
		a.rows = [][]string{
			{say(k.Stand.Have), "the stand, centre line to finished edge" + taken(!q.has("stand"), "the button's own width, taken since --stand is not given")},
			{"+ " + say(h.Inside), "the hole inside the centre line: " + h.Length.Short(q.unit) + " long, " + h.Beyond.Short(q.unit) + " of it beyond"},
			{"+ " + say(s.Least-k.Stand.Have-h.Inside), "past the hole at least = " + least(s.Least)},
			{"or " + say(s.Usual-k.Stand.Have-h.Inside), "as usual = " + least(s.Usual)},
		}
	} else {
		a.rows = [][]string{
			{say(h.Width), "width of the stitched hole"},
			{"+ 2 × " + say((s.Least-h.Width)/2), "at each side = " + least(s.Least)},
		}
		a.notes = append(a.notes, "It lies with its middle under the holes, along the edge.")
	}
	a.json = pairs{
		{"width_mm", sheet.MM(s.Strip)}, {"least_mm", sheet.MM(s.Least)}, {"usual_mm", sheet.MM(s.Usual)},
		{"direction", h.Direction}, {"units", q.unit.String()},
	}
	if !many {
		a.json = append(a.json, pair{"across", nil}, pair{"needed_mm", nil})
		return q.hand(a, p.Findings)
	}
	across, needed := plan.Strips(pieces, s.Strip, length, goods, shrink)
	if across > 0 {
		says := fmt.Sprintf("%d strips of %s lie side by side in goods %s wide", across, s.Strip.ShortLeast(q.unit), goods.Short(q.unit))
		if across == 1 {
			says = fmt.Sprintf("one strip of %s goes into goods %s wide", s.Strip.ShortLeast(q.unit), goods.Short(q.unit))
		}
		if shrink > 0 {
			says += fmt.Sprintf(", and %s is counted for shrinking", measure.Percent(shrink))
		}
		a.head = "Cut the strip " + least(s.Strip) + " wide, and buy " + least(needed) + " of interfacing."
		a.notes = append(a.notes, text.Capital(says)+".")
	}
	a.json = append(a.json, pair{"across", across}, pair{"needed_mm", sheet.MM(needed)})
	return q.hand(a, p.Findings)
}

// taken adds why a value was taken.
func taken(is bool, why string) string {
	if is {
		return " (" + why + ")"
	}
	return ""
}
