package measure

import (
	"math"
	"strconv"
	"strings"

	"placketeer/catalog/text"
)

// LinearDensity is the fineness of a thread in tex, grams per kilometre: the
// finished thread, all its plies together.
type LinearDensity float64

// Constants of the yarn counts, from their definitions.
const (
	// TexNe is tex times cotton count, hanks of 840 yd to the pound: 590.5412.
	TexNe = 16 * gramsPerOunce / (840 * 0.9144) * 1000
	texNm = 1000.0    // metric count, metres to the gram
	texTk = 3 * texNm // metric ticket, metres that weigh 3 g

	finest, coarsest LinearDensity = 1, 5000
)

// Tex gives d in tex.
func (d LinearDensity) Tex() float64 { return float64(d) }

// Dtex gives d in decitex, grams to 10 km.
func (d LinearDensity) Dtex() float64 { return float64(d) * 10 }

// Denier gives d in denier, grams to 9 km.
func (d LinearDensity) Denier() float64 { return float64(d) * 9 }

// Nm gives d as a metric count, metres to the gram, which is also its wt.
func (d LinearDensity) Nm() float64 { return texNm / float64(d) }

// Ne gives d as an English cotton count, hanks of 840 yd to the pound.
func (d LinearDensity) Ne() float64 { return TexNe / float64(d) }

// Tkt gives d as a metric ticket number, 3000 over tex.
func (d LinearDensity) Tkt() float64 { return texTk / float64(d) }

// CottonTkt gives d as a cotton ticket number, three times the cotton count.
func (d LinearDensity) CottonTkt() float64 { return 3 * TexNe / float64(d) }

// Diameter gives the width of a sewing thread of the fibre "cotton",
// "polyester" or "nylon" (or "polyamide"), and reports false for another. It
// is √(4·tex/(1000·π·ρφ)) mm with Peirce's 0.909 g/cm³ for cotton yarn; for
// polyester and nylon the fibre fills 0.60 of the thread (from memory).
func (d LinearDensity) Diameter(fibre string) (Length, bool) {
	var mm float64
	switch fibre {
	case "cotton":
		mm = 0.0374
	case "polyester":
		mm = 0.0392
	case "nylon", "polyamide":
		mm = 0.0431
	default:
		return 0, false
	}
	return FromMM(mm * math.Sqrt(float64(d))), true
}

// String gives d in tex.
func (d LinearDensity) String() string { return "Tex " + decimal(d.Tex(), 1) }

// Text gives d in tex with the metric ticket beside it: Tex 40 (Tkt 75).
func (d LinearDensity) Text() string { return d.String() + " (Tkt " + decimal(d.Tkt(), 0) + ")" }

// countSystem is one way of numbering threads.
type countSystem struct {
	name  string // as printed before the number
	tex   func(n float64) float64
	plied bool // n/k is k plies of n
}

var (
	inTex    = &countSystem{name: "Tex", tex: func(n float64) float64 { return n }}
	inDtex   = &countSystem{name: "dtex", tex: func(n float64) float64 { return n / 10 }}
	inDenier = &countSystem{name: "den", tex: func(n float64) float64 { return n / 9 }}
	inNm     = &countSystem{name: "Nm", tex: func(n float64) float64 { return texNm / n }, plied: true}
	inNe     = &countSystem{name: "Ne", tex: func(n float64) float64 { return TexNe / n }, plied: true}
	inWt     = &countSystem{name: "wt", tex: func(n float64) float64 { return texNm / n }}
	inTkt    = &countSystem{name: "Tkt", tex: func(n float64) float64 { return texTk / n }}
	inCotton = &countSystem{name: "cotton Tkt", tex: func(n float64) float64 { return 3 * TexNe / n }}
)

