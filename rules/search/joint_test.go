package search

import (
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/trial"
)

func conflictsOf(p *rules.Planned) int {
	n := 0
	for i := range p.Findings {
		if p.Findings[i].Severity == rules.Conflict {
			n++
		}
	}
	return n
}

// What a joint fix says holds: with its changes made, as what-if changes and
// written into the file, no conflict is left; and where it says nothing of a
// caution none has come.
func jointHolds(t *testing.T, name string, g *catalog.Garment, text []byte, opts catalog.Options, p *rules.Planned) {
	t.Helper()
	j := p.Joint
	if len(j.With) == 0 {
		if j.Left == "" || j.Proven {
			t.Errorf("%s: no joint fix, and nothing said of what is left: %+v", name, j)
		}
		return
	}
	with := opts
	with.With = catalog.Texts(j.With)
	tried, err := catalog.Read(g.File, text, with)
	if err != nil {
		t.Errorf("%s: --with %v: %v", name, with.With, err)
		return
	}
	written, _, err := g.Rewrite(j.With...)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	pasted, err := catalog.Read(g.File, written, opts)
	if err != nil {
		t.Errorf("%s: pasted: %v\n%s", name, err, written)
		return
	}
	before := cautions(rules.Found(g))
	for how, n := range map[string]*catalog.Garment{"with": tried, "pasted": pasted} {
		found := rules.Found(n)
		if c := conflictsOf(found); c > 0 {
			t.Errorf("%s: %s %v: %d conflicts are left", name, how, with.With, c)
		}
		if j.Left != "" {
			continue
		}
		for s, n := range cautions(found) {
			if n > before[s] {
				t.Errorf("%s: %s %v: a caution comes: %v", name, how, with.With, s)
			}
		}
	}
	if !j.Clears || j.Says == "" || len(j.TOML) == 0 {
		t.Errorf("%s: %+v", name, j)
	}
}

func cautions(p *rules.Planned) map[spot]int {
	out := map[spot]int{}
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Severity == rules.Caution {
			out[spotOf(f)]++
		}
	}
	return out
}

func several(p *rules.Planned) bool {
	var at []spot
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Severity == rules.Conflict {
			s := spotOf(f)
			s.size = ""
			if !slices.Contains(at, s) {
				at = append(at, s)
			}
		}
	}
	return len(at) > 1
}

func TestJointFixHolds(t *testing.T) {
	t.Parallel()
	var tried, made, proven atomic.Int64
	trial.Each(uint64(trial.Many(60, 2000)), func(n uint64) {
		seed := 12000 + n
		g, text, opts := random(t, seed, 5)
		if g == nil {
			return
		}
		p := Checked(g, CheckOptions{Fixes: true})
		if (p.Joint != nil) != several(p) {
			t.Errorf("seed %d: several conflicts %v, joint fix %+v", seed, several(p), p.Joint)
		}
		if p.Joint == nil {
			return
		}
		tried.Add(1)
		if len(p.Joint.With) > 0 {
			made.Add(1)
		}
		if p.Joint.Proven {
			proven.Add(1)
		}
		jointHolds(t, g.Name, g, text, opts, p)
	})
	if tried.Load() < 10 || made.Load() == 0 || proven.Load() == 0 {
		t.Errorf("of %d garments with several conflicts %d have a joint fix, %d proven", tried.Load(), made.Load(), proven.Load())
	}
	t.Logf("%d with several conflicts: %d have a joint fix, %d proven", tried.Load(), made.Load(), proven.Load())
}

