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

// Edges, bands, facings and strips, worked out by hand; mm.
func TestEdgesAndStripsByHand(t *testing.T) {
	k := func(keys, stand string, with ...string) *Closure { return sumsPlan(t, keys, stand, with...) }
	wide := func(b Band) measure.Length { c := b; c.Width += mm; return c.Extension() - b.Extension() }
	plain, hidden := Band{Width: 40 * mm, Cloth: mm, TurnUnder: 10 * mm}, Band{Width: 40 * mm, Cloth: mm, Concealed: true}
	loop := k("lap = \"edge\"\nloop = 66", "")
	along := k("direction = \"along\"\nhole = \"machine\"", "finished = 40")
	narrow := k("direction = \"along\"\nhole = \"machine\"", "construction = \"folded\"\nband = 10")
	bound := k("direction = \"along\"\nhole = \"bound\"", "finished = 40")
	boundNarrow := k("direction = \"along\"\nhole = \"bound\"", "finished = 20")
	band := k("", "construction = \"band\"\nfinished = 20")
	folded := k("", "construction = \"folded\"\nfinished = 20")
	for _, c := range []struct {
		name string
		has  measure.Length
		is   float64
	}{
		// Half of a band and all of it folded back; of a concealed one three times.
		{"a wider band", wide(plain), 1.5}, {"a wider concealed one", wide(hidden), 3.5},
		{"its widths", Scale(mm, plain.Widths()), 1.5}, {"concealed", Scale(mm, hidden.Widths()), 3.5},
		{"a band sewn on", band.Stand.Band, 40}, {"a folded band", folded.Stand.Band, 40},
		// A loop of 66 lies 33 out, 6 of them under the rim of a button of 24.
		{"a button at a loop", loop.Stand.Have, 33 - 6},
		{"a toggle, its end", Shape{Kind: "toggle", ShortEnd: 20 * mm, Width: 16 * mm}.StandLeast(), 23},
		{"a toggle, its width", Shape{Kind: "toggle", ShortEnd: 5 * mm, Width: 16 * mm}.StandLeast(), 11},
		// Under a hole along the edge, 5 wide, and 1/4 in beside it.
		{"facing", along.Stand.FacingLeast, 2.5}, {"strip, inside", along.Support.Reach, 2.5 + 6.35},
		{"strip, whole", along.Support.Usual, 2 * (2.5 + 6.35)}, {"a band narrower than that", narrow.Support.Whole, 2 * (2.5 + 6.35)},
		// Beside a bound hole in bulky cloth, 3/8 in wide, an inch, or as far as the edge.
		{"bound", bound.Support.UsualReach, 9.525/2 + 25.4}, {"bound, whole", bound.Support.Usual, 2 * (9.525/2 + 25.4)},
		{"bound, at the edge", boundNarrow.Support.UsualReach, 20},
		// 174 stitches, two legs of 30 at 0.4 and two bars, two fifths of 5 wide, through
		// two layers of 2 and 0.5 pressed.
		{"thread of a hole", k("hole_length = 30\nhole = \"machine\"", "").Sewing.HoleThread, 174 * 2 * (math.Hypot(2, 0.4) + k("", "").Over.Pressed.MM())},
	} {
		if d := c.has.MM() - c.is; math.Abs(d) > 1e-5 {
			t.Errorf("%s: %v mm, by hand %v", c.name, c.has.MM(), c.is)
		}
	}
	if band.Stand.Folds != 1 || folded.Stand.Folds != 1 {
		t.Errorf("%d and %d folds", band.Stand.Folds, folded.Stand.Folds)
	}
	none := Stack{Layers: []Layer{{Thick: mm}}}
	if none.Turn() != 0 || none.TurnTol() != 0 || none.Core() != 0 {
		t.Error("no cloth is turned")
	}
}

// The half of buttons of a size that lie nearest to the middle: of 1, 3, 4 and 4 mm
// the third is the middle one, and a quarter from the thin end is the second.
func TestSpreadOfThickness(t *testing.T) {
	cat := &catalog.Catalog{}
	for _, thick := range []measure.Length{mm, 3 * mm, 4 * mm, 4 * mm} {
		n := &catalog.Notion{Kind: catalog.Button}
		n.Diameter, n.Thickness = catalog.Measured{V: 20 * mm, From: catalog.Stock}, catalog.Measured{V: thick, From: catalog.Stock}
		cat.Notions = append(cat.Notions, n)
	}
	if got := UsualThickness(cat, 20*mm); got.V != 4*mm || got.Tol != mm {
		t.Errorf("%v ± %v", got.V, got.Tol)
	}
}

