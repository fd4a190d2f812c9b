package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/rules"
)

// A document is what the formats for people show: sections of a few kinds of
// block, with the same words and numbers whichever format writes them.
type document struct {
	sheet    *Garment
	title    string
	facts    []fact
	verdict  string // the severity, or ok
	summary  string
	next     string
	sections []section
	sources  []string // numbered from 1
}

type section struct {
	id, title string
	blocks    []any
}

// The blocks of a section.
type (
	para    string
	bullets []string
	// working is the working of one closure's numbers.
	working struct {
		closure string
		steps   []step
	}
	step struct {
		topic, says, missing string
		refs                 []int
	}
	// findings are all findings, those of several sizes merged.
	findings []note
	note     struct {
		Finding
		where string // closure and sizes, in words
		refs  []int
	}
	// drawing is the run of one closure: a strip in text, a picture in HTML.
	drawing struct{ closure int }
)

type fact struct{ key, value string }

// table is a table with a first column of row headings.
type table struct {
	id      string
	caption string
	head    []string
	rows    [][]cell
}

// cell is a cell of a table. What a machine may read stands in value.
type cell struct {
	text  string
	value string // exact millimetres or a plain number, "" for words
	unit  string // mm where value is a length
}

func (c cell) number() bool { return c.value != "" }

func words(s string) cell { return cell{text: s} }

func number(n int) cell { return cell{text: strconv.Itoa(n), value: strconv.Itoa(n)} }

// length is a length in the garment's units.
func (s *Garment) length(m *MM) cell {
	if m == nil {
		return words("")
	}
	l := measure.Length(*m)
	return cell{l.Short(s.unit), strings.TrimSuffix(l.Exact(measure.MM), " mm"), "mm"}
}

func (s *Garment) len(m MM) cell { return s.length(&m) }

func money(f *float64) cell {
	if f == nil {
		return words("")
	}
	v := strconv.FormatFloat(*f, 'f', 2, 64)
	return cell{text: v, value: v}
}

func itoa(n int) string { return strconv.Itoa(n) }

// refs numbers sources, a new one after those before it.
func (d *document) refs(sources []string) []int {
	var out []int
	for _, s := range sources {
		if s == "" {
			continue
		}
		i := slices.Index(d.sources, s)
		if i < 0 {
			d.sources = append(d.sources, s)
			i = len(d.sources) - 1
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
	d := &document{sheet: s, title: s.Garment, verdict: s.Verdict}
	d.facts = s.facts()
	d.summary, d.next = s.summary(o.Strict)
	d.add("findings", "Findings", s.findingsBlock(d, k))
	if k == check {
		d.add("runs", "", s.runs()...)
		return d
	}
	d.add("closures", "Closures", s.closuresTable())
	d.add("positions", "Places of the fasteners", s.positions()...)
	d.add("buy", "To buy", s.buyBlocks()...)
	var ws []any
	for i := range s.Closures {
		c := &s.Closures[i]
		w := working{closure: c.Name}
		for _, st := range c.Working {
			missing := ""
			if st.Default != nil {
				missing = *st.Default
			}
			w.steps = append(w.steps, step{st.Topic, st.Says, missing, d.refs(st.Sources)})
		}
		if len(w.steps) > 0 {
			ws = append(ws, w)
		}
	}
	d.add("working", "How each number came about", ws...)
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
			return b == nil || len(b.rows) == 0
		case para:
			return b == ""
		}
		return false
	})
	if len(blocks) > 0 {
		d.sections = append(d.sections, section{id, title, blocks})
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
	if len(s.With) > 0 {
		f = append(f, fact{"tried with", strings.Join(s.With, "; ")})
	}
	return f
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return itoa(n) + " " + word + "s"
}

// summary is what was found in a line, and what to do next.
func (s *Garment) summary(strict bool) (says, next string) {
	conflicts, cautions, notes := s.count(rules.Conflict), s.count(rules.Caution), s.count(rules.Note)
	var parts []string
	for _, p := range []struct {
		n    int
		word string
	}{{conflicts, "conflict"}, {cautions, "caution"}, {notes, "note"}} {
		if p.n > 0 {
			parts = append(parts, plural(p.n, p.word))
		}
	}
	over := plural(len(s.Closures), "closure")
	if len(s.Sizes) > 1 {
		over += " in " + plural(len(s.Sizes), "size")
	}
	switch {
	case conflicts > 0:
		next = "Cut nothing until the conflicts are settled: change the file as a “try” line says, then run check again."
	case cautions > 0 && strict:
		next = "Cautions stand in the way here (--strict): settle them, or make a sample and run without --strict."
	case cautions > 0:
		next = "Nothing stands in the way, but make a sample of what the cautions name before you cut."
	case notes > 0:
		next = "Nothing stands in the way. Sew a sample hole through the real layers, then cut."
	default:
		return over + ", nothing to object to", "Sew a sample hole through the real layers, then cut."
	}
	return strings.Join(parts, ", ") + " in " + over, next
}

