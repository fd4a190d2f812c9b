package catalog

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

// ChangeError is a what-if change that cannot be made.
type ChangeError struct {
	Change string
	Reason string
	Near   string // what to write instead, where that is near
}

func (e *ChangeError) Error() string {
	s := fmt.Sprintf("--with %s: %s", source.Safe(e.Change), e.Reason)
	if e.Near != "" {
		s += fmt.Sprintf("; write %s", e.Near)
	}
	return s
}

// override makes one what-if change, KEY=VALUE, with the keys of the file:
// a closure, anchor, clear zone or cord is named after the dot.
func (g *Garment) override(doc *source.Document, kv string) (*source.Document, error) {
	key, value, ok := strings.Cut(kv, "=")
	key = strings.TrimSpace(key)
	if !ok || key == "" {
		return nil, &ChangeError{kv, "it is not KEY=VALUE", "closure.front.use=horn-36"}
	}
	label := "--with " + kv
	path, size, err := g.resolveKey(doc, kv, key)
	if err != nil {
		return nil, err
	}
	if size != "" {
		// One value for all sizes becomes a table, so that one of them can differ.
		all, _ := doc.Get(path)
		table := map[string]any{}
		for _, s := range sizesIn(doc) {
			table[s] = all
		}
		if doc, err = doc.Set(path, table, label); err != nil {
			return nil, &ChangeError{kv, err.Error(), ""}
		}
		path = source.Join(path, size)
	}
	out, err := doc.Set(path, source.ParseValue(value), label)
	if err != nil {
		return nil, &ChangeError{kv, err.Error(), ""}
	}
	return out, nil
}

// resolveKey turns closure.front.use into closure[0].use, and checks every
// step against the keys there are.
func (g *Garment) resolveKey(doc *source.Document, kv, key string) (path, size string, err error) {
	blank := &Garment{Catalog: g.Catalog}
	fields := blank.rootFields(&rawRoot{closures: make([]rawClosure, 1)})
	parts := strings.Split(key, ".")
	var here any = doc.Root
	for i := 0; i < len(parts); i++ {
		p := parts[i]
		k := slices.IndexFunc(fields, func(f field) bool { return f.name == p })
		if k < 0 {
			return "", "", &ChangeError{kv, fmt.Sprintf("there is no key %q", p), nearKey(parts[:i], p, names(fields), parts[i+1:])}
		}
		path = source.Join(path, p)
		here = child(here, p)
		if i == len(parts)-1 {
			return path, "", nil
		}
		switch dst := fields[k].dst.(type) {
		case subTable:
			fields = dst
		case rawTable:
			fields = g.notionKeys(doc, path)
		case *Range:
			fields = []field{f("min", new(Measured), ""), f("max", new(Measured), "")}
		case named:
			i++
			m, _ := here.(map[string]any)
			if !has(m, parts[i]) {
				return "", "", &ChangeError{kv, fmt.Sprintf("the garment has no %s %q", p, parts[i]), nearKey(parts[:i], parts[i], sortedKeys(m), parts[i+1:])}
			}
			path, here, fields = source.Join(path, parts[i]), m[parts[i]], dst.blank()
			if i == len(parts)-1 {
				return "", "", &ChangeError{kv, fmt.Sprintf("%s is a whole table", key), key + "." + names(fields)[0] + "=…"}
			}
		case list:
			i++
			items, _ := tables(here)
			var known []string
			n := -1
			for k, it := range items {
				name, _ := it.(map[string]any)["name"].(string)
				known = append(known, name)
				if name == parts[i] && n < 0 {
					n = k
				}
			}
			if n < 0 {
				return "", "", &ChangeError{kv, fmt.Sprintf("the garment has no %s %q", p, parts[i]), nearKey(parts[:i], parts[i], known, parts[i+1:])}
			}
			dst.grow(1)
			path, here, fields = source.Item(path, n), items[n], dst.item(0)
			if i == len(parts)-1 {
				return "", "", &ChangeError{kv, fmt.Sprintf("%s is a whole table", key), key + "." + names(fields)[0] + "=…"}
			}
		case *Sized, window, *[]Count:
			return g.sizeKey(doc, kv, path, here, parts, i+1)
		case *map[string]float64:
			return source.Join(path, parts[i+1]), "", nil
		default:
			return "", "", &ChangeError{kv, fmt.Sprintf("%s holds one value and has no key %q", strings.Join(parts[:i+1], "."), parts[i+1]), strings.Join(parts[:i+1], ".") + "=…"}
		}
	}
	return path, "", nil
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

// sizeKey is the path of one size's value. Where the file has one value for
// all sizes, the path is that value's and the size is returned beside it.
func (g *Garment) sizeKey(doc *source.Document, kv, path string, here any, parts []string, i int) (string, string, error) {
	_, table := here.(map[string]any)
	if i != len(parts)-1 {
		return "", "", &ChangeError{kv, fmt.Sprintf("%s has no keys below it", strings.Join(parts[:i+1], ".")), strings.Join(parts[:i+1], ".") + "=…"}
	}
	if parts[i] == "min" || parts[i] == "max" {
		return source.Join(path, parts[i]), "", nil
	}
	if sizes := sizesIn(doc); !slices.Contains(sizes, parts[i]) {
		return "", "", &ChangeError{kv, fmt.Sprintf("the garment has no size %q", parts[i]), nearKey(parts[:i], parts[i], sizes, nil)}
	}
	if table || here == nil {
		return source.Join(path, parts[i]), "", nil
	}
	return path, parts[i], nil
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

func child(raw any, key string) any {
	m, _ := raw.(map[string]any)
	return m[key]
}

func nearKey(before []string, word string, known []string, after []string) string {
	if near := measure.Nearest(word, known); near != "" {
		return strings.Join(slices.Concat(before, []string{near}, after), ".") + "=…"
	}
	if len(known) == 0 {
		return ""
	}
	return "one of " + strings.Join(known, ", ")
}
