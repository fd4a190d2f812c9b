package rules

import (
	"slices"
	"testing"
)

// A rule owns all it knows: nothing about it is left undecided.
func TestRulesAreDecided(t *testing.T) {
	names := map[string]bool{}
	for _, r := range Rules() {
		if names[r.Name] {
			t.Errorf("%s: two rules of that name", r.Name)
		}
		names[r.Name] = true
		for what, is := range map[string]bool{
			"name": r.Name != "", "title": r.Title != "", "formula": r.Formula != "", "why": r.Why != "",
			"sources": len(r.Sources) > 0, "check": r.Check != nil, "room (or noRoom)": r.Room != nil,
			"reads (or ReadsRest)": r.Reads != 0, "task (or NoTask)": slices.Contains(Tasks, r.Task),
		} {
			if !is {
				t.Errorf("%s: its %s is left undecided", r.Name, what)
			}
		}
	}
}