// merge puts findings that say the same of several sizes together, in the
// order of the first.
func (s *Garment) merge() []Finding {
	var out []Finding
	for _, f := range s.Findings {
		i := slices.IndexFunc(out, func(g Finding) bool {
			return g.Size != "" && f.Size != "" && g.Rule == f.Rule && g.Severity == f.Severity && g.Closure == f.Closure && g.Message == f.Message &&
				slices.EqualFunc(g.Fixes, f.Fixes, func(a, b Fix) bool { return slices.Equal(a.With, b.With) && a.Says == b.Says })
		})
		if i < 0 {
			out = append(out, f)
			i = len(out) - 1
		}
		if f.Size != "" {
			out[i].sizes = append(out[i].sizes, f.Size)
		}
	}
	return out
}

func (s *Garment) findingsBlock(d *document, k kind) findings {
	var out findings
	for _, f := range s.merge() {
		n := note{Finding: f, where: s.where(&f)}
		if k == spec {
			n.refs = d.refs(f.Sources)
		}
		out = append(out, n)
	}
	return out
}

// where is the closure and the sizes of a finding in words.
func (s *Garment) where(f *Finding) string {
	var parts []string
	if f.Closure != "" && len(s.Closures) > 1 {
		parts = append(parts, f.Closure)
	}
	switch n := len(f.sizes); {
	case n == 0:
	case n > 1 && n == len(s.Sizes):
		parts = append(parts, "all sizes")
	case n == 1:
		parts = append(parts, "size "+f.sizes[0])
	default:
		parts = append(parts, "sizes "+strings.Join(f.sizes, ", "))
	}
	return strings.Join(parts, ", ")
}

// closuresTable has a row a closure.
func (s *Garment) closuresTable() *table {
	t := &table{id: "closures", caption: "What each closure takes", head: []string{"closure", "fastener", "count", "hole", "stand", "band", "strip", "needle", "thread", "stitch"}}
	for i := range s.Closures {
		c := &s.Closures[i]
		row := []cell{words(c.Name), words(c.Notion), s.counts(c), words("none"), words("none"), words("none"), words("none"), words(""), words(""), {measure.Length(c.StitchMM).Short(measure.MM), exact(c.StitchMM), "mm"}}
		if c.Use() == "" {
			row[1].text = c.Fastener + ", your own"
		}
		if h := c.Hole; h != nil {
			row[3] = s.len(h.Length)
			row[3].text += " " + h.Kind
			if h.Kind != "loop" {
				row[3].text += ", " + h.Direction
			}
		}
		if st := c.Stand; st != nil {
			row[4] = s.len(st.Have)
			if !st.Known {
				row[4].text += " to draft"
			}
			switch {
			case st.Band != nil:
				row[5] = s.length(st.Band)
				row[5].text += " " + deref(st.Construction)
			case st.Construction != nil:
				row[5] = words(*st.Construction)
			}
		}
		if u := c.Support; u != nil {
			row[6] = s.len(u.Strip)
		}
		if n := c.Needle; n != nil {
			row[7] = words(fmt.Sprintf("%d/%d %s", n.NM, n.US, n.Point))
		}
		if th := c.Thread; th != nil {
			row[8] = words(measure.LinearDensity(th.Tex).String())
		}
		if c.Fastener == catalog.Zip {
			row[9] = words("")
		}
		t.rows = append(t.rows, row)
	}
	return t
}

// Use is the catalogue's name of the notion, "" for one described in the
// file.
func (c *Closure) Use() string {
	if strings.HasPrefix(c.Notion, "your own ") {
		return ""
	}
	return c.Notion
}

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

// positions are the tables of places and gaps of each closure.
func (s *Garment) positions() []any {
	var out []any
	for i := range s.Closures {
		c := &s.Closures[i]
		laid := slices.ContainsFunc(c.Sizes, func(z SizeOut) bool { return z.Laid && z.Count > 0 })
		if !laid {
			continue
		}
		out = append(out, drawing{i})
		if len(c.Sizes) == 1 {
			out = append(out, s.oneSize(c))
			continue
		}
		for from := 0; from < len(c.Sizes); from += sizesAcross {
			some := c.Sizes[from:min(from+sizesAcross, len(c.Sizes))]
			out = append(out, s.places(c, some, from), s.gaps(c, some, from))
		}
	}
	return out
}

