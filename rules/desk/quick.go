package desk

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/search"
	"placketeer/rules/sheet"
)

// Quick commands answer one question from flags. The flags become a garment
// file of one closure, which is read and planned with every rule like any
// other: there is no second way to work a number out.

// quick is a quick command being run.
type quick struct {
	*call
	unit measure.Unit // of the answer

	root, closure map[string]any // the garment file that the flags make
	from          []keyFrom      // which flag each of its values came from
	taken         []string       // keys that are there only so that it can be planned
	notes         []string       // rules whose notes are part of the answer, and told at length
	says          []string       // rules whose finding the answer itself is
	strips        int            // of interfacing, to buy for
	described     bool           // spacing: the fastener is
	bare          bool           // spacing: a fastener was taken
}

// keyFrom is a key of the garment file and the flag that gave it.
type keyFrom struct{ path, flag string }

// lengthFlagOf is a flag that takes a length.
func lengthFlagOf(name string, most measure.Length, hint, doc string) flag {
	return flag{name: name, kind: lengthFlag, value: "LENGTH", most: most, hint: hint, doc: doc}
}

func orZero(f flag) flag { f.zero = true; return f }

// quickFlags are the flags of every quick command.
func quickFlags(own ...flag) []flag {
	units := unitsFlag()
	units.first = "the unit of the first length given"
	return append(own, units, oneUnitFlag(), catalogFlag(), formatFlag("text", "json"), outFlag())
}

// startQuick finds the unit of the answer: that of --units, otherwise the
// one that the first length was given in. The closure that the question is
// about stands in a run long enough for anything; what is said of that run is
// told only where the question gives one.
func startQuick(in *call) (*quick, error) {
	if args := in.args(); len(args) > 0 {
		return nil, usagef("%s takes no files, and %q follows no flag", in.cmd.name, args[0])
	}
	if _, err := in.catalog(); err != nil {
		return nil, err
	}
	q := &quick{call: in, unit: in.alone(in.lengthUnit())}
	q.closure = map[string]any{"name": "opening", "over": []string{}}
	q.root = map[string]any{"garment": "a question", "units": q.unit.String(), "closure": []map[string]any{q.closure}}
	q.take("run", map[string]any{"length": "1 m", "count": 1})
	q.take("over", []string{})
	return q, nil
}

// lengthUnit is the unit that the first length was given in.
func (in *call) lengthUnit() measure.Unit {
	if u, err := measure.ParseUnit(in.text("units")); err == nil {
		return u
	}
	for _, g := range in.line.given {
		if in.cmd.flag(g.name).kind != lengthFlag {
			continue
		}
		for _, part := range strings.Split(afterName(g.value), ":") {
			if _, u, err := measure.ParseLengthUnit(part, measure.NoUnit); err == nil && u != measure.NoUnit {
				return u
			}
		}
	}
	return measure.MM
}

// put writes a value of the closure, or with a path that begins at a dot one
// of the garment, and remembers the flags that it came from.
func (q *quick) put(path string, value any, flags ...string) {
	table, full := q.closure, "closure[0]."+path
	if rest, root := strings.CutPrefix(path, "."); root {
		table, path, full = q.root, rest, rest
	}
	q.taken = slices.DeleteFunc(q.taken, func(t string) bool { return t == full })
	for _, f := range flags {
		q.from = append(q.from, keyFrom{full, f})
	}
	setIn(table, path, value)
}

// take is put for a value that nobody gave and that is there only so that the
// plan can be made: what the rules say of it is not told.
func (q *quick) take(path string, value any) {
	q.put(path, value)
	q.taken = append(q.taken, "closure[0]."+path)
}

// own is a run of the question's own.
func (q *quick) own(run map[string]any) { q.put("run", run) }

// isTaken says whether a place of the garment file is one that was taken.
func (q *quick) isTaken(path string) bool {
	return slices.ContainsFunc(q.taken, func(t string) bool { return under(path, t) })
}

