package search

import (
	"os"
	"path/filepath"
	"testing"

	"placketeer/catalog"
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
