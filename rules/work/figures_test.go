package work

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// all is what the work on a garment says: the tasks with their lists and cautions,
// how each number came about, and what is cut.
func all(p *rules.Planned) string {
	var out []string
	for _, t := range Order(p, "") {
		out = append(out, t.Do)
		out = append(append(out, t.Lines...), t.Take...)
	}
	for i := range p.Closures {
		for _, s := range Working(p, i) {
			out = append(out, s.Topic+": "+s.Says)
		}
	}
	sizes := make([]int, len(p.Garment.Sizes))
	for i := range sizes {
		sizes[i] = i
	}
	for i := range p.Closures {
		for _, l := range Pieces(p, i, sizes) {
			out = append(out, l.Piece+":")
			out = append(out, l.Says...)
		}
	}
	for _, c := range Cuts(p, sizes) {
		out = append(out, fmt.Sprintf("cut %d %s of %s: %v wide, %v to %v", c.Pieces, c.What, c.For, c.Wide, c.Long, c.Longest))
	}
	return strings.Join(out, "\n")
}

// plainCoat is a coat of one button, 24 mm across and 4 mm thick, which passes 28 mm:
// two layers of cloth of 1 mm and a canvas of 0.5 mm between.
const plainCoat = `garment = "Slip coat (invented)"
units = "mm"
[machine]
kind = "household"
foot_lift = 12
buttonhole_max = 60
[cloth.shell]
weight = "300 g/m2"
thickness = "1 mm"
pressed = 1
[interfacing.in]
kind = "woven"
fixing = "sewn"
thickness = "0.5 mm"
width = 1500
[thread.seam]
tex = "Tex 40"
fibre = "polyester"
[[closure]]
name = "front"
where = "front"
fastener = "button"
over = ["shell", "in", "shell"]
[closure.notion]
diameter = 24
thickness = 4
holes = 4
[closure.run]
length = 600
count = 4
`

