package rules

import "strings"

// SplitLaw takes out of what a finding says that the law of the place
// decides, and tells whether it stood there: a list says that once for all.
func SplitLaw(says string) (rest string, law bool) {
	for _, at := range []string{"; " + lawFirst, ": " + lawFirst, ", " + lawFirst} {
		if before, after, is := strings.Cut(says, at); is {
			return before + after, true
		}
	}
	return says, false
}
