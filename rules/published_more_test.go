package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/rules/plan"

	"github.com/google/go-cmp/cmp"
)

// Published figures of special cloths, fronts and cords, each through a whole
// garment.

// severities are the gravest of what each rule reports of a garment.
func severities(t *testing.T, text string, rules ...string) map[string]string {
	t.Helper()
	out := map[string]string{}
	worst := map[string]Severity{}
	for _, f := range planned(t, text).Findings {
		if !slices.Contains(rules, f.Rule) {
			continue
		}
		if s, ok := worst[f.Rule]; !ok || f.Severity > s {
			worst[f.Rule], out[f.Rule] = f.Severity, f.Severity.String()
		}
	}
	return out
}

// What the trade sews a cloth with raises nothing: needle, stitch and thread.
func TestPublishedNeedlesOfSpecialCloths(t *testing.T) {
	for _, c := range []struct {
		source, cloth, sewn string
		wrong               []string // what none of them asks for
	}{
		{"extension leaflet, Sewing on Today's Fabrics: fake fur 100/16, 8 to 10 an inch", `use = "fur-fabric"`, "needle = \"100/16\"\nstitch = \"3.2 mm\"", []string{"70/10"}},
		{"the same, 10 an inch", `use = "fur-fabric"`, "needle = \"100/16\"\nstitch = \"2.54 mm\"", nil},
		{"fabric house advice, 2014: fur fabric 110 to 120, 3.5 mm", `use = "fur-fabric"`, "needle = \"110/18\"\nstitch = \"3.5 mm\"", nil},
		{"Threads, 2008: leather about 8 an inch; a page on needle sizes: 14 and 16", `use = "leather-garment"`, "needle = \"100/16\"\npoint = \"leather\"\nstitch = \"3.2 mm\"", []string{"60/8"}},
		{"the same, 14", `use = "leather-garment"`, "needle = \"90/14\"\npoint = \"leather\"", nil},
		{"canvas merchant's catalogue, 2023: waxed canvas 100 denim", `use = "waxed-duck"`, "needle = \"100/16\"\npoint = \"jeans\"", []string{"70/10"}},
		{"sewing pages: fleece 90/14, seams 3.0 to 3.5 mm", `use = "fleece"`, "needle = \"90/14\"\nstitch = \"3 mm\"", []string{"120/19"}},
		{"another: 80/12, 3.5 mm", `use = "fleece"`, "needle = \"80/12\"\nstitch = \"3.5 mm\"", nil},
	} {
		text := garmentOf(c.cloth, "use = \"horn-30\"\nover = [\"shell\", \"shell\"]\n"+c.sewn)
		if got := severities(t, text, "needle-cloth", "needle-machine", "stitch-length", "needle-point"); len(got) > 0 {
			t.Errorf("%s: %v", c.source, got)
		}
		for _, nm := range c.wrong {
			text := garmentOf(c.cloth, "use = \"horn-30\"\nover = [\"shell\", \"shell\"]\nneedle = \""+nm+"\"")
			if got := severities(t, text, "needle-cloth"); got["needle-cloth"] == "" {
				t.Errorf("%s: nothing is said of %s", c.source, nm)
			}
		}
	}
	// A hobby page takes 90 to 100 for fur fabric, finer than the others: no
	// conflict.
	if got := severities(t, garmentOf(`use = "fur-fabric"`, "use = \"horn-30\"\nover = [\"shell\", \"shell\"]\nneedle = \"90/14\""), "needle-cloth"); got["needle-cloth"] == "conflict" {
		t.Error("fur fabric: 90 is forbidden")
	}
	// State tender for fire coats: 9 stitches an inch, Tex 80, each through four
	// layers of the shell.
	text := strings.Replace(garmentOf(`use = "aramid-shell-195"`, "use = \"melamine-30\"\nover = [\"shell\", \"shell\", \"shell\", \"shell\"]\nthread = \"seam\"\nstitch = \"2.82 mm\"\nneedle = \"100/16\""), "[[closure]]", "[thread.seam]\ntex = \"Tex 80\"\n[[closure]]", 1)
	if got := severities(t, text, "stitch-length", "needle-thread", "stack-bulky", "foot-lift"); len(got) > 0 {
		t.Errorf("fire coat: %v", got)
	}
}

// A front of 600 mm with a snap of 18 mm.
func snapFront(edge, first, last string, count int) string {
	return fmt.Sprintf("garment = \"Slip cardigan (invented)\"\nunits = \"mm\"\n[cloth.shell]\nuse = \"fleece-276\"\n[[closure]]\nname = \"front\"\nwhere = \"front\"\nfastener = \"snap\"\nover = [\"shell\", \"shell\"]\n[closure.notion]\ndiameter = 18\nattach = \"sewn\"\n[closure.stand]\nconstruction = \"faced\"\nfinished = \"%s\"\n[closure.run]\nlength = 600\nfirst = \"%s\"\nlast = \"%s\"\ncount = %d\n", edge, first, last, count)
}

