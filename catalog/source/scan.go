package source

import (
	"fmt"
	"strings"
	"sync"
)

// maxKeyPath bounds the bytes of all keys on one path. The decoder keeps the
// whole path of every key, so without it a small file could fill the memory.
const maxKeyPath = 512

// manyChildren is where looking through the children of a node one by one
// gives way to a map.
const manyChildren = 16

// kind says how a node came about, which decides who may add to it.
type kind uint8

const (
	scalar   kind = iota
	inQuotes      // a quoted string
	array         // [ … ]
	inline        // { … }
	implied       // a table named only as parent in a heading: [it.child]
	header        // [it], or one element of [[it]]
	dotted        // a table made by the key it.child = …
	tables        // the elements of [[it]]
)

func (k kind) table() bool { return k >= inline && k != tables }

// A node is a key or an array item: where it stands and what is beneath.
// Offsets are bytes in the text.
type node struct {
	key                  string
	parent, next         int32
	first, last, count   int32 // children
	item                 int32 // number in the parent array, -1 for keys
	keyStart, keyEnd     int32
	valueStart, valueEnd int32
	pathLen              int32
	depth                uint8
	kind                 kind
}

// An index knows where every key and value of a document stands.
// Node 0 is the document itself.
type index struct {
	nodes []node
	order []int32 // the nodes of headings and keys in the order of the file
	big   map[int32]*children
}

// children finds the children of a node that has many.
type children struct {
	keys  map[string]int32
	items []int32
}

func newIndex(size int) *index {
	x := &index{
		nodes: make([]node, 1, 16+size/16),
		order: make([]int32, 0, 16+size/20),
	}
	x.nodes[0] = document
	return x
}

// document is the first node of an index.
var document = node{parent: -1, first: -1, last: -1, next: -1, item: -1, kind: header}

// add makes a new last child of parent; its key is key, or it is the next
// item when item is set.
func (x *index) add(parent int32, key string, item bool, k kind) int32 {
	id := int32(len(x.nodes))
	p := &x.nodes[parent]
	n := node{
		key: key, parent: parent, next: -1, first: -1, last: -1, item: -1,
		kind: k, depth: p.depth + 1, pathLen: p.pathLen + int32(len(key)),
	}
	if item {
		n.item = p.count
	}
	p.count++
	if p.first < 0 {
		p.first = id
	} else {
		x.nodes[p.last].next = id
	}
	p.last = id
	if p.count > manyChildren {
		x.addMany(parent, p.count, id, &n)
	}
	x.nodes = append(x.nodes, n)
	return id
}

// nameless adds a table that belongs to nothing.
func (x *index) nameless() int32 {
	x.nodes = append(x.nodes, node{parent: -1, first: -1, last: -1, next: -1, item: -1, kind: header})
	return int32(len(x.nodes) - 1)
}

func (x *index) addMany(parent, count, id int32, n *node) {
	if x.big == nil {
		x.big = map[int32]*children{}
	}
	c := x.big[parent]
	if c == nil {
		c = &children{}
		if n.item < 0 {
			c.keys = make(map[string]int32, 2*manyChildren)
		}
		for i := x.nodes[parent].first; i >= 0 && i != id; i = x.nodes[i].next {
			c.put(i, &x.nodes[i])
		}
		x.big[parent] = c
	}
	c.put(id, n)
}

func (c *children) put(id int32, n *node) {
	if n.item < 0 {
		c.keys[n.key] = id
	} else {
		c.items = append(c.items, id)
	}
}

// child returns the child of parent with that key, -1 if there is none.
func (x *index) child(parent int32, key string) int32 {
	p := &x.nodes[parent]
	if p.count > manyChildren {
		if id, ok := x.big[parent].keys[key]; ok {
			return id
		}
		return -1
	}
	for i := p.first; i >= 0; i = x.nodes[i].next {
		if n := &x.nodes[i]; n.item < 0 && n.key == key {
			return i
		}
	}
	return -1
}

// nth returns item n of parent, -1 if there is none.
func (x *index) nth(parent int32, n int) int32 {
	p := &x.nodes[parent]
	if n >= int(p.count) || p.kind != array && p.kind != tables {
		return -1
	}
	if p.count > manyChildren {
		return x.big[parent].items[n]
	}
	i := p.first
	for ; n > 0; n-- {
		i = x.nodes[i].next
	}
	return i
}

