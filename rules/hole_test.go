package rules

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// One closure of a notion on cloth so thick, with a machine.
const holeCoat = `garment = "Quay coat (invented)"
units = "mm"
[machine]
%s
[cloth.shell]
weight = "300 g/m2"
thickness = "%s"
[[closure]]
name = "front"
over = ["shell", "shell"]
notion = { %s }
%s
[closure.run]
length = 600
count = 5
`

func holePlan(t *testing.T, machine, thick, notion, closure string) *Planned {
	t.Helper()
	g, err := catalog.Read("coat.toml", []byte(fmt.Sprintf(holeCoat, machine, thick, notion, closure)), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return Plan(g)
}

// of are the findings of one rule, "conflict: message" each.
func of(p *Planned, rule string) []string {
	var out []string
	for _, f := range p.Findings {
		if f.Rule == rule {
			out = append(out, f.Severity.String()+": "+f.Message())
		}
	}
	return out
}

// A user's page on a buttonhole attachment with fixed dies: straight 10, 13,
// 16, 18, 21 mm, keyhole 16, 18, 21, 24 mm. Diameter + thickness of the
// buttons against them, on thin cloth.
func TestPublishedDies(t *testing.T) {
	for _, c := range []struct {
		d, thick string
		hole     string
		want     float64 // mm; 0: none of the dies
	}{
		{"15 mm", "10 mm", "machine", 0}, // 25 mm, over every die
		{"15 mm", "10 mm", "keyhole", 0},
		{"18 mm", "3 mm", "machine", 21},
		{"20 mm", "4 mm", "machine", 0},
		{"20 mm", "4 mm", "keyhole", 24},
		{"15 mm", "3 mm", "machine", 18},
		{"25 mm", "4 mm", "machine", 0}, // 29 mm
		{"25 mm", "4 mm", "keyhole", 0},
		{"11 mm", "2.5 mm", "machine", 16},
	} {
		p := holePlan(t, `use = "straight-stitch"`, "1 mm", fmt.Sprintf("diameter = %q, thickness = %q", c.d, c.thick), fmt.Sprintf("hole = %q", c.hole))
		h := p.Closures[0].Hole
		found := of(p, "hole-machine")
		switch {
		case c.want == 0 && (len(found) != 1 || !strings.HasPrefix(found[0], "conflict: the button needs a hole of")):
			t.Errorf("%s by %s, %s: %q", c.d, c.thick, c.hole, found)
		case c.want > 0 && (len(found) != 0 || h.Length.MM() != c.want || !h.Fixed):
			t.Errorf("%s by %s, %s: %s %q, want %v mm", c.d, c.thick, c.hole, h.Length, found, c.want)
		}
	}
	// A length asked for must be one of the dies.
	for _, c := range []struct{ hole, length, want string }{
		{"machine", "15 mm", "caution: the attachment does not sew 15 mm, only 10 mm, 13 mm, 16 mm, 18 mm, 21 mm: the next is 16 mm"},
		{"keyhole", "13 mm", "caution: the attachment does not sew 13 mm, only 16 mm, 18 mm, 21 mm, 24 mm: the next is 16 mm"},
		{"machine", "24 mm", "conflict: the hole is to be 24 mm"},
		{"keyhole", "24 mm", ""},
	} {
		p := holePlan(t, `use = "straight-stitch"`, "1 mm", `diameter = "9 mm", thickness = "2 mm"`, fmt.Sprintf("hole = %q\nhole_length = %q", c.hole, c.length))
		got := strings.Join(of(p, "hole-machine"), "; ")
		if !strings.HasPrefix(got, c.want) || (c.want == "") != (got == "") {
			t.Errorf("%s %s: %q", c.hole, c.length, got)
		}
	}
}

// Where the longest die passes the button and has no room for the ease, that
// die is what is sewn, and it is said.
func TestLongestDieWithoutEase(t *testing.T) {
	p := holePlan(t, `use = "straight-stitch"`, "2 mm", `diameter = "17 mm", thickness = "3 mm"`, `hole = "machine"`)
	h := p.Closures[0].Hole
	if h.Length != 21*mm || !h.Fixed {
		t.Errorf("the hole is %s, not the longest die", h.Length)
	}
	if got := of(p, "hole-machine"); len(got) != 1 || !strings.HasPrefix(got[0], "caution: the attachment's longest hole, 21 mm") || !strings.Contains(got[0], "leaves no ease for layers 4 mm (") {
		t.Errorf("%q", got)
	}
	// The kind is chosen by what can be sewn: 22 mm is over every straight
	// die and a keyhole die takes it.
	if h := holePlan(t, `use = "straight-stitch"`, "1 mm", `diameter = "18 mm", thickness = "4 mm"`, "").Closures[0].Hole; h.Kind != "keyhole" || h.Length != 24*mm {
		t.Errorf("%s of %s", h.Kind, h.Length)
	}
}

// What a machine of that kind cannot sew at all.
func TestMachinesWithoutHoles(t *testing.T) {
	const notion = `diameter = "15 mm", thickness = "3 mm"`
	for _, c := range []struct{ machine, closure, want string }{
		{`use = "industrial-lockstitch"`, "", "caution: a machine of the kind industrial sews no buttonholes"},
		{`use = "walking-foot"`, "", "caution: a machine of the kind walking-foot"},
		{`use = "walking-foot"`, `hole = "hand"`, ""},
		{"use = \"walking-foot\"\nbuttonhole_max = 25", "", ""},
		{`use = "walking-foot"`, `hole = "keyhole"`, "conflict: the machine sews no keyholes"},
		{"use = \"domestic\"\nkeyhole = false", `hole = "keyhole"`, "conflict: the machine sews no keyholes"},
		{`use = "domestic"`, `hole = "keyhole"`, ""},
		{`use = "domestic"`, `hole_length = 40`, "conflict: the hole is to be 40 mm"},
		{`use = "domestic"`, `hole_length = 28`, ""},
	} {
		got := strings.Join(of(holePlan(t, c.machine, "1 mm", notion, c.closure), "hole-machine"), "; ")
		if !strings.HasPrefix(got, c.want) || (c.want == "") != (got == "") {
			t.Errorf("%s %s: %q, want %q", c.machine, c.closure, got, c.want)
		}
	}
}

// A button known by its girth alone: how wide it is follows from geometry,
// and is never guessed too small where the shape leaves it open.
func TestAcrossFromGirth(t *testing.T) {
	girth := mms(math.Pi * 20)
	for _, c := range []struct {
		shape plan.Shape
		want  measure.Length
	}{
		{plan.Shape{Kind: "ball", Girth: girth}, mms(20)},
		{plan.Shape{Kind: "ball", Girth: girth, Thickness: mms(20)}, mms(20)},
		{plan.Shape{Kind: "flat", Girth: mms(48), Thickness: mms(4)}, mms(20)},
		{plan.Shape{Kind: "square", Girth: mms(48), Thickness: mms(4)}, mms(20)},
	} {
		near(t, c.shape.Kind+" from its girth", c.shape.Across(), c.want, 2)
	}
	for h := 1; h <= 10; h++ {
		dome := plan.Shape{Kind: "domed", Diameter: mms(20), Thickness: mms(float64(h))}
		known := plan.Shape{Kind: "domed", Girth: 2 * dome.Passing(), Thickness: dome.Thickness}
		if known.Across() < dome.Across() {
			t.Errorf("a dome %d mm high is taken for %s across, not 20 mm", h, known.Across())
		}
	}
}

// The rule's own length must never be called too long or too short, whatever
// the fastener: rounding up and ease stay inside the limits.
func TestOwnHoleIsNeverFaulted(t *testing.T) {
	for _, u := range []measure.Unit{measure.In, measure.MM} {
		for d := measure.Length(6 * mm); d < 60*mm; d += 731 * measure.Micrometre {
			for _, kind := range []string{"flat", "domed", "ball", "odd"} {
				for _, over := range []measure.Length{mm, 5 * mm} {
					for _, shank := range []bool{false, true} {
						s := plan.Shape{Kind: kind, Diameter: d, Thickness: d / 5}
						passing, ease, l := plan.HoleLength(s, over, shank, u)
						most := passing + plan.HoleSlip
						if shank {
							most += plan.ShankEase
						}
						if l < passing+ease || l > most {
							t.Fatalf("%+v over %s shank %v: %s, outside %s to %s", s, over, shank, l, passing+ease, most)
						}
					}
				}
			}
		}
	}
}

// A hole that the file asks for is not sewn by a machine whose longest is shorter,
// whatever the button passes by: as long as that by its figures, or a little longer or
// shorter.
func TestAHoleThatIsAskedFor(t *testing.T) {
	for _, length := range []string{"27.9", "28", "28.1", "29"} {
		g, err := edgeGarment(edgeCoat, `closure.front.hole=machine|machine.keyhole=false|machine.buttonhole_max=27 mm|closure.front.notion.thickness=4 mm ± 2 mm|closure.front.hole_length=`+length+" mm", "")
		if err != nil {
			t.Fatal(err)
		}
		if got := says(g, "hole-machine", Conflict); len(got) != 1 {
			t.Errorf("%s mm: %q, and as a caution %q", length, got, says(g, "hole-machine", Caution))
		}
	}
}

// The lengths that an attachment sews: one that sews just what passes is sewn so, its
// longest is what it can, and keyholes go by their own list where there is one.
func TestLengthsOfAnAttachment(t *testing.T) {
	hole := func(m catalog.Machine, h plan.Hole) *Context {
		return &Context{G: &catalog.Garment{Machine: m}, C: &catalog.Closure{}, K: &plan.Closure{Hole: h}, U: measure.MM}
	}
	worked := func(kind string, passing, length measure.Length) plan.Hole {
		return plan.Hole{Needed: true, Kind: kind, Passing: passing, Formula: passing, Wanted: passing, Advised: passing, Length: length}
	}
	dies := catalog.Machine{ButtonholeSizes: []measure.Length{20 * mm, 28 * mm}}
	max28 := catalog.Machine{ButtonholeMax: catalog.Measured{V: 28 * mm, From: catalog.Given}}
	for _, c := range []struct {
		m                catalog.Machine
		h                plan.Hole
		cut, least, most measure.Length
		named            bool // typed back it holds
	}{
		{dies, worked("machine", 28*mm, 30*mm), 28 * mm, 28 * mm, 28 * mm, false},
		{dies, worked("machine", 28*mm+1, 30*mm), 29 * mm, 28*mm + 1, measure.MaxLength, false},
		{dies, worked("machine", 19*mm, 30*mm), 20 * mm, 20 * mm, 20 * mm, false},
		{max28, worked("machine", 28*mm, 30*mm), 28 * mm, 28 * mm, 28 * mm, false},
		{max28, worked("machine", 27*mm, 30*mm), 27 * mm, 27 * mm, 28 * mm, true},
		{max28, worked("machine", 28*mm+1, 30*mm), 29 * mm, 28*mm + 1, measure.MaxLength, false},
		{max28, worked("hand", 30*mm, 29*mm), 30 * mm, 30 * mm, measure.MaxLength, true},
	} {
		x := hole(c.m, c.h)
		if cut, least, most := x.toCut(); cut != c.cut || least != c.least || most != c.most {
			t.Errorf("%+v: cut %v, from %v to %v, want %v, %v and %v", c.h, cut, least, most, c.cut, c.least, c.most)
		}
		if _, is := x.cutIt().(limits); is != c.named {
			t.Errorf("%+v: named %v", c.h, is)
		}
	}
	// The ease does not count: with 3 of it a machine of 28 sews 31 of what passes by 28.
	for passing, most := range map[measure.Length]measure.Length{28 * mm: 31 * mm, 28*mm + 1: 28 * mm} {
		h := worked("machine", passing, 31*mm)
		h.Ease, h.Wanted, h.Advised = 3*mm, passing+3*mm, 0
		if got := hole(max28, h).holeMost(); got != most {
			t.Errorf("of %v: %v, want %v", passing, got, most)
		}
	}
	x := hole(max28, worked("machine", 28*mm, 28*mm))
	if _, is := x.holeLimit(x.Most(28 * mm)).(bounded); !is {
		t.Error("a most as long as the machine sews has no key")
	}
	if _, is := x.holeLimit(x.Most(28*mm + 1)).(bounded); is {
		t.Error("a most longer than the machine sews has a key")
	}
	if _, is := x.holeLeast(x.Least(28 * mm)).(limits); is {
		t.Error("a least as long as the machine sews has a key")
	}
	if _, is := x.holeLeast(x.Least(28*mm - 1)).(limits); !is {
		t.Error("a least shorter than the machine sews has no key")
	}
	for ease, want := range map[measure.Length]string{0: "", 3 * mm: ", 3 mm (1/8 in) of it ease"} {
		x.K.Hole.Ease = ease
		if got := x.lessEase(); got != want {
			t.Errorf("%v: %q", ease, got)
		}
	}
	// A keyhole where the file does not say so is our choice where a plain hole of that
	// length could be sewn.
	for asked, key := range map[measure.Length]bool{28 * mm: true, 28*mm + 1: false} {
		x := hole(catalog.Machine{ButtonholeSizes: dies.ButtonholeSizes, KeyholeSizes: []measure.Length{20 * mm}}, worked("keyhole", asked, asked))
		if got := x.plainBasis().Key != ""; got != key {
			t.Errorf("%v: %v", asked, got)
		}
	}
	only := hole(catalog.Machine{KeyholeSizes: []measure.Length{20 * mm}}, worked("keyhole", 28*mm, 28*mm))
	if got := only.plainBasis(); got != (plan.Basis{}) {
		t.Errorf("no plain holes are sewn: %+v", got)
	}
	for with, want := range map[string]string{
		"closure.front.hole=keyhole|machine.keyhole=true|machine.buttonhole_sizes=[20,24]":                            "machine.buttonhole_sizes",
		"closure.front.hole=keyhole|machine.keyhole=true|machine.buttonhole_sizes=[20,24]|machine.keyhole_sizes=[22]": "machine.keyhole_sizes",
		"closure.front.hole=machine|machine.keyhole=false|machine.buttonhole_sizes=[20,24]":                           "machine.buttonhole_sizes",
	} {
		x := costsOf(t, edgeCoat, with)
		if got := x.diesPath(); got != want {
			t.Errorf("%s: %s", with, got)
		}
		if got := x.diesBasis().Key; !strings.HasSuffix(got, strings.TrimPrefix(want, "machine.")) {
			t.Errorf("%s: rests on %s", with, got)
		}
	}
}

// A length that the file gives, where a sample let the button through, rests on the
// sample too where more than what passed is asked for.
func TestWhatAnAskedHoleRestsOn(t *testing.T) {
	for length, tol := range map[measure.Length]measure.Length{28 * mm: 0, 29 * mm: mm} {
		x := &Context{G: &catalog.Garment{}, C: &catalog.Closure{}, K: &plan.Closure{}}
		x.C.HoleLen = catalog.Measured{V: length, From: catalog.Given}
		x.C.Sample.HoleLength = catalog.Measured{V: 28 * mm, Tol: mm, From: catalog.Given}
		x.K.Hole = plan.Hole{Given: true, Sampled: true, Formula: 28 * mm, Passing: 28 * mm, Wanted: 28 * mm, Advised: 28 * mm, Length: length}
		if got := x.askedBasis(); got.Tol != tol {
			t.Errorf("%v: %+v, want a ± of %v", length, got, tol)
		}
	}
}

// Sewing handbooks print an eighth of an inch: 3.175 mm.
func TestEighthOfARule(t *testing.T) {
	for u, want := range map[measure.Unit]string{measure.In: "diameter + 1/8 in", measure.MM.Alone(): "diameter + 3.2 mm"} {
		if got := HoleRuleSays("plus-eighth", u); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
