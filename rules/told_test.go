package rules

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// What a rule says just where its figures meet, and what it leaves unsaid: the
// garments of the thresholds, with keys set. The words are told from the message
// and its line; "" is silence.
func TestToldWhereFiguresMeet(t *testing.T) {
	const silent = ""
	for _, c := range []struct {
		rule, base, with string
		want, not        string
	}{
		// 600 less 1/2 in as it is sold in mm, 13: 587. 2 mm more is left as it is, ours.
		{"zip-shorten", edgeZip, `closure.zip.notion={number=5,opening="separating",lengths=["589 mm"]}`, "shorten at the top", "leave it"},
		{"zip-shorten", edgeZip, `closure.zip.notion={number=5,opening="separating",lengths=["588.99 mm"]}`, "leave it as it is", "shorten"},
		{"zip-shorten", edgeZip, "closure.zip.zip_length=589 mm", "shorten it at the top", "leave it"},
		{"zip-shorten", edgeZip, "closure.zip.zip_length=588.99 mm", ": leave it", "shorten"},
		{"zip-shorten", edgeZip, `closure.zip.notion={number=5,opening="separating",lengths=["587 mm"]}`, "it is as long as the opening", "leave it"},
		// Whole repeats from 30 in 150: 30, 180, 330, 480. A place that wants a fastener
		// near it, or none, forbids what misses it; the last is told of its size
		// (arithmetic).
		{"plaid-gaps", edgeCoat, plaided150 + `|closure.front.run.anchor=[{name="waist",at="340 mm",within="10 mm"}]`, "gaps of 150 mm", ""},
		{"plaid-gaps", edgeCoat, plaided150 + `|closure.front.run.anchor=[{name="waist",at="240 mm",within="10 mm"}]`, silent, ""},
		{"plaid-gaps", edgeCoat, plaided150 + `|closure.front.run.clear=[{name="belt",from="310 mm",to="350 mm"}]`, silent, ""},
		{"plaid-gaps", edgeCoat, plaided150 + `|sizes.names=["S","M"]|closure.front.run.length={S="600 mm",M="640 mm"}`, "the last 120 mm (4 3/4 in) above the end in size S", ""},
		{"plaid-gaps", edgeCoat, plaided150 + `|sizes.names=["S","M"]`, "the last 120 mm (4 3/4 in) above the end", "in size"},
		// Where edges meet there is no lap and no centre line that it is told from.
		{"facing-short", edgeCoat, "closure.front.fastener=|closure.front.notion=|closure.front.use=toggle-wood-40|closure.front.lap=edge|closure.front.inset=40 mm|closure.front.stand.construction=faced|closure.front.stand.facing=60 mm", "60 mm (2 3/8 in) inside the line where the edges meet", "centre line"},
		{"facing-short", edgeCoat, "closure.front.where=hood|closure.front.direction=across|closure.front.stand.construction=faced|closure.front.stand.facing=20 mm", "inside the line of the holes", "centre line"},
		// One side too thick for a post of 1 to 2 mm and the other too thin: a longer post
		// for the first alone.
		{"hardware-grip", edgeCoat, `closure.front.fastener=|closure.front.notion=|closure.front.use=plastic-snap-12-4mm|cloth.thin={use="quilting-cotton",thickness="0.3 mm",pressed=1}|closure.front.over=["thin","thin"]|closure.front.under=["shell","shell","shell"]`, "take a longer post on that side", "longer one or"},
		{"hardware-grip", edgeCoat, `closure.front.fastener=|closure.front.notion=|closure.front.use=plastic-snap-12-4mm|cloth.thin={use="quilting-cotton",thickness="0.3 mm",pressed=1}|closure.front.over=["thin","thin"]|closure.front.under=["shell","shell","shell"]`, "a shorter post on that side", ""},
		{"hardware-grip", edgeCoat, `closure.front.fastener=|closure.front.notion=|closure.front.use=plastic-snap-12-4mm|closure.front.over=["shell","shell","shell"]`, "take a longer one", "that side"},
		// Nobody sells a cloth by its thickness: fold and measure it.
		{"hardware-grip", edgeCoat, `closure.front.fastener=|closure.front.notion=|closure.front.use=plastic-snap-12-4mm|cloth.shell={use="quilting-cotton"}|closure.front.over=["shell","shell"]`, "so measure it and set cloth.shell.thickness", "ask the maker"},
		// An opening that its ends take up wants no zip.
		{"zip-shorten", edgeZip, "closure.zip.run.first=300 mm|closure.zip.run.last=300 mm", silent, ""},
		{"zip-shorten", edgeZip, "closure.zip.run.first=300 mm|closure.zip.run.last=299 mm", "a zip of 1 mm", ""},
		{"zip-length", edgeZip, "closure.zip.zip_length=587 mm", silent, ""},
		{"zip-length", edgeZip, "closure.zip.zip_length=586.99 mm", "a little short", ""},
		{"zip-length", edgeZip, `closure.zip.notion={number=5,opening="separating",lengths=["500 mm"]}`, "the longest zip sold is 500 mm", ""},
		{"zip-length", edgeZip, `closure.zip.notion={number=5,opening="separating",lengths=["500 mm"]}|closure.zip.zip_length=500 mm`, "take another zip, the longest of this on sale is 500 mm", ""},
		{"zip-length", edgeZip, "closure.zip.zip_length=500 mm", "buy one of 587 mm", "another"},
		// Of those sold none is long enough for the opening: none is named to buy.
		{"zip-sold", edgeZip, `closure.zip.notion={number=5,opening="separating",lengths=["500 mm"]}|closure.zip.zip_length=400 mm`, "the longest is 500 mm", "buy"},
		{"zip-sold", edgeZip, `closure.zip.notion={number=5,opening="separating",lengths=["500 mm"]}|closure.zip.zip_length=600 mm`, "the longest is 500 mm", "buy"},
		{"zip-sold", edgeZip, `closure.zip.notion={number=5,opening="separating",lengths=["590 mm","595 mm"]}|closure.zip.zip_length=589 mm`, "buy 590 mm", "longest"},
		// A chain of 5.8 ± 0.2 may be of number 6.
		{"zip-number", edgeZip, "closure.zip.notion.number=6|closure.zip.notion.chain=5.8 mm ± 0.2 mm", silent, ""},
		{"zip-number", edgeZip, "closure.zip.notion.number=6|closure.zip.notion.chain=5.79 mm ± 0.2 mm", "less than number 6 has", ""},
		{"zip-number", edgeZip, "closure.zip.notion.number=6|closure.zip.notion.chain=7.7 mm ± 0.2 mm", silent, ""},
		{"zip-number", edgeZip, "closure.zip.notion.number=6|closure.zip.notion.chain=7.71 mm ± 0.2 mm", "more than number 6 has", ""},
		// 7 of 150 g/m² is one class above 1 to 6, and 9 two; 6 of 400 is one below.
		{"zip-use", edgeZip, suited("150", "7"), "note: number 7 is heavy", ""},
		{"zip-use", edgeZip, suited("150", "9"), "caution: number 9 is heavy", ""},
		{"zip-use", edgeZip, suited("400", "6"), "note: number 6 is light", ""},
		{"zip-use", edgeZip, suited("400", "4"), "caution: number 4 is light", ""},
		{"zip-use", edgeZip, suited("400", "7"), silent, ""},
		{"zip-use", edgeZip, suited("150", "6"), silent, ""},
		// 14 − 3 − 3.175 = 7.825: the tape lies at the cut edge.
		{"zip-tape", edgeZip, "closure.zip.stand.seam=7.825 mm", silent, ""},
		{"zip-tape", edgeZip, "closure.zip.stand.seam=8.325 mm", "lay the tape's edge 0.5 mm", ""},
		// US Army TM 10-8400-203-23: 6 to 8 stitches an inch; Threads, 2008, on leather: about 8.
		{"zip-tape", edgeZip, `closure.zip.stand.seam=16 mm|cloth.shell={kind="melton",weight="400 g/m2",thickness="1 mm"}`, "6 to 8 stitches an inch", ""},
		{"zip-tape", edgeZip, "closure.zip.stand.seam=16 mm", "about 8 stitches an inch, once", ""},

		// The stripes of a mirror image lie 60 apart, one repeat of 80 less 20: 20 − 1.5875
		// = 18.4125, twice the ± of the one that was measured.
		{"plaid-phase", edgeCoat, plaid("across=80 mm", "over=30 mm ± 9.2 mm", "cut=mirror"), "conflict: cut in mirror image", ""},
		{"plaid-phase", edgeCoat, plaid("across=80 mm", "over=30 mm ± 9.21 mm", "cut=mirror"), "caution: cut in mirror image", ""},
		// Twice 45 are one repeat of 80 and 10 more: 8.4125, once the ± of the repeat.
		{"plaid-phase", edgeCoat, "closure.front.where=collar|" + plaid("across=80 mm ± 8.41 mm", "over=45 mm"), "conflict: the two sides of the collar", ""},
		{"plaid-phase", edgeCoat, "closure.front.where=collar|" + plaid("across=80 mm ± 8.42 mm", "over=45 mm"), "caution: the two sides of the collar", ""},
		// Two buttons have one gap, of 510: three repeats of 150 are 450.
		{"plaid-gaps", edgeCoat, strings.ReplaceAll(plaided, "@", "150") + "|closure.front.run.count=2", "gaps of 450 mm (17 11/16 in), 3 repeats", ""},
		{"plaid-gaps", edgeCoat, strings.ReplaceAll(plaided, "@", "150") + "|closure.front.run.count=1", silent, ""},
		// Gaps of 170 are a repeat and 1/16 in, what laying is off by.
		{"plaid-gaps", edgeCoat, strings.ReplaceAll(plaided, "@", "168.4125"), silent, ""},
		{"plaid-gaps", edgeCoat, strings.ReplaceAll(plaided, "@", "168.41"), "1 repeat", ""},
		// At least one repeat; one for each large piece.
		{"plaid-cloth", edgeCoat, "cloth.shell.repeat.along=60 mm", "buy at least one repeat more of shell, 60 mm", "takes"},
		{"plaid-cloth", edgeCoat, "cloth.shell.repeat.along=60 mm|cloth.shell.repeat.pieces=4", "buy 60 mm to 240 mm", "at least one repeat more"},
		// A sewing teacher's page on corduroy: a pin every 1/2 in.
		{"one-way", edgeCoat, "cloth.shell.kind=corduroy", "a pin every 12.5 mm (1/2 in)", ""},

		// An edge that is all seam has no stand, and no column: 10 for 15 + 10.
		{"stand-narrow", edgeCoat, "closure.front.stand.construction=faced|closure.front.stand.seam=10 mm|closure.front.stand.extension=10 mm", "nothing is left of the stand", "column"},
		{"stand-narrow", edgeCoat, "closure.front.stand.construction=faced|closure.front.stand.seam=10 mm|closure.front.stand.extension=10 mm", "[10 against 25 mm]", ""},
		// A hook's usual stand is its least.
		{"stand-narrow", edgeCoat, hardware("hook", `length=10,width=6,kind="hook-and-eye"`) + "|closure.front.stand.finished=2 mm", "needs at least 3.2 mm", "usually"},
		{"stand-narrow", edgeCoat, "closure.front.stand.finished=14 mm", "needs at least 15 mm (5/8 in), usually 18.5 mm (3/4 in)", ""},
		// 10 turned under and 2.5 of folds leave nothing of 12.5; without a tuck none is told.
		{"band-extension", edgeCoat, folded + "closure.front.stand.extension=12.5 mm", "use up the whole extension", ""},
		{"band-extension", edgeCoat, folded + "closure.front.stand.band=30 mm|closure.front.stand.extension=50 mm", "half the band, the band, 10 mm (13/32 in) turned under", "tuck"},
		{"band-extension", edgeCoat, "closure.front.stand.construction=folded|closure.front.stand.tuck=5 mm|closure.front.stand.band=30 mm|closure.front.stand.extension=50 mm", "half the band, the band, twice the tuck of 5 mm", "turned under"},
		// D = 24, and 6 + 6.35 of a button of 12.
		{"stand-drafted", edgeCoat, "closure.front.notion.diameter=24 mm", "draft 24 mm (1 in) from the centre line to the finished edge, the fastener's own width", "so small"},
		{"stand-drafted", edgeCoat, "closure.front.notion.diameter=12 mm", "the usual stand of so small a fastener", ""},
		{"stand-drafted", edgeCoat, "closure.front.notion.diameter=12.7 mm", "the fastener's own width", "so small"},
		// A hole of 28 ends 24.825 inside the line, as half a band of 49.65 does.
		{"facing-short", edgeSecond, besideBand + "49.65 mm", silent, ""},
		{"facing-short", edgeSecond, besideBand + "49.64 mm", "past the band of buttons", ""},

		// Holes along: stitched 7 wide and 6.35 on either side.
		{"strip-narrow", edgeCoat, along + "|closure.front.hole_length=28 mm|closure.front.stand.strip=19.7 mm", silent, ""},
		{"strip-narrow", edgeCoat, along + "|closure.front.hole_length=28 mm|closure.front.stand.strip=19.69 mm", "on either side", ""},
		{"strip-narrow", edgeCoat, along + "|closure.front.stand.construction=band|closure.front.stand.band=40 mm|closure.front.stand.strip=40 mm", silent, ""},
		{"strip-narrow", edgeCoat, along + "|closure.front.stand.construction=band|closure.front.stand.band=40 mm|closure.front.stand.strip=39 mm", "usually interfaced over all its width, 40 mm", ""},
		// 55.175 of strip from goods of 50: what the stand may be less is 5.175.
		{"goods-narrow", edgeCoat, across + "|closure.front.hole_length=28 mm|interfacing.in.width=50 mm|closure.front.stand.finished=24 mm ± 5.1 mm", "conflict: the interfacing is 50 mm", ""},
		{"goods-narrow", edgeCoat, across + "|closure.front.hole_length=28 mm|interfacing.in.width=50 mm|closure.front.stand.finished=24 mm ± 5.2 mm", "caution: the interfacing is 50 mm", ""},
		{"interfacing-heavy", edgeCoat, "interfacing.in.weight=300 g/m2", silent, ""},
		{"interfacing-heavy", edgeCoat, "interfacing.in.weight=301 g/m2", "more than the cloth it supports", ""},

		// Half of 24: 12 from the centre line; a hole of 13.5875 ends 12 inside its column.
		{"rows-touch", edgeCoat, columnsAt(along, "distance=10 mm"), "set rows.distance at 12 mm (1/2 in)", ""},
		{"rows-touch", edgeCoat, columnsAt(along, "top=12 mm", "bottom=9 mm"), "set rows.bottom at 12 mm", "rows.top"},
		{"rows-touch", edgeCoat, columnsAt(along, "distance=10 mm", `row=[{row=1,distance="12 mm"}]`), "set rows.distance at 12 mm", "each row"},
		{"rows-touch", edgeCoat, columnsAt(along, "distance=12 mm", `row=[{row=1,distance="10 mm"}]`), "set each row at least 12 mm", ""},
		{"rows-touch", edgeCoat, columnsAt(along, "distance=10 mm ± 1.99 mm"), "conflict: the columns", ""},
		{"rows-touch", edgeCoat, columnsAt(along, "distance=10 mm ± 2 mm"), "caution: the columns", ""},
		{"rows-touch", edgeCoat, columnsAt(across, "distance=10 mm") + "|closure.front.hole_length=13.5875 mm", "but the buttons are 24 mm", ""},
		{"rows-touch", edgeCoat, columnsAt(across, "distance=10 mm") + "|closure.front.hole_length=13.59 mm", "from the inner end of a hole", ""},
		{"rows-touch", edgeCoat, columnsAt(across, "distance=10 mm") + "|closure.front.hole_length=13.5875 mm ± 5 mm", "conflict: the columns", ""},

		// 2 × 1 + 0.5.
		{"foot-lift", edgeCoat, "machine.foot_lift=2.5 mm", silent, ""},
		{"foot-lift", edgeCoat, "machine.foot_lift=2 mm|machine.foot_lift_extra=2.5 mm", "use the extra lift or the knee", "lying free"},
		{"foot-lift", edgeCoat, "machine.foot_lift=2 mm|machine.foot_lift_extra=2.49 mm", "conflict: the layers", ""},
		// One stack is told where both are as thick.
		{"foot-lift", edgeCoat, byMachine + `|closure.front.under=["shell","in","shell"]`, "under the hole", "set on"},
		{"foot-lift", edgeCoat, byMachine + `|closure.front.under=["shell","in","shell","shell"]`, "set on", ""},
		{"stack-bulky", edgeCoat, "machine.foot_lift=5 mm|cloth.shell.thickness=2.25 mm", "over 4 mm", ""},
		{"stack-bulky", edgeCoat, "machine.foot_lift=5 mm|cloth.shell.thickness=2.26 mm", silent, ""},

		{"shank-rigid", edgeCoat, looped + "|closure.front.notion.shank=3 mm", silent, ""},
		{"shank-rigid", edgeCoat, looped + "|closure.front.notion.shank=2.9 mm", "the cord of its loop 3 mm", ""},
		{"backing-button", edgeCoat, "closure.front.backing=24 mm", "caution: the backing button, 24 mm (15/16 in), is as large as the button", ""},
		{"backing-button", edgeCoat, "closure.front.backing=23 mm", "note: a backing button of 36 ligne, 23 mm", "as large"},
		{"backing-button", edgeCoat, "closure.front.backing=23 mm", "[23 against 12 mm]", ""},
		{"backing-button", edgeCoat, "closure.front.notion.diameter=6 mm|closure.front.notion.thickness=2 mm|closure.front.backing=6 mm", "none that is smaller is sold", ""},
		{"button-swing", edgeCoat, "closure.front.sewn_by=machine|machine.swing={min=2,max=4}|closure.front.notion.hole_gap=4 mm", silent, ""},
		{"button-swing", edgeCoat, "closure.front.sewn_by=machine|machine.swing={min=2,max=4}|closure.front.notion.hole_gap=4.1 mm", "[4.1 against 4 mm]", ""},
		{"button-swing", edgeCoat, "closure.front.sewn_by=machine|machine.swing={min=2,max=4}|closure.front.notion.hole_gap=1.9 mm", "[1.9 against 2 mm]", ""},
		{"snap-cap", edgeCoat, capOf(`min="10 mm",max="15 mm"`), silent, ""},
		{"snap-cap", edgeCoat, capOf(`min="10 mm",max="14 mm"`), "which take 10 to 14 mm (13/32 to 1/2 in)", ""},
		{"snap-cap", edgeCoat, capOf(`min="10 mm",max="14 mm"`), "[15 against 14 mm]", ""},
		{"snap-cap", edgeCoat, capOf(`min="16 mm"`), "take 16 mm (5/8 in) or more", ""},
		{"snap-cap", edgeCoat, capOf(`min="16 mm"`), "[15 against 16 mm]", ""},
		{"snap-cap", edgeCoat, capOf(`max="14 mm"`), "take up to 14 mm", ""},

		// What is set in scrap, through the layers of each side.
		{"hardware-test-set", edgeCoat, hardware("snap", `diameter=15,post=4,post_width=4`), "scrap first: 2 layers, 2 mm (3/32 in) lying free, 2 mm (3/32 in) pressed; post 4 mm (5/32 in); hole 3.4 mm", "; and"},
		{"hardware-test-set", edgeCoat, hardware("snap", `diameter=15,post=4,post_width=4`), "| make a test set in scrap first: post 4 mm through 2 layers", ""},
		{"hardware-test-set", edgeCoat, hardware("snap", `diameter=15,post=4,post_width=4`), "at most three splits", ""},
		{"hardware-test-set", edgeCoat, hardware("snap", `diameter=15`), "| make a test set in scrap first: through 2 layers", "post"},
		{"hardware-test-set", edgeCoat, hardware("snap", `diameter=15`), "2 mm (3/32 in) pressed. It must", "hole"},
		{"hardware-test-set", edgeCoat, hardware("snap", `diameter=15`) + `|closure.front.under=["shell","shell","shell"]`, "pressed; and 3 layers, 3 mm (1/8 in) and 3 mm (1/8 in). It must", ""},
		{"hardware-test-set", edgeCoat, hardware("snap", `diameter=15`) + `|closure.front.under=["shell","shell","shell"]`, "| make a test set in scrap first: through 2 and 3 layers", ""},
		{"hardware-test-set", edgeCoat, hardware("rivet", `diameter=9,post=6`), "| make a test set in scrap first: post 6 mm through 2 layers", " and 0"},

		// The top of a faced edge: 4 × 1 + 0.5; pressed, trimmed and graded 3 × 1 + 0.5.
		{"place-thick", edgeCoat, facedTop + "machine.foot_lift=4.5 mm", silent, ""},
		{"place-thick", edgeCoat, facedTop + "machine.foot_lift=4.4 mm", "4.5 mm (3/16 in) thick", ""},
		{"place-thick", edgeCoat, facedTop + "machine.foot_lift=4 mm|machine.foot_lift_extra=4.5 mm", "note: the top of the front edge", ""},
		{"place-thick", edgeCoat, facedTop + "machine.foot_lift=4 mm|machine.foot_lift_extra=4.4 mm", "caution: the top of the front edge", ""},
		// 2.5 of layers alone: foot-lift speaks of those that are more.
		{"place-thick", edgeCoat, facedTop + "machine.foot_lift=2.5 mm", "by hand", ""},
		{"place-thick", edgeCoat, facedTop + "machine.foot_lift=2.4 mm", silent, ""},
		// Graded 4 mm are no thick stack yet: 3 × 1.175 + 0.475; layers of 4 are none.
		{"place-needle", edgeCoat, facedTop + "closure.front.needle=90/14|cloth.shell.thickness=1.2 mm", "change to 100/16", ""},

		// Both are given, so the seam is what lies between them.
		{"key-unused", edgeCoat, "closure.front.stand.construction=faced|closure.front.stand.seam=10 mm|closure.front.stand.finished=30 mm|closure.front.stand.extension=30 mm", "the cut edge is the finished edge", ""},
		{"key-unused", edgeCoat, "closure.front.stand.construction=faced|closure.front.stand.seam=10 mm|closure.front.stand.finished=30 mm|closure.front.stand.extension=35 mm", "the cut edge lies 5 mm (3/16 in) beyond the finished one", ""},
		{"key-unused", edgeZip, "closure.zip.run.length=600 mm", silent, ""},
		{"key-unused", edgeZip, "closure.zip.run.count=4", "run.count is not used", "run.anchor"},
		{"key-unused", edgeZip, `closure.zip.run.anchor=[{name="bust",at="200 mm"}]`, "run.anchor is not used", "run.count"},

		// Cords sewn on past the seam of a band of 80: its strip is the band, 80.
		{"strip-narrow", edgeToggle, banded + "closure.toggles.stand.strip=80 mm", "put a piece of interfacing behind each end", "cut it"},
		{"strip-narrow", edgeToggle, banded + "closure.toggles.stand.strip=79 mm", "cut it 80 mm", "behind each end"},

		// Fleece of 3 is pressed to half, and perhaps twice as far: 2 × 1.5 + 0.5.
		{"foot-lift", edgeCoat, "cloth.shell.kind=fleece|cloth.shell.thickness=3 mm|cloth.shell.pressed=0.5|machine.foot_lift=3.5 mm", "caution: the layers under the hole are 6.5 mm", ""},
		{"foot-lift", edgeCoat, "cloth.shell.kind=fleece|cloth.shell.thickness=3 mm|cloth.shell.pressed=0.5|machine.foot_lift=3.4 mm", "conflict: the layers under the hole are 3.5 mm", ""},

		// 16 CFR 1615: two pieces to 40 cm each, one to 64.8 cm.
		{"safety-sleepwear", edgeChild, "sleepwear.length=650 mm", "goes to 9 months and 648 mm", ""},
		{"safety-sleepwear", edgeChild, "sleepwear.length=650 mm|sleepwear.parts=1", "goes to 9 months and 648 mm", ""},
		{"safety-sleepwear", edgeChild, "sleepwear.length=650 mm|sleepwear.parts=2", "goes to 9 months and 400 mm", ""},
		// 16 CFR 1120 begins at 2T.
		{"safety-cord-top", edgeChild, "cord.cord.at=hood|age=2", "hood cord forbidden", "take the hood cord out"},
		{"safety-cord-top", edgeChild, "cord.cord.at=hood|age=1.9", "take the hood cord out", "forbidden"},
	} {
		g, err := edgeGarment(c.base, c.with, "")
		if err != nil {
			t.Errorf("%s: %v", c.with, err)
			continue
		}
		p, got := Plan(g), ""
		for i := range p.Findings {
			if f := &p.Findings[i]; f.Rule == c.rule {
				line, message := Find(f.Rule).Say(f, g.Units)
				got += f.Severity.String() + ": " + message + " | " + line
				if f.Compared {
					got += fmt.Sprintf(" [%g against %g %s]", f.Have, f.Need, f.Unit)
				}
				got += "\n"
			}
		}
		if (got == "") != (c.want == silent) || !strings.Contains(got, c.want) || c.not != "" && strings.Contains(got, c.not) {
			t.Errorf("%s, %s: %q, want %q and not %q", c.rule, c.with, got, c.want, c.not)
		}
	}
}

