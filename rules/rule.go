// Package rules is what the trade says about a closure: it turns a garment
// into a plan and says what in it will not work.
//
// A plan is a pure function of a garment. Nothing here does input or output
// or keeps state; what-if, fixes, fragility and choice are searches over
// plans.
package rules

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
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
	Severity Severity         // the gravest it reports
	Title    string           // one line, in a sewist's words
	Figure   string           // what its figures measure, for its line where the message is too long for one; see Say
	Formula  string           // how it is worked out; {name} is a threshold of Limits, also in Why, Others and Ours
	Why      string           // what goes wrong otherwise
	Sources  []string         // publications; "common practice, no source"; "from memory"
	Others   string           // rules that disagree, and how to ask for them
	Ours     string           // thresholds that are our own choice, "" if none
	Limits   []plan.Threshold // what it decides by
	// Rests are the inputs that its conflicts rest on, as keys of the file with *
	// for a name: with another value of one of them there might be none. A key
	// stands for all below it too. What an entry of a catalogue says counts no
	// more than that entry is sure. fibre.* and family.* are entries themselves.
	// FileSays before them: the file alone says them, of an entry there is nothing
	// but what kind of fastener it is, and no weak ground comes in.
	Rests []string
	// Lenient are its thresholds of our own that a conflict stops at: each lets
	// pass what its source, which has no leeway, would forbid.
	Lenient []string
	Task    Task  // of the work, that carries what it found; NoTask if none does
	At      Bench // where its notes are needed, where its task does not say
	Reads   Reads // the choices that can change its verdict

	// Room says how far a closure is from a conflict of the rule: what it has,
	// what it needs, and the margin, which is negative where the rule reports
	// a conflict. Numbers that compared nothing mean that the rule does not
	// apply. noRoom is for rules that compare no figures.
	Room func(*Context) Numbers

	// Check looks at one closure, or, for a rule about the whole garment,
	// at the garment.
	Check   func(*Context)
	garment bool
	others  bool // it looks at the fasteners of the closures before, too
	unlaid  bool // what it finds has no places: there is nothing to mark
	// Touches are the keys that its proposals may change, with * for a name:
	// closure.*.stand.extension. A key stands for all below it too.
	Touches []string
	// Propose gives changes that its formula says would clear a finding. They
	// are only candidates: whoever shows one must plan it first.
	Propose func(*Context, *Finding) []Change
}

// FileSays is the first of the Rests of a rule whose conflicts rest on nothing
// but what the file itself says.
const FileSays = "the file"

// ByFile says whether they do.
func (r *Rule) ByFile() bool { return len(r.Rests) > 0 && r.Rests[0] == FileSays }

// Explained is the rule with its thresholds put into its texts, each in the
// unit of its source first, or in the one that is read alone.
func (r *Rule) Explained(u measure.Unit) Rule {
	e := *r
	if len(r.Limits) == 0 {
		return e
	}
	var pairs []string
	for i := range r.Limits {
		pairs = append(pairs, "{"+r.Limits[i].Name+"}", r.Limits[i].Text(u))
	}
	fill := strings.NewReplacer(pairs...)
	for _, s := range [...]*string{&e.Formula, &e.Why, &e.Others, &e.Ours} {
		*s = fill.Replace(*s)
	}
	return e
}

// Change is a proposed change to a garment.
type Change struct {
	With []catalog.With
	Says string  // the same in words
	Cost float64 // how large a change it is: smaller is tried and shown first
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

	Tries *plan.Tries // places that a proposal may try; nil: as many as it likes
}

// path is a path inside the closure that is looked at.
func (x *Context) path(key string) string { return x.at(key).String() }

// at is the place of a key of the closure that is looked at.
func (x *Context) at(key string) place { return place{x.C.Index, key} }

// len is a length in words: to the nearest mark.
func (x *Context) len(l measure.Length) string { return l.Text(x.U) }

// up and down are lengths of proposals in words: a least that was rounded up in
// the units of the garment, a most that was rounded down. Each unit holds.
func (x *Context) up(l measure.Length) string { return l.TextLeast(x.U) }

func (x *Context) down(l measure.Length) string { return l.TextMost(x.U) }

// Said is a length of a finding, put into words only when it is printed.
type Said struct {
	l, other measure.Length
	hi       measure.Length
	u        measure.Unit
	how      manner
	thin     bool           // the thickness of cloth or the like: see Length.TextThin
	tol      measure.Length // its ±, where it is an estimate
}

type manner uint8

