package rules

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"

	"pgregory.net/rapid"
)

// worded are the modules of rules whose findings all have words of their own
// for the screen.
var worded = slices.Concat(clothRules, plaidRules, holeRules, lapRules, orderRules, safetyRules)

var nested = regexp.MustCompile(`\([^()]*\(`)

// A finding's line is its own, and not cut from the message or the title: in
// the garments, in those worked out by hand and in those of the rules.
func TestOwnLines(t *testing.T) {
	seen, told := map[*Rule]bool{}, map[string]bool{}
	for _, dir := range []string{"garments", "worked", filepath.Join("rules", "*")} {
		files, err := filepath.Glob(filepath.Join("..", "testdata", dir, "*.toml"))
		if err != nil || len(files) == 0 {
			t.Fatal(dir, err)
		}
		for _, name := range files {
			g, err := catalog.Load(name, catalog.Options{})
			if err != nil {
				continue // another sort of file
			}
			p := Plan(g)
			for i := range p.Findings {
				f := &p.Findings[i]
				r := Find(f.Rule)
				if !slices.Contains(worded, r) {
					continue
				}
				seen[r] = true
				if strings.Contains(f.Message(), " less than 1/") {
					continue // two that read alike say by how much they differ, at length
				}
				if nested.MatchString(f.Message()) {
					t.Errorf("%s: %s has brackets in brackets: %q", filepath.Base(name), f.Rule, f.Message())
				}
				own := *f
				own.format, own.args = "", nil // what a line is cut from
				line, _ := r.Say(f, g.Units)
				if got, _ := r.Say(&own, g.Units); (got != line || f.short == "") && !told[line] {
					told[line] = true
					t.Errorf("%s: %s has no line of its own: %q of %q", filepath.Base(name), f.Rule, line, f.Message())
				}
			}
		}
	}
	for _, r := range worded {
		if !seen[r] {
			t.Errorf("%s says nothing in all of them", r.Name)
		}
	}
}

// What a person can change about a child's garment comes without a laboratory:
// that stands only where force, lead or nickel decides, and says when to ask.
// What forbids or warns says what to do.
func TestLaboratoryOnlyWhereItDecides(t *testing.T) {
	tests := map[string]bool{"safety-pull": true, "safety-lead": true, "safety-nickel": true, "safety-costume": true} // EN 71 pulls at dress-up clothes
	asked := map[string]bool{}
	files, err := filepath.Glob(filepath.Join("..", "testdata", "rules", "safety-*", "*.toml"))
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	for _, name := range files {
		g, err := catalog.Load(name, catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		p := Plan(g)
		for i := range p.Findings {
			f := &p.Findings[i]
			if !strings.HasPrefix(f.Rule, "safety-") {
				continue
			}
			line, message := Find(f.Rule).Say(f, g.Units)
			if strings.Contains(line, "laborator") && f.Rule != "safety-pull" {
				t.Errorf("%s: a line sends to a laboratory: %q", f.Rule, line)
			}
			if strings.Contains(message, "accredited laboratory") {
				asked[f.Rule] = true
				if !tests[f.Rule] || !strings.Contains(message, "before you sell it or give it away, ask an accredited laboratory") {
					t.Errorf("%s: %q", f.Rule, message)
				}
			}
			if f.Rule == "safety-cord-top" && f.Severity == Conflict && (!strings.Contains(line, "close with elastic or snaps") || !strings.Contains(message, "take it out and close with elastic or snaps")) {
				t.Errorf("%s: %q, %q", f.Rule, line, message)
			}
		}
	}
	for r := range tests {
		if !asked[r] {
			t.Errorf("%s sends to no laboratory", r)
		}
	}
}

// Size 10 is within 16 CFR 1120 (2T to 12), which forbids the cord; a child of
// one year is below it, where the cord is no safer.
func TestCordLines(t *testing.T) {
	for age, want := range map[string]string{
		"10": "hood cord forbidden: take it out, close with elastic or snaps",
		"1":  "take the hood cord out, close with elastic or snaps",
	} {
		text := "garment = \"Slip jacket (invented)\"\nunits = \"in\"\nwearer = \"child\"\nmarket = \"us\"\nage = " + age + "\n[cloth.shell]\nuse = \"fleece\"\n[[closure]]\nname = \"front\"\nuse = \"ring-spring-15\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = \"12 in\"\ncount = 3\n[[cord]]\nname = \"hood\"\nat = \"hood\"\n"
		p, n := planned(t, text), 0
		for i := range p.Findings {
			f := &p.Findings[i]
			if f.Rule != "safety-cord-top" {
				continue
			}
			n++
			if line, _ := Find(f.Rule).Say(f, p.Garment.Units); line != want {
				t.Errorf("at %s years: %q, wanted %q", age, line, want)
			}
		}
		if n != 1 {
			t.Errorf("at %s years: %d findings", age, n)
		}
	}
}

// The second unit of a measure is what the pattern says, in any text.
func TestOneUnit(t *testing.T) {
	second := regexp.MustCompile(` \(\d[^()]* (?:mm|in|cm|m|yd|°C|°F|g/m²|oz/yd²|lbf|N)\)`)
	parts := []string{" (", ")", "(", " ", "1", "25", "a", " mm", " in", "mm", " m", " yd", " °C", " g/m²", " lbf", " N", " or ", "\n", " ± ", "/", "²"}
	rapid.Check(t, func(t *rapid.T) {
		says := strings.Join(rapid.SliceOfN(rapid.SampledFrom(parts), 0, 16).Draw(t, "says"), "")
		if got, want := OneUnit(says), second.ReplaceAllString(says, ""); got != want {
			t.Errorf("%q becomes %q, not %q", says, got, want)
		}
	})
	for says, want := range map[string]string{
		"1 in (25.4 mm), at least 3/4 in (19 mm)": "1 in, at least 3/4 in",
		"the stack (3 layers) is 4 mm (5/32 in)":  "the stack (3 layers) is 4 mm",
		"110 °C (230 °F) (one dot)":               "110 °C (one dot)",
	} {
		if got := OneUnit(says); got != want {
			t.Errorf("%q becomes %q, not %q", says, got, want)
		}
	}
}
