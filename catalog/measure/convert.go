package measure

import (
	"strconv"
	"strings"
	"sync"
	"unicode"

	"placketeer/catalog/text"
)

// Conversion is a quantity in every unit of its kind, in a fixed order.
type Conversion struct {
	Kind   string // length, cloth weight, thread, needle, temperature, force or torque
	Values []Converted
	Note   string // what was taken for granted, or ""
}

// Converted is a quantity in one unit. Key names the unit in JSON, Text is
// for a person and carries the unit.
type Converted struct {
	Key   string
	Value float64
	Text  string
}

// kind is a kind of quantity that Convert tells by its words.
type kind uint8

const (
	unknownKind kind = iota
	lengthKind
	weightKind
	threadKind
	needleKind
	temperatureKind
	forceKind
	torqueKind
	stitchKind
	zipKind
	metricCountOrNeedle // Nm
)

// kindWords are the words, small, that tell a kind.
var kindWords = sync.OnceValue(func() map[string]kind {
	m := map[string]kind{
		"oz": weightKind, "ozs": weightKind, "ounce": weightKind, "ounces": weightKind,
		"g": weightKind, "gm": weightKind, "gram": weightKind, "grams": weightKind, "gsm": weightKind, "duck": weightKind,
		"cotton": threadKind, "metric": threadKind, "nm": metricCountOrNeedle,
		"us": needleKind, "singer": needleKind,
		"c": temperatureKind, "f": temperatureKind, "celsius": temperatureKind, "fahrenheit": temperatureKind,
		"deg": temperatureKind, "degree": temperatureKind, "degrees": temperatureKind, "dot": temperatureKind, "dots": temperatureKind,
		"n": forceKind, "newton": forceKind, "newtons": forceKind, "cn": forceKind, "lbf": forceKind, "kgf": forceKind,
		"lb": forceKind, "lbs": forceKind, "pound": forceKind, "pounds": forceKind, "kg": forceKind, "kgs": forceKind,
	}
	for w := range countWords {
		if _, ok := m[w]; !ok {
			m[w] = threadKind
		}
	}
	for w := range units {
		m[strings.ToLower(w)] = lengthKind
	}
	return m
})

// convertWords are the words offered for a unit that is none.
var convertWords = append(append([]string{"gsm", "oz", "lbf", "kgf", "dots", "newton", "duck"}, countSpellings...), unitWords...)

// longestConverted is the longest length Convert takes: 1000 km.
const longestConverted = 1_000_000 * Metre

// Convert tells which kind of quantity s is and gives it in every unit of
// that kind. The forms are those of ParseLength, ParseAreaWeight,
// ParseLinearDensity, ParseNeedleSize, ParseTemperature and ParseForce; a
// number without a unit is refused with its possible meanings. Nm with a
// small m is the thread count, NM the needle. The keys are, in this order:
//
//	length       mm in ligne cm ft yd
//	cloth weight gsm oz_yd2
//	thread       tex denier nm ne tkt cotton_tkt dtex
//	needle       needle_nm needle_us blade_mm
//	temperature  c f dots (the most dots that stay within it)
//	force        n lbf kgf
//	torque       n_m in_lbf
//	stitch       stitch_mm spi per_10_cm
//	zip number   number
//
// The error is a *ParseError.
func Convert(s string) (Conversion, error) {
	c, err := convert(s)
	if err != nil {
		return Conversion{}, err
	}
	return c, nil
}

