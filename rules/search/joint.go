package search

import (
	"cmp"
	"container/heap"
	"slices"
	"sort"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// Limits of the search for a joint fix: ours.
const (
	jointOf    = 8      // proposals for each conflict
	jointPlans = 300    // plans of sets, smallest first
	jointSets  = 200000 // sets that are looked at without a plan
	jointMany  = 12     // conflicts, from which on no set is looked for by its size
	jointTries = 3      // candidates for each of so many
	jointBrief = 50     // plans of sets in brief, see settles
)

// candidate is a change that a joint fix may hold.
type candidate struct {
	rules.Change
	touch  []plan.Touch
	clears []int    // the conflicts that it was proposed for
	texts  []string // its changes as they are written, once they are asked for
	leaves []bool   // see jointSearch.leaves
}

// changes is a set of candidates, by their places in the pool, rising.
type changes struct {
	of   []int
	with []catalog.With
	keys int
	cost float64
	text string // see said
}

// said are its changes as they are written, put together when two sets are
// alike in all else.
func (s *changes) said(pool []candidate) string {
	if s.text != "" {
		return s.text
	}
	n := 0
	var texts []string
	for _, i := range s.of {
		c := &pool[i]
		if c.texts == nil {
			c.texts = catalog.Texts(c.With)
		}
		n += len(c.With)
		texts = append(texts, c.texts...)
	}
	if n != len(s.with) { // some are the same, or go with others
		texts = catalog.Texts(s.with)
	}
	s.text = strings.Join(texts, "\n")
	return s.text
}

// joint looks for the smallest set of changes that settles all conflicts of
// the plan together. Its candidates are the first proposals for each of them,
// those of its rule before those of any sort; it holds no more candidates than
// there are conflicts. Sets are tried by fewest keys, then cost, then text, and
// the first with no conflict and no caution that was not there is the one. It
// is nil where there are not several conflicts.
func (fx *fixer) joint() *rules.JointFix {
	all := slices.DeleteFunc(fx.troubles(), func(t *trouble) bool { return t.severity < rules.Conflict })
	if len(all) < 2 {
		return nil
	}
	j := &jointSearch{fx: fx, all: all, pool: fx.pool(all)}
	found := false
	switch {
	case len(all) > jointMany:
		j.collect()
	default:
		if found = j.smallest(); !found {
			j.nearest()
			j.grow()
		}
	}
	return fx.jointFix(j, found)
}

// pool are the candidates for the conflicts, each once.
func (fx *fixer) pool(all []*trouble) []candidate {
	var out []candidate
	for at, t := range all {
		list := proposals(fx.p, t.findings, &fx.budget.tries)
		if x := contextOf(fx.p, t.first); x.C != nil && len(list) < jointOf {
			list = append(list, rules.ProposeAny(&x, t.first)...)
		}
		taken := 0
		var own []rules.Change
		for _, c := range list {
			if taken == jointOf {
				break
			}
			if fx.kept(c) != "" || slices.ContainsFunc(own, func(o rules.Change) bool { return rules.SameChange(o, c) }) {
				continue
			}
			own = append(own, c)
			taken++
			i := slices.IndexFunc(out, func(o candidate) bool { return rules.SameChange(o.Change, c) })
			if i == -1 {
				out = append(out, candidate{Change: c, touch: plan.Touches(fx.p.Garment, c.With)})
				i = len(out) - 1
			}
			out[i].Cost = min(out[i].Cost, c.Cost)
			out[i].clears = append(out[i].clears, at)
		}
	}
	inOrder(out, func(a, b candidate) int { return byCost(a.Change, b.Change) })
	return out
}

// jointSearch is a search for a joint fix.
type jointSearch struct {
	fx   *fixer
	all  []*trouble
	pool []candidate
	best *changes // the nearest yet
	left remains

	// Sets that were passed over, without a plan or before all was looked for in
	// it, and how many were planned before each: should no set settle all, one
	// of them may be the nearest.
	passed []passed
	nth    int // of the sets that were planned or passed over
	bestAt int // the place of the nearest among them
}

// passed is a set that was passed over.
type passed struct {
	*changes
	at int
}

// remains is what a set leaves.
type remains struct{ conflicts, cautions []spot }

func (r remains) none() bool { return len(r.conflicts)+len(r.cautions) == 0 }

// less says whether less is left: no conflicts go before no cautions.
func (r remains) less(o remains) bool {
	return cmp.Or(cmp.Compare(len(r.conflicts), len(o.conflicts)), cmp.Compare(len(r.cautions), len(o.cautions))) < 0
}

// smallest tries sets, the smallest first, until one settles all: that is then
// the smallest there is. It is false where none does, or the search stops
// before.
func (j *jointSearch) smallest() bool {
	h := &sets{pool: j.pool}
	planned, seen := 0, 0
	add := func(s *changes) {
		if seen++; s != nil {
			heap.Push(h, s)
		}
	}
	for i := range j.pool {
		add(j.with(nil, i))
	}
	for h.Len() != 0 {
		s := heap.Pop(h).(*changes)
		if j.reaches(s) {
			if _, known := j.fx.tried[idOf(s.with)]; !known {
				if planned == jointPlans {
					return false
				}
				planned++
			}
			switch settles, ok := j.settles(s, planned <= jointBrief); {
			case !ok:
				return false
			case settles:
				return true
			}
		}
		if len(s.of) == len(j.all) {
			continue
		}
		for i := s.of[len(s.of)-1] + 1; i < len(j.pool); i++ {
			if seen == jointSets {
				return false // what is left out may be smaller
			}
			add(j.with(s, i))
		}
	}
	return false
}

// settles says whether a set settles all; ok is false where the search is to
// stop. In brief, only what is to be settled is looked for at first: were there
// no set that settles all, each would be planned twice.
func (j *jointSearch) settles(s *changes, brief bool) (settles, ok bool) {
	j.nth++
	if j.hopeless(s) {
		j.fx.budget.plans++ // so that the search ends where it would with its plan
		j.passed = append(j.passed, passed{s, j.nth})
		return false, true
	}
	var first []*trouble
	if brief {
		first = j.all
	}
	left, leaves, ok := j.tryFor(s, first...)
	if leaves {
		j.passed = append(j.passed, passed{s, j.nth})
	}
	return ok && !leaves && left.none(), ok
}

// reaches says whether a set can settle all at all: rules that look at one
// closure find there what they found while nothing touches it.
func (j *jointSearch) reaches(s *changes) bool {
	for _, t := range j.all {
		if t.first.Closure == "" || rules.Find(t.first.Rule).Beyond() {
			continue
		}
		k := slices.IndexFunc(j.fx.p.Closures, func(k plan.Closure) bool { return k.Closure.Name == t.first.Closure })
		if !slices.ContainsFunc(s.of, func(i int) bool { return j.pool[i].touch[k] != plan.Untouched }) {
			return false
		}
	}
	return true
}

// hopeless says whether a set is known to leave something without a plan of
// its own: what none of its changes can alter, and in a closure that only one of
// its candidates touches, what a rule that looks at one closure finds with that
// candidate alone.
func (j *jointSearch) hopeless(s *changes) bool {
	if j.fx.budget.out() || j.fx.tried[idOf(s.with)] != nil {
		return false
	}
	if slices.ContainsFunc(j.all, func(t *trouble) bool { return !t.minds(s.with) }) {
		return true
	}
	if len(s.of) < 2 {
		return false
	}
	for k := range j.fx.p.Closures {
		only := -1
		for _, i := range s.of {
			if j.pool[i].touch[k] == plan.Untouched {
				continue
			}
			if only != -1 {
				only = -1
				break
			}
			only = i
		}
		if only != -1 && j.leaves(only)[k] {
			return true
		}
	}
	return false
}

// leaves says in which closures rules that look at one closure find a
// conflict, or a caution that was not there, with one candidate alone.
func (j *jointSearch) leaves(i int) []bool {
	c := &j.pool[i]
	if c.leaves != nil {
		return c.leaves
	}
	c.leaves = make([]bool, len(j.fx.p.Closures))
	plans := j.fx.budget.plans
	a := j.fx.try(c.Change)
	j.fx.budget.plans = plans // it saves more than it takes
	if !a.made {
		return c.leaves
	}
	left := j.fx.base.remain(a.found, a.count)
	for _, s := range slices.Concat(left.conflicts, left.cautions) {
		if s.closure == "" || rules.Find(s.rule).Beyond() {
			continue
		}
		k := slices.IndexFunc(j.fx.p.Closures, func(k plan.Closure) bool { return k.Closure.Name == s.closure })
		c.leaves[k] = true
	}
	return c.leaves
}

// nearest looks among the sets that were passed over for the one that leaves
// least: of several the first.
func (j *jointSearch) nearest() {
	known := func(s passed) bool { return j.fx.tried[idOf(s.with)] != nil }
	sort.SliceStable(j.passed, func(a, b int) bool { // those that take nothing of the budget first
		return known(j.passed[a]) && !known(j.passed[b])
	})
	for _, s := range j.passed {
		best, left := j.best, j.left
		if !known(s) {
			j.fx.budget.plans-- // it was counted
		}
		now, ok := j.try(s.changes)
		if !ok {
			return
		}
		switch {
		case j.best != best:
			j.bestAt = s.at
		case best != nil && !left.less(now) && s.at < j.bestAt && j.fx.tried[idOf(s.with)].made:
			j.best, j.left, j.bestAt = s.changes, now, s.at
		}
	}
}

// with is a set and one candidate more; nil where they give one key two
// values.
func (j *jointSearch) with(s *changes, i int) *changes {
	c := &j.pool[i]
	out := &changes{of: []int{i}, with: c.With, cost: c.Cost}
	if s != nil {
		with, ok := together(s.with, c.With)
		if !ok {
			return nil
		}
		out = &changes{of: append(slices.Clip(s.of), i), with: with, cost: s.cost + c.Cost}
	}
	out.keys = len(out.with)
	return out
}

// together are the changes of two, each once; false where they give one key
// two values. What lies in what another takes out goes with it.
func together(a, b []catalog.With) ([]catalog.With, bool) {
	out := slices.Clip(a)
	for _, w := range b {
		keep := true
		for i := 0; i < len(out); i++ {
			o := out[i]
			switch {
			case o.Equal(w):
				keep = false
			case o.Key == w.Key:
				return nil, false
			case !under(o.Key, w.Key) && !under(w.Key, o.Key):
			case !o.Out() || !w.Out():
				return nil, false
			case under(o.Key, w.Key):
				keep = false
			default:
				out = slices.Delete(slices.Clone(out), i, i+1)
				i--
			}
		}
		if keep {
			out = append(out, w)
		}
	}
	return out, true
}

// under says whether a key lies below another.
func under(above, key string) bool {
	if !strings.HasPrefix(key, above) {
		return false
	}
	a, ok := source.ParsePath(above)
	b, also := source.ParsePath(key)
	return ok && also && len(a) < len(b) && slices.Equal(a, b[:len(a)])
}

// try plans with a set and says what it leaves; false where the search is to
// stop.
func (j *jointSearch) try(s *changes) (remains, bool) {
	left, _, ok := j.tryFor(s)
	return left, ok
}

// tryFor is try of a set that is of use only where it leaves none of some
// troubles: where it leaves one, that is all that is said.
func (j *jointSearch) tryFor(s *changes, troubles ...*trouble) (left remains, leaves, ok bool) {
	a, leaves := j.fx.tryFor(rules.Change{With: s.with, Cost: s.cost}, troubles...)
	switch {
	case leaves:
		return left, true, true
	case !a.made: // it cannot be made
		return remains{conflicts: make([]spot, 1+len(j.fx.base))}, false, !j.fx.budget.out()
	}
	left = j.fx.base.remain(a.found, a.count)
	if j.best == nil || left.less(j.left) {
		j.best, j.left, j.bestAt = s, left, j.nth
	}
	return left, false, true
}

// remain is what a plan still has: all conflicts, and the cautions that t has
// not.
func (t tally) remain(now []spot, count tally) (left remains) {
	for _, s := range now {
		is, was := count[s], t[s]
		switch {
		case is[1] > 0:
			if !slices.Contains(left.conflicts, s) {
				left.conflicts = append(left.conflicts, s)
			}
		case is[0]-is[1] > was[0]-was[1]:
			if !slices.Contains(left.cautions, s) {
				left.cautions = append(left.cautions, s)
			}
		}
	}
	return left
}

// grow takes one candidate after the other that leaves least, and then leaves
// out what is not needed.
func (j *jointSearch) grow() {
	var s *changes
	left := j.fx.base.remain(spotsIn(j.fx.from), j.fx.base)
	for range j.all {
		next := s
		for i := range j.pool {
			if s != nil && slices.Contains(s.of, i) {
				continue
			}
			c := j.with(s, i)
			if c == nil {
				continue
			}
			l, ok := j.try(c)
			if !ok {
				return
			}
			if l.less(left) {
				next, left = c, l
			}
		}
		if next == s || left.none() {
			s = next
			break
		}
		s = next
	}
	for k := 0; s != nil && k < len(s.of); {
		less := j.set(slices.Delete(slices.Clone(s.of), k, k+1))
		if less == nil {
			k++
			continue
		}
		l, ok := j.try(less)
		if !ok {
			return
		}
		if left.less(l) {
			k++
			continue
		}
		s, left = less, l
		j.best, j.left = s, left
	}
}

// collect takes for each conflict that is left the first of its candidates
// that leaves less: for so many conflicts that sets cannot be tried by size.
func (j *jointSearch) collect() {
	var s *changes
	left := j.fx.base.remain(spotsIn(j.fx.from), j.fx.base)
	for at, t := range j.all {
		if !slices.Contains(left.conflicts, spotOf(t.first)) {
			continue
		}
		tries := 0
		for i := range j.pool {
			if tries == jointTries || !slices.Contains(j.pool[i].clears, at) || s != nil && slices.Contains(s.of, i) {
				continue
			}
			c := j.with(s, i)
			if c == nil {
				continue
			}
			tries++
			l, ok := j.try(c)
			if !ok {
				return
			}
			if l.less(left) {
				s, left = c, l
				break
			}
		}
	}
}

// set is the set of these candidates, nil where it is none.
func (j *jointSearch) set(of []int) *changes {
	var s *changes
	for _, i := range of {
		if s = j.with(s, i); s == nil {
			return nil
		}
	}
	return s
}

// sets is a heap of sets, the smallest on top.
type sets struct {
	pool []candidate
	list []*changes
}

func (h *sets) Len() int { return len(h.list) }
func (h *sets) Less(a, b int) bool {
	return h.list[a].compare(h.list[b], h.pool) < 0
}
func (h *sets) Swap(a, b int) { h.list[a], h.list[b] = h.list[b], h.list[a] }
func (h *sets) Push(x any)    { h.list = append(h.list, x.(*changes)) }
func (h *sets) Pop() any {
	last := len(h.list) - 1
	x := h.list[last]
	h.list = h.list[:last]
	return x
}

func (s *changes) compare(o *changes, pool []candidate) int {
	if c := cmp.Or(cmp.Compare(s.keys, o.keys), cmp.Compare(s.cost, o.cost)); c != 0 {
		return c
	}
	return cmp.Or(cmp.Compare(s.said(pool), o.said(pool)), slices.Compare(s.of, o.of))
}

// jointFix is what was found, for people.
func (fx *fixer) jointFix(j *jointSearch, proven bool) *rules.JointFix {
	out := &rules.JointFix{Proven: proven}
	if j.best == nil {
		out.Left = "no set of changes was found that settles any of them"
		return out
	}
	var says []string
	for _, i := range j.best.of {
		if c := &j.pool[i]; !slices.Contains(says, c.Says) {
			says = append(says, c.Says)
		}
	}
	words := text.And(says...)
	if len(j.left.conflicts) > 0 {
		out.Left = "no set of changes that was tried settles all of them; the nearest, " + words + ", leaves " + spotNames(j.left.conflicts)
		return out
	}
	if len(j.left.cautions) > 0 {
		out.Left = "a caution stays or comes: " + spotNames(j.left.cautions)
	}
	out.With, out.Says, out.Clears = j.best.with, words, true
	out.Lines, out.TOML = fx.written(j.best.with)
	return out
}
