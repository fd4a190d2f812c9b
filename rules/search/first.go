package search

import (
	"cmp"
	"slices"

	"placketeer/catalog/text"
	"placketeer/rules"
)

// verdict is what one rule says of one closure, over all sizes.
type verdict struct{ rule, closure string }

// first ranks the readings that were moved by the verdicts that they decide:
// the one that decides most is to be measured first. Both ends of every ± were
// planned for that; a verdict that a sample has settled does not count.
func (f *frail) first() []rules.MeasureFirst {
	type decided struct {
		in       *input
		verdicts []verdict
		gravest  rules.Severity
		n        int
	}
	var all []*decided
	for _, x := range slices.Concat(f.come, f.gone) {
		if f.settled(x.spot) {
			continue
		}
		i := slices.IndexFunc(all, func(d *decided) bool { return d.in.path == x.in.path })
		if i == -1 {
			all = append(all, &decided{in: x.in})
			i = len(all) - 1
		}
		d := all[i]
		if v := (verdict{x.spot.rule, x.spot.closure}); !slices.Contains(d.verdicts, v) {
			d.verdicts = append(d.verdicts, v)
		}
		was, _ := f.base.gravest(x.spot)
		if sev := max(was, x.severity); sev > d.gravest {
			d.gravest, d.n = sev, 0
		} else if sev < d.gravest {
			continue
		}
		d.n++
	}
	slices.SortStableFunc(all, func(a, b *decided) int {
		return cmp.Or(cmp.Compare(len(b.verdicts), len(a.verdicts)), cmp.Compare(b.gravest, a.gravest), cmp.Compare(b.n, a.n), cmp.Compare(a.in.path, b.in.path))
	})
	out := make([]rules.MeasureFirst, len(all))
	for i, d := range all {
		inOrder(d.verdicts, func(a, b verdict) int { return cmp.Or(cmp.Compare(a.rule, b.rule), cmp.Compare(a.closure, b.closure)) })
		var words []string
		m := rules.MeasureFirst{Key: f.g.KeyOf(d.in.path), Set: f.g.KeyOf(cmp.Or(d.in.set, d.in.path)), What: d.in.what(), Estimated: d.in.estimated, Now: d.in.now, Pos: f.g.At(d.in.path)}
		for _, v := range d.verdicts {
			if w := rules.Find(v.rule).Decides(); !slices.Contains(words, w) {
				words = append(words, w)
			}
			if !slices.Contains(m.Rules, v.rule) {
				m.Rules = append(m.Rules, v.rule)
			}
		}
		m.Says = m.What + "; it decides " + text.And(words...)
		out[i] = m
	}
	return out
}

// settled says whether a sample has settled what was found at a spot.
func (f *frail) settled(s spot) bool {
	any := false
	for i := range f.p.Findings {
		if o := &f.p.Findings[i]; spotOf(o) == s && o.Severity != rules.Note {
			if o.Settled == "" {
				return false
			}
			any = true
		}
	}
	return any
}
