package source

import (
	"cmp"
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
	runes []int32 // characters before each block, where a line is very long
	index *index
	over  []override // set by Set, the newest last

	base       *Document      // see On
	own, whole map[string]any // with a base: what the file itself says, and what both do
}

// An override is a value that does not come from the file.
type override struct {
	path  Path // with items by number
	label any  // a text, or what prints as one
	from  Path // where in the document the value stands, instead of a label; nil where it has one
}

// Parse reads a TOML document. name is used in positions. Of a document that
// cannot be used the error is of type Problems and has all its faults; of very
// many it has the first, and a last one that counts the rest.
func Parse(name string, data []byte) (*Document, error) {
	if len(data) > MaxSize {
		return nil, tooLarge(name, fmt.Sprint(len(data)))
	}
	d := &Document{Name: name, text: strings.TrimPrefix(string(data), "\ufeff")}
	d.lines = lineStarts(d.text)
	d.runes = runeCounts(d.text, d.lines)
	if fs := d.decode(); fs.count > 0 {
		return nil, d.problems(&fs)
	}
	return d, nil
}

// decode fills Root and index.
func (d *Document) decode() faults {
	if fs := check(d.text); fs.count > 0 {
		return fs
	}
	s := scan(d.text)
	if s.faults.count > 0 {
		s.checkValues() // the decoder would find one of them alone
		return s.faults
	}
	root := map[string]any{}
	if off, err := decode(d.text, &root); err != nil {
		if s.checkValues(); s.faults.count == 0 {
			s.faults.add(&fault{off, off + 1, lowerFirst(err.Error()), ""})
		}
		return s.faults
	}
	plain(root)
	d.Root, d.index = root, s.x
	return faults{}
}

// maxFaults is when a document is given up.
const maxFaults = 1000

// faults are what is wrong with a document: the first of them, and how many
// there are.
type faults struct {
	list  []*fault
	count int
}

func (fs *faults) add(f *fault) {
	if fs.count++; len(fs.list) < 2*MaxProblems { // two searches find them, each in order
		fs.list = append(fs.list, f)
	}
}

// problems are the faults as problems, in the order of the file.
func (d *Document) problems(fs *faults) Problems {
	slices.SortStableFunc(fs.list, func(a, b *fault) int { return cmp.Compare(a.start, b.start) })
	ps := make(Problems, 0, len(fs.list))
	for i, f := range fs.list {
		if i == MaxProblems {
			break
		}
		p := d.at(f.start, f.end)
		p.Message, p.Instead = f.message, f.instead
		ps = append(ps, p)
	}
	if fs.count >= maxFaults {
		return append(ps, Problem{Pos: Pos{File: d.Name, Line: maxLine}, Message: "and very many more faults"})
	}
	return ps.and(d.Name, fs.count-len(ps))
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

// checkValues finds the values that the decoder would refuse, each by itself.
// Those of statements that are faulty already are left out.
func (s *scanner) checkValues() {
	skip := s.faulty
	found := 0
	for i := range s.x.nodes {
		if len(skip) > 0 && int32(i) >= skip[0].to {
			skip = skip[1:]
		}
		if len(skip) > 0 && int32(i) >= skip[0].from {
			continue
		}
		f := s.valueFault(int32(i), found < MaxProblems)
		if f == nil {
			continue
		}
		if found++; found <= MaxProblems {
			s.faults.add(f)
		} else {
			s.faults.count++
		}
	}
}

// valueFault says what is wrong with the value of a node, nil where nothing
// is. Only where it is to be told is it explained.
func (s *scanner) valueFault(id int32, told bool) *fault {
	n := &s.x.nodes[id]
	raw := s.src[n.valueStart:n.valueEnd]
	if raw == "" {
		return nil
	}
	switch n.kind {
	case scalar:
		if plainValue().MatchString(raw) && len(raw) < 16 && (raw[0] != '0' || len(raw) == 1 || raw[1] == '.') {
			return nil
		}
		if _, err := decode("v = "+raw, new(map[string]any)); err == nil {
			return nil
		}
		if !told {
			return &fault{}
		}
		return s.bareFault(id)
	case inQuotes:
		if strings.IndexByte(raw, '\\') < 0 {
			return nil
		}
		f := s.badEscape(int(n.valueStart), int(n.valueEnd))
		if f != nil && told && f.instead != "" {
			f.instead = s.assign(id, f.instead)
		}
		return f
	}
	return nil
}

func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}

