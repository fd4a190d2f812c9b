package rules

import "placketeer/rules/plan"

var WithinRule = &Rule{
	Name: "within-tolerance", Severity: Caution,
	Task:    NoTask,
	Reads:   ReadsNotion | ReadsInterfacing,
	Room:    noRoom,
	Title:   "what only just passes may not pass on the table",
	Formula: "each measured length is moved by its own ± both ways and the garment planned again; a conflict that comes is a caution, a caution that comes is a note",
	Why:     "Half a millimetre on the ruler decides: the sample tells, the sum does not.",
	Sources: []string{"arithmetic"},
	Ours:    "with --measuring: a ruler ±{ruler} and ±{folded} of a cloth's thickness by hand, ±{jaws} and ±{between} with a caliper, for the fastener's sizes, finished stand and band, the room under the foot and the thickness of cloths and interfacings that the garment or an own catalogue gives; figures of the built-in catalogue and everything else count only with the ± written beside them; an estimated thickness carries the ± of its family; one length is moved at a time; after {plans} plans the search stops and says which lengths it did not come to",
	Limits:  plan.MeasuringLimits,
	Check:   func(*Context) {}, // Checked looks, over many plans
}
