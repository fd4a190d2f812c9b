package desk

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/sheet"
)

func standCommand() *command {
	return &command{
		name:  "stand",
		does:  "how wide a button stand and its band must be, and what to draft",
		about: "The stand runs from the centre line to the finished edge. Give --extension, what is already drafted from the centre line to the cut edge, to learn the band and stand it leaves.",
		examples: []string{
			"stand --diameter 45L",
			"stand --diameter 1in --band 2in --turn-under 1/2in --cloth-thickness 2.4mm",
			"stand --diameter 1in --extension 3in --turn-under 1/2in",
		},
		flags: quickFlags(
			lengthFlagOf("diameter", 120*mm, "45L", "the widest way across the button"),
			flag{name: "construction", words: []string{"folded", "faced", "band"}, doc: "a band folded back on itself, a faced edge, or a band sewn on", first: "folded"},
			lengthFlagOf("band", 300*mm, "2in", "finished width of the band"),
			orZero(lengthFlagOf("turn-under", 100*mm, "1/2in", "turned under at the inside edge of a folded band")),
			lengthFlagOf("cloth-thickness", 50*mm, "2.4mm", "one layer of the cloth: each fold takes as much"),
			lengthFlagOf("extension", 600*mm, "3in", "drafted from the centre line to the cut edge"),
			orZero(lengthFlagOf("seam", 100*mm, "5/8in", "seam allowance of a faced edge or a band sewn on")),
		),
		action: stand,
	}
}

func stand(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	var c catalog.Closure
	var cloth catalog.Measured
	s := &c.Stand
	s.Construction = q.or("construction", "folded")
	if err := q.set(map[string]*catalog.Measured{
		"diameter": &c.Notion.Diameter, "band": &s.Band, "turn-under": &s.TurnUnder, "cloth-thickness": &cloth,
		"extension": &s.Extension, "seam": &s.Seam,
	}); err != nil {
		return err
	}
	if !c.Notion.Diameter.Has() {
		_, err := q.need("diameter")
		return err
	}
	switch {
	case s.Construction != "folded" && q.has("turn-under"):
		return usagef("--turn-under belongs to a folded band").write("--construction folded")
	case s.Construction == "folded" && q.has("seam"):
		return usagef("--seam belongs to a faced edge or a band sewn on; a folded band has a turn-under").write("--turn-under %s", q.text("seam"))
	case s.Construction == "band" && q.has("extension"):
		return usagef("a band sewn on has no extension, it is cut apart").write("--band, its finished width")
	case s.Construction == "folded" && s.Extension.Has() && s.TurnUnder.V >= s.Extension.V:
		return usagef("--turn-under %s leaves nothing of --extension %s", q.text("turn-under"), q.text("extension"))
	case s.Construction == "faced" && s.Extension.Has() && s.Seam.V >= s.Extension.V:
		return usagef("--seam %s leaves nothing of --extension %s", q.text("seam"), q.text("extension"))
	}
	c.Over = layer(cloth.V)
	g, err := q.garment(c)
	if err != nil {
		return err
	}
	p := rules.PlanOnly(g, "stand-narrow", "band-extension")
	k := &p.Closures[0]
	st := &k.Stand
	say := func(l measure.Length) string { return l.Text(q.unit) }
	least := func(l measure.Length) string { return l.TextLeast(q.unit) }
	// make says what to make: computed up to the mark, what was given to the
	// nearest.
	make := func(l measure.Length, given bool) string {
		if given {
			return say(l)
		}
		return least(l)
	}

	a := &answer{head: "Make the stand " + least(st.Have) + " wide, centre line to finished edge."}
	if st.Known {
		a.head = "The stand comes to " + say(st.Have) + ", centre line to finished edge."
	}
	a.rows = [][]string{
		{"least", least(st.Least), "half the button + 3 mm: below it the rim hangs over the edge"},
		{"usual", least(st.Usual), "half the button + 1/4 in, and not under 3/4 of it"},
		{"full", least(st.Full), "the whole button"},
	}
	a.json = pairs{
		{"least_mm", sheet.MM(st.Least)}, {"usual_mm", sheet.MM(st.Usual)}, {"full_mm", sheet.MM(st.Full)},
		{"have_mm", sheet.MM(st.Have)}, {"construction", s.Construction},
	}
	band, ext := any(nil), any(nil)
	switch s.Construction {
	case "folded":
		band, ext = sheet.MM(st.Band), sheet.MM(st.Extension)
		why := "twice the full stand"
		switch {
		case s.Band.Has():
			why = "as asked"
		case s.Extension.Has():
			why = "what the extension leaves: two thirds of it, less turn-under and folds"
		}
		draft := "draft"
		if s.Extension.Has() {
			draft = "drafted"
		}
		how := "half the band + the band"
		if st.TurnUnder > 0 {
			how += " + " + st.TurnUnder.Short(q.unit) + " turned under"
		}
		if cloth.Has() {
			how += " + " + st.FoldLoss.ShortThin() + " for the " + folds(st.Folds)
		} else {
			a.notes = append(a.notes, "Give --cloth-thickness: every fold takes up as much, which counts in thick cloth.")
		}
		a.rows = append(a.rows, []string{"band", make(st.Band, s.Band.Has() || s.Extension.Has()), why}, []string{draft, make(st.Extension, s.Extension.Has()), "centre line to cut edge: " + how})
	case "band":
		band = sheet.MM(st.Band)
		why := "twice the full stand"
		if s.Band.Has() {
			why = "as asked"
		}
		a.rows = append(a.rows, []string{"band", make(st.Band, s.Band.Has()), why}, []string{"cut it", least(st.BandCut), "two widths, a seam allowance of " + st.Seam.Short(q.unit) + " at each edge" + forFold(cloth.Has())})
		a.json = append(a.json, pair{"band_cut_mm", sheet.MM(st.BandCut)})
	default:
		ext = sheet.MM(st.Extension)
		if s.Band.Has() {
			band = sheet.MM(s.Band.V)
		}
		a.rows = append(a.rows, []string{"draft", make(st.Extension, s.Extension.Has()), "centre line to cut edge: the stand + " + st.Seam.Short(q.unit) + " seam allowance"})
	}
	a.json = append(a.json, pair{"band_mm", band}, pair{"extension_mm", ext}, pair{"units", q.unit.String()})
	return q.hand(a, p.Findings)
}

func folds(n int) string {
	if n == 1 {
		return "fold"
	}
	return "two folds"
}

func forFold(known bool) string {
	if known {
		return ", and one cloth thickness for the fold"
	}
	return ""
}
