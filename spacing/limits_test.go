package spacing

import (
	"strings"
	"testing"

	"placketeer/catalog/measure"
)

// Each limit of a problem, just inside and just outside it: what reaches 1 km is
// taken, a nanometre more is refused by name; 2^18 steps are a run, one more is not.
func TestLimitsOfAProblem(t *testing.T) {
	const mm, far = measure.Millimetre, 1000 * measure.Metre
	for _, c := range []struct {
		name, want string
		by         measure.Length
		set        func(p *Problem, over measure.Length)
	}{
		{"step", "step of", 1, func(p *Problem, over measure.Length) { p.Step = far + over }},
		{"first.min", "first of", 1, func(p *Problem, over measure.Length) { p.First.Min = -far - over }},
		{"first.max", "first of", 1, func(p *Problem, over measure.Length) { p.First.Max = far + over }},
		{"last.min", "last of", 1, func(p *Problem, over measure.Length) { p.Last.Min = -far - over }},
		{"last.max", "last of", 1, func(p *Problem, over measure.Length) { p.Last.Max = far + over }},
		{"gap.max", "gap.max of", 1, func(p *Problem, over measure.Length) { p.Gap.Max = far + over }},
		{"repeat", "repeat of", 1, func(p *Problem, over measure.Length) { p.Repeat = far + over }},
		{"phase", "phase of", 1, func(p *Problem, over measure.Length) { p.Phase = -far - over }},
		{"group gap", "group gap of", 1, func(p *Problem, over measure.Length) { p.GroupGap = far + over }},
		{"even within", "even within of", 1, func(p *Problem, over measure.Length) { p.EvenWithin = far + over }},
		{"anchor above", "anchor bust of", 1, func(p *Problem, over measure.Length) { p.Anchors = []Anchor{{Name: "bust", At: -far - over}} }},
		{"anchor below", "anchor bust of", 1, func(p *Problem, over measure.Length) { p.Anchors = []Anchor{{Name: "bust", At: far + over}} }},
		{"anchor within", "anchor bust of", 1, func(p *Problem, over measure.Length) { p.Anchors = []Anchor{{Name: "bust", Within: far + over}} }},
		{"zone from", "clear zone dart of", 1, func(p *Problem, over measure.Length) { p.Clear = []Zone{{Name: "dart", From: -far - over}} }},
		{"zone to", "clear zone dart of", 1, func(p *Problem, over measure.Length) { p.Clear = []Zone{{Name: "dart", To: far + over}} }},
		{"run", "a run of", 1, func(p *Problem, over measure.Length) { p.Run, p.Step = 100*measure.Metre+over, mm }},
		{"no run", "a run of", 1, func(p *Problem, over measure.Length) { p.Run = 1 - over }},
		{"no step", "a step of", 1, func(p *Problem, over measure.Length) { p.Run, p.Step = 100, 1-over }},
		{"places", "too fine", mm, func(p *Problem, over measure.Length) { p.Run, p.Step = (1<<18-1)*mm/4+mm/4+over, mm/4 }},
		{"window", "first ends", 1, func(p *Problem, over measure.Length) { p.First = Window{Min: 5 + over, Max: 5} }},
		{"last window", "last ends", 1, func(p *Problem, over measure.Length) { p.Last = Window{Min: 5 + over, Max: 5} }},
		{"zone", "clear zone", 1, func(p *Problem, over measure.Length) { p.Clear = []Zone{{Name: "dart", From: 5 + over, To: 5}} }},
		{"count", "a count of", 1, func(p *Problem, over measure.Length) { p.CountMin, p.CountMax = 2, 1000+int(over) }},
		{"counts", "a count of at least", 1, func(p *Problem, over measure.Length) { p.CountMin, p.CountMax = 5+int(over), 5 }},
		{"group", "groups of", 1, func(p *Problem, over measure.Length) {
			p.CountMin, p.CountMax, p.Group, p.GroupGap = 12, 12, 3+int(over), mm
		}},
		{"gap in a group", "inside a group", 1, func(p *Problem, over measure.Length) {
			p.CountMin, p.CountMax, p.Group, p.GroupGap = 12, 12, 2, 1-over
		}},
		{"negative gap", "gap limits", 1, func(p *Problem, over measure.Length) { p.Gap.Min = -over }},
		{"negative most", "tries", 1, func(p *Problem, over measure.Length) { p.Most = -int(over) }},
		{"anchor of nothing", "lies within", 1, func(p *Problem, over measure.Length) { p.Anchors = []Anchor{{Name: "bust", Within: -over}} }},
	} {
		p := Problem{Run: 600 * mm, Step: mm, First: At(20 * mm), Last: At(580 * mm), CountMin: 5, CountMax: 5}
		in, out := p, p
		c.set(&in, 0)
		c.set(&out, c.by)
		if err := in.check(); err != nil {
			t.Errorf("%s: just inside: %v", c.name, err)
		}
		if err := out.check(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: just outside: %v, want %q", c.name, err, c.want)
		}
	}
}

// What is left open is taken: a count without an upper limit, a group of one. One
// that does not go into its groups is told from one up.
func TestWhatMayBeLeftOpen(t *testing.T) {
	const mm = measure.Millimetre
	for _, c := range []struct {
		name, want string
		set        func(p *Problem)
	}{
		{"at least 3", "", func(p *Problem) { p.CountMin, p.CountMax = 3, 0 }},
		{"groups of one", "", func(p *Problem) { p.Group = 1 }},
		{
			"at most 2 in threes", "spacing: no count from 1 to 2 goes into groups of 3",
			func(p *Problem) { p.CountMin, p.CountMax, p.Group, p.GroupGap = 0, 2, 3, mm },
		},
		{
			"4 or 5 in threes", "spacing: no count from 4 to 5 goes into groups of 3",
			func(p *Problem) { p.CountMin, p.CountMax, p.Group, p.GroupGap = 4, 5, 3, mm },
		},
	} {
		p := Problem{Run: 600 * mm, Step: mm, First: At(20 * mm), Last: At(580 * mm), CountMin: 5, CountMax: 5}
		c.set(&p)
		err := p.check()
		if got := ""; err != nil || c.want != "" {
			if err != nil {
				got = err.Error()
			}
			if got != c.want {
				t.Errorf("%s: %q, want %q", c.name, got, c.want)
			}
		}
	}
}

// The least common multiple is kept up to 2^41, more than any run of nanometres;
// beyond it the two meet nowhere on it. Arithmetic.
func TestLeastCommonMultiple(t *testing.T) {
	for _, c := range []struct{ a, b, want int64 }{
		{4, 6, 12}, {1 << 20, 1 << 21, 1 << 21}, {1 << 20, 1<<21 - 1, 1<<41 - 1<<20},
		{1 << 41, 1 << 40, 1 << 41}, {1 << 41, 3, 1 << 41}, {1<<40 + 1, 2, 1 << 41}, {1<<40 - 1, 2, 1<<41 - 2},
	} {
		if got := lcm(c.a, c.b); got != c.want {
			t.Errorf("lcm of %d and %d: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}
