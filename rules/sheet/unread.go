package sheet

import (
	"slices"
	"sort"

	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// Unreadable is the verdict of a file that cannot be used: worse than any of
// one that can.
const Unreadable = "unreadable"

// Unread is a file that cannot be used, in its place among those that can.
type Unread struct {
	Version  int       `json:"version"`
	File     string    `json:"file"`
	Garment  string    `json:"garment"` // ""
	Verdict  string    `json:"verdict"` // Unreadable
	Errors   []Fault   `json:"errors"`
	Findings []Finding `json:"findings"` // [], as closures: nothing was planned
	Closures []Closure `json:"closures"`
}

// Fault is what is wrong in a file that cannot be used.
type Fault struct {
	File    string  `json:"file"`   // a base or a catalogue of the garment, too
	Line    *int    `json:"line"`   // null: of the whole file
	Column  *int    `json:"column"` // in characters
	Message string  `json:"message"`
	Write   *string `json:"write"` // what to write instead
}

// NewUnread is a file of which the problems are told, or else one in words.
func NewUnread(file string, problems []source.Problem, says string) Unread {
	u := Unread{Version: OutputVersion, File: file, Verdict: Unreadable, Errors: []Fault{}, Findings: []Finding{}, Closures: []Closure{}}
	for _, p := range problems {
		f := Fault{File: p.Pos.File, Message: p.Message, Write: word(p.Instead)}
		if f.File == "" {
			f.File = file
		}
		if p.Pos.Line > 0 {
			line, column := p.Pos.Line, max(p.Pos.Column, 1)
			f.Line, f.Column = &line, &column
		}
		u.Errors = append(u.Errors, f)
	}
	if len(problems) == 0 {
		u.Errors = append(u.Errors, Fault{File: file, Message: says})
	}
	return u
}

// row is the file in the table of several garments.
func (u *Unread) row() []string {
	return []string{text.Count(len(u.Errors), "fault"), Unreadable, "", "", "", u.File}
}

// lines are the faults in a line each, as findings are.
func (u *Unread) lines() string {
	var out string
	for _, f := range u.Errors {
		at := source.Pos{File: f.File}
		if f.Line != nil {
			at.Line, at.Column = *f.Line, *f.Column
		}
		out += text.Safe(at.String()) + ": error: " + text.Safe(f.Message)
		if f.Write != nil {
			out += "; write " + text.Safe(*f.Write)
		}
		out += " [" + Unreadable + "]\n"
	}
	return out
}

// inOrder are the unreadable files by name.
func inOrder(files []Unread) []Unread {
	out := slices.Clone(files)
	sort.SliceStable(out, func(i, j int) bool { return out[i].File < out[j].File })
	return out
}
