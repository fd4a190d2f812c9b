package sheet

import (
	_ "embed"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"placketeer/catalog/text"
	"placketeer/rules"
)

//go:embed page.html
var pageText string

var layout = template.Must(template.New("page").Parse(pageText))

// view is a page for the template.
type view struct {
	Title    string
	Head     string
	Garments []article
	Overall  string
	Print    bool
}

type article struct {
	ID                     string
	Name, Verdict, Summary string
	Next                   string
	Facts                  []viewFact
	Sections               []viewSection
	Sources                []viewSource
}

type viewFact struct{ Key, Value string }

type viewSource struct {
	ID, Text string
	Working  bool // named in the working alone
}

type viewSection struct {
	ID, Title string
	Kind      string // how its blocks lie: pair, side by side where there is room
	Blocks    []viewBlock
}

// viewBlock has one of its fields filled.
type viewBlock struct {
	Para     string
	Items    []string
	Table    *viewTable
	Findings []viewFinding
	Working  *viewWorking
	Picture  *picture
}

type viewTable struct {
	ID, Caption string
	Stack       bool // on a narrow screen its rows become short lists
	Head        []viewCell
	Rows        [][]viewCell
}

type viewCell struct {
	Text, Value string
	Right       bool
	Label       string // the heading of its column
}

type viewFinding struct {
	Severity, Message, Rule, At, For, Hair string
	Refs                                   []viewRef
	Also, See                              []string
	Fixes                                  []viewFix
}

type viewFix struct {
	Says  string
	Lines []string
}

type viewRef struct {
	ID string
	N  int
}

type viewWorking struct {
	ID, Closure string
	Steps       []viewStep
}

type viewStep struct {
	Topic, Says, Missing string
	Refs                 []viewRef
}

// writeHTML writes one file that needs nothing else: its style and its
// drawings are in it.
func writeHTML(docs []*document, k kind) (string, error) {
	v := view{Head: "Closure specification"}
	if k == check {
		v.Head = "Closure findings"
	}
	var names []string
	for i, d := range docs {
		names = append(names, text.Safe(d.title))
		v.Garments = append(v.Garments, d.view("g"+itoa(i+1)))
	}
	v.Title = strings.ToLower(v.Head[:1]) + v.Head[1:]
	if len(names) == 1 {
		v.Title = names[0] + ": " + v.Title
	} else {
		v.Title = fmt.Sprintf("%d garments: %s", len(names), v.Title)
		v.Overall = overall(docs)
	}
	var b strings.Builder
	if err := layout.Execute(&b, v); err != nil {
		return "", err
	}
	return b.String(), nil
}

func (d *document) view(id string) article {
	a := article{ID: id, Name: text.Safe(d.title), Verdict: d.verdict, Summary: text.Safe(d.summary), Next: text.Safe(d.next)}
	for _, f := range d.facts {
		a.Facts = append(a.Facts, viewFact{text.Safe(f.key), text.Safe(f.value)})
	}
	for _, sec := range d.sections {
		title := sec.title
		if title == "" {
			title = "The runs"
		}
		vs := viewSection{ID: id + "-" + sec.id, Title: title, Kind: "one"}
		switch sec.id {
		case "lies":
			vs.Kind = "lies"
		case "positions", "buy", "runs":
			vs.Kind = "pair"
		case "working":
			vs.Kind = "steps-all"
		}
		for n, b := range sec.blocks {
			if vb, ok := d.viewBlock(id, b, n); ok {
				vs.Blocks = append(vs.Blocks, vb)
			}
		}
		if len(vs.Blocks) > 0 {
			a.Sections = append(a.Sections, vs)
		}
	}
	for i, s := range d.sources {
		a.Sources = append(a.Sources, viewSource{id + "-s" + itoa(i+1), text.Safe(s), i >= d.shown})
	}
	return a
}

func refView(id string, refs []int) []viewRef {
	var out []viewRef
	for _, r := range refs {
		out = append(out, viewRef{id + "-s" + itoa(r), r})
	}
	return out
}

func (d *document) viewBlock(id string, b any, n int) (viewBlock, bool) {
	switch b := b.(type) {
	case para:
		return viewBlock{Para: text.Safe(string(b))}, true
	case bullets:
		return viewBlock{Items: text.SafeAll(b)}, true
	case *table:
		t := &viewTable{ID: id + "-t-" + b.id, Caption: text.Safe(b.caption), Stack: !b.bySize}
		for i, h := range b.head {
			t.Head = append(t.Head, viewCell{Text: text.Safe(h), Right: i > 0 && b.right(i)})
		}
		for _, r := range b.rows {
			var row []viewCell
			for i, c := range r {
				row = append(row, viewCell{text.Safe(c.text), c.value, t.Head[i].Right, t.Head[i].Text})
			}
			t.Rows = append(t.Rows, row)
		}
		return viewBlock{Table: t}, true
	case drawing:
		p := d.sheet.picture(b.closure, fmt.Sprintf("%s-run-%d", id, b.closure))
		if p == nil {
			return viewBlock{}, false
		}
		return viewBlock{Picture: p}, true
	case findings:
		var out []viewFinding
		for i := range b {
			f := &b[i]
			vf := viewFinding{Severity: f.Severity.String(), Message: text.Safe(f.Message()), Rule: f.Rule, At: place(f.Pos), For: text.Safe(f.where), Also: text.SafeAll(f.also), Refs: refView(id, f.refs)}
			vf.Hair = text.Safe(f.Fragile)
			for i := range f.Related {
				vf.See = append(vf.See, text.Safe(seeing(&f.Related[i])))
			}
			for j := range f.Fixes {
				if f.Severity != rules.Conflict {
					break // the page is for what must be done
				}
				x := &f.Fixes[j]
				vf.Fixes = append(vf.Fixes, viewFix{Says: text.Safe(fixSays(x)), Lines: text.SafeAll(slices.Concat(fixLines(x), fixWith(x)))})
			}
			if f.Stuck != "" {
				vf.See = append(vf.See, text.Safe(f.Stuck))
			}
			out = append(out, vf)
		}
		return viewBlock{Findings: out}, true
	case working:
		w := &viewWorking{ID: fmt.Sprintf("%s-working-%d", id, n), Closure: text.Safe(b.closure)}
		for _, s := range b.steps {
			w.Steps = append(w.Steps, viewStep{text.Safe(s.topic), text.Safe(s.says), text.Safe(s.missing), refView(id, s.refs)})
		}
		return viewBlock{Working: w}, true
	}
	return viewBlock{}, false
}
