package catalog

import (
	"math/rand/v2"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// usedRoom is room that garment after garment is altered in.
var usedRoom = new(Garment)

// sameAnew compares a garment with changes to the one that reading its file
// anew with the same changes, as texts, gives. It says whether there is one.
func sameAnew(t *testing.T, g *Garment, name string, with ...With) bool {
	t.Helper()
	got, gotErr := g.Alter(with...)
	want, wantErr := build(g.origin, Options{With: append(Texts(g.with), Texts(with)...)}, g.Catalog)
	if diff := cmp.Diff(errText(wantErr), errText(gotErr)); diff != "" {
		t.Errorf("%s: %s: error (-want +got):\n%s", name, Texts(with), diff)
		return false
	}
	if gotErr != nil {
		return false
	}
	if diff := differ(want, got); diff != "" {
		t.Errorf("%s: %s (-want +got):\n%s", name, Texts(with), diff)
	}
	if again, err := g.AlterIn(usedRoom, with...); err != nil {
		t.Errorf("%s: %s in a room that was used: %v", name, Texts(with), err)
	} else if diff := differ(want, again); diff != "" {
		t.Errorf("%s: %s in a room that was used (-want +got):\n%s", name, Texts(with), diff)
	}
	whole := false // whether it must be read as a whole
	for _, w := range with {
		parts := strings.Split(w.Key, ".")
		whole = whole || len(parts) < 3 && !slices.Contains(simple, parts[0]) && parts[0] != "machine" || parts[len(parts)-1] == "name"
	}
	if doc, edits, err := g.edits(with); err != nil || !whole && !g.rebuild(new(Garment), doc, got.with, edits) {
		t.Errorf("%s: %s: the whole was read anew", name, Texts(with))
	}
	if diff := cmp.Diff(Texts(want.with), Texts(got.with)); diff != "" {
		t.Errorf("%s: changes (-want +got):\n%s", name, diff)
	}
	return true
}

// differ is what is not the same in two garments, apart from the files they
// come from.
func differ(want, got *Garment) string {
	bare := func(g *Garment) Garment {
		n := *g
		n.doc, n.origin, n.with, n.opts, n.Catalog = nil, nil, nil, Options{}, nil
		return n
	}
	if reflect.DeepEqual(bare(want), bare(got)) { // much faster
		return ""
	}
	return cmp.Diff(want, got, cmpopts.IgnoreUnexported(Garment{}), cmpopts.IgnoreFields(Garment{}, "Catalog"), cmpopts.EquateEmpty())
}

// everyKey are changes of every key there is below a table: set to the
// example of the file to begin from, and taken out.
func everyKey(g *Garment, key, path string, fields []field) []With {
	var out []With
	s := &starter{unit: measure.In, name: "x"}
	for _, fd := range fields {
		k, p := key+"."+fd.name, path+"."+fd.name
		switch dst := fd.dst.(type) {
		case subTable:
			out = append(out, everyKey(g, k, p, dst)...)
			out = append(out, TakeOut(k))
		case rawTable:
			out = append(out, everyKey(g, k, p, ownNotionFields(Button, &Notion{}))...)
			out = append(out, TakeOut(k))
		default:
			out = append(out, With{Key: k, Value: source.ParseValue(s.example(p, fd))}, TakeOut(k))
			if sized, ok := fd.dst.(*Sized); ok && len(*sized) == 0 && g.Sizes[0] != "" {
				out = append(out, SetLength(k+"."+g.Sizes[0], 7*measure.Inch, measure.In))
			}
		}
	}
	return out
}

// Whatever key is changed, and whether or not the garment can be used then,
// reading only what it touches is reading the whole anew.
func TestEveryKeyAltered(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	tried, taken := 0, 0
	for n, name := range append(garments(t), "duffel") {
		var g *Garment
		var err error
		if name == "duffel" {
			g, err = read(strings.NewReplacer("[sizes]", `keep = ["closure.snaps.run", "closure.toggles.use", "cloth"]`+"\n[sizes]",
				"count  = 5", "count  = 5\nclear = [{ name = \"yoke\", at = 8 }]").Replace(duffel) +
				"[[cord]]\nname = \"hood\"\nat = \"hood\"\n[[cord]]\nname = \"waist\"\nat = \"waist\"\nuse = \"cord-4mm\"\n")
		} else if n > 8 && n%12 != 0 {
			continue
		} else {
			g, err = Load(name, Options{})
		}
		if err != nil {
			t.Fatal(err)
		}
		var all []With
		for i := range g.Closures {
			all = append(all, everyKey(g, Key("closure", g.Closures[i].Name), "closure", closureFields(&Closure{}, &rawClosure{}))...)
			all = append(all, Set(Key("closure", g.Closures[i].Name, "opening"), "a.b"))
		}
		for i := range g.Cords {
			all = append(all, everyKey(g, Key("cord", g.Cords[i].Name), "cord", cordFields(0, &GarmentCord{}))...)
			all = append(all, Set(Key("cord", g.Cords[i].Name, "name"), "waist"))
		}
		all = append(all, everyKey(g, "machine", "machine", g.machineKeys())...)
		for _, key := range simple[:len(simple)-2] {
			for _, v := range []string{"Other", "child", "us", "thick", "men", "hip", "7", "wash-40", "true", "46 in"} {
				all = append(all, With{Key: key, Value: source.ParseValue(v)})
			}
			all = append(all, TakeOut(key))
		}
		all = append(all, Set("sleepwear.parts", 2), SetTable("sleepwear", map[string]any{"months": 12}), TakeOut("sleepwear"), SetNames("keep", "wearer"), SetNames("keep", "wearrer"))
		for i, w := range all {
			if n > 1 && name != "duffel" && r.IntN(3) > 0 {
				continue
			}
			tried++
			if sameAnew(t, g, name, w) {
				taken++
				// Two changes, and one after the other.
				other := all[r.IntN(len(all))]
				sameAnew(t, g, name, w, other)
				if i%5 == 0 {
					h, err := g.Alter(w)
					if err != nil {
						t.Fatal(err)
					}
					sameAnew(t, h, name, other)
				}
			}
		}
	}
	if tried < 1000 || taken < tried/3 || taken > tried*9/10 {
		t.Errorf("of %d changes %d can be made: the test does not try both", tried, taken)
	}
}

// A kept key that a change makes away with is a fault, as in the file.
func TestAlterLooksAtKeep(t *testing.T) {
	g, err := read(strings.Replace(keepText, `"cloth", "closure.front.use"`, `"closure.front.run.anchor.bust"`, 1))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := g.Alter(With{Key: "closure.front.run.anchor", Value: []any{}}); err == nil || !strings.Contains(err.Error(), `has no anchor "bust"`) {
		t.Errorf("got %v", err)
	}
}

// A typed change is the same as its text, and its text as what was typed
// before there were types.
func TestWithTexts(t *testing.T) {
	in, mm := measure.In, measure.MM
	for want, w := range map[string]With{
		"closure.front.use=horn-36":                            Set("closure.front.use", "horn-36"),
		"closure.front.run.count=5":                            Set("closure.front.run.count", 5),
		"cloth.shell.shrink=2.5":                               Set("cloth.shell.shrink", 2.5),
		"closure.front.reinforced=true":                        Set("closure.front.reinforced", true),
		`garment="true"`:                                       Set("garment", "true"),
		`garment="5"`:                                          Set("garment", "5"),
		`garment="[1]"`:                                        Set("garment", "[1]"),
		`garment=" x"`:                                         Set("garment", " x"),
		`garment=""`:                                           Set("garment", ""),
		`garment=5" coat`:                                      Set("garment", `5" coat`),
		"closure.front.needle=90/14":                           Set("closure.front.needle", measure.NeedleSize(90).String()),
		"closure.front.stand.extension=2 1/4 in":               SetLength("closure.front.stand.extension", 9*measure.Inch/4, in),
		"closure.front.stand.extension=57.15 mm":               SetLength("closure.front.stand.extension", 9*measure.Inch/4, mm),
		"cloth.shell.thickness=2.4 mm ± 0.2 mm":                {Key: "cloth.shell.thickness", Value: LengthIn{measure.Toleranced{V: 24 * measure.Millimetre / 10, Tol: measure.Millimetre / 5}, mm}},
		`closure.front.run.first={ M = "1 in", S = "1/2 in" }`: SetSizes("closure.front.run.first", []string{"S", "M"}, []measure.Length{measure.Inch / 2, measure.Inch}, in),
		`closure.front.over=["shell", "front"]`:                SetNames("closure.front.over", "shell", "front"),
		"closure.front.over=[]":                                SetNames("closure.front.over"),
		`thread.seam={ use = "polyester-tex-40" }`:             SetTable("thread.seam", map[string]any{"use": "polyester-tex-40"}),
		"closure.front.run.count={ max = 5, min = 3 }":         SetTable("closure.front.run.count", map[string]any{"min": 3, "max": 5}),
		"closure.front.hole_length=":                           TakeOut("closure.front.hole_length"),
	} {
		if got := w.String(); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
		back, err := ParseWith(want)
		if err != nil || back.String() != want || back.Key != w.Key || back.Out() != w.Out() {
			t.Errorf("%s: read back as %+v, %v", want, back, err)
		}
		if again := (With{Key: back.Key, Value: back.Value}).String(); again != want {
			t.Errorf("%s: written again as %s", want, again)
		}
	}
	if a, b := SetNames("k", "x"), (With{Key: "k", Value: []any{"x"}}); !a.Equal(b) || a.Equal(SetNames("k", "y")) || a.Equal(SetNames("l", "x")) {
		t.Error("Equal")
	}
}

// The places of a typed change say what it is, as those of a text do, and it
// is written into the file in the unit it is in.
func TestTypedChangesInTheFile(t *testing.T) {
	g, err := Load(filepath.Join("..", "testdata", "garments", "watch-coat.toml"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	with := []With{SetLength("closure.front.stand.extension", 9*measure.Inch/4, measure.In), Set("closure[0].run.count", 5)}
	h, err := g.Alter(with...)
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		"closure[0].stand.extension":    "--with closure.front.stand.extension=2 1/4 in",
		"closure.front.stand.extension": "--with closure.front.stand.extension=2 1/4 in",
		"closure.front.run.count":       "--with closure[0].run.count=5",
	} {
		if got := h.At(path).String(); got != want {
			t.Errorf("%s stands at %s, want %s", path, got, want)
		}
	}
	if a, b := g.At("closure.front.use"), g.At("closure[0].use"); a != b || a.Line == 0 {
		t.Errorf("by name at %s, by number at %s", a, b)
	}
	text, lines, err := g.Rewrite(with...)
	if err != nil || len(lines) != 2 {
		t.Fatalf("%v, lines %v", err, lines)
	}
	for _, want := range []string{`= "2 1/4 in"`, "= 5"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the file has no %s", want)
		}
	}
	back, err := Read(g.File, text, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if diff := differ(h, back); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	for path, want := range map[string]string{"closure[0].run.count": "closure.front.run.count", "cloth.shell": "cloth.shell", "": ""} {
		if got := g.KeyOf(path); got != want {
			t.Errorf("the key of %s is %s, want %s", path, got, want)
		}
	}
}

// A length of whatever value is the same typed and as a text, in both units.
func TestTypedLengths(t *testing.T) {
	g, err := read(good)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		u := []measure.Unit{measure.In, measure.MM}[r.IntN(2)]
		w := SetLength("closure.front.stand.extension", measure.Length(r.Int64N(int64(700*measure.Millimetre))), u)
		sameAnew(t, g, "good", w)
	}
}

// What cannot be a change is said so.
func TestWithRefused(t *testing.T) {
	g, err := read(good)
	if err != nil {
		t.Fatal(err)
	}
	for key, says := range map[string]string{
		"closure..use":     "names nothing in the file",
		"":                 "names nothing in the file",
		"closure[7].use":   "names nothing in the file",
		"closure[0].ues":   `there is no key "ues"; write closure.front.use=…`,
		"closure.fron.use": `no closure "fron"; write closure.front.use=…`,
	} {
		if _, err := g.Alter(Set(key, "horn-36")); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", key, err)
		}
	}
	if _, err := (&Garment{}).Alter(Set("wearer", "child")); err == nil {
		t.Error("a garment without a file was altered")
	}
}
