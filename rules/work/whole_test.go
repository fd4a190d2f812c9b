package work

import (
	"strings"
	"testing"
)

const tabbed = `garment = "Hard parka (invented)"
units = "mm"
[cloth.shell]
use = "%"
[interfacing.stay]
use = "silesia"
[thread.seam]
use = "polyester-tex-60"
[[closure]]
name = "collar tab"
where = "tab"
use = "ring-spring-15"
over = ["shell", "stay", "shell"]
thread = "seam"
[closure.stand]
construction = "faced"
finished = 20
[closure.run]
length = 50
count = 1
`

// A fold that does not stay pressed is stitched on a small piece as on a front:
// before its fastener is set, and before it is joined (rule fold-hold; order of
// the work). The thread for it is bought.
func TestEdgeOfASmallPieceIsStitched(t *testing.T) {
	waxed := strings.Replace(tabbed, "%", "waxed-duck", 1)
	after(t, waxed, "stitched, then set", "the edge of the collar tab and stitch it 3 mm", "Set the snap caps of the collar tab")
	after(t, waxed, "stitched, then joined", "the edge of the collar tab and stitch it 3 mm", "Only now join the collar tab")
	told(t, list(written(t, waxed)), "Thread for edges", true)
	asked := strings.NewReplacer("%", "melton", "finished = 20", "finished = 20\ntopstitch = 5").Replace(tabbed)
	after(t, asked, "top-stitched as the file asks", "the edge of the collar tab and top-stitch it 5 mm", "Only now join the collar tab")
	told(t, list(written(t, strings.Replace(tabbed, "%", "melton", 1))), "stitch it", false)
}

const checked = `garment = "Hard reefer (invented)"
units = "mm"
[cloth.shell]
use = "coating-check"
repeat = { along = 60, across = 50, even = true }
[[closure]]
name = "front"
use = "horn-36"
over = ["shell", "shell"]
[closure.run]
length = 700
count = 4
[closure.check]
cloth = "shell"
over = 10
under = %
cut = "mirror"
`

// Geometry: cloth folded face to face lays what is 10 mm left of the line on
// one front as far to the right on the other; fronts with a stripe on the same
// side are cut one at a time, unless it is the line itself or half a repeat.
func TestFrontsCutAtOnceAreMirrored(t *testing.T) {
	for under, atOnce := range map[string]bool{"-10": true, "10": false, "40": true, "-40": false} {
		done := list(written(t, strings.Replace(checked, "%", under, 1)))
		told(t, done, "cut both fronts at once", atOnce)
		told(t, done, "Cut the fronts one at a time", !atOnce)
	}
	half := strings.NewReplacer("over = 10", "over = 25", "%", "25").Replace(checked)
	told(t, list(written(t, half)), "cut both fronts at once", true)
}
