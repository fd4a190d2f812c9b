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

func atMM(l float64) catalog.Measured {
	return catalog.Measured{V: measure.FromMM(l), From: catalog.Stock}
}

// own is a context whose catalogue has nothing but those.
func own(x *Context, of ...*catalog.Notion) *Context {
	y, g := *x, *x.G
	g.Catalog = &catalog.Catalog{Notions: of}
	y.G = &g
	return &y
}

// A stack of 2 in its grip has the room to the nearer end, by its share of that: to
// the most where both are as near.
func TestRoomOfAGrip(t *testing.T) {
	for grip, want := range map[string][2]float64{ // what it needs, and what is to spare
		`max="3 mm"`: {3, 1}, `min="1 mm"`: {1, 1}, `min="1 mm",max="3 mm"`: {3, 1}, `min="1.5 mm",max="4 mm"`: {1.5, .5},
		`min="1.25 mm",max="5 mm"`: {5, 3}, `min="1.26 mm",max="5 mm"`: {1.26, .74},
	} {
		x := costsOf(t, edgeCoat, hardware("snap", "diameter=15,grip={"+grip+"}"))
		if got := Find("hardware-grip").Room(x); !got.Compared || math.Abs(got.Need-want[0]) > 1e-9 || math.Abs(got.Margin-want[1]) > 1e-9 {
			t.Errorf("%s: needs %v, %v to spare, want %v", grip, got.Need, got.Margin, want)
		}
	}
}

// In place of a snap whose post is too short for the stack one with a longer post is
// offered, in place of one too long a shorter: another make with the same post is no
// other post. It costs the millimetres of the post, 1 more of another maker and 2 more
// where its figures are from memory, ours; six at most.
func TestOtherPosts(t *testing.T) {
	x := costsOf(t, edgeCoat, `closure.front.over=["shell","shell"]|cloth.shell.thickness=1.5 mm|closure.front.fastener=snap|closure.front.use=ring-spring-15|closure.front.notion=`)
	x.C.Notion.Sure, x.C.Notion.Post = "published", atMM(5)
	post := func(name string, mm float64, change func(n *catalog.Notion)) *catalog.Notion {
		n := x.C.Notion
		n.Name, n.Post = name, atMM(mm)
		n.Grip.Min, n.Grip.Max = atMM(1), atMM(4) // a stack of 3
		if change != nil {
			change(&n)
		}
		return &n
	}
	y := own(x, post("as-long", 5, nil), post("longer", 5.5, nil), post("shorter", 4.5, nil),
		post("other", 5.25, func(n *catalog.Notion) { n.File = "other.toml" }),
		post("memory", 5.25, func(n *catalog.Notion) { n.Sure = "memory" }),
		post("thin", 6, func(n *catalog.Notion) { n.Grip.Max = atMM(2.9) }))
	for fit, want := range map[plan.Fit]string{plan.TooThick: "use longer 0.5, use other 1.25, use memory 2.25", plan.TooThin: "use shorter 0.5"} {
		var got []string
		for _, c := range y.otherHardware(fit) {
			got = append(got, fmt.Sprint(c.Says, " ", c.Cost))
		}
		if strings.Join(got, ", ") != want {
			t.Errorf("%v: %q, want %q", fit, got, want)
		}
	}
	// A post as long as the layers is too short: a longer one is offered.
	as := Finding{Numbers: atLeast(5*mm, 5*mm)}
	if got := Find("hardware-post").Propose(y, &as); !slices.ContainsFunc(got, func(c Change) bool { return c.Says == "use longer" }) {
		t.Errorf("in place of a post as long as the layers: %v", got)
	}
	var many []*catalog.Notion
	for i := range 8 {
		many = append(many, post(fmt.Sprintf("n%d", i), 5.1+float64(i)/10, nil))
	}
	if got := own(x, many...).otherHardware(plan.TooThick); len(got) != 6 || got[5].Says != "use n5" {
		t.Errorf("of eight: %v", got)
	}
}

