package search

import (
	"cmp"
	"fmt"
	"math"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// listed is a choice without the garment behind it.
var listed = gocmp.Options{cmpopts.IgnoreFields(Choice{}, "Garment"), cmpopts.EquateEmpty()}

// With its short cuts Choose gives the same set in the same order as making
// every change and planning the whole garment each time.
func TestChooseIsPlanningEveryCandidate(t *testing.T) {
	t.Parallel()
	tried, passing := 0, 0
	for seed := uint64(1000); tried < many(40, 200); seed++ {
		g, _, _ := random(t, seed, 40)
		if g == nil {
			continue
		}
		tried++
		for _, o := range []ChoiceOptions{
			{Closure: g.Closures[int(seed)%len(g.Closures)].Name, Limit: 1000},
			{All: true, Limit: 1000},
			{Closure: g.Closures[0].Name, What: Choosable[1+int(seed)%3]},
		} {
			want, wantErr := choose(g, o, plain)
			got, gotErr := choose(g, o, fast)
			if (wantErr == nil) != (gotErr == nil) {
				t.Fatalf("seed %d: %v: %v, plainly %v", seed, o, gotErr, wantErr)
			}
			if wantErr != nil {
				continue
			}
			passing += got.Passing
			if diff := gocmp.Diff(want, got, listed); diff != "" {
				t.Errorf("seed %d: %+v (-plain +fast):\n%s", seed, o, diff)
			}
		}
	}
	if passing < 10*tried {
		t.Errorf("only %d candidates pass on %d garments", passing, tried)
	}
}

// What Choose says of a candidate is what the real path finds with its
// change.
func TestChooseTellsTheTruth(t *testing.T) {
	for _, name := range []string{"watch-coat", "watch-coat-ready", "canvas-jacket", "slipway-gilet", "pilot-coat"} {
		g := demo(t, name)
		base := conflictsAt(rules.Found(g))
		for _, o := range []ChoiceOptions{
			{Closure: g.Closures[0].Name}, {Closure: g.Closures[len(g.Closures)-1].Name, Limit: 40}, {All: true},
			{Closure: g.Closures[0].Name, What: "needle"}, {Closure: g.Closures[0].Name, What: "thread"}, {All: true, What: "interfacing"},
		} {
			c, err := Choose(g, o)
			if err != nil {
				t.Errorf("%s: %+v: %v", name, o, err)
				continue
			}
			for i, d := range c.Candidates {
				if i > 0 && d.Passes && !c.Candidates[i-1].Passes {
					t.Errorf("%s: %+v: %s passes but stands below %s", name, o, d.Name, c.Candidates[i-1].Name)
				}
				if d.Passes != (d.Fails == "") {
					t.Errorf("%s: %s passes: %v, fails: %q", name, d.Name, d.Passes, d.Fails)
				}
				if strings.HasPrefix(d.Fails, "it cannot be used") || len(d.Picks) > 0 && !d.Passes {
					continue
				}
				after := rules.Found(demo(t, name, catalog.Texts(d.With)...))
				conflicts := 0
				for s, n := range conflictsAt(after) {
					if slices.Contains(c.Beside, s.rule+" on "+s.closure) {
						continue
					}
					if slices.Contains(c.Closures, s.closure) || n > base[s] {
						conflicts++
					}
				}
				// Less than no room does not pass, though it is no conflict.
				if (conflicts == 0 && (d.Share >= 0 || len(d.Picks) > 0)) != d.Passes {
					t.Errorf("%s: %+v: %s passes: %v, but the plan with %q has %d conflicts", name, o, d.Name, d.Passes, d.With, conflicts)
				}
			}
		}
	}
}

// The ranking is the one that is promised.
func TestChooseRanks(t *testing.T) {
	g := demo(t, "watch-coat")
	c, err := Choose(g, ChoiceOptions{Closure: "front", Limit: 1000})
	if err != nil {
		t.Fatal(err)
	}
	if c.Now != "quay-horn-45" || c.Kind != catalog.Button || c.Tried < 70 || c.Passing == 0 || c.Passing == c.Tried {
		t.Errorf("now %s, %d of %d %ss pass", c.Now, c.Passing, c.Tried, c.Kind)
	}
	// The likest first: none that is 3 ligne nearer to the 45 of the file stands
	// below one that is farther off. Metal ones, which the file has none of, stand
	// behind the sizes next to theirs.
	off := func(d Candidate) measure.Length {
		n := g.Catalog.Notion(d.Name)
		return (plan.AcrossOf(n) - 45*measure.Ligne).Abs()
	}
	for i := 1; i < c.Passing; i++ {
		if a, b := c.Candidates[i-1], c.Candidates[i]; off(a) > off(b)+6*measure.Ligne && !plan.OddMetal(g.Catalog.Notion(b.Name), &g.Closures[0].Notion) {
			t.Errorf("%s stands above %s, which is nearer in size", a.Name, b.Name)
		}
	}
	for _, d := range c.Candidates[:c.Passing] {
		if d.Share < 0 {
			t.Errorf("%s passes with less than no room", d.Name)
		}
	}
	// A button of 45 ligne, 28.6 mm, and 6 mm thick needs 34.6 mm to pass
	// (diameter + thickness: Extension Bulletin 576, 1965); the machine sews
	// 28 mm. One of 36 ligne and 4.2 mm needs 27.1 mm.
	at := slices.IndexFunc(c.Candidates, func(d Candidate) bool { return d.Name == "quay-horn-36" })
	if at < 0 {
		t.Fatal("quay-horn-36 is not listed")
	}
	if d := c.Candidates[at]; !d.Passes || d.Tightest != "hole-machine" || math.Abs(d.Have-27.06) > 0.001 || d.Need != 28 || math.Abs(d.Share-0.94/28) > 1e-4 || !d.Own || d.Price.V != 1 {
		t.Errorf("quay-horn-36: %+v", d)
	}
	if slices.ContainsFunc(c.Candidates, func(d Candidate) bool { return d.Name == "quay-horn-45" && d.Passes }) {
		t.Error("quay-horn-45 passes")
	}
}

// A family gives each closure a size of its own, never a larger one to a
// closure that has the smaller fastener.
func TestChooseFamily(t *testing.T) {
	g := demo(t, "watch-coat")
	c, err := Choose(g, ChoiceOptions{All: true, Limit: 100})
	if err != nil {
		t.Fatal(err)
	}
	if diff := gocmp.Diff([]string{"front", "flap", "cuff-tab"}, c.Closures); diff != "" {
		t.Errorf("closures (-want +got):\n%s", diff)
	}
	found := false
	for _, d := range c.Candidates {
		if d.Name != "quay-horn" {
			continue
		}
		found = true
		want := []Pick{{"front", "quay-horn-36", 36 * measure.Ligne}, {"flap", "quay-horn-30", 30 * measure.Ligne}, {"cuff-tab", "quay-horn-24", 24 * measure.Ligne}}
		if diff := gocmp.Diff(want, d.Picks); diff != "" || !d.Passes {
			t.Errorf("quay-horn passes: %v (-want +got):\n%s", d.Passes, diff)
		}
		if math.Abs(d.Price.V-2.4) > 1e-9 {
			t.Errorf("quay-horn costs %v, want 1.00 + 0.80 + 0.60", d.Price)
		}
	}
	if !found {
		t.Error("quay-horn is not listed")
	}
	for _, d := range c.Candidates {
		for i := 1; d.Passes && i < len(d.Picks); i++ {
			if d.Picks[i].Size > d.Picks[i-1].Size {
				t.Errorf("%s: %v", d.Name, d.Picks)
			}
		}
	}
}

// The members of a family are the best that trying every assignment finds.
func TestFamilyIsTheBestAssignment(t *testing.T) {
	for seed := uint64(0); seed < 400; seed++ {
		m := newMaker(seed)
		ch := &chooser{g: &catalog.Garment{}}
		for k := range 1 + m.IntN(3) {
			c := catalog.Closure{Index: k}
			c.Notion.Kind = catalog.Button
			c.Notion.Diameter = catalog.Measured{V: measure.Length(8+m.IntN(12)) * mm, From: catalog.Given}
			ch.g.Closures = append(ch.g.Closures, c)
			ch.at = append(ch.at, k)
		}
		var members []*member
		for i := range 1 + m.IntN(5) {
			x := &member{across: measure.Length(6+m.IntN(16)) * mm}
			x.name, x.entry = fmt.Sprintf("horn-%d", i), &catalog.Entry{}
			for range ch.at {
				x.grades = append(x.grades, grade{usable: true, conflicts: m.IntN(2), cautions: m.IntN(3)})
			}
			members = append(members, x)
		}
		got := ch.pick("horn", members)

		order := slices.Clone(ch.at)
		now := func(k int) measure.Length { return ch.g.Closures[k].Notion.Diameter.V }
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(now(b), now(a)) })
		type cost struct {
			missing, cautions int
			off               float64
		}
		best := cost{missing: math.MaxInt}
		var try func(s int, last measure.Length, c cost)
		try = func(s int, last measure.Length, c cost) {
			if s == len(order) {
				if cmp.Or(cmp.Compare(c.missing, best.missing), cmp.Compare(c.cautions, best.cautions), cmp.Compare(c.off, best.off)) < 0 {
					best = c
				}
				return
			}
			k := order[s]
			try(s+1, last, cost{c.missing + 1, c.cautions, c.off})
			for _, x := range members {
				if r := x.grades[k]; x.across <= last && r.passes() && float64(x.across) <= 1.5*float64(now(k)) && float64(now(k)) <= 1.5*float64(x.across) {
					try(s+1, x.across, cost{c.missing, c.cautions + r.cautions, c.off + (x.across - now(k)).Abs().MM()})
				}
			}
		}
		try(0, measure.Metre, cost{})
		if g := (cost{got.conflicts, got.cautions, got.off}); g.missing != best.missing || g.cautions != best.cautions || math.Abs(g.off-best.off) > 1e-9 {
			t.Errorf("seed %d: %+v, but there is %+v", seed, g, best)
		}
	}
}

