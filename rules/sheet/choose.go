package sheet

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/search"
)

// ChoiceFormats are the formats that Choice writes.
var ChoiceFormats = []string{"text", "json", "csv"}

// Choice writes what the catalogue offers for a closure.
func Choice(w io.Writer, c *search.Choice, o Options) error {
	o.fit()
	m := choiceOut(c)
	var out string
	var err error
	switch o.Format {
	case "", "text":
		t := &terminal{o: o}
		t.choice(c)
		out = t.String()
	case "json":
		out, err = writeJSON(m)
	case "csv":
		out, err = text.CSV(m.rows())
	default:
		err = fmt.Errorf("there is no format %q here: use %s", o.Format, strings.Join(ChoiceFormats, ", "))
	}
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, out)
	return err
}

// ChoiceOut is a choice in JSON: every key is always there.
type ChoiceOut struct {
	Version    int            `json:"version"`
	File       string         `json:"file"`
	Garment    string         `json:"garment"`
	What       string         `json:"what"` // notion, needle, thread, interfacing
	Fastener   string         `json:"fastener"`
	Closures   []string       `json:"closures"`
	Now        *string        `json:"now"`
	Tried      int            `json:"tried"`
	Stopped    *string        `json:"stopped"` // that there are more, which were not tried
	Passing    int            `json:"passing"`
	Beside     []string       `json:"beside"` // conflicts that the choice cannot change
	Candidates []CandidateOut `json:"candidates"`
}

// CandidateOut is one of the things to choose among. Lengths stand in
// have_mm, need_mm and margin_mm, other quantities in have, need and margin
// with their unit.
type CandidateOut struct {
	Name         string    `json:"name"`
	About        *string   `json:"about"`
	Own          bool      `json:"own"`
	With         []string  `json:"with"`
	Picks        []PickOut `json:"picks"`
	Passes       bool      `json:"passes"`
	Conflicts    int       `json:"conflicts"`
	Cautions     int       `json:"cautions"`
	CautionRules []string  `json:"caution_rules"`
	Tightest     *string   `json:"tightest"` // the rule that leaves the least room
	Figures
	Share *float64 `json:"share"` // margin over need
	Price *float64 `json:"price"`
	Fails *string  `json:"fails"`
	Rule  *string  `json:"rule"` // of the first conflict
}

// PickOut is what one closure gets; a null name where nothing passes there.
type PickOut struct {
	Closure string  `json:"closure"`
	Name    *string `json:"name"`
	Size    *MM     `json:"size_mm"`
}

func choiceOut(c *search.Choice) *ChoiceOut {
	out := &ChoiceOut{
		Version: OutputVersion,
		File:    c.Garment.File, Garment: c.Garment.Title(), What: c.What, Fastener: c.Kind, Closures: list(c.Closures),
		Now: word(c.Now), Tried: c.Tried, Stopped: word(c.Stopped), Passing: c.Passing, Beside: list(c.Beside), Candidates: []CandidateOut{},
	}
	for i := range c.Candidates {
		d := &c.Candidates[i]
		k := CandidateOut{
			Name: d.Name, About: word(d.About), Own: d.Own, With: catalog.Texts(d.With), Picks: []PickOut{}, Passes: d.Passes,
			Conflicts: d.Conflicts, Cautions: d.Cautions, CautionRules: list(d.Cares), Tightest: word(d.Tightest),
			Fails: word(d.Fails), Rule: word(d.Rule),
		}
		for _, p := range d.Picks {
			k.Picks = append(k.Picks, PickOut{p.Closure, word(p.Name), some(p.Size)})
		}
		if d.Tightest != "" && d.Compared {
			k.Figures = figures(&d.Numbers)
			k.Share = finite(d.Share)
		}
		if d.Price.Has() {
			k.Price = finite(d.Price.V)
		}
		out.Candidates = append(out.Candidates, k)
	}
	return out
}

