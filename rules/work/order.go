// Package work is what follows from a plan: the order of the work, and how
// each number came about.
package work

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"placketeer/catalog"
	"placketeer/catalog/measure"
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
	StageTry      = "Try-on"
	StageFlat     = "While the front lies flat"
	StageEdge     = "The edge that carries the closure"
	StageHoles    = "Mark and sew the holes"
	StageFasten   = "Mark and fix the fasteners"
	StageCheck    = "Check"
	layersInStack = 8 // folded in eight
)

// Stages are all stages in their order.
var Stages = []string{
	StageSettle, StageMeasure, StageBuy, StageTest, StageCut, StageFuse, StagePieces,
	StageTry, StageFlat, StageEdge, StageHoles, StageFasten, StageCheck,
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

	lead, item    string // as a line of a list of the same for several things, see listed
	needle, point string // that the machine must carry for it, see needles
	unsaid        bool   // the needle is not named: it is put in where it is bought for other work
}

// use says what a task uses.
func (t *Task) use(ids ...plan.GoodID) *Task {
	t.Uses = append(t.Uses, ids...)
	return t
}

// planner writes the tasks of a plan.
type planner struct {
	p      *rules.Planned
	g      *catalog.Garment
	u      measure.Unit
	sizes  []int
	out    []Task
	taken  map[*rules.Finding]bool // findings that already stand at a task
	sets   map[string]int          // test sets by what they say, as they stand in out
	judged map[string]string       // what is looked for in a test set, with the closure it was told of
	done   map[string]bool         // what was told at length, and is the same way further on
}

// Order is the work on a garment, step by step, in the order it needs, with
// the figures of one size, or of all where size is "".
func Order(p *rules.Planned, size string) []Task {
	w := &planner{p: p, g: p.Garment, u: p.Garment.Units, taken: map[*rules.Finding]bool{}, sets: map[string]int{}, judged: map[string]string{}, done: map[string]bool{}}
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Settled != "" { // the sample has answered it
			w.taken[f] = true
		}
	}
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
	w.try()
	w.flat()
	w.flaps()
	w.edge()
	w.tell(StageEdge, rules.TaskSeal)
	w.holes()
	w.fasten()
	w.check()
	w.leftovers()
	w.needles()
	return w.out
}

func (w *planner) add(stage, closure, format string, args ...any) *Task {
	w.out = append(w.out, Task{Stage: stage, Closure: closure, Do: fmt.Sprintf(format, args...)})
	return &w.out[len(w.out)-1]
}

// once is a text the first time it is asked for, and other later on.
func (w *planner) once(text, other string) string {
	if w.done[text] {
		return other
	}
	w.done[text] = true
	return text
}

// with says which needle the machine must carry for a task.
// through is a seam of the opening's edge: it is sewn with the needle of the
// closure, for the same layers.
func (t *Task) through(k *plan.Closure) *Task {
	t.unsaid = true
	return t.with(k.Needle.Use, k.Needle.Point)
}

func (t *Task) with(nm measure.NeedleSize, point string) *Task {
	t.needle, t.point = nm.String(), point
	return t
}

// inSteps are rules whose cautions the steps themselves answer: the edge is
// stitched, the needle changed.
var inSteps = []string{"fold-hold", "place-needle"}

// leftovers are the cautions that no step carries: whoever works by the list
// alone must see them before the cloth is cut.
func (w *planner) leftovers() {
	t := Task{Stage: StageTest, Do: "Settle these too, or see on a sample that they do no harm:"}
	w.carry(&t, func(f *rules.Finding) bool {
		return f.Severity == rules.Caution && f.Settled == "" && !slices.Contains(inSteps, f.Rule)
	})
	if len(t.Take) == 0 {
		return
	}
	if len(t.Take) == 1 {
		t.Do = "Settle this too, or see on a sample that it does no harm:"
	}
	t.Lines, t.Take = t.Take, nil
	at := slices.IndexFunc(w.out, func(o Task) bool {
		return slices.Index(Stages, o.Stage) >= slices.Index(Stages, StageTest)
	})
	if at == -1 {
		at = len(w.out)
	}
	w.out = slices.Insert(w.out, at, t)
}

