// Package sheet writes a plan as words: text, Markdown, HTML, CSV and JSON.
//
// Every format is made from one prepared model, so that no two of them can
// disagree.
package sheet

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"placketeer/catalog/text"
	"placketeer/rules"
)

// Options say how a plan is written.
type Options struct {
	Format string // text, markdown, html, csv or json; "" is text
	Color  bool   // text only: colours beside the words, never instead of them
	UTF8   bool   // text only: false keeps to ASCII
	Width  int    // columns of the terminal; 0 is 80
	Size   string // only this size; "" all
	Strict bool   // cautions stand in the way too
	Full   bool   // check in text: each finding with its place in the file
	Only   string // check: only this severity; "" all
	Table  string // of Tables one alone, as CSV; "" all that the format has
	Quiet  bool   // check of several garments in text: the table alone
	// Working adds how each number came about, and every finding in full;
	// Sources the numbered sources, and their numbers in the text. On a page
	// both are there, folded away, and stand open where they are asked for.
	Working, Sources bool // spec

	Unread []Unread // files that cannot be used, for the table of several
}

// DefaultWidth is the width of text where the terminal's is not known.
const DefaultWidth = 80

// fit sets a width that is not known, and widens one too narrow to write in.
func (o *Options) fit() {
	if o.Width <= 0 {
		o.Width = DefaultWidth
	}
	o.Width = max(o.Width, 40)
}

// Formats are the formats that Check and Spec write.
var Formats = []string{"text", "markdown", "html", "csv", "json"}

// CheckFormats are the formats that Check writes.
var CheckFormats = append(slices.Clone(Formats), "lines", "sarif")

// kind is which of the two documents is written.
type kind int

const (
	check kind = iota
	spec
)

// Check writes the findings of each garment.
func Check(w io.Writer, plans []*rules.Planned, o Options) error {
	if !o.Reported() {
		return write(w, plans, o, check)
	}
	reports := make([]*Report, len(plans))
	for i, p := range plans {
		var err error
		if reports[i], err = NewReport(p, o); err != nil {
			return err
		}
	}
	return Reports(w, reports, o)
}

// Spec writes the page to work from of each garment.
func Spec(w io.Writer, plans []*rules.Planned, o Options) error { return write(w, plans, o, spec) }

func write(w io.Writer, plans []*rules.Planned, o Options, k kind) error {
	o.fit()
	sheets := make([]*Garment, len(plans))
	for i, p := range plans {
		if err := o.fits(p); err != nil {
			return err
		}
		sheets[i] = prepare(p, o)
		o.leaveOut(sheets[i])
	}
	var text string
	var err error
	switch o.Format {
	case "csv":
		if o.Table != "" {
			text, err = writeTable(sheets, o.Table)
			break
		}
		text, err = writeCSV(sheets, k)
	case "", "text":
		text = writeSpec(documents(sheets, o, k), o)
	case "markdown":
		text = writeMarkdown(documents(sheets, o, k), k, o.Unread)
	case "html":
		text, err = writeHTML(documents(sheets, o, k), k)
	case "sarif":
		text, err = writeSARIF(sheets, inOrder(o.Unread))
	case "json":
		for _, s := range sheets {
			for i, v := range s.all() {
				v.Change = v.changeOut()
				v.evidenceOut()
				if i > 0 {
					out := &s.Variants[i-1]
					out.Change, out.JointFix, out.MeasureFirst = v.Change, v.JointFix, v.MeasureFirst
				}
			}
			for _, e := range slices.Concat(s.found, s.settled) {
				s.Findings = append(s.Findings, s.findingOut(&e))
			}
		}
		all := make([]any, 0, len(o.Unread)+len(sheets))
		for _, u := range inOrder(o.Unread) {
			all = append(all, u)
		}
		for _, s := range sheets {
			all = append(all, s)
		}
		text, err = writeJSON(all)
	default:
		err = fmt.Errorf("there is no format %q: use %s", o.Format, strings.Join(Formats, ", "))
	}
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, text)
	return err
}

// fits refuses a size that the garment has not.
func (o *Options) fits(p *rules.Planned) error {
	if o.Size != "" && !slices.Contains(p.Garment.Sizes, o.Size) {
		return text.NoSuchError(p.Garment.File, "size", o.Size, p.Garment.Sizes)
	}
	return nil
}

// leaveOut takes out what is not of the one severity that is asked for; the
// screen says what it leaves out.
func (o *Options) leaveOut(s *Garment) {
	if o.Only != "" && (o.Full || o.Format != "" && o.Format != "text") {
		s.found = slices.DeleteFunc(s.found, func(e rules.Entry) bool { return e.Severity.String() != o.Only })
	}
}

func documents(sheets []*Garment, o Options, k kind) []*document {
	var docs []*document
	for _, s := range sheets {
		d := s.document(o, k)
		docs = append(append(docs, d), d.variantDocs(o, k)...)
	}
	return docs
}
