package sheet

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"html"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// Law 5: the same place is the same on every paper. What the papers say is
// read back and held against the pieces, within what is printed: to 1/16 in,
// below 1/2 in to 1/32; to 0.5 mm, below 10 mm to 0.1. Programs get it exact.

func TestPlacesAreTheSameOnEveryPaper(t *testing.T) {
	for _, f := range demos(t) {
		agree(t, filepath.Base(f), planned(t, f))
	}
	n, read := many(60, 1000), 0
	for seed := uint64(1); read < n; seed++ {
		if seed > uint64(10*n) {
			t.Fatalf("only %d of %d garments can be read", read, seed)
		}
		text := trial.New(seed, 1876).Opening()
		g, err := catalog.Read("test.toml", []byte(text), catalog.Options{})
		if err != nil {
			continue
		}
		read++
		before := t.Failed()
		agree(t, fmt.Sprintf("seed %d", seed), rules.Plan(g))
		if t.Failed() && !before {
			t.Log(text)
		}
		if t.Failed() && !long() {
			break
		}
	}
}

// Hand-made slips are seen: a test that cannot fail is none.
func TestSlipsAreSeen(t *testing.T) {
	p := demo(t, "bridge-coat-ready")
	for _, slip := range []func(q *plan.Part) bool{
		func(q *plan.Part) bool { q.Centre.At += measure.Inch / 8; return q.Kind == plan.HolePart },
		func(q *plan.Part) bool { q.Centre.Out -= measure.Inch / 8; return q.Role == plan.Show },
		func(q *plan.Part) bool {
			q.Cut += measure.Inch / 8
			q.OutFrom -= measure.Inch / 8
			return q.Role == plan.Inner
		},
	} {
		r := &reader{p: p, sizes: []int{0, 1, 2}, say: func(string, ...any) {}}
		lie := plan.Of(p.Garment, false)
		for i := range lie.Closures[0].Pieces[1] {
			parts := lie.Closures[0].Pieces[1][i].Parts
			for j := range parts {
				if q := parts[j]; slip(&q) {
					parts[j] = q
				}
			}
		}
		r.pieces = func(i, size int) []plan.Piece { return lie.PiecesOf(i, size) }
		for name, paper := range papersOf(t, p, "") {
			faults := 0
			r.say = func(string, ...any) { faults++ }
			r.paper(name, paper)
			if faults == 0 {
				t.Errorf("%s: a slip is not seen", name)
			}
		}
		faults := 0
		r.say = func(string, ...any) { faults++ }
		r.exact(t, specified(t, []*rules.Planned{p}, Options{Format: "json"}), specified(t, []*rules.Planned{p}, Options{Format: "csv"}))
		if faults == 0 {
			t.Error("JSON and CSV: a slip is not seen")
		}
	}
}

// agree reads every paper of a plan.
func agree(t *testing.T, name string, p *rules.Planned) {
	t.Helper()
	sizes := []string{""}
	if len(p.Garment.Sizes) > 1 {
		sizes = append(sizes, p.Garment.Sizes[len(p.Garment.Sizes)-1])
	}
	for _, size := range sizes {
		r := &reader{p: p, pieces: p.PiecesOf}
		for i, s := range p.Garment.Sizes {
			if size == "" || s == size {
				r.sizes = append(r.sizes, i)
			}
		}
		r.say = func(format string, args ...any) {
			t.Errorf("%s, size %q: %s", name, size, fmt.Sprintf(format, args...))
		}
		ps := []*rules.Planned{p}
		r.exact(t, specified(t, ps, Options{Format: "json", Size: size}), specified(t, ps, Options{Format: "csv", Size: size}))
		for format, paper := range papersOf(t, p, size) {
			r.paper(format, paper)
		}
		r.checklist(t, size)
		r.picture(specified(t, ps, Options{Format: "html", Size: size}))
	}
}

// reader reads papers of one plan.
type reader struct {
	p      *rules.Planned
	pieces func(closure, size int) []plan.Piece
	sizes  []int
	say    func(format string, args ...any)
}

func (r *reader) unit() measure.Unit { return r.p.Garment.Units }

// near says whether a printed length is that length.
func (r *reader) near(printed, l measure.Length) bool {
	step, fine, from := measure.Inch/16, measure.Inch/32, measure.Inch/2
	if r.unit() == measure.MM {
		step, fine, from = measure.Millimetre/2, measure.Millimetre/10, 10*measure.Millimetre
	}
	if l.Abs() < from && printed.Abs() < from {
		step = fine
	}
	if printed == 0 && l.Abs() < measure.Millimetre/4 { // nobody cuts so near a line: it is on it
		return true
	}
	if over := printed.Abs() - l.Abs(); over >= 0 && over < step && r.drafted(l.Abs()) {
		return true
	}
	return (printed - l).Abs() <= step/2+1
}

// drafted says whether a length is a stand that was worked out, or where its
// edges lie, or what the folds of a band come to: a least, which is printed
// rounded up, since less in the file would be a conflict (band-extension).
func (r *reader) drafted(l measure.Length) bool {
	return slices.ContainsFunc(r.p.Closures, func(k plan.Closure) bool {
		s := &k.Stand
		if s.Construction == "folded" && !k.Closure.Stand.Extension.Has() && l == s.Extension {
			return true
		}
		return !s.Known && (l == s.Have || l == s.Have+s.Column || l == s.Have+s.Column+s.Seam)
	})
}

// nearPlace is near for a table of places, which may print what is small in
// whole steps too.
func (r *reader) nearPlace(printed, l measure.Length) bool {
	step := measure.Inch / 16
	if r.unit() == measure.MM {
		step = measure.Millimetre / 2
	}
	return (printed - l).Abs() <= step/2+1
}

func (r *reader) length(s string) measure.Length {
	s, _, _ = strings.Cut(s, " (")
	l, err := measure.ParseLength(strings.TrimSpace(s), r.unit())
	if err != nil {
		r.say("%q is no length: %v", s, err)
	}
	return l
}

func (r *reader) lengths(list string) []measure.Length {
	var out []measure.Length
	for _, s := range regexp.MustCompile(oneLength).FindAllString(list, -1) {
		out = append(out, r.length(s))
	}
	return out
}

