package measure

import (
	"cmp"
	"strconv"
	"strings"
)

// Lengths are printed to what a ruler shows: inches to 1/16, below 1/2 in to
// 1/32; millimetres to 0.5, below 10 mm to 0.1. What is thinner than the
// finest of those is printed to 0.001 in and 0.01 mm, and nothing ever to more
// than three figures after the point but by Exact.
const (
	coarseIn = Inch / 16
	fineIn   = Inch / 32
	thouIn   = Inch / 1000
	markIn   = Inch / 64 // the finest mark of a ruler
	coarseMM = Millimetre / 2
	fineMM   = Millimetre / 10
	finestMM = Millimetre / 100
	gaugeMM  = Millimetre / 1000

	coarseFromIn = Inch / 2
	coarseFromMM = 10 * Millimetre
)

// way says how a printed figure stands to the true one.
type way int8

const (
	nearest way = iota
	least       // not below it: a least that holds when it is typed back
	most        // not above it: a most that holds
)

// back is the way of the figure without its sign.
func (w way) back(negative bool) way {
	if negative && w != nearest {
		return least + most - w
	}
	return w
}

// style is what sort of length is printed.
type style int8

const (
	plain style = iota // what is measured with a ruler
	thin               // cloth, stitches, needle gaps: millimetres to 0.1, below 1 mm to 0.01
)

// Or is u where it stands alone, and else the unit that something is told in
// in every file.
func (u Unit) Or(own Unit) Unit {
	if u.IsAlone() {
		return u
	}
	return own
}

// thinUnit is what thin things are told in.
func thinUnit(u Unit) Unit { return u.Or(MM) }

// thous says whether k is told in thousandths of an inch: what is thin where
// no millimetres stand beside it.
func (k style) thous(u Unit) bool { return k == thin && u == In.Alone() }

// grid gives what is printed for a length of n nanometres in u, itself in
// nanometres: a multiple of the printed step.
func grid(n uint64, u Unit, k style, w way) uint64 {
	var g uint64
	finest := uint64(finestMM)
	if u.Is(In) {
		finest = uint64(thouIn)
		switch {
		case k.thous(u):
			g = step(n, finest, w)
		case n >= uint64(coarseFromIn):
			g = step(n, uint64(coarseIn), w)
		case n >= uint64(fineIn):
			g = step(n, uint64(fineIn), w)
		default:
			g = min(step(n, finest, w), uint64(fineIn))
		}
	} else {
		switch {
		case n >= uint64(coarseFromMM):
			g = step(n, uint64(coarseMM), w)
		case n >= uint64(Millimetre), k == plain && n >= uint64(fineMM):
			g = step(n, uint64(fineMM), w)
		default:
			g = step(n, finest, w)
		}
	}
	if g == 0 && n > 0 && w == nearest {
		return finest // something is never nothing
	}
	return g
}

// step rounds n to a multiple of by.
func step(n, by uint64, w way) uint64 {
	switch w {
	case least:
		return (n + by - 1) / by * by
	case most:
		return n / by * by
	}
	return roundTo(n, by) * by
}

func (l Length) printed(u Unit, k style, w way) Length {
	g := Length(grid(magnitude(l), u, k, w.back(l < 0)))
	if l < 0 {
		return -g
	}
	return g
}

// Printed gives what Text prints for l in u, as a length.
func (l Length) Printed(u Unit) Length { return l.printed(u, plain, nearest) }

// Least gives what TextLeast prints for l in u, as a length: the smallest
// printed length that is not below l. A proposal made of it is as it reads.
func (l Length) Least(u Unit) Length { return l.printed(u, plain, least) }

// Most gives what TextMost prints for l in u, as a length: the largest
// printed length that is not above l.
func (l Length) Most(u Unit) Length { return l.printed(u, plain, most) }

// ThinLeast is Least for what TextThin prints.
func (l Length) ThinLeast() Length { return l.printed(MM, thin, least) }

// ThinMost is Most for what TextThin prints.
func (l Length) ThinMost() Length { return l.printed(MM, thin, most) }

// String gives l in exact millimetres.
func (l Length) String() string { return l.Exact(MM) }

// Text gives l for a person to measure, to the nearest mark, in u and in
// brackets in the other unit: 1 3/8 in (35 mm).
func (l Length) Text(u Unit) string { return l.both(u, plain, nearest) }

// Short gives l as Text does, in u alone: 1 3/8 in.
func (l Length) Short(u Unit) string { return l.one(u, plain, nearest) }

// TextLeast gives a least for a person to keep: as Text, but rounded up, each
// unit on its own, so that either figure typed back is not below l.
func (l Length) TextLeast(u Unit) string { return l.both(u, plain, least) }

