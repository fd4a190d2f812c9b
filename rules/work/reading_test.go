package work

import (
	"strings"
	"testing"
)

// What was found by reading every list of the demos at the table, garment in
// hand. The words are common practice, no source; what figures must agree with
// stands beside them.
func TestListsReadAtTheTable(t *testing.T) {
	for _, c := range []struct {
		name        string
		want, never []string
	}{
		// Cut with its seams: 51 mm and 15 mm on either side (arithmetic); made
		// before its holes are; one name for it.
		{"berth-coat-ready", []string{"each 81 mm (3 3/16 in) wide and as long as the run, for 51 mm (2 in) finished with seams of 15 mm (9/16 in)", "Make the fly: its layers right sides together, a seam of 15 mm", "stitch it 6.4 mm (1/4 in) from the front edge", "Tex 40, twice over, and push"}, []string{"its facing 6.4"}},
		// The column and the centre line are told apart.
		{"bridge-coat-ready", []string{"to 4 1/4 in (108 mm) inside it, past the inner column"}, []string{"to past the inner column"}},
		// Nothing is marked through a snap that is set; what begins at the edge is
		// in no seam; a small piece's places are told from its edge.
		{"canvas-jacket", []string{"mark from the snap caps on the cloth beneath the flap the snap studs", "Do it before anything is set: no basting", "5/8 in (16 mm) from its finished edge"}, []string{"through it on"}},
		{"squall-jacket-ready", []string{"mark from the snap caps on the right front the snap studs", "and catch it in the seams"}, []string{"through it on"}},
		// A bound hole is made before the facing is on.
		{"watch-coat", []string{"Cut and work the holes of the front by hand (6)"}, []string{"bound ones (6)"}},
		// The gimp that is bought is what the holes are sewn over; the fronts have
		// the names that they have elsewhere; one button is one.
		{"pilot-coat-ready", []string{"Sew them over the gimp.", "Tex 60, over the gimp, and push", "Lay the right front, which lies over, on plaid", "Mark the button for show of the front, the outer column"}, []string{"over a cord", "the upper front", "the under front"}},
		// What the rule asks is told once, what to change by the task.
		{"slipway-gilet", []string{"16 CFR 1120 (ASTM F1816-97) allows free ends at most 3 in (76 mm) outside the channel, asks for no knots or toggles on free ends and asks for a cord of one piece stitched down midway. [law]"}, []string{"The hem cord: "}},
		{"rigger-vest-ready", nil, []string{"Say how with"}},
	} {
		wanted(t, strings.Join(demoList(t, "garments", c.name), "\n"), c.want, c.never)
	}
	// The first snaps that are set are the first to be felt.
	l := demoList(t, "garments", "slipway-gilet")
	if set, join := at(l, "Feel both sides of every snap"), at(l, "Only now join the pocket"); set < 0 || set > join {
		t.Errorf("felt at task %d, the pocket is joined at %d", set, join)
	}
}

// An eye is round where edges meet, and stands out there. On a double-breasted
// front it lies flat on what laps under, however near the edge its hook is:
// common practice, no source.
func TestEyesOfADoubleBreastedFrontAreStraight(t *testing.T) {
	const front = `garment = "x (invented)"
units = "mm"
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
fastener = "hook"
over = ["shell", "shell"]
lap = "double"
[closure.notion]
length = "8 mm"
width = "4 mm"
kind = "hook-and-eye"
[closure.stand]
construction = "folded"
extension = "57.1 mm"
[closure.rows]
top = "74.9 mm"
bottom = "45.7 mm"
working = 2
[closure.run]
length = "333.5 mm"
count = 4
`
	l := list(written(t, front))
	told(t, l, "sew straight eyes there (2)", true)
	told(t, l, "round eye", false)
	told(t, l, "beyond its edge: sew", false)
}
