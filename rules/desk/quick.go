package desk

import (
	"fmt"
	"math"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/sheet"
)

// Quick commands answer one question from flags. The flags become a garment
// of one closure, which is planned like any other: there is no second way
// to work a number out.

// quick is a quick command being run.
type quick struct {
	*call
	unit measure.Unit // of the answer
}

// lengthFlagOf is a flag that takes a length.
func lengthFlagOf(name string, most measure.Length, hint, doc string) flag {
	return flag{name: name, kind: lengthFlag, value: "LENGTH", most: most, hint: hint, doc: doc}
}

func orZero(f flag) flag { f.zero = true; return f }

// quickFlags are the flags of every quick command.
func quickFlags(own ...flag) []flag {
	units := unitsFlag()
	units.first = "the unit of the first length given"
	return append(own, units, formatFlag("text", "json"), outFlag())
}

// startQuick finds the unit of the answer: that of --units, otherwise the
// one that the first length was given in.
func startQuick(in *call) (*quick, error) {
	if args := in.args(); len(args) > 0 {
		e := usagef("%s takes no files, and %q is not a flag", in.cmd.name, args[0])
		if _, err := measure.ParseLength(args[0], measure.MM); err == nil {
			e.says = fmt.Sprintf("%q follows no flag; a length of two words stands in quotes", args[0])
			for _, f := range in.cmd.flags {
				if f.kind == lengthFlag {
					return nil, e.write(`--%s "1 1/8 in"`, f.name)
				}
			}
		}
		return nil, e
	}
	q := &quick{call: in}
	if u := in.text("units"); u != "" {
		q.unit, _ = measure.ParseUnit(u)
		return q, nil
	}
	for _, g := range in.line.given {
		if in.cmd.flag(g.name).kind != lengthFlag {
			continue
		}
		for _, part := range strings.Split(afterName(g.value), ":") {
			if _, u, err := measure.ParseLengthUnit(part, measure.NoUnit); err == nil {
				q.unit = u
				return q, nil
			}
		}
	}
	q.unit = measure.MM
	return q, nil
}

// length is the value of a length flag, and whether it was given.
func (q *quick) length(name string) (measure.Length, bool, error) {
	if !q.has(name) {
		return 0, false, nil
	}
	l, err := q.parse(name, q.text(name))
	return l, true, err
}

// need is length for a flag that must be given.
func (q *quick) need(name string) (measure.Length, error) {
	l, there, err := q.length(name)
	if err == nil && !there {
		f := q.cmd.flag(name)
		err = usagef("--%s is missing: %s", name, f.doc).write("--%s %s", name, f.like())
	}
	return l, err
}

// parse reads a length that stands in the value of a flag. A bare number is
// read in --units, and refused without.
func (q *quick) parse(name, s string) (measure.Length, error) {
	f := q.cmd.flag(name)
	bare := measure.NoUnit
	if u := q.text("units"); u != "" {
		bare, _ = measure.ParseUnit(u)
	}
	l, err := measure.ParseLength(s, bare)
	switch {
	case err != nil:
		return 0, badValue(name, s, err)
	case l == 0 && !f.zero:
		return 0, usagef("--%s %q: it cannot be nothing", name, s).write("--%s %s", name, f.like())
	case f.most > 0 && l > f.most:
		return 0, usagef("--%s %q is too much: %s is the most", name, s, f.most.TextMost(q.unit))
	}
	return l, nil
}

// measured is a length flag as a value of a garment.
func (q *quick) measured(name string) (catalog.Measured, error) {
	l, there, err := q.length(name)
	if err != nil || !there {
		return catalog.Measured{}, err
	}
	return catalog.Measured{V: l, From: catalog.Given}, nil
}

// set puts length flags into values of a garment.
func (q *quick) set(dst map[string]*catalog.Measured) error {
	for _, g := range q.line.given { // in the order written, so that the first fault is the one told
		if d := dst[g.name]; d != nil {
			m, err := q.measured(g.name)
			if err != nil {
				return err
			}
			*d = m
		}
	}
	return nil
}

// count is the value of a flag that is a whole number.
func (q *quick) count(name string) (int, bool, error) {
	x, there, err := q.number(name)
	return int(math.Round(x)), there, err
}

// percent is the value of a flag that is a share, 3 for 3 %, 0 where it is not
// given.
func (q *quick) percent(name string) (float64, error) {
	if !q.has(name) {
		return 0, nil
	}
	f, s := q.cmd.flag(name), q.text(name)
	p, err := measure.ParsePercent(s)
	switch {
	case err != nil:
		return 0, badValue(name, s, err)
	case float64(p) < f.lo || float64(p) > f.hi:
		return 0, usagef("--%s is %s, but must lie between %s and %s", name, p, measure.Percent(f.lo), measure.Percent(f.hi))
	}
	return float64(p), nil
}

// garment is a garment of one closure without a file.
func (q *quick) garment(c catalog.Closure) (*catalog.Garment, error) {
	stock, err := catalog.StockCatalog()
	if err != nil {
		return nil, err
	}
	c.Name, c.Pieces = "this", 1
	if c.Fastener == "" {
		c.Fastener = catalog.Button
	}
	c.Notion.Kind = c.Fastener
	if len(c.Under) == 0 {
		c.Under = c.Over
	}
	return &catalog.Garment{
		Name: "from flags", Units: q.unit, Sizes: []string{""}, Catalog: stock, Closures: []catalog.Closure{c},
	}, nil
}

