package source

import "slices"

// A document may build on another: what it says, and below that what its base
// says. Its values are those of both put together; the place of each is the
// place in the file that it came from. Text, lines and edits are those of the
// document itself.

// On is the document with the values of whole in the place of its own, which
// are what it and its base, and the base's base, come to together. An array of
// tables of d has the items of d and no others; those with names may hold keys
// of the item of that name in the base.
func (d *Document) On(base *Document, whole map[string]any) *Document {
	c := *d
	c.base, c.own, c.whole, c.Root = base, d.Root, whole, whole
	return &c
}

// Base is the document that this one builds on, nil where there is none.
func (d *Document) Base() *Document { return d.base }

// Alone is the document without its base and without what Set changed.
func (d *Document) Alone() *Document {
	c := *d
	c.over = nil
	if d.base != nil {
		c.Root = d.own
	}
	c.base, c.own, c.whole = nil, nil, nil
	return &c
}

// Origin is the document that the value at path stands in: d itself, one that
// it builds on, or nil where Set put it there. A path that is not there has
// the origin of its nearest parent that is.
func (d *Document) Origin(path string) *Document {
	p, _ := d.path(path)
	p, _, ok := d.overridden(p)
	if ok {
		return nil
	}
	l, _ := d.layer(p)
	return l
}

// layer is the document that a path of d stands in, and the path there.
func (d *Document) layer(path Path) (*Document, Path) {
	if d.base == nil {
		return d, path
	}
	n := len(path)
	for ; n > 0; n-- {
		if _, there := get(d.Root, path[:n]); there {
			break
		}
	}
	if n > 0 {
		if _, there := get(d.own, path[:n]); there {
			return d, path
		}
		for l := d.base; l != nil; l = l.base {
			if t, ok := d.within(l, path[:n]); ok {
				return l, append(t, path[n:]...)
			}
		}
	}
	return d, path
}

// within is a path of d in a document that it builds on, which may have the
// items with names in another order; false where it is not there.
func (d *Document) within(l *Document, path Path) (Path, bool) {
	out := slices.Clone(path)
	var mine any = d.whole
	var theirs any = l.values()
	for i, s := range path {
		items, list := theirs.([]any)
		mine, _ = s.of(mine)
		if list && s.Item >= 0 {
			if name := nameOf(mine); name != "" && (s.Item >= len(items) || nameOf(items[s.Item]) != name) {
				k := slices.IndexFunc(items, func(it any) bool { return nameOf(it) == name })
				if k < 0 {
					return nil, false
				}
				out[i].Item = k
			}
		}
		var there bool
		if theirs, there = out[i].of(theirs); !there {
			return nil, false
		}
	}
	return out, true
}

// values are what the document itself says.
func (d *Document) values() map[string]any {
	if d.own != nil {
		return d.own
	}
	return d.Root
}

func nameOf(item any) string {
	table, _ := item.(map[string]any)
	name, _ := table["name"].(string)
	return name
}
