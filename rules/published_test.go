package rules

import (
	"math"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// Worked examples that were published, each with its publication. The
// sources disagree with one another on purpose: each case is checked by the
// rule it was printed with.

func inch(x float64) measure.Length { return measure.Length(math.Round(x * float64(measure.Inch))) }

func mms(x float64) measure.Length { return measure.FromMM(x) }

func near(t *testing.T, what string, got, want, tol measure.Length) {
	t.Helper()
	if d := (got - want).Abs(); d > tol {
		t.Errorf("%s: got %s, published %s ± %s", what, got, want, tol)
	}
}

func flat(d, thick measure.Length) plan.Shape {
	return plan.Shape{Kind: "flat", Diameter: d, Thickness: thick}
}

func TestPublishedPassingLengths(t *testing.T) {
	tight := measure.Length(50 * measure.Micrometre)
	for _, c := range []struct {
		source string
		shape  plan.Shape
		want   measure.Length
		tol    measure.Length
	}{
		{"a sewing column, 1999: 1 in button 1/4 in thick", flat(inch(1), inch(.25)), inch(1.25), 0},
		{"Extension Bulletin 576, 1965, diameter + thickness", flat(inch(.5), inch(.125)), inch(.625), 0},
		{"household machine manual 885-X36, p. 39: 15 mm by 10 mm thick", flat(mms(15), mms(10)), mms(25), 0},
		{"sewing book quoted 2010: bound hole for 20 mm by 3 mm", flat(mms(20), mms(3)), mms(23), 0},
		{"household column, 24 Oct 2017, flat and shank round: 20 mm by 4 mm", flat(mms(20), mms(4)), mms(24), 0},
		{"excavated bone button, Port Tobacco, 17.25 by 4.25 mm, diameter + thickness", flat(mms(17.25), mms(4.25)), mms(21.5), tight},
		{"shirt maker's pearl button 18 ligne, 1/16 in", flat(18*measure.Ligne, inch(1./16)), mms(13.02), tight},
		{"shirt maker's pearl button 18 ligne, 1/8 in", flat(18*measure.Ligne, inch(.125)), mms(14.61), tight},
		{"shirt maker's pearl button 16 ligne, 1/8 in", flat(16*measure.Ligne, inch(.125)), mms(13.34), tight},
		{"ribbon round a ball reads 40 mm: half the wrap", plan.Shape{Kind: "ball", Diameter: mms(12.7), Girth: mms(40)}, mms(20), 0},
		{"square button, side 12 mm, thin: the diagonal", plan.Shape{Kind: "square", Side: mms(12)}, mms(16.97), tight},
		{"dressmaker's page on odd shapes: a round button gives diameter + thickness", plan.Shape{Kind: "toggle", Width: mms(20), ShortEnd: mms(10), Thickness: mms(4)}, mms(24), 0},
		// New Mexico State University Guide C-231: half the wrap + 1/8 in.
		{"Guide C-231, flat 5/8 in by 1/8 in, less its 1/8 in", flat(inch(.625), inch(.125)), inch(.875) - inch(.125), 0},
		{"Guide C-231, 24 ligne by 3 mm, less its 1/8 in", flat(24*measure.Ligne, mms(3)), mms(21.415) - inch(.125), tight},
		{"Guide C-231, wrap reads 48 mm, less its 1/8 in", plan.Shape{Kind: "domed", Diameter: mms(20), Thickness: mms(9), Girth: mms(48)}, mms(27.175) - inch(.125), tight},
	} {
		near(t, c.source, c.shape.Passing(), c.want, c.tol)
	}
}

// Geometry of a slit that opens to twice its length: nothing published.
func TestPassingGeometry(t *testing.T) {
	ball := plan.Shape{Kind: "ball", Diameter: mms(12.7)}
	near(t, "half the girth of a ball", ball.Passing(), mms(math.Pi*12.7/2), measure.Micrometre)
	half := plan.Shape{Kind: "domed", Diameter: mms(20), Thickness: mms(10)}
	near(t, "half-dome, 1.285 D", half.Passing(), mms(20*(1+math.Pi/2)/2), measure.Micrometre)
	// A dome that grows from nothing must run smoothly into the half-dome.
	last := measure.Length(0)
	for h := 0; h <= 2000; h++ {
		p := plan.Shape{Kind: "domed", Diameter: mms(20), Thickness: measure.Length(h) * 10 * measure.Micrometre}.Passing()
		if h == 0 {
			near(t, "no dome at all", p, mms(20), 0)
		} else if p < last || p-last > 40*measure.Micrometre {
			t.Fatalf("dome %d µm high: %s after %s", h*10, p, last)
		}
		last = p
	}
	near(t, "the cap's formula at the half-dome", (mms(20)+plan.CapArc(mms(20), mms(9.9999)))/2, half.Passing(), 10*measure.Micrometre)
}

// The whole wrap + 1/8 in that two shops print for balls is twice too long
// and must be seen as such.
func TestWholeWrapIsTooLong(t *testing.T) {
	ball := plan.Shape{Kind: "ball", Diameter: mms(12.7)}
	whole := mms(math.Pi*12.7) + inch(.125)
	near(t, "sewing shop's rules: whole wrap + 1/8 in of a 12.7 mm ball", whole, mms(43.1), 100*measure.Micrometre)
	if whole <= ball.Passing()+plan.HoleSlip {
		t.Errorf("%s would not be reported as too long for a ball that passes %s", whole, ball.Passing())
	}
}

func TestPublishedCutLengths(t *testing.T) {
	for _, c := range []struct {
		source string
		rule   string
		shape  plan.Shape
		over   measure.Length
		shank  bool
		unit   measure.Unit
		lo, hi measure.Length
	}{
		{"Vogue Sewing Book, 1970: 1/2 by 1/8 in with a shank", "", flat(inch(.5), inch(.125)), mm, true, measure.In, inch(.75), inch(.75)},
		{"Vogue Sewing Book, 1970: the same without a shank", "", flat(inch(.5), inch(.125)), mm, false, measure.In, inch(.625), inch(.625)},
		{"Extension Bulletin 576, 1965: 1/8 in more on bulky cloth", "", flat(inch(1), inch(.125)), 5 * mm, false, measure.In, inch(1.25), inch(1.25)},
		{"pattern maker's article, diameter + 1/8 in: 1/2 in", "plus-eighth", flat(inch(.5), inch(.1)), mm, false, measure.In, inch(.625), inch(.625)},
		{"pattern maker's article, diameter + 1/8 in: 3/4 in", "plus-eighth", flat(inch(.75), inch(.1)), mm, false, measure.In, inch(.875), inch(.875)},
		{"pattern maker's article: 1.25 cm gives 1.6 cm", "plus-eighth", flat(mms(12.5), mms(2)), mm, false, measure.MM, mms(15.5), mms(16.5)},
		{"pattern maker's article: 1.6 cm gives 1.9 cm", "plus-eighth", flat(mms(16), mms(2)), mm, false, measure.MM, mms(18.5), mms(20)},
		{"pattern maker's article: 1.9 cm gives 2.2 cm", "plus-eighth", flat(mms(19), mms(2)), mm, false, measure.MM, mms(21.5), mms(23)},
		{"clothing-class notes, 2008: diameter + thickness + 1/8 in", "plus-thickness-eighth", flat(inch(1), inch(.125)), mm, false, measure.In, inch(1.25), inch(1.25)},
		{"thread maker's bulletin: 20 ligne, 20 to 25 % longer", "percent", flat(20*measure.Ligne, mms(2)), mm, false, measure.MM, mms(15.24), mms(16)},
		{"thread maker's bulletin: 45 ligne", "percent", flat(45*measure.Ligne, mms(2)), mm, false, measure.MM, mms(34.29), mms(36)},
		{"Hand Sewing Lessons, early 1900s: as long as the button", "diameter", flat(inch(.75), inch(.1)), mm, false, measure.In, inch(.75), inch(.75)},
		// A-A-55095A: 3/4 in at least for a 30 ligne button, + 1/16 in.
		{"A-A-55095A, coverall: 30 ligne, keyhole", "diameter", flat(30*measure.Ligne, inch(.12)), mm, false, measure.In, inch(.75), inch(13. / 16)},
		{"New Mexico State University Guide C-231: 5/8 by 1/8 in", "plus-thickness-eighth", flat(inch(.625), inch(.125)), mm, false, measure.In, inch(.875), inch(.875)},
	} {
		_, _, got := plan.RuleLength(c.rule, c.shape, c.over, c.shank, c.unit)
		if got < c.lo || got > c.hi {
			t.Errorf("%s: got %s, published %s to %s", c.source, got, c.lo, c.hi)
		}
	}
}

// Household machine manual W312, p. 31: both bars take 1/8 in of the marked
// length; a 1 in button 1/8 in thick is marked 1 1/4 in.
func TestPublishedStitchedLength(t *testing.T) {
	_, _, cut := plan.HoleLength(flat(inch(1), inch(.125)), mm, false, measure.In)
	near(t, "stitched length", cut+plan.Bars, inch(1.25), 0)
}

// Household machine manual V37, p. 88: about 28 mm, counted as diameter +
// thickness: a 25.4 mm button over 2.6 mm thick does not fit.
func TestPublishedMachineLimit(t *testing.T) {
	if p := flat(inch(1), mms(2.6)).Passing(); p > plan.DefaultHoleMax {
		t.Errorf("25.4 by 2.6 mm needs %s, over %s", p, measure.Length(plan.DefaultHoleMax))
	}
	if p := flat(inch(1), mms(2.7)).Passing(); p <= plan.DefaultHoleMax {
		t.Errorf("25.4 by 2.7 mm needs only %s", p)
	}
	if p := flat(mms(20), mms(9)).Passing(); p <= plan.DefaultHoleMax {
		t.Errorf("20 by 9 mm needs only %s", p)
	}
}

func TestPublishedStands(t *testing.T) {
	for _, c := range []struct {
		source string
		got    measure.Length
		want   measure.Length
		tol    measure.Length
	}{
		{"household machine manual 1288, p. 67: 1 in asks 3/4 in at least", plan.StandUsual(inch(1)), inch(.75), 0},
		{"household machine manual 28-8, p. 46: 3/4 in to 1 in", plan.StandFull(inch(1)), inch(1), 0},
		{"sewing and design professionals' standards, p. 24: 5/8 in asks 9/16 in", plan.StandUsual(inch(.625)), inch(9. / 16), 0},
		{"the same: 32 ligne past the centre front", plan.StandUsual(32 * measure.Ligne), mms(16.51), 20 * measure.Micrometre},
		{"Nebraska 4-H Leaflet 9, 1965: 3/4 in asks 5/8 in", plan.StandUsual(inch(.75)), inch(.625), 0},
		{"R. Carr, Couture, as quoted: 3/4 in jacket button, stand 3/4 in", plan.StandFull(inch(.75)), inch(.75), 0},
		// Chicago Police U06-01-03, wool overcoat: 45 ligne, hole 1 in from
		// the edge; with the hole 1/8 in beyond the button line that is D.
		{"Chicago Police wool overcoat, 45 ligne", plan.StandFull(45 * measure.Ligne), inch(1) + plan.BeyondCentre, 0},
		// A-A-55095A: cuff hole 5/8 in from the edge for a 30 ligne button.
		{"A-A-55095A, coverall cuff, 30 ligne", plan.StandFull(30 * measure.Ligne), inch(.625) + plan.BeyondCentre, 0},
		{"Sew Today, 2019: rim 3 mm inside the edge, 20 mm button", plan.StandLeast(mms(20)), mms(13), 0},
	} {
		near(t, c.source, c.got, c.want, c.tol)
	}
	// Uniform shirt: placket 1 1/2 in, 19 ligne, the stand down its middle.
	if have, need := inch(.75), plan.StandUsual(19*measure.Ligne); have < need {
		t.Errorf("a 1 1/2 in placket carries 19 ligne: %s < %s", have, need)
	}
	// Leather police jacket: 36 ligne snap button on a flap 2 1/2 in wide.
	if have, need := inch(2.5), plan.StandUsual(36*measure.Ligne); have < need {
		t.Errorf("a 2 1/2 in flap carries 36 ligne: %s < %s", have, need)
	}
	// IASRI e-course: an 18 mm button 8 mm from the edge is too near.
	if plan.StandLeast(mms(18)) <= mms(8) {
		t.Error("18 mm on 8 mm must not pass")
	}
	// US Army shoulder loop: 25 ligne, hole 3/8 in from the braid, so the
	// button 1/2 in: the rim clears.
	if inch(.375)+plan.BeyondCentre < plan.StandLeast(25*measure.Ligne) {
		t.Error("the 25 ligne shoulder button must clear the braid")
	}
}

func TestPublishedBands(t *testing.T) {
	// Sewing teacher's tutorial, 2011: cut-on band 3 cm, fold-in as wide
	// again: 7.5 cm beyond the centre front. It leaves the folds out.
	b := plan.Band{Width: 30 * mm, TurnUnder: 30 * mm}
	near(t, "cut-on band of 3 cm", b.Extension(), 75*mm, 0)
	// A method for shirt bands, as quoted: 1 1/2 in wide, finished with a tuck
	// stitched 1/4 in from its fold, 2 3/4 in beyond the centre front.
	near(t, "band with a tuck", plan.Band{Width: inch(1.5), Tuck: inch(.25)}.Extension(), inch(2.75), 0)
	// Sewing machine maker's page, 2024: a concealed placket takes three times
	// its finished width from the front edge to the cut edge, and no allowance.
	near(t, "concealed band of 3 cm", plan.Band{Width: 30 * mm, Concealed: true}.Extension()-15*mm, 90*mm, 0)
	// Geometry: separate band of 3 cm with 1 cm seams, 8 cm, before the fold.
	near(t, "separate band of 3 cm", plan.SeparateBand(30*mm, 10*mm, 0), 80*mm, 0)
	// Common practice, no source: 3 in extension, 1/2 in turned under. What
	// is left, 2 1/2 in, makes a band of 1 2/3 in and a stand of 5/6 in.
	near(t, "3 in extension", plan.Band{TurnUnder: inch(.5)}.From(inch(3)).Width, inch(5./3), measure.Nanometre)
	// Geometry: a fold goes round what lies in it. Cloth of 1 mm round a core of
	// 4 mm takes 5 mm at the edge, and 1 mm at the turn-under.
	b = plan.Band{Width: 30 * mm, TurnUnder: 10 * mm, Cloth: 1 * mm, Core: 4 * mm}
	near(t, "band round a core", b.Extension(), (15+30+10+5+1)*mm, 0)
	// Forward and inverse must agree whatever the cloth.
	for w := measure.Length(10 * mm); w < 80*mm; w += 7 * mm / 3 {
		for _, cloth := range []measure.Length{0, 300 * measure.Micrometre, 24 * mm / 10} {
			for _, turn := range []measure.Length{0, inch(.5)} {
				ext := plan.Band{Width: w, TurnUnder: turn, Cloth: cloth}.Extension()
				near(t, "inverse of forward", plan.Band{TurnUnder: turn, Cloth: cloth}.From(ext).Width, w, 2)
			}
			for _, b := range []plan.Band{{Tuck: inch(.25), Cloth: cloth}, {Concealed: true, Cloth: cloth}} {
				c := b
				c.Width = w
				near(t, "inverse of forward", b.From(c.Extension()).Width, w, 4)
			}
		}
	}
}

// R. Carr, Couture, as quoted: 3/4 in jacket button, first hole 1 in below
// the neck; gap 3 in: last hole 4 1/2 in above the hem.
func TestPublishedFirstAndLast(t *testing.T) {
	near(t, "first below the neck", inch(.75)+plan.FirstBelowNeck, inch(1), 0)
	near(t, "last above the hem", plan.HemGaps.Of(inch(3)), inch(4.5), 0)
	// A sewing column, 1999: 1 in by 1/4 in: from 1/8 in beyond the centre to 1 1/8
	// in inside it.
	h := plan.Hole{Length: flat(inch(1), inch(.25)).Passing(), Beyond: plan.BeyondCentre}
	near(t, "hole inside the centre line", h.Length-h.Beyond, inch(1.125), 0)
}

func TestPublishedStrips(t *testing.T) {
	for _, c := range []struct {
		goods  float64
		across int
	}{{20, 8}, {45, 18}, {60, 24}} { // arithmetic; the widths are from memory
		if n, _ := plan.Strips(1, inch(2.5), inch(24), inch(c.goods), 0); n != c.across {
			t.Errorf("2 1/2 in strips from %v in goods: got %d, want %d", c.goods, n, c.across)
		}
	}
	// Dressmaker's own test of hair canvas, 5 % along: 24 in finished.
	if _, l := plan.Strips(1, inch(2.5), inch(24), inch(60), 5); (l - inch(25.263)).Abs() > inch(.05) {
		t.Errorf("canvas for 24 in: %s", l)
	}
	// Nine strips from goods that give four: three lengths.
	if _, l := plan.Strips(9, inch(5), inch(24), inch(20), 0); l != 3*inch(24) {
		t.Errorf("nine strips: %s", l)
	}
}

// A thread maker, All about polyester sewing threads: Tex and the needle range of
// each size. All must be accepted, at both ends of their range.
func TestPublishedThreadInNeedle(t *testing.T) {
	for _, c := range []struct {
		ne     string
		tex    measure.LinearDensity
		lo, hi measure.NeedleSize
	}{
		{"60/2", 20, 60, 70}, {"50/2", 24, 65, 75}, {"40/2", 30, 70, 80}, {"60/3", 30, 75, 90},
		{"50/3", 36, 75, 90}, {"30/2", 40, 75, 90}, {"40/3", 45, 75, 90}, {"20/2", 60, 90, 110},
		{"30/3", 60, 90, 110}, {"20/3", 90, 100, 120}, {"12/3", 150, 120, 140}, {"20/6", 180, 160, 180},
		{"12/4", 200, 160, 180},
	} {
		d, ok := c.tex.Diameter("polyester")
		if !ok {
			t.Fatal("no diameter for polyester")
		}
		// The thinnest needle that the maker names must at least do, within
		// the 5 % that the packing is guessed to.
		if r := d.MM() / c.lo.BladeMM(); r > ratioMost {
			t.Errorf("Ne %s in needle %s: %.3f of the blade", c.ne, c.lo, r)
		}
		if r := d.MM() / c.hi.BladeMM(); r < ratioLow {
			t.Errorf("Ne %s in needle %s: %.3f of the blade", c.ne, c.hi, r)
		}
	}
	// Needle maker's sizing guide: 40 wt, Tex 25, goes with 75/11.
	d, _ := measure.LinearDensity(25).Diameter("polyester")
	if r := d.MM() / 0.75; r < ratioLow || r > ratioHigh {
		t.Errorf("Tex 25 in 75/11: %.3f", r)
	}
}

// The limits of the thread maker's table, Tex 60 and Tex 40.
func TestThreadInNeedleVerdicts(t *testing.T) {
	for _, c := range []struct {
		tex  measure.LinearDensity
		nm   measure.NeedleSize
		want float64
	}{{60, 90, .337}, {60, 75, .405}, {60, 70, .434}, {40, 90, .276}, {40, 60, .413}, {40, 55, .451}} {
		d, _ := c.tex.Diameter("polyester")
		if r := d.MM() / c.nm.BladeMM(); math.Abs(r-c.want) > .02 {
			t.Errorf("Tex %v in %d: %.3f, want %.3f", c.tex, c.nm, r, c.want)
		}
	}
}

func TestPublishedThreadUsed(t *testing.T) {
	// A. K. Das, thread consumption, 2015, problem 2: lockstitch, 0.01 in
	// thick, 10 stitches an inch: 2.20 in for each inch.
	if r := plan.LockstitchRatio(inch(.01), inch(.1)); math.Abs(r-2.20) > .005 {
		t.Errorf("lockstitch: %.3f", r)
	}
	// At no width the zigzag sum is the lockstitch sum: one inch of seam.
	zig := plan.ZigzagThread(10, 0, inch(.1), inch(.01))
	near(t, "zigzag at no width", zig, inch(2.20), 10*measure.Micrometre)
	// Thread maker's table re-printed 2013: 85 to 90 stitches in a 1/2 in
	// buttonhole; two legs at the machine's 0.4 mm and two bars.
	if n := plan.HoleStitches(inch(.5), plan.HolePitch); n < 85 || n > 90 {
		t.Errorf("1/2 in buttonhole: %d stitches", n)
	}
}

// Thread maker's bulletin on buttonsew, buttonholes and bartacks: light
// cloth 8 stitches for two holes or a shank and 16 for four, medium and heavy
// 16, extra heavy 32.
func TestPublishedButtonStitches(t *testing.T) {
	for _, c := range []struct {
		class string
		holes int
		shank bool
		want  int
	}{
		{"light", 4, false, 16}, {"light", 2, false, 8}, {"light", 0, true, 8},
		{"medium", 2, false, 16}, {"medium", 4, false, 16}, {"heavy", 4, false, 16}, {"very heavy", 4, false, 32},
	} {
		if got := plan.ButtonStitches(c.class, c.holes, c.shank); got != c.want {
			t.Errorf("%+v: %d stitches", c, got)
		}
	}
	for _, c := range plan.GeneralClasses {
		if got := plan.ButtonStitches(c.Name, 4, false); got != c.ButtonStitches {
			t.Errorf("%s: %d stitches, the class says %d", c.Name, got, c.ButtonStitches)
		}
	}
	// A mending page, repairing thread shanks of coat buttons: 36 ligne with an
	// 18 ligne backing button.
	stock, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "backing button", plan.BackingButton(stock, 36*measure.Ligne), 18*measure.Ligne, 0)
	near(t, "backing button without a catalogue", plan.BackingButton(nil, 36*measure.Ligne), 18*measure.Ligne, 0)
}

