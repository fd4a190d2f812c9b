package plan

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// Ground is what a figure rests on.
type Ground uint8

// The grounds, the firmest first. From Ours on a ground is too weak to forbid
// anything: no conflict rests on it.
const (
	Read      Ground = iota // measured or written by the user
	Published               // printed by a standard, a handbook, a maker
	Derived                 // worked out from the above; an estimate's bounds are its ±
	Practice                // common practice, no source
	Ours                    // our own choice
	Default                 // taken because nothing was said
	Memory                  // from memory
)

func (g Ground) String() string {
	return [...]string{"read", "published", "derived", "common practice", "our own choice", "a default", "from memory"}[g]
}

// Weak says whether a ground is too weak to forbid anything.
func (g Ground) Weak() bool { return g >= Ours }

// Basis is what a compared figure rests on: how far off it may be, on what
// ground it stands, and the key of the file that would say it better.
type Basis struct {
	Tol    measure.Length // ±
	Ground Ground
	Key    string // as --with takes it
}

// Scaled is the basis of a figure multiplied by a factor.
func (b Basis) Scaled(by float64) Basis {
	b.Tol = Scale(b.Tol, by)
	return b
}

// BasisOf is what a length of the file or of a catalogue entry rests on.
func BasisOf(m catalog.Measured, key string) Basis {
	b := Basis{Tol: m.Tol, Ground: Read, Key: key}
	switch m.From {
	case catalog.Unset, catalog.Default:
		b.Ground = Default
	case catalog.Estimated:
		b.Ground = Derived
	case catalog.Stock:
		b.Ground = Published
	}
	return b
}

// EntryGround is what the figures of a catalogue entry rest on, by its sure.
func EntryGround(e *catalog.Entry) Ground {
	switch e.Sure {
	case "memory":
		return Memory
	case "derived":
		return Derived
	}
	return Published
}

// sold are the figures that a fastener is asked for by: who buys a snap of
// 15 mm gets one, whatever its entry was written from.
func sold(kind, key string) bool {
	switch kind {
	case catalog.Toggle, catalog.Hook:
		return key == "length"
	case catalog.Eyelet:
		return key == "inside"
	case catalog.Zip:
		return key == "number"
	}
	return key == "diameter"
}

// NotionBasis is what a figure of a closure's fastener rests on: BasisOf, and
// of a catalogue entry no more than its sure.
func NotionBasis(c *catalog.Closure, m catalog.Measured, key string) Basis {
	b := BasisOf(m, notionKey(c, key))
	b.Ground = notionGround(&c.Notion, m, key)
	return b
}

// notionGround is the ground of NotionBasis.
func notionGround(n *catalog.Notion, m catalog.Measured, key string) Ground {
	g := BasisOf(m, "").Ground
	if m.From == catalog.Stock && !sold(n.Kind, key) {
		g = max(g, EntryGround(&n.Entry))
	}
	return g
}

// Basis is what the thickness of a stack rests on: its layers' ± added up,
// and the layer that makes the most of it.
func (s *Stack) Basis() Basis {
	b := Basis{Tol: s.Tol, Ground: Read}
	most := measure.Length(-1)
	for i := range s.Layers {
		l := &s.Layers[i]
		if l.Estimated {
			b.Ground = Derived
		}
		if l.Tol > most {
			table := "cloth"
			if l.Layer.Interfacing != nil {
				table = "interfacing"
			}
			most, b.Key = l.Tol, catalog.Key(table, l.Layer.Name, "thickness")
		}
	}
	return b
}

// FootBasis is what UnderFoot rests on. How far a lofty layer is pressed is
// known only where the file says so; else it may be pressed twice as far.
func (s *Stack) FootBasis() Basis {
	b, most := Basis{Ground: Read}, measure.Length(-1)
	for i := range s.Layers {
		l := &s.Layers[i]
		tol, key := l.Tol, "thickness"
		if l.lofty() {
			tol = Scale(l.Tol, l.Share)
			if l.Layer.Cloth.Pressed.From != catalog.Given {
				b.Ground = Derived
				tol += l.Thick - l.Pressed
				key = "pressed"
			}
		}
		if l.Estimated {
			b.Ground = Derived
		}
		b.Tol += tol
		if tol > most {
			table := "cloth"
			if l.Layer.Interfacing != nil {
				table = "interfacing"
			}
			most, b.Key = tol, catalog.Key(table, l.Layer.Name, key)
		}
	}
	return b
}

