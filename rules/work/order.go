// Package work is what follows from a plan: the order of the work, and how
// each number came about.
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

func (w *planner) used(cl *catalog.Cloth) bool {
	x := rules.Context{G: w.g}
	return x.Used(cl)
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

func (w *planner) test() {
	hot := false
	for j, cl := range w.g.Cloths {
		if !w.used(cl) {
			continue
		}
		l := plan.IronLimit(w.g.Catalog, cl.Fibre)
		if rules.NoFuse(cl) != "" && (cl.Kind == "waxed-cotton" || cl.Surface == "coated") {
			w.add(StageTest, "", "Fold a scrap of %s with a bone folder, without an iron, and see whether the fold holds.", w.g.ClothNames[j])
			continue
		}
		if l.Fibre == "" {
			continue
		}
		steam := ""
		if l.Symbol <= measure.OneDot {
			steam = ", no steam"
		}
		t := w.add(StageTest, "", "Press a scrap of %s at %s, %s at most, through a press cloth%s: no shine, no shrinkage.", w.g.ClothNames[j], rules.Dots(l.Symbol), l.Symbol.Text(w.u), steam)
		if !hot {
			t.Take = append(t.Take, "Irons burn: keep fingers off the steam, and set the iron on its heel.")
			hot = true
		}
	}
	for i, in := range w.g.Interfacings {
		for j, cl := range w.g.Cloths {
			if in.Fixing != "fusible" || !w.p.Fused(in, cl) {
				continue
			}
			lo, hi := rules.FuseRange(in)
			heat := lo.Text(w.u)
			if hi > lo {
				heat = "at the heat its maker gives (" + heat + " to " + hi.Text(w.u) + " are printed)"
			} else {
				heat = "at " + heat + " in the glue line, the sole hotter"
			}
			shell, fus := plan.FuseTest(1)
			t := w.add(StageTest, "", "Fuse the %s interfacing on %s, a swatch %s square on one %s square, three times, %s: lift and press 10 to 15 s a spot, let it cool flat. Rub the edge, and measure the swatch again for shrinkage.", w.g.InterfNames[i], w.g.ClothNames[j], w.len(fus[0]), w.len(shell[0]), heat)
			t.use(plan.InterfacingID(w.g, in))
			w.take(t, "", rules.TaskFuseTest)
		}
	}
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if rules.SewnHole(k) {
			t := w.sample(c, k)
			w.take(t, c.Name, rules.TaskSample)
		}
		if rules.SetWithTool(&c.Notion) {
			t := w.add(StageTest, c.Name, "Make a test set of the %s of the %s through %s, %s pressed together: it must not turn by hand, and must open and close freely.", w.called(c), c.Name, layerNames(&k.Under), k.Under.Pressed.TextThin())
			w.take(t, c.Name, rules.TaskTestSet)
			if len(t.Take) > 0 { // it says the whole task
				t.Do, t.Take = "For the "+c.Name+", "+lower(t.Take[0]), t.Take[1:]
			}
			t.use(k.FastenerIDs(w.sizes)...)
			w.take(t, c.Name, rules.TaskSet)
		}
		if rules.Turns(c) && rules.TurnOf(&k.Over) > 0 {
			w.add(StageTest, c.Name, "Roll the real layers of the %s over your finger and mark how far the upper one creeps: about %s is planned.", c.Name, w.len(c.Turn.Or(rules.TurnOf(&k.Over).RoundNearest(plan.HoleStep(w.u)))))
		}
	})
}

// layerNames are the layers of a stack in words, outside first.
func layerNames(s *plan.Stack) string {
	names, same := make([]string, len(s.Layers)), true
	for i := range s.Layers {
		names[i] = s.Layers[i].Layer.Name
		same = same && names[i] == names[0]
	}
	if same && len(names) > 1 {
		return strconv.Itoa(len(names)) + " layers of " + names[0]
	}
	return text.And(names...)
}

