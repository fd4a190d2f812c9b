package spacing

import (
	"fmt"

	"placketeer/catalog/text"
)

// The budgets of a search. They count what is looked at and not the time it
// takes, so that a search ends at the same place on every machine.
const (
	// MaxTries is the most a search tries where the problem sets nothing
	// lower, see Problem.Most: stretches of places set one against another,
	// rows of a table, steps from one row to the next. That is about
	// 0.1 s; the front of a coat takes a few hundred.
	MaxTries = 1 << 24

	// MaxKept is the most a search keeps in memory at once of each of the
	// three: stretches (16 bytes), rows of a table (24 bytes) and rows of its
	// best layouts (32 bytes).
	MaxKept = 1 << 20
)

// TooMany is the error of a search stopped at its budget: whether there is a
// layout, or which is the best, is not known.
type TooMany struct {
	Tried int    // what was tried before the search was stopped, see MaxTries
	Full  bool   // it was stopped because of MaxKept
	Give  []Kind // what was left open and would narrow the search if given or, for the step, made coarser
}

func (e *TooMany) Error() string {
	var give []string
	for _, k := range e.Give {
		if k == KindStep {
			give = append(give, "a coarser step")
		} else {
			give = append(give, k.String())
		}
	}
	said := text.Or(give...)
	if e.Full {
		return fmt.Sprintf("spacing: too many possibilities: more than %d to keep at once; give %s", MaxKept, said)
	}
	return fmt.Sprintf("spacing: too many possibilities: %d tried without coming to an end; give %s", e.Tried, said)
}

// tooMany is the error of w's search, which was stopped.
func (w *work) tooMany(p *Problem) error {
	e := &TooMany{Tried: min(w.tries, w.budget), Full: w.full}
	if p.CountMin != p.CountMax || p.CountMax == 0 {
		e.Give = append(e.Give, KindCount)
	}
	if !p.First.Fixed() {
		e.Give = append(e.Give, KindFirst)
	}
	if !p.Last.Fixed() {
		e.Give = append(e.Give, KindLast)
	}
	e.Give = append(e.Give, KindStep)
	return e
}

// allow sets what w may try for p.
func (w *work) allow(p *Problem) {
	if w.tries, w.budget, w.full = 0, MaxTries, false; p.Most > 0 {
		w.budget = min(p.Most, MaxTries)
	}
}

// tell adds what was tried to the count of p, if it has one.
func (w *work) tell(p *Problem) {
	if p.Tried != nil {
		*p.Tried += min(w.tries, w.budget)
	}
}

// hold tells that so many of one kind are kept at once.
func (w *work) hold(n int64) { w.full = w.full || n > MaxKept }

// out tells whether the budget is spent: what is found from then on counts for
// nothing.
func (w *work) out() bool { return w.tries > w.budget || w.full }
