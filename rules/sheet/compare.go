package sheet

import (
	"fmt"
	"io"
	"slices"
	"sort"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/search"
)

// Comparison is what became of a garment from one file to another, in JSON.
// Lengths in words are in the units of the new one.
type Comparison struct {
	Version int           `json:"version"`
	Old     ComparedSide  `json:"old"`
	New     ComparedSide  `json:"new"`
	Units   string        `json:"units"`
	Values  []ValueChange `json:"values"` // of the files, with their bases
	ComparedPlans
	GoneVariants []string          `json:"gone_variants"`
	ComeVariants []string          `json:"come_variants"`
	Variants     []ComparedVariant `json:"variants"` // that both files have
}

// ComparedVariant is what became of a variant.
type ComparedVariant struct {
	Variant string `json:"variant"`
	ComparedPlans
}

// ComparedPlans is what became of a plan: of the file itself, or of a variant.
type ComparedPlans struct {
	Was  string  `json:"was"` // verdict
	Is   string  `json:"is"`
	Gone []Went  `json:"gone"` // findings
	Come []Brief `json:"come"`

	GoneClosures []string       `json:"gone_closures"`
	ComeClosures []string       `json:"come_closures"`
	GoneSizes    []string       `json:"gone_sizes"`
	ComeSizes    []string       `json:"come_sizes"`
	Figures      []FigureChange `json:"figures"` // what closures take that both have
	Moved        []Moved        `json:"moved"`
	Goods        []GoodChange   `json:"goods"` // for one garment, of the size that needs most
}

// ComparedSide is one of the two.
type ComparedSide struct {
	File    string `json:"file"`
	Garment string `json:"garment"`
	Verdict string `json:"verdict"`
}

// ValueChange is a value that the files do not have alike, as it is written;
// null where a file has none.
type ValueChange struct {
	Key string  `json:"key"`
	Was *string `json:"was"`
	Is  *string `json:"is"`
}

// Went is a finding that is no more.
type Went struct {
	Brief
	Settled *string `json:"settled"` // the reason, where a sample has settled it
}

// FigureChange is something that a closure takes, in words.
type FigureChange struct {
	Closure string `json:"closure"`
	What    string `json:"what"`
	Was     string `json:"was"`
	Is      string `json:"is"`
}

// GoodChange is something to buy; null where it is not bought.
type GoodChange struct {
	What string     `json:"what"`
	Kind string     `json:"kind"`
	Was  *GoodTotal `json:"was"`
	Is   *GoodTotal `json:"is"`
}

// GoodTotal is how much of it.
type GoodTotal struct {
	Says   string `json:"says"`
	Pieces *int   `json:"pieces"`
	Length *MM    `json:"length_mm"`
}

// CompareFormats are the formats that Compare writes.
var CompareFormats = []string{"text", "markdown", "json"}

// Compared are two plans of a garment, from one file and another, made ready
// to be written.
type Compared struct {
	o          Options
	file       *compared
	values     []catalog.Changed
	old, now   *catalog.Garment
	variants   []*compared
	gone, come []string // variants
}

// NewCompared compares two plans and those of the variants of their files.
func NewCompared(old, now *rules.Planned, o Options) (*Compared, error) {
	o.fit()
	if err := o.fits(now); err != nil {
		return nil, err
	}
	a, b := prepare(old, o), prepare(now, o)
	c := &Compared{o: o, file: newCompared(a, b), values: catalog.Compare(old.Garment, now.Garment), old: old.Garment, now: now.Garment}
	for _, v := range b.variants {
		name := v.plan.Garment.Variant
		if i := slices.IndexFunc(a.variants, func(x *Garment) bool { return x.plan.Garment.Variant == name }); i >= 0 {
			c.variants = append(c.variants, newCompared(a.variants[i], v))
		} else {
			c.come = append(c.come, name)
		}
	}
	for _, v := range a.variants {
		if name := v.plan.Garment.Variant; !slices.ContainsFunc(b.variants, func(x *Garment) bool { return x.plan.Garment.Variant == name }) {
			c.gone = append(c.gone, name)
		}
	}
	return c, nil
}

