package search

import (
	"cmp"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// ChoiceOptions say what is to be chosen.
type ChoiceOptions struct {
	Closure  string         // for which closure; "" where the garment has only one, or with All
	All      bool           // one family of notions for all closures with that kind of fastener
	What     string         // one of Choosable; "" is notion
	From, To measure.Length // of notions: none smaller and none larger; 0 is no bound
	Usual    bool           // of buttons: of the size usual at the place, whatever size the file has
	Limit    int            // how many that pass are listed; 0 is ListLimit
}

// Choosable is what Choose chooses among.
var Choosable = []string{"notion", "needle", "thread", "interfacing"}

// ListLimit is how many candidates a choice lists where nothing is said.
const ListLimit = 12

const (
	nearMisses = 5   // ours: how many near misses are listed
	likeSize   = 1.5 // ours: a member of a family is at most so many times larger or smaller than what the file has
)

// Choice is what the catalogue offers for a closure, the best first.
type Choice struct {
	Garment  *catalog.Garment
	What     string   // notion, needle, thread or interfacing
	Kind     string   // of the fastener
	Closures []string // for which closures
	Now      string   // what the file has
	Tried    int      // how many were planned
	Stopped  string   // that there are more, which were not; "" where there are none
	Passing  int      // how many of them have no conflict
	Beside   []string // conflicts of the file that this choice cannot change
	// Candidates are those that pass, the best first, then the near misses,
	// the nearest first.
	Candidates []Candidate
}

// Candidate is one of the things to choose among.
type Candidate struct {
	Name          string
	About         string
	Own           bool           // from an own catalogue file
	With          []catalog.With // the changes that try it
	Picks         []Pick         // All: what each closure gets
	Passes        bool
	Conflicts     int
	Cautions      int
	Cares         []string // the rules of the cautions
	Tightest      string   // the rule that leaves the least room, "" where none is measured
	rules.Numbers          // of that rule
	Share         float64  // margin over need: 0.1 is 10 % to spare
	Price         catalog.Opt[float64]
	Fails         string // why it does not pass, "" where it does
	Rule          string // the rule of the first conflict
	AsIs          bool   // all its picks are what the file has
}

// Has says whether a candidate is what the file has already.
func (c *Choice) Has(d *Candidate) bool {
	if len(d.Picks) != 0 {
		return d.AsIs
	}
	return d.Name == c.Now
}

// Pick is what one closure gets.
type Pick struct {
	Closure, Name string
	Size          measure.Length // across
}

// Choose plans a garment, over all sizes, with every candidate of the
// catalogue of the kind in question, and ranks what passes.
//
// A candidate passes when the plan with it has no conflict on the closures
// chosen for, and none elsewhere that the plan of the file does not have. A
// conflict of the file that the choice cannot change, such as that of a
// needle when a button is chosen, does not count; Beside tells of it.
// Nor does one pass that has less than no room at some rule, though its ± or a
// weak figure keeps that from being a conflict: it may pass, and is the first of
// the near misses. Room is counted to a conflict, over the rules that the choice
// can change: see rules.Rule.Room.
// Those that pass are ranked by how like they are to what the file has, or to
// what is usual at the place where it has none, in classes of size, make and
// material, metal buttons behind where the file has none; for a child first of all by their cautions about safety; then by how fit they are for the cloth and the hole; then by their
// cautions; by price, those without one last; by how near they are in size, and
// by name. Near misses are ranked by their conflicts, then as alike.
//
// With All, the names of a family differ in their last part alone, such as
// horn-30 and horn-40. Each closure gets the member that passes with the
// fewest cautions and is nearest in size to what it has, at most half as large
// again or a third smaller; and a closure whose fastener is smaller in the
// file than another's never gets a larger one. A family is ranked by its material, the cautions and the prices of all its
// members together.
//
// The error says what is wrong with the question.
func Choose(g *catalog.Garment, o ChoiceOptions) (*Choice, error) { return choose(g, o, fast) }

// method is how candidates are planned. The plain one makes every change and
// plans the whole garment; the fast one must come to the same.
type method int

const (
	fast method = iota
	plain
)

func choose(g *catalog.Garment, o ChoiceOptions, how method) (*Choice, error) {
	return chooseWithin(g, o, how, choiceMost, choicePlaces)
}

// chooseWithin makes so many plans at most, which try so many places.
func chooseWithin(g *catalog.Garment, o ChoiceOptions, how method, most int, places int64) (*Choice, error) {
	if o.What == "" {
		o.What = Choosable[0]
	}
	if !slices.Contains(Choosable, o.What) {
		return nil, fmt.Errorf("there is nothing called %q to choose: use %s", o.What, strings.Join(Choosable, ", "))
	}
	at, err := closuresOf(g, o)
	if err != nil {
		return nil, err
	}
	if o.Limit <= 0 {
		o.Limit = ListLimit
	}
	ch := &chooser{g: g, o: o, at: at, how: how, base: rules.Found(g)}
	ch.count = tallied(ch.base)
	ch.most, ch.places = most, places
	ch.touch = plan.TouchOne(g, at[0], plan.Touched)
	ch.kept = map[string]bool{}
	for _, r := range rules.Rules() {
		if r.Reads&sorts[o.What] == 0 {
			ch.kept[r.Name] = true
		} else {
			ch.reads = append(ch.reads, r)
		}
	}
	ch.lookElsewhere()
	c := &Choice{Garment: g, What: o.What, Kind: g.Closures[at[0]].Notion.Kind}
	for _, i := range at {
		c.Closures = append(c.Closures, g.Closures[i].Name)
	}
	c.Beside = ch.beside()
	if o.All && o.What == "notion" {
		ch.families(c)
		return c, nil
	}
	options, err := ch.options()
	if err != nil {
		return nil, err
	}
	c.Now = ch.now()
	ch.single(c, options)
	return c, nil
}

// lookElsewhere notes what the file has on the closures not chosen for.
func (ch *chooser) lookElsewhere() {
	ch.others = nil
	for i := range ch.base.Findings {
		if f := &ch.base.Findings[i]; f.Severity != rules.Note && !ch.on(f) {
			ch.others = append(ch.others, other{spotOf(f), f.Severity})
		}
	}
}

// closuresOf are the closures that the question is about.
func closuresOf(g *catalog.Garment, o ChoiceOptions) ([]int, error) {
	names := make([]string, len(g.Closures))
	for i := range g.Closures {
		names[i] = g.Closures[i].Name
	}
	first := 0
	switch {
	case o.Closure != "":
		if first = slices.Index(names, o.Closure); first == -1 {
			return nil, text.NoSuchError("the garment", "closure", o.Closure, names)
		}
	case !o.All && len(names) > 1:
		return nil, fmt.Errorf("the garment has %d closures: say which, %s", len(names), strings.Join(names, ", "))
	}
	if !o.All {
		return []int{first}, nil
	}
	var at []int
	for i := range g.Closures {
		if g.Closures[i].Notion.Kind == g.Closures[first].Notion.Kind {
			at = append(at, i)
		}
	}
	return at, nil
}

// chooser plans candidates.
type chooser struct {
	g     *catalog.Garment
	o     ChoiceOptions
	at    []int // the closures chosen for
	how   method
	base  *rules.Planned
	count tally
	kept  map[string]bool // rules that the choice cannot change
	reads []*rules.Rule   // the others
	touch []plan.Touch    // what another notion alters in the first of at

	most   int   // plans, see choiceMost
	places int64 // that they try, see choicePlaces

	others []other // what the file has elsewhere, in the order of the rules
}

// other is a finding on a closure that is not chosen for.
type other struct {
	spot     spot
	severity rules.Severity
}

// option is a candidate before it is planned.
type option struct {
	name   string
	entry  *catalog.Entry
	notion *catalog.Notion // when a notion is chosen
	with   []catalog.With
	off    float64 // how far it is from what the file has
	like   int     // the same in classes, with its make: 0 is most alike
	fit    int     // how fit it is for the job: 0 is best
}

// grade is what came of an option.
type grade struct {
	i         int // of the option
	usable    bool
	conflicts int
	cautions  int
	unsafe    int // cautions about a child's safety: they go before all else
	share     float64
	price     float64
}

// passes says whether it has no conflict.
func (r *grade) passes() bool { return r.usable && r.conflicts == 0 && r.share >= 0 }

// now is the name of what the file has.
func (ch *chooser) now() string {
	c, k := &ch.g.Closures[ch.at[0]], &ch.base.Closures[ch.at[0]]
	switch ch.o.What {
	case "needle":
		return k.Needle.NM.String()
	case "thread":
		if t := ch.g.ThreadNamed(k.Thread.Name); t != nil && t.Name != "" {
			return t.Name
		}
		return k.Thread.Tex.String()
	case "interfacing":
		if k.Support.Interfacing != nil {
			return k.Support.Interfacing.Name
		}
		return ""
	}
	return c.Notion.Name
}

// options are the candidates of the catalogue.
func (ch *chooser) options() ([]option, error) {
	g, c, k := ch.g, &ch.g.Closures[ch.at[0]], &ch.base.Closures[ch.at[0]]
	cat := g.Catalog
	var out []option
	switch ch.o.What {
	case "notion":
		now := ch.wish(ch.at[0])
		out = make([]option, 0, len(cat.Notions))
		for _, n := range cat.Notions {
			if n.Kind != c.Notion.Kind || plan.ForBacking(n) && n.Name != c.Use || !ch.asked(n) || !ch.opens(n) {
				continue
			}
			off, like := (plan.AcrossOf(n) - now).Abs().MM(), ch.likeNotion(n, &c.Notion, now)
			if n.Kind == catalog.Zip {
				off = zipOff(n, c, &k.Zip)
				like = int(off)
			}
			out = append(out, option{name: n.Name, entry: &n.Entry, notion: n, off: off, like: like})
		}
	case "needle":
		for _, n := range cat.Needles {
			if !n.Size.Has() {
				continue
			}
			with := ch.each(func(name string) []catalog.With {
				w := []catalog.With{catalog.Set(catalog.Key("closure", name, "needle"), n.Size.V.String())}
				if n.Point != "" {
					w = append(w, catalog.Set(catalog.Key("closure", name, "point"), n.Point))
				}
				return w
			})
			out = append(out, option{name: n.Name, entry: &n.Entry, with: with, off: math.Abs(float64(n.Size.V - k.Needle.Use)), like: likeNeedle(n.Size.V, k.Needle.Use), fit: fitNeedle(n, k)})
		}
	case "thread":
		for _, t := range cat.Threads {
			if !t.Tex.Has() || len(t.Jobs) != 0 && !slices.Contains(t.Jobs, "seam") && !slices.Contains(t.Jobs, "buttonhole") && !slices.Contains(t.Jobs, "topstitch") {
				continue
			}
			out = append(out, option{name: t.Name, entry: &t.Entry, with: ch.threadWith(t), off: math.Abs(float64(t.Tex.V - k.Thread.Tex)), like: likeThread(t, &k.Thread), fit: fitThread(t, &k.Thread)})
		}
	case "interfacing":
		if !k.Support.Needed {
			return nil, fmt.Errorf("the %s of %s takes no interfacing", c.Notion.Kind, c.Name)
		}
		for _, n := range cat.Interfacings {
			if n.Kind == "stay-tape" {
				continue
			}
			var off float64
			if now := k.Support.Interfacing; now != nil {
				off = math.Abs(n.Weight.V.GSM() - now.Weight.V.GSM())
			}
			out = append(out, option{name: n.Name, entry: &n.Entry, with: ch.interfacingWith(n), off: off, like: likeInterfacing(n, k.Support.Interfacing), fit: fitInterfacing(n, k)})
		}
	}
	return out, nil
}

// opens says whether a notion may be offered to the closures: a front that is
// to come apart gets no zip that does not.
func (ch *chooser) opens(n *catalog.Notion) bool {
	if n.Kind == catalog.Zip && n.Opening == "closed" {
		for _, i := range ch.at {
			if plan.MustPart(ch.g, &ch.g.Closures[i]) {
				return false
			}
		}
	}
	return true
}

// zipOff is how far a zip is from what the file has: by its number and kind,
// and farther than any of those where it is not sold as long as the opening.
func zipOff(n *catalog.Notion, c *catalog.Closure, z *plan.Zip) float64 {
	off := math.Abs(n.Number.V - c.Notion.Number.V)
	if n.ZipKind != c.Notion.ZipKind {
		off += 3
	}
	for i := range z.Sizes {
		if fit, _ := plan.NearestZip(n.Lengths, z.Sizes[i].Need); fit == 0 && len(n.Lengths) > 0 {
			return off + 100
		}
	}
	return off
}

// each are the changes for every closure chosen for.
func (ch *chooser) each(with func(closure string) []catalog.With) []catalog.With {
	var out []catalog.With
	for _, i := range ch.at {
		out = append(out, with(ch.g.Closures[i].Name)...)
	}
	return out
}

// free is a name that no part of the garment has.
func (ch *chooser) free(name string) string {
	for slices.Contains(ch.g.ThreadNames, name) || slices.Contains(ch.g.ClothNames, name) || slices.Contains(ch.g.InterfNames, name) {
		name += "-2"
	}
	return name
}

// threadWith gives the closures another thread: the one they name, or a new
// one.
func (ch *chooser) threadWith(t *catalog.Thread) []catalog.With {
	var out []catalog.With
	fresh := ""
	for _, i := range ch.at {
		name := ch.base.Closures[i].Thread.Name
		if name != "" {
			out = more(out, ch.g.Replace("thread", name, t.Name)...)
			continue
		}
		if fresh == "" {
			fresh = ch.free("seam")
			out = more(out, catalog.SetTable(catalog.Key("thread", fresh), map[string]any{"use": t.Name}))
		}
		out = more(out, catalog.Set(catalog.Key("closure", ch.g.Closures[i].Name, "thread"), fresh))
	}
	return out
}

// more adds changes that are not there yet.
func more(to []catalog.With, with ...catalog.With) []catalog.With {
	for _, w := range with {
		if !slices.ContainsFunc(to, w.Equal) {
			to = append(to, w)
		}
	}
	return to
}

// interfacingWith gives the closures another interfacing, or puts one under
// their outermost layer.
func (ch *chooser) interfacingWith(n *catalog.Interfacing) []catalog.With {
	var out []catalog.With
	fresh := ""
	for _, i := range ch.at {
		c := &ch.g.Closures[i]
		name, in := plan.InterfacingOf(c.Over)
		if in == nil {
			name, in = plan.InterfacingOf(c.Under)
		}
		if in != nil {
			out = more(out, ch.g.Replace("interfacing", name, n.Name)...)
			continue
		}
		if fresh == "" {
			fresh = ch.free("support")
			out = more(out, catalog.SetTable(catalog.Key("interfacing", fresh), map[string]any{"use": n.Name}))
		}
		layers := []string{}
		for j, l := range c.Over {
			if layers = append(layers, l.Name); j == 0 {
				layers = append(layers, fresh)
			}
		}
		out = more(out, ch.g.Unsampled(i)...)
		out = more(out, catalog.SetNames(catalog.Key("closure", c.Name, "over"), layers...))
	}
	return out
}

// withOf are the changes of an option.
func (ch *chooser) withOf(o *option) []catalog.With {
	if o.notion != nil {
		return ch.g.Replace("closure", ch.g.Closures[ch.at[0]].Name, o.name)
	}
	return o.with
}

// single plans every option for the closures and lists the best.
func (ch *chooser) single(c *Choice, options []option) {
	all := len(options)
	if all > ch.most { // the likeliest ones
		inOrder(options, func(a, b option) int { return cmp.Compare(a.off, b.off) })
		options = options[:ch.most]
	}
	grades := make([]grade, len(options))
	c.Tried = ch.spread(len(options), func(w *worker, i int) int {
		grades[i] = ch.grade(w, i, &options[i])
		return w.places()
	})
	options, grades = options[:c.Tried], grades[:c.Tried]
	if c.Tried < all {
		c.Stopped = "the search " + looked(c.Tried) + ": " + strconv.Itoa(all-c.Tried) + " of the catalogue were not tried"
	}
	pass, miss := make([]int32, 0, len(grades)), make([]int32, 0, len(grades))
	for i := range grades {
		if grades[i].passes() {
			pass = append(pass, int32(i))
		} else {
			miss = append(miss, int32(i))
		}
	}
	c.Passing = len(pass)
	rank := func(a, b int32) int {
		x, y := &grades[a], &grades[b]
		return cmp.Or(
			cmp.Compare(x.unsafe, y.unsafe),
			cmp.Compare(options[a].like, options[b].like),
			cmp.Compare(options[a].fit, options[b].fit),
			cmp.Compare(x.cautions, y.cautions),
			cmp.Compare(x.price, y.price),
			cmp.Compare(options[a].off, options[b].off),
			strings.Compare(options[a].name, options[b].name),
		)
	}
	slices.SortFunc(pass, rank)
	slices.SortFunc(miss, func(a, b int32) int {
		x, y := &grades[a], &grades[b]
		return cmp.Or(
			trueFirst(x.usable, y.usable),
			cmp.Compare(x.conflicts, y.conflicts),
			cmp.Compare(options[a].like, options[b].like),
			cmp.Compare(y.share, x.share),
			cmp.Compare(options[a].off, options[b].off),
			strings.Compare(options[a].name, options[b].name),
		)
	})
	for _, i := range pass[:min(len(pass), ch.o.Limit)] {
		c.Candidates = append(c.Candidates, ch.candidate(&options[i], &grades[i]))
	}
	for _, i := range miss[:min(len(miss), nearMisses, ch.o.Limit)] {
		c.Candidates = append(c.Candidates, ch.candidate(&options[i], &grades[i]))
	}
}

// trueFirst compares as cmp.Compare does: what is so comes before what is not.
func trueFirst(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

// worker is what one goroutine plans with.
type worker struct {
	g     *catalog.Garment
	p     *rules.Planned
	tries plan.Tries
}

func (ch *chooser) worker() *worker {
	g := *ch.g // what is not a closure stays the garment's own
	g.Closures = slices.Clone(g.Closures)
	w := &worker{g: &g, tries: plan.Tries{Most: math.MaxInt}}
	p := plan.New(w.g, true)
	p.KeepRuns()
	p.Within(&w.tries)
	p.All()
	w.p = rules.NewPlanned(p)
	w.p.Unnoted = true
	w.places()
	return w
}

// places are those that the layouts tried since it was asked last, whether or
// not they had been found before.
func (w *worker) places() int {
	n := w.tries.Tried
	w.tries.Tried = 0
	return n
}

const batch = 64 // candidates that a worker takes at a time

// spread does n pieces of work in their order, each once, on every processor
// there is, until they have tried as many places as the chooser may. It
// returns how many count, which is the same however many processors there
// are.
func (ch *chooser) spread(n int, do func(w *worker, i int) (places int)) int {
	batches := (n + batch - 1) / batch
	tried := make([]int, batches) // places, -1 before it is done
	for b := range tried {
		tried[b] = -1
	}
	var next atomic.Int64
	var lock sync.Mutex
	total, done := int64(0), 0 // of the batches done without one missing before them
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), batches) {
		group.Go(func() {
			w := ch.worker()
			for {
				b := int(next.Add(1)) - 1
				if b >= batches {
					return
				}
				places := 0
				for i := b * batch; i < min((b+1)*batch, n); i++ {
					places += do(w, i)
				}
				lock.Lock()
				tried[b] = places
				for done < batches && tried[done] != -1 && total < ch.places {
					total += int64(tried[done])
					done++
				}
				enough := total >= ch.places
				lock.Unlock()
				if enough {
					return
				}
			}
		})
	}
	group.Wait()
	return min(done*batch, n)
}

