package rules

import (
	"cmp"
	"slices"
	"strings"
)

// sortChanges puts the smallest change first; equal ones by their words.
func sortChanges(cs []Change) {
	slices.SortStableFunc(cs, func(a, b Change) int {
		return cmp.Or(
			cmp.Compare(len(a.With), len(b.With)),
			cmp.Compare(a.Cost, b.Cost),
			strings.Compare(strings.Join(a.With, "\n"), strings.Join(b.With, "\n")),
		)
	})
}
