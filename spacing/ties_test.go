package spacing

import (
	"errors"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// solvedAt are the places of the best layout.
func solvedAt(t *testing.T, name string, p Problem) []length {
	t.Helper()
	l, err := Solve(p)
	if err != nil {
		t.Errorf("%s: %v", name, err)
	}
	return l.Positions
}

// Of layouts that are equal in spread, squares and evenness the topmost is
// taken. Arithmetic.
func TestTiesGoToTheTop(t *testing.T) {
	ends := Problem{Run: 10, Step: 1, First: At(0), Last: At(10), CountMin: 5, CountMax: 5}
	barring := func(p Problem, zones ...Zone) Problem {
		p.Clear = zones
		return p
	}
	// Three every 10, the first from 7 on and not in the zone: the place in the
	// repeat is free, and 9 is its topmost.
	repeat := Problem{Run: 60, Step: 1, First: Window{7, 30}, Last: Window{0, 60}, CountMin: 3, CountMax: 3, Repeat: 10}
	for _, c := range []struct {
		name string
		p    Problem
		want []length
	}{
		// What is left free are 2 3 4 6 9. Gaps of 2 2 2 4 and 3 3 3 1 differ by 2
		// both, their squares are 28, and they lie 0.5 1 1.5 off 2.5 5 7.5.
		{"the range of larger gaps", barring(ends, Zone{From: 0, To: 2}, Zone{From: 4, To: 6}, Zone{From: 6, To: 9}), []length{0, 2, 4, 6, 10}},
		// The same from below: 1 4 6 7 8, gaps of 1 3 3 3 and 4 2 2 2.
		{"the range of smaller gaps", barring(ends, Zone{From: 1, To: 4}, Zone{From: 4, To: 6}, Zone{From: 8, To: 10}), []length{0, 1, 4, 7, 10}},
		{"another place in the repeat", barring(repeat, Zone{From: 6, To: 9}), []length{9, 19, 29}},
		// Places 0 10 20 … have no last from 55 to 56, those of 5 15 25 … have 55: the
		// gaps are 20 10 20, and 25 and 35 lie 3.3 off the even places.
		{"one of two places in the repeat", Problem{Run: 60, Step: 1, First: Window{0, 5}, Last: Window{55, 56}, CountMin: 4, CountMax: 4, Repeat: 10}, []length{5, 25, 35, 55}},
		// Five have a spread of 10 too, and are farther from the wish, that of four.
		{"one of two, four or five", Problem{Run: 60, Step: 1, First: Window{0, 5}, Last: Window{55, 56}, CountMin: 4, CountMax: 5, Repeat: 10}, []length{5, 25, 35, 55}},
		{"a single one", Problem{Run: 60, Step: 1, First: Window{7, 30}, Last: Window{0, 60}, CountMin: 1, CountMax: 1, Repeat: 10, Clear: []Zone{{From: 6, To: 9}}}, []length{9}},
	} {
		if diff := cmp.Diff(c.want, solvedAt(t, c.name, c.p)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.name, diff)
		}
	}
}

// No layout whose gaps are at least so much costs less than the floor: n places
// exactly so far apart cost it. Arithmetic: k·(stride·k − 2·off) for a gap of
// k·stride − off, here 3·2·3 for each gap of 6.
func TestFloorOfTheCost(t *testing.T) {
	w := newWork()
	defer w.release()
	w.stride = 2
	for n, want := range map[int]int64{1: 0, 2: 18, 3: 36, 5: 72} {
		if got := w.floor(n, 6); got != want {
			t.Errorf("%d places: %d, want %d", n, got, want)
		}
	}
}

// A search that may try exactly what it takes comes to its end, and one that may
// try one thing less does not.
func TestTheBudgetIsWhatMayBeTried(t *testing.T) {
	apart := typical()
	apart.CountMin, apart.CountMax = 1, 0
	for name, p := range map[string]Problem{
		"a coat": typical(), "any count": apart, "a plaid": plaid(6, 5, 8), "a plaid that skips": plaid(6, 6, 6),
		"a belt": plain(1, 4, 7, barred(50, 70)), "the least uneven": plain(1, 3, 5, barred(30, 48), barred(50, 70)),
	} {
		tried := 0
		p.Tried = &tried
		want, err := Solve(p)
		if err != nil {
			t.Fatal(name, err)
		}
		p.Most, p.Tried = tried, nil
		if got, err := Solve(p); err != nil || !cmp.Equal(want, got) {
			t.Errorf("%s: with %d tries: %v, %v", name, tried, got, err)
		}
		p.Most--
		if _, err := Solve(p); !errors.As(err, new(*TooMany)) {
			t.Errorf("%s: with one of %d tries less: %v", name, tried, err)
		}
		for what, ask := range map[string]func(Problem) error{
			"Counts":   func(p Problem) error { _, err := Counts(p); return err },
			"Possible": func(p Problem) error { _, err := Possible(p); return err },
		} {
			tried := 0
			p.Most, p.Tried = 0, &tried
			if err := ask(p); err != nil {
				t.Fatal(name, what, err)
			}
			p.Most = tried
			if err := ask(p); err != nil {
				t.Errorf("%s: %s with %d tries: %v", name, what, tried, err)
			}
		}
	}
}

