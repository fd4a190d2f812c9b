package rules

import (
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

const (
	supportLeast = quarter // beyond the hole: reader's answer, trade pattern maker's site
	supportUsual = in / 2  // common practice, no source
	stripExtra   = in      // above and below the row, The Sun (Auckland), 4 July 1927
)

// StripWidth is the width of the interfacing strip for a hole, least and
// usual: across the edge it is counted from the finished edge, for holes
// along the edge it lies with its middle under them, and there is only a
// least.
func StripWidth(h *Hole, stand measure.Length) (least, usual measure.Length) {
	if h.Direction == "along" {
		w := h.Width + 2*supportLeast
		return w, w
	}
	return stand + h.Inside + supportLeast, stand + h.Inside + supportUsual
}

// Strips says how many strips of that width lie side by side in goods of
// that width, and how much of the goods to buy for n strips of that length
// when it shrinks by so many percent.
func Strips(n int, width, length, goods measure.Length, shrink float64) (across int, cloth measure.Length) {
	if width <= 0 || goods < width {
		return 0, 0
	}
	across = int(goods / width)
	rows := ceilDiv(n, across)
	return across, measure.Length(float64(rows) * float64(length) / (1 - shrink/100))
}

// interfacingOf is the first interfacing among the layers, or nil.
func interfacingOf(ls []catalog.Layer) (string, *catalog.Interfacing) {
	for _, l := range ls {
		if l.Interfacing != nil {
			return l.Name, l.Interfacing
		}
	}
	return "", nil
}

func supportOf(g *catalog.Garment, c *catalog.Closure, k *ClosurePlan) Support {
	s := Support{Needed: c.Notion.Kind != catalog.Zip}
	if !s.Needed {
		return s
	}
	_, s.Interfacing = interfacingOf(c.Over)
	if s.Interfacing == nil {
		_, s.Interfacing = interfacingOf(c.Under)
	}
	// How far inside the line of the holes it must reach, and should.
	along := false
	switch {
	case !k.Hole.Needed || k.Hole.Kind == "loop":
		// Set or sewn on without a hole: the flange and a margin all round.
		s.Reach, s.UsualReach = k.Reach.Rim+supportLeast, k.Reach.Rim+supportUsual
	case k.Hole.Direction == "across":
		s.Reach, s.UsualReach = k.Hole.Inside+supportLeast, k.Hole.Inside+supportUsual
	default:
		along = true
		s.Reach = k.Hole.Width/2 + supportLeast
		s.UsualReach = s.Reach
	}
	f, st := &c.Stand, &k.Stand
	switch {
	case st.Extension > 0 && f.StripFromEdge.Has():
		s.Begins, s.Placed = st.Extension-st.Column-f.StripFromEdge.V, true
	case s.cutEdge(f):
		s.Begins, s.Placed = st.Extension-st.Column, true
	case along:
		s.Begins = s.Reach // it lies with its middle under the holes
	default:
		s.Begins = st.Have // from the finished edge
	}
	s.Least, s.Usual = max(0, s.Begins+s.Reach), max(0, s.Begins+s.UsualReach)
	step := measure.Length(eighth)
	if g.Units == measure.MM {
		step = 5 * mm
	}
	s.Strip = s.Usual.RoundUp(step)
	if f.Strip.Has() {
		s.Strip, s.Given = f.Strip.V, true
	}
	if along && !s.Placed {
		s.Begins = s.Strip / 2
	}
	s.Covers = s.Strip - s.Begins
	// A strip for each of the two sides that meet.
	s.Pieces = 2 * c.Pieces
	for i := range g.Sizes {
		s.Length = max(s.Length, c.Run.Length.At(i).V)
	}
	if s.Interfacing != nil && s.Interfacing.Width.Has() {
		s.Across, s.Cloth = Strips(s.Pieces, s.Strip, s.Length, s.Interfacing.Width.V, s.Interfacing.Shrink.Or(0))
	}
	return s
}

// cutEdge says whether a strip of a given width begins at the cut edge: where
// the edge is faced and drafted and the file does not say otherwise. On a
// folded band it is laid against the fold.
func (s *Support) cutEdge(f *catalog.Stand) bool {
	return f.Strip.Has() && f.Extension.Has() && !f.StripFromEdge.Has() && f.Construction != "folded" && f.Construction != "band"
}

var supportRules = []*Rule{
	{
		Name: "strip-narrow", Severity: Conflict,
		Title:   "the interfacing must reach past the holes",
		Formula: "across: it reaches inside the centre line by the inner end of the hole + 1/4 in at least, + 1/2 in usual; along: stitched hole width + 2 × 1/4 in. It begins strip_from_edge from the cut edge; where that is not given, at the cut edge of a faced and drafted edge, else at the finished edge, or for holes along it with its middle under them",
		Why:     "Where the strip ends under the hole the thickness steps, the hole stretches, and the cloth tears at its end.",
		Sources: []string{
			"reader's answer to a trade pattern maker: at least 1/4 in of band beyond each end of a buttonhole",
			"common practice, no source: 1/2 in beyond the hole; a 3 in strip begun 1/2 in from the cut edge",
		},
		check: func(x *Context) {
			s := &x.K.Support
			if !s.Needed || !s.Given {
				return
			}
			path := x.path("stand.strip")
			switch along := x.K.Hole.Needed && x.K.Hole.Kind != "loop" && x.K.Hole.Direction == "along"; {
			case along && !s.Placed && s.Strip < s.Least:
				have, need := x.apart(s.Strip, s.Least)
				x.report(Conflict, path, atLeast(s.Strip, s.Least), "the strip is %s wide, but holes along the edge need %s, 1/4 in on either side", have, need)
			case s.Strip < s.Least:
				have, need := x.apart(s.Strip, s.Least)
				x.report(Conflict, path, atLeast(s.Strip, s.Least),
					"the strip, %s wide, reaches %s inside %s, but must reach %s to pass the holes by 1/4 in: cut it %s or wider",
					have, x.signed(s.Covers), x.holesLine(), x.len(s.Reach), need)
			case s.Strip < s.Usual:
				have, need := x.apart(s.Strip, s.Usual)
				x.report(Caution, path, atLeast(s.Strip, s.Usual), "the strip, %s wide, passes the holes by less than the usual 1/2 in; %s would do", have, need)
			}
		},
		propose: func(x *Context, f *Finding) []Change {
			s := &x.K.Support
			var out []Change
			for _, w := range []measure.Length{s.Usual, s.Least} {
				l := w.RoundUp(markStep(x.U) * 2)
				out = append(out, Change{With: []string{x.key("stand.strip") + "=" + l.Exact(x.U)}, Says: "cut the strip " + x.len(l) + " wide", Cost: (l - s.Strip).MM() / 4})
			}
			return out
		},
	},
	{
		Name: "interfacing-none", Severity: Caution,
		Title:   "holes and set hardware want interfacing under them",
		Formula: "at least one interfacing among the layers, or reinforced = true",
		Why:     "Cloth alone stretches along the hole and lets set hardware pull out.",
		Sources: []string{
			"sewing and design professionals' standards, p. 24 and 25: cloth under buttons and snaps is reinforced",
			"K. H. Watson, Textiles and Clothing, 1907: a strip of canvas along the whole button line",
		},
		check: func(x *Context) {
			if x.K.Support.Needed && x.K.Support.Interfacing == nil && !x.C.Reinforce.Or(false) {
				where := "from the finished edge"
				if s := &x.K.Support; s.Placed {
					where = "where the file has it begin"
				} else if x.K.Hole.Needed && x.K.Hole.Kind != "loop" && x.K.Hole.Direction == "along" {
					where = "with its middle under the holes"
				}
				x.report(Caution, x.path("over"), Numbers{}, "there is no interfacing under the %s: put a strip in, about %s wide, %s", plural(x.C.Notion.Kind), x.len(x.K.Support.Strip), where)
			}
		},
		propose: func(x *Context, f *Finding) []Change { return proposeSupport(x) },
	},
	{
		Name: "interfacing-heavy", Severity: Caution,
		Title:   "the interfacing must not be heavier than the cloth",
		Formula: "weight of the interfacing ≤ weight of the outermost cloth",
		Why:     "A heavier interfacing takes over: the front stands like a board and the edge of the strip shows through.",
		Sources: []string{
			"Washington State University Extension EM014, Interfacings",
			"Texas Cooperative Extension E-404, 2006",
		},
		check: func(x *Context) {
			for _, ls := range [][]catalog.Layer{x.C.Over, x.C.Under} {
				var shell *catalog.Cloth
				for _, l := range ls {
					if l.Cloth != nil && shell == nil {
						shell = l.Cloth
					}
					if l.Interfacing == nil || shell == nil || !l.Interfacing.Weight.Has() || !shell.Weight.Has() {
						continue
					}
					if iw, sw := l.Interfacing.Weight.V, shell.Weight.V; iw > sw {
						x.report(Caution, source.Join("interfacing", l.Name), Numbers{float64(iw), float64(sw), float64(sw - iw), "g/m2", true},
							"the interfacing weighs %s, more than the cloth it supports (%s): take a lighter one", iw.Text(x.U), sw.Text(x.U))
						return
					}
				}
			}
		},
		propose: func(x *Context, f *Finding) []Change {
			return proposeInterfacing(x, f.Path, func(n *catalog.Interfacing) bool { return n.Weight.Has() && n.Weight.V.GSM() <= f.Need })
		},
	},
	{
		Name: "goods-narrow", Severity: Conflict,
		Title:   "the strip must fit the width of the goods",
		Formula: "strips side by side = floor(goods width ÷ strip width) ≥ 1",
		Why:     "A strip wider than the goods cannot be cut in one piece.",
		Sources: []string{"arithmetic"},
		check: func(x *Context) {
			s := &x.K.Support
			if s.Interfacing != nil && s.Interfacing.Width.Has() && s.Interfacing.Width.V < s.Strip {
				have, need := x.apart(s.Interfacing.Width.V, s.Strip)
				x.report(Conflict, x.path("stand.strip"), atLeast(s.Interfacing.Width.V, s.Strip), "the interfacing is %s wide, narrower than the strip, %s", have, need)
			}
		},
		propose: func(x *Context, f *Finding) []Change {
			s := &x.K.Support
			var out []Change
			if l := s.Usual.RoundUp(markStep(x.U) * 2); s.Given && l < s.Strip {
				out = append(out, Change{With: []string{x.key("stand.strip") + "=" + l.Exact(x.U)}, Says: "cut the strip " + x.len(l) + " wide", Cost: (s.Strip - l).MM() / 4})
			}
			for i, in := range x.G.Interfacings {
				if in == s.Interfacing {
					out = append(out, proposeInterfacing(x, source.Join("interfacing", x.G.InterfNames[i]), func(n *catalog.Interfacing) bool { return n.Width.V >= s.Strip })...)
				}
			}
			return append(out, proposeSmaller(x, f)...)
		},
	},
}

// holesLine is what the reach of a strip is counted from.
func (x *Context) holesLine() string {
	if x.C.Lap == "double" {
		return "the column"
	}
	return "the centre line"
}

// signed is a length that may be negative.
func (x *Context) signed(l measure.Length) string {
	if l >= 0 {
		return x.len(l)
	}
	return l.SignedText(x.U)
}

func plural(kind string) string {
	switch kind {
	case catalog.TackButton:
		return "tack buttons"
	}
	return kind + "s"
}
