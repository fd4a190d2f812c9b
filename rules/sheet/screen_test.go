package sheet

import (
	"path/filepath"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/search"
	"placketeer/rules/trial"
)

// screenOf is the screen of a garment file.
func screenOf(t *testing.T, file string, o Options) string {
	t.Helper()
	o.UTF8 = true
	return checked(t, []*rules.Planned{search.Checked(trial.Load(t, file), search.CheckOptions{Fixes: true})}, o)
}

// One screen of 80 columns: at most 40 lines for the coat of five sizes with
// two conflicts and for any other garment that has some, 25 for one without.
func TestScreenFits(t *testing.T) {
	var files []string
	for _, dir := range []string{"garments", "worked"} {
		found, err := filepath.Glob(filepath.Join("..", "..", "testdata", dir, "*.toml"))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	seen := 0
	for _, f := range files {
		base := filepath.Base(f)
		if strings.HasSuffix(base, ".want.toml") || strings.HasPrefix(base, "tarn-quay-") {
			continue
		}
		seen++
		out := screenOf(t, f, Options{})
		most := 25
		if strings.Contains(out, "Settle before you cut") {
			most = 40
		}
		lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
		if len(lines) > most {
			t.Errorf("%s: %d lines, over %d:\n%s", base, len(lines), most, out)
		}
		for _, l := range lines {
			if text.Width(l) > 80 {
				t.Errorf("%s: %d columns: %s", base, text.Width(l), l)
			}
		}
	}
	if seen < 20 {
		t.Errorf("only %d garments", seen)
	}
}

// What settles a conflict stands under it, in one line with what to write, and
// is not offered once more for a caution of the same cause.
func TestScreenTries(t *testing.T) {
	out := screenOf(t, filepath.Join("..", "..", "testdata", "garments", "watch-coat.toml"), Options{})
	for _, once := range []string{
		"use needle 100/16  closure.front.needle=100/16\n",
		"Settle before you cut\n", "Sew a sample first\n", "At the table\n", "At the machine\n", "Worth knowing\n",
		"All together: ",
	} {
		if n := strings.Count(out, once); n != 1 {
			t.Errorf("%q stands %d times in\n%s", once, n, out)
		}
	}
}

// The numbers in the first line are those of the lines that follow.
func TestScreenCounts(t *testing.T) {
	out := screenOf(t, filepath.Join("..", "..", "testdata", "garments", "watch-coat.toml"), Options{})
	first := strings.Join(strings.Fields(out[:strings.Index(out, "\n\n")]), " ")
	conflicts := strings.Count(between(out, "Settle before you cut", "Sew a sample first"), "\n  - ")
	cautions := strings.Count(between(out, "Sew a sample first", "At the table"), "\n  - ")
	notes := strings.Count(out[strings.Index(out, "At the table"):], "\n  - ")
	if want := text.Count(conflicts, "conflict") + ", " + text.Count(cautions, "caution") + ", " + text.Count(notes, "note"); !strings.Contains(first, want) {
		t.Errorf("%s, but the lines are %s", first, want)
	}
}

func between(s, from, to string) string {
	_, s, _ = strings.Cut(s, from)
	s, _, _ = strings.Cut(s, to)
	return s
}

// Only some of them: the rest is counted, and the verdict stays.
func TestScreenOnly(t *testing.T) {
	file := filepath.Join("..", "..", "testdata", "garments", "watch-coat.toml")
	out := screenOf(t, file, Options{Only: "caution"})
	if !strings.Contains(out, "2 conflicts") || strings.Contains(out, "hole-machine]") || !strings.Contains(out, "Left out: settle before you cut 2, ") {
		t.Error(out)
	}
	if out := screenOf(t, file, Options{Only: "conflict", Format: "lines"}); strings.Count(out, "\n") != 2 || strings.Count(out, ": conflict: ") != 2 {
		t.Error(out)
	}
}

// A sample answers no caution about a child's safety: what is named for safety
// is done, and only the others are sewn first. (Common practice, no source.)
func TestSafetyAsksForNoSample(t *testing.T) {
	g := trial.Load(t, filepath.Join("..", "..", "testdata", "worked", "infant-jacket.toml"))
	screen := func(g *catalog.Garment) string {
		return strings.Join(strings.Fields(checked(t, []*rules.Planned{rules.Plan(g)}, Options{UTF8: true})), " ")
	}
	if says := screen(g); !strings.Contains(says, "do what is named for safety, and make a sample of what the other cautions name") {
		t.Errorf("of both sorts: %s", says)
	}
	var with []catalog.With
	for _, w := range []string{`thread.seam.use=core-tex-40`, `interfacing.stay={ use = "nonwoven-sewn-medium" }`} {
		x, err := catalog.ParseWith(w)
		if err != nil {
			t.Fatal(err)
		}
		with = append(with, x)
	}
	alone, err := g.Alter(with...)
	if err != nil {
		t.Fatal(err)
	}
	if says := screen(alone); !strings.Contains(says, "for safety") || strings.Contains(says, "make a sample of") {
		t.Errorf("of safety alone: %s", says)
	}
}