// Where it is proven that no smaller set settles all, trying every set by
// itself, with the whole garment planned anew, comes to the same.
func TestJointFixByBruteForce(t *testing.T) {
	t.Parallel()
	checked := 0
	for seed := uint64(12000); seed < 12000+uint64(trial.Many(60, 400)); seed++ {
		g, _, _ := random(t, seed, 5)
		if g == nil {
			continue
		}
		p := Checked(g, CheckOptions{Fixes: true})
		if p.Joint == nil || !p.Joint.Proven {
			continue
		}
		fx := newFixer(rules.Plan(g))
		var all []*trouble
		for _, tr := range fx.troubles() {
			if tr.severity == rules.Conflict {
				all = append(all, tr)
			}
		}
		pool := fx.pool(all)
		if len(all) > 3 || len(pool) > 18 {
			continue
		}
		checked++
		type set struct {
			with []catalog.With
			cost float64
			text string
		}
		var sets []set
		var grow func(from int, s set, n int)
		grow = func(from int, s set, n int) {
			if n > 0 {
				s.text = strings.Join(catalog.Texts(s.with), "\n")
				sets = append(sets, s)
			}
			if n == len(all) {
				return
			}
			for i := from; i < len(pool); i++ {
				if with, ok := together(s.with, pool[i].With); ok {
					grow(i+1, set{with: with, cost: s.cost + pool[i].Cost}, n+1)
				}
			}
		}
		grow(0, set{}, 0)
		slices.SortStableFunc(sets, func(a, b set) int {
			switch {
			case len(a.with) != len(b.with):
				return len(a.with) - len(b.with)
			case a.cost < b.cost:
				return -1
			case a.cost > b.cost:
				return 1
			}
			return strings.Compare(a.text, b.text)
		})
		before, want := cautions(rules.Found(g)), []string(nil)
	next:
		for _, s := range sets {
			n, err := g.Alter(s.with...)
			if err != nil {
				continue
			}
			found := rules.Found(n)
			if conflictsOf(found) > 0 {
				continue
			}
			for s, n := range cautions(found) {
				if n > before[s] {
					continue next
				}
			}
			want = catalog.Texts(s.with)
			break
		}
		if got := catalog.Texts(p.Joint.With); !slices.Equal(got, want) {
			t.Errorf("seed %d: %v, by brute force %v", seed, got, want)
		}
	}
	if checked < 3 {
		t.Errorf("only %d were small enough", checked)
	}
	t.Logf("%d compared", checked)
}

// The watch coat has two conflicts, and one change of each settles both.
func TestJointFixOfTheWatchCoat(t *testing.T) {
	p := Checked(demo(t, "watch-coat"), CheckOptions{Fixes: true})
	j := p.Joint
	if j == nil || !j.Proven || len(j.With) != 2 || j.Left != "" {
		t.Fatalf("%+v", j)
	}
	t.Log(j.Says, catalog.Texts(j.With))
	n, err := p.Garment.Alter(j.With...)
	if err != nil {
		t.Fatal(err)
	}
	if c := conflictsOf(rules.Found(n)); c > 0 {
		t.Errorf("%d conflicts are left", c)
	}
}

// Ten conflicts are more than can be tried out; what is said of them holds.
func TestJointFixOfTen(t *testing.T) {
	p := Checked(tenConflicts(t), CheckOptions{Fixes: true})
	if p.Joint == nil || p.Joint.Proven {
		t.Fatalf("%+v", p.Joint)
	}
	t.Log(p.Joint.Says, p.Joint.Left, catalog.Texts(p.Joint.With))
	if len(p.Joint.With) > 0 {
		n, err := p.Garment.Alter(p.Joint.With...)
		if err != nil {
			t.Fatal(err)
		}
		if c := conflictsOf(rules.Found(n)); c > 0 {
			t.Errorf("%d conflicts are left", c)
		}
	}
}

// A key lies below another by whole steps, and never below itself.
func TestUnder(t *testing.T) {
	for _, c := range []struct {
		above, key string
		want       bool
	}{
		{"closure.front", "closure.front.use", true}, {"closure.front.measured", "closure.front.measured.stack", true}, {"closure.front.use", "closure.front.use", false},
		{"closure.front.use", "closure.front.used", false}, {"closure.front.use", "closure.front", false}, {"closure.front", "closure.frontal.use", false}, {"cloth", "closure.front", false},
	} {
		if got := under(c.above, c.key); got != c.want {
			t.Errorf("%s below %s: %v", c.key, c.above, got)
		}
	}
}

// Two values for one key are no set; what lies in what is taken out goes with
// it.
func TestTogether(t *testing.T) {
	a, b := catalog.Set("closure.front.use", "horn-36"), catalog.Set("closure.front.needle", "100/16")
	out, in := catalog.TakeOut("closure.front.measured"), catalog.TakeOut("closure.front.measured.hole_length")
	for _, c := range []struct {
		one, two, want []catalog.With
	}{
		{[]catalog.With{a}, []catalog.With{b}, []catalog.With{a, b}},
		{[]catalog.With{a}, []catalog.With{a, b}, []catalog.With{a, b}},
		{[]catalog.With{a}, []catalog.With{catalog.Set("closure.front.use", "horn-30")}, nil},
		{[]catalog.With{a}, []catalog.With{catalog.TakeOut("closure.front.use")}, nil},
		{[]catalog.With{out, a}, []catalog.With{in, b}, []catalog.With{out, a, b}},
		{[]catalog.With{in, a}, []catalog.With{out, b}, []catalog.With{a, out, b}},
		{[]catalog.With{out}, []catalog.With{catalog.Set("closure.front.measured.stack", "5 mm")}, nil},
	} {
		got, ok := together(c.one, c.two)
		if ok != (c.want != nil) || ok && !slices.EqualFunc(got, c.want, catalog.With.Equal) {
			t.Errorf("%v and %v: %v, %v", c.one, c.two, got, ok)
		}
	}
}
