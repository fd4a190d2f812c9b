package spacing

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"placketeer/catalog/measure"
)

// evenly gives count centres from first to last at the gap
// (last − first)/(count − 1), each moved to the nearest multiple of step from
// the top of the run; half a step goes up the run. First and last are taken as
// they are. Every centre is rounded from its own exact place, so none is more
// than half a step off however many there are. A step of 0 rounds to 1 nm.
// A count of 1 is the first alone, below that none.
func evenly(first, last measure.Length, count int, step measure.Length) []measure.Length {
	if count < 1 {
		return nil
	}
	step = max(step, 1)
	at := make([]measure.Length, count)
	at[0] = first
	m := measure.Length(count - 1)
	for i := measure.Length(1); i < m; i++ {
		// The exact place is num/m; its nearest multiple of step, ties down.
		num := first*m + (last-first)*i
		at[i] = ceilDiv(2*num-step*m, 2*step*m) * step
	}
	if count > 1 {
		at[m] = last
	}
	return at
}

// Rounding to what can be marked never drifts: every centre is within half a
// step of its exact place, the last as much as the first.
func TestEvenlyNeverDrifts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.Int64Range(1, int64(measure.Inch)).Draw(t, "step")
		n := rapid.Int64Range(2, MaxCount).Draw(t, "count")
		first := rapid.Int64Range(0, int64(measure.Metre)).Draw(t, "first")
		last := first + rapid.Int64Range(0, int64(MaxRun)/2).Draw(t, "length")
		at := evenly(length(first), length(last), int(n), length(step))
		if int64(len(at)) != n || int64(at[0]) != first || int64(at[n-1]) != last {
			t.Fatalf("%d centres from %d to %d", len(at), at[0], at[len(at)-1])
		}
		for i := int64(1); i < n-1; i++ {
			// Exact place and centre, both times 2(n-1).
			off := 2*(first*(n-1)+i*(last-first)) - 2*(n-1)*int64(at[i])
			if off > step*(n-1) || off < -step*(n-1) || int64(at[i])%step != 0 {
				t.Fatalf("centre %d at %d", i, at[i])
			}
			if off == -step*(n-1) {
				t.Fatalf("centre %d at %d: half a step goes up the run", i, at[i])
			}
		}
	})
}

func TestEvenlyOfFew(t *testing.T) {
	for n, want := range map[int][]length{-1: nil, 0: nil, 1: {3}, 2: {3, 8}, 3: {3, 5, 8}} {
		if diff := cmp.Diff(want, evenly(3, 8, n, 0)); diff != "" {
			t.Errorf("%d: (-want +got)\n%s", n, diff)
		}
	}
}

// A fastener of a 1 in rim that only touches a belt is clear of it.
func TestWiden(t *testing.T) {
	belt := Zone{"belt", in(14), in(15.5)}
	got := Widen(belt, in(0.5), in(0.75))
	if want := (Zone{"belt", in(13.25), in(16)}); got != want {
		t.Fatalf("%v, want %v", got, want)
	}
	p := Problem{Run: in(24), Step: in(0.25), First: At(in(13.25)), Last: At(in(16)), CountMin: 2, CountMax: 2, Clear: []Zone{got}}
	if l, err := Solve(p); err != nil {
		t.Errorf("on the edges is outside: %v, %v", l, err)
	}
	p.First = At(in(13.25) + 1)
	if _, err := Solve(p); err == nil || err.Error() != "first and belt clear cannot hold together" {
		t.Errorf("1 nm inside: %v", err)
	}
}

