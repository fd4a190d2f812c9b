// Package measure holds the quantities of the trade and their text forms.
package measure

// Length is a length in nanometres. 1/64 in is exactly 396 875 nm and a
// ligne (1/40 in) exactly 635 000 nm, so sums of trade fractions never drift.
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
	Ligne      Length = 635_000 // the button line, 1/40 in
)

// MM gives l in millimetres, for JSON, drawing and trigonometry only.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// In gives l in inches.
func (l Length) In() float64 { return float64(l) / float64(Inch) }
