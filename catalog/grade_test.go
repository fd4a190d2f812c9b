package catalog

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const gradedCoat = `garment = "Watch coat (invented)"
units = "in"
[sizes]
names = ["XS", "S", "M", "L", "XL"]
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "shell"]
[closure.run]
length = LENGTH
count = 5
`

// A graded length is what the sizes come to one by one: arithmetic.
func TestGraded(t *testing.T) {
	for _, c := range []struct{ graded, bySize string }{
		{`{ at = "24 in", size = "M", grade = "1/4 in" }`, `{ XS = "23 1/2 in", S = "23 3/4 in", M = "24 in", L = "24 1/4 in", XL = "24 1/2 in" }`},
		{`{ at = 24, size = "XS", grade = 0.5 }`, `{ XS = 24, S = 24.5, M = 25, L = 25.5, XL = 26 }`},
		{`{ at = "600 mm", size = "XL", grade = "6 mm" }`, `{ XS = "576 mm", S = "582 mm", M = "588 mm", L = "594 mm", XL = "600 mm" }`},
		{`{ at = "24 in", size = "M", grade = { "XS..M" = "1/4 in", "M..XL" = "3/8 in" } }`, `{ XS = "23 1/2 in", S = "23 3/4 in", M = "24 in", L = "24 3/8 in", XL = "24 3/4 in" }`},
		{`{ at = "24 in", size = "L", grade = { "XS..S" = "1/8 in", "S..XL" = "1 in" } }`, `{ XS = "21 7/8 in", S = "22 in", M = "23 in", L = "24 in", XL = "25 in" }`},
		{`{ at = "24 in ± 1/8", size = "M", grade = "-1/4 in" }`, `{ XS = "24 1/2 in ± 1/8", S = "24 1/4 in ± 1/8", M = "24 in ± 1/8", L = "23 3/4 in ± 1/8", XL = "23 1/2 in ± 1/8" }`},
		{`{ at = "24 in", size = "M", grade = 0 }`, `{ XS = 24, S = 24, M = 24, L = 24, XL = 24 }`},
	} {
		read := func(length string) *Garment {
			g, err := Read("coat.toml", []byte(strings.ReplaceAll(gradedCoat, "LENGTH", length)), Options{})
			if err != nil {
				t.Fatalf("%s: %v", length, err)
			}
			return g
		}
		g, want := read(c.graded), read(c.bySize)
		if diff := cmp.Diff(want.Closures[0].Run.Length, g.Closures[0].Run.Length); diff != "" {
			t.Errorf("%s (-by size +graded)\n%s", c.graded, diff)
		}
		if n := len(g.Grades()); n != 1 || len(want.Grades()) != 0 {
			t.Errorf("%s: %d graded lengths", c.graded, n)
		}
	}
}

