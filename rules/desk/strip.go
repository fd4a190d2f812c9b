package desk

import (
	"fmt"
	"slices"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
	"placketeer/rules/sheet"
)

func stripCommand() *command {
	return &command{
		name:  "strip",
		does:  "how wide an interfacing strip the holes need, and how much to buy",
		about: "The strip is measured from the finished edge inwards, past the inner ends of the holes. With --pieces, --length and --goods-width it also says how much to buy.",
		examples: []string{
			"strip --diameter 1in --thickness 1/8in --stand 1in",
			"strip --diameter 20mm --thickness 4mm --direction along --pieces 2 --length 60cm --goods-width 90cm",
		},
		flags: quickFlags(slices.Concat(fastenerFlags(), []flag{
			{name: "direction", words: []string{"across", "along"}, doc: "holes across the edge or along it", first: "across"},
			{name: "hole", words: []string{"machine", "keyhole", "bound", "hand"}, doc: "kind of hole", first: "machine"},
			lengthFlagOf("stand", 400*mm, "1in", "centre line to finished edge (otherwise the button's own width)"),
			{name: "pieces", kind: numberFlag, value: "N", doc: "strips to cut", lo: 1, hi: 10000, whole: true, hint: "2"},
			lengthFlagOf("length", 10*measure.Metre, "26in", "length of one strip"),
			lengthFlagOf("goods-width", 10*measure.Metre, "90cm", "width of the interfacing as it is sold"),
			{name: "shrink", value: "PERCENT", doc: "how much it shrinks, in percent", first: "0", lo: 0, hi: 40, hint: "2%"},
		})...),
		action: strip,
	}
}

// putGoods writes the interfacing to buy and how many strips of it, and says
// whether it was asked for.
func (q *quick) putGoods() (bool, error) {
	names := []string{"pieces", "length", "goods-width"}
	if !slices.ContainsFunc(append(names, "shrink"), q.has) {
		return false, nil
	}
	for _, n := range names {
		if !q.has(n) {
			e := usagef("what to buy follows from --pieces, --length and --goods-width together: --%s is missing", n)
			return false, e.write("--%s %s", n, q.cmd.flag(n).like())
		}
	}
	pieces, _, err := q.count("pieces")
	if err != nil {
		return false, err
	}
	shrink, err := q.percent("shrink")
	if err != nil {
		return false, err
	}
	q.put(".interfacing.goods", map[string]any{"weight": "60 g/m2", "thickness": "0.001 mm", "shrink": shrink})
	q.put("run.length", "1 m", "--length")
	if err := q.putLengths(map[string]string{"length": "run.length", "goods-width": ".interfacing.goods.width"}); err != nil {
		return false, err
	}
	q.taken = append(q.taken, "interfacing.goods.weight")
	layers, _ := q.closure["over"].([]string)
	q.put("under", append(slices.Clone(layers), "goods"))
	q.strips = pieces
	return true, nil
}

func strip(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	f, err := q.putFastener(true)
	if err != nil {
		return err
	}
	if !q.has("hole") {
		q.put("hole", "machine")
	}
	if !q.has("direction") {
		q.put("direction", "across")
	}
	q.putHole()
	if err := q.putLengths(map[string]string{"stand": "stand.finished"}); err != nil {
		return err
	}
	buys, err := q.putGoods()
	if err != nil {
		return err
	}
	q.says = []string{"stand-drafted"}
	p, err := q.plan()
	if err != nil {
		return err
	}
	k := &p.Closures[0]
	s, h, st, u := &k.Support, &k.Hole, &k.Stand, p.Garment.Units
	say := func(l measure.Length) string { return l.Text(u) }
	least := func(l measure.Length) string { return l.TextLeast(u) }

	a := &answer{head: "Cut the strip " + least(s.Strip) + " wide."}
	if h.Direction == "across" {
		a.rows = [][]string{
			{say(st.Have), "the stand, centre line to finished edge" + taken(!st.Known, "the button's own width, taken since --stand is not given")},
			{"+ " + say(h.Inside), "the hole inside the centre line: " + h.Length.ShortLeast(u) + " long, " + h.Beyond.Short(u) + " of it beyond"},
			{"+ " + say(plan.SupportLeast), "past the hole at least = " + least(s.Least)},
			{"or " + say(plan.SupportUsual), "as usual = " + least(s.Usual)},
		}
	} else {
		a.rows = [][]string{
			{say(h.Width), "width of the stitched hole"},
			{"+ 2 × " + say(plan.SupportLeast), "at each side = " + least(s.Least)},
		}
		a.say("It lies with its middle under the holes, along the edge.")
	}
	a.estimates(f.guess(u), sold(&k.Closure.Notion, u), q.stackSays(k))
	a.json = pairs{
		{"width_mm", sheet.MM(s.Strip)}, {"least_mm", sheet.MM(s.Least)}, {"usual_mm", sheet.MM(s.Usual)},
		{"direction", h.Direction}, {"units", u.String()},
	}
	across, needed := any(nil), any(nil)
	if buys {
		n, l := k.Support.Buy(q.strips)
		across, needed = n, sheet.MM(l)
		if n > 0 {
			says := fmt.Sprintf("%d strips of %s lie side by side in goods %s wide", n, s.Strip.ShortLeast(u), s.Interfacing.Width.V.Short(u))
			if n == 1 {
				says = fmt.Sprintf("one strip of %s goes into goods %s wide", s.Strip.ShortLeast(u), s.Interfacing.Width.V.Short(u))
			}
			if shrink := s.Interfacing.Shrink.Or(0); shrink > 0 {
				says += fmt.Sprintf(", and %s is counted for shrinking", measure.Percent(shrink))
			}
			a.head = "Cut the strip " + least(s.Strip) + " wide, and buy " + least(l) + " of interfacing."
			a.say(text.Capital(says) + ".")
		}
	}
	a.json = append(a.json, pair{"across", across}, pair{"needed_mm", needed})
	a.next = q.again("stand")
	return q.hand(a, p)
}

// taken adds why a value was taken.
func taken(is bool, why string) string {
	if is {
		return " (" + why + ")"
	}
	return ""
}
