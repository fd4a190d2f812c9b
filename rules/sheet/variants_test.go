package sheet

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/search"
)

const threeCoats = `garment = "Watch coat (invented)"
units   = "mm"
[sizes]
names = ["S", "M"]
[cloth.shell]
use = "melton"
[interfacing.front]
use = "weft-fusible-medium"
[[closure]]
name = "front"
use  = "horn-40"
over = ["shell", "front", "shell"]
[closure.stand]
construction = "faced"
finished     = 22
[closure.run]
length = { S = 580, M = 600 }
count  = 5
[variant.boiled]
"cloth.shell.use" = "boiled-wool"
make = { M = 3 }
[variant.narrow]
"closure.front.stand.finished" = 8
[variant.narrow-boiled]
"cloth.shell.use" = "boiled-wool"
"closure.front.stand.finished" = 8
`

// withVariants plans a file and its variants.
func withVariants(t *testing.T, text string) *rules.Planned {
	t.Helper()
	g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := search.Checked(g, search.CheckOptions{Fixes: true})
	for _, name := range g.Variants() {
		v, err := g.AsVariant(name)
		if err != nil {
			t.Fatal(err)
		}
		p.Variants = append(p.Variants, search.Checked(v, search.CheckOptions{Fixes: true}))
	}
	return p
}

// Everything that is found of any variant is told, once, with the variants
// that have it and no others; and each change it offers has its lines there.
func TestVariantsOnce(t *testing.T) {
	p := withVariants(t, threeCoats)
	s := prepare(p, Options{})
	var all []string
	for _, q := range p.All() {
		all = append(all, q.Garment.Variant)
	}
	told := map[string]int{}
	for i := range s.found {
		e := &s.found[i]
		in := e.In
		if len(in) == 0 {
			in = all
		}
		for _, v := range in {
			for _, f := range e.Where {
				told[v+"|"+f.Rule+"|"+f.Closure+"|"+f.Size+"|"+f.Message()]++
			}
		}
		if e.Of.Garment.At(e.Path()) != e.Pos {
			t.Errorf("%s stands at %s, and is told at %s", e.Rule, e.Of.Garment.At(e.Path()), e.Pos)
		}
	}
	n := 0
	for _, q := range p.All() {
		for i := range q.Findings {
			f := &q.Findings[i]
			k := q.Garment.Variant + "|" + f.Rule + "|" + f.Closure + "|" + f.Size + "|" + f.Message()
			if told[k] != 1 {
				t.Errorf("%s is told %d times", k, told[k])
			}
			n++
		}
	}
	if n != len(told) || n < 20 {
		t.Errorf("%d findings, %d told", n, len(told))
	}
	i := slices.IndexFunc(s.found, func(e rules.Entry) bool { return e.Rule == "stand-narrow" && e.Severity == rules.Conflict })
	if i < 0 || !slices.Equal(s.found[i].In, []string{"narrow", "narrow-boiled"}) || s.found[i].Pos.Line != 23 {
		t.Fatalf("the narrow stand: %d %+v", i, s.found[max(i, 0)].In)
	}
	fix := &s.found[i].Fixes[0]
	if len(fix.Lines) != 2 || fix.Lines[0].Line != 23 || fix.Lines[1].Line != 26 || !strings.HasPrefix(fix.Lines[1].Text, `"closure.front.stand.finished" = `) {
		t.Errorf("its change is written as %+v", fix.Lines)
	}
	if s.Verdict != "conflict" || s.own() != "caution" || s.variants[0].own() != "caution" || s.variants[1].own() != "conflict" {
		t.Errorf("verdicts: %s, %s, %s, %s", s.Verdict, s.own(), s.variants[0].own(), s.variants[1].own())
	}
	out := checked(t, []*rules.Planned{p}, Options{})
	if strings.Count(out, "[stand-narrow]") != 1 || !strings.Contains(out, "  In narrow and narrow-boiled:\n") || !strings.Contains(out, "narrow-boiled    conflict") {
		t.Errorf("the screen:\n%s", out)
	}
}