// exact holds JSON and CSV against the pieces, to the nanometre.
func (r *reader) exact(t *testing.T, js, table string) {
	t.Helper()
	var all []struct {
		Closures []struct {
			Name    string
			PieceOf *string `json:"piece_of"`
			Sizes   []struct {
				Size   string
				Pieces []struct {
					Piece, Side string
					Lines       []struct {
						Kind     string
						From, To struct {
							Out json.Number `json:"out_mm"`
							At  json.Number `json:"at_mm"`
						}
					}
					Areas []struct {
						Kind        string
						Layer, Name *string
						OutFrom     json.Number `json:"out_from_mm"`
						OutTo       json.Number `json:"out_to_mm"`
						From        json.Number `json:"from_mm"`
						To          json.Number `json:"to_mm"`
					}
					Parts []struct {
						Role, Kind, Closure string
						Number, Layer       int
						Centre              struct {
							Out json.Number `json:"out_mm"`
							At  json.Number `json:"at_mm"`
						}
						OutFrom  json.Number  `json:"out_from_mm"`
						OutTo    json.Number  `json:"out_to_mm"`
						From     json.Number  `json:"from_mm"`
						To       json.Number  `json:"to_mm"`
						Cut      *json.Number `json:"cut_mm"`
						Stitched *json.Number `json:"stitched_mm"`
						Eye      *string
					}
				}
			}
		}
	}
	if err := json.Unmarshal([]byte(js), &all); err != nil {
		t.Fatal(err)
	}
	mm := func(l measure.Length) string { return strings.TrimSuffix(l.Exact(measure.MM), " mm") }
	word := func(s *string) string {
		if s == nil {
			return ""
		}
		return *s
	}
	number := func(n *json.Number) string {
		if n == nil {
			return ""
		}
		return n.String()
	}
	var want, fromJSON, fromCSV []string
	for i := range r.p.Closures {
		k := &r.p.Closures[i]
		for _, size := range r.sizes {
			if k.PieceOf != "" {
				continue
			}
			for _, pc := range r.pieces(i, size) {
				head := []string{k.Closure.Name, r.p.Garment.Sizes[size], pc.Piece, pc.Side.String()}
				for _, l := range pc.Lines {
					want = append(want, strings.Join(append(slices.Clone(head), l.Kind.String(), mm(l.From.Out), mm(l.From.At), mm(l.To.Out), mm(l.To.At)), "|"))
				}
				for _, a := range pc.Areas {
					layer := ""
					if a.Kind == plan.InterfacingArea {
						layer = a.Layer.String()
					}
					want = append(want, strings.Join(append(slices.Clone(head), a.Kind.String(), layer, a.Name, mm(a.OutFrom), mm(a.OutTo), mm(a.From), mm(a.To)), "|"))
				}
				for _, q := range pc.Parts {
					cut, stitched := "", ""
					if q.Kind == plan.HolePart {
						cut, stitched = mm(q.Cut), mm(q.Stitched)
						if q.Cut > 0 && q.Role == plan.Show {
							r.say("a hole is cut in row %d, which is for show", q.Number)
						}
					}
					want = append(want, strings.Join(append(slices.Clone(head), r.p.Garment.Closures[q.Closure].Name, q.Kind.String(), q.Role.String(), itoa(int(q.Number)), itoa(int(q.Layer)),
						mm(q.Centre.Out), mm(q.Centre.At), mm(q.OutFrom), mm(q.OutTo), mm(q.From), mm(q.To), cut, stitched, q.Eye.String()), "|"))
				}
			}
		}
	}
	for _, c := range all[0].Closures {
		for _, z := range c.Sizes {
			for _, pc := range z.Pieces {
				head := []string{c.Name, z.Size, pc.Piece, pc.Side}
				for _, l := range pc.Lines {
					fromJSON = append(fromJSON, strings.Join(append(slices.Clone(head), l.Kind, l.From.Out.String(), l.From.At.String(), l.To.Out.String(), l.To.At.String()), "|"))
				}
				for _, a := range pc.Areas {
					fromJSON = append(fromJSON, strings.Join(append(slices.Clone(head), a.Kind, word(a.Layer), word(a.Name), a.OutFrom.String(), a.OutTo.String(), a.From.String(), a.To.String()), "|"))
				}
				for _, q := range pc.Parts {
					fromJSON = append(fromJSON, strings.Join(append(slices.Clone(head), q.Closure, q.Kind, q.Role, itoa(q.Number), itoa(q.Layer),
						q.Centre.Out.String(), q.Centre.At.String(), q.OutFrom.String(), q.OutTo.String(), q.From.String(), q.To.String(), number(q.Cut), number(q.Stitched), word(q.Eye)), "|"))
				}
			}
		}
	}
	records, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	places := map[string][]string{}
	for _, rec := range records {
		cols := map[string]int{"lines": 9, "areas": 11, "parts": 18}[rec[0]]
		switch {
		case rec[0] == "places":
			key := rec[3] + "|" + rec[4]
			places[key] = append(places[key], rec[5]+"|"+rec[6]+"|"+rec[11])
			if l := r.length(rec[7]); !r.nearPlace(l, measure.FromMM(parseFloat(t, rec[6]))) {
				r.say("the CSV prints %s mm as %s", rec[6], rec[7])
			}
		case cols > 0:
			rec = slices.Clone(rec[3 : 3+cols])
			for i := range rec {
				rec[i] = strings.TrimPrefix(rec[i], "'") // what a spreadsheet would take for a formula
			}
			fromCSV = append(fromCSV, strings.Join(rec, "|"))
		}
	}
	for name, got := range map[string][]string{"JSON": fromJSON, "CSV": fromCSV} {
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			r.say("%s is not the pieces: %d rows of %d; %v", name, len(got), len(want), firstApart(got, want))
		}
	}
	for i := range r.p.Closures {
		k := &r.p.Closures[i]
		for _, size := range r.sizes {
			var rows []string
			if size < len(k.Sizes) && k.Closure.Notion.Kind != catalog.Zip {
				for n, at := range r.ats(i, size) {
					rows = append(rows, itoa(n+1)+"|"+mm(at)+"|"+r.role(i, size, n+1))
				}
			}
			if got := places[k.Closure.Name+"|"+r.p.Garment.Sizes[size]]; len(r.pieces(i, size)) > 0 && !slices.Equal(got, rows) {
				r.say("the CSV has the places of %s at %v, the piece at %v", k.Closure.Name, got, rows)
			}
		}
	}
}

func parseFloat(t *testing.T, s string) float64 {
	t.Helper()
	var f float64
	if _, err := fmt.Sscanf(strings.TrimPrefix(s, "'"), "%g", &f); err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return f
}

func firstApart(a, b []string) [2]string {
	for i := range max(len(a), len(b)) {
		x, y := "", ""
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		if x != y {
			return [2]string{x, y}
		}
	}
	return [2]string{}
}

// ats are the places of a closure in one size, by number, from the parts of
// its pieces.
func (r *reader) ats(closure, size int) []measure.Length {
	var out []measure.Length
	for _, pc := range r.pieces(closure, size) {
		for _, q := range pc.Parts {
			if int(q.Closure) == closure {
				for len(out) < int(q.Number) {
					out = append(out, 0)
				}
				out[q.Number-1] = q.Centre.At
			}
		}
	}
	return out
}

// role is what a row of a double-breasted front is for.
func (r *reader) role(closure, size, number int) string {
	if len(r.p.Closures[closure].Sizes[size].Rows) == 0 {
		return ""
	}
	what := "for show"
	for _, pc := range r.pieces(closure, size) {
		for _, q := range pc.Parts {
			if int(q.Closure) != closure || int(q.Number) != number {
				continue
			}
			switch q.Role {
			case plan.Inner:
				return "works, and inner"
			case plan.Works:
				what = "works"
			}
		}
	}
	return what
}

