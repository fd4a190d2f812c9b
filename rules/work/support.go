package work

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func (w *working) support() {
	c, k := w.x.C, w.x.K
	u, h := &k.Support, &k.Hole
	if !u.Needed || u.Waits != "" {
		return
	}
	var says string
	from := "finished edge"
	if u.Placed {
		from = "where it begins"
	}
	if k.InFly() && !u.Placed {
		from = "the fly's edge"
	}
	hole := h.Needed && h.Kind != "loop"
	ends := plan.ShapeOf(&c.Notion).Kind == "toggle"
	switch {
	case plan.LapOf(c) == "double" && !c.Flap.Has():
		says = fmt.Sprintf("%s to the rim of the inner column %s, and %s more = %s usual", from, w.s(u.Least), w.s(u.Usual-u.Least), w.s(u.Usual))
	case u.Whole != 0 && k.Stand.Construction == "band" && u.Whole == k.Stand.Band:
		says = fmt.Sprintf("all of the band, %s, and nothing past the seam that it is sewn on with; %s at least", w.s(u.Whole), w.s(u.Least))
	case hole && h.Direction == "along" && !u.Placed && u.Least > 2*u.Reach: // of a flap: it is laid against the edge beneath
		says = fmt.Sprintf("the edge beneath to the line of the %s %s, + half the stitched hole %s + %s = %s", text.Plural(c.Notion.Kind), w.s(u.Least-u.Reach), w.s(h.Width/2), w.s(plan.SupportLeast), w.s(u.Least))
	case hole && h.Direction == "along" && !u.Placed:
		says = fmt.Sprintf("stitched hole %s + 2 × %s = %s, with its middle under the holes", w.s(h.Width), w.s(plan.SupportLeast), w.s(u.Least))
	case hole && h.Direction == "along":
		says = fmt.Sprintf("where it begins to the line of the holes %s, + half the stitched hole %s + %s = %s", w.s(u.Least-u.Reach), w.s(h.Width/2), w.s(plan.SupportLeast), w.s(u.Least))
	case hole:
		says = w.reaches(from, "the hole's inner end", u.Usual-plan.SupportUsual)
	case k.Apart() && u.Least > plan.SupportLeast:
		says = fmt.Sprintf("%s to where the cord is sewn on %s, + %s = %s at least, + half a patch and %s = %s usual", from, w.s(u.Least-plan.SupportLeast), w.s(plan.SupportLeast), w.s(u.Least), w.s(plan.SupportLeast), w.s(u.Usual))
	case k.Apart():
		says = fmt.Sprintf("it begins past where the cord is sewn on: %s at least, %s usual", w.s(u.Least), w.s(u.Usual))
	case ends:
		says = w.reaches(from, "the "+kindOf(c)+"'s inner end", u.Usual-plan.SupportUsual)
	case k.Loop.Hooks:
		says = w.reaches(from, "the inner end of hook and eye", u.Usual-plan.SupportUsual)
	case u.Whole != 0:
		says = fmt.Sprintf("%s to the %s's inner rim %s, + %s = %s at least; usual is all of the band, %s", from, kindOf(c), w.s(u.Least-plan.SupportLeast), w.s(plan.SupportLeast), w.s(u.Least), w.s(u.Whole))
	default:
		says = w.reaches(from, "the "+kindOf(c)+"'s inner rim", u.Usual-plan.SupportUsual)
	}
	verb := "cut it"
	switch {
	case u.Given:
		verb = "yours is"
	case u.Interfacing == nil:
		verb = "its layers have no interfacing; one would be cut"
	}
	cut, by := w.cutOf()
	switch {
	case by != nil && cut == 0:
		says += fmt.Sprintf("; a strip %s wide lies within that of the %s, %s wide, which carries it: cut none", w.made(u.Strip, u.AsTold()), by.Name, w.s(w.x.P.Closures[by.Index].Support.Strip))
	case by != nil:
		says += fmt.Sprintf("; %s %s wide%s; elsewhere that of the %s carries it", verb, w.made(u.Strip, u.AsTold()), w.lies(), by.Name)
	default:
		says += fmt.Sprintf("; %s %s wide%s", verb, w.made(u.Strip, u.AsTold()), w.lies())
	}
	if u.Placed {
		says += fmt.Sprintf("; %s inside the line of the holes is the least", w.s(u.Reach))
	}
	st := w.say(TopicStrip, "strip-narrow", "%s", says)
	if !u.Given && u.Interfacing != nil {
		st.Default = w.set("stand.strip", "the strip's width")
	}
	if u.Interfacing == nil {
		return
	}
	for i := range u.Strips {
		if x := &u.Strips[i]; x.Beside {
			says := fmt.Sprintf("%s lies in the same layers as %s: its strip is %s wide", x.Name, u.Strips[0].Name, w.made(x.Width, x.Given))
			if more := x.Width - u.Strip; more > 0 && !x.Given {
				says += ", " + w.s(more) + " more, so that their inner edges lie apart"
			}
			st := w.say(TopicStrip, "strip-second", "%s", says)
			if said := c.Stand.StripOf(x.Name); said == nil || !said.Width.Has() {
				st.Default = fmt.Sprintf("its width was not given; in [closure.stand] set strips = [ { name = %q, width = … } ]", x.Name)
			}
		}
	}
	if by != nil && cut == 0 {
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
			cut, w.s(u.Strip), w.s(2*max(k.Reach.Up, k.Reach.Down)), w.s(plan.PatchMargin), w.made(l, false))
		return
	}
	shrink := ""
	if s := u.Interfacing.Shrink.Or(0); s != 0 {
		shrink = fmt.Sprintf(" ÷ (1 − %s for shrinking)", measure.Percent(s))
	}
	strips := text.Count(cut, "strip") + " take"
	if cut == 1 {
		strips += "s"
	}
	cloth := u.Cloth
	if by != nil {
		_, cloth = plan.Strips(cut, u.Strip, u.Length, u.Interfacing.Width.V, u.Interfacing.Shrink.Or(0))
	}
	w.say(TopicGoods, "goods-narrow", "goods %s wide ÷ strip %s = %d side by side; %s %s, %s long%s: %s, for this closure alone",
		w.s(u.Interfacing.Width.V), w.s(u.Strip), u.Across, strips, text.Count(plan.CeilDiv(cut, u.Across), "row"), w.s(u.Length), shrink, w.made(cloth, false))
}

