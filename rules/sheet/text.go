package sheet

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/guide"
)

// writeText writes for a terminal.
func writeText(docs []*document, o Options, k kind) string {
	t := &terminal{o: o}
	for i, d := range docs {
		if i > 0 {
			t.line("")
		}
		if k == check {
			t.check(d, len(docs) > 1)
		} else {
			t.spec(d)
		}
	}
	if len(docs) > 1 {
		t.line("")
		t.flow("", overall(docs))
	}
	return t.String()
}

// overall is the last line where there are several garments.
func overall(docs []*document) string {
	var parts []string
	for _, v := range []struct{ verdict, one, more string }{
		{"conflict", "has conflicts", "have conflicts"}, {"caution", "has cautions", "have cautions"},
		{"note", "has notes alone", "have notes alone"}, {"ok", "is clear", "are clear"},
	} {
		n := 0
		for _, d := range docs {
			if d.verdict == v.verdict {
				n++
			}
		}
		if n == 1 {
			parts = append(parts, "1 "+v.one)
		} else if n > 1 {
			parts = append(parts, itoa(n)+" "+v.more)
		}
	}
	return fmt.Sprintf("%d garments: %s.", len(docs), strings.Join(parts, ", "))
}

type terminal struct {
	strings.Builder
	o Options
}

// put writes a line that is ready.
func (t *terminal) put(s string) {
	if !t.o.UTF8 {
		s = text.ASCII(s)
	}
	t.WriteString(strings.TrimRight(s, " "))
	t.WriteByte('\n')
}

func (t *terminal) line(s string) { t.put(text.Safe(s)) }

// flow writes a text broken into lines, the first after a head, the others
// as far in.
func (t *terminal) flow(head, s string) { t.flowIn(head, text.Width(head), s) }

// flowIn is flow with the further lines so far in.
func (t *terminal) flowIn(head string, in int, s string) {
	s = text.Safe(s)
	if !t.o.UTF8 {
		s, head = text.ASCII(s), text.ASCII(head)
	}
	width := t.o.Width
	if width-in < 20 {
		in = 4
	}
	first := text.Wrap(s, max(1, width-text.Width(head)))
	if len(first) <= 1 {
		t.put(head + first[0])
		return
	}
	t.put(head + first[0])
	for _, l := range text.Wrap(strings.TrimPrefix(strings.Join(strings.Fields(s), " "), first[0]), width-in) {
		t.put(strings.Repeat(" ", in) + l)
	}
}

var colours = map[string]string{"conflict": "\x1b[1;31m", "caution": "\x1b[33m", "note": "\x1b[36m", "ok": "\x1b[32m"}

// paint colours a word where colour is asked for.
func (t *terminal) paint(as, s string) string {
	if !t.o.Color || colours[as] == "" {
		return s
	}
	return colours[as] + s + "\x1b[0m"
}

func (t *terminal) bold(s string) string {
	if !t.o.Color {
		return s
	}
	return "\x1b[1m" + s + "\x1b[0m"
}

// painted writes lines and colours the first of a word in them.
func (t *terminal) painted(as, word string, write func()) {
	at := t.Len()
	write()
	if !t.o.Color {
		return
	}
	all := t.String()
	done := strings.Replace(all[at:], word, t.paint(as, word), 1)
	t.Reset()
	t.WriteString(all[:at] + done)
}

// check writes the findings for a person at the file.
func (t *terminal) check(d *document, several bool) {
	s := d.sheet
	if several {
		t.put(t.bold(text.Safe(s.Garment)))
	}
	quiet := true
	for _, sec := range d.sections {
		for _, b := range sec.blocks {
			switch b := b.(type) {
			case findings:
				for i := range b {
					t.finding(d, &b[i])
					quiet = false
				}
			}
		}
	}
	t.drawings(d)
	for _, w := range s.changeWords() {
		t.flowIn("", 2, w)
	}
	if len(s.With) > 0 {
		t.line("")
	}
	if d.verdict == "ok" && quiet {
		t.painted("ok", "ok", func() { t.flowIn("", 2, s.Garment+": ok: "+d.summary+". "+d.next) })
		return
	}
	t.painted(d.verdict, d.verdict, func() { t.flowIn("", 2, fmt.Sprintf("%s: %s: %s. %s", s.Garment, d.verdict, d.summary, d.next)) })
	t.line("  why:   placketeer explain " + s.Findings[0].Rule)
	file := text.Shell(s.File)
	if s.File == catalog.StdinName {
		file = "-"
	}
	t.line("  all:   placketeer spec " + file)
}

