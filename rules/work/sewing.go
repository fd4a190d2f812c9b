package work

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func (w *working) sewing() {
	k := w.x.K
	s, h := &k.Sewing, &k.Hole
	if s.Sewn {
		var parts []string
		if s.ThreadShank != 0 {
			parts = append(parts, fmt.Sprintf("thread shank as long as the layers over it are thick, %s, and up to %s more", s.ThreadShank.TextThin(w.x.U), measure.Length(plan.ShankAllow).ShortThin(w.x.U)))
		}
		if s.Backing != 0 {
			says := fmt.Sprintf("backing button of %s ligne underneath, %s", rules.Ligne(s.Backing), s.Backing.Text(w.x.U))
			if s.Suggested {
				says = "worth having: a " + says + ", the size on sale nearest to half of the button"
			}
			parts = append(parts, says)
		}
		switch {
		case s.ByHand && s.Passes > 0:
			why := ""
			if s.HandReason != "" {
				why = ", since " + s.HandReason
			}
			parts = append(parts, fmt.Sprintf("by hand%s: %d times through each pair of holes or the shank; each time takes twice the layers, the shank and the button, and twice the distance of the holes; cut %s, used double", why, s.Passes, w.s(s.ThreadCut)))
		case s.ByHand:
			parts = append(parts, "sewn on by hand")
		case s.Stitches != 0:
			parts = append(parts, fmt.Sprintf("%d stitches by machine", s.Stitches))
		}
		if t := &w.x.K.Thread; w.x.C.Notion.Kind == catalog.Button {
			says := fmt.Sprintf("thread for it %s to %s", t.ButtonMin, t.ButtonMax)
			if s.ButtonTex != 0 {
				says += fmt.Sprintf("; yours is %s", s.ButtonTex)
			}
			parts = append(parts, says)
		}
		if len(parts) != 0 {
			st := w.say(TopicSewing, "shank-thread", "%s", strings.Join(parts, "; "))
			if s.Backing != 0 {
				st.Sources = joined(st.Sources, rules.Find("backing-button").Sources)
				if !w.x.C.Backing.Has() {
					st.Default = w.set("backing", "the backing button, half the ligne,")
				}
			}
		}
		if s.FlyStitched > 0 {
			says := "fly: it is stitched " + w.s(s.FlyStitched) + " from the front edge"
			if s.FlyTacks != 0 {
				says += " and tacked to the front between the holes, " + text.Count(s.FlyTacks, "time")
			}
			w.say(TopicSewing, "fly-front", "%s", says)
		}
	}
	if s.Used == 0 {
		return
	}
	var parts []string
	switch {
	case h.Twist > 0:
		parts = append(parts, fmt.Sprintf("a hole of %s takes 36 times as much twist, and %s at least: %s", w.s(h.Length), w.twistLeast(), Metres(s.HoleThread, w.x.U)))
	case h.Kind == "bound":
		parts = append(parts, fmt.Sprintf("the seams of a bound hole of %s take %s of thread", w.s(h.Length), Metres(s.HoleThread, w.x.U)))
	case s.HoleThread > 0:
		parts = append(parts, fmt.Sprintf("a hole of %s takes %d stitches, %s of thread", w.s(h.Length), plan.HoleStitches(h.Length, h.Pitch), Metres(s.HoleThread, w.x.U)))
	}
	switch {
	case s.ThreadCut > 0:
		parts = append(parts, "sewing one on by hand takes "+Metres(s.ThreadCut, w.x.U))
	case s.Sewn:
		parts = append(parts, "sewing one on takes "+Metres(plan.ButtonThread, w.x.U))
	}
	st := w.say(TopicUsed, "", "%s; all holes and fasteners of one garment, with 15 %% for waste: %s", strings.Join(parts, "; "), Metres(s.Used, w.x.U))
	if h.Twist > 0 {
		st.Sources = []string{"Every Woman's Encyclopaedia, Practical Lessons in Tailoring, about 1911: about 3/4 yd of twist for a hole of about 3/4 in", "thread makers' guides: 10 to 20 % for waste"}
		return
	}
	st.Sources = []string{
		"A. K. Das, thread consumption, 2015: lockstitch 2 + 2 T ÷ p; the same geometry for zigzag",
		"N. A. Raaz, 2015: 5 1/2 in of thread to sew a button on",
		"thread makers' guides: 10 to 20 % for waste",
	}
}

