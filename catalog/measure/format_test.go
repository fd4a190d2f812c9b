package measure

import (
	"math"
	"testing"
)

func TestText(t *testing.T) {
	for _, tt := range []struct {
		l                    Length
		in, mm, fineIn, fine string
	}{
		{11 * Inch / 8, "1 3/8 in (35 mm)", "35 mm (1 3/8 in)", "1 3/8 in (34.9 mm)", "34.9 mm (1 3/8 in)"},
		{35 * Millimetre, "1 3/8 in (35 mm)", "35 mm (1 3/8 in)", "1 3/8 in (35 mm)", "35 mm (1 3/8 in)"},
		{9 * Inch / 8, "1 1/8 in (28.5 mm)", "28.5 mm (1 1/8 in)", "1 1/8 in (28.6 mm)", "28.6 mm (1 1/8 in)"},
		{Inch / 2, "1/2 in (12.5 mm)", "12.5 mm (1/2 in)", "1/2 in (12.7 mm)", "12.7 mm (1/2 in)"},
		{60 * Inch, "60 in (1524 mm)", "1524 mm (60 in)", "60 in (1524 mm)", "1524 mm (60 in)"},
		{0, "0 in (0 mm)", "0 mm (0 in)", "0 in (0 mm)", "0 mm (0 in)"},
		// 2.4 mm of cloth is a hair over 3/32 in.
		{2_400_000, "1/8 in (2.5 mm)", "2.5 mm (1/8 in)", "3/32 in (2.4 mm)", "2.4 mm (3/32 in)"},
		{5_200_000, "3/16 in (5 mm)", "5 mm (3/16 in)", "13/64 in (5.2 mm)", "5.2 mm (13/64 in)"},
		{300_000, "0.012 in (0.5 mm)", "0.5 mm (0.012 in)", "0.012 in (0.3 mm)", "0.3 mm (0.012 in)"},
		{248_000, "0.01 in (0.25 mm)", "0.25 mm (0.01 in)", "0.01 in (0.25 mm)", "0.25 mm (0.01 in)"},
		{999_000, "1/16 in (1 mm)", "1 mm (1/16 in)", "0.039 in (1 mm)", "1 mm (0.039 in)"},
		// What would be nothing is told to the last digit it needs.
		{4_000, "0.00015748 in (0.004 mm)", "0.004 mm (0.00015748 in)", "0.00015748 in (0.004 mm)", "0.004 mm (0.00015748 in)"},
		{-11 * Inch / 8, "-1 3/8 in (-35 mm)", "-35 mm (-1 3/8 in)", "-1 3/8 in (-34.9 mm)", "-34.9 mm (-1 3/8 in)"},
	} {
		for _, got := range []struct{ what, got, want string }{
			{"Text(In)", tt.l.Text(In), tt.in},
			{"Text(MM)", tt.l.Text(MM), tt.mm},
			{"Text(NoUnit)", tt.l.Text(NoUnit), tt.mm},
			{"TextFine(In)", tt.l.TextFine(In), tt.fineIn},
			{"TextFine(MM)", tt.l.TextFine(MM), tt.fine},
			{"Short", tt.l.Short(In) + " (" + tt.l.Short(MM) + ")", tt.in},
			{"ShortFine", tt.l.ShortFine(MM) + " (" + tt.l.ShortFine(In) + ")", tt.fine},
		} {
			if got.got != got.want {
				t.Errorf("%v: %s = %q, want %q", tt.l, got.what, got.got, got.want)
			}
		}
	}
}

func TestSignedText(t *testing.T) {
	for _, tt := range []struct {
		l       Length
		in, mm  string
		shortMM string
	}{
		{Inch / 8, "+1/8 in (+3 mm)", "+3 mm (+1/8 in)", "+3 mm"},
		{-Inch / 8, "-1/8 in (-3 mm)", "-3 mm (-1/8 in)", "-3 mm"},
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
		t                            Toleranced
		in, mm, fineIn, fine, exactU string
	}{
		{Toleranced{2_400_000, 200_000}, "1/8 in ± 0.008 (2.5 mm)", "2.5 mm ± 0.2 (1/8 in)",
			"0.094 in ± 0.008 (2.4 mm)", "2.4 mm ± 0.2 (3/32 in)", "2.4 mm ± 0.2 mm"},
		{Toleranced{2_400_000, 0}, "1/8 in (2.5 mm)", "2.5 mm (1/8 in)", "3/32 in (2.4 mm)", "2.4 mm (3/32 in)", "2.4 mm"},
		{Toleranced{11 * Inch / 8, Inch / 16}, "1 3/8 in ± 1/16 (35 mm)", "35 mm ± 1.6 (1 3/8 in)",
			"1.375 in ± 0.063 (34.9 mm)", "34.9 mm ± 1.6 (1 3/8 in)", "34.925 mm ± 1.5875 mm"},
		{Toleranced{1_000_000, 5_000}, "1/16 in ± 0.00019685 (1 mm)", "1 mm ± 0.01 (1/16 in)",
			"0.039 in ± 0.001 (1 mm)", "1 mm ± 0.01 (0.039 in)", "1 mm ± 0.005 mm"},
	} {
		for _, got := range []struct{ what, got, want string }{
			{"Text(In)", tt.t.Text(In), tt.in}, {"Text(MM)", tt.t.Text(MM), tt.mm},
			{"TextFine(In)", tt.t.TextFine(In), tt.fineIn}, {"TextFine(MM)", tt.t.TextFine(MM), tt.fine},
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
		{Inch, Inch + Inch/64, In, "1 in (25.4 mm)", "1 1/64 in (25.8 mm)"},
		{28 * Millimetre, 28_100_000, MM, "28 mm (1 7/64 in)", "28.1 mm (1 7/64 in)"},
		{28 * Millimetre, 28_001_000, MM, "28 mm", "28.001 mm"},
		{4 * Millimetre, 4_110_000, In, "0.157 in", "0.162 in"},
		{4 * Millimetre, 4_040_000, MM, "4 mm", "4.04 mm"},
	} {
		if a, b := TextApart(tt.a, tt.b, tt.u); a != tt.textA || b != tt.textB {
			t.Errorf("TextApart(%v, %v): %q, %q; want %q, %q", tt.a, tt.b, a, b, tt.textA, tt.textB)
		}
	}
}
