package catalog

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// Options say how a garment is read.
type Options struct {
	Catalogs []string                          // further catalogue files, as given on the command line
	With     []string                          // what-if changes, KEY=VALUE with keys as in the file
	ReadFile func(name string) ([]byte, error) // source.ReadFile where nil
	Stdin    io.Reader                         // what "-" means
	As       string                            // the name of what "-" is, for messages, bases and catalogues; "" has none
	Variant  string                            // of the variants of the file this one; "" is the file itself
	Units    string                            // "in" or "mm": print in these instead of the file's
	OneUnit  bool                              // print without the other unit in brackets
	NoLayers bool                              // a question without cloth: over and under may be empty

	with []With // further changes
}

func (o Options) read(name string) ([]byte, error) {
	if o.ReadFile != nil {
		return o.ReadFile(name)
	}
	return source.ReadFile(name)
}

// rawTable keeps a table as it is, to be read once its kind is known.
type rawTable struct{ dst *any }

// rawClosure holds the parts of a closure that name other parts.
type rawClosure struct {
	notion      any
	over, under []string
}

// rawRoot holds the parts of a garment file that are worked on further.
type rawRoot struct {
	units    string
	base     string
	catalogs []string
	closures []rawClosure
}

// StdinName is what a garment that was read from the standard input is called.
const StdinName = "<standard input>"

const stdinName = StdinName

// Load reads a garment file; "-" is the standard input.
func Load(name string, opts Options) (*Garment, error) {
	if name != "-" {
		data, err := opts.read(name)
		if err != nil {
			return nil, err
		}
		return Read(name, data, opts)
	}
	if opts.Stdin == nil {
		return nil, fmt.Errorf("there is no standard input to read")
	}
	name = cmp.Or(opts.As, stdinName)
	data, err := source.ReadAll(name, opts.Stdin)
	if err != nil {
		return nil, err
	}
	return Read(name, data, opts)
}

// Read reads a garment from its text. The name is used in messages and to
// find the catalogue files the garment names. All faults are returned
// together, as source.Problems.
func Read(name string, data []byte, opts Options) (*Garment, error) {
	doc, err := source.Parse(name, data)
	if other := asGarment(name, data, doc); other != nil {
		return nil, other
	}
	if err == nil {
		doc, err = onBases(doc, opts)
	}
	if err != nil {
		return nil, err
	}
	return build(doc, opts, nil)
}

// Plain is the same garment without its what-if changes.
func (g *Garment) Plain() (*Garment, error) {
	return build(g.origin, g.opts, g.Catalog)
}

// build turns a document and its changes into a garment. A catalogue that
// was read before is used again.
func build(origin *source.Document, opts Options, cat *Catalog) (*Garment, error) {
	g := &Garment{File: origin.Name, doc: origin, origin: origin, opts: opts}
	g.opts.With, g.opts.with = nil, nil
	r := &reader{doc: origin, units: measure.MM, origin: Given, noLayers: opts.NoLayers}
	if cat != nil {
		g.Catalog = cat
	} else if err := g.readCatalogs(r, opts); err != nil {
		return nil, err
	}
	if opts.Variant != "" {
		if err := g.vary(r, opts.Variant); err != nil {
			return nil, err
		}
	}
	with, err := parseWiths(opts.With)
	if err == nil {
		g.with = append(with, opts.with...)
		g.doc, _, err = g.edits(g.with)
	}
	if err != nil {
		return nil, err
	}
	r.doc = g.doc
	g.read(r)
	if len(r.problems) == 0 {
		g.check(r)
	}
	if err := r.err(); err != nil {
		return nil, err
	}
	if opts.Units != "" {
		u, err := measure.ParseUnit(opts.Units)
		if err != nil {
			return nil, err
		}
		g.Units = u
	}
	if opts.OneUnit {
		g.Units = g.Units.Alone()
	}
	return g, nil
}

