package rules

import (
	"math"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

const rimClear = 3 * mm // rim inside the finished edge: Sew Today, 2019

// StandLeast, StandUsual and StandFull are the button stand, centre line to
// finished edge, for a fastener d across: the least that keeps the rim on
// the cloth, the usual minimum, and the trade's full stand.
func StandLeast(d measure.Length) measure.Length { return d/2 + rimClear }

// StandUsual is the larger of d/2 + 1/4 in and 3/4 d.
func StandUsual(d measure.Length) measure.Length { return max(d/2+quarter, 3*d/4) }

// StandFull is d.
func StandFull(d measure.Length) measure.Length { return d }

// Band is a band folded back on itself at the edge.
type Band struct {
	Width     measure.Length // finished
	TurnUnder measure.Length // turned under at the inside edge, 0 for none
	Cloth     measure.Length // thickness of the cloth
}

// Folds is how many folds the band has: at the edge, and at the turn-under.
func (b Band) Folds() int {
	if b.TurnUnder > 0 {
		return 2
	}
	return 1
}

// Extension is what must be drafted from the centre line to the cut edge:
// half the band, the whole of it folded back, the turn-under, and one cloth
// thickness for each fold.
func (b Band) Extension() measure.Length {
	return b.Width/2 + b.Width + b.TurnUnder + measure.Length(b.Folds())*b.Cloth
}

// BandFrom is the widest band that an extension already drafted leaves.
func BandFrom(extension, turnUnder, cloth measure.Length) Band {
	b := Band{TurnUnder: turnUnder, Cloth: cloth}
	b.Width = max(0, (extension-turnUnder-measure.Length(b.Folds())*cloth)*2/3)
	return b
}

// SeparateBand is the cut width of a band sewn on: twice its finished width,
// a seam allowance at each edge, and one cloth thickness for the fold.
func SeparateBand(width, seam, cloth measure.Length) measure.Length {
	return 2*width + 2*seam + cloth
}

const usualSeam = in * 5 / 8 // common practice, no source

func standOf(g *catalog.Garment, c *catalog.Closure, k *ClosurePlan) StandPlan {
	d := acrossOf(&c.Notion)
	s := StandPlan{
		Least: StandLeast(d), Usual: StandUsual(d), Full: StandFull(d),
		Construction: c.Stand.Construction,
		TurnUnder:    c.Stand.TurnUnder.Or(0),
		Seam:         c.Stand.Seam.Or(usualSeam),
	}
	base := "closure[" + itoa(c.Index) + "].stand"
	shell := shellThickness(k)
	f := c.Stand
	switch s.Construction {
	case "folded":
		b := Band{Width: 2 * max(s.Full, s.Least), TurnUnder: s.TurnUnder, Cloth: shell}
		switch {
		case f.Band.Has():
			b.Width, s.BandKnown, s.From = f.Band.V, true, base+".band"
		case f.Finished.Has():
			b.Width, s.BandKnown, s.From = 2*f.Finished.V, true, base+".finished"
		case f.Extension.Has():
			b = BandFrom(f.Extension.V, s.TurnUnder, shell)
			s.BandKnown, s.From = true, base+".extension"
		}
		s.Band, s.Folds = b.Width, b.Folds()
		s.FoldLoss = measure.Length(s.Folds) * shell
		s.Extension = f.Extension.Or(b.Extension())
		s.Have, s.Known = b.Width/2, s.BandKnown
	case "band":
		s.Band = 2 * max(s.Full, s.Least)
		switch {
		case f.Band.Has():
			s.Band, s.BandKnown, s.From = f.Band.V, true, base+".band"
		case f.Finished.Has():
			s.Band, s.BandKnown, s.From = 2*f.Finished.V, true, base+".finished"
		}
		s.Folds, s.FoldLoss = 1, shell
		s.BandCut = SeparateBand(s.Band, s.Seam, shell)
		s.Have, s.Known = s.Band/2, s.BandKnown
	default: // faced, fly, or not said
		switch {
		case f.Finished.Has():
			s.Have, s.Known, s.From = f.Finished.V, true, base+".finished"
		case f.Band.Has():
			s.Have, s.Known, s.From = f.Band.V/2, true, base+".band"
		case f.Extension.Has():
			s.Have, s.Known, s.From = max(0, f.Extension.V-s.Seam), true, base+".extension"
		default:
			s.Have = s.draft()
		}
		s.Extension = f.Extension.Or(s.Have + s.Seam)
		if f.Facing.Has() {
			s.FacingCut = s.Have + f.Facing.V + s.Seam
		}
	}
	if c.Lap == "double" {
		s.double(c)
	}
	return s
}

// draft is the stand to draft where none is given: the full stand, or the
// usual one where a small fastener needs more than its own width.
func (s *StandPlan) draft() measure.Length { return max(s.Full, s.Usual) }

// double moves the stand of a double-breasted front from the centre line to
// its outer column, where the holes are.
func (s *StandPlan) double(c *catalog.Closure) {
	r := &c.Rows
	s.Column = max(r.Distance.V, r.Top.V, r.Bottom.V)
	switch {
	case s.Column == 0 && s.Known:
		s.Column = max(0, s.Have-s.Full) // the full stand outside the column
		s.Have -= s.Column
	case s.Known:
		s.Have = max(0, s.Have-s.Column)
	default:
		s.Extension += s.Column
	}
}

// acrossOf is D for the rules of the stand: the widest the fastener reaches
// across, flange included.
func acrossOf(n *catalog.Notion) measure.Length {
	switch n.Kind {
	case catalog.Zip:
		return 0
	case catalog.Hook:
		return max(n.Width.V, n.Length.V)
	case catalog.Eyelet:
		return max(n.Flange.V, n.Diameter.V, n.Inside.V)
	case catalog.Frog:
		return shapeOf(n).Across()
	case catalog.Toggle:
		return shapeOf(n).Width
	}
	return max(shapeOf(n).Across(), n.Flange.V)
}

// shellThickness is the thickness of the outermost cloth.
func shellThickness(k *ClosurePlan) measure.Length {
	for _, l := range k.Over.Layers {
		if l.Layer.Cloth != nil {
			return l.Thick
		}
	}
	return 0
}

func itoa(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return itoa(n/10) + string(rune('0'+n%10))
}

var standRules = []*Rule{
	{
		Name: "stand-narrow", Severity: Conflict,
		Title:   "the stand must carry the fastener",
		Formula: "least: D/2 + 3 mm (below it: conflict); usual: the larger of D/2 + 1/4 in and 3/4 D (below it: caution); full: D (below it: note)",
		Why:     "On a stand that is too narrow the rim hangs over the edge, the front gapes, and the hole tears.",
		Sources: []string{
			"Sew Today, 2019, placing buttons and buttonholes: rim at least 3 mm inside the finished edge",
			"household machine manuals: stand at least 3/4 of the diameter, and between 3/4 and the whole of it",
			"sewing and design professionals' standards, p. 24: half the button + 1/4 in",
			"R. Carr, Couture, as quoted, and trade pattern makers: stand = diameter",
		},
		check: func(x *Context) {
			s := &x.K.Stand
			if !s.Known || x.C.Notion.Kind == catalog.Zip {
				return
			}
			what := x.C.Notion.Kind
			guess := x.guessFolds()
			switch {
			case s.Have < s.Least:
				have, need := x.apart(s.Have, s.Least)
				x.report(Conflict, s.From, atLeast(s.Have, s.Least),
					"the stand comes to %s%s, but this %s needs at least %s: widen the stand or take a smaller one", have, guess, what, need)
			case s.Have < s.Usual:
				have, need := x.apart(s.Have, s.Usual)
				x.report(Caution, s.From, atLeast(s.Have, s.Usual),
					"the stand comes to %s%s, under the usual %s for this %s: pin a sample to see whether the edge hides it", have, guess, need, what)
			case s.Have < s.Full:
				have, need := x.apart(s.Have, s.Full)
				x.report(Note, s.From, atLeast(s.Have, s.Full), "the stand, %s%s, is usual; the trade's full stand is %s, the fastener's own width", have, guess, need)
			}
		},
		propose: func(x *Context, f *Finding) []Change {
			if f.Severity == Conflict {
				return append(proposeStand(x, f), proposeFitting(x, 0, x.K.Stand.Have)...)
			}
			return append(proposeStand(x, f), proposeSmaller(x, f)...)
		},
	},
	{
		Name: "band-extension", Severity: Conflict,
		Title:   "a folded band needs enough cloth beyond the centre line",
		Formula: "extension = band/2 + band + turn-under + one cloth thickness for each fold",
		Why:     "Thick cloth uses up its own thickness at every fold: a band drafted without it comes out narrower, or will not fold at all.",
		Sources: []string{
			"cut-on band 3 cm wide: 1.5 + 3 + 3 = 7.5 cm beyond the centre, sewing teacher's tutorial, 2011",
			"geometry of a fold: about one thickness a fold",
		},
		check: func(x *Context) {
			s, f := &x.K.Stand, &x.C.Stand
			if s.Construction != "folded" || !f.Extension.Has() {
				return
			}
			if s.Band <= 0 {
				need := Band{Width: 2 * s.Full, TurnUnder: s.TurnUnder, Cloth: shellThickness(x.K)}.Extension()
				x.report(Conflict, s.From, atLeast(f.Extension.V, need),
					"the turn-under and the folds%s use up the whole extension, %s: draft %s", x.guessShell(), x.len(f.Extension.V), x.len(need))
				return
			}
			if !f.Band.Has() && !f.Finished.Has() {
				return
			}
			need := Band{Width: s.Band, TurnUnder: s.TurnUnder, Cloth: shellThickness(x.K)}.Extension()
			if f.Extension.V < need-markStep(x.U)/2 {
				have, want := x.apart(f.Extension.V, need)
				x.report(Conflict, x.path("stand.extension"), atLeast(f.Extension.V, need),
					"a band %s wide needs %s beyond the centre line (half the band, the band, %s turned under, %s for the folds%s), but %s is drafted: draft more or make the band %s",
					x.len(s.Band), want, x.len(s.TurnUnder), x.fine(s.FoldLoss), x.guessShell(), have, x.len(BandFrom(f.Extension.V, s.TurnUnder, shellThickness(x.K)).Width))
			}
		},
		propose: func(x *Context, f *Finding) []Change {
			s := &x.K.Stand
			need := Band{Width: max(s.Band, 2*s.Least), TurnUnder: s.TurnUnder, Cloth: shellThickness(x.K)}.Extension().RoundUp(markStep(x.U))
			out := []Change{{
				With: []string{x.key("stand.extension") + "=" + need.Exact(x.U)},
				Says: "draft " + x.len(need) + " beyond the centre line", Cost: (need - x.C.Stand.Extension.V).MM(),
			}}
			if x.C.Stand.Band.Has() {
				b := BandFrom(x.C.Stand.Extension.V, s.TurnUnder, shellThickness(x.K)).Width.RoundDown(markStep(x.U))
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
		Title:   "a hole across a folded or separate band must stay on it",
		Formula: "hole length − 1/8 in + 1/4 in ≤ half the band, for a hole across",
		Why:     "The inner end of the hole would run over the edge of the doubled cloth, where the thickness changes and the machine stalls.",
		Sources: []string{
			"reader's answer to a trade pattern maker: at least 1/4 in of band beyond each end of a buttonhole",
			"Extension Bulletin 576, 1965: hole begins 1/8 in beyond the centre line",
		},
		check: func(x *Context) {
			s, h := &x.K.Stand, &x.K.Hole
			if (s.Construction != "folded" && s.Construction != "band") || !h.Needed || h.Direction != "across" || h.Kind == "loop" {
				return
			}
			if need := h.Inside + quarter; s.Band/2 < need {
				have, want := x.apart(s.Band/2, need)
				x.report(Caution, s.From, atLeast(s.Band/2, need),
					"the hole runs %s inside the centre line but the band reaches only %s; make the band wider or set the holes along it", want, have)
			}
		},
		propose: func(x *Context, f *Finding) []Change {
			return []Change{{With: []string{x.key("direction") + "=along"}, Says: "set the holes along the band", Cost: 10}}
		},
	},
	{
		Name: "facing-short", Severity: Conflict,
		Title:   "the hole must end on the facing",
		Formula: "facing inside the centre line ≥ hole length − 1/8 in + 1/4 in, for a hole across",
		Why:     "A hole that runs past the facing goes through one layer less at its end, and its end tears.",
		Sources: []string{
			"The New Dressmaker, Butterick, 1921, p. 61: a coat's facing reaches about 3 in inside the centre line",
			"reader's answer to a trade pattern maker: at least 1/4 in beyond each end of a buttonhole",
		},
		check: func(x *Context) {
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
				have, want := x.apart(f.Facing.V, h.Inside)
				x.report(Conflict, x.path("stand.facing"), atLeast(f.Facing.V, need), "the facing reaches %s inside the centre line, but the hole ends at %s: make the facing at least %s", have, want, x.len(need))
			case f.Facing.V < need:
				have, want := x.apart(f.Facing.V, need)
				x.report(Caution, x.path("stand.facing"), atLeast(f.Facing.V, need), "the facing reaches %s inside the centre line; %s leaves 1/4 in beyond the hole", have, want)
			}
		},
		propose: func(x *Context, f *Finding) []Change {
			need := (x.K.Hole.Inside + quarter).RoundUp(markStep(x.U))
			return []Change{{With: []string{x.key("stand.facing") + "=" + need.Exact(x.U)}, Says: "make the facing reach " + x.len(need), Cost: (need - x.C.Stand.Facing.V).MM()}}
		},
	},
	{
		Name: "stand-drafted", Severity: Note,
		Title:   "what to draft where the garment does not say",
		Formula: "finished stand = D, or the usual stand where a small fastener needs more; extension by the construction",
		Why:     "The stand belongs on the pattern before the cloth is cut.",
		Sources: []string{"R. Carr, Couture, as quoted, and trade pattern makers: stand = diameter"},
		check: func(x *Context) {
			s := &x.K.Stand
			if s.Known || x.C.Notion.Kind == catalog.Zip || x.C.Where != "" && x.C.Where != "front" {
				return
			}
			if s.Construction == "" {
				x.report(Note, x.path(""), Numbers{}, "no stand is given: draft %s from the centre line to the finished edge, %s (at least %s)", x.len(s.Have.RoundUp(markStep(x.U))), s.why(), x.len(s.Least.RoundUp(markStep(x.U))))
				return
			}
			x.report(Note, x.path("stand"), Numbers{}, "no width is given: draft %s from the centre line to the cut edge for a stand of %s", x.len(s.Extension.RoundUp(markStep(x.U))), x.len(s.Have))
		},
	},
}

// why says what the drafted stand is.
func (s *StandPlan) why() string {
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

// ceilDiv is a ÷ b rounded up, for whole pieces.
func ceilDiv(a, b int) int { return int(math.Ceil(float64(a) / float64(b))) }
