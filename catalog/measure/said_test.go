package measure

import (
	"slices"
	"testing"
)

// TestAsSaid: lengths, threads, needles and weights as people say them, each
// with what it is when written out. Arithmetic, and a fabric shop's thread
// table for V69.
func TestAsSaid(t *testing.T) {
	for said, plain := range map[string]string{
		"1 and 1/8 in": "1 1/8 in", "half inch": "1/2 in", "half an inch": "1/2 in", "a quarter of an inch": "1/4 in",
		"three quarters of an inch": "3/4 in", "40'''": "40L", "40‴": "40L", "7/8": "7/8 in", "1 1/8": "1 1/8 in", "1⅛": "1 1/8 in",
	} {
		got, err := ParseLength(said, NoUnit)
		want, wrong := ParseLength(plain, NoUnit)
		if err != nil || wrong != nil || got != want {
			t.Errorf("%s: %v, %v, not %v (%v)", said, got, err, want, wrong)
		}
	}
	if l, _ := ParseLength("7/8", MM); l != 875*Micrometre {
		t.Errorf("7/8 in a file in millimetres is %v", l)
	}
	for said, tex := range map[string]float64{"210d": 210.0 / 9, "V69": 70, "360 d": 40} {
		if got, err := ParseLinearDensity(said); err != nil || got.Tex() != tex {
			t.Errorf("%s: %v, %v", said, got, err)
		}
	}
	if _, err := ParseLinearDensity("V92"); err == nil {
		t.Error("V92 was taken: no published table gives its Tex")
	}
	for said, nm := range map[string]NeedleSize{"size 14": 90, "jeans 100/16": 100, "needle size 16": 100, "jeans 90": 90} {
		if got, err := ParseNeedleSize(said); err != nil || got != nm {
			t.Errorf("%s: %v, %v", said, got, err)
		}
	}
	for said, plain := range map[string]string{
		"13oz denim": "13 oz/yd2", "20 oz per linear yard at 60 in": "20 oz/yd run at 60 in",
	} {
		got, err := ParseAreaWeight(said)
		want, wrong := ParseAreaWeight(plain)
		if err != nil || wrong != nil || got != want {
			t.Errorf("%s: %v, %v, not %v (%v)", said, got, err, want, wrong)
		}
	}
	for said, want := range map[string]Length{"12 spi": 2_116_667, "8 stitches per inch": 3_175_000, "10 stitches an inch": 2_540_000, "2.5 mm": 2_500_000} {
		if got, err := ParseStitch(said); err != nil || got != want {
			t.Errorf("%s: %v, %v", said, got, err)
		}
	}
	for bare, want := range map[string][]string{"18": {"18mm", "18L", "3/4in"}, "1": {"1in", "1mm", "1cm"}, "7/8": nil, "18mm": nil} {
		if got := Meanings(bare); !slices.Equal(got, want) {
			t.Errorf("%s may be %q, not %q", bare, got, want)
		}
	}
}
