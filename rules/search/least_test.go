package search

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// fartherOn are rules that propose more than the least, with the reason.
var fartherOn = map[string]string{
	"band-extension": "half a mark is let pass",
	"hardware-post":  "the post asked for is the usual one",
	"hole-machine":   "the length that a hole has with its ease",
	"hole-short":     "the same",
	"plaid-level":    "bar on bar, not within 1/16 in of it",
	"plaid-phase":    "the same",
	"strip-start":    "1 mm is let pass",
	"zip-length":     "zips are sold in whole inches",
}

// Of the lengths that are proposed for one key against a conflict, the one nearest
// to what the file has is no farther from it than it must be: one mark nearer, the
// rule still speaks.
func TestProposalsAreTheLeast(t *testing.T) {
	t.Parallel()
	files, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "*", "*", "*.toml"))
	met := map[string]int{}
	for _, name := range files {
		if data, err := os.ReadFile(name); err != nil || !strings.Contains(string(data), "[[closure]]") {
			continue
		}
		g, err := catalog.Load(name, catalog.Options{})
		if err != nil {
			continue
		}
		p := rules.Base(g, nil)
		for i := range p.Findings {
			f := &p.Findings[i]
			x := contextOf(p, f)
			if f.Severity != rules.Conflict || !f.Compared || f.Unit != "mm" || x.Rule == nil || x.Rule.Propose == nil {
				continue
			}
			x.Tries = new(plan.Tries)
			nearest := map[string]catalog.With{}
			var keys []string
			has := func(w catalog.With) (measure.Length, bool) {
				for _, k := range g.Lengths(max(0, slices.IndexFunc(g.Closures, func(c catalog.Closure) bool { return c.Name == f.Closure }))) {
					if catalog.Key("closure", f.Closure)+"."+k.Key == w.Key && k.At.Has() {
						return k.At.V, true
					}
				}
				return 0, false
			}
			for _, c := range x.Rule.Propose(&x, f) {
				if len(c.With) != 1 {
					continue
				}
				l, ok := c.With[0].Value.(catalog.LengthIn)
				now, known := has(c.With[0])
				if !ok || !known || left(p, f, c.With[0]) != "" {
					continue
				}
				if w, ok := nearest[c.With[0].Key]; !ok || (l.V-now).Abs() < (w.Value.(catalog.LengthIn).V-now).Abs() {
					if !ok {
						keys = append(keys, c.With[0].Key)
					}
					nearest[c.With[0].Key] = c.With[0]
				}
			}
			for _, key := range keys {
				w := nearest[key]
				l := w.Value.(catalog.LengthIn)
				now, _ := has(w)
				step := plan.HoleStep(g.Units)
				back := l.V - step
				if l.V < now {
					back = l.V + step
				}
				if (l.V - now).Abs() <= step {
					continue
				}
				what := f.Rule + " " + keyKind(key)
				any := *f
				any.Severity = rules.Note
				if why := left(p, &any, catalog.SetLength(key, back, l.Unit)); why == "" && fartherOn[f.Rule] == "" {
					t.Errorf("%s: %s: %v clears it, but so does %v", name, what, w, back)
				} else if why != "" {
					met[what]++
				}
			}
		}
	}
	if len(met) < 17 {
		t.Errorf("only %d were seen: %v", len(met), met)
	}
}
