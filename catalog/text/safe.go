// Package text makes texts ready to be shown: safe from control characters,
// spreadsheet formulas, shells and Markdown, broken into lines, laid out in
// tables, listed in words. It is a leaf: it knows no cloth and no closure.
package text

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/rivo/uniseg"
)

// Safe makes a text safe to print on one line: control characters, line ends,
// invisible formatting characters (bidirectional overrides among them) and
// bytes that are not UTF-8 become visible escapes such as \x1b or \u202e.
// The joiners U+200C and U+200D stay, letters and emoji need them.
func Safe(s string) string {
	i := 0
	for i < len(s) && s[i] >= 0x20 && s[i] < 0x7f {
		i++
	}
	if i == len(s) {
		return s
	}
	var b strings.Builder
	b.WriteString(s[:i])
	for i < len(s) {
		r, n := utf8.DecodeRuneInString(s[i:])
		b.WriteString(safeRune(r, s[i:i+n]))
		i += n
	}
	return b.String()
}

// safeRune returns how one character, written in the source as text, is
// shown.
func safeRune(r rune, text string) string {
	switch {
	case r == utf8.RuneError && len(text) == 1:
		return fmt.Sprintf(`\x%02x`, text[0])
	case r == '\n':
		return `\n`
	case r == '\r':
		return `\r`
	case r == '\t':
		return `\t`
	case !Hidden(r):
		return text
	case r < 0x100:
		return fmt.Sprintf(`\x%02x`, r)
	case r < 0x10000:
		return fmt.Sprintf(`\u%04x`, r)
	}
	return fmt.Sprintf(`\U%08x`, r)
}

// Hidden tells whether a terminal would obey a character or show nothing.
func Hidden(r rune) bool {
	switch {
	case r < 0x20 || r >= 0x7f && r < 0xa0:
		return true
	case r < 0xad:
		return false
	case r == '\u200c' || r == '\u200d':
		return false
	// Letters and marks that show nothing: fillers, and the selectors of variants
	// beyond those of emoji (Default_Ignorable_Code_Point, Unicode Character
	// Database).
	case r == 0x34f || r == 0x115f || r == 0x1160 || r == 0x17b4 || r == 0x17b5 || r == 0x3164 || r == 0xffa0 || r >= 0xe0000 && r <= 0xe0fff:
		return true
	case r >= 0x600 && r <= 0x605 || r == 0x6dd || r == 0x70f || r == 0x890 || r == 0x891 || r == 0x8e2 || r == 0x110bd || r == 0x110cd:
		return false // signs that enclose digits: format characters, but visible
	}
	return unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp)
}

// Shell is a word that a shell takes as it is.
func Shell(s string) string {
	plain := func(r rune) bool {
		return r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || strings.ContainsRune("./_=-+:,%@", r)
	}
	if s != "" && !strings.ContainsFunc(s, func(r rune) bool { return !plain(r) }) {
		return s
	}
	return "'" + strings.ReplaceAll(Safe(s), "'", `'\''`) + "'"
}

var markdownSigns = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", "&lt;", ">", "&gt;", "&", "&amp;",
	"|", `\|`, "#", `\#`, "~", `\~`, "!", `\!`, "$", `\$`, "@", "&#64;",
)

// Markdown makes a text mean itself in Markdown.
func Markdown(s string) string { return markdownSigns.Replace(Safe(s)) }

// MarkdownCode is a text as code in Markdown: fenced by more backquotes than
// it has.
func MarkdownCode(s string) string {
	s = Safe(s)
	fence := "`"
	for strings.Contains(s, fence) {
		fence += "`"
	}
	if strings.HasPrefix(s, "`") || strings.HasSuffix(s, "`") {
		s = " " + s + " "
	}
	return fence + s + fence
}

var plainSigns = strings.NewReplacer(
	"×", "x", "÷", "/", "−", "-", "–", "-", "—", "-", "±", "+/-", "…", "...", "·", "-", "•", "-",
	"²", "2", "³", "3", "°", " deg ", "≥", ">=", "≤", "<=", "√", "sqrt ", "π", "pi", "µ", "u",
	"“", `"`, "”", `"`, "‘", "'", "’", "'", "½", "1/2", "¼", "1/4", "¾", "3/4", "⅛", "1/8", "⅜", "3/8", "⅝", "5/8", "⅞", "7/8",
	"→", "->", "←", "<-", "é", "e", "ü", "u", "ö", "o", "ä", "a",
)

// ASCII is a text for a terminal that shows no more than ASCII: the signs of
// the trade are spelled out, what has no spelling is a ?, as wide as it was.
func ASCII(s string) string {
	s = plainSigns.Replace(s)
	var b strings.Builder
	state := -1
	for s != "" {
		var c string
		var w int
		c, s, w, state = uniseg.FirstGraphemeClusterInString(s, state)
		if len(c) == 1 || c == "\r\n" {
			b.WriteString(c)
			continue
		}
		b.WriteString(strings.Repeat("?", max(w, 1)))
	}
	return b.String()
}
