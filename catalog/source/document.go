package source

import (
	"errors"
	"fmt"
	"slices"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"placketeer/catalog/text"
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
	path  Path // with items by number
	label any  // a text, or what prints as one
}

// Parse reads a TOML document. name is used in positions. A document that
// cannot be used gives an error of type Problems with one problem.
func Parse(name string, data []byte) (*Document, error) {
	if len(data) > MaxSize {
		return nil, tooLarge(name, fmt.Sprint(len(data)))
	}
	d := &Document{Name: name, text: strings.TrimPrefix(string(data), "\ufeff")}
	d.lines = lineStarts(d.text)
	if p := d.decode(); p != nil {
		return nil, Problems{*p}
	}
	return d, nil
}

// decode fills Root and index.
func (d *Document) decode() *Problem {
	if f := check(d.text); f != nil {
		return d.fault(f)
	}
	s, f := scan(d.text)
	sound := d.text
	if f != nil { // an earlier fault, in a value, is for the decoder to find
		sound = d.text[:s.statement]
	}
	root := map[string]any{}
	if off, err := decode(sound, &root); err != nil {
		return d.fault(s.decodeFault(off, err))
	}
	if f != nil {
		return d.fault(f)
	}
	plain(root)
	d.Root, d.index = root, s.x
	return nil
}

// fault makes the problem of a fault.
func (d *Document) fault(f *fault) *Problem {
	p := d.at(f.start, f.end)
	p.Message, p.Instead = f.message, f.instead
	return &p
}

// decode reads values. off is where an error stands.
func decode(text string, root *map[string]any) (off int, err error) {
	defer func() {
		if r := recover(); r != nil { // the decoder's own mistake; none is known
			err = fmt.Errorf("this cannot be read: %v", r)
		}
	}()
	if _, err = toml.Decode(text, root); err != nil {
		if pe, ok := errors.AsType[toml.ParseError](err); ok {
			return pe.Position.Start, errors.New(pe.Message)
		}
	}
	return 0, err
}

// decodeFault explains what the decoder found wrong at off in text whose
// structure is sound.
func (s *scanner) decodeFault(off int, err error) *fault {
	for i := range s.x.nodes {
		n := &s.x.nodes[i]
		if int(n.valueStart) > off || off > int(n.valueEnd) {
			continue
		}
		switch n.kind {
		case scalar:
			if n.valueEnd > n.valueStart {
				return s.bareFault(int32(i))
			}
		case inQuotes:
			if f := s.badEscape(int(n.valueStart), int(n.valueEnd)); f != nil {
				if f.instead != "" {
					f.instead = s.assign(int32(i), f.instead)
				}
				return f
			}
		}
	}
	return &fault{off, off + 1, lowerFirst(err.Error()), ""}
}

func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}

// check finds what no text file holds: bytes that are not UTF-8 and control
// characters.
func check(src string) *fault {
	for i := 0; i < len(src); {
		c := src[i]
		if c >= 0x20 && c < 0x7f || c == '\n' || c == '\t' {
			i++
			continue
		}
		if c < utf8.RuneSelf {
			if c == '\r' && strings.HasPrefix(src[i+1:], "\n") {
				i += 2
				continue
			}
			if c == 0 && i < 8 {
				return &fault{i, i + 1, "this is not a text in UTF-8, perhaps one in UTF-16; save it as UTF-8", ""}
			}
			return &fault{i, i + 1, fmt.Sprintf("the control character %s cannot stand in the file", text.Safe(src[i:i+1])), ""}
		}
		r, n := utf8.DecodeRuneInString(src[i:])
		if r == utf8.RuneError && n == 1 {
			if i == 0 && (strings.HasPrefix(src, "\xff\xfe") || strings.HasPrefix(src, "\xfe\xff")) {
				return &fault{0, 1, "this is a text in UTF-16; save it as UTF-8", ""}
			}
			return &fault{i, i + 1, fmt.Sprintf("the byte 0x%02X is not UTF-8; save the file as UTF-8", c), ""}
		}
		i += n
	}
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
func (d *Document) Pos(path string) Pos {
	p, _ := d.path(path)
	if label, ok := d.overridden(p); ok {
		return Pos{File: label}
	}
	start, _ := d.index.spot(p, false)
	return d.place(start)
}

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
	var p Problem
	at, _ := d.path(path)
	if label, ok := d.overridden(at); ok {
		p = Problem{Pos: Pos{File: label}, Width: 1}
	} else {
		p = d.at(d.index.spot(at, key))
	}
	p.Message, p.Instead = message, instead
	return p
}

// overridden tells whether Set put the value at path there, and as what.
func (d *Document) overridden(path Path) (label string, ok bool) {
	for i := len(d.over) - 1; i >= 0; i-- {
		if path.beneath(d.over[i].path) {
			return fmt.Sprint(d.over[i].label), true
		}
	}
	return "", false
}

// Get returns the value at path.
func (d *Document) Get(path string) (value any, ok bool) {
	list, ok := d.path(path)
	if !ok {
		return nil, false
	}
	return get(d.Root, list)
}

func get(v any, path Path) (any, bool) {
	for _, s := range path {
		e, ok := s.of(v)
		if !ok {
			return nil, false
		}
		v = e
	}
	return v, true
}

// of is the value that a step leads to in v.
func (s Step) of(v any) (any, bool) {
	switch t := v.(type) {
	case map[string]any:
		e, ok := t[s.Key]
		return e, ok && s.Item < 0
	case []any:
		if s.Item >= 0 && s.Item < len(t) {
			return t[s.Item], true
		}
	}
	return nil, false
}

// path reads a path and gives the items that it has by name their numbers;
// what is not in the document stays as it is. ok is false where the path
// cannot be read.
func (d *Document) path(path string) (Path, bool) {
	p, ok := ParsePath(path)
	var v any = d.Root
	for i := range p {
		if items, is := v.([]any); is && p[i].Item < 0 {
			n, err := named(items, p[i].Key, "")
			if err != nil {
				break
			}
			p[i] = Step{Item: n}
		}
		var there bool
		if v, there = p[i].of(v); !there {
			break
		}
	}
	return p, ok
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
	x := d.index
	at, _ := d.path(path)
	if id, whole := x.find(at); whole && x.nodes[id].kind.table() {
		for i := x.nodes[id].first; i >= 0; i = x.nodes[i].next {
			if _, ok := table[x.nodes[i].key]; ok {
				keys = append(keys, x.nodes[i].key)
			}
		}
	}
	if len(keys) == len(table) {
		return keys
	}
	inFile := make(map[string]bool, len(keys))
	for _, k := range keys {
		inFile[k] = true
	}
	added := len(keys)
	for k := range table {
		if !inFile[k] {
			keys = append(keys, k)
		}
	}
	slices.Sort(keys[added:])
	return keys
}
