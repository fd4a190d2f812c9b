package sheet

import (
	"fmt"
	"strings"
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
		m.line(escapeMD(overall(docs)))
	}
	return m.String()
}

type markdown struct{ strings.Builder }

func (m *markdown) line(s string) {
	m.WriteString(strings.TrimRight(s, " "))
	m.WriteByte('\n')
}

var markdownSigns = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", "&lt;", ">", "&gt;", "&", "&amp;",
	"|", `\|`, "#", `\#`, "~", `\~`, "!", `\!`, "$", `\$`, "@", "&#64;",
)

// escapeMD makes a text mean itself in Markdown.
func escapeMD(s string) string { return markdownSigns.Replace(clean(s)) }

// codeMD is a text as code: fenced by more backquotes than it has.
func codeMD(s string) string {
	s = clean(s)
	fence := "`"
	for strings.Contains(s, fence) {
		fence += "`"
	}
	if strings.HasPrefix(s, "`") || strings.HasSuffix(s, "`") {
		s = " " + s + " "
	}
	return fence + s + fence
}

func (m *markdown) document(d *document, k kind) {
	s := d.sheet
	m.line("# " + escapeMD(s.Garment))
	m.line("")
	m.line(fmt.Sprintf("**%s**: %s. %s", escapeMD(d.verdict), escapeMD(d.summary), escapeMD(d.next)))
	m.line("")
	for _, f := range d.facts {
		m.line("- " + escapeMD(f.key) + ": " + escapeMD(f.value))
	}
	for _, sec := range d.sections {
		title := sec.title
		if title == "" {
			continue // drawings of the terminal
		}
		m.line("")
		m.line("## " + escapeMD(title))
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
			m.line(itoa(i+1) + ". " + escapeMD(src))
		}
	}
}

func (m *markdown) block(d *document, b any) {
	switch b := b.(type) {
	case para:
		m.line(escapeMD(string(b)))
	case bullets:
		for _, s := range b {
			m.line("- " + escapeMD(s))
		}
	case *table:
		m.line("**" + escapeMD(b.caption) + "**")
		m.line("")
		row := func(cells []string) { m.line("| " + strings.Join(cells, " | ") + " |") }
		head, rule := make([]string, len(b.head)), make([]string, len(b.head))
		for i, h := range b.head {
			head[i], rule[i] = escapeMD(h), "---"
			if i > 0 && b.right(i) {
				rule[i] = "---:"
			}
		}
		row(head)
		row(rule)
		for _, r := range b.rows {
			cells := make([]string, len(r))
			for i, c := range r {
				cells[i] = escapeMD(c.text)
			}
			row(cells)
		}
	case drawing:
		t := &text{o: Options{UTF8: true, Width: DefaultWidth}}
		lines := t.strip(d.sheet, b.closure)
		if len(lines) == 0 {
			m.line(escapeMD(d.sheet.Closures[b.closure].Name) + ":")
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
		m.line("### " + escapeMD(b.closure))
		m.line("")
		for _, s := range b.steps {
			says := "- **" + escapeMD(s.topic) + "**: " + escapeMD(s.says)
			if s.missing != "" {
				says += " *(" + escapeMD(s.missing) + ")*"
			}
			m.line(says + refsMD(s.refs))
		}
	}
}

func refsMD(refs []int) string {
	if len(refs) == 0 {
		return ""
	}
	return " " + escapeMD(refsText(refs))
}

func (m *markdown) finding(f *note) {
	m.line(fmt.Sprintf("- **%s**: %s (%s)%s", escapeMD(f.Severity), escapeMD(f.Message), codeMD(f.Rule), refsMD(f.refs)))
	if at := place(f.pos); at != "" {
		m.line("  - at " + codeMD(at))
	}
	if f.where != "" {
		m.line("  - for " + escapeMD(f.where))
	}
	if f.Fragile != nil {
		m.line("  - close: " + escapeMD(*f.Fragile))
	}
	for _, r := range f.Related {
		says := "  - see " + escapeMD(r.Says)
		if at := place(r.pos); at != "" {
			says += " at " + codeMD(at)
		}
		m.line(says)
	}
	for _, x := range f.Fixes {
		m.line("  - try: " + escapeMD(x.says()))
		for _, l := range x.shown() {
			m.line("    - " + codeMD(l))
		}
		for _, w := range x.With {
			m.line("    - " + codeMD("--with "+shellQuote(w)))
		}
	}
	if f.Stuck != nil {
		m.line("  - stuck: " + escapeMD(*f.Stuck))
	}
}

// says is the change in words.
func (x *Fix) says() string {
	if !x.Clears {
		return x.Says + " (a step, not the whole way)"
	}
	return x.Says
}