// under says whether a path is another one or lies below it.
func under(path, above string) bool {
	rest, ok := strings.CutPrefix(path, above)
	return ok && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

// putLengths writes the lengths of flags to keys, in the order in which the
// flags were written, so that the first fault is the one told.
func (q *quick) putLengths(keys map[string]string) error {
	for _, g := range q.line.given {
		path, ok := keys[g.name]
		if !ok {
			continue
		}
		l, err := q.parse(g.name, g.value)
		if err != nil {
			return err
		}
		q.put(path, lengthText(l), "--"+g.name)
	}
	return nil
}

// lengthText is a length as a garment file has it.
func lengthText(l measure.Toleranced) string {
	s := l.V.Exact(measure.MM)
	if l.Tol > 0 {
		s += " ± " + l.Tol.Exact(measure.MM)
	}
	return s
}

// length is the value of a length flag, and whether it was given.
func (q *quick) length(name string) (measure.Length, bool, error) {
	if !q.has(name) {
		return 0, false, nil
	}
	l, err := q.parse(name, q.text(name))
	return l.V, true, err
}

// missing asks for a flag that must be given.
func (q *quick) missing(name string) error {
	f := q.cmd.flag(name)
	return usagef("--%s is missing: %s", name, f.doc).write("--%s %s", name, f.like())
}

// need is length for a flag that must be given.
func (q *quick) need(name string) (measure.Length, error) {
	l, there, err := q.length(name)
	if err == nil && !there {
		err = q.missing(name)
	}
	return l, err
}

// parse reads a length that stands in the value of a flag. A bare number is
// read in --units, and refused without; a bare nothing needs no unit.
func (q *quick) parse(name, s string) (measure.Toleranced, error) {
	f := q.cmd.flag(name)
	bare := measure.NoUnit
	if u := q.text("units"); u != "" {
		bare, _ = measure.ParseUnit(u)
	}
	if measure.IsFraction(s) {
		bare = measure.NoUnit // of an inch, whatever the answer is in
	}
	if f.zero && strings.TrimSpace(s) == "0" {
		return measure.Toleranced{}, nil
	}
	l, err := measure.ParseToleranced(s, bare)
	if f.most > measure.MaxLength {
		l.V, err = measure.ParseLengthMax(s, bare, f.most)
	}
	switch {
	case err != nil:
		all := measure.Meanings(s)
		switch {
		case len(all) == 0:
			return l, badValue(name, s, err)
		case f.value != "LENGTH":
			e := usagef("--%s %q: the number has no unit", name, s)
			return l, e.write("%s", q.eachOf(name, []string{q.withUnit(name, measure.In), q.withUnit(name, measure.MM)}))
		case f.most > 100*measure.Metre:
			all = []string{s + "m", s + "yd"} // of thread
		}
		e := usagef("--%s %q: the number has no unit; it may be %s", name, s, text.Or(all...))
		return l, e.write("%s", q.eachOf(name, all))
	case l.V == 0 && !f.zero:
		return l, usagef("--%s %q: it cannot be nothing", name, s).write("--%s %s", name, f.like())
	case f.most > 0 && l.V > f.most:
		return l, usagef("--%s %q is too much: %s is the most", name, s, f.most.TextMost(q.unit))
	}
	return l, nil
}

// withUnit is the value of a flag, its numbers that have no unit in one.
func (q *quick) withUnit(name string, u measure.Unit) string {
	value := q.text(name)
	if f := q.cmd.flag(name); f.list {
		value = q.list(name)[0]
	}
	span := afterName(value)
	parts := strings.Split(span, ":")
	for i, p := range parts {
		if p = strings.TrimSpace(p); len(measure.Meanings(p)) > 0 && p != "0" {
			parts[i] = p + u.String()
		}
	}
	return value[:len(value)-len(span)] + strings.Join(parts, ":")
}

// eachOf are the flag with each of several values, as they may be written.
func (q *quick) eachOf(name string, values []string) string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = "--" + name + " " + text.Shell(v)
	}
	return strings.Join(out, orElse)
}

// orElse stands between two things that may be written.
const orElse = "   or   "

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