// A page says of a variant what differs, and nothing that does not; in JSON
// the variants hold all that they come to.
func TestVariantsInEveryFormat(t *testing.T) {
	p := withVariants(t, threeCoats)
	for _, format := range Formats {
		out := specified(t, []*rules.Planned{p}, Options{Format: format})
		for _, v := range []string{"boiled", "narrow", "narrow-boiled"} {
			if !strings.Contains(out, v) {
				t.Errorf("%s does not name %s", format, v)
			}
		}
		switch format {
		case "text":
			page := out[strings.Index(out, "Watch coat (invented), narrow\n"):]
			page = page[:strings.Index(page, "Watch coat (invented), narrow-boiled\n")]
			if !strings.Contains(strings.Join(strings.Fields(page), " "), "as in the file itself: places of the fasteners") || strings.Contains(page, "Working safely") || strings.Contains(page, "Places of the fasteners\n") || !strings.Contains(page, "Closures\n") {
				t.Errorf("the page of a variant:\n%s", page)
			}
		case "json":
			var sheets []Garment
			if err := json.Unmarshal([]byte(out), &sheets); err != nil {
				t.Fatal(err)
			}
			v := sheets[0].Variants
			if len(sheets) != 1 || len(v) != 3 || v[0].Make[0] != (MadeOut{"M", 3}) || *v[1].Closures[0].Stand.Have != MM(8_000_000) || len(v[2].Sets) != 2 {
				t.Errorf("JSON: %+v", v)
			}
		}
	}
	// Spared where one variant is asked for.
	v := p.Variants[1]
	if out := specified(t, []*rules.Planned{v}, Options{}); !strings.Contains(out, "Watch coat (invented), narrow\n") || !strings.Contains(out, "placketeer") && strings.Contains(out, "In narrow") {
		t.Errorf("one variant:\n%s", out)
	}
}

// The entry of a sample that one variant needs is not called unused.
func TestSettledInVariant(t *testing.T) {
	entry := "[[settled]]\nrule = \"stand-narrow\"\nclosure = \"front\"\nbecause = \"sample sewn\"\nhave = \"16 mm\"\nneed = \"19 mm\"\n"
	coats := strings.ReplaceAll(threeCoats, "finished\" = 8", "finished\" = 16") + entry
	p := withVariants(t, coats)
	s := prepare(p, Options{})
	for i := range s.found {
		if e := &s.found[i]; e.Rule == "settled-unused" {
			t.Errorf("%s (in %v)", e.Message(), e.In)
		}
	}
	if len(s.settled) == 0 || !slices.Equal(s.settled[0].In, []string{"narrow", "narrow-boiled"}) {
		t.Errorf("settled: %+v", s.settled)
	}
	p = withVariants(t, threeCoats+strings.Replace(entry, "stand-narrow", "hole-frays", 1))
	s = prepare(p, Options{})
	if i := slices.IndexFunc(s.found, func(e rules.Entry) bool { return e.Rule == "settled-unused" }); i < 0 || len(s.found[i].In) > 0 {
		t.Error("an entry that none needs is not told, or not once")
	}
}

// What settles all conflicts of a variant together is told with its name.
func TestJointOfVariants(t *testing.T) {
	coats := strings.Replace(threeCoats, "\"closure.front.stand.finished\" = 8\n[variant.narrow-boiled]", "\"closure.front.stand.finished\" = 8\n\"closure.front.hole_length\" = 12\n[variant.narrow-boiled]", 1)
	p := withVariants(t, coats)
	if p.Joint != nil || p.Variants[1].Joint == nil || p.Variants[2].Joint != nil {
		t.Fatal("the narrow coat alone has several conflicts")
	}
	out := strings.Join(strings.Fields(checked(t, []*rules.Planned{p}, Options{})), " ")
	if !strings.Contains(out, "In narrow, all together: ") || strings.Count(out, "all together") != 1 {
		t.Errorf("%s", out)
	}
	for _, format := range []string{"markdown", "html"} {
		if out := specified(t, []*rules.Planned{p}, Options{Format: format}); strings.Count(out, "In narrow, all together: ") != 1 {
			t.Errorf("%s:\n%s", format, out)
		}
	}
}

// The page of a variant tells only the pieces that are not as in the file
// itself: the six coats of the collection have the same fronts.
func TestVariantTellsOtherPiecesAlone(t *testing.T) {
	ps := winterRange(t)
	i := slices.IndexFunc(ps, func(p *rules.Planned) bool { return len(p.Variants) == 5 })
	out := specified(t, ps[i:i+1], Options{UTF8: true})
	if n := strings.Count(out, "Both fronts:"); n != 1 {
		t.Errorf("both fronts are told %d times", n)
	}
	if !strings.Contains(out, "The other pieces as in the file itself.") {
		t.Error("nothing says that the others are as in the file")
	}
}