// oneSize has places and gaps in one table.
func (s *Garment) oneSize(c *Closure) *table {
	z := &c.Sizes[0]
	size := ""
	if z.Size != "" {
		size = ", size " + z.Size
	}
	t := &table{id: "places-" + itoa(s.at(c)), caption: c.Name + size + ": centres from the neck edge, the top of the run", head: []string{"no.", "from the top", "to the next"}}
	if len(z.Rows) > 0 {
		t.head = append(t.head, "from centre line")
	}
	for n, p := range z.Positions {
		row := []cell{number(n + 1), s.len(p), words("")}
		if n < len(z.Gaps) {
			row[2] = s.len(z.Gaps[n])
		}
		if len(z.Rows) > 0 {
			row = append(row, words(""))
			if n < len(z.Rows) {
				row[3] = s.len(z.Rows[n])
			}
		}
		t.rows = append(t.rows, row)
	}
	end := []cell{words("end"), s.length(z.Run), s.length(z.Last)}
	end[2].text = strings.TrimSpace(end[2].text)
	if len(z.Rows) > 0 {
		end = append(end, words(""))
	}
	// The last centre's way to the end stands on its own line.
	if n := len(z.Positions); n > 0 {
		t.rows[n-1][2] = end[2]
		end[2] = words("")
	}
	t.rows = append(t.rows, end)
	return t
}

// at is the place of a closure among the closures.
func (s *Garment) at(c *Closure) int {
	for i := range s.Closures {
		if &s.Closures[i] == c {
			return i
		}
	}
	return -1
}

func (s *Garment) places(c *Closure, sizes []SizeOut, from int) *table {
	t := &table{id: fmt.Sprintf("places-%d-%d", s.at(c), from), caption: c.Name + ": centres from the neck edge, the top of the run", head: []string{"no."}}
	most := 0
	for _, z := range sizes {
		t.head = append(t.head, z.Size)
		most = max(most, len(z.Positions))
	}
	for n := range most {
		row := []cell{number(n + 1)}
		for _, z := range sizes {
			if n < len(z.Positions) {
				row = append(row, s.len(z.Positions[n]))
			} else {
				row = append(row, words(""))
			}
		}
		t.rows = append(t.rows, row)
	}
	end := []cell{words("end")}
	for _, z := range sizes {
		end = append(end, s.length(z.Run))
	}
	t.rows = append(t.rows, end)
	return t
}

func (s *Garment) gaps(c *Closure, sizes []SizeOut, from int) *table {
	t := &table{id: fmt.Sprintf("gaps-%d-%d", s.at(c), from), caption: c.Name + ": gaps, and from the last centre to the end", head: []string{"from–to"}}
	most, uneven := 0, false
	for _, z := range sizes {
		t.head = append(t.head, z.Size)
		most = max(most, len(z.Gaps))
		uneven = uneven || z.Spread > 0
	}
	row := func(name string, of func(z *SizeOut) cell) {
		r := []cell{words(name)}
		for i := range sizes {
			r = append(r, of(&sizes[i]))
		}
		t.rows = append(t.rows, r)
	}
	for n := range most {
		row(fmt.Sprintf("%d–%d", n+1, n+2), func(z *SizeOut) cell {
			if n < len(z.Gaps) {
				return s.len(z.Gaps[n])
			}
			return words("")
		})
	}
	row("last–end", func(z *SizeOut) cell {
		if !z.Laid {
			return words("none fits")
		}
		return s.length(z.Last)
	})
	if uneven {
		row("uneven by", func(z *SizeOut) cell {
			if !z.Laid {
				return words("")
			}
			return s.len(z.Spread)
		})
	}
	return t
}

// runs are the drawings that check shows: of closures with several
// fasteners.
func (s *Garment) runs() []any {
	var out []any
	for i := range s.Closures {
		if slices.ContainsFunc(s.Closures[i].Sizes, func(z SizeOut) bool { return z.Count > 1 }) {
			out = append(out, drawing{i})
		}
	}
	return out
}

