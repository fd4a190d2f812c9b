package spacing

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"placketeer/catalog/measure"
)

func between(from, to float64) *Window { return &Window{mm(from), mm(to)} }

// marks are what can be marked on a run in millimetres.
var marks = mms(10, 5, 2, 1)

func TestDefaultsGiveWay(t *testing.T) {
	// run is a front with the first and last where nobody asked for them.
	run := func(length, first, last, step float64, least, most int, set ...func(*Problem)) Problem {
		p := Problem{
			Run: mm(length), First: At(mm(first)), Last: At(mm(last)), Step: mm(step),
			CountMin: least, CountMax: most, EvenWithin: EvenSpreadMM,
		}
		for _, s := range set {
			s(&p)
		}
		return p
	}
	repeat := func(r float64) func(*Problem) { return func(p *Problem) { p.Repeat = mm(r) } }
	bar := func(from, to float64) func(*Problem) {
		return func(p *Problem) { p.Clear = append(p.Clear, barred(from, to)) }
	}
	tests := []struct {
		name  string
		p     Problem
		d     Defaults
		want  []measure.Length
		moved Moved
		step  float64
	}{
		{
			"what holds stays as it is", run(600, 40, 500, 5, 5, 5),
			Defaults{marks, between(15, 80), between(400, 590)},
			mms(40, 155, 270, 385, 500), Moved{}, 5,
		},
		// Steps of 5 mm and stripes of 84 mm meet every 420 mm, that is at 45
		// and 465 mm. 10, 5 and 2 mm either do not divide 84 mm or do not meet
		// the stripe at 45 mm.
		{
			"the step for the stripes", run(565, 45, 465, 5, 6, 6, repeat(84)),
			Defaults{marks, nil, nil},
			mms(45, 129, 213, 297, 381, 465), Moved{Step: true}, 1,
		},
		{
			"the coarsest", run(566, 46, 466, 5, 6, 6, repeat(84)),
			Defaults{marks, between(15, 90), between(400, 550)},
			mms(46, 130, 214, 298, 382, 466), Moved{Step: true}, 2,
		},
		// 455 mm are not whole stripes of 84 mm. The gap of six is 91 mm, and
		// five stripes end at 465 mm, six at 549 mm.
		{
			"the last to a stripe", run(600, 45, 500, 1, 5, 8, repeat(84)),
			Defaults{marks, between(15, 90), between(400, 587)},
			mms(45, 129, 213, 297, 381, 465), Moved{Last: true}, 1,
		},
		{
			"the step and the last", run(600, 45, 500, 5, 5, 8, repeat(84)),
			Defaults{marks, between(15, 90), between(400, 587)},
			mms(45, 129, 213, 297, 381, 465), Moved{Step: true, Last: true}, 1,
		},
		// Six gaps for seven stripes skip one. With the last a stripe higher,
		// at 549 mm, they do not.
		{
			"the last so as to skip none", run(700, 45, 633, 1, 7, 7, repeat(84)),
			Defaults{marks, nil, between(500, 690)},
			mms(45, 129, 213, 297, 381, 465, 549), Moved{Last: true}, 1,
		},
		// On steps of 5 mm, which meet the stripes every 420 mm, it has no layout.
		{
			"it skips, and keeps the step that it has a layout on", run(700, 45, 633, 5, 7, 7, repeat(84)),
			Defaults{marks, between(15, 90), nil},
			mms(45, 129, 213, 297, 465, 549, 633), Moved{Step: true}, 1,
		},
		// An end that has a window is where it is best, and has not moved.
		{
			"the step, with the first anywhere from 40 to 60 mm", run(565, 45, 465, 5, 6, 6, repeat(84), func(p *Problem) { p.First = Window{mm(40), mm(60)} }),
			Defaults{marks, nil, nil},
			mms(45, 129, 213, 297, 381, 465), Moved{Step: true}, 1,
		},
		{
			"the step, with the last anywhere from 450 to 480 mm", run(565, 45, 465, 5, 6, 6, repeat(84), func(p *Problem) { p.Last = Window{mm(450), mm(480)} }),
			Defaults{marks, nil, nil},
			mms(45, 129, 213, 297, 381, 465), Moved{Step: true}, 1,
		},
		{
			"a stated last skips all the same", run(700, 45, 633, 1, 7, 7, repeat(84)),
			Defaults{marks, between(15, 90), nil},
			mms(45, 129, 213, 297, 465, 549, 633), Moved{}, 1,
		},
		// Four gaps of whole steps of 5 mm: the last at 40 mm and whole 20s. 500
		// and 520 mm lie in the belt, 480 mm is 20 and 540 mm 40 mm away.
		{
			"the last out of a belt", run(600, 40, 500, 5, 5, 5, bar(480, 530)),
			Defaults{marks, between(15, 80), between(400, 587)},
			mms(40, 150, 260, 370, 480), Moved{Last: true}, 5,
		},
		// 430 mm less whole 20s: 10, 30, 50 mm. 30 mm is barred, the others are
		// as near: the topmost.
		{
			"the first", run(500, 30, 430, 5, 5, 5, bar(20, 40)),
			Defaults{marks, between(10, 60), nil},
			mms(10, 115, 220, 325, 430), Moved{First: true}, 5,
		},
		{
			"the first, for the last does not help", run(500, 30, 430, 5, 5, 5, bar(20, 40)),
			Defaults{marks, between(10, 60), between(400, 480)},
			mms(10, 115, 220, 325, 430), Moved{First: true}, 5,
		},
		// As before, and 10 mm and 50 mm are no places for it: 70 mm is.
		{
			"the first, from 55 mm on", run(500, 30, 430, 5, 5, 5, bar(20, 40)),
			Defaults{marks, between(55, 80), nil},
			mms(70, 160, 250, 340, 430), Moved{First: true}, 5,
		},
		{
			"the first, to 15 mm", run(500, 30, 430, 5, 5, 5, bar(20, 40)),
			Defaults{marks, between(5, 15), nil},
			mms(10, 115, 220, 325, 430), Moved{First: true}, 5,
		},
		// From 55 mm the gaps are 185 and 190 mm, from 60 to 80 mm they differ by
		// 10 or more. 50 mm, where they would be 190 mm both, is no place for it.
		{
			"the first, unevenly", run(500, 30, 430, 5, 3, 3, bar(20, 40), bar(243, 257)),
			Defaults{marks, between(55, 80), nil},
			mms(55, 240, 430), Moved{First: true}, 5,
		},
		// 20 mm is 10 mm away, 35 mm 5 mm.
		{
			"the first of two, as low as it may", run(500, 30, 430, 5, 2, 2, bar(22, 32)),
			Defaults{marks, between(10, 35), nil},
			mms(35, 430), Moved{First: true}, 5,
		},
		{
			"the first of two, as high as it may", run(500, 30, 430, 5, 2, 2, bar(28, 38)),
			Defaults{marks, between(25, 60), nil},
			mms(25, 430), Moved{First: true}, 5,
		},
		// 25 and 35 mm are nearer, but gaps of steps are even from 20 and 40 mm.
		{
			"the first of three", run(500, 30, 430, 5, 3, 3, bar(27, 33)),
			Defaults{marks, between(10, 60), nil},
			mms(20, 225, 430), Moved{First: true}, 5,
		},
		// Two have one gap, whatever it is: 480 mm is 20 mm away, 530 mm 30 mm.
		{
			"the last of two", run(600, 40, 500, 5, 2, 2, bar(480, 530)),
			Defaults{marks, between(15, 80), between(400, 587)},
			mms(40, 480), Moved{Last: true}, 5,
		},
		{
			"the first of two", run(500, 30, 430, 5, 2, 2, bar(20, 40)),
			Defaults{marks, between(10, 60), nil},
			mms(20, 430), Moved{First: true}, 5,
		},
		{
			"both of two", run(600, 30, 470, 5, 2, 2, bar(20, 40), bar(460, 480)),
			Defaults{marks, between(10, 60), between(400, 587)},
			mms(20, 460), Moved{First: true, Last: true}, 5,
		},
		// One is first and last at once, and a stated place need be no mark.
		{
			"one, at the first", run(600, 42, 500, 5, 1, 1),
			Defaults{marks, nil, between(20, 587)},
			mms(42), Moved{Last: true}, 5,
		},
		{
			"one, at the last", run(600, 42, 498, 5, 1, 1),
			Defaults{marks, between(15, 590), nil},
			mms(498), Moved{First: true}, 5,
		},
		// From 100 to 200 mm it is 458 mm from both together: nearest the first.
		{
			"one, between both", run(600, 42, 500, 5, 1, 1, bar(30, 60), bar(490, 510)),
			Defaults{marks, between(15, 200), between(100, 587)},
			mms(100), Moved{First: true, Last: true}, 5,
		},
		{
			"one, where both reach", run(600, 42, 500, 5, 1, 1, bar(30, 60), bar(490, 510)),
			Defaults{marks, between(15, 150), between(150, 587)},
			mms(150), Moved{First: true, Last: true}, 5,
		},
		// 420 mm are whole steps of 5 mm and five stripes.
		{
			"two on the stripe stay on their step", run(565, 45, 465, 5, 2, 2, repeat(84)),
			Defaults{marks, between(15, 90), between(400, 550)},
			mms(45, 465), Moved{}, 5,
		},
		// 20 or 40, and 460 or 480 mm: 10 mm each, and all whole 20s apart.
		{
			"both", run(600, 30, 470, 5, 5, 5, bar(20, 40), bar(460, 480)),
			Defaults{marks, between(10, 60), between(400, 587)},
			mms(20, 130, 240, 350, 460), Moved{First: true, Last: true}, 5,
		},
		// As "the last to a stripe", with the default first on a yoke: stripes
		// end at 500 mm and begin 420 mm above, at 80 mm.
		{
			"the first to a stripe", run(600, 45, 500, 1, 5, 8, repeat(84), bar(30, 60)),
			Defaults{marks, between(15, 90), between(400, 587)},
			mms(80, 164, 248, 332, 416, 500), Moved{First: true}, 1,
		},
		// The stripe of the last is known, at 500 mm: 2 mm divide that and 84 mm.
		{
			"the first to a stripe, and the step for that of the last", run(600, 45, 500, 5, 6, 6, repeat(84), bar(30, 60)),
			Defaults{marks, between(15, 90), between(400, 587)},
			mms(80, 164, 248, 332, 416, 500), Moved{Step: true, First: true}, 2,
		},
	}
	for _, tt := range tests {
		got := Loosen(tt.p, tt.d)
		if got.Err != nil {
			t.Errorf("%s: %v", tt.name, got.Err)
			continue
		}
		if diff := cmp.Diff(tt.want, got.Layout.Positions); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", tt.name, diff)
		}
		if got.Moved != tt.moved || got.Step != mm(tt.step) {
			t.Errorf("%s: moved %+v, step %v; want %+v, %v", tt.name, got.Moved, got.Step, tt.moved, mm(tt.step))
		}
	}

	// Where nothing helps the clash is that of the defaults.
	p := run(600, 40, 500, 5, 5, 5, bar(240, 260))
	p.Anchors = []Anchor{{"waist", mm(250), mm(5)}}
	_, want := Solve(p)
	got := Loosen(p, Defaults{marks, between(15, 80), between(400, 590)})
	if diff := cmp.Diff(want, got.Err); diff != "" || got.Moved != (Moved{}) || got.Step != mm(5) {
		t.Errorf("moved %+v, step %v (-want +got)\n%s", got.Moved, got.Step, diff)
	}
	// No mark divides stripes of 84.3 mm; one of nothing is none.
	p = run(600, 45, 466.5, 5, 6, 6, repeat(84.3))
	got = Loosen(p, Defaults{append(slices.Clip(marks), 0), nil, nil})
	if !errors.As(got.Err, new(*Clash)) || got.Step != mm(5) {
		t.Errorf("%v, step %v", got.Err, got.Step)
	}
	// Three every 7 nm have a layout on steps of 1 nm alone. A run takes 2^18 of
	// them, and not one more.
	for run, want := range map[length]length{MaxPlaces: 1, MaxPlaces + 1: 4} {
		p := Problem{Run: run, Step: 4, First: At(0), Last: At(14), CountMin: 3, CountMax: 3, Repeat: 7}
		if got := Loosen(p, Defaults{[]length{1}, nil, nil}); got.Step != want || (got.Err == nil) != (want == 1) {
			t.Errorf("a run of %d: step %d, %v", run, got.Step, got.Err)
		}
	}
	p = run(600, 40, 500, 5, 5, 5, bar(240, 260))
	p.Anchors = []Anchor{{"waist", mm(250), mm(5)}}
	// A search that was stopped is no reason to move anything.
	p.Most = 1
	got = Loosen(p, Defaults{marks, between(15, 80), between(400, 590)})
	if !errors.As(got.Err, new(*TooMany)) || got.Moved != (Moved{}) {
		t.Errorf("%v, moved %+v", got.Err, got.Moved)
	}
}

