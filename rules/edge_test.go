package rules

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// A coat of one button, 24 mm across and 4 mm thick, which passes 28 mm: two
// layers of cloth and a canvas between, 2.5 mm in all. A zip, a toggle, a child
// put on it what the thresholds below need.
const edgeCoat = `garment = "Slip coat (invented)"
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

// The same with a second interfacing.
var edgeTwo = strings.NewReplacer("[thread.seam]", "[interfacing.more]\nkind = \"woven\"\nfixing = \"sewn\"\nthickness = \"0.1 mm\"\nwidth = 1500\n[thread.seam]",
	`"in", "shell"]`, `"in", "more", "shell"]`+"\nstand.strips = [{ name = \"more\" }]").Replace(edgeCoat)

// A jacket with a zip, chain 6 mm and tape 14, and snaps of 15 mm on a flap.
// inInches is a garment in millimetres as one in inches, its lengths as they are.
func inInches(garment string) string {
	garment = strings.Replace(garment, `units = "mm"`, `units = "in"`, 1)
	return regexp.MustCompile(`(?m)^((?:length|first|last|tape|chain|thickness|diameter|hole_gap|finished|facing|extension|seam|strip|width|inset|turn_under|topstitch|hem|band|post|post_width|grip|foot_lift|buttonhole_max)\s*= )([0-9.]+)$`).ReplaceAllString(garment, `$1"$2 mm"`)
}

const edgeZip = `garment = "Squall jacket (invented)"
units = "mm"
[cloth.shell]
use = "coated-nylon"
thickness = 0.3
[interfacing.stay]
use = "nonwoven-sewn-medium"
thickness = 0.2
[[closure]]
name = "zip"
opening = "front"
fastener = "zip"
over = ["shell", "shell"]
[closure.notion]
number = 5
chain = 6
tape = 14
opening = "separating"
[closure.run]
length = 600
[[closure]]
name = "snaps"
opening = "front"
fastener = "snap"
over = ["shell", "stay", "shell"]
[closure.notion]
diameter = 15
post = 4
post_width = 4
[closure.flap]
width = 60
inset = 30
[closure.run]
length = 600
first = 30
last = 90
count = 4
`

// A coat whose buttons draw its edge at 25 mm, and snaps of 44 mm beside them.
const edgeSecond = `garment = "Storm coat (invented)"
units = "mm"
[cloth.shell]
use = "melton"
thickness = 2
[[closure]]
name = "buttons"
opening = "front"
fastener = "button"
hole = "machine"
direction = "across"
over = ["shell", "shell"]
[closure.notion]
diameter = 20
thickness = 3
[closure.stand]
finished = 25
[closure.run]
length = 600
first = 30
last = 150
count = 4
[[closure]]
name = "snaps"
opening = "front"
fastener = "snap"
over = ["shell", "shell"]
[closure.notion]
diameter = 44
[closure.run]
length = 600
first = 70
last = 80
count = 2
`

// A front with one toggle and its cord.
const edgeToggle = `garment = "Duffel coat (invented)"
units = "mm"
[cloth.shell]
use = "melton-heavy"
thickness = 2.6
[interfacing.canvas]
use = "hair-canvas"
thickness = 0.6
[[closure]]
name = "toggles"
fastener = "toggle"
cord = 5
inset = 70
over = ["shell", "canvas", "shell"]
[closure.notion]
length = 60
width = 16
thickness = 14
short_end = 29
[closure.stand]
construction = "faced"
finished = 40
[closure.run]
length = 700
first = 100
last = 210
count = 4
`

// A child's gilet with a cord.
const edgeChild = `garment = "Child's gilet (invented)"
units = "mm"
wearer = "child"
market = "us"
age = 5
[cloth.shell]
use = "melton"
thickness = "1 mm"
[interfacing.in]
use = "hair-canvas"
[[cord]]
name = "cord"
at = "waist"
free_end = 50
[[closure]]
name = "front"
fastener = "button"
over = ["shell", "in", "shell"]
[closure.notion]
diameter = 24
thickness = 4
[closure.run]
length = 400
count = 4
`

const across, along = "direction = \"across\"", "direction = \"along\""

// A threshold of a rule, the figure that its source has, and a garment just
// inside and just outside it: keys and values in the place of what the base
// has, with @ for the value that moves. A finding of that severity comes out
// there and not in. Where the two differ in nothing but a hundredth of a
// millimetre the sums are plain addition, and said.
type edge struct {
	rule, limit string
	is          float64 // as the source has it: mm, g/m², N, years
	base, with  string
	in, out     string
	sev         Severity
}

var edges = []edge{
	// 2 × 1.75 + 0.5 = 4. From memory.
	{"stack-bulky", "foot", 4, edgeCoat, "cloth.shell.thickness=@ mm", "1.75", "1.76", Caution},

	// 28 + 3.175 and 2 × 1.25 + 0.5 = 3. Extension Bulletin 576, 1965; 3 mm is ours.
	{"hole-tight", "bulk ease", 3.175, edgeCoat, "cloth.shell.thickness=2 mm|closure.front.hole_length=@ mm", "31.175", "31.17", Caution},
	{"hole-tight", "bulky", 3, edgeCoat, "cloth.shell.thickness=@ mm|closure.front.hole_length=28 mm", "1.25", "1.26", Caution},
	// The Vogue Sewing Book, 1970.
	{"hole-tight", "shank ease", 3.175, edgeCoat, "closure.front.notion.shank=5 mm|closure.front.hole_length=@ mm", "31.175", "31.17", Caution},
	// 28 + 6.35, and 3.175 more for a shank: comparison of printed rules.
	{"hole-long", "slip", 6.35, edgeCoat, "closure.front.hole_length=@ mm", "34.35", "34.36", Caution},
	{"hole-long", "shank ease", 3.175, edgeCoat, "closure.front.notion.shank=5 mm|closure.front.hole_length=@ mm", "37.525", "37.53", Caution},
	// 24 + 4, counted as diameter and thickness: household machine manual.
	{"hole-machine", "longest", 28, edgeCoat, "machine.buttonhole_max=|closure.front.notion.thickness=@ mm", "4", "4.01", Caution},
	// 6.35 + 3.175: Watson 1907 and Extension Bulletin 576.
	{"hole-edge", "edge", 6.35, edgeCoat, across + "|closure.front.stand.finished=@ mm", "9.525", "9.52", Caution},
	{"hole-edge", "beyond", 3.175, edgeCoat, across + "|closure.front.stand.finished=@ mm", "9.525", "9.52", Caution},

	// 12 + 3, 12 + 6.35; 3/4 of 40 is more than 20 + 6.35.
	{"stand-narrow", "rim", 3, edgeCoat, "closure.front.stand.finished=@ mm", "15", "14.99", Conflict},
	// A stand is half a band, of whatever make.
	{"stand-narrow", "rim", 3, edgeCoat, "closure.front.stand.construction=band|closure.front.stand.band=@ mm", "30", "29.98", Conflict},
	{"stand-narrow", "rim", 3, edgeCoat, "closure.front.stand.construction=folded|closure.front.stand.band=@ mm", "30", "29.98", Conflict},
	{"stand-narrow", "rim", 3, edgeCoat, "closure.front.stand.construction=faced|closure.front.stand.band=@ mm", "30", "29.98", Conflict},
	{"stand-narrow", "usual rim", 6.35, edgeCoat, "closure.front.stand.finished=@ mm", "18.35", "18.34", Caution},
	{"stand-narrow", "usual share", 0.75, edgeCoat, "closure.front.notion.diameter=40 mm|closure.front.stand.finished=@ mm", "30", "29.99", Caution},
	// Twice 28 − 3.175 + 6.35.
	{"band-hole", "past", 6.35, edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.stand.construction=band|closure.front.stand.band=@ mm", "62.35", "62.34", Caution},
	{"band-hole", "beyond", 3.175, edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.stand.construction=folded|closure.front.stand.band=@ mm", "62.35", "62.34", Caution},
	// 28 − 3.175; + 6.35; 60 + 12 + 10.
	{"facing-short", "beyond", 3.175, edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|closure.front.stand.facing=@ mm", "24.825", "24.82", Conflict},
	{"facing-short", "past", 6.35, edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|closure.front.stand.facing=@ mm", "31.175", "31.17", Caution},
	{"facing-short", "inner", 10, edgeCoat, "closure.front.lap=double|closure.front.rows.distance=60 mm|closure.front.stand.finished=90 mm|closure.front.stand.facing=@ mm", "82", "81.99", Caution},
	// 24 + 28 − 3.175 + 6.35; + 12.7; 30 + 60 + 82.
	{"strip-narrow", "past", 6.35, edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|closure.front.stand.strip=@ mm", "55.175", "55.17", Conflict},
	{"strip-narrow", "usual past", 12.7, edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|closure.front.stand.strip=@ mm", "61.525", "61.52", Caution},
	{"strip-narrow", "inner", 10, edgeCoat, "closure.front.lap=double|closure.front.rows.distance=60 mm|closure.front.stand.finished=90 mm|closure.front.stand.strip=@ mm", "172", "171.99", Caution},
	{"strip-second", "past", 6.35, edgeTwo, across + "|closure.front.hole_length=28 mm|closure.front.stand.finished=24 mm|closure.front.stand.strips.more.width=@ mm", "55.175", "55.17", Caution},

	// 2 × 1.775 + 0.9 × 0.5 = 4: one size above 90, the thin end of heavy cloth.
	{"needle-cloth", "thick", 4, edgeCoat, "closure.front.needle=90/14|cloth.shell.thickness=@ mm", "1.775", "1.78", Caution},
	// 0.0392 √Tex over a blade of 1 mm; as far as three places tell.
	{"needle-thread", "thin", 0.235, edgeCoat, "closure.front.needle=100/16|thread.seam.tex=@", "Tex 36", "Tex 35.6", Caution},
	{"needle-thread", "groove", 0.4, edgeCoat, "closure.front.needle=100/16|thread.seam.tex=@", "Tex 104", "Tex 104.5", Caution},
	{"needle-thread", "off", 5, edgeCoat, "closure.front.needle=100/16|thread.seam.tex=@", "Tex 114.5", "Tex 115.5", Conflict},

	// 2.5 + 6.35; 2.5 − 0.1; 2.5 + 3.175.
	{"shank-rigid", "slack", 6.35, edgeCoat, "closure.front.notion.shank=@ mm", "8.85", "8.86", Note},
	{"shank-thread", "wound", 0.1, edgeCoat, "closure.front.thread_shank=@ mm", "2.4", "2.39", Caution},
	{"shank-thread", "allowed", 3.175, edgeCoat, "closure.front.thread_shank=@ mm", "5.675", "5.68", Note},
	// Half of 24, a quarter off.
	{"backing-button", "half", 0.5, edgeCoat, "closure.front.backing=@ mm", "9", "8.9", Note},
	{"backing-button", "off", 0.25, edgeCoat, "closure.front.backing=@ mm", "15", "15.01", Note},
	{"backing-button", "heavy", 270, edgeCoat, "cloth.shell.weight=@ g/m2", "269", "270", Note},
	{"backing-button", "heavy coat", 300, edgeCoat, "cloth.shell.kind=melton|cloth.shell.weight=@ g/m2", "299", "300", Note},
	// Thread maker's bulletin: cycles of 8, 16 and 32.
	{"button-stitches", "few", 8, edgeCoat, "cloth.shell.weight=100 g/m2|closure.front.notion.holes=2|closure.front.button_stitches=@", "8", "7", Caution},
	{"button-stitches", "usual", 16, edgeCoat, "closure.front.button_stitches=@", "16", "15", Caution},
	{"button-stitches", "many", 32, edgeCoat, "cloth.shell.weight=400 g/m2|closure.front.button_stitches=@", "32", "31", Caution},

	// Trade pattern maker: 1/2 in. 1 in, and D + 1/4 in, are also printed.
	{"first-high", "end", 12.7, edgeCoat, "closure.front.notion.diameter=20 mm|closure.front.run.first=@ mm", "12.7", "12.69", Caution},
	{"first-high", "low", 25.4, edgeCoat, "closure.front.notion.diameter=15 mm|closure.front.run.first=@ mm", "25.4", "25.41", Note},
	{"first-high", "below neck", 6.35, edgeCoat, "units=in|closure.front.run.length=24 in|machine.foot_lift=12 mm|machine.buttonhole_max=60 mm|interfacing.in.width=60 in|closure.front.notion.diameter=1 in|closure.front.notion.thickness=4 mm|closure.front.run.first=@ in", "1.25", "1.26", Note},
	{"last-low", "end", 12.7, edgeCoat, "closure.front.notion.diameter=20 mm|" + across + "|closure.front.run.last=@ mm", "12.7", "12.69", Conflict},
	// A rivet of 10 mm: 5 + 3, Sew Today, 2019.
	{"first-high", "rim", 3, edgeCoat, hardware("rivet", `diameter=10,post=5`) + "|closure.front.run.first=@ mm", "8", "7.99", Caution},
	{"last-low", "rim", 3, edgeCoat, hardware("rivet", `diameter=10,post=5`) + "|closure.front.run.last=@ mm", "8", "7.99", Caution},
	// 40 + 28 − 3.175 + 1.5875 + 9.525, from memory.
	{"last-low", "turn-up", 9.525, edgeCoat, along + "|closure.front.hole_length=28 mm|closure.front.run.hem=40 mm|closure.front.run.last=@ mm", "75.9375", "75.93", Caution},
	// 1.5 × 60 = 90: R. Carr, Couture, as quoted.
	{"last-low", "gaps", 1.5, edgeCoat, across + "|hem_at=knee|closure.front.run.step=0.1 mm|closure.front.run.length=420 mm|closure.front.run.count=6|closure.front.run.first=30 mm|closure.front.run.last=@ mm", "90", "89.9", Note},
	{"last-low", "leg room", 101.6, inInches(edgeCoat), across + "|hem_at=knee|closure.front.run.count=4|closure.front.run.first=30 mm|closure.front.run.last=@ mm", "101.6", "101.5", Note},
	// An anchor at 151.5 leaves gaps of 121.5 and 118.5. Ours.
	{"gaps-uneven", "spread mm", 3, edgeCoat, "closure.front.run.step=0.1 mm|closure.front.run.length=300 mm|closure.front.run.count=3|closure.front.run.first=30 mm|closure.front.run.last=30 mm|closure.front.run.anchor=[{name=\"bust\",at=@,within=0}]", "151.5", "151.6", Note},
	{"gaps-uneven", "steps", 2, edgeCoat, "closure.front.run.step=5 mm|closure.front.run.length=300 mm|closure.front.run.count=3|closure.front.run.first=30 mm|closure.front.run.last=30 mm|closure.front.run.anchor=[{name=\"bust\",at=@,within=0}]", "155", "160", Note},
	{"gaps-uneven", "spread", 3.175, edgeCoat, "units=in|machine.foot_lift=12 mm|machine.buttonhole_max=60 mm|interfacing.in.width=60 in|closure.front.notion.diameter=24 mm|closure.front.notion.thickness=4 mm|closure.front.run.step=0.005 in|closure.front.run.length=12 in|closure.front.run.count=3|closure.front.run.first=1 in|closure.front.run.last=1 in|closure.front.run.anchor=[{name=\"bust\",at=@,within=0}]", "6.06", "6.065", Note},
	// Half of 2 in and of 10 in: uniforms of 1861.
	{"rows-distance", "near", 25.4, edgeCoat, "closure.front.lap=double|closure.front.rows.distance=@ mm", "25.4", "25.39", Caution},
	{"rows-distance", "far", 127, edgeCoat, "closure.front.lap=double|closure.front.rows.distance=@ mm", "127", "127.01", Caution},

	// 14 + 6.35 + 2; 7.5 + 3 + 3 + 3.175 is less.
	{"zip-clear", "stitching", 6.35, edgeZip, "closure.snaps.flap.inset=@ mm", "22.35", "22.34", Conflict},
	// A cap of 36: 18 + 3 + 3, and 3.175 more for a fold that is our own.
	{"zip-clear", "rim", 3, edgeZip, "closure.snaps.notion.diameter=36 mm|closure.snaps.flap.inset=@ mm", "24", "23.99", Conflict},
	// 3 + 6.35; + 3.175; 3 + 3.175 + 7.825 = 14.
	{"zip-seam", "stitching", 6.35, edgeZip, "closure.zip.notion.tape=@ mm", "9.36", "9.35", Conflict},
	{"zip-seam", "tape", 3.175, edgeZip, "closure.zip.notion.tape=@ mm", "12.525", "12.52", Caution},
	{"zip-seam", "fold", 3.175, edgeZip, "closure.zip.stand.seam=@ mm", "7.825", "7.82", Note},
	{"zip-stops", "top", 12.7, inInches(edgeZip), "closure.zip.run.last=@ mm", "587.29", "587.3", Caution},
	// 40, and half of 38.1 more.
	{"toggle-patch", "patch", 38.1, edgeToggle, "closure.toggles.inset=@ mm", "59.05", "59.04", Caution},
	// 7.5 + 3 + 3, and 3.175 more for a fold that is our own.
	{"flap-seam", "rim", 3, edgeZip, "closure.snaps.flap.inset=@ mm", "13.5", "13.49", Conflict},
	{"flap-seam", "fold", 3.175, edgeZip, "closure.snaps.flap.inset=@ mm", "16.675", "16.67", Caution},

	// Without a zip the flap is sewn on 1/4 in inside the line, and a hole with its
	// bar reaches 24.825 + 1.5875: 26.4125 + 3 − 6.35.
	{"flap-seam", "stitching", 6.35, edgeCoat, across + "|closure.front.hole_length=28 mm|closure.front.flap.width=60 mm|closure.front.flap.inset=@ mm", "23.0625", "23.06", Conflict},
	// 22 + 3, under an edge at 25.
	{"edge-shared", "rim", 3, edgeSecond, "closure.snaps.notion.diameter=@ mm", "44", "44.1", Conflict},
	// 3 × 1.18 + 0.45 = 3.99, with one ply of the allowances over the layers.
	{"place-needle", "thick", 4, edgeCoat, "closure.front.where=front|closure.front.stand.construction=faced|closure.front.stand.finished=30 mm|closure.front.needle=90/14|cloth.shell.thickness=@ mm", "1.18", "1.19", Caution},

	// 150 °C for wool: 5 over it, 10 below it. Two dots, ISO 3758.
	{"fuse-heat", "two", 150, edgeCoat, heatOf("wool = 100"), "139 C", "140 C", Caution},
	{"fuse-heat", "same", 5, edgeCoat, heatOf("wool = 100"), "154 C", "155 C", Conflict},
	{"fuse-heat", "margin", 10, edgeCoat, heatOf("wool = 100"), "139 C", "140 C", Caution},
	{"fuse-heat", "three", 200, edgeCoat, heatOf("cotton = 100"), "189 C", "190 C", Caution},
	{"fuse-heat", "one", 110, edgeCoat, heatOf("polyamide = 100"), "99 C", "100 C", Caution},
	{"fuse-heat", "blend", 70, edgeCoat, "interfacing.in.fixing=fusible|interfacing.in.fuse=160 C|cloth.shell.fibre=@", "{ wool = 69, cotton = 31 }", "{ wool = 70, cotton = 30 }", Conflict},
	// 635 mm × 0.25 % and × 2 %.
	{"shrink-apart", "shows", 1.5875, edgeCoat, "closure.front.run.length=635 mm|cloth.shell.shrink=0|interfacing.in.shrink=@", "0.25", "0.26", Caution},
	// π × 1.5 = 4.712, less 1.5875.
	{"turn-cloth", "short", 1.5875, edgeCoat, "closure.front.where=flap|closure.front.turn=@ mm", "3.125", "3.124", Caution},
	{"block-ease", "thin", 135, edgeCoat, "block=medium|cloth.shell.weight=@ g/m2", "135", "134", Note},
	{"block-ease", "heavy", 400, edgeCoat, "block=medium|cloth.shell.weight=@ g/m2", "399", "400", Note},
	{"block-ease", "heavy coat", 500, edgeCoat, "block=medium|cloth.shell.kind=melton|cloth.shell.weight=@ g/m2", "499", "500", Note},
	{"care-limit", "woolly", 50, edgeCoat, "care=wash-40|cloth.shell.fibre=@", "{ wool = 49, cotton = 51 }", "{ wool = 50, cotton = 50 }", Caution},

	// Over two layers of 1 mm that do not give: 2 + 0.5 × 4 and 2 + 0.7 × 4 (three
	// rivet makers); 1.1 × 2 + 1.3 × 4 (one); 2 + 3.175 (a bag-trade guide); 2 and
	// 7 mm, 1.5 and 2 mm, 2.5 and 4 mm more from memory.
	{"hardware-post", "hollow least", 50, edgeCoat, hardware("rivet", `diameter=9,kind="semi-tubular",post_width=4,post=@`), "4", "3.99", Caution},
	{"hardware-post", "hollow most", 70, edgeCoat, hardware("rivet", `diameter=9,kind="semi-tubular",post_width=4,post=@`), "4.8", "4.81", Caution},
	{"hardware-post", "solid stack", 1.1, edgeCoat, hardware("rivet", `diameter=9,kind="solid",post_width=4,post=@`), "7.4", "7.41", Caution},
	{"hardware-post", "solid width", 1.3, edgeCoat, hardware("rivet", `diameter=9,kind="solid",post_width=4,post=@`), "7.4", "7.41", Caution},
	{"hardware-post", "cap", 3.175, edgeCoat, hardware("rivet", `diameter=9,kind="double-cap",post_width=4,post=@`), "5.175", "5.18", Caution},
	{"hardware-post", "nail least", 2, edgeCoat, hardware("tack-button", `diameter=17,post=@`), "4", "3.99", Caution},
	{"hardware-post", "nail most", 7, edgeCoat, hardware("tack-button", `diameter=17,post=@`), "9", "9.01", Caution},
	{"hardware-post", "prong least", 1.5, edgeCoat, hardware("snap", `diameter=15,attach="prong",post=@`), "3.5", "3.49", Caution},
	{"hardware-post", "prong most", 2, edgeCoat, hardware("snap", `diameter=15,attach="prong",post=@`), "4", "4.01", Caution},
	{"hardware-post", "post least", 2.5, edgeCoat, hardware("snap", `diameter=15,attach="post",post=@`), "4.5", "4.49", Caution},
	{"hardware-post", "post most", 4, edgeCoat, hardware("snap", `diameter=15,attach="post",post=@`), "6", "6.01", Caution},
	// A fastener maker: 0.010 to 0.015 in over the shank of 4 mm. Half of it is ours.
	{"hardware-hole", "rigid least", 0.254, edgeCoat, hardware("rivet", `diameter=9,kind="solid",post_width=4,post=6`) + "|closure.front.into=rigid|closure.front.punch=@ mm", "4.254", "4.25", Caution},
	{"hardware-hole", "rigid most", 0.381, edgeCoat, hardware("rivet", `diameter=9,kind="solid",post_width=4,post=6`) + "|closure.front.into=rigid|closure.front.punch=@ mm", "4.381", "4.39", Caution},
	{"hardware-hole", "punch", 0.5, edgeCoat, hardware("rivet", `diameter=9,kind="solid",post_width=4,post=6`) + "|closure.front.punch=@ mm", "2", "1.99", Caution},
	// 7.5 + 3: Sew Today, 2019.
	{"edge-near", "rim", 3, edgeCoat, hardware("snap", `diameter=15,post=5`) + "|closure.front.edge=@ mm", "10.5", "10.49", Caution},
	{"hardware-layers", "layers", 2, edgeCoat, hardware("snap", `diameter=15,post=5`) + "|closure.front.over=[@]", `"shell","shell"`, `"shell"`, Caution},
	{"hardware-layers", "spur", 3, edgeCoat, hardware("eyelet", `inside=6,kind="spur"`) + "|closure.front.over=[@]", `"shell","shell","shell"`, `"shell","shell"`, Caution},
	{"hardware-layers", "heavy", 270, edgeCoat, hardware("snap", `diameter=15,post=5`) + underBare + "|cloth.shell.weight=@ g/m2", "270", "269", Caution},
	{"hardware-layers", "heavy coat", 300, edgeCoat, hardware("snap", `diameter=15,post=5`) + underBare + "|cloth.shell.kind=melton|cloth.shell.weight=@ g/m2", "300", "299", Caution},
	{"hardware-step", "step", 0.5, edgeCoat, hardware("snap", `diameter=15,post=5`) + "|closure.front.thickness_step=@ mm", "0.5", "0.51", Caution},
	// Sewing notes: 7 to 14 mm in general.
	{"snap-sewn-size", "big", 14, edgeCoat, hardware("snap", `diameter=@,attach="sewn"`) + "|cloth.shell.weight=200 g/m2", "14", "14.01", Caution},
	{"eyelet-cord", "play", 0.5, edgeCoat, hardware("eyelet", `inside=6`) + "|closure.front.cord=@ mm", "5.5", "5.51", Caution},
	// MIL-B-286D: 60 lb, 266.89 N, told to a tenth.
	{"tack-pull", "pull", 266.8933, edgeCoat, hardware("tack-button", `diameter=17,post=6,pull=@`), "266.8", "266.7", Note},

	// A costume maker's pages; 590 − 6.35; 5 + 1.5 (two trade sources).
	{"zip-top", "least", 6.35, edgeZip, "closure.zip.run.first=@ mm", "6.35", "6.34", Caution},
	{"zip-length", "short", 6.35, edgeZip, "closure.zip.run.first=10 mm|closure.zip.zip_length=@ mm", "583.65", "583.64", Conflict},
	{"zip-opening", "run", 203.2, edgeZip, "closure.snaps.opening=|closure.zip.notion.opening=closed|closure.zip.run.length=@ mm", "203.2", "203.3", Caution},
	{"zip-number", "over", 1.5, edgeZip, "closure.zip.notion.chain=@ mm", "6.5", "6.51", Caution},
	{"zip-number", "made", 25, edgeZip, "closure.zip.notion.chain=|closure.zip.notion.number=@", "25", "26", Caution},
	// 3 + 6.35, and 14 + 3.175, ours.
	{"zip-fly", "past teeth", 6.35, edgeZip, "closure.zip.notion.tape=6 mm|closure.snaps.flap.inset=|closure.snaps.flap.width=@ mm", "9.35", "9.34", Caution},
	{"zip-fly", "past tape", 3.175, edgeZip, "closure.snaps.flap.inset=|closure.snaps.flap.width=@ mm", "17.175", "17.17", Caution},

	// Round a button of 24 and 4 mm it is 56 mm; of 10 and 4 mm, 28. Ours.
	{"loop-length", "ease", 3.175, edgeCoat, "closure.front.hole=loop|closure.front.lap=edge|closure.front.loop=@ mm", "59.175", "59.17", Caution},
	{"loop-length", "slack share", 0.25, edgeCoat, "closure.front.hole=loop|closure.front.lap=edge|closure.front.loop=@ mm", "70", "70.01", Caution},
	{"loop-length", "slack", 12.7, edgeCoat, "closure.front.notion.diameter=10 mm|closure.front.hole=loop|closure.front.lap=edge|closure.front.loop=@ mm", "40.7", "40.71", Caution},
	// From memory.
	{"loop-cord", "thin", 3, edgeToggle, "closure.toggles.cord=@ mm", "3", "2.99", Caution},
	{"loop-cord", "thick", 6, edgeToggle, "closure.toggles.cord=@ mm", "6", "6.01", Caution},
	// 1/8 in by an extension guide, 1/4 by an older book; half a millimetre either way.
	{"hook-edge", "least", 3.175, edgeCoat, hardware("hook", `length=10,width=6,kind="hook-and-eye"`) + "|closure.front.edge=@ mm", "2.675", "2.67", Caution},
	{"hook-edge", "old", 6.35, edgeCoat, hardware("hook", `length=10,width=6,kind="hook-and-eye"`) + "|closure.front.edge=@ mm", "6.85", "6.86", Caution},
	{"hook-edge", "slip", 0.5, edgeCoat, hardware("hook", `length=10,width=6,kind="hook-and-eye"`) + "|closure.front.edge=@ mm", "2.675", "2.67", Caution},
	{"hook-size", "long", 12, edgeCoat, hardware("hook", `length=@,width=6,kind="hook-and-eye"`) + "|cloth.shell.weight=100 g/m2", "12", "12.01", Caution},
	{"hook-size", "short", 9, edgeCoat, hardware("hook", `length=@,width=6,kind="hook-and-eye"`), "9", "8.99", Caution},
	{"hook-tape", "slip", 1, edgeCoat, hardware("hook", `length=10,width=6,kind="hook-and-eye",pitch=17,eye_pitch=@`), "17.33", "17.34", Conflict},

	// Within 1/16 in, ours.
	{"plaid-phase", "within", 1.5875, edgeCoat, "cloth.shell.repeat.across=80 mm|closure.front.check.under=10 mm|closure.front.check.over=@ mm", "11.5875", "11.59", Conflict},
	{"plaid-level", "within", 1.5875, edgeCoat, "cloth.shell.repeat.along=80 mm|closure.front.check.under_along=10 mm|closure.front.check.over_along=@ mm", "11.5875", "11.59", Conflict},

	// 16 CFR 1120 and ASTM F1816-97; EN 14682 and its edition of 2007.
	{"safety-cord-top", "top size", 12, edgeChild, "cord.cord.at=hood|age=@", "13", "12", Conflict},
	{"safety-cord-top", "young", 7, edgeChild, "market=eu|cord.cord.at=hood|age=@", "8", "7", Conflict},
	{"safety-cord-top", "height", 134, edgeChild, "market=eu|cord.cord.at=hood|height=@ cm", "134.1", "134", Conflict},
	{"safety-cord-top", "oldest", 14, edgeChild, "market=eu|cord.cord.at=hood|age=@", "15", "14", Caution},
	{"safety-cord-top", "loop", 150, edgeChild, "market=eu|age=9|cord.cord.at=hood|cord.cord.free_end=0|cord.cord.loop=@ mm", "150", "150.1", Caution},
	{"safety-cord-low", "us end", 76.2, edgeChild, "cord.cord.free_end=@ mm", "76.2", "76.3", Caution},
	{"safety-cord-low", "eu end", 140, edgeChild, "market=eu|cord.cord.free_end=@ mm", "140", "140.1", Caution},
	{"safety-cord-low", "eu drawn in", 280, edgeChild, "market=eu|cord.cord.at=waist|cord.cord.drawn_in=@ mm", "280", "280.1", Caution},
	{"safety-cord-low", "low size", 16, edgeChild, "cord.cord.free_end=100 mm|age=@", "17", "16", Caution},
	// 16 CFR 1501.4; a disc of 31.75 mm is gauged.
	{"safety-small", "bore", 31.75, edgeChild, "closure.front.notion.diameter=@ mm", "31.8", "31.75", Note},
	{"safety-small", "infant", 3, edgeChild, "age=@", "3", "2", Caution},
	// 10 lbf is 44.48 N, 15 lbf 66.72 N.
	{"safety-pull", "us first", 44.4822, edgeChild, "age=1|closure.front.notion.pull=@", "44.49", "44.48", Caution},
	{"safety-pull", "us later", 66.7233, edgeChild, "age=2|closure.front.notion.pull=@", "66.73", "66.72", Caution},
	{"safety-pull", "third", 96, edgeChild, "age=@|closure.front.notion.pull=1", "9", "8", Caution},
	{"safety-pull", "first", 18, edgeChild, "age=@|closure.front.notion.pull=50", "1.5", "1.6", Caution},
	// CEN/TS 17394-1:2021 to 36 months, EN 71-1 above: 70 N and 90 N.
	{"safety-pull", "clothing", 36, edgeChild, "market=eu|age=@|closure.front.notion.pull=80", "3", "3.1", Caution},
	{"safety-pull", "eu large", 70, edgeChild, "market=eu|age=2|closure.front.notion.pull=@", "70", "69.9", Caution},
	{"safety-pull", "eu small", 50, edgeChild, "market=eu|age=2|closure.front.notion.diameter=5.9 mm|closure.front.notion.pull=@", "50", "49.9", Caution},
	{"safety-pull", "small", 6, edgeChild, "market=eu|age=2|closure.front.notion.pull=60|closure.front.notion.diameter=@ mm", "5.99", "6", Caution},
	{"safety-pull", "toy large", 90, edgeChild, "market=eu|age=5|closure.front.notion.pull=@", "90", "89.9", Caution},
	{"safety-pull", "toy small", 50, edgeChild, "market=eu|age=5|closure.front.notion.diameter=6 mm|closure.front.notion.pull=@", "50", "49.9", Caution},
	// REACH annex XVII, entry 27; 16 CFR 1303 and the CPSC's guidance.
	{"safety-nickel", "skin", 0.5, edgeChild, "market=eu|closure.front.notion.material=brass|closure.front.notion.nickel=@", "0.5", "0.51", Caution},
	{"safety-lead", "metal", 100, edgeChild, "closure.front.notion.material=brass|closure.front.notion.lead=@", "100", "101", Caution},
	{"safety-lead", "paint", 90, edgeChild, "closure.front.notion.coating=painted|closure.front.notion.lead=@", "90", "91", Caution},
	{"safety-lead", "age", 12, edgeChild, "closure.front.notion.lead=200|age=@", "13", "12", Caution},
	{"safety-magnet", "flux", 50, edgeChild, "closure.front.notion.magnet=true|closure.front.notion.flux=@", "49.9", "50", Caution},
	{"safety-sharp", "age", 8, edgeChild, "closure.front.notion.point_sharp=true|age=@", "8", "7.9", Caution},
	// 16 CFR 1615: two pieces of 40 cm, one of 64.8 cm, to 9 months.
	{"safety-sleepwear", "one", 648, edgeChild, "sleepwear.months=9|sleepwear.length=@ mm", "648", "648.1", Caution},
	{"safety-sleepwear", "two", 400, edgeChild, "sleepwear.months=9|sleepwear.parts=2|sleepwear.length=@ mm", "400", "400.1", Caution},
	{"safety-sleepwear", "months", 9, edgeChild, "sleepwear.length=600 mm|sleepwear.months=@", "9", "10", Caution},
	// 4/5 of 12 mm: 2 × 4.55 + 0.5.
	{"work-needle", "near", 0.8, edgeCoat, "cloth.shell.thickness=@ mm", "4.55", "4.56", Note},
}

// hardware is another fastener set through two layers of the shell.
func hardware(kind, figures string) string {
	return `closure.front.over=["shell","shell"]|closure.front.fastener=` + kind + "|closure.front.notion={" + figures + "}"
}

// underBare leaves interfacing out on the side beneath alone.
const underBare = `|closure.front.over=["shell","in","shell"]|closure.front.under=["shell","shell"]`

func heatOf(fibre string) string {
	return "interfacing.in.fixing=fusible|cloth.shell.fibre={ " + fibre + " }|interfacing.in.fuse=@"
}

// edgeGarment is a base with keys set.
func edgeGarment(base, with, value string) (*catalog.Garment, error) {
	g, err := catalog.Read("coat.toml", []byte(base), catalog.Options{})
	if err != nil {
		return nil, err
	}
	var all []catalog.With
	for _, w := range strings.Split(strings.ReplaceAll(with, "@", value), "|") {
		if strings.HasPrefix(w, "direction") {
			w = "closure.front." + strings.NewReplacer(" ", "", `"`, "").Replace(w)
		}
		one, err := catalog.ParseWith(w)
		if err != nil {
			return nil, err
		}
		all = append(all, one)
	}
	return g.Alter(all...)
}

