package sheet

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
)

// The screen is what a person reads of a garment: what to settle, what to
// sample, what to know, each thing once and in one line.

// screenPart is a part of the screen.
type screenPart struct {
	title string
	has   func(e *rules.Entry) bool
}

var screenParts = []screenPart{
	{"Settle before you cut", func(e *rules.Entry) bool { return e.Severity == rules.Conflict }},
	{"Sew a sample first", func(e *rules.Entry) bool { return e.Severity == rules.Caution }},
	{"At the table", noteAt(rules.AtTable)},
	{"At the machine", noteAt(rules.AtMachine)},
	{"Worth knowing", noteAt(rules.ToKnow)},
}

func noteAt(at rules.Bench) func(e *rules.Entry) bool {
	return func(e *rules.Entry) bool { return e.Severity == rules.Note && rules.Find(e.Rule).Task.Bench() == at }
}

// item is one thing on the screen.
type item struct {
	entries []*rules.Entry
	where   string // closures and sizes, "" where that goes without saying
	line    string
	rule    string
}

// tries are the changes of an item that settle it, the smallest first.
func (it *item) tries() []*rules.Fix {
	var out []*rules.Fix
	for _, e := range it.entries {
		for i := range e.Fixes {
			x := &e.Fixes[i]
			if !slices.ContainsFunc(out, func(y *rules.Fix) bool {
				return rules.SameChange(rules.Change{With: x.With}, rules.Change{With: y.With})
			}) {
				out = append(out, x)
			}
		}
	}
	return out
}

// items are the things of a part.
func (s *Garment) items(p *screenPart) []item {
	var out []item
	for _, es := range rules.Alike(s.found, s.unit) {
		e := es[0]
		if !p.has(e) {
			continue
		}
		line, _ := rules.Find(e.Rule).Say(&e.Finding, s.unit)
		out = append(out, item{es, s.whereAll(es), line, e.Rule})
	}
	return out
}

// whereAll is the closures and sizes of entries in words.
func (s *Garment) whereAll(es []*rules.Entry) string {
	var out []string
	for _, e := range es {
		for _, c := range closuresOf(e) {
			name := c
			if len(s.Closures) < 2 {
				name = ""
			}
			if sizes := sizesOf(e, c); len(sizes) > 0 && len(sizes) < len(s.sizeNames()) {
				name = strings.TrimSpace(name + " " + text.And(sizes...))
			}
			if name != "" && !slices.Contains(out, name) {
				out = append(out, name)
			}
		}
	}
	return strings.Join(out, ", ")
}

func closuresOf(e *rules.Entry) []string {
	if cs := e.Closures(); len(cs) > 0 {
		return cs
	}
	return []string{""}
}

// sizesOf are the sizes of one closure that have a cause.
func sizesOf(e *rules.Entry, closure string) []string {
	var out []string
	for _, f := range e.Where {
		if f.Closure == closure && f.Size != "" && !slices.Contains(out, f.Size) {
			out = append(out, f.Size)
		}
	}
	return out
}

// sizeNames are the sizes that are shown.
func (s *Garment) sizeNames() []string {
	return slices.DeleteFunc(slices.Clone(s.plan.Garment.Sizes), func(z string) bool { return !s.shows(z) })
}

const mostTries = 3 // a line each

// screen writes the screen of a garment.
func (t *terminal) screen(d *document) {
	s := d.sheet
	t.painted(d.Verdict, d.Verdict, func() { t.flowIn("", 2, fmt.Sprintf("%s: %s: %s. %s", s.Garment, d.Verdict, d.Summary, d.Next)) })
	var left []string
	for i := range screenParts {
		p := &screenParts[i]
		items := s.items(p)
		if len(items) == 0 {
			continue
		}
		if t.o.Only != "" && items[0].entries[0].Severity.String() != t.o.Only {
			left = append(left, fmt.Sprintf("%s %d", strings.ToLower(p.title), len(items)))
			continue
		}
		t.line("")
		t.put(t.bold(p.title))
		for j := range items {
			t.item(&items[j])
		}
	}
	if len(left) > 0 {
		t.line("")
		t.flow("", "Not shown, since only "+t.o.Only+"s are asked for: "+strings.Join(left, ", ")+".")
	}
	for _, w := range s.changeWords() {
		t.flowIn("", 2, w)
	}
	t.line("")
	if len(s.found) > 0 {
		t.flowIn("Why:   ", 7, "placketeer explain "+s.found[0].Rule)
		t.flowIn("Where: ", 7, "placketeer check "+text.Shell(s.File)+" --full")
	}
	t.flowIn("All:   ", 7, "placketeer spec "+text.Shell(s.File))
}

// item writes one thing with what settles it.
func (t *terminal) item(it *item) {
	says := it.line + " [" + it.rule + "]"
	if it.where != "" {
		says = it.where + ": " + says
	}
	t.flow("  - ", says)
	tries := it.tries()
	for i, x := range tries {
		if i == mostTries {
			break
		}
		t.try(i, tries[:min(len(tries), mostTries)], x)
	}
	if len(tries) == 0 {
		for _, e := range it.entries {
			if e.Stuck != "" && e.Severity == rules.Conflict {
				t.flow("      ", "No setting clears this: change the garment as described.")
				break
			}
		}
	}
}

// try writes one change in one line: what it does, and how to write it.
func (t *terminal) try(i int, all []*rules.Fix, x *rules.Fix) {
	wide := 0
	for _, y := range all {
		wide = max(wide, text.Width(fixSays(y)))
	}
	var with []string
	for _, w := range catalog.Texts(x.With) {
		with = append(with, text.Shell(w))
	}
	head, write := fmt.Sprintf("    %c  ", 'a'+i), strings.Join(with, " ")
	if text.Width(head)+wide+2+text.Width(write) <= t.o.Width {
		t.line(head + text.Pad(fixSays(x), wide) + "  " + write)
		return
	}
	t.flow(head, fixSays(x))
	t.flow("       ", write)
}
