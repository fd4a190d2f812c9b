package search

import (
	"slices"

	"placketeer/catalog/measure"
	"placketeer/rules"
)

// Compare says what moved and which verdicts changed between two plans of
// the same garment.
func Compare(before, after *rules.Planned) rules.Difference {
	d := rules.Difference{}
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
			m := rules.Moved{Closure: b.Closure.Name, Size: now.Size, Run: [2]measure.Length{old.Run, now.Run}, Count: [2]int{old.Count, now.Count}}
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

// missing are the findings of a that b does not have at that gravity, those
// that a sample has settled aside. Where in the file they stand does not
// matter: a change may move that.
func missing(a, b []rules.Finding) []rules.Finding {
	type key struct {
		spot
		severity rules.Severity
	}
	left := make(map[key]int, len(b))
	for i := range b {
		if b[i].Settled != "" {
			continue
		}
		left[key{spotOf(&b[i]), b[i].Severity}]++
	}
	var out []rules.Finding
	for i := range a {
		if a[i].Settled != "" {
			continue
		}
		k := key{spotOf(&a[i]), a[i].Severity}
		if left[k] == 0 {
			out = append(out, a[i])
			continue
		}
		left[k]--
	}
	return out
}
