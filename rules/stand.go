package rules

import (
	"placketeer/catalog"
	"placketeer/rules/plan"
)

var standRules = []*Rule{
	{
		Name: "stand-narrow", Severity: Conflict,
		Task:  NoTask,
		Reads: ReadsNotion,
		Room: func(x *Context) Numbers {
			if s := &x.K.Stand; s.Known && x.C.Notion.Kind != catalog.Zip {
				return atLeast(s.Have, s.Least)
			}
			return Numbers{}
		},
		Title:   "the stand must carry the fastener",
		Formula: "least: D/2 + 3 mm (below it: conflict); usual: the larger of D/2 + 1/4 in and 3/4 D (below it: caution); full: D (below it: note)",
		Why:     "On a stand that is too narrow the rim hangs over the edge, the front gapes, and the hole tears.",
		Sources: []string{
			"Sew Today, 2019, placing buttons and buttonholes: rim at least 3 mm inside the finished edge",
			"household machine manuals: stand at least 3/4 of the diameter, and between 3/4 and the whole of it",
			"sewing and design professionals' standards, p. 24: half the button + 1/4 in",
			"R. Carr, Couture, as quoted, and trade pattern makers: stand = diameter",
		},
		Check: func(x *Context) {
			s := &x.K.Stand
			if !s.Known || x.C.Notion.Kind == catalog.Zip {
				return
			}
			what := x.C.Notion.Kind
			guess := x.guessFolds()
			switch {
			case s.Have < s.Least:
				have, need := x.Apart(s.Have, s.Least)
				x.report(Conflict, whole(s.From), atLeast(s.Have, s.Least).on(plan.AcrossBasis(x.C).Scaled(0.5), plan.StandBasis(x.C, x.K)),
					"the stand comes to %s%s, but this %s needs at least %s: widen the stand or take a smaller one", have, guess, what, need)
			case s.Have < s.Usual:
				have, need := x.Apart(s.Have, s.Usual)
				x.report(Caution, whole(s.From), atLeast(s.Have, s.Usual),
					"the stand comes to %s%s, under the usual %s for this %s: pin a sample to see whether the edge hides it", have, guess, need, what)
			case s.Have < s.Full:
				have, need := x.Apart(s.Have, s.Full)
				x.report(Note, whole(s.From), atLeast(s.Have, s.Full), "the stand, %s%s, is usual; the trade's full stand is %s, the fastener's own width", have, guess, need)
			}
		},
		Propose: func(x *Context, f *Finding) []Change {
			if f.Severity == Conflict {
				return append(proposeStand(x, f), proposeFitting(x, 0, x.K.Stand.Have)...)
			}
			return append(proposeStand(x, f), proposeSmaller(x, f)...)
		},
	},
	{
		Name: "band-extension", Severity: Conflict,
		Task:    NoTask,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "a folded band needs enough cloth beyond the centre line",
		Formula: "extension = band/2 + band + turn-under + one cloth thickness for each fold",
		Why:     "Thick cloth uses up its own thickness at every fold: a band drafted without it comes out narrower, or will not fold at all.",
		Sources: []string{
			"cut-on band 3 cm wide: 1.5 + 3 + 3 = 7.5 cm beyond the centre, sewing teacher's tutorial, 2011",
			"geometry of a fold: about one thickness a fold",
		},
		Check: func(x *Context) {
			s, f := &x.K.Stand, &x.C.Stand
			if s.Construction != "folded" || !f.Extension.Has() {
				return
			}
			if s.Band <= 0 {
				need := plan.Band{Width: 2 * s.Full, TurnUnder: s.TurnUnder, Cloth: plan.ShellThickness(x.K)}.Extension()
				x.report(Conflict, whole(s.From), atLeast(f.Extension.V, need).on(plan.FoldBasis(x.K)),
					"the turn-under and the folds%s use up the whole extension, %s: draft %s", x.guessShell(), x.say(f.Extension.V), x.say(need))
				return
			}
			if !f.Band.Has() && !f.Finished.Has() {
				return
			}
			need := plan.Band{Width: s.Band, TurnUnder: s.TurnUnder, Cloth: plan.ShellThickness(x.K)}.Extension()
			if f.Extension.V < need-plan.HoleStep(x.U)/2 {
				have, want := x.Apart(f.Extension.V, need)
				x.report(Conflict, x.at("stand.extension"), atLeast(f.Extension.V, need).on(plan.FoldBasis(x.K), plan.BasisOf(f.Extension, x.key("stand.extension"))),
					"a band %s wide needs %s beyond the centre line (half the band, the band, %s turned under, %s for the folds%s), but %s is drafted: draft more or make the band %s",
					x.say(s.Band), want, x.say(s.TurnUnder), x.sayThin(s.FoldLoss), x.guessShell(), have, x.say(plan.BandFrom(f.Extension.V, s.TurnUnder, plan.ShellThickness(x.K)).Width))
			}
		},
		Propose: func(x *Context, f *Finding) []Change {
			s := &x.K.Stand
			need := plan.Band{Width: max(s.Band, 2*s.Least), TurnUnder: s.TurnUnder, Cloth: plan.ShellThickness(x.K)}.Extension().RoundUp(plan.HoleStep(x.U))
			out := []Change{{
				With: []string{x.key("stand.extension") + "=" + need.Exact(x.U)},
				Says: "draft " + x.len(need) + " beyond the centre line", Cost: (need - x.C.Stand.Extension.V).MM(),
			}}
			if x.C.Stand.Band.Has() {
				b := plan.BandFrom(x.C.Stand.Extension.V, s.TurnUnder, plan.ShellThickness(x.K)).Width.RoundDown(plan.HoleStep(x.U))
				if b > 0 {
					out = append(out, Change{
						With: []string{x.key("stand.band") + "=" + b.Exact(x.U)},
						Says: "make the band " + x.len(b), Cost: (s.Band - b).MM(),
					})
				}
			}
			return out
		},
	},
	{
		Name: "band-hole", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a hole across a folded or separate band must stay on it",
		Formula: "hole length − 1/8 in + 1/4 in ≤ half the band, for a hole across",
		Why:     "The inner end of the hole would run over the edge of the doubled cloth, where the thickness changes and the machine stalls.",
		Sources: []string{
			"reader's answer to a trade pattern maker: at least 1/4 in of band beyond each end of a buttonhole",
			"Extension Bulletin 576, 1965: hole begins 1/8 in beyond the centre line",
		},
		Check: func(x *Context) {
			s, h := &x.K.Stand, &x.K.Hole
			if (s.Construction != "folded" && s.Construction != "band") || !h.Needed || h.Direction != "across" || h.Kind == "loop" {
				return
			}
			if need := h.Inside + quarter; s.Band/2 < need {
				have, want := x.Apart(s.Band/2, need)
				x.report(Caution, whole(s.From), atLeast(s.Band/2, need),
					"the hole runs %s inside the centre line but the band reaches only %s; make the band wider or set the holes along it", want, have)
			}
		},
		Propose: func(x *Context, f *Finding) []Change {
			return []Change{{With: []string{x.key("direction") + "=along"}, Says: "set the holes along the band", Cost: 10}}
		},
	},
	{
		Name: "facing-short", Severity: Conflict,
		Task:  NoTask,
		Reads: ReadsNotion | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			f, h := &x.C.Stand, &x.K.Hole
			if !f.Facing.Has() || !h.Needed || h.Direction != "across" || h.Kind == "loop" || x.C.Lap == "double" {
				return Numbers{}
			}
			return atLeast(f.Facing.V, h.Inside)
		},
		Title:   "the hole must end on the facing",
		Formula: "facing inside the centre line ≥ hole length − 1/8 in + 1/4 in, for a hole across",
		Why:     "A hole that runs past the facing goes through one layer less at its end, and its end tears.",
		Sources: []string{
			"The New Dressmaker, Butterick, 1921, p. 61: a coat's facing reaches about 3 in inside the centre line",
			"reader's answer to a trade pattern maker: at least 1/4 in beyond each end of a buttonhole",
		},
		Check: func(x *Context) {
			f, h := &x.C.Stand, &x.K.Hole
			if !f.Facing.Has() || !h.Needed || h.Direction != "across" || h.Kind == "loop" {
				return
			}
			if x.C.Lap == "double" {
				return // the facing reaches far inside the outer column
			}
			need := h.Inside + quarter
			switch {
			case f.Facing.V < h.Inside:
				have, want := x.Apart(f.Facing.V, h.Inside)
				x.report(Conflict, x.at("stand.facing"), atLeast(f.Facing.V, need), "the facing reaches %s inside the centre line, but the hole ends at %s: make the facing at least %s", have, want, x.say(need))
			case f.Facing.V < need:
				have, want := x.Apart(f.Facing.V, need)
				x.report(Caution, x.at("stand.facing"), atLeast(f.Facing.V, need), "the facing reaches %s inside the centre line; %s leaves 1/4 in beyond the hole", have, want)
			}
		},
		Propose: func(x *Context, f *Finding) []Change {
			need := (x.K.Hole.Inside + quarter).RoundUp(plan.HoleStep(x.U))
			return []Change{{With: []string{x.key("stand.facing") + "=" + need.Exact(x.U)}, Says: "make the facing reach " + x.len(need), Cost: (need - x.C.Stand.Facing.V).MM()}}
		},
	},
	{
		Name: "stand-drafted", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "what to draft where the garment does not say",
		Formula: "finished stand = D, or the usual stand where a small fastener needs more; extension by the construction",
		Why:     "The stand belongs on the pattern before the cloth is cut.",
		Sources: []string{"R. Carr, Couture, as quoted, and trade pattern makers: stand = diameter"},
		Check: func(x *Context) {
			s := &x.K.Stand
			if s.Known || x.C.Notion.Kind == catalog.Zip || x.C.Where != "" && x.C.Where != "front" {
				return
			}
			if s.Construction == "" {
				x.report(Note, x.at(""), Numbers{}, "no stand is given: draft %s from the centre line to the finished edge, %s (at least %s)", x.say(s.Have.RoundUp(plan.HoleStep(x.U))), standWhy(s), x.say(s.Least.RoundUp(plan.HoleStep(x.U))))
				return
			}
			x.report(Note, x.at("stand"), Numbers{}, "no width is given: draft %s from the centre line to the cut edge for a stand of %s", x.say(s.Extension.RoundUp(plan.HoleStep(x.U))), x.say(s.Have))
		},
	},
}

// why says what the drafted stand is.
func standWhy(s *plan.Stand) string {
	if s.Have > s.Full {
		return "the usual stand of so small a fastener"
	}
	return "the fastener's own width"
}

// guessShell marks a number that hangs on the thickness of the outermost
// cloth, where that is an estimate.
func (x *Context) guessShell() string {
	for _, l := range x.K.Over.Layers {
		if l.Layer.Cloth != nil {
			if l.Estimated {
				return " by estimate"
			}
			break
		}
	}
	return ""
}

// guessFolds is guessShell for a stand worked out from a folded extension.
func (x *Context) guessFolds() string {
	if x.K.Stand.Construction == "folded" && x.K.Stand.From == x.path("stand.extension") {
		return x.guessShell()
	}
	return ""
}
