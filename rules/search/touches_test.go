package search

import (
	"testing"

	"placketeer/rules"
)

// No change that is tried touches a key that its rule does not name.
func TestTriedChangesTouchWhatTheyMay(t *testing.T) {
	tried := 0
	for seed := range uint64(many(100, 1000)) {
		g, _, _ := random(t, seed, 8)
		if g == nil {
			continue
		}
		p := rules.Plan(g)
		for _, tr := range newFixer(p).troubles() {
			r := rules.Find(tr.first.Rule)
			for _, c := range proposals(p, tr.findings) {
				tried++
				for _, w := range c.With {
					if !r.MayTouch(w) {
						t.Errorf("seed %d: %s: %s touches what the rule does not name", seed, r.Name, w)
					}
				}
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d changes were looked at", tried)
	}
}