// sewOn is the task of sewing fasteners on.
func (w *planner) sewOn(stage string, c *catalog.Closure, k *plan.Closure, count, shank string) *Task {
	s := &k.Sewing
	// Nothing lies between one for show and the cloth: on a shank it would hang.
	level := ""
	if shank != "" && plan.LapOf(c) == "double" && !c.Notion.Shank.Has() {
		shank = strings.ReplaceAll(shank, ", on a", ", those that fasten on a")
		level = "; those for show lie flat on the cloth, without a shank"
	}
	back, each := "", each(count)
	if s.Backing > 0 && !s.Suggested {
		back = ", a backing button of " + rules.Ligne(s.Backing) + " ligne behind " + each
		if plan.LapOf(c) == "double" {
			back += " that fastens, " + w.bySize(func(i int) string {
				n, _ := k.Backed(i)
				return strconv.Itoa(n)
			}) + " in all"
		}
	}
	thread := w.thread(c, plan.JobFasten)
	name, n := number(text.Plural(c.Notion.Kind), count)
	t := (*Task)(nil)
	if s.ByHand {
		passes, double := "", ""
		if s.ThreadCut != 0 {
			step := measure.Inch
			if w.u.Is(measure.MM) {
				step = measure.Centimetre
			}
			double = " used double, " + w.len(s.ThreadCut.RoundUp(step)) + " cut for " + each
		}
		if s.Passes > 0 {
			passes = fmt.Sprintf(", %d times through each pair of holes", s.Passes)
			switch {
			case c.Notion.Shank.Has():
				passes = fmt.Sprintf(", %d times through the shank", s.Passes)
			case c.Notion.Holes.Or(4) == 2:
				passes = fmt.Sprintf(", %d times through its pair of holes", s.Passes)
				if rules.SewnHole(k) {
					passes += ", the threads in line with the buttonhole"
				}
			}
		}
		if s.Winds != 0 && shank != "" {
			shank += fmt.Sprintf(", over a match or a straw, wound %d times", s.Winds)
		}
		if c.Notion.Kind == catalog.Toggle {
			passes = ", 4 to 5 small stitches over the base of its cord"
		}
		t = w.add(stage, c.Name, "Sew the %s%s on by hand%s, %s%s%s%s%s%s.", name, of(c), n, thread, double, passes, shank, back, level)
		t.use(w.byHand(c, plan.JobFasten)...)
	} else {
		t = w.add(stage, c.Name, "Sew the %s%s on%s, needle %s, %s%s%s%s.", name, of(c), n, k.Needle.Use, thread, shank, back, w.locked()+level)
		t.sew(w, k, plan.JobFasten)
	}
	if back != "" {
		t.use(plan.BackingID(s.Backing))
	}
	return t.use(k.FastenerIDs(w.sizes)...)
}

// locked says how the buttons of children are sewn on by machine: a chainstitch
// unravels (a thread maker's bulletin).
func (w *planner) locked() string {
	if rules.IsChild(w.g) {
		return ", in lockstitch, which does not unravel, the ends tied"
	}
	return ""
}

// thread is the thread of a job, by its size, and by its name where the
// garment has several.
func (w *planner) thread(c *catalog.Closure, job plan.Job) string {
	t := w.p.ThreadOf(c.Index, job)
	if t.Name != "" && len(w.g.ThreadNames) > 1 {
		return t.Tex.String() + " (" + t.Name + ")"
	}
	return t.Tex.String()
}

// sew says that a task is sewn at the machine, with the needle of its closure.
func (t *Task) sew(w *planner, k *plan.Closure, job plan.Job) *Task {
	return t.use(w.byMachine(k.Closure, job)...).with(k.Needle.Use, k.Needle.Point)
}