// shares are the value of --fibre: wool=80,polyamide=20.
func (q *quick) shares(name string) (map[string]any, error) {
	out := map[string]any{}
	cat, err := q.catalog()
	if err != nil {
		return nil, err
	}
	for _, part := range strings.Split(q.text(name), ",") {
		fibre, share, ok := strings.Cut(strings.TrimSpace(part), "=")
		if words := strings.Fields(part); !ok && len(words) == 2 {
			share, fibre, ok = words[0], words[1], true // as a label has it: 80% wool
		}
		if !ok {
			share = "100"
		}
		fibre = fibreCalled(strings.ToLower(strings.TrimSpace(fibre)))
		p, err := measure.ParsePercent(share)
		if err != nil {
			return nil, badValue(name, q.text(name), err)
		}
		if cat.Fibre(fibre) == nil {
			names := make([]string, len(cat.Fibres))
			for i, x := range cat.Fibres {
				names[i] = x.Name
			}
			return nil, oneOf("--"+name, fibre, names)
		}
		out[fibre] = float64(p)
	}
	return out, nil
}

// fibreCalled is what the catalogue calls a fibre that the trade calls so too.
func fibreCalled(name string) string {
	switch name {
	case "nylon":
		return "polyamide"
	case "rayon":
		return "viscose"
	case "spandex":
		return "elastane"
	case "flax":
		return "linen"
	}
	return name
}

// named is the value of a flag that names an entry of the catalogue.
func (q *quick) named(name string, known func(*catalog.Catalog) []string) (string, error) {
	s := q.text(name)
	if s == "" {
		return "", nil
	}
	cat, err := q.catalog()
	if err != nil {
		return "", err
	}
	names := known(cat)
	if slices.Contains(names, s) {
		return s, nil
	}
	e := usagef("--%s: the catalogue has no %q of that kind", name, s)
	if near := text.Nearest(s, names); near != "" {
		return "", e.write("--%s %s", name, text.Shell(near))
	}
	for _, it := range cat.Items() {
		if len(names) > 0 && it.Name == names[0] {
			return "", e.write("%s catalog --kind %s", Program, it.Kind)
		}
	}
	return "", e
}

// entriesOf are the names of the entries of some kinds.
func entriesOf(kinds ...string) func(*catalog.Catalog) []string {
	return func(cat *catalog.Catalog) []string {
		var out []string
		for _, it := range cat.Items() {
			if slices.Contains(kinds, it.Kind) {
				out = append(out, it.Name)
			}
		}
		return out
	}
}

// plan reads the garment file of the question and plans it.
func (q *quick) plan() (*rules.Planned, error) {
	g, err := q.read(q.root)
	var wrong source.Problems
	if errors.As(err, &wrong) {
		return nil, q.refused(wrong[0].Message)
	}
	if err != nil {
		return nil, err
	}
	return search.Checked(g, search.CheckOptions{}), nil
}

// refused is a fault of the garment file in the words of the flags.
func (q *quick) refused(says string) error {
	if key, ok := strings.CutPrefix(says, `unknown key "`); ok {
		key, _, _ = strings.Cut(key, `"`)
		for _, k := range q.from {
			if strings.HasSuffix(k.path, "."+key) && q.has(strings.TrimPrefix(k.flag, "--")) {
				return usagef("%s does not belong to a fastener of this kind", k.flag)
			}
		}
	}
	e := usagef("%s", q.keyInFlags(says))
	if f := q.cmd.flag("fibre"); f != nil && strings.HasPrefix(says, "the fibre percents") {
		return e.write("--fibre %s", f.like())
	}
	return e
}

// layersFlags describe the cloth and how many layers of it there are. thick is
// the name of the flag for its thickness.
func layersFlags(thick string) []flag {
	return []flag{
		{name: "cloth", value: "NAME", doc: "a cloth of the catalogue", hint: "melton"},
		{name: "weight", value: "WEIGHT", doc: "weight of the cloth, as \"18 oz/yd2\" or 620gsm", hint: `"18 oz/yd2"`},
		lengthFlagOf(thick, 50*mm, "2.4mm", "one layer of it (otherwise estimated from the weight)"),
		{name: "layers", kind: numberFlag, value: "N", doc: "layers of it", first: "2", lo: 1, hi: 40, whole: true, hint: "4"},
	}
}

