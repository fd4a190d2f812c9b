package desk

import (
	"encoding/json"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"placketeer/catalog/measure"
)

// bothUnits is a length printed in its unit and in the other: 1 1/4 in (32 mm).
var bothUnits = regexp.MustCompile(`((?:\d+ )?\d+(?:/\d+|\.\d+)? (?:mm|in)) \(((?:\d+ )?\d+(?:/\d+|\.\d+)? (?:mm|in))\)`)

// printedAfter is the first length that stands in both units after a text.
func printedAfter(t *testing.T, out, after string) (lengths []measure.Length) {
	t.Helper()
	_, rest, ok := strings.Cut(out, after)
	if !ok {
		return nil
	}
	m := bothUnits.FindStringSubmatch(rest)
	if m == nil {
		t.Fatalf("no length after %q in %s", after, out)
	}
	for _, s := range m[1:] {
		l, err := measure.ParseLength(s, measure.NoUnit)
		if err != nil {
			t.Fatal(err)
		}
		lengths = append(lengths, l)
	}
	return lengths
}

// TestBothUnitsHold: a least is printed rounded up and a most down, each unit
// on its own, so that either figure is right.
func TestBothUnitsHold(t *testing.T) {
	type row struct{ after, key string }
	holes := []row{{"Cut the hole ", "length_mm"}}
	stands := []row{{"  least ", "least_mm"}, {"  usual ", "usual_mm"}, {"  full ", "full_mm"}, {"  facing ", "facing_usual_mm"}, {"  draft ", "extension_mm"}, {"  cut it ", "band_cut_mm"}}
	strips := []row{{"Cut the strip ", "width_mm"}, {" at least = ", "least_mm"}, {" buy ", "needed_mm"}}
	r := &both{Rand: rand.New(rand.NewPCG(7, 1888)), tables: map[string][]string{}}
	for i := range 60 {
		r.mm = i%2 == 0
		button := []string{"--diameter", r.length(8, 40), "--thickness", r.length(1, 6)}
		for _, q := range []struct {
			args []string
			rows []row
		}{
			{append([]string{"buttonhole"}, button...), holes},
			{append([]string{"stand", "--construction", r.one("folded", "faced", "band")}, button...), stands},
			{append([]string{"strip", "--stand", r.length(15, 40), "--pieces", "3", "--length", r.length(300, 700), "--goods-width", "90cm"}, button...), strips},
		} {
			_, text, _ := asked(q.args...)
			_, out, _ := asked(append(q.args, "--format", "json")...)
			var figures map[string]any
			if err := json.Unmarshal([]byte(out), &figures); err != nil {
				t.Fatalf("%v: %v", q.args, err)
			}
			for _, row := range q.rows {
				exact, ok := figures[row.key].(float64)
				if !ok {
					continue
				}
				for _, l := range printedAfter(t, text, row.after) {
					if l.MM() < exact-1e-6 {
						t.Errorf("%v: %s is printed as %v, too short for %v mm", q.args, row.key, l, exact)
					}
				}
			}
		}
		// The band that an extension leaves fits into it.
		args := []string{"stand", "--diameter", "15 mm", "--construction", "folded", "--extension", r.length(60, 150), "--turn-under", r.length(1, 15)}
		_, text, _ := asked(args...)
		for _, l := range printedAfter(t, text, "  band ") {
			if code, out, _ := asked(append(args, "--band", l.Exact(measure.MM), "--format", "json")...); strings.Contains(out, "band-extension") {
				t.Errorf("%v: a band of %v does not fit (%d)", args, l, code)
			}
		}
	}
}

// TestStandHoldsItsOwn: what stand says to make, typed back, is reported by no
// rule: in either unit, by the size of every button.
func TestStandHoldsItsOwn(t *testing.T) {
	for ligne := 12; ligne <= 70; ligne++ {
		d := (measure.Length(ligne) * measure.Ligne).Exact(measure.MM)
		_, text, _ := asked("stand", "--diameter", d, "--thickness", "3mm")
		for _, l := range printedAfter(t, text, "Make the stand ") {
			_, out, _ := asked("stand", "--diameter", d, "--thickness", "3mm", "--stand", l.Exact(measure.MM), "--format", "json")
			if strings.Contains(out, "stand-narrow") {
				t.Errorf("a button of %s: a stand of %v is reported", d, l)
			}
		}
	}
}

// TestStandForLargest: the largest button of a stand, typed back, is not
// reported; a little more is.
func TestStandForLargest(t *testing.T) {
	for mm := 10; mm <= 40; mm++ {
		stand := (measure.Length(mm) * measure.Millimetre).Exact(measure.MM)
		_, text, _ := asked("stand", "--stand", stand)
		for _, l := range printedAfter(t, text, "Take a button of ") {
			_, out, _ := asked("stand", "--diameter", l.Exact(measure.MM), "--thickness", "3mm", "--stand", stand, "--format", "json")
			if strings.Contains(out, `"caution"`) || strings.Contains(out, `"conflict"`) {
				t.Errorf("a stand of %s: a button of %v is reported: %s", stand, l, out)
			}
			more := (l + 2*measure.Millimetre).Exact(measure.MM)
			if _, out, _ = asked("stand", "--diameter", more, "--thickness", "3mm", "--stand", stand, "--format", "json"); !strings.Contains(out, `"caution"`) {
				t.Errorf("a stand of %s: a button of %s is not reported", stand, more)
			}
		}
	}
}

// TestNeedleNotForbidden: a needle that is named is not refused in the next
// line, by the cloth, the thread or the machine; where none suits it says so.
func TestNeedleNotForbidden(t *testing.T) {
	for _, cloth := range []string{"melton", "denim", "denim-heavy", "poplin", "lining", "leather-garment", "corduroy", "fleece", "duck-6", "fur-fabric", "waxed-duck", "leather-firm"} {
		for _, tex := range []string{"", "Tex 18", "Tex 24", "Tex 30", "Tex 40", "Tex 60", "Tex 90", "Tex 120", "Tex 180", "Tex 270"} {
			args := []string{"needle", "--cloth", cloth}
			if tex != "" {
				args = append(args, "--thread", tex)
			}
			_, out, _ := asked(args...)
			if strings.HasPrefix(out, "Use needle") && (strings.Contains(out, "[needle-machine]") || strings.Contains(out, "[needle-thread]") || strings.Contains(out, "[needle-cloth]")) {
				t.Errorf("%v: %s", args, out)
			}
			if !strings.HasPrefix(out, "Use needle") && !strings.HasPrefix(out, "No needle suits both") {
				t.Errorf("%v: %s", args, out)
			}
		}
	}
}
