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
	Sources  []string // numbered from 1
	Shown    int      // how many of them are named outside the working
}

type section struct {
	ID, Title string
	Blocks    []any
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
	closure int  // places and gaps: of which closure
	BySize  bool // short numbers in every column
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
func (s *Garment) place(m *MM) cell {
	if m == nil {
		return words("")
	}
	return cell{Text: measure.Length(*m).ShortPlace(s.unit), Value: exact(*m)}
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

// document makes the document of a garment.
func (s *Garment) document(o Options, k kind) *document {
	d := &document{sheet: s, Title: s.Garment, Verdict: s.Verdict}
	d.Facts = s.facts()
	d.Summary, d.Next = s.summary(o.Strict)
	d.add("findings", "Findings", s.findingsBlock(d, k))
	d.add("settled", "Settled by a sample", s.settledWords())
	d.add("change", "What the change did", s.changeWords())
	if k == check {
		d.add("runs", "", s.runs()...)
		return d
	}
	d.add("closures", "Closures", s.closuresTable())
	d.add("positions", "Places of the fasteners", s.positions()...)
	d.add("lies", "Where things lie on the pieces", s.piecesBlocks()...)
	d.add("buy", "To buy", s.buyBlocks()...)
	d.Shown = len(d.Sources)
	ws := s.grades()
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
	d.add("cautions", "Cautions", bullets(s.Cautions))
	if len(s.Notes) > 0 {
		d.add("notes", "Notes", bullets(s.Notes))
	}
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
		fact{"machine", or(s.Machine, "not said")}, fact{"lengths in", map[string]string{"in": "inches", "mm": "millimetres"}[s.Units]},
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
	switch {
	case conflicts > 0:
		next = "Cut nothing until the conflicts are settled: change what they name."
		if slices.ContainsFunc(s.found, func(e rules.Entry) bool { return e.Severity == rules.Conflict && len(e.Fixes) > 0 }) {
			next = "Cut nothing until the conflicts are settled."
		}
	case cautions > 0 && strict:
		next = "Cautions stand in the way here (--strict): settle them, or make a sample and run without --strict."
	case cautions > 0:
		next = "Nothing stands in the way, but make a sample of what the cautions name before you cut."
	case notes > 0:
		next = "Nothing stands in the way. Sew a sample hole through the real layers, then cut."
	default:
		return "nothing to object to (" + over + ")", "Sew a sample hole through the real layers, then cut."
	}
	return strings.Join(parts, ", ") + " (" + over + ")", next
}

func (s *Garment) findingsBlock(d *document, k kind) findings {
	var out findings
	for i := range s.found {
		n := note{Entry: &s.found[i]}
		n.Where, n.Also = s.where(n.Entry)
		if k == spec {
			n.Refs = d.refs(n.Sources)
		}
		out = append(out, n)
	}
	return out
}

// closuresTable has a row a closure.
func (s *Garment) closuresTable() *table {
	t := &table{ID: "closures", Caption: "What each closure takes", Head: []string{"closure", "fastener", "count", "hole", "stand", "band", "strip", "needle", "thread", "stitch"}}
	for i := range s.Closures {
		c := &s.Closures[i]
		row := []cell{words(c.Name), words(c.Notion), s.counts(c), words("none"), words("none"), words("none"), words("none"), words(""), words(""), {Text: measure.Length(c.StitchMM).ShortThin(), Value: exact(c.StitchMM)}}
		if !c.inCatalogue() {
			row[1].Text = c.Fastener + ", your own"
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
			row[4] = s.made(st.Have, st.Known)
			if !st.Known {
				row[4] = row[4].and(" to draft")
			}
			switch {
			case st.Band != nil:
				row[5] = s.made(*st.Band, st.Known).and(" " + deref(st.Construction))
			case st.Construction != nil:
				row[5] = words(*st.Construction)
			default:
				row[5] = words("not said")
			}
		}
		if u := c.Support; u != nil {
			row[6] = s.made(u.Strip, u.told)
		}
		if n := c.Needle; n != nil {
			row[7] = words(fmt.Sprintf("%d/%d %s", n.NM, n.US, n.Point))
			if n.Refused {
				row[7] = words(fmt.Sprintf("%s %s, not %d/%d", measure.NeedleSize(n.Used), n.Point, n.NM, n.US))
			}
		}
		if th := c.Thread; th != nil {
			row[8] = words(measure.LinearDensity(th.Tex).String())
		}
		if c.Fastener == catalog.Zip {
			row[9] = words("")
		}
		t.Rows = append(t.Rows, row)
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

const sizesAcross = 8 // sizes side by side in one table

// column is a column of the tables of places: sizes that are laid out alike.
type column struct {
	*SizeOut
	name string
}

// alike gathers neighbouring sizes that are laid out the same.
func alike(sizes []SizeOut) []column {
	var out []column
	for i := range sizes {
		z := &sizes[i]
		if n := len(out); n > 0 {
			if p := out[n-1]; p.Laid == z.Laid && *p.Run == *z.Run && slices.Equal(p.Positions, z.Positions) && slices.Equal(p.Rows, z.Rows) {
				out[n-1].name += ", " + z.Size
				continue
			}
		}
		out = append(out, column{z, z.Size})
	}
	if len(out) == 1 && len(sizes) > 1 {
		out[0].name = "all sizes"
	}
	return out
}

// positions are the tables of places and gaps of each closure.
func (s *Garment) positions() []any {
	var out []any
	for i := range s.Closures {
		c := &s.Closures[i]
		if !slices.ContainsFunc(c.Sizes, func(z SizeOut) bool { return z.Laid && z.Count > 0 }) {
			continue
		}
		if slices.ContainsFunc(c.Sizes, func(z SizeOut) bool { return z.Count > 1 }) {
			out = append(out, drawing{i})
		}
		cols := alike(c.Sizes)
		if len(cols) == 1 {
			out = append(out, s.oneSize(i, cols[0]))
			continue
		}
		for from := 0; from < len(cols); from += sizesAcross {
			some := cols[from:min(from+sizesAcross, len(cols))]
			for _, t := range []*table{s.places(i, some, from), s.gaps(i, some, from), s.rowsOut(i, some, from)} {
				if t != nil {
					t.closure = i
					out = append(out, t)
				}
			}
		}
	}
	return out
}

// top is where the places of a closure are measured from.
func (c *Closure) top() string {
	switch deref(c.Where) {
	case "", "front", "fly":
		return "from the neck edge, the top of the run"
	}
	return "from the beginning of the run"
}

// oneSize has places and gaps in one table.
func (s *Garment) oneSize(i int, z column) *table {
	c := &s.Closures[i]
	name := c.Name
	if z.name != "" {
		name += ", " + z.name
		if z.name == z.Size {
			name = c.Name + ", size " + z.name
		}
	}
	t := &table{ID: "places-" + itoa(i), closure: i, BySize: true, Caption: name + ": centres " + c.top(), Head: []string{"no.", "centre at", "to the next"}}
	if len(z.Rows) > 0 {
		t.Head = append(t.Head, "from centre line")
	}
	roles := s.rolesText(i, z.index) != ""
	if roles {
		t.Head = append(t.Head, "row")
	}
	for n, p := range z.Positions {
		row := []cell{number(n + 1), s.place(&p), words("")}
		if n < len(z.Gaps) {
			row[2] = s.place(&z.Gaps[n])
		} else {
			row[2] = s.place(z.Last)
		}
		if len(z.Rows) > 0 {
			row = append(row, s.nth(z.Rows, n))
		}
		if roles {
			row = append(row, words(s.role(i, z.index, n)))
		}
		t.Rows = append(t.Rows, row)
	}
	end := []cell{words("end"), s.place(z.Run), words("")}
	if len(z.Rows) > 0 {
		end = append(end, words(""))
	}
	if roles {
		end = append(end, words(""))
	}
	t.Rows = append(t.Rows, end)
	return t
}

// bySize begins a table with a column for each of the sizes, and gives what
// adds a row to it.
func bySize(id, caption, corner string, cols []column) (*table, func(name cell, of func(z *SizeOut) cell)) {
	t := &table{ID: id, BySize: true, Caption: caption, Head: []string{corner}}
	for _, z := range cols {
		t.Head = append(t.Head, z.name)
	}
	return t, func(name cell, of func(z *SizeOut) cell) {
		r := []cell{name}
		for _, z := range cols {
			r = append(r, of(z.SizeOut))
		}
		t.Rows = append(t.Rows, r)
	}
}

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

func (s *Garment) places(i int, cols []column, from int) *table {
	c := &s.Closures[i]
	t, row := bySize(fmt.Sprintf("places-%d-%d", i, from), c.Name+": centres "+c.top(), "no.", cols)
	for n := range most(cols, func(z *SizeOut) int { return len(z.Positions) }) {
		// What a row is for stands with its number, where all sizes agree.
		var roles []string
		for _, z := range cols {
			if n < len(z.Positions) {
				roles = append(roles, s.shortRole(i, z.index, n))
			}
		}
		name, own := number(n+1), len(slices.Compact(slices.Clone(roles))) > 1
		if !own && roles[0] != "" {
			name = words(itoa(n+1) + " " + roles[0])
		}
		row(name, func(z *SizeOut) cell {
			c := s.nth(z.Positions, n)
			if what := s.shortRole(i, z.index, n); own && n < len(z.Positions) && what != "" {
				c = c.and(" " + what)
			}
			return c
		})
	}
	row(words("end"), func(z *SizeOut) cell { return s.place(z.Run) })
	return t
}

func (s *Garment) gaps(i int, cols []column, from int) *table {
	t, row := bySize(fmt.Sprintf("gaps-%d-%d", i, from), s.Closures[i].Name+": gaps, and from the last centre to the end", "from–to", cols)
	for n := range most(cols, func(z *SizeOut) int { return len(z.Gaps) }) {
		row(words(fmt.Sprintf("%d–%d", n+1, n+2)), func(z *SizeOut) cell { return s.nth(z.Gaps, n) })
	}
	row(words("last–end"), func(z *SizeOut) cell {
		if !z.Laid {
			return words("none fits")
		}
		return s.place(z.Last)
	})
	if slices.ContainsFunc(cols, func(z column) bool { return z.Spread > 0 }) {
		row(words("uneven by"), func(z *SizeOut) cell {
			if !z.Laid {
				return words("")
			}
			return s.place(&z.Spread)
		})
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

// rowsOut are the columns of a double-breasted front.
func (s *Garment) rowsOut(i int, cols []column, from int) *table {
	n := most(cols, func(z *SizeOut) int { return len(z.Rows) })
	if n == 0 {
		return nil
	}
	t, row := bySize(fmt.Sprintf("rows-%d-%d", i, from), s.Closures[i].Name+": each row from the centre line, on both sides", "row", cols)
	for k := range n {
		row(number(k+1), func(z *SizeOut) cell { return s.nth(z.Rows, k) })
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

func (s *Garment) buyBlocks() []any {
	b := &s.Buy
	many := b.Garments > 1
	t := &table{ID: "notions", Caption: "Notions, for one garment", Head: []string{"notion", "for", "needed", "spare", "buy"}}
	if many {
		t.Caption = fmt.Sprintf("Notions, for one garment of the size that needs most, and for a range of %d, one of each size", b.Garments)
	}
	priced := b.Cost.Garment != nil
	if priced {
		t.Head = append(t.Head, "price each", "cost")
	}
	if many {
		t.Head = append(t.Head, "range takes", "range buy")
		if priced {
			t.Head = append(t.Head, "range cost")
		}
	}
	var lengths []string
	for i := range b.Notions {
		n := &b.Notions[i]
		packs := func(a *Amount) cell {
			c := number(a.Pieces)
			if n.Pack > 1 {
				c = c.and(" (" + text.Count(a.Packs, "pack") + ")")
			}
			return c
		}
		row := []cell{words(n.Notion), words(strings.Join(n.Closures, ", ")), number(n.Garment.Needed), number(n.Garment.Spare), packs(&n.Garment)}
		if k := n.Garment.Test; k > 0 {
			row[2] = row[2].and(" + " + itoa(k) + " to test")
		}
		if !n.Known {
			row[2] = row[2].and(" or more")
		}
		if priced {
			row = append(row, money(n.Price), money(n.Garment.Cost))
		}
		if many {
			row = append(row, number(n.Range.Needed+n.Range.Test+n.Range.Spare), packs(&n.Range))
			if priced {
				row = append(row, money(n.Range.Cost))
			}
		}
		t.Rows = append(t.Rows, row)
		lengths = append(lengths, s.zipLengths(n)...)
	}
	out := []any{t}
	if priced {
		says := "Notions for one garment: " + money(b.Cost.Garment).Text
		if many {
			says += "; for the range: " + money(b.Cost.Range).Text
		}
		says += ", in the catalogue's own currency, whole packs"
		if len(b.Unpriced) > 0 {
			says += "; without a price, so not counted: " + strings.Join(b.Unpriced, ", ")
		}
		out = append(out, para(says+"."))
	} else if len(b.Notions) > 0 {
		out = append(out, para("The catalogue has no prices for these; an own catalogue file can give price and pack."))
	}
	for _, l := range lengths {
		out = append(out, para(l+"."))
	}

	t = &table{ID: "interfacing", Caption: "Interfacing for the strips and patches of the closures", Head: []string{"interfacing", "goods width", "one garment"}}
	cut := &table{ID: "pieces", Caption: "Strips and patches to cut for one garment", Head: []string{"for", "pieces", "kind", "wide", "long", "of"}}
	if many {
		t.Head = append(t.Head, "range")
	}
	for i := range b.Interfacing {
		x := &b.Interfacing[i]
		row := []cell{words(x.Interfacing), s.length(x.Goods), s.goods(x.Garment, x.GarmentBuy)}
		switch {
		case x.Goods == nil:
			row[1], row[2] = words("not given"), words("set interfacing."+x.Name+".width")
		case !x.Fits:
			row[2] = words("goods too narrow")
		}
		if many {
			row = append(row, s.goods(x.Range, x.RangeBuy))
		}
		t.Rows = append(t.Rows, row)
		for _, p := range x.Pieces {
			cut.Rows = append(cut.Rows, []cell{words(p.Closure), number(p.Pieces), words(p.Kind), s.len(p.Width), s.len(p.Length), words(x.Interfacing)})
		}
		if x.Size != "" && len(cut.Rows) > 0 && many {
			cut.Caption = "Strips and patches to cut for one garment, size " + x.Size
		}
	}
	out = append(out, t)
	if len(t.Rows) > 0 {
		says := "Pieces are laid lengthwise, side by side across the goods, short ones below each other. Facings, collars and whole fronts are not in it."
		if slices.ContainsFunc(b.Interfacing, func(x BuyInterf) bool {
			return slices.ContainsFunc(x.Pieces, func(p BuyPiece) bool { return p.Kind == "swatch" })
		}) {
			says += " The swatches of the fusing test are, once."
		}
		for i := range b.Interfacing {
			if x := &b.Interfacing[i]; x.Shrink > 0 {
				says += fmt.Sprintf(" %s shrinks %s along the length, and that is counted: shrink it before you cut.", x.Interfacing, measure.Percent(x.Shrink))
			}
		}
		out = append(out, para(says), cut)
	}

	t = &table{ID: "thread", Caption: "Thread for what the checklist sews, 15 % for waste in it; other seams are not counted", Head: []string{"thread", "size", "for", "jobs", "one garment"}}
	if many {
		t.Head = append(t.Head, "range")
	}
	t.Head = append(t.Head, "spools")
	for i := range b.Thread {
		x := &b.Thread[i]
		name := x.Thread
		if x.Name != "" && x.Name != x.Thread {
			name = x.Name + ": " + x.Thread
		}
		row := []cell{words(name), words(measure.LinearDensity(x.Tex).String()), words(strings.Join(x.Closures, ", ")), words(strings.Join(x.Jobs, ", ")), s.thread(x.Garment)}
		if many {
			row = append(row, s.thread(x.Range))
		}
		if !x.Known {
			row[4] = row[4].and(" or more")
		}
		spools := words("")
		if x.Spools != nil {
			spools = cell{Text: fmt.Sprintf("%d of %.0f m", *x.Spools, measure.Length(*x.Spool).MM()/1000), Value: itoa(*x.Spools)}
		}
		t.Rows = append(t.Rows, append(row, spools))
	}
	out = append(out, t)
	for _, says := range s.rest() {
		out = append(out, para(says+"."))
	}
	return out
}

// thread is a length of thread: yards or metres.
func (s *Garment) thread(m MM) cell {
	l := measure.Length(m)
	text := fmt.Sprintf("%.1f m", l.MM()/1000)
	if s.unit == measure.In {
		text = fmt.Sprintf("%.1f yd", float64(l)/float64(measure.Yard))
	}
	return cell{Text: text, Value: exact(m)}
}

// goods is a length of goods needed, and what to ask for in the shop.
func (s *Garment) goods(need, buy *MM) cell {
	c := s.length(need)
	if need == nil || buy == nil {
		return c
	}
	c.Text += ", buy " + work.Sold(measure.Length(*buy), s.unit)
	return c
}
