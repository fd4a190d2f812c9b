package measure

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// keysOf gives the keys of c in their order.
func keysOf(c Conversion) (keys []string) {
	for _, v := range c.Values {
		keys = append(keys, v.Key)
	}
	return keys
}

func TestConvert(t *testing.T) {
	for _, tt := range []struct {
		text   string
		kind   string
		values []Converted
	}{
		{"40L", "length", []Converted{
			{"mm", 25.4, "25.4 mm"}, {"in", 1, "1 in"}, {"ligne", 40, "40 L"},
			{"cm", 2.54, "2.54 cm"}, {"ft", 1. / 12, "0.0833 ft"}, {"yd", 1. / 36, "0.0278 yd"}}},
		{"1 1/8 in", "length", []Converted{
			{"mm", 28.575, "28.575 mm"}, {"in", 1.125, "1 1/8 in"}, {"ligne", 45, "45 L"},
			{"cm", 2.8575, "2.8575 cm"}, {"ft", 0.09375, "0.0938 ft"}, {"yd", 0.03125, "0.0312 yd"}}},
		{"28 mm", "length", []Converted{
			{"mm", 28, "28 mm"}, {"in", 28 / 25.4, "1.1024 in, about 1 1/8 in"}, {"ligne", 28 / 0.635, "44.09 L"},
			{"cm", 2.8, "2.8 cm"}, {"ft", 28 / 304.8, "0.0919 ft"}, {"yd", 28 / 914.4, "0.0306 yd"}}},
		{"40 yd", "length", []Converted{
			{"mm", 36576, "36576 mm"}, {"in", 1440, "1440 in"}, {"ligne", 57600, "57600 L"},
			{"cm", 3657.6, "3657.6 cm"}, {"ft", 120, "120 ft"}, {"yd", 40, "40 yd"}}},
		{"12 oz/yd2", "cloth weight", []Converted{{"gsm", 406.868969698587, "406.9 g/m²"}, {"oz_yd2", 12, "12 oz/yd²"}}},
		{"duck no. 10", "cloth weight", []Converted{{"gsm", 499.33919008463, "499.3 g/m²"}, {"oz_yd2", 14.7272727272727, "14.73 oz/yd²"}}},
		{"Tkt 75", "thread", []Converted{
			{"tex", 40, "Tex 40"}, {"denier", 360, "360 den"}, {"nm", 25, "Nm 25"}, {"ne", 590.541247448236 / 40, "Ne 14.76"},
			{"tkt", 75, "Tkt 75"}, {"cotton_tkt", 3 * 590.541247448236 / 40, "cotton Tkt 44.3"}, {"dtex", 400, "400 dtex"}}},
		{"90/14", "needle", []Converted{{"needle_nm", 90, "NM 90"}, {"needle_us", 14, "US 14"}, {"blade_mm", 0.9, "0.9 mm blade"}}},
		{"120/20", "needle", []Converted{{"needle_nm", 120, "NM 120"}, {"needle_us", 19, "US 19"}, {"blade_mm", 1.2, "1.2 mm blade"}}},
		{"150 C", "temperature", []Converted{{"c", 150, "150 °C"}, {"f", 302, "302 °F"}, {"dots", 2, "2 dots at most"}}},
		{"1 dot", "temperature", []Converted{{"c", 110, "110 °C"}, {"f", 230, "230 °F"}, {"dots", 1, "1 dot at most"}}},
		{"40 °C", "temperature", []Converted{{"c", 40, "40 °C"}, {"f", 104, "104 °F"}, {"dots", 0, "too cool for an iron: one dot goes up to 110 °C"}}},
		{"15 lbf", "force", []Converted{{"n", 66.7233242289075, "66.72 N"}, {"lbf", 15, "15 lbf"}, {"kgf", 6.80388555, "6.8 kgf"}}},
	} {
		got, err := Convert(tt.text)
		if err != nil {
			t.Errorf("Convert(%q): %v", tt.text, err)
			continue
		}
		close := cmp.Comparer(func(a, b float64) bool { return near(a, b, 1e-12*max(a, b)) }) // 15 digits are kept
		if d := cmp.Diff(Conversion{Kind: tt.kind, Values: tt.values}, got, close); d != "" {
			t.Errorf("Convert(%q) (-want +got):\n%s", tt.text, d)
		}
	}
}

