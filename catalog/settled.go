package catalog

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// Settled is a caution or note of the garment that a sample has answered, and
// what it holds at: the figures that the rule compared, or, where it compares
// none, the keys it looked at.
type Settled struct {
	Rule       string
	Closure    string // "" is every closure
	Size       string // "" is every size
	Because    string
	Severity   string // what was settled: caution, note; "" is caution
	Have, Need Amount
	While      []string // KEY=VALUE as --with takes it: it holds while the file says so
}

func settledFields(_ int, s *Settled) []field {
	return []field{
		f("rule", &s.Rule, "the rule in brackets at the end of the finding", required),
		f("closure", &s.Closure, "on which closure; every one where it is left out"),
		f("size", &s.Size, "in which size alone; every one where it is left out"),
		f("because", &s.Because, "what the sample showed", required),
		f("severity", &s.Severity, "what it was when it was settled", oneOf("caution", "note")),
		f("have", &s.Have, "the figure that it was settled at, like \"5.2 mm\""),
		f("need", &s.Need, "and what that was held against"),
		f("while", &s.While, "instead of have and need: the keys it looked at, each with its value; an empty one is not in the file"),
	}
}

// Amount is a figure of a finding, with its unit.
type Amount struct {
	V    float64 // of a length in millimetres
	Unit string  // mm, NM, Tex, g/m2, C, or the words behind the number; "" is a bare number
	In   measure.Unit
	From Origin
}

// Has says whether the figure was given at all.
func (f Amount) Has() bool { return f.From != Unset }

// Step is the least by which two printed figures of the sort differ.
func (f Amount) Step() float64 {
	switch f.Unit {
	case "mm":
		l := measure.FromMM(math.Abs(f.V))
		switch {
		case f.In.Is(measure.In) && l < measure.Inch/2:
			return (measure.Inch / 32).MM()
		case f.In.Is(measure.In):
			return (measure.Inch / 16).MM()
		case l < 10*mm:
			return 0.1
		}
		return 0.5
	case "NM", "C", "g/m2":
		return 10
	}
	if f.V == math.Trunc(f.V) {
		return 1
	}
	return 0.01
}

// ParseAmount reads a figure with its unit: "5.2 mm", "NM 90", "Tex 40",
// "620 g/m2", "150 C", "3 layers", "0.45". A length without a unit is none.
func ParseAmount(s string) (Amount, bool) {
	s = strings.TrimSpace(s)
	plain, sign := s, 1.0
	for _, minus := range []string{"-", "−"} {
		if rest, ok := strings.CutPrefix(s, minus); ok {
			plain, sign = strings.TrimSpace(rest), -1
		}
	}
	if v, err := strconv.ParseFloat(plain, 64); err == nil && !math.IsNaN(v) && !math.IsInf(v, 0) {
		return Amount{V: sign * v, From: Given}, true
	}
	if l, u, err := measure.ParseLengthUnit(plain, measure.MM); err == nil && strings.ContainsFunc(plain, unitRune) {
		return Amount{V: sign * l.MM(), Unit: "mm", In: u, From: Given}, true
	}
	if n, err := measure.ParseNeedleSize(plain); err == nil {
		return Amount{V: float64(n), Unit: "NM", From: Given}, true
	}
	if t, err := measure.ParseLinearDensity(plain); err == nil {
		return Amount{V: t.Tex(), Unit: "Tex", From: Given}, true
	}
	if w, err := measure.ParseAreaWeight(plain); err == nil {
		return Amount{V: w.GSM(), Unit: "g/m2", From: Given}, true
	}
	if t, err := measure.ParseTemperature(plain); err == nil {
		return Amount{V: sign * t.C(), Unit: "C", From: Given}, true
	}
	number, unit, ok := strings.Cut(plain, " ")
	v, err := strconv.ParseFloat(number, 64)
	if !ok || err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.TrimSpace(unit) == "" {
		return Amount{}, false
	}
	return Amount{V: sign * v, Unit: strings.TrimSpace(unit), From: Given}, true
}

