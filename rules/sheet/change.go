package sheet

import (
	"slices"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/rules"
)

// Change is what the what-if changes made of a plan.
type Change struct {
	Before string  `json:"before"` // verdict without them
	After  string  `json:"after"`
	Gone   []Brief `json:"gone"` // findings that went
	Come   []Brief `json:"come"` // findings that came
	Moved  []Moved `json:"moved"`
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

// difference is what the changes did to what is shown; nil without any.
func (s *Garment) difference() *rules.Difference {
	if s.plan.Change == nil {
		return nil
	}
	return s.only(s.plan.Change)
}

// changeOut is the same in JSON.
func (s *Garment) changeOut() *Change {
	d := s.difference()
	if d == nil {
		return nil
	}
	return &Change{verdict(d.Before, d.FoundBefore), verdict(d.After, d.FoundAfter), briefs(d.Gone), briefs(d.Come), movedOut(d.Moved)}
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
	c := s.difference()
	if c == nil {
		return append(out, "Without the change the garment cannot be planned, so there is nothing to compare.")
	}
	if was, now := verdict(c.Before, c.FoundBefore), verdict(c.After, c.FoundAfter); was == now {
		out = append(out, "The verdict stays: "+now+".")
	} else {
		out = append(out, "The verdict was "+was+" and is now "+now+".")
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
func verdictWords(head string, vs []rules.Finding) []string {
	var out []string
	for i, v := range vs {
		same := func(o rules.Finding) bool {
			return o.Rule == v.Rule && o.Closure == v.Closure && o.Severity == v.Severity
		}
		if slices.IndexFunc(vs, same) != i {
			continue
		}
		line := head + ": " + v.Severity.String() + " " + v.Rule
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

func (s *Garment) movedWords(m *rules.Moved) string {
	len := func(l measure.Length) string { return l.ShortPlace(s.unit) }
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
	var stay []string
	for _, r := range m.Stayed {
		stay = append(stay, itoa(r))
	}
	switch {
	case m.Count[1] == 0:
	case stay == nil:
		line += "None stays. "
	default:
		line += "Stay: " + strings.Join(stay, ", ") + ". "
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
