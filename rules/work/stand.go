package work

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func (w *working) stand() {
	c, k := w.x.C, w.x.K
	if c.Notion.Kind == catalog.Zip {
		w.facing()
		return
	}
	s, f := &k.Stand, &c.Stand
	d := plan.AcrossOf(&c.Notion)
	// From the last sum: what the file's drafting gives.
	says := fmt.Sprintf("%s %s across: least, half of it + %s = %s; usual, the larger of half + %s and three quarters = %s; full, all of it = %s",
		kindOf(c), w.s(d), w.rim(), w.s(s.Least), w.s(quarter), w.s(s.Usual), w.s(s.Full))
	if k.Loop.Hooks {
		says = fmt.Sprintf("hook %s long, across the edge: least, for its bend, %s; full, all of it on the lap, %s", w.s(plan.LieOf(&c.Notion).In), w.s(s.Least), w.s(s.Full))
	}
	if plan.ShapeOf(&c.Notion).Kind == "toggle" {
		says = fmt.Sprintf("the %s lies across, its shorter end %s towards the edge: least, + %s = %s; usual, + %s = %s",
			kindOf(c), w.s(s.Least-plan.RimClear), w.rim(), w.s(s.Least), w.s(quarter), w.s(s.Usual))
	}
	switch {
	case !s.Known && plan.LapOf(c) == "edge" && s.Have == 0:
		says = fmt.Sprintf("the edges meet; the %s lies on its own", kindOf(c))
	case !s.Known && plan.LapOf(c) == "edge":
		says = fmt.Sprintf("the edges meet; the %s lies %s inside its own", kindOf(c), w.t(s.Have))
	case !s.Known && c.Edge.Has() && s.Have == c.Edge.V:
		says += fmt.Sprintf("; yours is %s, as edge says", w.t(s.Have))
	case !s.Known:
		what := "full"
		if s.Have > s.Full || s.Full == s.Usual {
			what = "usual"
		}
		says += fmt.Sprintf("; draft the %s stand, %s", what, w.made(s.Have, false))
	case c.Flap.Has():
		says += fmt.Sprintf("; from the line of its fasteners to the edge of the flap it is %s", w.t(s.Have))
	case s.Lost:
		says += "; yours leaves nothing, so what follows from the edge is not worked out before " + Unsettled
	default:
		says += fmt.Sprintf("; yours is %s", w.t(s.Have))
	}
	st := w.say(TopicStand, "stand-narrow", "%s", says)
	if !s.Known {
		st.Default = w.set("stand.finished", "the stand")
	}
	shell := plan.ShellThickness(k)
	if s.Column > 0 {
		st.Says += fmt.Sprintf("; it is counted from the outer column, at its farthest %s from the centre line", w.s(s.Column))
	}
	drafted := s.Known && !f.Band.Has() && !f.Finished.Has() && f.Extension.Has()
	o := w.opening()
	switch {
	case c.Flap.Has():
		if pc := o.any(plan.Flap); pc != nil && o.flap == k {
			w.say(TopicBand, "stand-drafted", "flap: cut it %s", o.flapLies(pc))
		}
	case plan.LapOf(c) == "edge":
		st = w.say(TopicBand, "stand-drafted", "the edges meet: the cut edge lies the seam allowance, %s, beyond %s", w.t(s.Seam), o.line)
		if s.Seam <= 0 {
			st.Says = "the edges meet: the cut edge lies on " + o.line + ", with no seam allowance"
		}
		if !f.Seam.Has() {
			st.Default = w.set("stand.seam", "the seam allowance, "+w.s(plan.UsualSeam(w.x.U))+",")
		}
	case s.Lost:
		// There is no stand to add up.
	case s.Construction == "folded":
		folds := fmt.Sprintf("%d fold × %s of cloth", s.Folds, shell.ShortThin(w.x.U))
		if s.Folds > 1 {
			folds = fmt.Sprintf("%d folds × %s of cloth", s.Folds, shell.ShortThin(w.x.U))
		}
		if s.FoldCore > 0 {
			folds += fmt.Sprintf(" − %s that the edge folds round", s.FoldCore.ShortThin(w.x.U))
		}
		turn, share, what, back := "", "two thirds", "folded band", "the band "+w.s(s.Band)
		b := k.Folding(s.Band)
		switch {
		case b.Concealed:
			share, what, back = "two sevenths", "concealed band", "three times the band "+w.s(3*s.Band)
		case b.Tuck > 0:
			turn, what = " − 2 × tuck "+w.s(b.Tuck), "band with a tuck"
		case s.TurnUnder > 0:
			turn = " − turn-under " + w.s(s.TurnUnder)
		}
		if drafted {
			left := s.Extension - s.TurnUnder - 2*b.Tuck - s.FoldLoss
			st = w.say(TopicBand, "band-extension", "%s: extension %s%s − %s = %s; %s of that is the band, %s; the stand is half the band, %s",
				what, w.s(s.Extension), turn, folds, w.s(left), share, w.t(s.Band), w.t(s.Have))
		} else {
			need := b.Extension()
			st = w.say(TopicBand, "band-extension", "%s: half the band %s + %s%s + %s = %s from %s to the cut edge",
				what, w.s(s.Band/2), back, strings.ReplaceAll(turn, "−", "+"), strings.ReplaceAll(folds, "−", "+"), w.made(need, false), o.line)
			if !s.BandKnown {
				st.Default = w.set("stand.band", "the band's width, twice the full stand,")
			} else if f.Extension.Has() {
				st.Says += "; drafted is " + w.t(f.Extension.V)
			}
		}
		if !f.TurnUnder.Has() && b.Tuck == 0 && !b.Concealed {
			st.Default = text.Join("; ", st.Default, w.set("stand.turn_under", "the turn-under"))
		}
	case s.Construction == "band":
		st = w.say(TopicBand, "stand-drafted", "separate band, %s finished: cut 2 × %s + %s + one fold of %s = %s wide; the stand is half the band",
			w.made(s.Band, s.BandKnown), w.s(s.Band), w.allowances(), s.FoldLoss.ShortThin(w.x.U), w.made(s.BandCut, false))
		if !s.BandKnown {
			st.Default = w.set("stand.band", "the band's width, twice the full stand,")
		}
		if !f.Seam.Has() {
			st.Default = text.Join("; ", st.Default, w.set("stand.seam", "the seam allowance, "+w.s(plan.UsualSeam(w.x.U))+","))
		}
	default:
		var parts []string
		if s.Column > 0 {
			parts = append(parts, "column "+w.s(s.Column))
		}
		parts = append(parts, w.allowance())
		if drafted {
			st = w.say(TopicBand, "stand-drafted", "extension %s − %s = finished stand %s", w.s(s.Extension), strings.Join(parts, " − "), w.t(s.Have))
		} else {
			st = w.say(TopicBand, "stand-drafted", "finished stand %s + %s = extension %s from %s to the cut edge", w.s(s.Have), strings.Join(parts, " + "), w.made(s.Have+s.Column+s.Seam, s.Known), o.line)
			if f.Extension.Has() {
				st.Says += "; drafted is " + w.t(f.Extension.V)
			}
		}
		if !f.Seam.Has() && !(f.Finished.Has() && f.Extension.Has()) {
			st.Default = w.set("stand.seam", "the seam allowance, "+w.s(plan.UsualSeam(w.x.U))+",")
		}
	}
	w.facing()
}

