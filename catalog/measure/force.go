package measure

import (
	"strings"

	"placketeer/catalog/text"
)

// Force is in newtons.
type Force float64

// Units of force.
const (
	PoundForce    Force = 4.4482216152605
	KilogramForce Force = 9.80665
	strongest     Force = 10_000
)

// N gives f in newtons.
func (f Force) N() float64 { return float64(f) }

// Lbf gives f in pounds-force.
func (f Force) Lbf() float64 { return float64(f / PoundForce) }

// Kgf gives f in kilograms-force.
func (f Force) Kgf() float64 { return float64(f / KilogramForce) }

// String gives f in newtons.
func (f Force) String() string { return f.Short(MM) }

// Text gives f in both units, the one of u first: 70 N (15.7 lbf).
func (f Force) Text(u Unit) string { return f.both(u, nearest) }

// Short gives f in the unit of u, to one decimal.
func (f Force) Short(u Unit) string { return f.one(u, nearest) }

// TextLeast gives a least force: as Text, but rounded up, each unit on its
// own: 70 N (15.8 lbf).
func (f Force) TextLeast(u Unit) string { return f.both(u, least) }

func (f Force) both(u Unit, w way) string {
	return u.beside(func(u Unit) string { return f.one(u, w) })
}

func (f Force) one(u Unit, w way) string {
	if u.Is(In) {
		return decimal(rounded(f.Lbf(), 0.1, w), 1) + " lbf"
	}
	return decimal(rounded(f.N(), 0.1, w), 1) + " N"
}

// ParseForce reads a force up to 10 000 N: 70 N, 15 lbf, 7.72 kgf, 1050 cN
// (the strength of a thread). Pounds and kilograms alone are weights and are
// refused. The error is a *ParseError.
func ParseForce(s string) (Force, error) {
	f, err := parseForce(s)
	if err != nil {
		return 0, err.in(s)
	}
	return f, nil
}

func parseForce(s string) (Force, *ParseError) {
	p := scanner{s: s}
	n, err := p.start("a force")
	if err != nil {
		return 0, err
	}
	p.spaces()
	at, head := p.i, s[n.at:n.end]
	f := Force(n.float())
	switch word := strings.ToLower(p.rest()); word {
	case "n", "newton", "newtons":
	case "cn":
		f /= 100
	case "lbf", "lbsf":
		f *= PoundForce
	case "kgf":
		f *= KilogramForce
	case "lb", "lbs", "lb.", "lbs.", "pound", "pounds":
		return 0, fail(at, head+" lbf", "pounds are a weight; a pull is in pounds-force")
	case "kg", "kgs", "kilo", "kilos":
		return 0, fail(at, head+" kgf", "kilograms are a weight; a pull is in kilograms-force or newtons")
	case "":
		return 0, fail(n.end, either(head+" N", head+" lbf"), "the number has no unit")
	default:
		near := text.Nearest(word, []string{"newton", "newtons", "lbf", "kgf"})
		if strings.HasPrefix(near, "newton") {
			near = "N"
		}
		if near != "" {
			near = head + " " + near
		}
		return 0, fail(at, near, "forces are in N, lbf or kgf, not %s", quote(p.rest()))
	}
	if f > strongest {
		return 0, fail(n.at, "", "this is out of range: the strongest is %s", strongest)
	}
	return f, nil
}