// suited is a zip of a number in a cloth of a weight.
func suited(weight, number string) string {
	return `cloth.shell={kind="melton",weight="` + weight + ` g/m2",thickness="1 mm"}|closure.zip.notion.number=` + number
}

const (
	besideBand = `closure.buttons.stand.finished=|closure.buttons.stand.construction=band|closure.snaps.fastener=button|closure.snaps.direction=across|closure.snaps.hole_length=28 mm|closure.snaps.notion={diameter="20 mm",thickness="3 mm"}|closure.buttons.stand.band=`
	byMachine  = "machine.foot_lift=2 mm|closure.front.sewn_by=machine|machine.swing={min=2,max=4}|closure.front.notion.hole_gap=3 mm"
	facedTop   = "closure.front.where=front|closure.front.stand.construction=faced|closure.front.stand.finished=30 mm|"
	banded     = "closure.toggles.stand.finished=|closure.toggles.stand.construction=band|closure.toggles.stand.band=80 mm|"
	looped     = "closure.front.hole=loop|closure.front.lap=edge|closure.front.cord=3 mm"
)

// columnsAt is a double-breasted front whose columns lie so.
func columnsAt(direction string, rows ...string) string {
	return direction + "|closure.front.lap=double|closure.front.rows." + strings.Join(rows, "|closure.front.rows.")
}

