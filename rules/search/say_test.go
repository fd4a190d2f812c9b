package search

import (
	"path/filepath"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
)

// Every finding has a line that fits the screen, with its figures where it
// compared any.
func TestLinesFit(t *testing.T) {
	t.Parallel()
	seen, told := map[string]bool{}, map[string]bool{}
	look := func(name string, g *catalog.Garment) {
		p := rules.Plan(g)
		for i := range p.Findings {
			f := &p.Findings[i]
			r := rules.Find(f.Rule)
			line, message := r.Say(f, g.Units)
			seen[f.Rule] = true
			long := text.Width(line) > rules.LineWidth
			bare := f.Compared && line == r.Title // its own first clause says enough
			if (long || bare || line == "" || message != f.Message()) && !told[f.Rule] {
				told[f.Rule] = true
				t.Errorf("%s: %s: %q of %q", name, f.Rule, line, message)
			}
		}
	}
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "rules", "*", "*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range files {
		if g, err := catalog.Load(n, catalog.Options{}); err == nil {
			look(filepath.Base(n), g)
		}
	}
	for seed := range uint64(many(60, 4000)) {
		if g, _, _ := random(t, seed, 10); g != nil {
			look("random", g)
		}
	}
	for _, r := range rules.Rules() {
		if !seen[r.Name] && r != rules.WithinRule {
			t.Errorf("%s says nothing in all of them", r.Name)
		}
		if text.Width(r.Title) > rules.LineWidth {
			t.Errorf("%s: its title is too long for a line", r.Name)
		}
	}
}
