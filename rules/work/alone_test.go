package work

import (
	"strings"
	"testing"
)

const tab = `garment = "Slip jacket (invented)"
units = "mm"
[cloth.shell]
use = "duck-10"
[interfacing.stay]
use = "silesia"
[[closure]]
name = "chin"
where = "tab"
FASTENER
over = ["shell", "stay", "shell"]
[closure.run]
length = 60
count = 1
`

// A tab with one fastener is told of one: "each", "them" and plurals are for
// more. Common English, no source.
func TestOneFastenerIsToldAsOne(t *testing.T) {
	for _, c := range []struct{ fastener, has string }{
		{`use = "ring-spring-15"`, "Fasten and open the snap of the chin, with one hand, and pull at it"},
		{`use = "horn-36"`, "Fasten and open the button of the chin"},
		{`use = "hook-eye-7mm"`, "Fasten and open the hook of the chin"},
	} {
		l := list(written(t, strings.Replace(tab, "FASTENER", c.fastener, 1)))
		told(t, l, c.has, true)
		for _, many := range []string{"check each", "every ", "snaps of the", "buttons of the", "hooks of the", "eyes of the", "holes of the", "them (1)", "(1)"} {
			if c.fastener != `use = "horn-36"` || many != "eyes of the" {
				told(t, l, many, false)
			}
		}
	}
}

// A garment without a hem has none to clear or to turn up, whatever its run
// says was turned up once.
func TestNoHemIsNone(t *testing.T) {
	const vest = `garment = "Net vest (invented)"
units = "mm"
HEM
[cloth.shell]
use = "duck-10"
[interfacing.stay]
use = "silesia"
[[closure]]
name = "front"
use = "horn-36"
over = ["shell", "stay", "shell"]
direction = "along"
[closure.run]
length = 500
count = 4
hem = 40
last = 60
`
	with, without := written(t, strings.Replace(vest, "HEM", "", 1)), written(t, strings.Replace(vest, "HEM", `hem_at = "none"`, 1))
	low := func(fs []string) bool { return strings.Contains(strings.Join(fs, " "), "turned-up hem") }
	var a, b []string
	for i := range with.Findings {
		a = append(a, with.Findings[i].Message())
	}
	for i := range without.Findings {
		b = append(b, without.Findings[i].Message())
	}
	if !low(a) || low(b) {
		t.Errorf("with a hem %q, without %q", a, b)
	}
}