// What a post is to be where one figure suits, and what a hole in a rigid part:
// 4.254 to 4.381 of a shank of 4, in tenths.
func TestPostAndPunchToBuy(t *testing.T) {
	// Sides of 2 and of 3.5: from 3.5 + 2.5 to 2 + 4.
	const sides = `|cloth.felt={thickness="1.5 mm",pressed=1}|closure.front.under=["shell","shell","felt"]`
	for _, post := range []string{"5", "7"} {
		got := proposedFor(t, "hardware-post", edgeCoat, hardware("snap", `diameter=15,attach="post",post=`+post)+sides)
		if cost := got["take one with 6 mm (1/4 in) of post"]; cost != 1 {
			t.Errorf("a post of %s: %v", post, got)
		}
	}
	// Sides of 2 and of 4 suit none: 6 is the most of the one, and short for the other,
	// which no packing mends.
	got := proposedFor(t, "hardware-post", edgeCoat, hardware("snap", `diameter=15,attach="post",post=6`)+strings.Replace(sides, "1.5", "2", 1))
	if len(got) != 0 {
		t.Errorf("short on one side: %v", got)
	}
	x := costsOf(t, edgeCoat, hardware("rivet", `diameter=9,kind="solid",post_width=4,post=6`)+"|closure.front.into=rigid|closure.front.punch=4 mm")
	cs := Find("hardware-hole").Propose(x, &Finding{})
	if len(cs) != 1 || len(cs[0].With) != 1 || !strings.HasSuffix(cs[0].With[0].String(), "=4.3 mm") {
		t.Errorf("a punch for a rigid part: %v", cs)
	}
	// Between 2.95 and 3 a whole tenth makes 3 of 2.
	for grip, want := range map[string]string{`min="2.95 mm",max="3 mm"`: "closure.front.packing=1 mm", `min="2.95 mm",max="2.99 mm"`: "closure.front.packing=0.95 mm"} {
		x := costsOf(t, edgeCoat, hardware("snap", "diameter=15,grip={"+grip+"}"))
		cs := x.packed(x.K.Hardware.GripMin, x.gripMost())
		if len(cs) == 0 || cs[0].With[0].String() != want {
			t.Errorf("%s: %v, want %s", grip, cs, want)
		}
	}
}

// What is to be written lies on the right side of where figures meet: a nanometre, or of
// what is told by eye a tenth.
func TestFiguresToWrite(t *testing.T) {
	for _, c := range []struct {
		rule, base, with string
		want             []float64
	}{
		// A post is longer than layers of 2 from a tenth on.
		{"hardware-post", edgeCoat, hardware("rivet", `diameter=9,kind="semi-tubular",post=2`), []float64{2.1}},
		// From half a barrel of 4 to less than all of it.
		{"hardware-hole", edgeCoat, hardware("rivet", `diameter=9,kind="solid",post_width=4,post=6`) + "|closure.front.punch=1 mm", []float64{2, 3.999999}},
		// Stitching 3 + 6.35 away catches a tape that is wider.
		{"zip-seam", edgeZip, "closure.zip.notion.tape=9.35 mm", []float64{9.350001}},
		// A hole that ends above a hem of 40: 24.825 + 1.5875 more.
		{"last-low", edgeZip, "closure.zip.run.hem=40 mm|closure.snaps.fastener=button|closure.snaps.notion={diameter=24,thickness=4}|closure.snaps.direction=along|closure.snaps.hole_length=28 mm|closure.snaps.run.last=60 mm", []float64{66.412501}},
	} {
		g, err := edgeGarment(c.base, c.with, "")
		if err != nil {
			t.Fatal(err)
		}
		p := Plan(g)
		i := slices.IndexFunc(p.Findings, func(f Finding) bool { return f.Rule == c.rule })
		if i == -1 {
			t.Errorf("%s, %s: nothing is found", c.rule, c.with)
			continue
		}
		var got []float64
		for _, b := range p.Findings[i].Bounds(g) {
			got = append(got, b.Figure)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s, %s: write %v, want %v", c.rule, c.with, got, c.want)
		}
	}
}