// IASRI e-course on sewing threads: Tex 60 for decorative stitching on light
// cloth, Tex 120 for top-stitching heavy cloth.
func TestPublishedTopstitching(t *testing.T) {
	if a, b := plan.TopstitchTex(&plan.GeneralClasses[0]), plan.TopstitchTex(&plan.GeneralClasses[2]); a != 60 || b != 120 {
		t.Errorf("light Tex %v, heavy Tex %v", a, b)
	}
}

// Needle charts for coats and denim: household manual p. 40 (tweed 90 to
// 100), another household manual p. 14 (denim, canvas 100; coat wool 110), a third household manual
// p. 6 (coating 90 to 100), industrial table (coat 100 to 110).
func TestPublishedNeedleBands(t *testing.T) {
	for _, c := range []struct {
		source  string
		classes []plan.WeightClass
		weight  measure.AreaWeight
		nm      measure.NeedleSize
	}{
		{"tweed at 420 g/m²", plan.CoatClasses, 420, 90}, {"tweed at 420 g/m²", plan.CoatClasses, 420, 100},
		{"coat wool at 620 g/m²", plan.CoatClasses, 620, 110}, {"coating at 620 g/m²", plan.CoatClasses, 620, 100},
		{"shirting at 120 g/m²", plan.GeneralClasses, 120, 70}, {"jeans denim at 407 g/m²", plan.GeneralClasses, 407, 100},
		{"denim at 350 g/m²", plan.GeneralClasses, 350, 90}, {"quilting cotton at 150 g/m²", plan.GeneralClasses, 150, 80},
	} {
		for i, cl := range c.classes {
			if c.weight < cl.Below {
				if off := plan.StepsOutside(c.nm, cl.NeedleMin, cl.NeedleMax); off != 0 {
					t.Errorf("%s with needle %d is %d sizes outside the band of %s", c.source, c.nm, off, c.classes[i].Name)
				}
				break
			}
		}
	}
}

