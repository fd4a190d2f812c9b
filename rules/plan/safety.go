package plan

import "placketeer/catalog/measure"

// Figures of the rules for children's clothes. Which of them bind garments and
// which are only borrowed from toys is said where they are used.

// The small-parts cylinder of 16 CFR 1501.4, figure 1; its bore and depth from
// memory. RodMost is the longest way through it, geometry.
const (
	GaugeBore    = in * 5 / 4
	GaugeShallow = in
	GaugeDeep    = in * 9 / 4
	RodMost      = 65400 * measure.Micrometre
)

// Ages, in months, of the use-and-abuse tests of 16 CFR 1500.51 to .53, and in
// years of others.
const (
	AbuseFirst, AbuseSecond, AbuseThird = 18, 36, 96

	ClothingMonths = 36 // CEN/TS 17394-1:2021
	SharpUnder     = 8  // years, 16 CFR 1500.48 and .49
	LeadTo         = 12 // years, US
	InfantUnder    = 3  // years
)

// Pulls. Those of CEN/TS 17394-1:2021 as a test house tells them; of EN 71-1 by
// a laboratory's summary; of 16 CFR 1500 the second from memory.
const (
	SmallPart = 6 * mm // largest dimension: more is pulled harder

	ToyPullSmall, ToyPullLarge   measure.Force = 50, 90
	PartPullSmall, PartPullLarge measure.Force = 50, 70
	PullFirst, PullLater                       = 10 * measure.PoundForce, 15 * measure.PoundForce
)

// Limits of substances and magnets.
const (
	NickelSkin   = 0.5 // µg/cm² a week, REACH annex XVII, entry 27
	NickelWear   = 2   // years that a coating must keep it, EN 12472
	NickelPost   = 0.2 // the same, posts in pierced parts of the body
	LeadMost     = 100 // parts per million, accessible material
	LeadPaint    = 90  // the same, paint: 16 CFR 1303
	FluxHazard   = 50  // kG² mm², 16 CFR 1262
	InfantMonths = 9   // nightwear: 16 CFR 1615
)

// Lengths of an infant garment by 16 CFR 1615: one piece as its millimetres and
// as its inches have it, and each of two.
const (
	InfantOne   = 648 * mm
	InfantOneIn = in * 103 / 4
	InfantOfTwo = 400 * mm
)

// Cords. US: 16 CFR 1120 (ASTM F1816-97). EU: EN 14682, its lengths from the
// edition of 2007, second-hand.
const (
	CordFreeUS  = 3 * in
	CordFreeEU  = 140 * mm
	CordDrawnEU = 280 * mm // drawn in to fit
	CordLoopEU  = 150 * mm // round a loop at the fitted size

	CordYoungHeight = 1340 * mm // the EU's stricter half goes to it, or to
	CordYoung       = 7         // years
	CordOldest      = 14        // years, EU
	CordTopSize     = 12        // US: no cord at hood or neck to this size
	CordLowSize     = 16        // US: waist and bottom
	CordLeastSize   = 2         // US: 2T
	CordUnknownAge  = 4         // years, where neither age nor size is known: ours
)

// NearLift is the part of the foot's lift from where on layers are near it:
// ours.
var NearLift = Ratio{4, 5}

// Thresholds of safety.
var (
	CordTopLimits = []Threshold{
		Number("top size", CordTopSize, "", Published), Number("least size", CordLeastSize, "", Published),
		Number("young", CordYoung, "years", Published), Number("oldest", CordOldest, "years", Published),
		Number("height", float64(CordYoungHeight/measure.Centimetre), "cm", Published), Metric("loop", CordLoopEU, Published), Number("unknown", CordUnknownAge, "years", Ours),
	}
	CordLowLimits = []Threshold{
		Number("low size", CordLowSize, "", Published), Number("least size", CordLeastSize, "", Published),
		Inches("us end", CordFreeUS, Published), Metric("eu end", CordFreeEU, Published), Metric("eu drawn in", CordDrawnEU, Published),
	}
	GaugeLimits = []Threshold{
		Inches("bore", GaugeBore, Memory), Inches("shallow", GaugeShallow, Memory), Inches("deep", GaugeDeep, Memory),
		Metric("rod", RodMost, Derived), Number("infant", InfantUnder, "years", Published),
	}
	PullLimits = []Threshold{
		Number("first", AbuseFirst, "months", Published), Number("third", AbuseThird, "months", Published),
		Force("us first", PullFirst, measure.In, Published), Force("us later", PullLater, measure.In, Memory),
		Number("clothing", ClothingMonths, "months", Published), Metric("small", SmallPart, Published),
		Force("eu small", PartPullSmall, measure.MM, Published), Force("eu large", PartPullLarge, measure.MM, Published),
		Force("toy small", ToyPullSmall, measure.MM, Published), Force("toy large", ToyPullLarge, measure.MM, Published),
	}
	NickelLimits = []Threshold{Number("skin", NickelSkin, "µg/cm²", Published), Number("post", NickelPost, "µg/cm²", Published), Number("wear", NickelWear, "years", Published)}
	LeadLimits   = []Threshold{
		Number("age", LeadTo, "years", Published), Number("metal", LeadMost, "parts per million", Published), Number("paint", LeadPaint, "parts per million", Published),
	}
	FluxLimit   = Number("flux", FluxHazard, "kG² mm²", Published)
	SharpLimit  = Number("age", SharpUnder, "years", Published)
	NightLimits = []Threshold{Number("months", InfantMonths, "months", Published), Metric("one", InfantOne, Published), Metric("two", InfantOfTwo, Published)}
	NearLimit   = Share("near", NearLift, Ours)
)
