package catalog

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/rogpeppe/go-internal/txtar"
)

// house reads coat.toml of an archive whose other files lie beside it.
func house(t *testing.T, archive string, opts Options) (*Garment, error) {
	t.Helper()
	files := map[string]string{}
	for _, f := range txtar.Parse([]byte(archive)).Files {
		files[f.Name] = string(f.Data)
	}
	opts.ReadFile = func(name string) ([]byte, error) {
		if text, ok := files[name]; ok {
			return []byte(text), nil
		}
		return nil, os.ErrNotExist
	}
	return Load("coat.toml", opts)
}

const tarnQuay = `
-- house.toml --
# Tarn Quay's house file (invented)
units = "mm"
[sizes]
names = ["S", "M", "L"]
[machine]
foot_lift = 7
buttonhole_max = "28 mm"
[cloth.shell]
use = "melton"
thickness = 2.4
[cloth.lining]
use = "melton"
[[closure]]
name = "cuff"
use = "horn-30"
over = ["shell", "shell"]
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "shell", "shell"]
[closure.stand]
seam = 15
[closure.run]
length = { S = 580, M = 600, L = 620 }
first = 30
count = 5
gap = { min = 50, max = 160 }
anchor = [ { name = "bust", at = 200, within = 60 } ]
-- coat.toml --
base = "house.toml"
garment = "Watch coat (invented)"
units = "in"
[machine]
buttonhole_max = 1.5
[cloth.shell]
repeat = { along = 3 }
[[closure]]
name = "front"
over = ["shell", "lining"]
[closure.run]
first = 1.25
gap = { max = 7 }
`

// A garment with its base is the garment that a person would write in one
// file: the tables put together by hand.
func TestBaseIsOneFile(t *testing.T) {
	g, err := house(t, tarnQuay, Options{})
	if err != nil {
		t.Fatal(err)
	}
	want, err := Read("coat.toml", []byte(`garment = "Watch coat (invented)"
units = "in"
[sizes]
names = ["S", "M", "L"]
[machine]
foot_lift = "7 mm"
buttonhole_max = "1 1/2 in"
[cloth.shell]
use = "melton"
thickness = "2.4 mm"
repeat = { along = "3 in" }
[cloth.lining]
use = "melton"
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "lining"]
[closure.stand]
seam = "15 mm"
[closure.run]
length = { S = "580 mm", M = "600 mm", L = "620 mm" }
first = "1 1/4 in"
count = 5
gap = { min = "50 mm", max = "7 in" }
anchor = [ { name = "bust", at = "200 mm", within = "60 mm" } ]
`), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, g, cmpopts.IgnoreUnexported(Garment{}, Catalog{}), cmpopts.IgnoreUnexported(Closure{}, Run{}), cmpopts.IgnoreFields(Garment{}, "Catalog")); diff != "" {
		t.Errorf("(-one file +base)\n%s", diff)
	}
	for path, at := range map[string]string{
		"units":                       "coat.toml:3:9",
		"sizes.names":                 "house.toml:4:9",
		"machine.foot_lift":           "house.toml:6:13",
		"machine.buttonhole_max":      "coat.toml:5:18",
		"cloth.shell":                 "coat.toml:6:1",
		"cloth.shell.thickness":       "house.toml:10:13",
		"cloth.shell.repeat.along":    "coat.toml:7:20",
		"cloth.shell.weight":          "coat.toml:6:1",
		"cloth.lining.use":            "house.toml:12:7",
		"closure[0]":                  "coat.toml:8:1",
		"closure[0].use":              "house.toml:19:7",
		"closure[0].over[1]":          "coat.toml:10:18",
		"closure[0].over[2]":          "coat.toml:10:8",
		"closure[0].stand":            "house.toml:21:1",
		"closure[0].stand.extension":  "house.toml:21:1",
		"closure[0].run":              "coat.toml:11:1",
		"closure[0].run.length.M":     "house.toml:24:25",
		"closure[0].run.gap.min":      "house.toml:27:15",
		"closure[0].run.gap.max":      "coat.toml:13:15",
		"closure[0].run.anchor[0].at": "house.toml:28:34",
		"closure.front.use":           "house.toml:19:7",
		"care":                        "coat.toml:1:1",
	} {
		if got := g.At(path).String(); got != at {
			t.Errorf("%s is at %s, want %s", path, got, at)
		}
	}
	if diff := cmp.Diff([]string{"shell", "lining"}, g.ClothNames); diff != "" {
		t.Error(diff)
	}
}

