// Package work is what follows from a plan: the order of the work, and how
// each number came about.
package work

import (
	"fmt"
	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"slices"
	"strings"
)

// Stages of the work, in their order: what is done late spoils the piece.
const (
	StageSettle   = "Settle first"
	StageMeasure  = "Measure"
	StageBuy      = "Buy"
	StageTest     = "Test"
	StageCut      = "Cut"
	StageFuse     = "Put the interfacing in"
	StagePieces   = "Small pieces, before they are joined"
	StageEdge     = "The edge that carries the closure"
	StageTry      = "Hem and try-on"
	StageHoles    = "Mark and sew the holes"
	StageFasten   = "Mark and fix the fasteners"
	StageCheck    = "Check"
	layersInStack = 8 // folded in eight
)

// Stages are all stages in their order.
var Stages = []string{
	StageSettle, StageMeasure, StageBuy, StageTest, StageCut, StageFuse, StagePieces,
	StageEdge, StageTry, StageHoles, StageFasten, StageCheck,
}

// Task is one thing to do and to tick off.
type Task struct {
	Stage   string
	Closure string   // "" for the whole garment
	Do      string   // one or two sentences with this garment's figures
	Lines   []string // the same figures by size, where they differ
	Take    []string // cautions that belong to it

	Uses []plan.GoodID // what it uses of what was bought
	Buys []plan.GoodID // what it buys
}

// use says what a task uses.
func (t *Task) use(ids ...plan.GoodID) *Task {
	t.Uses = append(t.Uses, ids...)
	return t
}

// planner writes the tasks of a plan.
type planner struct {
	p     *rules.Planned
	g     *catalog.Garment
	u     measure.Unit
	sizes []int
	out   []Task
	taken map[*rules.Finding]bool // findings that already stand at a task
	said  map[string]bool         // what they say
}

// Order is the work on a garment, step by step, in the order it needs, with
// the figures of one size, or of all where size is "".
func Order(p *rules.Planned, size string) []Task {
	w := &planner{p: p, g: p.Garment, u: p.Garment.Units, taken: map[*rules.Finding]bool{}, said: map[string]bool{}}
	for i, s := range p.Garment.Sizes {
		if size == "" || s == size {
			w.sizes = append(w.sizes, i)
		}
	}
	w.settle()
	w.measure()
	w.buy()
	w.test()
	w.cut()
	w.fuse()
	w.pieces()
	w.edge()
	w.try()
	w.holes()
	w.fasten()
	w.check()
	return w.out
}

func (w *planner) add(stage, closure, format string, args ...any) *Task {
	w.out = append(w.out, Task{Stage: stage, Closure: closure, Do: fmt.Sprintf(format, args...)})
	return &w.out[len(w.out)-1]
}

func (w *planner) len(l measure.Length) string { return l.Text(w.u) }

// take puts what the rules of those tasks found at a task.
func (w *planner) take(t *Task, closure string, tasks ...rules.Task) {
	w.carry(t, func(f *rules.Finding) bool {
		return (closure == "" || f.Closure == closure || f.Closure == "") && slices.Contains(tasks, rules.Find(f.Rule).Task)
	})
}

// carry puts findings that stand nowhere yet at a task; what says the same of
// several sizes or closures stands once.
func (w *planner) carry(t *Task, wanted func(f *rules.Finding) bool) {
	for i := range w.p.Findings {
		if f := &w.p.Findings[i]; !w.taken[f] && wanted(f) {
			w.taken[f] = true
			if says := text.Sentence(f.Message()); !w.said[says] {
				w.said[says] = true
				t.Take = append(t.Take, says)
			}
		}
	}
}

// tell makes a task of each finding of a task's rules that stands nowhere yet.
func (w *planner) tell(stage string, task rules.Task) {
	for i := range w.p.Findings {
		if f := &w.p.Findings[i]; !w.taken[f] && rules.Find(f.Rule).Task == task {
			w.taken[f] = true
			w.add(stage, "", "%s", text.Sentence(f.Message()))
		}
	}
}

