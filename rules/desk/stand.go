package desk

import (
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/sheet"
)

func standCommand() *command {
	return &command{
		name:  "stand",
		does:  "how wide a button stand and its band must be, and what to draft",
		about: "The stand runs from the centre line to the finished edge. Give --extension, what is already drafted from the centre line to the cut edge, to learn the band and stand it leaves; --stand alone to learn the largest button that it carries; a zip with --use to learn the flap over it.",
		examples: []string{
			"stand --diameter 45L",
			"stand --diameter 1in --band 2in --turn-under 1/2in --cloth-thickness 2.4mm",
			"stand --diameter 1in --extension 3in --turn-under 1/2in",
			"stand --stand 1in",
			"stand --use coil-5-separating",
		},
		flags: quickFlags(slices.Concat(fastenerFlags(), []flag{
			{name: "construction", words: []string{"folded", "faced", "band"}, doc: "a band folded back on itself, a faced edge, or a band sewn on", first: "an edge of its own width; folded with --turn-under"},
			lengthFlagOf("stand", 400*mm, "1in", "centre line to finished edge, as it is"),
			lengthFlagOf("band", 300*mm, "2in", "finished width of the band"),
			orZero(lengthFlagOf("turn-under", 100*mm, "1/2in", "turned under at the inside edge of a folded band")),
			lengthFlagOf("extension", 600*mm, "3in", "drafted from the centre line to the cut edge"),
			orZero(lengthFlagOf("seam", 100*mm, "5/8in", "seam allowance of a faced edge or a band sewn on")),
			lengthFlagOf("facing", 600*mm, "3in", "how far the facing reaches inside the centre line"),
		})...),
		action: stand,
	}
}

// putStand writes how the edge is made.
func (q *quick) putStand() error {
	construction := q.text("construction")
	if construction == "" && q.has("turn-under") {
		construction = "folded"
	}
	has := func(name string) bool { return q.has(name) }
	switch {
	case construction != "folded" && has("turn-under"):
		return usagef("--turn-under belongs to a folded band").write("--construction folded")
	case construction == "folded" && has("seam"):
		return usagef("--seam belongs to a faced edge or a band sewn on; a folded band has a turn-under").write("--turn-under %s", q.text("seam"))
	case construction == "band" && has("extension"):
		return usagef("a band sewn on has no extension, it is cut apart; --band is its finished width").write("--construction faced")
	}
	if construction != "" {
		q.put("stand.construction", construction, "--construction", "--turn-under")
	}
	if err := q.putLengths(map[string]string{
		"stand": "stand.finished", "band": "stand.band", "turn-under": "stand.turn_under", "extension": "stand.extension",
		"seam": "stand.seam", "facing": "stand.facing",
	}); err != nil {
		return err
	}
	ext, _, err := q.length("extension")
	if err != nil || ext == 0 {
		return err
	}
	for _, name := range []string{"turn-under", "seam"} {
		if l, there, _ := q.length(name); there && l >= ext {
			return usagef("--%s %s leaves nothing of --extension %s", name, q.text(name), q.text("extension"))
		}
	}
	return nil
}

