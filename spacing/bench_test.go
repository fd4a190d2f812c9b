package spacing

import (
	"testing"

	"placketeer/catalog/measure"
)

// eighths is a length of n eighths of an inch.
func eighths(n int) measure.Length { return measure.Length(n) * measure.Inch / 8 }

// typical is a coat front: 26 in, six buttons, a bust line and a belt.
func typical() Problem {
	return Problem{
		Run: eighths(208), Step: eighths(1),
		First: At(eighths(5)), Last: At(eighths(176)),
		CountMin: 6, CountMax: 6,
		Anchors: []Anchor{{"bust", eighths(64), eighths(4)}},
		Clear:   []Zone{{"belt", eighths(112), eighths(124)}},
	}
}

const halfMM = measure.Millimetre / 2

// hard is a full-length robe: 2 m, thirty fasteners, marked to half a
// millimetre, with six anchors and six clear zones that fall unevenly.
func hard() Problem {
	mm := func(x float64) measure.Length { return measure.Length(x*2) * halfMM }
	return Problem{
		Run: mm(2000), Step: halfMM,
		First: At(mm(17)), Last: At(mm(1931.5)),
		CountMin: 30, CountMax: 30,
		Anchors: []Anchor{
			{"neck", mm(92), mm(3)}, {"bust", mm(266), mm(6)}, {"waist", mm(431), mm(4)},
			{"hip", mm(618), mm(5)}, {"knee", mm(1121), mm(5)}, {"calf", mm(1502), mm(3)},
		},
		Clear: []Zone{
			{"yoke", mm(140), mm(168)}, {"belt", mm(470), mm(512)}, {"pocket", mm(700), mm(742.5)},
			{"seam", mm(900), mm(931)}, {"tape", mm(1290), mm(1322)}, {"hem cord", mm(1700), mm(1741)},
		},
	}
}

func BenchmarkTypical(b *testing.B) {
	p := typical()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solve(p); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHard(b *testing.B) {
	p := hard()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solve(p); err != nil {
			b.Fatal(err)
		}
	}
}

// infeasible is the hard run with gaps of at least 60 mm. Its six anchors and
// two ends lie 273 mm apart: four gaps in each stretch, 33 mm to spare, 28 in
// all, and 29 are asked for. Give up any one anchor and the two stretches
// either side have room for nine gaps instead of eight; give up an end and it
// moves the 27 mm that a fifth gap needs. So all ten constraints clash.
func infeasible() Problem {
	p := hard()
	mm := measure.Millimetre
	p.First, p.Last, p.Gap.Min = At(30*mm), At(1941*mm), 60*mm
	for i := range p.Anchors {
		p.Anchors[i].At, p.Anchors[i].Within = (30+273*measure.Length(i+1))*mm, 0
	}
	for i := range p.Clear {
		p.Clear[i].From = (80 + 273*measure.Length(i)) * mm
		p.Clear[i].To = p.Clear[i].From + 20*mm
	}
	return p
}

func TestInfeasibleHasTen(t *testing.T) {
	_, err := Solve(infeasible())
	const want = "first, last, count, gap.min, neck anchor, bust anchor, waist anchor, " +
		"hip anchor, knee anchor and calf anchor cannot hold together"
	if err == nil || err.Error() != want {
		t.Errorf("%v, want %v", err, want)
	}
}

func BenchmarkInfeasible(b *testing.B) {
	p := infeasible()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solve(p); err == nil {
			b.Fatal("there is a layout")
		}
	}
}