func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// takeAt puts what was found below a path of the file at a task.
func (w *planner) takeAt(t *Task, path string) {
	w.carry(t, func(f *rules.Finding) bool { return strings.HasPrefix(f.Path(), path) })
}

// each runs do for every closure of that plan that it is asked of.
func (w *planner) each(do func(i int, c *catalog.Closure, k *plan.Closure)) {
	for i := range w.p.Closures {
		do(i, w.p.Closures[i].Closure, &w.p.Closures[i])
	}
}

// sized is one text for all sizes where they agree; else it is "" and the
// lines are one for each size.
func (w *planner) sized(of func(size int) string) (text string, lines []string) {
	same := true
	for _, s := range w.sizes {
		lines = append(lines, of(s))
		same = same && lines[len(lines)-1] == lines[0]
	}
	if same {
		return strings.Join(lines[:min(1, len(lines))], ""), nil
	}
	for i, s := range w.sizes {
		lines[i] = w.g.Sizes[s] + ": " + lines[i]
	}
	return "", lines
}

// bySize is one text for all sizes where they agree, or one for each.
func (w *planner) bySize(of func(size int) string) string {
	texts := make([]string, len(w.sizes))
	same := true
	for i, s := range w.sizes {
		texts[i] = of(s)
		same = same && texts[i] == texts[0]
	}
	if len(texts) == 0 {
		return ""
	}
	if same {
		return texts[0]
	}
	for i, s := range w.sizes {
		texts[i] = w.g.Sizes[s] + ": " + texts[i]
	}
	return strings.Join(texts, "; ")
}

func (w *planner) settle() {
	n := 0
	for i := range w.p.Findings {
		if f := &w.p.Findings[i]; f.Severity == rules.Conflict && !w.taken[f] {
			w.taken[f] = true
			where := ""
			if f.Closure != "" {
				where = f.Closure
				if f.Size != "" {
					where += ", size " + f.Size
				}
				where += ": "
			}
			w.add(StageSettle, f.Closure, "%s", text.Sentence(where+f.Message()))
			n++
		}
	}
	if n > 0 {
		w.add(StageSettle, "", "Cut nothing until the above is settled, then print this list again.")
	}
}

func (w *planner) measure() {
	seen := map[string]bool{}
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		n := &c.Notion
		if seen[n.Name] && c.Use != "" {
			return
		}
		seen[n.Name] = true
		s := plan.ShapeOf(n)
		switch {
		case n.Kind == catalog.Zip:
			w.add(StageMeasure, c.Name, "Measure the finished opening of the %s: the plan counts on %s.", c.Name, w.bySize(func(i int) string { return w.len(c.Run.Length.At(i).V) }))
		case n.Kind == catalog.Toggle:
			w.add(StageMeasure, c.Name, "Measure a real %s: the plan counts on %s long, %s wide and %s thick.", w.called(c), w.len(n.Length.V), w.len(s.Width), w.len(s.Thickness))
		case s.Girth > 0:
			w.add(StageMeasure, c.Name, "Wind a strip of paper round a real %s at its widest: the plan counts on %s.", w.called(c), w.len(s.Girth))
		case n.Kind == catalog.Hook && n.Length.Has() && n.Width.Has():
			w.add(StageMeasure, c.Name, "Measure a real %s: the plan counts on %s long and %s wide.", w.called(c), w.len(n.Length.V), w.len(n.Width.V))
		case n.Kind == catalog.TackButton && n.Thickness.Has():
			w.add(StageMeasure, c.Name, "Measure a real %s: the plan counts on %s across and a head %s high, the hub under it not counted.", w.called(c), w.len(plan.AcrossOf(n)), w.len(n.Thickness.V))
		case n.Thickness.Has():
			w.add(StageMeasure, c.Name, "Measure a real %s: the plan counts on %s across and %s thick.", w.called(c), w.len(plan.AcrossOf(n)), w.len(n.Thickness.V))
		default:
			w.add(StageMeasure, c.Name, "Measure a real %s: the plan counts on %s across.", w.called(c), w.len(plan.AcrossOf(n)))
		}
		if n.Kind != catalog.Zip {
			w.out[len(w.out)-1].use(k.FastenerIDs(w.sizes)...)
		}
	})
	for i, cl := range w.g.Cloths {
		if !w.used(cl) {
			continue
		}
		l := plan.LayerOf(w.g, catalog.Layer{Cloth: cl})
		guess := ""
		if l.Estimated {
			guess = ", an estimate from its weight"
		}
		w.add(StageMeasure, "", "Fold %s in eight and lay a ruler on the stack: %s means %s a layer, as planned%s.", w.g.ClothNames[i], (l.Thick * layersInStack).TextThin(), l.Thick.TextThin(), guess)
		if r := &cl.Repeat; r.Along.Has() || r.Across.Has() {
			parts := []string{}
			if r.Along.Has() {
				parts = append(parts, w.len(r.Along.V)+" along")
			}
			if r.Across.Has() {
				parts = append(parts, w.len(r.Across.V)+" across")
			}
			w.add(StageMeasure, "", "Measure the repeat of %s over three repeats: %s each.", w.g.ClothNames[i], strings.Join(parts, " and "))
		}
	}
	if m := &w.g.Machine; m.FootLift.Has() && w.sews() {
		w.add(StageMeasure, "", "Measure how far the presser foot lifts: the plan counts on %s.", m.FootLift.V.TextThin())
	}
}

