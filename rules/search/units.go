package search

import "placketeer/catalog/measure"

const (
	mm = measure.Millimetre
	in = measure.Inch
)
