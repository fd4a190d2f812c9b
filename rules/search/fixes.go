package search

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// CheckOptions say what Checked does beyond planning.
type CheckOptions struct {
	// Measuring is how lengths without a ± of their own were measured:
	// "" says nothing about them, "hand" is a ruler, "caliper" a caliper.
	// See Measurings.
	Measuring string
	Fixes     bool // look for changes that clear each conflict and caution
	Alone     bool // make no comparison with the garment without its what-if changes
	Unwritten bool // the changes are told as --with takes them, and not as lines of the file
	Of        int  // how many garments are checked together, such as the variants of a file: they share what a search may do
}

// Checked is Plan, with the findings that flip within the measuring
// tolerance marked and, where asked for, fixes that have been planned again.
//
// A fix is shown only when a plan made with it has no conflict of that rule
// on that closure in any size, and no conflict anywhere that the plan
// without it does not have. Fixes that bring no caution either come alone;
// only where there is none are those shown that leave or bring a caution,
// and they name it. The smallest change comes first, at most three, and at
// most two that change the same thing. A caution gets a fix where its own
// rule knows one that brings nothing new at all.
//
// The searches stop at a number of plans, and of places that these try, which
// is the same on every machine: see plansMost. What they did not come to says
// so.
func Checked(g *catalog.Garment, o CheckOptions) *rules.Planned {
	p := rules.Plan(g)
	f := newFrail(p, o.Measuring)
	f.budget.share(o.Of)
	f.look()
	if o.Fixes {
		fx := newFixer(p)
		fx.budget.share(o.Of)
		fx.unwritten = o.Unwritten
		fx.run()
		p.Joint = fx.joint()
	}
	f.say()
	p.Settle()
	p.Sort()
	if !o.Alone {
		p.Change = changed(g, p, o)
	}
	return p
}

// changed compares the plan with that of the garment without its what-if
// changes.
func changed(g *catalog.Garment, p *rules.Planned, o CheckOptions) *rules.Difference {
	if len(g.Withs()) == 0 {
		return nil
	}
	plain, err := g.Plain()
	if err != nil {
		return nil
	}
	before := rules.Plan(plain)
	within(before, o.Measuring)
	before.Settle()
	before.Sort()
	d := Compare(before, p)
	return &d
}

// Limits of the search: ours, so that a garment with ten conflicts is
// answered at once.
const (
	fixesShown   = 3
	fixesAlike   = 2   // of the fixes shown, this many may change the same keys
	singlesTried = 48  // of a finding's own proposals, and of those of any sort
	singlesFirst = 6   // of its own, before those of the next conflict are looked at
	pairsTried   = 120 // for one finding
	pairsOwn     = 10  // own proposals that are tried with each other
	pairsBrings  = 2   // conflicts that a change brings, for which a second is looked for
	cautionTried = 8
	keptTold     = 4 // kept facts that stand against each other
)

// fixer looks for changes that clear the findings of a plan.
type fixer struct {
	p       *rules.Planned
	from    *rules.Planned   // the same, to plan again from
	room    *rules.Planned   // where attempts are planned: none of them is kept
	altered *catalog.Garment // the same for their garments
	base    tally
	tried   map[string]*attempt
	budget  *budget

	unwritten bool // of no change the lines in the file are wanted

	looked int  // attempts for one trouble
	cut    bool // whether there was more to try when a limit was reached
}

// attempt is a change and what is found with it.
type attempt struct {
	rules.Change
	made  bool   // false where the change cannot be made, or is not tried any more
	found []spot // cautions and conflicts, in the order of the rules
	count tally

	// leaves says that it leaves what it was tried for, and that nothing else
	// was looked for: should more be asked, it is planned again, from so many
	// places tried.
	leaves bool
	tried  int
}

// trouble are the findings of one rule about one closure, or about one thing
// of the garment.
type trouble struct {
	first    *rules.Finding
	findings []*rules.Finding
	severity rules.Severity
}

func newFixer(p *rules.Planned) *fixer {
	b := newBudget()
	// Quietly, as the attempts are: a plan with words merges what reads alike.
	from := rules.Base(p.Garment, &b.tries)
	return &fixer{p: p, from: from, room: newRoom(), altered: new(catalog.Garment), base: tallied(from), tried: map[string]*attempt{}, budget: b}
}

