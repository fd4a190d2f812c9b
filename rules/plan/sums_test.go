package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/trial"
)

// Sums by hand on one button, with the arithmetic beside each; mm.
func TestSumsOfShapes(t *testing.T) {
	button := Shape{Kind: "flat", Diameter: 24 * mm, Thickness: 4 * mm}
	toggle := Shape{Kind: "toggle", Width: 16 * mm, Thickness: 10 * mm, ShortEnd: 20 * mm}
	u := measure.MM
	hole := func(s Shape, over measure.Length, shank bool) measure.Length {
		_, _, l := HoleLength(s, over, shank, u)
		return l
	}
	rule := func(name string, over measure.Length) measure.Length {
		_, _, l := RuleLength(name, button, over, false, u)
		return l
	}
	in3 := func(width, length measure.Length) [2]measure.Length { return [2]measure.Length{width, length} }
	for _, c := range []struct {
		name     string
		has      measure.Length
		is, near float64 // near: 0 is to the micrometre
	}{
		// Passing: half the girth of what passes, geometry.
		{"a flat button", button.Passing(), 24 + 4, 0},
		{"a square of 20", Shape{Kind: "square", Side: 20 * mm, Thickness: 3 * mm}.Passing(), 20*math.Sqrt2 + 3, 0},
		{"a ball", Shape{Kind: "ball", Diameter: 20 * mm}.Passing(), 20 * math.Pi / 2, 0},
		{"a half ball", Shape{Kind: "domed", Diameter: 20 * mm, Thickness: 10 * mm}.Passing(), (20 + 10*math.Pi) / 2, 0},
		{"a half ball on a rim of 2", Shape{Kind: "domed", Diameter: 20 * mm, Thickness: 12 * mm}.Passing(), (20+10*math.Pi)/2 + 2, 0},
		// A dome of 20 and 5: radius (10² + 5²) ÷ 10 = 12.5, arc 2 × 12.5 × asin 0.8.
		{"a low dome", Shape{Kind: "domed", Diameter: 20 * mm, Thickness: 5 * mm}.Passing(), (20 + 25*math.Asin(0.8)) / 2, 0},
		{"a toggle", toggle.Passing(), 8 + 20 + 10, 0},
		{"a girth of 70", Shape{Kind: "odd", Girth: 70 * mm}.Passing(), 35, 0},
		{"across a girth, flat", Shape{Kind: "flat", Girth: 70 * mm, Thickness: 4 * mm}.Across(), 31, 0},
		{"across a girth, odd", Shape{Kind: "odd", Girth: 70 * mm}.Across(), 35, 0},
		{"across a girth, ball", Shape{Kind: "ball", Girth: 70 * mm}.Across(), 70 / math.Pi, 0},
		{"across a toggle", toggle.Across(), 16, 0},
		{"no dome at all", CapArc(20*mm, 0), 20, 0},
		// Holes up to whole mm; 3.175 over 3 mm of cloth (Extension Bulletin 576,
		// 1965), 3.175 for a shank (The Vogue Sewing Book, 1970).
		{"hole", hole(button, 3*mm, false), 28, 0}, {"in bulk", hole(button, 3*mm+1000, false), 32, 0},
		{"of a shank", hole(button, 0, true), 32, 0}, {"of both", hole(button, 4*mm, true), 35, 0},
		{"diameter + 1/8 in", rule("plus-eighth", 0), 28, 0}, {"and thickness", rule("plus-thickness-eighth", 0), 32, 0},
		{"a quarter more", rule("percent", 0), 30, 0}, {"the diameter", rule("diameter", 4*mm), 24, 0},
		{"a tack button in bulk", Shape{Kind: "domed", Diameter: 20 * mm, Thickness: 5 * mm, Tack: true}.BulkEase(), 20 + 3.175 - (20+25*math.Asin(0.8))/2, 0},

		// Stands: half and a rim of 3, half and 1/4 in or three quarters, the whole.
		{"least stand", StandLeast(24 * mm), 15, 0}, {"usual stand", StandUsual(24 * mm), 18.35, 0}, {"of a large one", StandUsual(40 * mm), 30, 0},
		{"full stand", StandFull(24 * mm), 24, 0},
		{"toggle's stand", toggle.StandLeast(), 23, 0},
		{"a band sewn on", SeparateBand(30*mm, 10*mm, 3*mm), 60 + 20 + 3, 0},
		{"band turned under", Band{Width: 30 * mm, TurnUnder: 10 * mm, Cloth: mm, Core: mm / 2}.Extension(), 15 + 30 + 10 + 2 + 0.5, 0},
		{"plain band", Band{Width: 30 * mm, Cloth: mm}.Extension(), 15 + 30 + 1, 0},

		// Cord of a loop: inside, half a turn about half the cord, two seams.
		{"loop of 60", LoopCut(60*mm, 4*mm, 15*mm), 60 + 2*math.Pi + 30, 0},
		{"hook tape, fifth row", TapeOut(20*mm, 19*mm, 5), 4, 0}, {"its first row", TapeOut(20*mm, 19*mm, 1), 0, 0},

		// Lips: 1 1/2 in wide and four times the hole; a row from 1 in above to 1 in
		// below, 2 1/2 in wide, or 1/2 in past a long hole at either end.
		{"lip", in3(LipStrip(30 * mm))[0], 38.1, 0}, {"its length", in3(LipStrip(30 * mm))[1], 120, 0},
		{"strip of a row", in3(RowStrip(30*mm, 400*mm))[0], 63.5, 0}, {"of a long hole", in3(RowStrip(50*mm, 400*mm))[0], 75.4, 0},
		{"its length", in3(RowStrip(30*mm, 400*mm))[1], 400 + 50.8, 0},
		// 36 times the slit, 3/4 yd at least: Every Woman's Encyclopaedia, about 1911.
		{"twist", TwistFor(30 * mm), 1080, 0}, {"of a short one", TwistFor(10 * mm), 685.8, 0},
		// Two lips, two ends, four rows of two tails of 25 mm, at 2 + 2 × 2 ÷ 2.5 each
		// (A. K. Das, thread consumption, 2015).
		{"thread of a bound hole", BoundThread(30*mm, 6*mm, 2*mm, mm*5/2), (60 + 12 + 200) * 3.6, 0},
		{"zigzag", ZigzagThread(10, 3*mm, 4*mm, 2*mm), 10 * 2 * (5 + 2), 0},
		// Passes up and down through stack, shank and button and over the gap; five
		// winds round a shank of 4; tails of 120.
		{"by hand", HandThread(2*mm, 3*mm, 4*mm, 3*mm, 2, 5), 2*5*(2*9+6) + 20*math.Pi + 120, 0.001},
		{"without a shank", HandThread(2*mm, 0, 4*mm, 3*mm, 1, 4), 4*(12+6) + 120, 0},
		// A fly reaches 1/4 in past the teeth, or 1/8 in past the tape.
		{"fly, least", in3(FlyOver(3*mm, 14*mm))[0], 9.35, 0}, {"usual", in3(FlyOver(3*mm, 14*mm))[1], 17.175, 0}, {"a narrow tape", in3(FlyOver(3*mm, 5*mm))[1], 9.35, 0},
		{"half a chain", ZipHalf(&catalog.Notion{Chain: catalog.Measured{V: 6 * mm}}), 3, 0},
		{"half of number 5", ZipHalf(&catalog.Notion{Number: catalog.Opt[float64]{V: 5}}), 3, 0},
		{"zip top, mm", UsualZipTop(measure.MM), 13, 0}, {"zip top, in", UsualZipTop(measure.In), 12.7, 0},
	} {
		if d := c.has.MM() - c.is; math.Abs(d) > max(c.near, 1e-3) {
			t.Errorf("%s: %v mm, by hand %v", c.name, c.has.MM(), c.is)
		}
	}
	if n := HoleStitches(20*mm, mm/2); n != 2*40+2*12 {
		t.Errorf("%d stitches in two legs of 20 mm and two bars of a dozen", n)
	}
}