func stand(in *call) error {
	q, err := startQuick(in)
	if err != nil {
		return err
	}
	cat, err := q.catalog()
	if err != nil {
		return err
	}
	if n := cat.Notion(q.text("use")); n != nil && n.Kind == catalog.Zip {
		return q.flapOver()
	}
	onlyStand := q.has("stand")
	for _, g := range q.line.given {
		switch g.name {
		case "stand", "units", "format", "out", "catalog":
		default:
			onlyStand = false
		}
	}
	if onlyStand {
		return q.standHolds()
	}
	f, err := q.putFastener(true)
	if err != nil {
		return err
	}
	if err := q.putStand(); err != nil {
		return err
	}
	q.notes, q.says = []string{"stand-narrow"}, []string{"stand-drafted"}
	p, err := q.plan()
	if err != nil {
		return err
	}
	k := &p.Closures[0]
	st, u := &k.Stand, p.Garment.Units
	least := func(l measure.Length) string { return l.TextLeast(u) }

	a := &answer{head: "Make the stand " + least(st.Have) + " wide, centre line to finished edge."}
	if st.Known {
		a.head = "The stand comes to " + st.Have.TextMost(u) + ", centre line to finished edge."
	}
	rim, quarter := standSums(u)
	if st.Lost {
		a.head = "Nothing is left of the stand: what is given leaves no cloth beyond the centre line."
	}
	toggle := plan.ShapeOf(&k.Closure.Notion).Kind == "toggle"
	rows := [][]string{
		{"least", least(st.Least), "half the button + " + rim + ": below it the rim hangs over the edge"},
		{"usual", least(st.Usual), "half the button + " + quarter + ", and not under 3/4 of it"},
		{"full", least(st.Full), "the whole button"},
	}
	if toggle {
		rows[0][2], rows[1][2] = "its shorter end + "+rim, "its shorter end + "+quarter
		rows = rows[:2]
	}
	if a.rows = rows; !st.Lost {
		a.rows = append(a.rows, q.bandRows(k, u)...)
	}
	if h := &k.Hole; h.Needed && h.Kind != "loop" && st.FacingUsual > 0 {
		a.rows = append(a.rows, []string{"facing", least(st.FacingUsual), "inside the centre line, past the hole; at least " + st.FacingLeast.ShortLeast(u)})
	}
	a.estimates(f.guess(u), sold(&k.Closure.Notion, u), q.stackSays(k))
	if st.Construction == "folded" && len(k.Over.Layers) == 0 {
		a.say("Give --cloth-thickness: every fold takes up as much, which counts in thick cloth.")
	}
	folded, err := q.foldedToo(k)
	if err != nil {
		return err
	}
	if folded != nil {
		a.rows = append(a.rows, []string{"or folded", folded.Band.TextLeast(u), "a band folded back on itself: draft " + folded.Extension.ShortLeast(u) + " to the cut edge, turn-under and folds not counted"})
	}
	construction := any(nil)
	if st.Construction != "" {
		construction = st.Construction
	}
	extension, band := maybe(st.Extension), maybe(st.Band)
	if folded != nil {
		band = sheet.MM(folded.Band) // without any, it is twice the full stand
	}
	if st.Construction == "band" {
		extension = nil
	}
	have := any(sheet.MM(st.Have))
	if st.Lost {
		have, extension, band = nil, nil, nil
	}
	a.json = pairs{
		{"least_mm", sheet.MM(st.Least)}, {"usual_mm", sheet.MM(st.Usual)}, {"full_mm", sheet.MM(st.Full)},
		{"have_mm", have}, {"known", st.Known}, {"construction", construction},
		{"band_mm", band}, {"band_cut_mm", maybe(st.BandCut)}, {"extension_mm", extension},
		{"facing_least_mm", sheet.MM(st.FacingLeast)}, {"facing_usual_mm", sheet.MM(st.FacingUsual)}, {"units", u.String()},
	}
	if folded != nil {
		a.json = append(a.json, pair{"folded_extension_mm", sheet.MM(folded.Extension)})
	}
	a.next = q.again("buttonhole")
	if k.Hole.Kind == "loop" {
		a.next = q.again("loop")
	}
	return q.hand(a, p)
}

// foldedToo is the stand of the same garment with a folded band, where
// nothing was said of how the edge is made.
func (q *quick) foldedToo(k *plan.Closure) (*plan.Stand, error) {
	if k.Stand.Construction != "" || k.Stand.Known {
		return nil, nil
	}
	root := cloned(q.root).(map[string]any)
	setIn(root["closure"].([]map[string]any)[0], "stand.construction", "folded")
	g, err := q.read(root)
	if err != nil {
		return nil, err
	}
	return &rules.Plan(g).Closures[0].Stand, nil
}