// find follows a path as far as it goes. whole tells whether that is its end.
func (x *index) find(path Path) (id int32, whole bool) {
	for _, s := range path {
		next := int32(-1)
		switch {
		case s.Item >= 0:
			next = x.nth(id, s.Item)
		case x.nodes[id].kind.table():
			next = x.child(id, s.Key)
		}
		if next < 0 {
			return id, false
		}
		id = next
	}
	return id, true
}

// spot returns the bytes to mark for a path: its key or its value.
func (x *index) spot(path Path, key bool) (start, end int) {
	id, whole := x.find(path)
	n := &x.nodes[id]
	if key && whole && n.keyEnd > n.keyStart {
		return int(n.keyStart), int(n.keyEnd)
	}
	return int(n.valueStart), int(n.valueEnd)
}

// A fault is where scanning stopped, and why.
type fault struct {
	start, end int
	message    string
	instead    string
}

// A scanner reads the structure of a TOML document: headings, keys and where
// values begin and end. It leaves the reading of numbers, dates and escapes
// to the decoder, and holds to TOML where the decoder is more lenient with
// tables that are defined twice.
type scanner struct {
	src       string
	pos       int
	x         *index
	table     int32 // what the last heading named
	statement int   // where the heading or key being read begins
	parts     []part

	faults faults
	faulty []span // the nodes of faulty statements
	again  bool   // the fault is that something is there already
	adrift bool   // a heading could not be read: what it named is not known
}

// A span is a row of nodes, the last not among them.
type span struct{ from, to int32 }

// A part is one of the names in a heading or key.
type part struct {
	key        string
	start, end int
}

// scan reads the whole document. After a fault it goes on behind the faulty
// statement.
func scan(src string) *scanner { return scanInto(newIndex(len(src)), src) }

// spare are indexes that nobody looks at any more.
var spare sync.Pool

// readable says whether scan finds no fault in a text.
func readable(src string) bool {
	x, _ := spare.Get().(*index)
	if x == nil {
		x = newIndex(len(src))
	}
	defer spare.Put(x)
	x.nodes, x.order, x.big = x.nodes[:1], x.order[:0], nil
	x.nodes[0] = document
	return scanInto(x, src).faults.count == 0
}

func scanInto(x *index, src string) *scanner {
	s := &scanner{src: src, x: x}
	for {
		s.skip()
		s.statement, s.again = s.pos, false
		if s.pos >= len(s.src) || s.faults.count >= maxFaults {
			return s
		}
		first := int32(len(s.x.nodes))
		if f := s.read(); f != nil {
			s.fault(f)
			s.faulty = append(s.faulty, span{first, int32(len(s.x.nodes))})
		}
	}
}

// read reads one heading or key with its value, and the end of its line.
func (s *scanner) read() *fault {
	var f *fault
	if s.src[s.pos] == '[' {
		f = s.heading()
	} else {
		f = s.keyValue(s.table)
	}
	if f != nil {
		return f
	}
	s.blanks()
	if c := s.peek(); c != 0 && c != '\n' && c != '\r' && c != '#' {
		return s.trailing()
	}
	return nil
}

// fault notes a fault of the statement and goes on behind it.
func (s *scanner) fault(f *fault) {
	if s.src[s.statement] == '[' {
		// What stands below belongs to a table of its own, which nothing names.
		if s.table == 0 || int(s.x.nodes[s.table].valueStart) != s.statement {
			s.table = s.x.nameless()
		}
		s.adrift = s.adrift || !s.again
	}
	s.faults.add(f)
	s.pos = s.after(f)
}

// lookAhead bounds how far the end of a faulty statement is looked for.
const lookAhead = 1 << 14