func (s *Garment) buyBlocks() []any {
	b := &s.Buy
	many := b.Garments > 1
	t := &table{id: "notions", caption: "Notions, for one garment", head: []string{"notion", "for", "needed", "spare", "packs", "pieces"}}
	if many {
		t.caption = fmt.Sprintf("Notions, for one garment of the size that needs most, and for a range of %d, one of each size", b.Garments)
		t.head = append(t.head, "range needed", "range packs", "range pieces")
	}
	priced := b.Cost.Garment != nil
	if priced {
		t.head = append(t.head, "price each", "garment")
		if many {
			t.head = append(t.head, "range")
		}
	}
	var lengths []string
	for i := range b.Notions {
		n := &b.Notions[i]
		packs := func(a *Amount) cell {
			if n.Pack == 1 {
				return number(a.Packs)
			}
			return cell{text: fmt.Sprintf("%d of %d", a.Packs, n.Pack), value: itoa(a.Packs)}
		}
		row := []cell{words(n.Notion), words(strings.Join(n.Closures, ", ")), number(n.Garment.Needed), number(n.Garment.Spare), packs(&n.Garment), number(n.Garment.Pieces)}
		if !n.Known {
			row[2].text += " or more"
		}
		if many {
			row = append(row, number(n.Range.Needed), packs(&n.Range), number(n.Range.Pieces))
		}
		if priced {
			row = append(row, money(n.Price), money(n.Garment.Cost))
			if many {
				row = append(row, money(n.Range.Cost))
			}
		}
		t.rows = append(t.rows, row)
		if len(n.Lengths) > 0 {
			var parts []string
			for j, l := range n.Lengths {
				part := s.len(l).text
				if size := s.plan.Garment.Sizes[s.picked[j]]; size != "" {
					part = size + " " + part
				}
				parts = append(parts, part)
			}
			lengths = append(lengths, n.Notion+" to buy: "+strings.Join(parts, ", "))
		}
	}
	out := []any{t}
	if priced {
		says := "Notions for one garment: " + money(b.Cost.Garment).text
		if many {
			says += "; for the range: " + money(b.Cost.Range).text
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

	t = &table{id: "interfacing", caption: "Interfacing for the strips and patches of the closures", head: []string{"interfacing", "goods width", "pieces", "one garment"}}
	if many {
		t.head = append(t.head, "range")
	}
	for i := range b.Interfacing {
		x := &b.Interfacing[i]
		var pieces []string
		for _, p := range x.Pieces {
			kind := "strips"
			if p.Kind == "patch" {
				kind = "patches"
			}
			pieces = append(pieces, fmt.Sprintf("%s: %d %s %s × %s", p.Closure, p.Pieces, kind, s.len(p.Width).text, s.len(p.Length).text))
		}
		row := []cell{words(x.Interfacing), s.length(x.Goods), words(strings.Join(pieces, "; ")), s.length(x.Garment)}
		switch {
		case x.Goods == nil:
			row[1], row[3] = words("not given"), words("set interfacing."+x.Name+".width")
		case !x.Fits:
			row[3] = words("goods too narrow")
		}
		if x.Size != "" {
			row[2].text = "size " + x.Size + ": " + row[2].text
		}
		if many {
			row = append(row, s.length(x.Range))
		}
		t.rows = append(t.rows, row)
	}
	out = append(out, t)
	if len(t.rows) > 0 {
		says := "Pieces are laid lengthwise, side by side across the goods, short ones below each other. Facings, collars and whole fronts are not in it."
		for i := range b.Interfacing {
			if x := &b.Interfacing[i]; x.Shrink > 0 {
				says += fmt.Sprintf(" %s shrinks %s along the length, and that is counted: shrink it before you cut.", x.Interfacing, measure.Percent(x.Shrink))
			}
		}
		out = append(out, para(says))
	}

	t = &table{id: "thread", caption: "Thread for the holes and for sewing fasteners on, 15 % for waste in it", head: []string{"thread", "size", "for", "one garment"}}
	if many {
		t.head = append(t.head, "range")
	}
	t.head = append(t.head, "spools")
	for i := range b.Thread {
		x := &b.Thread[i]
		name := x.Thread
		if x.Name != "" && x.Name != x.Thread {
			name = x.Name + ": " + x.Thread
		}
		row := []cell{words(name), words(measure.LinearDensity(x.Tex).String()), words(strings.Join(x.Closures, ", ")), metres(x.Garment)}
		if many {
			row = append(row, metres(x.Range))
		}
		spools := words("")
		if x.Spools != nil {
			spools = cell{text: fmt.Sprintf("%d of %.0f m", *x.Spools, measure.Length(*x.Spool).MM()/1000), value: itoa(*x.Spools)}
		}
		t.rows = append(t.rows, append(row, spools))
	}
	return append(out, t)
}

// metres is a length of thread.
func metres(m MM) cell {
	l := measure.Length(m)
	return cell{fmt.Sprintf("%.1f m (%.1f yd)", l.MM()/1000, float64(l)/float64(measure.Yard)), exact(m), "mm"}
}

// place is the place of a finding.
func place(p source.Pos) string { return p.String() }
