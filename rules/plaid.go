package rules

import (
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules/plan"
)

// barBasis is what the stripes of both pieces rest on, as they were measured, or
// one in the mirror of the other; apart says how far they lie apart in all.
func (x *Context) barBasis(over, under, repeat catalog.Measured, key string, apart measure.Length) plan.Basis {
	b := plan.BasisOf(over, x.key("check."+key))
	if !under.Has() {
		b = b.Scaled(2)
	} else {
		b = b.And(plan.BasisOf(under, x.key("check."+strings.ReplaceAll(key, "over", "under"))))
	}
	cl := Checked(x.G, x.C)
	r := plan.EntryBasis(repeat, &cl.Entry, catalog.Key("cloth", x.G.NameOf(cl), "repeat"))
	// As often as there are whole repeats between them.
	return b.And(r.Scaled(float64((apart - plan.PhaseApart(apart, 0, repeat.V)).Abs() / repeat.V)))
}

// Checked is the plaid cloth of a closure, or nil.
func Checked(g *catalog.Garment, c *catalog.Closure) *catalog.Cloth {
	cl := (*catalog.Cloth)(nil)
	if c.Check.Cloth != "" {
		cl = g.ClothNamed(c.Check.Cloth)
	} else {
		cl = Shell(c.Over)
	}
	if cl == nil || !cl.Repeat.Across.Has() && !cl.Repeat.Along.Has() {
		return nil
	}
	return cl
}

// Left is a distance towards the wearer's left, or right, in words.
func (x *Context) Left(l measure.Length) string {
	switch {
	case l < 0:
		return x.len(-l) + " from the centre line towards the wearer's right"
	case l == 0:
		return "on the centre line"
	}
	return x.len(l) + " from the centre line towards the wearer's left"
}

// leftLine is Left in a few words.
func (x *Context) leftLine(l measure.Length) string {
	if l == 0 {
		return "on the centre line"
	}
	return l.Abs().Short(x.U) + " to the wearer's " + side(l)
}

// stripeAt is leftLine for a proposal, with both units.
func (x *Context) stripeAt(l measure.Length) string {
	if l == 0 {
		return "on the centre line"
	}
	return x.len(l.Abs()) + " to the wearer's " + side(l) + " of centre"
}

func side(l measure.Length) string {
	if l < 0 {
		return "right"
	}
	return "left"
}

// BarUnder is where a stripe of the under front lies, and whether that is known:
// as it was measured, or as the mirror image of the upper front.
func BarUnder(k *catalog.Check) (measure.Length, bool) {
	switch {
	case k.Under.Has():
		return k.Under.V, true
	case k.Over.Has() && k.Cut == "mirror":
		return -k.Over.V, true
	}
	return 0, false
}

