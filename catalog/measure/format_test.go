package measure

import (
	"math"
	"testing"
)

// The printed steps are those of a ruler: 1/16 in and 0.5 mm, below 1/2 in and
// 10 mm 1/32 in and 0.1 mm (the project's own choice).
func TestText(t *testing.T) {
	for _, tt := range []struct {
		l      Length
		in, mm string
		thin   string
	}{
		{11 * Inch / 8, "1 3/8 in (35 mm)", "35 mm (1 3/8 in)", "35 mm (1 3/8 in)"},
		{35 * Millimetre, "1 3/8 in (35 mm)", "35 mm (1 3/8 in)", "35 mm (1 3/8 in)"},
		{9 * Inch / 8, "1 1/8 in (28.5 mm)", "28.5 mm (1 1/8 in)", "28.5 mm (1 1/8 in)"},
		{Inch / 2, "1/2 in (12.5 mm)", "12.5 mm (1/2 in)", "12.5 mm (1/2 in)"},
		{60 * Inch, "60 in (1524 mm)", "1524 mm (60 in)", "1524 mm (60 in)"},
		{0, "0 in (0 mm)", "0 mm (0 in)", "0 mm (0 in)"},
		{2_400_000, "3/32 in (2.4 mm)", "2.4 mm (3/32 in)", "2.4 mm (3/32 in)"},
		{5_200_000, "7/32 in (5.2 mm)", "5.2 mm (7/32 in)", "5.2 mm (7/32 in)"},
		{29 * Inch / 32, "15/16 in (23 mm)", "23 mm (15/16 in)", "23 mm (15/16 in)"},
		{15 * Inch / 32, "15/32 in (12 mm)", "12 mm (15/32 in)", "12 mm (15/32 in)"},
		{300_000, "0.012 in (0.3 mm)", "0.3 mm (0.012 in)", "0.3 mm (0.012 in)"},
		{248_000, "0.01 in (0.2 mm)", "0.2 mm (0.01 in)", "0.25 mm (0.01 in)"},
		{999_000, "1/32 in (1 mm)", "1 mm (1/32 in)", "1 mm (1/32 in)"},
		// Something is never nothing.
		{4_000, "0.001 in (0.01 mm)", "0.01 mm (0.001 in)", "0.01 mm (0.001 in)"},
		{-11 * Inch / 8, "-1 3/8 in (-35 mm)", "-35 mm (-1 3/8 in)", "-35 mm (-1 3/8 in)"},
	} {
		for _, got := range []struct{ what, got, want string }{
			{"Text(In)", tt.l.Text(In), tt.in},
			{"Text(MM)", tt.l.Text(MM), tt.mm},
			{"Text(NoUnit)", tt.l.Text(NoUnit), tt.mm},
			{"TextThin", tt.l.TextThin(MM), tt.thin},
			{"Short", tt.l.Short(In) + " (" + tt.l.Short(MM) + ")", tt.in},
			{"ShortThin", tt.l.ShortThin(MM) + " (" + tt.l.Short(In) + ")", tt.thin},
		} {
			if got.got != got.want {
				t.Errorf("%d: %s = %q, want %q", tt.l, got.what, got.got, got.want)
			}
		}
	}
}

// A least goes up and a most down, each unit on its own.
func TestTextLeastMost(t *testing.T) {
	for _, tt := range []struct {
		l           Length
		least, most string // in inches first
	}{
		{29 * Inch / 32, "15/16 in (23.5 mm)", "7/8 in (23 mm)"},
		{23 * Millimetre, "15/16 in (23 mm)", "7/8 in (23 mm)"},
		{Inch / 2, "1/2 in (13 mm)", "1/2 in (12.5 mm)"},
		{12_600_000, "1/2 in (13 mm)", "15/32 in (12.5 mm)"},
		{9_950_000, "13/32 in (10 mm)", "3/8 in (9.9 mm)"},
		{10 * Metre, "393 3/4 in (10000 mm)", "393 11/16 in (10000 mm)"},
		{120 * Millimetre, "4 3/4 in (120 mm)", "4 11/16 in (120 mm)"},
		{793_749, "1/32 in (0.8 mm)", "0.031 in (0.7 mm)"},
		{-12_600_000, "-15/32 in (-12.5 mm)", "-1/2 in (-13 mm)"},
	} {
		if least, most := tt.l.TextLeast(In), tt.l.TextMost(In); least != tt.least || most != tt.most {
			t.Errorf("%v: least %q, most %q; want %q, %q", tt.l, least, most, tt.least, tt.most)
		}
	}
	if up, down := Length(248_100).TextThinLeast(MM), Length(248_100).TextThinMost(MM); up != "0.25 mm (0.01 in)" || down != "0.24 mm (0.009 in)" {
		t.Errorf("thin: %q, %q", up, down)
	}
}

