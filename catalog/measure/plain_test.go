package measure

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// samePlain holds the short way of reading a length to the general one: what
// it reads is the same in every bare unit, and what it leaves is not its own.
func samePlain(t interface{ Errorf(string, ...any) }, s string) (taken bool) {
	for _, bare := range []Unit{NoUnit, MM, In} {
		if l, u, rest, ok := plainLength(s, bareUnit(bare)); ok && rest == "" {
			taken = true
			if want, unit, err := readLength(s, bare, 1000*Metre*100); err != nil || l != want || u != unit {
				t.Errorf("%q, bare %v: plainly %d %v, in full %d %v, %v", s, bare, l, u, want, unit, err)
			}
		}
		if got, u, ok := plainToleranced(s, bareUnit(bare)); ok && got.Tol <= got.V {
			taken = true
			if want, unit, err := readToleranced(s, bare, 1000*Metre*100); err != nil || got != want || u != unit {
				t.Errorf("%q, bare %v: plainly %v %v, in full %v %v, %v", s, bare, got, u, want, unit, err)
			}
		}
	}
	return taken
}

func TestPlainLengths(t *testing.T) {
	for _, s := range []string{
		"28 mm", "2.8cm", "0.6 m", "1 1/8 in", `1-1/8"`, "3/8 in", "1.125 inch", "1/2 yd", "40L", "40 ligne", "24", "2.4 mm ± 0.2",
		"2.4 mm ± 0.2 mm", `1 1/8" ± 1/32`, "1/3 in", "2/3 mm", "99999.9999 yd", "99999 998/999 m", "0 mm", "080 mm", "1 3/016 in",
	} {
		if !samePlain(t, s) {
			t.Errorf("%q is not read plainly", s)
		}
	}
	for _, s := range []string{
		"", "mm", "1 1/0 in", "1 8/8 in", "1/0 in", "1 ± mm", "28 ± 0.5 mm", "2 ft 3 in", "40l", "0.6 M", "1e3 mm", "2,5 mm", "-3 mm", "28 mm x",
		"2.4 mm ± 10 %", "2.4 mm ± 3 mm", "1 and 1/8 in", "123456 mm", "0.12345 mm", "1 1 in", "1.5 1/8 in", "2.4 ± 0.2 ± 0.1", "3 oz", "1/8/2 in",
	} {
		samePlain(t, s)
	}
}

// Texts of all pieces of the grammar, right and wrong, read both ways.
func TestPlainIsTheGeneralReader(t *testing.T) {
	piece := rapid.SampledFrom([]string{"0", "1", "7", "24", "016", "12345", "99999", "3", "/", " ", " ", "-", ".", "±", "+/-", "mm", "cm", "in", `"`, "L", "l", "ft", "yd", "ligne", "m", "%", "'", "oz", "1/8", " 3/4", ".5"})
	taken := 0
	rapid.Check(t, func(t *rapid.T) {
		if samePlain(t, strings.Join(rapid.SliceOfN(piece, 1, 8).Draw(t, "pieces"), "")) {
			taken++
		}
	})
	if taken == 0 {
		t.Error("no text was read plainly")
	}
}
