package rules

import (
	"fmt"
	"strings"
	"testing"

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
		{"plaid-cloth", edgeCoat, "cloth.shell.repeat.along=60 mm|cloth.shell.repeat.pieces=4", "takes 60 mm to 240 mm", "at least one repeat more"},
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
		{"foot-lift", edgeCoat, "machine.foot_lift=2 mm|machine.foot_lift_extra=2.5 mm", "caution: the layers under the hole are 2.5 mm", ""},
		{"foot-lift", edgeCoat, "machine.foot_lift=2 mm|machine.foot_lift_extra=2.49 mm", "conflict: the layers", ""},
		// One stack is told where both are as thick.
		{"foot-lift", edgeCoat, byMachine + `|closure.front.under=["shell","in","shell"]`, "under the hole", "set on"},
		{"foot-lift", edgeCoat, byMachine + `|closure.front.under=["shell","in","shell","shell"]`, "set on", ""},
		{"stack-bulky", edgeCoat, "machine.foot_lift=5 mm|cloth.shell.thickness=2.25 mm", "over 4 mm", ""},
		{"stack-bulky", edgeCoat, "machine.foot_lift=5 mm|cloth.shell.thickness=2.26 mm", silent, ""},

		{"shank-rigid", edgeCoat, looped + "|closure.front.notion.shank=3 mm", silent, ""},
		{"shank-rigid", edgeCoat, looped + "|closure.front.notion.shank=2.9 mm", "the cord of its loop 3 mm", ""},
		{"backing-button", edgeCoat, "closure.front.backing=24 mm", "caution: the backing button, 24 mm (15/16 in), is as large as the button", ""},
		{"backing-button", edgeCoat, "closure.front.backing=23 mm", "note: a backing button of 23 mm", "as large"},
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