// PressedBasis is Basis of the pressed thickness. How far a layer is pressed
// is known only where the file says so; else it may lie as free as it was
// measured, or be pressed twice as far.
func (s *Stack) PressedBasis() Basis {
	b := Basis{Ground: Read}
	most := measure.Length(-1)
	for i := range s.Layers {
		l := &s.Layers[i]
		table := "cloth"
		if l.Layer.Interfacing != nil {
			table = "interfacing"
		}
		thick, press := Scale(l.Tol, l.Share), measure.Length(0)
		if l.Estimated || !l.ShareRead {
			b.Ground = Derived
		}
		if !l.ShareRead {
			press = l.Thick - l.Pressed
		}
		b.Tol += thick + press
		if thick+press > most {
			most, b.Key = thick+press, catalog.Key(table, l.Layer.Name, "thickness")
			if press > thick {
				b.Key = catalog.Key(table, l.Layer.Name, "pressed")
			}
		}
	}
	return b
}

// notionKey is the key of a figure of a closure's fastener.
func notionKey(c *catalog.Closure, key string) string {
	return catalog.Key("closure", c.Name, "notion", key)
}

// PassingBasis is what the passing length of a closure's fastener rests on.
func PassingBasis(c *catalog.Closure) Basis {
	n := &c.Notion
	if n.Girth.Has() {
		return NotionBasis(c, n.Girth, "girth").Scaled(0.5)
	}
	b := NotionBasis(c, n.Thickness, "thickness")
	switch {
	case n.Thickness.From == catalog.Unset:
		b.Ground = Published // of its diameter alone
	case b.Ground == Memory:
		b.Ground, b.Tol = Derived, n.Thickness.V // it may be next to nothing
	}
	for _, m := range []struct {
		l   catalog.Measured
		key string
	}{{n.Diameter, "diameter"}, {n.Side, "side"}, {n.Width, "width"}, {n.ShortEnd, "short_end"}} {
		if m.l.Tol > b.Tol {
			b.Key = notionKey(c, m.key)
		}
		b.Tol += m.l.Tol
	}
	return b
}

// AcrossBasis is what the width of a closure's fastener rests on.
func AcrossBasis(c *catalog.Closure) Basis {
	n := &c.Notion
	type figure struct {
		l   catalog.Measured
		key string
	}
	all := [...]figure{{n.Diameter, "diameter"}, {n.Side, "side"}, {n.Flange, "flange"}, {n.Head, "head"}}
	figures := all[:]
	switch n.Kind {
	case catalog.Toggle:
		figures = []figure{{n.Width, "width"}, {n.Diameter, "diameter"}}
	case catalog.Hook:
		figures = []figure{{n.Width, "width"}, {n.Length, "length"}}
	case catalog.Eyelet:
		figures = []figure{{n.Flange, "flange"}, {n.Diameter, "diameter"}, {n.Inside, "inside"}}
	case catalog.Frog:
		figures = []figure{{n.Knot, "knot"}}
	}
	widest := figure{n.Girth, "girth"} // where nothing else is said
	for _, m := range figures {
		if m.l.Has() && (widest.key == "girth" || m.l.V > widest.l.V) {
			widest = m
		}
	}
	return NotionBasis(c, widest.l, widest.key)
}

// RimBasis is what the reach of a closure's fastener towards the edge rests
// on: half its width, or the shorter end of a toggle.
func RimBasis(c *catalog.Closure) Basis {
	n := &c.Notion
	switch {
	case ShapeOf(n).Kind != "toggle":
		return AcrossBasis(c).Scaled(0.5)
	case n.ShortEnd.Has():
		return NotionBasis(c, n.ShortEnd, "short_end")
	}
	return NotionBasis(c, n.Length, "length").Scaled(0.5)
}

