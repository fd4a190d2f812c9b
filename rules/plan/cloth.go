package plan

import (
	"math"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// Limit is how hot a cloth may be pressed.
type Limit struct {
	Symbol measure.Temperature // by the care symbol of its most delicate fibre
	Other  measure.Temperature // by another published table, 0 where it has none
	Fibre  string              // the fibre that sets Symbol; "" when none is known
}

// IronLimit is the limit of a blend: that of the fibre that needs the least
// heat, however little of it there is.
func IronLimit(cat *catalog.Catalog, shares map[string]float64) Limit {
	l := Limit{Symbol: math.MaxFloat32, Other: math.MaxFloat32}
	for name, share := range shares {
		f := cat.Fibre(name)
		if share <= 0 || f == nil || !f.Iron.Has() {
			continue
		}
		if s := f.Iron.V; s < l.Symbol || s == l.Symbol && name < l.Fibre {
			l.Symbol, l.Fibre = s, name
		}
		// A fibre that the other table does not list keeps to its symbol.
		l.Other = min(l.Other, f.IronOther.Or(f.Iron.V))
	}
	if l.Fibre == "" {
		return Limit{}
	}
	return l
}

// CutForShrink is what to cut so that a length is left after so many percent
// of shrinkage, more than 0 and less than 100; others are as none.
func CutForShrink(length measure.Length, percent float64) measure.Length {
	if percent <= 0 || percent >= 100 {
		return length
	}
	return Scale(length, 1/(1-percent/100))
}

// ShrinkApart is how far two layers of that length come apart when they
// shrink by so many percent each.
func ShrinkApart(length measure.Length, a, b float64) measure.Length {
	return Scale(length, math.Abs(a-b)/100)
}

// LayerDistance is how far the middles of two layers lie apart, with so much
// between them.
func LayerDistance(outer, inner, between measure.Length) measure.Length {
	return (outer+inner)/2 + between
}

// TurnOfCloth is how much longer the outer of two layers must be when they
// are turned back on themselves, their middles d apart: π d.
func TurnOfCloth(d measure.Length) measure.Length { return Scale(d, math.Pi) }

// CollarSeams are the seam allowances of a collar that make its turn of
// cloth from a pattern with one allowance all round: the under collar trimmed
// on all edges, the upper one on its outer edges and at the neck (J. Barlup,
// Understand Turn-of-Cloth, Threads no. 131).
func CollarSeams(pattern measure.Length) (under, upperOuter, upperNeck measure.Length) {
	return pattern - quarter, pattern - eighth, pattern - quarter
}

// HoldsPress says whether a fold of the cloth stays where it was pressed.
func HoldsPress(c *catalog.Cloth) bool {
	if c.Presses.Has() {
		return c.Presses.V
	}
	switch c.Surface {
	case "looped", "pile", "coated", "quilted":
		return false
	}
	switch c.Kind {
	case "fleece", "wadding", "pile", "leather", "waxed-cotton":
		return false
	}
	return true
}

// Shell is the outermost cloth of the layers, or nil.
func Shell(ls []catalog.Layer) *catalog.Cloth {
	for i := range ls {
		if ls[i].Cloth != nil {
			return ls[i].Cloth
		}
	}
	return nil
}

// Together says whether a closure has the interfacing on the cloth: the cloth
// that it lies directly under, or over where it is the outermost layer.
func Together(ls []catalog.Layer, in *catalog.Interfacing, cl *catalog.Cloth) bool {
	for i := range ls {
		if ls[i].Interfacing != in {
			continue
		}
		on := (*catalog.Cloth)(nil)
		for k := i - 1; k >= 0 && on == nil; k-- {
			on = ls[k].Cloth
		}
		for k := i + 1; k < len(ls) && on == nil; k++ {
			on = ls[k].Cloth
		}
		if on == cl {
			return true
		}
	}
	return false
}
