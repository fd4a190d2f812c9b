package sheet

import (
	"slices"

	"placketeer/catalog"
)

// cautions are the usual ones for the work that this garment takes. What a
// rule found stands among the findings.
func (s *Garment) cautions() []string {
	kinds, cut := map[string]bool{}, false
	for i := range s.Closures {
		kinds[s.Closures[i].Fastener] = true
		k := &s.plan.Closures[i]
		cut = cut || k.Hole.Needed && k.Hole.Kind != "loop"
	}
	sample := "sew a sample through the real layers"
	if cut {
		sample = "sew a sample hole through the real layers"
	}
	out := []string{
		"Measure the real fasteners and a folded stack of the real cloth, and " + sample + " before you cut.",
		"Wear eye protection where seams are thick: a needle that strikes a pin, a button or the plate breaks. Turn the wheel by hand there.",
	}
	if cut {
		out = append(out, "Open a hole with a pin across each end: cut from the middle towards the pins, the blade away from your hand, on a block.")
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