func (g *Garment) readCatalogs(r *reader, opts Options) error {
	stock, err := StockCatalog()
	if err != nil {
		return fmt.Errorf("the built-in catalogue: %w", err)
	}
	g.Catalog = stock
	var own []string
	texts := map[string][]byte{}
	dir := "."
	if g.File != stdinName {
		dir = filepath.Dir(g.File)
	}
	var files []*source.Document // the bases first
	for d := r.doc; d != nil; d = d.Base() {
		files = append([]*source.Document{d.Alone()}, files...)
	}
	for _, d := range files {
		raw, there := d.Root["catalog"]
		if !there {
			continue
		}
		r := &reader{doc: d}
		var names []string
		r.texts("catalog", raw, field{name: "catalog", entries: MaxCatalogs}, &names)
		if err := r.err(); err != nil {
			return err
		}
		before := len(own)
		for i, name := range names {
			file := baseFile(d.Name, name)
			if outside(dir, file) {
				r.fail(source.Item("catalog", i), "--catalog "+text.Shell(name)+" on the command line, or a file beside this one",
					"the catalogue %s lies outside the folders whose files a garment may name: its own and the one above, or those below the nearest .git", text.Safe(name))
				continue
			}
			if slices.Contains(own[:before], file) {
				continue // a base has it
			}
			data, err := opts.read(file)
			if err != nil {
				r.fail(source.Item("catalog", i), "a file's name, as seen from the folder of this file", "the catalogue %s cannot be read: %s", text.Safe(name), cause(err))
			}
			texts[file] = data
			own = append(own, file)
		}
		if err := r.err(); err != nil {
			return err
		}
	}
	own = append(own, opts.Catalogs...)
	if len(own) > 0 {
		g.Catalog, err = stock.with(func(name string) ([]byte, error) {
			if data, ok := texts[name]; ok {
				return data, nil
			}
			return opts.read(name)
		}, own...)
	}
	return err
}

// cause is an error of reading a file without the name it repeats.
func cause(err error) string {
	var ps source.Problems
	if errors.As(err, &ps) && len(ps) == 1 {
		return ps[0].Message
	}
	return err.Error()
}

// rootFields are the keys of a garment file, in the order they are read.
func (g *Garment) rootFields(raw *rawRoot) []field {
	cat := g.Catalog
	cloth, interfacing, thread := g.clothPart(), g.interfacingPart(), g.threadPart()
	return []field{
		f("garment", &g.Name, "what the garment is called", required),
		f("units", &raw.units, `"in" or "mm": bare numbers are read in it, lengths printed in it`, oneOf("in", "mm"), required),
		f("wearer", &g.Wearer, "who wears it: safety notes follow", oneOf(wearers...)),
		f("market", &g.Market, "where it is sold: whose safety notes apply", oneOf(markets...)),
		f("block", &g.Block, "the cloth that the pattern was drafted for", oneOf("thin", "medium", "heavy")),
		f("cut_for", &g.CutFor, "whose habit of lapping it follows", oneOf("women", "men", "unisex")),
		f("hem_at", &g.HemAt, "how far down the garment reaches; none: the run ends in the cloth", oneOf(hems...)),
		f("age", &g.Age, "a child's age in years", between(0, 18)),
		f("height", &g.Height, "a child's height", upTo(2500*mm)),
		f("costume", &g.Costume, "whether it is dress-up clothing"),
		f("care", &g.Care, "how it will be cleaned", oneOf("dry-clean", "wash-30", "wash-40", "wash-60", "wipe")),
		f("sleepwear", subTable{
			f("parts", &g.Sleepwear.Parts, "one-piece (1) or two-piece (2)", between(1, 2)),
			f("months", &g.Sleepwear.Months, "size in months", between(0, 200)),
			f("length", &g.Sleepwear.Length, "length of the garment, or of its longer part", upTo(2000*mm)),
		}, "children's nightwear"),
		f("catalog", &raw.catalogs, "own catalogue files, relative to this file", atMost(MaxCatalogs)),
		f("base", &raw.base, "a file of the same tables that this one builds on, relative to this file"),
		f("keep", &g.Keep, "what a proposed change may not touch"),
		f("currency", &g.Currency, "of prices whose catalogue names none: three capital letters, such as EUR", asCurrency),
		f("machine", subTable(g.machineKeys()), "the sewing machine"),
		f("sizes", subTable{f("names", &g.Sizes, "the sizes, smallest first", required, atMost(MaxSizes))}, "the sizes"),
		f("make", &g.Make, "how many are made, for order: { S = 12, M = 20 }, or a number where there are no sizes"),
		f("cloth", cloth.named(&g.ClothNames, &g.Cloths, cat.Cloths), "the cloths, each under a name of your own", atMost(MaxParts)),
		f("interfacing", interfacing.named(&g.InterfNames, &g.Interfacings, cat.Interfacings), "the interfacings, each under a name of your own", atMost(MaxParts)),
		f("thread", thread.named(&g.ThreadNames, &g.Threads, cat.Threads), "the threads, each under a name of your own", atMost(MaxParts)),
		f("closure", closureList{listOf[Closure]{&g.Closures, func(i int, c *Closure) []field {
			c.Index = i
			return closureFields(c, &raw.closures[i])
		}, closureKeys}, raw}, "the closures, one table for each", required, filled, atMost(MaxClosures)),
		f("cord", each(&g.Cords, cordFields), "the drawcords", atMost(MaxParts)),
		f("settled", each(&g.Settled, settledFields), "a caution or note that a sewn sample has answered"),
		f("variant", variants{}, "another cloth, another button: keys as --with has them, in quotes, and make", atMost(MaxVariants)),
	}
}

