package sheet

import (
	"strings"

	"placketeer/catalog/source"

	"github.com/rivo/uniseg"
)

// columns is how many columns of a terminal a text takes.
func columns(s string) int { return uniseg.StringWidth(s) }

// pad fills a text up to that many columns, on the right, or on the left.
func pad(s string, width int, left bool) string {
	n := width - columns(s)
	if n <= 0 {
		return s
	}
	if left {
		return strings.Repeat(" ", n) + s
	}
	return s + strings.Repeat(" ", n)
}

// wrap breaks a text into lines of at most width columns, between words; a
// longer word is broken inside. There is always at least one line.
func wrap(s string, width int) []string {
	width = max(width, 1)
	var lines []string
	line, used := "", 0
	for _, w := range splitWords(s) {
		n := columns(w)
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
			w, n = rest, columns(rest)
		}
		line, used = w, n
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// splitWords splits a text between its words. A measure stays whole: a
// number, its fraction and its unit are one word.
func splitWords(s string) []string {
	var out []string
	for _, w := range strings.Fields(s) {
		if n := len(out); n > 0 && glued(out[n-1], w) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

const (
	digits   = "0123456789"
	trailing = ",.;:)]"
)

// glued says whether a word belongs to the one before it.
func glued(before, w string) bool {
	w = strings.TrimRight(w, trailing)
	last := before[len(before)-1]
	if last < '0' || last > '9' {
		return strings.HasSuffix(before, "Tex") || strings.HasSuffix(before, "Tkt")
	}
	switch w {
	case "in", "mm", "m", "yd", "cm", "ft", "%", "ligne", "g/m²", "oz/yd²", "g/cm³", "°C":
		return true
	}
	// The fraction of a whole number.
	top, bottom, ok := strings.Cut(w, "/")
	if before = before[strings.LastIndexByte(before, ' ')+1:]; strings.ContainsAny(before, "/.") {
		return false
	}
	return ok && top != "" && bottom != "" && strings.Trim(top, digits) == "" && strings.Trim(bottom, digits) == ""
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

// longest is the widest word of a text.
func longest(s string) int {
	n := 0
	for _, w := range splitWords(s) {
		n = max(n, columns(w))
	}
	return n
}

const gutter = 2 // columns between the columns of a table

// tableLines lays a table out in lines of at most width columns. Cells that
// do not fit are broken; where even that does not do, the columns are dealt
// out over several tables that repeat the first.
func tableLines(t *table, width int) []string {
	cols := len(t.head)
	wide, least := make([]int, cols), make([]int, cols)
	measureCol := func(i int, s string) {
		wide[i] = max(wide[i], columns(s))
		least[i] = max(least[i], min(longest(s), 24))
	}
	for i, h := range t.head {
		measureCol(i, h)
		for _, r := range t.rows {
			measureCol(i, r[i].text)
		}
	}
	// How many tables it takes, and then as many columns in each.
	parts := 0
	for from := 1; from < cols; parts++ {
		for sum := least[0]; from < cols; from++ {
			if sum += gutter + least[from]; sum > width && sum > least[0]+gutter+least[from] {
				break
			}
		}
	}
	each := cols
	if parts > 1 {
		each = (cols - 1 + parts - 1) / parts
	}
	var out []string
	for from := 1; from < cols || from == 1; {
		to, sum := from, least[0]
		for to < cols && to-from < each && (to == from || sum+gutter+least[to] <= width) {
			sum += gutter + least[to]
			to++
		}
		pick := []int{0}
		for i := from; i < to; i++ {
			pick = append(pick, i)
		}
		if len(out) > 0 {
			out = append(out, "")
		}
		out = append(out, t.part(pick, fit(pick, wide, least, width))...)
		from = max(to, from+1)
	}
	return out
}

// fit gives each picked column its width: as wide as it wants, the widest
// made narrower until all fit.
func fit(pick []int, wide, least []int, width int) []int {
	out := make([]int, len(pick))
	sum := gutter * (len(pick) - 1)
	for i, c := range pick {
		out[i] = wide[c]
		sum += out[i]
	}
	for sum > width {
		widest := -1
		for i, c := range pick {
			if out[i] > least[c] && (widest < 0 || out[i] > out[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		out[widest]--
		sum--
	}
	return out
}

func (t *table) part(pick, wide []int) []string {
	row := func(cells []string, right func(int) bool) []string {
		broken := make([][]string, len(pick))
		n := 1
		for i, c := range pick {
			broken[i] = wrap(cells[c], wide[i])
			n = max(n, len(broken[i]))
		}
		lines := make([]string, n)
		for l := range lines {
			var b strings.Builder
			for i := range pick {
				s := ""
				if l < len(broken[i]) {
					s = broken[i][l]
				}
				if i > 0 {
					b.WriteString(strings.Repeat(" ", gutter))
				}
				b.WriteString(pad(s, wide[i], right(pick[i])))
			}
			lines[l] = strings.TrimRight(b.String(), " ")
		}
		return lines
	}
	right := func(c int) bool { return c > 0 && t.right(c) }
	out := row(t.head, right)
	rule := make([]string, len(t.head))
	for i, c := range pick {
		rule[c] = strings.Repeat("-", wide[i])
	}
	out = append(out, row(rule, right)...)
	for _, r := range t.rows {
		cells := make([]string, len(r))
		for i := range r {
			cells[i] = r[i].text
		}
		out = append(out, row(cells, right)...)
	}
	return out
}

// right says whether a column holds numbers, which line up on the right.
func (t *table) right(col int) bool {
	some := false
	for _, r := range t.rows {
		if r[col].text == "" {
			continue
		}
		if !r[col].number() {
			return false
		}
		some = true
	}
	return some
}

// beside sets two blocks of lines side by side, if both fit.
func beside(left, right []string, width int) ([]string, bool) {
	const between = 4
	l, r := 0, 0
	for _, s := range left {
		l = max(l, columns(s))
	}
	for _, s := range right {
		r = max(r, columns(s))
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
			out[i] = pad(out[i], l+between, false) + right[i]
		}
		out[i] = strings.TrimRight(out[i], " ")
	}
	return out, true
}

var plainSigns = strings.NewReplacer(
	"×", "x", "÷", "/", "−", "-", "–", "-", "—", "-", "±", "+/-", "…", "...", "·", "-", "•", "-",
	"²", "2", "³", "3", "°", " deg ", "≥", ">=", "≤", "<=", "√", "sqrt ", "π", "pi", "µ", "u",
	"“", `"`, "”", `"`, "‘", "'", "’", "'", "½", "1/2", "¼", "1/4", "¾", "3/4", "⅛", "1/8", "⅜", "3/8", "⅝", "5/8", "⅞", "7/8",
	"→", "->", "←", "<-", "é", "e", "ü", "u", "ö", "o", "ä", "a",
)

// ascii is a text for a terminal that shows no more than ASCII: the signs of
// the trade are spelled out, what has no spelling is a ?, as wide as it was.
func ascii(s string) string {
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

// clean is a text of the file made safe to print.
func clean(s string) string { return source.Safe(s) }
