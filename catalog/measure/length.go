// Package measure holds the quantities of the trade and their text forms:
// lengths, cloth weights, thread sizes, needle sizes, temperatures, forces
// and shares.
//
// Lengths are whole nanometres and never drift. The other quantities are
// floating point, in the unit each type names. Every Parse function returns
// a *ParseError that says what is wrong, where, and what to write instead.
package measure

import (
	"math"

	"placketeer/catalog/text"
)

// Length is a length in nanometres. 1/64 in is exactly 396 875 nm and a
// ligne (1/40 in) exactly 635 000 nm, so sums of trade fractions never drift.
// A Length may be negative where it is a margin.
type Length int64

// Units of length, exact in nanometres.
const (
	Nanometre  Length = 1
	Micrometre Length = 1000
	Millimetre Length = 1_000_000
	Centimetre Length = 10 * Millimetre
	Metre      Length = 1000 * Millimetre
	Inch       Length = 25_400_000
	Foot       Length = 12 * Inch
	Yard       Length = 36 * Inch
	// Ligne is the button line, 1/40 in (Federal Specification V-B-871F). It
	// is neither the French line of 2.2558 mm nor the line of 1/12 in.
	Ligne Length = 635_000
)

// MaxLength is the longest length ParseLength takes. A key that may be
// longer (a spool, a bolt) uses ParseLengthMax.
const MaxLength = 10 * Metre

// MM gives l in millimetres, for JSON, drawing and trigonometry only.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// In gives l in inches.
func (l Length) In() float64 { return float64(l) / float64(Inch) }

// Lignes gives l in lignes.
func (l Length) Lignes() float64 { return float64(l) / float64(Ligne) }

// FromMM gives the length nearest to mm millimetres, for values that come
// from trigonometry. It is not for input: see LengthOf. Not-a-number gives 0;
// what does not fit is cut to the largest or smallest Length.
func FromMM(mm float64) Length {
	nm := math.Round(mm * float64(Millimetre))
	switch {
	case nm != nm:
		return 0
	case nm >= math.MaxInt64:
		return math.MaxInt64
	case nm <= math.MinInt64:
		return math.MinInt64
	}
	return Length(nm)
}

// Abs gives l without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// RoundDown gives the largest multiple of step that is not above l. A step of
// zero or less leaves l as it is.
func (l Length) RoundDown(step Length) Length {
	if step <= 0 {
		return l
	}
	r := l % step
	if r < 0 {
		r += step
	}
	return l - r
}

// RoundUp gives the smallest multiple of step that is not below l. A step of
// zero or less leaves l as it is.
func (l Length) RoundUp(step Length) Length {
	return -(-l).RoundDown(step)
}

// RoundNearest gives the multiple of step nearest to l; half-way goes away
// from zero. A step of zero or less leaves l as it is.
func (l Length) RoundNearest(step Length) Length {
	if step <= 0 {
		return l
	}
	if l < 0 {
		return -(-l).RoundNearest(step)
	}
	r := l % step
	if r >= step-r {
		return l - r + step
	}
	return l - r
}

// Toleranced is a measured length and how far off the measuring may be.
// Tol is never negative; zero means none was given.
type Toleranced struct{ V, Tol Length }

// Unit is the system lengths are read and printed in, and whether the other
// one stands in brackets behind it. The zero value is NoUnit: a bare number is
// refused, and printing is in millimetres. Units are asked with Is, not
// compared: one that stands alone is another value.
type Unit uint8

// The two systems.
const (
	NoUnit Unit = iota
	MM          // millimetres, g/m², °C, newtons first
	In          // inches, oz/yd², °F, pounds-force first
)

// alone marks a unit without the other in brackets.
const alone Unit = 1 << 7

// Alone is the same system for whoever reads only that: every quantity is
// printed in it and in no other, also what is else in millimetres in every
// file.
func (u Unit) Alone() Unit { return u | alone }

// IsAlone says whether the other unit is left out.
func (u Unit) IsAlone() bool { return u&alone != 0 }

// System is the unit with the other in brackets.
func (u Unit) System() Unit { return u &^ alone }

// Is says whether u is of that system, alone or not.
func (u Unit) Is(system Unit) bool { return u.System() == system }

// String gives "mm", "in" or "".
func (u Unit) String() string {
	switch u.System() {
	case MM:
		return "mm"
	case In:
		return "in"
	}
	return ""
}

// ParseUnit reads "in" or "mm", the value of a file's units key.
func ParseUnit(s string) (Unit, error) {
	switch s {
	case "mm":
		return MM, nil
	case "in":
		return In, nil
	}
	e := &ParseError{Text: s, Reason: `units are "in" or "mm"`}
	if u, ok := lengthUnit(s); ok {
		e.Instead = u.system.String()
	} else {
		e.Instead = text.Nearest(s, []string{"in", "mm"})
	}
	return NoUnit, e
}
