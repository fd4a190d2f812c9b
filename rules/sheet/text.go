package sheet

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/guide"
)

// writeSpec writes pages to work from for a terminal.
func writeSpec(docs []*document, o Options) string {
	t := &terminal{o: o, low: true}
	for i, d := range docs {
		if i > 0 {
			t.line("")
		}
		t.spec(d)
	}
	if docs = wholes(docs); len(docs) > 1 {
		t.line("")
		t.flow("", overall(verdictsOf(docs)))
	}
	return t.String()
}

// wholes are the documents of files, without those of their variants.
func wholes(docs []*document) []*document {
	return slices.DeleteFunc(slices.Clone(docs), func(d *document) bool { return d.variant })
}

func verdictsOf(docs []*document) []string {
	out := make([]string, len(docs))
	for i, d := range docs {
		out[i] = d.sheet.stands()
	}
	return out
}

// unlaid is what overall counts where the verdict is a conflict for want of
// places alone.
const unlaid = "unlaid"

// stands is the verdict for overall.
func (s *Garment) stands() string {
	if s.Verdict == rules.Conflict.String() && s.count(rules.Conflict) == 0 {
		return unlaid
	}
	return s.Verdict
}

// overall is the last line where there are several garments.
func overall(verdicts []string) string {
	var parts []string
	for _, v := range []struct{ verdict, one, more string }{
		{Unreadable, "cannot be read", "cannot be read"},
		{"conflict", "has conflicts", "have conflicts"}, {unlaid, "has no places", "have no places"}, {"caution", "has cautions", "have cautions"},
		{"note", "has notes alone", "have notes alone"}, {"ok", "is clear", "are clear"},
	} {
		n := 0
		for _, is := range verdicts {
			if is == v.verdict {
				n++
			}
		}
		if n == 1 {
			parts = append(parts, "1 "+v.one)
		} else if n > 1 {
			parts = append(parts, itoa(n)+" "+v.more)
		}
	}
	return fmt.Sprintf("%d garments: %s.", len(verdicts), strings.Join(parts, ", "))
}

type terminal struct {
	bytes.Buffer
	o   Options
	low bool // strips are no higher than their centres need
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
	done := bytes.Replace(bytes.Clone(t.Bytes()[at:]), []byte(word), []byte(t.paint(as, word)), 1)
	t.Truncate(at)
	t.Write(done)
}

// check writes the findings for a person at the file.
func (t *terminal) check(d *document) {
	s := d.sheet
	quiet := true
	for _, sec := range d.Sections {
		for _, b := range sec.Blocks {
			switch b := b.(type) {
			case findings:
				for i := range b {
					t.finding(d, &b[i])
					quiet = false
					if b[i].Severity == rules.Conflict && (i+1 == len(b) || b[i+1].Severity != rules.Conflict) {
						t.joint(s)
					}
				}
			}
		}
	}
	if first := s.measureFirst(); first != "" {
		t.flowIn("Measure first: ", 2, first)
		t.line("")
	}
	if words := s.settledWords(); len(words) > 0 {
		t.flowIn("Settled: ", 2, strings.Join(words, "; "))
		t.line("")
	}
	t.drawings(d)
	if len(s.variants) > 0 {
		t.block(d, s.verdicts(true))
		t.line("")
	}
	for _, w := range s.changeWords() {
		t.flowIn("", 2, w)
	}
	if len(s.With) > 0 {
		t.line("")
	}
	if d.Verdict == "ok" && quiet {
		t.painted("ok", "ok", func() { t.flowIn("", 2, s.Garment+": ok: "+d.Summary+". "+d.Next) })
		return
	}
	t.painted(d.Verdict, d.Verdict, func() { t.flowIn("", 2, fmt.Sprintf("%s: %s: %s. %s", s.Garment, d.Verdict, d.Summary, d.Next)) })
	t.line("  why:   placketeer explain " + s.found[0].Rule)
	t.line("  all:   placketeer spec " + s.typed())
}

// joint writes what settles all conflicts together, or what is left.
func (t *terminal) joint(s *Garment) {
	for _, j := range s.joints() {
		t.flowIn("", 4, j.says)
		for _, w := range j.with {
			t.line("    --with " + text.Shell(w))
		}
		t.line("")
	}
}

// finding writes a finding with its line, what to try and where else to
// look.
func (t *terminal) finding(d *document, f *note) {
	at := place(f.Pos)
	if at != "" {
		at += ": "
	}
	sev := f.Severity.String()
	t.painted(sev, sev+":", func() { t.flowIn("", 4, at+sev+": "+f.Message()+" ["+f.Rule+"]") })
	t.mark(f.Of, f)
	t.more("  ", f)
	t.line("")
}

