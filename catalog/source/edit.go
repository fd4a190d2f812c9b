package source

import (
	"fmt"
	"reflect"
	"slices"
	"sort"
	"strconv"
	"strings"
)

// An Assignment puts a value at a path, or takes the key there out.
type Assignment struct {
	Path  string
	Value any // string, int64, float64, bool, []any or map[string]any
	Out   bool
}

// An Edit is a change to the lines of a file, for a person to make.
type Edit struct {
	Line   int    // the line of the file, counted from 1
	Insert bool   // put Text below Line (0: above the first) and not in its place
	Text   string // one line
}

// line is a line of a text that is being changed, and the number it had in
// the file; 0 is a line that was not there.
type line struct {
	text string
	from int
}

// Said begins a remark that has the words a value was made from, and saidFirst
// is what it becomes once the value is another.
const (
	Said      = "# you said: "
	saidFirst = "# at first you said: "
)

// Edit makes assignments in the text of the file as it was read, and keeps
// the rest of it as it is: comments, order and blanks. What is taken out is
// left as a comment, and a remark Said of a value that changes says that it is
// no longer so. It returns the new text and the lines that differ.
func (d *Document) Edit(assign ...Assignment) ([]byte, []Edit, error) {
	lines := make([]line, d.Lines())
	for i := range lines {
		lines[i] = line{d.Line(i + 1), i + 1}
	}
	doc := &Document{Name: d.Name, Root: d.Root, text: d.text, lines: d.lines, index: d.index}
	if d.over != nil { // the values are not those of the file
		var err error
		if doc, err = Parse(d.Name, []byte(d.text)); err != nil {
			return nil, nil, err
		}
	}
	for i, a := range assign {
		path, ok := doc.path(a.Path)
		if !ok || len(path) == 0 {
			return nil, nil, fmt.Errorf("%q does not name a value", a.Path)
		}
		e := editor{doc: doc}
		if err := e.assign(path, a); err != nil {
			return nil, nil, err
		}
		lines = e.apply(lines)
		var err error
		if doc, err = doc.rewritten(d.joined(lines), path, a, i == len(assign)-1); err != nil {
			return nil, nil, err
		}
	}
	return []byte(doc.text), d.differences(lines), nil
}

// rewritten is the document with an assignment made in its text. The text is
// gone through for where everything stands; its values are known. Of the last
// one only the text is wanted, where it can be read.
func (d *Document) rewritten(text string, path Path, a Assignment, last bool) (*Document, error) {
	value := a.Value
	if a.Out {
		if _, there := get(d.Root, path); !there {
			return d, nil
		}
		value = missing{}
	}
	root, err := put(d.Root, path, value, make(Path, 0, len(path)))
	if err != nil {
		return nil, err
	}
	if last && readable(text) {
		return &Document{text: text}, nil
	}
	s := scan(text)
	if s.faults.count > 0 {
		_, err := Parse(d.Name, []byte(text))
		return nil, fmt.Errorf("the changed text cannot be read: %w", err)
	}
	return &Document{Name: d.Name, Root: root.(map[string]any), text: text, lines: lineStarts(text), index: s.x}, nil
}

// joined are the lines as a text, with the line ends of the file.
func (d *Document) joined(lines []line) string {
	end := "\n"
	if strings.Contains(d.text, "\r\n") {
		end = "\r\n"
	}
	var b strings.Builder
	b.Grow(len(d.text) + 256)
	for i, l := range lines {
		if i > 0 {
			b.WriteString(end)
		}
		b.WriteString(l.text)
	}
	return b.String()
}

// differences are the lines that are not as the file has them.
func (d *Document) differences(lines []line) []Edit {
	var out []Edit
	last := 0
	for _, l := range lines {
		switch {
		case l.from == 0:
			out = append(out, Edit{last, true, l.text})
			continue
		case l.text != d.Line(l.from):
			out = append(out, Edit{l.from, false, l.text})
		}
		last = l.from
	}
	return out
}

