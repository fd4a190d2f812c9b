package spacing

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"placketeer/catalog/measure"
)

// Layouts that regulations, specifications and handbooks print. Lengths are
// written in inches or millimetres as the publication has them.

func in(x float64) measure.Length { return measure.Length(x * float64(measure.Inch)) }
func mm(x float64) measure.Length { return measure.Length(x * float64(measure.Millimetre)) }

func ins(xs ...float64) (ls []measure.Length) {
	for _, x := range xs {
		ls = append(ls, in(x))
	}
	return ls
}

func TestPublishedLayouts(t *testing.T) {
	tests := []struct {
		source string
		p      Problem
		want   []measure.Length
	}{
		{
			// "9 holes over 16 in": eight gaps of 2 in, not nine.
			"Historical Tailoring, Sewing a Tailored Buttonhole by Hand",
			Problem{Run: in(16), Step: in(0.125), First: At(0), Last: At(in(16)), CountMin: 9, CountMax: 9},
			ins(0, 2, 4, 6, 8, 10, 12, 14, 16),
		},
		{
			// Neck to first 3 1/4 in, then 3 3/4 in; seven, the neck counted.
			"South Carolina Transport Police, specification item 7, men's shirt",
			Problem{
				Run: in(30), Step: in(0.25), First: At(0), Last: At(in(22)), CountMin: 7, CountMax: 7,
				Anchors: []Anchor{{"first below the neck", in(3.25), 0}},
			},
			ins(0, 3.25, 7, 10.75, 14.5, 18.25, 22),
		},
		{
			// The other reading: seven below the neck button.
			"South Carolina Transport Police, specification item 7, men's shirt",
			Problem{
				Run: in(30), Step: in(0.25), First: At(0), Last: At(in(25.75)), CountMin: 8, CountMax: 8,
				Anchors: []Anchor{{"first below the neck", in(3.25), 0}},
			},
			ins(0, 3.25, 7, 10.75, 14.5, 18.25, 22, 25.75),
		},
		{
			// One at the lapel and five more, 3 1/4 in, then 3 1/2 in apart.
			"South Carolina Transport Police, specification item 12, women's shirt",
			Problem{
				Run: in(24), Step: in(0.25), First: At(0), Last: At(in(17.25)), CountMin: 6, CountMax: 6,
				Anchors: []Anchor{{"first below the lapel", in(3.25), 0}},
			},
			ins(0, 3.25, 6.75, 10.25, 13.75, 17.25),
		},
		{
			// Four snap buttons about 4 1/2 in apart from the collar down:
			// 0, 114.3, 228.6 and 342.9 mm.
			"Chicago Police Department, uniform specification, leather jacket",
			Problem{
				Run: in(15), Step: in(0.5), First: At(0), Last: Window{0, in(15)}, CountMin: 4, CountMax: 4,
				Gap: Limits{Min: in(4.5)},
			},
			[]measure.Length{0, mm(114.3), mm(228.6), mm(342.9)},
		},
		{
			// A waistband 2 1/2 in wide, two snaps 1 1/2 in apart, here one
			// above the other and centred: 1/2 in from either edge.
			"Chicago Police Department, uniform specification, leather jacket",
			Problem{
				Run: in(2.5), Step: in(0.125), First: At(in(0.5)), Last: At(in(2)), CountMin: 2, CountMax: 2,
			},
			ins(0.5, 2),
		},
		{
			// A cuff with a single button, its hole 5/8 in from the edge; the
			// depth of the cuff is ours.
			"US Commercial Item Description A-A-55095A, coveralls",
			Problem{Run: in(2.5), Step: in(0.125), First: At(in(0.625)), Last: At(in(0.625)), CountMin: 1, CountMax: 1},
			ins(0.625),
		},
		{
			// Reefer of four buttons: the pocket welt begins midway between
			// the second and the third, at 1 1/2 gaps. Any even run has it
			// there; this one is 4 in apart.
			"Chicago Police Department, uniform specification, reefer coat",
			Problem{
				Run: in(34), Step: in(0.125), First: At(in(10)), Last: At(in(22)), CountMin: 4, CountMax: 4,
				Clear: []Zone{{"pocket welt", in(10 + 1.5*4 - 1.9), in(10 + 1.5*4 + 1.9)}},
			},
			ins(10, 14, 18, 22),
		},
		{
			// Front edge marked with bound holes 2 in apart: common practice,
			// no source.
			"common practice, no source: bound holes",
			Problem{
				Run: in(14), Step: in(0.125), First: At(in(1)), Last: At(in(13)), Gap: Limits{in(1.75), in(2.25)},
			},
			ins(1, 3, 5, 7, 9, 11, 13),
		},
	}
	for _, tt := range tests {
		l, err := Solve(tt.p)
		if err != nil {
			t.Errorf("%s: %v", tt.source, err)
			continue
		}
		if diff := cmp.Diff(tt.want, l.Positions); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", tt.source, diff)
		}
	}
}

