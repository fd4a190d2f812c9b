package sheet

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
)

// The screen is what a person reads of a garment: what to settle, what to
// sample, what to know, each thing once and in one line.

// screenPart is a part of the screen.
type screenPart struct {
	title string
	has   func(e *rules.Entry) bool
}

var screenParts = []screenPart{
	{"Settle before you cut", func(e *rules.Entry) bool { return e.Severity == rules.Conflict }},
	{"For safety, before you cut", func(e *rules.Entry) bool { return e.Severity == rules.Caution && rules.Find(e.Rule).Safety() }},
	{"Give it places before you cut", func(e *rules.Entry) bool { return e.Severity == rules.Caution && e.Unlaid() }},
	{"Sew a sample first", func(e *rules.Entry) bool {
		return e.Severity == rules.Caution && !rules.Find(e.Rule).Safety() && !e.Unlaid()
	}},
	{"At the table", noteAt(rules.AtTable)},
	{"At the machine", noteAt(rules.AtMachine)},
	{"Worth knowing", noteAt(rules.ToKnow)},
}

func noteAt(at rules.Bench) func(e *rules.Entry) bool {
	return func(e *rules.Entry) bool { return e.Severity == rules.Note && rules.Find(e.Rule).Bench() == at }
}

// item is one thing on the screen.
type item struct {
	entries []*rules.Entry
	where   string // closures and sizes, "" where that goes without saying
	line    string
	rule    string
	offer   []*rules.Fix // the changes that stand under it, at most mostTries
	refs    []int        // its sources, where a document numbers them
	in      []string     // the variants that have it; none: all
}

func (it *item) severity() rules.Severity { return it.entries[0].Severity }

// tries are the changes of an item that settle it, the smallest first. One that
// changes no closure and settles it on some of its closures alone names those.
func (it *item) tries() []*rules.Fix {
	var out []*rules.Fix
	for _, e := range it.entries {
		for i := range e.Fixes {
			x := &e.Fixes[i]
			if slices.ContainsFunc(out, x.Same) {
				continue
			}
			var on, not []string
			for _, o := range it.entries {
				for _, c := range closuresOf(o) {
					switch is := slices.ContainsFunc(o.Fixes, func(y rules.Fix) bool { return x.Same(&y) }); {
					case is && !slices.Contains(on, c):
						on = append(on, c)
					case !is && !slices.Contains(not, c):
						not = append(not, c)
					}
				}
			}
			not = slices.DeleteFunc(not, func(c string) bool { return slices.Contains(on, c) })
			if len(not) > 0 && !slices.ContainsFunc(x.With, func(w catalog.With) bool { return strings.HasPrefix(w.Key, "closure.") }) {
				alone := *x
				alone.Says += " (settles " + text.And(on...) + " alone)"
				x = &alone
			}
			out = append(out, x)
		}
	}
	return out
}

// items are the things of a part among some of what was found.
func (s *Garment) items(p *screenPart, found []rules.Entry) []item {
	var out []item
	for _, es := range rules.Alike(found, s.unit, p.has) {
		e := es[0]
		line, _ := rules.Find(e.Rule).Say(&e.Finding, s.unit)
		out = append(out, item{entries: es, where: s.whereWorst(es, line), line: line, rule: e.Rule, in: e.In})
	}
	return out
}

// whereWorst is the closures and sizes of entries in words, the first of them
// the one whose line is told: those that it is not true of come after it.
func (s *Garment) whereWorst(es []*rules.Entry, line string) string {
	var told, less []*rules.Entry
	var closures []string
	for i := range 2 { // the line's own first
		for _, e := range es {
			says, _ := rules.Find(e.Rule).Say(&e.Finding, s.unit)
			switch own := says == line; {
			case i == 0 && own:
				told, closures = append(told, e), append(closures, closuresOf(e)...)
			case i == 1 && !own && slices.ContainsFunc(closuresOf(e), func(c string) bool { return slices.Contains(closures, c) }):
				told = append(told, e)
			case i == 1 && !own:
				less = append(less, e)
			}
		}
	}
	where := s.whereAll(told)
	if rest := s.whereAll(less); rest != "" {
		where += ", less so " + rest
	}
	return where
}

// clothsAlike makes one of notes that say the same of several cloths.
func (s *Garment) clothsAlike(items []item) []item {
	type note struct{ rule, says string }
	names := map[note][]string{}
	first := map[note]int{}
	var out []item
	for _, it := range items {
		k := note{rule: it.rule}
		name := s.clothOf(&it)
		if name != "" {
			k.says = strings.Replace(it.line, " "+name+" ", " \x00 ", 1)
		}
		n, known := first[k]
		switch {
		case name == "" || !strings.Contains(k.says, "\x00"):
			out = append(out, it)
		case !known:
			first[k], names[k] = len(out), []string{name}
			out = append(out, it)
		default:
			names[k] = append(names[k], name)
			out[n].entries = append(slices.Clip(out[n].entries), it.entries...)
			out[n].line = strings.Replace(k.says, "\x00", text.And(names[k]...), 1)
		}
	}
	return out
}

