package guide

import (
	stdcmp "cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"

	"github.com/google/go-cmp/cmp"
)

// Law 5 of the pieces: a guide draws the places of the plan's pieces, all of
// them and no others. The places are read back from what is drawn, not from
// what the SVG says about it, and held against plan.Piece.

// place is a line, an area or a part, as it is drawn: four lengths, in mm,
// and what is said about it.
type place struct {
	class string
	x     [4]float64 // out from, at from, out to, at to
	cross pt         // of a numbered part: its centre
	cut   float64    // of a hole: the cut
	says  string
	words string // of the label of its number, where it has one
}

func (p place) String() string {
	return fmt.Sprintf("%s %.3f cross %.3f cut %.3f %s", p.class, p.x, p.cross, p.cut, p.says)
}

// near01 compares lengths in mm as a guide must keep them.
var near01 = cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 0.01 })

// pieceKey names a piece among all of a guide.
type pieceKey struct{ opening, size, side string }

// placesDrawn are the places of an SVG by piece: the origin of each lies
// where its first line, the centre or meeting line, crosses its top.
func placesDrawn(t *testing.T, p *rules.Planned, groups []group) map[pieceKey][]place {
	t.Helper()
	type drawn struct {
		groups [][]group // a place and what belongs to it
	}
	pieces := map[pieceKey]*drawn{}
	var keys []pieceKey
	var last *drawn
	labels := map[pieceKey]map[string]string{}
	var at pieceKey
	for _, g := range groups {
		kind, _, _ := strings.Cut(g.class, "-")
		switch {
		case (kind == "line" || kind == "area" || kind == "part") && g.data["data-side"] != "":
			k := pieceKey{g.data["data-opening"], g.data["data-sizes"], g.data["data-side"]}
			if pieces[k] == nil {
				pieces[k] = &drawn{}
				labels[k] = map[string]string{}
				keys = append(keys, k)
			}
			last, at = pieces[k], k
			last.groups = append(last.groups, []group{g})
		case g.class == "label" && g.data["data-number"] != "":
			n := g.data["data-closure"] + " " + g.data["data-number"]
			labels[at][n] += strings.Join(g.texts, "|") + "|"
		case last != nil:
			n := len(last.groups) - 1
			last.groups[n] = append(last.groups[n], g)
		}
	}
	out := map[pieceKey][]place{}
	for _, k := range keys {
		var x0, y0 float64
		found := 0
		for _, gs := range pieces[k].groups {
			switch line := gs[0]; {
			case line.class == "line-centre" || line.class == "line-meeting":
				x0 = line.paths[0][0].x
				found |= 1
			case line.class == "line-top":
				y0 = line.paths[0][0].y
				found |= 2
			}
		}
		if found != 3 {
			t.Fatalf("%v: no origin", k)
		}
		sign := 1.0 // the edge of the wearer's right front looks to the viewer's right
		for i := range p.Garment.Closures {
			if c := &p.Garment.Closures[i]; c.OpeningName() == k.opening && (p.Garment.Over(c) == "right") != (k.side != "under") {
				sign = -1
			}
		}
		var list []place
		for _, gs := range pieces[k].groups {
			g := gs[0]
			q := place{class: strings.Fields(g.class)[0]}
			if strings.HasPrefix(g.class, "line-") {
				a, b := g.paths[0][0], g.paths[0][1]
				q.x = [4]float64{(a.x - x0) * sign, a.y - y0, (b.x - x0) * sign, b.y - y0}
			} else {
				box := nowhere
				for _, path := range g.paths {
					box = box.join(boxOf(path, 0))
				}
				a, b := (box.x0-x0)*sign, (box.x1-x0)*sign
				q.x = [4]float64{min(a, b), box.y0 - y0, max(a, b), box.y1 - y0}
			}
			for _, n := range []string{"layer", "name", "role", "number", "closure", "stitched-mm", "eye"} {
				if v := g.data["data-"+n]; v != "" {
					q.says += n + " " + v + "; "
				}
			}
			for _, h := range gs[1:] {
				switch word, _, _ := strings.Cut(h.class, " "); word {
				case "centre":
					a, b := h.paths[0], h.paths[1]
					q.cross = pt{((a[0].x+a[1].x)/2 - x0) * sign, (b[0].y+b[1].y)/2 - y0}
				case "cut":
					box := nowhere
					for _, path := range h.paths {
						box = box.join(boxOf(path, 0))
					}
					q.cut = max(box.x1-box.x0, box.y1-box.y0)
				}
			}
			q.words = labels[k][g.data["data-closure"]+" "+g.data["data-number"]]
			list = append(list, q)
		}
		for _, size := range strings.Split(k.size, " ") {
			one := pieceKey{k.opening, size, k.side}
			if out[one] != nil {
				t.Errorf("%v is drawn twice", one)
			}
			out[one] = list
		}
	}
	return out
}

