package work

import (
	"strings"
	"testing"

	"placketeer/rules/plan"
)

// after says that in the order of work a task comes before another.
func after(t *testing.T, text, why, first, then string) {
	t.Helper()
	var all []string
	for _, task := range Order(written(t, text), "") {
		all = append(all, task.Do)
	}
	list := strings.Join(all, "\n")
	i, j := strings.Index(list, first), strings.Index(list, then)
	if i < 0 || j < 0 || i > j {
		t.Errorf("%s: %q at %d, %q at %d in\n%s", why, first, i, then, j, list)
	}
}

const coat = `garment = "Slip coat (invented)"
units = "in"
hem_at = "hip"
[machine]
use = "domestic"
buttonhole_max = "40 mm"
[cloth.shell]
use = "melton"
thickness = "2 mm"
[interfacing.stay]
use = "hair-canvas"
thickness = "0.5 mm"
shrink = 0
[[closure]]
name = "front"
where = "front"
over = ["shell", "stay", "shell"]
%
[closure.run]
length = 24
count = 4
`

func of4(closure string) string { return strings.Replace(coat, "%", closure, 1) }

const horn = "\n[closure.notion]\ndiameter = \"1 in\"\nthickness = \"3/16 in\"\nholes = 4\nhole_gap = \"4 mm\"\n"

func TestWhatComesBeforeTheFacing(t *testing.T) {
	faced := "[closure.stand]\nconstruction = \"faced\"\nfinished = \"1 1/4 in\"\nfacing = \"3 in\""
	// USDA Farmers' Bulletin 1894, order of its contents: buttonholes or loops,
	// front facing, …, buttons.
	bound := of4("hole = \"bound\"" + horn + faced)
	after(t, bound, "bound holes before the facing", "Make the bound holes", "Put the facings")
	after(t, bound, "the facing before the buttons", "Put the facings", "Sew the buttons")
	after(t, bound, "the facing is opened behind them", "Make the bound holes", "Behind each bound hole slash the facing")
	// Every Woman's Encyclopaedia, Practical Lessons in Tailoring: holes worked
	// by hand, and those of a machine, after all layers are closed.
	after(t, of4("hole = \"hand\""+horn+faced), "hand-worked holes after the facing", "Put the facings", "Work the holes of the front by hand")
	after(t, of4("hole = \"keyhole\""+horn+faced), "machine holes after the facing", "Put the facings", "Sew the holes of the front")
	// A magazine pattern of November 2011: toggles and large snaps are sewn on
	// while the front is still flat.
	after(t, of4("use = \"toggle-wood-50\"\ncord = \"4 mm\"\n"+faced), "toggles while flat", "Sew the toggles", "Put the facings")
	after(t, of4("fastener = \"snap\"\n[closure.notion]\ndiameter = \"3/4 in\"\nattach = \"sewn\"\n"+faced), "sewn snaps while flat", "Sew the snaps", "Put the facings")
	// Geometry: hardware goes through all its layers. Through cloth and stay alone
	// it is set while flat, and the facing covers its back; through the facing too,
	// the facing is there first.
	post := of4("use = \"ring-spring-15\"\nset_with = \"press\"\n" + faced)
	after(t, post, "posts through the facing after it", "Put the facings", "Set the snaps")
	covered := strings.Replace(post, `over = ["shell", "stay", "shell"]`, `over = ["shell", "stay"]`, 1)
	after(t, covered, "posts that it covers before it", "Set the snaps", "Put the facings")
	// A Savile Row trained tailor's notes on a dinner jacket: no mark is final
	// before the fitting.
	for _, text := range []string{bound, of4("use = \"toggle-wood-50\"\ncord = \"4 mm\"\n" + faced)} {
		after(t, text, "the fitting before any mark", "try it on", "Mark the ")
	}
}