// What may be kept and tried may be, and one more may not; a run of places counts
// as many as it has.
func TestJustWithinTheBudget(t *testing.T) {
	for _, more := range []int64{0, 1} {
		w := newWork()
		w.budget = MaxTries
		if w.hold(MaxKept + more); w.out() != (more > 0) {
			t.Errorf("%d above %d kept: out: %v", more, MaxKept, w.out())
		}
		w.full, w.rows = false, append(w.rows[:0], row{}, row{})
		if out := w.crowded(7, MaxKept+4+more); out != (more > 0) || w.tries != int(MaxKept-2+more) {
			t.Errorf("%d above %d rows: out: %v, %d tried", more, MaxKept, out, w.tries)
		}
		w.full, w.tries = false, 5
		if w.crowded(7, 6) || w.crowded(7, 0) || w.tries != 5 {
			t.Errorf("no rows: %d tried", w.tries)
		}
		w.tries = 0
		for name, r := range map[string]*relaxed{"sets": {w: w, tried: maxTried + int(more)}, "questions": {w: w, asked: maxAsked + int(more)}} {
			if r.out() != (more > 0) {
				t.Errorf("%d %s more: out: %v", more, name, r.out())
			}
		}
		w.release()
	}
}

// What a problem asks for: a window over the whole run, a zone of nothing, a
// count of at least one, a step of a nanometre ask for nothing. Each alone is
// asked for a nanometre or one further.
func TestWhatIsAskedFor(t *testing.T) {
	nothing := Problem{Run: 100, Step: 1, First: Window{0, 100}, Last: Window{0, 100}, CountMin: 1, Clear: []Zone{{From: 5, To: 5}}}
	for _, c := range []struct {
		name string
		set  func(*Problem)
		want []Kind
	}{
		{"nothing", func(*Problem) {}, nil},
		{"more than the run", func(p *Problem) { p.First, p.Last = Window{-1, 101}, Window{-1, 101} }, nil},
		{"first not at the top", func(p *Problem) { p.First.Min = 1 }, []Kind{KindFirst}},
		{"first not at the end", func(p *Problem) { p.First.Max = 99 }, []Kind{KindFirst}},
		{"last not at the top", func(p *Problem) { p.Last.Min = 1 }, []Kind{KindLast}},
		{"last not at the end", func(p *Problem) { p.Last.Max = 99 }, []Kind{KindLast}},
		{"a zone", func(p *Problem) { p.Clear[0].To = 6 }, []Kind{KindClear}},
		{"an anchor", func(p *Problem) { p.Anchors = []Anchor{{"bust", 5, 0}} }, []Kind{KindAnchor}},
		{"no gap below", func(p *Problem) { p.Gap.Min = 1 }, []Kind{KindGapMin}},
		{"no gap above", func(p *Problem) { p.Gap.Max = 1 }, []Kind{KindGapMax}},
		{"two", func(p *Problem) { p.CountMin = 2 }, []Kind{KindCount}},
		{"one at most", func(p *Problem) { p.CountMax = 1 }, []Kind{KindCount}},
		{"a pair", func(p *Problem) { p.CountMin, p.Group, p.GroupGap = 2, 2, 1 }, nil},
		{"two pairs", func(p *Problem) { p.CountMin, p.Group, p.GroupGap = 3, 2, 1 }, []Kind{KindCount}},
		{"a repeat", func(p *Problem) { p.Repeat = 1 }, []Kind{KindMatch}},
		{"a step", func(p *Problem) { p.Step = 2 }, []Kind{KindStep}},
	} {
		p := nothing
		p.Clear = []Zone{nothing.Clear[0]}
		c.set(&p)
		var got []Kind
		for _, k := range given(&p) {
			got = append(got, k.Kind)
		}
		if diff := cmp.Diff(append(c.want, KindRun), got); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.name, diff)
		}
	}
}

