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
	for _, has := range []string{"Band, sewn to the wearer's", "right front, on top: hole", "seam of the band", "front's cut edge, beneath the band"} {
		if !strings.Contains(all, has) {
			t.Errorf("%q is not written in\n%s", has, all)
		}
	}
	if strings.Contains(all, "facing") {
		t.Errorf("a band is called a facing in\n%s", all)
	}
	// The front's cut edge lies beneath the band: nobody shall cut the band there.
	for _, layout := range Layouts {
		d, err := laid(p, Options{Paper: "none", Layout: layout})
		if err != nil {
			t.Fatal(err)
		}
		beneath := 0
		for _, s := range d.sheets {
			for i := range s.items {
				it := &s.items[i]
				if !strings.HasPrefix(it.class, "line-cut") || it.pen == nil {
					continue
				}
				if beneath++; it.pen.dash == nil || it.pen.width >= penSeam.width || it.class != "line-cut behind" {
					t.Errorf("%s: the cut edge beneath the band is drawn as %q with a pen %.2f mm wide, dashes %v", layout, it.class, it.pen.width, it.pen.dash)
				}
			}
		}
		if beneath == 0 {
			t.Errorf("%s: no cut edge is drawn", layout)
		}
	}
	if strings.Contains(all, "|cut edge|") || !strings.Contains(all, "front's cut edge, beneath the band: no cut here") {
		t.Errorf("the list of lines does not say that nothing is cut there\n%s", all)
	}
}

// Where places lie near each other their labels stand beside them, as far from
// each other as they do.
func TestLabelsOfANarrowStrip(t *testing.T) {
	p := read(t, `garment = "Slip coat (invented)"
units = "mm"
[cloth.shell]
use = "melton"
[[closure]]
name = "sleeve"
where = "cuff"
use = "horn-24"
hole = "hand"
over = ["shell", "shell"]
[closure.stand]
construction = "faced"
finished = "20 mm"
[closure.run]
length = 130
first = "40 mm"
last = "30 mm"
count = 4
`)
	_, groups := parsed(t, marked(t, p, Options{Format: "svg", Layout: "strip"}))
	var at []float64
	for _, g := range groups {
		if g.class != "label" || g.data["data-number"] == "" {
			continue
		}
		b := nowhere
		for _, path := range g.paths {
			b = b.join(boxOf(path, 0))
		}
		at = append(at, (b.y0+b.y1)/2)
	}
	if len(at) != 4 {
		t.Fatalf("%d labels", len(at))
	}
	for i := 1; i < len(at); i++ {
		if !near(at[i]-at[i-1], 20, 3) {
			t.Errorf("label %d stands %.1f mm below the one before, its place 20 mm", i+1, at[i]-at[i-1])
		}
	}
}
