package desk

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/search"
	"placketeer/rules/sheet"
	"placketeer/rules/trial"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// A question is asked both ways: as a quick command, and as the garment file
// that a person would write for it, which is put together here without the
// command's own code. Figures and findings must be the same.

// both is a question in its two forms.
type both struct {
	*rand.Rand
	mm      bool
	args    []string
	root    []string            // tables of the file above the closure
	closure []string            // lines of [[closure]]
	tables  map[string][]string // lines of [closure.X]
	over    []string
	figures map[string]string
	run     bool // the run is part of the question
}

func (b *both) one(words ...string) string { return words[b.IntN(len(words))] }

func (b *both) chance(p float64) bool { return b.Float64() < p }

// length is one between lo and hi mm, in the units of the question.
func (b *both) length(lo, hi float64) string {
	x := lo + b.Float64()*(hi-lo)
	if b.mm {
		return fmt.Sprintf("%.1f mm", x)
	}
	return fmt.Sprintf("%d/32 in", max(1, int(x/25.4*32)))
}

// flag gives a value to both: the flag, and a line of a table of the closure,
// "" for the closure itself.
func (b *both) flag(name, value, table, key string) {
	b.args = append(b.args, "--"+name, value)
	b.line(table, key, fmt.Sprintf("%q", value))
}

func (b *both) line(table, key, value string) {
	if table == "" {
		b.closure = append(b.closure, key+" = "+value)
		return
	}
	b.tables[table] = append(b.tables[table], key+" = "+value)
}

// file is the garment file.
func (b *both) file() string {
	units := "in"
	if b.mm {
		units = "mm"
	}
	var s strings.Builder
	fmt.Fprintf(&s, "garment = \"by hand\"\nunits = %q\n", units)
	for _, l := range b.root {
		s.WriteString(l + "\n")
	}
	quoted := make([]string, len(b.over))
	for i, o := range b.over {
		quoted[i] = fmt.Sprintf("%q", o)
	}
	fmt.Fprintf(&s, "[[closure]]\nname = \"opening\"\nover = [%s]\n", strings.Join(quoted, ", "))
	for _, l := range b.closure {
		s.WriteString(l + "\n")
	}
	if !b.run && b.tables["run"] == nil {
		b.tables["run"] = []string{`length = "1 m"`, "count = 1"}
	}
	for _, t := range []string{"notion", "stand", "run", "run.gap"} {
		if len(b.tables[t]) > 0 {
			fmt.Fprintf(&s, "[closure.%s]\n%s\n", t, strings.Join(b.tables[t], "\n"))
		}
	}
	return s.String()
}

// button is a button of one's own or of the catalogue.
func (b *both) button() {
	if b.chance(0.25) {
		b.args = append(b.args, "--units", map[bool]string{true: "mm", false: "in"}[b.mm])
		b.flag("use", b.one("horn-24", "horn-36", "horn-40", "polyester-18", "melamine-30", "metal-dome-30", "wood-36"), "", "use")
		return
	}
	b.flag("diameter", b.length(8, 45), "notion", "diameter")
	b.flag("thickness", b.length(1, 9), "notion", "thickness")
	if b.chance(0.2) {
		b.flag("shape", b.one("flat", "domed", "odd"), "notion", "shape")
	}
	if b.chance(0.15) {
		b.args = append(b.args, "--shank")
		b.line("notion", "shank", `"6 mm"`)
	}
}

// layers are the cloth, as several layers or as one thickness.
func (b *both) layers(thick string, must bool) {
	n := 1 + b.IntN(5)
	cloth := func(keys ...string) {
		b.root = append(b.root, "[cloth.cloth]")
		b.root = append(b.root, keys...)
		b.over = slices.Repeat([]string{"cloth"}, n)
		b.args = append(b.args, "--layers", fmt.Sprint(n))
	}
	switch k := b.IntN(4); {
	case k == 0:
		name := b.one("melton", "denim", "poplin", "duck-10", "corduroy", "fleece", "lining", "leather-garment", "waxed-duck", "coated-cotton", "quilted-wadding", "jersey")
		b.args = append(b.args, "--cloth", name)
		cloth(fmt.Sprintf("use = %q", name))
	case k == 1:
		t := b.length(0.4, 4)
		b.args = append(b.args, "--"+thick, t)
		cloth(fmt.Sprintf("thickness = %q", t))
	case k == 2 && thick != "thickness":
		t := b.length(0.5, 9)
		b.args = append(b.args, "--over", t)
		b.root = append(b.root, "[cloth.layers]", fmt.Sprintf("thickness = %q", t))
		b.over = []string{"layers"}
	case k == 2 || must:
		w := fmt.Sprintf("%d g/m2", 60+b.IntN(700))
		b.args = append(b.args, "--weight", w)
		cloth(fmt.Sprintf("weight = %q", w))
	}
}

