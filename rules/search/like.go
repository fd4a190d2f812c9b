package search

import (
	"math"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// How like a candidate is to what the file has or asks for, and how fit it is
// for the cloth and the hole: classes, 0 the best. Where one class ends is ours.

// asked says whether a notion is of a size that was asked for.
func (ch *chooser) asked(n *catalog.Notion) bool {
	d := plan.AcrossOf(n)
	return (ch.o.From == 0 || d >= ch.o.From) && (ch.o.To == 0 || d <= ch.o.To)
}

// wish is the size that a closure has or asks for: of the range asked for the
// nearest to what the file has, or to what is usual at the place.
func (ch *chooser) wish(i int) measure.Length {
	c := &ch.g.Closures[i]
	d := plan.AcrossOf(&c.Notion)
	if d == 0 || ch.o.Usual && c.Notion.Kind == catalog.Button {
		d = UsualSize(c.Where, plan.Heavy(&ch.base.Closures[i]))
	}
	if ch.o.To > 0 {
		d = min(d, ch.o.To)
	}
	return max(d, ch.o.From)
}

// UsualSize is the button that is usual at a place: a tailor's glossary has 15
// mm at a cuff, about 20 mm at the front of a jacket and 25 to 30 mm at that of
// a coat; a flap, tab or strap takes one step less than the front, 24 ligne
// (sizes of two published coats side by side).
func UsualSize(where string, coat bool) measure.Length {
	switch where {
	case "cuff", "flap", "tab", "strap", "pocket", "collar":
		return 24 * measure.Ligne
	}
	if coat {
		return 44 * measure.Ligne
	}
	return 32 * measure.Ligne
}

// sizeClass is a class of how far a size is off another.
func sizeClass(d, wish measure.Length) int {
	if wish <= 0 {
		return 0
	}
	off := (d - wish).Abs()
	switch {
	case off <= measure.Ligne:
		return 0
	case off <= 3*measure.Ligne:
		return 1
	}
	return 2 + int((off-3*measure.Ligne)/(4*measure.Ligne))
}

// likeMake is how like a notion is to another in family and material.
func likeMake(n, now *catalog.Notion) int {
	switch {
	case n == nil:
		return 2
	case now.Name != "" && family(n.Name) == family(now.Name):
		return 0
	case n.Material != "" && n.Material == now.Material:
		return 1
	}
	return 2
}

// likeNotion puts a size first, and within it the make. A metal button is chosen
// where it is asked for: beside one that is none, it comes behind the sizes next to
// it (ours).
func (ch *chooser) likeNotion(n, now *catalog.Notion, wish measure.Length) int {
	like := 3*sizeClass(plan.AcrossOf(n), wish) + likeMake(n, now)
	if plan.OddMetal(n, now) {
		like += 9
	}
	return like
}

func likeNeedle(n, use measure.NeedleSize) int {
	off := plan.SizeIndex(n) - plan.SizeIndex(use)
	return max(off, -off)
}

// fitNeedle goes by the point for the cloth.
func fitNeedle(n *catalog.Needle, k *plan.Closure) int {
	_, cloth := plan.ClassOf(k)
	switch n.Point {
	case plan.PointFor(cloth):
		return 0
	case "", "universal":
		return 1
	}
	return 2
}

func likeThread(t *catalog.Thread, now *plan.Thread) int {
	off := int(math.Round(math.Abs(float64(t.Tex.V-now.Tex)) / 10))
	if t.Fibre != now.Fibre {
		off += 2
	}
	return off
}

// fitThread goes by what the cloth asks for.
func fitThread(t *catalog.Thread, now *plan.Thread) int {
	if t.Tex.V < now.Min || t.Tex.V > now.Max {
		return 1
	}
	return 0
}

func likeInterfacing(n, now *catalog.Interfacing) int {
	if now == nil {
		return 0
	}
	like := int(math.Abs(n.Weight.V.GSM()-now.Weight.V.GSM()) / 40)
	if n.Kind != now.Kind {
		like++
	}
	if n.Fixing != now.Fixing {
		like += 2
	}
	return like
}

// fitInterfacing is how fit an interfacing is for the cloth, by its weight: a
// fifth to three fifths of the shell is firm enough for a hole and no more than
// the shell carries; and under a coat a canvas or a weft insertion holds a hole,
// what is thin and firm holds its edge only.
func fitInterfacing(n *catalog.Interfacing, k *plan.Closure) int {
	cl, cloth := plan.ClassOf(k)
	if cloth == nil || !cloth.Weight.Has() || !n.Weight.Has() {
		return 1
	}
	fit := 0
	switch share := n.Weight.V.GSM() / cloth.Weight.V.GSM(); {
	case share >= 0.2 && share <= 0.6:
	case share >= 0.1 && share <= 1:
		fit = 1
	default:
		fit = 2
	}
	if plan.CoatKinds[cloth.Kind] && cl.Heavy() && n.Kind != "canvas" && n.Kind != "weft" {
		fit++
	}
	return fit
}