func TestTextPlace(t *testing.T) {
	for _, tt := range []struct {
		l      Length
		in, mm string
	}{
		{5 * Inch / 8, "5/8 in (16 mm)", "15.875 mm (5/8 in)"},
		{29 * Inch / 32, "29/32 in (23 mm)", "23.019 mm (15/16 in)"},
		{22 * Inch, "22 in (559 mm)", "558.8 mm (22 in)"},
		{15 * Millimetre, "0.591 in (15 mm)", "15 mm (9/16 in)"},
		{-Inch / 64, "-1/64 in (-0.4 mm)", "-0.397 mm (-0.016 in)"},
		{0, "0 in (0 mm)", "0 mm (0 in)"},
	} {
		if in, mm := tt.l.TextPlace(In), tt.l.TextPlace(MM); in != tt.in || mm != tt.mm {
			t.Errorf("%v: %q, %q; want %q, %q", tt.l, in, mm, tt.in, tt.mm)
		}
	}
}

// Terms of a sum are finer: 7/16 in and 25/64 in make 53/64 in.
func TestShortFine(t *testing.T) {
	for _, tt := range []struct {
		l      Length
		in, mm string
	}{
		{25 * Inch / 64, "25/64 in", "9.9 mm"}, {5_200_000, "13/64 in", "5.2 mm"}, {300_000, "0.012 in", "0.3 mm"}, {248_000, "0.01 in", "0.25 mm"},
		{11 * Inch / 8, "1 3/8 in", "34.9 mm"}, {4_000, "0.001 in", "0.01 mm"}, {0, "0 in", "0 mm"}, {-Inch / 64, "-0.016 in", "-0.4 mm"},
	} {
		if in, mm := tt.l.ShortFine(In), tt.l.ShortFine(MM); in != tt.in || mm != tt.mm {
			t.Errorf("%v: %q, %q; want %q, %q", tt.l, in, mm, tt.in, tt.mm)
		}
	}
}

func TestSignedText(t *testing.T) {
	for _, tt := range []struct {
		l       Length
		in, mm  string
		shortMM string
	}{
		{Inch / 8, "+1/8 in (+3.2 mm)", "+3.2 mm (+1/8 in)", "+3.2 mm"},
		{-Inch / 8, "-1/8 in (-3.2 mm)", "-3.2 mm (-1/8 in)", "-3.2 mm"},
		{0, "0 in (0 mm)", "0 mm (0 in)", "0 mm"},
		{-200_000, "-0.008 in (-0.2 mm)", "-0.2 mm (-0.008 in)", "-0.2 mm"},
	} {
		if in, mm, short := tt.l.SignedText(In), tt.l.SignedText(MM), tt.l.SignedShort(MM); in != tt.in || mm != tt.mm || short != tt.shortMM {
			t.Errorf("%v: %q, %q, %q; want %q, %q, %q", tt.l, in, mm, short, tt.in, tt.mm, tt.shortMM)
		}
	}
}

