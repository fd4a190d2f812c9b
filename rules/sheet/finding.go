package sheet

import (
	"fmt"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
)

// Finding is a finding in JSON: all of one cause, with the figures of the
// worst.
type Finding struct {
	Brief
	Short string `json:"short"` // the same in one line of at most 70 columns
	Figures
	File     string    `json:"file"`
	Line     int       `json:"line"`
	Column   int       `json:"column"`
	Path     string    `json:"path"`
	Fragile  *string   `json:"fragile"`
	Sources  []string  `json:"sources"`
	Related  []Related `json:"related"`
	Fixes    []Fix     `json:"fixes"`
	Stuck    *string   `json:"stuck"`    // why there is no fix
	Settled  *string   `json:"settled"`  // the reason, where a sample has settled it: it does not count
	Sizes    []string  `json:"sizes"`    // all that have the cause; size is the worst of them
	Closures []string  `json:"closures"` // likewise
	Where    []Judged  `json:"where"`    // each of them with its own figures
	Variants []string  `json:"variants"` // of the file, that have it, "" the file itself; [] where all do
}

// Brief is a finding in short.
type Brief struct {
	Rule     string `json:"rule"`
	Severity string `json:"severity"`
	Closure  string `json:"closure"`
	Size     string `json:"size"`
	Message  string `json:"message"`
}

// Judged is a finding in short, with its figures.
type Judged struct {
	Brief
	Figures
}

// Figures are what was compared. Lengths stand in have_mm, need_mm and
// margin_mm, other quantities in have, need and margin with their unit; a
// negative margin is by how much it fails.
type Figures struct {
	HaveMM   *float64 `json:"have_mm"`
	NeedMM   *float64 `json:"need_mm"`
	MarginMM *float64 `json:"margin_mm"`
	Have     *float64 `json:"have"`
	Need     *float64 `json:"need"`
	Margin   *float64 `json:"margin"`
	Unit     *string  `json:"unit"`
}

// Related is another place in the file that a finding speaks of.
type Related struct {
	Says   string `json:"says"`
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
}

// Fix is a change that was planned again.
type Fix struct {
	With   []string `json:"with"` // KEY=VALUE for --with
	Says   string   `json:"says"`
	TOML   []string `json:"toml"`   // lines for the garment file
	Lines  []Line   `json:"lines"`  // the same with their places in it
	Clears bool     `json:"clears"` // the finding is gone with it
}

// Line is a line of the garment file: in the place of line Line, or a new one
// below it.
type Line struct {
	Line   int    `json:"line"`
	Insert bool   `json:"insert"`
	Text   string `json:"text"`
}

// findingOut is the JSON of a cause.
func (s *Garment) findingOut(e *rules.Entry) Finding {
	out := Finding{
		Brief: brief(&e.Finding), Short: e.Message(), Figures: figures(&e.Numbers),
		File: e.Pos.File, Line: e.Pos.Line, Column: e.Pos.Column, Path: e.Path(),
		Fragile: word(e.Fragile), Sources: list(e.Sources), Related: []Related{}, Fixes: []Fix{}, Stuck: word(e.Stuck), Settled: word(e.Settled),
		Sizes: e.Sizes(), Closures: e.Closures(), Variants: list(e.In),
	}
	if r := rules.Find(e.Rule); r != nil {
		out.Short, _ = r.Say(&e.Finding, s.unit)
	}
	for _, r := range e.Related {
		out.Related = append(out.Related, Related{r.Says, r.Pos.File, r.Pos.Line, r.Pos.Column})
	}
	for i := range e.Fixes {
		x := &e.Fixes[i]
		fix := Fix{With: catalog.Texts(x.With), Says: x.Says, TOML: list(x.TOML), Lines: []Line{}, Clears: x.Clears}
		for _, l := range x.Lines {
			fix.Lines = append(fix.Lines, Line(l))
		}
		out.Fixes = append(out.Fixes, fix)
	}
	for _, f := range e.Where {
		out.Where = append(out.Where, Judged{brief(f), figures(&f.Numbers)})
	}
	return out
}

