package work

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"
)

// workedList is the checklist of a worked garment, a task a text.
func workedList(t *testing.T, name string, with ...string) []string {
	t.Helper()
	var out []string
	p := rules.Plan(trial.Load(t, filepath.Join("..", "..", "testdata", "worked", name+".toml"), with...))
	for _, task := range Order(p, "") {
		out = append(out, strings.Join(slices.Concat([]string{task.Do}, task.Lines, task.Take), "\n"))
	}
	return out
}

// at is the first task that says something, -1 if none does.
func at(tasks []string, what string) int {
	return slices.IndexFunc(tasks, func(s string) bool { return strings.Contains(s, what) })
}

// What was found by reading the lists with a garment on the table. The words
// are common practice, no source; what they must agree with stands beside them.
func TestReadAtTheTable(t *testing.T) {
	// The iron of the last pressing goes by the fibre that its scrap was pressed for.
	wanted(t, strings.Join(workedList(t, "double-breasted-plaid"), "\n"),
		[]string{"(two dots), for its polyester", "the polyester of shell stands no more"}, []string{"the wool of shell"})
	// Eight layers are eight times what one is said to be.
	wanted(t, strings.Join(workedList(t, "corduroy-jacket"), "\n"), []string{"about 8 mm (5/16 in) means 1 mm"}, nil)
	// A bound hole is worked before its facing is on: the layers under it are
	// not those with the facing.
	wanted(t, strings.Join(workedList(t, "boiled-wool-jacket"), "\n"),
		[]string{"through shell and stay, 2.4 mm", "its facing with them, are 4.6 mm"}, []string{"layers under the hole"})
	// Where only one pair of fronts is there, it needs no other name.
	for _, name := range []string{"leather-jacket", "zip-gilet", "child-anorak", "shirt-placket", "cape"} {
		wanted(t, strings.Join(workedList(t, name), "\n"), []string{"Cut both fronts with "}, []string{"both fronts of"})
	}
	// One make in the same layers is told once, for both.
	jeans := workedList(t, "jeans-jacket")
	wanted(t, strings.Join(jeans, "\n"), []string{"For the front and the cuff, make a test set"}, []string{"Make a test set", "tack-button "})
	// What leaks is closed where it is set, which may be before the seams are.
	rain := workedList(t, "raincoat")
	if set, patch, seams := at(rain, "Press the snap caps"), at(rain, "a patch of cloth behind it"), at(rain, "tape the seams"); set < 0 || patch != set || seams <= set {
		t.Errorf("set %d, patch %d, seams %d", set, patch, seams)
	}
	// Half of a snap neither clicks nor opens.
	if strings.Contains(rain[at(rain, "Press the snap caps")], "clicking") {
		t.Error("caps alone click")
	}
	// The machine carries the needle before it sews in the zip.
	leather := workedList(t, "leather-jacket")
	if needle, zip := at(leather, "put in 100/16 leather"), at(leather, "Stitch the zip"); needle < 0 || needle > zip {
		t.Errorf("needle %d, zip %d", needle, zip)
	}
	// What is thick is sewn as a sample, also where there is no hole.
	duffel := workedList(t, "duffel")
	wanted(t, strings.Join(duffel, "\n"),
		[]string{"Sew a sample of the layers that the loop", "Sew a sample of the layers that the zip", "34 in (863.5 mm), 30 in (762 mm) of it for the zip", "just as long as what it closes"},
		[]string{"Settle these too", "as long as the opening"})
}

// What differs from size to size stands in a list beneath, not in a sentence:
// ten sizes in one cannot be read.
func TestSizesStandInAList(t *testing.T) {
	for _, name := range []string{"parka", "zip-gilet", "quilted-vest"} {
		p := rules.Plan(trial.Load(t, filepath.Join("..", "..", "testdata", "worked", name+".toml")))
		for _, task := range Order(p, "") {
			if strings.Contains(task.Do, "S: ") || strings.Contains(task.Do, "; L: ") {
				t.Errorf("%s: %q", name, task.Do)
			}
		}
	}
	var tries []Task
	for _, task := range Order(rules.Plan(trial.Load(t, filepath.Join("..", "..", "testdata", "worked", "parka.toml"))), "") {
		if task.Stage == StageTry {
			tries = append(tries, task)
		}
	}
	// run less the last centre: 720, 740 and 760 - 640 mm; arithmetic.
	if len(tries) == 0 || !slices.Equal(tries[0].Lines, []string{"S: 80 mm (3 1/8 in)", "M: 100 mm (3 15/16 in)", "L: 120 mm (4 3/4 in)"}) {
		t.Errorf("%+v", tries)
	}
}