// placesPlanned are the places of the pieces of a plan.
func placesPlanned(p *rules.Planned) map[pieceKey][]place {
	out := map[pieceKey][]place{}
	for _, o := range p.Garment.Openings() {
		for size, name := range p.Garment.Sizes {
			pieces := p.PiecesOf(o.Closures[0], size)
			for i := range pieces {
				pc := &pieces[i]
				var list []place
				for _, a := range pc.Areas {
					q := place{class: "area-" + a.Kind.String(), x: [4]float64{a.OutFrom.MM(), a.From.MM(), a.OutTo.MM(), a.To.MM()}}
					if a.Kind == plan.InterfacingArea {
						q.says += "layer " + a.Layer.String() + "; "
					}
					if a.Name != "" {
						q.says += "name " + a.Name + "; "
					}
					list = append(list, q)
				}
				for _, l := range pc.Lines {
					list = append(list, place{class: "line-" + l.Kind.String(), x: [4]float64{l.From.Out.MM(), l.From.At.MM(), l.To.Out.MM(), l.To.At.MM()}})
				}
				for j := range pc.Parts {
					r := &pc.Parts[j]
					q := place{class: "part-" + r.Kind.String(), x: [4]float64{r.OutFrom.MM(), r.From.MM(), r.OutTo.MM(), r.To.MM()}, cut: r.Cut.MM()}
					q.says = fmt.Sprintf("layer %d; role %s; number %d; closure %s; ", r.Layer, r.Role, r.Number, p.Garment.Closures[r.Closure].Name)
					if r.Kind == plan.HolePart {
						q.says += "stitched-mm " + num(r.Stitched.MM()) + "; "
					}
					if r.Eye != plan.NoEye {
						q.says += "eye " + r.Eye.String() + "; "
					}
					if numbered(r) {
						q.cross = pt{r.Centre.Out.MM(), r.Centre.At.MM()}
						q.words = atWords(p, r, o.Closures[0], size)
					}
					list = append(list, q)
				}
				out[pieceKey{o.Name, name, pc.Side.String()}] = list
			}
		}
	}
	return out
}

// atWords is how the label of a part says how far below the top it lies.
func atWords(p *rules.Planned, r *plan.Part, first, size int) string {
	if run := p.Garment.Closures[first].Run.Length.At(size).V; run <= measure.Inch*8 {
		return r.Centre.At.ShortPlace(p.Garment.Units)
	}
	return r.Centre.At.TextPlace(p.Garment.Units)
}

// comparePlace puts places in an order that does not turn on a rounding.
func comparePlace(a, b place) int {
	n := stdcmp.Or(strings.Compare(a.class, b.class), strings.Compare(a.says, b.says))
	for i := range a.x {
		if n == 0 && math.Abs(a.x[i]-b.x[i]) > 0.01 {
			return int(math.Copysign(1, a.x[i]-b.x[i]))
		}
	}
	return n
}

