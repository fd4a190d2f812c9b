package rules

import (
	"math"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

const (
	bulky        = 3 * mm  // ours: the stack above which cloth counts as bulky
	bulkyEase    = eighth  // Extension Bulletin 576, 1965
	shankEase    = eighth  // The Vogue Sewing Book, 1970
	bars         = eighth  // both bars: household machine manual
	tooLong      = quarter // over D + T
	beyondCentre = eighth  // hole begins this far beyond the centre line
	belowUpper   = eighth  // button below the upper end of a hole along the edge

	// DefaultHoleMax is the longest automatic hole where the garment does not
	// say: household machine manual, counted as diameter + thickness.
	DefaultHoleMax = 28 * mm
)

// Widths of a stitched hole.
var holeWidth = map[string]measure.Length{
	"machine": 5 * mm,  // household machine manual, automatic setting
	"keyhole": 7 * mm,  // the same
	"bound":   quarter, // University of Hawaii Extension Circular 442
	"hand":    5 * mm,  // from memory
}

// Shape is the outline of a fastener that must pass through a hole.
type Shape struct {
	Kind      string         // flat, domed, ball, square, toggle, odd
	Diameter  measure.Length // the widest way across
	Thickness measure.Length // without a shank
	Side      measure.Length // square only
	Width     measure.Length // toggle only
	ShortEnd  measure.Length // toggle only: sewing hole to the nearer end
	Girth     measure.Length // measured: half of it wins over every formula
}

// shapeOf is the outline of a notion.
func shapeOf(n *catalog.Notion) Shape {
	s := Shape{
		Kind: n.Shape, Diameter: n.Diameter.V, Thickness: n.Thickness.V,
		Side: n.Side.V, Width: n.Width.V, ShortEnd: n.ShortEnd.V, Girth: n.Girth.V,
	}
	switch n.Kind {
	case catalog.Toggle:
		s.Kind = "toggle"
	case catalog.Frog:
		s.Kind, s.Diameter = "ball", n.Knot.V
	}
	if s.Kind == "" {
		s.Kind = "flat"
	}
	if s.Kind == "toggle" {
		if s.Width == 0 {
			s.Width = n.Diameter.V
		}
		if s.Width == 0 {
			s.Width = scale(s.Girth, 1/math.Pi) // as if it were round
		}
		if s.Thickness == 0 {
			s.Thickness = s.Width
		}
		if s.ShortEnd == 0 {
			s.ShortEnd = n.Length.V / 2
		}
	}
	return s
}

// Across is the widest way across: D in the rules for the stand. Where only
// the girth was measured it follows from that, and where the shape leaves it
// open it is the most that it can be.
func (s Shape) Across() measure.Length {
	switch {
	case s.Kind == "square" && s.Diameter == 0 && s.Side > 0:
		return scale(s.Side, math.Sqrt2)
	case s.Kind == "toggle":
		return max(s.Width, s.Diameter)
	case s.Diameter == 0 && s.Girth > 0:
		switch s.Kind {
		case "ball":
			return scale(s.Girth, 1/math.Pi)
		case "flat", "square":
			return max(0, s.Girth/2-s.Thickness)
		}
		return s.Girth / 2 // there and back over next to no height
	}
	return s.Diameter
}

func scale(l measure.Length, by float64) measure.Length {
	return measure.Length(math.Round(float64(l) * by))
}

// Passing is the shortest slit that the fastener goes through in cloth that
// does not stretch: half the girth of the section that passes.
func (s Shape) Passing() measure.Length {
	d, t := s.Across(), s.Thickness
	switch {
	case s.Girth > 0:
		return s.Girth / 2
	case s.Kind == "domed" && 2*t >= d:
		return scale(d, (1+math.Pi/2)/2) + t - d/2
	case s.Kind == "domed":
		return (d + capArc(d, t)) / 2
	case s.Kind == "ball":
		return scale(d, math.Pi/2)
	case s.Kind == "toggle":
		return s.Width/2 + s.ShortEnd + t
	}
	return d + t
}

// capArc is the arc over a spherical cap of base d and height t < d/2.
func capArc(d, t measure.Length) measure.Length {
	if t <= 0 {
		return d
	}
	a, h := float64(d)/2, float64(t)
	r := (a*a + h*h) / (2 * h)
	return measure.Length(math.Round(2 * r * math.Asin(a/r)))
}

// Formula says in words how Passing is worked out.
func (s Shape) Formula() string {
	switch {
	case s.Girth > 0:
		return "half the measured girth"
	case s.Kind == "domed":
		return "half of diameter and arc over the dome"
	case s.Kind == "ball":
		return "half the girth of a ball, 1.571 × diameter"
	case s.Kind == "square":
		return "diagonal + thickness"
	case s.Kind == "toggle":
		return "half width + shorter end + thickness"
	}
	return "diameter + thickness"
}

// markStep is what a hole is rounded up to: 1/16 in or 1 mm.
func markStep(u measure.Unit) measure.Length {
	if u == measure.In {
		return sixteenth
	}
	return mm
}

// HoleLength is the cut length of a hole: passing, with ease for bulky cloth
// and for a rigid shank, rounded up to what can be marked.
func HoleLength(s Shape, over measure.Length, shank bool, u measure.Unit) (passing, ease, length measure.Length) {
	passing = s.Passing()
	if over > bulky {
		ease += bulkyEase
	}
	if shank {
		ease += shankEase
	}
	return passing, ease, (passing + ease).RoundUp(markStep(u))
}

// ruleLength is the cut length by another published rule that a garment may
// ask for by name.
func ruleLength(rule string, s Shape, over measure.Length, shank bool, u measure.Unit) (passing, ease, length measure.Length) {
	passing, ease, length = HoleLength(s, over, shank, u)
	d := s.Across()
	var wanted measure.Length
	switch rule {
	case "plus-eighth":
		wanted = d + eighth
	case "plus-thickness-eighth":
		wanted = passing + eighth
	case "percent":
		wanted = scale(d, 1.25)
	case "diameter":
		wanted = d
	default:
		return passing, ease, length
	}
	return passing, wanted - passing, wanted.RoundUp(markStep(u))
}

// passes says whether the fastener goes through a hole at all.
func passes(kind string) bool {
	switch kind {
	case catalog.Button, catalog.TackButton, catalog.Toggle, catalog.Frog:
		return true
	}
	return false
}

func holeOf(g *catalog.Garment, c *catalog.Closure, k *ClosurePlan) Hole {
	h := Hole{Needed: passes(c.Notion.Kind)}
	if !h.Needed {
		return h
	}
	h.Kind, h.Direction = c.Hole, c.Direction
	if h.Kind == "" {
		h.Kind = usualHole(g, c)
	}
	if h.Direction == "" {
		h.Direction = usualDirection(c)
	}
	s := shapeOf(&c.Notion)
	h.Passing, h.Ease, h.Wanted = ruleLength(c.Rule, s, k.Over.Thick, c.Notion.Shank.Has(), g.Units)
	h.Length = h.Wanted
	if h.Kind == "loop" {
		h.Direction = "across"
		return h
	}
	if c.HoleLen.Has() {
		h.Length, h.Given = c.HoleLen.V, true
	} else if sizes := dies(&g.Machine, h.Kind); len(sizes) > 0 {
		if l := nextDie(sizes, h.Passing+h.Ease); l >= h.Passing {
			h.Length, h.Fixed = l, true
		}
	}
	h.Width = holeWidth[h.Kind]
	h.Stitched = h.Length + bars
	if h.Kind == "bound" {
		h.Stitched = h.Length
	}
	if h.Direction == "across" {
		h.Beyond = beyondCentre
	} else {
		h.Beyond = belowUpper
	}
	h.Inside = h.Length - h.Beyond
	return h
}

// dies are the only lengths that the machine sews of that kind of hole, none
// where it sews any length.
func dies(m *catalog.Machine, kind string) []measure.Length {
	switch {
	case kind == "keyhole" && len(m.KeyholeSizes) > 0:
		return m.KeyholeSizes
	case kind == "machine", kind == "keyhole":
		return m.ButtonholeSizes
	}
	return nil
}

// nextDie is the shortest of the sizes that is at least so long, or the
// longest there is.
func nextDie(sizes []measure.Length, wanted measure.Length) measure.Length {
	for _, l := range sizes {
		if l >= wanted {
			return l
		}
	}
	return sizes[len(sizes)-1]
}

func usualHole(g *catalog.Garment, c *catalog.Closure) string {
	switch c.Notion.Kind {
	case catalog.Toggle, catalog.Frog:
		return "loop"
	}
	if c.Lap == "edge" {
		return "loop"
	}
	if s := shapeOf(&c.Notion); g.Machine.Keyhole.Or(false) {
		d := g.Machine.ButtonholeSizes
		if s.Across() >= keyholeFrom || len(d) > 0 && len(g.Machine.KeyholeSizes) > 0 && s.Passing() > d[len(d)-1] {
			return "keyhole"
		}
	}
	return "machine"
}

const keyholeFrom = 20 * mm // ours: coat and jacket fronts, where a shank needs the eye

// usualDirection is across where there is sideways strain, and along on
// bands, where small fasteners sit on a narrow strip.
func usualDirection(c *catalog.Closure) string {
	switch c.Stand.Construction {
	case "folded", "band", "fly":
		return "along"
	}
	return "across"
}

// reachOf is how far the fastener and its hole lie from the centre, along
// and across the run.
func reachOf(c *catalog.Closure, k *ClosurePlan) Reach {
	r := Reach{}
	n := &c.Notion
	switch n.Kind {
	case catalog.Zip:
		return r
	case catalog.Hook:
		r.Rim = max(n.Width.V, n.Length.V) / 2
	case catalog.Eyelet:
		r.Rim = max(n.Flange.V, n.Diameter.V, n.Inside.V) / 2
	case catalog.Frog:
		r.Rim = acrossOf(n) / 2
	case catalog.Toggle:
		r.Rim = shapeOf(n).Width / 2
	default:
		r.Rim = max(shapeOf(n).Across(), n.Flange.V, n.Head.V) / 2
	}
	r.Up, r.Down, r.In, r.Out = r.Rim, r.Rim, r.Rim, r.Rim
	if h := &k.Hole; h.Needed && h.Kind != "loop" {
		bar := (h.Stitched - h.Length) / 2
		if h.Direction == "along" {
			r.Up, r.Down = max(r.Up, h.Beyond+bar), max(r.Down, h.Inside+bar)
			r.In, r.Out = max(r.In, h.Width/2), max(r.Out, h.Width/2)
		} else {
			r.Up, r.Down = max(r.Up, h.Width/2), max(r.Down, h.Width/2)
			r.In, r.Out = max(r.In, h.Inside+bar), max(r.Out, h.Beyond+bar)
		}
	}
	return r
}

// asked is the length that a machine's limit is held against. The limit is
// counted as diameter + thickness; of a length that the file asks for, beyond
// the one worked out, what is not ease counts.
func (h *Hole) asked() measure.Length {
	if h.Given && h.Length > h.Wanted {
		return max(h.Passing, h.Length-h.Ease)
	}
	return h.Passing
}

// worked says whether the machine makes the hole.
func (h *Hole) worked() bool { return h.Kind == "machine" || h.Kind == "keyhole" }

var holeRules = []*Rule{
	{
		Name: "hole-short", Severity: Conflict,
		Title:   "the button must pass its hole",
		Formula: "flat: diameter + thickness; domed: (diameter + arc) ÷ 2; ball: 1.571 × diameter; square: diagonal + thickness; toggle: half width + shorter end + thickness; any shape: half the measured girth, which wins",
		Why:     "A slit of length L in cloth that does not stretch opens to a girth of 2 L. Anything larger will not go through.",
		Sources: []string{
			"Extension Bulletin 576, Buttons and Buttonholes, 1965: diameter + thickness",
			"Nebraska 4-H Clothing Leaflet 9, 1965: diameter + thickness",
			"geometry: half the girth of the section that passes",
			"New Mexico State University Guide C-231: half of the tape round the widest part",
		},
		Others: "hole_rule = \"plus-eighth\" (diameter + 1/8 in, sewing handbooks), \"plus-thickness-eighth\" (diameter + thickness + 1/8 in), \"percent\" (1.25 × diameter, thread maker's bulletin), \"diameter\" (old hand-work lessons; A-A-55095A asks 3/4 in for a 3/4 in button). A whole wrap + 1/8 in for balls, also printed, is twice too long and is not offered.",
		check: func(x *Context) {
			h := &x.K.Hole
			if !h.Needed || h.Kind == "loop" || h.Length >= h.Passing {
				return
			}
			path := x.path("hole_length")
			if !h.Given {
				path = x.path("hole_rule")
			}
			have, need := x.apart(h.Length, h.Passing)
			x.report(Conflict, path, atLeast(h.Length, h.Passing),
				"the hole is %s long, but the %s needs %s to pass (%s): cut it %s", have, x.C.Notion.Kind, need, shapeOf(&x.C.Notion).Formula(), x.len(h.Wanted))
		},
		propose: func(x *Context, f *Finding) []Change {
			l := x.K.Hole.Wanted
			return []Change{{
				With: []string{x.key("hole_length") + "=" + l.Exact(x.U)},
				Says: "cut the hole " + x.len(l), Cost: (l - x.K.Hole.Length).MM(),
			}}
		},
	},
	{
		Name: "hole-tight", Severity: Caution,
		Title:   "a hole in bulky cloth wants ease",
		Formula: "passing length + 1/8 in where the layers exceed 3 mm + 1/8 in for a rigid shank",
		Why:     "The edge of a thick hole takes up part of its length: a hole that passes the button on thin cloth is tight on a coat.",
		Sources: []string{
			"Extension Bulletin 576, 1965: on bulky cloth add 1/8 in",
			"The Vogue Sewing Book, 1970, as quoted: shank button + 1/8 in",
			"Butterick, The New Dressmaker, 1921: a hole is tighter after it is worked",
		},
		Ours: "3 mm as the thickness above which cloth counts as bulky",
		check: func(x *Context) {
			h := &x.K.Hole
			if !h.Given || h.Kind == "loop" || h.Length < h.Passing || h.Length >= h.Passing+h.Ease {
				return
			}
			have, need := x.apart(h.Length, h.Passing+h.Ease)
			x.report(Caution, x.path("hole_length"), atLeast(h.Length, h.Passing+h.Ease),
				"the hole is %s long; with %s it would be %s: sew a sample through all the layers and push the real %s through", have, x.easeFor(), need, x.C.Notion.Kind)
		},
		propose: func(x *Context, f *Finding) []Change {
			l := x.K.Hole.Wanted
			return []Change{{With: []string{x.key("hole_length") + "=" + l.Exact(x.U)}, Says: "cut the hole " + x.len(l), Cost: (l - x.K.Hole.Length).MM()}}
		},
	},
	{
		Name: "hole-long", Severity: Caution,
		Title:   "a hole that is too long lets the button slip out",
		Formula: "hole length ≤ passing length + 1/4 in (+ 1/8 in for a rigid shank)",
		Why:     "A slack hole lets go under strain and gapes.",
		Ours:    "1/8 in more for a rigid shank, because the hole's own ease for it would come too near the limit",
		Sources: []string{"every flat rule printed in handbooks from 1907 to 2023 stays inside diameter + thickness + 1/4 in: comparison of published rules"},
		check: func(x *Context) {
			h := &x.K.Hole
			if !h.Needed || h.Kind == "loop" {
				return
			}
			most := h.Passing + tooLong
			if x.C.Notion.Shank.Has() {
				most += shankEase
			}
			if h.Length <= most {
				return
			}
			path := x.path("hole_length")
			says := ""
			if h.Fixed {
				path, says = x.diesPath(), ", the next length that the attachment sews"
			} else if !h.Given {
				path = x.path("hole_rule")
			}
			have, need := x.apart(h.Length, most)
			x.report(Caution, path, atMost(h.Length, most),
				"the hole is %s long%s, more than %s: the %s may slip out; sew a sample", have, says, need, x.C.Notion.Kind)
		},
		propose: func(x *Context, f *Finding) []Change {
			l := x.K.Hole.Wanted
			return []Change{{With: []string{x.key("hole_length") + "=" + l.Exact(x.U)}, Says: "cut the hole " + x.len(l), Cost: (x.K.Hole.Length - l).MM()}}
		},
	},
	{
		Name: "hole-machine", Severity: Conflict,
		Title:   "the machine must be able to sew a hole that long",
		Formula: "passing length ≤ longest automatic hole (buttonhole_max, 28 mm where the garment does not say; the ease is not counted); with fixed lengths, the next one up must exist; a keyhole only where the machine sews them",
		Why:     "The buttonhole foot stops at the end of its slide: the machine turns round too early and the button does not pass.",
		Sources: []string{
			"household machine manual: longest automatic hole about 28 mm, counted as diameter + thickness of the button",
			"user's page on a buttonhole attachment with fixed dies: straight 10, 13, 16, 18, 21 mm, keyhole 16, 18, 21, 24 mm",
		},
		Ours: "an industrial or straight-stitch machine sews no hole by itself unless the garment says how long",
		check: func(x *Context) {
			h, m := &x.K.Hole, &x.G.Machine
			if !h.Needed || !h.worked() {
				return
			}
			sizes := dies(m, h.Kind)
			if h.Kind == "keyhole" && m.Keyhole.Has() && !m.Keyhole.V && len(m.KeyholeSizes) == 0 {
				x.report(Conflict, x.path("hole"), Numbers{}, "the machine sews no keyholes: take hole = \"machine\", or a bound or hand-worked hole")
				return
			}
			switch {
			case len(sizes) > 0:
				x.checkDies(sizes)
				return
			case !m.ButtonholeMax.Has() && m.Kind != "" && m.Kind != "household":
				x.report(Caution, x.machinePath("kind"), Numbers{}, "a machine of the kind %s sews no buttonholes by itself: say buttonhole_max if yours does, or where the holes are made, hole = \"hand\" or \"bound\"", m.Kind)
				return
			}
			need := h.asked()
			if most := m.ButtonholeMax.Or(DefaultHoleMax); need > most {
				have, limit := x.apart(need, most)
				if need > h.Passing {
					x.report(Conflict, x.path("hole_length"), atMost(need, most),
						"the hole is to be %s long, but the machine's longest is %s: cut it %s, or make a bound or hand-worked hole", have, limit, x.len(h.Wanted))
					return
				}
				x.report(Conflict, x.machinePath("buttonhole_max"), atMost(need, most),
					"the %s needs a hole of %s, but the machine's longest is %s: choose a smaller or thinner one, or a bound or hand-worked hole", x.C.Notion.Kind, have, limit)
			} else if h.Length > most {
				have, limit := x.apart(h.Length, most)
				x.report(Note, x.machinePath("buttonhole_max"), atMost(h.Length, most),
					"with ease the hole is %s long, but the machine's longest is %s: it passes the %s and leaves less ease; sew the longest it can through the real layers and push the %s through", have, limit, x.C.Notion.Kind, x.C.Notion.Kind)
			}
		},
		propose: func(x *Context, f *Finding) []Change {
			out := append(proposeFitting(x, measure.FromMM(rooms["hole-machine"](x).Need), 0),
				Change{With: []string{x.key("hole") + "=hand"}, Says: "work the holes by hand", Cost: 40},
				Change{With: []string{x.key("hole") + "=bound"}, Says: "make bound holes", Cost: 45})
			h, m := &x.K.Hole, &x.G.Machine
			if h.Given {
				l := h.Wanted
				if sizes := dies(m, h.Kind); len(sizes) > 0 {
					l = nextDie(sizes, h.Passing+h.Ease)
				}
				out = append(out, Change{With: []string{x.key("hole_length") + "=" + l.Exact(x.U)}, Says: "cut the hole " + x.len(l), Cost: (l - h.Length).Abs().MM()})
			}
			other := map[string]string{"machine": "keyhole", "keyhole": "machine"}[h.Kind]
			if other == "machine" || m.Keyhole.Or(false) {
				out = append(out, Change{With: []string{x.key("hole") + "=" + other}, Says: "sew " + map[string]string{"machine": "plain holes", "keyhole": "keyholes"}[other], Cost: 5})
			}
			return out
		},
	},
	{
		Name: "hole-edge", Severity: Caution,
		Title:   "a hole must not come too near the edge",
		Formula: "finished stand − 1/8 in ≥ 1/4 in, for a hole across the edge",
		Why:     "With less than 1/4 in of cloth between hole and edge the hole tears out.",
		Sources: []string{
			"K. H. Watson, Textiles and Clothing, 1907: hole 1/4 in from the edge",
			"household machine manuals, Extension Bulletin 576, 1965: hole begins 1/8 in beyond the centre line",
		},
		check: func(x *Context) {
			h, st := &x.K.Hole, &x.K.Stand
			if !h.Needed || h.Kind == "loop" || h.Direction != "across" || !st.Known {
				return
			}
			if d := st.Have - h.Beyond; d < quarter {
				have, need := x.apart(max(d, 0), quarter)
				x.report(Caution, st.From, atLeast(d, quarter), "only %s of cloth is left between the hole and the edge; %s is the least", have, need)
			}
		},
		propose: proposeStand,
	},
}

// checkDies checks a hole against an attachment that sews fixed lengths.
func (x *Context) checkDies(sizes []measure.Length) {
	h := &x.K.Hole
	longest := sizes[len(sizes)-1]
	switch {
	case h.Passing > longest:
		have, need := x.apart(h.Passing, longest)
		x.report(Conflict, x.diesPath(), atMost(h.Passing, longest),
			"the %s needs a hole of %s, but the longest that the attachment sews is %s: choose a smaller or thinner one, or a bound or hand-worked hole", x.C.Notion.Kind, have, need)
	case h.Given && h.Length > longest:
		have, need := x.apart(h.Length, longest)
		x.report(Conflict, x.path("hole_length"), atMost(h.Length, longest), "the hole is to be %s long, but the longest that the attachment sews is %s", have, need)
	case h.Given && nextDie(sizes, h.Length) != h.Length:
		x.report(Caution, x.path("hole_length"), Numbers{}, "the attachment does not sew %s, only %s: the next is %s", h.Length.ShortFine(x.U), x.list(sizes), nextDie(sizes, h.Length).ShortFine(x.U))
	case !h.Given && h.Length < h.Passing+h.Ease:
		x.report(Caution, x.diesPath(), atMost(h.Passing+h.Ease, longest),
			"the attachment's longest hole, %s, passes the %s but leaves no %s: sew a sample", x.len(longest), x.C.Notion.Kind, x.easeFor())
	}
}

// diesPath is the place of the lengths that the attachment sews.
func (x *Context) diesPath() string {
	if x.K.Hole.Kind == "keyhole" && len(x.G.Machine.KeyholeSizes) > 0 {
		return x.machinePath("keyhole_sizes")
	}
	return x.machinePath("buttonhole_sizes")
}

// machinePath is the place of a figure of the machine: where the file gives
// it, else where it names the machine, else the fastener that asks too much.
func (x *Context) machinePath(key string) string {
	if x.quiet() && x.C != nil {
		return ""
	}
	for _, p := range []string{"machine." + key, "machine.use", "machine"} {
		if x.G.Stated(p) {
			return p
		}
	}
	return x.path("use")
}

// easeFor says what the ease of the hole is for.
func (x *Context) easeFor() string {
	o, shank := &x.K.Over, x.C.Notion.Shank.Has()
	layers := "layers " + x.fine(o.Thick) + " thick" + x.guess(o)
	switch {
	case o.Thick > bulky && shank:
		return "ease for the shank and for " + layers
	case shank:
		return "ease for the shank"
	case o.Thick > bulky:
		return "ease for " + layers
	}
	return "ease"
}

// list is a list of lengths.
func (x *Context) list(ls []measure.Length) string {
	s := ""
	for i, l := range ls {
		if i > 0 {
			s += ", "
		}
		s += l.ShortFine(x.U)
	}
	return s
}