func (b *both) machine() {
	if b.chance(0.6) {
		m := b.one("domestic", "straight-stitch", "walking-foot", "industrial-lockstitch", "domestic-extra-lift")
		b.args = append(b.args, "--machine", m)
		b.root = append(b.root, "[machine]", fmt.Sprintf("use = %q", m))
	}
}

// question is a random question.
func question(seed uint64) *both {
	b := &both{Rand: rand.New(rand.NewPCG(seed, 1953)), tables: map[string][]string{}, figures: map[string]string{}}
	b.mm = b.chance(0.5)
	switch b.IntN(12) {
	case 0, 1:
		b.args = []string{"buttonhole"}
		b.button()
		b.layers("cloth-thickness", false)
		b.machine()
		if b.chance(0.3) {
			b.flag("hole", b.one("machine", "keyhole", "bound", "hand"), "", "hole")
		}
		if b.chance(0.2) {
			b.flag("rule", b.one("plus-eighth", "percent", "diameter", "plus-thickness-eighth"), "", "hole_rule")
		}
		b.figures = map[string]string{"length_mm": "hole.length_mm", "passing_mm": "hole.passing_mm", "ease_mm": "hole.ease_mm", "stitched_mm": "hole.stitched_mm", "kind": "hole.kind"}
	case 2:
		if b.chance(0.25) {
			b.flap()
			return b
		}
		b.args = []string{"stand"}
		b.button()
		b.layers("cloth-thickness", false)
		construction := b.one("", "folded", "faced", "band")
		if construction != "" {
			b.flag("construction", construction, "stand", "construction")
		}
		switch b.IntN(4) {
		case 0:
			b.flag("band", b.length(10, 90), "stand", "band")
		case 1:
			b.flag("stand", b.length(6, 45), "stand", "finished")
		case 2:
			if construction != "band" {
				b.flag("extension", b.length(30, 140), "stand", "extension")
			}
		}
		b.figures = map[string]string{
			"least_mm": "stand.least_mm", "usual_mm": "stand.usual_mm", "full_mm": "stand.full_mm", "have_mm": "stand.have_mm",
			"band_mm": "stand.band_mm", "band_cut_mm": "stand.band_cut_mm", "extension_mm": "stand.extension_mm", "construction": "stand.construction",
		}
	case 3:
		b.args = []string{"needle"}
		b.layers("thickness", true)
		if b.mm {
			b.args = append(b.args, "--units", "mm")
		} else {
			b.args = append(b.args, "--units", "in")
		}
		b.machine()
		b.line("notion", "diameter", `"15 mm"`)
		b.line("notion", "thickness", `"3 mm"`)
		b.line("", "hole", `"machine"`)
		if b.chance(0.5) {
			tex := b.one("Tex 20", "Tex 40", "Tex 60", "Tex 90", "Tkt 75")
			b.args = append(b.args, "--thread", tex)
			b.root = append(b.root, "[thread.thread]", fmt.Sprintf("tex = %q", tex), `fibre = "polyester"`)
		}
		if b.chance(0.4) {
			b.flag("needle", b.one("70/10", "90/14", "100/16", "120/19"), "", "needle")
		}
		b.figures = map[string]string{
			"nm_min": "needle.nm_min", "nm_max": "needle.nm_max", "nm": "needle.nm", "us": "needle.us", "point": "needle.point", "class": "needle.class",
			"thread_tex": "thread.tex", "thread_tex_min": "thread.tex_min", "thread_tex_max": "thread.tex_max",
			"stitch_mm": "stitch_mm", "stack_mm": "stack.over_mm", "pressed_mm": "stack.over_pressed_mm", "estimated": "stack.estimated",
		}
		if slices.Contains(b.args, "walking-foot") || slices.Contains(b.args, "industrial-lockstitch") {
			delete(b.figures, "thread_tex") // holes by hand: the file names their twist
		}
	case 4, 5:
		b.spacing()
	case 7:
		b.post()
	case 8:
		b.zip()
	case 9:
		b.args = []string{"loop"}
		b.button()
		b.layers("cloth-thickness", false)
		b.line("", "hole", `"loop"`)
		if b.chance(0.5) {
			b.flag("loop", b.length(20, 120), "", "loop")
		}
		b.flag("cord", b.length(1, 8), "", "cord")
		b.figures = map[string]string{"least_mm": "loop.least_mm", "inside_mm": "loop.inside_mm", "cut_mm": "loop.cord_cut_mm"}
	case 10:
		b.args = []string{"thread"}
		b.button()
		b.layers("cloth-thickness", false)
		b.machine()
		if b.chance(0.5) {
			tex := b.one("Tex 20", "Tex 40", "Tex 60", "Tex 90")
			b.args = append(b.args, "--thread", tex)
			b.root = append(b.root, "[thread.thread]", fmt.Sprintf("tex = %q", tex), `fibre = "polyester"`)
		}
		n := 1 + b.IntN(9)
		b.args = append(b.args, "--count", fmt.Sprint(n))
		b.tables["run"] = []string{`length = "9 m"`, fmt.Sprintf("count = %d", n)}
		b.figures = map[string]string{"used_mm": "thread.used_mm", "shank_mm": "sewing.thread_shank_mm"}
	case 11:
		b.press()
	default:
		b.args = []string{"strip"}
		b.button()
		b.layers("cloth-thickness", false)
		d := b.one("across", "along")
		b.flag("direction", d, "", "direction")
		b.flag("hole", b.one("machine", "keyhole", "bound", "hand"), "", "hole")
		if b.chance(0.6) {
			b.flag("stand", b.length(12, 45), "stand", "finished")
		}
		if b.chance(0.4) {
			b.goods()
		}
		b.figures = map[string]string{"width_mm": "support.strip_mm", "least_mm": "support.least_mm", "usual_mm": "support.usual_mm", "direction": "hole.direction"}
	}
	return b
}