// Thickness from weight: the measured coating of Rogak and others, 2020, 417
// g/m² and 2.2 mm, must lie inside the estimate of its family.
func TestEstimateHoldsMeasuredCloths(t *testing.T) {
	for _, c := range []struct {
		source  string
		weight  measure.AreaWeight
		mm      float64
		density float64
		spread  float64
	}{
		{"Rogak and others, 2020: brushed wool blend", 417, 2.2, 0.190, 45},
		{"Rogak and others, 2020: polyester fleece", 276, 1.6, 0.176, 35},
		{"Penava and others, 2014: wool suiting", 234.8, 0.568, 0.478, 30},
		{"firefighter layers, 2015, table 2: aramid shell", 195, 0.46, 0.424, 25},
		{"Rogak and others, 2020: cotton single jersey", 203, 0.54, 0.329, 25},
	} {
		got := plan.EstimateThickness(c.weight, c.density).MM()
		if math.Abs(got-c.mm) > got*c.spread/100 {
			t.Errorf("%s: estimate %.2f mm ± %.0f %%, measured %.2f mm", c.source, got, c.spread, c.mm)
		}
	}
}

// What a hole worked by hand, a bound hole and a button sewn on by hand take.
func TestPublishedHandWork(t *testing.T) {
	// Every Woman's Encyclopaedia, Practical Lessons in Tailoring, about 1911:
	// about 3/4 yd of twist for a hole of about 3/4 in.
	near(t, "twist for a hole of 3/4 in", plan.TwistFor(inch(.75)), measure.Yard*3/4, 0)
	// J. Williams, Historical Tailoring masterclass: about 1 yd for a slit of
	// 1/2 in and its eye, purls about 1/8 in deep. Between the two lessons lies
	// all that is planned for so small a hole.
	if l := plan.TwistFor(inch(.5)); l < measure.Yard*3/4 || l > measure.Yard {
		t.Errorf("twist for a small keyhole: %s, published 3/4 to 1 yd", l)
	}
	near(t, "depth of the purls", plan.PurlDepth, inch(.125), 0)
	// State extension, Tailoring series, Making bound buttonholes: button 7/8 in
	// and a hole of 1 in, strip 1 1/2 × 4 in; button 1 in, 1 1/8 in, 1 1/2 × 4 1/2.
	for _, c := range [][2]float64{{1, 4}, {1.125, 4.5}} {
		w, l := plan.LipStrip(inch(c[0]))
		near(t, "width of the strip for the lips", w, inch(1.5), 0)
		near(t, "its length", l, inch(c[1]), 0)
	}
	// The Sun (Auckland), 4 July 1927: one strip for the row, its span and 1 in
	// above and below, 2 1/2 in wide for a medium hole.
	w, l := plan.RowStrip(inch(1), inch(16))
	near(t, "width of the strip for a row", w, inch(2.5), 0)
	near(t, "its length", l, inch(18), 0)
	// Derived, with the figures written beside it: stack 6, shank 5, button 4,
	// holes 3.5 mm apart; four holes, four passes a pair: about 480 mm of
	// doubled thread, so about 0.95 m are cut.
	near(t, "thread for a coat button", plan.HandThread(6*mm, 5*mm, 4*mm, mms(3.5), 2, 4), 480*mm, 2*mm)
	// Newspaper sewing column, Press, 3 June 1981: the cord is wound round the
	// fastener; geometry: round a toggle as thick as wide that is π × its width.
	near(t, "girth of a round toggle", plan.EndGirth(15*mm, 15*mm, false), mms(math.Pi*15), measure.Micrometre)
	// An ellipse of 20 × 10 mm: 48.442 mm by its integral (tables of elliptic
	// integrals, E(0.866) = 1.2111).
	near(t, "girth of an oval toggle", plan.EndGirth(20*mm, 10*mm, false), mms(48.442), 5*measure.Micrometre)
	near(t, "girth of a box", plan.EndGirth(16*mm, 14*mm, true), 60*mm, 0)
}

// The stitching of the inner buttons must land on facing and canvas: the
// facing reaches, from the front edge, lap + row offset + D/2 + 10 mm. Derived,
// the 10 mm from memory: lap 89, offset 63.5, D 28.6 mm: 177 mm, 7 in; a
// regulation coat has 10 in at the top.
func TestPublishedFacing(t *testing.T) {
	g, err := catalog.Read("coat.toml", []byte("garment = \"Coat (invented)\"\nunits = \"mm\"\n[cloth.shell]\nuse = \"melton\"\n[[closure]]\nname = \"front\"\nlap = \"double\"\nover = [\"shell\", \"shell\"]\n[closure.notion]\ndiameter = \"28.6 mm\"\nthickness = 4\n[closure.stand]\nconstruction = \"faced\"\nfinished = 89\n[closure.rows]\ndistance = \"63.5 mm\"\n[closure.run]\nlength = 700\ncount = 3\n"), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := &Plan(g).Closures[0].Stand
	near(t, "facing from the front edge", s.Column+s.Have+s.FacingUsual, mms(177), 300*measure.Micrometre)
	if ten := inch(10); s.Column+s.Have+s.FacingUsual > ten {
		t.Errorf("more than the %s of the regulation coat", ten)
	}
}
