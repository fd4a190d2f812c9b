package rules

var WithinRule = &Rule{
	Name: "within-tolerance", Severity: Caution,
	Task:    NoTask,
	Reads:   ReadsNotion | ReadsInterfacing,
	Room:    noRoom,
	Title:   "what only just passes may not pass on the table",
	Formula: "each measured length is moved by its own ± both ways and the garment planned again; a conflict that comes is a caution, a caution that comes is a note",
	Why:     "Half a millimetre on the ruler decides: the sample tells, the sum does not.",
	Sources: []string{"arithmetic"},
	Ours:    "with --measuring: a ruler ±0.5 mm and ±10 % of a cloth's thickness by hand, ±0.1 mm and ±5 % with a caliper, for the fastener's sizes, finished stand and band, the room under the foot and the thickness of cloths and interfacings that the garment or an own catalogue gives; figures of the built-in catalogue and everything else count only with the ± written beside them; an estimated thickness carries the ± of its family; one length is moved at a time; after 4096 plans the search stops and says which lengths it did not come to",
	Check:   func(*Context) {}, // Checked looks, over many plans
}