// What is cut and sewn, and how it is added up, worked out by hand: what is there
// is told, and what is not is left out. Keys of the front are set, others as they
// are.
func TestToldAsItIsMade(t *testing.T) {
	const sized = `sizes.names=["S","M"]|run.length={S="600 mm",M="620 mm"}|`
	const front = "stand.construction=faced|stand.finished=30 mm|stand.facing=60 mm|direction=across|"
	const columns = "lap=double|rows.distance=60 mm|stand.construction=faced|stand.finished=90 mm|stand.facing=100 mm|"
	const snaps = `over=["shell","shell"]|fastener=snap|notion={diameter=15,`
	const cords = "fastener=toggle|notion={length=60,width=16,thickness=14,short_end=29}|cord=5 mm|inset=70 mm|stand.construction=faced|stand.finished=40 mm"
	const teeth = `fastener=zip|run.count=|stand.construction=faced|stand.seam=16 mm|notion={number=5,chain=6,tape=14,opening="separating",`
	const hooks = `over=["shell","shell"]|fastener=hook|notion={length=10,width=6,kind="hook-and-eye"}`
	for _, c := range []struct {
		with      string
		want, not []string
	}{
		// 30 + 10, and 60 inside it; 28 − 3.175 + 6.35; 2 × 600 of interfacing.
		{front + "stand.seam=10 mm", []string{
			"Cut both fronts with 40 mm (1 9/16 in) beyond the centre line: a stand of 30 mm (1 3/16 in) and a seam of 10 mm (13/32 in).",
			"Cut the facings of both fronts 100 mm (3 15/16 in) wide, to reach 60 mm (2 3/8 in) inside the centre line.",
			"face to face along the edge, the seam 10 mm",
			"finished stand 30 mm + seam allowance 10 mm = extension 40 mm",
			"the hole ends at 24.8 mm, and 6.4 mm more makes 31.2 mm; cut it 30 mm + 60 mm + seam allowance 10 mm = 100 mm",
			"cut 2 both fronts, beyond the centre line of front: 40 mm wide", "cut 2 both fronts, facing of front: 100 mm wide",
			"16 stitches by machine", "on a thread shank of 2.5 mm (3/32 in).",
			"First grade the allowances, 6.4 mm (1/4 in) for the one next to the outside down to 3.2 mm (1/8 in)", "2 strips take 1 row",
		}, []string{"no seam allowance", "column", "tuck", "fly", "cord", "for show", "patch", "backing button of 19 ligne behind", "Cut nothing until"}},
		// The seam of a raw edge is none.
		{front + "stand.seam=0", []string{
			"beyond the centre line: a stand of 30 mm (1 3/16 in) and no seam allowance.",
			"wrong sides together, and stitch along the edge, which stays raw: there is no seam allowance.",
			"finished stand 30 mm + no seam allowance = extension 30 mm",
			"cut it 30 mm + 60 mm + no seam allowance = 90 mm",
		}, nil},
		// 2 × 40, and a fold of 1.5 round the canvas.
		{"stand.construction=band|stand.band=40 mm|stand.seam=0", []string{
			"no seam allowance for the band, sewn on 20 mm (13/16 in) inside it",
			"Cut the bands 81.5 mm (3 1/4 in) wide, for 40 mm (1 9/16 in) finished with no seam allowances.",
			"cut 2 × 40 mm + no seam allowances + one fold of 1.5 mm = 81.5 mm",
			"cut 2 both fronts, inside the centre line of front: 20 mm wide",
		}, nil},
		{"stand.construction=band|stand.band=40 mm|stand.seam=10 mm", []string{
			"a seam of 10 mm (13/32 in) for the band", "finished with seams of 10 mm", "2 seam allowances of 10 mm",
		}, []string{"no seam"}},
		{"lap=edge|hole=loop|cord=3 mm|stand.seam=0", []string{"the edges meet: the cut edge lies on the line where the edges meet, with no seam allowance", "cut for one loop: 60 mm + 4.7 mm for the bend of a 3 mm cord + no seam allowances"}, nil},
		{"lap=edge|hole=loop|cord=3 mm|stand.seam=10 mm", []string{"the cut edge lies the seam allowance, 10 mm (13/32 in), beyond the line where the edges meet", "cut for one loop: 60 mm + 4.7 mm for the bend of a 3 mm cord + 2 seam allowances of 10 mm"}, nil},

		// 60 − 10 − 2 − 0.5 = 47.5, of which two thirds are the band.
		{"stand.construction=folded|stand.turn_under=10 mm|stand.extension=60 mm", []string{
			"folded band: extension 60 mm − turn-under 10 mm − 2 folds × 1 mm of cloth − 0.5 mm that the edge folds round = 47.5 mm; two thirds of that is the band, 31.5 mm",
			"folded back, 10 mm (13/32 in) turned under, 2.5 mm",
		}, []string{"tuck", "no seam"}},
		{"stand.construction=folded|stand.tuck=5 mm|stand.extension=60 mm", []string{
			"band with a tuck: extension 60 mm − 2 × tuck 5 mm − 2 folds × 1 mm of cloth − 0.5 mm that the edge folds round = 47.5 mm",
			"folded back, twice the tuck of 5 mm (3/16 in), 2.5 mm",
			"stitch the tuck 5 mm (3/16 in) from its fold",
		}, []string{"turned under", "turn-under"}},
		{`stand.construction=folded|stand.turn_under=10 mm|stand.band=30 mm|over=["shell","shell"]`, []string{
			"half the band 15 mm + the band 30 mm + turn-under 10 mm + 2 folds × 1 mm of cloth = 57 mm",
		}, []string{"folds round", "cloth −"}},
		{"stand.construction=folded|stand.turn_under=0|stand.band=30 mm", []string{
			"half the band 15 mm + the band 30 mm + 1 fold × 1 mm of cloth + 0.5 mm that the edge folds round = 46.5 mm",
		}, []string{"turned under", "turn-under", "folds ×"}},

		// 90 + 15 to the cut edge; 60 + 12 + 10 inside the line.
		{columns + "rows.working=3|backing=18L|sewn_by=hand", []string{
			"beyond the centre line: 60 mm (2 3/8 in) to the column, a stand of 30 mm (1 3/16 in) and a seam of 15 mm (9/16 in).",
			"finished stand 30 mm + column 60 mm + seam allowance 15 mm = extension 105 mm",
			"it is counted from the outer column, at its farthest 60 mm from the centre line",
			"the buttons of the inner column end at 72 mm, and 10 mm more makes 82 mm; cut it 90 mm + 100 mm + seam allowance 15 mm = 205 mm",
			"(8: 3 that work and 5 for show)", "those that fasten on a thread shank of 2.5 mm",
			"a backing button of 18 ligne behind each that fastens, 3 in all", "flat backing buttons, backing-18, 18 ligne, 11.5 mm (7/16 in): 3.",
		}, []string{" inner and", "and 0", "0 inner", "half ball"}},
		{columns + "rows.working=3", []string{"60, 60, 60, 60 mm; row 1 is for show; rows 2 to 4 work"}, nil},
		{columns + "rows.working=1", []string{"rows 1 to 3 are for show; row 4 works"}, nil},
		{columns + "rows.inner=true|rows.working=3", []string{"9: 3 that work, 5 for show and 1 inner", "the inner button is in row 2", "Mark the hole of the inner button of the front on the left front (it lies under) from the neck edge, row 2 at 185 mm"}, nil},
		{columns + "rows.inner=true", []string{"9: 4 that work, 4 for show and 1 inner"}, nil},

		// By hand, through two holes; where the direction and the fastener leave a choice.
		{front + "sewn_by=hand|notion.holes=2", []string{
			"5 times through its pair of holes, the threads in line with the buttonhole", "wound 5 times", "cut 615.7 mm, used double",
		}, []string{"pair of holes, on"}},
		{front + "sewn_by=hand", []string{"5 times through each pair of holes, on a thread shank of 2.5 mm"}, []string{"its pair"}},
		{front + "button_stitches=16|sewn_by=machine|machine.swing={min=2,max=4}|notion.hole_gap=3 mm", []string{"16 stitches by machine"}, []string{"by hand: 0", "used double"}},

		// A fly of two layers, its facing 1/4 in from the edge: three gaps are tacked.
		{"stand.construction=fly|stand.finished=30 mm", []string{
			"cut 2 fly, each layer of front: 81 mm wide", "Tack it to the front by hand between the holes (3).",
			"tacked to the front between the holes, 3 times",
		}, []string{"tacks (0)"}},
		{"stand.construction=fly|stand.finished=30 mm|run.count=1", []string{"stitch it 6.4 mm", "is stitched 6.4 mm from the front edge"}, []string{"Tack it", "tacked"}},
		{"stand.construction=fly|stand.finished=30 mm|run.count=2", []string{"between the holes (1).", "between the holes, 1 time"}, []string{"1 times"}},

		// University of Hawaii Extension Circular 442: a bound hole is 1/4 in wide, two lips of
		// half of it. One strip for the row is as long as the row and two inches.
		{front + "hole=bound", []string{
			"two lips of 3.2 mm (1/8 in) each, 28 mm", "(4, and one for the sample)", "Behind each bound hole slash the facing",
			"or one strip for the row, 63.5 mm (2 1/2 in) wide and 521 mm (20 1/2 in) long",
			"cut 5 strip of shell for the lips of a hole, one of them for the sample of front: 38.1 mm wide",
		}, []string{"bar tacks"}},
		{front + "hole=bound|run.count=2", []string{"one strip for the row"}, nil},
		{front + "hole=bound|run.count=1", []string{"for the lips of the bound hole"}, []string{"one strip for the row"}},

		// A flap of its own: 60 + 6.35 and two seams of 15; snaps on it at 30.
		{snaps + "post=4,post_width=4}|flap={width=60,inset=30}", []string{
			"Buy snaps for the front: 4 and 1 to test.", "Cut the flap of two layers, from the finished edge, 60 mm",
			"96.5 mm (3 13/16 in) wide with its seams of 15 mm (9/16 in), and as long as the run with a seam at either end.", "30 mm (1 3/16 in) beyond the line where the edges meet, 30 mm (1 3/16 in) from its finished edge",
			"Join the layers of the flap of the front, right sides together, at its edge and both ends, the seam 15 mm",
			"; this one is 4 mm", "hole in cloth: smaller than the post, 4 mm, which is forced through: 3.4 mm", "no grip range is known for your own snap",
			"cut 2 flap, from cut edge to cut edge of front: 96.35 mm wide",
		}, []string{"packing", "packed", "no one length", "washers", "packs"}},
		{snaps + "post=4,post_width=4}|flap={width=60,inset=30}|stand.seam=0", []string{
			"66.5 mm (2 5/8 in) wide with no seam allowances, and as long as the run.", "Lay the layers of the flap of the front wrong sides together and stitch along its edge and both ends, which stay raw: there is no seam allowance.",
		}, []string{"with its seams"}},
		{snaps + `}|flap={width=60,inset=30}|over=["shell"]`, []string{"Cut the flap from the finished edge"}, []string{"Join the layers", "of two layers", "layers of the flap", "this one is"}},
		{snaps + `}|flap={width=60,inset=30}|over=["shell","shell","shell"]`, []string{"Cut the flap of 3 layers,", "cut 3 flap"}, nil},
		// Folded on its edge it is one piece, of twice 60 + 6.35 and two seams of 15.
		{snaps + `}|flap={width=60,inset=30}|stand.construction=folded`, []string{
			"162.5 mm (6 3/8 in) wide in all, folded on its edge, with a seam of 15 mm (9/16 in) on both sides", "Fold the flap of the front on its edge, right sides together, sew its ends, the seam 15 mm", "cut 1 flap, from cut edge to cut edge of front: 162.7 mm wide",
		}, nil},
		{snaps + `}|flap={width=60,inset=30}|stand.construction=folded|stand.seam=0`, []string{
			"132.5 mm (5 1/4 in) wide in all, folded on its edge, with no seam allowance on both sides", "Fold the flap of the front on its edge, wrong sides together, and stitch its ends, which stay raw", "cut 1 flap, from cut edge to cut edge of front: 132.7 mm wide",
		}, nil},
		// Rivets go through once; a grip of 3 to 5 is packed by 1 from 2.
		{snaps + `grip={min="3 mm",max="5 mm"}}|packing=1 mm`, []string{"washers or a patch to pack each by 1 mm (1/32 in)", "1 mm of packing in it", "grips 3 to 5 mm"}, nil},
		{snaps + "pack=12}", []string{"4 and 1 to test, 1 pack of 12"}, nil},
		{snaps + "pack=2}", []string{"4 and 1 to test, 3 packs of 2"}, nil},
		{snaps + "post=4,post_width=4}|into=rigid", []string{"hole in a rigid part = post of 4 mm + "}, []string{"forced through"}},

		// 40 + 70 to where the cords are sewn on; half a patch of 2 in to either side.
		{cords, []string{
			"cord-5mm, 5 mm (3/16 in) thick: 150 cm; 1455 mm", "to pass the patches over the cords; set stand.facing to say how wide",
			"from leather or firm cloth (8), 44.5 mm (1 3/4 in) wide and 76 mm (3 in) long", "to 38 mm (1 1/2 in)", "Draw each cord through its toggle, and join the two legs of each cord right up to the toggle.",
			"its ends under a patch from 51 mm (2 in) inside the centre line to 89 mm (3 1/2 in) inside it", "4 to 5 small stitches over the base of its cord",
			"finished edge to where the cord is sewn on 110 mm, + 6.4 mm = 116.4 mm at least, + half a patch and 6.4 mm = 135.4 mm usual",
			"the toggle lies across, its shorter end 29 mm towards the edge: least, + 3 mm = 32 mm; usual, + 6.4 mm = 35.4 mm",
			"both legs to where they are sewn on 148 mm + 7.9 mm for the bend of a 5 mm cord + 2 seam allowances of 15 mm = 186 mm",
			"cut 2 both fronts, facing, at least of front: 150.4 mm wide", "cut 4 cord of a toggle of front", "cut 8 patch for the ends of a cord of front: 44.45 mm wide",
		}, nil},

		// 600 less 13 for the neck seam: of 700, 113 are taken off.
		{teeth + `lengths=["500 mm","700 mm"]}`, []string{
			"the plan counts on 600 mm (23 5/8 in), 587 mm (23 1/8 in) of it for the zip", "Buy the zip of the front: 700 mm (27 9/16 in).",
			"Shorten the zip of the front, by 113 mm", "the nearest on sale that is long enough is 700 mm", "number 5; usual for this cloth and place: 5 to 6",
			"one tape 14 mm wide, seam allowance 16 mm: the tape's edge lies 8.2 mm (5/16 in) inside the cut edge", "teeth from 13 mm to 600 mm below the neck edge",
			"Baste the zip of the front in, its teeth from 13 mm to 600 mm below the neck edge",
			"6 to 8 stitches an inch",
		}, []string{"at least 587", "not sold"}},
		{teeth + `lengths=["587 mm"]}`, []string{"Buy the zip of the front: 587 mm"}, []string{"Shorten the zip", "off at the top"}},
		{teeth + `lengths=["588.9 mm"]}`, []string{"Buy the zip of the front: 589 mm"}, []string{"Shorten the zip"}},
		{teeth + "}", []string{"Buy the zip of the front: 587 mm (23 1/8 in) at least"}, []string{"Shorten the zip"}},
		{teeth + `lengths=["500 mm","700 mm"]}|zip_length=600 mm`, []string{"700 mm (27 9/16 in), since 600 mm (23 5/8 in) is not sold"}, nil},
		{teeth + `lengths=["700 mm"]}|pieces=2|spare=1`, []string{"2 of 700 mm (27 9/16 in) and 1 spare"}, nil},
		{teeth + "}|run.first=0", []string{"the plan counts on 600 mm (23 5/8 in)."}, []string{"of it for the zip"}},
		{strings.Replace(teeth, "number=5,", "", 1) + "}", []string{"zip of the front"}, []string{"number 0", "usual for this cloth"}},

		// 3 + 3.175, up to a whole millimetre; the bar lies 13.175 − 3.175 inside.
		{hooks, []string{
			"hook 10 mm long, across the edge: least, for its bend, 3.2 mm; full, all of it on the lap, 13.2 mm", "half of the hook's width, 3 mm, + 3.2 mm, up to 1 mm = 7 mm (9/32 in) below the top",
			"stand 13.2 mm − 3.2 mm: the bar of each eye lies 10 mm (13/32 in) inside the centre line of the under side", "sewn on by hand",
			"sew straight eyes there (4), each from 10 mm (13/32 in) inside the centre line to 15 mm",
		}, []string{"cord", "round eyes", "0 times"}},
		{hooks + "|edge=13.175 mm|stand.finished=13.175 mm", []string{"the bar of each eye lies on the centre line of the under side"}, []string{"inside the centre line of the under"}},
		{hooks + "|lap=edge|edge=3.175 mm", []string{"the edges meet, so each eye stands 3.2 mm (1/8 in) beyond its own", "round eyes"}, []string{"straight eyes"}},
		{"notion.thickness=12 mm|notion.shape=domed", []string{"diameter 24 mm, a half ball: half the way round = 30.8 mm"}, nil},
		{"notion.thickness=13 mm|notion.shape=domed", []string{"a half ball and 1 mm below it: half the way round"}, nil},
		{"notion.thickness=11.9 mm|notion.shape=domed", []string{"+ arc over the dome"}, []string{"half ball"}},
		// One alone.
		{front + "run.count=1", []string{"Mark the hole of the front", "Sew the button of the front on"}, []string{"gaps:"}},
		{front + "run.count=2", []string{"(500 mm − 30 mm) ÷ 1 gap = 470 mm if exactly even"}, nil},
		{`over=["shell"]|where=tab`, []string{"under the hole: shell 1 mm"}, []string{"shell 1 mm ="}},
		{`over=["shell","shell","in","shell"]`, []string{"2 × shell 1 mm + in 0.5 mm + shell 1 mm = 3.5 mm"}, nil},

		// Where everything lies on the pieces.
		{front, []string{
			"both fronts:\nFinished edge 30 mm beyond the centre line, cut edge 45 mm beyond it\nIn interfacing, 70 mm wide, from the finished edge, 30 mm beyond the centre line, to 40 mm inside it\nFacing from 30 mm beyond the centre line to 60 mm inside it\n",
			"which lies over:\nHoles of the front: each cut 28 mm and stitched 31 mm long, from 3.2 mm beyond the centre line towards the edge, to 25 mm inside it\n",
			"which lies under:\nButtons of the front: on the centre line\n",
		}, []string{"Stitching of the fly", "Seam of the band", "cut edges", "Band from"}},
		{"stand.construction=band|stand.band=40 mm", []string{"Fold 20 mm beyond the centre line, cut edge 5 mm inside it\nSeam of the band 20 mm inside the centre line\nBand from 20 mm beyond the centre line to 20 mm inside it\n"}, []string{"Facing from"}},
		{"stand.construction=folded|stand.band=30 mm", []string{"Stitching of the band 15 mm inside the centre line", "Band from 15 mm beyond the centre line to 15 mm inside it"}, nil},
		{"stand.construction=fly|stand.finished=30 mm", []string{"which lies over:\nStitching of the fly 23.5 mm beyond the centre line\nIn interfacing, in the fly, 20 mm wide, with its middle under the holes"}, nil},
		{front + "stand.topstitch=8 mm|run.count=1", []string{"Top-stitching 22 mm beyond the centre line", "a patch level with the hole: from", "a patch level with the button: from", "Hole of the front: cut 28 mm and stitched 31 mm long", "Button of the front:"}, []string{"Stitching of the fly"}},
		{cords, []string{"Patches from 51 mm inside the centre line to 89 mm inside it, 44.5 mm high", "Loops of the front: each from 4 mm beyond the centre line to 70 mm inside it", "Toggles of the front: on the centre line; each from 29 mm beyond the centre line to 31 mm inside it", "Cords of the front: each from the centre line to 70 mm inside it"}, nil},
		{cords + "|run.count=1", []string{"Loop of the front: from 4 mm beyond the centre line", "Cord of the front: from the centre line"}, []string{"Loops of the front:", "each from 4"}},
		{teeth + "}", []string{"Fold 6.2 mm inside the line of the teeth, cut edge 9.8 mm beyond it\nStitching of the zip 9.4 mm inside the line of the teeth\nTeeth of the zip: from 13 mm to 600 mm below the neck edge\nTape of the zip: from the line of the teeth to 14 mm inside it"}, nil},
		{"lap=double|rows.top=70 mm|rows.bottom=60 mm|rows.working=2|rows.show_holes=true|stand.finished=90 mm", []string{
			"Holes for show of the front, sewn and not cut: rows 1 and 2 at 70 mm, 66.5 mm beyond the centre line; each stitched 31 mm long",
			"Buttons for show of the front: rows 1 to 4 at 70 mm, 66.5 mm, 63.5 mm, 60 mm inside the centre line",
			"Holes of the front: rows 3 and 4 at 63.5 mm, 60 mm beyond the centre line; each cut 28 mm",
			"which lies under:\nButtons of the front: rows 3 and 4 at 63.5 mm, 60 mm inside the centre line\n",
			"to 95 mm inside it, past the inner column",
		}, nil},
		{"run.clear=[{name=\"waist\",from=100,to=120}]|run.hem=40 mm", []string{"Clear for waist: from 100 mm to 120 mm below the neck edge\nHem turned up: from 560 mm to 600 mm below the neck edge\n"}, nil},

		// A band of a cuff is cut for it, one for each piece.
		{"where=cuff|pieces=2|run.length=100 mm|stand.construction=band|stand.band=40 mm", []string{"cut 2 bands of front"}, nil},
		{"where=cuff|pieces=1|run.length=100 mm|stand.construction=band|stand.band=40 mm", []string{"cut 1 band of front"}, []string{"bands"}},
		{hooks + "|stand.construction=faced|stand.finished=20 mm", nil, []string{"facing, at least"}},
		{"stand.construction=faced|stand.finished=30 mm|direction=across", []string{"facing, at least of front"}, nil},
		// One layer creeps under nothing.
		{`where=flap|over=["shell"]`, nil, []string{"creeps", "larger than the under one"}},
		{`where=flap|over=["shell","shell"]`, []string{"how far the upper one creeps", "larger than the under one"}, nil},
		// 2 % of a metre; a wool of 150 °C has two dots (ISO 3758), and of two alike the first is
		// named; what stands three dots is not told of, nor what a symbol allows as well.
		{"interfacing.in.shrink=2", []string{"Shrink in before cutting: it loses 2 %, 20 mm (13/16 in) in a metre"}, nil},
		{"interfacing.in.shrink=0", nil, []string{"Shrink in"}},
		{`cloth.shell.fibre={wool=100}|cloth.lining={weight="90 g/m2",thickness="0.3 mm",fibre={wool=100}}|over=["shell","lining"]`, []string{"the wool of shell stands no more"}, []string{"wool of lining stands", "Keep it off"}},
		{`cloth.shell.fibre={wool=100}|cloth.lining={weight="90 g/m2",thickness="0.3 mm",fibre={cotton=80,wool=20}}|over=["shell","lining"]`, []string{"the wool of shell stands no more"}, []string{"for the care symbol allows"}},
		{"cloth.shell.fibre={cotton=100}", nil, []string{"Finish with the iron"}},
		// 2 and 3.5 take posts of 4.5 to 6 and of 6 to 7.5: one length serves both, of 4 none.
		{`cloth.half={weight="200 g/m2",thickness="0.5 mm",pressed=1}|` + snaps + `post=4,post_width=4}|under=["shell","shell","shell","half"]`, []string{"(from memory): 6 mm (0.236 in); this one"}, []string{"no one length"}},
		{snaps + `post=4,post_width=4}|under=["shell","shell","shell","shell"]`, []string{"no one length serves both sides"}, nil},
		{snaps + "post=4}|into=leather", []string{"hole in leather: there is no published rule; try it on a scrap"}, []string{"listed"}},
		{snaps + "post=4}|into=leather|punch=3 mm", []string{"there is no published rule; yours is 3 mm; try it"}, nil},
		{snaps + "post=4}|into=rigid", nil, []string{"hole in a rigid part"}},
		{snaps + `}|flap={width=60,inset=30}|over=["shell"]|stand.seam=0`, nil, []string{"Lay the layers"}},
		// Layers of 3 are no bulk yet.
		{"cloth.shell.thickness=1.25 mm", nil, []string{"for bulk"}},
		{"cloth.shell.thickness=1.26 mm", []string{"+ 3.2 mm for bulk: the layers are 3 mm (1/8 in) thick, over 3 mm"}, nil},
		{"direction=across|stand.finished=3.175 mm", []string{"no cloth is left between hole and finished edge"}, []string{"of cloth between"}},
		{"direction=across|stand.finished=5.175 mm", []string{"2 mm of cloth between hole and finished edge"}, nil},
		{front + `over=["shell","shell","shell"]`, []string{"First grade the 3 allowances, from the outside in 6.4 mm, 4.8 mm and 3.2 mm, and"}, nil},
		// The cloth of a fusible is tried at its heat, or at what its resin may need.
		{"interfacing.in.fixing=fusible|interfacing.in.fuse=140 C", []string{"140 °C (285 °F) in the glue line, the sole hotter", "Use 140 °C"}, []string{"its maker gives"}},
		{"interfacing.in.fixing=fusible", []string{"at the heat its maker gives (", "the heat of the test swatch"}, []string{"in the glue line"}},
		{`over=["shell","in","shell","in"]`, []string{"It lies twice in your stack"}, []string{"several times"}},
		{`over=["shell","in","shell","in","in"]`, []string{"It lies several times in your stack"}, nil},
		{`over=["shell","in","shell","in","in"]|under=["shell","shell"]`, []string{"It lies several times in your stack"}, nil},
		{`over=["shell","shell"]|under=["shell","in","shell","in","in"]`, []string{"It lies several times in your stack"}, nil},
		{"direction=along|stand.construction=faced|stand.seam=10 mm|stand.finished=24 mm|stand.strip_from_edge=5 mm", []string{"+ half the stitched hole 3.5 mm + 6.4 mm"}, nil},
		{front + "run.count=1", []string{"one fastener alone: 2 patches 70 mm wide and 24 mm + "}, nil},
		// Of sizes what is alike is told once.
		{sized + "run.hem=40 mm", []string{"Hem turned up: the last 40 mm", "Only when the hem line is fixed"}, nil},
		{sized + teeth + "}", []string{"Teeth of the zip: from 13 mm below the neck edge, S: to 600 mm; M: to 620 mm"}, nil},
		{"flap={width=60,inset=30}|direction=along", []string{
			"with its middle under the holes: from 50 mm (1 15/16 in) beyond", "the edge beneath to the line of the buttons 30 mm, + half the stitched hole 3.5 mm + 6.4 mm = 39.9 mm",
		}, nil},
		{"direction=along", []string{"stitched hole 7 mm + 2 × 6.4 mm = 19.7 mm"}, []string{"beneath to"}},
		// 90 + 60 + 12.
		{columns + "stand.strip=162 mm", []string{"to 72 mm inside it, past the inner column"}, nil},
		{"direction=across", []string{"draft the full stand, 24 mm", "button 24 mm across + 6 mm, up to whole 5 mm = 30 mm"}, nil},
		{"notion.diameter=12 mm", []string{"draft the usual stand, 12.5 mm"}, []string{"full stand"}},
		{"notion.diameter=26 mm", []string{"button 26 mm across + 6 mm, up to whole 5 mm = 35 mm"}, nil},
		{`over=["shell","shell"]`, []string{"2 × shell 1 mm = 2 mm", "through 2 layers of shell, 2 mm"}, nil},
		{"run.group=1", []string{"÷ 3 gaps = 156.7 mm if exactly even", "5 mm between the largest and the smallest"}, []string{"in groups"}},
		{"run.group=2|run.group_gap=40 mm", []string{"in groups of 2, 40 mm apart inside a group"}, []string{"if exactly even", "between the largest"}},
		// 2 × 1.775 + 0.9 × 0.5: 4 mm, ours.
		{"cloth.shell.thickness=1.775 mm", nil, []string{"the thicker half"}},
		{"cloth.shell.thickness=1.78 mm", []string{"the thicker half since the layers stay"}, nil},
	} {
		var with []string
		for _, w := range strings.Split(c.with, "|") {
			if table, _, _ := strings.Cut(w, "."); table != "machine" && table != "interfacing" && table != "cloth" && table != "sizes" && w != "" {
				w = "closure.front." + strings.ReplaceAll(w, ",}", "}")
			}
			if w != "" {
				with = append(with, w)
			}
		}
		p := rules.Plan(trial.Read(t, plainCoat, with...))
		says := all(p)
		for _, want := range c.want {
			if !strings.Contains(says, want) {
				t.Errorf("%s: %q is missing in\n%s", c.with, want, says)
			}
		}
		for _, not := range c.not {
			if strings.Contains(says, not) {
				t.Errorf("%s: %q stands in\n%s", c.with, not, says)
			}
		}
		for _, line := range strings.Split(says, "\n") {
			if strings.HasPrefix(line, "cut ") {
				if strings.HasPrefix(line, "cut 0 ") {
					t.Errorf("%s: %s", c.with, line)
				}
				continue
			}
			for _, re := range nothing {
				if m := re.FindString(line); m != "" && !meant[m] {
					t.Errorf("%s: %q in %s", c.with, m, line)
				}
			}
		}
		for _, why := range nothingThere(p) {
			t.Errorf("%s: %s", c.with, why)
		}
	}
}

