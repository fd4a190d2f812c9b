package plan

import (
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/trial"
)

// duffel is a coat closed by toggles on a lap, their cords sewn on 70 inside, in
// front of a zip; mm.
const duffel = `garment = "Duffel coat (invented)"
units = "mm"
[cloth.shell]
weight = "600 g/m2"
thickness = "2 mm"
[interfacing.in]
kind = "woven"
fixing = "sewn"
thickness = "0.5 mm"
[[closure]]
name = "toggles"
where = "front"
opening = "front"
fastener = "toggle"
cord = 5
inset = 70
over = ["shell", "in", "shell"]
[closure.notion]
length = 60
width = 16
thickness = 14
short_end = 29
[closure.stand]
construction = "faced"
finished = 40
seam = 15
[closure.run]
length = 700
count = 3
[[closure]]
name = "zip"
where = "front"
opening = "front"
behind = "toggles"
fastener = "zip"
over = ["shell", "shell"]
[closure.notion]
number = 8
chain = 8
tape = 16
opening = "separating"
[closure.stand]
seam = 15
[closure.run]
length = 700
`

func duffelPlan(t *testing.T, with ...string) *Plan {
	t.Helper()
	return Of(trial.Read(t, duffel, with...), false)
}

// said are the lines and areas of that kind on a piece of the first size, in mm.
func said(t *testing.T, p *Plan, i int, side Side, line LineKind, area AreaKind) (lines, areas []string) {
	t.Helper()
	for _, pc := range p.PiecesOf(i, 0) {
		if pc.Side == side {
			return saidLines(&pc, line), saidAreas(&pc, area)
		}
	}
	t.Fatalf("no %s piece", side)
	return nil, nil
}

// A hem is drawn where something is turned up, and not over the whole run; a
// stretch that begins at its end is told there.
func TestHemsAndStretchesAtTheEnds(t *testing.T) {
	for _, c := range []struct {
		with          []string
		turnUp, clear []string
	}{
		{nil, nil, nil},
		{[]string{"closure.upper.run.hem=50 mm"}, []string{"0 to 20, 550 to 600"}, nil},
		{[]string{"closure.upper.run.hem=599 mm"}, []string{"0 to 20, 1 to 600"}, nil},
		{[]string{"closure.upper.run.hem=600 mm"}, nil, nil},
		{[]string{`closure.upper.run.clear=[{ name = "belt", from = "550 mm", to = "580 mm" }]`}, nil, []string{"belt 0 to 20, 550 to 580"}},
		{[]string{`closure.upper.run.clear=[{ name = "belt", from = "550 mm", to = "680 mm" }]`}, nil, []string{"belt 0 to 20, 550 to 600"}},
		{[]string{`closure.upper.run.clear=[{ name = "belt", from = "600 mm", to = "680 mm" }]`}, nil, []string{"belt 0 to 20, 600 to 600"}},
	} {
		p := laidPlan(t, append(c.with, "closure.lower.run.count=1", "closure.lower.run.first=400 mm")...)
		// All is drawn from the farthest inside of what lies on the piece.
		inner := func(all []string) (out []string) {
			for _, s := range all {
				name, rest, is := strings.Cut(s, " ")
				if !is || strings.Trim(name, "-0123456789.") == "" {
					name, rest = "", s
				} else {
					name += " "
				}
				_, to, _ := strings.Cut(rest, " to ")
				out = append(out, name+"0 to "+to)
			}
			return out
		}
		lines, turned := said(t, p, 0, Over, TurnUpLine, TurnUpArea)
		_, clear := said(t, p, 0, Over, TurnUpLine, ClearArea)
		if !slices.Equal(inner(turned), c.turnUp) || len(lines) != len(turned) || !slices.Equal(inner(clear), c.clear) {
			t.Errorf("%q: turned up %q by lines %q, clear %q", c.with, turned, lines, clear)
		}
	}
}

// A facing that reaches no farther than the edge lines nothing: beside a zip the
// under front is folded 4 + 3.175 from the middle of its teeth.
func TestFacingAtTheFold(t *testing.T) {
	for facing, want := range map[string][]string{"7.176": {"-7.176 to -7.175, 0 to 700"}, "7.175": nil, "5": nil, "110": {"-110 to -7.175, 0 to 700"}} {
		p := duffelPlan(t, "closure.toggles.stand.facing="+facing+" mm")
		if _, got := said(t, p, 0, Under, FacingLine, FacingArea); !slices.Equal(got, want) {
			t.Errorf("a facing of %s: %q", facing, got)
		}
		if lines, areas := said(t, p, 0, Over, FacingLine, FacingArea); len(lines) != 1 || len(areas) != 1 {
			t.Errorf("a facing of %s: %q, %q", facing, lines, areas)
		}
	}
}

