package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// A needle as far from the thinnest as from the thickest of its charts has the room to
// the thickest.
func TestRoomOfANeedle(t *testing.T) {
	for nm, want := range map[measure.NeedleSize]Numbers{
		130: noMore(130, 140, "NM"), 129: noLess(129, 120, "NM"), 131: noMore(131, 140, "NM"),
	} {
		x := costsOf(t, edgeCoat, "closure.front.needle=90/14")
		n := &x.K.Needle
		n.NM, n.Min, n.Max = nm, 90, 100 // outside its band, inside the charts
		n.Charted.Least, n.Charted.Most = 120, 140
		if got := Find("needle-cloth").Room(x); got.Need != want.Need || got.Margin != want.Margin {
			t.Errorf("%v: %+v, want %+v", nm, got, want)
		}
	}
}

// A diameter from Tex is 5 % off at most: of 0.447 of the blade, 0.0392 √130, it may be
// 0.447 × 0.05 ÷ 1.05 = 0.021 less.
func TestDiametersMayBeOff(t *testing.T) {
	x := costsOf(t, edgeCoat, "closure.front.needle=100/16|thread.seam.tex=Tex 130")
	i := slices.IndexFunc(x.P.Findings, func(f Finding) bool { return f.Rule == "needle-thread" })
	if i == -1 || x.P.Findings[i].Have != 0.447 || x.P.Findings[i].Tol != 0.021 {
		t.Errorf("%d: %+v", i, x.P.Findings[max(i, 0)].Numbers)
	}
}

// What two tapes are apart adds up from hook to hook, and so does their ±: 0.3 at four
// steps are 1.2, 0.2 more than meets, which four of 0.06 take up and four of 0.04 do not.
func TestTapesAddUpTheirTolerance(t *testing.T) {
	for with, want := range map[string]Severity{
		`pitch="17 mm ± 0.04",eye_pitch=17.3`: Conflict, `pitch="17 mm ± 0.06",eye_pitch=17.3`: Caution,
		`pitch=17,eye_pitch="17.3 mm ± 0.04"`: Conflict, `pitch=17,eye_pitch="17.3 mm ± 0.06"`: Caution,
	} {
		g, err := edgeGarment(edgeCoat, hardware("hook", "length=10,"+with)+"|closure.front.run.count=5", "")
		if err != nil {
			t.Fatal(err)
		}
		if got := says(g, "hook-tape", want); len(got) != 1 {
			t.Errorf("%s: no %v", with, want)
		}
	}
}

// Closures of one edge each count as an opening, unless they lie on several pieces.
func TestOpeningsOfTheirOwn(t *testing.T) {
	for pieces, want := range map[string]int{"1": 1, "2": 0} {
		g, err := edgeGarment(strings.ReplaceAll(edgeZip, "opening = \"front\"\n", ""), "closure.snaps.pieces="+pieces, "")
		if err != nil {
			t.Fatal(err)
		}
		if got := says(g, "edge-unshared", Note); len(got) != want {
			t.Errorf("on %s pieces: %q", pieces, got)
		}
	}
}

// ISO 3758: one dot 110 °C, without steam, two 150, three 200.
func TestDotsOfAnIron(t *testing.T) {
	for c, want := range map[measure.Temperature]string{109: "below one dot", 110: "one dot", 149: "one dot", 150: "two dots", 199: "two dots", 200: "three dots"} {
		if got := Dots(c); got != want {
			t.Errorf("%v: %q, want %q", c, got, want)
		}
	}
	for c, dry := range map[measure.Temperature]bool{110: true, 111: false, 150: false} {
		l := plan.Limit{Fibre: "polyamide", Fibres: "polyamide", Share: 100, Symbol: c, Bulk: c, Main: c}
		if !l.Pressed() {
			t.Fatalf("%v: not pressed at all", c)
		}
		for kind, want := range map[string][2]string{"fleece": {"through a cloth", "through a cloth, or with steam from above and no weight"}} {
			cl := &catalog.Cloth{Kind: kind}
			if got := HowPressed(cl, l) == want[0]; got != dry {
				t.Errorf("%s at %v: %q", kind, c, HowPressed(cl, l))
			}
		}
		if got := strings.Contains(pressLine("shell", &catalog.Cloth{}, l, measure.MM), "no steam"); got != dry {
			t.Errorf("%v: %q", c, pressLine("shell", &catalog.Cloth{}, l, measure.MM))
		}
		if got := strings.Contains(PressHeat(&catalog.Cloth{}, l, ", and a scrap first", measure.MM), "no steam"); got != dry {
			t.Errorf("%v: %q", c, PressHeat(&catalog.Cloth{}, l, ", and a scrap first", measure.MM))
		}
	}
}