// What texts say of bands ends with the last one, which has no end.
func TestBandsAreTold(t *testing.T) {
	for _, c := range []struct {
		of   Threshold
		says []string
	}{
		{ClassBounds, []string{"light under 135 g/m², medium under 270 g/m², heavy under 400 g/m², very heavy from there, ", "heavy coating from there, ", "heavy denim and duck from there"}},
		{ZipNumberBands, []string{"cloth up to 150 g/m²: 1–4; cloth up to 300 g/m²: 5–6; cloth up to 350 g/m²: 5–10; over it: 7–10; leather: 7–8"}},
		{ZipGroupBands, []string{"1–2 up to 3.8 mm, 3–4 up to 5.7 mm, 5–6 up to 7.0 mm, 7–10 over it"}},
	} {
		text := c.of.Text(measure.MM.Alone())
		for _, says := range c.says {
			if !strings.Contains(text, says) {
				t.Errorf("%s: %q does not say %q", c.of.Name, text, says)
			}
		}
		if last := c.says[len(c.says)-1]; !strings.HasSuffix(text, last) {
			t.Errorf("%s: %q goes on after %q", c.of.Name, text, last)
		}
	}
}

// A cloth of no weight has that of its thickness, at 0.424 g/cm³: 0.6367 mm are
// under 270 g/m², 0.6368 over.
func TestClassByThickness(t *testing.T) {
	for thick, want := range map[float64]string{0.3183: "light", 0.3184: "medium", 0.6367: "medium", 0.6368: "heavy", 0.9433: "heavy", 0.9434: "very heavy", 5: "very heavy"} {
		k := &Closure{Over: Stack{Layers: []Layer{{Layer: catalog.Layer{Cloth: &catalog.Cloth{Kind: "suiting"}}, Thick: measure.FromMM(thick)}}}}
		if c, _ := ClassOf(k); c.Name != want {
			t.Errorf("%v mm: %s, want %s", thick, c.Name, want)
		}
	}
	for weight, want := range map[measure.AreaWeight]string{99.9: "sharp", 100: "universal"} {
		c := &catalog.Cloth{Kind: "shirting"}
		c.Weight.V, c.Weight.From = weight, catalog.Given
		if got := PointFor(c); got != want {
			t.Errorf("%v: %s", weight, got)
		}
	}
}

// A needle of the next class is not firmly wrong where the weight that parts the
// two is from memory; one that is two classes off is, and so it is of coats.
func TestNeedlesOfOtherClasses(t *testing.T) {
	for _, c := range []struct {
		class, kind string
		n           measure.NeedleSize
		any, firm   bool
	}{
		{"medium", "suiting", 60, true, false}, {"light", "suiting", 85, true, false}, {"heavy", "suiting", 60, true, true}, {"light", "suiting", 115, true, true},
		{"heavy", "suiting", 115, true, false}, {"light", "suiting", 50, false, true}, {"light coating", "melton", 105, true, true}, {"light coating", "melton", 110, true, true}, {"light coating", "melton", 111, false, true},
	} {
		if any, firm := OtherClass(c.class, &catalog.Cloth{Kind: c.kind}, c.n); any != c.any || firm != c.firm {
			t.Errorf("%+v: %v, firm %v", c, any, firm)
		}
	}
	if any, firm := OtherClass("light", nil, 90); any || !firm {
		t.Errorf("no cloth: %v, firm %v", any, firm)
	}
}

// The needle for a thick place is one size up, and no thicker than the machine
// takes; never thinner than the one in use.
func TestNeedleForAThickPlace(t *testing.T) {
	for _, c := range []struct{ use, most, want measure.NeedleSize }{{80, 0, 100}, {80, 100, 100}, {80, 90, 90}, {80, 80, 80}, {110, 90, 110}, {80, 55, 80}} {
		var m catalog.Machine
		if c.most != 0 {
			m.NeedleMax.V, m.NeedleMax.From = c.most, catalog.Given
		}
		k := &Closure{Needle: Needle{Use: c.use, Min: 90, Max: 110}, Places: []Place{{Graded: ThickStack + nm}}}
		if got := thickNeedle(&m, k); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
		if k.Places[0].Graded = ThickStack; thickNeedle(&m, k) != c.use {
			t.Errorf("%+v: as thick as is usual", c)
		}
	}
	// Thread over blade, to three places: 0.2345 of 1 mm is 0.235, which it takes.
	for thread, thickest := range map[float64]measure.NeedleSize{0.23445: 90, 0.23451: 100, 0.235: 100, 0.2350001: 100} {
		if _, got := ThreadTakes(measure.FromMM(thread)); got != thickest {
			t.Errorf("a thread of %v mm: to NM %v, want %v", thread, got, thickest)
		}
	}
}

// Of two cloths as heavy the first counts; a heavier one before it.
func TestHeaviestClothCounts(t *testing.T) {
	layer := func(kind string, weight measure.AreaWeight) Layer {
		c := &catalog.Cloth{Kind: kind}
		c.Weight.V, c.Weight.From = weight, catalog.Given
		return Layer{Layer: catalog.Layer{Cloth: c}}
	}
	for _, c := range []struct {
		second measure.AreaWeight
		want   string
	}{{299, "suiting"}, {300, "suiting"}, {301, "leather"}} {
		k := &Closure{Over: Stack{Layers: []Layer{layer("suiting", 300), layer("leather", c.second)}}}
		if _, got := ClassOf(k); got.Kind != c.want {
			t.Errorf("300 and %v g/m²: %s", c.second, got.Kind)
		}
	}
	// A stack over 4 mm takes stitches of 3 (a teaching chart), or the longest of its class.
	for pressed, want := range map[measure.Length]measure.Length{4 * mm: mm * 5 / 2, 4*mm + nm: 3 * mm} {
		k := &Closure{Over: Stack{Pressed: pressed, Layers: []Layer{layer("suiting", 200)}}}
		if got := stitchOf(&catalog.Garment{}, &catalog.Closure{}, k); got.Length != want {
			t.Errorf("%d nm pressed: a stitch of %v", pressed, got.Length)
		}
	}
}