// clothOf is the cloth that a note is about, "" where it is about more.
func (s *Garment) clothOf(it *item) string {
	path, is := strings.CutPrefix(it.entries[0].Path(), "cloth.")
	if !is || it.severity() != rules.Note || it.where != "" || len(it.tries()) > 0 {
		return ""
	}
	i := slices.IndexFunc(s.plan.Garment.ClothNames, func(n string) bool { return strings.HasPrefix(path, source.Join("", n)+".") })
	if i < 0 {
		return ""
	}
	return s.plan.Garment.ClothNames[i]
}

// whereAll is the closures and sizes of entries in words.
func (s *Garment) whereAll(es []*rules.Entry) string {
	var closures, out []string
	sizes := map[string][]string{}
	for _, e := range es {
		for _, c := range closuresOf(e) {
			if !slices.Contains(closures, c) {
				closures = append(closures, c)
			}
			for _, z := range sizesOf(e, c) {
				if !slices.Contains(sizes[c], z) {
					sizes[c] = append(sizes[c], z)
				}
			}
		}
	}
	for _, c := range closures {
		name := c
		if len(s.Closures) < 2 {
			name = ""
		}
		if all := s.sizeNames(); len(sizes[c]) > 0 && len(sizes[c]) < len(all) {
			slices.SortFunc(sizes[c], func(a, b string) int { return slices.Index(all, a) - slices.Index(all, b) })
			name = strings.TrimSpace(name + " " + text.And(sizes[c]...))
		}
		if name != "" && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return strings.Join(out, ", ")
}

func closuresOf(e *rules.Entry) []string {
	if cs := e.Closures(); len(cs) > 0 {
		return cs
	}
	return []string{""}
}

// sizesOf are the sizes of one closure that have a cause.
func sizesOf(e *rules.Entry, closure string) []string {
	var out []string
	for _, f := range e.Where {
		if f.Closure == closure && f.Size != "" && !slices.Contains(out, f.Size) {
			out = append(out, f.Size)
		}
	}
	return out
}

// sizeNames are the sizes that are shown.
func (s *Garment) sizeNames() []string {
	return slices.DeleteFunc(slices.Clone(s.plan.Garment.Sizes), func(z string) bool { return !s.shows(z) })
}

const mostTries = 3 // a line each

// things are a part of the screen with what is in it.
type things struct {
	Title string // "" where the part before has the same
	In    string // the variants that have them; "" all
	Items []item
	last  bool // of its title
	// offers says that changes stand under them, the first of a page that have any.
	offers bool
}

// things are the parts of the screen that have something, of one severity
// where only that is asked for; what is left out in words; and how many there
// are of each severity in all.
func (s *Garment) things(only string) (out []things, left []string, count map[rules.Severity]int) {
	count = map[rules.Severity]int{}
	// What settles a conflict is not offered once more for a caution of the
	// same variants.
	offered := map[string][]*rules.Fix{}
	groups := s.groups()
	for i := range screenParts {
		p := &screenParts[i]
		title := p.title
		hidden := 0
		for _, items := range s.shared(p, groups) {
			sev := items[0].severity()
			count[sev] += len(items)
			if only != "" && sev.String() != only {
				hidden += len(items)
				continue
			}
			in := inWords(items[0].in)
			before := slices.Concat(offered[""], offered[in])
			offered[in] = s.offer(items, before)
			if title == "" {
				out[len(out)-1].last = false
			}
			out = append(out, things{title, in, items, true, false})
			title = ""
		}
		if hidden > 0 {
			left = append(left, strings.ToLower(p.title)+" "+itoa(hidden))
		}
	}
	return out, left, count
}

// offer gives things the changes that stand under them; those that were
// offered for a conflict before are not offered once more.
func (s *Garment) offer(items []item, offered []*rules.Fix) []*rules.Fix {
	for j := range items {
		it := &items[j]
		it.offer = it.tries()
		if it.severity() != rules.Conflict {
			it.offer = slices.DeleteFunc(it.offer, func(x *rules.Fix) bool { return slices.ContainsFunc(offered, x.Same) })
		}
		offered = append(offered, it.offer...)
		it.offer = it.offer[:min(len(it.offer), mostTries)]
	}
	return offered
}

// Stuck says that nothing was found that clears it.
func (it *item) Stuck() string {
	if len(it.offer) > 0 || it.severity() != rules.Conflict || !slices.ContainsFunc(it.entries, func(e *rules.Entry) bool { return e.Stuck != "" }) {
		return ""
	}
	if slices.ContainsFunc(it.entries, func(e *rules.Entry) bool { return e.Cut }) {
		return "No change was found before the search stopped: see check --full."
	}
	return "No setting clears this: change the garment as described."
}

// For the page, which reads them as the terminal does.

func (it *item) Severity() string    { return it.severity().String() }
func (it *item) Offer() []*rules.Fix { return it.offer }
func (it *item) Refs() []int         { return it.refs }

// Says is the line of an item.
func (it *item) Says() string {
	says := it.line
	if it.severity() != rules.Note {
		says += " [" + it.rule + "]"
	}
	if it.where != "" {
		says = it.where + ": " + says
	}
	return says
}

// Reopened is where it was settled before, in words.
func (it *item) Reopened() []string {
	var out []string
	for _, e := range it.entries {
		if e.Reopened != nil {
			out = append(out, seeing(e.Reopened))
		}
	}
	return out
}

// screen writes the screen of a garment, and gives how many there are of each
// severity.
func (t *terminal) screen(s *Garment) map[rules.Severity]int {
	parts, left, count := s.things(t.o.Only)
	summary, next := s.summaryOf(count[rules.Conflict], count[rules.Caution], count[rules.Note], t.o.Strict)
	t.painted(s.Verdict, s.Verdict, func() { t.flowIn("", 2, s.Garment+": "+s.Verdict+": "+summary+". "+next) })
	for i := range parts {
		if parts[i].Title != "" {
			t.line("")
		}
		t.things(s, &parts[i])
	}
	t.verdicts(s)
	t.foot(s, left)
	return count
}

// things writes a part of the screen.
func (t *terminal) things(s *Garment, p *things) {
	if p.Title != "" {
		t.put(t.bold(p.Title))
	}
	if p.In != "" {
		t.flowIn("  ", 4, "In "+p.In+":")
	}
	for i := range p.Items {
		t.item(&p.Items[i])
	}
	if p.last && p.Items[0].severity() == rules.Conflict {
		t.jointLine(s)
	}
}

// brief writes a part of the screen on the page to work from, which leaves it
// to check to tell what would settle each thing.
func (t *terminal) brief(s *Garment, p *things) {
	items := slices.Clone(p.Items)
	for i := range items {
		items[i].offer = nil
	}
	t.things(s, &things{p.Title, p.In, items, false, false})
	if p.offers {
		t.flow("  ", "What would settle it: placketeer check")
	}
}

// verdicts writes what stands in the way of each variant.
func (t *terminal) verdicts(s *Garment) {
	if v := s.verdicts(false); v != nil {
		t.line("")
		t.block(nil, v)
	}
}

// jointLine writes what settles all conflicts together.
func (t *terminal) jointLine(s *Garment) {
	for _, j := range s.joints() {
		t.flow("  ", j.says)
		var with []string
		for _, w := range j.with {
			with = append(with, text.Shell(w))
		}
		if len(with) > 0 {
			t.flow("       ", strings.Join(with, " "))
		}
	}
}

// typed is the garment's file as it is typed on a command line.
func (s *Garment) typed() string { return typed(s.plan.Garment) }

// typed is the file of a garment, and its variant, on a command line.
func typed(g *catalog.Garment) string {
	file := text.Shell(g.File)
	if g.File == catalog.StdinName {
		file = "-"
	}
	if g.Variant != "" {
		file += " --variant " + text.Shell(g.Variant)
	}
	return file
}

// foot writes what stands below the things: what is left out, what to measure,
// what is settled, what a change did, and where more is to be read.
func (t *terminal) foot(s *Garment, left []string) {
	var words [][2]string
	if len(left) > 0 {
		words = append(words, [2]string{"Left out: ", strings.Join(left, ", ") + " (only " + t.o.Only + "s are asked for)"})
	}
	if first := s.measureFirst(); first != "" {
		words = append(words, [2]string{"Measure first: ", first})
	}
	if ws := s.settledWords(); len(ws) > 0 {
		words = append(words, [2]string{"Settled: ", strings.Join(ws, "; ")})
	}
	for _, w := range s.changeWords() {
		words = append(words, [2]string{"", w})
	}
	if len(words) > 0 {
		t.line("")
	}
	for _, w := range words {
		t.flowIn(w[0], 2, w[1])
	}
	if len(words) == 0 && len(s.found) == 0 {
		t.line("")
	}
	more := "placketeer spec " + s.typed()
	if len(s.found) > 0 {
		more = "placketeer explain " + s.found[0].Rule + ", check --full, spec"
	}
	t.flowIn("More: ", 2, more)
}

// item writes one thing with what settles it.
func (t *terminal) item(it *item) {
	t.flow("  - ", strings.TrimSpace(it.Says()+" "+refsText(it.refs)))
	for i, x := range it.offer {
		t.try(i, it.offer, x)
	}
	for _, says := range it.Reopened() {
		t.flow("    ", says)
	}
	if says := it.Stuck(); says != "" {
		t.flow("      ", says)
	}
}

// try writes one change in one line: what it does, and how to write it.
func (t *terminal) try(i int, all []*rules.Fix, x *rules.Fix) {
	wide := 0
	for _, y := range all {
		wide = max(wide, text.Width(rules.OneUnit(fixSays(y))))
	}
	var with []string
	for _, w := range catalog.Texts(x.With) {
		with = append(with, text.Shell(w))
	}
	says := rules.OneUnit(fixSays(x))
	head, write := fmt.Sprintf("    %c  ", 'a'+i), strings.Join(with, " ")
	if text.Width(head)+wide+2+text.Width(write) <= t.o.Width {
		t.line(head + text.Pad(says, wide) + "  " + write)
		return
	}
	t.flow(head, says)
	t.flow("       ", write)
}