// cutOf is how many of the closure's first strip are cut, and whose strip
// carries the others.
func (w *working) cutOf() (n int, by *catalog.Closure) {
	u := &w.x.K.Support
	if len(u.Strips) == 0 {
		return u.Pieces, nil
	}
	for z := range w.x.G.Sizes {
		if _, j := w.x.P.Carried(w.x.C.Index, 0, z); j != -1 {
			by = &w.x.G.Closures[j]
		}
		n = max(n, w.x.P.StripPieces(w.x.C.Index, 0, z).N)
	}
	return n, by
}

// reaches adds up a strip that passes something that lies so far inside where
// it begins; where it begins past that, it is the shorter for it.
func (w *working) reaches(from, what string, at measure.Length) string {
	u := &w.x.K.Support
	switch {
	case at < 0:
		return fmt.Sprintf("it begins %s past %s: %s − %s = %s at least, %s − %s = %s usual", w.s(-at), what, w.s(plan.SupportLeast), w.s(-at), w.s(u.Least), w.s(plan.SupportUsual), w.s(-at), w.s(u.Usual))
	case at == 0:
		return fmt.Sprintf("it begins at %s: %s at least, %s usual", what, w.s(u.Least), w.s(u.Usual))
	}
	return fmt.Sprintf("%s to %s %s, + %s = %s at least, + %s = %s usual", from, what, w.s(at), w.s(plan.SupportLeast), w.s(u.Least), w.s(plan.SupportUsual), w.s(u.Usual))
}

// lies says where the interfacing of the closure lies on each piece.
func (w *working) lies() string {
	o, c := w.opening(), w.x.C
	var all []string
	head := ""
	for _, side := range []plan.Side{plan.Over, plan.Flap, plan.Under} {
		layers := c.Over
		if side == plan.Under {
			layers = c.Under
		}
		name, in := plan.InterfacingOf(layers)
		if in == nil || (side == plan.Flap) != c.Flap.Has() && side != plan.Under {
			continue
		}
		for n := range o.areas(side) {
			pc, a := o.area(0, side, n)
			if a == nil || a.Name != name || a.OutTo-a.OutFrom != w.x.K.Support.Strip {
				continue
			}
			under, body := o.liesUnder(pc, a)
			if n := len(all); n != 0 && o.front && side == plan.Under && strings.HasSuffix(all[n-1], body) {
				fronts := "to both fronts"
				switch {
				case o.fly():
					fronts = "to the fly and " + o.called(pc)
				case o.sewnOn():
					fronts = "to both fronts' bands"
				}
				all[n-1] = fronts + comma(strings.Join(both(head, o.head(under, pc, a)), "")) + body
			} else {
				head = o.head(under, pc, a)
				all = append(all, "to "+o.called(pc)+comma(head)+body)
			}
			break
		}
	}
	if len(all) == 0 {
		return ""
	}
	how := ", sewn "
	if w.x.K.Support.Interfacing.Fixing == "fusible" {
		how = ", fused "
	}
	return how + strings.Join(all, "; ")
}

