package measure

import (
	"math"
	"math/big"
	"strconv"
	"strings"

	"placketeer/catalog/text"
)

// unit is one unit of length as people write it.
type unit struct {
	name   string // as printed
	size   Length
	system Unit // what an answer is given in
	chain  bool // may be part of 2 ft 3 in
}

var (
	unitMM    = unit{"mm", Millimetre, MM, false}
	unitCM    = unit{"cm", Centimetre, MM, false}
	unitM     = unit{"m", Metre, MM, false}
	unitUM    = unit{"µm", Micrometre, MM, false}
	unitIn    = unit{"in", Inch, In, true}
	unitFt    = unit{"ft", Foot, In, true}
	unitYd    = unit{"yd", Yard, In, true}
	unitLigne = unit{"ligne", Ligne, MM, false}
	// An ounce of leather is 1/64 in thick.
	unitLeather = unit{"oz leather", Inch / 64, MM, false}
)

// units are the words for lengths, lower case but for m and L, whose case
// matters: M is no metre, and l is read as the digit 1.
var units = map[string]unit{
	"mm": unitMM, "millimetre": unitMM, "millimetres": unitMM, "millimeter": unitMM, "millimeters": unitMM,
	"cm": unitCM, "centimetre": unitCM, "centimetres": unitCM, "centimeter": unitCM, "centimeters": unitCM,
	"m": unitM, "metre": unitM, "metres": unitM, "meter": unitM, "meters": unitM,
	"µm": unitUM, "μm": unitUM, "um": unitUM, "micron": unitUM, "microns": unitUM,
	"micrometre": unitUM, "micrometres": unitUM, "micrometer": unitUM, "micrometers": unitUM,
	"in": unitIn, "inch": unitIn, "inches": unitIn, "ins": unitIn,
	"ft": unitFt, "foot": unitFt, "feet": unitFt,
	"yd": unitYd, "yds": unitYd, "yard": unitYd, "yards": unitYd,
	"L": unitLigne, "ligne": unitLigne, "lignes": unitLigne, "line": unitLigne, "lines": unitLigne,
}

// unitWords are the words offered for a misspelt unit.
var unitWords = []string{
	"mm", "cm", "m", "in", "ft", "yd", "L", "ligne", "lignes", "inch", "inches", "foot", "feet", "yard", "yards",
	"line", "lines", "metre", "metres", "meter", "meters", "millimetre", "millimetres", "millimeter", "millimeters",
	"centimetre", "centimetres", "centimeter", "centimeters", "µm", "micron",
}

// marks are the signs for inches and feet, the longer first.
var marks = []struct {
	text string
	unit unit
}{
	{"''", unitIn}, {"′′", unitIn}, {"’’", unitIn}, {`"`, unitIn}, {"″", unitIn}, {"”", unitIn}, {"“", unitIn},
	{"'", unitFt}, {"′", unitFt}, {"’", unitFt},
}

func lengthUnit(word string) (unit, bool) {
	if u, ok := units[word]; ok {
		return u, true
	}
	if len(word) < 2 { // M, l
		return unit{}, false
	}
	u, ok := units[strings.ToLower(word)]
	return u, ok
}

// ParseLength reads a length between nothing and MaxLength:
//
//	28 mm   2.8 cm   0.6 m   400 µm   1 1/8 in   1-1/8"   1⅛ in   1.125 inch
//	2 ft 3 in   5'6"   1/2 yd   40L   40 ligne   30-line   8 oz leather
//
// A bare number is read in the unit bare. The arithmetic is exact; a value
// that is not whole nanometres (1/3 in) goes to the nearest, half-way away
// from zero. A ligne or line is always the button line of 1/40 in. An ounce
// of leather is 1/64 in of thickness. Only L and m mind their case: 40l and
// 0.6 M are refused. Zero is a length; whether a key takes it is for the key
// to say.
//
// The error is a *ParseError.
func ParseLength(s string, bare Unit) (Length, error) {
	l, _, err := parseLength(s, bare, MaxLength)
	if err != nil {
		return 0, err
	}
	return l, nil
}

// ParseLengthMax is ParseLength with another upper bound.
func ParseLengthMax(s string, bare Unit, most Length) (Length, error) {
	l, _, err := parseLength(s, bare, most)
	if err != nil {
		return 0, err
	}
	return l, nil
}

// ParseLengthUnit is ParseLength and tells the system the length was given
// in: In for inches, feet and yards, MM for the metric units, lignes and
// ounces of leather, bare for a bare number.
func ParseLengthUnit(s string, bare Unit) (Length, Unit, error) {
	l, u, err := parseLength(s, bare, MaxLength)
	if err != nil {
		return 0, NoUnit, err
	}
	return l, u.system, nil
}

// LengthOf reads a number that stands alone, as a file's or a script's
// number does, in the unit bare.
func LengthOf(x float64, bare Unit) (Length, error) {
	if most := 10 * float64(MaxLength); x > most { // would be a long text
		return 0, &ParseError{Text: strconv.FormatFloat(x, 'g', -1, 64), Reason: outOfRange(MaxLength, bare), Over: true}
	}
	return ParseLength(numberText(x), bare)
}

