package measure

import "strconv"

// Steps that lengths are printed to.
const (
	textIn   = Inch / 16
	textMM   = Millimetre / 2
	fineIn   = Inch / 64
	fineMM   = Millimetre / 10
	finestMM = Millimetre / 100
)

// String gives l in exact millimetres.
func (l Length) String() string { return l.Exact(MM) }

// Text gives l for a person to measure: inches to the nearest 1/16 with
// millimetres to the nearest 0.5 beside them, 1 3/8 in (35 mm), or the other
// way about when u is MM. What would round to nothing is printed finer.
func (l Length) Text(u Unit) string {
	var a [48]byte
	return string(l.appendBoth(a[:0], u, false))
}

// Short gives l as Text does, in u alone: 1 3/8 in.
func (l Length) Short(u Unit) string {
	var a [24]byte
	return string(l.appendIn(a[:0], u, false))
}

// TextFine gives a small length, such as a thickness: millimetres to the
// nearest 0.1 (below 1 mm to 0.01), inches to the nearest 1/64 (below 1/16 in
// to 0.001): 2.4 mm (3/32 in), 0.012 in (0.3 mm).
func (l Length) TextFine(u Unit) string {
	var a [48]byte
	return string(l.appendBoth(a[:0], u, true))
}

// ShortFine gives l as TextFine does, in u alone.
func (l Length) ShortFine(u Unit) string {
	var a [24]byte
	return string(l.appendIn(a[:0], u, true))
}

// SignedText gives a margin as Text does, with its sign: +1/8 in (+3 mm).
func (l Length) SignedText(u Unit) string {
	a := make([]byte, 0, 48)
	a = l.appendSigned(a, u)
	if l != 0 {
		a = append(a, " ("...)
		a = l.appendSigned(a, u.other())
		a = append(a, ')')
	} else {
		return l.Text(u)
	}
	return string(a)
}

// SignedShort gives a margin in u alone: -1/8 in.
func (l Length) SignedShort(u Unit) string {
	var a [24]byte
	return string(l.appendSigned(a[:0], u))
}

// Exact gives l to the last nanometre, in u: what ParseLength reads back as
// the same Length. In inches it is a fraction if l is whole 64ths, and else
// the shortest decimal that does it.
func (l Length) Exact(u Unit) string {
	var a [32]byte
	b := a[:0]
	if l < 0 {
		b = append(b, '-')
	}
	n := magnitude(l)
	if u != In {
		b = appendDecimal(b, n/uint64(Millimetre), n%uint64(Millimetre), 6)
		return string(append(b, " mm"...))
	}
	if n%uint64(fineIn) == 0 {
		b = appendFraction(b, n/uint64(fineIn), 64)
	} else {
		b = appendInches(b, n)
	}
	return string(append(b, " in"...))
}

// TextApart gives a and b for a message that sets one against the other: as
// Text, but finer, and in the end exact, if they would read the same though
// they differ.
func TextApart(a, b Length, u Unit) (string, string) {
	if a == b || a.Short(u) != b.Short(u) {
		return a.Text(u), b.Text(u)
	}
	if a.ShortFine(u) != b.ShortFine(u) {
		return a.TextFine(u), b.TextFine(u)
	}
	if x, y := a.gauged(u), b.gauged(u); x != y {
		return x, y
	}
	return a.Exact(u), b.Exact(u)
}

// gauged gives l as a caliper reads it: to 0.001 in or 0.01 mm.
func (l Length) gauged(u Unit) string {
	b := make([]byte, 0, 24)
	if l < 0 {
		b = append(b, "−"...)
	}
	if u == In {
		n := roundTo(magnitude(l), 25_400)
		return string(append(appendDecimal(b, n/1000, n%1000, 3), " in"...))
	}
	n := roundTo(magnitude(l), 10_000)
	return string(append(appendDecimal(b, n/100, n%100, 2), " mm"...))
}

// Text gives the value as Length.Text does, with the tolerance if there is
// one: 1 3/8 in ± 1/32 (35 mm).
func (t Toleranced) Text(u Unit) string { return t.text(u, false) }

// TextFine gives the value as Length.TextFine does, with the tolerance if
// there is one: 2.4 mm ± 0.2 (3/32 in), 0.094 in ± 0.008 (2.4 mm).
func (t Toleranced) TextFine(u Unit) string { return t.text(u, true) }

// String gives t in exact millimetres.
func (t Toleranced) String() string { return t.Exact(MM) }

// Exact gives t to the last nanometre, in u: what ParseToleranced reads back
// as the same.
func (t Toleranced) Exact(u Unit) string {
	if t.Tol == 0 {
		return t.V.Exact(u)
	}
	return t.V.Exact(u) + " ± " + t.Tol.Exact(u)
}

