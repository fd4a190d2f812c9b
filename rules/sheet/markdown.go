package sheet

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog/text"
	"placketeer/rules"
)

// writeMarkdown writes tables in the GitHub manner.
func writeMarkdown(docs []*document, k kind, unread []Unread) string {
	m := &markdown{}
	for i, d := range docs {
		if i > 0 {
			m.line("")
		}
		m.document(d, k)
	}
	verdicts := verdictsOf(wholes(docs))
	if len(unread) > 0 && len(docs) > 0 {
		m.line("")
	}
	for _, u := range inOrder(unread) {
		m.line("- " + text.MarkdownCode(u.File) + " cannot be read: " + text.Markdown(u.Errors[0].Message))
		verdicts = append(verdicts, Unreadable)
	}
	if len(verdicts) > 1 {
		m.line("")
		m.line(text.Markdown(overall(verdicts)))
	}
	return m.String()
}

type markdown struct{ strings.Builder }

func (m *markdown) line(s string) {
	m.WriteString(strings.TrimRight(s, " "))
	m.WriteByte('\n')
}

func (m *markdown) document(d *document, k kind) {
	s := d.sheet
	m.line("# " + text.Markdown(s.Garment))
	m.line("")
	m.line(fmt.Sprintf("**%s**: %s. %s", text.Markdown(d.Verdict), text.Markdown(d.Summary), text.Markdown(d.Next)))
	m.line("")
	for _, f := range d.Facts {
		m.line("- " + text.Markdown(f.Key) + ": " + text.Markdown(f.Value))
	}
	for _, sec := range d.Sections {
		title := sec.Title
		if title == "" {
			continue // drawings of the terminal
		}
		m.line("")
		m.line("## " + text.Markdown(title))
		for _, b := range sec.Blocks {
			m.line("")
			m.block(d, b)
		}
	}
	if len(d.Sources) > 0 {
		m.line("")
		m.line("## Sources")
		m.line("")
		for i, src := range d.Sources {
			m.line(itoa(i+1) + ". " + text.Markdown(src))
		}
	}
}

func (m *markdown) block(d *document, b any) {
	switch b := b.(type) {
	case para:
		m.line(text.Markdown(string(b)))
	case bullets:
		for _, s := range b {
			m.line("- " + text.Markdown(s))
		}
	case *table:
		m.line("**" + text.Markdown(b.Caption) + "**")
		m.line("")
		row := func(cells []string) { m.line("| " + strings.Join(cells, " | ") + " |") }
		head, rule := make([]string, len(b.Head)), make([]string, len(b.Head))
		for i, h := range b.Head {
			head[i], rule[i] = text.Markdown(h), "---"
			if i > 0 && b.Right(i) {
				rule[i] = "---:"
			}
		}
		row(head)
		row(rule)
		for _, r := range b.Rows {
			cells := make([]string, len(r))
			for i, c := range r {
				cells[i] = text.Markdown(c.Text)
			}
			row(cells)
		}
	case drawing:
		t := &terminal{o: Options{UTF8: true, Width: DefaultWidth}, low: true}
		lines := t.strip(d.sheet, b.closure)
		if len(lines) == 0 {
			m.line(text.Markdown(d.sheet.Closures[b.closure].Name) + ":")
			return
		}
		m.line("```text")
		for _, l := range lines {
			m.line(strings.ReplaceAll(l, "```", "'''"))
		}
		m.line("```")
	case *things:
		m.things(d.sheet, b)
	case findings:
		for i := range b {
			m.finding(&b[i])
		}
	case working:
		m.line("### " + text.Markdown(b.Closure))
		m.line("")
		for _, s := range b.Steps {
			says := "- **" + text.Markdown(s.Topic) + "**: " + text.Markdown(s.Says)
			if s.Default != nil {
				says += " *(" + text.Markdown(*s.Default) + ")*"
			}
			m.line(says + refsMD(s.Refs))
		}
	}
}

// things writes a part of the screen.
func (m *markdown) things(s *Garment, p *things) {
	if p.Title != "" {
		m.line("**" + text.Markdown(p.Title) + "**")
		m.line("")
	}
	if p.In != "" {
		m.line("In " + text.Markdown(p.In) + ":")
		m.line("")
	}
	for i := range p.Items {
		it := &p.Items[i]
		m.line("- " + text.Markdown(it.Says()) + refsMD(it.refs))
		for _, x := range it.offer {
			says := "  - try: " + text.Markdown(fixSays(x))
			for _, w := range fixWith(x) {
				says += " " + text.MarkdownCode(w)
			}
			m.line(says)
		}
		for _, says := range it.Reopened() {
			m.line("  - " + text.Markdown(says))
		}
		if says := it.Stuck(); says != "" {
			m.line("  - " + says)
		}
	}
	if !p.last || p.Items[0].severity() != rules.Conflict {
		return
	}
	for _, j := range s.joints() {
		for _, w := range j.with {
			j.says += " --with " + text.Shell(w)
		}
		m.line("")
		m.line(text.Markdown(j.says))
	}
}

func refsMD(refs []int) string {
	if len(refs) == 0 {
		return ""
	}
	return " " + text.Markdown(refsText(refs))
}

func (m *markdown) finding(f *note) {
	m.line(fmt.Sprintf("- **%s**: %s (%s)%s", text.Markdown(f.Severity.String()), text.Markdown(f.Message()), text.MarkdownCode(f.Rule), refsMD(f.Refs)))
	if at := place(f.Pos); at != "" {
		m.line("  - at " + text.MarkdownCode(at))
	}
	if f.Where != "" {
		m.line("  - for " + text.Markdown(f.Where))
	}
	for _, also := range f.Also {
		m.line("  - also " + text.Markdown(also))
	}
	if f.Fragile != "" {
		m.line("  - close: " + text.Markdown(f.Fragile))
	}
	for _, r := range f.Related {
		says := "  - see " + text.Markdown(r.Says)
		if at := place(r.Pos); at != "" {
			says += " at " + text.MarkdownCode(at)
		}
		m.line(says)
	}
	for i := range f.Fixes {
		x := &f.Fixes[i]
		m.line("  - try: " + text.Markdown(fixSays(x)))
		for _, l := range slices.Concat(fixLines(x), fixWith(x)) {
			m.line("    - " + text.MarkdownCode(l))
		}
	}
	if f.Stuck != "" {
		m.line("  - none: " + text.Markdown(f.Stuck))
	}
}
