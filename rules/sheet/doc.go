package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/work"
)

// A document is what the formats for people show: sections of a few kinds of
// block, with the same words and numbers whichever format writes them.
type document struct {
	sheet    *Garment
	Title    string
	Facts    []fact
	Verdict  string // the severity, or ok
	Summary  string
	Next     string
	Sections []section
	Sources  []string // numbered from 1, where they are asked for
	numbered bool
	variant  bool // of a variant: only what is not as in the file itself
	// Open and OpenSources: what a page folds away stands open, and is printed.
	Open, OpenSources bool
}

type section struct {
	ID, Title string
	Blocks    []any
}

// Fold says whether a page folds a section away.
func (s *section) Fold() bool {
	return slices.Contains([]string{"full", "grades", "working", "measure"}, s.ID)
}

// The blocks of a section.
type (
	para    string
	bullets []string
	// working is the working of one closure's numbers.
	working struct {
		Closure string
		Steps   []step
	}
	step struct {
		StepOut
		Refs []int
	}
	// findings are all findings, those of one cause together.
	findings []note
	note     struct {
		*rules.Entry
		Where string   // closures and sizes, in words
		Also  []string // those that it does not read for, with what it says of them
		Refs  []int
	}
	// drawing is the run of one closure: a strip in text, a picture in HTML.
	drawing struct{ closure int }
)

type fact struct{ Key, Value string }

// table is a table with a first column of row headings.
type table struct {
	ID      string
	BySize  bool // a row a size, with short numbers in every column
	Caption string
	Head    []string
	Rows    [][]cell
}

// cell is a cell of a table. What a machine may read stands in value.
type cell struct {
	Text  string
	Value string // exact millimetres or a plain number, "" for words
	Mixed bool   // there are words in Text beside the number
}

// number says whether the cell lines up with other numbers on the right.
func (c cell) number() bool { return c.Value != "" && !c.Mixed }

// and adds words to a number.
func (c cell) and(words string) cell {
	c.Text, c.Mixed = c.Text+words, true
	return c
}

// right says whether a column holds numbers, which line up on the right.
func (t *table) Right(col int) bool {
	some := false
	for _, r := range t.Rows {
		if r[col].Text == "" {
			continue
		}
		if !r[col].number() {
			return false
		}
		some = true
	}
	return some
}

func words(s string) cell { return cell{Text: s} }

func number(n int) cell { return cell{Text: strconv.Itoa(n), Value: strconv.Itoa(n)} }

// length is a length in the garment's units.
func (s *Garment) length(m *MM) cell {
	if m == nil {
		return words("")
	}
	l := measure.Length(*m)
	return cell{Text: l.Short(s.unit), Value: exact(*m)}
}

func (s *Garment) len(m MM) cell { return s.length(&m) }

// made is a length to make: where it was worked out, rounded up.
func (s *Garment) made(m MM, given bool) cell {
	if given {
		return s.len(m)
	}
	return cell{Text: measure.Length(m).ShortLeast(s.unit), Value: exact(m)}
}

// place is a place along the run, or what lies between two, exactly as it is
// to be marked.
// In a table its unit stands in the caption: see inUnit.
func (s *Garment) place(m *MM) cell {
	if m == nil {
		return words("")
	}
	return cell{Text: s.bare(*m), Value: exact(*m)}
}

func (s *Garment) bare(m MM) string {
	return strings.TrimSuffix(measure.Length(m).ShortPlace(s.unit), " "+s.unit.String())
}

// inUnit ends the caption of a table whose cells have no unit.
func (s *Garment) inUnit() string {
	if s.unit.Is(measure.In) {
		return ", in inches"
	}
	return ", in millimetres"
}

func money(f *float64) cell {
	if f == nil {
		return words("")
	}
	v := strconv.FormatFloat(*f, 'f', 2, 64)
	return cell{Text: v, Value: v}
}

func itoa(n int) string { return strconv.Itoa(n) }

// refs numbers sources, a new one after those before it.
func (d *document) refs(sources []string) []int {
	var out []int
	if !d.numbered {
		return nil
	}
	for _, s := range sources {
		if s == "" {
			continue
		}
		i := slices.Index(d.Sources, s)
		if i < 0 {
			d.Sources = append(d.Sources, s)
			i = len(d.Sources) - 1
		}
		if !slices.Contains(out, i+1) {
			out = append(out, i+1)
		}
	}
	slices.Sort(out)
	return out
}

