package source

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// Limits on what Parse accepts, far above any garment or catalogue file.
const (
	MaxSize    = 1 << 20 // bytes
	MaxNesting = 64      // tables and arrays inside one another
)

// A Document is a TOML file that has been read. It is never changed after
// Parse, so several goroutines may share it.
type Document struct {
	// Name is the file name as given to Parse.
	Name string
	// Root holds the values: tables are map[string]any, arrays []any (arrays
	// of tables too), the rest string, int64, float64, bool and time.Time.
	// Treat it as read-only; Set returns a changed copy.
	Root map[string]any

	text  string  // without byte order mark
	lines []int32 // offset of the beginning of each line
	index *index
	over  []override // set by Set, the newest last
}

// An override is a value that does not come from the file.
type override struct {
	path  []step
	label string
}

// Parse reads a TOML document. name is used in positions. A document that
// cannot be used gives an error of type Problems with one problem.
func Parse(name string, data []byte) (*Document, error) {
	if len(data) > MaxSize {
		return nil, Problems{{Pos: Pos{File: name}, Message: fmt.Sprintf("the file has %d bytes, more than the %d that are read", len(data), MaxSize)}}
	}
	d := &Document{Name: name, text: strings.TrimPrefix(string(data), "\ufeff")}
	d.lines = lineStarts(d.text)
	if p := d.decode(); p != nil {
		return nil, Problems{*p}
	}
	return d, nil
}

func (d *Document) decode() *Problem {
	root := map[string]any{}
	if _, err := toml.Decode(d.text, &root); err != nil {
		p := d.at(0, 1)
		p.Message = err.Error()
		return &p
	}
	plain(root)
	d.Root = root
	d.index = &index{}
	return nil
}

// plain makes every array of tables an []any and returns v.
func plain(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k, e := range v {
			switch e.(type) {
			case map[string]any, []any, []map[string]any:
				v[k] = plain(e)
			}
		}
	case []any:
		for i, e := range v {
			v[i] = plain(e)
		}
	case []map[string]any:
		list := make([]any, len(v))
		for i, e := range v {
			list[i] = plain(e)
		}
		return list
	}
	return v
}

func lineStarts(text string) []int32 {
	starts := make([]int32, 1, 16+len(text)/24)
	for off := 0; ; {
		i := strings.IndexByte(text[off:], '\n')
		if i < 0 {
			return starts
		}
		off += i + 1
		starts = append(starts, int32(off))
	}
}

// Line returns line n of the file, counted from 1, without its end.
func (d *Document) Line(n int) string {
	if n < 1 || n > len(d.lines) {
		return ""
	}
	end := len(d.text)
	if n < len(d.lines) {
		end = int(d.lines[n]) - 1
	}
	return strings.TrimSuffix(d.text[d.lines[n-1]:end], "\r")
}

// Lines returns how many lines the file has.
func (d *Document) Lines() int { return len(d.lines) }

// place turns a byte offset into a position.
func (d *Document) place(off int) Pos {
	off = min(max(off, 0), len(d.text))
	line := sort.Search(len(d.lines), func(i int) bool { return int(d.lines[i]) > off })
	return Pos{d.Name, line, 1 + utf8.RuneCountInString(d.text[d.lines[line-1]:off])}
}

// at begins a problem that marks the bytes from start to end.
func (d *Document) at(start, end int) Problem {
	p := Problem{Pos: d.place(start)}
	p.Line = d.Line(p.Pos.Line)
	begin := int(d.lines[p.Pos.Line-1])
	start = min(max(start, 0), len(d.text))
	end = min(max(end, start), begin+len(p.Line))
	if end > start {
		p.Width = utf8.RuneCountInString(d.text[start:end])
	}
	p.Width = max(p.Width, 1)
	return p
}

// Pos returns the place of the value at path; of a table its heading. A path
// that is not in the document has the place of its nearest parent that is,
// in the end the beginning of the file. A value put there by Set has the
// label of that change as its file name.
func (d *Document) Pos(path string) Pos { return d.Problem(path, "", "").Pos }

// ValuePos returns the place of the value at path and how many characters of
// that line it takes; see Pos.
func (d *Document) ValuePos(path string) (Pos, int) {
	p := d.Problem(path, "", "")
	return p.Pos, p.Width
}

// KeyPos returns the place of the key at path, its last part alone, and how
// many characters it takes. An item of an array has no key: the place is its
// value's. A path that is not there falls back as in Pos.
func (d *Document) KeyPos(path string) (Pos, int) {
	p := d.KeyProblem(path, "", "")
	return p.Pos, p.Width
}

// Problem makes a problem that marks the value at path; see Pos.
func (d *Document) Problem(path, message, instead string) Problem {
	return d.problem(path, false, message, instead)
}

// KeyProblem makes a problem that marks the key at path; see KeyPos.
func (d *Document) KeyProblem(path, message, instead string) Problem {
	return d.problem(path, true, message, instead)
}

func (d *Document) problem(path string, key bool, message, instead string) Problem {
	list, _ := steps(path)
	var p Problem
	if label, ok := d.overridden(list); ok {
		p = Problem{Pos: Pos{File: label}, Width: 1}
	} else {
		start, end := d.index.find(list, key)
		p = d.at(start, end)
	}
	p.Message, p.Instead = message, instead
	return p
}

func (d *Document) overridden(path []step) (label string, ok bool) {
	for _, o := range slices.Backward(d.over) {
		if len(path) >= len(o.path) && slices.Equal(path[:len(o.path)], o.path) {
			return o.label, true
		}
	}
	return "", false
}

// Get returns the value at path.
func (d *Document) Get(path string) (value any, ok bool) {
	list, ok := steps(path)
	if !ok {
		return nil, false
	}
	return get(d.Root, list)
}

func get(v any, path []step) (any, bool) {
	for _, s := range path {
		switch t := v.(type) {
		case map[string]any:
			e, ok := t[s.key]
			if !ok || s.item >= 0 {
				return nil, false
			}
			v = e
		case []any:
			if s.item < 0 || s.item >= len(t) {
				return nil, false
			}
			v = t[s.item]
		default:
			return nil, false
		}
	}
	return v, true
}

// Keys returns the keys of the table at path: those of the file in its
// order, then those that Set added, sorted. Nil when there is no such table.
func (d *Document) Keys(path string) []string {
	v, _ := d.Get(path)
	table, ok := v.(map[string]any)
	if !ok {
		return nil
	}
	keys := make([]string, 0, len(table))
	for k := range table {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
