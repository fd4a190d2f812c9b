package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/source"
)

// bulky is a coat of two layers: stack-bulky is a caution above 4 mm.
const bulky = `garment = "Coat (invented)"
units = "mm"
[machine]
foot_lift = "%LIFT"
[sizes]
names = ["S", "M"]
[cloth.shell]
use = "melton"
thickness = "%THICK"
[[closure]]
name = "front"
over = ["shell", "shell"]
reinforced = true
%KEYS
[closure.notion]
diameter = "20 mm"
thickness = "3 mm"
[closure.run]
length = 600
count = 5
`

func withEntry(t *testing.T, thick, lift, keys, entry string) *Planned {
	t.Helper()
	text := strings.NewReplacer("%THICK", thick, "%LIFT", lift, "%KEYS", keys).Replace(bulky)
	if entry != "" {
		text += "[[settled]]\nbecause = \"sewn 12 November\"\n" + entry + "\n"
	}
	g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return Plan(g)
}

// A caution is settled while its margin is no worse than it was by more than
// one printed step, 0.1 mm below 10 mm.
func TestSettledByFigures(t *testing.T) {
	const at52 = "rule = \"stack-bulky\"\nclosure = \"front\"\nhave = \"5.2 mm\"\nneed = \"4 mm\""
	for _, c := range []struct {
		thick, entry string
		settled      bool
	}{
		{"2.6 mm", "", false},
		{"2.6 mm", at52, true},
		{"2.4 mm", at52, true},   // better than it was
		{"2.65 mm", at52, true},  // 5.3: one step worse
		{"2.66 mm", at52, false}, // 5.32: more than that
		{"2.6 mm", strings.Replace(at52, "closure = \"front\"\n", "", 1), true},
		{"2.6 mm", strings.Replace(at52, "4 mm", "4.5 mm", 1), false}, // held against more then
		{"2.6 mm", strings.Replace(at52, `"5.2 mm"`, "5.2", 1), true}, // a bare number is in the units of the file
		{"2.6 mm", strings.Replace(at52, `"5.2 mm"`, `"5 layers"`, 1), false},
	} {
		p := withEntry(t, c.thick, "9 mm", "", c.entry)
		f := foundBy(p, "stack-bulky")
		if f == nil || (f.Settled != "") != c.settled || (f.Reopened != nil) != (c.entry != "" && !c.settled) {
			t.Errorf("%s, %q: %+v", c.thick, c.entry, f)
			continue
		}
		if c.settled && f.Settled != "sewn 12 November" {
			t.Errorf("because %q", f.Settled)
		}
		n := 0
		for i := range p.Findings {
			if p.Findings[i].Severity == Caution && p.Findings[i].Settled == "" {
				n++
			}
		}
		if p.Count(Caution) != n {
			t.Errorf("%d cautions are counted, %d are not settled", p.Count(Caution), n)
		}
	}
	p := withEntry(t, "2.6 mm", "9 mm", "", at52)
	if v, _ := p.Verdict(); v != Note {
		t.Errorf("with its one caution settled the verdict is %s", v)
	}
	f := foundBy(withEntry(t, "3 mm", "9 mm", "", at52), "stack-bulky")
	if says := f.Reopened.Says; !strings.Contains(says, "settled at 5.2 mm against 4 mm, and is 6 mm against 4 mm now") || f.Reopened.Pos.Line == 0 {
		t.Errorf("%+v", f.Reopened)
	}
}

