package search

import (
	"fmt"

	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// The budgets of a search: ours. They count plans, and places that the
// layouts of runs try, and not the time it takes, so that a search ends at
// the same place on every machine.
const (
	plansMost  = plan.PlansMost // plans for the changes of one garment, and as many for its ±
	placesMost = 1 << 26        // places that these plans try: about 0.4 s; a coat takes some thousands

	plansLeast = 200 // of one among many that are checked together

	choiceMost   = 1 << 20 // plans of one choice
	choicePlaces = 1 << 32 // places that they try: about 25 s
)

// budget is what a search over plans may still do.
type budget struct {
	plans int // made until now
	most  int
	tries plan.Tries
}

func newBudget() *budget { return &budget{most: plansMost, tries: plan.Tries{Most: placesMost}} }

// share leaves a search its part of the budget, where so many garments are
// checked together; it always has enough for some conflicts.
func (b *budget) share(of int) {
	of = max(of, 1)
	b.most, b.tries.Most = max(b.most/of, plansLeast), b.tries.Most/of
}

// out says whether the search must stop.
func (b *budget) out() bool { return b.plans >= b.most || b.tries.Out() }

// looked is how far a search came that stopped.
func looked(plans int) string {
	return fmt.Sprintf("looked at %s and stopped", text.Count(plans, "plan"))
}