// allowance is the seam allowance of the edge in a sum.
func (w *working) allowance() string {
	if l := w.x.K.Stand.Seam; l != 0 {
		return "seam allowance " + w.s(l)
	}
	return "no seam allowance"
}

// allowances are two of them.
func (w *working) allowances() string {
	if l := w.x.K.Stand.Seam; l > 0 {
		return "2 seam allowances of " + w.s(l)
	}
	return "no seam allowances"
}

// facing is how far the facing reaches, and how wide it is cut for each front.
func (w *working) facing() {
	c, k, o := w.x.C, w.x.K, w.opening()
	s, f := &k.Stand, &c.Stand
	if !f.Facing.Has() {
		return
	}
	if reach, by := w.x.P.Facing(c.Index); reach > f.Facing.V {
		w.say(TopicFacing, "facing-short", "the facing of %s reaches farther, and is the one to cut", w.x.G.Closures[by].Name)
		return
	}
	says := fmt.Sprintf("the facing reaches %s inside %s", w.t(f.Facing.V), o.line)
	switch {
	case o.columns() && o.lap == k:
		says += fmt.Sprintf("; the buttons of the inner column end at %s, and %s more makes %s", w.s(s.FacingLeast), w.s(s.FacingUsual-s.FacingLeast), w.s(s.FacingUsual))
	case k.Hole.Needed && k.Hole.Direction == "across" && k.Hole.Kind != "loop":
		says += fmt.Sprintf("; the hole ends at %s, and %s more makes %s", w.s(k.Hole.Inside), w.s(quarter), w.s(k.Hole.Inside+quarter))
	}
	told := ""
	for _, side := range []plan.Side{plan.Over, plan.Under} {
		pc := o.any(side)
		if pc == nil || !pc.Edged || o.band() > 0 {
			continue
		}
		for i := range pc.Areas {
			if a := &pc.Areas[i]; a.Kind == plan.FacingArea && a.OutFrom == -f.Facing.V {
				seam := pc.Cloth - pc.Finished
				sum := w.s(pc.Finished) + " + " + w.s(f.Facing.V)
				switch {
				case pc.Finished == 0:
					sum = w.s(f.Facing.V)
				case pc.Finished < 0:
					sum = w.s(f.Facing.V) + " − " + w.s(-pc.Finished)
				}
				cut := fmt.Sprintf("%s + seam allowance %s = %s wide", sum, w.s(seam), w.t(a.OutTo-a.OutFrom+seam))
				if seam <= 0 {
					cut = fmt.Sprintf("%s + no seam allowance = %s wide", sum, w.t(a.OutTo-a.OutFrom))
				}
				switch told {
				case "":
					says += "; cut it " + cut
				case cut:
				default:
					says += "; for " + o.called(pc) + " " + cut
				}
				told = cut
			}
		}
	}
	w.say(TopicFacing, "facing-short", "%s", says)
}