// byMachine is what a job at the machine uses.
func (w *planner) byMachine(c *catalog.Closure, job plan.Job) []plan.GoodID {
	n := &w.p.Closures[c.Index].Needle
	ids := []plan.GoodID{plan.NeedleID(n.Use, n.Point), plan.ThreadID(w.p.ThreadOf(c.Index, job))}
	if h := &w.p.Closures[c.Index].Hole; job == plan.JobHoles && h.BeyondMachine == plan.SewsLessEase {
		ids = append(ids, w.byHand(c, job)...) // where the sample says so
	}
	return ids
}

// byHand is what a job by hand uses.
func (w *planner) byHand(c *catalog.Closure, job plan.Job) []plan.GoodID {
	t := w.p.ThreadOf(c.Index, job)
	return []plan.GoodID{plan.HandNeedleID(w.p.HandNeedle(c.Index, job)), plan.ThreadID(t)}
}

// fixTask fixes the fasteners of a closure; what says which part of them it
// is, "" for all.
func (w *planner) fixTask(stage string, c *catalog.Closure, k *plan.Closure, what string) {
	n := &c.Notion
	o := w.opening(c.Index)
	if what == "" {
		what = text.Plural(n.Kind)
	}
	count := w.count(o, k)
	name, many := number(what, count)
	each := each(count)
	t := (*Task)(nil)
	switch {
	case rules.SetWithTool(n):
		punch := ""
		if l := k.Hardware.Punch; l > 0 {
			punch = ", holes punched " + w.len(l)
			if many == "" {
				punch = ", the hole punched " + w.len(l)
			}
		}
		switch k.Hardware.Setting {
		case plan.SetNail:
			if punch == "" {
				punch = ", " + its(count, "each", "its") + " nail pushed through from underneath where a pin marks its place"
			}
			t = w.add(stage, c.Name, "Set the %s%s%s%s; check %s: seated, tight, its nail straight.", name, of(c), many, punch, each)
		case plan.SetPlastic:
			parts := ", clicking and parting"
			if what != text.Plural(n.Kind) {
				parts = ""
			}
			t = w.add(stage, c.Name, "Press the %s%s on%s%s, %s point pushed through first; check %s: its point flat and round%s.", name, of(c), many, punch, its(count, "each", "its"), each, parts)
		case plan.SetProngs, plan.SetBarrel:
			opens := "seated, tight, opening freely"
			if c.Notion.Kind != catalog.Snap || what != text.Plural(n.Kind) { // half of it alone opens nothing
				opens = "seated and tight"
			}
			t = w.add(stage, c.Name, "Set the %s%s%s%s; check %s: %s.", name, of(c), many, punch, each, opens)
		default:
			t = w.add(stage, c.Name, "Set the %s%s%s%s; check %s: seated and tight.", name, of(c), many, punch, each)
		}
		if l := k.Hardware.Packing; l > 0 {
			t.Do += " Pack " + each + " with " + l.TextThin(w.u) + " of washers or a patch between the layers, as in the test set."
		}
		t.use(k.FastenerIDs(w.sizes)...)
		w.seal(t)
		w.care(t, says(rules.SetSafely(k.Hardware.Setting, c.Set, what)))
	case n.Kind == catalog.Button || n.Kind == catalog.Toggle:
		shank := ""
		if l := k.Sewing.ThreadShank; l > 0 {
			shank = ", on a thread shank of " + l.TextThin(w.u)
		}
		t = w.sewOn(stage, c, k, count, shank)
	default:
		t = w.sewOn(stage, c, k, count, "")
	}
	w.take(t, c.Name, rules.TaskFasten)
}

// count is how many fasteners are fixed, by what they are for.
func (w *planner) count(o *opening, k *plan.Closure) string {
	return w.bySize(func(i int) string {
		m, known := k.Fasteners(i)
		if !known {
			return "all"
		}
		return strconv.Itoa(m) + o.roles(i, k.Closure.Index)
	})
}

// number is so many things in words: their name and how many there are in
// brackets, or, of one alone, its name.
func number(things, count string) (name, n string) {
	if count == "1" {
		return strings.TrimSuffix(things, "s"), ""
	}
	return things, " (" + count + ")"
}

// each is how several things are told of one by one, and one thing alone.
func each(count string) string { return its(count, "each", "it") }

// its is the word for several things, or for one alone.
func its(count, several, one string) string {
	if count == "1" {
		return one
	}
	return several
}

