package sheet

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"placketeer/catalog/text"
	"placketeer/rules"
)

// Report is what Check writes of one garment, in words. It holds nothing of
// the plan, so that a folder of any size can be planned and told garment by
// garment, many at once.
type Report struct {
	garment, file string
	verdict       string // the severity, or ok
	stands        string // the same for overall
	counts        [rules.Conflict + 1]int
	head, text    string // the head only where there are several
}

// Reported says whether Check writes a format garment by garment.
func (o *Options) Reported() bool { return o.Format == "" || o.Format == "text" || o.Format == "lines" }

// NewReport puts into words what was found in a garment. The format must be
// Reported.
func NewReport(p *rules.Planned, o Options) (*Report, error) {
	o.fit()
	if err := o.fits(p); err != nil {
		return nil, err
	}
	make := screened
	if o.Full && o.Format != "lines" {
		make = prepare
	}
	s := make(p, o)
	o.leaveOut(s)
	r := &Report{garment: s.Garment, file: s.File, verdict: s.Verdict, stands: s.stands()}
	for i := range r.counts {
		r.counts[i] = s.count(rules.Severity(i))
	}
	t := &terminal{o: o}
	switch {
	case o.Format == "lines":
		r.text = s.lines()
		return r, nil
	case o.Full:
		r.head = t.bold(text.Safe(s.Garment))
		t.check(s.document(o, check))
	default: // the table counts as the screen above it does
		count := t.screen(s)
		for i := range r.counts {
			r.counts[i] = count[rules.Severity(i)]
		}
	}
	r.text = t.String()
	return r, nil
}

// Reports writes the reports of garments, and of several a table. One of them
// Reports writes the reports of garments, and of several a table.
func Reports(w io.Writer, reports []*Report, o Options) error {
	o.fit()
	t := &terminal{o: o}
	several := len(reports)+len(o.Unread) > 1 && o.Format != "lines"
	if o.Format == "lines" {
		for _, u := range inOrder(o.Unread) {
			t.WriteString(u.lines())
		}
	}
	for i, r := range reports {
		if o.Quiet && several {
			break
		}
		if i > 0 && several {
			t.line("")
		}
		if several && r.head != "" {
			t.put(r.head)
		}
		t.WriteString(r.text)
	}
	if several {
		if t.Len() > 0 {
			t.line("")
		}
		t.overview(reports)
		t.line("")
		verdicts := make([]string, len(reports), len(reports)+len(o.Unread))
		for i, r := range reports {
			verdicts[i] = r.stands
		}
		for range o.Unread {
			verdicts = append(verdicts, Unreadable)
		}
		t.flow("", overall(verdicts))
	}
	_, err := w.Write(t.Bytes())
	return err
}

// overview is a table of several garments, the worst first: those that cannot
// be read before all.
func (t *terminal) overview(reports []*Report) {
	reports = slices.Clone(reports)
	severity := func(r *Report) int {
		return slices.Index([]string{"ok", rules.Note.String(), rules.Caution.String(), rules.Conflict.String()}, r.verdict)
	}
	slices.SortStableFunc(reports, func(a, b *Report) int {
		return cmp.Or(severity(b)-severity(a), b.counts[rules.Conflict]-a.counts[rules.Conflict], b.counts[rules.Caution]-a.counts[rules.Caution])
	})
	tb := text.Table{Head: []string{"garment", "verdict", "conflicts", "cautions", "notes", "file"}, Right: []bool{false, false, true, true, true, false}}
	for _, u := range inOrder(t.o.Unread) {
		row := u.row()
		for i := range row {
			row[i] = text.Safe(row[i])
		}
		tb.Rows = append(tb.Rows, row)
	}
	for _, r := range reports {
		row := []string{r.garment, r.verdict, itoa(r.counts[rules.Conflict]), itoa(r.counts[rules.Caution]), itoa(r.counts[rules.Note]), r.file}
		for i := range row {
			row[i] = text.Safe(row[i])
		}
		tb.Rows = append(tb.Rows, row)
	}
	for _, l := range tb.Lines(t.o.Width) {
		t.put(l)
	}
}

// lines are each thing found in a line of its own, for editors and for other
// programs: file:line:column: severity: message [rule].
func (s *Garment) lines() string {
	var b strings.Builder
	for i := range s.found {
		e := &s.found[i]
		at := place(e.Pos)
		if at == "" {
			at = s.File
		}
		where := s.whereAll([]*rules.Entry{e})
		if in := inWords(e.In); in != "" {
			where = strings.TrimSuffix("in "+in+": "+where, ": ")
		}
		if where != "" {
			where = " (" + where + ")"
		}
		fmt.Fprintf(&b, "%s: %s: %s%s [%s]\n", text.Safe(at), e.Severity, text.Safe(e.Message()), text.Safe(where), e.Rule)
	}
	return b.String()
}
