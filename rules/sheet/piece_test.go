package sheet

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"

	"github.com/google/go-cmp/cmp"
)

// The pieces of five garments were laid out by hand, with a pencil drawing and
// the arithmetic, before there was code for them: testdata/pieces/NAME.txt.
func TestPiecesLaidByHand(t *testing.T) {
	names, err := filepath.Glob("../../testdata/pieces/*.json")
	if err != nil || len(names) < 5 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		base := strings.TrimSuffix(name, ".json")
		t.Run(filepath.Base(base), func(t *testing.T) {
			g := trial.Load(t, base+".toml")
			p := rules.Plan(g)
			for i := range p.Findings {
				if f := &p.Findings[i]; f.Severity == rules.Conflict {
					t.Errorf("%s: %s", f.Rule, f.Message())
				}
			}
			text, err := writeJSON(prepare(p, Options{}).Closures[0].Sizes[0].Pieces)
			if err != nil {
				t.Fatal(err)
			}
			byHand, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			var want, got []map[string]any
			for data, to := range map[string]*[]map[string]any{string(byHand): &want, text: &got} {
				d := json.NewDecoder(strings.NewReader(data))
				d.UseNumber() // to the last nanometre
				if err := d.Decode(to); err != nil {
					t.Fatal(err)
				}
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("(-by hand +planned):\n%s", diff)
			}
		})
	}
}
