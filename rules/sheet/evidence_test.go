package sheet

import (
	"encoding/json"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/search"
)

// The JSON carries the joint fix and what to measure first, and null where
// there is none.
func TestEvidenceInJSON(t *testing.T) {
	load := func(name string) Garment {
		g, err := catalog.Load("../../testdata/garments/"+name+".toml", catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		var out []Garment
		if err := json.Unmarshal([]byte(checked(t, []*rules.Planned{search.Checked(g, search.CheckOptions{Fixes: true})}, Options{Format: "json"})), &out); err != nil {
			t.Fatal(err)
		}
		return out[0]
	}
	g := load("watch-coat")
	if j := g.JointFix; j == nil || len(j.With) != 2 || j.Says == "" || !j.Proven || len(j.Lines) != 2 || j.Left != nil {
		t.Errorf("%+v", j)
	}
	if m := g.MeasureFirst; m == nil || m.Key != "cloth.shell.thickness" || len(m.Decides) == 0 || !strings.Contains(m.Says, "the thickness of shell; it decides") {
		t.Errorf("%+v", m)
	}
	if j := load("watch-coat-ready").JointFix; j != nil {
		t.Errorf("without conflicts: %+v", j)
	}
}

// What a sample has settled is neither counted nor among the findings that
// call for anything, in no format; JSON and CSV carry it with its reason.
func TestSettledInEveryFormat(t *testing.T) {
	const coat = `garment = "Coat (invented)"
units = "mm"
[machine]
foot_lift = "9 mm"
[cloth.shell]
use = "melton"
thickness = "2.6 mm"
[[closure]]
name = "front"
over = ["shell", "shell"]
reinforced = true
[closure.notion]
diameter = "20 mm"
thickness = "3 mm"
[closure.run]
length = 600
count = 5
`
	const entry = "[[settled]]\nrule = \"stack-bulky\"\nbecause = \"sewn <slowly>\"\nhave = \"5.2 mm\"\nneed = \"4 mm\"\n"
	plan := func(text string) []*rules.Planned {
		g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return []*rules.Planned{search.Checked(g, search.CheckOptions{Fixes: true})}
	}
	for _, format := range []string{"text", "markdown", "html"} {
		open, done := checked(t, plan(coat), Options{Format: format, UTF8: true}), checked(t, plan(coat+entry), Options{Format: format, UTF8: true})
		if !strings.Contains(open, "1 caution") || strings.Contains(done, "1 caution") || strings.Contains(done, "sew a sample through the real layers, slowly") {
			t.Errorf("%s:\n%s", format, done)
		}
		if !strings.Contains(done, "stack-bulky on front (sewn ") || strings.Contains(done, "<slowly>") && format == "html" {
			t.Errorf("%s does not name it:\n%s", format, done)
		}
	}
	var out []Garment
	if err := json.Unmarshal([]byte(checked(t, plan(coat+entry), Options{Format: "json"})), &out); err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, f := range out[0].Findings {
		if f.Settled != nil {
			n++
			if f.Rule != "stack-bulky" || *f.Settled != "sewn <slowly>" || f.Severity != "caution" {
				t.Errorf("%+v", f)
			}
		}
	}
	if n != 1 || out[0].Verdict != "note" {
		t.Errorf("%d are settled, the verdict is %s", n, out[0].Verdict)
	}
	if csv := checked(t, plan(coat+entry), Options{Format: "csv"}); !strings.Contains(csv, ",sewn <slowly>,\n") && !strings.Contains(csv, ",sewn <slowly>,\r\n") {
		t.Errorf("CSV:\n%s", csv)
	}
}

// A stack and a hole of a sample say so, in the working and in JSON.
func TestSampleInTheWorking(t *testing.T) {
	g, err := catalog.Read("coat.toml", []byte(`garment = "Coat (invented)"
units = "mm"
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "shell"]
reinforced = true
[closure.run]
length = 600
count = 5
[closure.measured]
stack = "5.2 mm ± 0.1"
stack_pressed = "4.4 mm"
hole_length = "33 mm"
`), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := Spec(&b, []*rules.Planned{rules.Plan(g)}, Options{Format: "text", UTF8: true, Width: 400, Working: true}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"under the hole: 5.2 mm ± 0.1 (7/32 in), from your sample; the layers by themselves: 2 × shell ",
		"pressed 4.4 mm (3/16 in), from your sample", "from your sample: the button went through a cut of 33 mm", "33 mm to cut, as on the sample",
		"thick (from your sample), over 4 mm",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the spec lacks %q:\n%s", want, b.String())
		}
	}
}
