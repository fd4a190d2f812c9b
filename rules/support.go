package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

var supportRules = []*Rule{
	{
		Name: "strip-narrow", Severity: Conflict,
		Rests: []string{"cloth.*.thickness", "closure.*.direction", "closure.*.edge", "closure.*.flap", "closure.*.hole", "closure.*.hole_length", "closure.*.inset", "closure.*.lap", "closure.*.notion", "closure.*.rows", "closure.*.stand", "interfacing.*.thickness"},
		Task:  NoTask,
		Reads: ReadsNotion | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			if s := &x.K.Support; s.Needed && s.Given {
				return atLeast(s.Strip, s.Least)
			}
			return Numbers{}
		},
		Title:   "the interfacing must reach past the holes",
		Figure:  "interfacing strip",
		Formula: "across: it reaches inside the centre line by the inner end of the hole + {past} at least, + {usual past} usual; along: stitched hole width + 2 × {past}, and on a band usually all of its width, under snaps too. Double-breasted: past the inner column by D/2 (conflict below) and {inner}; a toggle: past what it covers, or where its cord is sewn on (caution where a band that is sewn on ends before that). It begins strip_from_edge from the cut edge; where that is not given, at the cut edge of a faced and drafted edge, else at the finished edge, or for holes along it with its middle under them",
		Why:     "Where the strip ends under the hole the thickness steps, the hole stretches, and the cloth tears at its end.",
		Limits:  []plan.Threshold{plan.SupportLimit, plan.SupportUsualLimit, plan.InnerLimit},
		Sources: []string{
			"reader's answer to a trade pattern maker: at least 1/4 in of band beyond each end of a buttonhole",
			"a method for shirt bands, as quoted: a strip as wide as the finished band",
			"common practice, no source: 1/2 in beyond the hole; a 3 in strip begun 1/2 in from the cut edge",
			"derived: the inner buttons of a double-breasted front land on facing and canvas; the 10 mm from memory",
		},
		Check: func(x *Context) {
			s := &x.K.Support
			if !s.Needed {
				return
			}
			if s.BareCords && s.Interfacing != nil && !(s.Given && s.Strip < s.Least) {
				x.report(Caution, x.at("inset"), Numbers{}, "the cords are sewn on %s inside the centre line, past the seam of the band, where its interfacing ends: put a piece of interfacing behind each end, %s wide and %s high, before you sew them on", x.say(x.C.Inset.V), x.say(plan.UnderCordAcross), x.say(plan.UnderCordAlong)).Line("the cords' ends lie past the band: interface behind each of them")
			}
			if !s.Given {
				return
			}
			path := x.at("stand.strip")
			switch along := x.K.Hole.Needed && x.K.Hole.Kind != "loop" && x.K.Hole.Direction == "along"; {
			case along && !s.Placed && plan.LapOf(x.C) != "double" && s.Strip < s.Least:
				have, need := x.Short(s.Strip, s.Least)
				x.report(Conflict, path, atLeast(s.Strip, s.Least).on(x.stripBasis(s.Strip)...), "the strip is %s wide, but holes along the edge need %s on either side: %s", have, x.say(plan.SupportLeast), x.cutStrip(need)).Line("the strip is %s wide; holes along the edge need %s", have, need)
			case s.Strip < s.Least:
				have, need := x.Short(s.Strip, s.Least)
				x.report(Conflict, path, atLeast(s.Strip, s.Least).on(x.stripBasis(s.Strip)...),
					"the strip, %s wide, ends %s %s, but must reach %s inside it %s: %s",
					have, x.outside(-s.Covers), x.holesLine(), x.Least(s.Reach), x.supportFor(), x.cutStrip(need)).Line("the strip is %s wide, but %s reaches past %s", have, need, x.supported())
			case s.Whole != 0 && s.Strip < s.Whole:
				have, need := x.Short(s.Strip, s.Whole)
				x.report(Note, path, atLeast(s.Strip, s.Whole), "the strip, %s wide, is enough for the holes; a band is usually interfaced over all its width, %s", have, x.wholeStrip(need)).Line("the strip is %s wide; usual is the whole band, %s", have, need)
			case s.Strip < s.Usual && s.Whole == 0:
				have, need := x.Short(s.Strip, s.Usual)
				x.report(Caution, path, atLeast(s.Strip, s.Usual), "the strip, %s wide, passes %s by less than the usual %s: %s", have, x.supported(), x.supportRoom(), x.cutStrip(need)).Line("the strip is %s wide; %s is usual", have, need)
			}
		},
		Touches: []string{"closure.*.stand.strip"},
		Propose: func(x *Context, f *Finding) []Change {
			s := &x.K.Support
			if !f.Compared {
				return nil // a strip across the seam of a band is none
			}
			var out []Change
			if s.Whole != 0 {
				out = append(out, Change{With: x.setLength("stand.strip", s.Whole.Least(x.U)), Says: "cut the strip as wide as the band, " + x.up(s.Whole), Cost: (s.Whole - s.Strip).MM() / 4})
			}
			for _, w := range []measure.Length{s.Usual, s.Least} {
				l := w.RoundUp(plan.HoleStep(x.U) * 2)
				if l <= s.Strip { // it passes the holes already, and no narrower one does better
					continue
				}
				out = append(out, Change{With: x.setLength("stand.strip", l), Says: "cut the strip " + x.up(l) + " wide", Cost: (l - s.Strip).MM() / 4})
			}
			return out
		},
	},
	{
		Name: "strip-second", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "a second interfacing ends clear of the holes",
		Figure:  "strip of the second interfacing",
		Formula: "an interfacing that lies beside another in one stack reaches {past} past the holes or fasteners, as the first must, or ends before they begin; where the file does not say its width it is cut wider than the first by {stagger}, in a file in millimetres {stagger mm}, and lies where that lies",
		Limits:  []plan.Threshold{plan.SupportLimit, plan.StaggerLimit, plan.StaggerMMLimit},
		Why:     "Where a layer ends under the hole the thickness steps there, the foot tilts, and its edge shows. Two edges on one line make a ridge.",
		Sources: []string{
			"geometry",
			"common practice, no source: layers of interfacing end apart, each graded past the one before it",
		},
		Ours: "{stagger}, in a file in millimetres {stagger mm}, between the two inner edges",
		Check: func(x *Context) {
			s := &x.K.Support
			out := x.K.Outward()
			for i := range s.Strips {
				y := &s.Strips[i]
				if !y.Beside {
					continue
				}
				switch {
				case y.Begins != s.Begins && y.Begins < out && y.Begins > -s.Reach:
					x.report(Caution, x.stripAt(y, "from_edge"), atLeast(y.Begins, out).on(x.secondBasis(y, "from_edge")), "the strip of %s begins %s %s, but the work there reaches %s outside it: it would begin under it; begin it further out", y.Name, x.outside(y.Begins), x.holesLine(), x.say(out)).Line("the strip of %s begins under %s", y.Name, x.supported())
				case y.Covers() < s.Covers && y.Covers() < s.Reach && y.Covers() > -out: // beyond what is said of the first
					need := y.Begins + s.Reach
					x.report(Caution, x.stripAt(y, "width"), atLeast(y.Width, need).on(x.secondBasis(y, "width")), "the strip of %s, %s wide, ends %s %s, but %s reaches %s with its margin: cut it %s or wider", y.Name, x.say(y.Width), x.outside(-y.Covers()), x.holesLine(), x.what(), x.Least(s.Reach), x.Least(need)).Line("the strip of %s ends under %s: cut it wider", y.Name, x.supported())
				}
			}
		},
		Touches: []string{"closure.*.stand.strips"},
		Propose: func(x *Context, f *Finding) []Change {
			s := &x.K.Support
			var out []Change
			for i := range s.Strips {
				y := &s.Strips[i]
				if !y.Beside || x.C.Stand.StripOf(y.Name) == nil {
					continue
				}
				if edge := x.K.Stand.Extension - x.K.Stand.Column - x.K.Outward(); y.Begins < x.K.Outward() && edge >= 0 {
					from := max(0, edge-quarter).RoundDown(plan.HoleStep(x.U))
					out = append(out, Change{With: x.setSecond(y, "from_edge", from), Says: "begin the strip of " + y.Name + " " + x.down(from) + " from the cut edge", Cost: 1})
					continue
				}
				if l := (y.Begins + s.Reach).RoundUp(plan.HoleStep(x.U)); l > y.Width {
					out = append(out, Change{With: x.setSecond(y, "width", l), Says: "cut the strip of " + y.Name + " " + x.up(l) + " wide", Cost: (l - y.Width).MM() / 4})
				}
			}
			return out
		},
	},
	{
		Name: "interfacing-none", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "holes and set hardware want interfacing under them",
		Formula: "at least one interfacing among the layers, or reinforced = true; a note for tack buttons and rivets in two layers or more of denim or duck of 10 oz/yd2 and more",
		Why:     "Cloth alone stretches along the hole and lets set hardware pull out.",
		Sources: []string{
			"sewing and design professionals' standards, p. 24 and 25: cloth under buttons and snaps is reinforced",
			"K. H. Watson, Textiles and Clothing, 1907: a strip of canvas along the whole button line",
			"common practice, no source: jeans jackets of 12 to 14 oz denim have none under their tack buttons",
		},
		Ours: "10 oz/yd2 as the least for it",
		Check: func(x *Context) {
			if x.bare() && !(x.K.Hardware.Needed && x.C.Reinforce.Has()) { // hardware-layers says that one
				where := "from the finished edge"
				if s := &x.K.Support; s.Placed {
					where = "from the cut edge"
					if x.C.Stand.StripFromEdge.Has() {
						where = "where the file has it begin"
					}
				} else if x.K.Hole.Needed && x.K.Hole.Kind != "loop" && x.K.Hole.Direction == "along" {
					where = "with its middle under the holes"
				}
				sev := Caution
				if x.carriesItself() {
					sev = Note
				}
				what, line, firm := "a strip", "in a strip %s wide", ""
				if cl := x.stretchyAlong(); cl != nil {
					what, line, firm = "a firm strip", "a firm strip of %s", ": "+x.G.NameOf(cl)+" stretches along the hole"
				}
				if x.K.Support.Waits != "" { // how wide follows from an edge that is not there
					x.report(sev, x.at("over"), Numbers{}, "there is no interfacing under the %s: put %s in%s", x.things(), what, firm).Line("no interfacing under the %s: put in %s", x.things(), what)
					return
				}
				x.report(sev, x.at("over"), Numbers{}, "there is no interfacing under the %s: put %s in, about %s wide, %s%s", x.things(), what, x.Least(x.K.Support.Strip).For(x.at("stand.strip")), where, firm).Line("no interfacing under the %s: put "+line, x.things(), x.Least(x.K.Support.Strip))
			}
		},
		Touches: []string{"closure.*.over", "closure.*.under", "closure.*.measured", "closure.*.reinforced"},
		Propose: func(x *Context, f *Finding) []Change { return proposeSupport(x) },
	},
	{
		Name: "interfacing-heavy", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsInterfacing,
		Room:    noRoom,
		Title:   "the interfacing must not be heavier than the cloth",
		Figure:  "weight of the interfacing",
		Formula: "weight of the interfacing ≤ weight of the outermost cloth",
		Why:     "A heavier interfacing takes over: the front stands like a board and the edge of the strip shows through.",
		Sources: []string{
			"Washington State University Extension EM014, Interfacings",
			"Texas Cooperative Extension E-404, 2006",
		},
		Check: func(x *Context) {
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
						x.report(Caution, whole(source.Join("interfacing", l.Name)), noMore(iw, sw, "g/m2"),
							"the interfacing weighs %s, more than the cloth it supports, %s: take a lighter one", iw.Text(x.U), sw.Text(x.U)).Line("the interfacing weighs %s, the cloth %s: too heavy", iw.Text(x.U), sw.Text(x.U))
						return
					}
				}
			}
		},
		Touches: anotherInterfacing,
		Propose: func(x *Context, f *Finding) []Change {
			return proposeInterfacing(x, f.Path(), func(n *catalog.Interfacing) bool { return n.Weight.Has() && n.Weight.V.GSM() <= f.Need })
		},
	},
	{
		Name: "goods-narrow", Severity: Conflict,
		Rests: []string{"closure.*.notion.kind", "closure.*.stand", "interfacing.*.width"},
		Task:  NoTask,
		Reads: ReadsNotion | ReadsInterfacing,
		Room: func(x *Context) Numbers {
			n, s := Numbers{}, &x.K.Support
			if s.Interfacing != nil && s.Interfacing.Width.Has() {
				if n = atLeast(s.Interfacing.Width.V, s.Least); s.Given {
					n = atLeast(s.Interfacing.Width.V, s.Strip)
				}
			}
			for i := range s.Strips {
				if y := &s.Strips[i]; y.Beside && y.Given && y.Interfacing.Width.Has() {
					if m := atLeast(y.Interfacing.Width.V, y.Width); !n.Compared || m.Share() < n.Share() {
						n = m
					}
				}
			}
			return n
		},
		Title:   "the strip must fit the width of the goods",
		Figure:  "width of the interfacing",
		Formula: "strips side by side = floor(goods width ÷ strip width) ≥ 1",
		Why:     "A strip wider than the goods cannot be cut in one piece.",
		Sources: []string{"arithmetic"},
		Check: func(x *Context) {
			s := &x.K.Support
			for i := range s.Strips {
				if y := &s.Strips[i]; y.Beside && y.Given && y.Interfacing.Width.Has() && y.Interfacing.Width.V < y.Width {
					at, goods := x.stripAt(y, "width"), whole(source.Join("interfacing", y.Name)+".width")
					strip, width := x.Apart(y.Width, y.Interfacing.Width.V)
					n := atLeast(y.Interfacing.Width.V, y.Width).on(plan.EntryBasis(y.Interfacing.Width, &y.Interfacing.Entry, catalog.Key("interfacing", y.Name, "width")), x.secondBasis(y, "width"))
					x.report(Conflict, at, n, "the strip of %s, %s, is wider than its goods, %s: take goods at least %s wide", y.Name, strip, width, x.Least(y.Width).For(goods)).Line("the strip of %s, %s, is wider than its goods, %s", y.Name, strip, width)
				}
			}
			if s.Interfacing != nil && s.Interfacing.Width.Has() && s.Interfacing.Width.V < s.Strip {
				n := atLeast(s.Interfacing.Width.V, s.Strip).on(x.goodsBasis())
				if s.Given {
					n = n.on(plan.BasisOf(x.C.Stand.Strip, x.key("stand.strip")))
					strip, width := x.Apart(s.Strip, s.Interfacing.Width.V)
					x.report(Conflict, x.at("stand.strip"), n, "the strip, %s, is wider than the interfacing, %s%s", strip, width, x.goodsFor()).Line("the strip, %s, is wider than the interfacing, %s", strip, width)
					return
				}
				if s.Interfacing.Width.V >= s.Least { // what is over the least is our own choice
					width, strip := x.Short(s.Interfacing.Width.V, s.Strip)
					x.report(Caution, x.at("stand.strip"), n, "the interfacing is %s wide, narrower than the usual strip, %s: cut the strip as wide as the goods", width, strip).Line("the interfacing is %s wide, under the usual strip, %s", width, strip)
					return
				}
				width, least := x.Short(s.Interfacing.Width.V, s.Least)
				n = atLeast(s.Interfacing.Width.V, s.Least).on(x.goodsBasis()).on(x.stripBasis(s.Interfacing.Width.V)[1:]...)
				x.report(Conflict, x.at("stand.strip"), n, "the interfacing is %s wide, narrower than the strip must be, %s", width, least).Line("the interfacing is %s wide; the strip must be %s", width, least)
			}
		},
		Touches: slices.Concat(anotherNotion, []string{"closure.*.stand.strip", "closure.*.stand.strips.*.width", "interfacing.*"}),
		Propose: func(x *Context, f *Finding) []Change {
			s := &x.K.Support
			var out []Change
			for i := range s.Strips {
				y := &s.Strips[i]
				if w := y.Interfacing.Width; y.Beside && y.Given && w.Has() && w.V < y.Width {
					to := w.V.Most(x.U)
					out = append(out, Change{With: x.setSecond(y, "width", to), Says: "cut the strip of " + y.Name + " " + x.down(to) + " wide", Cost: (y.Width - to).MM() / 4})
					out = append(out, proposeInterfacing(x, source.Join("interfacing", y.Name), func(n *catalog.Interfacing) bool { return n.Width.V >= y.Width })...)
				}
			}
			if l := s.Usual.RoundUp(plan.HoleStep(x.U) * 2); s.Given && l < s.Strip {
				out = append(out, Change{With: x.setLength("stand.strip", l), Says: "cut the strip " + x.up(l) + " wide", Cost: (s.Strip - l).MM() / 4})
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

// stripAt is the place of a key of a second interfacing's strip, or of the
// layers where the file says nothing of it.
func (x *Context) stripAt(y *plan.Strip, key string) place {
	for i := range x.C.Stand.Strips {
		if s := &x.C.Stand.Strips[i]; s.Name == y.Name {
			return whole(source.Join(source.Item(x.path("stand.strips"), i), key))
		}
	}
	return x.at("over")
}

// setSecond gives it a length.
func (x *Context) setSecond(y *plan.Strip, key string, l measure.Length) []catalog.With {
	return x.setLength(catalog.Key("stand", "strips", y.Name, key), l)
}

// secondBasis is what that key rests on.
func (x *Context) secondBasis(y *plan.Strip, key string) plan.Basis {
	s := x.C.Stand.StripOf(y.Name)
	at := x.key(catalog.Key("stand", "strips", y.Name, key))
	switch {
	case s == nil:
		return plan.BasisOf(catalog.Measured{}, at)
	case key == "width":
		return plan.BasisOf(s.Width, at)
	}
	return plan.BasisOf(s.FromEdge, at)
}

// what is what a strip lies under.
func (x *Context) what() string {
	if x.K.SewnHole() {
		return "a hole"
	}
	return "a " + text.One(x.C.Notion.Kind)
}

// stripBasis is what the strip, or goods, so wide and what it must pass rest on.
func (x *Context) stripBasis(wide measure.Length) []plan.Basis {
	return []plan.Basis{
		plan.BasisOf(x.C.Stand.Strip, x.key("stand.strip")), x.beginsBasis(), plan.InsideBasis(x.C, x.K), x.stripColumn(),
		x.kindBasis(x.K.Support.Least-wide, plan.KeyholeWider),
	}
}

// holesLine is what the reach of a strip is counted from.
func (x *Context) holesLine() string {
	switch {
	case x.C.Flap.Has():
		return "the line of the fasteners"
	case x.C.Lap == "double":
		return "the column"
	}
	return "the centre line"
}

// beginsBasis is what it rests on how far outside what it must pass a strip begins:
// on the under piece of a flap at the edge, as far from it as the line of the
// fasteners.
func (x *Context) beginsBasis() plan.Basis {
	b, s := plan.StripBasis(x.C, x.K), &x.K.Support
	if !x.C.Flap.Has() {
		return b
	}
	begins := s.Begins
	if x.K.Hole.Direction == "along" && x.K.SewnHole() && !s.Placed {
		b, begins = plan.Basis{}, s.Reach // its middle lies under them
	}
	return plan.Larger(begins, b, x.C.Flap.Width.V-x.K.Stand.Have, plan.FlapBasis(x.C, x.K))
}

// stripColumn is what it rests on that the strip of a double-breasted front must
// reach past both columns, as far from the centre line the one as the other: where
// it begins at an edge that the file draws, the edge takes one of them.
func (x *Context) stripColumn() plan.Basis {
	b, st := plan.ColumnBasis(x.C), &x.K.Stand
	if st.Known && (x.K.Support.Placed || st.Have > 0) {
		return b
	}
	return b.Scaled(2)
}

// goodsBasis is what the width of the interfacing rests on.
func (x *Context) goodsBasis() plan.Basis {
	in := x.K.Support.Interfacing
	for i := range x.G.Interfacings {
		if x.G.Interfacings[i] == in {
			return plan.EntryBasis(in.Width, &in.Entry, catalog.Key("interfacing", x.G.InterfNames[i], "width"))
		}
	}
	return plan.EntryBasis(in.Width, &in.Entry, "")
}

// goodsFor says which goods to take where no strip that can be cut is wide
// enough.
func (x *Context) goodsFor() any {
	s := &x.K.Support
	if w := s.Interfacing.Width.V; w.Most(x.U) >= s.Least {
		return x.Most(w).For(x.at("stand.strip")).in(": cut it ", " at most")
	}
	return x.Least(s.Strip).For(x.goodsWidth()).in(": take goods at least ", " wide")
}

// goodsWidth is the place of the width of the goods that the strip is cut
// from.
func (x *Context) goodsWidth() place {
	for i, in := range x.G.Interfacings {
		if in == x.K.Support.Interfacing {
			return whole(x.interfacingPath(i, "width"))
		}
	}
	return x.at("stand.strip")
}

// wholeStrip is the width of a strip, to write where the goods are as wide.
func (x *Context) wholeStrip(need Said) fmt.Stringer {
	if in := x.K.Support.Interfacing; in != nil && in.Width.Has() && in.Width.V < printedUp(need.l) {
		return need
	}
	return need.For(x.at("stand.strip"))
}

// cutStrip says how wide to cut the strip, and what goods that takes where
// those there are too narrow.
func (x *Context) cutStrip(need Said) together {
	out := together{need.For(x.at("stand.strip")).in("cut it ", " or wider")}
	if in := x.K.Support.Interfacing; in != nil && in.Width.Has() && in.Width.V < printedUp(need.l) {
		out = append(out, x.Least(need.l).For(x.goodsWidth()).in("take goods at least ", " wide"))
	}
	return out
}

// supported is what a strip must pass, and supportFor what it must reach that
// far for.
func (x *Context) supported() string {
	h := &x.K.Hole
	switch {
	case x.C.Lap == "double" && !x.C.Flap.Has():
		return "the inner column"
	case x.K.Apart():
		return "where the cord is sewn on"
	case h.Needed && h.Kind != "loop":
		return "the holes"
	}
	return "the " + text.Plural(x.C.Notion.Kind)
}

// things are the fasteners of a closure: one button of one alone.
func (x *Context) things() string {
	for i := range x.K.Sizes {
		if n, known := x.K.Fasteners(i); !known || n != 1 {
			return text.Plural(x.C.Notion.Kind)
		}
	}
	return text.One(x.C.Notion.Kind)
}

// many is a number of fasteners of a run, or of the rows of two columns.
func (x *Context) many(n int) string {
	if plan.LapOf(x.C) == "double" {
		return text.Count(n, "row")
	}
	return text.Counted(n, x.C.Notion.Kind)
}

func (x *Context) supportFor() string {
	if x.C.Lap == "double" && !x.C.Flap.Has() {
		return "to carry the buttons of the inner column"
	}
	return "to pass " + x.supported() + " by " + x.len(plan.SupportLeast)
}

func (x *Context) supportRoom() string {
	switch {
	case x.C.Lap == "double" && !x.C.Flap.Has():
		return x.len(plan.InnerClear)
	case x.K.Apart():
		return "patch and " + x.len(plan.SupportLeast)
	}
	return x.len(plan.SupportUsual)
}

// outside says how far outside a line something lies, or inside it.
func (x *Context) outside(l measure.Length) string {
	switch {
	case l < 0:
		return x.len(-l) + " inside"
	case l > 0:
		return x.len(l) + " outside"
	}
	return "on"
}

// anotherInterfacing are the keys that another interfacing touches: what was
// measured through the old one goes with it.
var anotherInterfacing = []string{"interfacing.*", "closure.*.measured"}

// proposeInterfacing offers other interfacings of the catalogue in place of
// the one whose table the path is in.
func proposeInterfacing(x *Context, path string, will func(*catalog.Interfacing) bool) []Change {
	for i, name := range x.G.InterfNames {
		table := source.Join("interfacing", name)
		if path != table && !strings.HasPrefix(path, table+".") {
			continue
		}
		now := x.G.Interfacings[i]
		var out []Change
		another := x.G.Replacing("interfacing", name)
		for _, c := range x.G.Catalog.Interfacings {
			if c.Name == now.Name || c.Kind == "stay-tape" || !will(c) {
				continue
			}
			cost := 5 + math.Abs(c.Weight.V.GSM()-now.Weight.V.GSM())/20
			if c.Fixing != now.Fixing {
				cost += 5
			}
			out = append(out, Change{With: another(c.Name), Says: "use " + c.Name + " as " + name, Cost: cost})
		}
		return cheapest(out, 6)
	}
	return nil
}

// proposeSupport puts an interfacing that the garment has under the
// outermost layer.
func proposeSupport(x *Context) []Change {
	var out []Change
	for i, name := range x.G.InterfNames {
		with := x.G.Unsampled(x.C.Index) // it was sewn through other layers
		for _, side := range []struct {
			key    string
			layers []catalog.Layer
		}{{"over", x.C.Over}, {"under", x.C.Under}} {
			if side.key == "under" && !x.G.Stated(x.path("under")) {
				continue
			}
			var names []string
			for j, l := range side.layers {
				if names = append(names, l.Name); j == 0 {
					names = append(names, name)
				}
			}
			with = append(with, x.setNames(side.key, names)...)
		}
		out = append(out, Change{With: with, Says: "put the interfacing " + name + " under it", Cost: 4 + float64(i)})
	}
	return append(out, Change{With: set(x, "reinforced", true), Says: "reinforce it in another way, and say so", Cost: 15})
}

// bare says whether nothing is under a closure's fasteners and holes.
func (x *Context) bare() bool {
	return x.K.Support.Needed && x.K.Support.Interfacing == nil && !x.C.Reinforce.Or(false)
}

// selfCarrying is the weight from which denim and duck carry tack buttons and
// rivets by themselves.
const selfCarrying = 10 * measure.OunceYard

// carriesItself says whether a closure's cloth carries its hardware without
// interfacing.
func (x *Context) carriesItself() bool {
	if k := x.C.Notion.Kind; k != catalog.TackButton && k != catalog.Rivet {
		return false
	}
	for _, ls := range [2][]catalog.Layer{x.C.Over, x.C.Under} {
		n := 0
		for _, l := range ls {
			if l.Cloth != nil && l.Cloth.Kind == "heavy-cotton" && l.Cloth.Weight.V >= selfCarrying {
				n++ // a lining or wadding beside them takes nothing from it
			}
		}
		if n < 2 {
			return false
		}
	}
	return true
}
