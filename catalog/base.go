package catalog

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// A garment file may build on another of the same tables, its base: a house
// file, or another garment. Tables merge key by key; lists, counts, percents
// and lengths by size of this file replace those of the base whole; closures
// merge by name, and those that stand in the base alone are defaults, and no
// closures. Each bare number is read in the units of the file it stands in.

// MaxBases is how many files a garment may build on, one upon the other.
const MaxBases = 5

// onBases is a document together with the files that it builds on.
func onBases(top *source.Document, opts Options) (*source.Document, error) {
	if _, there := top.Root["base"]; !there {
		return top, nil
	}
	dir := "."
	if top.Name != stdinName {
		dir = filepath.Dir(top.Name)
	}
	chain := []*source.Document{top}
	for doc := top; has(doc.Root, "base"); doc = chain[len(chain)-1] {
		next, err := baseOf(doc, dir, chain, opts)
		if err != nil {
			return nil, err
		}
		chain = append(chain, next)
	}
	stock, err := StockCatalog()
	if err != nil {
		return nil, err
	}
	fields := stock.rootKeys()
	out := chain[len(chain)-1]
	for i := len(chain) - 2; i >= 0; i-- {
		out = chain[i].On(out, merged(chain[i].Root, out.Root, fields, i == 0))
	}
	return out, nil
}

// baseOf reads the file that the last of a chain builds on.
func baseOf(doc *source.Document, dir string, chain []*source.Document, opts Options) (*source.Document, error) {
	r := &reader{doc: doc}
	raw := doc.Root["base"]
	if list, ok := raw.([]any); ok {
		instead := `base = "house.toml"`
		if len(list) > 0 {
			if s, ok := list[0].(string); ok {
				instead = source.Text(s)
			}
		}
		r.fail("base", instead, "base is the name of one file, not a list; that file may have a base of its own")
		return nil, r.err()
	}
	name, ok := r.text("base", raw)
	if !ok {
		return nil, r.err()
	}
	file := baseFile(doc.Name, name)
	if outside(dir, file) {
		r.fail("base", "a file beside this one", "the base %s lies outside the folders whose files a garment may name: its own and the one above, or those below the nearest .git", text.Safe(name))
		return nil, r.err()
	}
	for i, c := range chain {
		if !sameFile(file, c.Name) {
			continue
		}
		if i == len(chain)-1 {
			r.fail("base", "another file, or no base", "the file is its own base")
			return nil, r.err()
		}
		r.fail("base", "no base here", "the bases go in a circle: %s is reached from it by %s", text.Safe(name), c.Pos("base"))
		first := c.Problem("base", fmt.Sprintf("the bases go in a circle: it comes back to this file by %s", doc.Pos("base")), "no base here")
		return nil, append(r.problems, first).Tidy()
	}
	if len(chain) > MaxBases {
		r.fail("base", "fewer files, one upon the other", "this is the base number %d: %d files upon one another are the most", len(chain), MaxBases)
		return nil, r.err()
	}
	data, err := opts.read(file)
	if err != nil {
		r.fail("base", "a file's name, as seen from the folder of this file", "the base %s cannot be read: %s", text.Safe(name), cause(err))
		return nil, r.err()
	}
	next, err := source.Parse(file, data)
	if says, instead := asBase(name, data, next); says != "" {
		r.fail("base", instead, "%s", says)
		return nil, r.err()
	}
	if err != nil {
		return nil, err
	}
	r = &reader{doc: next}
	if u, there := next.Root["units"]; there {
		var word string
		r.assign("units", u, f("units", &word, "", oneOf("in", "mm")))
	}
	if raw, there := next.Root["closure"]; there {
		items, ok := tables(raw)
		if !ok {
			r.fail("closure", "[[closure]] and the keys below it, once for each", "closure is a list of tables, not %s", kindOf(raw))
		}
		for i, it := range items {
			if nameOf(it) == "" {
				r.failKey(source.Item("closure", i), `name = "front", which closures it is for`, "name is missing")
			}
		}
	}
	return next, r.err()
}

// baseFile is the file that a garment file means by the name of its base.
func baseFile(file, name string) string {
	if filepath.IsAbs(name) {
		return filepath.Clean(name)
	}
	if file == stdinName {
		return filepath.Clean(name)
	}
	return filepath.Join(filepath.Dir(file), name)
}

func sameFile(a, b string) bool {
	if filepath.Clean(a) == filepath.Clean(b) {
		return true
	}
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(x, y)
}

// asBase says what is wrong with a file that is named as a base and is
// something else altogether. It shows nothing of what the file holds.
func asBase(name string, data []byte, doc *source.Document) (says, instead string) {
	none := fmt.Sprintf("the base %s is no house file: no line of it begins like one", text.Safe(name))
	if doc == nil {
		if asGarment("", data, nil) != nil {
			return none, "a file of the same tables as this one"
		}
		return "", ""
	}
	if asGarment("", data, doc) != nil {
		return fmt.Sprintf("the base %s is a catalogue file", text.Safe(name)), "catalog = [" + source.Text(name) + "]"
	}
	words := rootWords()
	for key := range doc.Root {
		if slices.Contains(words, key) || text.Nearest(key, words) != "" {
			return "", ""
		}
	}
	if len(doc.Root) == 0 {
		return "", ""
	}
	return none, "a file of the same tables as this one"
}

