// Package guide draws a plan: the marking guide at full size, to be laid on
// the cloth, and the little upright strip for the terminal.
package guide

import (
	"errors"

	"placketeer/rules"
)

// Options say what of a plan to draw and on what.
type Options struct {
	Closure string // name of the closure; "" draws all that have a place
	Size    string // name of the size; "" draws all, one after another
	Paper   string // a4 or letter; "" is a4, or letter for a garment in inches
	Format  string // pdf, svg or png
	DPI     int    // of a PNG, 36 to 600; 0 is 150
}

// StripOptions say how the strip for the terminal is drawn.
type StripOptions struct {
	UTF8   bool // false keeps to ASCII
	Height int  // lines of the run; 0 fits it to its labels
}

// Mark draws the marking guide and gives the whole file.
func Mark(p *rules.Planned, o Options) ([]byte, error) {
	return nil, errors.New("the marking guide is not drawn yet")
}

// Strip draws the run of one closure in one size upright, to scale, at most
// 80 columns wide. The closure and size are places in p.Closures and its
// Sizes. A closure without a layout gives no lines.
func Strip(p *rules.Planned, closure, size int, o StripOptions) []string { return nil }
