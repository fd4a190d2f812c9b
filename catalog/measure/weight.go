package measure

import (
	"math"
	"strconv"
	"strings"

	"placketeer/catalog/text"
)

// AreaWeight is the weight of a cloth in grams per square metre.
type AreaWeight float64

const (
	gramsPerOunce = 28.349523125 // avoirdupois, exact
	// OunceYard is one ounce per square yard, 33.9057 g/m².
	OunceYard AreaWeight = gramsPerOunce / (0.9144 * 0.9144)
	// heaviest and lightest cloth that is taken for one.
	lightest, heaviest AreaWeight = 1, 5000
)

// GSM gives w in grams per square metre.
func (w AreaWeight) GSM() float64 { return float64(w) }

// OzYd2 gives w in ounces per square yard.
func (w AreaWeight) OzYd2() float64 { return float64(w / OunceYard) }

// String gives w in g/m².
func (w AreaWeight) String() string { return w.Short(MM) }

// Text gives w in both units, the one of u first: 620 g/m² (18.3 oz/yd²).
func (w AreaWeight) Text(u Unit) string { return w.both(u, nearest) }

// Short gives w in the unit of u: to 1 g/m², below 100 to 0.1; to 0.1 oz/yd².
func (w AreaWeight) Short(u Unit) string { return w.one(u, nearest) }

// TextLeast gives a least weight: as Text, but rounded up, each unit on its
// own.
func (w AreaWeight) TextLeast(u Unit) string { return w.both(u, least) }

// TextMost gives a greatest weight: as Text, but rounded down, each unit on
// its own.
func (w AreaWeight) TextMost(u Unit) string { return w.both(u, most) }

func (w AreaWeight) both(u Unit, to way) string {
	return u.beside(func(u Unit) string { return w.one(u, to) })
}

func (w AreaWeight) one(u Unit, to way) string {
	switch {
	case u.Is(In):
		return decimal(rounded(w.OzYd2(), 0.1, to), 1) + " oz/yd²"
	case w < 100:
		return decimal(rounded(w.GSM(), 0.1, to), 1) + " g/m²"
	}
	return decimal(rounded(w.GSM(), 1, to), 0) + " g/m²"
}

// RunningYard is the weight of a cloth of which a yard of its length, width
// wide, weighs oz ounces. The width must be positive.
func RunningYard(oz float64, width Length) AreaWeight {
	return AreaWeight(oz * gramsPerOunce / (Yard.MM() * width.MM()) * 1e6)
}

// RunningMetre is the weight of a cloth of which a metre of its length,
// width wide, weighs g grams. The width must be positive.
func RunningMetre(g float64, width Length) AreaWeight {
	return AreaWeight(g / (Metre.MM() * width.MM()) * 1e6)
}

// duckPiece is the piece of which a numbered duck is weighed: 36 × 22 in.
const duckPiece = 22 * Inch

// Duck is the weight of a numbered cotton duck whose piece of 36 × 22 in
// weighs oz ounces.
func Duck(oz float64) AreaWeight { return RunningYard(oz, duckPiece) }

// DuckNumber names the duck whose piece of 36 × 22 in weighs oz ounces: No. N
// is 19 − oz from 1 to 12, and from 19 oz up the naught ducks 1/0 to 6/0
// ("Duck", Sizes, Inc.). It reports false for a weight that is no duck's.
func DuckNumber(oz int) (string, bool) {
	switch {
	case 7 <= oz && oz <= 18:
		return strconv.Itoa(19 - oz), true
	case 19 <= oz && oz <= 24:
		return strconv.Itoa(oz-18) + "/0", true
	}
	return "", false
}

