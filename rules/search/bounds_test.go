package search

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// squeezes are the keys of a closure that rules hold a least or a most
// against, and values far below the one and far above the other.
var squeezes = []struct{ key, low, high string }{
	{"hole_length", "2 mm", "90 mm"},
	{"stand.finished", "1 mm", ""},
	{"stand.band", "2 mm", ""},
	{"stand.extension", "2 mm", ""},
	{"stand.facing", "1 mm", ""},
	{"stand.strip", "1 mm", "140 mm"},
	{"stand.strip_from_edge", "", "60 mm"},
	{"stand.seam", "3 mm", ""},
	{"stand.topstitch", "", "30 mm"},
	{"flap.width", "2 mm", ""},
	{"flap.inset", "1 mm", "30 mm"},
	{"inset", "2 mm", ""},
	{"loop", "2 mm", "300 mm"},
	{"cord", "0.5 mm", "20 mm"},
	{"edge", "0.5 mm", "60 mm"},
	{"run.first", "0.5 mm", ""},
	{"run.last", "0.5 mm", ""},
	{"rows.distance", "2 mm", ""},
	{"zip_length", "30 mm", ""},
	{"needle", "60/8", "160/23"},
	{"stitch", "0.5 mm", "8 mm"},
	{"punch", "0.5 mm", "20 mm"},
	{"thickness_step", "", "9 mm"},
	{"thread_shank", "0.2 mm", "30 mm"},
	{"notion.shank", "0.3 mm", "30 mm"},
	{"notion.post", "0.5 mm", "40 mm"},
	{"notion.tape", "2 mm", ""},
	{"turn", "0.1 mm", ""},
	{"rows.working", "", "60"},
	{"packing", "0.1 mm", ""},
}

// limit is the largest least, or the smallest most, that findings name for a
// key.
type limit struct {
	rules.Bound
	finding *rules.Finding
	same    []rules.Bound // of the same finding
}

// limitsOf are the limits of all keys, by key: the largest least and the
// smallest most.
func limitsOf(p *rules.Planned) (leasts, mosts map[string]limit) {
	leasts, mosts = map[string]limit{}, map[string]limit{}
	for i := range p.Findings {
		f := &p.Findings[i]
		bs := f.Bounds(p.Garment)
		for _, b := range bs {
			if b.Most {
				if was, ok := mosts[b.Key]; !ok || b.Figure < was.Figure {
					mosts[b.Key] = limit{b, f, bs}
				}
			} else if was, ok := leasts[b.Key]; !ok || b.Figure > was.Figure {
				leasts[b.Key] = limit{b, f, bs}
			}
		}
	}
	return leasts, mosts
}

// forms are what a person may type of a printed figure: in the file's own
// unit, and what stands in brackets.
func forms(says string) []string {
	own, other, both := strings.Cut(strings.TrimSuffix(says, ")"), " (")
	if !both {
		return []string{own}
	}
	return []string{own, other}
}

// typedBack plans the garment of a plan of Base with the limit typed in as it was printed, and
// says what then still speaks against it.
func typedBack(p *rules.Planned, l limit, text int) (with []string, faults []string) {
	g := p.Garment
	with = []string{l.Key + "=" + forms(l.Says)[text]}
	for _, b := range l.same {
		if f := forms(b.Says); b.Key != l.Key && b.Most == l.Most && text < len(f) {
			with = append(with, b.Key+"="+f[text]) // to be written together
		}
	}
	ws := make([]catalog.With, len(with))
	alter := func() (*catalog.Garment, error) {
		for i, t := range with {
			w, err := catalog.ParseWith(t)
			if err != nil {
				return nil, err
			}
			ws[i] = w
		}
		return g.Alter(ws...)
	}
	h, err := alter()
	if err != nil && strings.HasSuffix(err.Error(), "is the most") {
		return nil, nil // no garment has one so large
	}
	if err != nil {
		return with, []string{err.Error()}
	}
	was := l.finding
	key := l.Key
	// Again is Found: TestAgainIsTheWholePlan.
	for _, f := range p.Again(h, plan.Touches(h, ws)).Findings {
		at := h.KeyOf(f.Path())
		here := at == key || strings.HasPrefix(at, key+".")
		mine := f.Rule == was.Rule && f.Closure == was.Closure && f.Size == was.Size && at == g.KeyOf(was.Path())
		switch {
		case f.Rule == "spacing-clash":
			// It holds what is asked of the run against each other, not one key.
		case f.Severity == rules.Conflict && (here || mine),
			mine && f.Unsure && f.Severity == was.Severity && was.Unsure,
			mine && here && f.Severity >= was.Severity && !f.Unsure && !was.Unsure && was.Severity == rules.Caution && speaksOf(&f, h, l):
			faults = append(faults, fmt.Sprintf("%s %s [%s] at %s", f.Severity, f.Message(), f.Rule, at))
		}
	}
	return with, faults
}