// An editor collects the changes of one assignment: lines are counted from 0.
type editor struct {
	doc     *Document
	replace map[int][]string // lines in the place of one
	below   map[int][]string // lines below one; -1 is above the first
}

func (e *editor) apply(lines []line) []line {
	out := make([]line, 0, len(lines)+2)
	add := func(texts []string, from int) {
		for i, t := range texts {
			l := line{t, 0}
			if i == 0 {
				l.from = from
			}
			out = append(out, l)
		}
	}
	add(e.below[-1], 0)
	for i, l := range lines {
		if r, ok := e.replace[i]; ok {
			add(r, l.from)
		} else {
			out = append(out, l)
		}
		add(e.below[i], 0)
	}
	return out
}

func (e *editor) put(at int, text string) {
	if e.replace == nil {
		e.replace = map[int][]string{}
	}
	e.replace[at] = []string{text}
}

func (e *editor) insert(after int, texts ...string) {
	if e.below == nil {
		e.below = map[int][]string{}
	}
	e.below[after] = append(e.below[after], texts...)
}

// row is the line of a byte, counted from 0.
func (e *editor) row(off int32) int {
	lines := e.doc.lines
	return sort.Search(len(lines), func(i int) bool { return lines[i] > off }) - 1
}

func (e *editor) line(row int) string { return e.doc.Line(row + 1) }

func (e *editor) assign(path Path, a Assignment) error {
	x := e.doc.index
	id, whole := x.find(path)
	if a.Out && !whole {
		return nil
	}
	if v, ok := e.value(id); ok {
		return e.inValue(v, id, path, a)
	}
	n := &x.nodes[id]
	switch {
	case whole && a.Out:
		e.comment(id, true)
		return nil
	case whole:
		return e.table(id, n, a.Value)
	}
	return e.add(id, path, a.Value)
}

// value is the outermost node that holds id and is written as one value
// behind a key, or false when id is a table with a heading.
func (e *editor) value(id int32) (int32, bool) {
	x := e.doc.index
	found := int32(-1)
	for at := id; at > 0; at = x.nodes[at].parent {
		switch x.nodes[at].kind {
		case scalar, inQuotes, array, inline:
			found = at
		}
	}
	return found, found >= 0
}

// path is the path of a node.
func (e *editor) path(id int32) Path {
	var out Path
	for at := id; at > 0; at = e.doc.index.nodes[at].parent {
		n := &e.doc.index.nodes[at]
		if n.item >= 0 {
			out = append(out, Step{Item: int(n.item)})
		} else {
			out = append(out, Step{n.key, -1})
		}
	}
	slices.Reverse(out)
	return out
}

// inValue changes something in the value of node v, which stands behind a
// key. id is the nearest node to the path. Only as much is written anew as
// must be.
func (e *editor) inValue(v, id int32, path Path, a Assignment) error {
	if a.Out && v == id {
		e.comment(v, true)
		return nil
	}
	x := e.doc.index
	if a.Out {
		id = x.nodes[id].parent
	}
	for id != v && x.nodes[id].kind == dotted {
		id = x.nodes[id].parent
	}
	base := e.path(id)
	old, ok := get(e.doc.Root, base)
	if !ok {
		return fmt.Errorf("%q is not in the file", a.Path)
	}
	value := a.Value
	if a.Out {
		value = missing{}
	}
	now, err := put(old, path[len(base):], value, base)
	if err != nil {
		return err
	}
	n := &x.nodes[id]
	from, to := e.row(n.valueStart), e.row(n.valueEnd)
	before := e.doc.text[e.doc.lines[from]:n.valueStart]
	after := e.line(to)[int(n.valueEnd)-int(e.doc.lines[to]):]
	if end := x.nodes[v].valueEnd; e.row(end) == to && !reflect.DeepEqual(old, now) {
		behind := e.line(to)[int(end)-int(e.doc.lines[to]):]
		if words, ok := strings.CutPrefix(strings.TrimLeft(behind, " \t"), Said); ok {
			after = strings.TrimSuffix(after, Said+words) + saidFirst + words
		}
	}
	e.put(from, before+e.render(id, old, now)+after)
	for r := from + 1; r <= to; r++ {
		e.put(r, "# "+e.line(r))
	}
	return nil
}

