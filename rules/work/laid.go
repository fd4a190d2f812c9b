package work

import (
	"slices"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// Laid is one piece of an opening in words: where its lines, its areas and its
// parts lie across, in the order of the piece.
type Laid struct {
	Piece string // the right front, which lies over
	Side  plan.Side
	Says  []string
}

// Pieces says where everything lies on the pieces that closure i holds, in
// those sizes; nothing where another closure of the same opening holds them.
// How far down each fastener lies it leaves to a table. Lengths are in the
// garment's own unit alone, as in the tables beside it.
func Pieces(p *rules.Planned, i int, sizes []int) []Laid {
	o := openingOf(p, i)
	o.sizes, o.short = sizes, true
	if o.first != i {
		return nil
	}
	var out []Laid
	of := o.among()
	for _, side := range []plan.Side{plan.Over, plan.Under, plan.Flap} {
		for _, size := range sizes {
			if pc := o.piece(size, side); pc != nil {
				l := &layer{opening: o, pc: pc}
				l.lines()
				l.areas()
				l.parts()
				out = append(out, Laid{o.which(pc, of), side, l.says})
				break
			}
		}
	}
	if !o.front || len(out) < 2 {
		return out
	}
	// What both fronts have alike is said once.
	both := Laid{Piece: "both fronts" + of, Side: plan.Over}
	over := out[0].Says
	out[0].Says = nil
	for _, s := range over {
		if slices.Contains(out[1].Says, s) {
			both.Says = append(both.Says, s)
		} else {
			out[0].Says = append(out[0].Says, s)
		}
	}
	out[1].Says = slices.DeleteFunc(out[1].Says, func(s string) bool { return slices.Contains(both.Says, s) })
	if len(both.Says) == 0 {
		return out
	}
	out = slices.DeleteFunc(out, func(l Laid) bool { return len(l.Says) == 0 })
	return append([]Laid{both}, out...)
}

// layer gathers what is said of one piece. Where a size differs in what lies
// across it is told apart.
type layer struct {
	*opening
	pc   *plan.Piece
	says []string
}

func (l *layer) say(s string) {
	if s != "" && !slices.Contains(l.says, s) {
		l.says = append(l.says, s)
	}
}

// by is one text for all sizes, or one for each.
func (l *layer) by(of func(pc *plan.Piece) string) string {
	var texts []string
	same := true
	for _, i := range l.sizes {
		s := "not laid out"
		if pc := l.piece(i, l.pc.Side); pc != nil {
			s = of(pc)
		}
		texts = append(texts, s)
		same = same && s == texts[0]
	}
	if same {
		return texts[0]
	}
	return strings.Join(BySize(l.p.Garment, l.sizes, func(n int) string { return texts[n] }), "; ")
}

// stretches is by of what reaches down from one place to another: where it is
// as far from the end in all sizes, or begins at the same place, that is said
// once.
func (l *layer) stretches(of func(pc *plan.Piece) (from, to measure.Length, has bool)) string {
	var froms, tos, ends []measure.Length
	all := true
	for _, i := range l.sizes {
		pc := l.piece(i, l.pc.Side)
		if pc == nil {
			all = false
			break
		}
		from, to, has := of(pc)
		all = all && has
		froms, tos, ends = append(froms, from), append(tos, to), append(ends, to-hemOf(pc))
	}
	same := func(ls []measure.Length) bool { return len(slices.Compact(slices.Clone(ls))) == 1 }
	if all && !same(tos) && same(ends) && ends[0] == 0 {
		high := make([]measure.Length, len(froms))
		for n := range froms {
			high[n] = tos[n] - froms[n]
		}
		if same(high) {
			return "the last " + l.place(high[0])
		}
	}
	if all && !same(tos) && same(froms) && froms[0] > 0 {
		return "from " + l.place(froms[0]) + l.fromTop() + ", " + strings.Join(BySize(l.p.Garment, l.sizes, func(n int) string { return "to " + l.place(tos[n]) }), "; ")
	}
	return l.by(func(pc *plan.Piece) string {
		if from, to, has := of(pc); has {
			return l.stretch(from, to)
		}
		return "none"
	})
}

// hemOf is how far down a piece ends.
func hemOf(pc *plan.Piece) measure.Length {
	for i := range pc.Lines {
		if pc.Lines[i].Kind == plan.HemLine {
			return pc.Lines[i].From.At
		}
	}
	return 0
}

// lines are the edges, folds, seams and stitching.
func (l *layer) lines() {
	pc := l.pc
	edges := ""
	switch {
	case pc.Edged:
		edges = text.Capital(l.edge(pc)[len("the "):]) + " " + l.out(pc.Finished)
	case l.lost() && !(pc.Side == plan.Under && l.bare):
		edges = "Finished edge, cut edge, facing and interfacing: not before " + Unsettled
	default:
		return
	}
	var cuts, others []string
	for i := range pc.Lines {
		out := pc.Lines[i].From.Out
		switch pc.Lines[i].Kind {
		case plan.CutLine:
			cuts = append(cuts, l.its(out))
		case plan.FoldLine:
			others = append(others, "fold of the turn-under "+l.out(out))
		case plan.SeamLine:
			what := "seam of the band "
			if pc.Side == plan.Flap {
				what = "sewn on "
			}
			others = append(others, what+l.out(out))
		case plan.StitchLine:
			others = append(others, l.stitching(out)+l.out(out))
		case plan.FacingLine:
			if !slices.ContainsFunc(pc.Areas, func(a plan.Area) bool { return a.Kind == plan.FacingArea && a.OutFrom == out }) {
				others = append(others, "inner edge of the facing "+l.out(out))
			}
		}
	}
	switch len(cuts) {
	case 0:
	case 1:
		edges += ", cut edge " + cuts[0]
	default:
		edges += ", cut edges " + text.And(cuts...)
	}
	l.say(edges)
	for _, s := range others {
		l.say(text.Capital(s))
	}
}

// stitching is what a line of stitching is of.
func (l *layer) stitching(out measure.Length) string {
	switch pc := l.pc; {
	case l.zip != nil && out == -(l.zip.Zip.Half+l.zip.Zip.Stitched):
		return "stitching of the zip "
	case l.band() != 0 && out == pc.Finished-l.band():
		return "stitching of the band "
	case l.lap != nil && l.lap.Sewing.FlyStitched != 0 && out == pc.Finished-l.lap.Sewing.FlyStitched:
		return "stitching of the fly "
	}
	return "top-stitching "
}

// areas are the interfacing, facing, patches and clear stretches.
func (l *layer) areas() {
	for _, i := range l.members {
		if k := &l.p.Closures[i]; k.Support.Waits != "" && !k.Stand.Lost && k.Support.Interfacing != nil && (l.pc.Side == plan.Flap) == k.Closure.Flap.Has() {
			l.say("Interfacing" + of(k.Closure) + ": not before " + k.Support.Waits + " is settled")
		}
	}
	for i := range l.pc.Areas {
		a := &l.pc.Areas[i]
		n := 0
		for j := range l.pc.Areas[:i] {
			if l.pc.Areas[j].Kind == a.Kind {
				n++
			}
		}
		switch a.Kind {
		case plan.InterfacingArea:
			in := ""
			if l.fly() && l.pc.Side == plan.Over {
				in = "in the fly, "
			}
			l.say(text.Capital(a.Name) + " interfacing, " + in + l.strip(a.OutTo-a.OutFrom) + " wide, " + l.by(func(pc *plan.Piece) string {
				if a := nth(pc, plan.InterfacingArea, n); a != nil {
					return l.lies(pc, a)
				}
				return "none"
			}))
		case plan.FacingArea:
			what := "Facing from "
			if l.band() != 0 && a.OutFrom == l.pc.Finished-l.band() {
				what = "Band from "
			}
			l.say(what + l.reach(a.OutTo, l.line) + " to " + l.reach(a.OutFrom, "it"))
		case plan.PatchArea:
			l.say("Patches from " + l.reach(a.OutTo, l.line) + " to " + l.reach(a.OutFrom, "it") + ", " + l.len(a.To-a.From) + " high")
		case plan.ClearArea, plan.TurnUpArea:
			what := "Clear for " + a.Name
			if a.Kind == plan.TurnUpArea {
				what = "Hem turned up"
			}
			l.say(what + ": " + l.stretches(func(pc *plan.Piece) (from, to measure.Length, has bool) {
				if a := nth(pc, a.Kind, n); a != nil {
					return a.From, a.To, true
				}
				return 0, 0, false
			}))
		}
	}
}

// nth is the nth area of that kind, nil if there is none.
func nth(pc *plan.Piece, kind plan.AreaKind, n int) *plan.Area {
	for i := range pc.Areas {
		if a := &pc.Areas[i]; a.Kind == kind {
			if n == 0 {
				return a
			}
			n--
		}
	}
	return nil
}

// parts are the holes, fasteners, loops and zips, those of one sort together.
func (l *layer) parts() {
	var all []set
	for _, i := range l.sizes {
		if pc := l.piece(i, l.pc.Side); pc != nil {
			for _, s := range sets(pc) {
				if !slices.Contains(all, s) {
					all = append(all, s)
				}
			}
		}
	}
	for i := range all {
		l.part(&all[i])
	}
}

func (l *layer) part(s *set) {
	c := &l.p.Garment.Closures[s.closure]
	what := partWord(s.kind)
	if s.kind == plan.EyePart {
		what = EyeWord(&l.p.Closures[s.closure])
	}
	if slices.ContainsFunc(l.sizes, func(i int) bool {
		pc := l.piece(i, l.pc.Side)
		return pc != nil && len(s.in(pc)) > 1
	}) {
		what += "s"
	}
	switch {
	case s.kind == plan.TeethPart || s.kind == plan.TapePart:
		what = partWord(s.kind) + " of the zip"
	case s.role == plan.Show && s.kind == plan.HolePart:
		what += " for show" + of(c) + ", sewn and not cut"
	case s.role == plan.Show:
		what += " for show" + of(c)
	case s.role == plan.Inner && s.kind == plan.HolePart:
		what = "hole of the inner button" + of(c)
	case s.role == plan.Inner:
		what = "inner " + partWord(s.kind) + of(c) + ", on the inside"
	default:
		what += of(c)
	}
	if s.kind == plan.TeethPart {
		l.say(text.Capital(what) + ": " + l.stretches(func(pc *plan.Piece) (from, to measure.Length, has bool) {
			if qs := s.in(pc); len(qs) != 0 {
				return qs[0].From, qs[0].To, true
			}
			return 0, 0, false
		}))
		return
	}
	lies := l.by(func(pc *plan.Piece) string {
		qs := s.in(pc)
		if len(qs) == 0 {
			return "none"
		}
		return l.partsLie(s, qs)
	})
	l.say(text.Capital(what) + ": " + lies)
}

// partsLie says where parts lie across in one size, in which rows where the
// closure has columns, and how far each reaches.
func (l *layer) partsLie(s *set, qs []*plan.Part) string {
	q := qs[0]
	across := l.across(qs)
	head, rows := "", ""
	if l.hasRows(s) {
		head, rows = inRows(qs)+" at ", inRows(qs)+", "
		if strings.HasPrefix(across, "on ") {
			head = inRows(qs) + " "
		}
	}
	switch s.kind {
	case plan.HolePart:
		long := "cut " + l.hole(&l.p.Closures[s.closure].Hole, q.Cut) + " and stitched " + l.len(q.Stitched) + " long"
		switch q.Cut {
		case 0:
			long = "stitched " + l.len(q.Stitched) + " long"
		case q.Stitched: // bound
			long = "cut " + l.hole(&l.p.Closures[s.closure].Hole, q.Cut) + " long"
		}
		along := l.p.Closures[s.closure].Hole.Direction == "along"
		each := "each "
		if len(qs) == 1 {
			each = ""
		}
		sewn := ""
		if h := &l.p.Closures[s.closure].Hole; q.Cut != 0 && h.Sewn() != h.Length {
			sewn = "; the machine sews " + l.hole(h, h.Sewn())
		}
		if ls, same := outs(qs); same && ls[0] == 0 && head == "" && !along {
			return each + long + ", " + l.about(q, along, l.line) + sewn
		}
		return head + across + "; " + each + long + ", " + l.about(q, along, "its mark") + sewn
	case plan.ButtonPart, plan.TackPart, plan.SnapCap, plan.SnapStud, plan.RivetPart, plan.EyeletPart, plan.BackingPart:
		return head + across
	case plan.TogglePart, plan.FrogPart:
		return head + across + "; each from " + l.ends(qs, outTo, l.line) + " to " + l.ends(qs, outFrom, "it")
	}
	each := "each "
	if s.kind == plan.TapePart || len(qs) == 1 {
		each = ""
	}
	return rows + each + "from " + l.ends(qs, outTo, l.line) + " to " + l.ends(qs, outFrom, "it")
}
