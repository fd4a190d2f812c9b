package work

import (
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"
)

// workedOf is the working of a topic of the first closure.
func workedOf(t *testing.T, topic, text string, with ...string) string {
	t.Helper()
	p := rules.Plan(trial.Read(t, text, with...))
	var out []string
	for _, s := range Working(p, 0) {
		if s.Topic == topic {
			out = append(out, s.Says)
		}
	}
	return strings.Join(out, "\n")
}

const workedCoat = `garment = "Slip coat (invented)"
units = "mm"
[cloth.shell]
use = "melton"
thickness = "2 mm"
[[closure]]
name = "front"
where = "front"
fastener = "button"
over = ["shell", "shell"]
[closure.notion]
diameter = 20
thickness = 3
holes = 4
hole_gap = 3
[closure.run]
length = 600
first = 30
last = 30
count = 4
`

// Gaps are told as they are: alike, 540 ÷ 3 = 180; unlike, with what lies between
// the largest and the smallest; in groups, with their distance inside a group.
func TestGapsInTheWorking(t *testing.T) {
	for _, c := range []struct {
		with []string
		has  []string
		not  string
	}{
		{nil, []string{"(570 mm − 30 mm) ÷ 3 gaps = 180 mm if exactly even", "3 × 180 mm"}, "between the largest and the smallest"},
		// 540 ÷ 7 = 77.14: gaps of 75 and 80, 5 apart, marked to 5 mm.
		{[]string{"closure.front.run.count=8", "closure.front.run.step=5 mm"}, []string{"÷ 7 gaps", "5 mm between the largest and the smallest"}, "groups"},
		{[]string{"closure.front.run.count=8", "closure.front.run.step=5 mm", "closure.front.run.group=2", "closure.front.run.group_gap=40 mm"}, []string{"in groups of 2, 40 mm apart inside a group"}, "if exactly even"},
	} {
		got := workedOf(t, TopicGaps, workedCoat, c.with...)
		for _, w := range c.has {
			if !strings.Contains(got, w) {
				t.Errorf("%v: no %q in %q", c.with, w, got)
			}
		}
		if strings.Contains(got, c.not) {
			t.Errorf("%v: %q in %q", c.with, c.not, got)
		}
	}
	if got := workedOf(t, TopicGaps, workedCoat, "closure.front.run.count=8", "closure.front.run.step=5 mm", "closure.front.run.group=2", "closure.front.run.group_gap=40 mm"); strings.Contains(got, "between the largest") {
		t.Errorf("in groups: %q", got)
	}
}

// The edge of a zip's tape lies on the cut edge where the seam is as wide as the
// tape less what is folded: 14 − (3 + 3.175) = 7.825.
func TestTapeOfAZipInTheWorking(t *testing.T) {
	zip := strings.NewReplacer(`fastener = "button"`, `fastener = "zip"`, "diameter = 20\nthickness = 3\nholes = 4\nhole_gap = 3", "number = 5\nchain = 6\ntape = 14\nopening = \"separating\"", "count = 4\n", "").Replace(workedCoat)
	for seam, on := range map[string]bool{"7.825 mm": true, "7.9 mm": false, "7 mm": true} {
		got := workedOf(t, TopicZip, zip, "closure.front.stand.seam="+seam)
		if strings.Contains(got, "lay the tape's edge on the cut edge") != on || strings.Contains(got, "inside the cut edge") == on {
			t.Errorf("a seam of %s: %q", seam, got)
		}
	}
}

// Beside what a sample measured the layers are told, with their sum where there are
// several: 2 + 2.
func TestSampleBesideItsLayers(t *testing.T) {
	for over, want := range map[string]string{`["shell","shell"]`: " = 4 mm", `["shell"]`: ""} {
		got := workedOf(t, TopicLayers, workedCoat, "closure.front.over="+over, "closure.front.measured.stack=5 mm")
		if !strings.Contains(got, "from your sample; the layers by themselves: ") || want != "" && !strings.Contains(got, want) || want == "" && strings.Contains(got, " = ") {
			t.Errorf("%s: %q, want %q", over, got, want)
		}
	}
}
