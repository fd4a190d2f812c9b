package work

import (
	"strings"
	"testing"

	"placketeer/catalog/measure"
)

// wanted says which of these an order of work has to say, and which never.
func wanted(t *testing.T, says string, want, never []string) {
	t.Helper()
	for _, s := range want {
		if !strings.Contains(says, s) {
			t.Errorf("%q is missing in\n%s", s, says)
		}
	}
	for _, s := range never {
		if strings.Contains(says, s) {
			t.Errorf("%q is said in\n%s", s, says)
		}
	}
}

const strap = `garment = "Slip bag (invented)"
units = "in"
[cloth.shell]
use = "duck-10"
thickness = "0.9 mm"
[[closure]]
name  = "strap"
where = "strap"
use   = "double-cap-9-8"
over  = ["shell", "shell"]
reinforced = true
[closure.stand]
construction = "faced"
finished = "3/4 in"
[closure.run]
length = "3 in"
count  = 2
`

// A rivet holds the layers together for good: it is set once, through all of
// them, when they lie in their place. Common practice, no source.
func TestRivetsHoldForGood(t *testing.T) {
	_, says := order(t, strap)
	wanted(t, says, []string{
		"Lay the strap in its place and mark the rivets through all the layers",
		"Set the rivets of the strap (2)",
		"Pull at every rivet of the strap",
	}, []string{"Fasten and open", "Only now join", "with the body alone", "mark from them"})
	if strings.Count(says, "Set the rivets") != 1 {
		t.Errorf("set more than once:\n%s", says)
	}
}

// An eyelet for a cord is set in the piece that carries the cord; where edges
// are laced, in both. Common practice, no source.
func TestEyeletsAreSetWhereTheCordRuns(t *testing.T) {
	hood := strings.NewReplacer("strap", "hood", "double-cap-9-8", "eyelet-5-5mm", "count  = 2", "count  = 1").Replace(strap)
	p, says := order(t, hood)
	wanted(t, says, []string{
		"Mark the eyelet of the hood",
		"Set the eyelet of the hood,",
		"and pull at every eyelet of the hood",
	}, []string{"Fasten and open", "mark from them", "what lies beneath", "rivet"})
	for _, pc := range p.Closures[0].Pieces[0] {
		if pc.Side.String() == "under" && len(pc.Parts) > 0 {
			t.Errorf("an eyelet in the %s piece", pc.Side)
		}
	}
	laced := strings.Replace(strings.Replace(hood, "where = \"hood\"", "where = \"front\"\nlap = \"edge\"", 1), "count  = 1", "count  = 3", 1)
	_, says = order(t, laced)
	wanted(t, says, []string{"mark from them", "lace"}, []string{"Fasten and open"})
}

const hide = `garment = "Slip jacket (invented)"
units = "mm"
hem_at = "waist"
[cloth.hide]
use = "leather-garment"
[[closure]]
name  = "front"
where = "front"
use   = "metal-7-separating"
over  = ["hide", "hide"]
[closure.stand]
construction = "faced"
seam   = 15
facing = 80
[closure.run]
length = 560
`

// Threads, 2008, on leather: small clips, no second row over the first; a
// canvas merchant's catalogue, 2023: seams rolled rather than ironed. So the
// zip is only held until the facing is on, and one row goes through all.
func TestOneRowHoldsZipAndFacingInLeather(t *testing.T) {
	_, says := order(t, hide)
	wanted(t, says, []string{
		"Hold the zip of the front with narrow tape or clips",
		"turn it and roll the edge flat, without an iron",
		"through front, tape and facing, in one row",
	}, []string{"turn and press", "Finish with the iron", "Press a scrap of hide if at all", "aste the zip", "before the facing covers it"})
	if a, b, c := strings.Index(says, "Hold the zip"), strings.Index(says, "Put the facings"), strings.Index(says, "in one row"); !(a < b && b < c) {
		t.Errorf("held at %d, faced at %d, stitched at %d:\n%s", a, b, c, says)
	}
	// Wool is pressed, and its zip basted and stitched before it is faced.
	_, says = order(t, strings.Replace(hide, "leather-garment", "gabardine", 1))
	wanted(t, says, []string{"Baste the zip", "turn and press", "before the facing covers it"}, []string{"in one row"})
}

// Nor is a flap sewn on over a row that is there already.
func TestOneRowHoldsZipAndFlap(t *testing.T) {
	_, says := order(t, strings.Replace(hide, "[closure.run]", "[closure.run]\nfirst = 15", 1)+`[[closure]]
name = "storm"
where = "front"
opening = "front"
use = "ring-spring-15"
over = ["hide", "hide"]
reinforced = true
[closure.flap]
width = 55
inset = 32
[closure.stand]
construction = "faced"
seam = 10
[closure.run]
length = 560
count = 4
`)
	wanted(t, says, []string{"sew zip and flap on in one row", "over the zip", "and sew both on in one row"}, []string{"on its stitching"})
}