// ShortLeast gives l as TextLeast does, in u alone.
func (l Length) ShortLeast(u Unit) string { return l.one(u, plain, least) }

// TextMost gives a most for a person to keep: as Text, but rounded down, each
// unit on its own, so that either figure typed back is not above l.
func (l Length) TextMost(u Unit) string { return l.both(u, plain, most) }

// ShortMost gives l as TextMost does, in u alone.
func (l Length) ShortMost(u Unit) string { return l.one(u, plain, most) }

// TextThin gives the thickness of cloth, the length of a stitch, the gap at a
// needle: in millimetres in every file, to the nearest 0.1, below 1 mm to
// 0.01 and from 10 mm to 0.5, with inches in brackets: 2.4 mm (3/32 in). In
// inches alone it is told to 0.001 in: 0.094 in.
func (l Length) TextThin(u Unit) string { return l.both(thinUnit(u), thin, nearest) }

// ShortThin gives l as TextThin does, without what is in brackets.
func (l Length) ShortThin(u Unit) string { return l.one(thinUnit(u), thin, nearest) }

// TextThinLeast is TextThin rounded up, as TextLeast.
func (l Length) TextThinLeast(u Unit) string { return l.both(thinUnit(u), thin, least) }

// TextThinMost is TextThin rounded down, as TextMost.
func (l Length) TextThinMost(u Unit) string { return l.both(thinUnit(u), thin, most) }

// TextPlace gives a place, or a figure of the file, as it was set: in u
// exactly where it is whole 64ths of an inch, or has up to three figures
// after the point, and else to three figures; in brackets in the other unit,
// as Text: 5/8 in (16 mm).
func (l Length) TextPlace(u Unit) string {
	b := l.appendPlace(make([]byte, 0, 48), u)
	if u.IsAlone() {
		return string(b)
	}
	b = append(b, " ("...)
	return string(append(l.appendAs(b, u.other(), plain, nearest), ')'))
}

// ShortPlace gives l as TextPlace does, in u alone: 5/8 in.
func (l Length) ShortPlace(u Unit) string { return string(l.appendPlace(make([]byte, 0, 24), u)) }

func (l Length) appendPlace(b []byte, u Unit) []byte {
	n := magnitude(l)
	if l < 0 {
		b = append(b, '-')
	}
	thousandths := func(of Length) uint64 { return max(roundTo(n, uint64(of)), min(n, 1)) }
	switch {
	case !u.Is(In):
		return append(appendThousandths(b, thousandths(gaugeMM)), " mm"...)
	case n%uint64(markIn) == 0:
		return append(appendFraction(b, n/uint64(markIn), 64), " in"...)
	}
	return append(appendThousandths(b, thousandths(thouIn)), " in"...)
}

// ShortFine gives a term of a sum in u alone, finer than Short so that sums
// come out as they are worked: inches to the nearest 1/64, millimetres to the
// nearest 0.1, below 1/16 in and 1 mm to 0.001 in and 0.01 mm.
func (l Length) ShortFine(u Unit) string {
	b := make([]byte, 0, 24)
	if l < 0 {
		b = append(b, '-')
	}
	n := magnitude(l)
	if u.Is(In) {
		if n >= uint64(coarseIn) || n == 0 {
			return string(append(appendFraction(b, roundTo(n, uint64(markIn)), 64), " in"...))
		}
		return string(append(appendThousandths(b, max(1, roundTo(n, uint64(thouIn)))), " in"...))
	}
	by := uint64(fineMM)
	if n < uint64(Millimetre) {
		by = uint64(finestMM)
	}
	if n > 0 {
		n = max(by, roundTo(n, by)*by)
	}
	return string(append(appendThousandths(b, n/uint64(gaugeMM)), " mm"...))
}

// SignedText gives a margin as Text does, with its sign: +1/8 in (+3.2 mm).
func (l Length) SignedText(u Unit) string {
	if l == 0 {
		return l.Text(u)
	}
	return u.beside(l.SignedShort)
}

// SignedShort gives a margin in u alone: -1/8 in.
func (l Length) SignedShort(u Unit) string {
	if l > 0 {
		return "+" + l.Short(u)
	}
	return l.Short(u)
}