// capOf is a cap of 15 on working parts that take those.
func capOf(caps string) string { return hardware("snap", "diameter=15,caps={"+caps+"}") }

// zipsOfSizes is the zip of edgeZip alone, in sizes with a run each.
func zipsOfSizes(keys string, runs ...string) string {
	names := []string{"S", "M", "L"}[:len(runs)]
	for i := range runs {
		runs[i] = names[i] + ` = "` + runs[i] + ` mm"`
	}
	zip, _, _ := strings.Cut(edgeZip, "[[closure]]\nname = \"snaps\"")
	return strings.NewReplacer("[cloth.shell]", "[sizes]\nnames = [\""+strings.Join(names, `", "`)+"\"]\n[cloth.shell]", `over = ["shell", "shell"]`+"\n[closure.notion]", `over = ["shell", "shell"]`+"\n"+keys+"\n[closure.notion]",
		"opening = \"separating\"\n[closure.run]\nlength = 600", "opening = \"separating\"\n%s[closure.run]\nfirst = 0\nlength = { "+strings.Join(runs, ", ")+" }").Replace(zip)
}

// One length of zip for each size, and which are shortened; what is longer than a
// screen is wide is told in fewer words. Sold are 400, 500 and 600 mm.
func TestZipsOfSizesInALine(t *testing.T) {
	const sold = `lengths = ["400 mm", "500 mm", "600 mm"]` + "\n"
	for _, c := range []struct {
		runs []string
		sold string
		want string
	}{
		{[]string{"500", "500"}, sold, "buy a zip of 500 mm"},
		{[]string{"400", "500"}, sold, "buy a zip of 400 mm for S, 500 mm for M"},
		{[]string{"398", "398.01"}, sold, "buy a zip of 400 mm; shorten S at the top"},
		{[]string{"390", "500"}, sold, "buy a zip of 400 mm for S, 500 mm for M; shorten S at the top"},
		{[]string{"390", "490"}, sold, "buy a zip of 400 mm for S, 500 mm for M; shorten at the top"},
		{[]string{"390", "395"}, sold, "buy a zip of 400 mm; shorten at the top"},
		// 75 columns with the place.
		{[]string{"390", "500", "600"}, sold, "buy a zip of 400 mm for S, 500 mm for M, 600 mm for L"},
		{[]string{"390", "490", "590"}, sold, "buy a zip of 400 mm for S, 500 mm for M, 600 mm for L"},
		// None is sold that long: of the others.
		{[]string{"400", "700"}, sold, "buy a zip of 400 mm"},
		// 70 columns, and 71.
		{[]string{"400", "500"}, "", "ask for a zip of 400 mm for S, 500 mm for M, or shorten one at the top"},
		{[]string{"400", "1500"}, "", "ask for a zip of 400 mm for S, 1500 mm for M"},
		{[]string{"400"}, "", "ask for a zip of 400 mm, or shorten one at the top"},
	} {
		g := trial.Read(t, strings.Replace(zipsOfSizes("", c.runs...), "%s", c.sold, 1))
		p := Plan(g)
		x := Context{G: g, P: p, U: g.Units, C: &g.Closures[0], K: &p.Closures[0]}
		if got := x.zipsLine(); got != c.want {
			t.Errorf("%v: %q, want %q", c.runs, got, c.want)
		}
	}
}