func (m *ChoiceOut) rows() [][]string {
	rows := [][]string{{"rank", "name", "passes", "conflicts", "cautions", "caution_rules", "tightest", "margin", "unit", "share", "price", "fails", "rule", "with"}}
	for i := range m.Candidates {
		c := &m.Candidates[i]
		rank, unit, margin := "", "", c.Margin
		if c.Passes {
			rank = strconv.Itoa(i + 1)
		}
		if c.MarginMM != nil {
			margin, unit = c.MarginMM, "mm"
		} else if c.Unit != nil {
			unit = *c.Unit
		}
		rows = append(rows, []string{
			rank, c.Name, strconv.FormatBool(c.Passes), strconv.Itoa(c.Conflicts), strconv.Itoa(c.Cautions), strings.Join(c.CautionRules, " "),
			deref(c.Tightest), floatText(margin), unit, floatText(c.Share), floatText(c.Price), deref(c.Fails), deref(c.Rule), strings.Join(c.With, " "),
		})
	}
	return rows
}

// candidates is what the candidates are called.
func candidates(c *search.Choice, family bool) string {
	switch {
	case c.What != "notion":
		return c.What + "s"
	case family:
		return "ranges of " + text.Plural(c.Kind)
	}
	return text.Plural(c.Kind)
}

// choice writes the candidates as a table, and why the nearest fail.
func (t *terminal) choice(c *search.Choice) {
	u := c.Garment.Units
	family := false
	for i := range c.Candidates {
		family = family || len(c.Candidates[i].Picks) > 0
	}
	head := fmt.Sprintf("%s: %s for %s", c.Garment.Title(), candidates(c, family), strings.Join(c.Closures, ", "))
	if c.Now != "" {
		head += " (now " + c.Now + ")"
	}
	t.flow("", head)
	pass := c.Candidates[:0:0]
	for _, d := range c.Candidates {
		if d.Passes {
			pass = append(pass, d)
		}
	}
	tried := fmt.Sprintf("%d %s tried", c.Tried, candidates(c, family))
	switch {
	case c.Passing == 0:
		t.flow("", tried+": none passes every rule.")
	case c.Passing > len(pass):
		t.flow("", fmt.Sprintf("%s, %d pass every rule; the best %d of them:", tried, c.Passing, len(pass)))
	default:
		t.flow("", fmt.Sprintf("%s, %d pass every rule:", tried, c.Passing))
	}
	if c.Stopped != "" {
		t.flow("", text.Capital(c.Stopped)+".")
	}
	if len(pass) > 0 {
		t.line("")
		t.candidates(pass, u)
		t.line("")
		t.flow("", "The likest to what the file has or asks for first, then what suits the job, then the fewest cautions, then the price. Cautions are counted that this choice changes; what the garment has beside them, check tells. Room is what the tightest rule leaves before a conflict, as a part of what it needs.")
		if slices.ContainsFunc(pass, func(d search.Candidate) bool { return d.Price.Has() }) {
			of := map[string]string{"thread": "a spool", "interfacing": "a metre"}[c.What]
			t.flow("", "Prices are for "+cmp.Or(of, "one piece on each closure")+", in the currency of the catalogue they stand in.")
		}
	}
	t.misses(c, len(c.Candidates)-len(pass))
	if len(c.Beside) > 0 {
		t.line("")
		t.flow("", "Whatever is chosen, there is still to settle: "+strings.Join(c.Beside, ", ")+".")
	}
	// What the file has needs no trying, nor what has more cautions than that.
	own := slices.IndexFunc(pass, func(d search.Candidate) bool { return c.Has(&d) })
	if i := slices.IndexFunc(pass, func(d search.Candidate) bool {
		return !c.Has(&d) && (own < 0 || d.Cautions <= pass[own].Cautions)
	}); i >= 0 {
		t.line("")
		t.line("try:   placketeer check " + typed(c.Garment))
		for _, w := range pass[i].With {
			t.line("       --with " + text.Shell(w.String()))
		}
	}
}

