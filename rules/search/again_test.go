package search

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"

	"github.com/google/go-cmp/cmp"
)

// told is a finding in full.
func told(p *rules.Planned) []string { return toldFrom(p, rules.Note) }

// toldFrom is told of findings that are at least so grave.
func toldFrom(p *rules.Planned, least rules.Severity) []string {
	out := []string{}
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Severity < least {
			continue
		}
		out = append(out, fmt.Sprintf("%s %s %s %s %s %+v: %s", f.Severity, f.Rule, f.Closure, f.Size, f.Path(), f.Numbers, f.Message()))
	}
	return out
}

// usedRoom is room that plan after plan is made in.
var usedRoom = newRoom()

// sameAgain compares a plan that takes over what a change does not touch with
// the whole plan. It says how many closures were taken over.
func sameAgain(t *testing.T, name string, base *rules.Planned, h *catalog.Garment, with []catalog.With) (over int) {
	t.Helper()
	touch := plan.Touches(h, with)
	got, want := base.Again(h, touch), rules.Found(h)
	if diff := cmp.Diff(told(want), told(got)); diff != "" {
		t.Errorf("%s: %s: findings (-whole +again):\n%s", name, with, diff)
	}
	base.AgainIn(usedRoom, h, touch)
	if diff := cmp.Diff(toldFrom(want, rules.Caution), toldFrom(usedRoom, rules.Caution)); diff != "" {
		t.Errorf("%s: %s: findings in a room that was used, without notes (-whole +again):\n%s", name, with, diff)
	}
	for i := range want.Closures {
		if touch[i] == plan.Untouched {
			over++
		}
		for size := range h.Sizes { // so that both have laid them
			got.PiecesOf(i, size)
			want.PiecesOf(i, size)
		}
	}
	for i := range want.Closures {
		if !reflect.DeepEqual(want.Closures[i], got.Closures[i]) {
			t.Errorf("%s: %s: closure %d (-whole +again):\n%s", name, with, i, cmp.Diff(fmt.Sprintf("%+v", want.Closures[i]), fmt.Sprintf("%+v", got.Closures[i])))
		}
	}
	return over
}

// changesFor are changes that rules propose for a garment, and a few of every
// kind of key.
func changesFor(p *rules.Planned) [][]catalog.With {
	g := p.Garment
	var out [][]catalog.With
	for i := range p.Findings {
		f := &p.Findings[i]
		x := contextOf(p, f)
		for _, c := range proposals(p, []*rules.Finding{f}, nil) {
			out = append(out, c.With)
		}
		if x.C != nil {
			for _, c := range rules.ProposeAny(&x, f) {
				out = append(out, c.With)
			}
		}
	}
	one := func(w ...catalog.With) { out = append(out, w) }
	for i := range g.Closures {
		key := func(k string) string { return catalog.Key("closure", g.Closures[i].Name) + "." + k }
		one(catalog.Set(key("where"), "cuff"))
		one(catalog.Set(key("lap"), "double"), catalog.SetLength(key("rows.distance"), 70*mm, measure.MM))
		one(catalog.Set(key("lap"), "edge"))
		one(catalog.Set(key("opening"), "front"))
		one(catalog.Set(key("name"), "other"))
		one(catalog.Set(key("run.count"), 3))
		one(catalog.SetLength(key("run.first"), 30*mm, measure.MM))
		one(catalog.SetLength(key("run.hem"), 25*mm, measure.MM))
		one(catalog.SetLength(key("stand.facing"), 60*mm, measure.MM))
		one(catalog.SetLength(key("stand.finished"), 33*mm, measure.MM))
		one(catalog.SetLength(key("flap.width"), 60*mm, measure.MM))
		one(catalog.SetLength(key("inset"), 80*mm, measure.MM))
		one(catalog.Set(key("hole"), "loop"))
		for _, use := range []string{"horn-40", "horn-24", "ball-16", "ring-spring-15", "coil-5-separating", "duffel-horn-60"} {
			one(g.Replace("closure", g.Closures[i].Name, use)...)
		}
	}
	one(catalog.Set("wearer", "child"))
	one(catalog.Set("cut_for", "men"))
	one(catalog.Set("units", "mm"))
	one(catalog.SetLength("machine.foot_lift", 4*mm, measure.MM))
	for _, n := range g.ClothNames {
		one(g.Replace("cloth", n, "melton")...)
		one(catalog.SetLength(catalog.Key("cloth", n, "thickness"), 2*mm, measure.MM))
		one(catalog.SetTable(catalog.Key("cloth", n, "repeat"), map[string]any{"along": "50 mm"}))
	}
	for _, n := range g.InterfNames {
		one(g.Replace("interfacing", n, "hair-canvas")...)
	}
	for _, n := range g.ThreadNames {
		one(g.Replace("thread", n, "polyester-tex-90")...)
	}
	return out
}

