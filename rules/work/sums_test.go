package work

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
)

var (
	// A length as the working prints it, with what it is called before it and its ±
	// behind it; or a bare number.
	amount  = regexp.MustCompile(`([0-9]+ [0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?) ?(mm|in|m|yd|cm)?\b`)
	other   = regexp.MustCompile(`[0-9] ?(?:g\b|%|N\b|°|Tex|µg|ligne)`)
	inOther = regexp.MustCompile(` \([0-9 ./]+ (?:mm|in|yd)\)| ± [0-9./ ]+(?: (?:mm|in))?`)
	spell   = regexp.MustCompile(`[^-+×÷() 0-9.]+`)
	hyphen  = regexp.MustCompile(`([a-z])-([a-z])`)
)

// value is what an expression of the working comes to, mm, and how many terms
// it has; ok is false where it is no plain sum.
func value(s string) (v float64, terms int, ok bool) {
	s = strings.ReplaceAll(inOther.ReplaceAllString(s, ""), "two seam allowances of", "2 ×")
	if other.MatchString(s) {
		return 0, 0, false
	}
	lengths := 0
	s = amount.ReplaceAllStringFunc(s, func(q string) string {
		m := amount.FindStringSubmatch(q)
		f := 0.0
		for _, part := range strings.Fields(m[1]) {
			if a, b, cut := strings.Cut(part, "/"); cut {
				x, _ := strconv.ParseFloat(a, 64)
				y, _ := strconv.ParseFloat(b, 64)
				f += x / y
			} else {
				x, _ := strconv.ParseFloat(part, 64)
				f += x
			}
		}
		switch m[2] {
		case "in":
			f *= 25.4
		case "m":
			f *= 1000
		case "yd":
			f *= 914.4
		case "cm":
			f *= 10
		}
		if m[2] != "" {
			lengths++
		}
		terms++
		return " " + strconv.FormatFloat(f, 'f', 6, 64) + " "
	})
	if lengths == 0 {
		return 0, 0, false
	}
	p := &sum{toks: strings.Fields(strings.NewReplacer("(", " ( ", ")", " ) ").Replace(spell.ReplaceAllString(strings.ReplaceAll(hyphen.ReplaceAllString(s, "$1 $2"), "−", "-"), " ")))}
	v = p.add()
	return v, terms, !p.bad && len(p.toks) == 0
}

type sum struct {
	toks []string
	bad  bool
}

func (p *sum) next(of ...string) string {
	for _, s := range of {
		if len(p.toks) > 0 && p.toks[0] == s {
			p.toks = p.toks[1:]
			return s
		}
	}
	return ""
}

func (p *sum) add() float64 {
	v := p.mul()
	for {
		switch p.next("+", "-") {
		case "+":
			v += p.mul()
		case "-":
			v -= p.mul()
		default:
			return v
		}
	}
}

func (p *sum) mul() float64 {
	v := p.one()
	for {
		switch p.next("×", "÷") {
		case "×":
			v *= p.one()
		case "÷":
			v /= p.one()
		default:
			return v
		}
	}
}

func (p *sum) one() float64 {
	if p.next("(") != "" {
		v := p.add()
		p.bad = p.bad || p.next(")") == ""
		return v
	}
	if len(p.toks) == 0 {
		p.bad = true
		return 0
	}
	v, err := strconv.ParseFloat(p.toks[0], 64)
	p.bad, p.toks = p.bad || err != nil, p.toks[1:]
	return v
}

var clauses = regexp.MustCompile(`[;:,] `)

// The sums that the working shows come to what it says: arithmetic, as near as
// the figures are printed.
func TestSumsOfTheWorking(t *testing.T) {
	sums, seen := 0, map[string]bool{}
	everyGarment(t, func(name string, g *catalog.Garment) {
		p := rules.Plan(g)
		// A figure is printed to 0.1 mm below 10 mm, 0.5 above, or to 1/16 in.
		off := 0.3
		if g.Units == measure.In {
			off = 25.4 / 32
		}
		for i := range p.Closures {
			for _, s := range Working(p, i) {
				for _, clause := range clauses.Split(s.Says, -1) {
					left, right, is := strings.Cut(clause, " = ")
					if !is || !strings.ContainsAny(left, "+−×÷") || strings.HasPrefix(left, "+ ") {
						continue
					}
					right, _, _ = strings.Cut(right, " = ")
					q := amount.FindString(right)
					a, n, ok := value(left)
					b, _, also := value(q)
					if !ok || !also {
						continue
					}
					sums++
					if math.Abs(a-b) > off*float64(n) && !seen[clause] {
						seen[clause] = true
						t.Errorf("%s: %s: %q comes to %.2f mm, not %.2f", name, s.Topic, clause, a, b)
					}
				}
			}
		}
	})
	if sums < 600 {
		t.Errorf("only %d sums", sums)
	}
	t.Log(sums, "sums")
}