// says are the findings of a rule with a severity.
func says(g *catalog.Garment, rule string, sev Severity) (out []string) {
	p := Plan(g)
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Rule == rule && f.Severity == sev {
			out = append(out, f.Message())
		}
	}
	return out
}

// Every threshold is the figure that its source has, and the finding comes
// just outside it and not just inside.
func TestJustInsideAndJustOutside(t *testing.T) {
	for _, e := range edges {
		name := fmt.Sprintf("%s, %s", e.rule, e.limit)
		r := Find(e.rule)
		if r == nil {
			t.Errorf("%s: no such rule", name)
			continue
		}
		known := false
		for _, l := range r.Limits {
			if l.Name == e.limit {
				known = true
				if d := l.Figure - e.is; d > 1e-3 || d < -1e-3 {
					t.Errorf("%s: it is %v, its source has %v", name, l.Figure, e.is)
				}
			}
		}
		if !known {
			t.Errorf("%s: the rule has no such threshold", name)
		}
		for _, at := range []struct {
			value string
			out   bool
		}{{e.in, false}, {e.out, true}} {
			g, err := edgeGarment(e.base, e.with, at.value)
			if err != nil {
				t.Errorf("%s at %s: %v", name, at.value, err)
				continue
			}
			if got := says(g, e.rule, e.sev); (len(got) > 0) != at.out {
				t.Errorf("%s at %s: want a %s: %v, got %q", name, at.value, e.sev, at.out, got)
			}
		}
	}
}

