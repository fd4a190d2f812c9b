package sheet

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/rules"
	"placketeer/rules/work"

	"github.com/google/go-cmp/cmp"
	"github.com/rivo/uniseg"
)

func listedText(t *testing.T, ps []*rules.Planned, o Options) string {
	t.Helper()
	var b strings.Builder
	for _, p := range ps {
		if err := Checklist(&b, p, o); err != nil {
			t.Fatal(err)
		}
	}
	return b.String()
}

func TestChecklistFitsTheWidth(t *testing.T) {
	for _, f := range demos(t) {
		for _, width := range []int{0, 60, 100} {
			for _, utf8 := range []bool{true, false} {
				most := width
				if most == 0 {
					most = 80
				}
				text := listedText(t, []*rules.Planned{planned(t, f)}, Options{Width: width, UTF8: utf8})
				for i, line := range strings.Split(text, "\n") {
					if n := uniseg.StringWidth(line); n > most {
						t.Errorf("%s at %d: line %d has %d columns: %s", filepath.Base(f), most, i+1, n, line)
					}
					if !utf8 && strings.ContainsFunc(line, func(r rune) bool { return r > 126 }) {
						t.Errorf("%s: line %d is not ASCII: %s", filepath.Base(f), i+1, line)
					}
				}
			}
		}
	}
}

// The order is that of the work: what is done late spoils the piece. Common
// practice, no source.
func TestChecklistOrder(t *testing.T) {
	text := listedText(t, []*rules.Planned{demo(t, "watch-coat-ready")}, Options{UTF8: true})
	text = strings.Join(strings.Fields(text), " ")
	at := 0
	for _, step := range []string{
		"Measure the real fasteners",
		"Fold each cloth in eight",
		"Buy the fasteners",
		"Fuse the weft interfacing on shell, a swatch",
		"Sew a sample hole for the front",
		"Cut both fronts with",
		"Fuse the weft interfacing to both fronts",
		"Sew the holes of the flap",
		"Only now join the flap",
		"Turn the hem up and pin it",
		"Check the needle clamp and put in 110/18",
		"Count the layers: the top of the front edge",
		"Sew the holes of the front",
		"mark the buttons through the eyes of the holes",
		"Sew the buttons of the front on by hand (6)",
		"Fasten and open every button of the front",
	} {
		i := strings.Index(text[at:], step)
		if i < 0 {
			t.Fatalf("%q is missing, or comes too early", step)
		}
		at += i
	}
	set := strings.Join(strings.Fields(listedText(t, []*rules.Planned{demo(t, "slipway-gilet-ready")}, Options{UTF8: true})), " ")
	if i, j := strings.Index(set, "Set the snap caps of the pocket (2)"), strings.Index(set, "Only now join the pocket"); i < 0 || j < i {
		t.Errorf("snaps at %d, joining at %d", i, j)
	}
}

// A list for one size has the figures of that size alone.
func TestChecklistOfOneSize(t *testing.T) {
	p := demo(t, "watch-coat-ready")
	text := listedText(t, []*rules.Planned{p}, Options{Size: "M", UTF8: true})
	if !strings.HasPrefix(text, "Harbour watch coat: checklist, size M\n") {
		t.Errorf("heading: %q", strings.SplitN(text, "\n", 2)[0])
	}
	joined := strings.Join(strings.Fields(text), " ")
	k := &p.Closures[0]
	var marks []string
	for _, at := range k.Sizes[slices.Index(p.Garment.Sizes, "M")].Positions {
		marks = append(marks, at.Short(p.Garment.Units))
	}
	if want := "from the neck edge at " + strings.Join(marks, ", "); !strings.Contains(joined, want) {
		t.Errorf("no %q in\n%s", want, text)
	}
	if strings.Contains(text, "XL:") {
		t.Error("the list for M speaks of XL")
	}
	var b strings.Builder
	if err := Checklist(&b, p, Options{Size: "XXL"}); err == nil || b.Len() > 0 {
		t.Errorf("size XXL: %v, %q", err, b.String())
	}
	if err := Checklist(&b, p, Options{Format: "csv"}); err == nil || b.Len() > 0 {
		t.Errorf("format csv: %v, %q", err, b.String())
	}
}