// cutStrips cuts the strips or patches of a closure.
func (w *planner) cutStrips(i int, c *catalog.Closure, k *plan.Closure) {
	if waits := k.Support.Waits; waits != "" {
		var names []string
		var ids []plan.GoodID
		for _, in := range w.g.Interfacings {
			if plan.InterfacedWith(c.Over, in) || plan.InterfacedWith(c.Under, in) {
				names, ids = append(names, w.interfacing(in)), append(ids, plan.InterfacingID(w.g, in))
			}
		}
		if len(names) != 0 {
			t := w.add(StageCut, c.Name, "Cut %s for the %s not before %s is settled.", text.And(names...), c.Name, waits)
			t.use(ids...)
			if !plan.Unbasted(c) && slices.ContainsFunc(slices.Concat(c.Over, c.Under), func(l catalog.Layer) bool { return l.Interfacing != nil && l.Interfacing.Fixing != "fusible" }) {
				t.use(w.byHand(c, plan.JobBaste)...)
			}
			w.take(t, c.Name, rules.TaskShrink)
		}
	}
	for s := range k.Support.Strips {
		w.cutStrip(i, s, c, k)
	}
}

func (w *planner) cutStrip(i, s int, c *catalog.Closure, k *plan.Closure) {
	n := 0
	for _, z := range w.sizes {
		n = max(n, w.p.StripPieces(i, s, z).N)
	}
	if n == 0 {
		return
	}
	long, lines := w.sized(func(z int) string { return w.made(w.p.StripPieces(i, s, z).Length, !k.Patch(z)) })
	if long != "" {
		long = " and " + long + " long"
	} else {
		long += ", and as long as the run"
	}
	what := "strip"
	if k.Patch(w.sizes[0]) {
		what = "patch"
	}
	x := &k.Support.Strips[s]
	twice := ""
	if x.Twice() {
		twice = " It lies twice in your stack: one for each of its two layers."
		if x.Over > 2 || x.Under > 2 {
			twice = " It lies several times in your stack: one for each of its layers."
		}
	}
	for j := range w.p.Closures {
		for m := range w.p.Closures[j].Support.Strips {
			if _, by := w.p.Carried(j, m, w.sizes[0]); by == i && w.p.Closures[j].Support.Strips[m].Name == x.Name {
				twice += fmt.Sprintf(" It carries the %s too.", w.g.Closures[j].Name)
			}
		}
	}
	t := w.add(StageCut, c.Name, "Cut %s of %s for the %s, %s wide%s.%s", piecesOf(n, what), w.interfacing(x.Interfacing), c.Name, w.made(x.Width, x.Given), long, twice)
	t.Lines = lines
	t.use(plan.InterfacingID(w.g, x.Interfacing))
	if s == 0 {
		w.take(t, c.Name, rules.TaskShrink)
	}
}

