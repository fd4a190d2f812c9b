package guide

import (
	"strings"
	"testing"
)

// The holes of a separate band are marked in the band alone: the piece is
// named and its seam labelled as what it is.
func TestSeparateBandIsDrawnAsTheBand(t *testing.T) {
	p := read(t, `garment = "Slip jacket (invented)"
units = "in"
[cloth.shell]
use = "denim"
[[closure]]
name = "front"
use = "tack-17mm-nail-9"
hole = "keyhole"
direction = "across"
over = ["shell", "shell"]
under = ["shell", "shell"]
[closure.stand]
construction = "band"
band = "1 1/2 in"
seam = "1/2 in"
[closure.run]
length = 6
count = 2
`)
	var texts []string
	_, groups := parsed(t, marked(t, p, Options{Format: "svg"}))
	for _, g := range groups {
		texts = append(texts, g.texts...)
	}
	all := strings.Join(texts, " ")
	for _, has := range []string{"Band, sewn to the wearer's", "right front, on top: hole", "seam of the band", "cut edge of the front, beneath the band"} {
		if !strings.Contains(all, has) {
			t.Errorf("%q is not written in\n%s", has, all)
		}
	}
	if strings.Contains(all, "facing") {
		t.Errorf("a band is called a facing in\n%s", all)
	}
}