// after is where reading goes on after a fault: behind the line, or behind the
// brackets that are open at its end, unless a line among them looks like the
// next heading, or in a list like the next key.
func (s *scanner) after(f *fault) int {
	line := lineEnd(s.src, s.statement)
	if s.src[s.statement] == '[' {
		return line
	}
	if f.message == neverClosed {
		for line < len(s.src) {
			next := line + 1
			line = lineEnd(s.src, next)
			if rest := strings.TrimLeft(uncommented(s.src[next:line]), " \t"); headingLine().MatchString(rest) || keyThen().MatchString(rest) {
				return next
			}
		}
		return len(s.src)
	}
	var open []byte
	begins := false // at the beginning of a line
	for i := s.statement; i < min(len(s.src), s.statement+lookAhead); i++ {
		c := s.src[i]
		if begins && c != ' ' && c != '\t' && c != '\n' && c != '\r' {
			begins = false
			rest := uncommented(s.src[i:lineEnd(s.src, i)])
			if c == '[' && headingLine().MatchString(rest) || open[len(open)-1] == '[' && keyThen().MatchString(rest) {
				return i
			}
		}
		switch c {
		case '"', '\'':
			i = s.behindText(i) - 1
		case '#':
			i = lineEnd(s.src, i) - 1
		case '[', '{':
			open = append(open, c)
		case ']', '}':
			if len(open) > 0 {
				open = open[:len(open)-1]
			}
		case '\n':
			if len(open) == 0 {
				return i
			}
			begins = true
		}
	}
	if len(s.src) <= s.statement+lookAhead && len(open) > 0 && open[len(open)-1] == '[' {
		return len(s.src)
	}
	return line
}

// behindText is the place behind a text, closed or not, that begins at off.
func (s *scanner) behindText(off int) int {
	quote := s.src[off : off+1]
	if long := strings.Repeat(quote, 3); strings.HasPrefix(s.src[off:], long) {
		if n := strings.Index(s.src[off+3:min(len(s.src), off+lookAhead)], long); n >= 0 {
			return off + 3 + n + 3
		}
		return lineEnd(s.src, off)
	}
	end := lineEnd(s.src, off)
	for i := off + 1; i < end; i++ {
		switch s.src[i] {
		case '\\':
			if quote == `"` {
				i++
			}
		case quote[0]:
			return i + 1
		}
	}
	return max(end, off+1)
}

// peek returns the next byte, 0 at the end: the text holds no zero bytes.
func (s *scanner) peek() byte {
	if s.pos < len(s.src) {
		return s.src[s.pos]
	}
	return 0
}

func (s *scanner) blanks() {
	for s.pos < len(s.src) && (s.src[s.pos] == ' ' || s.src[s.pos] == '\t') {
		s.pos++
	}
}

// skip passes blanks, line ends and comments.
func (s *scanner) skip() {
	for s.pos < len(s.src) {
		switch s.src[s.pos] {
		case ' ', '\t', '\n', '\r':
			s.pos++
		case '#':
			i := strings.IndexByte(s.src[s.pos:], '\n')
			if i < 0 {
				s.pos = len(s.src)
				return
			}
			s.pos += i
		default:
			return
		}
	}
}

// names reads the parts of a heading or key up to the sign after them.
func (s *scanner) names() *fault {
	s.parts = s.parts[:0]
	for {
		s.blanks()
		start := s.pos
		var key string
		switch c := s.peek(); {
		case c == '"' || c == '\'':
			f := s.quoted(c)
			if f != nil {
				return f
			}
			key = s.src[start+1 : s.pos-1]
			if c == '"' {
				var ok bool
				if key, ok = unescape(key); !ok {
					return s.badEscape(start, s.pos)
				}
			}
		default:
			for s.pos < len(s.src) && bareByte(s.src[s.pos]) {
				s.pos++
			}
			if s.pos == start {
				return s.badName(start)
			}
			key = s.src[start:s.pos]
		}
		s.parts = append(s.parts, part{key, start, s.pos})
		s.blanks()
		if s.peek() != '.' {
			return nil
		}
		s.pos++
	}
}

// heading reads [a.b] or [[a.b]].
func (s *scanner) heading() *fault {
	start := s.pos
	s.pos++
	many := s.peek() == '['
	if many {
		s.pos++
	}
	if f := s.names(); f != nil {
		return s.headingFault(start, f)
	}
	if s.peek() != ']' {
		return s.headingFault(start, nil)
	}
	s.pos++
	if many {
		if s.peek() != ']' {
			return s.headingFault(start, nil)
		}
		s.pos++
	}
	return s.open(start, many)
}

