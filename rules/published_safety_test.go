package rules

import (
	"math"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
)

func TestPublishedForces(t *testing.T) {
	for _, c := range []struct {
		source    string
		got, want float64
		tol       float64
	}{
		{"16 CFR 1500.51: 10 lbf on a seam", (10 * measure.PoundForce).N(), 44.5, .05},
		{"definition of the pound-force: 15 lbf", (15 * measure.PoundForce).N(), 66.72, .02},
		{"EN 71-1, 90 N", measure.Force(90).Lbf(), 20.23, .02},
		{"MIL-B-286D: 60 lb", (60 * measure.PoundForce).N(), 266.9, .1},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s: %g, published %g", c.source, c.got, c.want)
		}
	}
}

// 16 CFR 1500.50: to 18 months 1500.51, over 18 to 36 1500.52, over 36 to 96
// 1500.53; a label that spans them takes the most stringent of them.
func TestPublishedAgeBands(t *testing.T) {
	for months, want := range map[int]string{
		0: "16 CFR 1500.51", 18: "16 CFR 1500.51", 19: "16 CFR 1500.52", 36: "16 CFR 1500.52",
		37: "16 CFR 1500.53", 96: "16 CFR 1500.53", 97: "",
	} {
		if got := strings.Join(UseAbuseSpan(months, months), ", "); got != want {
			t.Errorf("%d months: %q, published %q", months, got, want)
		}
	}
	for span, want := range map[[2]int]string{
		{17, 18}: "51", {18, 19}: "51 52", {19, 36}: "52", {36, 37}: "52 53", {18, 37}: "51 52 53", {96, 120}: "53", {97, 120}: "",
	} {
		if got := strings.ReplaceAll(strings.Join(UseAbuseSpan(span[0], span[1]), " "), "16 CFR 1500.", ""); got != want {
			t.Errorf("%d to %d months: %q, published %q", span[0], span[1], got, want)
		}
	}
	// Of a garment whose sizes span them: 12 to 48 months is all three, 24 to
	// 35 the second alone. The pull is that of the oldest.
	for _, c := range []struct{ wearer, want string }{
		{"wearer = \"infant\"\n[sizes]\nnames = [\"1\", \"3\", \"4\"]", "borrow 66.7 N (15 lbf) from 16 CFR 1500.51, 16 CFR 1500.52 and 16 CFR 1500.53, a rule for toys"},
		{"wearer = \"infant\"", "borrow 66.7 N (15 lbf) from 16 CFR 1500.51 and 16 CFR 1500.52, a rule for toys"},
		{"wearer = \"child\"\n[sizes]\nnames = [\"2T\"]", "borrow 66.7 N (15 lbf) from 16 CFR 1500.52, a rule for toys"},
		{"wearer = \"infant\"\nage = 1.5", "borrow 44.5 N (10 lbf) from 16 CFR 1500.51, a rule for toys"},
		{"wearer = \"child\"\nage = 5", "borrow 66.7 N (15 lbf) from 16 CFR 1500.53, a rule for toys"},
		{"wearer = \"child\"\nage = 9", ""},
	} {
		text := strings.Replace(garmentOf("use = \"melton\"", "use = \"horn-36\"\nover = [\"shell\", \"shell\"]"), "[cloth", "market = \"us\"\n"+c.wearer+"\n[cloth", 1)
		g, err := catalog.Read("test.toml", []byte(text), catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, f := range Plan(g).Findings {
			if f.Rule == "safety-pull" {
				got += f.Message()
			}
		}
		if !strings.Contains(got, c.want) || c.want == "" && got != "" {
			t.Errorf("%q: %q, want %q", c.wearer, got, c.want)
		}
	}
}

// EN 71-1, laboratory's summary: 50 N to 6 mm, 90 N above.
func TestPublishedToyPull(t *testing.T) {
	if ToyPull(mms(6.0)) != 50 || ToyPull(mms(6.1)) != 90 {
		t.Errorf("6.0 mm: %v, 6.1 mm: %v", ToyPull(mms(6.0)), ToyPull(mms(6.1)))
	}
}

// The cylinder of 16 CFR 1501.4, figure 1, 1.25 in across and 1 to 2.25 in
// deep; whether discs and rods fit it is geometry.
func TestSmallPartsCylinder(t *testing.T) {
	for _, c := range []struct {
		what string
		got  Gauge
		want Gauge
	}{
		{"24 line button by 3 mm", GaugeDisc(24*measure.Ligne, mms(3)), GaugeFits},
		{"52 line button by 4 mm", GaugeDisc(52*measure.Ligne, mms(4)), GaugeNo},
		{"50 line button equals the bore", GaugeDisc(50*measure.Ligne, mms(4)), GaugeTry},
		{"toggle 70 by 12 mm", GaugeRod(mms(70), mms(12)), GaugeNo},
		{"toggle 45 by 12 mm", GaugeRod(mms(45), mms(12)), GaugeFits},
		{"toggle 55 by 12 mm", GaugeRod(mms(55), mms(12)), GaugeTry},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, wanted %d", c.what, c.got, c.want)
		}
	}
}

