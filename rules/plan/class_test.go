package plan

import (
	"slices"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// What a class of cloth asks for can be bought and set: its needles are sizes on
// sale (needle makers' lists), the least below the most; a usual stitch lies
// between the shortest and the longest, and all three on a machine's scale, to
// 1/20 mm; buttons are sewn in cycles of 8 stitches (a thread maker's bulletin).
// A heavier class asks for no thinner needle, no thinner thread and no shorter
// stitch than the one before it, and no chart is left.
func TestClassesCanBeBoughtAndSet(t *testing.T) {
	sold := func(n measure.NeedleSize) bool { return slices.Contains(NeedleSizes, n) }
	var last WeightClass
	for _, list := range [][]WeightClass{GeneralClasses, CoatClasses, DenimClasses, {corduroyClass}, {fleeceClass}, {furClass}, {leatherClass}, {boiledClass}, {waxedClass}} {
		for i, c := range list {
			if !sold(c.NeedleMin) || !sold(c.NeedleMax) || c.NeedleMin >= c.NeedleMax {
				t.Errorf("%s: needles %v to %v", c.Name, c.NeedleMin, c.NeedleMax)
			}
			for _, l := range []measure.Length{c.stitch, c.lo, c.hi} {
				if l%(mm/20) != 0 {
					t.Errorf("%s: no machine sets a stitch of %d nm", c.Name, l)
				}
			}
			if c.lo >= c.stitch || c.stitch >= c.hi {
				t.Errorf("%s: a stitch of %v, of %v to %v", c.Name, c.stitch, c.lo, c.hi)
			}
			if c.ButtonStitches%8 != 0 || c.ButtonStitches == 0 {
				t.Errorf("%s: %d stitches", c.Name, c.ButtonStitches)
			}
			if c.texMin >= c.texMax || c.buttonMin >= c.buttonMax {
				t.Errorf("%s: threads %v to %v, %v to %v", c.Name, c.texMin, c.texMax, c.buttonMin, c.buttonMax)
			}
			if i > 0 && (c.NeedleMin < last.NeedleMin || c.NeedleMax < last.NeedleMax || c.texMin < last.texMin || c.texMax < last.texMax || c.stitch < last.stitch || c.hi < last.hi || c.Below <= last.Below) {
				t.Errorf("%s asks for less than %s", c.Name, last.Name)
			}
			last = c
			// The thinnest thread of the class goes into the groove of its thickest needle.
			if d, ok := c.texMin.Diameter("polyester"); !ok || d.MM() > RatioHigh*c.NeedleMax.BladeMM() {
				t.Errorf("%s: no thread of the class goes through %v", c.Name, c.NeedleMax)
			}
		}
	}
	for kind, c := range charted {
		if !sold(c.Least) || !sold(c.Most) || c.Least >= c.Most {
			t.Errorf("%s: charts list %v to %v", kind, c.Least, c.Most)
		}
		for _, w := range classesOf(kind) {
			if w.NeedleMin >= heavyNeedle && (kind == "shirting" || kind == "lining") {
				continue // none weighs so much
			}
			if c.Outside(w.NeedleMin) && c.Outside(w.NeedleMax) {
				t.Errorf("%s, %s: what lies wholly outside the charts is no common ground: %v to %v", kind, w.Name, w.NeedleMin, w.NeedleMax)
			}
		}
	}
	for i, n := range NeedleSizes { // 60 to 160, by fives to 80 and by tens from there; 150 is not made
		if want := []measure.NeedleSize{60, 65, 70, 75, 80, 90, 100, 110, 120, 130, 140, 160}; want[i] != n {
			t.Errorf("size %d is %v", i, n)
		}
		for _, s := range []int{-1, 0, 1} {
			if at := i + s; at >= 0 && at < len(NeedleSizes) && NeedleStep(n, s) != NeedleSizes[at] {
				t.Errorf("%v and %d is %v", n, s, NeedleStep(n, s))
			}
		}
	}
}

// Usual stitches, mm: 8 to 12 an inch, from thread makers' tables and the sewing
// pages named at each class; to whole quarters of a millimetre.
func TestUsualStitches(t *testing.T) {
	for _, c := range []struct {
		kind   string
		weight measure.AreaWeight
		stitch measure.Length
		button int
	}{
		{"suiting", 100, 2 * mm, 16}, {"suiting", 200, 5 * mm / 2, 16}, {"suiting", 300, 3 * mm, 16}, {"suiting", 500, 3 * mm, 32},
		{"melton", 250, 5 * mm / 2, 16}, {"melton", 350, 3 * mm, 16}, {"melton", 600, 3 * mm, 16},
		{"heavy-cotton", 200, 3 * mm, 16}, {"heavy-cotton", 400, 13 * mm / 4, 16}, {"heavy-cotton", 600, 13 * mm / 4, 16},
		{"corduroy", 300, 5 * mm / 2, 16}, {"fleece", 300, 3 * mm, 16}, {"pile", 300, 3 * mm, 16}, {"leather", 300, 13 * mm / 4, 16},
		{"boiled-wool", 300, 3 * mm, 16}, {"waxed-cotton", 300, 3 * mm, 16},
	} {
		classes := classesOf(c.kind)
		i := slices.IndexFunc(classes, func(w WeightClass) bool { return c.weight < w.Below })
		if w := classes[i]; w.stitch != c.stitch || w.ButtonStitches != c.button {
			t.Errorf("%s: a stitch of %v and %d through a button, want %v and %d", w.Name, w.stitch, w.ButtonStitches, c.stitch, c.button)
		}
	}
}

// The thinnest and the thickest needle that a published chart lists, as the table
// of charts has them: a needle at either is listed, the next size beyond is not.
func TestChartsEndWhereTheyEnd(t *testing.T) {
	for kind, ends := range map[string][2]measure.NeedleSize{
		"melton": {80, 120}, "woollen-brushed": {80, 120}, "loose-coating": {75, 120}, "heavy-cotton": {70, 140},
		"worsted": {75, 110}, "suiting": {70, 100}, "shirting": {60, 90}, "lining": {60, 90}, "leather": {75, 110},
	} {
		c := ChartedFor(&catalog.Cloth{Kind: kind})
		for _, n := range NeedleSizes {
			if c.Outside(n) != (n < ends[0] || n > ends[1]) {
				t.Errorf("%s: %v is outside: %v", kind, n, c.Outside(n))
			}
		}
	}
	if ChartedFor(nil).Outside(60) || (Charted{}).Outside(160) {
		t.Error("a cloth of no chart leaves needles out")
	}
}

// A needle lies as many sizes on sale outside a band as there are steps to it,
// and at least one.
func TestStepsOutside(t *testing.T) {
	for _, c := range []struct {
		n, lo, hi measure.NeedleSize
		want      int
	}{
		{90, 90, 110, 0}, {110, 90, 110, 0}, {100, 90, 110, 0}, {80, 90, 110, -1}, {75, 90, 110, -2}, {120, 90, 110, 1}, {160, 90, 110, 4},
		{85, 90, 110, -1}, {105, 75, 100, 1}, {60, 90, 110, -5},
	} {
		if got := StepsOutside(c.n, c.lo, c.hi); got != c.want {
			t.Errorf("%v of %v to %v: %d, want %d", c.n, c.lo, c.hi, got, c.want)
		}
	}
}

// The thread recommended for a class: a thread maker's sizes 24, 30, 40 and 60,
// always one of the class; for stitching that shows Tex 60, on heavy cloth 120
// (IASRI e-course).
func TestUsualThreads(t *testing.T) {
	for _, c := range []struct {
		most, usual measure.LinearDensity
	}{{29.9, 24}, {30, 24}, {30.1, 30}, {40, 30}, {40.1, 40}, {60, 40}, {60.1, 60}, {120, 60}} {
		if got := usualTex(&WeightClass{texMax: c.most}); got != c.usual {
			t.Errorf("to Tex %v: Tex %v, want %v", float64(c.most), float64(got), float64(c.usual))
		}
	}
	for _, list := range [][]WeightClass{GeneralClasses, CoatClasses, DenimClasses} {
		for i, c := range list {
			if u := usualTex(&c); u < c.texMin || u > c.texMax {
				t.Errorf("%s: Tex %v is none of its threads", c.Name, float64(u))
			}
			heavy := c.Name == "heavy" || c.Name == "very heavy" || &list[0] != &GeneralClasses[0] && i > 0
			if want := map[bool]measure.LinearDensity{false: 60, true: 120}[heavy]; TopstitchTex(&c) != want {
				t.Errorf("%s: stitched with Tex %v, want %v", c.Name, float64(TopstitchTex(&c)), float64(want))
			}
		}
	}
}

// The eye of a hand needle is two fifths of its blade at least (JIS S 3008-1981):
// blades of 0.61, 0.69, 0.86, 1.07 and 1.24 mm take threads to 0.244, 0.276, 0.344,
// 0.428 and 0.496 mm; a thicker thread has the largest.
func TestEyesOfHandNeedles(t *testing.T) {
	for _, c := range []struct {
		thread measure.Length
		want   HandNeedle
	}{
		{100 * measure.Micrometre, HandNeedle{"sharps", 9}}, {244 * measure.Micrometre, HandNeedle{"sharps", 9}},
		{244*measure.Micrometre + 1, HandNeedle{"sharps", 7}}, {276 * measure.Micrometre, HandNeedle{"sharps", 7}},
		{276*measure.Micrometre + 1, HandNeedle{"sharps", 5}}, {344 * measure.Micrometre, HandNeedle{"sharps", 5}},
		{344*measure.Micrometre + 1, HandNeedle{"chenille", 20}}, {428 * measure.Micrometre, HandNeedle{"chenille", 20}},
		{428*measure.Micrometre + 1, HandNeedle{"chenille", 18}}, {mm, HandNeedle{"chenille", 18}},
	} {
		if got := HandNeedleFor(c.thread); got != c.want {
			t.Errorf("%v: %v, want %v", c.thread, got, c.want)
		}
	}
}

// A thread of 0.4 of the blade fills the groove, and with 5 % for how far the sum
// of its thickness is off it is refused beyond 0.42 (a needle maker's groove; 5 %
// is ours). So is a needle that no chart lists, or the machine does not take.
func TestWhatIsRefused(t *testing.T) {
	var takes catalog.Machine
	takes.NeedleMax.V, takes.NeedleMax.From = 100, catalog.Given
	melton := Needle{Charted: Charted{80, 120}}
	for _, c := range []struct {
		n      Needle
		nm     measure.NeedleSize
		thread float64
		m      catalog.Machine
		want   bool
	}{
		{Needle{}, 100, 0.42, catalog.Machine{}, false}, {Needle{}, 100, 0.421, catalog.Machine{}, true},
		{Needle{}, 100, 0.3, takes, false}, {Needle{}, 110, 0.3, takes, true}, {Needle{}, 110, 0.3, catalog.Machine{}, false},
		{melton, 80, 0.2, catalog.Machine{}, false}, {melton, 75, 0.2, catalog.Machine{}, true}, {melton, 120, 0.2, catalog.Machine{}, false}, {melton, 130, 0.2, catalog.Machine{}, true},
	} {
		if got := c.n.refused(c.nm, c.thread, &c.m); got != c.want {
			t.Errorf("%v, %g mm: refused %v", c.nm, c.thread, got)
		}
	}
	// Of 0.235 to 0.4 of a blade: 0.3 mm from 75 (0.4) to 120 (0.25), not 130 (0.231).
	for thread, want := range map[measure.Length][2]measure.NeedleSize{
		mm * 3 / 10: {75, 120}, mm * 4 / 10: {100, 160}, mm * 235 / 1000: {60, 100}, mm * 2349 / 10000: {60, 100}, mm * 2344 / 10000: {60, 90}, mm: {0, 0},
	} {
		if a, b := ThreadTakes(thread); a != want[0] || b != want[1] {
			t.Errorf("a thread of %v: %v to %v, want %v", thread, a, b, want)
		}
	}
	// Of the band the one nearest to 0.3; where two are as near, the finer.
	band := Needle{Min: 80, Max: 110}
	for d, want := range map[float64]measure.NeedleSize{0.30: 100, 0.27: 90, 0.1: 80, 0.6: 110} {
		if got := band.fitting(d, 120); got != want {
			t.Errorf("a thread of %g mm: %v, want %v", d, got, want)
		}
	}
	if a, b := band.fitting(0.3, 90), band.fitting(0.3, 75); a != 90 || b != 0 {
		t.Errorf("no thicker than 90: %v; than 75: %v", a, b)
	}
	if got := (&Needle{Min: 80, Max: 110}).ForThick(); got != 90 {
		t.Errorf("one size above 80 is %v", got)
	}
	if got := (&Needle{Min: 110, Max: 110}).ForThick(); got != 110 {
		t.Errorf("nothing is above 110: %v", got)
	}
}