// grade plans the garment with an option.
func (ch *chooser) grade(w *worker, i int, o *option) grade {
	var p *rules.Planned
	switch {
	case ch.how == fast && o.notion != nil:
		p = ch.with(w, o.notion)
	default:
		g, err := ch.g.Alter(ch.withOf(o)...)
		if err != nil {
			break
		}
		if ch.how == plain {
			p = rules.Found(g)
			break
		}
		touch := plan.Touches(g, ch.withOf(o))
		p = rules.NewPlanned(w.p.Plan.Again(g, touch))
		p.CheckAgain(ch.base, touch)
	}
	r := grade{i: i, price: o.entry.Price.Or(math.MaxFloat64)}
	if p == nil {
		return r
	}
	r.usable = true
	r.conflicts, r.cautions = ch.counts(p)
	if rules.IsChild(ch.g) {
		for j := range p.Findings {
			if f := &p.Findings[j]; f.Severity == rules.Caution && ch.on(f) && rules.Find(f.Rule).Safety() {
				r.unsafe++
			}
		}
	}
	_, n := ch.tightest(p)
	r.share = n.Share()
	return r
}

// with plans the worker's garment with another notion in the first closure
// chosen for: that closure alone is worked out again.
func (ch *chooser) with(w *worker, n *catalog.Notion) *rules.Planned {
	i := ch.at[0]
	w.g.Closures[i] = ch.g.Closures[i] // its sample may have gone with the one before
	if !w.g.SetNotion(i, n) {
		return nil
	}
	p := w.p
	p.Findings = p.Findings[:0]
	p.Redo(i)
	p.CheckAgain(ch.base, ch.touch)
	return p
}