func (w *planner) cut() {
	for j, cl := range w.g.Cloths {
		if w.used(cl) && cl.Shrink.Or(0) > 0 {
			w.add(StageCut, "", "Shrink %s before cutting: it loses %s, %s in a yard (0.9 m).", w.g.ClothNames[j], rules.Percent(cl.Shrink.V), w.len(plan.ShrinkApart(measure.Yard, cl.Shrink.V, 0)))
		}
	}
	for i, in := range w.g.Interfacings {
		if w.supported(in) && in.Shrink.Or(0) > 0 {
			w.add(StageCut, "", "Shrink %s before cutting: it loses %s, %s in a yard (0.9 m).", w.g.InterfNames[i], rules.Percent(in.Shrink.V), w.len(plan.ShrinkApart(measure.Yard, in.Shrink.V, 0)))
		}
	}
	w.tell(StageCut, rules.TaskCut)
	w.each(func(i int, c *catalog.Closure, k *plan.Closure) {
		if cl := rules.Checked(w.g, c); cl != nil && plan.IsFront(c) {
			w.checks(c, cl)
		}
		s := &k.Stand
		if c.Notion.Kind != catalog.Zip && plan.IsFront(c) {
			switch s.Construction {
			case "folded":
				under := ""
				if s.TurnUnder > 0 {
					under = w.len(s.TurnUnder) + " turned under, "
				}
				w.add(StageCut, c.Name, "Cut the %s with %s beyond the centre line: a band of %s folded back, %s%s for the folds. Snip the fold lines top and bottom.", c.Name, w.len(s.Extension), w.len(s.Band), under, s.FoldLoss.TextThin())
			case "band":
				w.add(StageCut, c.Name, "Cut the bands of the %s %s wide, for %s finished with seams of %s.", c.Name, w.len(s.BandCut), w.len(s.Band), w.len(s.Seam))
			default:
				column := ""
				if d := s.Extension - s.Have - s.Seam; c.Lap == "double" && d > 0 {
					column = w.len(d) + " to the column, "
				}
				w.add(StageCut, c.Name, "Cut the %s with %s beyond the centre line: %sa stand of %s and a seam of %s. Snip the centre line top and bottom.", c.Name, w.len(s.Extension), column, w.len(s.Have), w.len(s.Seam))
			}
			if s.FacingCut > 0 {
				w.add(StageCut, c.Name, "Cut the facing of the %s %s wide.", c.Name, w.len(s.FacingCut))
			}
		}
		if rules.Turns(c) && rules.TurnOf(&k.Over) > 0 {
			w.add(StageCut, c.Name, "Cut the upper layer of the %s %s larger than the under one at the edges that roll.", c.Name, w.len(c.Turn.Or(rules.TurnOf(&k.Over).RoundNearest(plan.HoleStep(w.u)))))
		}
		if k.Support.Interfacing != nil {
			n := 0
			for _, z := range w.sizes {
				n = max(n, w.p.StripPieces(i, z).N)
			}
			if n > 0 {
				long, lines := w.sized(func(z int) string { return w.len(w.p.StripPieces(i, z).Length) })
				if long != "" {
					long = " and " + long + " long"
				} else {
					long += ", and as long as the run"
				}
				t := w.add(StageCut, c.Name, "Cut %s of %s for the %s, %s wide%s.", piecesOf(n, "strip"), w.interfacing(k.Support.Interfacing), c.Name, w.len(k.Support.Strip), long)
				t.Lines = lines
				t.use(plan.InterfacingID(w.g, k.Support.Interfacing))
				w.take(t, c.Name, rules.TaskShrink)
			}
		}
	})
}

