package work

import (
	"fmt"
	"strconv"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func (w *working) support() {
	c, k := w.x.C, w.x.K
	u, h, f := &k.Support, &k.Hole, &c.Stand
	if !u.Needed {
		return
	}
	var says string
	from := "finished edge"
	if u.Placed {
		from = "where it begins"
	}
	hole := h.Needed && h.Kind != "loop"
	ends := plan.ShapeOf(&c.Notion).Kind == "toggle"
	switch {
	case c.Lap == "double" && !c.Flap.Has():
		says = fmt.Sprintf("%s to the rim of the inner column %s, and %s more = %s usual", from, w.s(u.Least), w.s(u.Usual-u.Least), w.s(u.Usual))
	case hole && h.Direction == "along" && !u.Placed:
		says = fmt.Sprintf("stitched hole %s + 2 × %s = %s, with its middle under the holes", w.s(h.Width), w.s(plan.SupportLeast), w.s(u.Least))
	case hole && h.Direction == "along":
		says = fmt.Sprintf("where it begins to the line of the holes %s, + half the stitched hole %s + %s = %s", w.s(u.Least-u.Reach), w.s(h.Width/2), w.s(plan.SupportLeast), w.s(u.Least))
	case hole:
		says = fmt.Sprintf("%s to the hole's inner end %s, + %s = %s at least, + %s = %s usual", from, w.s(u.Usual-plan.SupportUsual), w.s(plan.SupportLeast), w.s(u.Least), w.s(plan.SupportUsual), w.s(u.Usual))
	case k.Apart():
		says = fmt.Sprintf("%s to where the cord is sewn on %s, + %s = %s at least, + half a patch and %s = %s usual", from, w.s(u.Least-plan.SupportLeast), w.s(plan.SupportLeast), w.s(u.Least), w.s(plan.SupportLeast), w.s(u.Usual))
	case ends:
		says = fmt.Sprintf("%s to the %s's inner end %s, + %s = %s at least, + %s = %s usual", from, c.Notion.Kind, w.s(u.Usual-plan.SupportUsual), w.s(plan.SupportLeast), w.s(u.Least), w.s(plan.SupportUsual), w.s(u.Usual))
	default:
		says = fmt.Sprintf("%s to the %s's inner rim %s, + %s = %s at least, + %s = %s usual", from, c.Notion.Kind, w.s(u.Usual-plan.SupportUsual), w.s(plan.SupportLeast), w.s(u.Least), w.s(plan.SupportUsual), w.s(u.Usual))
	}
	verb := "cut it"
	if u.Given {
		verb = "yours is"
	}
	says += fmt.Sprintf("; %s %s wide", verb, w.t(u.Strip))
	if u.Placed {
		at := "at the cut edge"
		if l := f.StripFromEdge.Or(0); l > 0 {
			at = w.s(l) + " from the cut edge"
		}
		says += fmt.Sprintf(" and begins %s: it reaches %s inside the line of the holes; %s is the least", at, w.x.Signed(u.Covers), w.s(u.Reach))
	}
	st := w.say(TopicStrip, "strip-narrow", "%s", says)
	if !u.Given {
		st.Default = w.set("stand.strip", "the strip's width")
	}
	if u.Interfacing == nil {
		return
	}
	if u.Across == 0 || u.Length == 0 {
		st := w.say(TopicGoods, "goods-narrow", "how much interfacing to buy is not worked out")
		switch {
		case !u.Interfacing.Width.Has():
			name, _ := plan.InterfacingOf(append(append([]catalog.Layer(nil), c.Over...), c.Under...))
			st.Default = "the width of the goods was not given; set interfacing." + name + ".width"
		case u.Length == 0:
			st.Default = w.set("run.length", "the run's length")
		default:
			st.Says = fmt.Sprintf("goods %s wide are narrower than the strip, %s", w.s(u.Interfacing.Width.V), w.s(u.Strip))
		}
		return
	}
	if k.Patch(0) {
		l := min(u.Length, k.PatchLength())
		w.say(TopicGoods, "goods-narrow", "one fastener alone: %d patches %s wide and %s + %s above and below = %s long",
			u.Pieces, w.s(u.Strip), w.s(2*max(k.Reach.Up, k.Reach.Down)), w.s(plan.PatchMargin), w.t(l))
		return
	}
	shrink := ""
	if s := u.Interfacing.Shrink.Or(0); s > 0 {
		shrink = fmt.Sprintf(" ÷ (1 − %s for shrinking)", measure.Percent(s))
	}
	w.say(TopicGoods, "goods-narrow", "goods %s wide ÷ strip %s = %d side by side; %d strips take %s, %s long%s: %s, for this closure alone",
		w.s(u.Interfacing.Width.V), w.s(u.Strip), u.Across, u.Pieces, text.Count(plan.CeilDiv(u.Pieces, u.Across), "row"), w.s(u.Length), shrink, w.t(u.Cloth))
}

func (w *planner) fuse() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		s := &k.Support
		if s.Interfacing == nil || s.Strip <= 0 {
			return
		}
		name, before := w.interfacing(s.Interfacing), "before anything is set"
		if rules.SewnHole(k) {
			before = "before any hole is sewn"
		}
		from := "from the finished edge"
		if c.Stand.StripFromEdge.Has() {
			from = w.len(c.Stand.StripFromEdge.V) + " from the cut edge"
		}
		if s.Interfacing.Fixing == "fusible" {
			lo, hi := rules.FuseRange(s.Interfacing)
			heat := lo.Text(w.u)
			if hi > lo {
				heat = "the heat of the test swatch"
			}
			w.add(StageFuse, c.Name, "Fuse %s under the %s, %s wide, beginning %s, at %s, %s. Trim it out of the seam allowances to 1/8 in (3 mm).", name, c.Name, w.len(s.Strip), from, heat, before).use(plan.InterfacingID(w.g, s.Interfacing))
		} else {
			w.add(StageFuse, c.Name, "Baste %s under the %s, %s wide, beginning %s, %s, and trim it close to the seam line.", name, c.Name, w.len(s.Strip), from, before).use(plan.InterfacingID(w.g, s.Interfacing)).use(w.byHand(c, plan.JobBaste)...)
		}
	})
}

func (w *planner) supported(in *catalog.Interfacing) bool {
	x := rules.Context{G: w.g}
	return x.Supported(in)
}

func (w *planner) interfacing(in *catalog.Interfacing) string {
	for i := range w.g.Interfacings {
		if w.g.Interfacings[i] == in {
			return "the " + w.g.InterfNames[i] + " interfacing"
		}
	}
	return "interfacing"
}

func piecesOf(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}
