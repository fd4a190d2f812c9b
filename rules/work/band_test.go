package work

import (
	"strings"
	"testing"

	"placketeer/rules/plan"
)

const banded = `garment = "Slip jacket (invented)"
units = "in"
hem_at = "waist"
[cloth.shell]
use = "denim"
[interfacing.band]
use = "woven-fusible-medium"
[[closure]]
name = "front"
where = "front"
use = "tack-17mm-nail-9"
hole = "keyhole"
direction = "across"
over = ["shell", "band", "shell"]
under = ["shell", "band", "shell"]
[closure.stand]
construction = "band"
band = "1 1/2 in"
topstitch = "1/4 in"
seam = "1/2 in"
[closure.run]
length = 22
count = 6
`

// told says that a text stands in the checklist, or that it does not.
func told(t *testing.T, list, has string, is bool) {
	t.Helper()
	if strings.Contains(strings.Join(strings.Fields(list), " "), has) != is {
		t.Errorf("%q: %v is wanted in\n%s", has, is, list)
	}
}

// Geometry: half of a band of 1 1/2 in lies inside the centre line, its seam at
// 3/4 in; a front sewn to it with 1/2 in is cut 1/4 in inside the line. What
// lies on the band does not cross that seam.
func TestSeparateBand(t *testing.T) {
	p := written(t, banded)
	done := list(p)
	told(t, done, "Cut both fronts with the cut edge 1/4 in (6.4 mm) inside the centre line: a seam of 1/2 in (12.5 mm) for the band, sewn on 3/4 in (19 mm) inside it", true)
	told(t, done, "beyond the centre line: a seam", false)
	told(t, done, "Fuse the band interfacing to both fronts' bands, 1 1/2 in (38 mm) wide, with its middle under the holes and the tack buttons: from the fold, 3/4 in (19 mm) beyond the centre line, to the seam of the band, 3/4 in (19 mm) inside it", true)
	told(t, done, "interfacing for the front, 1 1/2 in (38 mm) wide", true)
	for _, pc := range p.PiecesOf(0, 0) {
		for _, a := range pc.Areas {
			if a.Kind == plan.InterfacingArea && a.OutFrom < pc.Finished-p.Closures[0].Stand.Band {
				t.Errorf("%s: the interfacing reaches %s past the seam of the band", pc.Piece, pc.Finished-p.Closures[0].Stand.Band-a.OutFrom)
			}
		}
	}
}

const fly = `garment = "Slip raincoat (invented)"
units = "mm"
hem_at = "knee"
[cloth.shell]
use = "coated-cotton"
[interfacing.fly]
use = "nonwoven-sewn-light"
[[closure]]
name = "front"
use = "polyester-30"
hole = "machine"
direction = "across"
over = ["shell", "fly", "shell"]
under = ["shell", "fly", "shell"]
[closure.stand]
construction = "fly"
facing = 80
topstitch = "50 mm"
%
[closure.run]
length = 900
count = 6
`

// Geometry: what is put into a fly is no wider than the fly, and begins at its
// edge, which lies 1/8 in inside the front edge.
func TestInterfacingOfAFly(t *testing.T) {
	p := written(t, strings.Replace(fly, "%", "", 1))
	told(t, list(p), "interfacing to the fly, 50 mm (2 in) wide, from the edge of the fly, 16 mm (5/8 in) beyond the centre line", true)
	told(t, list(p), "each 81 mm (3 3/16 in) wide, for 51 mm (2 in) finished with seams of 15 mm", true)
	over, under := p.PiecesOf(0, 0)[0], p.PiecesOf(0, 0)[1]
	if a := over.Areas[0]; a.OutTo != over.Finished-plan.FlyShort {
		t.Errorf("in the fly it begins %s beyond the centre line", a.OutTo)
	}
	if a := under.Areas[0]; a.OutTo != under.Finished {
		t.Errorf("on the under front it begins %s beyond the centre line", a.OutTo)
	}
	told(t, list(written(t, strings.Replace(fly, "%", "strip = 70", 1))), "each 100 mm (3 15/16 in) wide, for 70 mm (2 3/4 in) finished with seams of 15 mm", true)
}
