package catalog

import (
	"fmt"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

// check finds what each value alone allows but all together do not.
func (g *Garment) check(r *reader) {
	for _, n := range g.ClothNames {
		if g.InterfacingNamed(n) != nil {
			r.failKey("interfacing."+n, "another name", "%q is already the name of a cloth", n)
		}
		c := g.ClothNamed(n)
		if !c.Weight.Has() && !c.Thickness.Has() {
			r.failKey("cloth."+n, `use = "melton", or weight = "620 g/m2" and thickness = "2.4 mm"`, "cloth %q has neither weight nor thickness", n)
		}
	}
	for i, c := range g.Cloths {
		g.checkFloor(r, "cloth."+g.ClothNames[i], c)
	}
	for _, n := range g.InterfNames {
		if c := g.InterfacingNamed(n); !c.Weight.Has() && !c.Thickness.Has() {
			r.failKey("interfacing."+n, `use = "weft-fusible-medium", or weight = "80 g/m2"`, "interfacing %q has neither weight nor thickness", n)
		}
	}
	for _, n := range g.ThreadNames {
		if !g.ThreadNamed(n).Tex.Has() {
			r.failKey("thread."+n, `use = "polyester-tex-40", or tex = "Tex 40"`, "thread %q has no size", n)
		}
	}
	seen := map[string]bool{}
	for i := range g.Closures {
		c := &g.Closures[i]
		path := source.Item("closure", i)
		if seen[c.Name] {
			r.fail(source.Join(path, "name"), "another name", "two closures are called %q", c.Name)
		}
		if strings.ContainsAny(c.Name, ".=[]\n\t") || source.Safe(c.Name) != c.Name {
			r.fail(source.Join(path, "name"), "letters, digits, spaces and dashes", "the name of a closure cannot hold . = or brackets: --with uses them")
		}
		seen[c.Name] = true
		g.checkNotion(r, path, c)
		g.checkRun(r, path, c)
		g.checkStand(r, path, c)
	}
}

// checkFloor refuses a cloth thinner than its fibres alone would be if they
// lay without any air: weight ÷ fibre density.
func (g *Garment) checkFloor(r *reader, path string, c *Cloth) {
	if !c.Thickness.Has() || !c.Weight.Has() || len(c.Fibre) == 0 {
		return
	}
	volume := 0.0 // cm³ for each gram
	for name, share := range c.Fibre {
		x := g.Catalog.Fibre(name)
		if x == nil || !x.Density.Has() {
			return
		}
		volume += share / 100 / x.Density.V
	}
	floor := measure.FromMM(c.Weight.V.GSM() * volume / 1000)
	if c.Thickness.V < floor {
		r.fail(source.Join(path, "thickness"), "the thickness of a folded stack, divided by its layers",
			"%s at %s cannot be only %s thick: its fibres alone, without air, make %s",
			last(path), c.Weight.V.Text(g.Units), c.Thickness.V.TextFine(g.Units), floor.TextFine(g.Units))
	}
}

func (g *Garment) checkNotion(r *reader, path string, c *Closure) {
	n := &c.Notion
	at := source.Join(path, "notion")
	need := func(ok bool, what, example string) {
		if !ok {
			r.failKey(at, example, "a %s needs its %s", n.Kind, what)
		}
	}
	size := n.Diameter.Has() || n.Girth.Has()
	switch n.Kind {
	case Button:
		need(size || n.Side.Has() || n.Length.Has(), "diameter", `diameter = "40L"`)
		need(n.Thickness.Has() || n.Girth.Has(), "thickness", `thickness = "5 mm"`)
	case TackButton, Snap, Rivet:
		need(n.Diameter.Has(), "diameter", `diameter = "27L"`)
	case Eyelet:
		need(n.Inside.Has() || n.Flange.Has() || n.Diameter.Has(), "size", `inside = "6 mm"`)
	case Toggle:
		need(n.Length.Has() || n.Girth.Has(), "length", `length = "60 mm"`)
		need(n.Width.Has() || n.Diameter.Has() || n.Girth.Has(), "width", `width = "14 mm"`)
	case Frog:
		need(n.Knot.Has() || n.Girth.Has(), "knot", `knot = "16 mm"`)
	case Hook:
		need(n.Width.Has() || n.Length.Has(), "width or length", `width = "12 mm"`)
	case Zip:
		need(n.Chain.Has() || n.Number.Has(), "number or chain", "number = 5")
	}
	if n.Kind == Button && n.Shape == "square" && n.Side.Has() && n.Diameter.Has() && n.Diameter.V < n.Side.V {
		r.fail(source.Join(at, "side"), "", "the side of a square button cannot be more than its widest way across, %s", n.Diameter.V.ShortFine(g.Units))
	}
	if n.Kind == Toggle && n.ShortEnd.Has() && n.Length.Has() && 2*n.ShortEnd.V > n.Length.V {
		r.fail(source.Join(at, "short_end"), "", "short_end is the shorter of the two ends: at most half the length, %s", (n.Length.V / 2).ShortFine(g.Units))
	}
}

func (g *Garment) checkRun(r *reader, path string, c *Closure) {
	run := &c.Run
	at := source.Join(path, "run")
	if c.Notion.Kind == Zip {
		if !run.Length.Has() && !c.ZipLength.Has() {
			r.failKey(path, "[closure.run] with length = …, the finished opening", "closure %q does not say how long the opening is", c.Name)
		}
		return
	}
	if !run.Length.Has() {
		r.failKey(path, "[closure.run] with length = … and count = …", "closure %q does not say how long its run is", c.Name)
		return
	}
	if len(run.Count) == 0 && !run.GapMin.Has() && !run.GapMax.Has() {
		r.failKey(at, `count = 5, or gap = { min = "3 in", max = "4 1/2 in" }`, "closure %q says neither how many nor how far apart", c.Name)
	}
	for k := range run.Clears {
		z := &run.Clears[k]
		zp := source.Item(source.Join(at, "clear"), k)
		switch {
		case z.At.Has() && (z.From.Has() || z.To.Has()):
			r.fail(source.Join(zp, "at"), "either at, or from and to", "clear %q has both a line and a stretch", z.Name)
			return
		case z.At.Has():
			z.From, z.To = z.At, z.At
		case !z.From.Has() || !z.To.Has():
			r.failKey(zp, "from = … and to = …, or at = … for a seam", "clear %q does not say where it lies", z.Name)
			return
		}
	}
	for i, size := range g.Sizes {
		ofSize := ""
		if size != "" {
			ofSize = " of size " + size
		}
		length := run.Length.At(i).V
		first, last := run.First.At(i), run.Last.At(i)
		if first.Has() && last.Has() && first.V+last.V > length {
			r.fail(pathOf(at, "first", run.First, size), "a shorter first or last, or a longer run",
				"first %s and last %s are together longer than the run%s, %s",
				first.V.Short(g.Units), last.V.Short(g.Units), ofSize, length.Short(g.Units))
		} else if first.Has() && first.V > length {
			r.fail(pathOf(at, "first", run.First, size), "", "first %s lies beyond the run%s, %s", first.V.Short(g.Units), ofSize, length.Short(g.Units))
		} else if last.Has() && last.V > length {
			r.fail(pathOf(at, "last", run.Last, size), "", "last %s is longer than the run%s, %s", last.V.Short(g.Units), ofSize, length.Short(g.Units))
		}
		if run.FirstMax.Has() && run.FirstMax.At(i).V < first.V {
			r.fail(source.Join(at, "first"), "", "first: min is more than max")
		}
		if run.LastMax.Has() && run.LastMax.At(i).V < last.V {
			r.fail(source.Join(at, "last"), "", "last: min is more than max")
		}
		if run.GapMin.Has() && run.GapMax.Has() && run.GapMin.At(i).V > run.GapMax.At(i).V {
			r.fail(source.Join(at, "gap"), "", "gap: min is more than max")
		}
		for k, a := range run.Anchors {
			if a.At.At(i).V > length {
				r.fail(pathOf(source.Item(source.Join(at, "anchor"), k), "at", a.At, size), "", "anchor %q lies beyond the run%s, %s", a.Name, ofSize, length.Short(g.Units))
			}
		}
		for k, z := range run.Clears {
			zp := source.Item(source.Join(at, "clear"), k)
			if z.At.Has() {
				if z.At.At(i).V > length {
					r.fail(pathOf(zp, "at", z.At, size), "", "clear %q lies beyond the run%s, %s", z.Name, ofSize, length.Short(g.Units))
				}
				continue
			}
			if z.From.At(i).V >= z.To.At(i).V {
				r.fail(pathOf(zp, "to", z.To, size), "a `to` below its `from`", "clear %q ends at %s, where it has not begun", z.Name, z.To.At(i).V.Short(g.Units))
			}
			if z.From.At(i).V > length {
				r.fail(pathOf(zp, "from", z.From, size), "", "clear %q lies beyond the run%s, %s", z.Name, ofSize, length.Short(g.Units))
			}
		}
		if len(run.Length) == 1 && len(run.First) <= 1 && len(run.Last) <= 1 {
			break // one value for all sizes: say it once
		}
	}
	if run.Group > 1 {
		if !run.GroupGap.Has() {
			r.failKey(at, `group_gap = "1 1/2 in"`, "fasteners in groups of %d need the gap inside a group", run.Group)
		}
		for _, n := range run.Count {
			if n.Min == n.Max && n.Min%run.Group != 0 {
				r.fail(source.Join(at, "count"), fmt.Sprintf("%d or %d", n.Min-n.Min%run.Group, n.Min-n.Min%run.Group+run.Group), "%d fasteners cannot be set in groups of %d", n.Min, run.Group)
			}
		}
	}
}

// pathOf is the path of a value that may be given by size.
func pathOf(table, key string, s Sized, size string) string {
	p := source.Join(table, key)
	if len(s) > 1 {
		return source.Join(p, size)
	}
	return p
}

func (g *Garment) checkStand(r *reader, path string, c *Closure) {
	s := &c.Stand
	at := source.Join(path, "stand")
	if s.Extension.Has() && s.Finished.Has() && s.Finished.V > s.Extension.V {
		r.fail(source.Join(at, "finished"), "", "the finished edge, %s, lies beyond the cut edge, %s",
			s.Finished.V.Short(g.Units), s.Extension.V.Short(g.Units))
	}
	if s.Extension.Has() && s.TurnUnder.Has() && s.Construction == "folded" && s.TurnUnder.V >= s.Extension.V {
		r.fail(source.Join(at, "turn_under"), "", "turned under %s leaves nothing of the extension, %s",
			s.TurnUnder.V.Short(g.Units), s.Extension.V.Short(g.Units))
	}
	if c.Lap != "double" && (c.Rows.Distance.Has() || c.Rows.Top.Has() || c.Rows.Bottom.Has()) {
		r.fail(source.Join(path, "rows"), `lap = "double"`, "two columns belong to a double-breasted front")
	}
	if c.Rows.Top.Has() != c.Rows.Bottom.Has() {
		r.fail(source.Join(path, "rows"), "both top and bottom", "rows that taper need both top and bottom")
	}
}
