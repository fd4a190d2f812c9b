package catalog

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// A variant is the garment of a file in another cloth or with another button:
//
//	[variant.boiled-corozo]
//	"cloth.shell.use"   = "boiled-420"
//	"closure.front.use" = "corozo-36"
//	make                = { S = 4, M = 6 }
//
// Its keys are those of --with, in quotes, its values those of the file; a key
// with an empty text is taken out. They come before what --with says, and each
// keeps its place in the file. The file itself is the variant without a name.

const (
	// MaxVariants is how many variants a file may have.
	MaxVariants = 40
	// MaxVaried is how much may be planned of one file: closures × sizes, once
	// for the file itself and once for each variant. Ours: as many as the largest
	// garment has by itself, and twice what forty variants of a large one take.
	MaxVaried = 6_000
	// MaxMade is how many of a size may be made.
	MaxMade = 10_000
)

// variantLike is what a variant looks like.
const variantLike = `[variant.navy] and below it "cloth.shell.use" = "melton", the key in quotes`

// Made is how many of each size of a garment are made.
type Made struct {
	N    []int // one for each size of the garment
	From Origin
}

// Has says whether any number was given.
func (m Made) Has() bool { return m.From != Unset }

// Total is how many are made in all.
func (m Made) Total() int {
	n := 0
	for _, x := range m.N {
		n += x
	}
	return n
}

// made reads how many of each size are made: a number of a garment without
// sizes, else a table, in which a size that is not named is not made.
func (r *reader) made(path string, raw any, dst *Made) {
	one := field{name: "make", lo: 0, hi: MaxMade, bounded: true}
	out := Made{N: make([]int, max(1, len(r.sizes))), From: r.origin}
	m, table := raw.(map[string]any)
	sized := len(r.sizes) > 0 && r.sizes[0] != ""
	if !table {
		n, ok := r.whole(path, raw, one)
		if !ok {
			return
		}
		if sized {
			r.fail(path, madeLike(r.sizes, n), "make says how many of each size, and the garment has %s", text.And(r.sizes...))
			return
		}
		out.N[0] = n
		*dst = out
		return
	}
	if !sized {
		r.fail(path, "make = 12", "make is given by size, but the garment lists no sizes")
		return
	}
	good := true
	for _, key := range sortedKeys(m) {
		at := source.Join(path, key)
		i := slices.Index(r.sizes, key)
		if i < 0 {
			says, instead := text.NoSuch("the garment", "size", key, r.sizes)
			r.failKey(at, instead, "%s", says)
			good = false
			continue
		}
		one.name = "make of size " + key
		n, ok := r.whole(at, m[key], one)
		out.N[i], good = n, good && ok
	}
	if good {
		*dst = out
	}
}

