package work

import (
	"strings"

	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// Cut is something to cut for one garment: part of a front, a facing, a band,
// a strip or patch of interfacing, the lips of a hole, the cord of a loop.
type Cut struct {
	What   string         // fronts beyond the centre line
	For    string         // the opening or closure
	Pieces int            // 0: as many as the pattern has
	Wide   measure.Length // 0: it has no width
	Least  bool           // Wide is worked out, not told: it is printed rounded up
	// Long and Longest are its length in the sizes asked for, the shortest and
	// the longest; 0 where it is as long as the piece that it belongs to.
	Long, Longest measure.Length
}

// Cuts are what to cut for the openings, in the order of the file, in those
// sizes.
func Cuts(p *rules.Planned, sizes []int) []Cut {
	var out []Cut
	for i := range p.Closures {
		o := openingOf(p, i)
		o.sizes = sizes
		if o.first == i {
			out = append(out, o.cuts()...)
		}
		out = append(out, closureCuts(p, i, sizes)...)
	}
	return out
}

// cuts are the fronts, bands, flies, flaps and facings of an opening.
func (o *opening) cuts() []Cut {
	over, under := o.any(plan.Over), o.any(plan.Under)
	if over == nil || under == nil {
		return nil
	}
	if !o.front {
		if k := o.ownBand(); k != nil {
			return []Cut{{What: bandsOf(k), For: o.name, Pieces: k.Closure.Pieces, Wide: k.Stand.BandCut, Least: true}}
		}
		if o.facedBy() == nil || o.lost() {
			return nil
		}
		if a := facingWide(over); a > 0 && a == facingWide(under) {
			return []Cut{{What: "both sides of the " + o.thing + ", facing", For: o.name, Pieces: 2, Wide: a}}
		}
		var out []Cut
		for _, pc := range []*plan.Piece{over, under} {
			if a := facingWide(pc); a > 0 {
				out = append(out, Cut{What: strings.TrimPrefix(o.called(pc), "the ") + ", facing", For: o.name, Pieces: 1, Wide: a})
			}
		}
		return out
	}
	var out []Cut
	// Both fronts in one line where they are cut alike.
	each := func(what string, wide func(pc *plan.Piece) measure.Length) {
		a, b := wide(over), wide(under)
		switch {
		case a == b && a > 0 && !OnLine(a):
			out = append(out, Cut{What: "both fronts" + what, For: o.name, Pieces: 2, Wide: a, Least: o.drafted(a)})
			return
		case a > 0 && !OnLine(a):
			out = append(out, Cut{What: over.Piece + what, For: o.name, Pieces: 1, Wide: a, Least: o.drafted(a)})
		}
		if b > 0 && !OnLine(b) {
			out = append(out, Cut{What: under.Piece + what, For: o.name, Pieces: 1, Wide: b, Least: o.drafted(b)})
		}
	}
	switch at := func(pc *plan.Piece) measure.Length { return pc.Finished - o.lap.Stand.Band + o.lap.Stand.Seam }; {
	case o.line == "" || o.lost():
	case o.sewnOn() && at(over) < 0: // the band makes the edge
		each(", inside "+o.line, func(pc *plan.Piece) measure.Length { return -at(pc) })
	case o.sewnOn():
		each(", beyond "+o.line, at)
	default:
		each(", beyond "+o.line, func(pc *plan.Piece) measure.Length { return pc.Cloth })
	}
	k := o.lap
	if k != nil && k.Stand.Construction == "band" && !o.lost() {
		out = append(out, Cut{What: "bands", For: o.name, Pieces: 2, Wide: k.Stand.BandCut, Least: true})
	}
	if o.fly() && !o.lost() {
		out = append(out, Cut{What: "fly, each layer", For: o.name, Pieces: 2, Wide: o.flyCut()})
	}
	if flap := o.any(plan.Flap); flap != nil {
		wide, _, _ := o.flapWide(flap)
		out = append(out, Cut{What: "flap, from cut edge to cut edge", For: o.flap.Closure.Name, Pieces: o.flapCut(), Wide: wide})
	}
	switch {
	case o.lost():
	case k != nil && (k.Stand.Construction == "folded" || k.Stand.Construction == "band"):
	case o.faced(plan.Over):
		each(", facing", facingWide)
	case k != nil && k.Stand.Construction == "faced" && k.Stand.FacingUsual > 0:
		s := &k.Stand
		out = append(out, Cut{What: "both fronts, facing, at least", For: o.name, Pieces: 2, Wide: s.Column + s.Have + s.FacingUsual + s.Seam, Least: true})
	}
	return out
}

// facingWide is how wide the facing of a piece is cut, 0 where it has none.
func facingWide(pc *plan.Piece) measure.Length {
	for i := range pc.Areas {
		if a := &pc.Areas[i]; a.Kind == plan.FacingArea {
			return a.OutTo - a.OutFrom + pc.Cloth - pc.Finished
		}
	}
	return 0
}

// ownBand is the closure that a separate band of a cuff or another small
// opening is cut for, or nil.
func (o *opening) ownBand() *plan.Closure {
	k := o.lap
	if o.front || k == nil || k.Stand.Construction != "band" || k.Stand.BandCut == 0 || o.lost() {
		return nil
	}
	return k
}

func bandsOf(k *plan.Closure) string {
	if k.Closure.Pieces > 1 {
		return "bands"
	}
	return "band"
}

// flyCut is how wide each layer of a fly is cut, its two seams with it.
func (o *opening) flyCut() measure.Length { return o.flyWide() + 2*o.lap.Stand.Seam }

// flyWide is how wide a fly is when it is done.
func (o *opening) flyWide() measure.Length {
	wide := max(flyWidth, o.lap.Stand.Have+o.lap.Support.Reach, o.lap.Support.Strip)
	if over := o.any(plan.Over); over != nil {
		for i := range over.Areas { // and every interfacing lies on it whole
			if a := &over.Areas[i]; a.Kind == plan.InterfacingArea {
				wide = max(wide, o.lap.Stand.Have-plan.FlyShort-a.OutFrom)
			}
		}
	}
	return wide.RoundUp(plan.HoleStep(o.u))
}

// closureCuts are the interfacing, lips and cords of one closure.
func closureCuts(p *rules.Planned, i int, sizes []int) []Cut {
	k := &p.Closures[i]
	c := k.Closure
	var out []Cut
	// add adds something whose number and length may differ by size.
	add := func(x Cut, of func(size int) (n int, long measure.Length)) {
		for _, z := range sizes {
			n, long := of(z)
			if n == 0 {
				continue
			}
			if x.Pieces == 0 {
				x.Long = long
			}
			x.Long = min(x.Long, long)
			x.Pieces, x.Longest = max(x.Pieces, n), max(x.Longest, long)
		}
		if x.Pieces != 0 {
			x.For = c.Name
			out = append(out, x)
		}
	}
	for n := range k.Support.Strips {
		x := &k.Support.Strips[n]
		what := "strip"
		if len(sizes) != 0 && k.Patch(sizes[0]) {
			what = "patch"
		}
		add(Cut{What: what + " of " + (&planner{g: p.Garment}).interfacing(x.Interfacing), Wide: x.Width, Least: !x.Given}, func(z int) (int, measure.Length) {
			s := p.StripPieces(i, n, z)
			return s.N, s.Length
		})
	}
	if h := &k.Hole; h.Kind == "bound" {
		of := "cloth"
		if cl := rules.Shell(c.Over); cl != nil {
			of = p.Garment.NameOf(cl)
		}
		add(Cut{What: "strip of " + of + " for the lips of a hole, one of them for the sample", Wide: h.LipWidth}, func(z int) (int, measure.Length) {
			if n := k.Holes(z); n > 0 {
				return n + 1, h.LipLength
			}
			return 0, 0
		})
	}
	if l := &k.Loop; l.Needed && l.Cut != 0 {
		add(Cut{What: "cord of a loop"}, func(z int) (int, measure.Length) { return k.Holes(z), l.Cut })
		if l.CutFastener > 0 {
			add(Cut{What: "cord of a " + kindOf(c)}, func(z int) (int, measure.Length) { return k.Holes(z), l.CutFastener })
		}
		add(Cut{What: "patch for the ends of a cord", Wide: plan.PatchWide}, func(z int) (int, measure.Length) { return k.Patched(z), plan.PatchLong })
	}
	return out
}
