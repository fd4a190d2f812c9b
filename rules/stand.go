package rules

import (
	"math"
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
	"slices"
)

var standRules = []*Rule{
	{
		Name: "stand-narrow", Severity: Conflict,
		Rests: []string{"closure.*.flap", "closure.*.lap", "closure.*.notion", "closure.*.rows", "closure.*.stand", "cloth.*.thickness"},
		Task:  NoTask,
		Reads: ReadsNotion | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			if s := &x.K.Stand; s.Known && x.C.Notion.Kind != catalog.Zip {
				return x.standNumbers()
			}
			return Numbers{}
		},
		Title:   "the stand must carry the fastener",
		Figure:  "stand",
		Formula: "least: D/2 + {rim} (below it: conflict); usual: the larger of D/2 + {usual rim} and {usual share} of D (below it: caution); full: D (below it: note). A toggle lies across: its shorter end in the place of D/2, + {usual rim} usual. A flap of its own: from the line of its fasteners to its edge",
		Why:     "On a stand that is too narrow the rim hangs over the edge, the front gapes, and the hole tears.",
		Limits:  []plan.Threshold{plan.RimLimit, plan.StandRimLimit, plan.StandShareLimit},
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
			case s.Lost && s.Column > 0: // the column lies on the edge or beyond it
				edge, column := x.Apart(s.Column-s.Past, s.Column)
				where := x.later(func(*Context) string {
					if s.Past == 0 {
						return ", on the finished edge"
					}
					return ", but the finished edge lies only " + edge.String() + " from it"
				})
				draw := x.widen(s.Least)
				if draw[0].before == "make it " {
					draw[0].before = "draw the edge "
				}
				x.report(Conflict, whole(s.From), x.standNumbers().on(plan.StandNeedBasis(x.C), plan.StandBasis(x.C, x.K), plan.ColumnBasis(x.C)),
					"the columns stand %s from the centre line%s%s; outside them this %s needs a stand of at least %s%s: %s, or set the columns nearer", column, where, guess, what, x.Least(s.Least), x.usually(), draw).Line("the column, %s out, lies on the edge or beyond it", x.say(s.Column))
			case s.Lost:
				x.report(Conflict, whole(s.From), x.standNumbers().on(plan.StandNeedBasis(x.C), plan.StandBasis(x.C, x.K), plan.ColumnBasis(x.C)),
					"nothing is left of the stand%s, but this %s needs at least %s%s: %s", guess, what, x.Least(s.Least), x.usually(), x.widen(s.Least)).Line("nothing is left of the stand; this %s needs at least %s", what, x.Least(s.Least))
			case s.Have < s.Least:
				have, need := x.Short(s.Have, s.Least)
				x.report(Conflict, whole(s.From), x.standNumbers().on(plan.StandNeedBasis(x.C), plan.StandBasis(x.C, x.K), plan.ColumnBasis(x.C)),
					"%s to %s%s, but this %s needs at least %s%s: %s or take a smaller one", x.standComes(), have, guess, what, need, x.usually(), x.widen(s.Least)).Line("%s %s; this %s needs at least %s", x.standIs(), have, what, need)
			case s.Have < s.Usual:
				have, need := x.Short(s.Have, s.Usual)
				x.report(Caution, whole(s.From), atLeast(s.Have, s.Usual),
					"%s to %s%s, under the usual %s for this %s: pin a sample to see whether the edge hides it", x.standComes(), have, guess, need, what).Line("%s %s, under the usual %s: pin a sample", x.standIs(), have, need)
			case s.Have < s.Full && what != catalog.Hook:
				have, need := x.Short(s.Have, s.Full)
				x.report(Note, whole(s.From), atLeast(s.Have, s.Full), "the stand, %s%s, is usual; the trade's full stand is %s, the fastener's own width", have, guess, need).Line("the stand is %s; the trade's full stand is %s", have, need)
			}
		},
		Touches: slices.Concat(anotherStand, anotherNotion),
		Propose: func(x *Context, f *Finding) []Change {
			if x.K.Stand.Lost { // no other fastener helps
				return proposeStand(x, f)
			}
			if f.Severity == Conflict {
				return append(proposeStand(x, f), proposeFitting(x, 0, x.K.Stand.Have)...)
			}
			return append(proposeStand(x, f), proposeSmaller(x, f)...)
		},
	},
	{
		Name: "band-extension", Severity: Conflict,
		Rests:   []string{"closure.*.stand", "cloth.*.thickness"},
		Task:    NoTask,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "a folded band needs enough cloth beyond the centre line",
		Figure:  "cloth beyond the centre line",
		Formula: "extension = band/2 + band + turn-under + one cloth thickness for each fold; finished with a tuck: + twice the tuck in the place of the turn-under; concealed: band/2 + 3 × band, no further allowance",
		Why:     "Thick cloth uses up its own thickness at every fold: a band drafted without it comes out narrower, or will not fold at all.",
		Sources: []string{
			"cut-on band 3 cm wide: 1.5 + 3 + 3 = 7.5 cm beyond the centre, sewing teacher's tutorial, 2011",
			"geometry of a fold: about one thickness a fold",
			"a method for shirt bands, as quoted: 1 1/2 in wide, tucked at 1/4 in, 2 3/4 in beyond the centre",
			"sewing machine maker's page on a concealed placket, 2024: three times the finished width from the front edge",
		},
		Check: func(x *Context) {
			s, f := &x.K.Stand, &x.C.Stand
			if s.Construction != "folded" || !f.Extension.Has() || s.Folds == 0 {
				return
			}
			if s.Band <= 0 {
				need := x.standAt("stand.extension", s.Least)
				x.report(Conflict, whole(s.From), atLeast(f.Extension.V, need).on(plan.FoldBasis(x.K), plan.TurnBasis(x.C), plan.BasisOf(f.Extension, x.key("stand.extension")), plan.StandNeedBasis(x.C)),
					"the turn-under and the folds%s use up the whole extension, %s: draft %s or more", x.guessShell(), x.say(f.Extension.V), x.Least(need).For(x.at("stand.extension"))).Line("the folds use up the whole extension: draft %s", x.Least(need))
				return
			}
			if !f.Band.Has() && !f.Finished.Has() {
				return
			}
			need := x.K.Folding(s.Band).Extension()
			if f.Extension.V < need-plan.HoleStep(x.U)/2 {
				have, want := x.Short(f.Extension.V, need)
				x.report(Conflict, x.at("stand.extension"), atLeast(f.Extension.V, need).on(plan.FoldBasis(x.K), plan.TurnBasis(x.C), plan.BandBasis(x.C).Scaled(x.K.Folding(s.Band).Widths()), plan.BasisOf(f.Extension, x.key("stand.extension"))),
					"a band %s wide needs %s beyond the centre line (%s, %s for the folds%s), but %s is drafted: draft more%s",
					x.say(s.Band), want.For(x.at("stand.extension")), x.bandParts(), x.sayThin(s.FoldLoss), x.guessShell(), have, x.narrower()).Line("a band of %s needs an extension of %s, not %s", x.say(s.Band), want, have)
			}
		},
		Touches: []string{"closure.*.stand.extension", "closure.*.stand.band"},
		Propose: func(x *Context, f *Finding) []Change {
			s := &x.K.Stand
			need := x.K.Folding(max(s.Band, 2*s.Least)).Extension().RoundUp(plan.HoleStep(x.U))
			out := []Change{{
				With: x.setLength("stand.extension", need),
				Says: "draft " + x.up(need) + " beyond the centre line", Cost: (need - x.C.Stand.Extension.V).MM(),
			}}
			if x.C.Stand.Band.Has() {
				b := x.K.Folding(0).From(x.C.Stand.Extension.V).Width.RoundDown(plan.HoleStep(x.U))
				if b > 0 {
					out = append(out, Change{
						With: x.setLength("stand.band", b),
						Says: "make the band " + x.down(b), Cost: (s.Band - b).MM(),
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
		Figure:  "band inside the centre line",
		Formula: "hole length − {beyond} + {past} ≤ half the band, for a hole across; no band on a double-breasted front",
		Why:     "The inner end of the hole would run over the edge of the doubled cloth, where the thickness changes and the machine stalls.",
		Limits:  []plan.Threshold{plan.BeyondLimit, plan.SupportLimit},
		Sources: []string{
			"reader's answer to a trade pattern maker: at least 1/4 in of band beyond each end of a buttonhole",
			"Extension Bulletin 576, 1965: hole begins 1/8 in beyond the centre line",
		},
		Check: func(x *Context) {
			s, h := &x.K.Stand, &x.K.Hole
			if (s.Construction == "folded" || s.Construction == "band") && s.Folds != 0 && plan.LapOf(x.C) == "double" {
				x.report(Caution, x.at("stand.construction"), Numbers{}, "a band carries one column: the other of a double-breasted front stands beside it or on its seam; face the front instead").Line("a band carries one column: face a double-breasted front instead")
				return
			}
			if (s.Construction != "folded" && s.Construction != "band") || !h.Needed || h.Direction != "across" || h.Kind == "loop" {
				return
			}
			if need := h.Inside + plan.SupportLeast; s.Band/2 < need {
				have, want := x.Short(s.Band/2, need)
				x.report(Caution, whole(s.From), atLeast(s.Band/2, need),
					"the hole takes %s of band inside the centre line, but it reaches only %s; make the band wider or set the holes along it", want, have).Line("the hole needs %s of band inside the centre line, not %s", want, have)
			}
		},
		Touches: []string{"closure.*.direction", "closure.*.stand.construction", "closure.*.stand.band"},
		Propose: func(x *Context, f *Finding) []Change {
			if !f.Compared {
				return []Change{{With: set(x, "stand.construction", "faced"), Says: "face the front", Cost: 10}}
			}
			out := []Change{{With: set(x, "direction", "along"), Says: "set the holes along the band", Cost: 10}}
			if s := &x.C.Stand; !s.Finished.Has() && !s.Extension.Has() {
				wide := (2 * (x.K.Hole.Inside + plan.SupportLeast)).RoundUp(2 * plan.HoleStep(x.U))
				out = append(out, Change{With: x.setLength("stand.band", wide), Says: "make the band " + x.up(wide) + " wide", Cost: (wide - x.K.Stand.Band).MM()})
			}
			return out
		},
	},
	{
		Name: "facing-short", Severity: Conflict,
		Rests: []string{"closure.*.direction", "closure.*.flap", "closure.*.hole", "closure.*.hole_length", "closure.*.lap", "closure.*.notion", "closure.*.rows", "closure.*.stand"},
		Task:  NoTask,
		Reads: ReadsNotion | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			if facing, by := x.P.Facing(x.C.Index); by != -1 && x.K.Stand.FacingUsual != 0 && !x.K.Apart() {
				return atLeast(facing, x.K.Stand.FacingLeast)
			}
			return Numbers{}
		},
		Title:   "holes must end, and fasteners stand, on the facing",
		Figure:  "facing inside the centre line",
		Formula: "facing inside the centre line ≥ hole length − {beyond} (conflict below), + {past} (caution below), for a hole across; double-breasted: ≥ column + D/2 (conflict below), + {inner} (caution below); toggle: ≥ what it covers, or the patch of its cord (caution below), + {past}; under a flap: ≥ the line of its fasteners, + D/2 + {past}",
		Why:     "A hole that runs past the facing goes through one layer less at its end, and its end tears; a button beside it hangs on one layer.",
		Limits:  []plan.Threshold{plan.BeyondLimit, plan.SupportLimit, plan.InnerLimit},
		Sources: []string{
			"The New Dressmaker, Butterick, 1921, p. 61: a coat's facing reaches about 3 in inside the centre line",
			"reader's answer to a trade pattern maker: at least 1/4 in beyond each end of a buttonhole",
			"derived: the inner buttons of a double-breasted front land on facing and canvas; the 10 mm from memory",
		},
		Check: func(x *Context) {
			facing, by := x.P.Facing(x.C.Index)
			least, need := x.K.Stand.FacingLeast, x.K.Stand.FacingUsual
			if by == -1 {
				x.besideBand(least)
				return
			}
			if need == 0 {
				return
			}
			at := place{by, "stand.facing"}
			what := x.facingFor()
			switch {
			case facing < least:
				have, want := x.Short(facing, least)
				y := *x
				y.C = &x.G.Closures[by]
				sev := Conflict
				if x.K.Apart() {
					sev = Caution // its patch is sewn on while the front lies flat, before the facing
				}
				x.report(sev, at, atLeast(facing, least).on(plan.BasisOf(y.C.Stand.Facing, y.key("stand.facing")), x.facedBasis(), plan.ColumnBasis(x.C)), "the facing reaches %s inside %s, but %s at %s: make the facing at least %s", have, x.meeting(), what.ends, want.For(at), x.Least(need).For(at)).Line("the facing reaches %s inside: make it %s", have, x.Least(need))
			case facing < need:
				have, want := x.Short(facing, need)
				x.report(Caution, at, atLeast(facing, need), "the facing reaches %s inside %s; %s leaves %s beyond %s", have, x.meeting(), want.For(at), x.say(what.room), what.name).Line("the facing reaches %s inside; %s is better", have, want)
			}
		},
		Touches: []string{"closure.*.stand.facing"},
		Propose: func(x *Context, f *Finding) []Change {
			facing, by := x.P.Facing(x.C.Index)
			if by == -1 {
				return nil
			}
			y := *x
			y.C = &x.G.Closures[by]
			need := x.K.Stand.FacingUsual.RoundUp(plan.HoleStep(x.U))
			return []Change{{With: y.setLength("stand.facing", need), Says: "make the facing reach " + x.up(need), Cost: (need - facing).MM()}}
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
			if s.Known || x.C.Notion.Kind == catalog.Zip || x.C.Where != "" && x.C.Where != "front" || x.C.Lap == "edge" || x.C.Edge.Has() && s.Have == x.C.Edge.V {
				return
			}
			if s.Construction == "" {
				x.report(Note, x.at(""), Numbers{}, "no stand is given: draft %s from the centre line to the finished edge, %s (at least %s)", x.draft("stand.finished", s.Have), x.standWhy(), x.draft("stand.finished", s.Least)).Line("no stand is given: draft %s to the finished edge", x.draft("stand.finished", s.Have))
				return
			}
			if s.Construction == "band" {
				x.report(Note, x.at("stand"), Numbers{}, "no width is given: make the band %s wide for a stand of %s", x.draft("stand.band", s.Have), x.Least(s.Have)).Line("no band is given: make it %s wide", x.draft("stand.band", s.Have))
				return
			}
			x.report(Note, x.at("stand"), Numbers{}, "no width is given: draft %s from the centre line to the cut edge%s for a stand of %s", x.draft("stand.extension", s.Have), x.guessDraft(), x.Least(s.Have)).Line("no extension is given: draft %s to the cut edge", x.draft("stand.extension", s.Have))
		},
	},
}

// standNumbers compares the stand with its least; where none is left, what the
// file draws with what it would have to.
func (x *Context) standNumbers() Numbers {
	s := &x.K.Stand
	switch f := &x.C.Stand; {
	case s.Lost && s.Column > 0:
		return atLeast(s.Column-s.Past, s.Column+s.Least)
	case s.Lost && s.Construction != "folded" && f.Extension.Has() && s.From == x.path("stand.extension"):
		return atLeast(f.Extension.V, s.Least+s.Seam)
	}
	return atLeast(s.Have, s.Least)
}

// usually says what stand is usual, where that is more than the least: what
// lies between the two is a caution, so a change offers the usual one.
func (x *Context) usually() later {
	return x.later(func(x *Context) string {
		if s := &x.K.Stand; printedUp(s.Usual) > printedUp(s.Least) {
			return ", usually " + x.Least(s.Usual).String()
		}
		return ""
	})
}

// standAt is what to write at a key for a stand so wide, from the line of the
// holes to the finished edge.
func (x *Context) standAt(key string, want measure.Length) measure.Length {
	s := &x.K.Stand
	edge := want + s.Column // from the centre line
	switch key {
	case "flap.width":
		return x.C.Flap.Inset.V + want
	case "stand.band":
		return 2 * edge
	case "stand.extension":
		if s.Construction == "folded" {
			b := x.K.Folding(2 * edge)
			b.Width = max(b.Width, b.Loss()+2) // a narrower one is no band; nm, so that what is printed holds
			return b.Extension()
		}
		return edge + s.Seam
	}
	return edge
}

// standKey is the key that the stand follows from.
func (x *Context) standKey() string {
	f := &x.C.Stand
	switch from := x.K.Stand.From; {
	case x.C.Flap.Has():
		return "flap.width"
	case f.Band.Has() && from == x.path("stand.band"):
		return "stand.band"
	case f.Finished.Has() && from == x.path("stand.finished"):
		return "stand.finished"
	case from == x.path("stand.extension"):
		return "stand.extension"
	}
	return ""
}

// widen says what to write for a stand that is at least so wide.
func (x *Context) widen(want measure.Length) together {
	key := x.standKey()
	b := x.Least(x.standAt(key, want)).For(x.at(key))
	switch key {
	case "flap.width":
		return together{b.in("make the flap ", " wide")}
	case "stand.band":
		out := together{b.in("make the band ", " wide")}
		if x.C.Stand.Finished.Has() {
			out = append(out, x.Least(x.standAt("stand.finished", want)).For(x.at("stand.finished")).in("the finished stand ", ""))
		}
		return append(out, x.draftFor(want)...)
	case "stand.extension":
		return together{b.in("draft ", " from the centre line to the cut edge")}
	}
	return append(together{b.in("make it ", " from the centre line")}, x.draftFor(want)...)
}

// draftFor says what to draft for a stand that the file gives a width of its
// own, where what is drafted leaves too little.
func (x *Context) draftFor(want measure.Length) together {
	f, ext := &x.C.Stand, x.standAt("stand.extension", printedUp(want+x.K.Stand.Column)-x.K.Stand.Column)
	if !f.Extension.Has() || f.Extension.V >= ext {
		return nil
	}
	return together{x.Least(ext).For(x.at("stand.extension")).in("draft ", " to the cut edge")}
}

// draft is what to draft at a key for a stand so wide, as can be marked.
func (x *Context) draft(key string, want measure.Length) bounded {
	return x.Least(x.standAt(key, want).RoundUp(plan.HoleStep(x.U))).For(x.at(key))
}

// bandParts says what the extension of a folded band is made of.
func (x *Context) bandParts() later {
	return x.later(func(x *Context) string {
		switch b := x.K.Folding(x.K.Stand.Band); {
		case b.Concealed:
			return "half the band, and three times the band"
		case b.Tuck > 0:
			return "half the band, the band, twice the tuck of " + x.len(b.Tuck)
		default:
			if b.TurnUnder == 0 {
				return "half the band, the band"
			}
			return "half the band, the band, " + x.len(b.TurnUnder) + " turned under"
		}
	})
}

// narrower says how wide a band the drafted extension is enough for, where
// that carries the fastener.
func (x *Context) narrower() any {
	s, f := &x.K.Stand, &x.C.Stand
	band := x.K.Folding(0).From(f.Extension.V).Width
	key := "stand.band"
	if !f.Band.Has() {
		key, band = "stand.finished", band/2
	}
	if printedDown(band) < x.standAt(key, s.Least) {
		return ""
	}
	if key == "stand.finished" {
		return x.Most(band).For(x.at(key)).in(" or make the finished stand ", "")
	}
	out := together{x.Most(band).For(x.at(key)).in(" or make the band ", "")}
	if f.Finished.Has() {
		out = append(out, x.Most(band/2).For(x.at("stand.finished")).in("the finished stand ", ""))
	}
	return out
}

// besideBand tells of what stands on the front beside the band that another
// closure of the opening drafts: there is one layer.
func (x *Context) besideBand(least measure.Length) {
	lap := x.P.Lap(x.C.Index)
	if lap == -1 || lap == x.C.Index || x.K.Zip.Needed {
		return
	}
	st := &x.P.Closures[lap].Stand
	if st.Construction != "folded" && st.Construction != "band" || plan.LapOf(&x.G.Closures[lap]) == "double" {
		return
	}
	if reach := st.Band - st.Have; reach < least {
		have, want := x.Apart(reach, least)
		x.report(Caution, x.at(""), atLeast(reach, least), "the %s reach %s inside the centre line, past the band of %s, which ends at %s: they hang on one layer there; face the front, or put a patch behind", text.Plural(x.C.Notion.Kind), want, x.G.Closures[lap].Name, have).Line("the %s reach past the band on one layer: face or patch behind", text.Plural(x.C.Notion.Kind))
	}
}

// facedBasis is what it rests on how far inside its line a facing must reach: under
// a flap as far as the line of its fasteners.
func (x *Context) facedBasis() plan.Basis {
	if x.C.Flap.Has() {
		return plan.FlapBasis(x.C, x.K)
	}
	return plan.InsideBasis(x.C, x.K)
}

// standComes begins what is said of a stand.
func (x *Context) standComes() string {
	if x.C.Flap.Has() {
		return "from the line of its fasteners to its edge the flap comes"
	}
	return "the stand comes"
}

// standIs is the same, short.
func (x *Context) standIs() string {
	switch {
	case x.C.Flap.Has():
		return "past them the flap is"
	case x.C.Lap == "double":
		return "outside the column it is"
	}
	return "the stand is"
}

// faced is what a facing must reach past, in words.
type faced struct {
	ends, name string
	room       measure.Length
}

func (x *Context) facingFor() faced {
	c, h := x.C, &x.K.Hole
	switch {
	case c.Flap.Has():
		return faced{"the flap's fasteners stand", "them", plan.SupportLeast}
	case c.Lap == "double":
		return faced{"the buttons of the inner column end", "the buttons of the inner column", plan.InnerClear}
	case x.K.Apart():
		return faced{"the patch over the cord ends", "the patch", plan.SupportLeast}
	case h.Kind == "loop":
		return faced{"the " + c.Notion.Kind + " ends", "the " + c.Notion.Kind, plan.SupportLeast}
	}
	return faced{"the hole ends", "the hole", plan.SupportLeast}
}

// standWhy says what the drafted stand is.
func (x *Context) standWhy() string {
	s := &x.K.Stand
	if plan.ShapeOf(&x.C.Notion).Kind == "toggle" {
		return "the shorter end of the toggle and " + x.len(plan.StandRim)
	}
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
			return known(false, l.Estimated, math.MaxInt64, plan.FoldBasis(x.K).Tol, x.U)
		}
	}
	return ""
}

// guessDraft is guessShell for an extension to draft.
func (x *Context) guessDraft() string {
	if x.K.Stand.FoldLoss == 0 {
		return ""
	}
	return x.guessShell()
}

// guessFolds is guessShell for a stand worked out from a folded extension.
func (x *Context) guessFolds() string {
	if x.K.Stand.Construction == "folded" && x.K.Stand.From == x.path("stand.extension") {
		for _, l := range x.K.Over.Layers {
			if l.Layer.Cloth != nil {
				return known(false, l.Estimated, math.MaxInt64, plan.FoldBasis(x.K).Scaled(1./3).Tol, x.U)
			}
		}
	}
	return ""
}

// anotherStand are the keys that proposeStand touches.
var anotherStand = []string{"closure.*.flap.width", "closure.*.stand.band", "closure.*.stand.finished", "closure.*.stand.extension"}

// proposeStand widens the stand to its usual width, in the way the file
// gives it.
func proposeStand(x *Context, f *Finding) []Change {
	s, st := &x.K.Stand, &x.C.Stand
	var out []Change
	for i, want := range []measure.Length{s.Usual, max(s.Full, s.Usual), max(s.Least, plan.HoleEdge+plan.BeyondCentre)} {
		want = want.RoundUp(plan.HoleStep(x.U))
		cost := (want-s.Have).MM()*2 + float64(i)
		if want <= s.Have {
			continue
		}
		edge := (want + s.Column).Least(x.U) // from the centre line
		switch {
		case x.C.Flap.Has():
			w := x.standAt("flap.width", want).Least(x.U)
			out = append(out, Change{With: x.setLength("flap.width", w), Says: "make the flap " + x.up(w) + " wide", Cost: cost})
		case st.Band.Has() && s.From == x.path("stand.band"):
			band := x.standAt("stand.band", want).Least(x.U)
			with := x.setLength("stand.band", band)
			says := "make the band " + x.up(band) + " wide"
			if st.Extension.Has() && s.Construction == "folded" {
				ext := x.K.Folding(band).Extension().RoundUp(plan.HoleStep(x.U))
				with = append(with, x.setLength("stand.extension", ext)...)
				says += " and draft " + x.up(ext) + " beyond the centre line"
			}
			out = append(out, Change{With: with, Says: says, Cost: cost})
		case st.Finished.Has():
			with := x.setLength("stand.finished", edge)
			says := "make the finished stand " + x.up(edge)
			if ext := edge + s.Seam; st.Extension.Has() && s.Construction != "folded" && st.Extension.V < ext {
				ext = ext.RoundUp(plan.HoleStep(x.U))
				with = append(with, x.setLength("stand.extension", ext)...)
				says += " and draft " + x.up(ext) + " beyond the centre line"
			}
			out = append(out, Change{With: with, Says: says, Cost: cost})
		case st.Extension.Has():
			ext := edge + s.Seam
			if s.Construction == "folded" {
				ext = x.K.Folding(2 * edge).Extension()
			}
			ext = ext.RoundUp(plan.HoleStep(x.U))
			out = append(out, Change{
				With: x.setLength("stand.extension", ext),
				Says: "draft " + x.up(ext) + " beyond the centre line, for a stand of " + x.up(want), Cost: cost,
			})
		}
	}
	return out
}
