package work

import (
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// A thread named for holes that are worked by hand is no thread of the machine:
// its needle goes by the seam's, and the buttons, sewn on by hand, take the twist
// of the holes. Common practice, no source.
func TestTwistIsNotForTheMachine(t *testing.T) {
	const coat = `garment = "Pilot's overcoat (invented)"
units = "mm"
[cloth.shell]
use = "coating-check"
thickness = "2 mm ± 0.1"
[interfacing.canvas]
use = "hair-canvas"
thickness = 0.55
[thread.seam]
use = "polyester-tex-60"
[thread.twist]
use = "silk-twist"
[[closure]]
name = "front"
use = "horn-45"
hole = "hand"
over = ["shell", "canvas", "shell"]
thread = "twist"
[closure.run]
length = 700
count = 5
`
	by := rules.Plan(trial.Read(t, coat))
	plain := rules.Plan(trial.Read(t, strings.Replace(coat, "thread = \"twist\"\n", "", 1)))
	k := &by.Closures[0]
	if k.Thread.Name != "seam" || k.Needle.Use != plain.Closures[0].Needle.Use {
		t.Errorf("the machine sews with %s and needle %s, not with the seam's and %s", k.Thread.Name, k.Needle.Use, plain.Closures[0].Needle.Use)
	}
	for job, want := range map[plan.Job]string{plan.JobHoles: "twist", plan.JobFasten: "twist", plan.JobEdge: "seam"} {
		if got := by.ThreadOf(0, job).Name; got != want {
			t.Errorf("job %v: %s, not %s", job, got, want)
		}
	}
	// Tex 60 lies in 24 to 40 % of a blade of 1 mm: a thread maker's table.
	if k.Needle.Use != measure.NeedleSize(100) {
		t.Errorf("needle %s", k.Needle.Use)
	}
}
