package rules

import (
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"

	"github.com/google/go-cmp/cmp"
)

// threeSizes has one run too short for its buttons in three sizes, each by
// another figure, and a thread too fine for the cloth of both closures.
const threeSizes = `garment = "Test"
units = "mm"
[sizes]
names = ["S", "M", "L"]
[cloth.shell]
use = "melton"
weight = "620 g/m2"
thickness = "2.4 mm"
[thread.seam]
use = "polyester-tex-24"
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "shell"]
thread = "seam"
[closure.run]
length = 600
first = { S = 6, M = 4, L = 11 }
count = 5
[[closure]]
name = "flap"
where = "pocket"
use = "horn-40"
over = ["shell", "shell"]
thread = "seam"
[closure.run]
length = 40
count = 1
`

func gathered(t *testing.T, text string) (*Planned, []Entry) {
	t.Helper()
	g, err := catalog.Read("test.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := Plan(g)
	return p, Gather(p.Findings)
}

func entryOf(t *testing.T, es []Entry, rule string) *Entry {
	t.Helper()
	i := slices.IndexFunc(es, func(e Entry) bool { return e.Rule == rule })
	if i < 0 {
		t.Fatalf("nothing of %s", rule)
	}
	if slices.ContainsFunc(es[i+1:], func(e Entry) bool { return e.Rule == rule }) {
		t.Fatalf("%s stands more than once", rule)
	}
	return &es[i]
}

// One key by size is one cause: the figures are the worst, and the sizes stand
// as the garment has them.
func TestGatherOverSizes(t *testing.T) {
	p, es := gathered(t, threeSizes)
	var have []float64
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Rule == "first-high" {
			have = append(have, f.Have)
		}
	}
	if !slices.Equal(have, []float64{6, 4, 11}) {
		t.Fatalf("the sizes stand as %v", have)
	}
	e := entryOf(t, es, "first-high")
	if e.Severity != Conflict || e.Size != "M" || e.Have != 4 {
		t.Errorf("%s of size %s with %v mm is not the worst", e.Severity, e.Size, e.Have)
	}
	if got := e.Sizes(); !slices.Equal(got, []string{"S", "M", "L"}) {
		t.Errorf("sizes %v", got)
	}
	places := e.Places(measure.MM)
	if len(places) != 3 || places[0].Says != "" || places[0].Sizes[0] != "M" {
		t.Fatalf("the worst is not said first: %+v", places)
	}
	// What else is said tells the sizes apart by what they have.
	for i, w := range []string{"6 mm", "11 mm"} {
		if !strings.HasPrefix(places[i+1].Says, w) && !strings.Contains(places[i+1].Says, " "+w) {
			t.Errorf("%+v does not say %s", places[i+1], w)
		}
	}
}

// A key of the garment that two closures share is one cause, and both are named.
func TestGatherOverClosures(t *testing.T) {
	_, es := gathered(t, threeSizes)
	e := entryOf(t, es, "thread-cloth")
	if diff := cmp.Diff([]string{"front", "flap"}, e.Closures(), cmp.Transformer("sorted", func(s []string) map[string]bool {
		m := map[string]bool{}
		for _, x := range s {
			m[x] = true
		}
		return m
	})); diff != "" {
		t.Errorf("closures (-want +got):\n%s", diff)
	}
	if len(e.Sizes()) != 0 {
		t.Errorf("sizes %v", e.Sizes())
	}
}

// made is a finding about a key, with its figures.
func made(sev Severity, closure, size, path string, margin float64) Finding {
	f := Finding{Rule: "stand-narrow", Severity: sev, Closure: closure, Size: size, Numbers: Numbers{Have: 10 + margin, Need: 10, Margin: margin, Unit: "mm", Compared: true}}
	return f.At(path).Saying("it has %s", Said{l: measure.FromMM(10 + margin), u: measure.MM})
}

// What is not one cause stays apart: another key, another rule, another unit,
// and words about nothing that was compared.
func TestGatherKeepsApart(t *testing.T) {
	one := made(Caution, "front", "", "closure[0].stand", -1)
	other := made(Caution, "flap", "", "closure[1].stand", -1)
	unit := one
	unit.Unit = "%"
	rule := one
	rule.Rule = "stand-none"
	words := Finding{Rule: "stand-narrow", Closure: "front"}.At("closure[0].stand")
	a, b := words.Saying("one thing"), words.Saying("another")
	if es := Gather([]Finding{one, other, unit, rule, a, b}); len(es) != 6 {
		t.Errorf("%d entries of six causes", len(es))
	}
	a2 := a
	a2.Size = "M"
	if es := Gather([]Finding{a, a2}); len(es) != 1 || len(es[0].Where) != 2 {
		t.Errorf("the same words are %d causes", len(es))
	}
}

// The gravest is the worst, then the smallest margin; the fixes of all come
// along, those of the worst first and each once, and nothing that was handed in
// is changed.
func TestGatherReadsAsTheWorst(t *testing.T) {
	fix := func(value string) Fix {
		return Fix{With: []catalog.With{catalog.Set("closure.front.use", value)}, Says: "use " + value}
	}
	s, m, l := made(Caution, "front", "S", "closure[0].stand.S", -9), made(Conflict, "front", "M", "closure[0].stand.M", -2), made(Conflict, "front", "L", "closure[0].stand.L", -3)
	s.Fixes, m.Fixes, l.Fixes = []Fix{fix("horn-24")}, []Fix{fix("horn-30"), fix("horn-24")}, []Fix{fix("horn-36")}
	fs := []Finding{s, m, l}
	es := Gather(fs)
	if len(es) != 1 || es[0].Size != "L" || es[0].Margin != -3 {
		t.Fatalf("%+v", es)
	}
	var says []string
	for _, x := range es[0].Fixes {
		says = append(says, x.Says)
	}
	if diff := cmp.Diff([]string{"use horn-36", "use horn-24", "use horn-30"}, says); diff != "" {
		t.Errorf("fixes (-want +got):\n%s", diff)
	}
	if len(fs[2].Fixes) != 1 || fs[0].Size != "S" {
		t.Error("the findings were changed")
	}
	want := []Place{
		{"front", []string{"L"}, Conflict, ""},
		{"front", []string{"S"}, Caution, "1 mm, at least 10 mm"},
		{"front", []string{"M"}, Conflict, "8 mm, at least 10 mm"},
	}
	if diff := cmp.Diff(want, es[0].Places(measure.MM)); diff != "" {
		t.Errorf("places (-want +got):\n%s", diff)
	}
}

// What one rule says of the same key of several closures is one thing, however
// the key is named.
func TestAlikeOverClosures(t *testing.T) {
	report := func(at place, have float64) Finding {
		return Finding{Rule: "foot-lift", Severity: Caution, Closure: at.String(), place: at, Numbers: Numbers{Have: have, Need: 6, Margin: 6 - have, Unit: "mm", Compared: true}}
	}
	es := Gather([]Finding{report(whole("closure[0].over"), 6.2), report(place{1, "over"}, 6.9), report(whole("closure[2].under"), 8)})
	got := Alike(es, measure.MM, func(*Entry) bool { return true })
	if len(got) != 2 || len(got[0]) != 2 || got[0][0].Have != 6.9 {
		t.Errorf("%d kinds; the first has %d, its worst is %g", len(got), len(got[0]), got[0][0].Have)
	}
}