// roles says how many fasteners of one piece work, are for show and are
// inner, "" where all of them work.
func (o *opening) roles(size, closure int) string {
	var n [3]int
	pcs := o.pieces(size)
	for i := range pcs {
		for j := range pcs[i].Parts {
			q := &pcs[i].Parts[j]
			if int(q.Closure) == closure && slices.Contains(fastenerKinds, q.Kind) && (q.Role != plan.Works || pcs[i].Side == plan.Under) {
				n[q.Role]++
			}
		}
	}
	if n[plan.Show] == 0 && n[plan.Inner] == 0 {
		return ""
	}
	words := []string{strconv.Itoa(n[plan.Works]) + " that work"}
	if m := n[plan.Show]; m != 0 {
		words = append(words, strconv.Itoa(m)+" for show")
	}
	if m := n[plan.Inner]; m != 0 {
		words = append(words, strconv.Itoa(m)+" inner")
	}
	return ": " + text.And(words...)
}

// closed is how an opening is closed to mark its fasteners.
func (w *planner) closed(o *opening, c *catalog.Closure) string {
	switch {
	case c.Flap.Has() && o.zip != nil:
		return "Close the zip, lay the flap flat over it"
	case c.Flap.Has():
		return "Lay the flap flat over the opening"
	case plan.LapOf(c) == "edge":
		return "Close the " + o.shut() + " edge to edge"
	case o.front:
		return "Lap the fronts, centre line on centre line,"
	}
	if o.cuff() {
		return "Lap the " + o.thing
	}
	return "Close the " + o.thing + " over what lies beneath"
}

// shut is what is closed: a front by its name, another piece as it is called.
func (o *opening) shut() string {
	if o.front {
		return o.name
	}
	return o.thing
}

// under says where fasteners come to lie on the piece that is marked through
// the other, in the same places down.
func (w *planner) under(o *opening, closure int) string {
	var parts []string
	for _, s := range o.find(closure, plan.Under, plan.Works, fastenerKinds...) {
		if out, is := o.uniform(&s, w.sizes); is {
			parts = append(parts, o.out(out))
			continue
		}
		parts = append(parts, "in "+w.bySize(func(i int) string { return o.down(&s, i, true) }))
	}
	if len(parts) == 0 {
		return ""
	}
	if w.count(o, &w.p.Closures[closure]) == "1" {
		return "; it comes to lie " + text.And(parts...)
	}
	return "; they come to lie " + text.And(parts...)
}

// fastenTask marks and fixes the fasteners of a closure that are not sewn on
// yet.
func (w *planner) fastenTask(c *catalog.Closure, k *plan.Closure) {
	if c.Notion.Kind != catalog.Zip && !flatFasteners(k) && !plan.Whole(c) && !(plan.OneSided(c) && rules.JoinedPiece(c)) {
		if k.SewnOnTop() && k.HasLoops() {
			w.loopTask(StageFasten, c, k)
		}
		w.fastenOne(StageFasten, c, k)
	}
}

