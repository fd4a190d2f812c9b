// Package spacing decides where the fasteners of a closure go along its run.
// It knows integers and geometry and nothing of the trade: what an anchor or
// a clear zone stands for is the caller's business.
//
// Every length is a whole number of nanometres measured from the top of the
// run, so nothing is rounded on the way to an answer. The package keeps no
// state: the same problem always gives the same layout.
package spacing

import (
	"strings"

	"placketeer/catalog/measure"
)

// The sizes the solver takes on. Anything larger is refused with a plain
// error rather than left to run for minutes.
const (
	MaxRun    = 100 * measure.Metre // longest run
	MaxCount  = 1000                // most fasteners on one run
	MaxPlaces = 1 << 18             // most multiples of the step on one run
)

// A Window is where one centre may lie: anywhere from Min to Max, both
// included. Min equal to Max fixes it.
type Window struct{ Min, Max measure.Length }

// At is the window that holds a centre in one place.
func At(place measure.Length) Window { return Window{place, place} }

// Fixed tells whether the window leaves a single place.
func (w Window) Fixed() bool { return w.Min == w.Max }

// An Anchor asks for some centre at most Within away from At.
type Anchor struct {
	Name       string
	At, Within measure.Length
}

// A Zone keeps centres out of the open stretch between From and To: a centre
// on its edge is outside. The caller widens it by the fastener's own reach
// first, see Widen.
type Zone struct {
	Name     string
	From, To measure.Length
}

// Widen grows a zone for a fastener that reaches up and down from its own
// centre (by its rim or its hole, whichever is more), so that the centre may
// be kept out of the result: a fastener whose edge only touches the zone is
// clear of it.
func Widen(z Zone, up, down measure.Length) Zone {
	z.From -= down
	z.To += up
	return z
}

// Limits bound the gap between neighbouring centres. Zero means no limit.
type Limits struct{ Min, Max measure.Length }

// A Problem says what is asked of a run of fasteners.
//
// All centres lie between 0 and Run. A fixed First or Last is taken as it is;
// every other centre, and an end that has a window, is a multiple of Step
// from the top. An end nobody cares about has the window {0, Run}.
//
// A count of one is a centre that is first and last at once: it must lie in
// both windows, so give the same place twice or leave one end free.
//
// With Repeat every centre has the same place in the repeat: Phase if
// HasPhase is set, otherwise that of a fixed end, otherwise whichever gives
// the best layout. The centres between the ends must still be multiples of
// Step, so a step that divides the repeat is the one to ask for; with any
// other the usable places are only as dense as the two have in common.
//
// With Group 2 or 3 the fasteners sit in pairs or threes, GroupGap from one
// to the next inside a group. First is then the first centre of the first
// group and Last the last centre of the last; step, gap limits, repeat and
// evenness go by the first centre of each group, clear zones bind all
// members, an anchor is met by any of them, and groups never overlap or
// interleave. Counts are of fasteners and must be multiples of Group.
type Problem struct {
	Run         measure.Length // whole run, top at 0
	First, Last Window         // first and last centre, from the top
	Step        measure.Length // what can be marked; more than 0

	// CountMin and CountMax are the fewest and most fasteners: equal is a
	// fixed count, both 0 is free, CountMax 0 alone is no upper limit.
	//
	// Where the count is open, even goes before many: of the counts that have
	// a layout that is even enough (see EvenWithin) it is the one whose even
	// gap, over the longest stretch the ends allow, is nearest the wish. The
	// wish is the middle of Gap, or its one limit if there is only one, or
	// without any the even gap of the middle count (rounded down) of the
	// range, and for a count without an upper limit the longest gap there is.
	// Of two counts equally near the smaller is taken. Where no count is even
	// enough the smallest spread decides before the wish. One fastener has no
	// gap to be even, and is taken where no other count has a layout.
	CountMin, CountMax int
	Gap                Limits

	// Wish is the even gap wished for where the count is open, in the place of
	// what follows from Gap and the counts; 0: none of its own.
	Wish measure.Length

	// EvenWithin is the spread up to which a layout is even enough, 0 for
	// EvenSpread. Two steps are always even enough, and where the gaps keep to
	// a repeat nothing but a spread of 0 is.
	EvenWithin measure.Length

	Anchors []Anchor
	Clear   []Zone

	Repeat, Phase measure.Length // Repeat 0: none
	HasPhase      bool           // false: the phase is free

	Group    int            // 0 or 1: single fasteners; 2 pairs; 3 threes
	GroupGap measure.Length // centre to centre inside a group

	// Bare leaves the constraints of a Clash out, for a search over many
	// problems: to find them takes far longer than to find a layout.
	Bare bool

	// Most is the most the search may try, 0 and anything above MaxTries for
	// MaxTries. Tried, if set, is where what it tried is added up, so that a
	// search over many problems can keep to a budget of its own; the answer
	// does not depend on it.
	Most  int
	Tried *int

	home *homes // the ends may move, but are wished to be here: see SolveLoose
}