// fronts counts the openings that join the wearer's right and left.
func (w *planner) fronts() (n int) {
	w.openings(func(o *opening) {
		if o.front {
			n++
		}
	})
	return n
}

// cutFronts cuts the pieces of a front, their facings and their flap.
func (w *planner) cutFronts(o *opening) {
	over, under := o.any(plan.Over), o.any(plan.Under)
	if over == nil || under == nil {
		return
	}
	name := w.g.Closures[o.first].Name
	if !o.front {
		if k := o.ownBand(); k != nil {
			s := &k.Stand
			w.add(StageCut, name, "Cut the %s of the %s %s wide, for %s finished with %s.", bandsOf(k), o.thing, w.made(s.BandCut, false), w.made(s.Band, s.BandKnown), o.seams(s.Seam))
		}
		if o.facedBy() != nil && !o.lost() {
			w.sayFacings(o, name, "", "both sides of the "+o.thing, over, under)
		}
		return
	}
	at := ""
	if o.name != "front" && w.fronts() > 1 {
		at = " of the " + o.name
	}
	side := ""
	if says := o.overSays(); says != "" {
		side = " " + text.Sentence(says)
	}
	if o.lost() {
		w.add(StageCut, name, "Cut neither the fronts%s nor their facings before %s: their edge cannot lie where the file puts it.%s", at, Unsettled, side)
		if flap := o.any(plan.Flap); flap != nil {
			w.add(StageCut, o.flap.Closure.Name, "Cut the flap%s%s %s, and as long as the run%s.", at, o.flapLayers(), o.flapLies(flap), o.flapEnds())
		}
		return
	}
	if sameEdge(over, under) {
		w.add(StageCut, name, "Cut both fronts%s with %s.%s", at, o.cutLies(over), side)
	} else {
		w.add(StageCut, name, "Cut %s%s with %s.%s", o.called(over), at, o.cutLies(over), side)
		w.add(StageCut, name, "Cut %s%s with %s.", o.called(under), at, o.cutLies(under))
	}
	if k := o.lap; k != nil && k.Stand.Construction == "band" {
		s := &k.Stand
		snip := ""
		if over.Finished-s.Band+s.Seam <= 0 { // the front does not reach it
			snip = " Snip " + o.line + " of each top and bottom, " + o.len(s.Seam+s.Band-over.Finished) + " from the edge that is sewn on."
		}
		w.add(StageCut, name, "Cut the bands%s %s wide, for %s finished with %s.%s", at, w.made(s.BandCut, false), w.made(s.Band, s.BandKnown), o.seams(s.Seam), snip)
	}
	if o.fly() {
		k := o.lap
		w.add(StageCut, k.Closure.Name, "Cut the fly%s of two layers, each %s wide and as long as the run, for %s finished with %s: it takes the holes and lies behind the edge, %s short of it.", at, w.len(o.flyCut()), w.len(o.flyWide()), o.seams(k.Stand.Seam), w.len(plan.FlyShort))
	}
	if flap := o.any(plan.Flap); flap != nil {
		w.add(StageCut, o.flap.Closure.Name, "Cut the flap%s%s %s, and as long as the run%s.", at, o.flapLayers(), o.flapLies(flap), o.flapEnds())
	}
	w.cutFacings(o, name, at, over, under)
}

