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

// Step is the working of one number in plain words.
type Step struct {
	Topic   string // what it is the working of: one of the topics below
	Says    string // the sum, with its units
	Default string // which value was not given and how to give it, "" if none
	Sources []string
}

// Topics of the working of a closure, in their order.
const (
	TopicLayers   = "layers"
	TopicHole     = "hole"
	TopicPlace    = "hole's place"
	TopicStand    = "stand"
	TopicBand     = "band"
	TopicFacing   = "facing"
	TopicStrip    = "strip"
	TopicGoods    = "interfacing"
	TopicNeedle   = "needle"
	TopicThread   = "thread"
	TopicStitch   = "stitch"
	TopicFirst    = "first"
	TopicLast     = "last"
	TopicGaps     = "gaps"
	TopicRows     = "columns"
	TopicSewing   = "sewing on"
	TopicUsed     = "thread used"
	TopicHardware = "setting"
	TopicZip      = "zip"
	TopicLoop     = "loop"
	TopicThick    = "thick places"
)

// Working is the working of every number of closure i, in the order of the
// topics. It is made for output only: Plan does not pay for it.
func Working(p *rules.Planned, i int) []Step {
	g := p.Garment
	w := &working{x: rules.Context{G: g, P: p, C: &g.Closures[i], K: &p.Closures[i], U: g.Units}}
	w.layers()
	w.hole()
	w.stand()
	w.support()
	w.needle()
	w.run()
	w.sewing()
	w.hardware()
	w.zip()
	w.loop()
	w.places()
	return w.steps
}

// working gathers the steps of one closure.
type working struct {
	x     rules.Context
	steps []Step
}

// say adds a step. The sources are those of a rule.
func (w *working) say(topic, rule, format string, args ...any) *Step {
	s := Step{Topic: topic, Says: fmt.Sprintf(format, args...)}
	if r := rules.Find(rule); r != nil {
		s.Sources = r.Sources
	}
	w.steps = append(w.steps, s)
	return &w.steps[len(w.steps)-1]
}

// s is a length in the garment's units alone, fine enough for a sum.
func (w *working) s(l measure.Length) string { return l.ShortFine(w.x.U) }

// t is a result: in both units, to what can be marked.
func (w *working) t(l measure.Length) string { return l.Text(w.x.U) }

// set says how to give a value that was not given.
func (w *working) set(key, what string) string {
	return fmt.Sprintf("%s was not given; set closure.%s.%s", what, w.x.C.Name, key)
}

func (w *working) layers() {
	over, under := &w.x.K.Over, &w.x.K.Under
	what := "under the hole"
	if !w.x.K.Hole.Needed {
		what = "on top"
	}
	w.stack(over, what, w.x.C.Notion.Kind != catalog.Zip)
	if same(over, under) {
		w.say(TopicLayers, "", "the %s is set on the same layers", w.x.C.Notion.Kind)
	} else {
		w.stack(under, "under the "+w.x.C.Notion.Kind, true)
	}
}

func same(a, b *plan.Stack) bool {
	if len(a.Layers) != len(b.Layers) {
		return false
	}
	for i := range a.Layers {
		if a.Layers[i].Layer.Name != b.Layers[i].Layer.Name {
			return false
		}
	}
	return true
}

func (w *working) stack(s *plan.Stack, what string, pressed bool) {
	if len(s.Layers) == 0 {
		return
	}
	var parts, guesses []string
	for i := 0; i < len(s.Layers); i++ {
		l := &s.Layers[i]
		n := 1
		for i+1 < len(s.Layers) && s.Layers[i+1].Layer.Name == l.Layer.Name {
			i++
			n++
		}
		part := l.Layer.Name + " " + w.thick(l)
		if n > 1 {
			part = strconv.Itoa(n) + " × " + part
		}
		parts = append(parts, part)
		if name := l.Layer.Name; l.Estimated && !containsPrefix(guesses, name+" ") {
			guesses = append(guesses, fmt.Sprintf("%s is an estimate, %s", name, w.guess(l)))
		}
	}
	sum := measure.Toleranced{V: s.Thick, Tol: s.Tol}.TextThin()
	says := fmt.Sprintf("%s: %s = %s", what, strings.Join(parts, " + "), sum)
	if len(s.Layers) == 1 {
		says = fmt.Sprintf("%s: %s", what, strings.Replace(parts[0], w.thick(&s.Layers[0]), sum, 1))
	}
	if pressed && s.Pressed != s.Thick {
		says += fmt.Sprintf("; pressed by the foot %s", s.Pressed.TextThin())
	}
	rule := "stack-bulky"
	if len(guesses) > 0 {
		says += "; " + strings.Join(guesses, "; ")
		rule = "thickness-estimated"
	}
	st := w.say(TopicLayers, rule, "%s", says)
	if len(guesses) > 0 {
		var names []string
		for i := range s.Layers {
			if l := &s.Layers[i]; l.Estimated {
				key := "cloth."
				if l.Layer.Interfacing != nil {
					key = "interfacing."
				}
				key += l.Layer.Name + ".thickness"
				if !containsPrefix(names, key) {
					names = append(names, key)
				}
			}
		}
		st.Default = "thickness was not measured; set " + text.And(names...)
	}
}

