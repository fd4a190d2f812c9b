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

// HoleWorking is how the length of a hole came about, a line a step.
func HoleWorking(k *plan.Closure, u measure.Unit) []string {
	h := &k.Hole
	if !h.Needed {
		return nil
	}
	n := &k.Closure.Notion
	s := plan.ShapeOf(n)
	say := func(l measure.Length) string { return l.ShortFine(u) }
	out := []string{passingWords(s, u) + ": it goes through"}
	rule := k.Closure.Rule
	switch {
	case h.Sampled:
		out = []string{"from your sample: the " + n.Kind + " went through a cut of " + say(h.Passing), "by its measures it would go through " + say(h.Formula)}
	case rule != "" && rule != "passing":
		out = append(out, "hole_rule "+rule+", "+rules.HoleRuleSays(rule, u)+": "+say(h.Passing+h.Ease))
	default:
		if bulk := k.Over.Bulk(); bulk > plan.Bulky && h.Kind != "bound" {
			guess := ""
			switch {
			case k.Over.Sampled():
				guess = " (from your sample)"
			case k.Over.Estimated:
				guess = " by estimate (± " + k.Over.Tol.ShortThin(u) + ")"
			}
			what := " for bulk"
			if s.Tack {
				what = ", to diameter + " + say(plan.BulkyEase) + ", for bulk"
			}
			out = append(out, "+ "+say(s.BulkEase())+what+": the layers are "+bulk.TextThin(u)+" thick"+guess+", over "+measure.Length(plan.Bulky).TextThin(u))
		}
		if plan.RigidShank(n) {
			out = append(out, "+ "+say(plan.ShankEase)+" for the rigid shank")
		}
	}
	step := "next " + say(plan.HoleStep(u))
	switch {
	case h.Kind == "loop":
		return append(out, "= "+say(h.Wanted)+" inside the loop, to the "+step)
	case h.Sampled && h.Given:
		out = append(out, "the file asks for "+say(h.Length))
	case h.Sampled && h.Fixed:
		out = append(out, say(h.Length)+" is the next length that the attachment sews")
	case h.Sampled:
		out = append(out, say(h.Length)+" to cut, as on the sample")
	case h.Given:
		out = append(out, "= "+say(h.Wanted)+", to the "+step, "the file asks for "+say(h.Length))
	case h.Fixed:
		out = append(out, "= "+say(h.Wanted)+", to the "+step, say(h.Length)+" is the next length that the attachment sews")
	default:
		out = append(out, "= "+say(h.Length)+" to cut, to the "+step)
	}
	if h.Stitched > h.Length {
		out = append(out, "+ "+say(h.Stitched-h.Length)+" for the two bar tacks = "+say(h.Stitched)+" stitched")
	}
	return out
}

