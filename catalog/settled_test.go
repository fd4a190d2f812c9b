package catalog

import (
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

const settledCoat = `# A coat of our own (invented).
garment = "Coat (invented)"
units = "in"   # as drafted
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "horn-40"   # the real one
over = ["shell", "shell"]
[closure.run]
length = 24
count = 5
# the end
`

// A figure is read with its unit, and written so that it is read back.
func TestAmounts(t *testing.T) {
	for s, want := range map[string]Amount{
		"5.2 mm":         {5.2, "mm", measure.MM, Given},
		"1 1/8 in":       {28.575, "mm", measure.In, Given},
		"-3 mm":          {-3, "mm", measure.MM, Given},
		"90/14":          {90, "NM", 0, Given},
		"NM 100":         {100, "NM", 0, Given},
		"Tex 40":         {40, "Tex", 0, Given},
		"620 g/m2":       {620, "g/m2", 0, Given},
		"150 C":          {150, "C", 0, Given},
		"3 layers":       {3, "layers", 0, Given},
		"0.45":           {0.45, "", 0, Given},
		"8 %":            {8, "%", 0, Given},
		"2 of the blade": {2, "of the blade", 0, Given},
	} {
		got, ok := ParseAmount(s)
		if !ok || got != want {
			t.Errorf("%s: %+v", s, got)
			continue
		}
		if back, ok := ParseAmount(got.String()); !ok || back != got {
			t.Errorf("%s is written %s, and read %+v", s, got, back)
		}
	}
	for _, s := range []string{"", "thick", "nan", "inf mm", "5 mm 6", "1e400"} {
		if got, ok := ParseAmount(s); ok && got.Unit != "mm 6" {
			t.Errorf("%q: %+v", s, got)
		}
	}
}

// One printed step: 1/32 in below 1/2 in, else 1/16; 0.1 mm below 10, else 0.5.
func TestAmountSteps(t *testing.T) {
	for s, want := range map[string]float64{
		"1/4 in": 25.4 / 32, "1 in": 25.4 / 16, "5.2 mm": 0.1, "12 mm": 0.5, "90/14": 10, "3 layers": 1, "0.45 of the blade": 0.01,
	} {
		a, _ := ParseAmount(s)
		if d := a.Step() - want; d > 1e-6 || d < -1e-6 {
			t.Errorf("%s: a step of %v", s, a.Step())
		}
	}
}

func TestSettledMistakes(t *testing.T) {
	for entry, want := range map[string]string{
		"rule = \"x\"\nbecause = \"y\"":                                                    "does not say what it holds at",
		"rule = \"x\"\nbecause = \"y\"\nhave = \"5 mm\"":                                   "have and need together",
		"rule = \"x\"\nbecause = \"y\"\nhave = \"thick\"\nneed = \"4 mm\"":                 "is not a figure",
		"rule = \"x\"\nhave = 5\nneed = 4":                                                 "because is missing",
		"rule = \"x\"\nbecause = \"y\"\nclosure = \"frnt\"\nhave = 5\nneed = 4":            `no closure "frnt"`,
		"rule = \"x\"\nbecause = \"y\"\nsize = \"M\"\nhave = 5\nneed = 4":                  `no size "M"`,
		"rule = \"x\"\nbecause = \"y\"\nwhile = [\"closure.front.use\"]":                   "is not KEY=VALUE",
		"rule = \"x\"\nbecause = \"y\"\nseverity = \"conflict\"\nhave = 5\nneed = 4":       "conflict",
		"rule = \"x\"\nbecause = \"y\"\nwhen = \"today\"\nhave = 5\nneed = 4":              `unknown key "when"`,
		"rule = \"x\"\nbecause = \"y\"\nhave = 5\nneed = 4\nwhile = [\"closure.f.use=a\"]": "",
	} {
		_, err := Read("coat.toml", []byte(settledCoat+"[[settled]]\n"+entry+"\n"), Options{})
		if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: %v", entry, err)
		}
	}
}

