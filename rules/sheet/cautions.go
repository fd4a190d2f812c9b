package sheet

import (
	"slices"

	"placketeer/catalog"
)

// cautions are the usual ones for the work that this garment takes. What a
// rule found stands among the findings.
func (s *Garment) cautions() []string {
	out := []string{
		"A plan is no better than its measurements: measure the real notion and a folded stack of the real cloth, and sew a sample hole through the real layers before you cut.",
		"Wear eye protection when you sew thick seams: a needle that bends or strikes a pin, a button or the plate breaks, and pieces fly. Turn the wheel by hand over the thickest places.",
		"Open a hole with the blade away from your hand, a pin across each bar.",
	}
	kinds := map[string]bool{}
	for i := range s.Closures {
		kinds[s.Closures[i].Fastener] = true
	}
	if kinds[catalog.TackButton] || kinds[catalog.Rivet] || kinds[catalog.Eyelet] || kinds[catalog.Snap] {
		out = append(out, "Wear eye protection when you set hardware, use the tool its maker names, never a steel hammer on hardened dies, and make a test set in the real layers first.")
	}
	if slices.ContainsFunc(s.plan.Garment.Interfacings, func(i *catalog.Interfacing) bool { return i.Fixing == "fusible" }) {
		out = append(out, "Irons burn: test the heat on a scrap, with a press cloth, and keep to the maker's instructions for the interfacing.")
	}
	if s.Wearer != "adult" {
		out = append(out, "Small parts can choke a child and cords can catch: the law where the garment is sold comes first, and an accredited laboratory is the one to test it.")
	}
	return append(out, "This is a help for planning, not a certificate: the makers' instructions and the law where the garment is sold come first.")
}
