package measure

import (
	"errors"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// seeds are texts with every piece of syntax, right and wrong.
var seeds = []string{
	"28 mm", "2.8 cm", "0.6 m", "400 µm", "1 1/8 in", `1-1/8"`, "1⅛ in", "⅟8 in", "1.125 inch", "2 ft 3 in", `5'6"`, "1/2 yd", "40L", "30-line",
	"8 oz leather", "2.4 mm ± 0.2", "2.4 mm +/- 10 %", "28 ± 0.5 mm", "2,5 mm", "1,000 mm", "-3 mm", "−3 mm", "nan", "inf", "", " ", "1/0 in", "0/08", "080/1", "1e3 mm",
	"620 g/m2", "18.3 oz per sq yd", "19 oz/yd run at 56 in", "duck no. 10", "duck 2/0", "12 oz", "İ duck", "K at 5 in",
	"Tex 40", "T-40", "Ne 40/2", "cotton Tkt 40", "No. 50", "#50", "40s/2", "Nm 90", "nm 90", "90/14", "90/16", "14/90", "US 14",
	"150 °C", "300 F", "2 dots", "15 lbf", "60 lb", "3 %", "5 mm\x1b[2J", "\xff", "1\u2028/8 in", "2,5\u202emm",
}

// checkError holds what every error of the package promises.
func checkError(t *testing.T, text string, err error) {
	t.Helper()
	var e *ParseError
	if !errors.As(err, &e) {
		t.Fatalf("%q: %T is no *ParseError", text, err)
	}
	if e.Text != text {
		t.Errorf("%q: Text is %q", text, e.Text)
	}
	if e.Offset < 0 || e.Offset > len(text) {
		t.Errorf("%q: Offset %d is outside", text, e.Offset)
	} else if utf8.ValidString(text) && e.Offset < len(text) && !utf8.RuneStart(text[e.Offset]) {
		t.Errorf("%q: Offset %d is inside a character", text, e.Offset)
	}
	if e.Reason == "" {
		t.Errorf("%q: no reason", text)
	}
	for _, s := range []string{e.Reason, e.Instead} {
		if strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }) {
			t.Errorf("%q: %q cannot be printed", text, s)
		}
	}
	if strings.ContainsFunc(e.Error(), unicode.IsControl) {
		t.Errorf("%q: control characters in %q", text, e.Error())
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		samePlain(t, s)
		for _, bare := range []Unit{NoUnit, MM, In} {
			l, unit, err := ParseLengthUnit(s, bare)
			if err != nil {
				checkError(t, s, err)
			} else {
				if l < 0 || l > MaxLength || unit == NoUnit {
					t.Errorf("%q: %v in %q", s, l, unit)
				}
				if back, err := ParseLength(l.Exact(unit), NoUnit); back != l || err != nil {
					t.Errorf("%q: %v is printed as %s and read as %v, %v", s, l, l.Exact(unit), back, err)
				}
			}
			tol, terr := ParseToleranced(s, bare)
			if terr != nil {
				checkError(t, s, terr)
			} else if tol.Tol < 0 || tol.Tol > tol.V {
				t.Errorf("%q: tolerance of %v", s, tol)
			}
			if err == nil && (terr != nil || tol != Toleranced{V: l}) {
				t.Errorf("%q is the length %v but with a tolerance %v, %v", s, l, tol, terr)
			}
		}
	})
}

func FuzzConvert(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, parse := range []func(string) error{
			func(s string) error { _, err := ParseAreaWeight(s); return err },
			func(s string) error { _, err := ParseLinearDensity(s); return err },
			func(s string) error { _, err := ParseNeedleSize(s); return err },
			func(s string) error { _, err := ParseTemperature(s); return err },
			func(s string) error { _, err := ParseForce(s); return err },
			func(s string) error { _, err := ParsePercent(s); return err },
			func(s string) error { _, err := ParseUnit(s); return err },
		} {
			if err := parse(s); err != nil {
				checkError(t, s, err)
			}
		}
		c, err := Convert(s)
		if err != nil {
			checkError(t, s, err)
			return
		}
		if len(c.Values) == 0 || c.Kind == "" {
			t.Errorf("%q: nothing came of it", s)
		}
		for _, v := range c.Values {
			if v.Key == "" || v.Text == "" || !(v.Value >= 0 && v.Value < 1e16) {
				t.Errorf("%q: %+v", s, v)
			}
		}
	})
}

// What is far too long is refused before it costs anything.
func TestTooLong(t *testing.T) {
	text := strings.Repeat("1", 100_000)
	for name, err := range map[string]error{
		"length":      second(ParseLength(text, MM)),
		"tolerance":   second(ParseToleranced(text, MM)),
		"weight":      second(ParseAreaWeight(text)),
		"thread":      second(ParseLinearDensity(text)),
		"temperature": second(ParseTemperature(text)),
		"force":       second(ParseForce(text)),
		"share":       second(ParsePercent(text)),
		"quantity":    second(Convert(text)),
	} {
		if err == nil || !strings.Contains(err.Error(), "too long") || len(err.Error()) > 200 {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func second[T any](_ T, err error) error { return err }