const (
	plainly   manner = iota
	upwards          // a least
	downwards        // a most
	apart            // against the other, which it is not to read like
	short            // the same, short of a least
	over             // the same, over a most
	within           // not below other and not above hi
)

func (s Said) String() string {
	against := func(plain func(a, b measure.Length, u measure.Unit) (string, string), thin func(a, b measure.Length, u measure.Unit) (string, string)) string {
		t := ""
		if s.thin {
			t, _ = thin(s.l, s.other, s.u)
		} else {
			t, _ = plain(s.l, s.other, s.u)
		}
		return t
	}
	switch {
	case s.tol > 0:
		return measure.Toleranced{V: s.l, Tol: s.tol}.TextThin(s.u)
	case s.how == apart:
		return against(measure.TextApart, measure.TextThinApart)
	case s.how == short:
		return against(measure.TextShort, measure.TextThinShort)
	case s.how == over:
		return against(measure.TextOver, measure.TextThinOver)
	case s.how == within:
		return s.l.TextWithin(s.other, s.hi, s.u)
	case s.thin && s.how == upwards:
		return s.l.TextThinLeast(s.u)
	case s.thin && s.how == downwards:
		return s.l.TextThinMost(s.u)
	case s.thin:
		return s.l.TextThin(s.u)
	case s.how == upwards:
		return s.l.TextLeast(s.u)
	case s.how == downwards:
		return s.l.TextMost(s.u)
	}
	return s.l.Text(s.u)
}

// Thin is a thickness of cloth, a stitch or a gap at the needle.
func (s Said) Thin() Said { s.thin = true; return s }

// free is how thick a stack lies, with its ± where it is an estimate.
func (x *Context) free(s *plan.Stack) Said { return x.estimate(s.Thick, s.Tol, s.Estimated) }

// estimate is a thickness, with its ± where it is an estimate.
func (x *Context) estimate(l, tol measure.Length, is bool) Said {
	s := x.sayThin(l)
	if is {
		s.tol = tol
	}
	return s
}

// say is len, put into words only when it is printed.
func (x *Context) say(l measure.Length) Said { return Said{l: l, u: x.U} }

// sayThin is say for a thickness of cloth, a stitch or a gap at the needle.
func (x *Context) sayThin(l measure.Length) Said { return x.say(l).Thin() }

// Least is a least that was computed: typed back as it is printed, it holds.
func (x *Context) Least(l measure.Length) Said { return Said{l: l, u: x.U, how: upwards} }

// Most is a most that was computed: typed back as it is printed, it holds.
func (x *Context) Most(l measure.Length) Said { return Said{l: l, u: x.U, how: downwards} }

// Apart are two lengths that a message compares. Where they would read alike
// though they differ, the first says how far it is from the second.
func (x *Context) Apart(a, b measure.Length) (Said, Said) {
	return Said{l: a, other: b, u: x.U, how: apart}, x.say(b)
}

// Short are a length and the least that it is short of.
func (x *Context) Short(have, need measure.Length) (Said, Said) {
	return Said{l: have, other: need, u: x.U, how: short}, x.Least(need)
}

// Within is a length that neither goes below lo nor above hi: typed back as it
// is printed, it holds both.
func (x *Context) Within(l, lo, hi measure.Length) Said {
	return Said{l: l, other: lo, hi: hi, u: x.U, how: within}
}

// printedUp is the largest that a least is printed as, in either unit.
func printedUp(l measure.Length) measure.Length { return max(l.Least(measure.In), l.Least(measure.MM)) }

// printedDown is the smallest that a most is printed as, in either unit.
func printedDown(l measure.Length) measure.Length { return min(l.Most(measure.In), l.Most(measure.MM)) }

// Over are a length and the most that it is over.
func (x *Context) Over(have, limit measure.Length) (Said, Said) {
	return Said{l: have, other: limit, u: x.U, how: over}, x.Most(limit)
}

// ThinApart is Apart for thicknesses of cloth.
func (x *Context) ThinApart(a, b measure.Length) (Said, Said) {
	s, t := x.Apart(a, b)
	return s.Thin(), t.Thin()
}

// Bound is a figure that a finding says to write in the file: not below it, or
// not above it.
type Bound struct {
	Key  string // of the file, as --with takes it
	Most bool   // not above it
	Says string // as it is printed: 1 3/8 in (35 mm), 90/14
	// Figure is the exact one: mm, NM, a count, °C.
	Figure float64
}

// Bounding is For with both its least and its most.
func (s Said) Bounding(at place) limits {
	return limits{bounded{Stringer: s, at: at, figure: s.other.MM()}, bounded{Stringer: s, at: at, most: true, figure: s.hi.MM()}}
}