// The distance between centres that publications give, met by a run that
// leaves the count free and only states the limits.
func TestPublishedGaps(t *testing.T) {
	tests := []struct {
		source   string
		run      measure.Length
		step     measure.Length
		gap      Limits
		wantN    int
		wantGaps measure.Length // all alike
	}{
		// Badge holes 1 1/4 in apart on a strip of 1 1/4 in.
		{"Ohio Administrative Code 311-1-04.3, badge holes", in(1.25), in(0.125), Limits{in(1.25), in(1.25)}, 2, in(1.25)},
		// Shirts 3 1/2 in apart: six below the stand on 17 1/2 in.
		{"uniform shirt specification of xxjhfactory", in(17.5), in(0.125), Limits{in(3.5), in(3.5)}, 6, in(3.5)},
		// Shirts 3 to 3 1/2 in; 16 1/4 in takes six at 3 1/4 in.
		{"Indian Agricultural Statistics Research Institute, e-course on garments", in(16.25), in(0.125), Limits{in(3), in(3.5)}, 6, in(3.25)},
		// Shirts 8 to 10 cm: 45 cm takes six at 9 cm.
		{"noemova, placing buttons: shirts", mm(450), mm(5), Limits{mm(80), mm(100)}, 6, mm(90)},
		// Dresses 9 to 11 cm: 60 cm takes seven at 10 cm.
		{"noemova, placing buttons: dresses", mm(600), mm(5), Limits{mm(90), mm(110)}, 7, mm(100)},
		// Double-breasted jackets 10 to 11 cm: 21 cm takes three at 10.5 cm.
		{"a button maker, setting button and buttonhole position", mm(210), mm(5), Limits{mm(100), mm(110)}, 3, mm(105)},
	}
	for _, tt := range tests {
		l, err := Solve(Problem{Run: tt.run, Step: tt.step, First: At(0), Last: At(tt.run), Gap: tt.gap})
		if err != nil {
			t.Errorf("%s: %v", tt.source, err)
			continue
		}
		for _, g := range l.Gaps() {
			if g != tt.wantGaps || l.Count() != tt.wantN {
				t.Errorf("%s: %d with gaps of %v, want %d with %v", tt.source, l.Count(), l.Gaps(), tt.wantN, tt.wantGaps)
				break
			}
		}
	}
}

// laid are so many centres between two ends, marked to 1/8 in.
func laid(t *testing.T, first, last measure.Length, count int) []measure.Length {
	t.Helper()
	l, err := Solve(Problem{Run: last + in(3), Step: in(0.125), First: At(first), Last: At(last), CountMin: count, CountMax: count})
	if err != nil {
		t.Fatal(err)
	}
	return l.Positions
}

