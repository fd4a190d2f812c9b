package rules

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

// Place is a thick place of a closure: where, how thick, and what to do
// before sewing over it.
type Place struct {
	Name    string         // the top of the band, its foot, the fold of the flap, a seam crossing
	Thick   measure.Length // lying free
	Pressed measure.Length // under the foot
	Graded  measure.Length // pressed, once the allowances are trimmed and graded away
	Cloths  int            // layers of cloth there
	Says    string         // how it adds up
	Trim    string         // where to trim or grade first
	Path    string         // of the value it follows from; "" the layers
}

const (
	usualHem = in // common practice, no source: hem turned 1 in on the body

	gradeWords = "grade the allowances, 1/4 in for the one next to the outside and 1/8 in for the others, and cut the corner away"
)

// plies are the layers of cloth of a stack added up, and how many they are.
func plies(s *Stack) (thick, pressed measure.Length, n int) {
	for i := range s.Layers {
		if l := &s.Layers[i]; l.Layer.Cloth != nil {
			thick += l.Thick
			pressed += l.Pressed
			n++
		}
	}
	return
}

// placesOf are the thick places, thickest first, worked out from the layers
// under the hole and from how the edge is made. Interfacing is left out of
// what is turned: it is trimmed back to the seam line.
func placesOf(g *catalog.Garment, c *catalog.Closure, k *ClosurePlan) []Place {
	if c.Notion.Kind == catalog.Zip {
		return nil
	}
	cloth, clothPressed, n := plies(&k.Over)
	if n == 0 {
		return nil
	}
	one, onePressed := shellPly(&k.Over)
	f := &c.Stand
	edge := f.Construction != "" && isFront(c)
	count := len(c.Run.Crossings)
	if edge {
		count += 2
	} else if c.Where != "" {
		count++
	}
	if count == 0 {
		return nil
	}
	out := make([]Place, 0, count)
	// add is a place with so many more times all the cloths, and so many
	// single plies of the outermost one.
	add := func(name string, all, single int, says, trim, path string) {
		p := Place{Name: name, Says: says, Trim: trim, Path: path, Cloths: n*(1+all) + single}
		p.Thick = k.Over.Thick + measure.Length(all)*cloth + measure.Length(single)*one
		p.Pressed = k.Over.Pressed + measure.Length(all)*clothPressed + measure.Length(single)*onePressed
		// Trimmed and graded, one ply of the allowances is left over the rest.
		p.Graded = min(p.Pressed, k.Over.Pressed+onePressed)
		at := len(out)
		for at > 0 && out[at-1].Thick < p.Thick {
			at--
		}
		out = append(out, Place{})
		copy(out[at+1:], out[at:])
		out[at] = p
	}
	under := 0
	if f.Construction == "folded" && f.TurnUnder.Or(0) > 0 {
		under = 1
	}
	if edge {
		top := "the layers and the neck seam's allowances turned in with them"
		foot := "the layers and the hem folded into them"
		if under > 0 {
			top = "the layers, the neck seam's allowances turned in, and the turn-under"
			foot = "the layers, the hem folded in, and the turn-under"
		}
		add("top of the band", 1, 2*under, top, gradeWords, "")
		hem, path := f.Hem.Or(usualHem), ""
		if f.Hem.Has() {
			path = "hem"
		}
		switch {
		case hem <= 0:
		case f.HemUnder.Or(0) > 0:
			add("foot of the band", 2, 2*under, foot+", its raw edge turned in too", "cut the hem allowance away inside the band, but for 1/4 in", "hem_under")
		default:
			add("foot of the band", 1, 2*under, foot, "cut the hem allowance away inside the band, but for 1/4 in", path)
		}
	} else {
		switch c.Where {
		case "flap":
			add("fold of the flap", 1, 1, "the flap, its seam's allowances folded down behind it, and the body beneath", "trim the flap's allowance to 1/8 in under the fold and let the body's cover it", "")
		case "collar", "cuff", "tab", "strap", "pocket":
			add(placeName[c.Where], 1, 0, "the layers and the allowances enclosed at their edge", gradeWords, "")
		}
	}
	for i := range c.Run.Crossings {
		x := &c.Run.Crossings[i]
		if x.Pressed == "one-side" {
			add(x.Name, 2, 0, "the layers and both allowances of the seam on one side, in each of them", "press the seam open inside the band, or grade its allowances", "crossing")
		} else {
			add(x.Name, 1, 0, "the layers and an open seam's allowance in each of them", "trim the seam to 1/4 in where it runs into the band", "crossing")
		}
	}
	return out
}

// placeName is the thick place of a piece with an enclosed edge.
var placeName = map[string]string{
	"collar": "edge of the collar", "cuff": "edge of the cuff", "tab": "end of the tab",
	"strap": "end of the strap", "pocket": "mouth of the pocket",
}

// shellPly is one ply of the outermost cloth.
func shellPly(s *Stack) (thick, pressed measure.Length) {
	for i := range s.Layers {
		if s.Layers[i].Layer.Cloth != nil {
			return s.Layers[i].Thick, s.Layers[i].Pressed
		}
	}
	return 0, 0
}

// placePath is the path of the value that a thick place follows from.
func (x *Context) placePath(p *Place) string {
	switch p.Path {
	case "crossing":
		for i := range x.C.Run.Crossings {
			if x.C.Run.Crossings[i].Name == p.Name {
				return source.Item(x.path("run.crossing"), i)
			}
		}
	case "":
		return x.path("over")
	}
	return x.path("stand." + p.Path)
}

