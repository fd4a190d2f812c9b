package measure

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// gnuUnits converts each pair {from, to} with one run of GNU units and gives
// the numbers. Without the program it skips, in continuous integration it
// fails.
func gnuUnits(t *testing.T, pairs [][2]string) []float64 {
	t.Helper()
	path, err := exec.LookPath("units")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("GNU units is not installed (Debian package units)")
		}
		t.Skip("GNU units is not installed (Debian package units)")
	}
	var in bytes.Buffer
	for _, p := range pairs {
		fmt.Fprintf(&in, "%s\n%s\n", p[0], p[1])
	}
	// An empty personal file keeps other people's definitions out.
	cmd := exec.Command(path, "-f", "", "--terse", "--digits", "15")
	cmd.Env = append(os.Environ(), "LC_ALL=C.UTF-8", "HOME="+t.TempDir(), "MYUNITSFILE=")
	cmd.Stdin = &in
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("units: %v\n%s", err, out)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(pairs) {
		t.Fatalf("units gave %d lines for %d questions:\n%s", len(lines), len(pairs), out)
	}
	numbers := make([]float64, len(lines))
	for i, line := range lines {
		if numbers[i], err = strconv.ParseFloat(line, 64); err != nil {
			t.Fatalf("units: %s to %s: %s", pairs[i][0], pairs[i][1], line)
		}
	}
	return numbers
}

// GNU units knows every constant that is used here.
func TestGNUUnits(t *testing.T) {
	length := func(s string) (float64, error) { l, err := ParseLength(s, NoUnit); return l.MM(), err }
	weight := func(s string) (float64, error) { w, err := ParseAreaWeight(s); return w.GSM(), err }
	tex := func(s string) (float64, error) { d, err := ParseLinearDensity(s); return d.Tex(), err }
	celsius := func(s string) (float64, error) { c, err := ParseTemperature(s); return c.C(), err }
	newton := func(s string) (float64, error) { f, err := ParseForce(s); return f.N(), err }
	thread := func(f func(LinearDensity) float64) func(string) (float64, error) {
		return func(s string) (float64, error) { d, err := ParseLinearDensity(s); return f(d), err }
	}
	convert := func(key string) func(string) (float64, error) {
		return func(s string) (float64, error) {
			c, err := Convert(s)
			for _, v := range c.Values {
				if v.Key == key {
					return v.Value, err
				}
			}
			return 0, fmt.Errorf("no key %s: %w", key, err)
		}
	}
	tests := []struct {
		text     string
		ours     func(string) (float64, error)
		from, to string // for units
	}{
		{"1 in", length, "inch", "mm"},
		{"1 ft", length, "foot", "mm"},
		{"1 yd", length, "yard", "mm"},
		{"1 cm", length, "cm", "mm"},
		{"1 m", length, "m", "mm"},
		{"1 µm", length, "um", "mm"},
		{"1 ligne", length, "buttonline", "mm"},
		{"45L", length, "45 buttonline", "mm"},
		{"1 1/8 in", length, "(1+1|8) inch", "mm"},
		{"2 ft 3 1/2 in", length, "2 ft + 3 in + 1|2 in", "mm"},
		{"1 yd 2 ft", length, "yard + 2 ft", "mm"},
		{"8 oz leather", length, "8|64 inch", "mm"},
		{"28 mm", convert("in"), "28 mm", "inch"},
		{"28 mm", convert("ligne"), "28 mm", "buttonline"},
		{"28 mm", convert("cm"), "28 mm", "cm"},
		{"28 mm", convert("ft"), "28 mm", "foot"},
		{"28 mm", convert("yd"), "28 mm", "yard"},

		{"1 oz/yd2", weight, "oz/yd^2", "g/m^2"},
		{"18.3 oz/yd2", weight, "18.3 oz/yd^2", "g/m^2"},
		{"19 oz/yd run at 56 in", weight, "19 oz/(yd * 56 inch)", "g/m^2"},
		{"500 g/m run at 150 cm", weight, "500 g/(m * 150 cm)", "g/m^2"},
		{"duck no. 10", weight, "(19-10) oz/(36 inch * 22 inch)", "g/m^2"},
		{"duck no. 3/0", weight, "21 oz/(36 inch * 22 inch)", "g/m^2"},
		{"620 gsm", convert("oz_yd2"), "620 g/m^2", "oz/yd^2"},

		{"40 tex", tex, "40 tex", "g/km"},
		{"360 den", tex, "360 denier", "tex"},
		{"400 dtex", tex, "400 drex", "tex"},
		{"Nm 25", tex, "1/(25 metricyarncount)", "tex"},
		{"Nm 80/2", tex, "2/(80 metricyarncount)", "tex"},
		{"40 wt", tex, "1/(40 m/g)", "tex"},
		{"Ne 1", tex, "1/cottonyarncount", "tex"},
		{"Ne 40/2", tex, "2/(40 cottonyarncount)", "tex"},
		{"Ne 30", tex, "1/(30 cottonyarncount)", "tex"},
		{"Tkt 75", tex, "3 g/(75 m)", "tex"},
		{"cotton Tkt 40", tex, "3 lb/(40*840 yd)", "tex"},
		{"Tex 40", thread(LinearDensity.Denier), "40 tex", "denier"},
		{"Tex 40", thread(LinearDensity.Dtex), "40 tex", "drex"},
		{"Tex 40", thread(LinearDensity.Nm), "1/(40 tex)", "metricyarncount"},
		{"Tex 40", thread(LinearDensity.Ne), "1/(40 tex)", "cottonyarncount"},
		{"Tex 40", thread(LinearDensity.Tkt), "3 g/(40 tex)", "m"},
		{"Tex 40", thread(LinearDensity.CottonTkt), "3 lb/(40 tex)", "840 yd"},
		{"Ne 1", thread(LinearDensity.Nm), "cottonyarncount", "metricyarncount"},

		{"300 F", celsius, "tempF(300)", "tempC"},
		{"572 F", celsius, "tempF(572)", "tempC"},
		{"2 dots", convert("f"), "tempC(150)", "tempF"},

		{"1 lbf", newton, "lbf", "N"},
		{"7.72 kgf", newton, "7.72 kgf", "N"},
		{"1050 cN", newton, "1050 cN", "N"},
		{"70 N", convert("lbf"), "70 N", "lbf"},
		{"70 N", convert("kgf"), "70 N", "kgf"},
	}
	var pairs [][2]string
	for _, tt := range tests {
		pairs = append(pairs, [2]string{tt.from, tt.to})
	}
	// The trap: there a ligne is the French line and a line 1/12 in, so
	// neither name may be looked up for a button.
	pairs = append(pairs, [2]string{"ligne", "mm"}, [2]string{"line", "mm"})
	theirs := gnuUnits(t, pairs)
	for i, tt := range tests {
		ours, err := tt.ours(tt.text)
		// Lengths are whole nanometres, and Convert keeps 15 digits.
		if want := theirs[i]; err != nil || !near(ours, want, 1e-14*want) {
			t.Errorf("%s is %.17g, %v; units has %.17g (%s in %s)", tt.text, ours, err, want, tt.from, tt.to)
		}
	}
	ligne, line := theirs[len(tests)], theirs[len(tests)+1]
	if !near(ligne, 2.25583, 1e-5) || !near(line, 25.4/12, 1e-12) {
		t.Errorf("units has a ligne of %v mm and a line of %v mm", ligne, line)
	}
	for _, word := range []string{"ligne", "line", "lignes", "lines"} {
		if l, err := ParseLength("1 "+word, NoUnit); err != nil || near(l.MM(), ligne, 1) || near(l.MM(), line, 1) {
			t.Errorf("1 %s is %v, %v", word, l, err)
		}
	}
}

