package text

import (
	"encoding/csv"
	"strings"
	"unicode/utf8"
)

// CSV writes rows, all as long as the longest, so that any reader takes them
// (RFC 4180, but for the line ends), and no cell that a spreadsheet would
// take for a formula.
func CSV(rows [][]string) (string, error) {
	long := 0
	for _, r := range rows {
		long = max(long, len(r))
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	for _, r := range rows {
		safe := make([]string, long)
		for i, c := range r {
			safe[i] = csvCell(c)
		}
		if err := w.Write(safe); err != nil {
			return "", err
		}
	}
	w.Flush()
	return b.String(), w.Error()
}

// csvCell is a cell that no spreadsheet takes for a formula: what begins like
// one gets an apostrophe before it, a plain number does not.
func csvCell(s string) string {
	first, _ := utf8.DecodeRuneInString(s)
	if s == "" || !strings.ContainsRune("=+-@\t\r\n＝＋－＠", first) {
		return Safe(s)
	}
	if plainNumber(s) {
		return s
	}
	return "'" + Safe(s)
}

// plainNumber says whether s is digits with a minus before them and one point
// in them at most.
func plainNumber(s string) bool {
	s = strings.TrimPrefix(s, "-")
	whole, part, point := strings.Cut(s, ".")
	only := func(s string) bool { return s != "" && strings.Trim(s, digits) == "" }
	return only(whole) && (!point || only(part))
}
