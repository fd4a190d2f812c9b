package measure

import (
	"math/big"
	"regexp"
	"slices"
	"strings"
	"sync"
)

// Lengths as people say and type them.

// wording is a pattern that is made ready when it is first asked for: most
// runs never ask.
func wording(pattern string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(pattern) })
}

// spoken are words of a length in the form in which it is read. One is looked
// for only where one of its signs stands.
var spoken = []struct {
	signs []string
	say   func() *regexp.Regexp
	is    string
}{
	{[]string{"and"}, wording(`(?i)(\d)\s+and\s+(\d)`), "$1 $2"},                      // 1 and 1/8 in
	{[]string{" of "}, wording(`(?i)(\d)\s+of\s+an?\s+`), "$1 "},                      // 3/4 of an inch
	{[]string{"half"}, wording(`(?i)^\s*(?:a\s+|one\s+)?half\s+(?:an?\s+)?`), "1/2 "}, // half an inch
	{[]string{"quarter"}, wording(`(?i)^\s*(?:a\s+|one\s+)?quarter\s+(?:of\s+)?(?:an?\s+)?`), "1/4 "},
	{[]string{"quarter"}, wording(`(?i)^\s*three\s+quarters?\s+(?:of\s+)?(?:an?\s+)?`), "3/4 "},
	{[]string{"'", "′", "’", "‴"}, wording(`(\d)\s*(?:'''|′′′|’’’|‴)\s*$`), "${1}L"}, // the mark of the ligne
}

// asSaid is a length as it is read: 1 and 1/8 in is 1 1/8 in, half an inch is
// 1/2 inch, 40 with the ligne mark is 40L.
func asSaid(s string) string {
	if len(s) > longest {
		return s
	}
	for _, w := range spoken {
		lower := strings.ToLower(s)
		if slices.ContainsFunc(w.signs, func(sign string) bool { return strings.Contains(lower, sign) }) {
			s = w.say().ReplaceAllString(s, w.is)
		}
	}
	return s
}

// Meanings are the lengths that a whole number without a unit may be: in
// millimetres, in ligne, and, where it is as many millimetres, in eighths of
// an inch, or in inches where it is small. Nothing where s is no such number.
func Meanings(s string) []string {
	s = strings.TrimSpace(s)
	p := scanner{s: s}
	n, err := p.number("a length")
	if err != nil || n.fraction || !p.done() {
		return nil
	}
	whole, ok := n.int()
	switch {
	case !ok:
		return []string{s + "mm", s + "in"}
	case whole < 6:
		return []string{s + "in", s + "mm", s + "cm"}
	}
	out := []string{s + "mm"}
	if whole <= 100 {
		out = append(out, s+"L")
	}
	if l := Length(whole) * Millimetre; l <= Metre {
		out = append(out, strings.TrimSuffix(l.RoundNearest(Inch/8).Exact(In), " in")+"in")
	}
	return out
}

// StitchesAnInch is how many stitches of that length an inch has.
func StitchesAnInch(stitch Length) float64 { return float64(Inch) / float64(stitch) }

var stitchWords = wording(`(?i)^\s*([0-9.]+)\s*(?:spi|st(?:itches)?\s*(?:/|per|to\s+the|an|to\s+an)\s*in(?:ch)?)\s*$`)

// ParseStitch reads the length of a stitch: 12 spi, 8 stitches an inch, 2.5 mm.
// The error is a *ParseError.
func ParseStitch(s string) (Length, error) {
	if m := stitchWords().FindStringSubmatch(s); m != nil {
		n, ok := new(big.Rat).SetString(m[1])
		if !ok || n.Sign() <= 0 || n.Cmp(big.NewRat(1, 1)) < 0 || n.Cmp(big.NewRat(100, 1)) > 0 {
			return 0, fail(0, "", "an inch has 1 to 100 stitches").in(s)
		}
		return Length(roundRat(n.Quo(big.NewRat(int64(Inch), 1), n))), nil
	}
	l, err := ParseLengthMax(s, NoUnit, 15*Millimetre)
	if err == nil && l == 0 {
		err = fail(0, "", "a stitch cannot be nothing").in(s)
	}
	return l, err
}

// stitchOf is a length that is said to be a stitch.
var stitchOf = wording(`(?i)^(.*\S)\s*stitch(?:es)?\s*(?:long|length)?$`)

// zipNumber is the number of a zip: #5 zip, zip no. 5.
var zipNumber = wording(`(?i)^\s*(?:(?:#|no\.?|number|size)\s*(\d+)\s*zip(?:per)?|zip(?:per)?\s*(?:#|no\.?|number|size)?\s*(\d+))\s*$`)

// sizeNeedle is a needle's size said with its name: size 14, jeans 100/16.
var sizeNeedle = wording(`(?i)^\s*(?:needle\s+)?(?:size\s+|universal\s+|jeans\s+|denim\s+|sharp\s+|microtex\s+|ballpoint\s+|jersey\s+|stretch\s+|leather\s+|topstitch\s+)+(?:size\s+)?(\d+(?:\s*/\s*\d+)?)\s*(?:needle)?\s*$`)

// commercialThread is a size of bonded thread as it is sold in the US: V69.
var commercialThread = wording(`(?i)^\s*(?:v\s*-?\s*|size\s+v)(\d+)\s*$`)

// commercialTex are the sizes of which a published table gives the Tex: 69 is
// the size E, Tex 70 (a fabric shop's thread table).
var commercialTex = map[string]LinearDensity{"69": 70}

// IsFraction says whether s is a fraction of something, with nothing after it,
// below a whole or of an inch's parts: 7/8, 1 1/8.
func IsFraction(s string) bool {
	p := scanner{s: strings.TrimSpace(s)}
	n, err := p.number("a length")
	return err == nil && n.fraction && p.done()
}
