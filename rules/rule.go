// Package rules is what the trade says about a closure: it turns a garment
// into a plan and says what in it will not work.
//
// A plan is a pure function of a garment. Nothing here does input or output
// or keeps state; what-if, fixes, fragility and choice are searches over
// plans.
package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/rules/plan"
)

// Severity says how much a finding matters.
type Severity int8

// The severities, in rising order.
const (
	Note     Severity = iota // worth knowing
	Caution                  // make a sample first
	Conflict                 // cut nothing until it is settled
)

func (s Severity) String() string {
	return [...]string{"note", "caution", "conflict"}[s]
}

// Rule is one thing the trade says. It is a value without state: check
// reports through the context, and all documentation is made from here.
type Rule struct {
	Name     string
	Severity Severity // the gravest it reports
	Title    string   // one line, in a sewist's words
	Formula  string   // how it is worked out
	Why      string   // what goes wrong otherwise
	Sources  []string // publications; "common practice, no source"; "from memory"
	Others   string   // rules that disagree, and how to ask for them
	Ours     string   // thresholds that are our own choice, "" if none
	Task     Task     // of the work, that carries what it found; NoTask if none does
	Reads    Reads    // the choices that can change its verdict

	// Room says how far a closure is from a conflict of the rule: what it has,
	// what it needs, and the margin, which is negative where the rule reports
	// a conflict. Numbers that compared nothing mean that the rule does not
	// apply. noRoom is for rules that compare no figures.
	Room func(*Context) Numbers

	// Check looks at one closure, or, for a rule about the whole garment,
	// at the garment.
	Check   func(*Context)
	garment bool
	// Propose gives changes that its formula says would clear a finding. They
	// are only candidates: whoever shows one must plan it first.
	Propose func(*Context, *Finding) []Change
}

// Change is a proposed change to a garment, as --with takes it.
type Change struct {
	With []string // KEY=VALUE
	Says string   // the same in words
	Cost float64  // how large a change it is: smaller is tried and shown first
}

// Finding is what a rule reports.
type Finding struct {
	Rule     string
	Severity Severity
	Closure  string
	Size     string
	Numbers
	place   place // of the value in the file it speaks of, see Path
	Pos     source.Pos
	Sources []string
	Related []Related
	Fragile string // how it flips within the measuring tolerance, "" if it does not
	Fixes   []Fix
	Stuck   string // why there is no fix, "" if there is one or none was looked for

	format string // what it says, see Message
	args   []any
}

// Saying is the finding with what it says, as for fmt.Sprintf.
func (f Finding) Saying(format string, args ...any) Finding {
	f.format, f.args = format, args
	return f
}

// Path is the path of the value in the file that a finding speaks of.
func (f *Finding) Path() string { return f.place.String() }

// At is the finding about the value at a path.
func (f Finding) At(path string) Finding {
	f.place = whole(path)
	return f
}

// place is the path of a value: a key of a closure, or a path of its own. It
// is written out only where it is needed.
type place struct {
	closure int // -1: key is the whole path
	key     string
}

// whole is the place of a whole path.
func whole(path string) place { return place{-1, path} }

func (p place) String() string {
	switch {
	case p.closure < 0:
		return p.key
	case p.key == "":
		return source.Item("closure", p.closure)
	}
	return source.Item("closure", p.closure) + "." + p.key
}

// Message is what a finding says, in words.
func (f *Finding) Message() string {
	if len(f.args) == 0 {
		return strings.ReplaceAll(f.format, "%%", "%")
	}
	return fmt.Sprintf(f.format, f.args...)
}

// Related is another place in the file that a finding speaks of.
type Related struct {
	Says string
	Pos  source.Pos
}

// Fix is a change that has been planned again and clears its finding.
type Fix struct {
	With   []string
	Says   string
	TOML   []string      // the lines to put in the file
	Lines  []source.Edit // the same with their places
	Clears bool
}

// Numbers are what a finding compared. Unit is "mm", "NM", "Tex", "g/m2",
// "C", "%", "N" or "", and "" with no numbers when nothing was compared.
type Numbers struct {
	Have, Need, Margin float64
	Unit               string
	Compared           bool
}

// atLeast are the numbers of "have must be at least need".
func atLeast(have, need measure.Length) Numbers {
	return Numbers{have.MM(), need.MM(), (have - need).MM(), "mm", true}
}

// atMost are the numbers of "have must be at most need".
func atMost(have, need measure.Length) Numbers {
	return Numbers{have.MM(), need.MM(), (need - have).MM(), "mm", true}
}