// check finds what no text file holds: bytes that are not UTF-8 and control
// characters, one of a line at most. What is no text at all is one fault.
func check(src string) (fs faults) {
	nextLine := func(i int) int {
		if n := strings.IndexByte(src[i:], '\n'); n >= 0 {
			return i + n + 1
		}
		return len(src)
	}
	alone := func(i int, message string) faults {
		return faults{[]*fault{{i, i + 1, message, ""}}, 1}
	}
	for i := 0; i < len(src); {
		c := src[i]
		if c >= 0x20 && c < 0x7f || c == '\n' || c == '\t' {
			i++
			continue
		}
		if c < utf8.RuneSelf {
			switch {
			case c == '\r' && strings.HasPrefix(src[i+1:], "\n"):
				i += 2
				continue
			case c == 0 && i < 8:
				return alone(i, "this is not a text in UTF-8, perhaps one in UTF-16; save it as UTF-8")
			case c == 0:
				return alone(i, `the control character \x00 cannot stand in the file`)
			case c == '\r' && fs.count == 0 && strings.IndexByte(src, '\n') < 0:
				return alone(i, `the lines end in \r alone; save the file with the line ends of this system`)
			}
			fs.add(&fault{i, i + 1, fmt.Sprintf("the control character %s cannot stand in the file", text.Safe(src[i:i+1])), ""})
			i = nextLine(i)
			continue
		}
		r, n := utf8.DecodeRuneInString(src[i:])
		if r == utf8.RuneError && n == 1 {
			if i == 0 && (strings.HasPrefix(src, "\xff\xfe") || strings.HasPrefix(src, "\xfe\xff")) {
				return alone(0, "this is a text in UTF-16; save it as UTF-8")
			}
			fs.add(&fault{i, i + 1, fmt.Sprintf("the byte 0x%02X is not UTF-8; save the file as UTF-8", c), ""})
			i = nextLine(i)
			continue
		}
		i += n
	}
	return fs
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
	return Pos{d.Name, line, 1 + d.count(int(d.lines[line-1]), off)}
}

// runeBlock is how many bytes are counted at once, and how long a line is
// before they are.
const runeBlock = 1 << 12

// runeCounts counts the characters before each block of a text that has a
// very long line, so that a place in it is found without counting them again.
func runeCounts(text string, lines []int32) []int32 {
	long, end := 0, len(text)
	for i := len(lines) - 1; i >= 0; i-- {
		long, end = max(long, end-int(lines[i])), int(lines[i])
	}
	if long <= runeBlock {
		return nil
	}
	counts := make([]int32, 1, 1+len(text)/runeBlock)
	for off := runeBlock; off <= len(text); off += runeBlock {
		counts = append(counts, counts[len(counts)-1]+int32(starts(text[off-runeBlock:off])))
	}
	return counts
}

// starts counts the bytes that begin a character.
func starts(text string) int {
	n := 0
	for i := range len(text) {
		if utf8.RuneStart(text[i]) {
			n++
		}
	}
	return n
}

// count is how many characters begin from one offset up to another.
func (d *Document) count(from, to int) int {
	if d.runes == nil || to-from <= runeBlock {
		return starts(d.text[from:to])
	}
	before := func(off int) int {
		b := off / runeBlock
		return int(d.runes[b]) + starts(d.text[b*runeBlock:off])
	}
	return before(to) - before(from)
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
	p, label, ok := d.overridden(p)
	if ok {
		return Pos{File: label}
	}
	l, p := d.layer(p)
	start, _ := l.index.spot(p, false)
	return l.place(start)
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
	if at, label, ok := d.overridden(at); ok {
		p = Problem{Pos: Pos{File: label}, Width: 1}
	} else {
		l, at := d.layer(at)
		p = l.at(l.index.spot(at, key))
	}
	p.Message, p.Instead = message, instead
	return p
}

// overridden tells whether Set put the value at path there, and as what. What
// SetFrom put there has a place: at is where it stands, else the path itself.
func (d *Document) overridden(path Path) (at Path, label string, ok bool) {
	for i := len(d.over) - 1; i >= 0; i-- {
		switch o := &d.over[i]; {
		case !path.beneath(o.path):
		case o.from != nil:
			return slices.Concat(o.from, path[len(o.path):]), "", false
		default:
			return path, fmt.Sprint(o.label), true
		}
	}
	return path, "", false
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
	at, _ := d.path(path)
	for l := d; l != nil; l = l.base {
		in, there := at, true
		if l != d {
			in, there = d.within(l, at)
		}
		id, whole := l.index.find(in)
		if !there || !whole || !l.index.nodes[id].kind.table() {
			continue
		}
		for i := l.index.nodes[id].first; i >= 0; i = l.index.nodes[i].next {
			k := l.index.nodes[i].key
			if _, ok := table[k]; ok && (l == d || !slices.Contains(keys, k)) {
				keys = append(keys, k)
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
