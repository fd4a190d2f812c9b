package work

import (
	"fmt"
	"slices"

	"placketeer/catalog/measure"
	"placketeer/rules"
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
	TopicLap      = "lap"
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
	w.lap()
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

// made is a length to make: where it was worked out, rounded up, so that it
// holds in either unit.
func (w *working) made(l measure.Length, given bool) string { return made(l, given, w.x.U) }

// opening is the opening that the closure closes, in words for sums.
func (w *working) opening() *opening {
	o := openingOf(w.x.P, w.x.C.Index)
	o.short = true
	return o
}

// set says how to give a value that was not given.
func (w *working) set(key, what string) string {
	return fmt.Sprintf("%s was not given; set closure.%s.%s", what, w.x.C.Name, key)
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
