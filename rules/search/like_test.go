package search

import (
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// The classes by which candidates are ranked, ours: a size within a ligne is the
// same, within three is near, then every four are a class more.
func TestClassesOfSize(t *testing.T) {
	for _, c := range []struct {
		off  measure.Length
		want int
	}{
		{0, 0}, {measure.Ligne, 0}, {measure.Ligne + 1, 1}, {3 * measure.Ligne, 1}, {3*measure.Ligne + 1, 2}, {7*measure.Ligne - 1, 2}, {7 * measure.Ligne, 3}, {11 * measure.Ligne, 4},
	} {
		for _, d := range []measure.Length{36*measure.Ligne + c.off, 36*measure.Ligne - c.off} {
			if got := sizeClass(d, 36*measure.Ligne); got != c.want {
				t.Errorf("%v off: class %d, want %d", c.off, got, c.want)
			}
		}
	}
	if sizeClass(36*measure.Ligne, 0) != 0 || sizeClass(36*measure.Ligne, 1) == 0 {
		t.Error("where no size is wished for all are alike")
	}
}

// A tailor's glossary: 20 mm at the front of a jacket (32 ligne), 25 to 30 at that
// of a coat (44 ligne); a flap takes one step less, 24 ligne (two published coats).
func TestUsualSizesOfAPlace(t *testing.T) {
	for _, c := range []struct {
		where string
		coat  bool
		want  measure.Length
	}{{"front", true, 44}, {"front", false, 32}, {"", true, 44}, {"flap", true, 24}, {"cuff", false, 24}, {"pocket", true, 24}, {"collar", true, 24}, {"tab", true, 24}, {"strap", true, 24}} {
		if got := UsualSize(c.where, c.coat); got != c.want*measure.Ligne {
			t.Errorf("%s, coat %v: %g ligne, want %d", c.where, c.coat, got.Lignes(), c.want)
		}
	}
}

func TestHowLike(t *testing.T) {
	horn := func(name, material string) *catalog.Notion {
		n := &catalog.Notion{Kind: catalog.Button, Material: material}
		n.Name = name
		return n
	}
	now := horn("horn-36", "horn")
	for _, c := range []struct {
		n    *catalog.Notion
		want int
	}{{horn("horn-40", "other"), 0}, {horn("corozo-36", "horn"), 1}, {horn("corozo-36", "corozo"), 2}, {nil, 2}} {
		if got := likeMake(c.n, now); got != c.want {
			t.Errorf("%v: %d, want %d", c.n, got, c.want)
		}
	}
	if likeMake(horn("horn-40", "horn"), horn("", "")) != 2 {
		t.Error("what has no name is like nothing")
	}
	for name, want := range map[string]string{"horn-36": "horn", "double-cap-9-8": "double-cap", "coat-hook": "coat-hook", "eyelet-5-5mm": "eyelet", "x": "x", "a-9b": "a", "a-b9": "a"} {
		if got := family(name); got != want {
			t.Errorf("%s is of the family %q, want %q", name, got, want)
		}
	}
	for _, c := range []struct {
		n, use measure.NeedleSize
		want   int
	}{{90, 90, 0}, {100, 90, 1}, {80, 90, 1}, {70, 90, 3}} {
		if got := likeNeedle(c.n, c.use); got != c.want {
			t.Errorf("NM %d to %d: %d, want %d", c.n, c.use, got, c.want)
		}
	}
	thread := func(tex measure.LinearDensity, fibre string) *catalog.Thread {
		th := &catalog.Thread{Fibre: fibre}
		th.Tex.V = tex
		return th
	}
	has := &plan.Thread{Tex: 40, Fibre: "polyester", Min: 40, Max: 60}
	for _, c := range []struct {
		th        *catalog.Thread
		like, fit int
	}{
		{thread(40, "polyester"), 0, 0}, {thread(44, "polyester"), 0, 0}, {thread(45, "polyester"), 1, 0}, {thread(60, "polyester"), 2, 0}, {thread(60.1, "polyester"), 2, 1},
		{thread(39.9, "polyester"), 0, 1}, {thread(40, "cotton"), 2, 0}, {thread(24, "cotton"), 4, 1},
	} {
		if l, f := likeThread(c.th, has), fitThread(c.th, has); l != c.like || f != c.fit {
			t.Errorf("Tex %v, %s: like %d, fit %d, want %d and %d", c.th.Tex.V, c.th.Fibre, l, f, c.like, c.fit)
		}
	}
	inter := func(kind, fixing string, gsm float64) *catalog.Interfacing {
		n := &catalog.Interfacing{Kind: kind, Fixing: fixing}
		n.Weight = catalog.Opt[measure.AreaWeight]{V: measure.AreaWeight(gsm), From: catalog.Given}
		return n
	}
	weft := inter("weft", "fusible", 70)
	for _, c := range []struct {
		n    *catalog.Interfacing
		want int
	}{{weft, 0}, {inter("weft", "fusible", 109), 0}, {inter("weft", "fusible", 110), 1}, {inter("weft", "fusible", 150), 2}, {inter("woven", "fusible", 70), 1}, {inter("woven", "sewn", 70), 3}} {
		if got := likeInterfacing(c.n, weft); got != c.want {
			t.Errorf("%+v: %d, want %d", c.n, got, c.want)
		}
	}
	// A fifth to three fifths of the shell holds a hole, a tenth to all of it may;
	// under a coat a canvas or a weft insertion does.
	k := func(kind string, gsm string) *plan.Closure {
		g := trial.Read(t, "garment = \"x\"\nunits = \"mm\"\n[cloth.s]\nkind = \""+kind+"\"\nweight = \""+gsm+" g/m2\"\n[[closure]]\nname = \"a\"\nuse = \"horn-30\"\nover = [\"s\", \"s\"]\n[closure.run]\nlength = 300\ncount = 3\n")
		return &plan.Of(g, false).Closures[0]
	}
	for _, c := range []struct {
		kind, gsm string
		n         *catalog.Interfacing
		want      int
	}{
		{"suiting", "200", inter("woven", "sewn", 40), 0}, {"suiting", "200", inter("woven", "sewn", 120), 0}, {"suiting", "200", inter("woven", "sewn", 39.9), 1}, {"suiting", "200", inter("woven", "sewn", 120.1), 1},
		{"suiting", "200", inter("woven", "sewn", 20), 1}, {"suiting", "200", inter("woven", "sewn", 200), 1}, {"suiting", "200", inter("woven", "sewn", 19.9), 2}, {"suiting", "200", inter("woven", "sewn", 201), 2},
		{"melton", "500", inter("woven", "sewn", 200), 1}, {"melton", "500", inter("canvas", "sewn", 200), 0}, {"melton", "500", inter("weft", "fusible", 200), 0}, {"melton", "250", inter("woven", "sewn", 100), 0},
	} {
		if got := fitInterfacing(c.n, k(c.kind, c.gsm)); got != c.want {
			t.Errorf("%s of %s with %s of %v g/m²: %d, want %d", c.kind, c.gsm, c.n.Kind, c.n.Weight.V, got, c.want)
		}
	}
}

// The limits of the searches, ours: beyond them a search says that it stopped.
// They count, so that it stops at the same place on every machine.
func TestLimitsOfOurs(t *testing.T) {
	for _, c := range []struct {
		what     string
		has, are float64
	}{
		{"plans of one garment", plansMost, 4096}, {"places that they try", placesMost, 67_108_864}, {"plans of one choice", choiceMost, 1_048_576}, {"places of one choice", choicePlaces, 4_294_967_296},
		{"fixes shown", fixesShown, 3}, {"of the same keys", fixesAlike, 2}, {"own proposals", singlesTried, 48}, {"pairs", pairsTried, 120}, {"own pairs", pairsOwn, 10}, {"for a caution", cautionTried, 8},
		{"proposals for a joint fix", jointOf, 8}, {"plans of sets", jointPlans, 300}, {"sets", jointSets, 200_000}, {"conflicts that are too many", jointMany, 12}, {"candidates for each then", jointTries, 3},
		{"own proposals before the next conflict", singlesFirst, 6}, {"conflicts that a change brings", pairsBrings, 2}, {"kept facts that are told", keptTold, 4}, {"sets in brief", jointBrief, 50},
		{"plans of one among many", plansLeast, 200}, {"near misses", nearMisses, 5}, {"sizes of a family", likeSize, 1.5}, {"candidates listed", ListLimit, 12},
	} {
		if c.has != c.are {
			t.Errorf("%s: %v, want %v", c.what, c.has, c.are)
		}
	}
}

// A member of a family is at most half as large again as what the file has, or
// a third smaller: ours.
func TestAlikeInSize(t *testing.T) {
	for _, c := range []struct {
		a, b measure.Length
		want bool
	}{{20, 20, true}, {30, 20, true}, {20, 30, true}, {31, 20, false}, {20, 31, false}} {
		if got := alike(c.a, c.b); got != c.want {
			t.Errorf("%d for %d: %v", c.a, c.b, got)
		}
	}
}