// A paper for people, as far as places go.
type paper struct {
	tables []readTable
	blocks []readBlock
}

type readTable struct {
	caption string
	head    []string
	rows    [][]string
}

type readBlock struct {
	head string
	says []string
}

const liesTitle = "Where things lie on the pieces"

func papersOf(t *testing.T, p *rules.Planned, size string) map[string]paper {
	t.Helper()
	ps := []*rules.Planned{p}
	write := func(format string) string {
		return specified(t, ps, Options{Format: format, UTF8: true, Width: 4000, Size: size})
	}
	return map[string]paper{
		"text":     textPaper(write("text")),
		"markdown": markdownPaper(write("markdown")),
		"html":     htmlPaper(write("html")),
	}
}

var tableStart = regexp.MustCompile(`^.+: (?:centres from|each row from)`)

func textPaper(s string) paper {
	var out paper
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		if !tableStart.MatchString(l) || i+2 >= len(lines) {
			continue
		}
		// The dashes under the heading say where each column lies.
		under := []rune(lines[i+2])
		var spans [][2]int
		for j := 0; j < len(under); j++ {
			if under[j] != '-' {
				continue
			}
			k := j
			for k < len(under) && under[k] == '-' {
				k++
			}
			spans = append(spans, [2]int{j, k})
			j = k
		}
		cells := func(r []rune) []string {
			var out []string
			for _, s := range spans {
				if s[0] >= len(r) {
					out = append(out, "")
					continue
				}
				out = append(out, strings.TrimSpace(string(r[s[0]:min(s[1], len(r))])))
			}
			return out
		}
		t := readTable{caption: l, head: cells([]rune(lines[i+1]))}
		for _, l := range lines[i+3:] {
			if l == "" {
				break
			}
			t.rows = append(t.rows, cells([]rune(l)))
		}
		out.tables = append(out.tables, t)
	}
	in := false
	for i, l := range lines {
		switch {
		case l == liesTitle:
			in = true
		case in && i+1 < len(lines) && strings.HasPrefix(lines[i+1], "---"):
			in = false
		case !in || l == "" || strings.HasPrefix(l, "---"):
		case strings.HasPrefix(l, "- "):
			b := &out.blocks[len(out.blocks)-1]
			b.says = append(b.says, l[2:])
		default:
			out.blocks = append(out.blocks, readBlock{head: l})
		}
	}
	return out
}