// putLayers writes the layers, and says whether any were described.
func (q *quick) putLayers(thick string) (bool, error) {
	use, err := q.named("cloth", entriesOf("cloth"))
	if err != nil {
		return false, err
	}
	given := false
	if use != "" {
		q.put(".cloth.cloth.use", use, "--cloth")
		given = true
	}
	if s := q.text("weight"); s != "" {
		w, err := measure.ParseAreaWeight(s)
		if err != nil {
			// 18 oz/yd2 melton: the name of a cloth beside its weight.
			if number, named := q.clothBeside(s); named {
				w, err = measure.ParseAreaWeight(number)
			}
		}
		if err != nil {
			return false, badValue("weight", s, err)
		}
		q.put(".cloth.cloth.weight", fmt.Sprintf("%.9g g/m2", w.GSM()), "--weight")
		if cat, err := q.catalog(); err == nil && use == "" {
			if kind := cat.KindSaid(s); kind != "" {
				q.put(".cloth.cloth.kind", kind, "--weight")
			}
		}
		given = true
	}
	if q.has(thick) {
		given = true
		if err := q.putLengths(map[string]string{thick: ".cloth.cloth.thickness"}); err != nil {
			return false, err
		}
	}
	n, many, err := q.count("layers")
	if err != nil {
		return false, err
	}
	if !given {
		if many {
			return false, usagef("--layers says how many, but not of what").write("--layers %d --cloth melton%s--layers %d --%s 2.4mm", n, orElse, n, thick)
		}
		return false, nil
	}
	if !many {
		n = 2
	}
	q.put("over", slices.Repeat([]string{"cloth"}, n), "--cloth", "--weight", "--"+thick, "--layers")
	return true, nil
}

// clothBeside is a weight without the name of a cloth of the catalogue that
// stands before or after it, and whether there is one.
func (q *quick) clothBeside(s string) (string, bool) {
	cat, err := q.catalog()
	words := strings.Fields(s)
	if err != nil || len(words) < 2 {
		return s, false
	}
	n := len(words) - 1
	switch {
	case cat.Cloth(strings.ToLower(words[n])) != nil:
		return strings.Join(words[:n], " "), true
	case cat.Cloth(strings.ToLower(words[0])) != nil:
		return strings.Join(words[1:], " "), true
	}
	return s, false
}

// putOver writes the layers as one thickness.
func (q *quick) putOver() (bool, error) {
	l, there, err := q.length("over")
	if err != nil || !there {
		return false, err
	}
	q.put(".cloth.layers.thickness", lengthText(measure.Toleranced{V: l}), "--over")
	q.put("over", []string{"layers"}, "--over")
	return true, nil
}

// anyLayers is putLayers or putOver, whichever was given.
func (q *quick) anyLayers() (bool, error) {
	thick, err := q.putOver()
	if err != nil {
		return false, err
	}
	cloth := false
	for _, f := range []string{"cloth", "weight", "cloth-thickness", "layers"} {
		if q.has(f) && thick {
			return false, usagef("--over is the thickness of all layers together, and --%s describes them one by one: give one of the two", f)
		}
	}
	if !thick {
		cloth, err = q.putLayers("cloth-thickness")
	}
	return thick || cloth, err
}

// machineFlags describe the sewing machine.
func machineFlags() []flag {
	return []flag{
		{name: "machine", value: "NAME", doc: "a machine of the catalogue", first: "the usual household machine", hint: "domestic"},
		lengthFlagOf("foot-lift", 40*mm, "6mm", "room under the lifted foot of yours"),
	}
}

// putMachine writes the machine.
func (q *quick) putMachine() error {
	use, err := q.named("machine", entriesOf("machine"))
	if err != nil {
		return err
	}
	if use != "" {
		q.put(".machine.use", use, "--machine")
	}
	return q.putLengths(map[string]string{"foot-lift": ".machine.foot_lift"})
}

