package search

import (
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/trial"
)

func firstOf(t *testing.T, text string) *rules.Planned {
	t.Helper()
	g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return Checked(g, CheckOptions{})
}

const twoReadings = `garment = "Coat (invented)"
units = "mm"
[machine]
foot_lift = "5 mm"
[cloth.shell]
use = "melton"
thickness = "%SHELL"
[[closure]]
name = "front"
over = ["shell", "shell"]
reinforced = true
[closure.notion]
diameter = "20 mm"
thickness = "%BUTTON"
[closure.run]
length = 600
count = 5
%MORE`

// By subtraction: two layers of 2.4 ± 0.2 mm come to 4.4 to 5.2, over the foot
// at 5 at the one end; a button of 3 ± 0.3 decides nothing.
func TestMeasureFirst(t *testing.T) {
	read := func(shell, button, more string) *rules.Planned {
		return firstOf(t, strings.NewReplacer("%SHELL", shell, "%BUTTON", button, "%MORE", more).Replace(twoReadings))
	}
	p := read("2.4 mm ± 0.2", "3 mm ± 0.3", "")
	if len(p.First) != 1 || p.First[0].Key != "cloth.shell.thickness" || !slices.Contains(p.First[0].Rules, "foot-lift") || p.First[0].Estimated {
		t.Fatalf("%+v", p.First)
	}
	if says := p.First[0].Says; !strings.HasPrefix(says, "the thickness of shell; it decides") || !strings.Contains(says, "the foot") {
		t.Error(says)
	}
	if p := read("2.4 mm ± 0.05", "3 mm ± 0.3", ""); len(p.First) != 0 {
		t.Errorf("nothing flips: %+v", p.First)
	}
	// A sample of the stack takes the place of the cloth: 4.8 ± 0.4.
	p = read("2.4 mm ± 0.2", "3 mm", "[closure.measured]\nstack = \"4.8 mm ± 0.4\"\n")
	if len(p.First) == 0 || p.First[0].Key != "closure.front.measured.stack" || !strings.Contains(p.First[0].Says, "on your sample") {
		t.Errorf("%+v", p.First)
	}
	p = read("2.4 mm ± 0.2", "3 mm", "[closure.measured]\nstack = \"4.8 mm ± 0.1\"\n")
	for _, m := range p.First {
		if slices.Contains(m.Rules, "foot-lift") {
			t.Errorf("the sample has decided the foot: %+v", m)
		}
	}
}

// The one that decides more verdicts comes first, and every one is what moving
// that reading alone by its ± makes of the verdicts of a whole new plan.
func TestMeasureFirstIsCounted(t *testing.T) {
	t.Parallel()
	counted, several := 0, 0
	for seed := uint64(15000); seed < 15000+uint64(trial.Many(60, 1000)); seed++ {
		g, _, _ := random(t, seed, 5)
		if g == nil {
			continue
		}
		p := Checked(g, CheckOptions{})
		count := func(p *rules.Planned) map[verdict]rules.Severity {
			out := map[verdict]rules.Severity{}
			for s, n := range tallied(p) {
				sev := rules.Caution
				if n[1] > 0 {
					sev = rules.Conflict
				}
				v := verdict{s.rule, s.closure + s.size + s.path}
				out[v] = max(out[v], sev)
			}
			return out
		}
		base := count(rules.Found(g))
		want := map[string][]string{}
		c := g.Clone()
		for _, in := range inputsOf(c, "") {
			for _, by := range []int{-1, 1} {
				to := in.now.V + in.now.Tol
				if by < 0 {
					to = in.now.V - in.now.Tol
				}
				if to <= 0 {
					continue
				}
				in.move(to)
				now := count(rules.Found(c))
				in.move(in.now.V)
				key := g.KeyOf(in.path)
				for v, sev := range now {
					if base[v] != sev && !slices.Contains(want[key], v.rule) {
						want[key] = append(want[key], v.rule)
					}
				}
				for v := range base {
					if _, is := now[v]; !is && !slices.Contains(want[key], v.rule) {
						want[key] = append(want[key], v.rule)
					}
				}
			}
			if key := g.KeyOf(in.path); len(want[key]) == 0 {
				delete(want, key)
			}
		}
		if len(want) != len(p.First) {
			t.Errorf("seed %d: %v, but %+v", seed, want, p.First)
		}
		for i, m := range p.First {
			slices.Sort(want[m.Key])
			if !slices.Equal(want[m.Key], m.Rules) {
				t.Errorf("seed %d: %s decides %v, by planning anew %v", seed, m.Key, m.Rules, want[m.Key])
			}
			counted++
			if i > 0 {
				several++
			}
		}
	}
	if counted < 10 || several == 0 {
		t.Errorf("%d readings decide something, %d beside another", counted, several)
	}
}

// Every rule says in a word what it decides.
func TestEveryRuleDecidesSomething(t *testing.T) {
	for _, r := range rules.Rules() {
		if r.Decides() == "" {
			t.Errorf("%s: no word for what it decides", r.Name)
		}
	}
}
