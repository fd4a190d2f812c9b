package work

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func special(t *testing.T, cloth, use string) *rules.Planned {
	t.Helper()
	return written(t, fmt.Sprintf(`garment = "Slip jacket (invented)"
units = "in"
[cloth.shell]
use = %q
[interfacing.front]
use = "silesia"
[[closure]]
name = "front"
use = %q
over = ["shell", "front", "shell"]
[closure.stand]
construction = "faced"
finished = "1 1/8 in"
topstitch = "1/4 in"
[closure.run]
length = 24
count = 5
`, cloth, use))
}

func list(p *rules.Planned) string {
	var b strings.Builder
	for _, k := range Order(p, "") {
		b.WriteString(k.Do + "\n" + strings.Join(k.Take, "\n") + "\n")
	}
	return b.String()
}

// What the publications in the rules say of special cloths: a page on
// leather-like cloth and Threads magazine (clips, no basting), a police
// specification (seam tape), a merchant on waxed canvas, a teacher on
// corduroy, pages on quilted cloth and fleece.
func TestSpecialCloths(t *testing.T) {
	for _, c := range []struct{ cloth, use, has, hasNot string }{
		{"leather-garment", "horn-36", `clips or narrow tape`, `(?i)\bbaste\b`},
		{"coated-cotton", "horn-36", `tape the seams inside`, `(?i)\bbaste\b|\bwax\b|melts`},
		{"laminated-shell", "snap-15-brass", `patch of cloth behind`, `(?i)\bbaste\b|\bwax\b`},
		{"waxed-duck", "horn-36", `with clips, not pins`, `(?i)tape the seams|\bbaste\b`},
		{"corduroy", "horn-36", `face down on a towel`, `(?i)clips`},
		{"quilted-wadding", "horn-36", `with steam and no weight`, `(?i)clips`},
		{"fleece", "horn-36", `steam from above and no weight`, `(?i)clips`},
	} {
		use := c.use
		if use == "snap-15-brass" {
			stock, err := catalog.StockCatalog()
			if err != nil {
				t.Fatal(err)
			}
			for _, n := range stock.Notions {
				if n.Kind == catalog.Snap && plan.SetWithTool(n) {
					use = n.Name
					break
				}
			}
		}
		says := list(special(t, c.cloth, use))
		if !regexp.MustCompile(c.has).MatchString(says) {
			t.Errorf("%s: %s is missing in\n%s", c.cloth, c.has, says)
		}
		if m := regexp.MustCompile(c.hasNot).FindString(says); m != "" {
			t.Errorf("%s: the checklist says %q:\n%s", c.cloth, m, says)
		}
	}
}

// No thickness is invented: what nobody measured is an estimate with its ±.
func TestSpecialThicknessIsEstimated(t *testing.T) {
	for _, cloth := range []string{"boiled-wool", "coated-cotton", "softshell", "laminated-shell", "loden", "corduroy", "fur-fabric"} {
		l := special(t, cloth, "horn-36").Closures[0].Over.Layers[0]
		if !l.Estimated || l.Tol < l.Thick/5 {
			t.Errorf("%s: %s ± %s, estimated %v", cloth, l.Thick, l.Tol, l.Estimated)
		}
	}
}