// flyWidth is the least width of a fly: 2 to 2 1/2 in on an overcoat, its edge
// 1/8 in behind the front edge, from memory.
const flyWidth = 2 * measure.Inch

// sameEdge says whether two pieces have the same edge.
func sameEdge(a, b *plan.Piece) bool { return a.Finished == b.Finished && a.Cloth == b.Cloth }

// cutLies says where the cut edge of a front lies, and what is between it and
// the meeting line.
func (o *opening) cutLies(pc *plan.Piece) string {
	s := o.outOf(pc.Cloth, o.line)
	if OnLine(pc.Cloth) {
		s = "the cut edge " + s
	}
	st := &plan.Stand{}
	switch {
	case o.lap != nil && pc.Finished == o.lap.Stand.Column+o.lap.Stand.Have:
		st = &o.lap.Stand
	case o.lap != nil && plan.LapOf(o.lap.Closure) == "edge":
		st = &o.lap.Stand
	case o.zip != nil:
		st = &o.zip.Stand
	}
	seam := pc.Cloth - pc.Finished
	snip := ". Snip " + o.line + " top and bottom"
	if pc.Cloth <= 0 { // it does not reach so far
		snip = ""
	}
	switch {
	case st.Construction == "folded" && o.lap != nil && st == &o.lap.Stand:
		under := ""
		back := "a band of " + o.len(st.Band) + " folded back, "
		switch b := o.lap.Folding(st.Band); {
		case b.Concealed:
			back = "a band of " + o.len(st.Band) + " folded back and forth, three times its width, "
		case b.Tuck > 0:
			under = "twice the tuck of " + o.len(b.Tuck) + ", "
		case st.TurnUnder > 0:
			under = o.len(st.TurnUnder) + " turned under, "
		}
		return s + ": the fold " + o.out(pc.Finished) + ", " + back + under + st.FoldLoss.TextThin(o.u) + " for the folds. Snip the fold lines top and bottom"
	case st.Construction == "band" && o.lap != nil && st == &o.lap.Stand && lineAt(pc, plan.SeamLine, pc.Finished-st.Band) != nil:
		seam := pc.Finished - st.Band
		if seam+st.Seam <= 0 {
			snip = ""
		}
		return "the cut edge " + o.out(seam+st.Seam) + ": " + o.seam(st.Seam) + " for the band, sewn on " + o.its(seam) + "; its fold comes to lie " + o.out(pc.Finished) + snip
	case pc.Finished == 0:
		return s + ": " + o.seam(seam)
	case pc.Finished < 0:
		return s + ": the edge folded " + o.out(pc.Finished) + ", " + o.seam(seam) + snip
	}
	column := ""
	if o.columns() && st.Column != 0 {
		column = o.len(st.Column) + " to the column, "
	}
	return s + ": " + column + "a stand of " + o.len(pc.Finished-st.Column) + " and " + o.seam(seam) + snip
}