// fastenerFlags describe a fastener that passes a hole, and the layers it
// goes through.
func fastenerFlags() []flag {
	return slices.Concat([]flag{
		lengthFlagOf("diameter", 120*mm, "1in", "the widest way across the button"),
		lengthFlagOf("thickness", 60*mm, "1/8in", "its height, without a shank (otherwise as buttons of its size are)"),
		{name: "use", value: "NAME", doc: "a button of the catalogue", hint: "horn-40"},
		{name: "shape", words: []string{"flat", "domed", "ball", "square", "toggle", "odd"}, doc: "its shape", first: "flat"},
		lengthFlagOf("side", 120*mm, "20mm", "side of a square button"),
		lengthFlagOf("girth", 400*mm, "56mm", "measured once round the widest part: wins over every formula"),
		lengthFlagOf("width", 120*mm, "14mm", "width of a toggle"),
		lengthFlagOf("toggle-length", 150*mm, "50mm", "of a toggle, end to end"),
		lengthFlagOf("short-end", 120*mm, "30mm", "of a toggle, from the sewing hole to the nearer end"),
		{name: "shank", kind: boolFlag, doc: "it has a rigid shank"},
		lengthFlagOf("over", 100*mm, "5mm", "thickness of all layers the hole goes through"),
	}, layersFlags("cloth-thickness"))
}

const mm = measure.Millimetre

// fastener is what the flags of fastenerFlags came to.
type fastener struct {
	known     bool             // there is one
	thickness catalog.Measured // where it was taken from buttons of that size
	layers    bool             // the layers are described
}

// putFastener writes the fastener and the layers that it goes through.
// must says whether there has to be one.
func (q *quick) putFastener(must bool) (f fastener, err error) {
	if f.layers, err = q.anyLayers(); err != nil {
		return f, err
	}
	use, err := q.named("use", entriesOf(catalog.Button, catalog.TackButton, catalog.Toggle, catalog.Frog))
	if err != nil {
		return f, err
	}
	if use != "" {
		q.put("use", use, "--use")
	}
	if err := q.putLengths(map[string]string{
		"diameter": "notion.diameter", "thickness": "notion.thickness", "side": "notion.side", "girth": "notion.girth",
		"width": "notion.width", "short-end": "notion.short_end", "toggle-length": "notion.length",
	}); err != nil {
		return f, err
	}
	shape := q.text("shape")
	if shape != "" {
		q.put("notion.shape", shape, "--shape")
	}
	if q.on("shank") {
		q.put("notion.shank", "6 mm", "--shank")
	}
	f.known = use != ""
	if f.known {
		return f, nil
	}
	return f, q.ownFastener(&f, shape, must)
}

// ownFastener asks for what a fastener of one's own must have.
func (q *quick) ownFastener(f *fastener, shape string, must bool) error {
	has := func(names ...string) bool { return slices.ContainsFunc(names, q.has) }
	f.known = has("diameter", "girth", "side", "width", "toggle-length", "short-end")
	switch {
	case !f.known && has("thickness", "shape", "shank"), !f.known && must:
		if shape == "square" {
			return q.missing("side")
		}
		if shape == "toggle" {
			return q.missing("width")
		}
		return q.missing("diameter")
	case !f.known:
		return nil
	case shape == "square" && !has("side", "diameter", "girth"):
		return q.missing("side")
	case shape == "toggle" && !has("width", "diameter", "girth"):
		return q.missing("width")
	case shape == "toggle" && !has("short-end", "toggle-length", "girth"):
		return q.missing("short-end")
	case shape != "toggle" && shape != "square" && has("side"):
		return usagef("--side belongs to a square button").write("--shape square")
	case shape != "toggle" && has("width", "short-end", "toggle-length"):
		return usagef("--width, --toggle-length and --short-end belong to a toggle").write("--shape toggle")
	case shape != "toggle" && !has("diameter", "girth", "side"):
		return q.missing("diameter")
	case has("thickness", "girth") || shape == "ball":
		return nil
	case shape == "toggle":
		n := q.closure["notion"].(map[string]any)
		across, there := n["width"] // as if it were round
		if !there {
			across = n["diameter"]
		}
		q.take("notion.thickness", across)
		return nil
	case shape != "" && shape != "flat":
		return q.missing("thickness")
	}
	d, err := q.need("diameter")
	if err != nil {
		return err
	}
	cat, err := q.catalog()
	if err != nil {
		return err
	}
	f.thickness = plan.UsualThickness(cat, d)
	q.put("notion.thickness", lengthText(measure.Toleranced{V: f.thickness.V, Tol: f.thickness.Tol}), "--diameter")
	return nil
}

