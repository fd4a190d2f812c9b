package catalog

import (
	"slices"
	"sync"

	"placketeer/catalog/source"
)

// Alter is the same garment with changes made to it, one after the other. g
// stays as it is.
//
// Only what the keys touch is read again, and checked with what it has to go
// with; what comes out, or the error, is that of reading the file anew with
// all changes. The error is a *ChangeError where a change cannot be made, and
// source.Problems where the garment with it cannot be used.
func (g *Garment) Alter(with ...With) (*Garment, error) { return g.AlterIn(new(Garment), with...) }

// AlterIn is Alter in the room of a garment that nobody looks at any more, for
// a search that keeps none: room is used again each time. What comes out need
// not be room.
func (g *Garment) AlterIn(room *Garment, with ...With) (*Garment, error) {
	if len(with) == 0 {
		return g, nil
	}
	doc, edits, err := g.edits(with)
	if err != nil {
		return nil, err
	}
	all := append(slices.Clip(g.with), with...)
	if g.rebuild(room, doc, all, edits) {
		return room, nil
	}
	opts := g.opts
	opts.with = all
	return build(g.origin, opts, g.Catalog)
}

// simple are the keys of the file on which nothing else in it depends.
var simple = []string{"garment", "wearer", "market", "block", "cut_for", "hem_at", "age", "height", "costume", "care", "make", "currency", "sleepwear", "keep"}

// rebuild makes n of g, and reads again what the changes touch. It is false
// where that is not enough, or where anything is wrong: then the whole must be
// read.
func (g *Garment) rebuild(n *Garment, doc *source.Document, with []With, edits []*edit) bool {
	closures := append(n.Closures[:0], g.Closures...)
	*n = *g
	n.doc, n.with, n.Notes, n.Closures = doc, with, nil, closures
	r := &reader{doc: doc, units: g.units, sizes: g.Sizes, origin: Given, noLayers: g.opts.NoLayers}
	reread := false
	var done []string
	for _, e := range edits {
		root := e.parts[0]
		switch {
		case root == "closure":
			reread = true
			continue
		case slices.Contains(simple, root):
			path, _ := source.ParsePath(e.Path)
			if !r.again(n.rootFields(&rawRoot{}), path, "", doc.Root) {
				return false
			}
			continue
		case root == "cord":
			if !r.again(n.rootFields(&rawRoot{}), source.Path{{Key: root, Item: -1}}, "", doc.Root) {
				return false
			}
			n.resolveCords(r)
			n.checkCords(r)
			continue
		case len(e.parts) < 2:
			return false
		}
		name := e.parts[1]
		if part := Key(root, name); root != "machine" {
			if slices.Contains(done, part) {
				continue
			}
			done = append(done, part)
		}
		ok := false
		switch cat := g.Catalog; root {
		case "cloth":
			ok = rebuildPart(r, name, n.clothPart(), g.ClothNames, &n.Cloths, cat.Cloths, func(i int) { n.checkCloth(r, i) })
		case "interfacing":
			ok = rebuildPart(r, name, n.interfacingPart(), g.InterfNames, &n.Interfacings, cat.Interfacings, func(i int) { n.checkInterfacing(r, i) })
		case "thread":
			ok = rebuildPart(r, name, n.threadPart(), g.ThreadNames, &n.Threads, cat.Threads, func(i int) { n.checkThread(r, i) })
		case "machine":
			n.Machine, n.MachineUse = Machine{}, ""
			n.readMachine(r)
			if m, there := doc.Root["machine"]; there {
				r.table("machine", m, n.machineKeys())
			}
			ok = true
		}
		if !ok {
			return false
		}
	}
	if len(done) > 0 {
		for i := range n.Closures {
			c := &n.Closures[i]
			c.Over, c.Under = n.relinked(g, c.Over), n.relinked(g, c.Under)
		}
	}
	if reread {
		for i := range n.Closures {
			if !n.rebuildClosure(r, i, edits) {
				return false
			}
		}
		n.checkOpenings(r)
	}
	n.checkKeep(r)
	if len(r.problems) > 0 {
		return false
	}
	n.noteOwn()
	return true
}

// boundClosure is a closure and the fields that read into it.
type boundClosure struct {
	Closure
	raw    rawClosure
	fields []field
}

var boundClosures = sync.Pool{New: func() any {
	b := new(boundClosure)
	b.fields = closureFields(&b.Closure, &b.raw)
	return b
}}

