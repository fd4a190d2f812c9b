package catalog

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// check finds what each value alone allows but all together do not.
func (g *Garment) check(r *reader) {
	for _, part := range []struct {
		table string
		names []string
	}{{"cloth", g.ClothNames}, {"interfacing", g.InterfNames}, {"thread", g.ThreadNames}} {
		for _, n := range part.names {
			if !plainName(n) {
				r.failKey(source.Join(part.table, n), nameRule, "the name %q cannot be used: --with and messages could not say it", text.Safe(n))
			}
		}
	}
	for i, n := range g.ClothNames {
		if g.InterfacingNamed(n) != nil {
			r.failKey(source.Join("interfacing", n), "another name", "%q is already the name of a cloth", n)
		}
		g.checkCloth(r, i)
	}
	for i := range g.InterfNames {
		g.checkInterfacing(r, i)
	}
	for i := range g.ThreadNames {
		g.checkThread(r, i)
	}
	seen := map[string]bool{}
	for i := range g.Closures {
		c := &g.Closures[i]
		path := source.Item("closure", i)
		if seen[c.Name] {
			r.fail(source.Join(path, "name"), "another name", "two closures are called %q", c.Name)
		}
		g.checkName(r, source.Join(path, "name"), "closure", c.Name)
		g.checkName(r, source.Join(path, "opening"), "opening", c.Opening)
		seen[c.Name] = true
		g.checkClosure(r, path, c)
	}
	g.checkOpenings(r)
	g.checkCords(r)
	g.checkKeep(r)
	g.checkSettled(r)
	g.checkVaried(r)
}

// checkCords refuses names of drawcords that are none, or stand twice.
func (g *Garment) checkCords(r *reader) {
	cords := map[string]bool{}
	for i := range g.Cords {
		path, name := source.Item("cord", i), g.Cords[i].Name
		g.checkName(r, source.Join(path, "name"), "cord", name)
		if cords[name] {
			r.fail(source.Join(path, "name"), "another name", "two cords are called %q", name)
		}
		cords[name] = true
	}
}

const nameRule = "letters, digits, spaces and dashes"

// plainName says whether a name can stand in a --with key and in a message
// as it is.
func plainName(s string) bool {
	return !strings.ContainsAny(s, ".=[]\"\n\t") && text.Safe(s) == s && strings.TrimSpace(s) == s && s != "" && utf8.RuneCountInString(s) <= MaxName
}

func (g *Garment) checkName(r *reader, path, what, name string) {
	switch {
	case name == "" || plainName(name): // a missing name is reported by itself
	case utf8.RuneCountInString(name) > MaxName:
		r.fail(path, "a short name", "the name of a%s is too long", article(what))
	case strings.TrimSpace(name) != name:
		r.fail(path, fmt.Sprintf("%q", strings.TrimSpace(name)), "the name of a%s cannot begin or end with a space", article(what))
	default:
		r.fail(path, nameRule, "the name of a%s cannot hold . = quotes, brackets or what cannot be seen: --with and messages could not say it", article(what))
	}
}

func (g *Garment) checkCloth(r *reader, i int) {
	n, c := g.ClothNames[i], g.Cloths[i]
	if !c.Weight.Has() && !c.Thickness.Has() {
		r.failKey(source.Join("cloth", n), `use = "melton", or weight = "620 g/m2" and thickness = "2.4 mm"`, "cloth %q has neither weight nor thickness", n)
	}
	g.checkFloor(r, source.Join("cloth", n), c)
}

func (g *Garment) checkInterfacing(r *reader, i int) {
	if n, c := g.InterfNames[i], g.Interfacings[i]; !c.Weight.Has() && !c.Thickness.Has() {
		r.failKey(source.Join("interfacing", n), `use = "weft-fusible-medium", or weight = "80 g/m2"`, "interfacing %q has neither weight nor thickness", n)
	}
}

func (g *Garment) checkThread(r *reader, i int) {
	if n := g.ThreadNames[i]; !g.Threads[i].Tex.Has() {
		r.failKey(source.Join("thread", n), `use = "polyester-tex-40", or tex = "Tex 40"`, "thread %q has no size", n)
	}
}

