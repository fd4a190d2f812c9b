package measure

import (
	"strings"
	"testing"
)

// A unit that stands alone prints what it prints with the other in brackets,
// without the brackets; a bound keeps to its side of the length.
func TestAlone(t *testing.T) {
	for n := Length(0); n < 60*Millimetre; n += 137_731 {
		for _, u := range []Unit{MM, In} {
			for name, say := range map[string]func(Unit) string{
				"Text": n.Text, "TextLeast": n.TextLeast, "TextMost": n.TextMost, "TextPlace": n.TextPlace, "SignedText": n.SignedText, "TextLess": n.TextLess,
				"TextSpan":   func(u Unit) string { return TextSpan(n, n+Millimetre, u) },
				"TextWithin": func(u Unit) string { return n.TextWithin(n, n+Millimetre, u) },
				"TextShort":  func(u Unit) string { have, need := TextShort(n, n+Millimetre/3, u); return have + "; " + need },
				"Toleranced": Toleranced{n, Millimetre / 5}.Text,
				"weight":     (AreaWeight(n.MM() * 10)).Text, "heat": Temperature(100 + n.MM()).TextMost, "pull": Force(n.MM()).TextLeast,
			} {
				both := say(u)
				for i := strings.Index(both, " ("); i >= 0; i = strings.Index(both, " (") {
					both = both[:i] + both[i+strings.Index(both[i:], ")")+1:]
				}
				if alone := say(u.Alone()); alone != both {
					t.Errorf("%s of %v in %v alone: %q, and %q", name, n, u, alone, both)
				}
			}
		}
		if thin, both := n.TextThin(MM.Alone()), n.TextThin(MM); thin+" (" != both[:strings.Index(both, " (")+2] {
			t.Errorf("thin %v: %q, and %q", n, thin, both)
		}
		// To 0.001 in: arithmetic.
		for name, x := range map[string]string{"nearest": n.TextThin(In.Alone()), "least": n.TextThinLeast(In.Alone()), "most": n.TextThinMost(In.Alone())} {
			l, err := ParseLength(x, NoUnit)
			off := l - n
			if err != nil || strings.Contains(x, "mm") || strings.Contains(x, "/") || name == "least" && (off < 0 || off >= Inch/1000) || name == "most" && (off > 0 || off <= -Inch/1000) || name == "nearest" && n > Inch/1000 && off.Abs() > Inch/2000 {
				t.Errorf("thin %v in inches alone, %s: %q, %v off, %v", n, name, x, off, err)
			}
		}
	}
	if got := (Toleranced{2_400_000, 200_000}).TextThin(In.Alone()); got != "0.094 in ± 0.008" { // 2.4 and 0.2 over 25.4
		t.Error(got)
	}
	if got := TextThinSpan(1_500_000, 2_600_000, In.Alone()); got != "0.06 to 0.102 in" {
		t.Error(got)
	}
	if u := In.Alone(); u.String() != "in" || !u.Is(In) || u.Is(MM) || !u.IsAlone() || u.System() != In || u.Or(MM) != u || In.Or(MM) != MM {
		t.Error(u)
	}
}
