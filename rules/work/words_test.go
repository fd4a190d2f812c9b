package work

import (
	"slices"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/plan"
)

// Amounts as a shop has them: 36 in a yard, 10 mm a centimetre, 914.4 mm a yard.
func TestAmountsInWords(t *testing.T) {
	const in, mm = 25400 * measure.Micrometre, measure.Millimetre
	for got, want := range map[string]string{
		Sold(36*in, measure.In): "1 yd", Sold(9*in, measure.In): "1/4 yd", Sold(54*in, measure.In): "1 1/2 yd",
		Sold(800*mm, measure.MM): "80 cm", Sold(1250*mm, measure.MM): "125 cm",
		Metres(7500*mm, measure.MM): "7.5 m (8.2 yd)", Metres(914400*measure.Micrometre, measure.MM): "0.9 m (1.0 yd)",
		piecesOf(1, "patch"): "1 patch", piecesOf(2, "patch"): "2 patches", piecesOf(2, "strip"): "2 strips",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if sixteenth*16 != in || layersInStack != 8 {
		t.Errorf("a sixteenth is %v, folded in eight are %d", sixteenth, layersInStack)
	}
}

// Sizes in a row of three or more are the first to the last; what all have is
// said once.
func TestSizesInWords(t *testing.T) {
	w := &planner{g: &catalog.Garment{Sizes: []string{"XS", "S", "M", "L", "XL"}}, sizes: []int{0, 1, 2, 3, 4}}
	for _, c := range []struct {
		at   []int
		want string
	}{
		{[]int{0}, "XS"}, {[]int{0, 1}, "XS and S"}, {[]int{0, 1, 2}, "XS to M"}, {[]int{0, 1, 3, 4}, "XS, S, L and XL"}, {[]int{0, 2, 3, 4}, "XS and M to XL"}, {[]int{0, 1, 2, 4}, "XS to M and XL"}, {[]int{1, 3}, "S and L"},
	} {
		if got := w.sizeNames(c.at); got != c.want {
			t.Errorf("%v: %q, want %q", c.at, got, c.want)
		}
	}
	same := func(int) string { return "x" }
	by := func(s int) string { return map[bool]string{true: "x", false: "y"}[s < 3] }
	if got := w.bySize(same); got != "x" {
		t.Error(got)
	}
	if got := w.bySize(by); got != "XS to M: x; L and XL: y" {
		t.Error(got)
	}
	if text, lines := w.sized(same); text != "x" || lines != nil {
		t.Error(text, lines)
	}
	if text, lines := w.sized(by); text != "" || !slices.Equal(lines, []string{"XS to M: x", "L and XL: y"}) {
		t.Error(text, lines)
	}
}

// What passes is worked with its own figures, geometry: a dome as high as half
// its width is a half ball.
func TestPassingInWords(t *testing.T) {
	const mm = measure.Millimetre
	for _, c := range []struct {
		s    plan.Shape
		want string
	}{
		{plan.Shape{Kind: "flat", Diameter: 24 * mm, Thickness: 4 * mm}, "diameter 24 mm + thickness 4 mm = 28 mm"},
		{plan.Shape{Kind: "toggle", Width: 16 * mm, ShortEnd: 20 * mm, Thickness: 10 * mm}, "half the width 8 mm + shorter end 20 mm + thickness 10 mm = 38 mm"},
		{plan.Shape{Kind: "odd", Girth: 70 * mm}, "girth 70 mm ÷ 2 = 35 mm"},
		{plan.Shape{Kind: "domed", Diameter: 20 * mm, Thickness: 10 * mm}, "diameter 20 mm, a half ball: half the way round = 25.7 mm"},
		{plan.Shape{Kind: "domed", Diameter: 20 * mm, Thickness: 12 * mm}, "diameter 20 mm, a half ball and 2 mm below it: half the way round = 27.7 mm"},
		{plan.Shape{Kind: "domed", Diameter: 20 * mm, Thickness: 5 * mm}, "(diameter 20 mm + arc over the dome 23.2 mm) ÷ 2 = 21.6 mm"},
		{plan.Shape{Kind: "ball", Diameter: 20 * mm}, "diameter 20 mm × 1.571, half the way round a ball = 31.4 mm"},
	} {
		if got := passingWords(c.s, measure.MM); got != c.want {
			t.Errorf("%+v: %q, want %q", c.s, got, c.want)
		}
	}
}
