package rules

import (
	"cmp"
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
	"placketeer/spacing"
)

// inInch is what stands in brackets after a length in millimetres.
var inInch = regexp.MustCompile(` \([^()]* in\)`)

// What each rule proposes, and what it costs by our own scale: the millimetres
// that move, a quarter of them for a strip or a loop and twice as many for a stand
// or a column; 1 or 2 for a word, a needle or a mark; 3 to 6 for a patch; 10 to
// 45 for another way of working. Figures are worked out by hand from those of the
// garment, up to whole millimetres; those of the catalogue are tried below.
func TestWhatChangesCost(t *testing.T) {
	const hole28 = across + "|closure.front.hole_length=28 mm|"
	second := func(more string) string { return hole28 + "closure.front.stand.finished=24 mm|" + more }
	for _, c := range []struct {
		rule, base, with string
		want             map[string]float64
		more             bool // others are proposed too
	}{
		// 24 + 28 − 3.175 + 12.7 = 61.525 and + 6.35 = 55.175, by 2 mm.
		{"strip-narrow", edgeCoat, second("closure.front.stand.strip=50 mm"), map[string]float64{"cut the strip 62 mm wide": 3, "cut the strip 56 mm wide": 1.5}, false},
		// The whole of a band of 40 for 34 of it, a quarter of 6.
		{"strip-narrow", edgeCoat, along + "|closure.front.stand.construction=band|closure.front.stand.band=40 mm|closure.front.stand.strip=34 mm", map[string]float64{"cut the strip as wide as the band, 40 mm": 1.5}, true},
		{"strip-second", edgeTwo, second("closure.front.stand.strips.more.width=50 mm"), map[string]float64{"cut the strip of more 56 mm wide": 1.5}, false},
		// 40 drafted, less 3.175 and half a bar of 1.5875, less 1/4 in: 28.8875.
		{"strip-second", edgeTwo, hole28 + `closure.front.stand={construction="faced",extension="40 mm",seam="10 mm",strips=[{name="more",from_edge="38 mm"}]}`, map[string]float64{"begin the strip of more 28 mm from the cut edge": 1}, false},
		{"strip-start", edgeCoat, hole28 + `closure.front.stand={construction="faced",extension="40 mm",seam="10 mm",strip_from_edge="38 mm"}`, map[string]float64{"begin the strip 28 mm from the cut edge": 1}, false},
		// It begins where the work ends, at 3.175 and half a bar of 1.5875: 4.7625 + 24.825 + 6.35.
		{"strip-second", edgeTwo, hole28 + `closure.front.stand={construction="faced",extension="40 mm",seam="10 mm",strips=[{name="more",from_edge="35.2375 mm",width="10 mm"}]}`, map[string]float64{"cut the strip of more 36 mm wide": 6.5}, false},
		{"interfacing-none", edgeTwo, `closure.front.over=["shell","shell"]|closure.front.stand.strips=`, map[string]float64{"put in under it": 4, "put more under it": 5, "reinforce it in another way, and say so": 15}, false},
		{"goods-narrow", edgeTwo, second("interfacing.more.width=50 mm|closure.front.stand.strips.more.width=60 mm"), map[string]float64{"cut the strip of more 50 mm wide": 2.5}, false},
		{"goods-narrow", edgeCoat, second("interfacing.in.width=65 mm|closure.front.stand.strip=70 mm"), map[string]float64{"cut the strip 62 mm wide": 2}, true},
		// As wide as is usual, and as its goods: neither is cut narrower.
		{"goods-narrow", edgeCoat, second("interfacing.in.width=60 mm|closure.front.stand.strip=62 mm"), map[string]float64{}, false},
		{"goods-narrow", edgeTwo, second("interfacing.in.width=65 mm|closure.front.stand.strip=70 mm|interfacing.more.width=60 mm|closure.front.stand.strips.more.width=60 mm"), map[string]float64{"cut the strip 62 mm wide": 2}, false},
		// 15 + 30 + 10 turned under + two folds of 1 and the canvas of 0.5: 57.5; 50 less 10
		// and 2.5 are one and a half bands of 25.
		{"band-extension", edgeCoat, "closure.front.stand.construction=folded|closure.front.stand.band=30 mm|closure.front.stand.turn_under=10 mm|closure.front.stand.extension=50 mm", map[string]float64{"draft 58 mm beyond the centre line": 8, "make the band 25 mm": 5}, false},
		// 12.5 leave no band.
		{"band-extension", edgeCoat, folded + "closure.front.stand.band=30 mm|closure.front.stand.extension=12.5 mm", map[string]float64{"draft 58 mm beyond the centre line": 45.5}, false},
		// Twice 28 − 3.175 + 6.35 = 62.35.
		{"band-hole", edgeCoat, hole28 + "closure.front.stand.construction=band|closure.front.stand.band=50 mm", map[string]float64{"set the holes along the band": 10, "make the band 64 mm wide": 14}, false},
		{"band-hole", edgeCoat, "closure.front.stand.construction=band|closure.front.stand.band=80 mm|closure.front.lap=double|closure.front.rows.distance=60 mm", map[string]float64{"face the front": 10}, false},
		{"facing-short", edgeCoat, second("closure.front.stand.facing=20 mm"), map[string]float64{"make the facing reach 32 mm": 12}, false},
		// There is no facing to make wider.
		{"facing-short", edgeSecond, besideBand + "40 mm", map[string]float64{}, false},
		// 12 + 6.35 = 18.35, and 12 + 3: twice 5, and twice 1 as the third.
		{"stand-narrow", edgeCoat, "closure.front.stand.finished=14 mm", map[string]float64{"make the finished stand 19 mm": 10, "make the finished stand 15 mm": 4}, true},
		{"stand-narrow", edgeCoat, "closure.front.stand.construction=band|closure.front.stand.band=28 mm", map[string]float64{"make the band 38 mm wide": 10, "make the band 30 mm wide": 4}, true},
		{"stand-narrow", edgeCoat, "closure.front.stand.construction=faced|closure.front.stand.seam=10 mm|closure.front.stand.extension=24 mm", map[string]float64{"draft 29 mm beyond the centre line, for a stand of 19 mm": 10, "draft 25 mm beyond the centre line, for a stand of 15 mm": 4}, true},
		// 14 of 28 drafted are seam.
		{"stand-narrow", edgeCoat, "closure.front.stand.construction=faced|closure.front.stand.finished=14 mm|closure.front.stand.extension=28 mm", map[string]float64{"make the finished stand 19 mm and draft 33 mm beyond the centre line": 10, "make the finished stand 15 mm and draft 29 mm beyond the centre line": 4}, true},
		// Enough and usual: only the full stand is more.
		{"stand-narrow", edgeCoat, "closure.front.stand.finished=19 mm", map[string]float64{"make the finished stand 24 mm": 11}, false},
		// Three times 19, 24 and 15, and 12.5 of turn-under and folds, for the 12.5 that 50 leave.
		{"stand-narrow", edgeCoat, folded + "closure.front.stand.extension=50 mm", map[string]float64{"draft 70 mm beyond the centre line, for a stand of 19 mm": 13, "draft 85 mm beyond the centre line, for a stand of 24 mm": 24, "draft 58 mm beyond the centre line, for a stand of 15 mm": 7}, false},
		{"stand-narrow", edgeCoat, "closure.front.flap.width=60 mm|closure.front.flap.inset=46 mm", map[string]float64{"make the flap 65 mm wide": 10, "make the flap 61 mm wide": 4}, true},

		{"hole-short", edgeCoat, "closure.front.hole_length=27 mm", map[string]float64{"cut the hole 28 mm": 1}, true},
		{"hole-long", edgeCoat, "closure.front.hole_length=40 mm", map[string]float64{"cut the hole 28 mm": 12}, true},
		{"hole-machine", edgeCoat, "closure.front.hole=machine|machine.keyhole=false|machine.buttonhole_max=28 mm|closure.front.hole_length=30 mm", map[string]float64{"work the holes by hand": 40, "make bound holes": 45, "cut the hole 28 mm": 2}, false},
		{"hole-machine", edgeCoat, "closure.front.hole=machine|machine.keyhole=false|machine.buttonhole_max=27.9 mm|closure.front.hole_length=30 mm", map[string]float64{"work the holes by hand": 40, "make bound holes": 45}, false},
		{"hole-machine", edgeCoat, "machine.buttonhole_max=27 mm|machine.keyhole=true|closure.front.hole=machine", map[string]float64{"work the holes by hand": 40, "make bound holes": 45, "sew keyholes": 5}, false},
		{"hole-machine", edgeCoat, "machine.buttonhole_max=27 mm|machine.keyhole=true|closure.front.hole=keyhole", map[string]float64{"work the holes by hand": 40, "make bound holes": 45, "sew plain holes": 5}, false},
		// By the diameter alone it is 24.
		{"hole-short", edgeCoat, "closure.front.hole_rule=diameter", map[string]float64{"cut the hole 28 mm": 4, "make the hole as long as the button needs": 1}, false},
		{"hole-edge", edgeCoat, across + "|closure.front.stand.finished=9 mm", map[string]float64{"make the finished stand 15 mm": 14}, true},

		// Two layers of 1 press to 2: 1 more to grip 3, and 2.5 to 4 of post, of which 5.25 is
		// the middle; a post 1 over its most is packed by 1.
		{"hardware-grip", edgeCoat, hardware("snap", `diameter=15,grip={min="3 mm",max="5 mm"}`), map[string]float64{"pack it with washers or a patch, 1 mm in all": 3, "put one more layer of shell behind it": 6}, true},
		// A grip of one figure takes just that: in tenths, else in hundredths.
		{"hardware-grip", edgeCoat, hardware("snap", `diameter=15,grip={min="3 mm",max="3 mm"}`), map[string]float64{"pack it with washers or a patch, 1 mm in all": 3}, true},
		{"hardware-grip", edgeCoat, hardware("snap", `diameter=15,grip={min="3.05 mm",max="3.05 mm"}`), map[string]float64{"pack it with washers or a patch, 1.05 mm in all": 3}, true},
		{"hardware-post", edgeCoat, hardware("snap", `diameter=15,attach="post",post=7`), map[string]float64{"put one more layer of shell behind it": 6}, true},
		// 2 × 1.025 + 2.5 to 4: 5.3 is the middle; of 7, 0.95 is over the most.
		{"hardware-post", edgeCoat, hardware("snap", `diameter=15,attach="post",post=7`) + "|cloth.shell.thickness=1.025 mm", map[string]float64{"take one with 5.3 mm of post": 1.7, "pack it with washers or a patch, 1 mm in all": 3, "put one more layer of shell behind it": 6}, false},
		{"hardware-post", edgeCoat, hardware("snap", `diameter=15,attach="post",post=4`) + "|cloth.shell.thickness=1.025 mm", map[string]float64{"take one with 5.3 mm of post": 1.3}, false},
		{"hardware-layers", edgeCoat, hardware("snap", `diameter=15,post=5`) + `|closure.front.over=["shell"]`, map[string]float64{"reinforce the cloth behind it with a patch": 4, "put one more layer of shell behind it": 6}, false},
		{"hardware-step", edgeCoat, hardware("snap", `diameter=15,post=5`) + "|closure.front.thickness_step=1 mm", map[string]float64{"move it off the seam": 5}, false},
		// 0.85 of 4; 4.254 to 4.381.
		{"hardware-hole", edgeCoat, hardware("rivet", `diameter=9,kind="solid",post_width=4,post=6`) + "|closure.front.punch=1 mm", map[string]float64{"punch 3.4 mm": 1}, false},
		{"hardware-hole", edgeCoat, hardware("rivet", `diameter=9,kind="solid",post_width=4,post=6`) + "|closure.front.into=rigid|closure.front.punch=4 mm", map[string]float64{"punch 4.3 mm": 1}, false},
		// 7.5 + 3.
		{"edge-near", edgeCoat, hardware("snap", `diameter=15,post=5`) + "|closure.front.edge=7 mm", map[string]float64{"set it 11 mm from the edge": 4}, false},

		{"shank-thread", edgeCoat, "closure.front.thread_shank=1 mm", map[string]float64{"wind a thread shank of 2.5 mm": 1}, false},
		// A repair guide for coats: 18 ligne for 36.
		{"backing-button", edgeCoat, "closure.front.notion.diameter=36L|closure.front.backing=36L", map[string]float64{"take a backing button of 18 ligne": 1}, false},
		// None is sold that is smaller than a button of 6.
		{"backing-button", edgeCoat, "closure.front.notion.diameter=6 mm|closure.front.notion.thickness=2 mm|closure.front.backing=6 mm", map[string]float64{"leave the backing button out": 1}, false},
		{"button-swing", edgeCoat, "machine.swing={min=2,max=4}|closure.front.sewn_by=machine|closure.front.notion.hole_gap=5 mm", map[string]float64{"sew the buttons on by hand": 1}, false},
		{"button-stitches", edgeCoat, "closure.front.button_stitches=15", map[string]float64{"sew 16 stitches": 1}, false},
		{"fly-hole", edgeCoat, across + "|closure.front.stand.construction=fly|closure.front.stand.finished=11 mm", map[string]float64{"set the holes along the fly": 1}, false},

		// Charts: 90 to 100 for heavy cloth, to 110 for coats, both ends too.
		{"needle-cloth", edgeCoat, "closure.front.needle=70/10", map[string]float64{"use needle 90/14": 3, "use needle 100/16": 4, "use needle 110/18": 5}, false},
		// ISO 8838 sizes go 80, 90, 100, 110.
		{"needle-machine", edgeCoat, "machine.needle_max=NM 100|closure.front.needle=110/18", map[string]float64{"use needle 100/16": 1, "use needle 90/14": 2}, true},
		{"needle-point", edgeCoat, "closure.front.point=ballpoint", map[string]float64{"use a universal point": 1}, false},
		// A teaching chart: heavy coating 3 mm.
		// Down to half millimetres.
		{"stitch-length", edgeCoat, "machine.stitch_max=2.8 mm|closure.front.stitch=4.5 mm", map[string]float64{"sew with a stitch of 2.5 mm": 1}, false},
		{"stitch-length", edgeCoat, "machine.stitch_max=4 mm|closure.front.stitch=4.5 mm", map[string]float64{"sew with a stitch of 3 mm": 1}, false},

		{"shrink-apart", edgeCoat, "cloth.shell.shrink=5|interfacing.in.shrink=1", map[string]float64{"shrink shell before cutting": 2, "shrink in before cutting": 1, "shrink all of them before cutting": 3}, false},
		{"shrink-apart", edgeCoat, "interfacing.in.shrink=5", map[string]float64{"shrink in before cutting": 1}, false},
		{"shrink-apart", edgeCoat, "cloth.shell.shrink=5", map[string]float64{"shrink shell before cutting": 2}, false},
		// π × 1.5 = 4.71.
		{"turn-cloth", edgeCoat, "closure.front.where=flap|closure.front.turn=1 mm", map[string]float64{"cut the upper layer 5 mm larger": 4}, false},
		{"fold-hold", edgeCoat, "cloth.shell.kind=fleece|closure.front.stand.construction=faced", map[string]float64{"top-stitch 3 mm from the edge": 1}, false},
		{"hole-pile", edgeCoat, "cloth.shell.kind=pile", map[string]float64{"make bound holes": 20}, false},
		{"hole-frays", edgeCoat, "cloth.shell.frays=true", map[string]float64{"sew each hole twice over": 1, "sew the holes over a cord": 2, "make bound holes": 20}, false},
		{"care-limit", edgeCoat, "care=wash-40|cloth.shell.shrink=3", map[string]float64{"have it dry-cleaned": 25, "only wipe it clean": 28}, false},

		// 56 + 3.175, up to 60: a quarter of 10, and of 20.
		{"loop-length", edgeCoat, "closure.front.hole=loop|closure.front.lap=edge|closure.front.loop=50 mm", map[string]float64{"make the loop 60 mm round the inside": 2.5}, false},
		{"loop-length", edgeCoat, "closure.front.hole=loop|closure.front.lap=edge|closure.front.loop=80 mm", map[string]float64{"make the loop 60 mm round the inside": 5}, false},
		{"loop-cord", edgeToggle, "closure.toggles.cord=2 mm", map[string]float64{"take a cord of 4 mm": 1}, false},
		{"edge-lap", edgeCoat, "closure.front.lap=edge", map[string]float64{"give the front a lap": 20, "use loops": 10}, false},
		{"hook-tape", edgeCoat, hardware("hook", `length=10,pitch=17,eye_pitch=19`), map[string]float64{"take an eye tape of pitch 17 mm": 1}, false},
		{"hook-edge", edgeCoat, hardware("hook", `length=10,width=6,kind="hook-and-eye"`) + "|closure.front.edge=1 mm", map[string]float64{"set the hooks 3.2 mm from the edge": 1}, false},

		{"hook-edge", edgeCoat, hardware("hook", `length=10,width=6,kind="hook-and-eye"`) + "|closure.front.flap.width=30 mm|closure.front.flap.inset=15 mm", map[string]float64{"set the hooks 3.2 mm from the edge of the flap": 1}, false},
		{"rows-working", edgeCoat, "closure.front.lap=double|closure.front.rows.distance=60 mm|closure.front.stand.finished=90 mm|closure.front.rows.working=5", map[string]float64{"lay out 5 rows": 10, "let 4 rows button": 1}, false},
		// Half of 24; each column moves.
		{"rows-touch", edgeCoat, along + "|closure.front.lap=double|closure.front.rows.distance=10 mm", map[string]float64{"set the column 12 mm from the centre line (distance)": 4}, true},
		{"rows-touch", edgeCoat, along + "|closure.front.lap=double|closure.front.rows.top=12 mm|closure.front.rows.bottom=9 mm", map[string]float64{"set the column 12 mm from the centre line (bottom)": 6}, false},
		// 60 to 80 is usual (a trade article): the middle.
		{"rows-distance", edgeCoat, "closure.front.lap=double|closure.front.rows.distance=20 mm", map[string]float64{"set the columns 70 mm from the centre line": 10}, false},

		// 60 with the lap, and half of 38.1.
		{"toggle-patch", edgeToggle, "closure.toggles.inset=50 mm", map[string]float64{"sew cord and loop on 60 mm inside the centre line": 2}, false},
		// 7.5 + 3 + 3 + 3.175.
		{"flap-seam", edgeZip, "closure.snaps.flap.inset=10 mm", map[string]float64{"set them 17 mm from the meeting line": 1}, false},
		// Half a patch of 38.1 beyond 14 and 6.35: 39.4, and beyond an edge at 20 it is less.
		{"zip-clear", edgeZip, doubleZip + "direction=across|closure.snaps.rows.distance=60 mm|closure.snaps.rows.inner=true", map[string]float64{"leave the inner button out": 1}, true},
		{"zip-clear", edgeZip, `closure.snaps.flap=|closure.snaps.fastener=toggle|closure.snaps.notion={length=60,width=16,thickness=14,short_end=29}|closure.snaps.cord=5|closure.snaps.stand.finished=20 mm|closure.snaps.inset=39 mm`, map[string]float64{"sew cord and loop on 40 mm inside the meeting line": 2}, true},
		// 14 + 6.35 + 2 = 22.35; a stand of 7.5 + 6.35 makes 37 of it, less than the 60 it is.
		{"zip-clear", edgeZip, "closure.snaps.flap.inset=20 mm", map[string]float64{"set them on a flap 60 mm wide, 23 mm from the meeting line": 2}, false},
		// 20 − 3.175 − 1.5875 = 15.2375; of 6, 1.2375; of 5.7 not a whole millimetre.
		{"stitch-hole", edgeCoat, hole28 + "closure.front.stand.construction=faced|closure.front.stand.finished=20 mm|closure.front.stand.topstitch=18 mm", map[string]float64{"top-stitch 3 mm from the edge": 1}, false},
		{"stitch-hole", edgeCoat, hole28 + "closure.front.stand.construction=faced|closure.front.stand.finished=6 mm|closure.front.stand.topstitch=4 mm", map[string]float64{"top-stitch 1 mm from the edge": 1}, false},
		{"stitch-hole", edgeCoat, hole28 + "closure.front.stand.construction=faced|closure.front.stand.finished=5.7 mm|closure.front.stand.topstitch=4 mm", map[string]float64{}, false},

		{"zip-top", edgeZip, "closure.zip.run.first=5 mm", map[string]float64{"begin the zip 13 mm below the neck edge": 1}, false},
		// 600 − 10 = 590: 23 1/2 in are 596.9; a tenth of what it is longer.
		{"zip-length", edgeZip, "closure.zip.run.first=10 mm|closure.zip.zip_length=576.9 mm", map[string]float64{"buy the zip of 596.9 mm": 2}, false},
		// 14 + 3.175.
		// Of those sold, 24 in, 609.6, is the next over 600 − 13.
		{"zip-length", edgeZip, "closure.zip.use=moulded-5-separating|closure.zip.notion=|closure.zip.zip_length=559.6 mm", map[string]float64{"buy the zip of 609.6 mm": 5}, false},
		{"zip-sold", edgeZip, "closure.zip.use=moulded-5-separating|closure.zip.notion=|closure.zip.zip_length=600 mm", map[string]float64{"buy the zip of 609.6 mm": 1}, false},
		{"zip-sold", edgeZip, "closure.zip.use=moulded-5-separating|closure.zip.notion=|closure.zip.zip_length=559.6 mm", map[string]float64{"buy the zip of 609.6 mm": 1}, false},
		{"zip-length", inInches(edgeZip), "closure.zip.run.first=10 mm|closure.zip.zip_length=576.9 mm", map[string]float64{"buy the zip of 23 1/2 in (597 mm)": 2}, false},
		{"zip-fly", edgeZip, "closure.snaps.flap.inset=|closure.snaps.flap.width=12 mm", map[string]float64{"make the flap 18 mm from the middle of the zip": 2}, false},
		// Of another closure: its stand, half its band, or its stand and 10 of seam.
		{"zip-fly", edgeZip, "closure.snaps.flap=|closure.snaps.stand.finished=12 mm", map[string]float64{"make the flap 18 mm from the middle of the zip": 2}, false},
		{"zip-fly", edgeZip, "closure.snaps.flap=|closure.snaps.stand.construction=band|closure.snaps.stand.band=24 mm", map[string]float64{"make the band of the flap 36 mm wide": 2}, false},
		{"zip-fly", edgeZip, "closure.snaps.flap=|closure.snaps.stand.construction=faced|closure.snaps.stand.seam=10 mm|closure.snaps.stand.extension=22 mm", map[string]float64{"draft the flap 28 mm beyond the middle of the zip": 2}, false},
		{"zip-seam", edgeZip, "closure.zip.stand.seam=7 mm", map[string]float64{"cut the seam allowance 8 mm": 1}, false},

		{"plaid-phase", edgeCoat, plaid("across=80 mm", "over=30 mm"), map[string]float64{"lay both fronts with a stripe on the centre line": 1, "lay both fronts with the centre midway between two stripes": 2}, false},
		{"plaid-phase", edgeCoat, "closure.front.where=collar|" + plaid("across=80 mm", "over=30 mm"), map[string]float64{"lay the collar with a stripe at its middle": 1, "lay the collar with the middle between two stripes at its middle": 2}, false},
		{"plaid-phase", edgeCoat, plaid("across=80 mm", "over=30 mm", "under=10 mm"), map[string]float64{"lay the under front with a stripe 30 mm to the wearer's left of centre": 1, "lay the upper front with a stripe 10 mm to the wearer's left of centre": 2}, false},
		{"plaid-phase", edgeCoat, "closure.front.where=flap|" + plaid("across=80 mm", "over=30 mm", "under=10 mm"), map[string]float64{"lay the flap with a stripe 10 mm to the wearer's left of its middle": 1}, false},
		{"plaid-gaps", edgeCoat, strings.ReplaceAll(plaided, "@", "150"), map[string]float64{"space them 1 repeat apart, the last 120 mm above the end": 10}, false},
		// Sizes have runs of their own.
		{"plaid-gaps", edgeCoat, `sizes.names=["S","M"]|` + strings.ReplaceAll(plaided, "@", "150"), map[string]float64{}, false},
		{"plaid-gaps", edgeCoat, strings.ReplaceAll(plaided, "@", "150") + "|closure.front.run.count=2", map[string]float64{"space them 3 repeats apart, the last 120 mm above the end": 10}, false},
		{"plaid-level", edgeCoat, plaid("along=80 mm", "over_along=10 mm", "under_along=20 mm"), map[string]float64{"lay the under front level with the upper": 1, "lay the upper front level with the under": 2}, false},
		{"plaid-mirror", edgeCoat, "cloth.shell.repeat.even=false|" + plaid("across=80 mm", "cut=mirror"), map[string]float64{"cut the fronts one at a time, the cloth lying the same way": 1}, false},
		{"plaid-band", edgeCoat, "closure.front.where=flap|" + plaid("across=80 mm", "over=0 mm"), map[string]float64{"cut it on the bias": 1, "match it to the front": 2}, false},

		{"order-late", edgeCoat, "closure.front.where=flap|closure.front.when=after-joining", map[string]float64{"work it before it is joined": 1}, false},
		{"lap-side", edgeCoat, "cut_for=women|closure.front.lap_over=left", map[string]float64{"let the right front lie on top": 1}, false},
		{"lap-side", edgeCoat, "cut_for=men|closure.front.lap_over=right", map[string]float64{"let the left front lie on top": 1}, false},

		// A tenth of what is cut off: to 3 in, 76.2, down to whole millimetres, to 140, to 280, to none.
		{"safety-cord-low", edgeChild, "cord.cord.free_end=96 mm", map[string]float64{"cut the free ends to 76 mm": 2}, false},
		{"safety-cord-low", edgeChild, "market=eu|cord.cord.free_end=170 mm", map[string]float64{"cut the free ends to 140 mm": 3}, false},
		{"safety-cord-low", edgeChild, "market=eu|cord.cord.drawn_in=320 mm", map[string]float64{"cut the ends until 280 mm hang out, drawn in": 4}, false},
		{"safety-cord-top", edgeChild, "market=eu|age=9|cord.cord.at=hood|cord.cord.free_end=75 mm", map[string]float64{"cut the free ends to 0 mm": 7.5}, false},
		{"safety-cord-top", edgeChild, "market=eu|age=9|cord.cord.at=hood|cord.cord.free_end=0|cord.cord.loop=200 mm", map[string]float64{"make the loop 150 mm round": 2}, false},
		{"safety-cord-low", edgeChild, "cord.cord.ends=toggle", map[string]float64{"leave the ends plain": 1}, false},
		{"safety-cord-low", edgeChild, "cord.cord.tacked=false", map[string]float64{"stitch the cord down midway": 1}, false},
		{"safety-cord-top", edgeChild, "cord.cord.at=hood", map[string]float64{"take the cord out and close with elastic": 5, "take the cord out and close with snaps": 6}, false},
	} {
		if Find(c.rule) == nil {
			t.Errorf("%s: no such rule", c.rule)
			continue
		}
		got := map[string]float64{}
		for says, cost := range proposedFor(t, c.rule, c.base, c.with) {
			got[inInch.ReplaceAllString(says, "")] = cost
		}
		for says := range maps.Clone(got) {
			_, wanted := c.want[says]
			if !wanted && (c.more || strings.HasPrefix(says, "use ")) {
				continue
			}
			if !wanted {
				t.Errorf("%s, %s: also %q", c.rule, c.with, says)
			}
		}
		for says, cost := range c.want {
			if is, said := got[says]; !said || math.Abs(is-cost) > 1e-6 {
				t.Errorf("%s, %s: %q costs %v, want %v; of %v", c.rule, c.with, says, is, cost, got)
			}
		}
	}
}