// seam is the allowance of a cut edge; the file may leave it raw.
func (o *opening) seam(l measure.Length) string {
	if l <= 0 {
		return "no seam allowance"
	}
	return "a seam of " + o.len(l)
}

// seams are those on all sides.
func (o *opening) seams(l measure.Length) string {
	if l <= 0 {
		return "no seam allowances"
	}
	return "seams of " + o.len(l)
}

// flapLayers is of how many layers a flap is cut; "" where it is one.
func (o *opening) flapLayers() string {
	switch n := o.flapCut(); n {
	case 1:
		return ""
	case 2:
		return " of two layers,"
	default:
		return fmt.Sprintf(" of %d layers,", n)
	}
}

// flapEnds are the seams at the ends of a flap.
func (o *opening) flapEnds() string {
	if o.flap.Stand.Seam <= 0 {
		return ""
	}
	return " with a seam at either end"
}

// flapCut is how many pieces of cloth a flap is cut of: one where it is folded
// on its edge.
func (o *opening) flapCut() int {
	if foldedFlap(o.flap) {
		return 1
	}
	return max(1, cloths(o.flap.Closure.Over))
}

// foldedFlap says whether a flap of its own is folded on its edge.
func foldedFlap(k *plan.Closure) bool { return k.Closure.Stand.Construction == "folded" }

// flapWide is how wide a flap of its own is cut, where it is sewn on, and its
// allowance there.
func (o *opening) flapWide(pc *plan.Piece) (wide, seam, allowance measure.Length) {
	var inner, outer measure.Length
	for i := range pc.Lines {
		switch l := &pc.Lines[i]; {
		case l.Kind == plan.SeamLine:
			seam = l.From.Out
		case l.Kind == plan.CutLine && l.From.Out >= pc.Finished:
			outer = l.From.Out
		case l.Kind == plan.CutLine:
			inner = l.From.Out
		}
	}
	if foldedFlap(o.flap) {
		return 2 * (pc.Finished - inner), seam, seam - inner
	}
	return outer - inner, seam, seam - inner
}

// flapLies says how a flap of its own is cut.
func (o *opening) flapLies(pc *plan.Piece) string {
	wide, seam, allowance := o.flapWide(pc)
	s := "from " + o.edge(pc) + ", " + o.out(pc.Finished) + ", to where it is sewn on, " + o.out(seam) + ": " + o.len(wide)
	switch {
	case foldedFlap(o.flap):
		return s + " wide in all, folded on its edge, with " + o.seam(allowance) + " on both sides"
	case allowance == 0:
		return s + " wide with no seam allowances"
	}
	return s + " wide with its seams of " + o.len(allowance)
}

// rim is what lies beyond the rim at least, as its source has it.
func (w *working) rim() string {
	if w.x.U.IsAlone() {
		return w.s(plan.RimClear)
	}
	return measure.Length(plan.RimClear).Short(measure.MM)
}

// pastFacing is what a facing must reach past.
func pastFacing(k *plan.Closure, u measure.Unit) string {
	switch {
	case plan.LapOf(k.Closure) == "double":
		return "the inner column by " + measure.Length(plan.InnerClear).Short(u.Or(measure.MM)) + " (from memory)"
	case k.Apart():
		return "the patches over the cords"
	case k.SewnHole():
		return "the holes by " + quarter.Text(u.Or(measure.In))
	}
	return "the " + text.Plural(k.Closure.Notion.Kind)
}

