package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/trial"
)

// How far fasteners, holes and loops reach, worked out by hand; mm.
func TestReachesByHand(t *testing.T) {
	k := func(keys string, with ...string) *Closure { return sumsPlan(t, keys, "", with...) }
	hook := &catalog.Notion{Kind: catalog.Hook}
	hook.Width, hook.Length = catalog.Measured{V: 5 * mm, From: catalog.Given}, catalog.Measured{V: 8 * mm, From: catalog.Given}
	frog := &catalog.Notion{Kind: catalog.Frog}
	frog.Knot = catalog.Measured{V: 14 * mm, From: catalog.Given}
	toggle := &catalog.Notion{Kind: catalog.Toggle}
	toggle.Length, toggle.Girth = catalog.Measured{V: 60 * mm, From: catalog.Given}, catalog.Measured{V: 50 * mm, From: catalog.Given}
	big := &catalog.Closure{}
	big.Notion.Kind, big.Notion.Diameter = catalog.Button, catalog.Measured{V: 40 * mm, From: catalog.Given}
	first := func(c *catalog.Closure) measure.Length { a, _ := EndsLeast(c, &Closure{}); return a }
	small := k("", "closure.front.notion.diameter=6 mm", "closure.front.notion.thickness=2 mm", "closure.front.direction=across", "closure.front.hole=keyhole")
	smallAlong := k("", "closure.front.notion.diameter=6 mm", "closure.front.notion.thickness=2 mm", "closure.front.direction=along", "closure.front.hole=keyhole")
	loop := &duffelPlan(t, "closure.toggles.loop=66 mm").Closures[0]
	for _, c := range []struct {
		name string
		has  measure.Length
		is   float64
	}{
		{"a hook, half its width", rimOf(hook), 2.5}, {"its eye, half its length", EyeLong(hook), 4}, {"inside from its bend", LieOf(hook).In, 8},
		{"a frog, half its knot", rimOf(frog), 7},
		{"a round toggle", ShapeOf(toggle).Width, 50 / math.Pi}, {"its middle", ShapeOf(toggle).ShortEnd, 30},
		{"a loop doubled", loop.Loop.Depth, 33},
		{"a hole shorter than 1/4 in, across", k("hole_length = 5\ndirection = \"across\"").Hole.Beyond, 2.5},
		{"a hole shorter than 1/4 in, along", k("hole_length = 5\ndirection = \"along\"").Hole.Beyond, 2.5},
		{"a hole across", k("hole_length = 30\ndirection = \"across\"").Hole.Beyond, 3.175},
		{"a hole along", k("hole_length = 30\ndirection = \"along\"").Hole.Beyond, 3.175},
		{"a hole that is centred", k("hole_length = 30\ndirection = \"along\"\nhole_centred = true").Hole.Beyond, 15},
		// A keyhole of 7 is wider than a button of 6.
		{"up, across", small.Reach.Up, 3.5}, {"down, across", small.Reach.Down, 3.5},
		{"in, along", smallAlong.Reach.In, 3.5}, {"out, along", smallAlong.Reach.Out, 3.5},
		{"least to an end, a button of 40", first(big), 20},
		{"usual first, 24 across", UsualFirst(24*mm, measure.MM), 30}, {"25", UsualFirst(25*mm, measure.MM), 35}, {"19", UsualFirst(19*mm, measure.MM), 25},
		{"usual last", UsualLast(measure.MM), 100}, {"usual last, in", UsualLast(measure.In), 101.6},
		{"a rivet's least to an end", EndLeastOf(&catalog.Notion{Kind: catalog.Rivet, Diameter: catalog.Measured{V: 9 * mm, From: catalog.Given}}), 7.5},
	} {
		if d := c.has.MM() - c.is; math.Abs(d) > 1e-6 {
			t.Errorf("%s: %v mm, by hand %v", c.name, c.has.MM(), c.is)
		}
	}
	for _, c := range []struct {
		name    string
		of      Ratio
		l, want measure.Length
	}{{"near the lift", NearLift, 100, 80}, {"gaps to the hem", HemGaps, 100, 150}, {"a loop too long", loopShare, 100, 25}, {"a punch", punchShare, 100, 50}, {"a backing button", BackingShare, 100, 50}, {"off that", BackingOff, 100, 25}} {
		if got := c.of.Of(c.l); got != c.want {
			t.Errorf("%s: %d of %d", c.name, got, c.l)
		}
	}
	if _, _, rule, _ := PostRange("semi-tubular", 4*mm, 4*mm, 3*mm, measure.MM); rule != "pressed stack + 50 to 70 % of the shank's width" { // three makers
		t.Errorf("%s", rule)
	}
	if twistNeedle != (HandNeedle{"crewel", 5}) { // crewels 5 to 7, from memory
		t.Errorf("%v", twistNeedle)
	}
}

