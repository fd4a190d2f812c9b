package work

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// everyGarment are all garments of the test data that read.
func everyGarment(t *testing.T, do func(name string, g *catalog.Garment)) {
	t.Helper()
	n := 0
	for _, pattern := range []string{"rules/*/*.toml", "garments/*.toml", "worked/*.toml", "pieces/*.toml", "plan/*.toml", "fixes/*.toml"} {
		names, err := filepath.Glob(filepath.Join("../../testdata", pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if strings.HasSuffix(name, ".want.toml") || !strings.Contains(string(data), "[[closure]]") {
				continue
			}
			g, err := catalog.Load(name, catalog.Options{})
			if err != nil {
				continue
			}
			n++
			do(strings.TrimPrefix(name, "../../testdata/"), g)
		}
	}
	if n < 250 {
		t.Errorf("only %d garments", n)
	}
}

// Where nothing is, nothing is said: no amount of zero, none below it, no sum
// that came to no number, and no 1 of several.
var nothing = []*regexp.Regexp{
	regexp.MustCompile(`(?:^|[^0-9.,/¹²³⁄ ] |^[^0-9]?)0(?:\.0+)? (?:mm|cm|m|in|yd|N|pieces|stitches|spools|holes)\b`),
	regexp.MustCompile(`(?:^|[^0-9.,/¹²³⁄±–] ?)\b0(?:\.0+)? (?:[a-z×÷(])[a-z]*`),
	regexp.MustCompile(`NaN|[+-]?Inf\b|%!|<nil>`),
	regexp.MustCompile(`(?:^|[ (])1 (?:buttons|snaps|rivets|holes|sizes|closures|spools|packs|pieces|layers|stitches|strips|patches|needles|tacks|eyelets|toggles|hooks|folds|gaps|rows)\b`),
	regexp.MustCompile(`  |\( |^ | $|,,|;;|:;| ,| ;|\(\)`),
}

// meant are zeros that are: shrink = 0 is what to write, columns that begin on the line.
var meant = map[string]bool{" 0 once": true, " 0 in": true, " 0 mm": true}

func TestNothingIsNotSaid(t *testing.T) {
	seen := map[string]bool{}
	everyGarment(t, func(name string, g *catalog.Garment) {
		p := rules.Plan(g)
		look := func(where, says string) {
			for _, re := range nothing {
				if m := re.FindString(says); m != "" && !meant[m] && !seen[where+m+says] {
					seen[where+m+says] = true
					t.Errorf("%s: %s: %q in %s", name, where, m, says)
				}
			}
		}
		for i := range p.Closures {
			for _, s := range Working(p, i) {
				look("working", s.Says)
			}
		}
		for _, task := range Order(p, "") {
			look("task", task.Do)
			for _, l := range task.Lines {
				look("line", l)
			}
			for _, l := range task.Take {
				look("care", l)
			}
		}
		for _, why := range nothingThere(p) {
			if !seen[why] {
				seen[why] = true
				t.Errorf("%s: %s", name, why)
			}
		}
		for i := range p.Findings {
			look("finding", p.Findings[i].Message())
		}
	})
}

// cutPieces is how many there are of what is cut, by what it is called: two
// fronts, a facing on each, a fly of two layers (as each text says).
var cutPieces = []struct {
	what string
	n    int
}{{"both fronts", 2}, {"fly, each layer", 2}, {"right front", 1}, {"left front", 1}}

// nothingThere are the things of a plan that are nothing: parts and areas without
// a size, lines without a length, goods of which no size takes any, cuts of no
// width, by what they are.
func nothingThere(p *rules.Planned) (out []string) {
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	all := make([]int, max(1, len(p.Garment.Sizes)))
	for i := range all {
		all[i] = i
	}
	for i := range p.Closures {
		for _, pieces := range p.Closures[i].Pieces {
			for _, pc := range pieces {
				for _, l := range pc.Lines {
					if l.From == l.To && l.Kind != plan.TopLine && l.Kind != plan.HemLine { // of a piece of which nothing is known
						say("a %s line of no length", l.Kind)
					}
					if l.From.At > l.To.At {
						say("a %s line runs upwards", l.Kind)
					}
				}
				for _, a := range pc.Areas {
					if a.OutFrom >= a.OutTo || a.From > a.To || a.From == a.To && a.Kind != plan.ClearArea {
						say("%s without a size: %v to %v, %v to %v", a.Kind, a.OutFrom, a.OutTo, a.From, a.To)
					}
				}
				for _, q := range pc.Parts {
					if q.OutFrom > q.OutTo || q.From > q.To || q.OutFrom == q.OutTo && q.From == q.To {
						say("a part without a size: %v, %v to %v, %v to %v", q.Kind, q.OutFrom, q.OutTo, q.From, q.To)
					}
					if q.Number < 1 {
						say("a part of no row")
					}
					if q.Cut > 0 && q.Stitched < q.Cut {
						say("a hole is cut %v and stitched %v", q.Cut, q.Stitched)
					}
				}
			}
		}
	}
	for _, g := range p.Goods() {
		if g.Pack < 1 {
			say("%s in packs of %d", g.Kind, g.Pack)
		}
		any := g.Once > 0
		for _, n := range g.N {
			any = any || n > 0
			if n < 0 {
				say("%d of %v", n, g.ID)
			}
		}
		for _, l := range g.Len {
			any = any || l > 0
			if l < 0 {
				say("%v of %v", l, g.ID)
			}
		}
		for i := range g.Unknown {
			any = any || g.Unknown[i]
		}
		for i := range g.Cut {
			any = any || len(g.Cut[i]) > 0
			for _, c := range g.Cut[i] {
				if c.Length <= 0 || c.Width <= 0 || c.N <= 0 {
					say("%v is cut to nothing: %+v", g.ID, c)
				}
			}
		}
		if any = any || len(g.Swatches) > 0; !any {
			say("no size takes any %v", g.ID)
		}
	}
	for _, c := range Cuts(p, all) {
		if c.Wide < 0 || c.Pieces < 0 || c.Long < 0 || c.Longest < c.Long || c.Wide == 0 && c.Long == 0 && c.Longest == 0 {
			say("cut to nothing: %+v", c)
		}
		for _, w := range cutPieces {
			if strings.HasPrefix(c.What, w.what) && c.Pieces != w.n {
				say("%s: %d pieces", c.What, c.Pieces)
			}
		}
	}
	return out
}
