package spacing

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// medium draws a problem with fixed ends on or off the steps, too large to
// look at every layout, yet not for a plain table of places.
func medium() *rapid.Generator[Problem] {
	return rapid.Custom(func(t *rapid.T) Problem {
		num := func(what string, lo, hi int) length {
			all := make([]length, hi-lo+1)
			for i := range all {
				all[i] = length(lo + i)
			}
			return rapid.SampledFrom(all).Draw(t, what)
		}
		p := Problem{Run: num("run", 60, 110), Step: num("step", 1, 2)}
		p.First, p.Last = At(num("first", 0, 9)), At(p.Run-num("last", 0, 9))
		p.CountMin = int(num("count", 5, 11))
		p.CountMax = p.CountMin
		for i := range num("anchors", 0, 2) {
			p.Anchors = append(p.Anchors, Anchor{fmt.Sprint("a", i), num("at", 10, 100), num("within", 0, 3)})
		}
		for i := range num("zones", 0, 3) {
			from := num("from", 5, 95)
			p.Clear = append(p.Clear, Zone{fmt.Sprint("z", i), from, from + num("size", 1, 12)})
		}
		return p
	})
}

// An entry is what is best from a place on.
type entry struct {
	ok             bool
	squares, drift int64
	next           length
	mask           int
}

// tableBest fills, for one range of gaps after the other from the narrowest
// up, a plain table by place, number and anchors met.
func tableBest(p Problem) (best []length) {
	n, first, last := p.CountMin, p.First.Min, p.Last.Min
	m := int64(n - 1)
	full := 1<<len(p.Anchors) - 1
	met := func(at length) (mask int) {
		for i, a := range p.Anchors {
			if max(at-a.At, a.At-at) <= a.Within {
				mask |= 1 << i
			}
		}
		return mask
	}
	within := func(lo, hi length) []length {
		table := make([][][]entry, n)
		for i := range table {
			table[i] = make([][]entry, p.Run+1)
			for at := range table[i] {
				table[i][at] = make([]entry, full+1)
			}
		}
		for i := n - 1; i >= 0; i-- {
			for at := first; at <= last; at++ {
				if i == 0 && at != first || i == n-1 && at != last || !p.startsOf(i, n, at) {
					continue
				}
				for mask := range full + 1 {
					have := mask | met(at)
					e := entry{ok: i == n-1 && have == full}
					for gap := lo; gap <= hi && at+gap <= last && i < n-1; gap++ {
						to := table[i+1][at+gap][have]
						if !to.ok {
							continue
						}
						d := m*int64(at-first) - int64(i)*int64(last-first)
						to.squares += int64(gap * gap)
						to.drift += d * d
						to.next, to.mask = at+gap, have
						if !e.ok || to.squares < e.squares || to.squares == e.squares && to.drift < e.drift {
							e = to
						}
					}
					table[i][at][mask] = e
				}
			}
		}
		if !table[0][first][0].ok {
			return nil
		}
		starts := []length{first}
		for e, i := table[0][first][0], 1; i < n; i++ {
			starts = append(starts, e.next)
			e = table[i][e.next][e.mask]
		}
		return starts
	}
	if within(1, p.Run) == nil {
		return nil
	}
	even := (last - first) / length(m)
	for spread := length(0); best == nil; spread++ {
		for lo := max(even-spread, 1); lo <= even; lo++ {
			if got := within(lo, lo+spread); got != nil && (best == nil || better(got, best)) {
				best = got
			}
		}
	}
	return best
}

func TestNoLayoutIsBetterInAPlainTable(t *testing.T) {
	checks(t, 300, 3000)
	solved := 0
	rapid.Check(t, func(t *rapid.T) {
		p := medium().Draw(t, "problem")
		want := tableBest(p)
		got, err := Solve(p)
		if (err == nil) != (want != nil) {
			t.Fatalf("a layout exists: %v; Solve: %v", want, err)
		}
		if err != nil {
			return
		}
		solved++
		if diff := cmp.Diff(expand(p, want), got); diff != "" {
			t.Fatalf("(-want +got)\n%s", diff)
		}
	})
	if t.Logf("%d had a layout", solved); solved < 100 && !testing.Short() {
		t.Error("too few problems with a layout for the test to mean much")
	}
}

