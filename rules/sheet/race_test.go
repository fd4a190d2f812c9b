//go:build race

package sheet

// raced says whether the race detector watches: it runs on the short set.
const raced = true
