package desk

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
)

// A length in both units stands in no bracket of another.
var nested = regexp.MustCompile(`.{0,60}\([^()]*[0-9] (mm|in|yd|°C|°F|m) \(.{0,40}`)

// Nothing that a person reads is wider than a terminal of eighty columns: help,
// lists, entries, explanations, a file to begin from, choices and checklists,
// and the quick commands. A command to copy stands whole.
func TestNothingWiderThanTheScreen(t *testing.T) {
	cat, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	var all [][]string
	ask := func(args ...string) { all = append(all, args) }
	ask("--help")
	for _, c := range commands() {
		ask(c.name, "--help")
	}
	ask("catalog")
	for _, k := range catalog.Kinds() {
		ask("catalog", "--kind", k)
		ask("catalog", "--kind", k, "--units", "in")
	}
	show := []string{"catalog", "show"}
	for _, it := range cat.Items() {
		if !slices.Contains(show, it.Name) {
			show = append(show, it.Name)
		}
	}
	ask(show...)
	ask("explain")
	for _, r := range rules.Rules() {
		ask("explain", r.Name)
	}
	for _, k := range cat.KeysAbout("") {
		ask("explain", k.Key)
	}
	for _, w := range []string{"hole", "front", "button", "thread", "interfacing", "zip", "cloth", "child"} {
		ask("explain", w)
		ask("catalog", w)
	}
	ask("start")
	ask("start", "--units", "mm")
	garments, err := filepath.Glob("../../testdata/garments/*-*.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range garments {
		g, err := catalog.Load(file, catalog.Options{})
		if err != nil {
			continue // a catalogue file
		}
		ask("checklist", file)
		ask("spec", file)
		ask("spec", file, "--working")
		ask("check", file, "--full")
		for i := range g.Closures {
			ask("choose", file, "--closure", g.Closures[i].Name)
		}
		ask("choose", file, "--closure", g.Closures[0].Name, "--needle")
	}
	questions, err := os.ReadFile("../../testdata/questions.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(questions), "\n") {
		if line != "" && !strings.HasPrefix(line, "#") {
			q, _, _ := strings.Cut(line, " | ")
			ask(shellWords(q)...)
		}
	}
	worked, err := filepath.Glob("../../testdata/worked/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range worked {
		if !strings.HasSuffix(file, ".want.toml") {
			ask("checklist", file)
			ask("spec", file, "--working")
			ask("check", file, "--full")
		}
	}
	if len(all) < 500 {
		t.Errorf("only %d texts are looked at", len(all))
	}
	for _, args := range all {
		_, out, _ := asked(args...)
		if m := nested.FindString(strings.Join(strings.Fields(out), " ")); m != "" {
			t.Errorf("%.100s: brackets in brackets: %s", strings.Join(args, " "), m)
		}
		for _, l := range strings.Split(out, "\n") {
			copied := strings.Contains(l, Program+" ") || strings.Contains(l, " --with ") || strings.HasPrefix(l, "try:")
			if text.Width(l) > helpWidth && !(copied && args[len(args)-1] != "--help") {
				t.Errorf("%.100s: %d wide: %s", strings.Join(args, " "), text.Width(l), l)
			}
			if strings.HasSuffix(l, " ") {
				t.Errorf("%.100s: ends in a blank: %q", strings.Join(args, " "), l)
			}
		}
	}
}
