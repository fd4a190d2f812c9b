package rules

import "placketeer/catalog"

// HardwarePlan is what is worked out for set hardware: tack buttons, rivets, snaps, eyelets.
type HardwarePlan struct {
	Needed bool
}

func hardwareOf(g *catalog.Garment, c *catalog.Closure, k *ClosurePlan) HardwarePlan {
	return HardwarePlan{}
}

var hardwareRules []*Rule
