package spacing

import (
	"errors"
	"flag"
	"fmt"
	"math/big"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"placketeer/catalog/measure"
)

// The tests here hold the solver against the plainest search there is, on
// problems small enough for it: every set of places is looked at and judged
// by the words of Problem and Solve, with none of the solver's shortcuts.
//
// They try some 7 000 problems, of which at least 2 000 have a layout, or with
// PLACKETEER_LONG=1 in the environment, as in the long run of CI, 75 000 and
// more than 20 000.

type length = measure.Length

// checks sets how many problems rapid.Check tries in this test.
func checks(t *testing.T, short, long int) {
	n := short
	if os.Getenv("PLACKETEER_LONG") == "1" {
		n = long
	}
	f := flag.Lookup("rapid.checks")
	before := f.Value.String()
	if err := f.Value.Set(strconv.Itoa(n)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := f.Value.Set(before); err != nil {
			t.Error(err)
		}
	})
}

// small draws a problem of a few dozen nanometres. Half of the lengths are
// drawn so that they fall between steps.
func small() *rapid.Generator[Problem] {
	return rapid.Custom(func(t *rapid.T) Problem {
		// rapid.IntRange is drawn to small numbers; these are all as likely.
		pick := func(what string, lo, hi int) int {
			all := make([]int, hi-lo+1)
			for i := range all {
				all[i] = lo + i
			}
			return rapid.SampledFrom(all).Draw(t, what)
		}
		num := func(what string, lo, hi int) length { return length(pick(what, lo, hi)) }
		one := func(what string, in int) bool { return pick(what, 1, in) == in }
		p := Problem{Run: num("run", 6, 30), Step: 1}
		if one("steps", 2) {
			p.Step = num("step", 2, 4)
		}

		switch pick("first kind", 0, 3) {
		case 0:
			p.First = Window{0, p.Run}
		case 1:
			lo := num("first from", -1, 6)
			p.First = Window{lo, lo + num("first size", 1, 5)}
		default:
			p.First = At(num("first", 0, 5))
		}
		switch pick("last kind", 0, 3) {
		case 0:
			p.Last = Window{0, p.Run}
		case 1:
			hi := p.Run + 1 - num("last to", 0, 6)
			p.Last = Window{hi - num("last size", 1, 5), hi}
		default:
			p.Last = At(p.Run - num("last", 0, 5))
		}
		switch pick("count kind", 0, 3) {
		case 0:
		case 1:
			p.CountMin = pick("count min", 1, 3)
			p.CountMax = p.CountMin + pick("count more", 1, 3)
		default:
			p.CountMin = pick("count", 1, 6)
			p.CountMax = p.CountMin
		}
		if one("gap min", 3) {
			p.Gap.Min = num("gap.min", 1, 7)
		}
		if one("gap max", 3) {
			p.Gap.Max = p.Gap.Min + num("gap.max", 1, 8)
		}
		for i := range pick("anchors", 0, 2) {
			p.Anchors = append(p.Anchors, Anchor{fmt.Sprint("a", i), num("at", 0, int(p.Run)), num("within", 0, 2)})
		}
		for i := range pick("zones", 0, 2) {
			from := num("from", -2, int(p.Run))
			p.Clear = append(p.Clear, Zone{fmt.Sprint("z", i), from, from + num("size", 0, 7)})
		}
		p.EvenWithin = num("even within", 1, 4)
		if one("match", 4) {
			p.Repeat = num("repeat", 1, 6)
			if p.HasPhase = rapid.Bool().Draw(t, "has phase"); p.HasPhase {
				p.Phase = num("phase", 0, 6)
			}
		}
		if one("grouped", 5) {
			p.Group, p.GroupGap = pick("group", 2, 3), num("group gap", 1, 3)
			p.CountMin *= p.Group
			p.CountMax *= p.Group
		}
		return p
	})
}

// startsOf tells whether the i-th of n groups may start at a place, its
// neighbours and the anchors aside.
func (p Problem) startsOf(i, n int, at length) bool {
	end := i == 0 && p.First.Fixed() || i == n-1 && p.Last.Fixed()
	if i == 0 && (at < p.First.Min || at > p.First.Max) {
		return false
	}
	last := at + length(p.width())
	if i == n-1 && (last < p.Last.Min || last > p.Last.Max) {
		return false
	}
	if at < 0 || last > p.Run || !end && at%p.Step != 0 {
		return false
	}
	for m := range p.members() {
		for _, z := range p.Clear {
			if c := at + length(m)*p.GroupGap; z.From < c && c < z.To {
				return false
			}
		}
	}
	return true
}