// BasesOf are the files that a garment file builds on, the nearest first, as
// far as they can be read: what a folder must know to tell house files from
// garments. What is wrong with them is told when the garment is read.
func BasesOf(file string, data []byte, read func(string) ([]byte, error)) []string {
	var out []string
	dir := filepath.Dir(file)
	for len(out) < MaxBases {
		doc, err := source.Parse(file, data)
		if err != nil {
			return out
		}
		name, ok := doc.Root["base"].(string)
		if !ok {
			return out
		}
		file = baseFile(file, name)
		if slices.Contains(out, file) || outside(dir, file) {
			return out
		}
		out = append(out, file)
		if data, err = read(file); err != nil {
			return out
		}
	}
	return out
}

// IsNamed says whether a file of a folder has a line `garment` of its own.
func IsNamed(data []byte) bool { return garmentLine().Match(data) }

// merged is a table with what its base has besides. last drops the closures
// that stand in the base alone.
func merged(own, base map[string]any, fields []field, last bool) map[string]any {
	out := make(map[string]any, len(own)+len(base))
	for k, v := range base {
		if k != "base" {
			out[k] = v
		}
	}
	for k, v := range own {
		out[k] = v
	}
	for _, fd := range fields {
		o, mine := own[fd.name]
		b, theirs := base[fd.name]
		if fd.name == "closure" {
			if _, isList := fd.dst.(list); isList && theirs {
				if c, there := mergedClosures(o, b, fd.dst.(list).blank(), last); there {
					out[fd.name] = c
				} else if !mine {
					delete(out, fd.name)
				}
				continue
			}
		}
		if !mine || !theirs {
			continue
		}
		om, ok1 := o.(map[string]any)
		bm, ok2 := b.(map[string]any)
		if !ok1 || !ok2 {
			continue
		}
		switch dst := fd.dst.(type) {
		case subTable:
			out[fd.name] = merged(om, bm, dst, last)
		case rawTable, *Range:
			out[fd.name] = merged(om, bm, nil, last)
		case variants:
			names := merged(om, bm, nil, last)
			for name, x := range om {
				xm, ok1 := x.(map[string]any)
				ym, ok2 := bm[name].(map[string]any)
				if ok1 && ok2 {
					names[name] = merged(xm, ym, nil, last)
				}
			}
			out[fd.name] = names
		case named:
			names := merged(om, bm, nil, last)
			for name, x := range om {
				xm, ok1 := x.(map[string]any)
				ym, ok2 := bm[name].(map[string]any)
				if ok1 && ok2 {
					names[name] = merged(xm, ym, dst.blank(), last)
				}
			}
			out[fd.name] = names
		}
	}
	return out
}

// mergedClosures are the closures of a file with what its base says of those
// of their names; ok is false where there is nothing to put together.
func mergedClosures(own, base any, fields []field, last bool) (all []any, ok bool) {
	mine, ok1 := tables(own)
	theirs, ok2 := tables(base)
	if own != nil && !ok1 || !ok2 {
		return nil, false
	}
	done := map[string]bool{}
	for _, it := range mine {
		m, _ := it.(map[string]any)
		name := nameOf(it)
		if k := itemNamed(theirs, name); name != "" && k >= 0 {
			m = merged(m, theirs[k].(map[string]any), fields, last)
		}
		done[name] = true
		all = append(all, m)
	}
	if !last {
		for _, it := range theirs {
			if !done[nameOf(it)] {
				all = append(all, it)
			}
		}
	}
	return all, len(all) > 0
}

// unitsAt are the units that bare numbers at a path are read in, where those
// of the garment are u: those of the file they stand in.
func unitsAt(doc *source.Document, path string, u measure.Unit) measure.Unit {
	if doc == nil || doc.Base() == nil {
		return u
	}
	l := doc.Origin(path)
	if l == nil || l == doc {
		return u
	}
	s, _ := l.Root["units"].(string)
	if own, err := measure.ParseUnit(s); err == nil {
		return own
	}
	return u
}

// Inherited says whether the value at a path stands in a file that the garment
// builds on, where it may be meant for others.
func (g *Garment) Inherited(path string) bool { return inherited(g.doc, path) }

func inherited(doc *source.Document, path string) bool {
	if doc == nil || doc.Base() == nil {
		return false
	}
	l := doc.Origin(path)
	return l != nil && l != doc
}

func (r *reader) unitAt(path string) measure.Unit { return unitsAt(r.doc, path, r.units) }