// All formats carry the same tasks and cautions.
func TestChecklistFormatsAgree(t *testing.T) {
	for _, f := range demos(t) {
		p := planned(t, f)
		var list struct {
			Stages []struct {
				Stage string
				Tasks []struct {
					Do       string
					Lines    []string
					Cautions []string
				}
			}
		}
		if err := json.Unmarshal([]byte(listedText(t, []*rules.Planned{p}, Options{Format: "json"})), &list); err != nil {
			t.Fatal(err)
		}
		tasks, cautions := 0, 0
		var names []string
		for _, s := range list.Stages {
			names = append(names, s.Stage)
			for _, k := range s.Tasks {
				tasks++
				cautions += len(k.Cautions)
				if k.Do == "" || k.Lines == nil || k.Cautions == nil {
					t.Errorf("%s: %+v", filepath.Base(f), k)
				}
			}
		}
		var known []string
		for _, s := range work.Stages {
			if slices.Contains(names, s) {
				known = append(known, s)
			}
		}
		if diff := cmp.Diff(known, names); diff != "" {
			t.Errorf("%s: stages (-want +got):\n%s", filepath.Base(f), diff)
		}
		for format, marks := range map[string][2]string{
			"text": {`(?m)^  \[ \] `, `(?m)^      ! `}, "markdown": {`(?m)^- \[ \] `, `(?m)^  - \*\*Take care:`}, "html": {`type="checkbox"`, `class="care"`},
		} {
			text := listedText(t, []*rules.Planned{p}, Options{Format: format, UTF8: true})
			for i, want := range []int{tasks, cautions} {
				if got := len(regexp.MustCompile(marks[i]).FindAllString(text, -1)); got != want {
					t.Errorf("%s as %s: %d of %q, %d in the JSON", filepath.Base(f), format, got, marks[i], want)
				}
			}
			if strings.Contains(text, "%!") || strings.Contains(text, "..") {
				t.Errorf("%s as %s: a slip of the pen", filepath.Base(f), format)
			}
		}
	}
}

// Names from the file mean themselves in every format.
func TestChecklistIsSafe(t *testing.T) {
	p := fromText(t, `garment = "<script>alert(1)</script> *coat* \u001b[31m"
units = "in"
[cloth.shell]
use = "melton"
[[closure]]
name = "front <b>"
use = "horn-36"
over = ["shell", "shell"]
[closure.run]
length = 24
count = 5
`)
	for _, format := range ChecklistFormats {
		text := listedText(t, []*rules.Planned{p}, Options{Format: format})
		if strings.Contains(text, "\x1b") {
			t.Errorf("%s passes an escape on", format)
		}
		if format != "json" && format != "text" && (strings.Contains(text, "<script>") || strings.Contains(text, "<b>")) {
			t.Errorf("%s passes a tag on", format)
		}
		if format == "markdown" && strings.Contains(text, " *coat*") {
			t.Error("Markdown passes stars on")
		}
	}
}

// A cord that is forbidden is left out; the others have their cautions beside
// them.
func TestChecklistCords(t *testing.T) {
	text := strings.Join(strings.Fields(listedText(t, []*rules.Planned{demo(t, "slipway-gilet")}, Options{UTF8: true})), " ")
	if !strings.Contains(text, "Leave the cord at the neck out: close the neck with elastic or snaps.") || strings.Contains(text, "Draw in the cord at the neck") {
		t.Error("the cord at the neck is still drawn in")
	}
	at := strings.Index(text, "Of the cord at the hem first cut its free ends to 3 in")
	if at < 0 || !strings.Contains(text[at:min(len(text), at+400)], "only then draw it in") || !strings.Contains(text[at:min(len(text), at+400)], "! 16 CFR 1120 (ASTM F1816-97) allows free ends at most 3 in") {
		t.Error("the cord at the hem is drawn in as it is, or without its caution")
	}
}

// Every garment of the rules' cases has a list, whatever closes it.
func TestChecklistOfEveryCase(t *testing.T) {
	files, err := filepath.Glob("../../testdata/rules/*/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, f := range files {
		text := listedText(t, []*rules.Planned{planned(t, f)}, Options{UTF8: true})
		for _, slip := range []string{"%!", "..", " ,", "  .", "( )", "()", " 0 in", " 0 mm", "the the"} {
			for _, line := range strings.Split(text, "\n") {
				if strings.Contains(strings.TrimSpace(line), slip) {
					t.Errorf("%s: %q in %q", f, slip, line)
				}
			}
		}
		if !strings.Contains(text, "[ ]") || !strings.Contains(text, work.StageCheck) {
			t.Errorf("%s: %s", f, text)
		}
	}
}

// Cords that are sewn on past a separate band, whose interfacing ends at its
// seam, have a task of their own, and are not told of once more.
func TestChecklistInterfacesCordsPastABand(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "rules", "strip-narrow", "bad-cord-band.toml"))
	if err != nil {
		t.Fatal(err)
	}
	g, err := catalog.Read("band.toml", b, catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := Checklist(&out, rules.Plan(g), Options{Format: "text", Width: 80}); err != nil {
		t.Fatal(err)
	}
	said := strings.Join(strings.Fields(out.String()), " ")
	// Geometry: a patch of 1 1/2 × 1 3/4 in, and 1/4 in all round.
	want := "Put a piece of the canvas interfacing, 51 mm (2 in) wide and 57 mm (2 1/4 in) high"
	if strings.Count(said, want) != 1 || strings.Contains(said, "cords are sewn on 75 mm") || strings.Index(said, want) > strings.Index(said, "Mark the loops") {
		t.Errorf("want once, before the loops are marked, %q:\n%s", want, out.String())
	}
}