// plaid is a repeat of the shell and what the file says of its stripes.
func plaid(repeat string, check ...string) string {
	out := "cloth.shell.repeat." + repeat
	for _, c := range check {
		out += "|closure.front.check." + c
	}
	return out
}

func costsOf(t *testing.T, base, with string) *Context {
	t.Helper()
	g, err := edgeGarment(base, with, "")
	if err != nil {
		t.Fatalf("%s: %v", with, err)
	}
	p := Plan(g)
	return &Context{G: g, P: p, U: g.Units, C: &g.Closures[0], K: &p.Closures[0]}
}

// tryCosts compares what the catalogue offers with what each entry costs that will
// do: the nearest come first, and there are no more than that.
func tryCosts(t *testing.T, what, said string, out []Change, most int, costs map[string]float64) {
	t.Helper()
	if len(out) != min(most, len(costs)) || len(out) == 0 {
		t.Errorf("%s: %d, of %d that will do and %d at most", what, len(out), len(costs), most)
		return
	}
	costs = maps.Clone(costs)
	for i, c := range out {
		name, _, _ := strings.Cut(c.Says[strings.Index(c.Says, said)+len(said):], " as in")
		name, _, _ = strings.Cut(name, ",")
		if want, is := costs[name]; !is || math.Abs(want-c.Cost) > 1e-9 {
			t.Errorf("%s: %s costs %v, want %v", what, c.Says, c.Cost, want)
		}
		if i > 0 && c.Cost < out[i-1].Cost {
			t.Errorf("%s: %s before %s", what, out[i-1].Says, c.Says)
		}
		delete(costs, name)
	}
	for name, cost := range costs {
		if cost < out[len(out)-1].Cost {
			t.Errorf("%s: %s, which costs %v, is passed over", what, name, cost)
		}
	}
}

