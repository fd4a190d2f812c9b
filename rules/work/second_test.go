package work

import (
	"slices"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// twoLayers is a front with a fusible on the cloth and hair canvas over it.
const twoLayers = `garment = "Pier coat (invented)"
units   = "mm"
[cloth.shell]
use = "melton"
thickness = "2.4 mm"
[interfacing.fusible]
use   = "weft-fusible-medium"
width = "900 mm"
[interfacing.canvas]
use   = "hair-canvas"
width = "1500 mm"
[[closure]]
name      = "front"
use       = "horn-40"
direction = "across"
over      = ["shell", "fusible", "canvas", "shell"]
[closure.stand]
construction = "faced"
finished     = "25 mm"
seam         = "15 mm"
facing       = "110 mm"
strip        = "75 mm"
[closure.run]
length = "600 mm"
count  = 5
`

// What a second interfacing takes is planned as the first is: its width from a
// key of its own, else 10 mm wider, so that the two inner edges do not end on
// one line (common practice, no source; the 10 mm are ours). Both begin on the
// same line, both lie on both fronts: two strips of each, as long as the run
// (arithmetic).
func TestASecondInterfacingIsPlannedLikeTheFirst(t *testing.T) {
	for _, c := range []struct {
		name, key string
		wide      measure.Length
	}{
		{"not said", "", 85 * measure.Millimetre},
		{"said", "\nstrips = [ { name = \"canvas\", width = \"120 mm\" } ]", 120 * measure.Millimetre},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, says := order(t, strings.Replace(twoLayers, "strip        = \"75 mm\"", "strip        = \"75 mm\""+c.key, 1))
			for side := range 2 {
				pc := &p.Closures[0].Pieces[0][side]
				areas := map[string]plan.Area{}
				for _, a := range pc.Areas {
					if a.Kind == plan.InterfacingArea {
						areas[a.Name] = a
					}
				}
				one, two := areas["fusible"], areas["canvas"]
				if got := one.OutTo - one.OutFrom; got != 75*measure.Millimetre {
					t.Errorf("%s: fusible %s wide, want 75 mm", pc.Piece, got)
				}
				if got := two.OutTo - two.OutFrom; got != c.wide {
					t.Errorf("%s: canvas %s wide, want %s", pc.Piece, got, c.wide)
				}
				if one.OutTo != two.OutTo {
					t.Errorf("%s: they begin at %s and %s", pc.Piece, one.OutTo, two.OutTo)
				}
			}
			bought := 0
			for _, g := range p.Goods() {
				if g.Kind == plan.GoodInterfacing && len(g.Cut) > 0 {
					bought++
					n := 0
					for _, q := range g.Cut[0] {
						n += q.N
						if g.Own == "canvas" && q.Width != c.wide {
							t.Errorf("canvas bought %s wide, want %s", q.Width, c.wide)
						}
					}
					if n != 2 {
						t.Errorf("%s: %d strips, want 2", g.Own, n)
					}
				}
			}
			if bought != 2 {
				t.Errorf("%d interfacings bought, want 2", bought)
			}
			// The fusible first: what is basted over it cannot be fused under.
			lines := strings.Split(says, "\n")
			at := func(begins string) int {
				return slices.IndexFunc(lines, func(s string) bool { return strings.HasPrefix(s, begins) })
			}
			cut, cutToo := at("Cut 2 strips of the fusible"), at("Cut 2 strips of the canvas")
			fuse, baste := at("Fuse the fusible interfacing to both fronts"), at("Baste the canvas interfacing to both fronts")
			if cut < 0 || cutToo < 0 || fuse < 0 || baste < fuse {
				t.Errorf("cut %d and %d, fuse %d, baste %d:\n%s", cut, cutToo, fuse, baste, says)
			}
			if strings.Contains(says, "not in what to buy") {
				t.Error("it says that it is not bought")
			}
		})
	}
}

