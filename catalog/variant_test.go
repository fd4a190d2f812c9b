package catalog

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"

	"github.com/google/go-cmp/cmp"
)

const watchCoats = `
-- house.toml --
# Tarn Quay's house file (invented)
units = "mm"
[cloth.shell]
use = "melton"
thickness = 2.4
[variant.house]
"closure.front.run.last" = 90
"closure.front.spare"    = 1
-- coat.toml --
garment = "Watch coat"
units   = "in"
base    = "house.toml"
make    = { S = 3 }
[sizes]
names = ["S", "M"]
[[closure]]
name = "front"
use  = "horn-30"
over = ["shell", "shell"]
[closure.stand]
extension = 3
[closure.run]
length = { S = 23, M = 24 }
count  = 5
step   = "1/8 in"

[variant.light]
"cloth.shell"             = { use = "melton", weight = "420 g/m2" }
"closure.front.use"       = "corozo-36"
"closure[0].run.length.M" = 25
"closure.front.run.step"  = ""
make                      = { S = 4, M = 6 }
[variant.house]
"closure.front.spare" = 2
`

func variantOf(t *testing.T, archive, name string, with ...string) *Garment {
	t.Helper()
	g, err := house(t, archive, Options{Variant: name, With: with})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// A variant is the file with its keys put over it, each with its own place.
func TestVariant(t *testing.T) {
	plain := variantOf(t, watchCoats, "")
	if diff := cmp.Diff([]string{"light", "house"}, plain.Variants()); diff != "" {
		t.Error(diff)
	}
	if plain.Make.Total() != 3 || plain.Title() != "Watch coat" {
		t.Errorf("the file itself: %+v %s", plain.Make, plain.Title())
	}
	g := variantOf(t, watchCoats, "light")
	c := &g.Closures[0]
	if c.Use != "corozo-36" || c.Run.Length.At(1).V != 25*measure.Inch || c.Run.Length.At(0).V != 23*measure.Inch || c.Run.Step.Has() {
		t.Errorf("%+v", c.Run)
	}
	if w := g.Cloths[0].Weight.V.GSM(); w != 420 || g.Cloths[0].Thickness.Has() {
		t.Errorf("cloth %v %+v", w, g.Cloths[0].Thickness)
	}
	if diff := cmp.Diff([]int{4, 6}, g.Make.N); diff != "" || g.Title() != "Watch coat, light" || len(g.Withs()) > 0 {
		t.Errorf("%s %s %v", diff, g.Title(), g.Withs())
	}
	for path, want := range map[string]string{
		"closure[0].use":             "coat.toml:20:29",
		"cloth.shell.weight":         "coat.toml:19:56",
		"closure[0].run.length.M":    "coat.toml:21:29",
		"closure[0].run.step":        "coat.toml:22:29",
		"make.M":                     "coat.toml:23:42",
		"closure[0].stand.extension": "coat.toml:12:13",
	} {
		if got := g.At(path).String(); got != want {
			t.Errorf("%s stands at %s, not %s", path, got, want)
		}
	}
	// What the house says of a variant comes first, in the units of the house.
	h := variantOf(t, watchCoats, "house")
	if l := h.Closures[0].Run.Last.At(0).V; l != 90*mm || h.Closures[0].Spare != 2 || h.Make.Has() {
		t.Errorf("last %s, spare %d, made %+v", l.Text(measure.MM), h.Closures[0].Spare, h.Make)
	}
	if got := h.At("closure[0].run.last").String(); got != "house.toml:7:28" {
		t.Errorf("last stands at %s", got)
	}
	// --with comes after the variant.
	w := variantOf(t, watchCoats, "light", "closure.front.use=horn-40", "closure.front.run.length.S=22 in")
	if c := &w.Closures[0]; c.Use != "horn-40" || c.Run.Length.At(0).V != 22*measure.Inch || c.Run.Length.At(1).V != 25*measure.Inch || len(w.Withs()) != 2 {
		t.Errorf("%s %+v", c.Use, c.Run.Length)
	}
	if n, err := w.AsVariant("house"); err != nil || n.Closures[0].Use != "horn-40" || n.Closures[0].Spare != 2 {
		t.Errorf("as another variant: %v", err)
	}
	if n, err := w.Plain(); err != nil || n.Closures[0].Use != "corozo-36" {
		t.Errorf("without --with it is still the variant: %v", err)
	}
	_, err := house(t, watchCoats, Options{Variant: "ligth"})
	var unknown *VariantError
	if !errors.As(err, &unknown) || !strings.Contains(err.Error(), "coat.toml has no variant \"ligth\"") {
		t.Errorf("an unknown variant: %v", err)
	} else if _, instead := unknown.Says(); instead != "light" {
		t.Errorf("an unknown variant: write %s", instead)
	}
}

// Every change of a variant is that of reading its file anew, and what it
// writes into the file says so, in lines of the variant alone.
func TestVariantAltered(t *testing.T) {
	g := variantOf(t, watchCoats, "light")
	for _, with := range [][]With{
		{Set("closure.front.use", "horn-40")},
		{SetLength("closure.front.stand.extension", 4*measure.Inch, measure.In)},
		{SetLength("closure.front.run.length.S", 22*measure.Inch, measure.In)},
		{SetLength("closure.front.run.length.M", 26*measure.Inch, measure.In)},
		{SetSizes("closure.front.run.length", g.Sizes, []measure.Length{22 * measure.Inch, 23 * measure.Inch}, measure.In)},
		{Set("cloth.shell.use", "duck-10"), TakeOut("cloth.shell.weight")},
		{TakeOut("closure.front.stand")},
		{TakeOut("cloth.shell.weight")},
		{SetTable("cloth.lining", map[string]any{"use": "melton"}), SetNames("closure.front.over", "shell", "lining", "shell")},
		{Set("closure.front.run.count", 6), Set("wearer", "child")},
	} {
		name := strings.Join(Texts(with), " ")
		now, err := g.Alter(with...)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		anew := variantOf(t, watchCoats, "light", Texts(with)...)
		if diff := differ(anew, now); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
		data, lines, err := g.Rewrite(with...)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		i, from := strings.Index(watchCoats, "-- coat.toml --\n")+len("-- coat.toml --\n"), strings.Count(string(data), "\n")
		back, err := house(t, watchCoats[:i]+string(data), Options{Variant: "light"})
		if err != nil {
			t.Errorf("%s: %v\n%s", name, err, data)
			continue
		}
		if diff := differ(now, back); diff != "" {
			t.Errorf("%s: written (-want +got):\n%s\n%s", name, diff, data)
		}
		for _, l := range lines {
			if l.Line < 18 || from == 0 {
				t.Errorf("%s: line %d of the file is changed: %s", name, l.Line, l.Text)
			}
		}
		// Neither the file itself nor another variant is touched.
		for _, other := range []string{"", "house"} {
			was, is := variantOf(t, watchCoats, other), variantOf(t, watchCoats[:i]+string(data), other)
			if diff := differ(was, is); diff != "" {
				t.Errorf("%s: variant %q:\n%s", name, other, diff)
			}
		}
	}
	// A variant that only the house has gets a line of its own here.
	h := variantOf(t, strings.ReplaceAll(watchCoats, "[variant.house]\n\"closure.front.spare\" = 2\n", ""), "house")
	data, _, err := h.Rewrite(Set("closure.front.use", "horn-40"))
	if err != nil || !strings.Contains(string(data), "[variant.house]\n\"closure.front.use\" = \"horn-40\"\n") {
		t.Errorf("%v\n%s", err, data)
	}
	if _, _, err := h.Rewrite(Set("closure.front.spare", 3)); err != nil {
		t.Errorf("what the house says of the variant: %v", err)
	}
}

// Whatever is wrong with a variant has its place and what to write.
func TestVariantFaults(t *testing.T) {
	many := ""
	for i := range MaxVariants + 1 {
		many += fmt.Sprintf("[variant.v%d]\nmake = 1\n", i)
	}
	const file = `garment = "Coat"
units = "in"
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "horn-30"
over = ["shell", "shell"]
[closure.run]
length = 24
count = 5
`
	for _, c := range []struct{ variant, want, instead string }{
		{"\"closure.front.us\" = \"horn-36\"", `13:1: there is no key "us"`, `"closure.front.use" = …`},
		{"\"closure.frnot.use\" = \"horn-36\"", `13:1: the garment has no closure "frnot"`, `"closure.front.use" = …`},
		{"\"cloth.shell.weight\" = 620", `13:24: weight is a text in quotes, not a number`, `a weight with its unit, like "620 g/m2"`},
		{"\"closure.front.use\" = \"horn-3\"", `13:23: the catalogue has no fastener "horn-3"`, `"horn-30"`},
		{"\"closure.front.run.count\" = \"5 in\"", `13:29: count is a whole number, not a text`, "a whole number, like 5"},
		{"\"closure.front.stand.extension\" = \"3 ni\"", `13:38: there is no unit of length "ni"`, "3 in"},
		{"closure.front.use = \"horn-36\"", `13:1: the keys of a variant stand in quotes`, `"closure.front.use" = "horn-36"`},
		{"\"closure.front.pieces\" = \"\"", `13:1: there is no closure.front.pieces to take out`, ""},
		{"\"base\" = \"x.toml\"", `13:1: the base was read before it; change it in the file`, ""},
		{"\"variant.y.make\" = 3", `13:1: a variant is chosen with --variant; change it in the file`, ""},
		{"\"closure.front.over\" = [\"shell\", \"lining\"]", `13:34: the garment has no cloth or interfacing "lining"`, `"shell"`},
		{"make = { S = 3 }", `13:8: make is given by size, but the garment lists no sizes`, "make = 12"},
		{"make = -3", `13:8: make is -3, but must lie between 0 and 10000`, ""},
		{"make = \"3\"", `13:8: make is a whole number, not a text`, "3"},
		{"\"=\" = 3", `13:1: = names nothing in the file`, `"closure.front.use" = …`},
	} {
		_, err := Read("coat.toml", []byte(file+"[variant.navy]\n"+c.variant+"\n"), Options{Variant: "navy"})
		var ps source.Problems
		if !errors.As(err, &ps) || len(ps) != 1 || ps[0].String() != "coat.toml:"+c.want || ps[0].Instead != c.instead {
			t.Errorf("%s:\n%#v, not\n%s\n%q", c.variant, err, c.want, c.instead)
		}
	}
	// Faults of keys and of values in one go.
	_, err := Read("coat.toml", []byte(file+"[variant.navy]\n\"closure.front.us\" = 3\n\"closure.front.use\" = \"horn-3\"\n"), Options{Variant: "navy"})
	var both source.Problems
	if !errors.As(err, &both) || len(both) != 2 {
		t.Errorf("%v", err)
	}
	for _, c := range []struct{ text, want string }{
		{"variant = 3", "variant is a set of named tables, not a number"},
		{"[variant]\nnavy = 3", "variant.navy is a table of keys, not a number"},
		{"[variant.\"a.b\"]\nmake = 3", `the name "a.b" cannot be used`},
		{many, "variant has 41 entries: 40 is the most"},
		{"[sizes]\nnames = [\"S\"]\n[variant.x]\nmake = 3\n", ""},
	} {
		text := file + c.text
		if strings.HasPrefix(c.text, "variant =") {
			text = c.text + "\n" + file
		}
		if _, err := Read("coat.toml", []byte(text), Options{}); c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%.40s: %v, not %s", c.text, err, c.want)
		}
	}
	// Limits of what is planned: closures × sizes × variants.
	var names, more []string
	for i := range MaxSizes {
		names = append(names, fmt.Sprintf("%q", fmt.Sprint(i)))
	}
	big := file + "[sizes]\nnames = [" + strings.Join(names, ", ") + "]\n"
	for i := range 9 {
		more = append(more, fmt.Sprintf("[[closure]]\nname = \"c%d\"\nuse = \"horn-30\"\nover = [\"shell\"]\n[closure.run]\nlength = 24\ncount = 5\n", i))
	}
	big += strings.Join(more, "")
	fits, much := big, big
	for i := range 10 {
		if much += fmt.Sprintf("[variant.v%d]\n\"wearer\" = \"child\"\n", i); i < 9 {
			fits = much
		}
	}
	if _, err := Read("coat.toml", []byte(fits), Options{}); err != nil {
		t.Error(err)
	}
	if _, err := Read("coat.toml", []byte(much), Options{}); err == nil || !strings.Contains(err.Error(), "10 variants, each of 10 closures in 60 sizes, are too much for one file: 6000 runs in all are the most") {
		t.Error(err)
	}
	if !slices.Contains(simple, "make") {
		t.Error("make is not read again by itself")
	}
}