func (p Problem) gapHolds(gap length) bool {
	return gap > length(p.width()) && gap >= p.Gap.Min && (p.Gap.Max == 0 || gap <= p.Gap.Max)
}

// faults lists what a layout does not meet.
func faults(p Problem, l Layout) (bad []string) {
	g := p.members()
	n := len(l.Positions) / g
	if len(l.Positions) != n*g || n == 0 || len(l.Positions) < p.CountMin || p.CountMax > 0 && len(l.Positions) > p.CountMax {
		return []string{"count"}
	}
	for i := range n {
		at := l.Positions[i*g]
		if !p.startsOf(i, n, at) {
			bad = append(bad, fmt.Sprint("place ", i))
		}
		for m := range g {
			if l.Positions[i*g+m] != at+length(m)*p.GroupGap {
				bad = append(bad, "group")
			}
		}
		if i > 0 && !p.gapHolds(at-l.Positions[(i-1)*g]) {
			bad = append(bad, "gap")
		}
		phase := l.Positions[0]
		if p.HasPhase {
			phase = p.Phase
		}
		if p.Repeat > 0 && (at-phase)%p.Repeat != 0 {
			bad = append(bad, "match")
		}
	}
	for _, a := range p.Anchors {
		if !slices.ContainsFunc(l.Positions, func(c length) bool { return max(c-a.At, a.At-c) <= a.Within }) {
			bad = append(bad, a.Name)
		}
	}
	if slices.Sort(bad); !slices.IsSorted(l.Positions) {
		bad = append(bad, "order")
	}
	return bad
}

// score is the objective after the count; drift is times (n-1)².
func score(starts []length) (spread, squares, drift int64) {
	n := int64(len(starts))
	lo, hi := int64(1<<62), int64(0)
	for i := int64(0); i < n; i++ {
		if i > 0 {
			gap := int64(starts[i] - starts[i-1])
			lo, hi, squares = min(lo, gap), max(hi, gap), squares+gap*gap
			spread = hi - lo
		}
		d := (n-1)*int64(starts[i]-starts[0]) - i*int64(starts[n-1]-starts[0])
		drift += d * d
	}
	return spread, squares, drift
}

// better compares two lists of starts by the objective.
func better(a, b []length) bool {
	s1, q1, d1 := score(a)
	s2, q2, d2 := score(b)
	switch {
	case s1 != s2:
		return s1 < s2
	case q1 != q2:
		return q1 < q2
	case d1 != d2:
		return d1 < d2
	}
	return slices.Compare(a, b) < 0
}

// bruteBest looks at every layout of n groups.
func bruteBest(p Problem, n int) (best []length) {
	everyLayout(p, n, func(starts []length) {
		if best == nil || better(starts, best) {
			best = slices.Clone(starts)
		}
	})
	return best
}

// everyLayout visits every layout of n groups.
func everyLayout(p Problem, n int, visit func(starts []length)) {
	starts := make([]length, 0, n)
	var place func()
	place = func() {
		i := len(starts)
		if i == n {
			if len(faults(p, expand(p, starts))) == 0 {
				visit(starts)
			}
			return
		}
		at := length(0)
		if i > 0 {
			at = starts[i-1] + 1
		}
		for ; at <= p.Run; at++ {
			if p.startsOf(i, n, at) && (i == 0 || p.gapHolds(at-starts[i-1]) && (p.Repeat == 0 || (at-starts[0])%p.Repeat == 0)) {
				starts = append(starts, at)
				place()
				starts = starts[:i]
			}
		}
	}
	place()
}

func expand(p Problem, starts []length) (l Layout) {
	l.Group = p.members()
	l.Spread = 0
	for _, s := range starts {
		for m := range l.Group {
			l.Positions = append(l.Positions, s+length(m)*p.GroupGap)
		}
	}
	s, _, _ := score(starts)
	l.Spread = length(s)
	l.Even = bruteEven(p, l.Spread)
	for i := 1; i < len(starts); i++ {
		for j := 1; j < len(starts); j++ {
			if p.Repeat > 0 && starts[i]-starts[i-1] > starts[j]-starts[j-1] {
				l.Skips = append(l.Skips, i-1)
				break
			}
		}
	}
	return l
}

