package search

import (
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules"
	"placketeer/rules/plan"
)

// One garment alone has the whole budget, two have half of it each, and of very
// many each has enough for some conflicts.
func TestSharesOfTheBudget(t *testing.T) {
	for of, want := range map[int]int{0: plansMost, 1: plansMost, 2: plansMost / 2, 10: plansMost / 10, plansMost / plansLeast: plansMost / (plansMost / plansLeast), 10000: plansLeast} {
		b := newBudget()
		if b.share(of); b.most != want || b.tries.Most != placesMost/max(of, 1) {
			t.Errorf("of %d: %d plans, %d places", of, b.most, b.tries.Most)
		}
	}
	b := &budget{most: 3, tries: plan.Tries{Most: 10}}
	for plans, out := range map[int]bool{2: false, 3: true} {
		if b.plans = plans; b.out() != out {
			t.Errorf("after %d of 3 plans out: %v", plans, !out)
		}
	}
	b.plans = 0
	for tried, out := range map[int]bool{9: false, 10: true, 11: true} {
		if b.tries.Tried = tried; b.out() != out {
			t.Errorf("after %d of 10 places out: %v", tried, !out)
		}
	}
}

// A range of sizes takes in both its ends; an end that is not given is none.
func TestSizesAskedFor(t *testing.T) {
	for _, c := range []struct {
		d, from, to measure.Length
		want        bool
	}{
		{20 * mm, 20 * mm, 30 * mm, true}, {20*mm - 1, 20 * mm, 30 * mm, false}, {30 * mm, 20 * mm, 30 * mm, true}, {30*mm + 1, 20 * mm, 30 * mm, false},
		{1 * mm, 0, 30 * mm, true}, {90 * mm, 20 * mm, 0, true}, {90 * mm, 0, 0, true},
	} {
		n := &catalog.Notion{Kind: catalog.Button, Shape: "flat"}
		n.Diameter = catalog.Measured{V: c.d, From: catalog.Given}
		ch := &chooser{o: ChoiceOptions{From: c.from, To: c.to}}
		if got := ch.asked(n); got != c.want {
			t.Errorf("%v of %v to %v: %v", c.d, c.from, c.to, got)
		}
	}
}

// A zip is as far off as its number, 3 more in another kind, and 100 where none of
// those sold is as long as the opening, ours; where no lengths are listed any is.
func TestHowFarAZipIs(t *testing.T) {
	zip := func(number float64, kind string, sold ...measure.Length) *catalog.Notion {
		n := &catalog.Notion{Kind: catalog.Zip, ZipKind: kind, Lengths: sold}
		n.Number = catalog.Opt[float64]{V: number, From: catalog.Given}
		return n
	}
	c := &catalog.Closure{Notion: *zip(5, "coil")}
	z := &plan.Zip{Sizes: []plan.ZipSize{{Need: 500 * mm}}}
	for _, q := range []struct {
		n    *catalog.Notion
		want float64
	}{
		{zip(5, "coil"), 0}, {zip(5, "coil", 500*mm), 0}, {zip(5, "coil", 499*mm), 100}, {zip(8, "coil", 600*mm), 3}, {zip(3, "moulded", 600*mm), 5}, {zip(3, "moulded", 400*mm), 105},
	} {
		if got := zipOff(q.n, c, z); got != q.want {
			t.Errorf("number %v %s, %v: %v off, want %v", q.n.Number.V, q.n.ZipKind, q.n.Lengths, got, q.want)
		}
	}
}

// An interfacing of a fifth to three fifths of the shell's weight is fit, of a tenth
// to all of it less so, others least; ours.
func TestHowFitAnInterfacingIs(t *testing.T) {
	cl := &catalog.Cloth{Kind: "suiting"}
	cl.Weight = catalog.Opt[measure.AreaWeight]{V: 200, From: catalog.Given}
	k := &plan.Closure{Closure: &catalog.Closure{}, Over: plan.Stack{Layers: []plan.Layer{{Layer: catalog.Layer{Cloth: cl}}}}}
	for weight, want := range map[measure.AreaWeight]int{19: 2, 20: 1, 39: 1, 40: 0, 120: 0, 121: 1, 200: 1, 201: 2} {
		n := &catalog.Interfacing{}
		n.Weight = catalog.Opt[measure.AreaWeight]{V: weight, From: catalog.Given}
		if got := fitInterfacing(n, k); got != want {
			t.Errorf("%v g/m² of 200: %d, want %d", weight, got, want)
		}
	}
	if got := fitInterfacing(&catalog.Interfacing{}, k); got != 1 {
		t.Errorf("of no known weight: %d", got)
	}
}

// The families of names: what stands before the size, a size of two parts whole.
func TestFamiliesOfNames(t *testing.T) {
	for name, want := range map[string]string{"horn-40": "horn", "hook-eye-8-5mm": "hook-eye", "hook-eye-0-5mm": "hook-eye", "hook-eye-9-5mm": "hook-eye", "hook-eye-x8-5mm": "hook-eye-x8", "horn": "horn", "ring-spring": "ring-spring", "a-9": "a", "-9": "", "horn-4-thin": "horn-4-thin", "9-9": "", "horn-x9": "horn"} {
		if name == "9-9" {
			want = "9"
		}
		if got := family(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// What passes by less than a hundredth of a millimetre is at the limit, ours.
func TestPassesByAHair(t *testing.T) {
	for slack, want := range map[measure.Length]string{mm/100 - 1: "it is at the very limit", mm / 100: "passes by", 0: "it is at the very limit"} {
		if got := byHair(slack, measure.MM); !strings.Contains(got, want) {
			t.Errorf("%d nm: %q, want %q", slack, got, want)
		}
		in := &input{says: "the thickness of shell"}
		line := justLine(rules.Find("hole-short"), slack, in, measure.MM)
		if strings.Contains(line, "at the limit") != (slack < mm/100) {
			t.Errorf("%d nm: %q", slack, line)
		}
	}
}

// Of two flips the graver is told, then what takes less of its ±, then by place
// and size.
func TestWhichFlipIsTold(t *testing.T) {
	in := func(path string, tol measure.Length) *input {
		return &input{path: path, now: measure.Toleranced{V: 10 * mm, Tol: tol}}
	}
	at := func(sev rules.Severity, slack measure.Length, in *input, size string) flip {
		return flip{severity: sev, slack: slack, in: in, spot: spot{size: size}}
	}
	a, b := in("a", mm), in("b", mm)
	for i, c := range []struct{ first, then flip }{
		{at(rules.Conflict, 9, a, ""), at(rules.Caution, 1, a, "")},
		{at(rules.Caution, 1, a, ""), at(rules.Caution, 2, a, "")},
		{at(rules.Caution, 2, in("a", 4*mm), ""), at(rules.Caution, 1, b, "")},
		{at(rules.Caution, 1, a, "Z"), at(rules.Caution, 1, b, "A")},
		{at(rules.Caution, 1, a, "A"), at(rules.Caution, 1, a, "B")},
	} {
		if !tighter(c.first, c.then) || tighter(c.then, c.first) {
			t.Errorf("%d: not before the other, or both", i)
		}
	}
	if x := at(rules.Caution, 1, a, "A"); tighter(x, x) {
		t.Error("a flip before itself")
	}
}