// How many are made: by size, of a garment without sizes a number, and never
// what it is not.
func TestMade(t *testing.T) {
	g := variantOf(t, watchCoats, "", "make.M=7")
	if diff := cmp.Diff([]int{3, 7}, g.Make.N); diff != "" {
		t.Error(diff)
	}
	for with, want := range map[string]string{
		"make.L=7":       "the garment has no size \"L\"",
		"make=7":         "make says how many of each size, and the garment has S and M",
		"make.M=10001":   "make of size M is 10001, but must lie between 0 and 10000",
		"make.M=1.5":     "make of size M is a whole number, not 1.5",
		"make.M.x=3":     "make.M has no keys below it",
		"variant.light=": "a variant is chosen with --variant",
	} {
		if _, err := house(t, watchCoats, Options{With: []string{with}}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, not %s", with, err, want)
		}
	}
}

// Whatever key a variant sets, the garment is that of --with with the same
// value, and what one of them refuses the other refuses.
func TestEveryKeyInAVariant(t *testing.T) {
	tried, taken := 0, 0
	for n, name := range garments(t) {
		if n%4 != 0 {
			continue
		}
		g, err := Load(name, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(g.Variants()) > 0 {
			continue
		}
		var all []With
		for i := range g.Closures {
			all = append(all, everyKey(g, Key("closure", g.Closures[i].Name), "closure", closureFields(&Closure{}, &rawClosure{}))...)
		}
		for _, c := range g.ClothNames {
			all = append(all, everyKey(g, Key("cloth", c), "cloth", clothFields(&Cloth{}, nil, nil))...)
		}
		all = append(all, everyKey(g, "machine", "machine", g.machineKeys())...)
		all = append(all, Set("wearer", "child"), Set("hem_at", "knee"), Set("garment", "Other"))
		for i, w := range all {
			if (i+n)%3 != 0 {
				continue
			}
			value := w.Value
			if value == nil {
				value = ""
			}
			text := g.Text() + "\n[variant.one]\n" + source.Text(w.Key) + " = " + source.Text(value) + "\n"
			got, gotErr := Read(name, []byte(text), Options{Variant: "one"})
			want, wantErr := Load(name, Options{With: []string{w.String()}})
			tried++
			if (gotErr == nil) != (wantErr == nil) {
				t.Errorf("%s: %s: in a variant %v, with --with %v", name, w, gotErr, wantErr)
				continue
			}
			if gotErr != nil {
				var ps source.Problems
				last := strings.Count(text, "\n")
				if !errors.As(gotErr, &ps) || !slices.ContainsFunc(ps, func(p source.Problem) bool { return p.Pos.File == name && p.Pos.Line > 0 }) {
					t.Errorf("%s: %s: a fault without a place: %v", name, w, gotErr)
				} else if len(ps) == 1 && ps[0].Pos.Line != last {
					// It may be another value that no longer fits: then --with tells it there too.
					var with source.Problems
					if !errors.As(wantErr, &with) || with[0].Pos != ps[0].Pos {
						t.Errorf("%s: %s: told at %s and not in line %d", name, w, ps[0].Pos, last)
					}
				}
				continue
			}
			taken++
			got.Variant = ""
			if diff := differ(want, got); diff != "" {
				t.Errorf("%s: %s (-with +variant):\n%s", name, w, diff)
			}
		}
	}
	if tried < 200 || taken < tried/4 {
		t.Errorf("%d keys tried, %d taken", tried, taken)
	}
}