// rooms are the rules that compare figures.
var rooms = func() map[string]bool {
	out := map[string]bool{}
	for _, name := range []string{
		"hole-short", "hole-machine", "stand-narrow", "facing-short", "strip-narrow", "goods-narrow", "rims-touch", "rows-touch",
		"first-high", "last-low", "edge-near", "shank-rigid", "hardware-grip", "hardware-post", "loop-length", "eyelet-cord", "zip-fly",
		"needle-cloth", "needle-thread", "needle-machine", "foot-lift",
	} {
		out[name] = true
	}
	return out
}()

// The room of a rule is negative exactly where the rule reports a conflict, or
// would if its figures were surer.
func TestRoomsAgreeWithTheirRules(t *testing.T) {
	t.Parallel()
	conflicts, passes := map[string]int{}, map[string]int{}
	look := func(name string, g *catalog.Garment) {
		p := rules.Found(g)
		x := rules.Context{G: g, P: p, U: g.Units}
		for i := range g.Closures {
			x.C, x.K = &g.Closures[i], &p.Closures[i]
			for _, r := range rules.Rules() {
				rule, n := r.Name, r.Room(&x)
				if _, has := rooms[rule]; !has {
					continue
				}
				is := slices.ContainsFunc(p.Findings, func(f rules.Finding) bool {
					return f.Rule == rule && f.Closure == x.C.Name && (f.Severity == rules.Conflict || f.Unsure)
				})
				switch {
				case rule == "hardware-post" && n.Margin == 0:
					// A post as long as the stack is too short.
				case rule == "hole-machine" && is && !n.Compared, rule == "hole-machine" && is && x.K.Hole.Kind == "keyhole" && !x.G.Machine.Keyhole.Or(true):
					// The machine sews no such hole: nothing is compared.
				case is != (n.Compared && n.Margin < 0):
					t.Errorf("%s: %s on %s: a conflict: %v, room %+v", name, rule, x.C.Name, is, n)
				case is:
					conflicts[rule]++
				case n.Compared:
					passes[rule]++
				}
			}
		}
	}
	for seed := range uint64(many(60, 3000)) {
		if g, _, _ := random(t, seed, 10); g != nil {
			look(fmt.Sprint("seed ", seed), g)
		}
	}
	files, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "rules", "*", "*.toml"))
	for _, name := range files {
		if g, err := catalog.Load(name, catalog.Options{}); err == nil {
			look(name, g)
		}
	}
	for rule := range rooms {
		if rules.Find(rule) == nil || passes[rule] == 0 || conflicts[rule] == 0 {
			t.Errorf("%s: %d conflicts and %d passes were seen", rule, conflicts[rule], passes[rule])
		}
	}
}

