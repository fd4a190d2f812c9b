package catalog

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

// leaf is one key that holds a value, with where it stands.
type leaf struct {
	path string
	field
}

// leaves are the keys of tables and of all tables in them. The limits of a
// range, a window and a row are keys of their own.
func leaves(path string, fields []field) []leaf {
	var out []leaf
	for _, fd := range fields {
		p := source.Join(path, fd.name)
		switch dst := fd.dst.(type) {
		case subTable:
			out = append(out, leaves(p, dst)...)
		case named:
			out = append(out, leaves(source.Join(p, "x"), dst.blank())...)
		case list:
			out = append(out, leaves(source.Item(p, 0), dst.blank())...)
		case rowList:
			out = append(out, leaves(source.Item(p, 0), rowFields(0, new(rowEntry)))...)
		case rawTable: // [closure.notion]: the catalogue has its keys
		default:
			out = append(out, leaf{p, fd})
		}
	}
	return out
}

// allKeys are all keys of garment files and of catalogue files.
func allKeys(t *testing.T) []leaf {
	t.Helper()
	stock, err := StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	g := &Garment{Catalog: stock}
	out := leaves("", g.rootFields(&rawRoot{closures: make([]rawClosure, 1)}))
	for _, s := range stock.sections() {
		out = append(out, leaves(source.Item(s.name, 0), s.fields())...)
	}
	return out
}

// wrap puts a value where the key has it: in a range, in a list, by size.
func (l leaf) wraps() map[string]func(v any) any {
	switch l.dst.(type) {
	case *Range:
		return map[string]func(any) any{
			"min": func(v any) any { return map[string]any{"min": v} },
			"max": func(v any) any { return map[string]any{"max": v} },
		}
	case *[]measure.Length:
		return map[string]func(any) any{"item": func(v any) any { return []any{v} }}
	case *Sized:
		return map[string]func(any) any{"all": func(v any) any { return v }, "M": func(v any) any { return map[string]any{"M": v} }}
	case window:
		return map[string]func(any) any{
			"all": func(v any) any { return v },
			"min": func(v any) any { return map[string]any{"min": v, "max": v} },
		}
	case *[]Count:
		return map[string]func(any) any{
			"all": func(v any) any { return v },
			"min": func(v any) any { return map[string]any{"min": v, "max": v} },
		}
	case *map[string]float64:
		return map[string]func(any) any{"share": func(v any) any { return map[string]any{"wool": v} }}
	case *Measured, *int, *Opt[int], *Opt[float64], *Opt[measure.AreaWeight], *Opt[measure.LinearDensity], *Opt[measure.Temperature], *Opt[measure.NeedleSize]:
		return map[string]func(any) any{"value": func(v any) any { return v }}
	}
	return nil
}

// tooMuch are values beyond any limit of the key.
func (l leaf) tooMuch() []any {
	switch l.dst.(type) {
	case *Measured, *Sized, *Range, *[]measure.Length, window:
		out := []any{
			(l.max + 1).Exact(measure.MM), (l.max + measure.Inch).Exact(measure.In), "30 m", "40 yd", 1e5, int64(1e5), 1e9,
			(l.max - 1).Exact(measure.MM) + " ± 0.001 mm", // within it
		}
		if l.min > minLength {
			out = append(out, (l.min - 1).Exact(measure.MM), "0.001 mm")
		}
		return out
	case *int, *Opt[int], *[]Count:
		return []any{int64(-1), int64(1e7)}
	case *Opt[float64], *map[string]float64:
		return []any{-0.5, 1e7}
	case *Opt[measure.AreaWeight]:
		return []any{"99999 g/m2", "0.5 g/m2", "9999 oz/yd2"}
	case *Opt[measure.LinearDensity]:
		return []any{"Tex 99999", "Tex 0.1", "Tkt 9999"}
	case *Opt[measure.Temperature]:
		return []any{"900 C", "900 F", "1 F"}
	case *Opt[measure.NeedleSize]:
		return []any{"NM 999", "NM 41", "US 99"}
	}
	return nil
}

