package work

import (
	"fmt"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func (w *working) stand() {
	c, k := w.x.C, w.x.K
	if c.Notion.Kind == catalog.Zip {
		return
	}
	s, f := &k.Stand, &c.Stand
	d := plan.AcrossOf(&c.Notion)
	// From the last sum: what the file's drafting gives.
	says := fmt.Sprintf("%s %s across: least, half of it + 3 mm = %s; usual, the larger of half + %s and three quarters = %s; full, all of it = %s",
		c.Notion.Kind, w.s(d), w.s(s.Least), w.s(quarter), w.s(s.Usual), w.s(s.Full))
	if plan.ShapeOf(&c.Notion).Kind == "toggle" {
		says = fmt.Sprintf("the %s lies across, its shorter end %s towards the edge: least, + 3 mm = %s; usual, + %s = %s",
			c.Notion.Kind, w.s(s.Least-plan.RimClear), w.s(s.Least), w.s(quarter), w.s(s.Usual))
	}
	switch {
	case !s.Known && c.Lap == "edge":
		says = fmt.Sprintf("the edges meet; the %s lies %s inside its own", c.Notion.Kind, w.t(s.Have))
	case !s.Known && c.Edge.Has() && s.Have == c.Edge.V:
		says += fmt.Sprintf("; yours is %s, as edge says", w.t(s.Have))
	case !s.Known:
		what := "full"
		if s.Have > s.Full || s.Full == s.Usual {
			what = "usual"
		}
		says += fmt.Sprintf("; draft the %s stand, %s", what, w.t(s.Have))
	case c.Flap.Has():
		says += fmt.Sprintf("; from the line of its fasteners to the edge of the flap it is %s", w.t(s.Have))
	default:
		says += fmt.Sprintf("; yours is %s", w.t(s.Have))
	}
	st := w.say(TopicStand, "stand-narrow", "%s", says)
	if !s.Known {
		st.Default = w.set("stand.finished", "the stand")
	}
	shell := plan.ShellThickness(k)
	if s.Column > 0 {
		st.Says += fmt.Sprintf("; it is counted from the outer column, which stands %s from the centre line", w.s(s.Column))
	}
	drafted := s.Known && !f.Band.Has() && !f.Finished.Has() && f.Extension.Has()
	switch s.Construction {
	case "folded":
		folds := fmt.Sprintf("%d fold × %s of cloth", s.Folds, w.s(shell))
		if s.Folds > 1 {
			folds = fmt.Sprintf("%d folds × %s of cloth", s.Folds, w.s(shell))
		}
		turn := ""
		if s.TurnUnder > 0 {
			turn = " − turn-under " + w.s(s.TurnUnder)
		}
		if drafted {
			left := s.Extension - s.TurnUnder - s.FoldLoss
			st = w.say(TopicBand, "band-extension", "folded band: extension %s%s − %s = %s; two thirds of that is the band, %s; the stand is half the band, %s",
				w.s(s.Extension), turn, folds, w.s(left), w.t(s.Band), w.t(s.Have))
		} else {
			need := plan.Band{Width: s.Band, TurnUnder: s.TurnUnder, Cloth: shell}.Extension()
			st = w.say(TopicBand, "band-extension", "folded band: half the band %s + the band %s%s + %s = %s from the centre line to the cut edge",
				w.s(s.Band/2), w.s(s.Band), strings.Replace(turn, "−", "+", 1), folds, w.t(need))
			if !s.BandKnown {
				st.Default = w.set("stand.band", "the band's width, twice the full stand,")
			} else if f.Extension.Has() {
				st.Says += "; drafted is " + w.t(f.Extension.V)
			}
		}
		if !f.TurnUnder.Has() {
			st.Default = joinSemi(st.Default, w.set("stand.turn_under", "the turn-under"))
		}
	case "band":
		st = w.say(TopicBand, "stand-drafted", "separate band, %s finished: cut 2 × %s + 2 seam allowances of %s + one fold of %s = %s wide; the stand is half the band",
			w.t(s.Band), w.s(s.Band), w.s(s.Seam), w.s(shell), w.t(s.BandCut))
		if !s.BandKnown {
			st.Default = w.set("stand.band", "the band's width, twice the full stand,")
		}
		if !f.Seam.Has() {
			st.Default = joinSemi(st.Default, w.set("stand.seam", "the seam allowance, "+w.s(plan.UsualSeam)+","))
		}
	default:
		var parts []string
		if s.Column > 0 {
			parts = append(parts, "column "+w.s(s.Column))
		}
		parts = append(parts, "seam allowance "+w.s(s.Seam))
		if drafted {
			st = w.say(TopicBand, "stand-drafted", "extension %s − %s = finished stand %s", w.s(s.Extension), strings.Join(parts, " − "), w.t(s.Have))
		} else {
			st = w.say(TopicBand, "stand-drafted", "finished stand %s + %s = extension %s from the centre line to the cut edge", w.s(s.Have), strings.Join(parts, " + "), w.t(s.Have+s.Column+s.Seam))
			if f.Extension.Has() {
				st.Says += "; drafted is " + w.t(f.Extension.V)
			}
		}
		if !f.Seam.Has() {
			st.Default = w.set("stand.seam", "the seam allowance, "+w.s(plan.UsualSeam)+",")
		}
	}
	if f.Facing.Has() {
		says := fmt.Sprintf("the facing reaches %s inside the centre line", w.t(f.Facing.V))
		switch {
		case c.Lap == "double":
			says += fmt.Sprintf("; the buttons of the inner column end at %s, and %s more makes %s", w.s(s.FacingLeast), w.s(s.FacingUsual-s.FacingLeast), w.s(s.FacingUsual))
		case k.Hole.Needed && k.Hole.Direction == "across" && k.Hole.Kind != "loop":
			says += fmt.Sprintf("; the hole ends at %s, and %s more makes %s", w.s(k.Hole.Inside), w.s(quarter), w.s(k.Hole.Inside+quarter))
		}
		if s.FacingCut > 0 {
			says += fmt.Sprintf("; cut it %s + %s + seam allowance %s = %s wide", w.s(s.FacingCut-f.Facing.V-s.Seam), w.s(f.Facing.V), w.s(s.Seam), w.t(s.FacingCut))
		}
		w.say(TopicFacing, "facing-short", "%s", says)
	}
}

func (w *planner) cut() {
	for j, cl := range w.g.Cloths {
		if w.used(cl) && cl.Shrink.Or(0) > 0 {
			w.add(StageCut, "", "Shrink %s before cutting: it loses %s, %s in a yard (0.9 m).", w.g.ClothNames[j], rules.Percent(cl.Shrink.V), w.len(plan.ShrinkApart(measure.Yard, cl.Shrink.V, 0)))
		}
	}
	for i, in := range w.g.Interfacings {
		if w.supported(in) && in.Shrink.Or(0) > 0 {
			w.add(StageCut, "", "Shrink %s before cutting: it loses %s, %s in a yard (0.9 m).", w.g.InterfNames[i], rules.Percent(in.Shrink.V), w.len(plan.ShrinkApart(measure.Yard, in.Shrink.V, 0)))
		}
	}
	w.tell(StageCut, rules.TaskCut)
	w.each(func(i int, c *catalog.Closure, k *plan.Closure) {
		if cl := rules.Checked(w.g, c); cl != nil && plan.IsFront(c) {
			w.checks(c, cl)
		}
		s := &k.Stand
		if c.Notion.Kind != catalog.Zip && plan.IsFront(c) {
			switch s.Construction {
			case "folded":
				under := ""
				if s.TurnUnder > 0 {
					under = w.len(s.TurnUnder) + " turned under, "
				}
				w.add(StageCut, c.Name, "Cut the %s with %s beyond the centre line: a band of %s folded back, %s%s for the folds. Snip the fold lines top and bottom.", c.Name, w.len(s.Extension), w.len(s.Band), under, w.fine(s.FoldLoss))
			case "band":
				w.add(StageCut, c.Name, "Cut the bands of the %s %s wide, for %s finished with seams of %s.", c.Name, w.len(s.BandCut), w.len(s.Band), w.len(s.Seam))
			default:
				column := ""
				if d := s.Extension - s.Have - s.Seam; c.Lap == "double" && d > 0 {
					column = w.len(d) + " to the column, "
				}
				w.add(StageCut, c.Name, "Cut the %s with %s beyond the centre line: %sa stand of %s and a seam of %s. Snip the centre line top and bottom.", c.Name, w.len(s.Extension), column, w.len(s.Have), w.len(s.Seam))
			}
			if s.FacingCut > 0 {
				w.add(StageCut, c.Name, "Cut the facing of the %s %s wide.", c.Name, w.len(s.FacingCut))
			}
		}
		if rules.Turns(c) && rules.TurnOf(&k.Over) > 0 {
			w.add(StageCut, c.Name, "Cut the upper layer of the %s %s larger than the under one at the edges that roll.", c.Name, w.len(c.Turn.Or(rules.TurnOf(&k.Over).RoundNearest(plan.HoleStep(w.u)))))
		}
		if k.Support.Interfacing != nil {
			n := 0
			for _, z := range w.sizes {
				n = max(n, w.p.StripPieces(i, z).N)
			}
			if n > 0 {
				long, lines := w.sized(func(z int) string { return w.len(w.p.StripPieces(i, z).Length) })
				if long != "" {
					long = " and " + long + " long"
				} else {
					long += ", and as long as the run"
				}
				t := w.add(StageCut, c.Name, "Cut %s of %s for the %s, %s wide%s.", piecesOf(n, "strip"), w.interfacing(k.Support.Interfacing), c.Name, w.len(k.Support.Strip), long)
				t.Lines = lines
				t.use(plan.InterfacingID(w.g, k.Support.Interfacing))
				w.take(t, c.Name, rules.TaskShrink)
			}
		}
	})
}

func (w *planner) edge() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if c.Notion.Kind == catalog.Zip {
			w.zip(c, k)
			return
		}
		if rules.JoinedPiece(c) {
			return
		}
		w.bulk(StageEdge, c, k)
		if !k.StitchedEdge() {
			return
		}
		t, with := (*Task)(nil), fmt.Sprintf("needle %s, %s", k.Needle.Use, w.thread(c, plan.JobEdge))
		if s := &c.Stand; s.TopstitchInset.Has() {
			t = w.add(StageEdge, c.Name, "Baste the fold of the %s and top-stitch it %s from the edge, %s.", c.Name, w.len(s.TopstitchInset.V), with)
		} else {
			t = w.add(StageEdge, c.Name, "Baste the fold of the %s and stitch it %s from the edge, %s: %s does not hold a press.", c.Name, w.len(rules.UsualTopstitch(w.u)), with, w.g.NameOf(rules.Shell(c.Over)))
		}
		t.use(w.byMachine(c, plan.JobEdge)...).use(w.byHand(c, plan.JobBaste)...)
	})
}