// Knitwear designer's page: a facing of 2 × the snap, which lies on its middle,
// 18 in 36 mm; the lowest and the highest one diameter from the edges, the next
// begins one diameter above the lowest.
func TestPublishedSnapRow(t *testing.T) {
	s := &planned(t, snapFront("18 mm", "18 mm", "18 mm", 2)).Closures[0].Stand
	near(t, "full stand of a snap", s.Full, 18*mm, 0)
	rules := []string{"stand-narrow", "edge-near", "first-high", "rims-touch", "hole-edge"}
	if got := severities(t, snapFront("18 mm", "18 mm", "18 mm", 2), rules...); len(got) > 0 {
		t.Errorf("one diameter all round: %v", got)
	}
	// 600 - 36 = 564 mm in 15 gaps of 37.6: a diameter and a half between rims.
	if got := severities(t, snapFront("18 mm", "18 mm", "18 mm", 16), rules...); len(got) > 0 {
		t.Errorf("a diameter between the rims: %v", got)
	}
	if got := severities(t, snapFront("8 mm", "18 mm", "18 mm", 2), rules...); got["stand-narrow"] == "" && got["edge-near"] == "" {
		t.Error("a snap that hangs over the edge is let pass")
	}
}

// Stands and laps that were made pass; half the button is the least.
func TestPublishedFronts(t *testing.T) {
	front := func(d, finished, more string) string {
		return fmt.Sprintf("garment = \"Ferry coat (invented)\"\nunits = \"in\"\n[cloth.shell]\nuse = \"melton\"\n[interfacing.front]\nuse = \"weft-fusible-medium\"\n[[closure]]\nname = \"front\"\nwhere = \"front\"\nfastener = \"button\"\nover = [\"shell\", \"front\", \"shell\"]\n%s\n[closure.notion]\ndiameter = %q\nthickness = \"4 mm\"\n[closure.stand]\nconstruction = \"faced\"\nfinished = %q\n[closure.run]\nlength = \"26 in\"\ncount = 4\nfirst = \"2 in\"\nlast = \"8 in\"\n", more, d, finished)
	}
	for _, c := range []struct{ source, text string }{
		{"The Cutter's Practical Guide (1898), part 1, p. 20: youths' overcoat, 1 3/4 in all down the front", front("45L", "1 3/4 in", "")},
		{"The Practical Designer, p. 67: cape coat, 2 in, called ample", front("45L", "2 in", "")},
		{"Every Woman's Encyclopaedia, vol. 3: hole for a coat, stand of 3 in to the edge", front("45L", "3 in", "")},
		{"The Cutter's Practical Guide (1898), part 1, p. 21: youths' ulster, lap 3 to 3 1/2 in", front("45L", "3 1/4 in", "lap = \"double\"\nrows = { distance = \"2 in\" }")},
	} {
		if got := severities(t, c.text, "stand-narrow", "hole-edge", "rows-touch", "rows-distance"); got["stand-narrow"] != "" || got["hole-edge"] != "" || got["rows-touch"] != "" {
			t.Errorf("%s: %v", c.source, got)
		}
	}
	// A page on double-breasted suits: of A buttons shown B fasten, at most half.
	for working, want := range map[int]map[string]string{1: {}, 4: {}, 5: {"rows-working": "conflict"}} {
		text := front("32L", "1 in", fmt.Sprintf("lap = \"double\"\nrows = { distance = \"2 in\", working = %d }", working))
		if diff := cmp.Diff(want, severities(t, text, "rows-working")); diff != "" {
			t.Errorf("%d of 4 rows (-want +got):\n%s", working, diff)
		}
	}
	// The Cutter's rule: the button lies as far behind the centre line as the
	// hole in front of it.
	p := planned(t, front("32L", "1 in", "lap = \"double\"\nrows = { distance = \"2 1/2 in\" }"))
	for _, pc := range p.Closures[0].Pieces[0] {
		for _, part := range pc.Parts {
			if d := part.Centre.Out.Abs(); part.Role == plan.Works && d != inch(2.5) {
				t.Errorf("%v of the %v lies %s from the centre line", part.Kind, pc.Side, d)
			}
		}
	}
}

