package rules

import (
	"slices"

	"placketeer/catalog"
	"placketeer/catalog/source"
)

// Task is the task of the work that carries what a rule found: the place on
// the checklist where it is read by the person who needs it.
type Task string

// The tasks. Package work says what is done at each.
const (
	NoTask        Task = "none" // it is settled before any work begins
	TaskBuy       Task = "buy"
	TaskBuySafely Task = "buy-safely" // what to ask when buying for a child
	TaskBuyCloth  Task = "buy-cloth"
	TaskFuseTest  Task = "fuse-test"
	TaskSample    Task = "sample" // the sewn sample hole
	TaskTestSet   Task = "test-set"
	TaskSet       Task = "set" // setting hardware
	TaskCut       Task = "cut"
	TaskShrink    Task = "shrink"
	TaskSeal      Task = "seal"   // once the seams are sewn
	TaskThick     Task = "thick"  // at the thickest place
	TaskNeedle    Task = "needle" // changing the needle
	TaskZip       Task = "zip"
	TaskFasten    Task = "fasten"
	TaskSell      Task = "sell" // before it is sold or given away
)

// Tasks are all tasks.
var Tasks = []Task{
	NoTask, TaskBuy, TaskBuySafely, TaskBuyCloth, TaskFuseTest, TaskSample, TaskTestSet, TaskSet,
	TaskCut, TaskShrink, TaskSeal, TaskThick, TaskNeedle, TaskZip, TaskFasten, TaskSell,
}

// Bench is where a note is needed.
type Bench uint8

// The places.
const (
	ToKnow    Bench = iota
	AtTable         // measuring, buying, pressing, cutting, marking
	AtMachine       // sewing and setting
)

// Bench is where what a task carries is needed.
func (t Task) Bench() Bench {
	switch t {
	case TaskBuy, TaskBuyCloth, TaskFuseTest, TaskCut, TaskShrink:
		return AtTable
	case TaskSample, TaskTestSet, TaskSet, TaskSeal, TaskThick, TaskNeedle, TaskZip, TaskFasten:
		return AtMachine
	}
	return ToKnow
}

// Reads are the sorts of choice that can change a rule's verdict.
type Reads uint8

// The sorts of choice; ReadsRest is none of them: the rule looks at other
// keys of the file alone.
const (
	ReadsNotion Reads = 1 << iota
	ReadsNeedle
	ReadsThread
	ReadsInterfacing
	ReadsRest
)

// Minds says whether changes can alter the verdict of the rule: of those that
// only choose another entry of some sort, only where it reads that sort.
func (r *Rule) Minds(with []catalog.With) bool {
	return slices.ContainsFunc(with, func(w catalog.With) bool {
		sort := sortOf(w.Key)
		return sort == 0 || r.Reads&sort != 0
	})
}

// sortOf is the sort of choice that a key makes, 0 for none or several.
func sortOf(key string) Reads {
	p, _ := source.ParsePath(key)
	switch n := len(p); {
	case n == 3 && p[0].Key == "closure" && p[2].Key == "needle":
		return ReadsNeedle
	case n == 3 && p[0].Key == "closure" && p[2].Key == "use":
		return ReadsNotion
	case n == 2 && p[0].Key == "thread" || n == 3 && p[0].Key == "thread" && p[2].Key == "use":
		return ReadsThread
	case n == 2 && p[0].Key == "interfacing" || n == 3 && p[0].Key == "interfacing" && p[2].Key == "use":
		return ReadsInterfacing
	}
	return 0
}

// Bench is where the notes of a rule are needed.
func (r *Rule) Bench() Bench {
	if r.At != ToKnow {
		return r.At
	}
	return r.Task.Bench()
}
