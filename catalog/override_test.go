package catalog

import (
	"errors"
	"strings"
	"testing"

	"placketeer/catalog/measure"
)

const overText = `garment = "Quay coat (invented)"
units   = "in"
[sizes]
names = ["S", "M", "XL"]
[cloth.shell]
use = "melton"
fibre = { wool = 80, polyamide = 20 }
[interfacing.front]
use = "hair-canvas"
thickness = "0.6 mm"
[[closure]]
name = "front"
use  = "horn-40"
hole_length = "1 3/8 in"
over = ["shell", "front", "shell"]
[closure.run]
length = { S = 23, M = 24, XL = 25 }
first  = "1 in"
last   = { min = "3 in", max = "4 in" }
count  = 5
anchor = [{ name = "bust", at = 8 }, { name = "waist", at = 15, within = 1 }]
clear  = [{ name = "belt", from = 17, to = 18 }]
[[closure]]
name = "cuff"
over = ["shell", "shell"]
notion = { diameter = "20 mm", thickness = "3 mm" }
[closure.run]
length = 4
count = 1
[[cord]]
name = "hood"
at = "hood"
free_end = "3 in"
`

// What each change makes of the value that it names, and that those beside it
// stay.
func TestWithMeans(t *testing.T) {
	g, err := read(overText)
	if err != nil {
		t.Fatal(err)
	}
	inch := func(m Measured) float64 { return m.V.In() }
	for with, ok := range map[string]func(f, c *Closure, g *Garment) bool{
		"closure.front.run.length.M=24 1/2 in": func(f, c *Closure, g *Garment) bool {
			return inch(f.Run.Length[1]) == 24.5 && inch(f.Run.Length[0]) == 23 && inch(f.Run.Length[2]) == 25
		},
		"closure.front.run.first.XL=2 in": func(f, c *Closure, g *Garment) bool {
			return len(f.Run.First) == 3 && inch(f.Run.First[0]) == 1 && inch(f.Run.First[2]) == 2
		},
		"closure.front.run.first.max=1 1/2 in": func(f, c *Closure, g *Garment) bool {
			return inch(f.Run.First.At(0)) == 1 && inch(f.Run.FirstMax.At(0)) == 1.5
		},
		"closure.front.run.last.max=5 in": func(f, c *Closure, g *Garment) bool {
			return inch(f.Run.Last.At(0)) == 3 && inch(f.Run.LastMax.At(0)) == 5
		},
		"closure.front.run.count.max=7": func(f, c *Closure, g *Garment) bool { return f.Run.Count[0] == Count{5, 7, true} },
		"closure.front.run.count.M=6": func(f, c *Closure, g *Garment) bool {
			return len(f.Run.Count) == 3 && f.Run.Count[0].Min == 5 && f.Run.Count[1].Min == 6
		},
		"closure.front.run.count={min=4,max=6}": func(f, c *Closure, g *Garment) bool { return f.Run.Count[0] == Count{4, 6, true} },
		"closure.front.run.gap.min=2":           func(f, c *Closure, g *Garment) bool { return inch(f.Run.GapMin[0]) == 2 && !f.Run.GapMax.Has() },
		"closure.front.run.anchor.waist.at=16": func(f, c *Closure, g *Garment) bool {
			return inch(f.Run.Anchors[1].At[0]) == 16 && inch(f.Run.Anchors[0].At[0]) == 8
		},
		"closure.front.run.anchor.waist.at.M=16": func(f, c *Closure, g *Garment) bool {
			return inch(f.Run.Anchors[1].At[0]) == 15 && inch(f.Run.Anchors[1].At[1]) == 16
		},
		"closure.front.run.anchor.hip={at=20}": func(f, c *Closure, g *Garment) bool { return len(f.Run.Anchors) == 3 && f.Run.Anchors[2].Name == "hip" },
		"closure.front.run.clear.belt.to=19": func(f, c *Closure, g *Garment) bool {
			return inch(f.Run.Clears[0].To[0]) == 19 && inch(f.Run.Clears[0].From[0]) == 17
		},
		"closure.front.run.clear=[]":              func(f, c *Closure, g *Garment) bool { return len(f.Run.Clears) == 0 },
		"closure.front.run.clear=":                func(f, c *Closure, g *Garment) bool { return len(f.Run.Clears) == 0 },
		"closure.front.hole_length=":              func(f, c *Closure, g *Garment) bool { return !f.HoleLen.Has() },
		"closure.front.hole_length = 1 1/2 in":    func(f, c *Closure, g *Garment) bool { return inch(f.HoleLen) == 1.5 },
		"closure.front.needle=90/14":              func(f, c *Closure, g *Garment) bool { return f.Needle.V == 90 },
		"closure.front.stand.finished=1":          func(f, c *Closure, g *Garment) bool { return inch(f.Stand.Finished) == 1 },
		"closure.front.stand={finished=\"1 in\"}": func(f, c *Closure, g *Garment) bool { return inch(f.Stand.Finished) == 1 },
		`closure.front.over=["shell", "shell"]`:   func(f, c *Closure, g *Garment) bool { return len(f.Over) == 2 && len(f.Under) == 2 },
		"closure.front.notion.thickness=3 mm ±0.2": func(f, c *Closure, g *Garment) bool {
			return f.Notion.Thickness.V == 3*measure.Millimetre && f.Notion.Thickness.Tol > 0 && f.Notion.Name == "horn-40"
		},
		"closure.cuff.notion.diameter=24L": func(f, c *Closure, g *Garment) bool {
			return c.Notion.Diameter.V == 24*measure.Ligne && c.Notion.Thickness.V == 3*measure.Millimetre
		},
		"cloth.shell.fibre={wool=100}": func(f, c *Closure, g *Garment) bool {
			return g.Cloths[0].Fibre["wool"] == 100 && f.Over[0].Cloth == g.Cloths[0]
		},
		"cloth.shell.repeat.along=3 1/2 in": func(f, c *Closure, g *Garment) bool { return inch(g.Cloths[0].Repeat.Along) == 3.5 },
		"interfacing.front={use=\"wigan-type-1\"}": func(f, c *Closure, g *Garment) bool {
			return g.Interfacings[0].Name == "wigan-type-1" && g.Interfacings[0].Thickness.V != 600_000 && f.Over[1].Interfacing == g.Interfacings[0]
		},
		"thread.seam={use=\"polyester-tex-40\"}": func(f, c *Closure, g *Garment) bool { return g.ThreadNamed("seam") != nil },
		"machine.foot_lift=5 mm": func(f, c *Closure, g *Garment) bool {
			return g.Machine.FootLift.V == 5*measure.Millimetre && g.MachineUse == "domestic"
		},
		"cord.hood.drawn_in=4 in":          func(f, c *Closure, g *Garment) bool { return inch(g.Cords[0].DrawnIn) == 4 },
		"cord.hood.free_end=2 in":          func(f, c *Closure, g *Garment) bool { return inch(g.Cords[0].FreeEnd) == 2 },
		"wearer=child":                     func(f, c *Closure, g *Garment) bool { return g.Wearer == "child" },
		"sizes.names=[\"S\",\"M\",\"XL\"]": func(f, c *Closure, g *Garment) bool { return len(g.Sizes) == 3 },
	} {
		h, err := change(g, with)
		if err != nil {
			t.Errorf("%s: %v", with, err)
			continue
		}
		if !ok(&h.Closures[0], &h.Closures[1], h) {
			t.Errorf("%s: it does not mean what it says: %+v", with, h.Closures[0])
		}
	}
}