// An under front whose edge the file draws at the teeth ends there; it is folded
// beside them where nothing is said, or where the edge lies beyond them: the
// extension less a seam of 15.
func TestEdgeAtTheTeeth(t *testing.T) {
	for extension, out := range map[string]string{"": "-7.175", "15": "0", "14": "-1", "25": "-7.175"} {
		text := duffel[:strings.Index(duffel, "[[closure]]")] + duffel[strings.LastIndex(duffel, "[[closure]]"):]
		text = strings.Replace(text, "behind = \"toggles\"\n", "", 1)
		if extension != "" {
			text = strings.Replace(text, "seam = 15", "seam = 15\nextension = "+extension, 1)
		}
		p := Of(trial.Read(t, text), false)
		if lines, _ := said(t, p, 0, Under, EdgeLine, FacingArea); !slices.Equal(lines, []string{out + ",0 to " + out + ",700"}) {
			t.Errorf("an extension of %q: %q, want at %s", extension, lines, out)
		}
	}
}

// A zip is covered by what reaches farthest past its teeth; of two that reach as
// far, by the first.
func TestWhatCoversAZip(t *testing.T) {
	second := strings.Replace(duffel[strings.Index(duffel, "[[closure]]"):strings.LastIndex(duffel, "[[closure]]")], `"toggles"`, `"lower"`, 1)
	for finished, by := range map[string]int{"39": 0, "40": 0, "41": 2} {
		text := duffel + strings.Replace(second, "finished = 40", "finished = "+finished, 1)
		p := Of(trial.Read(t, text), false)
		if reach, got := p.Cover(1); got != by || reach != max(40, measure.Length(40+by/2))*mm {
			t.Errorf("the second laps %s: %v by %d", finished, reach, got)
		}
	}
	text := duffel[:strings.Index(duffel, "[[closure]]")] + strings.Replace(duffel[strings.LastIndex(duffel, "[[closure]]"):], "behind = \"toggles\"\n", "", 1)
	if reach, by := Of(trial.Read(t, text), false).Cover(0); reach != 0 || by != -1 {
		t.Errorf("nothing covers it: %v by %d", reach, by)
	}
	if lap := Of(trial.Read(t, text), false).Lap(0); lap != -1 {
		t.Errorf("a zip alone laps: %d", lap)
	}
}

