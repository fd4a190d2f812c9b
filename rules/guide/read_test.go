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

// No line ends between a number and its unit, or within 2 1/4; nor beside the
// sign of what is to be set.
func TestLengthsAreNotBroken(t *testing.T) {
	f := shelf.Get().(*faces)
	defer shelf.Put(f)
	says := `Stay interfacing, flap: from 2 1/4 in (57.5 mm) to 3 3/4 in (95 mm), 44.5 mm (1 3/4 in). Set lap_over = "right" in it.`
	for width := 30.0; width < 190; width++ {
		lines := f.wrap(says, small, width)
		if got := strings.Join(lines, " "); got != says {
			t.Fatalf("at %v mm: %q", width, got)
		}
		for _, l := range lines[1:] {
			if first := strings.TrimRight(strings.Fields(l)[0], "),."); first == "in" && !strings.HasPrefix(l, "in it") || first == "mm" || first == "1/4" || first == "3/4" || first == "=" || first == `"right"` {
				t.Errorf("at %v mm a line begins with %q", width, l)
			}
		}
	}
	// What is wider than the room is broken all the same, and nothing is cut off.
	if got := f.wrap("1000 mm (39 3/8 in)", small, 10); strings.Contains(strings.Join(got, ""), "…") {
		t.Errorf("%q", got)
	}
}

// Two cuffs are drawn once: one of them is turned over. What is the same in all
// sizes stands behind the fronts of all sizes.
func TestPairsStandLast(t *testing.T) {
	p := planned(t, filepath.Join("..", "..", "testdata", "collection", "canvas-jacket.toml"))
	d, err := laid(p, Options{Paper: "letter"})
	if err != nil {
		t.Fatal(err)
	}
	d.number()
	var small []string
	for _, s := range d.sheets {
		switch front := strings.HasPrefix(s.name, "front"); {
		case front && small != nil:
			t.Errorf("%s stands behind %v", s.name, small)
		case !front:
			small = append(small, s.name)
			if !strings.Contains(s.name, "2 pieces, one turned over") {
				t.Errorf("%s: which way?", s.name)
			}
		}
	}
	if len(small) == 0 {
		t.Error("no flap, no cuff")
	}
	if says := string(marked(t, p, Options{Format: "svg", Layout: "strip"})); !strings.Contains(says, "one turned over") {
		t.Error("the strips do not say it")
	}
}

// What the cover speaks of is on a page, or the cover says where it lies. (The
// facing of this front: 3 5/8 in of interfacing and more lie beside the page.)
func TestBesideThePages(t *testing.T) {
	p := planned(t, filepath.Join("..", "..", "testdata", "worked", "double-breasted-plaid.toml"))
	d, err := laid(p, Options{Paper: "letter"})
	if err != nil {
		t.Fatal(err)
	}
	d.number()
	says := ""
	for _, s := range d.sheets {
		says += s.pages() + "\n"
	}
	for _, want := range []string{"right front. Not on them: cut edge ", "left front. Not on them: ", "interfacing 3 5/8 in (92 mm) inside the centre line"} {
		if !strings.Contains(says, want) {
			t.Errorf("%q is missing in %s", want, says)
		}
	}
	p = planned(t, filepath.Join("..", "..", "testdata", "worked", "melton-coat.toml"))
	if says := string(marked(t, p, Options{Format: "svg"})); strings.Contains(says, "Not on") {
		t.Error("something is said not to be on a sheet that has no pages")
	}
}

// The legend calls what a hook goes into as the drawing does.
func TestLegendOfTheEye(t *testing.T) {
	p := planned(t, filepath.Join("..", "..", "testdata", "worked", "cape.toml"))
	if says := string(marked(t, p, Options{Format: "svg"})); !strings.Contains(says, "round eye of the hook") {
		t.Error("no round eye in the legend")
	}
}

// Where buttons overlap, labels stand at their buttons and not above the neck
// edge, where the head of the strip is.
func TestLabelsOfOverlappingButtons(t *testing.T) {
	p := planned(t, filepath.Join("..", "..", "testdata", "worked", "melton-coat.toml"), "closure.front.run.count=30")
	d, err := laid(p, Options{Paper: "letter", Layout: "strip"})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, s := range d.sheets {
		top := nowhere
		for _, i := range s.items {
			if strings.HasPrefix(i.class, "line-top") {
				top = top.join(i.box)
			}
		}
		for _, i := range s.items {
			if strings.HasPrefix(i.class, "label") && i.pen == nil {
				if n++; i.box.y1 < top.y0 {
					t.Errorf("%q lies at %v, above the neck edge at %v", i.text, i.box, top)
				}
			}
		}
	}
	if n < 30 {
		t.Errorf("%d labels", n)
	}
}

// No name of a line lies over the label of a place.
func TestNamesOfLinesBesideLabels(t *testing.T) {
	p := planned(t, filepath.Join("..", "..", "testdata", "worked", "shirt-placket.toml"))
	d, err := laid(p, Options{Paper: "letter", Layout: "strip"})
	if err != nil {
		t.Fatal(err)
	}
	_, total := d.number()
	on := *d.on
	for _, s := range d.sheets {
		for _, q := range s.tiles() {
			l := q.page(on, footer{"", "", 0, total})
			for _, a := range l.items {
				for _, b := range l.items {
					if a.pen == nil && b.pen == nil && strings.HasPrefix(a.class, "line-name") && strings.HasPrefix(b.class, "label") && a.box.meets(b.box) {
						t.Errorf("%q lies over %q", a.text, b.text)
					}
				}
			}
		}
	}
}