// The other way round: what a stand carries is what has that stand.
func TestStandHoldsWhatNeedsIt(t *testing.T) {
	for stand := 4 * mm; stand < 60*mm; stand += mm {
		full, usual, most := StandHolds(stand)
		if usual > 0 && (StandUsual(usual)-stand).Abs() > 2 {
			t.Errorf("%v is usual for %v, which needs %v", stand, usual, StandUsual(usual))
		}
		if most > 0 && StandLeast(most) != stand {
			t.Errorf("%v carries %v, which needs %v", stand, most, StandLeast(most))
		}
		if full > usual || full > stand {
			t.Errorf("%v is full for %v", stand, full)
		}
	}
	if _, usual, most := StandHolds(3 * mm); usual != 0 || most != 0 {
		t.Errorf("a stand of 3 mm carries %v, usually %v", most, usual)
	}
}

// A thread by its class and a hand needle by its eye. Thread: a maker's sizes
// within the class; topstitching Tex 60 and 120 (IASRI e-course). Eye: two
// fifths of the blade (JIS S 3008-1981); blades of sharps 9, 7 and 5 0.61,
// 0.69 and 0.86 mm, of chenille 20 and 18 1.07 and 1.24 mm.
func TestThreadsAndHandNeedles(t *testing.T) {
	for most, want := range map[measure.LinearDensity]measure.LinearDensity{30: 24, 30.5: 30, 40: 30, 40.5: 40, 60: 40, 60.5: 60, 120: 60} {
		if got := usualTex(&WeightClass{texMax: most}); got != want {
			t.Errorf("up to Tex %g: Tex %g, want %g", most, got, want)
		}
	}
	for thin, want := range map[measure.NeedleSize]measure.LinearDensity{75: 60, 80: 60, 90: 120, 100: 120} {
		if got := TopstitchTex(&WeightClass{NeedleMin: thin}); got != want {
			t.Errorf("topstitching of cloth from NM %d: Tex %g, want %g", thin, got, want)
		}
	}
	for _, c := range []struct {
		blade float64
		is    HandNeedle
	}{{0.61, HandNeedle{"sharps", 9}}, {0.69, HandNeedle{"sharps", 7}}, {0.86, HandNeedle{"sharps", 5}}, {1.07, HandNeedle{"chenille", 20}}, {1.24, HandNeedle{"chenille", 18}}} {
		eye := measure.FromMM(c.blade * 2 / 5)
		if got := HandNeedleFor(eye); got != c.is {
			t.Errorf("a thread of %v: %v, want %v", eye, got, c.is)
		}
		if got := HandNeedleFor(eye + mm/1000); got == c.is && c.blade < 1.2 {
			t.Errorf("a thread thicker than the eye of %v goes through it", c.is)
		}
	}
	// Sizes on sale: needle makers' lists; lignes: common practice, no source.
	if !slices.Equal(NeedleSizes, []measure.NeedleSize{60, 65, 70, 75, 80, 90, 100, 110, 120, 130, 140, 160}) {
		t.Error(NeedleSizes)
	}
	if !slices.Equal(LignesSold, []int{14, 16, 18, 20, 22, 24, 26, 28, 30, 32, 34, 36, 40, 44, 45, 48, 54, 60}) {
		t.Error(LignesSold)
	}
	for _, c := range []struct {
		n, lo, hi measure.NeedleSize
		steps     int
	}{{90, 90, 110, 0}, {110, 90, 110, 0}, {80, 90, 110, -1}, {75, 90, 110, -2}, {120, 90, 110, 1}, {140, 90, 110, 3}, {85, 90, 110, -1}, {112, 90, 110, 1}} {
		if got := StepsOutside(c.n, c.lo, c.hi); got != c.steps {
			t.Errorf("NM %d beside %d to %d: %d steps, want %d", c.n, c.lo, c.hi, got, c.steps)
		}
	}
	for from, to := range map[measure.NeedleSize][2]measure.NeedleSize{60: {60, 65}, 90: {80, 100}, 160: {140, 160}} {
		if down, up := NeedleStep(from, -1), NeedleStep(from, 1); down != to[0] || up != to[1] {
			t.Errorf("beside NM %d: %d and %d, want %v", from, down, up, to)
		}
	}
	// 0.235 to 0.4 of the blade, a thread maker's table: a thread of 0.3 mm fits
	// blades from 0.75 (NM 75) to 1.2 mm (NM 120), 0.25; at NM 130 it is 0.231.
	if lo, hi := ThreadTakes(mm * 3 / 10); lo != 75 || hi != 120 {
		t.Errorf("a thread of 0.3 mm takes NM %d to %d", lo, hi)
	}
	if lo, hi := ThreadTakes(mm * 9 / 10); lo != 0 || hi != 0 {
		t.Errorf("a thread of 0.9 mm takes NM %d to %d", lo, hi)
	}
}

