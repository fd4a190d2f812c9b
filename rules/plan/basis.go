package plan

import "placketeer/catalog"

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
	if more := h.Length - h.Passing; more > 0 {
		if more > b.Tol {
			b.Key = key
		}
		b.Tol += more
	}
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
		return FlapBasis(c)
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

// ReachBasis is what it rests on how much of the run a fastener and its hole
// take on either side of the centre.
func ReachBasis(c *catalog.Closure, k *Closure) Basis {
	rim := AlongBasis(c).Scaled(0.5)
	switch {
	case k.Hole.Direction != "along" || !k.SewnHole():
		return rim
	case k.Reach.Up > k.Reach.Rim:
		return HoleBasis(c, k)
	}
	return HoleBasis(c, k).And(rim)
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

// EdgeBasis is StandBasis, and a default where the file gives no width.
func EdgeBasis(c *catalog.Closure, k *Closure) Basis {
	if !k.Stand.Known {
		return Basis{Ground: Default, Key: catalog.Key("closure", c.Name, "stand", "finished")}
	}
	return StandBasis(c, k)
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
	case k.Support.Placed:
		return BasisOf(f.Extension, key("extension"))
	case k.Support.Whole > 0:
		return Basis{} // its middle lies under the holes
	}
	return EdgeBasis(c, k)
}

// EndBasis is what the place of the first or last fastener of a size rests on.
func EndBasis(c *catalog.Closure, end string, size int) Basis {
	given := c.Run.First
	if end == "last" {
		given = c.Run.Last
	}
	return BasisOf(given.At(size), catalog.Key("closure", c.Name, "run", end))
}
