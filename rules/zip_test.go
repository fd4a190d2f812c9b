package rules

import (
	"fmt"
	"math"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"

	"github.com/google/go-cmp/cmp"
)

// ASTM D3657-03, table 1: groups by the width of the slider's mouth.
func TestPublishedZipGroups(t *testing.T) {
	for _, c := range []struct {
		mouth    float64
		mm, inch string
	}{
		{5.7, "3–4", "3–4"}, {5.8, "5–6", "5–6"},
		{7.0, "5–6", "7–10"}, {7.1, "7–10", "7–10"},
		{6.99, "5–6", "7–10"}, // 0.2752 in: the two systems disagree
		{3.8, "1–2", "1–2"}, {4.0, "3–4", "3–4"}, {4.5, "3–4", "3–4"}, {3.0, "1–2", "1–2"},
	} {
		m, i := plan.ZipGroup(mms(c.mouth))
		if m != c.mm || i != c.inch {
			t.Errorf("%g mm: %s by mm, %s by inches; want %s and %s", c.mouth, m, i, c.mm, c.inch)
		}
	}
}

// Trade article on zips: a 3 measures 4 mm (metal, coil) or 4.5 mm (moulded);
// another trade page has the number equal to the width.
func TestPublishedZipNumbers(t *testing.T) {
	for _, c := range []struct {
		number, chain float64
		want          []string
	}{
		{3, 4, []string{}}, {3, 4.5, []string{}}, {3, 3, []string{"note"}}, // other makes are wider
		{3, 5, []string{"caution"}}, {5, 4, []string{"caution"}},
	} {
		got := reports(t, "zip-number", garmentOf("use = \"melton\"", fmt.Sprintf("fastener = \"zip\"\nover = [\"shell\"]\n[closure.notion]\nnumber = %g\nchain = \"%g mm\"", c.number, c.chain)))
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("number %g, teeth %g mm (-want +got):\n%s", c.number, c.chain, diff)
		}
	}
	for n, made := range map[float64]bool{3: true, 4: true, 5: true, 6: true, 7: true, 8: true, 10: true, 25: true, 6.5: false, 26: false} {
		got := reports(t, "zip-number", garmentOf("use = \"melton\"", fmt.Sprintf("fastener = \"zip\"\nover = [\"shell\"]\n[closure.notion]\nnumber = %g", n)))
		if (len(got) == 0) != made {
			t.Errorf("number %g: %v", n, got)
		}
	}
	for _, c := range []struct {
		source, cloth, number string
		speaks                bool
	}{
		{"pattern maker's guide: 2–3 for formal dresses, so not 10", "use = \"lining-satin-86\"", "10", true},
		{"pattern maker's guide: 3 for formal dresses", "use = \"lining-satin-86\"", "3", false},
		{"pattern maker's guide: 8 for leather jackets, so not 3", "use = \"leather-firm\"", "3", true},
		{"police directive: 7 for a leather jacket", "use = \"leather-firm\"", "7", false},
		{"pattern maker's guide: 8 for coats", "use = \"melton\"", "8", false},
		{"zip maker: 10 for heavy jackets", "use = \"melton\"", "10", false},
	} {
		text := fmt.Sprintf("garment = \"Storm coat (invented)\"\nunits = \"in\"\n[cloth.shell]\n%s\n[[closure]]\nname = \"front\"\nfastener = \"zip\"\nover = [\"shell\"]\n[closure.notion]\nnumber = %s\n[closure.run]\nlength = 24\n", c.cloth, c.number)
		if got := reports(t, "zip-use", text); (len(got) > 0) != c.speaks {
			t.Errorf("%s: %v", c.source, got)
		}
	}
}

// A-A-55095A (coveralls), 3.2.6: closed chain 0.180 to 0.310 in, one tape
// 9/16 ± 1/32 in.
func TestPublishedCoverallZip(t *testing.T) {
	n := stock(t, "coverall-brass-two-slider")
	within := func(m catalog.Measured, l measure.Length) bool { return (l - m.V).Abs() <= m.Tol }
	for chain, want := range map[float64]bool{5: true, 8: false, 4: false, 4.572: true, 7.874: true} {
		if within(n.Chain, mms(chain)) != want {
			t.Errorf("chain of %g mm: %v", chain, !want)
		}
	}
	near(t, "tape, least", n.Tape.V-n.Tape.Tol, mms(13.494), 10*measure.Micrometre)
	near(t, "tape, most", n.Tape.V+n.Tape.Tol, mms(15.081), 10*measure.Micrometre)
	for tape, want := range map[float64]bool{15: true, 13.4: false} {
		if within(n.Tape, mms(tape)) != want {
			t.Errorf("tape of %g mm: %v", tape, !want)
		}
	}
}