func (fx *fixer) run() {
	// What the rules themselves propose comes first, for every conflict: it is
	// little, and one that nothing settles must not use up what may be tried.
	troubles := fx.troubles()
	hunts := make([]*hunt, len(troubles))
	for i, t := range troubles {
		if fx.looked, fx.cut = 0, false; t.severity == rules.Conflict {
			hunts[i] = fx.conflict(t)
		}
	}
	for i, t := range troubles {
		if fx.looked, fx.cut = 0, false; hunts[i] != nil {
			fx.further(hunts[i])
		} else if t.severity != rules.Conflict {
			fx.caution(t)
		}
	}
}

// troubles groups the conflicts and cautions of the plan.
func (fx *fixer) troubles() []*trouble {
	var out []*trouble
	for i := range fx.p.Findings {
		f := &fx.p.Findings[i]
		if f.Severity == rules.Note || f.Settled != "" {
			continue
		}
		k := slices.IndexFunc(out, func(t *trouble) bool { return t.has(spotOf(f)) })
		if k == -1 {
			out = append(out, &trouble{first: f})
			k = len(out) - 1
		}
		out[k].findings = append(out[k].findings, f)
		out[k].severity = max(out[k].severity, f.Severity)
	}
	for _, t := range out {
		t.findings = slices.DeleteFunc(t.findings, func(f *rules.Finding) bool { return f.Severity < t.severity })
		t.first = t.findings[0]
	}
	return out
}

// has says whether a spot belongs to the trouble, in whatever size.
func (t *trouble) has(s spot) bool {
	own := spotOf(t.first)
	own.size, s.size = "", ""
	return s == own
}

// left is the gravest of the trouble that a count still has, and whether
// there is any.
func (t *trouble) left(count tally) (rules.Severity, bool) {
	sev, any := rules.Note, false
	for s, n := range count {
		if !t.has(s) {
			continue
		}
		any = true
		sev = max(sev, rules.Caution)
		if n[1] > 0 {
			sev = rules.Conflict
		}
	}
	return sev, any
}

// try plans the garment with a change.
func (fx *fixer) try(c rules.Change) *attempt {
	a, _ := fx.tryFor(c)
	return a
}

// tryFor is try of what is of use only where it leaves none of some troubles
// as grave as they are. Those are looked for first, and where one is left,
// nothing else.
func (fx *fixer) tryFor(c rules.Change, troubles ...*trouble) (a *attempt, leaves bool) {
	key := idOf(c.With)
	a, known := fx.tried[key]
	switch {
	case known && !a.leaves:
		fx.looked++
		return a, false
	case known: // it was counted
		was := fx.budget.tries.Tried
		fx.budget.tries.Tried = a.tried
		defer func() { fx.budget.tries.Tried = was }()
	case fx.budget.out():
		fx.cut = true
		return &attempt{Change: c}, false
	default:
		fx.budget.plans++
	}
	fx.looked++
	a = &attempt{Change: c, tried: fx.budget.tries.Tried}
	if slices.ContainsFunc(troubles, func(t *trouble) bool { return !t.minds(c.With) }) { // no plan is needed to know
		a.leaves = true
		fx.tried[key] = a
		return a, true
	}
	if g, err := fx.p.Garment.AlterIn(fx.altered, c.With...); err == nil {
		p, touch := fx.room, plan.Touches(g, c.With)
		fx.from.Unchecked(p, g, touch)
		if fx.budget.tries.Out() {
			fx.cut = true
			return a, false
		}
		if a.leaves = slices.ContainsFunc(troubles, func(t *trouble) bool { return t.stays(p) }); !a.leaves {
			p.CheckAgain(fx.from, touch)
			a.made, a.found, a.count = true, spotsIn(p), tallied(p)
		}
	}
	fx.tried[key] = a
	return a, a.leaves
}

// minds says whether changes can alter what the trouble's rule finds.
func (t *trouble) minds(with []catalog.With) bool {
	r := rules.Find(t.first.Rule)
	return r == nil || r.Minds(with)
}

// stays says whether a plan that was not checked yet has the trouble, as grave
// as it is.
func (t *trouble) stays(p *rules.Planned) bool {
	r := rules.Find(t.first.Rule)
	return r != nil && p.Has(r, t.first.Closure, func(f *rules.Finding) bool { return f.Severity >= t.severity && t.has(spotOf(f)) })
}

// idOf tells changes apart.
func idOf(with []catalog.With) string {
	var b strings.Builder
	for _, w := range with {
		if text, ok := w.Value.(string); ok { // as most are
			b.WriteString(w.Key)
			b.WriteString("\x00string\x00")
			b.WriteString(text)
			b.WriteString("\x00")
			continue
		}
		fmt.Fprintf(&b, "%s\x00%T\x00%v\x00", w.Key, w.Value, w.Value)
	}
	return b.String()
}

