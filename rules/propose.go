package rules

import (
	"cmp"
	"slices"
	"sort"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// The changes that rules propose. Each comes from the rule's formula turned
// round, or from the catalogue, and is only a candidate: whoever shows one
// has planned the garment with it first.
//
// The cost of a change is about the millimetres it moves, by our own scale:
// a needle or a marking step costs 1 or 2, another size of the same button
// twice the difference in width, another make 8 more, metal for none 16, another way
// of working 10 to 45, another cloth 80.

// sortChanges puts the smallest change first; equal ones by their words.
func sortChanges(cs []Change) {
	sort.SliceStable(cs, func(i, j int) bool { return CompareChanges(cs[i], cs[j]) < 0 })
}

func CompareChanges(a, b Change) int {
	if c := cmp.Or(cmp.Compare(len(a.With), len(b.With)), cmp.Compare(a.Cost, b.Cost)); c != 0 {
		return c
	}
	return slices.CompareFunc(a.With, b.With, func(a, b catalog.With) int {
		if a.Key != b.Key {
			return strings.Compare(a.Key+"=", b.Key+"=")
		}
		v, ok := a.Value.(string)
		if w, both := b.Value.(string); ok && both {
			return strings.Compare(v, w)
		}
		return strings.Compare(a.String(), b.String())
	})
}

// SameChange says whether two changes give the same keys the same values.
func SameChange(a, b Change) bool {
	return slices.EqualFunc(a.With, b.With, catalog.With.Equal)
}

func cheapest(cs []Change, n int) []Change {
	sortChanges(cs)
	return cs[:min(n, len(cs))]
}

// nearestUse offers other fasteners of the catalogue that will do, the nearest in a
// figure first.
func (x *Context) nearestUse(will func(n *catalog.Notion) bool, figure func(n *catalog.Notion) measure.Length) []Change {
	var out []Change
	for _, n := range x.G.Catalog.Notions {
		if will(n) {
			out = append(out, Change{With: x.use(n.Name), Says: "use " + n.Name, Cost: (figure(n) - figure(&x.C.Notion)).Abs().MM()})
		}
	}
	return cheapest(out, 6)
}

func diameterOf(n *catalog.Notion) measure.Length { return n.Diameter.V }

// key is the whole key of a value of the closure looked at.
func (x *Context) key(k string) string { return catalog.Key("closure", x.C.Name) + "." + k }

// set gives a key of the closure looked at a word, a number or a yes or no.
func set[T string | int | bool](x *Context, key string, value T) []catalog.With {
	return []catalog.With{catalog.Set(x.key(key), value)}
}

// setLength gives it a length, written in the units of the garment.
func (x *Context) setLength(key string, l measure.Length) []catalog.With {
	return []catalog.With{catalog.SetLength(x.key(key), l, x.U)}
}

// setMM gives it a length that the trade has in millimetres.
func (x *Context) setMM(key string, l measure.Length) []catalog.With {
	return []catalog.With{catalog.SetLength(x.key(key), l, measure.MM)}
}

// setNames gives it a list of names, such as layers.
func (x *Context) setNames(key string, names []string) []catalog.With {
	return []catalog.With{catalog.SetNames(x.key(key), names...)}
}

// setTable gives it a table.
func (x *Context) setTable(key string, table map[string]any) []catalog.With {
	return []catalog.With{catalog.SetTable(x.key(key), table)}
}

// takeOut takes it out.
func (x *Context) takeOut(key string) []catalog.With {
	return []catalog.With{catalog.TakeOut(x.key(key))}
}

// use gives the closure another fastener of the catalogue. What the file says
// of the old one goes with it.
func (x *Context) use(name string) []catalog.With { return x.G.Replace("closure", x.C.Name, name) }

// use is the entry of the catalogue that a change takes.
func (c *Change) use() string {
	name, _ := c.With[len(c.With)-1].Value.(string)
	return name
}

// sized gives a key a length that may be given by size, each made from what
// the size has now.
func (x *Context) sized(key string, s catalog.Sized, now func(size int) measure.Length, next func(measure.Length) measure.Length) []catalog.With {
	if len(s) < 2 {
		return x.setLength(key, x.writable(next(now(0))))
	}
	lengths := make([]measure.Length, len(x.G.Sizes))
	for i := range lengths {
		lengths[i] = x.writable(next(now(i)))
	}
	return []catalog.With{catalog.SetSizes(x.key(key), x.G.Sizes, lengths, x.U)}
}

// writable is a length as a person would write it: as it is where it has no
// more than three figures after the point, else to the nearest mark.
func (x *Context) writable(l measure.Length) measure.Length {
	if shownIn(l, x.U) {
		return l
	}
	return l.Printed(x.U)
}

// shownIn says whether a length is written exactly with up to three figures
// after the point.
func shownIn(l measure.Length, u measure.Unit) bool {
	if u.Is(measure.In) {
		return l%(in/64) == 0 || l%(in/1000) == 0
	}
	return l%measure.Micrometre == 0
}

// unitFor is the unit to write a length of a machine or a maker in: that of
// the garment, or the other where only that shows it exactly.
func (x *Context) unitFor(l measure.Length) measure.Unit {
	switch {
	case shownIn(l, x.U):
		return x.U
	case x.U.Is(measure.In) && shownIn(l, measure.MM):
		return measure.MM
	case !x.U.Is(measure.In) && shownIn(l, measure.In):
		return measure.In
	}
	return x.U
}

// setSold gives it such a length.
func (x *Context) setSold(key string, l measure.Length) []catalog.With {
	return []catalog.With{catalog.SetLength(x.key(key), l, x.unitFor(l))}
}

// anotherNotion are the keys that another fastener of the catalogue touches:
// its figures in the file go with the old one.
var anotherNotion = []string{"closure.*.use", "closure.*.notion", "closure.*.measured"}

const otherMake = 8 // ours: another make of button is a larger change than another size, and metal twice

// proposeSmaller offers the next smaller and thinner notions of the same
// kind in the catalogue, nearest first.
func proposeSmaller(x *Context, f *Finding) []Change {
	now := plan.ShapeOf(&x.C.Notion)
	d, pass := now.Across(), now.Passing()
	return x.otherNotions(12, func(s plan.Shape) bool {
		return s.Across() <= d && s.Passing() <= pass && (s.Across() < d || s.Passing() < pass)
	})
}

// proposeFitting offers the notions that are no larger and whose hole is no
// longer than that, or that need no wider stand than that; a limit of 0 is
// none.
func proposeFitting(x *Context, passing, stand measure.Length) []Change {
	now := plan.ShapeOf(&x.C.Notion)
	d, pass := now.Across(), now.Passing()
	return x.otherNotions(8, func(s plan.Shape) bool {
		return s.Across() <= d && s.Passing() <= pass && (passing == 0 || s.Passing() <= passing) && (stand == 0 || s.StandLeast() <= stand)
	})
}

// otherNotions are the notions of the same kind whose shape will do, the
// nearest in size first.
func (x *Context) otherNotions(most int, will func(plan.Shape) bool) []Change {
	now := plan.ShapeOf(&x.C.Notion)
	d, pass := now.Across(), now.Passing()
	type near struct {
		n    *catalog.Notion
		cost float64
	}
	var found []near
	for _, n := range x.G.Catalog.Notions {
		if n.Kind != x.C.Notion.Kind || n.Name == x.C.Notion.Name {
			continue
		}
		s := plan.ShapeOf(n)
		if !will(s) {
			continue
		}
		cost := 2*(d-s.Across()).Abs().MM() + (pass - s.Passing()).Abs().MM()
		if !sameMake(n.Name, x.C.Notion.Name) {
			cost += otherMake
		}
		if plan.OddMetal(n, &x.C.Notion) {
			cost += otherMake
		}
		found = append(found, near{n, cost})
	}
	sort.Slice(found, func(i, j int) bool {
		a, b := &found[i], &found[j]
		return cmp.Or(cmp.Compare(a.cost, b.cost), strings.Compare(a.n.Name, b.n.Name)) < 0
	})
	out := make([]Change, 0, min(most, len(found)))
	another := x.G.Replacing("closure", x.C.Name)
	for _, f := range found[:min(most, len(found))] {
		out = append(out, Change{With: another(f.n.Name), Says: "use " + f.n.Name, Cost: f.cost})
	}
	return out
}

func sameMake(a, b string) bool { return make_(a) == make_(b) }

// make_ is a notion's name without its size: horn of horn-40, hook-eye of
// hook-eye-8-5mm.
func make_(name string) string {
	i := strings.LastIndexByte(name, '-')
	if i == -1 {
		return name
	}
	for {
		j := strings.LastIndexByte(name[:i], '-')
		if j == -1 || name[j+1] < '0' || name[j+1] > '9' {
			return name[:i]
		}
		i = j
	}
}

// AnyTouches are the keys that ProposeAny touches.
var AnyTouches = slices.Concat([]string{
	"closure.*.hole_length", "closure.*.needle", "closure.*.stitch", "closure.*.stand.strip", "closure.*.loop", "closure.*.punch",
	"closure.*.backing", "closure.*.hole", "closure.*.direction", "closure.*.hole_rule", "thread.*",
}, anotherNotion, anotherStand, thinner)

// ProposeAny are changes of every sort to a closure, for a finding whose own
// rule has nothing that works, and for pairs.
func ProposeAny(x *Context, f *Finding) []Change {
	var out []Change
	add := func(cost float64, says string, with []catalog.With) {
		out = append(out, Change{With: with, Says: says, Cost: cost})
	}
	// What was asked for and could be left to be worked out.
	for _, g := range []struct {
		given     bool
		key, says string
	}{
		{x.C.HoleLen.Has(), "hole_length", "the length of the hole"},
		{x.C.Needle.Has(), "needle", "the needle"},
		{x.C.Stitch.Has(), "stitch", "the stitch"},
		{x.C.Stand.Strip.Has(), "stand.strip", "the width of the strip"},
		{x.C.Loop.Has(), "loop", "the length of the loop"},
		{x.C.PunchHole.Has(), "punch", "the punched hole"},
		{x.C.Backing.Has(), "backing", "the backing button"},
		{x.C.Hole != "", "hole", "the kind of hole"},
		{x.C.Direction != "", "direction", "the direction of the holes"},
		{x.C.Rule != "", "hole_rule", "the rule for the hole"},
	} {
		if g.given {
			add(5, "leave "+g.says+" to be worked out", x.takeOut(g.key))
		}
	}
	if h := &x.K.Hole; h.Needed {
		if h.Direction == "across" {
			add(12, "set the holes along the edge", set(x, "direction", "along"))
		} else {
			add(12, "set the holes across", set(x, "direction", "across"))
		}
		if h.Worked() {
			add(40, "work the holes by hand", set(x, "hole", "hand"))
			add(45, "make bound holes", set(x, "hole", "bound"))
		}
	}
	if x.C.Notion.Kind != catalog.Zip {
		now := plan.ShapeOf(&x.C.Notion)
		d, pass := now.Across(), now.Passing()
		out = append(out, x.otherNotions(6, func(s plan.Shape) bool { return s.Across() < d || s.Passing() < pass })...)
		out = append(out, x.otherNotions(4, func(s plan.Shape) bool { return s.Across() > d || s.Passing() > pass })...)
		out = append(out, proposeStand(x, f)...)
	}
	if strip := &x.K.Support; strip.Needed && strip.Given {
		l := strip.Usual.RoundUp(plan.HoleStep(x.U) * 2)
		add((l-strip.Strip).Abs().MM()/4, "cut the strip "+x.up(l)+" wide", x.setLength("stand.strip", l))
	}
	out = append(out, cheapest(proposeThinner(x, &Finding{}), 6)...)
	out = append(out, proposeNeedle(x)...)
	out = append(out, proposeThread(x)...)
	sort.SliceStable(out, func(i, j int) bool {
		return cmp.Or(cmp.Compare(out[i].Cost, out[j].Cost), CompareChanges(out[i], out[j])) < 0
	})
	out = slices.CompactFunc(out, SameChange)
	return out[:min(len(out), 40)]
}

// Keys are the keys that a change sets.
func (c *Change) Keys() string {
	keys := make([]string, len(c.With))
	for i, w := range c.With {
		keys[i] = w.Key
	}
	slices.Sort(keys)
	return strings.Join(keys, "\n")
}