var plaidRules = []*Rule{
	{
		Name: "plaid-phase", Severity: Conflict,
		Lenient: []string{"within"},
		Rests:   []string{"closure.*.check", "closure.*.where", "cloth.*.repeat.across"},
		Task:    NoTask,
		At:      AtTable,
		Reads:   ReadsRest,
		Room:    noRoom,
		Title:   "the upright stripes of the two fronts must fall on each other",
		Figure:  "stripes off at the centre line",
		Formula: "distance of a stripe from the centre line, towards the wearer's left (negative: towards the right), on the upper front ≡ the same on the under front, modulo the repeat across, within {within}; cut in mirror image the under front has the opposite distance. Of a flap, pocket, tab or cuff: from its middle on it (over) ≡ from there on what lies beneath (under). Of a collar: from its middle (over), and its two sides are alike only with a stripe there, or the middle between two",
		Why:     "Buttoned, the two centre lines lie on each other: stripes that do not meet there show as a step down the whole front.",
		Sources: []string{
			"Sewing and Craft Alliance guideline: stripes must meet at closures, centre front first of all",
			"W. D. F. Vincent, Systems of Cutting: the two breast lines coincide when buttoned",
			"geometry: distances modulo the repeat",
		},
		Others: "One teacher puts the strongest stripe on the centre line (Threads 172, 2014), another puts the centre midway between stripes: either is right if both fronts do it.",
		Ours:   "{within} as what laying and cutting are off by",
		Limits: []plan.Threshold{plan.PhaseLimit},
		Check: func(x *Context) {
			cl := Checked(x.G, x.C)
			if cl == nil || !cl.Repeat.Across.Has() {
				return
			}
			k, r := &x.C.Check, cl.Repeat.Across.V
			if !plan.IsFront(x.C) {
				x.pieceBars(cl)
				return
			}
			under, known := BarUnder(k)
			switch {
			case !k.Over.Has() && !k.Under.Has():
				x.report(Note, x.at("check"), Numbers{}, "nothing is said of where the stripes of %s fall: measure from the centre line to a stripe on both fronts and write them as check.over and check.under; they must be alike within a repeat of %s", x.G.NameOf(cl), x.say(r)).Line("measure the stripes of %s on both fronts: check.over, check.under", x.G.NameOf(cl))
			case !k.Over.Has() || !known:
				at, piece := k.Over.V, "under"
				if !k.Over.Has() {
					at, piece = k.Under.V, "upper"
				}
				x.report(Note, x.at("check"), Numbers{}, "lay the %s front with a stripe %s, or a whole number of repeats of %s from there", piece, x.Left(at), x.say(r)).Line("lay the %s front with a stripe %s", piece, x.later(func(x *Context) string { return x.leftLine(at) }))
			default:
				d := plan.PhaseApart(k.Over.V, under, r)
				if d.Abs() <= plan.PhaseWithin {
					return
				}
				n := atMost(d.Abs(), plan.PhaseWithin).on(x.barBasis(k.Over, k.Under, cl.Repeat.Across, "over", k.Over.V-under))
				if !k.Under.Has() {
					x.report(Conflict, x.at("check.over"), n, "cut in mirror image, a stripe of the upper front lies %s, and one of the under front %s: they miss by %s. Put a stripe on the centre line, or the middle between two stripes", x.Left(k.Over.V), x.Left(under), x.say(d.Abs())).Line("cut in mirror image, the stripes miss by %s at the centre line", x.say(d.Abs()))
					return
				}
				x.report(Conflict, x.at("check.under"), n, "the stripes of %s miss by %s at the centre line: lay the under front so that its stripe moves %s to the wearer's %s, or the upper front so that its stripe moves as far to the %s", x.G.NameOf(cl), x.say(d.Abs()), x.say(d.Abs()), side(d), side(-d)).Line("the stripes of %s miss by %s at the centre line", x.G.NameOf(cl), x.say(d.Abs()))
			}
		},
		Touches: []string{"closure.*.check.over", "closure.*.check.under"},
		Propose: func(x *Context, f *Finding) []Change {
			cl := Checked(x.G, x.C)
			if cl == nil {
				return nil
			}
			k, r := &x.C.Check, cl.Repeat.Across.V
			under, _ := BarUnder(k)
			if x.C.Where == "collar" {
				return []Change{
					{With: x.setLength("check.over", 0), Says: "lay the collar with a stripe at its middle", Cost: 1},
					{With: x.setLength("check.over", r/2), Says: "lay the collar with its middle midway between two stripes", Cost: 2},
				}
			}
			d := plan.PhaseApart(k.Over.V, under, r)
			// The stripe nearest the line is the one that is measured, so the words
			// and the value are of the same stripe, on the same side.
			near := func(l measure.Length) measure.Length { return x.writable(plan.PhaseApart(l, 0, r)) }
			if !plan.IsFront(x.C) {
				l := near(k.Under.V)
				return []Change{{With: x.setLength("check.over", l), Says: "lay the " + x.C.Where + " with a stripe " + strings.NewReplacer("the centre line", "its middle", "of centre", "of its middle").Replace(x.stripeAt(l)), Cost: 1}}
			}
			if !k.Under.Has() {
				return []Change{
					{With: x.setLength("check.over", 0), Says: "lay both fronts with a stripe on the centre line", Cost: 1},
					{With: x.setLength("check.over", x.writable(r/2)), Says: "lay both fronts with the centre midway between two stripes", Cost: 2},
				}
			}
			under, over := near(k.Under.V+d), near(k.Over.V-d)
			return []Change{
				{With: x.setLength("check.under", under), Says: "lay the under front with a stripe " + x.stripeAt(under), Cost: 1},
				{With: x.setLength("check.over", over), Says: "lay the upper front with a stripe " + x.stripeAt(over), Cost: 2},
			}
		},
	},
	{
		Name: "plaid-level", Severity: Conflict,
		Lenient: []string{"within"},
		Rests:   []string{"closure.*.check", "closure.*.where", "cloth.*.repeat.along"},
		Task:    NoTask,
		Reads:   ReadsRest,
		Room:    noRoom,
		Title:   "the crosswise stripes of the two fronts must stand level",
		Formula: "distance of a stripe below the neck edge on the upper front ≡ the same on the under front, modulo the repeat along, within {within}",
		Why:     "A step in the crosswise stripes is the first thing an eye finds on a buttoned coat.",
		Sources: []string{
			"Sewing and Craft Alliance guideline: stripes must meet at closures and main seams",
			"M. Tilton, tips for matching: match on the seam line, not on the cut edge",
		},
		Ours:   "{within} as what laying and cutting are off by",
		Limits: []plan.Threshold{plan.PhaseLimit},
		Check: func(x *Context) {
			cl := Checked(x.G, x.C)
			k := &x.C.Check
			if cl == nil || !plan.IsFront(x.C) || !cl.Repeat.Along.Has() || !k.OverAlong.Has() || !k.UnderAlng.Has() {
				return
			}
			d := plan.PhaseApart(k.OverAlong.V, k.UnderAlng.V, cl.Repeat.Along.V)
			if d.Abs() <= plan.PhaseWithin {
				return
			}
			way, lies := "down", "lower"
			if d < 0 {
				way, lies = "up", "higher"
			}
			x.report(Conflict, x.at("check.under_along"), atMost(d.Abs(), plan.PhaseWithin).on(x.barBasis(k.OverAlong, k.UnderAlng, cl.Repeat.Along, "over_along", k.OverAlong.V-k.UnderAlng.V)), "the crosswise stripes of %s stand %s apart: lay the under front so that its stripe moves %s %s", x.G.NameOf(cl), x.say(d.Abs()), x.say(d.Abs()), way).Line("the crosswise stripes are %s apart: lay the under front's %s", x.say(d.Abs()), lies)
		},
		Touches: []string{"closure.*.check.over_along", "closure.*.check.under_along"},
		Propose: func(x *Context, f *Finding) []Change {
			k := &x.C.Check
			return []Change{
				{With: x.setLength("check.under_along", k.OverAlong.V), Says: "lay the under front level with the upper", Cost: 1},
				{With: x.setLength("check.over_along", k.UnderAlng.V), Says: "lay the upper front level with the under", Cost: 2},
			}
		},
	},
	{
		Name: "plaid-mirror", Severity: Conflict,
		Rests:   []string{"closure.*.check", "closure.*.where", "cloth.*.repeat.even"},
		Task:    NoTask,
		Reads:   ReadsRest,
		Room:    noRoom,
		Title:   "an uneven plaid cannot be cut in mirror image",
		Formula: "cut = mirror only where repeat.even is true; uneven: both fronts cut single, the cloth lying the same way up and running the same way round, the second with the pattern turned over",
		Why:     "In a mirror image the stripes of an uneven plaid run in the opposite order: no shift brings them together.",
		Sources: []string{
			"Pacific Northwest Extension PNW187, Sewing with Stripes, Checks and Plaids: even and uneven, and how to tell",
			"Sewing and Craft Alliance guideline: uneven plaids one way, single layer",
		},
		Check: func(x *Context) {
			cl := Checked(x.G, x.C)
			if cl == nil || !plan.IsFront(x.C) || x.C.Check.Cut != "mirror" {
				return
			}
			switch {
			case !cl.Repeat.Even.Has():
				x.report(Caution, x.at("check.cut"), Numbers{}, "is %s an even plaid? Fold its main stripe down the middle and turn a corner back on the bias: if every line meets in width and colour, write repeat.even = true; if not, the fronts cannot be cut in mirror image", x.G.NameOf(cl)).Line("fold %s along its main stripe: only an even plaid mirrors", x.G.NameOf(cl))
			case !cl.Repeat.Even.V:
				x.report(Conflict, x.at("check.cut"), Numbers{}.on(plan.Basis{Ground: plan.FigureGround(cl.Repeat.Even.From, &cl.Entry), Key: catalog.Key("cloth", x.G.NameOf(cl), "repeat.even")}), "%s is uneven: cut in mirror image the fronts never match. Cut them one at a time, the cloth lying the same way, and turn the pattern over for the second", x.G.NameOf(cl)).Line("%s is uneven: cut one front at a time, the pattern turned over", x.G.NameOf(cl))
			}
		},
		Touches: []string{"closure.*.check.cut"},
		Propose: func(x *Context, f *Finding) []Change {
			return []Change{{With: set(x, "check.cut", "same"), Says: "cut the fronts one at a time, the cloth lying the same way", Cost: 1}}
		},
	},
	{
		Name: "plaid-gaps", Severity: Note,
		Task:    NoTask,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "gaps of whole repeats put every fastener on the same stripe",
		Formula: "gap = n × repeat along, n chosen so that it is nearest the gap wanted (nothing is said of gaps that are less than one); run.match asks for it",
		Why:     "Buttons that wander over the stripes make a level front look uneven.",
		Sources: []string{"arithmetic: no published rule asks for it, some tailors do it"},
		Check: func(x *Context) {
			cl := Checked(x.G, x.C)
			if cl == nil || !cl.Repeat.Along.Has() || x.C.Notion.Kind == catalog.Zip || len(x.K.Sizes) == 0 {
				return
			}
			r := cl.Repeat.Along.V
			s := &x.K.Sizes[0]
			if s.Solved && (s.Count < 2 || onBars(s.Gaps, r)) || !s.Solved && x.C.Run.Match == "" {
				return
			}
			gap, n, count, left := barGaps(x, cl)
			if count < 2 || n < 1 || !x.barsFit(gap, count) { // parts of a repeat come to the same stripe only now and then
				return
			}
			path := x.at("run")
			if x.C.Run.Match != "" {
				path = x.at("run.match")
			}
			x.report(Note, path, Numbers{}, "gaps of %s, %s, put every %s on the same stripe of %s: %s from the first centre, the last %s%s", x.say(gap), repeats(n), text.One(x.C.Notion.Kind), x.G.NameOf(cl), text.Counted(count, x.C.Notion.Kind), x.say(left), x.fromEnd("last")+x.inFirst()).Line("gaps of %s put every %s on the same stripe of %s", x.say(gap), text.One(x.C.Notion.Kind), x.G.NameOf(cl))
		},
		Touches: []string{"closure.*.run.match", "closure.*.run.count", "closure.*.run.last"},
		Propose: func(x *Context, f *Finding) []Change {
			cl := Checked(x.G, x.C)
			if cl == nil || !cl.Repeat.Along.Has() || len(x.G.Sizes) > 1 {
				return nil
			}
			gap, n, count, left := barGaps(x, cl)
			if n < 1 || count < 2 || !x.barsFit(gap, count) {
				return nil
			}
			name := x.G.NameOf(cl)
			return []Change{{
				With: slices.Concat(set(x, "run.match", name), set(x, "run.count", count), x.setLength("run.last", left)),
				Says: "space them " + repeats(n) + " apart, the last " + x.len(left) + x.fromEnd("last"), Cost: 10,
			}}
		},
	},
	{
		Name: "plaid-cloth", Severity: Note,
		Task:    TaskBuyCloth,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "matching takes more cloth",
		Formula: "printed rules disagree: at least one repeat; repeat × pieces stacked along the length; repeat × large pieces; a quarter of the yardage. The range is given with each rule named",
		Why:     "Short cloth is found out at the last piece, and the dye lot is gone.",
		Sources: []string{
			"Sewing and Craft Alliance guideline: at least one extra repeat",
			"fabric shop's page, 2010: repeat × pieces stacked along the length, none for pieces side by side",
			"Marcy Tilton, and S. Blair, Threads 172, 2014: repeat × large pieces",
			"The Sewtionary, p. 257: at least 25 % more",
		},
		garment: true,
		Check: func(x *Context) {
			for i, cl := range x.G.Cloths {
				r := &cl.Repeat
				if !r.Along.Has() || !x.Used(cl) {
					continue
				}
				path := source.Join("cloth", x.G.ClothNames[i]) + ".repeat"
				rules := plan.RepeatCloth(r.Along.V, r.Pieces.Or(0), r.Stacked.Or(0), r.Yardage.Or(0))
				if len(rules) == 1 {
					x.report(Note, whole(path), Numbers{}, "buy at least one repeat more of %s, %s; say how many large pieces there are (pieces), how many lie one below another (stacked) and the yardage to see what the other rules ask", x.G.ClothNames[i], x.say(r.Along.V)).Line("buy one repeat more of %s, %s", x.G.ClothNames[i], x.say(r.Along.V))
					continue
				}
				lo, hi, words := rules[0].Cloth, rules[0].Cloth, make([]string, len(rules))
				for k, e := range rules {
					lo, hi = min(lo, e.Cloth), max(hi, e.Cloth)
					words[k] = e.Cloth.Short(x.U) + ", " + e.Rule
				}
				x.report(Note, whole(path), Numbers{}, "buy %s to %s more of %s to match it, by the rule you go by: %s", lo.Short(x.U), x.say(hi), x.G.ClothNames[i], strings.Join(words, "; ")).Line("buy %s to %s more of %s, to match it", lo.Short(x.U), x.say(hi), x.G.ClothNames[i])
			}
		},
	},
	{
		Name: "one-way", Severity: Note,
		Task:    TaskCut,
		Reads:   ReadsNotion | ReadsInterfacing,
		Room:    noRoom,
		Title:   "nap, pile and uneven plaids are cut all one way",
		Formula: "a napped or pile cloth, or one whose plaid is uneven: every piece with its top the same way, in a single layer",
		Why:     "Turned round, a nap takes the light differently: one front looks like another cloth.",
		Sources: []string{
			"Sewing and Craft Alliance guideline, and S. Blair, Threads 172, 2014: one-way layout for nap, pile and uneven plaids",
			"extension leaflets on fake fur and deep pile: pile down, one layer cut from the back",
			"a sewing teacher's page on corduroy: nap down, a walking foot, a pin every 1/2 in",
		},
		garment: true,
		Check: func(x *Context) {
			for i, cl := range x.G.Cloths {
				if !x.Used(cl) {
					continue
				}
				why, lies := "", "its top the same way"
				switch {
				case cl.Repeat.Even.Has() && !cl.Repeat.Even.V:
					lies = "its top the same way, cut single"
					why = "its plaid is uneven, so cut it single, the cloth lying one way"
				case cl.Kind == "pile":
					lies = "the pile running down, cut single"
					why = "it has a deep pile, which runs down; cut it single, from the back, through the backing alone"
				case cl.Kind == "corduroy":
					lies = "the nap running down, cut single"
					why = "it has a pile, so cut it single, face up, its nap running down. Sew it with a walking foot or a pin every " + measure.Length(in/2).Text(x.G.Units) + ": pile creeps"
				case cl.Surface == "pile":
					lies = "its top the same way, cut single"
					why = "it has a pile, so cut it single, face up"
				case cl.Surface == "napped":
					why = "it has a nap"
				default:
					continue
				}
				x.report(Note, whole(source.Join("cloth", x.G.ClothNames[i])), Numbers{}, "lay every piece of %s with its top the same way: %s", x.G.ClothNames[i], why).Line("lay every piece of %s with %s", x.G.ClothNames[i], lies)
			}
		},
	},
	{
		Name: "plaid-band", Severity: Caution,
		Task:    NoTask,
		Reads:   ReadsRest,
		Room:    noRoom,
		Title:   "a separate band or flap follows the plaid, or goes on the bias",
		Formula: "a separate band (caution), a flap, pocket, cuff or tab (note) of a plaid cloth says check.band = matched or bias",
		Why:     "A band whose stripes nearly meet those of the front looks like a mistake; on the bias it looks meant.",
		Sources: []string{
			"J. Pray, newsletter on matching plaids: yoke, cuffs, pockets and plackets on the bias",
			"geometry: the band's centre line is the front's",
		},
		Check: func(x *Context) {
			cl := Checked(x.G, x.C)
			if cl == nil || x.C.Check.Band != "" {
				return
			}
			switch {
			case x.C.Stand.Construction == "band":
				x.report(Caution, x.at("check.band"), Numbers{}, "cut the separate band so that %s runs on over it from the front, stripe on stripe at the centre line, or cut it on the bias: write check.band", x.G.NameOf(cl)).Line("match the band to the stripes of %s, or cut it on the bias", x.G.NameOf(cl))
			case x.C.Where == "flap", x.C.Where == "pocket", x.C.Where == "cuff", x.C.Where == "tab":
				x.report(Note, x.at("check.band"), Numbers{}, "cut the %s so that %s runs on over it from what lies beneath, or on the bias", x.C.Where, x.G.NameOf(cl)).Line("match it to the stripes of %s, or cut it on the bias", x.G.NameOf(cl))
			}
		},
		Touches: []string{"closure.*.check.band"},
		Propose: func(x *Context, f *Finding) []Change {
			return []Change{
				{With: set(x, "check.band", "bias"), Says: "cut it on the bias", Cost: 1},
				{With: set(x, "check.band", "matched"), Says: "match it to the front", Cost: 2},
			}
		},
	},
}

