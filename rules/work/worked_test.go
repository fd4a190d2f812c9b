package work

import (
	"maps"
	"regexp"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
	"placketeer/spacing"
)

// workedOf is the working of a topic of the first closure.
func workedOf(t *testing.T, topic, text string, with ...string) string {
	t.Helper()
	p := rules.Plan(trial.Read(t, text, with...))
	var out []string
	for _, s := range Working(p, 0) {
		if s.Topic == topic {
			out = append(out, s.Says)
		}
	}
	return strings.Join(out, "\n")
}

const workedCoat = `garment = "Slip coat (invented)"
units = "mm"
[cloth.shell]
use = "melton"
thickness = "2 mm"
[[closure]]
name = "front"
where = "front"
fastener = "button"
over = ["shell", "shell"]
[closure.notion]
diameter = 20
thickness = 3
holes = 4
hole_gap = 3
[closure.run]
length = 600
first = 30
last = 30
count = 4
`

// Gaps are told as they are: alike, 540 ÷ 3 = 180; unlike, with what lies between
// the largest and the smallest; in groups, with their distance inside a group.
func TestGapsInTheWorking(t *testing.T) {
	for _, c := range []struct {
		with []string
		has  []string
		not  string
	}{
		{nil, []string{"(570 mm − 30 mm) ÷ 3 gaps = 180 mm if exactly even", "3 × 180 mm"}, "between the largest and the smallest"},
		// 540 ÷ 7 = 77.14: gaps of 75 and 80, 5 apart, marked to 5 mm.
		{[]string{"closure.front.run.count=8", "closure.front.run.step=5 mm"}, []string{"÷ 7 gaps", "5 mm between the largest and the smallest"}, "groups"},
		{[]string{"closure.front.run.count=8", "closure.front.run.step=5 mm", "closure.front.run.group=2", "closure.front.run.group_gap=40 mm"}, []string{"in groups of 2, 40 mm apart inside a group"}, "if exactly even"},
	} {
		got := workedOf(t, TopicGaps, workedCoat, c.with...)
		for _, w := range c.has {
			if !strings.Contains(got, w) {
				t.Errorf("%v: no %q in %q", c.with, w, got)
			}
		}
		if strings.Contains(got, c.not) {
			t.Errorf("%v: %q in %q", c.with, c.not, got)
		}
	}
	if got := workedOf(t, TopicGaps, workedCoat, "closure.front.run.count=8", "closure.front.run.step=5 mm", "closure.front.run.group=2", "closure.front.run.group_gap=40 mm"); strings.Contains(got, "between the largest") {
		t.Errorf("in groups: %q", got)
	}
}

// The edge of a zip's tape lies on the cut edge where the seam is as wide as the
// tape less what is folded: 14 − (3 + 3.175) = 7.825.
func TestTapeOfAZipInTheWorking(t *testing.T) {
	zip := strings.NewReplacer(`fastener = "button"`, `fastener = "zip"`, "diameter = 20\nthickness = 3\nholes = 4\nhole_gap = 3", "number = 5\nchain = 6\ntape = 14\nopening = \"separating\"", "count = 4\n", "").Replace(workedCoat)
	for seam, on := range map[string]bool{"7.825 mm": true, "7.9 mm": false, "7 mm": true} {
		got := workedOf(t, TopicZip, zip, "closure.front.stand.seam="+seam)
		if strings.Contains(got, "lay the tape's edge on the cut edge") != on || strings.Contains(got, "inside the cut edge") == on {
			t.Errorf("a seam of %s: %q", seam, got)
		}
	}
}

// Beside what a sample measured the layers are told, with their sum where there are
// several: 2 + 2.
func TestSampleBesideItsLayers(t *testing.T) {
	for over, want := range map[string]string{`["shell","shell"]`: " = 4 mm", `["shell"]`: ""} {
		got := workedOf(t, TopicLayers, workedCoat, "closure.front.over="+over, "closure.front.measured.stack=5 mm")
		if !strings.Contains(got, "from your sample; the layers by themselves: ") || want != "" && !strings.Contains(got, want) || want == "" && strings.Contains(got, " = ") {
			t.Errorf("%s: %q, want %q", over, got, want)
		}
	}
}

// How an open count was chosen: in how many of how many sizes it comes out even,
// and what was passed over though nearer the wish.
func TestHowACountWasChosen(t *testing.T) {
	w := &working{}
	w.x.U = measure.MM
	for _, c := range []struct {
		c    spacing.Choice
		want string
	}{
		{spacing.Choice{Why: spacing.WhyEven, Wish: 90 * mm, Even: 1, Sizes: 1}, "; of the counts that come out even, 6 is nearest the wish for gaps of 90 mm"},
		{spacing.Choice{Why: spacing.WhyEven, Wish: 90 * mm, Even: 2, Sizes: 2}, "; of the counts that come out even in all sizes, 6 is nearest the wish for gaps of 90 mm"},
		{spacing.Choice{Why: spacing.WhyEven, Wish: 90 * mm, Even: 1, Sizes: 2}, "; of the counts that come out even in 1 of 2 sizes, 6 is nearest the wish for gaps of 90 mm"},
		{spacing.Choice{Why: spacing.WhyEven, Wish: 90 * mm, Even: 1, Sizes: 1, Over: []int{7}}, "; of the counts that come out even, 6 is nearest the wish for gaps of 90 mm; 7 is nearer, but less even"},
		{spacing.Choice{Why: spacing.WhySpread, Over: []int{7, 5}}, "; no count comes out even, and 6 has the smallest difference; 7 and 5 are nearer, but less even"},
		{spacing.Choice{Why: spacing.WhyOnly}, "; 6 is the only count that has a layout"},
		{spacing.Choice{Why: spacing.WhyWish, Wish: 90 * mm}, "; 6 is nearest the wish for gaps of 90 mm"},
		{spacing.Choice{}, ""},
	} {
		got := w.chosen(&plan.Size{Count: 6, Choice: c.c})
		if got = regexp.MustCompile(` \([^)]* in\)`).ReplaceAllString(got, ""); got != c.want {
			t.Errorf("%+v: %q, want %q", c.c, got, c.want)
		}
	}
}