// cutFacings cuts the facings of a front.
func (w *planner) cutFacings(o *opening, name, at string, over, under *plan.Piece) {
	if k := o.lap; k != nil && (k.Stand.Construction == "folded" || k.Stand.Construction == "band") {
		return
	} else if !o.faced(plan.Over) {
		if k != nil && k.Stand.Construction == "faced" && k.Stand.FacingUsual != 0 {
			w.add(StageCut, name, "Cut the facings of both fronts%s at least %s wide, the seam of the edge included, to pass %s; set stand.facing to say how wide.", at, (k.Stand.Column + k.Stand.Have + k.Stand.FacingUsual + k.Stand.Seam).TextLeast(w.u), pastFacing(k, w.u))
		}
		return
	}
	w.sayFacings(o, name, at, "both fronts", over, under)
}

// sayFacings cuts the facings that the file gives, of both pieces in one task where
// they are alike.
func (w *planner) sayFacings(o *opening, name, at, both string, over, under *plan.Piece) {
	says := func(pc *plan.Piece) string {
		for i := range pc.Areas {
			if a := &pc.Areas[i]; a.Kind == plan.FacingArea {
				return o.len(facingWide(pc)) + " wide, to reach " + o.out(a.OutFrom)
			}
		}
		return ""
	}
	a, b := says(over), says(under)
	switch {
	case a == b && a != "":
		w.add(StageCut, name, "Cut the facings of %s%s %s.", both, at, a)
	default:
		for i, pc := range []*plan.Piece{over, under} {
			if s := [2]string{a, b}[i]; s != "" {
				w.add(StageCut, name, "Cut the facing of %s%s %s.", o.called(pc), at, s)
			}
		}
	}
}

// edge is the work on the edges that carry the closures.
func (w *planner) edge() {
	w.openings(func(o *opening) {
		w.band(o)
		for _, i := range o.members {
			if k := &w.p.Closures[i]; k.Zip.Needed {
				w.zip(k.Closure, k)
			}
		}
		w.sewFlap(o)
		var waits *Task
		if o.lost() {
			waits = w.edgeWaits(o)
		} else {
			w.face(o)
		}
		w.zipRow(o)
		for _, i := range o.members {
			if k := &w.p.Closures[i]; k.SewnHole() && !k.Closure.Flap.Has() && !rules.JoinedPiece(k.Closure) && waits == nil {
				w.flyTask(k.Closure, k)
			}
		}
		var thick []*plan.Closure // one edge is counted once, whatever it carries
		for _, i := range o.members {
			k := &w.p.Closures[i]
			c := k.Closure
			if k.Zip.Needed || rules.JoinedPiece(c) {
				continue
			}
			if !o.front && (c.Where == "cuff" || c.Where == "collar") && k.Hole.Kind != "bound" {
				w.joinLayers(StageEdge, c, k)
			}
			if !slices.ContainsFunc(thick, func(m *plan.Closure) bool { return sameThick(m, k) }) {
				thick = append(thick, k)
				w.bulk(StageEdge, c, k)
			}
			if k.StitchedEdge() && !c.Flap.Has() && waits == nil {
				w.stitchEdge(StageEdge, c, k)
			}
		}
	})
}

// edgeWaits stands for all the work on an edge that the file leaves no place,
// and uses what that work will.
func (w *planner) edgeWaits(o *opening) *Task {
	facings := ""
	if o.facedBy() != nil {
		facings = ", its facings with it,"
	}
	t := w.add(StageEdge, o.lap.Closure.Name, "Make the edge%s%s not before %s.", of(o.lap.Closure), facings, Unsettled).through(o.lap)
	for _, i := range o.members {
		k := &w.p.Closures[i]
		c := k.Closure
		if k.Zip.Needed || rules.JoinedPiece(c) || c.Flap.Has() {
			continue
		}
		if k.StitchedEdge() {
			t.sew(w, k, plan.JobEdge)
			if !plan.Unbasted(c) {
				t.use(w.byHand(c, plan.JobBaste)...)
			}
		}
		if k.Hole.Kind == "bound" {
			t.use(w.fell(c)...)
		}
		if rules.SewnHole(k) && k.Sewing.FlyTacks != 0 {
			t.use(w.byHand(c, plan.JobTacks)...)
		}
	}
	return t
}

