package search

import (
	"slices"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"
)

const matched = `garment = "Slip plaid coat (invented)"
units   = "mm"
[cloth.shell]
use = "melton"
thickness = "2 mm"
repeat = { along = "84 mm", across = "84 mm" }
[interfacing.front]
use = "wigan-type-1"
thickness = "0.5 mm"
[[closure]]
name = "front"
use  = "horn-36"
over = ["shell", "front", "shell"]
[closure.run]
length = 600
first  = 40
last   = 100
count  = 6
match  = "shell"
`

// Where the ends that a file gives clash with the repeat, the nearest ends that
// meet it are offered before the match is given up. All by arithmetic: five
// gaps of 84 are 420, of 460 between the ends 40 too much; a first of 10 would
// lie above the least, 12.7 (1/2 in), so of a phase of 10 the next is 94.
func TestAMatchedRunMovesItsEnds(t *testing.T) {
	for _, c := range []struct {
		name string
		from []string
		want []string // of what is offered, the keys of a change joined
		not  string
	}{
		{"ends", nil, []string{"last=140 mm", "first=80 mm"}, ""},
		{"nearer", []string{"length = 600", "length = 570"}, []string{"last=110 mm", "first=50 mm"}, "last=26 mm"},
		{"farther", []string{"last   = 100", "last   = 150"}, []string{"last=140 mm", "first=30 mm"}, ""},
		{"window", []string{"last   = 100", "last   = { min = 90, max = 105 }"}, []string{"last={max=140 mm,min=90 mm}"}, ""},
		{"sizes", []string{"length = 600", "length = { S = 590, M = 600, L = 612 }", "[cloth.shell]", "[sizes]\nnames = [\"S\", \"M\", \"L\"]\n[cloth.shell]"},
			[]string{"last={L=152 mm,M=140 mm,S=130 mm}", "last={max=152 mm,min=100 mm}"}, ""},
		{"phase", []string{"match  =", "phase = 10\nmatch ="}, []string{"first=94 mm last=86 mm"}, "first=10 mm"},
		{"step", []string{"last   = 100", "last   = 140\nstep = 5"}, []string{"step=2 mm"}, ""},
		{"step and last", []string{"last   = 100", "last   = 100\nstep = 5"}, []string{"last=140 mm step=2 mm"}, ""},
		{"count", []string{"count  = 6", "count  = 8", "last   = 100", "last   = 56"}, []string{"count=7"}, ""},
		{"inches", []string{`units   = "mm"`, `units   = "in"`, `"84 mm", across = "84 mm"`, `"3 1/2 in", across = "3 1/2 in"`, "length = 600", "length = 24", "first  = 40", `first = "1 1/2 in"`, "last   = 100", "last = 4"},
			[]string{"last=5 in", "first=2 1/2 in"}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := trial.Read(t, strings.NewReplacer(c.from...).Replace(matched))
			p := Checked(g, CheckOptions{Fixes: true})
			var all []string
			for i := range p.Findings {
				f := &p.Findings[i]
				if f.Rule != "spacing-clash" {
					continue
				}
				for _, x := range f.Fixes {
					var keys []string
					for _, w := range x.With {
						keys = append(keys, strings.NewReplacer(`"`, "", " = ", "=", "{ ", "{", " }", "}", ", ", ",").Replace(strings.TrimPrefix(w.String(), "closure.front.run.")))
					}
					slices.Sort(keys)
					all = append(all, strings.Join(keys, " "))
					again, err := g.Alter(x.With...)
					if err != nil {
						t.Fatal(err)
					}
					for j := range rules.Plan(again).Findings {
						if o := &rules.Plan(again).Findings[j]; o.Severity == rules.Conflict || o.Rule == "gaps-uneven" {
							t.Errorf("%s: %s", all, o.Message())
						}
					}
				}
				break
			}
			for _, w := range c.want {
				if !slices.Contains(all, w) {
					t.Errorf("offered %q, want %q", all, w)
				}
			}
			if c.not != "" && slices.Contains(all, c.not) {
				t.Errorf("offered %q", c.not)
			}
			if i := slices.Index(all, "match"); i >= 0 && i < len(all)-1 && len(c.want) > 0 && all[i+1] == c.want[0] {
				t.Errorf("giving up the match comes first: %q", all)
			}
		})
	}
}
