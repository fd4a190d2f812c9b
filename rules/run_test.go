package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
	"placketeer/spacing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

const runCoat = `garment = "Quay coat (invented)"
units   = "in"
[sizes]
names = ["S", "M", "L"]
[cloth.shell]
use = "melton"
thickness = "2 mm"
repeat = { along = "3 1/2 in", across = 3, even = true }
[[closure]]
name = "front"
use  = "horn-36"
over = ["shell", "shell"]
%s
[closure.run]
%s
`

func planOf(t testing.TB, closure, run string, with ...string) *Planned {
	t.Helper()
	g, err := catalog.Read("coat.toml", []byte(fmt.Sprintf(runCoat, closure, run)), catalog.Options{With: with})
	if err != nil {
		t.Fatal(err)
	}
	return Plan(g)
}

func inches(ls []measure.Length) []float64 {
	out := make([]float64, len(ls))
	for i, l := range ls {
		out[i] = l.In()
	}
	return out
}

// Published layouts, worked through a whole garment.
func TestPublishedLayouts(t *testing.T) {
	for _, c := range []struct {
		source, run string
		want        []float64
	}{
		// Historical tailoring notebook: nine holes, 16 in first to last, gap
		// (last − first)/(n − 1).
		{"frock coat", "length = 20\nfirst = 1\nlast = 3\ncount = 9", []float64{1, 3, 5, 7, 9, 11, 13, 15, 17}},
		// South Carolina Transport Police, item 7: neck to first 3 1/4 in,
		// then 3 3/4 in.
		{"men's uniform shirt", "length = 30\nfirst = 3.25\nlast = \"4 1/4 in\"\ncount = 7", []float64{3.25, 7, 10.75, 14.5, 18.25, 22, 25.75}},
		// South Carolina Transport Police, item 12: 3 1/4 in below the lapel
		// button, then 3 1/2 in.
		{"women's uniform shirt", "length = 22\nfirst = 3.25\nlast = \"4 3/4 in\"\ncount = 5", []float64{3.25, 6.75, 10.25, 13.75, 17.25}},
		// Chicago police leather jacket: four snaps about 4 1/2 in apart.
		{"leather jacket", "length = 20\nfirst = 1\nlast = 5.5\ncount = 4", []float64{1, 5.5, 10, 14.5}},
	} {
		p := planOf(t, "", c.run)
		if diff := cmp.Diff(c.want, inches(p.Closures[0].Sizes[0].Positions)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.source, diff)
		}
	}
}

// US Army regulations of 1861: rows 5 1/2 in apart at the top and 3 1/2 in
// at the bottom, seven a row for a colonel.
func TestPublishedRows(t *testing.T) {
	p := planOf(t, `lap = "double"`+"\nrows = { top = \"2 3/4 in\", bottom = \"1 3/4 in\" }", "length = 24\nfirst = 1\nlast = 5\ncount = 7")
	want := []float64{69.85, 65.62, 61.38, 57.15, 52.92, 48.68, 44.45}
	rows := p.Closures[0].Sizes[0].Rows
	if len(rows) != len(want) {
		t.Fatalf("%d rows", len(rows))
	}
	for i, w := range want {
		near(t, fmt.Sprintf("row %d", i+1), rows[i], mms(w), 10*measure.Micrometre)
	}
	if n := p.Closures[0].Sizes[0].Fasteners; n != 14 {
		t.Errorf("%d fasteners, want two a row", n)
	}
}