// mark writes the line of the file with a mark under the place.
func (t *terminal) mark(p *rules.Planned, f *note) {
	m := p.Garment.Mark(f.Path())
	if m.Pos != f.Pos || m.Pos.Line == 0 || strings.TrimSpace(m.Line) == "" {
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
	if f.Where != "" {
		t.flow(in+"for:   ", f.Where)
	}
	for _, also := range f.Also {
		t.flow(in+"also:  ", also)
	}
	if f.Fragile != "" {
		t.flow(in+"close: ", f.Fragile)
	}
	for i := range f.Related {
		t.flow(in+"see:   ", seeing(&f.Related[i]))
	}
	for i := range f.Fixes {
		x := &f.Fixes[i]
		t.flow(in+"try:   ", fixSays(x))
		for _, l := range slices.Concat(fixLines(x), fixWith(x)) {
			t.line(in + "       " + l)
		}
	}
	if f.Stuck != "" {
		t.flow(in+"none:  ", f.Stuck)
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
	for _, sec := range d.Sections {
		for _, b := range sec.Blocks {
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
	o := guide.StripOptions{UTF8: t.o.UTF8}
	lines := guide.Strip(s.plan, closure, z.index, o)
	if o.Height = 2*z.Count + 3; t.low && len(lines) > o.Height {
		lines = guide.Strip(s.plan, closure, z.index, o)
	}
	if len(lines) == 0 {
		return nil
	}
	name := c.Name
	if z.Size != "" {
		name += ", size " + z.Size
	}
	return append([]string{text.Safe(name)}, lines...)
}

// spec writes the page to work from.
func (t *terminal) spec(d *document) {
	s := d.sheet
	t.heading(s.Garment, "=")
	var facts []string
	for _, f := range d.Facts {
		facts = append(facts, f.Key+": "+f.Value)
	}
	t.flow("", strings.Join(facts, "; "))
	t.line("")
	t.painted(d.Verdict, d.Verdict, func() { t.flowIn("", 2, d.Verdict+": "+d.Summary+". "+d.Next) })
	for _, sec := range d.Sections {
		t.line("")
		if sec.ID != "findings" {
			t.heading(sec.Title, "-")
		}
		first := true
		for _, b := range sec.Blocks {
			if _, ok := b.(drawing); ok {
				continue
			}
			if sec.ID == "positions" && first {
				t.drawings(d)
			} else if !first && sec.ID != "lies" {
				t.line("")
			}
			first = false
			t.block(d, b)
		}
	}
	if len(d.Sources) > 0 {
		t.line("")
		t.heading("Sources", "-")
		for i, src := range d.Sources {
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

func (t *terminal) tableText(tb *table, width int) []string {
	safe := text.Table{Head: make([]string, len(tb.Head)), Rows: make([][]string, len(tb.Rows)), Right: make([]bool, len(tb.Head))}
	plain := func(s string) string {
		s = text.Safe(s)
		if !t.o.UTF8 {
			s = text.ASCII(s)
		}
		return s
	}
	for i, h := range tb.Head {
		safe.Head[i], safe.Right[i] = plain(h), tb.Right(i)
	}
	for i, r := range tb.Rows {
		safe.Rows[i] = make([]string, len(r))
		for j, c := range r {
			safe.Rows[i][j] = plain(c.Text)
		}
	}
	if slices.Contains([]string{"closures", "cutting"}, tb.ID) { // its section says what it is
		return safe.Lines(width)
	}
	return append(text.Wrap(plain(tb.Caption), width), safe.Lines(width)...)
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
	case *things:
		t.brief(d.sheet, b)
	case findings:
		for i := range b {
			f := &b[i]
			if i > 0 {
				t.line("")
			}
			sev := f.Severity.String()
			t.painted(sev, sev+":", func() {
				t.flowIn("", 2, strings.TrimSpace(sev+": "+f.Message()+" ["+f.Rule+"] "+refsText(f.Refs)))
			})
			if at := place(f.Pos); at != "" {
				t.flow("  at:    ", at)
			}
			t.more("  ", f)
		}
	case working:
		t.put(t.bold(text.Safe(b.Closure)))
		for _, s := range b.Steps {
			head := "  " + text.Pad(s.Topic, 13) + " "
			says := s.Says
			if s.Default != nil {
				says += ". (" + text.Capital(*s.Default) + ".)"
			}
			t.flow(head, strings.TrimSpace(says+" "+refsText(s.Refs)))
		}
	}
}