// fastenOne marks and fixes the fasteners of one closure.
func (w *planner) fastenOne(stage string, c *catalog.Closure, k *plan.Closure) {
	o := w.opening(c.Index)
	count := w.count(o, k)
	things, _ := number(text.Plural(c.Notion.Kind), count)
	one := count == "1"
	if rules.SetWithTool(&c.Notion) && !k.Hole.Needed && !plan.Whole(c) && c.Notion.Kind != catalog.Rivet && (rules.JoinedPiece(c) || c.Flap.Has()) {
		what := things
		for _, s := range o.find(c.Index, plan.Under, plan.Works, fastenerKinds...) {
			what = partWord(s.kind) + "s"
		}
		alone := "with the body alone"
		if c.Flap.Has() {
			alone = "with the piece beneath alone"
			if o.front {
				alone = "with that front alone"
			}
		}
		if !k.Hardware.Setting.Struck() || c.Set == "pliers" {
			alone += " in the pliers"
		} else {
			alone += " on the anvil"
		}
		name, n := number(what, count)
		upper := things
		for _, s := range o.find(c.Index, o.upper(c), plan.Works, fastenerKinds...) {
			upper = partWord(s.kind) + "s"
		}
		upper, _ = number(upper, count)
		set := its(count, "them", "it")
		w.add(stage, c.Name, "%s and mark from the %s%s the %s%s; set %s%s %s.", w.closed(o, c), upper, o.on(plan.Under), name, w.under(o, c.Index), set, n, alone).use(k.FastenerIDs(w.sizes)...)
		return
	}
	switch {
	case rules.SewnHole(k):
		things, _ = number(things, w.count(o, k))
		cut := w.bySize(func(i int) string { return strconv.Itoa(k.Holes(i)) })
		holes, each := its(cut, "holes", "hole"), each(cut)
		at := w.len(k.Hole.Beyond) + " from the outer end of " + each
		switch {
		case k.Hole.Centred:
			at = "at the middle of " + each
		case k.Hole.Direction == "along" && plan.LiesAcross(c):
			at = w.len(k.Hole.Beyond) + " from the front end of " + each
		case k.Hole.Direction == "along":
			at = w.len(k.Hole.Beyond) + " below the upper end of " + each
		}
		through := "the " + holes
		if k.Hole.Eyed() {
			through = its(cut, "the eyes of the holes", "the eye of the hole")
		}
		w.add(stage, c.Name, "%s and mark the %s through %s%s, %s%s.", w.closed(o, c), things, through, o.on(plan.Under), at, w.under(o, c.Index))
	case k.Hole.Needed && k.Apart():
		w.add(stage, c.Name, "%s and mark%s, level with the %s, where the %s of the %s %s sewn on%s.", w.closed(o, c), o.on(plan.Under), its(count, "loops", "loop"), its(count, "cords", "cord"), things, its(count, "are", "is"), o.cordLies(c.Index, one))
	case k.Hole.Needed:
		w.add(stage, c.Name, "%s and mark the %s where the %s%s%s.", w.closed(o, c), things, its(count, "loops reach", "loop reaches"), o.on(plan.Under), w.under(o, c.Index))
	case k.Loop.Hooks:
		w.hooks(stage, o, c, k)
		return
	case c.Notion.Kind == catalog.Rivet, plan.OneSided(c):
		w.markOnce(stage, o, c)
	default:
		w.markBoth(stage, o, c)
	}
	w.markShow(stage, o, c)
	w.fixTask(stage, c, k, "")
}

// hooks sews the hooks on, and their eyes where the hooks reach.
func (w *planner) hooks(stage string, o *opening, c *catalog.Closure, k *plan.Closure) {
	marked := false
	hooks, many := number("hooks", w.count(o, k))
	one := many == ""
	for _, s := range o.find(c.Index, o.upper(c), plan.Works, plan.HookPart) {
		at, lines := w.marks(o, &s)
		where := ""
		if lies := o.reaches(&s, one); lies != "" {
			where = ", " + lies
		}
		w.add(stage, c.Name, "Mark the %s%s%s from %s%s%s: across the edge, on the inside, the bend %s inside the edge.", hooks, of(c), o.on(o.upper(c)), o.top(), at, where, w.len(k.Loop.HookEdge)).Lines = lines
		marked = true
	}
	if !marked {
		w.add(stage, c.Name, "Mark the %s%s, the bend %s inside the edge: not laid out, see above.", hooks, of(c), w.len(k.Loop.HookEdge))
	}
	w.markShow(stage, o, c)
	w.fixTask(stage, c, k, "")
	eyes, reach := text.Plural(EyeWord(k)), ""
	if k.RoundEye() {
		reach = ", standing " + w.len(-k.EyeAt()) + " beyond its edge"
	}
	lies := ""
	for _, u := range o.find(c.Index, plan.Under, plan.Works, plan.EyePart) {
		if at, one := o.uniform(&u, o.sizes); one && plan.IsFront(c) && reach == "" {
			reach = ", " + o.out(at)
		}
		if l := o.reaches(&u, one); l != "" {
			lies = ", " + l
		}
	}
	count := w.bySize(func(i int) string { return strconv.Itoa(o.eyes(i, c.Index)) })
	if count == "0" {
		count = w.count(o, k) // not laid out
	}
	bend := "each bend"
	eyes, n := number(eyes, count)
	if one {
		bend = "its bend"
	}
	if n == "" {
		eyes = "a " + eyes
	}
	t := w.add(stage, c.Name, "%s and mark where %s reaches%s%s: sew %s there%s%s, level with the %s, by hand, %s.", w.closed(o, c), bend, o.on(plan.Under), reach, eyes, n, lies, hooks, w.thread(c, plan.JobFasten))
	t.use(w.byHand(c, plan.JobFasten)...).use(k.FastenerIDs(w.sizes)...)
}