// checks are the tasks of laying the two fronts of a checked cloth.
func (w *planner) checks(c *catalog.Closure, cl *catalog.Cloth) {
	x := rules.Context{G: w.g, C: c, U: w.u}
	k := &c.Check
	name := w.g.NameOf(cl)
	if under, known := rules.BarUnder(k); known && k.Over.Has() {
		w.add(StageCut, c.Name, "Lay the upper front on %s with a bar %s; the under front with a bar %s. Match at the seam line, not at the cut edge.", name, x.Left(k.Over.V), x.Left(under))
	} else {
		w.add(StageCut, c.Name, "Lay both fronts on %s with a bar at the same distance from the centre line. Match at the seam line, not at the cut edge.", name)
	}
	switch k.Cut {
	case "mirror":
		w.add(StageCut, c.Name, "Fold %s face to face and pin bar on bar every few inches before you cut both fronts at once.", name)
	default:
		w.add(StageCut, c.Name, "Cut the fronts one at a time, %s lying the same way; turn the pattern over for the second.", name)
	}
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

// places are the positions of one closure as marked from the top of its run.
func (w *planner) places(k *plan.Closure) (text string, lines []string) {
	text, lines = w.sized(func(i int) string {
		z := &k.Sizes[i]
		if !z.Solved {
			return "not laid out, see above"
		}
		texts := make([]string, len(z.Positions))
		for j, p := range z.Positions {
			texts[j] = p.Short(w.u)
		}
		s := strings.Join(texts, ", ")
		if len(z.Rows) > 0 && w.tapers(z) {
			for j, r := range z.Rows {
				texts[j] = r.Short(w.u)
			}
			s += "; from the centre line " + strings.Join(texts, ", ")
		}
		return s
	})
	if text != "" {
		text = " at " + text
	}
	return text, lines
}

// tapers says whether the columns of a double-breasted front draw together.
func (w *planner) tapers(z *plan.Size) bool {
	for _, r := range z.Rows {
		if r != z.Rows[0] {
			return true
		}
	}
	return false
}

// line is the line that the holes of a closure lie on.
func (w *planner) line(c *catalog.Closure, k *plan.Closure) string {
	if c.Lap != "double" {
		return "the centre line"
	}
	for _, i := range w.sizes {
		if z := &k.Sizes[i]; len(z.Rows) > 0 && !w.tapers(z) {
			return "its column, " + w.len(z.Rows[0]) + " from the centre line,"
		}
	}
	return "its column"
}

// from is what a position is measured from.
func from(c *catalog.Closure) string {
	if plan.IsFront(c) {
		return "the neck edge"
	}
	return "the top of the " + c.Name
}

// holeTask marks and sews the holes of a closure.
func (w *planner) holeTask(stage string, c *catalog.Closure, k *plan.Closure) {
	h := &k.Hole
	on := w.line(c, k)
	where := "each from " + w.len(h.Beyond) + " beyond " + on + " towards the edge, to " + w.len(h.Inside) + " inside it"
	if h.Direction == "along" {
		where = "each on " + strings.TrimSuffix(on, ",") + ", from " + w.len(h.Beyond) + " above the mark to " + w.len(h.Inside) + " below it"
	}
	if c.Lap == "double" {
		for _, i := range w.sizes {
			if z := &k.Sizes[i]; z.Solved && plan.Working(c, z.Count) < z.Count {
				where += fmt.Sprintf("; only %d of the %d rows button, the others have no hole", plan.Working(c, z.Count), z.Count)
				break
			}
		}
	}
	at, lines := w.places(k)
	w.add(stage, c.Name, "Mark the holes of the %s from %s%s: %s.", c.Name, from(c), at, where).Lines = lines
	finish := ""
	switch c.Finish {
	case "twice":
		finish = " Sew each twice over."
	case "corded":
		finish = " Sew them over a cord."
	case "overcast":
		finish = " Overcast the layers together first."
	case "sealed":
		finish = " Seal each cut."
	}
	n := w.bySize(func(i int) string { return strconv.Itoa(k.Holes(i)) })
	thread := w.thread(c, plan.JobHoles)
	t := (*Task)(nil)
	switch {
	case h.Kind == "bound":
		t = w.add(stage, c.Name, "Make the bound holes of the %s (%s), %s long, needle %s, %s, and open the facing behind each.", c.Name, n, w.len(h.Length), k.Needle.Use, thread)
		t.use(w.byMachine(c, plan.JobHoles)...)
	case h.Kind == "hand":
		t = w.add(stage, c.Name, "Cut and work the holes of the %s by hand (%s), %s long, %s.%s", c.Name, n, w.len(h.Length), thread, finish)
		t.use(w.byHand(c, plan.JobHoles)...)
	case !h.ByMachine():
		t = w.add(stage, c.Name, "Cut and work the holes of the %s by hand, or make bound ones (%s), %s long, %s: %s.%s", c.Name, n, w.len(h.Length), thread, w.beyond(h), finish)
		t.use(w.byHand(c, plan.JobHoles)...)
	default:
		t = w.add(stage, c.Name, "Sew the holes of the %s (%s), %s long, needle %s, %s.%s%s Open each with a pin across its bars.", c.Name, n, w.len(h.Sewn()), k.Needle.Use, thread, w.instead(c, h), finish)
		t.use(w.byMachine(c, plan.JobHoles)...)
	}
	switch c.Finish {
	case "corded":
		gimp, _ := w.p.Gimp()
		t.use(plan.ThreadID(gimp))
	case "sealed":
		t.use(plan.SealantID)
	}
	t.Take = append(t.Take, "Cut away from your hand, the blade on a block.")
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
	longest := " That is the machine's longest"
	switch {
	case h.BeyondMachine == plan.SewsOther:
		return fmt.Sprintf(" That is the next that the attachment sews; the file asks for %s.", w.len(h.Length))
	case h.BeyondMachine != plan.SewsLessEase:
		return ""
	case h.Length > h.MachineSews:
		longest += fmt.Sprintf(", and leaves less ease than the %s planned", w.len(h.Length))
	default:
		longest += ", and leaves little ease"
	}
	return longest + fmt.Sprintf(": where the %s does not pass the sample, work the holes by hand.", c.Notion.Kind)
}

// sample is the task of the sample hole.
func (w *planner) sample(c *catalog.Closure, k *plan.Closure) *Task {
	h := &k.Hole
	through := layerNames(&k.Over) + ", " + k.Over.Thick.TextThin() + " thick"
	thread := w.thread(c, plan.JobHoles)
	t := (*Task)(nil)
	switch {
	case h.Kind == "bound" || h.ByMachine():
		needle := k.Needle.Use.String()
		if k.Needle.Refused && k.Needle.Use != k.Needle.NM {
			needle += " (not " + k.Needle.NM.String() + ", see above)"
		}
		stitched := h.Sewn() + h.Stitched - h.Length
		t = w.add(StageTest, c.Name, "Sew a sample hole for the %s, %s long (%s with its bars), through %s, with needle %s and %s, and push the real %s through it.%s", c.Name, w.len(h.Sewn()), w.len(stitched), through, needle, thread, c.Notion.Kind, w.instead(c, h))
		t.use(w.byMachine(c, plan.JobHoles)...)
	default:
		why := ""
		if h.Kind != "hand" {
			why = ": " + w.beyond(h)
		}
		t = w.add(StageTest, c.Name, "Work a sample hole for the %s by hand, %s long (%s with its bars), through %s, with %s, and push the real %s through it%s.", c.Name, w.len(h.Length), w.len(h.Stitched), through, thread, c.Notion.Kind, why)
		t.use(w.byHand(c, plan.JobHoles)...)
	}
	return t.use(k.FastenerIDs(w.sizes)...)
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
			punch = ", holes punched " + w.len(l)
		}
		what := text.Plural(n.Kind)
		switch h := &k.Hardware; h.Setting {
		case plan.SetNail:
			if punch == "" {
				punch = ", each nail pushed through from underneath where a pin marks its place"
			}
			t = w.add(stage, c.Name, "Set the %s of the %s (%s)%s; check each: seated, tight, its nail straight.", what, c.Name, count, punch)
		case plan.SetPlastic:
			t = w.add(stage, c.Name, "Press the %s of the %s on (%s)%s, each point pushed through first; check each: its point flat and round, clicking and parting.", what, c.Name, count, punch)
		case plan.SetProngs, plan.SetBarrel:
			t = w.add(stage, c.Name, "Set the %s of the %s (%s)%s; check each: seated, tight, opening freely.", what, c.Name, count, punch)
		default:
			t = w.add(stage, c.Name, "Set the %s of the %s (%s)%s; check each: seated and tight.", what, c.Name, count, punch)
		}
		t.use(k.FastenerIDs(w.sizes)...)
		t.Take = append(t.Take, text.Sentence(rules.SetSafely(k.Hardware.Setting, c.Set, what)))
	case n.Kind == catalog.Button || n.Kind == catalog.Toggle:
		shank := ""
		if l := k.Sewing.ThreadShank; l > 0 {
			shank = ", on a thread shank of " + l.TextThin()
		}
		t = w.sewOn(stage, c, k, count, shank)
	default:
		t = w.sewOn(stage, c, k, count, "")
	}
	w.take(t, c.Name, rules.TaskFasten)
}

