package sheet

import (
	"os"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"
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
