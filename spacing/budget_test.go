package spacing

import (
	"errors"
	"fmt"
	"runtime"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"placketeer/catalog/measure"
)

// The runaways: a run of 10 m marked to tenths of a millimetre has a hundred
// thousand places.
const (
	tenth   = measure.Millimetre / 10
	longRun = 10 * measure.Metre
)

// wideEnds may have 1 to 200 fasteners, with the ends anywhere in the first
// and last 4 m, and gaps of at least 25.4 mm. The wish is that gap, so it is
// 200 of them: 199 gaps of 25.4 mm are 5054.6 mm. They fit from 945.4 mm,
// with the last at 6 m, as far as from 4 m: 30 547 layouts without a spread
// and with the same squares.
func wideEnds() Problem {
	return Problem{
		Run: longRun, Step: tenth, First: Window{0, 4 * measure.Metre}, Last: Window{6 * measure.Metre, longRun},
		CountMin: 1, CountMax: 200, Gap: Limits{Min: 254 * tenth},
	}
}

// manyOfBoth has 200 anchors and 200 zones, and a free place in the repeat,
// each of which gives one more grid to try.
func manyOfBoth() Problem {
	p := Problem{
		Run: longRun, Step: tenth, First: Window{0, 4 * measure.Metre}, Last: Window{6 * measure.Metre, longRun},
		CountMin: 150, CountMax: 150, Repeat: 8 * measure.Millimetre,
	}
	for n := range 200 {
		i := measure.Length(n)
		at := (i*49 + 100) * measure.Millimetre
		p.Anchors = append(p.Anchors, Anchor{fmt.Sprint("a", n), at + i*i%13*tenth, (40 + i*7%9) * measure.Millimetre})
		p.Clear = append(p.Clear, Zone{fmt.Sprint("z", n), at + (i*i%17)*measure.Millimetre, at + (i*i%17+9)*measure.Millimetre + i*tenth})
	}
	return p
}

// barrier has its ends fixed and 1 m to leap over, with gaps far smaller
// between: nearly every place is on some layout.
func barrier(count int) Problem {
	return Problem{
		Run: longRun, Step: tenth, First: At(0), Last: At(longRun), CountMin: count, CountMax: count,
		Clear: []Zone{{"barrier", 5*measure.Metre + tenth, 6*measure.Metre + tenth}},
	}
}

// longBarrier has as many places as a run may have.
func longBarrier() Problem {
	p := barrier(700)
	p.Run, p.Last = 26*measure.Metre, At(26*measure.Metre)
	p.Clear[0].To = 20 * measure.Metre
	return p
}

func manyZones() Problem {
	p := Problem{
		Run: MaxRun, Step: measure.Millimetre, First: Window{0, MaxRun}, Last: Window{0, MaxRun},
		Gap: Limits{Min: 20 * measure.Millimetre},
	}
	for i := range 2500 {
		at := measure.Length(i) * 40 * measure.Millimetre
		p.Clear = append(p.Clear, Zone{fmt.Sprint("z", i), at, at + 20*measure.Millimetre})
	}
	return p
}

// manyApart asks for 20 fasteners and has 200 anchors 49 mm apart, each within
// 40 to 48 mm. Every second of them is 98 mm from the next and shares no place
// with it, so the 100 of those need 100 fasteners; 21 of them clash with 20.
func manyApart() Problem {
	p := manyOfBoth()
	p.CountMin, p.CountMax, p.Repeat = 20, 20, 0
	return p
}

// solved is Solve with what it tried and how much memory it took for it.
func solved(t *testing.T, p Problem) (l Layout, tried int, bytes uint64, err error) {
	t.Helper()
	p.Tried = &tried
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	l, err = Solve(p)
	runtime.ReadMemStats(&after)
	if tried < 1 || tried > MaxTries {
		t.Errorf("%d tried", tried)
	}
	return l, tried, after.TotalAlloc - before.TotalAlloc, err
}

func TestRunawaysEndWithinTheBudget(t *testing.T) {
	for _, tt := range []struct {
		name   string
		p      Problem
		spread measure.Length
		err    string
	}{
		{"wide ends", wideEnds(), 0, ""},
		// In tenths of a millimetre: of 98 gaps besides the one of 10000 over
		// the barrier 54 have 50001 above it and 44 have 39999 below, so the
		// smallest is at most 909; with 55 and 43 it is the same.
		{"a barrier", barrier(100), 9091 * tenth, ""},
		{
			"a longer one", longBarrier(), 0,
			"spacing: too many possibilities: 16777216 tried without coming to an end; give a coarser step",
		},
		// 2500 stretches for each of 1000 fasteners are more than are kept.
		{
			"2500 zones", manyZones(), 0,
			"spacing: too many possibilities: more than 1048576 to keep at once; give count, first, last or a coarser step",
		},
		{
			"200 anchors and zones", manyOfBoth(), 0,
			"spacing: too many possibilities: 16777216 tried without coming to an end; give first, last or a coarser step",
		},
	} {
		l, tried, bytes, err := solved(t, tt.p)
		if l.Spread != tt.spread {
			t.Errorf("%s: a spread of %v, want %v", tt.name, l.Spread, tt.spread)
		}
		switch {
		case err == nil && len(faults(tt.p, l)) > 0:
			t.Errorf("%s: %v does not meet %v", tt.name, l, faults(tt.p, l))
		case err == nil && tt.err != "" || err != nil && err.Error() != tt.err:
			t.Errorf("%s: %v, want %v", tt.name, err, tt.err)
		case err != nil && !errors.As(err, new(*TooMany)):
			t.Errorf("%s: a %T", tt.name, err)
		}
		if bytes > 128<<20 {
			t.Errorf("%s: %d MB", tt.name, bytes>>20)
		}
		if _, again, _, _ := solved(t, tt.p); again != tried {
			t.Errorf("%s: %d tried and then %d", tt.name, tried, again)
		}
	}
}