func TestExact(t *testing.T) {
	for _, tt := range []struct {
		l      Length
		in, mm string
	}{
		{0, "0 in", "0 mm"},
		{11 * Inch / 8, "1 3/8 in", "34.925 mm"},
		{Inch / 64, "1/64 in", "0.396875 mm"},
		{2_540_000, "0.1 in", "2.54 mm"},
		{35 * Millimetre, "1.37795276 in", "35 mm"}, // 35/25.4 = 1.377952756
		{1, "0.00000004 in", "0.000001 mm"},
		{MaxLength, "393.7007874 in", "10000 mm"},
		{-Inch / 8, "-1/8 in", "-3.175 mm"},
		{math.MinInt64, "", "-9223372036854.775808 mm"},
	} {
		if in, mm := tt.l.Exact(In), tt.l.Exact(MM); mm != tt.mm || tt.l > math.MinInt64 && in != tt.in {
			t.Errorf("%d: %q, %q; want %q, %q", tt.l, in, mm, tt.in, tt.mm)
		}
	}
	if got := (35 * Millimetre).String(); got != "35 mm" {
		t.Errorf("String() = %q", got)
	}
}

func TestTolerancedText(t *testing.T) {
	for _, tt := range []struct {
		t                    Toleranced
		in, mm, thin, exactU string
	}{
		{Toleranced{2_400_000, 200_000}, "0.094 in ± 0.008 (2.4 mm)", "2.4 mm ± 0.2 (3/32 in)", "2.4 mm ± 0.2 (3/32 in)", "2.4 mm ± 0.2 mm"},
		// No thickness is less than nothing.
		{Toleranced{4_200_000, 6_300_000}, "0.165 in ± 0.248 (4.2 mm)", "4.2 mm ± 6.3 (11/64 in)", "4.2 mm (5/32 in), at most 10.5 mm", "4.2 mm ± 6.3 mm"},
		{Toleranced{2_400_000, 0}, "3/32 in (2.4 mm)", "2.4 mm (3/32 in)", "2.4 mm (3/32 in)", "2.4 mm"},
		{Toleranced{11 * Inch / 8, Inch / 16}, "1 3/8 in ± 1/16 (34.9 mm)", "34.925 mm ± 1.588 (1 3/8 in)", "35 mm ± 1.6 (1 3/8 in)", "34.925 mm ± 1.5875 mm"},
		{Toleranced{1_000_000, 5_000}, "0.039 in ± 0.001 (1 mm)", "1 mm ± 0.005 (0.039 in)", "1 mm ± 0.01 (1/32 in)", "1 mm ± 0.005 mm"},
	} {
		for _, got := range []struct{ what, got, want string }{
			{"Text(In)", tt.t.Text(In), tt.in}, {"Text(MM)", tt.t.Text(MM), tt.mm}, {"TextThin", tt.t.TextThin(MM), tt.thin},
			{"Exact(MM)", tt.t.Exact(MM), tt.exactU}, {"String", tt.t.String(), tt.exactU},
		} {
			if got.got != got.want {
				t.Errorf("%s = %q, want %q", got.what, got.got, got.want)
			}
		}
	}
}