// open makes the table of a heading the current one.
func (s *scanner) open(start int, many bool) *fault {
	x := s.x
	at := int32(0)
	last := s.parts[len(s.parts)-1]
	if s.adrift && len(s.parts) > 1 { // perhaps of a table whose heading could not be read
		s.table = x.nameless()
		return nil
	}
	for _, p := range s.parts[:len(s.parts)-1] {
		next := x.child(at, p.key)
		if next < 0 {
			next = x.add(at, p.key, false, implied)
			s.place(next, p)
			if f := s.tooDeep(next); f != nil {
				return f
			}
		}
		switch n := &x.nodes[next]; n.kind {
		case tables:
			next = n.last
		case implied, header, dotted:
		default:
			return s.closed(next, p)
		}
		at = next
	}
	id := x.child(at, last.key)
	switch {
	case many && (id < 0 || x.nodes[id].kind == tables):
		if id < 0 {
			id = x.add(at, last.key, false, tables)
			s.place(id, last)
			s.span(id, start)
		}
		id = x.add(id, "", true, header)
		s.place(id, last)
	case many:
		return s.twice(id, last, start)
	case id < 0:
		id = x.add(at, last.key, false, header)
		s.place(id, last)
	case x.nodes[id].kind == implied:
		x.nodes[id].kind = header
		s.place(id, last)
	default:
		return s.twice(id, last, start)
	}
	s.span(id, start)
	s.table = id
	if len(s.parts) == 1 {
		s.adrift = false
	}
	x.order = append(x.order, id)
	return s.tooDeep(id)
}

// place notes where the key of a node stands; until more is known its value
// is there as well.
func (s *scanner) place(id int32, p part) {
	n := &s.x.nodes[id]
	n.keyStart, n.keyEnd = int32(p.start), int32(p.end)
	n.valueStart, n.valueEnd = n.keyStart, n.keyEnd
}

// span notes that the value of a node goes from start to here.
func (s *scanner) span(id int32, start int) {
	n := &s.x.nodes[id]
	n.valueStart, n.valueEnd = int32(start), int32(s.pos)
}

// keyValue reads a.b = value into a table.
func (s *scanner) keyValue(table int32) *fault {
	start := s.pos
	if f := s.names(); f != nil {
		return s.keyFault(start, f)
	}
	if s.peek() != '=' {
		return s.keyFault(start, nil)
	}
	s.pos++
	x := s.x
	last := s.parts[len(s.parts)-1]
	for _, p := range s.parts[:len(s.parts)-1] {
		next := x.child(table, p.key)
		if next < 0 {
			next = x.add(table, p.key, false, dotted)
			s.place(next, p)
			if f := s.tooDeep(next); f != nil {
				return f
			}
		} else if x.nodes[next].kind != dotted {
			return s.closed(next, p)
		}
		table = next
	}
	if id := x.child(table, last.key); id >= 0 {
		return s.twice(id, last, start)
	}
	id := x.add(table, last.key, false, scalar)
	s.place(id, last)
	x.order = append(x.order, id)
	s.blanks()
	return s.value(id)
}

// value reads the value of a node.
func (s *scanner) value(id int32) *fault {
	start := s.pos
	var f *fault
	k := scalar
	switch c := s.peek(); c {
	case '"', '\'':
		k = inQuotes
		if strings.HasPrefix(s.src[s.pos:], `"""`) || strings.HasPrefix(s.src[s.pos:], `'''`) {
			f = s.long(c)
		} else {
			f = s.quoted(c)
		}
	case '[':
		k = array
	case '{':
		k = inline
	default:
		s.bareValue(s.x.nodes[id].depth > 1 && s.bracketed(id))
		if s.pos == start {
			return s.noValue(id)
		}
	}
	if f != nil {
		if f.instead != "" {
			f.instead = s.assign(id, f.instead)
		}
		return f
	}
	s.x.nodes[id].kind = k
	switch k {
	case array:
		f = s.array(id)
	case inline:
		f = s.inline(id)
	default:
		if s.x.nodes[id].pathLen > maxKeyPath {
			f = s.tooDeep(id)
		}
	}
	s.span(id, start)
	return f
}

// bracketed tells whether the value of a node stands in [ ] or { }.
func (s *scanner) bracketed(id int32) bool {
	p := s.x.nodes[id].parent
	for s.x.nodes[p].kind == dotted {
		p = s.x.nodes[p].parent
	}
	return s.x.nodes[p].kind == array || s.x.nodes[p].kind == inline
}