// Planning again only what a change touches is planning the whole garment.
func TestAgainIsTheWholePlan(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(9, 9))
	tried, closures, over := 0, 0, 0
	look := func(name string, g *catalog.Garment, every int) {
		p := rules.Plan(g)
		base := rules.Base(g, nil)
		all := changesFor(p)
		for i := r.IntN(every); i < len(all); i += 1 + r.IntN(2*every-1) {
			with := all[i]
			if i%7 == 0 { // two changes together
				with = append(with[:len(with):len(with)], all[r.IntN(len(all))]...)
			}
			h, err := g.Alter(with...)
			if err != nil {
				continue
			}
			tried, closures = tried+1, closures+len(h.Closures)
			over += sameAgain(t, name, base, h, with)
		}
		// What was taken over is as it was.
		if diff := cmp.Diff(told(rules.Found(g)), told(base)); diff != "" {
			t.Errorf("%s: the plan that it began from changed:\n%s", name, diff)
		}
	}
	for _, pattern := range []string{"garments", "pieces", "fixes", "rules/plaid-gaps", "rules/spacing-clash"} {
		names, err := filepath.Glob(filepath.Join("..", "..", "testdata", pattern, "*.toml"))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil || !strings.Contains(string(text), "[[closure]]") {
				continue
			}
			g, err := catalog.Read(name, text, catalog.Options{})
			if err != nil {
				t.Fatal(err)
			}
			look(filepath.Base(name), g, many(10, 1))
		}
	}
	for seed := uint64(3000); seed < 3000+uint64(many(30, 200)); seed++ {
		if g, _, _ := random(t, seed, 6); g != nil {
			look(fmt.Sprint("seed ", seed), g, many(8, 2))
		}
	}
	for seed := uint64(4000); seed < 4000+uint64(many(40, 200)); seed++ { // with openings
		m := newMaker(seed)
		if g, err := catalog.Read("coat.toml", []byte(m.Opening()), catalog.Options{}); err == nil {
			look(fmt.Sprint("opened ", seed), g, many(8, 2))
		}
	}
	if tried < 500 || over < closures/5 {
		t.Errorf("%d changes were tried; of %d closures %d were taken over", tried, closures, over)
	}
	t.Logf("%d changes; of %d closures %d were taken over", tried, closures, over)
}

// So is moving a measured length in place.
func TestMovedIsTheWholePlan(t *testing.T) {
	t.Parallel()
	moved := 0
	look := func(name string, g *catalog.Garment) {
		f := newFrail(rules.Plan(g), "hand")
		f.from, f.room.Unnoted = rules.Base(f.g, nil), false
		for i := range f.inputs {
			in := &f.inputs[i]
			for _, by := range []measure.Length{-in.now.Tol, in.now.Tol, 5 * in.now.Tol} {
				if in.now.V+by <= 0 {
					continue
				}
				in.move(in.now.V + by)
				moved++
				if diff := cmp.Diff(told(rules.Found(f.g)), told(f.again(in))); diff != "" {
					t.Errorf("%s: %s moved by %s (-whole +again):\n%s", name, in.path, by.SignedText(measure.MM), diff)
				}
			}
			in.move(in.now.V)
		}
	}
	for seed := uint64(6000); seed < 6000+uint64(many(30, 300)); seed++ {
		if g, _, _ := random(t, seed, 6); g != nil {
			look(fmt.Sprint("seed ", seed), g)
		}
		m := newMaker(seed)
		text := strings.NewReplacer(" mm\"", " mm ± 0.4 mm\"", " in\"", " in ± 1/32 in\"").Replace(m.Opening())
		if g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{}); err == nil {
			look(fmt.Sprint("opened ", seed), g)
		}
	}
	if moved < 1000 {
		t.Errorf("only %d lengths were moved", moved)
	}
	t.Logf("%d lengths moved", moved)
}

