package guide

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
)

const fuzzed = `garment = %
units = "mm"
[sizes]
names = [%]
[cloth.shell]
use = "melton"
[[closure]]
name = %
use = "horn-30"
where = "tab"
over = ["shell", "shell"]
[closure.run]
length = 60
count = 1
first = 30
anchor = [{ name = %, at = 30 }]
`

// Whatever the names are, a guide of each format is drawn: the SVG is XML and
// has nothing but what is drawn, the PNG is a picture, the PDF begins and ends
// as one; nothing in them steers who reads it.
func FuzzGuide(f *testing.F) {
	for i, s := range []string{
		"Quay tab", "<script>x</script>", `"/><a href="x">`, "]]>", "&amp;", "\u202e\u200b\ufeff\u009b", "\u3164", "a\nb", "\x00", ") Tj ET (", `\)`, "endstream", "%%EOF", "👩‍👩‍👧", "éß水", strings.Repeat("W", 80), strings.Repeat("x\u0301", 40),
	} {
		f.Add(s, uint8(i))
	}
	f.Fuzz(func(t *testing.T, name string, kind uint8) {
		q := strings.ReplaceAll(strconv.QuoteToASCII(name), `\x`, `\u00`)
		q = strings.NewReplacer(`\a`, `\u0007`, `\v`, `\u000b`).Replace(q)
		g, err := catalog.Read("x.toml", []byte(strings.ReplaceAll(fuzzed, "%", q)), catalog.Options{})
		if err != nil {
			return
		}
		o := Options{Format: []string{"svg", "svg", "pdf", "svg", "pdf", "svg", "svg", "png"}[kind%8], DPI: 36, Layout: Layouts[kind/8%2], Side: "over"}
		data, _, err := Mark(rules.Plan(g), o)
		if err != nil {
			t.Fatal(err)
		}
		switch o.Format {
		case "png":
			if _, err := png.DecodeConfig(bytes.NewReader(data)); err != nil {
				t.Error(err)
			}
		case "pdf":
			if !bytes.HasPrefix(data, []byte("%PDF-")) || !bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF")) || bytes.Count(data, []byte("/Type /Catalog")) != 1 || bytes.Contains(data, []byte("/JavaScript")) {
				t.Errorf("%q: no sound PDF", name)
			}
		case "svg":
			if i := strings.IndexFunc(string(data), func(r rune) bool { return text.Hidden(r) && r != '\n' }); i >= 0 {
				t.Errorf("the SVG holds %q", data[i:min(len(data), i+8)])
			}
			d := xml.NewDecoder(bytes.NewReader(data))
			for {
				tok, err := d.Token()
				if errors.Is(err, io.EOF) {
					break
				} else if err != nil {
					t.Fatal(err)
				}
				e, ok := tok.(xml.StartElement)
				if !ok {
					continue
				}
				switch e.Name.Local {
				case "svg", "title", "desc", "g", "path", "rect", "text", "style", "defs", "circle", "line":
				default:
					t.Errorf("the SVG has <%s>", e.Name.Local)
				}
				for _, a := range e.Attr {
					if strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" {
						t.Errorf("the SVG has %s=%q", a.Name.Local, a.Value)
					}
				}
			}
		}
	})
}
