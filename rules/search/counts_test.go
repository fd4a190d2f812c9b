package search

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"

	"github.com/google/go-cmp/cmp"
)

// Two sizes with a zip that is too short, each by itself, are mended in one: the
// openings are 20 and 22 in, and zips of 20 and 22 in are on sale.
func TestSizesAreMendedTogether(t *testing.T) {
	const jacket = `garment = "Slip jacket in two sizes (invented)"
units = "in"
[sizes]
names = ["S", "M"]
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "coil-5-separating"
over = ["shell", "shell"]
zip_length = %s
[closure.run]
length = { S = "20 1/2 in", M = "22 1/2 in" }
first = "1/2 in"
`
	// One length for both: the longer, and nothing is proposed twice.
	p := rules.Plan(trial.Read(t, fmt.Sprintf(jacket, `"16 in"`)))
	for _, tr := range newFixer(p).troubles() {
		cs := proposals(p, tr.findings, nil)
		for i, c := range cs {
			if slices.ContainsFunc(cs[:i], func(o rules.Change) bool { return rules.SameChange(o, c) }) {
				t.Errorf("%s: %v is proposed twice", tr.first.Rule, c.With)
			}
		}
	}
	g := trial.Read(t, fmt.Sprintf(jacket, `{ S = "16 in", M = "18 in" }`))
	p = Checked(g, CheckOptions{Fixes: true})
	told := only(p.Findings, "zip-length")
	if len(told) != 2 {
		t.Fatalf("%+v", told)
	}
	for _, f := range told {
		if len(f.Fixes) == 0 {
			t.Fatalf("%s: no fix: %s", f.Size, f.Stuck)
		}
		x := f.Fixes[0]
		if len(x.With) != 2 || !strings.Contains(x.Says, " in size S; ") || !strings.HasSuffix(x.Says, " in size M") {
			t.Errorf("%s: %q %v", f.Size, x.Says, x.With)
		}
		n, err := g.Alter(x.With...)
		if err != nil {
			t.Fatal(err)
		}
		if left := only(rules.Found(n).Findings, "zip-length"); len(left) > 0 {
			t.Errorf("%s: %v leaves %+v", f.Size, x.With, left)
		}
	}
}

// No change is proposed twice for one trouble: each would count as one of those
// that are shown.
func TestNoProposalTwice(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "rules", "*", "bad*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, name := range append(files, filepath.Join("..", "..", "testdata", "fixes", "ten-conflicts.toml")) {
		p := rules.Plan(trial.Load(t, name))
		fx := newFixer(p)
		for _, tr := range fx.troubles() {
			cs := proposals(p, tr.findings, &fx.budget.tries)
			for i, c := range cs {
				seen++
				if slices.ContainsFunc(cs[:i], func(o rules.Change) bool { return rules.SameChange(o, c) }) {
					t.Errorf("%s: %s: %v is proposed twice", name, tr.first.Rule, c.With)
				}
			}
		}
	}
	if seen < 300 {
		t.Errorf("only %d proposals", seen)
	}
}

// madeUp is a trouble of no rule, which every change that can be made clears.
func madeUp() *trouble {
	f := &rules.Finding{Rule: "made-up", Severity: rules.Conflict}
	return &trouble{first: f, findings: []*rules.Finding{f}, severity: rules.Conflict}
}

// keys are so many changes of one key each, of keys that no garment has.
func keys(n int, name string) []rules.Change {
	var out []rules.Change
	for i := range n {
		out = append(out, rules.Change{With: []catalog.With{catalog.Set(fmt.Sprintf("closure.front.%s%d", name, i), "x")}, Says: fmt.Sprint(name, i), Cost: float64(i)})
	}
	return out
}

// harmless are changes of one key each that bring nothing.
func harmless() []rules.Change {
	var out []rules.Change
	for i, w := range []catalog.With{
		catalog.SetLength("machine.foot_lift", 20*mm, measure.MM), catalog.SetLength("machine.buttonhole_max", 60*mm, measure.MM),
		catalog.Set("wearer", "adult"), catalog.Set("cut_for", "men"), catalog.Set("closure.front.where", "front"),
	} {
		out = append(out, rules.Change{With: []catalog.With{w}, Says: "set " + w.Key, Cost: float64(i)})
	}
	return out
}

