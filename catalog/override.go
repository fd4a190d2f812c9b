package catalog

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// walk follows a key through the tables of keys there are.
type walk struct {
	g     *Garment
	doc   *source.Document
	with  With
	value any // nil when the key is only looked at, or taken out
	look  bool

	units measure.Unit // that bare numbers of the value are read in

	counts bool // the values are counts, not lengths
	path   string
	here   any // what the document has at path
}

func (w *walk) fail(near, format string, args ...any) error {
	return &ChangeError{w.with.String(), fmt.Sprintf(format, args...), near}
}

// run sets path, and value where it must be put together from what is there.
func (w *walk) run(parts []string) error {
	fields := w.g.Catalog.rootKeys()
	w.here = w.doc.Root
	if len(parts) > 0 && parts[0] == "catalog" && !w.look {
		return w.fail("--catalog own-notions.toml", "the catalogues were read before it; --catalog adds one")
	}
	if len(parts) > 0 && parts[0] == "base" && !w.look {
		return w.fail("", "the base was read before it; change it in the file")
	}
	if len(parts) > 0 && parts[0] == "variant" {
		return w.fail("", "a variant is chosen with --variant; change it in the file")
	}
	for i := 0; i < len(parts); i++ {
		p := parts[i]
		k := slices.IndexFunc(fields, func(f field) bool { return f.name == p })
		if k < 0 {
			if below := keyBelow(fields, p); below != nil {
				return w.fail(Key(slices.Concat(parts[:i], below, parts[i+1:])...)+"=…", "there is no key %q", p)
			}
			return w.fail(nearKey(parts[:i], p, names(fields), parts[i+1:]), "there is no key %q", p)
		}
		w.path, w.here = source.Join(w.path, p), child(w.here, p)
		if i == len(parts)-1 {
			return w.whole(fields[k])
		}
		switch dst := fields[k].dst.(type) {
		case subTable:
			fields = dst
		case rawTable:
			fields = w.g.notionKeys(w.doc, w.path)
		case *Range:
			fields = limitFields(dst)
		case named:
			i++
			m, _ := w.here.(map[string]any)
			isLast := i == len(parts)-1
			if !has(m, parts[i]) && !(isLast && w.isTable()) {
				return w.fail(nearKey(parts[:i], parts[i], sortedKeys(m), parts[i+1:]), "the garment has no %s %q", p, parts[i])
			}
			w.path, w.here, fields = source.Join(w.path, parts[i]), m[parts[i]], dst.blank()
			if isLast {
				return w.wholeTable(fields)
			}
		case list:
			i++
			isLast := i == len(parts)-1
			items, _ := tables(w.here)
			n := itemNamed(items, parts[i])
			if n < 0 && !(isLast && w.isTable()) {
				known := make([]string, len(items))
				for k, it := range items {
					known[k] = nameOf(it)
				}
				return w.fail(nearKey(parts[:i], parts[i], known, parts[i+1:]), "the garment has no %s %q", p, parts[i])
			}
			fields = dst.blank()
			if isLast {
				return w.wholeItem(parts[i], n, len(items), fields)
			}
			w.path, w.here = source.Item(w.path, n), items[n]
		case *Sized:
			return w.sized(parts, i+1, false)
		case window, *[]Count:
			_, w.counts = dst.(*[]Count)
			return w.sized(parts, i+1, true)
		case *map[string]float64, *Made:
			if i+2 < len(parts) {
				return w.fail(strings.Join(parts[:i+2], ".")+"=…", "%s has no keys below it", strings.Join(parts[:i+2], "."))
			}
			w.path = source.Join(w.path, parts[i+1])
			return nil
		default:
			return w.fail(strings.Join(parts[:i+1], ".")+"=…", "%s holds one value and has no key %q", strings.Join(parts[:i+1], "."), parts[i+1])
		}
	}
	return nil
}

func (w *walk) isTable() bool {
	_, ok := w.value.(map[string]any)
	return ok
}

// whole is the end of a key that names a value.
func (w *walk) whole(fd field) error {
	switch dst := fd.dst.(type) {
	case named, list:
		_, all := w.value.([]any)
		if !w.look && w.value != nil && !all && !w.isTable() {
			return w.fail(w.with.Key+".…=…", "%s is a set of tables: say which and what of it", w.with.Key)
		}
	case subTable:
		return w.wholeTable(dst)
	}
	return nil
}

