package rules

import (
	"strings"
	"testing"

	"placketeer/catalog"
)

// Of all that lie on each other the worst are told: the last button lies in the
// middle of its snap, the first only over its rim.
func TestWorstOfPartsIsTold(t *testing.T) {
	t.Parallel()
	g, err := catalog.Load("../testdata/rules/parts-touch/bad.toml", catalog.Options{With: []string{"closure.buttons.run.last=90"}})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, f := range Plan(g).Findings {
		if f.Rule != "parts-touch" {
			continue
		}
		n++
		if f.Margin != -12 || !strings.Contains(f.Message(), "at 510 mm (20 1/16 in) lies on") { // a button of 12 mm, whole
			t.Errorf("margin %g: %s", f.Margin, f.Message())
		}
	}
	if n != 1 {
		t.Errorf("%d findings", n)
	}
}
