package rules

import (
	"slices"
	"sort"
	"strings"
)

// All are a plan and those of the variants of its file.
func (p *Planned) All() []*Planned { return append([]*Planned{p}, p.Variants...) }

// GatherAll is Gather over the plans of a file and of its variants: what all
// of them have is one entry, and so is what several have. shows says whether
// what is told of a size is shown.
func GatherAll(plans []*Planned, shows func(size string) bool) []Entry {
	type kind struct {
		cause
		severity Severity
		says     string
	}
	var out []Entry
	held := map[kind][]*Entry{} // one for each plan that has it, at most
	var order []kind
	unused := map[kind]bool{} // told only where no variant needs it
	for _, p := range plans {
		shown := make([]Finding, 0, len(p.Findings))
		for i := range p.Findings {
			if f := &p.Findings[i]; shows(f.Size) {
				shown = append(shown, *f)
			}
		}
		es := Gather(shown)
		for i := range es {
			es[i].Of = p
		}
		if len(plans) == 1 {
			return es
		}
		for i := range es {
			e := &es[i]
			k := kind{e.cause(), e.Severity, e.saysWhere()}
			if len(held[k]) == 0 {
				order = append(order, k)
			}
			held[k] = append(held[k], e)
			unused[k] = e.Rule == SettledRule.Name
		}
	}
	for _, k := range order {
		es := held[k]
		if unused[k] && len(es) < len(plans) {
			continue
		}
		out = append(out, shared(es, len(plans)))
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Severity > out[j].Severity })
	return out
}

// saysWhere is all that an entry says of where it holds: two that say the same
// are one.
func (e *Entry) saysWhere() string {
	var b strings.Builder
	for _, f := range e.Where {
		b.WriteString(f.Closure + "\x00" + f.Size + "\x00" + f.Severity.String() + "\x00" + f.Message() + "\x00")
	}
	return b.String()
}

// shared is one entry of those that several plans have: with the changes
// that help in all of them, or, where none does, those that help in some, and
// in which.
func shared(es []*Entry, of int) Entry {
	out := *es[0]
	if len(es) < of {
		for _, e := range es {
			out.In = append(out.In, e.Of.Garment.Variant)
		}
	}
	if len(es) == 1 {
		return out
	}
	out.Related = slices.Clip(out.Related)
	for _, e := range es[1:] {
		if e.Pos != out.Pos {
			out.Related = append(out.Related, Related{"the same in " + Variant(e.Of.Garment.Variant), e.Pos})
		}
	}
	var all []Fix
	for _, x := range out.Fixes {
		x.TOML, x.Lines = slices.Clip(x.TOML), slices.Clip(x.Lines)
		n := 1
		for _, e := range es[1:] {
			i := slices.IndexFunc(e.Fixes, func(y Fix) bool { return x.Same(&y) })
			if i == -1 {
				continue
			}
			n++
			y := &e.Fixes[i]
			x.Clears = x.Clears && y.Clears
			if out.Of.Garment.Variant == "" && !e.Of.Garment.Varies(y.With) {
				continue // what the file says holds for this variant too
			}
			for k, l := range y.Lines {
				if !slices.Contains(x.Lines, l) {
					x.Lines = append(x.Lines, l)
					if k < len(y.TOML) {
						x.TOML = append(x.TOML, y.TOML[k])
					}
				}
			}
		}
		if n == len(es) {
			all = append(all, x)
		}
	}
	if len(all) == 0 {
		for _, e := range es {
			for _, x := range e.Fixes {
				x.Says += ", in " + Variant(e.Of.Garment.Variant)
				all = append(all, x)
			}
		}
	}
	out.Fixes = all
	if len(all) > 0 {
		out.Stuck = ""
	}
	return out
}

// Variant is the name of a variant in words.
func Variant(name string) string {
	if name == "" {
		return "the file itself"
	}
	return name
}
