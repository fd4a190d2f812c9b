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
	hemWords   = "cut the hem allowance away inside the band, but for 1/4 in (6 mm)"
	gradeWords = "grade the allowances, 1/4 in (6 mm) for the one next to the outside down to 1/8 in (3 mm), and cut the corner away"
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
	count := 0
	for i := range c.Run.Clears {
		if c.Run.Clears[i].Pressed != "" {
			count++
		}
	}
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
		hem := ""
		if c.Run.Hem.Has() {
			hem = "hem"
		}
		if c.Run.HemUnder.Or(0) > 0 {
			add("foot of the band", 2, 2*under, foot+", its raw edge turned in too", hemWords, "hem_under")
		} else {
			add("foot of the band", 1, 2*under, foot, hemWords, hem)
		}
	} else {
		switch c.Where {
		case "flap":
			add("fold of the flap", 1, 1, "the flap, its seam's allowances folded down behind it, and the body beneath", "trim the flap's allowance to 1/8 in (3 mm) under the fold and let the body's cover it", "")
		case "collar", "cuff", "tab", "strap", "pocket":
			add(placeName[c.Where], 1, 0, "the layers and the allowances enclosed at their edge", gradeWords, "")
		}
	}
	for i := range c.Run.Clears {
		switch z := &c.Run.Clears[i]; z.Pressed {
		case "one-side":
			add(z.Name, 2, 0, "the layers and both allowances of the seam on one side, in each of them", "press the seam open inside the band, or grade its allowances", "clear")
		case "open":
			add(z.Name, 1, 0, "the layers and an open seam's allowance in each of them", "trim the seam to 1/4 in (6 mm) where it runs into the band", "clear")
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

// called is the place as a message names it.
func (p *Place) called() string {
	if p.Path == "clear" {
		return "the crossing of the " + p.Name
	}
	return "the " + p.Name
}

// placePath is the path of the value that a thick place follows from.
func (x *Context) placePath(p *Place) string {
	switch p.Path {
	case "clear":
		for i := range x.C.Run.Clears {
			if x.C.Run.Clears[i].Name == p.Name {
				return source.Item(x.path("run.clear"), i)
			}
		}
	case "":
		return x.path("over")
	}
	return x.path("run." + p.Path)
}

// Grade are the widths that so many allowances in one seam are trimmed to, the
// one next to the outside first: 1/4 in, then in even steps down to 1/8.
func Grade(n int) []measure.Length {
	out := make([]measure.Length, n)
	for i := range out {
		out[i] = quarter
		if n > 1 {
			out[i] -= (quarter - eighth) * measure.Length(i) / measure.Length(n-1)
		}
	}
	return out
}

var thickRules = []*Rule{
	{
		Name: "place-thick", Severity: Caution,
		Title:   "the thickest places of all must go under the foot too",
		Formula: "top of the band: layers + every cloth once more; foot: the same with the hem folded in (twice where its raw edge is turned in); a turn-under adds two plies; fold of a flap: layers + allowances + the body; seam crossing: an allowance more in every cloth. Over the foot's lift: caution, with where to trim first (note where the extra lift clears it); pressed, trimmed and graded still over it: sew that place by hand",
		Why:     "The band's foot and top have twice the layers of the front between: there the machine jams, the needle bends and strikes, and the last hole is lost.",
		Sources: []string{
			"geometry: layers counted from the construction",
			"Apparel: Design, Textiles and Construction, 2012, p. 451: allowances graded from 1/4 in next to the outside to 1/8 in",
			"household machine service manual: foot raised 5.5 to 6.2 mm",
			"common practice, no source: the hem of the body is turned up and folded into the band; the allowance in a turned collar is trimmed to 1/4 in",
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
			have, need := x.apart(p.Thick, lift)
			n := atMost(p.Thick, lift)
			if p.Graded > most+mm/10 {
				x.report(Caution, x.placePath(p), n, "%s is %d layers of cloth, %s thick%s (%s), and the foot lifts %s; even pressed, trimmed and graded it is %s: %s, and sew this place by hand", p.called(), p.Cloths, have, x.guess(&x.K.Over), p.Says, need, x.thin(p.Graded), p.Trim)
				return
			}
			if p.Thick <= most {
				x.report(Note, x.placePath(p), n, "%s is %d layers of cloth, %s thick%s (%s), more than the foot lifts by hand, %s: use the extra lift or the knee, and %s", p.called(), p.Cloths, have, x.guess(&x.K.Over), p.Says, need, p.Trim)
				return
			}
			x.report(Caution, x.placePath(p), n, "%s is %d layers of cloth, %s thick%s (%s), more than the foot lifts, %s: %s; pressed, that leaves %s. Turn the wheel by hand over it", p.called(), p.Cloths, have, x.guess(&x.K.Over), p.Says, need, p.Trim, x.thin(p.Graded))
		},
		propose: func(x *Context, f *Finding) []Change {
			var out []Change
			if x.C.Run.HemUnder.Or(0) > 0 {
				out = append(out, Change{With: []string{x.key("run.hem_under") + "=0"}, Says: "overcast the hem's raw edge and do not turn it in", Cost: 2})
			}
			for i := range x.C.Run.Clears {
				if z := &x.C.Run.Clears[i]; z.Pressed == "one-side" {
					out = append(out, Change{With: []string{x.key("run.clear."+z.Name) + ".pressed=open"}, Says: "press the " + z.Name + " open", Cost: 1})
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
			x.report(sev, path, Numbers{float64(n.NM), float64(want), float64(n.NM - want), "NM", true}, "%s is still %s thick when pressed and graded: check the needle clamp and change to %s before sewing over it", p.called(), x.thin(p.Graded), want)
		},
		propose: func(x *Context, f *Finding) []Change { return proposeNeedle(x) },
	},
}