// partOf is how the named tables of one kind are read, each begun from the
// catalogue entry that its `use` names.
type partOf[T any] struct {
	kind  string
	entry func(*T) *Entry
	own   func(*T) []field
	bound *sync.Pool // of boundPart[T], where the keys are the same in every garment
}

func (g *Garment) clothPart() partOf[Cloth] {
	fibres, families := g.Catalog.fibreNames(), g.Catalog.familyNames()
	return partOf[Cloth]{"cloth", (*Cloth).entry, func(x *Cloth) []field { return clothFields(x, fibres, families) }, nil}
}

func (g *Garment) interfacingPart() partOf[Interfacing] {
	fibres := g.Catalog.fibreNames()
	return partOf[Interfacing]{"interfacing", (*Interfacing).entry, func(x *Interfacing) []field { return interfacingFields(x, fibres) }, nil}
}

func (g *Garment) threadPart() partOf[Thread] {
	return partOf[Thread]{"thread", (*Thread).entry, threadFields, &boundThreads}
}

func (g *Garment) machineKeys() []field {
	return append([]field{f("use", &g.MachineUse, "a machine of the catalogue")}, machineFields(&g.Machine)...)
}

func (p partOf[T]) fields(x *T, use *string) []field {
	own, trade := p.own(x), tradeFields(p.entry(x))
	fields := append(make([]field, 0, 1+len(own)+len(trade)), f("use", use, "a"+article(p.kind)+" of the catalogue"))
	return append(append(fields, own...), trade...)
}

// begin is the catalogue entry that a table builds on.
func (p partOf[T]) begin(r *reader, path string, raw map[string]any, stock []*T) *T {
	x := new(T)
	name := func(t *T) string { return p.entry(t).Name }
	if use, ok := raw["use"].(string); ok {
		if s := find(stock, use, name); s != nil {
			*x = *s
			if _, other := raw["weight"]; other {
				forgetThickness(x)
			}
		} else {
			r.notFound(source.Join(path, "use"), p.kind, use, namesOf(stock, name))
		}
	}
	p.entry(x).Own = sortedKeys(raw)
	return x
}

func (p partOf[T]) named(names *[]string, dst *[]*T, stock []*T) named {
	return named{
		blank: sync.OnceValue(func() []field { return p.fields(new(T), new(string)) }),
		begin: func(r *reader, path, name string, raw map[string]any) []field {
			x := p.begin(r, path, raw, stock)
			*names = append(*names, name)
			*dst = append(*dst, x)
			return p.fields(x, new(string))
		},
	}
}

