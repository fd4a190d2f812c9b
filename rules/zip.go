package rules

import "placketeer/catalog"

// ZipPlan is what is worked out for zips.
type ZipPlan struct {
	Needed bool
}

func zipOf(g *catalog.Garment, c *catalog.Closure, k *ClosurePlan) ZipPlan { return ZipPlan{} }

var zipRules []*Rule
