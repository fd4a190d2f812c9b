package search

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/trial"

	"github.com/google/go-cmp/cmp"
)

// demo loads a garment of testdata/garments.
func demo(t testing.TB, name string, with ...string) *catalog.Garment {
	t.Helper()
	g := trial.Load(t, filepath.Join("..", "..", "testdata", "garments", name+".toml"), with...)
	return g
}

// conflictsAt are the conflicts of a plan, with their places left out.
func conflictsAt(p *rules.Planned) map[spot]int {
	out := map[spot]int{}
	for i := range p.Findings {
		if p.Findings[i].Severity == rules.Conflict {
			out[spotOf(&p.Findings[i])]++
		}
	}
	return out
}

// holds checks what a plan promises of one fix, by reading the file again
// with it.
func holds(t *testing.T, name string, f *rules.Finding, before, after *rules.Planned, how string) {
	t.Helper()
	was, is := conflictsAt(before), conflictsAt(after)
	for s, n := range is {
		if n > was[s] {
			t.Errorf("%s: %s: %s brings a conflict: %+v", name, f.Rule, how, s)
		}
	}
	own := spotOf(f)
	for i := range after.Findings {
		o := &after.Findings[i]
		s := spotOf(o)
		s.size, own.size = "", ""
		if s == own && o.Severity >= f.Severity {
			t.Errorf("%s: %s: %s does not clear it: %s", name, f.Rule, how, o.Message())
		}
	}
	if f.Severity == rules.Caution {
		for i := range after.Findings {
			o := &after.Findings[i]
			if o.Severity == rules.Caution && !slices.ContainsFunc(before.Findings, func(b rules.Finding) bool { return b.Severity >= rules.Caution && spotOf(&b) == spotOf(o) }) {
				t.Errorf("%s: %s: %s brings a caution: %s", name, f.Rule, how, o.Message())
			}
		}
	}
}

// checkFixes pastes every fix of a garment, as a change and as lines in its
// text, and plans what is then read.
func checkFixes(t *testing.T, name string, text []byte, opts catalog.Options) (shown, conflicts int) {
	t.Helper()
	g, err := catalog.Read(name, text, opts)
	if err != nil {
		t.Fatal(err)
	}
	before := rules.Found(g)
	p := Checked(g, CheckOptions{Fixes: true})
	seen := map[string]bool{}
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Rule == rules.WithinRule.Name {
			continue
		}
		if f.Severity == rules.Conflict {
			conflicts++
			if (len(f.Fixes) == 0) == (f.Stuck == "") {
				t.Errorf("%s: %s: %d fixes, stuck: %q", name, f.Rule, len(f.Fixes), f.Stuck)
			}
		}
		if len(f.Fixes) > fixesShown {
			t.Errorf("%s: %s shows %d fixes", name, f.Rule, len(f.Fixes))
		}
		for _, x := range f.Fixes {
			key := f.Rule + f.Closure + f.Path() + strings.Join(catalog.Texts(x.With), "\n")
			if seen[key] {
				continue // the same in another size
			}
			seen[key] = true
			shown++
			for _, w := range x.With {
				if k := g.Kept(w); k != "" {
					t.Errorf("%s: %s: %s touches %s, which is kept", name, f.Rule, w, k)
				}
			}
			if x.Says == "" || strings.Contains(x.Says, "%!") || !x.Clears || len(x.TOML) == 0 {
				t.Errorf("%s: %s: %+v", name, f.Rule, x)
			}
			with := opts
			with.With = append(slices.Clone(opts.With), catalog.Texts(x.With)...)
			changed, err := catalog.Read(name, text, with)
			if err != nil {
				t.Errorf("%s: %s: %q: %v", name, f.Rule, x.With, err)
				continue
			}
			after := rules.Found(changed)
			holds(t, name, f, before, after, strings.Join(catalog.Texts(x.With), " "))

			pasted := paste(text, x)
			read, err := catalog.Read(name, pasted, opts)
			if err != nil {
				t.Errorf("%s: %s: pasted %q: %v\n%s", name, f.Rule, x.TOML, err, pasted)
				continue
			}
			if diff := cmp.Diff(findings(after), findings(rules.Found(read))); diff != "" {
				t.Errorf("%s: %s: pasted %q plans otherwise than --with (-want +got):\n%s", name, f.Rule, x.TOML, diff)
			}
		}
	}
	return shown, conflicts
}

// findings are what a plan finds, without the places.
func findings(p *rules.Planned) map[spot][]rules.Severity {
	out := map[spot][]rules.Severity{}
	for i := range p.Findings {
		f := &p.Findings[i]
		out[spotOf(f)] = append(out[spotOf(f)], f.Severity)
	}
	for _, s := range out {
		slices.Sort(s)
	}
	return out
}

// paste does by hand what the lines of a fix say.
func paste(text []byte, x rules.Fix) []byte {
	lines := strings.Split(string(text), "\n")
	below := map[int][]string{}
	for i, l := range x.Lines {
		if x.TOML[i] != l.Text {
			return nil
		}
		if l.Insert {
			below[l.Line] = append(below[l.Line], l.Text)
		} else {
			lines[l.Line-1] = l.Text
		}
	}
	out := slices.Clone(below[0])
	for i, l := range lines {
		out = append(append(out, l), below[i+1]...)
	}
	return []byte(strings.Join(out, "\n"))
}

// Every fix that is shown clears its conflict, in all sizes, brings no other,
// touches nothing kept, and means the same pasted into the file.
func TestFixesHold(t *testing.T) {
	shown, conflicts := 0, 0
	var files []string
	for _, pattern := range []string{"garments/*.toml", "rules/*/*.toml"} {
		names, err := filepath.Glob(filepath.Join("..", "..", "testdata", pattern))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, names...)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), "[[closure]]") {
			continue
		}
		s, c := checkFixes(t, name, text, catalog.Options{})
		shown, conflicts = shown+s, conflicts+c
	}
	if shown < 100 || conflicts < 80 {
		t.Errorf("only %d fixes for %d conflicts were tried", shown, conflicts)
	}
	t.Logf("%d fixes for %d conflicts", shown, conflicts)
}

func TestFixesHoldOnRandomGarments(t *testing.T) {
	t.Parallel()
	shown, conflicts, tried := 0, 0, 0
	for seed := uint64(0); tried < many(60, 300); seed++ {
		g, text, opts := random(t, seed, 8)
		if g == nil {
			continue
		}
		tried++
		s, c := checkFixes(t, "coat.toml", text, opts)
		shown, conflicts = shown+s, conflicts+c
	}
	if shown < 2*tried {
		t.Errorf("only %d fixes for %d conflicts of %d garments", shown, conflicts, tried)
	}
	t.Logf("%d fixes for %d conflicts of %d garments", shown, conflicts, tried)
}
