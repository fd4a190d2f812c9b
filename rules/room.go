package rules

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// Rooms say how far a closure is from a conflict of a rule: what it has, what
// it needs, and the margin, which is negative where the rule reports a
// conflict. Numbers that compared nothing mean that the rule does not apply.
// Rules that compare no figures have no room.
var Rooms = map[string]func(x *Context) Numbers{
	"hole-short": func(x *Context) Numbers {
		// A hole that is worked out always passes: there is nothing to compare.
		if h := &x.K.Hole; h.Needed && h.Kind != "loop" && (h.Given || h.Fixed || x.C.Rule != "") {
			return atLeast(h.Length, h.Passing)
		}
		return Numbers{}
	},
	"hole-machine": func(x *Context) Numbers {
		h, m := &x.K.Hole, &x.G.Machine
		if !h.Needed || !h.Worked() {
			return Numbers{}
		}
		sizes := plan.Dies(m, h.Kind)
		switch {
		case len(sizes) > 0 && h.Given:
			return atMost(max(h.Passing, h.Length), sizes[len(sizes)-1])
		case len(sizes) > 0:
			return atMost(h.Passing, sizes[len(sizes)-1])
		case !m.ButtonholeMax.Has() && m.Kind != "" && m.Kind != "household":
			return Numbers{}
		}
		return atMost(h.Asked(), m.ButtonholeMax.Or(plan.DefaultHoleMax))
	},
	"stand-narrow": func(x *Context) Numbers {
		if s := &x.K.Stand; s.Known && x.C.Notion.Kind != catalog.Zip {
			return atLeast(s.Have, s.Least)
		}
		return Numbers{}
	},
	"facing-short": func(x *Context) Numbers {
		f, h := &x.C.Stand, &x.K.Hole
		if !f.Facing.Has() || !h.Needed || h.Direction != "across" || h.Kind == "loop" || x.C.Lap == "double" {
			return Numbers{}
		}
		return atLeast(f.Facing.V, h.Inside)
	},
	"strip-narrow": func(x *Context) Numbers {
		if s := &x.K.Support; s.Needed && s.Given {
			return atLeast(s.Strip, s.Least)
		}
		return Numbers{}
	},
	"goods-narrow": func(x *Context) Numbers {
		if s := &x.K.Support; s.Interfacing != nil && s.Interfacing.Width.Has() {
			return atLeast(s.Interfacing.Width.V, s.Strip)
		}
		return Numbers{}
	},
	"rims-touch": func(x *Context) Numbers {
		r := x.K.Reach
		return x.leastOf(max(r.Up+r.Down, 2*r.Rim), func(s *plan.Size) (measure.Length, bool) { return shortest(s.Gaps) })
	},
	"rows-touch": func(x *Context) Numbers {
		if x.C.Lap != "double" || !x.C.Rows.Distance.Has() && !x.C.Rows.Top.Has() {
			return Numbers{}
		}
		return x.leastOf(plan.AcrossOf(&x.C.Notion), func(s *plan.Size) (measure.Length, bool) {
			l, any := shortest(s.Rows)
			return 2 * l, any
		})
	},
	"first-high": func(x *Context) Numbers {
		return x.leastOf(plan.AcrossOf(&x.C.Notion)/2, func(s *plan.Size) (measure.Length, bool) { return s.First, true })
	},
	"last-low": func(x *Context) Numbers {
		return x.leastOf(max(endLeast, plan.AcrossOf(&x.C.Notion)/2, x.K.Reach.Down), func(s *plan.Size) (measure.Length, bool) { return s.Last, true })
	},
	"foot-lift": func(x *Context) Numbers {
		m := &x.G.Machine
		if !m.FootLift.Has() {
			return Numbers{}
		}
		thick, any := measure.Length(0), false
		for _, s := range x.stacks() {
			thick, any = max(thick, s.stack.Thick), true
		}
		if !any {
			return Numbers{}
		}
		return atMost(thick, max(m.FootLift.V, m.FootLiftExtra.V))
	},
	"edge-near": func(x *Context) Numbers {
		if !x.C.Edge.Has() || x.C.Notion.Kind == catalog.Hook || x.C.Notion.Kind == catalog.Zip {
			return Numbers{}
		}
		return atLeast(x.C.Edge.V, x.K.Reach.Rim)
	},
	"shank-rigid": func(x *Context) Numbers {
		n := &x.C.Notion
		if n.Kind != catalog.Button && n.Kind != catalog.TackButton || !n.Shank.Has() {
			return Numbers{}
		}
		return atLeast(n.Shank.V, x.K.Over.Pressed)
	},
	"hardware-grip": func(x *Context) Numbers {
		h := &x.K.Hardware
		if !h.Needed || !h.GripGiven {
			return Numbers{}
		}
		thin, thick := h.Stack()
		n := Numbers{}
		if h.GripMax > 0 {
			n = atMost(thick, h.GripMax)
		}
		if lo := atLeast(thin, h.GripMin); h.GripMin > 0 && (!n.Compared || lo.Share() < n.Share()) {
			n = lo
		}
		return n
	},
	"hardware-post": func(x *Context) Numbers {
		h := &x.K.Hardware
		if !h.Needed || h.GripGiven || h.Post == 0 {
			return Numbers{}
		}
		_, thick := h.Stack()
		return atLeast(h.Post, thick)
	},
	"loop-length": func(x *Context) Numbers {
		if l := &x.K.Loop; l.Needed && l.Given {
			return atLeast(l.Inside, l.Least)
		}
		return Numbers{}
	},
	"eyelet-cord": func(x *Context) Numbers {
		n := &x.C.Notion
		if n.Kind != catalog.Eyelet || !x.C.Cord.Has() || !n.Inside.Has() {
			return Numbers{}
		}
		return atLeast(n.Inside.V, x.C.Cord.V)
	},
	"zip-fly": func(x *Context) Numbers {
		z, st := &x.K.Zip, &x.K.Stand
		if !z.Needed || st.Construction != "fly" || !st.Known {
			return Numbers{}
		}
		return atLeast(st.Have, z.FlyLeast)
	},
	"needle-cloth": func(x *Context) Numbers {
		n := &x.K.Needle
		if !n.Given {
			return Numbers{}
		}
		// One size outside the band is still no conflict.
		lo, hi := plan.NeedleStep(n.Min, -1), plan.NeedleStep(n.Max, 1)
		if n.NM-lo < hi-n.NM {
			return Numbers{float64(n.NM), float64(lo), float64(n.NM - lo), "NM", true}
		}
		return Numbers{float64(n.NM), float64(hi), float64(hi - n.NM), "NM", true}
	},
	"needle-thread": func(x *Context) Numbers {
		n := &x.K.Needle
		if n.NM == 0 {
			return Numbers{}
		}
		r := round3(n.Ratio)
		lo := Numbers{r, ratioLeast, r - ratioLeast, "of the blade", true}
		hi := Numbers{r, ratioMost, ratioMost - r, "of the blade", true}
		if lo.Share() < hi.Share() {
			return lo
		}
		return hi
	},
	"needle-machine": func(x *Context) Numbers {
		if m := x.G.Machine.NeedleMax; m.Has() {
			return Numbers{float64(x.K.Needle.NM), float64(m.V), float64(m.V - x.K.Needle.NM), "NM", true}
		}
		return Numbers{}
	},
}