// pieceBars judges the stripes of a flap or pocket against what lies beneath, and
// those of the two sides of a collar against each other.
func (x *Context) pieceBars(cl *catalog.Cloth) {
	k, r := &x.C.Check, cl.Repeat.Across.V
	if !k.Over.Has() || k.Band == "bias" {
		return
	}
	if x.C.Where == "collar" {
		if d := plan.PhaseApart(k.Over.V, -k.Over.V, r).Abs(); d > plan.PhaseWithin {
			x.report(Conflict, x.at("check.over"), atMost(d, plan.PhaseWithin).on(x.barBasis(k.Over, catalog.Measured{}, cl.Repeat.Across, "over", 2*k.Over.V)), "the two sides of the collar differ by %s of %s: lay it with a stripe at its middle, or the middle between two", x.say(d), x.G.NameOf(cl)).Line("the two sides of the collar differ by %s: centre a stripe or a gap", x.say(d))
		}
		return
	}
	if !k.Under.Has() {
		return
	}
	if d := plan.PhaseApart(k.Over.V, k.Under.V, r); d.Abs() > plan.PhaseWithin {
		x.report(Conflict, x.at("check.over"), atMost(d.Abs(), plan.PhaseWithin).on(x.barBasis(k.Over, k.Under, cl.Repeat.Across, "over", k.Over.V-k.Under.V)), "the stripes of the %s miss those beneath it by %s: move its pattern %s to the wearer's %s on %s, or cut it on the bias", x.C.Where, x.say(d.Abs()), x.say(d.Abs()), side(d), x.G.NameOf(cl)).Line("its stripes miss those beneath by %s", x.say(d.Abs()))
	}
}

