package rules

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

// ChoiceOptions say what is to be chosen.
type ChoiceOptions struct {
	Closure string // for which closure; "" where the garment has only one, or with All
	All     bool   // one family of notions for all closures with that kind of fastener
	What    string // one of Choosable; "" is notion
	Limit   int    // how many that pass are listed; 0 is ListLimit
}

// Choosable is what Choose chooses among.
var Choosable = []string{"notion", "needle", "thread", "interfacing"}

// ListLimit is how many candidates a choice lists where nothing is said.
const ListLimit = 12

// Choice is what the catalogue offers for a closure, the best first.
type Choice struct {
	Garment  *catalog.Garment
	What     string   // notion, needle, thread or interfacing
	Kind     string   // of the fastener
	Closures []string // for which closures
	Tried    int      // how many were planned
	Passing  int      // how many of them have no conflict
	// Candidates are those that pass, the best first, then the near misses,
	// the nearest first.
	Candidates []Candidate
}

// Candidate is one of the things to choose among.
type Candidate struct {
	Name      string
	About     string
	Own       bool     // from an own catalogue file
	With      []string // what --with takes to try it
	Picks     []Pick   // All: what each closure gets
	Passes    bool
	Conflicts int
	Cautions  int
	Tightest  string  // the rule that leaves the least room, "" where none is measured
	Numbers           // of that rule
	Share     float64 // margin over need: 0.1 is 10 % to spare
	Price     catalog.Opt[float64]
	Fails     string // why it does not pass, "" where it does
}

// Pick is what one closure gets.
type Pick struct{ Closure, Name string }

// Choose plans a garment with every candidate of the catalogue. The error
// says what is wrong with the question.
func Choose(g *catalog.Garment, o ChoiceOptions) (*Choice, error) {
	if o.What == "" {
		o.What = Choosable[0]
	}
	if !slices.Contains(Choosable, o.What) {
		return nil, fmt.Errorf("there is nothing called %q to choose: use %s", o.What, strings.Join(Choosable, ", "))
	}
	names := make([]string, len(g.Closures))
	for i := range g.Closures {
		names[i] = g.Closures[i].Name
	}
	if o.Closure == "" && !o.All && len(names) > 1 {
		return nil, fmt.Errorf("the garment has %d closures: say which, %s", len(names), strings.Join(names, ", "))
	}
	if o.Closure != "" && !slices.Contains(names, o.Closure) {
		if near := measure.Nearest(o.Closure, names); near != "" {
			return nil, fmt.Errorf("the garment has no closure %q: did you mean %s?", o.Closure, near)
		}
		return nil, fmt.Errorf("the garment has no closure %q: it has %s", o.Closure, strings.Join(names, ", "))
	}
	return &Choice{Garment: g, What: o.What}, nil
}
