package work

import (
	"slices"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// order is the work on a garment as one text.
func order(t *testing.T, text string) (*rules.Planned, string) {
	t.Helper()
	g := trial.Read(t, text)
	p := rules.Plan(g)
	var out []string
	for _, task := range Order(p, "") {
		out = append(append(out, task.Do), task.Take...)
	}
	return p, strings.Join(out, "\n")
}

const cape = `garment = "Slip cape (invented)"
units   = "mm"
[cloth.shell]
use       = "melton"
thickness = "2.4 mm"
[interfacing.front]
use = "hair-canvas"
[[closure]]
name  = "neck"
where = "front"
fastener = "hook"
over  = ["shell", "front", "shell"]
[closure.notion]
kind   = "hook-and-eye"
length = "13 mm"
width  = "8 mm"
[closure.stand]
finished = "25 mm"
[closure.run]
length = "900 mm"
count  = 1
`

// Extension guide C-232: hooks 1/8 in from the edge of the overlap, the
// straight eye on the underlap. The rest is geometry: the bend reaches 25 −
// 3.175 mm beyond the centre line, so the eye lies as far inside the other.
func TestTheHookLiesAcrossAndItsEyeIsPlaced(t *testing.T) {
	p, says := order(t, cape)
	k := &p.Closures[0]
	want := func(what string, got, want measure.Length) {
		if (got - want).Abs() > measure.Micrometre {
			t.Errorf("%s: got %s, want %s", what, got, want)
		}
	}
	mm := measure.Millimetre
	eighth := measure.Inch / 8
	want("up", k.Reach.Up, 4*mm)
	want("down", k.Reach.Down, 4*mm)
	hook, eye := k.Pieces[0][0].Parts[0], k.Pieces[0][1].Parts[0]
	if hook.Kind != plan.HookPart || eye.Kind != plan.EyePart {
		t.Fatalf("%s and %s", hook.Kind, eye.Kind)
	}
	want("bend to the edge", k.Pieces[0][0].Finished-hook.OutTo, eighth)
	want("the hook runs inwards", hook.OutTo-hook.OutFrom, 13*mm)
	want("and is as wide along", hook.To-hook.From, 8*mm)
	want("eye inside the centre line", -eye.Centre.Out, 25*mm-eighth)
	want("level with its hook", eye.Centre.At, hook.Centre.At)
	// The strip lies under both.
	for i, q := range []plan.Part{hook, eye} {
		on := false
		for _, a := range k.Pieces[0][i].Areas {
			on = on || a.Kind == plan.InterfacingArea && a.OutFrom <= q.OutFrom && a.OutTo >= q.OutTo
		}
		if !on {
			t.Errorf("no interfacing under the %s", q.Kind)
		}
	}
	for _, w := range []string{
		"Measure a real hook of the neck: the plan counts on 13 mm (1/2 in) long and 8 mm (5/16 in) wide",
		"the bend 3.2 mm (1/8 in) inside the edge",
		"straight eye",
		"22 mm (7/8 in) inside",
	} {
		if !strings.Contains(says, w) {
			t.Errorf("the work does not say %q:\n%s", w, says)
		}
	}
	if strings.Contains(says, "press the other side on it") {
		t.Error("that is how snaps are marked")
	}
	// Where edges only meet the eye is round and stands out as far as the hook
	// lies in.
	_, says = order(t, strings.Replace(cape, "[closure.notion]", "lap = \"edge\"\n[closure.notion]", 1))
	if !strings.Contains(says, "round eye") || !strings.Contains(says, "3.2 mm (1/8 in) beyond") {
		t.Errorf("edge to edge:\n%s", says)
	}
	// A snap keeps its own sentence.
	_, says = order(t, strings.Replace(strings.Replace(cape, `fastener = "hook"`, `use = "sewn-snap-14"`, 1), "[closure.notion]\nkind   = \"hook-and-eye\"\nlength = \"13 mm\"\nwidth  = \"8 mm\"\n", "", 1))
	if !strings.Contains(says, "press the other side on it") || strings.Contains(says, "eye") {
		t.Errorf("a snap:\n%s", says)
	}
}

// How hardware is looked at once it is set goes by what it has: common
// practice, no source, but for the splits (US Army TM 10-8400-203-23, 21-7).
func TestSettingGoesByKind(t *testing.T) {
	jacket := func(use string) string {
		return "garment = \"Slip jacket (invented)\"\nunits = \"mm\"\n[cloth.shell]\nuse = \"denim\"\n[[closure]]\nname = \"front\"\nuse = \"" + use + "\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = \"500 mm\"\ncount = 5\n"
	}
	for use, c := range map[string]struct{ says, never []string }{
		"tack-17mm-nail-8":    {[]string{"swivels", "pushed through from underneath"}, []string{"split", "hole", "holes punched", "opening freely"}},
		"prong-snap-16":       {[]string{"prong", "no hole"}, []string{"split", "swivel"}},
		"plastic-snap-12-4mm": {[]string{"pliers", "flat and round", "never with a hammer"}, []string{"split", "mallet", "anvil", "not turn by hand"}},
		"ring-spring-15":      {[]string{"at most three splits", "mallet"}, []string{"swivel", "pliers"}},
		"eyelet-4mm":          {[]string{"no split"}, []string{"swivel", "opening freely"}},
		"double-cap-9-6":      {[]string{"cap not dented"}, []string{"split", "opening freely"}},
	} {
		_, says := order(t, jacket(use))
		says = strings.ReplaceAll(says, "sample hole", "")
		for _, w := range c.says {
			if !strings.Contains(says, w) {
				t.Errorf("%s does not say %q:\n%s", use, w, says)
			}
		}
		for _, w := range c.never {
			if w == "hole" {
				continue
			}
			if strings.Contains(says, w) {
				t.Errorf("%s says %q:\n%s", use, w, says)
			}
		}
	}
}

// Leather keeps every hole: clips or tape, one row of about 8 stitches an inch
// (Threads, 2008), at least 1/4 in from the chain (US Army TM
// 10-8400-203-23, p. 79). Nothing is basted, so no thread for it is bought.
func TestTheZipInLeather(t *testing.T) {
	jacket := "garment = \"Storm jacket (invented)\"\nunits = \"in\"\n[cloth.hide]\nuse = \"leather-firm\"\n[[closure]]\nname = \"front\"\nuse = \"metal-7-separating\"\nover = [\"hide\"]\n[closure.run]\nlength = \"24 in\"\n"
	_, says := order(t, jacket)
	for _, w := range []string{"clips", "about 8 stitches an inch", "1/4 in (6.4 mm) from the teeth", "its teeth from 1/2 in to 24 in below the neck edge"} {
		if !strings.Contains(says, w) {
			t.Errorf("the work does not say %q:\n%s", w, says)
		}
	}
	if strings.Contains(says, "Baste") || strings.Contains(says, "basting.") || strings.Contains(says, "and basting") {
		t.Errorf("leather is told to be basted:\n%s", says)
	}
	_, says = order(t, strings.Replace(jacket, "leather-firm", "melton", 1))
	if !strings.Contains(says, "Baste the zip") {
		t.Errorf("wool is not:\n%s", says)
	}
}

// Two sewing pages: the ball half on the inside of the upper lap, the socket
// half on the under lap, the second found by a pin through the first.
func TestWhichHalfOfASewnSnapWhere(t *testing.T) {
	_, says := order(t, strings.Replace(strings.Replace(cape, `fastener = "hook"`, `use = "sewn-snap-14"`, 1), "[closure.notion]\nkind   = \"hook-and-eye\"\nlength = \"13 mm\"\nwidth  = \"8 mm\"\n", "", 1))
	for _, w := range []string{"ball half", "inside of the upper side", "a pin through its middle"} {
		if !strings.Contains(says, w) {
			t.Errorf("the work does not say %q:\n%s", w, says)
		}
	}
}

// Geometry: the flap reaches 60 mm beyond the meeting line and its bends lie
// 1/8 in (C-232) inside its edge, or where inset has them; the eyes lie as far
// inside the meeting line of the other front, and there alone.
func TestTheEyesOfAFlapLieUnderItsBends(t *testing.T) {
	flap := strings.Replace(cape, "[closure.stand]\nfinished = \"25 mm\"", "[closure.flap]\nwidth = \"60 mm\"", 1)
	for _, x := range []struct {
		name, text, edge, eye string
		at                    measure.Length
	}{
		{"usual", flap, "3.2 mm (1/8 in) inside the edge", "57 mm (2 1/4 in) inside the line where the edges meet", 60*measure.Millimetre - measure.Inch/8},
		{"edge", strings.Replace(flap, "where = \"front\"", "where = \"front\"\nedge = \"5 mm\"", 1), "5 mm (3/16 in) inside the edge", "55 mm (2 3/16 in) inside the line where the edges meet", 55 * measure.Millimetre},
		{"inset", strings.Replace(flap, "width = \"60 mm\"", "width = \"60 mm\"\ninset = \"50 mm\"", 1), "10 mm (13/32 in) inside the edge", "50 mm (1 15/16 in) inside the line where the edges meet", 50 * measure.Millimetre},
	} {
		p, says := order(t, x.text)
		k := &p.Closures[0]
		var hook, eye *plan.Part
		var edge measure.Length
		for i := range k.Pieces[0] {
			pc := &k.Pieces[0][i]
			for j := range pc.Parts {
				switch q := &pc.Parts[j]; q.Kind {
				case plan.HookPart:
					hook, edge = q, pc.Finished
				case plan.EyePart:
					eye = q
				}
			}
		}
		if hook == nil || eye == nil {
			t.Fatalf("%s: hook %v, eye %v", x.name, hook, eye)
		}
		if hook.Centre.Out != x.at || eye.Centre.Out != -x.at || k.EyeAt() != x.at || edge-hook.OutTo != k.Loop.HookEdge {
			t.Errorf("%s: hook at %s, %s inside the edge, eye at %s; want %s", x.name, hook.Centre.Out, edge-hook.OutTo, eye.Centre.Out, x.at)
		}
		for _, w := range []string{x.edge, x.eye, "straight eye"} {
			if !strings.Contains(says, w) {
				t.Errorf("%s: the work does not say %q", x.name, w)
			}
		}
		gapes := slices.ContainsFunc(p.Findings, func(f rules.Finding) bool { return f.Rule == "hook-edge" })
		if gapes != (x.name == "inset") {
			t.Errorf("%s: hook-edge %v", x.name, gapes)
		}
	}
}

// The stay for the studs under the flap of an opening is laid against the edge
// of its front, whose stitching holds it. Common practice, no source.
func TestTheStayUnderAFlap(t *testing.T) {
	const jacket = `garment = "Squall jacket (invented)"
units = "mm"
[cloth.shell]
use = "coated-nylon"
thickness = 0.3
[interfacing.stay]
use = "nonwoven-sewn-medium"
thickness = 0.2
[[closure]]
name = "snaps"
where = "front"
fastener = "snap"
over = ["shell", "stay", "shell"]
[closure.notion]
diameter = 15
post = 4
post_width = 4
[closure.flap]
width = 60
inset = 45
[closure.run]
length = 600
first = 30
last = 90
count = 4
`
	told(t, list(written(t, jacket)), "to the left front, 70 mm (2 13/16 in) wide, from the finished edge, the line where the edges meet, to 70 mm (2 13/16 in) inside it", true)
}

// Where the edge beneath is that of another closure and lies farther out, a stay
// as wide as that of the flap would end short of the studs if it were laid at it.
func TestTheStayUnderAFlapReachesItsStuds(t *testing.T) {
	p := written(t, `garment = "x (invented)"
units = "mm"
[cloth.shell]
use = "duck-10"
[interfacing.stay]
use = "nonwoven-sewn-medium"
[[closure]]
name = "snaps"
where = "front"
opening = "front"
fastener = "snap"
over = ["shell", "stay", "shell"]
[closure.notion]
diameter = 15
post = 4
post_width = 4
[closure.flap]
width = 75
inset = 10
[closure.stand]
construction = "folded"
[closure.run]
length = 600
count = 4
[[closure]]
name = "buttons"
where = "front"
opening = "front"
use = "horn-36"
over = ["shell", "shell"]
hole = "machine"
[closure.stand]
construction = "faced"
extension = 176
facing = 80
[closure.run]
length = 600
count = 3
`)
	under := p.PiecesOf(0, 0)[1]
	studs := 0
	for _, q := range under.Parts {
		if q.Kind != plan.SnapStud {
			continue
		}
		studs++
		if !slices.ContainsFunc(under.Areas, func(a plan.Area) bool {
			return a.Kind == plan.InterfacingArea && a.OutFrom <= q.OutFrom && q.OutTo <= a.OutTo
		}) {
			t.Errorf("the stud from %s to %s lies on none of its stay: %v", q.OutFrom, q.OutTo, under.Areas)
		}
	}
	if studs != 4 || under.Finished <= 0 {
		t.Fatalf("%d studs, the edge at %s", studs, under.Finished)
	}
}