// countWords are the words for them, small.
var countWords = map[string]*countSystem{
	"tex": inTex, "t": inTex,
	"dtex": inDtex, "decitex": inDtex,
	"den": inDenier, "denier": inDenier, "deniers": inDenier, "d": inDenier,
	"nm": inNm, "ne": inNe, "nec": inNe,
	"wt": inWt, "weight": inWt,
	"tkt": inTkt, "ticket": inTkt,
}

var countSpellings = []string{"Tex", "dtex", "den", "denier", "Nm", "Ne", "wt", "Tkt", "ticket"}

// tradeSizes are the numbers of denier ÷ 10 that heavy threads are sold by in
// the US.
var tradeSizes = map[int]bool{30: true, 46: true, 69: true, 92: true, 138: true, 207: true, 277: true, 346: true, 415: true, 554: true}

// ParseLinearDensity reads the size of a thread between 1 and 5000 tex:
//
//	Tex 40   40 tex   T-40   400 dtex   360 den   40 wt
//	Nm 25   Nm 80/2   Ne 40/2   Tkt 75   cotton Tkt 40   210d   V69
//
// The word may stand before or after the number, in any case. Ne 40/2 is two
// plies of Ne 40. Tkt alone is the metric ticket. A number alone is refused:
// it has four meanings. The error is a *ParseError.
func ParseLinearDensity(s string) (LinearDensity, error) {
	if m := commercialThread().FindStringSubmatch(s); m != nil {
		if tex, ok := commercialTex[m[1]]; ok {
			return tex, nil
		}
		return 0, fail(0, "", "no published table that is known here gives the Tex of that size: ask the maker for it").in(s)
	}
	d, err := parseThread(s)
	if err != nil {
		return 0, err.in(s)
	}
	return d, nil
}

func parseThread(s string) (LinearDensity, *ParseError) {
	p := scanner{s: s}
	if len(s) > longest {
		return 0, fail(0, "", "this is too long to be a thread size")
	}
	sys, ticket, wordAt, err := p.countWord(nil)
	if err != nil {
		return 0, err
	}
	before := sys != nil
	if before {
		if p.take("."); !p.spaces() {
			p.take("-") // T-40
		}
	} else if ticket != "" {
		return 0, fail(wordAt, "", "%s of what? a ticket is written %s Tkt 40", ticket, ticket)
	} else {
		p.skipNo()
	}
	p.spaces()
	at := p.i
	n, plies, err := p.count()
	if err != nil {
		return 0, err
	}
	numberText := s[at:p.i]
	if q := p; q.take("s/") && q.digits() != "" { // cotton as the trade writes it
		return 0, fail(p.i, "Ne "+numberText+s[p.i+1:q.i], "a cotton count is written with Ne before it")
	}
	after, ticketAfter, afterAt, err := p.countWord(sys)
	if err != nil {
		return 0, err
	}
	p.take(".")
	if p.spaces(); !p.done() {
		return 0, p.leftover(p.i)
	}
	if after != nil {
		if before && after != sys {
			return 0, fail(afterAt, "", "the number has two units")
		}
		sys = after
	}
	if ticketAfter != "" {
		ticket = ticketAfter
	}
	if sys == nil {
		return 0, bareCount(at, numberText, n, plies)
	}
	switch {
	case ticket == "":
	case sys != inTkt:
		return 0, fail(wordAt, "", "only a ticket number is cotton or metric")
	case ticket == "cotton":
		sys = inCotton
	}
	if n <= 0 {
		return 0, fail(at, "", "no thread is numbered 0")
	}
	tex := sys.tex(n)
	if plies > 0 {
		if !sys.plied {
			return 0, fail(at, "", "only Ne and Nm are written with plies; give the finished thread's %s", sys.name)
		}
		tex *= float64(plies)
	}
	d := LinearDensity(tex)
	if !(finest <= d && d <= coarsest) {
		return 0, fail(at, "", "this is out of range: Tex %g to %g", float64(finest), float64(coarsest))
	}
	return d, nil
}

