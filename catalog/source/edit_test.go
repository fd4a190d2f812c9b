package source

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const editText = `# A coat.
garment = "Coat"   # its name
units   = "in"

[cloth.shell]
use = "melton"

# The front.
[[closure]]
name = "front"
use  = "horn-40"
over = ["shell", "shell"]
stand.finished = "1 in"

[closure.run]
length = { S = 24, M = "24 1/2 in" } # neck to hem
count  = 5
anchor = [
  { name = "bust", at = "8 in" },
  { name = "waist", at = "15 in" },
]

[[closure]]
name = "flap"
[closure.notion]
diameter  = "20 mm"
thickness = "3 mm"
`

func TestEdit(t *testing.T) {
	for _, c := range []struct {
		name   string
		assign []Assignment
		want   []Edit
	}{
		{"a value in its place, its comment kept", []Assignment{{Path: "garment", Value: "Jacket"}},
			[]Edit{{2, false, `garment = "Jacket"   # its name`}}},
		{"a value in an inline table", []Assignment{{Path: "closure[0].run.length.S", Value: "25 in"}},
			[]Edit{{16, false, `length = { S = "25 in", M = "24 1/2 in" } # neck to hem`}}},
		{"one value for a table", []Assignment{{Path: "closure[0].run.length", Value: int64(26)}},
			[]Edit{{16, false, `length = 26 # neck to hem`}}},
		{"a value in a list over several lines", []Assignment{{Path: "closure[0].run.anchor[1].within", Value: "1/2 in"}},
			[]Edit{{20, false, `  { name = "waist", at = "15 in", within = "1/2 in" },`}}},
		{"a list over several lines", []Assignment{{Path: "closure[0].run.anchor", Value: []any{}}},
			[]Edit{{18, false, `anchor = []`}, {19, false, `#   { name = "bust", at = "8 in" },`}, {20, false, `#   { name = "waist", at = "15 in" },`}, {21, false, `# ]`}}},
		{"a new key stands below the others, its sign under theirs", []Assignment{{Path: "closure[0].run.step", Value: "1/4 in"}},
			[]Edit{{21, true, `step = "1/4 in"`}}},
		{"a new key of a closure", []Assignment{{Path: "closure[0].hole", Value: "hand"}},
			[]Edit{{13, true, `hole           = "hand"`}}},
		{"a new dotted key", []Assignment{{Path: "closure[0].stand.band", Value: "2 in"}},
			[]Edit{{13, true, `stand.band     = "2 in"`}}},
		{"a table that is not there", []Assignment{{Path: "closure[1].run.count", Value: int64(1)}},
			[]Edit{{24, true, `run.count = 1`}}},
		{"the first item of a list", []Assignment{{Path: "closure[1].run.anchor[0]", Value: map[string]any{"at": int64(4)}}},
			[]Edit{{24, true, `run.anchor = [{ at = 4 }]`}}},
		{"a key of the file itself", []Assignment{{Path: "market", Value: "eu"}},
			[]Edit{{3, true, `market  = "eu"`}}},
		{"a named table beside others", []Assignment{{Path: "cloth.lining", Value: map[string]any{"use": "lining-viscose", "thickness": "0.2 mm"}}},
			[]Edit{{6, true, ""}, {6, true, `[cloth.lining]`}, {6, true, `thickness = "0.2 mm"`}, {6, true, `use = "lining-viscose"`}}},
		{"the first named table of its kind", []Assignment{{Path: "interfacing.front", Value: map[string]any{"use": "hair-canvas"}}},
			[]Edit{{6, true, ""}, {6, true, `[interfacing.front]`}, {6, true, `use = "hair-canvas"`}}},
		{"other keys for a table", []Assignment{{Path: "cloth.shell", Value: map[string]any{"use": "duck", "weight": "400 g/m2"}}},
			[]Edit{{5, true, `use = "duck"`}, {5, true, `weight = "400 g/m2"`}, {6, false, `# use = "melton"`}}},
		{"a table taken out", []Assignment{{Path: "closure[1].notion", Out: true}, {Path: "closure[1].use", Value: "horn-30"}},
			[]Edit{{24, true, `use  = "horn-30"`}, {25, false, `# [closure.notion]`}, {26, false, `# diameter  = "20 mm"`}, {27, false, `# thickness = "3 mm"`}}},
		{"a key of an inline table taken out", []Assignment{{Path: "closure[0].run.length.S", Out: true}},
			[]Edit{{16, false, `length = { M = "24 1/2 in" } # neck to hem`}}},
		{"a key taken out that is not there", []Assignment{{Path: "closure[0].hole", Out: true}}, nil},
		{"two keys of one table", []Assignment{{Path: "closure[0].run.count", Value: int64(6)}, {Path: "closure[0].run.first", Value: "1 in"}},
			[]Edit{{17, false, `count  = 6`}, {21, true, `first = "1 in"`}}},
		{"text that must be escaped", []Assignment{{Path: "garment", Value: `12" coat`}},
			[]Edit{{2, false, `garment = "12\" coat"   # its name`}}},
	} {
		for _, end := range []string{"\n", "\r\n"} {
			d, err := Parse("coat.toml", []byte(strings.ReplaceAll(editText, "\n", end)))
			if err != nil {
				t.Fatal(err)
			}
			text, edits, err := d.Edit(c.assign...)
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
				continue
			}
			if diff := cmp.Diff(c.want, edits); diff != "" {
				t.Errorf("%s: edits (-want +got):\n%s", c.name, diff)
			}
			// The text holds what Set makes of the values, and nothing else has changed.
			want := d
			for _, a := range c.assign {
				if a.Out {
					want, err = want.Unset(a.Path, "")
				} else {
					want, err = want.Set(a.Path, a.Value, "")
				}
				if err != nil {
					t.Fatal(err)
				}
			}
			got, err := Parse("coat.toml", text)
			if err != nil {
				t.Errorf("%s: %v in\n%s", c.name, err, text)
				continue
			}
			if diff := cmp.Diff(want.Root, got.Root); diff != "" {
				t.Errorf("%s: values (-want +got):\n%s", c.name, diff)
			}
		}
	}
}

