package plan

import (
	"math"
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
		// Historical Tailoring masterclass: the punch for an eye, 3/16 to 1/4 in.
		{"eye, least", inch(3. / 16), measure.Length(EyeLeast).MM()}, {"eye, most", inch(0.25), measure.Length(EyeMost).MM()},
		// Mending guides, 3 to 6, and a clothes-mending house, 2016; Text-Book on Domestic Art, 4 to 5.
		{"passes, light", 4, passesLight}, {"passes, heavy", 5, passesHeavy}, {"winds", 5, ShankWinds},
		// Every Woman's Encyclopaedia, about 1911: 3/4 yd for 3/4 in.
		{"twist over slit", 36, twistOverSlit}, {"twist, least", 685.8, measure.Length(twistLeast).MM()},
		// State extension, Tailoring series: 1 1/2 in wide, four times the hole; 3/16 in a lip in bulky cloth.
		{"strip of lips", inch(1.5), lipStripWidth.MM()}, {"its length in holes", 4, lipStripHoles}, {"lip in bulky cloth", inch(3. / 16), boundHalfBulky.MM()},
		// Makers' figures, mm, from memory: of a nail, of prongs, of a snap's post.
		{"nail, least", 2, nailLeast.MM()}, {"nail, most", 7, nailMost.MM()}, {"prong, least", 1.5, prongLeast.MM()}, {"prong, most", 2, prongMost.MM()}, {"post, least", 2.5, postLeast.MM()}, {"post, most", 4, postMost.MM()},
		// Three makers of rivets; a fastener maker, of rigid goods, 0.01 to 0.015 in.
		{"rivet, least", 0.5, rivetLeast}, {"rivet, most", 0.7, rivetMost}, {"rigid, least", inch(0.01), rigidLeast.MM()}, {"rigid, most", inch(0.015), rigidMost.MM()}, {"solid stack", 1.1, solidStack}, {"solid width", 1.3, solidWide},
		// From memory; a boating magazine on spur grommets.
		{"layers of hardware", 2, layersLeast}, {"layers of a spur grommet", 3, spurLayers},
		// Household machine manual: 5 mm, and 7 mm for a keyhole.
		{"hole", 5, plainWidth.MM()}, {"keyhole, more", 2, KeyholeWider.MM()},
		// A sewer's page, 2010: a patch of 1 1/2 × 1 3/4 in over the ends of a cord; those
		// behind them 1/4 in more all round. Its edge 5 to 8 cm from the line, from memory.
		{"patch across", inch(1.5), patchAcross.MM()}, {"patch along", inch(1.75), patchAlong.MM()},
		{"under it, across", inch(2), UnderCordAcross.MM()}, {"under it, along", inch(2.25), UnderCordAlong.MM()}, {"patch, near", 50, PatchNear.MM()}, {"patch, far", 80, PatchFar.MM()},
		// Police uniform specification, 2019: 22 mm. A sewer's trial, 2018; a clothing-technology page.
		{"seam tape", 22, SeamTape.MM()}, {"tape melts", 150, tapeMelts.C()}, {"polyamide washed", 60, PolyamideWash.C()},
		// Of a blend: an iron maker's manual, 70 %; half is ours.
		{"blend", 70, BlendShare}, {"bulk", 50, BulkShare},
		// Trade article: a column 6 to 8 cm from the centre. A sewing column, 1999: 4 in of leg room.
		{"rows, low", 60, RowsLow.MM()}, {"rows, high", 80, RowsHigh.MM()}, {"leg room", inch(4), LastAboveHem.MM()},
		// A costume maker's page, 2015: 1/2 in; in whole mm 13.
		{"zip's top, in", inch(0.5), ZipTop.MM()}, {"zip's top, mm", 13, zipTopMM.MM()},
		// Ours: gimp, loops, tacks, needles, basting, swatches, cords, fly and loops as drawn.
		{"gimp at each end", inch(2), gimpEnds.MM()}, {"thread of a loop", inch(2), loopSewn.MM()}, {"thread of a tack", inch(5), tackThread.MM()}, {"needles", 2, needlesEach}, {"basting", 1.1, basteAllowed}, {"swatches", 3, triesOfFuse},
		{"cord as thick", 0.25, cordSame.MM()}, {"half a tack", inch(1. / 8), tackHalf.MM()}, {"half a loop", 3, loopRoom.MM()}, {"finest stripes", 5, leastStripe.MM()},
		{"second strip, in", inch(3. / 8), Stagger.MM()}, {"second strip, mm", 10, StaggerMM.MM()}, {"as it is", 2, ZipAsItIs.MM()}, {"of an attachment", 0.1, DieSlip.MM()}, {"graded over", 0.1, GradedOver.MM()},
		{"step in felt", 0.5, StepFelt.MM()}, {"play of a cord", 0.5, CordPlay.MM()}, {"hook out", 0.5, HookSlip.MM()}, {"loop's slack", inch(0.5), loopSlack.MM()}, {"a short run", inch(8), shortRun.MM()}, {"ends move", 2, farthest},
		// Of fusing, ours: the printed figures of all makers lie between. A block for
		// medium cloth (Vincent) takes 1/2 in less a side in thin cloth and 1 in more in
		// heavy; what is thin and heavy is ours, g/m².
		{"coolest fusing", 120, FuseLow.C()}, {"hottest", 165, FuseHigh.C()}, {"ease of thin cloth", inch(0.5), BlockThinEase.MM()}, {"of heavy cloth", inch(1), BlockHeavyEase.MM()},
		{"thin", 135, BlockThin.GSM()}, {"heavy", 400, BlockHeavy.GSM()}, {"a heavy coat", 500, BlockHeavyCoat.GSM()},
		// The Sun (Auckland), 1927: a strip 2 1/2 in wide for a row; 1/2 in beyond each
		// hole, derived. Two lips and two ends.
		{"strip of a row", inch(2.5), rowStripWidth.MM()}, {"beyond a hole", inch(0.5), rowStripBeyond.MM()}, {"above a row", inch(1), RowStripExtra.MM()}, {"rows of a bound hole", 4, boundRows},
		// Sewing notes: snaps sewn on, 7 to 14 mm. MIL-B-286D (1987): a tack holds 60 lbf.
		{"sewn snaps, small", 7, SewnSnapSmall.MM()}, {"big", 14, SewnSnapBig.MM()}, {"a tack's hold, N", 266.893, math.Round(TackPull.N()*1000) / 1000},
		// Ours: bulky over 3 mm. Household machine manual: holes to 28 mm. Handbooks of 1907
		// to 2023: 1/4 in over what passes; K. H. Watson, 1907: 1/4 in to the edge.
		{"bulky", 3, Bulky.MM()}, {"longest hole", 28, DefaultHoleMax.MM()}, {"over what passes", inch(0.25), HoleSlip.MM()}, {"to the edge", inch(0.25), HoleEdge.MM()},
		// Cords of loops, from memory; hooks too small or too large, ours.
		{"thin cord", 3, CordLeast.MM()}, {"thick", 6, CordMost.MM()}, {"a short hook", 9, HookShort.MM()}, {"a long one", 12, HookLong.MM()}, {"tape out", 1, TapeSlip.MM()},
		// A thread maker's table and a needle maker's groove, thread over blade.
		{"thin thread", 0.235, RatioLow}, {"the groove", 0.4, RatioHigh}, {"refused", 0.42, RatioMost},
		{"half a patch", inch(0.75), PatchHalf.MM()},
		// US Army dress coat: columns 10 in apart at the top; Confederate tunic: 2 in at the waist.
		{"rows, far", inch(5), RowsFar.MM()}, {"rows, near", inch(1), RowsNear.MM()},
		// Above a turn-up, from memory; the first below the top, as printed.
		{"above a turn-up", inch(3. / 8), AboveTurnUp.MM()}, {"low", inch(1), FirstLow.MM()}, {"below the neck", inch(0.25), FirstBelowNeck.MM()},
		// A thread maker's bulletin: cycles of a button machine. Ours: a shank wound; one too long.
		{"few stitches", 8, fewStitches}, {"usual", 16, usualStitches}, {"many", 32, manyStitches}, {"holes of a button", 4, usualHoles}, {"wound", 0.1, ShankShort.MM()}, {"too long a shank", inch(0.25), ShankSlack.MM()},
		// A Japanese course: 1 to 3 %; a felt maker's page: up to 9.5 % of the width. Ours: half is wool.
		{"shrinkage", 3, UsualShrink}, {"of felt", 9.5, FeltWashed}, {"mostly wool", 50, WoolShare}, {"shows", inch(1. / 16), ShrinkShows.MM()},
		// From memory: household machines labour over 4 mm; ours: a thick stack.
		{"under a foot", 4, FootBulky.MM()}, {"a thick stack", 4, ThickStack.MM()},
		// Sew Today, 2019: 3 mm of rim; professionals' standards: 1/4 in. Inner column, from memory.
		{"rim", 3, RimClear.MM()}, {"usual rim", inch(0.25), StandRim.MM()}, {"inner column", 10, InnerClear.MM()},
		// Past a hole: a trade pattern maker's site 1/4 in; usual, common practice; a bound one, a sewing page.
		{"past a hole", inch(0.25), SupportLeast.MM()}, {"usual", inch(0.5), SupportUsual.MM()}, {"beside a bound one", inch(1), boundPatch.MM()},
		// Two trade sources: a chain is up to 1 1/2 mm wider than its number. Numbers: sold to 10, made to 25.
		{"chain over its number", 1.5, ChainOver.MM()}, {"sold", 10, ZipNumberSold}, {"made", 25, zipMade}, {"front of light cloth", 6, ZipFrontMost},
		// US Army TM 10-8400-203-23: stitched 1/4 in from the teeth; the rest is ours.
		{"zip stitched", inch(0.25), ZipStitch.MM()}, {"folded beside", inch(0.125), zipFold.MM()}, {"flap past the teeth", inch(0.25), FlyPast.MM()}, {"past the tape", inch(0.125), FlyTape.MM()}, {"a zip's lack", inch(0.25), ZipShort.MM()},
		{"tape beyond", inch(0.125), TapeBeyond.MM()}, {"edge of a fly", inch(0.125), FlyShort.MM()},
		{"best thread", 0.3, ratioBest}, {"off a diameter", 0.05, DiameterOff}, {"heat margin", 10, HeatMargin.C()}, {"the same heat", 5, SameHeat.C()},
	} {
		if d := c.has - c.is; d > 1e-6 || d < -1e-6 {
			t.Errorf("%s: %v, its source has %v", c.name, c.has, c.is)
		}
	}
}

