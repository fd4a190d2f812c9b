package rules

import (
	"testing"

	"placketeer/catalog/measure"
)

// A second interfacing of which the file says no width is cut wider than the
// first by 3/8 in, in a file in millimetres by 10 mm (ours), but no wider than
// its goods, nor than a band that the first fills.
func TestSecondStrip(t *testing.T) {
	const strip = "closure.front.stand.strip=60 mm"
	for _, c := range []struct {
		base, with string
		more       measure.Length
	}{
		{edgeTwo, strip, 70 * measure.Millimetre},
		{inInches(edgeTwo), strip, measure.Inch * 11 / 4}, // up to 1/8 in
		{edgeTwo, strip + "|interfacing.more.width=@ mm", 64 * measure.Millimetre},
		{edgeTwo, "closure.front.stand.construction=band|closure.front.direction=along|closure.front.stand.band=@ mm", 64 * measure.Millimetre},
	} {
		g, err := edgeGarment(c.base, c.with, "64")
		if err != nil {
			t.Fatal(err)
		}
		strips := Plan(g).Closures[0].Support.Strips
		if len(strips) != 2 || strips[1].Width != c.more {
			t.Errorf("%s: %+v, want a second one %s wide", c.with, strips, c.more)
		}
	}
}
