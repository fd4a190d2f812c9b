package rules

import (
	"path/filepath"
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
		key := strings.NewReplacer("interfacing.*", "interfacing.y", "clear.*", "clear.z", "*", "x").Replace(p)
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

// No proposal touches a key that its rule does not name.
func TestProposalsTouchWhatTheyMay(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "testdata", "rules", "*", "bad*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{} // rules that proposed something
	look := func(name, rule string, may []string, cs []Change) {
		for _, c := range cs {
			seen[rule] = true
			for _, w := range c.With {
				if !touched(may, w.Key) {
					t.Errorf("%s: %s: %s touches what its rule does not name", name, rule, w)
				}
			}
		}
	}
	propose, some := 0, 0
	for _, name := range files {
		g, err := catalog.Load(name, catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		p := Plan(g)
		for i := range p.Findings {
			f := &p.Findings[i]
			x := Context{G: g, P: p, U: g.Units, Rule: Find(f.Rule), Size: f.Size}
			for k := range p.Closures {
				if f.Closure != "" && p.Closures[k].Closure.Name == f.Closure {
					x.C, x.K = p.Closures[k].Closure, &p.Closures[k]
				}
			}
			if x.Rule.Propose != nil {
				look(name, f.Rule, x.Rule.Touches, x.Rule.Propose(&x, f))
			}
			if x.C != nil {
				look(name, "any", AnyTouches, ProposeAny(&x, f))
			}
		}
	}
	for _, r := range Rules() {
		if r.Propose != nil {
			if propose++; seen[r.Name] {
				some++
			}
		}
	}
	if some < propose*9/10 || !seen["any"] {
		t.Errorf("only %d of %d rules proposed anything: %v", some, propose, seen)
	}
}

func TestTouched(t *testing.T) {
	for key, want := range map[string]bool{
		"closure.front.use": true, `closure."my front".use`: true, "closure.front.run.anchor.bust.at": true, "closure.front.run.count.min": true,
		"closure.front.used": false, "closure.front": false, "closure.front.run.anchor.bust": false, "cloth.front.use": false, "": false, "closure..use": false,
	} {
		if got := touched([]string{"closure.*.use", "closure.*.run.anchor.*.at", "closure.*.run.count"}, key); got != want {
			t.Errorf("%q: %v", key, got)
		}
	}
}
