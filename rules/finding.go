package rules

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/rules/plan"
)

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
	Unsure  bool   // it would be a conflict, but its figures are too unsure to forbid
	Stuck   string // why there is no fix, "" if there is one or none was looked for
	Cut     bool   // the search for one stopped before all was tried

	Settled  string   // the reason, where a sample has settled it: it does not count
	Reopened *Related // the entry that settled it once, and why it does no longer

	format string // what it says, see Message
	args   []any

	short     string // what it says in one line, see Line; "" where its rule has no words of its own
	shortArgs []any
}

// Line gives a finding its one line, as for fmt.Sprintf: what is wrong or what
// to do, with its figures, in at most LineWidth columns. It says nothing of
// the closure, which stands before it.
func (f *Finding) Line(format string, args ...any) *Finding {
	f.short, f.shortArgs = format, args
	return f
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
	case p.closure == -1:
		return p.key
	case p.key == "":
		return source.Item("closure", p.closure)
	}
	return source.Item("closure", p.closure) + "." + p.key
}

// Message is what a finding says, in words.
func (f *Finding) Message() string {
	says := strings.ReplaceAll(f.format, "%%", "%")
	if len(f.args) > 0 {
		says = fmt.Sprintf(f.format, f.args...)
	}
	if f.Unsure {
		says += "; " + f.Doubt()
	}
	return says
}

// Doubt says why what is Unsure is no conflict, and what to measure or to ask
// for.
func (f *Finding) Doubt() string {
	switch n := &f.Numbers; {
	case n.Ground == plan.Memory && !n.Compared:
		return "what the catalogue says of it is from memory, so ask the maker and set " + n.Ask
	case n.Ground == plan.Memory && measurable(n.Ask):
		return "a figure behind it is from memory, so measure it and set " + n.Ask
	case n.Ground == plan.Memory:
		return "a figure behind it is from memory, so ask the maker and set " + n.Ask
	case n.Ground == plan.Default:
		return "a figure behind it is a default, so say your own and set " + n.Ask
	case n.Ground.Weak():
		return "a figure behind it is " + n.Ground.String() + ", so look it up and set " + n.Ask
	default:
		return "within its ± it may pass, so measure first and set " + n.Ask
	}
}

// measurable says whether a key is a thickness that whoever has the cloth
// measures: no shop sells by it.
func measurable(key string) bool {
	return strings.HasSuffix(key, ".thickness") && (strings.HasPrefix(key, "cloth.") || strings.HasPrefix(key, "interfacing."))
}

// Unlaid says whether what the finding is about has no places: whatever its
// severity, there is nothing to mark, and no sample answers it.
func (f *Finding) Unlaid() bool {
	r := Find(f.Rule)
	return r != nil && r.unlaid
}

// Related is another place in the file that a finding speaks of.
type Related struct {
	Says string
	Pos  source.Pos
}

// Fix is a change that has been planned again and clears its finding.
type Fix struct {
	With   []catalog.With
	Says   string
	TOML   []string      // the lines to put in the file
	Lines  []source.Edit // the same with their places
	Clears bool
}

// JointFix is the smallest set of changes found that settles all conflicts
// together. Without changes there is none, and Left says what the nearest set
// leaves; with changes Left is a caution that stays or comes.
type JointFix struct {
	Fix
	Proven bool // all smaller sets were tried
	Left   string
}

// Numbers are what a finding compared. Unit is "mm", "NM", "Tex", "g/m2",
// "C", "%", "N" or "", and "" with no numbers when nothing was compared.
type Numbers struct {
	Have, Need, Margin float64
	Unit               string
	Compared           bool

	Tol    float64     // how far off the margin may be, in the same unit
	Ground plan.Ground // the weakest that they rest on
	Ask    string      // the key of the file that would say it better
	AskTol float64     // the ± of what Ask names
}

// on adds what the numbers rest on.
func (n Numbers) on(bases ...plan.Basis) Numbers {
	for _, b := range bases {
		tol := b.Tol.MM()
		n.Tol += tol
		if b.Ground > n.Ground && b.Ground.Weak() || tol > n.AskTol && !n.Ground.Weak() {
			n.Ask, n.AskTol = b.Key, tol
		}
		n.Ground = max(n.Ground, b.Ground)
	}
	return n
}