// putFlat writes a flat button d across, of a table of many, and the layers.
func (q *quick) putFlat(d measure.Length) error {
	if _, err := q.anyLayers(); err != nil {
		return err
	}
	q.put("notion.diameter", lengthText(measure.Toleranced{V: d}), "--table")
	if q.has("thickness") {
		return q.putLengths(map[string]string{"thickness": "notion.thickness"})
	}
	cat, err := q.catalog()
	if err != nil {
		return err
	}
	t := plan.UsualThickness(cat, d)
	q.put("notion.thickness", lengthText(measure.Toleranced{V: t.V, Tol: t.Tol}), "--table")
	return nil
}

// guess says that the thickness was taken, "" where it was given.
func (f *fastener) guess(u measure.Unit) string {
	if !f.thickness.Has() {
		return ""
	}
	t := measure.Toleranced{V: f.thickness.V, Tol: f.thickness.Tol}
	return "the button is " + t.TextThin(u) + " thick, as flat ones of its size are (--thickness)"
}

// sold says the ± of the catalogue's figures, "" where there is none.
func sold(n *catalog.Notion, u measure.Unit) string {
	if n.Thickness.From != catalog.Stock || n.Thickness.Tol == 0 {
		return ""
	}
	t := measure.Toleranced{V: n.Thickness.V, Tol: n.Thickness.Tol}
	return n.Name + " is " + t.TextThin(u) + " thick, by the catalogue"
}

// estimates are what the answer rests on that nobody measured.
func (a *answer) estimates(what ...string) {
	if says := text.Join("; ", what...); says != "" {
		a.say("By estimate " + says + ": measure yours.")
	}
}

// say adds a note where there is anything to say.
func (a *answer) say(notes ...string) {
	for _, n := range notes {
		if n != "" {
			a.notes = append(a.notes, n)
		}
	}
}

// answer is what a quick command says: the same in words and for programs.
type answer struct {
	head  string // the answer itself
	rows  [][]string
	notes []string
	json  pairs
	next  string // the command to ask next, without the program
	bad   bool   // the answer is that there is none
}

// flagsOf are the flags that a finding's value came from.
func (q *quick) flagsOf(f *rules.Finding) []string {
	var out []string
	add := func(match func(k keyFrom) bool) {
		for _, k := range q.from {
			if match(k) && q.has(strings.TrimPrefix(k.flag, "--")) && !slices.Contains(out, k.flag) {
				out = append(out, k.flag)
			}
		}
	}
	path := f.Path()
	add(func(k keyFrom) bool { return under(k.path, path) || under(path, k.path) })
	if len(out) == 0 {
		add(func(k keyFrom) bool { return under(k.path, "closure[0].notion") || k.path == "closure[0].use" })
	}
	return out
}