// comparePlaces holds a guide against its plan.
func comparePlaces(t *testing.T, p *rules.Planned) {
	t.Helper()
	_, groups := parsed(t, marked(t, p, Options{Format: "svg"}))
	want, got := placesPlanned(p), placesDrawn(t, p, groups)
	for k, list := range want {
		drawn := got[k]
		delete(got, k)
		// The label of a number says where it lies.
		for i := range list {
			for j := range drawn {
				if q := &drawn[j]; q.class == list[i].class && q.says == list[i].says && cmp.Equal(q.x, list[i].x, near01) {
					if w := list[i].words; w != "" && !slices.Contains(strings.Split(q.words, "|"), w) {
						t.Errorf("%v, %v: its label says %q, want %q", k, list[i], q.words, w)
					}
				}
			}
		}
		clean := func(list []place) []place {
			out := slices.Clone(list)
			for i := range out {
				out[i].words = ""
			}
			slices.SortFunc(out, comparePlace)
			return slices.Compact(out) // what lies twice in one place is one place
		}
		if diff := cmp.Diff(clean(list), clean(drawn), cmp.AllowUnexported(place{}, pt{}), near01); diff != "" {
			t.Errorf("%v (-planned +drawn)\n%s", k, diff)
		}
	}
	for k := range got {
		t.Errorf("%v is drawn and is not planned", k)
	}
}

// TestPlaces: law 5 for the garments of the boatyard.
func TestPlaces(t *testing.T) {
	for _, file := range garments(t) {
		t.Run(strings.TrimSuffix(file[strings.LastIndex(file, "/")+1:], ".toml"), func(t *testing.T) {
			comparePlaces(t, planned(t, file))
		})
	}
}

// TestPlacesOfRandomGarments: law 5 for garments of every fastener, lap,
// construction and hole.
func TestPlacesOfRandomGarments(t *testing.T) {
	t.Parallel()
	n := many(60, 300)
	seen := map[string]int{}
	for seed := 0; n > 0; seed++ {
		toml := randomGarment(uint64(seed))
		g, err := catalog.Read("coat.toml", []byte(toml), catalog.Options{})
		if err != nil {
			if seed > 20*n+200 {
				t.Fatalf("too few random garments can be read: %v\n%s", err, toml)
			}
			continue
		}
		n--
		p := rules.Plan(g)
		comparePlaces(t, p)
		for i := range p.Closures {
			for _, pieces := range p.Closures[i].Pieces {
				for j := range pieces {
					for _, l := range pieces[j].Lines {
						seen["line "+l.Kind.String()]++
					}
					for _, a := range pieces[j].Areas {
						seen["area "+a.Kind.String()]++
					}
					for _, q := range pieces[j].Parts {
						seen["part "+q.Kind.String()]++
						seen["role "+q.Role.String()]++
					}
				}
			}
		}
		if t.Failed() {
			t.Fatalf("seed %d:\n%s", seed, toml)
		}
	}
	// The test is worth its name only if it meets all there is.
	for k := plan.CentreLine; k <= plan.StripeLine; k++ {
		if seen["line "+k.String()] == 0 {
			t.Errorf("no garment has a line %s", k)
		}
	}
	for k := plan.InterfacingArea; k <= plan.TurnUpArea; k++ {
		if seen["area "+k.String()] == 0 {
			t.Errorf("no garment has an area %s", k)
		}
	}
	for k := plan.ButtonPart; k <= plan.BackingPart; k++ {
		if seen["part "+k.String()] == 0 {
			t.Errorf("no garment has a part %s", k)
		}
	}
	for _, r := range []plan.Role{plan.Works, plan.Show, plan.Inner} {
		if seen["role "+r.String()] == 0 {
			t.Errorf("no garment has the role %s", r)
		}
	}
}

// TestFrontsAreMirrored: what works on one side comes to lie on what works on
// the other when the two meeting lines are laid on each other: the drawn
// crosses of the two sides are mirror images.
func TestFrontsAreMirrored(t *testing.T) {
	for _, file := range garments(t) {
		p := planned(t, file)
		_, groups := parsed(t, marked(t, p, Options{Format: "svg"}))
		drawn := placesDrawn(t, p, groups)
		for k, over := range drawn {
			if k.side == "under" {
				continue
			}
			under := drawn[pieceKey{k.opening, k.size, "under"}]
			for _, q := range over {
				if q.cross == (pt{}) || strings.Contains(q.says, "role show") {
					continue
				}
				id := q.says[strings.Index(q.says, "role"):strings.Index(q.says, "; closure")]
				if !slices.ContainsFunc(under, func(o place) bool {
					return strings.Contains(o.says, id) && near(o.cross.x, -q.cross.x, 0.01) && near(o.cross.y, q.cross.y, 0.01)
				}) {
					t.Errorf("%s %v: nothing lies under %v", file, k, q)
				}
			}
		}
	}
}