func containsPrefix(list []string, prefix string) bool {
	for _, s := range list {
		if strings.HasPrefix(s, prefix) {
			return true
		}
	}
	return false
}

// thick is the thickness of a layer with its ±, in the garment's units.
func (w *working) thick(l *plan.Layer) string {
	s := measure.Toleranced{V: l.Thick, Tol: l.Tol}.TextThin()
	if i := strings.LastIndex(s, " ("); i > 0 {
		s = s[:i]
	}
	return s
}

// guess is how a layer was estimated.
func (w *working) guess(l *plan.Layer) string {
	weight := measure.AreaWeight(0)
	switch {
	case l.Layer.Cloth != nil:
		weight = l.Layer.Cloth.Weight.V
	case l.Layer.Interfacing != nil:
		weight = l.Layer.Interfacing.Weight.V
	}
	if l.Thick <= 0 {
		return "from its weight"
	}
	return fmt.Sprintf("%s ÷ %.3g g/cm³", weight.Short(measure.MM), weight.GSM()/(1000*l.Thick.MM()))
}

func (w *working) hole() {
	h, c := &w.x.K.Hole, w.x.C
	if !h.Needed {
		return
	}
	if h.Kind == "loop" {
		return // worked out with the loop
	}
	st := w.say(TopicHole, "hole-short", "%s", strings.Join(HoleWorking(w.x.K, w.x.U), "; "))
	if !h.Given {
		st.Default = w.set("hole_length", "the hole's length")
	}
	if h.Ease > 0 {
		st.Sources = joined(st.Sources, rules.Find("hole-tight").Sources)
	}
	st.Sources = joined(st.Sources, list1(c.Notion.Source))

	kind, direction := "", ""
	if c.Hole == "" {
		kind = w.set("hole", "the kind of hole")
	}
	if c.Direction == "" {
		direction = w.set("direction", "across or along")
	}
	var says string
	if h.Direction == "across" {
		says = fmt.Sprintf("%s hole across the edge: from %s beyond the centre line towards the edge to %s inside it; %s of cloth between hole and finished edge",
			h.Kind, w.s(h.Beyond), w.s(h.Inside), w.s(w.x.K.Stand.Have-h.Beyond))
	} else {
		says = fmt.Sprintf("%s hole along the edge, on the line of the holes: from %s above the %s's centre to %s below it",
			h.Kind, w.s(h.Beyond), c.Notion.Kind, w.s(h.Inside))
	}
	st = w.say(TopicPlace, "hole-edge", "%s", says)
	st.Default = text.Join("; ", kind, direction)
}