// What a fusible needs is compared with what the fibre stands: a heat that the file has
// is told as it is. Polyamide stands 110 °C by its symbol and 135 by another table
// (R. Franco, citing the NFPA): from 5 °C over its symbol that is told, nearer it is close.
func TestHowAHeatIsTold(t *testing.T) {
	const nylon = "interfacing.in.fixing=fusible|cloth.shell.fibre={ polyamide = 100 }|interfacing.in.fuse="
	for fuse, want := range map[string]string{"115 C": "by another published table", "114 C": "close to what the polyamide in shell stands", "110 C": "close to what", "134 C": "by another published table"} {
		g, err := edgeGarment(edgeCoat, nylon+fuse, "")
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(says(g, "fuse-heat", Caution), "; "); !strings.Contains(got, want) || strings.Contains(got, "is not given") {
			t.Errorf("%s: %q, want %q", fuse, got, want)
		}
	}
}

// In place of an interfacing that gives along the hole one of the same fixing that does
// not: 2 and a tenth of the difference in g/m², ours; the six nearest. What gives is named,
// the first of them.
func TestWhatGivesAlongAHole(t *testing.T) {
	const soft = across + `|interfacing.in.kind=knit|interfacing.in.weight=60 g/m2|interfacing.in.stretch=both`
	g, err := edgeGarment(edgeTwo, soft+`|interfacing.more.kind=knit|interfacing.more.stretch=both`, "")
	if err != nil {
		t.Fatal(err)
	}
	if got := says(g, "hole-stretch", Caution); len(got) != 1 || !strings.HasPrefix(got[0], "in gives along the hole") {
		t.Errorf("%q", got)
	}
	x := costsOf(t, edgeCoat, soft)
	if got := says(x.G, "hole-stretch", Caution); len(got) != 1 || !strings.HasPrefix(got[0], "in gives along the hole") {
		t.Errorf("%q", got)
	}
	costs := map[string]float64{}
	for _, n := range x.G.Catalog.Interfacings {
		if n.Fixing == "sewn" && n.Kind != "stay-tape" && n.Stretch != "both" && n.Stretch != "across" && n.Weight.Has() {
			costs[n.Name] = 2 + math.Abs(n.Weight.V.GSM()-60)/10
		}
	}
	tryCosts(t, "firm along the hole", "use ", Find("hole-stretch").Propose(x, &Finding{}), 6, costs)
}

// An interfacing is offered that is as heavy as the heaviest cloth, and no heavier.
func TestInterfacingsAsHeavyAsTheCloth(t *testing.T) {
	x := costsOf(t, edgeCoat, `interfacing.in={use="weft-fusible-heavy"}|care=wash-40`)
	for _, n := range x.G.Catalog.Interfacings {
		if n.Kind == "stay-tape" || !n.Weight.Has() || n.Fixing != "sewn" {
			continue
		}
		for by, want := range map[measure.AreaWeight]bool{0: true, -1: false} {
			x.G.Cloths[0].Weight.V = n.Weight.V + by
			f := Finding{Rule: "care-limit"}.At(x.interfacingPath(0, "use"))
			has := func(cs []Change, says string) bool {
				return slices.ContainsFunc(cs, func(c Change) bool { return strings.HasPrefix(c.Says, says) })
			}
			y := *x
			g := *x.G
			g.Catalog = &catalog.Catalog{Interfacings: []*catalog.Interfacing{n}}
			y.G = &g
			if got := has(Find("care-limit").Propose(&y, &f), "use "+n.Name); got != want {
				t.Errorf("%s under a cloth %v g/m² heavier: %v", n.Name, by.GSM(), got)
			}
			if want || n.Weight.V > x.G.Interfacings[0].Weight.V {
				if got := has(proposeSewnIn(&y, &f), "sew in "+n.Name); got != want {
					t.Errorf("sewn in, %s under a cloth %v g/m² heavier: %v", n.Name, by.GSM(), got)
				}
			}
		}
	}
}

