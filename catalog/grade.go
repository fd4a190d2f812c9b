package catalog

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// A length may be graded: what it is in one size, and by how much it grows
// from each size to the next,
//
//	length = { at = "24 in", size = "M", grade = "1/4 in" }
//
// or by how much within ranges of sizes that meet:
//
//	grade = { "S..M" = "1/4 in", "M..XL" = "3/8 in" }

// gradeWords are the keys of a graded length, which no size may be called.
var gradeWords = []string{"at", "size", "grade"}

const gradeLike = `{ at = "24 in", size = "M", grade = "1/4 in" }`

// isGraded says whether a value is a graded length.
func isGraded(raw any) bool {
	m, ok := raw.(map[string]any)
	return ok && (has(m, "at") || has(m, "grade"))
}

// gradeField is the key of a grade: what a length grows by, less than nothing
// where it becomes shorter.
func gradeField(fd field) field {
	return field{name: "grade of " + fd.name, min: minLength, max: maxLength, zero: true, signed: true, thin: fd.thin}
}

// graded reads a graded length; it is false where anything was wrong.
func (r *reader) graded(path string, m map[string]any, fd field) (Sized, bool) {
	if len(r.sizes) == 0 || r.sizes[0] == "" {
		r.fail(path, `one value, or list the sizes: [sizes] names = ["S", "M", "L"]`, "%s is graded, but the garment lists no sizes", last(path))
		return nil, false
	}
	good := true
	bad := func() { good = false }
	for _, k := range sortedKeys(m) {
		switch {
		case slices.Contains(gradeWords, k):
		case slices.Contains(r.sizes, k):
			r.failKey(source.Join(path, k), "a value for each size, or "+gradeLike, "%s has both a grade and a value of size %s", last(path), k)
			bad()
		default:
			r.failKey(source.Join(path, k), text.Meant(k, gradeWords), "unknown key %q", text.Safe(k))
			bad()
		}
	}
	for _, k := range gradeWords {
		if !has(m, k) {
			r.fail(path, gradeLike, "%s says no %s", last(path), k)
			bad()
		}
	}
	if !good {
		return nil, false
	}
	of := func(what string) field {
		return field{name: what, min: fd.min, max: fd.max, zero: fd.zero, signed: fd.signed, thin: fd.thin}
	}
	begin, ok := r.length(source.Join(path, "at"), m["at"], of(fd.name+" at"))
	if !ok {
		bad()
	}
	base := -1
	if s, ok := r.text(source.Join(path, "size"), m["size"]); !ok {
		bad()
	} else if base = slices.Index(r.sizes, s); base < 0 {
		says, instead := text.NoSuch("the garment", "size", s, r.sizes)
		if instead != "" {
			instead = source.Text(instead)
		}
		r.fail(source.Join(path, "size"), instead, "%s", says)
		bad()
	}
	steps, ok := r.gradeSteps(source.Join(path, "grade"), m["grade"], fd)
	if !ok || !good {
		return nil, false
	}
	out := make(Sized, len(r.sizes))
	for i := range out {
		l := begin.V
		for k := base; k < i; k++ {
			l += steps[k]
		}
		for k := i; k < base; k++ {
			l -= steps[k]
		}
		if !r.within(path, l, i, fd) {
			return nil, false
		}
		out[i] = Measured{V: l, Tol: begin.Tol, From: r.origin}
	}
	return out, true
}

// within says whether the length that a grade gives a size can be used; what
// is wrong is a fault of the grade.
func (r *reader) within(path string, l measure.Length, size int, fd field) bool {
	fail := func(limit string) bool {
		r.fail(source.Join(path, "grade"), "a smaller grade, or a value for each size", "the grade makes %s of size %s %s: %s is the %s",
			fd.name, r.sizes[size], l.TextPlace(r.units), limit, map[bool]string{true: "most", false: "least"}[l > fd.max])
		return false
	}
	switch {
	case l == 0 && fd.zero, fd.signed && l != 0 && l.Abs() <= fd.max:
		return true
	case l <= 0:
		r.fail(source.Join(path, "grade"), "a smaller grade, or a value for each size", "the grade leaves nothing of %s in size %s", fd.name, r.sizes[size])
		return false
	case l < fd.min:
		return fail(fd.least(r.units))
	case l > fd.max:
		return fail(fd.most(r.units))
	}
	return true
}