// Changes of a garment with a base are those of the one file, and are written
// into its own file, never the base, so that it reads back the same.
func TestBaseIsNeverWritten(t *testing.T) {
	g, err := house(t, tarnQuay, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ with, line string }{
		{"closure.front.run.first=2", `first = 2`},
		{"closure.front.run.length.M=24", `length = { L = "620 mm", M = 24, S = "580 mm" }`},
		{"closure.front.run.count=6", `count = 6`},
		{"closure.front.run.count.M=6", `count = { L = 5, M = 6, S = 5 }`},
		{"closure.front.use=horn-36", `use  = "horn-36"`},
		{"cloth.shell.thickness=2 mm", `thickness = "2 mm"`},
		{"cloth.lining.thickness=2 mm", `thickness = "2 mm"`},
		{"machine.foot_lift=8 mm", `foot_lift      = "8 mm"`},
		{"closure.front.run.anchor.bust.at=9", `anchor = [{ at = 9, name = "bust", within = "60 mm" }]`},
		{"closure.front.stand.extension=3", `extension = 3`},
		{"closure.front.run.gap.min=2", `gap = { max = 7, min = 2 }`},
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
		text, _, err := g.Rewrite(w)
		if err != nil {
			t.Errorf("%s: %v", c.with, err)
			continue
		}
		if !strings.Contains(string(text), c.line) {
			t.Errorf("%s: no %s in\n%s", c.with, c.line, text)
		}
		before, _, _ := strings.Cut(tarnQuay, "-- coat.toml --\n")
		again, err := house(t, before+"-- coat.toml --\n"+string(text), Options{})
		if err != nil {
			t.Errorf("%s: %v in\n%s", c.with, err, text)
			continue
		}
		if diff := cmp.Diff(again, altered, cmpopts.IgnoreUnexported(Garment{}, Catalog{}, Closure{}, Run{}), cmpopts.IgnoreFields(Garment{}, "Catalog")); diff != "" {
			t.Errorf("%s (-written +altered)\n%s", c.with, diff)
		}
	}
	for with, want := range map[string]string{
		"closure.front.run.anchor=":        "closure.front.run.anchor stands in the base, house.toml:28:10, and cannot be taken out here",
		"cloth.shell={ use = \"melton\" }": "the base, house.toml, says more of it, which cannot be taken out here",
	} {
		w, _ := ParseWith(with)
		if _, err := g.Alter(w); err != nil {
			t.Errorf("%s: %v", with, err)
		}
		if _, _, err := g.Rewrite(w); err == nil || err.Error() != want {
			t.Errorf("%s: got %v, want %s", with, err, want)
		}
	}
	before, _, _ := strings.Cut(tarnQuay, "-- coat.toml --\n")
	withSettled := before + "[[settled]]\nrule = \"stack-bulky\"\nclosure = \"front\"\nbecause = \"house sample\"\nhave = \"5 mm\"\nneed = \"4 mm\"\n"
	_, own, _ := strings.Cut(tarnQuay, "-- coat.toml --\n")
	g, err = house(t, withSettled+"-- coat.toml --\n"+own, Options{})
	if err != nil {
		t.Fatal(err)
	}
	text, _, err := g.Settle(Settled{Rule: "needle-thread", Because: "sewn", While: []string{"closure.front.use=horn-40"}})
	if err != nil {
		t.Fatal(err)
	}
	again, err := house(t, withSettled+"-- coat.toml --\n"+string(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(again.Settled) != 2 || again.Settled[0].Because != "house sample" || again.Settled[1].Rule != "needle-thread" {
		t.Errorf("settled: %+v", again.Settled)
	}
}

// Bases upon bases: the nearest file wins, catalogues of all are read, the
// base's first, and what a house file says wrong is told in the house file.
func TestBasesUponBases(t *testing.T) {
	const chain = `
-- range.toml --
units = "mm"
catalog = ["range-notions.toml"]
[sizes]
names = ["S", "M"]
[[closure]]
name = "front"
over = ["shell", "shell"]
use = "quay-30"
[closure.run]
count = 5
length = 600
-- range-notions.toml --
[[button]]
name = "quay-30"
source = "measured (invented)"
diameter = "19 mm"
thickness = "4 mm"
-- house.toml --
base = "range.toml"
wearer = "adult"
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
[closure.run]
count = 6
-- notions.toml --
[[button]]
name = "quay-30"
source = "measured (invented)"
diameter = "20 mm"
thickness = "4 mm"
-- coat.toml --
garment = "Quay coat (invented)"
base = "house.toml"
catalog = ["notions.toml"]
[[closure]]
name = "front"
`
	g, err := house(t, chain, Options{})
	if err != nil {
		t.Fatal(err)
	}
	c := &g.Closures[0]
	if got := c.Notion.Diameter.V.MM(); got != 20 || c.Run.Count[0].Min != 6 || g.Units.String() != "mm" || c.Run.Length[0].V.MM() != 600 {
		t.Errorf("%v, %v, %v, %v", got, c.Run.Count, g.Units, c.Run.Length)
	}
	for path, at := range map[string]string{"closure[0].run.count": "house.toml:8:9", "closure[0].run.length": "range.toml:11:10", "closure[0].use": "range.toml:8:7"} {
		if got := g.At(path).String(); got != at {
			t.Errorf("%s is at %s, want %s", path, got, at)
		}
	}
	for old, c := range map[string][2]string{
		"count = 6":             {"count = -6", `house.toml:8:9: count is -6, but must lie between 1 and 200`},
		"wearer = \"adult\"":    {"waerer = \"adult\"", `house.toml:2:1: unknown key "waerer"`},
		"length = 600":          {"length = 600000", `range.toml:11:10: length is too much: 10000 mm (393 11/16 in) is the most`},
		"use = \"melton\"":      {"use = \"meltan\"", `house.toml:4:7: the catalogue has no cloth "meltan"`},
		"base = \"range.toml\"": {"base = \"coat.toml\"", `coat.toml:2:8: the bases go in a circle: it comes back to this file by house.toml:1:8`},
	} {
		_, err := house(t, strings.Replace(chain, old, c[0], 1), Options{})
		var ps source.Problems
		if !errors.As(err, &ps) || !strings.Contains(err.Error(), c[1]) {
			t.Errorf("%s: got %v, want %s", c[0], err, c[1])
		}
	}
}

// A base may not lie above the root, nor reach above it by a base of its own.
func TestBaseBelowTheRoot(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "a", "b")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	write := func(name, text string) {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	coat := filepath.Join(dir, "coat.toml")
	write(filepath.Join(top, "secret.toml"), "units = \"in\"\n")
	write(filepath.Join(top, "a", "house.toml"), "base = \"../secret.toml\"\n")
	write(coat, "garment = \"x\"\nbase = \"../house.toml\"\n")
	if _, err := Load(coat, Options{}); err == nil || !strings.Contains(err.Error(), "house.toml:1:8: the base ../secret.toml lies outside") {
		t.Errorf("got %v", err)
	}
	write(coat, "garment = \"x\"\nbase = \"../../secret.toml\"\n")
	if _, err := Load(coat, Options{}); err == nil || !strings.Contains(err.Error(), "coat.toml:2:8: the base ../../secret.toml lies outside") {
		t.Errorf("got %v", err)
	}
}

// What a base keeps or has settled for other garments is no fault here.
func TestBaseOfOthers(t *testing.T) {
	g, err := house(t, strings.Replace(tarnQuay, "units = \"mm\"\n", "units = \"mm\"\nkeep = [\"closure.cuff.use\", \"cloth\"]\n", 1)+"", Options{})
	if err != nil {
		t.Fatal(err)
	}
	if g.Kept(Set("cloth.shell.use", "tweed")) == "" || g.Kept(Set("closure.front.use", "horn-30")) != "" {
		t.Errorf("keeps %v", g.Keep)
	}
	before, own, _ := strings.Cut(tarnQuay, "-- coat.toml --\n")
	settled := "[[settled]]\nrule = \"stack-bulky\"\nclosure = \"cuff\"\nbecause = \"house sample\"\nhave = \"5 mm\"\nneed = \"4 mm\"\n"
	if _, err = house(t, before+settled+"-- coat.toml --\n"+own, Options{}); err != nil {
		t.Error(err)
	}
	if _, err = house(t, tarnQuay+settled, Options{}); err == nil || !strings.Contains(err.Error(), `the garment has no closure "cuff"`) {
		t.Errorf("an entry of its own: %v", err)
	}
}

// A graded length of a base is altered size by size as one of the file itself,
// and what is written here holds in every size, in the base's units.
func TestGradedInABase(t *testing.T) {
	graded := strings.Replace(tarnQuay, "length = { S = 580, M = 600, L = 620 }", "length = { at = 600, size = \"M\", grade = 20 }", 1)
	g, err := house(t, graded, Options{})
	if err != nil {
		t.Fatal(err)
	}
	w := SetLength("closure.front.run.length.L", 25*measure.Inch, g.Units)
	altered, err := g.Alter(w)
	if err != nil {
		t.Fatal(err)
	}
	text, _, err := g.Rewrite(w)
	if err != nil {
		t.Fatal(err)
	}
	before, _, _ := strings.Cut(graded, "-- coat.toml --\n")
	again, err := house(t, before+"-- coat.toml --\n"+string(text), Options{})
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	for _, x := range []*Garment{altered, again} {
		l := x.Closures[0].Run.Length
		if l.At(0).V != 580*mm || l.At(1).V != 600*mm || l.At(2).V != 25*measure.Inch {
			t.Errorf("%v in\n%s", l, text)
		}
	}
	if got := altered.At("closure[0].run.length.S").File; strings.HasPrefix(got, "house") {
		t.Errorf("a size of an altered length stands in %s", got)
	}
}
