package measure

import "testing"

func TestParseTemperature(t *testing.T) {
	for _, tt := range []struct {
		text string
		want Temperature
		dots int
	}{
		{"150 C", 150, 2}, {"150C", 150, 2}, {"150 °C", 150, 2}, {"150°c", 150, 2}, {"150 ℃", 150, 2}, {"150 deg C", 150, 2}, {"150 degrees Celsius", 150, 2},
		{"302 F", 150, 2}, {"302 °F", 150, 2}, {"302 Fahrenheit", 150, 2}, {"230 F", 110, 1}, {"392 F", 200, 3}, {"32 F", 0, 0}, {"572 F", 300, 3},
		{"1 dot", 110, 1}, {"2 dots", 150, 2}, {"3dots", 200, 3}, {"2 Dot", 150, 2},
		{"109.9 C", 109.9, 0}, {"110 C", 110, 1}, {"149 C", 149, 1}, {"199.9 C", 199.9, 2}, {"0 C", 0, 0}, {"300 C", 300, 3},
	} {
		got, err := ParseTemperature(tt.text)
		if err != nil || got != tt.want || got.Dots() != tt.dots {
			t.Errorf("ParseTemperature(%q) = %v, %v, %d dots; want %v, %d", tt.text, got, err, got.Dots(), tt.want, tt.dots)
		}
	}
}

// ISO 3758 as GINETEX describes its ironing symbols: one dot up to 110 °C,
// two 150, three 200; in Fahrenheit 230, 302 and 392, to the degree.
func TestDots(t *testing.T) {
	for text, want := range map[string][2]float64{"1 dot": {110, 230}, "2 dots": {150, 302}, "3 dots": {200, 392}} {
		got, err := ParseTemperature(text)
		if err != nil || got.C() != want[0] || !near(got.F(), want[1], 1) {
			t.Errorf("%s is %v °C, %v °F, %v; want %v", text, got.C(), got.F(), err, want)
		}
	}
}

func TestParseTemperatureRefusals(t *testing.T) {
	for _, r := range []refusal{
		{"‸", "nothing here", ""},
		{"150‸", "which degrees", "150 C or 150 F"},
		{"150‸ deg", "which degrees", "150 C or 150 F"},
		{"423 ‸K", "C, F or dots, not \"K\"", ""},
		{"150 ‸celcius", "C, F or dots", "150 celsius"},
		{"2 ‸dotts", "C, F or dots", "2 dots"},
		{"‸-5 C", "negative", "5 C"},
		{"‸301 C", "out of range: 0 to 300 °C", ""},
		{"‸600 F", "out of range", ""},
		{"‸31 F", "out of range", ""},
		{"‸0 dots", "1, 2 or 3 dots", ""},
		{"‸4 dots", "1, 2 or 3 dots", ""},
		{"‸1.5 dots", "1, 2 or 3 dots", ""},
		{"‸inf C", "not a number", ""},
		{"150‸,5 C", "comma", "150.5 C"},
	} {
		r.check(t, func(s string) error { _, err := ParseTemperature(s); return err })
	}
}

func TestTemperatureText(t *testing.T) {
	for _, tt := range []struct {
		t                        Temperature
		text, least, most, given string
	}{
		{TwoDots, "150 °C (300 °F)", "150 °C (305 °F)", "150 °C (300 °F)", "150 °C (300 °F)"},
		{135, "140 °C (275 °F)", "140 °C (275 °F)", "130 °C (275 °F)", "135 °C (275 °F)"},
		{148.9, "150 °C (300 °F)", "150 °C (305 °F)", "140 °C (300 °F)", "149 °C (300 °F)"},
		{125, "130 °C (255 °F)", "130 °C (260 °F)", "120 °C (255 °F)", "125 °C (255 °F)"},               // 257 °F: a dial has fives
		{(258. - 32) / 1.8, "130 °C (260 °F)", "130 °C (260 °F)", "120 °C (255 °F)", "126 °C (258 °F)"}, // as a maker has it
		{OneDot, "110 °C (230 °F)", "110 °C (230 °F)", "110 °C (230 °F)", "110 °C (230 °F)"},
	} {
		if text, up, down, given := tt.t.Text(MM), tt.t.TextLeast(MM), tt.t.TextMost(MM), tt.t.TextGiven(MM); text != tt.text || up != tt.least || down != tt.most || given != tt.given {
			t.Errorf("%v: %q, %q, %q, %q; want %+v", tt.t, text, up, down, given, tt)
		}
	}
	if in, s := TwoDots.Text(In), Temperature(148.9).String(); in != "300 °F (150 °C)" || s != "149 °C" {
		t.Errorf("%q, %q", in, s)
	}
}

