package source

import (
	"strings"
	"unicode/utf8"

	"github.com/rivo/uniseg"

	"placketeer/catalog/text"
)

// maxShown is the display width beyond which a source line is cut: with its
// indent of two and a sign for what is cut off at either end, the 80 columns of
// a screen.
const maxShown = 76

// Mark returns a source line ready to print and the line of marks to print
// under it: a ^ under the character at column (from 1), ~ under the others of
// width. Tabs stay tabs in both, so the mark stands right at any tab stop;
// wide and combining characters are measured as a terminal shows them. A very
// long line is cut around the mark. Both lines need the same indent.
func Mark(line string, column, width int) (shown, mark string) {
	width = max(width, 1)
	// Of an endless line only the neighbourhood is looked at.
	head, rest := cutRunes(line, column-1-2*maxShown)
	near, tail := cutRunes(rest, 2*maxShown+min(width, 2*maxShown)+2*maxShown)
	cells, from, to := split(near, column-utf8.RuneCountInString(head), width)
	return layout(cells, from, to, head != "", tail != "")
}

// cutRunes cuts a text after n characters.
func cutRunes(s string, n int) (head, tail string) {
	if n <= 0 {
		return "", s
	}
	for i := range s {
		if n == 0 {
			return s[:i], s[i:]
		}
		n--
	}
	return s, ""
}

// A cell is what is printed as a unit: a grapheme cluster, a tab or an escape.
type cell struct {
	text  string
	width int // in terminal columns; a tab counts as 8 when lines are cut
}

// split cuts a line into cells and finds those that hold the marked
// characters: from to to-1. Behind the end of the line there is one more.
func split(line string, column, width int) (cells []cell, from, to int) {
	cells = make([]cell, 0, len(line)+1)
	from, to = -1, -1
	n := 1 // the column of the next character
	state := -1
	for len(line) > 0 {
		var cluster string
		var w int
		cluster, line, w, state = uniseg.FirstGraphemeClusterInString(line, state)
		first := len(cells)
		runes := utf8.RuneCountInString(cluster)
		safe := text.Safe(cluster)
		switch {
		case cluster == "\t":
			cells = append(cells, cell{"\t", 8})
		case safe != cluster:
			cells = append(cells, cell{safe, text.Width(safe)})
		default:
			cells = append(cells, cell{cluster, w})
		}
		if from < 0 && column < n+runes {
			from = first
		}
		if to < 0 && column+width <= n+runes {
			to = len(cells)
		}
		n += runes
	}
	if from < 0 {
		from = len(cells)
		to = from + 1
	}
	if to < 0 {
		to = len(cells)
	}
	return cells, from, max(to, from+1)
}

func layout(cells []cell, from, to int, more, still bool) (shown, mark string) {
	total := 0
	for _, c := range cells {
		total += c.width
	}
	begin, end := 0, len(cells)
	if total > maxShown || more || still {
		begin, end = window(cells, from)
	}
	cut := end < len(cells) || still
	for !cut && end > to && strings.Trim(cells[end-1].text, " \t") == "" {
		end-- // blanks at the end of a line are of no use
	}
	var line, under strings.Builder
	if begin > 0 || more {
		line.WriteString("…")
		under.WriteByte(' ')
	}
	sign := byte('^')
	for i := begin; i < end; i++ {
		c := cells[i]
		switch {
		case i < from && c.text == "\t":
			line.WriteByte('\t')
			under.WriteByte('\t')
		case i < from:
			line.WriteString(c.text)
			pad(&under, ' ', c.width)
		case i < to:
			if c.text == "\t" { // a mark cannot be drawn as wide as a tab
				c = cell{" ", 1}
			}
			line.WriteString(c.text)
			if c.width > 0 {
				under.WriteByte(sign)
				sign = '~'
				pad(&under, '~', c.width-1)
			}
		default:
			line.WriteString(c.text)
		}
	}
	if cut {
		line.WriteString("…")
	}
	if sign == '^' {
		under.WriteByte('^')
	}
	return line.String(), under.String()
}

// window chooses the cells of a long line to show: some before the mark, the
// mark, and what room is left after it.
func window(cells []cell, from int) (begin, end int) {
	const before = 40
	begin = min(from, len(cells))
	for used := 0; begin > 0 && used+cells[begin-1].width <= before; begin-- {
		used += cells[begin-1].width
	}
	end = begin
	for used := 0; end < len(cells) && used+cells[end].width <= maxShown; end++ {
		used += cells[end].width
	}
	return begin, end
}

func pad(b *strings.Builder, c byte, n int) {
	for ; n > 0; n-- {
		b.WriteByte(c)
	}
}