// While names keys with what the file says of them; an empty one is a key that
// the file has not.
func TestChanged(t *testing.T) {
	g, err := Read("coat.toml", []byte(settledCoat), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for while, changed := range map[string]bool{
		"closure.front.use=horn-40": false, "closure.front.use=horn-36": true, "closure.front.run.length=24": false,
		"closure.front.needle=": false, "closure.front.use=": true, "closure.back.use=horn-40": true,
		`closure.front.over=["shell", "shell"]`: false, `closure.front.over=["shell"]`: true,
	} {
		if _, _, ok := g.Changed([]string{while}); ok != changed {
			t.Errorf("%s: changed %v", while, ok)
		}
	}
	n, err := g.Alter(Set("closure.front.use", "horn-36"))
	if err != nil {
		t.Fatal(err)
	}
	if was, now, ok := n.Changed([]string{"closure.front.use=horn-40"}); !ok || was.String() != "closure.front.use=horn-40" || now.String() != "closure.front.use=horn-36" {
		t.Errorf("%v, %v, %v", was, now, ok)
	}
	for _, w := range g.Single("closure[0]") {
		if _, now, ok := g.Changed([]string{w.String()}); ok {
			t.Errorf("%s is said to be %s", w, now)
		}
	}
}

// An entry is written below the others, the rest of the file as it was; one
// about the same is written over.
func TestSettleWrites(t *testing.T) {
	read := func(text string) *Garment {
		t.Helper()
		g, err := Read("coat.toml", []byte(text), Options{})
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		return g
	}
	one := Settled{
		Rule: "stack-bulky", Closure: "front", Because: `sewn "slowly"`, Severity: "caution",
		Have: Amount{5.2, "mm", measure.MM, Given}, Need: Amount{4, "mm", measure.MM, Given},
	}
	two := Settled{Rule: "hole-frays", Because: "held", While: []string{"closure.front.use=horn-40"}}
	for _, start := range []string{settledCoat, strings.TrimSuffix(settledCoat, "\n"), strings.ReplaceAll(settledCoat, "\n", "\r\n"), settledCoat + "\n\n"} {
		first, lines, err := read(start).Settle(one)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(string(first), strings.TrimRight(start, "\r\n")) || len(lines) < 6 {
			t.Errorf("%q\nis not kept in\n%s", start, first)
		}
		both, _, err := read(string(first)).Settle(two)
		if err != nil {
			t.Fatal(err)
		}
		better := one
		better.Have.V, better.Because = 5.4, "sewn again"
		last, _, err := read(string(both)).Settle(better)
		if err != nil {
			t.Fatal(err)
		}
		g := read(string(last))
		if len(g.Settled) != 2 || g.Settled[0].Have.V != 5.4 || g.Settled[0].Because != "sewn again" || g.Settled[1].While[0] != "closure.front.use=horn-40" {
			t.Errorf("%+v in\n%s", g.Settled, last)
		}
		if !strings.Contains(string(last), "# the real one") || !strings.Contains(string(last), "# the end") {
			t.Errorf("a comment is gone:\n%s", last)
		}
	}
}

// An item goes below the last of its kind, wherever that stands.
func TestAppend(t *testing.T) {
	for text, want := range map[string]string{
		"":                               "\n[[a]]\nx = 1\n",
		"[[a]]\nx = 3\n":                 "[[a]]\nx = 3\n\n[[a]]\nx = 1\n",
		"[[a]]\nx = 3 # c\n[b]\ny = 2\n": "[[a]]\nx = 3 # c\n\n[[a]]\nx = 1\n[b]\ny = 2\n",
	} {
		doc, err := source.Parse("f", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		got, _, err := doc.Append("a", source.Assignment{Path: "x", Value: int64(1)}, source.Assignment{Path: "y", Out: true})
		if err != nil || string(got) != want {
			t.Errorf("%q: %q, %v", text, got, err)
		}
	}
	doc, _ := source.Parse("f", []byte("a = [{ x = 3 }]\n"))
	if got, _, err := doc.Append("a", source.Assignment{Path: "x", Value: int64(1)}); err == nil {
		t.Errorf("an array written in one line was given %q", got)
	}
}