// onBars says whether all gaps keep the same place in the repeat.
func onBars(gaps []measure.Length, repeat measure.Length) bool {
	for _, g := range gaps {
		if plan.PhaseApart(g, 0, repeat).Abs() > plan.PhaseWithin {
			return false
		}
	}
	return true
}

// barGaps is the layout on whole repeats nearest to what the run has or asks
// for in its first size: the gap, its repeats, how many fit and what is left
// below the last.
func barGaps(x *Context, cl *catalog.Cloth) (gap measure.Length, n, count int, left measure.Length) {
	first, last := plan.Ends(x.G, x.C, x.K, 0)
	span := last.Max - first.Min
	wish := span / 5
	run := &x.C.Run
	switch c := run.CountAt(0); {
	case c.Set && c.Max > 1:
		wish = span * 2 / measure.Length(c.Min+c.Max-2)
	case run.GapAbout.Has():
		wish = run.GapAbout.At(0).V
	case run.GapMin.Has() && run.GapMax.Has():
		wish = (run.GapMin.At(0).V + run.GapMax.At(0).V) / 2
	case run.GapMin.Has():
		wish = run.GapMin.At(0).V
	case run.GapMax.Has():
		wish = run.GapMax.At(0).V
	}
	gap, n = plan.RepeatGap(wish, cl.Repeat.Along.V)
	if gap == 0 || span < gap {
		return 0, 0, 0, 0
	}
	count = int((span+plan.PhaseWithin)/gap) + 1
	left = run.Length.At(0).V - first.Min - measure.Length(count-1)*gap
	return gap, n, count, left
}