func (g *Garment) checkClosure(r *reader, path string, c *Closure) {
	g.checkNotion(r, path, c)
	g.checkRun(r, path, c)
	g.checkStand(r, path, c)
	checkSample(r, path, c)
}

// checkSample refuses a stack that is thicker pressed than lying free.
func checkSample(r *reader, path string, c *Closure) {
	if s := &c.Sample; s.Stack.Has() && s.StackPressed.Has() && s.StackPressed.V > s.Stack.V {
		pressed, free := measure.TextThinOver(s.StackPressed.V, s.Stack.V, r.units)
		r.fail(source.Join(path, "measured.stack_pressed"), "no more than "+free, "the layers cannot be thicker pressed, %s, than lying free, %s", pressed, s.Stack.V.TextThin(r.units))
	}
}

// checkFloor refuses a cloth thinner than its fibres alone would be if they
// lay without any air: weight ÷ fibre density. A cloth that does not name its
// fibres is taken to be of the densest there is.
func (g *Garment) checkFloor(r *reader, path string, c *Cloth) {
	if !c.Thickness.Has() || !c.Weight.Has() {
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
	whose := "its fibres alone, without air, make"
	if len(c.Fibre) == 0 {
		densest := 0.0
		for _, x := range g.Catalog.Fibres {
			densest = max(densest, x.Density.Or(0))
		}
		if densest == 0 {
			return
		}
		volume, whose = 1/densest, "even the densest fibre, without air, makes"
	}
	floor := measure.FromMM(c.Weight.V.GSM() * volume / 1000)
	if c.Thickness.V < floor {
		have, need := measure.TextThinShort(c.Thickness.V, floor, r.units)
		r.fail(source.Join(path, "thickness"), "the thickness of a folded stack, divided by its layers",
			"%s at %s cannot be only %s thick: %s %s",
			last(path), c.Weight.V.Text(g.Units), have, whose, need)
	}
}

func (g *Garment) checkNotion(r *reader, path string, c *Closure) {
	n := &c.Notion
	at := source.Join(path, "notion")
	need := func(ok bool, what, example string) {
		switch {
		case ok:
		case c.Use != "":
			r.fail(source.Join(path, "use"), "[closure.notion] with "+example, "the catalogue does not say the %s of %s, which a%s needs", what, n.Name, article(n.Kind))
		default:
			r.failKey(at, example, "a%s needs its %s", article(n.Kind), what)
		}
	}
	size := n.Diameter.Has() || n.Girth.Has()
	switch n.Kind {
	case Button:
		switch n.Shape {
		case "square":
			need(size || n.Side.Has(), "diameter or side", `side = "20 mm"`)
		case "toggle":
			need(n.Length.Has() || n.ShortEnd.Has() || n.Girth.Has(), "length", `length = "50 mm"`)
			need(n.Width.Has() || size, "width", `width = "14 mm"`)
		default:
			need(size, "diameter", `diameter = "40L"`)
		}
		need(n.Thickness.Has() || n.Girth.Has() || n.Shape == "ball", "thickness", `thickness = "5 mm"`)
	case TackButton, Snap, Rivet:
		need(n.Diameter.Has(), "diameter", `diameter = "27L"`)
	case Eyelet:
		need(n.Inside.Has() || n.Flange.Has() || n.Diameter.Has(), "size", `inside = "6 mm"`)
	case Toggle:
		need(n.Length.Has() || n.ShortEnd.Has() || n.Girth.Has(), "length", `length = "60 mm"`)
		need(n.Width.Has() || n.Diameter.Has() || n.Girth.Has(), "width", `width = "14 mm"`)
	case Frog:
		need(n.Knot.Has() || n.Girth.Has(), "knot", `knot = "16 mm"`)
	case Hook:
		need(n.Width.Has() || n.Length.Has(), "width or length", `width = "12 mm"`)
	case Zip:
		need(n.Chain.Has() || n.Number.Has(), "number or chain", "number = 5")
	}
	if c.Inset.Has() && n.Kind != Toggle && n.Kind != Frog {
		r.fail(source.Join(path, "inset"), "take it out; the line of a flap's fasteners is inset in [closure.flap]", "inset belongs to a toggle or a frog, sewn on by its cord: closure %q has a%s", c.Name, article(n.Kind))
	}
	g.checkShape(r, at, n)
}

// checkShape refuses measures of a fastener that no fastener can have
// together.
func (g *Garment) checkShape(r *reader, at string, n *Notion) {
	given := func(l measure.Length) string { return l.TextPlace(g.Units) }
	if n.Kind == Button {
		only := func(key, shape, what string, m Measured) {
			if m.Has() && n.Shape != shape {
				r.fail(source.Join(at, key), fmt.Sprintf("shape = %q", shape), "%s belongs to a %s button", key, what)
			}
		}
		only("side", "square", "square", n.Side)
		only("length", "toggle", "toggle-shaped", n.Length)
		only("width", "toggle", "toggle-shaped", n.Width)
		only("short_end", "toggle", "toggle-shaped", n.ShortEnd)
		if n.Shape == "square" && n.Side.Has() && n.Diameter.Has() && n.Diameter.V <= n.Side.V {
			r.fail(source.Join(at, "diameter"), "the side alone", "the widest way across a square button, corner to corner, is more than its side, %s", given(n.Side.V))
		}
	}
	if n.ShortEnd.Has() && n.Length.Has() && 2*n.ShortEnd.V > n.Length.V {
		r.fail(source.Join(at, "short_end"), "", "short_end is the shorter of the two ends: at most half the length, %s", (n.Length.V / 2).TextMost(g.Units))
	}
	if !n.Girth.Has() {
		return
	}
	g.checkLongGirth(r, at, n)
	// Once round a thing is at least twice its width: there and back.
	round := n.Girth.V + n.Girth.Tol
	what, least := "", measure.Length(0)
	switch {
	case n.Kind == TackButton, n.Kind == Button && n.Shape != "toggle" && n.Shape != "odd":
		what, least = "diameter", 2*(n.Diameter.V-n.Diameter.Tol)
	case n.Kind == Toggle, n.Kind == Button && n.Shape == "toggle":
		what, least = "width", 2*(n.Width.V-n.Width.Tol)
	case n.Kind == Frog:
		what, least = "knot", 2*(n.Knot.V-n.Knot.Tol)
	}
	if n.Thickness.Has() && 2*(n.Thickness.V-n.Thickness.Tol) > least {
		what, least = "thickness", 2*(n.Thickness.V-n.Thickness.Tol)
	}
	if round < least {
		r.fail(source.Join(at, "girth"), "what a tape reads once round the widest part",
			"girth %s is less than twice the %s, %s: no tape goes round so short, %s is the least", given(n.Girth.V), what, given(least/2), least.TextLeast(g.Units))
	}
}

// girthSlack is how much longer than geometry allows a tape may read, percent:
// a loose paper strip.
const girthSlack = 10

// checkLongGirth refuses a girth that no fastener of that width and height can
// have: round it is no more than round the box that it lies in.
func (g *Garment) checkLongGirth(r *reader, at string, n *Notion) {
	if n.Kind != Button || n.Shape == "toggle" || n.Shape == "odd" || n.Shape == "square" || !n.Diameter.Has() || !n.Thickness.Has() || n.Shank.Has() || n.Shape == "ball" {
		return
	}
	most := 2 * (n.Diameter.V + n.Diameter.Tol + n.Thickness.V + n.Thickness.Tol)
	if n.Girth.V-n.Girth.Tol > most+most*girthSlack/100 {
		r.fail(source.Join(at, "girth"), "what a tape reads once round the widest part",
			"girth %s is more than goes round a button of this diameter and thickness, %s at most: measure all three again", n.Girth.V.TextPlace(g.Units), most.TextMost(g.Units))
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
		r.failKey(at, "[closure.run] with length = … and count = …", "closure %q does not say how long its run is", c.Name)
		return
	}
	if len(run.Count) == 0 && !run.GapMin.Has() && !run.GapMax.Has() && !run.GapAbout.Has() {
		r.failKey(at, `count = 5, or gap = { min = "3 in", max = "4 1/2 in" }`, "closure %q says neither how many nor how far apart", c.Name)
	}
	marks := map[string]bool{}
	mark := func(path, what, name string) {
		g.checkName(r, source.Join(path, "name"), what, name)
		if name != "" && marks[name] {
			r.fail(source.Join(path, "name"), "another name", "two places of closure %q are called %q", c.Name, name)
		}
		marks[name] = true
	}
	for k := range run.Anchors {
		mark(source.Item(source.Join(at, "anchor"), k), "anchor", run.Anchors[k].Name)
	}
	whole := true
	for k := range run.Clears {
		z := &run.Clears[k]
		zp := source.Item(source.Join(at, "clear"), k)
		mark(zp, "clear", z.Name)
		switch {
		case z.At.Has() && (z.From.Has() || z.To.Has()):
			r.fail(source.Join(zp, "at"), "either at, or from and to", "clear %q has both a line and a stretch", z.Name)
			whole = false
		case z.At.Has():
			z.From, z.To = z.At, z.At
		case !z.From.Has() || !z.To.Has():
			r.failKey(zp, "from = … and to = …, or at = … for a seam", "clear %q does not say where it lies", z.Name)
			whole = false
		}
	}
	if whole {
		for i := range g.Sizes {
			g.checkSize(r, at, run, i)
		}
	}
	if run.Group > 1 {
		if !run.GroupGap.Has() {
			r.failKey(at, `group_gap = "1 1/2 in"`, "fasteners in groups of %d need the gap inside a group", run.Group)
		}
		for i, n := range run.Count {
			if n.Min > 0 && n.Max/run.Group*run.Group < n.Min {
				less := n.Min - n.Min%run.Group
				instead := fmt.Sprint(less + run.Group)
				if less > 0 {
					instead = fmt.Sprintf("%d or %d", less, less+run.Group)
				}
				cp := source.Join(at, "count")
				if len(run.Count) > 1 {
					cp = source.Join(cp, g.Sizes[i])
				}
				r.fail(cp, instead, "%s fasteners cannot be set in groups of %d", n, run.Group)
			}
		}
	}
}

// String is a count in words: 5, or 4 to 7.
func (c Count) String() string {
	if c.Min == c.Max {
		return fmt.Sprint(c.Min)
	}
	return fmt.Sprintf("%d to %d", c.Min, c.Max)
}

// checkSize checks the run of size i. What is the same in all sizes is said
// once, of the first.
func (g *Garment) checkSize(r *reader, at string, run *Run, i int) {
	length := run.Length.At(i).V
	// sized says whether a fault made of these values belongs to this size
	// alone, mine whether it is told of it, and size how it is told.
	sized := func(values []Sized) bool {
		return slices.ContainsFunc(values, func(s Sized) bool { return len(s) > 1 })
	}
	mine := func(values ...Sized) bool { return i == 0 || sized(values) }
	size := func(values ...Sized) string {
		if sized(values) {
			return " of size " + g.Sizes[i]
		}
		return ""
	}
	beyond := func(path func() string, key string, s Sized, format string, args ...any) {
		if s.Has() && s.At(i).V > length && mine(run.Length, s) {
			at, end := measure.TextOver(s.At(i).V, length, g.Units)
			r.fail(pathOf(path(), key, s, g.Sizes[i]), "", "%s %s lies beyond the run%s, %s", fmt.Sprintf(format, args...), at, size(run.Length, s), end)
		}
	}
	less := func(key string, lo, hi Sized) {
		if lo.Has() && hi.Has() && hi.At(i).V < lo.At(i).V && mine(lo, hi) {
			r.fail(source.Join(at, key), "", "%s%s: min is more than max", key, size(lo, hi))
		}
	}
	first, last := run.First.At(i), run.Last.At(i)
	if first.Has() && last.Has() && first.V <= length && last.V <= length && first.V+last.V > length && mine(run.Length, run.First, run.Last) {
		r.fail(pathOf(at, "first", run.First, g.Sizes[i]), "a shorter first or last, or a longer run",
			"first %s and last %s are together longer than the run%s, %s",
			first.V.TextPlace(g.Units), last.V.TextPlace(g.Units), size(run.Length, run.First, run.Last), length.TextPlace(g.Units))
	}
	here := func() string { return at }
	beyond(here, "first", run.First, "first")
	beyond(here, "last", run.Last, "last")
	beyond(here, "hem", run.Hem, "hem")
	less("first", run.First, run.FirstMax)
	less("last", run.Last, run.LastMax)
	less("gap", run.GapMin, run.GapMax)
	for k := range run.Anchors {
		a := &run.Anchors[k]
		beyond(func() string { return source.Item(source.Join(at, "anchor"), k) }, "at", a.At, "anchor %q at", a.Name)
	}
	for k := range run.Clears {
		z := &run.Clears[k]
		zp := func() string { return source.Item(source.Join(at, "clear"), k) }
		if z.At.Has() {
			beyond(zp, "at", z.At, "clear %q at", z.Name)
			continue
		}
		beyond(zp, "from", z.From, "clear %q from", z.Name)
		if z.From.At(i).V >= z.To.At(i).V && mine(z.From, z.To) {
			r.fail(pathOf(zp(), "to", z.To, g.Sizes[i]), "a `to` below its `from`", "clear %q%s ends at %s, where it has not begun", z.Name, size(z.From, z.To), z.To.At(i).V.TextPlace(g.Units))
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
		edge, cut := measure.TextOver(s.Finished.V, s.Extension.V, g.Units)
		r.fail(source.Join(at, "finished"), "", "the finished edge, %s, lies beyond the cut edge, %s", edge, cut)
	}
	if s.Extension.Has() && s.TurnUnder.Has() && s.Construction == "folded" && s.TurnUnder.V >= s.Extension.V {
		r.fail(source.Join(at, "turn_under"), "", "turned under %s leaves nothing of the extension, %s",
			s.TurnUnder.V.TextPlace(g.Units), s.Extension.V.TextPlace(g.Units))
	}
	if (s.Construction == "folded" || s.Construction == "band") && s.Band.Has() && s.Finished.Has() && (s.Band.V/2-s.Finished.V).Abs() > measure.Inch/16 {
		r.fail(source.Join(at, "finished"), "one of the two, or a finished of "+(s.Band.V/2).ShortPlace(g.Units),
			"the centre line runs down the middle of the band, %s wide: that is %s to the finished edge, not %s",
			s.Band.V.TextPlace(g.Units), (s.Band.V / 2).TextPlace(g.Units), s.Finished.V.TextPlace(g.Units))
	}
	if f := &c.Flap; f.Width.Has() && f.Inset.Has() && f.Inset.V >= f.Width.V {
		r.fail(source.Join(source.Join(path, "flap"), "inset"), "less than its width", "the line of the flap's fasteners, %s, does not lie inside its finished edge, %s",
			f.Inset.V.TextPlace(g.Units), f.Width.V.TextPlace(g.Units))
	}
	if f := &c.Flap; f.Has() && (c.Where == "flap" || c.Where == "pocket") {
		write := "stand.finished in its place, from the line of its fasteners to its edge"
		if f.Width.Has() && f.Inset.Has() && f.Width.V > f.Inset.V {
			write = "stand = { finished = \"" + (f.Width.V - f.Inset.V).ShortPlace(g.Units) + "\" } in its place"
		}
		r.fail(source.Join(path, "flap"), write, "closure %q is itself a %s: [closure.flap] is for a flap of its own over an opening", c.Name, c.Where)
	}
	rows := &c.Rows
	if c.Lap != "double" && (rows.Distance.Has() || rows.Top.Has() || rows.Bottom.Has() || len(rows.Own) > 0 ||
		rows.Working.Has() || rows.Inner.Has() || rows.ShowHoles.Has()) {
		r.fail(source.Join(path, "rows"), `lap = "double"`, "two columns belong to a double-breasted front")
	}
	if rows.Top.Has() != rows.Bottom.Has() {
		r.fail(source.Join(path, "rows"), "both top and bottom", "rows that taper need both top and bottom")
	}
	if rows.Distance.Has() && rows.Top.Has() {
		r.fail(source.Join(source.Join(path, "rows"), "distance"), "either distance, or top and bottom", "the columns have both one distance and a taper")
	}
}