// goods are the interfacing to buy for strips.
func (b *both) goods() {
	width, long := b.length(30, 900), b.length(100, 700)
	b.args = append(b.args, "--pieces", "2", "--length", long, "--goods-width", width)
	b.root = append(b.root, "[interfacing.goods]", `weight = "60 g/m2"`, `thickness = "0.001 mm"`, fmt.Sprintf("width = %q", width))
	under := `"goods"`
	for range b.over {
		under = fmt.Sprintf("%q, ", b.over[0]) + under
	}
	b.line("", "under", "["+under+"]")
	b.line("run", "length", fmt.Sprintf("%q", long))
	b.line("run", "count", "1")
}

// spacing is a random question for places along a front.
func (b *both) spacing() {
	b.args, b.run = []string{"spacing"}, true
	if b.chance(0.5) {
		b.points()
		return
	}
	b.button()
	b.layers("cloth-thickness", false)
	b.flag("length", b.length(500, 760), "run", "length")
	b.flag("first", b.length(5, 60), "run", "first")
	b.flag("last", b.length(5, 120), "run", "last")
	n := 3 + b.IntN(6)
	switch b.IntN(3) {
	case 0:
		b.args = append(b.args, "--count", fmt.Sprint(n))
		b.line("run", "count", fmt.Sprint(n))
	case 1:
		b.args = append(b.args, "--count", fmt.Sprintf("%d-%d", n, n+2))
		b.line("run", "count", fmt.Sprintf("{ min = %d, max = %d }", n, n+2))
	default:
		about := b.length(60, 130)
		b.args = append(b.args, "--gap", "about="+about)
		b.line("run.gap", "about", fmt.Sprintf("%q", about))
	}
	if b.chance(0.5) {
		from := 150 + b.IntN(200)
		to := from + 10 + b.IntN(50)
		b.args = append(b.args, "--clear", fmt.Sprintf("belt=%dmm:%dmm", from, to))
		b.line("run", "clear", fmt.Sprintf("[ { name = \"belt\", from = \"%d mm\", to = \"%d mm\" } ]", from, to))
	}
	if b.chance(0.3) {
		at := 180 + b.IntN(100)
		b.args = append(b.args, "--anchor", fmt.Sprintf("bust=%dmm:15mm", at))
		b.line("run", "anchor", fmt.Sprintf("[ { name = \"bust\", at = \"%d mm\", within = \"15 mm\" } ]", at))
	}
	b.figures = map[string]string{"positions_mm": "sizes.positions_mm", "gaps_mm": "sizes.gaps_mm", "spread_mm": "sizes.spread_mm", "count": "sizes.count"}
}

