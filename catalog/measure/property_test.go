package measure

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// lengths are lengths a text may hold, the small and the round ones often.
var lengths = rapid.OneOf(
	rapid.Map(rapid.Int64Range(0, int64(MaxLength)), func(n int64) Length { return Length(n) }),
	rapid.Map(rapid.Int64Range(0, int64(5*Millimetre)), func(n int64) Length { return Length(n) }),
	rapid.Map(rapid.Int64Range(0, 2000), func(n int64) Length { return Length(n) * Inch / 64 }),
	rapid.Map(rapid.Int64Range(0, 2000), func(n int64) Length { return Length(n) * Millimetre / 2 }),
)

var eitherUnit = rapid.SampledFrom([]Unit{MM, In})

// What is printed in full is read back as the same length.
func TestExactRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, u, bare := lengths.Draw(t, "l"), eitherUnit.Draw(t, "u"), eitherUnit.Draw(t, "bare")
		text := l.Exact(u)
		if back, unit, err := ParseLengthUnit(text, bare); back != l || unit != u || err != nil {
			t.Fatalf("%d nm is printed as %q and read as %d in %v, %v", l, text, back, unit, err)
		}
		tol := Toleranced{V: l, Tol: Length(rapid.Int64Range(0, int64(l)).Draw(t, "tol"))}
		if back, err := ParseToleranced(tol.Exact(u), bare); back != tol || err != nil {
			t.Fatalf("%#v is printed as %q and read as %#v, %v", tol, tol.Exact(u), back, err)
		}
	})
}

// What is printed for a person is near: within half of its last step.
func TestTextIsNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := lengths.Draw(t, "l")
		for _, tt := range []struct {
			text string
			by   Length
		}{
			{l.Short(MM), Millimetre / 4}, {l.Short(In), Inch / 32},
			{l.ShortFine(MM), Millimetre / 20}, {l.ShortFine(In), Inch / 128},
		} {
			back, err := ParseLengthMax(tt.text, NoUnit, 2*MaxLength)
			if err != nil || (back-l).Abs() > tt.by {
				t.Fatalf("%v is printed as %s: %v, %v", l, tt.text, back, err)
			}
			if (back == 0) != (l == 0) {
				t.Fatalf("%v is printed as %s", l, tt.text)
			}
		}
		for _, u := range []Unit{MM, In} {
			if both := l.Short(u) + " (" + l.Short(u.other()) + ")"; l.Text(u) != both {
				t.Fatalf("%q is not %q", l.Text(u), both)
			}
			if neg := (-l).Text(u); l > 0 && neg != "-"+strings.Replace(l.Text(u), "(", "(-", 1) {
				t.Fatalf("%q and %q", neg, l.Text(u))
			}
		}
	})
}

// n steps of a trade fraction are exactly n times as long as one.
func TestNoDrift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 200).Draw(t, "n")
		unit := rapid.SampledFrom([]string{"1/64 in", "1/32 in", "1/16 in", "1/8 in", "1/4 in", "1/2 in", "1 ligne", "0.5 mm", "0.1 mm", "0.01 in"}).Draw(t, "unit")
		one, err := ParseLength(unit, NoUnit)
		if err != nil {
			t.Fatal(err)
		}
		var sum Length
		for range n {
			sum += one
		}
		number, name, _ := strings.Cut(unit, " ")
		r, _ := new(big.Rat).SetString(number)
		r.Mul(r, big.NewRat(int64(n), 1))
		all, err := ParseLength(r.RatString()+" "+name, NoUnit)
		if all != sum || err != nil {
			t.Fatalf("%d times %s is %v, but %s %s is %v, %v", n, unit, sum, r.RatString(), name, all, err)
		}
	})
}

// Mixed numbers are read exactly, by other arithmetic than the parser's.
func TestMixedNumbers(t *testing.T) {
	sizes := map[string]int64{"mm": 1e6, "cm": 1e7, "in": 254e5, "ft": 3048e5, "L": 635e3}
	rapid.Check(t, func(t *rapid.T) {
		w, a, b := rapid.Int64Range(0, 20).Draw(t, "whole"), rapid.Int64Range(0, 99).Draw(t, "top"), rapid.Int64Range(1, 100).Draw(t, "bottom")
		a %= b
		unit := rapid.SampledFrom([]string{"mm", "cm", "in", "ft", "L"}).Draw(t, "unit")
		gap := rapid.SampledFrom([]string{" ", "-", "  ", "\u00a0"}).Draw(t, "gap")
		text := fmt.Sprintf("%d%s%d/%d %s", w, gap, a, b, unit)
		got, err := ParseLength(text, NoUnit)
		// (w + a/b)·size, rounded half up, in integers.
		size := sizes[unit]
		want := (2*(w*b+a)*size + b) / (2 * b)
		if int64(got) != want || err != nil {
			t.Fatalf("%q is %d, %v; want %d", text, got, err, want)
		}
	})
}

func TestRounding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64Range(-int64(MaxLength), int64(MaxLength)).Draw(t, "l"))
		step := Length(rapid.Int64Range(1, int64(Inch)).Draw(t, "step"))
		down, nearest, up := l.RoundDown(step), l.RoundNearest(step), l.RoundUp(step)
		if down%step != 0 || nearest%step != 0 || up%step != 0 {
			t.Fatalf("%v, %v, %v are no multiples of %v", down, nearest, up, step)
		}
		if down > l || l-down >= step || up < l || up-l >= step {
			t.Fatalf("%v lies not between %v and %v", l, down, up)
		}
		if 2*(nearest-l).Abs() > step {
			t.Fatalf("%v is not nearest to %v", nearest, l)
		}
		if (-l).RoundNearest(step) != -nearest {
			t.Fatalf("%v and its opposite round differently", l)
		}
	})
}

// Two lengths that differ never read the same in one message.
func TestApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, u := lengths.Draw(t, "a"), eitherUnit.Draw(t, "u")
		b := a + Length(rapid.Int64Range(-int64(min(a, Millimetre)), int64(Millimetre)).Draw(t, "apart"))
		if textA, textB := TextApart(a, b, u); (textA == textB) != (a == b) {
			t.Fatalf("%v and %v read %s and %s", a, b, textA, textB)
		}
	})
}

// Thread sizes come back from every system.
func TestThreadRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := LinearDensity(rapid.Float64Range(5, 1000).Draw(t, "tex"))
		for form, n := range map[string]float64{
			"Tex %f": d.Tex(), "%f dtex": d.Dtex(), "%f den": d.Denier(), "Nm %f": d.Nm(), "Ne %f": d.Ne(), "Tkt %f": d.Tkt(), "cotton Tkt %f": d.CottonTkt(),
		} {
			text := fmt.Sprintf(strings.Replace(form, "%f", "%.12f", 1), n)
			if back, err := ParseLinearDensity(text); err != nil || !near(back.Tex(), d.Tex(), 1e-9*d.Tex()) {
				t.Fatalf("Tex %v is %s, read as Tex %v, %v", d.Tex(), text, back.Tex(), err)
			}
		}
	})
}