func TestParseForce(t *testing.T) {
	for _, tt := range []struct {
		text            string
		newton, lbf, by float64
		source          string
	}{
		{"70 N", 70, 15.74, 0.01, "definition of the pound-force"},
		{"70n", 70, 15.74, 0.01, "definition of the pound-force"},
		{"70 newtons", 70, 15.74, 0.01, "definition of the pound-force"},
		{"1050 cN", 10.5, 2.36, 0.01, "definition of the pound-force"},
		{"15 lbf", 66.72, 15, 0.02, "definition of the pound-force"},
		{"90 N", 90, 20.23, 0.02, "definition of the pound-force"},
		{"1.00 lbf", 4.45, 1, 0.01, "16 CFR 1500.48: a point tester pressed with 1.00 lbf (4.45 N)"},
		{"10 lbf", 44.5, 10, 0.05, "16 CFR 1500.51: seams, 10 lbf (44.5 N)"},
		{"60 lbf", 266.9, 60, 0.1, "MIL-B-286D: a tack button takes 60 lb (266.9 N)"},
		{"120 lbf", 533.8, 120, 0.1, "A-A-55223: a clinch takes 120 lb (533.8 N)"},
		{"7.72 kgf", 75.71, 17.02, 0.02, "definition of the kilogram-force"},
		{"17 lbf", 75.62, 17, 0.02, "definition of the pound-force"},
	} {
		got, err := ParseForce(tt.text)
		if err != nil || !near(got.N(), tt.newton, tt.by) || !near(got.Lbf(), tt.lbf, tt.by) {
			t.Errorf("ParseForce(%q) = %v N, %v lbf, %v; %s: %v, %v", tt.text, got.N(), got.Lbf(), err, tt.source, tt.newton, tt.lbf)
		}
	}
	for _, r := range []refusal{
		{"‸", "nothing here", ""},
		{"60 ‸lb", "pounds are a weight", "60 lbf"},
		{"60 ‸lbs.", "pounds are a weight", "60 lbf"},
		{"7 ‸kg", "kilograms are a weight", "7 kgf"},
		{"70‸", "no unit", "70 N or 70 lbf"},
		{"70 ‸newtn", "forces are in N", "70 N"},
		{"70 ‸dyn", "forces are in N", ""},
		{"‸-70 N", "negative", "70 N"},
		{"‸10001 N", "strongest is 10000 N", ""},
		{"‸nan N", "not a number", ""},
	} {
		r.check(t, func(s string) error { _, err := ParseForce(s); return err })
	}
	if mm, in, s := Force(70).Text(MM), Force(70).Text(In), Force(10.5).String(); mm != "70 N (15.7 lbf)" || in != "15.7 lbf (70 N)" || s != "10.5 N" {
		t.Errorf("%q, %q, %q", mm, in, s)
	}
}

func TestParsePercent(t *testing.T) {
	for text, want := range map[string]Percent{"3 %": 3, "3%": 3, "3": 3, "3.5 percent": 3.5, "2 1/2 per cent": 2.5, "0": 0, "100 %": 100} {
		if got, err := ParsePercent(text); got != want || err != nil {
			t.Errorf("ParsePercent(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
	for _, r := range []refusal{
		{"‸", "nothing here", ""},
		{"‸101 %", "0 to 100 %", ""},
		{"‸-3 %", "negative", "3 %"},
		{"3 ‸mm", "not \"mm\"", "3 %"},
		{"3‸,5 %", "comma", "3.5 %"},
		{"‸NaN", "not a number", ""},
	} {
		r.check(t, func(s string) error { _, err := ParsePercent(s); return err })
	}
	if p := Percent(3.25); p.String() != "3.2 %" || p.Fraction() != 0.0325 {
		t.Errorf("%v, %v", p, p.Fraction())
	}
}