// What a choice is said not to touch it does not touch: with any candidate a
// rule finds there what it finds in the file.
func TestUntouchedRules(t *testing.T) {
	untouched := map[string][]string{}
	for what, sort := range sorts {
		for _, r := range rules.Rules() {
			if r.Reads&sort == 0 {
				untouched[what] = append(untouched[what], r.Name)
			}
		}
	}
	for seed := uint64(5000); seed < 5000+uint64(many(40, 300)); seed++ {
		g, _, _ := random(t, seed, 6)
		if g == nil {
			continue
		}
		base := rules.Found(g)
		for _, what := range Choosable {
			ch := &chooser{g: g, o: ChoiceOptions{What: what}, at: []int{0}, base: base, count: tallied(base)}
			options, err := ch.options()
			if err != nil {
				continue
			}
			for i := int(seed % 5); i < len(options); i += 5 {
				h, err := g.Alter(ch.withOf(&options[i])...)
				if err != nil {
					continue
				}
				now := tallied(rules.Found(h))
				for _, r := range untouched[what] {
					for _, size := range g.Sizes {
						for _, s := range []spot{{r, g.Closures[0].Name, size, ""}, {r, g.Closures[0].Name, "", ""}} {
							// A conflict of the file stays one. (One that comes counts in any case.)
							if ch.count[s][1] > 0 && now[s][1] == 0 && !(what == "interfacing" && r == "hole-machine" && g.Closures[0].HoleLen.Has()) {
								t.Errorf("seed %d: %s is said not to touch %s, but %q clears it", seed, what, r, options[i].name)
							}
						}
					}
				}
			}
		}
	}
}

