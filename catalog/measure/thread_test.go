package measure

import (
	"math"
	"testing"
)

func TestParseLinearDensity(t *testing.T) {
	for _, tt := range []struct {
		text string
		want float64
	}{
		{"Tex 40", 40}, {"tex 40", 40}, {"TEX 40", 40}, {"40 tex", 40}, {"40tex", 40}, {"T-40", 40}, {"T40", 40}, {"T 40", 40}, {"Tex 29.5", 29.5},
		{"360 den", 40}, {"360 denier", 40}, {"den 360", 40}, {"400 dtex", 40}, {"dtex 400", 40},
		{"Nm 25", 40}, {"25 Nm", 40}, {"Nm 80/2", 25}, {"Nm 80/1", 12.5}, {"80/2 Nm", 25}, {"NM 25", 40},
		{"Ne 40/2", 29.527}, {"40/2 Ne", 29.527}, {"NeC 40/2", 29.527}, {"Ne 20", 29.527}, {"Ne. 40 / 2", 29.527},
		{"40 wt", 25}, {"40wt", 25}, {"40 wt.", 25}, {"wt 40", 25}, {"40 weight", 25},
		{"Tkt 75", 40}, {"Tkt. 75", 40}, {"ticket 75", 40}, {"75 tkt", 40}, {"metric Tkt 75", 40}, {"Tkt 75 metric", 40}, {"tkt metric 75", 40},
		{"cotton Tkt 40", 44.2906}, {"Cotton ticket 40", 44.2906}, {"Tkt 40 cotton", 44.2906}, {"cotton Tkt. 40", 44.2906},
		{"Tex 1", 1}, {"Tex 5000", 5000},
	} {
		got, err := ParseLinearDensity(tt.text)
		if err != nil || !near(got.Tex(), tt.want, 0.001) {
			t.Errorf("ParseLinearDensity(%q) = %v, %v; want Tex %v", tt.text, got.Tex(), err, tt.want)
		}
	}
}

func TestPublishedThreads(t *testing.T) {
	tex := func(d LinearDensity) float64 { return d.Tex() }
	denier := LinearDensity.Denier
	tkt := LinearDensity.Tkt
	cotton := LinearDensity.CottonTkt
	for _, tt := range []struct {
		text      string
		in        func(LinearDensity) float64
		want, tol float64
		source    string
	}{
		// Garments Merchandising, "Ticket number of sewing thread used in
		// apparel industry": metric and cotton tickets.
		{"Nm 80/4", tkt, 60, 1e-9, "Garments Merchandising"},
		{"Nm 60/1", tkt, 180, 1e-9, "Garments Merchandising"},
		{"Nm 60/2", tkt, 90, 1e-9, "Garments Merchandising"},
		{"Nm 60/4", tkt, 45, 1e-9, "Garments Merchandising"},
		{"Ne 40/2", cotton, 60, 1e-9, "Garments Merchandising"},
		{"Ne 40/3", cotton, 40, 1e-9, "Garments Merchandising"},
		{"Ne 40/4", cotton, 30, 1e-9, "Garments Merchandising"},
		{"Ne 60/2", cotton, 90, 1e-9, "Garments Merchandising"},
		{"Ne 60/3", cotton, 60, 1e-9, "Garments Merchandising"},
		{"Ne 60/4", cotton, 45, 1e-9, "Garments Merchandising"},
		// Textile School, "Yarn conversions": tex = 3000 ÷ metric ticket,
		// and the constants of the counts.
		{"Tkt 75", tex, 40, 1e-9, "Textile School"},
		{"Tkt 120", tex, 25, 1e-9, "Textile School"},
		{"cotton Tkt 1", tex, 1771.6, 0.1, "Textile School"},
		{"9 den", tex, 1, 1e-9, "Textile School"},
		{"10 dtex", tex, 1, 1e-9, "Textile School"},
		{"Ne 1", tex, 590.54, 0.005, "Textile School; a thread maker, \"Thread numbering\""},
		{"Ne 1", denier, 5314.9, 0.05, "Textile School"},
		{"Ne 1", LinearDensity.Nm, 1.6934, 5e-5, "Textile School"},
		// A needle maker, "Sewing machine thread sizing guide": 30 wt is 300 den
		// and tex 33; 40 wt is tex 25, for which it prints 240 den.
		{"30 wt", denier, 300, 1e-9, "a needle maker"},
		{"30 wt", tex, 33, 0.35, "a needle maker"},
		{"40 wt", tex, 25, 1e-9, "a needle maker"},
		{"40 wt", denier, 240, 0.07 * 240, "a needle maker"},
		// A yarn dealer, "Conversion table": two-ply Nm is 2000 ÷ Nm tex, and Nm 80/2
		// is 12.5 tex × 2.
		{"Nm 80/2", tex, 25, 1e-9, "a yarn dealer"},
		{"Nm 80/1", tex, 12.5, 1e-9, "a yarn dealer"},
		{"Nm 60/3", tex, 50, 1e-9, "a yarn dealer"},
		{"Nm 40/4", tex, 100, 1e-9, "a yarn dealer"},
	} {
		d, err := ParseLinearDensity(tt.text)
		if got := tt.in(d); err != nil || !near(got, tt.want, tt.tol) {
			t.Errorf("%q gives %v, %v; %s: %v", tt.text, got, err, tt.source, tt.want)
		}
	}
}

