package work

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"

	"github.com/google/go-cmp/cmp"
)

func demo(t *testing.T, name string, with ...string) *rules.Planned {
	t.Helper()
	g, err := catalog.Load(filepath.Join("..", "..", "testdata", "garments", name+".toml"), catalog.Options{With: with})
	if err != nil {
		t.Fatal(err)
	}
	return rules.Plan(g)
}

func written(t *testing.T, text string) *rules.Planned {
	t.Helper()
	g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return rules.Plan(g)
}

// row is a line of the list in figures worked by hand.
type row struct {
	Kind      plan.GoodKind
	What, For string
	Needed    int // of the size that needs most
	Once      int
	Spare     int
	Pieces    int
	Range     int            // pieces, one garment of every size
	Length    measure.Length // to the nearest 5 mm
	Buy       measure.Length // of goods and cord
}

func lineRows(p *rules.Planned, lines []*Line) []row {
	var sizes, every []int
	for i := range p.Garment.Sizes {
		sizes, every = append(sizes, i), append(every, 1)
	}
	var out []row
	for _, l := range lines {
		_, a := l.Most(p.Garment.Units, sizes)
		r := row{Kind: l.Kind, What: l.What, For: strings.Join(l.For, " "), Needed: a.Needed, Once: a.Once, Spare: a.Spare, Pieces: a.Pieces,
			Range: l.Amount(p.Garment.Units, every).Pieces, Length: a.Length.RoundNearest(5 * mm)}
		if l.Kind == plan.GoodInterfacing || l.Kind == plan.GoodLoopCord {
			r.Length, r.Buy = a.Length, a.Buy
		}
		out = append(out, r)
	}
	return out
}

// zigzag is the thread of a hole as A. K. Das (thread consumption, 2015) has
// it: so many stitches of a width and a pitch of 0.4 mm through a thickness,
// n · 2 (√(w² + p²) + T), in mm.
func zigzag(n, w, thick float64) float64 { return n * 2 * (math.Hypot(w, 0.4) + thick) }

// The list of the watch coat, worked by hand.
func TestGoodsOfTheWatchCoat(t *testing.T) {
	p := demo(t, "watch-coat-ready")
	// Holes: a leg of the zigzag is two fifths of the width, 7 mm for a keyhole
	// and 5 mm for a plain hole; two legs at 0.4 mm and two bars of a dozen.
	// Front: 22.86 + 4.2 + 3.175 of ease = 30.2, cut 1 1/4 in = 31.75 mm:
	// 31.75 × 2 ÷ 0.4 = 158.75, 159 + 24 = 183 stitches through melton
	// 2.4 × 0.8, twice, and fusible 0.3 × 0.9: 4.11 mm.
	// Flap: 19.05 + 3.8 = 22.85, cut 15/16 in = 23.8125 mm: 119 + 24 = 143
	// through 1.92 + 0.27 + 0.18 = 2.37 mm. Tab: 3/4 in = 19.05 mm: 95 + 24 = 119.
	thread := 6*zigzag(183, 2.8, 4.11) + 2*zigzag(143, 2, 2.37) + 2*zigzag(119, 2, 2.37)
	thread += 4 * 5.5 * 25.4 // 5 1/2 in for each button of flaps and tabs (N. A. Raaz, 2015)
	// The front's are sewn on by hand, over a shank of 5.1 mm: five passes
	// through each of two pairs, one of 2 × (layers 5.1 + shank 5.1 + button 4.2)
	// + 2 × 3.8 between the holes; five winds round 4 mm, tails of 120 mm, used
	// double.
	thread += 6 * 2 * (2*5*(2*(5.1+5.1+4.2)+2*3.8) + 5*math.Pi*4 + 120)
	thread *= 1.15 // for waste
	lines, suggested := Lines(p)
	want := []row{
		// 6 and 1 spare in packs of 6: 12; five coats 30 + 5 = 35 in 6 packs: 36.
		{Kind: plan.GoodFastener, What: "quay-horn-36", For: "front", Needed: 6, Spare: 1, Pieces: 12, Range: 36},
		// Two flaps, two tabs: one pack of 6 each; five coats 10 in 2 packs.
		{Kind: plan.GoodFastener, What: "quay-horn-30", For: "flap", Needed: 2, Pieces: 6, Range: 12},
		{Kind: plan.GoodFastener, What: "quay-horn-24", For: "cuff-tab", Needed: 2, Pieces: 6, Range: 12},
		{Kind: plan.GoodThread, What: "polyester-tex-60", For: "front flap cuff-tab", Length: measure.FromMM(thread).RoundNearest(5 * mm)},
		// 100/16 is given and suits; the top of the band, 4.11 + 1.92 = 6 mm
		// pressed and graded, asks for one size above 100/16.
		{Kind: plan.GoodNeedle, What: "100/16 universal", For: "front flap cuff-tab", Once: 2, Pieces: 2, Range: 2},
		{Kind: plan.GoodNeedle, What: "110/18 universal", For: "front", Once: 2, Pieces: 2, Range: 2},
		// The machine sews 28 mm, less than 31.75: by hand where the sample
		// says so. Tex 60: 0.0392 √60 = 0.30 mm, in an eye of 0.86 × 2/5 = 0.34.
		{Kind: plan.GoodHandNeedle, What: "sharps 5", For: "front", Once: 1, Pieces: 1, Range: 1},
		// Goods of 60 in: 2 strips of 4 in × 29 in and 3 swatches of 9 in beside
		// each other take 35 in, the patches the rest: 29 in; 7/8 yd = 31 1/2 in.
		{Kind: plan.GoodInterfacing, What: "weft-fusible-low-heat", For: "front flap cuff-tab", Length: 29 * in, Buy: in * 63 / 2},
	}
	if diff := cmp.Diff(want, lineRows(p, lines)); diff != "" {
		t.Errorf("(-by hand +listed)\n%s", diff)
	}
	// Half of 36, 30 and 24 ligne are 18, 15 and 12: 18 is sold, 15 lies between
	// 14 and 16, of which the larger is taken, and 14 is the smallest on sale.
	want = []row{
		{Kind: plan.GoodBacking, What: "backing-18", For: "front", Needed: 6, Pieces: 6, Range: 30},
		{Kind: plan.GoodBacking, What: "polyester-16", For: "flap", Needed: 2, Pieces: 2, Range: 10},
		{Kind: plan.GoodBacking, What: "polyester-14", For: "cuff-tab", Needed: 2, Pieces: 2, Range: 10},
	}
	if diff := cmp.Diff(want, lineRows(p, suggested)); diff != "" {
		t.Errorf("suggested (-by hand +listed)\n%s", diff)
	}
}