// REACH annex XVII, entry 27: 0.5 µg/cm² a week, posts in pierced parts under 0.2.
func TestPublishedNickel(t *testing.T) {
	if NickelOver(.4, false) || !NickelOver(.6, false) || NickelOver(.5, false) || !NickelOver(.3, true) || !NickelOver(.2, true) {
		t.Error("nickel limits")
	}
}

// US Consumer Product Safety Commission: 100 parts per million in accessible
// material, 90 in paint, and electroplate is not paint (16 CFR 1303).
func TestPublishedLead(t *testing.T) {
	if 95 > LeadLimit("plated") || 95 <= LeadLimit("painted") || LeadLimit("none") != 100 {
		t.Error("lead limits")
	}
}

// 16 CFR 1262.2: under 50 kG² mm²; 50 itself is hazardous.
func TestPublishedMagnets(t *testing.T) {
	if MagnetHazard(true, 49) || !MagnetHazard(true, 50) || MagnetHazard(false, 60) {
		t.Error("flux index")
	}
}

// US Consumer Product Safety Commission, infant garments: to 9 months, one
// piece to 64.8 cm (25.75 in, as printed), two pieces to 40 cm each.
func TestPublishedInfantGarments(t *testing.T) {
	for _, c := range []struct {
		months, parts int
		mm            float64
		want          Answer
	}{
		{9, 1, 630, Yes}, {9, 1, 660, No}, {9, 1, 648, Yes}, {9, 1, 648.1, Unsure}, {9, 1, 650, Unsure}, {9, 1, 654.05, Unsure}, {9, 1, 654.06, No}, {9, 2, 410, No}, {9, 2, 400, Yes}, {12, 1, 600, No},
	} {
		if got := InfantGarment(c.months, c.parts, mms(c.mm)); got != c.want {
			t.Errorf("%d months, %d parts, %g mm: %d, wanted %d", c.months, c.parts, c.mm, got, c.want)
		}
	}
}

func TestPublishedCords(t *testing.T) {
	type verdict struct {
		faults int
		banned bool
	}
	for _, c := range []struct {
		source string
		cord   CordCase
		want   verdict
	}{
		{"16 CFR 1120 / ASTM F1816-97: size 10, hood", CordCase{Market: "us", Size: 10, At: "hood"}, verdict{1, true}},
		{"the same: size 14, hood, outside 2T to 12", CordCase{Market: "us", Size: 14, At: "hood"}, verdict{1, false}},
		{"the same: size 14, waist, 2 1/2 in with a cord-end toggle", CordCase{Market: "us", Size: 14, At: "waist", FreeEnd: inch(2.5), Ends: "toggle"}, verdict{1, false}},
		{"the same: size 14, waist, 2 1/2 in plain", CordCase{Market: "us", Size: 14, At: "waist", FreeEnd: inch(2.5), Ends: "plain"}, verdict{0, false}},
		{"the same: 3 in is let pass, more is not", CordCase{Market: "us", Size: 6, At: "waist", FreeEnd: inch(3)}, verdict{0, false}},
		{"the same: wholly drawn back into the channel", CordCase{Market: "us", Size: 6, At: "waist", Ends: "toggle"}, verdict{0, false}},
		{"EN 14682 by Tukes: 130 cm, hood", CordCase{Market: "eu", Height: mms(1300), At: "hood"}, verdict{1, true}},
		{"EN 14682 by Tukes: 134 cm, hood", CordCase{Market: "eu", Height: mms(1340), At: "hood"}, verdict{1, true}},
		{"EN 14682 by Tukes: 140 cm, hood with free ends", CordCase{Market: "eu", Height: mms(1400), At: "hood", FreeEnd: mms(50)}, verdict{1, false}},
		{"EN 14682 by Tukes: 140 cm, hood without", CordCase{Market: "eu", Height: mms(1400), At: "hood"}, verdict{0, false}},
		{"EN 14682 by Tukes: figures of its own for free ends at hem and sleeve", CordCase{Market: "eu", Height: mms(1300), At: "hem", FreeEnd: 1}, verdict{1, false}},
		{"EN 14682 by Tukes: no end hangs out, no figure for it", CordCase{Market: "eu", Height: mms(1300), At: "hem"}, verdict{0, false}},
		{"EN 14682:2007: no knots or toggles on free ends", CordCase{Market: "eu", Height: mms(1300), At: "waist", FreeEnd: 1, Ends: "toggle"}, verdict{1, false}},
		{"EN 14682:2007: a toggle on an end that does not hang out", CordCase{Market: "eu", Height: mms(1300), At: "waist", Ends: "toggle"}, verdict{0, false}},
		{"EN 14682:2007, laboratory's note: waist 13 cm", CordCase{Market: "eu", Height: mms(1300), At: "waist", FreeEnd: mms(130)}, verdict{0, false}},
		{"EN 14682:2007, laboratory's note: waist 28 cm drawn in", CordCase{Market: "eu", Height: mms(1300), At: "waist", FreeEnd: mms(130), DrawnIn: mms(280)}, verdict{0, false}},
		{"EN 14682:2007, laboratory's note: waist 29 cm drawn in", CordCase{Market: "eu", Height: mms(1300), At: "waist", FreeEnd: mms(130), DrawnIn: mms(290)}, verdict{1, false}},
		{"EN 14682:2007, laboratory's note: waist 15 cm", CordCase{Market: "eu", Height: mms(1300), At: "waist", FreeEnd: mms(150)}, verdict{1, false}},
	} {
		got := verdict{}
		for _, f := range c.cord.Faults() {
			got.faults++
			got.banned = got.banned || f.Banned
		}
		if got != c.want {
			t.Errorf("%s: %+v, wanted %+v", c.source, got, c.want)
		}
	}
}