// Another interfacing costs 5, and a twentieth of the difference in g/m², 5 more
// where it is fixed otherwise; another thread a tenth of the difference in Tex, 2
// more for a seam; ours. The nearest come first, as many as a screen holds.
func TestWhatTheCatalogueCosts(t *testing.T) {
	x := costsOf(t, edgeCoat, "interfacing.in.weight=400 g/m2")
	costs := map[string]float64{}
	for _, n := range x.G.Catalog.Interfacings {
		if n.Kind == "stay-tape" || n.Weight.V.GSM() > 300 || !n.Weight.Has() {
			continue
		}
		if costs[n.Name] = 5 + (400-n.Weight.V.GSM())/20; n.Fixing != "sewn" {
			costs[n.Name] += 5
		}
	}
	for name, cost := range offered(proposeInterfacing(x, "interfacing.in", func(n *catalog.Interfacing) bool { return n.Fixing != "sewn" && n.Weight.Has() && n.Weight.V <= 300 }), "use ") {
		if math.Abs(cost-costs[name]) > 1e-6 {
			t.Errorf("%s, which is fused, costs %v, want %v", name, cost, costs[name])
		}
	}
	tryCosts(t, "lighter than 300", "use ", proposeInterfacing(x, "interfacing.in", func(n *catalog.Interfacing) bool { return n.Weight.Has() && n.Weight.V.GSM() <= 300 }), 6, costs)

	x = costsOf(t, edgeCoat, "thread.seam.tex=Tex 50|closure.front.thread=seam")
	costs = map[string]float64{}
	for _, n := range x.G.Catalog.Threads {
		if n.Tex.Has() && n.Fibre == "polyester" && n.Tex.V != 50 {
			costs[n.Name] = 2 + math.Abs(float64(n.Tex.V)-50)/10
		}
	}
	tryCosts(t, "another seam thread", "with ", proposeThread(x), 8, costs)
	x = costsOf(t, edgeCoat, "thread.seam.tex=Tex 20|closure.front.button_thread=seam")
	if i := slices.IndexFunc(x.P.Findings, func(f Finding) bool { return f.Rule == "button-thread" }); i == -1 {
		t.Error("Tex 20 sews buttons on a heavy coat")
	} else {
		costs = map[string]float64{}
		for _, n := range x.G.Catalog.Threads {
			if n.Tex.Has() && n.Tex.V >= x.K.Thread.ButtonMin && n.Tex.V <= x.K.Thread.ButtonMax {
				costs[n.Name] = math.Abs(float64(n.Tex.V)-20) / 10
			}
		}
		tryCosts(t, "another button thread", "with ", Find("button-thread").Propose(x, &x.P.Findings[i]), 6, costs)
	}
	if got := len(proposeThread(costsOf(t, edgeCoat, "thread.seam="))); got != 0 {
		t.Errorf("no thread is named, and %d are offered", got)
	}
}