// points is a random question for places of which only how far a fastener
// reaches is said, or not even that.
func (b *both) points() {
	b.mm = true
	b.line("", "fastener", `"snap"`)
	b.line("notion", "attach", `"sewn"`)
	if b.chance(0.5) {
		reach := 1 + b.IntN(20)
		b.args = append(b.args, "--reach", fmt.Sprintf("%d mm", reach))
		b.line("notion", "diameter", fmt.Sprintf("\"%d mm\"", 2*reach))
	} else {
		b.line("notion", "diameter", `"0.000001 mm"`)
	}
	if b.chance(0.5) {
		from, long := b.IntN(80), 300+b.IntN(400)
		b.args = append(b.args, "--between", fmt.Sprintf("%d mm:%d mm", from, from+long))
		b.tables["run"] = []string{fmt.Sprintf("length = \"%d mm\"", from+long), fmt.Sprintf("first = \"%d mm\"", from), `last = "0 mm"`}
	} else {
		b.flag("length", b.length(500, 760), "run", "length")
		b.flag("first", b.length(2, 60), "run", "first")
		b.flag("last", b.length(2, 120), "run", "last")
	}
	n := 2 + b.IntN(70)
	b.args = append(b.args, "--count", fmt.Sprint(n))
	b.line("run", "count", fmt.Sprint(n))
	b.figures = map[string]string{"positions_mm": "sizes.positions_mm", "gaps_mm": "sizes.gaps_mm", "spread_mm": "sizes.spread_mm", "count": "sizes.count"}
}

// flap is a random question for the flap over a zip.
func (b *both) flap() {
	b.args = []string{"stand", "--units", map[bool]string{true: "mm", false: "in"}[b.mm]}
	b.flag("use", b.one("coil-5-separating", "metal-5-separating", "moulded-8-two-way", "moulded-10-two-way"), "", "use")
	b.layers("cloth-thickness", false)
	b.line("stand", "construction", `"fly"`)
	b.line("", "zip_length", `"500 mm"`)
	b.figures = nil // the file says how far its flap reaches, and not how far it must
}

// post is a random question for a post, nail or rivet.
func (b *both) post() {
	b.args = []string{"post"}
	b.args = append(b.args, "--units", map[bool]string{true: "mm", false: "in"}[b.mm])
	switch use := b.one("tack-17mm-nail-8", "ring-spring-15", "prong-snap-16", "double-cap-9-8", ""); use {
	case "":
		b.args = append(b.args, "--kind", "double-cap")
		b.line("", "fastener", `"rivet"`)
		b.line("notion", "kind", `"double-cap"`)
		b.line("notion", "diameter", `"17 mm"`)
	default:
		b.flag("use", use, "", "use")
	}
	if b.chance(0.5) {
		t := b.length(0.5, 9)
		b.args = append(b.args, "--pressed", t)
		b.root = append(b.root, "[cloth.layers]", fmt.Sprintf("thickness = %q", t), "pressed = 1")
		b.over = []string{"layers"}
	} else {
		b.layers("cloth-thickness", true)
		if len(b.over) == 0 {
			b.args = append(b.args, "--cloth", "denim", "--layers", "2")
			b.root = append(b.root, "[cloth.cloth]", `use = "denim"`)
			b.over = []string{"cloth", "cloth"}
		}
	}
	b.figures = map[string]string{
		"attach": "hardware.attach", "post_min_mm": "hardware.post_min_mm", "post_max_mm": "hardware.post_max_mm",
		"grip_min_mm": "hardware.grip_min_mm", "grip_max_mm": "hardware.grip_max_mm", "punch_mm": "hardware.punch_mm",
	}
}

// zip is a random question for a zip.
func (b *both) zip() {
	b.args, b.run = []string{"zip"}, true
	b.flag("opening", b.length(120, 800), "run", "length")
	b.flag("use", b.one("coil-5-separating", "metal-5-closed", "coil-3-closed", "moulded-8-two-way"), "", "use")
	if b.chance(0.3) {
		b.flag("top", b.length(2, 30), "run", "first")
	}
	b.layers("cloth-thickness", false)
	if len(b.over) == 0 {
	}
	b.figures = map[string]string{"need_mm": "zip.sizes.need_mm", "buy_mm": "zip.sizes.buy_mm", "number_min": "zip.number_min", "number_max": "zip.number_max"}
}

