package search

import (
	"strings"
	"testing"

	"placketeer/rules/trial"
)

// A garment that is washed keeps its care where another interfacing stands it:
// one with a polyester resin, or one that is sewn in (Apparel: Design, Textiles
// and Construction, 2012: interfacing takes the garment's care). Having it
// dry-cleaned comes after.
func TestAnotherInterfacingBeforeAnotherCare(t *testing.T) {
	g := trial.Read(t, `garment = "Wash coat (invented)"
units = "mm"
care  = "wash-40"
[cloth.shell]
kind = "heavy-cotton"
weight = "300 g/m2"
thickness = "0.7 mm"
shrink = 0
fibre = { cotton = 100 }
[interfacing.front]
use   = "weft-fusible-medium"
resin = "polyamide"
shrink = 0
[[closure]]
name = "front"
use  = "horn-36"
over = ["shell", "front", "shell"]
[closure.run]
length = 600
count  = 5
`)
	p := Checked(g, CheckOptions{Fixes: true})
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Rule != "care-limit" {
			continue
		}
		if len(f.Fixes) == 0 || !strings.HasPrefix(f.Fixes[0].With[0].Key, "interfacing.front") {
			t.Errorf("%s: %+v", f.Message(), f.Fixes)
		}
		return
	}
	t.Error("the polyamide resin is let pass")
}
