package guide

import (
	"path/filepath"
	"strings"
	"testing"
)

// What was found by reading the covers with a garment on the table: a cover
// speaks of what the garment has. (Common practice, no source.)
func TestCoverSpeaksOfTheGarment(t *testing.T) {
	for _, c := range []struct {
		file        string
		want, never []string
	}{
		{"worked/leather-jacket.toml", []string{"Make a test set through", "Mark the one side.", "Wearer&#39;s left front: zip"},
			[]string{"holes", "sample hole", "front, on top", "On top lies", "lap_over", "to be drafted"}},
		{"worked/child-anorak.toml", []string{"Make a test set through", "On top lies the wearer&#39;s left"}, []string{"Mark and sew the holes"}},
		{"worked/cape.toml", []string{"Collar: hook", "Collar, other side: round eye", "the other side of the collar", "Cut a hole with the blade", "bound hole: the cut between its two lips"}, []string{"Collar, on top", "a pin across", "bar tacks"}},
		{"worked/melton-coat.toml", []string{"Sew and open a sample hole through", "Mark and sew the holes", "a pin across each end", "front, on top: hole"}, []string{"test set"}},
		{"garments/watch-coat-ready.toml", []string{"interfacing, cuff-tab:", "the cloth beneath the cuff-tab:"}, []string{"interfacing, tab:"}},
	} {
		p := planned(t, filepath.Join("..", "..", "testdata", filepath.FromSlash(c.file)))
		says := strings.Join(strings.Fields(string(marked(t, p, Options{Format: "svg", Sizes: p.Garment.Sizes[:1]}))), " ")
		for _, s := range c.want {
			if !strings.Contains(says, s) {
				t.Errorf("%s: %q is missing", c.file, s)
			}
		}
		for _, s := range c.never {
			if strings.Contains(says, s) {
				t.Errorf("%s: %q is said", c.file, s)
			}
		}
	}
}

// The list of pages takes no page of its own for a line or two.
func TestCoverIsOnePage(t *testing.T) {
	p := planned(t, filepath.Join("..", "..", "testdata", "garments", "watch-coat.toml"))
	b := marked(t, p, Options{Format: "pdf", Sizes: []string{"S"}, Paper: "letter"})
	if n := strings.Count(string(b), "/Type /Page\n"); n != 9 {
		t.Errorf("%d pages, not 1 and the 8 of the pieces", n)
	}
}

// No two runs of pages are called alike. (A flap and what it is buttoned to,
// each on a page of its own.)
func TestPagesHaveTheirNames(t *testing.T) {
	p := planned(t, filepath.Join("..", "..", "testdata", "garments", "watch-coat.toml"))
	text := string(tool(t, "pdftotext", "-layout", saved(t, marked(t, p, Options{Format: "pdf", Sizes: []string{"S"}, Paper: "a4"})), "-"))
	seen := map[string]bool{}
	for _, l := range strings.Split(text, "\n") {
		if head, name, is := strings.Cut(strings.TrimSpace(l), ": "); is && strings.HasPrefix(head, "Page") {
			if seen[name] {
				t.Errorf("%q twice", name)
			}
			seen[name] = true
		}
	}
	if len(seen) < 4 {
		t.Errorf("read %v", seen)
	}
}

// A strip of a column has the line that it is laid along from its top to its
// end, so that a page before the first row has it too; places are measured from
// the top.
func TestStripHasItsLine(t *testing.T) {
	p := planned(t, filepath.Join("..", "..", "testdata", "worked", "double-breasted-plaid.toml"))
	says := string(marked(t, p, Options{Format: "svg", Layout: "strip"}))
	if n := strings.Count(says, `class="lay"`); n != 2 {
		t.Errorf("%d of the two lines reach beyond their rows", n)
	}
}
