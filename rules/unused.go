package rules

import (
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// unusedRules tell of what a closure says and nothing is done with.
var unusedRules = []*Rule{
	{
		Name: "key-unused", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a line that says nothing about this closure",
		Formula: "a buttonhole's keys belong to a fastener that goes through one, a loop's to a loop, a row's to fasteners set one by one, a zip's to a zip, and each part of a stand to its own construction",
		Why:     "A value that is not used looks as if it were: whoever changes it expects something to happen.",
		Sources: []string{"how the garment file is read"},
		Check: func(x *Context) {
			c := x.C
			kind, word := c.Notion.Kind, text.One(c.Notion.Kind)
			unused := func(given bool, key, why string, args ...any) {
				if given {
					args = append([]any{key}, args...)
					x.report(Note, x.at(key), Numbers{}, "%s is not used: "+why+"; take the line out, or change one of the two", args...).Line("%s is not used here: take the line out", key)
				}
			}
			h, s, r := &x.K.Hole, &c.Stand, &c.Run
			switch {
			case !h.Needed:
				const why = "a %s goes through no hole"
				unused(c.Hole != "", "hole", why, word)
				unused(c.HoleLen.Has(), "hole_length", why, word)
				unused(c.Rule != "", "hole_rule", why, word)
				unused(c.Centred.Has(), "hole_centred", why, word)
				unused(c.Sample.HoleLength.Has(), "measured.hole_length", why, word)
			case h.Kind == "loop":
				unused(c.Sample.HoleLength.Has(), "measured.hole_length", "the %s goes through a loop, which has its length in loop", word)
				unused(c.HoleLen.Has(), "hole_length", "the %s goes through a loop, which has its length in loop", word)
				unused(c.Direction == "along", "direction", "a loop lies across the edge")
				unused(c.Centred.Has(), "hole_centred", "a loop lies across the edge")
			default:
				unused(h.Sampled && c.Rule != "", "hole_rule", "the hole of your sample wins over every rule")
				unused(c.Loop.Has(), "loop", "the %s goes through a hole, not a loop", word)
				unused(c.Centred.Has() && h.Direction == "across", "hole_centred", "a hole across begins beyond the centre line")
			}
			if rows := c.Rows; !h.Needed || h.Kind == "loop" {
				const why = "the %s goes through no hole"
				unused(rows.Inner.Or(false), "rows.inner", why, word)
				unused(rows.ShowHoles.Or(false), "rows.show_holes", why, word)
			} else {
				unused(rows.ShowHoles.Or(false) && !rows.Working.Has(), "rows.show_holes", "every row buttons")
			}
			unused(c.Inset.Has() && !x.K.Loop.Needed, "inset", "the %s goes through no loop", word)
			unused(c.Inset.Has() && x.K.Loop.Needed && !x.K.Apart(), "inset", "the rows of a double-breasted front, or the inset of a flap, say where they are")
			if c.Flap.Has() && kind != catalog.Zip {
				const why = "a flap of its own has its width in [closure.flap]"
				unused(s.Finished.Has(), "stand.finished", why)
				unused(s.Extension.Has(), "stand.extension", why)
				unused(s.Band.Has(), "stand.band", why)
				unused(c.Lap != "" && c.Lap != "single", "lap", "a flap of its own lies over the opening")
			}
			if kind == catalog.Zip {
				const columns = "a zip has no columns; one that slants is told by its run, measured along the teeth"
				unused(c.Lap == "double", "lap", columns)
				unused(c.Rows.Distance.Has() || c.Rows.Top.Has() || c.Rows.Bottom.Has(), "rows", columns)
				const why = "a zip is not set one by one"
				unused(len(r.Count) > 0, "run.count", why)
				unused(r.GapMin.Has() || r.GapMax.Has() || r.GapAbout.Has(), "run.gap", why)
				unused(r.Step.Has(), "run.step", why)
				unused(len(r.Anchors) > 0, "run.anchor", why)
				unused(r.Match != "", "run.match", why)
			} else {
				unused(c.ZipLength.Has(), "zip_length", "the fastener is a %s", word)
			}
			for i := range s.Strips {
				name := s.Strips[i].Name
				if x.K.Support.Waits == "" && !slices.ContainsFunc(x.K.Support.Strips, func(y plan.Strip) bool { return y.Beside && y.Name == name }) {
					unused(true, "stand.strips", "%s is no second interfacing of this closure; of the first it is stand.strip", name)
				}
			}
			if faced := s.Construction == "faced" || s.Construction == "fly"; faced && s.Seam.Has() && s.Finished.Has() && s.Extension.Has() && s.Extension.V-s.Finished.V != s.Seam.V {
				why := "the cut edge is the finished edge"
				if more := s.Extension.V - s.Finished.V; more > 0 {
					why = "the cut edge lies " + more.Text(x.U) + " beyond the finished one"
				}
				unused(true, "stand.seam", "%s", why)
			}
			if s.Construction != "folded" {
				const why = "it belongs to a folded band"
				unused(s.Tuck.Has(), "stand.tuck", why)
				unused(s.Concealed.Has(), "stand.concealed", why)
			} else {
				unused(s.TurnUnder.Has() && (s.Tuck.Has() || s.Concealed.Or(false)), "stand.turn_under", "the raw edge lies inside the band")
				unused(s.Tuck.Has() && s.Concealed.Or(false), "stand.tuck", "a concealed band has its folds already")
			}
			unused(x.G.HemAt == "none" && r.Hem.Has(), "run.hem", "hem_at says that the run ends in the cloth")
			switch s.Construction {
			case "band":
				unused(s.Extension.Has(), "stand.extension", "a separate band is cut apart, from its own width")
				unused(s.TurnUnder.Has(), "stand.turn_under", "a separate band has a seam allowance")
				unused(s.StripFromEdge.Has(), "stand.strip_from_edge", "a separate band has no drafted edge to count from")
			case "folded":
				unused(s.Seam.Has() && h.Kind != "loop", "stand.seam", "a folded band has a turn-under")
			case "faced":
				unused(s.TurnUnder.Has(), "stand.turn_under", "a faced edge has a seam allowance")
			}
		},
	},
}