// countWord reads the words of a thread number: a system, and cotton or
// metric beside a ticket. had is the system already read.
func (p *scanner) countWord(had *countSystem) (sys *countSystem, ticket string, at int, err *ParseError) {
	for {
		p.spaces()
		q := *p
		word := q.letters()
		lower := strings.ToLower(word)
		switch {
		case word == "" || lower == "no" || lower == "nr" || lower == "nan" || lower == "inf" || lower == "infinity":
			return sys, ticket, at, nil
		case lower == "cotton" || lower == "metric":
			if ticket != "" {
				return sys, ticket, at, fail(p.i, "", "a ticket is cotton or metric, once")
			}
			ticket = lower
			if sys == nil {
				at = p.i
			}
		case countWords[lower] != nil:
			if sys != nil {
				return sys, ticket, at, fail(p.i, "", "the number has two units")
			}
			sys, at = countWords[lower], p.i
		case had != nil:
			return sys, ticket, at, nil // left over
		default:
			near := text.Nearest(word, countSpellings)
			if near != "" {
				near = strings.TrimSpace(p.s[:p.i] + near + q.s[q.i:])
			}
			return sys, ticket, at, fail(p.i, near, "there is no thread number %s", quote(word))
		}
		p.i = q.i
		if sys != nil {
			q.take(".")
			q.spaces()
			if w := strings.ToLower(q.letters()); w != "cotton" && w != "metric" && (w == "" || countWords[w] == nil) {
				return sys, ticket, at, nil
			}
			p.take(".")
		}
	}
}

// skipNo skips No., Nr. or #, which say nothing.
func (p *scanner) skipNo() {
	q := *p
	if w := strings.ToLower(q.letters()); w == "no" || w == "nr" {
		q.take(".")
		q.spaces()
		*p = q
	}
	p.take("#")
}

// count reads a thread number and, after a slash, its plies; 0 if none are
// given.
func (p *scanner) count() (n float64, plies int, err *ParseError) {
	q := *p
	at := q.i
	top := q.digits()
	if top != "" && q.take(".") {
		q.digits()
	}
	end := q.i
	q.spaces()
	if top == "" || !isSlash(q.peek()) {
		v, err := p.number("a thread size")
		if err != nil {
			return 0, 0, err
		}
		if v.fraction {
			return 0, 0, fail(v.at, "", "a thread number has no fraction")
		}
		return v.float(), 0, nil
	}
	q.next()
	q.spaces()
	k, bad := strconv.Atoi(q.digits())
	if bad != nil || k < 1 || k > 12 {
		return 0, 0, fail(end, "", "1 to 12 plies follow the slash")
	}
	n, _ = strconv.ParseFloat(p.s[at:end], 64)
	*p = q
	return n, k, nil
}

// bareCount explains a number without a system.
func bareCount(at int, text string, n float64, plies int) *ParseError {
	if n <= 0 || n > texTk {
		return fail(at, "", "no thread is numbered %s", text)
	}
	tex := func(s *countSystem, n float64) string { return decimal(s.tex(n), 1) }
	if plies > 0 {
		n /= float64(plies)
		return fail(at, either("Ne "+text, "Nm "+text),
			"a thread number alone has more than one meaning: Ne %[1]s is Tex %[2]s, Nm %[1]s is Tex %[3]s", text, tex(inNe, n), tex(inNm, n))
	}
	us := ""
	if k := int(n); float64(k) == n && tradeSizes[k] {
		us = "; as a US trade size it is " + decimal(n*10, 0) + " den"
	}
	return fail(at, either(text+" wt", "Ne "+text+"/3", "Tkt "+text, "cotton Tkt "+text),
		"a thread number alone has four meanings: %[1]s wt is Tex %[2]s, Ne %[1]s/3 is Tex %[3]s, Tkt %[1]s is Tex %[4]s, cotton Tkt %[1]s is Tex %[5]s%[6]s",
		text, tex(inWt, n), tex(inNe, n/3), tex(inTkt, n), tex(inCotton, n), us)
}
