package measure

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestParseLength(t *testing.T) {
	const mm, in = Millimetre, Inch
	tests := []struct {
		text string
		bare Unit
		want Length
		unit Unit
	}{
		{"28 mm", NoUnit, 28 * mm, MM},
		{"28mm", In, 28 * mm, MM},
		{"28 MM", NoUnit, 28 * mm, MM},
		{"28 millimetres", NoUnit, 28 * mm, MM},
		{"28 millimeter", NoUnit, 28 * mm, MM},
		{"2.8 cm", NoUnit, 28 * mm, MM},
		{"2.8 centimetres", NoUnit, 28 * mm, MM},
		{"0.6 m", NoUnit, 600 * mm, MM},
		{"1 metre", NoUnit, 1000 * mm, MM},
		{"10 m", NoUnit, MaxLength, MM},
		{"400 µm", NoUnit, 400 * Micrometre, MM}, // micro sign
		{"400 μm", NoUnit, 400 * Micrometre, MM}, // Greek mu
		{"400 microns", NoUnit, 400 * Micrometre, MM},
		{"1 1/8 in", NoUnit, 9 * in / 8, In},
		{`1-1/8"`, NoUnit, 9 * in / 8, In},
		{"1 1/8″", NoUnit, 9 * in / 8, In},
		{"1 1/8”", NoUnit, 9 * in / 8, In},
		{"1 1/8''", NoUnit, 9 * in / 8, In},
		{"1⅛ in", NoUnit, 9 * in / 8, In},
		{"1-⅛ in", NoUnit, 9 * in / 8, In},
		{"1 ⅛ in.", NoUnit, 9 * in / 8, In},
		{"1 1⁄8 in", NoUnit, 9 * in / 8, In}, // fraction slash
		{"1 1 / 8 in", NoUnit, 9 * in / 8, In},
		{"1 ⅟8 in", NoUnit, 9 * in / 8, In},
		{"9/8 in", NoUnit, 9 * in / 8, In},
		{"1.125 inch", NoUnit, 9 * in / 8, In},
		{"1.125inches", NoUnit, 9 * in / 8, In},
		{"5/8-inch", NoUnit, 5 * in / 8, In},
		{".5 in", NoUnit, in / 2, In},
		{"0.1 in", NoUnit, 2_540_000, In},
		{"2 ft 3 in", NoUnit, 27 * in, In},
		{"2 feet 3 1/2 inches", NoUnit, 55 * in / 2, In},
		{`2' 3"`, NoUnit, 27 * in, In},
		{`2'3½"`, NoUnit, 55 * in / 2, In},
		{"2′ 3″", NoUnit, 27 * in, In},
		{"1 yd 2 ft 3 in", NoUnit, 63 * in, In},
		{"1 yd 3 in", NoUnit, 39 * in, In},
		{"1/2 yd", NoUnit, 18 * in, In},
		{"2 yards", NoUnit, 72 * in, In},
		{"3 yds.", NoUnit, 108 * in, In},
		{"40L", NoUnit, in, MM},
		{"40 L", In, in, MM},
		{"40 ligne", NoUnit, in, MM},
		{"1 Ligne", NoUnit, 635_000, MM},
		{"40 lignes", NoUnit, in, MM},
		{"30-line", NoUnit, 3 * in / 4, MM},
		{"30 lines", NoUnit, 3 * in / 4, MM},
		{"22.5L", NoUnit, 14_287_500, MM},
		{"0 mm", NoUnit, 0, MM},
		{"  28\u00a0mm\t", NoUnit, 28 * mm, MM},        // no-break space
		{"28\u202fmm", NoUnit, 28 * mm, MM},            // narrow no-break space
		{"1\u20091/8\u2003in", NoUnit, 9 * in / 8, In}, // thin and em space
		{"1\u20111/8 in", NoUnit, 9 * in / 8, In},      // no-break hyphen
		{"24", In, 24 * in, In},
		{"24", MM, 24 * mm, MM},
		{"1 1/8", In, 9 * in / 8, In},
		{"010 mm", NoUnit, 10 * mm, MM}, // not octal
		{"08.50 mm", NoUnit, 8_500_000, MM},
		{"1 03/016 in", NoUnit, 19 * in / 16, In},
		{"0/08 in", NoUnit, 0, In},
		// Not whole nanometres: to the nearest, half-way up.
		{"1/3 in", NoUnit, 8_466_667, In},
		{"2/3 in", NoUnit, 16_933_333, In},
		{"0.0000004 mm", NoUnit, 0, MM},
		{"0.0000005 mm", NoUnit, 1, MM},
		{"1.23456749999999999999999999999 mm", NoUnit, 1_234_567, MM},
		{"1/128 in", NoUnit, 198_438, In}, // 198 437.5
	}
	for c, v := range vulgar {
		tests = append(tests, struct {
			text string
			bare Unit
			want Length
			unit Unit
		}{"1" + string(c) + " yd", NoUnit, Yard + (2*Yard*Length(v[0])+Length(v[1]))/(2*Length(v[1])), In})
	}
	for _, tt := range tests {
		got, unit, err := ParseLengthUnit(tt.text, tt.bare)
		if err != nil || got != tt.want || unit != tt.unit {
			t.Errorf("ParseLengthUnit(%q, %v) = %d, %v, %v; want %d, %v", tt.text, tt.bare, got, unit, err, tt.want, tt.unit)
		}
		plain, err := ParseLength(tt.text, tt.bare)
		tol, terr := ParseToleranced(tt.text, tt.bare)
		if plain != tt.want || err != nil || tol != (Toleranced{V: tt.want}) || terr != nil {
			t.Errorf("%q: ParseLength %v, %v and ParseToleranced %v, %v", tt.text, plain, err, tol, terr)
		}
	}
}