// Whatever the garment, nothing of a fastener or its hole lies in a clear
// zone, each anchor has a centre, and gaps stay in their limits.
func TestLayoutsKeepWhatIsAsked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		use := rapid.SampledFrom([]string{"horn-24", "horn-36", "horn-45", "polyester-60"}).Draw(t, "use")
		direction := rapid.SampledFrom([]string{"across", "along"}).Draw(t, "direction")
		at := rapid.IntRange(8, 30).Draw(t, "anchor") // in quarters of an inch
		from := rapid.IntRange(40, 80).Draw(t, "from")
		wide := rapid.IntRange(1, 10).Draw(t, "wide")
		count := rapid.IntRange(2, 8).Draw(t, "count")
		text := fmt.Sprintf(runCoat, fmt.Sprintf("direction = %q", direction), fmt.Sprintf(
			"length = { S = 26, M = 27, L = 28 }\nfirst = 1\nlast = 4\ncount = %d\nanchor = [{ name = \"bust\", at = %g, within = 0.5 }]\nclear = [{ name = \"belt\", from = %g, to = %g }]\ngap = { min = 1.5 }",
			count, float64(at)/4, float64(from)/4, float64(from+wide)/4))
		text = strings.Replace(text, "horn-36", use, 1)
		g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		p := Plan(g)
		k := &p.Closures[0]
		clash := false
		for _, f := range p.Findings {
			clash = clash || f.Rule == "spacing-clash"
		}
		lo, hi := inch(float64(from)/4), inch(float64(from+wide)/4)
		for _, s := range k.Sizes {
			if !s.Solved {
				if !clash {
					t.Fatal("no layout and no finding")
				}
				continue
			}
			held := false
			for i, c := range s.Positions {
				if (c - inch(float64(at)/4)).Abs() <= in/2 {
					held = true
				}
				if c+k.Reach.Down > lo && c-k.Reach.Up < hi {
					t.Fatalf("a fastener at %s reaches into the belt %s to %s", c, lo, hi)
				}
				if i > 0 && s.Gaps[i-1] < inch(1.5) {
					t.Fatalf("gap %s", s.Gaps[i-1])
				}
			}
			if !held {
				t.Fatal("no fastener near the bust")
			}
		}
	})
}

func TestMatchKeepsThePlaceInTheRepeat(t *testing.T) {
	p := planOf(t, "", "length = 26\nfirst = 1\nlast = { min = 3, max = 6 }\ngap = { min = 3, max = 4 }\nmatch = \"shell\"")
	for _, s := range p.Closures[0].Sizes {
		if !s.Solved || s.Count < 3 {
			t.Fatalf("size %s: no layout on the repeat", s.Size)
		}
		for _, g := range s.Gaps {
			if g%inch(3.5) != 0 {
				t.Errorf("gap %s is no multiple of the repeat", g)
			}
		}
	}
}

func TestHemStaysFree(t *testing.T) {
	p := planOf(t, "", "length = 26\nfirst = 1\nlast = 2\ncount = 5\nhem = 2")
	if p.Closures[0].Sizes[0].Solved {
		t.Fatal("a button 2 in above the end of a 2 in hem must not pass")
	}
	if f := p.Findings[0]; f.Rule != "spacing-clash" || !strings.Contains(f.Message(), "hem") {
		t.Errorf("got %s: %s", f.Rule, f.Message())
	}
	p = planOf(t, "", "length = 26\nfirst = 1\nlast = 3\ncount = 5\nhem = 2")
	if !p.Closures[0].Sizes[0].Solved {
		t.Error("3 in clears the hem")
	}
}

// A clash names the lines of the file that cannot hold together.
func TestClashNamesItsLines(t *testing.T) {
	p := planOf(t, "", "length = 24\nfirst = 1\nlast = 4\ncount = 4\nanchor = [{ name = \"bust\", at = 10, within = 0.25 }]\nclear = [{ name = \"belt\", from = 9, to = 11 }]")
	f := p.Findings[0]
	if f.Rule != "spacing-clash" || !strings.Contains(f.Message(), "bust") || !strings.Contains(f.Message(), "belt") {
		t.Fatalf("got %s: %s", f.Rule, f.Message())
	}
	if len(f.Related) != 2 || f.Related[0].Pos.Line != 19 || f.Related[1].Pos.Line != 20 {
		t.Errorf("related %+v", f.Related)
	}
}