// The first of a row of hooks lies as near to the neck edge as to the other: half
// its width and 1/8 in, up to a millimetre. 2.5 + 3.175 is 6.
func TestFirstHook(t *testing.T) {
	p := Of(trial.Read(t, `garment = "Slip coat (invented)"
units = "mm"
[cloth.shell]
weight = "300 g/m2"
thickness = 1
[[closure]]
name = "front"
fastener = "hook"
over = ["shell", "shell"]
[closure.notion]
kind = "hook-and-eye"
width = 5
length = 8
[closure.run]
length = 600
count = 5
`), false)
	k := &p.Closures[0]
	if first, _ := Ends(p.Garment, k.Closure, k, 0); first.Min != 6*mm {
		t.Errorf("the first at %v", first.Min)
	}
	// As they lie: the hook 8 long and 5 wide from its bend inside.
	for _, pc := range p.PiecesOf(0, 0) {
		for _, q := range pc.Parts {
			if long := map[PartKind]measure.Length{HookPart: 8 * mm, EyePart: 4 * mm}[q.Kind]; q.OutTo-q.OutFrom != long || q.To-q.From != 5*mm || q.OutTo != q.Centre.Out {
				t.Errorf("%s: %v to %v, %v to %v", q.Kind, q.OutFrom, q.OutTo, q.From, q.To)
			}
		}
	}
}

// A fly is tacked midway between its holes, 1/8 in to either side of their line.
func TestTacksOfAFly(t *testing.T) {
	text := strings.NewReplacer("KEYS", "", "STAND", "construction = \"fly\"\nfinished = 30").Replace(sumsCoat) + "first = 30\nlast = 30\n"
	p := Of(trial.Read(t, text), false)
	lines, _ := said(t, p, 0, Over, TackLine, FacingArea)
	if want := []string{"-3.175,120 to 3.175,120", "-3.175,300 to 3.175,300", "-3.175,480 to 3.175,480"}; !slices.Equal(lines, want) {
		t.Errorf("%q, want %q", lines, want)
	}
}

// Round one fastener there is a patch, with 1/2 in about it; under more a strip.
// A button of 24 takes 2 × (12 + 12.7) = 49.4, from 275.3 round the middle of 600.
// Where no edge lies beneath, the strip there has its middle under the buttons.
func TestPatchesByHand(t *testing.T) {
	coat := func(keys, count string) *Plan {
		text := strings.NewReplacer("KEYS", keys, "STAND", "strip = 50", "count = 4", "count = "+count).Replace(sumsCoat)
		if count == "1" {
			text += "first = 300\n"
		}
		return Of(trial.Read(t, text), false)
	}
	for count, want := range map[string]measure.Length{"1": mm * 494 / 10, "2": 600 * mm} {
		p := coat("", count)
		if got := p.StripPieces(0, 0, 0); got.Length != want {
			t.Errorf("under %s: %v long", count, got.Length)
		}
		_, areas := said(t, p, 0, Over, TackLine, InterfacingArea)
		if patch := len(areas) == 1 && strings.HasSuffix(areas[0], ", 275.3 to 324.7"); patch != (count == "1") {
			t.Errorf("under %s: %q", count, areas)
		}
	}
	_, areas := said(t, coat("where = \"pocket\"", "2"), 0, Under, TackLine, InterfacingArea)
	if want := []string{"in -25 to 25, 0 to 600"}; !slices.Equal(areas, want) {
		t.Errorf("in a pocket: %q, want %q", areas, want)
	}
}