// The ends are held to zones, anchors and the repeat like all others.
func TestEndsAreHeldToo(t *testing.T) {
	base := Problem{Run: 30, Step: 1, First: At(2), Last: At(26), CountMin: 2, CountMax: 2}
	tests := []struct {
		name string
		set  func(*Problem)
		want string // the clash, or none
	}{
		{"nothing", func(*Problem) {}, ""},
		{"first in a zone", func(p *Problem) { p.Clear = []Zone{{"belt", 0, 4}} }, "first and belt clear cannot hold together"},
		{"last in a zone", func(p *Problem) { p.Clear = []Zone{{"belt", 25, 27}} }, "last and belt clear cannot hold together"},
		{"last is the anchor's", func(p *Problem) { p.Anchors = []Anchor{{"hip", 28, 2}} }, ""},
		{"last at the far edge of the anchor", func(p *Problem) { p.Anchors = []Anchor{{"hip", 24, 2}} }, ""},
		{"last 1 below it", func(p *Problem) { p.Anchors = []Anchor{{"hip", 23, 2}} }, "first, last, count and hip anchor cannot hold together"},
		{"first at the near edge of the anchor", func(p *Problem) { p.Anchors = []Anchor{{"neck", 4, 2}} }, ""},
		{"first 1 above it", func(p *Problem) { p.Anchors = []Anchor{{"neck", 5, 2}} }, "first, last, count and neck anchor cannot hold together"},
		{"neither end at the anchor", func(p *Problem) { p.Anchors = []Anchor{{"bust", 15, 2}} }, "first, last, count and bust anchor cannot hold together"},
		{"same place in the repeat", func(p *Problem) { p.Repeat = 8 }, ""},
		{"other place in the repeat", func(p *Problem) { p.Repeat = 7 }, "first, last and match cannot hold together"},
		{"the phase asked for", func(p *Problem) { p.Repeat, p.Phase, p.HasPhase = 8, 10, true }, ""},
		{"another phase", func(p *Problem) { p.Repeat, p.Phase, p.HasPhase = 8, 3, true }, "first and match cannot hold together"},
		{"gap too small", func(p *Problem) { p.Gap.Min = 25 }, "first, last and gap.min cannot hold together"},
		{"gap too large", func(p *Problem) { p.Gap.Max = 23 }, "first, last, count and gap.max cannot hold together"},
		{"outside the run", func(p *Problem) { p.Last = At(31) }, "run and last cannot hold together"},
		{"above the top", func(p *Problem) { p.First = At(-1) }, "first cannot hold"},
		{"a zone over all of it", func(p *Problem) {
			p.First, p.Last, p.Clear = Window{0, 30}, Window{0, 30}, []Zone{{"everything", -1, 31}}
		}, "run and everything clear cannot hold together"},
		{"limits crossed", func(p *Problem) { p.Gap = Limits{Min: 30, Max: 20} }, "count, gap.min and gap.max cannot hold together"},
	}
	for _, tt := range tests {
		p := base
		tt.set(&p)
		_, err := Solve(p)
		got := ""
		if err != nil {
			got = err.Error()
		}
		if got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

// A belt with the widest gap allowed still too short to cross it: the bust
// wants a centre above, the last lies below. Neither the count nor the pocket
// nor the first centre has a part in it.
func TestClashNamesWhatClashes(t *testing.T) {
	p := Problem{
		Run: in(24), Step: in(0.125), First: At(in(0.625)), Last: At(in(20)),
		CountMin: 4, CountMax: 9, Gap: Limits{in(2), in(4)},
		Anchors: []Anchor{{"bust", in(12.5), in(0.25)}},
		Clear:   []Zone{{"pocket", in(3), in(4)}, {"belt", in(12.75), in(16.875)}},
	}
	_, err := Solve(p)
	var clash *Clash
	if !errors.As(err, &clash) {
		t.Fatal(err)
	}
	want := []Constraint{{Kind: KindLast}, {Kind: KindGapMax}, {KindAnchor, 0, "bust"}, {KindClear, 1, "belt"}}
	if diff := cmp.Diff(want, clash.Constraints); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	p.Clear[1].To = in(16.75)
	if _, err := Solve(p); err != nil {
		t.Errorf("a belt that can just be crossed: %v", err)
	}
}

func TestNonsenseIsRefused(t *testing.T) {
	good := typical()
	if _, err := Solve(good); err != nil {
		t.Fatal(err)
	}
	tests := map[string]func(*Problem){
		"no run":              func(p *Problem) { p.Run = 0 },
		"run too long":        func(p *Problem) { p.Run = MaxRun + 1 },
		"no step":             func(p *Problem) { p.Step = 0 },
		"step below 0":        func(p *Problem) { p.Step = -1 },
		"step too fine":       func(p *Problem) { p.Step = 1 },
		"step too large":      func(p *Problem) { p.Step = math.MaxInt64 },
		"first backwards":     func(p *Problem) { p.First = Window{2, 1} },
		"last backwards":      func(p *Problem) { p.Last = Window{2, 1} },
		"last too far":        func(p *Problem) { p.Last = At(math.MaxInt64) },
		"first too far":       func(p *Problem) { p.First = At(math.MinInt64) },
		"count below 0":       func(p *Problem) { p.CountMin = -1 },
		"count too large":     func(p *Problem) { p.CountMax = MaxCount + 1 },
		"count backwards":     func(p *Problem) { p.CountMax = 5 },
		"gap.min below 0":     func(p *Problem) { p.Gap.Min = -1 },
		"gap.max too large":   func(p *Problem) { p.Gap.Max = math.MaxInt64 },
		"repeat below 0":      func(p *Problem) { p.Repeat = -1 },
		"phase too large":     func(p *Problem) { p.Phase = math.MaxInt64 },
		"anchor below 0":      func(p *Problem) { p.Anchors = []Anchor{{"a", 1, -1}} },
		"anchor too far":      func(p *Problem) { p.Anchors = []Anchor{{"a", math.MinInt64, 1}} },
		"anchor too wide":     func(p *Problem) { p.Anchors = []Anchor{{"a", 1, math.MaxInt64}} },
		"zone backwards":      func(p *Problem) { p.Clear = []Zone{{"z", 2, 1}} },
		"zone too far up":     func(p *Problem) { p.Clear = []Zone{{"z", math.MinInt64, 1}} },
		"zone too far down":   func(p *Problem) { p.Clear = []Zone{{"z", 1, math.MaxInt64}} },
		"groups of four":      func(p *Problem) { p.Group, p.GroupGap = 4, 1 },
		"no gap in a group":   func(p *Problem) { p.Group = 2 },
		"group gap too far":   func(p *Problem) { p.Group, p.GroupGap = 2, math.MaxInt64 },
		"seven in pairs":      func(p *Problem) { p.CountMin, p.CountMax, p.Group, p.GroupGap = 7, 7, 2, 1 },
		"four to five threes": func(p *Problem) { p.CountMin, p.CountMax, p.Group, p.GroupGap = 4, 5, 3, 1 },
	}
	for name, set := range tests {
		p := typical()
		set(&p)
		_, err := Solve(p)
		if err == nil || errors.As(err, new(*Clash)) {
			t.Errorf("%s: %v, want a plain error", name, err)
		}
		if _, err := Counts(p); err == nil {
			t.Errorf("%s: counted", name)
		}
	}
}

// One count for all sizes of a coat, and a small one that needs its own.
func TestSolveSizes(t *testing.T) {
	size := func(run measure.Length) Problem {
		return Problem{
			Run: run, Step: in(0.125), First: At(in(0.625)), Last: At(run - in(4)),
			CountMin: 3, CountMax: 9, Gap: Limits{in(3.25), in(4.25)},
		}
	}
	// Even gaps of 3 to 7 on 18 3/8 in: 9.2 6.1 4.6 3.7 3.1; on 19 3/8: 3.9 for
	// six; on 21 3/8: 4.3 for six, 3.6 for seven; on 12 3/8: 4.1 for four.
	tests := []struct {
		name   string
		runs   []measure.Length
		count  int
		counts []int
		own    []bool
	}{
		{"one count", ins(23, 24), 6, []int{6, 6}, []bool{false, false}},
		{"the largest on its own", ins(23, 24, 26), 6, []int{6, 6, 7}, []bool{false, false, true}},
		{"the child's on its own", ins(17, 23, 24), 6, []int{4, 6, 6}, []bool{true, false, false}},
		// 25 in has 20 3/8 in: 4.075 for six, 3.4 for seven; the middle is 3.75.
		{"the nearer of two", ins(25), 6, []int{6}, []bool{false}},
		// 25 1/2 in has 20 7/8 in: 4.18 for six, 3.48 for seven, which it would
		// take alone. With 25 in seven are 0.27 + 0.35 away, six 0.43 + 0.33.
		{"the nearest in sum", ins(25, 25.5), 7, []int{7, 7}, []bool{false, false}},
		// 24 in has 19 3/8 in: 3.23 for seven is too little.
		{"what all have before what most would like", ins(24, 25, 25.5), 6, []int{6, 6, 6}, []bool{false, false, false}},
	}
	for _, tt := range tests {
		var ps []Problem
		for _, r := range tt.runs {
			ps = append(ps, size(r))
		}
		count, sizes := SolveSizes(ps)
		var counts []int
		var own []bool
		for _, s := range sizes {
			if s.Err != nil {
				t.Errorf("%s: %v", tt.name, s.Err)
			}
			counts, own = append(counts, s.Layout.Count()), append(own, s.Own)
		}
		if diff := cmp.Diff(tt.counts, counts); diff != "" || count != tt.count {
			t.Errorf("%s: count %d, want %d; (-want +got)\n%s", tt.name, count, tt.count, diff)
		}
		if diff := cmp.Diff(tt.own, own); diff != "" {
			t.Errorf("%s: own (-want +got)\n%s", tt.name, diff)
		}
	}

	none := size(in(23))
	none.Clear = []Zone{{"all", 0, in(30)}}
	wrong := size(0)
	count, sizes := SolveSizes([]Problem{none, wrong, size(in(23))})
	if count != 6 || !errors.As(sizes[0].Err, new(*Clash)) || sizes[1].Err == nil || errors.As(sizes[1].Err, new(*Clash)) || sizes[2].Err != nil {
		t.Errorf("%d, %+v", count, sizes)
	}
	if count, sizes := SolveSizes(nil); count != 0 || len(sizes) != 0 {
		t.Errorf("of no sizes: %d, %v", count, sizes)
	}
	if count, _ := SolveSizes([]Problem{none}); count != 0 {
		t.Errorf("of none that has a layout: %d", count)
	}
}

// A repeat and a step with next to nothing in common leave no place between
// the ends, and are named for it.
func TestRepeatOffTheSteps(t *testing.T) {
	repeat := in(3.5) + 1
	p := Problem{
		Run: in(10), Step: in(0.125), First: At(0), Last: At(2 * repeat),
		CountMin: 3, CountMax: 3, Repeat: repeat,
	}
	const want = "count, step and match cannot hold together"
	if _, err := Solve(p); err == nil || err.Error() != want {
		t.Errorf("%v, want %v", err, want)
	}
	p.First, p.Last = Window{0, p.Run}, Window{0, p.Run}
	if _, err := Solve(p); err == nil || err.Error() != want {
		t.Errorf("ends anywhere: %v, want %v", err, want)
	}
	l, err := Solve(Problem{
		Run: 100, Step: 4, First: Window{0, 100}, Last: Window{0, 100}, CountMin: 3, CountMax: 3,
		Repeat: 6, Phase: 10, HasPhase: true, Gap: Limits{Min: 13},
	})
	// Multiples of 4 that leave 4 when divided by 6: 4 16 28 40 52; gaps of 24.
	if diff := cmp.Diff([]length{4, 28, 52}, l.Positions); diff != "" || err != nil {
		t.Errorf("%v (-want +got)\n%s", err, diff)
	}
}

func TestGapsAndPitchesOfPairs(t *testing.T) {
	l, err := Solve(Problem{Run: 40, Step: 1, First: At(2), Last: At(35), CountMin: 6, CountMax: 6, Group: 2, GroupGap: 3})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]length{3, 12, 3, 12, 3}, l.Gaps()); diff != "" {
		t.Errorf("gaps (-want +got)\n%s", diff)
	}
	if diff := cmp.Diff([]length{15, 15}, l.Pitches()); diff != "" || l.Spread != 0 {
		t.Errorf("spread %v, pitches (-want +got)\n%s", l.Spread, diff)
	}
}