// A zip costs twice the difference in number, 3 more of another make and 2 where
// it opens otherwise; a front is offered those that come apart. A fastener of
// another width costs the millimetres of it, hardware twice as many and those of
// its post; a button in place of one on a shank twice the width, 2 more where it has
// none. What shrinks from heat costs 3 to be sewn in, 2 to be fused cooler, and
// a twentieth of the difference in g/m²; what gives 2 and a tenth. All ours.
func TestWhatFastenersCost(t *testing.T) {
	all := func(*catalog.Notion) bool { return true }
	x := costsOf(t, edgeZip, "closure.zip.use=moulded-5-separating|closure.zip.notion=")
	costs := map[string]float64{}
	for _, n := range x.G.Catalog.Notions {
		if n.Kind != catalog.Zip || n.Opening == "closed" || n.Name == "moulded-5-separating" {
			continue
		}
		costs[n.Name] = 2 * math.Abs(n.Number.V-5)
		if n.ZipKind != "moulded" {
			costs[n.Name] += 3
		}
		if n.Opening != "separating" {
			costs[n.Name] += 2
		}
	}
	tryCosts(t, "zips", "use ", x.otherZips(all), 6, costs)

	x = costsOf(t, edgeCoat, "closure.front.use=horn-36|closure.front.notion=")
	costs = map[string]float64{}
	for _, n := range x.G.Catalog.Notions {
		if n.Kind == catalog.Button {
			costs[n.Name] = (n.Diameter.V - x.C.Notion.Diameter.V).Abs().MM()
		}
	}
	tryCosts(t, "buttons", "use ", x.nearestUse(func(n *catalog.Notion) bool { return n.Kind == catalog.Button }, diameterOf), 6, costs)

	x = costsOf(t, edgeZip, "closure.zip.use=moulded-5-separating|closure.zip.notion=")
	x.K.Zip.NumberMin, x.K.Zip.NumberMax = 5, 8
	for name := range offered(Find("zip-use").Propose(x, &Finding{}), "use ") {
		if v := x.G.Catalog.Notion(name).Number.V; v < 5 || v > 8 {
			t.Errorf("%s is no number of 5 to 8", name)
		}
	}
	if got := offered(Find("zip-use").Propose(x, &Finding{}), "use "); got["coil-5-separating"] == 0 || got["coil-8-separating"] == 0 {
		t.Errorf("5 and 8 are numbers of 5 to 8: %v", got)
	}

	// A stack of 2 × 1.5 = 3 in a grip of 1 to 2.5.
	x = costsOf(t, edgeCoat, `closure.front.over=["shell","shell"]|cloth.shell.thickness=1.5 mm|closure.front.fastener=snap|closure.front.use=ring-spring-15|closure.front.notion=`)
	costs = map[string]float64{}
	for _, n := range x.G.Catalog.Notions {
		if n.Kind == catalog.Snap && n.Spring == "ring" && n.Attach == x.C.Notion.Attach && n.Grip.Min.V <= 3*mm && n.Grip.Max.V >= 3*mm {
			costs[n.Name] = 2*math.Abs((n.Diameter.V-x.C.Notion.Diameter.V).MM()) + math.Abs((n.Post.V - x.C.Notion.Post.V).MM())
		}
	}
	tryCosts(t, "snaps", "use ", x.otherHardware(plan.TooThick), 6, costs)

	// 135 °C, as others are that are no cooler.
	const in = "weft-fusible-heavy"
	x = costsOf(t, edgeCoat, `interfacing.in={use="`+in+`"}|cloth.shell.fibre={ wool = 100 }`)
	now := x.G.Interfacings[0]
	costs = map[string]float64{}
	same := 0
	for _, n := range x.G.Catalog.Interfacings {
		if n.Kind == "stay-tape" || !n.Weight.Has() || n.Weight.V > max(now.Weight.V, x.heaviest()) || n.Name == in {
			continue
		}
		by := math.Abs(n.Weight.V.GSM()-now.Weight.V.GSM()) / 20
		switch {
		case n.Fixing == "sewn":
			costs[n.Name] = 3 + by
		case n.Fuse.Has() && n.Fuse.V < now.Fuse.V:
			costs[n.Name] = 2 + by
		case n.Fuse.Has() && n.Fuse.V == now.Fuse.V:
			same++
		}
	}
	f := Finding{Rule: "fuse-heat"}.At(x.interfacingPath(0, "use"))
	tryCosts(t, "cooler than "+in, "", trimmed(proposeSewnIn(x, &f)), 8, costs)
	if same == 0 {
		t.Error("none is as hot")
	}
}

