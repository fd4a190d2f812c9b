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

// printings are the ways a length is printed, each with the way it goes and
// the step it is printed to at that length in a unit.
var printings = []struct {
	name  string
	print func(Length, Unit) string
	way   way
	style style
}{
	{"Text", Length.Text, nearest, plain},
	{"TextLeast", Length.TextLeast, least, plain},
	{"TextMost", Length.TextMost, most, plain},
	{"TextThin", func(l Length, _ Unit) string { return l.TextThin(MM) }, nearest, thin},
	{"TextThinLeast", func(l Length, _ Unit) string { return l.TextThinLeast(MM) }, least, thin},
	{"TextThinMost", func(l Length, _ Unit) string { return l.TextThinMost(MM) }, most, thin},
}

// stepAt is the step that design and documentation give for a length.
func stepAt(l Length, u Unit, k style) Length {
	switch {
	case u == In && l >= Inch/2:
		return Inch / 16
	case u == In && l >= Inch/32:
		return Inch / 32
	case u == In:
		return Inch / 1000
	case l >= 10*Millimetre:
		return Millimetre / 2
	case l >= Millimetre || k == plain && l >= Millimetre/10:
		return Millimetre / 10
	}
	return Millimetre / 100
}

// figures are the two figures of a text in two units.
func figures(t *rapid.T, text string) [2]string {
	a, b, ok := strings.Cut(text, " (")
	b, closed := strings.CutSuffix(b, ")")
	if !ok || !closed {
		t.Fatalf("%q has not both units", text)
	}
	return [2]string{a, b}
}

// What is printed for a person is near, within half of its step; a least is
// not below and a most not above what it stands for; each unit on its own.
// Nothing has more than three figures after the point.
func TestPrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, u := lengths.Draw(t, "l"), eitherUnit.Draw(t, "u")
		for _, p := range printings {
			text := p.print(l, u)
			first := u
			if p.style == thin {
				first = MM
			}
			for i, figure := range figures(t, text) {
				unit := [2]Unit{first, first.other()}[i]
				back, err := ParseLengthMax(figure, NoUnit, 2*MaxLength)
				if err != nil || !strings.HasSuffix(figure, " "+unit.String()) {
					t.Fatalf("%v is printed by %s as %q: %v", l, p.name, text, err)
				}
				step := stepAt(l, unit, p.style)
				tiny := l > 0 && l < step && back == step // something is never nothing
				switch {
				case p.way == nearest && 2*(back-l).Abs() > step && !tiny,
					p.way == least && (back < l || back-l >= step),
					p.way == most && (back > l || l-back >= step):
					t.Fatalf("%v is printed by %s as %q", l, p.name, text)
				}
				if (back == 0) != (l == 0) && p.way != most {
					t.Fatalf("%v is printed by %s as %q", l, p.name, text)
				}
				if _, part, ok := strings.Cut(figure, "."); ok && len(strings.TrimRight(part, " inm")) > 3 {
					t.Fatalf("%q has more than three figures after the point", text)
				}
			}
			if neg := p.print(-l, u); p.way == nearest && l > 0 && neg != "-"+strings.Replace(text, "(", "(-", 1) {
				t.Fatalf("%q and %q", neg, text)
			}
		}
		for _, w := range []Unit{MM, In} {
			if both := l.Short(w) + " (" + l.Short(w.other()) + ")"; l.Text(w) != both {
				t.Fatalf("%q is not %q", l.Text(w), both)
			}
		}
	})
}