// press is a random question for the iron.
func (b *both) press() {
	cloth := b.one("melton", "denim", "lining-acetate", "fleece", "coating-polyester", "corduroy", "sherpa")
	fusible := b.one("weft-fusible-medium", "woven-fusible-light", "low-melt-fusible", "nonwoven-fusible-light")
	b.mm = true
	b.args = []string{"press", "--cloth", cloth, "--interfacing", fusible}
	b.root = append(b.root, "[cloth.cloth]", fmt.Sprintf("use = %q", cloth), "[interfacing.interfacing]", fmt.Sprintf("use = %q", fusible))
	b.over = []string{"cloth", "interfacing", "cloth"}
	b.line("notion", "diameter", `"15 mm"`)
	b.line("notion", "thickness", `"3 mm"`)
}

// at is the value at a path of keys; of a list its first.
func at(v any, path string) any {
	for _, key := range strings.Split(path, ".") {
		if list, ok := v.([]any); ok {
			v = list[0]
		}
		m, ok := v.(map[string]any)
		if !ok {
			return nil
		}
		v = m[key]
	}
	return v
}

// TestQuickIsTheFile asks random questions both ways.
func TestQuickIsTheFile(t *testing.T) {
	n := uint64(180)
	if os.Getenv("PLACKETEER_LONG") == "1" {
		n = 500
	}
	for seed := uint64(1); seed <= n; seed++ {
		b := question(seed)
		if wrong := b.apart(t); wrong != "" {
			t.Errorf("seed %d: %s %s: %s\n%s", seed, Program, strings.Join(b.args, " "), wrong, b.file())
		}
	}
}

// apart says in what the two answers differ.
// planned is the answer to the same garment as a file. A file names its layers;
// of a question that leaves them open it is read as one that need not.
func (b *both) planned(t *testing.T) ran {
	if len(b.over) > 0 {
		return runIn(t, b.file(), nil, "spec", "-", "--format", "json")
	}
	g, err := catalog.Read("coat.toml", []byte(b.file()), catalog.Options{NoLayers: true})
	if err != nil {
		return ran{code: ExitInput, err: err.Error()}
	}
	var out bytes.Buffer
	p := search.Checked(g, search.CheckOptions{Fixes: true})
	if err := sheet.Spec(&out, []*rules.Planned{p}, sheet.Options{Format: "json"}); err != nil {
		t.Fatal(err)
	}
	return ran{out: out.String()}
}

func (b *both) apart(t *testing.T) string {
	t.Helper()
	code, out, stderr := asked(append(b.args, "--format", "json")...)
	file := b.planned(t)
	if (code > ExitConflict) != (file.code > ExitConflict) {
		return fmt.Sprintf("exit codes %d and %d: %s%s", code, file.code, stderr, file.err)
	}
	if code > ExitConflict {
		return ""
	}
	var quick map[string]any
	var files []map[string]any
	if json.Unmarshal([]byte(out), &quick) != nil || json.Unmarshal([]byte(file.out), &files) != nil {
		return "no JSON: " + out + stderr + file.err
	}
	whole := files[0]["closures"].([]any)[0]
	for mine, theirs := range b.figures {
		if quick[mine] == 0.0 && at(whole, theirs) == nil {
			continue // nothing is nothing
		}
		x, y := fmt.Sprint(quick[mine]), fmt.Sprint(at(whole, theirs))
		if mine == "band_mm" && y == "<nil>" && quick["folded_extension_mm"] != nil {
			continue // of the folded band that is offered
		}
		if mine == "extension_mm" && y == "0" {
			y = "<nil>"
		}
		if x != y {
			return fmt.Sprintf("%s is %s, in the file %s", mine, x, y)
		}
	}
	type said struct{ rule, message string }
	told, inFile := map[said]bool{}, map[said]bool{}
	for _, f := range quick["findings"].([]any) {
		told[said{at(f, "rule").(string), withoutKeys(at(f, "message").(string))}] = true
	}
	for _, f := range findingsIn(files[0]["findings"]) {
		s := said{at(f, "rule").(string), withoutKeys(at(f, "message").(string))}
		if s.rule == "hardware-test-set" && slices.Equal(b.over, []string{"layers"}) {
			// The file has them as one layer; how many were squeezed nobody said.
			s.message = strings.Replace(s.message, ": 1 layer, ", ": the very layers, ", 1)
		}
		if !told[s] {
			if wrong := b.open(t, f, whole); wrong != "" {
				return fmt.Sprintf("not told: %v: %s", s, wrong)
			}
		}
		inFile[s] = true
	}
	for s := range told {
		if inFile[s] {
			continue
		}
		return fmt.Sprintf("told, but not in the file: %v", s)
	}
	return ""
}

