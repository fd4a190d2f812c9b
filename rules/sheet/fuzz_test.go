package sheet

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/search"
)

// named is a garment in which all that has a name has the same one.
const named = `garment = %
units = "in"
wearer = "child"
market = "us"
[sizes]
names = [%, "L"]
[cloth.%]
use = "melton"
repeat = { along = "3 in", across = "2 in" }
[thread.%]
tex = "Tex 40"
[[closure]]
name = %
use = "horn-36"
where = "front"
thread = %
over = [%, %]
[closure.run]
length = 24
count = 3
anchor = [{ name = "bust", at = 10 }]
clear = [{ name = %, at = "14 5/8 in", pressed = "open" }]
[[cord]]
name = %
at = "waist"
free_end = 5
`

// quoted is a name as a string of a garment file.
func quoted(name string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range name {
		if r == '"' || r == '\\' || r < 0x20 || r == 0x7f {
			b.WriteString(`\u` + strings.ToUpper(strconv.FormatInt(0x10000+int64(r), 16)[1:]))
		} else {
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// tagsOf are the elements of a page and their attributes.
func tagsOf(page string) (map[string]bool, error) {
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	tags := map[string]bool{}
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return tags, nil
		} else if err != nil {
			return tags, err
		}
		if e, ok := tok.(xml.StartElement); ok {
			tags[e.Name.Local] = true
			for _, a := range e.Attr {
				tags[e.Name.Local+" "+a.Name.Local] = true
				if a.Name.Local == "href" && strings.Contains(strings.ToLower(a.Value), "script") {
					tags["a link to a script"] = true
				}
			}
		}
	}
}

var rawTag = regexp.MustCompile(`<[a-zA-Z/!]`)

// Whatever a name is, no paper has a character in it that steers or hides, a
// cell that is a formula, or an element that the page of a plain name has not;
// the JSON gives the name back as it was.
func FuzzPapers(f *testing.F) {
	for _, s := range []string{
		"Quay coat", "=1+1", "＝1", "@x", "<script>alert(1)</script>", `"><img src=x onerror=y>`, "a|b", "`x`", "[a](javascript:x)", "\u202e\u2066\u200b\ufeff\u00ad\u009b31m",
		"\u034f\u3164", "a\nb\r\tc", "\x00\x1b[31m", "{{.}}", "%s%n", "-->", "</style>", "]]>", "&lt;", "👩‍👩‍👧", "x́", "e\U000e0041", "'''", `\`, "1.", "- x", "# x", "> x", "--with", strings.Repeat("A", 80),
	} {
		f.Add(s)
	}
	files, _ := filepath.Glob("../../testdata/bad/*name*.toml")
	for _, file := range files {
		if data, err := os.ReadFile(file); err == nil {
			f.Add(string(data[:min(len(data), 60)]))
		}
	}
	read := func(name string) (*catalog.Garment, error) {
		return catalog.Read("x.toml", []byte(strings.ReplaceAll(named, "%", quoted(name))), catalog.Options{})
	}
	papers := map[string]func(io.Writer, *rules.Planned, Options) error{
		"check":     func(w io.Writer, p *rules.Planned, o Options) error { return Check(w, []*rules.Planned{p}, o) },
		"spec":      func(w io.Writer, p *rules.Planned, o Options) error { return Spec(w, []*rules.Planned{p}, o) },
		"checklist": Checklist,
	}
	formats := map[string][]string{"check": CheckFormats, "spec": Formats, "checklist": ChecklistFormats}
	allowed := map[string]map[string]bool{} // what the pages of a plain name have
	for kind, write := range papers {
		g, err := read("Quay coat")
		if err != nil {
			f.Fatal(err)
		}
		var b bytes.Buffer
		if err := write(&b, rules.Plan(g), Options{Format: "html", Working: true, Sources: true}); err == nil {
			if allowed[kind], err = tagsOf(b.String()); err != nil {
				f.Fatal(kind, err)
			}
		}
	}
	turn := 0
	f.Fuzz(func(t *testing.T, name string) {
		g, err := read(name)
		if err != nil {
			return
		}
		p := rules.Plan(g)
		look := func(kind, format, out string) {
			if i := strings.IndexFunc(out, func(r rune) bool { return text.Hidden(r) && r != '\n' }); i >= 0 {
				t.Errorf("%s %s holds %q", kind, format, out[i:min(len(out), i+12)])
			}
			switch format {
			case "html":
				tags, err := tagsOf(out)
				if err != nil {
					t.Errorf("%s: %v", kind, err)
				}
				for tag := range tags {
					if !allowed[kind][tag] {
						t.Errorf("%s has <%s>", kind, tag)
					}
				}
			case "markdown":
				if m := rawTag.FindString(codeSpans.ReplaceAllString(out, "")); m != "" {
					t.Errorf("%s has %q in Markdown", kind, m)
				}
			case "csv":
				r := csv.NewReader(strings.NewReader(out))
				r.FieldsPerRecord = -1
				rows, err := r.ReadAll()
				if err != nil {
					t.Errorf("%s: %v", kind, err)
				}
				for _, c := range slices.Concat(rows...) {
					if c != "" && strings.ContainsRune("=+-@\t＝＋－＠", []rune(c)[0]) {
						if _, err := strconv.ParseFloat(c, 64); err != nil {
							t.Errorf("%s: a cell is a formula: %q", kind, c)
						}
					}
				}
			case "json":
				var v any
				if err := json.Unmarshal([]byte(out), &v); err != nil {
					t.Fatalf("%s: %v", kind, err)
				}
				if l, ok := v.([]any); ok && kind != "choose" {
					v = l[0]
				}
				if m, ok := v.(map[string]any); ok && m["garment"] != nil && m["garment"] != g.Name {
					t.Errorf("%s: %q is %q in JSON", kind, g.Name, m["garment"])
				}
			}
		}
		turn++
		for kind, list := range formats {
			format := list[turn%len(list)] // one at a time: cheap enough for thousands
			var b bytes.Buffer
			if err := papers[kind](&b, p, Options{Format: format, UTF8: true, Working: true, Sources: true, Full: true}); err != nil {
				t.Fatal(err)
			}
			look(kind, format, b.String())
		}
		if turn%16 > 0 {
			return
		}
		c, err := search.Choose(g, search.ChoiceOptions{Closure: g.Closures[0].Name, What: "needle"})
		if err != nil {
			t.Fatal(err)
		}
		for _, format := range []string{"text", "json", "csv"} {
			var b bytes.Buffer
			if err := Choice(&b, c, Options{Format: format}); err != nil {
				t.Fatal(err)
			}
			look("choose", format, b.String())
		}
	})
}