func markdownPaper(s string) paper {
	var out paper
	lines := strings.Split(strings.ReplaceAll(s, `\`, ""), "\n")
	cells := func(l string) []string {
		var out []string
		for _, c := range strings.Split(strings.Trim(l, "|"), "|") {
			out = append(out, strings.TrimSpace(c))
		}
		return out
	}
	in := false
	for i, l := range lines {
		if c := strings.Trim(l, "*"); c != l && tableStart.MatchString(c) {
			t := readTable{caption: c, head: cells(lines[i+2])}
			for _, l := range lines[i+4:] {
				if !strings.HasPrefix(l, "|") {
					break
				}
				t.rows = append(t.rows, cells(l))
			}
			out.tables = append(out.tables, t)
		}
		switch {
		case l == "## "+liesTitle:
			in = true
		case in && strings.HasPrefix(l, "## "):
			in = false
		case !in || l == "":
		case strings.HasPrefix(l, "- "):
			b := &out.blocks[len(out.blocks)-1]
			b.says = append(b.says, l[2:])
		default:
			out.blocks = append(out.blocks, readBlock{head: l})
		}
	}
	return out
}

var (
	htmlTable   = regexp.MustCompile(`(?s)<caption[^>]*>(.*?)</caption>(.*?)</table>`)
	htmlRow     = regexp.MustCompile(`(?s)<tr[^>]*>(.*?)</tr>`)
	htmlCell    = regexp.MustCompile(`(?s)<t[hd][^>]*>(.*?)</t[hd]>`)
	htmlTag     = regexp.MustCompile(`<[^>]*>`)
	htmlSection = regexp.MustCompile(`(?s)<h3 id="[^"]*-lies">.*?</section>`)
	htmlSaid    = regexp.MustCompile(`(?s)<p>(.*?)</p>|<li>(.*?)</li>`)
)

func plainHTML(s string) string {
	return strings.TrimSpace(html.UnescapeString(htmlTag.ReplaceAllString(s, "")))
}

func htmlPaper(s string) paper {
	var out paper
	for _, m := range htmlTable.FindAllStringSubmatch(s, -1) {
		if c := plainHTML(m[1]); tableStart.MatchString(c) {
			t := readTable{caption: c}
			for i, row := range htmlRow.FindAllStringSubmatch(m[2], -1) {
				var cells []string
				for _, c := range htmlCell.FindAllStringSubmatch(row[1], -1) {
					cells = append(cells, plainHTML(c[1]))
				}
				if i == 0 {
					t.head = cells
				} else {
					t.rows = append(t.rows, cells)
				}
			}
			out.tables = append(out.tables, t)
		}
	}
	for _, m := range htmlSaid.FindAllStringSubmatch(htmlSection.FindString(s), -1) {
		if m[2] != "" {
			b := &out.blocks[len(out.blocks)-1]
			b.says = append(b.says, plainHTML(m[2]))
			continue
		}
		out.blocks = append(out.blocks, readBlock{head: plainHTML(m[1])})
	}
	return out
}

// paper holds a paper against the pieces.
func (r *reader) paper(name string, p paper) {
	say := r.say
	defer func() { r.say = say }()
	r.say = func(format string, args ...any) { say("%s: %s", name, fmt.Sprintf(format, args...)) }
	seen := map[string]bool{}
	for _, t := range p.tables {
		r.table(&t, seen)
	}
	for i := range r.p.Closures {
		for _, size := range r.sizes {
			c := r.p.Closures[i].Closure
			if c.Notion.Kind != catalog.Zip && len(r.ats(i, size)) > 0 && !seen[fmt.Sprint(i, size)] {
				r.say("there is no table of the places of %s, size %q", c.Name, r.p.Garment.Sizes[size])
			}
		}
	}
	r.blocks(p.blocks)
}

// table holds a table of places, or of rows, against the pieces: a row a size,
// or a closure, and a column a place. Beneath stands how far each place moves
// from one size to the next.
func (r *reader) table(t *readTable, seen map[string]bool) {
	closure := func(name string) int {
		i := slices.IndexFunc(r.p.Garment.Closures, func(c catalog.Closure) bool { return c.Name == name })
		if i < 0 {
			r.say("%q of %q is no closure", name, t.caption)
		}
		return i
	}
	if unit := map[measure.Unit]string{measure.In: ", in inches", measure.MM: ", in millimetres"}[r.unit()]; !strings.Contains(t.caption, unit) {
		r.say("%q does not say %q", t.caption, unit)
	}
	across := strings.Contains(t.caption, "each row from")
	if t.head[0] == "closure" {
		for _, row := range t.rows {
			if i := closure(row[0]); i >= 0 {
				r.tableRow(t, row, i, r.sizes, false, seen)
			}
		}
		return
	}
	name, _, _ := strings.Cut(t.caption, ":")
	i := closure(name)
	if i < 0 {
		return
	}
	for n, row := range t.rows {
		if row[0] == grows {
			r.growth(t, i, t.rows[n+1:])
			return
		}
		var sizes []int
		switch row[0] {
		case "all sizes", "centres", "rows":
			sizes = r.sizes
		default:
			for _, s := range strings.Split(row[0], ", ") {
				sizes = append(sizes, slices.Index(r.p.Garment.Sizes, s))
			}
		}
		r.tableRow(t, row, i, sizes, across, seen)
	}
	if len(t.rows) > 1 && !across {
		r.say("%s: nothing is said of the growth", t.caption)
	}
}

// tableRow holds one row against the places of a closure in those sizes.
func (r *reader) tableRow(t *readTable, row []string, i int, sizes []int, across bool, seen map[string]bool) {
	for _, size := range sizes {
		if size < 0 {
			r.say("%q is no size", row[0])
			continue
		}
		want := r.ats(i, size)
		if across {
			want = r.rowsOut(i, size)
		} else {
			seen[fmt.Sprint(i, size)] = true
		}
		n := 0
		for col := 1; col < len(row); col++ {
			number, role, _ := strings.Cut(t.head[col], " ")
			if number == "end" {
				if run := r.p.Closures[i].Sizes[size].Run; !r.nearPlace(r.length(row[col]), run) {
					r.say("%s: size %q ends at %s, not %v", t.caption, r.p.Garment.Sizes[size], row[col], run)
				}
				break
			}
			cell := row[col]
			if cell == "" {
				continue
			}
			for _, is := range []string{"show", "inner"} {
				if l, own := strings.CutSuffix(cell, " "+is); own {
					cell, role = l, is
				}
			}
			if n >= len(want) || number != itoa(n+1) || !r.nearPlace(r.length(cell), want[n]) {
				r.say("%s: row %s of size %q is at %s, in the pieces it is %v", t.caption, number, r.p.Garment.Sizes[size], cell, want)
			}
			n++
			if across {
				continue
			}
			if is := map[string]string{"": "", "works": "", "for show": "show", "works, and inner": "inner"}[r.role(i, size, n)]; role != is {
				r.say("%s: row %s is %q, in the pieces it is %q", t.caption, number, role, is)
			}
		}
		if n != len(want) {
			r.say("%s: size %q has %d rows, the pieces %d", t.caption, r.p.Garment.Sizes[size], n, len(want))
		}
	}
}

// growth holds what is said of the growth against the places of both sizes.
func (r *reader) growth(t *readTable, i int, rows [][]string) {
	said := 0
	for _, row := range rows {
		for a := range r.p.Garment.Sizes {
			for b := range r.p.Garment.Sizes {
				if row[0] != r.p.Garment.Sizes[a]+" to "+r.p.Garment.Sizes[b] {
					continue
				}
				said++
				from, to := r.ats(i, a), r.ats(i, b)
				for n := range min(len(from), len(to)) {
					l := r.length(strings.TrimLeft(row[n+1], "+-"))
					if strings.HasPrefix(row[n+1], "-") {
						l = -l
					}
					if (l > 0) != strings.HasPrefix(row[n+1], "+") || !r.nearPlace(l, to[n]-from[n]) {
						r.say("%s: place %d grows by %s from %s, in the pieces by %v", t.caption, n+1, row[n+1], row[0], to[n]-from[n])
					}
				}
			}
		}
	}
	if said != len(rows) || said == 0 {
		r.say("%s: %d of %d rows of growth are read", t.caption, said, len(rows))
	}
}

// rowsOut is how far each row stands from the centre line, from the parts.
func (r *reader) rowsOut(closure, size int) []measure.Length {
	var out []measure.Length
	for _, pc := range r.pieces(closure, size) {
		for _, q := range pc.Parts {
			if int(q.Closure) == closure && len(r.p.Closures[closure].Sizes[size].Rows) > 0 {
				for len(out) < int(q.Number) {
					out = append(out, 0)
				}
				out[q.Number-1] = q.Centre.Out.Abs()
			}
		}
	}
	return out
}

// Lengths and places as the papers write them.
const (
	oneLength = `\d[\d/. ]*(?:in|mm)\b(?: \([^()]*\))?`
	aLine     = `the centre line|the line of the (?:teeth|holes|loops|(?:tack )?buttons|snaps|hooks|eyelets|rivets|toggles|frogs)|the line where the edges meet`
)

var (
	placeSaid = regexp.MustCompile(`(` + oneLength + `(?:, ` + oneLength + `)*) (beyond|inside) (?:` + aLine + `|it\b)|` + aLine + `|\b(?:on|to) it\b`)
	aboutSaid = regexp.MustCompile(`from (` + oneLength + `) (?:beyond (?:its mark|that line|` + aLine + `) towards the edge,|above the mark|short of the mark) to (` + oneLength + `) (?:inside it|below it|past it)`)
	patchSaid = regexp.MustCompile(`, (` + oneLength + `) to (` + oneLength + `) (?:below|from the front end of) `)
	firstSaid = regexp.MustCompile(`, the first (` + oneLength + `) (?:below|from the front end of) `)
	fromTo    = regexp.MustCompile(`from (?:(` + oneLength + `)|the (?:neck edge|top of the [^ ]+|front end of the [^ ]+)) to (` + oneLength + `) (?:below|from the front end of) `)
	rowsSaid  = regexp.MustCompile(`rows? ([\d, to and]+?)(?: at| on|, each|, from)`)
)

// outs are the places across that a text names, in their order.
func (r *reader) outs(s string) []measure.Length {
	var out []measure.Length
	for _, m := range placeSaid.FindAllStringSubmatch(s, -1) {
		if m[2] == "" {
			out = append(out, 0)
			continue
		}
		for _, l := range r.lengths(m[1]) {
			if m[2] == "inside" {
				l = -l
			}
			out = append(out, l)
		}
	}
	return out
}

// fact is something that lies somewhere.
type fact5 struct {
	what string
	at   []measure.Length
}

func (f fact5) String() string { return fmt.Sprintf("%s %v", f.what, f.at) }

func (r *reader) same(a, b fact5) bool {
	if a.what != b.what || len(a.at) != len(b.at) {
		return false
	}
	for i := range a.at {
		if !r.near(a.at[i], b.at[i]) {
			return false
		}
	}
	return true
}

// blocks hold what is said of each piece against it.
func (r *reader) blocks(blocks []readBlock) {
	at := 0
	heads := map[string]bool{}
	for _, b := range blocks {
		if heads[b.head] && strings.Contains(strings.ToLower(b.head), "front") {
			r.say("%q stands twice", b.head)
		}
		heads[b.head] = true
	}
	next := func() *readBlock {
		if at < len(blocks) {
			at++
			return &blocks[at-1]
		}
		return &readBlock{}
	}
	for i := range r.p.Closures {
		var sides []plan.Side
		front := plan.IsFront(r.p.Closures[i].Closure)
		for _, size := range r.sizes {
			if r.p.Closures[i].PieceOf == "" && len(sides) == 0 {
				for _, pc := range r.pieces(i, size) {
					sides = append(sides, pc.Side)
				}
			}
		}
		var both []string
		if front && len(sides) > 0 && at < len(blocks) && strings.HasPrefix(blocks[at].head, "Both fronts") {
			both = next().says
		}
		for _, side := range sides {
			b := &readBlock{}
			if both == nil || at < len(blocks) && r.named(blocks[at].head, i, side) { // where the other has all, it is left out
				b = next()
			}
			says := b.says
			if side != plan.Flap {
				says = slices.Concat(both, says)
			}
			for _, size := range r.sizes {
				for _, pc := range r.pieces(i, size) {
					if pc.Side == side {
						if head := strings.ToLower(b.head); head != "" && !strings.Contains(head, pc.Piece) && front {
							r.say("%q is not the %s", b.head, pc.Piece)
						}
						r.block(b.head, says, &pc, size)
					}
				}
			}
		}
	}
	if at != len(blocks) {
		r.say("%d pieces are told of, %d there are", len(blocks), at)
	}
}

// named says whether the head of a block is that of the piece on a side of an
// opening.
func (r *reader) named(head string, closure int, side plan.Side) bool {
	for _, size := range r.sizes {
		for _, pc := range r.pieces(closure, size) {
			if pc.Side == side {
				return strings.Contains(head, pc.Piece)
			}
		}
	}
	return false
}

// ofSize is what a text says of one size.
func (r *reader) ofSize(s string, size int) string {
	name := r.p.Garment.Sizes[size]
	var names []string
	for _, n := range r.p.Garment.Sizes {
		names = append(names, regexp.QuoteMeta(n))
	}
	if name == "" {
		return s
	}
	one := `(?:` + strings.Join(names, "|") + `)`
	marks := regexp.MustCompile(`(?:; |, | |^)(`+one+`(?:(?:, | and | to )`+one+`)*): `).FindAllStringSubmatchIndex(s, -1)
	for i, m := range marks {
		if _, is := r.sizeLine(s[m[2]:m[1]], size); is {
			end := len(s)
			if i+1 < len(marks) {
				end = marks[i+1][0]
			}
			return s[:marks[0][2]] + s[m[1]:end]
		}
	}
	return s
}

func (r *reader) block(head string, says []string, pc *plan.Piece, size int) {
	var got []fact5
	for _, s := range says {
		if strings.HasSuffix(s, ": not before strip-start is settled") {
			continue
		}
		if s == "Finished edge, cut edge, facing and interfacing: not before stand-narrow is settled" {
			for _, l := range pc.Lines {
				switch l.Kind {
				case plan.EdgeLine, plan.CutLine, plan.FoldLine, plan.SeamLine, plan.FacingLine:
					r.say("%s: %q, but the piece has a %s line", head, s, l.Kind)
				}
			}
			continue
		}
		got = append(got, r.facts(r.ofSize(s, size), runOf(pc))...)
	}
	want := r.factsOf(pc, size)
	for _, g := range got {
		if g.what != "" && !slices.ContainsFunc(want, func(w fact5) bool { return r.same(g, w) }) {
			r.say("%s size %q: %v is said, but it lies nowhere on the piece: %v", head, r.p.Garment.Sizes[size], g, alikeFacts(want, g))
		}
	}
	for _, w := range want {
		if !slices.ContainsFunc(got, func(g fact5) bool { return r.same(g, w) }) {
			r.say("%s size %q: %v is not said; %v", head, r.p.Garment.Sizes[size], w, alikeFacts(got, w))
		}
	}
}

func alikeFacts(fs []fact5, f fact5) []fact5 {
	var out []fact5
	for _, x := range fs {
		if x.what == f.what {
			out = append(out, x)
		}
	}
	return out
}

// facts are what one sentence about a piece says, which ends so far down.
func (r *reader) facts(s string, hem measure.Length) []fact5 {
	label, _, _ := strings.Cut(s, ":")
	low := strings.ToLower(s)
	switch {
	case strings.HasPrefix(low, "finished edge ") || strings.HasPrefix(low, "fold ") && !strings.HasPrefix(low, "fold of"):
		outs := r.outs(s)
		facts := []fact5{{"edge", outs[:1]}}
		for _, o := range outs[1:] {
			facts = append(facts, fact5{"cut", []measure.Length{o}})
		}
		return facts
	case strings.HasPrefix(low, "fold of the turn-under"):
		return []fact5{{"fold", r.outs(s)}}
	case strings.HasPrefix(low, "seam of the band"), strings.HasPrefix(low, "sewn on"):
		return []fact5{{"seam", r.outs(s)}}
	case strings.HasPrefix(low, "stitching of"), strings.HasPrefix(low, "top-stitching"):
		return []fact5{{"stitching", r.outs(s)}}
	case strings.HasPrefix(low, "inner edge of the facing"):
		return []fact5{{"facing line", r.outs(s)}}
	case strings.Contains(low, " interfacing, ") && strings.Contains(low, " wide, "):
		name, rest, _ := strings.Cut(low, " interfacing, ")
		wide := r.lengths(rest)[0]
		f := fact5{"interfacing " + name, nil}
		if m := patchSaid.FindStringSubmatch(rest); m != nil {
			f.what += " patch"
			rest = strings.Replace(rest, m[0], " below ", 1)
			f.at = append(f.at, r.length(m[1]), r.length(m[2]))
		}
		if m := firstSaid.FindStringSubmatch(rest); m != nil { // it begins at the top
			f.what += " patch"
			rest = strings.Replace(rest, m[0], " below ", 1)
			f.at = append(f.at, 0, r.length(m[1]))
		}
		if m := middleFirst.FindStringSubmatch(rest); m != nil {
			return []fact5{{f.what + " patch", []measure.Length{0, r.length(m[1]), wide / 2, -wide / 2, wide}}}
		}
		if m := middleSaid.FindStringSubmatch(rest); m != nil { // under what stands on the line
			return []fact5{{f.what + " patch", []measure.Length{r.length(m[1]), r.length(m[2]), wide / 2, -wide / 2, wide}}}
		}
		_, rest, _ = strings.Cut(rest, "from ")
		outs := r.outs(rest)
		if len(outs) != 2 {
			r.say("%q names not two ends: %v", s, outs)
			return nil
		}
		return []fact5{{f.what, append(f.at, outs[0], outs[1], wide)}}
	case strings.HasPrefix(low, "facing from"), strings.HasPrefix(low, "band from"):
		return []fact5{{"facing", r.outs(s)}}
	case strings.HasPrefix(low, "patches from"):
		return []fact5{{"patch", r.outs(s)}}
	case strings.HasPrefix(low, "clear for"), strings.HasPrefix(low, "hem turned up"):
		return []fact5{{strings.ToLower(label), r.stretch(s, hem)}}
	case strings.HasPrefix(low, "teeth of the zip"):
		return []fact5{{"teeth", r.stretch(s, hem)}}
	case strings.HasPrefix(low, "tape of the zip"):
		return []fact5{{"tape", r.outs(s)}}
	}
	// Parts: what they are, in which rows, where, and how each lies.
	f := fact5{what: partLabel.ReplaceAllString(strings.ToLower(label), "$1")}
	f.what = strings.TrimSuffix(strings.TrimSuffix(f.what, ", sewn and not cut"), ", on the inside")
	if oneSaid.MatchString(f.what) { // of one as of several
		f.what = oneSaid.ReplaceAllString(f.what, "${1}s$2")
	}
	_, rest, _ := strings.Cut(s, ": ")
	if rest == "none" || rest == "" {
		return nil
	}
	if m := rowsSaid.FindStringSubmatch(rest); m != nil {
		f.what += " " + strings.Trim(m[1], ", ")
	}
	if m := aboutSaid.FindStringSubmatch(rest); m != nil {
		if onLine.MatchString(m[0]) { // where its mark is, too
			f.at = append(f.at, 0)
		}
		f.at = append(f.at, r.length(m[1]), r.length(m[2]))
		rest = strings.Replace(rest, m[0], "", 1)
	}
	return []fact5{{f.what, append(r.outs(rest), f.at...)}}
}

var (
	onLine      = regexp.MustCompile(` beyond (?:` + aLine + `) towards`)
	oneSaid     = regexp.MustCompile(`^(hole|(?:tack )?button|snap cap|snap stud|rivet|eyelet|toggle|frog|hook|(?:straight |round )?eye|bar|loop|cord|backing)( for show)?$`)
	middleSaid  = regexp.MustCompile(`its middle under the [a-z ]+: (` + oneLength + `) to (` + oneLength + `) (?:below|from the front end of) `)
	middleFirst = regexp.MustCompile(`its middle under the [a-z ]+: the first (` + oneLength + `) (?:below|from the front end of) `)
	lastSaid    = regexp.MustCompile(`: the last (` + oneLength + `)$`)
	fromOnce    = regexp.MustCompile(`from (` + oneLength + `) (?:below|from the front end of) [^,]*, to (` + oneLength + `)$`)
)

var partLabel = regexp.MustCompile(` of the [^ ,]+((?:, on the inside|, sewn and not cut)?)$`)

// hem is how far down the piece ends.
func (r *reader) stretch(s string, hem measure.Length) []measure.Length {
	if m := lastSaid.FindStringSubmatch(s); m != nil {
		return []measure.Length{hem - r.length(m[1]), hem}
	}
	m := fromOnce.FindStringSubmatch(s)
	if m == nil {
		m = fromTo.FindStringSubmatch(s)
	}
	if m == nil {
		r.say("%q names no stretch", s)
		return nil
	}
	var from measure.Length
	if m[1] != "" {
		from = r.length(m[1])
	}
	return []measure.Length{from, r.length(m[2])}
}

// factsOf are what a piece has.
func (r *reader) factsOf(pc *plan.Piece, size int) []fact5 {
	var out []fact5
	add := func(what string, at ...measure.Length) {
		f := fact5{what, at}
		if !slices.ContainsFunc(out, func(x fact5) bool { return x.what == f.what && slices.Equal(x.at, f.at) }) {
			out = append(out, f)
		}
	}
	var facings []measure.Length
	for _, a := range pc.Areas {
		switch a.Kind {
		case plan.InterfacingArea:
			if a.From > 0 || a.To < r.p.Closures[0].Closure.Run.Length.At(size).V && a.To < runOf(pc) {
				add("interfacing "+strings.ToLower(a.Name)+" patch", a.From, a.To, a.OutTo, a.OutFrom, a.OutTo-a.OutFrom)
			} else {
				add("interfacing "+strings.ToLower(a.Name), a.OutTo, a.OutFrom, a.OutTo-a.OutFrom)
			}
		case plan.FacingArea:
			facings = append(facings, a.OutFrom)
			add("facing", a.OutTo, a.OutFrom)
		case plan.PatchArea:
			add("patch", a.OutTo, a.OutFrom)
		case plan.ClearArea:
			add("clear for "+strings.ToLower(a.Name), a.From, a.To)
		case plan.TurnUpArea:
			add("hem turned up", a.From, a.To)
		}
	}
	for _, l := range pc.Lines {
		switch l.Kind {
		case plan.EdgeLine:
			add("edge", l.From.Out)
		case plan.CutLine:
			add("cut", l.From.Out)
		case plan.FoldLine:
			add("fold", l.From.Out)
		case plan.SeamLine:
			add("seam", l.From.Out)
		case plan.StitchLine:
			add("stitching", l.From.Out)
		case plan.FacingLine:
			if !slices.Contains(facings, l.From.Out) {
				add("facing line", l.From.Out)
			}
		}
	}
	for i := 0; i < len(pc.Parts); i++ {
		q := &pc.Parts[i]
		like := func(x *plan.Part) bool {
			return x.Closure == q.Closure && x.Kind == q.Kind && x.Role == q.Role && x.Centre.Out > 0 == (q.Centre.Out > 0)
		}
		if slices.ContainsFunc(pc.Parts[:i], func(x plan.Part) bool { return like(&x) }) {
			continue
		}
		var ls []measure.Length
		var numbers []string
		same := true
		for j := i; j < len(pc.Parts); j++ {
			if x := &pc.Parts[j]; like(x) {
				ls = append(ls, x.Centre.Out)
				numbers = append(numbers, itoa(int(x.Number)))
				same = same && x.Centre.Out == q.Centre.Out
			}
		}
		if same {
			ls = ls[:1]
		}
		var ends []measure.Length
		for _, of := range []func(x *plan.Part) measure.Length{func(x *plan.Part) measure.Length { return x.OutTo }, func(x *plan.Part) measure.Length { return x.OutFrom }} {
			from := len(ends)
			for j := i; j < len(pc.Parts); j++ {
				if x := &pc.Parts[j]; like(x) {
					ends = append(ends, of(x))
				}
			}
			if e := ends[from:]; !slices.ContainsFunc(e, func(l measure.Length) bool { return l != e[0] }) {
				ends = ends[:from+1]
			}
		}
		what := strings.ReplaceAll(q.Kind.String(), "-", " ")
		if q.Kind == plan.EyePart { // round where it stands out beyond its edge
			switch {
			case q.Centre.Out > 0:
				what = "round eye"
			case r.p.Garment.Closures[q.Closure].Notion.HookKind == "hook-and-bar":
				what = "bar"
			default:
				what = "straight eye"
			}
		}
		switch {
		case q.Kind == plan.TeethPart:
			add("teeth", q.From, q.To)
			continue
		case q.Kind == plan.TapePart:
			add("tape", q.OutTo, q.OutFrom)
			continue
		case q.Role == plan.Inner && q.Kind == plan.HolePart:
			what = "hole of the inner button"
		case q.Role == plan.Inner:
			what = "inner " + what
		case q.Role == plan.Show:
			what += "s for show"
		default:
			what += "s"
		}
		if len(r.p.Closures[q.Closure].Sizes[size].Rows) > 0 {
			what += " " + inRuns(numbers)
		}
		switch q.Kind {
		case plan.HolePart:
			bar := measure.Length(0)
			if q.Cut > 0 {
				bar = (q.Stitched - q.Cut) / 2
			}
			if r.p.Closures[q.Closure].Hole.Direction == "along" {
				ls = append(ls, q.Centre.At-q.From-bar, q.To-bar-q.Centre.At)
			} else {
				ls = append(ls, q.OutTo-bar-q.Centre.Out, q.Centre.Out-q.OutFrom-bar)
			}
		case plan.TogglePart, plan.FrogPart:
			ls = append(ls, ends...)
		case plan.LoopPart, plan.CordPart, plan.HookPart, plan.EyePart:
			ls = ends
		}
		add(what, ls...)
	}
	return out
}

func runOf(pc *plan.Piece) measure.Length {
	for _, l := range pc.Lines {
		if l.Kind == plan.HemLine {
			return l.From.At
		}
	}
	return 0
}

// inRuns writes numbers as 1, 2 and 4 to 6.
func inRuns(numbers []string) string {
	var parts []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == next(numbers[j]) {
			j++
		}
		switch {
		case j == i:
			parts = append(parts, numbers[i])
		case j == i+1:
			parts = append(parts, numbers[i], numbers[j])
		default:
			parts = append(parts, numbers[i]+" to "+numbers[j])
		}
		i = j + 1
	}
	if n := len(parts); n > 1 {
		return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
	}
	return strings.Join(parts, "")
}

