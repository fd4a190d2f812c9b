package rules

import (
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules/plan"
)

// said are the findings of a rule on a coat with the given machine, cloth and
// fastener.
func saidOf(t *testing.T, rule, machine, cloth, notion string) *Finding {
	t.Helper()
	text := "garment = \"Slip coat (invented)\"\nunits = \"mm\"\n[machine]\n" + machine + "\n[cloth.shell]\nuse = \"melton\"\n" + cloth +
		"\n[[closure]]\nname = \"front\"\nover = [\"shell\", \"shell\", \"shell\"]\n[closure.notion]\n" + notion +
		"\n[closure.run]\nlength = 600\ncount = 5\n"
	g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := Plan(g)
	for i := range p.Findings {
		if p.Findings[i].Rule == rule {
			return &p.Findings[i]
		}
	}
	return nil
}

// A conflict holds at the favourable end of every ± and rests on no weak
// ground; else it is a caution that names the value to measure or to ask for.
// The sums are plain subtraction: three layers of 2.4 mm are 7.2 mm, and a
// button of 25 and 4 mm needs a hole of 29 mm.
func TestNoConflictOnWeakGround(t *testing.T) {
	for _, c := range []struct {
		name, rule, machine, cloth, notion string
		sev                                Severity
		unsure                             bool
		names                              string
	}{
		{"measured", "foot-lift", `foot_lift = "6 mm"`, `thickness = "2.4 mm"`, "diameter = 20\nthickness = 3", Conflict, false, ""},
		{"± too small to help: 7.2 − 0.9 > 6", "foot-lift", `foot_lift = "6 mm"`, `thickness = "2.4 mm ± 0.3"`, "diameter = 20\nthickness = 3", Conflict, false, ""},
		{"within the ±: 7.2 − 1.2 = 6", "foot-lift", `foot_lift = "6 mm"`, `thickness = "2.4 mm ± 0.4"`, "diameter = 20\nthickness = 3", Caution, true, "cloth.shell.thickness"},
		{"within the ± of both: 7.2 − 0.9 ≤ 6 + 0.3", "foot-lift", `foot_lift = "6 mm ± 0.3"`, `thickness = "2.4 mm ± 0.3"`, "diameter = 20\nthickness = 3", Caution, true, "cloth.shell.thickness"},
		{"an estimate's bounds are its ±", "foot-lift", `foot_lift = "6 mm"`, `weight = "620 g/m2"`, "diameter = 20\nthickness = 3", Caution, true, "cloth.shell.thickness"},
		{"a limit that the file gives", "hole-machine", `buttonhole_max = "28 mm"`, `thickness = "1 mm"`, "diameter = 25\nthickness = 4", Conflict, false, ""},
		{"a limit that nobody gave", "hole-machine", "", `thickness = "1 mm"`, "diameter = 25\nthickness = 4", Caution, true, "machine.buttonhole_max"},
		{"within the ± of the button", "hole-machine", `buttonhole_max = "28 mm"`, `thickness = "1 mm"`, "diameter = \"25 mm ± 0.7\"\nthickness = \"4 mm ± 0.3\"", Caution, true, "closure.front.notion.diameter"},
	} {
		f := saidOf(t, c.rule, c.machine, c.cloth, c.notion)
		switch {
		case f == nil:
			t.Errorf("%s: %s says nothing", c.name, c.rule)
		case f.Severity != c.sev || f.Unsure != c.unsure || !strings.Contains(f.Message(), c.names):
			t.Errorf("%s: %s, unsure %v: %s", c.name, f.Severity, f.Unsure, f.Message())
		}
	}
}

// Every rule with figures of each ground: only firm ones carry a conflict.
func TestGroundsDecide(t *testing.T) {
	for g := plan.Read; g <= plan.Memory; g++ {
		x := Context{P: &Planned{}, G: &catalog.Garment{}, Rule: Rules()[0]}
		f := x.report(Conflict, whole("machine"), atLeast(1*mm, 2*mm).on(plan.Basis{Ground: g, Key: "some.key"}), "it is too short")
		weak := g == plan.Ours || g == plan.Default || g == plan.Memory
		if (f.Severity == Conflict) == weak || f.Unsure != weak || weak && !strings.Contains(f.Message(), "set some.key") {
			t.Errorf("%s: %s: %s", g, f.Severity, f.Message())
		}
	}
}