var thickRules = []*Rule{
	{
		Name: "place-thick", Severity: Conflict,
		Title:   "the thickest places of all must go under the foot too",
		Formula: "top of the band: layers + every cloth once more; foot: the same with the hem folded in (twice where its raw edge is turned in); a turn-under adds two plies; fold of a flap: layers + allowances + the body; seam crossing: an allowance more in every cloth. Over the foot's lift: caution; pressed, trimmed and graded still over it: conflict",
		Why:     "The band's foot and top have twice the layers of the front between: there the machine jams, the needle bends and strikes, and the last hole is lost.",
		Sources: []string{
			"geometry: layers counted from the construction",
			"Apparel: Design, Textiles and Construction, 2012, p. 451: allowances graded from 1/4 in next to the outside to 1/8 in",
			"household machine service manual: foot raised 5.5 to 6.2 mm",
			"common practice, no source: hem turned 1 in on the body, the allowance in a turned collar trimmed to 1/4 in",
		},
		Ours: "interfacing counted as trimmed out of the allowances; one ply of allowance left after trimming and grading",
		check: func(x *Context) {
			m := &x.G.Machine
			if !m.FootLift.Has() || len(x.K.Places) == 0 {
				return
			}
			p := &x.K.Places[0]
			lift := m.FootLift.V
			most := max(lift, m.FootLiftExtra.Or(0))
			if p.Thick <= lift || x.K.Over.Thick > most {
				return // the layers alone are too much: foot-lift speaks of that
			}
			if p.Graded > most {
				have, need := x.apart(p.Graded, most)
				x.report(Conflict, x.placePath(p), atMost(p.Graded, most), "the %s is %d layers of cloth, %s thick%s (%s); pressed, and trimmed as far as can be, %s is left, and the foot lifts only %s: sew this place by hand, or take a thinner cloth for the inside", p.Name, p.Cloths, x.thin(p.Thick), x.guess(&x.K.Over), p.Says, have, need)
				return
			}
			have, need := x.apart(p.Thick, lift)
			x.report(Caution, x.placePath(p), atMost(p.Thick, lift), "the %s is %d layers of cloth, %s thick%s (%s), more than the foot lifts, %s: %s; that leaves %s under the foot. Turn the wheel by hand over it", p.Name, p.Cloths, have, x.guess(&x.K.Over), p.Says, need, p.Trim, x.thin(p.Graded))
		},
		propose: func(x *Context, f *Finding) []Change {
			var out []Change
			if x.C.Stand.HemUnder.Or(0) > 0 {
				out = append(out, Change{With: []string{x.key("stand.hem_under") + "=0"}, Says: "overcast the hem's raw edge and do not turn it in", Cost: 2})
			}
			for i := range x.C.Run.Crossings {
				if c := &x.C.Run.Crossings[i]; c.Pressed == "one-side" {
					out = append(out, Change{With: []string{x.key("run.crossing."+c.Name) + ".pressed=open"}, Says: "press the " + c.Name + " open", Cost: 1})
				}
			}
			return out
		},
	},
	{
		Name: "place-needle", Severity: Caution,
		Title:   "change the needle before the bulky passes",
		Formula: "where the thickest place, pressed and graded, is over 4 mm and the layers of the hole are not, the needle is at least one size above the thin end of its band",
		Why:     "A needle chosen for the front between bends at the foot of the band, strikes the plate and breaks: pieces fly.",
		Sources: []string{
			"household machine manual: thin needles in thick cloth may bend or break",
			"common ground of twelve published needle charts: one size up for more layers",
		},
		Ours: "4 mm as the thickness that asks for a thicker needle",
		check: func(x *Context) {
			if len(x.K.Places) == 0 {
				return
			}
			p, n := &x.K.Places[0], &x.K.Needle
			if n.NM == 0 || p.Graded <= thickStack || max(x.K.Over.Pressed, x.K.Under.Pressed) > thickStack {
				return
			}
			want := min(NeedleStep(n.Min, 1), n.Max)
			if n.NM >= want {
				return
			}
			sev, path := Note, x.path("needle")
			if n.Given {
				sev = Caution
			}
			x.report(sev, path, Numbers{float64(n.NM), float64(want), float64(n.NM - want), "NM", true}, "the %s is still %s thick when pressed and graded: check the needle clamp and change to %s before sewing over it", p.Name, x.thin(p.Graded), want)
		},
		propose: func(x *Context, f *Finding) []Change { return proposeNeedle(x) },
	},
	{
		Name: "seam-under", Severity: Caution,
		Title:   "no fastener or hole over a seam crossing",
		Formula: "no crossing lies within the reach of a fastener or its hole, up and down from its centre",
		Why:     "A hole that climbs a seam comes out with a step; a post set across one grips on one side only.",
		Sources: []string{"from memory: a setting tool is adjusted for one thickness, never across a step"},

		check: func(x *Context) {
			for i := range x.C.Run.Crossings {
				cr := &x.C.Run.Crossings[i]
				x.eachSize(func(s int, z *SizePlan) {
					at := cr.At.At(s).V
					for _, p := range z.Positions {
						up, down := x.K.Reach.Up, x.K.Reach.Down
						apart := max(at-(p+down), (p-up)-at)
						if apart < 0 {
							x.report(Caution, source.Item(x.path("run.crossing"), i), atLeast(apart, 0), "a %s at %s lies on the %s at %s: move one of them, or add the seam to run.clear", x.C.Notion.Kind, x.long(p), cr.Name, x.long(at))
							return
						}
					}
				})
			}
		},
	},
}