// The sizes of 16 CFR 1120 begin at 2T: of a smaller child its words go further,
// and say so. Of several sizes the smallest that it names binds.
func TestCordsBelowTheLeastSize(t *testing.T) {
	for size, below := range map[float64]bool{2: false, 1.9: true} {
		for _, c := range []CordCase{{At: "hood"}, {At: "waist", FreeEnd: inch(4)}} {
			c.Market, c.Size = "us", size
			if fs := c.Faults(); len(fs) != 1 || (strings.Contains(fs[0].Says, "younger child") || strings.Contains(fs[0].Says, "below it")) != below {
				t.Errorf("size %g, %s: %+v, below the sizes: %v", size, c.At, fs, below)
			}
		}
	}
}

// Each market its own rules: no finding of a child's garment cites another's.
func TestSafetyCitesItsMarket(t *testing.T) {
	for market, other := range map[string][]string{"us": {"EN 71", "EN 14682", "CEN/TS", "REACH"}, "eu": {"16 CFR", "CPSC", "ASTM"}} {
		for _, use := range []string{"magnet-19", "ring-spring-15", "polyester-24", "hook-eye-13mm"} {
			text := "garment = \"Slip jacket (invented)\"\nunits = \"mm\"\nwearer = \"infant\"\nage = 1\nmarket = \"" + market + "\"\n[cloth.shell]\nuse = \"fleece\"\n[[closure]]\nname = \"front\"\nuse = \"" + use + "\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = 250\ncount = 3\n[[cord]]\nname = \"hood\"\nat = \"hood\"\n[[cord]]\nname = \"waist\"\nat = \"waist\"\nfree_end = \"20 cm\"\nends = \"toggle\"\n"
			if use == "magnet-19" {
				text = strings.Replace(text, "use = \"magnet-19\"\n", "fastener = \"snap\"\n", 1)
				text = strings.Replace(text, "[closure.run]", "[closure.notion]\ndiameter = 19\nthickness = 4\nattach = \"sewn\"\nspring = \"magnet\"\nflux = 60\n[closure.run]", 1)
			}
			n := 0
			for _, f := range planned(t, text).Findings {
				if !strings.HasPrefix(f.Rule, "safety-") {
					continue
				}
				n++
				for _, o := range other {
					if says := f.Message() + " | " + strings.Join(f.Sources, " | "); strings.Contains(says, o) {
						t.Errorf("%s, sold in the %s, %s names %s: %s", use, market, f.Rule, o, says)
					}
				}
			}
			if n < 4 {
				t.Errorf("%s in the %s: only %d safety findings", use, market, n)
			}
		}
	}
}