func millimetres(s string) float64 {
	var x float64
	fmt.Sscanf(s, "%g mm", &x)
	return x
}

// withoutKeys is a message up to where it names keys, which a question has as
// flags, or not at all.
func withoutKeys(says string) string {
	for _, end := range []string{"; ", ": say ", " (where = ", " (--where "} {
		says, _, _ = strings.Cut(says, end)
	}
	return says
}

// findingsIn are the findings of a paper, those too that are gathered in one.
func findingsIn(v any) (out []any) {
	switch v := v.(type) {
	case []any:
		for _, x := range v {
			out = append(out, findingsIn(x)...)
		}
	case map[string]any:
		if v["rule"] != nil && v["severity"] != nil && v["message"] != nil {
			out = append(out, v)
		}
		for _, key := range slices.Sorted(maps.Keys(v)) {
			out = append(out, findingsIn(v[key])...)
		}
	}
	return out
}

// A reason is why a command may leave findings of some rules out: something that
// none of its flags can say, and how a person would write it in the file. It
// is thought out apart from the command: whatever is left out must have one, no
// flag of the command may state it, and written it must silence the finding.
type reason struct {
	commands string   // that may
	rules    string   // that ask for it
	flags    []string // that would state it
	write    func(b *both, whole any)
}

var reasons = []reason{
	{"buttonhole stand spacing strip needle post zip loop thread press", "interfacing-none hardware-layers hole-stretch",
		[]string{"interfacing"}, func(b *both, _ any) {
			b.root = append(b.root, "[interfacing.tried]", `use = "woven-fusible-light"`)
			b.over = append(b.over, "tried")
		}},
	{"buttonhole spacing needle post loop thread press", "stand-drafted",
		[]string{"stand", "band", "extension"}, func(b *both, _ any) { b.tables["stand"] = []string{`finished = "90 mm"`} }},
	{"stand spacing strip post zip loop press", "foot-lift stack-bulky hole-machine place-thick place-needle work-needle",
		[]string{"machine", "foot-lift"}, func(b *both, _ any) {
			b.root = append(b.root, "[machine]", `use = "walking-foot"`, `foot_lift = "40 mm"`, `foot_lift_extra = "40 mm"`, `buttonhole_max = "120 mm"`, "keyhole = true")
		}},
	{"needle press", "hole-machine hole-stretch hole-frays hole-pile backing-button work-needle one-way",
		[]string{"diameter", "use"}, func(b *both, _ any) {
			b.tables["notion"] = []string{"number = 5", `opening = "closed"`}
			b.closure = []string{`fastener = "zip"`}
		}},
	{"stand spacing post", "hole-machine hole-frays hole-stretch hole-pile", []string{"hole"}, func(b *both, _ any) { b.closure = append(b.closure, `hole = "bound"`) }},
	{"press", "foot-lift stack-bulky", []string{"layers"}, func(b *both, _ any) { b.over = b.over[:2] }},
	{"buttonhole stand spacing strip loop thread", "shank-rigid", nil, func(b *both, whole any) {
		thick, _ := at(whole, "stack.over_mm").(float64)
		for i, l := range b.tables["notion"] {
			if strings.HasPrefix(l, "shank = ") {
				b.tables["notion"][i] = fmt.Sprintf("shank = \"%.3f mm\"", max(thick, 0.01)+0.01)
			}
		}
	}},
	{"strip", "interfacing-heavy", nil, func(b *both, _ any) {
		for i, l := range b.root {
			b.root[i] = strings.Replace(l, "60 g/m2", "1 g/m2", 1)
		}
	}},
	{"spacing", "first-high last-low snap-sewn-size hardware-test-set", []string{"kind"}, func(b *both, _ any) { // what is sewn on is not said
		b.closure[0], b.tables["notion"] = `fastener = "rivet"`, b.tables["notion"][1:]
	}},
	{"spacing", "first-high last-low", nil, func(b *both, _ any) { // nor what lies beyond the two centres
		if i := slices.Index(b.args, "--between"); i > 0 {
			from, to, _ := strings.Cut(b.args[i+1], ":")
			b.tables["run"][0] = fmt.Sprintf("length = \"%.0f mm\"", 20+millimetres(to)-millimetres(from)+100)
			b.tables["run"][1] = `first = "20 mm"`
			b.tables["run"][2] = `last = "100 mm"`
		}
	}},
	{"stand", "zip-length zip-sold zip-stops key-unused", []string{"length"}, func(b *both, _ any) {
		b.closure = slices.DeleteFunc(b.closure, func(l string) bool { return strings.HasPrefix(l, "zip_length") })
		b.tables["run"] = []string{`length = "200 mm"`}
	}},
	{"loop", "toggle-patch", nil, func(b *both, _ any) { b.closure = append(b.closure, `inset = "80 mm"`) }},
}