func (w *working) stand() {
	c, k := w.x.C, w.x.K
	if c.Notion.Kind == catalog.Zip {
		return
	}
	s, f := &k.Stand, &c.Stand
	d := plan.AcrossOf(&c.Notion)
	// From the last sum: what the file's drafting gives.
	says := fmt.Sprintf("%s %s across: least, half of it + 3 mm = %s; usual, the larger of half + %s and three quarters = %s; full, all of it = %s",
		c.Notion.Kind, w.s(d), w.s(s.Least), w.s(quarter), w.s(s.Usual), w.s(s.Full))
	if k.Loop.Hooks {
		says = fmt.Sprintf("hook %s long, across the edge: least, for its bend, %s; full, all of it on the lap, %s", w.s(plan.LieOf(&c.Notion).In), w.s(s.Least), w.s(s.Full))
	}
	if plan.ShapeOf(&c.Notion).Kind == "toggle" {
		says = fmt.Sprintf("the %s lies across, its shorter end %s towards the edge: least, + 3 mm = %s; usual, + %s = %s",
			c.Notion.Kind, w.s(s.Least-plan.RimClear), w.s(s.Least), w.s(quarter), w.s(s.Usual))
	}
	switch {
	case !s.Known && c.Lap == "edge":
		says = fmt.Sprintf("the edges meet; the %s lies %s inside its own", c.Notion.Kind, w.t(s.Have))
	case !s.Known && c.Edge.Has() && s.Have == c.Edge.V:
		says += fmt.Sprintf("; yours is %s, as edge says", w.t(s.Have))
	case !s.Known:
		what := "full"
		if s.Have > s.Full || s.Full == s.Usual {
			what = "usual"
		}
		says += fmt.Sprintf("; draft the %s stand, %s", what, w.t(s.Have))
	case c.Flap.Has():
		says += fmt.Sprintf("; from the line of its fasteners to the edge of the flap it is %s", w.t(s.Have))
	default:
		says += fmt.Sprintf("; yours is %s", w.t(s.Have))
	}
	st := w.say(TopicStand, "stand-narrow", "%s", says)
	if !s.Known {
		st.Default = w.set("stand.finished", "the stand")
	}
	shell := plan.ShellThickness(k)
	if s.Column > 0 {
		st.Says += fmt.Sprintf("; it is counted from the outer column, which stands %s from the centre line", w.s(s.Column))
	}
	drafted := s.Known && !f.Band.Has() && !f.Finished.Has() && f.Extension.Has()
	switch s.Construction {
	case "folded":
		folds := fmt.Sprintf("%d fold × %s of cloth", s.Folds, shell.ShortThin())
		if s.Folds > 1 {
			folds = fmt.Sprintf("%d folds × %s of cloth", s.Folds, shell.ShortThin())
		}
		turn := ""
		if s.TurnUnder > 0 {
			turn = " − turn-under " + w.s(s.TurnUnder)
		}
		if drafted {
			left := s.Extension - s.TurnUnder - s.FoldLoss
			st = w.say(TopicBand, "band-extension", "folded band: extension %s%s − %s = %s; two thirds of that is the band, %s; the stand is half the band, %s",
				w.s(s.Extension), turn, folds, w.s(left), w.t(s.Band), w.t(s.Have))
		} else {
			need := plan.Band{Width: s.Band, TurnUnder: s.TurnUnder, Cloth: shell}.Extension()
			st = w.say(TopicBand, "band-extension", "folded band: half the band %s + the band %s%s + %s = %s from the centre line to the cut edge",
				w.s(s.Band/2), w.s(s.Band), strings.Replace(turn, "−", "+", 1), folds, w.t(need))
			if !s.BandKnown {
				st.Default = w.set("stand.band", "the band's width, twice the full stand,")
			} else if f.Extension.Has() {
				st.Says += "; drafted is " + w.t(f.Extension.V)
			}
		}
		if !f.TurnUnder.Has() {
			st.Default = text.Join("; ", st.Default, w.set("stand.turn_under", "the turn-under"))
		}
	case "band":
		st = w.say(TopicBand, "stand-drafted", "separate band, %s finished: cut 2 × %s + 2 seam allowances of %s + one fold of %s = %s wide; the stand is half the band",
			w.t(s.Band), w.s(s.Band), w.s(s.Seam), shell.ShortThin(), w.t(s.BandCut))
		if !s.BandKnown {
			st.Default = w.set("stand.band", "the band's width, twice the full stand,")
		}
		if !f.Seam.Has() {
			st.Default = text.Join("; ", st.Default, w.set("stand.seam", "the seam allowance, "+w.s(plan.UsualSeam)+","))
		}
	default:
		var parts []string
		if s.Column > 0 {
			parts = append(parts, "column "+w.s(s.Column))
		}
		parts = append(parts, "seam allowance "+w.s(s.Seam))
		if drafted {
			st = w.say(TopicBand, "stand-drafted", "extension %s − %s = finished stand %s", w.s(s.Extension), strings.Join(parts, " − "), w.t(s.Have))
		} else {
			st = w.say(TopicBand, "stand-drafted", "finished stand %s + %s = extension %s from the centre line to the cut edge", w.s(s.Have), strings.Join(parts, " + "), w.t(s.Have+s.Column+s.Seam))
			if f.Extension.Has() {
				st.Says += "; drafted is " + w.t(f.Extension.V)
			}
		}
		if !f.Seam.Has() {
			st.Default = w.set("stand.seam", "the seam allowance, "+w.s(plan.UsualSeam)+",")
		}
	}
	if f.Facing.Has() {
		says := fmt.Sprintf("the facing reaches %s inside the centre line", w.t(f.Facing.V))
		switch {
		case c.Lap == "double":
			says += fmt.Sprintf("; the buttons of the inner column end at %s, and %s more makes %s", w.s(s.FacingLeast), w.s(s.FacingUsual-s.FacingLeast), w.s(s.FacingUsual))
		case k.Hole.Needed && k.Hole.Direction == "across" && k.Hole.Kind != "loop":
			says += fmt.Sprintf("; the hole ends at %s, and %s more makes %s", w.s(k.Hole.Inside), w.s(quarter), w.s(k.Hole.Inside+quarter))
		}
		if s.FacingCut > 0 {
			says += fmt.Sprintf("; cut it %s + %s + seam allowance %s = %s wide", w.s(s.FacingCut-f.Facing.V-s.Seam), w.s(f.Facing.V), w.s(s.Seam), w.t(s.FacingCut))
		}
		w.say(TopicFacing, "facing-short", "%s", says)
	}
}

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
	case k.Loop.Hooks:
		says = fmt.Sprintf("%s to the inner end of hook and eye %s, + %s = %s at least, + %s = %s usual", from, w.s(u.Usual-plan.SupportUsual), w.s(plan.SupportLeast), w.s(u.Least), w.s(plan.SupportUsual), w.s(u.Usual))
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