// What is said without figures is said as it is; the figures rest on the first of those
// equally weak, or equally loose; and a nanometre beyond the ± forbids.
func TestWhatFiguresRestOn(t *testing.T) {
	f := Finding{}.Saying("wool shrinks 5 % and 5 %% more")
	if got := f.Message(); got != "wool shrinks 5 % and 5 % more" {
		t.Errorf("%q", got)
	}
	for _, bs := range [][]plan.Basis{
		{{Ground: plan.Memory, Key: "first"}, {Ground: plan.Memory, Key: "then"}},
		{{Tol: mm, Key: "first"}, {Tol: mm, Key: "then"}},
		{{Tol: mm, Key: "then"}, {Tol: 2 * mm, Key: "first"}},
		{{Tol: mm, Key: "then"}, {Ground: plan.Memory, Key: "first"}},
	} {
		if n := (Numbers{}).on(bs...); n.Ask != "first" {
			t.Errorf("%+v: asks for %s", bs, n.Ask)
		}
	}
	for have, want := range map[measure.Length]bool{8 * mm: false, 9 * mm: false, 8*mm - 1: true, 10*mm - 1: false} {
		n := atLeast(have, 10*mm).on(plan.Basis{Tol: 2 * mm})
		if got := n.forbids(); got != want {
			t.Errorf("%v of 10 ± 2: %v", have, got)
		}
	}
}

// Of findings as grave and as short the first is the worst, and two of a closure that
// say the same are one place.
func TestPlacesOfTheSame(t *testing.T) {
	a, b := made(Caution, "front", "", "run", -1), made(Caution, "front", "", "run", -1)
	c := made(Caution, "front", "", "run", -1)
	c.Margin = -2
	if a.worse(&b) || b.worse(&a) || !c.worse(&a) || a.worse(&c) {
		t.Error("which is worse")
	}
	graver := made(Conflict, "front", "", "run", -.5)
	if !graver.worse(&c) || c.worse(&graver) {
		t.Error("a graver one is not worse")
	}
	e := Entry{Finding: a, Where: []*Finding{&a, &b}}
	if got := e.Places(measure.MM); len(got) != 1 {
		t.Errorf("%+v", got)
	}
}

// Equal changes stand as they were proposed.
func TestEqualChangesKeepTheirOrder(t *testing.T) {
	with := []catalog.With{catalog.Set("closure.front.hole", "hand")}
	cs := []Change{{With: with, Says: "first", Cost: 1}, {With: with, Says: "then", Cost: 1}, {With: with, Says: "before", Cost: .5}}
	sortChanges(cs)
	if got := fmt.Sprint(cs[0].Says, cs[1].Says, cs[2].Says); got != "beforefirstthen" {
		t.Error(got)
	}
}

// What is written with up to three figures after the point, or in 64ths of an inch, is
// written as it is.
func TestShownExactly(t *testing.T) {
	for _, c := range []struct {
		l     measure.Length
		u     measure.Unit
		shown bool
	}{
		{in / 64, measure.In, true}, {in / 128, measure.In, false}, {in / 1000, measure.In, true}, {in / 2000, measure.In, false}, {in * 3 / 1000, measure.In, true},
		{measure.Micrometre, measure.MM, true}, {measure.Micrometre / 2, measure.MM, false},
	} {
		if got := shownIn(c.l, c.u); got != c.shown {
			t.Errorf("%v: %v", c.l, got)
		}
	}
}

// A length is moved in every size of those that it is given by.
func TestSizesMoveAsTheyAreGiven(t *testing.T) {
	for with, want := range map[string]string{
		`first={S="10 mm",M="11 mm"}`: `closure.front.run.first={ M = "13 mm", S = "13 mm" }`, `first={S="10 mm",M="20 mm"}`: `closure.front.run.first={ M = "20 mm", S = "13 mm" }`, `first=10 mm`: "closure.front.run.first=13 mm",
	} {
		x := costsOf(t, edgeCoat, `sizes.names=["S","M"]|closure.front.run.`+with)
		cs := proposeEnd(x, "first", x.C.Run.First)
		if got := cs[0].With[0].String(); len(cs[0].With) != 1 || got != want {
			t.Errorf("%s: %s, want %s", with, got, want)
		}
	}
}