// Context is what a check may look at.
type Context struct {
	G *catalog.Garment
	P *Planned
	C *catalog.Closure // nil for a rule about the whole garment
	K *plan.Closure    // the plan of C
	U measure.Unit

	Rule *Rule
	Size string // set while a check speaks of one size
}

// path is a path inside the closure that is looked at.
func (x *Context) path(key string) string { return x.at(key).String() }

// at is the place of a key of the closure that is looked at.
func (x *Context) at(key string) place { return place{x.C.Index, key} }

// report adds a finding about the value at a place of the file. What it says is put together
// from format and args when it is printed, so that a search over many plans
// does not pay for words that nobody reads.
func (x *Context) report(sev Severity, at place, n Numbers, format string, args ...any) *Finding {
	f := Finding{Rule: x.Rule.Name, Severity: sev, Size: x.Size, Numbers: n, place: at, Sources: x.Rule.Sources, format: format, args: args}
	if x.C != nil {
		f.Closure = x.C.Name
	}
	x.P.Findings = append(x.P.Findings, f)
	return &x.P.Findings[len(x.P.Findings)-1]
}

// len is a length in words: to the nearest mark.
func (x *Context) len(l measure.Length) string { return l.Text(x.U) }

// Fine is a small length in words, such as a thickness.
func (x *Context) Fine(l measure.Length) string { return l.TextFine(x.U) }

// Said is a length of a finding, put into words only when it is printed.
type Said struct {
	l, other measure.Length
	u        measure.Unit
	how      manner
}

type manner uint8

const (
	plainly manner = iota
	finely
	apart // finely enough to differ from the other where they do
	small // the same of two small lengths
)

func (s Said) String() string {
	switch s.how {
	case finely:
		return s.l.TextFine(s.u)
	case apart:
		t, _ := measure.TextApart(s.l, s.other, s.u)
		return t
	case small:
		if s.l == s.other || s.l.ShortFine(s.u) != s.other.ShortFine(s.u) {
			return s.l.TextFine(s.u)
		}
		return s.l.Exact(s.u)
	}
	return s.l.Text(s.u)
}

// say is len, put into words only when it is printed.
func (x *Context) say(l measure.Length) Said { return Said{l: l, u: x.U} }

// sayFine is Fine, put into words only when it is printed.
func (x *Context) sayFine(l measure.Length) Said { return Said{l: l, u: x.U, how: finely} }

// Apart are two lengths that a message compares, printed finely enough to
// differ where they do.
func (x *Context) Apart(a, b measure.Length) (Said, Said) {
	return Said{a, b, x.U, apart}, Said{b, a, x.U, apart}
}

// small are two small lengths that a message compares: fine, and exact where
// they would read the same though they differ.
func (x *Context) small(a, b measure.Length) (Said, Said) {
	return Said{a, b, x.U, small}, Said{b, a, x.U, small}
}

// later is a text that is put together only when it is printed.
type later func() string

func (l later) String() string { return l() }

// later puts a text together when it is printed, with the context as it is
// now.
func (x *Context) later(text func(x *Context) string) later {
	y := *x
	return func() string { return text(&y) }
}

// Rules are all rules, in the order of the documentation.
func Rules() []*Rule { return AllRules }

var AllRules = slices.Concat(
	stackRules,
	holeRules,
	standRules,
	supportRules,
	needleRules,
	threadRules,
	sewnRules,
	runRules,
	rowsRules,
	lapRules,
	unusedRules,
	hardwareRules,
	zipRules,
	loopRules,
	pieceRules,
	clothRules,
	plaidRules,
	thickRules,
	orderRules,
	safetyRules,
	[]*Rule{WithinRule},
)

// Find is the rule of that name, or nil.
func Find(name string) *Rule {
	for _, r := range AllRules {
		if r.Name == name {
			return r
		}
	}
	return nil
}

// SortFindings puts findings in their order: by place in the file, then by
// gravity, closure, size, rule and message; equal ones are merged.
func SortFindings(fs []Finding) []Finding {
	slices.SortStableFunc(fs, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(b.Severity, a.Severity),
			a.Pos.Compare(b.Pos),
			cmp.Compare(a.Closure, b.Closure),
			cmp.Compare(a.Rule, b.Rule),
			cmp.Compare(a.Size, b.Size),
			cmp.Compare(a.Message(), b.Message()),
		)
	})
	return slices.CompactFunc(fs, func(a, b Finding) bool {
		return a.Rule == b.Rule && a.Path() == b.Path() && a.Size == b.Size && a.Closure == b.Closure && a.Message() == b.Message()
	})
}
