package measure

import (
	"math"
	"testing"
)

// near reports whether got is within tolerance of want.
func near(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance }

func TestParseAreaWeight(t *testing.T) {
	for _, tt := range []struct {
		text string
		want float64
	}{
		{"620 g/m2", 620}, {"620 g/m²", 620}, {"620g/m^2", 620}, {"620 gsm", 620}, {"620 GSM", 620}, {"620 g / m2", 620},
		{"620 g/sqm", 620}, {"620 grams per square metre", 620}, {"620 g per sq m", 620}, {"620½ gsm", 620.5},
		{"18.3 oz/yd2", 18.3 * 33.9057474748823}, {"18.3 oz/yd²", 18.3 * 33.9057474748823}, {"18 1/2 oz/sq yd", 18.5 * 33.9057474748823},
		{"18 ounces per square yard", 18 * 33.9057474748823},
		{"500 g/m run at 145 cm", 500 / 1.45}, {"500 g per running metre at 1.5 m", 500 / 1.5},
		{"16 oz/yd run at 4 ft 8 in", 348.7}, {"16 oz/running yard at 56\"", 348.7}, {"16 OZ/YD RUN AT 56 IN", 348.7},
	} {
		got, err := ParseAreaWeight(tt.text)
		if err != nil || !near(got.GSM(), tt.want, 0.06) {
			t.Errorf("ParseAreaWeight(%q) = %v, %v; want %v", tt.text, got, err, tt.want)
		}
	}
}

// Published weights, each in two ways.
func TestPublishedWeights(t *testing.T) {
	for _, tt := range []struct {
		text      string
		want, tol float64
		source    string
	}{
		{"12 oz/yd2", 406.9, 0.5, `a denim magazine, "Denim weight": 1 oz/yd² is about 33.91 g/m²`},
		{"4 oz/yd2", 135.6, 0.5, `the same; several shop pages print 113, the mass of 4 oz without its area`},
		{"16.0 oz/yd run at 56 in", 348.7, 1, "MIL-DTL-3738L, Table I"},
		{"18.0 oz/yd run at 56 in", 392.3, 1, "MIL-DTL-3738L, Table I"},
		{"19.0 oz/yd run at 56 in", 414.1, 1, "MIL-DTL-3738L, Table I"},
		{"13 oz/yd run at 58 in", 273.6, 1, `a tailoring forum, "The definition of oz": a yard of 58 in without selvedges`},
		{"duck no. 10", 499.3, 1, `"Duck", Sizes, Inc.: No. N is 19 − oz of a piece 36 × 22 in`},
		{"duck no. 12", 388.4, 1, "the same"},
		{"duck no. 1", 998.7, 1, "the same"},
		{"7.1 oz/yd run at 60.1 in", 144.1, 1, "a shirt maker, men's uniform shirts: poplin of 4.25 oz/yd² (144.1 g/m²), 7.1 oz the running yard"},
		{"4.25 oz/yd2", 144.1, 0.1, "the same"},
	} {
		got, err := ParseAreaWeight(tt.text)
		if err != nil || !near(got.GSM(), tt.want, tt.tol) {
			t.Errorf("ParseAreaWeight(%q) = %v g/m², %v; %s: %v", tt.text, got.GSM(), err, tt.source, tt.want)
		}
	}
	// The duck of 9 oz the piece weighs 14.73 oz/yd².
	if got := Duck(9).OzYd2(); !near(got, 14.73, 0.05) {
		t.Errorf("a duck of 9 oz the piece is %v oz/yd²", got)
	}
}

// "Duck", Sizes, Inc.: numbers 1 to 12, and 19 oz is 1/0, 20 is 2/0, up to 6/0.
func TestDuckNumber(t *testing.T) {
	for oz, want := range map[int]string{9: "10", 7: "12", 18: "1", 19: "1/0", 20: "2/0", 21: "3/0", 24: "6/0", 6: "", 25: "", 0: "", -1: ""} {
		if got, ok := DuckNumber(oz); got != want || ok != (want != "") {
			t.Errorf("DuckNumber(%d) = %q, %v; want %q", oz, got, ok, want)
		}
	}
	for oz := 7; oz <= 24; oz++ {
		no, _ := DuckNumber(oz)
		for _, form := range []string{"duck no. " + no, "Duck No " + no, "duck #" + no, "duck " + no, "No. " + no + " duck"} {
			if got, err := ParseAreaWeight(form); err != nil || got != Duck(float64(oz)) {
				t.Errorf("ParseAreaWeight(%q) = %v, %v; want %v", form, got, err, Duck(float64(oz)))
			}
		}
	}
}