func (w *planner) pieces() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if !rules.JoinedPiece(c) || c.Notion.Kind == catalog.Zip {
			return
		}
		if c.Where != "flap" {
			w.bulk(StagePieces, c, k)
		}
		at := len(w.out)
		switch {
		case rules.SewnHole(k):
			w.holeTask(StagePieces, c, k)
		case k.HasLoops():
			w.loopTask(StagePieces, c, k)
		}
		if rules.SetWithTool(&c.Notion) && !rules.SewnHole(k) {
			places, lines := w.places(k)
			w.add(StagePieces, c.Name, "Mark the %s of the %s from %s%s.", text.Plural(c.Notion.Kind), c.Name, from(c), places).Lines = lines
			w.fixTask(StagePieces, c, k)
		}
		if len(w.out) > at {
			w.add(StagePieces, c.Name, "Only now join the %s to the body (%s).", c.Name, piecesOf(c.Pieces, "piece"))
		}
		if c.Where == "flap" {
			w.bulk(StagePieces, c, k)
		}
	})
}

// bulk is the work at the thickest place of a closure.
func (w *planner) bulk(stage string, c *catalog.Closure, k *plan.Closure) {
	p := k.Thick()
	if p == nil {
		return
	}
	t := w.add(stage, c.Name, "Count the layers at %s: %d of cloth, %s thick.", rules.PlaceCalled(p), p.Cloths, p.Thick.TextThin())
	w.take(t, c.Name, rules.TaskThick)
	if len(t.Take) == 0 {
		t.Do += " First " + p.Trim + "."
	}
	if p.Trim == plan.GradeWords {
		widths := plan.Grade(p.Cloths - plyCount(&k.Over))
		texts := make([]string, len(widths))
		for i, l := range widths {
			texts[i] = l.Short(w.u)
		}
		if len(texts) > 1 {
			w.add(stage, c.Name, "Grade the %d allowances there, from the outside in: %s.", len(texts), strings.Join(texts, ", "))
		}
	}
	t = w.add(stage, c.Name, "Check the needle clamp and put in %s before you sew over it; stitch %s, the wheel turned by hand.", k.Needle.Thick, k.Stitch.Length.TextThin())
	t.use(plan.NeedleID(k.Needle.Thick, k.Needle.Point))
	w.take(t, "", rules.TaskNeedle)
}