// The whole sentence, and the line of each thing that clashes, also where it
// is given by size or not at all.
func TestClashReadsWell(t *testing.T) {
	for _, c := range []struct {
		run, want string
		lines     []int // of what clashes
	}{
		{
			"length = 24\nfirst = 1\nlast = 4\ngap = { min = 3, max = 3.5 }\nanchor = [{ name = \"bust\", at = 8, within = 0.25 }]\nclear = [{ name = \"belt\", from = 9, to = 14 }]",
			"last at 20 in (508 mm), gap at most 3 1/2 in (89 mm), anchor bust at 8 in (203 mm) within 1/4 in (6.4 mm) and clear belt 9 in (228.5 mm) to 14 in (355.5 mm), with 7/16 in (11.5 mm) for the fastener cannot hold together: change one of them",
			[]int{17, 18, 19, 20},
		},
		{
			"length = 24\ncount = { S = 3, M = 4, L = 5 }\ngap = { max = { S = 3, M = 9, L = 9 } }",
			"the usual first at 1 3/16 in (30 mm), the usual last at 20 in (508 mm), count 3 and gap at most 3 in (76 mm) cannot hold together: change one of them; a figure behind it is a default, so say your own and set closure.front.run.last",
			[]int{14, 14, 16, 17},
		},
		{
			"length = 24\nfirst = 1\nlast = 4\ncount = 1",
			"first at 1 in (25.5 mm), last at 20 in (508 mm) and count 1 cannot hold together: change one of them",
			[]int{16, 17, 18},
		},
	} {
		var f *Finding
		p := planOf(t, "", c.run)
		for i := range p.Findings {
			if x := &p.Findings[i]; x.Rule == "spacing-clash" && x.Size == "S" {
				f = x
			}
		}
		if f == nil {
			t.Errorf("%q: no clash", c.run)
			continue
		}
		var lines []int
		for _, r := range f.Related {
			lines = append(lines, r.Pos.Line)
		}
		if diff := cmp.Diff(c.want, f.Message()); diff != "" {
			t.Errorf("(-want +got)\n%s", diff)
		}
		if diff := cmp.Diff(c.lines, lines); diff != "" {
			t.Errorf("lines of %q (-want +got)\n%s", c.want, diff)
		}
	}
}

// One fastener alone goes where first or last say, and with neither in the
// middle of a short piece: folding it in half finds the place, so no marking
// step applies.
func TestOneAlone(t *testing.T) {
	for _, c := range []struct {
		closure, run string
		want         measure.Length
	}{
		{"", "length = 24\ncount = 1", inch(1.1875)}, // 9/10 + 1/4 in, up to 1/16 in
		{"", "length = 24\ncount = 1\nfirst = 2", inch(2)},
		{"", "length = 24\ncount = 1\nlast = 5", inch(19)},
		{"", "length = 24\ncount = 1\nfirst = 19\nlast = 5", inch(19)},
		{`where = "flap"`, "length = \"6 3/16 in\"\ncount = 1", inch(6.1875) / 2},
		{`where = "collar"`, "length = \"38 mm\"\ncount = 1", mms(19)},
		{`where = "tab"`, "length = 4\ncount = 1\nlast = 1", inch(3)},
	} {
		s := planOf(t, c.closure, c.run).Closures[0].Sizes[0]
		if len(s.Positions) != 1 || s.Positions[0] != c.want {
			t.Errorf("%s %q: %v, want %s", c.closure, c.run, s.Positions, c.want)
		}
	}
	// Two on a cuff lie as far from one end as from the other.
	s := planOf(t, `where = "cuff"`, "length = \"3 in\"\ncount = 2").Closures[0].Sizes[0]
	if len(s.Positions) != 2 || s.First != s.Last || s.First != inch(.9375) {
		t.Errorf("on the cuff %v", s.Positions)
	}
}

// One count for all sizes where the limits allow; a size that cannot keep it
// is named.
func TestOneCountForAllSizes(t *testing.T) {
	p := planOf(t, "", "length = { S = 24, M = 25, L = 26 }\nfirst = 1\nlast = 4\ngap = { min = 3, max = 5 }")
	want := p.Closures[0].Sizes[0].Count
	for _, s := range p.Closures[0].Sizes {
		if s.Count != want || s.OwnCount {
			t.Errorf("size %s takes %d, not %d", s.Size, s.Count, want)
		}
	}
}

func watchCoat(b testing.TB) *catalog.Garment {
	g, err := catalog.Load("../testdata/garments/watch-coat.toml", catalog.Options{})
	if err != nil {
		b.Fatal(err)
	}
	return g
}

