package catalog

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// ChangeError is a what-if change that cannot be made.
type ChangeError struct {
	Change string
	Reason string
	Near   string // what to write instead, where that is near
}

func (e *ChangeError) Error() string {
	s := fmt.Sprintf("--with %s: %s", text.Safe(e.Change), e.Reason)
	if e.Near != "" {
		s += fmt.Sprintf("; write %s", e.Near)
	}
	return s
}

// override is one what-if change with its place in the document.
type override struct {
	text string // KEY=VALUE
	source.Assignment
	parts []string // of the key
}

// splitKey takes a key apart at its dots. A part in quotes may hold dots.
func splitKey(key string) []string {
	var parts []string
	quoted, from := false, 0
	for i := 0; i < len(key); i++ {
		switch {
		case key[i] == '"':
			quoted = !quoted
		case key[i] == '.' && !quoted:
			parts = append(parts, unquoted(key[from:i]))
			from = i + 1
		}
	}
	return append(parts, unquoted(key[from:]))
}

func unquoted(part string) string {
	part = strings.TrimSpace(part)
	if len(part) > 1 && part[0] == '"' && part[len(part)-1] == '"' {
		return part[1 : len(part)-1]
	}
	return part
}

// Key is the key of a named part for --with and keep: Key("cloth", "shell").
// A name with a dot or an equals sign stands in quotes.
func Key(parts ...string) string {
	out := make([]string, len(parts))
	for i, p := range parts {
		if strings.ContainsAny(p, ".=") || strings.TrimSpace(p) != p {
			p = `"` + p + `"`
		}
		out[i] = p
	}
	return strings.Join(out, ".")
}

// cutChange splits KEY=VALUE at the first equals sign outside quotes.
func cutChange(kv string) (key, value string, ok bool) {
	quoted := false
	for i := 0; i < len(kv); i++ {
		switch {
		case kv[i] == '"':
			quoted = !quoted
		case kv[i] == '=' && !quoted:
			return strings.TrimSpace(kv[:i]), strings.TrimSpace(kv[i+1:]), true
		}
	}
	return "", "", false
}

// override finds the place of one what-if change, KEY=VALUE, with the keys
// of the file: a closure, cord, anchor or clear zone is named after the dot.
// KEY= with nothing after it takes the key out.
func (g *Garment) override(doc *source.Document, kv string) (override, error) {
	key, value, ok := cutChange(kv)
	if !ok || key == "" {
		return override{}, &ChangeError{kv, "it is not KEY=VALUE", "closure.front.use=horn-36"}
	}
	o := override{text: kv, parts: splitKey(key)}
	o.Out = value == ""
	if !o.Out {
		o.Value = source.ParseValue(value)
	}
	w := walk{g: g, doc: doc, key: key, text: kv, value: o.Value}
	if err := w.run(o.parts); err != nil {
		return override{}, err
	}
	o.Path, o.Value = w.path, w.value
	return o, nil
}

// apply makes the change in a document.
func (o *override) apply(doc *source.Document) (*source.Document, error) {
	label := "--with " + o.text
	var err error
	if o.Out {
		if _, there := doc.Get(o.Path); !there {
			return nil, &ChangeError{o.text, "there is no " + strings.Join(o.parts, ".") + " to take out", ""}
		}
		doc, err = doc.Unset(o.Path, label)
	} else {
		doc, err = doc.Set(o.Path, o.Value, label)
	}
	if err != nil {
		return nil, &ChangeError{o.text, cause(err).Error(), ""}
	}
	return doc, nil
}

// walk follows a key through the tables of keys there are.
type walk struct {
	g         *Garment
	doc       *source.Document
	key, text string
	value     any // nil when the key is only looked at, or taken out
	look      bool

	path string
	here any // what the document has at path
}

func (w *walk) fail(near, format string, args ...any) error {
	return &ChangeError{w.text, fmt.Sprintf(format, args...), near}
}

// run sets path, and value where it must be put together from what is there.
func (w *walk) run(parts []string) error {
	fields := w.g.Catalog.rootKeys()
	w.here = w.doc.Root
	for i := 0; i < len(parts); i++ {
		p := parts[i]
		k := slices.IndexFunc(fields, func(f field) bool { return f.name == p })
		if k < 0 {
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
			n, known := w.item(parts[i])
			if n < 0 && !(isLast && w.isTable()) {
				return w.fail(nearKey(parts[:i], parts[i], known, parts[i+1:]), "the garment has no %s %q", p, parts[i])
			}
			fields = dst.blank()
			if isLast {
				return w.wholeItem(parts[i], n, len(known), fields)
			}
			items, _ := tables(w.here)
			w.path, w.here = source.Item(w.path, n), items[n]
		case *Sized:
			return w.sized(parts, i+1, false)
		case window, *[]Count:
			return w.sized(parts, i+1, true)
		case *map[string]float64:
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
			return w.fail(w.key+".…=…", "%s is a set of tables: say which and what of it", w.key)
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
	return w.fail(w.key+"."+names(fields)[0]+"=…", "%s is a whole table", w.key)
}

// item finds an item of a list of tables by its name.
func (w *walk) item(name string) (n int, known []string) {
	items, _ := tables(w.here)
	n = -1
	for k, it := range items {
		s, _ := it.(map[string]any)["name"].(string)
		known = append(known, s)
		if s == name && n < 0 {
			n = k
		}
	}
	return n, known
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
		return w.fail("", "only keys can be taken out, not the whole of %s", w.key)
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
	w.value = merge(w.here, rest, w.value, sizes)
	return nil
}

// inTables says whether raw already has a table for every key but the last.
func inTables(raw any, keys []string) bool {
	for _, k := range keys {
		m, ok := raw.(map[string]any)
		if !ok || isLimit(k) != hasLimits(m) && len(m) > 0 {
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
func filled(v any, keys []string) any {
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
		m = filled(raw, []string{"min", "max"}).(map[string]any)
	default:
		m = filled(raw, sizes).(map[string]any)
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
	return notionFields(kind, &Notion{})
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
		w := walk{g: g, doc: r.doc, key: k, text: k, look: true}
		if err, bad := w.run(splitKey(k)).(*ChangeError); bad {
			r.fail(source.Item("keep", i), strings.TrimSuffix(err.Near, "=…"), "keep: %s", err.Reason)
		}
	}
}

// Keeps is the entry of keep that a what-if change would touch, "" where it
// touches none: the same key, one below it or one above it.
func (g *Garment) Keeps(change string) string {
	key, _, _ := cutChange(change)
	parts := splitKey(key)
	for _, k := range g.Keep {
		kept := splitKey(k)
		if n := min(len(kept), len(parts)); slices.Equal(kept[:n], parts[:n]) {
			return k
		}
	}
	return ""
}