// The only thread of a file sews; of two that are not named for a job neither does.
func TestTheOnlyThread(t *testing.T) {
	for threads, want := range map[string]string{
		"":                                  "",
		"[thread.grey]\ntex = \"Tex 40\"\n": "grey",
		"[thread.grey]\ntex = \"Tex 40\"\n[thread.blue]\ntex = \"Tex 60\"\n": "",
		"[thread.grey]\ntex = \"Tex 40\"\n[thread.seam]\ntex = \"Tex 60\"\n": "seam",
	} {
		text := strings.NewReplacer("KEYS", "", "STAND", "", "[cloth.shell]", threads+"[cloth.shell]").Replace(sumsCoat)
		if got := Of(trial.Read(t, text), false).Closures[0].Thread.Name; got != want {
			t.Errorf("%q: %q, want %q", threads, got, want)
		}
	}
}

// Where one count serves all sizes they are marked by one ruler, the finer one that
// any of them needs; sizes with counts of their own each by theirs. On a check of
// 41 mm gaps of 164 need marks of 1 mm, gaps of 205 whole fives.
func TestOneRulerForOneCount(t *testing.T) {
	for count, one := range map[string]bool{"count = 3": true, "count = { S = 3, M = 3 }": false} {
		text := strings.NewReplacer("KEYS", "", "STAND", "", "[cloth.shell]", "[sizes]\nnames = [\"S\", \"M\"]\n[cloth.shell]\nrepeat = { along = 41 }",
			"length = 600", "length = { S = 388, M = 470 }\nfirst = 30\nlast = 30\nmatch = \"shell\"", "count = 4", count).Replace(sumsCoat)
		z := Of(trial.Read(t, text), false).Closures[0].Sizes
		if !z[0].Solved || !z[1].Solved || (z[0].Step == z[1].Step) != one || z[0].Step >= 5*mm {
			t.Errorf("%s: solved %v and %v, steps %v and %v", count, z[0].Solved, z[1].Solved, z[0].Step, z[1].Step)
		}
	}
}

// A drawcord is of no closure.
func TestCordsAreOfNoClosure(t *testing.T) {
	text := strings.NewReplacer("KEYS", "", "STAND", "", "[cloth.shell]", "[[cord]]\nname = \"hood\"\nat = \"hood\"\nends = \"plain\"\n[cloth.shell]").Replace(sumsCoat)
	n := 0
	for _, g := range Of(trial.Read(t, text), false).Goods() {
		for _, u := range g.Uses {
			if u.Job == JobCord {
				if n++; u.Closure != -1 || g.N[0] != 1 {
					t.Errorf("%s: %d of closure %d", g.ID, g.N[0], u.Closure)
				}
			}
		}
	}
	if n != 1 {
		t.Errorf("%d cords", n)
	}
}

// What a change can alter: nothing of another opening, the layout of its own run,
// the pieces of what shares its opening; all where a table or a name is another.
func TestWhatAChangeTouches(t *testing.T) {
	g := trial.Read(t, laidCoat+"[[closure]]\nname = \"cuff\"\nwhere = \"cuff\"\nfastener = \"snap\"\nover = [\"shell\", \"shell\"]\n[closure.notion]\ndiameter = 15\npost = 4\n[closure.run]\nlength = 60\ncount = 1\n")
	all := []Touch{Rerun, Rerun, Rerun}
	for key, want := range map[string][]Touch{
		"closure.upper.stand.finished": {Touched, Touched, Untouched}, "closure.upper.run.first": {Rerun, Touched, Untouched}, "closure.upper.lap": {Rerun, Touched, Untouched},
		"closure.lower.where": {Touched, Rerun, Untouched}, "closure.lower.rows.inner": {Touched, Rerun, Untouched}, "closure.cuff.notion.diameter": {Untouched, Untouched, Touched},
		"closure.upper.name": all, "closure.upper.opening": all, "closure.upper.behind": all, "closure.upper": all, "closure": all, "closure.none.run.first": all, "closure[0].run.first": all,
		"sizes.names": all, "": all,
		"cloth.shell.thickness": {Touched, Touched, Touched}, "thread.seam.tex": {Touched, Touched, Touched}, "machine.foot_lift": {Touched, Touched, Touched}, "interfacing.in.thickness": {Touched, Touched, Touched},
	} {
		if got := Touches(g, []catalog.With{{Key: key}}); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", key, got, want)
		}
	}
}
