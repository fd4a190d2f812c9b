package rules

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"

	"github.com/google/go-cmp/cmp"
)

// Worked examples of heat, folds, checks and shrinkage, each with its
// publication. What no publication prints is marked as arithmetic.

func theStock(t *testing.T) *catalog.Catalog {
	t.Helper()
	c, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestPublishedDots(t *testing.T) {
	// ISO 3758 care symbols, as GINETEX words them: 110, 150, 200 °C.
	for _, c := range []struct {
		dots measure.Temperature
		f    float64
	}{{measure.OneDot, 230}, {measure.TwoDots, 302}, {measure.ThreeDots, 392}} {
		if got := c.dots.F(); math.Abs(got-c.f) > 1 {
			t.Errorf("%v is %g °F, published %g", c.dots, got, c.f)
		}
	}
}

func TestPublishedIronLimits(t *testing.T) {
	cat := theStock(t)
	for _, c := range []struct {
		source string
		fibre  map[string]float64
		want   measure.Temperature
		by     string
	}{
		{"GINETEX: cotton three dots", map[string]float64{"cotton": 100}, 200, "cotton"},
		{"GINETEX: wool two dots", map[string]float64{"wool": 100}, 150, "wool"},
		{"GINETEX: acetate one dot", map[string]float64{"acetate": 100}, 110, "acetate"},
		// An iron maker's manual: 70 % synthetic with 30 % cotton goes by the synthetic.
		{"iron maker's manual, blends", map[string]float64{"polyamide": 70, "cotton": 30}, 110, "polyamide"},
		// A page quoting a patent: polypropylene crinkles from 100 °C.
		{"page quoting a patent", map[string]float64{"polypropylene": 100}, 100, "polypropylene"},
	} {
		if got := plan.IronLimit(cat, c.fibre); got.Symbol != c.want || got.Fibre != c.by {
			t.Errorf("%s: %v by %s, published %v by %s", c.source, got.Symbol, got.Fibre, c.want, c.by)
		}
	}
	// Of less than the manual's 70 % the cloth goes by its bulk. Every Woman's
	// Encyclopaedia, Practical Lessons in Tailoring, about 1911: a wool coat is
	// shaped by damp heat.
	for _, c := range []struct {
		fibre   map[string]float64
		main    measure.Temperature
		covered bool
	}{
		{map[string]float64{"polyamide": 70, "cotton": 30}, 110, true},
		{map[string]float64{"wool": 80, "polyamide": 20}, 150, false},
		{map[string]float64{"cotton": 98, "elastane": 2}, 200, false},
		{map[string]float64{"acrylic": 40, "polyamide": 40, "wool": 20}, 110, true},
	} {
		if got := plan.IronLimit(cat, c.fibre); got.Main != c.main || got.Covered() != c.covered {
			t.Errorf("%v: the bulk %v, covered %v", c.fibre, got.Main, got.Covered())
		}
	}
	if got := plan.IronLimit(cat, nil); got.Fibre != "" {
		t.Errorf("no fibre has the limit of %s", got.Fibre)
	}
}

// Resin heats of an interlining maker (polyester about 125 °C, polyamide about
// 135, high-density polyethylene 155 to 165) against the GINETEX limits and
// the table of R. Franco, forensic page citing the NFPA handbook (nylon and
// acrylic 135 °C, acetate 143).
func TestPublishedFusingTable(t *testing.T) {
	cat := theStock(t)
	const ok = Severity(-1)
	for _, c := range []struct {
		fibre                  string
		pes, pa, hdpe155, h165 Severity
	}{
		{"cotton", ok, ok, ok, ok},
		{"linen", ok, ok, ok, ok},
		{"wool", ok, ok, Conflict, Conflict},
		{"silk", ok, ok, Conflict, Conflict},
		{"polyester", ok, ok, Conflict, Conflict},
		{"acrylic", Caution, Caution, Conflict, Conflict},
		{"polyamide", Caution, Caution, Conflict, Conflict},
		{"acetate", Caution, Caution, Conflict, Conflict},
		{"polypropylene", Conflict, Conflict, Conflict, Conflict},
	} {
		l := plan.IronLimit(cat, map[string]float64{c.fibre: 100})
		for _, x := range []struct {
			heat measure.Temperature
			want Severity
		}{{125, c.pes}, {135, c.pa}, {155, c.hdpe155}, {165, c.h165}} {
			got, speaks := FuseHeat(x.heat, l)
			if !speaks {
				got = ok
			}
			if got != x.want {
				t.Errorf("%s at %v: severity %d, wanted %d", c.fibre, x.heat, got, x.want)
			}
		}
	}
	// Viscose goes to 191 °C in the other table, so it is only cautioned there.
	if s, _ := FuseHeat(165, plan.IronLimit(cat, map[string]float64{"viscose": 100})); s != Caution {
		t.Errorf("viscose at 165 °C: %v", s)
	}
}

// Within 10 °C is our own margin; 145 °C on wool lies 5 below its 150, and 152
// is printed as the same heat.
func TestFuseHeatMargin(t *testing.T) {
	l := plan.IronLimit(theStock(t), map[string]float64{"wool": 100})
	for _, c := range []struct {
		heat   measure.Temperature
		speaks bool
	}{{139, false}, {140, true}, {145, true}, {150, true}, {152, true}, {154.9, true}} {
		if got, s := FuseHeat(c.heat, l); s != c.speaks || s && got != Caution {
			t.Errorf("%v: %v %v", c.heat, got, s)
		}
	}
	if got, _ := FuseHeat(155, l); got != Conflict {
		t.Errorf("155 °C on wool: %v", got)
	}
}

func TestPublishedShrinkage(t *testing.T) {
	// A dressmaker's own test of hair canvas: 5 in became 4 1/2 across, 4 3/4 along.
	near(t, "canvas across", plan.CutForShrink(inch(4.5), 10), inch(5), measure.Micrometre)
	near(t, "canvas along", plan.CutForShrink(inch(4.75), 5), inch(5), measure.Micrometre)
	near(t, "canvas to finish 24 in at 5 %", plan.CutForShrink(inch(24), 5), inch(25.26), inch(.05))
	near(t, "shell 0 %, canvas 5 %, over 24 in", plan.ShrinkApart(inch(24), 0, 5), inch(1.2), inch(.05))
	if plan.ShrinkApart(inch(24), 0, 5) <= plan.ShrinkShows {
		t.Error("1.2 in apart must show")
	}
}

func TestPublishedTurnOfCloth(t *testing.T) {
	// J. Barlup, Understand Turn-of-Cloth, Threads no. 131: 1/8 in; by the
	// geometry that is for layers 1.01 mm apart, 1/16 in for 0.51, 1/4 in for 2.02.
	for _, c := range []struct{ d, turn float64 }{{1.01, 1. / 8}, {.505, 1. / 16}, {2.02, 1. / 4}} {
		near(t, "turn", plan.TurnOfCloth(mms(c.d)), inch(c.turn), mms(.02))
	}
	// Arithmetic: two layers of 0.5 mm with 0.2 mm between; of 2 mm with 0.6.
	near(t, "thin layers", plan.TurnOfCloth(plan.LayerDistance(mms(.5), mms(.5), mms(.2))), mms(2.20), mms(.05))
	near(t, "melton and canvas", plan.TurnOfCloth(plan.LayerDistance(mms(2), mms(2), mms(.6))), mms(8.17), mms(.1))
	if plan.TurnOfCloth(plan.LayerDistance(mms(2), mms(2), mms(.6))) <= eighth {
		t.Error("1/8 in must not be enough for melton")
	}
}

func TestPublishedExtraCloth(t *testing.T) {
	by := func(es []plan.Extra, i int) measure.Length { return es[i].Cloth }
	// A fabric shop's page, 2010: repeat × pieces stacked, 4 1/4 in by 2.
	near(t, "stacked", by(plan.RepeatCloth(inch(4.25), 0, 2, 0), 1), inch(8.5), 0)
	// M. Tilton, and S. Blair, Threads 172, 2014: repeat × large pieces, 4 in by 4.
	near(t, "large pieces", by(plan.RepeatCloth(inch(4), 4, 0, 0), 1), inch(16), 0)
	// All four rules, Sewing and Craft Alliance and The Sewtionary p. 257 with
	// them, for 3 1/2 yd at 4 1/4 in.
	got := plan.RepeatCloth(inch(4.25), 4, 2, 7*measure.Yard/2)
	var cloths []measure.Length
	for _, e := range got {
		cloths = append(cloths, e.Cloth)
	}
	if diff := cmp.Diff([]measure.Length{inch(4.25), inch(8.5), inch(17), inch(31.5)}, cloths); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// Arithmetic modulo the repeat: nothing published.
func TestPhase(t *testing.T) {
	for _, c := range []struct{ over, under, repeat, want float64 }{
		{1, 4, 3, 0}, {1, .625, 3, .375}, {.25, 2.75, 3, .5}, {0, 2, 3, 1}, {0, 1, 3, -1},
		{1.5, -1.5, 3, 0}, {1, -1, 3, -1}, {0, 1.5, 3, 1.5},
	} {
		near(t, "phase", plan.PhaseApart(inch(c.over), inch(c.under), inch(c.repeat)), inch(c.want), 0)
	}
}

// Moving the under front by what PhaseApart says brings the bars together,
// and never by more than half a repeat.
func TestPhaseBringsTogether(t *testing.T) {
	r := mms(89)
	for over := measure.Length(0); over < 3*r; over += mms(7.3) {
		for under := -r; under < 2*r; under += mms(5.9) {
			d := plan.PhaseApart(over, under, r)
			if 2*d.Abs() > r {
				t.Fatalf("%v and %v: moved by %v, more than half of %v", over, under, d, r)
			}
			if rest := plan.PhaseApart(over, under+d, r); rest != 0 {
				t.Fatalf("%v and %v: %v is left", over, under, rest)
			}
		}
	}
}

// Arithmetic: whole repeats, or whole parts of one, nearest the wish.
func TestRepeatGap(t *testing.T) {
	for _, c := range []struct {
		wish, repeat, gap float64
		n                 int
	}{
		{4, 3.5, 3.5, 1}, {6, 3.5, 7, 2}, {3.5, 3.5, 3.5, 1}, {1.8, 3.5, 1.75, -2}, {3, 3.5, 3.5, 1}, {3, 12, 3, -4},
	} {
		gap, n := plan.RepeatGap(inch(c.wish), inch(c.repeat))
		if gap != inch(c.gap) || n != c.n {
			t.Errorf("%g in %g: %v, %d; wanted %g, %d", c.wish, c.repeat, gap, n, c.gap, c.n)
		}
	}
}

// National Instructional Media Institute, India, CITS Dress Making theory,
// 2024, p. 143: 12 × 12 in of shell, 9 × 9 in of interlining, three specimens.
func TestPublishedFusingTest(t *testing.T) {
	shell, fusible := plan.FuseTest(3)
	if shell != [2]measure.Length{36 * in, 12 * in} || fusible != [2]measure.Length{27 * in, 9 * in} {
		t.Errorf("three swatches: %v and %v", shell, fusible)
	}
}

// Layers counted by hand: nothing published.
func TestThickPlaces(t *testing.T) {
	base := `garment = "Coat"
units = "mm"
[cloth.shell]
weight = "600 g/m2"
thickness = "2 mm"
pressed = 0.8
[interfacing.front]
weight = "80 g/m2"
thickness = "0.5 mm"
[[closure]]
name = "c"
use = "horn-36"
over = ["shell", "front", "shell"]
`
	for _, c := range []struct {
		name, rest string
		place      string
		cloths     int
		thick      float64
	}{
		{"nothing said of the edge", "[closure.run]\nlength = 600\ncount = 5", "", 0, 0},
		{"faced: two plies, two allowances, interfacing", "[closure.stand]\nconstruction = \"faced\"\n[closure.run]\nlength = 600\ncount = 5", "top of the front edge", 4, 8.5},
		{"folded with a turn-under: two more plies", "[closure.stand]\nconstruction = \"folded\"\nturn_under = 12\n[closure.run]\nlength = 600\ncount = 5", "top of the band", 6, 12.5},
		{"a hem whose edge is turned in: three of each ply", "[closure.stand]\nconstruction = \"faced\"\n[closure.run]\nlength = 600\ncount = 5\nhem = 25\nhem_under = 10", "bottom of the front edge", 6, 12.5},
		{"a flap: two plies, two allowances, the body", "where = \"flap\"\n[closure.run]\nlength = 150\ncount = 1", "fold of the flap", 5, 10.5},
		{"a felled yoke seam: three of each ply", "[closure.run]\nlength = 600\ncount = 5\nclear = [{ name = \"yoke\", at = 200, pressed = \"one-side\" }]", "yoke", 6, 12.5},
	} {
		g, err := catalog.Read("c.toml", []byte(base+c.rest+"\n"), catalog.Options{})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		places := Plan(g).Closures[0].Places
		if c.place == "" {
			if len(places) > 0 {
				t.Errorf("%s: %v", c.name, places)
			}
			continue
		}
		if len(places) == 0 || places[0].Name != c.place || places[0].Cloths != c.cloths || places[0].Thick != mms(c.thick) {
			t.Errorf("%s: %+v", c.name, places)
			continue
		}
		if !slices.IsSortedFunc(places, func(a, b plan.Place) int { return int(b.Thick - a.Thick) }) {
			t.Errorf("%s: not thickest first", c.name)
		}
		for _, p := range places {
			if p.Graded > p.Pressed || p.Pressed > p.Thick {
				t.Errorf("%s: %s: graded %v, pressed %v, free %v", c.name, p.Name, p.Graded, p.Pressed, p.Thick)
			}
		}
	}
}

// Apparel: Design, Textiles and Construction, 2012, p. 451: graded, the
// allowance next to the outside keeps 1/4 in, the smallest about 1/8.
func TestPublishedGrading(t *testing.T) {
	if diff := cmp.Diff([]measure.Length{inch(.25), inch(.125)}, plan.Grade(2)); diff != "" {
		t.Errorf("two allowances (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]measure.Length{inch(.25), inch(.1875), inch(.125)}, plan.Grade(3)); diff != "" {
		t.Errorf("three allowances (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]measure.Length{inch(.25)}, plan.Grade(1)); diff != "" {
		t.Errorf("one allowance (-want +got):\n%s", diff)
	}
}

// J. Barlup, Understand Turn-of-Cloth, Threads no. 131: from 5/8 in all
// round, under collar 1/4 in less on all edges, upper collar 1/8 in less on
// three and 1/4 in at the neck: 3/8 in seams and 1/8 in turn of cloth.
func TestPublishedCollarSeams(t *testing.T) {
	under, outer, neck := plan.CollarSeams(inch(5. / 8))
	near(t, "under collar", under, inch(3./8), 0)
	near(t, "upper collar, outer edges", outer, inch(.5), 0)
	near(t, "upper collar, neck", neck, inch(3./8), 0)
	near(t, "turn of cloth", outer-under, inch(1./8), 0)
}

// W. D. F. Vincent, Vincent's Systems of Cutting: heavy melton over a block
// for medium cloth 1 in more a side; very thin or elastic cloth 1/2 in less.
func TestPublishedBlockEase(t *testing.T) {
	near(t, "heavy over medium", BlockEase("medium", "heavy"), inch(1), 0)
	near(t, "thin over medium", BlockEase("medium", "thin"), -inch(.5), 0)
	near(t, "medium over medium", BlockEase("medium", "medium"), 0, 0)
	near(t, "medium over heavy", BlockEase("heavy", "medium"), -inch(1), 0)
}

// Denim and duck go by weight classes of their own. A thread maker's bulletin
// gives 16 stitches for a button on heavy cloth; jeans points for denim:
// Threads magazine, Sewing-Machine Needles: An Overview.
func TestDenimIsNotVeryHeavyCloth(t *testing.T) {
	stock, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		source, with string
		lo, hi       measure.NeedleSize
	}{
		{"household machine manual, p. 40: denim 90/14 to 100/16", `"12.5 oz/yd2"`, 90, 100},
		{"industrial needle table, 2013: light denim 70 to 90", `"7 oz/yd2"`, 75, 90},
		{"industrial needle table, 2013: heavy denim 110", `"16 oz/yd2"`, 100, 110},
	} {
		text := "garment = \"Slip jacket (invented)\"\nunits = \"in\"\n[cloth.shell]\nuse = \"denim\"\nstretch = \"across\"\nweight = " + c.with +
			"\n[[closure]]\nname = \"front\"\nuse = \"horn-30\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = 24\ncount = 5\n"
		g, err := catalog.Read("jacket.toml", []byte(text), catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		k := &Plan(g).Closures[0]
		if k.Needle.Min > c.lo || k.Needle.Max < c.hi {
			t.Errorf("%s: the plan says %s to %s", c.source, k.Needle.Min, k.Needle.Max)
		}
		if k.Needle.Point != "jeans" || k.Sewing.Stitches != 16 {
			t.Errorf("%s point, %d stitches a button", k.Needle.Point, k.Sewing.Stitches)
		}
	}
	// Every kind that has a chart or a class of its own is a family.
	for _, kind := range plan.SpecialKinds() {
		if stock.Family(kind) == nil {
			t.Errorf("no family %s", kind)
		}
	}
}

// What explain prints of the needles is what the code goes by.
func TestExplainNeedleAgrees(t *testing.T) {
	says := Find("needle-cloth").Explained(measure.NoUnit).Formula
	for _, kind := range plan.SpecialKinds() {
		if c := plan.ChartedFor(&catalog.Cloth{Kind: kind}); c.Least > 0 && !strings.Contains(says, fmt.Sprintf("%d–%d", c.Least, c.Most)) {
			t.Errorf("%s: %d–%d is not in the formula", kind, c.Least, c.Most)
		}
	}
	for _, c := range plan.GeneralClasses {
		if !regexp.MustCompile(fmt.Sprintf(`(^|; |, )%s(, [a-z ,]+)? %d–%d`, c.Name, c.NeedleMin, c.NeedleMax)).MatchString(says) {
			t.Errorf("%s is not in the formula", c.Name)
		}
	}
}

// MIL-DTL-3738L: wool uniform cloth has a clear-cut face. It is a worsted, not a
// fulled melton, and denser; coat wool takes 90 to 110 (three machine manuals).
func TestUniformClothIsWorsted(t *testing.T) {
	cat := theStock(t)
	for _, n := range []string{"wool-uniform-16", "wool-uniform-18", "wool-uniform-19"} {
		if c := cat.Cloth(n); c == nil || c.Kind != "worsted" {
			t.Errorf("%s is not a worsted", n)
		}
	}
}