// madeLike is an example of how many are made.
func madeLike(sizes []string, n int) string {
	parts := make([]string, len(sizes))
	for i, s := range sizes {
		parts[i] = fmt.Sprintf("%s = %d", source.Join("", s), n)
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

// variants is the table of variants, of which one is read at a time: see vary.
type variants struct{}

// checkVariants refuses what can be no variant.
func (r *reader) checkVariants(path string, raw any, fd field) {
	m, ok := raw.(map[string]any)
	if !ok {
		r.fail(path, variantLike, "variant is a set of named tables, not %s", kindOf(raw))
		return
	}
	if r.tooMany(path, len(m), fd) {
		return
	}
	for _, name := range r.doc.Keys(path) {
		p := source.Join(path, name)
		keys, ok := m[name].(map[string]any)
		switch {
		case !ok:
			r.failKey(p, variantLike, "%s.%s is a table of keys, not %s", path, text.Safe(name), kindOf(m[name]))
		case !plainName(name):
			r.failKey(p, nameRule, "the name %q cannot be used: --variant and messages could not say it", text.Safe(name))
		case len(keys) > MaxItems:
			r.failKey(p, "", "the variant %s has %d keys: %d is the most", name, len(keys), MaxItems)
		}
	}
}

// checkVaried refuses more variants than can be planned in a while.
func (g *Garment) checkVaried(r *reader) {
	n := len(g.Variants())
	if each := len(g.Closures) * len(g.Sizes); n > 0 && (n+1)*each > MaxVaried {
		r.fail("variant", "fewer variants, or two files", "%s, each of %s in %s, are too much for one file: %d runs in all are the most",
			text.Count(n, "variant"), text.Count(len(g.Closures), "closure"), text.Count(len(g.Sizes), "size"), MaxVaried)
	}
}

// Variants are the names of the variants of the garment's file, in its order;
// those of its base come after its own.
func (g *Garment) Variants() []string {
	if g.origin == nil {
		return nil
	}
	return g.origin.Keys("variant")
}

// VariantError is a variant that a file does not have.
type VariantError struct {
	File, Name string
	Known      []string
}

func (e *VariantError) Error() string {
	says, _ := e.Says()
	return says
}

// Says is what is wrong, and the name that is near or there.
func (e *VariantError) Says() (says, instead string) {
	if len(e.Known) == 0 {
		return text.Safe(e.File) + " has no variants", ""
	}
	return text.NoSuch(text.Safe(e.File), "variant", e.Name, e.Known)
}

// AsVariant is the garment of a variant of the same file, with the same
// what-if changes after it; "" is the file itself.
func (g *Garment) AsVariant(name string) (*Garment, error) {
	opts := g.opts
	opts.Variant, opts.with = name, g.with
	return build(g.origin, opts, g.Catalog)
}

// Varies says whether the garment's variant says something of the keys of
// changes, or of what is in them or above them.
func (g *Garment) Varies(with []With) bool {
	if g.Variant == "" {
		return false
	}
	return slices.ContainsFunc(g.origin.Keys(source.Join("variant", g.Variant)), func(k string) bool {
		own, ok := keyParts(g.doc, k)
		return ok && slices.ContainsFunc(with, func(w With) bool {
			parts, _ := keyParts(g.doc, w.Key)
			n := min(len(own), len(parts))
			return n > 0 && slices.Equal(own[:n], parts[:n])
		})
	})
}

// Sets are the changes that the garment's variant makes, as --with has them.
func (g *Garment) Sets() []With {
	if g.Variant == "" {
		return nil
	}
	table := source.Join("variant", g.Variant)
	var out []With
	for _, k := range g.origin.Keys(table) {
		v, _ := g.origin.Get(source.Join(table, k))
		if k == "make" {
			continue
		}
		if s, ok := v.(string); ok && strings.TrimSpace(s) == "" {
			v = nil
		}
		out = append(out, With{Key: k, Value: v})
	}
	return out
}

// vary makes the changes of a variant in the garment's document; those that
// cannot be made are faults of the reader.
func (g *Garment) vary(r *reader, name string) error {
	table := source.Join("variant", name)
	all, _ := g.origin.Root["variant"].(map[string]any)
	own, ok := all[name].(map[string]any)
	if !ok {
		if _, there := all[name]; there {
			r.checkVariants("variant", g.origin.Root["variant"], field{name: "variant", entries: MaxVariants})
			return r.err()
		}
		return &VariantError{g.File, name, g.origin.Keys("variant")}
	}
	g.Variant = name
	keys := g.origin.Keys(table)
	slices.SortStableFunc(keys, func(a, b string) int { // what the base says comes first
		first := func(k string) int {
			if inherited(g.origin, source.Join(table, k)) {
				return 0
			}
			return 1
		}
		return cmp.Compare(first(a), first(b))
	})
	doc := g.origin
	var err error
	if !has(own, "make") { // how many are made is the file's own
		if doc, err = doc.UnsetFrom("make", table); err != nil {
			return err
		}
	}
	for _, key := range keys {
		next, problem, instead := g.varied(doc, source.Join(table, key), key, own[key])
		if problem != "" {
			r.failKey(source.Join(table, key), instead, "%s", problem)
			continue
		}
		doc = next
	}
	g.doc = doc
	return nil
}

// varied is a document with one key of a variant, which stands at a path, or
// what is wrong with it.
func (g *Garment) varied(doc *source.Document, at, key string, value any) (next *source.Document, problem, instead string) {
	if key == "make" {
		doc, err := doc.SetFrom(key, value, at)
		if err != nil {
			return nil, reasonOf(err), ""
		}
		return doc, "", ""
	}
	if m, ok := value.(map[string]any); ok && !strings.ContainsAny(key, ".[") {
		if path, v := firstLeaf(key, m); v != nil {
			return nil, "the keys of a variant stand in quotes", source.Text(path) + " = " + source.Text(v)
		}
	}
	w := With{Key: key, Value: value}
	if s, ok := value.(string); ok && strings.TrimSpace(s) == "" {
		w.Value = nil
	}
	e, err := g.editIn(doc, w, unitsAt(g.origin, at, unitsIn(g.origin)))
	if err == nil {
		if _, there := doc.Get(e.Path); e.With.Out() && !there {
			err = &ChangeError{Reason: "there is no " + strings.Join(e.parts, ".") + " to take out"}
		}
	}
	var change *ChangeError
	switch {
	case errors.As(err, &change):
		return nil, change.Reason, asKey(change.Near)
	case err != nil:
		return nil, reasonOf(err), ""
	case e.With.Out():
		next, err = doc.UnsetFrom(e.Path, at)
	default:
		next, err = doc.SetFrom(e.Path, e.Assignment.Value, at)
	}
	if err != nil {
		return nil, reasonOf(err), ""
	}
	return next, "", ""
}

// firstLeaf is the first value in a table, and its key.
func firstLeaf(key string, m map[string]any) (string, any) {
	for _, k := range sortedKeys(m) {
		path := key + "." + Key(k)
		if sub, ok := m[k].(map[string]any); ok {
			if p, v := firstLeaf(path, sub); v != nil {
				return p, v
			}
			continue
		}
		return path, m[k]
	}
	return key, nil
}

// reasonOf is what an error of changing a document says, without its place.
func reasonOf(err error) string {
	var ps source.Problems
	if errors.As(err, &ps) && len(ps) > 0 {
		return ps[0].Message
	}
	return err.Error()
}

// asKey is a change as --with has it, KEY=VALUE, as a key of a variant.
func asKey(near string) string {
	if strings.HasPrefix(near, "-") {
		return ""
	}
	key, value, ok := strings.Cut(strings.Trim(near, "'"), "=")
	if !ok {
		return near
	}
	return source.Text(key) + " = " + cmp.Or(value, "…")
}

// rewriteVariant makes changes in the text of the file as keys of the
// garment's variant.
func (g *Garment) rewriteVariant(want *source.Document, edits []*edit) ([]byte, []source.Edit, error) {
	own, table := g.origin.Alone(), source.Join("variant", g.Variant)
	var assign []source.Assignment
	fresh := map[string]any{} // the file has nothing of the variant yet
	_, there := own.Get(table)
	for _, e := range edits {
		a := source.Assignment{Path: source.Join(table, Key(e.parts...)), Value: e.With.Value}
		if a.Value == nil {
			a.Value = ""
		}
		if !there {
			fresh[Key(e.parts...)] = a.Value
			continue
		}
		for _, k := range own.Keys(table) {
			parts, ok := keyParts(g.doc, k)
			switch at := source.Join(table, k); {
			case !ok || k == "make" || len(parts) < len(e.parts) || !slices.Equal(parts[:len(e.parts)], e.parts):
			case len(parts) > len(e.parts):
				assign = append(assign, source.Assignment{Path: at, Out: true}) // the new value says it too
			default:
				a.Path = at
				_, stands := g.origin.Get(strings.Join(e.parts, "."))
				a.Out = e.With.Out() && !stands
			}
		}
		assign = append(assign, a)
	}
	if !there {
		assign = []source.Assignment{{Path: table, Value: fresh}}
	}
	data, lines, err := own.Edit(assign...)
	if err != nil {
		return nil, nil, err
	}
	// The file as it is now must say what was asked for, and nothing else.
	now, err := source.Parse(own.Name, data)
	if err != nil {
		return nil, nil, err
	}
	if base := g.origin.Base(); base != nil {
		now = now.On(base, merged(now.Root, base.Root, g.Catalog.rootKeys(), true))
	}
	n := &Garment{File: g.File, doc: now, origin: now, Catalog: g.Catalog}
	r := &reader{doc: now, units: g.units, origin: Given}
	if err := n.vary(r, g.Variant); err != nil || len(r.problems) > 0 || !sameButVariants(n.doc.Root, want.Root) {
		return nil, nil, fmt.Errorf("the variant %s says more of it: change %s by hand", g.Variant, g.origin.Pos(table))
	}
	return data, lines, nil
}

// sameButVariants says whether two documents say the same, their variants
// aside.
func sameButVariants(a, b map[string]any) bool {
	a, b = maps.Clone(a), maps.Clone(b)
	delete(a, "variant")
	delete(b, "variant")
	return reflect.DeepEqual(written(a), written(b))
}

// written is a value as it comes back from a file.
func written(v any) any {
	switch v := v.(type) {
	case LengthIn:
		return v.String()
	case map[string]any:
		out := make(map[string]any, len(v))
		for k, e := range v {
			out[k] = written(e)
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, e := range v {
			out[i] = written(e)
		}
		return out
	}
	return v
}

// editIn is edit for a change whose bare numbers are read in u.
func (g *Garment) editIn(doc *source.Document, with With, u measure.Unit) (*edit, error) {
	if doc == nil {
		return nil, &ChangeError{with.String(), "the garment was not read from a file", ""}
	}
	e := &edit{With: with}
	var ok bool
	if e.parts, ok = keyParts(doc, with.Key); !ok {
		return nil, &ChangeError{with.String(), with.Key + " names nothing in the file", "closure.front.use=…"}
	}
	e.Assignment.Out = with.Value == nil
	w := walk{g: g, doc: doc, with: with, value: with.Value, units: u}
	if err := w.run(e.parts); err != nil {
		return nil, err
	}
	e.Path, e.Assignment.Value = w.path, w.value
	return e, nil
}