// A Layout is where the fasteners go.
type Layout struct {
	Positions []measure.Length // every centre, top first
	Spread    measure.Length   // largest pitch less smallest pitch
	Group     int              // fasteners in a group, at least 1

	Even   bool   // the spread is even enough, see Problem.EvenWithin
	Skips  []int  // with a repeat, the pitches that skip places of it that the smallest does not
	Choice Choice // how the count was chosen where it was open
}

// Count is the number of fasteners.
func (l Layout) Count() int { return len(l.Positions) }

// Gaps are the distances between neighbouring centres, inside groups too.
func (l Layout) Gaps() []measure.Length { return gaps(l.Positions, 1) }

// Pitches are the distances from the first centre of each group to that of
// the next. For single fasteners they are the gaps.
func (l Layout) Pitches() []measure.Length { return gaps(l.Positions, max(l.Group, 1)) }

func gaps(at []measure.Length, by int) []measure.Length {
	var out []measure.Length
	for i := by; i < len(at); i += by {
		out = append(out, at[i]-at[i-by])
	}
	return out
}

// A Kind is a kind of constraint, named by its key under a closure's run.
type Kind int

// The kinds of constraint. What each leaves when taken away: see Clash.
const (
	KindRun Kind = iota
	KindFirst
	KindLast
	KindCount
	KindStep
	KindGapMin
	KindGapMax
	KindMatch
	KindAnchor
	KindClear
)

var kindNames = [...]string{"run", "first", "last", "count", "step", "gap.min", "gap.max", "match", "anchor", "clear"}

func (k Kind) String() string {
	if k < 0 || int(k) >= len(kindNames) {
		return "?"
	}
	return kindNames[k]
}

// A Constraint is one thing a problem asks for. Index is the place in
// Anchors or Clear and 0 for the other kinds; Name is the anchor's or zone's.
type Constraint struct {
	Kind  Kind
	Index int
	Name  string
}

func (c Constraint) String() string {
	if c.Name == "" {
		return c.Kind.String()
	}
	return c.Name + " " + c.Kind.String()
}

// A Clash is the error when no layout exists. Its constraints cannot hold
// together, and take any one of them away and they can. They come in the
// order of Kind, then of the problem.
//
// What is left when a constraint is taken away, always at least what was
// allowed before: the run no longer ends (within 1000 m; a window that
// reached its end goes as far); a first or last lies anywhere in the run; the
// count is free; the step is 1 nm; a gap limit, an anchor, a clear zone or
// the repeat is not there. That the fasteners of a group keep together, and
// that no centre lies above the top, always holds.
//
// Partial tells that the search for what can be spared was stopped at its
// budget: the constraints cannot hold together, but with fewer of them it may
// be the same.
type Clash struct {
	Constraints []Constraint
	Partial     bool
}

func (c *Clash) Error() string {
	if len(c.Constraints) == 0 {
		return "there is no layout"
	}
	var b strings.Builder
	for i, k := range c.Constraints {
		switch {
		case i == 0:
		case i == len(c.Constraints)-1:
			b.WriteString(" and ")
		default:
			b.WriteString(", ")
		}
		b.WriteString(k.String())
	}
	if len(c.Constraints) == 1 {
		b.WriteString(" cannot hold")
	} else {
		b.WriteString(" cannot hold together")
	}
	return b.String()
}