// EyeWord is what a hook goes into: a round eye stands out where edges meet, a
// straight one or a bar lies on what laps under.
func EyeWord(k *plan.Closure) string {
	switch {
	case k.RoundEye():
		return "round eye"
	case k.Closure.Notion.HookKind == "hook-and-bar":
		return "bar"
	}
	return "straight eye"
}

// eyes is how many eyes the hooks of a closure have in a size.
func (o *opening) eyes(size, closure int) int {
	n := 0
	for _, pc := range o.pieces(size) {
		for i := range pc.Parts {
			if q := &pc.Parts[i]; int(q.Closure) == closure && q.Kind == plan.EyePart {
				n++
			}
		}
	}
	return n
}

// upper is the side that carries the upper half of what has a part on either.
func (o *opening) upper(c *catalog.Closure) plan.Side {
	if c.Flap.Has() {
		return plan.Flap
	}
	return plan.Over
}

// markOnce marks what is set once: rivets, through all that lies there, and
// the eyelets of one piece.
func (w *planner) markOnce(stage string, o *opening, c *catalog.Closure) {
	things, _ := number(text.Plural(c.Notion.Kind), w.count(o, &w.p.Closures[c.Index]))
	marked := false
	for _, s := range o.find(c.Index, o.upper(c), plan.Works, fastenerKinds...) {
		at, lines := w.marks(o, &s)
		says := "Mark the " + things + of(c) + o.on(o.upper(c))
		if c.Notion.Kind == catalog.Rivet {
			lay := w.closed(o, c)
			if rules.JoinedPiece(c) {
				lay = "Lay the " + o.thing + " in its place"
			}
			says = lay + " and mark the " + things + " through all the layers"
		}
		says += " from " + o.top() + at
		if where := o.reaches(&s, false); where != "" {
			says += ": " + where
		}
		w.add(stage, c.Name, "%s.", says).Lines = lines
		marked = true
	}
	if !marked {
		w.add(stage, c.Name, "Mark the %s%s: not laid out, see above.", things, of(c))
	}
}

// markBoth marks fasteners that have a part on either side.
func (w *planner) markBoth(stage string, o *opening, c *catalog.Closure) {
	side := o.upper(c)
	marked := false
	count := w.count(o, &w.p.Closures[c.Index])
	_, many := number("", count)
	them, half := "them", " of each"
	if many == "" {
		them, half = "it", ""
	}
	for _, s := range o.find(c.Index, side, plan.Works, fastenerKinds...) {
		at, lines := w.marks(o, &s)
		where, other := o.reaches(&s, many == ""), ""
		if out, is := o.uniform(&s, o.sizes); is && !o.front {
			where += o.insideEdge(side, out)
		}
		for _, u := range o.find(c.Index, plan.Under, plan.Works, fastenerKinds...) {
			other, _ = number(partWord(u.kind)+"s", count)
			if lies := o.reaches(&u, many == ""); lies != "" {
				other += ": " + lies
			}
		}
		first, _ := number(partWord(s.kind)+"s", count)
		t := w.add(stage, c.Name, "Mark the %s%s%s from %s%s", first, of(c), o.on(side), o.top(), at)
		if where != "" {
			t.Do += ": " + where
		}
		t.Do += ". " + w.closed(o, c) + " and mark from " + them + o.on(plan.Under) + " the " + other + "."
		if n := &c.Notion; n.Kind == catalog.Snap && n.Attach == "sewn" && n.Spring != "magnet" {
			goes := "on the inside of the upper side"
			if stage == StageFlat && cloths(c.Over) > 1 && o.faced(plan.Over) { // which is not there yet
				goes = "on the facing of the upper side, before it is put on, on the face that comes to lie inside"
			}
			t.Do += " The ball half" + half + " goes " + goes + "; a pin through its middle marks the socket half, or press the other side on it."
		}
		t.Lines = lines
		marked = true
	}
	if !marked {
		w.add(stage, c.Name, "Mark the %s%s: not laid out, see above.", text.Plural(c.Notion.Kind), of(c))
	}
}