// RoomRules are the rules with a room that a choice can change, in the order
// of the documentation.
var RoomRules = map[string][]string{
	"notion": {
		"hole-short", "hole-machine", "stand-narrow", "facing-short", "strip-narrow", "goods-narrow", "rims-touch", "rows-touch",
		"first-high", "last-low", "edge-near", "shank-rigid", "hardware-grip", "hardware-post", "loop-length", "eyelet-cord", "zip-fly",
	},
	"needle":      {"needle-cloth", "needle-thread", "needle-machine"},
	"thread":      {"needle-thread"},
	"interfacing": {"foot-lift", "goods-narrow", "shank-rigid", "hardware-grip", "hardware-post"},
}

// Share is the margin as a part of the need: 0.1 is 10 % to spare.
func (n Numbers) Share() float64 {
	if n.Need == 0 {
		if n.Margin < 0 {
			return n.Margin
		}
		return 1 // nothing is needed: all of it is to spare
	}
	return n.Margin / max(n.Need, -n.Need)
}

// leastOf is the size that comes nearest to a need.
func (x *Context) leastOf(need measure.Length, of func(*plan.Size) (measure.Length, bool)) Numbers {
	least, any := measure.Length(0), false
	for i := range x.K.Sizes {
		if s := &x.K.Sizes[i]; s.Solved && s.Count > 0 {
			if l, is := of(s); is && (!any || l < least) {
				least, any = l, true
			}
		}
	}
	if !any {
		return Numbers{}
	}
	return atLeast(least, need)
}

func shortest(ls []measure.Length) (measure.Length, bool) {
	if len(ls) == 0 {
		return 0, false
	}
	least := ls[0]
	for _, l := range ls[1:] {
		least = min(least, l)
	}
	return least, true
}