// FlapBasis is what the line of a flap's fasteners rests on.
func FlapBasis(c *catalog.Closure) Basis {
	b := BasisOf(c.Flap.Width, catalog.Key("closure", c.Name, "flap", "width"))
	if in := c.Flap.Inset; in.Has() && in.Tol >= b.Tol {
		b = BasisOf(in, catalog.Key("closure", c.Name, "flap", "inset"))
	}
	return b
}

// ZipBasis is what the tape and the teeth of a zip rest on.
func ZipBasis(c *catalog.Closure) Basis {
	if c.Notion.Tape.Has() {
		return NotionBasis(c, c.Notion.Tape, "tape")
	}
	return ChainBasis(c)
}

// ZipNeedBasis is what the length of zip that a size takes rests on. Where the
// file does not say how far below the top it begins, it may begin at the top,
// or twice as far down as is usual.
func ZipNeedBasis(c *catalog.Closure, size int) Basis {
	b := BasisOf(c.Run.Length.At(size), catalog.Key("closure", c.Name, "run", "length"))
	for _, m := range [2]catalog.Measured{c.Run.First.At(size), c.Run.Last.At(size)} {
		b.Tol += m.Tol
	}
	if !c.Run.First.Has() && !IsShort(c, c.Run.Length.At(size).V) {
		b.Tol, b.Ground, b.Key = b.Tol+zipTop, Derived, catalog.Key("closure", c.Name, "run", "first")
	}
	return b
}

// ChainBasis is what half the chain of a zip rests on: measured, or worked out
// from its number.
func ChainBasis(c *catalog.Closure) Basis {
	if c.Notion.Chain.Has() {
		return NotionBasis(c, c.Notion.Chain, "chain").Scaled(0.5)
	}
	return Basis{Tol: ChainOver / 2, Ground: Derived, Key: notionKey(c, "chain")}
}

// StandBasis is what the stand of a closure rests on. Of a folded band that
// is worked out from its extension, a third of the cloth that the folds take;
// of a flap over an opening its width and the inset of its fasteners.
func StandBasis(c *catalog.Closure, k *Closure) Basis {
	key := func(s string) string { return catalog.Key("closure", c.Name, "stand", s) }
	f := &c.Stand
	switch {
	case c.Flap.Has():
		return FlapBasis(c)
	case f.Construction == "folded" && !f.Band.Has() && !f.Finished.Has() && f.Extension.Has():
		b := BasisOf(f.Extension, key("extension"))
		cloth := FoldBasis(k)
		if cloth.Tol > b.Tol {
			b.Key, b.Ground = cloth.Key, max(b.Ground, cloth.Ground)
		}
		b.Tol = (b.Tol + cloth.Tol) / 3
		return b
	case f.Band.Has():
		return BasisOf(f.Band, key("band")).Scaled(0.5)
	case f.Finished.Has():
		return BasisOf(f.Finished, key("finished"))
	}
	return BasisOf(f.Extension, key("extension"))
}

// FoldBasis is what the cloth that a band's folds take rests on: that of the
// cloth for each fold, and that of the core.
func FoldBasis(k *Closure) Basis {
	first, last := k.Over.cloths()
	if first < 0 {
		return Basis{}
	}
	b, most := Basis{Ground: Read}, measure.Length(-1)
	for i := first; i < max(last, first+1); i++ {
		l := &k.Over.Layers[i]
		tol, table := l.Tol, "cloth"
		if i == first {
			tol *= measure.Length(k.Stand.Folds)
		}
		if l.Layer.Interfacing != nil {
			table = "interfacing"
		}
		if l.Estimated {
			b.Ground = Derived
		}
		b.Tol += tol
		if tol > most {
			most, b.Key = tol, catalog.Key(table, l.Layer.Name, "thickness")
		}
	}
	return b
}