var (
	theMost   = regexp.MustCompile(`: (.+) is the (?:most|least)$`)
	theLong   = regexp.MustCompile(`the longest is (.+)$`)
	between2  = regexp.MustCompile(`between (\S+) and (\S+)$`)
	theWeight = regexp.MustCompile(`weighs (.+) to (.+)$`)
	theTex    = regexp.MustCompile(`range: (Tex \S+) to (\S+)$`)
	theHeat   = regexp.MustCompile(`range: (\S+) to (\S+ °C), (\S+) to (\S+ °F)$`)
	theNeedle = regexp.MustCompile(`they go from (US \d+) to (US \d+)$`)
)

// limits are the limits that a message or its hint prints, as they would be
// typed back.
func limits(p source.Problem) []any {
	both := func(s string) []any {
		a, b, _ := strings.Cut(strings.TrimSuffix(s, ")"), " (")
		return []any{a, b}
	}
	if m := theMost.FindStringSubmatch(p.Message); m != nil {
		return both(m[1])
	}
	if m := theLong.FindStringSubmatch(p.Message); m != nil {
		return both(m[1])
	}
	if m := between2.FindStringSubmatch(p.Message); m != nil {
		var out []any
		for _, s := range m[1:] {
			if n, err := strconv.ParseInt(s, 10, 64); err == nil {
				out = append(out, n)
			} else if x, err := strconv.ParseFloat(s, 64); err == nil && !strings.ContainsAny(s, "eE") {
				out = append(out, x)
			} else {
				out = append(out, "unreadable "+s)
			}
		}
		return out
	}
	if m := theWeight.FindStringSubmatch(p.Message); m != nil {
		return []any{m[1], m[2]}
	}
	if m := theTex.FindStringSubmatch(p.Message); m != nil {
		return []any{m[1], "Tex " + m[2]}
	}
	if m := theHeat.FindStringSubmatch(p.Message); m != nil {
		return []any{m[1] + " °C", m[2], m[3] + " °F", m[4]}
	}
	if m := theNeedle.FindStringSubmatch(p.Message); m != nil {
		return []any{m[1], m[2]}
	}
	if strings.HasPrefix(p.Message, "there is no needle") {
		var out []any
		for s := range strings.SplitSeq(p.Instead, " or ") {
			out = append(out, s)
		}
		return out
	}
	return nil
}

// Every limit that a message prints is taken when it is typed back, in
// either unit.
func TestLimitsHoldAsPrinted(t *testing.T) {
	doc, err := source.Parse("f.toml", []byte(whole))
	if err != nil {
		t.Fatal(err)
	}
	keys, printed := 0, 0
	for _, l := range allKeys(t) {
		for way, wrap := range l.wraps() {
			for _, u := range []measure.Unit{measure.MM, measure.In} {
				read := func(v any) source.Problems {
					r := &reader{doc: doc, units: u, sizes: []string{"M"}}
					r.assign(l.path, wrap(v), l.field)
					return r.problems
				}
				found := false
				for _, v := range l.tooMuch() {
					for _, p := range read(v) {
						got := limits(p)
						if len(got) == 0 {
							switch {
							case strings.Contains(p.Message, "add to"): // the shares of one fibre
							case strings.Contains(p.Message, "min is more than max"), strings.Contains(p.Message, "cannot be"):
							default:
								t.Errorf("%s %s = %v, in %v: no limit in %q", l.path, way, v, u, p.Message)
							}
							continue
						}
						found = true
						for _, limit := range got {
							printed++
							for _, again := range read(limit) {
								if !strings.Contains(again.Message, "add to") {
									t.Errorf("%s %s = %v, in %v: %s; but %v is refused: %s", l.path, way, v, u, p.Message, limit, again.Message)
								}
							}
						}
					}
				}
				if !found {
					t.Errorf("%s %s: no limit is said for %v", l.path, way, l.tooMuch())
				}
			}
		}
		if l.wraps() != nil {
			keys++
		}
	}
	if keys < 200 || printed < 5*keys {
		t.Errorf("only %d keys, %d limits", keys, printed)
	}
}