func (w *working) needle() {
	c, k := w.x.C, w.x.K
	n, t, s := &k.Needle, &k.Thread, &k.Stitch
	if n.NM == 0 {
		return
	}
	says := fmt.Sprintf("%s cloth: %s to %s", n.Class, n.Min, n.Max)
	if p := max(k.Over.Pressed, k.Under.Pressed); p > plan.ThickStack {
		have, most := w.x.ThinApart(p, plan.ThickStack)
		says += ", the thicker half since the layers stay " + have.String() + " thick under the foot, over " + most.String()
	}
	if n.Given {
		says += fmt.Sprintf("; yours is %s", n.NM)
	} else {
		says += fmt.Sprintf("; %s fits the thread best", n.NM)
	}
	if n.Use != n.NM {
		says += fmt.Sprintf(", which is refused: the work is done with %s", n.Use)
	}
	says += fmt.Sprintf("; thread %.2f mm ÷ blade %.2f mm = %.2f (0.24 to 0.40 is good); %s point", t.Diameter.MM(), n.NM.BladeMM(), n.Ratio, n.Point)
	st := w.say(TopicNeedle, "needle-cloth", "%s", says)
	st.Sources = joined(st.Sources, rules.Find("needle-thread").Sources)
	if !n.Given {
		st.Default = w.set("needle", "the needle")
	}
	if c.Point == "" {
		st.Default = text.Join("; ", st.Default, w.set("point", "its point"))
	}

	says = fmt.Sprintf("%s cloth: Tex %.0f to %.0f for seams and holes, %.0f to %.0f to sew fasteners on, Tex %.0f for top-stitching that shows", n.Class, t.Min.Tex(), t.Max.Tex(), t.ButtonMin.Tex(), t.ButtonMax.Tex(), t.Topstitch.Tex())
	if t.Given {
		says += fmt.Sprintf("; yours, %s, is %s", t.Name, t.Tex.Text())
	} else {
		says += fmt.Sprintf("; take %s %s", t.Tex.Text(), t.Fibre)
	}
	st = w.say(TopicThread, "thread-cloth", "%s", says)
	if !t.Given {
		st.Default = w.set("thread", "the thread")
	}

	says = fmt.Sprintf("%s cloth: %s to %s", n.Class, s.Min.ShortThin(), s.Max.ShortThin())
	verb := "take"
	if s.Given {
		verb = "yours is"
	}
	says += fmt.Sprintf("; %s %s, %s stitches an inch", verb, s.Length.TextThin(), trimZero(fmt.Sprintf("%.1f", measure.Inch.MM()/max(s.Length.MM(), 0.01))))
	st = w.say(TopicStitch, "stitch-length", "%s", says)
	if !s.Given {
		st.Default = w.set("stitch", "the stitch length")
	}
}

func trimZero(s string) string { return strings.TrimSuffix(s, ".0") }