// outcome is what an attempt makes of a trouble.
type outcome int

const (
	useless outcome = iota
	partly          // it clears it, and brings another conflict
	mends           // it clears it, and leaves or brings a caution
	clears          // it clears it, and that is all
)

// judge says what an attempt makes of a trouble, and what it brings.
func (fx *fixer) judge(a *attempt, t *trouble) (outcome, []spot) {
	if !a.made {
		return useless, nil
	}
	left, any := t.left(a.count)
	if any && left >= t.severity {
		return useless, nil
	}
	conflicts, cautions := fx.base.worse(a.found, a.count)
	switch {
	case len(conflicts) > 0:
		return partly, conflicts
	case any:
		// A conflict that has become a caution.
		return mends, append([]spot{spotOf(t.first)}, cautions...)
	case len(cautions) > 0:
		return mends, cautions
	}
	return clears, nil
}

// proposals are the changes that a rule proposes for a trouble in a plan.
// They try places, as spacing counts them.
func proposals(p *rules.Planned, findings []*rules.Finding, tries *plan.Tries) []rules.Change {
	x := contextOf(p, findings[0])
	x.Tries = tries
	if x.Rule == nil || x.Rule.Propose == nil {
		return nil
	}
	var out []rules.Change
	var together rules.Change // what each size needs by itself, made in one
	sizes := map[string]bool{}
	apart := false
	for _, f := range findings {
		if sizes[f.Size] && f.Path() == findings[0].Path() {
			continue
		}
		sizes[f.Size] = true
		x.Size = f.Size
		cs := x.Rule.Propose(&x, f)
		if len(cs) == 0 {
			continue
		}
		first := slices.MinFunc(cs, byCost)
		if len(out) > 0 && !slices.ContainsFunc(out, func(c rules.Change) bool { return rules.SameChange(c, first) }) {
			apart = true
		}
		if !sameKey(together.With, first.With) {
			together.With = append(together.With, first.With...)
			together.Cost += first.Cost
			if together.Says != "" {
				together.Says += "; "
			}
			if together.Says += first.Says; f.Size != "" {
				together.Says += " in size " + f.Size
			}
		}
		for _, c := range cs {
			if !slices.ContainsFunc(out, func(o rules.Change) bool { return rules.SameChange(o, c) }) {
				out = append(out, c)
			}
		}
	}
	if apart && len(together.With) > 1 {
		out = append(out, together)
	}
	sortByCost(out)
	return out
}

// sameKey says whether two changes give one key a value each.
func sameKey(a, b []catalog.With) bool {
	return slices.ContainsFunc(a, func(w catalog.With) bool {
		return slices.ContainsFunc(b, func(o catalog.With) bool { return o.Key == w.Key })
	})
}

func byCost(a, b rules.Change) int {
	return cmp.Or(cmp.Compare(a.Cost, b.Cost), rules.CompareChanges(a, b))
}

func sortByCost(cs []rules.Change) {
	inOrder(cs, byCost)
}

// kept is the entry of keep that a change would touch.
func (fx *fixer) kept(c rules.Change) string {
	for _, w := range c.With {
		if k := fx.p.Garment.Kept(w); k != "" {
			return k
		}
	}
	return ""
}

// good are the changes found for one trouble, by what they leave.
type good struct{ clear, mend []verified }

type verified struct {
	rules.Change
	brings []spot
}

func (g *good) add(o outcome, c rules.Change, brings []spot) {
	switch o {
	case clears:
		g.clear = append(g.clear, verified{c, nil})
	case mends:
		g.mend = append(g.mend, verified{c, brings})
	}
}

// hunt is the search for what settles a conflict.
type hunt struct {
	*trouble
	own, any []rules.Change
	found    good
	near     []*attempt // clears it, but brings a conflict
	blocked  []rules.Change
	alike    map[string]int

	looked int // as in the fixer, so far
	cut    bool
}

// conflict looks for fixes of a conflict among what its rule proposes. It is
// nil where nothing may be tried any more.
func (fx *fixer) conflict(t *trouble) *hunt {
	if fx.budget.out() {
		for _, f := range t.findings {
			f.Stuck, f.Cut = fx.stopped(), true
		}
		return nil
	}
	h := &hunt{trouble: t, own: proposals(fx.p, t.findings, &fx.budget.tries)}
	fx.singles(h, h.own[:min(len(h.own), singlesFirst)])
	h.looked, h.cut = fx.looked, fx.cut
	return h
}