// A length of zip for all sizes has one place in the file, lengths by size one for
// each; and what is wrong with the one is told once.
func TestPlacesOfZipLengths(t *testing.T) {
	for _, c := range []struct {
		keys   string
		places string
	}{
		{`zip_length = 450`, "closure[0].zip_length"},
		{`zip_length = { S = "450 mm", M = "451 mm" }`, "closure[0].zip_length.S closure[0].zip_length.M"},
		{`zip_length = { S = "450 mm", M = "450 mm" }`, "closure[0].zip_length.S closure[0].zip_length.M"},
	} {
		p := Plan(trial.Read(t, strings.Replace(zipsOfSizes(c.keys, "400", "410"), "%s", `lengths = ["400 mm", "500 mm"]`+"\n", 1)))
		var got []string
		for i := range p.Findings {
			if f := &p.Findings[i]; f.Rule == "zip-sold" {
				got = append(got, f.Path())
			}
		}
		if strings.Join(got, " ") != c.places {
			t.Errorf("%s: told at %q, want %s", c.keys, got, c.places)
		}
	}
}

// Classes of zips by number: 1 to 4, 5 and 6, 7 and 8, 9 and more.
func TestClassesOfZips(t *testing.T) {
	for number, want := range map[float64]int{1: 0, 4: 0, 4.5: 1, 6: 1, 7: 2, 8: 2, 9: 3, 25: 3, 30: 3} {
		if got := zipClass(number); got != want {
			t.Errorf("number %g: class %d, want %d", number, got, want)
		}
	}
}