func TestChooseQuestions(t *testing.T) {
	g := demo(t, "watch-coat")
	for _, c := range []struct {
		o    ChoiceOptions
		says string
	}{
		{ChoiceOptions{}, "3 closures"},
		{ChoiceOptions{Closure: "frnt"}, `no closure "frnt": write front`},
		{ChoiceOptions{Closure: "xyzzy"}, "write one of front, flap, cuff-tab"},
		{ChoiceOptions{Closure: "front", What: "button"}, "notion, needle, thread, interfacing"},
	} {
		if _, err := Choose(g, c.o); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v, want %q", c.o, err, c.says)
		}
	}
	two := trial.Read(t, fmt.Sprintf(slimCoat, "20 mm", "4 mm")+"[[closure]]\nname = \"cuff\"\nuse = \"horn-24\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = 100\ncount = 2\n")
	if _, err := Choose(two, ChoiceOptions{}); err == nil || err.Error() != "the garment has 2 closures: say which, front, cuff" {
		t.Errorf("of two closures: %v", err)
	}
}

// The same question has the same answer on any number of processors.
func TestChooseIsDeterministic(t *testing.T) {
	g := demo(t, "watch-coat")
	old := runtime.GOMAXPROCS(1)
	want, err := Choose(g, ChoiceOptions{Closure: "front", Limit: 100})
	runtime.GOMAXPROCS(4)
	defer runtime.GOMAXPROCS(old)
	for range 5 {
		got, err2 := Choose(g, ChoiceOptions{Closure: "front", Limit: 100})
		if diff := gocmp.Diff(want, got, listed); diff != "" || err != nil || err2 != nil {
			t.Fatalf("%v, %v (-want +got):\n%s", err, err2, diff)
		}
	}
}