// An interfacing of the under layers alone, and one that lies twice in a
// stack, are counted as often as they lie (arithmetic).
func TestInterfacingsAreCountedAsTheyLie(t *testing.T) {
	for _, c := range []struct {
		layers string
		want   map[string]int
	}{
		{`over = ["shell", "fusible", "shell"]` + "\n" + `under = ["shell", "canvas", "shell"]`, map[string]int{"fusible": 1, "canvas": 1}},
		{`over = ["shell", "fusible", "fusible", "shell"]`, map[string]int{"fusible": 4}},
		{`over = ["shell", "fusible", "shell"]` + "\n" + `under = ["shell", "fusible", "canvas", "shell"]`, map[string]int{"fusible": 2, "canvas": 1}},
	} {
		p, says := order(t, strings.Replace(twoLayers, `over      = ["shell", "fusible", "canvas", "shell"]`, c.layers, 1))
		got := map[string]int{}
		for _, g := range p.Goods() {
			if g.Kind == plan.GoodInterfacing && len(g.Cut) > 0 {
				for _, q := range g.Cut[0] {
					got[g.Own] += q.N
				}
			}
		}
		for name, n := range c.want {
			if got[name] != n {
				t.Errorf("%s: %d of %s, want %d", c.layers, got[name], name, n)
			}
			if !strings.Contains(says, "Cut "+piecesOf(n, "strip")+" of the "+name) {
				t.Errorf("%s: %s is not cut %d times:\n%s", c.layers, name, n, says)
			}
		}
		if n := c.want["fusible"]; n == 4 && !strings.Contains(says, "one for each of its two layers") {
			t.Errorf("%s: it does not say that it lies twice:\n%s", c.layers, says)
		}
	}
}

// So are snaps: nothing was on the list for them.
func TestSnapsInPlaceOfACordAreBought(t *testing.T) {
	p, says := order(t, strings.Replace(faulty, `"elastic"`, `"snaps"`, 1))
	if !strings.Contains(says, "Buy snaps for the hood") {
		t.Errorf("no snaps are bought:\n%s", says)
	}
	if p.Goods().Find(plan.CordID(&p.Garment.Cords[0])) == nil {
		t.Error("they are not among the goods")
	}
}

const faulty = `garment = "Mole jacket (invented)"
units   = "mm"
wearer  = "child"
age     = 4
[cloth.shell]
use = "melton"
thickness = "2.4 mm"
[thread.seam]
use = "polyester-tex-40"
[thread.heavy]
use = "polyester-tex-60"
[[cord]]
name = "hood"
at = "hood"
instead = "elastic"
[[closure]]
name   = "front"
use    = "toggle-horn-50"
hole   = "loop"
thread = "heavy"
over   = ["shell", "shell"]
[closure.run]
length = 400
count  = 3
`

// Elastic that takes the place of a cord is bought, and used. (Arithmetic: what
// is used is bought.)
func TestElasticInPlaceOfACordIsBought(t *testing.T) {
	p, says := order(t, faulty)
	if !strings.Contains(says, "Buy elastic for the hood") {
		t.Errorf("no elastic is bought:\n%s", says)
	}
	if p.Goods().Find(plan.CordID(&p.Garment.Cords[0])) == nil {
		t.Error("it is not among the goods")
	}
	for _, task := range Order(p, "") {
		if strings.HasPrefix(task.Do, "No cord at the hood") && !slices.Contains(task.Uses, plan.CordID(&p.Garment.Cords[0])) {
			t.Errorf("%q uses %q", task.Do, task.Uses)
		}
	}
}

// The loops of a closure are sewn on with the thread that it names for itself,
// as its holes would be. (The garment file says so.)
func TestLoopsTakeTheThreadOfTheirClosure(t *testing.T) {
	p, _ := order(t, faulty)
	if got := p.ThreadOf(0, plan.JobLoops); got.Name != "heavy" {
		t.Errorf("loops with %q, want heavy", got.Name)
	}
}

// The iron of the last pressing goes by the bulk of a blend, as tailors do; what
// the care symbol of the rest allows is said there too. (20 % of polyamide: one
// dot, 110 °C, ISO 3758.)
func TestTheLastIronSaysTheBlend(t *testing.T) {
	_, says := order(t, faulty)
	at := strings.Index(says, "Finish with the iron")
	if at < 0 {
		t.Fatal(says)
	}
	line, _, _ := strings.Cut(says[at:], "\n")
	if !strings.Contains(line, "20 % of polyamide") || !strings.Contains(line, "110 °C") || strings.Contains(line, "stands no more") {
		t.Errorf("%q", line)
	}
}
