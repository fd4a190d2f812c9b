package sheet

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog/text"
)

// writeMarkdown writes tables in the GitHub manner.
func writeMarkdown(docs []*document, k kind) string {
	m := &markdown{}
	for i, d := range docs {
		if i > 0 {
			m.line("")
		}
		m.document(d, k)
	}
	if len(docs) > 1 {
		m.line("")
		m.line(text.Markdown(overall(docs)))
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
	m.line(fmt.Sprintf("**%s**: %s. %s", text.Markdown(d.verdict), text.Markdown(d.summary), text.Markdown(d.next)))
	m.line("")
	for _, f := range d.facts {
		m.line("- " + text.Markdown(f.key) + ": " + text.Markdown(f.value))
	}
	for _, sec := range d.sections {
		title := sec.title
		if title == "" {
			continue // drawings of the terminal
		}
		m.line("")
		m.line("## " + text.Markdown(title))
		for _, b := range sec.blocks {
			m.line("")
			m.block(d, b)
		}
	}
	if len(d.sources) > 0 {
		m.line("")
		m.line("## Sources")
		m.line("")
		for i, src := range d.sources {
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
		m.line("**" + text.Markdown(b.caption) + "**")
		m.line("")
		row := func(cells []string) { m.line("| " + strings.Join(cells, " | ") + " |") }
		head, rule := make([]string, len(b.head)), make([]string, len(b.head))
		for i, h := range b.head {
			head[i], rule[i] = text.Markdown(h), "---"
			if i > 0 && b.right(i) {
				rule[i] = "---:"
			}
		}
		row(head)
		row(rule)
		for _, r := range b.rows {
			cells := make([]string, len(r))
			for i, c := range r {
				cells[i] = text.Markdown(c.text)
			}
			row(cells)
		}
	case drawing:
		t := &terminal{o: Options{UTF8: true, Width: DefaultWidth}}
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
	case findings:
		for i := range b {
			m.finding(&b[i])
		}
	case working:
		m.line("### " + text.Markdown(b.closure))
		m.line("")
		for _, s := range b.steps {
			says := "- **" + text.Markdown(s.topic) + "**: " + text.Markdown(s.says)
			if s.missing != "" {
				says += " *(" + text.Markdown(s.missing) + ")*"
			}
			m.line(says + refsMD(s.refs))
		}
	}
}

func refsMD(refs []int) string {
	if len(refs) == 0 {
		return ""
	}
	return " " + text.Markdown(refsText(refs))
}

func (m *markdown) finding(f *note) {
	m.line(fmt.Sprintf("- **%s**: %s (%s)%s", text.Markdown(f.Severity.String()), text.Markdown(f.Message()), text.MarkdownCode(f.Rule), refsMD(f.refs)))
	if at := place(f.Pos); at != "" {
		m.line("  - at " + text.MarkdownCode(at))
	}
	if f.where != "" {
		m.line("  - for " + text.Markdown(f.where))
	}
	for _, also := range f.also {
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
		m.line("  - stuck: " + text.Markdown(f.Stuck))
	}
}
