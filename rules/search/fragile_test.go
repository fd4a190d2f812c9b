package search

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"placketeer/rules"
	"placketeer/rules/trial"
)

const slimCoat = `garment = "Quay coat (invented)"
units = "mm"
[machine]
buttonhole_max = "28 mm"
[cloth.shell]
use = "melton"
thickness = "1.2 mm"
[[closure]]
name = "front"
over = ["shell", "shell"]
reinforced = true
notion = { diameter = "%s", thickness = "%s" }
[closure.run]
length = 600
count = 5
`

func checkedText(t *testing.T, text, measuring string) *rules.Planned {
	t.Helper()
	g := trial.Read(t, text)
	return Checked(g, CheckOptions{Measuring: measuring})
}

func only(fs []rules.Finding, rule string) []rules.Finding {
	var out []rules.Finding
	for _, f := range fs {
		if f.Rule == rule {
			out = append(out, f)
		}
	}
	return out
}

// A hole must pass diameter + thickness (Extension Bulletin 576, Buttons and
// Buttonholes, 1965), and the machine sews 28 mm. How far that is from the
// limit is a subtraction; it flips when the ± of one of the two is more.
func TestFragileBySubtraction(t *testing.T) {
	for d := 22.0; d <= 25; d += 0.25 {
		for _, tol := range []float64{0, 0.1, 0.3, 1} {
			for _, measuring := range []string{"", "hand", "caliper"} {
				thick := "4 mm"
				if tol > 0 {
					thick = fmt.Sprintf("4 mm ± %g", tol)
				}
				p := checkedText(t, fmt.Sprintf(slimCoat, fmt.Sprintf("%g mm", d), thick), measuring)
				margin := 28 - d - 4
				ruler := map[string]float64{"hand": 0.5, "caliper": 0.1}[measuring]
				most := max(tol, ruler) // the diameter has the ruler's ±, the thickness its own
				if tol > 0 && measuring == "" {
					most = tol
				}
				flips := math.Abs(margin) < most
				name := fmt.Sprintf("%g mm, thickness %s, measured by %q", d, thick, measuring)
				var told []rules.Finding
				for _, f := range only(p.Findings, "within-tolerance") {
					if strings.HasSuffix(f.Message(), "(see hole-machine)") {
						told = append(told, f)
					}
				}
				conflict := only(p.Findings, "hole-machine")
				// Within the ± that the file writes it is no conflict; a ruler
				// laid a little off may bring it there.
				unsure := tol > 0 && -margin <= tol
				hair := -margin <= most || !unsure && tol > 0 && ruler > 0 && -margin-ruler <= tol
				switch {
				case margin < 0 && (len(conflict) != 1 || len(told) != 0 || (conflict[0].Fragile != "") != hair || conflict[0].Unsure != unsure):
					t.Errorf("%s: %v, %v", name, conflict, told)
				case margin >= 0 && (len(conflict) != 0 || (len(told) == 1) != (flips && margin < most)):
					t.Errorf("%s: %v, %v", name, conflict, told)
				case margin >= 0 && len(told) == 1:
					f := told[0]
					if f.Severity != rules.Caution || math.Abs(f.Have-margin) > 0.01 || !f.Compared || f.Pos.Line != 12 {
						t.Errorf("%s: %+v, want a caution at line 12 with %.2f to spare", name, f, margin)
					}
				}
			}
		}
	}
}

// An estimated thickness carries the ± of its family whether or not anything
// is said of the measuring, and stays an estimate while it is moved.
func TestFragileEstimate(t *testing.T) {
	// Melton of 620 g/m2 is estimated at about 2.4 mm ± 35 %: two layers are
	// over or under 4 mm by less than that.
	text := strings.Replace(fmt.Sprintf(slimCoat, "18 mm", "3 mm"), `thickness = "1.2 mm"`, `weight = "620 g/m2"`, 1)
	p := checkedText(t, text, "")
	bulky := only(p.Findings, "stack-bulky")
	if len(bulky) != 1 || !strings.Contains(bulky[0].Fragile, "an estimate") {
		t.Errorf("stack-bulky: %+v, want it to say that the estimate decides", bulky)
	}
	if len(only(p.Findings, "thickness-estimated")) != 1 {
		t.Error("the note of the estimate is gone")
	}
	same := only(rules.Plan(p.Garment).Findings, "stack-bulky")
	if len(same) != 1 || same[0].Message() != bulky[0].Message() {
		t.Errorf("looking for what flips has changed the plan: %v, %v", same, bulky)
	}
}

// What flips in many sizes is said once, and never twice for one rule and
// closure.
func TestFragileOnceForAllSizes(t *testing.T) {
	text := strings.Replace(fmt.Sprintf(slimCoat, "23 mm ± 0.5", "4.8 mm ± 0.5"), "[machine]", "[sizes]\nnames = [\"S\", \"M\", \"L\"]\n[machine]", 1)
	text = strings.Replace(text, "length = 600", "length = { S = 580, M = 600, L = 620 }\nfirst = \"12 mm ± 1\"", 1)
	p := checkedText(t, text, "hand")
	seen := map[string]int{}
	for _, f := range only(p.Findings, "within-tolerance") {
		rule := f.Message()[strings.LastIndexByte(f.Message(), '('):]
		seen[rule+" "+f.Closure]++
	}
	if len(seen) == 0 {
		t.Fatal("nothing flips")
	}
	for k, n := range seen {
		if n != 1 {
			t.Errorf("%s is told %d times", k, n)
		}
	}
	for range 3 {
		again := checkedText(t, text, "hand")
		for i := range p.Findings {
			if p.Findings[i].Message() != again.Findings[i].Message() || p.Findings[i].Fragile != again.Findings[i].Fragile {
				t.Fatalf("not the same twice: %q, %q", p.Findings[i].Message(), again.Findings[i].Message())
			}
		}
	}
}
