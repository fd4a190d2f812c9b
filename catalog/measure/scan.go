package measure

import (
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longest is the longest text, in bytes, that any Parse function looks at.
const longest = 160

// scanner walks over a text. Positions are bytes.
type scanner struct {
	s string
	i int
}

// number is a number as written, exact.
type number struct {
	r        *big.Rat
	at, end  int
	fraction bool // written with a fraction
}

// vulgar gives the value of the one-character fractions.
var vulgar = map[rune][2]int64{
	'¼': {1, 4}, '½': {1, 2}, '¾': {3, 4},
	'⅐': {1, 7}, '⅑': {1, 9}, '⅒': {1, 10},
	'⅓': {1, 3}, '⅔': {2, 3},
	'⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5},
	'⅙': {1, 6}, '⅚': {5, 6},
	'⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8},
	'↉': {0, 3},
}

func (p *scanner) done() bool { return p.i >= len(p.s) }

func (p *scanner) peek() rune {
	r, _ := utf8.DecodeRuneInString(p.s[p.i:])
	if p.done() {
		return -1
	}
	return r
}

func (p *scanner) next() rune {
	r, n := utf8.DecodeRuneInString(p.s[p.i:])
	p.i += n
	return r
}

// spaces skips white space of any kind and reports whether there was some.
func (p *scanner) spaces() bool {
	at := p.i
	for !p.done() && unicode.IsSpace(p.peek()) {
		p.next()
	}
	return p.i > at
}

// take skips text if it stands here.
func (p *scanner) take(text string) bool {
	if strings.HasPrefix(p.s[p.i:], text) {
		p.i += len(text)
		return true
	}
	return false
}

// digits reads ASCII digits.
func (p *scanner) digits() string {
	at := p.i
	for p.i < len(p.s) && isDigit(p.s[p.i]) {
		p.i++
	}
	return p.s[at:p.i]
}

// letters reads letters.
func (p *scanner) letters() string {
	at := p.i
	for !p.done() && unicode.IsLetter(p.peek()) {
		p.next()
	}
	return p.s[at:p.i]
}

// rest is what is left, without the white space around it.
func (p *scanner) rest() string { return strings.TrimSpace(p.s[p.i:]) }

// before is what stands before at, without the white space it begins with.
func (p *scanner) before(at int) string {
	return strings.TrimLeftFunc(p.s[:at], unicode.IsSpace)
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }

func isSlash(r rune) bool { return r == '/' || r == '⁄' || r == '∕' }

func isHyphen(r rune) bool { return r == '-' || r == '‐' || r == '‑' }

func isMinus(r rune) bool { return r == '-' || r == '−' || r == '–' || r == '‑' || r == '‐' }

// startsNumber reports whether a number could begin here.
func (p *scanner) startsNumber() bool {
	r := p.peek()
	if r == '.' {
		return p.i+1 < len(p.s) && isDigit(p.s[p.i+1])
	}
	if r == '⅟' || '0' <= r && r <= '9' {
		return true
	}
	_, ok := vulgar[r]
	return ok
}

// number reads 28, 2.8, .5, 1/8, 1 1/8, 1-1/8, 1⅛ or ⅛, after any spaces.
// what names the quantity for the messages ("a length").
func (p *scanner) number(what string) (number, *ParseError) {
	p.spaces()
	n := number{at: p.i}
	if p.done() {
		if strings.TrimSpace(p.s) == "" {
			return n, fail(0, "", "there is nothing here; %s is wanted", what)
		}
		return n, fail(p.i, "", "a number is missing")
	}
	if r := p.peek(); isMinus(r) {
		q := *p
		q.next()
		q.spaces()
		if q.startsNumber() {
			return n, fail(n.at, p.before(n.at)+q.rest(), "%s cannot be negative", what)
		}
	}
	if !p.startsNumber() {
		switch w := strings.ToLower((&scanner{s: p.s, i: p.i}).letters()); w {
		case "nan", "inf", "infinity":
			return n, fail(n.at, "", "%s is not a number that can be measured", w)
		}
		if p.peek() == ',' {
			return n, fail(n.at, p.before(n.at)+strings.Replace(p.rest(), ",", "0.", 1), "a comma is no decimal point here")
		}
		return n, fail(n.at, "", "%s begins with a number", what)
	}
	if r := p.peek(); r != '.' && !('0' <= r && r <= '9') {
		var err *ParseError
		n.r, err = p.part()
		n.fraction, n.end = true, p.i
		return n, err
	}
	whole := p.digits()
	if !p.done() && p.s[p.i] == '.' {
		p.i++
		if p.digits() == "" {
			return n, fail(p.i-1, p.before(p.i-1)+p.s[p.i:], "no digits after the point")
		}
		whole = ""
	}
	n.r = decimalNumber(p.s[n.at:p.i])
	n.end = p.i
	if err := p.afterDigits(n); err != nil {
		return n, err
	}
	q := *p
	q.spaces()
	if isSlash(q.peek()) { // 1/8
		p.i = n.at
		if whole == "" {
			return n, fail(q.i, "", "a fraction has whole numbers above and below")
		}
		var err *ParseError
		n.r, err = p.part()
		n.fraction, n.end = true, p.i
		return n, err
	}
	q = *p
	if !q.spaces() && isHyphen(q.peek()) {
		q.next()
	}
	if !q.startsPart() {
		return n, nil
	}
	if whole == "" {
		return n, fail(q.i, "", "a decimal and a fraction do not go together")
	}
	at := q.i
	add, err := q.part()
	if err != nil {
		return n, err
	}
	n.r.Add(n.r, add)
	if add.Cmp(big.NewRat(1, 1)) >= 0 {
		return n, fail(at, p.before(n.at)+ratText(n.r)+q.s[q.i:], "the fraction after a whole number is less than 1")
	}
	p.i = q.i
	n.fraction, n.end = true, p.i
	return n, nil
}

// afterDigits refuses what people and machines write after digits that is
// not part of a number here: a decimal comma, an exponent.
func (p *scanner) afterDigits(n number) *ParseError {
	if p.done() {
		return nil
	}
	rest := p.s[p.i:]
	switch c := rest[0]; {
	case c == ',':
		q := scanner{s: rest, i: 1}
		d := q.digits()
		head := p.before(p.i)
		if len(d) == 3 && p.s[n.at:p.i] != "0" && !inchesFollow(rest[q.i:]) {
			return fail(p.i, head+d+rest[q.i:], "a comma is no decimal point here, and thousands are written without one")
		}
		return fail(p.i, head+"."+rest[1:], "a comma is no decimal point here")
	case c == 'e' || c == 'E':
		q := scanner{s: rest, i: 1}
		if !q.take("+") {
			q.take("-")
		}
		if q.digits() != "" {
			return fail(p.i, "", "write the number out in full, without an exponent")
		}
	case c == '_':
		return fail(p.i, "", "digits are written without underscores")
	}
	return nil
}

// inchesFollow says whether what follows a number is inches: no length here
// has thousands of them.
func inchesFollow(rest string) bool {
	word := strings.ToLower(strings.TrimSpace(rest))
	return strings.HasPrefix(word, "in") || strings.HasPrefix(word, `"`)
}

// startsPart reports whether a fraction could begin here.
func (p *scanner) startsPart() bool {
	r := p.peek()
	if _, ok := vulgar[r]; ok || r == '⅟' {
		return true
	}
	q := *p
	if q.digits() == "" {
		return false
	}
	q.spaces()
	return isSlash(q.peek())
}

// part reads a fraction: 1/8, ⅛ or ⅟8.
func (p *scanner) part() (*big.Rat, *ParseError) {
	at := p.i
	r := p.peek()
	if v, ok := vulgar[r]; ok {
		p.next()
		return big.NewRat(v[0], v[1]), nil
	}
	top := "1"
	if r == '⅟' {
		p.next()
	} else {
		top = p.digits()
		p.spaces()
		p.next() // the slash
		p.spaces()
	}
	bottom := p.digits()
	if bottom == "" {
		return nil, fail(p.i, "", "the fraction has no whole number below the line")
	}
	if !p.done() && (p.s[p.i] == '.' || isSlash(p.peek())) {
		return nil, fail(p.i, "", "a fraction has one whole number above and one below")
	}
	if strings.Trim(bottom, "0") == "" {
		return nil, fail(at, "", "%s/%s divides by nothing", top, bottom)
	}
	return new(big.Rat).SetFrac(wholeNumber(top), wholeNumber(bottom)), nil
}

// wholeNumber reads decimal digits. Unlike big.Rat's own reader it never
// takes a leading zero for octal: 3/016 is 3/16.
func wholeNumber(digits string) *big.Int {
	n, _ := new(big.Int).SetString(digits, 10)
	return n
}

// decimalNumber reads digits with a point among them or none.
func decimalNumber(s string) *big.Rat {
	whole, part, _ := strings.Cut(s, ".")
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(part))), nil)
	return new(big.Rat).SetFrac(wholeNumber(whole+part), scale)
}

// ratText writes r as a whole number and a fraction.
func ratText(r *big.Rat) string {
	whole, rem := new(big.Int).QuoRem(r.Num(), r.Denom(), new(big.Int))
	switch {
	case rem.Sign() == 0:
		return whole.String()
	case whole.Sign() == 0:
		return r.RatString()
	}
	return whole.String() + " " + rem.String() + "/" + r.Denom().String()
}

// start reads the number that a quantity other than a length begins with.
func (p *scanner) start(what string) (number, *ParseError) {
	if len(p.s) > longest {
		return number{}, fail(0, "", "this is too long to be %s", what)
	}
	return p.number(what)
}
