package sheet

import (
	"slices"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/rules"
)

// Change is what the what-if changes made of a plan.
type Change struct {
	Before string    `json:"before"` // verdict without them
	After  string    `json:"after"`
	Gone   []Verdict `json:"gone"` // findings that went
	Come   []Verdict `json:"come"` // findings that came
	Moved  []Moved   `json:"moved"`
}

// Verdict is a finding in short.
type Verdict struct {
	Rule     string `json:"rule"`
	Severity string `json:"severity"`
	Closure  string `json:"closure"`
	Size     string `json:"size"`
	Message  string `json:"message"`
}

// Moved is what happened to the fasteners of one size. Rows are counted
// from 1 at the top.
type Moved struct {
	Closure string `json:"closure"`
	Size    string `json:"size"`
	Run     [2]MM  `json:"run_mm"` // before, after
	Count   [2]int `json:"count"`
	Stayed  []int  `json:"stayed"`
	Rows    []int  `json:"rows"` // those that moved
	From    []MM   `json:"from_mm"`
	To      []MM   `json:"to_mm"`
}

func (s *Garment) change(o Options) *Change {
	d := s.plan.Change
	if d == nil {
		return nil
	}
	shown := func(size string) bool { return o.Size == "" || size == "" || size == o.Size }
	c := &Change{Before: verdict(d.Before, d.FoundBefore), After: verdict(d.After, d.FoundAfter), Gone: []Verdict{}, Come: []Verdict{}, Moved: []Moved{}}
	short := func(fs []rules.Finding) []Verdict {
		out := []Verdict{}
		for i := range fs {
			if f := &fs[i]; shown(f.Size) {
				out = append(out, Verdict{f.Rule, f.Severity.String(), f.Closure, f.Size, f.Message()})
			}
		}
		return out
	}
	c.Gone, c.Come = short(d.Gone), short(d.Come)
	for _, m := range d.Moved {
		if !shown(m.Size) {
			continue
		}
		c.Moved = append(c.Moved, Moved{
			Closure: m.Closure, Size: m.Size, Run: [2]MM{MM(m.Run[0]), MM(m.Run[1])}, Count: m.Count,
			Stayed: slices.Concat([]int{}, m.Stayed), Rows: slices.Concat([]int{}, m.Rows), From: mms(m.From), To: mms(m.To),
		})
	}
	return c
}

func verdict(s rules.Severity, found bool) string {
	if !found {
		return "ok"
	}
	return s.String()
}

// changeWords are what the changes did, in words.
func (s *Garment) changeWords() bullets {
	if len(s.With) == 0 {
		return nil
	}
	out := bullets{"Changed for this answer only: " + strings.Join(s.With, "; ") + "."}
	c := s.Change
	if c == nil {
		return append(out, "Without the change the garment cannot be planned, so there is nothing to compare.")
	}
	if c.Before == c.After {
		out = append(out, "The verdict stays: "+c.After+".")
	} else {
		out = append(out, "The verdict was "+c.Before+" and is now "+c.After+".")
	}
	out = append(out, verdictWords("Settled", c.Gone)...)
	out = append(out, verdictWords("New", c.Come)...)
	if len(c.Moved) == 0 {
		out = append(out, "No fastener moved.")
	}
	for _, m := range c.Moved {
		out = append(out, s.movedWords(&m))
	}
	return out
}

// verdictWords is a line for each rule and closure, its sizes together.
func verdictWords(head string, vs []Verdict) []string {
	var out []string
	for i, v := range vs {
		same := func(o Verdict) bool {
			return o.Rule == v.Rule && o.Closure == v.Closure && o.Severity == v.Severity
		}
		if slices.IndexFunc(vs, same) != i {
			continue
		}
		line := head + ": " + v.Severity + " " + v.Rule
		if v.Closure != "" {
			line += " of the " + v.Closure
		}
		var sizes []string
		for _, o := range vs {
			if same(o) && o.Size != "" && !slices.Contains(sizes, o.Size) {
				sizes = append(sizes, o.Size)
			}
		}
		if len(sizes) > 0 {
			line += ", size " + strings.Join(sizes, ", ")
		}
		out = append(out, line+".")
	}
	return out
}

func (s *Garment) movedWords(m *Moved) string {
	len := func(l MM) string { return measure.Length(l).ShortPlace(s.unit) }
	line := m.Closure
	if m.Size != "" {
		line += ", size " + m.Size
	}
	line += ": "
	if m.Run[0] != m.Run[1] {
		line += "the run was " + len(m.Run[0]) + ", now " + len(m.Run[1]) + ". "
	}
	if m.Count[0] != m.Count[1] {
		line += itoa(m.Count[1]) + " fasteners instead of " + itoa(m.Count[0]) + ". "
	}
	if n := m.Stayed; n != nil && m.Count[1] > 0 {
		var stay []string
		for _, r := range n {
			stay = append(stay, itoa(r))
		}
		switch {
		case stay == nil:
			line += "None stays. "
		default:
			line += "Stay: " + strings.Join(stay, ", ") + ". "
		}
	}
	var moves []string
	for i, r := range m.Rows {
		moves = append(moves, itoa(r)+" from "+len(m.From[i])+" to "+len(m.To[i]))
	}
	if moves != nil {
		line += "Move: " + strings.Join(moves, ", ") + "."
	}
	return strings.TrimSpace(line)
}