// band folds the band of a front, or sews a separate one on.
func (w *planner) band(o *opening) {
	pc := o.any(plan.Over)
	if pc == nil || o.lap == nil || rules.JoinedPiece(o.lap.Closure) || o.band() == 0 || pc.Finished != o.lap.Stand.Column+o.lap.Stand.Have {
		return
	}
	c, inner := o.lap.Closure, pc.Finished-o.band()
	if lineAt(pc, plan.SeamLine, inner) != nil {
		only := ""
		if flatHoles(o.lap) {
			only = "Only now s"
		}
		other := ""
		if under := o.any(plan.Under); under != nil && sameEdge(pc, under) {
			other = " Sew the other on to " + o.called(under) + " the same way."
		}
		w.add(StageEdge, c.Name, "%sew the band%s on to %s %s; folded in half its edge lies %s.%s", cmp.Or(only, "S"), of(c), o.sideName(plan.Over), o.out(inner), o.out(pc.Finished), other).through(o.lap)
		return
	}
	switch b := o.lap.Folding(o.band()); {
	case b.Concealed:
		more := plan.CoverMore
		w.add(StageEdge, c.Name, "Fold the band%s %s and back, the layer with the holes beneath; let the layer that covers it stand %s beyond it, stitch the inner edge down %s, and tack the two layers together between the holes.", of(c), o.out(pc.Finished), measure.Length(more).TextThin(w.u), o.its(inner)).through(o.lap)
		return
	case b.Tuck > 0:
		w.add(StageEdge, c.Name, "Fold the band%s %s, its raw edge into the tuck, and stitch the tuck %s from its fold, %s.", of(c), o.out(pc.Finished), o.len(b.Tuck), o.its(inner)).through(o.lap)
		return
	}
	turn := ""
	for i := range pc.Lines {
		if l := &pc.Lines[i]; l.Kind == plan.FoldLine {
			turn = ", its raw edge turned in " + o.its(l.From.Out)
		}
	}
	if lineAt(pc, plan.StitchLine, inner) != nil {
		w.add(StageEdge, c.Name, "Fold the band%s %s%s, and stitch its inner edge down %s.", of(c), o.out(pc.Finished), turn, o.its(inner)).through(o.lap)
	}
}

// stitchEdge top-stitches an edge, or stitches it because it does not stay
// pressed.
func (w *planner) stitchEdge(stage string, c *catalog.Closure, k *plan.Closure) {
	what := "the fold" + of(c)
	side := plan.Over
	switch {
	case c.Flap.Has():
		what, side = "the edge of the flap", plan.Flap
	case rules.JoinedPiece(c):
		what = "the edge of the " + c.LiesOn()
	case plan.IsFront(c) && c.Stand.Construction == "fly": // not that of the fly, which lies behind it
		what = "the front edge"
	case c.Stand.Construction == "faced": // a seam, turned
		what = "the edge" + of(c)
	}
	t, with := (*Task)(nil), fmt.Sprintf("needle %s, %s", k.Needle.Use, w.thread(c, plan.JobEdge))
	hold := "Baste"
	if plan.Unbasted(c) {
		hold = "Clip or tape"
	}
	if s := &c.Stand; s.TopstitchInset.Has() {
		o, where := w.opening(c.Index), ""
		if pc := o.any(side); pc != nil {
			if l := lineAt(pc, plan.StitchLine, pc.Finished-s.TopstitchInset.V); l != nil {
				where = ", " + o.out(l.From.Out)
			}
		}
		t = w.add(stage, c.Name, "%s %s and top-stitch it %s from the edge%s, %s.", hold, what, w.len(s.TopstitchInset.V), where, with)
	} else {
		t = w.add(stage, c.Name, "%s %s and stitch it %s from the edge, %s: %s does not hold a press.", hold, what, w.len(rules.UsualTopstitch(w.u)), with, w.g.NameOf(plan.Folded(c.Over)))
	}
	t.sew(w, k, plan.JobEdge)
	if !plan.Unbasted(c) {
		t.use(w.byHand(c, plan.JobBaste)...)
	}
}
