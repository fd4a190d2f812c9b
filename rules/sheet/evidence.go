package sheet

import (
	"strings"

	"placketeer/catalog"
	"placketeer/rules"
)

// JointFix is the smallest set of changes that settles all conflicts
// together. Without changes none was found, and left says what remains; with
// changes left is a caution that stays or comes.
type JointFix struct {
	With   []string `json:"with"` // KEY=VALUE for --with
	Says   string   `json:"says"`
	Proven bool     `json:"proven"` // all smaller sets were tried
	TOML   []string `json:"toml"`   // lines for the garment file
	Lines  []Line   `json:"lines"`  // the same with their places in it
	Left   *string  `json:"left"`
}

// MeasureFirst is the reading or estimate whose two ends change most verdicts.
type MeasureFirst struct {
	Key       string   `json:"key"`
	Says      string   `json:"says"`
	Decides   []string `json:"decides"` // the rules whose verdicts it decides
	MM        MM       `json:"mm"`
	Tolerance MM       `json:"tolerance_mm"`
	Estimated bool     `json:"estimated"`
}

// evidenceOut fills both for JSON.
func (s *Garment) evidenceOut() {
	if j := s.plan.Joint; j != nil {
		s.JointFix = &JointFix{With: catalog.Texts(j.With), Says: j.Says, Proven: j.Proven, TOML: list(j.TOML), Lines: []Line{}, Left: word(j.Left)}
		for _, l := range j.Lines {
			s.JointFix.Lines = append(s.JointFix.Lines, Line(l))
		}
	}
	if len(s.plan.First) > 0 {
		m := &s.plan.First[0]
		s.MeasureFirst = &MeasureFirst{Key: m.Key, Says: m.Says, Decides: list(m.Rules), MM: MM(m.Now.V), Tolerance: MM(m.Now.Tol), Estimated: m.Estimated}
	}
}

// jointWords is what settles all conflicts together in words, and its changes;
// or what is left where nothing does.
func (s *Garment) jointWords() (says string, with []string) {
	j := s.plan.Joint
	switch {
	case j == nil || s.count(rules.Conflict) < 2:
		return "", nil
	case len(j.With) == 0:
		return "All together: " + j.Left, nil
	}
	how := "the smallest set found"
	if j.Proven {
		how = "no smaller set does it"
	}
	says = "All together: " + j.Says + " (" + how + ")"
	if j.Left != "" {
		says += "; " + j.Left
	}
	return says, catalog.Texts(j.With)
}

// measureWords is a line for each reading that decides a verdict within its ±,
// the one to measure first before the others.
func (s *Garment) measureWords() bullets {
	var out bullets
	for i := range s.plan.First {
		m := &s.plan.First[i]
		says := m.Says
		if m.Estimated {
			says = strings.Replace(says, m.What, m.What+", an estimate", 1)
		}
		out = append(out, says)
	}
	return out
}