// layer is so much cloth.
func layer(thick measure.Length) []catalog.Layer {
	if thick == 0 {
		return nil
	}
	return []catalog.Layer{{Name: "layers", Cloth: &catalog.Cloth{Thickness: catalog.Measured{V: thick, From: catalog.Given}}}}
}

// buttonFlags describe a fastener that passes a hole.
func buttonFlags() []flag {
	return []flag{
		lengthFlagOf("diameter", 120*mm, "1in", "the widest way across the button"),
		lengthFlagOf("thickness", 60*mm, "1/8in", "its height, without a shank"),
		{name: "shape", words: []string{"flat", "domed", "ball", "square", "toggle", "odd"}, doc: "its shape", first: "flat"},
		lengthFlagOf("side", 120*mm, "20mm", "side of a square button"),
		lengthFlagOf("girth", 400*mm, "70mm", "measured once round the widest part: wins over every formula"),
		lengthFlagOf("width", 120*mm, "14mm", "width of a toggle"),
		lengthFlagOf("short-end", 120*mm, "30mm", "of a toggle, from the sewing hole to the nearer end"),
		{name: "shank", kind: boolFlag, doc: "it has a rigid shank"},
		lengthFlagOf("over", 100*mm, "5mm", "thickness of the layers the hole goes through"),
	}
}

const mm = measure.Millimetre

// button is the closure that the flags of buttonFlags describe.
func (q *quick) button() (catalog.Closure, error) {
	var c catalog.Closure
	n := &c.Notion
	n.Shape = q.text("shape")
	var over catalog.Measured
	if err := q.set(map[string]*catalog.Measured{
		"diameter": &n.Diameter, "thickness": &n.Thickness, "side": &n.Side, "girth": &n.Girth,
		"width": &n.Width, "short-end": &n.ShortEnd, "over": &over,
	}); err != nil {
		return c, err
	}
	if q.on("shank") {
		n.Shank = catalog.Measured{V: 1, From: catalog.Given}
	}
	c.Over = layer(over.V)
	missing := func(name string) error {
		_, err := q.need(name)
		return err
	}
	switch n.Shape {
	case "square":
		if n.Side.Has() && n.Diameter.Has() && n.Diameter.V < n.Side.V {
			return c, usagef("--side %s is more than --diameter %s, the widest way across", q.text("side"), q.text("diameter"))
		}
		if !n.Side.Has() && !n.Diameter.Has() && !n.Girth.Has() {
			return c, missing("side")
		}
	case "toggle":
		if !n.Width.Has() {
			n.Width = n.Diameter
		}
		if !n.Girth.Has() && !n.Width.Has() {
			return c, missing("width")
		}
		if !n.Girth.Has() && !n.ShortEnd.Has() {
			return c, missing("short-end")
		}
	default:
		for _, name := range []string{"side"} {
			if q.has(name) {
				return c, usagef("--%s belongs to a square button", name).write("--shape square")
			}
		}
		if !n.Diameter.Has() && !n.Girth.Has() {
			return c, missing("diameter")
		}
	}
	if n.Shape != "toggle" {
		for _, name := range []string{"width", "short-end"} {
			if q.has(name) {
				return c, usagef("--%s belongs to a toggle", name).write("--shape toggle")
			}
		}
	}
	return c, nil
}

// needThickness asks for the thickness where the passing length depends on
// it.
func (q *quick) needThickness(c *catalog.Closure) error {
	n := &c.Notion
	if n.Girth.Has() || n.Thickness.Has() || n.Shape == "ball" || n.Shape == "toggle" {
		return nil
	}
	_, err := q.need("thickness")
	return err
}

// answer is what a quick command says: the same in words and for programs.
type answer struct {
	head  string // the answer itself
	rows  [][]string
	notes []string
	json  pairs
}

// hand hands the answer over. The findings stand in the way like those of a
// file.
func (q *quick) hand(a *answer, findings []rules.Finding) error {
	worst := rules.Note
	for _, f := range findings {
		worst = max(worst, f.Severity)
		a.notes = append(a.notes, f.Severity.String()+": "+f.Message())
	}
	var data []byte
	if q.format() == "json" {
		if len(findings) > 0 {
			list := make([]pairs, len(findings))
			for i, f := range findings {
				list[i] = pairs{{"rule", f.Rule}, {"severity", f.Severity.String()}, {"message", f.Message()}}
			}
			a.json = append(a.json, pair{"findings", list})
		}
		var err error
		if data, err = text.JSON(a.json); err != nil {
			return err
		}
	} else {
		var b strings.Builder
		fmt.Fprintln(&b, a.head)
		if len(a.rows) > 0 {
			b.WriteByte('\n')
			put(&b, text.Columns(a.rows, "  ", helpWidth))
		}
		for i, n := range a.notes {
			if i == 0 {
				b.WriteByte('\n')
			}
			put(&b, text.Wrap(n, helpWidth))
		}
		data = []byte(b.String())
	}
	if err := q.deliver(data); err != nil {
		return err
	}
	if worst == rules.Conflict {
		return conflict{}
	}
	return nil
}

// exact are lengths for programs.
func exact(ls []measure.Length) []sheet.MM {
	out := make([]sheet.MM, len(ls))
	for i, l := range ls {
		out[i] = sheet.MM(l)
	}
	return out
}

// afterName is the value of NAME=VALUE, or all of it.
func afterName(s string) string {
	if i := strings.IndexByte(s, '='); i >= 0 {
		return s[i+1:]
	}
	return s
}