func TestClashOfMany(t *testing.T) {
	p := manyApart()
	_, _, _, err := solved(t, p)
	var clash *Clash
	if !errors.As(err, &clash) || clash.Partial || len(clash.Constraints) != 22 || clash.Constraints[0].Kind != KindCount {
		t.Fatal(err)
	}
	for i, c := range clash.Constraints[2:] {
		a, b := p.Anchors[clash.Constraints[i+1].Index], p.Anchors[c.Index]
		if c.Kind != KindAnchor || a.At+a.Within >= b.At-b.Within {
			t.Errorf("%v and %v share a place", a, b)
		}
	}
	// Stopped on the way, it still names what clashes, if more than needed.
	p.Most = 50000
	_, tried, _, err := solved(t, p)
	if !errors.As(err, &clash) || !clash.Partial || len(clash.Constraints) <= 22 || tried != p.Most {
		t.Errorf("stopped after %d: %v", tried, err)
	}
}

// A search that is stopped says so; one that is not gives the same answer as
// without a budget.
func TestAnyBudget(t *testing.T) {
	checks(t, 3000, 30000)
	stopped, ended := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := small().Draw(t, "problem")
		want, wantErr := Solve(p)
		counts, countsErr := Counts(p)
		tried := 0
		p.Most, p.Tried = 1<<rapid.IntRange(0, 14).Draw(t, "most"), &tried
		got, err := Solve(p)
		if tried > p.Most {
			t.Fatalf("%d tried, at most %d", tried, p.Most)
		}
		var clash *Clash
		switch {
		case errors.As(err, new(*TooMany)):
			stopped++
			if err.(*TooMany).Tried != p.Most || tried != p.Most {
				t.Fatalf("stopped after %d, counted %d, at most %d", err.(*TooMany).Tried, tried, p.Most)
			}
		case errors.As(err, &clash) && clash.Partial:
			if !errors.As(wantErr, new(*Clash)) {
				t.Fatalf("%v, without a budget %v", err, wantErr)
			}
			stopped++
		default:
			ended++
			// A clash may have more constraints than the fewest.
			if diff := cmp.Diff(want, got); diff != "" || (err == nil) != (wantErr == nil) {
				t.Fatalf("%v, without a budget %v (-without +with)\n%s", err, wantErr, diff)
			}
		}
		if ok, err := Possible(p); err == nil && ok != (wantErr == nil) {
			t.Fatalf("possible: %v, Solve: %v", ok, wantErr)
		}
		if got, err := Counts(p); err == nil && fmt.Sprint(err) == fmt.Sprint(countsErr) {
			if diff := cmp.Diff(counts, got); diff != "" {
				t.Fatalf("(-without +with)\n%s", diff)
			}
		}
	})
	if t.Logf("%d were stopped, %d ended", stopped, ended); min(stopped, ended) < 300 && !testing.Short() {
		t.Error("too few of one for the test to mean much")
	}
}

func TestTooManyNamesWhatIsOpen(t *testing.T) {
	p := wideEnds()
	p.Most = 1
	for _, tt := range []struct {
		set  func()
		want string
	}{
		{func() {}, "count, first, last or a coarser step"},
		{func() { p.First = At(0) }, "count, last or a coarser step"},
		{func() { p.CountMin = 200 }, "last or a coarser step"},
		{func() { p.Last = At(longRun) }, "a coarser step"},
	} {
		tt.set()
		want := "spacing: too many possibilities: 1 tried without coming to an end; give " + tt.want
		_, err := Solve(p)
		_, countsErr := Counts(p)
		_, possibleErr := Possible(p)
		for _, err := range []error{err, countsErr, possibleErr} {
			if err == nil || err.Error() != want {
				t.Errorf("%v, want %v", err, want)
			}
		}
	}
}

func benchmarkSolve(b *testing.B, p Problem) {
	tried := 0
	p.Tried = &tried
	b.ReportAllocs()
	for b.Loop() {
		Solve(p)
	}
	b.ReportMetric(float64(tried)/float64(b.N), "tries/op")
}

func BenchmarkWideEnds(b *testing.B)         { benchmarkSolve(b, wideEnds()) }
func BenchmarkBarrier(b *testing.B)          { benchmarkSolve(b, barrier(100)) }
func BenchmarkLongBarrier(b *testing.B)      { benchmarkSolve(b, longBarrier()) }
func BenchmarkManyAnchorsZones(b *testing.B) { benchmarkSolve(b, manyOfBoth()) }
func BenchmarkClashOfMany(b *testing.B)      { benchmarkSolve(b, manyApart()) }
