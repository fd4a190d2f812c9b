package rules

import (
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
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
			"touches, with propose": (len(r.Touches) > 0) == (r.Propose != nil),
		} {
			if !is {
				t.Errorf("%s: its %s is left undecided", r.Name, what)
			}
		}
	}
}

// What a rule says its changes touch are keys that there are.
func TestTouchesAreKeys(t *testing.T) {
	const coat = `garment = "Coat (invented)"
units = "in"
keep = [%s]
[[cord]]
name = "x"
at = "hood"
[cloth.x]
use = "melton"
[interfacing.y]
use = "hair-canvas"
[thread.x]
use = "polyester-tex-40"
[[closure]]
name = "x"
use = "horn-40"
over = ["x", "x"]
stand.strips = [{ name = "y" }]
[closure.run]
length = 24
count = 5
anchor = [{ name = "x", at = 8 }]
clear = [{ name = "z", from = 10, to = 11 }]
`
	all := slices.Clone(AnyTouches)
	for _, r := range Rules() {
		all = append(all, r.Touches...)
	}
	slices.Sort(all)
	for _, p := range slices.Compact(all) {
		key := strings.NewReplacer("interfacing.*", "interfacing.y", "clear.*", "clear.z", "strips.*", "strips.y", "*", "x").Replace(p)
		// What can be said of a notion hangs on its kind.
		var err error
		for _, use := range []string{"horn-40", "hook-eye-8-5mm", "tack-27-short"} {
			text := strings.NewReplacer("%s", `"`+key+`"`, "horn-40", use).Replace(coat)
			if _, err = catalog.Read("coat.toml", []byte(text), catalog.Options{}); err == nil {
				break
			}
		}
		if err != nil {
			t.Errorf("%s: %v", p, err)
		}
	}
}