// bareValue passes a number, date or word. Whether it is one is for the
// decoder to say. At the top level it takes all up to a comment, so that
// 2,5 mm is seen whole.
func (s *scanner) bareValue(inBrackets bool) {
	start := s.pos
loop:
	for s.pos < len(s.src) {
		switch s.src[s.pos] {
		case '\n', '\r', '#':
			break loop
		case ',', ']', '}':
			if inBrackets {
				break loop
			}
		}
		s.pos++
	}
	for s.pos > start && (s.src[s.pos-1] == ' ' || s.src[s.pos-1] == '\t') {
		s.pos--
	}
}

// quoted passes a string of one line.
func (s *scanner) quoted(quote byte) *fault {
	start := s.pos
	for s.pos++; s.pos < len(s.src); s.pos++ {
		switch c := s.src[s.pos]; {
		case c == quote:
			s.pos++
			return nil
		case c == '\\' && quote == '"':
			s.pos++
			if c := s.peek(); c == '\n' || c == '\r' {
				return s.unclosed(start)
			}
		case c == '\n' || c == '\r':
			return s.unclosed(start)
		}
	}
	return s.unclosed(start)
}

const neverClosed = "the text that begins here is never closed"

// long passes a string in triple quotes. It ends with the last three of a
// run of three to five quotes.
func (s *scanner) long(quote byte) *fault {
	start := s.pos
	s.pos += 3
	for s.pos < len(s.src) {
		switch c := s.src[s.pos]; {
		case c == '\\' && quote == '"':
			s.pos += 2
		case c == quote:
			run := 1
			for s.pos+run < len(s.src) && s.src[s.pos+run] == quote {
				run++
			}
			s.pos += min(run, 5)
			if run >= 3 {
				if run > 5 {
					return &fault{s.pos, s.pos + run - 5, "there are more than three quotes at the end of the text", ""}
				}
				return nil
			}
		default:
			s.pos++
		}
	}
	s.pos = len(s.src)
	return &fault{start, start + 3, neverClosed, ""}
}

// array reads [ … ] with everything in it.
func (s *scanner) array(id int32) *fault {
	if f := s.tooDeep(id); f != nil {
		return f
	}
	start := s.pos
	s.pos++
	for {
		s.skip()
		switch s.peek() {
		case ']':
			s.pos++
			return nil
		case ',':
			return &fault{s.pos, s.pos + 1, "there is a comma with nothing before it", ""}
		case 0:
			return s.unclosedBracket(start, s.pos)
		}
		if s.opensTable() {
			return s.unclosedBracket(start, s.pos)
		}
		item := s.x.add(id, "", true, scalar)
		s.place(item, part{start: s.pos, end: s.pos})
		if f := s.value(item); f != nil {
			return f
		}
		end := s.pos
		s.skip()
		switch s.peek() {
		case ',':
			s.pos++
		case ']':
		default:
			return s.noComma(start, end)
		}
	}
}

// inline reads { … } with everything in it.
func (s *scanner) inline(id int32) *fault {
	if f := s.tooDeep(id); f != nil {
		return f
	}
	start := s.pos
	s.pos++
	for {
		s.skip()
		switch s.peek() {
		case '}':
			s.pos++
			return nil
		case ',':
			return &fault{s.pos, s.pos + 1, "there is a comma with nothing before it", ""}
		case '[', 0:
			return s.unclosedBracket(start, s.pos)
		}
		if f := s.keyValue(id); f != nil {
			return f
		}
		end := s.pos
		s.skip()
		switch s.peek() {
		case ',':
			s.pos++
		case '}':
		default:
			return s.noComma(start, end)
		}
	}
}

// tooDeep returns a fault when a node lies too deep.
func (s *scanner) tooDeep(id int32) *fault {
	n := &s.x.nodes[id]
	start := int(n.keyStart)
	if n.item >= 0 {
		start = s.pos
	}
	switch {
	case n.depth > MaxNesting:
		return &fault{start, start + 1, fmt.Sprintf("more than %d tables and lists stand inside one another", MaxNesting), ""}
	case n.pathLen > maxKeyPath:
		return &fault{start, int(n.keyEnd), fmt.Sprintf("the key and the tables it stands in have names of more than %d characters together", maxKeyPath), ""}
	}
	return nil
}