// Once so many fixes as are shown clear a conflict nothing more is tried for it.
func TestThreeFixesAreEnough(t *testing.T) {
	p := rules.Plan(trial.Read(t, fmt.Sprintf(slimCoat, "30 mm", "5 mm")))
	for clear, plans := range map[int]int{2: 4, 3: 0} {
		fx := newFixer(p)
		h := &hunt{trouble: madeUp(), own: keys(10, "o")}
		h.found.clear = make([]verified, clear)
		if fx.further(h); fx.budget.plans != plans {
			t.Errorf("%d fixes: %d of 4 others were tried", clear, fx.budget.plans)
		}
	}
}

// So many changes as may be tried are all there is; of one more the search says
// that it stopped.
func TestOneChangeMoreIsCut(t *testing.T) {
	g, err := catalog.Read("coat.toml", fmt.Appendf(nil, stuckCoat, `keep = ["closure.front"]`, ""), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := rules.Plan(g)
	for n, cut := range map[int]bool{48: false, 49: true} {
		for _, own := range []bool{true, false} {
			fx := newFixer(p)
			h := &hunt{trouble: madeUp()}
			if own {
				h.own = keys(n, "o")
			} else {
				h.any = keys(n, "a")
			}
			tried := 48
			if own {
				tried -= singlesFirst // they came before
			}
			if fx.further(h); h.first.Cut != cut || h.first.Stuck == "" || len(h.blocked) != tried {
				t.Errorf("%d changes, own %v: cut %v, %d blocked, %q", n, own, h.first.Cut, len(h.blocked), h.first.Stuck)
			}
		}
	}
}

// Two of the rule's own go with each other, and each with one of any sort; where
// there are none those of any sort go with each other. None is tried twice, nor
// two that set one key, and more than 120 are cut.
func TestPairsAreEachTriedOnce(t *testing.T) {
	p := rules.Plan(trial.Read(t, fmt.Sprintf(slimCoat, "30 mm", "5 mm")))
	// all is one change of one's own key and so many of the keys of keys(n, "o").
	all := func(name string, n int) rules.Change {
		c := keys(1, name)[0]
		for _, k := range keys(n, "o") {
			c.With = append(c.With, k.With...)
		}
		return c
	}
	for _, c := range []struct {
		name     string
		own, any []rules.Change
		plans    int
		cut      bool
	}{
		{"three of its own", keys(3, "o"), nil, 3, false},
		{"four of its own", keys(4, "o"), nil, 6, false},
		{"three of any sort", nil, keys(3, "a"), 3, false},
		{"four of any sort", nil, keys(4, "a"), 6, false},
		{"one of its own", keys(1, "o"), keys(3, "a"), 3, false},
		{"two and two", keys(2, "o"), keys(2, "a"), 5, false},
		{"of one key", keys(2, "o"), []rules.Change{all("a", 1)}, 2, false},
		{"the same, in either order", keys(2, "o"), keys(2, "o"), 2, false},
		// 45 of its own with each other, 70 with seven, and 5 with the eighth.
		{"120", keys(10, "o"), append(keys(7, "a"), all("b", 5)), 120, false},
		{"121", keys(10, "o"), append(keys(7, "a"), all("b", 4)), 120, true},
		{"eleven of its own are ten", keys(11, "o"), nil, 45, false},
	} {
		fx := newFixer(p)
		var found good
		if fx.pairs(madeUp(), c.own, c.any, nil, &found); fx.budget.plans != c.plans || fx.cut != c.cut {
			t.Errorf("%s: %d plans, want %d; cut: %v", c.name, fx.budget.plans, c.plans, fx.cut)
		}
	}
	// Of pairs that clear it three are enough.
	fx := newFixer(p)
	var found good
	if fx.pairs(madeUp(), harmless(), nil, nil, &found); fx.budget.plans != 3 || len(found.clear) != 3 {
		t.Errorf("%d plans, %d fixes", fx.budget.plans, len(found.clear))
	}
}

// Of facts that are kept and stand against each other four are told.
func TestFourKeptFactsAreTold(t *testing.T) {
	var names []string
	blocked := harmless()
	for _, c := range blocked {
		names = append(names, fmt.Sprintf("%q", c.With[0].Key))
	}
	g, err := catalog.Read("coat.toml", fmt.Appendf(nil, stuckCoat, "keep = ["+strings.Join(names, ", ")+"]", ""), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for n, want := range map[int]string{
		1: "machine.foot_lift is kept and stands against",
		2: "machine.foot_lift and machine.buttonhole_max are kept and stand",
		4: "machine.foot_lift, machine.buttonhole_max, wearer and cut_for are kept and stand",
		5: "machine.foot_lift, machine.buttonhole_max, wearer and cut_for are kept and stand",
	} {
		fx := newFixer(rules.Plan(g))
		if got := fx.stuck(madeUp(), slices.Clone(blocked[:n]), nil, n); !strings.HasPrefix(got, want) {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}

// Of two readings that decide as many verdicts, as grave, the one that turns more
// of them comes first; what is less grave does not count.
func TestTheReadingThatTurnsMoreIsFirst(t *testing.T) {
	g := trial.Read(t, fmt.Sprintf(slimCoat, "20 mm", "3 mm"))
	in := inputsOf(g, "hand")
	slices.SortFunc(in, func(a, b input) int { return strings.Compare(a.path, b.path) })
	a, b := &in[0], &in[1]
	turn := func(in *input, rule, size string, sev rules.Severity) flip {
		return flip{in: in, severity: sev, spot: spot{rule: rule, closure: "front", size: size}}
	}
	f := &frail{g: g, p: rules.NewPlanned(new(plan.Plan)), base: tally{}}
	f.come = []flip{
		turn(a, "hole-machine", "S", rules.Conflict), turn(a, "hole-machine", "M", rules.Caution), turn(a, "hole-machine", "L", rules.Caution),
		turn(b, "hole-short", "S", rules.Caution), turn(b, "hole-short", "M", rules.Conflict), turn(b, "hole-short", "L", rules.Conflict),
	}
	got := f.first()
	if len(got) != 2 || got[0].Key != g.KeyOf(b.path) || got[1].Key != g.KeyOf(a.path) {
		t.Errorf("%+v", got)
	}
	if diff := cmp.Diff([]string{"hole-short"}, got[0].Rules); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// What is left of two sets: no conflicts go before no cautions, and none is less
// than itself.
func TestLessIsLeft(t *testing.T) {
	left := func(conflicts, cautions int) remains {
		return remains{make([]spot, conflicts), make([]spot, cautions)}
	}
	for _, c := range []struct {
		a, b remains
		less bool
	}{
		{left(0, 0), left(0, 0), false}, {left(1, 2), left(1, 2), false}, {left(0, 9), left(1, 0), true}, {left(1, 0), left(0, 9), false}, {left(1, 1), left(1, 2), true}, {left(1, 2), left(1, 1), false},
	} {
		if got := c.a.less(c.b); got != c.less {
			t.Errorf("%+v less than %+v: %v", c.a, c.b, got)
		}
	}
	// At a spot: so many of at least caution, and conflicts among them.
	s := spot{rule: "r"}
	for _, c := range []struct {
		was, is                   [2]int
		conflicts, cautions       int // left
		newConflicts, newCautions int // that are worse
	}{
		{[2]int{0, 0}, [2]int{1, 0}, 0, 1, 0, 1},
		{[2]int{1, 0}, [2]int{1, 0}, 0, 0, 0, 0},
		{[2]int{1, 0}, [2]int{2, 0}, 0, 1, 0, 1},
		{[2]int{1, 1}, [2]int{1, 0}, 0, 1, 0, 0},
		{[2]int{0, 0}, [2]int{1, 1}, 1, 0, 1, 0},
		{[2]int{1, 1}, [2]int{1, 1}, 1, 0, 0, 0},
		{[2]int{1, 1}, [2]int{2, 1}, 1, 0, 0, 1},
		{[2]int{2, 0}, [2]int{2, 1}, 1, 0, 1, 0},
	} {
		now := []spot{s, s}
		left := tally{s: c.was}.remain(now, tally{s: c.is})
		if len(left.conflicts) != c.conflicts || len(left.cautions) != c.cautions {
			t.Errorf("from %v to %v: left %+v", c.was, c.is, left)
		}
		conflicts, cautions := tally{s: c.was}.worse(now, tally{s: c.is})
		if len(conflicts) != c.newConflicts || len(cautions) != c.newCautions {
			t.Errorf("from %v to %v: worse %v, %v", c.was, c.is, conflicts, cautions)
		}
	}
}

// What is measured by hand is half a millimetre off, between the jaws a tenth, a
// thickness of cloth 10 and 5 % (ours, see plan.HandLength); what nobody measures
// and what is smaller than that is left alone.
func TestWhatCanBeOff(t *testing.T) {
	const coat = `garment = "Quay coat (invented)"
units = "mm"
[machine]
foot_lift = "5 mm"
[cloth.shell]
use = "melton"
thickness = "2 mm"
[[closure]]
name = "front"
over = ["shell", "shell"]
notion = { diameter = "20 mm", thickness = "%s" }
[closure.run]
length = 600
count = 5
`
	for _, c := range []struct {
		measuring, thickness string
		want                 map[string]measure.Length
	}{
		{"", "3 mm", map[string]measure.Length{}},
		{"hand", "3 mm", map[string]measure.Length{"the thickness of shell": mm / 5, "the room under the foot": mm / 2, "the diameter of the button": mm / 2, "the thickness of the button": mm / 2}},
		{"caliper", "3 mm", map[string]measure.Length{"the thickness of shell": mm / 10, "the room under the foot": mm / 10, "the diameter of the button": mm / 10, "the thickness of the button": mm / 10}},
		{"hand", "0.51 mm", map[string]measure.Length{"the thickness of shell": mm / 5, "the room under the foot": mm / 2, "the diameter of the button": mm / 2, "the thickness of the button": mm / 2}},
		{"hand", "0.5 mm", map[string]measure.Length{"the thickness of shell": mm / 5, "the room under the foot": mm / 2, "the diameter of the button": mm / 2}},
		{"", "3 mm ± 0.25", map[string]measure.Length{"the thickness of the button": mm / 4}},
	} {
		got := map[string]measure.Length{}
		of := map[string]int{"the thickness of shell": -1, "the room under the foot": -1} // what closures share
		for _, in := range inputsOf(trial.Read(t, fmt.Sprintf(coat, c.thickness)), c.measuring) {
			if got[in.says] = in.now.Tol; in.closure != of[in.says] {
				t.Errorf("%s: of closure %d", in.says, in.closure)
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%q, %s: (-want +got)\n%s", c.measuring, c.thickness, diff)
		}
	}
	// An estimate that is moved is as thick as it was moved to.
	g := trial.Read(t, strings.Replace(fmt.Sprintf(slimCoat, "18 mm", "3 mm"), `thickness = "1.2 mm"`, `weight = "620 g/m2"`, 1))
	in := inputsOf(g, "")
	if len(in) != 1 || !in[0].estimated {
		t.Fatalf("%+v", in)
	}
	for _, to := range []measure.Length{2 * mm, 3 * mm, in[0].now.V} {
		in[0].move(to)
		if got := plan.LayerOf(g, g.Closures[0].Over[0]); (got.Thick-to).Abs() > 1 || !got.Estimated {
			t.Errorf("moved to %v: %v", to, got.Thick)
		}
	}
}

// A length is not moved to nothing; and where it flips is halved to a hundredth
// of a millimetre, 64 of which are halved six times.
func TestHowFarALengthIsMoved(t *testing.T) {
	p := rules.Plan(demo(t, "canvas-jacket-ready"))
	f := newFrail(p, "hand")
	f.look()
	if len(f.come) == 0 {
		t.Fatal("nothing flips")
	}
	moved := 0
	in := input{closure: -1, touch: plan.Touched, now: measure.Toleranced{V: 5 * mm, Tol: 5 * mm}, move: func(measure.Length) { moved++ }}
	plans := f.budget.plans
	for by, more := range map[measure.Length]int{-5 * mm: 0, -6 * mm: 0, 1 - 5*mm: 1, 5 * mm: 1} {
		moved, f.budget.plans = 0, plans
		if ok := f.moved(&in, by); !ok || f.budget.plans-plans != more || moved != 2*more {
			t.Errorf("by %v: %d plans, moved %d times", by, f.budget.plans-plans, moved)
		}
	}
	x := f.come[0]
	for _, by := range []measure.Length{64, -64} {
		plans := f.budget.plans
		if x.by = by * mm / 100; !f.nearest(x).less != (by > 0) || f.budget.plans-plans != 6 {
			t.Errorf("%d hundredths: %d plans", by, f.budget.plans-plans)
		}
	}
}

// twoNeedles has two closures, each with a needle too thin for its melton.
func twoNeedles(t *testing.T) *catalog.Garment {
	t.Helper()
	var b strings.Builder
	b.WriteString("garment = \"Two (invented)\"\nunits = \"in\"\n[cloth.shell]\nuse = \"melton\"\nweight = \"620 g/m2\"\nthickness = \"2.4 mm ± 0.1\"\n[interfacing.weft]\nuse = \"weft-fusible-medium\"\n")
	for _, name := range []string{"a", "b"} {
		fmt.Fprintf(&b, "[[closure]]\nname = %q\nuse = \"horn-24\"\nover = [\"shell\", \"weft\", \"shell\"]\nneedle = \"75/11\"\n[closure.run]\nlength = 24\nfirst = \"1 in\"\nlast = \"2 in\"\ncount = 5\n", name)
	}
	return trial.Read(t, b.String())
}

// What goes because something as grave comes in its place on the same closure is
// no better for it.
func TestReplacedIsNoBetter(t *testing.T) {
	f := newFrail(rules.Plan(demo(t, "canvas-jacket-ready")), "hand")
	f.look()
	var now spot
	for s, n := range f.base {
		if n[1] == 0 && s.closure != "" {
			now = s
		}
	}
	if now.rule == "" {
		t.Fatal("the garment has no caution")
	}
	in := input{closure: -1, touch: plan.Touched, now: measure.Toleranced{V: mm, Tol: mm}, move: func(measure.Length) {}}
	for _, c := range []struct {
		closure  string
		was      [2]int
		replaced bool
	}{{now.closure, [2]int{1, 0}, true}, {now.closure, [2]int{1, 1}, false}, {"another", [2]int{1, 0}, false}} {
		delete(f.base, now)
		was := spot{rule: "made-up", closure: c.closure}
		f.base[was] = c.was
		f.come, f.gone = nil, nil
		f.moved(&in, mm)
		if len(f.come) != 1 || f.come[0].spot != now || len(f.gone) != 1 || f.gone[0].spot != was || f.gone[0].replaced != c.replaced {
			t.Errorf("%+v: come %+v, gone %+v", c, f.come, f.gone)
		}
		delete(f.base, was)
	}
}

// A kept fact stands against a conflict also where a caution would come without
// it, such as for holes that nothing supports; not where another conflict would,
// such as for rims that touch.
func TestKeptThoughACautionWouldCome(t *testing.T) {
	g, err := catalog.Read("coat.toml", fmt.Appendf(nil, stuckCoat, `keep = ["closure.front"]`, ""), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		with catalog.With
		want outcome
	}{{catalog.Set("closure.front.run.count", 4), clears}, {catalog.Set("closure.front.reinforced", false), mends}, {catalog.Set("closure.front.run.count", 30), partly}} {
		fx := newFixer(rules.Plan(g))
		change := rules.Change{With: []catalog.With{c.with}, Says: "do that"}
		if got, _ := fx.judge(fx.try(change), madeUp()); got != c.want {
			t.Fatalf("%v: %v", c.with, got)
		}
		says := fx.stuck(madeUp(), []rules.Change{change}, nil, 2)
		if strings.HasPrefix(says, "closure.front is kept and stands against") != (c.want >= mends) {
			t.Errorf("%v: %q", c.with, says)
		}
	}
}

// A set is known to leave something where one candidate alone touches a closure
// and leaves it: not one by itself, which is planned, nor where another touches
// that closure too.
func TestHopelessSets(t *testing.T) {
	g := twoNeedles(t)
	fx := newFixer(rules.Plan(g))
	j := &jointSearch{fx: fx}
	for _, with := range []catalog.With{
		catalog.Set("closure.a.needle", "70/10"), catalog.Set("closure.a.needle", "100/16"), catalog.Set("closure.b.needle", "100/16"), catalog.Set("closure.a.point", "sharp"),
	} {
		c := rules.Change{With: []catalog.With{with}}
		j.pool = append(j.pool, candidate{Change: c, touch: plan.Touches(g, c.With)})
	}
	for _, c := range []struct {
		of   []int
		want bool
	}{{[]int{0}, false}, {[]int{0, 2}, true}, {[]int{1, 2}, false}, {[]int{0, 3}, false}, {[]int{0, 2, 3}, false}, {[]int{2}, false}} {
		if got := j.hopeless(j.set(c.of)); got != c.want {
			t.Errorf("%v: hopeless %v", c.of, got)
		}
	}
}

// The smallest set that settles two conflicts is one candidate of each, side by
// side in the pool as they are.
func TestTheSmallestSetOfTwo(t *testing.T) {
	fx := newFixer(rules.Plan(twoNeedles(t)))
	var all []*trouble
	for _, tr := range fx.troubles() {
		if tr.severity == rules.Conflict {
			all = append(all, tr)
		}
	}
	j := &jointSearch{fx: fx, all: all}
	for _, name := range []string{"a", "b"} {
		c := rules.Change{With: []catalog.With{catalog.Set("closure."+name+".needle", "100/16")}}
		j.pool = append(j.pool, candidate{Change: c, touch: plan.Touches(fx.p.Garment, c.With)})
	}
	if len(all) != 2 || !j.smallest() || !slices.Equal(j.best.of, []int{0, 1}) {
		t.Errorf("%d conflicts, %+v", len(all), j.best)
	}
}

// What is left of a trouble: a conflict, a caution or nothing, in any size.
func TestWhatIsLeftOfATrouble(t *testing.T) {
	tr := madeUp()
	at := func(size string, n ...int) tally {
		own := spotOf(tr.first)
		own.size = size
		return tally{own: {n[0], n[1]}, spot{rule: "other"}: {1, 1}}
	}
	for _, c := range []struct {
		count tally
		sev   rules.Severity
		any   bool
	}{{at("", 1, 1), rules.Conflict, true}, {at("S", 2, 1), rules.Conflict, true}, {at("M", 1, 0), rules.Caution, true}, {tally{spot{rule: "other"}: {1, 1}}, rules.Note, false}} {
		if sev, any := tr.left(c.count); sev != c.sev || any != c.any {
			t.Errorf("%v: %v, %v", c.count, sev, any)
		}
	}
}

// A caution that shows no fix has none among the first eight of its rule.
func TestCautionsTryTheirProposals(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "rules", "*", "bad*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	mended, later := 0, 0
	for _, name := range files {
		p := rules.Plan(trial.Load(t, name))
		fx := newFixer(p)
		for _, tr := range fx.troubles() {
			if tr.severity != rules.Caution {
				continue
			}
			fx.caution(tr)
			for i, c := range proposals(p, tr.findings, &fx.budget.tries) {
				if i == 8 {
					break
				}
				if o, _ := fx.judge(fx.try(c), tr); o == clears && fx.kept(c) == "" {
					if mended++; i > 0 {
						later++
					}
					if len(tr.first.Fixes) != 1 || !slices.EqualFunc(tr.first.Fixes[0].With, c.With, catalog.With.Equal) {
						t.Errorf("%s: %s: %v clears it, but %v is told", name, tr.first.Rule, c.With, tr.first.Fixes)
					}
					break
				}
			}
		}
	}
	if mended < 10 || later == 0 {
		t.Errorf("%d cautions have a fix, %d of them not the first that is proposed", mended, later)
	}
}

// What is equal stays in the order it stands in.
func TestInOrder(t *testing.T) {
	list := []string{"b1", "a1", "b2", "a2", "a3", "b3"}
	inOrder(list, func(a, b string) int { return strings.Compare(a[:1], b[:1]) })
	if diff := cmp.Diff([]string{"a1", "a2", "a3", "b1", "b2", "b3"}, list); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// A line is at most 70 columns wide: what is to be measured is told as long as it
// fits.
func TestWhatToMeasureFitsTheLine(t *testing.T) {
	r := rules.Find("hole-short")
	short := text.Width(justLine(r, mm, &input{says: "x"}, measure.MM))
	for width, fits := range map[int]bool{70: true, 71: false} {
		says := strings.Repeat("x", 1+width-short)
		line := justLine(r, mm, &input{says: says}, measure.MM)
		if strings.HasSuffix(line, "; measure "+says) != fits || text.Width(line) > 70 {
			t.Errorf("%d columns: %q", width, line)
		}
	}
}
