package catalog

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// garments are all garment files of testdata that can be read.
func garments(t testing.TB) []string {
	t.Helper()
	var out []string
	for _, pattern := range []string{"garments/*.toml", "rules/*/*.toml"} {
		names, err := filepath.Glob(filepath.Join("..", "testdata", pattern))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, names...)
	}
	out = slices.DeleteFunc(out, func(name string) bool {
		data, err := os.ReadFile(name)
		return err != nil || !strings.Contains(string(data), "[[closure]]")
	})
	if len(out) < 50 {
		t.Fatalf("only %d garment files", len(out))
	}
	return out
}

// manyChanges are what-if changes of every sort for a garment, good and bad.
func manyChanges(g *Garment) [][]string {
	out := [][]string{
		{"garment=Another coat"}, {"units=mm"}, {"wearer=child"}, {"keep=[]"}, {"machine.foot_lift=5 mm"}, {"machine.use=domestic", "machine.buttonhole_max=30 mm"},
		{"machine.use=nothing"}, {"machine={use=\"domestic\", foot_lift=\"7 mm\"}"}, {"machine.foot_lift="},
	}
	add := func(with ...string) { out = append(out, with) }
	for _, n := range g.ClothNames {
		k := Key("cloth", n)
		add(k + ".thickness=2 mm ± 0.1")
		add(k+".weight=500 g/m2", k+".thickness=")
		add(k + ".use=duck-10")
		add(k + ".fibre={cotton=100}")
		add(k + ".fibre.wool=3")
		add(k + "={use=\"melton\"}")
		add(k + ".thickness=0.01 mm")
		add(k + ".repeat.along=2 in")
	}
	for _, n := range g.InterfNames {
		k := Key("interfacing", n)
		add(k + ".thickness=0.7 mm")
		add(k + ".use=hair-canvas")
		add(Texts(g.Replace("interfacing", n, "hair-canvas"))...)
		add(k + ".fixing=glued")
	}
	for _, n := range g.ThreadNames {
		add(Texts(g.Replace("thread", n, "polyester-tex-40"))...)
		add(Key("thread", n) + ".tex=Tex 30")
	}
	for i := range g.Closures {
		c := &g.Closures[i]
		k := Key("closure", c.Name)
		for _, s := range []string{
			".use=horn-30", ".hole=hand", ".hole_length=20 mm", ".direction=along", ".needle=90/14", ".needle=90/16",
			".run.first=1 in", ".run.first.min=1/2 in", ".run.last.max=6 in", ".run.count=4", ".run.count.max=9", ".run.count={min=3,max=6}",
			".run.step=1 mm", ".run.gap.min=1 in", ".run.gap={min=\"1 in\",max=\"9 in\"}", ".stand.finished=1 in", ".stand.extension=3 in",
			".stand={construction=\"faced\"}", ".stand.construction=wrapped", ".over=[]", ".notion=", ".notion.thickness=2 mm", ".notion.grip.min=1 mm",
			".pieces=2", ".name=other", ".thread=none", ".hole_length=", ".run.length=1 mm",
			".run.anchor.waist={at=\"5 in\"}", ".run.clear.belt={from=\"5 in\",to=\"6 in\"}", ".rows.distance=3 in",
		} {
			add(k + s)
		}
		add(Texts(g.Replace("closure", c.Name, "horn-24"))...)
		add(k+".use=horn-30", "cloth.shell.thickness=1 mm", k+".run.count=3")
		for _, s := range g.Sizes {
			if s != "" {
				add(k + ".run.first." + s + "=1 in")
				add(k + ".run.length." + s + "=30 in")
				add(k+".run.count."+s+"=6", k+".run.count.max=8")
			}
		}
		for _, a := range c.Run.Anchors {
			add(Key("closure", c.Name, "run", "anchor", a.Name) + ".within=1 in")
		}
	}
	return out
}

