package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"placketeer/rules/plan"

	"github.com/google/go-cmp/cmp"
)

// Published cases of hardware and zips, through whole garments.

// pressedTo is a garment whose layers press down to so many millimetres.
func pressedTo(stack float64, closure string) string {
	return fmt.Sprintf("garment = \"Slip bag (invented)\"\nunits = \"mm\"\n[cloth.shell]\nkind = \"leather\"\nthickness = %g\npressed = 1\n[[closure]]\nname = \"strap\"\nover = [\"shell\"]\n%s\n[closure.run]\nlength = 500\ncount = 5\n", stack, closure)
}

// Bag-trade guide to double-cap rivets: posts of 6, 8, 10 and 12 mm serve the
// stack and at most 1/8 in more. Rivet maker's note, 1/16 to 1/8 in more: for
// 6.0 mm the 8. Craft page, a quarter to a third of the post shows: a post of
// 8 serves 5.33 to 6.00 mm, one of 6 serves 4.00 to 4.50 mm.
func TestPublishedDoubleCapsOfTheStock(t *testing.T) {
	for stack, want := range map[float64][]int{5: {6, 8}, 3: {6}, 12.5: nil, 6: {6, 8}, 5.34: {6, 8}, 4: {6}, 4.5: {6}, 8: {8, 10}} {
		var got []int
		for _, post := range []int{6, 8, 10, 12} {
			text := pressedTo(stack, fmt.Sprintf("use = \"double-cap-9-%d\"", post))
			if len(reports(t, "hardware-post", text)) == 0 && len(reports(t, "hardware-grip", text)) == 0 {
				got = append(got, post)
			}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("stack of %g mm (-want +got):\n%s", stack, diff)
		}
	}
	// Leather-craft page quoting a maker's list: the stack is a third to two
	// thirds of the height, so 2.44 mm and 4.86 mm still serve 7.3.
	for stack, speaks := range map[float64]bool{2.44: false, 4.86: false, 2.3: true, 5: true} {
		if got := reports(t, "hardware-grip", pressedTo(stack, "use = \"leather-rivet-6-7-3\"")); (len(got) > 0) != speaks {
			t.Errorf("leather rivet 7.3 high, stack %g mm: %v", stack, got)
		}
	}
}

// A published list carries a conflict, and is not called its maker's own.
func TestGripSaysWhoseItIs(t *testing.T) {
	for use, want := range map[string]string{
		"leather-rivet-6-7-3": "by its maker's list, as quoted",
		"ring-spring-15":      "a figure behind it is from memory, so ask the maker",
	} {
		found := false
		for _, f := range planned(t, pressedTo(9, "use = \""+use+"\"")).Findings {
			if f.Rule == "hardware-grip" {
				found = true
				if !strings.Contains(f.Message(), want) || strings.Contains(f.Message(), "by its maker:") {
					t.Errorf("%s: %s", use, f.Message())
				}
			}
		}
		if !found {
			t.Errorf("%s: says nothing", use)
		}
	}
}

// A web page on setting snaps: a hole is pierced for a post, none for prongs.
func TestPublishedHolesByKind(t *testing.T) {
	for use, hole := range map[string]bool{"ring-spring-15": true, "prong-snap-16": false, "tack-17mm-nail-8": false} {
		k := planned(t, garmentOf("use = \"waxed-duck\"", "use = \""+use+"\"\nover = [\"shell\", \"shell\"]")).Closures[0]
		if (k.Hardware.Punch > 0) != hole {
			t.Errorf("%s: punch %s", use, k.Hardware.Punch)
		}
	}
}

// Knitwear designer's page: a snap's centre lies one diameter from the edge,
// as in the example of 18 mm; the professionals' standards, p. 24, ask 9 + 6.35.
func TestPublishedSnapEdges(t *testing.T) {
	snap := "fastener = \"snap\"\nover = [\"shell\", \"shell\"]\nedge = \"%s\"\n[closure.notion]\ndiameter = \"18 mm\"\nattach = \"sewn\""
	for edge, want := range map[string][]string{"18 mm": {}, "15.35 mm": {}, "8 mm": {"conflict"}} {
		if diff := cmp.Diff(want, reports(t, "edge-near", garmentOf("use = \"melton\"", fmt.Sprintf(snap, edge)))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", edge, diff)
		}
	}
}

// stormCoat is a coat with a zip and, where flap is set, a flap over it.
func stormCoat(run, flap string) string {
	text := "garment = \"Storm coat (invented)\"\nunits = \"in\"\n[cloth.hide]\nuse = \"leather-firm\"\n[[closure]]\nname = \"zip\"\nwhere = \"front\"\nfastener = \"zip\"\nover = [\"hide\"]\n[closure.notion]\nnumber = 7\nchain = \"7.5 mm\"\ntape = \"15 mm\"\nopening = \"separating\"\n"
	if flap != "" {
		text += "[closure.flap]\nwidth = \"" + flap + "\"\n"
	}
	return text + "[closure.run]\nlength = \"26 in\"\n" + run
}

func TestPublishedZipPlaces(t *testing.T) {
	tight := plan.ZipStitch / 1000
	// US Army TM 10-8400-203-23, p. 79: stitching at least 1/4 in from the
	// inner edge of the chain, so that far from the middle of a 7.5 mm chain
	// and half of it more.
	p := planned(t, stormCoat("", ""))
	stitched := false
	for _, l := range p.Closures[0].Pieces[0][0].Lines {
		stitched = stitched || l.Kind == plan.StitchLine && (-l.From.Out-mms(3.75)-inch(.25)).Abs() < tight
	}
	if !stitched {
		t.Error("no row of stitches 1/4 in from the chain")
	}
	// A costume maker's page, 2015: top of the chain about 1/2 in below the
	// neck edge. Another: about 1/4 in at a collar edge; a textbook, as quoted:
	// 0.7 cm.
	near(t, "top of the chain", p.Closures[0].Zip.Sizes[0].Top, inch(.5), 0)
	for first, want := range map[string]int{"first = \"1/2 in\"\n": 0, "first = \"1/4 in\"\n": 0, "first = \"7 mm\"\n": 0, "first = \"1/8 in\"\n": 1} {
		if got := reports(t, "zip-top", stormCoat(first, "")); len(got) != want {
			t.Errorf("%s: %v", first, got)
		}
	}
	// Police directive for a leather jacket: storm flap 2 1/2 in from the
	// zip's tape to its outer edge; its zip is a no. 7.
	for _, rule := range []string{"zip-fly", "zip-use"} {
		if got := reports(t, rule, stormCoat("", "3 1/8 in")); len(got) != 0 {
			t.Errorf("%s: %v", rule, got)
		}
	}
	// Threads, 2008, on leather: about 8 stitches an inch, clips, and no
	// second row over the first; leather keeps every hole.
	text := strings.Replace(stormCoat("", ""), "[closure.run]", "[closure.stand]\nseam = \"3/4 in\"\n[closure.run]", 1)
	p = planned(t, text)
	if !slices.ContainsFunc(p.Findings, func(f Finding) bool {
		return f.Rule == "zip-tape" && strings.Contains(f.Message(), "about 8 stitches an inch")
	}) {
		t.Error("nothing says how leather is stitched")
	}
}
