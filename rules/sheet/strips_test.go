package sheet

import (
	"encoding/json"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"
)

// Two interfacings of one stack are two strips, one of them in one stack only:
// two pieces and one.
func TestJSONListsEveryInterfacing(t *testing.T) {
	g := trial.Read(t, `garment = "Fly-front gilet (invented)"
units   = "in"
[cloth.shell]
use       = "cotton-drill"
thickness = "0.6 mm"
[interfacing.front]
use       = "woven-fusible-medium"
thickness = "0.4 mm"
[interfacing.stay]
use       = "silesia"
thickness = "0.35 mm"
[[closure]]
name  = "front"
use   = "corozo-30"
over  = ["shell", "front", "stay", "shell"]
under = ["shell", "front", "shell"]
[closure.stand]
construction = "faced"
strips       = [ { name = "stay", width = "2 in" } ]
[closure.run]
length = 24
count  = 6
`)
	out := specified(t, []*rules.Planned{rules.Plan(g)}, Options{Format: "json"})
	var docs []struct {
		Closures []struct {
			Support struct {
				Strips []struct {
					Interfacing string  `json:"interfacing"`
					Strip       float64 `json:"strip_mm"`
					Pieces      int     `json:"pieces"`
				} `json:"strips"`
			} `json:"support"`
		} `json:"closures"`
	}
	if err := json.Unmarshal([]byte(out), &docs); err != nil {
		t.Fatal(err)
	}
	strips := docs[0].Closures[0].Support.Strips
	if len(strips) != 2 || strips[0].Interfacing != "front" || strips[0].Pieces != 2 || strips[1].Interfacing != "stay" || strips[1].Pieces != 1 || strips[1].Strip != 50.8 {
		t.Errorf("%+v", strips)
	}
}
