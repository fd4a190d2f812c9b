package work

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// What is cut to a length that was worked out is told with one text wherever
// it is told: what the places on the pieces say in the garment's own unit is
// what the checklist says before its brackets.
func TestOneTextForWhatIsCut(t *testing.T) {
	garments, err := filepath.Glob("../../testdata/garments/*.toml")
	if err != nil || len(garments) == 0 {
		t.Fatal("no garments: ", err)
	}
	length := `([0-9][^()]*\([^()]*\))`
	for what, in := range map[string]struct{ list, place *regexp.Regexp }{
		"hole":  {regexp.MustCompile(`(?:[Ss]ew|[Mm]ake|work) the (?:bound )?holes.*? ` + length + ` long`), regexp.MustCompile(`cut ([0-9][^()]*?) and stitched`)},
		"strip": {regexp.MustCompile(`Cut \d+ (?:strip|patch).*? ` + length + ` wide`), regexp.MustCompile(`interfacing, (?:in the fly, )?([0-9][^()]*?) wide`)},
	} {
		told := 0
		for _, name := range garments {
			if text, err := os.ReadFile(name); err != nil || !strings.HasPrefix(string(text), "garment") && !strings.Contains(string(text), "\ngarment") {
				continue // a catalogue
			}
			p := demo(t, strings.TrimSuffix(filepath.Base(name), ".toml"))
			var list, place []string
			for _, task := range Order(p, "") {
				if m := in.list.FindStringSubmatch(task.Do); m != nil {
					list = append(list, m[1])
				}
			}
			for i := range p.Closures {
				if what == "hole" && p.Closures[i].Hole.MachineSews > 0 {
					continue // the machine sews it shorter
				}
				for _, laid := range Pieces(p, i, []int{0}) {
					for _, says := range laid.Says {
						if m := in.place.FindStringSubmatch(says); m != nil {
							place = append(place, m[1])
						}
					}
				}
			}
			for _, says := range place {
				if len(list) > 0 && !slices.ContainsFunc(list, func(other string) bool { return strings.HasPrefix(other, says+" (") }) {
					t.Errorf("%s: a %s of %s on the pieces, of %v in the checklist", name, what, says, list)
				}
				told++
			}
		}
		if told < 5 {
			t.Errorf("only %d texts of a %s were compared", told, what)
		}
	}
}