func convert(s string) (c Conversion, err error) {
	if len(s) > longest {
		return c, fail(0, "", "this is too long to be one quantity").in(s)
	}
	k, word := tellKind(s)
	switch m := stitchOf().FindStringSubmatch(s); {
	case stitchWords().MatchString(s):
		k = stitchKind
	case m != nil:
		k, s = stitchKind, m[1]
	case zipNumber().MatchString(s):
		k = zipKind
	case sizeNeedle().MatchString(s):
		k = needleKind
	case commercialThread().MatchString(s):
		k = threadKind
	case k == unknownKind && IsFraction(s), strings.HasPrefix(asSaid(s), "1/") && k == unknownKind, asSaid(s) != s:
		k = lengthKind
	}
	if l := strings.ToLower(s); strings.Contains(l, "n·m") || strings.Contains(l, "n*m") || strings.Contains(l, "in-lbf") || strings.Contains(l, "in lbf") || strings.Contains(l, "lbf-in") {
		k = torqueKind
	}
	if k == metricCountOrNeedle {
		switch word {
		case "Nm":
			k = threadKind
			if n, e := ParseNeedleSize(s); e == nil {
				c.Note = "Nm is read as the metric count of a thread; the needle is written NM " + decimal(float64(n), 0)
			}
		case "NM":
			k = needleKind
		default:
			n := strings.TrimSpace(strings.Replace(s, word, "", 1))
			return c, fail(strings.Index(s, word), either("Nm "+n, "NM "+n),
				"%s may be the metric count of a thread, Nm, or the size of a needle, NM", word).in(s)
		}
	}
	switch k {
	case lengthKind:
		l, err := ParseLengthMax(s, NoUnit, longestConverted)
		if err != nil {
			return c, err
		}
		return convertLength(l), nil
	case weightKind:
		w, err := ParseAreaWeight(s)
		if err != nil {
			return c, err
		}
		c.Kind, c.Values = "cloth weight", []Converted{
			{"gsm", w.GSM(), decimal(w.GSM(), 1) + " g/m²"},
			{"oz_yd2", w.OzYd2(), decimal(w.OzYd2(), 2) + " oz/yd²"},
		}
	case threadKind:
		d, err := ParseLinearDensity(s)
		if err != nil {
			return c, err
		}
		c.Kind, c.Values = "thread", []Converted{
			{"tex", d.Tex(), "Tex " + decimal(d.Tex(), 2)},
			{"denier", d.Denier(), decimal(d.Denier(), 1) + " den"},
			{"nm", d.Nm(), "Nm " + decimal(d.Nm(), 2)},
			{"ne", d.Ne(), "Ne " + decimal(d.Ne(), 2)},
			{"tkt", d.Tkt(), "Tkt " + decimal(d.Tkt(), 1)},
			{"cotton_tkt", d.CottonTkt(), "cotton Tkt " + decimal(d.CottonTkt(), 1)},
			{"dtex", d.Dtex(), decimal(d.Dtex(), 1) + " dtex"},
		}
	case needleKind:
		if m := sizeNeedle().FindStringSubmatch(s); m != nil {
			if !strings.Contains(m[1], "/") && strings.Contains(strings.ToLower(s), "size") {
				c.Note = "A size alone is read as that of a machine needle. The number of a hand needle rises as it gets finer."
			}
		}
		n, err := ParseNeedleSize(s)
		if err != nil {
			return c, err
		}
		c.Kind, c.Values = "needle", []Converted{
			{"needle_nm", float64(n), "NM " + decimal(float64(n), 0)},
			{"needle_us", float64(n.US()), "US " + decimal(float64(n.US()), 0)},
			{"blade_mm", n.BladeMM(), decimal(n.BladeMM(), 2) + " mm blade"},
		}
	case temperatureKind:
		t, err := ParseTemperature(s)
		if err != nil {
			return c, err
		}
		iron := "too cool for an iron: one dot goes up to 110 °C"
		switch n := t.Dots(); n {
		case 1:
			iron = "1 dot at most"
		case 2, 3:
			iron = decimal(float64(n), 0) + " dots at most"
		}
		c.Kind, c.Values = "temperature", []Converted{
			{"c", t.C(), decimal(t.C(), 1) + " °C"},
			{"f", t.F(), decimal(t.F(), 1) + " °F"},
			{"dots", float64(t.Dots()), iron},
		}
	case forceKind:
		f, err := ParseForce(s)
		if err != nil {
			return c, err
		}
		c.Kind, c.Values = "force", []Converted{
			{"n", f.N(), decimal(f.N(), 2) + " N"},
			{"lbf", f.Lbf(), decimal(f.Lbf(), 2) + " lbf"},
			{"kgf", f.Kgf(), decimal(f.Kgf(), 2) + " kgf"},
		}
	case stitchKind:
		l, err := ParseStitch(s)
		if err != nil {
			return c, err
		}
		c.Kind, c.Values = "stitch", []Converted{
			{"stitch_mm", l.MM(), decimal(l.MM(), 3) + " mm long"},
			{"spi", rounded(StitchesAnInch(l), 0.001, nearest), decimal(StitchesAnInch(l), 1) + " to the inch"},
			{"per_10_cm", rounded(StitchesAnInch(l)*10/2.54, 0.001, nearest), decimal(StitchesAnInch(l)*10/2.54, 1) + " to 10 cm"},
		}
	case zipKind:
		m := zipNumber().FindStringSubmatch(s)
		n, _ := strconv.ParseFloat(m[1]+m[2], 64)
		c.Kind, c.Values = "zip number", []Converted{{"number", n, "zip no. " + decimal(n, 0)}}
		c.Note = "It is a number, not a measure: the closed chain is about as many millimetres wide, or 1 mm more. Measure across the closed teeth."
	case torqueKind:
		t, err := ParseTorque(s)
		if err != nil {
			return c, err
		}
		c.Kind, c.Values = "torque", []Converted{
			{"n_m", t.NM(), decimal(t.NM(), 3) + " N·m"},
			{"in_lbf", t.InLbf(), decimal(t.InLbf(), 2) + " in-lbf"},
		}
	default:
		return c, unknownQuantity(s, word)
	}
	for i := range c.Values {
		c.Values[i].Value = clean(c.Values[i].Value)
	}
	return c, nil
}