// The list of the slipway gilet, worked by hand.
func TestGoodsOfTheGilet(t *testing.T) {
	p := demo(t, "slipway-gilet-ready")
	// Size 6, a run of 15 1/2 in on two fronts: 31 in of fold, stitched through
	// fleece 1.6 × 0.6, twice, and the stay 0.2 × 0.9, 2.1 mm, with stitches of
	// 3 mm: 2 + 2 × 2.1 ÷ 3 = 3.4 times its length (Das, as above). Basted: the
	// fold, two edges of two strips, 62 in, and of four patches of 10.5 mm +
	// 2 × 1/2 in; a tenth more for running in and out, all with 15 % of waste.
	stitched := 31 * 25.4 * 3.4
	basted := (31+62)*25.4 + 8*(10.5+25.4)
	thread := (stitched + 1.1*basted) * 1.15
	lines, suggested := Lines(p)
	want := []row{
		// Front 5, one on each of two pockets, a set to try for each place, and
		// 1 spare: 10. Four gilets: 28 + 2 + 4 = 34.
		{Kind: plan.GoodFastener, What: "prong-snap-16-long", For: "front pocket", Needed: 7, Once: 2, Spare: 1, Pieces: 10, Range: 34},
		{Kind: plan.GoodCord, What: "cord-elastic-3mm", For: "hem", Needed: 1, Pieces: 1, Range: 4},
		{Kind: plan.GoodThread, What: "polyester-tex-40", For: "front pocket", Length: measure.FromMM(thread).RoundNearest(5 * mm)},
		{Kind: plan.GoodNeedle, What: "90/14 ballpoint", For: "front pocket", Once: 2, Pieces: 2, Range: 2},
		// Tex 40: 0.0392 √40 = 0.25 mm, in an eye of 0.69 × 2/5 = 0.276.
		{Kind: plan.GoodHandNeedle, What: "sharps 7", For: "front pocket", Once: 1, Pieces: 1, Range: 1},
		// 15 1/2 in of goods; 1/2 yd = 18 in.
		{Kind: plan.GoodInterfacing, What: "nonwoven-sewn-medium", For: "front pocket", Length: in * 31 / 2, Buy: 18 * in},
	}
	if diff := cmp.Diff(want, lineRows(p, lines)); diff != "" || len(suggested) > 0 {
		t.Errorf("%d suggested; (-by hand +listed)\n%s", len(suggested), diff)
	}
	// The cord at the neck is forbidden: it is not bought.
	lines, _ = Lines(demo(t, "slipway-gilet"))
	for _, l := range lines {
		if l.Kind == plan.GoodCord && !slices.Equal(l.For, []string{"hem"}) {
			t.Errorf("cord for %v", l.For)
		}
	}
}

// tasks are what the list of a garment says at one stage.
func said(p *rules.Planned, stage string) string {
	var out []string
	for _, t := range Order(p, "") {
		if t.Stage == stage {
			out = append(out, t.Do)
		}
	}
	return strings.Join(out, "\n")
}

