package spacing

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"placketeer/catalog/measure"
)

// plaid is a front whose stripes repeat every 84 mm, with the first button at
// 45 mm and the last so many stripes below.
func plaid(stripes, least, most int) Problem {
	last := mm(45 + 84*float64(stripes))
	return Problem{
		Run: last + mm(100), Step: mm(1), First: At(mm(45)), Last: At(last),
		CountMin: least, CountMax: most, Repeat: mm(84), EvenWithin: EvenSpreadMM,
	}
}

// plain runs from 0 to 120 mm with some stretches barred.
func plain(step float64, least, most int, clear ...Zone) Problem {
	return Problem{
		Run: mm(120), Step: mm(step), First: At(0), Last: At(mm(120)),
		CountMin: least, CountMax: most, Clear: clear, EvenWithin: EvenSpreadMM,
	}
}

func barred(from, to float64) Zone { return Zone{From: mm(from), To: mm(to)} }

func TestEvenBeforeMany(t *testing.T) {
	tests := []struct {
		name  string
		p     Problem
		gaps  []measure.Length
		skips []int
		even  bool
		c     Choice
	}{
		// Six stripes, wished for: the gap of six buttons, 504/5 = 100.8 mm.
		// Six buttons have five gaps for them, so one is of two stripes; the
		// even places are 100.8 mm apart, and with it in the middle the others
		// lie 16.8, 33.6, 33.6 and 16.8 mm off. Seven have a stripe each.
		// Five: 84 84 168 168 in some order. Eight do not fit.
		{"six skip a stripe in mid-front", plaid(6, 6, 6), mms(84, 84, 168, 84, 84), []int{2}, false, Choice{}},
		{
			"seven do not", plaid(6, 5, 8), mms(84, 84, 84, 84, 84, 84), nil, true,
			Choice{Why: WhyEven, Wish: mm(100.8), Over: []int{6}, Even: 1, Sizes: 1},
		},
		// Eight stripes. The gap of six is 672/5 = 134.4 mm; seven (112 mm) are
		// 22.4 mm from it, five (168 mm) 33.6 mm, eight (96 mm) 38.4 mm. Of
		// these only five share eight stripes evenly, two each.
		{"eight skip a stripe in mid-front", plaid(8, 8, 8), mms(84, 84, 84, 168, 84, 84, 84), []int{3}, false, Choice{}},
		{
			"five pass over every second stripe, evenly", plaid(8, 5, 8), mms(168, 168, 168, 168), nil, true,
			Choice{Why: WhyEven, Wish: mm(134.4), Over: []int{6, 7}, Even: 1, Sizes: 1},
		},
		// Seven stripes in four, five or six gaps: some gaps have one and some
		// two. All have the same spread, and the wish is the gap of six,
		// 588/5 = 117.6 mm: one stripe three times and two twice.
		{
			"where all skip the wish decides", plaid(7, 5, 7), mms(84, 168, 84, 168, 84), []int{1, 3}, false,
			Choice{Why: WhySpread, Wish: mm(117.6), Sizes: 1},
		},
		// The gap of five is 30 mm, and the third would lie at 60 mm. From 50 or
		// to 70 mm it is 25 25 35 35. Six have 24 mm: 24 48 72 96.
		{
			"a belt in the way of five", plain(1, 4, 7, barred(50, 70)), mms(24, 24, 24, 24, 24), nil, true,
			Choice{Why: WhyEven, Wish: mm(30), Over: []int{5}, Even: 1, Sizes: 1},
		},
		// 58 or 62 mm: 29 29 31 31 differ by 2 mm, under 3 mm.
		{
			"uneven by less than counts", plain(1, 4, 7, barred(58, 62)), mms(29, 29, 31, 31), nil, true,
			Choice{Why: WhyWish, Wish: mm(30), Even: 1, Sizes: 1},
		},
		// 56 or 64 mm: 28 28 32 32 differ by 4 mm. That is two steps of 2 mm,
		// but more than 3 mm and two of 1 mm.
		{
			"two steps", plain(2, 4, 7, barred(56, 64)), mms(28, 28, 32, 32), nil, true,
			Choice{Why: WhyWish, Wish: mm(30), Even: 1, Sizes: 1},
		},
		{
			"four steps", plain(1, 4, 7, barred(56, 64)), mms(24, 24, 24, 24, 24), nil, true,
			Choice{Why: WhyEven, Wish: mm(30), Over: []int{5}, Even: 1, Sizes: 1},
		},
		// Four, as wished, have no place at 40 mm: 48 36 36 differ by 12 mm.
		// Three: 50 70. Five: 25 25 35 35 differ by 10 mm.
		{
			"the least uneven", plain(1, 3, 5, barred(30, 48), barred(50, 70)), mms(25, 25, 35, 35), nil, false,
			Choice{Why: WhySpread, Wish: mm(40), Over: []int{4}, Sizes: 1},
		},
		// As above, of two counts.
		{
			"the less uneven of two", plain(1, 4, 5, barred(30, 48), barred(50, 70)), mms(25, 25, 35, 35), nil, false,
			Choice{Why: WhySpread, Wish: mm(40), Over: []int{4}, Sizes: 1},
		},
		// The smallest gap is 20 mm, and 120/6 of it fit.
		{
			"as many as the gap allows", func() Problem { p := plain(1, 0, 0); p.Gap.Min = mm(20); return p }(),
			mms(20, 20, 20, 20, 20, 20), nil, true, Choice{Why: WhyWish, Wish: mm(20), Even: 1, Sizes: 1},
		},
		// Nothing limits the gap: the longest there is.
		{
			"as few as may be", plain(1, 3, 0), mms(60, 60), nil, true,
			Choice{Why: WhyWish, Wish: mm(120), Even: 1, Sizes: 1},
		},
		// In nanometres: 3 are 10 14, 4 are 7 10 7. Neither is within 2, and the
		// spread of four is one nanometre less.
		{
			"less uneven by a nanometre", Problem{
				Run: 24, Step: 1, First: At(0), Last: At(24), CountMin: 3, CountMax: 4, EvenWithin: 1,
				Clear: []Zone{{From: 0, To: 7}, {From: 7, To: 10}, {From: 10, To: 14}, {From: 14, To: 17}, {From: 17, To: 24}},
			}, []measure.Length{7, 10, 7}, nil, false,
			Choice{Why: WhySpread, Wish: 12, Over: []int{3}, Sizes: 1},
		},
		// One has no gap: two, however far apart.
		{
			"one is not even", plain(1, 1, 2, barred(5, 115)), mms(120), nil, true,
			Choice{Why: WhyOnly, Wish: mm(120), Even: 1, Sizes: 1},
		},
	}
	for _, tt := range tests {
		l, err := Solve(tt.p)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if diff := cmp.Diff(tt.gaps, l.Gaps()); diff != "" {
			t.Errorf("%s: gaps (-want +got)\n%s", tt.name, diff)
		}
		if diff := cmp.Diff(tt.skips, l.Skips); diff != "" || l.Even != tt.even {
			t.Errorf("%s: even %v, want %v; skips (-want +got)\n%s", tt.name, l.Even, tt.even, diff)
		}
		if diff := cmp.Diff(tt.c, l.Choice); diff != "" {
			t.Errorf("%s: choice (-want +got)\n%s", tt.name, diff)
		}
	}
}