// needles puts the changes of the needle in, each where the next task needs
// another than the one before; its point is named where it is not always the
// same, or not the usual one.
func (w *planner) needles() {
	points, bought := map[string]bool{}, map[string]bool{}
	for i := range w.out {
		if t := &w.out[i]; t.needle != "" && !t.unsaid {
			points[t.point], bought[t.needle+" "+t.point] = true, true
		}
	}
	now := ""
	for i := 0; i < len(w.out); i++ {
		t := w.out[i]
		if t.needle == "" || t.needle+" "+t.point == now || !bought[t.needle+" "+t.point] {
			continue
		}
		now = t.needle + " " + t.point
		put := t.needle
		if len(points) > 1 || t.point != "universal" {
			put = now
		}
		w.out = slices.Insert(w.out, i, Task{Stage: t.Stage, Closure: t.Closure, Do: "Check the needle clamp and put in " + put + "."})
		i++
	}
}

// listed is a task that is the same for several things: alone it is said as
// add does, and one after the other they are one task, a lead with a line for
// each.
func (w *planner) listed(stage, closure, lead, item, alone string) *Task {
	if n := len(w.out); n > 0 && w.out[n-1].Stage == stage && w.out[n-1].lead == lead {
		t := &w.out[n-1]
		if len(t.Lines) == 0 {
			t.Do, t.Lines = lead+":", []string{t.item}
		}
		if t.Closure != closure {
			t.Closure = ""
		}
		t.Lines = append(t.Lines, item)
		return t
	}
	t := w.add(stage, closure, "%s", alone)
	t.lead, t.item = lead, item
	return t
}

func (w *planner) len(l measure.Length) string { return l.Text(w.u) }

// made is a length to make: where it was worked out, rounded up, so that it
// holds in either unit.
func (w *planner) made(l measure.Length, given bool) string { return made(l, given, w.u) }

func made(l measure.Length, given bool, u measure.Unit) string {
	if given {
		return l.Text(u)
	}
	return l.TextLeast(u)
}

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
			m := f.Message()
			if _, rest, is := strings.Cut(m, ": "); is && f.Rule == "work-needle" {
				m = rest // which layers, the task says
			}
			w.care(t, says(strings.ReplaceAll(m, "sew a sample through the real layers, slowly,", "sew slowly,")))
		}
	}
}

// care puts a caution at a task, where it was not given before.
func (w *planner) care(t *Task, says string) {
	if w.once(says, "") != "" {
		t.Take = append(t.Take, says)
	}
}

// LawTag marks what the law of the place decides.
const LawTag = "[law]"

