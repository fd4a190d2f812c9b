package rules

import "testing"

// The usual first place of a 36 ligne button is 1 3/16 in (arithmetic: 9/10 in
// and 1/4 in, to the ruler's next mark); where places are marked to 1/8 in, the
// nearest mark that is no higher is 1 1/4 in, so nothing is said of that.
func TestFirstToTheNextMark(t *testing.T) {
	const coat = "units=in|closure.front.run.length=24 in|machine.foot_lift=12 mm|machine.buttonhole_max=60 mm|interfacing.in.width=60 in|closure.front.notion.diameter=36L|closure.front.notion.thickness=4 mm"
	for _, c := range []struct {
		run  string
		want int
	}{
		{"|closure.front.run.first=1.25 in|closure.front.run.step=1/8 in", 0},
		{"|closure.front.run.first=1.25 in|closure.front.run.step=1/16 in", 1},
		{"|closure.front.run.first=1.375 in|closure.front.run.step=1/8 in", 1},
	} {
		g, err := edgeGarment(edgeCoat, coat+c.run, "")
		if err != nil {
			t.Fatal(err)
		}
		if got := says(g, "first-high", Note); len(got) != c.want {
			t.Errorf("%s: %q, want %d notes", c.run, got, c.want)
		}
	}
}