// A change of one size of a graded length writes what holds in the others,
// and a change of its keys keeps it graded.
func TestGradedChanges(t *testing.T) {
	text := strings.ReplaceAll(gradedCoat, "LENGTH", `{ at = "24 in", size = "M", grade = { "XS..M" = "1/4 in", "M..XL" = "3/8 in" } } # as drafted`)
	g, err := Read("coat.toml", []byte(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ with, line string }{
		{"closure.front.run.length.S=23 in", `length = { L = "24 3/8 in", M = "24 in", S = "23 in", XL = "24 3/4 in", XS = "23 1/2 in" } # as drafted`},
		{"closure.front.run.length.at=25 in", `length = { at = "25 in", size = "M", grade = { "XS..M" = "1/4 in", "M..XL" = "3/8 in" } } # as drafted`},
		{"closure.front.run.length.size=L", `length = { at = "24 in", size = "L", grade = { "XS..M" = "1/4 in", "M..XL" = "3/8 in" } } # as drafted`},
		{"closure.front.run.length.grade=1/2 in", `length = { at = "24 in", size = "M", grade = "1/2 in" } # as drafted`},
		{`closure.front.run.length.grade."XS..M"=1/2 in`, `length = { at = "24 in", size = "M", grade = { "XS..M" = "1/2 in", "M..XL" = "3/8 in" } } # as drafted`},
		{"closure.front.run.length=22 in", `length = "22 in" # as drafted`},
	} {
		w, err := ParseWith(c.with)
		if err != nil {
			t.Fatal(err)
		}
		altered, err := g.Alter(w)
		if err != nil {
			t.Errorf("%s: %v", c.with, err)
			continue
		}
		written, _, err := g.Rewrite(w)
		if err != nil {
			t.Errorf("%s: %v", c.with, err)
			continue
		}
		if !strings.Contains(string(written), "\n"+c.line+"\n") {
			t.Errorf("%s: wrote\n%s\nwant %s", c.with, written, c.line)
		}
		again, err := Read("coat.toml", written, Options{})
		if err != nil {
			t.Errorf("%s: %v", c.with, err)
			continue
		}
		if diff := cmp.Diff(again.Closures[0].Run.Length, altered.Closures[0].Run.Length); diff != "" {
			t.Errorf("%s (-written +altered)\n%s", c.with, diff)
		}
	}
	for with, want := range map[string]string{
		"closure.front.run.first.grade=1/4 in":   `closure.front.run.first is not graded; write 'closure.front.run.first={ at = "24 in", size = "M", grade = "1/4 in" }'`,
		"closure.front.run.length.at.M=1/4 in":   `closure.front.run.length.at holds one value and has no key "M"; write closure.front.run.length.at=…`,
		"closure.front.run.length.grade.a.b=1":   `closure.front.run.length.grade holds one value and has no key "a"; write closure.front.run.length.grade=…`,
		"closure.front.run.length.XXL=1/4 in":    `the garment has no size "XXL"; write closure.front.run.length.XL=…`,
		"closure.front.run.length.grade=3 ft":    `the grade leaves nothing of length in size XS`,
		"closure.front.run.length.grade=1/4 inn": `there is no unit of length "inn"`,
	} {
		w, _ := ParseWith(with)
		_, err := g.Alter(w)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, want %s", with, err, want)
		}
	}
}

// Every length by size can be graded, in limits, anchors and zones too, and
// all of it altered size by size.
func TestGradedEverywhere(t *testing.T) {
	const g = `{ at = "AT in", size = "M", grade = "1/8 in" }`
	grade := func(at string) string { return strings.ReplaceAll(g, "AT", at) }
	text := strings.ReplaceAll(gradedCoat, "LENGTH", grade("24")) + `first = { min = ` + grade("1") + `, max = ` + grade("2") + ` }
last = ` + grade("4") + `
gap = { min = ` + grade("2") + `, max = ` + grade("9") + ` }
hem = ` + grade("2") + `
anchor = [ { name = "bust", at = ` + grade("8") + `, within = ` + grade("3") + ` } ]
clear = [ { name = "belt", from = ` + grade("14") + `, to = ` + grade("15") + ` } ]
`
	read, err := Read("coat.toml", []byte(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var keys []string
	for _, k := range read.Grades() {
		keys = append(keys, k.Key)
		if k.Base != "M" || len(k.Lengths) != 5 || !read.Stated(k.Path) {
			t.Errorf("%+v", k)
		}
		key := Key("closure", k.Closure) + "." + k.Key + ".S"
		with := SetLength(key, k.Lengths[1].V, read.Units)
		altered, err := read.Alter(with)
		if err != nil {
			t.Errorf("%s: %v", key, err)
			continue
		}
		if diff := cmp.Diff(read.Closures[0].Run, altered.Closures[0].Run); diff != "" {
			t.Errorf("%s set to what it is (-before +after)\n%s", key, diff)
		}
	}
	want := []string{"run.length", "run.first.min", "run.first.max", "run.last", "run.gap.min", "run.gap.max", "run.anchor.bust.at", "run.anchor.bust.within", "run.clear.belt.from", "run.clear.belt.to", "run.hem"}
	if diff := cmp.Diff(want, keys); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}
