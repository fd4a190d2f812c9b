package rules

import (
	"fmt"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// planned is the plan of a garment's text.
func planned(t *testing.T, text string) *Planned {
	t.Helper()
	g, err := catalog.Read("test.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return Plan(g)
}

// jeans is a jacket of 13 oz denim with tack buttons.
func jeans(units, use, layers, more string) string {
	return fmt.Sprintf("garment = \"Deck jacket (invented)\"\nunits = %q\n[cloth.shell]\nuse = \"denim\"\n[[closure]]\nname = \"front\"\nuse = %q\nover = [%s]\n[closure.run]\nlength = \"600 mm\"\ncount = 6\n%s", units, use, strings.TrimSuffix(strings.Repeat(`"shell", `, len(layers)), ", "), more)
}

// The worked hole of a pair of jeans (a historical tailor's masterclass):
// diameter + 1/8 in, which is 13/16 in for the 17 mm and 15/16 in for the
// 20 mm of the trade. The head is a shallow dome; its hub stays outside.
func TestPublishedTackHoles(t *testing.T) {
	for _, c := range []struct {
		use, units string
		want       measure.Length
	}{
		{"tack-17mm-nail-8", "in", inch(13. / 16)},
		{"tack-20mm-nail-9", "in", inch(15. / 16)},
		{"tack-17mm-nail-8", "mm", 20 * mm}, // 20.2, to the millimetre
		{"tack-20mm-nail-9", "mm", 23 * mm}, // 23.2
	} {
		k := planned(t, jeans(c.units, c.use, "xx", "")).Closures[0]
		near(t, c.use+" in "+c.units, k.Hole.Length, c.want, 0)
	}
	// The same source's waistband: a hole of 3/4 in, so a button of about 5/8 in.
	text := "garment = \"Deck trousers (invented)\"\nunits = \"in\"\n[cloth.shell]\nuse = \"denim\"\n[[closure]]\nname = \"waist\"\nfastener = \"tack-button\"\nover = [\"shell\", \"shell\"]\n[closure.notion]\ndiameter = \"5/8 in\"\nthickness = \"5 mm\"\npost = \"8 mm\"\nshank = \"3 mm\"\n[closure.run]\nlength = \"36 in\"\ncount = 1\n"
	near(t, "waistband", planned(t, text).Closures[0].Hole.Length, inch(.75), 0)
	// Workwear sews 20 to 22 mm also through a thick band: common practice, no
	// source. Six layers of 13 oz denim are bulky.
	for units, want := range map[string]measure.Length{"in": inch(13. / 16), "mm": 21 * mm} {
		k := planned(t, jeans(units, "tack-17mm-nail-11", "xxxxxx", "")).Closures[0]
		if k.Over.Thick <= plan.Bulky {
			t.Fatalf("only %s", k.Over.Thick)
		}
		near(t, "in bulky denim, "+units, k.Hole.Length, want, 0)
	}
	// What was measured wins.
	near(t, "a measured girth", planned(t, strings.Replace(text, "post =", "girth = \"40 mm\"\npost =", 1)).Closures[0].Hole.Passing, 20*mm, 0)
	// A flat head goes like a flat button.
	near(t, "a flat head", planned(t, strings.Replace(text, "post =", "shape = \"flat\"\npost =", 1)).Closures[0].Hole.Passing, inch(.625)+5*mm, 0)
}

// Lofty wadding gives way at the edge of a hole: common practice, no source.
// The bulk that asks for ease is what is left of it pressed.
func TestWaddingAsksForNoEase(t *testing.T) {
	text := "garment = \"Quilted vest (invented)\"\nunits = \"mm\"\n[cloth.shell]\nuse = \"duck-10\"\nthickness = \"0.6 mm\"\n[cloth.fill]\nkind = \"wadding\"\nweight = \"100 g/m2\"\nthickness = \"8 mm\"\npressed = 0.2\n[[closure]]\nname = \"front\"\nuse = \"tack-17mm-nail-8\"\nover = [\"shell\", \"fill\", \"shell\"]\n[closure.run]\nlength = 600\ncount = 6\n"
	firm := strings.NewReplacer(`kind = "wadding"`, `kind = "melton"`, `"100 g/m2"`, `"700 g/m2"`, "8 mm", "3 mm", "0.2", "0.8")
	for use, want := range map[string][2]measure.Length{
		"tack-17mm-nail-8": {20 * mm, 21 * mm}, // 17 + 3.175 at most
		"horn-30":          {0, plan.BulkyEase},
	} {
		text := strings.Replace(text, "tack-17mm-nail-8", use, 1)
		soft, hard := planned(t, text).Closures[0].Hole, planned(t, firm.Replace(text)).Closures[0].Hole
		if use == "horn-30" {
			near(t, "ease of a button", soft.Ease, want[0], 0)
			near(t, "ease of a button in firm cloth", hard.Ease, want[1], 0)
			continue
		}
		near(t, "ease", soft.Ease, 0, 0)
		near(t, "hole", soft.Length, want[0], 0)
		near(t, "hole in firm cloth as thick as that", hard.Length, want[1], 0)
	}
}

// A nail of 8 mm in two or three layers of 13 oz denim is the most usual use
// of one: common practice, no source. Nothing is wrong with it.
func TestTheUsualNailPasses(t *testing.T) {
	for _, layers := range []string{"xx", "xxx"} {
		for _, units := range []string{"in", "mm"} {
			for _, f := range planned(t, jeans(units, "tack-17mm-nail-8", layers, "")).Findings {
				if strings.HasPrefix(f.Rule, "hardware-") && f.Severity > Note && f.Rule != "hardware-layers" {
					t.Errorf("%d layers, %s: %s", len(layers), f.Rule, f.Message())
				}
			}
		}
	}
}