// finding writes a finding with its line, what to try and where else to
// look.
func (t *terminal) finding(d *document, f *note) {
	at := place(f.pos)
	if at != "" {
		at += ": "
	}
	t.painted(f.Severity, f.Severity+":", func() { t.flowIn("", 4, at+f.Severity+": "+f.Message+" ["+f.Rule+"]") })
	t.mark(d.sheet.plan, f)
	t.more("  ", f)
	t.line("")
}

// mark writes the line of the file with a mark under the place.
func (t *terminal) mark(p *rules.Planned, f *note) {
	m := p.Garment.Mark(f.Path)
	if m.Pos != f.pos || m.Pos.Line == 0 || strings.TrimSpace(m.Line) == "" {
		return
	}
	line, under := source.Mark(m.Line, m.Pos.Column, m.Width)
	t.put("  " + line)
	if under != "" {
		t.put("  " + under)
	}
}

// more writes what stands under a finding.
func (t *terminal) more(in string, f *note) {
	if f.where != "" {
		t.flow(in+"for:   ", f.where)
	}
	if f.Fragile != nil {
		t.flow(in+"close: ", *f.Fragile)
	}
	for _, r := range f.Related {
		says := r.Says
		if at := place(r.pos); at != "" {
			says += " (" + at + ")"
		}
		t.flow(in+"see:   ", says)
	}
	for _, x := range f.Fixes {
		t.flow(in+"try:   ", x.says())
		for _, l := range x.shown() {
			t.line(in + "       " + l)
		}
		for _, w := range x.With {
			t.line(in + "       --with " + text.Shell(w))
		}
	}
	if f.Stuck != nil {
		t.flow(in+"stuck: ", *f.Stuck)
	}
}

// drawings writes the strips of the closures, as many side by side as fit.
func (t *terminal) drawings(d *document) {
	var row []string
	flush := func() {
		if len(row) == 0 {
			return
		}
		for _, l := range row {
			t.put(l)
		}
		t.line("")
		row = nil
	}
	for _, sec := range d.sections {
		for _, b := range sec.blocks {
			b, ok := b.(drawing)
			if !ok {
				continue
			}
			strip := t.strip(d.sheet, b.closure)
			if len(strip) == 0 {
				continue
			}
			if len(row) > 0 {
				if both, fits := text.Beside(row, strip, t.o.Width); fits {
					row = both
					continue
				}
				flush()
			}
			row = strip
		}
	}
	flush()
}

// strip is the strip of a closure in the middle one of the sizes shown, with
// its name above it.
func (t *terminal) strip(s *Garment, closure int) []string {
	c := &s.Closures[closure]
	var laid []*SizeOut
	for i := range c.Sizes {
		if c.Sizes[i].Laid && c.Sizes[i].Count > 0 {
			laid = append(laid, &c.Sizes[i])
		}
	}
	if len(laid) == 0 {
		return nil
	}
	z := laid[len(laid)/2]
	lines := guide.Strip(s.plan, closure, z.index, guide.StripOptions{UTF8: t.o.UTF8})
	if len(lines) == 0 {
		return nil
	}
	name := c.Name
	if z.Size != "" {
		name += ", size " + z.Size
	}
	return append([]string{text.Safe(name)}, lines...)
}