// ParseAreaWeight reads the weight of a cloth between 1 and 5000 g/m²:
//
//	620 g/m2   620 g/m²   620 gsm   18.3 oz/yd2   18.3 oz/yd²
//	19 oz/yd run at 56 in   500 g/m run at 150 cm
//	2.07 g/100 cm2, a weighed swatch
//	duck no. 10   duck no. 2/0
//
// Ounces or grams alone are refused: an ounce may be meant by the square
// yard, by the running yard, or by the duck piece, and of leather it is a
// thickness. The error is a *ParseError.
func ParseAreaWeight(s string) (AreaWeight, error) {
	w, err := parseAreaWeight(s)
	if err == nil && !(lightest <= w && w <= heaviest) {
		err = fail(0, "", "this is out of range: cloth weighs %s to %s", lightest, heaviest)
	}
	if err != nil {
		return 0, err.in(s)
	}
	return w, nil
}

// weightWords are the units of cloth weight, without spaces.
var weightWords = []string{"g/m2", "gsm", "oz/yd2"}

func parseAreaWeight(s string) (AreaWeight, *ParseError) {
	if w, ok, err := parseDuck(s); ok {
		return w, err
	}
	p := scanner{s: s}
	n, err := p.start("a weight")
	if err != nil {
		return 0, err
	}
	x := n.float()
	p.spaces()
	at := p.i
	words, width, has := strings.Cut(foldUnit(p.s[at:])+" ", " at ")
	word := strings.ReplaceAll(words, " ", "")
	if name := strings.Fields(words); len(name) > 1 && name[0] == "oz" && !strings.HasPrefix(name[1], "/") {
		word = "oz" // 12 oz melton
		if len(name) == 2 && name[1] == "denim" {
			word = "oz/yd2" // denim is sold by the square yard alone: common practice, no source
		}
	}
	head := s[n.at:n.end]
	switch word {
	case "gsm", "g/m2", "g/sqm", "g/squaremetre", "g/squaremeter":
		if has {
			break
		}
		return AreaWeight(x), nil
	case "g/100cm2", "g/10x10cm", "g/10×10cm":
		if has {
			break
		}
		return AreaWeight(x) * 100, nil // a weighed swatch of 10 × 10 cm
	case "oz/yd2", "oz/sqyd", "oz/squareyard":
		if has {
			break
		}
		return AreaWeight(x) * OunceYard, nil
	case "oz/linearyd", "oz/linearyard", "oz/lineal yard", "oz/linealyard", "oz/linyd":
		return parseAreaWeight(head + " oz/yd run at" + widthOr(width))
	case "oz/ydrun", "oz/yardrun", "oz/runningyd", "oz/runningyard", "oz/runyd",
		"g/mrun", "g/metrerun", "g/meterrun", "g/runningm", "g/runningmetre", "g/runningmeter", "g/runm":
		ounces := word[0] == 'o'
		unit, goods := "g/m run", "150 cm"
		if ounces {
			unit, goods = "oz/yd run", "56 in"
		}
		if strings.TrimSpace(width) == "" {
			return 0, fail(len(s), head+" "+unit+" at "+goods, "the width of the cloth is missing")
		}
		// The width stands at the end as it was written.
		from := strings.LastIndex(lowerASCII(s), "at") + len("at")
		l, err := ParseLength(s[from:], NoUnit)
		if e, bad := err.(*ParseError); bad {
			e.Offset += from
			e.Reason = "in the width, " + e.Reason
			e.Instead = ""
			return 0, e
		}
		if l < Centimetre {
			return 0, fail(from, "", "no cloth is so narrow")
		}
		if ounces {
			return RunningYard(x, l), nil
		}
		return RunningMetre(x, l), nil
	case "oz", "ozs", "ounce", "ounces", "oz.":
		instead := []string{head + " oz/yd2", head + " oz/yd run at 56 in"}
		named := len(strings.Fields(words)) > 1 // 18 oz melton: no duck
		if oz, whole := n.int(); whole && !named {
			if no, ok := DuckNumber(oz); ok {
				instead = append(instead, "duck no. "+no)
			}
		}
		return 0, fail(at, either(instead...), "ounces alone have three meanings: a square yard (%s oz is then %s), "+
			"a running yard of the cloth's width, a duck piece of 36 × 22 in; and of leather they are a thickness",
			head, AreaWeight(x)*OunceYard)
	case "g", "gm", "gram", "grams", "gr":
		return 0, fail(at, either(head+" g/m2", head+" g/m run at 150 cm"), "grams alone have two meanings: a square metre or a running metre of the cloth's width")
	case "oz/yd", "oz/yard":
		return 0, fail(at, either(head+" oz/yd2", head+" oz/yd run at 56 in"), "it is not said whether the yard is square or running")
	case "g/m", "g/metre", "g/meter":
		return 0, fail(at, either(head+" g/m2", head+" g/m run at 150 cm"), "it is not said whether the metre is square or running")
	case "":
		instead := []string{head + " g/m2"}
		if AreaWeight(x)*OunceYard <= heaviest {
			instead = append(instead, head+" oz/yd2")
		}
		return 0, fail(n.end, either(instead...), "the number has no unit")
	}
	near := text.Nearest(word, weightWords)
	if near != "" {
		near = head + " " + near
	}
	return 0, fail(at, near, "there is no unit of cloth weight %s", quote(p.rest()))
}