// trimmed leaves the words out that stand before a name.
func trimmed(cs []Change) []Change {
	for i := range cs {
		cs[i].Says = strings.TrimPrefix(strings.TrimPrefix(cs[i].Says, "sew in "), "use ")
	}
	return cs
}

// A stack is thinned for 20 by an interfacing left out, for 10 by a layer trimmed
// away where three are of cloth, and by a thinner cloth inside, 25 and its
// millimetres: ours. One as thick makes nothing thinner, and of one layer nothing
// goes.
func TestWhatThinnerCosts(t *testing.T) {
	const cloths = `cloth.lining={weight="90 g/m2",thickness="0.3 mm"}|cloth.twin={weight="300 g/m2",thickness="1 mm"}|closure.front.over=`
	for over, want := range map[string]map[string]float64{
		`["shell","in","shell"]`:         {"leave the interfacing in out there": 20, "make the inner layer of lining instead of shell": 25.3},
		`["shell","in","shell","shell"]`: {"leave the interfacing in out there": 20, "make the inner layer of lining instead of shell": 25.3, "trim one layer of shell away there": 10},
		`["shell","shell","lining"]`:     {"trim one layer of shell away there": 10, "make the inner layer of lining instead of shell": 25.3},
		`["shell","in"]`:                 {"leave the interfacing in out there": 20},
		`["shell"]`:                      {},
		`["shell","lining"]`:             {},
		`["in"]`:                         {},
	} {
		x := costsOf(t, edgeCoat, cloths+over)
		got := map[string]float64{}
		for _, c := range proposeThinner(x, &Finding{}) {
			if w, _, _ := strings.Cut(c.Says, " "); w == "leave" || w == "trim" || strings.HasPrefix(c.Says, "make the") {
				if cost, twice := got[c.Says]; !twice || c.Cost < cost {
					got[c.Says] = math.Round(c.Cost*1e6) / 1e6
				}
			}
		}
		if !maps.Equal(got, want) {
			t.Errorf("%s: %v, want %v", over, got, want)
		}
	}
}

