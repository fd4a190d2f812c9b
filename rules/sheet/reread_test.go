package sheet

import (
	"fmt"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/search"
	"placketeer/rules/trial"
	"placketeer/rules/work"
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

// A change under a line of several closures says where it settles one of them
// alone: melton-light, 2 × 1.76 mm = 3.5 mm, is under 4 mm for the zip, but not
// with 0.6 mm of canvas between, for the toggles, within its ±.
func TestChangesSayWhatTheySettle(t *testing.T) {
	p := search.Checked(trial.Load(t, "../../testdata/collection/duffel-coat.toml"), search.CheckOptions{Fixes: true})
	says := checked(t, []*rules.Planned{p}, Options{Format: "text"})
	if !strings.Contains(says, "toggles, less so zip: ") || !strings.Contains(says, "make shell of melton-light (settles zip alone)") {
		t.Error(says)
	}
	both := search.Checked(trial.Load(t, "../../testdata/plan/test-coat.toml"), search.CheckOptions{Fixes: true})
	if says := checked(t, []*rules.Planned{both}, Options{Format: "text"}); strings.Contains(says, "alone)") {
		t.Error(says)
	}
}

// Conflicts are counted alike on the screen, the checklist and the guide: ten
// causes, of which one is found in five sizes.
func TestConflictsAreCountedAlike(t *testing.T) {
	p := beside(t, "fixes/ten-conflicts")[0]
	if n := p.Conflicts(); n != 10 {
		t.Errorf("%d conflicts", n)
	}
	if says := checked(t, []*rules.Planned{p}, Options{Format: "text"}); !strings.Contains(says, "conflict: 10 conflicts") {
		t.Error(says)
	}
	n := 0
	for _, task := range work.Order(p, "") {
		if task.Stage == work.StageSettle && !strings.HasPrefix(task.Do, "Cut nothing") {
			n++
		}
	}
	if n != 10 {
		t.Errorf("%d to settle on the checklist", n)
	}
}

// What the folds of a band come to is a least: 5/8 + 1 1/4 + 3/8 in, 3.2 mm for
// two folds and 0.2 mm round the stay make 60.55 mm, drafted as 2 7/16 in, never
// as 2 3/8 in, which is 60.3 mm (arithmetic). Every paper says so.
func TestFoldsAreDraftedWide(t *testing.T) {
	ps := beside(t, "collection/slipway-gilet")
	papers := specified(t, ps, Options{Format: "text", Working: true})
	var b strings.Builder
	if err := Checklist(&b, ps[0], Options{Format: "text"}); err != nil {
		t.Fatal(err)
	}
	papers += b.String()
	for _, want := range []string{"cut edge 2 7/16 in beyond", "Cut both fronts with 2 7/16 in (61 mm)", "= 2 7/16 in (61 mm)"} {
		if !strings.Contains(strings.Join(strings.Fields(papers), " "), want) {
			t.Errorf("%q is missing in\n%s", want, papers)
		}
	}
}

// Sources stand once: a variant has its own list only where it refers to it.
func TestVariantsRepeatNoSources(t *testing.T) {
	for _, p := range winterRange(t) {
		if n := strings.Count(specified(t, []*rules.Planned{p}, Options{Format: "text", Sources: true}), "\nSources\n"); n != 1 {
			t.Errorf("%s: %d lists of sources", p.Garment.Name, n)
		}
	}
}

// What reads alike in all sizes is told once, and a toggle goes on no hole.
func TestWorkingIsToldOnce(t *testing.T) {
	says := specified(t, beside(t, "plan/try-on"), Options{Format: "text", Working: true})
	if n := strings.Count(says, "if exactly even"); n != 1 {
		t.Errorf("the gaps are worked out %d times", n)
	}
	if says := specified(t, beside(t, "collection/duffel-coat"), Options{Format: "text", Working: true}); strings.Contains(says, "under the hole") || !strings.Contains(says, "under the loop") {
		t.Error(says)
	}
}

// Of a checklist: no cord without its toggle, no cuff on the body, no row for
// show that is to be left unmarked and marked, no shrinking after the cutting,
// and how a set must look once.
func TestChecklistReadAtTheTable(t *testing.T) {
	for name, c := range map[string]struct{ has, not []string }{
		"collection/duffel-coat":   {has: []string{"Draw each cord through its toggle"}, not: []string{"and a scrap first"}},
		"collection/canvas-jacket": {has: []string{"join the cuff to the sleeve", "It must come out as that of the flap"}, not: []string{"join the cuff to the body"}},
		"collection/squall-jacket": {has: []string{"as long as the run with a seam at either end"}},
		"pieces/double":            {has: []string{"in a yard. ! Canvas shrinks 5 %", "For show: rows 1 and 2; cut no hole there."}, not: []string{"mark and cut no hole"}},
	} {
		var b strings.Builder
		if err := Checklist(&b, beside(t, name)[0], Options{Format: "text"}); err != nil {
			t.Fatal(err)
		}
		says := strings.Join(strings.Fields(b.String()), " ")
		for _, want := range c.has {
			if !strings.Contains(says, want) {
				t.Errorf("%s: %q is missing in\n%s", name, want, b.String())
			}
		}
		for _, not := range c.not {
			if strings.Contains(says, not) {
				t.Errorf("%s: %q stands in\n%s", name, not, b.String())
			}
		}
	}
}