// Of buttons no larger than the old one those are smaller that are narrower or pass by
// less: one as wide and as thick is none. Any change tries six smaller ones and four
// larger; holes by hand cost 40 and bound ones 45, ours; forty changes at most.
func TestHowManyAreTried(t *testing.T) {
	x := costsOf(t, edgeCoat, "closure.front.hole=machine|closure.front.use=horn-36|closure.front.notion={diameter=24,thickness=4}")
	button := func(name string, d, thick float64) *catalog.Notion {
		n := x.C.Notion
		n.Name, n.Diameter, n.Thickness = name, atMM(d), atMM(thick)
		return &n
	}
	names := func(cs []Change) (out []string) {
		for _, c := range cs {
			if n := c.use(); strings.HasPrefix(c.Says, "use ") && !strings.Contains(c.Says, "needle") {
				out = append(out, n)
			}
		}
		return out
	}
	y := own(x, button("same", 24, 4), button("narrower", 23, 5), button("thinner", 24, 3.9), button("both", 20, 3), button("wider", 25, 2), button("thicker", 24, 4.1))
	for what, c := range map[string]struct {
		cs   []Change
		want []string
	}{
		"smaller":     {proposeSmaller(y, &Finding{}), []string{"thinner", "narrower", "both"}},
		"that fit 28": {proposeFitting(y, 28*mm, 0), []string{"same", "thinner", "narrower", "both"}},
		"any":         {ProposeAny(y, &Finding{}), []string{"thinner", "thicker", "narrower", "wider", "both"}},
	} {
		got := names(c.cs)
		slices.Sort(got)
		slices.Sort(c.want)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", what, got, c.want)
		}
	}
	var many []*catalog.Notion
	for i := range 9 {
		many = append(many, button(fmt.Sprintf("small%d", i), 23-float64(i)/10, 4), button(fmt.Sprintf("large%d", i), 25+float64(i)/10, 4))
	}
	got := names(ProposeAny(own(x, many...), &Finding{}))
	slices.Sort(got)
	if want := []string{"large0", "large1", "large2", "large3", "small0", "small1", "small2", "small3", "small4", "small5"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	// Left out costs 20, another cloth 25 and its thickness: the six cheapest.
	thin := ""
	for i := range 8 {
		thin += fmt.Sprintf("cloth.thin%d={thickness=\"0.%d mm\"}|", i, i+1)
	}
	z, inner := costsOf(t, edgeCoat, thin+"closure.front.hole=machine"), []string{}
	for _, c := range ProposeAny(own(z), &Finding{}) {
		if _, name, is := strings.Cut(c.Says, "make the inner layer of "); is {
			inner = append(inner, name[:5])
		}
	}
	if len(inner) != 5 || inner[4] != "thin4" {
		t.Errorf("thinner: %v", inner)
	}
	rich := costsOf(t, edgeCoat, thin+across+"|closure.front.hole=machine|closure.front.hole_length=28 mm|closure.front.needle=90/14|closure.front.thread=seam|closure.front.use=horn-36|closure.front.notion={diameter=24,thickness=4}|closure.front.stand.finished=15 mm|closure.front.stand.strip=50 mm|closure.front.stitch=3 mm|closure.front.backing=18L|closure.front.hole_rule=passing|closure.front.loop=60 mm|closure.front.punch=3 mm")
	if all := ProposeAny(rich, &Finding{}); len(all) != 40 {
		t.Errorf("%d are tried", len(all))
	}
	costs := map[string]float64{}
	for _, c := range ProposeAny(own(x), &Finding{}) {
		costs[c.Says] = c.Cost
	}
	if costs["work the holes by hand"] != 40 || costs["make bound holes"] != 45 {
		t.Errorf("%v", costs)
	}
}

// A cloth that has no other name is not pressed through itself.
func TestPressLineOfACloth(t *testing.T) {
	for _, c := range []*catalog.Cloth{{}, {Kind: "leather"}, {Kind: "fleece"}} {
		if says := pressLine("cloth", c, plan.Limit{}, measure.MM); strings.Contains(says, "through a cloth") {
			t.Errorf("%q", says)
		}
	}
}
