package rules

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// Place is a thick place of a closure: where, how thick, and what to do
// before sewing over it.
type Place struct {
	Name    string // the band's top, the band's foot, the flap's fold, a seam crossing
	Thick   measure.Length
	Pressed measure.Length
	Says    string // how it adds up
}

func placesOf(g *catalog.Garment, c *catalog.Closure, k *ClosurePlan) []Place { return nil }

var thickRules []*Rule