// refsText is [1, 2].
func refsText(refs []int) string {
	if len(refs) == 0 {
		return ""
	}
	parts := make([]string, len(refs))
	for i, r := range refs {
		parts[i] = itoa(r)
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// document makes the document of a garment. A page folds the working and the
// sources away; elsewhere they stand where they are asked for.
func (s *Garment) document(o Options, k kind) *document {
	page := o.Format == "html"
	d := &document{sheet: s, Title: s.Garment, Verdict: s.Verdict, numbered: k == spec && (o.Sources || page), Open: o.Working, OpenSources: o.Sources}
	d.Facts = s.facts()
	if k == check {
		d.Summary, d.Next = s.summary(o.Strict)
		d.add("findings", "Findings", s.findingsBlock(d))
		d.add("variants", "Variants", s.verdicts(true).under("How each one stands"))
		d.add("settled", "Settled by a sample", s.settledWords())
		d.add("change", "What the change did", s.changeWords())
		d.add("runs", "", s.runs()...)
		return d
	}
	parts, _, count := s.things("")
	d.Summary, d.Next = s.summaryOf(count[rules.Conflict], count[rules.Caution], count[rules.Note], o.Strict)
	var says []any
	offered := false
	for i := range parts {
		p := &parts[i]
		p.offers = !offered && slices.ContainsFunc(p.Items, func(it item) bool { return len(it.offer) > 0 })
		offered = offered || p.offers
		for j := range p.Items {
			it := &p.Items[j]
			for _, e := range it.entries {
				it.refs = append(it.refs, d.refs(e.Sources)...)
			}
			slices.Sort(it.refs)
			it.refs = slices.Compact(it.refs)
		}
		says = append(says, p)
	}
	if first := s.measureFirst(); first != "" {
		says = append(says, para("Measure first: "+first))
	}
	d.add("findings", "What to settle, to sample and to know", says...)
	d.add("variants", "Variants", s.verdicts(false).under("How each one stands"))
	d.add("settled", "Settled by a sample", s.settledWords())
	d.add("change", "What the change did", s.changeWords())
	closures, alike := s.closuresTable()
	d.add("closures", "Closures", closures, alike)
	d.add("positions", "Places of the fasteners", s.positions()...)
	d.add("cutting", "To cut", s.cutting())
	d.add("lies", "Where things lie on the pieces", s.piecesBlocks()...)
	d.add("buy", "To buy", s.buyBlocks()...)
	d.add("cautions", "Working safely", bullets(s.Cautions))
	d.add("notes", "Notes", bullets(s.Notes))
	if !o.Working && !page {
		return d
	}
	d.add("full", "Each finding in full", s.findingsBlock(d))
	d.add("grades", "Graded lengths", s.grades()...)
	var ws []any
	for i := range s.Closures {
		c := &s.Closures[i]
		w := working{Closure: c.Name}
		for _, st := range c.Working {
			w.Steps = append(w.Steps, step{st, d.refs(st.Sources)})
		}
		if len(w.Steps) > 0 {
			ws = append(ws, w)
		}
	}
	d.add("working", "How each number came about", ws...)
	d.add("measure", "What to measure first", s.measureWords())
	return d
}

func (d *document) add(id, title string, blocks ...any) {
	blocks = slices.DeleteFunc(blocks, func(b any) bool {
		switch b := b.(type) {
		case nil:
			return true
		case findings:
			return len(b) == 0
		case bullets:
			return len(b) == 0
		case *table:
			return b == nil || len(b.Rows) == 0
		case para:
			return b == ""
		}
		return false
	})
	if len(blocks) > 0 {
		d.Sections = append(d.Sections, section{id, title, blocks})
	}
}

func (s *Garment) facts() []fact {
	f := []fact{{"file", s.File}}
	if len(s.Sizes) > 0 {
		f = append(f, fact{"sizes", strings.Join(s.Sizes, ", ")})
	}
	f = append(f,
		fact{"wearer", s.Wearer}, fact{"market", strings.ToUpper(s.Market)},
		fact{"machine", or(s.Machine, "not said")},
	)
	var laps []string
	for i := range s.Closures {
		if says := work.Over(s.plan, i); says != "" {
			laps = append(laps, says)
		}
	}
	if len(laps) > 0 {
		f = append(f, fact{"lap", strings.Join(laps, "; ")})
	}
	if len(s.With) > 0 {
		f = append(f, fact{"tried with", strings.Join(s.With, "; ")})
	}
	return f
}

// summary is what was found in a line, and what to do next.
func (s *Garment) summary(strict bool) (says, next string) {
	return s.summaryOf(s.count(rules.Conflict), s.count(rules.Caution), s.count(rules.Note), strict)
}

// summaryOf is the same of as many as are shown.
func (s *Garment) summaryOf(conflicts, cautions, notes int, strict bool) (says, next string) {
	var parts []string
	for _, p := range []struct {
		n    int
		word string
	}{{conflicts, "conflict"}, {cautions, "caution"}, {notes, "note"}} {
		if p.n > 0 {
			parts = append(parts, text.Count(p.n, p.word))
		}
	}
	over := text.Count(len(s.Closures), "closure")
	if len(s.Sizes) > 1 {
		over += ", " + text.Count(len(s.Sizes), "size")
	}
	if len(s.variants) > 0 {
		over += ", " + text.Count(len(s.variants), "variant")
	}
	switch {
	case conflicts > 0:
		next = "Cut nothing until the conflicts are settled: change what they name."
		if slices.ContainsFunc(s.found, func(e rules.Entry) bool { return e.Severity == rules.Conflict && len(e.Fixes) > 0 }) {
			next = "Cut nothing until the conflicts are settled."
		}
	case cautions > 0:
		next = s.afterCautions(strict)
	case notes > 0:
		next = "Nothing stands in the way. " + s.sample()
	default:
		return "nothing to object to (" + over + ")", s.sample()
	}
	return strings.Join(parts, ", ") + " (" + over + ")", next
}

// afterCautions is what to do where nothing but cautions stand. No sample
// answers one about a child's safety.
func (s *Garment) afterCautions(strict bool) string {
	if says := s.unlaid(); says != "" {
		return says
	}
	safety, other := false, false
	for i := range s.found {
		if e := &s.found[i]; e.Severity == rules.Caution {
			is := rules.Find(e.Rule).Safety()
			safety, other = safety || is, other || !is
		}
	}
	switch {
	case strict && !safety:
		return "Cautions stand in the way here (--strict): settle them, or make a sample and run without --strict."
	case strict:
		return "Cautions stand in the way here (--strict): settle them, or run without --strict."
	case !safety:
		return "Nothing stands in the way, but make a sample of what the cautions name before you cut."
	case !other:
		return "Nothing stands in the way, but do what is named for safety. " + s.sample()
	}
	return "Nothing stands in the way, but do what is named for safety, and make a sample of what the other cautions name before you cut."
}

// unlaid is what to do where a closure has no places in a size, "" where every
// one has.
func (s *Garment) unlaid() string {
	var es []*rules.Entry
	safety := false
	for i := range s.found {
		e := &s.found[i]
		if e.Unlaid() {
			es = append(es, e)
		}
		safety = safety || e.Severity == rules.Caution && rules.Find(e.Rule).Safety()
	}
	if len(es) == 0 {
		return ""
	}
	says := "Nothing can be laid out, so there is nothing to mark: cut nothing before that is settled."
	if where := s.whereAll(es); where != "" {
		says = "Nothing can be laid out for " + where + ", so there is nothing to mark: cut nothing of it before that is settled."
	}
	if safety {
		says += " Do what is named for safety, too."
	}
	return says
}

// sample is what is tried before the cloth is cut.
func (s *Garment) sample() string {
	set := false
	for i := range s.plan.Closures {
		k := &s.plan.Closures[i]
		if k.SewnHole() {
			return "Sew a sample hole through the real layers, then cut."
		}
		set = set || plan.SetWithTool(&k.Closure.Notion)
	}
	if set {
		return "Make a test set in scrap through the real layers, then cut."
	}
	return "Sew a sample through the real layers, then cut."
}

func (s *Garment) findingsBlock(d *document) findings {
	var out findings
	for i := range s.found {
		n := note{Entry: &s.found[i]}
		n.Where, n.Also = s.where(n.Entry)
		if in := inWords(n.In); in != "" {
			n.Where = strings.TrimSuffix("in "+in+"; "+n.Where, "; ")
		}
		n.Refs = d.refs(n.Sources)
		out = append(out, n)
	}
	return out
}

// closureHead is what a row of closureRow says.
var closureHead = []string{"closure", "fastener", "count", "hole", "stand", "needle", "thread", "stitch"}

// planOf is what was planned for the closure of that name, or nil.
func (s *Garment) planOf(name string) *plan.Closure {
	for i := range s.plan.Closures {
		if k := &s.plan.Closures[i]; k.Closure.Name == name {
			return k
		}
	}
	return nil
}

// closureRow is what a closure takes.
func (s *Garment) closureRow(c *Closure) []cell {
	row := []cell{words(c.Name), words(c.Notion), s.counts(c), words("none"), words("none"), words("none"), words(""), {Text: measure.Length(c.StitchMM).ShortThin(s.unit), Value: exact(c.StitchMM)}}
	if !c.inCatalogue() {
		row[1].Text = text.One(c.Fastener) + ", your own"
	}
	switch h := c.Hole; {
	case c.Loop != nil:
		row[3] = s.made(c.Loop.Inside, c.Loop.Given).and(" round inside the loop")
	case h != nil:
		row[3] = s.made(h.Length, h.Given || h.Sampled || h.fixed).and(" " + h.Kind + ", " + h.Direction)
	case c.Hardware != nil && c.Hardware.Punch != nil:
		row[3] = s.len(*c.Hardware.Punch).and(" to punch")
	}
	if st := c.Stand; st != nil {
		if row[4] = words("none left"); st.Have != nil {
			row[4] = s.made(*st.Have, st.Known || !c.drafts)
		}
		if st.Have != nil && *st.Have == 0 {
			row[4] = words("on the edge")
		}
		if c.drafts && !(st.Have != nil && *st.Have == 0) {
			row[4] = row[4].and(" to draft")
		}
		switch {
		case st.Band != nil:
			row[4] = row[4].and(", " + deref(st.Construction) + ", band " + s.made(*st.Band, st.Known).Text)
		case st.Construction != nil:
			row[4] = row[4].and(", " + *st.Construction)
		}
		if c.meets {
			row[4] = words("edges meet")
		}
	}
	if n := c.Needle; n != nil {
		row[5] = words(fmt.Sprintf("%d/%d %s", n.NM, n.US, n.Point))
		if n.Refused {
			row[5] = words(fmt.Sprintf("%s %s, not %d/%d", measure.NeedleSize(n.Used), n.Point, n.NM, n.US))
		}
	}
	if th := c.Thread; th != nil {
		row[6] = words(measure.LinearDensity(th.Tex).String())
		if h := c.Hole; h != nil && h.Twist != nil { // worked by hand: the needle of the machine has another
			if k := s.planOf(c.Name); k != nil && k.Thread.Tex > 0 {
				row[6] = words(k.Thread.Tex.String() + ", the holes by hand " + row[6].Text)
			}
		}
	}
	if c.Fastener == catalog.Zip {
		row[7] = words("")
	}
	return row
}

// closuresTable has a row a closure. How wide strips and bands are is with
// what is cut; needle, thread and stitch are said beneath.
func (s *Garment) closuresTable() (*table, para) {
	t := &table{ID: "closures", Caption: "What each closure takes", Head: slices.Clone(closureHead)}
	for i := range s.Closures {
		t.Rows = append(t.Rows, s.closureRow(&s.Closures[i]))
	}
	var same []string
	apart := ""
	for col := len(t.Head) - 1; col >= 5; col-- {
		of := map[string][]string{}
		var all []string
		for _, r := range t.Rows {
			if says := r[col].Text; says != "" {
				if of[says] == nil {
					all = append(all, says)
				}
				of[says] = append(of[says], r[0].Text)
			}
		}
		switch {
		case len(all) == 1:
			same = append([]string{t.Head[col] + " " + all[0]}, same...)
		case len(all) > 1:
			for i, says := range all {
				all[i] = text.And(of[says]...) + " " + says
			}
			apart = text.Capital(t.Head[col]) + ": " + strings.Join(all, "; ") + ". " + apart
		}
		t.Head = slices.Delete(t.Head, col, col+1)
		for i := range t.Rows {
			t.Rows[i] = slices.Delete(t.Rows[i], col, col+1)
		}
	}
	switch {
	case len(same) == 0:
		return t, para(strings.TrimSpace(apart))
	case len(t.Rows) == 1:
		return t, para(text.Capital(strings.Join(same, ", ")) + ".")
	}
	return t, para(strings.TrimSpace(apart + "All of them: " + strings.Join(same, ", ") + "."))
}

// cutting has a row for each thing that is cut for one garment.
func (s *Garment) cutting() *table {
	t := &table{ID: "cutting", Caption: "What to cut for one garment", Head: []string{"for", "what", "pieces", "wide", "long"}}
	for _, c := range work.Cuts(s.plan, s.picked) {
		row := []cell{words(c.For), words(c.What), words(""), words(""), words("")}
		if c.Pieces > 0 {
			row[2] = number(c.Pieces)
		}
		if c.Wide > 0 {
			row[3] = s.made(MM(c.Wide), !c.Least)
		}
		if c.Long > 0 {
			row[4] = s.made(MM(c.Long), !strings.HasPrefix(c.What, "cord of ") && !strings.HasPrefix(c.What, "patch of ")) // these are leasts
		}
		if c.Longest > c.Long {
			row[4] = row[4].and(" to " + s.len(MM(c.Longest)).Text)
		}
		t.Rows = append(t.Rows, row)
	}
	for i := range s.Buy.Interfacing {
		x := &s.Buy.Interfacing[i]
		for _, p := range x.Pieces {
			if p.Kind == "swatch" {
				t.Rows = append(t.Rows, []cell{words("test"), words("swatch of " + x.Name + " interfacing, " + strings.TrimPrefix(p.Closure, "test ")), number(p.Pieces), s.len(p.Width), s.len(p.Length)})
			}
		}
	}
	return t
}

// inCatalogue says whether the notion is one of a catalogue, not one
// described in the garment file.
func (c *Closure) inCatalogue() bool { return !strings.HasPrefix(c.Notion, "your own ") }

func deref(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

func exact(m MM) string { return strings.TrimSuffix(measure.Length(m).Exact(measure.MM), " mm") }

// counts is how many fasteners each piece takes, by size where it differs.
func (s *Garment) counts(c *Closure) cell {
	times := ""
	if c.Pieces > 1 {
		times = itoa(c.Pieces) + " × "
	}
	if c.Fastener == catalog.Zip {
		return words(times + "1")
	}
	same, any := true, false
	for _, z := range c.Sizes {
		same = same && z.Fasteners == c.Sizes[0].Fasteners && z.Laid
		any = any || z.Laid
	}
	switch {
	case !any:
		return words("nothing fits")
	case same && times == "":
		return number(c.Sizes[0].Fasteners)
	case same:
		return words(times + itoa(c.Sizes[0].Fasteners))
	}
	var parts []string
	for _, z := range c.Sizes {
		n := "none fits"
		if z.Laid {
			n = itoa(z.Fasteners)
		}
		parts = append(parts, z.Size+" "+n)
	}
	return words(times + strings.Join(parts, ", "))
}

// column is sizes that are laid out alike, neighbours in the list of sizes.
type column struct {
	*SizeOut
	name string
	last *SizeOut
}

// alike gathers neighbouring sizes that are laid out the same.
func alike(sizes []SizeOut) []column {
	return gathered(sizes, func(p, z *SizeOut) bool {
		return p.Laid == z.Laid && *p.Run == *z.Run && slices.Equal(p.Positions, z.Positions) && slices.Equal(p.Rows, z.Rows)
	})
}

// gathered gathers neighbouring sizes that are the same.
func gathered(sizes []SizeOut, same func(p, z *SizeOut) bool) []column {
	var out []column
	for i := range sizes {
		z := &sizes[i]
		if n := len(out); n > 0 && same(out[n-1].SizeOut, z) {
			out[n-1].name += ", " + z.Size
			out[n-1].last = z
			continue
		}
		out = append(out, column{z, z.Size, z})
	}
	if len(out) == 1 && len(sizes) > 1 {
		out[0].name = "all sizes"
	}
	return out
}

// positions are the drawings and the tables of places of each closure. Those
// that are no front and laid alike in all sizes stand in one table.
func (s *Garment) positions() []any {
	var drawings, out []any
	var rest []int
	for i := range s.Closures {
		c := &s.Closures[i]
		if !slices.ContainsFunc(c.Sizes, func(z SizeOut) bool { return z.Laid && z.Count > 0 }) {
			continue
		}
		if slices.ContainsFunc(c.Sizes, func(z SizeOut) bool { return z.Count > 1 }) {
			drawings = append(drawings, drawing{i})
		}
		if cols := alike(c.Sizes); len(cols) > 1 || c.isFront() || len(cols[0].Rows) > 0 {
			out = append(out, s.places(i, cols))
			if t := s.rowsOut(i); t != nil {
				out = append(out, t)
			}
			continue
		}
		rest = append(rest, i)
	}
	return slices.Concat(drawings, out, []any{s.together(rest)})
}

func (c *Closure) isFront() bool {
	return slices.Contains([]string{"", "front", "fly"}, deref(c.Where))
}

// top is where the places of closure i are measured from.
func (s *Garment) top(i int) string {
	if c := &s.Closures[i]; c.isFront() && deref(c.Where) != "fly" {
		return "from the neck edge, the top of the run"
	}
	return "from " + work.From(&s.plan.Garment.Closures[i])
}

// most is the largest number of any of the sizes.
func most(cols []column, of func(z *SizeOut) int) int {
	n := 0
	for _, z := range cols {
		n = max(n, of(z.SizeOut))
	}
	return n
}

// nth is one of a row of lengths, nothing beyond its end.
func (s *Garment) nth(ls []MM, n int) cell {
	if n >= len(ls) {
		return words("")
	}
	return s.place(&ls[n])
}

// grows begins the rows that say how much each place moves from one size to
// the next.
const grows = "growth"

// places is the table of a closure: sizes down, places across, then where the
// run ends and how far the places lie apart; and beneath, the growth.
func (s *Garment) places(i int, cols []column) *table {
	c := &s.Closures[i]
	t := &table{ID: "places-" + itoa(i), BySize: true, Caption: c.Name + ": centres " + s.top(i) + s.inUnit(), Head: []string{"size"}}
	n := most(cols, func(z *SizeOut) int { return len(z.Positions) })
	own := make([]bool, n) // sizes differ in what the place is for
	for k := range n {
		// What a place is for stands with its number, where all sizes agree.
		var roles []string
		for _, z := range cols {
			if k < len(z.Positions) {
				roles = append(roles, s.shortRole(i, z.index, k))
			}
		}
		own[k] = len(slices.Compact(roles)) > 1
		head := itoa(k + 1)
		if !own[k] && roles[0] != "" {
			head += " " + roles[0]
		}
		t.Head = append(t.Head, head)
	}
	t.Head = append(t.Head, "end")
	gaps := n > 1 || slices.ContainsFunc(cols, func(z column) bool { return !z.Laid })
	if gaps {
		t.Head = append(t.Head, "gaps")
	}
	for _, z := range cols {
		row := []cell{words(or(z.name, "centres"))}
		for k := range n {
			c := s.nth(z.Positions, k)
			if what := s.shortRole(i, z.index, k); own[k] && k < len(z.Positions) && what != "" {
				c = c.and(" " + what)
			}
			row = append(row, c)
		}
		row = append(row, s.place(z.Run))
		if gaps {
			row = append(row, s.gaps(z.SizeOut))
		}
		t.Rows = append(t.Rows, row)
	}
	s.growth(t, cols)
	return t
}

// gaps is how far apart the places of one size lie: one length, or from the
// least to the most.
func (s *Garment) gaps(z *SizeOut) cell {
	switch {
	case !z.Laid:
		return words("none fits")
	case len(z.Gaps) == 0:
		return words("")
	}
	if a, b := slices.Min(z.Gaps), slices.Max(z.Gaps); a != b {
		return words(s.bare(a) + "–" + s.bare(b))
	}
	return s.place(&z.Gaps[0])
}

// growth adds how far each place, and the end of the run, move from one size
// to the next.
func (s *Garment) growth(t *table, cols []column) {
	if len(cols) < 2 {
		return
	}
	blank := make([]cell, len(t.Head))
	blank[0] = words(grows)
	t.Rows = append(t.Rows, blank)
	for k := 1; k < len(cols); k++ {
		a, b := cols[k-1], cols[k]
		row := make([]cell, len(t.Head))
		row[0] = words(a.last.Size + " to " + b.Size)
		by := func(from, to MM) cell {
			d := to - from
			says := s.bare(d)
			if d > 0 {
				says = "+" + says
			}
			return cell{Text: says, Value: exact(d)}
		}
		for j := range min(len(a.Positions), len(b.Positions)) {
			row[1+j] = by(a.Positions[j], b.Positions[j])
		}
		n := slices.Index(t.Head, "end")
		if a.Run != nil && b.Run != nil {
			row[n] = by(*a.Run, *b.Run)
		}
		t.Rows = append(t.Rows, row)
	}
}

// together is the table of closures that are laid alike in all sizes, a row
// each; nil where there is none.
func (s *Garment) together(which []int) *table {
	if len(which) == 0 {
		return nil
	}
	t := &table{ID: "places-rest", BySize: true, Head: []string{"closure"}}
	n, gaps := 0, false
	var names []string
	for _, i := range which {
		z := &s.Closures[i].Sizes[0]
		n, gaps = max(n, len(z.Positions)), gaps || len(z.Positions) > 1
		names = append(names, s.Closures[i].Name)
	}
	from := "from the beginning of each run"
	if len(which) == 1 {
		from = s.top(which[0])
	}
	t.Caption = text.And(names...) + ": centres " + from + s.inUnit()
	if len(s.Sizes) > 1 {
		t.Caption += ", all sizes"
	}
	for k := range n {
		t.Head = append(t.Head, itoa(k+1))
	}
	t.Head = append(t.Head, "end")
	if gaps {
		t.Head = append(t.Head, "gaps")
	}
	for _, i := range which {
		z := &s.Closures[i].Sizes[0]
		row := []cell{words(s.Closures[i].Name)}
		for k := range n {
			row = append(row, s.nth(z.Positions, k))
		}
		row = append(row, s.place(z.Run))
		if gaps {
			row = append(row, s.gaps(z))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// role says whether a row of a double-breasted front works or is for show, and
// whether the inner button is there too; "" where the closure has no columns.
func (s *Garment) role(i, size, n int) string {
	pcs := s.plan.PiecesOf(i, size)
	works, inner := false, false
	for j := range pcs {
		for k := range pcs[j].Parts {
			q := &pcs[j].Parts[k]
			if int(q.Closure) == i && int(q.Number) == n+1 {
				works = works || q.Role == plan.Works
				inner = inner || q.Role == plan.Inner
			}
		}
	}
	switch {
	case len(pcs) == 0 || len(s.plan.Closures[i].Sizes[size].Rows) == 0:
		return ""
	case inner:
		return "works, and inner"
	case works:
		return "works"
	}
	return "for show"
}

// shortRole is what a row is for besides to button: show, inner.
func (s *Garment) shortRole(i, size, n int) string {
	switch s.role(i, size, n) {
	case "for show":
		return "show"
	case "works, and inner":
		return "inner"
	}
	return ""
}

// piecesBlocks say where everything lies on each piece of each opening.
func (s *Garment) piecesBlocks() []any {
	var out []any
	for i := range s.Closures {
		for _, l := range work.Pieces(s.plan, i, s.picked) {
			out = append(out, para(text.Capital(l.Piece)+":"), bullets(l.Says))
		}
	}
	return out
}

// rowsOut is how far each row of a double-breasted front stands from the
// centre line, as it is marked: what reads alike is one row of the table.
func (s *Garment) rowsOut(i int) *table {
	printed := func(z *SizeOut) []MM {
		out := make([]MM, len(z.Rows))
		for n, l := range z.Rows {
			out[n] = MM(measure.Length(l).Printed(s.unit))
		}
		return out
	}
	cols := gathered(s.Closures[i].Sizes, func(p, z *SizeOut) bool { return slices.Equal(printed(p), printed(z)) })
	n := most(cols, func(z *SizeOut) int { return len(z.Rows) })
	if n == 0 {
		return nil
	}
	t := &table{ID: "rows-" + itoa(i), BySize: true, Caption: s.Closures[i].Name + ": each row from the centre line, on both sides" + s.inUnit(), Head: []string{"size"}}
	for k := range n {
		t.Head = append(t.Head, itoa(k+1))
	}
	for _, z := range cols {
		row := []cell{words(or(z.name, "rows"))}
		for k := range n {
			row = append(row, s.nth(printed(z.SizeOut), k))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// runs are the drawings that check shows: of closures with several
// fasteners.
func (s *Garment) runs() []any {
	var out []any
	for i := range s.Closures {
		if slices.ContainsFunc(s.Closures[i].Sizes, func(z SizeOut) bool { return z.Laid && z.Count > 1 }) {
			out = append(out, drawing{i})
		}
	}
	return out
}

// rangeWords are how many garments the range is.
func (s *Garment) rangeWords() string {
	if n := s.Buy.Garments; n != len(s.Sizes) {
		return text.Count(n, "garment")
	}
	return "one of each size"
}

func (s *Garment) buyBlocks() []any {
	b := &s.Buy
	many := b.Garments > 1
	t := &table{ID: "notions", Caption: "Notions for one garment", Head: []string{"notion", "for", "takes", "buy"}}
	if many {
		t.Caption = fmt.Sprintf("Notions for one garment of the size that needs most; range: %s", s.rangeWords())
	}
	var currencies []string
	for i := range b.Notions {
		if n := &b.Notions[i]; n.Price != nil && !slices.Contains(currencies, deref(n.Currency)) {
			currencies = append(currencies, deref(n.Currency))
		}
	}
	priced := len(currencies) > 0
	cost := func(n *BuyNotion, a *Amount) cell {
		c := money(a.Cost)
		if len(currencies) > 1 && a.Cost != nil {
			c = words(strings.TrimSpace(deref(n.Currency) + " " + c.Text))
		}
		return c
	}
	if priced {
		t.Head = append(t.Head, "cost")
	}
	if many {
		t.Head = append(t.Head, "range")
		if priced {
			t.Head = append(t.Head, "its cost")
		}
	}
	var says bullets
	for i := range b.Notions {
		n := &b.Notions[i]
		packs := func(a *Amount) cell {
			c := number(a.Pieces)
			if n.Pack > 1 {
				c = c.and(" (" + text.Count(a.Packs, "pack") + ")")
			}
			return c
		}
		takes := number(n.Garment.Needed)
		if !n.Known {
			takes = takes.and(" or more")
		}
		if k := n.Garment.Test; k > 0 {
			takes = takes.and(" + " + itoa(k) + " test")
		}
		if k := n.Garment.Spare; k > 0 {
			takes = takes.and(" + " + itoa(k) + " spare")
		}
		row := []cell{words(n.alone()), words(strings.Join(n.Closures, ", ")), takes, packs(&n.Garment)}
		if priced {
			row = append(row, cost(n, &n.Garment))
		}
		if many {
			row = append(row, packs(&n.Range))
			if priced {
				row = append(row, cost(n, &n.Range))
			}
		}
		t.Rows = append(t.Rows, row)
		for _, l := range s.zipLengths(n) {
			says = append(says, l+".")
		}
	}
	if priced {
		cost := "Notions: their prices are in " + text.And(currencies...) + ", which are not added"
		if len(currencies) == 1 {
			cost = "Notions: " + money(b.Cost.Garment).Text + " a garment"
			if many {
				cost += ", " + money(b.Cost.Range).Text + " the range"
			}
			cost += ", in " + or(currencies[0], "the currency of the catalogue")
		}
		if len(b.Unpriced) > 0 {
			cost += "; without a price, so not counted: " + strings.Join(b.Unpriced, ", ")
		}
		says = append(says, cost+".")
	}
	for i := range b.Interfacing {
		says = append(says, s.interfacingSays(&b.Interfacing[i]))
	}
	if len(b.Interfacing) > 0 {
		says[len(says)-1] += " Facings, collars and whole fronts not counted."
	}
	for i := range b.Thread {
		says = append(says, s.threadSays(&b.Thread[i]))
	}
	if len(b.Thread) > 0 {
		says[len(says)-1] += " 15 % for waste is in it; other seams are not."
	}
	for _, l := range s.rest() {
		says = append(says, l+".")
	}
	return []any{t, says}
}

// interfacingSays is what to buy of an interfacing in words.
func (s *Garment) interfacingSays(x *BuyInterf) string {
	many := s.Buy.Garments > 1
	says := text.Capital(x.Name) + " interfacing"
	if x.Name != x.Interfacing {
		says += ", " + x.Interfacing
	}
	switch {
	case x.waits != "":
		return says + ": not before " + x.waits + " is settled."
	case x.Goods == nil:
		return says + ": how wide it is sold is not given; set interfacing." + x.Name + ".width."
	case !x.Fits:
		return says + ", " + s.length(x.Goods).Text + " wide: goods too narrow for what is cut."
	}
	one := s.goods(x.Garment, x.GarmentBuy).Text
	says += ", " + s.length(x.Goods).Text + " wide: " + one
	if many && x.Range != nil {
		if x.Size != "" && x.differ {
			says += " for size " + x.Size
		}
		if all := s.goods(x.Range, x.RangeBuy).Text; all != one {
			says += "; for the range " + all
		} else {
			says += ", as much for the range"
		}
	}
	says += "."
	if x.Shrink > 0 {
		says += fmt.Sprintf(" It shrinks %s along the length, and that is counted: shrink it before you cut.", measure.Percent(x.Shrink))
	}
	return says
}

// threadSays is what to buy of a thread in words.
func (s *Garment) threadSays(x *BuyThread) string {
	says := "Thread"
	if x.Name != "" && x.Name != x.Thread {
		says += " " + x.Name
	}
	says += ", " + x.Thread
	if tex := measure.LinearDensity(x.Tex).String(); !strings.Contains(x.Thread, tex) {
		says += ", " + tex
	}
	if x.Garment == 0 && !x.Known {
		return says + ": as much as the layout takes. For " + text.And(x.Jobs...) + "."
	}
	says += ": " + s.thread(x.Garment).Text
	if !x.Known {
		says += " or more"
	}
	if s.Buy.Garments > 1 {
		says += "; for the range " + s.thread(x.Range).Text
	}
	if x.Spools != nil {
		says += ", " + text.Count(*x.Spools, "spool") + " of " + work.Spool(measure.Length(*x.Spool), s.unit)
	}
	return says + ". For " + text.And(x.Jobs...) + "."
}

// thread is a length of thread: yards or metres.
func (s *Garment) thread(m MM) cell {
	l := measure.Length(m)
	text := fmt.Sprintf("%.1f m", l.MM()/1000)
	if s.unit.Is(measure.In) {
		text = fmt.Sprintf("%.1f yd", float64(l)/float64(measure.Yard))
	}
	return cell{Text: text, Value: exact(m)}
}

// goods is a length of goods needed, and what to ask for in the shop.
func (s *Garment) goods(need, buy *MM) cell {
	if need == nil {
		return s.length(need)
	}
	c := s.made(*need, false)
	if buy == nil {
		return c
	}
	c.Text += ", buy " + work.Sold(measure.Length(*buy), s.unit)
	return c
}