// sorts are the sorts of choice as a rule names what it reads.
var sorts = map[string]rules.Reads{
	"notion": rules.ReadsNotion, "needle": rules.ReadsNeedle, "thread": rules.ReadsThread, "interfacing": rules.ReadsInterfacing,
}

// stays says whether a finding is one of the file's own that the choice does
// not change.
func (ch *chooser) stays(f *rules.Finding) bool {
	return ch.kept[f.Rule] && ch.count[spotOf(f)][f.Severity-rules.Caution] > 0
}

// beside are the conflicts that stay, whatever is chosen.
func (ch *chooser) beside() []string {
	var out []string
	for i := range ch.base.Findings {
		f := &ch.base.Findings[i]
		if f.Severity != rules.Conflict || !ch.on(f) || !ch.stays(f) {
			continue
		}
		if says := spotNames([]spot{spotOf(f)}); !slices.Contains(out, says) {
			out = append(out, says)
		}
	}
	return out
}

// counts are the conflicts and cautions of a plan that count against a
// candidate: those on its closures, and those elsewhere that are new.
func (ch *chooser) counts(p *rules.Planned) (conflicts, cautions int) {
	same, at := true, 0 // whether what is found elsewhere is what the file has there
	for i := range p.Findings {
		f := &p.Findings[i]
		switch {
		case f.Severity == rules.Note:
		case !ch.on(f):
			same = same && at < len(ch.others) && ch.others[at] == other{spotOf(f), f.Severity}
			at++
		case ch.stays(f):
		case f.Severity == rules.Conflict:
			conflicts++
		default:
			cautions++
		}
	}
	if !same {
		more, some := ch.count.worse(spotsIn(p), tallied(p))
		for _, s := range more {
			if !ch.about(s.closure) {
				conflicts++
			}
		}
		for _, s := range some {
			if !ch.about(s.closure) {
				cautions++
			}
		}
	}
	return conflicts, cautions
}

