package work

import (
	"fmt"
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
		if s.ThreadShank > 0 {
			parts = append(parts, fmt.Sprintf("thread shank as long as the layers over it are thick, %s, and up to %s more", s.ThreadShank.TextFine(w.x.U), w.s(plan.ShankAllow)))
		}
		if s.Backing > 0 {
			parts = append(parts, fmt.Sprintf("backing button of %s ligne underneath, %s", rules.Ligne(s.Backing), s.Backing.TextFine(w.x.U)))
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

// sewOn is the task of sewing fasteners on.
func (w *planner) sewOn(stage string, c *catalog.Closure, k *plan.Closure, count, shank string) *Task {
	s := &k.Sewing
	back := ""
	if s.Backing > 0 && !s.Suggested {
		back = ", a backing button of " + rules.Ligne(s.Backing) + " ligne behind each"
	}
	thread := w.thread(c, plan.JobFasten)
	t := (*Task)(nil)
	if s.ByHand {
		t = w.add(stage, c.Name, "Sew the %s of the %s on by hand (%s), %s%s%s.", text.Plural(c.Notion.Kind), c.Name, count, thread, shank, back)
		t.use(w.byHand(c, plan.JobFasten)...)
	} else {
		t = w.add(stage, c.Name, "Sew the %s of the %s on (%s), needle %s, %s%s%s.", text.Plural(c.Notion.Kind), c.Name, count, k.Needle.Use, thread, shank, back)
		t.use(w.byMachine(c, plan.JobFasten)...)
	}
	if back != "" {
		t.use(plan.BackingID(s.Backing))
	}
	return t.use(k.FastenerIDs(w.sizes)...)
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
	return []plan.GoodID{plan.HandNeedleID(plan.HandNeedleFor(t.Diameter)), plan.ThreadID(t)}
}

// fixTask fixes the fasteners of a closure.
func (w *planner) fixTask(stage string, c *catalog.Closure, k *plan.Closure) {
	n := &c.Notion
	count := w.bySize(func(i int) string {
		m, known := k.Fasteners(i)
		if !known {
			return "all"
		}
		return strconv.Itoa(m)
	})
	t := (*Task)(nil)
	switch {
	case rules.SetWithTool(n):
		punch := ""
		if l := k.Hardware.Punch; l > 0 {
			punch = ", holes punched " + w.fine(l)
		}
		t = w.add(stage, c.Name, "Set the %s of the %s (%s)%s; check each: seated, tight, opening freely.", text.Plural(n.Kind), c.Name, count, punch)
		t.use(k.FastenerIDs(w.sizes)...)
		t.Take = append(t.Take, "Eye protection on; a rawhide or plastic mallet, never steel; the maker's own die and anvil.")
	case n.Kind == catalog.Button || n.Kind == catalog.Toggle:
		shank := ""
		if l := k.Sewing.ThreadShank; l > 0 {
			shank = ", on a thread shank of " + w.fine(l)
		}
		t = w.sewOn(stage, c, k, count, shank)
	default:
		t = w.sewOn(stage, c, k, count, "")
	}
	w.take(t, c.Name, rules.TaskFasten)
}

func (w *planner) fasten() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if c.Notion.Kind == catalog.Zip {
			return
		}
		if rules.JoinedPiece(c) && rules.SetWithTool(&c.Notion) && !rules.SewnHole(k) {
			w.add(StageFasten, c.Name, "Close the %s and mark its counterparts on the body through it; set them with the body alone on the anvil.", c.Name).use(k.FastenerIDs(w.sizes)...)
			return
		}
		switch {
		case rules.SewnHole(k):
			lap, end := "Close the "+c.Name+" over what lies beneath", "from the outer end"
			if plan.IsFront(c) {
				lap = "Lap the " + c.Name + ", centre line on centre line,"
			}
			if k.Hole.Direction == "along" {
				end = "below the upper end"
			}
			w.add(StageFasten, c.Name, "%s and mark the %s through the holes, %s %s of each.", lap, text.Plural(c.Notion.Kind), w.len(k.Hole.Beyond), end)
		case k.Hole.Needed && c.Lap == "edge":
			w.add(StageFasten, c.Name, "Close the %s edge to edge and mark the %s where the loops reach.", c.Name, text.Plural(c.Notion.Kind))
		case k.Hole.Needed:
			w.add(StageFasten, c.Name, "Lap the %s, centre line on centre line, and mark the %s where the loops reach.", c.Name, text.Plural(c.Notion.Kind))
		default:
			places, lines := w.places(k)
			w.add(StageFasten, c.Name, "Mark the %s of the %s from %s%s, one side first; press the other side on it for its marks.", text.Plural(c.Notion.Kind), c.Name, from(c), places).Lines = lines
		}
		w.fixTask(StageFasten, c, k)
	})
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
		if cordBanned(w.p, i) {
			w.add(StageFasten, "", "Leave the cord %s out.", c.Name)
			continue
		}
		t := w.add(StageFasten, "", "Draw the cord %s in at the %s%s%s.", c.Name, c.At, tacked, free)
		t.use(plan.CordID(c))
		w.takeAt(t, source.Item("cord", i)+".")
	}
}

// metres is a length of thread.
func metres(l measure.Length) string {
	return fmt.Sprintf("%.1f m (%.1f yd)", l.MM()/1000, float64(l)/float64(measure.Yard))
}
