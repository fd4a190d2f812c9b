package catalog

import (
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog/source"
)

// Change is the same garment with further what-if changes made to it.
//
// Only the parts that the changes name are read again, which makes it cheap
// enough for a search over many changes; what comes out is what reading the
// file anew with all changes gives.
func (g *Garment) Change(with ...string) (*Garment, error) {
	if len(with) == 0 {
		return g, nil
	}
	doc := g.doc
	overs := make([]override, len(with))
	for i, kv := range with {
		o, err := g.override(doc, kv)
		if err == nil {
			doc, err = o.apply(doc)
		}
		if err != nil {
			return nil, err
		}
		overs[i] = o
	}
	opts := g.opts
	opts.With = append(slices.Clip(opts.With), with...)
	if n := g.rebuild(doc, opts, overs); n != nil {
		return n, nil
	}
	return build(g.origin, opts, g.Catalog)
}

// rebuild reads the parts again that the changes name. It is nil where that
// is not enough, or where anything is wrong: then the whole must be read.
func (g *Garment) rebuild(doc *source.Document, opts Options, overs []override) *Garment {
	n := *g
	n.doc, n.opts, n.with, n.Notes = doc, opts, slices.Clone(opts.With), nil
	n.Closures = slices.Clone(g.Closures)
	r := &reader{doc: doc, units: g.units, sizes: g.Sizes, origin: Given}
	again := make([]bool, len(g.Closures))
	var done []string
	for _, o := range overs {
		if len(o.parts) < 2 {
			return nil
		}
		root, name := o.parts[0], o.parts[1]
		if root == "closure" {
			i := slices.IndexFunc(g.Closures, func(c Closure) bool { return c.Name == name })
			if i < 0 || len(o.parts) < 3 || o.parts[2] == "name" {
				return nil
			}
			again[i] = true
			continue
		}
		if part := root + "." + name; root != "machine" {
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
			return nil
		}
	}
	items, _ := tables(doc.Root["closure"])
	for i := range n.Closures {
		c := &n.Closures[i]
		if !again[i] {
			c.Over, c.Under = n.relinked(g, c.Over), n.relinked(g, c.Under)
			continue
		}
		*c = Closure{Index: i}
		raw := rawClosure{}
		path := source.Item("closure", i)
		r.table(path, items[i], closureFields(c, &raw))
		n.resolve(r, i, &raw)
		if len(r.problems) == 0 {
			n.checkClosure(r, path, c)
		}
	}
	n.checkOpenings(r)
	if len(r.problems) > 0 {
		return nil
	}
	n.noteOwn()
	return &n
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
	r.table(path, sub, p.fields(x, new(string)))
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

// Lines are the lines of the file that make what-if changes in it, and the
// whole text with them.
func (g *Garment) Lines(with ...string) (text []byte, lines []source.Edit, err error) {
	doc := g.doc
	assign := make([]source.Assignment, len(with))
	for i, kv := range with {
		o, err := g.override(doc, kv)
		if err == nil {
			doc, err = o.apply(doc)
		}
		if err != nil {
			return nil, nil, err
		}
		assign[i] = o.Assignment
	}
	return g.origin.Edit(assign...)
}

// Swap is the change that gives a closure, or a named cloth, interfacing or
// thread, another entry of the catalogue. What the file says of the old one,
// such as its thickness, goes with it.
func (g *Garment) Swap(kind, name, use string) []string {
	if kind == "closure" {
		key := Key(kind, name)
		i := slices.IndexFunc(g.Closures, func(c Closure) bool { return c.Name == name })
		if i >= 0 && g.Stated(source.Join(source.Item(kind, i), "notion")) {
			return []string{key + ".notion=", key + ".use=" + use}
		}
		return []string{key + ".use=" + use}
	}
	var v any
	if g.doc != nil {
		v, _ = g.doc.Get(source.Join(kind, name))
	}
	if m, ok := v.(map[string]any); ok && len(m) == 1 && has(m, "use") {
		return []string{Key(kind, name) + ".use=" + use}
	}
	return []string{Key(kind, name) + "=" + source.Text(map[string]any{"use": use})}
}

// KeyOf is the --with key of a path in the file: closure.front.use for
// closure[0].use; "" for the whole file.
func (g *Garment) KeyOf(path string) string {
	var parts []string
	for i, p := range strings.Split(path, ".") {
		name, rest, item := strings.Cut(p, "[")
		if parts = append(parts, name); !item {
			continue
		}
		n, err := strconv.Atoi(strings.TrimSuffix(rest, "]"))
		if err != nil || n < 0 {
			return strings.Join(parts, ".")
		}
		at := strings.Join(strings.Split(path, ".")[:i+1], ".")
		v, _ := g.doc.Get(at + ".name")
		if s, ok := v.(string); ok {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, ".")
}

// With are the what-if changes this garment was read with.
func (g *Garment) With() []string { return g.with }
