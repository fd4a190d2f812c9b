package rules

import (
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules/plan"
	"placketeer/rules/trial"
)

// said are the findings of a rule on a coat with the given machine, cloth and
// fastener.
func saidOf(t *testing.T, rule, machine, cloth, notion string) *Finding {
	t.Helper()
	text := "garment = \"Slip coat (invented)\"\nunits = \"mm\"\n[machine]\n" + machine + "\n[cloth.shell]\nuse = \"melton\"\n" + cloth +
		"\n[[closure]]\nname = \"front\"\nover = [\"shell\", \"shell\", \"shell\"]\n[closure.notion]\n" + notion +
		"\n[closure.run]\nlength = 600\ncount = 5\n"
	g := trial.Read(t, text)
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

// lengths are all lengths that a garment gives, by their way through it.
func lengthsOf(g *catalog.Garment) map[string]*catalog.Measured {
	out := map[string]*catalog.Measured{}
	var walk func(path string, v reflect.Value)
	walk = func(path string, v reflect.Value) {
		if v.CanAddr() {
			if m, ok := v.Addr().Interface().(*catalog.Measured); ok {
				if m.From != catalog.Unset {
					out[path] = m
				}
				return
			}
		}
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				if f := v.Type().Field(i); f.IsExported() && f.Type.Kind() != reflect.Pointer {
					walk(path+"."+f.Name, v.Field(i))
				}
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(fmt.Sprintf("%s[%d]", path, i), v.Index(i))
			}
		}
	}
	for i := range g.Closures {
		c := reflect.ValueOf(&g.Closures[i]).Elem()
		walk(fmt.Sprintf("closure[%d]", i), c)
	}
	for i, c := range g.Cloths {
		walk("cloth."+g.ClothNames[i], reflect.ValueOf(c).Elem())
	}
	for i, c := range g.Interfacings {
		walk("interfacing."+g.InterfNames[i], reflect.ValueOf(c).Elem())
	}
	walk("machine", reflect.ValueOf(&g.Machine).Elem())
	return out
}

// chosen are lengths that a finding compares and that nobody can be wrong
// about: what the user wants, and not what is.
var chosen = map[string]string{}

// In every garment that a rule has a conflict with, each length that the
// finding hangs on is taken for a default in its turn: no conflict may rest on
// it. That a finding hangs on a length is found out by moving it.
func TestNoConflictOnAnyDefault(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "testdata", "rules", "*", "bad*.toml"))
	if err != nil || len(files) < 100 {
		t.Fatal(len(files), err)
	}
	conflict := func(g *catalog.Garment, rule, closure, size string) *Finding {
		p := Found(g)
		for i := range p.Findings {
			if f := &p.Findings[i]; f.Rule == rule && f.Closure == closure && f.Size == size && f.Compared && f.Unit == "mm" {
				return f
			}
		}
		return nil
	}
	read := func(name string) *catalog.Garment {
		g, err := catalog.Load(name, catalog.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return g.Clone()
	}
	tried := map[string]int{}
	for _, name := range files {
		rule := filepath.Base(filepath.Dir(name))
		g := read(name)
		p := Found(g)
		for i := range p.Findings {
			f := &p.Findings[i]
			if f.Rule != rule || f.Severity != Conflict || !f.Compared || f.Unit != "mm" {
				continue
			}
			for path := range lengthsOf(g) {
				moved := read(name)
				m := lengthsOf(moved)[path]
				m.V += mm / 50
				now := conflict(moved, rule, f.Closure, f.Size)
				if now == nil || now.Severity != Conflict || now.Have == f.Have && now.Need == f.Need {
					continue
				}
				weak := read(name)
				lengthsOf(weak)[path].From = catalog.Default
				if now := conflict(weak, rule, f.Closure, f.Size); now != nil && now.Severity == Conflict && chosen[rule+" "+path] == "" {
					t.Errorf("%s: %s rests on %s, which is a default, and is a conflict: %s", filepath.Base(name), rule, path, now.Message())
				}
				tried[rule]++
			}
		}
	}
	if len(tried) < 20 {
		t.Errorf("only %d rules were tried: %v", len(tried), tried)
	}
}

