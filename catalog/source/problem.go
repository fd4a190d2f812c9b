// Package source reads TOML files safely and knows the place of every key and
// value in them, makes problems that show the place, and writes files whole.
package source

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"sort"
	"strconv"
	"strings"

	"placketeer/catalog/text"
)

// Pos is a place in a file. Line and Column count from 1; the column counts
// characters (code points), so that an editor finds it. Zero means unknown.
type Pos struct {
	File         string
	Line, Column int
}

// String gives file:line:column and leaves out what is not known.
// Control characters in the file name are made visible.
func (p Pos) String() string {
	b := []byte(text.Safe(p.File))
	for _, n := range []int{p.Line, p.Column} {
		if n <= 0 || n == maxLine {
			break
		}
		if len(b) > 0 {
			b = append(b, ':')
		}
		b = strconv.AppendInt(b, int64(n), 10)
	}
	return string(b)
}

// Compare orders places by file, line and column.
func (p Pos) Compare(q Pos) int {
	return cmp.Or(
		cmp.Compare(p.File, q.File),
		cmp.Compare(p.Line, q.Line),
		cmp.Compare(p.Column, q.Column),
	)
}

// A Problem is something in an input that cannot be used, and where it stands.
type Problem struct {
	Pos     Pos
	Width   int    // characters marked from Pos on; less than 1 counts as 1
	Message string // what is wrong, in plain words, without a full stop
	Instead string // what to write instead; may be empty
	Line    string // the text of the line at Pos without its end; may be empty
}

// String gives "file:line:column: message" on one line, safe to print.
func (p Problem) String() string {
	at := p.Pos.String()
	if at == "" {
		return text.Safe(p.Message)
	}
	return at + ": " + text.Safe(p.Message)
}

// Problems is a list of problems. It is an error, so that reading can return
// all of them in one go.
type Problems []Problem

// Tidy returns the problems sorted by file, line, column and message, each
// only once. The list itself is left as it is.
func (ps Problems) Tidy() Problems {
	sorted := slices.Clone(ps)
	sort.SliceStable(sorted, func(i, j int) bool {
		a, b := &sorted[i], &sorted[j]
		return cmp.Or(a.Pos.Compare(b.Pos), cmp.Compare(a.Message, b.Message)) < 0
	})
	return slices.CompactFunc(sorted, func(a, b Problem) bool {
		return a.Pos == b.Pos && a.Message == b.Message
	})
}

// MaxProblems is how many problems of one file are told; the rest is counted.
const MaxProblems = 50

// First is the problems tidied, of each file no more than MaxProblems and one
// that counts the rest.
func (ps Problems) First() Problems {
	ps = ps.Tidy()
	out := ps[:0]
	for i := 0; i < len(ps); {
		j := i
		for j < len(ps) && ps[j].Pos.File == ps[i].Pos.File {
			j++
		}
		if n := j - i; n > MaxProblems+1 {
			out = append(out, ps[i:i+MaxProblems]...).and(ps[i].Pos.File, n-MaxProblems)
		} else {
			out = append(out, ps[i:j]...)
		}
		i = j
	}
	return out
}

// Counted is the first problems of a file tidied, and one that counts the
// rest, of which more were not kept.
func (ps Problems) Counted(file string, more int) Problems {
	ps = ps.Tidy()
	kept := min(len(ps), MaxProblems)
	return ps[:kept].and(file, len(ps)-kept+more)
}

// and adds that there are more problems in a file.
func (ps Problems) and(file string, more int) Problems {
	if more <= 0 {
		return ps
	}
	return append(ps, Problem{Pos: Pos{File: file, Line: maxLine}, Message: "and " + text.Count(more, "more fault")})
}

// maxLine is the line of what is said behind all others; it is not shown.
const maxLine = 1 << 30

// Err returns the tidied problems as an error, nil when there are none.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps.Tidy()
}

// Error gives one line a problem. Render shows the source lines as well.
func (ps Problems) Error() string {
	var b strings.Builder
	for i, p := range ps.Tidy() {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(p.String())
	}
	return b.String()
}

// Render writes the problems for people, at most MaxProblems of a file: the place and the message, the
// source line with a mark under the place, and what to write instead.
func (ps Problems) Render(w io.Writer) error {
	var b strings.Builder
	for _, p := range ps.First() {
		p.render(&b)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// Render writes one problem as Problems.Render does.
func (p Problem) Render(w io.Writer) error {
	var b strings.Builder
	p.render(&b)
	_, err := io.WriteString(w, b.String())
	return err
}

func (p Problem) render(b *strings.Builder) {
	b.WriteString(p.String())
	b.WriteByte('\n')
	if p.Pos.Line > 0 && strings.TrimSpace(p.Line) != "" {
		line, mark := Mark(p.Line, p.Pos.Column, p.Width)
		fmt.Fprintf(b, "  %s\n", line)
		if p.Pos.Column > 0 {
			fmt.Fprintf(b, "  %s\n", mark)
		}
	}
	if p.Instead != "" {
		fmt.Fprintf(b, "  write: %s\n", text.Safe(p.Instead))
	}
}