// A pattern house's sew-along on a hidden placket: the holes are worked before
// the placket is sewn to the front; Butterick's text on coats: the fly's holes
// in its facing.
func TestHolesOfBandAndFly(t *testing.T) {
	band := "[closure.stand]\nconstruction = \"band\"\nband = \"2 1/2 in\""
	after(t, of4("direction = \"along\""+horn+band), "holes in a band", "Sew the holes of the front", "Only now sew the band")
	fly := "[closure.stand]\nconstruction = \"fly\"\nfinished = \"1 1/4 in\""
	after(t, of4("direction = \"along\""+horn+fly), "holes in a fly", "Sew the holes of the front", "Only now join the fly")
	hidden := "[closure.stand]\nconstruction = \"folded\"\nconcealed = true\nband = \"2 1/2 in\""
	after(t, of4("direction = \"along\""+horn+hidden), "holes in a concealed band", "Sew the holes of the front", "let the layer that covers it stand 1 mm")
	tucked := "[closure.stand]\nconstruction = \"folded\"\ntuck = \"1/4 in\"\nband = \"2 1/2 in\""
	after(t, of4("direction = \"along\""+horn+tucked), "holes through a folded band", "stitch the tuck 1/4 in", "Sew the holes of the front")
}

// A placket that ends in the body has no hem, and the one button at the neck of
// a cape hangs from the neck: nothing of them waits for a hem line. Common
// practice, no source.
func TestWhatWaitsForNoHem(t *testing.T) {
	none := strings.Replace(of4(horn), `"hip"`, `"none"`, 1)
	cape := strings.Replace(of4("lap = \"single\""+horn), "count = 4", "first = \"3/4 in\"\ncount = 1", 1)
	for name, text := range map[string]string{"placket": none, "cape": cape} {
		if s := said(written(t, text), StageTry); strings.Contains(s, "hem") || !strings.Contains(s, "No mark is final before that") {
			t.Errorf("%s: %s", name, s)
		}
	}
	if s := said(written(t, of4(horn)), StageTry); !strings.Contains(s, "Only when the hem line is fixed") || strings.Contains(s, "climb") {
		t.Errorf("jacket: %s", s)
	}
	// A sewing column, 1999: leg room where the front buttons to a hem below the hip.
	if s := said(written(t, strings.Replace(of4(horn), `"hip"`, `"knee"`, 1)), StageTry); !strings.Contains(s, "climb a step") {
		t.Errorf("coat: %s", s)
	}
}

// What will be washed is washed before it is cut; wool is damped and steamed
// (shirt maker with a tailor's training, 2010: a 6 in swatch first); what does
// not shrink is left alone. 3 % of a yard: 36 in ÷ 0.97 is 37.11 in.
func TestShrinkingBeforeCutting(t *testing.T) {
	wool := of4(horn)
	for name, c := range map[string]struct{ text, has, hasNot string }{
		"wool":         {wool, "Shrink shell before cutting: count on 3 %, 1 1/8 in (28.5 mm) more to a yard", "Wash"},
		"washed":       {strings.Replace(wool, "hem_at", "care = \"wash-40\"\nhem_at", 1), "Wash shell before cutting", "Shrink shell"},
		"cotton":       {strings.Replace(wool, "thickness = \"2 mm\"", "thickness = \"2 mm\"\nfibre = { cotton = 98, elastane = 2 }", 1), "If the garment will be washed, wash shell the same way before cutting, and press it: count on 3 %, 1 1/8 in (28.5 mm) more to a yard", "Shrink shell"},
		"dry-clean":    {strings.Replace(strings.Replace(wool, "hem_at", "care = \"dry-clean\"\nhem_at", 1), "thickness = \"2 mm\"", "thickness = \"2 mm\"\nfibre = { cotton = 98, elastane = 2 }", 1), "Cut both fronts", "wash shell"},
		"shrunk":       {strings.Replace(wool, "thickness = \"2 mm\"", "thickness = \"2 mm\"\nshrink = 0", 1), "Cut both fronts", "Shrink shell"},
		"known":        {strings.Replace(wool, "thickness = \"2 mm\"", "thickness = \"2 mm\"\nshrink = 5", 1), "it loses 5 %", "count on"},
		"mostly nylon": {strings.Replace(wool, "thickness = \"2 mm\"", "thickness = \"2 mm\"\nfibre = { wool = 30, polyamide = 70 }", 1), "Cut both fronts", "Shrink shell"},
	} {
		p := written(t, c.text)
		if s := said(p, StageCut); !strings.Contains(s, c.has) || strings.Contains(s, c.hasNot) {
			t.Errorf("%s: %s", name, s)
		}
	}
	if a := plan.CutForShrink(36*25_400_000, 3); a.MM() < 37.11*25.4-0.1 || a.MM() > 37.12*25.4 {
		t.Errorf("a yard at 3 %%: %s", a)
	}
}

