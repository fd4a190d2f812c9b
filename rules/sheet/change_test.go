package sheet

import (
	"encoding/json"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/search"
	"placketeer/rules/trial"
)

func changedCoat(t *testing.T, with ...string) *rules.Planned {
	t.Helper()
	g := trial.Load(t, "../../testdata/garments/watch-coat.toml", with...)
	return search.Checked(g, search.CheckOptions{})
}

// A hem moved after try-on: what moves, what stays, and which verdicts went.
func TestChangeIsSaid(t *testing.T) {
	p := changedCoat(t, "closure.front.run.length=26 in", "closure.front.use=quay-horn-36", "closure.front.needle=100/16")
	for _, format := range Formats {
		if format == "csv" {
			continue // tables of places and things to buy only
		}
		var b strings.Builder
		if err := Check(&b, []*rules.Planned{p}, Options{Format: format, Size: "M"}); err != nil {
			t.Fatal(err)
		}
		got := strings.Join(strings.Fields(b.String()), " ")
		if format == "json" {
			var all []struct {
				Change struct {
					Before, After string
					Gone          []struct{ Rule string }
					Moved         []struct {
						Run    []float64 `json:"run_mm"`
						Stayed []int
						To     []float64 `json:"to_mm"`
					}
				}
			}
			if err := json.Unmarshal([]byte(b.String()), &all); err != nil {
				t.Fatal(err)
			}
			c := all[0].Change
			if c.Before != "conflict" || c.After != "caution" || len(c.Gone) < 2 || len(c.Moved) != 1 {
				t.Fatalf("change %+v", c)
			}
			// 28 in and 26 in; the first stays, the last goes up two inches.
			if m := c.Moved[0]; m.Run[0] != 711.2 || m.Run[1] != 660.4 || m.Stayed[0] != 1 || m.To[len(m.To)-1] != 508 {
				t.Errorf("moved %+v", m)
			}
			continue
		}
		for _, want := range []string{"The verdict was conflict and is now caution.", "hole-machine", "the run was 28 in, now 26 in", "Stay: 1.", "6 from 22 in to 20 in"} {
			if !strings.Contains(got, want) {
				t.Errorf("%s does not say %q", format, want)
			}
		}
	}
	if p := changedCoat(t); p.Change != nil {
		t.Error("a change without --with")
	}
}
