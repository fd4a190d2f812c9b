package plan

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// HoleBasis is what the length of a hole rests on. One that is worked out may
// be shorter by its ease, which hangs on a limit of our own, and by what it
// was rounded up.
func HoleBasis(c *catalog.Closure, k *Closure) Basis {
	h := &k.Hole
	key := catalog.Key("closure", c.Name, "hole_length")
	if h.Given {
		return BasisOf(c.HoleLen, key)
	}
	b := CutBasis(c, k)
	if h.Sampled && !h.Fixed {
		return b
	}
	more := max(0, h.Length-h.Passing)
	if more > b.Tol {
		b.Key = key
	}
	b.Tol += more
	return b
}

// CutBasis is what the passing length of a closure's hole rests on: a sample,
// else its fastener.
func CutBasis(c *catalog.Closure, k *Closure) Basis {
	if k.Hole.Sampled {
		return BasisOf(c.Sample.HoleLength, catalog.Key("closure", c.Name, "measured", "hole_length"))
	}
	return PassingBasis(c)
}

// InsideBasis is what it rests on how far inside its line a closure reaches:
// its hole, else its fastener. A hole along the edge is as wide as the machine
// sews it.
func InsideBasis(c *catalog.Closure, k *Closure) Basis {
	h := &k.Hole
	switch {
	case k.Apart() && c.Inset.V >= k.Reach.In:
		return BasisOf(c.Inset, catalog.Key("closure", c.Name, "inset"))
	case LapOf(c) == "double", !h.Needed, h.Kind == "loop":
		return InBasis(c)
	case h.Direction == "along":
		return Basis{Ground: Published, Key: catalog.Key("closure", c.Name, "hole")}
	}
	return HoleBasis(c, k)
}

// ReachInBasis is what it rests on how far inside its line a fastener and its
// hole reach: what reaches farther. A hole along the edge is as wide as the
// machine sews it.
func ReachInBasis(c *catalog.Closure, k *Closure) Basis {
	h := &k.Hole
	switch {
	case !h.Needed || h.Kind == "loop" || k.Reach.In <= LieOf(&c.Notion).In:
		return InBasis(c)
	case h.Direction == "along":
		return Basis{Ground: Published, Key: catalog.Key("closure", c.Name, "hole")}
	}
	return HoleBasis(c, k)
}

// HeldAtBasis is what it rests on how far inside the line where the sides meet
// a fastener is held, see Closure.Held.
func HeldAtBasis(c *catalog.Closure, k *Closure) Basis {
	key := func(s ...string) string { return catalog.Key(append([]string{"closure", c.Name}, s...)...) }
	switch {
	case k.Apart():
		return BasisOf(c.Inset, key("inset"))
	case c.Flap.Has():
		return FlapBasis(c, k)
	case LapOf(c) == "double":
		return ColumnBasis(c)
	case k.Loop.Hooks && LapOf(c) == "edge":
		return BasisOf(c.Edge, key("edge"))
	case k.Loop.Hooks:
		return EdgeBasis(c, k).And(BasisOf(c.Edge, key("edge")))
	case LapOf(c) == "edge" && k.Loop.Needed:
		return EdgeBasis(c, k)
	}
	return Basis{}
}

// UpBasis is what it rests on how much of the run a fastener and its hole take
// above the centre. A hole along begins a fixed way above it, or with its half.
func UpBasis(c *catalog.Closure, k *Closure) Basis {
	rim, h := RoundBasis(c), &k.Hole
	if h.Direction != "along" || !k.SewnHole() {
		return rim
	}
	hole := Basis{}
	if h.Centred {
		hole = HoleBasis(c, k).Scaled(0.5)
	}
	return Larger(k.Reach.Rim, rim, h.Beyond+(h.Stitched-h.Length)/2, hole)
}

// DownBasis is the same below it.
func DownBasis(c *catalog.Closure, k *Closure) Basis {
	rim, h := RoundBasis(c), &k.Hole
	if h.Direction != "along" || !k.SewnHole() {
		return rim
	}
	hole := HoleBasis(c, k)
	if h.Centred {
		hole = hole.Scaled(0.5)
	}
	return Larger(k.Reach.Rim, rim, h.Inside+(h.Stitched-h.Length)/2, hole)
}

// ColumnBasis is what the distance of a double-breasted column rests on: a
// default where the file does not say it.
func ColumnBasis(c *catalog.Closure) Basis {
	if LapOf(c) != "double" {
		return Basis{}
	}
	key := func(s string) string { return catalog.Key("closure", c.Name, "rows", s) }
	b := BasisOf(c.Rows.Distance, key("distance"))
	if c.Rows.Top.Has() && c.Rows.Bottom.Has() {
		// One of them decides.
		b = BasisOf(c.Rows.Top, key("top"))
		o := BasisOf(c.Rows.Bottom, key("bottom"))
		tol := max(b.Tol, o.Tol)
		b = b.And(o)
		b.Tol = tol
	}
	return b
}

