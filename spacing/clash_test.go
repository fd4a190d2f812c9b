package spacing

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// A stripped problem is one of which only some constraints are left, by the
// words of Clash, for the plain search below.
type stripped struct {
	Problem
	firstAnywhere, lastAnywhere, noEnd bool
}

func without(p Problem, gone func(Constraint) bool) (s stripped) {
	s.Problem = p
	s.Anchors, s.Clear = nil, nil
	for i, a := range p.Anchors {
		if !gone(Constraint{KindAnchor, i, a.Name}) {
			s.Anchors = append(s.Anchors, a)
		}
	}
	for i, z := range p.Clear {
		if !gone(Constraint{KindClear, i, z.Name}) {
			s.Clear = append(s.Clear, z)
		}
	}
	is := func(k Kind) bool { return gone(Constraint{Kind: k}) }
	s.noEnd, s.firstAnywhere, s.lastAnywhere = is(KindRun), is(KindFirst), is(KindLast)
	if is(KindCount) {
		s.CountMin, s.CountMax = 0, 0
	}
	if is(KindStep) {
		s.Step = 1
	}
	if is(KindGapMin) {
		s.Gap.Min = 0
	}
	if is(KindGapMax) {
		s.Gap.Max = 0
	}
	if is(KindMatch) {
		s.Repeat = 0
	}
	return s
}

// all lists every constraint a problem of small may have.
func all(p Problem) (cs []Constraint) {
	for k := KindRun; k <= KindMatch; k++ {
		cs = append(cs, Constraint{Kind: k})
	}
	for i, a := range p.Anchors {
		cs = append(cs, Constraint{KindAnchor, i, a.Name})
	}
	for i, z := range p.Clear {
		cs = append(cs, Constraint{KindClear, i, z.Name})
	}
	return cs
}

// exists walks from place to place, remembering the anchors met on the way.
func (s stripped) exists() bool {
	if s.Repeat > 0 && !s.HasPhase {
		for s.HasPhase, s.Phase = true, 0; s.Phase < s.Repeat; s.Phase++ {
			if s.exists() {
				return true
			}
		}
		return false
	}
	g, width := s.members(), length(s.width())
	run := s.Run
	if s.noEnd {
		// Beyond everything asked for, and beyond as many of the widest gaps
		// that could be needed, nothing is gained.
		run += 12 + length(max(s.CountMax/g, 1)+2)*(max(s.Gap.Min, width+1)+12)
	}
	// A given end stays a place to end at even if it may now lie anywhere.
	givenFirst := func(at length) bool { return s.First.Fixed() && at == s.First.Min }
	givenLast := func(at length) bool { return s.Last.Fixed() && at+width == s.Last.Min }
	within := func(w Window, anywhere bool, at length) bool {
		if anywhere || s.noEnd && !w.Fixed() && w.Max >= s.Run {
			w.Max = run
		}
		if anywhere {
			w.Min = 0
		}
		return w.Min <= at && at <= w.Max
	}
	first := func(at length) bool { return givenFirst(at) || within(s.First, s.firstAnywhere, at) }
	last := func(at length) bool { return givenLast(at) || within(s.Last, s.lastAnywhere, at+width) }
	marked := func(at length) bool { return at%s.Step == 0 }
	free := func(at length) bool {
		if at < 0 || at+width > run || s.Repeat > 0 && (at-s.Phase)%s.Repeat != 0 {
			return false
		}
		for m := range g {
			c := at + length(m)*s.GroupGap
			if slices.ContainsFunc(s.Clear, func(z Zone) bool { return z.From < c && c < z.To }) {
				return false
			}
		}
		return true
	}
	meets := func(at length) (mask int) {
		for i, a := range s.Anchors {
			for m := range g {
				if c := at + length(m)*s.GroupGap; max(c-a.At, a.At-c) <= a.Within {
					mask |= 1 << i
				}
			}
		}
		return mask
	}
	fewest, most := (max(s.CountMin, 1)+g-1)/g, MaxCount
	if s.CountMax > 0 {
		most = s.CountMax / g
	}
	masks := 1 << len(s.Anchors)
	met, isFree := make([]int, run+1), make([]bool, run+1)
	// now[at][mask]: a group may start at, having met the anchors of mask.
	now := make([][8]bool, run+1)
	for at := range run + 1 {
		met[at], isFree[at] = meets(at), free(at)
		if !isFree[at] {
			continue
		}
		single := marked(at) || givenFirst(at) || givenLast(at)
		if fewest == 1 && single && first(at) && last(at) && met[at] == masks-1 {
			return true
		}
		now[at][met[at]] = first(at) && (marked(at) || givenFirst(at))
	}
	seen := map[string]bool{}
	for n := 2; n <= most; n++ {
		next := make([][8]bool, run+1)
		any := false
		for at := range run + 1 {
			for mask, is := range now[at] {
				if !is {
					continue
				}
				for to := at + 1; to <= run; to++ {
					if !isFree[to] || !s.gapHolds(to-at) {
						continue
					}
					mask := mask | met[to]
					if n >= fewest && mask == masks-1 && last(to) && (marked(to) || givenLast(to)) {
						return true
					}
					if marked(to) {
						next[to][mask], any = true, true
					}
				}
			}
		}
		if now = next; !any {
			return false
		}
		if most == MaxCount && n >= fewest {
			// Once a state comes again nothing new follows.
			key := fmt.Sprint(now)
			if seen[key] {
				return false
			}
			seen[key] = true
		}
	}
	return false
}

func TestNoConstraintOfAClashCanBeSpared(t *testing.T) {
	checks(t, 2500, 25000)
	clashes, large := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := small().Draw(t, "problem")
		p.Run = min(p.Run, 20)
		_, err := Solve(p)
		var clash *Clash
		if !errors.As(err, &clash) {
			return
		}
		cs := clash.Constraints
		clashes++
		if len(cs) > 2 {
			large++
		}
		if without(p, func(c Constraint) bool { return !slices.Contains(cs, c) }).exists() {
			t.Fatalf("%v can hold together", cs)
		}
		for _, spare := range cs {
			if !without(p, func(c Constraint) bool { return c == spare || !slices.Contains(cs, c) }).exists() {
				t.Fatalf("of %v, %v can be spared", cs, spare)
			}
		}
		// No set with one constraint fewer clashes, so none with even fewer.
		kept := make([]Constraint, 0, len(cs))
		var choose func(from []Constraint)
		choose = func(from []Constraint) {
			if len(kept) == len(cs)-1 {
				if !without(p, func(c Constraint) bool { return !slices.Contains(kept, c) }).exists() {
					t.Fatalf("%v clash, and are fewer than %v", kept, cs)
				}
				return
			}
			for i, c := range from {
				kept = append(kept, c)
				choose(from[i+1:])
				kept = kept[:len(kept)-1]
			}
		}
		if len(cs) <= 3 {
			choose(all(p))
		}
	})
	t.Logf("%d clashes, %d of them of more than two", clashes, large)
}
