package work

import (
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// Where several parts lie is said once where they agree, with one side for all
// where they lie on one, and each by itself where they do not.
func TestPlacesInWords(t *testing.T) {
	o := &opening{u: measure.MM, short: true, line: "the line"}
	parts := func(outs ...measure.Length) (qs []*plan.Part) {
		for _, l := range outs {
			q := &plan.Part{}
			q.Centre.Out = l * mm
			qs = append(qs, q)
		}
		return qs
	}
	of := func(q *plan.Part) measure.Length { return q.Centre.Out }
	for _, c := range []struct {
		outs []measure.Length
		ends string
	}{
		{[]measure.Length{5, 5}, "5 mm beyond the line"}, {[]measure.Length{-5, -5}, "5 mm inside the line"}, {[]measure.Length{0, 0}, "the line"},
		{[]measure.Length{5, 3}, "5 mm, 3 mm beyond the line"}, {[]measure.Length{-5, -3}, "5 mm, 3 mm inside the line"},
		{[]measure.Length{5, -3}, "5 mm beyond the line, 3 mm inside the line"}, {[]measure.Length{-3, 5}, "3 mm inside the line, 5 mm beyond the line"},
		{[]measure.Length{0, 5}, "the line, 5 mm beyond the line"}, {[]measure.Length{-5, 0}, "5 mm inside the line, the line"}, {[]measure.Length{5, 0}, "5 mm beyond the line, the line"},
	} {
		if got := o.ends(parts(c.outs...), of, "the line"); got != c.ends {
			t.Errorf("%v: %q, want %q", c.outs, got, c.ends)
		}
	}
	for l, want := range map[measure.Length]string{0: "on the line", 4: "4 mm beyond the line", -4: "4 mm inside the line"} {
		if got := o.out(l * mm); got != want {
			t.Errorf("%d: %q, want %q", l, got, want)
		}
	}
	for _, c := range []struct {
		outs []measure.Length
		want string
	}{{[]measure.Length{5, 3}, "5 mm, 3 mm beyond the line"}, {[]measure.Length{-5, -3}, "5 mm, 3 mm inside the line"}, {[]measure.Length{4, 4}, "4 mm beyond the line"}} {
		if got := o.across(parts(c.outs...)); got != c.want {
			t.Errorf("%v: %q, want %q", c.outs, got, c.want)
		}
	}
}

// The items of one supplier are one list, those without one the last.
func TestItemsBySupplier(t *testing.T) {
	p := &Purchase{}
	for _, s := range []string{"A", "A", "B", "", ""} {
		p.Items = append(p.Items, &Item{Trade: catalog.Entry{Supplier: s}})
	}
	var got []string
	for _, list := range p.Suppliers() {
		s := ""
		for _, it := range list {
			s += "[" + it.Trade.Supplier + "]"
		}
		got = append(got, s)
	}
	if strings.Join(got, " ") != "[A][A] [B] [][]" {
		t.Errorf("%q", got)
	}
	if got := (&Purchase{}).Suppliers(); got != nil {
		t.Errorf("of nothing: %d lists", len(got))
	}
}

// One hole is told as one, several as each.
func TestOneHoleIsNotEach(t *testing.T) {
	for count, each := range map[string]bool{"1": false, "2": true} {
		text := strings.Replace(of4(horn+"[closure.stand]\nconstruction = \"faced\"\nfinished = \"1 1/4 in\"\nfacing = \"3 in\""), "count = 4", "count = "+count, 1)
		p := written(t, text)
		found := 0
		for _, l := range Pieces(p, 0, []int{0}) {
			for _, line := range l.Says {
				if strings.Contains(line, "stitched") && strings.Contains(line, "cut ") {
					found++
					if strings.Contains(line, "each cut") != each {
						t.Errorf("%s holes: %q", count, line)
					}
				}
			}
		}
		if found == 0 {
			t.Errorf("%s holes: none told", count)
		}
	}
}