// closureList is the list of the closures. Each is read into a bound one, for
// there are many keys, and comes from there.
type closureList struct {
	listOf[Closure]
	raw *rawRoot
}

func (l closureList) read(i int, into func(item []field)) {
	b := boundClosures.Get().(*boundClosure)
	b.Index = i
	into(b.fields)
	(*l.dst)[i], l.raw.closures[i] = b.Closure, b.raw
	b.free()
}

// free clears a bound closure, for the next.
func (b *boundClosure) free() {
	b.Closure, b.raw = Closure{}, rawClosure{}
	boundClosures.Put(b)
}

// rebuildClosure reads again what the changes touch in closure i.
func (g *Garment) rebuildClosure(r *reader, i int, edits []*edit) bool {
	name := g.Closures[i].Name
	var b *boundClosure
	var item map[string]any
	path := ""
	notion, layers := false, false
	for _, e := range edits {
		if e.parts[0] != "closure" {
			continue
		}
		if len(e.parts) < 3 || e.parts[2] == "name" {
			return false
		}
		if e.parts[1] != name {
			continue
		}
		if b == nil {
			items, _ := tables(r.doc.Root["closure"])
			item, _ = items[i].(map[string]any)
			path = source.Item("closure", i)
			b = boundClosures.Get().(*boundClosure)
			defer b.free()
			b.Closure = g.Closures[i]
			b.Run.Clears = slices.Clone(b.Run.Clears)
			for k := range b.Run.Clears {
				if z := &b.Run.Clears[k]; z.At.Has() {
					z.From, z.To = nil, nil // as they were before the check
				}
			}
		}
		steps, _ := source.ParsePath(e.Path)
		if !r.again(b.fields, steps[2:], path, item) {
			return false
		}
		switch e.parts[2] {
		case "fastener", "use", "notion":
			notion = true
		case "over", "under":
			layers = true
		}
	}
	if b == nil {
		return true
	}
	c := &b.Closure
	if notion {
		c.Fastener, _ = item["fastener"].(string)
		c.Notion = Notion{}
		g.resolveNotion(r, c, path, item["notion"])
	}
	if layers {
		for _, side := range []string{"over", "under"} {
			step := source.Path{{Key: side, Item: -1}}
			if !has(item, "over") || !r.again(b.fields, step, path, item) {
				return false
			}
		}
		c.Over = g.layers(r, source.Join(path, "over"), b.raw.over)
		if c.Under = c.Over; len(b.raw.under) > 0 {
			c.Under = g.layers(r, source.Join(path, "under"), b.raw.under)
		}
	}
	if c.Pieces == 0 {
		c.Pieces = 1
	}
	if len(r.problems) == 0 {
		g.checkName(r, source.Join(path, "opening"), "opening", c.Opening)
		g.checkNamed(r, c, path)
		g.checkClosure(r, path, c)
	}
	g.Closures[i] = *c
	return true
}

// boundPart is a named part and the fields that read into it.
type boundPart[T any] struct {
	x      T
	use    string
	fields []field
}

var boundThreads sync.Pool

// read reads a table into what its catalogue entry began.
func (p partOf[T]) read(r *reader, path string, raw map[string]any, x *T) {
	if p.bound == nil {
		r.table(path, raw, p.fields(x, new(string)))
		return
	}
	b, _ := p.bound.Get().(*boundPart[T])
	if b == nil {
		b = new(boundPart[T])
		b.fields = p.fields(&b.x, &b.use)
	}
	b.x, b.use = *x, ""
	r.table(path, raw, b.fields)
	*x = b.x
	p.bound.Put(b)
}

// rebuildPart reads one named table of cloths, interfacings or threads again.
func rebuildPart[T any](r *reader, name string, p partOf[T], names []string, dst *[]*T, stock []*T, check func(int)) bool {
	i := slices.Index(names, name)
	root, _ := r.doc.Root[p.kind].(map[string]any)
	sub, ok := root[name].(map[string]any)
	if i < 0 || !ok {
		return false
	}
	path := source.Join(p.kind, name)
	x := p.begin(r, path, sub, stock)
	p.read(r, path, sub, x)
	*dst = slices.Clone(*dst)
	(*dst)[i] = x
	if len(r.problems) == 0 {
		check(i)
	}
	return true
}

