package sheet

import (
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
)

// The working says what a graded length comes to in each size: arithmetic.
func TestGradesAreATable(t *testing.T) {
	g, err := catalog.Read("coat.toml", []byte(`garment = "Watch coat (invented)"
units = "in"
[sizes]
names = ["S", "M", "L"]
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "shell"]
[closure.run]
length = { at = "24 in", size = "M", grade = { "S..M" = "1/4 in", "M..L" = "3/8 in" } }
count = 5
`), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for format, want := range map[string][]string{
		"text":     {"front run.length", "23 3/4 in", "24 3/8 in", "+1/4 in", "+3/8 in"},
		"markdown": {"| front run.length |", "23 3/4 in | 24 in | 24 3/8 in", "+1/4 in", "+3/8 in"},
		"html":     {"front run.length", "23 3/4 in", "&#43;3/8 in"},
	} {
		var b strings.Builder
		if err := Spec(&b, []*rules.Planned{rules.Plan(g)}, Options{Format: format, Width: 80, Working: true}); err != nil {
			t.Fatal(err)
		}
		_, working, _ := strings.Cut(b.String(), "Graded lengths")
		for _, w := range want {
			if !strings.Contains(working, w) {
				t.Errorf("%s: no %q in\n%s", format, w, working)
			}
		}
	}
}
