package work

import (
	"slices"
	"strings"
	"testing"
)

// A small piece of two layers is made of them before it is stitched, set or
// joined: common practice, no source.
func TestSmallPiecesAreJoinedOfTheirLayers(t *testing.T) {
	for _, c := range []struct{ folder, name, join, then string }{
		{"garments", "watch-coat", "Join the layers of the flap,", "Mark the holes of the flap"},
		{"garments", "watch-coat", "Join the layers of the cuff-tab,", "Count the layers at the end of the tab"},
		{"garments", "canvas-jacket", "Join the layers of the cuff,", "Mark the snap caps of the cuff"},
		{"garments", "slipway-gilet", "Join the layers of the pocket, right sides together, at its mouth", "Count the layers: the mouth of the pocket"},
		{"worked", "leather-jacket", "Join the layers of the cuff,", "the edge of the cuff and stitch it"},
		{"worked", "raincoat", "Join the layers of the flap,", "the edge of the flap and stitch it"},
		{"worked", "cape", "Join the layers of the collar,", "Count the layers: the edge of the collar"},
		{"plan", "test-coat", "Join the layers of the cuff,", "Count the layers: the edge of the cuff"},
	} {
		l := demoList(t, c.folder, c.name)
		if join, then := at(l, c.join), at(l, c.then); join < 0 || then < join {
			t.Errorf("%s: %s at %d, %s at %d", c.name, c.join, join, c.then, then)
		}
		if n := strings.Count(strings.Join(l, "\n"), c.join); n != 1 {
			t.Errorf("%s: %s %d times", c.name, c.join, n)
		}
	}
	// Bound holes are made in the upper layer alone; what is put on behind them
	// is told there.
	bound := demoList(t, "garments", "watch-coat-ready", "closure.flap.hole=bound")
	if slices.ContainsFunc(bound, func(s string) bool { return strings.HasPrefix(s, "Join the layers of the flap") }) || at(bound, "Now put the facing or the under layer of the flap on") < 0 {
		t.Error(bound)
	}
	// One layer is joined to nothing.
	if l := demoList(t, "garments", "canvas-jacket-ready", `closure.cuff.over=["shell", "canvas"]`); at(l, "Join the layers of the cuff") != -1 {
		t.Error(l)
	}
}

// What is said of irons, zips and shrinking is said where it is done, and once.
func TestCautionsWhereTheyMatter(t *testing.T) {
	const burns = "Irons burn"
	for name, want := range map[string]string{"raincoat": "try iron-on tape", "leather-jacket": "If shell must be pressed", "melton-coat": "Press a scrap of shell"} {
		l := demoList(t, "worked", name)
		if n := strings.Count(strings.Join(l, "\n"), burns); n != 1 || at(l, burns) != at(l, want) {
			t.Errorf("%s: %d times, first at %d, %s at %d", name, n, at(l, burns), want, at(l, want))
		}
	}
	zip := strings.Join(demoList(t, "pieces", "toggle-zip"), "\n")
	wanted(t, zip, []string{"at least.\nNo lengths are listed: ask what it is sold in, and shorten a longer one at the top."}, []string{"The opening takes a zip"})
	// A zip that the file gives is shortened once, where it is sewn in: 650 mm
	// for 600 less 13 mm.
	given := strings.Join(demoList(t, "pieces", "zip-flap", "closure.zip.zip_length=650 mm"), "\n")
	wanted(t, given, []string{"Shorten the zip of the front, by 63 mm (2 1/2 in), at the top only"}, []string{"is longer than its opening", "No lengths are listed"})
	// Half the stitched hole and a margin to either side: cut no shorter than
	// the sum in the working, in either unit.
	wanted(t, strings.Join(demoList(t, "garments", "watch-coat"), "\n"), []string{"Cut 4 patches of the weft interfacing for the flap, 2 3/8 in (60.5 mm) wide and 1 3/4 in (44.5 mm) long"}, nil)
}

// Leather for the patches over the ends of cords is bought: a loop and a toggle
// four times, 1 3/4 in by 3 in each.
func TestLeatherForPatchesIsBought(t *testing.T) {
	l := demoList(t, "garments", "duffel-coat-ready")
	buy, cut := at(l, "Buy leather or firm cloth for 8 patches over the ends of cords, 1 3/4 in (44.5 mm) × 3 in (76 mm) each."), at(l, "Cut the patches for the ends of the cords")
	if buy < 0 || cut < buy {
		t.Errorf("bought at %d, cut at %d", buy, cut)
	}
}
