package search

import "os"

// long says whether the long runs are asked for, as CI does of the packages
// that have some: PLACKETEER_LONG=1. CI=true alone does not, so that the race
// detector keeps to the short set.
var long = os.Getenv("PLACKETEER_LONG") == "1"

// many is how many random cases a test tries: few, no more than 60 garments,
// or all of them in the long run.
func many(few, all int) int {
	if long {
		return all
	}
	return few
}
