package catalog

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

const comparedCoat = `garment = "Watch coat (invented)"
units = "in"
[cloth.shell]
use = "melton"
thickness = "2.4 mm"
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "shell"]
[closure.run]
length = "24 in"
count = 5
[[closure]]
name = "flap"
use = "horn-30"
over = ["shell", "shell"]
[closure.run]
length = 7
count = 1
[[settled]]
rule = "a"
because = "one"
have = "5 mm"
need = "4 mm"
[[settled]]
rule = "b"
because = "two"
have = "5 mm"
need = "4 mm"
`

// Each value that is not alike, by its key; the same length written otherwise
// is no change, nor is another order of the closures.
func TestCompareFiles(t *testing.T) {
	now := `garment = "Watch coat (invented)"
units = "in"
[cloth.shell]
use = "duck-10"
thickness = "2.40 mm ± 0.2"
[[closure]]
name = "flap"
use = "horn-30"
over = ["shell", "shell"]
where = "flap"
[closure.run]
length = 7
count = 1
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "weft", "shell"]
[closure.run]
length = "2 ft"
count = { min = 4, max = 6 }
[[closure]]
name = "cuff"
use = "horn-24"
over = ["shell", "shell"]
[closure.run]
length = 3
count = 1
[interfacing.weft]
use = "weft-fusible-medium"
[[settled]]
rule = "b"
because = "two"
have = "5 mm"
need = "4 mm"
`
	a := mustRead(t, comparedCoat)
	b := mustRead(t, now)
	want := []Changed{
		{"cloth.shell.thickness", "2.4 mm", "2.40 mm ± 0.2"},
		{"cloth.shell.use", "melton", "duck-10"},
		{"interfacing.weft.use", "", "weft-fusible-medium"},
		{"closure.flap.where", "", "flap"},
		{"closure.front.over", `["shell", "shell"]`, `["shell", "weft", "shell"]`},
		{"closure.front.run.count", "5", "{ max = 6, min = 4 }"},
		{"closure.cuff", "", "cuff"},
		{"settled[0]", `{ because = "one", have = "5 mm", need = "4 mm", rule = "a" }`, ""},
	}
	if diff := cmp.Diff(want, Compare(a, b)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	back := Compare(b, a)
	if len(back) != len(want) {
		t.Errorf("back it is %d changes, not %d", len(back), len(want))
	}
	for _, c := range back {
		for _, w := range want {
			if c.Key == w.Key && (c.Was != w.Is || c.Is != w.Was) {
				t.Errorf("back %+v, there %+v", c, w)
			}
		}
	}
	if same := Compare(a, a); same != nil {
		t.Errorf("a file differs from itself: %+v", same)
	}
}

func mustRead(t *testing.T, text string) *Garment {
	t.Helper()
	g, err := Read("coat.toml", []byte(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// A bare number is shown with the unit that its own file reads it in: 6 of one
// file is not 6 of another. (The garment file: units.)
func TestComparedNumbersHaveTheirUnit(t *testing.T) {
	g := mustRead(t, comparedCoat)
	for _, c := range [][3]string{
		{"closure.cuff.run.length", "3", "3 " + g.Units.String()},
		{"machine.foot_lift", "6", "6 " + g.Units.String()},
		{"closure.front.notion.diameter", "23", "23 " + g.Units.String()},
		{"cloth.shell.shrink", "3", "3 %"},
		{"closure.front.run.count", "5", "5"},
		{"closure.front.run.length", "28 in", "28 in"},
		{"cloth.shell.use", "melton", "melton"},
		{"nonsense", "5", "5"},
	} {
		if got := g.WithUnit(c[0], c[1]); got != c[2] {
			t.Errorf("%s = %s: %q, want %q", c[0], c[1], got, c[2])
		}
	}
}