func wants(t *testing.T, text string, has []string, hasNot ...string) {
	t.Helper()
	for _, w := range has {
		if !strings.Contains(text, w) {
			t.Errorf("%q is missing in\n%s", w, text)
		}
	}
	for _, w := range hasNot {
		if strings.Contains(text, w) {
			t.Errorf("%q stands in\n%s", w, text)
		}
	}
}

const jacket = `garment = "Squall jacket (invented)"
units = "mm"
[cloth.shell]
use = "duck-10"
thickness = "0.9 mm"
%s[[closure]]
name = "front"
use = "coil-5-separating"
over = ["shell", "shell"]
%s
[closure.run]
length = 420
`

// A zip is bought in one length, one that is sold: its top stop lies 1/2 in
// below the neck edge, in whole millimetres 13: 420 − 13 = 407 mm; 16 in are
// 406.4 mm, too short; 18 in are 457.2 mm, and 50.2 mm are taken off.
func TestOneLengthOfZip(t *testing.T) {
	p := written(t, fmt.Sprintf(jacket, "", "spare = 1"))
	wants(t, said(p, StageBuy), []string{"coil-5-separating: 457 mm (18 in) and 1 spare."}, "420")
	wants(t, said(p, StageEdge), []string{"Shorten the zip of the front, by 50 mm (2 in), at the top only, with new stops there, never at the pin and box."})
	// A length that nobody sells: the next that is.
	p = written(t, fmt.Sprintf(jacket, "", "zip_length = 430"))
	wants(t, said(p, StageBuy), []string{"coil-5-separating: 457 mm (18 in), since 430 mm (16 15/16 in) is not sold."})
	// Longer than any: the longest is 30 in, 762 mm.
	p = written(t, strings.Replace(fmt.Sprintf(jacket, "", ""), "420", "800", 1))
	wants(t, said(p, StageBuy), []string{"none on sale is long enough"})
}

// Each job is sewn with the thread that the file names for it, and each of
// those threads is on the list.
func TestThreadJobByJob(t *testing.T) {
	threads := "[thread.seam]\nuse = \"polyester-tex-40\"\nmetres = 100\n[thread.buttonhole]\nuse = \"core-tex-40\"\n[thread.button]\nuse = \"core-tex-80\"\n"
	p := written(t, `garment = "Coat (invented)"
units = "in"
[cloth.shell]
use = "duck-10"
thickness = "0.9 mm"
[interfacing.front]
use = "hair-canvas"
thickness = "0.5 mm"
`+threads+`[[closure]]
name = "front"
use = "horn-36"
hole_length = "1 1/8 in"
over = ["shell", "front", "shell"]
[closure.run]
length = 24
count = 5
`)
	buy := said(p, StageBuy)
	// Five buttons of 5 1/2 in, and 15 %: 5 × 139.7 × 1.15 = 803 mm.
	wants(t, buy, []string{
		"Thread for holes: buttonhole, core-tex-40, Tex 40, ",
		"Thread for fasteners: button, core-tex-80, Tex 80, 0.8 m (0.9 yd) a garment",
		"Thread for basting: seam, polyester-tex-40, Tex 40, 1 spool of 100 m; ",
	})
	wants(t, said(p, StageHoles), []string{"Tex 40 (buttonhole)"})
	wants(t, said(p, StageFasten), []string{"Tex 80 (button)"})
}

// What the machine cannot sew is said where the hole is sewn, and its needle
// is not bought for it.
func TestHolesBeyondTheMachine(t *testing.T) {
	for _, c := range []struct {
		machine, hole string
		has, hasNot   string
	}{
		{"buttonhole_max = \"28 mm\"", "machine", "Sew the holes of the front (5), 1 1/8 in (28 mm) long", "by hand (5)"},
		{"buttonhole_max = \"24 mm\"", "machine", "by hand (5), 1 1/4 in (32 mm) long: the machine's longest is 15/16 in (24 mm)", ", needle "},
		{"use = \"industrial-lockstitch\"", "machine", "the machine sews no buttonholes by itself", ", needle "},
		{"keyhole = false", "keyhole", "the machine sews no keyholes", ", needle "},
		{"buttonhole_sizes = [\"16 mm\", \"35 mm\"]", "machine", "1 3/8 in (35 mm) long, needle", "by hand"},
		{"buttonhole_max = \"40 mm\"", "machine", "1 1/4 in (32 mm) long, needle", "by hand"},
	} {
		p := written(t, `garment = "Coat (invented)"
units = "in"
[machine]
`+c.machine+`
[cloth.shell]
use = "melton"
thickness = "2 mm"
[interfacing.front]
use = "weft-fusible-medium"
thickness = "0.3 mm"
[[closure]]
name = "front"
use = "horn-36"
hole = "`+c.hole+`"
over = ["shell", "front", "shell"]
[closure.run]
length = 24
count = 5
`)
		holes := said(p, StageHoles)
		wants(t, holes, []string{c.has}, c.hasNot)
		// The sample says the same as the task.
		wants(t, said(p, StageTest), []string{map[bool]string{true: "Sew a sample hole", false: "Work a sample hole for the front by hand"}[strings.Contains(holes, "Sew the holes")]})
	}
	// 22.86 + 4.75 = 27.6 mm pass, + 1/8 in = 30.8: 1 1/4 in is cut. The machine
	// sews 28 mm, which passes; so it says.
	p := demo(t, "watch-coat-ready")
	wants(t, said(p, StageHoles), []string{"1 1/8 in (28 mm) long", "That length is the machine's longest, and leaves less ease than the 1 1/4 in (32 mm) planned"})
}