func (w *working) run() {
	c, k := w.x.C, w.x.K
	if c.Notion.Kind == catalog.Zip || !c.Run.Length.Has() {
		return
	}
	run := &c.Run
	d := plan.AlongOf(&c.Notion)
	short := plan.IsShort(c, run.Length.At(0).V)
	var says string
	step := run.Step.Or(plan.MarkEvery(w.x.U))
	first, last := plan.Ends(w.x.G, c, k, 0)
	one := first == last
	switch {
	case run.First.Has():
		says = "as given: " + w.bySize(func(i int) measure.Length { f, _ := plan.Ends(w.x.G, c, k, i); return f.Min })
		if run.FirstMax.Has() {
			says += ", or lower where that comes out more even"
		}
	case one && run.Last.Has():
		says = "one alone, at the place of the last"
	case short && one:
		says = "one alone: half of the length, " + w.bySize(func(i int) measure.Length { f, _ := plan.Ends(w.x.G, c, k, i); return f.Min })
	case short:
		says = fmt.Sprintf("a short piece: the %s's own width from the end, %s", c.Notion.Kind, w.t(first.Min))
	case k.Loop.Hooks:
		says = fmt.Sprintf("half of the hook's width, %s, + %s = %s below the top", w.s(d/2), w.s(plan.HookLeast), w.t(first.Min))
	default:
		says = fmt.Sprintf("%s %s across + %s = %s below the top", c.Notion.Kind, w.s(d), w.s(plan.FirstBelowNeck), w.t(first.Min))
	}
	st := w.say(TopicFirst, "first-high", "%s", says)
	if !run.First.Has() {
		st.Default = w.set("run.first", "the first one's place")
	}
	if !one || run.Last.Has() {
		above := func(i int) measure.Length { _, l := plan.Ends(w.x.G, c, k, i); return run.Length.At(i).V - l.Max }
		switch {
		case run.Last.Has():
			says = "as given: " + w.bySize(above) + " above the end"
			if run.LastMax.Has() {
				says += ", or higher where that comes out more even"
			}
		case short:
			says = fmt.Sprintf("a short piece: the %s's own width from the end, %s", c.Notion.Kind, w.bySize(above))
		default:
			says = fmt.Sprintf("%s above the hem, for leg room", w.bySize(above))
		}
		st = w.say(TopicLast, "last-low", "%s", says)
		if !run.Last.Has() {
			st.Default = w.set("run.last", "the last one's place")
		}
	}
	w.gaps(step)
	if c.Lap == "double" && len(k.Sizes) > 0 && len(k.Sizes[0].Rows) > 0 {
		w.say(TopicRows, "rows-distance", "the columns stand this far from the centre line, on both sides, from the top row down: %s", w.row(k.Sizes[0].Rows))
	}
}

// bySize is a length that may differ between the sizes.
func (w *working) bySize(at func(int) measure.Length) string {
	sizes := w.x.G.Sizes
	same := true
	for i := range sizes {
		same = same && at(i) == at(0)
	}
	if same {
		return w.t(at(0))
	}
	parts := make([]string, len(sizes))
	for i, s := range sizes {
		parts[i] = s + " " + w.s(at(i))
	}
	return strings.Join(parts, ", ")
}

func (w *working) gaps(step measure.Length) {
	k, run := w.x.K, &w.x.C.Run
	notGiven := ""
	if len(run.Count) == 0 {
		notGiven = w.set("run.count", "how many")
	}
	if !run.Step.Has() {
		notGiven = text.Join("; ", notGiven, w.set("run.step", "what can be marked, "+step.ShortPlace(w.x.U)+","))
	}
	for i := range k.Sizes {
		z := &k.Sizes[i]
		if !z.Solved || z.Count < 2 {
			continue
		}
		size := ""
		if z.Size != "" {
			size = z.Size + ": "
		}
		first, last := z.Positions[0], z.Positions[len(z.Positions)-1]
		n := len(z.Positions) - 1
		gaps := w.row(z.Gaps)
		if z.Spread == 0 {
			gaps = fmt.Sprintf("%d × %s", n, z.Gaps[0].Text(w.x.U))
		}
		says := fmt.Sprintf("%s(%s − %s) ÷ %d gaps = %s if exactly even", size, w.s(last), w.s(first), n, w.s((last-first)/measure.Length(n)))
		if run.Group > 1 {
			says = fmt.Sprintf("%sin groups of %d, %s apart inside a group", size, run.Group, w.s(run.GroupGap.V))
		}
		says += fmt.Sprintf("; marked to %s: %s", step.ShortPlace(w.x.U), gaps)
		if z.Spread > 0 && run.Group <= 1 {
			says += fmt.Sprintf(", %s between the largest and the smallest", w.s(z.Spread))
		}
		st := w.say(TopicGaps, "gaps-uneven", "%s", says)
		st.Default, notGiven = notGiven, ""
	}
}