// One band maker's rule: band 1 in, button 1/2 in, hole 5/8 in, diameter + 1/8.
func TestPublishedBandOfOneInch(t *testing.T) {
	text := "garment = \"Deck shirt (invented)\"\nunits = \"in\"\n[cloth.shell]\nuse = \"poplin\"\n[interfacing.band]\nuse = \"nonwoven-fusible-light\"\n[[closure]]\nname = \"front\"\nwhere = \"front\"\nfastener = \"button\"\nover = [\"shell\", \"band\", \"shell\"]\ndirection = \"along\"\nhole_rule = \"plus-eighth\"\n[closure.notion]\ndiameter = \"1/2 in\"\nthickness = \"1/8 in\"\n[closure.stand]\nconstruction = \"band\"\nband = \"1 in\"\n[closure.run]\nlength = \"26 in\"\ncount = 7\n"
	k := &planned(t, text).Closures[0]
	near(t, "hole", k.Hole.Length, inch(.625), 0)
	near(t, "stand", k.Stand.Have, inch(.5), 0)
	if got := severities(t, text, "band-hole", "stand-narrow", "hole-short", "hole-edge"); len(got) > 0 {
		t.Errorf("%v", got)
	}
	// The standards' half the button + 1/4 in is just that half inch.
	near(t, "usual stand", k.Stand.Usual, inch(.5), 0)
}

// Weights as sources print them.
func TestPublishedWeights(t *testing.T) {
	for text, want := range map[string][2]float64{
		"7.2 oz/yd2":              {244, .5}, // state tender: felted jacket lining, 244 g/m²
		"18 oz/yd2":               {610, 1},  // guide to coat wool: 18 to 20 oz, 610 to 678 g/m²
		"20 oz/yd2":               {678, 1},
		"14.5 oz/yd run at 56 in": {316, 1}, // MIL-C-82252D, class by the running yard: arithmetic
	} {
		p := planned(t, garmentOf("kind = \"melton\"\nweight = \""+text+"\"", "use = \"horn-30\"\nover = [\"shell\", \"shell\"]"))
		if got := float64(p.Garment.Cloths[0].Weight.V); got < want[0]-want[1] || got > want[0]+want[1] {
			t.Errorf("%s is %.1f g/m², published %.0f", text, got, want[0])
		}
	}
	// A mill's classes, 2019: melton usually 450 to 490 g/m², thick 340 to 520:
	// coat cloth, sewn with the needles of coats.
	for _, w := range []int{450, 490} {
		k := planned(t, garmentOf(fmt.Sprintf("kind = \"melton\"\nweight = \"%d g/m2\"", w), "use = \"horn-30\"\nover = [\"shell\", \"shell\"]")).Closures[0]
		if k.Needle.Class != "heavy coating" {
			t.Errorf("melton of %d g/m² is %s", w, k.Needle.Class)
		}
	}
	// SLTC Journal 85: garment leathers of 0.8, 0.9 and 1.1 mm in one test series:
	// each lies in one of the two of the catalogue.
	for _, mm := range []float64{.8, .9, 1.1} {
		in := false
		for _, use := range []string{"leather-garment", "leather-firm"} {
			th := planned(t, garmentOf("use = \""+use+"\"", "use = \"horn-30\"\nover = [\"shell\", \"shell\"]")).Garment.Cloths[0].Thickness
			in = in || (mms(mm)-th.V).Abs() <= th.Tol
		}
		if !in {
			t.Errorf("garment leather of %g mm is in no entry", mm)
		}
	}
}

// Shrinkage: goods inspection lets 1 to 3 % pass, which is what is counted on
// for wool that nobody measured; cotton collar interlining 36 in wide lost about
// 3 in when it was wetted, 8 %.
func TestPublishedShrinkageOfGoods(t *testing.T) {
	g := planned(t, garmentOf("use = \"melton\"", "use = \"horn-30\"\nover = [\"shell\", \"shell\"]")).Garment
	if z := plan.ShrinkOf(g, g.Cloths[0]); z.Known || z.Percent < 1 || z.Percent > 3 || z.How != plan.Steam {
		t.Errorf("melton: %+v", z)
	}
	lost := inch(36) - plan.CutForShrink(inch(33), 0)
	near(t, "36 in that become 33", plan.CutForShrink(inch(33), lost.MM()/inch(36).MM()*100), inch(36), mms(.05))
	// Facings that came out 1/2 in shorter than the fronts after steam: a
	// difference that is told.
	text := "garment = \"Slip cape (invented)\"\nunits = \"in\"\n[cloth.shell]\nuse = \"melton\"\nshrink = 0\n[interfacing.front]\nuse = \"hair-canvas\"\nshrink = 2\n[[closure]]\nname = \"front\"\nuse = \"horn-36\"\nover = [\"shell\", \"front\", \"shell\"]\n[closure.run]\nlength = 25\ncount = 4\n"
	if got := severities(t, text, "shrink-apart"); got["shrink-apart"] == "" {
		t.Error("half an inch over 25 in is let pass")
	}
	near(t, "2 % of 25 in", plan.ShrinkApart(inch(25), 0, 2), inch(.5), measure.Millimetre/10)
}