func BenchmarkPlan(b *testing.B) {
	g := watchCoat(b)
	b.ReportAllocs()
	for b.Loop() {
		Plan(g)
	}
}

func BenchmarkQuietly(b *testing.B) {
	g := watchCoat(b)
	b.ReportAllocs()
	for b.Loop() {
		Found(g)
	}
}

// Planning has no memory: twice the same, quietly or not.
func TestPlanIsPure(t *testing.T) {
	g := watchCoat(t)
	a, b, q := Plan(g), Plan(g), Found(g)
	if len(a.Findings) == 0 || len(a.Findings) != len(b.Findings) || len(a.Findings) != len(q.Findings) {
		t.Fatalf("%d, %d and %d findings", len(a.Findings), len(b.Findings), len(q.Findings))
	}
	for i := range a.Findings {
		if a.Findings[i].Message() != b.Findings[i].Message() || a.Findings[i].Pos != b.Findings[i].Pos {
			t.Errorf("finding %d differs", i)
		}
	}
}

// A value said once and the same value said of each size come out alike,
// with an open count and a fixed one, with a layout and without.
func TestSaidOnceOrBySize(t *testing.T) {
	for _, rest := range []string{
		"count = 5", "gap = { min = 3, max = 5 }", "count = { min = 3, max = 7 }",
		"gap = { min = 3, max = 3.25 }\nclear = [{ name = \"belt\", from = 9, to = 14 }]",
		"count = { min = 1, max = 2 }", "count = { min = 1, max = 9 }\ngap = { min = 2 }",
	} {
		once := planOf(t, "", "length = 24\n"+rest).Closures[0].Sizes
		each := planOf(t, "", "length = { S = 24, M = 24, L = 24 }\n"+rest).Closures[0].Sizes
		for i := range once {
			a, b := once[i], each[i]
			if diff := cmp.Diff(a, b); diff != "" {
				t.Errorf("%s (-once +each)\n%s", rest, diff)
			}
		}
	}
}