// Exact gives l to the last nanometre, in u: what ParseLength reads back as
// the same Length. In inches it is a fraction if l is whole 64ths, and else
// the shortest decimal that does it. It is for files and programs, not for
// people.
func (l Length) Exact(u Unit) string {
	var a [32]byte
	b := a[:0]
	if l < 0 {
		b = append(b, '-')
	}
	n := magnitude(l)
	if !u.Is(In) {
		b = appendDecimal(b, n/uint64(Millimetre), n%uint64(Millimetre), 6)
		return string(append(b, " mm"...))
	}
	if n%uint64(markIn) == 0 {
		b = appendFraction(b, n/uint64(markIn), 64)
	} else {
		b = appendInches(b, n)
	}
	return string(append(b, " in"...))
}

// TextApart gives a and b for a message that sets one against the other, each
// as Text prints it. Where they would read alike in u though they differ, the
// first is told to a finer mark, 11.2 mm beside 11 mm, and where that does not
// tell them apart either, by how far it is from the second: less than 0.1 mm
// (1/32 in) under 28 mm.
func TextApart(a, b Length, u Unit) (string, string) {
	return apart(a, b, u, plain, nearest)
}

// TextShort is TextApart for a length that is short of a least: the least is
// printed as TextLeast does.
func TextShort(have, need Length, u Unit) (string, string) {
	return apart(have, need, u, plain, least)
}

// TextOver is TextApart for a length that is over a most: the most is printed
// as TextMost does.
func TextOver(have, limit Length, u Unit) (string, string) {
	return apart(have, limit, u, plain, most)
}

// TextThinApart is TextApart for what TextThin prints.
func TextThinApart(a, b Length, u Unit) (string, string) {
	return apart(a, b, thinUnit(u), thin, nearest)
}

// TextThinShort is TextShort for what TextThin prints.
func TextThinShort(have, need Length, u Unit) (string, string) {
	return apart(have, need, thinUnit(u), thin, least)
}

// TextThinOver is TextOver for what TextThin prints.
func TextThinOver(have, limit Length, u Unit) (string, string) {
	return apart(have, limit, thinUnit(u), thin, most)
}

func apart(a, b Length, u Unit, k style, w way) (string, string) {
	limit := b.both(u, k, w)
	switch {
	case a == b || a.printed(u, k, nearest) != b.printed(u, k, w):
		return a.both(u, k, nearest), limit
	}
	if f := a.finer(u, k); f != a.printed(u, k, nearest) && cmp.Compare(f, b.printed(u, k, w)) == cmp.Compare(a, b) {
		t := f.ShortPlace(u)
		if !u.IsAlone() {
			t += " (" + a.one(u.other(), k, nearest) + ")"
		}
		return t, limit
	}
	if a < b {
		return (b-a).less(u, k) + " under " + b.one(u, k, w), limit
	}
	return (a-b).less(u, k) + " over " + b.one(u, k, w), limit
}

// finer is l to the next finer mark: of two that would read alike, the first.
func (l Length) finer(u Unit, k style) Length {
	by := Length(fineMM)
	switch {
	case k.thous(u) || l < 0:
		return l.printed(u, k, nearest)
	case u.Is(In):
		by = markIn
	case k == thin:
		by = finestMM
	}
	return Length(roundTo(magnitude(l), uint64(by))) * by
}

// TextLess gives a small difference, its sign left out, by a bound that is
// above it, each unit on its own: less than 1/32 in (0.4 mm). It is for two
// lengths that read alike.
func (l Length) TextLess(u Unit) string { return l.less(u, plain) }

func (l Length) less(u Unit, k style) string {
	bound := func(u Unit) string {
		by := fineMM
		switch {
		case u.Is(In) && k == thin && (l.Abs() < fineIn || k.thous(u)):
			by = thouIn
		case u.Is(In):
			by = fineIn
		case k == thin && l.Abs() < fineMM:
			by = finestMM
		}
		return l.bound(by).one(u, k, least)
	}
	return "less than " + u.beside(bound)
}

// bound is the smallest multiple of by above l.
func (l Length) bound(by Length) Length { return l.Abs().RoundDown(by) + by }

// TextSpan gives a range to stay in, the lower end rounded up and the upper
// one down: 3/32 to 1/8 in (2.5 to 3.5 mm). Where no printed length lies
// between them they are printed to 0.001 in or 0.01 mm.
func TextSpan(lo, hi Length, u Unit) string { return span(lo, hi, u, plain) }

// TextThinSpan is TextSpan for what TextThin prints; where that would leave
// less than half of the range it is told to 0.001 in.
func TextThinSpan(lo, hi Length, u Unit) string { return span(lo, hi, thinUnit(u), thin) }

