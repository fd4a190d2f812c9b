package search

import (
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
)

// A change that a rule is said not to mind leaves its conflicts as they are: so
// the search for fixes need not plan it. Every change that is proposed for
// anything in a garment is held against every conflict of it.
func TestChangesThatARuleDoesNotMind(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "rules", "*", "*.toml"))
	more, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "garments", "*.toml"))
	unminded := map[rules.Reads]int{}
	look := func(name string, g *catalog.Garment) {
		base := rules.Found(g)
		var conflicts []*rules.Finding
		var changes []rules.Change
		for i := range base.Findings {
			f := &base.Findings[i]
			if f.Severity != rules.Conflict {
				continue
			}
			conflicts = append(conflicts, f)
			x := contextOf(base, f)
			if r := rules.Find(f.Rule); r.Propose != nil {
				changes = append(changes, r.Propose(&x, f)...)
			}
			if x.C != nil {
				changes = append(changes, rules.ProposeAny(&x, f)...)
			}
		}
		for i, c := range changes {
			unmoved := slices.DeleteFunc(slices.Clone(conflicts), func(f *rules.Finding) bool { return rules.Find(f.Rule).Minds(c.With) })
			if len(unmoved) == 0 || slices.ContainsFunc(changes[:i], func(o rules.Change) bool { return rules.SameChange(o, c) }) {
				continue
			}
			h, err := g.Alter(c.With...)
			if err != nil {
				continue
			}
			now := tallied(rules.Found(h))
			for _, f := range unmoved {
				if now[spotOf(f)][1] == 0 {
					t.Errorf("%s: %s is said not to mind %v, but its conflict is gone", name, f.Rule, catalog.Texts(c.With))
				}
			}
			for _, what := range []rules.Reads{rules.ReadsNotion, rules.ReadsNeedle, rules.ReadsThread, rules.ReadsInterfacing} {
				probe := rules.Rule{Reads: what}
				if probe.Minds(c.With) {
					unminded[what]++
				}
			}
		}
	}
	for _, name := range append(files, more...) {
		if g, err := catalog.Load(name, catalog.Options{}); err == nil && len(g.Closures) > 0 {
			look(name, g)
		}
	}
	for seed := range uint64(many(20, 2000)) {
		if g, _, _ := random(t, seed, 6); g != nil {
			look(fmt.Sprint("seed ", seed), g)
		}
	}
	for _, what := range []rules.Reads{rules.ReadsNotion, rules.ReadsNeedle, rules.ReadsThread, rules.ReadsInterfacing} {
		if unminded[what] < 20 {
			t.Errorf("only %d changes of sort %d were held against conflicts", unminded[what], what)
		}
	}
}

func TestSortsOfChanges(t *testing.T) {
	for _, c := range []struct {
		with  []catalog.With
		minds rules.Reads // the sorts that a rule must read to mind it
	}{
		{[]catalog.With{catalog.Set("closure.front.needle", "100/16")}, rules.ReadsNeedle},
		{[]catalog.With{catalog.Set(`closure."a.needle".use`, "horn-40")}, rules.ReadsNotion},
		{[]catalog.With{catalog.Set("thread.seam.use", "core-tex-40")}, rules.ReadsThread},
		{[]catalog.With{catalog.SetTable("interfacing.weft", map[string]any{"use": "tricot-fusible"})}, rules.ReadsInterfacing},
		{[]catalog.With{catalog.Set("closure.front.needle", "100/16"), catalog.Set("thread.seam.use", "core-tex-40")}, rules.ReadsNeedle | rules.ReadsThread},
		// Whatever is more than a choice may be minded by any rule.
		{[]catalog.With{catalog.Set("closure.front.use", "horn-40"), catalog.TakeOut("closure.front.measured.hole_length")}, 0},
		{[]catalog.With{catalog.Set("closure.front.notion.needle", "100/16")}, 0},
		{[]catalog.With{catalog.Set("closure.front.hole", "hand")}, 0},
		{[]catalog.With{catalog.Set("interfacing.weft.thickness", "1 mm")}, 0},
		{[]catalog.With{catalog.Set("machine.use", "domestic")}, 0},
	} {
		for _, reads := range []rules.Reads{rules.ReadsNotion, rules.ReadsNeedle, rules.ReadsThread, rules.ReadsInterfacing, rules.ReadsRest} {
			r := rules.Rule{Reads: reads}
			if got, want := r.Minds(c.with), c.minds == 0 || c.minds&reads != 0; got != want {
				t.Errorf("%v, a rule that reads %d: minds it %v, not %v", catalog.Texts(c.with), reads, got, want)
			}
		}
	}
}