// One strip does for another of the same interfacing where it covers it whole,
// edge upon edge too; of two alike the first is cut, and one that lies twice is
// not done for by one that lies once.
func TestStripsThatCarry(t *testing.T) {
	in := &catalog.Interfacing{}
	p := &Plan{Closures: make([]Closure, 3)}
	for i, times := range []int{1, 1, 2} {
		p.Closures[i].Support.Strips = []Strip{{Name: "in", Interfacing: in, Over: times, Under: times}}
	}
	o := &opening{p: p}
	area := func(closure int8, outFrom, outTo, from, to measure.Length) *Area {
		return &Area{Kind: InterfacingArea, Name: "in", OutFrom: outFrom, OutTo: outTo, From: from, To: to, Closure: closure}
	}
	a := area(1, -50, 20, 0, 600)
	for _, c := range []struct {
		name string
		by   *Area
		want bool
	}{
		{"all round", area(0, -51, 21, -1, 601), true}, {"at one side", area(0, -50, 21, -1, 601), true}, {"at the other", area(0, -51, 20, -1, 601), true},
		{"at the top", area(0, -51, 21, 0, 601), true}, {"at the foot", area(0, -51, 21, -1, 600), true},
		{"short of one side", area(0, -49, 21, -1, 601), false}, {"short of the other", area(0, -51, 19, -1, 601), false},
		{"short of the top", area(0, -51, 21, 1, 601), false}, {"short of the foot", area(0, -51, 21, -1, 599), false},
		{"the same, first", area(0, -50, 20, 0, 600), true}, {"itself", area(1, -50, 20, 0, 600), false}, {"the same, twice", area(2, -50, 20, 0, 600), true},
	} {
		if got := o.carries(c.by, a); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
	if o.carries(area(0, -50, 20, 0, 600), area(2, -50, 20, 0, 600)) || o.carries(a, area(0, -50, 20, 0, 600)) {
		t.Error("the second, or one that lies once, does for the other")
	}
	// Two closures on one canvas, the strip of the first 60 wide: the other cuts none,
	// but where it is wider.
	text := strings.Replace(strings.ReplaceAll(laidCoat, `over = ["shell", "shell"]`, `over = ["shell", "in", "shell"]`), "[[closure]]", "[interfacing.in]\nkind = \"woven\"\nfixing = \"sewn\"\nthickness = \"0.5 mm\"\n[[closure]]", 1)
	for width, want := range map[string][2]int{"50": {2, 0}, "60": {2, 0}, "70": {0, 2}} {
		p := Of(trial.Read(t, text, "closure.upper.stand.strip=60 mm", "closure.lower.stand.finished=20 mm", "closure.lower.stand.strip="+width+" mm"), false)
		if got := [2]int{p.StripPieces(0, 0, 0).N, p.StripPieces(1, 0, 0).N}; got != want {
			t.Errorf("the second strip %s wide: %v cut, want %v", width, got, want)
		}
		_, over := said(t, p, 0, Over, TopLine, InterfacingArea)
		if len(over) != 1 {
			t.Errorf("the second strip %s wide: %q on the over piece", width, over)
		}
		if times, by := p.Carried(1, 0, 0); want[1] == 0 && (times != 2 || by != 0) || want[1] != 0 && (times != 0 || by != -1) {
			t.Errorf("the second strip %s wide: carried %d times by %d", width, times, by)
		}
		if p.StripPieces(0, len(p.Closures[0].Support.Strips), 0) != (CutPiece{}) {
			t.Error("a strip that is not there")
		}
	}
	// Each its own: none carries, and each is bought as it is cut.
	text = strings.Replace(text, "[interfacing.in]", "[interfacing.more]\nkind = \"woven\"\nfixing = \"sewn\"\nthickness = \"0.5 mm\"\n[interfacing.in]", 1)
	at := strings.LastIndex(text, `"in"`)
	p = Of(trial.Read(t, text[:at]+`"more"`+text[at+len(`"in"`):], "closure.upper.stand.strip=60 mm", "closure.lower.stand.finished=20 mm"), false)
	bought := 0
	for _, g := range p.Goods() {
		if g.Kind == GoodInterfacing {
			if bought++; len(g.Cut[0]) != 1 || g.Cut[0][0].N != 2 {
				t.Errorf("%s: %+v", g.ID, g.Cut)
			}
		}
	}
	if times, by := p.Carried(1, 0, 0); bought != 2 || times != 0 || by != -1 {
		t.Errorf("%d bought, the second carried %d times by %d", bought, times, by)
	}
	if one, two := (Strip{Over: 1, Under: 1}), (Strip{Over: 2}); one.Twice() || !two.Twice() || !(&Strip{Under: 2}).Twice() {
		t.Error("what lies twice in a stack")
	}
}

// The line of a flap's fasteners is drawn from the first to the last of them, on
// the flap and, the other way, beneath it: not of one alone, and not where they
// stand on the meeting line.
func TestColumnsOfAFlap(t *testing.T) {
	for _, c := range []struct {
		width, inset, count string
		over, under         []string
	}{
		{"60", "20", "2", []string{"20,30 to 20,330"}, []string{"-20,30 to -20,330"}}, {"60", "20", "1", nil, nil},
		{"20", "", "2", nil, nil}, {"21", "", "2", []string{"1,30 to 1,330"}, []string{"-1,30 to -1,330"}}, // a full stand of 20 inside its edge
	} {
		with := []string{"closure.upper.flap.width=" + c.width + " mm", "closure.upper.run.count=" + c.count}
		if c.inset != "" {
			with = append(with, "closure.upper.flap.inset="+c.inset+" mm")
		}
		if c.count == "1" {
			with = append(with, "closure.upper.run.last=570 mm")
		}
		text := strings.Replace(laidCoat[:strings.LastIndex(laidCoat, "[[closure]]")], "last = 330", "last = 270", 1)
		p := Of(trial.Read(t, text, with...), false)
		over, _ := said(t, p, 0, Flap, ColumnLine, FacingArea)
		under, _ := said(t, p, 0, Under, ColumnLine, FacingArea)
		if !slices.Equal(over, c.over) || !slices.Equal(under, c.under) {
			t.Errorf("%+v: %q and %q", c, over, under)
		}
		if n := len(p.PiecesOf(0, 0)); n != 3 {
			t.Errorf("%d pieces with a flap", n)
		}
	}
	if n := len(laidPlan(t).PiecesOf(0, 0)); n != 2 {
		t.Errorf("%d pieces without a flap", n)
	}
}

// The ends of cords lie on the strip where it reaches 1/4 in past them, ours: a
// strip of 116.35 from an edge 40 outside reaches 76.35 inside, for an inset of 70.
func TestBareCords(t *testing.T) {
	for strip, bare := range map[string]bool{"116.35": false, "116.34": true, "150": false} {
		if got := duffelPlan(t, "closure.toggles.stand.strip="+strip+" mm").Closures[0].Support.BareCords; got != bare {
			t.Errorf("a strip of %s: bare %v", strip, got)
		}
	}
	// Patches over their ends: 3 1/2 of 1 3/4 in high, and one at each end of each cord.
	k := &duffelPlan(t).Closures[0]
	if n := k.Patched(0); n != 2*3 {
		t.Errorf("%d patches", n)
	}
}

// A second interfacing is 3/8 in wider than the first, in mm 10 (ours), up to whole
// fives; no wider than its goods. Where it is as wide as they are it was not told so.
func TestSecondStripOfNarrowGoods(t *testing.T) {
	s := &Support{Strip: 50 * mm, Begins: 20 * mm}
	for goods, want := range map[measure.Length]Strip{
		0: {Width: 60 * mm}, 70 * mm: {Width: 60 * mm}, 60 * mm: {Width: 60 * mm}, 59 * mm: {Width: 59 * mm, Given: true}, 40 * mm: {Width: 50 * mm, Given: true},
	} {
		in := &catalog.Interfacing{}
		if goods != 0 {
			in.Width = catalog.Measured{V: goods, From: catalog.Given}
		}
		got := s.strip(&catalog.Closure{}, &Stand{}, "more", in, false, true, measure.MM)
		if got.Width != want.Width || got.Given != want.Given || got.Begins != 20*mm {
			t.Errorf("goods %v wide: %v, given %v, begins %v", goods, got.Width, got.Given, got.Begins)
		}
	}
	// With its middle under holes that lie along, it grows at both sides.
	got := s.strip(&catalog.Closure{}, &Stand{}, "more", &catalog.Interfacing{}, true, true, measure.MM)
	if got.Width != 70*mm || got.Begins != 35*mm {
		t.Errorf("along: %v, begins %v", got.Width, got.Begins)
	}
}

// Other ends are looked for as far as there is any place at all: where both must
// lie at one place, one fastener does.
func TestEndsThatMeet(t *testing.T) {
	for run, any := range map[measure.Length]bool{2 * EndLeast: true, 2*EndLeast - 1: false} {
		c, k := &catalog.Closure{}, &Closure{}
		p := laidPlan(t).Garment
		problem := ProblemOf(p, &p.Closures[0], k, 0)
		problem.Run, problem.CountMin, problem.CountMax = run, 1, 1
		if got := anyEnd(c, k, problem, 0); got != any {
			t.Errorf("a run of %v: %v", run, got)
		}
	}
	// Of one fastener that has no place the nearest run has two, and none the solver chooses.
	text := strings.NewReplacer("KEYS\n", "", "STAND\n", "", "count = 4", "count = 1").Replace(sumsCoat) + "first = 30\nlast = 30\n"
	got := Of(trial.Read(t, text), false).NearestRuns(0, 0)
	if len(got) != 1 || got[0].Count != 2 || got[0].Least != 540*mm || got[0].Most != 540*mm {
		t.Errorf("%+v", got)
	}
}

// A household machine leaves no shank over 3 mm, ours; a stack as thick is sewn by it.
func TestShankOfAMachine(t *testing.T) {
	for thick, by := range map[string]bool{"1.25": false, "1.26": true} {
		k := sumsPlan(t, "", "", "cloth.shell.thickness="+thick+" mm", "machine.swing={ min = \"2 mm\", max = \"5 mm\" }")
		if k.Sewing.ByHand != by {
			t.Errorf("two layers of %s and 0.5: by hand %v, %s", thick, k.Sewing.ByHand, k.Sewing.HandReason)
		}
	}
}

// A backing button that is bought a tenth of a millimetre off the one asked for is
// told beside it, ours: 20 ligne are 12.7 mm.
func TestBackingAskedFor(t *testing.T) {
	for asked, told := range map[string]bool{"12.7": false, "12.795": false, "12.8": true, "12.6": true} {
		p := Of(trial.Read(t, strings.NewReplacer("KEYS", "backing = "+asked, "STAND", "").Replace(sumsCoat)), false)
		for _, g := range p.Goods() {
			if g.Kind == GoodBacking && ((g.Asked != 0) != told || g.Size != 20*measure.Ligne) {
				t.Errorf("asked for %s: %v, and told %v", asked, g.Size, g.Asked)
			}
		}
	}
}

// The last fastener waits for the hem where there are two, or where one alone is
// set from it.
func TestWhatWaitsForTheHem(t *testing.T) {
	for _, c := range []struct {
		run  string
		want bool
	}{{"count = 4", true}, {"count = 2", true}, {"count = 1", false}, {"count = 1\nlast = 100", true}, {"count = 1\nfirst = 100", false}} {
		p := Of(trial.Read(t, strings.NewReplacer("KEYS", "", "STAND", "", "count = 4", c.run).Replace(sumsCoat)), false)
		if got := p.Closures[0].WaitsForHem(p.Garment); got != c.want {
			t.Errorf("%s: %v", c.run, got)
		}
	}
}