// working is Passing with its figures in words.
func passingWords(s plan.Shape, u measure.Unit) string {
	say := func(l measure.Length) string { return l.ShortFine(u) }
	d, t, p := s.Across(), s.Thickness, say(s.Passing())
	switch {
	case s.Girth > 0:
		return "girth " + say(s.Girth) + " ÷ 2 = " + p
	case s.Kind == "domed" && 2*t >= d:
		below := ""
		if 2*t != d {
			below = " and " + say(t-d/2) + " below it"
		}
		return "diameter " + say(d) + ", a half ball" + below + ": half the way round = " + p
	case s.Kind == "domed":
		return "(diameter " + say(d) + " + arc over the dome " + say(plan.CapArc(d, t)) + ") ÷ 2 = " + p
	case s.Kind == "ball":
		return "diameter " + say(d) + " × 1.571, half the way round a ball = " + p
	case s.Kind == "square":
		return "diagonal " + say(d) + " + thickness " + say(t) + " = " + p
	case s.Kind == "toggle":
		return "half the width " + say(s.Width/2) + " + shorter end " + say(s.ShortEnd) + " + thickness " + say(t) + " = " + p
	}
	return "diameter " + say(d) + " + thickness " + say(t) + " = " + p
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
	if !h.Given && !h.Sampled {
		st.Default = w.set("hole_length", "the hole's length")
	}
	if h.Ease != 0 {
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
	o, side := w.opening(), plan.Over
	if c.Flap.Has() {
		side = plan.Flap
	}
	lies := ""
	for _, s := range o.find(c.Index, side, plan.Works, plan.HolePart) {
		lies = ": " + o.holeLies(&s, false)
	}
	says := h.Kind + " hole along the edge" + lies
	switch {
	case h.Direction == "across" && w.x.K.Stand.Lost:
		says = fmt.Sprintf("%s hole across the edge%s", h.Kind, lies)
	case h.Direction == "across" && w.x.K.Stand.Have <= h.Beyond:
		says = fmt.Sprintf("%s hole across the edge%s; no cloth is left between hole and finished edge", h.Kind, lies)
	case h.Direction == "across":
		says = fmt.Sprintf("%s hole across the edge%s; %s of cloth between hole and finished edge", h.Kind, lies, w.s(w.x.K.Stand.Have-h.Beyond))
	}
	st = w.say(TopicPlace, "hole-edge", "%s", says)
	st.Default = text.Join("; ", kind, direction)
}

// sample is the task of the sample hole.
func (w *planner) sample(c *catalog.Closure, k *plan.Closure) *Task {
	h := &k.Hole
	under := worked(k)
	through := layerNames(&under) + ", " + under.Thick.TextThin(w.u) + " thick"
	thread := w.thread(c, plan.JobHoles)
	t := (*Task)(nil)
	switch {
	case h.Kind == "bound":
		t = w.add(StageTest, c.Name, "Make a sample bound hole for the %s, %s long, through %s, with needle %s and %s, and push the real %s through it.", c.Name, w.holeLen(h, h.Length), through, k.Needle.Use, thread, kindOf(c))
		t.sew(w, k, plan.JobHoles)
	case h.ByMachine():
		needle := k.Needle.Use.String()
		if k.Needle.Refused && k.Needle.Use != k.Needle.NM {
			needle += " (not " + k.Needle.NM.String() + ", see above)"
		}
		finish := map[string]string{"twice": ", twice over", "corded": ", over the gimp", "overcast": ", the layers overcast together first", "sealed": ", its cut sealed"}[c.Finish]
		stitched := h.Sewn() + h.Stitched - h.Length
		t = w.add(StageTest, c.Name, "Sew a sample hole for the %s, %s long, %s with its bar tacks, through %s, with needle %s and %s%s, and push the real %s through it.%s", c.Name, w.holeLen(h, h.Sewn()), w.len(stitched), through, needle, thread, finish, kindOf(c), w.instead(c, h))
		if fleece(&under) {
			t.Do += " Lay paper beneath, which tears off afterwards: fleece stalls under the foot."
		}
		t.sew(w, k, plan.JobHoles)
	default:
		why := ""
		if h.Kind != "hand" {
			why = ": " + w.beyond(h)
		}
		t = w.add(StageTest, c.Name, "Work a sample hole for the %s by hand, %s long, %s with its bar tacks, through %s, with %s, and push the real %s through it%s.", c.Name, w.holeLen(h, h.Length), w.len(h.Stitched), through, w.twist(c), kindOf(c), why)
		t.use(w.byHand(c, plan.JobHoles)...)
	}
	w.opened(t, h)
	return t.use(k.FastenerIDs(w.sizes)...)
}

// fleece says whether a stack has fleece: a sewing forum's advice, paper beneath.
func fleece(s *plan.Stack) bool {
	return slices.ContainsFunc(s.Layers, func(l plan.Layer) bool { return l.Layer.Cloth != nil && l.Layer.Cloth.Kind == "fleece" })
}

// worked are the layers that a hole is worked through: a bound one is made
// before the facing is on (NF-160, bound buttonholes), which is slashed behind
// it.
func worked(k *plan.Closure) plan.Stack {
	s := k.Over
	if k.Hole.Kind != "bound" || cloths(k.Closure.Over) < 2 {
		return s
	}
	for i := range slices.Backward(s.Layers) {
		if s.Layers[i].Layer.Cloth != nil {
			s.Thick -= s.Layers[i].Thick
			s.Layers = slices.Delete(slices.Clone(s.Layers), i, i+1)
			break
		}
	}
	return s
}

// slashed opens what lines the bound holes of a piece, once it is on.
func (w *planner) slashed(stage string, c *catalog.Closure, k *plan.Closure) {
	if k.Hole.Kind == "bound" && cloths(c.Over) > 1 {
		w.add(stage, c.Name, "Now put the facing or the under layer%s on, and %s.%s", of(c), turning(c), w.slashing(k)).use(w.fell(c)...)
	}
}

// slashing is the work on the facing behind the bound holes of a closure.
func (w *planner) slashing(k *plan.Closure) string {
	which := "each bound hole"
	if w.bySize(func(i int) string { return strconv.Itoa(k.Holes(i)) }) == "1" {
		which = "the bound hole"
	}
	return " Behind " + which + " slash the facing to its corners, turn the edges in and fell them down by hand."
}

// opened says once how a hole is cut open without harm: common practice, no
// source.
func (w *planner) opened(t *Task, h *plan.Hole) {
	how := "Cut with the blade away from your hand, on a block."
	if h.ByMachine() {
		how = "Open a hole with a pin across each end: cut from the middle towards the pins, the blade away from your hand, on a block."
	}
	w.care(t, how)
}

// testHole sews a sample hole.
func (w *planner) testHole(c *catalog.Closure, k *plan.Closure) {
	if rules.SewnHole(k) {
		w.take(w.sample(c, k), c.Name, rules.TaskSample)
	}
}

// testThick sews a sample of what the machine labours at where there is no
// hole to sew one of.
func (w *planner) testThick(c *catalog.Closure, k *plan.Closure) {
	if rules.SewnHole(k) || !slices.ContainsFunc(w.p.Findings, func(f rules.Finding) bool {
		return f.Rule == "stack-bulky" && f.Closure == c.Name && f.Severity == rules.Caution && f.Settled == ""
	}) {
		return
	}
	what, job := kindOf(c), plan.JobFasten
	switch {
	case c.Notion.Kind == catalog.Zip:
		job = plan.JobZip
	case k.SewnOnTop():
		return // by hand
	case k.HasLoops():
		what, job = "loop", plan.JobLoops
	}
	t := w.add(StageTest, c.Name, "Sew a sample of the layers that the %s%s is sewn to, needle %s, %s.", what, of(c), k.Needle.Use, w.thread(c, job))
	w.take(t.sew(w, k, job), c.Name, rules.TaskSample)
}

// holes are made once the edge is closed, those that are made before that
// apart.
func (w *planner) holes() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		switch {
		case rules.JoinedPiece(c) || c.Flap.Has() || c.Notion.Kind == catalog.Zip || flatHoles(k):
		case rules.SewnHole(k):
			w.holeTask(StageHoles, c, k)
		}
	})
}

