package search

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/rules"
)

// Whatever garment can be read can be planned, fixed and chosen for; the
// findings stand in the order of the file, and the same garment gives the
// same ones.
func FuzzGarment(f *testing.F) {
	for _, pattern := range []string{"../../testdata/garments/*.toml", "../../testdata/fixes/*.toml", "../../testdata/pieces/*.toml"} {
		names, _ := filepath.Glob(pattern)
		for _, name := range names {
			if data, err := os.ReadFile(name); err == nil {
				f.Add(data)
			}
		}
	}
	own := func(name string) ([]byte, error) {
		return os.ReadFile(filepath.Join("../../testdata/garments", filepath.Base(name)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		g, err := catalog.Read("x.toml", data, catalog.Options{ReadFile: own})
		if err != nil || len(g.Closures) > 6 {
			return
		}
		a, b := Checked(g, CheckOptions{Fixes: true}), rules.Plan(g)
		for i := range a.Findings {
			if a.Findings[i].Message() == "" {
				t.Errorf("%s says nothing", a.Findings[i].Rule)
			}
			if i > 0 && a.Findings[i].Severity == a.Findings[i-1].Severity && a.Findings[i].Pos.Compare(a.Findings[i-1].Pos) < 0 {
				t.Errorf("%v after %v", a.Findings[i].Pos, a.Findings[i-1].Pos)
			}
		}
		for i := range b.Findings {
			if b.Findings[i].Message() == "" {
				t.Errorf("%s says nothing", b.Findings[i].Rule)
			}
		}
	})
}

// Whatever is asked of whatever garment, a choice is refused or comes: what
// passes has no conflict and stands first, and the changes of each give the
// garment that was planned.
func FuzzChoose(f *testing.F) {
	names, _ := filepath.Glob("../../testdata/garments/*.toml")
	for i, name := range names {
		if data, err := os.ReadFile(name); err == nil {
			f.Add(data, uint8(i), 5.0, 40.0)
		}
	}
	f.Add([]byte("garment = \"x\"\nunits = \"mm\"\n[cloth.s]\nuse = \"melton\"\n[[closure]]\nname = \"a\"\nuse = \"horn-30\"\nover = [\"s\"]\n[closure.run]\nlength = 300\ncount = 3\n"), uint8(0), 0.0, 0.0)
	own := func(name string) ([]byte, error) {
		return os.ReadFile(filepath.Join("../../testdata/garments", filepath.Base(name)))
	}
	f.Fuzz(func(t *testing.T, data []byte, ask uint8, from, to float64) {
		g, err := catalog.Read("x.toml", data, catalog.Options{ReadFile: own})
		if err != nil || len(g.Closures) == 0 || len(g.Closures) > 6 || len(g.Sizes) > 8 {
			return
		}
		o := ChoiceOptions{What: []string{"", "needle", "thread", "interfacing"}[ask%4], All: ask&4 > 0, Limit: int(ask % 5)}
		if !o.All {
			o.Closure = g.Closures[int(ask/8)%len(g.Closures)].Name
		}
		if from > 0 && from < 200 {
			o.From = measure.Length(from * 1e6)
		}
		if to > 0 && to < 200 {
			o.To = measure.Length(to * 1e6)
		}
		c, err := chooseWithin(g, o, fast, 8, 2000) // few: cheap enough for thousands
		if (c == nil) == (err == nil) {
			t.Fatalf("%v, %v", c, err)
		}
		if err != nil {
			return
		}
		failed := false
		for i := range c.Candidates {
			d := &c.Candidates[i]
			if d.Passes && (failed || d.Conflicts > 0 || d.Fails != "") || !d.Passes && d.Fails == "" {
				t.Errorf("%s: passes %v after one that fails %v, %d conflicts, fails %q", d.Name, d.Passes, failed, d.Conflicts, d.Fails)
			}
			failed = failed || !d.Passes
			if i > 0 {
				continue
			}
			if _, err := g.Alter(d.With...); err != nil {
				t.Errorf("%s: %v", d.Name, err)
			}
		}
	})
}

// A finding is settled with whatever reason, in whatever garment, or it is
// refused: the file that is written reads, and has that reason.
func FuzzSettle(f *testing.F) {
	names, _ := filepath.Glob("../../testdata/garments/*.toml")
	for i, name := range names {
		if data, err := os.ReadFile(name); err == nil {
			f.Add(data, uint8(i), "sample sewn 12 November")
		}
	}
	for i, because := range []string{"", "\"\n[x]", "'''", "\u202e", "\x00", `\`, "# no", "=1"} {
		f.Add([]byte("garment = \"x\"\nunits = \"mm\"\n[cloth.s]\nuse = \"melton\"\n[[closure]]\nname = \"a\"\nuse = \"horn-30\"\nover = [\"s\", \"s\"]\n[closure.run]\nlength = 300\ncount = 3\n"), uint8(i), because)
	}
	own := func(name string) ([]byte, error) {
		return os.ReadFile(filepath.Join("../../testdata/garments", filepath.Base(name)))
	}
	f.Fuzz(func(t *testing.T, data []byte, which uint8, because string) {
		g, err := catalog.Read("x.toml", data, catalog.Options{ReadFile: own})
		if err != nil || len(g.Closures) > 4 || !utf8.ValidString(because) { // what no file can hold
			return
		}
		p := rules.Plan(g)
		if len(p.Findings) == 0 {
			return
		}
		f := &p.Findings[int(which)%len(p.Findings)]
		s, err := p.Settling(f)
		if err != nil {
			return
		}
		s.Because = because
		written, _, err := g.Settle(s)
		if err != nil {
			return // it cannot be written, and says so
		}
		n, err := catalog.Read("x.toml", written, catalog.Options{ReadFile: own})
		if err != nil {
			var ps source.Problems
			if errors.As(err, &ps) && strings.Contains(ps[0].Message, "because") {
				return // a reason that says nothing, or too much, is refused when it is read
			}
			t.Fatalf("%v\n%s", err, written)
		}
		if !slices.ContainsFunc(n.Settled, func(e catalog.Settled) bool { return e.Rule == f.Rule && e.Because == because }) {
			t.Errorf("%q is not there:\n%s", because, written)
		}
	})
}
