package work

import (
	"placketeer/catalog/measure"
)

const (
	mm = measure.Millimetre
	in = measure.Inch

	eighth    = in / 8
	quarter   = in / 4
	sixteenth = in / 16
)