// tooled is what is set in the caution of a tool, which is the same for all
// that it sets.
var tooled = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(Wear eye protection when you set |Press )the [a-z ]+?(, | with the pliers )`)
})

// says is what a finding says as a sentence of a list: that the law decides
// is a tag at its end.
func says(message string) string {
	message, law := rules.SplitLaw(message)
	if message = tooled().ReplaceAllString(text.Sentence(message), "${1}hardware${2}"); law {
		message += " " + LawTag
	}
	return message
}

// Lawful says whether any task has the tag, and whether one tells at the end
// what it means.
func Lawful(tasks []Task) (tagged, told bool) {
	ends := func(s string) bool { return strings.HasSuffix(s, LawTag) }
	for i := range tasks {
		t := &tasks[i]
		tagged = tagged || ends(t.Do) || slices.ContainsFunc(t.Take, ends)
		told = told || strings.Contains(t.Do, whereLaw)
	}
	return tagged, told
}

// whereLaw says in words what the tag says.
const whereLaw = "where " + LawTag + " stands, the law of the place decides"

// tell makes a task of each finding of a task's rules that stands nowhere yet.
func (w *planner) tell(stage string, task rules.Task) {
	for i := range w.p.Findings {
		if f := &w.p.Findings[i]; !w.taken[f] && rules.Find(f.Rule).Task == task {
			w.taken[f] = true
			m := f.Message()
			if seams, set, is := strings.Cut(m, rules.SealSet); is && w.done[sealed(set)] { // told where it is set
				m = seams
			}
			t := w.add(stage, "", "%s", says(m))
			if task == rules.TaskSeal { // iron-on tape
				w.care(t, ironsBurn)
			}
		}
	}
}

// sealed is what to do about each thing that is set in cloth which leaks.
func sealed(set string) string { return "Set each " + set + "." }

// seal puts that where the first of them is set.
func (w *planner) seal(t *Task) {
	for i := range w.p.Findings {
		if f := &w.p.Findings[i]; rules.Find(f.Rule).Task == rules.TaskSeal && f.Settled == "" {
			if _, set, is := strings.Cut(f.Message(), rules.SealSet); is {
				w.care(t, sealed(set))
			}
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
	lines = w.grouped(of)
	if len(lines) > 1 {
		return "", lines
	}
	return strings.Join(lines, ""), nil
}

// grouped are texts with the sizes that they are for; one that is for all
// sizes stands alone.
func (w *planner) grouped(of func(size int) string) []string {
	return BySize(w.g, w.sizes, func(n int) string { return of(w.sizes[n]) })
}

// BySize are texts for those of a garment's sizes, each with the sizes that it
// is for; one that is for all of them stands alone. It asks for each by its
// place among them.
func BySize(g *catalog.Garment, of []int, says func(n int) string) []string {
	var texts []string
	var sizes [][]int // as they stand in of
	for n := range of {
		t := says(n)
		i := slices.Index(texts, t)
		if i == -1 {
			i = len(texts)
			texts, sizes = append(texts, t), append(sizes, nil)
		}
		sizes[i] = append(sizes[i], n)
	}
	if len(texts) < 2 {
		return texts
	}
	for i := range texts {
		texts[i] = sizeNames(g, of, sizes[i]) + ": " + texts[i]
	}
	return texts
}

// sizeNames are the names of sizes, by their place among those that are told.
func (w *planner) sizeNames(at []int) string { return sizeNames(w.g, w.sizes, at) }

// sizeNames are the names of some of those sizes, three or more in a row as the first to
// the last.
func sizeNames(g *catalog.Garment, of, at []int) string {
	var names []string
	name := func(n int) string { return g.Sizes[of[n]] }
	for len(at) > 0 {
		n := 1
		for n < len(at) && at[n] == at[n-1]+1 {
			n++
		}
		if n > 2 {
			names = append(names, name(at[0])+" to "+name(at[n-1]))
		} else {
			for _, i := range at[:n] {
				names = append(names, name(i))
			}
		}
		at = at[n:]
	}
	return text.And(names...)
}

// bySize is one text for all sizes where they agree, or one for each.
func (w *planner) bySize(of func(size int) string) string {
	return strings.Join(w.grouped(of), "; ")
}

// bySizes ends what a task says with one text for all sizes, after sep; where
// they do not agree, with a line for each beneath it.
func (t *Task) bySizes(w *planner, sep string, of func(size int) string) *Task {
	text, lines := w.sized(of)
	if t.Lines = lines; text == "" {
		t.Do += ":"
		return t
	}
	t.Do += sep + " " + text + "."
	return t
}

func (w *planner) settle() {
	n := 0
	for _, e := range rules.Gather(w.p.Findings) {
		if e.Severity != rules.Conflict && !e.Unlaid() {
			continue
		}
		for _, f := range e.Where {
			w.taken[f] = true
		}
		where := text.And(e.Closures()...)
		switch sizes := e.Sizes(); {
		case len(sizes) > 1 && len(sizes) == len(w.g.Sizes):
			where = text.Join(", ", where, "all sizes")
		case len(sizes) > 0:
			where = text.Join(", ", where, sizeWord(len(sizes))+" "+text.And(sizes...))
		}
		if where != "" {
			where += ": "
		}
		w.add(StageSettle, e.Closure, "%s", says(where+e.Message()))
		n++
	}
	if n > 0 {
		w.add(StageSettle, "", "Cut nothing until the above is settled, then print this list again.")
	}
}

// sizeWord is the word before so many sizes.
func sizeWord(n int) string {
	if n == 1 {
		return "size"
	}
	return "sizes"
}

// measure is the measuring of the real things.
func (w *planner) measure() {
	w.measureNotions()
	w.measureCloths()
	if m := &w.g.Machine; m.FootLift.Has() && w.sews() {
		w.add(StageMeasure, "", "Measure how far the presser foot lifts: the plan counts on %s.", m.FootLift.V.TextThin(w.u))
	}
}

// test is what is tried on scrap.
func (w *planner) test() {
	w.testIron()
	w.testFusing()
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		w.testHole(c, k)
		w.testThick(c, k)
		w.testSet(c, k)
		w.testTurn(c, k)
	})
}

// cut is the cutting: cloth, the pieces of each opening, strips.
func (w *planner) cut() {
	w.shrinking()
	w.tell(StageCut, rules.TaskCut)
	w.each(func(i int, c *catalog.Closure, k *plan.Closure) {
		if cl := rules.Checked(w.g, c); cl != nil {
			if plan.IsFront(c) {
				w.checks(c, cl)
			}
			w.checkedPiece(c, cl)
		}
		if o := w.opening(i); o.first == i {
			w.cutFronts(o)
		}
		w.cutTurn(c, k)
		w.cutStrips(i, c, k)
		w.boundStrips(c, k)
	})
}

// fasten marks and fixes the fasteners, and draws the cords in.
func (w *planner) fasten() {
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) { w.fastenTask(c, k) })
	w.cords()
}

// zipOf says which zip, where it has another name.
func zipOf(c *catalog.Closure) string {
	if n := c.OpeningName(); n != "zip" {
		return " of the " + n
	}
	return ""
}

// check is what is looked at in the end.
func (w *planner) check() {
	var kinds, names, alone []string // alone: of those of which there is one, which
	closures := 0
	w.each(func(_ int, c *catalog.Closure, k *plan.Closure) {
		if c.Notion.Kind == catalog.Zip {
			w.add(StageCheck, c.Name, "Run the zip%s up and down, with one hand.", zipOf(c))
			return
		}
		switch name := c.OpeningName(); {
		case c.Notion.Kind == catalog.Rivet:
			w.add(StageCheck, c.Name, "Pull at every rivet of the %s: none may turn or rattle.", name)
			return
		case plan.OneSided(c):
			w.add(StageCheck, c.Name, "Put the cord, or the prong of the buckle, through and pull at every eyelet of the %s.", name)
			return
		case c.Notion.Kind == catalog.Eyelet:
			w.add(StageCheck, c.Name, "Lace the %s up and pull at every eyelet.", name)
			return
		}
		kind := strings.ReplaceAll(c.Notion.Kind, "-", " ")
		if !slices.Contains(kinds, kind) {
			kinds = append(kinds, kind)
		}
		if closures++; w.count(w.opening(c.Index), k) == "1" {
			alone = append(alone, "the "+kind+of(c))
		}
		if name := c.OpeningName(); !slices.Contains(names, name) {
			names = append(names, name)
		}
	})
	switch {
	case len(kinds) == 0:
	case len(alone) == 1 && closures == 1:
		w.add(StageCheck, "", "Fasten and open %s, with one hand, and pull at it.", alone[0])
	case len(alone) == closures:
		w.add(StageCheck, "", "Fasten and open %s, with one hand, and pull at each.", text.And(alone...))
	default:
		where := " of the " + text.And(names...)
		if len(kinds) == 1 && len(names) == 1 && names[0] == text.Plural(kinds[0]) {
			where = ""
		}
		w.add(StageCheck, "", "Fasten and open every %s%s, with one hand, and pull at each.", text.And(kinds...), where)
	}
	w.checkBars()
	w.checkIron()
	w.checkSafety()
}
