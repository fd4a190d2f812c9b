package rules

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/trial"
)

// estimated is the text of a garment whose cloth is estimated from its weight,
// of that bulk density.
func estimated(text string, density float64) string {
	return thickness.ReplaceAllString(strings.Replace(text, "[cloth.shell]", fmt.Sprintf("[cloth.shell]\ndensity = %.3f", density), 1), "")
}

var (
	thickness = regexp.MustCompile(`(?m)^thickness = "\d\.\d mm"$`)
	millis    = regexp.MustCompile(`\d+(?:\.\d+)? mm`)
)

// stepped are the rules whose figures do not hang on the thickness itself: a
// hole in thick cloth is an eighth of an inch longer, one in thin cloth is not.
var stepped = []string{
	"hole-short", "hole-tight", "spacing-clash", "facing-short", "strip-narrow", "strip-start", "interfacing-none",
	"flap-seam", "rims-touch", "first-high", "last-low", "band-hole",
}

// thick are the rules whose line on the screen has the thickness.
var thick = []string{"place-thick", "stack-bulky", "foot-lift", "hardware-post"}

// An estimate carries its ± everywhere: a thickness in a finding that changes
// with the bulk density of a cloth that nobody measured has its ± in the
// message, and where the thickness stands in it in the line on the screen.
func TestEstimatesCarryTheirTolerance(t *testing.T) {
	type key struct{ rule, path string }
	told := map[string]bool{}
	tried := map[string]int{}
	for seed := range uint64(trial.Many(60, 2000)) {
		m := trial.New(seed, 1871)
		text := m.Opening()
		// All thicknesses of the cloth go; its weight is what is left.
		if seed%2 == 1 {
			text = strings.ReplaceAll(text, `over = ["shell", `, `over = ["shell", "shell", "shell", `)
		}
		at := strings.Index(text, "[interfacing")
		head, tail := text[:at], text[at:]
		said := func(density float64) map[key]Finding {
			out := map[key]Finding{}
			g, err := catalog.Read("coat.toml", []byte(estimated(head, density)+tail), catalog.Options{})
			if err != nil {
				return out // not every garment is one
			}
			for _, f := range Plan(g).Findings {
				out[key{f.Rule, f.Path() + f.Size}] = f
			}
			return out
		}
		before, after := said(0.400), said(0.394)
		for k, f := range before {
			o, there := after[k]
			if !there || f.Rule == "thickness-estimated" || slices.Contains(stepped, f.Rule) ||
				f.Rule == "zip-clear" && strings.HasPrefix(f.Message(), "the holes ") { // by an eighth, as hole-short
				continue
			}
			if told[k.rule] || slices.Equal(millis.FindAllString(f.Message(), -1), millis.FindAllString(o.Message(), -1)) {
				continue
			}
			tried[k.rule]++
			if !strings.Contains(f.Message(), "±") {
				told[k.rule] = true
				t.Errorf("seed %d: %s: no ± in %q", seed, k.rule, f.Message())
			}
			line, _ := Find(f.Rule).Say(&f, measure.MM)
			other, _ := Find(f.Rule).Say(&o, measure.MM)
			if line != other && slices.Contains(thick, f.Rule) && !strings.Contains(line, "±") {
				told[k.rule] = true
				t.Errorf("seed %d: %s: no ± in the line %q", seed, k.rule, line)
			}
		}
	}
	for _, r := range []string{"place-thick", "stack-bulky", "foot-lift"} {
		if tried[r] == 0 {
			t.Errorf("%s was never tried", r)
		}
	}
}