// What cannot be written is refused, never half written.
// A remark of what was said is of the value that was made from it: beside
// another it says so, once; beside what stays, and beside remarks of another
// hand, nothing changes.
func TestEditOfWhatWasSaid(t *testing.T) {
	const text = `use    = "melton"  # you said: thick melton
weight = "746 g/m2"  # you said: thick melton
length = { S = "24 in", M = "# you said: x" }  # you said: S 24 in
count  = 5 # mine; # you said: 5
`
	for _, c := range []struct {
		path  string
		value any
		want  string
	}{
		{"use", "denim", `use    = "denim"  # at first you said: thick melton`},
		{"use", "melton", `use    = "melton"  # you said: thick melton`},
		{"length.S", "25 in", `length = { S = "25 in", M = "# you said: x" }  # at first you said: S 24 in`},
		{"length", "25 in", `length = "25 in"  # at first you said: S 24 in`},
		{"count", int64(6), `count  = 6 # mine; # you said: 5`},
	} {
		d, err := Parse("coat.toml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		once, _, err := d.Edit(Assignment{Path: c.path, Value: c.value})
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(once), c.want+"\n") {
			t.Errorf("%s: no line %s in\n%s", c.path, c.want, once)
		}
		if n := strings.Count(string(once), "\n"); n != 4 {
			t.Errorf("%s: %d lines", c.path, n)
		}
		again, err := Parse("coat.toml", once)
		if err != nil {
			t.Fatal(err)
		}
		twice, _, err := again.Edit(Assignment{Path: c.path, Value: "2 m"})
		if err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(string(twice), "at first"); n > 1 || n == 0 && c.path != "count" {
			t.Errorf("%s: %s", c.path, twice)
		}
	}
}

func TestEditRefuses(t *testing.T) {
	d, err := Parse("coat.toml", []byte(editText))
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range []Assignment{
		{Path: "", Value: "x"},
		{Path: "closure[7].use", Value: "x"},
		{Path: "cloth", Value: map[string]any{}},
		{Path: "garment.x", Value: "x"},
	} {
		if text, _, err := d.Edit(a); err == nil {
			t.Errorf("%q: no error, text\n%s", a.Path, text)
		}
	}
}
