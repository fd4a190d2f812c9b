package measure

import (
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog/text"
)

// NeedleSize is the NM of a machine needle: the blade in hundredths of a
// millimetre.
type NeedleSize int

// needleSize is a metric size with its US sizes, the one that is printed
// first. Where the trade disagrees (NM 110, 120, 150) both are taken.
type needleSize struct {
	nm NeedleSize
	us []int
}

// needleSizes pairs the sizes, as Apparel Science's "Needle Number System"
// and the needle makers' leaflets do, with the small and the big sizes of
// a shoemaking wiki's "Sewing Machine Needle Sizing".
var needleSizes = []needleSize{
	{40, []int{4}}, {45, []int{5}}, {50, []int{6}}, {55, []int{7}},
	{60, []int{8}}, {65, []int{9}}, {70, []int{10}}, {75, []int{11}}, {80, []int{12}}, {85, []int{13}},
	{90, []int{14}}, {95, []int{15}}, {100, []int{16}}, {105, []int{17}}, {110, []int{18, 17}}, {120, []int{19, 20}},
	{125, []int{20}}, {130, []int{21}}, {140, []int{22}}, {150, []int{22, 23}}, {160, []int{23}}, {170, []int{23}},
	{180, []int{24}}, {200, []int{25}}, {230, []int{26}}, {250, []int{27}},
}

func findNeedle(nm NeedleSize) (needleSize, bool) {
	i, ok := slices.BinarySearchFunc(needleSizes, nm, func(n needleSize, nm NeedleSize) int { return int(n.nm - nm) })
	if !ok {
		return needleSize{}, false
	}
	return needleSizes[i], true
}

// NeedleUS gives the needle of a US size, the usual one where two share the
// number: 18 is NM 110, 20 NM 125. It reports false if there is none.
func NeedleUS(us int) (NeedleSize, bool) {
	for _, n := range needleSizes {
		if n.us[0] == us {
			return n.nm, true
		}
	}
	return 0, false
}

// US gives the US size, 0 for an NM that is not made.
func (n NeedleSize) US() int {
	if s, ok := findNeedle(n); ok {
		return s.us[0]
	}
	return 0
}

// BladeMM gives the diameter of the blade in millimetres, NM/100. Household
// needles to JIS B 9012 measure 0.02 mm more.
func (n NeedleSize) BladeMM() float64 { return float64(n) / 100 }

// Blade gives the diameter of the blade.
func (n NeedleSize) Blade() Length { return Length(n) * 10 * Micrometre }

// String gives both sizes: 90/14. An NM that is not made stands alone: NM 92.
func (n NeedleSize) String() string {
	if us := n.US(); us != 0 {
		return strconv.Itoa(int(n)) + "/" + strconv.Itoa(us)
	}
	return "NM " + strconv.Itoa(int(n))
}

// ParseNeedleSize reads a machine needle from NM 40 to 250: 90/14, NM 90,
// US 14, or 90 or 14 alone, which cannot be taken for each other, also
// with the name of the point: jeans 100/16. Both halves
// must agree where both are given; 110/18 and 110/17, 120/19 and 120/20,
// 150/22 and 150/23 are all in use. The error is a *ParseError.
func ParseNeedleSize(s string) (NeedleSize, error) {
	n, err := parseNeedle(s)
	if err != nil { // the usual ones need no pattern
		if m := sizeNeedle().FindStringSubmatch(s); m != nil {
			n, err = parseNeedle(m[1])
		}
	}
	if err != nil {
		return 0, err.in(s)
	}
	return n, nil
}

func parseNeedle(s string) (NeedleSize, *ParseError) {
	p := scanner{s: s}
	p.spaces()
	wordAt := p.i
	word := p.letters()
	p.take(".")
	p.spaces()
	switch strings.ToLower(word) {
	case "", "nm", "us", "singer":
	default:
		near := text.Nearest(word, []string{"NM", "US"})
		if near != "" {
			near += " " + p.rest()
		}
		return 0, fail(wordAt, near, "needles are numbered NM, US or both (90/14), not %s", quote(word))
	}
	at := p.i
	a, okA := atoi(p.digits())
	if !okA {
		if strings.TrimSpace(s) == "" {
			return 0, fail(0, "", "there is nothing here; a needle size is wanted")
		}
		return 0, fail(at, "", "a needle size is a whole number, such as 90/14")
	}
	p.spaces()
	if isSlash(p.peek()) {
		p.next()
		p.spaces()
		usAt := p.i
		us, ok := atoi(p.digits())
		if !ok {
			return 0, fail(usAt, "", "a needle is written 90/14, the US size after the slash")
		}
		end := p.i
		if p.spaces(); !p.done() {
			return 0, fail(p.i, s[at:end], "%s is not part of a needle size", quote(p.rest()))
		}
		if word != "" && !strings.EqualFold(word, "nm") {
			return 0, fail(wordAt, "", "the US size stands after the slash: 90/14")
		}
		return pairNeedle(at, usAt, a, us)
	}
	if !p.done() {
		return 0, fail(p.i, strings.TrimSpace(s[:p.i]), "%s is not part of a needle size", quote(p.rest()))
	}
	us := strings.EqualFold(word, "us") || strings.EqualFold(word, "singer") || word == "" && a < int(needleSizes[0].nm)
	if us {
		if n, ok := NeedleUS(a); ok {
			return n, nil
		}
		return 0, fail(at, "", "there is no needle US %d; they go from US 4 to US 27", a)
	}
	if _, ok := findNeedle(NeedleSize(a)); ok {
		return NeedleSize(a), nil
	}
	return 0, fail(at, nearestNeedle(a), "there is no needle NM %d", a)
}

// pairNeedle takes nm/us if they are the same needle.
func pairNeedle(at, usAt, nm, us int) (NeedleSize, *ParseError) {
	n, ok := findNeedle(NeedleSize(nm))
	if !ok {
		if back, swapped := findNeedle(NeedleSize(us)); swapped && slices.Contains(back.us, nm) {
			return 0, fail(at, back.nm.String(), "the NM stands before the slash, the US size after it")
		}
		return 0, fail(at, nearestNeedle(nm), "there is no needle NM %d", nm)
	}
	if slices.Contains(n.us, us) {
		return n.nm, nil
	}
	instead := []string{n.nm.String()}
	if other, ok := NeedleUS(us); ok {
		instead = append(instead, other.String())
	}
	return 0, fail(usAt, either(instead...), "NM %d and US %d are not the same needle", nm, us)
}

// nearestNeedle names the made sizes on either side of nm.
func nearestNeedle(nm int) string {
	last := len(needleSizes) - 1
	switch {
	case nm <= int(needleSizes[0].nm):
		return needleSizes[0].nm.String()
	case nm >= int(needleSizes[last].nm):
		return needleSizes[last].nm.String()
	}
	i := slices.IndexFunc(needleSizes, func(n needleSize) bool { return int(n.nm) >= nm })
	return either(needleSizes[i-1].nm.String(), needleSizes[i].nm.String())
}

// atoi reads a short whole number.
func atoi(s string) (int, bool) {
	n, err := strconv.Atoi(s)
	return n, err == nil && len(s) <= 6
}
