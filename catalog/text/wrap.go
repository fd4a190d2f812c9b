package text

import (
	"strings"

	"github.com/rivo/uniseg"
)

// Width is how many columns of a terminal a text takes.
func Width(s string) int {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return uniseg.StringWidth(s)
		}
	}
	return len(s) // plain letters take one each
}

// Pad fills a text up to that many columns on the right.
func Pad(s string, width int) string { return s + strings.Repeat(" ", max(0, width-Width(s))) }

// PadLeft fills a text up to that many columns on the left.
func PadLeft(s string, width int) string { return strings.Repeat(" ", max(0, width-Width(s))) + s }

// Shorten cuts a text to so many columns and says with dots that it did.
func Shorten(s string, width int, dots string) string {
	if Width(s) <= width {
		return s
	}
	width -= Width(dots)
	var b strings.Builder
	used := 0
	for gr := uniseg.NewGraphemes(s); gr.Next(); {
		if used += gr.Width(); used > width {
			break
		}
		b.WriteString(gr.Str())
	}
	return b.String() + dots
}

// Wrap breaks a text into lines of at most width columns, between words; a
// longer word is broken inside, a line end in the text is kept. There is
// always at least one line.
func Wrap(s string, width int) []string {
	var lines []string
	for para := range strings.SplitSeq(s, "\n") {
		lines = append(lines, wrapLine(para, max(width, 1))...)
	}
	return lines
}

func wrapLine(s string, width int) []string {
	var lines []string
	line, used := "", 0
	for _, w := range Words(s) {
		n := Width(w)
		if line != "" && used+1+n <= width {
			line, used = line+" "+w, used+1+n
			continue
		}
		if line != "" {
			lines = append(lines, line)
			line, used = "", 0
		}
		for n > width {
			head, rest := cut(w, width)
			lines = append(lines, head)
			w, n = rest, Width(rest)
		}
		line, used = w, n
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// cut takes as much of s as fits into width columns, at least one character.
func cut(s string, width int) (head, rest string) {
	state, used, n := -1, 0, 0
	for rest = s; rest != ""; {
		c, r, w, st := uniseg.FirstGraphemeClusterInString(rest, state)
		if n > 0 && used+w > width {
			break
		}
		n, used, rest, state = n+len(c), used+w, r, st
	}
	return s[:n], s[n:]
}

// Words splits a text between its words. A measure stays whole: a number, its
// fraction and its unit are one word.
func Words(s string) []string {
	var out []string
	for w := range strings.FieldsSeq(s) {
		if n := len(out); n > 0 && glued(out[n-1], w) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// Keep is a text whose measures no page breaks: a space inside one is a
// space that does not break.
func Keep(s string) string {
	words := Words(s)
	for i, w := range words {
		words[i] = strings.ReplaceAll(w, " ", "\u00a0")
	}
	return strings.Join(words, " ")
}

const (
	digits   = "0123456789"
	trailing = ",.;:)]"
)

// glued says whether a word belongs to the one before it.
func glued(before, w string) bool {
	w = strings.TrimRight(w, trailing)
	last := before[len(before)-1]
	if strings.HasSuffix(before, "±") {
		return true
	}
	if last < '0' || last > '9' {
		return strings.HasSuffix(before, "Tex") || strings.HasSuffix(before, "Tkt")
	}
	switch w {
	case "in", "mm", "m", "yd", "cm", "ft", "%", "ligne", "g/m²", "oz/yd²", "g/cm³", "°C", "°F":
		return true
	}
	// The fraction of a whole number.
	top, bottom, ok := strings.Cut(w, "/")
	if before = before[strings.LastIndexByte(before, ' ')+1:]; strings.ContainsAny(before, "/.") {
		return false
	}
	return ok && top != "" && bottom != "" && strings.Trim(top, digits) == "" && strings.Trim(bottom, digits) == ""
}

// Beside sets two blocks of lines side by side, if both fit into width
// columns.
func Beside(left, right []string, width int) ([]string, bool) {
	const between = 4
	l, r := 0, 0
	for _, s := range left {
		l = max(l, Width(s))
	}
	for _, s := range right {
		r = max(r, Width(s))
	}
	if l+between+r > width {
		return nil, false
	}
	out := make([]string, max(len(left), len(right)))
	for i := range out {
		if i < len(left) {
			out[i] = left[i]
		}
		if i < len(right) && right[i] != "" {
			out[i] = Pad(out[i], l+between) + right[i]
		}
		out[i] = strings.TrimRight(out[i], " ")
	}
	return out, true
}