func (t Toleranced) text(u Unit, fine bool) string {
	a := make([]byte, 0, 64)
	switch {
	case t.Tol == 0:
		return string(t.V.appendBoth(a, u, fine))
	case u == In && fine:
		n := roundTo(magnitude(t.V), 25_400)
		a = appendDecimal(a, n/1000, n%1000, 3)
		n = max(1, roundTo(magnitude(t.Tol), 25_400))
		a = append(a, " in ± "...)
		a = appendDecimal(a, n/1000, n%1000, 3)
	default:
		a = t.V.appendIn(a, u, fine)
		a = append(a, " ± "...)
		a = t.Tol.appendIn(a, u, true)
		a = a[:len(a)-len(" mm")]
	}
	a = append(a, " ("...)
	a = t.V.appendIn(a, u.other(), fine)
	return string(append(a, ')'))
}

func (u Unit) other() Unit {
	if u == In {
		return MM
	}
	return In
}

func (l Length) appendBoth(b []byte, u Unit, fine bool) []byte {
	b = l.appendIn(b, u, fine)
	b = append(b, " ("...)
	b = l.appendIn(b, u.other(), fine)
	return append(b, ')')
}

func (l Length) appendSigned(b []byte, u Unit) []byte {
	if l > 0 {
		b = append(b, '+')
	}
	return l.appendIn(b, u, false)
}

// appendIn writes l in u. A coarse length that would be nothing is fine, and
// a fine one that would be nothing is exact.
func (l Length) appendIn(b []byte, u Unit, fine bool) []byte {
	if l < 0 {
		b = append(b, '-')
	}
	n := magnitude(l)
	if u == In {
		return append(appendInch(b, n, fine), " in"...)
	}
	step := uint64(textMM)
	switch {
	case n == 0:
	case fine && n < uint64(Millimetre) || n < uint64(textMM)/2:
		step = uint64(finestMM)
		if n < step/2 {
			step = 1
		}
	case fine:
		step = uint64(fineMM)
	}
	n = roundTo(n, step) * step
	return append(appendDecimal(b, n/uint64(Millimetre), n%uint64(Millimetre), 6), " mm"...)
}

func appendInch(b []byte, n uint64, fine bool) []byte {
	switch {
	case n == 0:
		return append(b, '0')
	case !fine && n >= uint64(textIn)/2:
		return appendFraction(b, roundTo(n, uint64(textIn)), 16)
	case fine && n >= uint64(textIn):
		return appendFraction(b, roundTo(n, uint64(fineIn)), 64)
	case n >= 25_400/2:
		n = roundTo(n, 25_400)
		return appendDecimal(b, n/1000, n%1000, 3)
	}
	return appendInches(b, n)
}

// magnitude is l without its sign; the smallest Length has one too.
func magnitude(l Length) uint64 {
	if l < 0 {
		return -uint64(l)
	}
	return uint64(l)
}

// roundTo counts the steps in n, to the nearest, half-way up.
func roundTo(n, step uint64) uint64 {
	q, r := n/step, n%step
	if r >= step-r {
		q++
	}
	return q
}

// appendFraction writes n/d, d a power of two, as 1 3/8.
func appendFraction(b []byte, n, d uint64) []byte {
	whole, n := n/d, n%d
	if n == 0 {
		return strconv.AppendUint(b, whole, 10)
	}
	for n%2 == 0 {
		n, d = n/2, d/2
	}
	if whole > 0 {
		b = append(strconv.AppendUint(b, whole, 10), ' ')
	}
	b = append(strconv.AppendUint(b, n, 10), '/')
	return strconv.AppendUint(b, d, 10)
}

// appendDecimal writes whole.part, where part has so many digits, without
// trailing zeros.
func appendDecimal(b []byte, whole, part uint64, digits int) []byte {
	b = strconv.AppendUint(b, whole, 10)
	if part == 0 {
		return b
	}
	b = append(b, '.')
	at := len(b)
	for range digits {
		b = append(b, '0')
	}
	for i := at + digits - 1; i >= at; i-- {
		b[i] = byte('0' + part%10)
		part /= 10
	}
	for b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	return b
}

// appendInches writes n nanometres as the shortest decimal of inches that is
// nearest to n among all whole nanometres. Nine decimals always do.
func appendInches(b []byte, n uint64) []byte {
	whole, rest := n/uint64(Inch), n%uint64(Inch)
	for digits, scale := 0, uint64(1); ; digits, scale = digits+1, scale*10 {
		part := roundTo(rest*scale, uint64(Inch))
		if roundTo(part*uint64(Inch), scale) == rest {
			return appendDecimal(b, whole+part/scale, part%scale, digits)
		}
	}
}