// FuzzSolve: whatever is asked, the answer is a layout that meets it, a clash
// or a refusal, and the same every time.
func FuzzSolve(f *testing.F) {
	f.Add(int64(660400000), int64(3175000), int64(15875000), int64(0), int64(558800000), int64(0), 6, 6, int64(0), int64(0),
		int64(203200000), int64(12700000), int64(355600000), int64(38100000), int64(0), int64(0), false, 1, int64(0))
	f.Add(int64(30), int64(2), int64(1), int64(4), int64(25), int64(3), 2, 8, int64(3), int64(9),
		int64(11), int64(1), int64(14), int64(3), int64(4), int64(1), true, 2, int64(1))
	f.Add(int64(40), int64(1), int64(0), int64(40), int64(0), int64(40), 0, 0, int64(4), int64(6),
		int64(11), int64(1), int64(-3), int64(9), int64(5), int64(0), false, 3, int64(1))
	f.Fuzz(func(t *testing.T, run, step, first, firstMore, last, lastMore int64, least, most int, gapMin, gapMax,
		at, within, from, size, repeat, phase int64, hasPhase bool, group int, groupGap int64) {
		p := Problem{
			Run: length(run), Step: length(step),
			First: Window{length(first), length(first + firstMore)}, Last: Window{length(last), length(last + lastMore)},
			CountMin: least, CountMax: most, Gap: Limits{length(gapMin), length(gapMax)},
			Anchors: []Anchor{{"a", length(at), length(within)}, {"b", length(at + 9*within), length(within)}},
			Clear:   []Zone{{"y", length(from), length(from + size)}, {"z", length(from + 2*size), length(from + 3*size)}},
			Repeat:  length(repeat), Phase: length(phase), HasPhase: hasPhase, Group: group, GroupGap: length(groupGap),
		}
		l, err := Solve(p)
		var clash *Clash
		switch {
		case err == nil:
			if bad := faults(p, l); len(bad) > 0 {
				t.Fatalf("%v does not meet %v", l, bad)
			}
		case errors.As(err, &clash):
			if len(clash.Constraints) == 0 {
				t.Fatal("a clash of nothing")
			}
		}
		l2, err2 := Solve(p)
		if diff := cmp.Diff(l, l2); diff != "" || (err == nil) != (err2 == nil) || err != nil && err.Error() != err2.Error() {
			t.Fatalf("another time: %v, %v\n%s", err, err2, diff)
		}
	})
}
