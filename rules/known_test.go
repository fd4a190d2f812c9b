package rules

import (
	"strings"
	"testing"

	"placketeer/rules/trial"
)

const knownCoat = `garment = "Mole coat (invented)"
units = "mm"
[cloth.shell]
use = "melton"
thickness = "2.4 mm"
[interfacing.front]
use = "wigan-type-1"
thickness = "0.4 mm"
[thread.button]
use = "linen-35-3"
[[closure]]
name = "front"
use  = "horn-40"
button_thread = "button"
over = ["shell", "front", "shell"]
[closure.run]
length = 600
count  = 4
`

// told are the messages of a rule about a garment.
func toldBy(t *testing.T, rule, text string) []string {
	t.Helper()
	var out []string
	p := Plan(trial.Read(t, text))
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Rule == rule {
			out = append(out, f.Severity.String()+": "+f.Message())
		}
	}
	return out
}

// By hand a button is sewn on with coarse cotton or linen (Text-Book on Domestic
// Art): the most of the thread maker's bulletin is that of button machines, for
// which linen of Tex 142 stays too thick.
func TestLinenByHandIsNoMachineThread(t *testing.T) {
	if got := toldBy(t, "button-thread", strings.Replace(knownCoat, "button_thread", "sewn_by = \"hand\"\nbutton_thread", 1)); len(got) > 0 {
		t.Errorf("by hand: %q", got)
	}
	if got := toldBy(t, "button-thread", strings.Replace(knownCoat, "button_thread", "sewn_by = \"machine\"\nbutton_thread", 1)); len(got) != 1 || !strings.Contains(got[0], "too thick") {
		t.Errorf("by machine: %q", got)
	}
}
