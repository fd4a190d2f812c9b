package text

import (
	"strconv"
	"strings"
)

// Nearest gives the word of words that was most likely meant by word, or ""
// if none is near. Near is at most one slip (a letter left out, put in,
// changed, or two neighbours swapped) for every three letters of the longer
// word, rounded up from four letters on, and none for a single letter; a
// difference in case is no slip. Of equally near words the one that begins
// alike wins, then the one whose number at the end is nearer, then the earlier one.
func Nearest(word string, words []string) string {
	const most = 64
	if word == "" || len(word) > most {
		return ""
	}
	fold := []rune(strings.ToLower(word))
	best, bestCost := "", 1<<30
	var rows [3][most + 1]int
	for _, w := range words {
		if w == "" || len(w) > most {
			continue
		}
		if w == word {
			return w
		}
		other := []rune(strings.ToLower(w))
		allow := (max(len(fold), len(other)) + 1) / 3
		if d := len(fold) - len(other); d > allow || -d > allow {
			continue
		}
		d := slips(fold, other, &rows)
		if d > allow || d >= max(len(fold), len(other)) {
			continue
		}
		cost := 2 * d
		if fold[0] != other[0] {
			cost++
		} else if len(other) > len(fold) && string(other[:len(fold)]) == string(fold) {
			cost-- // the word is the beginning of this one
		}
		if cost < bestCost || cost == bestCost && nearer(word, w, best) {
			best, bestCost = w, cost
		}
	}
	return best
}

// nearer says whether of two words that end in a number the first has the one
// nearer to that of a word: horn-45, not horn-24, for horn-44.
func nearer(word, a, b string) bool {
	n, is := numberOf(word)
	x, isA := numberOf(a)
	y, isB := numberOf(b)
	return is && isA && isB && max(n-x, x-n) < max(n-y, y-n)
}

// numberOf is the number that a word ends in.
func numberOf(word string) (int, bool) {
	n, err := strconv.Atoi(word[len(strings.TrimRight(word, "0123456789")):])
	return n, err == nil
}

// slips is the Damerau–Levenshtein distance of a and b with neighbours
// swapped at most once in a place. rows is room to work in.
func slips(a, b []rune, rows *[3][65]int) int {
	before, last, this := &rows[0], &rows[1], &rows[2]
	for j := range len(b) + 1 {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		this[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			this[j] = min(last[j]+1, this[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				this[j] = min(this[j], before[j-2]+1)
			}
		}
		before, last, this = last, this, before
	}
	return last[len(b)]
}
