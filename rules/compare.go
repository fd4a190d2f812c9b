package rules

import (
	"placketeer/catalog/measure"
)

// Difference is what a what-if change, or a hem line moved after try-on,
// made of a plan.
type Difference struct {
	Moved  []Moved
	Gone   []Finding // findings of the old plan that the new one does not have
	Come   []Finding // findings that are new
	Before Severity
	After  Severity

	// What one of the two has and the other has not: closures, and sizes of
	// closures that both have.
	GoneClosures, ComeClosures []string
	GoneSizes, ComeSizes       []string

	FoundBefore, FoundAfter bool // whether there was anything to find
}

// Moved is what happened to the fasteners of one size of one closure.
type Moved struct {
	Closure, Size string
	Run           [2]measure.Length // before, after
	Count         [2]int
	Stayed        []int            // rows, counted from 1, that lie where they lay
	From, To      []measure.Length // the rows that moved, where both plans have them
	Rows          []int
}