// A bound hole is a quarter of an inch wide (University of Hawaii Extension Circular
// 442); in layers of more than 3 mm each lip is 3/16 in (a state extension's
// Tailoring series).
func TestWidthsOfBoundHoles(t *testing.T) {
	for thick, want := range map[string]float64{"1.25": 6.35, "1.26": 9.525} {
		x := costsOf(t, edgeCoat, "closure.front.hole=bound|cloth.shell.thickness="+thick+" mm")
		if got := x.K.Hole.Width.MM(); got != want || x.K.Hole.Stitched != x.K.Hole.Length {
			t.Errorf("cloth of %s: %v wide, want %v; stitched %v of %v", thick, got, want, x.K.Hole.Stitched, x.K.Hole.Length)
		}
	}
}

// What a machine has to spare for a hole, of a button that passes 28: its longest, less
// what is cut, or what passes where nothing is given. Of an attachment a length
// within a tenth of a millimetre means its longest, ours; and one that no
// length passes by is as long as it is given.
func TestRoomOfAMachine(t *testing.T) {
	const dies = "closure.front.hole=machine|machine.keyhole=false|machine.buttonhole_sizes="
	for _, c := range []struct {
		with   string
		margin float64
	}{
		{"closure.front.hole=machine|machine.buttonhole_max=28 mm", 0},
		{"closure.front.hole=machine|machine.buttonhole_max=27 mm", -1},
		{"closure.front.hole=machine|machine.buttonhole_max=40 mm|closure.front.hole_length=35 mm", 5},
		{dies + "[20,28]|closure.front.hole_length=28.1 mm", 0},
		{dies + "[20,28]|closure.front.hole_length=28.11 mm", -0.11},
		{dies + "[20,28]|closure.front.hole_length=27 mm", 1},
		{dies + "[20,24]|closure.front.hole_length=24.1 mm", 0},
		{dies + "[20,24]|closure.front.hole_length=28 mm", -4},
		{dies + "[20,27.9]|closure.front.hole_length=28 mm", -0.1},
		{dies + "[20,27.9]|closure.front.hole_length=27.99 mm", 0},
		{dies + "[20,24]", -4},
		{dies + "[20,30]", 2},
	} {
		x := costsOf(t, edgeCoat, c.with)
		if got := Find("hole-machine").Room(x); math.Abs(got.Margin-c.margin) > 1e-9 || !got.Compared {
			t.Errorf("%s: %v to spare, want %v", c.with, got.Margin, c.margin)
		}
	}
}

