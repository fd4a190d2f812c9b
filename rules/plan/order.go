package plan

import (
	"placketeer/catalog/measure"
)

// FuseTest is the cloth and the fusible for that many test swatches, width and
// length: 12 in squares of cloth with 9 in squares on them.
func FuseTest(n int) (cloth, fusible [2]measure.Length) {
	k := measure.Length(n)
	return [2]measure.Length{12 * in * k, 12 * in}, [2]measure.Length{9 * in * k, 9 * in}
}