// barsFit says whether count fasteners so far apart keep, in the first size, to
// what wants one near it and leave free what is to stay free. What the file asks
// for with match is told whatever comes of it.
func (x *Context) barsFit(gap measure.Length, count int) bool {
	if x.C.Run.Match != "" {
		return true
	}
	p := plan.ProblemOf(x.G, x.C, x.K, 0)
	some := func(ok func(at measure.Length) bool) bool {
		for i := range count {
			if ok(p.First.Min + measure.Length(i)*gap) {
				return true
			}
		}
		return false
	}
	for _, a := range p.Anchors {
		if !some(func(at measure.Length) bool { return (at - a.At).Abs() <= a.Within }) {
			return false
		}
	}
	for _, z := range p.Clear {
		if some(func(at measure.Length) bool { return z.From < at && at < z.To }) {
			return false
		}
	}
	return true
}

// inFirst names the first size where what is told of it may differ by size.
func (x *Context) inFirst() string {
	if run := &x.C.Run; len(run.Length) > 1 || len(run.First) > 1 || len(run.Last) > 1 {
		return " in size " + x.K.Sizes[0].Size
	}
	return ""
}

// repeats are n repeats in words; a negative n is a part of one.
func repeats(n int) string {
	switch {
	case n < 0:
		return "1/" + strconv.Itoa(-n) + " of a repeat"
	case n == 1:
		return "1 repeat"
	}
	return strconv.Itoa(n) + " repeats"
}