// forgetThickness drops the thickness of a catalogue entry whose weight the
// garment changes: it was another cloth's.
func forgetThickness(x any) {
	switch x := x.(type) {
	case *Cloth:
		x.Thickness = Measured{}
	case *Interfacing:
		x.Thickness = Measured{}
	}
}

func article(word string) string {
	if strings.ContainsRune("aeiou", rune(word[0])) {
		return "n " + word
	}
	return " " + word
}

func (r *reader) notFound(path, kind, name string, known []string) {
	instead := fmt.Sprintf("a name that `placketeer catalog --kind %s` lists", kind)
	if near := text.Nearest(name, known); near != "" {
		instead = `"` + near + `"`
	}
	r.fail(path, instead, "the catalogue has no %s %q", kind, name)
}

// read fills the garment from its document.
func (g *Garment) read(r *reader) {
	root := r.doc.Root
	raw := &rawRoot{}
	if items, ok := tables(root["closure"]); ok {
		raw.closures = make([]rawClosure, len(items))
	}
	g.readMachine(r)
	fields := g.rootFields(raw)
	for _, key := range sortedKeys(root) {
		if !slices.ContainsFunc(fields, func(f field) bool { return f.name == key }) {
			r.unknown(key, key, fields)
		}
	}
	for _, fd := range fields {
		v, there := root[fd.name]
		if !there {
			if fd.required {
				r.problems = append(r.problems, source.Problem{
					Pos: source.Pos{File: g.File, Line: 1, Column: 1}, Width: 1,
					Message: fd.name + " is missing", Instead: missingRoot()[fd.name],
				})
			}
			continue
		}
		r.assign(fd.name, v, fd)
		switch fd.name {
		case "units":
			r.units = measure.In // so that one wrong word is one fault
			if u, err := measure.ParseUnit(raw.units); err == nil {
				r.units = u
			}
			g.Units, g.units = r.units, r.units
		case "sizes":
			r.sizes = g.Sizes
			g.checkSizeNames(r)
		}
	}
	if len(g.Sizes) == 0 {
		g.Sizes = []string{""}
	}
	if r.cut {
		return
	}
	for i := range g.Closures {
		g.resolve(r, i, &raw.closures[i])
	}
	g.resolveCords(r)
	g.noteOwn()
}

// resolveCords finds the parts that the drawcords name.
func (g *Garment) resolveCords(r *reader) {
	for i := range g.Cords {
		c := &g.Cords[i]
		if c.Use == "" {
			continue
		}
		path := source.Join(source.Item("cord", i), "use")
		if e := g.Catalog.Cord(c.Use); e != nil {
			own := c.Part.Thickness
			c.Part = *e
			if own.Has() {
				c.Part.Thickness = own
			}
		} else {
			r.notFound(path, "cord", c.Use, namesOf(g.Catalog.Cords, func(x *CordPart) string { return x.Name }))
		}
	}
}

// noteOwn says which entries of an own catalogue the garment uses in place
// of built-in ones of the same name.
func (g *Garment) noteOwn() {
	stock, err := StockCatalog()
	if err != nil {
		return
	}
	note := func(e *Entry, builtIn func() bool) {
		if e.File == "" || !builtIn() {
			return
		}
		says := fmt.Sprintf("%s is taken from %s, not from the built-in catalogue", e.Name, e.File)
		if !slices.Contains(g.Notes, says) {
			g.Notes = append(g.Notes, says)
		}
	}
	note(&g.Machine.Entry, func() bool { return stock.Machine(g.Machine.Name) != nil })
	for _, c := range g.Cloths {
		note(&c.Entry, func() bool { return stock.Cloth(c.Name) != nil })
	}
	for _, c := range g.Interfacings {
		note(&c.Entry, func() bool { return stock.Interfacing(c.Name) != nil })
	}
	for _, t := range g.Threads {
		note(&t.Entry, func() bool { return stock.Thread(t.Name) != nil })
	}
	for i := range g.Closures {
		n := &g.Closures[i].Notion
		note(&n.Entry, func() bool { return stock.Notion(n.Name) != nil })
	}
	for i := range g.Cords {
		p := &g.Cords[i].Part
		note(&p.Entry, func() bool { return stock.Cord(p.Name) != nil })
	}
}

