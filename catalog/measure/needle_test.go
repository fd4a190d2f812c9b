package measure

import "testing"

func TestParseNeedleSize(t *testing.T) {
	for _, tt := range []struct {
		text string
		want NeedleSize
	}{
		{"90/14", 90}, {"NM 90", 90}, {"Nm 90", 90}, {"nm90", 90}, {"NM. 90", 90}, {"NM 90/14", 90}, {"US 14", 90}, {"us14", 90}, {"Singer 14", 90},
		{"90", 90}, {"14", 90}, {" 90 / 14 ", 90}, {"90⁄14", 90},
		{"110/18", 110}, {"110/17", 110}, {"120/19", 120}, {"120/20", 120}, {"150/22", 150}, {"150/23", 150},
		{"US 18", 110}, {"US 19", 120}, {"US 20", 125}, {"US 17", 105}, {"40/4", 40}, {"250/27", 250}, {"US 4", 40}, {"27", 250},
	} {
		got, err := ParseNeedleSize(tt.text)
		if err != nil || got != tt.want {
			t.Errorf("ParseNeedleSize(%q) = %v, %v; want %v", tt.text, got, err, tt.want)
		}
	}
}

func TestPublishedNeedles(t *testing.T) {
	// Apparel Science, "Needle Number System": US 8 to 18 is
	// NM = 60 + 5·(US − 8), with US 12 = 80 worked out; 19 is 120.
	for us := 8; us <= 18; us++ {
		want := NeedleSize(60 + 5*(us-8))
		if got, ok := NeedleUS(us); got != want || !ok || got.US() != us {
			t.Errorf("US %d is NM %d, %v; want %d", us, int(got), ok, int(want))
		}
	}
	if got, _ := NeedleUS(19); got != 120 {
		t.Errorf("US 19 is NM %d, want 120", int(got))
	}
	// A needle maker's leaflet and Threads magazine, "Choose regular needle
	// size by fabric": the household sizes.
	for _, pair := range []string{"60/8", "65/9", "70/10", "75/11", "80/12", "90/14", "100/16", "110/18", "120/19"} {
		if n, err := ParseNeedleSize(pair); err != nil || n.String() != pair {
			t.Errorf("%s is printed as %v, %v", pair, n, err)
		}
	}
	// A shoemaking wiki, "Sewing Machine Needle Sizing".
	for _, pair := range []string{"40/4", "45/5", "50/6", "55/7", "85/13", "95/15", "105/17", "110/17", "125/20", "130/21", "140/22", "150/22", "160/23", "170/23", "180/24", "200/25", "230/26", "250/27"} {
		if _, err := ParseNeedleSize(pair); err != nil {
			t.Errorf("%s: %v", pair, err)
		}
	}
	// Misprints: 100/14 and 120/18 on a dealer's page, "Needle info"; 70/9 and
	// 80/11 as printed back to front by a quilt shop.
	for _, pair := range []string{"100/14", "120/18", "70/9", "80/11", "9/70", "11/80"} {
		if n, err := ParseNeedleSize(pair); err == nil {
			t.Errorf("%s was taken for %v", pair, n)
		}
	}
	// Apparel Science: NM 110 is a blade of 1.10 mm, NM 50 of 0.50.
	if NeedleSize(110).BladeMM() != 1.1 || NeedleSize(50).BladeMM() != 0.5 || NeedleSize(110).Blade() != 1_100_000 {
		t.Error("the blade is not NM/100 mm")
	}
	// JIS B 9012:2000, blades of household needles by US size, ±0.02 mm;
	// NM/100 lies at the lower limit.
	for us, blade := range map[int]float64{7: 0.57, 8: 0.62, 9: 0.67, 10: 0.72, 11: 0.77, 12: 0.82, 13: 0.87, 14: 0.92, 15: 0.97, 16: 1.02} {
		n, ok := NeedleUS(us)
		if !ok || !near(n.BladeMM(), blade, 0.02+1e-9) {
			t.Errorf("US %d: blade %v mm, JIS B 9012 %v ± 0.02", us, n.BladeMM(), blade)
		}
	}
}

func TestParseNeedleSizeRefusals(t *testing.T) {
	for _, r := range []refusal{
		{"‸", "nothing here", ""},
		{"90/‸16", "NM 90 and US 16 are not the same needle", "90/14 or 100/16"},
		{"90/‸99", "not the same needle", "90/14"},
		{"120/‸18", "not the same needle", "120/19 or 110/18"},
		{"‸14/90", "before the slash", "90/14"},
		{"NM ‸92", "no needle NM 92", "90/14 or 95/15"},
		{"‸92/14", "no needle NM 92", "90/14 or 95/15"},
		{"‸300", "no needle NM 300", "250/27"},
		{"NM ‸10", "no needle NM 10", "40/4"},
		{"US ‸3", "US 4 to US 27", ""},
		{"‸3", "US 4 to US 27", ""},
		{"‸NN 90", "not \"NN\"", "NM 90"},
		{"‸jeans", "not \"jeans\"", ""},
		{"NM‸", "whole number", ""},
		{"‸-90", "whole number", ""},
		{"NM 90‸.5", "is not part of a needle size", "NM 90"},
		{"90/14 ‸jeans", "is not part of a needle size", "90/14"},
		{"90/‸x", "after the slash", ""},
		{"‸US 90/14", "after the slash", ""},
		{"‸99999999999999999999", "whole number", ""},
	} {
		r.check(t, func(s string) error { _, err := ParseNeedleSize(s); return err })
	}
}

func TestNeedleSizes(t *testing.T) {
	for i, size := range needleSizes {
		n := size.nm
		if i > 0 && needleSizes[i-1].nm >= n {
			t.Errorf("%v does not come after %v", n, needleSizes[i-1].nm)
		}
		for _, text := range []string{n.String(), "NM " + decimal(float64(n), 0)} {
			if back, err := ParseNeedleSize(text); back != n || err != nil {
				t.Errorf("%s is read as %v, %v", text, back, err)
			}
		}
	}
	if n := NeedleSize(92); n.US() != 0 || n.String() != "NM 92" {
		t.Errorf("NM 92 is %v, US %d", n, n.US())
	}
	if n, ok := NeedleUS(99); n != 0 || ok {
		t.Errorf("US 99 is %v", n)
	}
}
