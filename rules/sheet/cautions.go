package sheet

import (
	"slices"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// cautions are the usual ones for the work that this garment takes. What a
// rule found stands among the findings.
func (s *Garment) cautions() []string {
	kinds, cut, pins := map[string]bool{}, false, false
	for i := range s.Closures {
		kinds[s.Closures[i].Fastener] = true
		k := &s.plan.Closures[i]
		cut, pins = cut || k.SewnHole(), pins || k.SewnHole() && k.Hole.ByMachine()
	}
	out := []string{"Needles break at thick seams: wear eye protection, turn the wheel by hand."}
	switch {
	case pins:
		out = append(out, "Open a hole with a pin across each end: cut from the middle towards the pins, the blade away from your hand, on a block.")
	case cut:
		out = append(out, "Cut a hole with the blade away from your hand, on a block.")
	}
	if kinds[catalog.TackButton] || kinds[catalog.Rivet] || kinds[catalog.Eyelet] || kinds[catalog.Snap] {
		out = append(out, "Wear eye protection when you set hardware, use the tool its maker names, never a steel hammer on hardened dies, and make a test set in the real layers first.")
	}
	g := s.plan.Garment
	if slices.ContainsFunc(g.Interfacings, func(i *catalog.Interfacing) bool { return i.Fixing == "fusible" }) ||
		slices.ContainsFunc(g.Cloths, func(c *catalog.Cloth) bool { return !rules.Hardly(c) && plan.IronLimit(g.Catalog, c.Fibre).Fibre != "" }) {
		out = append(out, "Irons burn: try the heat on a scrap, through a press cloth, as the maker says.")
	}
	if s.Wearer != "adult" {
		out = append(out, "Small parts can choke a child and cords can catch: the law where the garment is sold comes first, and an accredited laboratory is the one to test it.")
	}
	return append(out, "No certificate: makers' instructions and the law where it is sold come first.")
}