// EdgeBasis is StandBasis, and a default where the file gives no width: what its
// fastener is usually given. Of hardware the file may say how far from the edge
// it is set.
func EdgeBasis(c *catalog.Closure, k *Closure) Basis {
	if k.Stand.Known {
		return StandBasis(c, k)
	}
	n := &c.Notion
	if f := &c.Stand; f.Construction != "folded" && f.Construction != "band" && c.Edge.Has() && k.Stand.Have == c.Edge.V {
		return BasisOf(c.Edge, catalog.Key("closure", c.Name, "edge"))
	}
	b := StandNeedBasis(c)
	switch _, usual, full := StandFor(n); {
	case n.Kind == catalog.Zip:
		b = Basis{}
	case n.Kind == catalog.Hook:
		b = InBasis(c)
	case ShapeOf(n).Kind != "toggle" && full >= usual:
		b = b.Scaled(2)
	}
	b.Ground, b.Key = Default, catalog.Key("closure", c.Name, "stand", "finished")
	return b
}

// UnderEdgeBasis is what it rests on where the edge of the under piece lies in
// the opening of closure i. One that is folded beside a zip may lie as near as
// its teeth: how far from them the fold is made is our own.
func (p *Plan) UnderEdgeBasis(i int) Basis {
	zip := p.Zip(i)
	if zip == nil || !zip.folds() {
		if lap := p.Lap(i); lap != -1 {
			c := &p.Garment.Closures[lap]
			if LapOf(c) == "edge" {
				return Basis{}
			}
			return EdgeBasis(c, &p.Closures[lap]).And(ColumnBasis(c))
		}
	}
	switch {
	case zip == nil:
		return Basis{} // the edges meet
	case !zip.folds() && zip.Stand.Known:
		return StandBasis(zip.Closure, zip)
	}
	return ChainBasis(zip.Closure).And(Basis{Tol: zip.Zip.Fold - zip.Zip.Half, Ground: Derived, Key: catalog.Key("closure", zip.Closure.Name, "stand", "extension")})
}

// RuleBasis is what the length of a hole by another rule rests on, which the
// file asks for by name: it may be shorter by what it was rounded up.
func RuleBasis(c *catalog.Closure, k *Closure) Basis {
	h, w := &k.Hole, wide{c: c}
	w.outline()
	b := w.of
	switch c.Rule {
	case "plus-thickness-eighth":
		b = PassingBasis(c)
	case "percent":
		b = b.Scaled(1.25)
	}
	b.Tol += max(0, h.Length-h.Passing-h.Ease)
	return b
}

// StripBasis is what it rests on where a strip begins.
func StripBasis(c *catalog.Closure, k *Closure) Basis {
	f := &c.Stand
	key := func(s string) string { return catalog.Key("closure", c.Name, "stand", s) }
	switch {
	case k.Support.Placed && f.StripFromEdge.Has() && (c.Flap.Has() || !f.Extension.Has()):
		// Its cut edge is worked out from the finished one.
		b := BasisOf(f.StripFromEdge, key("strip_from_edge")).And(EdgeBasis(c, k)).And(BasisOf(f.Seam, key("seam")))
		if k.Stand.Construction == "folded" {
			b = b.And(FoldBasis(k)).And(TurnBasis(c))
		}
		return b
	case k.Support.Placed && f.StripFromEdge.Has():
		return BasisOf(f.StripFromEdge, key("strip_from_edge")).And(BasisOf(f.Extension, key("extension")))
	case k.Support.Placed && c.Flap.Has():
		return EdgeBasis(c, k).And(BasisOf(f.Seam, key("seam")))
	case k.Support.Placed:
		return BasisOf(f.Extension, key("extension"))
	case k.Support.Whole != 0:
		return Basis{} // its middle lies under the holes
	}
	return EdgeBasis(c, k)
}

// GapBasis is what a gap of a size rests on: with a longer run, or ends that are
// nearer to its own, there is more for each. An end that the file does not say may
// lie at its least. Where anything of that may move, so may what the marks took.
func GapBasis(c *catalog.Closure, k *Closure, size int, gap measure.Length) Basis {
	s := &k.Sizes[size]
	if s.Count < 2 {
		return Basis{}
	}
	key := func(s string) string { return catalog.Key("closure", c.Name, "run", s) }
	b := BasisOf(c.Run.Length.At(size), key("length"))
	first, last := EndsLeast(c, k)
	for _, e := range []struct {
		end         string
		given       catalog.Measured
		have, least measure.Length
		reach       Basis
	}{{"first", c.Run.First.At(size), s.First, first, UpBasis(c, k)}, {"last", c.Run.Last.At(size), s.Last, last, DownBasis(c, k)}} {
		if e.given.Has() {
			b = b.And(BasisOf(e.given, key(e.end)))
		} else if e.have > e.least {
			b = b.And(Basis{Tol: e.have - e.least, Ground: Derived, Key: key(e.end)})
			if e.least > EndLeastOf(&c.Notion) {
				b = b.And(e.reach)
			}
		}
	}
	if b = b.Scaled(1 / float64(s.Count-1)); b.Tol > 0 {
		even := (s.Run - s.First - s.Last) / measure.Length(s.Count-1)
		b.Tol += min(max(0, even-gap), s.Step)
	}
	return b
}

// EndBasis is what the place of the first or last fastener of a size rests on. Of
// a single one that the file sets from the other end it is that, and the run.
func EndBasis(c *catalog.Closure, k *Closure, end string, size int) Basis {
	key := func(s string) string { return catalog.Key("closure", c.Name, "run", s) }
	given, from, other := c.Run.First.At(size), c.Run.Last.At(size), "last"
	if end == "last" {
		given, from, other = from, given, "first"
	}
	if !given.Has() && from.Has() && k.Sizes[size].Count == 1 {
		return BasisOf(from, key(other)).And(BasisOf(c.Run.Length.At(size), key("length")))
	}
	return BasisOf(given, key(end))
}