// told are the thresholds that a rule only tells, or that are tried elsewhere.
var told = map[string]string{
	"needle-cloth ranges": "TestBandsOfClasses", "needle-cloth classes": "TestBoundsOfClasses", "needle-cloth charted": "TestExplainNeedleAgrees",
	"thread-cloth threads": "TestBandsOfClasses", "stitch-length stitches": "TestBandsOfClasses", "button-thread threads": "TestBandsOfClasses",
	"zip-top top": "zip-stops, top", "zip-group groups": "TestPublishedZipGroups", "zip-use numbers": "TestNumbersForCloth", "zip-use front": "TestNumbersForCloth",
	"zip-tape stitching": "TestToldFigures", "zip-tape fold": "TestToldFigures", "zip-tape seam": "only told: a usual allowance",
	"fly-front stitched": "TestToldFigures", "fly-hole stitched": "TestToldFigures",
	"rows-distance low": "TestToldFigures", "rows-distance high": "TestToldFigures",
	"toggle-patch near": "TestToldFigures", "toggle-patch far": "TestToldFigures",
	"block-ease thin ease": "TestPublishedBlockEase", "block-ease heavy ease": "TestPublishedBlockEase",
	"seam-seal tape": "TestToldFigures", "seam-seal melts": "only told: try it on a scrap",
	"care-limit washes":    "TestToldFigures",
	"strip-second stagger": "TestSecondStrip", "strip-second stagger mm": "TestSecondStrip",
	"ends-moved marks": "TestDefaultsGiveWay", "ends-moved farthest": "TestDefaultsGiveWay",
	"fuse-heat coolest": "TestFuseRangeUnknown", "fuse-heat hottest": "TestFuseRangeUnknown",
	"press-setting bulk": "TestPressSettings", "press-setting one": "TestPressSettings", "press-setting three": "TestPressSettings",
	"place-thick over":           "TestGradedOver",
	"safety-cord-top least size": "TestPublishedCords", "safety-cord-top unknown": "TestCordOfAnUnknownAge", "safety-cord-low least size": "TestPublishedCords",
	"safety-small shallow": "TestSmallPartsCylinder", "safety-small deep": "TestSmallPartsCylinder", "safety-small rod": "TestSmallPartsCylinder",
	"safety-nickel post": "TestPublishedNickel", "safety-nickel wear": "only told: a maker's report says it",
	"within-tolerance ruler": "search: TestMeasurings", "within-tolerance folded": "search: TestMeasurings",
	"within-tolerance jaws": "search: TestMeasurings", "within-tolerance between": "search: TestMeasurings",
	"within-tolerance plans": "search: a budget",
}