// row is a row of lengths in the garment's units.
func (w *working) row(ls []measure.Length) string {
	parts := make([]string, len(ls))
	for i, l := range ls {
		parts[i] = strings.TrimSuffix(l.Short(w.x.U), " "+w.x.U.String())
	}
	return strings.Join(parts, ", ") + " " + w.x.U.String()
}

func (w *working) sewing() {
	k := w.x.K
	s, h := &k.Sewing, &k.Hole
	if s.Sewn {
		var parts []string
		if s.ThreadShank > 0 {
			parts = append(parts, fmt.Sprintf("thread shank as long as the layers over it are thick, %s, and up to %s more", s.ThreadShank.TextThin(), measure.Length(plan.ShankAllow).ShortThin()))
		}
		if s.Backing > 0 {
			says := fmt.Sprintf("backing button of %s ligne underneath, %s", rules.Ligne(s.Backing), s.Backing.Text(w.x.U))
			if s.Suggested {
				says = "worth having: a " + says + ", the size on sale nearest to half of the button"
			}
			parts = append(parts, says)
		}
		switch {
		case s.ByHand && s.HandReason != "" && w.x.C.Notion.Kind == catalog.Button:
			parts = append(parts, "by hand, since "+s.HandReason+": 3 to 6 passes through each pair of holes or the shank")
		case s.ByHand:
			parts = append(parts, "sewn on by hand")
		case s.Stitches > 0:
			parts = append(parts, fmt.Sprintf("%d stitches by machine", s.Stitches))
		}
		if t := &w.x.K.Thread; w.x.C.Notion.Kind == catalog.Button {
			says := fmt.Sprintf("thread for it %s to %s", t.ButtonMin, t.ButtonMax)
			if s.ButtonTex > 0 {
				says += fmt.Sprintf("; yours is %s", s.ButtonTex)
			}
			parts = append(parts, says)
		}
		if len(parts) > 0 {
			st := w.say(TopicSewing, "shank-thread", "%s", strings.Join(parts, "; "))
			if s.Backing > 0 {
				st.Sources = joined(st.Sources, rules.Find("backing-button").Sources)
				if !w.x.C.Backing.Has() {
					st.Default = w.set("backing", "the backing button, half the ligne,")
				}
			}
		}
		if s.FlyStitched > 0 {
			w.say(TopicSewing, "fly-front", "fly: its facing is stitched %s from the front edge and tacked to the front between the holes, %d times", w.s(s.FlyStitched), s.FlyTacks)
		}
	}
	if s.Used == 0 {
		return
	}
	var parts []string
	if s.HoleThread > 0 {
		parts = append(parts, fmt.Sprintf("a hole of %s takes %d stitches, %s of thread", w.s(h.Length), plan.HoleStitches(h.Length, plan.HolePitch), metres(s.HoleThread)))
	}
	if s.Sewn {
		parts = append(parts, "sewing one on takes "+metres(plan.ButtonThread))
	}
	st := w.say(TopicUsed, "", "%s; all of one garment, with 15 %% for waste: %s", strings.Join(parts, "; "), metres(s.Used))
	st.Sources = []string{
		"A. K. Das, thread consumption, 2015: lockstitch 2 + 2 T ÷ p; the same geometry for zigzag",
		"N. A. Raaz, 2015: 5 1/2 in of thread to sew a button on",
		"thread makers' guides: 10 to 20 % for waste",
	}
}

func (w *working) places() {
	for _, p := range w.x.K.Places {
		says := fmt.Sprintf("%s: %s of cloth, %s lying free, %s under the foot", p.Name, text.Count(p.Cloths, "layer"), p.Thick.TextThin(), p.Pressed.ShortThin())
		if p.Graded > 0 && p.Graded != p.Pressed {
			says += fmt.Sprintf(", %s once it is trimmed and graded", p.Graded.ShortThin())
		}
		if p.Says != "" {
			says += " (" + p.Says + ")"
		}
		w.say(TopicThick, "place-thick", "%s", says)
	}
}

// metres is a length of thread.
func metres(l measure.Length) string {
	return fmt.Sprintf("%.1f m (%.1f yd)", l.MM()/1000, float64(l)/float64(measure.Yard))
}

func joined(a, b []string) []string {
	out := append([]string(nil), a...)
	for _, s := range b {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

func list1(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}