// Where edges meet, neither side is the under one: geometry.
func TestEdgesThatMeetHaveNoUnderSide(t *testing.T) {
	_, says := order(t, `garment = "Slip coat (invented)"
units = "mm"
[cloth.shell]
use = "gabardine"
[[closure]]
name  = "collar"
where = "collar"
use   = "hook-eye-8-5mm"
lap   = "edge"
over  = ["shell", "shell"]
[closure.stand]
construction = "faced"
seam = 10
[closure.run]
length = 60
count  = 2
`)
	wanted(t, says, []string{"on the other side of the collar"}, []string{"under side"})
}

// A canvas merchant's catalogue, 2023: waxed canvas clipped, not pinned; so it
// is for the try-on too.
func TestNoPinsForTheTryOnInWax(t *testing.T) {
	_, says := order(t, `garment = "Slip coat (invented)"
units = "mm"
hem_at = "thigh"
[cloth.shell]
use = "waxed-duck"
[[closure]]
name = "front"
use = "ring-spring-15"
over = ["shell", "shell"]
reinforced = true
[closure.stand]
construction = "faced"
finished = 25
seam = 10
[closure.run]
length = 800
count = 6
`)
	wanted(t, says, []string{"Turn the hem up and clip it, clip the front shut"}, []string{"pin the", "Pin the"})
}

// Nothing is basted where a needle's holes stay: a sewing teacher's page on
// leather-like cloth, 2018.
func TestLipsAreNotBastedInLeather(t *testing.T) {
	const coat = `garment = "Slip coat (invented)"
units = "mm"
[cloth.hide]
use = "leather-garment"
[[closure]]
name = "front"
use = "horn-40"
hole = "bound"
over = ["hide", "hide"]
reinforced = true
[closure.stand]
construction = "faced"
finished = 30
seam = 10
facing = 90
[closure.run]
length = 700
count = 4
`
	_, says := order(t, coat)
	wanted(t, says, []string{"hold the lips together with tape until the facing is on"}, []string{"baste", "Baste"})
	_, says = order(t, strings.Replace(coat, "leather-garment", "gabardine", 1))
	wanted(t, says, []string{"baste the lips together"}, nil)
}

// ISO 3758: one dot is ironed without steam. So no pile of acrylic is steamed.
func TestNoSteamOnAcrylicPile(t *testing.T) {
	_, says := order(t, `garment = "Slip cape (invented)"
units = "mm"
[cloth.shell]
use = "fur-fabric"
[[closure]]
name = "neck"
use = "coat-hook-25"
over = ["shell", "shell"]
reinforced = true
[closure.run]
length = 900
count = 1
`)
	wanted(t, says, []string{"face down on a towel or on another piece of its own pile, with little weight, at 110 °C"}, []string{"with steam"})
}

// A rivet goes through both sides where the file gives both: arithmetic. Two
// layers of 0.9 mm on three, pressed to 0.85.
func TestRivetsGoThroughBothSides(t *testing.T) {
	one := func(text string) measure.Length {
		p, _ := order(t, text)
		h := &p.Closures[0].Hardware
		if h.Count != 1 {
			t.Fatalf("%d sides", h.Count)
		}
		return h.Sides[0].Pressed
	}
	both := strings.Replace(strap, "reinforced = true", "under = [\"shell\", \"shell\", \"shell\"]\nreinforced = true", 1)
	alike := strings.Replace(strap, "reinforced = true", "under = [\"shell\", \"shell\"]\nreinforced = true", 1)
	layer := one(strap) / 2
	if got := one(both); (got - 5*layer).Abs() > measure.Micrometre {
		t.Errorf("five layers are pressed to %s, one to %s", got, layer)
	}
	if got := one(alike); (got - 4*layer).Abs() > measure.Micrometre {
		t.Errorf("four layers are pressed to %s, one to %s", got, layer)
	}
	_, says := order(t, strings.Replace(both, "name  = \"strap\"", "name  = \"strap\"\npacking = \"0.1 mm\"", 1))
	wanted(t, says, []string{"make a test set in scrap first: 6 layers"}, nil)
}

// What fills the grip is bought, and laid in when each is set.
func TestPackingIsBoughtAndLaid(t *testing.T) {
	p := written(t, `garment = "Squall jacket (invented)"
units = "mm"
[cloth.shell]
use = "poplin"
thickness = 0.3
[[closure]]
name = "front"
use = "ring-spring-15"
packing = 0.6
over = ["shell", "shell"]
[closure.run]
length = 400
count = 4
`)
	found := map[string]int{}
	for _, task := range Order(p, "") {
		if strings.Contains(task.Do, "0.6 mm (0.024 in) of washers") {
			found[task.Stage]++
		}
	}
	if len(found) == 0 || !strings.Contains(said(p, StageBuy), "to pack each by 0.6 mm (0.024 in)") {
		t.Errorf("packing is told at %v", found)
	}
}