// A run meets its repeat of 150 where an end moves to the next whole repeats, as
// many as there are gaps where the count is fixed; both ends where the repeat has
// its place in the cloth, 20 below the top. The ends lie at 30 and 560, 530 apart.
func TestWhereARunMeetsItsRepeat(t *testing.T) {
	type run struct{ count, most, group, phase, first, last measure.Length }
	for _, c := range []struct {
		r           run
		first, last way
		want        matchMove
	}{
		{run{}, stays, down, matchMove{last: 630 * mm}},
		{run{}, stays, up, matchMove{last: 480 * mm}},
		{run{}, up, stays, matchMove{first: -40 * mm}},
		{run{}, down, stays, matchMove{first: 110 * mm}},
		// Three gaps of 150 are 450, two of three times 900.
		{run{count: 4, most: 4}, stays, down, matchMove{last: 930 * mm}},
		{run{count: 4, most: 4}, stays, up, matchMove{last: 480 * mm}},
		{run{count: 4, most: 4, group: 1}, stays, down, matchMove{last: 930 * mm}},
		{run{count: 4, most: 4, group: 2}, stays, down, matchMove{last: 630 * mm}},
		{run{count: 4, most: 5}, stays, down, matchMove{last: 630 * mm}},
		{run{count: 3, most: 3}, stays, down, matchMove{last: 630 * mm}},
		{run{count: 3, most: 3}, stays, up, matchMove{last: 330 * mm}},
		{run{count: 2, most: 2}, stays, down, matchMove{last: 630 * mm}},
		{run{count: 1, most: 1}, stays, down, matchMove{last: 630 * mm}},
		// Bars lie at 20, 170, 320, 470 and 620.
		{run{phase: 20}, down, down, matchMove{first: 170 * mm, last: 620 * mm}},
		{run{phase: 20}, up, up, matchMove{first: 20 * mm, last: 470 * mm}},
		{run{phase: 20}, down, up, matchMove{first: 170 * mm, last: 470 * mm}},
		{run{phase: 20}, up, down, matchMove{first: 20 * mm, last: 620 * mm}},
		{run{phase: 20, first: 20}, down, up, matchMove{first: 20 * mm, last: 470 * mm}},
		{run{}, down, down, matchMove{}},
		// Ends on each other, and less than a repeat apart.
		{run{last: 30}, stays, down, matchMove{}},
		{run{last: 179}, stays, up, matchMove{}},
		{run{last: 180}, stays, up, matchMove{last: 180 * mm}},
		{run{last: 179}, down, stays, matchMove{}},
		{run{last: 180}, down, stays, matchMove{first: 30 * mm}},
	} {
		p := spacing.Problem{Run: 1000 * mm, Repeat: 150 * mm, CountMin: int(c.r.count), CountMax: int(c.r.most), Group: int(c.r.group), Phase: c.r.phase * mm, HasPhase: c.r.phase > 0}
		p.First, p.Last = spacing.At(cmp.Or(c.r.first, 30)*mm), spacing.At(cmp.Or(c.r.last, 560)*mm)
		if got := meet(&p, c.first, c.last); got != c.want {
			t.Errorf("%+v, %d and %d: %+v, want %+v", c.r, c.first, c.last, got, c.want)
		}
	}
}

