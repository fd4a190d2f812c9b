package rules

import (
	"fmt"
	"math"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

var tackRules = []*Rule{
	{
		Name: "tack-pull", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "how a tack button's tested pull compares",
		Formula: "pull ≥ {pull}, the military minimum for tack button and tack",
		Limits:  []plan.Threshold{plan.TackPullLimit},
		Why:     "Another figure belongs to other tests; only like can be compared with like.",
		Sources: []string{"MIL-B-286D (1987), Buttons, Tack; and Tack, Button, 3.4: 60 lb without deforming or parting"},
		Others:  "buyers ask 70 N for adults and 90 N for children; neither binds by law here",
		Check: func(x *Context) {
			n := &x.C.Notion
			if n.Kind != catalog.TackButton || !n.Pull.Has() || n.Pull.V >= math.Floor(float64(plan.TackPull)*10)/10 {
				return
			}
			tested := fmt.Sprintf("%.4g N", n.Pull.V)
			if x.U.Or(measure.MM).Is(measure.In) {
				tested = measure.Force(n.Pull.V).Short(x.U)
			}
			x.report(Note, x.notionPath("pull", n.Pull.From), Numbers{Have: n.Pull.V, Need: round3(plan.TackPull.N()), Margin: round3(n.Pull.V - plan.TackPull.N()), Unit: "N", Compared: true},
				"tested to hold %s; military tack buttons hold at least %s. That does not bind your garment; it is a yardstick", tested, plan.TackPull.Text(x.U)).Line("tested to hold %s; a military tack button holds %s", tested, plan.TackPull.Text(x.U))
		},
	},
}