// Worse says whether the new one has something of at least a severity that the
// old one had not, in the file itself or in a variant. A variant that is new had
// nothing before.
func (c *Compared) Worse(least rules.Severity) bool {
	for _, v := range append([]*compared{c.file}, c.variants...) {
		if slices.ContainsFunc(v.d.Come, func(f rules.Finding) bool { return f.Severity >= least || f.Unlaid() }) {
			return true
		}
	}
	for _, v := range c.file.now.variants {
		if slices.Contains(c.come, v.plan.Garment.Variant) && slices.ContainsFunc(v.plan.Findings, func(f rules.Finding) bool {
			return (f.Severity >= least && f.Settled == "" || f.Unlaid()) && v.shows(f.Size)
		}) {
			return true
		}
	}
	return false
}

// Write writes what became of the garment.
func (c *Compared) Write(w io.Writer) error {
	out := ""
	switch c.o.Format {
	case "json":
		var err error
		if out, err = writeJSON(c.out()); err != nil {
			return err
		}
	case "markdown":
		out = c.markdown()
	default:
		out = c.text()
	}
	_, err := io.WriteString(w, out)
	return err
}

// only is what is shown of a difference.
func (s *Garment) only(d *rules.Difference) *rules.Difference {
	out := *d
	hidden := func(f rules.Finding) bool { return !s.shows(f.Size) }
	out.Gone = slices.DeleteFunc(slices.Clone(d.Gone), hidden)
	out.Come = slices.DeleteFunc(slices.Clone(d.Come), hidden)
	out.Moved = slices.DeleteFunc(slices.Clone(d.Moved), func(m rules.Moved) bool { return !s.shows(m.Size) })
	unnamed := func(size string) bool { return size == "" || !s.shows(size) }
	out.GoneSizes = slices.DeleteFunc(slices.Clone(d.GoneSizes), unnamed)
	out.ComeSizes = slices.DeleteFunc(slices.Clone(d.ComeSizes), unnamed)
	return &out
}

// compared are two plans made ready to be written.
type compared struct {
	old, now *Garment
	d        *rules.Difference
}

func newCompared(old, now *Garment) *compared {
	old.unit = now.unit
	d := search.Compare(old.plan, now.plan)
	return &compared{old, now, now.only(&d)}
}

func (c *Compared) out() *Comparison {
	f := c.file
	out := &Comparison{
		Version: OutputVersion,
		Old:     ComparedSide{f.old.File, f.old.Garment, f.old.Verdict}, New: ComparedSide{f.now.File, f.now.Garment, f.now.Verdict},
		Units: f.now.unit.String(), Values: []ValueChange{}, ComparedPlans: f.out(),
		GoneVariants: list(c.gone), ComeVariants: list(c.come), Variants: []ComparedVariant{},
	}
	for _, v := range c.values {
		out.Values = append(out.Values, ValueChange{v.Key, word(v.Was), word(v.Is)})
	}
	for _, v := range c.variants {
		out.Variants = append(out.Variants, ComparedVariant{v.now.plan.Garment.Variant, v.out()})
	}
	return out
}

func (c *compared) out() ComparedPlans {
	out := ComparedPlans{
		Was: c.old.own(), Is: c.now.own(), Gone: []Went{}, Come: briefs(c.d.Come),
		GoneClosures: list(c.d.GoneClosures), ComeClosures: list(c.d.ComeClosures), GoneSizes: list(c.d.GoneSizes), ComeSizes: list(c.d.ComeSizes),
		Figures: c.figures(), Moved: movedOut(c.d.Moved), Goods: c.goods(),
	}
	for i := range c.d.Gone {
		f := &c.d.Gone[i]
		out.Gone = append(out.Gone, Went{brief(f), word(c.settles(f))})
	}
	return out
}

// settles is why a finding that went is settled; "" where it is not.
func (c *compared) settles(f *rules.Finding) string {
	for i := range c.now.settled {
		for _, g := range c.now.settled[i].Where {
			if g.Rule == f.Rule && g.Closure == f.Closure && g.Size == f.Size {
				return g.Settled
			}
		}
	}
	return ""
}

// figures are what closures take otherwise that both have, and the width of
// their strips.
func (c *compared) figures() []FigureChange {
	out := []FigureChange{}
	for i := range c.now.Closures {
		is := &c.now.Closures[i]
		k := slices.IndexFunc(c.old.Closures, func(o Closure) bool { return o.Name == is.Name })
		if k < 0 {
			continue
		}
		a, b := c.old.closureRow(&c.old.Closures[k]), c.now.closureRow(is)
		head := slices.Concat(closureHead, []string{"strip of interfacing"})
		a = append(a, c.old.strip(&c.old.Closures[k]))
		b = append(b, c.now.strip(is))
		for col := 2; col < len(head); col++ { // the fastener is among the goods
			if was, now := or(a[col].Text, "none"), or(b[col].Text, "none"); was != now {
				out = append(out, FigureChange{is.Name, head[col], was, now})
			}
		}
	}
	return out
}