// hand hands the answer over. The findings stand in the way like those of a
// file.
func (q *quick) hand(a *answer, p *rules.Planned) error {
	worst := rules.Note
	var list []pairs
	var says [][2]string
	var also [][2]string // rule, and what it says
	var open []leftOpen
	if p != nil {
		var told []rules.Finding
		told, open = q.told(p)
		for _, f := range told {
			worst = max(worst, f.Severity)
			rule := rules.Find(f.Rule)
			line, message := rule.Say(&f, q.unit)
			if line == rule.Title {
				line = message // the short line names no figure
			}
			line, message = q.inFlags(line), q.inFlags(message)
			from := strings.Join(q.flagsOf(&f), ", ")
			switch {
			case !f.Unsure || !f.Ground.Weak():
			case strings.HasPrefix(f.Ask, "machine.") && !q.has("machine"):
				from = text.Join("; ", from, "the usual household machine (--machine)")
			default:
				from = text.Join("; ", from, "a figure behind it is "+f.Ground.String())
			}
			where := from
			if len(f.Sources) > 0 {
				source, _, _ := strings.Cut(f.Sources[0], ": ") // explain has the whole of it
				if !strings.HasSuffix(from, source) {
					where = text.Join("; ", from, source)
				}
			}
			switch {
			case slices.Contains(q.says, f.Rule):
			case f.Severity == rules.Note && !slices.Contains(q.notes, f.Rule):
				if note := [2]string{f.Rule, line}; !slices.Contains(also, note) {
					also = append(also, note)
				}
			default:
				says = append(says, [2]string{f.Severity.String() + ": " + line + " [" + f.Rule + "]", where})
			}
			list = append(list, pairs{
				{"rule", f.Rule}, {"severity", f.Severity.String()}, {"message", message}, {"short", line},
				{"from", append([]string{}, q.flagsOf(&f)...)}, {"sources", f.Sources},
			})
			if f.Severity == rules.Conflict && !strings.HasPrefix(a.next, "explain ") {
				a.next = "explain " + f.Rule
			}
		}
	}
	if len(also) > 0 {
		var notes []string
		for _, n := range also {
			notes = append(notes, n[1]+" ["+n[0]+"]")
		}
		says = append(says, [2]string{"Worth knowing too: " + strings.Join(notes, "; "), ""})
	}
	left := make([]pairs, len(open))
	for i, l := range open {
		left[i] = pairs{{"rule", l.finding.Rule}, {"needs", l.needs}}
	}
	data, err := q.write(a, list, left, says)
	if err != nil {
		return err
	}
	if err := q.deliver(data); err != nil {
		return err
	}
	if worst == rules.Conflict || a.bad {
		return conflict{}
	}
	return nil
}

// write puts the answer into words, or into JSON.
func (q *quick) write(a *answer, list, left []pairs, says [][2]string) ([]byte, error) {
	if q.format() == "json" {
		if list == nil {
			list = []pairs{}
		}
		a.json = append(pairs{version}, append(a.json, pair{"findings", list}, pair{"left_open", left})...)
		if a.next != "" {
			a.json = append(a.json, pair{"next", Program + " " + a.next})
		}
		return text.JSON(a.json)
	}
	var b strings.Builder
	put(&b, text.Wrap(a.head, helpWidth))
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
	for i, s := range says {
		note := strings.HasPrefix(s[0], "  - ")
		if i == 0 || s[1] == "" && !note {
			b.WriteByte('\n')
		}
		if note {
			for j, l := range text.Wrap(s[0][4:], helpWidth-4) {
				lead := "  - "
				if j > 0 {
					lead = "    "
				}
				put(&b, []string{lead + l})
			}
			continue
		}
		put(&b, text.Wrap(s[0], helpWidth))
		if s[1] != "" {
			put(&b, text.Hang("  from:", 9, s[1], helpWidth))
		}
	}
	if a.next != "" {
		fmt.Fprintf(&b, "\nNext: %s %s\n", Program, a.next)
	}
	return []byte(b.String()), nil
}

// version is that of what is written for programs.
var version = pair{"version", sheet.OutputVersion}

// again is a command with flags as they were written here, those that it has
// too, and further ones.
func (q *quick) again(command string, more ...string) string {
	cmd, err := commandNamed(command)
	if err != nil {
		panic(err)
	}
	out := []string{command}
	for _, g := range q.line.given {
		f := cmd.flag(g.name)
		if f == nil || f.name == "format" || f.name == "out" || f.kind != q.cmd.flag(g.name).kind || slices.Contains(more, "--"+g.name) {
			continue
		}
		out = append(out, "--"+g.name)
		if f.kind != boolFlag {
			out = append(out, text.Shell(g.value))
		}
	}
	return strings.Join(append(out, more...), " ")
}

// exact are lengths for programs.
func exact(ls []measure.Length) []sheet.MM {
	out := make([]sheet.MM, len(ls))
	for i, l := range ls {
		out[i] = sheet.MM(l)
	}
	return out
}

// maybe is a length for programs, null where it is nothing.
func maybe(l measure.Length) any {
	if l == 0 {
		return nil
	}
	return sheet.MM(l)
}

// afterName is the value of NAME=VALUE, or all of it.
func afterName(s string) string {
	if i := strings.IndexByte(s, '='); i >= 0 {
		return s[i+1:]
	}
	return s
}
