package measure

import "testing"

// What people say means what the words mean: arithmetic and common practice.
func TestEveryday(t *testing.T) {
	for said, want := range map[string]string{
		"about 38 inches": "38 inches", "abt. 5": "5", "approx 24 in or so": "24 in", "~6": "6", "roughly about 6": "6",
		"six": "6", "Twelve": "12", "a dozen": "12", "half a dozen": "6", "five or six": "5 or 6",
		"half an inch": "1/2 inch", "a quarter inch": "1/4 inch", "three quarters of an inch": "3/4 inch", "3/8 of an inch": "3/8 inch",
		"an eighth of an inch": "1/8 inch", "24 and a half inches": "24 1/2 inches", "an inch": "1 inch",
		"2,8 cm": "2.8 cm", "S 60,5 cm, M 62 cm": "S 60.5 cm, M 62 cm", "2,8 cm, 6 mm": "2.8 cm, 6 mm",
		"28 mm, 6 mm": "28 mm, 6 mm", "1,000 mm": "1,000 mm", "{ min = 5, max = 7 }": "{ min = 5, max = 7 }", "2.4 mm ± 0.1": "2.4 mm ± 0.1",
		"": "", "45L": "45L", "horn-40": "horn-40",
	} {
		if got := Everyday(said); got != want {
			t.Errorf("%q: %q, not %q", said, got, want)
		}
	}
}