// withUnits is a value of lengths at a path of a document in which each bare
// number that is not read in u has its unit.
func withUnits(doc *source.Document, path string, raw any, u measure.Unit) any {
	switch v := raw.(type) {
	case int64, float64:
		at := unitsAt(doc, path, u)
		if at == u {
			return raw
		}
		x, _ := toFloat(v)
		l, err := measure.LengthOf(max(x, -x), at)
		if err != nil {
			return raw
		}
		if x < 0 {
			l = -l
		}
		return LengthIn{measure.Toleranced{V: l}, at}
	case string:
		if strings.ContainsFunc(v, unitRune) {
			return raw
		}
		at := unitsAt(doc, path, u)
		if t, err := measure.ParseToleranced(v, at); err == nil && at != u {
			return LengthIn{t, at}
		}
	case map[string]any:
		out := make(map[string]any, len(v))
		for k, e := range v {
			out[k] = withUnits(doc, source.Join(path, k), e, u)
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, e := range v {
			out[i] = withUnits(doc, source.Item(path, i), e, u)
		}
		return out
	}
	return raw
}

// fieldUnits is withUnits for the lengths among the values of one key.
func fieldUnits(doc *source.Document, path string, fd field, raw any, u measure.Unit) any {
	switch dst := fd.dst.(type) {
	case *Measured, *Sized, window, *Range, *[]measure.Length:
		return withUnits(doc, path, raw, u)
	case list:
		items, ok := tables(raw)
		if !ok {
			return raw
		}
		fields := dst.blank()
		out := make([]any, len(items))
		for i, it := range items {
			m := map[string]any{}
			for k, v := range it.(map[string]any) {
				m[k] = v
				if n := slices.IndexFunc(fields, func(f field) bool { return f.name == k }); n >= 0 {
					m[k] = fieldUnits(doc, source.Join(source.Item(path, i), k), fields[n], v, u)
				}
			}
			out[i] = m
		}
		return out
	}
	return raw
}

// replaced is the value on the way of a path that a file replaces whole: a
// list, a length by size, a count or percents; false where there is none.
func (g *Garment) replaced(path source.Path) (source.Path, field, bool) {
	fields := g.Catalog.rootKeys()
	for i := 0; i < len(path); i++ {
		k := slices.IndexFunc(fields, func(f field) bool { return f.name == path[i].Key })
		if k < 0 {
			return nil, field{}, false
		}
		switch dst := fields[k].dst.(type) {
		case subTable:
			fields = dst
		case named:
			i++
			fields = dst.blank()
		case list:
			if path[i].Key != "closure" || i > 0 {
				return path[:i+1], fields[k], true
			}
			i++
			fields = dst.blank()
		case rawTable, *Range:
			return nil, field{}, false
		default:
			return path[:i+1], fields[k], true
		}
	}
	return nil, field{}, false
}

// rewriteOnBase makes changes in the text of a file that builds on another: as
// overrides in this file, never in the base.
func (g *Garment) rewriteOnBase(doc *source.Document, edits []*edit) ([]byte, []source.Edit, error) {
	own := g.origin.Alone()
	var assign []source.Assignment
	for _, e := range edits {
		a := e.Assignment
		path, _ := source.ParsePath(a.Path)
		if whole, fd, ok := g.replaced(path); ok && len(whole) < len(path) {
			at := whole.String()
			if _, there := own.Get(at); !there {
				v, still := doc.Get(at)
				a = source.Assignment{Path: at, Value: fieldUnits(doc, at, fd, v, g.units), Out: !still}
			}
		}
		if _, there := own.Get(a.Path); a.Out && !there {
			return nil, nil, fmt.Errorf("%s stands in the base, %s, and cannot be taken out here", strings.Join(e.parts, "."), g.origin.Pos(a.Path))
		}
		assign = append(assign, a)
	}
	data, lines, err := own.Edit(assign...)
	if err != nil {
		return nil, nil, err
	}
	// What the base says besides must not come back.
	now, err := source.Parse(own.Name, data)
	if err != nil {
		return nil, nil, err
	}
	if got := merged(now.Root, g.origin.Base().Root, g.Catalog.rootKeys(), true); !sameKeys(got, doc.Root) {
		return nil, nil, fmt.Errorf("the base, %s, says more of it, which cannot be taken out here", g.origin.Base().Name)
	}
	return data, lines, nil
}

// sameKeys says whether two values have the same keys at every depth.
func sameKeys(a, b any) bool {
	if x, ok := tables(a); ok {
		a = x
	}
	if y, ok := tables(b); ok {
		b = y
	}
	switch x := a.(type) {
	case map[string]any:
		y, ok := b.(map[string]any)
		if !ok || len(x) != len(y) {
			return false
		}
		for k, v := range x {
			w, there := y[k]
			if !there || !sameKeys(v, w) {
				return false
			}
		}
		return true
	case []any:
		y, ok := b.([]any)
		if !ok || len(x) != len(y) {
			return false
		}
		for i := range x {
			if !sameKeys(x[i], y[i]) {
				return false
			}
		}
		return true
	}
	return reflect.ValueOf(b).Kind() != reflect.Map || b == nil
}
