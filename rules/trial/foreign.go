package trial

import (
	"html"
	"regexp"
	"strings"
)

// foreign is a measure in a unit that is not of the sheet, by the unit of the
// sheet: lengths, goods, weights, heats and pulls.
var foreign = map[string]*regexp.Regexp{
	"mm": regexp.MustCompile(`(?:^|[^-\w.#/])((?:\d+ )?\d+(?:/\d+|\.\d+)?|[\d.]*[¼½¾⅛⅜⅝⅞]) ?(?:(?:in|inch|inches|ft|yd|oz|oz/yd²|oz/yd2|°F|F|lbf|lb)\b|["”″])(?:[^\w-]|$)|°F|\binch`),
	"in": regexp.MustCompile(`(?:^|[^-\w.#/])(\d+(?:\.\d+)?) ?(?:mm|cm|m|g/m²|g/m2|gsm|°C|C|N|kg)\b(?:[^\w-²/]|$)|°C`),
}

// wordsAfter are what stands behind a number and an "in" that is no inch.
var wordsAfter = regexp.MustCompile(`^(?:the|a|an|all|each|scrap|one|it|its|this|that|them|order|which|line|length|seams|place|turn|size|sizes|[SMLX]+)\b`)

// Foreign are the measures of a text that are not in its one unit, with what
// stands round them. What is named is taken out first.
func Foreign(out, unit string) []string {
	out = quotedLine.ReplaceAllString(out, "")
	if strings.HasPrefix(strings.TrimSpace(out), "<") {
		out = markup.ReplaceAllString(out, " ") // sources are quoted
		out = markup.ReplaceAllString(out, " ") // sources are quoted
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

// markup is what a reader does not see, and the list of sources, which are
// quoted as they are printed.
var markup = regexp.MustCompile(`(?s)<ol class="sources">.*?</ol>|<style.*?</style>|<script.*?</script>|<[^>]*>`)

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