func (ch *chooser) on(f *rules.Finding) bool { return ch.about(f.Closure) }

func (ch *chooser) about(closure string) bool {
	for _, i := range ch.at {
		if ch.g.Closures[i].Name == closure {
			return true
		}
	}
	return false
}

// tightest is the rule that leaves the closures the least room. Where none
// compares anything the share of its numbers is all the room there is.
func (ch *chooser) tightest(p *rules.Planned) (rule string, n rules.Numbers) {
	x := rules.Context{G: p.Garment, P: p, U: p.Garment.Units}
	for _, i := range ch.at {
		x.C, x.K = &p.Garment.Closures[i], &p.Closures[i]
		for _, r := range ch.reads {
			if m := r.Room(&x); m.Compared && (rule == "" || m.Share() < n.Share()) {
				rule, n = r.Name, m
			}
		}
	}
	return rule, n
}

// candidate is an option with the words of its plan.
func (ch *chooser) candidate(o *option, r *grade) Candidate {
	c := Candidate{
		Name: o.name, About: o.entry.About, Own: o.entry.File != "", With: ch.withOf(o),
		Passes: r.passes(), Conflicts: r.conflicts, Cautions: r.cautions, Price: o.entry.Price,
	}
	ch.words(&c)
	return c
}

// words fills in what only the plan of a candidate can say.
func (ch *chooser) words(c *Candidate) {
	g, err := ch.g.Alter(c.With...)
	if err != nil {
		_, says, _ := strings.Cut(err.Error(), ": ")
		if says, _, _ = strings.Cut(says, "\n"); says == "" {
			says = err.Error()
		}
		c.Fails = "it cannot be used: " + says
		return
	}
	p := rules.Plan(g)
	var numbers rules.Numbers
	if c.Tightest, numbers = ch.tightest(p); c.Tightest != "" {
		c.Numbers, c.Share = numbers, numbers.Share()
	}
	new, _ := ch.count.worse(spotsIn(p), tallied(p))
	for i := range p.Findings {
		f := &p.Findings[i]
		counts := ch.on(f) || slices.Contains(new, spotOf(f))
		switch {
		case f.Severity == rules.Note || ch.on(f) && ch.stays(f):
		case f.Severity == rules.Conflict && counts && c.Fails == "":
			c.Fails, c.Rule = f.Message(), f.Rule
			if !ch.on(f) && f.Closure != "" {
				c.Fails = f.Closure + ": " + c.Fails
			}
		case f.Severity == rules.Caution && counts && ch.on(f) && !slices.Contains(c.Cares, f.Rule):
			c.Cares = append(c.Cares, f.Rule)
		}
	}
	if c.Fails == "" && c.Share < 0 {
		c.Fails, c.Rule = "its own ± decides: it may pass and it may not, so measure a real one first", c.Tightest
		for i := range p.Findings {
			// Outside its ± as well: only what the figure rests on keeps it from being a conflict.
			if f := &p.Findings[i]; f.Rule == c.Tightest && f.Unsure && ch.on(f) && f.Compared && f.Margin+f.Tol < 0 {
				line, _ := rules.Find(f.Rule).Say(f, g.Units)
				c.Fails = line + "; " + f.Doubt()
				break
			}
		}
	}
}