func next(n string) string {
	var i int
	_, _ = fmt.Sscan(n, &i)
	return itoa(i + 1)
}

// checklist holds the list of tasks against the pieces.
func (r *reader) checklist(t *testing.T, size string) {
	t.Helper()
	say := r.say
	defer func() { r.say = say }()
	ps := []*rules.Planned{r.p}
	var list struct {
		Stages []struct {
			Stage string
			Tasks []struct {
				Closure *string
				Do      string
				Lines   []string
			}
		}
	}
	if err := json.Unmarshal([]byte(listedText(t, ps, Options{Format: "json", Size: size})), &list); err != nil {
		t.Fatal(err)
	}
	flat := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	others := map[string]string{
		"text":     flat(listedText(t, ps, Options{UTF8: true, Width: 4000, Size: size})),
		"markdown": flat(strings.ReplaceAll(listedText(t, ps, Options{Format: "markdown", Size: size}), `\`, "")),
		"html":     flat(plainHTML(listedText(t, ps, Options{Format: "html", Size: size}))),
	}
	for _, s := range list.Stages {
		if s.Stage == "Settle first" || s.Stage == "Buy" {
			continue
		}
		for _, task := range s.Tasks {
			r.say = func(format string, args ...any) {
				say("checklist: %s: %q %v", fmt.Sprintf(format, args...), task.Do, task.Lines)
			}
			for name, text := range others {
				for _, l := range append(slices.Clone(task.Lines), task.Do) {
					if !strings.Contains(text, flat(strings.ReplaceAll(l, `\`, ""))) {
						r.say("%s has it not", name)
					}
				}
			}
			if task.Closure == nil {
				continue
			}
			i := slices.IndexFunc(r.p.Garment.Closures, func(c catalog.Closure) bool { return c.Name == *task.Closure })
			r.task(i, task.Do, task.Lines)
		}
	}
	r.say = say
	r.holesMarked(t, size)
}

// markSaid is what a task marks, and on how it is called.
var (
	markSaid = regexp.MustCompile(`^(?:Mark the |Sew, and do not cut, )(hole of the inner button|holes for show|holes|loops|inner [a-z ]*?|[a-z ]*? for show|(?:snap caps|snap studs|tack buttons|buttons|rivets|eyelets|hooks|toggles|frogs))(?: of the [^ ]+)?(?: on| in|,| from|:)`)
	listSaid = regexp.MustCompile(`(?:rows? [\d, to and]+? )?at (` + oneLength + `(?:, ` + oneLength + `)*)(?:; (` + oneLength + `(?:, ` + oneLength + `)*) (beyond|inside) )?`)
	lineSaid = regexp.MustCompile(`^(?:rows? [\d, to and]+? at )?(` + oneLength + `(?:, ` + oneLength + `)*)(?:; (` + oneLength + `(?:, ` + oneLength + `)*) (beyond|inside) .*)?$`)
)

// coverSaid tells of one layer from another, not of a place on the piece.
var coverSaid = regexp.MustCompile(`let the layer that covers it stand [^,;]* beyond it`)

// sizeLine is what a line says of a size, if it is for it: "S: …", "S and L: …"
// or "S to L: …".
func (r *reader) sizeLine(line string, size int) (rest string, is bool) {
	sizes := r.p.Garment.Sizes
	head, rest, found := strings.Cut(line, ": ")
	if !found {
		return "", false
	}
	for _, h := range strings.Split(strings.ReplaceAll(head, " and ", ", "), ", ") {
		first, last, run := strings.Cut(h, " to ")
		if !run {
			last = first
		}
		if slices.Index(sizes, first) <= size && size <= slices.Index(sizes, last) && slices.Contains(sizes, first) {
			return rest, true
		}
	}
	return "", false
}

var sideSaid = regexp.MustCompile(` \(it lies (?:over|under)\)`)

// task holds one task against the pieces of its opening: every place across
// that it names is one of theirs, and what it marks lies where it says.
func (r *reader) task(i int, do string, lines []string) {
	do = coverSaid.ReplaceAllString(sideSaid.ReplaceAllString(do, ""), "")
	// How a hole lies about its mark is told from the mark.
	for _, m := range aboutSaid.FindAllString(do, -1) {
		do = strings.Replace(do, m, "", 1)
	}
	outs := r.outs(do)
	for _, l := range outs {
		if !r.somewhere(i, l) {
			r.say("nothing lies %s out", l)
		}
	}
	m := markSaid.FindStringSubmatch(do)
	if m == nil {
		return
	}
	for _, size := range r.sizes {
		if len(r.pieces(i, size)) == 0 {
			continue
		}
		want := r.marked(i, size, m[1], do)
		said := listSaid.FindStringSubmatch(do)
		if len(lines) > 0 {
			said = nil
			for _, l := range lines {
				if rest, is := r.sizeLine(l, size); is {
					said = lineSaid.FindStringSubmatch(rest)
					if rest == "none" || strings.HasPrefix(rest, "not laid out") {
						said = []string{"", "", "", ""}
					}
				}
			}
		}
		switch {
		case said == nil && len(want) > 0 && !strings.Contains(do, "where the loops reach"):
			r.say("size %q has no places; the piece has %d", r.p.Garment.Sizes[size], len(want))
			continue
		case said == nil:
			continue
		}
		ats := r.lengths(said[1])
		if len(ats) != len(want) {
			r.say("size %q has %d places, the piece %d", r.p.Garment.Sizes[size], len(ats), len(want))
			continue
		}
		across := r.lengths(said[2])
		for n, q := range want {
			if !r.near(ats[n], q.Centre.At) {
				r.say("size %q: place %d is at %s, on the piece at %s", r.p.Garment.Sizes[size], n+1, ats[n], q.Centre.At)
			}
			switch {
			case len(across) > 0:
				if l := across[n]; !r.near(l, q.Centre.Out.Abs()) || (said[3] == "beyond") != (q.Centre.Out > 0) {
					r.say("size %q: place %d is %s %s, on the piece %s", r.p.Garment.Sizes[size], n+1, l, said[3], q.Centre.Out)
				}
			case len(outs) > 0 && q.Kind != plan.LoopPart:
				if !r.near(outs[0], q.Centre.Out) {
					r.say("size %q: place %d is %s out, on the piece %s", r.p.Garment.Sizes[size], n+1, outs[0], q.Centre.Out)
				}
			}
		}
	}
}

// marked are the parts that a task marks.
func (r *reader) marked(closure, size int, what, do string) []plan.Part {
	role := plan.Works
	switch {
	case strings.Contains(what, "inner"):
		role = plan.Inner
	case strings.Contains(what, "for show"):
		role = plan.Show
	}
	kind := strings.TrimSuffix(strings.TrimPrefix(strings.TrimSuffix(what, " for show"), "inner "), "s")
	if strings.HasPrefix(what, "hole") {
		kind = "hole"
	}
	var out []plan.Part
	for _, pc := range r.pieces(closure, size) {
		side := pc.Side != plan.Under
		if what == "hole of the inner button" {
			side = !side
		}
		for _, q := range pc.Parts {
			named := strings.ReplaceAll(q.Kind.String(), "-", " ") == kind
			if strings.Contains(do, "outer column") && q.Centre.Out <= 0 || strings.Contains(do, "inner column") && q.Centre.Out > 0 {
				named = false
			}
			if side && int(q.Closure) == closure && q.Role == role && named {
				out = append(out, q)
			}
		}
	}
	return out
}

// somewhere says whether anything of the opening lies so far out.
func (r *reader) somewhere(closure int, out measure.Length) bool {
	for _, size := range r.sizes {
		for _, pc := range r.pieces(closure, size) {
			var all []measure.Length
			for _, l := range pc.Lines {
				all = append(all, l.From.Out, l.To.Out)
			}
			for _, a := range pc.Areas {
				all = append(all, a.OutFrom, a.OutTo)
			}
			for _, q := range pc.Parts {
				all = append(all, q.Centre.Out, q.OutFrom, q.OutTo)
			}
			all = append(all, 0, pc.Finished, pc.Cloth)
			if slices.ContainsFunc(all, func(l measure.Length) bool { return r.near(out, l) }) {
				return true
			}
		}
	}
	return false
}

// holesMarked looks that every hole that is cut is marked once, and none at a
// row for show: a hole cut there cannot be undone.
func (r *reader) holesMarked(t *testing.T, size string) {
	t.Helper()
	text := strings.Join(strings.Fields(listedText(t, []*rules.Planned{r.p}, Options{UTF8: true, Width: 4000, Size: size})), " ")
	for i := range r.p.Closures {
		k := &r.p.Closures[i]
		cut := false
		for _, z := range r.sizes {
			for _, pc := range r.pieces(i, z) {
				for _, q := range pc.Parts {
					cut = cut || int(q.Closure) == i && q.Kind == plan.HolePart && q.Cut > 0 && q.Role == plan.Works
				}
			}
		}
		if cut && !strings.Contains(text, "Mark the hole") {
			r.say("the holes of %s are marked nowhere", k.Closure.Name)
		}
		for _, z := range r.sizes {
			for n := range r.ats(i, z) {
				named := strings.Contains(text, "mark and cut no hole there") || strings.Contains(text, "Sew, and do not cut, holes for show")
				if r.role(i, z, n+1) == "for show" && !named && rules.SewnHole(k) {
					r.say("nothing says that row %d of %s is for show", n+1, k.Closure.Name)
				}
			}
		}
	}
}

var htmlHole = regexp.MustCompile(`<line class="hole"`)

// picture counts the holes that the page draws: as many as are cut, in the
// sizes it draws.
func (r *reader) picture(page string) {
	want := 0
	for i := range r.p.Closures {
		k := &r.p.Closures[i]
		if !slices.ContainsFunc(r.sizes, func(z int) bool { return z < len(k.Sizes) && k.Sizes[z].Count > 1 }) {
			continue // a run of one is not drawn
		}
		type laid struct{ run, at, rows string }
		var last laid
		for n, z := range r.sizes {
			if z >= len(k.Sizes) {
				continue
			}
			s := &k.Sizes[z]
			is := laid{fmt.Sprint(s.Run), fmt.Sprint(s.Positions), fmt.Sprint(s.Rows)}
			if n > 0 && is == last {
				continue
			}
			last = is
			if !s.Solved || s.Count == 0 {
				continue
			}
			for _, pc := range r.pieces(i, z) {
				for _, q := range pc.Parts {
					if int(q.Closure) == i && q.Kind == plan.HolePart && q.Cut > 0 && q.Role == plan.Works {
						want++
					}
				}
			}
		}
	}
	if got := len(htmlHole.FindAllString(page, -1)); got != want {
		r.say("the page draws %d holes, %d are cut", got, want)
	}
}

// One text for one quantity: a strip that begins on the line from which its
// ends are told reaches as far as it is wide, and both read alike.
func TestStripsReadAlike(t *testing.T) {
	both := regexp.MustCompile(`, ([^,]*\)) wide, [^.]*?from [^,.]*, the (?:centre )?line[^,.]*, to ([^,]*\)) inside it`)
	told := 0
	for seed := range uint64(many(60, 1000)) {
		g, err := catalog.Read("test.toml", []byte(trial.New(seed, 1876).Opening()), catalog.Options{})
		if err != nil {
			continue
		}
		var b strings.Builder
		if err := Checklist(&b, rules.Plan(g), Options{Format: "text", Width: 160}); err != nil {
			t.Fatal(err)
		}
		for _, m := range both.FindAllStringSubmatch(strings.Join(strings.Fields(b.String()), " "), -1) {
			if told++; m[1] != m[2] {
				t.Errorf("seed %d: %s and %s: %s", seed, m[1], m[2], m[0])
			}
		}
	}
	if told == 0 {
		t.Error("no strip begins on its line")
	}
}