// A rivet as long as its layers locks where it has two caps: so that it does not
// rests on its kind. One that is shorter locks in none.
func TestWhatAShortRivetRestsOn(t *testing.T) {
	x := costsOf(t, edgeCoat, hardware("rivet", `diameter=9,kind="semi-tubular",post_width=4,post=2`))
	for thick, key := range map[measure.Length]string{2 * mm: "closure.front.notion.kind", 2*mm + 1: ""} {
		if got := x.rivetBasis(thick).Key; got != key {
			t.Errorf("layers of %v: %q, want %q", thick, got, key)
		}
	}
}

// A cord of 5 goes easily through an eyelet that is its play wider inside, ours: one
// that is a nanometre narrower is not offered.
func TestOtherEyelets(t *testing.T) {
	x := costsOf(t, edgeCoat, hardware("eyelet", `inside=5`)+"|closure.front.cord=5 mm")
	x.C.Use = "eyelet"
	eyelet := func(name string, inside measure.Length) *catalog.Notion {
		n := x.C.Notion
		n.Name, n.Inside = name, catalog.Measured{V: inside, From: catalog.Stock}
		return &n
	}
	got := Find("eyelet-cord").Propose(own(x, eyelet("just", 5*mm+plan.CordPlay), eyelet("tight", 5*mm+plan.CordPlay-1)), &Finding{})
	if len(got) != 1 || got[0].Says != "use just" {
		t.Errorf("%v", got)
	}
}

// A zip is offered whose tape reaches 1/8 in beyond stitching 1/4 in from its teeth:
// 3 + 6.35 + 3.175.
func TestOtherTapes(t *testing.T) {
	x := costsOf(t, edgeZip, "closure.zip.notion.tape=9 mm")
	x.C.Use = "zip"
	zip := func(name string, tape float64) *catalog.Notion {
		n := x.C.Notion
		n.Name, n.Tape = name, atMM(tape)
		return &n
	}
	got := Find("zip-seam").Propose(own(x, zip("just", 12.525), zip("narrow", 12.524)), &Finding{Severity: Conflict})
	if len(got) != 1 || got[0].Says != "use just" {
		t.Errorf("%v", got)
	}
}

// A strip that is begun farther out is cut wider only where it must be: from 28 of 40
// drafted, 12 outside the line, to 24.825 + 12.7 inside it, up to 50.
func TestStripBegunFartherOut(t *testing.T) {
	for width, keys := range map[string]int{"50": 1, "49": 2, "90": 1} {
		x := costsOf(t, edgeCoat, edgeDrafted+`strip_from_edge="38 mm",strip="`+width+` mm"}`)
		if got := Find("strip-start").Propose(x, &Finding{}); len(got) != 1 || len(got[0].With) != keys {
			t.Errorf("a strip of %s: %v", width, got)
		}
	}
}

// A flap that is as wide as its fasteners and their stand need is left as it is.
func TestFlapsAsWideAsNeeded(t *testing.T) {
	x := costsOf(t, edgeZip, "closure.snaps.notion.post=4")
	x.C, x.K = &x.G.Closures[1], &x.P.Closures[1]
	least, _, _ := plan.StandFor(&x.C.Notion)
	for by, words := range map[measure.Length]int{0: 1, -1: 2} {
		x.C.Flap.Width.V = printedUp(20*mm) + least + by
		if got := x.setFlap(20 * mm); len(got) != words {
			t.Errorf("%v off: %v", by, got)
		}
	}
}