// The New Dressmaker, 1921, chapter 24: mark first and last and divide the
// distance by one less than the number of buttons, not by their number.
func TestDividesByOneLess(t *testing.T) {
	if diff := cmp.Diff(ins(1, 5, 9, 13, 17, 21), laid(t, in(1), in(21), 6)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// Regulations for the Uniform and Dress of the Army of the United States,
// 1861: a colonel's frock coat has two rows of seven, even, 5 1/2 in apart at
// the top and 3 1/2 in at the bottom; a brigadier general's eight in pairs, a
// major general's nine by threes. That the rows taper straight is our reading.
func TestRowsOfTheRegulationsOf1861(t *testing.T) {
	at := laid(t, 0, in(12), 7)
	var out []float64
	for _, r := range Rows(at, Taper{Top: in(5.5) / 2, Bottom: in(3.5) / 2}) {
		out = append(out, float64(int64(r.Out.MM()*100+0.5))/100)
	}
	if diff := cmp.Diff([]float64{69.85, 65.62, 61.38, 57.15, 52.92, 48.68, 44.45}, out); diff != "" {
		t.Errorf("from the centre line, mm: (-want +got)\n%s", diff)
	}

	front := Problem{Run: in(16), Step: in(0.125), First: At(in(0.5)), Last: At(in(15.5)), GroupGap: in(1.5)}
	for _, tt := range []struct {
		rank         string
		count, group int
		ok           bool
	}{
		{"colonel", 7, 1, true}, {"brigadier general", 8, 2, true}, {"major general", 9, 3, true}, {"none", 9, 2, false},
	} {
		p := front
		p.CountMin, p.CountMax, p.Group = tt.count, tt.count, tt.group
		l, err := Solve(p)
		if (err == nil) != tt.ok {
			t.Errorf("%s: %v", tt.rank, err)
			continue
		}
		if err != nil {
			if errors.As(err, new(*Clash)) {
				t.Errorf("nine in pairs is no clash of lengths: %v", err)
			}
			continue
		}
		if l.Count() != tt.count || l.Positions[tt.count-1] != in(15.5) {
			t.Errorf("%s: %v", tt.rank, l)
		}
		for i, g := range l.Gaps() {
			if inside := (i+1)%tt.group != 0; inside && g != in(1.5) || !inside && g <= in(1.5) {
				t.Errorf("%s: gap %d is %v in", tt.rank, i+1, g.In())
			}
		}
	}
}

// Rows of other publications, as distances from the centre line.
func TestPublishedRows(t *testing.T) {
	tests := []struct {
		source      string
		taper       Taper
		top, bottom measure.Length
	}{
		// Rows 2 in apart at the waist and wider toward the shoulders; how much
		// wider is not printed, 4 in here.
		{"Regulations for the Army of the Confederate States, May 1861", Taper{Top: in(4) / 2, Bottom: in(2) / 2}, in(2), in(1)},
		// Rows 8 to 10 in apart at the top, 4 to 5 in at the bottom.
		{"US War Department regulations, double-breasted dress coat", Taper{Top: in(9) / 2, Bottom: in(4.5) / 2}, in(4.5), in(2.25)},
		// The button row 6 to 8 cm from the centre, straight down.
		{"a button maker, setting button and buttonhole position", Taper{Top: mm(70), Bottom: mm(70)}, mm(70), mm(70)},
	}
	for _, tt := range tests {
		rows := Rows(laid(t, 0, in(10), 5), tt.taper)
		if rows[0].Out != tt.top || rows[4].Out != tt.bottom {
			t.Errorf("%s: %v", tt.source, rows)
		}
	}
	// River Oaks Houston, Of Buttons and Buttonholes: of six by two the lower
	// four form a square and the top pair sits wider by half a distance more.
	side := in(4)
	rows := Rows([]measure.Length{0, side, 2 * side}, Taper{Top: side / 2, Bottom: side / 2, Own: map[int]measure.Length{0: side}})
	if diff := cmp.Diff([]Row{{0, side}, {side, side / 2}, {2 * side, side / 2}}, rows); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}
