package sheet

import (
	"fmt"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/search"
	"placketeer/rules/trial"
)

// The table of the variants counts what is printed of each: its own page says
// the same numbers.
func TestVariantsAreCountedAsPrinted(t *testing.T) {
	for _, p := range winterRange(t) {
		if len(p.Variants) == 0 {
			continue
		}
		s := screened(p, Options{})
		rows := s.verdicts(false).Rows
		for i, v := range s.variants {
			_, _, count := v.things("")
			got := rows[i+1]
			for j, sev := range []rules.Severity{rules.Conflict, rules.Caution, rules.Note} {
				if want := fmt.Sprint(count[sev]); got[2+j].Text != want {
					t.Errorf("%s, %s: %s %ss in the table, %s on its page", s.Garment, v.plan.Garment.Variant, got[2+j].Text, sev, want)
				}
			}
		}
	}
}

// beside plans a garment of the repository.
func beside(t *testing.T, name string) []*rules.Planned {
	t.Helper()
	return []*rules.Planned{search.Checked(trial.Load(t, "../../testdata/"+name+".toml"), search.CheckOptions{})}
}

// A heading promises what stands below it: a question is not a change.
func TestSafetyHeadingHoldsQuestions(t *testing.T) {
	says := checked(t, beside(t, "worked/infant-jacket"), Options{Format: "text"})
	if !strings.Contains(says, "For safety, before you cut\n  - ask what pull it holds") {
		t.Error(says)
	}
}

// Goods begin with a capital, names of the catalogue as they are written; a
// range is said to be of what.
func TestGoodsReadAsAList(t *testing.T) {
	says := specified(t, beside(t, "worked/child-anorak"), Options{Format: "text"})
	for _, want := range []string{"\n- A cord at the waist", "\n- Elastic for the hood"} {
		if !strings.Contains(says, want) {
			t.Errorf("%q is missing in\n%s", want, says)
		}
	}
	says = specified(t, beside(t, "garments/slipway-gilet"), Options{Format: "text"})
	for _, want := range []string{"\n- cord-elastic-3mm for the cord", "; range: one of each size\n"} {
		if !strings.Contains(says, want) {
			t.Errorf("%q is missing in\n%s", want, says)
		}
	}
}

// What is offered to try is not what the file has, and nothing better is
// passed over for being of the same range: the ready coat has its buttons from
// the range of the other, in another size.
func TestChooseTriesTheBest(t *testing.T) {
	var b strings.Builder
	if err := Choice(&b, chosen(t, search.ChoiceOptions{All: true}), Options{}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "--with closure.front.use=quay-horn-36\n") {
		t.Error(b.String())
	}
}
