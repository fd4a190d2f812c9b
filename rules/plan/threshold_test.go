package plan

import (
	"testing"

	"placketeer/catalog/measure"
)

// Figures that no rule decides by, but that stand in what is planned: each as
// its source has it.
func TestFiguresOfTheirSources(t *testing.T) {
	inch := func(f float64) float64 { return f * 25.4 }
	for _, c := range []struct {
		name    string
		is, has float64 // mm, or a count
	}{
		// Thread makers' guides: 10 to 20 %; the middle of it.
		{"waste of thread", 1.15, threadWaste},
		// Trade: about 5 1/2 in for one button, from memory.
		{"thread of a button", inch(5.5), ButtonThread.MM()},
		// Ours: a run this short is a flap, a cuff or a tab.
		{"a short run", inch(8), shortRun.MM()},
		// Ours: 1/2 in, or 12 mm.
		{"anchor, in", inch(0.5), AnchorWithin(measure.In).MM()}, {"anchor, mm", 12, AnchorWithin(measure.MM).MM()},
		// Household machine manual, automatic setting: 5 mm wide, a keyhole 7, a pitch
		// of 0.4, and bars of 1/8 in together.
		{"width of a hole", 5, holeWidth["machine"].MM()}, {"width of a keyhole", 7, holeWidth["keyhole"].MM()},
		{"pitch of a hole", 0.4, measure.Length(HolePitch).MM()}, {"bars", inch(0.125), Bars.MM()},
		{"stitches of a hole of 20 mm", 124, float64(HoleStitches(20*mm, HolePitch))},
		// Historical tailoring masterclass: purls 1/8 in deep on either side.
		{"width of a hand hole", inch(0.25), holeWidth["hand"].MM()},
		// Extension Circular 442: lips of 1/8 in; a state extension: 3/16 in bulky cloth.
		{"width of a bound hole", inch(0.25), holeWidth["bound"].MM()}, {"lip in bulky cloth", inch(3. / 16), boundHalfBulky.MM()},
		// Thread makers' guides: 2 to 3 cm at each end of a row.
		{"tail of a row", 25, boundTail.MM()},
		// Ours: coat and jacket fronts, where a shank needs the eye.
		{"keyholes from", 20, keyholeFrom.MM()},
		// A sewer's page, 2010: leather patch, finished.
		{"patch, across", inch(1.5), patchAcross.MM()},
		// Common practice, no source: 1/2 in above and below.
		{"margin of a patch", inch(0.5), PatchMargin.MM()},
		// Common practice, no source: shops cut to 1/8 yd or 10 cm.
		{"goods, in", inch(36. / 8), GoodsStep(measure.In).MM()}, {"goods, mm", 100, GoodsStep(measure.MM).MM()},
		// Common practice, no source: 5/8 in, or 15 mm.
		{"seam, in", inch(0.625), UsualSeam(measure.In).MM()}, {"seam, mm", 15, UsualSeam(measure.MM).MM()},
		// IASRI e-course: buttonhole gimp Tex 210.
		{"gimp", 210, usualGimp},
		// Sewing machine maker's page, 2024: the cover 1 mm wider.
		{"cover of a concealed band", 1, CoverMore.MM()},
		// Butterick's text on coats and jackets.
		{"fly stitched", inch(0.25), measure.Length(flyStitched).MM()},
		// Of the pressed share, from memory.
		{"cloth pressed to", 0.85, pressedCloth}, {"interfacing pressed to", 0.9, pressedInterfacing},
		// Household machine manual, the usual swing; the published sum of a shank, its
		// thread and its tails; a sewing page on toggles, thread used double.
		{"gap of a pair of holes", 3.5, usualGap.MM()}, {"turn round a shank", 4, shankThick.MM()}, {"tails by hand", 120, handTails.MM()}, {"thread of a toggle", inch(12), toggleSewn.MM()},
		// Stitch through a thick stack, and the longest for a child: 8 to 10 an inch.
		{"stitch in thick cloth", 3, measure.Length(usualThick).MM()}, {"a child's stitch", 3, measure.Length(childStitch).MM()},
		// Household manual: a hole in a knit is wider and more open.
		{"hole in a knit", 6, measure.Length(knitWidth).MM()}, {"its pitch", 1, measure.Length(knitPitch).MM()},
		// Buttonhole twist, from memory; cotton no. 40 for a blouse (Text-Book on Domestic Art).
		{"twist", 90, twistTex}, {"light twist", 44, twistLight}, {"purls, least", 20, PurlsLeast}, {"purls, most", 25, PurlsMost},
		// Common practice, no source: a metre count of a small spool.
		{"a spool", 100_000, measure.Length(UsualSpool).MM()},
		// Of the barrel, ours.
		{"punched", 0.85, UsualPunch},
		// All flat wovens of the measured table together.
		{"density of a flat woven", 0.424, flatDensity}, {"its ±", 30, flatSpread},
	} {
		if d := c.has - c.is; d > 1e-6 || d < -1e-6 {
			t.Errorf("%s: %v, its source has %v", c.name, c.has, c.is)
		}
	}
}

// A third of the way from one band to the next there is no stand: it is half a
// band, folded or sewn on. Concealed, three times the band lie beyond its edge
// (a sewing machine maker's page, 2024); tucked at 1/4 in, 1 1/2 in wide, 2 3/4 in
// beyond the centre (a method for shirt bands, as quoted).
func TestBandsByTheirSources(t *testing.T) {
	b := Band{Width: 30 * mm, TurnUnder: 30 * mm}
	if e := b.Extension(); e != 75*mm {
		t.Errorf("a band of 3 cm turned under by as much: %v, want 75 mm", e)
	}
	b = Band{Width: 30 * mm, Concealed: true}
	if e := b.Extension(); e != 105*mm {
		t.Errorf("concealed: %v, want 105 mm", e)
	}
	if w := b.From(105 * mm).Width; w != 30*mm {
		t.Errorf("concealed, from 105 mm: %v, want 30 mm", w)
	}
	b = Band{Width: in * 3 / 2, Tuck: quarter}
	if e := b.Extension(); e != in*11/4 {
		t.Errorf("tucked: %v, want 2 3/4 in", e)
	}
	if w := b.From(in * 11 / 4).Width; w != in*3/2 {
		t.Errorf("tucked, from 2 3/4 in: %v, want 1 1/2 in", w)
	}
	if n := (Band{Concealed: true}).Folds(); n != 3 {
		t.Errorf("%d folds of a concealed band", n)
	}
	if n := (Band{TurnUnder: mm}).Folds(); n != 2 {
		t.Errorf("%d folds of a band with a turn-under", n)
	}
}
