package measure

import (
	"math"
	"testing"
)

// 16 CFR 1500.51: 2 in-lbf, which is 0.226 N·m; EN 71-1, as a laboratory
// sums it up: 0.34 N·m, which is 3.01 in-lbf.
func TestPublishedTorques(t *testing.T) {
	two, err := ParseTorque("2 in-lbf")
	if err != nil || math.Abs(two.NM()-0.226) > 0.001 {
		t.Errorf("2 in-lbf is %v N·m, %v", two, err)
	}
	toy, err := ParseTorque("0.34 N·m")
	if err != nil || math.Abs(toy.InLbf()-3.01) > 0.01 {
		t.Errorf("0.34 N·m is %v in-lbf, %v", toy.InLbf(), err)
	}
	for _, bad := range []string{"", "2", "0.34 Nm", "2 lbf", "-1 N·m", "nan N·m", "1e9 N·m"} {
		if v, err := ParseTorque(bad); err == nil {
			t.Errorf("%q is read as %v", bad, v)
		}
	}
	c, err := Convert("2 in-lbf")
	if err != nil || c.Kind != "torque" || math.Abs(c.Values[0].Value-0.225970) > 1e-6 {
		t.Errorf("convert: %+v, %v", c, err)
	}
}

// Hohenstein Academy, mass per unit area: five discs of 100 cm² are weighed,
// and a specification is held to ± 5 %. The weights are invented.
func TestPublishedDiscs(t *testing.T) {
	sum := AreaWeight(0)
	for _, s := range []string{"2.04 g/100 cm2", "2.10 g / 100 cm²", "2.06 g/100cm2", "2.08 g/100 cm2", "2.07 g/100 cm2"} {
		w, err := ParseAreaWeight(s)
		if err != nil {
			t.Fatal(err)
		}
		sum += w
	}
	if mean := sum / 5; math.Abs(mean.GSM()-207) > 0.5 || mean < 200*0.95 || mean > 200*1.05 {
		t.Errorf("mean %v g/m², want 207, within 5 %% of 200", mean.GSM())
	}
}

// A sewing teacher's blog, 2019: 32 seams that lose 1/32 in each make an
// inch: lengths do not drift.
func TestThirtySecondsAddUp(t *testing.T) {
	sum := Length(0)
	for range 32 {
		l, err := ParseLength("1/32 in", NoUnit)
		if err != nil {
			t.Fatal(err)
		}
		sum += l
	}
	if sum != Inch {
		t.Errorf("32 × 1/32 in is %s", sum)
	}
}