// gradeSteps reads what a length grows by from each size to the next.
func (r *reader) gradeSteps(path string, raw any, fd field) ([]measure.Length, bool) {
	steps := make([]measure.Length, len(r.sizes)-1)
	one := func(path string, raw any) (measure.Length, bool) {
		v, ok := r.length(path, raw, gradeField(fd))
		if ok && v.Tol > 0 {
			r.fail(path, v.V.Abs().Exact(r.units), "a grade has no ±: write it behind `at`")
			return 0, false
		}
		return v.V, ok
	}
	m, ok := raw.(map[string]any)
	if !ok {
		by, ok := one(path, raw)
		for i := range steps {
			steps[i] = by
		}
		return steps, ok
	}
	good := true
	by := make([]string, len(steps)) // the range that says it
	whole := fmt.Sprintf("%q", r.sizes[0]+".."+r.sizes[len(r.sizes)-1])
	for _, key := range sortedKeys(m) {
		at := source.Join(path, key)
		from, to, ok := r.rangeOf(key)
		switch {
		case !ok:
			r.failKey(at, whole+` = "1/4 in", with two sizes of the garment`, "%q is no range of sizes", text.Safe(key))
		case from == to:
			r.failKey(at, whole, "the range %q has one size, and a grade is between two", text.Safe(key))
			ok = false
		case from > to:
			r.failKey(at, fmt.Sprintf("%q", r.sizes[to]+".."+r.sizes[from]), "the range %q goes from a larger size to a smaller", text.Safe(key))
			ok = false
		}
		step, fine := one(at, m[key])
		if good = good && ok && fine; !ok {
			continue
		}
		for i := from; i < to; i++ {
			if by[i] != "" {
				r.failKey(at, "ranges that meet and do not overlap", "the ranges %q and %q both say how %s and %s differ", by[i], key, r.sizes[i], r.sizes[i+1])
				good = false
				break
			}
			by[i], steps[i] = key, step
		}
	}
	if !good {
		return nil, false
	}
	for i, b := range by {
		if b != "" {
			continue
		}
		end := i
		for end < len(by) && by[end] == "" {
			end++
		}
		r.fail(path, fmt.Sprintf(`%q = "1/4 in" too, so that the ranges meet`, r.sizes[i]+".."+r.sizes[end]), "the grade says nothing between %s and %s", r.sizes[i], r.sizes[end])
		return nil, false
	}
	return steps, true
}

// rangeOf are the sizes of a range such as S..XL.
func (r *reader) rangeOf(key string) (from, to int, ok bool) {
	for i := range key {
		if !strings.HasPrefix(key[i:], "..") {
			continue
		}
		from = slices.Index(r.sizes, strings.TrimSpace(key[:i]))
		to = slices.Index(r.sizes, strings.TrimSpace(key[i+2:]))
		if from >= 0 && to >= 0 {
			return from, to, true
		}
	}
	return 0, 0, false
}

// ungraded is a graded length as a table of one value for each size, exact,
// in the unit that `at` is written in where that shows it; nil where the
// graded length cannot be read.
func ungraded(doc *source.Document, raw any, sizes []string, u measure.Unit) map[string]any {
	m, ok := raw.(map[string]any)
	if !ok {
		return nil
	}
	r := &reader{doc: doc, units: u, sizes: sizes, origin: Given}
	lengths, ok := r.graded("", m, field{name: "length", min: minLength, max: maxLength, zero: true, signed: true})
	if !ok {
		return nil
	}
	unit := u
	if s, ok := m["at"].(string); ok {
		head, _, _ := strings.Cut(s, "±")
		if _, written, err := measure.ParseLengthUnit(head, u); err == nil {
			unit = written
		}
	}
	out := make(map[string]any, len(sizes))
	for i, s := range sizes {
		l := LengthIn{measure.Toleranced{V: lengths[i].V, Tol: lengths[i].Tol}, unit}
		if unit.Is(measure.In) && l.V%(measure.Inch/64) != 0 && l.V%measure.Micrometre == 0 {
			l.Unit = measure.MM
		}
		out[s] = l
	}
	return out
}

// Graded is a graded length of the garment, as a table shows it.
type Graded struct {
	Closure string
	Key     string // below the closure: run.length
	Path    string // its place in the file
	Base    string // the size that `at` is of
	Lengths Sized  // one for each size
}

// Grades are the graded lengths of the garment, in the order of closures and
// their keys.
func (g *Garment) Grades() []Graded {
	if g.doc == nil {
		return nil
	}
	var out []Graded
	for i := range g.Closures {
		c := &g.Closures[i]
		take := func(path, key string, s *Sized) {
			raw, _ := g.doc.Get(path)
			if !isGraded(raw) || len(*s) != len(g.Sizes) {
				return
			}
			base, _ := child(raw, "size").(string)
			out = append(out, Graded{c.Name, key, path, base, *s})
		}
		var walk func(path, key string, fields []field)
		walk = func(path, key string, fields []field) {
			for _, fd := range fields {
				p, k := source.Join(path, fd.name), strings.TrimPrefix(key+"."+fd.name, ".")
				switch dst := fd.dst.(type) {
				case *Sized:
					take(p, k, dst)
				case window:
					take(p, k, dst.lo)
					take(p+".min", k+".min", dst.lo)
					take(p+".max", k+".max", dst.hi)
				case subTable:
					walk(p, k, dst)
				case listOf[Anchor]:
					for n := range *dst.dst {
						walk(source.Item(p, n), k+"."+(*dst.dst)[n].Name, dst.field(n, &(*dst.dst)[n]))
					}
				case listOf[Clear]:
					for n := range *dst.dst {
						walk(source.Item(p, n), k+"."+(*dst.dst)[n].Name, dst.field(n, &(*dst.dst)[n]))
					}
				}
			}
		}
		walk(source.Item("closure", i), "", closureFields(c, &rawClosure{}))
	}
	return out
}
