package search

import (
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
)

// A fix of a variant, written into the file, holds there, and leaves the file
// itself and every other variant as they are.
func TestFixesOfAVariantHold(t *testing.T) {
	t.Parallel()
	tried := 0
	for seed := range garments() / 2 {
		text := anyGarment(t, seed) + "\n[variant.one]\n\"garment\" = \"One\"\n[variant.two]\n\"garment\" = \"Two\"\n"
		g, err := catalog.Read("random.toml", []byte(text), catalog.Options{})
		if err != nil {
			continue
		}
		v, err := g.AsVariant("one")
		if err != nil {
			t.Fatalf("seed %d: %v\n%s", seed, err, text)
		}
		p := Checked(v, CheckOptions{Fixes: true, Of: 3})
		two, err := g.AsVariant("two")
		if err != nil {
			t.Fatal(err)
		}
		plain, other := says(rules.Plan(g)), says(rules.Plan(two))
		var with [][]catalog.With
		for i := range p.Findings {
			f := &p.Findings[i]
			if f.Severity != rules.Conflict {
				continue
			}
			for _, x := range f.Fixes {
				if len(with) < 6 {
					with = append(with, x.With)
				}
			}
		}
		if p.Joint != nil && len(p.Joint.With) > 0 {
			with = append(with, p.Joint.With)
		}
		for _, w := range with {
			data, lines, err := v.Rewrite(w...)
			if err != nil {
				t.Errorf("seed %d: %v: %v", seed, catalog.Texts(w), err)
				continue
			}
			tried++
			for _, l := range lines {
				if l.Line < strings.Count(text, "\n")-4 {
					t.Errorf("seed %d: %v changes line %d: %s", seed, catalog.Texts(w), l.Line, l.Text)
				}
			}
			read := func(name string) *rules.Planned {
				n, err := catalog.Read("random.toml", data, catalog.Options{Variant: name})
				if err != nil {
					t.Fatalf("seed %d: %v: %v\n%s", seed, catalog.Texts(w), err, data)
				}
				return rules.Plan(n)
			}
			now, err := v.Alter(w...)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := says(read("one")), says(rules.Plan(now)); !slices.Equal(got, want) {
				t.Errorf("seed %d: %v: written it says %q, tried it said %q", seed, catalog.Texts(w), got, want)
			}
			if !slices.Equal(says(read("")), plain) || !slices.Equal(says(read("two")), other) {
				t.Errorf("seed %d: %v: the file itself or another variant has changed", seed, catalog.Texts(w))
			}
		}
		if t.Failed() {
			t.Fatal(text)
		}
	}
	if tried < int(garments())/10 {
		t.Errorf("only %d fixes were tried", tried)
	}
}

// says are the findings of a plan in words, sorted.
func says(p *rules.Planned) []string {
	var out []string
	for _, f := range p.Findings {
		out = append(out, f.Severity.String()+" "+f.Rule+" "+f.Closure+" "+f.Size+" "+f.Message())
	}
	slices.Sort(out)
	return out
}
