package measure

import (
	"math"
	"strings"

	"placketeer/catalog/text"
)

// Temperature is in degrees Celsius.
type Temperature float64

// The soleplate limits of the ironing symbols of ISO 3758, one dot to three.
const (
	OneDot    Temperature = 110
	TwoDots   Temperature = 150
	ThreeDots Temperature = 200
)

var dots = [...]Temperature{0, OneDot, TwoDots, ThreeDots}

const hottest Temperature = 300

// C gives t in degrees Celsius.
func (t Temperature) C() float64 { return float64(t) }

// F gives t in degrees Fahrenheit.
func (t Temperature) F() float64 { return float64(t)*1.8 + 32 }

// Dots gives the most dots on an iron that stay within t, 0 if even one dot
// is hotter (ISO 3758: 110, 150 and 200 °C).
func (t Temperature) Dots() int {
	n := 0
	for n+1 < len(dots) && dots[n+1] <= t {
		n++
	}
	return n
}

// String gives t in °C, to the whole degree.
func (t Temperature) String() string { return t.ShortGiven(MM) }

// Text gives t in both scales, the one of u first, as an iron is set: to whole
// tens of °C and fives of °F, 150 °C (300 °F).
func (t Temperature) Text(u Unit) string { return t.both(u, nearest) }

// Short gives t as Text does, in the scale of u alone.
func (t Temperature) Short(u Unit) string { return t.one(u, nearest) }

// TextLeast gives a least heat: as Text, but rounded up, each scale on its
// own.
func (t Temperature) TextLeast(u Unit) string { return t.both(u, least) }

// TextMost gives a limit: as Text, but rounded down, each scale on its own.
func (t Temperature) TextMost(u Unit) string { return t.both(u, most) }

// TextGiven gives t as the file has it: °C to the whole degree, °F to the
// fives that irons and presses are marked in, or to the degree where it was
// written so: 125 °C (255 °F).
func (t Temperature) TextGiven(u Unit) string {
	return u.beside(t.ShortGiven)
}

// ShortGiven gives t as TextGiven does, in the scale of u alone.
func (t Temperature) ShortGiven(u Unit) string {
	switch {
	case !u.Is(In):
		return decimal(t.C(), 0) + " °C"
	case whole(t.F()) && !whole(t.C()):
		return decimal(t.F(), 0) + " °F"
	}
	return t.one(In, nearest)
}

// whole says whether a number of degrees was written as a whole one.
func whole(x float64) bool { return math.Abs(x-math.Round(x)) < 1e-6 }

func (t Temperature) both(u Unit, w way) string {
	return u.beside(func(u Unit) string { return t.one(u, w) })
}

func (t Temperature) one(u Unit, w way) string {
	if u.Is(In) {
		return decimal(rounded(t.F(), 5, w), 0) + " °F"
	}
	return decimal(rounded(t.C(), 10, w), 0) + " °C"
}

// ParseTemperature reads a temperature from 0 to 300 °C: 150 C, 150 °C,
// 300 F, or the dots of an ironing symbol, 2 dots. The error is a
// *ParseError.
func ParseTemperature(s string) (Temperature, error) {
	t, err := parseTemperature(s)
	if err != nil {
		return 0, err.in(s)
	}
	return t, nil
}

func parseTemperature(s string) (Temperature, *ParseError) {
	p := scanner{s: s}
	n, err := p.start("a temperature")
	if err != nil {
		return 0, err
	}
	x := n.float()
	p.spaces()
	at, head := p.i, s[n.at:n.end]
	word := strings.ToLower(p.rest())
	for _, sign := range []string{"°", "º", "˚", "degrees", "degree", "deg"} {
		if rest, ok := strings.CutPrefix(word, sign); ok {
			word = strings.TrimSpace(rest)
			break
		}
	}
	var t Temperature
	switch word {
	case "c", "celsius", "℃":
		t = Temperature(x)
	case "f", "fahrenheit", "℉":
		t = Temperature((x - 32) * 5 / 9)
	case "dot", "dots":
		k, ok := n.int()
		if !ok || k < 1 || k >= len(dots) {
			return 0, fail(n.at, "", "an iron has 1, 2 or 3 dots")
		}
		return dots[k], nil
	case "":
		return 0, fail(n.end, either(head+" C", head+" F"), "it is not said in which degrees")
	default:
		near := text.Nearest(word, []string{"dots", "dot", "celsius", "fahrenheit"})
		if near != "" {
			near = head + " " + near
		}
		return 0, fail(at, near, "temperatures are in C, F or dots, not %s", quote(p.rest()))
	}
	if t < 0 || t > hottest {
		return 0, fail(n.at, "", "this is out of range: 0 to 300 °C, 32 to 572 °F")
	}
	return t, nil
}