// bruteEven tells whether a spread is even enough.
func bruteEven(p Problem, spread length) bool {
	within := p.EvenWithin
	if within == 0 {
		within = measure.Inch / 8
	}
	return spread == 0 || p.Repeat == 0 && (spread <= 2*p.Step || spread <= within)
}

// wished orders the counts of groups by the wish: see Problem.CountMin. It
// also gives how far each is from it, not for a single group.
func wished(p Problem) (counts []int, wish *big.Rat, away func(n int) *big.Rat) {
	g := p.members()
	for n := 1; n*g <= MaxCount && n <= int(p.Run)+1; n++ {
		if n*g >= p.CountMin && (p.CountMax == 0 || n*g <= p.CountMax) {
			counts = append(counts, n)
		}
	}
	stretch := min(p.Last.Max, p.Run) - max(p.First.Min, 0) - length(p.width())
	even := func(n int) *big.Rat { return big.NewRat(int64(max(stretch, 0)), int64(n-1)) }
	switch {
	case p.Gap.Min > 0 && p.Gap.Max > 0:
		wish = big.NewRat(int64(p.Gap.Min+p.Gap.Max), 2)
	case p.Gap.Min > 0:
		wish = big.NewRat(int64(p.Gap.Min), 1)
	case p.Gap.Max > 0:
		wish = big.NewRat(int64(p.Gap.Max), 1)
	case p.CountMax > 0:
		fewest := (max(p.CountMin, 1) + g - 1) / g
		wish = even(max((fewest+p.CountMax/g)/2, 2))
	default:
		wish = even(2)
	}
	away = func(n int) *big.Rat { d := new(big.Rat).Sub(even(n), wish); return d.Abs(d) }
	slices.SortStableFunc(counts, func(a, b int) int {
		switch {
		case a == b:
			return 0
		case a == 1:
			return 1
		case b == 1:
			return -1
		}
		return away(a).Cmp(away(b))
	})
	return counts, wish, away
}

// bruteSolve is Solve by looking at everything.
func bruteSolve(p Problem) (best Layout, ok bool) {
	counts, wish, _ := wished(p)
	var all []Layout // of every count, nearest the wish first
	for _, n := range counts {
		if starts := bruteBest(p, n); starts != nil {
			all = append(all, expand(p, starts))
		}
	}
	if len(all) == 0 {
		return Layout{}, false
	}
	if len(all) > 1 && all[len(all)-1].Count() == p.members() {
		all = all[:len(all)-1] // a single one has no gap
	}
	at := slices.IndexFunc(all, func(l Layout) bool { return l.Even })
	why := WhyEven
	if at == 0 {
		why = WhyWish
	}
	if at < 0 {
		at, why = 0, WhySpread
		for i, l := range all {
			if l.Spread < all[at].Spread {
				at = i
			}
		}
	}
	best = all[at]
	if len(all) == 1 {
		why = WhyOnly
	}
	if len(counts) > 1 {
		best.Choice = Choice{Why: why, Wish: length(new(big.Int).Div(wish.Num(), wish.Denom()).Int64()), Sizes: 1}
		for _, over := range all[:at] {
			best.Choice.Over = append(best.Choice.Over, over.Count())
		}
		if best.Even {
			best.Choice.Even = 1
		}
	}
	return best, true
}

func TestNoLayoutIsBetter(t *testing.T) {
	checks(t, 7000, 75000)
	solved := 0
	rapid.Check(t, func(t *rapid.T) {
		p := small().Draw(t, "problem")
		if p.Run > 14 && p.CountMax == 0 {
			p.Run = 14 // all counts: keep the search short
		}
		got, err := Solve(p)
		if err != nil && !errors.As(err, new(*Clash)) {
			t.Skip(err)
		}
		want, ok := bruteSolve(p)
		if ok != (err == nil) {
			t.Fatalf("a layout exists: %v (%v); Solve: %v", ok, want, err)
		}
		if !ok {
			return
		}
		solved++
		if bad := faults(p, got); len(bad) > 0 {
			t.Fatalf("%v does not meet %v", got, bad)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("(-want +got)\n%s", diff)
		}
		again, err := Solve(p)
		if diff := cmp.Diff(got, again); diff != "" || err != nil {
			t.Fatalf("another time it is another layout: %v\n%s", err, diff)
		}
	})
	want := 2000
	if os.Getenv("PLACKETEER_LONG") == "1" {
		want = 20000
	}
	if t.Logf("%d had a layout", solved); solved < want && !testing.Short() {
		t.Error("too few problems with a layout for the test to mean much")
	}
}