// Columns 20 from the centre line lie 40 apart, 16 more than a button of 24; without
// a facing none is compared.
func TestRoomOfColumnsAndFacings(t *testing.T) {
	if got := Find("rows-touch").Room(costsOf(t, edgeCoat, columnsAt(along, "distance=20 mm"))); got.Have != 40 || got.Margin != 16 {
		t.Errorf("columns: %+v", got)
	}
	for with, compared := range map[string]bool{across + "|closure.front.stand.construction=faced|closure.front.stand.facing=60 mm": true, along + "|closure.front.stand.construction=faced": false, across + "|closure.front.stand.construction=faced": false} {
		if got := Find("facing-short").Room(costsOf(t, edgeCoat, with)); got.Compared != compared {
			t.Errorf("%s: %+v", with, got)
		}
	}
}

// Where no flap lies over a zip its rule compares nothing.
func TestRoomOfAFlapOverAZip(t *testing.T) {
	for with, compared := range map[string]bool{"closure.zip.opening=front": true, "closure.zip.opening=back": false} {
		g := costsOf(t, edgeZip, with).G
		p := Plan(g)
		x := Context{G: g, P: p, U: g.Units, C: &g.Closures[0], K: &p.Closures[0]}
		if got := Find("zip-fly").Room(&x); got.Compared != compared {
			t.Errorf("%s: %+v, compared: %v", with, got, compared)
		}
	}
}

