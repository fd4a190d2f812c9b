package source

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Join returns the path of a key of the table at path. A path names a value
// in a document: keys with points between them, the number of an item from 0
// in brackets:
//
//	garment
//	cloth.shell.weight
//	closure[1].run.anchor[0].at
//	cloth."wool, heavy".use
//
// The empty path is the document. A key that is more than letters A-Z and
// a-z, digits, _ and - stands in quotes as in TOML.
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
		case r < 0x20 || r == 0x7f:
			b.WriteString(`\u00`)
			const hex = "0123456789ABCDEF"
			b.WriteByte(hex[r>>4])
			b.WriteByte(hex[r&15])
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// A step is one part of a path: a key, or an item when item >= 0.
type step struct {
	key  string
	item int
}

// nextStep takes the first step off a path. ok is false when the path is
// empty or cannot be read; rest is then what could not be read.
func nextStep(path string, first bool) (s step, rest string, ok bool) {
	if path == "" {
		return step{}, "", false
	}
	if path[0] == '[' && !first {
		end := strings.IndexByte(path, ']')
		if end < 2 {
			return step{}, path, false
		}
		n, err := strconv.ParseUint(path[1:end], 10, 31)
		if err != nil {
			return step{}, path, false
		}
		return step{item: int(n)}, path[end+1:], true
	}
	rest = path
	if !first {
		if rest[0] != '.' {
			return step{}, path, false
		}
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
			return step{}, path, false
		}
		key, ok := unescape(rest[1:end])
		return step{key: key, item: -1}, rest[end+1:], ok
	}
	n := 0
	for n < len(rest) && bareByte(rest[n]) {
		n++
	}
	if n == 0 {
		return step{}, path, false
	}
	return step{key: rest[:n], item: -1}, rest[n:], true
}

// steps takes a path apart.
func steps(path string) ([]step, bool) {
	var list []step
	for first := true; path != ""; first = false {
		s, rest, ok := nextStep(path, first)
		if !ok {
			return list, false
		}
		list = append(list, s)
		path = rest
	}
	return list, true
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

// beneath tells whether path is that of above or of something in it.
func beneath(path string, above []step) bool {
	for i := range above {
		s, rest, ok := nextStep(path, i == 0)
		if !ok || s != above[i] {
			return false
		}
		path = rest
	}
	return true
}