// A line of goods belongs to a closure where it is for one alone.
func TestLineOfOneClosure(t *testing.T) {
	for want, names := range map[string][]string{"front": {"front"}, "": {"front", "cuff"}} {
		if got := (&Line{For: names}).only(); got != want {
			t.Errorf("%q: %q, want %q", names, got, want)
		}
	}
}

// What is to be settled besides is read before anything is tried; a front named after
// its buttons is not named twice.
func TestWordsOfAFront(t *testing.T) {
	after(t, strings.Replace(plainCoat, "[closure.run]", "[closure.stand]\nfinished = 16\n[closure.run]", 1), "settled first", "Settle this too", "Check the needle clamp")
	for name, want := range map[string]string{"front": "Fasten and open every button of the front, with one hand", "buttons": "Fasten and open every button, with one hand"} {
		told(t, list(written(t, strings.Replace(plainCoat, `name = "front"`, `name = "`+name+`"`, 1))), want, true)
	}
}

// What is bought is paid as it is sold, and one garment's share as it is used: two
// strips of 65 × 600 from goods of 1500 at 12.50 a metre are 0.65, and twenty of them,
// 23 side by side, 0.6 m, 7.50; a button of 1.25 is four times that.
func TestCostsAddedUp(t *testing.T) {
	p := rules.Plan(trial.Read(t, plainCoat, "currency=EUR", "interfacing.in.price=12.5", "closure.front.notion.price=1.25", "closure.front.direction=across", "closure.front.stand.finished=24 mm", "closure.front.hole_length=28 mm"))
	buy, err := NewPurchase([]Batch{{Plan: p, Garments: []int{10}}}, measure.MM)
	if err != nil {
		t.Fatal(err)
	}
	got := map[plan.GoodKind][2]int64{}
	for _, it := range buy.Items {
		if it.Priced {
			got[it.Kind] = [2]int64{it.Cost.Cents, it.each(0, 10).Cents}
		} else if it.Kind == plan.GoodThread && it.Why != "the length on a spool is not said (metres)" {
			t.Errorf("thread: %q", it.Why)
		}
	}
	if want := map[plan.GoodKind][2]int64{plan.GoodInterfacing: {750, 65 * eachFine}, plan.GoodFastener: {5000, 500 * eachFine}}; !maps.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got := buy.EachOf(0); len(got) != 1 || got[0] != (Money{"EUR", 565}) {
		t.Errorf("a garment: %v", got)
	}
	// Half a hundredth is told as one.
	fine := &Purchase{Each: [][]Money{{{"EUR", 5 * eachFine / 2}, {"GBP", 5*eachFine/2 - 1}}}}
	if got := fine.EachOf(0); got[0].Cents != 3 || got[1].Cents != 2 {
		t.Errorf("halves: %v", got)
	}
}