// family is a notion's name without its size, which is its last part where
// that has a figure: horn of horn-40. A size of several parts, as in
// hook-eye-8-5mm, goes whole.
func family(name string) string {
	i := strings.LastIndexByte(name, '-')
	if i == -1 || !strings.ContainsAny(name[i:], "0123456789") {
		return name
	}
	for {
		j := strings.LastIndexByte(name[:i], '-')
		if j == -1 || name[j+1] < '0' || name[j+1] > '9' {
			return name[:i]
		}
		i = j
	}
}

// member is a notion of a family with what it makes of each closure.
type member struct {
	option
	across measure.Length
	grades []grade // by the order of chooser.at
}

// families finds, for every family, the best member for each closure.
func (ch *chooser) families(c *Choice) {
	g := ch.g
	kind := g.Closures[ch.at[0]].Notion.Kind
	var members []member
	for _, n := range g.Catalog.Notions {
		if n.Kind == kind && ch.asked(n) && ch.opens(n) {
			members = append(members, member{option: option{name: n.Name, entry: &n.Entry, notion: n}, across: plan.AcrossOf(n), grades: make([]grade, len(ch.at))})
		}
	}
	if now := g.Closures[ch.at[0]].Notion; ch.g.Closures[ch.at[0]].Use != "" {
		c.Now = family(now.Name)
	}
	each := make([]*chooser, len(ch.at))
	for k, i := range ch.at {
		one := *ch
		one.at = []int{i}
		one.touch = plan.TouchOne(g, i, plan.Touched)
		one.lookElsewhere()
		each[k] = &one
	}
	all := len(members)
	members = members[:min(all, max(1, ch.most/len(ch.at)))]
	n := ch.spread(len(members), func(w *worker, m int) int {
		for k := range ch.at {
			members[m].grades[k] = each[k].grade(w, m, &members[m].option)
			w.restore(ch.g, ch.base, ch.at[k]) // for the next closure
		}
		return w.places()
	})
	members = members[:n]
	if n < all {
		c.Stopped = "the search " + looked(n*len(ch.at)) + ": " + strconv.Itoa(all-n) + " of the catalogue were not tried"
	}
	groups := map[string][]*member{}
	var names []string
	for m := range members {
		f := family(members[m].name)
		if groups[f] == nil {
			names = append(names, f)
		}
		groups[f] = append(groups[f], &members[m])
	}
	c.Tried = len(names)
	picked := make([]picking, len(names))
	ch.spread(len(names), func(_ *worker, i int) int {
		picked[i] = ch.pick(names[i], groups[names[i]])
		return 0
	})
	sort.Slice(picked, func(i, j int) bool { return comparePickings(picked[i], picked[j]) < 0 })
	misses := 0
	for i := range picked {
		p := &picked[i]
		if p.passes() {
			c.Passing++
			if c.Passing > ch.o.Limit {
				continue
			}
		} else if misses++; misses > min(nearMisses, ch.o.Limit) {
			continue
		}
		c.Candidates = append(c.Candidates, ch.picked(p))
	}
}