// called is the fastener of a closure by its name and kind.
func (w *planner) called(c *catalog.Closure) string {
	if c.Use == "" {
		return c.Notion.Kind + " of the " + c.Name
	}
	if strings.Contains(c.Notion.Name, c.Notion.Kind) {
		return c.Notion.Name
	}
	return c.Notion.Name + " " + c.Notion.Kind
}

// sews says whether there is anything for the machine to sew through.
func (w *planner) sews() bool {
	for i := range w.p.Closures {
		if w.p.Closures[i].Closure.Notion.Kind != catalog.Zip {
			return true
		}
	}
	return false
}

func (w *planner) check() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if c.Notion.Kind == catalog.Zip {
			w.add(StageCheck, c.Name, "Run the zip%s up and down, with one hand.", of(c))
			return
		}
		w.add(StageCheck, c.Name, "Fasten and open every %s%s, with one hand, and pull at each.", strings.ReplaceAll(c.Notion.Kind, "-", " "), of(c))
	})
	for i := range w.g.Cloths {
		if w.g.Cloths[i].Repeat.Across.Has() && w.used(w.g.Cloths[i]) {
			w.add(StageCheck, "", "Button up and look at the bars of %s from six feet (2 m) away.", w.g.ClothNames[i])
		}
	}
	if l, name := w.coolest(); name != "" && l.Symbol < rules.NoPressCloth {
		w.add(StageCheck, "", "Finish with the iron at %s at most, %s: the %s of %s stands no more.", rules.Dots(l.Symbol), l.Symbol.TextMost(w.u), l.Fibre, name)
	}
	if rules.IsChild(w.g) {
		t := w.add(StageCheck, "", "Feel the whole garment inside and out for pins, points and pieces of needle.")
		w.take(t, "", rules.TaskNeedle)
	}
	if rules.IsChild(w.g) || w.g.Costume.Or(false) || w.g.Sleepwear.Length.Has() {
		t := w.add(StageCheck, "", "Before it is sold: read the law of the place and ask an accredited laboratory. This list is no certificate.")
		w.take(t, "", rules.TaskSell, rules.TaskBuySafely, rules.TaskFasten)
	}
}

// made is a length to make: where it was worked out, rounded up, so that it
// holds in either unit.
func (w *planner) made(l measure.Length, given bool) string {
	if given {
		return w.len(l)
	}
	return l.TextLeast(w.u)
}

// holeLen is the length of a hole as it is cut, or l of it.
func (w *planner) holeLen(h *plan.Hole, l measure.Length) string {
	return w.made(l, h.Given || h.Fixed || l == h.MachineSews)
}
