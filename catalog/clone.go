package catalog

import (
	"slices"

	"placketeer/catalog/source"
)

// Clone is a copy of the garment whose machine, closures, cloths and
// interfacings may be changed in place, for a search over many garments: it
// also moves figures of the catalogue and estimates, which are no keys of the
// file that Alter could set.
// Lists inside a closure are still shared. The file behind it, and with it
// the places of values, stays that of g.
func (g *Garment) Clone() *Garment {
	n := *g
	n.Cloths, n.Interfacings = cloned(g.Cloths), cloned(g.Interfacings)
	n.Closures = slices.Clone(g.Closures)
	for i := range n.Closures {
		c := &n.Closures[i]
		c.Over, c.Under = n.relinked(g, c.Over), n.relinked(g, c.Under)
	}
	return &n
}

func cloned[T any](list []*T) []*T {
	out := make([]*T, len(list))
	for i, x := range list {
		y := *x
		out[i] = &y
	}
	return out
}

// Keyed is a length of a closure: its place in the file, its key below the
// closure and what it is, and the length itself.
type Keyed struct {
	Path, Key, Doc string
	At             *Measured
}

// Lengths are the lengths of closure i that have a value, in the order of
// the keys. What is written through At changes the closure: see Clone.
func (g *Garment) Lengths(i int) []Keyed {
	c := &g.Closures[i]
	var out []Keyed
	sizes := func(path, key, doc string, s *Sized) {
		if len(*s) == 0 {
			return
		}
		*s = slices.Clone(*s)
		for k := range *s {
			p := path
			if len(*s) > 1 {
				p = source.Join(path, g.Sizes[k])
			}
			out = append(out, Keyed{p, key, doc, &(*s)[k]})
		}
	}
	var walk func(path, key string, fields []field)
	walk = func(path, key string, fields []field) {
		for _, fd := range fields {
			p, k := source.Join(path, fd.name), fd.name
			if key != "" {
				k = key + "." + fd.name
			}
			switch dst := fd.dst.(type) {
			case *Measured:
				if dst.Has() {
					out = append(out, Keyed{p, k, fd.doc, dst})
				}
			case *Sized:
				sizes(p, k, fd.doc, dst)
			case window:
				sizes(p, k, fd.doc, dst.lo)
				sizes(p, k, fd.doc, dst.hi)
			case *Range:
				walk(p, k, limitFields(dst))
			case subTable:
				walk(p, k, dst)
			case rawTable:
				walk(p, k, ownNotionFields(c.Notion.Kind, &c.Notion))
			}
		}
	}
	walk(source.Item("closure", i), "", closureFields(c, &rawClosure{}))
	return out
}

// SetNotion gives closure i another fastener of the catalogue in place, as
// the changes of Replace do, for a search over a whole catalogue: to alter the
// garment takes as long as to plan it. It is false where the catalogue says
// too little of it for the closure, or what it says cannot be.
func (g *Garment) SetNotion(i int, n *Notion) bool {
	c := &g.Closures[i]
	if c.Use != n.Name {
		c.Sample.HoleLength = Measured{} // the old one's
	}
	c.Notion, c.Use, c.Fastener = *n, n.Name, n.Kind
	c.Notion.settle()
	r := &reader{doc: g.doc, units: g.units, sizes: g.Sizes, origin: Given, noLayers: g.opts.NoLayers}
	g.checkNotion(r, "", c) // the rest of the closure is as it was
	return len(r.problems) == 0
}
