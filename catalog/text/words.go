package text

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// And lists in words: a, b and c.
func And(words ...string) string { return joinLast(words, " and ") }

// Or lists what is to choose among: a, b or c.
func Or(words ...string) string { return joinLast(words, " or ") }

func joinLast(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	n := len(words) - 1
	return strings.Join(words[:n], ", ") + last + words[n]
}

// Join puts the texts that are not empty together.
func Join(between string, texts ...string) string {
	var out []string
	for _, s := range texts {
		if s != "" {
			out = append(out, s)
		}
	}
	return strings.Join(out, between)
}

// Plural is the name of several things of a kind, as the file or a sentence
// has it: tack buttons for tack-button. Of two words the last one takes the s.
func Plural(kind string) string { return One(kind) + "s" }

// One is the name of one thing of a kind: tack button for tack-button.
func One(kind string) string { return strings.ReplaceAll(kind, "-", " ") }

// Count is a number of things: 1 button, 5 layers.
func Count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}

// Counted is a number of fasteners of a kind: 1 snap, 5 tack buttons.
func Counted(n int, kind string) string {
	if n == 1 {
		return "1 " + One(kind)
	}
	return strconv.Itoa(n) + " " + Plural(kind)
}

// Capital begins a text with a capital.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 || r == utf8.RuneError {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// Sentence is a remark as a sentence: with a capital and a full stop.
func Sentence(s string) string {
	if s == "" || strings.HasSuffix(s, ".") {
		return Capital(s)
	}
	return Capital(s) + "."
}

// Meant is what to write instead of a word that is none of those known: the
// nearest of them, otherwise the choice, "one of a, b, c", and otherwise
// nothing.
func Meant(word string, known []string) string { return meant(word, known, "") }

// MeantQuoted is Meant with the nearest word in quotes, as the value of a key
// has it.
func MeantQuoted(word string, known []string) string { return meant(word, known, `"`) }

func meant(word string, known []string, quote string) string {
	if near := Nearest(word, known); near != "" {
		return quote + near + quote
	}
	if len(known) == 0 {
		return ""
	}
	if len(known) == 1 {
		return quote + known[0] + quote
	}
	return "one of " + strings.Join(known, ", ")
}

// NoSuch says that whose (the garment, a file) has nothing of a kind (size,
// closure) called name, and what to write instead, "" where there is none of
// that kind. A list of one empty name is a list of none.
func NoSuch(whose, kind, name string, known []string) (says, instead string) {
	if len(known) == 0 || len(known) == 1 && known[0] == "" {
		return fmt.Sprintf("%s lists no %ss, so there is no %s %q", whose, kind, kind, name), ""
	}
	return fmt.Sprintf("%s has no %s %q", whose, kind, name), Meant(name, known)
}

// NoSuchError is NoSuch as an error.
func NoSuchError(whose, kind, name string, known []string) error {
	says, instead := NoSuch(whose, kind, name, known)
	if instead == "" {
		return errors.New(says)
	}
	return errors.New(says + ": write " + instead)
}

// Number is a number with all its figures, and no exponent.
func Number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