// A needle that the cloth refuses is neither used nor bought; one that the
// list has is the one that the tasks name.
func TestRefusedNeedle(t *testing.T) {
	p := demo(t, "watch-coat-ready", "closure.front.needle=70/10")
	// Heavy coating over 4 mm: 100/16 to 110/18. Tex 60 is 0.30 mm thick: 0.30
	// of a blade of 1.00 mm, nearest to 0.30.
	all := said(p, StageBuy) + said(p, StageTest) + said(p, StageHoles)
	wants(t, all, []string{"Needles, two of each at least: 100/16 universal", "with needle 100/16 (not 70/10, see above)", "needle 100/16, Tex 60"}, "70/10 universal", "needle 70/10")
	// The flap's band is 90/14 to 110/18; the machine takes no more than 90/14.
	k := &demo(t, "watch-coat-ready", "machine.needle_max=90/14").Closures[1]
	if k.Needle.Use != 90 || !k.Needle.Refused {
		t.Errorf("the flap's needle: %+v", k.Needle)
	}
}

// A backing button is a suggestion until the file asks for it; then it is
// bought and sewn on, in a size that is sold. Half of 45 ligne is 22 1/2: 22
// is sold and nearest. 23 lies between 22 and 24: the larger is taken.
func TestBackingButtons(t *testing.T) {
	p := demo(t, "watch-coat")
	wants(t, said(p, StageBuy), []string{"not bought until the file asks for them: flat backing buttons, front 6 of 22 ligne (backing = \"22L\")"}, "23")
	wants(t, said(p, StageFasten), nil, "backing")
	p = demo(t, "watch-coat", "closure.front.backing=23L")
	wants(t, said(p, StageBuy), []string{"flat backing buttons, polyester-24, 24 ligne, 5/8 in (15 mm) (23 ligne is not sold): 6."})
	wants(t, said(p, StageFasten), []string{"a backing button of 24 ligne behind each"})
}

// Backing buttons take the pull of buttons that fasten; those for show, and
// the inner one, which has a button for show on the other face, have none.
// Counted by hand: of three rows two work.
func TestBackingOfADoubleFront(t *testing.T) {
	p := written(t, strings.NewReplacer("count = 4", "count = 3\n[closure.rows]\ndistance = \"3 in\"\nworking = 2\ninner = true").
		Replace(of4("lap = \"double\"\nbacking = \"20L\"\nsewn_by = \"hand\"\nhole = \"hand\""+horn+"[closure.stand]\nconstruction = \"faced\"\nfacing = \"7 in\"")))
	wants(t, said(p, StageBuy), []string{"flat backing buttons, backing-20, 20 ligne, 1/2 in (12.5 mm): 2."})
	wants(t, said(p, StageFasten), []string{"a backing button of 20 ligne behind each that fastens, 2 in all"})
	placed := 0
	for _, pc := range p.PiecesOf(0, 0) {
		for _, q := range pc.Parts {
			if q.Kind == plan.BackingPart {
				placed++
			}
		}
	}
	if n, known := p.Closures[0].Backed(0); n != placed || !known {
		t.Errorf("%d are bought, %d placed", n, placed)
	}
}

// What is taken and what is bought are told in one unit: 18 816.5 mm are 1 881.65
// cm, 36 in a yard; never less than it takes.
func TestTaken(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		unit measure.Unit
		want string
	}{
		{18816.5, measure.MM, "1881.7 cm"}, {500, measure.MM, "50 cm"}, {0.1, measure.MM, "0.1 cm"},
		{36 * 25.4, measure.In, "1 yd"}, {31.5 * 25.4, measure.In, "7/8 yd"}, {31.6 * 25.4, measure.In, "15/16 yd"},
	} {
		if got := Taken(measure.FromMM(c.mm), c.unit); got != c.want {
			t.Errorf("%v mm: %q, want %q", c.mm, got, c.want)
		}
	}
}