// withs are changes read from texts.
func withs(t testing.TB, texts ...string) []With {
	t.Helper()
	w, err := parseWiths(texts)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// change alters a garment as --with does.
func change(g *Garment, texts ...string) (*Garment, error) {
	w, err := parseWiths(texts)
	if err != nil {
		return nil, err
	}
	return g.Alter(w...)
}

// A garment of which only parts were read again is the garment that reading
// the whole file gives, and its faults are the same.
func TestChangeIsReadingAnew(t *testing.T) {
	tried, faulty := 0, 0
	for n, name := range garments(t) {
		g, err := Load(name, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i, with := range manyChanges(g) {
			if n > 1 && (i+n)%40 != 0 {
				continue // all of them on the coats, a few on each of the many small ones
			}
			tried++
			got, gotErr := change(g, with...)
			want, wantErr := Load(name, Options{With: with})
			if diff := cmp.Diff(errText(wantErr), errText(gotErr)); diff != "" {
				t.Errorf("%s: %q: error (-want +got):\n%s", name, with, diff)
			}
			if gotErr != nil || wantErr != nil {
				faulty++
				continue
			}
			if diff := differ(want, got); diff != "" {
				t.Errorf("%s: %q (-want +got):\n%s", name, with, diff)
			}
			for i := range got.Closures {
				for _, l := range slices.Concat(got.Closures[i].Over, got.Closures[i].Under) {
					if l.Cloth != nil && got.ClothNamed(l.Name) != l.Cloth || l.Interfacing != nil && got.InterfacingNamed(l.Name) != l.Interfacing {
						t.Errorf("%s: %q: layer %q is not the garment's own", name, with, l.Name)
					}
				}
				at := source.Item("closure", i)
				for _, key := range []string{"", ".use", ".over", ".run", ".run.length.M", ".run.count", ".stand.finished", ".needle"} {
					if diff := cmp.Diff(want.At(at+key), got.At(at+key)); diff != "" {
						t.Errorf("%s: %q: place of %s (-want +got):\n%s", name, with, at+key, diff)
					}
				}
			}
		}
	}
	if faulty < tried/20 || faulty > tried/2 {
		t.Errorf("%d of %d changes were refused: the test does not try both", faulty, tried)
	}
}

func errText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

// The original is never touched by a change.
func TestChangeLeavesTheGarmentAlone(t *testing.T) {
	name := filepath.Join("..", "testdata", "garments", "watch-coat.toml")
	g, err := Load(name, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, with := range manyChanges(g) {
		_, _ = change(g, with...)
	}
	fresh, err := Load(name, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(fresh, g, cmpopts.IgnoreUnexported(Garment{}, Catalog{})); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// A change pasted into the file gives what the change gives.
func TestLines(t *testing.T) {
	pasted, refused := 0, 0
	for n, name := range garments(t) {
		g, err := Load(name, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i, with := range manyChanges(g) {
			if n > 1 && (i+n)%40 != 0 {
				continue
			}
			want, err := change(g, with...)
			if err != nil {
				continue
			}
			text, lines, err := g.Rewrite(withs(t, with...)...)
			if err != nil {
				refused++
				t.Logf("%s: %q: %v", name, with, err)
				continue
			}
			got, err := Read(name, text, Options{})
			if err != nil {
				t.Errorf("%s: %q: %v in\n%s", name, with, err, text)
				continue
			}
			pasted++
			if diff := differ(want, got); diff != "" {
				t.Errorf("%s: %q: %v (-want +got):\n%s", name, with, lines, diff)
			}
		}
	}
	if pasted < 300 || refused > pasted/20 {
		t.Errorf("%d pasted, %d refused", pasted, refused)
	}
}

const keepText = `garment = "Coat"
units = "in"
sizes.names = ["12", "12.5"]
keep = ["cloth", "closure.front.use"]
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "horn-40"
over = ["shell", "shell"]
[closure.run]
length = { 12 = 24, "12.5" = 25 }
count = 5
anchor = [{ name = "bust", at = 8 }]
`

func TestKeep(t *testing.T) {
	for keep, touches := range map[string]map[string]bool{
		`"cloth"`:                             {"cloth.shell.thickness=2 mm": true, "closure.front.use=horn-36": false},
		`"closure.front"`:                     {"closure.front.use=horn-36": true, "cloth.shell.thickness=2 mm": false},
		`"closure.front.run"`:                 {"closure.front.run.count=4": true, "closure.front.use=horn-36": false},
		`"closure.front.run.count"`:           {"closure.front.run.count=4": true, "closure.front.run={length=24,count=4}": true, "closure.front.run.first=1 in": false},
		`"closure.front.run.anchor.bust"`:     {"closure.front.run.anchor.bust.at=9 in": true, "closure.front.run.anchor=[]": true},
		`"closure.front.needle"`:              {"closure.front.needle=90/14": true, "closure.front.needle_x=1": false},
		`"machine"`:                           {"machine.foot_lift=5 mm": true},
		`"closure.front.run.length.\"12.5\""`: {`closure.front.run.length."12.5"=26 in`: true, "closure.front.run.length.12=26 in": false, "closure.front.run.length=26": true},
	} {
		g, err := read(strings.Replace(keepText, `"cloth", "closure.front.use"`, keep, 1))
		if err != nil {
			t.Errorf("keep %s: %v", keep, err)
			continue
		}
		for with, want := range touches {
			if got := g.Kept(withs(t, with)[0]) != ""; got != want {
				t.Errorf("keep %s: %s touches it: %v, want %v", keep, with, got, want)
			}
		}
	}
	for keep, near := range map[string]string{
		`"cloths"`:                        "cloth",
		`"cloth.shel"`:                    "cloth.shell",
		`"closure.frnt"`:                  "closure.front",
		`"closure.front.ues"`:             "closure.front.use",
		`"closure.front.run.frist"`:       "closure.front.run.first",
		`"closure.front.use.x"`:           "closure.front.use",
		`"closure.front.run.anchor.bist"`: "",
	} {
		_, err := read(strings.Replace(keepText, `"cloth", "closure.front.use"`, `"machine", `+keep, 1))
		var ps source.Problems
		if keep == `"closure.front.run.anchor.bist"` {
			near = "closure.front.run.anchor.bust"
		}
		if !errors.As(err, &ps) || len(ps) != 1 || ps[0].Pos.String() != "coat.toml:4:20" || ps[0].Instead != near {
			t.Errorf("keep %s: got %v, want a fault at 4:20 with %q", keep, err, near)
		}
	}
}

// A size with a dot in its name can be named with quotes and without.
func TestSizeWithADot(t *testing.T) {
	g, err := read(keepText)
	if err != nil {
		t.Fatal(err)
	}
	for _, with := range []string{`closure.front.run.length."12.5"=26 in`, "closure.front.run.length.12.5=26 in"} {
		c, err := change(g, with)
		if err != nil || c.Closures[0].Run.Length.At(1).V.In() != 26 || c.Closures[0].Run.Length.At(0).V.In() != 24 {
			t.Errorf("%s: %v", with, err)
		}
	}
}

// Alter against its texts, and against reading the whole anew.
func BenchmarkAlter(b *testing.B) {
	g, err := Load(filepath.Join("..", "testdata", "garments", "watch-coat.toml"), Options{})
	if err != nil {
		b.Fatal(err)
	}
	for _, w := range []With{
		Set("closure.front.use", "horn-36"),
		SetLength("closure.front.stand.extension", 2*measure.Inch, measure.In),
		SetSizes("closure.front.run.first", g.Sizes, []measure.Length{measure.Inch, measure.Inch, measure.Inch, measure.Inch, measure.Inch}, measure.In),
		SetNames("closure.front.over", "shell", "shell"),
		Set("interfacing.weft.use", "hair-canvas"),
		SetLength("machine.foot_lift", 5*measure.Millimetre, measure.MM),
		Set("cut_for", "men"),
	} {
		text := w.String()
		run := func(name string, alter func() error) {
			b.Run(name+"/"+w.Key, func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if err := alter(); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
		run("typed", func() error { _, err := g.Alter(w); return err })
		run("text", func() error { _, err := change(g, text); return err })
		run("anew", func() error { o := g.opts; o.with = []With{w}; _, err := build(g.origin, o, g.Catalog); return err })
	}
}
