package search

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"

	"github.com/google/go-cmp/cmp"
)

// stucks are what the findings of a plan say instead of fixes, and their
// fixes.
func stucks(p *rules.Planned) []string {
	out := make([]string, len(p.Findings))
	for i := range p.Findings {
		f := &p.Findings[i]
		out[i] = fmt.Sprintf("%s %s: %v %s", f.Rule, f.Closure, f.Fixes, f.Stuck)
	}
	return out
}

// A search for fixes makes as many plans as it may, and says where it
// stopped.
func TestFixesStop(t *testing.T) {
	whole := rules.Plan(tenConflicts(t))
	all := newFixer(whole)
	all.run()
	if all.budget.plans == 0 || all.budget.out() || all.budget.tries.Tried == 0 {
		t.Fatalf("%d plans, %d places: the garment does not try the budget", all.budget.plans, all.budget.tries.Tried)
	}
	for _, most := range []int{0, 1, 10, all.budget.plans / 2, all.budget.plans + 1} {
		p := rules.Plan(tenConflicts(t))
		fx := newFixer(p)
		fx.budget.most = most
		fx.run()
		if fx.budget.plans > most {
			t.Errorf("%d plans of %d", fx.budget.plans, most)
		}
		stopped := 0
		for i := range p.Findings {
			f := &p.Findings[i]
			if f.Severity == rules.Conflict && (len(f.Fixes) == 0) == (f.Stuck == "") {
				t.Errorf("%d plans: %s: %d fixes, stuck: %q", most, f.Rule, len(f.Fixes), f.Stuck)
			}
			if strings.Contains(f.Stuck, "and stopped") {
				stopped++
			}
		}
		if most > all.budget.plans {
			if diff := cmp.Diff(stucks(whole), stucks(p)); diff != "" {
				t.Errorf("a budget that is not reached changes something:\n%s", diff)
			}
		} else if stopped == 0 || most < 10 && !strings.Contains(strings.Join(stucks(p), "\n"), fmt.Sprintf("looked at %d plan", most)) {
			t.Errorf("%d plans: nothing says that the search stopped:\n%s", most, strings.Join(stucks(p), "\n"))
		}
	}
	// The places of the layouts count too.
	p := rules.Plan(tenConflicts(t))
	fx := newFixer(p)
	fx.budget.tries.Most = fx.budget.tries.Tried + 1
	fx.run()
	if fx.budget.plans > 300 || !strings.Contains(strings.Join(stucks(p), "\n"), "and stopped") {
		t.Errorf("after %d plans:\n%s", fx.budget.plans, strings.Join(stucks(p), "\n"))
	}
}

// One finding gets so many plans, and says where more could be tried.
func TestPairsStop(t *testing.T) {
	p := rules.Plan(tenConflicts(t))
	fx := newFixer(p)
	tr := fx.troubles()[0]
	fx.cut, fx.looked = true, 216
	if says := fx.stuck(tr, nil, nil, 300); !strings.HasSuffix(says, "; the search looked at 216 plans and stopped") {
		t.Error(says)
	}
	fx.cut = false
	if says := fx.stuck(tr, nil, nil, 30); strings.Contains(says, "stopped") {
		t.Error(says)
	}
}