// An ounce of leather is 1/64 in thick.
// A leather dealer, "Leather thickness conversion chart"; a
// leatherworker's page of the same name: 2½ oz about 1.0 mm,
// 3 oz 1.2, 4 oz 1.6, 8 oz 1/8 in or 3.2.
func TestParseLeather(t *testing.T) {
	for text, want := range map[string]float64{"2 1/2 oz leather": 1.0, "3 oz leather": 1.2, "4 oz. leather": 1.6, "8 ounces leather": 3.2} {
		if got, err := ParseLength(text, NoUnit); err != nil || math.Abs(got.MM()-want) > 0.05 {
			t.Errorf("ParseLength(%q) = %v, %v; want about %v mm", text, got, err, want)
		}
	}
	if got, _ := ParseLength("8 oz leather", NoUnit); got != Inch/8 {
		t.Errorf("8 oz leather is %v, want 1/8 in", got)
	}
}

// refusal is a text that must be refused. A ‸ in text marks where.
type refusal struct{ text, reason, instead string }

// check parses the text of r and compares the error.
func (r refusal) check(t *testing.T, parse func(string) error) {
	t.Helper()
	text := strings.Replace(r.text, "‸", "", 1)
	want := &ParseError{Text: text, Offset: max(0, strings.Index(r.text, "‸")), Reason: r.reason, Instead: r.instead, Over: strings.Contains(r.reason, "longest is") || strings.Contains(r.reason, "out of range: the longest")}
	err := parse(text)
	var got *ParseError
	if !errors.As(err, &got) {
		t.Errorf("%q was taken: %v", text, err)
		return
	}
	if !strings.Contains(got.Reason, r.reason) {
		t.Errorf("%q: reason %q, want %q", text, got.Reason, r.reason)
	}
	want.Reason = got.Reason
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("%q (-want +got):\n%s", text, d)
	}
	// What is offered instead must be right, or at least only lack a unit.
	for _, s := range strings.FieldsFunc(strings.NewReplacer(" or ", "\n", ", ", "\n").Replace(got.Instead), func(r rune) bool { return r == '\n' }) {
		var e *ParseError
		if err := parse(s); errors.As(err, &e) && !strings.Contains(e.Reason, "no unit") {
			t.Errorf("%q: told to write %q, which is refused: %v", text, s, e)
		}
	}
}

