package desk

import (
	"fmt"
	"slices"

	"placketeer/catalog"
	"placketeer/rules/sheet"
)

func zipCommand() *command {
	return &command{
		name:  "zip",
		does:  "how long a zip to buy, and where to shorten it",
		about: "Gives the zip for a finished opening: the next length sold, how much to take off and at which end. Without --use no lengths are known, and it gives the length that the opening takes.",
		examples: []string{
			"zip --opening 22in --use coil-5-separating",
			"zip --opening 60cm --number 5 --end closed --cloth melton",
		},
		flags: quickFlags(slices.Concat([]flag{
			lengthFlagOf("opening", 3000*mm, "22in", "the finished opening, neck edge to its lower end"),
			{name: "use", value: "NAME", doc: "a zip of the catalogue", hint: "coil-5-separating"},
			{name: "number", kind: numberFlag, value: "N", doc: "the zip's number", first: "5", lo: 1, hi: 30, hint: "5"},
			{name: "end", words: []string{"separating", "two-way", "closed"}, doc: "how it ends", first: "separating"},
			orZero(lengthFlagOf("top", 500*mm, "1/2in", "top stop below the neck edge (otherwise 1/2 in; none of a pocket or cuff, and of 8 in or less where nothing is said)")),
			lengthFlagOf("length", 3000*mm, "22in", "the length you mean to buy: it is checked"),
			lengthFlagOf("over", 100*mm, "5mm", "thickness of all layers that it is sewn to"),
			{name: "where", words: []string{"front", "pocket", "cuff", "fly"}, doc: "what it closes", first: "front"},
		}, layersFlags("cloth-thickness"))...),
		action: zipLength,
	}
}

func zipLength(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	if !q.has("opening") {
		return q.missing("opening")
	}
	q.own(map[string]any{})
	if err := q.putLengths(map[string]string{"opening": "run.length", "top": "run.first", "length": "zip_length"}); err != nil {
		return err
	}
	use, err := q.named("use", entriesOf(catalog.Zip))
	if err != nil {
		return err
	}
	if use != "" {
		for _, n := range []string{"number", "end"} {
			if q.has(n) {
				return usagef("--use says the zip's number and how it ends: --%s does not go with it", n)
			}
		}
		q.put("use", use, "--use")
	} else {
		n, there, err := q.count("number")
		if err != nil {
			return err
		}
		if !there {
			n = 5
		}
		q.put("fastener", catalog.Zip)
		q.put("notion.number", n, "--number")
		q.put("notion.opening", q.or("end", "separating"), "--end")
	}
	if s := q.text("where"); s != "" {
		q.put("where", s, "--where")
	}
	cloth, err := q.anyLayers()
	if err != nil {
		return err
	}
	q.notes = []string{"zip-sold", "zip-opening", "zip-use"}
	p, err := q.plan()
	if err != nil {
		return err
	}
	z, u := &p.Closures[0].Zip, p.Garment.Units
	s := &z.Sizes[0]
	a := &answer{head: "Buy a zip of " + s.Buy.TextLeast(u) + "."}
	switch {
	case s.Buy == 0:
		a.head = fmt.Sprintf("No %s is sold long enough: the longest is %s.", use, s.Longest.TextMost(u))
	case s.Shorten > 0:
		a.head = "Buy a zip of " + s.Buy.Text(u) + ", and take " + s.Shorten.Text(u) + " off at the " + z.End + "."
	}
	a.rows = [][]string{{"opening", p.Closures[0].Closure.Run.Length.At(0).V.Text(u)}}
	if s.Top > 0 {
		a.rows = append(a.rows, []string{"top", s.Top.Text(u) + " left free above the top stop"})
	}
	a.rows = append(a.rows, []string{"takes", s.Need.TextLeast(u)})
	if use != "" && len(p.Closures[0].Closure.Notion.Lengths) == 0 {
		a.say("The catalogue lists no lengths that " + use + " is sold in.")
	}
	if s.Shorten > 0 {
		if z.End == "top" {
			a.say("Never shorten it at the pin and box.")
		}
		a.say("New stops go where the teeth now end.")
	}
	if cloth {
		a.rows = append(a.rows, []string{"number", fmt.Sprintf("%g is this one; %g to %g are usual for the cloth", z.Number, z.NumberMin, min(z.NumberMax, 10))})
	}
	a.json = pairs{
		{"need_mm", sheet.MM(s.Need)}, {"buy_mm", sheet.MM(s.Buy)}, {"shorten_mm", sheet.MM(s.Shorten)}, {"end", z.End}, {"top_mm", sheet.MM(s.Top)},
		{"longest_mm", maybe(s.Longest)}, {"number", z.Number}, {"number_min", z.NumberMin}, {"number_max", z.NumberMax}, {"units", u.String()},
	}
	a.next = "stand --use coil-5-separating"
	if use != "" {
		a.next = "stand --use " + use
	}
	return q.hand(a, p)
}