// fuse puts the interfacing in, where it lies on each piece.
func (w *planner) fuse() {
	w.openings(func(o *opening) {
		type laid struct {
			name, under, lies string
			heads             []string
			wide              measure.Length
			lines             []string
			past, caught      bool
		}
		var all []laid
		if o.any(plan.Over) == nil { // how long it runs is not known
			for _, i := range o.members {
				k := &w.p.Closures[i]
				for j := range k.Support.Strips {
					x := &k.Support.Strips[j]
					w.putIn(o, k, x.Interfacing, "the "+k.Closure.Name, "", x.Width, nil, true, true)
				}
			}
		}
		for _, side := range []plan.Side{plan.Over, plan.Under, plan.Flap} {
			for n := range o.areas(side) {
				name, wide := "", measure.Length(0)
				in := func(name string) bool { // not fused, it is put in to the cut edge and pared
					x := w.g.InterfacingNamed(name)
					return x != nil && x.Fixing != "fusible" && !plan.Unbasted(&w.g.Closures[o.first])
				}
				head, past, caught := "", false, false
				lies, lines := w.sized(func(i int) string {
					pc, a := o.area(i, side, n)
					if a == nil {
						return "not laid out, see above"
					}
					name, wide = a.Name, a.OutTo-a.OutFrom
					past = past || pc.Edged && (a.OutTo > pc.Finished || a.OutTo == pc.Finished && in(a.Name) && o.turned())
					over, body := o.liesUnder(pc, a)
					head = o.head(over, pc, a)
					caught = caught || o.caught(pc, a)
					return body
				})
				if name == "" {
					continue
				}
				l := laid{name, o.sideName(side), lies, []string{head}, wide, lines, past, caught}
				switch {
				case side == plan.Over && o.fly():
					l.under = "the fly"
				case side != plan.Flap && o.front && o.sewnOn():
					l.under = "the band of " + l.under
				}
				if side == plan.Under && o.front && !o.fly() {
					if j := slices.IndexFunc(all, func(x laid) bool {
						return x.name == l.name && x.wide == l.wide && x.lies == l.lies && slices.Equal(x.lines, l.lines)
					}); j != -1 {
						all[j].under, all[j].heads = "both fronts", both(all[j].heads[0], head)
						all[j].past, all[j].caught = all[j].past || past, all[j].caught || caught
						if o.sewnOn() {
							all[j].under = "both fronts' bands"
						}
						continue
					}
				}
				all = append(all, l)
			}
		}
		for _, l := range all {
			in := w.g.InterfacingNamed(l.name)
			c := o.supportedBy(in)
			if in == nil || c == nil {
				continue
			}
			w.putIn(o, c, in, l.under, strings.Join(l.heads, "")+l.lies, l.wide, l.lines, l.past, l.caught)
		}
		for _, i := range o.members {
			w.underCords(&w.p.Closures[i])
		}
	})
}

// underCords puts interfacing behind cords that are sewn on past the band that
// the strip ends with.
func (w *planner) underCords(k *plan.Closure) {
	c, s := k.Closure, &k.Support
	if !s.BareCords || s.Interfacing == nil {
		return
	}
	found := false
	for i := range w.p.Findings {
		if f := &w.p.Findings[i]; f.Rule == "strip-narrow" && f.Closure == c.Name && !f.Compared && !w.taken[f] {
			w.taken[f], found = true, true // this task is what it asks for
		}
	}
	if found {
		w.add(StageFuse, c.Name, "Put a piece of %s, %s wide and %s high, cut from what the strips leave, behind the end of every loop and cord%s, on the wrong side, before it is sewn on: past the seam of the band there is none.",
			w.interfacing(s.Interfacing), w.len(plan.UnderCordAcross), w.len(plan.UnderCordAlong), of(c)).use(plan.InterfacingID(w.g, s.Interfacing))
	}
}

// comma parts words from those before them.
func comma(s string) string {
	if s == "" {
		return " "
	}
	return ", " + s
}

// both are the heads of two areas told as one.
func both(a, b string) []string {
	if a == b || b == "" {
		return []string{a}
	}
	return []string{strings.TrimSuffix(a, ": "), " and ", b[strings.LastIndex(b, "the "):]}
}

// caught says whether a seam or a row of stitches holds an interfacing.
func (o *opening) caught(pc *plan.Piece, a *plan.Area) bool {
	if a.OutTo > pc.Finished || pc.Side == plan.Flap && o.flap.StitchedEdge() {
		return true
	}
	for i := range pc.Lines {
		if l := &pc.Lines[i]; l.Kind == plan.StitchLine && l.From.Out > a.OutFrom && l.From.Out < a.OutTo {
			return true
		}
	}
	return o.lap != nil && (pc.Side == plan.Over || pc.Edged) && o.lap.StitchedEdge()
}

// areas are how many interfacings the piece of that side has at most.
func (o *opening) areas(side plan.Side) int {
	most := 0
	for _, i := range o.sizes {
		n := 0
		for {
			if _, a := o.area(i, side, n); a == nil {
				break
			}
			n++
		}
		most = max(most, n)
	}
	return most
}

// area is the nth interfacing of the piece of that side, nil if it has none.
func (o *opening) area(size int, side plan.Side, n int) (*plan.Piece, *plan.Area) {
	pc := o.piece(size, side)
	if pc == nil {
		return nil, nil
	}
	for i := range pc.Areas {
		if a := &pc.Areas[i]; a.Kind == plan.InterfacingArea {
			if n == 0 {
				return pc, a
			}
			n--
		}
	}
	return pc, nil
}

