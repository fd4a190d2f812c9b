package live

import (
	"flag"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/guide"
	"placketeer/rules/search"
	"placketeer/rules/sheet"
)

var update = flag.Bool("update", false, "write the pictures of the README")

// The pictures of the README are made from what the program shows, so that
// they cannot drift: the page at the table, and a strip of the guide.
func TestPicturesOfTheREADME(t *testing.T) {
	const file = "../../testdata/garments/watch-coat.toml"
	g, err := catalog.Load(file, catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := search.Checked(g, search.CheckOptions{Fixes: true})
	ready, err := catalog.Load(strings.Replace(file, ".toml", "-ready.toml", 1), catalog.Options{})
	if err != nil {
		t.Fatal(err)
	}
	strip, _, err := guide.Mark(rules.Plan(ready), guide.Options{Closure: "front", Format: "svg", Layout: "strip", Sizes: []string{"M"}, Paper: "none"})
	if err != nil {
		t.Fatal(err)
	}
	kept(t, "guide.svg", string(strip))
	kept(t, "live.svg", portrait(t, file, p))
}

func kept(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("../../testdata/pictures", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s is not what the program shows: go test ./rules/live -run Pictures -update", name)
	}
}

// portrait is the page as one picture: its fields, its piece, its screen.
func portrait(t *testing.T, file string, p *rules.Planned) string {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	s, err := New(Options{File: file}, l)
	if err != nil {
		t.Fatal(err)
	}
	out, err := s.view(&request{Size: "M"})
	if err != nil {
		t.Fatal(err)
	}
	v := out.(*View)
	style, err := files.ReadFile("style.css")
	if err != nil {
		t.Fatal(err)
	}
	// The colours, and what is said of drawings.
	root := regexp.MustCompile(`(?m)^:root \{.*$`).FindString(string(style))
	drawn := regexp.MustCompile(`(?m)^svg .*$`).FindAllString(string(style), -1)
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1000 720" width="1000" height="720" role="img" aria-label="%s"><style>%s %s .page { font: 13px system-ui, "DejaVu Sans", sans-serif; fill: #20261f; } .bold { font-weight: 600; } .soft { fill: #5a5f55; }</style><rect width="1000" height="720" fill="#fbf8f0"/>`,
		esc("The page at the table: "+v.Garment), root, strings.Join(drawn, " "))
	fmt.Fprintf(&b, `<text class="page bold" x="20" y="32" font-size="20">%s</text><text class="page" x="20" y="56">%s: %s</text>`, esc(v.Garment), esc(v.Verdict), esc(v.Summary))
	x := 20 - 160
	for _, f := range v.Fields {
		if f.More { // folded away
			continue
		}
		x += 160
		fmt.Fprintf(&b, `<text class="page soft" x="%d" y="82">%s</text><rect x="%d" y="88" width="146" height="26" fill="none" stroke="#5a5f55"/><text class="page bold" x="%d" y="106">%s</text>`, x, esc(f.Label), x, x+8, esc(f.Value))
	}
	fmt.Fprintf(&b, `<svg x="20" y="130" width="440" height="570"%s`, strings.TrimPrefix(v.Picture, "<svg"))
	y := 142.0
	say := func(class string, x int, says string) {
		for _, line := range text.Wrap(says, 62) {
			if y < 712 {
				fmt.Fprintf(&b, `<text class="page %s" x="%d" y="%g">%s</text>`, class, x, y, esc(line))
			}
			y += 18
		}
	}
	sc := sheet.ScreenOf(p, sheet.Options{})
	for _, part := range sc.Parts {
		y += 6
		say("bold", 490, part.Title)
		for _, th := range part.Things {
			say(th.Severity.String(), 502, th.Says)
			for _, x := range th.Offer {
				say("soft", 518, "Try, Keep: "+sheet.Says(x))
			}
		}
	}
	b.WriteString("</svg>\n")
	return b.String()
}
