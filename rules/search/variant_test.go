package search

import (
	"fmt"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/trial"
)

// A fix of a variant, written into the file, holds there, and leaves the file
// itself and every other variant as they are.
func TestFixesOfAVariantHold(t *testing.T) {
	t.Parallel()
	n := uint64(many(30, 1000))
	var tried atomic.Uint64
	trial.Each(n, func(seed uint64) {
		var wrong []string
		fault := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
		text := anyGarment(t, seed) + "\n[variant.one]\n\"garment\" = \"One\"\n[variant.two]\n\"garment\" = \"Two\"\n"
		g, err := catalog.Read("random.toml", []byte(text), catalog.Options{})
		if err != nil {
			return
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
				fault("%v: %v", catalog.Texts(w), err)
				continue
			}
			tried.Add(1)
			for _, l := range lines {
				if l.Line < strings.Count(text, "\n")-4 {
					fault("%v changes line %d: %s", catalog.Texts(w), l.Line, l.Text)
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
				fault("%v: written it says %q, tried it said %q", catalog.Texts(w), got, want)
			}
			if !slices.Equal(says(read("")), plain) || !slices.Equal(says(read("two")), other) {
				fault("%v: the file itself or another variant has changed", catalog.Texts(w))
			}
		}
		if len(wrong) > 0 {
			t.Errorf("seed %d: %s\n%s", seed, strings.Join(wrong, "\n\t"), text)
		}
	})
	if tried.Load() < n/5 {
		t.Errorf("only %d fixes were tried", tried.Load())
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