// A measure in brackets is the one before it once more; a number alone is none.
func TestOneUnitOfTwo(t *testing.T) {
	for says, want := range map[string]string{
		"a hole of 13 cm (5 in) wide":       "a hole of 13 cm wide",
		"25 mm (1 in) (10 mm) of it":        "25 mm of it",
		"row 2 (3) of 25 mm (1 in)":         "row 2 (3) of 25 mm",
		"none () of 25 mm (1 in":            "none () of 25 mm (1 in",
		"1/32 in (0.8 mm) thick":            "1/32 in thick",
		"take one (see (1 in)) of two":      "take one (see) of two",
		"the stand (of 30 mm) is 1 in wide": "the stand (of 30 mm) is 1 in wide",
	} {
		if got := OneUnit(says); got != want {
			t.Errorf("%q: %q, want %q", says, got, want)
		}
	}
}

// A line without figures is said as it is written, whatever stands in it.
func TestLineWithoutFigures(t *testing.T) {
	f := (&Finding{Rule: "hole-short"}).Line("a tenth is 10 %")
	if line, _ := Find("hole-short").Say(f, measure.MM); line != "a tenth is 10 %" {
		t.Errorf("%q", line)
	}
}

// Three splits are told in a word, others in figures.
func TestSplitsInWords(t *testing.T) {
	for n, want := range map[int]string{2: "at most 2 splits", 3: "at most three splits", 4: "at most 4 splits"} {
		if got := SetRight(&plan.Hardware{Splits: n}); !strings.Contains(got, want) {
			t.Errorf("%d: %q", n, got)
		}
	}
}

// Pressed, a lofty layer may be next to nothing, and so thick as it lies free.
func TestFarOffEstimates(t *testing.T) {
	for tol, want := range map[measure.Length]string{5 * mm: " by estimate (± 5 mm)", 6 * mm: " by estimate (at most 11 mm)"} {
		if got := known(false, true, 5*mm, tol, measure.MM); got != want {
			t.Errorf("5 ± %v: %q, want %q", tol, got, want)
		}
	}
}

