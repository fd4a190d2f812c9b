package catalog

import (
	"cmp"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

// Changed is a value that two garment files do not have alike.
type Changed struct {
	Key string // as --with has it
	// Was and Is are the values as a file has them, without the quotes of a
	// text; "" where the file has none. Of a table with a name that only one
	// of them has, such as a closure, that name.
	Was, Is string
}

// Compare lists the values that are not alike in two garments, with those of
// their bases, in the order of their keys; closures and what else has a name
// are told apart by it. Two lengths that are written otherwise and are the
// same are alike.
func Compare(old, now *Garment) []Changed {
	var out []Changed
	compareTables(nil, old.doc.Root, now.doc.Root, &out)
	return out
}

func compareTables(at source.Path, old, now map[string]any, out *[]Changed) {
	keys := map[string]bool{}
	for k := range old {
		keys[k] = true
	}
	for k := range now {
		keys[k] = true
	}
	sorted := make([]string, 0, len(keys))
	for k := range keys {
		sorted = append(sorted, k)
	}
	slices.SortFunc(sorted, func(a, b string) int {
		// What is no table first, as in a file.
		return cmp.Or(cmp.Compare(depth(old[a], now[a]), depth(old[b], now[b])), strings.Compare(a, b))
	})
	for _, k := range sorted {
		compareValues(append(slices.Clip(at), source.Step{Key: k, Item: -1}), old[k], now[k], out)
	}
}

func depth(values ...any) int {
	d := 0
	for _, v := range values {
		switch v := v.(type) {
		case map[string]any:
			d = max(d, 1)
		case []any:
			if _, tables := listedTables(v); tables {
				d = max(d, 2)
			}
		}
	}
	return d
}

func compareValues(at source.Path, old, now any, out *[]Changed) {
	a, tableOld := old.(map[string]any)
	b, tableNow := now.(map[string]any)
	if (tableOld || old == nil) && (tableNow || now == nil) {
		compareTables(at, a, b, out)
		return
	}
	as, listOld := listedTables(old)
	bs, listNow := listedTables(now)
	if (listOld || old == nil) && (listNow || now == nil) {
		compareItems(at, as, bs, out)
		return
	}
	if was, is := valueText(old), valueText(now); was != is && !alike(old, now) {
		*out = append(*out, Changed{at.Key(), was, is})
	}
}

// compareItems compares the tables of a list: by name where all have one of
// their own, and else one after another.
func compareItems(at source.Path, old, now []map[string]any, out *[]Changed) {
	last := len(at) - 1
	item := func(s source.Step) source.Path { return append(slices.Clip(at[:last]), at[last], s) }
	a, namedOld := ownNames(old)
	b, namedNow := ownNames(now)
	if !namedOld || !namedNow {
		compareNameless(item, old, now, out)
		return
	}
	for i, name := range b {
		p := item(source.Step{Key: name, Item: -1})
		if j := slices.Index(a, name); j < 0 {
			*out = append(*out, Changed{p.Key(), "", name})
		} else {
			compareTables(p, old[j], now[i], out)
		}
	}
	for _, name := range a {
		if !slices.Contains(b, name) {
			*out = append(*out, Changed{item(source.Step{Key: name, Item: -1}).Key(), name, ""})
		}
	}
}

// compareNameless compares tables without names. Those that both have are left
// out, so that one that is taken out does not make changes of all behind it.
func compareNameless(item func(source.Step) source.Path, old, now []map[string]any, out *[]Changed) {
	number := func(i int) source.Path { return item(source.Step{Item: i}) }
	gone := make([]int, 0, len(old))
	come := make([]int, len(now))
	for i := range now {
		come[i] = i
	}
	for i, t := range old {
		if j := slices.IndexFunc(come, func(j int) bool { return reflect.DeepEqual(t, now[j]) }); j >= 0 {
			come = slices.Delete(come, j, j+1)
		} else {
			gone = append(gone, i)
		}
	}
	if len(gone) == len(come) {
		for k, j := range come {
			compareTables(number(j), old[gone[k]], now[j], out)
		}
		return
	}
	for _, j := range come {
		*out = append(*out, Changed{number(j).Key(), "", valueText(now[j])})
	}
	for _, i := range gone {
		*out = append(*out, Changed{number(i).Key(), valueText(old[i]), ""})
	}
}

// listedTables is a value as a list of tables, and whether it is one.
func listedTables(v any) ([]map[string]any, bool) {
	list, ok := v.([]any)
	if !ok || len(list) == 0 {
		return nil, false
	}
	out := make([]map[string]any, len(list))
	for i := range list {
		if out[i], ok = list[i].(map[string]any); !ok {
			return nil, false
		}
	}
	return out, true
}

// ownNames are the names of tables, and whether each has one of its own.
func ownNames(tables []map[string]any) ([]string, bool) {
	var out []string
	for _, t := range tables {
		name := nameOf(t)
		if name == "" || slices.Contains(out, name) {
			return nil, false
		}
		out = append(out, name)
	}
	return out, true
}

// valueText is a value as a file has it, a text without its quotes.
func valueText(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case string:
		if v == "" {
			return `""`
		}
		return v
	}
	return source.Text(v)
}

// alike says whether two texts are the same length with the same ±.
func alike(a, b any) bool {
	if reflect.DeepEqual(a, b) {
		return true
	}
	x, isText := a.(string)
	y, both := b.(string)
	if !isText || !both {
		return false
	}
	l, err := measure.ParseToleranced(x, measure.NoUnit)
	m, wrong := measure.ParseToleranced(y, measure.NoUnit)
	return err == nil && wrong == nil && l == m
}

// WithUnit is the value of a key as people read it: a bare number of a length
// with the unit that the garment's file reads it in, and a percentage with its
// sign. What has its unit, or is no such value, is as the file has it.
func (g *Garment) WithUnit(key, value string) string {
	if _, err := strconv.ParseFloat(value, 64); err != nil {
		return value
	}
	path, ok := source.ParsePath(key)
	if !ok {
		return value
	}
	names := make([]string, len(path))
	for i := range path {
		names[i] = path[i].Key
	}
	unit := ""
	g.Catalog.eachKey(func(path []string, fd field, _ []field) {
		if !matches(path, names) {
			return
		}
		switch fd.dst.(type) {
		case *Measured, *Sized, window:
			unit = " " + unitsAt(g.doc, key, g.Units).String()
		}
		if strings.Contains(fd.doc, "percent") {
			unit = " %"
		}
	})
	return value + unit
}