// What nobody said and the plan chose is a default or our own choice: no
// conflict rests on it, unless it would be there with any other choice too. The
// strip passes a hole along by 1/4 in on either side, a keyhole 7 mm wide and a
// plain one 5: 19.7 and 17.7 mm.
func TestNoConflictOnWhatNobodySaid(t *testing.T) {
	strip := along + "|machine.keyhole=true|closure.front.stand.finished=24 mm|closure.front.stand.strip="
	dies := `machine.keyhole=true|machine.keyhole_sizes=["16 mm","24 mm"]|machine.buttonhole_sizes=`
	for _, c := range []struct {
		rule, base, with string
		sev              Severity
		asks             string
	}{
		{"strip-narrow", edgeCoat, strip + "18 mm", Caution, "closure.front.hole"},
		{"strip-narrow", edgeCoat, strip + "18 mm|closure.front.hole=keyhole", Conflict, ""},
		{"strip-narrow", edgeCoat, strip + "16 mm", Conflict, ""},
		// 28 mm passes a plain die of 35 and none of 20.
		{"hole-machine", edgeCoat, dies + `["10 mm","35 mm"]`, Caution, "closure.front.hole"},
		{"hole-machine", edgeCoat, dies + `["10 mm","35 mm"]|closure.front.hole=keyhole`, Conflict, ""},
		{"hole-machine", edgeCoat, dies + `["10 mm","20 mm"]`, Conflict, ""},
		// A thread that the file does not name was chosen for it.
		{"needle-thread", edgeCoat, "closure.front.needle=60/8|thread=", Caution, "closure.front.thread"},
		{"needle-thread", edgeCoat, "closure.front.needle=60/8|thread.seam.tex=Tex 60", Conflict, ""},
		// By hand no fastener goes under the foot.
		{"foot-lift", edgeCoat, "machine.foot_lift=2 mm|closure.front.hole=hand|machine.swing={ min = 2, max = 5 }|closure.front.notion.hole_gap=4 mm|closure.front.sewn_by=machine", Conflict, ""},
		{"foot-lift", edgeCoat, "machine.foot_lift=2 mm|closure.front.hole=hand|machine.swing={ min = 2, max = 5 }|closure.front.notion.hole_gap=4 mm", Caution, "closure.front.sewn_by"},
		// The weight of its entry, and one that was read.
		{"needle-cloth", edgeCoat, "cloth.shell={ use = \"melton\", thickness = \"2 mm\" }|closure.front.needle=75/11", Caution, "cloth.shell.weight"},
		{"needle-cloth", edgeCoat, "cloth.shell={ use = \"melton\", thickness = \"2 mm\", weight = \"620 g/m2\" }|closure.front.needle=75/11", Conflict, ""},
		// A strip is counted from the cut edge, which is a seam beyond the finished
		// one: begun 40 mm from it, it begins 5 mm inside a stand of 20 and a seam of 15.
		{"strip-start", edgeCoat, "closure.front.fastener=snap|closure.front.notion={diameter=15,post_width=4}|closure.front.stand.construction=faced|closure.front.stand.finished=20 mm|closure.front.stand.strip_from_edge=40 mm", Caution, "closure.front.stand.seam"},
		{"strip-start", edgeCoat, "closure.front.fastener=snap|closure.front.notion={diameter=15,post_width=4}|closure.front.stand.construction=faced|closure.front.stand.finished=20 mm|closure.front.stand.strip_from_edge=40 mm|closure.front.stand.seam=15 mm", Conflict, ""},
		// Where on a flap its snaps stand.
		{"zip-clear", edgeZip, "closure.snaps.flap={width=30}", Caution, "closure.snaps.flap.inset"},
		{"zip-clear", edgeZip, "closure.snaps.flap={width=30,inset=15}", Conflict, ""},
		// The heat that leather stands: four printed practices disagree.
		{"fuse-heat", edgeCoat, "interfacing.in.fixing=fusible|interfacing.in.fuse=160 C|cloth.shell.kind=leather|cloth.shell.fibre={ leather = 100 }", Caution, "iron of [[fibre]] leather in a catalogue of your own"},
		{"fuse-heat", edgeCoat, "interfacing.in.fixing=fusible|interfacing.in.fuse=160 C|cloth.shell.fibre={ wool = 100 }", Conflict, ""},
	} {
		g, err := edgeGarment(c.base, c.with, "")
		if err != nil {
			t.Errorf("%s: %v", c.with, err)
			continue
		}
		var f *Finding
		p := Found(g)
		for i := range p.Findings {
			if x := &p.Findings[i]; x.Rule == c.rule && (f == nil || x.Severity > f.Severity) {
				f = x
			}
		}
		switch {
		case f == nil:
			t.Errorf("%s, %s: nothing is said", c.rule, c.with)
		case f.Severity != c.sev || f.Unsure != (c.asks != "") || f.Unsure && f.Ask != c.asks:
			t.Errorf("%s, %s: %s, asks for %q: %s", c.rule, c.with, f.Severity, f.Ask, f.Message())
		}
	}
}