// Two sizes of the striped front: the small one has its last on a stripe, the
// other 35 mm below one. The step is one for both.
func TestDefaultsGiveWayInOneSize(t *testing.T) {
	small := Problem{
		Run: mm(565), Step: mm(5), First: At(mm(45)), Last: At(mm(465)),
		CountMin: 5, CountMax: 8, Repeat: mm(84), EvenWithin: EvenSpreadMM,
	}
	large := small
	large.Run, large.Last = mm(600), At(mm(500))
	count, sizes := SolveLoose([]Problem{small, large}, []Defaults{
		{marks, between(15, 90), between(365, 552)}, {marks, between(15, 90), between(400, 587)},
	})
	if count != 6 || sizes[0].Moved != (Moved{Step: true}) || sizes[1].Moved != (Moved{Step: true, Last: true}) {
		t.Errorf("count %d, %+v", count, sizes)
	}
	for _, s := range sizes {
		if diff := cmp.Diff(mms(45, 129, 213, 297, 381, 465), s.Layout.Positions); diff != "" || s.Step != mm(1) || s.Own {
			t.Errorf("step %v, own %v (-want +got)\n%s", s.Step, s.Own, diff)
		}
	}
	if count, sizes := SolveLoose(nil, nil); count != 0 || len(sizes) != 0 {
		t.Errorf("of no sizes: %d, %v", count, sizes)
	}
}

