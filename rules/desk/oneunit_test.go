package desk

import (
	"encoding/csv"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
)

// foreign is a measure in a unit that is not of the sheet, by the unit of the
// sheet: lengths, goods, weights, heats and pulls.
var foreign = map[string]*regexp.Regexp{
	"mm": regexp.MustCompile(`(?:^|[^-\w.#/])((?:\d+ )?\d+(?:/\d+|\.\d+)?|[\d.]*[¼½¾⅛⅜⅝⅞]) ?(?:(?:in|inch|inches|ft|yd|oz|oz/yd²|oz/yd2|°F|F|lbf|lb)\b|["”″])(?:[^\w-]|$)|°F|\binch`),
	"in": regexp.MustCompile(`(?:^|[^-\w.#/])(\d+(?:\.\d+)?) ?(?:mm|cm|m|g/m²|g/m2|gsm|°C|C|N|kg)\b(?:[^\w-²/]|$)|°C`),
}

// wordsAfter are what stands behind a number and an "in" that is no inch.
var wordsAfter = regexp.MustCompile(`^(?:the|a|an|all|each|scrap|one|it|its|this|that|them|order|which|line|length|seams|place|turn|size|sizes|[SMLX]+)\b`)

// foreignIn are the measures of a text that are not in its one unit, with what
// stands round them. What is named is taken out first.
func foreignIn(out, unit string) []string {
	out = quotedLine.ReplaceAllString(out, "")
	if strings.HasPrefix(strings.TrimSpace(out), "<") {
		out = regexp.MustCompile(`(?s)<ol class="sources">.*?</ol>`).ReplaceAllString(out, "") // they are quoted
		out = regexp.MustCompile(`(?s)<style.*?</style>|<[^>]*>`).ReplaceAllString(out, " ")
	}
	out = strings.Join(strings.Fields(html.UnescapeString(out)), " ")
	for _, x := range oneUnitExceptions {
		out = x.names.ReplaceAllString(out, " … ")
	}
	var found []string
	for _, at := range foreign[unit].FindAllStringIndex(out, -1) {
		word, after := strings.TrimRight(out[at[0]:at[1]], " "), strings.TrimLeft(out[at[1]:], " ")
		if strings.HasSuffix(word, " in") && wordsAfter.MatchString(after) {
			continue
		}
		found = append(found, out[max(0, at[0]-60):min(len(out), at[1]+30)])
	}
	return found
}

// quotedLine is a line of the user's file with a mark under it.
var quotedLine = regexp.MustCompile(`(?m)^.*\n[ \t]*\^~*$`)

// oneUnitExceptions are what keeps its unit on a sheet in one unit, and why.
var oneUnitExceptions = []struct {
	why   string
	names *regexp.Regexp
}{
	{"a change to paste is typed back as it is tried", regexp.MustCompile(`'[\w.\[\]-]+=[^']*'|--[\w-]+(?: |=)(?:'[^']*'(?:\\''[^']*')*|[^\s-]\S*)|[\w.]+=\{[^}]*\}|\w+ = (?:"[^"]*"|\[[^\]]*\]|\{[^}]*\})`)},
	{"a law is quoted as it is printed, where its two units are not the same length", regexp.MustCompile(`up to 7 years or 134 cm|between 648 mm and 25 3/4 in|keep to 648 mm`)},
	{"the finding is that a table differs between the units", regexp.MustCompile(`by the limits in mm, but \S+ by those in inches`)},
	{"a dimension of a needle is its name", regexp.MustCompile(`\bNM \d+`)},
}

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
		for _, x := range foreignIn(out, unit) {
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
	for _, line := range strings.Split(string(questions), "\n") {
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
