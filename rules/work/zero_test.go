package work

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
)

// everyGarment are all garments of the test data that read.
func everyGarment(t *testing.T, do func(name string, g *catalog.Garment)) {
	t.Helper()
	n := 0
	for _, pattern := range []string{"rules/*/*.toml", "garments/*.toml", "worked/*.toml", "pieces/*.toml", "plan/*.toml", "fixes/*.toml"} {
		names, err := filepath.Glob(filepath.Join("../../testdata", pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if strings.HasSuffix(name, ".want.toml") || !strings.Contains(string(data), "[[closure]]") {
				continue
			}
			g, err := catalog.Load(name, catalog.Options{})
			if err != nil {
				continue
			}
			n++
			do(strings.TrimPrefix(name, "../../testdata/"), g)
		}
	}
	if n < 250 {
		t.Errorf("only %d garments", n)
	}
}

// Where nothing is, nothing is said: no amount of zero, none below it, no sum
// that came to no number, and no 1 of several.
var nothing = []*regexp.Regexp{
	regexp.MustCompile(`(?:^|[^0-9.,/¹²³⁄ ] |^[^0-9]?)0(?:\.0+)? (?:mm|cm|m|in|yd|N|pieces|stitches|spools|holes)\b`),
	regexp.MustCompile(`NaN|[+-]?Inf\b|%!|<nil>`),
	regexp.MustCompile(`(?:^|[ (])1 (?:buttons|snaps|rivets|holes|sizes|closures|spools|packs|pieces|layers|stitches|strips|patches|needles|tacks|eyelets|toggles|hooks|folds|gaps|rows)\b`),
	regexp.MustCompile(`  |\( |^ | $|,,|;;|:;| ,| ;|\(\)`),
}

func TestNothingIsNotSaid(t *testing.T) {
	seen := map[string]bool{}
	everyGarment(t, func(name string, g *catalog.Garment) {
		p := rules.Plan(g)
		look := func(where, says string) {
			for _, re := range nothing {
				if m := re.FindString(says); m != "" && !seen[where+m+says] {
					seen[where+m+says] = true
					t.Errorf("%s: %s: %q in %s", name, where, m, says)
				}
			}
		}
		for i := range p.Closures {
			for _, s := range Working(p, i) {
				look("working", s.Says)
			}
		}
		for _, task := range Order(p, "") {
			look("task", task.Do)
			for _, l := range task.Lines {
				look("line", l)
			}
			for _, l := range task.Take {
				look("care", l)
			}
		}
		for i := range p.Findings {
			look("finding", p.Findings[i].Message())
		}
	})
}