// bruteLoosen is Loosen by looking at everything.
func bruteLoosen(p Problem, d Defaults) (l Layout, m Moved, step length, ok bool) {
	type try struct {
		step, first, last bool
	}
	var kept *Layout
	var keptMoved Moved
	keptStep := p.Step
	for _, s := range []try{{}, {step: true}, {step: true, last: true}, {step: true, first: true}, {step: true, first: true, last: true}} {
		if s.first && d.First == nil || s.last && d.Last == nil {
			continue
		}
		q := p
		if s.first {
			q.First = *d.First
		}
		if s.last {
			q.Last = *d.Last
		}
		if s.step && p.Repeat > 0 && len(d.Steps) > 0 {
			q.Step = bruteStep(p, d.Steps, !s.first, !s.last)
		}
		got, ok := bruteNearest(q, p)
		if !ok {
			continue
		}
		n := got.Count()
		moved := Moved{q.Step != p.Step, s.first && got.Positions[0] != p.First.Min, s.last && got.Positions[n-1] != p.Last.Min}
		if len(got.Skips) == 0 {
			return got, moved, q.Step, true
		}
		if kept == nil {
			kept, keptMoved, keptStep = &got, moved, q.Step
		}
	}
	if kept == nil {
		return l, m, p.Step, false
	}
	return *kept, keptMoved, keptStep, true
}

