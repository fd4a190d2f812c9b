package sheet

import (
	"os"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"
	"placketeer/rules/work"
)

// The head of the page tells to sew a sample hole only where a hole is sewn: of
// set hardware a set is tried in scrap. (Common practice, no source.)
func TestTheHeadNamesTheSampleThatThereIs(t *testing.T) {
	for _, c := range []struct{ file, want string }{
		{"../../testdata/rules/edge-lap/ok-eye.toml", "Sew a sample through the real layers, then cut."},
		{"../../testdata/rules/hardware-layers/ok.toml", "Make a test set in scrap through the real layers, then cut."},
	} {
		data, err := os.ReadFile(c.file)
		if err != nil {
			t.Fatal(err)
		}
		p := rules.Plan(trial.Read(t, strings.Replace(string(data), "[closure.run]", "reinforced = true\n[closure.run]", 1)))
		got := strings.Join(strings.Fields(checked(t, []*rules.Planned{p}, Options{UTF8: true, Width: 500})), " ")
		if !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q", c.file, got, c.want)
		}
	}
}

// A run without places is said in the head and on the checklist, though it is but
// a caution, for a usual end stands in its way: there is nothing to mark, and
// nothing is told to be cut.
func TestNothingLaidOutIsSaid(t *testing.T) {
	data, err := os.ReadFile("../../testdata/rules/spacing-clash/bad-usual.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ with, want string }{
		{"", "Nothing can be laid out, so there is nothing to mark: cut nothing before that is settled."},
		{"S", "Nothing can be laid out for S, so there is nothing to mark: cut nothing of it before that is settled."},
	} {
		file := string(data)
		if c.with != "" {
			file = strings.Replace(strings.Replace(file, "length = 6", "length = { S = 6, M = 30 }", 1), "[cloth.shell]", "[sizes]\nnames = [\"S\", \"M\"]\n[cloth.shell]", 1)
		}
		p := rules.Plan(trial.Read(t, file))
		if v, _ := p.Verdict(); v != rules.Conflict || p.Count(rules.Conflict) != 0 {
			t.Fatalf("%v, %d conflicts", v, p.Count(rules.Conflict))
		}
		got := strings.Join(strings.Fields(checked(t, []*rules.Planned{p}, Options{UTF8: true, Width: 500})), " ")
		if !strings.Contains(got, c.want) || strings.Contains(got, "stands in the way") || strings.Contains(got, "then cut") {
			t.Errorf("%q, want %q", got, c.want)
		}
		if first := work.Order(p, "")[0]; first.Stage != work.StageSettle || !strings.Contains(first.Do, "turned-up hem") {
			t.Errorf("%+v", first)
		}
	}
}