// The thread of one garment is told by how its holes are worked, each with its own
// source: by hand a hole of 23 takes 36 × 23 = 828 mm, one of 31 takes 1116.
func TestThreadInTheWorking(t *testing.T) {
	for _, c := range []struct {
		with   []string
		has    []string
		not    []string
		source string
	}{
		{[]string{"closure.front.hole=machine"}, []string{"stitches", "sewing one on"}, []string{"twist", "seams of a bound hole"}, "A. K. Das"},
		{[]string{"closure.front.hole=hand", "closure.front.hole_length=23 mm"}, []string{"36 times as much twist, and 3/4 yd at least: 0.8 m"}, []string{"stitches", "bound"}, "Every Woman's Encyclopaedia"},
		{[]string{"closure.front.hole=hand", "closure.front.hole_length=31 mm"}, []string{"36 times as much twist, and 3/4 yd at least: 1.1 m"}, []string{"stitches", "bound"}, "Every Woman's Encyclopaedia"},
		{[]string{"closure.front.hole=bound"}, []string{"the seams of a bound hole"}, []string{"twist", "stitches"}, "A. K. Das"},
	} {
		p := rules.Plan(trial.Read(t, workedCoat, c.with...))
		got, sources := "", ""
		for _, s := range Working(p, 0) {
			if s.Topic == TopicUsed {
				got, sources = got+s.Says, sources+strings.Join(s.Sources, "; ")
			}
		}
		for _, w := range c.has {
			if !strings.Contains(got, w) {
				t.Errorf("%v: no %q in %q", c.with, w, got)
			}
		}
		for _, w := range c.not {
			if strings.Contains(got, w) {
				t.Errorf("%v: %q in %q", c.with, w, got)
			}
		}
		if !strings.HasPrefix(sources, c.source) || !strings.Contains(got, "15 % for waste") {
			t.Errorf("%v: %q, by %q", c.with, got, sources)
		}
	}
}

// 100 m are 109.36 yd, to a tenth in both.
func TestMetres(t *testing.T) {
	for l, want := range map[measure.Length]string{100 * measure.Metre: "100.0 m (109.4 yd)", measure.Yard: "0.9 m (1.0 yd)", 0: "0.0 m (0.0 yd)"} {
		if got := Metres(l, measure.MM); got != want {
			t.Errorf("%v: %q, want %q", l, got, want)
		}
	}
}

// What the fronts are cut to, by hand: a faced edge at 25 with its seam of 10 is
// 35 beyond the centre line, its facing of 70 inside it 25 + 70 + 10; where the file
// does not say, as far as a hole of 25 that begins 3.175 outside the line and 6.35
// more. A band lies with its middle on the line: the front ends half of it inside
// and is cut a seam wider, and the band twice its width, two seams and a fold of
// 2.
func TestCutsOfFronts(t *testing.T) {
	const stand = "closure.front.stand."
	for _, c := range []struct {
		with []string
		want map[string]measure.Length // µm
	}{
		{[]string{stand + "construction=faced", stand + "finished=25 mm", stand + "seam=10 mm", stand + "facing=70 mm"},
			map[string]measure.Length{"both fronts, beyond the centre line": 35000, "both fronts, facing": 105000}},
		{[]string{stand + "construction=faced", stand + "finished=25 mm", stand + "seam=10 mm", "closure.front.direction=across", "closure.front.hole_length=25 mm"},
			map[string]measure.Length{"both fronts, beyond the centre line": 35000, "both fronts, facing, at least": 63175}},
		{[]string{stand + "construction=band", stand + "band=40 mm", stand + "seam=10 mm"},
			map[string]measure.Length{"both fronts, inside the centre line": 10000, "bands": 102000}},
		{[]string{stand + "construction=band", stand + "band=20.6 mm", stand + "seam=10 mm"},
			map[string]measure.Length{"both fronts, inside the centre line": 300, "bands": 63200}},
		{[]string{stand + "construction=band", stand + "band=20.002 mm", stand + "seam=10 mm"},
			map[string]measure.Length{"bands": 62004}}, // nobody marks 1 µm beside a line
		{[]string{stand + "construction=band", stand + "band=20 mm", stand + "seam=10 mm"},
			map[string]measure.Length{"bands": 62000}},
		{[]string{stand + "construction=band", stand + "band=19.4 mm", stand + "seam=10 mm"},
			map[string]measure.Length{"both fronts, beyond the centre line": 300, "bands": 60800}},
	} {
		p := rules.Plan(trial.Read(t, workedCoat, c.with...))
		got := map[string]measure.Length{}
		for _, x := range Cuts(p, []int{0}) {
			if got[x.What] = x.Wide / measure.Micrometre; x.Pieces != 2 {
				t.Errorf("%v: %d of %s", c.with, x.Pieces, x.What)
			}
		}
		if !maps.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.with, got, c.want)
		}
	}
}