// What a rule only tells is the figure of its source.
func TestToldFigures(t *testing.T) {
	for _, c := range []struct {
		rule, base, with string
		sev              Severity
		want             string
	}{
		// Butterick's text on coats and jackets: 1/4 in.
		{"fly-front", edgeCoat, "closure.front.stand.construction=fly|closure.front.stand.finished=30 mm", Note, "6.4 mm (1/4 in) from the front edge"},
		{"fly-hole", edgeCoat, across + "|closure.front.stand.construction=fly|closure.front.stand.finished=11 mm", Caution, "6.4 mm (1/4 in) from the edge"},
		// Trade article: column 6 to 8 cm from the centre.
		{"rows-distance", edgeCoat, "closure.front.lap=double", Conflict, "60 to 80 mm"},
		// From memory: 5 to 8 cm.
		{"toggle-patch", edgeToggle, "closure.toggles.inset=", Note, "50 to 80 mm"},
		// Police uniform specification, 2019: 7/8 in.
		{"seam-seal", edgeZip, "care=wash-40", Note, "22 mm (7/8 in) wide"},
		// US Army TM 10-8400-203-23, p. 79: 1/4 in beyond half the chain; 1/8 in is ours.
		{"zip-tape", edgeZip, "closure.zip.stand.seam=16 mm", Note, "the fold lies 3.2 mm (1/8 in) from the teeth, and stitch 6.4 mm (1/4 in) from them"},
		// Clothing-technology page: 60 °C.
		{"care-limit", edgeCoat, "care=wash-40|interfacing.in.fixing=fusible|interfacing.in.resin=polyamide", Caution, "60 °C"},
	} {
		g, err := edgeGarment(c.base, c.with, "")
		if err != nil {
			t.Errorf("%s: %v", c.rule, err)
			continue
		}
		if got := strings.Join(says(g, c.rule, c.sev), "\n"); !strings.Contains(got, c.want) {
			t.Errorf("%s: want %q in %q", c.rule, c.want, got)
		}
	}
}