// The fewest that clash are named, though others clash besides that are more
// worth naming.
func TestFewestThatClash(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Problem
		want string
	}{
		// In the zone the first cannot lie; above the top the last cannot.
		{
			"one before two", Problem{Run: 100, Step: 1, First: At(20), Last: At(-5), CountMin: 1, Clear: []Zone{{"belt", 15, 25}}},
			"last cannot hold",
		},
		// One fastener cannot meet two anchors.
		{
			"two before three", Problem{
				Run: 100, Step: 1, First: At(20), Last: Window{0, 100}, CountMin: 1, CountMax: 1,
				Clear: []Zone{{"belt", 15, 25}}, Anchors: []Anchor{{"bust", 40, 1}, {"hip", 70, 1}},
			},
			"first and belt clear cannot hold together",
		},
	} {
		if _, err := Solve(c.p); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

// The first lies above the top, which cannot hold; nor can one fastener meet two
// anchors. The fewest that clash is the first alone: that is found among 64
// constraints. Of more none can be spared of those named, but others may be
// fewer.
func TestFewestOfSixtyFour(t *testing.T) {
	for zones, want := range map[int]string{
		64 - 5: "first cannot hold",
		65 - 5: "count, bust anchor and hip anchor cannot hold together",
	} {
		p := Problem{
			Run: 1000, Step: 1, First: At(-1), Last: Window{0, 1000}, CountMin: 1, CountMax: 1,
			Anchors: []Anchor{{"bust", 300, 1}, {"hip", 700, 1}},
		}
		for i := range zones {
			p.Clear = append(p.Clear, Zone{fmt.Sprint("z", i), length(10 * i), length(10*i + 2)})
		}
		if n := len(given(&p)); n != zones+5 {
			t.Fatalf("%d constraints", n)
		}
		if _, err := Solve(p); err == nil || err.Error() != want {
			t.Errorf("%d zones: %v, want %s", zones, err, want)
		}
	}
}

// Whether any count from 2 up has a layout: two that are at least 6 apart have
// on a run of 10, three do not.
func TestSomeCount(t *testing.T) {
	for name, ends := range map[string][2]Window{
		"both ends free": {{0, 10}, {0, 10}}, "the first fixed": {At(0), {0, 10}}, "the last fixed": {{0, 10}, At(10)}, "both fixed": {At(0), At(10)},
	} {
		for most, want := range map[int]bool{1: false, 2: true, 3: true} {
			w := newWork()
			p := Problem{Run: 10, Step: 1, First: ends[0], Last: ends[1], Gap: Limits{Min: 6}}
			w.allow(&p)
			w.survey(&p)
			if w.lay(&p, w.grids[0]); w.someCount(most) != want {
				t.Errorf("%s: at most %d: %v", name, most, !want)
			}
			w.release()
		}
		// From 0 gaps of 4 do not come out at 10, and gaps of 5 do.
		for gap, want := range map[length]bool{4: !ends[0].Fixed() || !ends[1].Fixed(), 5: true} {
			w := newWork()
			p := Problem{Run: 10, Step: 1, First: ends[0], Last: ends[1], Gap: Limits{Min: gap, Max: gap}}
			w.allow(&p)
			w.survey(&p)
			if w.lay(&p, w.grids[0]); w.someCount(MaxCount) != want {
				t.Errorf("%s: gaps of %d: %v", name, gap, !want)
			}
			w.release()
		}
	}
}

// Where two grids meet first: a multiple of the step that leaves the phase. It
// is looked for as far as 2^41 nm, beyond any run; products do not overflow.
// Arithmetic: modulo 2^20+1 is 2^20 = -1, so 2^41 = 2; modulo 2^20+3 is
// 2^21·(2^20+1) = (-6)·(-2) = 12; modulo 2^24+1 is 2^64 = 2^16.
func TestWhereGridsMeet(t *testing.T) {
	nowhere := grid{stride: 1, none: true}
	for _, c := range []struct {
		step, repeat, phase int64
		want                grid
	}{
		{4, 6, 4, grid{stride: 12, origin: 4}},
		{4, 6, 0, grid{stride: 12}},
		{4, 6, 3, nowhere},
		{1 << 21, 1<<20 + 1, 2, grid{stride: noGap, origin: 1 << 41}},
		{1 << 21, 1<<20 + 3, 12, nowhere},
		{1 << 40, 1<<24 + 1, 1 << 16, nowhere},
	} {
		if got := meet(c.step, c.repeat, c.phase); got != c.want {
			t.Errorf("every %d, and %d of every %d: %+v, want %+v", c.step, c.phase, c.repeat, got, c.want)
		}
	}
}

// Of a count that is given nothing is chosen, and nothing is tried for it.
func TestAGivenCountIsNoChoice(t *testing.T) {
	w := newWork()
	defer w.release()
	p := plain(1, 5, 5)
	w.allow(&p)
	count, c := w.pick([]*Problem{&p}, []contender{{count: 5, sizes: []int{0}}})
	if count != 5 || !cmp.Equal(c, Choice{}) || w.tries != 0 {
		t.Errorf("%d, %+v, %d tried", count, c, w.tries)
	}
}