var missingRoot = sync.OnceValue(func() map[string]string {
	return map[string]string{
		"garment": `a first line like: garment = "Watch coat"`,
		"units":   `units = "in"   or   units = "mm"`,
		"closure": "at least one [[closure]] with a name, a fastener and its layers",
	}
})

func (g *Garment) readMachine(r *reader) {
	use, path := "domestic", ""
	m, _ := r.doc.Root["machine"].(map[string]any)
	if m != nil {
		if s, ok := m["use"].(string); ok {
			use, path = s, "machine.use"
		}
	}
	if x := g.Catalog.Machine(use); x != nil {
		g.Machine, g.MachineUse = *x, use
	} else if path != "" {
		r.notFound(path, "machine", use, namesOf(g.Catalog.Machines, func(x *Machine) string { return x.Name }))
	}
	if m != nil {
		g.Machine.Own = sortedKeys(m)
	}
}

func (g *Garment) checkSizeNames(r *reader) {
	if len(g.Sizes) == 0 && len(r.problems) == 0 {
		r.fail("sizes.names", `names = ["S", "M", "L"], or no [sizes] at all`, "sizes lists no size")
	}
	for i, s := range g.Sizes {
		if !plainName(strings.ReplaceAll(s, ".", "")) {
			r.fail(source.Item("sizes.names", i), nameRule, "the size %q cannot be used: --with and messages could not say it", text.Safe(s))
		}
		if slices.Index(g.Sizes, s) != i {
			r.fail(source.Item("sizes.names", i), "another name", "size %q is listed twice", s)
		}
		if s == "min" || s == "max" {
			r.fail(source.Item("sizes.names", i), "another name", "a size cannot be called %q: tables use it for limits", s)
		}
		if slices.Contains(gradeWords, s) {
			r.fail(source.Item("sizes.names", i), "another name", "a size cannot be called %q: graded lengths use it", s)
		}
		if slices.Contains(gradeWords, s) {
			r.fail(source.Item("sizes.names", i), "another name", "a size cannot be called %q: graded lengths use it", s)
		}
	}
}

// resolve finds what a closure names: its notion, layers and thread.
func (g *Garment) resolve(r *reader, i int, raw *rawClosure) {
	c := &g.Closures[i]
	path := source.Item("closure", i)
	g.resolveNotion(r, c, path, raw.notion)
	c.Over = g.layers(r, source.Join(path, "over"), raw.over)
	c.Under = g.layers(r, source.Join(path, "under"), raw.under)
	if !given(r.doc, source.Join(path, "over")) {
		r.failKey(path, `over = ["shell", "shell"]: the layers it is sewn through, outside first`, "closure %q does not say what it is sewn through", c.Name)
	}
	if len(raw.under) == 0 {
		c.Under = c.Over
	}
	g.checkNamed(r, c, path)
	if c.Pieces == 0 {
		c.Pieces = 1
	}
}

