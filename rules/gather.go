package rules

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

// Entry is one cause: what one rule found about one key of the file, over
// closures, sizes and pieces. It reads as the worst of them.
type Entry struct {
	Finding            // the worst; with the fixes and the related places of all
	Where   []*Finding // all of them, the worst too, as they were found

	// Of a file with variants: the plan that it is of, the first of those that
	// have it, and the names of these; none where all have it.
	Of *Planned
	In []string
}

// cause is what makes findings one entry. What compares nothing has no worst,
// so there the words must be the same.
type cause struct{ rule, key, unit, says, settled string }

func (f *Finding) cause() cause {
	c := cause{rule: f.Rule, key: f.Path(), unit: f.Unit, settled: f.Settled}
	if f.Size != "" { // a key by size is one key
		c.key = strings.TrimSuffix(c.key, "."+source.Join("", f.Size))
	}
	if !f.Compared {
		c.says = f.Message()
	}
	return c
}

// worse says whether a finding stands more in the way than another of the
// same cause.
func (f *Finding) worse(o *Finding) bool {
	return cmp.Or(cmp.Compare(f.Severity, o.Severity), cmp.Compare(o.Margin, f.Margin)) > 0
}

// Gather puts findings with one cause together, in the order of the worst of
// each: by gravity, then as they stand.
func Gather(fs []Finding) []Entry {
	out := make([]Entry, 0, len(fs))
	index := make(map[cause]int, len(fs))
	for i := range fs {
		f := &fs[i]
		c := f.cause()
		n, known := index[c]
		if !known {
			n = len(out)
			index[c] = n
			out = append(out, Entry{Finding: *f})
		}
		e := &out[n]
		if e.Where = append(e.Where, f); f.worse(&e.Finding) {
			e.Finding = *f
		}
	}
	for i := range out {
		e := &out[i]
		e.Fixes, e.Related, e.Sources = slices.Clip(e.Fixes), slices.Clip(e.Related), slices.Clip(e.Sources)
		for _, f := range e.Where {
			for _, x := range f.Fixes {
				if !slices.ContainsFunc(e.Fixes, func(y Fix) bool { return x.Same(&y) }) {
					e.Fixes = append(e.Fixes, x)
				}
			}
			related := f.Related
			if f.Reopened != nil {
				related = append(slices.Clip(related), *f.Reopened)
			}
			for _, r := range related {
				if !slices.Contains(e.Related, r) {
					e.Related = append(e.Related, r)
				}
			}
			for _, s := range f.Sources {
				if !slices.Contains(e.Sources, s) {
					e.Sources = append(e.Sources, s)
				}
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Severity > out[j].Severity })
	return out
}

// Conflicts is how many conflicts a person is told of: those of one cause, and
// those that one line tells, are one.
func (p *Planned) Conflicts() int {
	return len(Alike(Gather(p.Findings), p.Garment.Units, func(e *Entry) bool { return e.Severity == Conflict }))
}

// Alike puts entries together that one line tells: what one rule says of the
// same sort of key of several closures or sizes, lengths aside. The worst of
// each stands first. Only entries of some sort are looked at, told by their
// rule and severity.
func Alike(es []Entry, u measure.Unit, of func(*Entry) bool) [][]*Entry {
	type kind struct {
		rule, key, says string
		severity        Severity
	}
	var out [][]*Entry
	index := map[kind]int{}
	for i := range es {
		e := &es[i]
		if !of(e) {
			continue
		}
		k := kind{rule: e.Rule, key: e.sort(), severity: e.Severity}
		if e.Compared {
			k.says = e.apartFromLengths()
		} else {
			k.says = e.Message()
			if r := Find(e.Rule); r != nil {
				k.says, _ = r.Say(&e.Finding, u)
			}
		}
		n, known := index[k]
		if !known {
			n = len(out)
			index[k] = n
			out = append(out, nil)
		}
		out[n] = append(out[n], e)
		if first := out[n][0]; e.worse(&first.Finding) {
			out[n][0], out[n][len(out[n])-1] = e, first
		}
	}
	return out
}

// sort is the key that a finding names, the same for all closures and sizes.
func (f *Finding) sort() string {
	key := f.place.key
	if f.place.closure == -1 {
		rest, closure := strings.CutPrefix(key, "closure[")
		if !closure {
			return key
		}
		_, key, _ = strings.Cut(rest, "].")
	}
	if f.Size != "" {
		key = strings.TrimSuffix(key, "."+source.Join("", f.Size))
	}
	return "closure." + key
}

// apartFromLengths is what the line of a finding says, its lengths left out.
func (f *Finding) apartFromLengths() string {
	says := f.short
	for _, a := range f.shortArgs {
		if !isLength(a) {
			says += "\x00" + fmt.Sprint(a)
		}
	}
	return says
}

// Sizes are the sizes that have the cause, each once; none where it is not one
// of sizes.
func (e *Entry) Sizes() []string {
	return e.each(func(f *Finding) string { return f.Size })
}

// Closures are the closures that have it, each once.
func (e *Entry) Closures() []string {
	return e.each(func(f *Finding) string { return f.Closure })
}

func (e *Entry) each(of func(*Finding) string) []string {
	out := []string{}
	for _, f := range e.Where {
		if s := of(f); s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// Place is a part of an entry that says the same of some sizes of a closure.
type Place struct {
	Closure  string
	Sizes    []string // none: not one of sizes
	Severity Severity
	Says     string // its own figures or line; "" where it reads as the entry
}

// Places is where an entry holds, the worst first.
func (e *Entry) Places(u measure.Unit) []Place {
	var out []Place
	add := func(f *Finding, says string) {
		i := slices.IndexFunc(out, func(p Place) bool {
			return p.Closure == f.Closure && p.Severity == f.Severity && p.Says == says && (f.Size != "") == (len(p.Sizes) > 0)
		})
		if i == -1 {
			out = append(out, Place{Closure: f.Closure, Severity: f.Severity, Says: says})
			i = len(out) - 1
		}
		if f.Size != "" && !slices.Contains(out[i].Sizes, f.Size) {
			out[i].Sizes = append(out[i].Sizes, f.Size)
		}
	}
	message := e.Message()
	for _, f := range e.Where {
		if f.Message() == message {
			add(f, "")
		}
	}
	for _, f := range e.Where {
		if f.Message() != message {
			add(f, f.beside(&e.Finding, u))
		}
	}
	return out
}

// beside is what a finding says besides another of the same cause: its figures
// where they alone differ, else its line.
func (f *Finding) beside(o *Finding, u measure.Unit) string {
	if f.Compared && f.format == o.format && f.figures(u) != o.figures(u) && slices.EqualFunc(f.args, o.args, sameWord) {
		return f.figures(u)
	}
	line := f.Message()
	if r := Find(f.Rule); r != nil {
		line, _ = r.Say(f, u)
	}
	return line
}

// sameWord says whether two values of messages are the same, lengths aside.
func sameWord(a, b any) bool { return isLength(a) || fmt.Sprint(a) == fmt.Sprint(b) }

func isLength(a any) bool {
	switch a.(type) {
	case Said, bounded, limits, spanned, together:
		return true
	}
	return false
}
