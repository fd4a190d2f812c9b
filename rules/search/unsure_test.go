package search

import (
	"strings"
	"testing"

	"placketeer/rules/trial"
)

// A stack of 4.3 mm in prongs that hold 1.5 mm is no matter of a ±, though the
// 1.5 mm are from memory: the near miss says how far it is out and whom to
// ask. One that only its ± lets pass is told to be measured. (Arithmetic.)
func TestFarOutsideIsNoMatterOfTheTolerance(t *testing.T) {
	const vest = `garment = "Snap vest (invented)"
units = "mm"
[cloth.shell]
use = "melton"
thickness = "%"
pressed = 1
[[closure]]
name = "front"
use  = "prong-snap-16"
over = ["shell", "shell"]
reinforced = true
[closure.run]
length = 600
count  = 4
`
	fails := func(thick, name string) string {
		c, err := Choose(trial.Read(t, strings.Replace(vest, "%", thick, 1)), ChoiceOptions{Closure: "front", Limit: 1000})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range c.Candidates {
			if m.Name == name && !m.Passes {
				return m.Fails
			}
		}
		return "no near miss"
	}
	if got := fails("2.4 mm", "prong-snap-16"); strings.Contains(got, "may pass") || !strings.Contains(got, "4.8 mm") || !strings.Contains(got, "ask the maker") {
		t.Errorf("far outside: %q", got)
	}
	if got := fails("0.76 mm ± 0.05", "prong-snap-16"); !strings.Contains(got, "measure") {
		t.Errorf("within the ±: %q", got)
	}
}