// relinked are layers that name the cloths and interfacings of g as they are
// now.
func (g *Garment) relinked(was *Garment, layers []Layer) []Layer {
	out, own := layers, false
	for i, l := range layers {
		now := l
		if l.Cloth != nil {
			now.Cloth = g.Cloths[slices.Index(was.Cloths, l.Cloth)]
		} else {
			now.Interfacing = g.Interfacings[slices.Index(was.Interfacings, l.Interfacing)]
		}
		if now != l {
			if !own {
				out, own = slices.Clone(layers), true
			}
			out[i] = now
		}
	}
	return out
}

// Rewrite makes changes in the text of the garment's file: the whole text
// with them, and the lines that differ.
func (g *Garment) Rewrite(with ...With) (text []byte, lines []source.Edit, err error) {
	doc, edits, err := g.edits(with)
	if err != nil {
		return nil, nil, err
	}
	if g.Variant != "" {
		return g.rewriteVariant(doc, edits)
	}
	if g.origin.Base() != nil {
		return g.rewriteOnBase(doc, edits)
	}
	assign := make([]source.Assignment, len(edits))
	for i, e := range edits {
		assign[i] = e.Assignment
	}
	return g.origin.Edit(assign...)
}

// Replace is the change that gives a closure, or a named cloth, interfacing
// or thread, another entry of the catalogue. What the file says of the old
// one, such as its thickness, goes with it.
func (g *Garment) Replace(kind, name, use string) []With { return g.Replacing(kind, name)(use) }

// Replacing is Replace for many entries: what hangs on none of them is looked up
// once.
func (g *Garment) Replacing(kind, name string) func(use string) []With {
	key := Key(kind, name)
	if kind == "closure" {
		var out []With
		was, sampled := "", false
		if i := g.closureNamed(name); i >= 0 {
			path := source.Item(kind, i)
			if g.Stated(source.Join(path, "notion")) {
				out = append(out, TakeOut(key+".notion"))
			}
			was, sampled = g.Closures[i].Use, g.Stated(path+".measured.hole_length")
		}
		return func(use string) []With {
			out := slices.Clip(out)
			if sampled && use != was { // it was the old one's
				out = append(out, TakeOut(key+".measured.hole_length"))
			}
			return append(out, Set(key+".use", use))
		}
	}
	out := slices.Clip(g.unsampled(name))
	var v any
	if g.doc != nil {
		v, _ = g.doc.Get(source.Join(kind, name))
	}
	m, ok := v.(map[string]any)
	alone := ok && len(m) == 1 && has(m, "use")
	return func(use string) []With {
		if alone {
			return append(out, Set(key+".use", use))
		}
		return append(out, SetTable(key, map[string]any{"use": use}))
	}
}

// unsampled are the changes that take out what was measured on samples through
// a layer of that name: they were sewn through another.
func (g *Garment) unsampled(layer string) []With {
	var out []With
	for i := range g.Closures {
		c := &g.Closures[i]
		in := func(l Layer) bool { return l.Name == layer }
		if slices.ContainsFunc(c.Over, in) || slices.ContainsFunc(c.Under, in) {
			out = append(out, g.Unsampled(i)...)
		}
	}
	return out
}

// Unsampled are the changes that take out what was measured on a sample of
// closure i, for when its layers change.
func (g *Garment) Unsampled(i int) []With {
	if !g.Stated(source.Item("closure", i) + ".measured") {
		return nil
	}
	return []With{TakeOut(Key("closure", g.Closures[i].Name, "measured"))}
}

// Kept is the entry of keep that a change would touch, "" where it touches
// none: the same key, one below it or one above it.
func (g *Garment) Kept(with With) string {
	if len(g.Keep) == 0 {
		return ""
	}
	parts, _ := keyParts(g.doc, with.Key)
	for _, k := range g.Keep {
		kept, _ := keyParts(g.doc, k)
		if n := min(len(kept), len(parts)); n > 0 && slices.Equal(kept[:n], parts[:n]) {
			return k
		}
	}
	return ""
}

// KeyOf is the key of a path in the file, as With and --with have it:
// closure.front.use for closure[0].use; "" for the whole file.
func (g *Garment) KeyOf(path string) string {
	if g.doc == nil {
		return path
	}
	p, _ := g.doc.Named(path)
	return p.Key()
}

// Withs are the changes this garment was read with, or altered by.
func (g *Garment) Withs() []With { return g.with }