// No figure from memory of a stock entry carries a conflict, in stacks from
// far too thin to far too thick.
func TestStockFromMemoryForbidsNothing(t *testing.T) {
	c, err := catalog.StockCatalog()
	if err != nil {
		t.Fatal(err)
	}
	judged := []string{"hardware-grip", "hardware-post", "hardware-hole", "hardware-step", "zip-length", "zip-seam", "zip-clear", "zip-fly"}
	entries, cautions := 0, map[string]int{}
	for _, n := range c.Notions {
		if n.Sure != "memory" {
			continue
		}
		switch n.Kind {
		case catalog.TackButton, catalog.Snap, catalog.Rivet, catalog.Eyelet, catalog.Hook, catalog.Zip:
		default:
			continue
		}
		entries++
		for _, thick := range []string{"0.3", "1", "4", "12"} {
			text := "garment = \"Slip jacket (invented)\"\nunits = \"mm\"\n[cloth.shell]\nuse = \"waxed-duck\"\nthickness = " + thick + "\npressed = 0.9\n[[closure]]\nname = \"front\"\nuse = \"" + n.Name + "\"\nover = [\"shell\", \"shell\"]\n"
			switch n.Kind {
			case catalog.Zip:
				text += "[closure.stand]\nconstruction = \"fly\"\nfinished = 8\n"
			case catalog.Hook:
			default:
				text += "punch = 9\nthickness_step = 5\n"
			}
			text += "[closure.run]\nlength = 2000\n"
			if n.Kind != catalog.Zip {
				text += "count = 5\n"
			}
			for _, f := range planned(t, text).Findings {
				if !slices.Contains(judged, f.Rule) {
					continue
				}
				if f.Severity == Conflict {
					t.Errorf("%s in layers of %s mm: %s: %s", n.Name, thick, f.Rule, f.Message())
				}
				if f.Unsure {
					cautions[f.Rule]++
				}
			}
		}
	}
	if entries < 60 {
		t.Errorf("only %d entries", entries)
	}
	for _, rule := range []string{"hardware-grip", "hardware-post", "hardware-hole", "hardware-step", "zip-length"} {
		if cautions[rule] == 0 {
			t.Errorf("%s never came near a conflict", rule)
		}
	}
}