// reaches says where the parts of a set lie across: their centre, or from the
// bend of a hook to its other end; "" where they differ. One is told without
// "each".
func (o *opening) reaches(s *set, one bool) string {
	if s.kind == plan.HookPart || s.kind == plan.EyePart {
		each := "each "
		if one {
			each = ""
		}
		_, q := o.one(s)
		if _, is := o.uniform(s, o.sizes); !is {
			return each + "from its mark to " + o.len(q.OutTo-q.OutFrom) + " inside that"
		}
		return each + "from " + o.reach(q.OutTo, o.line) + " to " + o.reach(q.OutFrom, "it")
	}
	if out, is := o.uniform(s, o.sizes); is {
		return o.out(out)
	}
	return ""
}

// cordLies says where the cords of fasteners that are sewn on apart lie.
func (o *opening) cordLies(closure int, one bool) string {
	cords := o.find(closure, plan.Under, plan.Works, plan.CordPart)
	if len(cords) == 0 {
		return ""
	}
	pc, q := o.one(&cords[0])
	out := ": " + o.out(q.OutFrom)
	if a := o.patchOver(pc, q); a != nil {
		under := ", their ends under a patch each"
		if one {
			under = ", its ends under a patch"
		}
		out += under + o.patchLies(pc, a)
	}
	lie := "s come to lie "
	if one {
		lie = " comes to lie "
	}
	for _, f := range o.find(closure, plan.Under, plan.Works, fastenerKinds...) {
		if at, is := o.uniform(&f, o.sizes); is {
			out += "; the " + partWord(f.kind) + lie + o.out(at)
		}
	}
	return out
}

// markShow marks what a double-breasted front carries besides what works.
func (w *planner) markShow(stage string, o *opening, c *catalog.Closure) {
	for _, s := range o.find(c.Index, plan.Over, plan.Show, fastenerKinds...) {
		where := "outer"
		if !s.beyond {
			where = "inner"
		}
		at, lines := w.marks(o, &s)
		lies := ""
		if out, is := o.uniform(&s, w.sizes); is {
			lies = ": " + o.out(out)
		}
		name, _ := number(partWord(s.kind)+"s", w.bySize(func(i int) string {
			pc := o.piece(i, plan.Over)
			if pc == nil {
				return ""
			}
			return strconv.Itoa(len(s.in(pc)))
		}))
		w.add(stage, c.Name, "Mark the %s for show%s, the %s column%s, from %s%s%s.", name, of(c), where, o.on(plan.Over), o.top(), at, lies).Lines = lines
	}
	for _, s := range o.find(c.Index, plan.Over, plan.Inner, fastenerKinds...) {
		at, lines := w.marks(o, &s)
		lies := ""
		if out, is := o.uniform(&s, w.sizes); is {
			lies = ": " + o.out(out)
		}
		w.add(stage, c.Name, "Mark the inner %s%s on the inside of %s, behind the one for show, from %s%s%s.", partWord(s.kind), of(c), o.sideName(plan.Over), o.top(), at, lies).Lines = lines
	}
}