// What two values of a file must keep between them is said with a limit that
// holds.
func TestBoundsHoldAsPrinted(t *testing.T) {
	const file = `garment = "Quay coat (invented)"
units = %q
[cloth.shell]
use = "melton"
%s
[[closure]]
name = "front"
over = ["shell", "shell"]
notion = { %s }
[closure.stand]
%s
[closure.run]
length = %q
count = 4
%s
`
	for _, c := range []struct {
		name                     string
		cloth, notion, stand, at string  // %[1]q is the value in question, %[2]q the other
		limit                    string  // the message and in it the limit
		scale                    float64 // how long the other is, as a part of some 400 to 700 mm
	}{
		{name: "first", at: "first = %q", limit: `lies beyond the run, (.+)$`},
		{name: "hem", at: "hem = %q", limit: `lies beyond the run, (.+)$`},
		{name: "anchor", at: "anchor = [{ name = \"bust\", at = %q }]", limit: `lies beyond the run, (.+)$`},
		{name: "clear", at: "clear = [{ name = \"belt\", at = %q }]", limit: `lies beyond the run, (.+)$`},
		{name: "finished", stand: "extension = %[2]q\nfinished = %[1]q", limit: `lies beyond the cut edge, (.+)$`, scale: 0.2},
		{name: "short end", notion: `shape = "toggle", length = %[2]q, width = "14 mm", thickness = "5 mm", short_end = %[1]q`, limit: `at most half the length, (.+)$`, scale: 0.15},
		{name: "girth", notion: `diameter = %[2]q, thickness = "5 mm", girth = %[1]q`, limit: `so short, (.+) is the least$`, scale: 0.1},
		{name: "floor", cloth: `weight = "620 g/m2"` + "\nthickness = %[1]q", limit: `makes? (.+)$`, scale: 0.001},
	} {
		for i := range 40 {
			for _, u := range []string{"in", "mm"} {
				// Lengths of every kind: whole marks, and what no mark is.
				other := measure.Length(i+1)*7_654_321 + 400*measure.Millimetre
				if i%4 == 0 {
					other = measure.Length(400+13*i) * measure.Millimetre
				} else if i%4 == 1 {
					other = measure.Length(16*32+i) * measure.Inch / 32
				}
				if c.scale > 0 {
					other = measure.Length(math.Round(float64(other) * c.scale))
				}
				value := other + measure.Millimetre
				switch c.name {
				case "girth":
					value = 2*other - measure.Millimetre/2
				case "short end":
					value = other/2 + measure.Millimetre
				case "floor":
					value = other / 4
				}
				text := func(value string) []byte {
					fill := func(s, otherwise string) string {
						if s == "" {
							return otherwise
						}
						if !strings.Contains(s, "%[2]") {
							return fmt.Sprintf(strings.ReplaceAll(s, "%[1]q", "%q"), value)
						}
						return fmt.Sprintf(s, value, other.Exact(measure.MM))
					}
					return fmt.Appendf(nil, file, u, fill(c.cloth, ""), fill(c.notion, `diameter = "20 mm", thickness = "4 mm"`), fill(c.stand, ""), other.Exact(measure.MM), fill(c.at, ""))
				}
				want := regexp.MustCompile(c.limit)
				find := func(value string) string {
					doc, err := source.Parse("f.toml", text(value))
					if err != nil {
						t.Fatalf("%v\n%s", err, text(value))
					}
					_, err = build(doc, Options{}, nil)
					var ps source.Problems
					if errors.As(err, &ps) {
						for _, p := range ps {
							if m := want.FindStringSubmatch(p.Message); m != nil {
								return m[1]
							}
							t.Fatalf("%s: %v\n%s", c.name, p, text(value))
						}
					}
					return ""
				}
				limit := find(value.Exact(measure.MM))
				if limit == "" {
					t.Fatalf("%s: no fault in\n%s", c.name, text(value.Exact(measure.MM)))
				}
				one, two, _ := strings.Cut(strings.TrimSuffix(limit, ")"), " (")
				for _, s := range []string{one, two} {
					if again := find(s); again != "" {
						t.Errorf("%s, in %s: the limit is printed as %s, and %s is refused", c.name, u, limit, s)
					}
				}
			}
		}
	}
}
