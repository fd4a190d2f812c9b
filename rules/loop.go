package rules

import "placketeer/catalog"

// LoopPlan is what is worked out for loops, toggles, frogs and hooks.
type LoopPlan struct {
	Needed bool
}

func loopOf(g *catalog.Garment, c *catalog.Closure, k *ClosurePlan) LoopPlan { return LoopPlan{} }

var loopRules []*Rule
