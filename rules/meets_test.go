package rules

import (
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// Where two figures of a garment meet exactly, the rule is silent, or speaks,
// as it says; just beyond it is the other way round. The figures are sums of the
// garment's own and of thresholds that have their source in edges; mm.
var meets = []struct {
	rule, base, with string
	silent, speaks   string // values of @
	sev              Severity
}{
	// A rim of 24 ÷ 2, and one of 15 ÷ 2.
	{"edge-near", edgeCoat, hardware("snap", `diameter=15,post=5`) + "|closure.front.edge=@ mm", "7.5", "7.49", Conflict},
	{"toggle-patch", edgeToggle, "closure.toggles.inset=@ mm", "59.05", "59.04", Caution},
	// Teeth of 6 ÷ 2 under a flap.
	{"zip-fly", edgeZip, "closure.zip.notion.tape=6 mm|closure.snaps.flap.inset=|closure.snaps.flap.width=@ mm", "3", "2.99", Conflict},
	// A chain of 6 and stitching 1/4 in from it: 3 + 6.35 catches nothing.
	{"zip-seam", edgeZip, "closure.zip.notion.tape=@ mm", "9.351", "9.35", Conflict},
	// Caps of 12 to 15.
	{"snap-cap", edgeCoat, hardware("snap", `diameter=@,caps={min="12 mm",max="15 mm"},post=5`), "15", "15.01", Caution},
	{"snap-cap", edgeCoat, hardware("snap", `diameter=@,caps={min="12 mm",max="15 mm"},post=5`), "12", "11.99", Caution},
	// A grip of 1 to 3 spans 2; the stack of two layers pressed is 2.
	{"hardware-step", edgeCoat, hardware("snap", `diameter=15,grip={min="1 mm",max="3 mm"}`) + "|closure.front.thickness_step=@ mm", "2", "2.01", Conflict},
	{"hardware-grip", edgeCoat, hardware("snap", `diameter=15,grip={min="@ mm",max="5 mm"}`), "2", "2.01", Conflict},
	{"hardware-grip", edgeCoat, hardware("snap", `diameter=15,grip={min="1 mm",max="@ mm"}`), "2", "1.99", Conflict},
	// Columns of 24 across.
	{"rows-touch", edgeCoat, "closure.front.direction=along|closure.front.lap=double|closure.front.rows.distance=@ mm", "12", "11.99", Conflict},
	// Half a band of 30 is 15: 12 + 3. Folded: 15 + 30 + 10 turned under + two folds
	// of 1 and the canvas of 0.5 that the edge goes round: 57.5, half a mark let pass.
	{"band-extension", edgeCoat, "closure.front.stand.construction=folded|closure.front.stand.band=30 mm|closure.front.stand.turn_under=10 mm|closure.front.stand.extension=@ mm", "57", "56.99", Conflict},
	// Goods as wide as the strip.
	{"goods-narrow", edgeCoat, "closure.front.stand.strip=60 mm|interfacing.in.width=@ mm", "60", "59.99", Conflict},
	// A zip of 600 in a seam of 600 less 13 at the top.
	{"zip-length", edgeZip, "closure.zip.run.first=10 mm|closure.zip.zip_length=@ mm", "583.65", "583.64", Conflict},
	// What the foot lifts: 2 × 1 + 0.5.
	{"foot-lift", edgeCoat, "cloth.shell.thickness=1 mm|machine.foot_lift=@ mm", "2.5", "2.49", Conflict},
	{"foot-lift", edgeCoat, "cloth.shell.thickness=1 mm|machine.foot_lift=1 mm|machine.foot_lift_extra=@ mm", "2.5", "2.49", Conflict},
	// A button of 24 and 4 passes 28.
	{"hole-short", edgeCoat, "closure.front.hole_length=@ mm", "28", "27.99", Conflict},
	{"loop-length", edgeCoat, "closure.front.hole=loop|closure.front.lap=edge|closure.front.loop=@ mm", "56", "55.99", Conflict},
	{"hole-machine", edgeCoat, "machine.buttonhole_max=@ mm", "28", "27.99", Conflict},
	// A thread of NM 90, 110 at most; a machine that takes 100.
	{"needle-machine", edgeCoat, "machine.needle_max=NM 100|closure.front.needle=@", "100/16", "110/18", Conflict},
	{"stitch-length", edgeCoat, "machine.stitch_max=3.5 mm|closure.front.stitch=@ mm", "3.5", "3.51", Conflict},
	// A shank of the layers, 2.5, and one of 24 ÷ 2 behind it.
	{"backing-button", edgeCoat, "closure.front.backing=@ mm", "23.9", "24.1", Caution},
	// The swing of 2 to 4.
	{"button-swing", edgeCoat, "machine.swing={min=2,max=4}|closure.front.sewn_by=machine|closure.front.notion.hole_gap=@ mm", "4", "4.01", Caution},
	{"button-swing", edgeCoat, "machine.swing={min=2,max=4}|closure.front.sewn_by=machine|closure.front.notion.hole_gap=@ mm", "2", "1.99", Caution},
	// What the hole of 28 needs of a strip: 24 + 28 − 3.175 + 6.35.
	{"goods-narrow", edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|interfacing.in.width=@ mm", "55.175", "55.17", Conflict},
	// A rivet of 10 hangs over at less than 5.
	{"last-low", edgeCoat, hardware("rivet", `diameter=10,post=5`) + "|closure.front.run.last=@ mm", "5", "4.99", Conflict},
	{"first-high", edgeCoat, hardware("rivet", `diameter=10,post=5`) + "|closure.front.run.first=@ mm", "5", "4.99", Conflict},
	// The stripes of a flap by those beneath it, 1/16 in.
	{"plaid-phase", edgeCoat, "closure.front.where=flap|cloth.shell.repeat.across=80 mm|closure.front.check.under=10 mm|closure.front.check.over=@ mm", "11.5875", "11.59", Conflict},
	{"plaid-phase", edgeCoat, "closure.front.where=collar|cloth.shell.repeat.across=80 mm|closure.front.check.over=@ mm", "0.79375", "0.8", Conflict},
	// 2.5 of layers on a foot that lifts 2 and 2 with its extra lift.
	{"foot-lift", edgeCoat, "machine.foot_lift=2 mm|machine.foot_lift_extra=@ mm", "2.5", "2", Conflict},
	// Top-stitching at 20 less a hole's 3.175 and half its bar of 1/16 in.
	{"stitch-hole", edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.stand.construction=faced|closure.front.stand.finished=20 mm|closure.front.stand.topstitch=@ mm", "15.2375", "15.24", Caution},
	// Hooks 17 apart and eyes 17.25: a millimetre out at the fifth, which still meets.
	{"hook-tape", edgeCoat, hardware("hook", `length=10,pitch=17,eye_pitch=@`) + "|closure.front.run.count=5", "17.25", "17.26", Conflict},
	// An eyelet as wide as its cord.
	{"eyelet-cord", edgeCoat, hardware("eyelet", `inside=5.5`) + "|closure.front.cord=@ mm", "5.5", "5.51", Conflict},
	// 2 × 1 + 0.5 of layers, as much as the machine sews.
	{"stack-bulky", edgeCoat, "machine.sewing_max=@ mm", "2.5", "2.49", Caution},
	// A tape of 14 in a seam of 7, covered by a facing as wide.
	{"zip-seam", edgeZip, "closure.zip.stand.seam=7 mm|closure.zip.stand.facing=@ mm", "14", "13.99", Note},
	// A grip told one way only spans nothing.
	{"hardware-step", edgeCoat, hardware("snap", `diameter=15,grip={@}`) + "|closure.front.thickness_step=5 mm", `max="3 mm"`, `min="1 mm",max="3 mm"`, Conflict},
	{"hardware-step", edgeCoat, hardware("snap", `diameter=15,grip={@}`) + "|closure.front.thickness_step=5 mm", `min="1 mm"`, `min="1 mm",max="3 mm"`, Conflict},
	// Half a rivet of 10 from either end, and half a button of 24 that is no more usual.
	{"first-high", edgeCoat, "closure.front.run.first=@ mm", "12", "11.99", Conflict},
	{"last-low", edgeCoat, "closure.front.direction=across|closure.front.run.last=@ mm", "12.7", "12.69", Conflict},
	// 40 drafted, less 3.175 and half a bar of 1.5875: 35.2375. One that begins past all
	// of the work, 24.825 + 6.35 inside the line, is no strip of it.
	{"strip-second", edgeTwo, edgeDrafted + `strips=[{name="more",from_edge="@ mm",width="90 mm"}]}`, "35.2375", "35.24", Caution},
	{"strip-second", edgeTwo, edgeDrafted + `strips=[{name="more",from_edge="@ mm",width="90 mm"}]}`, "71.175", "71.17", Caution},
	{"strip-start", edgeCoat, edgeDrafted + `strip_from_edge="@ mm"}`, "35.2375", "35.24", Conflict},
	// Begun 24 outside, one that ends before the hole and its bar at 4.7625 is clear of it:
	// 19.2375. One as wide as the first is spoken of with that.
	{"strip-second", edgeTwo, across + "|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|closure.front.stand.strips.more.width=@ mm", "19.2375", "19.24", Caution},
	{"strip-second", edgeTwo, across + "|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|closure.front.stand.strip=50 mm|closure.front.stand.strips.more.width=@ mm", "50", "49.99", Caution},
	{"goods-narrow", edgeTwo, across + "|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|closure.front.stand.strips.more.width=60 mm|interfacing.more.width=@ mm", "60", "59.99", Conflict},
	// A shank of the layers, 2 × 1 + 0.5, or of them pressed, 2 × 1 + 0.9 × 0.5.
	{"shank-rigid", edgeCoat, "closure.front.notion.shank=@ mm", "2.5", "2.49", Caution},
	{"shank-rigid", edgeCoat, "interfacing.in.pressed=0.9|closure.front.notion.shank=@ mm", "2.45", "2.44", Conflict},
	// A fly's holes begin 3.175 outside the line, their bar 1.5875 farther, and its
	// stitching lies at 6.35: 11.1125, at which they meet.
	{"fly-hole", edgeCoat, across + "|closure.front.stand.construction=fly|closure.front.stand.finished=@ mm", "11.12", "11.1125", Caution},
	// Of two layers of 1 mm nothing is left of a post as long; a rivet with two caps locks
	// at its end.
	{"hardware-post", edgeCoat, hardware("snap", `diameter=15,attach="post",post="@ mm"`), "2.01", "2", Conflict},
	{"hardware-post", edgeCoat, hardware("rivet", `diameter=9,kind="double-cap",post="@ mm"`), "2", "1.99", Conflict},
	// A hole as wide as the shank is tight in a rigid part, and does not split it.
	{"hardware-hole", edgeCoat, hardware("rivet", `diameter=9,kind="solid",post_width=4,post=6`) + "|closure.front.into=rigid|closure.front.punch=@ mm", "4", "3.99", Conflict},
	// A lap of 40.
	{"toggle-patch", edgeToggle, "closure.toggles.inset=@ mm", "40", "39.99", Conflict},
	// A hole and its bar reach 24.825 + 1.5875 inside the line: stitching 20 + 26.4125 from
	// the edge passes by them.
	{"stitch-hole", edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.stand.construction=faced|closure.front.stand.finished=20 mm|closure.front.stand.topstitch=@ mm", "46.4125", "46.41", Caution},
	// π × 1.5 = 4.712389, less 1.5875.
	{"turn-cloth", edgeCoat, "closure.front.where=flap|closure.front.turn=@ mm", "3.124889", "3.124888", Caution},
	// 0.0392 √114.8 = 0.42, 5 % over 0.4 of a blade of 1 mm.
	{"needle-thread", edgeCoat, "closure.front.needle=100/16|thread.seam.tex=@", "Tex 114.8", "Tex 115.5", Conflict},
	// Four of 24 in 72; half the ± of a button of 24, and of one of 30, more than 12.7.
	{"rims-touch", edgeCoat, across + "|closure.front.run.step=0.1 mm|closure.front.run.first=30 mm|closure.front.run.last=30 mm|closure.front.run.length=@ mm", "132", "131.7", Conflict},
	{"first-high", edgeCoat, across + "|closure.front.notion.diameter=24 mm ± 2 mm|closure.front.run.first=@ mm", "11", "10.99", Conflict},
	{"last-low", edgeCoat, across + "|closure.front.notion.diameter=30 mm ± 2 mm|closure.front.run.last=@ mm", "14", "13.99", Conflict},
	{"last-low", edgeCoat, across + "|closure.front.notion.diameter=40 mm|closure.front.run.last=@ mm", "20", "19.99", Conflict},
	// A hole along with its bar reaches 26.4125 below its centre, in a hem that the zip beside it turns up 40.
	{"last-low", edgeZip, "closure.zip.run.hem=40 mm|closure.snaps.fastener=button|closure.snaps.notion={diameter=24,thickness=4}|closure.snaps.direction=along|closure.snaps.hole_length=28 mm|closure.snaps.run.last=@ mm", "66.412501", "66.4125", Conflict},
	// A snap of 15 in a hem that the zip beside it turns up.
	{"last-low", edgeZip, "closure.zip.run.hem=40 mm|closure.snaps.run.last=@ mm", "47.5", "47.49", Caution},
	// One that ends on the line is cut into the edge.
	{"last-low", edgeCoat, along + "|closure.front.hole_length=28 mm|closure.front.run.last=@ mm", "26.412501", "26.4125", Conflict},
	// 10 and 590 use up a run of 600.
	{"zip-stops", edgeZip, "closure.zip.run.first=10 mm|closure.zip.run.last=@ mm", "589.99", "590", Conflict},
}

const edgeDrafted = across + `|closure.front.hole_length=28 mm|closure.front.stand={construction="faced",extension="40 mm",seam="10 mm",`

func TestWhereFiguresMeet(t *testing.T) {
	for _, m := range meets {
		if Find(m.rule) == nil {
			t.Errorf("%s: no such rule", m.rule)
			continue
		}
		for _, at := range []struct {
			value  string
			speaks bool
		}{{m.silent, false}, {m.speaks, true}} {
			g, err := edgeGarment(m.base, m.with, at.value)
			if err != nil {
				t.Errorf("%s at %s: %v", m.rule, at.value, err)
				continue
			}
			if got := says(g, m.rule, m.sev); (len(got) > 0) != at.speaks {
				var all []string
				p := Plan(g)
				for i := range p.Findings {
					if p.Findings[i].Rule == m.rule || p.Findings[i].Severity == m.sev {
						all = append(all, p.Findings[i].Severity.String()+" "+p.Findings[i].Rule+": "+p.Findings[i].Message())
					}
				}
				t.Errorf("%s at %s: want a %s: %v, got %q\n%s", m.rule, at.value, m.sev, at.speaks, got, strings.Join(all, "\n"))
			}
		}
	}
}

// Sizes by number are ages in years, 2T the third; from 44 they are heights in
// centimetres, 98 that of a child of 3 (from memory). 16 CFR 1610 and 1120 go by
// sizes, EN 14682 by heights; 168 months are 14 years.
func TestAgesOfSizes(t *testing.T) {
	child := func(wearer, market string, sizes ...string) *catalog.Garment {
		return trial.Read(t, strings.NewReplacer("age = 5\n", "", `wearer = "child"`, `wearer = "`+wearer+`"`, `market = "us"`, `market = "`+market+`"`, "[cloth.shell]", "[sizes]\nnames = [\""+strings.Join(sizes, `", "`)+"\"]\n[cloth.shell]").Replace(edgeChild))
	}
	for _, c := range []struct {
		wearer   string
		sizes    []string
		from, to int // months
	}{
		{"child", []string{"S"}, 36, 168}, {"infant", []string{"S"}, 0, 36},
		{"child", []string{"2T"}, 24, 35}, {"child", []string{"2", "4"}, 24, 59}, {"child", []string{"3"}, 36, 47},
		{"child", []string{"2.5"}, 24, 41}, {"child", []string{"1"}, 36, 36}, {"child", []string{"20"}, 36, 251}, {"child", []string{"21"}, 36, 168},
		{"child", []string{"43"}, 36, 168}, {"child", []string{"44"}, 24, 168}, {"child", []string{"97"}, 24, 168}, {"child", []string{"98"}, 36, 168},
		{"infant", []string{"2T"}, 0, 35},
	} {
		if from, to := ages(child(c.wearer, "us", c.sizes...)); from != c.from || to != c.to {
			t.Errorf("%s %v: %d to %d months, want %d to %d", c.wearer, c.sizes, from, to, c.from, c.to)
		}
	}
	for _, c := range []struct {
		market       string
		sizes        []string
		size, height float64 // height in cm
	}{
		{"us", []string{"1", "4"}, 4, 0}, {"us", []string{"14", "12"}, 12, 0}, {"us", []string{"2", "4"}, 2, 0}, {"us", []string{"20"}, 20, 0}, {"us", []string{"21"}, 0, 0}, {"us", []string{"1"}, 1, 0},
		{"us", []string{"4", "1"}, 4, 0}, {"us", []string{"3", "2"}, 2, 0},
		{"eu", []string{"44"}, 0, 44}, {"eu", []string{"200"}, 0, 200}, {"eu", []string{"200", "116"}, 0, 116}, {"eu", []string{"43"}, 0, 0}, {"eu", []string{"201"}, 0, 0}, {"eu", []string{"116", "104"}, 0, 104},
	} {
		g := child("child", c.market, c.sizes...)
		out := cordCase(g, &g.Cords[0])
		if float64(out.Size) != c.size || out.Height.MM() != c.height*10 {
			t.Errorf("%s %v: size %v, height %v, want %v and %v cm", c.market, c.sizes, out.Size, out.Height, c.size, c.height)
		}
	}
}

// Denim and duck of 10 oz/yd² carry tack buttons and rivets without
// interfacing, two layers of them, ours; lighter ones do not, nor one layer.
func TestClothThatCarriesItself(t *testing.T) {
	for _, c := range []struct {
		kind, weight, layers string
		carries              bool
	}{
		{"tack-button", "10 oz/yd2", `"shell","shell"`, true}, {"tack-button", "9.9 oz/yd2", `"shell","shell"`, false},
		{"rivet", "10 oz/yd2", `"shell","shell"`, true}, {"tack-button", "10 oz/yd2", `"shell"`, false}, {"snap", "10 oz/yd2", `"shell","shell"`, false},
	} {
		g, err := edgeGarment(edgeCoat, hardware(c.kind, `diameter=17,post=6`)+"|cloth.shell.kind=heavy-cotton|cloth.shell.weight="+c.weight+"|closure.front.over=[@]", c.layers)
		if err != nil {
			t.Fatal(err)
		}
		if got := len(says(g, "interfacing-none", Caution)) == 0; got != c.carries {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// A thread goes with a needle from 0.235 to 0.4 of its blade, three places (a
// thread maker's table, a needle maker's groove).
func TestThreadsOfANeedle(t *testing.T) {
	x := &Context{K: &plan.Closure{}}
	for d, want := range map[float64]bool{0.2349: true, 0.2344: false, 0.235: true, 0.4: true, 0.4004: true, 0.4006: false, 0.3: true} {
		x.K.Thread.Diameter = measure.FromMM(d)
		if got := x.threads(100); got != want {
			t.Errorf("%g mm in a blade of 1 mm: %v", d, got)
		}
	}
}

// What is said where figures meet, and what is said just beyond.
func TestWhatIsSaidWhereFiguresMeet(t *testing.T) {
	for _, c := range []struct {
		rule, base, with string
		value            map[string]string // of @, and what is said then; "" is nothing, ! is not
	}{
		// The hole begins 3.175 outside the line.
		{"hole-edge", edgeCoat, across + "|closure.front.stand.finished=@ mm", map[string]string{"3.175": "no cloth is left between the hole and the edge", "3.18": "mm", "3.1": "no cloth is left"}},
		// Seams of more than 1/4 in are trimmed by halves at a collar.
		{"turn-cloth", edgeCoat, "closure.front.where=collar|closure.front.stand.construction=faced|closure.front.stand.seam=@ mm", map[string]string{"6.36": "under collar", "6.35": "!under collar"}},
		// A hole of 28 across needs a strip of 24 + 28 − 3.175 + 6.35 = 55.175, to be cut
		// 55.5, or 2 3/16 in, which is 55.5625: from goods as wide.
		{"strip-narrow", edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|closure.front.stand.strip=50 mm|interfacing.in.width=@ mm", map[string]string{"55.5625": "!take goods", "55.5624": "take goods at least 55.5 mm"}},
		// A grip of one figure takes that one washer; from 2.951 to 2.955 there is none in
		// hundredths.
		{"hardware-grip", edgeCoat, hardware("snap", `diameter=15,grip={@}`), map[string]string{`min="3 mm",max="3 mm"`: "or pack it with 1 mm", `min="2.951 mm",max="2.955 mm"`: "!pack it", `min="1 mm",max="1.9 mm"`: "take a longer one or fewer layers"}},
		// One told one way only has no span.
		{"hardware-step", edgeCoat, hardware("snap", `diameter=15,grip={@}`) + "|closure.front.thickness_step=5 mm", map[string]string{`max="3 mm"`: "!its whole grip range", `min="1 mm"`: "!its whole grip range", `min="1 mm",max="3 mm"`: "its whole grip range spans, 2 mm"}},
		// By what can be told a post is longer than layers of 2 from a tenth on, ours.
		{"hardware-post", edgeCoat, hardware("rivet", `diameter=9,kind="semi-tubular",post="@ mm"`), map[string]string{"2": "it must be at least 2.1 mm (3/32 in) long"}},
		// A machine sews 28, which the button passes by; one that does not sew it; and an
		// attachment.
		{"hole-machine", edgeCoat, "closure.front.hole=machine|machine.keyhole=false|closure.front.hole_length=30 mm|machine.buttonhole_max=@ mm", map[string]string{"28": "the hole is to be 30 mm", "27.9": "the button needs a hole of at least 28 mm"}},
		{"hole-machine", edgeCoat, "closure.front.hole=machine|machine.keyhole=false|closure.front.hole_length=30 mm|machine.buttonhole_sizes=[20,@]", map[string]string{"28": "the hole is to be 30 mm", "27.9": "the button needs a hole of at least 28 mm"}},
		{"hole-machine", edgeCoat, "closure.front.hole=machine|machine.keyhole=false|machine.buttonhole_max=27 mm|cloth.shell.thickness=@ mm", map[string]string{"1.25": "!ease", "1.26": "32 mm (1 5/16 in) with ease,"}},
		// The strip would begin on the cut edge, or beyond it.
		{"strip-start", edgeCoat, across + `|closure.front.hole_length=28 mm|closure.front.stand={construction="faced",extension="@ mm",seam="0 mm",strip_from_edge="1 mm"}`, map[string]string{"4.7625": "begin it at most 0 mm (0 in) from the cut edge", "4.76": "the cloth begins"}},
		// The holes reach an edge at 4.7625.
		{"stitch-hole", edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.stand.construction=faced|closure.front.stand.topstitch=1 mm|closure.front.stand.finished=@ mm", map[string]string{"4.7625": "which reach the edge", "4.77": "which end"}},
		// Half a button of 24 is 12, and its hole across reaches no farther up; one of 40 is
		// 20; half a rivet of 10 is 5.
		{"first-high", edgeCoat, across + "|closure.front.run.first=@ mm", map[string]string{"11.99": "less than half its own width, 12 mm"}},
		{"last-low", edgeCoat, across + "|closure.front.notion.diameter=40 mm|closure.front.run.last=@ mm", map[string]string{"19.99": "but needs at least 20 mm"}},
		{"last-low", edgeCoat, hardware("rivet", `diameter=10,post=5`) + "|closure.front.run.last=@ mm", map[string]string{"4.99": "but needs at least 5 mm"}},
		// One alone is not lower than usual.
		{"first-high", edgeCoat, "closure.front.run.first=60 mm|closure.front.run.count=@", map[string]string{"1": "", "2": "lower than the usual 30 mm"}},
		// A usual last, 24 above the end of a run of 20, lies nowhere on it by itself.
		{"spacing-clash", edgeCoat, "closure.front.run.length=@|closure.front.run.count=2", map[string]string{"20": "the usual last at 4 mm (5/32 in) above the top cannot hold"}},
		{"spacing-clash", edgeCoat, "closure.front.run.length=@|closure.front.run.count=2", map[string]string{"20": "!together"}},
		// Where no hem is turned up none is spoken of.
		{"last-low", edgeCoat, along + "|closure.front.hole_length=28 mm|closure.front.run.last=@ mm", map[string]string{"30": ""}},
		{"last-low", edgeCoat, along + "|closure.front.hole_length=28 mm|closure.front.where=flap|closure.front.run.last=@ mm", map[string]string{"30": ""}},
		// Two sizes of four: at 30, 210, 390 and 570, and at 30, 220, 410 and 600.
		{"place-jumps", edgeCoat, `sizes.names=["S","M"]|closure.front.run.length={S="600 mm",M="630 mm"}|closure.front.run.first=30 mm|closure.front.run.last=30 mm|closure.front.run.anchor=[{name="bust",at={S="210 mm",M="390 mm"}}]|closure.front.run.clear=[{name="belt",from={S="@ mm",M="300 mm"},to={S="310 mm",M="320 mm"}}]`, map[string]string{"250": "at bust stands number 2 in size S and number 3 in size M", "240": "!above belt"}},
		{"place-jumps", edgeCoat, `sizes.names=["S","M"]|closure.front.run.length={S="600 mm",M="630 mm"}|closure.front.run.first=30 mm|closure.front.run.last=30 mm|closure.front.run.clear=[{name="belt",@}]`, map[string]string{`from={S="100 mm",M="300 mm"},to={S="102 mm",M="302 mm"}`: "in size S 1 lies above belt, in size M 2", "from=300,to=302": ""}},
		// Snaps on the line stand on the teeth; holes of a double-breasted front reach 24.825
		// inside their column, and along it half of 5.
		{"zip-clear", edgeZip, "closure.snaps.flap=@", map[string]string{"": "the snaps stand on the teeth of the zip"}},
		{"zip-clear", edgeZip, doubleZip + "direction=across|closure.snaps.rows.distance=@ mm", map[string]string{"24.825": "reach across the teeth", "24.925": "end 0.1 mm (0.004 in) outside the teeth", "34.175": "!the outer column", "34.17": "the outer column end"}},
		{"zip-clear", edgeZip, doubleZip + "direction=along|closure.snaps.rows.distance=@ mm", map[string]string{"11.85": "!the outer column", "11.84": "the outer column end", "2.5": "reach across the teeth"}},
		// Of the stitches for heavy cloth, a machine that just sews the shortest sews that one.
		{"stitch-length", edgeCoat, "closure.front.stitch=2 mm|machine.stitch_max=@ mm", map[string]string{"2.5": "outside the usual 2.5 mm (", "2.4": "outside the usual 2.5 to ", "2.6": "outside the usual 2.5 to 2.6 mm", "9": "!2.5 to 9"}},
		// Needles of 90 to 110 go with the cloth, as far as the machine takes them; and the
		// thread: 0.0392 √40 is 0.248 of 100, and thin for 110, where √70 is 0.298 of it.
		{"needle-cloth", edgeCoat, "closure.front.needle=70/10|thread.seam.tex=@", map[string]string{"Tex 40": "use 90/14 to 100/16", "Tex 70": "use 90/14 to 110/18"}},
		// At 0.42 of the blade its 5 % may let it pass, but it is a caution by itself.
		{"needle-thread", edgeCoat, "closure.front.needle=100/16|thread.seam.tex=@", map[string]string{"Tex 114.8": "!measure first", "Tex 114.5": "is too thick for needle"}},
		{"needle-cloth", edgeCoat, "closure.front.needle=70/10|machine.needle_max=@", map[string]string{"NM 110": "use 90/14 to 100/16", "NM 100": "use 90/14 to 100/16", "NM 90": "use 90/14"}},
		// From 30 to 540 gaps of 170: the nearest that is whole repeats.
		{"plaid-gaps", edgeCoat, plaided, map[string]string{"150": "gaps of 150 mm (5 7/8 in), 1 repeat,", "75": "gaps of 150 mm (5 7/8 in), 2 repeats,", "300": ""}},
		// A band is offered that carries the button, 30, as it is marked in either unit:
		// from 1 3/16 in, 30.1625, which is folded of 45.24375 + 12.5. A stand from 5/8 in,
		// 15.875, of 47.625 + 12.5.
		{"band-extension", edgeCoat, folded + "closure.front.stand.band=40 mm|closure.front.stand.extension=@ mm", map[string]string{"57.74375": "make the band 30 mm (1 3/16 in)", "57.743": "!make the band"}},
		{"band-extension", edgeCoat, folded + "closure.front.stand.finished=20 mm|closure.front.stand.extension=@ mm", map[string]string{"60.125": "make the finished stand 15.5 mm (5/8 in)", "60.124": "!make the finished"}},
		{"band-extension", edgeCoat, folded + "closure.front.stand.finished=20 mm|closure.front.stand.band=40 mm|closure.front.stand.extension=@ mm", map[string]string{"57.74375": "make the band 30 mm (1 3/16 in)", "57.743": "!make the band"}},
		{"band-extension", edgeCoat, folded + "closure.front.stand.finished=20 mm|closure.front.stand.band=40 mm|closure.front.stand.extension=@ mm", map[string]string{"57.74375": "the finished stand 15 mm (9/16 in)"}},
		{"stand-narrow", edgeCoat, folded + "closure.front.stand.finished=14 mm|closure.front.stand.extension=@ mm", map[string]string{"60.125": "!to the cut edge", "60.124": "to the cut edge"}},
		// The inner column takes 90 + 60 + 12 = 162 of strip.
		{"goods-narrow", edgeCoat, "closure.front.lap=double|closure.front.rows.distance=60 mm|closure.front.stand.finished=90 mm|closure.front.stand.strip=175 mm|interfacing.in.width=@ mm", map[string]string{"162": "cut it 162 mm", "161.9": "take goods at least 175 mm"}},
		// A shank and 3 mm of layers: ease for the one; more than 3 for both.
		{"hole-tight", edgeCoat, "closure.front.notion.shank=5 mm|closure.front.hole_length=28 mm|cloth.shell.thickness=@ mm", map[string]string{"1.25": "!and for layers", "1.26": "ease for the shank and for layers"}},
		{"hole-tight", edgeCoat, "closure.front.notion.shank=5 mm|closure.front.hole_length=28 mm|cloth.shell.thickness=@ mm", map[string]string{"1.25": "ease for the shank"}},
	} {
		for value, want := range c.value {
			g, err := edgeGarment(c.base, c.with, value)
			if err != nil {
				t.Errorf("%s at %s: %v", c.rule, value, err)
				continue
			}
			got := strings.Join(slices.Concat(says(g, c.rule, Conflict), says(g, c.rule, Caution), says(g, c.rule, Note)), "\n")
			not, never := strings.CutPrefix(want, "!")
			if want == "" && got != "" || strings.Contains(got, not) == never {
				t.Errorf("%s at %s: %q, want %q", c.rule, value, got, want)
			}
		}
	}
}

const doubleZip = "closure.snaps.flap=|closure.snaps.fastener=button|closure.snaps.notion={diameter=24,thickness=4}|closure.snaps.hole=machine|closure.snaps.hole_length=28 mm|closure.snaps.lap=double|closure.snaps."

const folded = "closure.front.stand.construction=folded|closure.front.stand.turn_under=10 mm|"

// plaided150 has a plaid of 150.
var plaided150 = strings.ReplaceAll(plaided, "@", "150")

const plaided = "cloth.shell.repeat.along=@ mm|closure.front.check.over=0 mm|closure.front.check.under=0 mm|closure.front.run.first=30 mm|closure.front.run.last=60 mm"

// A run of 600 in a plaid of 150 is matched by gaps of one repeat: the first 30
// below the top, three gaps, the last 120 above the end.
func TestGapsOfOneRepeatAreProposed(t *testing.T) {
	got := proposedFor(t, "plaid-gaps", edgeCoat, strings.ReplaceAll(plaided, "@", "150"))
	const want = "space them 1 repeat apart, the last 120 mm (4 3/4 in) above the end"
	if _, is := got[want]; !is {
		t.Errorf("no %q in %v", want, got)
	}
}