// Pattern maker's article and a Japanese course: a vertical hole with the
// button at its middle: 14 mm begin 7 mm above the mark.
func TestCentredHole(t *testing.T) {
	text := strings.Replace(of4("direction = \"along\"\nhole_centred = true\nhole_length = \"14 mm\"\n[closure.notion]\ndiameter = \"10 mm\"\nthickness = \"2 mm\"\nholes = 4\n"), `units = "in"`, `units = "mm"`, 1)
	text = strings.Replace(text, "length = 24", "length = 600", 1)
	p := written(t, text)
	h := &p.Closures[0].Hole
	if h.Beyond.MM() != 7 || h.Inside.MM() != 7 {
		t.Errorf("from %s above the mark to %s below it", h.Beyond, h.Inside)
	}
	q := p.PiecesOf(0, 0)[0].Parts[0]
	if (q.Centre.At - q.From) != (q.To - q.Centre.At) {
		t.Errorf("the hole lies from %s to %s round %s", q.From, q.To, q.Centre.At)
	}
	if s := said(p, StageFasten); !strings.Contains(s, "at the middle of each") {
		t.Error(s)
	}
}

// Sewing guides: 4 to 5 passes through each pair of holes of a coat button,
// the thread double; K. H. Watson, 1907: the threads of two holes in line with
// the hole. A household machine winds no shank (common practice, no source).
func TestButtonsOnByHand(t *testing.T) {
	s := said(written(t, of4(horn)), StageFasten)
	for _, want := range []string{"by hand (4)", "used double", "5 times through each pair of holes", "wound 5 times"} {
		if !strings.Contains(s, want) {
			t.Errorf("%q is missing in %s", want, s)
		}
	}
	if strings.Contains(s, "stitches") || strings.Contains(s, "needle ") {
		t.Errorf("a machine in %s", s)
	}
	if s := said(written(t, strings.Replace(of4(horn), "holes = 4", "holes = 2", 1)), StageFasten); !strings.Contains(s, "in line with the buttonhole") {
		t.Error(s)
	}
}

// North Dakota NF-160: bound holes go in before the facing, through cloth and
// interfacing alone; the facing is opened behind them. So it is with a tab, and
// with a collar.
func TestBoundHolesOfSmallPieces(t *testing.T) {
	for _, where := range []string{"tab", "collar"} {
		text := strings.NewReplacer(`where = "front"`, "where = \""+where+"\"", "length = 24", "length = 8", "count = 4", "count = 2").
			Replace(of4("under = [\"shell\", \"stay\", \"shell\"]\nhole = \"bound\"" + horn + "[closure.stand]\nconstruction = \"faced\"\nfinished = \"1 1/8 in\""))
		after(t, text, where+": holes first", "Make the bound holes", "Count the layers")
		after(t, text, where+": the facing after them", "Make the bound holes", "Behind each bound hole slash the facing")
		after(t, text, where+": and before what is thick", "Behind each bound hole slash the facing", "Sew over it")
		told(t, list(written(t, text)), "long, through shell and stay, 2.5 mm", true)
	}
}