// Pressed, trimmed and graded, 3 × 1 + 0.45 mm: a tenth of a millimetre over the
// foot's lift is let pass, ours.
func TestGradedOver(t *testing.T) {
	for lift, byHand := range map[string]bool{"3.35 mm": false, "3.34 mm": true} {
		g, err := edgeGarment(edgeCoat, "closure.front.where=front|closure.front.stand.construction=faced|closure.front.stand.finished=30 mm|machine.foot_lift=@", lift)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(says(g, "place-thick", Caution), "\n"); got == "" || strings.Contains(got, "by hand") && !strings.Contains(got, "wheel by hand") != byHand {
			t.Errorf("%s: sewn by hand %v: %s", lift, byHand, got)
		}
	}
}

// Weights from memory, numbers by a pattern maker's guide and a zip maker: the
// classes are 1 to 4, 5 and 6, 7 and 8, 9 and more.
func TestNumbersForCloth(t *testing.T) {
	for _, c := range []struct {
		weight float64
		lo, hi float64
	}{{150, 1, 4}, {150.1, 5, 6}, {300, 5, 6}, {300.1, 5, 25}, {350, 5, 25}, {350.1, 7, 25}} {
		if lo, hi := plan.ZipNumbers(c.weight, false, false); lo != c.lo || hi != c.hi {
			t.Errorf("%g g/m²: %g to %g, want %g to %g", c.weight, lo, hi, c.lo, c.hi)
		}
	}
	if lo, hi := plan.ZipNumbers(500, true, false); lo != 7 || hi != 8 {
		t.Errorf("leather: %g to %g", lo, hi)
	}
	if lo, hi := plan.ZipNumbers(500, false, true); lo != 5 || hi != 25 {
		t.Errorf("a pocket: %g to %g", lo, hi)
	}
	for number, told := range map[string]bool{"6": false, "6.1": true} { // a light front
		p := Plan(trial.Read(t, strings.Replace(edgeZip, "number = 5\nchain = 6", "number = "+number+"\nchain = 6", 1)))
		if is := slices.ContainsFunc(p.Findings, func(f Finding) bool { return f.Rule == "zip-use" }); is != told {
			t.Errorf("number %s on a light front: told %v, want %v", number, is, told)
		}
	}
}

