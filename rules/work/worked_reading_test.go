package work

import (
	"os"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/rules"
)

// wholeList is the checklist of a garment of testdata/worked, with changes: pairs
// of what stands there and what is to stand there.
func wholeList(t *testing.T, name string, change ...string) string {
	t.Helper()
	text, err := os.ReadFile("../../testdata/worked/" + name + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	return list(written(t, strings.NewReplacer(change...).Replace(string(text))))
}

// What a garment has one of is told as one.
func TestOneIsToldAsOne(t *testing.T) {
	cape := wholeList(t, "cape")
	for _, has := range []string{
		"Mark the hook of the collar from the top of the collar at 25 mm, from 3.2 mm",
		"mark where its bend reaches", "sew a round eye there,", "level with the hook,",
		"mark the button through the hole on", "the outer end of it;", "cut for it,",
		"to either side of the mark,", "Behind the bound hole slash the facing",
		"Fasten and open the hook of the collar and the button of the neck,",
	} {
		told(t, cape, has, true)
	}
	gilet := wholeList(t, "zip-gilet")
	told(t, gilet, "Set the snap cap of the pocket; check it: seated and tight.", true)
	told(t, gilet, "Fasten and open the snap of the pocket, with one hand, and pull at it.", true)
}

// The front of a separate band ends inside the centre line where the seam is
// narrower than half the band: what cannot be snipped there is snipped on the
// band. Geometry: a seam of 5/8 in and half a band of 1 1/2 in make 1 3/8 in.
func TestSnippedWhereItIs(t *testing.T) {
	shirt := wholeList(t, "shirt-placket")
	told(t, shirt, "Snip the centre line of each top and bottom, 1 3/8 in (35 mm) from the edge that is sewn on.", true)
	told(t, shirt, "Snip the centre line top and bottom", false)
	wide := wholeList(t, "shirt-placket", `seam         = "5/8 in"`, `seam         = "7/8 in"`)
	told(t, wide, "Snip the centre line top and bottom", true)
	told(t, wide, "Snip the centre line of each", false)
}

// A fly is cut with its seams, as all else is. Arithmetic: 2 1/8 in and twice
// 5/8 in make 3 3/8 in.
func TestFlyIsCutWithItsSeams(t *testing.T) {
	told(t, wholeList(t, "raincoat"), "Cut the fly of two layers, each 3 3/8 in (85.5 mm) wide and as long as the run, for 2 1/8 in (54 mm) finished with seams of 5/8 in", true)
}

// A strip for each bound hole and one for its sample; half of each is a lip
// (state extension, Tailoring series, Making bound buttonholes).
func TestLipsAreCounted(t *testing.T) {
	text, err := os.ReadFile("../../testdata/worked/boiled-wool-jacket.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range Cuts(written(t, string(text)), []int{0}) {
		if strings.Contains(c.What, "lips") {
			if c.Pieces != 6 {
				t.Errorf("%d strips for the lips of 5 holes and a sample", c.Pieces)
			}
			return
		}
	}
	t.Error("no strips for the lips")
}

// A piece is called after what it is, whatever its closure is called.
func TestPieceIsCalledWhatItIs(t *testing.T) {
	hood := wholeList(t, "cape", `name     = "collar"`, `name     = "throat"`, `where    = "collar"`, `where    = "hood"`)
	for _, has := range []string{"the hook of the throat from the top of the hood", "Close the hood edge to edge", "on the other side of the hood"} {
		told(t, hood, has, true)
	}
	chest := wholeList(t, "zip-gilet", `name       = "pocket"`, `name       = "chest"`)
	told(t, chest, "Only now join the chest pocket to the body", true)
	told(t, chest, "on the cloth beneath the chest pocket", true)
	told(t, wholeList(t, "leather-jacket"), "Only now join the cuff to the sleeve (2 pieces).", true)
}

// What the file faces is cut and put on, on a hood as on a front: 60 mm inside and
// a seam of 10 (arithmetic). Of a pocket, the facing is its lining.
func TestFacingOfAHoodIsCutAndPutOn(t *testing.T) {
	change := []string{`where    = "collar"`, `where    = "hood"`, "[closure.notion]               # measured: covered", "[closure.stand]\nconstruction = \"faced\"\nseam = 10\nfacing = 60\n[closure.notion] # measured: covered"}
	hood := wholeList(t, "cape", change...)
	told(t, hood, "Cut the facings of both sides of the hood 70 mm (2 3/4 in) wide, to reach 60 mm (2 3/8 in) inside the line where the edges meet.", true)
	told(t, hood, "Put the facings of the collar on: face to face along the edge, the seam 10 mm", true)
	text, err := os.ReadFile("../../testdata/worked/cape.toml")
	if err != nil {
		t.Fatal(err)
	}
	cuts := Cuts(written(t, strings.NewReplacer(change...).Replace(string(text))), []int{0})
	for _, c := range cuts {
		if c.What == "both sides of the hood, facing" && c.Pieces == 2 && c.Wide == 70*measure.Millimetre {
			return
		}
	}
	t.Errorf("no facing of the hood in %+v", cuts)
}

// Both edges of a hood of waxed cloth are stitched, and hold what is taped to them:
// the two sides are told alike.
func TestBothStitchedEdgesHoldTheirInterfacing(t *testing.T) {
	hood := list(written(t, `garment = "Hood (invented)"
units = "mm"
[cloth.shell]
use = "waxed-cotton"
thickness = 0.5
[interfacing.stay]
use = "nonwoven-sewn-medium"
[thread.seam]
use = "polyester-tex-40"
[[closure]]
name = "throat"
where = "hood"
use = "toggle-wood-40"
cord = 4
inset = 40
lap = "edge"
over = ["shell", "stay", "shell"]
under = ["shell", "stay", "shell"]
[closure.stand]
construction = "faced"
seam = 10
facing = 70
[closure.run]
length = 160
first = 40
count = 2
`))
	told(t, hood, "catch it in the seams: no basting, needle holes show.", true)
	told(t, hood, "Do it before anything is set: no basting", false)
}

// A fusible that ends at the finished edge has nothing in the seam to trim; one
// from the cut edge has. What is sewn in is pared back to the seam behind a
// turned edge (a tailor's notes on a dinner jacket); a fly has no such seam.
func TestOnlyWhatReachesTheSeamIsTrimmed(t *testing.T) {
	told(t, wholeList(t, "jeans-jacket"), "Trim it out of the seam allowances", false)
	told(t, wholeList(t, "boiled-wool-jacket"), "Do it before any hole is sewn. Then trim it close to the seam line.", true)
	told(t, wholeList(t, "raincoat"), "Catch it in the seams", false)
	coat := list(demo(t, "watch-coat-ready"))
	if n := strings.Count(coat, "before any hole is sewn."); n != 1 {
		t.Errorf("how it is fused is told %d times", n)
	}
	told(t, wholeList(t, "melton-coat"), "Trim it out of the seam allowances to 1/8 in (3.2 mm).", true)
}

// Where the column lies beyond the edge of the file no edge can be made: its
// steps wait, and nothing is told with the file's own figures.
func TestEdgeThatCannotBeIsNotMade(t *testing.T) {
	reefer := wholeList(t, "double-breasted-plaid", `finished     = "3 5/8 in"`, `finished     = "1 in"`)
	told(t, reefer, "Make the edge of the front, its facings with it, not before stand-narrow is settled.", true)
	told(t, reefer, "Put the facings", false)
	told(t, reefer, "5/8 in (16 mm)", false)
	coated := wholeList(t, "raincoat", `finished     = "1 3/4 in"`, `extension    = "1/2 in"`)
	told(t, coated, "Make the edge of the front", true)
	told(t, coated, "Only now join the fly", false)
}

// A fold marks leather; a blend of cotton is not pressed as tailors press wool;
// a run that ends in the cloth has no hem at its foot; what is one is one.
func TestToldOfWhatIsThere(t *testing.T) {
	told(t, wholeList(t, "leather-jacket"), "Stack eight scraps of shell and lay a ruler on the stack", true)
	told(t, wholeList(t, "leather-jacket"), "Fold shell in eight", false)
	told(t, wholeList(t, "infant-jacket"), "at 390 °F (200 °C) at most (three dots), for its cotton", true)
	told(t, wholeList(t, "melton-coat"), "as tailors do: the care", true)
	told(t, wholeList(t, "corduroy-jacket"), "Settle this too, or see on a sample that it does no harm:", true)
	told(t, wholeList(t, "double-breasted-plaid"), "A crosswise stripe lies 2 in (51 mm) below the neck edge on both.", true)
	told(t, wholeList(t, "raincoat"), "Buy seam tape, 7/8 in (22 mm) wide,", true)
}

// A run that ends in the cloth has no hem folded in at its foot; a pocket has
// neither a top nor a hem to measure from.
func TestEndsAreWhatTheyAre(t *testing.T) {
	plans := map[string]*rules.Planned{}
	for _, name := range []string{"child-anorak", "corduroy-jacket", "zip-gilet"} {
		text, err := os.ReadFile("../../testdata/worked/" + name + ".toml")
		if err != nil {
			t.Fatal(err)
		}
		plans[name] = written(t, string(text))
	}
	foot := func(name string) bool {
		for _, x := range plans[name].Closures[0].Places {
			if x.Name == "bottom of the band" {
				return true
			}
		}
		return false
	}
	if foot("child-anorak") || !foot("corduroy-jacket") {
		t.Error("the foot of a band is thick where a hem is folded in, and nowhere else")
	}
	p := plans["zip-gilet"].Plan
	g := p.Garment
	pocket := &g.Closures[1]
	if a, b := rules.FromEnd(p, pocket, "first"), rules.FromEnd(p, pocket, "last"); a != " from the front end" || b != " from the other end" {
		t.Errorf("a pocket:%s,%s", a, b)
	}
	if c := rules.FromEnd(p, &g.Closures[0], "last"); c != " above the hem" {
		t.Errorf("a front:%s", c)
	}
}