func TestCountsAreTheOnesThatExist(t *testing.T) {
	checks(t, 500, 5000)
	rapid.Check(t, func(t *rapid.T) {
		p := small().Draw(t, "problem")
		p.Run = min(p.Run, 14)
		got, err := Counts(p)
		if err != nil {
			t.Skip(err)
		}
		var want []int
		counts, _, _ := wished(p)
		slices.Sort(counts)
		for _, n := range counts {
			if bruteBest(p, n) != nil {
				want = append(want, n*p.members())
			}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("(-want +got)\n%s", diff)
		}
	})
}

// Two or three sizes: the count by the words of SolveSizes, and for every size
// the best layout there is at that count, or its own best.
func TestOneCountForAllSizes(t *testing.T) {
	checks(t, 1500, 15000)
	shared, passed := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := small().Draw(t, "problem")
		p.Run = min(p.Run, 14)
		if p.CountMin == p.CountMax {
			p.CountMin, p.CountMax = 2*p.members(), 5*p.members()
		}
		if rapid.Bool().Draw(t, "fine") {
			p.Step, p.EvenWithin = 1, 1
			from := length(rapid.SampledFrom([]int{2, 3, 4, 5, 6, 7, 8}).Draw(t, "from"))
			p.Clear = append(p.Clear, Zone{"z", from, from + 5})
		}
		ps := []Problem{p}
		for i := range rapid.IntRange(1, 2).Draw(t, "more sizes") {
			q := p
			by := length(rapid.SampledFrom([]int{-3, -2, -1, 1, 2, 3}).Draw(t, fmt.Sprint("longer ", i)))
			q.Run += by
			q.Last.Min, q.Last.Max = q.Last.Min+by, q.Last.Max+by
			ps = append(ps, q)
		}
		layouts := make([]map[int]Layout, len(ps))
		have := map[int]int{}
		for i, p := range ps {
			layouts[i] = map[int]Layout{}
			counts, _, _ := wished(p)
			for _, n := range counts {
				if starts := bruteBest(p, n); starts != nil {
					l := expand(p, starts)
					layouts[i][l.Count()] = l
					have[l.Count()]++
				}
			}
		}
		g, most, best := p.members(), 0, 0
		for _, sizes := range have {
			most = max(most, sizes)
		}
		type figures struct {
			even   int
			spread length
			away   *big.Rat
		}
		of := func(n int) (f figures) {
			f.away = new(big.Rat)
			for i, p := range ps {
				l, ok := layouts[i][n]
				if !ok {
					continue
				}
				if l.Even {
					f.even++
				}
				f.spread += l.Spread
				_, _, away := wished(p)
				f.away.Add(f.away, away(n/g))
			}
			return f
		}
		for n := 2 * g; n <= 40*g; n += g {
			if have[n] < most || most == 0 {
				continue
			}
			if best == 0 {
				best = n
				continue
			}
			a, b := of(n), of(best)
			switch {
			case a.even != b.even:
				if a.even > b.even {
					best = n
				}
			case a.even == 0 && a.spread != b.spread:
				if a.spread < b.spread {
					best = n
				}
			case a.away.Cmp(b.away) < 0:
				best = n
			}
		}
		if best == 0 && most > 0 {
			best = g // only single ones are left
		}
		count, sizes := SolveSizes(ps)
		if count != best {
			t.Fatalf("count %d, want %d: %+v and %+v", count, best, of(max(count, 2)), of(max(best, 2)))
		}
		for i, s := range sizes {
			want, ok := layouts[i][count]
			own := !ok
			if own {
				want, ok = bruteSolve(ps[i])
			}
			if ok != (s.Err == nil) || s.Own != (own && ok) {
				t.Fatalf("size %d: own %v, %v; want a layout: %v, own %v", i, s.Own, s.Err, ok, own)
			}
			got := s.Layout
			if got.Choice = (Choice{}); own {
				want.Choice = Choice{}
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Fatalf("size %d: (-want +got)\n%s", i, diff)
			}
			if !own && ok {
				shared++
				passed += min(len(s.Layout.Choice.Over), 1)
			}
		}
	})
	if t.Logf("%d sizes share their count, %d of them not the one nearest the wish", shared, passed); (shared < 600 || passed < 30) && !testing.Short() {
		t.Error("too few for the test to mean much")
	}
}
