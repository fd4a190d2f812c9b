package sheet

import (
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/search"
	"placketeer/rules/work"

	"github.com/google/go-cmp/cmp"
)

const collection = "../../testdata/collection"

// winterRange plans the garments of the demo range, each with its variants.
func winterRange(t *testing.T) []*rules.Planned {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(collection, "*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	var out []*rules.Planned
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if !catalog.IsNamed(data) {
			continue
		}
		g, err := catalog.Load(f, catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		p := search.Checked(g, search.CheckOptions{})
		for _, name := range g.Variants() {
			v, err := g.AsVariant(name)
			if err != nil {
				t.Fatal(err)
			}
			p.Variants = append(p.Variants, search.Checked(v, search.CheckOptions{}))
		}
		out = append(out, p)
	}
	if len(out) != 5 {
		t.Fatalf("%d garments", len(out))
	}
	return out
}

// One file of six coats plans as six files that say everything by themselves,
// which were written out by hand.
func TestSixCoatsAreOneFile(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(collection, "watch-coat.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(data), "\n"); n >= 90 {
		t.Errorf("the one file has %d lines", n)
	}
	plain := func(p *rules.Planned) (string, []string) {
		s := prepare(p, Options{})
		for i := range s.Closures {
			s.Closures[i].Working = nil // how a length was written
		}
		out, err := json.MarshalIndent(struct {
			C []Closure
			B Buy
			K []string
		}{s.Closures, s.Buy, s.Cautions}, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		var found []string
		for _, f := range p.Findings {
			found = append(found, f.Severity.String()+" "+f.Rule+" "+f.Closure+" "+f.Size+": "+f.Message())
		}
		slices.Sort(found) // places in the file differ, and with them the order
		return string(out), found
	}
	g, err := catalog.Load(filepath.Join(collection, "watch-coat.toml"), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, name := range append([]string{""}, g.Variants()...) {
		v, err := g.AsVariant(name)
		if err != nil {
			t.Fatal(err)
		}
		file := name
		if file == "" {
			file = "melton-horn"
		}
		alone, err := catalog.Load("../../testdata/apart/watch-coat-"+file+".toml", catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		want, wantFound := plain(rules.Plan(alone))
		got, found := plain(rules.Plan(v))
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-by itself +variant):\n%s", file, diff)
		}
		if diff := cmp.Diff(wantFound, found); diff != "" {
			t.Errorf("%s: findings (-by itself +variant):\n%s", file, diff)
		}
		seen[got] = true
	}
	if len(seen) != 6 {
		t.Errorf("%d different coats", len(seen))
	}
}

// The order of the range, worked out by hand: arithmetic.
func TestOrderOfTheRange(t *testing.T) {
	var batches []work.Batch
	for _, p := range winterRange(t) {
		for _, v := range p.All() {
			if v.Garment.Make.Total() > 0 {
				batches = append(batches, work.Batch{Plan: v, Garments: v.Garment.Make.N})
			}
		}
	}
	p, err := work.NewPurchase(batches, batches[0].Plan.Garment.Units)
	if err != nil {
		t.Fatal(err)
	}
	var out OrderOut
	if err := json.Unmarshal([]byte(ordered(t, p, "json")), &out); err != nil {
		t.Fatal(err)
	}
	find := func(what, colour string) *ItemOut {
		for _, s := range out.Suppliers {
			for i := range s.Items {
				if it := &s.Items[i]; it.What == what && (colour == "" || deref(it.Colour) == colour) {
					return it
				}
			}
		}
		t.Fatalf("no %s %s in the order", what, colour)
		return nil
	}
	for _, w := range []struct {
		what, colour                string
		needed, spare, once, pieces int
		cost                        float64
	}{
		{"quay-corozo-36", "", 96, 16, 0, 120, 74.40},              // 8 + 6 + 2 coats of 6 and 1 spare, in tens, at 0.62
		{"quay-horn-36", "", 156, 26, 0, 186, 186},                 // 14 + 6 + 6 coats, in sixes, at 1
		{"quay-horn-30", "", 84, 0, 0, 84, 67.20},                  // two flaps of 42 coats, in sixes, at 0.80
		{"quay-tack-17-nail-8", "old brass", 132, 22, 1, 160, 512}, // 22 jackets of 6 and 1, and a test set, in tens, at 3.20
		{"quay-tack-17-nail-8", "olive", 48, 8, 1, 60, 192},        // 8 jackets likewise
		{"quay-toggle-60", "", 48, 12, 0, 60, 1080},                // 12 coats of 4 and 1, at 18
	} {
		it := find(w.what, w.colour)
		if it.Needed != w.needed || it.Spare != w.spare || it.Once != w.once || it.Pieces != w.pieces || it.Cost == nil || *it.Cost != w.cost {
			t.Errorf("%s %s: %+v, not %+v", w.what, w.colour, *it, w)
		}
	}
	sums := map[string]float64{}
	for _, s := range out.Suppliers {
		for _, it := range s.Items {
			if it.Cost != nil {
				sums[*it.Currency] += *it.Cost
			}
		}
	}
	if len(out.Cost) != 2 {
		t.Fatalf("costs %+v", out.Cost)
	}
	for _, c := range out.Cost {
		if d := sums[*c.Currency] - c.Amount; d > 0.005 || d < -0.005 {
			t.Errorf("%s: %v, the things cost %v", *c.Currency, c.Amount, sums[*c.Currency])
		}
	}
	// One corozo coat in melton by use: 7 buttons at 0.62 and 2 at 0.80 are
	// 5.94; thread and interfacing besides are a part of a spool and of a metre.
	for _, g := range out.Garments {
		if deref(g.Variant) == "melton-corozo" && (len(g.Each) != 1 || g.Each[0].Amount < 5.94 || g.Each[0].Amount > 7.50) {
			t.Errorf("one coat costs %+v", g.Each)
		}
	}
	if i := slices.IndexFunc(out.Unpriced, func(u UnpricedOut) bool { return u.What == "prong-snap-16-long" && u.Why == "no price" }); i < 0 {
		t.Errorf("what has no price is not listed: %+v", out.Unpriced)
	}
	for _, format := range Formats {
		text := ordered(t, p, format)
		if text != ordered(t, p, format) {
			t.Errorf("%s is not the same twice", format)
		}
		for _, w := range []string{"quay-corozo-36", "C-3604", "Quayside Buttons (invented)", "olive", "74.4", "prong-snap-16-long", "EUR", "SEK"} {
			if !strings.Contains(text, w) {
				t.Errorf("%s: no %q in\n%s", format, w, text)
			}
		}
	}
	for l := range strings.Lines(ordered(t, p, "text")) {
		if n := len([]rune(strings.TrimRight(l, "\n"))); n > 80 {
			t.Errorf("%d columns: %s", n, l)
		}
	}
}

func ordered(t *testing.T, p *work.Purchase, format string) string {
	t.Helper()
	var b strings.Builder
	if err := Order(&b, p, []LeftOut{{"other.toml", "it does not say how many are made"}}, Options{Format: format, UTF8: true}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Nothing that a file says can do harm in an order, and two currencies are
// never added.
func TestOrderIsHarmless(t *testing.T) {
	const own = `currency = "EUR"
[[button]]
name = "=cmd|x"
source = "invented"
diameter = "30L"
thickness = "4 mm"
holes = 4
supplier = "<script>alert(1)</script>"
article = "=1+1"
colour = "*red*|"
price = 0.10
`
	const other = `currency = "SEK"
[[button]]
name = "other"
source = "invented"
diameter = "30L"
thickness = "4 mm"
holes = 4
price = 1
`
	g, err := catalog.Read("coat.toml", []byte(`garment = "=Coat <b>"
units = "mm"
catalog = ["own.toml", "other.toml"]
make = 3
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "=cmd|x"
over = ["shell", "shell"]
[closure.run]
length = 600
count = 5
[[closure]]
name = "cuff"
where = "cuff"
use = "other"
over = ["shell", "shell"]
[closure.run]
length = 80
count = 1
`), catalog.Options{ReadFile: func(name string) ([]byte, error) {
		if strings.HasPrefix(name, "own") {
			return []byte(own), nil
		}
		return []byte(other), nil
	}})
	if err != nil {
		t.Fatal(err)
	}
	p, err := work.NewPurchase([]work.Batch{{Plan: rules.Plan(g), Garments: g.Make.N}}, g.Units)
	if err != nil {
		t.Fatal(err)
	}
	noFormula(t, ordered(t, p, "csv"))
	if out := ordered(t, p, "html"); strings.Contains(out, "<script>alert") || strings.Contains(out, "Coat <b>") {
		t.Error("a supplier is code on the page")
	}
	if out := ordered(t, p, "markdown"); strings.Contains(out, "| *red*| |") || strings.Contains(out, "<script>") {
		t.Errorf("Markdown:\n%s", out)
	}
	if out := ordered(t, p, "text"); !strings.Contains(out, "EUR 1.50 and SEK 3.00") || strings.Contains(out, "4.50") {
		t.Errorf("two currencies:\n%s", out)
	}
	// The spec adds them no more than the order does.
	var b strings.Builder
	if err := Spec(io.Writer(&b), []*rules.Planned{rules.Plan(g)}, Options{}); err != nil || !strings.Contains(strings.Join(strings.Fields(b.String()), " "), "their prices are in EUR and SEK, which are not added") {
		t.Errorf("%v\n%s", err, b.String())
	}
}