// restore puts closure i back to what the file has.
func (w *worker) restore(g *catalog.Garment, base *rules.Planned, i int) {
	c := &w.g.Closures[i]
	c.Notion, c.Use, c.Fastener = g.Closures[i].Notion, g.Closures[i].Use, g.Closures[i].Fastener
	k := &w.p.Closures[i]
	*k = base.Closures[i]
	k.Closure = c
	w.p.LayPieces()
}

// picking is the best that a family does.
type picking struct {
	family    string
	members   []*member // for each closure, nil where none passes
	conflicts int       // closures without a member, or of the whole plan
	cautions  int
	off       float64
	price     float64
	like      int // of its make to what the file has
}

func (p *picking) passes() bool { return p.conflicts == 0 }

func comparePickings(a, b picking) int {
	return cmp.Or(
		trueFirst(a.passes(), b.passes()),
		cmp.Compare(a.conflicts, b.conflicts),
		cmp.Compare(a.like, b.like),
		cmp.Compare(a.cautions, b.cautions),
		cmp.Compare(a.price, b.price),
		cmp.Compare(a.off, b.off),
		strings.Compare(a.family, b.family),
	)
}

// pick chooses the members of one family: the fewest cautions in all, then
// the nearest in size to what the file has, never against the order of sizes
// in the file. Where the members cannot keep that order, or none passes for
// some closure, as many closures as possible get one.
func (ch *chooser) pick(name string, members []*member) picking {
	members = slices.Clone(members)
	slices.SortFunc(members, func(a, b *member) int {
		return cmp.Or(cmp.Compare(b.across, a.across), strings.Compare(a.name, b.name))
	})
	// The closures, the largest fastener of the file first.
	order := make([]int, len(ch.at))
	now := make([]measure.Length, len(ch.at))
	for k, i := range ch.at {
		order[k], now[k] = k, plan.AcrossOf(&ch.g.Closures[i].Notion)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(now[b], now[a]) })
	type best struct {
		missing, cautions int
		off               float64
		from              int // the member of the closure before, -1 none
		choice            int // the member of this one, -1 none
	}
	better := func(a, b best) bool {
		return cmp.Or(cmp.Compare(a.missing, b.missing), cmp.Compare(a.cautions, b.cautions), cmp.Compare(a.off, b.off)) < 0
	}
	// rows[k][m] is the best for the first k closures when the smallest
	// member used so far is m, or len(members) for none used.
	none := len(members)
	fill := func() []best {
		row := []best{{missing: math.MaxInt}}
		for range members {
			row = append(row, row[0])
		}
		return row
	}
	state := [][]best{fill()}
	state[0][none] = best{}
	for s, k := range order {
		state = append(state, fill())
		for last, b := range state[s] {
			if b.missing == math.MaxInt {
				continue
			}
			if skip := (best{b.missing + 1, b.cautions, b.off, last, -1}); better(skip, state[s+1][last]) {
				state[s+1][last] = skip
			}
			// Of two that are equal in the file the first counts as the larger.
			for m, x := range members {
				if last != none && x.across > members[last].across {
					continue
				}
				r := &x.grades[k]
				if !r.passes() || !alike(x.across, now[k]) {
					continue
				}
				next := best{b.missing, b.cautions + r.cautions, b.off + (x.across - now[k]).Abs().MM(), last, m}
				if better(next, state[s+1][m]) {
					state[s+1][m] = next
				}
			}
		}
	}
	p := picking{family: name, like: likeMake(members[0].notion, &ch.g.Closures[ch.at[0]].Notion), members: make([]*member, len(ch.at))}
	end := 0
	for m := range state[len(order)] {
		if better(state[len(order)][m], state[len(order)][end]) {
			end = m
		}
	}
	b := state[len(order)][end]
	p.conflicts, p.cautions, p.off = b.missing, b.cautions, b.off
	for s := len(order); s > 0; s-- {
		b := state[s][end]
		if b.choice != -1 {
			p.members[order[s-1]] = members[b.choice]
		}
		end = b.from
	}
	for _, m := range p.members {
		if m == nil {
			continue
		}
		p.price = min(p.price+m.entry.Price.Or(math.MaxFloat64), math.MaxFloat64)
	}
	return p
}