// misses are the near misses, one line for those that fail alike.
func (t *terminal) misses(c *search.Choice, n int) {
	if n == 0 {
		return
	}
	head := "Near misses:"
	if all := c.Tried - c.Passing; all > n {
		head = fmt.Sprintf("Near misses, the nearest %d of %d that fail:", n, all)
	}
	t.line("")
	t.line(head)
	var why []string
	names := map[string][]string{}
	for _, d := range c.Candidates {
		if d.Passes {
			continue
		}
		says := d.Fails
		if d.Rule != "" {
			says += " [" + d.Rule + "]"
		}
		if names[says] == nil {
			why = append(why, says)
		}
		names[says] = append(names[says], d.Name)
	}
	for _, says := range why {
		t.flowIn("  ", 4, strings.Join(names[says], ", ")+": "+says)
	}
}

// ample is the share of room from which it is not counted further.
const ample = 2

// candidates is the table of those that pass, with less said of the room where
// the terminal is too narrow for it.
func (t *terminal) candidates(pass []search.Candidate, u measure.Unit) {
	rows, width := candidateRows(pass, u, 2)
	for detail := 1; detail >= 0 && t.o.Width < 2*(len(width)-1)+sum(width); detail-- {
		rows, width = candidateRows(pass, u, detail)
	}
	for i, r := range rows {
		line := ""
		for k, s := range r {
			if k == 0 || k == 4 {
				line += text.PadLeft(text.Safe(s), width[k])
			} else {
				line += text.Pad(text.Safe(s), width[k])
			}
			if k < len(r)-1 {
				line += "  "
			}
		}
		t.put(line)
		if i == 0 {
			continue
		}
		d := &pass[i-1]
		in := strings.Repeat(" ", width[0]+2)
		var picks []string
		for _, p := range d.Picks {
			picks = append(picks, p.Closure+" "+p.Name)
		}
		if len(picks) > 0 {
			t.flowIn(in+"  ", width[0]+4, strings.Join(picks, ", "))
		}
		if len(d.Cares) > 0 {
			t.flowIn(in+"  ", width[0]+4, "cautions: "+strings.Join(d.Cares, ", "))
		}
	}
}

func sum(ns []int) int {
	all := 0
	for _, n := range ns {
		all += n
	}
	return all
}

// candidateRows are the cells of the table and the widths of its columns. Of
// the room they say the share, with detail 1 the rule too, with 2 the length.
func candidateRows(pass []search.Candidate, u measure.Unit, detail int) (rows [][]string, width []int) {
	rows = [][]string{{"", "name", "its cautions", "room", "price"}}
	priced := false
	for i := range pass {
		d := &pass[i]
		row := []string{strconv.Itoa(i + 1), d.Name, "none", "-", ""}
		if d.Cautions > 0 {
			row[2] = strconv.Itoa(d.Cautions)
		}
		if d.Tightest != "" {
			row[3] = fmt.Sprintf("%.0f %%", 100*d.Share)
			if d.Share > ample {
				row[3] = fmt.Sprintf("over %d %%", 100*ample)
			}
			if d.Unit == "mm" && detail > 1 {
				row[3] += " (" + measure.FromMM(d.Margin).Short(u) + ")"
			}
			if detail > 0 {
				row[3] += " " + d.Tightest
			}
		}
		if d.Price.Has() {
			row[4], priced = strconv.FormatFloat(d.Price.V, 'f', 2, 64), true
		}
		rows = append(rows, row)
	}
	if !priced {
		for i := range rows {
			rows[i] = rows[i][:4]
		}
	}
	width = make([]int, len(rows[0]))
	for _, r := range rows {
		for k, s := range r {
			width[k] = max(width[k], text.Width(text.Safe(s)))
		}
	}
	return rows, width
}
