package search

import (
	"path/filepath"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"
)

// The hem moved after try-on: the last button moves with it, the ends of the
// rest say what stayed.
func TestCompareAfterTryOn(t *testing.T) {
	file := filepath.Join("..", "..", "testdata", "plan", "try-on.toml")
	planned := func(with ...string) *rules.Planned {
		g := trial.Load(t, file, with...)
		return rules.Plan(g)
	}
	before, after := planned(), planned("closure.front.run.length=25 in")
	d := Compare(before, after)
	if len(d.Moved) != 3 {
		t.Fatalf("%d sizes moved, want 3", len(d.Moved))
	}
	m := d.Moved[0]
	if m.Run[0] != 26*in || m.Run[1] != 25*in || len(m.Stayed) == 0 || m.Stayed[0] != 1 {
		t.Errorf("the first must stay: %+v", m)
	}
	last := len(m.To) - 1
	if last < 0 || m.From[last] != 22*in || m.To[last] != 21*in {
		t.Errorf("the last must move up with the hem: %+v", m)
	}
	if d := Compare(before, before); len(d.Moved)+len(d.Come)+len(d.Gone) != 0 {
		t.Errorf("nothing changed, yet %+v", d)
	}
}