// strip is the width of the interfacing of a closure.
func (s *Garment) strip(c *Closure) cell {
	if c.Support == nil {
		return words("none")
	}
	return s.made(c.Support.Strip, c.Support.told).and(" wide")
}

// total is something to buy with how much of it.
type total struct {
	what, kind string
	GoodTotal
}

// totals are all that is bought for one garment.
func (s *Garment) totals() []total {
	var out []total
	add := func(what, kind, says string, pieces *int, length *MM) {
		out = append(out, total{what, kind, GoodTotal{says, pieces, length}})
	}
	for i := range s.Buy.Notions {
		n := &s.Buy.Notions[i]
		says := itoa(n.Garment.Needed)
		if !n.Known {
			says += " or more"
		}
		if n.Garment.Test > 0 {
			says += " + " + itoa(n.Garment.Test) + " test"
		}
		if n.Garment.Spare > 0 {
			says += " + " + itoa(n.Garment.Spare) + " spare"
		}
		for _, l := range s.zipLengths(n) {
			_, lengths, _ := strings.Cut(l, " to buy")
			says += lengths
		}
		add(n.Notion, n.Kind, says, &n.Garment.Pieces, nil)
	}
	for i := range s.Buy.Interfacing {
		x := &s.Buy.Interfacing[i]
		says := "how much is not known"
		if x.Garment != nil {
			says = s.goods(x.Garment, x.GarmentBuy).Text
		}
		add(x.Interfacing, "interfacing", says, nil, x.Garment)
	}
	for i := range s.Buy.Thread {
		x := &s.Buy.Thread[i]
		says := s.thread(x.Garment).Text
		switch {
		case !x.Known && x.Garment == 0:
			says = "how much is not known"
		case !x.Known:
			says += " or more"
		}
		add(x.Thread, "thread", says, nil, &x.Garment)
	}
	for i := range s.Buy.Cord {
		x := &s.Buy.Cord[i]
		says := "how long is not known"
		if x.Garment != nil {
			says = s.goods(x.Garment, x.GarmentBuy).Text
		}
		add(x.Cord, x.Kind, says, nil, x.Garment)
	}
	for i := range s.Buy.Needles {
		x := &s.Buy.Needles[i]
		add(x.Needle, x.Kind, text.Count(x.Pieces, "piece"), &x.Pieces, nil)
	}
	for i := range s.Buy.Sundries {
		x := &s.Buy.Sundries[i]
		add(x.What, "sundry", text.Count(x.Pieces, "piece"), &x.Pieces, nil)
	}
	return out
}

// goods are what is bought otherwise: what is bought no more, what is new, and
// what is bought in another quantity.
func (c *compared) goods() []GoodChange {
	was, is := c.old.totals(), c.now.totals()
	out := []GoodChange{}
	find := func(in []total, t *total) *GoodTotal {
		for i := range in {
			if in[i].what == t.what && in[i].kind == t.kind {
				return &in[i].GoodTotal
			}
		}
		return nil
	}
	for i := range was {
		if t := &was[i]; find(is, t) == nil {
			out = append(out, GoodChange{t.what, t.kind, &t.GoodTotal, nil})
		}
	}
	for i := range is {
		t := &is[i]
		if before := find(was, t); before == nil || before.Says != t.Says {
			out = append(out, GoodChange{t.what, t.kind, before, &t.GoodTotal})
		}
	}
	return out
}

// mostCompared is how many lines of a part are shown, so that the answer stays
// on a screen; JSON has all.
const mostCompared = 12

// comparedPart is a part of the answer in words.
type comparedPart struct {
	title string
	says  bullets
}