func plyCount(s *plan.Stack) int {
	_, _, n := plan.Plies(s)
	return n
}

// zip is the work on a zip.
func (w *planner) zip(c *catalog.Closure, k *plan.Closure) {
	z := &k.Zip
	if off := w.bySize(func(s int) string {
		if l := z.Sizes[s].Shorten; l > 0 {
			return "by " + w.len(l)
		}
		return "if it must be"
	}); off != "" {
		w.add(StageEdge, c.Name, "Shorten the zip of the %s at the %s only, %s.", c.Name, z.End, off).use(k.FastenerIDs(w.sizes)...)
	}
	far := ""
	if z.Stitched > 0 {
		far = ", " + w.len(z.Stitched) + " from the teeth"
	}
	ends := w.bySize(func(i int) string {
		var says []string
		if l := z.Sizes[i].Top; l > 0 {
			says = append(says, "the top stop "+w.len(l)+" below the top")
		}
		if l := c.Run.Last.At(i).V; l > 0 {
			says = append(says, "its end "+w.len(l)+" above the hem")
		}
		return text.And(says...)
	})
	if ends != "" {
		ends = " (" + ends + ")"
	}
	t := (*Task)(nil)
	if k.HolesStay() {
		t = w.add(StageEdge, c.Name, "Hold the zip of the %s with narrow tape or clips%s, without basting, and run it up and down before you stitch it%s, with a zip foot, needle %s, %s: one row of about 8 stitches an inch (3.2 mm), its ends tied; the needle's holes stay.", c.Name, ends, far, k.Needle.Use, w.thread(c, plan.JobZip))
	} else {
		t = w.add(StageEdge, c.Name, "Baste the zip of the %s in%s, and run it up and down before you stitch it%s, with a zip foot, needle %s, %s.", c.Name, ends, far, k.Needle.Use, w.thread(c, plan.JobZip))
		t.use(w.byHand(c, plan.JobBaste)...)
	}
	t.use(k.FastenerIDs(w.sizes)...).use(w.byMachine(c, plan.JobZip)...)
	w.take(t, c.Name, rules.TaskZip)
}

