package measure

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"placketeer/catalog/text"
)

// ParseError says why a text is no quantity.
type ParseError struct {
	Text    string // what was read, whole
	Offset  int    // where in Text the trouble begins, in bytes from 0
	Reason  string // what is wrong
	Instead string // what to write, whole, if that can be told: "A", "A or B", "A, B or C"
	Over    bool   // it is a length, but longer than may be
}

// Error gives the text, the reason and what to write instead, on one line
// and without control characters.
func (e *ParseError) Error() string {
	var b strings.Builder
	b.WriteString(quote(e.Text))
	b.WriteString(": ")
	b.WriteString(e.Reason)
	if e.Instead != "" {
		b.WriteString("; write ")
		b.WriteString(e.Instead)
	}
	return b.String()
}

// quote puts s in quotes, shortened, with anything unprintable escaped.
func quote(s string) string {
	const most = 48
	if len(s) > most {
		cut := most
		for cut > 0 && !utf8.RuneStart(s[cut]) {
			cut--
		}
		s = s[:cut] + "…"
	}
	for _, r := range s {
		if r == utf8.RuneError || !unicode.IsPrint(r) && (!unicode.IsSpace(r) || unicode.IsControl(r) || r == '\u2028' || r == '\u2029') {
			return strconv.Quote(s)
		}
	}
	if strings.Contains(s, `"`) {
		return "'" + s + "'"
	}
	return `"` + s + `"`
}

// in finishes e for the text s. Reason and Instead may quote s, so odd white
// space becomes plain, and an Instead that cannot be printed is dropped.
func (e *ParseError) in(s string) *ParseError {
	e.Text = s
	e.Reason, _ = printable(e.Reason)
	var ok bool
	if e.Instead, ok = printable(e.Instead); !ok || len(e.Instead) > 2*longest {
		e.Instead = ""
	}
	return e
}

// printable turns white space into spaces and what cannot be printed into
// question marks, and reports whether there was nothing of the latter.
func printable(s string) (string, bool) {
	ok := true
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case r == utf8.RuneError || !unicode.IsPrint(r):
			ok = false
			return '?'
		}
		return r
	}, s)
	return s, ok
}

// fail makes a ParseError, to be finished with in.
func fail(at int, instead, format string, args ...any) *ParseError {
	return &ParseError{Offset: at, Reason: fmt.Sprintf(format, args...), Instead: instead}
}

// either lists the texts that could be meant.
var either = text.Or

// Meant are the texts that Instead names, one by one.
func (e *ParseError) Meant() []string {
	if e.Instead == "" {
		return nil
	}
	list, last, two := strings.Cut(e.Instead, " or ")
	out := strings.Split(list, ", ")
	if two {
		out = append(out, last)
	}
	return out
}