// further looks for them among changes of any sort, then among pairs of them,
// where the rule's own do not do.
func (fx *fixer) further(h *hunt) {
	fx.looked, fx.cut = h.looked, h.cut
	if x := contextOf(fx.p, h.first); x.C != nil {
		h.any = rules.ProposeAny(&x, h.first)
	}
	if len(h.found.clear) < fixesShown {
		fx.singles(h, h.own[min(len(h.own), singlesFirst):min(len(h.own), singlesTried)])
		fx.cut = fx.cut || len(h.own) > singlesTried
	}
	if len(h.found.clear) == 0 {
		h.alike = nil
		fx.singles(h, h.any[:min(len(h.any), singlesTried)])
		fx.cut = fx.cut || len(h.any) > singlesTried
	}
	if len(h.found.clear)+len(h.found.mend) == 0 {
		fx.pairs(h.trouble, h.own, h.any, h.near, &h.found)
	}
	fixes := fx.shown(&h.found)
	stuck := ""
	if len(fixes) == 0 {
		stuck = fx.stuck(h.trouble, h.blocked, h.near, len(h.own)+len(h.any))
	}
	for _, f := range h.findings {
		f.Fixes, f.Stuck, f.Cut = fixes, stuck, stuck != "" && fx.cut
	}
}

// singles tries changes one by one.
func (fx *fixer) singles(h *hunt, cs []rules.Change) {
	if h.alike == nil {
		h.alike = map[string]int{}
	}
	for _, c := range cs {
		if h.alike[c.Keys()] == fixesAlike {
			continue // it is larger than those, and would not be shown
		}
		if fx.kept(c) != "" {
			h.blocked = append(h.blocked, c)
			continue
		}
		a, leaves := fx.tryFor(c, h.trouble)
		if leaves {
			continue
		}
		o, brings := fx.judge(a, h.trouble)
		h.found.add(o, c, brings)
		switch o {
		case partly:
			h.near = append(h.near, a)
		case clears:
			h.alike[c.Keys()]++
		}
		if len(h.found.clear) == fixesShown {
			return
		}
	}
}

// stopped says that a trouble was not looked at.
func (fx *fixer) stopped() string {
	return "no change was tried for it: the search " + looked(fx.budget.plans) + " before it came here"
}

// caution looks for what clears a caution among what its rule proposes.
func (fx *fixer) caution(t *trouble) {
	if fx.budget.out() {
		for _, f := range t.findings {
			f.Stuck, f.Cut = fx.stopped(), true
		}
		return
	}
	var found good
	own := proposals(fx.p, t.findings, &fx.budget.tries)
	for _, c := range own[:min(len(own), cautionTried)] {
		if fx.kept(c) != "" {
			continue
		}
		a, leaves := fx.tryFor(c, t)
		if leaves {
			continue
		}
		if o, brings := fx.judge(a, t); o == clears {
			found.add(o, c, brings)
		}
		if len(found.clear) > 0 {
			break
		}
	}
	fixes := fx.shown(&found)
	for _, f := range t.findings {
		f.Fixes = fixes
	}
}

// pairs tries two changes together: one that clears the trouble with one
// that its new conflict asks for, and the rule's own with each other and with
// those of any sort.
func (fx *fixer) pairs(t *trouble, own, any []rules.Change, near []*attempt, found *good) {
	var list []rules.Change
	add := func(a, b rules.Change) {
		if sameKey(a.With, b.With) {
			return
		}
		c := rules.Change{With: slices.Concat(a.With, b.With), Says: a.Says + ", and " + b.Says, Cost: a.Cost + b.Cost}
		if fx.kept(c) == "" {
			list = append(list, c)
		}
	}
	for _, a := range near[:min(len(near), pairsOwn)] {
		if fx.budget.out() {
			break
		}
		_, brings := fx.judge(a, t)
		g, err := fx.p.Garment.Alter(a.With...)
		if err != nil {
			continue
		}
		fx.budget.plans++
		p := fx.from.Again(g, plan.Touches(g, a.With))
		p.Arrange()
		for _, s := range brings[:min(len(brings), pairsBrings)] {
			for i := range p.Findings {
				f := &p.Findings[i]
				if spotOf(f) != s || f.Severity != rules.Conflict {
					continue
				}
				cs := proposals(p, []*rules.Finding{f}, &fx.budget.tries)
				for _, c := range cs[:min(len(cs), pairsOwn)] {
					add(a.Change, c)
				}
				break
			}
		}
	}
	first := own[:min(len(own), pairsOwn)]
	for i, a := range first {
		for _, b := range first[i+1:] {
			add(a, b)
		}
		for _, b := range any[:min(len(any), pairsOwn)] {
			add(a, b)
		}
	}
	if len(first) == 0 {
		first = any[:min(len(any), pairsOwn)]
		for i, a := range first {
			for _, b := range first[i+1:] {
				add(a, b)
			}
		}
	}
	sortByCost(list)
	list = slices.CompactFunc(list, rules.SameChange)
	fx.cut = fx.cut || len(list) > pairsTried
	for _, c := range list[:min(len(list), pairsTried)] {
		a, leaves := fx.tryFor(c, t)
		if leaves {
			continue
		}
		o, brings := fx.judge(a, t)
		found.add(o, c, brings)
		if len(found.clear) >= fixesShown {
			return
		}
	}
}