func TestParseLengthRefusals(t *testing.T) {
	for _, r := range []refusal{
		{"‸", "nothing here", ""},
		{"‸  ", "nothing here", ""},
		{"28‸", "no unit", "28 mm or 28 in"},
		{"28 ‸mn", `no unit of length "mn"`, "28 mm"},
		{"1 1/8 ‸inchs", "no unit of length", "1 1/8 inch"},
		{"2 ft 3 ‸im", "no unit of length", "2 ft 3 in"},
		{"40 ‸linge", "no unit of length", "40 ligne"},
		{"5 ‸parsecs", "no unit of length", ""},
		{"5 ‸дюйм", "no unit of length", ""},
		{"40‸l", "digit 1", "40L"},
		{"0.6 ‸M", "small m", "0.6 m"},
		{"8 ‸oz", "leather", "8 oz leather"},
		{"2‸,5 mm", "comma", "2.5 mm"},
		{"‸,5 mm", "comma", "0.5 mm"},
		{"1‸,000 mm", "thousands", "1000 mm"},
		{"0‸,125 in", "comma", "0.125 in"},
		{"2 ft 3‸,5 in", "comma", "2 ft 3.5 in"},
		{"‸-3 mm", "negative", "3 mm"},
		{"‸−3 mm", "negative", "3 mm"},  // minus sign
		{"‸– ⅛ in", "negative", "⅛ in"}, // dash
		{"‸+3 mm", "begins with a number", ""},
		{"‸nan", "nan is not a number", ""},
		{"‸NaN mm", "nan is not a number", ""},
		{"‸inf", "inf is not a number", ""},
		{"‸-inf", "begins with a number", ""},
		{"‸Infinity", "not a number", ""},
		{"‸1/0 in", "divides by nothing", ""},
		{"1 ‸1/0 in", "divides by nothing", ""},
		{"1/ ‸in", "below the line", ""},
		{"1/2‸/3 in", "one whole number above", ""},
		{"1/2‸.5 in", "one whole number above", ""},
		{"1.5‸/2 in", "whole numbers above and below", ""},
		{"1.5 ‸1/8 in", "decimal and a fraction", ""},
		{"1 ‸9/8 in", "less than 1", "2 1/8 in"},
		{"1 ‸8/8 in", "less than 1", "2 in"},
		{"5‸. mm", "after the point", "5 mm"},
		{"1‸e3 mm", "exponent", ""},
		{"1‸E-3 mm", "exponent", ""},
		{"1‸_000 mm", "underscores", ""},
		{"0‸x10 mm", `no unit of length "x"`, ""},
		{"2 ft 3‸", "last number has no unit", "2 ft 3 in"},
		{"1 yd 2‸", "last number has no unit", "1 yd 2 ft"},
		{"1 m ‸20 cm", "only yards, feet and inches", ""},
		{"3 in ‸2 ft", "largest first", ""},
		{"3 in ‸2 in", "largest first", ""},
		{"25‸-28 mm", "not a range", ""},
		{"25 mm ‸– 28 mm", "not a range", ""},
		{"28 mm ‸-", "is not part of it", "28 mm"},
		{"28‸-", "is not part of it", "28"},
		{"28 mm ‸wide", `"wide" is not part of it`, "28 mm"},
		{"28 mm‸²", "is not part of it", "28 mm"},
		{"28 mm‸; rm -rf", "is not part of it", "28 mm"},
		{"28 mm‸ ± 2", "no tolerance", "28 mm"},
		{"‸about 28 mm", "begins with a number", ""},
		{"‸mm", "begins with a number", ""},
		{"‸２８ mm", "begins with a number", ""}, // full-width digits
		{"‸10.0000001 m", "longest is 10000 mm", ""},
		{"‸99999999999999999999 mm", "longest is 10000 mm", ""},
		{"‸9999999999999/3 yd", "longest is 393 11/16 in (10000 mm)", ""},
		{"‸" + strings.Repeat("9", 200) + " mm", "too long", ""},
	} {
		r.check(t, func(s string) error { _, err := ParseLength(s, NoUnit); return err })
	}
}

func TestParseLengthMax(t *testing.T) {
	if l, err := ParseLengthMax("1000 m", NoUnit, 1000*Metre); l != 1000*Metre || err != nil {
		t.Errorf("a spool of 1000 m: %v, %v", l, err)
	}
	if l, err := ParseLengthMax("61 mm", NoUnit, 60*Millimetre); l != 0 || err == nil {
		t.Errorf("61 mm of at most 60: %v, %v", l, err)
	}
}