// speaksOf says whether a finding still asks for more of the same limit.
func speaksOf(f *rules.Finding, g *catalog.Garment, l limit) bool {
	return slices.ContainsFunc(f.Bounds(g), func(b rules.Bound) bool { return b.Key == l.Key && b.Most == l.Most })
}

// The least of a key is the largest over all rules about it, and the most the
// smallest: typed back as it is printed, in either unit, no rule reports a
// conflict there, and the rule that named it is content.
func TestWhatIsPrintedHolds(t *testing.T) {
	t.Parallel()
	tried := map[string]int{}
	faults := map[string]int{}
	type story struct {
		seed uint64
		says string
	}
	first := map[string]story{}
	none := 0
	var mu sync.Mutex
	check := func(seed uint64, what string, g *catalog.Garment, seen map[string]bool) {
		p := rules.Base(g, nil)
		leasts, mosts := limitsOf(p)
		for _, set := range []map[string]limit{leasts, mosts} {
			for key, l := range set {
				if lo, ok := leasts[key]; ok {
					if hi, ok := mosts[key]; ok && lo.Figure > hi.Figure {
						mu.Lock()
						none++
						mu.Unlock()
						continue // nothing is long enough and short enough
					}
				}
				for text := range forms(l.Says) {
					name := keyKind(key)
					mu.Lock()
					tried[name]++
					mu.Unlock()
					if said := fmt.Sprint(key, l.Says, text); seen[said] {
						continue
					} else {
						seen[said] = true
					}
					if with, fs := typedBack(p, l, text); len(fs) > 0 {
						why := fmt.Sprintf("%s by %s", name, l.finding.Rule)
						mu.Lock()
						if faults[why]++; faults[why] == 1 || seed < first[why].seed {
							first[why] = story{seed, fmt.Sprintf("%s\n\tsaid: %s\n\ttyped: %v\n\tthen: %s", what, l.finding.Message(), with, strings.Join(fs, "\n\t      "))}
						}
						mu.Unlock()
					}
				}
			}
		}
	}
	trial.Each(uint64(many(60, 20_000)), func(seed uint64) {
		g, what := anyOf(t, seed)
		if g == nil {
			return
		}
		seen := map[string]bool{} // of one garment
		check(seed, what, g, seen)
		rnd := rand.New(rand.NewPCG(seed, 7))
		for range 4 {
			c := &g.Closures[rnd.IntN(len(g.Closures))]
			q := squeezes[rnd.IntN(len(squeezes))]
			value := q.low
			if value == "" || q.high != "" && rnd.IntN(2) == 0 {
				value = q.high
			}
			text := catalog.Key("closure", c.Name) + "." + q.key + "=" + value
			w, err := catalog.ParseWith(text)
			if err != nil {
				t.Error(err)
				return
			}
			if h, err := g.Alter(w); err == nil {
				check(seed, what+" with "+text, h, seen)
			}
		}
	})
	// The garments of the rules, as they are and squeezed.
	files, _ := filepath.Glob("../../testdata/*/*.toml")
	more, _ := filepath.Glob("../../testdata/*/*/*.toml")
	files = append(files, more...)
	trial.Each(uint64(len(files)), func(i uint64) {
		data, err := os.ReadFile(files[i])
		if err != nil || strings.HasSuffix(files[i], ".want.toml") || !strings.Contains(string(data), "[[closure]]") {
			return
		}
		g, err := catalog.Load(files[i], catalog.Options{})
		if err != nil {
			return
		}
		seen := map[string]bool{}
		check(math.MaxUint32+i, files[i], g, seen)
		rnd := rand.New(rand.NewPCG(i, 11))
		for range many(2, 60) {
			c := &g.Closures[rnd.IntN(len(g.Closures))]
			q := squeezes[rnd.IntN(len(squeezes))]
			value := q.low
			if value == "" || q.high != "" && rnd.IntN(2) == 0 {
				value = q.high
			}
			text := catalog.Key("closure", c.Name) + "." + q.key + "=" + value
			w, err := catalog.ParseWith(text)
			if err != nil {
				t.Error(err)
				return
			}
			if h, err := g.Alter(w); err == nil {
				check(math.MaxUint32+i, files[i]+" with "+text, h, seen)
			}
		}
	})
	keys := make([]string, 0, len(faults))
	for k := range faults {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	for _, k := range keys {
		t.Errorf("%s: %d times, the first: %s", k, faults[k], first[k].says)
	}
	if len(tried) < 25 {
		t.Errorf("only %d keys have a least or a most: %v", len(tried), tried)
	}
	t.Logf("%d without a way between; tried %v", none, tried)
}

// keyKind is a key without the name of the closure or the size.
func keyKind(key string) string {
	if rest, ok := strings.CutPrefix(key, "closure."); ok {
		_, rest, _ = strings.Cut(rest, ".")
		return rest
	}
	return key
}

// anyOf reads a random garment of one of the two sorts; nil where it
// contradicts itself.
func anyOf(t testing.TB, seed uint64) (*catalog.Garment, string) {
	if seed%2 == 0 {
		g, _, _ := random(t, seed, 10)
		return g, fmt.Sprintf("random %d", seed)
	}
	g, err := catalog.Read("random.toml", []byte(anyGarment(t, seed)), catalog.Options{})
	if err != nil {
		var change *catalog.ChangeError
		if errors.As(err, &change) {
			t.Fatal(err)
		}
		return nil, ""
	}
	return g, fmt.Sprintf("any %d", seed)
}

// lengthsOf are the lengths that a change writes.
func lengthsOf(value any) []catalog.LengthIn {
	switch v := value.(type) {
	case catalog.LengthIn:
		return []catalog.LengthIn{v}
	case map[string]any:
		var out []catalog.LengthIn
		for _, e := range v {
			out = append(out, lengthsOf(e)...)
		}
		return out
	}
	return nil
}

// What a rule proposes is the length that is read, and where a proposal helps,
// what stands in brackets helps as well.
func TestProposalsAreAsTheyRead(t *testing.T) {
	t.Parallel()
	lengths, brackets := 0, 0
	first := map[string]string{}
	var mu sync.Mutex
	fault := func(key, format string, args ...any) {
		mu.Lock()
		defer mu.Unlock()
		first[key] = fmt.Sprintf(format, args...)
	}
	trial.Each(uint64(many(60, 4000)), func(seed uint64) {
		g, what := anyOf(t, seed)
		if g == nil {
			return
		}
		long, short := 0, 0
		p := rules.Base(g, nil)
		for _, tr := range newFixer(p).troubles() {
			for _, c := range proposals(p, tr.findings, new(plan.Tries)) {
				for _, w := range c.With {
					for _, l := range lengthsOf(w.Value) {
						long++
						if back, err := measure.ParseLength(l.V.ShortPlace(l.Unit), l.Unit); err != nil || back != l.V {
							fault(tr.first.Rule+" "+keyKind(w.Key), "%s: %s: %s, which reads %s", what, c.Says, w, l.V.ShortPlace(l.Unit))
						}
					}
				}
				if len(c.With) != 1 {
					continue
				}
				l, ok := c.With[0].Value.(catalog.LengthIn)
				if !ok {
					continue
				}
				_, other, _ := strings.Cut(c.Says, l.V.ShortPlace(l.Unit)+" (")
				other, _, ok = strings.Cut(other, ")")
				if !ok {
					continue
				}
				w, err := catalog.ParseWith(c.With[0].Key + "=" + other)
				if err != nil {
					t.Error(err)
					return
				}
				if tr.first.Rule == "spacing-clash" || tr.first.Rule == "rims-touch" {
					continue // a layout may fit exactly
				}
				if left(p, tr.first, c.With[0]) == "" {
					short++
					if why := left(p, tr.first, w); why != "" {
						fault(tr.first.Rule+" "+keyKind(w.Key), "%s: %s: %s: %s", what, c.Says, w, why)
					}
				}
			}
		}
		mu.Lock()
		defer mu.Unlock()
		lengths, brackets = lengths+long, brackets+short
	})
	for k, why := range first {
		t.Errorf("%s: %s", k, why)
	}
	if lengths < 100 || brackets < 30 {
		t.Errorf("only %d lengths, %d in brackets", lengths, brackets)
	}
}

// left is what is left of a finding of a plan of Base after a change, "" if
// nothing is.
func left(p *rules.Planned, f *rules.Finding, w catalog.With) string {
	g := p.Garment
	h, err := g.Alter(w)
	if err != nil && (strings.Contains(err.Error(), "longer than the run") || strings.Contains(err.Error(), "beyond the run")) {
		return "" // it fits to a hair
	}
	if err != nil {
		return err.Error()
	}
	for _, now := range p.Again(h, plan.Touches(h, []catalog.With{w})).Findings {
		if now.Rule == f.Rule && now.Closure == f.Closure && now.Severity >= f.Severity && h.KeyOf(now.Path()) == g.KeyOf(f.Path()) {
			return now.Message()
		}
	}
	return ""
}