// checkNamed refuses threads and cloths of a closure that the garment does
// not have.
func (g *Garment) checkNamed(r *reader, c *Closure, path string) {
	if c.Thread != "" && g.ThreadNamed(c.Thread) == nil {
		r.fail(source.Join(path, "thread"), cmp.Or(text.MeantQuoted(c.Thread, g.ThreadNames), "[thread."+c.Thread+"] further up"), "the garment has no thread %q", c.Thread)
	}
	if c.ButtonThread != "" && g.ThreadNamed(c.ButtonThread) == nil {
		r.fail(source.Join(path, "button_thread"), cmp.Or(text.MeantQuoted(c.ButtonThread, g.ThreadNames), "[thread."+c.ButtonThread+"] further up"), "the garment has no thread %q", c.ButtonThread)
	}
	if m := c.Run.Match; m != "" && g.ClothNamed(m) == nil {
		r.fail(path+".run.match", cmp.Or(text.MeantQuoted(m, g.ClothNames), "[cloth."+m+"] further up"), "the garment has no cloth %q", m)
	}
	for i := range c.Stand.Strips {
		at := source.Join(source.Item(path+".stand.strips", i), "name")
		switch name := c.Stand.Strips[i].Name; {
		case name == "": // a missing name is reported by itself
		case g.InterfacingNamed(name) == nil:
			r.fail(at, cmp.Or(text.MeantQuoted(name, g.InterfNames), "[interfacing."+name+"] further up"), "the garment has no interfacing %q", name)
		case c.Stand.StripOf(name) != &c.Stand.Strips[i]:
			r.fail(at, "one line for each interfacing", "the strip of %q is given twice", name)
		}
	}
	if m := c.Check.Cloth; m != "" && g.ClothNamed(m) == nil {
		r.fail(path+".check.cloth", cmp.Or(text.MeantQuoted(m, g.ClothNames), "[cloth."+m+"] further up"), "the garment has no cloth %q", m)
	}
}

func (g *Garment) resolveNotion(r *reader, c *Closure, path string, raw any) {
	usePath, inline := source.Join(path, "use"), source.Join(path, "notion")
	switch {
	case c.Use != "":
		n := g.Catalog.Notion(c.Use)
		if n == nil {
			r.notFound(usePath, "fastener", c.Use, namesOf(g.Catalog.Notions, func(x *Notion) string { return x.Name }))
			return
		}
		c.Notion = *n
		if c.Fastener != "" && c.Fastener != n.Kind {
			r.fail(source.Join(path, "fastener"), fmt.Sprintf("%q, or another `use`", n.Kind), "%s is a %s, not a %s", n.Name, n.Kind, c.Fastener)
			return
		}
		c.Fastener = n.Kind
	case raw == nil && given(r.doc, usePath): // and refused
		return
	case raw == nil:
		r.failKey(path, `use = "horn-40", or a table [closure.notion] with its diameter and thickness`, "closure %q names no fastener", c.Name)
		return
	default:
		if c.Fastener == "" {
			c.Fastener = Button
		}
		c.Notion = Notion{Kind: c.Fastener}
		c.Notion.Name, c.Notion.Source = "your own "+text.One(c.Fastener), "your garment file"
	}
	if raw != nil {
		r.table(inline, raw, ownNotionFields(c.Fastener, &c.Notion))
		if m, ok := raw.(map[string]any); ok {
			c.Notion.Own = sortedKeys(m)
		}
	}
	c.Notion.settle()
}

// given says whether a key stands in a document.
func given(doc *source.Document, path string) bool {
	_, there := doc.Get(path)
	return there
}

// settle fills in what follows from the rest of a fastener.
func (n *Notion) settle() {
	if n.Kind == Button && n.Shape == "" && n.Side.Has() {
		n.Shape = "square" // nothing else has a side
	}
}

func (g *Garment) layers(r *reader, path string, names []string) []Layer {
	out := make([]Layer, 0, len(names))
	for i, n := range names {
		l := Layer{Name: n, Cloth: g.ClothNamed(n)}
		if l.Cloth == nil {
			l.Interfacing = g.InterfacingNamed(n)
		}
		if l.Cloth == nil && l.Interfacing == nil {
			known := append(slices.Clone(g.ClothNames), g.InterfNames...)
			r.fail(source.Item(path, i), cmp.Or(text.MeantQuoted(n, known), "[cloth."+n+"] or [interfacing."+n+"] further up"), "the garment has no cloth or interfacing %q", n)
			continue
		}
		out = append(out, l)
	}
	return out
}