// wholeTable is the end of a key that names a table: it may be taken out or
// get other keys, but not a single value.
func (w *walk) wholeTable(fields []field) error {
	if w.value == nil || w.isTable() {
		return nil // looked at, taken out or given other keys
	}
	return w.fail(w.with.Key+"."+names(fields)[0]+"=…", "%s is a whole table", w.with.Key)
}

// itemNamed is the number of the first of a list of tables that has that
// name, -1 if none has.
func itemNamed(items []any, name string) int {
	return slices.IndexFunc(items, func(it any) bool { return nameOf(it) == name })
}

func nameOf(item any) string {
	s, _ := item.(map[string]any)["name"].(string)
	return s
}

// wholeItem is the end of a key that names an item of a list: an inline
// table takes its place, or is added at the end.
func (w *walk) wholeItem(name string, n, count int, fields []field) error {
	if n < 0 {
		n = count
	}
	w.path = source.Item(w.path, n)
	if w.value == nil {
		if w.look {
			return nil
		}
		return w.fail("", "only keys can be taken out, not the whole of %s", w.with.Key)
	}
	if err := w.wholeTable(fields); err != nil {
		return err
	}
	m := maps.Clone(w.value.(map[string]any))
	if !has(m, "name") {
		m["name"] = name
	}
	w.value = m
	return nil
}

// sized is the end of a key that goes on to one size, to min or max, or to
// both. Where the file has one value for all sizes, or a value without
// limits, the others keep it.
func (w *walk) sized(parts []string, i int, limits bool) error {
	rest := parts[i:]
	sizes := sizesIn(w.doc)
	if all := strings.Join(rest, "."); slices.Contains(sizes, all) {
		rest = []string{all} // a size with a dot in its name
	}
	if done, err := w.graded(parts, i, rest); done || err != nil {
		return err
	}
	for k, p := range rest {
		limit := limits && (p == "min" || p == "max")
		switch {
		case k == 2:
			return w.fail(strings.Join(parts[:i+k], ".")+"=…", "%s has no keys below it", strings.Join(parts[:i+k], "."))
		case limit || slices.Contains(sizes, p):
		case len(sizes) == 0:
			return w.fail(strings.Join(parts[:i], ".")+"=…", "%s has no key %q, and the garment lists no sizes", strings.Join(parts[:i], "."), p)
		default:
			known := sizes
			if limits {
				known = append(slices.Clone(sizes), "min", "max")
			}
			return w.fail(nearKey(parts[:i], p, known, rest[k+1:]), "the garment has no size %q", p)
		}
	}
	if w.value == nil || inTables(w.here, rest) {
		for _, p := range rest {
			w.path = source.Join(w.path, p)
		}
		return nil
	}
	here := w.ungraded(w.here, sizes)
	if !w.counts { // what was a number of the base becomes one of this file
		here = withUnits(w.doc, w.path, here, w.units)
	}
	w.value = merge(here, rest, w.value, sizes)
	return nil
}

// graded is the end of a key that goes on to a key of a graded length; it is
// false where the key goes on to something else.
func (w *walk) graded(parts []string, i int, rest []string) (bool, error) {
	here, path := w.here, w.path
	for k, p := range rest {
		if isGraded(here) && slices.Contains(gradeWords, p) {
			path = source.Join(path, p)
			if more := rest[k+1:]; len(more) > 0 {
				_, table := child(here, p).(map[string]any)
				if !table || p != "grade" || len(more) > 1 {
					at := strings.Join(parts[:i+k+1], ".")
					return true, w.fail(at+"=…", "%s holds one value and has no key %q", at, more[0])
				}
				path = source.Join(path, more[0])
			}
			w.path = path
			return true, nil
		}
		here, path = child(here, p), source.Join(path, p)
	}
	if k := len(rest) - 1; slices.Contains(gradeWords, rest[k]) {
		at := strings.Join(parts[:i+k], ".")
		return true, w.fail("'"+at+"="+gradeLike+"'", "%s is not graded", at)
	}
	return false, nil
}

// ungraded is raw with every graded length in it given by size, so that one
// size can be changed.
func (w *walk) ungraded(raw any, sizes []string) any {
	if isGraded(raw) {
		if m := ungraded(w.doc, raw, sizes, unitsAt(w.doc, w.path, unitsIn(w.doc))); m != nil {
			return m
		}
		return raw
	}
	if m, ok := raw.(map[string]any); ok && hasLimits(m) {
		out := maps.Clone(m)
		for k, v := range m {
			out[k] = w.ungraded(v, sizes)
		}
		return out
	}
	return raw
}