// The search within the ± says which lengths it did not come to.
func TestWithinStops(t *testing.T) {
	plan := func(most int) (*rules.Planned, *frail) {
		p := rules.Plan(demo(t, "canvas-jacket-ready"))
		f := newFrail(p, "hand")
		if most >= 0 {
			f.budget.most = most
		}
		f.look()
		f.say()
		return p, f
	}
	whole, all := plan(-1)
	if len(all.inputs) < 5 || all.budget.out() || len(all.come) == 0 {
		t.Fatalf("%d lengths, %d plans, %d flips", len(all.inputs), all.budget.plans, len(all.come))
	}
	for _, most := range []int{0, 3, 2 * len(all.inputs), all.budget.plans + 1} {
		p, f := plan(most)
		if f.budget.plans > most {
			t.Errorf("%d plans of %d", f.budget.plans, most)
		}
		var said []string
		for i := range p.Findings {
			if m := p.Findings[i].Message(); strings.Contains(m, "and stopped") {
				said = append(said, m)
			}
		}
		switch {
		case most > all.budget.plans:
			if diff := cmp.Diff(told(whole), told(p)); diff != "" {
				t.Errorf("a budget that is not reached changes something:\n%s", diff)
			}
		case most >= 2*len(all.inputs):
			if len(said) > 0 {
				t.Errorf("all lengths were moved, but: %q", said)
			}
		default:
			want := fmt.Sprintf("the ± of %d lengths", len(all.inputs)-most/2)
			if len(said) != 1 || !strings.Contains(said[0], want) || !strings.Contains(said[0], fmt.Sprintf("looked at %d plans and stopped", most)) {
				t.Errorf("%q, want %s", said, want)
			}
		}
	}
}

// A choice stops at the same candidate however many processors there are.
func TestChoiceStops(t *testing.T) {
	g := crowd(t, 2000)
	ask := func(o ChoiceOptions, most int, places int64, procs int) *Choice {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(procs))
		c, err := chooseWithin(g, o, fast, most, places)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	for _, o := range []ChoiceOptions{{Closure: "front"}, {All: true}} {
		all := ask(o, choiceMost, choicePlaces, 2)
		if all.Stopped != "" {
			t.Errorf("%+v: %s", o, all.Stopped)
		}
		for _, limit := range [][2]int64{{300, choicePlaces}, {choiceMost, 1}, {choiceMost, 1 << 20}} {
			one, four := ask(o, int(limit[0]), limit[1], 1), ask(o, int(limit[0]), limit[1], 4)
			if !strings.Contains(one.Stopped, "and stopped") || one.Passing >= all.Passing {
				t.Errorf("%+v: within %v: %d of %d tried, %d of %d pass: %q", o, limit, one.Tried, all.Tried, one.Passing, all.Passing, one.Stopped)
			}
			one.Garment, four.Garment = nil, nil
			if diff := cmp.Diff(one, four); diff != "" {
				t.Errorf("%+v: within %v on four processors:\n%s", o, limit, diff)
			}
		}
	}
}

// Of many variants that are checked together, a conflict that nothing settles
// does not use up what may be tried for those that one word settles.
func TestEveryConflictHasItsTurn(t *testing.T) {
	var b strings.Builder
	b.WriteString("garment = \"Many\"\nunits = \"in\"\n[machine]\nbuttonhole_max = \"20 mm\"\n[cloth.shell]\nuse = \"melton\"\nweight = \"620 g/m2\"\nthickness = \"2.4 mm ± 0.1\"\n[interfacing.weft]\nuse = \"weft-fusible-medium\"\n")
	const many = 10
	for i := range many {
		fmt.Fprintf(&b, "[[closure]]\nname = \"c%d\"\nuse = \"horn-45\"\nover = [\"shell\", \"weft\", \"shell\"]\nneedle = \"75/11\"\n[closure.stand]\nconstruction = \"faced\"\nfinished = \"1/2 in\"\nstrip = \"1 in\"\n[closure.run]\nlength = %d\nfirst = \"1/4 in\"\nlast = \"1/4 in\"\ncount = 5\n", i, 24+i)
	}
	g, err := catalog.Read("many.toml", []byte(b.String()), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := Checked(g, CheckOptions{Fixes: true, Of: 41, Unwritten: true})
	settled := 0
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Rule != "needle-cloth" || f.Severity != rules.Conflict {
			continue
		}
		if len(f.Fixes) > 0 {
			settled++
		}
		for _, x := range f.Fixes {
			if len(x.Lines) > 0 {
				t.Errorf("%s: lines of the file are written, and nobody reads them", f.Closure)
			}
		}
	}
	if settled != many {
		t.Errorf("another needle is offered for %d of %d", settled, many)
	}
}
