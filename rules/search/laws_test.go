package search

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"

	diffs "github.com/google/go-cmp/cmp"
)

// The laws of the pieces, on random garments of every fastener, lap,
// construction and hole: each holds, or a finding of that closure names it.
// They are geometry: see DEVELOPERS.md.

// breach is a law that does not hold, and the rules that may name it.
type breach struct {
	law     int
	says    string
	named   []string
	opening string // the opening that they must speak of
}

const hand = measure.Millimetre / 1000 // roundings

func lawsOf(p *rules.Planned) []breach {
	var out []breach
	for i := range p.Closures {
		first := len(out)
		for size := range p.Closures[i].Pieces {
			pieces := p.Closures[i].Pieces[size]
			for j := range pieces {
				pc := &pieces[j]
				for n := range pc.Parts {
					out = append(out, lawOne(p, pc, &pc.Parts[n])...)
					out = append(out, lawTwo(p, pc, &pc.Parts[n], size)...)
				}
				out = append(out, lawFour(p, pc)...)
			}
			out = append(out, lawThree(p, pieces)...)
		}
		if k := &p.Closures[i]; k.Zip.Needed {
			out = append(out, zipLaws(p, i)...)
		}
		for j := range out[first:] {
			out[first+j].opening = p.Closures[i].Closure.OpeningName()
		}
	}
	return out
}

// hard says whether a part is a hole or a fastener, set or sewn at its centre.
func isHole(q *plan.Part) bool { return q.Kind == plan.HolePart }

func fastens(q *plan.Part) bool {
	switch q.Kind {
	case plan.HolePart, plan.LoopPart, plan.CordPart, plan.TeethPart, plan.TapePart, plan.BackingPart:
		return false
	}
	return true
}

// 1: on interfacing and on the facing.
func lawOne(p *rules.Planned, pc *plan.Piece, q *plan.Part) []breach {
	k := &p.Closures[q.Closure]
	from, to := q.Centre.Out, q.Centre.Out
	up, down := q.Centre.At, q.Centre.At
	switch {
	case isHole(q) && q.Cut > 0:
		from, to, up, down = q.OutFrom, q.OutTo, q.From, q.To
	case isHole(q), !fastens(q), q.Kind == plan.HookPart, q.Kind == plan.EyePart, q.Kind == plan.EyeletPart && k.Closure.Lap == "edge":
		return nil
	case k.Apart():
		from, to = -k.Closure.Inset.V, -k.Closure.Inset.V
	}
	within := func(kind plan.AreaKind, cut measure.Length) (any, in bool) {
		for _, a := range pc.Areas {
			if a.Kind != kind {
				continue
			}
			any = true
			if from >= a.OutFrom-hand && to <= a.OutTo+hand && (kind == plan.FacingArea || up >= a.From-hand && down <= min(a.To, cut)+hand) {
				in = true
			}
		}
		return any, in
	}
	var out []breach
	names := []string{"strip-narrow", "strip-start", "band-hole", "zip-clear", "edge-lap", "edge-near", "stand-narrow", "last-low", "first-high", "rows-distance", "edge-shared"}
	if any, in := within(plan.InterfacingArea, math.MaxInt64/2); any && !in && !planned1(p, pc, q) {
		out = append(out, breach{law: 1, says: fmt.Sprintf("%s: the %s %d at %s out lies on no interfacing", pc.Piece, q.Kind, q.Number, q.Centre.Out), named: names})
	}
	if any, in := within(plan.FacingArea, math.MaxInt64/2); any && !in {
		out = append(out, breach{law: 1, says: fmt.Sprintf("%s: the %s %d at %s out lies on no facing", pc.Piece, q.Kind, q.Number, q.Centre.Out), named: append([]string{"facing-short", "band-hole"}, names...)})
	}
	return out
}