// Of zips of two lengths each is for its own closure; where none that is sold is
// long enough, none is bought. A kilometre has 10¹² nanometres.
func TestOrdersOfZipsAndOfTooMuch(t *testing.T) {
	const zips = "garment = \"Squall bag (invented)\"\nunits = \"mm\"\n[cloth.shell]\nuse = \"duck-10\"\nthickness = \"0.9 mm\"\n"
	const zip = "[[closure]]\nname = \"%s\"\nwhere = \"pocket\"\nuse = \"coil-5-closed\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = \"%s mm\"\n"
	p := written(t, zips+fmt.Sprintf(zip, "right", "9000")+fmt.Sprintf(zip, "left", "150"))
	buy, err := NewPurchase([]Batch{{Plan: p, Garments: []int{1}}}, measure.MM)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, it := range buy.Items {
		if it.Kind == plan.GoodFastener {
			got = append(got, strings.Join(it.For, "+")+": "+it.Why)
		}
	}
	slices.Sort(got)
	if want := []string{"Squall bag (invented) (left): no price", "Squall bag (invented) (right): none that is sold is long enough"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	it := Item{What: "Tex 40", Good: &plan.Good{}}
	it.Kind = plan.GoodThread
	for range 5000 {
		it.batches = append(it.batches, plan.Batch{Good: &plan.Good{Len: []measure.Length{1000 * measure.Metre}}, Garments: []int{1000}})
	}
	if err := it.pool(measure.MM); err == nil || !strings.HasSuffix(err.Error(), "more than can be ordered at once: 5000000 km") {
		t.Errorf("%v", err)
	}
}

// About 8 stitches an inch, 3.2 mm (Threads, 2008, on leather).
func TestPitchInWords(t *testing.T) {
	for u, want := range map[measure.Unit]string{measure.MM: "8 stitches an inch (3.2 mm)", measure.In.Alone(): "8 stitches an inch", measure.MM.Alone(): "stitches of 3.2 mm"} {
		if got := pitch(u); !strings.HasPrefix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A short end is the fastener's own width, or the least of all.
func TestShortEnds(t *testing.T) {
	c := &catalog.Closure{Notion: catalog.Notion{Kind: catalog.Button}}
	for d, want := range map[measure.Length]string{plan.EndLeast: "the button's own width", plan.EndLeast - 1: "the least of all"} {
		if got := shortEnd(c, d); got != want {
			t.Errorf("%v: %q, want %q", d, got, want)
		}
	}
}

// A spool has its metres, or yards where they stand alone; a hole by hand takes 3/4 yd
// of twist, 0.7 m; a thread, and a cord, goes by its name where there is another.
func TestThreadsInWords(t *testing.T) {
	mm, in := measure.MM.Alone(), measure.In.Alone()
	if got := [...]string{Spool(100*measure.Metre, measure.MM), Spool(4*measure.Yard, in), (&working{x: rules.Context{U: mm}}).twistLeast(), (&working{x: rules.Context{U: measure.MM}}).twistLeast()}; got != [...]string{"100 m", "4 yd", "0.7 m", "3/4 yd"} {
		t.Errorf("%q", got)
	}
	one := rules.Plan(trial.Read(t, plainCoat))
	two := rules.Plan(trial.Read(t, plainCoat, `thread.twist={tex="Tex 90",fibre="polyester"}`))
	for want, p := range map[string]*rules.Planned{"Tex 40.": one, "Tex 40 (seam).": two} {
		told(t, list(p), "needle 90/14, "+want, true)
	}
	g := &catalog.Garment{Cords: []catalog.GarmentCord{{Name: "a", At: "hem"}, {Name: "b", At: "hood"}}}
	if got := cordAt(g, &g.Cords[0]); got != "cord at the hem" {
		t.Errorf("%q", got)
	}
	g.Cords[1].At = "hem"
	if got := cordAt(g, &g.Cords[0]); got != "cord a at the hem" {
		t.Errorf("%q", got)
	}
}

// Fronts that are not alike are cut one by one: the one that laps over the zip as far
// as the file drafts it, 30, the other to its tape.
func TestFrontsCutApart(t *testing.T) {
	g, err := catalog.Load("../../testdata/rules/zip-clear/bad-teeth.toml", catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]int{}
	for _, c := range Cuts(rules.Plan(g), []int{0}) {
		got[c.What] = c.Pieces
	}
	if got["right front, beyond the centre line"] != 1 || got["left front, beyond the centre line"] != 1 {
		t.Errorf("%v", got)
	}
}
