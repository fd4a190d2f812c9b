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