// A thread maker, "All about polyester sewing threads": cotton counts and their
// rounded tex. ISO 2947 lets rounded tex differ by 2 %.
func TestRoundedTex(t *testing.T) {
	for text, want := range map[string]float64{
		"Ne 60/2": 20, "Ne 50/2": 24, "Ne 40/2": 30, "Ne 60/3": 30, "Ne 50/3": 36, "Ne 30/2": 40, "Ne 40/3": 45,
		"Ne 20/2": 60, "Ne 30/3": 60, "Ne 20/3": 90, "Ne 12/3": 150, "Ne 20/6": 180, "Ne 12/4": 200, "Ne 20/9": 270,
	} {
		d, err := ParseLinearDensity(text)
		if err != nil || !near(d.Tex(), want, 0.02*want) {
			t.Errorf("%q is Tex %v, %v; the thread maker prints %v", text, d.Tex(), err, want)
		}
	}
}

func TestParseLinearDensityRefusals(t *testing.T) {
	const four = "four meanings: 50 wt is Tex 20, Ne 50/3 is Tex 35.4, Tkt 50 is Tex 60, cotton Tkt 50 is Tex 35.4"
	const fifty = "50 wt, Ne 50/3, Tkt 50 or cotton Tkt 50"
	for _, r := range []refusal{
		{"‸", "nothing here", ""},
		{"‸50", four, fifty},
		{"No. ‸50", four, fifty},
		{"no ‸50", four, fifty},
		{"#‸50", four, fifty},
		// A craft shop, "Thread measurement explained": US sizes are denier ÷ 10.
		{"#‸69", "as a US trade size it is 690 den", "69 wt, Ne 69/3, Tkt 69 or cotton Tkt 69"},
		{"‸40/2", "Ne 40/2 is Tex 29.5, Nm 40/2 is Tex 50", "Ne 40/2 or Nm 40/2"},
		{"‸9999", "no thread is numbered 9999", ""},
		{"‸0", "numbered 0", ""},
		{"40‸s/2", "Ne before it", "Ne 40/2"},
		{"‸Texx 40", "no thread number", "Tex 40"},
		{"‸Fnord 40", "no thread number", ""},
		{"Tex‸", "a number is missing", ""},
		{"Tex ‸-4", "negative", "Tex 4"},
		{"Tex 2‸,5", "comma", "Tex 2.5"},
		{"Tex ‸nan", "not a number", ""},
		{"1‸e9 tex", "exponent", ""},
		{"Tex ‸5001", "out of range", ""},
		{"Tex ‸0.5", "out of range", ""},
		{"Ne ‸0", "no thread is numbered 0", ""},
		{"Tkt ‸9999", "out of range", ""},
		{"Ne 40‸/0", "1 to 12 plies", ""},
		{"Ne 40‸/13", "1 to 12 plies", ""},
		{"Ne 40‸/", "1 to 12 plies", ""},
		{"Tex ‸1/2", "only Ne and Nm", ""},
		{"‸40/2 wt", "only Ne and Nm", ""},
		{"Tex ‸1½", "no fraction", ""},
		{"Tex 40 ‸den", "two units", ""},
		{"Tex ‸den 40", "two units", ""},
		{"‸cotton 40", "cotton of what?", ""},
		{"cotton ‸Tex 4", "only a ticket number", ""},
		{"cotton ‸cotton Tkt 40", "once", ""},
		{"Tex 40 ‸thick", "is not part of it", "Tex 40"},
	} {
		r.check(t, func(s string) error { _, err := ParseLinearDensity(s); return err })
	}
}

func TestLinearDensityText(t *testing.T) {
	for d, want := range map[LinearDensity]string{40: "Tex 40 (Tkt 75)", 29.527: "Tex 29.5 (Tkt 102)"} {
		if got := d.Text(); got != want {
			t.Errorf("%g: %q, want %q", float64(d), got, want)
		}
	}
}

func TestThreadDiameter(t *testing.T) {
	for _, tt := range []struct {
		text, fibre string
		want, tol   float64
		source      string
	}{
		// John T. Taylor, Cotton Weaving and Designing, 6th ed.: 156 yarns
		// of 32s cotton lie side by side in an inch.
		{"Ne 32", "cotton", 25.4 / 156, 0.02 * 25.4 / 156, "Taylor"},
	} {
		d, _ := ParseLinearDensity(tt.text)
		got, ok := d.Diameter(tt.fibre)
		if !ok || !near(got.MM(), tt.want, tt.tol) {
			t.Errorf("%s of %s is %v wide, want %v mm; %s", tt.text, tt.fibre, got, tt.want, tt.source)
		}
	}
	// Fibre by fibre against the formula: √(4·tex ÷ (1000·π·ρφ)) mm. Cotton
	// by Peirce's 1.1 cm³/g, the rest from memory.
	for fibre, density := range map[string]float64{"cotton": 1 / 1.1, "polyester": 1.38 * 0.6, "nylon": 1.14 * 0.6, "polyamide": 1.14 * 0.6} {
		for _, tex := range []float64{18, 40, 135} {
			want := math.Sqrt(4 * tex / (1000 * math.Pi * density))
			if got, ok := LinearDensity(tex).Diameter(fibre); !ok || !near(got.MM(), want, 0.002*want) {
				t.Errorf("Tex %v of %s is %v wide, want %v mm", tex, fibre, got, want)
			}
		}
	}
	if d, ok := LinearDensity(40).Diameter("wool"); ok || d != 0 {
		t.Errorf("wool is %v wide, %v", d, ok)
	}
}
