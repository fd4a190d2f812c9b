package desk

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules/trial"
)

// TestOneUnit: with --one-unit no paper, picture or answer has a measure in
// the other unit, but for what trial.Foreign lists with its reasons.
func TestOneUnit(t *testing.T) {
	var files []string
	for _, pattern := range []string{"garments/*.toml", "worked/*.toml", "collection/*.toml", "rules/*/*.toml"} {
		found, err := filepath.Glob("../../testdata/" + pattern)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	seen := map[string]bool{}
	read := func(unit, out string, args ...string) {
		for _, x := range trial.Foreign(out, unit) {
			if key := unit + regexp.MustCompile(`\d+([./]\d+)?|\b\w+-\d+\b`).ReplaceAllString(x[min(len(x), 40):], "#"); !seen[key] {
				seen[key] = true
				t.Errorf("%v: %q", args, x)
			}
		}
	}
	ask := func(unit string, args ...string) {
		args = append(args, "--units", unit, "--one-unit")
		code, out, wrong := asked(args...)
		if code > 1 {
			if !strings.Contains(wrong, "how many are made") {
				t.Errorf("%v: %d %s", args, code, wrong)
			}
			return
		}
		read(unit, out, args...)
	}
	long := os.Getenv("PLACKETEER_LONG") != ""
	for _, file := range files {
		if strings.HasSuffix(file, ".want.toml") {
			continue
		}
		g, err := catalog.Load(file, catalog.Options{})
		if err != nil {
			continue
		}
		ruled := strings.Contains(file, "/rules/")
		if ruled && !long && len(file)%4 != 0 {
			continue
		}
		for _, unit := range []string{"mm", "in"} {
			ask(unit, "check", file, "--full")
			if ruled && !long {
				continue
			}
			ask(unit, "check", file)
			ask(unit, "check", file, "--format", "html")
			ask(unit, "check", file, "--format", "markdown")
			ask(unit, "spec", file, "--working")
			ask(unit, "checklist", file)
			if ruled {
				continue
			}
			ask(unit, "spec", file, "--format", "html")
			ask(unit, "spec", file, "--format", "csv")
			picture := filepath.Join(t.TempDir(), "guide.svg")
			if code, _, wrong := asked("mark", file, "--out", picture, "--paper", "none", "--units", unit, "--one-unit"); code > 1 {
				t.Errorf("mark %s: %s", file, wrong)
			}
			drawn, _ := filepath.Glob(filepath.Join(filepath.Dir(picture), "*"))
			for _, name := range drawn {
				data, err := os.ReadFile(name)
				if err != nil {
					t.Fatal(err)
				}
				read(unit, string(data), "mark", file)
			}
			ask(unit, "order", file, "--make", map[bool]string{true: "3", false: g.Sizes[0] + "=3"}[g.Sizes[0] == ""])
			ask(unit, "choose", file, "--closure", g.Closures[0].Name)
			ask(unit, "compare", file, file)
		}
	}
	questions, err := os.ReadFile("../../testdata/questions.txt")
	if err != nil {
		t.Fatal(err)
	}
	for i, line := range strings.Split(string(questions), "\n") {
		if !long && i%5 != 0 {
			continue
		}
		q, _, _ := strings.Cut(line, " | ")
		args := shellWords(q)
		if len(args) == 0 || strings.HasPrefix(line, "#") || slices.Contains(args, "--units") || slices.Contains([]string{"convert", "start", "catalog"}, args[0]) {
			continue
		}
		for _, unit := range []string{"mm", "in"} {
			with := append(slices.Clone(args), "--units", unit, "--one-unit")
			code, out, _ := asked(with...)
			if code <= 1 {
				read(unit, strings.ReplaceAll(out, "\u00a0", " "), with...)
			}
		}
	}
	for _, unit := range []string{"mm", "in"} {
		for _, kind := range catalog.Kinds() {
			code, out, _ := asked("catalog", "--kind", kind, "--format", "csv", "--units", unit, "--one-unit")
			rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
			if code != 0 || err != nil {
				t.Fatal(code, err)
			}
			for _, row := range rows[1:] {
				read(unit, row[slices.Index(rows[0], "figures")], "catalog", row[1]) // not its name, nor what it is sold as
			}
		}
	}
}