// turned says whether the edge of the opening is a seam that is turned, not a
// fold or the seam of a band.
func (o *opening) turned() bool {
	return !o.sewnOn() && !o.fly() && (o.lap == nil || o.lap.Stand.Construction != "folded")
}

// supportedBy is the first closure of the opening that has the interfacing.
func (o *opening) supportedBy(in *catalog.Interfacing) *plan.Closure {
	for _, i := range o.members {
		k := &o.p.Closures[i]
		for _, ls := range [][]catalog.Layer{k.Closure.Over, k.Closure.Under} {
			for j := range ls {
				if ls[j].Interfacing == in && k.Support.Needed {
					return k
				}
			}
		}
	}
	return nil
}

// putIn is the task of one interfacing; past says that it reaches past the
// finished edge, into the seam, caught that stitches hold it.
func (w *planner) putIn(o *opening, k *plan.Closure, in *catalog.Interfacing, under, lies string, wide measure.Length, lines []string, past, caught bool) {
	c, before := k.Closure, "before anything is set"
	for _, i := range o.members {
		if rules.SewnHole(&w.p.Closures[i]) {
			before = "before any hole is sewn"
		}
	}
	if lies != "" {
		lies = ", " + lies
	}
	if in.Fixing == "fusible" {
		lo, hi := rules.FuseRange(in)
		use := lo.TextGiven(w.u)
		if hi > lo {
			use = "the heat of the test swatch"
		}
		trim := ""
		if past {
			trim = w.once(" Trim it out of the seam allowances to "+w.len(eighth)+".", "")
		}
		t := w.add(StageFuse, c.Name, "Fuse %s to %s, %s wide%s. %s", w.interfacing(in), under, o.strip(wide), lies, w.once(fmt.Sprintf("Use %s, %s.", use, before), "The same way.")+trim)
		t.use(plan.InterfacingID(w.g, in))
		t.Lines = lines
		return
	}
	if plan.Unbasted(c) {
		if caught {
			before += ", and catch it in the seams"
		}
		t := w.add(StageFuse, c.Name, "Tape %s to %s, %s wide%s. %s", w.interfacing(in), under, o.strip(wide), lies, w.once("Do it "+before+": no basting, needle holes show.", "The same way."))
		t.use(plan.InterfacingID(w.g, in))
		t.Lines = lines
		return
	}
	trim := ""
	if past {
		trim = w.once(" Then trim it close to the seam line.", "")
	}
	t := w.add(StageFuse, c.Name, "Baste %s to %s, %s wide%s. %s", w.interfacing(in), under, o.strip(wide), lies, w.once("Do it "+before+".", "The same way.")+trim)
	t.use(plan.InterfacingID(w.g, in)).use(w.byHand(c, plan.JobBaste)...)
	t.Lines = lines
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
	if strings.HasSuffix(what, "ch") {
		what += "e"
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// testFusing fuses swatches.
func (w *planner) testFusing() {
	for i, in := range w.g.Interfacings {
		for j, cl := range w.g.Cloths {
			if in.Fixing != "fusible" || !w.p.Fused(in, cl) {
				continue
			}
			lo, hi := rules.FuseRange(in)
			heat := lo.TextGiven(w.u)
			if hi > lo {
				heat = "at the heat its maker gives (" + heat + " to " + hi.TextGiven(w.u) + " are printed)"
			} else {
				heat = "at " + heat + " in the glue line, the sole hotter"
			}
			again := "Clean one as the garment will be, and rub it again."
			switch {
			case strings.HasPrefix(w.g.Care, "wash"):
				again = "Wash one as the garment will be, and rub it again."
			case w.g.Care == "dry-clean":
				again = "Have one dry-cleaned, and rub it again."
			}
			shell, fus := plan.FuseTest(1)
			t := w.add(StageTest, "", "Fuse the %s interfacing on %s, a swatch %s square on one %s square, three times, %s: lift and press 10 to 15 s a spot, let it cool flat. Rub the edge, and measure the swatch again for shrinkage. %s", w.g.InterfNames[i], w.g.ClothNames[j], w.len(fus[0]), w.len(shell[0]), heat, again)
			t.use(plan.InterfacingID(w.g, in))
			w.take(t, "", rules.TaskFuseTest)
		}
	}
}