// How far off a length may be that says no ±, ours: half a millimetre by a
// ruler, a tenth by a caliper; cloth a tenth and a twentieth of it.
func TestMeasuringsOfOurs(t *testing.T) {
	if HandLength != mm/2 || HandCloth != 10 || CaliperLength != mm/10 || CaliperCloth != 5 || PlansMost != 4096 {
		t.Errorf("%v, %v %%, %v, %v %%, %v plans", HandLength, HandCloth, CaliperLength, CaliperCloth, PlansMost)
	}
}

// Bulk densities, g/cm³, and ± percent of interfacings: means of measured
// tables of each make.
func TestDensitiesOfInterfacings(t *testing.T) {
	for kind, want := range map[string][2]float64{"nonwoven": {0.313, 40}, "weft": {0.39, 25}, "woven": {0.39, 25}, "knit": {0.329, 25}} {
		if got := interfacingDensity[kind]; got != want {
			t.Errorf("%s: %v, want %v", kind, got, want)
		}
	}
	if l := EstimateThickness(424, 0.424); l != mm {
		t.Errorf("424 g/m² at 0.424 g/cm³ are %v thick", l)
	}
	// No estimate is off by more than 95 %, whatever the entry says.
	var p Layer
	p.set(catalog.Measured{}, catalog.Opt[measure.AreaWeight]{V: 424, From: catalog.Given}, 0.424, 200)
	if p.Tol != mm*95/100 || !p.Estimated {
		t.Errorf("± %v", p.Tol)
	}
}

