package work

import (
	"strings"
	"testing"

	"placketeer/rules/plan"
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
	after(t, waxed, "stitched, then set", "the edge of the collar tab and stitch it 3 mm", "Set the snap cap of the collar tab")
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
	for under, atOnce := range map[string]bool{"-10": true, "-8.4125": true, "-8.41": false, "10": false, "40": true, "-40": false} {
		done := list(written(t, strings.Replace(checked, "%", under, 1)))
		told(t, done, "cut both fronts at once", atOnce)
		told(t, done, "Cut the fronts one at a time", !atOnce)
	}
	half := strings.NewReplacer("over = 10", "over = 25", "%", "25").Replace(checked)
	told(t, list(written(t, half)), "cut both fronts at once", true)
}

// Two closures of one opening have one front edge: it is counted once, and its
// hem is that of the fronts. A sewn snap that is sewn on before the facing is
// put on has its ball half on the facing (geometry: the facing comes to lie
// over the inside of the front).
func TestOneEdgeOfTwoClosures(t *testing.T) {
	duffel := `garment = "Hard duffel (invented)"
units = "mm"
hem_at = "thigh"
[cloth.shell]
use = "melton"
thickness = "2.4 mm"
[interfacing.canvas]
use = "silesia"
[[closure]]
name = "toggles"
where = "front"
opening = "front"
use = "toggle-horn-60"
cord = 5
inset = 75
over = ["shell", "canvas", "shell"]
[closure.stand]
construction = "faced"
finished = 40
facing = 115
[closure.run]
length = 820
count = 4
hem = 50
[[closure]]
name = "snaps"
where = "front"
opening = "front"
behind = "toggles"
use = "sewn-snap-21"
over = ["shell", "canvas", "shell"]
[closure.stand]
construction = "faced"
finished = 40
facing = 115
[closure.run]
length = 820
count = 5
hem = 50
`
	done := list(written(t, duffel))
	if n := strings.Count(done, "Count the layers"); n != 1 {
		t.Errorf("the edge is counted %d times in\n%s", n, done)
	}
	told(t, done, "ball half of each goes on the facing of the upper side, before it is put on", true)
}

// The buttons of a double-breasted front that do not button lie on the cloth:
// a shank is the room for the layers that come between (USDA, Rocke: as long as
// the buttonhole side is thick), and there are none.
func TestButtonsForShowHaveNoShank(t *testing.T) {
	double := of4("lap = \"double\"" + horn + "[closure.stand]\nconstruction = \"faced\"\nfinished = \"4 1/4 in\"\nfacing = \"4 1/4 in\"\n[closure.rows]\ndistance = \"3 in\"\nworking = 2")
	told(t, list(written(t, double)), "those that fasten on a thread shank of", true)
	told(t, list(written(t, double)), "those for show lie flat on the cloth, without a shank", true)
	told(t, list(written(t, of4(horn+"[closure.stand]\nconstruction = \"faced\"\nfacing = \"3 in\""))), "for show", false)
}

// A separate band of a cuff is cut as that of a front is: twice its finished
// width, two seams and the turn of the fold: 6 in, and less than 1/8 in (geometry).
func TestBandOfACuffIsCut(t *testing.T) {
	cuff := strings.NewReplacer(`name = "front"`, `name = "cuff"`, `where = "front"`, "where = \"cuff\"\npieces = 2", "length = 24", "length = 3", "count = 4", "count = 1").
		Replace(of4(horn + "[closure.stand]\nconstruction = \"band\"\nband = \"2 1/2 in\"\nseam = \"1/2 in\""))
	p := written(t, cuff)
	told(t, list(p), "Cut the bands of the cuff 6 1/8 in", true)
	var found bool
	for _, c := range Cuts(p, []int{0}) {
		found = found || c.What == "bands" && c.For == "cuff" && c.Pieces == 2
	}
	if !found {
		t.Error("the bands of the cuff are not among what is cut")
	}
}

// What is sewn shut at its ends has no hem turned up: that is of the fronts.
func TestFlapHasNoHem(t *testing.T) {
	p := written(t, strings.NewReplacer("%", "melton", "count = 5", "count = 5\nhem = 40").Replace(flapped))
	for _, pc := range p.PiecesOf(0, 0) {
		for i := range pc.Areas {
			if pc.Side == plan.Flap && pc.Areas[i].Kind == plan.TurnUpArea {
				t.Errorf("a hem is turned up on %s", pc.Piece)
			}
		}
	}
}

// What is taken off a cord is what it has.
func TestWhatIsTakenOffACord(t *testing.T) {
	for ends, off := range map[string]string{"knot": "take the knots off its ends", "toggle": "take the toggles off its ends", "lock": "take the lock off its ends"} {
		p := written(t, "garment = \"Hard anorak (invented)\"\nunits = \"mm\"\nmarket = \"eu\"\nwearer = \"child\"\nage = 4\n[cloth.shell]\nuse = \"poplin\"\n[[closure]]\nname = \"front\"\nuse = \"polyester-24\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = 400\ncount = 4\n[[cord]]\nname = \"hem\"\nuse = \"cord-3mm\"\nat = \"hem\"\nfree_end = 90\nends = \""+ends+"\"\n")
		told(t, list(p), off, true)
		told(t, list(p), "knots and toggles off", false)
	}
}