// cords are the drawcords.
func (w *planner) cords() {
	for i := range w.g.Cords {
		c := &w.g.Cords[i]
		tacked := ""
		if c.Tacked.Or(false) {
			tacked = ", stitched down midway"
		}
		free := ""
		if c.FreeEnd.Has() && c.FreeEnd.V == 0 {
			free = ", with no free ends"
		} else if c.FreeEnd.Has() {
			free = ", the ends " + w.len(c.FreeEnd.V) + " out of the channel with the garment open flat"
		}
		switch {
		case c.Instead != "":
			if c.Instead != "none" {
				w.add(StageFasten, "", "No cord at the %s: close it with %s.", c.At, c.Instead).use(plan.CordID(c))
			}
			continue
		case cordBanned(w.p, i):
			w.add(StageFasten, "", "Leave the %s out: close the %s with elastic or snaps.", w.cord(c), c.At)
			continue
		}
		first := []string{}
		for _, f := range rules.CordFaults(w.g, i) {
			switch {
			case f.Rule == "":
				first = append(first, "settle the finding about it")
			case f.Key == "free_end" && f.Ask:
				first = append(first, "settle how far its ends may hang out")
				free = ""
			case f.Key == "free_end" && f.Limit != 0:
				first = append(first, "cut its free ends to "+w.len(f.Limit))
				free = ""
			case f.Key == "free_end":
				first = append(first, "sew its free ends in")
				free = ""
			case f.Key == "drawn_in":
				first = append(first, "cut its ends until "+w.len(f.Limit)+" at most hang out when it is drawn in")
			case f.Key == "loop":
				first = append(first, "make its loop "+w.len(f.Limit)+" round")
			case f.Key == "ends":
				first = append(first, rules.EndsOff(c))
			case f.Key == "tacked":
				first = append(first, "stitch it down midway")
			}
		}
		says := fmt.Sprintf("Draw in the %s%s%s.", w.cord(c), tacked, free)
		if len(first) != 0 {
			says = fmt.Sprintf("Of the %s first %s; only then draw it in%s%s.", w.cord(c), text.And(first...), tacked, free)
		}
		t := w.add(StageFasten, "", "%s", says)
		t.use(plan.CordID(c))
		w.takeAt(t, source.Item("cord", i)+".")
		t.Take = cordRules(t.Take, rules.CordFaults(w.g, i))
	}
}

// cordRules tells once what a rule asks of a cord: what to change for it, the
// task says.
func cordRules(take []string, faults []rules.CordFault) []string {
	asks, of := []string{}, ""
	tell := func() {
		if len(asks) > 0 {
			take = append(take, of+" "+text.And(asks...)+". "+LawTag)
		}
	}
	for _, f := range faults {
		for _, verb := range []string{"allows ", "asks for "} {
			j := slices.IndexFunc(take, func(s string) bool { return strings.HasSuffix(s, "; "+f.Rule+" "+verb+f.Says+". "+LawTag) })
			if j < 0 || f.Rule == "" {
				continue
			}
			if take = slices.Delete(take, j, j+1); of != f.Rule {
				tell()
				asks, of = nil, f.Rule
			}
			asks = append(asks, verb+f.Says)
		}
	}
	tell()
	return take
}

// Metres is a length of thread in words: 7.5 m (8.2 yd).
func Metres(l measure.Length, u measure.Unit) string {
	metres, yards := fmt.Sprintf("%.1f m", l.MM()/1000), fmt.Sprintf("%.1f yd", float64(l)/float64(measure.Yard))
	switch {
	case !u.IsAlone():
		return metres + " (" + yards + ")"
	case u.Is(measure.In):
		return yards
	}
	return metres
}

// Spool is how long the thread on a spool is, as it is sold: in metres.
func Spool(l measure.Length, u measure.Unit) string {
	if u.Or(measure.MM).Is(measure.In) {
		return fmt.Sprintf("%.0f yd", float64(l)/float64(measure.Yard))
	}
	return strconv.FormatFloat(l.MM()/1000, 'f', -1, 64) + " m"
}

// twistLeast is the twist that a hole worked by hand takes at least.
func (w *working) twistLeast() string {
	if l := 3 * measure.Yard / 4; w.x.U.IsAlone() && w.x.U.Is(measure.MM) {
		return Metres(l, w.x.U)
	}
	return "3/4 yd"
}

// cord is a cord by its place, and by its name where another is there too.
func (w *planner) cord(c *catalog.GarmentCord) string { return cordAt(w.g, c) }

func cordAt(g *catalog.Garment, c *catalog.GarmentCord) string {
	n := 0
	for i := range g.Cords {
		if g.Cords[i].At == c.At {
			n++
		}
	}
	if n > 1 {
		return "cord " + c.Name + " at the " + c.At
	}
	return "cord at the " + c.At
}
