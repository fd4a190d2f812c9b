package sheet

import (
	"bytes"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"sync"

	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/work"
)

// ChecklistFormats are the formats that Checklist writes.
var ChecklistFormats = []string{"text", "markdown", "html", "json"}

// listed is the checklist of a garment, made ready for any format.
type listed struct {
	File    string   `json:"file"`
	Garment string   `json:"garment"`
	Verdict string   `json:"verdict"`
	Size    *string  `json:"size"` // null: all sizes
	Stages  []stages `json:"stages"`
	Notes   []string `json:"notes"`
}

type stages struct {
	Stage string `json:"stage"`
	Tasks []task `json:"tasks"`
}

type task struct {
	Closure  *string  `json:"closure"`
	Do       string   `json:"do"`
	Lines    []string `json:"lines"`
	Cautions []string `json:"cautions"`
}

// lastWords close every checklist.
const lastWords = "Makers' instructions and the law where the garment is sold come before this list."

// Checklist writes what to measure, buy, test, cut, mark, sew and set for a
// garment, in the order the work needs, with a box to tick at every step.
func Checklist(w io.Writer, p *rules.Planned, o Options) error {
	if o.Size != "" && !slices.Contains(p.Garment.Sizes, o.Size) {
		return text.NoSuchError(p.Garment.File, "size", o.Size, p.Garment.Sizes)
	}
	o.fit()
	l := prepareList(p, o)
	out := ""
	switch o.Format {
	case "", "text":
		out = l.text(o)
	case "markdown":
		out = l.markdown()
	case "html":
		var b bytes.Buffer
		if err := checklistPage().Execute(&b, l); err != nil {
			return err
		}
		out = b.String()
	case "json":
		var err error
		if out, err = writeJSON(l); err != nil {
			return err
		}
	default:
		return fmt.Errorf("there is no format %q: use %s", o.Format, strings.Join(ChecklistFormats, ", "))
	}
	_, err := io.WriteString(w, out)
	return err
}

// prepareList makes the list of a plan ready for any format.
func prepareList(p *rules.Planned, o Options) *listed {
	l := &listed{
		File: p.Garment.File, Garment: p.Garment.Title(), Verdict: "ok",
		Size: word(o.Size), Stages: []stages{}, Notes: []string{lastWords},
	}
	if v, found := p.Verdict(); found {
		l.Verdict = v.String()
	}
	tasks := work.Order(p, o.Size)
	if tagged, told := work.Lawful(tasks); tagged && !told {
		l.Notes = append([]string{work.LawTag + ": the law where it is sold decides; ask an accredited laboratory before you sell it or give it away."}, l.Notes...)
	}
	for _, t := range tasks {
		if n := len(l.Stages); n == 0 || l.Stages[n-1].Stage != t.Stage {
			l.Stages = append(l.Stages, stages{Stage: t.Stage})
		}
		s := &l.Stages[len(l.Stages)-1]
		s.Tasks = append(s.Tasks, task{word(t.Closure), text.Safe(t.Do), list(t.Lines), list(t.Take)})
	}
	return l
}

// title is the heading of the list.
func (l *listed) title() string {
	s := text.Safe(l.Garment) + ": checklist"
	if l.Size != nil {
		s += ", size " + text.Safe(*l.Size)
	}
	return s
}

// Title is the same for the page.
func (l *listed) Title() string { return l.title() }

func (l *listed) text(o Options) string {
	t := &terminal{o: o}
	t.put(t.bold(l.title()))
	n := 0
	for _, s := range l.Stages {
		n++
		t.line("")
		t.put(t.bold(fmt.Sprintf("%d. %s", n, s.Stage)))
		for i := range s.Tasks {
			t.flow("  [ ] ", s.Tasks[i].Do)
			for _, c := range s.Tasks[i].Lines {
				t.flow("      ", c)
			}
			for _, c := range s.Tasks[i].Cautions {
				t.flow("      ! ", c)
			}
		}
	}
	t.line("")
	for _, c := range l.Notes {
		t.flow("", c)
	}
	return t.String()
}

func (l *listed) markdown() string {
	var b strings.Builder
	say := text.Markdown
	fmt.Fprintf(&b, "# %s\n", say(l.title()))
	for i, s := range l.Stages {
		fmt.Fprintf(&b, "\n## %d. %s\n\n", i+1, say(s.Stage))
		for _, t := range s.Tasks {
			fmt.Fprintf(&b, "- [ ] %s\n", say(t.Do))
			for _, c := range t.Lines {
				fmt.Fprintf(&b, "  - %s\n", say(c))
			}
			for _, c := range t.Cautions {
				fmt.Fprintf(&b, "  - **Take care:** %s\n", say(c))
			}
		}
	}
	b.WriteString("\n")
	for _, c := range l.Notes {
		fmt.Fprintf(&b, "%s\n", say(c))
	}
	return b.String()
}

// checklistPage is one file that needs nothing else: it prints on A4 and
// Letter, reads on a telephone, and follows the light or dark of the screen.
var checklistPage = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("checklist").Funcs(template.FuncMap{
		"plus": func(a, b int) int { return a + b },
		"kept": text.Keep,
		"id":   func(a, b int) string { return fmt.Sprintf("t%d-%d", a+1, b+1) },
	}).Parse(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{.Title}}</title>
<style>
:root { color-scheme: light dark; }
body { font: 1rem/1.45 system-ui, sans-serif; max-width: 44rem; margin: 0 auto; padding: 1rem; color: #1b1b1b; background: #fff; }
h1 { font-size: 1.5rem; line-height: 1.2; } h2 { font-size: 1.1rem; margin: 1.4rem 0 .4rem; break-after: avoid; }
ul { list-style: none; margin: 0; padding: 0; } li { margin: .45rem 0; break-inside: avoid; }
label { display: flex; gap: .6rem; align-items: baseline; overflow-wrap: anywhere; }
input { inline-size: 1.1rem; block-size: 1.1rem; flex: none; }
.size { margin: .1rem 0 .1rem 1.8rem; }
.care { margin: .2rem 0 .2rem 1.8rem; padding-inline-start: .6rem; border-inline-start: 3px solid #8a5a00; }
@media (prefers-color-scheme: dark) { body { color: #eee; background: #161616; } .size { margin: .1rem 0 .1rem 1.8rem; }
.care { border-color: #e0a030; } }
@media print { body { max-width: none; padding: 0; color: #000; background: #fff; font-size: 10.5pt; } @page { margin: 15mm; } }
</style>
</head>
<body>
<main>
<h1>{{.Title}}</h1>
{{range $i, $s := .Stages}}<section aria-labelledby="s{{plus $i 1}}">
<h2 id="s{{plus $i 1}}">{{plus $i 1}}. {{$s.Stage}}</h2>
<ul>
{{range $j, $t := $s.Tasks}}<li><label for="{{id $i $j}}"><input type="checkbox" id="{{id $i $j}}"> <span>{{kept $t.Do}}</span></label>
{{range $t.Lines}}<p class="size">{{kept .}}</p>
{{end}}{{range $t.Cautions}}<p class="care"><strong>Take care:</strong> {{kept .}}</p>
{{end}}</li>
{{end}}</ul>
</section>
{{end}}{{range .Notes}}<p>{{.}}</p>
{{end}}</main>
</body>
</html>
`))
})