// A stand of a folded band is a third of what the turn-under and the folds leave:
// its ± is how far it moves when the cloth is as thick as its estimate may be.
func TestStandOfAnEstimatedFold(t *testing.T) {
	const drafted = folded + "closure.front.stand.extension=50 mm|cloth.shell.thickness="
	is := costsOf(t, edgeCoat, drafted)
	shell := is.K.Over.Layers[0]
	thick := costsOf(t, edgeCoat, drafted+fmt.Sprintf("%g mm", (shell.Thick+shell.Tol).MM()))
	off := (is.K.Stand.Have - thick.K.Stand.Have).Abs()
	if got, want := is.guessFolds(), " by estimate (± "+off.ShortThin(measure.MM)+")"; got != want || off == 0 {
		t.Errorf("%q, want %q", got, want)
	}
}

// A gap of whole repeats nearest to the gap that there is or that is asked for, a
// fifth of the run where nothing is said: of 600 the first 30 below the top and the
// last 60 above the end leave 510.
func TestGapsOfRepeats(t *testing.T) {
	for _, c := range []struct {
		repeat, with string
		gap          measure.Length
		n, count     int
		left         measure.Length
	}{
		{"150", "count=4", 150 * mm, 1, 4, 120 * mm}, // 170
		{"150", "count=2", 450 * mm, 3, 2, 120 * mm},
		{"20", "count=1", 100 * mm, 5, 6, 70 * mm}, // 102
		{"20", "count=|closure.front.run.gap.about=52 mm", 60 * mm, 3, 9, 90 * mm},
		{"20", "count=|closure.front.run.gap.min=40 mm|closure.front.run.gap.max=80 mm", 60 * mm, 3, 9, 90 * mm},
		{"20", "count=|closure.front.run.gap.min=40 mm", 40 * mm, 2, 13, 90 * mm},
		{"20", "count=|closure.front.run.gap.max=80 mm", 80 * mm, 4, 7, 90 * mm},
		{"510", "count=2", 510 * mm, 1, 2, 60 * mm},
		{"520", "count=2", 0, 0, 0, 0},
	} {
		x := costsOf(t, edgeCoat, strings.ReplaceAll(plaided, "@", c.repeat)+"|closure.front.run."+c.with)
		if gap, n, count, left := barGaps(x, Checked(x.G, x.C)); gap != c.gap || n != c.n || count != c.count || left != c.left {
			t.Errorf("%s, %s: %d gaps of %v, %d repeats, %v left, want %d of %v, %d, %v", c.repeat, c.with, count, gap, n, left, c.count, c.gap, c.n, c.left)
		}
	}
}

// Where the thickness alone is known no layers are told.
func TestTestSetOfAThickness(t *testing.T) {
	x := costsOf(t, edgeCoat, hardware("snap", `diameter=15,post=4`))
	x.K.Hardware.Sides[0].Layers = 0
	if short, whole := testSetShort(x), testSet(x); !strings.HasSuffix(short, "post 4 mm (5/32 in) through the very layers") || !strings.HasPrefix(whole, "the very layers, 2 mm") {
		t.Errorf("%q, %q", short, whole)
	}
}

// crowded is a garment with a catalogue of its own, of nothing else.
func crowded(t *testing.T, base, with string, put func(*catalog.Catalog)) *Context {
	t.Helper()
	x := costsOf(t, base, with)
	x.G.Catalog = &catalog.Catalog{}
	put(x.G.Catalog)
	return x
}

// offered are the entries that changes name after those words, with their costs.
func offered(cs []Change, before string) map[string]float64 {
	out := map[string]float64{}
	for _, c := range cs {
		if _, name, is := strings.Cut(c.Says, before); is {
			name, _, _ = strings.Cut(name, ",")
			name, _, _ = strings.Cut(name, " as ")
			out[name] = math.Round(c.Cost*1e6) / 1e6
		}
	}
	return out
}