// Spools, packs and what is sold, arithmetic.
func TestSpools(t *testing.T) {
	for _, c := range []struct{ used, spool, n int }{{0, 100, 0}, {1, 100, 1}, {100, 100, 1}, {101, 100, 2}, {200, 100, 2}, {250, 0, 0}} {
		if got := Spools(measure.Length(c.used), measure.Length(c.spool)); got != c.n {
			t.Errorf("%d from spools of %d: %d, want %d", c.used, c.spool, got, c.n)
		}
	}
	if UsualSpool != 100*measure.Metre {
		t.Error(UsualSpool)
	}
	// A machine's cycles: light cloth 8 for a shank or two holes and 16 for four,
	// medium and heavy 16, very heavy 32 (a thread maker's bulletin).
	for _, c := range []struct {
		class string
		holes int
		shank bool
		want  int
	}{{"light", 2, false, 8}, {"light", 4, true, 8}, {"light", 4, false, 16}, {"light", 3, false, 16}, {"medium", 2, false, 16}, {"heavy", 2, true, 16}, {"very heavy", 4, false, 32}} {
		if got := ButtonStitches(c.class, c.holes, c.shank); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

// A backing button is sewn through, flat and no thicker than a third of its
// diameter, ours.
func TestWhatBacks(t *testing.T) {
	sized := func(d, thick measure.Length, holes int) *catalog.Notion {
		n := &catalog.Notion{Kind: catalog.Button}
		n.Diameter, n.Thickness = catalog.Measured{V: d, From: catalog.Given}, catalog.Measured{V: thick, From: catalog.Given}
		n.Holes = catalog.Opt[int]{V: holes, From: catalog.Given}
		return n
	}
	for _, c := range []struct {
		thick measure.Length
		holes int
		backs bool
	}{{4 * mm, 4, true}, {4*mm + 1, 4, false}, {3 * mm, 2, true}, {3 * mm, 1, false}, {3 * mm, 0, false}} {
		if got := backs(sized(12*mm, c.thick, c.holes)); got != c.backs {
			t.Errorf("12 mm across, %v thick, %d holes: %v", c.thick, c.holes, got)
		}
	}
	// Half of 36 ligne is 18; where none is sold that is smaller there is none.
	if got := BackingButton(nil, 36*measure.Ligne); got != 18*measure.Ligne {
		t.Errorf("behind 36 ligne %v", got)
	}
	if got := BackingButton(nil, 14*measure.Ligne); got != 0 {
		t.Errorf("behind 14 ligne %v", got)
	}
}

const sumsCoat = `garment = "Slip coat (invented)"
units = "mm"
[cloth.shell]
kind = "melton"
weight = "600 g/m2"
thickness = "2 mm ± 0.3"
[cloth.lining]
weight = "80 g/m2"
thickness = "0.2 mm ± 0.1"
[interfacing.in]
kind = "woven"
fixing = "sewn"
thickness = "0.5 mm ± 0.1"
[[closure]]
name = "front"
fastener = "button"
over = ["shell", "in", "shell"]
KEYS
[closure.notion]
diameter = "24 mm ± 0.4"
thickness = "4 mm"
holes = 4
hole_gap = "3 mm ± 0.2"
[closure.stand]
STAND
[closure.run]
length = 600
count = 4
`

func sumsPlan(t *testing.T, keys, stand string, with ...string) *Closure {
	t.Helper()
	return &Of(trial.Read(t, strings.NewReplacer("KEYS", keys, "STAND", stand).Replace(sumsCoat), with...), false).Closures[0]
}

// The ± that a figure rests on is that of what it is worked out from: half of
// it for half a width, a third for a band from its extension; mm.
func TestWhatFiguresRestOn(t *testing.T) {
	for _, c := range []struct {
		name  string
		basis Basis
		tol   float64
	}{
		{"across", AcrossBasis(sumsPlan(t, "", "").Closure), 0.4},
		{"rim", RimBasis(sumsPlan(t, "", "").Closure), 0.2},
		{"held", HeldBasis(sumsPlan(t, "", "").Closure), 0.1},
		{"stand", func() Basis {
			k := sumsPlan(t, "", `band = "40 mm ± 2"`)
			return StandBasis(k.Closure, k)
		}(), 1},
		{"stand, finished", func() Basis {
			k := sumsPlan(t, "", `finished = "20 mm ± 2"`)
			return StandBasis(k.Closure, k)
		}(), 2},
		// (3 + two folds of 0.3 + the canvas between, 0.1 + 1) ÷ 3.
		{"stand, folded", func() Basis {
			k := sumsPlan(t, "", "construction = \"folded\"\nextension = \"80 mm ± 3\"\nturn_under = \"12 mm ± 1\"")
			return StandBasis(k.Closure, k)
		}(), (3 + 0.6 + 0.1 + 1) / 3},
		{"band", BandBasis(sumsPlan(t, "", `finished = "20 mm ± 2"`).Closure), 4},
		{"turn", TurnBasis(sumsPlan(t, "", "construction = \"folded\"\ntuck = \"6 mm ± 0.5\"").Closure), 1},
	} {
		if d := c.basis.Tol.MM() - c.tol; math.Abs(d) > 1e-3 {
			t.Errorf("%s: ± %v mm, want %v", c.name, c.basis.Tol.MM(), c.tol)
		}
	}
}

// One button on a coat, worked out by hand; mm.
func TestSumsOfAClosure(t *testing.T) {
	k := sumsPlan(t, "hole_length = 30\ndirection = \"across\"", "construction = \"folded\"\nextension = \"80 mm\"\nturn_under = \"12 mm\"")
	light := sumsPlan(t, "sewn_by = \"hand\"", "", "cloth.shell.weight=200 g/m2", "cloth.shell.kind=suiting", "cloth.shell.thickness=0.5 mm")
	along := sumsPlan(t, "hole = \"machine\"\ndirection = \"along\"", "construction = \"band\"\nseam = 10\nband = 50")
	faced := sumsPlan(t, "", "construction = \"faced\"\nfinished = 20\nseam = 10\nfacing = 70")
	for _, c := range []struct {
		name string
		has  measure.Length
		is   float64
	}{
		{"the stack", k.Over.Thick, 4.5}, {"its ±", k.Over.Tol, 0.7},
		// 1/8 in past the centre and half of 1/8 in of bars.
		{"interfacing begins", k.Outward(), 3.175 + 1.5875},
		{"inside", k.Hole.Inside, 30 - 3.175}, {"stitched", k.Hole.Stitched, 30 + 3.175},
		// 80 − 12 − two folds of 2 − the canvas between, two thirds of it.
		{"band", k.Stand.Band, (80 - 12 - 4 - 0.5) * 2 / 3}, {"stand", k.Stand.Have, (80 - 12 - 4 - 0.5) / 3},
		{"half a hole's width", along.Outward(), 2.5},
		// Twice 50, two seams of 10, a fold of 2 round 0.5.
		{"band cut", along.Stand.BandCut, 100 + 20 + 2.5}, {"its stand", along.Stand.Have, 25},
		{"draft of a faced front", faced.Stand.Extension, 30}, {"facing cut", faced.Stand.FacingCut, 20 + 70 + 10},
		// Twice (five passes of two pairs through 4.5, a shank of 4.5 and 4, over 3;
		// five winds; tails).
		{"thread by hand", k.Sewing.ThreadCut, 2 * (2*5*(2*13+6) + 20*math.Pi + 120)},
		{"on light cloth", light.Sewing.ThreadCut, 2 * (2*4*(2*(1.5+1.5+4)+6) + 20*math.Pi + 120)},
		{"shank", k.Sewing.ThreadShank, 4.5}, {"at most", k.Sewing.ShankMost, 4.5 + 3.175},
	} {
		if d := c.has.MM() - c.is; math.Abs(d) > 2e-3 {
			t.Errorf("%s: %v mm, by hand %v", c.name, c.has.MM(), c.is)
		}
	}
	if k.Sewing.Passes != 5 || light.Sewing.Passes != 4 || k.Sewing.Winds != 5 {
		t.Errorf("%d and %d passes, %d winds", k.Sewing.Passes, light.Sewing.Passes, k.Sewing.Winds)
	}
	if k.Sewing.Backing == 0 || light.Sewing.Backing != 0 || light.Sewing.BackingSold == 0 {
		t.Errorf("backed %v, on light cloth %v", k.Sewing.Backing, light.Sewing.Backing)
	}
}

// Into a rigid part the hole is midway between 0.010 and 0.015 in over the
// barrel; into cloth 0.85 of it, ours, down to tenths.
func TestPunchedHole(t *testing.T) {
	const rivet = `garment = "Slip bag (invented)"
units = "mm"
[cloth.shell]
weight = "500 g/m2"
thickness = 1
[[closure]]
name = "strap"
fastener = "rivet"
into = "%"
over = ["shell", "shell"]
[closure.notion]
kind = "solid"
diameter = 9
post = 6
post_width = 4
[closure.run]
length = 100
count = 2
`
	for into, want := range map[string]float64{"rigid": 4 + 0.0125*25.4, "cloth": 3.4, "webbing": 3.4} {
		h := Of(trial.Read(t, strings.Replace(rivet, "%", into, 1)), false).Closures[0].Hardware
		if math.Abs(h.Punch.MM()-want) > 1e-3 {
			t.Errorf("into %s: %v mm, want %v", into, h.Punch.MM(), want)
		}
	}
}