// open says what is wrong with leaving a finding of the file out.
func (b *both) open(t *testing.T, f, whole any) string {
	t.Helper()
	cmd, err := commandNamed(b.args[0])
	if err != nil {
		t.Fatal(err)
	}
	rule, message := at(f, "rule").(string), at(f, "message").(string)
	asks := rule
	if _, of, ok := strings.Cut(message, "(see "); ok && rule == rules.WithinRule.Name {
		asks, _, _ = strings.Cut(of, ")") // what only just passes
	}
	wrong := "there is no reason to leave it out"
	for _, r := range reasons {
		if !slices.Contains(strings.Fields(r.commands), cmd.name) || !slices.Contains(strings.Fields(r.rules), asks) {
			continue
		}
		if i := slices.IndexFunc(r.flags, func(n string) bool { return cmd.flag(n) != nil }); i >= 0 {
			wrong = "--" + r.flags[i] + " can state what it asks for"
			continue
		}
		c := *b
		c.tables = map[string][]string{}
		for k, v := range b.tables {
			c.tables[k] = slices.Clone(v)
		}
		c.root, c.closure, c.over = slices.Clone(b.root), slices.Clone(b.closure), slices.Clone(b.over)
		r.write(&c, whole)
		var now []map[string]any
		if file := c.planned(t); json.Unmarshal([]byte(file.out), &now) != nil {
			return "the file with what it asks for is refused: " + file.err
		}
		gone := !slices.ContainsFunc(findingsIn(now[0]["findings"]), func(o any) bool {
			return at(o, "rule") == rule && (rule != rules.WithinRule.Name || strings.Contains(at(o, "message").(string), "(see "+asks+")"))
		})
		if gone {
			return ""
		}
		wrong = "it stays where what it asks for is written"
	}
	return wrong
}

// aKey is a key of a garment file as a message names one: closure.front.use,
// hole_length, hole = "hand".
var aKey = regexp.MustCompile(`\b[a-z_]+(?:\.[a-z_*]+)+\b|\b[a-z]+_[a-z_]+\b|\b[a-z_]+ = "`)

// TestQuickNamesFlags: a question has no file, so nothing that is said of one
// names a key.
func TestQuickNamesFlags(t *testing.T) {
	ask := func(args []string) {
		_, out, stderr := asked(append(args, "--format", "json")...)
		var quick map[string]any
		if json.Unmarshal([]byte(out), &quick) != nil {
			if key := aKey.FindString(stderr); key != "" {
				t.Errorf("%s: a key, %s, in %s", strings.Join(args, " "), key, stderr)
			}
			return
		}
		for _, f := range findingsIn(quick["findings"]) {
			for _, says := range []string{at(f, "message").(string), at(f, "short").(string)} {
				if key := aKey.FindString(says); key != "" {
					t.Errorf("%s: a key, %s, in %q", strings.Join(args, " "), key, says)
				}
			}
		}
	}
	for seed := range uint64(trial.Many(60, 2000)) {
		ask(question(seed).args)
	}
	for _, line := range mistakes {
		ask(shellWords(line))
	}
	for _, args := range questionsAsked(t) {
		if jsonable(args[0]) {
			ask(args)
		}
	}
}