// The order the objective is defined in, on layouts worked out by hand.
func TestObjectiveOrder(t *testing.T) {
	tests := []struct {
		name string
		p    Problem
		want []length
	}{
		{"even where even is possible", Problem{Run: 12, Step: 1, First: At(0), Last: At(12), CountMin: 5, CountMax: 5}, []length{0, 3, 6, 9, 12}},
		// 10 in 4 gaps: 2 2 3 3 in any order; even places 2.5 5 7.5.
		{"nearest the even places, topmost of equals", Problem{Run: 10, Step: 1, First: At(0), Last: At(10), CountMin: 5, CountMax: 5}, []length{0, 2, 5, 7, 10}},
		// Even places 3.5 7 10.5: 3 or 4 and 10 or 11 are as near.
		{"topmost", Problem{Run: 14, Step: 1, First: At(0), Last: At(14), CountMin: 5, CountMax: 5}, []length{0, 3, 7, 10, 14}},
		// Two windows: any even layout has no spread, the tightest the least squares.
		{"ends that may move draw together", Problem{Run: 20, Step: 1, First: Window{0, 3}, Last: Window{12, 20}, CountMin: 4, CountMax: 4}, []length{3, 6, 9, 12}},
		{"the wish of gap limits", Problem{Run: 24, Step: 1, First: At(0), Last: At(24), Gap: Limits{3, 9}}, []length{0, 6, 12, 18, 24}},
		// Gaps of 8 and 6 are as far from 7: the fewer fasteners.
		{"of equal wishes the fewer", Problem{Run: 24, Step: 1, First: At(0), Last: At(24), Gap: Limits{4, 10}}, []length{0, 8, 16, 24}},
		{"one", Problem{Run: 9, Step: 2, First: Window{0, 9}, Last: Window{3, 9}, CountMin: 1, CountMax: 1}, []length{4}},
		{"one off the steps", Problem{Run: 9, Step: 2, First: At(5), Last: Window{0, 9}, CountMin: 1, CountMax: 1}, []length{5}},
		{"two", Problem{Run: 9, Step: 2, First: At(1), Last: At(8), CountMin: 2, CountMax: 2}, []length{1, 8}},
	}
	for _, tt := range tests {
		l, err := Solve(tt.p)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if diff := cmp.Diff(tt.want, l.Positions); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", tt.name, diff)
		}
	}
}

// Without anything in its way a run on the steps is the even one, rounded.
func TestNothingInTheWayIsEven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := length(rapid.IntRange(1, 5_000_000).Draw(t, "step"))
		n := rapid.IntRange(2, 60).Draw(t, "count")
		first := step * length(rapid.IntRange(0, 500).Draw(t, "first"))
		last := first + step*length(rapid.IntRange(n-1, 9000).Draw(t, "steps"))
		l, err := Solve(Problem{Run: last + step, Step: step, First: At(first), Last: At(last), CountMin: n, CountMax: n})
		if err != nil {
			t.Fatal(err)
		}
		even := evenly(first, last, n, step)
		if diff := cmp.Diff(even, l.Positions); diff != "" {
			t.Fatalf("(-even +solved)\n%s", diff)
		}
	})
}

// Runs of real length, in half millimetres, with all there is to ask for:
// every layout meets all of it, and moving any one group makes none better.
func TestRealRuns(t *testing.T) {
	checks(t, 300, 5000)
	solved := 0
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) length {
			return length(lo) + length(rapid.Uint64().Draw(t, what)%uint64(hi-lo+1))
		}
		p := Problem{Run: num("run", 600, 4000), Step: []length{1, 2, 6, 10}[num("step", 0, 3)]}
		p.First, p.Last = At(num("first", 10, 60)), At(p.Run-num("last", 20, 250))
		if num("first moves", 0, 2) == 0 {
			p.First.Max += num("first more", 1, 60)
		}
		if num("last moves", 0, 2) == 0 {
			p.Last.Min -= num("last more", 1, 60)
		}
		even := num("even gap", 120, 240)
		p.Gap = Limits{even - num("below", 20, 80), even + num("above", 20, 120)}
		if num("fixed", 0, 1) == 0 {
			p.CountMin = 1 + int((p.Last.Min-p.First.Max)/even)
			p.CountMax = p.CountMin
		}
		for i := range num("anchors", 0, 4) {
			p.Anchors = append(p.Anchors, Anchor{fmt.Sprint("a", i), num("at", 60, int(p.Run)-60), num("within", 2, 40)})
		}
		for i := range num("zones", 0, 4) {
			from := num("from", 40, int(p.Run))
			p.Clear = append(p.Clear, Zone{fmt.Sprint("z", i), from, from + num("size", 10, 90)})
		}
		if num("match", 0, 4) == 0 {
			p.Repeat = p.Step * num("repeat", 1, 12)
		}
		if num("grouped", 0, 4) == 0 {
			p.Group, p.GroupGap = int(num("group", 2, 3)), num("group gap", 10, 25)
			p.CountMin *= p.Group
			p.CountMax *= p.Group
		}
		l, err := Solve(p)
		if err != nil {
			return
		}
		solved++
		if bad := faults(p, l); len(bad) > 0 {
			t.Fatalf("%v does not meet %v", l, bad)
		}
		g := p.members()
		var best []length
		for i := 0; i < len(l.Positions); i += g {
			best = append(best, l.Positions[i])
		}
		starts := slices.Clone(best)
		for i, was := range starts {
			for to := max(was-150, 0); to <= was+150; to++ {
				starts[i] = to
				if better(starts, best) && len(faults(p, expand(p, starts))) == 0 {
					t.Fatalf("%v is better than %v", starts, l)
				}
			}
			starts[i] = was
		}
	})
	if t.Logf("%d had a layout", solved); solved < 50 && !testing.Short() {
		t.Error("too few problems with a layout for the test to mean much")
	}
}
