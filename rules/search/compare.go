package search

import (
	"slices"

	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// Compare says what moved and which verdicts changed between two plans of a
// garment: of the same file, or of two. Closures and sizes are told by name.
func Compare(before, after *rules.Planned) rules.Difference {
	d := rules.Difference{}
	d.Before, d.FoundBefore = before.Verdict()
	d.After, d.FoundAfter = after.Verdict()
	d.GoneClosures, d.ComeClosures = apart(closureNames(before), closureNames(after))
	d.GoneSizes, d.ComeSizes = apart(before.Garment.Sizes, after.Garment.Sizes)
	for i := range after.Closures {
		b := &after.Closures[i]
		a := closureNamed(before, b.Closure.Name)
		if a == nil {
			continue
		}
		for j := range b.Sizes {
			now := &b.Sizes[j]
			k := slices.IndexFunc(a.Sizes, func(r plan.Size) bool { return r.Size == now.Size })
			if k == -1 || slices.Equal(a.Sizes[k].Positions, now.Positions) && a.Sizes[k].Run == now.Run {
				continue
			}
			old := &a.Sizes[k]
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

// apart are the names that only the old and only the new list has.
func apart(old, now []string) (gone, come []string) {
	for _, n := range old {
		if !slices.Contains(now, n) {
			gone = append(gone, n)
		}
	}
	for _, n := range now {
		if !slices.Contains(old, n) {
			come = append(come, n)
		}
	}
	return gone, come
}

func closureNames(p *rules.Planned) []string {
	out := make([]string, len(p.Closures))
	for i := range p.Closures {
		out[i] = p.Closures[i].Closure.Name
	}
	return out
}

func closureNamed(p *rules.Planned, name string) *plan.Closure {
	for i := range p.Closures {
		if p.Closures[i].Closure.Name == name {
			return &p.Closures[i]
		}
	}
	return nil
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