// planned1 says whether no interfacing is planned under that closure on that
// piece: another closure's is, beside it.
func planned1(p *rules.Planned, pc *plan.Piece, q *plan.Part) bool {
	c := p.Closures[q.Closure].Closure
	ls := c.Over
	if pc.Side == plan.Under {
		ls = c.Under
	}
	_, in := plan.InterfacingOf(ls)
	return in == nil
}

// 2: across no edge, seam or hem.
func lawTwo(p *rules.Planned, pc *plan.Piece, q *plan.Part, size int) []breach {
	k := &p.Closures[q.Closure]
	if !isHole(q) && !fastens(q) || q.Kind == plan.EyePart {
		return nil
	}
	say := func(format string, args ...any) string {
		return fmt.Sprintf("%s: the %s %d %s", pc.Piece, q.Kind, q.Number, fmt.Sprintf(format, args...))
	}
	var out []breach
	lies := k.Loop.Needed && (k.Apart() || k.Closure.Lap == "edge" || k.Closure.Flap.Has() || p.Zip(int(q.Closure)) != nil) && q.Kind != plan.HolePart // over both edges
	if pc.Edged && q.OutTo > pc.Finished+hand && !lies {
		out = append(out, breach{law: 2, says: say("ends %s out, beyond the edge at %s", q.OutTo, pc.Finished),
			named: []string{"stand-narrow", "edge-near", "zip-clear", "edge-lap", "hook-edge", "rows-distance", "band-extension", "flap-seam", "edge-shared"}})
	}
	run := k.Sizes[size].Run
	if q.From < -hand {
		out = append(out, breach{law: 2, says: say("begins %s from the top", q.From), named: []string{"first-high"}})
	}
	if q.To > run+hand || isHole(q) && k.Hole.Direction == "along" && q.To == run {
		out = append(out, breach{law: 2, says: say("ends %s from the top of %s", q.To, run), named: []string{"last-low"}})
	}
	for _, a := range pc.Areas {
		if a.Kind == plan.TurnUpArea && q.To > a.From+hand && k.Closure.Run.Hem.Has() {
			out = append(out, breach{law: 2, says: say("ends %s from the top, in the hem", q.To), named: []string{"last-low", "spacing-clash"}})
		}
	}
	for _, l := range pc.Lines {
		seam := l.Kind == plan.SeamLine && k.Hardware.Needed || (l.Kind == plan.SeamLine || l.Kind == plan.StitchLine) && isHole(q)
		if at := l.From.Out; seam && q.OutFrom < at-hand && q.OutTo > at+hand && !lies {
			out = append(out, breach{law: 2, says: say("crosses the %s at %s", l.Kind, at),
				named: []string{"band-hole", "stitch-hole", "fly-hole", "flap-seam", "stand-narrow", "zip-clear", "rows-distance", "facing-short", "edge-lap", "edge-shared"}})
		}
	}
	return out
}

// 3: over and under meet.
func lawThree(p *rules.Planned, pieces []plan.Piece) []breach {
	var out []breach
	find := func(side func(plan.Side) bool, q *plan.Part) bool {
		for i := range pieces {
			if !side(pieces[i].Side) {
				continue
			}
			for j := range pieces[i].Parts {
				r := &pieces[i].Parts[j]
				if r.Closure == q.Closure && r.Number == q.Number && r.Role == q.Role && r.Centre == (plan.Point{Out: -q.Centre.Out, At: q.Centre.At}) {
					return true
				}
			}
		}
		return false
	}
	for i := range pieces {
		pc := &pieces[i]
		for j := range pc.Parts {
			q := &pc.Parts[j]
			if isHole(q) && q.Role == plan.Show && (q.Cut != 0 || !p.Closures[q.Closure].Closure.Rows.ShowHoles.Or(false)) {
				out = append(out, breach{law: 3, says: "a hole for show is cut", named: nil})
			}
			if cl := p.Closures[q.Closure].Closure; q.Role == plan.Show || q.Kind == plan.EyeletPart && (cl.Lap == "edge" || plan.OneSided(cl)) {
				continue
			}
			other := func(s plan.Side) bool { return (s == plan.Under) != (pc.Side == plan.Under) }
			if !find(other, q) {
				out = append(out, breach{law: 3, says: fmt.Sprintf("%s: the %s %s %d at %s, %s meets nothing", pc.Piece, q.Role, q.Kind, q.Number, q.Centre.Out, q.Centre.At), named: nil})
			}
		}
	}
	return out
}