// widthOr is the width that follows a weight by the running yard, or nothing.
func widthOr(width string) string {
	if strings.TrimSpace(width) == "" {
		return ""
	}
	return " " + strings.TrimSpace(width)
}

// foldUnit writes a unit small and plain: squares as 2, per as a slash.
func foldUnit(s string) string {
	s = strings.Join(strings.Fields(strings.ToLower(s)), " ")
	return unitFolder.Replace(s)
}

var unitFolder = strings.NewReplacer("²", "2", "^2", "2", " per ", "/", "grams", "g", "ounces", "oz", "ounce", "oz", "∕", "/", "⁄", "/")

// lowerASCII is s with small ASCII letters, and as many bytes.
func lowerASCII(s string) string {
	b := []byte(s)
	for i, c := range b {
		if 'A' <= c && c <= 'Z' {
			b[i] = c + 'a' - 'A'
		}
	}
	return string(b)
}

// parseDuck reads duck no. 10. It reports false if s is no duck.
func parseDuck(s string) (AreaWeight, bool, *ParseError) {
	at := strings.Index(lowerASCII(s), "duck")
	if at < 0 {
		return 0, false, nil
	}
	const form = "a duck is written duck no. 10, or duck no. 2/0"
	rest := strings.Fields(strings.ToLower(s[:at] + " " + s[at+len("duck"):]))
	name := strings.Join(rest, "")
	for _, no := range []string{"no.", "no", "number", "#", "nr.", "nr"} {
		if strings.HasPrefix(name, no) {
			name = name[len(no):]
			break
		}
	}
	if top, ok := strings.CutSuffix(name, "/0"); ok {
		k, err := strconv.Atoi(top)
		if err != nil || k < 1 || k > 6 {
			return 0, true, fail(0, "", "the naught ducks are 1/0 to 6/0")
		}
		return Duck(float64(18 + k)), true, nil
	}
	k, err := strconv.Atoi(name)
	if err != nil {
		return 0, true, fail(0, "", form)
	}
	if k < 1 || k > 12 {
		return 0, true, fail(0, "", "numbered ducks are 1 to 12, and heavier 1/0 to 6/0")
	}
	return Duck(float64(19 - k)), true, nil
}

// float gives n as a floating-point number.
func (n number) float() float64 {
	f, _ := n.r.Float64()
	return f
}

// int gives n as a whole number, and false if it is none or a huge one.
func (n number) int() (int, bool) {
	if !n.r.IsInt() || !n.r.Num().IsInt64() {
		return 0, false
	}
	i := n.r.Num().Int64()
	return int(i), i <= math.MaxInt32
}

// decimal writes x with at most so many decimals and no trailing zeros.
func decimal(x float64, digits int) string {
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// rounded is x to a multiple of step. What misses one by the rounding of the
// arithmetic alone is that multiple.
func rounded(x, step float64, w way) float64 {
	n := x / step
	if near := math.Round(n); math.Abs(n-near) < 1e-9 {
		return near * step
	}
	switch w {
	case least:
		return math.Ceil(n) * step
	case most:
		return math.Floor(n) * step
	}
	return math.Round(n) * step
}