// Parts that meet do not lie on each other, and one that ends on a line is not
// crossed by it.
func TestPartsThatMeet(t *testing.T) {
	a := plan.Part{Closure: 1, Kind: plan.HolePart, From: 10 * mm, To: 20 * mm, OutFrom: -5 * mm, OutTo: 5 * mm}
	for what, c := range map[string]struct {
		from, to, outFrom, outTo measure.Length
		touch                    bool
	}{
		"on it": {10 * mm, 20 * mm, -5 * mm, 5 * mm, true}, "below": {20 * mm, 30 * mm, -5 * mm, 5 * mm, false}, "just on its end": {20*mm - 1, 30 * mm, -5 * mm, 5 * mm, true},
		"above": {0, 10 * mm, -5 * mm, 5 * mm, false}, "just on its top": {0, 10*mm + 1, -5 * mm, 5 * mm, true}, "outside": {10 * mm, 20 * mm, 5 * mm, 9 * mm, false}, "just on its edge": {10 * mm, 20 * mm, 5*mm - 1, 9 * mm, true},
		"inside": {10 * mm, 20 * mm, -9 * mm, -5 * mm, false}, "just on its inner edge": {10 * mm, 20 * mm, -9 * mm, -5*mm + 1, true},
	} {
		b := plan.Part{Kind: plan.HolePart, From: c.from, To: c.to, OutFrom: c.outFrom, OutTo: c.outTo}
		got := false
		touching(&plan.Piece{Parts: []plan.Part{a, b}}, 1, func(_, _ *plan.Part) { got = true })
		if got != c.touch {
			t.Errorf("%s: %v", what, got)
		}
	}
	for out, is := range map[measure.Length]bool{-5 * mm: false, -5*mm + 1: true, 0: true, 5*mm - 1: true, 5 * mm: false} {
		pc := &plan.Piece{Lines: []plan.Line{{Kind: plan.SeamLine, From: plan.Point{Out: out}}}}
		if _, got := crossed(pc, &a, plan.SeamLine); got != is {
			t.Errorf("a line at %v: %v", out, got)
		}
	}
}

// Where no closure of an opening draws a lap, how far it reaches rests on the closure's
// own edge, and an edge without an allowance is said to have none.
func TestLapsAndAllowances(t *testing.T) {
	x := costsOf(t, edgeZip, "closure.snaps.flap.inset=30 mm")
	if x.P.Lap(0) != -1 || x.lapBasis() != plan.EdgeBasis(x.C, x.K) {
		t.Errorf("lap %d: %+v", x.P.Lap(0), x.lapBasis())
	}
	for seam, want := range map[measure.Length]string{0: "an edge without a seam allowance", 7 * mm: "the seam allowance, 7 mm (9/32 in)"} {
		x.K.Stand.Seam = seam
		if got := x.allowance(); got != want {
			t.Errorf("%v: %q", seam, got)
		}
	}
}

// A keyhole along the edge is 2 mm wider than a plain hole: where a plain one would
// clear the strip, 1 mm less to either side, that it is short rests on our choice.
func TestWhatAStripOutsideRestsOn(t *testing.T) {
	x := costsOf(t, edgeCoat, along+"|closure.front.hole_length=28 mm")
	x.K.Hole.Kind = "keyhole"
	for short, ours := range map[measure.Length]bool{mm: true, mm + 1: false} {
		x.K.Support.Begins = x.K.Outward() - short
		got := slices.ContainsFunc(x.outwardBasis(), func(b plan.Basis) bool { return b.Key == "closure.front.hole" })
		if got != ours {
			t.Errorf("short by %v: %v", short, got)
		}
	}
}

// A short hole across reaches half its length towards the edge, and half of its ±.
func TestWhatAHoleOutsideRestsOn(t *testing.T) {
	x := costsOf(t, edgeCoat, across+"|closure.front.hole_length=28 mm ± 2 mm")
	for beyond, tol := range map[measure.Length]measure.Length{14 * mm: mm, 14*mm - 1: 0, 28 * mm / 3: 0} {
		x.K.Hole.Beyond = beyond
		if got := x.outBasis(&plan.Part{Kind: plan.HolePart}); got.Tol != tol {
			t.Errorf("%v beyond: ± %v, want %v", beyond, got.Tol, tol)
		}
	}
}
