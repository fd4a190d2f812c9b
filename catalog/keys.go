package catalog

import (
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog/measure"
)

// KeyDoc is a key of a garment file, explained.
type KeyDoc struct {
	Key     string // with * for a name: closure.*.stand.extension
	Doc     string
	Takes   string   // what its value is, with its limits
	Words   []string // the only ones it takes
	Example string   // a value in a file in those units; "" for a table
	Keys    []string // of a table: the keys in it
}

// Explained are the keys of a garment file that are called so: a key as --with
// and keep have it, the same with * or nothing in the place of a name, or its
// end, such as stand.extension. None where there is no such key.
func (c *Catalog) Explained(key string, u measure.Unit) []KeyDoc {
	want := strings.Split(strings.Trim(key, "[]"), ".")
	var out []KeyDoc
	c.eachKey(func(path []string, fd field, inside []field) {
		if called(path, want) && !slices.ContainsFunc(out, func(d KeyDoc) bool { return d.Key == strings.Join(path, ".") && d.Doc == fd.doc }) {
			out = append(out, fd.explained(path, u, inside))
		}
	})
	// What is called so in full goes before what only ends so.
	full := slices.DeleteFunc(slices.Clone(out), func(d KeyDoc) bool {
		parts := strings.Split(d.Key, ".")
		return !matches(parts, want) && !slices.Equal(nameless(parts), want)
	})
	if len(full) > 0 {
		return full
	}
	return out
}

// eachKey goes through the keys of a garment file, tables and what is in them.
func (c *Catalog) eachKey(do func(path []string, fd field, inside []field)) {
	blank := &Garment{Catalog: c}
	var walk func(at []string, fields []field)
	walk = func(at []string, fields []field) {
		for _, fd := range fields {
			path := append(slices.Clip(at), fd.name)
			inside, names := fd.inside()
			do(path, fd, inside)
			if names {
				path = append(slices.Clip(path), "*")
			}
			walk(path, inside)
		}
	}
	walk(nil, blank.rootFields(&rawRoot{closures: make([]rawClosure, 1)}))
}

// KeysAbout are the keys of a garment file that have a word in their name or
// in what they mean, by their place in it.
func (c *Catalog) KeysAbout(word string) []KeyDoc {
	word = strings.ToLower(word)
	var out []KeyDoc
	c.eachKey(func(path []string, fd field, inside []field) {
		key := strings.Join(nameless(path), ".")
		_, below, _ := strings.Cut(key, ".") // a table that is called so has them all
		if len(inside) == 0 && strings.Contains(strings.ToLower(below+" "+fd.name+" "+fd.doc), word) && !slices.ContainsFunc(out, func(d KeyDoc) bool { return d.Key == key }) {
			out = append(out, KeyDoc{Key: key, Doc: fd.doc})
		}
	})
	return out
}

// inside are the keys of a table, and whether its parts have names.
func (fd field) inside() (fields []field, names bool) {
	switch dst := fd.dst.(type) {
	case subTable:
		return dst, false
	case named:
		return dst.blank(), true
	case variants:
		return []field{f("make", &Made{}, "how many of each size of the variant are made")}, true
	case list:
		fields := dst.blank()
		return fields, slices.ContainsFunc(fields, func(f field) bool { return f.name == "name" })
	case rawTable:
		var all []field
		for _, kind := range fasteners {
			for _, f := range ownNotionFields(kind, &Notion{}) {
				if !slices.ContainsFunc(all, func(o field) bool { return o.name == f.name && o.doc == f.doc }) {
					all = append(all, f)
				}
			}
		}
		return all, false
	case *Range:
		limits := limitFields(dst)
		for i := range limits {
			limits[i].doc = map[string]string{"min": "the least", "max": "the most"}[limits[i].name]
		}
		return limits, false
	}
	return nil, false
}

// nameless is a path without the places of names.
func nameless(path []string) []string {
	return slices.DeleteFunc(slices.Clone(path), func(s string) bool { return s == "*" })
}

// matches says whether a key is one of a path, whatever the names.
func matches(path, key []string) bool {
	return slices.EqualFunc(path, key, func(p, k string) bool { return p == k || p == "*" && k != "" })
}

// called says whether a path is called so, or ends so.
func called(path, key []string) bool {
	bare := nameless(path)
	return matches(path, key) || len(key) > 0 && len(key) <= len(bare) && slices.Equal(bare[len(bare)-len(key):], key)
}

func (fd field) explained(path []string, u measure.Unit, inside []field) KeyDoc {
	d := KeyDoc{Key: strings.Join(path, "."), Doc: fd.doc, Takes: fd.takes(u), Words: fd.enum}
	for _, f := range inside {
		if !slices.Contains(d.Keys, f.name) {
			d.Keys = append(d.Keys, f.name)
		}
	}
	if len(inside) == 0 || examples()[strings.Join(nameless(path), ".")][0] != "" {
		s := &starter{unit: u, name: "Watch coat"}
		d.Example = path[len(path)-1] + " = " + s.example(strings.Join(nameless(path), "."), fd)
	}
	return d
}

// takes says what the value of a key is.
func (fd field) takes(u measure.Unit) string {
	limits := func(s string) string {
		lo, hi := fd.least(u), fd.most(u)
		switch {
		case fd.signed:
			return s + ", up to " + hi + " to either side"
		case fd.zero:
			return s + ", 0 to " + hi
		case fd.min > minLength:
			return s + ", " + lo + " to " + hi
		}
		return s + ", up to " + hi
	}
	number := func(s string) string {
		if !fd.bounded {
			return s
		}
		say := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
		return s + ", " + say(fd.lo) + " to " + say(fd.hi)
	}
	switch fd.dst.(type) {
	case *string:
		if fd.enum != nil {
			return "a word"
		}
		if fd.currency {
			return "three capital letters in quotes, as ISO 4217 has them"
		}
		return "a text in quotes"
	case *Measured:
		return limits("a length, with its ± if you like")
	case *Sized:
		return limits("a length, one for each size, or { at, size, grade }")
	case window:
		return limits("a length, one for each size, { at, size, grade }, or { min, max }")
	case *Range:
		return "{ min, max }, each a length"
	case *[]measure.Length:
		return limits("a list of lengths")
	case *[]string:
		return "a list of texts"
	case *int, *Opt[int]:
		return number("a whole number")
	case *Opt[float64]:
		return number("a number")
	case *Opt[bool]:
		return "true or false"
	case *Opt[measure.AreaWeight]:
		return "a weight of cloth with its unit"
	case *Opt[measure.LinearDensity]:
		return "a thread size with its system"
	case *Opt[measure.NeedleSize]:
		return "a needle size"
	case *Opt[measure.Temperature]:
		return "a heat with its unit"
	case *map[string]float64:
		return "a table of percents"
	case *[]Count:
		return "a whole number, one for each size, or { min, max }"
	case *Amount:
		return "a figure with its unit"
	case list, rowList:
		return "a list of tables"
	case *Made:
		return "a whole number for each size, { S = 12, M = 20 }; one number where there are no sizes"
	case variants:
		return "a table for each, under a name of your own"
	}
	return "a table"
}
