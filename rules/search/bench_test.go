package search

import (
	"fmt"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
)

func BenchmarkFixes(b *testing.B) {
	g := demo(b, "watch-coat")
	b.ReportAllocs()
	for b.Loop() {
		if p := Checked(g, CheckOptions{Fixes: true}); len(p.Findings[0].Fixes) == 0 {
			b.Fatal("no fixes")
		}
	}
}

// BenchmarkEvidence is what check does for the watch coat: fixes, the joint
// fix and what to measure first. It is to stay within 15 ms.
func BenchmarkEvidence(b *testing.B) {
	g := demo(b, "watch-coat")
	b.ReportAllocs()
	for b.Loop() {
		if p := Checked(g, CheckOptions{Fixes: true, Measuring: "hand"}); p.Joint == nil || len(p.First) == 0 {
			b.Fatal("no joint fix, or nothing to measure first")
		}
	}
}

// BenchmarkJointFix is the joint fix alone.
func BenchmarkJointFix(b *testing.B) {
	p := rules.Plan(demo(b, "watch-coat"))
	for b.Loop() {
		if newFixer(p).joint() == nil {
			b.Fatal("no joint fix")
		}
	}
}

// BenchmarkMeasureFirst is the search within the ± alone.
func BenchmarkMeasureFirst(b *testing.B) {
	g := demo(b, "watch-coat")
	for b.Loop() {
		p := rules.Plan(g)
		within(p, "")
		if len(p.First) == 0 {
			b.Fatal("nothing to measure first")
		}
	}
}

// tenConflicts is a garment with ten conflicts of ten rules.
func tenConflicts(tb testing.TB) *catalog.Garment {
	tb.Helper()
	g, err := catalog.Load(filepath.Join("..", "..", "testdata", "fixes", "ten-conflicts.toml"), catalog.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	return g
}

func TestTenConflicts(t *testing.T) {
	p := Checked(tenConflicts(t), CheckOptions{Fixes: true})
	seen := map[string]bool{}
	for _, f := range p.Findings {
		if f.Severity == rules.Conflict {
			seen[f.Rule+" "+f.Closure] = true
			t.Logf("%s %s: %d fixes %s", f.Rule, f.Closure, len(f.Fixes), f.Stuck)
		}
	}
	if len(seen) != 10 {
		t.Errorf("%d conflicts: %v", len(seen), seen)
	}
}

func BenchmarkFixesTen(b *testing.B) {
	g := tenConflicts(b)
	b.ReportAllocs()
	for b.Loop() {
		Checked(g, CheckOptions{Fixes: true})
	}
}

// crowd is a garment in twelve sizes with an own catalogue of n buttons.
func crowd(tb testing.TB, n int) *catalog.Garment {
	tb.Helper()
	var sizes, lengths []string
	for i := range 12 {
		sizes = append(sizes, fmt.Sprintf("%q", fmt.Sprint(34+2*i)))
		lengths = append(lengths, fmt.Sprintf("%d = %d", 34+2*i, 600+10*i))
	}
	text := `garment = "Watch coat in twelve sizes (invented)"
units = "mm"
[sizes]
names = [` + strings.Join(sizes, ", ") + `]
[machine]
foot_lift = "6.5 mm"
[cloth.shell]
use = "melton"
thickness = "2.4 mm"
[interfacing.front]
use = "hair-canvas"
thickness = "0.6 mm"
[thread.seam]
use = "polyester-tex-60"
[[closure]]
name = "front"
where = "front"
use = "horn-36"
over = ["shell", "front", "shell"]
needle = "100/16"
[closure.stand]
construction = "faced"
finished = "30 mm"
facing = "75 mm"
strip = "90 mm"
[closure.run]
length = { ` + strings.Join(lengths, ", ") + ` }
count = 6
anchor = [{ name = "bust", at = 200, within = 30 }]
clear = [{ name = "belt", from = 330, to = 370 }]
`
	const each = 1000 // notions in a file
	m := newMaker(7)
	files := map[string]string{}
	var names []string
	for f := range n / each {
		m.Reset()
		for i := range each {
			m.Add("[[button]]\nname = \"%s-no%d-%d\"\nsource = \"invented\"", m.One("horn", "corozo", "brass", "bone"), f*each+i, 20)
			m.Add("diameter = \"%.1f mm\"\nthickness = \"%.1f mm\"", float64(80+m.IntN(320))/10, float64(15+m.IntN(70))/10)
			if m.Chance(0.5) {
				m.Add("price = %.2f", float64(10+m.IntN(400))/100)
			}
			if m.Chance(0.2) {
				m.Add("shape = %q", m.One("domed", "ball"))
			}
		}
		name := fmt.Sprintf("own-%d.toml", f)
		names = append(names, name)
		files[name] = m.String()
	}
	g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{
		Catalogs: names,
		ReadFile: func(name string) ([]byte, error) { return []byte(files[name]), nil },
	})
	if err != nil {
		tb.Fatal(err)
	}
	return g
}

func BenchmarkChoose100k(b *testing.B) {
	defer debug.SetGCPercent(debug.SetGCPercent(20)) // as the command does
	g := crowd(b, 100_000)
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	b.ReportAllocs()
	for b.Loop() {
		c, err := Choose(g, ChoiceOptions{Closure: "front"})
		if err != nil || c.Tried < 100_000 || c.Passing < 1000 {
			b.Fatal(c, err)
		}
	}
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(after.Sys)/1e6, "MB-from-system")
}