// render writes a value, in the words of the file where it is unchanged and
// with the keys in the order they have there.
func (e *editor) render(id int32, old, now any) string {
	x := e.doc.index
	if id >= 0 && reflect.DeepEqual(old, now) {
		n := &x.nodes[id]
		if s := e.doc.text[n.valueStart:n.valueEnd]; !strings.Contains(s, "\n") {
			return s
		}
	}
	switch now := now.(type) {
	case map[string]any:
		was, _ := old.(map[string]any)
		var parts []string
		seen := map[string]bool{}
		write := func(k string, id int32) {
			seen[k] = true
			parts = append(parts, Join("", k)+" = "+e.render(id, was[k], now[k]))
		}
		if id >= 0 {
			for c := x.nodes[id].first; c >= 0; c = x.nodes[c].next {
				if n := &x.nodes[c]; n.item < 0 {
					if _, still := now[n.key]; still {
						at := c
						if n.kind == dotted {
							at = -1
						}
						write(n.key, at)
					}
				}
			}
		}
		for _, k := range sortedNames(now) {
			if !seen[k] {
				write(k, -1)
			}
		}
		if len(parts) == 0 {
			return "{}"
		}
		return "{ " + strings.Join(parts, ", ") + " }"
	case []any:
		was, _ := old.([]any)
		parts := make([]string, len(now))
		for i, v := range now {
			at, before := int32(-1), any(nil)
			if id >= 0 && i < len(was) {
				at, before = x.nth(id, i), was[i]
			}
			parts[i] = e.render(at, before, v)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case int64:
		return strconv.FormatInt(now, 10)
	case float64:
		s := strconv.FormatFloat(now, 'f', -1, 64)
		if !strings.Contains(s, ".") {
			s += ".0"
		}
		return s
	case bool:
		return strconv.FormatBool(now)
	case string:
		return quoteKey(now)
	}
	return quoteKey(fmt.Sprint(now))
}

// Text writes a value as TOML has it, in one line.
func Text(v any) string { return (&editor{doc: &Document{index: &index{}}}).render(-1, nil, v) }

func sortedNames(m map[string]any) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// comment makes comments of the lines of a node and of all beneath it. The
// heading of a table is left where heading is not set.
func (e *editor) comment(id int32, heading bool) {
	n := &e.doc.index.nodes[id]
	switch n.kind {
	case scalar, inQuotes, array, inline:
		for r := e.row(n.keyStart); r <= e.row(n.valueEnd); r++ {
			e.put(r, "# "+e.line(r))
		}
		return
	case header:
		if heading && id > 0 {
			r := e.row(n.valueStart)
			e.put(r, "# "+e.line(r))
		}
	}
	for c := n.first; c >= 0; c = e.doc.index.nodes[c].next {
		e.comment(c, true)
	}
}

// table gives a table that has a heading, or is made by dotted keys, other
// keys.
func (e *editor) table(id int32, n *node, value any) error {
	m, ok := value.(map[string]any)
	if !ok {
		return fmt.Errorf("%s is a table", n.key)
	}
	e.comment(id, false)
	switch n.kind {
	case header:
		e.insert(e.row(n.valueStart), e.keys(m)...)
	case dotted:
		h := e.heading(id)
		e.insert(e.row(e.doc.index.nodes[e.first(id)].keyStart), e.path(id)[len(e.path(h)):].String()+" = "+Text(m))
	default:
		return fmt.Errorf("%s is not written as one table", n.key)
	}
	return nil
}

// first is the first value at or beneath a node.
func (e *editor) first(id int32) int32 {
	for e.doc.index.nodes[id].first >= 0 {
		id = e.doc.index.nodes[id].first
	}
	return id
}

// keys are the lines of a table.
func (e *editor) keys(m map[string]any) []string {
	names := sortedNames(m)
	out := make([]string, len(names))
	for i, k := range names {
		out[i] = Join("", k) + " = " + Text(m[k])
	}
	return out
}

// heading is the nearest node at or above id that has a heading, in the end
// the document.
func (e *editor) heading(id int32) int32 {
	for id > 0 && e.doc.index.nodes[id].kind != header {
		id = e.doc.index.nodes[id].parent
	}
	return id
}

// add writes a key that the file does not have. id is the nearest node that
// it has.
func (e *editor) add(id int32, path Path, value any) error {
	x := e.doc.index
	here := e.path(id)
	rest := path[len(here):]
	if n := len(rest) - 1; n > 0 && rest[n].Item == 0 { // the first item of a list
		path, rest, value = path[:len(path)-1], rest[:n], []any{value}
	}
	for _, s := range rest {
		if s.Item >= 0 {
			return fmt.Errorf("the file has no %s", path.String())
		}
	}
	n := &x.nodes[id]
	m, isTable := value.(map[string]any)
	named := isTable && len(path) == 2 // [interfacing.front]
	switch {
	case n.kind == tables:
		return fmt.Errorf("the file has no %s", path.String())
	case named && (id == 0 || n.kind == implied):
		block := append([]string{"", "[" + path.String() + "]"}, e.keys(m)...)
		at := e.end(id)
		if id == 0 {
			at = e.beforeClosures()
		}
		e.insert(at, block...)
		return nil
	case n.kind == implied:
		e.insert(e.end(id), "", "["+here.String()+"]", rest.String()+" = "+Text(value))
		return nil
	}
	h := e.heading(id)
	key := path[len(e.path(h)):].String()
	at := -1 // above the first line: the document itself, with no key yet
	if h > 0 {
		at = e.row(x.nodes[h].valueStart)
	}
	if last := e.body(h); last >= 0 {
		at = last
	}
	e.insert(at, aligned(key, e.line(at))+" = "+Text(value))
	return nil
}

// aligned pads a key so that its sign stands under that of the line above.
func aligned(key, above string) string {
	i := strings.Index(above, "=")
	if i < 0 || strings.HasPrefix(strings.TrimSpace(above), "[") || strings.Contains(above[:i], "#") {
		return key
	}
	indent := above[:len(above)-len(strings.TrimLeft(above, " \t"))]
	if pad := len(above[:i]) - 1 - len(indent) - len(key); pad > 0 {
		key += strings.Repeat(" ", pad)
	}
	return indent + key
}

// body is the last line of the keys directly below a heading, -1 if it has
// none.
func (e *editor) body(id int32) int {
	x := e.doc.index
	last := -1
	for c := x.nodes[id].first; c >= 0; c = x.nodes[c].next {
		switch n := &x.nodes[c]; n.kind {
		case scalar, inQuotes, array, inline:
			last = max(last, e.row(n.valueEnd))
		case dotted:
			last = max(last, e.body(c))
		}
	}
	return last
}

// end is the last line of a node and of all beneath it.
func (e *editor) end(id int32) int {
	x := e.doc.index
	last := -1
	if id > 0 && x.nodes[id].kind != implied {
		last = e.row(x.nodes[id].valueEnd)
	}
	for c := x.nodes[id].first; c >= 0; c = x.nodes[c].next {
		last = max(last, e.end(c))
	}
	return last
}

// beforeClosures is the line below which a new named table goes: above the
// first array of tables and the comment lines that belong to it.
func (e *editor) beforeClosures() int {
	x := e.doc.index
	first := len(e.doc.lines)
	for c := x.nodes[0].first; c >= 0; c = x.nodes[c].next {
		if n := &x.nodes[c]; n.kind == tables {
			first = min(first, e.row(n.keyStart))
		}
	}
	for first > 0 {
		if s := strings.TrimSpace(e.line(first - 1)); s != "" && !strings.HasPrefix(s, "#") {
			break
		}
		first--
	}
	return first - 1
}