// The figures of the law and of standards for children's clothes and for metals.
func TestFiguresOfTheLaw(t *testing.T) {
	for _, c := range []struct {
		name    string
		is, has float64 // mm, N or a count
	}{
		// 16 CFR 1501.4: a cylinder 1.25 in across, 1 in deep at its shallow side and 2.25
		// at the other; the longest rod in it is √(31.75² + 57.15²) = 65.38.
		{"bore", 31.75, GaugeBore.MM()}, {"shallow", 25.4, GaugeShallow.MM()}, {"deep", 57.15, GaugeDeep.MM()}, {"rod", 65.4, RodMost.MM()},
		// 16 CFR 1500.51 to .53: to 18, 36 and 96 months; pulled with 10 and 15 lbf.
		{"first", 18, AbuseFirst}, {"second", 36, AbuseSecond}, {"third", 96, AbuseThird}, {"pull", 44.482, PullFirst.N()}, {"pull, later", 66.723, PullLater.N()},
		// CEN/TS 17394-1:2021: to 36 months, 50 N to 6 mm and 70 over; EN 71-1: 50 and 90.
		{"clothing", 36, ClothingMonths}, {"small", 6, SmallPart.MM()}, {"eu, small", 50, PartPullSmall.N()}, {"eu, large", 70, PartPullLarge.N()}, {"toys, small", 50, ToyPullSmall.N()}, {"toys, large", 90, ToyPullLarge.N()},
		// 16 CFR 1500.48 and .49: under 8 years; lead: to 12 years (US); small parts: under 3.
		{"sharp", 8, SharpUnder}, {"lead", 12, LeadTo}, {"infant", 3, InfantUnder},
		// REACH annex XVII, entry 27: 0.5 and 0.2 µg/cm² a week; EN 12472: two years of wear.
		{"nickel", 0.5, NickelSkin}, {"nickel in ears", 0.2, NickelPost}, {"wear", 2, NickelWear},
		// US: 100 parts per million of lead, 90 in paint (16 CFR 1303); magnets of 50 kG² mm² (16 CFR 1262).
		{"lead, parts", 100, LeadMost}, {"in paint", 90, LeadPaint}, {"flux", 50, FluxHazard},
		// 16 CFR 1615: to 9 months, 648 mm or 25 3/4 in, each of two pieces 400 mm.
		{"nightwear", 9, InfantMonths}, {"one piece", 648, InfantOne.MM()}, {"in inches", 25.75 * 25.4, InfantOneIn.MM()}, {"two pieces", 400, InfantOfTwo.MM()},
		// 16 CFR 1120: no cord at the neck from 2T to 12, 3 in at the waist to 16. EN 14682:
		// 140 mm, 280 drawn in, a loop of 150; the young up to 7 years or 134 cm, all up to 14.
		{"top", 12, CordTopSize}, {"low", 16, CordLowSize}, {"from", 2, CordLeastSize}, {"free, us", 76.2, CordFreeUS.MM()}, {"free, eu", 140, CordFreeEU.MM()}, {"drawn in", 280, CordDrawnEU.MM()}, {"a loop", 150, CordLoopEU.MM()},
		{"young", 7, CordYoung}, {"their height", 1340, CordYoungHeight.MM()}, {"oldest", 14, CordOldest}, {"of no age", 4, CordUnknownAge}, // the last is ours
	} {
		if d := c.has - c.is; d > 5e-4 || d < -5e-4 {
			t.Errorf("%s: %v, its source has %v", c.name, c.has, c.is)
		}
	}
	if NoBarrel >= 0 || Splits(SetRivet) != NoBarrel || Splits(SetBarrel) != 3 || Splits(SetEyelet) != 0 {
		t.Error("splits of a barrel")
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