func brief(f *rules.Finding) Brief {
	return Brief{f.Rule, f.Severity.String(), f.Closure, f.Size, f.Message()}
}

func briefs(fs []rules.Finding) []Brief {
	out := make([]Brief, len(fs))
	for i := range fs {
		out[i] = brief(&fs[i])
	}
	return out
}

func figures(n *rules.Numbers) (out Figures) {
	switch have, need, margin := finite(n.Have), finite(n.Need), finite(n.Margin); {
	case !n.Compared:
	case n.Unit == "mm":
		out.HaveMM, out.NeedMM, out.MarginMM = have, need, margin
	default:
		out.Have, out.Need, out.Margin, out.Unit = have, need, margin, &n.Unit
	}
	return out
}

// where is the closures and the sizes of a cause in words: those that it reads
// for, and the others, each with what it says of them.
func (s *Garment) where(e *rules.Entry) (here string, also []string) {
	var reads []string
	for _, p := range e.Places(s.unit) {
		var parts []string
		if p.Closure != "" && len(s.Closures) > 1 {
			parts = append(parts, p.Closure)
		}
		switch n := len(p.Sizes); {
		case n == 0:
		case n > 1 && n == len(s.Sizes):
			parts = append(parts, "all sizes")
		case n == 1:
			parts = append(parts, "size "+p.Sizes[0])
		default:
			parts = append(parts, "sizes "+strings.Join(p.Sizes, ", "))
		}
		if p.Severity != e.Severity {
			parts = append(parts, p.Severity.String())
		}
		at := strings.Join(parts, ", ")
		switch {
		case p.Says != "" && at != "":
			also = append(also, at+": "+p.Says)
		case p.Says != "":
			also = append(also, p.Says)
		case at != "":
			reads = append(reads, at)
		}
	}
	return strings.Join(reads, "; "), also
}

// settledWords is a line for each cause that a sample has settled.
func (s *Garment) settledWords() bullets {
	var out bullets
	for i := range s.settled {
		e := &s.settled[i]
		says := e.Rule
		if names := e.Closures(); len(names) > 0 {
			says += " on " + text.And(names...)
		}
		if sizes := e.Sizes(); len(sizes) > 0 && len(sizes) < len(s.plan.Garment.Sizes) {
			says += " in size " + text.And(sizes...)
		}
		if in := inWords(e.In); in != "" {
			says += " in " + in
		}
		out = append(out, says+" ("+e.Settled+")")
	}
	return out
}

// seeing is another place that a finding speaks of, in words.
func seeing(r *rules.Related) string {
	if at := place(r.Pos); at != "" {
		return r.Says + " (" + at + ")"
	}
	return r.Says
}

// fixSays is a change in words.
func fixSays(x *rules.Fix) string {
	if !x.Clears {
		return x.Says + " (a step, not the whole way)"
	}
	return x.Says
}

// fixLines are the lines of a change for a person.
func fixLines(x *rules.Fix) []string {
	out := make([]string, 0, len(x.TOML))
	for _, l := range x.Lines {
		switch text := strings.TrimSpace(l.Text); {
		case text == "":
		case l.Insert:
			out = append(out, fmt.Sprintf("below line %d: %s", l.Line, l.Text))
		case strings.HasPrefix(text, "#"):
			out = append(out, fmt.Sprintf("line %d: take it out", l.Line))
		default:
			out = append(out, fmt.Sprintf("line %d: %s", l.Line, l.Text))
		}
	}
	if len(x.Lines) == 0 {
		out = append(out, x.TOML...)
	}
	return out
}

// fixWith are its changes for the command line.
func fixWith(x *rules.Fix) []string {
	out := catalog.Texts(x.With)
	for i, w := range out {
		out[i] = "--with " + text.Shell(w)
	}
	return out
}

// place is the place of a finding.
func place(p source.Pos) string { return p.String() }