// forbids says whether the numbers can carry a conflict: they fail even at
// the favourable end of their ±, and rest on no weak ground. Numbers that
// compare nothing may have a margin too: by how much parts overlap, say.
func (n *Numbers) forbids() bool {
	const none = 1e-7 // sums of nanometres as numbers: nothing is left
	return !n.Ground.Weak() && (n.Tol == 0 || n.Margin+n.Tol < -none)
}

// atLeast are the numbers of "have must be at least need".
func atLeast(have, need measure.Length) Numbers {
	return Numbers{Have: have.MM(), Need: need.MM(), Margin: (have - need).MM(), Unit: "mm", Compared: true}
}

// atMost are the numbers of "have must be at most need".
func atMost(have, need measure.Length) Numbers {
	return Numbers{Have: have.MM(), Need: need.MM(), Margin: (need - have).MM(), Unit: "mm", Compared: true}
}

// noLess are the numbers of "have must be at least need" of what is no length.
func noLess[T ~int | ~float64](have, need T, unit string) Numbers {
	return Numbers{Have: float64(have), Need: float64(need), Margin: float64(have - need), Unit: unit, Compared: true}
}

// noMore are those of "have must be at most need".
func noMore[T ~int | ~float64](have, need T, unit string) Numbers {
	return Numbers{Have: float64(have), Need: float64(need), Margin: float64(need - have), Unit: unit, Compared: true}
}

// report adds a finding about the value at a place of the file. A conflict
// that would go at the favourable end of its figures' ±, or that rests on
// weak ground, becomes a caution here and nowhere else; it names the value to
// measure or to ask for. What it says is put together
// from format and args when it is printed, so that a search over many plans
// does not pay for words that nobody reads.
func (x *Context) report(sev Severity, at place, n Numbers, format string, args ...any) *Finding {
	unsure := sev == Conflict && !n.forbids()
	if unsure {
		sev = Caution
	}
	f := Finding{Rule: x.Rule.Name, Unsure: unsure, Severity: sev, Size: x.Size, Numbers: n, place: at, Sources: x.sources(), format: format, args: args}
	if x.C != nil {
		f.Closure = x.C.Name
	}
	if sev == Note && x.P.Unnoted {
		x.P.unnoted = f
		return &x.P.unnoted
	}
	x.P.Findings = append(x.P.Findings, f)
	return &x.P.Findings[len(x.P.Findings)-1]
}

// Sort puts the findings in their order: by gravity, place in the file, closure,
// rule, size as the garment has them, and message; equal ones are merged.
func (p *Planned) Sort() {
	sort.SliceStable(p.Findings, func(i, j int) bool {
		a, b := &p.Findings[i], &p.Findings[j]
		by := cmp.Or(
			cmp.Compare(b.Severity, a.Severity),
			a.Pos.Compare(b.Pos),
			cmp.Compare(a.Closure, b.Closure),
			cmp.Compare(a.Rule, b.Rule),
			cmp.Compare(slices.Index(p.Garment.Sizes, a.Size), slices.Index(p.Garment.Sizes, b.Size)),
		)
		if by == 0 { // words only where nothing else tells them apart
			by = cmp.Compare(a.Message(), b.Message())
		}
		return by < 0
	})
	p.Findings = slices.CompactFunc(p.Findings, func(a, b Finding) bool {
		return a.Rule == b.Rule && a.Size == b.Size && a.Closure == b.Closure && a.Path() == b.Path() && a.Message() == b.Message()
	})
	p.spans = nil
}

// sources are those of the rule: of one about safety those that bind, or are
// borrowed, where the garment is sold.
func (x *Context) sources() []string {
	if strings.HasPrefix(x.Rule.Name, "safety-") {
		return ofMarket(x.G, x.Rule.Sources)
	}
	return x.Rule.Sources
}

// Same says whether two fixes change the same keys to the same values.
func (x *Fix) Same(y *Fix) bool { return SameChange(Change{With: x.With}, Change{With: y.With}) }