// 4: nothing lies on each other.
func lawFour(p *rules.Planned, pc *plan.Piece) []breach {
	var out []breach
	for i := range pc.Parts {
		for j := range pc.Parts[:i] {
			a, b := &pc.Parts[i], &pc.Parts[j]
			if a.Layer != b.Layer || !isHole(a) && !fastens(a) || !isHole(b) && !fastens(b) || a.Role == plan.Show && b.Role == plan.Show && a.Centre == b.Centre {
				continue
			}
			if a.OutFrom < b.OutTo-hand && b.OutFrom < a.OutTo-hand && a.From < b.To-hand && b.From < a.To-hand {
				out = append(out, breach{law: 4, says: fmt.Sprintf("%s: the %s at %s, %s lies on the %s at %s, %s", pc.Piece, a.Kind, a.Centre.Out, a.Centre.At, b.Kind, b.Centre.Out, b.Centre.At),
					named: []string{"rims-touch", "rows-touch", "parts-touch", "rows-distance"}})
			}
		}
	}
	return out
}

// Of a zip: stitched 1/4 in from its chain, its tape in the seam, its stops
// inside; nothing goes through it, and what covers it covers it.
func zipLaws(p *rules.Planned, i int) []breach {
	var out []breach
	k := &p.Closures[i]
	z := &k.Zip
	for size := range z.Sizes {
		run := k.Closure.Run.Length.At(size).V
		s := &z.Sizes[size]
		if s.Need <= 0 {
			out = append(out, breach{law: 2, says: "no zip between its stops", named: []string{"zip-stops"}})
		} else if s.Top < 0 || s.Top+s.Need > run {
			out = append(out, breach{law: 2, says: "a stop outside the opening", named: nil})
		}
		var under, over, flap *plan.Piece
		pieces := p.PiecesOf(i, size)
		for j := range pieces {
			switch pieces[j].Side {
			case plan.Under:
				under = &pieces[j]
			case plan.Over:
				over = &pieces[j]
			case plan.Flap:
				flap = &pieces[j]
			}
			if pieces[j].Side != plan.Flap && s.Need > 0 {
				stitched := false
				for _, l := range pieces[j].Lines {
					stitched = stitched || l.Kind == plan.StitchLine && -l.From.Out-z.Half >= measure.Inch/4
				}
				if !stitched {
					out = append(out, breach{law: 2, says: pieces[j].Piece + ": no stitching 1/4 in from the chain", named: nil})
				}
			}
		}
		tape := max(z.Tape, z.Half)
		for n := range under.Parts {
			q := &under.Parts[n]
			o := &p.Closures[q.Closure]
			if o.Zip.Needed || !fastens(q) && q.Kind != plan.CordPart || q.Role == plan.Show {
				continue
			}
			at := q.Centre.Out
			if o.Apart() {
				at = -o.Closure.Inset.V + plan.PatchHalf
			}
			if at > -(tape + measure.Inch/4) {
				out = append(out, breach{law: 4, says: fmt.Sprintf("the %s %d goes through the zip", q.Kind, q.Number), named: []string{"zip-clear"}})
			}
		}
		for n := range over.Parts {
			if q := &over.Parts[n]; isHole(q) && q.Cut > 0 && q.OutFrom < z.Half-hand && q.OutTo > -(tape+hand) {
				out = append(out, breach{law: 4, says: fmt.Sprintf("the hole %d is cut through the zip", q.Number), named: []string{"zip-clear"}})
			}
		}
		if flap != nil && flap.Finished < z.Half+measure.Inch/4 {
			out = append(out, breach{law: 4, says: "the flap does not cover the teeth", named: []string{"zip-fly"}})
		}
	}
	if z.Tape > 0 {
		if _, by := p.Facing(i); z.Tape <= z.Half+z.Stitched || z.TapeIn < 0 && by < 0 {
			out = append(out, breach{law: 2, says: "the tape is not caught by the seam", named: []string{"zip-seam"}})
		}
	}
	return out
}