// A fly that is drawn to end on the teeth covers them by nothing, which is told.
func TestFlyAtTheTeeth(t *testing.T) {
	text := duffel[:strings.Index(duffel, "[[closure]]")] + strings.Replace(duffel[strings.LastIndex(duffel, "[[closure]]"):], "behind = \"toggles\"\n", "", 1)
	for extension, reach := range map[string]measure.Length{"15": 0, "35": 20 * mm} {
		p := Of(trial.Read(t, strings.Replace(text, "seam = 15", "seam = 15\nconstruction = \"fly\"\nextension = "+extension, 1)), false)
		if got, by := p.Cover(0); got != reach || by != 0 {
			t.Errorf("an extension of %s: %v by %d", extension, got, by)
		}
	}
}

// What is used, each job with a thread of its own and 15 % for waste (thread
// makers' guides); mm: three tacks of 5 in; basting two strips of 600, both their
// sides, and the fold of either edge, a tenth more for going in and out.
func TestThreadOfEachJob(t *testing.T) {
	const threads = "[thread.holes]\ntex = \"Tex 40\"\nfibre = \"polyester\"\nmetres = 100\n[thread.seam]\ntex = \"Tex 30\"\nfibre = \"polyester\"\n[thread.basting]\ntex = \"Tex 25\"\nfibre = \"cotton\"\n[thread.topstitch]\ntex = \"Tex 60\"\nfibre = \"polyester\"\n"
	text := strings.NewReplacer("KEYS", "thread = \"holes\"\nsewn_by = \"hand\"", "STAND", "construction = \"fly\"\nfinished = 30\ntopstitch = 6", "[cloth.shell]", threads+"[cloth.shell]").Replace(sumsCoat)
	p := Of(trial.Read(t, text), false)
	k := &p.Closures[0]
	want := map[string]float64{
		"seam":      3 * 127 * 1.15,
		"basting":   (600*2*2 + 600*2) * 1.1 * 1.15,
		"topstitch": 600 * 2 * (2 + 2*k.Over.Pressed.MM()/k.Stitch.Length.MM()) * 1.15,
	}
	if n := k.Support.Strips[0].Pieces(k.Closure); n != 2 {
		t.Errorf("%d strips", n)
	}
	for _, g := range p.Goods() {
		if l, is := want[g.Own]; is && g.Kind == GoodThread {
			if math.Abs(g.Len[0].MM()-l) > 1e-2 {
				t.Errorf("%s: %v mm, by hand %v", g.Own, g.Len[0].MM(), l)
			}
			delete(want, g.Own)
		}
		if g.Kind == GoodThread && g.Own == "holes" && g.Spool != 100*measure.Metre {
			t.Errorf("a spool of %v", g.Spool)
		}
		if g.Kind == GoodFastener && g.Pack != 1 {
			t.Errorf("buttons in packs of %d", g.Pack)
		}
	}
	if len(want) != 0 {
		t.Errorf("none of %v", want)
	}
	if got := Of(trial.Read(t, text, "closure.front.notion.pack=6"), false).Goods()[0].Pack; got != 6 {
		t.Errorf("packs of %d", got)
	}
}

// A zip is one whatever it closes; a double-breasted front of which no layout is
// there takes two buttons a row, and one inside.
func TestFastenersBeforeTheyAreLaid(t *testing.T) {
	if n, known := duffelPlan(t).Closures[1].Fasteners(0); n != 1 || !known {
		t.Errorf("%d zips", n)
	}
	for rows, want := range map[string]int{"": 8, "inner = true": 9} {
		text := strings.NewReplacer("KEYS", `lap = "double"`, "STAND", "finished = 80\n[closure.rows]\ndistance = 50\n"+rows).Replace(sumsCoat) + "first = 30\nlast = 30\ngap.max = 100\n"
		k := Of(trial.Read(t, text), false).Closures[0]
		if n, known := k.Fasteners(0); n != want || !known || k.Sizes[0].Solved || k.Holes(0) != 0 {
			t.Errorf("%s: %d, known %v, solved %v, %d holes", rows, n, known, k.Sizes[0].Solved, k.Holes(0))
		}
	}
	// Of one fastener both ends give way together.
	text := strings.NewReplacer("KEYS", "", "STAND", "", "count = 4", "count = 1").Replace(sumsCoat)
	p := Of(trial.Read(t, text), false)
	k := &p.Closures[0]
	problem := ProblemOf(p.Garment, k.Closure, k, 0)
	if d := defaultsOf(p.Garment, k.Closure, k, 0, &problem); d.First == nil || d.Last != d.First {
		t.Errorf("%+v", d)
	}
}
