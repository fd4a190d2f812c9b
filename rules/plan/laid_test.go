package plan

import (
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/rules/trial"
)

// laidCoat has two closures on one opening of 600, an edge 20 beyond the centre
// line and a seam of 10, so its cloth ends at 30; a plaid may be put on it.
const laidCoat = `garment = "Slip coat (invented)"
units = "mm"
[cloth.shell]
weight = "300 g/m2"
thickness = "1 mm"
[[closure]]
name = "upper"
opening = "front"
fastener = "button"
over = ["shell", "shell"]
[closure.notion]
diameter = 20
thickness = 3
[closure.stand]
construction = "faced"
finished = 20
seam = 10
[closure.run]
length = 600
first = 30
last = 330
count = 2
[[closure]]
name = "lower"
opening = "front"
fastener = "snap"
over = ["shell", "shell"]
[closure.notion]
diameter = 15
post = 4
[closure.run]
length = 600
first = 400
last = 100
count = 2
`

func laidPlan(t *testing.T, with ...string) *Plan {
	t.Helper()
	return Of(trial.Read(t, laidCoat, with...), false)
}

// An opening has one facing and one hem, the most that any of its closures says;
// of two that say the same, the first.
func TestOfOneOpening(t *testing.T) {
	for _, c := range []struct {
		upper, lower string
		reach        measure.Length
		by           int
	}{{"60", "60", 60, 0}, {"60", "59", 60, 0}, {"60", "61", 61, 1}} {
		p := laidPlan(t, "closure.upper.stand.facing="+c.upper+" mm", "closure.lower.stand.facing="+c.lower+" mm", "closure.upper.run.hem="+c.upper+" mm", "closure.lower.run.hem="+c.lower+" mm")
		if reach, by := p.Facing(1); reach != c.reach*mm || by != c.by {
			t.Errorf("facings %+v: %v by %d", c, reach, by)
		}
		if hem, by := p.Hem(1, 0); hem.V != c.reach*mm || by != c.by {
			t.Errorf("hems %+v: %v by %d", c, hem.V, by)
		}
	}
	p := laidPlan(t)
	if _, by := p.Facing(0); by != -1 {
		t.Errorf("a facing by %d, which none has", by)
	}
	if _, by := p.Hem(0, 0); by != -1 {
		t.Errorf("a hem by %d, which none has", by)
	}
	if p.PiecesOf(0, 0) == nil || p.PiecesOf(0, 1) != nil {
		t.Error("pieces of a size that is not there")
	}
}

// Stripes are drawn from the edge of the cloth, 30 beyond the line, inwards, every
// repeat of 5 mm and more, ours; finer ones are not. Down the front they begin at
// the top: at 5 of a repeat of 50 there are 12 on 600, at 0 there are 13.
func TestStripesByHand(t *testing.T) {
	stripes := func(with ...string) (across, down []measure.Length) {
		for _, pc := range laidPlan(t, with...).PiecesOf(0, 0) {
			if pc.Side != Over {
				continue
			}
			for _, l := range pc.Lines {
				if l.Kind != StripeLine {
					continue
				}
				if l.From.Out == l.To.Out {
					across = append(across, l.From.Out)
				} else {
					down = append(down, l.From.At)
				}
			}
		}
		return across, down
	}
	for _, c := range []struct {
		repeat, at string
		n          int
		from, to   measure.Length
	}{{"50", "5", 12, 5, 555}, {"50", "0", 13, 0, 600}, {"5", "0", 121, 0, 600}, {"4.99", "0", 0, 0, 0}, {"50", "-5", 12, 45, 595}} {
		_, down := stripes("cloth.shell.repeat.along="+c.repeat+" mm", "closure.upper.check.over_along="+c.at+" mm")
		if len(down) != c.n || c.n > 0 && (slices.Min(down) != c.from*mm || slices.Max(down) != c.to*mm) {
			t.Errorf("every %s from %s: %d: %v", c.repeat, c.at, len(down), down)
		}
	}
	for _, c := range []struct {
		repeat string
		any    bool
		to     measure.Length
	}{{"10", true, 30}, {"40", true, 0}, {"5", true, 30}, {"4.99", false, 0}} {
		across, _ := stripes("cloth.shell.repeat.across="+c.repeat+" mm", "closure.upper.check.over=0 mm")
		if (len(across) > 0) != c.any || c.any && slices.Max(across) != c.to*mm {
			t.Errorf("every %s across: %v", c.repeat, across)
		}
	}
}

// As thick as the foot lifts goes under it; where nobody says how far it lifts
// nothing is known.
func TestGoesUnderTheFoot(t *testing.T) {
	s := &Stack{Thick: 4 * mm, Pressed: 4 * mm}
	for _, c := range []struct {
		lift, extra measure.Length
		goes        bool
	}{{4 * mm, 0, true}, {4*mm - 1, 0, false}, {2 * mm, 4 * mm, true}, {2 * mm, 4*mm - 1, false}} {
		m := &catalog.Machine{FootLift: catalog.Measured{V: c.lift, From: catalog.Given}, FootLiftExtra: catalog.Measured{V: c.extra, From: catalog.Given}}
		if goes, known := s.GoesUnder(m); goes != c.goes || !known {
			t.Errorf("%+v: %v, known %v", c, goes, known)
		}
	}
	if goes, known := s.GoesUnder(&catalog.Machine{}); goes || known {
		t.Error("known of a machine of which nothing is said")
	}
}

// A cloth of no weight is taken to weigh what its thickness comes to: a
// millimetre at 0.424 g/cm³ 424 g/m². The heaviest counts.
func TestHeaviestByThickness(t *testing.T) {
	zip := strings.Replace(laidCoat, "weight = \"300 g/m2\"\n", "", 1)
	p := Of(trial.Read(t, zip), false)
	if gsm, leather := HeaviestGSM(&p.Closures[0]); gsm != 424 || leather {
		t.Errorf("%v g/m²", gsm)
	}
	p = laidPlan(t)
	if gsm, _ := HeaviestGSM(&p.Closures[0]); gsm != 300 {
		t.Errorf("%v g/m²", gsm)
	}
}

// A patch over the ends of a cord is cut 1 3/4 × 3 in (a sewer's page, 2010).
func TestPatchOverEnds(t *testing.T) {
	if PatchWide != in*7/4 || PatchLong != 3*in {
		t.Errorf("%v × %v", PatchWide, PatchLong)
	}
}

// A ruler in millimetres marks 10, 5, 2 and 1, one in inches halves down to
// sixteenths (common practice, no source).
func TestMarksOfARuler(t *testing.T) {
	if got := Marks(measure.MM); !slices.Equal(got, []measure.Length{10 * mm, 5 * mm, 2 * mm, mm}) {
		t.Errorf("%v", got)
	}
	if got := Marks(measure.In); !slices.Equal(got, []measure.Length{in / 2, in / 4, in / 8, in / 16}) {
		t.Errorf("%v", got)
	}
}
