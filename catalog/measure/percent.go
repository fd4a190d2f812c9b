package measure

import "strings"

// Percent is a share in hundredths: 3 is 3 %.
type Percent float64

// Fraction gives p as a part of one.
func (p Percent) Fraction() float64 { return float64(p) / 100 }

// String gives p to one decimal: 3 %.
func (p Percent) String() string { return decimal(float64(p), 1) + " %" }

// ParsePercent reads a share from 0 to 100 %: 3 %, 3%, 3 percent, or 3
// alone. The error is a *ParseError.
func ParsePercent(s string) (Percent, error) {
	p := scanner{s: s}
	n, err := p.start("a share")
	if err == nil {
		p.spaces()
		switch word := strings.ToLower(p.rest()); word {
		case "", "%", "percent", "per cent", "pc":
			if x := Percent(n.float()); x <= 100 {
				return x, nil
			}
			err = fail(n.at, "", "this is out of range: 0 to 100 %%")
		default:
			err = fail(p.i, s[n.at:n.end]+" %", "a share is in percent, not %s", quote(p.rest()))
		}
	}
	return 0, err.in(s)
}