// unitRune is a rune of a length's unit.
func unitRune(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || strings.ContainsRune(`"'″′`, r)
}

// figure reads a figure; a bare number may also be a length in the units of
// the file, which the finding decides.
func (r *reader) figure(path string, raw any, dst *Amount) {
	const want = `the figure with its unit, as the finding says it, like "5.2 mm"`
	switch v := raw.(type) {
	case int64:
		*dst = Amount{V: float64(v), In: r.unitAt(path), From: r.origin}
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			r.fail(path, want, "%s is not a number", last(path))
			return
		}
		*dst = Amount{V: v, In: r.unitAt(path), From: r.origin}
	case string:
		fig, ok := ParseAmount(v)
		if !ok {
			r.fail(path, want, "%q is not a figure", text.Safe(v))
			return
		}
		if fig.Unit == "" {
			fig.In = r.unitAt(path)
		}
		*dst = fig
	default:
		r.fail(path, want, "%s is a figure, not %s", last(path), kindOf(raw))
	}
}

// checkSettled refuses entries that name nothing of the garment, or do not say
// what they hold at. Whether there is such a rule, and whether it may be
// settled, package rules knows.
func (g *Garment) checkSettled(r *reader) {
	for i := range g.Settled {
		s, path := &g.Settled[i], source.Item("settled", i)
		if s.Closure != "" && g.closureNamed(s.Closure) < 0 && !inherited(r.doc, path) {
			names := make([]string, len(g.Closures))
			for k := range g.Closures {
				names[k] = g.Closures[k].Name
			}
			r.fail(source.Join(path, "closure"), cmp.Or(text.MeantQuoted(s.Closure, names), fmt.Sprintf("%q", names[0])), "the garment has no closure %q", text.Safe(s.Closure))
		}
		if s.Size != "" && !slices.Contains(g.Sizes, s.Size) && !inherited(r.doc, path) {
			r.fail(source.Join(path, "size"), cmp.Or(text.MeantQuoted(s.Size, g.Sizes), "no size, for all of them"), "the garment has no size %q", text.Safe(s.Size))
		}
		switch {
		case s.Have.Has() != s.Need.Has():
			r.failKey(path, "both have and need", "what it was settled at is have and need together")
		case !s.Have.Has() && len(s.While) == 0 && s.Rule != "" && s.Because != "":
			r.failKey(path, `have = "5.2 mm" and need = "4 mm", or while = ["closure.front.use=horn-40"]`, "the entry does not say what it holds at")
		}
		for k, w := range s.While {
			if _, err := ParseWith(w); err != nil {
				r.fail(source.Item(source.Join(path, "while"), k), `"closure.front.use=horn-40"`, "%q is not KEY=VALUE", text.Safe(w))
			}
		}
	}
}

// Changed is the first of the keys in while that the file no longer has as it
// says, and what it has now; ok is false where none is.
func (g *Garment) Changed(while []string) (was, now With, ok bool) {
	for _, w := range while {
		was, err := ParseWith(w)
		if err != nil {
			continue
		}
		if now := g.Says(was.Key); now.String() != (With{Key: was.Key, Value: was.Value}).String() {
			return was, now, true
		}
	}
	return With{}, With{}, false
}

// Says is what the file, with its what-if changes, has at a key; without a
// value where it has none.
func (g *Garment) Says(key string) With {
	w := With{Key: key}
	if g.doc != nil {
		if v, there := g.doc.Get(key); there {
			w.Value = v
		}
	}
	return w
}

// Single are the single values that the file has at a path and below it, in
// the order of their keys.
func (g *Garment) Single(path string) []With {
	if g.doc == nil {
		return nil
	}
	v, there := g.doc.Get(path)
	if !there {
		return nil
	}
	if m, table := v.(map[string]any); table {
		var out []With
		for _, k := range sortedKeys(m) {
			out = append(out, g.Single(source.Join(path, k))...)
		}
		return out
	}
	return []With{{Key: g.KeyOf(path), Value: v}}
}

