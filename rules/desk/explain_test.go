package desk

import (
	"encoding/json"
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

// A word has its rules and keys in every format: each that the text lists is in
// the others.
func TestExplainAWord(t *testing.T) {
	for _, word := range []string{"hole", "stand", "band", "thickness"} {
		listed := runIn(t, "", nil, "explain", word).out
		markdown := runIn(t, "", nil, "explain", word, "--format", "markdown").out
		var all []map[string]any
		if got := runIn(t, "", nil, "explain", word, "--format", "json"); json.Unmarshal([]byte(got.out), &all) != nil {
			t.Fatalf("%s: no JSON: %s%s", word, got.out, got.err)
		}
		rows := 0
		for _, l := range strings.Split(listed, "\n") {
			if strings.HasPrefix(l, "  ") && !strings.HasPrefix(l, "   ") {
				rows++
			}
		}
		if len(all) != rows || rows < 5 {
			t.Errorf("%s: %d in JSON, %d in text", word, len(all), rows)
		}
		for _, x := range all {
			name, _ := x["rule"].(string)
			if name == "" {
				name, _ = x["key"].(string)
			}
			if name == "" || !strings.Contains(listed, "  "+name) || !strings.Contains(strings.ReplaceAll(markdown, "\\", ""), name) {
				t.Errorf("%s: %v is not in every format", word, x)
			}
		}
	}
}