// All published fusing heats lie from 110 to 175 °C; where neither heat nor
// resin is known 120 to 165 °C is taken, ours.
func TestFuseRangeUnknown(t *testing.T) {
	if lo, hi := FuseRange(&catalog.Interfacing{}); lo != 120 || hi != 165 {
		t.Errorf("%v to %v", lo, hi)
	}
}

// An iron maker's manual: 70 % synthetic with 30 % cotton goes by the synthetic,
// one dot (110 °C, ISO 3758) and no steam, and so, ours, does one with half of it;
// from three dots up nothing is said.
func TestPressSettings(t *testing.T) {
	for _, c := range []struct {
		fibre string
		want  string // of the note, "" for none
		not   string
	}{
		{"{ polyamide = 70, cotton = 30 }", "110 °C (230 °F) at most (one dot), for its polyamide: no steam", ""},
		{"{ polyamide = 50, cotton = 50 }", "110 °C (230 °F) at most (one dot), for its polyamide: no steam", ""},
		{"{ polyamide = 49, cotton = 51 }", "with steam", "no steam"},
		{"{ wool = 100 }", "150 °C", "no steam"},
		{"{ cotton = 100 }", "", ""},
	} {
		g, err := edgeGarment(edgeCoat, "cloth.shell.fibre=@", c.fibre)
		if err != nil {
			t.Fatal(err)
		}
		got := strings.Join(says(g, "press-setting", Note), "\n")
		if !strings.Contains(got, c.want) || c.not != "" && strings.Contains(got, c.not) || (got == "") != (c.want == "") {
			t.Errorf("%s: %q", c.fibre, got)
		}
	}
}