// bruteStep is the coarsest step that divides the repeat.
func bruteStep(p Problem, steps []length, firstStays, lastStays bool) length {
	phase, known := length(0), true
	switch {
	case p.HasPhase:
		phase = p.Phase
	case firstStays:
		phase = p.First.Min
	case lastStays:
		phase = p.Last.Min - length(p.width())
	default:
		known = false
	}
	if p.Repeat%p.Step == 0 && (!known || phase%p.Step == 0) {
		return p.Step
	}
	met, divides := length(0), length(0)
	for _, s := range steps {
		if p.Repeat%s == 0 {
			divides = max(divides, s)
			if !known || phase%s == 0 {
				met = max(met, s)
			}
		}
	}
	switch {
	case met > 0:
		return met
	case p.Repeat%p.Step == 0 || divides == 0:
		return p.Step
	}
	return divides
}

// bruteNearest is the best layout of q whose ends lie nearest those of p.
func bruteNearest(q, p Problem) (best Layout, ok bool) {
	counts, _, _ := wished(p) // in the order of the wish with the ends at home
	var all []Layout
	for _, n := range counts {
		var found []length
		far := func(starts []length) (both, first length) {
			first = max(starts[0]-p.First.Min, p.First.Min-starts[0])
			last := starts[n-1] + length(p.width()) - p.Last.Min
			return first + max(last, -last), first
		}
		less := func(a, b []length) bool {
			s1, _, _ := score(a)
			s2, _, _ := score(b)
			if s1 != s2 {
				return s1 < s2
			}
			b1, f1 := far(a)
			b2, f2 := far(b)
			switch {
			case b1 != b2:
				return b1 < b2
			case f1 != f2:
				return f1 < f2
			case a[0] != b[0]:
				return a[0] < b[0]
			case a[n-1] != b[n-1]:
				return a[n-1] < b[n-1]
			}
			return better(a, b)
		}
		everyLayout(q, n, func(starts []length) {
			if found == nil || less(starts, found) {
				found = slices.Clone(starts)
			}
		})
		if found != nil {
			all = append(all, expand(q, found))
		}
	}
	if len(all) == 0 {
		return best, false
	}
	if len(all) > 1 && all[len(all)-1].Count() == p.members() {
		all = all[:len(all)-1]
	}
	if i := slices.IndexFunc(all, func(l Layout) bool { return l.Even }); i >= 0 {
		return all[i], true
	}
	best = all[0]
	for _, l := range all {
		if l.Spread < best.Spread {
			best = l
		}
	}
	return best, true
}