// shown are the fixes that a finding shows.
func (fx *fixer) shown(found *good) []rules.Fix {
	list := found.clear
	if len(list) == 0 {
		list = found.mend
	}
	inOrder(list, func(a, b verified) int { return byCost(a.Change, b.Change) })
	var out []rules.Fix
	alike := map[string]int{}
	for _, v := range list {
		k := v.Keys()
		if alike[k] == fixesAlike || slices.ContainsFunc(out, func(f rules.Fix) bool { return slices.EqualFunc(f.With, v.With, catalog.With.Equal) }) {
			continue
		}
		alike[k]++
		f := rules.Fix{With: v.With, Says: v.Says, Clears: true}
		if len(v.brings) > 0 {
			f.Says += " (that leaves a caution: " + spotNames(v.brings) + ")"
		}
		f.Lines, f.TOML = fx.written(v.With)
		if out = append(out, f); len(out) == fixesShown {
			break
		}
	}
	return out
}

// written are the lines of the file that make a change. Where the file cannot
// say it, and where nobody reads them, there are none.
func (fx *fixer) written(with []catalog.With) (lines []source.Edit, toml []string) {
	if fx.unwritten {
		return nil, nil
	}
	_, lines, err := fx.p.Garment.Rewrite(with...)
	if err != nil {
		return nil, nil
	}
	for _, l := range lines {
		toml = append(toml, l.Text)
	}
	return lines, toml
}

// stuck says why there is no fix: which kept facts stand against each other,
// or what the nearest change would bring.
func (fx *fixer) stuck(t *trouble, blocked []rules.Change, near []*attempt, proposed int) string {
	type freed struct{ keep, says string }
	var free []freed
	sortByCost(blocked)
	for _, c := range blocked {
		if len(free) == keptTold {
			break
		}
		keep := fx.kept(c)
		if slices.ContainsFunc(free, func(f freed) bool { return f.keep == keep }) || slices.ContainsFunc(c.With, func(w catalog.With) bool {
			k := fx.p.Garment.Kept(w)
			return k != "" && k != keep
		}) {
			continue
		}
		if o, _ := fx.judge(fx.try(c), t); o >= mends {
			free = append(free, freed{keep, c.Says})
		}
	}
	switch len(free) {
	case 0:
	case 1:
		return free[0].keep + " is kept and stands against " + fx.against(t, free[0].keep) + ": nothing else that was tried clears this. Without keeping it: " + free[0].says
	default:
		names, says := make([]string, len(free)), make([]string, len(free))
		for i, f := range free {
			names[i], says[i] = f.keep, "without keeping "+f.keep+": "+f.says
		}
		return text.And(names...) + " are kept and stand against each other: let one of them go. " + text.Capital(strings.Join(says, "; "))
	}
	if proposed == 0 {
		return "nothing in the file can be set so that this is cleared: do as it says"
	}
	far := ""
	if fx.cut {
		far = "; the search " + looked(fx.looked)
	}
	if len(near) > 0 {
		_, brings := fx.judge(near[0], t)
		return "no change that was tried, alone or with a second, clears this without a new conflict; the nearest, " + near[0].Says + ", brings " + spotNames(brings) + far
	}
	if len(blocked) == proposed {
		var names []string
		for _, c := range blocked {
			if k := fx.kept(c); !slices.Contains(names, k) {
				names = append(names, k)
			}
		}
		return "everything that could be changed for it is kept: " + text.And(names...)
	}
	return "no change that was tried, alone or with a second, clears this: it is for you to settle" + far
}

// against is what a kept key stands against: the value that the finding
// speaks of, or its rule.
func (fx *fixer) against(t *trouble, keep string) string {
	key := fx.p.Garment.KeyOf(t.first.Path())
	if key == "" || key == keep || strings.HasPrefix(key, keep+".") || strings.HasPrefix(keep, key+".") {
		return "what " + t.first.Rule + " asks"
	}
	return key
}