func (w *planner) edge() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if c.Notion.Kind == catalog.Zip {
			w.zip(c, k)
			return
		}
		if rules.JoinedPiece(c) {
			return
		}
		w.bulk(StageEdge, c, k)
		if !k.StitchedEdge() {
			return
		}
		t, with := (*Task)(nil), fmt.Sprintf("needle %s, %s", k.Needle.Use, w.thread(c, plan.JobEdge))
		if s := &c.Stand; s.TopstitchInset.Has() {
			t = w.add(StageEdge, c.Name, "Baste the fold of the %s and top-stitch it %s from the edge, %s.", c.Name, w.len(s.TopstitchInset.V), with)
		} else {
			t = w.add(StageEdge, c.Name, "Baste the fold of the %s and stitch it %s from the edge, %s: %s does not hold a press.", c.Name, w.len(rules.UsualTopstitch(w.u)), with, w.g.NameOf(rules.Shell(c.Over)))
		}
		t.use(w.byMachine(c, plan.JobEdge)...).use(w.byHand(c, plan.JobBaste)...)
	})
}

func (w *planner) try() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if !plan.IsFront(c) || c.Notion.Kind == catalog.Zip || len(w.sizes) == 0 {
			return
		}
		last := w.bySize(func(i int) string {
			if z := &k.Sizes[i]; z.Solved && z.Count > 0 {
				return w.len(z.Last)
			}
			return "not laid out"
		})
		w.add(StageTry, c.Name, "Turn the hem up and pin it, pin the %s shut, and try it on: sit down, climb a step, reach forward. Only when the hem line is fixed is the last %s placed, %s above it.", c.Name, c.Notion.Kind, last)
		size := ""
		if len(w.g.Sizes) > 1 {
			size = "." + w.g.Sizes[w.sizes[0]]
		}
		w.add(StageTry, c.Name, "If the hem line moved, plan again with --with closure.%s.run.length%s=… and mark from the new list.", c.Name, size)
	})
}

func (w *planner) holes() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		switch {
		case rules.JoinedPiece(c) || c.Notion.Kind == catalog.Zip:
		case rules.SewnHole(k):
			w.holeTask(StageHoles, c, k)
			if n := k.Sewing.FlyTacks; n > 0 {
				w.add(StageHoles, c.Name, "Tack the fly of the %s to the front by hand between the holes (%d).", c.Name, n).use(w.byHand(c, plan.JobTacks)...)
			}
		case k.HasLoops():
			w.loopTask(StageHoles, c, k)
		}
	})
}

// loopTask makes the loops of a closure and sews them in.
func (w *planner) loopTask(stage string, c *catalog.Closure, k *plan.Closure) {
	if l := k.Loop.Cut; l > 0 {
		of := ""
		if l := k.Loop.CutFastener; l > 0 {
			of = fmt.Sprintf(", and the cords of the %s, %s each", text.Plural(c.Notion.Kind), w.len(l))
		}
		w.add(stage, c.Name, "Cut the loops of the %s from cord, %s each with what is sewn in%s, and knot or seal the ends.", c.Name, w.len(l), of).use(k.LoopCordID())
	}
	places, lines := w.places(k)
	t := w.add(stage, c.Name, "Mark the loops of the %s from %s%s, and sew each in with %s inside it, needle %s, %s.", c.Name, from(c), places, w.len(k.Loop.Inside), k.Needle.Use, w.thread(c, plan.JobLoops))
	t.Lines = lines
	t.use(k.LoopCordID()).use(w.byMachine(c, plan.JobLoops)...)
}