func TestLengthOf(t *testing.T) {
	for _, tt := range []struct {
		x    float64
		bare Unit
		want Length
	}{
		{24, In, 24 * Inch}, {1.125, In, 9 * Inch / 8}, {0.1, In, 2_540_000}, {2.4, MM, 2_400_000},
		{0, MM, 0}, {math.Copysign(0, -1), MM, -1}, {1e-300, MM, 0}, {1e-7, In, 3},
		{-1, MM, -1}, {math.NaN(), MM, -1}, {math.Inf(1), MM, -1}, {math.Inf(-1), MM, -1}, {1e300, MM, -1}, {10_001, MM, -1}, {24, NoUnit, -1},
	} {
		got, err := LengthOf(tt.x, tt.bare)
		if tt.want < 0 {
			var e *ParseError
			if !errors.As(err, &e) || got != 0 {
				t.Errorf("LengthOf(%v, %v) = %v, %v; want an error", tt.x, tt.bare, got, err)
			}
		} else if got != tt.want || err != nil {
			t.Errorf("LengthOf(%v, %v) = %v, %v; want %v", tt.x, tt.bare, got, err, tt.want)
		}
	}
}

func TestParseToleranced(t *testing.T) {
	const mm, in = Millimetre, Inch
	for _, tt := range []struct {
		text string
		bare Unit
		want Toleranced
	}{
		{"2.4 mm ± 0.2", NoUnit, Toleranced{2_400_000, 200_000}},
		{"2.4 mm ± 0.2 mm", In, Toleranced{2_400_000, 200_000}},
		{"2.4mm±0.2", In, Toleranced{2_400_000, 200_000}},
		{"2.4 mm +/- 0.2", In, Toleranced{2_400_000, 200_000}},
		{"2.4 mm +- 0.2", In, Toleranced{2_400_000, 200_000}},
		{"2.4 mm ± 10 %", In, Toleranced{2_400_000, 240_000}},
		{"2.4 mm ± 10%", In, Toleranced{2_400_000, 240_000}},
		{"2.4 mm ± 100 %", In, Toleranced{2_400_000, 2_400_000}},
		{"2.4 mm ± 200 µm", In, Toleranced{2_400_000, 200_000}},
		{`1 1/8" ± 1/32`, MM, Toleranced{9 * in / 8, in / 32}},
		{"1 1/8 in ± 1 mm", MM, Toleranced{9 * in / 8, mm}},
		{"2 ft 3 in ± 1/4", MM, Toleranced{27 * in, in / 4}}, // the last unit
		{"28 ± 0.5 mm", In, Toleranced{28 * mm, mm / 2}},     // the value takes the tolerance's unit
		{"28 ± 0.5", MM, Toleranced{28 * mm, mm / 2}},
		{"1 ± 1/16", In, Toleranced{in, in / 16}},
		{"1 ± 10 %", In, Toleranced{in, in / 10}},
		{"40L ± 1", In, Toleranced{in, Ligne}},
		{"0 mm ± 0", MM, Toleranced{}},
	} {
		got, err := ParseToleranced(tt.text, tt.bare)
		if got != tt.want || err != nil {
			t.Errorf("ParseToleranced(%q, %v) = %v, %v; want %v", tt.text, tt.bare, got, err, tt.want)
		}
	}
	for _, r := range []refusal{
		{"2.4 mm ±‸", "tolerance follows", ""},
		{"2.4 mm ± ‸± 2", "a tolerance begins with a number", ""},
		{"2.4 mm ± 0‸,2", "comma", "2.4 mm ± 0.2"},
		{"2.4 mm ± ‸-0.2", "cannot be negative", "2.4 mm ± 0.2"},
		{"2.4 mm ± ‸11 m", "longest is 10000 mm", ""},
		{"2.4 mm ± ‸3", "more than the value", ""},
		{"2.4 mm ± ‸0.2 in", "more than the value", ""},
		{"2.4 mm ± ‸101 %", "more than the whole value", ""},
		{"2.4 mm ± 0.2 ‸mn", "no unit of length", "2.4 mm ± 0.2 mm"},
		{"2.4 mm ± 0.2 ‸± 0.1", "is not part of it", "2.4 mm ± 0.2"},
		{"2.4 mm ± 10 % ‸x", "is not part of it", "2.4 mm ± 10 %"},
		{"2.4 mm ‸roughly", "is not part of it", "2.4 mm"},
		{"28‸ ± 0.5", "no unit", "28 mm ± 0.5 or 28 in ± 0.5"},
	} {
		r.check(t, func(s string) error { _, err := ParseToleranced(s, NoUnit); return err })
	}
}