// flyTask joins the fly whose holes are made.
func (w *planner) flyTask(c *catalog.Closure, k *plan.Closure) {
	if c.Stand.Construction != "fly" || k.Sewing.FlyStitched == 0 {
		return
	}
	o := w.opening(c.Index)
	where := ""
	if pc := o.any(plan.Over); pc != nil {
		if l := lineAt(pc, plan.StitchLine, pc.Finished-k.Sewing.FlyStitched); l != nil {
			where = ", " + o.out(l.From.Out)
		}
	}
	t := w.add(StageEdge, c.Name, "Only now join the fly to %s: stitch it %s from the front edge%s.", o.sideName(plan.Over), w.len(k.Sewing.FlyStitched), where)
	if n := k.Sewing.FlyTacks; n > 0 {
		t.Do += fmt.Sprintf(" Tack it to the front by hand between the holes (%d).", n)
		t.use(w.byHand(c, plan.JobTacks)...)
	}
}

// lineAt is the line of that kind at that place across, nil if the piece has
// none.
func lineAt(pc *plan.Piece, kind plan.LineKind, out measure.Length) *plan.Line {
	for i := range pc.Lines {
		if l := &pc.Lines[i]; l.Kind == kind && l.From.Out == out {
			return l
		}
	}
	return nil
}

// markHoles marks the holes of a set.
func (w *planner) markHoles(stage string, o *opening, s *set, what, on string, several bool) *Task {
	c := &w.g.Closures[s.closure]
	at, lines := w.marks(o, s)
	t := w.add(stage, c.Name, "%s%s from %s%s: %s.", what, on, o.top(), at, o.holeLies(s, several)+w.shorter(o, s))
	t.Lines = lines
	return t
}

// shorter says where a hole ends that the machine sews in another length than
// it is planned.
func (w *planner) shorter(o *opening, s *set) string {
	h := &w.p.Closures[s.closure].Hole
	_, q := o.one(s)
	if q == nil || !h.ByMachine() || h.Sewn() == h.Length {
		return ""
	}
	_, ends := cutOf(q, h.Direction == "along")
	return ", " + w.len(ends+h.Sewn()-h.Length) + " as the machine sews it"
}