// bandRows are what to make and to draft. What was worked out from a least is
// rounded up, and what is left of a given extension down.
func (q *quick) bandRows(k *plan.Closure, u measure.Unit) [][]string {
	st, s := &k.Stand, &k.Closure.Stand
	fits := func(l measure.Length, given catalog.Measured, left bool) string {
		switch {
		case given.Has():
			return l.Text(u)
		case left:
			return l.TextMost(u)
		}
		return l.TextLeast(u)
	}
	why := "twice the full stand"
	switch {
	case s.Band.Has():
		why = "as asked"
	case s.Finished.Has():
		why = "twice the stand"
	case s.Extension.Has():
		why = "what the extension leaves: two thirds of it, less turn-under and folds"
	case st.Full < st.Usual:
		why = "twice the usual stand"
	}
	switch st.Construction {
	case "folded":
		how := "half the band + the band"
		if st.TurnUnder > 0 {
			how += " + " + st.TurnUnder.Short(u) + " turned under"
		}
		if st.FoldLoss > 0 {
			how += " + " + st.FoldLoss.ShortThin(q.unit) + " for the " + folds(st.Folds)
		}
		draft := "draft"
		if s.Extension.Has() {
			draft = "drafted"
		}
		return [][]string{
			{"band", fits(st.Band, s.Band, s.Extension.Has()), why},
			{draft, fits(st.Extension, s.Extension, false), "centre line to cut edge: " + how},
		}
	case "band":
		fold := ""
		if st.FoldLoss > 0 {
			fold = ", and " + st.FoldLoss.ShortThin(q.unit) + " for the fold"
		}
		return [][]string{
			{"band", fits(st.Band, s.Band, false), why},
			{"cut it", st.BandCut.TextLeast(u), "two widths, a seam allowance of " + st.Seam.Short(u) + " at each edge" + fold},
		}
	}
	return [][]string{{"draft", fits(st.Extension, s.Extension, false), "centre line to cut edge: the stand + " + st.Seam.Short(u) + " seam allowance"}}
}

// standHolds is the largest button for a stand.
func (q *quick) standHolds() error {
	l, err := q.need("stand")
	if err != nil {
		return err
	}
	full, usual, most := plan.StandHolds(l)
	if most <= 0 {
		return usagef("--stand %s carries no button: half of it and 3 mm must lie on it", q.text("stand"))
	}
	a := &answer{head: "Take a button of " + usual.TextMost(q.unit) + " at most on a stand of " + l.Text(q.unit) + "."}
	rim, quarter := standSums(q.unit)
	a.rows = [][]string{
		{"full", full.TextMost(q.unit), "the stand is the button's own width"},
		{"usual", usual.TextMost(q.unit), "half the button + " + quarter + ", and 3/4 of it, lie on the stand"},
		{"at most", most.TextMost(q.unit), "half the button + " + rim + ": a larger one hangs over the edge"},
	}
	if usual <= 0 {
		a.head = "Take a button of " + most.TextMost(q.unit) + " at most on a stand of " + l.Text(q.unit) + ", which is less than is usual for any."
		a.rows = a.rows[2:]
	}
	a.json = pairs{{"stand_mm", sheet.MM(l)}, {"diameter_mm", sheet.MM(usual)}, {"full_mm", sheet.MM(full)}, {"most_mm", sheet.MM(most)}, {"units", q.unit.String()}}
	a.next = "catalog --kind button"
	return q.hand(a, nil)
}

// flapOver is the flap or the fly over a zip.
func (q *quick) flapOver() error {
	use, err := q.named("use", entriesOf(catalog.Zip))
	if err != nil {
		return err
	}
	q.put("use", use, "--use")
	q.put("stand.construction", "fly")
	q.take("zip_length", "500 mm")
	if _, err := q.anyLayers(); err != nil {
		return err
	}
	p, err := q.plan()
	if err != nil {
		return err
	}
	z, u := &p.Closures[0].Zip, p.Garment.Units
	a := &answer{head: "Make the flap reach " + z.FlyUsual.TextLeast(u) + " past the middle of the teeth."}
	_, quarter := standSums(u)
	a.rows = [][]string{
		{"least", z.FlyLeast.TextLeast(u), "half the closed teeth + " + quarter},
		{"usual", z.FlyUsual.TextLeast(u), "past the tape, " + z.Tape.Short(u) + " wide"},
	}
	a.json = pairs{{"flap_least_mm", sheet.MM(z.FlyLeast)}, {"flap_usual_mm", sheet.MM(z.FlyUsual)}, {"tape_mm", maybe(z.Tape)}, {"units", u.String()}}
	a.next = "zip --opening 22in --use " + use
	return q.hand(a, p)
}

func folds(n int) string {
	switch n {
	case 1:
		return "fold"
	case 2:
		return "two folds"
	}
	return "three folds"
}

// standSums are what is added to half a button for the least and the usual
// stand, as the sources have them.
func standSums(u measure.Unit) (rim, quarter string) {
	return measure.Length(plan.RimClear).Short(u.Or(measure.MM)), (measure.Inch / 4).Short(u.Or(measure.In))
}
