package search

import (
	"fmt"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// What a choice finds is what the file has where its name is the same, or of a
// family where every closure keeps its own.
func TestWhatTheFileHas(t *testing.T) {
	c := &Choice{Now: "horn-45"}
	for _, q := range []struct {
		d    Candidate
		want bool
	}{
		{Candidate{Name: "horn-45"}, true}, {Candidate{Name: "horn-40"}, false}, {Candidate{Name: "horn-40", AsIs: true}, false},
		{Candidate{Name: "horn-45", Picks: []Pick{{}}}, false}, {Candidate{Name: "horn", Picks: []Pick{{}}, AsIs: true}, true},
	} {
		if got := c.Has(&q.d); got != q.want {
			t.Errorf("%+v: %v", q.d, got)
		}
	}
}

// limitCoat has a machine that sews a hole of 28 mm, and an own catalogue with
// buttons of 4 mm. A hole must pass diameter + thickness (Extension Bulletin 576,
// Buttons and Buttonholes, 1965): one of 24 mm is at the limit.
func limitCoat(t *testing.T, more string) *catalog.Garment {
	t.Helper()
	own := ""
	for _, b := range []string{"24", "24.1", "30"} {
		own += fmt.Sprintf("[[button]]\nname = \"quay-%s\"\nsource = \"invented\"\ndiameter = \"%s mm\"\nthickness = \"4 mm\"\n", strings.ReplaceAll(b, ".", "x"), b)
	}
	g, err := catalog.Read("coat.toml", []byte(fmt.Sprintf(slimCoat, "20 mm", "4 mm")+more), catalog.Options{
		Catalogs: []string{"own.toml"}, ReadFile: func(string) ([]byte, error) { return []byte(own), nil },
	})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// What has exactly the room it needs passes; what has less does not.
func TestChooseAtTheLimit(t *testing.T) {
	c, err := Choose(limitCoat(t, ""), ChoiceOptions{Limit: 1000})
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]bool{"quay-24": true, "quay-24x1": false, "quay-30": false}
	found := false
	for _, d := range c.Candidates {
		if passes, is := want[d.Name]; is {
			if found = found || passes; d.Passes != passes || (d.Fails == "") != passes {
				t.Errorf("%s: passes: %v, %q, %s has %v of %v", d.Name, d.Passes, d.Fails, d.Tightest, d.Have, d.Need)
			}
			if passes && (d.Tightest != "hole-machine" || d.Share != 0) {
				t.Errorf("%s: the least room is that of %s, %v", d.Name, d.Tightest, d.Share)
			}
		}
	}
	if !found {
		t.Error("quay-24 is not listed")
	}
	for share, passes := range map[float64]bool{0: true, -1e-9: false, 1: true} {
		if g := (grade{usable: true, share: share}); g.passes() != passes {
			t.Errorf("a share of %v: passes %v", share, !passes)
		}
	}
}

// As many that pass are listed as were asked for, and up to five near misses.
func TestHowManyAreListed(t *testing.T) {
	g := demo(t, "watch-coat")
	for _, o := range []ChoiceOptions{{Closure: "front"}, {All: true}} {
		for _, limit := range []int{1, 2, 5, 6, 1000} {
			o.Limit = limit
			c, err := Choose(g, o)
			if err != nil {
				t.Fatal(err)
			}
			passing, misses := 0, 0
			for _, d := range c.Candidates {
				if d.Passes {
					passing++
				} else {
					misses++
				}
			}
			if passing != min(limit, c.Passing) || misses != min(limit, 5, c.Tried-c.Passing) {
				t.Errorf("%+v: %d of %d that pass, %d of %d that do not", o, passing, c.Passing, misses, c.Tried-c.Passing)
			}
			if c.Stopped != "" {
				t.Errorf("%+v: %s", o, c.Stopped)
			}
		}
	}
	// However little may be planned, one of the catalogue is tried.
	c, err := chooseWithin(g, ChoiceOptions{All: true}, fast, 1, choicePlaces)
	if err != nil || c.Tried != 1 || !strings.HasPrefix(c.Stopped, "the search looked at 3 plans and stopped: ") {
		t.Errorf("%d tried, %q, %v", c.Tried, c.Stopped, err)
	}
}

// Work is done in batches of 64, each piece once, until as many places were tried
// as may be: what counts are the batches up to there.
func TestSpreadDoesEachOnce(t *testing.T) {
	g := limitCoat(t, "")
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	for _, procs := range []int{1, 3} {
		runtime.GOMAXPROCS(procs)
		for _, c := range []struct {
			n      int
			places int64
			want   int
		}{
			{0, 1000, 0}, {1, 1000, 1}, {63, 1000, 63}, {64, 1000, 64}, {65, 1000, 65}, {128, 1000, 128}, {129, 1000, 129},
			{300, 64, 64}, {300, 65, 128}, {300, 128, 128}, {300, 129, 192}, {300, 299, 300}, {1300, 1000, 1024},
		} {
			ch := &chooser{g: g, places: c.places}
			done := make([]atomic.Int32, c.n)
			var all atomic.Int32
			got := ch.spread(c.n, func(_ *worker, i int) int {
				done[i].Add(1)
				all.Add(1)
				return 1
			})
			if got != c.want || procs == 1 && int(all.Load()) != c.want {
				t.Errorf("%d within %d places on %d processors: %d count, %d were done, want %d", c.n, c.places, procs, got, all.Load(), c.want)
			}
			for i := range c.n {
				if n := done[i].Load(); n > 1 || n == 0 && i < c.want {
					t.Errorf("%d within %d places on %d processors: number %d was done %d times", c.n, c.places, procs, i, n)
				}
			}
		}
	}
}

// A finding stays where the choice cannot change its rule and the file has it as
// grave.
func TestWhatStays(t *testing.T) {
	s := spot{rule: "r", closure: "front"}
	for _, c := range []struct {
		kept bool
		has  [2]int
		sev  rules.Severity
		want bool
	}{
		{true, [2]int{1, 1}, rules.Conflict, true}, {true, [2]int{1, 1}, rules.Caution, true}, {true, [2]int{1, 0}, rules.Caution, true},
		{true, [2]int{1, 0}, rules.Conflict, false}, {true, [2]int{0, 0}, rules.Caution, false}, {false, [2]int{1, 1}, rules.Conflict, false},
	} {
		ch := &chooser{kept: map[string]bool{"r": c.kept}, count: tally{s: c.has}}
		if got := ch.stays(&rules.Finding{Rule: "r", Closure: "front", Severity: c.sev}); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	// Where no rule compares anything there is all the room there is.
	if rule, n := (&chooser{}).tightest(rules.Plan(limitCoat(t, ""))); rule != "" || n.Share() != 1 {
		t.Errorf("%s: %+v", rule, n)
	}
}

// Of rules that leave as little room the first is told.
func TestTheTightestRule(t *testing.T) {
	p := rules.Plan(limitCoat(t, ""))
	rule := func(name string, margin, need float64) *rules.Rule {
		return &rules.Rule{Name: name, Room: func(*rules.Context) rules.Numbers {
			return rules.Numbers{Margin: margin, Need: need, Compared: need > 0}
		}}
	}
	for _, c := range []struct {
		reads []*rules.Rule
		want  string
	}{
		{[]*rules.Rule{rule("a", 2, 20), rule("b", 1, 10)}, "a"},
		{[]*rules.Rule{rule("a", 2, 20), rule("b", 1, 11)}, "b"},
		{[]*rules.Rule{rule("a", -1, 0), rule("b", 9, 10)}, "b"},
		{[]*rules.Rule{rule("a", 0, 10), rule("b", -1, 10), rule("c", -1, 20)}, "b"},
	} {
		ch := &chooser{at: []int{0}, reads: c.reads}
		if got, _ := ch.tightest(p); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
}

func TestTrueFirst(t *testing.T) {
	for _, c := range []struct {
		a, b bool
		want int
	}{{true, true, 0}, {false, false, 0}, {true, false, -1}, {false, true, 1}} {
		if got := trueFirst(c.a, c.b); got != c.want {
			t.Errorf("%v before %v: %d", c.a, c.b, got)
		}
	}
	// Of families one that passes stands before all that do not, then the fewest
	// conflicts, then the one most alike, and so on to the name.
	list := []picking{
		{family: "h", like: 9}, {family: "a", conflicts: 1}, {family: "b", conflicts: 1}, {family: "a", conflicts: 2},
	}
	for i := range list[1:] {
		if comparePickings(list[i], list[i+1]) >= 0 || comparePickings(list[i+1], list[i]) <= 0 {
			t.Errorf("%+v is not before %+v", list[i], list[i+1])
		}
	}
}

// Of members that do alike for a closure the first by name is taken, and a
// family's price is that of all its members, none where one has none.
func TestMembersThatAreAlike(t *testing.T) {
	ch := &chooser{g: &catalog.Garment{}}
	for k := range 2 {
		c := catalog.Closure{Index: k}
		c.Notion.Kind = catalog.Button
		c.Notion.Diameter = catalog.Measured{V: 20 * mm, From: catalog.Given}
		ch.g.Closures = append(ch.g.Closures, c)
		ch.at = append(ch.at, k)
	}
	button := func(name string, across measure.Length, price float64) *member {
		x := &member{across: across, grades: []grade{{usable: true}, {usable: true}}}
		x.name, x.entry = name, &catalog.Entry{}
		if price > 0 {
			x.entry.Price = catalog.Opt[float64]{V: price, From: catalog.Given}
		}
		return x
	}
	p := ch.pick("horn", []*member{button("horn-b", 20*mm, 2), button("horn-a", 20*mm, 1.5), button("horn-c", 21*mm, 1)})
	if p.members[0].name != "horn-a" || p.members[1].name != "horn-a" || p.price != 3 {
		t.Errorf("%s and %s, %v", p.members[0].name, p.members[1].name, p.price)
	}
	free, one := ch.pick("horn", []*member{button("horn-a", 20*mm, 0)}), ch.pick("horn", []*member{button("horn-a", 20*mm, 1e6)})
	if free.price <= one.price || comparePickings(one, free) >= 0 {
		t.Errorf("without a price %v, with one %v", free.price, one.price)
	}
}

// A size first, within it the make: three makes to a class of size, and a metal
// button three classes behind where the file has none (ours). A point that is the
// cloth's before a universal one before others.
func TestSizeBeforeMake(t *testing.T) {
	button := func(name, material string, lignes measure.Length) *catalog.Notion {
		n := &catalog.Notion{Kind: catalog.Button, Shape: "flat", Material: material}
		n.Name = name
		n.Diameter = catalog.Measured{V: lignes * measure.Ligne, From: catalog.Given}
		return n
	}
	now := button("horn-36", "horn", 36)
	for _, c := range []struct {
		n    *catalog.Notion
		want int
	}{
		{button("horn-36", "horn", 36), 0}, {button("corozo-36", "corozo", 36), 2}, {button("horn-38", "horn", 38), 3}, {button("bone-38", "horn", 38), 4},
		{button("corozo-38", "corozo", 38), 5}, {button("horn-40", "horn", 40), 6}, {button("corozo-40", "corozo", 40), 8}, {button("dome-36", "brass", 36), 11}, {button("horn-44", "horn", 44), 9},
	} {
		if got := (&chooser{}).likeNotion(c.n, now, 36*measure.Ligne); got != c.want {
			t.Errorf("%s of %s: %d, want %d", c.n.Name, c.n.Material, got, c.want)
		}
	}
	for _, c := range []struct {
		cloth, point string
		want         int
	}{
		{"boiled-wool", "universal", 0}, {"boiled-wool", "", 1}, {"boiled-wool", "sharp", 2}, {"leather", "leather", 0}, {"leather", "universal", 1}, {"leather", "", 1}, {"leather", "ballpoint", 2},
	} {
		k := &plan.Closure{Closure: &catalog.Closure{}, Over: plan.Stack{Layers: []plan.Layer{{Layer: catalog.Layer{Cloth: &catalog.Cloth{Kind: c.cloth}}}}}}
		if got := fitNeedle(&catalog.Needle{Point: c.point}, k); got != c.want {
			t.Errorf("%q for %s: %d, want %d", c.point, c.cloth, got, c.want)
		}
	}
}
