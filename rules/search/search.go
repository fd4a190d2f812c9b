// Package search plans a garment many times and compares what the plans find:
// what-if, fixes, fragility and choice are all searches over plans.
package search

import (
	"cmp"
	"maps"
	"slices"
	"sort"
	"strings"

	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// A search plans a garment many times and compares what the plans find.

// spot is what a finding is about, whatever its figures: findings of two
// plans at one spot are the same finding.
type spot struct{ rule, closure, size, path string }

func spotOf(f *rules.Finding) spot {
	s := spot{f.Rule, f.Closure, f.Size, ""}
	if f.Closure == "" {
		s.path = f.Path() // a rule about the whole garment looks at many things
	}
	return s
}

// tally counts the findings at each spot: all of at least caution, and the
// conflicts among them. One rule may find two things at one spot, such as
// both stacks too thick.
type tally map[spot][2]int

func tallied(p *rules.Planned) tally {
	t := tally{}
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Severity == rules.Note {
			continue
		}
		s := spotOf(f)
		n := t[s]
		n[0]++
		if f.Severity == rules.Conflict {
			n[1]++
		}
		t[s] = n
	}
	return t
}

// spotsIn are the spots of a plan's cautions and conflicts, as they stand.
func spotsIn(p *rules.Planned) []spot {
	var out []spot
	for i := range p.Findings {
		if f := &p.Findings[i]; f.Severity != rules.Note {
			out = append(out, spotOf(f))
		}
	}
	return out
}

// spots are the spots of a tally, sorted.
func (t tally) spots() []spot {
	out := slices.Collect(maps.Keys(t))
	inOrder(out, func(a, b spot) int {
		return cmp.Or(strings.Compare(a.rule, b.rule), strings.Compare(a.closure, b.closure), strings.Compare(a.size, b.size), strings.Compare(a.path, b.path))
	})
	return out
}

// inOrder sorts what is short; equals stay as they stand. slices.SortStableFunc
// would be some 10 kB of the program for each type.
func inOrder[T any](list []T, compare func(a, b T) int) {
	sort.SliceStable(list, func(i, j int) bool { return compare(list[i], list[j]) < 0 })
}

// worse are the spots of now at which count has more conflicts than t, and
// those at which it has more cautions or conflicts, each once and in the order
// of now.
func (t tally) worse(now []spot, count tally) (conflicts, cautions []spot) {
	for _, s := range now {
		was, is := t[s], count[s]
		switch {
		case is[1] > was[1]:
			if !slices.Contains(conflicts, s) {
				conflicts = append(conflicts, s)
			}
		case is[0] > was[0]:
			if !slices.Contains(cautions, s) {
				cautions = append(cautions, s)
			}
		}
	}
	return conflicts, cautions
}

// spotNames are the rules of spots in words: hole-long on flap.
func spotNames(spots []spot) string {
	var out []string
	for _, s := range spots {
		w := s.rule
		if s.closure != "" {
			w += " on " + s.closure
		}
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return text.And(out...)
}

// newRoom is room for plans that are looked at and not kept.
func newRoom() *rules.Planned {
	p := rules.NewPlanned(new(plan.Plan))
	p.Unnoted = true
	return p
}

// context is the context of a finding in its plan.
func contextOf(p *rules.Planned, f *rules.Finding) rules.Context {
	x := rules.Context{G: p.Garment, P: p, U: p.Garment.Units, Rule: rules.Find(f.Rule)}
	for i := range p.Closures {
		if f.Closure != "" && p.Closures[i].Closure.Name == f.Closure {
			x.C, x.K = p.Closures[i].Closure, &p.Closures[i]
		}
	}
	return x
}