// parts are the answer in words.
func (c *compared) parts() []comparedPart {
	var figures, goods bullets
	for _, f := range c.figures() {
		figures = append(figures, f.Closure+": "+f.What+" "+f.Was+", now "+f.Is)
	}
	for _, g := range c.goods() {
		name := g.What
		if strings.HasPrefix(g.Kind, "thread") {
			name = "thread " + name
		}
		if strings.Contains(g.Kind, "needle") {
			name = "needle " + name
		}
		switch {
		case g.Is == nil:
			goods = append(goods, name+": no more, was "+g.Was.Says)
		case g.Was == nil:
			goods = append(goods, name+": new, "+g.Is.Says)
		default:
			goods = append(goods, name+": "+g.Was.Says+", now "+g.Is.Says)
		}
	}
	if len(goods) == 0 {
		goods = bullets{"As before."}
	}
	var out []comparedPart
	if gone := c.found(c.old, c.d.Gone, true); len(gone) > 0 {
		out = append(out, comparedPart{"Went", gone})
	}
	if come := c.found(c.now, c.d.Come, false); len(come) > 0 {
		out = append(out, comparedPart{"Came", come})
	}
	if len(c.d.Gone)+len(c.d.Come) == 0 {
		out = append(out, comparedPart{"Findings", bullets{"As before."}})
	}
	if len(figures) > 0 {
		out = append(out, comparedPart{"What closures take", figures})
	}
	return append(out, comparedPart{"Places", c.places()}, comparedPart{"Goods for one garment", goods})
}

// found are findings in lines, gathered by their cause; notes by their names,
// in one.
func (c *compared) found(s *Garment, fs []rules.Finding, gone bool) bullets {
	var out bullets
	es := rules.Gather(fs)
	sort.SliceStable(es, func(i, j int) bool { return es[i].Severity > es[j].Severity })
	var notes []string
	for i := range es {
		e := &es[i]
		where := s.whereAll([]*rules.Entry{e})
		why := ""
		if gone {
			why = c.settles(&e.Finding)
		}
		if e.Severity == rules.Note && why == "" {
			if where != "" {
				where = " (" + where + ")"
			}
			notes = append(notes, e.Rule+where)
			continue
		}
		line, _ := rules.Find(e.Rule).Say(&e.Finding, c.now.unit)
		if where != "" {
			line = where + ": " + line
		}
		line = e.Severity.String() + ": " + line + " [" + e.Rule + "]"
		if why != "" {
			line += " (settled: " + why + ")"
		}
		out = append(out, line)
	}
	if len(notes) > 0 {
		out = append(out, "notes: "+strings.Join(notes, ", "))
	}
	return out
}

// places are what moved and what stayed. Sizes that moved alike are one line.
func (c *compared) places() bullets {
	var out bullets
	for _, change := range []struct {
		names []string
		one   string
		says  string
	}{
		{c.d.GoneClosures, "closure", "is no more"}, {c.d.ComeClosures, "closure", "is new"},
		{c.d.GoneSizes, "size", "is no more"}, {c.d.ComeSizes, "size", "is new"},
	} {
		for _, n := range change.names {
			out = append(out, fmt.Sprintf("%s %s %s", change.one, n, change.says))
		}
	}
	var moved []rules.Moved // of the sizes that moved alike, the first, with all their names
	for _, m := range c.d.Moved {
		i := slices.IndexFunc(moved, func(o rules.Moved) bool {
			return o.Closure == m.Closure && (o.Run == m.Run || o.Run[0] == o.Run[1] && m.Run[0] == m.Run[1]) && o.Count == m.Count && slices.Equal(o.Rows, m.Rows) && slices.Equal(o.From, m.From) && slices.Equal(o.To, m.To)
		})
		if i >= 0 {
			moved[i].Size += ", " + m.Size
			continue
		}
		moved = append(moved, m)
	}
	for i := range moved {
		out = append(out, c.now.movedWords(&moved[i]))
	}
	if len(out) == 0 {
		return bullets{"No fastener moves."}
	}
	if stay := c.stay(); len(stay) > 0 && len(moved) > 0 {
		out = append(out, "All stay: "+strings.Join(stay, "; ")+".")
	}
	return out
}

// stay are the closures, or their sizes, of which both have all and no fastener
// moves.
func (c *compared) stay() []string {
	var out []string
	for i := range c.now.Closures {
		name := c.now.Closures[i].Name
		if slices.Contains(c.d.ComeClosures, name) {
			continue
		}
		var sizes []string
		moves := false
		for j := range c.now.Closures[i].Sizes {
			size := c.now.Closures[i].Sizes[j].Size
			if slices.ContainsFunc(c.d.Moved, func(m rules.Moved) bool { return m.Closure == name && m.Size == size }) {
				moves = true
			} else if size != "" && !slices.Contains(c.d.ComeSizes, size) {
				sizes = append(sizes, size)
			}
		}
		switch {
		case !moves:
			out = append(out, name)
		case len(sizes) > 0:
			out = append(out, name+" "+strings.Join(sizes, ", "))
		}
	}
	return out
}