func TestTextApart(t *testing.T) {
	for _, tt := range []struct {
		a, b         Length
		u            Unit
		textA, textB string
	}{
		{Inch, Inch / 2, In, "1 in (25.5 mm)", "1/2 in (12.5 mm)"},
		{Inch, Inch, In, "1 in (25.5 mm)", "1 in (25.5 mm)"},
		{Inch, Inch + Inch/64, In, "less than 1/32 in (0.4 mm) under 1 in", "1 in (26 mm)"},
		{Inch + Inch/64, Inch, In, "1 1/64 in (26 mm)", "1 in (25.5 mm)"}, // the finest mark of a ruler,
		{28 * Millimetre, 28_100_000, MM, "less than 0.2 mm (1/32 in) under 28 mm", "28 mm (1 1/8 in)"},
		{28 * Millimetre, 28_000_001, MM, "less than 0.1 mm (1/32 in) under 28 mm", "28 mm (1 1/8 in)"},
		{11_200_000, 11 * Millimetre, MM, "11.2 mm (7/16 in)", "11 mm (7/16 in)"},
		{4 * Millimetre, 4_110_000, In, "less than 1/32 in (0.2 mm) under 5/32 in", "5/32 in (4.1 mm)"},
		{4 * Millimetre, 4_110_000, MM, "4 mm (5/32 in)", "4.1 mm (5/32 in)"},
	} {
		if a, b := TextApart(tt.a, tt.b, tt.u); a != tt.textA || b != tt.textB {
			t.Errorf("TextApart(%v, %v): %q, %q; want %q, %q", tt.a, tt.b, a, b, tt.textA, tt.textB)
		}
	}
	if have, need := TextShort(22*Millimetre, 29*Inch/32, In); have != "7/8 in (22 mm)" || need != "15/16 in (23.5 mm)" {
		t.Errorf("%s, %s", have, need)
	}
	// Both read 15/16 in, to the mark that lengths are printed to.
	if have, need := TextShort(29*Inch/32, 23_100_000, In); have != "29/32 in (23 mm)" || need != "15/16 in (23.5 mm)" {
		t.Errorf("%s, %s", have, need)
	}
	if have, limit := TextOver(4_750_000, 4_690_000, MM); have != "4.8 mm (3/16 in)" || limit != "4.6 mm (5/32 in)" {
		t.Errorf("%s, %s", have, limit)
	}
	if have, limit := TextThinOver(1_520_000, 1_500_000, MM); have != "1.52 mm (1/16 in)" || limit != "1.5 mm (1/32 in)" {
		t.Errorf("%s, %s", have, limit)
	}
	if have, limit := TextThinOver(250_000, 244_000, MM); have != "0.25 mm (0.01 in)" || limit != "0.24 mm (0.009 in)" {
		t.Errorf("%s, %s", have, limit)
	}
}

func TestTextSpan(t *testing.T) {
	for _, tt := range []struct {
		lo, hi Length
		u      Unit
		want   string
	}{
		{2_500_000, 3_500_000, In, "1/8 in (2.5 to 3.5 mm)"},
		{2_500_000, 3_500_000, MM, "2.5 to 3.5 mm (1/8 in)"},
		{Inch, 2 * Inch, In, "1 to 2 in (25.5 to 50.5 mm)"},
		{28_100_000, 28_200_000, MM, "28.1 to 28.2 mm (1.107 to 1.11 in)"}, // nothing that is otherwise printed lies between
	} {
		if got := TextSpan(tt.lo, tt.hi, tt.u); got != tt.want {
			t.Errorf("%v to %v: %q, want %q", tt.lo, tt.hi, got, tt.want)
		}
	}
	// Where 1/32 in would take half of a thin range away it is told finer.
	if got := TextThinSpan(500_000, 1_500_000, MM); got != "0.5 to 1.5 mm (0.02 to 0.059 in)" {
		t.Error(got)
	}
	if got := TextThinSpan(1_000_000, 2_000_000, MM); got != "1 to 2 mm (0.04 to 0.078 in)" {
		t.Error(got)
	}
	if got := TextThinSpan(1_230_000, 3_470_000, MM); got != "1.3 to 3.4 mm (1/16 to 1/8 in)" {
		t.Error(got)
	}
}

func TestTextWithin(t *testing.T) {
	for _, tt := range []struct {
		l, lo, hi Length
		u         Unit
		want      string
	}{
		{28 * Millimetre, 27 * Millimetre, 30 * Millimetre, MM, "28 mm (1 1/8 in)"},
		{28 * Millimetre, 26 * Millimetre, 28 * Millimetre, MM, "28 mm (1 1/16 in)"},
		{28 * Millimetre, 27_900_000, 28 * Millimetre, MM, "28 mm (1.102 in)"}, // 27.99 mm
		{29 * Millimetre, 28_600_000, 29 * Millimetre, In, "1.141 in (29 mm)"}, // 28.98 mm
		{27_160_000, 27_160_000, 27_200_000, In, "1.07 in (27.16 mm)"},         // 27.178 mm
	} {
		if got := tt.l.TextWithin(tt.lo, tt.hi, tt.u); got != tt.want {
			t.Errorf("%v from %v to %v: %q, want %q", tt.l, tt.lo, tt.hi, got, tt.want)
		}
	}
}
