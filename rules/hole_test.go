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
		{"machine", "15 mm", "caution: the attachment does not sew 15 mm (9/16 in), only 10 mm (13/32 in), 13 mm (1/2 in), 16 mm (5/8 in), 18 mm (11/16 in), 21 mm (13/16 in): the next is 16 mm (5/8 in)"},
		{"keyhole", "13 mm", "caution: the attachment does not sew 13 mm (1/2 in), only 16 mm (5/8 in), 18 mm (11/16 in), 21 mm (13/16 in), 24 mm (15/16 in): the next is 16 mm (5/8 in)"},
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
