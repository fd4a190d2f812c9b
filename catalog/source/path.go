package source

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"placketeer/catalog/text"
)

// A Path names a value in a document. Written, it is keys with points between
// them; an item of an array stands in brackets with its number from 0, or by
// the name it has:
//
//	garment
//	cloth.shell.weight
//	closure[1].run.anchor[0].at
//	closure.front.run.anchor.bust.at
//	cloth."wool, heavy".use
//	cloth.wool, heavy.use
//
// A key that holds . = [ ] or quotes stands in quotes, as in TOML; any other
// may. Spaces round a key do not count. The empty path is the document.
type Path []Step

// A Step is one part of a path.
type Step struct {
	Key  string // or the name of an item; "" where Item counts
	Item int    // number of an item, from 0; -1 where Key counts
}

// ParsePath takes a path apart. ok is false where it cannot be read; the path
// is then as much of it as can.
func ParsePath(path string) (p Path, ok bool) {
	if path != "" {
		p = make(Path, 0, 1+strings.Count(path, ".")+strings.Count(path, "["))
	}
	for first := true; path != ""; first = false {
		s, rest, ok := nextStep(path, first)
		if !ok {
			return p, false
		}
		p = append(p, s)
		path = rest
	}
	return p, true
}

// String writes the path with quotes as TOML wants them.
func (p Path) String() string {
	out := ""
	for _, s := range p {
		if s.Item >= 0 {
			out = Item(out, s.Item)
		} else {
			out = Join(out, s.Key)
		}
	}
	return out
}

// Key writes the path with quotes only where it could not be read without.
func (p Path) Key() string {
	var b strings.Builder
	for i, s := range p {
		switch {
		case s.Item >= 0:
			b.WriteString(Item("", s.Item))
			continue
		case i > 0:
			b.WriteByte('.')
		}
		if plainKey(s.Key) {
			b.WriteString(s.Key)
		} else {
			b.WriteString(quoteKey(s.Key))
		}
	}
	return b.String()
}

// beneath says whether p is above, or something in it.
func (p Path) beneath(above Path) bool {
	return len(p) >= len(above) && slices.Equal(p[:len(above)], above)
}

// Join returns the path of a key of the table at path; see Path.
func Join(path, key string) string {
	if !bare(key) {
		key = quoteKey(key)
	}
	if path == "" {
		return key
	}
	return path + "." + key
}

// Item returns the path of item i, counted from 0, of the array at path.
func Item(path string, i int) string {
	return path + "[" + strconv.Itoa(i) + "]"
}

func bare(key string) bool {
	for i := 0; i < len(key); i++ {
		if !bareByte(key[i]) {
			return false
		}
	}
	return key != ""
}

func bareByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '_' || c == '-'
}

// plainKey says whether a key can be read in a path without quotes.
func plainKey(key string) bool {
	return key != "" && !strings.ContainsFunc(key, func(r rune) bool { return special(r) || r == '.' || r == '[' }) && strings.Trim(key, " ") == key
}

// special are the characters that never stand in a path outside quotes.
func special(r rune) bool {
	return r == ']' || r == '=' || r == '"' || r < 0x20 || r == 0x7f
}

func quoteKey(key string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range key {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r == '\r':
			b.WriteString(`\r`)
		case text.Hidden(r) && r > 0xffff:
			fmt.Fprintf(&b, `\U%08X`, r)
		case text.Hidden(r):
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// nextStep takes the first step off a path. ok is false when the path is
// empty or cannot be read.
func nextStep(path string, first bool) (s Step, rest string, ok bool) {
	if path == "" {
		return Step{}, "", false
	}
	if path[0] == '[' && !first {
		end := strings.IndexByte(path, ']')
		if end < 2 {
			return Step{}, path, false
		}
		n, err := strconv.ParseUint(path[1:end], 10, 31)
		if err != nil {
			return Step{}, path, false
		}
		return Step{Item: int(n)}, path[end+1:], true
	}
	rest = path
	if !first {
		if rest[0] != '.' {
			return Step{}, path, false
		}
		rest = rest[1:]
	}
	for strings.HasPrefix(rest, " ") {
		rest = rest[1:]
	}
	if strings.HasPrefix(rest, `"`) {
		end := 1
		for end < len(rest) && rest[end] != '"' {
			if rest[end] == '\\' {
				end++
			}
			end++
		}
		if end >= len(rest) {
			return Step{}, path, false
		}
		key, ok := unescape(rest[1:end])
		return Step{key, -1}, strings.TrimLeft(rest[end+1:], " "), ok
	}
	n := 0
	for n < len(rest) && rest[n] != '.' && rest[n] != '[' {
		if special(rune(rest[n])) {
			return Step{}, path, false
		}
		n++
	}
	key := strings.TrimRight(rest[:n], " ")
	if key == "" {
		return Step{}, path, false
	}
	return Step{key, -1}, rest[n:], true
}

// unescape reads the inside of a basic string of one line.
func unescape(s string) (string, bool) {
	if strings.IndexByte(s, '\\') < 0 {
		return s, true
	}
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c != '\\' {
			b.WriteByte(c)
			continue
		}
		i++
		if i == len(s) {
			return "", false
		}
		digits := 0
		switch s[i] {
		case 'b':
			b.WriteByte('\b')
		case 't':
			b.WriteByte('\t')
		case 'n':
			b.WriteByte('\n')
		case 'f':
			b.WriteByte('\f')
		case 'r':
			b.WriteByte('\r')
		case 'e':
			b.WriteByte(0x1b)
		case '"', '\\':
			b.WriteByte(s[i])
		case 'x':
			digits = 2
		case 'u':
			digits = 4
		case 'U':
			digits = 8
		default:
			return "", false
		}
		if digits > 0 {
			if i+digits >= len(s) {
				return "", false
			}
			n, err := strconv.ParseUint(s[i+1:i+1+digits], 16, 32)
			if err != nil || !utf8.ValidRune(rune(n)) {
				return "", false
			}
			b.WriteRune(rune(n))
			i += digits
		}
	}
	return b.String(), true
}
