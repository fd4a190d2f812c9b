package plan

import (
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// Place is a thick place of a closure: where, how thick, and what to do
// before sewing over it.
type Place struct {
	Name      string         // the top of the band or of the front edge, its foot, the fold of the flap, a seam crossing
	Thick     measure.Length // lying free
	Tol       measure.Length // ± of it
	Estimated bool           // some of it was estimated from a weight
	Pressed   measure.Length // under the foot
	Graded    measure.Length // pressed, once the allowances are trimmed and graded away
	Cloths    int            // layers of cloth there
	Says      string         // how it adds up
	Trim      string         // where to trim or grade first, with {quarter} and {eighth} of an inch for lengths
	Path      string         // of the value it follows from; "" the layers
}

const (
	hemWords   = "cut the hem allowance away inside the band, but for {quarter}"
	GradeWords = "grade the allowances, {quarter} for the one next to the outside down to {eighth}, and cut the corner away"
)

// GradedOver is how far over the foot's lift a place that was pressed and graded
// is let pass: ours.
const GradedOver = mm / 10

// GradedLimit is GradedOver as a threshold.
var GradedLimit = Thin("over", GradedOver, Ours)

// Plies are the layers of cloth of a stack added up, and how many they are.
func Plies(s *Stack) (thick, pressed, tol measure.Length, n int) {
	for i := range s.Layers {
		if l := &s.Layers[i]; l.Layer.Cloth != nil {
			thick += l.Thick
			pressed += l.Pressed
			tol += l.Tol
			n++
		}
	}
	return
}

// placesOf are the thick places, thickest first, worked out from the layers
// under the hole and from how the edge is made. Interfacing is left out of
// what is turned: it is trimmed back to the seam line.
func placesOf(g *catalog.Garment, c *catalog.Closure, k *Closure) []Place {
	if c.Notion.Kind == catalog.Zip {
		return nil
	}
	cloth, clothPressed, clothTol, n := Plies(&k.Over)
	if n == 0 {
		return nil
	}
	one := shellPly(&k.Over)
	guessed := k.Over.Estimated || slices.ContainsFunc(k.Over.Layers, func(l Layer) bool { return l.Layer.Cloth != nil && l.Estimated })
	f := &c.Stand
	edge := f.Construction != "" && IsFront(c)
	var out []Place
	// add is a place with so many more times all the cloths, and so many
	// single plies of the outermost one.
	add := func(name string, all, single int, says, trim, path string) {
		p := Place{Name: name, Says: says, Trim: trim, Path: path, Cloths: n*(1+all) + single, Estimated: guessed}
		p.Thick = k.Over.Thick + measure.Length(all)*cloth + measure.Length(single)*one.Thick
		p.Tol = k.Over.Tol + measure.Length(all)*clothTol + measure.Length(single)*one.Tol
		p.Pressed = k.Over.Pressed + measure.Length(all)*clothPressed + measure.Length(single)*one.Pressed
		// Trimmed and graded, one ply of the allowances is left over the rest.
		p.Graded = min(p.Pressed, k.Over.Pressed+one.Pressed)
		at := len(out)
		for at > 0 && out[at-1].Thick < p.Thick {
			at--
		}
		out = append(out, Place{})
		copy(out[at+1:], out[at:])
		out[at] = p
	}
	under := 0
	if f.Construction == "folded" && f.TurnUnder.Or(0) != 0 {
		under = 1
	}
	if edge {
		atTop, atFoot := "top of the band", "foot of the band"
		if f.Construction == "faced" || f.Construction == "fly" {
			atTop, atFoot = "top of the front edge", "foot of the front edge"
		}
		top := "the layers and the neck seam's allowances turned in with them"
		foot := "the layers and the hem folded into them"
		if under != 0 {
			top = "the layers, the neck seam's allowances turned in, and the turn-under"
			foot = "the layers, the hem folded in, and the turn-under"
		}
		add(atTop, 1, 2*under, top, GradeWords, "")
		hem := ""
		if c.Run.Hem.Has() {
			hem = "hem"
		}
		if c.Run.HemUnder.Or(0) != 0 {
			add(atFoot, 2, 2*under, foot+", its raw edge turned in too", hemWords, "hem_under")
		} else {
			add(atFoot, 1, 2*under, foot, hemWords, hem)
		}
	} else {
		switch c.Where {
		case "flap":
			add("fold of the flap", 1, 1, "the flap, its seam's allowances folded down behind it, and the body beneath", "trim the flap's allowance to {eighth} under the fold and let the body's cover it", "")
		case "collar", "cuff", "tab", "strap", "pocket":
			add(placeName[c.Where], 1, 0, "the layers and the allowances enclosed at their edge", GradeWords, "")
		}
	}
	for i := range c.Run.Clears {
		switch z := &c.Run.Clears[i]; z.Pressed {
		case "one-side":
			add(z.Name, 2, 0, "the layers and both allowances of the seam on one side, in each of them", "press the seam open inside the band, or grade its allowances", "clear")
		case "open":
			add(z.Name, 1, 0, "the layers and an open seam's allowance in each of them", "trim the seam to {quarter} where it runs into the band", "clear")
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
func shellPly(s *Stack) Layer {
	for i := range s.Layers {
		if s.Layers[i].Layer.Cloth != nil {
			return s.Layers[i]
		}
	}
	return Layer{}
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