// The rules about holes, stands, strips, ends and columns: the sums are plain
// subtraction, with the least distances that the rules name.
func TestGroundsOfHolesAndStands(t *testing.T) {
	const head = "garment = \"Slip coat (invented)\"\nunits = \"mm\"\n[machine]\nuse = \"domestic\"\nbuttonhole_max = 60\n[cloth.shell]\nuse = \"melton\"\nthickness = \"1 mm\"\n[interfacing.in]\nuse = \"hair-canvas\"\nthickness = \"0.5 mm\"\nwidth = 1500\n[[closure]]\nname = \"front\"\nover = [\"shell\", \"in\", \"shell\"]\n"
	const button = "[closure.notion]\ndiameter = 24\nthickness = 4\nholes = 4\n"
	const run = "\n[closure.run]\nlength = 600\ncount = 4\n"
	for _, c := range []struct {
		name, rule, text string
		sev              Severity
		names            string // the value to measure or to ask for, where it is unsure
	}{
		// A hole of 28 mm ends 28 − 3.2 = 24.8 mm inside; with a stand of 24 and
		// 6.4 mm beyond it the strip is 55.2 mm at least.
		{"strip, all given", "strip-narrow", "hole_length = 28\n" + button + "[closure.stand]\nfinished = 24\nstrip = 50" + run, Conflict, ""},
		{"strip, within the ± of the strip", "strip-narrow", "hole_length = 28\n" + button + "[closure.stand]\nfinished = 24\nstrip = \"54 mm ± 2\"" + run, Caution, "closure.front.stand.strip"},
		{"strip, within the ± of the stand", "strip-narrow", "hole_length = 28\n" + button + "[closure.stand]\nfinished = \"24 mm ± 2\"\nstrip = 54" + run, Caution, "closure.front.stand.finished"},
		{"strip, a stand that nobody gave", "strip-narrow", "hole_length = 28\n" + button + "[closure.stand]\nstrip = 40" + run, Caution, "closure.front.stand.finished"},
		{"strip, short by less than the hole's ± ", "strip-narrow", strings.Replace(button, "thickness = 4", "thickness = \"4 mm ± 3\"", 1) + "[closure.stand]\nfinished = 24\nstrip = 54" + run, Caution, "closure.front.notion.thickness"},
		{"facing, all given", "facing-short", "hole_length = 28\n" + button + "[closure.stand]\nfinished = 24\nfacing = 20" + run, Conflict, ""},
		{"facing, within its ±", "facing-short", "hole_length = 28\n" + button + "[closure.stand]\nfinished = 24\nfacing = \"24 mm ± 1\"" + run, Caution, "closure.front.stand.facing"},
		// The inner column stands 60 mm behind the centre line, its rim at 72.
		{"facing, within the ± of the columns", "facing-short", "lap = \"double\"\n" + button + "[closure.stand]\nfinished = 90\nfacing = 71\n[closure.rows]\ndistance = \"60 mm ± 2\"" + run, Caution, "closure.front.rows.distance"},
		{"columns, all given", "rows-touch", "lap = \"double\"\ndirection = \"along\"\n" + button + "[closure.stand]\nfinished = 90\n[closure.rows]\ndistance = 10" + run, Conflict, ""},
		{"columns, within their ±", "rows-touch", "lap = \"double\"\ndirection = \"along\"\n" + button + "[closure.stand]\nfinished = 90\n[closure.rows]\ndistance = \"11.5 mm ± 1\"" + run, Caution, "closure.front.rows.distance"},
		// Half of 24 mm, and 12.7 mm above the end.
		{"last, given", "last-low", button + run + "last = 10", Conflict, ""},
		{"last, within its ±", "last-low", button + run + "last = \"12 mm ± 2\"", Caution, "closure.front.run.last"},
		{"first, given", "first-high", button + run + "first = 8", Conflict, ""},
		{"first, within its ±", "first-high", button + run + "first = \"11 mm ± 2\"", Caution, "closure.front.run.first"},
		// From memory: a hole 3/8 in above the turned-up hem.
		{"above the turn-up, from memory", "last-low", "direction = \"along\"\nhole_length = 28\n" + button + run + "hem = 40\nlast = 70", Caution, ""},
		{"stand, given", "stand-narrow", button + "[closure.stand]\nfinished = 12" + run, Conflict, ""},
		{"stand, within its ±", "stand-narrow", button + "[closure.stand]\nfinished = \"14 mm ± 2\"" + run, Caution, "closure.front.stand.finished"},
		{"hole, given", "hole-short", "hole_length = 24\n" + button + run, Conflict, ""},
		{"hole, within its ±", "hole-short", "hole_length = \"27 mm ± 2\"\n" + button + run, Caution, "closure.front.hole_length"},
		{"hole, by a rule that the file names", "hole-short", "hole_rule = \"diameter\"\n" + button + run, Caution, ""},
		{"machine, given", "hole-machine", "hole_length = 70\n" + button + run, Conflict, ""},
	} {
		g, err := catalog.Read("coat.toml", []byte(head+c.text+"\n"), catalog.Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var f *Finding
		p := Plan(g)
		for i := range p.Findings {
			if p.Findings[i].Rule == c.rule && f == nil {
				f = &p.Findings[i]
			}
		}
		switch {
		case f == nil:
			t.Errorf("%s: %s says nothing", c.name, c.rule)
		case f.Severity != c.sev || f.Unsure != (c.names != "") || !strings.Contains(f.Message(), c.names):
			t.Errorf("%s: %s, unsure %v: %s", c.name, f.Severity, f.Unsure, f.Message())
		}
	}
}