func TestParseUnit(t *testing.T) {
	for s, want := range map[string]Unit{"mm": MM, "in": In} {
		if u, err := ParseUnit(s); u != want || err != nil || u.String() != s {
			t.Errorf("ParseUnit(%q) = %v, %v", s, u, err)
		}
	}
	for s, instead := range map[string]string{"": "", "inches": "in", "cm": "mm", "IN": "in", "ligne": "mm", "metric": "", "im": "in"} {
		_, err := ParseUnit(s)
		var e *ParseError
		if !errors.As(err, &e) || e.Instead != instead {
			t.Errorf("ParseUnit(%q): %v; want to be told %q", s, err, instead)
		}
	}
	if NoUnit.String() != "" {
		t.Errorf("NoUnit is %q", NoUnit)
	}
}

func TestParseErrorText(t *testing.T) {
	for text, want := range map[string]string{
		"2,5 mm":                      `"2,5 mm": a comma is no decimal point here; write 2.5 mm`,
		`1-1/8" x`:                    `'1-1/8" x': "x" is not part of it; write 1-1/8"`,
		"5 mm\x1b[31m":                `"5 mm\x1b[31m": "\x1b[31m" is not part of it; write 5 mm`,
		"2,5\u202emm":                 `"2,5\u202emm": a comma is no decimal point here`,
		"2,5\u00a0mm":                 "\"2,5\u00a0mm\": a comma is no decimal point here; write 2.5 mm",
		"1/0 in":                      `"1/0 in": 1/0 divides by nothing`,
		"x" + strings.Repeat("é", 40): `"x` + strings.Repeat("é", 23) + `…": a length begins with a number`,
	} {
		_, err := ParseLength(text, NoUnit)
		if err == nil || err.Error() != want {
			t.Errorf("%q:\n got %v\nwant %s", text, err, want)
		}
	}
}

func TestRound(t *testing.T) {
	for _, tt := range []struct{ l, step, down, near, up Length }{
		{17, 5, 15, 15, 20}, {18, 5, 15, 20, 20}, {20, 5, 20, 20, 20}, {0, 5, 0, 0, 0},
		{-17, 5, -20, -15, -15}, {-18, 5, -20, -20, -15},
		{10, 4, 8, 12, 12}, {-10, 4, -12, -12, -8}, // half-way goes away from zero
		{17, 0, 17, 17, 17}, {17, -5, 17, 17, 17},
	} {
		if d, n, u := tt.l.RoundDown(tt.step), tt.l.RoundNearest(tt.step), tt.l.RoundUp(tt.step); d != tt.down || n != tt.near || u != tt.up {
			t.Errorf("%d by %d: down %d, nearest %d, up %d; want %d, %d, %d", tt.l, tt.step, d, n, u, tt.down, tt.near, tt.up)
		}
	}
}

func TestFromMM(t *testing.T) {
	for mm, want := range map[float64]Length{
		28.575: 28_575_000, -3: -3_000_000, 0.0000004: 0, 0.0000006: 1,
		math.Inf(1): math.MaxInt64, math.Inf(-1): math.MinInt64, 1e20: math.MaxInt64,
	} {
		if got := FromMM(mm); got != want {
			t.Errorf("FromMM(%v) = %d, want %d", mm, got, want)
		}
	}
	if got := FromMM(math.NaN()); got != 0 {
		t.Errorf("FromMM(NaN) = %d", got)
	}
}

func TestAbs(t *testing.T) {
	if Length(-3).Abs() != 3 || Length(3).Abs() != 3 {
		t.Error("Abs keeps the sign")
	}
}
