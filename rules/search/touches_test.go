package search

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog/source"
	"placketeer/rules"
	"placketeer/rules/trial"
)

// touched says whether a key is one of the patterns, or lies below one.
func touched(patterns []string, key string) bool {
	path, ok := source.ParsePath(key)
	return ok && slices.ContainsFunc(patterns, func(p string) bool {
		steps := strings.Split(p, ".")
		if len(steps) > len(path) {
			return false
		}
		for i, s := range steps {
			if s != "*" && s != path[i].Key {
				return false
			}
		}
		return true
	})
}

// No change that is tried touches a key that its rule does not name.
func TestTriedChangesTouchWhatTheyMay(t *testing.T) {
	t.Parallel()
	tried := 0
	for seed := range uint64(many(60, 1000)) {
		g, _, _ := random(t, seed, 8)
		if g == nil {
			continue
		}
		p := rules.Plan(g)
		for _, tr := range newFixer(p).troubles() {
			r := rules.Find(tr.first.Rule)
			for _, c := range proposals(p, tr.findings, nil) {
				tried++
				for _, w := range c.With {
					if !touched(r.Touches, w.Key) {
						t.Errorf("seed %d: %s: %s touches what the rule does not name", seed, r.Name, w)
					}
				}
			}
		}
	}
	if tried < many(600, 10_000) {
		t.Errorf("only %d changes were looked at", tried)
	}
}

// No proposal touches a key that its rule does not name.
func TestProposalsTouchWhatTheyMay(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "rules", "*", "bad*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{} // rules that proposed something
	look := func(name, rule string, may []string, cs []rules.Change) {
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
		g := trial.Load(t, name)
		p := rules.Plan(g)
		for i := range p.Findings {
			f := &p.Findings[i]
			x := rules.Context{G: g, P: p, U: g.Units, Rule: rules.Find(f.Rule), Size: f.Size}
			for k := range p.Closures {
				if f.Closure != "" && p.Closures[k].Closure.Name == f.Closure {
					x.C, x.K = p.Closures[k].Closure, &p.Closures[k]
				}
			}
			if x.Rule.Propose != nil {
				look(name, f.Rule, x.Rule.Touches, x.Rule.Propose(&x, f))
			}
			if x.C != nil {
				look(name, "any", rules.AnyTouches, rules.ProposeAny(&x, f))
			}
		}
	}
	for _, r := range rules.Rules() {
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