// A wrong key names the nearest right one, whole, so that it can be pasted.
func TestWithHints(t *testing.T) {
	g, err := read(overText)
	if err != nil {
		t.Fatal(err)
	}
	for with, near := range map[string]string{
		"closur.front.use=x":                     "closure.front.use=…",
		"closure.fornt.use=x":                    "closure.front.use=…",
		"closure.front.sue=x":                    "closure.front.use=…",
		"closure.front.stand.extention=1":        "closure.front.stand.extension=…",
		"closure.front.run.anchor.bost.at=1":     "closure.front.run.anchor.bust.at=…",
		"closure.front.run.clear.bellt.to=1":     "closure.front.run.clear.belt.to=…",
		"closure.front.run.first.XXL=1":          "closure.front.run.first.XL=…",
		"closure.front.run.first.maxx=1":         "closure.front.run.first.max=…",
		"closure.front.run.first.M.x.y=1":        "closure.front.run.first.",
		"closure.front.notion.thikness=1":        "closure.front.notion.thickness=…",
		"closure.cuff.notion.grip=1":             "",
		"cloth.shel.weight=1":                    "cloth.shell.weight=…",
		"cloth.shell.wieght=1":                   "cloth.shell.weight=…",
		"interfacing.frnt={use=\"hair-canvas\"}": "", // a new one, and a good one
		"cord.hod.free_end=1":                    "cord.hood.free_end=…",
		"machine.footlift=1":                     "machine.foot_lift=…",
		"closure.front=x":                        "closure.front.",
		"closure=x":                              "closure.",
		"closure.front.stand=x":                  "closure.front.stand.",
		"closure.front.use.size=x":               "closure.front.use=…",
		"x":                                      "closure.front.use=horn-36",
		"=x":                                     "closure.front.use=horn-36",
		"":                                       "closure.front.use=horn-36",
	} {
		_, err := change(g, with)
		var ce *ChangeError
		switch {
		case near == "":
		case !errors.As(err, &ce):
			t.Errorf("%s: %v is no fault of the change", with, err)
		case !strings.HasPrefix(ce.Near, near):
			t.Errorf("%s: %q, want %q", with, ce.Near, near)
		}
	}
	for with, says := range map[string]string{
		"closure.front.stitch=":              "no closure.front.stitch to take out",
		"closure.front.run.anchor.bust=":     "only keys can be taken out",
		"closure.front.use=horn-41":          `no fastener "horn-41"`,
		"cloth.shell.fibre.wool=70":          "add to 90",
		"closure.front.run.count=five":       "whole number",
		"closure.front.run.count.M.x=1":      `no size "x"`,
		"closure.front.over=shell":           "list of names",
		"closure.front.run.first.M=3 inn":    "inn",
		"closure.front.run.length=1e400":     "",
		"closure.front.hole_length=\x1b[31m": "",
	} {
		_, err := change(g, with)
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", with, err, says)
		}
		if err != nil && strings.ContainsRune(err.Error(), 0x1b) {
			t.Errorf("%q: the error carries a control character: %q", with, err)
		}
	}
}