// limits are one figure that is a least and a most.
type limits [2]bounded

func (l limits) String() string { return l[0].String() }

// For says which key of the file a length of a message is written to: typed
// there, as it is printed, it holds.
func (s Said) For(at place) bounded {
	return bounded{Stringer: s, at: at, most: s.how == downwards || s.how == over, figure: s.l.MM()}
}

// bounded is a figure of a message that a key of the file can have.
type bounded struct {
	fmt.Stringer
	at            place
	most          bool
	figure        float64
	before, after string
}

func (b bounded) String() string { return b.before + b.Stringer.String() + b.after }

// bound is a figure of another sort for a key: a size, a count, a heat.
func bound(says fmt.Stringer, figure float64, at place) bounded {
	return bounded{Stringer: says, at: at, figure: figure}
}

// notOver says that it is a most.
func (b bounded) notOver() bounded { b.most = true; return b }

// in puts words round it.
func (b bounded) in(before, after string) bounded {
	b.before, b.after = before, after
	return b
}

// spanned is a range of lengths to stay in.
type spanned struct {
	lo, hi measure.Length
	u      measure.Unit
	thin   bool
	at     place
}

// span is a range to stay in that a key is written from.
func (x *Context) span(at place, lo, hi measure.Length) spanned {
	return spanned{lo, hi, x.U, false, at}
}

// Thin is a range of thicknesses of cloth or the like.
func (s spanned) Thin() spanned { s.thin = true; return s }

func (s spanned) String() string {
	if s.thin {
		return measure.TextThinSpan(s.lo, s.hi, s.u)
	}
	return measure.TextSpan(s.lo, s.hi, s.u)
}

// ends are its two ends as they are printed: of 2.5 to 3.5 mm (3/32 to 1/8 in),
// 2.5 mm (3/32 in) and 3.5 mm (1/8 in).
func (s spanned) ends() (lo, hi bounded) {
	var from, to [2]string
	own, other, _ := strings.Cut(strings.TrimSuffix(s.String(), ")"), " (")
	for i, t := range [...]string{own, other} {
		a, b, two := strings.Cut(t, " to ")
		if !two {
			a, b = t, t
		} else {
			a += b[strings.LastIndexByte(b, ' '):]
		}
		from[i], to[i] = a, b
	}
	end := func(t [2]string, l measure.Length, most bool) bounded {
		return bounded{Stringer: later(func() string { return sameIn(t[0], t[1]) }), at: s.at, most: most, figure: l.MM()}
	}
	return end(from, s.lo, false), end(to, s.hi, true)
}

// sameIn is a figure with the same in the other unit, where it is told in both.
func sameIn(own, other string) string {
	if other == "" {
		return own
	}
	return own + " (" + other + ")"
}

// together are figures that are written together.
type together []bounded

func (t together) String() string {
	words := make([]string, len(t))
	for i, b := range t {
		words[i] = b.String()
	}
	return text.And(words...)
}

// Bounds are the figures that a finding says to write in the file.
func (f *Finding) Bounds(g *catalog.Garment) []Bound {
	var out []Bound
	add := func(bs ...bounded) {
		for _, b := range bs {
			out = append(out, Bound{g.KeyOf(b.at.String()), b.most, b.Stringer.String(), b.figure})
		}
	}
	for _, a := range f.args {
		switch b := a.(type) {
		case bounded:
			add(b)
		case together:
			add(b...)
		case limits:
			add(b[:]...)
		case sizes:
			add(b[:]...)
		case spanned:
			lo, hi := b.ends()
			add(lo, hi)
		}
	}
	return out
}

// ThinShort is Short for thicknesses of cloth.
func (x *Context) ThinShort(have, need measure.Length) (Said, Said) {
	s, t := x.Short(have, need)
	return s.Thin(), t.Thin()
}

// ThinOver is Over for thicknesses of cloth.
func (x *Context) ThinOver(have, limit measure.Length) (Said, Said) {
	s, t := x.Over(have, limit)
	return s.Thin(), t.Thin()
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
	snapRules,
	eyeletRules,
	tackRules,
	zipRules,
	loopRules,
	pieceRules,
	clothRules,
	plaidRules,
	thickRules,
	orderRules,
	safetyRules,
	[]*Rule{WithinRule, SettledRule},
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

// About are the rules that have a word in their name or in their title.
func About(word string) (found []*Rule) {
	for _, r := range AllRules {
		if strings.Contains(strings.ToLower(r.Name+" "+r.Title), strings.ToLower(word)) {
			found = append(found, r)
		}
	}
	return found
}
