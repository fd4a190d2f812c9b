package work

import "placketeer/rules"

// checkSafety is what a child's garment and others that the law watches are
// looked at for.
func (w *planner) checkSafety() {
	if rules.IsChild(w.g) {
		t := w.add(StageCheck, "", "Feel the whole garment inside and out for pins, points and pieces of needle.")
		w.take(t, "", rules.TaskNeedle)
	}
	if rules.IsChild(w.g) || w.g.Costume.Or(false) || w.g.Sleepwear.Length.Has() {
		t := w.add(StageCheck, "", "")
		w.take(t, "", rules.TaskSell, rules.TaskBuySafely, rules.TaskFasten)
		law := "read the law of the place"
		if tagged, _ := Lawful(w.out); tagged {
			law = whereLaw
		}
		t.Do = "Before you sell it or give it away: " + law + "; an accredited laboratory tests force, lead and nickel. This list is no certificate."
	}
}
