package search

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"

	"github.com/google/go-cmp/cmp"
)

// Every rule has a folder testdata/rules/<rule> with at least one garment
// where it is silent, ok*.toml, and one where it speaks, bad*.toml. What is
// expected stands beside the offending line:
//
//	extension = "3/4 in" # want: conflict stand-narrow
//
// or alone on the line above it; a size may follow the rule. In a bad file
// exactly the wanted findings of its rule are reported; in an ok file none.

var wantRe = regexp.MustCompile(`#\s*want:\s*(conflict|caution|note)\s+([a-z0-9-]+)(?:\s+(\S+))?\s*$`)

// wanted reads the expectations of a file.
func wanted(t *testing.T, name string) []string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	lines := strings.Split(string(data), "\n")
	for i, line := range lines {
		m := wantRe.FindStringSubmatch(line)
		if m == nil {
			if strings.Contains(line, "want:") {
				t.Errorf("%s:%d: not an expectation: %s", name, i+1, line)
			}
			continue
		}
		at := i + 1
		if strings.HasPrefix(strings.TrimSpace(line), "#") {
			// The next line that is not itself an expectation.
			for at++; at <= len(lines) && strings.HasPrefix(strings.TrimSpace(lines[at-1]), "#"); at++ {
			}
		}
		out = append(out, fmt.Sprintf("%d: %s %s %s", at, m[1], m[2], m[3]))
	}
	slices.Sort(out)
	return out
}

func found(fs []rules.Finding, rule string) []string {
	var out []string
	for _, f := range fs {
		if f.Rule == rule {
			out = append(out, fmt.Sprintf("%d: %s %s %s", f.Pos.Line, f.Severity, f.Rule, f.Size))
		}
	}
	slices.Sort(out)
	return out
}

func TestEveryRuleSpeaksAndIsSilent(t *testing.T) {
	root := filepath.Join("..", "..", "testdata", "rules")
	for _, r := range rules.Rules() {
		t.Run(r.Name, func(t *testing.T) {
			bad, _ := filepath.Glob(filepath.Join(root, r.Name, "bad*.toml"))
			ok, _ := filepath.Glob(filepath.Join(root, r.Name, "ok*.toml"))
			if len(bad) == 0 || len(ok) == 0 {
				t.Fatalf("testdata/rules/%s needs ok*.toml and bad*.toml", r.Name)
			}
			for _, name := range append(bad, ok...) {
				g, err := catalog.Load(name, catalog.Options{})
				if err != nil {
					t.Errorf("%v", err)
					continue
				}
				want := wanted(t, name)
				if strings.HasPrefix(filepath.Base(name), "bad") == (len(want) == 0) {
					t.Errorf("%s: %d expectations", name, len(want))
				}
				if diff := cmp.Diff(want, found(Checked(g, CheckOptions{}).Findings, r.Name)); diff != "" {
					t.Errorf("%s (-want +got):\n%s", name, diff)
				}
			}
		})
	}
}

func TestEveryRuleFolderHasARule(t *testing.T) {
	dirs, err := os.ReadDir(filepath.Join("..", "..", "testdata", "rules"))
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range dirs {
		if rules.Find(d.Name()) == nil {
			t.Errorf("testdata/rules/%s: no such rule", d.Name())
		}
	}
}

func TestRulesAreDocumented(t *testing.T) {
	seen := map[string]bool{}
	kebab := regexp.MustCompile(`^[a-z]+(-[a-z]+)+$`)
	for _, r := range rules.Rules() {
		if seen[r.Name] || !kebab.MatchString(r.Name) {
			t.Errorf("rule name %q is taken or not kebab-case", r.Name)
		}
		seen[r.Name] = true
		if r.Title == "" || r.Formula == "" || r.Why == "" || len(r.Sources) == 0 || r.Check == nil {
			t.Errorf("%s: title, formula, why, sources and check must all be there", r.Name)
		}
		for _, s := range append([]string{r.Title, r.Formula, r.Why, r.Ours, r.Others}, r.Sources...) {
			if strings.Contains(s, "http") || strings.Contains(s, "  ") {
				t.Errorf("%s: %q", r.Name, s)
			}
		}
	}
}