// A front gets only zips that come apart, and of those that fail the one whose
// right length is on sale stands first, with that length.
func TestZipsForAFront(t *testing.T) {
	text := "garment = \"Slip jacket (invented)\"\nunits = \"in\"\n[cloth.shell]\nuse = \"melton\"\n[[closure]]\nname = \"front\"\nuse = \"coil-5-closed\"\nover = [\"shell\", \"shell\"]\nzip_length = \"24 in\"\n[closure.run]\nlength = \"27 1/2 in\"\nfirst = \"1/2 in\"\n"
	g, err := catalog.Read("jacket.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := Choose(g, ChoiceOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range c.Candidates {
		if n := g.Catalog.Notion(c.Candidates[i].Name); n.Opening == "closed" {
			t.Errorf("%s does not come apart", n.Name)
		}
	}
	if first := c.Candidates[0]; first.Name != "coil-5-separating" || !strings.HasPrefix(first.Fails, "buy the one of 28 in") {
		t.Errorf("first %s: %s", first.Name, first.Fails)
	}
	// The fixes too.
	for _, f := range Checked(g, CheckOptions{Fixes: true}).Findings {
		if f.Rule == "zip-length" && len(f.Fixes) == 0 {
			t.Errorf("no way out of: %s", f.Message())
		}
		for _, fix := range f.Fixes {
			for _, w := range fix.With {
				if n := g.Catalog.Notion(fmt.Sprint(w.Value)); n != nil && n.Opening == "closed" {
					t.Errorf("%s: %s", f.Rule, fix.Says)
				}
			}
		}
	}
}

// What a practitioner would be offered first: common practice, no source. A
// button near the one the coat has, of its family; hair canvas or a weft
// insertion under melton, not silesia or organza; a universal point for it.
func TestChooseFirst(t *testing.T) {
	const coat = `garment = "Quay coat (invented)"
units = "in"
[machine]
buttonhole_max = "40 mm"
foot_lift = "8 mm"
[cloth.shell]
use = "melton"
weight = "620 g/m2"
thickness = "2 mm"
[[closure]]
name = "front"
use = "horn-45"
over = ["shell", "shell"]
reinforced = true
[closure.run]
length = 28
count = 5
`
	g, err := catalog.Read("coat.toml", []byte(coat), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	first := func(o ChoiceOptions) Candidate {
		t.Helper()
		o.Closure = "front"
		c, err := Choose(g, o)
		if err != nil || c.Passing == 0 {
			t.Fatalf("%+v: %v, %d pass", o, err, c.Passing)
		}
		return c.Candidates[0]
	}
	if d := first(ChoiceOptions{}); d.Name != "horn-45" {
		t.Errorf("first the %s", d.Name)
	}
	if d := first(ChoiceOptions{From: 34 * measure.Ligne, To: 37 * measure.Ligne}); d.Name != "horn-36" {
		t.Errorf("from 34 to 37 ligne first the %s", d.Name)
	}
	if n := g.Catalog.Interfacing(first(ChoiceOptions{What: "interfacing"}).Name); n.Kind != "canvas" && n.Kind != "weft" {
		t.Errorf("first the %s, %s", n.Name, n.Kind)
	}
	c, err := Choose(g, ChoiceOptions{Closure: "front", What: "needle"})
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Candidates) == 0 || !strings.Contains(c.Candidates[0].Name, "universal") {
		t.Errorf("first the needle %v", c.Candidates[0].Name)
	}
	// A tailor's glossary: jacket cuff 15 mm, jacket front about 20, coat 25 to 30.
	for _, u := range []struct {
		where  string
		coat   bool
		lo, hi measure.Length
	}{{"cuff", false, 14 * mm, 16 * mm}, {"front", false, 19 * mm, 21 * mm}, {"front", true, 25 * mm, 30 * mm}} {
		if l := UsualSize(u.where, u.coat); l < u.lo || l > u.hi {
			t.Errorf("%s, coat %v: %s", u.where, u.coat, l)
		}
	}
}