// A proposal's value is what its text says, and saying it again changes
// nothing.
func TestPrintedValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, u := lengths.Draw(t, "l"), eitherUnit.Draw(t, "u")
		for _, tt := range []struct {
			value Length
			text  string
		}{
			{l.Printed(u), l.Short(u)}, {l.Least(u), l.ShortLeast(u)}, {l.Most(u), l.ShortMost(u)},
			{l.ThinLeast(), figures(t, l.TextThinLeast(MM))[0]}, {l.ThinMost(), figures(t, l.TextThinMost(MM))[0]},
		} {
			if back, err := ParseLengthMax(tt.text, NoUnit, 2*MaxLength); back != tt.value || err != nil {
				t.Fatalf("%v: the value is %v, the text %s: %v", l, tt.value, tt.text, err)
			}
		}
		for _, v := range []Length{l.Printed(u), l.Least(u), l.Most(u)} {
			if v.Least(u) != v || v.Most(u) != v || v.Printed(u) != v {
				t.Fatalf("%v is printed, and again %v, %v, %v", v, v.Least(u), v.Printed(u), v.Most(u))
			}
		}
	})
}

// A longer length never reads shorter.
func TestPrintedInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, u := lengths.Draw(t, "a"), eitherUnit.Draw(t, "u")
		b := a + Length(rapid.Int64Range(0, int64(Millimetre)).Draw(t, "more"))
		for _, k := range []style{plain, thin} {
			for _, w := range []way{nearest, least, most} {
				if a.printed(u, k, w) > b.printed(u, k, w) {
					t.Fatalf("%v and %v read %v and %v", a, b, a.printed(u, k, w), b.printed(u, k, w))
				}
			}
		}
	})
}

// A place is printed to three figures, and exactly where it is a mark of its
// ruler.
func TestPlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, u := lengths.Draw(t, "l"), eitherUnit.Draw(t, "u")
		back, err := ParseLengthMax(figures(t, l.TextPlace(u))[0], NoUnit, 2*MaxLength)
		step := Inch / 1000
		if u == MM {
			step = Millimetre / 1000
		}
		mark := l%step == 0 || u == In && l%(Inch/64) == 0
		if err != nil || (back-l).Abs() > step || mark && back != l {
			t.Fatalf("%v is the place %s", l, l.TextPlace(u))
		}
		if l.ShortPlace(u) != figures(t, l.TextPlace(u))[0] {
			t.Fatalf("%s and %s", l.ShortPlace(u), l.TextPlace(u))
		}
	})
}

// A range that is printed lies inside, if it can.
func TestSpans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo, u := lengths.Draw(t, "lo"), eitherUnit.Draw(t, "u")
		hi := lo + Length(rapid.Int64Range(int64(Inch)/8, int64(Inch)).Draw(t, "more"))
		for _, f := range figures(t, TextSpan(lo, hi, u)) {
			from, to, ok := strings.Cut(f, " to ")
			if !ok {
				from, to = f, f
			} else {
				from += to[strings.LastIndexByte(to, ' '):]
			}
			a, errA := ParseLengthMax(from, NoUnit, 2*MaxLength)
			b, errB := ParseLengthMax(to, NoUnit, 2*MaxLength)
			if errA != nil || errB != nil || a < lo || b > hi || a > b {
				t.Fatalf("%v to %v reads %s", lo, hi, f)
			}
		}
	})
}