func mms(xs ...float64) (ls []measure.Length) {
	for _, x := range xs {
		ls = append(ls, mm(x))
	}
	return ls
}

// In inches, by what a rule can mark: 1/8 in whatever the step, and two steps.
func TestEvenTo(t *testing.T) {
	for _, tt := range []struct {
		p    Problem
		want measure.Length
	}{
		{Problem{Step: in(0.03125)}, in(0.125)},
		{Problem{Step: in(0.0625)}, in(0.125)},
		{Problem{Step: 1, EvenWithin: 1}, 2},
		{Problem{Step: 1, EvenWithin: 3}, 3},
		{Problem{Step: in(0.125)}, in(0.25)},
		{Problem{Step: mm(1), EvenWithin: EvenSpreadMM}, mm(3)},
		{Problem{Step: mm(5), EvenWithin: EvenSpreadMM}, mm(10)},
		{Problem{Step: mm(5), EvenWithin: EvenSpreadMM, Repeat: mm(84)}, 0},
	} {
		if got := tt.p.EvenTo(); got != tt.want {
			t.Errorf("%+v: %v, want %v", tt.p, got, tt.want)
		}
	}
}

// Three sizes of the plain run, of which one has a belt in the way of five.
// 126 mm in fours are 31.5 mm and in fives 25.2 mm: steps of 1 mm leave a
// spread of 1 mm. So five are even enough in two sizes and six in all three.
func TestEvenInMostSizes(t *testing.T) {
	small, middle := plain(1, 4, 7, barred(50, 70)), plain(1, 4, 7)
	middle.Run, middle.Last = mm(126), At(mm(126))
	count, sizes := SolveSizes([]Problem{small, middle, middle})
	if count != 6 {
		t.Errorf("count %d, want 6", count)
	}
	for i, wish := range mms(30, 31.5, 31.5) {
		want := Choice{Why: WhyEven, Wish: wish, Over: []int{5}, Even: 3, Sizes: 3}
		if diff := cmp.Diff(want, sizes[i].Layout.Choice); diff != "" || sizes[i].Own {
			t.Errorf("size %d: own %v (-want +got)\n%s", i, sizes[i].Own, diff)
		}
	}

	// With a belt across the middle of both longer ones six give way in two:
	// 25.2 mm apart they would lie at 50.4 and 75.6 mm. Seven lie 21 mm apart
	// there, at 42 and 63 mm, four 42 mm apart at 42 and 84 mm; the small one
	// is even with four (40 mm), of which three sizes are.
	middle.Clear = []Zone{barred(44, 62)}
	count, sizes = SolveSizes([]Problem{small, middle, middle})
	if c := sizes[0].Layout.Choice; count != 4 || c.Even != 3 || c.Why != WhyEven {
		t.Errorf("count %d, %+v; want 4, even in 3", count, c)
	}
}

func TestSizesKeepToTheBudget(t *testing.T) {
	tried := 0
	p := plain(1, 4, 7, barred(50, 70))
	p.Most, p.Tried = 100, &tried
	count, sizes := SolveSizes([]Problem{p, p, p})
	for _, s := range sizes {
		if err, ok := s.Err.(*TooMany); !ok || count != 0 {
			t.Errorf("count %d, %v", count, s.Err)
		} else if diff := cmp.Diff([]Kind{KindCount, KindStep}, err.Give); diff != "" {
			t.Errorf("give (-want +got)\n%s", diff)
		}
	}
	// Every size's counts, and the choice.
	if tried > 4*p.Most {
		t.Errorf("%d tried, at most %d each", tried, p.Most)
	}
}
