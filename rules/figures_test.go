package rules

import (
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog"
)

var said = regexp.MustCompile(`(\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)(?: to (\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?))? (mm|in|cm|yd)\b`)

// lengthsIn are the lengths that a text names, mm.
func lengthsIn(s string) (out []float64) {
	for _, m := range said.FindAllStringSubmatch(s, -1) {
		for _, figure := range m[1:3] {
			f := 0.0
			for _, part := range strings.Fields(figure) {
				a, b, cut := strings.Cut(part, "/")
				x, _ := strconv.ParseFloat(a, 64)
				if y, _ := strconv.ParseFloat(b, 64); cut {
					x /= y
				}
				f += x
			}
			if figure != "" {
				out = append(out, f*map[string]float64{"mm": 1, "in": 25.4, "cm": 10, "yd": 914.4}[m[3]])
			}
		}
	}
	return out
}

// unsaid are figures that a message does not name: a threshold of our own that
// the eye decides by, what another figure of it is worked out from, or nothing, in words.
var unsaid = map[string]bool{
	"shrink-apart needs": true, "gaps-uneven needs": true, "hook-tape needs": true, "plaid-level needs": true, "plaid-phase needs": true,
	"hole-machine has": true, "stand-narrow has": true, "edge-shared has": true, "hole-edge has": true, "safety-sleepwear has": true,
}

// A message names what it compares: what there is and what there must be, as
// near as lengths are printed (to 1/16 in).
func TestFiguresAreSaid(t *testing.T) {
	names, err := filepath.Glob("../testdata/rules/*/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, name := range names {
		g, err := catalog.Load(name, catalog.Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		p := Plan(g)
		for i := range p.Findings {
			f := &p.Findings[i]
			lengths := lengthsIn(f.Message())
			if !f.Compared || f.Unit != "mm" && f.Unit != "" || len(lengths) == 0 {
				continue
			}
			n++
			for what, v := range map[string]float64{"has": f.Have, "needs": f.Need} {
				off := math.Inf(1)
				for _, l := range lengths {
					off = min(off, math.Abs(l-v), math.Abs(l+v)) // the other way is said in words
				}
				if off > 25.4/32+1e-6 && !unsaid[f.Rule+" "+what] {
					t.Errorf("%s: %s %s %.2f mm, and says %q", name, f.Rule, what, v, f.Message())
				}
			}
		}
	}
	if n < 700 {
		t.Errorf("only %d findings", n)
	}
}