func TestParseAreaWeightRefusals(t *testing.T) {
	for _, r := range []refusal{
		{"‸", "nothing here", ""},
		{"12 ‸oz", "three meanings: a square yard (12 oz is then 407 g/m²)", "12 oz/yd2, 12 oz/yd run at 56 in or duck no. 7"},
		{"21 ‸oz", "three meanings", "21 oz/yd2, 21 oz/yd run at 56 in or duck no. 3/0"},
		{"30 ‸ounces", "three meanings", "30 oz/yd2 or 30 oz/yd run at 56 in"},
		{"12 ‸oz melton", "three meanings", "12 oz/yd2 or 12 oz/yd run at 56 in"},
		{"620 ‸g", "two meanings", "620 g/m2 or 620 g/m run at 150 cm"},
		{"12 ‸oz/yd", "square or running", "12 oz/yd2 or 12 oz/yd run at 56 in"},
		{"620 ‸g/m", "square or running", "620 g/m2 or 620 g/m run at 150 cm"},
		{"620‸", "no unit", "620 g/m2"},
		{"18‸", "no unit", "18 g/m2 or 18 oz/yd2"},
		{"620 ‸gms", "no unit of cloth weight", "620 gsm"},
		{"620 ‸kilos", "no unit of cloth weight", ""},
		{"620 ‸gsm at 56 in", "no unit of cloth weight", "620 gsm"},
		{"18 ‸oz/yd2 at 56 in", "no unit of cloth weight", "18 oz/yd2"},
		{"19 oz/yd run‸", "width of the cloth is missing", "19 oz/yd run at 56 in"},
		{"500 g/m run at‸", "width of the cloth is missing", "500 g/m run at 150 cm"},
		{"19 oz/yd run at 56‸", "in the width, the number has no unit", ""},
		{"19 oz/yd run at 56 ‸im", "in the width, there is no unit", ""},
		{"19 oz/yd run at‸ 5 mm", "so narrow", ""},
		{"18‸,3 oz/yd2", "comma", "18.3 oz/yd2"},
		{"‸-620 gsm", "negative", "620 gsm"},
		{"‸nan gsm", "not a number", ""},
		{"‸0 gsm", "out of range: cloth weighs 1 g/m² to 5000 g/m²", ""},
		{"‸5001 gsm", "out of range", ""},
		{"‸1/0 gsm", "divides by nothing", ""},
		{"‸duck", "duck no. 10", ""},
		{"‸duck no. 0", "1 to 12", ""},
		{"‸duck no. 13", "1 to 12", ""},
		{"‸duck 7/0", "1/0 to 6/0", ""},
		{"‸duck 0/0", "1/0 to 6/0", ""},
	} {
		r.check(t, func(s string) error { _, err := ParseAreaWeight(s); return err })
	}
}

func TestAreaWeightText(t *testing.T) {
	for _, tt := range []struct {
		w      AreaWeight
		in, mm string
	}{
		{620, "18.3 oz/yd² (620 g/m²)", "620 g/m² (18.3 oz/yd²)"},
		{12 * OunceYard, "12 oz/yd² (407 g/m²)", "407 g/m² (12 oz/yd²)"},
		{33.26, "1 oz/yd² (33.3 g/m²)", "33.3 g/m² (1 oz/yd²)"},
	} {
		if in, mm := tt.w.Text(In), tt.w.Text(MM); in != tt.in || mm != tt.mm {
			t.Errorf("%g: %q, %q; want %q, %q", float64(tt.w), in, mm, tt.in, tt.mm)
		}
	}
	if got := AreaWeight(620).String(); got != "620 g/m²" {
		t.Errorf("String() = %q", got)
	}
}
