package desk

import (
	"strings"
	"testing"

	"placketeer/rules"
)

// What explain prints of every rule are the figures that it decides by, in all
// three formats, and no name in braces is left.
func TestExplainPrintsTheThresholds(t *testing.T) {
	for _, r := range rules.Rules() {
		for _, format := range []string{"text", "json", "markdown"} {
			got := runIn(t, "", nil, "explain", r.Name, "--format", format)
			says := strings.Join(strings.Fields(strings.NewReplacer("\\", "", "\u00a0", " ").Replace(got.out)), " ")
			if got.code != ExitOK {
				t.Fatalf("%s: %d %s", r.Name, got.code, got.err)
			}
			for _, l := range r.Limits {
				if !strings.Contains(says, strings.NewReplacer("\\", "", "\u00a0", " ").Replace(l.String())) {
					t.Errorf("%s, %s: %s, %s, is not in it", r.Name, format, l.Name, l)
				}
				if strings.Contains(says, "{"+l.Name+"}") {
					t.Errorf("%s, %s: {%s} is left", r.Name, format, l.Name)
				}
			}
		}
	}
}
