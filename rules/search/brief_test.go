package search

import (
	"fmt"
	"testing"

	"placketeer/rules"

	"github.com/google/go-cmp/cmp"
)

// A change that leaves what it is tried for is told by that alone, and what is
// asked of it afterwards is what its whole plan has; the budget is the same.
func TestBriefIsTheWholePlan(t *testing.T) {
	t.Parallel()
	left, asked := 0, 0
	for seed := uint64(15000); seed < 15000+uint64(many(40, 400)); seed++ {
		g, _, _ := random(t, seed, 5)
		if g == nil {
			continue
		}
		p := rules.Plan(g)
		whole, brief := newFixer(p), newFixer(p)
		for _, tr := range whole.troubles() {
			for _, c := range proposals(p, tr.findings, nil) {
				name := fmt.Sprintf("seed %d, %s on %s: %s", seed, tr.first.Rule, tr.first.Closure, c.With)
				want := whole.try(c)
				_, leaves := brief.tryFor(c, tr)
				now, any := tr.left(want.count)
				if leaves {
					left++
					if !want.made || !any || now < tr.severity {
						t.Errorf("%s: it leaves it, but the whole plan does not", name)
					}
				}
				if got := brief.try(c); got.made != want.made || !cmp.Equal(got.found, want.found, cmp.AllowUnexported(spot{})) || !cmp.Equal(got.count, want.count, cmp.AllowUnexported(spot{})) {
					t.Errorf("%s: then\n%+v, of the whole plan\n%+v", name, got, want)
				}
				if brief.budget.plans != whole.budget.plans || brief.budget.tries != whole.budget.tries {
					t.Errorf("%s: the budget is %+v, of whole plans %+v", name, *brief.budget, *whole.budget)
				}
				asked++
			}
		}
	}
	if left < 50 || asked < 4*left/3 {
		t.Errorf("%d of %d changes leave what they are for", left, asked)
	}
	t.Logf("%d of %d changes leave what they are for", left, asked)
}