// In an inch file a printed step is 1/32 in below 1/2 in, else 1/16; cloth is
// told in millimetres there too.
func TestSettledInInches(t *testing.T) {
	entry := "[[settled]]\nrule = \"hole-long\"\nbecause = \"it holds\"\nhave = \"1 3/4 in\"\nneed = \"1 5/8 in\"\n"
	for length, settled := range map[string]bool{"1 3/4 in": true, "1 13/16 in": true, "1 27/32 in": false} {
		text := strings.NewReplacer("%THICK", "1 mm", "%LIFT", "9 mm", "%KEYS", "hole_length = \""+length+"\"", `"20 mm"`, `"1 1/4 in"`, `thickness = "3 mm"`, `thickness = "1/8 in"`, `"mm"`, `"in"`, "600", "24").Replace(bulky)
		g, err := catalog.Read("coat.toml", []byte(text+entry), catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if f := foundBy(Plan(g), "hole-long"); f == nil || (f.Settled != "") != settled {
			t.Errorf("%s: %+v", length, f)
		}
	}
}

// What is about a cloth hangs on what the file has of it; what is about a closure on
// twelve keys at most, ours: its fastener, its layers, and what these are.
func TestWhatASettlingHangsOn(t *testing.T) {
	text := strings.NewReplacer("thickness = \"%THICK\"", "", "%LIFT", "9 mm", "%KEYS", "").Replace(bulky)
	if got, err := planned(t, text).Settling(foundBy(planned(t, text), "thickness-estimated")); err != nil || !slices.Equal(got.While, []string{"cloth.shell.use=melton"}) {
		t.Errorf("%q, %v", got.While, err)
	}
	cloths, over := "", ""
	for i := range 15 {
		cloths += fmt.Sprintf("[cloth.c%02d]\nuse = \"melton\"\nthickness = \"1 mm\"\n", i)
		over += fmt.Sprintf(", \"c%02d\"", i)
	}
	p := planned(t, strings.NewReplacer("[[closure]]", cloths+"[[closure]]", `"shell"]`, `"shell"`+over+`]`).Replace(text))
	got := p.looked(&Finding{Rule: "hole-pile", Closure: "front", place: place{0, "hole"}})
	if len(got) != 12 || got[0] != "closure.front.hole=" || got[2] != "cloth.shell.use=melton" || got[11] != "cloth.c08.use=melton" {
		t.Errorf("%d: %q", len(got), got)
	}
}

// Where a rule compares no figures the entry holds while the file says what it
// said.
func TestSettledWhile(t *testing.T) {
	const entry = "rule = \"thickness-estimated\"\nseverity = \"note\"\nwhile = [\"cloth.shell.use=melton\", \"cloth.shell.weight=\"]"
	text := strings.NewReplacer("thickness = \"%THICK\"", "", "%LIFT", "9 mm", "%KEYS", "").Replace(bulky) + "[[settled]]\nbecause = \"folded in eight\"\n" + entry + "\n"
	for change, settled := range map[string]bool{"": true, "cloth.shell.use=tweed": false, "cloth.shell.weight=620 g/m2": false} {
		o := catalog.Options{}
		if change != "" {
			o.With = []string{change}
		}
		g, err := catalog.Read("coat.toml", []byte(text), o)
		if err != nil {
			t.Fatal(err)
		}
		f := foundBy(Plan(g), "thickness-estimated")
		if f == nil || (f.Settled != "") != settled {
			t.Errorf("%s: %+v", change, f)
		}
	}
}

// A note that has become a caution, and a caution that has become a conflict,
// are open again; sizes count by the worst, and a size narrows.
func TestSettledSeverityAndSizes(t *testing.T) {
	note := "rule = \"stack-bulky\"\nseverity = \"note\"\nhave = \"9 mm\"\nneed = \"4 mm\""
	if f := foundBy(withEntry(t, "2.6 mm", "9 mm", "", note), "stack-bulky"); f.Settled != "" || f.Reopened == nil || !strings.Contains(f.Reopened.Says, "a caution now") {
		t.Errorf("a caution where a note was settled: %+v", f)
	}
	lift := "rule = \"foot-lift\"\nseverity = \"caution\"\nhave = \"9 mm\"\nneed = \"5 mm\""
	p := withEntry(t, "2.6 mm", "5 mm", "", lift)
	if f := foundBy(p, "foot-lift"); f.Severity != Conflict || f.Settled != "" || f.Reopened == nil || !strings.Contains(f.Reopened.Says, "a conflict now") {
		t.Errorf("a conflict where a caution was settled: %+v", f)
	}
	if err := p.SettledConflicts(); err != nil {
		t.Errorf("it has become one since: %v", err)
	}
	for size, settled := range map[string]string{"": "", "size = \"M\"": "M", "size = \"S\"": "S"} {
		p := withEntry(t, "2.6 mm", "9 mm", "", "rule = \"stack-bulky\"\nhave = \"5.2 mm\"\nneed = \"4 mm\"\n"+size)
		p.Findings = nil
		for _, s := range []struct {
			size string
			have float64
		}{{"S", 5.2}, {"M", 5.6}} {
			if s.have = 5.2; s.size == "M" && size == "" {
				s.have = 5.6
			}
			p.Findings = append(p.Findings, Finding{Rule: "stack-bulky", Severity: Caution, Closure: "front", Size: s.size, Numbers: Numbers{Have: s.have, Need: 4, Margin: 4 - s.have, Unit: "mm", Compared: true}})
		}
		p.Settle()
		got := ""
		for i := range p.Findings {
			if p.Findings[i].Settled != "" {
				got += p.Findings[i].Size
			}
		}
		if got != settled {
			t.Errorf("%q: settled in %q", size, got)
		}
	}
}

// Conflicts and what is about safety cannot be settled: the entry is a fault,
// with its place.
func TestSettledFaults(t *testing.T) {
	for entry, want := range map[string]string{
		"rule = \"safety-small\"\nhave = 5\nneed = 4":   "about safety",
		"rule = \"work-needle\"\nhave = 5\nneed = 4":    "about safety",
		"rule = \"stack-bullky\"\nhave = 5\nneed = 4":   `no rule "stack-bullky"`,
		"rule = \"settled-unused\"\nhave = 5\nneed = 4": "no longer needed",
		"rule = \"stack-bulky\"\nhave = 5\nneed = 4":    "",
	} {
		err := SettledFaults(withEntry(t, "2.6 mm", "9 mm", "", entry).Garment)
		var ps source.Problems
		if want != "" {
			ps, _ = err.(source.Problems)
		}
		if want == "" && err != nil || want != "" && (len(ps) != 1 || !strings.Contains(ps[0].Message, want) || ps[0].Pos.Line == 0 || ps[0].Instead == "" && !strings.Contains(want, "no rule")) {
			t.Errorf("%s: %v", entry, err)
		}
	}
	p := withEntry(t, "2.6 mm", "5 mm", "", "rule = \"foot-lift\"\nhave = \"5.2 mm\"\nneed = \"5 mm\"")
	if err := p.SettledConflicts(); err == nil || !strings.Contains(err.Error(), "foot-lift is a conflict") {
		t.Errorf("an entry about a conflict: %v", err)
	}
	if f := foundBy(p, "foot-lift"); f.Settled != "" {
		t.Error("a conflict is settled")
	}
	for _, rule := range []string{"foot-lift", "stack-bulky"} {
		f := foundBy(withEntry(t, "2.6 mm", map[string]string{"foot-lift": "5 mm", "stack-bulky": "9 mm"}[rule], "", ""), rule)
		s, err := p.Settling(f)
		if (err == nil) != (rule == "stack-bulky") {
			t.Errorf("%s: %v", rule, err)
		}
		if err == nil && (s.Have.String() != "5.2 mm" || s.Need.String() != "4 mm" || s.Severity != "caution") {
			t.Errorf("%s: %+v", rule, s)
		}
	}
}

// The figures of an entry are as the finding prints them: cloth in millimetres
// in an inch file too.
func TestSettlingInInches(t *testing.T) {
	text := strings.NewReplacer("%THICK", "2.6 mm", "%LIFT", "9 mm", "%KEYS", "hole_length = \"1 3/4 in\"", `"20 mm"`, `"1 1/4 in"`, `"mm"`, `"in"`, "600", "24").Replace(bulky)
	g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := Plan(g)
	for rule, want := range map[string]string{"stack-bulky": "5.2 mm 4 mm", "hole-long": "1 3/4 in 1 5/8 in"} {
		s, err := p.Settling(foundBy(p, rule))
		if err != nil || s.Have.String()+" "+s.Need.String() != want {
			t.Errorf("%s: %s against %s, %v", rule, s.Have, s.Need, err)
		}
	}
	s, err := p.Settling(foundBy(p, "hole-long"))
	if err != nil {
		t.Fatal(err)
	}
	s.Because = "it holds"
	out, _, err := p.Garment.Settle(s)
	if err != nil {
		t.Fatal(err)
	}
	if g, err = catalog.Read("coat.toml", out, catalog.Options{}); err != nil {
		t.Fatal(err)
	}
	if f := foundBy(Plan(g), "hole-long"); f.Settled != "it holds" {
		t.Errorf("%+v", f)
	}
}

// What nothing raises is named, once, and only where it is left behind.
func TestSettledUnused(t *testing.T) {
	entry := "rule = \"stack-bulky\"\nhave = \"5.2 mm\"\nneed = \"4 mm\""
	p := withEntry(t, "1.5 mm", "9 mm", "", entry)
	p.Settle()
	f := foundBy(p, "settled-unused")
	if f == nil || f.Severity != Note || f.Pos.Line == 0 || !strings.Contains(f.Message(), "stack-bulky") {
		t.Errorf("%+v", f)
	}
	n := 0
	for i := range p.Findings {
		if p.Findings[i].Rule == "settled-unused" {
			n++
		}
	}
	if n != 1 {
		t.Errorf("it is named %d times", n)
	}
	if f := foundBy(withEntry(t, "2.6 mm", "9 mm", "", entry), "settled-unused"); f != nil {
		t.Errorf("it is needed: %s", f.Message())
	}
}