// What makes the thickest place thinner: a raw edge left flat costs 2, a seam
// pressed open 1, ours.
func TestWhatAThickPlaceCosts(t *testing.T) {
	const clear = `closure.front.run.clear=[{name="waist",from=100,to=120,pressed="one-side"}]`
	for with, want := range map[string]map[string]float64{
		"closure.front.run.hem=40 mm|closure.front.run.hem_under=10 mm": {"overcast the hem's raw edge and do not turn it in": 2},
		"closure.front.run.hem=40 mm|closure.front.run.hem_under=0 mm":  {},
		clear: {"press the waist open": 1},
		clear + "|closure.front.run.hem=40 mm|closure.front.run.hem_under=10 mm": {"press the waist open": 1, "overcast the hem's raw edge and do not turn it in": 2},
	} {
		got := map[string]float64{}
		for _, c := range Find("place-thick").Propose(costsOf(t, edgeCoat, with), &Finding{}) {
			got[c.Says] = c.Cost
		}
		if !maps.Equal(got, want) {
			t.Errorf("%s: %v, want %v", with, got, want)
		}
	}
}

// What can be tried for any trouble: 5 for each thing that was asked for and could
// be worked out, 12 for the holes turned, 40 and 45 for those worked otherwise, six
// smaller fasteners and four larger ones; ours.
func TestWhatAnyChangeCosts(t *testing.T) {
	x := costsOf(t, edgeCoat, across+"|closure.front.hole=machine|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|closure.front.stand.strip=50 mm|closure.front.stitch=3 mm|closure.front.backing=18L")
	got, smaller, larger := map[string]float64{}, 0, 0
	for _, c := range ProposeAny(x, &Finding{}) {
		got[inInch.ReplaceAllString(c.Says, "")] = c.Cost
		if n := x.G.Catalog.Notion(c.use()); n != nil && strings.HasPrefix(c.Says, "use ") && n.Kind == catalog.Button {
			a, b := plan.ShapeOf(n), plan.ShapeOf(&x.C.Notion)
			if a.Across() < b.Across() || a.Passing() < b.Passing() {
				smaller++
			} else {
				larger++
			}
			if a.Across() == b.Across() && a.Passing() == b.Passing() {
				t.Errorf("%s is as large", n.Name)
			}
		}
	}
	for says, cost := range map[string]float64{
		"leave the length of the hole to be worked out": 5, "leave the stitch to be worked out": 5, "leave the width of the strip to be worked out": 5,
		"leave the backing button to be worked out": 5, "leave the kind of hole to be worked out": 5, "leave the direction of the holes to be worked out": 5,
		"set the holes along the edge": 12, "cut the strip 62 mm wide": 3,
	} {
		if is, said := got[says]; !said || is != cost {
			t.Errorf("%q costs %v, want %v", says, is, cost)
		}
	}
	if smaller < 6 || larger > 4 {
		t.Errorf("%d smaller, %d larger", smaller, larger)
	}
	if x = costsOf(t, edgeCoat, along); !slices.ContainsFunc(ProposeAny(x, &Finding{}), func(c Change) bool { return c.Says == "set the holes across" && c.Cost == 12 }) {
		t.Error("holes along are not turned")
	}
}

// In place of a button whose shank is too short for layers of 2.5: twice the
// difference in width, and 2 more for one that is sewn through; a shank of
// the layers to 6.35 more will do.
func TestWhatAnotherShankCosts(t *testing.T) {
	x := costsOf(t, edgeCoat, "closure.front.use=metal-dome-36|closure.front.notion=")
	costs := map[string]float64{}
	for _, n := range x.G.Catalog.Notions {
		if n.Kind != catalog.Button || n.Name == "metal-dome-36" || plan.ForBacking(n) || n.Shank.Has() && (n.Shank.V.MM() < 2.5 || n.Shank.V.MM() > 8.85) {
			continue
		}
		if costs[n.Name] = 2 * math.Abs((plan.AcrossOf(n) - plan.AcrossOf(&x.C.Notion)).MM()); !n.Shank.Has() {
			costs[n.Name] += 2
		}
	}
	tryCosts(t, "shanks", "use ", Find("shank-rigid").Propose(x, &Finding{}), 8, costs)
}