// outOfRange says what the longest is, the unit that a bare number is in
// first.
func outOfRange(most Length, bare Unit) string {
	return "this is out of range: the longest is " + most.TextMost(bare)
}

// numberText writes x as the shortest decimal that is x.
func numberText(x float64) string {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	if s := strconv.FormatFloat(x, 'f', -1, 64); len(s) < longest {
		return s
	}
	return strconv.FormatFloat(x, 'f', 20, 64)
}

// ParseToleranced reads a length as ParseLength does, and after it, if it is
// there, how far off the measuring may be: ± or +/- and a length or a share
// of the value, `2.4 mm ± 0.2`, `1 1/8" +/- 1/32`, `2.4 mm ± 10 %`. A
// tolerance without a unit takes the value's; a value without a unit takes
// the tolerance's, and if that has none either both are in bare. The
// tolerance may not exceed the value.
func ParseToleranced(s string, bare Unit) (Toleranced, error) {
	t, _, err := parseToleranced(s, bare, MaxLength)
	if err != nil {
		return Toleranced{}, err.in(s)
	}
	return t, nil
}

func parseLength(s string, bare Unit, most Length) (Length, unit, error) {
	if l, u, rest, ok := plainLength(s, bareUnit(bare)); ok && rest == "" && l <= most {
		return l, u, nil
	}
	return readLength(s, bare, most)
}

// readLength is parseLength for a length written in any way.
func readLength(s string, bare Unit, most Length) (Length, unit, error) {
	s = asSaid(s)
	p := scanner{s: s}
	r, err := p.length()
	if err == nil {
		p.spaces()
		switch {
		case p.done():
			var l Length
			if l, err = r.resolve(s, bareUnit(bare), most); err == nil {
				if r.unit.size == 0 {
					r.unit = bareUnit(bare)
				}
				if r.inches && r.unit.size == 0 {
					r.unit = unitIn
				}
				return l, r.unit, nil
			}
		case p.plusMinus():
			err = fail(r.end, strings.TrimSpace(s[:r.end]), "no tolerance is wanted here")
		default:
			err = p.leftover(r.end)
		}
	}
	return 0, unit{}, err.in(s)
}

func parseToleranced(s string, bare Unit, most Length) (t Toleranced, u unit, err *ParseError) {
	if t, u, ok := plainToleranced(s, bareUnit(bare)); ok && t.V <= most && t.Tol <= t.V {
		return t, u, nil
	}
	return readToleranced(s, bare, most)
}

// readToleranced is parseToleranced for a length written in any way.
func readToleranced(s string, bare Unit, most Length) (t Toleranced, u unit, err *ParseError) {
	s = asSaid(s)
	p := scanner{s: s}
	v, err := p.length()
	if err != nil {
		return t, u, err
	}
	u = v.unit
	p.spaces()
	if p.done() {
		if u.size == 0 {
			u = bareUnit(bare)
		}
		t.V, err = v.resolve(s, u, most)
		return t, u, err
	}
	if !p.plusMinus() {
		return t, u, p.leftover(v.end)
	}
	p.spaces()
	at := p.i
	if p.done() {
		return t, u, fail(at, "", "a tolerance follows the ±")
	}
	tol, share, err := p.lengthOrShare()
	if err != nil {
		return t, u, err
	}
	if p.spaces(); !p.done() {
		return t, u, p.leftover(tol.end)
	}
	if u.size == 0 {
		u = tol.unit
	}
	if u.size == 0 {
		u = bareUnit(bare)
	}
	if t.V, err = v.resolve(s, u, most); err != nil {
		return t, u, err
	}
	if share {
		if tol.sum.Cmp(big.NewRat(100, 1)) > 0 {
			return t, u, fail(at, "", "the tolerance is more than the whole value")
		}
		tol.sum.Mul(tol.sum, big.NewRat(int64(t.V), 100))
		t.Tol = Length(roundRat(tol.sum))
		return t, u, nil
	}
	if t.Tol, err = tol.resolve(s, u, most); err != nil {
		return t, u, err
	}
	if t.Tol > t.V {
		return t, u, fail(at, "", "the tolerance is more than the value itself")
	}
	return t, u, nil
}

// rawLength is a length as read: in nanometres if it has a unit, and a plain
// number if unit is zero.
type rawLength struct {
	sum     *big.Rat
	unit    unit // the last one
	at, end int
	inches  bool // a fraction without a unit
}

// bareUnit is the unit of a bare number, zero for NoUnit.
func bareUnit(u Unit) unit {
	switch u.System() {
	case MM:
		return unitMM
	case In:
		return unitIn
	}
	return unit{}
}

