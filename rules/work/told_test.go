package work

import (
	"strings"
	"testing"
)

const flapped = `garment = "Slip parka (invented)"
units = "mm"
hem_at = "hip"
[cloth.shell]
use = "%"
[interfacing.snap]
use = "nonwoven-sewn-medium"
[[closure]]
name = "zip"
where = "front"
use = "moulded-5-two-way"
opening = "front"
over = ["shell", "shell"]
[closure.run]
length = 500
[[closure]]
name = "flap"
where = "front"
opening = "front"
use = "ring-spring-15"
over = ["shell", "snap", "shell"]
under = ["shell", "snap", "shell"]
[closure.flap]
width = 70
inset = 50
[closure.stand]
topstitch = 5
strip = 70
[closure.run]
length = 500
count = 5
`

// A flap of two layers is joined and turned before it is stitched and sewn on
// (order of the work, geometry).
func TestFlapIsJoined(t *testing.T) {
	text := strings.Replace(flapped, "%", "melton", 1)
	after(t, text, "joined, then top-stitched", "Join the layers of the flap, right sides together", "the edge of the flap and top-stitch it")
	after(t, text, "joined, then sewn on", "Join the layers of the flap, right sides together", "Lay the finished flap")
	told(t, list(written(t, text)), "beyond the line of the teeth, to the line of the teeth", true)
}

// What is quilted is not pressed down (sewing pages: steamed all over without
// pressing down).
func TestQuiltedEdgeIsNotPressed(t *testing.T) {
	quilted := strings.Replace(strings.Replace(of4(horn+"[closure.stand]\nconstruction = \"faced\"\nfacing = \"3 in\""), `use = "melton"`, `use = "quilted-wadding"`, 1), "thickness = \"2 mm\"\n", "", 1)
	done := list(written(t, quilted))
	told(t, done, "turn it and steam the edge from above, the iron held off it", true)
	told(t, done, "turn and press", false)
}

// A lapel is snapped to the front beneath it, and not to its own under side.
func TestLapelsFastenToTheFront(t *testing.T) {
	lapel := strings.NewReplacer(`name = "front"`, `name = "lapel"`, `where = "front"`, "where = \"collar\"\npieces = 2", "length = 24", "length = 3", "count = 4", "count = 1\nfirst = 1").
		Replace(of4("use = \"ring-spring-15\"\n[closure.stand]\nconstruction = \"faced\"\nfinished = \"1 in\""))
	done := list(written(t, lapel))
	told(t, done, "on the cloth beneath the lapel the snap studs", true)
	told(t, done, "under side of the lapel", false)
}

// The vent of a sleeve is cut with the sleeve: no patch on the body.
func TestVentOfACheckedSleeve(t *testing.T) {
	text := strings.NewReplacer("use = \"melton\"", "use = \"coating-check\"\nrepeat = { along = \"3 in\", across = \"2 in\", even = true }", "thickness = \"2 mm\"\n", "", `where = "front"`, "where = \"vent\"", "length = 24", "length = 6").
		Replace(of4(horn + "[closure.stand]\nconstruction = \"faced\"\nfinished = \"1 in\""))
	done := list(written(t, text))
	told(t, done, "on the body, lay its pattern there", false)
	told(t, done, "from the sleeve", true)
}

// A loop that is cut has one text, rounded up in both units, in the checklist
// and in its working: two seam allowances of 15 mm and 42 mm, 2 7/8 in.
func TestOneTextForALoop(t *testing.T) {
	p := written(t, `garment = "Slip jacket (invented)"
units = "mm"
[cloth.shell]
use = "quilting-cotton"
[[closure]]
name = "chin"
where = "tab"
use = "wood-24"
hole = "loop"
over = ["shell", "shell"]
[closure.run]
length = 30
count = 1
`)
	told(t, list(p), "from cord, 72 mm (2 7/8 in) with", true)
	for _, step := range Working(p, 0) {
		if strings.Contains(step.Says, "cut for one loop") && !strings.Contains(step.Says, "= 72 mm (2 7/8 in)") {
			t.Error(step.Says)
		}
	}
}

// A second interfacing in a stack is counted in the hole: it is told of, and
// not silently left out of the work.
func TestSecondInterfacing(t *testing.T) {
	text := strings.Replace(of4(horn+"[closure.stand]\nconstruction = \"faced\"\nfacing = \"3 in\""), `over = ["shell", "stay", "shell"]`, `over = ["shell", "stay", "silesia", "shell"]`, 1)
	text = strings.Replace(text, "[[closure]]", "[interfacing.silesia]\nuse = \"silesia\"\n[[closure]]", 1)
	told(t, list(written(t, text)), "Cut 2 strips of the silesia interfacing for the front", true)
}

// Behind a bound hole there is something to open only where something lies behind
// it: one layer of cloth alone has none.
func TestNothingIsOpenedBehindOneLayer(t *testing.T) {
	for over, opened := range map[string]bool{`["shell", "stay", "shell"]`: true, `["shell", "stay"]`: false} {
		tab := strings.NewReplacer(`where = "front"`, `where = "tab"`, `["shell", "stay", "shell"]`, over).Replace(of4("hole = \"bound\"" + horn))
		told(t, list(written(t, tab)), "Now put the facing", opened)
	}
}