// unitsIn are the units of a document.
func unitsIn(doc *source.Document) measure.Unit {
	v, _ := doc.Get("units")
	s, _ := v.(string)
	if u, err := measure.ParseUnit(s); err == nil {
		return u
	}
	return measure.MM
}

// inTables says whether raw already has a table for every key but the last.
func inTables(raw any, keys []string) bool {
	for _, k := range keys {
		m, ok := raw.(map[string]any)
		if !ok || isGraded(m) || isLimit(k) != hasLimits(m) && len(m) > 0 {
			return false
		}
		raw = m[k]
	}
	return true
}

func isLimit(k string) bool           { return k == "min" || k == "max" }
func hasLimits(m map[string]any) bool { return has(m, "min") || has(m, "max") }
func limitFields(r *Range) []field    { return []field{f("min", &r.Min, ""), f("max", &r.Max, "")} }
func child(raw any, key string) any   { m, _ := raw.(map[string]any); return m[key] }
func filledWith(v any, keys []string) any {
	m := map[string]any{}
	for _, k := range keys {
		m[k] = v
	}
	return m
}

// merge puts a value below raw, which becomes a table of what it was for
// every size, or for min and max.
func merge(raw any, keys []string, value any, sizes []string) any {
	if len(keys) == 0 {
		return value
	}
	k := keys[0]
	m, ok := raw.(map[string]any)
	switch {
	case raw == nil:
		m = map[string]any{}
	case ok && isLimit(k) == hasLimits(m):
		m = maps.Clone(m)
	case isLimit(k):
		m = filledWith(raw, []string{"min", "max"}).(map[string]any)
	default:
		m = filledWith(raw, sizes).(map[string]any)
	}
	m[k] = merge(m[k], keys[1:], value, sizes)
	return m
}

// sizesIn are the sizes that the document lists.
func sizesIn(doc *source.Document) []string {
	v, _ := doc.Get("sizes.names")
	list, _ := v.([]any)
	var out []string
	for _, e := range list {
		if s, ok := e.(string); ok {
			out = append(out, s)
		}
	}
	return out
}

// notionKeys are the keys of the inline notion of the closure in path.
func (g *Garment) notionKeys(doc *source.Document, path string) []field {
	kind := Button
	var n int
	if _, err := fmt.Sscanf(path, "closure[%d]", &n); err == nil {
		if items, ok := tables(doc.Root["closure"]); ok && n < len(items) {
			m, _ := items[n].(map[string]any)
			if s, ok := m["fastener"].(string); ok {
				kind = s
			} else if s, ok := m["use"].(string); ok {
				if e := g.Catalog.Notion(s); e != nil {
					kind = e.Kind
				}
			}
		}
	}
	return ownNotionFields(kind, &Notion{})
}

func nearKey(before []string, word string, known []string, after []string) string {
	if near := text.Nearest(word, known); near != "" {
		return Key(slices.Concat(before, []string{near}, after)...) + "=…"
	}
	return text.Meant(word, known)
}

// closureKeys are the keys of a closure, for looking at.
var closureKeys = sync.OnceValue(func() []field { return closureFields(&Closure{}, &rawClosure{}) })

// rootKeys are the keys of a garment file, for looking at.
func (c *Catalog) rootKeys() []field {
	c.keysOnce.Do(func() {
		blank := &Garment{Catalog: c}
		c.keys = blank.rootFields(&rawRoot{closures: make([]rawClosure, 1)})
	})
	return c.keys
}

// checkKeep refuses an entry of keep that names nothing.
func (g *Garment) checkKeep(r *reader) {
	for i, k := range g.Keep {
		if inherited(r.doc, source.Item("keep", i)) {
			continue // it may keep what only others have
		}
		w := walk{g: g, doc: r.doc, with: With{Key: k}, look: true}
		parts, ok := keyParts(r.doc, k)
		if !ok {
			r.fail(source.Item("keep", i), "closure.front.use", "keep: %s names nothing in the file", text.Safe(k))
		} else if err, bad := w.run(parts).(*ChangeError); bad {
			r.fail(source.Item("keep", i), strings.TrimSuffix(err.Near, "=…"), "keep: %s", err.Reason)
		}
	}
}
