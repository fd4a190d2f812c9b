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