// Every accepted form finds its kind and keeps the keys in their order.
func TestConvertKinds(t *testing.T) {
	length := []string{"mm", "in", "ligne", "cm", "ft", "yd"}
	weight := []string{"gsm", "oz_yd2"}
	thread := []string{"tex", "denier", "nm", "ne", "tkt", "cotton_tkt", "dtex"}
	needle := []string{"needle_nm", "needle_us", "blade_mm"}
	temperature := []string{"c", "f", "dots"}
	force := []string{"n", "lbf", "kgf"}
	for text, want := range map[string][]string{
		"2.8 cm": length, "0.6 m": length, "400 µm": length, `5'6"`: length, "30-line": length, "8 oz leather": length, "1⅛ in": length, "2 ft 3 in": length, `3"`: length,
		"620 g/m2": weight, "620 gsm": weight, "18.3 oz/yd²": weight, "19 oz/yd run at 56 in": weight, "500 g/m run at 150 cm": weight, "No. 10 duck": weight,
		"Tex 40": thread, "T-40": thread, "360 den": thread, "Nm 25": thread, "Nm 80/2": thread, "Ne 40/2": thread, "40 wt": thread, "cotton Tkt 40": thread, "400 dtex": thread,
		"NM 90": needle, "US 14": needle, "110/17": needle, "60/8": needle,
		"300 F": temperature, "150°C": temperature, "2 dots": temperature, "150 ℃": temperature,
		"70 N": force, "7.72 kgf": force, "1050 cN": force,
	} {
		c, err := Convert(text)
		if err != nil {
			t.Errorf("Convert(%q): %v", text, err)
		} else if d := cmp.Diff(want, keysOf(c)); d != "" {
			t.Errorf("Convert(%q) (-want +got):\n%s", text, d)
		}
	}
}

func TestConvertNote(t *testing.T) {
	if c, err := Convert("Nm 90"); err != nil || c.Kind != "thread" || c.Note != "Nm is read as the metric count of a thread; the needle is written NM 90" {
		t.Errorf("Nm 90: %+v, %v", c, err)
	}
	if c, err := Convert("Nm 25"); err != nil || c.Note != "" {
		t.Errorf("Nm 25: %+v, %v", c, err)
	}
}

func TestConvertRefusals(t *testing.T) {
	const four = "four meanings: 50 wt is Tex 20, Ne 50/3 is Tex 35.4, Tkt 50 is Tex 60, cotton Tkt 50 is Tex 35.4"
	for _, r := range []refusal{
		{"‸", "nothing here", ""},
		{"‸50", four, "50 mm, 50 in, 50 wt, Ne 50/3, Tkt 50, cotton Tkt 50 or NM 50"},
		{"‸14", "no unit; a thread number alone has four meanings", "14 mm, 14 in, 14 wt, Ne 14/3, Tkt 14, cotton Tkt 14 or US 14"},
		{"No. ‸50", four, "50 wt, Ne 50/3, Tkt 50 or cotton Tkt 50"},
		{"#‸50", four, "50 wt, Ne 50/3, Tkt 50 or cotton Tkt 50"},
		{"0‸", "no unit", "0 mm or 0 in"},
		{"99999‸", "no unit", "99999 mm or 99999 in"},
		{"‸40/2", "Ne 40/2 is Tex 29.5, Nm 40/2 is Tex 50", "Ne 40/2 or Nm 40/2"},
		{"‸40/4", "Ne 40/4 is", "Ne 40/4 or Nm 40/4"},
		{"‸20/9", "Ne 20/9 is", "Ne 20/9 or Nm 20/9"},
		{"90/‸16", "not the same needle", "90/14 or 100/16"},
		{"‸14/90", "before the slash", "90/14"},
		{"12 ‸oz", "three meanings", "12 oz/yd2, 12 oz/yd run at 56 in or duck no. 7"},
		{"‸nm 90", "metric count of a thread, Nm, or the size of a needle, NM", "Nm 90 or NM 90"},
		{"60 ‸lb", "pounds are a weight", "60 lbf"},
		{"40‸l", "digit 1", "40L"},
		{"28 ‸mn", `no unit "mn"`, "28 mm"},
		{"28 ‸gmm", `no unit "gmm"`, "28 gsm"},
		{"28 ‸xyzzy", `no unit "xyzzy"`, ""},
		{"‸hello", "a number and a unit", ""},
		{"‸nan", "not a number", ""},
		{"1‸e5", "exponent", ""},
		{"2‸,5 mm", "comma", "2.5 mm"},
		{"‸-3 mm", "negative", "3 mm"},
		{"150 ‸deg K", "C, F or dots", ""},
		{"90/14‸/2", "one whole number above", ""},
		{"3 ‸%", "is not part of a quantity", ""},
		{"2.4 mm‸ ± 0.2", "no tolerance", "2.4 mm"},
		{"‸40/0", "divides by nothing", ""},
	} {
		r.check(t, func(s string) error { _, err := Convert(s); return err })
	}
}