func TestLawsOfThePieces(t *testing.T) {
	t.Parallel()
	type fault struct {
		seed uint64
		law  int
		says string
	}
	n := uint64(many(60, 20_000))
	var (
		mu      sync.Mutex
		faults  []fault
		skipped int
	)
	seen := map[int]int{}
	trial.Each(n, func(seed uint64) {
		text := newMaker(seed).Opening()
		g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
		if err != nil {
			mu.Lock()
			defer mu.Unlock()
			if !strings.Contains(err.Error(), "inset") && !strings.Contains(err.Error(), "a flap of its own") && !strings.Contains(err.Error(), "the same length") {
				faults = append(faults, fault{seed, 0, err.Error()})
			}
			skipped++
			return
		}
		p := rules.Plan(g)
		breaches := lawsOf(p)
		mu.Lock()
		defer mu.Unlock()
		for _, b := range breaches {
			seen[b.law]++
			if !b.isNamed(p) {
				faults = append(faults, fault{seed, b.law, b.says + ": no finding names it"})
			}
		}
	})
	// All of them, the first of each garment, so that a cause can be seen.
	slices.SortStableFunc(faults, func(a, b fault) int { return cmp.Compare(a.seed, b.seed) })
	faults = slices.CompactFunc(faults, func(a, b fault) bool { return a.seed == b.seed && a.law == b.law })
	for i, f := range faults {
		if i == 30 {
			t.Errorf("and %d more", len(faults)-i)
			break
		}
		t.Errorf("seed %d: law %d: %s", f.seed, f.law, f.says)
	}
	if len(faults) > 0 {
		t.Fatal(newMaker(faults[0].seed).Opening())
	}
	t.Logf("breaches that findings name, by law: %v; %d files refused", seen, skipped)
	if seen[1] == 0 || seen[2] == 0 || seen[4] == 0 || skipped > int(n)/2 {
		t.Errorf("too few breaches were tried: %v, %d files refused", seen, skipped)
	}
}

// isNamed says whether a finding names the breach: one of a closure of that
// opening, or of the garment.
func (b *breach) isNamed(p *rules.Planned) bool {
	return slices.ContainsFunc(p.Findings, func(f rules.Finding) bool {
		return slices.Contains(b.named, f.Rule) && (f.Closure == "" || slices.ContainsFunc(p.Garment.Closures, func(c catalog.Closure) bool {
			return c.Name == f.Closure && c.OpeningName() == b.opening
		}))
	})
}

// A search plans without the pieces that no rule looks at, and with another
// fastener in one closure: neither changes what is found.
func TestPiecesOfSearches(t *testing.T) {
	t.Parallel()
	for seed := range uint64(many(60, 2_000)) {
		m := newMaker(seed)
		g, err := catalog.Read("coat.toml", []byte(m.Opening()), catalog.Options{})
		if err != nil {
			continue
		}
		want := kindsOf(rules.Plan(g))
		if diff := diffs.Diff(want, kindsOf(rules.Found(g))); diff != "" {
			t.Fatalf("seed %d: found in a search (-want +got)\n%s\n%s", seed, diff, m.String())
		}
		p := plan.Of(g, true)
		for i := range p.Closures {
			p.Redo(i)
			j := rules.NewPlanned(p)
			j.Check()
			if diff := diffs.Diff(want, kindsOf(j)); diff != "" {
				t.Fatalf("seed %d: worked out anew (-want +got)\n%s\n%s", seed, diff, m.String())
			}
		}
	}
}
