package work

import (
	"slices"
	"strings"
	"testing"

	"placketeer/rules/plan"
)

const frogged = `garment = "Frogged cape (invented)"
units   = "mm"
[cloth.shell]
use       = "boiled-wool"
thickness = "2 mm"
[thread.seam]
use = "polyester-tex-40"
[[closure]]
name   = "front"
use    = "frog-small"
lap    = "edge"
over   = ["shell", "shell"]
thread = "seam"
[closure.stand]
construction = "faced"
[closure.run]
length = 700
count  = 3
`

// The cords of frogs lie on top: they are sewn on by hand when the facing is
// on (from memory), and a frog is sold with its loop (common practice, no
// source).
func TestFrogsGoOnTheFinishedFront(t *testing.T) {
	p, says := order(t, frogged)
	loops, facing := strings.Index(says, "Mark the loops"), strings.Index(says, "Put the facings")
	if facing < 0 || loops < facing {
		t.Errorf("the loops are not sewn on after the facing:\n%s", says)
	}
	if strings.Contains(says, "into the edge") || !strings.Contains(says, "on top of the finished front") {
		t.Errorf("frogs are sewn into the edge:\n%s", says)
	}
	if p.Goods().Find(p.Closures[0].LoopCordID()) != nil || strings.Contains(says, "Cut the loops") {
		t.Errorf("cord is bought for loops that come with their frogs:\n%s", says)
	}
	p, says = order(t, strings.Replace(frogged, "lap ", "cord = 3\nlap ", 1))
	if p.Goods().Find(p.Closures[0].LoopCordID()) == nil || !strings.Contains(says, "Cut the loops") {
		t.Errorf("no cord is bought for frogs of one's own:\n%s", says)
	}
}

const across = `garment = "Work jacket (invented)"
units   = "in"
[cloth.shell]
use       = "denim"
thickness = "0.85 mm"
[[closure]]
name      = "flap"
where     = "flap"
use       = "tack-17mm-nail-8"
direction = "along"
over      = ["shell", "shell"]
pieces    = 2
[closure.stand]
construction = "faced"
finished     = "5/8 in"
[closure.run]
length = 5
first  = "2 1/2 in"
count  = 1
[[closure]]
name = "front"
use  = "tack-17mm-nail-8"
direction = "across"
over = ["shell", "shell"]
[closure.stand]
construction = "band"
band         = "1 1/2 in"
[closure.run]
length = 21
count  = 6
`

// The lower edge of a pocket's flap lies across: it has no top.
func TestFlapHasNoTop(t *testing.T) {
	p, says := order(t, across)
	for _, no := range []string{"the top of the flap", "above the mark", "below the upper end"} {
		if strings.Contains(says, no) {
			t.Errorf("%q is said of a flap:\n%s", no, says)
		}
	}
	if !strings.Contains(says, "from the front end of the flap at 2 1/2 in") {
		t.Errorf("not told from its front end:\n%s", says)
	}
	// One band to each front.
	cuts := Cuts(p, []int{0})
	if i := slices.IndexFunc(cuts, func(c Cut) bool { return c.What == "bands" }); i < 0 || cuts[i].Pieces != 2 {
		t.Errorf("bands: %+v", cuts)
	}
}

const flyTwice = `garment = "Fly-front gilet (invented)"
units   = "in"
[cloth.shell]
use       = "cotton-drill"
thickness = "0.6 mm"
[interfacing.front]
use       = "woven-fusible-medium"
thickness = "0.4 mm"
[interfacing.stay]
use       = "silesia"
thickness = "0.35 mm"
[[closure]]
name      = "front"
use       = "corozo-30"
direction = "along"
over      = ["shell", "front", "stay", "shell"]
under     = ["shell", "front", "shell"]
[closure.stand]
construction = "fly"
finished     = "1 3/8 in"
strips       = [ { name = "stay", width = "2 in" } ]
[closure.run]
length = 24
count  = 6
`

// Geometry: the fly lies 1/8 in behind an edge 1 3/8 in out, and a strip of
// 2 in about the centre line reaches 1 in inside it: 1 1/4 + 1 in.
func TestFlyHoldsEveryInterfacing(t *testing.T) {
	p, _ := order(t, flyTwice)
	o := openingOf(p, 0)
	o.sizes = []int{0}
	if w := o.flyWide(); w < plan.FlyShort*18 {
		t.Errorf("a fly of %v, and the stay needs 2 1/4 in", w)
	}
}
