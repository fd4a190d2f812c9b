package catalog

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// OpeningName is the opening that the closure closes: what the file says, or
// the closure's own name.
func (c *Closure) OpeningName() string {
	if c.Opening != "" {
		return c.Opening
	}
	return c.Name
}

// LiesOn is the piece that the closure lies on, as it is called, where it does
// not join the fronts: the hood, the flap, the chest pocket. A garment has one
// hood, one collar and one waist; of other pieces, as of collar points and
// lapels, it may have several, and the name of the opening says which.
func (c *Closure) LiesOn() string {
	name, kind := c.OpeningName(), c.Notion.Kind
	switch {
	case c.Where == "" || strings.Contains(name, c.Where) || c.Where == "collar" && c.Pieces > 1:
		return name
	case c.Where == "hood" || c.Where == "collar" || c.Where == "waist", name == kind || name == kind+"s":
		return c.Where
	}
	return name + " " + c.Where
}

// Opening is one opening of the garment and the closures that close it, by
// index, in the order of the file.
type Opening struct {
	Name     string
	Closures []int
}

// Openings are the openings of the garment, in the order of the file.
func (g *Garment) Openings() []Opening {
	var out []Opening
	for i := range g.Closures {
		name := g.Closures[i].OpeningName()
		k := slices.IndexFunc(out, func(o Opening) bool { return o.Name == name })
		if k < 0 {
			k, out = len(out), append(out, Opening{Name: name})
		}
		out[k].Closures = append(out[k].Closures, i)
	}
	return out
}

// UsualLap is the side of the wearer that lies on top, "right" or "left", on
// clothes cut for women, men or both (unisex goes as men's). Where nothing is
// said it is women's.
func UsualLap(cutFor string) string {
	if cutFor == "men" || cutFor == "unisex" {
		return "left"
	}
	return "right"
}

// Over is the side of the wearer that lies on top at a closure, "right" or
// "left": what its lap_over says, or that of another closure of the same
// opening, or what is usual for whom the garment is cut.
func (g *Garment) Over(c *Closure) string {
	if c.LapOver != "" {
		return c.LapOver
	}
	for i := range g.Closures {
		if o := &g.Closures[i]; o.LapOver != "" && o.OpeningName() == c.OpeningName() {
			return o.LapOver
		}
	}
	return UsualLap(g.CutFor)
}

// closureNamed is the index of the first closure of that name, -1 if there
// is none.
func (g *Garment) closureNamed(name string) int {
	return slices.IndexFunc(g.Closures, func(c Closure) bool { return c.Name == name })
}

// checkOpenings finds what closures of one opening say against each other.
func (g *Garment) checkOpenings(r *reader) {
	if !slices.ContainsFunc(g.Closures, func(c Closure) bool { return c.Opening != "" || c.Behind != "" }) {
		return // each closes its own
	}
	for i := range g.Closures {
		g.checkBehind(r, i)
	}
	for _, o := range g.Openings() {
		if len(o.Closures) == 1 {
			continue
		}
		first := -1 // that says how long it runs
		lap := -1   // that says which side lies on top
		flap := -1  // that has a flap of its own
		for _, i := range o.Closures {
			c := &g.Closures[i]
			if c.Flap.Has() {
				if flap < 0 {
					flap = i
				} else {
					r.fail(source.Join(source.Item("closure", i), "flap"), "one flap for the opening: in the closure whose fasteners it carries",
						"%q has a flap of its own, and so has %q, which closes the same opening, at %s", c.Name, g.Closures[flap].Name, r.doc.Pos(source.Join(source.Item("closure", flap), "flap")))
				}
			}
			if c.LapOver != "" {
				if lap < 0 {
					lap = i
				} else if l := &g.Closures[lap]; l.LapOver != c.LapOver {
					r.fail(source.Join(source.Item("closure", i), "lap_over"), fmt.Sprintf("%q in both, or another opening", l.LapOver),
						"%q laps %s over and %q, which closes the same opening, %s over, at %s",
						c.Name, c.LapOver, l.Name, l.LapOver, r.doc.Pos(source.Join(source.Item("closure", lap), "lap_over")))
				}
			}
			if c.Run.Length.Has() {
				if first < 0 {
					first = i
				} else {
					g.checkSameRun(r, first, i)
				}
			}
		}
	}
}

// checkSameRun refuses two closures of one opening that run along different
// lengths of it.
func (g *Garment) checkSameRun(r *reader, a, b int) {
	x, y := &g.Closures[a], &g.Closures[b]
	pathIn := func(i, size int) string {
		return pathOf(source.Join(source.Item("closure", i), "run"), "length", g.Closures[i].Run.Length, g.Sizes[size])
	}
	for k, size := range g.Sizes {
		have, other := y.Run.Length.At(k).V, x.Run.Length.At(k).V
		if have == other {
			continue
		}
		if size != "" && (len(x.Run.Length) > 1 || len(y.Run.Length) > 1) {
			size = " in size " + size
		} else {
			size = ""
		}
		h, o := measure.TextApart(have, other, g.Units)
		r.fail(pathIn(b, k), "the same length in both",
			"%q runs along %s%s and %q, which closes the same opening, along %s, at %s", y.Name, h, size, x.Name, o, r.doc.Pos(pathIn(a, k)))
		return // once for all sizes
	}
}

// checkBehind finds what is wrong with the closure that closure i says it
// lies behind.
func (g *Garment) checkBehind(r *reader, i int) {
	c := &g.Closures[i]
	if c.Behind == "" {
		return
	}
	path := source.Join(source.Item("closure", i), "behind")
	var known []string
	for k := range g.Closures {
		if o := &g.Closures[k]; k != i && o.OpeningName() == c.OpeningName() {
			known = append(known, o.Name)
		}
	}
	n := g.closureNamed(c.Behind)
	switch {
	case c.Behind == c.Name:
		r.fail(path, cmp.Or(text.MeantQuoted("", known), "another closure of the same opening"), "closure %q cannot lie behind itself", c.Name)
		return
	case n < 0:
		r.fail(path, cmp.Or(text.MeantQuoted(c.Behind, known), fmt.Sprintf("the name of a closure that has opening = %q as well", c.OpeningName())), "the garment has no closure %q", c.Behind)
		return
	case g.Closures[n].OpeningName() != c.OpeningName():
		o := &g.Closures[n]
		r.fail(path, fmt.Sprintf("opening = %q in both, or a closure of the same opening", o.OpeningName()),
			"closure %q closes another opening, %q: %q cannot lie behind it", o.Name, o.OpeningName(), c.Name)
		return
	}
	// A ring of closures, each behind the next: told of the first of them.
	chain := []string{c.Name}
	for k := n; ; {
		o := &g.Closures[k]
		chain = append(chain, o.Name)
		switch {
		case k == i:
			r.fail(path, "no `behind` in the one that lies on top", "closures lie behind each other in a ring: %s", strings.Join(chain, " behind "))
			return
		case k < i, o.Behind == "", slices.Contains(chain[:len(chain)-1], o.Name):
			return // a ring further on is told of there
		}
		if k = g.closureNamed(o.Behind); k < 0 {
			return
		}
	}
}