// A figure that the file does not say gives way where it must, in the order
// of the contract, and the line that is printed keeps it. The places are
// geometry: stripes of 84 mm from a first at 45 mm lie at 129, 213, 297, 381
// and 465 mm, and the usual step of 5 mm does not meet them.
func TestDefaultsGiveWay(t *testing.T) {
	const striped = `garment = "Striped coat (invented)"
units = "mm"
[cloth.shell]
use = "melton"
thickness = "2 mm"
repeat = { along = 84 }
[[closure]]
name = "front"
use = "horn-36"
over = ["shell", "shell"]
[closure.run]
`
	for _, c := range []struct {
		name, run string
		places    []float64 // mm
		says      []string
	}{
		{"all is said", "length = 565\nfirst = 45\nlast = 100\nstep = 1\ncount = 6\nmatch = \"shell\"", []float64{45, 129, 213, 297, 381, 465}, nil},
		{"the step", "length = 565\nfirst = 45\nlast = 100\ncount = 6\nmatch = \"shell\"", []float64{45, 129, 213, 297, 381, 465}, []string{`step = "1 mm"`}},
		{"step and last", "length = 600\nfirst = 45\ncount = 6\nmatch = \"shell\"", []float64{45, 129, 213, 297, 381, 465}, []string{`step = "1 mm"`, `last = "135 mm"`}},
		{"the count is open", "length = 600\nfirst = 45\ncount = { min = 5, max = 8 }\nmatch = \"shell\"", []float64{45, 129, 213, 297, 381, 465}, []string{`step = "1 mm"`, `last = "135 mm"`}},
		// The last on the stripe above, so that none is skipped: 600 − 549.
		{"the last so as to skip none", "length = 600\nfirst = 45\ncount = 7\nstep = 1\nmatch = \"shell\"", []float64{45, 129, 213, 297, 381, 465, 549}, []string{`last = "51 mm"`}},
		{"a last that is said stays", "length = 600\nfirst = 45\nlast = 80\ncount = 3", []float64{45, 280, 520}, nil},
	} {
		g, err := catalog.Read("coat.toml", []byte(striped+c.run+"\n"), catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		p := Plan(g)
		var at []float64
		for _, l := range p.Closures[0].Sizes[0].Positions {
			at = append(at, l.MM())
		}
		if diff := cmp.Diff(c.places, at); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
		var says []string
		for i := range p.Findings {
			f := &p.Findings[i]
			if f.Rule == "ends-moved" {
				_, line, _ := strings.Cut(f.Message(), "; to keep it, write ")
				says = append(says, line)
			}
		}
		slices.Sort(says)
		want := slices.Sorted(slices.Values(c.says))
		if diff := cmp.Diff(want, says, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

// What the note says and what it proposes keep the layout as it is, and then
// nothing has moved; an end never moves nearer than its least or farther than
// twice the usual.
func TestMovedEndsAreKept(t *testing.T) {
	moved := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		run := fmt.Sprintf("length = { S = %d, M = %d, L = %d }\ncount = %d\n", num("S", 18, 24), num("M", 20, 26), num("L", 22, 28), num("count", 1, 7))
		if num("match", 0, 1) == 1 {
			run += "match = \"shell\"\n"
		}
		var clear []string
		if from := num("yoke", 0, 12); from > 4 {
			clear = append(clear, fmt.Sprintf("{ name = \"yoke\", from = %g, to = %g }", float64(from)/8, float64(from+num("wide", 1, 8))/8))
		}
		if from := num("belt", 44, 66); from > 50 {
			clear = append(clear, fmt.Sprintf("{ name = \"belt\", from = %g, to = %g }", float64(from)/4, float64(from+num("high", 1, 6))/4))
		}
		if len(clear) > 0 {
			run += "clear = [" + strings.Join(clear, ", ") + "]\n"
		}
		if num("first said", 0, 3) == 0 {
			run += "first = 1\n"
		}
		text := fmt.Sprintf(runCoat, "", run)
		if num("stripe", 0, 1) == 1 { // that steps of 1/8 in do not divide
			text = strings.Replace(text, "3 1/2 in", "3 9/16 in", 1)
		}
		g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		p := Plan(g)
		k := &p.Closures[0]
		rule := Find("ends-moved")
		x := Context{G: g, P: p, C: k.Closure, K: k, U: g.Units, Rule: rule}
		var with []catalog.With
		for _, c := range rule.Propose(&x, nil) {
			with = append(with, c.With...)
		}
		for i, s := range k.Sizes {
			if !s.Solved {
				return
			}
			first, last := plan.Ends(g, k.Closure, k, i)
			usual := [2]measure.Length{first.Min, s.Run - last.Max}
			least := [2]measure.Length{}
			least[0], least[1] = plan.EndsLeast(k.Closure, k)
			for j, at := range [2]measure.Length{s.First, s.Last} {
				if is := [2]bool{s.Moved.First, s.Moved.Last && s.Count > 1}[j]; is && (at < least[j] || at > 2*usual[j]) {
					t.Fatalf("size %s: an end moved to %v, least %v, usual %v", s.Size, at, least[j], usual[j])
				}
			}
		}
		if len(with) == 0 {
			return
		}
		for i := range p.Findings {
			if f := &p.Findings[i]; f.Rule == rule.Name {
				_, line, _ := strings.Cut(f.Message(), "to keep it, write ")
				key, _, _ := strings.Cut(line, " = ")
				moved[key]++
			}
		}
		kept, err := g.Alter(with...)
		if err != nil {
			t.Fatal(err)
		}
		after := Plan(kept)
		for i, s := range after.Closures[0].Sizes {
			if diff := cmp.Diff(k.Sizes[i].Positions, s.Positions); diff != "" || s.Moved != (spacing.Moved{}) {
				t.Fatalf("%s\nwith %v, size %s: moved %+v (-before +after):\n%s", run, catalog.Texts(with), s.Size, s.Moved, diff)
			}
		}
	})
	if moved["step"] == 0 || moved["first"] == 0 || moved["last"] == 0 {
		t.Errorf("too few moved for the test to mean much: %v", moved)
	}
}