// As many are offered as a screen holds, the nearest first, ours: six fasteners or
// threads, eight buttons on a shank, three cloths, and 24 changes of a stack. Of 40
// of each that would do those are the first.
func TestAsManyAsAScreenHolds(t *testing.T) {
	const n = 40
	numbered := func(i int) catalog.Entry { return catalog.Entry{Name: fmt.Sprintf("own-%02d", i), Sure: "read"} }
	length := func(mm float64) catalog.Measured { return catalog.Measured{V: measure.FromMM(mm), From: catalog.Given} }
	first := func(n int, cost func(i int) float64) map[string]float64 {
		out := map[string]float64{}
		for i := range n {
			out[numbered(i).Name] = math.Round(cost(i)*1e6) / 1e6
		}
		return out
	}
	// Too large for a bore of 31.75 mm: by the millimetres that they are wider than 24.
	x := crowded(t, edgeChild, "closure.front.notion.diameter=24 mm", func(c *catalog.Catalog) {
		for i := range n {
			c.Notions = append(c.Notions, &catalog.Notion{Entry: numbered(i), Kind: catalog.Button, Diameter: length(32 + float64(i)), Thickness: length(4)})
		}
	})
	if got, want := offered(Find("safety-small").Propose(x, &Finding{}), "use "), first(6, func(i int) float64 { return 8 + float64(i) }); !maps.Equal(got, want) {
		t.Errorf("too large for the cylinder: %v, want %v", got, want)
	}
	// For layers of 2.5 a shank of 2.5 to 6.35 more.
	x = crowded(t, edgeCoat, "closure.front.use=metal-dome-36|closure.front.notion=", func(c *catalog.Catalog) {
		for i, shank := range []float64{2.49, 2.5, 8.85, 8.86} {
			c.Notions = append(c.Notions, &catalog.Notion{Entry: numbered(i), Kind: catalog.Button, Diameter: length(24), Thickness: length(4), Shank: length(shank)})
		}
	})
	if got := slices.Sorted(maps.Keys(offered(Find("shank-rigid").Propose(x, &Finding{}), "use "))); !slices.Equal(got, []string{"own-01", "own-02"}) {
		t.Errorf("shanks: %v", got)
	}
	// A tenth of the difference in Tex, from 20 to the least that will do.
	x = crowded(t, edgeCoat, "thread.seam.tex=Tex 20|closure.front.button_thread=seam", func(c *catalog.Catalog) {
		for i := range n {
			c.Threads = append(c.Threads, &catalog.Thread{Entry: numbered(i), Tex: catalog.Opt[measure.LinearDensity]{V: measure.LinearDensity(60 + i), From: catalog.Given}})
		}
	})
	if got, want := offered(Find("button-thread").Propose(x, &Finding{}), "with "), first(6, func(i int) float64 { return 4 + float64(i)/10 }); !maps.Equal(got, want) {
		t.Errorf("thread for buttons: %v, want %v", got, want)
	}
	// A thinner cloth of the family costs 80 and the millimetres; as thick a one, one of
	// another family and one of which nothing is known are none.
	cloths := func(c *catalog.Catalog) {
		add := func(e catalog.Entry, kind string, thick catalog.Measured) {
			c.Cloths = append(c.Cloths, &catalog.Cloth{Entry: e, Kind: kind, Thickness: thick})
		}
		add(catalog.Entry{Name: "as-thick"}, "melton", length(1))
		add(catalog.Entry{Name: "of-nothing"}, "melton", catalog.Measured{})
		add(catalog.Entry{Name: "denim"}, "heavy-cotton", length(0.99))
		for i := range n {
			add(numbered(i), "melton", length(0.98-float64(i)/50))
		}
		for i := range n {
			c.Interfacings = append(c.Interfacings, &catalog.Interfacing{Entry: numbered(i), Kind: "woven", Fixing: "sewn", Thickness: length(0.5 - float64(i)/100)})
		}
	}
	x = crowded(t, edgeCoat, "cloth.shell.kind=melton", cloths)
	if got, want := offered(proposeCloth(x, x.G.Cloths[0]), "of "), first(3, func(i int) float64 { return 80.02 + float64(i)/50 }); !maps.Equal(got, want) {
		t.Errorf("thinner cloths: %v, want %v", got, want)
	}
	y := crowded(t, edgeCoat, "cloth.shell.kind=melton", func(c *catalog.Catalog) {
		c.Cloths = []*catalog.Cloth{{Entry: numbered(0), Kind: "melton", Thickness: length(0.98)}, {Entry: catalog.Entry{Name: "of-nothing"}, Kind: "melton"}}
	})
	if got := offered(proposeCloth(y, y.G.Cloths[0]), "of "); len(got) != 1 || got["own-00"] == 0 {
		t.Errorf("a cloth of which nothing is known: %v", got)
	}
	// Of interfacings of no known weight each costs 5: the first six that are thinner.
	if got := offered(proposeThinner(x, &Finding{}), "use "); len(got) != 6 || got["own-00"] != 0 || got["own-01"] != 5 {
		t.Errorf("thinner interfacings: %v", got)
	}
	// The cloths of the garment: each that is thinner may be the inner layer.
	many := ""
	for i := range 30 {
		many += fmt.Sprintf(`|cloth.c%02d={kind="melton",weight="100 g/m2",thickness="0.%02d mm"}`, i, i+20)
	}
	if got := proposeThinner(costsOf(t, edgeCoat, "cloth.shell.kind=melton"+many), &Finding{}); len(got) != 24 {
		t.Errorf("%d changes of a stack", len(got))
	}

	// What is fixed otherwise costs 5 more: a weight of 300 for 301 is a twentieth of 1.
	x = crowded(t, edgeCoat, "interfacing.in.weight=301 g/m2", func(c *catalog.Catalog) {
		for i, fixing := range []string{"sewn", "fusible", "sewn"} {
			c.Interfacings = append(c.Interfacings, &catalog.Interfacing{Entry: numbered(i), Kind: "woven", Fixing: fixing, Weight: catalog.Opt[measure.AreaWeight]{V: []measure.AreaWeight{300, 300, 300.5}[i], From: catalog.Given}, Width: length([]float64{60, 61, 59}[i])})
		}
	})
	f := Finding{Rule: "interfacing-heavy", Numbers: Numbers{Have: 301, Need: 300}}.At("interfacing.in")
	if got, want := offered(Find(f.Rule).Propose(x, &f), "use "), map[string]float64{"own-00": 5.05, "own-01": 10.05}; !maps.Equal(got, want) {
		t.Errorf("lighter interfacings: %v, want %v", got, want)
	}
	// A strip of 60 is cut from goods of 60 or wider.
	x.K.Support.Strip, x.K.Support.Given = 60*mm, true
	if got, want := offered(Find("goods-narrow").Propose(x, &Finding{}), "use "), map[string]float64{"own-00": 5.05, "own-01": 10.05}; !maps.Equal(got, want) {
		t.Errorf("wider goods: %v, want %v", got, want)
	}
}

// What is proposed for stripes is written as it is told: the middle between two
// stripes of 80 is 40.
func TestStripesAreWritten(t *testing.T) {
	for where, with := range map[string]string{"": "", "collar": "closure.front.where=collar|"} {
		x := costsOf(t, edgeCoat, with+plaid("across=80 mm", "over=30 mm"))
		var got []string
		for _, c := range Find("plaid-phase").Propose(x, &Finding{}) {
			got = append(got, catalog.Texts(c.With)...)
		}
		if want := []string{"closure.front.check.over=0 mm", "closure.front.check.over=40 mm"}; !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", where, got, want)
		}
	}
}

// A strip ends outside its line, inside it, or on it.
func TestOutsideInWords(t *testing.T) {
	x := &Context{U: measure.MM.Alone()}
	for l, want := range map[measure.Length]string{10 * mm: "10 mm outside", -10 * mm: "10 mm inside", 0: "on"} {
		if got := x.outside(l); got != want {
			t.Errorf("%v: %q, want %q", l, got, want)
		}
	}
}