// Metal buttons with insignia belong to uniforms (MIL-B-20289D); a coat has horn,
// corozo, wood or plastic ones sewn through (common practice, no source). With
// nothing asked for, those come first, though the button of the file itself is too
// long for the machine; where the file has a metal one, metal comes first.
func TestChooseUsualButtonFirst(t *testing.T) {
	text := `garment = "Slip coat (invented)"
units = "in"
[machine]
buttonhole_max = "%s"
[cloth.shell]
use = "%s"
[interfacing.stay]
use = "hair-canvas"
[[closure]]
name = "front"
where = "%s"
use = "%s"
hole = "keyhole"
over = ["shell", "stay", "shell"]
[closure.run]
length = 38
count = 6
`
	metal := func(c Candidate) bool {
		return strings.HasPrefix(c.Name, "insignia") || strings.HasPrefix(c.Name, "metal")
	}
	for _, machine := range []string{"25 mm", "28 mm", "32 mm", "40 mm"} {
		for _, cloth := range []string{"melton", "boiled-wool", "melton-light", "denim"} {
			for _, where := range []string{"front", "cuff"} {
				for _, usual := range []bool{false, true} {
					c, err := Choose(trial.Read(t, fmt.Sprintf(text, machine, cloth, where, "horn-40")), ChoiceOptions{Usual: usual, Limit: 4})
					if err != nil || c.Passing < 4 {
						t.Fatalf("%s %s %s: %v, %d pass", machine, cloth, where, err, c.Passing)
					}
					for _, x := range c.Candidates {
						if x.Passes && metal(x) {
							t.Errorf("%s, machine %s, %s, usual %v: %s among the first four", cloth, machine, where, usual, x.Name)
						}
					}
				}
			}
		}
	}
	c, err := Choose(trial.Read(t, fmt.Sprintf(text, "28 mm", "melton", "front", "metal-dome-36")), ChoiceOptions{Limit: 1})
	if err != nil || !metal(c.Candidates[0]) {
		t.Errorf("to a metal one: %v %v", err, c.Candidates)
	}
	// What is usual at the place, and not what stands in the file.
	c, err = Choose(trial.Read(t, fmt.Sprintf(text, "40 mm", "denim", "cuff", "horn-40")), ChoiceOptions{Usual: true, Limit: 1})
	if err != nil || c.Candidates[0].Name != "horn-24" {
		t.Errorf("at a cuff: %v %v", err, c.Candidates[0].Name)
	}
}

// A closure that a safety rule warns of in a child's garment comes last, however
// like it is: here a magnet beside sewn snaps.
func TestChooseForAChild(t *testing.T) {
	text := `garment = "Slip coat (invented)"
units = "mm"
wearer = "%s"
market = "eu"
[cloth.shell]
use = "melton-light"
thickness = 1.6
[[closure]]
name = "front"
use = "magnet-19"
over = ["shell", "shell"]
[closure.run]
length = 400
count = 4
`
	for wearer, first := range map[string]bool{"adult": true, "child": false} {
		c, err := Choose(trial.Read(t, fmt.Sprintf(text, wearer)), ChoiceOptions{Closure: "front", Limit: 40})
		if err != nil {
			t.Fatal(err)
		}
		at := slices.IndexFunc(c.Candidates, func(x Candidate) bool { return x.Name == "magnet-19" })
		if first != (at == 0) {
			t.Errorf("%s: magnet-19 is number %d", wearer, at+1)
		}
		for i := at + 1; !first && at >= 0 && i < len(c.Candidates); i++ {
			if x := &c.Candidates[i]; x.Passes && !slices.Contains(x.Cares, "snap-magnet") && !slices.Contains(x.Cares, "snap-locking") {
				t.Errorf("%s: %s stands behind the magnet", wearer, x.Name)
			}
		}
	}
}

// What a sample measured of the garment's own button is kept when that button
// is tried among the others, whichever of them came before it.
func TestChooseKeepsTheSampleOfItsOwn(t *testing.T) {
	g := demo(t, "watch-coat-ready")
	own := g.Closures[0].Use
	// A hole so long that no stand leaves it its cloth, of this button alone.
	g, err := g.Alter(catalog.SetLength("closure."+g.Closures[0].Name+".measured.hole_length", 90*measure.Millimetre, measure.MM))
	if err != nil {
		t.Fatal(err)
	}
	o := ChoiceOptions{Closure: g.Closures[0].Name, Limit: 1000}
	want, err := choose(g, o, plain)
	if err != nil {
		t.Fatal(err)
	}
	got, err := choose(g, o, fast)
	if err != nil {
		t.Fatal(err)
	}
	if diff := gocmp.Diff(want, got, listed); diff != "" {
		t.Errorf("-plain +fast:\n%s", diff)
	}
	for _, c := range got.Candidates {
		if c.Passes && c.Name == own {
			t.Errorf("%s passes with a hole of 90 mm", own)
		}
	}
}
