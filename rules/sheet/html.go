package sheet

import (
	_ "embed"
	"fmt"
	"html/template"
	"strings"
	"sync"

	"placketeer/catalog/text"
	"placketeer/rules"
)

//go:embed page.html
var pageText string

// layout is the page. It reads the document as the other formats do; what
// comes from a file goes through safe.
var layout = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("page").Funcs(template.FuncMap{
		"safe": text.Safe, "place": place, "seeing": seeing, "fixSays": fixSays, "fixLines": fixLines, "fixWith": fixWith,
		"kind": kindOf, "lies": liesOf, "part": func(of any, id string) part { return part{of, id} },
		"next": func(n int) int { return n + 1 },
		"joints": func(d *document, p *things) (out []string) {
			for _, j := range d.sheet.joints() {
				if p.last && p.Items[0].severity() == rules.Conflict {
					out = append(out, j.says)
				}
			}
			return out
		},
		"settles": func(f note) bool { return f.Severity == rules.Conflict }, // the page is for what must be done
	}).Parse(pageText))
})

// view is what the template is given.
type view struct {
	Title, Head string
	Garments    []*document
	Overall     string
}

// part is a part of a document, and what its names on the page begin with.
type part struct {
	Of any
	ID string
}

// writeHTML writes one file that needs nothing else: its style and its
// drawings are in it.
func writeHTML(docs []*document, k kind) (string, error) {
	p := view{Head: "Closure specification", Garments: docs}
	if k == check {
		p.Head = "Closure findings"
	}
	p.Title = strings.ToLower(p.Head[:1]) + p.Head[1:]
	if files := wholes(docs); len(files) == 1 {
		p.Title = docs[0].Title + ": " + p.Title
	} else {
		p.Title = fmt.Sprintf("%d garments: %s", len(files), p.Title)
		p.Overall = overall(verdictsOf(files))
	}
	var b strings.Builder
	err := layout().Execute(&b, p)
	return b.String(), err
}

// kindOf says which of the blocks a block is.
func kindOf(block any) string {
	return strings.TrimPrefix(strings.TrimPrefix(fmt.Sprintf("%T", block), "*"), "sheet.")
}

// liesOf is how the blocks of a section lie: pair, side by side where there is
// room.
func liesOf(section string) string {
	switch section {
	case "lies":
		return "lies"
	case "positions", "buy", "runs":
		return "pair"
	case "working":
		return "steps-all"
	}
	return "one"
}

// Picture is the drawing of a closure; nil where there is nothing to draw.
func (d *document) Picture(b drawing, id string) *picture {
	return d.sheet.picture(b.closure, fmt.Sprintf("%s-run-%d", id, b.closure))
}