// Nothing published: the nearest length on sale is the least that is enough.
func TestNearestZip(t *testing.T) {
	sold := []measure.Length{30 * in, 26 * in, 28 * in}
	for need, want := range map[measure.Length]measure.Length{26 * in: 26 * in, 26*in + 1: 28 * in, 10 * in: 26 * in, 31 * in: 0} {
		if got, longest := plan.NearestZip(sold, need); got != want || longest != 30*in {
			t.Errorf("need %s: %s of %s", need, got, longest)
		}
	}
	text := "garment = \"Storm coat (invented)\"\nunits = \"in\"\nsizes = { names = [\"S\", \"L\"] }\n[cloth.shell]\nuse = \"melton\"\n[[closure]]\nname = \"front\"\nuse = \"coil-8-separating\"\nover = [\"shell\"]\n[closure.run]\nlength = { S = \"25 1/2 in\", L = \"31 in\" }\nfirst = \"1/2 in\"\n"
	g, err := catalog.Read("test.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	z := Plan(g).Closures[0].Zip
	want := []plan.ZipSize{
		{Size: "S", Top: in / 2, Need: 25 * in, Length: 26 * in, Listed: true, CutOff: in, Longest: 30 * in, Buy: 26 * in, Shorten: in},
		{Size: "L", Top: in / 2, Need: in * 61 / 2, Longest: 30 * in},
	}
	if diff := cmp.Diff(want, z.Sizes); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if z.End != "top" {
		t.Errorf("a separating zip is shortened at the %s", z.End)
	}
}

func TestPublishedLoops(t *testing.T) {
	// US officers' overcoat, 1861: cord 0.15 in, braided knot 2 1/4 in across.
	n := stock(t, "frog-officer")
	near(t, "cord", n.Cord.V, mms(3.81), 10*measure.Micrometre)
	near(t, "knot work", n.Length.V, mms(57.15), 10*measure.Micrometre)
	// Trimmings wholesaler: a toggle is stated by its length, 50 or 60 mm usual.
	near(t, "toggle 60", stock(t, "toggle-wood-60").Length.V, 60*mm, 0)
	if d := stock(t, "toggle-wood-60").Diameter; d.Has() {
		t.Errorf("a toggle of 60 has no diameter of %s", d.V)
	}
	// Geometry.
	near(t, "ball of 10 mm", plan.LoopGirth(plan.Shape{Kind: "ball", Diameter: 10 * mm}), mms(10*math.Pi), measure.Micrometre)
	near(t, "flat button 20 by 4", plan.LoopGirth(flat(20*mm, 4*mm)), 48*mm, 0)
	near(t, "box toggle 16 by 14, end on", plan.LoopGirth(plan.Shape{Kind: "toggle", Width: 16 * mm, Thickness: 14 * mm, ShortEnd: 30 * mm, Box: true}), 60*mm, 0)
	near(t, "oval toggle 16 by 14, end on", plan.LoopGirth(plan.Shape{Kind: "toggle", Width: 16 * mm, Thickness: 14 * mm, ShortEnd: 30 * mm}), mms(47.2), 100*measure.Micrometre)
	near(t, "measured girth wins", plan.LoopGirth(plan.Shape{Kind: "toggle", Width: 16 * mm, Thickness: 14 * mm, ShortEnd: 30 * mm, Girth: 47 * mm}), 47*mm, 0)
}

func TestPublishedHooks(t *testing.T) {
	// New Mexico State University C-232 and the professionals' standards, p. 25:
	// 1/8 in from the edge; Text-Book on Domestic Art: 1/4 in.
	for edge, want := range map[string]int{"3.2 mm": 0, "1/8 in": 0, "1/4 in": 0, "1 mm": 1, "12 mm": 1} {
		if got := reports(t, "hook-edge", garmentOf("use = \"melton\"", "use = \"hook-eye-13mm\"\nover = [\"shell\", \"shell\"]\nedge = \""+edge+"\"")); len(got) != want {
			t.Errorf("%s from the edge: %v", edge, got)
		}
	}
	// Hook tape trade page: pitches of 17 and 19 mm; three rows of 19 are 38 mm
	// from first to last, and 17 against 19 is 4 mm out at the third row.
	near(t, "three rows of 19", plan.TapeOut(19*mm, 0, 3), 38*mm, 0)
	near(t, "17 against 19, third row", plan.TapeOut(17*mm, 19*mm, 3), 4*mm, 0)
	near(t, "one pitch", plan.TapeOut(19*mm, 19*mm, 3), 0, 0)
}