// A hole for show is sewn by the same machine, in the same length as the real
// ones: planned 31 mm (22.9 + 4.5, and 3.2 for bulk) with 3.2 mm of bars, the
// machine's longest is 30 mm, so both end 1 mm sooner: 29.5 − 1 mm.
func TestHoleForShowAsTheMachineSewsIt(t *testing.T) {
	text := strings.NewReplacer("40 mm", "30 mm", `units = "in"`, `units = "mm"`, "length = 24", "length = 720", "count = 4", "first = 100\nlast = 260\ncount = 4").
		Replace(of4("lap = \"double\"\nhole = \"machine\"\ndirection = \"across\"\n[closure.notion]\ndiameter = \"36L\"\nthickness = \"4.5 mm\"\nholes = 4\n[closure.stand]\nconstruction = \"faced\"\nfinished = 105\nfacing = 112\n[closure.rows]\ndistance = 85\nworking = 3\nshow_holes = true"))
	told(t, list(written(t, text)), "to 29.5 mm (1 3/16 in) inside it, 28.5 mm", true)
}

// The hole that the table and the checklist name is in the working too: that it is
// listed with, 3.6 mm, for want of a rule for leather.
func TestHoleInLeatherIsInTheWorking(t *testing.T) {
	p := written(t, strings.Replace(tabbed, "%", "leather-garment", 1))
	told(t, list(p), "holes punched 3.6 mm", true)
	var all []string
	for _, s := range Working(p, 0) {
		all = append(all, s.Says)
	}
	told(t, strings.Join(all, "\n"), "hole in leather: there is no published rule; it is listed with 3.6 mm", true)
}

const twofold = `garment = "Hard duffel (invented)"
units = "mm"
[cloth.shell]
use = "melton"
[interfacing.canvas]
use = "hair-canvas"
width = 900
[interfacing.stay]
use = "silesia"
width = 900
[[closure]]
name = "toggles"
opening = "front"
use = "toggle-horn-60"
inset = 75
over = ["shell", "canvas", "shell"]
under = ["shell", "canvas", "shell"]
[closure.stand]
construction = "faced"
finished = 40
strip = 145
[closure.run]
length = 800
first = 100
last = 300
count = 4
[[closure]]
name = "snaps"
opening = "front"
behind = "toggles"
use = "sewn-snap-21"
over = ["shell", "canvas", "shell"]
under = ["shell", "canvas", "shell"]
[closure.stand]
construction = "faced"
finished = 40
strip = 65
[closure.run]
length = 800
first = 50
last = 250
count = 5
`

// Layers that have an interfacing once have it once: of two closures of one edge
// the wider strip, 145 mm from the edge, carries what the narrower, 65 mm from
// the same edge, would; it alone is cut, bought and laid (geometry: 40 to −25 lies
// within 40 to −105). Strips of two interfacings, and one that the other does not
// cover, are both cut.
func TestAStripCarriesAnother(t *testing.T) {
	p := written(t, twofold)
	done := list(p)
	told(t, done, "Cut 2 strips of the canvas interfacing for the toggles, 145 mm", true)
	told(t, done, "It carries the snaps too.", true)
	told(t, done, "interfacing for the snaps", false)
	told(t, done, "Baste the canvas interfacing to both fronts, 145 mm", true)
	told(t, done, "canvas interfacing to both fronts, 65 mm", false)
	for i, want := range []int{2, 0} { // on either front
		if got := p.StripPieces(i, 0, 0); got.N != want {
			t.Errorf("%s: %d strips are cut, want %d", p.Garment.Closures[i].Name, got.N, want)
		}
	}
	areas := 0
	for _, pc := range p.PiecesOf(0, 0) {
		for _, a := range pc.Areas {
			if a.Kind == plan.InterfacingArea {
				areas++
			}
		}
	}
	if areas != 2 {
		t.Errorf("%d strips are laid on the two fronts", areas)
	}
	for what, text := range map[string]string{
		"another interfacing":     strings.Replace(twofold, "behind = \"toggles\"\nuse = \"sewn-snap-21\"\nover = [\"shell\", \"canvas\", \"shell\"]\nunder = [\"shell\", \"canvas\", \"shell\"]", "behind = \"toggles\"\nuse = \"sewn-snap-21\"\nover = [\"shell\", \"stay\", \"shell\"]\nunder = [\"shell\", \"stay\", \"shell\"]", 1),
		"one that is not covered": strings.Replace(twofold, "strip = 65", "strip = 150", 1),
	} {
		p := written(t, text)
		for i := range p.Closures {
			n, want := p.StripPieces(i, 0, 0).N, 2
			if strings.HasPrefix(what, "one") && i == 0 {
				want = 0 // 40 to −105 lies within 40 to −110
			}
			if n != want {
				t.Errorf("%s: %d strips for the %s, want %d", what, n, p.Garment.Closures[i].Name, want)
			}
		}
	}
}
