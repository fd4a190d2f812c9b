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

// Open is the built-in catalogue with the entries of further files, which
// win by name.
func Open(files ...string) (*Catalog, error) {
	c, err := StockCatalog()
	if err != nil || len(files) == 0 {
		return c, err
	}
	return c.with(source.ReadFile, files...)
}

// Item is an entry of the catalogue, ready to be listed.
type Item struct {
	Kind string // the table it stands in: button, cloth, …
	*Entry
	fields []field
}

// Kinds are the tables of a catalogue file, in the order they are listed.
func Kinds() []string {
	return append(slices.Clone(fasteners), "cloth", "interfacing", "thread", "needle", "machine", "cord", "cord-lock", "family", "fibre")
}

// Items are all entries of the catalogue by kind, in the order they were
// read.
func (c *Catalog) Items() []Item {
	var out []Item
	for _, kind := range fasteners {
		for _, x := range c.Notions {
			if x.Kind == kind {
				out = append(out, Item{kind, &x.Entry, notionFields(kind, x)})
			}
		}
	}
	fibres, families := c.fibreNames(), c.familyNames()
	out = items(out, "cloth", c.Cloths, (*Cloth).entry, func(x *Cloth) []field { return clothFields(x, fibres, families) })
	out = items(out, "interfacing", c.Interfacings, (*Interfacing).entry, func(x *Interfacing) []field { return interfacingFields(x, fibres) })
	out = items(out, "thread", c.Threads, (*Thread).entry, threadFields)
	out = items(out, "needle", c.Needles, (*Needle).entry, needleFields)
	out = items(out, "machine", c.Machines, (*Machine).entry, machineFields)
	out = items(out, "cord", c.Cords, (*CordPart).entry, cordPartFields)
	out = items(out, "cord-lock", c.CordLocks, (*CordPart).entry, cordPartFields)
	out = items(out, "family", c.Families, (*Family).entry, familyFields)
	return items(out, "fibre", c.Fibres, (*Fibre).entry, fibreFields)
}

func items[T any](out []Item, kind string, list []*T, entry func(*T) *Entry, own func(*T) []field) []Item {
	for _, x := range list {
		out = append(out, Item{kind, entry(x), own(x)})
	}
	return out
}

// Figure is one value of an entry.
type Figure struct {
	Key  string
	Text string // for people, in the units asked for and in the other ones
	Few  string // the same in the units asked for alone
	TOML string // as a file has it: it reads back as the same value
	JSON any    // lengths in millimetres
	Doc  string

	Length bool // a length, or a list of them
}

// Figures are the values of the entry that are known, in the order of its
// table. Those of a table inside it have a key with a dot.
func (it Item) Figures(u measure.Unit) []Figure {
	return figures("", append(entryFields(it.Entry), it.fields...), u)
}

func figures(before string, fields []field, u measure.Unit) []Figure {
	var out []Figure
	for _, fd := range fields {
		if sub, ok := fd.dst.(subTable); ok {
			out = append(out, figures(before+fd.name+".", sub, u)...)
			continue
		}
		if text, few, toml, value, ok := fd.value(u); ok {
			length := false
			switch fd.dst.(type) {
			case *Measured, *[]measure.Length:
				length = true
			}
			out = append(out, Figure{before + fd.name, text, cmp.Or(few, text), toml, value, fd.doc, length})
		}
	}
	return out
}

// value is what the destination of a field holds, few only where it differs
// from text; false where it holds nothing.
func (fd field) value(u measure.Unit) (text, few, toml string, value any, ok bool) {
	switch x := fd.dst.(type) {
	case *string:
		return *x, "", source.Text(*x), *x, *x != ""
	case *Measured:
		t := measure.Toleranced{V: x.V, Tol: x.Tol}
		return fd.text(t, u), fd.few(t.V, t.Tol, u), source.Text(exactLength(fd.name, t)), x.V.MM(), x.Has()
	case *Range:
		var texts, tomls []string
		list := map[string]float64{}
		for i, m := range []Measured{x.Min, x.Max} {
			if m.Has() {
				key := [...]string{"min", "max"}[i]
				texts = append(texts, [...]string{"from ", "to "}[i]+fd.few(m.V, 0, u))
				tomls = append(tomls, key+" = "+source.Text(exactLength(fd.name, measure.Toleranced{V: m.V, Tol: m.Tol})))
				list[key+"_mm"] = m.V.MM()
			}
		}
		return strings.Join(texts, " "), "", "{ " + strings.Join(tomls, ", ") + " }", list, len(texts) > 0
	case *[]measure.Length:
		var texts, tomls []string
		var list []float64
		for _, l := range *x {
			texts = append(texts, fd.few(l, 0, u))
			tomls = append(tomls, source.Text(exactLength(fd.name, measure.Toleranced{V: l})))
			list = append(list, l.MM())
		}
		return strings.Join(texts, ", "), "", "[" + strings.Join(tomls, ", ") + "]", list, len(list) > 0
	case *[]string:
		var tomls []string
		for _, s := range *x {
			tomls = append(tomls, source.Text(s))
		}
		return strings.Join(*x, ", "), "", "[" + strings.Join(tomls, ", ") + "]", *x, len(*x) > 0
	case *Opt[int]:
		return strconv.Itoa(x.V), "", strconv.Itoa(x.V), x.V, x.Has()
	case *Opt[float64]:
		s := strconv.FormatFloat(x.V, 'f', -1, 64)
		return s, "", s, x.V, x.Has()
	case *Opt[bool]:
		return map[bool]string{true: "yes", false: "no"}[x.V], "", strconv.FormatBool(x.V), x.V, x.Has()
	case *Opt[measure.AreaWeight]:
		s := exactly(x.V, measure.ParseAreaWeight, short(float64(x.V))+" g/m2", short(x.V.OzYd2())+" oz/yd2", full(float64(x.V))+" g/m2")
		return x.V.Text(u), x.V.Short(u), source.Text(s), float64(x.V), x.Has()
	case *Opt[measure.LinearDensity]:
		s := exactly(x.V, measure.ParseLinearDensity, "Tex "+short(float64(x.V)), "Tkt "+short(x.V.Tkt()), "cotton Tkt "+short(x.V.CottonTkt()), short(x.V.Denier())+" den", "Ne "+short(x.V.Ne()), "Tex "+full(float64(x.V)))
		return x.V.Text(), "", source.Text(s), float64(x.V), x.Has()
	case *Opt[measure.NeedleSize]:
		return x.V.String(), "", source.Text(x.V.String()), int(x.V), x.Has()
	case *Opt[measure.Temperature]:
		s := exactly(x.V, measure.ParseTemperature, short(float64(x.V))+" C", short(x.V.F())+" F", full(float64(x.V))+" C")
		return x.V.TextGiven(u), x.V.ShortGiven(u), source.Text(s), float64(x.V), x.Has()
	case *map[string]float64:
		var texts, tomls []string
		for _, k := range sortedKeys(*x) {
			n := strconv.FormatFloat((*x)[k], 'f', -1, 64)
			texts = append(texts, n+" % "+k)
			tomls = append(tomls, source.Join("", k)+" = "+n)
		}
		return strings.Join(texts, ", "), "", "{ " + strings.Join(tomls, ", ") + " }", *x, len(texts) > 0
	}
	panic(fmt.Sprintf("no text for %s: %T", fd.name, fd.dst))
}

