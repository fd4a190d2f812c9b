package rules

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/rules/trial"
)

// Whatever these rules propose can be made, and for every conflict and
// caution that they propose something for, one of the changes clears it.
func TestClothProposalsClear(t *testing.T) {
	for _, r := range slices.Concat(clothRules, plaidRules, thickRules, orderRules, safetyRules) {
		if r.Propose == nil {
			continue
		}
		files, _ := filepath.Glob(filepath.Join("..", "testdata", "rules", r.Name, "bad*.toml"))
		for _, name := range files {
			g := trial.Load(t, name)
			p := Plan(g)
			for i := range p.Findings {
				f := &p.Findings[i]
				if f.Rule != r.Name || f.Severity == Note {
					continue
				}
				x := Context{G: g, P: p, U: g.Units, Rule: r}
				for k := range p.Closures {
					if p.Closures[k].Closure.Name == f.Closure {
						x.C, x.K = p.Closures[k].Closure, &p.Closures[k]
					}
				}
				changes := r.Propose(&x, f)
				cleared := len(changes) == 0
				for _, c := range changes {
					h, err := g.Alter(c.With...)
					if err != nil {
						t.Errorf("%s: %q: %v", name, c.With, err)
						continue
					}
					if c.Says == "" || strings.Contains(c.Says, "%!") {
						t.Errorf("%s: %q says %q", name, c.With, c.Says)
					}
					if !slices.ContainsFunc(Plan(h).Findings, func(o Finding) bool {
						return o.Rule == f.Rule && o.Severity >= f.Severity && o.Closure == f.Closure && sameKey(o.Path(), f.Path())
					}) {
						cleared = true
					}
				}
				if !cleared {
					t.Errorf("%s: none of %d changes clears: %s", name, len(changes), f.Message())
				}
			}
		}
	}
}

// sameKey says whether two paths speak of the same thing: an interfacing's
// heat and the interfacing itself are one.
func sameKey(a, b string) bool {
	cut := func(s string) string {
		if strings.HasPrefix(s, "interfacing.") {
			return s[:strings.LastIndexByte(s, '.')]
		}
		return s
	}
	return cut(a) == cut(b)
}

// A cloth that was measured is not made of itself, which would only take the
// measuring away.
func TestClothIsNotMadeOfItself(t *testing.T) {
	g := trial.Read(t, `garment = "Cape (invented)"
units = "mm"
[cloth.shell]
use       = "boiled-wool"
thickness = "2.6 mm"
[[closure]]
name = "front"
use  = "horn-36"
over = ["shell", "shell"]
[closure.run]
length = 600
count  = 5
`)
	p := Plan(g)
	x := Context{G: g, P: p, U: g.Units, C: p.Closures[0].Closure, K: &p.Closures[0]}
	for _, c := range proposeCloth(&x, g.Cloths[0]) {
		if strings.HasSuffix(c.Says, "of boiled-wool") {
			t.Errorf("%s: %v", c.Says, c.With)
		}
	}
}