// sameFigure says whether two entries hold at the same.
func (s *Settled) sameFigure(o Settled) bool {
	return s.Have.V == o.Have.V && s.Have.Unit == o.Have.Unit && s.Need.V == o.Need.V && s.Need.Unit == o.Need.Unit && slices.Equal(s.While, o.While)
}

// Settle writes an entry into the text of the garment's file, in the place of
// one about the same rule, closure and size where there is one, in a file with
// variants at the same figures too, else at the end: the whole text with it, and the lines that differ.
func (g *Garment) Settle(s Settled) (text []byte, lines []source.Edit, err error) {
	if g.origin == nil {
		return nil, nil, fmt.Errorf("the garment was not read from a file")
	}
	keys := []source.Assignment{{Path: "rule", Value: s.Rule}}
	add := func(key string, v any, given bool) {
		keys = append(keys, source.Assignment{Path: key, Value: v, Out: !given})
	}
	add("closure", s.Closure, s.Closure != "")
	add("size", s.Size, s.Size != "")
	add("severity", s.Severity, s.Severity != "")
	add("because", s.Because, true)
	add("have", s.Have.String(), s.Have.Has())
	add("need", s.Need.String(), s.Need.Has())
	add("while", plain(s.While), len(s.While) > 0)
	own := g.origin.Alone()
	same := slices.IndexFunc(g.Settled, func(o Settled) bool {
		// What one variant settles at its own figure, another may have settled at another.
		return o.Rule == s.Rule && o.Closure == s.Closure && o.Size == s.Size && (len(g.Variants()) == 0 || o.sameFigure(s))
	})
	if _, there := own.Root["settled"]; !there && len(g.Settled) > 0 {
		return g.settleOnBase(own, keys, same)
	}
	if same >= 0 {
		for k := range keys {
			keys[k].Path = source.Join(source.Item("settled", same), keys[k].Path)
		}
		return own.Edit(keys...)
	}
	return own.Append("settled", keys...)
}

// settleOnBase writes an entry into a file that has none, where its base has
// some: those are written too, for the file's list replaces that of the base.
// The entry takes the place of the base's number same, -1 for none.
func (g *Garment) settleOnBase(own *source.Document, keys []source.Assignment, same int) ([]byte, []source.Edit, error) {
	raw, _ := g.origin.Get("settled")
	items, _ := tables(raw)
	var all [][]source.Assignment
	for i, it := range items {
		m, _ := it.(map[string]any)
		var list []source.Assignment
		for _, fd := range settledFields(0, &Settled{}) {
			if v, there := m[fd.name]; there {
				list = append(list, source.Assignment{Path: fd.name, Value: v})
			}
		}
		if i == same {
			list = keys
		}
		all = append(all, list)
	}
	if same < 0 {
		all = append(all, keys)
	}
	doc, lines := own, []source.Edit(nil)
	var data []byte
	for _, list := range all {
		var some []source.Edit
		var err error
		if data, some, err = doc.Append("settled", list...); err != nil {
			return nil, nil, err
		}
		lines = append(lines, some...)
		if doc, err = source.Parse(own.Name, data); err != nil {
			return nil, nil, err
		}
	}
	return data, lines, nil
}

// Text is the text of the file that the garment was read from, without what-if
// changes.
func (g *Garment) Text() string {
	if g.origin == nil {
		return ""
	}
	return g.origin.Text()
}

// String is the figure as it is written in a file.
func (f Amount) String() string {
	number := strconv.FormatFloat(f.V, 'f', -1, 64)
	switch f.Unit {
	case "":
		return number
	case "mm":
		sign, l := "", measure.FromMM(f.V)
		if l < 0 {
			sign, l = "-", -l
		}
		return sign + l.Exact(f.In)
	case "NM", "Tex":
		return f.Unit + " " + number
	}
	return number + " " + f.Unit
}
