package plan

import (
	"math"
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
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

// And is what two figures together rest on.
func (b Basis) And(o Basis) Basis {
	if o.Ground > b.Ground && o.Ground.Weak() || o.Tol > b.Tol && !b.Ground.Weak() {
		b.Key = o.Key
	}
	b.Tol, b.Ground = b.Tol+o.Tol, max(b.Ground, o.Ground)
	return b
}

// given is BasisOf of a length that may be left out.
func given(m catalog.Measured, key string) Basis {
	if !m.Has() {
		return Basis{}
	}
	return BasisOf(m, key)
}

// layers is what a sum over layers rests on: of each its ± in that sum and the
// key that would say it better, with a ground of its own where it has one.
func (s *Stack) layers(from, to int, of func(l *Layer) (tol measure.Length, ground Ground, key string)) Basis {
	var b Basis
	var most measure.Length
	for i := from; i < to; i++ {
		l := &s.Layers[i]
		tol, ground, key := of(l)
		ground = max(ground, l.Ground)
		if i == from || tol > most && !b.Ground.Weak() || ground > b.Ground && ground.Weak() {
			table := "cloth"
			if l.Layer.Interfacing != nil {
				table = "interfacing"
			}
			most, b.Key = tol, catalog.Key(table, l.Layer.Name, key)
		}
		b.Tol, b.Ground = b.Tol+tol, max(b.Ground, ground)
	}
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

// EntryBasis is BasisOf, and of a figure of a catalogue entry no more than its
// sure.
func EntryBasis(m catalog.Measured, e *catalog.Entry, key string) Basis {
	b := BasisOf(m, key)
	b.Ground = FigureGround(m.From, e)
	return b
}

// FigureGround is the ground of EntryBasis.
func FigureGround(from catalog.Origin, e *catalog.Entry) Ground {
	g := BasisOf(catalog.Measured{From: from}, "").Ground
	if from == catalog.Stock {
		g = max(g, EntryGround(e))
	}
	return g
}

// ListGround is what a list or a share of a cloth, a fastener or a machine rests
// on: read where the garment's file says it, else no more than its entry is
// sure, and a default where there is no entry.
func ListGround(e *catalog.Entry, key string) Ground {
	switch {
	case e.Says(key):
		return Read
	case !e.Named():
		return Default
	}
	return EntryGround(e)
}

// WordGround is ListGround of a word. In the built-in catalogue sure is that of
// the figures, and the words are what a thing is sold as; an own catalogue that
// is from memory is so in all it says.
func WordGround(e *catalog.Entry, key string) Ground {
	g := ListGround(e, key)
	if g > Read && e.Named() && e.File == "" {
		g = Published
	}
	return g
}

// NotionWord is what a word of a closure's fastener rests on.
func NotionWord(c *catalog.Closure, key string) Basis {
	return Basis{Ground: WordGround(&c.Notion.Entry, key), Key: notionKey(c, key)}
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
// 15 mm gets one, whatever its entry was written from. So it is with the kind
// of a fastener, with the family, the face and the weave of a cloth, and with
// how an interfacing is fixed.
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
	if sold(n.Kind, key) {
		return BasisOf(m, "").Ground
	}
	return FigureGround(m.From, &n.Entry)
}

// Basis is what the thickness of a stack rests on: its layers' ± added up,
// and the layer that makes the most of it; of one measured on a sample that.
func (s *Stack) Basis() Basis {
	b := s.Free
	if !s.Sampled() {
		b = s.layers(0, len(s.Layers), func(l *Layer) (measure.Length, Ground, string) { return l.Tol, Read, "thickness" })
	}
	if s.Raised != 0 {
		b = Larger(s.Thick, s.Press, s.Thick-s.Raised, b)
	}
	return b
}

// FootBasis is what UnderFoot rests on. How far a lofty layer is pressed is
// known only where the file says so; else it may be pressed twice as far.
func (s *Stack) FootBasis() Basis {
	lofty := slices.ContainsFunc(s.Layers, func(l Layer) bool { return l.lofty() })
	switch {
	case lofty && s.SampledPressed():
		return s.Press
	case !lofty && (s.Sampled() || s.Raised != 0):
		return s.Basis()
	case s.Sampled():
		// How far it is pressed is still a guess.
		b := s.Free
		b.Ground, b.Key = Derived, sampleKey(s.Free.Key, "stack_pressed")
		b.Tol += s.Thick - s.UnderFoot()
		return b
	}
	return s.layers(0, len(s.Layers), func(l *Layer) (measure.Length, Ground, string) {
		switch {
		case !l.lofty():
			return l.Tol, Read, "thickness"
		case l.Layer.Cloth.Pressed.From == catalog.Given:
			return Scale(l.Tol, l.Share), Read, "thickness"
		}
		return Scale(l.Tol, l.Share) + l.Thick - l.Pressed, Derived, "pressed"
	})
}

// sampleKey is another key beside one of a sample.
func sampleKey(beside, key string) string {
	p, _ := source.ParsePath(beside)
	return append(p[:len(p)-1], source.Step{Key: key, Item: -1}).Key()
}

// PressedBasis is Basis of the pressed thickness. How far a layer is pressed
// is known only where the file says so; else it may lie as free as it was
// measured, or be pressed twice as far.
func (s *Stack) PressedBasis() Basis {
	switch {
	case s.SampledPressed():
		return s.Press
	case s.Sampled():
		b := s.Free
		if slices.ContainsFunc(s.Layers, func(l Layer) bool { return !l.ShareRead }) {
			b.Ground, b.Key = Derived, sampleKey(s.Free.Key, "stack_pressed")
			b.Tol += s.Thick - s.Pressed
		}
		return b
	}
	return s.layers(0, len(s.Layers), func(l *Layer) (measure.Length, Ground, string) {
		thick := Scale(l.Tol, l.Share)
		if l.ShareRead {
			return thick, Read, "thickness"
		}
		press, key := l.Thick-l.Pressed, "thickness"
		if press > thick {
			key = "pressed"
		}
		return thick + press, Derived, key
	})
}

// LooseBasis is PressedBasis of a stack that may be thicker: of a layer that may
// lie as free as it was measured, the whole ± counts.
func (s *Stack) LooseBasis() Basis {
	b := s.PressedBasis()
	if s.Sampled() || s.SampledPressed() {
		return b
	}
	for i := range s.Layers {
		if l := &s.Layers[i]; !l.ShareRead {
			b.Tol += l.Tol - Scale(l.Tol, l.Share)
		}
	}
	return b
}

// notionKey is the key of a figure of a closure's fastener.
func notionKey(c *catalog.Closure, key string) string {
	return catalog.Key("closure", c.Name, "notion", key)
}

// PassingBasis is what the passing length of a closure's fastener rests on.
func PassingBasis(c *catalog.Closure) Basis { return shapeBasis(c, Shape.Passing) }

// LoopBasis is what the girth that a loop must pass rests on.
func LoopBasis(c *catalog.Closure) Basis {
	b := shapeBasis(c, LoopGirth)
	if n := &c.Notion; ShapeOf(n).Kind == "toggle" && n.Section != "" && !n.Girth.Has() {
		b = b.And(NotionWord(c, "section"))
	}
	return b
}

// shapeFigures are those that the shape of a fastener is made of.
var shapeFigures = [...]struct {
	key string
	of  func(*catalog.Notion) *catalog.Measured
}{
	{"thickness", func(n *catalog.Notion) *catalog.Measured { return &n.Thickness }},
	{"diameter", func(n *catalog.Notion) *catalog.Measured { return &n.Diameter }},
	{"side", func(n *catalog.Notion) *catalog.Measured { return &n.Side }},
	{"girth", func(n *catalog.Notion) *catalog.Measured { return &n.Girth }},
	{"width", func(n *catalog.Notion) *catalog.Measured { return &n.Width }},
	{"length", func(n *catalog.Notion) *catalog.Measured { return &n.Length }},
	{"short_end", func(n *catalog.Notion) *catalog.Measured { return &n.ShortEnd }},
	{"knot", func(n *catalog.Notion) *catalog.Measured { return &n.Knot }},
}

// shapeBasis is what a length of the shape rests on that grows with its figures:
// those that count in it, each by as much as it is less without that one's ±.
func shapeBasis(c *catalog.Closure, of func(Shape) measure.Length) Basis {
	n, s := &c.Notion, ShapeOf(&c.Notion)
	b, at := Basis{}, of(s)
	low := *n // copied once: a notion is large
	var least [len(shapeFigures)]measure.Length
	for i, f := range shapeFigures {
		m := f.of(n)
		if !m.Has() {
			continue
		}
		less := func(by measure.Length) measure.Length {
			f.of(&low).V = max(1, m.V-by)
			l := at - of(ShapeOf(&low))
			f.of(&low).V = m.V
			return l
		}
		if less(max(m.Tol, mm/100)) == 0 {
			continue
		}
		d, by := NotionBasis(c, *m, f.key), m.Tol
		if f.key == "thickness" && d.Ground == Memory {
			d.Ground, by = Derived, m.V // it may be next to nothing
		}
		if by != 0 {
			d.Tol, least[i] = less(by), max(1, m.V-by)
		}
		b = b.And(d)
	}
	for i, v := range least {
		if v != 0 {
			shapeFigures[i].of(&low).V = v
		}
	}
	b.Tol = at - of(ShapeOf(&low)) // of all together
	if n.Shape != "" && s.Kind != "toggle" && s.Girth == 0 && WordGround(&n.Entry, "shape") == Memory {
		// Whatever its shape, it is no less than as long as it is across, or as its
		// side is.
		flat := Shape{Kind: "flat", Diameter: s.Across()}
		if s.Side != 0 {
			flat.Diameter = min(flat.Diameter, s.Side)
		}
		if most := at - of(flat); most > b.Tol {
			b.Tol, b.Key = most, notionKey(c, "shape")
		}
		b.Ground = max(b.Ground, Derived)
	}
	return b
}

// AcrossBasis is what the width of a closure's fastener rests on, AcrossOf.
func AcrossBasis(c *catalog.Closure) Basis { return widest(c, false) }

// widest is what the widest of a fastener rests on, with the head of its tack.
func widest(c *catalog.Closure, head bool) Basis {
	n, w := &c.Notion, wide{c: c}
	switch n.Kind {
	case catalog.Hook:
		w.or(n.Width, "width", 1)
		w.or(n.Length, "length", 1)
		return w.of
	case catalog.Eyelet:
		w.or(n.Flange, "flange", 1)
		w.or(n.Diameter, "diameter", 1)
		w.or(n.Inside, "inside", 1)
		return w.of
	}
	w.outline()
	if n.Kind == catalog.Toggle {
		return w.of
	}
	w.or(n.Flange, "flange", 1)
	if head {
		w.or(n.Head, "head", 1)
	}
	return w.of
}

// wide is how wide a fastener is by the figures looked at, and what that rests on.
type wide struct {
	c  *catalog.Closure
	v  measure.Length
	of Basis
}

// or looks at another figure, of which so much counts.
func (w *wide) or(m catalog.Measured, key string, by float64) {
	if !m.Has() {
		return
	}
	l, of := Scale(m.V, by), NotionBasis(w.c, m, key).Scaled(by)
	if w.v != 0 {
		of = Larger(w.v, w.of, l, of)
	}
	w.of, w.v = of, max(w.v, l)
}

// outline looks at those of its shape, see Shape.Across.
func (w *wide) outline() {
	n, s := &w.c.Notion, ShapeOf(&w.c.Notion)
	w.or(n.Knot, "knot", 1)
	switch {
	case s.Kind == "toggle" && n.Width.Has():
		w.or(n.Width, "width", 1)
		if n.Kind != catalog.Toggle {
			w.or(n.Diameter, "diameter", 1)
		}
	case s.Kind == "toggle" && !n.Diameter.Has():
		w.or(n.Girth, "girth", 1/math.Pi)
	case n.Knot.Has():
	case s.Diameter != 0:
		w.or(n.Diameter, "diameter", 1)
	case s.Kind == "square" && n.Side.Has():
		w.or(n.Side, "side", math.Sqrt2)
	case s.Kind == "ball":
		w.or(n.Girth, "girth", 1/math.Pi)
	case s.Kind != "flat" && s.Kind != "square":
		w.or(n.Girth, "girth", 0.5)
	case n.Girth.Has():
		w.v, w.of = s.Across(), NotionBasis(w.c, n.Girth, "girth").Scaled(0.5)
		if n.Thickness.Has() {
			w.of = w.of.And(NotionBasis(w.c, n.Thickness, "thickness"))
		}
	}
}

// AlongBasis is what it rests on how much of the run a closure's fastener takes:
// of a hook, which lies across the edge, its width.
func AlongBasis(c *catalog.Closure) Basis {
	n := &c.Notion
	switch {
	case n.Kind != catalog.Hook:
		return AcrossBasis(c)
	case n.Width.Has():
		return NotionBasis(c, n.Width, "width")
	}
	return NotionBasis(c, n.Length, "length")
}

// RoundBasis is what the reach of a closure's fastener along its run rests on,
// Reach.Rim: half its width.
func RoundBasis(c *catalog.Closure) Basis {
	if c.Notion.Kind == catalog.Hook {
		return AlongBasis(c).Scaled(0.5)
	}
	return widest(c, true).Scaled(0.5)
}

// StandNeedBasis is what the least stand of a closure's fastener rests on.
func StandNeedBasis(c *catalog.Closure) Basis {
	switch n := &c.Notion; {
	case n.Kind == catalog.Hook:
		return Basis{}
	case ShapeOf(n).Kind == "toggle":
		return RimBasis(c)
	}
	return AcrossBasis(c).Scaled(0.5)
}

// RimBasis is what the reach of a closure's fastener towards the edge rests
// on: half its width, or the shorter end of a toggle. A hook does not reach there.
func RimBasis(c *catalog.Closure) Basis {
	n := &c.Notion
	if n.Kind == catalog.Hook {
		return Basis{}
	}
	half, s := RoundBasis(c), ShapeOf(n)
	if s.Kind != "toggle" || !n.ShortEnd.Has() && !n.Length.Has() {
		return half
	}
	end := NotionBasis(c, n.Length, "length").Scaled(0.5)
	if n.ShortEnd.Has() {
		end = NotionBasis(c, n.ShortEnd, "short_end")
	}
	return Larger(s.ShortEnd, end, rimOf(n), half)
}

// Larger is what the larger of two figures rests on: its own ±, but no more than
// brings it down to the other. A weak ground of the other cannot hold it there.
func Larger(a measure.Length, of Basis, b measure.Length, than Basis) Basis {
	if b > a {
		a, b, of, than = b, a, than, of
	}
	if than.Ground.Weak() {
		return of
	}
	return of.capped(a - b + than.Tol)
}

// Smaller is what the smaller of two figures rests on: either may be the one.
func Smaller(a measure.Length, of Basis, b measure.Length, than Basis) Basis {
	both := of.And(than)
	both.Tol = max(of.Tol-max(0, a-b), than.Tol-max(0, b-a), 0)
	return both
}

// capped is the basis of what decides only by so much: without it there is that
// much less, and no more.
func (b Basis) capped(by measure.Length) Basis {
	if b.Ground.Weak() {
		b.Ground, b.Tol = Derived, by
	}
	b.Tol = min(b.Tol, by)
	return b
}

// FlapBasis is what the line of a flap's fasteners rests on: without an inset
// it is the usual one, from the flap's edge.
func FlapBasis(c *catalog.Closure, k *Closure) Basis {
	key := func(s string) string { return catalog.Key("closure", c.Name, "flap", s) }
	if !c.Flap.Inset.Has() && k.Stand.Have < c.Flap.Width.V {
		return BasisOf(c.Flap.Width, key("width")).And(BasisOf(c.Flap.Inset, key("inset")))
	}
	return BasisOf(c.Flap.Inset, key("inset"))
}

// ZipBasis is what it rests on how far a zip reaches from the middle of its
// teeth: its tape, or half its chain where that is wider.
func ZipBasis(c *catalog.Closure) Basis {
	n := &c.Notion
	if !n.Tape.Has() {
		return ChainBasis(c)
	}
	b := NotionBasis(c, n.Tape, "tape")
	if b.Ground.Weak() {
		return b
	}
	return Larger(n.Tape.V, b, ZipHalf(n), ChainBasis(c))
}

// ZipNeedBasis is what the length of zip that a size takes rests on. Where the
// file does not say how far below the top it begins, it may begin at the top,
// or twice as far down as is usual.
func ZipNeedBasis(c *catalog.Closure, size int) Basis {
	b := BasisOf(c.Run.Length.At(size), catalog.Key("closure", c.Name, "run", "length"))
	key := func(s string) string { return catalog.Key("closure", c.Name, "run", s) }
	b = b.And(given(c.Run.First.At(size), key("first"))).And(given(c.Run.Last.At(size), key("last")))
	if !c.Run.First.Has() && !IsShort(c, c.Run.Length.At(size).V) {
		b = b.And(Basis{Tol: ZipTop, Ground: Derived, Key: key("first")})
	}
	return b
}

// ChainBasis is what half the chain of a zip rests on: measured, or worked out
// from its number.
func ChainBasis(c *catalog.Closure) Basis {
	if c.Notion.Chain.Has() {
		return NotionBasis(c, c.Notion.Chain, "chain").Scaled(0.5)
	}
	return Basis{Tol: ChainOver / 2, Ground: max(Derived, BasisOf(catalog.Measured{From: c.Notion.Number.From}, "").Ground), Key: notionKey(c, "chain")}
}

// StandBasis is what the stand of a closure rests on. Of a folded band that
// is worked out from its extension, a third of the cloth that the folds take;
// of a flap over an opening its width and the inset of its fasteners.
func StandBasis(c *catalog.Closure, k *Closure) Basis {
	key := func(s string) string { return catalog.Key("closure", c.Name, "stand", s) }
	f := &c.Stand
	switch {
	case c.Flap.Has():
		w, in := catalog.Key("closure", c.Name, "flap", "width"), catalog.Key("closure", c.Name, "flap", "inset")
		switch {
		case c.Flap.Inset.Has():
			return BasisOf(c.Flap.Inset, in).And(BasisOf(c.Flap.Width, w))
		case k.Stand.Have == c.Flap.Width.V: // the usual one would be wider
			return BasisOf(c.Flap.Width, w).And(BasisOf(c.Flap.Inset, in))
		}
		return BasisOf(c.Flap.Inset, in)
	case f.Construction == "folded" && !f.Band.Has() && !f.Finished.Has() && f.Extension.Has():
		return BasisOf(f.Extension, key("extension")).And(FoldBasis(k)).And(TurnBasis(c)).Scaled(1. / 3)
	case f.Finished.Has() && (!f.Band.Has() || f.Construction != "folded" && f.Construction != "band"):
		return BasisOf(f.Finished, key("finished"))
	case f.Band.Has():
		return BasisOf(f.Band, key("band")).Scaled(0.5)
	}
	return BasisOf(f.Extension, key("extension")).And(given(f.Seam, key("seam")))
}

// TurnBasis is what the turn-under or the tuck of a folded band rests on.
func TurnBasis(c *catalog.Closure) Basis {
	key := func(s string) string { return catalog.Key("closure", c.Name, "stand", s) }
	switch {
	case c.Stand.Concealed.Or(false): // which takes neither
		return Basis{}
	case c.Stand.Tuck.Has():
		return BasisOf(c.Stand.Tuck, key("tuck")).Scaled(2)
	}
	return given(c.Stand.TurnUnder, key("turn_under"))
}

// BandBasis is what the width of a band that the file gives rests on.
func BandBasis(c *catalog.Closure) Basis {
	key := func(s string) string { return catalog.Key("closure", c.Name, "stand", s) }
	if c.Stand.Band.Has() {
		return BasisOf(c.Stand.Band, key("band"))
	}
	return given(c.Stand.Finished, key("finished")).Scaled(2)
}

// InBasis is what it rests on how far inside its line a fastener reaches: half
// its width, or the longer end of a toggle.
func InBasis(c *catalog.Closure) Basis {
	n := &c.Notion
	switch {
	case n.Kind == catalog.Hook && n.Length.Has():
		return NotionBasis(c, n.Length, "length")
	case ShapeOf(n).Kind != "toggle" || !n.Length.Has():
		return RimBasis(c)
	}
	b, s := NotionBasis(c, n.Length, "length"), ShapeOf(n)
	if n.ShortEnd.Has() {
		b = b.And(NotionBasis(c, n.ShortEnd, "short_end"))
	} else {
		b = b.Scaled(0.5)
	}
	return Larger(n.Length.V-s.ShortEnd, b, rimOf(n), RoundBasis(c))
}

// HeldBasis is what half the width of what holds a fastener rests on: its post,
// or the holes that it is sewn through.
func HeldBasis(c *catalog.Closure) Basis {
	switch n := &c.Notion; {
	case n.HoleGap.V > n.PostWidth.V:
		return NotionBasis(c, n.HoleGap, "hole_gap").Scaled(0.5)
	case n.PostWidth.Has():
		return NotionBasis(c, n.PostWidth, "post_width").Scaled(0.5)
	}
	return Basis{}
}

// GivenHole is what the length of a hole that the file gives rests on.
func GivenHole(c *catalog.Closure) Basis {
	return given(c.HoleLen, catalog.Key("closure", c.Name, "hole_length"))
}

// FoldBasis is what the cloth that a band's folds take rests on: that of the
// cloth for each fold, and that of the core.
func FoldBasis(k *Closure) Basis {
	first, last := k.Over.cloths()
	if first == -1 {
		return Basis{}
	}
	return k.Over.layers(first, max(last, first+1), func(l *Layer) (measure.Length, Ground, string) {
		if l == &k.Over.Layers[first] {
			return l.Tol * measure.Length(k.Stand.Folds), Read, "thickness"
		}
		return l.Tol, Read, "thickness"
	})
}