func (w *planner) fasten() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if c.Notion.Kind == catalog.Zip {
			return
		}
		if rules.JoinedPiece(c) && rules.SetWithTool(&c.Notion) && !rules.SewnHole(k) {
			on := "on the anvil"
			if !k.Hardware.Setting.Struck() || c.Set == "pliers" {
				on = "in the pliers"
			}
			w.add(StageFasten, c.Name, "Close the %s and mark its counterparts on the body through it; set them with the body alone %s.", c.Name, on).use(k.FastenerIDs(w.sizes)...)
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
		case k.Loop.Hooks:
			w.hooks(c, k)
			return
		case c.Notion.Kind == catalog.Snap && c.Notion.Attach == "sewn" && c.Notion.Spring != "magnet":
			places, lines := w.places(k)
			w.add(StageFasten, c.Name, "Mark the snaps of the %s from %s%s: the ball half of each on the inside of the upper side; a pin through its middle marks the socket half on the under side, or press the other side on it.", c.Name, from(c), places).Lines = lines
		case c.Notion.Kind == catalog.Snap:
			places, lines := w.places(k)
			w.add(StageFasten, c.Name, "Mark the %s of the %s from %s%s, one side first; press the other side on it for its marks.", text.Plural(c.Notion.Kind), c.Name, from(c), places).Lines = lines
		default:
			places, lines := w.places(k)
			w.add(StageFasten, c.Name, "Mark the %s of the %s from %s%s.", text.Plural(c.Notion.Kind), c.Name, from(c), places).Lines = lines
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

// hooks sews the hooks on, and their eyes where the hooks reach.
func (w *planner) hooks(c *catalog.Closure, k *plan.Closure) {
	places, lines := w.places(k)
	w.add(StageFasten, c.Name, "Mark the hooks of the %s from %s%s: each across the edge, on the inside, the bend %s inside the edge.", c.Name, from(c), places, w.len(k.Loop.HookEdge)).Lines = lines
	w.fixTask(StageFasten, c, k)
	count := w.bySize(func(i int) string { n, _ := k.Fasteners(i); return strconv.Itoa(n) })
	eyes, where := "straight eyes", ""
	if c.Notion.HookKind == "hook-and-bar" {
		eyes = "bars"
	}
	switch at := k.EyeAt(); {
	case at < 0:
		where = fmt.Sprintf("Close the %s edge to edge and sew round eyes to the other side (%s), each standing %s beyond its edge", c.Name, count, w.len(-at))
	case plan.IsFront(c):
		where = fmt.Sprintf("Lap the %s, centre line on centre line, and mark where each bend reaches, %s inside the centre line of the under side: sew %s there (%s)", c.Name, w.len(at), eyes, count)
	default:
		where = fmt.Sprintf("Close the %s and mark where each bend reaches: sew %s there (%s)", c.Name, eyes, count)
	}
	t := w.add(StageFasten, c.Name, "%s, level with the hooks, by hand, %s.", where, w.thread(c, plan.JobFasten))
	t.use(w.byHand(c, plan.JobFasten)...).use(k.FastenerIDs(w.sizes)...)
}

func (w *planner) check() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if c.Notion.Kind == catalog.Zip {
			w.add(StageCheck, c.Name, "Run the zip of the %s up and down, with one hand.", c.Name)
			return
		}
		w.add(StageCheck, c.Name, "Fasten and open every %s of the %s, with one hand, and pull at each.", c.Notion.Kind, c.Name)
	})
	for i := range w.g.Cloths {
		if w.g.Cloths[i].Repeat.Across.Has() && w.used(w.g.Cloths[i]) {
			w.add(StageCheck, "", "Button up and look at the bars of %s from six feet (2 m) away.", w.g.ClothNames[i])
		}
	}
	if l, name := w.coolest(); name != "" && l.Symbol < rules.NoPressCloth {
		w.add(StageCheck, "", "Finish with the iron at %s at most, %s: the %s of %s stands no more.", rules.Dots(l.Symbol), l.Symbol.Text(w.u), l.Fibre, name)
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

// coolest is the limit of the most delicate cloth, which is that of the
// finished garment.
func (w *planner) coolest() (plan.Limit, string) {
	best, name := plan.Limit{}, ""
	for i, cl := range w.g.Cloths {
		if l := plan.IronLimit(w.g.Catalog, cl.Fibre); w.used(cl) && l.Fibre != "" && (name == "" || l.Symbol < best.Symbol) {
			best, name = l, w.g.ClothNames[i]
		}
	}
	return best, name
}
