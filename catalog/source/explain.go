package source

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// This file says in plain words what is wrong with a document that is not
// TOML, and what to write. All of it runs on failure only.

// lineEnd returns where the line that holds offset off ends.
func lineEnd(src string, off int) int {
	if off > len(src) {
		return len(src)
	}
	end := len(src)
	if i := strings.IndexByte(src[off:], '\n'); i >= 0 {
		end = off + i
	}
	for end > off && (src[end-1] == '\r' || src[end-1] == '\n') {
		end--
	}
	return end
}

// lineStart returns where the line that holds offset off begins.
func lineStart(src string, off int) int {
	return strings.LastIndexByte(src[:min(off, len(src))], '\n') + 1
}

// lineNumber counts from 1.
func lineNumber(src string, off int32) int {
	return 1 + strings.Count(src[:off], "\n")
}

// uncommented cuts a comment off the text of a line.
func uncommented(line string) string {
	var quote byte
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case quote == 0 && c == '#':
			return strings.TrimRight(line[:i], " \t")
		case quote == 0 && (c == '"' || c == '\''):
			quote = c
		case quote == '"' && c == '\\':
			i++
		case c == quote:
			quote = 0
		}
	}
	return strings.TrimRight(line, " \t")
}

// quoteText writes a text as a TOML string, the plainest way that works.
func quoteText(s string) string {
	switch {
	case !strings.ContainsAny(s, `"\`):
		return `"` + s + `"`
	case !strings.Contains(s, "'"):
		return "'" + s + "'"
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

// curly are the quotation marks that word processors put in, and the primes.
const curly = "“”„‟‘’‚‛«»‹›″′"

func isCurly(r rune) bool { return strings.ContainsRune(curly, r) }

// assign writes "key = value" for a node, for an array item the value alone.
func (s *scanner) assign(id int32, value string) string {
	n := &s.x.nodes[id]
	if n.item >= 0 {
		return value
	}
	key := s.src[n.keyStart:n.keyEnd]
	lead := strings.TrimSpace(s.src[lineStart(s.src, int(n.keyStart)):n.keyStart])
	if !strings.ContainsAny(lead, "={[,") {
		key = lead + key
	}
	return key + " = " + value
}

// name writes the path of a node without item numbers, as in a heading.
func (s *scanner) name(id int32) string {
	n := &s.x.nodes[id]
	if n.parent < 0 {
		return ""
	}
	above := s.name(n.parent)
	if n.item >= 0 {
		return above
	}
	return Join(above, n.key)
}

// Shapes of values that people write and TOML does not know.
var (
	commaNumber = lazyRegexp(`^[+-]?\d+,\d+$`)
	commaText   = lazyRegexp(`^(\d+),(\d+)`)
	pointFirst  = lazyRegexp(`^([+-]?)(\.\d+)$`)
	pointLast   = lazyRegexp(`^([+-]?\d+)\.$`)
	zeroFirst   = lazyRegexp(`^([+-]?)0+(\d[\d.]*)$`)
	plainNumber = lazyRegexp(`^[+-]?\d+$`)
	plainValue  = lazyRegexp(`^(?:[+-]?\d+(?:\.\d+)?|true|false)$`)
	wordList    = lazyRegexp(`^(?:\d+|true|false)(?:[ \t]+(?:\d+|true|false))+$`)
	nextKey     = lazyRegexp(`^(.*?\S)[ \t]+([A-Za-z0-9_."'-]+)[ \t]*=`)
	keyThen     = lazyRegexp(`^[A-Za-z0-9_."'-]+[ \t]*=`)
	inches      = lazyRegexp(`^([\d ./⁄½⅓⅔¼¾⅕⅙⅛⅜⅝⅞-]+)[ ]*(?:"|”|“|″|'')$`)
	headingLine = lazyRegexp(`^\[+[ \t]*[A-Za-z_][A-Za-z0-9_. \t-]*\]+$`)
)

func lazyRegexp(pattern string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(pattern) })
}

// noValue explains an = with nothing that could be a value after it.
func (s *scanner) noValue(id int32) *fault {
	n := &s.x.nodes[id]
	if c := s.peek(); n.item >= 0 || c == ']' {
		return &fault{s.pos, s.pos + 1, outOfPlace(rune(c)), ""}
	}
	return &fault{int(n.keyStart), s.pos, "there is no value after " + s.src[n.keyStart:n.keyEnd] + " =", s.assign(id, `"…"`)}
}

// bareFault explains a value without quotes that is no number, date or truth.
func (s *scanner) bareFault(id int32) *fault {
	n := &s.x.nodes[id]
	start, end := int(n.valueStart), int(n.valueEnd)
	raw := s.src[start:end]
	f := &fault{start: start, end: end}
	write := func(value string) { f.instead = s.assign(id, value) }
	number := func(message, value string) *fault {
		f.message = message
		write(value)
		return f
	}

	// 2,5 in brackets: what stands before the comma belongs to it.
	if digits := digitsBefore(s.src, start); digits != "" && raw[0] >= '0' && raw[0] <= '9' {
		if whole := digits + "," + raw; commaText().MatchString(whole) && !plainNumber().MatchString(raw) {
			f.start -= len(digits) + 1
			return number(decimalPoint, tidyText(whole))
		}
	}
	first, _ := utf8.DecodeRuneInString(raw)
	switch lower := strings.ToLower(raw); {
	case oddBlank(first):
		f.end = start + utf8.RuneLen(first)
		f.message = oddBlankMessage(first)
		f.instead = "" // nothing that can be seen to differ
	case isCurly(first):
		f.message = `curly quotes cannot enclose a text, only straight ones "`
		write(quoteText(strings.TrimFunc(raw, func(r rune) bool { return isCurly(r) || r == '"' })))
	case lower == "true" || lower == "false":
		return number("true and false are written in small letters", lower)
	case lower == "yes" || lower == "on":
		return number(`yes and no are written true and false`, "true")
	case lower == "no" || lower == "off":
		return number(`yes and no are written true and false`, "false")
	case commaNumber().MatchString(raw):
		return number(decimalPoint, strings.Replace(raw, ",", ".", 1))
	case commaText().MatchString(raw):
		return number(decimalPoint, tidyText(raw))
	case pointFirst().MatchString(raw):
		return number("a number begins with a digit", pointFirst().ReplaceAllString(raw, "${1}0$2"))
	case pointLast().MatchString(raw):
		return number("a number does not end with a point", strings.TrimSuffix(raw, "."))
	case zeroFirst().MatchString(raw):
		return number("a number does not begin with a zero", zeroFirst().ReplaceAllString(raw, "$1$2"))
	case plainNumber().MatchString(raw):
		f.message = "the number is too large"
	case n.item >= 0 && wordList().MatchString(raw):
		f.message = "between the items of a list stand commas"
		f.instead = strings.Join(strings.Fields(raw), ", ")
	case !s.bracketed(id) && strings.HasSuffix(raw, ",") || strings.HasSuffix(raw, ";"):
		value := strings.TrimRight(raw, ",; ")
		f.start += len(value)
		f.message = fmt.Sprintf("there is no %c at the end of a line", raw[len(raw)-1])
		if !plainValue().MatchString(value) {
			value = tidyText(value)
		}
		write(value)
	case nextKey().MatchString(raw):
		m := nextKey().FindStringSubmatchIndex(raw)
		f.start = start + m[4]
		f.end = start + m[5]
		if s.bracketed(id) {
			f.message = "a comma is missing before " + raw[m[4]:m[5]]
			f.instead = raw[m[2]:m[3]] + ", " + raw[m[4]:]
			break
		}
		f.message = "a key needs a line of its own"
		f.instead = raw[m[4]:]
	case strings.ContainsAny(raw, `"'`) && strings.Trim(raw, `"'`) != raw && strings.Count(raw, `"`)+strings.Count(raw, `'`) == 1 && !inches().MatchString(raw):
		f.message = "a quote is missing before the text"
		write(quoteText(strings.Trim(raw, `"'`)))
	default:
		r, size := utf8.DecodeRuneInString(raw)
		if !unicode.IsLetter(r) && !unicode.IsNumber(r) && !strings.ContainsRune("+-./_±~<>", r) {
			f.end = start + size
			f.message = outOfPlace(r)
			break
		}
		f.message = "a text, or a number with its unit, stands in quotes"
		write(tidyText(raw))
	}
	return f
}

// oddBlank tells whether r looks like a blank without being one for TOML.
func oddBlank(r rune) bool {
	return r >= utf8.RuneSelf && (unicode.IsSpace(r) || r == '\ufeff' || r >= '\u200b' && r <= '\u200d' || r == '\u2060')
}

func oddBlankMessage(r rune) string {
	return fmt.Sprintf("here stands the invisible character U+%04X, often copied from a web page; write a blank or nothing", r)
}

func outOfPlace(r rune) string {
	return fmt.Sprintf("%c is out of place here", r)
}

const (
	keyLetters     = "a key is made of the letters a to z, digits, _ and -; any other stands in quotes"
	headingLetters = "a name in a heading is made of the letters a to z, digits, _ and -; any other stands in quotes"
)

const decimalPoint = "decimals take a point, not a comma"

// tidyText makes what was written without quotes a TOML string.
func tidyText(raw string) string {
	raw = commaText().ReplaceAllString(raw, "$1.$2")
	raw = inches().ReplaceAllString(raw, "$1 in")
	return quoteText(strings.TrimRight(raw, curly))
}

// digitsBefore returns the digits before the comma that stands before off.
func digitsBefore(src string, off int) string {
	if off == 0 || src[off-1] != ',' {
		return ""
	}
	i := off - 1
	for i > 0 && src[i-1] >= '0' && src[i-1] <= '9' {
		i--
	}
	return src[i : off-1]
}

// unclosed explains a quote that has no other on its line. instead is the
// string alone.
func (s *scanner) unclosed(start int) *fault {
	end := lineEnd(s.src, start)
	quote := s.src[start]
	inside := s.src[start+1 : end]
	f := &fault{start: start, end: end}
	if i := strings.IndexFunc(inside, isCurly); i >= 0 {
		f.message = fmt.Sprintf("the text begins with %c and ends with a curly quote", quote)
		f.instead = quoteText(inside[:i])
		return f
	}
	other := byte('\'')
	if quote == other {
		other = '"'
	}
	if i := strings.IndexByte(inside, other); i >= 0 && strings.Trim(inside[i+1:], " \t,]}") == "" {
		f.message = fmt.Sprintf("the text begins with %c and ends with %c", quote, other)
		f.instead = quoteText(inside[:i])
		return f
	}
	if i := strings.IndexByte(inside, '#'); i > 0 {
		inside = inside[:i]
	}
	inside = strings.TrimRight(inside, " \t,")
	if s.statement < start {
		inside = strings.TrimRight(inside, " ]}")
	}
	f.message = fmt.Sprintf("the text has no closing %c", quote)
	f.instead = quoteText(strings.TrimSuffix(inside, `\`))
	return f
}

// badEscape explains the first \ in a string that means nothing.
// It returns nil when there is none.
func (s *scanner) badEscape(start, end int) *fault {
	raw := s.src[start:end]
	if raw[0] == '\'' {
		return nil
	}
	long := strings.HasPrefix(raw, `"""`)
	for i := 0; i < len(raw); i++ {
		if raw[i] != '\\' {
			continue
		}
		rest := raw[i+1:]
		if long {
			if t := strings.TrimLeft(rest, " \t\r"); strings.HasPrefix(t, "\n") {
				continue
			}
		}
		_, size := utf8.DecodeRuneInString(rest)
		if digits := map[byte]int{'x': 2, 'u': 4, 'U': 8}[rest[0]]; digits > 0 {
			for size <= digits && size < len(rest) && strings.IndexByte("0123456789abcdefABCDEF", rest[size]) >= 0 {
				size++
			}
		}
		if _, ok := unescape(raw[i : i+1+size]); ok {
			i += size
			continue
		}
		f := &fault{start: start + i, end: start + i + 1 + size, message: raw[i:i+1+size] + " means nothing: a \\ begins a code, and \\ itself is written twice"}
		if inside := raw[1 : len(raw)-1]; !long && !strings.Contains(inside, "'") {
			f.message = raw[i:i+1+size] + ` means nothing: in "…" a \ begins a code, in '…' it is an ordinary sign`
			f.instead = "'" + inside + "'"
		}
		return f
	}
	return nil
}

// badName marks a place where a name should begin; headingFault and keyFault
// say what is wrong.
func (s *scanner) badName(start int) *fault {
	_, size := utf8.DecodeRuneInString(s.src[start:])
	return &fault{start: start, end: start + max(size, 1)}
}

// headingFault explains a heading that cannot be read. f is from reading its
// names, nil if they were right and no ] followed.
func (s *scanner) headingFault(start int, f *fault) *fault {
	if f != nil && f.message != "" && f.start > start && strings.IndexByte(s.src[f.start:f.end], ']') < 0 {
		f.instead = ""
		return f
	}
	end := lineEnd(s.src, start)
	line := uncommented(s.src[start:end])
	end = start + len(line)
	opening := len(line) - len(strings.TrimLeft(line, "["))
	inside, _, _ := strings.Cut(strings.Trim(line, "[] \t"), "=")
	inside = strings.TrimSpace(inside)
	brackets := func(name string) string {
		return strings.Repeat("[", min(opening, 2)) + name + strings.Repeat("]", min(opening, 2))
	}
	if r, size := utf8.DecodeRuneInString(s.src[min(s.pos, len(s.src)):]); oddBlank(r) {
		return &fault{s.pos, s.pos + size, oddBlankMessage(r), ""}
	}
	f = &fault{start: start, end: end, instead: brackets(inside)}
	switch closing := strings.Count(line, "]"); {
	case inside == "":
		f.message = "there is no name in the heading"
		f.instead = ""
	case opening > 2:
		f.message = "a heading has one bracket or two on either side"
	case closing == 0:
		f.message = "the heading has no closing " + strings.Repeat("]", opening)
	case closing < opening && strings.HasSuffix(line, "]"):
		f.message = "the heading begins with two brackets and ends with one"
	default:
		f.message = headingLetters
		if i := strings.IndexByte(line, ']'); i > 0 {
			inside = strings.Trim(line[:i], "[ \t")
		}
		f.instead = ""
		if inside = strings.Trim(inside, ". \t"); !strings.ContainsAny(inside, `"'`) && inside != "" {
			first, _, _ := strings.Cut(inside, " ")
			blank := "-"
			if s.x.child(0, first) >= 0 { // a table that is there, and one in it
				blank = "."
			}
			for strings.Contains(inside, "..") {
				inside = strings.ReplaceAll(inside, "..", ".")
			}
			f.instead = brackets(plainName(inside, blank))
		}
	}
	return f
}

// plainName makes a name that needs no quotes, with points left in.
func plainName(name, blank string) string {
	var b strings.Builder
	for _, r := range strings.TrimSpace(name) {
		switch {
		case r < utf8.RuneSelf && bareByte(byte(r)) || r == '.':
			b.WriteRune(r)
		case r == ' ' || r == '\t' || r == ':' || r == '/':
			b.WriteString(blank)
		case !unicode.IsLetter(r):
		default: // letters beyond a to z can only stand in quotes
			return quoteKey(strings.TrimSpace(name))
		}
	}
	return b.String()
}

// keyFault explains a key that cannot be read. f is from reading its names,
// nil if they were right and no = followed.
func (s *scanner) keyFault(start int, f *fault) *fault {
	if f != nil && f.message != "" {
		f.instead = ""
		return f
	}
	end := lineEnd(s.src, start)
	line := uncommented(s.src[start:end])
	end = start + len(line)
	if digits := digitsBefore(s.src, start); digits != "" && s.statement < start {
		last := int32(len(s.x.nodes) - 1)
		rest, _, _ := strings.Cut(line, "}")
		rest, _, _ = strings.Cut(rest, ",")
		if whole := digits + "," + strings.TrimSpace(rest); commaText().MatchString(whole) {
			f = &fault{start - len(digits) - 1, start + len(strings.TrimSpace(rest)), decimalPoint, ""}
			value := tidyText(whole)
			if commaNumber().MatchString(whole) {
				value = strings.Replace(whole, ",", ".", 1)
			}
			f.instead = s.assign(last, value)
			return f
		}
	}
	at := min(s.pos, end)
	key := strings.TrimSpace(s.src[start:at])
	rest := s.src[at:end]
	c, size := utf8.DecodeRuneInString(rest)
	_, value, assigned := strings.Cut(rest, "=")
	value = strings.TrimSpace(value)
	switch {
	case oddBlank(c):
		return &fault{at, at + size, oddBlankMessage(c), ""}
	case f != nil && key == "" && c == '=':
		return &fault{at, at + 1, "there is no key before the =", ""}
	case f != nil && key == "" && isCurly(c):
		name, _, _ := strings.Cut(line, "=")
		f = &fault{start, start + len(strings.TrimRight(name, " \t")), "curly quotes cannot enclose a key, and a plain key needs none", ""}
		if assigned {
			f.instead = plainName(name, "_") + " = " + value
		}
		return f
	case f != nil && key == "" && (strings.HasPrefix(rest, "//") || strings.HasPrefix(rest, "/*") || c == ';' || c == '%'):
		return &fault{at, end, "a comment begins with #", "# " + strings.Trim(rest, "/*;% ")}
	case f != nil && key == "" && !unicode.IsLetter(c):
		if rest == "" {
			return &fault{at, at + 1, "a key is missing here", ""}
		}
		return &fault{at, at + size, outOfPlace(c), ""}
	case key == "-" || strings.HasPrefix(key, "-") && strings.HasSuffix(key, "-"): // lists and rules of other formats
		return &fault{start, at, fmt.Sprintf("%s is out of place here", key), ""}
	case f != nil && strings.HasSuffix(key, "."):
		return &fault{start, at, "a name is missing after the point", ""}
	case c == ':':
		return &fault{at, at + 1, "between a key and its value stands =, not :", key + " = " + strings.TrimSpace(rest[1:])}
	case rest == "":
		return &fault{start, end, "a key needs = and a value after it", key + ` = "…"`}
	case key == `""` || key == `''`:
		return &fault{start, at + 1, "a key stands in one pair of quotes, or in none", ""}
	case bare(key) && strings.ContainsRune(`"'`, c) && at == start+len(key) && assigned:
		return &fault{start, end, keyLetters, ""}
	case assigned && !strings.ContainsAny(rest[:strings.IndexByte(rest, '=')], `"'`):
		name, _, _ := strings.Cut(line, "=")
		name = strings.TrimRight(name, " \t")
		return &fault{start, start + len(name), keyLetters, plainName(name, "_") + " = " + value}
	default:
		f := &fault{start, at, "there is no = after " + key, ""}
		f.end = start + len(key)
		value := rest
		switch {
		case strings.ContainsRune(`"'[{`, c):
		case plainNumber().MatchString(rest) || rest == "true" || rest == "false":
		default:
			value = tidyText(strings.TrimFunc(rest, isCurly))
		}
		f.instead = key + " = " + value
		return f
	}
}

// trailing explains what follows a heading or a value on its line.
func (s *scanner) trailing() *fault {
	end := lineEnd(s.src, s.pos)
	rest := uncommented(s.src[s.pos:end])
	end = s.pos + len(rest)
	f := &fault{start: s.pos, end: end}
	if s.src[s.statement] == '[' {
		head := strings.TrimSpace(s.src[s.statement:s.pos])
		if strings.HasPrefix(rest, "]") {
			f.start = s.statement
			f.message = "the heading has more closing brackets than opening ones"
			f.instead = head
			if !strings.HasPrefix(head, "[[") && s.itemAbove(s.table) == "" {
				f.instead = "[" + head + "]"
			}
			return f
		}
		f.message = "a heading stands on a line of its own"
		f.instead = head
		return f
	}
	id := s.x.order[len(s.x.order)-1]
	for s.x.nodes[id].keyStart > int32(s.statement) && s.x.nodes[id].parent > 0 && s.bracketed(id) {
		id = s.x.nodes[id].parent
	}
	n := &s.x.nodes[id]
	switch next := strings.TrimLeft(rest, ",; \t"); {
	case keyThen().MatchString(next):
		f.start = end - len(next)
		f.message = "a key needs a line of its own"
		f.instead = next
	case strings.Trim(rest, ",;. ") == "":
		f.message = fmt.Sprintf("there is no %s at the end of a line", rest)
		f.instead = s.assign(id, s.src[n.valueStart:n.valueEnd])
	case n.kind == inQuotes:
		return s.afterText(id, end)
	default:
		f.message = "nothing can follow the value on its line"
		f.instead = s.assign(id, s.src[n.valueStart:n.valueEnd])
	}
	return f
}

// afterText explains a string with something behind it up to end, most often
// because its text holds a quote itself.
func (s *scanner) afterText(id int32, end int) *fault {
	n := &s.x.nodes[id]
	start := int(n.valueStart)
	raw := s.src[start:end]
	f := &fault{start: int(n.valueEnd), end: end}
	for f.start < end-1 && s.src[f.start] == ' ' {
		f.start++
	}
	quote := raw[0]
	f.message = fmt.Sprintf("the text ends at the second %c, nothing can follow it", quote)
	if strings.HasPrefix(raw, `"""`) || strings.HasPrefix(raw, `'''`) {
		f.message = fmt.Sprintf("the text ends at the second %s, nothing can follow it", raw[:3])
		return f
	}
	inside := raw[1:]
	if raw[len(raw)-1] == quote {
		inside = raw[1 : len(raw)-1]
	} else {
		i := strings.LastIndexByte(inside, quote)
		inside = inside[:i] + inside[i+1:]
	}
	f.instead = s.assign(id, quoteText(inside))
	return f
}

// opensTable tells whether the line here is a heading, which inside a list
// means that the list was not closed.
func (s *scanner) opensTable() bool {
	if s.peek() != '[' {
		return false
	}
	i := s.pos
	for i > 0 && (s.src[i-1] == ' ' || s.src[i-1] == '\t') {
		i--
	}
	if i > 0 && s.src[i-1] != '\n' {
		return false
	}
	line := uncommented(s.src[s.pos:lineEnd(s.src, s.pos)])
	switch strings.Trim(line, "[] \t") {
	case "true", "false", "nan", "inf":
		return false
	}
	return headingLine().MatchString(line)
}

// noComma explains something between the items of a list or inline table,
// which was opened at open, after an item that ended at end.
func (s *scanner) noComma(open, end int) *fault {
	list := s.src[open] == '['
	opposite, closing, what := byte('}'), byte(']'), "list"
	if !list {
		opposite, closing, what = ']', '}', "table"
	}
	if s.pos >= len(s.src) {
		return s.unclosedBracket(open, s.pos)
	}
	if s.src[s.pos] == opposite {
		return &fault{s.pos, s.pos + 1, fmt.Sprintf("the %s that begins with %c on line %d ends with %c", what, s.src[open], lineNumber(s.src, int32(open)), opposite), string(closing)}
	}
	rest := uncommented(s.src[s.pos:lineEnd(s.src, s.pos)])
	newLine := strings.IndexByte(s.src[end:s.pos], '\n') >= 0
	switch {
	case newLine && (s.opensTable() || list && keyThen().MatchString(rest)):
		return s.unclosedBracket(open, s.pos)
	case newLine:
		start := max(end-1, 0)
		for start > 0 && !utf8.RuneStart(s.src[start]) {
			start--
		}
		return &fault{start, end, fmt.Sprintf("after this a comma is missing, or the %c that closes the %s", closing, what), ""}
	}
	last := int32(len(s.x.nodes) - 1)
	if n := &s.x.nodes[last]; n.kind == inQuotes && int(n.valueEnd) == end && !strings.ContainsRune(`"'[{`, rune(rest[0])) && !keyThen().MatchString(rest) {
		stop := s.pos + len(rest)
		if i := strings.IndexAny(rest, ",]}"); i >= 0 {
			stop = s.pos + i
		}
		return s.afterText(last, max(stop, s.pos+1))
	}
	_, size := utf8.DecodeRuneInString(rest)
	f := &fault{s.pos, s.pos + size, "a comma is missing before this", ", " + rest}
	n := &s.x.nodes[last]
	if int(n.valueEnd) == end {
		f.instead = s.src[n.valueStart:end] + f.instead
		if n.item < 0 {
			f.instead = s.src[n.keyStart:n.valueStart] + f.instead
		}
	}
	return f
}

// unclosedBracket explains a [ or { at start that is still open at off.
func (s *scanner) unclosedBracket(start, off int) *fault {
	what, closing := "list", "]"
	if s.src[start] == '{' {
		what, closing = "table", "}"
	}
	f := &fault{start: start, end: start + 1, message: fmt.Sprintf("the %s that begins here has no closing %s", what, closing)}
	line := strings.TrimSpace(uncommented(s.src[lineStart(s.src, start):lineEnd(s.src, start)]))
	if strings.IndexByte(strings.TrimSpace(s.src[start:off]), '\n') < 0 {
		line = strings.TrimRight(line, ", ")
		f.instead = line + closings(line)
	}
	return f
}

// closed explains a heading or key that would add to what is complete.
func (s *scanner) closed(id int32, p part) *fault {
	s.again = true
	n := &s.x.nodes[id]
	name, line := s.name(id), lineNumber(s.src, n.valueStart)
	f := &fault{start: p.start, end: p.end}
	switch n.kind {
	case scalar, inQuotes:
		f.message = fmt.Sprintf("%s is a single value on line %d, so nothing can stand in it", name, line)
	case array:
		f.message = fmt.Sprintf("%s is a list in [ ] on line %d; nothing can be added to it", name, line)
	case inline:
		f.message = fmt.Sprintf("%s is a table in { } on line %d; write the key there", name, line)
	case tables:
		f.message = fmt.Sprintf("[[%s]] on line %d has its own heading; write the key beneath it", name, line)
	default:
		f.message = fmt.Sprintf("[%s] on line %d has its own heading; write the key beneath it", name, line)
	}
	return f
}

// twice explains a key or heading that is there already.
func (s *scanner) twice(id int32, p part, start int) *fault {
	s.again = true
	n := &s.x.nodes[id]
	name, line := s.name(id), lineNumber(s.src, n.valueStart)
	if s.src[start] != '[' {
		return &fault{p.start, p.end, fmt.Sprintf("%s is already given on line %d", name, line), ""}
	}
	f := &fault{start: start, end: s.pos}
	many := strings.HasPrefix(s.src[start:], "[[")
	double := "[[" + name + "]]"
	switch above := s.itemAbove(id); {
	case n.kind == header && !many && above != "":
		f.message = fmt.Sprintf("[%s] already stands on line %d for the same %s: a [[%s]] is missing above this one", name, line, above, above)
		f.instead = "[[" + above + "]] on a line of its own above, and its keys"
	case n.kind == header && !many:
		f.message = fmt.Sprintf("[%s] already stands on line %d; if there are several, each takes double brackets", name, line)
		f.instead = fmt.Sprintf("its keys below line %d, or %s at both", line, double)
	case n.kind == header || n.kind == implied:
		f.message = fmt.Sprintf("%s is one table on line %d, so it cannot be one of several", name, line)
		if n.kind == header {
			f.message = fmt.Sprintf("[%s] on line %d has single brackets; if there are several, each takes double brackets", name, line)
		}
	case n.kind == tables:
		f.message = fmt.Sprintf("%s on line %d has double brackets, so this one takes them too", double, line)
		f.instead = double
	default:
		f.message = fmt.Sprintf("%s is already given on line %d", name, line)
	}
	return f
}

// itemAbove is the name of the list of tables that a table is part of an item
// of, "" where there is none.
func (s *scanner) itemAbove(id int32) string {
	x := s.x
	for id = x.nodes[id].parent; id > 0; id = x.nodes[id].parent {
		if x.nodes[id].item >= 0 && x.nodes[x.nodes[id].parent].kind == tables {
			return s.name(id)
		}
	}
	return ""
}

// closings returns what closes the brackets that are open at the end of a line.
func closings(line string) string {
	var quote byte
	open := ""
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case quote == '"' && c == '\\':
			i++
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '[':
			open = "]" + open
		case c == '{' && strings.HasPrefix(line[i+1:], " "):
			open = " }" + open
		case c == '{':
			open = "}" + open
		case open != "" && (c == ']' || c == '}'):
			open = open[strings.IndexAny(open, "]}")+1:]
		}
	}
	return open
}