// resolve gives the Length of r, in u if r has no unit of its own.
// Fractions are of inches.
func (r rawLength) resolve(s string, u unit, most Length) (Length, *ParseError) {
	if r.inches && u.size == 0 {
		u = unitIn
	}
	sum, in := r.sum, r.unit.system
	if r.unit.size == 0 {
		in = u.system
		if u.size == 0 {
			head, tail := strings.TrimSpace(s[:r.end]), s[r.end:]
			return 0, fail(r.end, either(head+" mm"+tail, head+" in"+tail), "the number has no unit")
		}
		sum = new(big.Rat).Mul(sum, big.NewRat(int64(u.size), 1))
	}
	if sum.Cmp(big.NewRat(int64(most), 1)) > 0 {
		err := fail(r.at, "", "%s", outOfRange(most, in))
		err.Over = true
		return 0, err
	}
	return Length(roundRat(sum)), nil
}

// roundRat rounds r, which is not negative and fits, to the nearest whole
// number, half-way up.
func roundRat(r *big.Rat) int64 {
	q, m := new(big.Int).QuoRem(r.Num(), r.Denom(), new(big.Int))
	if m.Lsh(m, 1).Cmp(r.Denom()) >= 0 {
		q.Add(q, big.NewInt(1))
	}
	return q.Int64()
}

// plusMinus skips ±, +/- or +-.
func (p *scanner) plusMinus() bool {
	return p.take("±") || p.take("+/-") || p.take("+/−") || p.take("+-")
}

// leftover refuses what stands after the length that ends at end.
func (p *scanner) leftover(end int) *ParseError {
	if q := *p; isMinus(q.peek()) {
		q.next()
		if q.spaces(); q.startsNumber() {
			return fail(p.i, "", "one value is wanted, not a range; how far off it may be is written after ±")
		}
	}
	return fail(p.i, strings.TrimSpace(p.s[:end]), "%s is not part of it", quote(p.rest()))
}

// lengthOrShare reads a length or a number of percent.
func (p *scanner) lengthOrShare() (r rawLength, share bool, err *ParseError) {
	q := *p
	n, err := q.number("a tolerance")
	if err != nil {
		return r, false, err
	}
	q.spaces()
	if q.take("%") {
		*p = q
		return rawLength{sum: n.r, at: n.at, end: p.i}, true, nil
	}
	r, err = p.length()
	return r, false, err
}

// length reads a number with a unit, or several from yards down to inches,
// or a bare number. It stops where something else begins.
func (p *scanner) length() (r rawLength, err *ParseError) {
	p.spaces()
	r = rawLength{sum: new(big.Rat), at: p.i}
	if len(p.s) > longest {
		return r, fail(0, "", "this is too long to be a length")
	}
	for first := true; ; first = false {
		n, err := p.number("a length")
		if err != nil {
			return r, err
		}
		u, err := p.unit(n)
		if err != nil {
			return r, err
		}
		if u.size == 0 {
			if !first {
				return r, fail(p.i, p.before(n.end)+" "+r.unit.below()+p.s[n.end:], "the last number has no unit")
			}
			r.sum, r.end, r.inches = n.r, n.end, n.fraction
			return r, nil
		}
		if !first && (!u.chain || !r.unit.chain || u.size >= r.unit.size) {
			return r, fail(n.at, "", "only yards, feet and inches go together, the largest first")
		}
		r.sum.Add(r.sum, n.r.Mul(n.r, big.NewRat(int64(u.size), 1)))
		r.unit, r.end = u, p.i
		q := *p
		q.spaces()
		if !q.startsNumber() {
			return r, nil
		}
		*p = q
	}
}

// below names the unit that follows u in 2 ft 3 in.
func (u unit) below() string {
	if u.size == Yard {
		return "ft"
	}
	return "in"
}

// unit reads the unit after n. A zero unit means there is none.
func (p *scanner) unit(n number) (unit, *ParseError) {
	spaced := p.spaces()
	for _, m := range marks {
		if p.take(m.text) {
			return m.unit, nil
		}
	}
	if !spaced && isHyphen(p.peek()) { // 30-line
		q := *p
		q.next()
		if q.letters() == "" {
			return unit{}, nil
		}
		p.next()
	}
	at := p.i
	word := p.letters()
	if word == "" {
		p.i = n.end
		return unit{}, nil
	}
	if u, ok := lengthUnit(word); ok {
		p.take(".") // in.
		return u, nil
	}
	head, tail := p.before(n.end), p.s[p.i:]
	switch strings.ToLower(word) {
	case "l":
		return unit{}, fail(at, head+"L"+tail, "a small l is read as the digit 1")
	case "m":
		return unit{}, fail(at, head+" m"+tail, "metres are written with a small m")
	case "oz", "ounce", "ounces":
		p.take(".")
		p.spaces()
		if strings.EqualFold(p.letters(), "leather") {
			return unitLeather, nil
		}
		return unit{}, fail(at, head+" oz leather"+tail, "an ounce is a thickness only of leather, 1/64 in each")
	}
	near := text.Nearest(word, unitWords)
	if near != "" {
		near = head + " " + near + tail
	}
	return unit{}, fail(at, near, "there is no unit of length %s", quote(word))
}