// The same mixed numbers in every unit, read by both programs.
func TestGNUUnitsMixed(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	words := []struct{ ours, theirs string }{
		{"in", "inch"}, {`"`, "inch"}, {"ft", "foot"}, {"yd", "yard"}, {"L", "buttonline"}, {"mm", "mm"}, {"cm", "cm"}, {"µm", "um"},
	}
	var texts []string
	var pairs [][2]string
	for range 300 {
		u := words[r.IntN(len(words))]
		whole, bottom := r.IntN(9)+1, 1<<(r.IntN(6)+1)
		top := r.IntN(bottom)
		if top == 0 {
			part := r.IntN(1000)
			texts = append(texts, fmt.Sprintf("%d.%03d %s", whole, part, u.ours))
			pairs = append(pairs, [2]string{fmt.Sprintf("%d.%03d %s", whole, part, u.theirs), "nm"})
			continue
		}
		texts = append(texts, fmt.Sprintf("%d %d/%d%s", whole, top, bottom, u.ours))
		pairs = append(pairs, [2]string{fmt.Sprintf("(%d + %d|%d) %s", whole, top, bottom, u.theirs), "nm"})
	}
	for i, want := range gnuUnits(t, pairs) {
		got, err := ParseLength(texts[i], NoUnit)
		if err != nil || !near(float64(got), want, 0.5+1e-6) {
			t.Errorf("%s is %d nm, %v; units has %v", texts[i], got, err, want)
		}
	}
}