// alike says whether two sizes are near enough to take one for the other.
func alike(a, b measure.Length) bool {
	return float64(a) <= likeSize*float64(b) && float64(b) <= likeSize*float64(a)
}

// picked is a family in words.
func (ch *chooser) picked(p *picking) Candidate {
	c := Candidate{Name: p.family, Passes: p.passes(), Conflicts: p.conflicts, Cautions: p.cautions, AsIs: true}
	var total float64
	priced := true
	for k, m := range p.members {
		name := ch.g.Closures[ch.at[k]].Name
		if m == nil {
			c.Picks, c.AsIs = append(c.Picks, Pick{Closure: name}), false
			if c.Fails == "" {
				c.Fails = "no size near that of the file passes on " + name
			} else {
				c.Fails += " and " + name
			}
			continue
		}
		c.Picks, c.AsIs = append(c.Picks, Pick{name, m.name, m.across}), c.AsIs && m.name == ch.g.Closures[ch.at[k]].Notion.Name
		c.With = append(c.With, ch.g.Replace("closure", name, m.name)...)
		c.Own = c.Own || m.entry.File != ""
		total, priced = total+m.entry.Price.V, priced && m.entry.Price.Has()
	}
	if priced && c.Passes {
		c.Price = catalog.Opt[float64]{V: total, From: catalog.Stock}
	}
	if c.Passes {
		ch.words(&c)
	}
	return c
}
