package plan

// How far off a length may be that has no ± of its own, by how it was
// measured, and a thickness of cloth in percent: ours. A folded stack lies
// under a ruler; between the jaws of a caliper cloth gives way.
const (
	HandLength, HandCloth       = mm / 2, 10
	CaliperLength, CaliperCloth = mm / 10, 5
)

// PlansMost is how many plans one search makes of a garment: ours.
const PlansMost = 4096

// MeasuringLimits are the thresholds of what only just passes.
var MeasuringLimits = []Threshold{
	Thin("ruler", HandLength, Ours), Number("folded", HandCloth, "%", Ours),
	Thin("jaws", CaliperLength, Ours), Number("between", CaliperCloth, "%", Ours),
	Number("plans", PlansMost, "", Ours),
}
