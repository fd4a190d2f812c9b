package search

import (
	"fmt"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
)

// stuckCoat is a coat whose button of 30 mm and 5 mm needs a hole of 35 mm
// (diameter + thickness: Extension Bulletin 576, 1965) on a machine that sews
// 28 mm.
const stuckCoat = `garment = "Quay coat (invented)"
units = "mm"
%s
[machine]
buttonhole_max = "28 mm"
[cloth.shell]
use = "melton"
thickness = "1.2 mm"
[[closure]]
name = "front"
over = ["shell", "shell"]
reinforced = true
hole = "machine"
notion = { diameter = "30 mm", thickness = "5 mm" }
[closure.run]
length = 600
count = 5
%s
`

func stuck(t *testing.T, keep, more string) *rules.Finding {
	t.Helper()
	g, err := catalog.Read("coat.toml", fmt.Appendf(nil, stuckCoat, keep, more), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := Checked(g, CheckOptions{Fixes: true})
	for i := range p.Findings {
		if p.Findings[i].Severity == rules.Conflict {
			return &p.Findings[i]
		}
	}
	t.Fatal("no conflict")
	return nil
}

// A described button is changed for one of the catalogue whole: its own
// figures go with it.
func TestFixTakesTheOldNotionOut(t *testing.T) {
	f := stuck(t, "", "")
	if len(f.Fixes) == 0 || f.Fixes[0].With[0].String() != "closure.front.notion=" || f.Fixes[0].With[1].Key != "closure.front.use" {
		t.Errorf("fixes %+v", f.Fixes)
	}
}

func TestStuck(t *testing.T) {
	for _, c := range []struct {
		keep  string
		says  []string
		fixes bool
	}{
		{``, nil, true},
		{`keep = ["cloth", "machine"]`, nil, true},
		{`keep = ["closure.front.notion"]`, nil, true}, // a hole worked by hand
		{`keep = ["closure.front.use", "closure.front.hole"]`, []string{"closure.front.use and closure.front.hole are kept and stand against each other", "Without keeping closure.front.use: use ", "without keeping closure.front.hole: work the holes by hand"}, false},
		{`keep = ["closure.front"]`, []string{"closure.front is kept and stands against machine.buttonhole_max", "Without keeping it: "}, false},
	} {
		f := stuck(t, c.keep, "")
		if (len(f.Fixes) > 0) != c.fixes || (f.Stuck == "") != c.fixes {
			t.Errorf("%s: %d fixes, stuck: %q", c.keep, len(f.Fixes), f.Stuck)
		}
		for _, s := range c.says {
			if !strings.Contains(f.Stuck, s) {
				t.Errorf("%s: %q is not in %q", c.keep, s, f.Stuck)
			}
		}
	}
}

// Where no change alone will do, two are tried together.
func TestPairs(t *testing.T) {
	found := false
	for seed := uint64(0); seed < 200 && !found; seed++ {
		g, _, _ := random(t, seed, 8)
		if g == nil {
			continue
		}
		p := Checked(g, CheckOptions{Fixes: true})
		for _, f := range p.Findings {
			for _, x := range f.Fixes {
				if f.Severity != rules.Conflict || !strings.Contains(x.Says, ", and ") || len(x.With) != 2 {
					continue
				}
				found = true
				// Neither of the two would do alone.
				for _, w := range x.With {
					h, err := g.Alter(w)
					if err != nil {
						continue
					}
					fx := newFixer(p)
					for _, tr := range fx.troubles() {
						if !tr.has(spotOf(&f)) {
							continue
						}
						p := rules.Found(h)
						a := &attempt{made: true, found: spotsIn(p), count: tallied(p)}
						if o, _ := fx.judge(a, tr); o >= mends {
							t.Errorf("seed %d: %s: %q alone would do, but %q is shown", seed, f.Rule, w, x.With)
						}
					}
				}
			}
		}
	}
	if !found {
		t.Error("no pair was found")
	}
}