// spec writes the whole document.
func (t *terminal) spec(d *document) {
	s := d.sheet
	t.heading(s.Garment, "=")
	for _, f := range d.facts {
		t.flow(text.Pad(f.key+":", 12), f.value)
	}
	t.line("")
	t.painted(d.verdict, d.verdict, func() { t.flow("verdict:    ", d.verdict+": "+d.summary) })
	t.flow("next:       ", d.next)
	for _, sec := range d.sections {
		t.line("")
		t.heading(sec.title, "-")
		for i := 0; i < len(sec.blocks); i++ {
			if i > 0 {
				t.line("")
			}
			if dr, ok := sec.blocks[i].(drawing); ok {
				i += t.beside(s, dr, sec.blocks[i+1:])
				continue
			}
			t.block(d, sec.blocks[i])
		}
	}
	if len(d.sources) > 0 {
		t.line("")
		t.heading("Sources", "-")
		for i, src := range d.sources {
			t.flow(text.Pad("["+itoa(i+1)+"]", 5), src)
		}
	}
}

func (t *terminal) heading(s, under string) {
	s = text.Safe(s)
	if !t.o.UTF8 {
		s = text.ASCII(s)
	}
	for _, l := range text.Wrap(s, t.o.Width) {
		t.put(t.bold(l))
	}
	t.put(strings.Repeat(under, min(text.Width(s), t.o.Width)))
}

// beside writes a strip with the table after it at its side, where both
// fit, and says how many further blocks it took.
func (t *terminal) beside(s *Garment, dr drawing, rest []any) int {
	strip := t.strip(s, dr.closure)
	var lines []string
	took := 0
	for _, b := range rest {
		tb, ok := b.(*table)
		if !ok || tb.closure != dr.closure || took == 2 {
			break
		}
		if took > 0 {
			lines = append(lines, "")
		}
		room := t.o.Width
		for _, l := range strip {
			room = min(room, t.o.Width-4-text.Width(l))
		}
		part := t.tableText(tb, t.o.Width)
		if len(strip) > 0 && room >= 30 {
			part = t.tableText(tb, room)
		}
		lines = append(lines, part...)
		took++
	}
	both, fits := text.Beside(strip, lines, t.o.Width)
	if len(strip) == 0 || !fits {
		both = slices.Concat(strip, []string{""}, lines)
		if len(strip) == 0 {
			both = lines
		}
	}
	for _, l := range both {
		t.put(l)
	}
	return took
}

func (t *terminal) tableText(tb *table, width int) []string {
	safe := text.Table{Head: make([]string, len(tb.head)), Rows: make([][]string, len(tb.rows)), Right: make([]bool, len(tb.head))}
	plain := func(s string) string {
		s = text.Safe(s)
		if !t.o.UTF8 {
			s = text.ASCII(s)
		}
		return s
	}
	for i, h := range tb.head {
		safe.Head[i], safe.Right[i] = plain(h), tb.right(i)
	}
	for i, r := range tb.rows {
		safe.Rows[i] = make([]string, len(r))
		for j, c := range r {
			safe.Rows[i][j] = plain(c.text)
		}
	}
	return append(text.Wrap(plain(tb.caption), width), safe.Lines(width)...)
}

func (t *terminal) block(d *document, b any) {
	switch b := b.(type) {
	case para:
		t.flow("", string(b))
	case bullets:
		for _, s := range b {
			t.flow("- ", s)
		}
	case *table:
		for _, l := range t.tableText(b, t.o.Width) {
			t.put(l)
		}
	case findings:
		for i := range b {
			f := &b[i]
			if i > 0 {
				t.line("")
			}
			t.painted(f.Severity, f.Severity+":", func() {
				t.flowIn("", 2, strings.TrimSpace(f.Severity+": "+f.Message+" ["+f.Rule+"] "+refsText(f.refs)))
			})
			if at := place(f.pos); at != "" {
				t.flow("  at:    ", at)
			}
			t.more("  ", f)
		}
	case working:
		t.put(t.bold(text.Safe(b.closure)))
		for _, s := range b.steps {
			head := "  " + text.Pad(s.topic, 13) + " "
			says := s.says
			if s.missing != "" {
				says += ". (" + strings.ToUpper(s.missing[:1]) + s.missing[1:] + ".)"
			}
			t.flow(head, strings.TrimSpace(says+" "+refsText(s.refs)))
		}
	}
}