// clean takes off the last digit or two, which are rounding: 15 lbf is not
// 15.000000000000002.
func clean(x float64) float64 {
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64)
	return x
}

func convertLength(l Length) Conversion {
	in := decimal(l.In(), 4) + " in"
	if l%(Inch/64) == 0 {
		in = l.Exact(In)
	} else if l >= Inch/32 {
		in += ", about " + l.Short(In)
	}
	return Conversion{Kind: "length", Values: []Converted{
		{"mm", l.MM(), decimal(l.MM(), 3) + " mm"},
		{"in", l.In(), in},
		{"ligne", l.Lignes(), decimal(l.Lignes(), 2) + " L"},
		{"cm", float64(l) / float64(Centimetre), decimal(float64(l)/float64(Centimetre), 4) + " cm"},
		{"ft", float64(l) / float64(Foot), decimal(float64(l)/float64(Foot), 4) + " ft"},
		{"yd", float64(l) / float64(Yard), decimal(float64(l)/float64(Yard), 4) + " yd"},
	}}
}

// tellKind finds the first word or sign that tells the kind of s, and the
// word, or else the first word that tells nothing.
func tellKind(s string) (kind, string) {
	leather := strings.Contains(strings.ToLower(s), "leather")
	stray := ""
	p := scanner{s: s}
	for !p.done() {
		r := p.peek()
		switch {
		case strings.ContainsRune("°º˚℃℉", r):
			return temperatureKind, ""
		case strings.ContainsRune(`"'″′”’“`, r):
			return lengthKind, ""
		case !unicode.IsLetter(r):
			p.next()
			continue
		}
		word := p.letters()
		k := kindWords()[strings.ToLower(word)]
		switch {
		case k == weightKind && leather:
			return lengthKind, word
		case k != unknownKind:
			return k, word
		case stray == "":
			stray = word
		}
	}
	if stray == "" || strings.EqualFold(stray, "no") || strings.EqualFold(stray, "nr") {
		if k := tellPair(s); k != unknownKind {
			return k, ""
		}
	}
	return unknownKind, stray
}

// tellPair tells a needle, a plied thread and a fraction of a length apart
// when there is nothing but a/b.
func tellPair(s string) kind {
	p := scanner{s: s}
	p.spaces()
	if strings.HasPrefix(p.s[p.i:], "#") || p.letters() != "" {
		return threadKind // No. 50
	}
	a, okA := atoi(p.digits())
	p.spaces()
	if !okA || !isSlash(p.peek()) {
		return unknownKind
	}
	p.next()
	p.spaces()
	b, okB := atoi(p.digits())
	if p.spaces(); !okB || !p.done() {
		return unknownKind
	}
	switch {
	case b <= 1, a < b && b <= 64 && b&(b-1) == 0:
		return lengthKind
	case b <= 6, a < int(needleSizes[0].nm) && b <= 12:
		return threadKind
	}
	return needleKind
}

// unknownQuantity explains a text that is of no kind.
func unknownQuantity(s, word string) *ParseError {
	p := scanner{s: s}
	n, err := p.number("a quantity")
	lower := strings.ToLower(word)
	switch {
	case err != nil && (word == "" || lower == "nan" || lower == "inf" || lower == "infinity" || n.r != nil):
	case err != nil:
		err = fail(p.i, "", "a quantity has a number and a unit, such as 40L or Tex 40")
	case word != "":
		near := text.Nearest(word, convertWords)
		if near != "" {
			near = strings.TrimSpace(strings.Replace(s, word, near, 1))
		}
		err = fail(strings.Index(s, word), near, "there is no unit %s", quote(word))
	default:
		text := s[n.at:n.end]
		if p.spaces(); !p.done() {
			err = fail(p.i, "", "%s is not part of a quantity", quote(p.rest()))
			break
		}
		if n.fraction {
			err = fail(n.end, either(text+" in", text+" mm"), "the number has no unit")
			break
		}
		x := n.float()
		err = bareCount(n.at, text, x, 0)
		instead := []string{text + " mm", text + " in", text + " wt", "Ne " + text + "/3", "Tkt " + text, "cotton Tkt " + text}
		if k, ok := n.int(); ok {
			if _, made := findNeedle(NeedleSize(k)); made {
				instead = append(instead, "NM "+text)
			} else if _, made := NeedleUS(k); made {
				instead = append(instead, "US "+text)
			}
		}
		const reason = "the number has no unit"
		if err.Instead == "" {
			err = fail(n.end, either(instead[:2]...), reason)
			break
		}
		err.Reason = reason + "; " + err.Reason
		err.Instead = either(instead...)
	}
	return err.in(s)
}