// text is a length of the field as it was measured, in both units.
func (fd field) text(t measure.Toleranced, u measure.Unit) string {
	if fd.thin {
		return t.TextThin(u)
	}
	return t.Text(u)
}

// few is the same in one unit.
func (fd field) few(l, tol measure.Length, u measure.Unit) string {
	s, _, _ := strings.Cut(fd.text(measure.Toleranced{V: l, Tol: tol}, u), " (")
	return s
}

// TOML is the entry as a catalogue file has it.
func (it Item) TOML() string {
	figs := it.Figures(measure.MM)
	wide := 0
	for _, f := range figs {
		wide = max(wide, len(f.Key))
	}
	var b strings.Builder
	fmt.Fprintf(&b, "[[%s]]\n", it.Kind)
	for _, f := range figs {
		b.WriteString(tomlLines(fmt.Sprintf("%-*s = ", wide, f.Key), f.TOML))
	}
	return b.String()
}

// tomlLines is a key with its value, in several lines where it is too long for
// one: a text with its ends of line taken back, a list with an item a line.
func tomlLines(key, value string) string {
	const most = 80
	inner := value[1:max(1, len(value)-1)]
	switch {
	case text.Width(key+value) <= most:
	case value[0] == '"' && strings.Join(strings.Fields(inner), " ") == inner:
		return key + "\"\"\"\\\n  " + strings.Join(text.Wrap(inner, most-6), " \\\n  ") + "\"\"\"\n"
	case value[0] == '[' && !strings.ContainsAny(inner, "[]{}\\"):
		line := key + "[\n "
		at := 1
		for _, item := range strings.SplitAfter(inner, ", ") {
			if n := text.Width(item); at+n >= most {
				line, at = strings.TrimRight(line, " ")+"\n ", 1
			}
			line += " " + strings.TrimSuffix(item, " ")
			at += text.Width(item)
		}
		return line + ",\n]\n"
	}
	return key + value + "\n"
}

// exactLength is a length to the last nanometre as people of the trade
// write it: in ligne the size of a button, in inches what is whole 64ths of
// an inch and no round millimetres.
func exactLength(key string, t measure.Toleranced) string {
	const hundredth = measure.Millimetre / 100
	switch {
	case key == "diameter" && t.Tol == 0 && t.V%measure.Ligne == 0:
		return strconv.FormatInt(int64(t.V/measure.Ligne), 10) + "L"
	case t.V%(hundredth*10) != 0 && t.V%(measure.Inch/64) == 0 && t.Tol%(measure.Inch/64) == 0:
		return t.Exact(measure.In)
	}
	return t.Exact(measure.MM)
}

// exactly is the first text that reads back as x, or the last.
func exactly[T comparable](x T, parse func(string) (T, error), texts ...string) string {
	for _, s := range texts {
		if y, err := parse(s); err == nil && y == x {
			return s
		}
	}
	return texts[len(texts)-1]
}

// short is a number of at most four figures.
func short(x float64) string {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	return full(r)
}

func full(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// typed is a number as somebody would type it: with an exponent only where it
// is far longer without.
func typed(x float64) string {
	if math.Abs(x) < 1e15 && math.Abs(x) > 1e-6 || x == 0 {
		return full(x)
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// KindSaid is the family of a cloth that is said by its trade name, as denim
// in 13oz denim: that of the entry of that name, else "".
func (c *Catalog) KindSaid(words string) string {
	for _, w := range strings.Fields(strings.ToLower(words)) {
		if cl := c.Cloth(w); cl != nil {
			return cl.Kind
		}
	}
	return ""
}

// nearLength is how near a length of an entry must come to one looked for.
const nearLength = measure.Inch / 32

// HasLength says whether one of the entry's figures is a length of about l.
func (it Item) HasLength(l measure.Length) bool {
	for _, f := range it.Figures(measure.MM) {
		if x, ok := f.JSON.(float64); ok && f.Length && (measure.FromMM(x)-l).Abs() <= nearLength {
			return true
		}
	}
	return false
}