func span(lo, hi Length, u Unit, k style) string {
	ends := func(u Unit) string {
		a, b := lo.printed(u, k, least), hi.printed(u, k, most)
		one := func(l Length) string { return l.one(u, k, nearest) }
		if a > b || k == thin && 2*(b-a) < hi-lo {
			by := Length(finestMM)
			if u.Is(In) {
				by = thouIn
			}
			a, b = lo.RoundUp(by), hi.RoundDown(by)
			if a > b {
				a = b // closer than anything that is printed
			}
			one = func(l Length) string { return l.ShortPlace(u) }
		}
		to := one(b)
		if a == b {
			return to
		}
		from := one(a)
		return from[:len(from)-len(" mm")] + " to " + to
	}
	return u.beside(ends)
}

// TextWithin gives l for a person to keep, each unit on its own not below lo
// and not above hi: rounded up, where that is too much rounded down, and where
// neither is printed between them to 0.001 in or 0.01 mm.
func (l Length) TextWithin(lo, hi Length, u Unit) string {
	in := func(u Unit) string {
		by := Length(finestMM)
		if u.Is(In) {
			by = thouIn
		}
		holds := func(p Length) bool { return p >= lo && p <= hi }
		switch {
		case holds(l.Least(u)):
			return l.ShortLeast(u)
		case holds(l.Most(u)):
			return l.ShortMost(u)
		case holds(l.RoundUp(by)):
			return l.RoundUp(by).ShortPlace(u)
		case holds(l.RoundDown(by)):
			return l.RoundDown(by).ShortPlace(u)
		case holds(lo.RoundUp(by)):
			return lo.RoundUp(by).ShortPlace(u)
		}
		return l.ShortPlace(u)
	}
	return u.beside(in)
}

// Text gives a figure of the catalogue, as fine as ShortFine, and how far off
// it may be: 1 3/8 in ± 1/16 (34.9 mm).
func (t Toleranced) Text(u Unit) string {
	own := t.V.ShortFine(u)
	if t.Tol > 0 {
		own = t.V.ShortPlace(u) + " ± " + strings.TrimSuffix(t.Tol.ShortPlace(u), " "+u.String())
	}
	if u.IsAlone() {
		return own
	}
	return own + " (" + t.V.ShortFine(u.other()) + ")"
}

// TextThin gives the value as Length.TextThin does, with the tolerance if
// there is one: 2.4 mm ± 0.2 (3/32 in). Of one larger than the value, which would
// reach below nothing, the upper end is given: 4.2 mm (5/32 in), at most 10.5 mm.
func (t Toleranced) TextThin(u Unit) string {
	if t.Tol == 0 {
		return t.V.TextThin(u)
	}
	if t.Tol > t.V {
		return t.V.TextThin(u) + ", at most " + (t.V + t.Tol).ShortThin(u)
	}
	u = thinUnit(u)
	b := t.V.appendAs(make([]byte, 0, 64), u, thin, nearest)
	b = append(b, " ± "...)
	b = t.Tol.appendAs(b, u, thin, nearest)
	if b = b[:len(b)-len(" mm")]; u.IsAlone() {
		return string(b)
	}
	b = append(b, " ("...)
	b = t.V.appendAs(b, u.other(), thin, nearest)
	return string(append(b, ')'))
}

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

func (u Unit) other() Unit {
	if u.Is(In) {
		return MM
	}
	return In
}

// beside is a quantity in u, and in brackets in the other unit where that is
// wanted.
func (u Unit) beside(say func(Unit) string) string {
	if u.IsAlone() {
		return say(u)
	}
	return say(u) + " (" + say(u.other()) + ")"
}

func (l Length) one(u Unit, k style, w way) string {
	var a [24]byte
	return string(l.appendAs(a[:0], u, k, w))
}

func (l Length) both(u Unit, k style, w way) string {
	var a [48]byte
	b := l.appendAs(a[:0], u, k, w)
	if u.IsAlone() {
		return string(b)
	}
	b = append(b, " ("...)
	b = l.appendAs(b, u.other(), k, w)
	return string(append(b, ')'))
}

// appendAs writes l in u.
func (l Length) appendAs(b []byte, u Unit, k style, w way) []byte {
	g := grid(magnitude(l), u, k, w.back(l < 0))
	if l < 0 && g > 0 {
		b = append(b, '-')
	}
	switch {
	case !u.Is(In):
		return append(appendThousandths(b, g/uint64(gaugeMM)), " mm"...)
	case !k.thous(u) && g%uint64(fineIn) == 0:
		return append(appendFraction(b, g/uint64(fineIn), 32), " in"...)
	}
	return append(appendThousandths(b, g/uint64(thouIn)), " in"...)
}

// appendThousandths writes n thousandths as a decimal.
func appendThousandths(b []byte, n uint64) []byte { return appendDecimal(b, n/1000, n%1000, 3) }

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
