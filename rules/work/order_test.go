package work

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

// listOf is a checklist as one text a task, with its stage.
func listOf(t *testing.T, name string) []string {
	t.Helper()
	var out []string
	for _, task := range Order(demo(t, name), "") {
		out = append(out, strings.Join(slices.Concat([]string{task.Do}, task.Lines, task.Take), "\n"))
	}
	return out
}

// The needle is changed where the next task wants another, and back again: the
// bulky top of the band takes 110/18, the samples before and the holes after
// it 100/16. Order of work, common practice, no source.
func TestNeedleChangesWhereItHappens(t *testing.T) {
	var got []string
	now := ""
	in := regexp.MustCompile(`needle (\d+/\d+)`)
	for _, says := range listOf(t, "watch-coat-ready") {
		if m := regexp.MustCompile(`^Check the needle clamp and put in (\S+)\.`).FindStringSubmatch(says); m != nil {
			now = m[1]
			got = append(got, now)
			continue
		}
		if m := in.FindStringSubmatch(says); m != nil && m[1] != now {
			t.Errorf("needle %s is in the machine: %s", now, says)
		}
		if strings.Contains(says, " Sew over it") {
			got = append(got, "bulk")
		}
	}
	if want := "100/16 bulk bulk 110/18 bulk 100/16"; strings.Join(got, " ") != want {
		t.Errorf("needles %v, want %s", got, want)
	}
}

// Each thing stands once: how a hole is opened, how the interfacing is put in,
// what a thick place is.
func TestEachThingOnce(t *testing.T) {
	text := strings.Join(listOf(t, "watch-coat-ready"), "\n")
	for _, once := range []string{
		"the blade away from your hand", "Trim it out of the seam allowances", "in eight and lay a ruler", "keep fingers off the steam",
		"Fasten and open every button", "layers of cloth, 9.9 mm", "Measure the real fasteners",
	} {
		if n := strings.Count(text, once); n != 1 {
			t.Errorf("%q stands %d times", once, n)
		}
	}
}

// Nothing is said about opening holes where there is none.
func TestNoHoleNoBlade(t *testing.T) {
	p := written(t, `garment = "Cape (invented)"
units = "mm"
hem_at = "none"
[cloth.shell]
use = "loden"
[[closure]]
name = "neck"
use = "coat-hook-25"
over = ["shell", "shell"]
[closure.run]
length = 60
count = 1
first = 30
`)
	for _, task := range Order(p, "") {
		if says := strings.Join(append(task.Take, task.Do), " "); strings.Contains(says, "blade") || strings.Contains(says, "buttonhole") {
			t.Errorf("no hole is sewn, but: %s", says)
		}
	}
}

// Where one closure takes a leather point and another does not, each change
// names it: a leather point cuts cloth (needle makers, choosing a needle).
func TestNeedlePointIsNamed(t *testing.T) {
	p := written(t, `garment = "Patched coat (invented)"
units = "mm"
[cloth.shell]
use = "melton-light"
thickness = 1.6
[cloth.patch]
use = "leather-garment"
thickness = 1
[[closure]]
name = "front"
use = "horn-30"
needle = "100/16"
over = ["shell", "shell"]
[closure.run]
length = 400
count = 4
[[closure]]
name = "tab"
where = "tab"
use = "horn-30"
needle = "100/16"
over = ["patch", "patch"]
[closure.run]
length = 60
count = 1
`)
	var got []string
	for _, task := range Order(p, "") {
		if says, is := strings.CutPrefix(task.Do, "Check the needle clamp and put in "); is {
			got = append(got, says)
		}
	}
	if !slices.Contains(got, "100/16 leather.") || !slices.Contains(got, "100/16 universal.") {
		t.Errorf("put in: %q", got)
	}
}