// Weights, heats and forces: a least holds, a most holds, the rest is near.
func TestOtherLeastMost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := eitherUnit.Draw(t, "u")
		check := func(what, text string, x float64, w way, by [2]float64, parse func(string) (float64, error)) {
			for _, f := range figures(t, text) {
				back, err := parse(f)
				step := max(by[0], by[1])
				switch {
				case err != nil && strings.Contains(err.Error(), "out of range"):
				case err != nil, w == least && back < x-1e-6, w == most && back > x+1e-6, (back-x)*(back-x) > step*step*1.01:
					t.Fatalf("%s %v is printed %s: %v, %v", what, x, text, back, err)
				}
			}
		}
		w := AreaWeight(rapid.Float64Range(2, 4000).Draw(t, "weight"))
		weight := func(s string) (float64, error) { v, err := ParseAreaWeight(s); return float64(v), err }
		check("weight", w.TextLeast(u), float64(w), least, [2]float64{1, 3.4}, weight)
		check("weight", w.TextMost(u), float64(w), most, [2]float64{1, 3.4}, weight)
		check("weight", w.Text(u), float64(w), nearest, [2]float64{0.5, 1.7}, weight)
		h := Temperature(rapid.Float64Range(20, 290).Draw(t, "heat"))
		heat := func(s string) (float64, error) { v, err := ParseTemperature(s); return float64(v), err }
		check("heat", h.TextLeast(u), float64(h), least, [2]float64{10, 3}, heat)
		check("heat", h.TextMost(u), float64(h), most, [2]float64{10, 3}, heat)
		check("heat", h.Text(u), float64(h), nearest, [2]float64{5, 1.5}, heat)
		check("heat", h.TextGiven(u), float64(h), nearest, [2]float64{0.5, 1.5}, heat)
		f := Force(rapid.Float64Range(1, 900).Draw(t, "force"))
		force := func(s string) (float64, error) { v, err := ParseForce(s); return float64(v), err }
		check("force", f.TextLeast(u), float64(f), least, [2]float64{0.1, 0.45}, force)
		check("force", f.Text(u), float64(f), nearest, [2]float64{0.05, 0.23}, force)
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

// Two lengths that differ never read the same in one message, and nothing in
// it has more than three figures after the point.
func TestApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, u := lengths.Draw(t, "a"), eitherUnit.Draw(t, "u")
		b := a + Length(rapid.Int64Range(-int64(min(a, Millimetre)), int64(Millimetre)).Draw(t, "apart"))
		for name, pair := range map[string]func() (string, string){
			"TextApart":     func() (string, string) { return TextApart(a, b, u) },
			"TextThinApart": func() (string, string) { return TextThinApart(a, b, MM) },
		} {
			textA, textB := pair()
			if (textA == textB) != (a == b) {
				t.Fatalf("%s: %v and %v read %s and %s", name, a, b, textA, textB)
			}
			bounds(t, textA, (b - a).Abs())
		}
		if a == b {
			return
		}
		have, want := min(a, b), max(a, b)
		h, n := TextShort(have, want, u)
		bounds(t, h, want-have)
		needs, err := ParseLengthMax(figures(t, n)[0], NoUnit, 2*MaxLength)
		if err != nil || needs < want {
			t.Fatalf("%v is short of %v: %s, %s", have, want, h, n)
		}
		if !strings.HasPrefix(h, "less") {
			if reads, err := ParseLengthMax(figures(t, h)[0], NoUnit, 2*MaxLength); err != nil || reads >= needs {
				t.Fatalf("%v is short of %v: %s, %s", have, want, h, n)
			}
		}
		h, n = TextOver(want, have, u)
		bounds(t, h, want-have)
		limit, err := ParseLengthMax(figures(t, n)[0], NoUnit, 2*MaxLength)
		if err != nil || limit > have {
			t.Fatalf("%v is over %v: %s, %s", want, have, h, n)
		}
		if !strings.HasPrefix(h, "less") {
			if reads, err := ParseLengthMax(figures(t, h)[0], NoUnit, 2*MaxLength); err != nil || reads <= limit {
				t.Fatalf("%v is over %v: %s, %s", want, have, h, n)
			}
		}
	})
}

// bounds finds that a bound in words is above the difference, in each unit,
// and no farther above than one step.
func bounds(t *rapid.T, text string, d Length) {
	text, ok := strings.CutPrefix(text, "less than ")
	if !ok {
		return
	}
	text, _, _ = strings.Cut(strings.Replace(text, " over ", " under ", 1), " under ")
	for _, f := range figures(t, text) {
		bound, unit, err := ParseLengthUnit(f, NoUnit)
		if step := max(stepAt(bound, unit, thin), Inch/32); err != nil || bound <= d || bound > d+step {
			t.Fatalf("a difference of %v is said to be %s", d, text)
		}
		if _, part, ok := strings.Cut(f, "."); ok && len(strings.TrimRight(part, " inm")) > 3 {
			t.Fatalf("%q", text)
		}
	}
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