// What is told of a closure's fastener does not hang on which closures before it
// have the same.
func TestAgainSaysOfEach(t *testing.T) {
	const jacket = `garment = "Slip jacket (invented)"
units = "mm"
wearer = "child"
market = "eu"
[cloth.shell]
use = "denim"
[[closure]]
name = "front"
use = "ring-spring-15"
over = ["shell", "shell"]
run = { length = 400, count = 5 }
[[closure]]
name = "cuff"
where = "cuff"
use = "ring-spring-15"
over = ["shell", "shell"]
run = { length = 60, count = 1 }
[[closure]]
name = "pocket"
where = "pocket"
use = "horn-24"
over = ["shell", "shell"]
run = { length = 120, count = 1 }
`
	g := trial.Read(t, jacket)
	base := rules.Base(g, nil)
	of := func(p *rules.Planned, closure string) (n int) {
		for i := range p.Findings {
			if f := &p.Findings[i]; f.Closure == closure && strings.HasPrefix(f.Rule, "safety-") {
				n++
			}
		}
		return n
	}
	with := g.Replace("closure", "front", "prong-snap-14")
	h, err := g.Alter(with...)
	if err != nil {
		t.Fatal(err)
	}
	if over := sameAgain(t, "jacket", base, h, with); over != 2 {
		t.Errorf("%d closures were taken over, want 2", over)
	}
	if before, after := of(base, "cuff"), of(base.Again(h, plan.Touches(h, with)), "cuff"); before == 0 || before != after {
		t.Errorf("%d safety findings on the cuff, %d when the front has another snap", before, after)
	}
}

// Changes that reach farther than the closure they name touch more.
func TestTouches(t *testing.T) {
	g := demo(t, "duffel-coat-ready")
	names := map[string]int{}
	for i := range g.Closures {
		names[g.Closures[i].Name] = i
	}
	n := len(g.Closures)
	count := func(key string) (untouched, rerun int) {
		for _, x := range plan.Touches(g, []catalog.With{{Key: key, Value: "x"}}) {
			switch x {
			case plan.Untouched:
				untouched++
			case plan.Rerun:
				rerun++
			}
		}
		return untouched, rerun
	}
	for i := range g.Closures {
		same := 0
		for j := range g.Closures {
			if g.Closures[i].OpeningName() == g.Closures[j].OpeningName() {
				same++
			}
		}
		key := catalog.Key("closure", g.Closures[i].Name)
		for k, want := range map[string][2]int{
			".needle": {n - same, 0}, ".run.count": {n - same, 1}, ".where": {n - same, 1}, ".opening": {0, n}, ".behind": {0, n}, ".name": {0, n},
		} {
			if u, r := count(key + k); u != want[0] || r != want[1] {
				t.Errorf("%s%s: %d untouched and %d with their runs, want %v", key, k, u, r, want)
			}
		}
	}
	for key, want := range map[string][2]int{
		"machine.foot_lift": {0, 0}, "thread.seam.use": {0, 0}, "cloth.shell": {0, 0}, "units": {0, n}, "sizes.names": {0, n},
		"closure[0].needle": {0, n}, "closure.none.needle": {0, n}, "..": {0, n},
	} {
		if u, r := count(key); u != want[0] || r != want[1] {
			t.Errorf("%s: %d untouched and %d with their runs, want %v", key, u, r, want)
		}
	}
}
