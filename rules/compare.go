package rules

import (
	"slices"

	"placketeer/catalog/measure"
)

// Difference is what a what-if change, or a hem line moved after try-on,
// made of a plan.
type Difference struct {
	Moved  []Moved
	Gone   []Finding // findings of the old plan that the new one does not have
	Come   []Finding // findings that are new
	Before Severity
	After  Severity

	FoundBefore, FoundAfter bool // whether there was anything to find
}

// Moved is what happened to the fasteners of one size of one closure.
type Moved struct {
	Closure, Size string
	Run           [2]measure.Length // before, after
	Count         [2]int
	Stayed        []int            // rows, counted from 1, that lie where they lay
	From, To      []measure.Length // the rows that moved, where both plans have them
	Rows          []int
}

// Compare says what moved and which verdicts changed between two plans of
// the same garment.
func Compare(before, after *Planned) Difference {
	d := Difference{}
	d.Before, d.FoundBefore = before.Verdict()
	d.After, d.FoundAfter = after.Verdict()
	for i := range after.Closures {
		if i >= len(before.Closures) {
			break
		}
		a, b := &before.Closures[i], &after.Closures[i]
		for j := range b.Sizes {
			if j >= len(a.Sizes) || slices.Equal(a.Sizes[j].Positions, b.Sizes[j].Positions) && a.Sizes[j].Run == b.Sizes[j].Run {
				continue
			}
			old, now := &a.Sizes[j], &b.Sizes[j]
			m := Moved{Closure: b.Closure.Name, Size: now.Size, Run: [2]measure.Length{old.Run, now.Run}, Count: [2]int{old.Count, now.Count}}
			for n := 0; n < min(old.Count, now.Count); n++ {
				if old.Positions[n] == now.Positions[n] {
					m.Stayed = append(m.Stayed, n+1)
					continue
				}
				m.Rows = append(m.Rows, n+1)
				m.From = append(m.From, old.Positions[n])
				m.To = append(m.To, now.Positions[n])
			}
			d.Moved = append(d.Moved, m)
		}
	}
	d.Gone = missing(before.Findings, after.Findings)
	d.Come = missing(after.Findings, before.Findings)
	return d
}

// missing are the findings of a that b does not have at that gravity. Where
// in the file they stand does not matter: a change may move that.
func missing(a, b []Finding) []Finding {
	type key struct {
		spot
		severity Severity
	}
	left := make(map[key]int, len(b))
	for i := range b {
		left[key{b[i].spot(), b[i].Severity}]++
	}
	var out []Finding
	for i := range a {
		k := key{a[i].spot(), a[i].Severity}
		if left[k] == 0 {
			out = append(out, a[i])
			continue
		}
		left[k]--
	}
	return out
}
