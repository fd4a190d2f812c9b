package rules

import (
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// sampleCoat is a coat in millimetres: three layers, 2.4 + 0.4 + 2.4 = 5.2 mm,
// and a flat button of 25.4 + 5 = 30.4 mm to pass.
const sampleCoat = `garment = "Coat (invented)"
units = "mm"
[machine]
use = "domestic"
foot_lift = "6 mm"
buttonhole_max = "40 mm"
[cloth.shell]
use = "melton"
%THICK
[interfacing.inner]
use = "hair-canvas"
thickness = "0.4 mm"
[[closure]]
name = "front"
over = ["shell", "inner", "shell"]
%KEYS
[closure.notion]
diameter = "25.4 mm"
thickness = "5 mm"
[closure.stand]
finished = "30 mm"
facing = "90 mm"
[closure.run]
length = 600
count = 5
[closure.measured]
%SAMPLE
`

func sampled(t *testing.T, thick, keys, sample string) *Planned {
	t.Helper()
	text := strings.NewReplacer("%THICK", thick, "%KEYS", keys, "%SAMPLE", sample).Replace(sampleCoat)
	g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return Plan(g)
}

func foundBy(p *Planned, rule string) *Finding {
	for i := range p.Findings {
		if p.Findings[i].Rule == rule {
			return &p.Findings[i]
		}
	}
	return nil
}

// The stack of a sample takes the place of the sum of the layers, with its own
// ± and on the ground of what was read (arithmetic).
func TestSampleStackWins(t *testing.T) {
	const mm10 = measure.Millimetre / 10
	const thick = `thickness = "2.4 mm ± 0.2"`
	p := sampled(t, thick, "", "")
	if k := &p.Closures[0]; k.Over.Thick != 52*mm10 || k.Over.Tol != 4*mm10 || k.Over.Sampled() {
		t.Errorf("without a sample: %v ± %v", k.Over.Thick, k.Over.Tol)
	}
	p = sampled(t, thick, "", `stack = "4.8 mm ± 0.1"`)
	for _, s := range []*plan.Stack{&p.Closures[0].Over, &p.Closures[0].Under} {
		if s.Thick != 48*mm10 || s.Tol != mm10 || !s.Sampled() || s.Estimated {
			t.Errorf("with a sample: %v ± %v", s.Thick, s.Tol)
		}
		if b := s.Basis(); b.Ground != plan.Read || b.Tol != mm10 || b.Key != "closure.front.measured.stack" {
			t.Errorf("it rests on %+v", b)
		}
	}
	// Pressed it keeps its share: melton to 0.7 or whatever the kind says.
	plain := sampled(t, thick, "", "").Closures[0].Over
	if got, want := p.Closures[0].Over.Pressed, plan.Scale(plain.Pressed, 48.0/52); (got - want).Abs() > 10 {
		t.Errorf("pressed %v, the share of %v", got, want)
	}
	p = sampled(t, thick, "", "stack = \"4.8 mm\"\nstack_pressed = \"4.1 mm ± 0.1\"\nstack_under = \"3 mm\"")
	k := &p.Closures[0]
	if k.Over.Pressed != 41*mm10 || k.Over.PressedBasis().Key != "closure.front.measured.stack_pressed" || k.Under.Thick != 30*mm10 {
		t.Errorf("pressed %v on %+v, under %v", k.Over.Pressed, k.Over.PressedBasis(), k.Under.Thick)
	}
	// Layers of their own under the fastener are not those of the sample.
	p = sampled(t, thick, `under = ["shell", "shell"]`, `stack = "4.4 mm"`)
	if k := &p.Closures[0]; k.Over.Thick != 44*mm10 || k.Under.Thick != 48*mm10 || k.Under.Sampled() {
		t.Errorf("over %v, under %v", k.Over.Thick, k.Under.Thick)
	}
}

// An estimate that only may be too thick is a caution; the sample decides it.
func TestSampleStackDecides(t *testing.T) {
	const heavy = `weight = "800 g/m2"`
	p := sampled(t, heavy, "", "")
	if f := foundBy(p, "foot-lift"); f == nil || f.Severity != Caution || !f.Unsure {
		t.Fatalf("by estimate: %+v", f)
	}
	if foundBy(p, "thickness-estimated") == nil {
		t.Error("the estimate is not told")
	}
	p = sampled(t, heavy, "", `stack = "6.4 mm ± 0.1"`)
	f := foundBy(p, "foot-lift")
	if f == nil || f.Severity != Conflict || !strings.Contains(f.Message(), "from your sample") {
		t.Errorf("a sample of 6.4 ± 0.1 under 6 mm: %+v", f)
	}
	if foundBy(p, "thickness-estimated") != nil {
		t.Error("the estimate is told, though the sample takes its place")
	}
	if f := foundBy(sampled(t, heavy, "", `stack = "5.8 mm ± 0.1"`), "foot-lift"); f != nil {
		t.Errorf("a sample of 5.8 ± 0.1 under 6 mm: %s", f.Message())
	}
	f = foundBy(sampled(t, heavy, "", `stack = "6.1 mm ± 0.2"`), "foot-lift")
	if f == nil || f.Severity != Caution || f.Ask != "closure.front.measured.stack" {
		t.Errorf("a sample of 6.1 ± 0.2 under 6 mm: %+v", f)
	}
}

// The cut that passed on the sample is the hole; one that the file asks for is
// held against it, and nothing else.
func TestSampleHoleWins(t *testing.T) {
	const mm = measure.Millimetre
	const thick = `thickness = "2.4 mm"`
	p := sampled(t, thick, "", "")
	if h := &p.Closures[0].Hole; h.Length != 34*mm { // 30.4 + 3.175 for bulk, up to 1 mm
		t.Errorf("by the sum %v", h.Length)
	}
	p = sampled(t, thick, "", `hole_length = "31.5 mm ± 0.5"`)
	h := &p.Closures[0].Hole
	if h.Length != 63*mm/2 || h.Passing != h.Length || h.Ease != 0 || !h.Sampled || h.Stitched != h.Length+plan.Bars {
		t.Errorf("by the sample %+v", h)
	}
	if b := plan.HoleBasis(&p.Garment.Closures[0], &p.Closures[0]); b.Ground != plan.Read || b.Tol != mm/2 || b.Key != "closure.front.measured.hole_length" {
		t.Errorf("it rests on %+v", b)
	}
	for _, c := range []struct {
		keys, rule string
		sev        Severity
	}{
		{`hole_length = "30.5 mm"`, "hole-short", Conflict},
		{`hole_length = "31.2 mm"`, "hole-short", Caution}, // within ±0.5
		{`hole_length = "38 mm"`, "hole-long", Caution},    // over 31.5 + 6.35
		{`hole_length = "32 mm"`, "", Note},
		{`hole_rule = "diameter"`, "key-unused", Note},
	} {
		p := sampled(t, thick, c.keys, `hole_length = "31.5 mm ± 0.5"`)
		for _, rule := range []string{"hole-short", "hole-tight", "hole-long", "key-unused"} {
			f := foundBy(p, rule)
			switch {
			case (f != nil) != (rule == c.rule):
				t.Errorf("%s: %s is %+v", c.keys, rule, f)
			case f != nil && f.Severity != c.sev:
				t.Errorf("%s: %s is a %s", c.keys, rule, f.Severity)
			case f != nil && rule == "hole-short" && !strings.Contains(f.Message(), "from your sample"):
				t.Errorf("%s: %s", c.keys, f.Message())
			}
		}
	}
}

// A machine's limit is counted without ease: what a sample takes beyond the
// fastener's own measures is ease.
func TestSampleHoleOnTheMachine(t *testing.T) {
	text := func(max string, sample string) *Planned {
		t.Helper()
		s := strings.NewReplacer("%THICK", `thickness = "2.4 mm"`, "%KEYS", "", "%SAMPLE", sample, `"40 mm"`, `"`+max+`"`).Replace(sampleCoat)
		g, err := catalog.Read("coat.toml", []byte(s), catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return Plan(g)
	}
	if f := foundBy(text("31 mm", `hole_length = "33 mm"`), "hole-machine"); f == nil || f.Severity != Note {
		t.Errorf("30.4 of 33 mm passes on a machine of 31 mm: %+v", f)
	}
	if f := foundBy(text("30 mm", `hole_length = "33 mm"`), "hole-machine"); f == nil || f.Severity != Conflict {
		t.Errorf("30.4 mm does not pass on a machine of 30 mm: %+v", f)
	}
	if f := foundBy(text("30 mm", `hole_length = "29 mm"`), "hole-machine"); f != nil {
		t.Errorf("the sample passed 29 mm: %s", f.Message())
	}
}

// Another button, or other layers, are not those of the sample.
func TestSampleGoesWithWhatItWasSewnFrom(t *testing.T) {
	p := sampled(t, `thickness = "2.4 mm"`, "", "stack = \"5 mm\"\nhole_length = \"33 mm\"")
	g := p.Garment
	for _, c := range []struct {
		with        []catalog.With
		stack, hole bool
	}{
		{g.Replace("closure", "front", "horn-30"), true, false},
		{g.Replace("interfacing", "inner", "weft-fusible-medium"), false, false},
		{g.Replace("cloth", "shell", "duck-10"), false, false},
		{append(g.Unsampled(0), catalog.SetNames("closure.front.over", "shell", "shell")), false, false},
	} {
		n, err := g.Alter(c.with...)
		if err != nil {
			t.Fatal(err)
		}
		if s := n.Closures[0].Sample; s.Stack.Has() != c.stack || s.HoleLength.Has() != c.hole {
			t.Errorf("%v leaves %+v", catalog.Texts(c.with), s)
		}
	}
}