// said are the values that changed, in words.
func (c *Compared) said() bullets {
	var out bullets
	for _, v := range c.values {
		was, is := c.old.WithUnit(v.Key, v.Was), c.now.WithUnit(v.Key, v.Is)
		switch {
		case v.Was == "":
			out = append(out, v.Key+": new, "+is)
		case v.Is == "" && strings.HasSuffix(v.Key, "."+was): // a table by its name
			out = append(out, v.Key+": taken out")
		case v.Is == "":
			out = append(out, v.Key+": taken out, was "+was)
		default:
			out = append(out, v.Key+": "+was+", now "+is)
		}
	}
	if len(out) == 0 {
		return bullets{"None: both files say the same."}
	}
	return out
}

// all are the parts of the answer: of a variant those alone that are not as in
// the file itself.
func (c *Compared) all() []comparedPart {
	out := append([]comparedPart{{"Values of the file", c.said()}}, c.file.parts()...)
	base := out[1:]
	var variants bullets
	for _, n := range c.gone {
		variants = append(variants, n+" is no more")
	}
	for _, v := range c.file.now.variants {
		if n := v.plan.Garment.Variant; slices.Contains(c.come, n) {
			variants = append(variants, n+" is new: "+v.own())
		}
	}
	var same []string
	var more []comparedPart
	for _, v := range c.variants {
		name, n := v.now.plan.Garment.Variant, len(more)
		if was, is := v.old.own(), v.now.own(); was != is {
			variants = append(variants, name+": was "+was+", now "+is)
		}
		for _, p := range v.parts() {
			if !slices.ContainsFunc(base, func(q comparedPart) bool { return q.title == p.title && slices.Equal(q.says, p.says) }) {
				more = append(more, comparedPart{"Variant " + name + ": " + strings.ToLower(p.title[:1]) + p.title[1:], p.says})
			}
		}
		if len(more) == n {
			same = append(same, name)
		}
	}
	if len(same) > 0 {
		variants = append(variants, "changed as the file itself: "+text.And(same...))
	}
	if len(variants) > 0 {
		out = append(out, comparedPart{"Variants", variants})
	}
	return append(out, more...)
}

// head is the name of the garment, and its verdicts.
func (c *Compared) head() (name, says string) {
	old, now := c.file.old, c.file.now
	says = "the verdict stays " + now.Verdict
	if old.Verdict != now.Verdict {
		says = "was " + old.Verdict + ", now " + now.Verdict
	}
	name = now.Garment
	if old.Garment != name {
		name = old.Garment + ", now " + name
	}
	if old.File != now.File {
		says += " (" + old.File + ", now " + now.File + ")"
	}
	return name, says
}

func (c *Compared) markdown() string {
	name, says := c.head()
	m := &markdown{}
	m.line("# " + text.Markdown(name))
	m.line("")
	m.line(text.Markdown(text.Capital(says)) + ".")
	for _, p := range c.all() {
		m.line("")
		m.line("## " + text.Markdown(p.title))
		m.line("")
		for _, l := range p.says {
			m.line("- " + text.Markdown(l))
		}
	}
	return m.String()
}

func (c *Compared) text() string {
	name, says := c.head()
	t := &terminal{o: c.o}
	verdict := c.file.now.Verdict
	t.painted(verdict, "now "+verdict, func() { t.flowIn("", 2, name+": "+says+".") })
	for _, p := range c.all() {
		t.line("")
		t.put(t.bold(text.Safe(p.title)))
		for i, l := range p.says {
			if i == mostCompared && len(p.says) > mostCompared+1 && !c.o.Full {
				t.flow("  ", "and "+itoa(len(p.says)-i)+" more: --full has them.")
				break
			}
			t.flowIn("  - ", 6, l)
		}
	}
	return t.String()
}

// movedOut is what moved in JSON.
func movedOut(moved []rules.Moved) []Moved {
	out := []Moved{}
	for _, m := range moved {
		out = append(out, Moved{
			Closure: m.Closure, Size: m.Size, Run: [2]MM{MM(m.Run[0]), MM(m.Run[1])}, Count: m.Count,
			Stayed: append([]int{}, m.Stayed...), Rows: append([]int{}, m.Rows...), From: mms(m.From), To: mms(m.To),
		})
	}
	return out
}

// OutputVersion is the version of what is written for programs. A key that is
// added leaves it; one that goes, or means something else, raises it.
const OutputVersion = 1
