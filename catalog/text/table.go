package text

import "strings"

const gutter = 2 // columns between the columns of a table

// Table is a table with headings; its first column heads the rows. Every row
// is as long as Head. Right says which columns line up on the right; it may
// be shorter than Head.
type Table struct {
	Head  []string
	Rows  [][]string
	Right []bool
}

// Lines lays a table out in lines of at most width columns. Cells that do not
// fit are broken; where even that does not do, the columns are dealt out over
// several tables that repeat the first.
func (t *Table) Lines(width int) []string {
	cols := len(t.Head)
	wide, least := make([]int, cols), make([]int, cols)
	measureCol := func(i int, s string) {
		wide[i] = max(wide[i], Width(s))
		least[i] = max(least[i], min(longest(s), 24))
	}
	for i, h := range t.Head {
		measureCol(i, h)
		for _, r := range t.Rows {
			measureCol(i, r[i])
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

// longest is the widest word of a text.
func longest(s string) int {
	n := 0
	for _, w := range Words(s) {
		n = max(n, Width(w))
	}
	return n
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

// part lays out the picked columns, wide as given.
func (t *Table) part(pick, wide []int) []string {
	row := func(cells []string) []string {
		broken := make([][]string, len(pick))
		n := 1
		for i, c := range pick {
			broken[i] = Wrap(cells[c], wide[i])
			n = max(n, len(broken[i]))
		}
		lines := make([]string, n)
		for l := range lines {
			var b strings.Builder
			for i, c := range pick {
				s := ""
				if l < len(broken[i]) {
					s = broken[i][l]
				}
				if i > 0 {
					b.WriteString(strings.Repeat(" ", gutter))
				}
				if c > 0 && c < len(t.Right) && t.Right[c] {
					b.WriteString(PadLeft(s, wide[i]))
				} else {
					b.WriteString(Pad(s, wide[i]))
				}
			}
			lines[l] = strings.TrimRight(b.String(), " ")
		}
		return lines
	}
	out := row(t.Head)
	rule := make([]string, len(t.Head))
	for i, c := range pick {
		rule[c] = strings.Repeat("-", wide[i])
	}
	out = append(out, row(rule)...)
	for _, r := range t.Rows {
		out = append(out, row(r)...)
	}
	return out
}

// Columns lays rows out in columns without headings, each line after indent;
// the last column is broken to fit into width columns.
func Columns(rows [][]string, indent string, width int) []string {
	var wide []int
	for _, r := range rows {
		for i, c := range r[:max(0, len(r)-1)] {
			for len(wide) <= i {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], Width(c))
		}
	}
	var out []string
	for _, r := range rows {
		head := indent
		for i, c := range r[:max(0, len(r)-1)] {
			head += Pad(c, wide[i]+gutter)
		}
		at := Width(head)
		if width-at < 20 {
			out = append(out, strings.TrimRight(head+r[len(r)-1], " "))
			continue
		}
		out = append(out, Hang(head, at, r[len(r)-1], width)...)
	}
	return out
}

// Hang breaks a text into lines of at most width columns that begin under one
// another at column at, the first after a head. A head that leaves no gap
// there stands on a line of its own.
func Hang(head string, at int, s string, width int) []string {
	var out []string
	if bare := strings.TrimRight(head, " "); bare != "" && Width(bare)+gutter > at {
		out = append(out, bare)
		head = ""
	}
	for _, l := range Wrap(s, width-at) {
		out = append(out, strings.TrimRight(Pad(head, at)+l, " "))
		head = ""
	}
	return out
}