// The bounds of the weight classes, g/m²: 4, 8 and 12 oz/yd² from memory;
// coat cloth by a menswear magazine's guide; denim 8 and 14 oz/yd² from memory.
func TestBoundsOfClasses(t *testing.T) {
	for _, c := range []struct {
		kind, below, from string
		at                float64
	}{
		{"suiting", "light", "medium", 135}, {"suiting", "medium", "heavy", 270}, {"suiting", "heavy", "very heavy", 400},
		{"melton", "light coating", "medium coating", 300}, {"melton", "medium coating", "heavy coating", 400},
		{"heavy-cotton", "light denim and duck", "denim and duck", 270}, {"heavy-cotton", "denim and duck", "heavy denim and duck", 475},
	} {
		for off, want := range map[float64]string{-0.1: c.below, 0: c.from} {
			g, err := edgeGarment(edgeCoat, "cloth.shell.kind="+c.kind+"|cloth.shell.weight=@ g/m2", fmt.Sprint(c.at+off))
			if err != nil {
				t.Fatal(err)
			}
			if got := Plan(g).Closures[0].Needle.Class; got != want {
				t.Errorf("%s of %g g/m²: %s, want %s", c.kind, c.at+off, got, want)
			}
		}
	}
}

// Just inside and just outside the bands of every class. Needle: common ground
// of twelve published charts and those named at the class. Thread: a sewing
// teachers' chart and an e-course (seam), a thread maker's bulletin (buttons).
// Stitch: a thread maker's table, 7 to 14 to the inch.
func TestBandsOfClasses(t *testing.T) {
	for _, c := range []struct {
		kind   string
		weight float64
		needle [2]int
		tex    [2]float64
		button [2]float64
		stitch [2]float64
	}{
		{"suiting", 100, [2]int{60, 80}, [2]float64{10, 30}, [2]float64{20, 27}, [2]float64{1.5, 2.5}},
		{"suiting", 200, [2]int{75, 90}, [2]float64{27, 40}, [2]float64{30, 45}, [2]float64{2, 3}},
		{"suiting", 300, [2]int{90, 110}, [2]float64{40, 90}, [2]float64{60, 80}, [2]float64{2.5, 3.65}},
		{"suiting", 500, [2]int{100, 120}, [2]float64{40, 100}, [2]float64{60, 90}, [2]float64{2.5, 4.25}},
		{"melton", 250, [2]int{75, 100}, [2]float64{27, 60}, [2]float64{30, 60}, [2]float64{2, 3.2}},
		{"melton", 350, [2]int{90, 110}, [2]float64{40, 90}, [2]float64{60, 80}, [2]float64{2.5, 3.65}},
		{"melton", 600, [2]int{90, 110}, [2]float64{40, 90}, [2]float64{60, 80}, [2]float64{2.5, 4}},
		{"heavy-cotton", 200, [2]int{75, 100}, [2]float64{27, 60}, [2]float64{30, 60}, [2]float64{2.5, 3.65}},
		{"heavy-cotton", 400, [2]int{90, 110}, [2]float64{40, 105}, [2]float64{60, 90}, [2]float64{2.5, 4}},
		{"heavy-cotton", 600, [2]int{90, 120}, [2]float64{40, 120}, [2]float64{60, 90}, [2]float64{2.5, 4.25}},
		{"corduroy", 300, [2]int{90, 100}, [2]float64{40, 90}, [2]float64{40, 80}, [2]float64{2, 3.2}},
		{"fleece", 300, [2]int{75, 90}, [2]float64{27, 60}, [2]float64{30, 60}, [2]float64{2.5, 4}},
		{"pile", 300, [2]int{90, 120}, [2]float64{40, 90}, [2]float64{40, 90}, [2]float64{2.5, 3.65}},
		{"leather", 300, [2]int{80, 100}, [2]float64{40, 90}, [2]float64{60, 90}, [2]float64{2.8, 4.25}},
		{"boiled-wool", 300, [2]int{80, 100}, [2]float64{30, 60}, [2]float64{40, 80}, [2]float64{2.5, 3.65}},
		{"waxed-cotton", 300, [2]int{90, 110}, [2]float64{40, 90}, [2]float64{60, 90}, [2]float64{2.5, 4}},
	} {
		try := func(rule, with string, silent bool) {
			t.Helper()
			g, err := edgeGarment(edgeCoat, fmt.Sprintf("machine.stitch_max=6 mm|cloth.shell.kind=%s|cloth.shell.weight=%g g/m2|", c.kind, c.weight)+with, "")
			if err != nil {
				t.Fatal(err)
			}
			got := append(says(g, rule, Caution), says(g, rule, Conflict)...)
			if (len(got) == 0) != silent {
				t.Errorf("%s of %g g/m², %s: %s silent: %v: %q", c.kind, c.weight, with, rule, silent, got)
			}
		}
		needle := func(n int, silent bool) {
			try("needle-cloth", fmt.Sprintf("closure.front.needle=%q", fmt.Sprint("NM ", n)), silent)
		}
		needle(c.needle[0], true)
		needle(c.needle[1], true)
		if below := plan.NeedleStep(measure.NeedleSize(c.needle[0]), -1); int(below) < c.needle[0] {
			needle(int(below), false)
		}
		needle(int(plan.NeedleStep(measure.NeedleSize(c.needle[1]), 1)), false)
		for _, e := range []struct {
			at     float64
			silent bool
		}{{0, true}, {-0.1, false}} {
			try("thread-cloth", fmt.Sprintf("closure.front.thread=seam|thread.seam.tex=Tex %g", c.tex[0]+e.at), e.silent)
			try("thread-cloth", fmt.Sprintf("closure.front.thread=seam|thread.seam.tex=Tex %g", c.tex[1]-e.at), e.silent)
			try("button-thread", fmt.Sprintf("closure.front.button_thread=seam|thread.seam.tex=Tex %g", c.button[0]+e.at), e.silent)
			try("button-thread", fmt.Sprintf("closure.front.button_thread=seam|thread.seam.tex=Tex %g", c.button[1]-e.at), e.silent)
			try("stitch-length", fmt.Sprintf("closure.front.stitch=%g mm", c.stitch[0]+e.at/10), e.silent)
			try("stitch-length", fmt.Sprintf("closure.front.stitch=%g mm", c.stitch[1]-e.at/10), e.silent)
		}
	}
}