// showRows says which rows are for show, "" if none.
func (w *planner) showRows(o *opening, closure int) string {
	for _, s := range o.find(closure, plan.Over, plan.Show, fastenerKinds...) {
		if !s.beyond {
			continue
		}
		return w.bySize(func(i int) string {
			if pc := o.piece(i, plan.Over); pc != nil {
				if qs := s.in(pc); len(qs) != 0 {
					return inRows(qs)
				}
			}
			return "none"
		})
	}
	return ""
}

// holeTask marks and sews the holes of a closure.
func (w *planner) holeTask(stage string, c *catalog.Closure, k *plan.Closure) {
	h := &k.Hole
	o := w.opening(c.Index)
	side, on := plan.Over, ""
	switch {
	case c.Flap.Has():
		side = plan.Flap
		on = o.on(side) + ", before it is sewn on,"
	case c.Stand.Construction == "band":
		on = " in the band of " + o.sideName(side) + ", before it is sewn on,"
	case c.Stand.Construction == "folded" && c.Stand.Concealed.Or(false):
		on = " in the layer of the band that comes to lie beneath, before it is folded over,"
	case c.Stand.Construction == "fly":
		on = " in the fly alone, before it is joined to " + o.sideName(side) + ","
	default:
		on = o.on(side)
	}
	holes, n := number("holes", w.bySize(func(i int) string {
		if n := k.Holes(i); n != 0 {
			return strconv.Itoa(n)
		}
		return "all" // they are not laid out
	}))
	marked := false
	for _, s := range o.find(c.Index, side, plan.Works, plan.HolePart) {
		t := w.markHoles(stage, o, &s, "Mark the "+holes+of(c), on, holes != "hole")
		if show := w.showRows(o, c.Index); show != "" {
			says := "mark and cut no hole there"
			if c.Rows.ShowHoles.V {
				says = "cut no hole there"
			}
			t.Do += " For show: " + show + "; " + says + "."
		}
		marked = true
	}
	if !marked {
		w.add(stage, c.Name, "Mark the %s%s%s: not laid out, see above.", holes, of(c), on)
	}
	inner, under := "", o.on(plan.Under)
	if c.Stand.Construction == "band" {
		under = " in the band of " + o.sideName(plan.Under) + ", before it is sewn on,"
	}
	for _, s := range o.find(c.Index, plan.Under, plan.Inner, plan.HolePart) {
		w.markHoles(stage, o, &s, "Mark the hole of the inner button"+of(c), under, false)
		inner = ", the inner button's with them"
	}
	if inner != "" && n != "" {
		n = strings.TrimSuffix(n, ")") + inner + ")"
	}
	finish, each, them, the := "", "each", "them", "each"
	if n == "" { // one
		each, them, the = "it", "it", "the"
	}
	switch c.Finish {
	case "twice":
		finish = " Sew " + each + " twice over."
	case "corded":
		if !h.HoleByHand() {
			finish = " Sew " + them + " over the gimp."
		}
	case "overcast":
		if !h.HoleByHand() {
			finish = " Overcast the layers together first."
		}
	case "sealed":
		finish = " Seal " + the + " cut."
	}
	thread := w.thread(c, plan.JobHoles)
	t := (*Task)(nil)
	switch {
	case h.Kind == "bound":
		together := "baste the lips together by hand until all is pressed"
		if k.Unbasted() {
			together = "hold the lips together with tape until the facing is on"
		}
		t = w.add(stage, c.Name, "Make the bound %s%s%s, two lips of %s each, %s long: stitch half a strip to either side of %s mark, needle %s, %s, cut the slit to %s from both ends and then to the corners, turn the lips through, stitch their ends down, and %s.", holes, of(c), n, w.len(h.Width/2), w.holeLen(h, h.Length), the, k.Needle.Use, thread, w.len(quarter), together)
		t.sew(w, k, plan.JobHoles).use(w.byHand(c, plan.JobHoles)...)
	case h.Kind == "hand":
		t = w.add(stage, c.Name, "Work the %s%s by hand%s, %s long: %s.%s", holes, of(c), n, w.holeLen(h, h.Length), w.purling(c, k), finish)
		t.use(w.byHand(c, plan.JobHoles)...)
	case !h.ByMachine():
		t = w.add(stage, c.Name, "Cut and work the %s%s by hand%s, %s long: %s. By hand %s.%s", holes, of(c), n, w.holeLen(h, h.Length), w.beyond(h), w.purling(c, k), finish)
		t.use(w.byHand(c, plan.JobHoles)...)
	default:
		t = w.add(stage, c.Name, "Sew the %s%s%s, %s long, needle %s, %s.%s%s Open %s, a pin across either end.", holes, of(c), n, w.holeLen(h, h.Sewn()), k.Needle.Use, thread, finish, w.instead(c, h), each)
		t.sew(w, k, plan.JobHoles)
	}
	if h.Gimp || c.Finish == "corded" {
		gimp, _ := w.p.Gimp()
		t.use(plan.ThreadID(gimp))
	}
	if c.Finish == "sealed" {
		t.use(plan.SealantID)
	}
	w.opened(t, h)
	for _, s := range o.find(c.Index, side, plan.Show, plan.HolePart) {
		w.markHoles(stage, o, &s, "Sew, and do not cut, holes for show"+of(c), on, true).use(t.Uses...)
	}
}

