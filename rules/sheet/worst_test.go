package sheet

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"
)

// hardFile is a garment of toggles over sewn snaps in a file of its own.
func hardFile(t *testing.T, text string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "hard.toml")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// The figures of a line are those of the first closure it names: of one whose
// own are not so far off it says so. The first toggle lies 100 mm down, the
// first snap 50 mm.
func TestFiguresOfTheWorstClosure(t *testing.T) {
	out := strings.Join(strings.Fields(screenOf(t, hardFile(t, `garment = "Hard duffel (invented)"
units = "mm"
[cloth.shell]
use = "melton-light"
thickness = "1.2 mm"
[[closure]]
name = "toggles"
opening = "front"
use = "toggle-horn-60"
over = ["shell", "shell"]
[closure.run]
length = 820
first = 100
count = 4
[[closure]]
name = "snaps"
opening = "front"
behind = "toggles"
use = "sewn-snap-21"
over = ["shell", "shell"]
[closure.run]
length = 820
first = 50
count = 5
`), Options{})), " ")
	if !strings.Contains(out, "toggles, less so snaps: the first lies 100 mm below the top") {
		t.Error(out)
	}
}

// Tex 90 twist is worked by hand and does not go through the eye of the needle
// that the table names, 90/14: 0.37 mm of 0.90 mm is over the 40 % of the thread
// makers.
func TestThreadOfTheNeedleBesideThatOfTheHoles(t *testing.T) {
	s := specified(t, []*rules.Planned{rules.Plan(trial.Load(t, hardFile(t, `garment = "Hard jacket (invented)"
units = "in"
[cloth.shell]
use = "corduroy"
thickness = "1.5 mm"
[thread.seam]
use = "polyester-tex-40"
[[closure]]
name = "front"
use = "horn-32"
hole = "hand"
over = ["shell", "shell"]
thread = "seam"
[closure.run]
length = 25
count = 5
`)))}, Options{UTF8: true})
	if !strings.Contains(s, "thread Tex 40, the holes by hand Tex 90") {
		t.Error(s)
	}
}