// No threshold is left untried.
func TestEveryThresholdIsTried(t *testing.T) {
	tried := map[string]bool{}
	for _, e := range edges {
		tried[e.rule+" "+e.limit] = true
	}
	for _, r := range Rules() {
		for _, l := range r.Limits {
			if id := r.Name + " " + l.Name; !tried[id] && told[id] == "" {
				t.Errorf("%s, %s: no garment just inside and just outside it", id, l)
			}
			delete(told, r.Name+" "+l.Name)
		}
	}
	for id := range told {
		t.Errorf("%s: no such threshold", id)
	}
}

// A child of which neither age nor size is known counts as young: the stricter
// half of EN 14682 goes to 7 years, 16 CFR 1120 to size 12.
func TestCordOfAnUnknownAge(t *testing.T) {
	for _, market := range []string{"us", "eu"} {
		g, err := edgeGarment(edgeChild, "age=|cord.cord.at=hood|market=@", market)
		if err != nil {
			t.Fatal(err)
		}
		if len(says(g, "safety-cord-top", Conflict)) == 0 {
			t.Errorf("%s: a hood cord of a child of no age is let pass", market)
		}
	}
}

// No conflict rests on a threshold of our own or one from memory.
func TestThresholdsOfConflictsAreFirm(t *testing.T) {
	for _, e := range edges {
		if e.sev != Conflict {
			continue
		}
		for _, l := range Find(e.rule).Limits {
			if l.Name == e.limit && l.Ground.Weak() && !slices.Contains(Find(e.rule).Lenient, e.limit) {
				t.Errorf("%s: a conflict rests on %s, which is %s", e.rule, l.Called(measure.NoUnit), l.Ground)
			}
		}
	}
	for _, r := range Rules() {
		for _, name := range r.Lenient {
			if !slices.ContainsFunc(edges, func(e edge) bool { return e.rule == r.Name && e.limit == name && e.sev == Conflict }) ||
				!slices.ContainsFunc(r.Limits, func(l plan.Threshold) bool { return l.Name == name && l.Ground.Weak() }) {
				t.Errorf("%s: no conflict stops at %s", r.Name, name)
			}
		}
	}
}

// Behind a button so small that no smaller one is sold nothing is suggested.
func TestNoBackingBehindASmallButton(t *testing.T) {
	g, err := edgeGarment(edgeCoat, "closure.front.notion.diameter=@ mm", "6")
	if err != nil {
		t.Fatal(err)
	}
	if got := says(g, "backing-button", Note); len(got) > 0 {
		t.Errorf("%q", got)
	}
	if s := &Plan(g).Closures[0].Sewing; s.Suggested || s.Backing != 0 {
		t.Errorf("suggested %v, %v", s.Suggested, s.Backing)
	}
}