func TestNothingLooserIsBetter(t *testing.T) {
	checks(t, 2500, 25000)
	count := map[Moved]int{}
	rapid.Check(t, func(t *rapid.T) {
		p := small().Draw(t, "problem")
		p.Run = min(p.Run, 14)
		pick := func(what string, of ...int) length { return length(rapid.SampledFrom(of).Draw(t, what)) }
		p.First, p.Last = At(pick("default first", 0, 1, 2, 3)), At(p.Run-pick("default last", 0, 1, 2, 3))
		if pick("any repeat", 0, 1) == 1 && p.Repeat == 0 {
			p.Repeat = pick("stripe", 2, 3, 4)
		}
		d := Defaults{Steps: []length{4, 3, 2, 1}}
		if pick("first is given", 0, 0, 0, 1) == 0 {
			d.First = &Window{0, 2 * pick("first to", 1, 2, 3)}
		}
		if pick("last is given", 0, 0, 0, 1) == 0 {
			d.Last = &Window{p.Run - 2*pick("last from", 1, 2, 3), p.Run}
		}
		if pick("step is given", 0, 0, 0, 1) == 1 {
			d.Steps = nil
		}
		got := Loosen(p, d)
		want, moved, step, ok := bruteLoosen(p, d)
		if ok != (got.Err == nil) {
			if got.Err != nil && !errors.As(got.Err, new(*Clash)) {
				t.Skip(got.Err)
			}
			t.Fatalf("a layout exists: %v (%v), Loosen: %+v", ok, want, got)
		}
		if !ok {
			return
		}
		l := got.Layout
		l.Choice = Choice{}
		if diff := cmp.Diff(want, l); diff != "" {
			t.Fatalf("%+v %v, Loosen %+v %v (-want +got)\n%s", moved, step, got.Moved, got.Step, diff)
		}
		if moved != got.Moved || step != got.Step {
			t.Fatalf("%v: %+v, step %v, want %+v, %v", want, got.Moved, got.Step, moved, step)
		}
		count[moved]++
	})
	t.Log(fmt.Sprint(count))
	if len(count) < 7 && !testing.Short() {
		t.Error("too few kinds of it for the test to mean much")
	}
}

func BenchmarkLoosen(b *testing.B) {
	p := Problem{
		Run: mm(600), Step: mm(5), First: At(mm(45)), Last: At(mm(500)),
		CountMin: 5, CountMax: 8, Repeat: mm(84), EvenWithin: EvenSpreadMM,
		Clear: []Zone{barred(30, 60), barred(480, 510)},
	}
	d := Defaults{marks, between(15, 90), between(400, 587)}
	b.ReportAllocs()
	for b.Loop() {
		if l := Loosen(p, d); l.Err != nil || !l.Moved.First || !l.Moved.Last {
			b.Fatal(l)
		}
	}
}