// purling says how a hole is worked by hand.
func (w *planner) purling(c *catalog.Closure, k *plan.Closure) string {
	h := &k.Hole
	eye, over := "", "purl over the edge"
	if h.Eyed() {
		eye = ", punch the eye, " + measure.TextSpan(plan.EyeLeast, plan.EyeMost, w.u)
	}
	end := ", 5 or 7 round the outer end"
	if h.Eyed() {
		end = ""
	}
	if h.Gimp {
		over = "lay the gimp along it and purl over it"
	}
	purls := fmt.Sprintf("%d to %d to the inch, 8 to 10 to the cm", plan.PurlsLeast, plan.PurlsMost)
	if inch, cm, _ := strings.Cut(purls, ", "); w.u.IsAlone() && w.u.Is(measure.In) {
		purls = inch
	} else if w.u.IsAlone() {
		purls = cm
	}
	return fmt.Sprintf("cut the slit between two rows of short stitches %s apart%s, overcast the edges together, %s deep, %s, %s deep and a needle's width apart (%s, from memory)%s, with %s, about %s of it for each hole in one length, and finish with a bar of 3 or 4 threads. Do the same step at every hole before the next, so that they come out alike",
		w.len(plan.RowsApart), eye, w.len(plan.OvercastDepth), over, h.Purl.TextThin(w.u), purls, end, w.twist(c), w.len(h.Twist))
}

// twist is the thread that holes are worked with by hand.
func (w *planner) twist(c *catalog.Closure) string {
	t := w.p.ThreadOf(c.Index, plan.JobHoles)
	if t.Name != "" {
		return t.Tex.String() + " (" + t.Name + ")"
	}
	if t.Fibre == "cotton" {
		return "cotton twist " + t.Tex.String()
	}
	return t.Fibre + " " + t.Tex.String()
}

// beyond says why the machine does not sew a hole, and what else would.
func (w *planner) beyond(h *plan.Hole) string {
	switch h.BeyondMachine {
	case plan.SewsNone:
		return "the machine sews no buttonholes by itself; one that does, or a buttonhole attachment, will do as well"
	case plan.SewsNoKeyhole:
		return "the machine sews no keyholes; plain holes it may sew"
	}
	return "the machine's longest is " + w.len(h.MachineSews) + "; an attachment or a machine that sews longer ones will do as well"
}

// instead says what to do where the machine sews a hole in another length
// than it is planned.
func (w *planner) instead(c *catalog.Closure, h *plan.Hole) string {
	longest := " That length is the machine's longest"
	switch {
	case h.BeyondMachine == plan.SewsOther:
		return fmt.Sprintf(" That is the next that the attachment sews; the file asks for %s.", w.holeLen(h, h.Length))
	case h.BeyondMachine != plan.SewsLessEase:
		return ""
	case h.Length > h.MachineSews:
		planned, sewn := w.holeLen(h, h.Length), w.holeLen(h, h.MachineSews)
		if a, _, _ := strings.Cut(planned, " ("); sewn == a || strings.HasPrefix(sewn, a+" (") { // they read alike
			longest += ", and leaves " + (h.Length - h.MachineSews).TextThin(w.u) + " less ease than planned"
			break
		}
		longest += fmt.Sprintf(", and leaves less ease than the %s planned", planned)
	default:
		longest += ", and leaves little ease"
	}
	return longest + fmt.Sprintf(": where the %s does not go through the sample, work the holes by hand.", kindOf(c))
}

// holeLen is the length of a hole as it is cut.
func (w *planner) holeLen(h *plan.Hole, l measure.Length) string { return w.made(l, fixed(h, l)) }

// fixed says whether a length of a hole is the file's, a sample's or the
// machine's, and not one that was worked out.
func fixed(h *plan.Hole, l measure.Length) bool {
	return h.Given || h.Sampled || h.Fixed || l == h.MachineSews
}
