package source

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// coat has tabs, letters beyond ASCII and every way to write a table.
const coat = `garment = "Mantel für Höfe" # größer
units = "in"

[cloth.shell]
	use	=	"melton"
fibre = { wool = 80, "poly amide" = 20 }

[[closure]]
name = "front"
over = ["shell", "厚い", "front"]
[closure.stand]
extension = "3 in"
[closure.run]
gap.min = "3 in"
gap.max = 4
anchor = [ { name = "bust", at = "8 in" },
           { name = "ß", at = "9 in" } ]

  [[closure]]
name = "cuff"
[closure.run]
length = {
  S = "2 in", # small
  M = """
3 in""",
}
`

func TestPlaces(t *testing.T) {
	d, err := Parse("coat.toml", []byte(coat))
	if err != nil {
		t.Fatal(err)
	}
	// key and value: line:column of the first character marked, and the
	// characters marked, as an editor shows them.
	for _, c := range []struct{ path, key, value string }{
		{"garment", "1:1 garment", `1:11 "Mantel für Höfe"`},
		{"cloth", "4:2 cloth", "4:2 cloth"},
		{"cloth.shell", "4:8 shell", "4:1 [cloth.shell]"},
		{"cloth.shell.use", "5:2 use", `5:8 "melton"`},
		{"cloth.shell.fibre", "6:1 fibre", `6:9 { wool = 80, "poly amide" = 20 }`},
		{`cloth.shell.fibre."poly amide"`, `6:22 "poly amide"`, "6:37 20"},
		{"closure", "8:3 closure", "8:1 [[closure]]"},
		{"closure[0]", "8:3 closure", "8:1 [[closure]]"},
		{"closure[0].over[0]", `10:9 "shell"`, `10:9 "shell"`},
		{"closure[0].over[1]", `10:18 "厚い"`, `10:18 "厚い"`},
		{"closure[0].over[2]", `10:24 "front"`, `10:24 "front"`},
		{"closure[0].stand", "11:10 stand", "11:1 [closure.stand]"},
		{"closure[0].stand.extension", "12:1 extension", `12:13 "3 in"`},
		{"closure[0].run.gap", "14:1 gap", "14:1 gap"},
		{"closure[0].run.gap.max", "15:5 max", "15:11 4"},
		{"closure[0].run.anchor", "16:1 anchor", `16:10 [ { name = "bust", at = "8 in" },`},
		{"closure[0].run.anchor[1]", `17:12 { name = "ß", at = "9 in" }`, `17:12 { name = "ß", at = "9 in" }`},
		{"closure[0].run.anchor[1].at", "17:26 at", `17:31 "9 in"`},
		{"closure[1]", "19:5 closure", "19:3 [[closure]]"},
		{"closure[1].name", "20:1 name", `20:8 "cuff"`},
		{"closure[1].run.length", "22:1 length", "22:10 {"},
		{"closure[1].run.length.M", "24:3 M", `24:7 """`},
		// What is not there: the nearest that is.
		{"closure[0].stand.seam", "11:1 [closure.stand]", "11:1 [closure.stand]"},
		{"closure[0].run.gap.middle.x", "14:1 gap", "14:1 gap"},
		{"closure[1].stand.seam", "19:3 [[closure]]", "19:3 [[closure]]"},
		{"closure[2].name", "8:1 [[closure]]", "8:1 [[closure]]"},
		{"closure.name", "8:1 [[closure]]", "8:1 [[closure]]"},
		{"closure[0].over[3]", `10:8 ["shell", "厚い", "front"]`, `10:8 ["shell", "厚い", "front"]`},
		{"garment[0]", `1:11 "Mantel für Höfe"`, `1:11 "Mantel für Höfe"`},
		{"garment.x", `1:11 "Mantel für Höfe"`, `1:11 "Mantel für Höfe"`},
		{"machine.use", "1:1 g", "1:1 g"},
		{"", "1:1 g", "1:1 g"},
		{"[[[", "1:1 g", "1:1 g"},
	} {
		for i, want := range []string{c.key, c.value} {
			pos, width := d.KeyPos(c.path)
			if i == 1 {
				pos, width = d.ValuePos(c.path)
				if p := d.Pos(c.path); p != pos {
					t.Errorf("Pos(%s) is %v, ValuePos %v", c.path, p, pos)
				}
			}
			line := []rune(strings.Split(coat, "\n")[pos.Line-1])
			got := strings.TrimPrefix(pos.String(), "coat.toml:") + " " + string(line[pos.Column-1:pos.Column-1+width])
			if got != want {
				t.Errorf("%s: got %s, want %s", c.path, got, want)
			}
		}
	}
}

// The places are the same with other line ends and after a byte order mark.
func TestPlacesLineEnds(t *testing.T) {
	plain, err := Parse("coat.toml", []byte(coat))
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"CRLF":            strings.ReplaceAll(coat, "\n", "\r\n"),
		"byte order mark": "\ufeff" + coat,
		"no last end":     strings.TrimSuffix(coat, "\n"),
	} {
		d, err := Parse("coat.toml", []byte(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, path := range append(indexPaths(plain.index), "", "x") {
			if diff := cmp.Diff(plain.Problem(path, "", ""), d.Problem(path, "", "")); diff != "" {
				t.Errorf("%s: value of %s (-want +got)\n%s", name, path, diff)
			}
			if diff := cmp.Diff(plain.KeyProblem(path, "", ""), d.KeyProblem(path, "", "")); diff != "" {
				t.Errorf("%s: key of %s (-want +got)\n%s", name, path, diff)
			}
		}
	}
}

func TestRoot(t *testing.T) {
	d, err := Parse("f", []byte("a = [1, 2.5, 'x', true]\n[[t]]\nb.c = 1\n[[t]]\nl = [{q = []}]\n"))
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]any{
		"a": []any{int64(1), 2.5, "x", true},
		"t": []any{
			map[string]any{"b": map[string]any{"c": int64(1)}},
			map[string]any{"l": []any{map[string]any{"q": []any{}}}},
		},
	}
	if diff := cmp.Diff(want, d.Root); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if v, ok := d.Get("t[1].l[0].q"); !ok || !cmp.Equal(v, []any{}) {
		t.Errorf("Get: %v %v", v, ok)
	}
	for _, path := range []string{"t[2]", "t.b", "a[0].x", "t[0].b[0]", "x", "a[", "a[-1]"} {
		if v, ok := d.Get(path); ok {
			t.Errorf("Get(%s) = %v", path, v)
		}
	}
}

func TestKeysInFileOrder(t *testing.T) {
	d, err := Parse("f", []byte("z = 1\n[m]\ny = { w = 1, b = 2 }\n[a.k]\n[[l]]\n[c]\n[a]\nj = 1\n"))
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string][]string{
		"": {"z", "m", "a", "l", "c"}, "m": {"y"}, "m.y": {"w", "b"}, "a": {"k", "j"}, "c": {}, "z": nil, "l": nil, "l[0]": {}, "no": nil,
	} {
		if diff := cmp.Diff(want, d.Keys(path)); diff != "" {
			t.Errorf("%s (-want +got)\n%s", path, diff)
		}
	}
}

func TestLimits(t *testing.T) {
	nested := func(n int) string { return "a = " + strings.Repeat("[", n) + strings.Repeat("]", n) + "\n" }
	for _, c := range []struct{ name, text, want string }{
		{"size", strings.Repeat("#", MaxSize+1), "f: the file has 1048577 bytes, and at most 1048576 are read"},
		{"three million brackets", strings.Repeat("[", 3_000_000), "f: the file has 3000000 bytes, and at most 1048576 are read"},
		{"brackets", "a = " + strings.Repeat("[", MaxSize-4), "f:1:69: more than 64 tables and lists stand inside one another"},
		{"65 lists", nested(MaxNesting + 1), "f:1:69: more than 64 tables and lists stand inside one another"},
		{"65 tables", strings.Repeat("a={", MaxNesting+1), "f:1:193: more than 64 tables and lists stand inside one another"},
		{"65 parts", "[" + strings.Repeat("a.", MaxNesting) + "b]", "f:1:130: more than 64 tables and lists stand inside one another"},
		{"66 parts of a key", strings.Repeat("a.", MaxNesting+1) + "b=1", "f:1:129: more than 64 tables and lists stand inside one another"},
		{"long keys", "[" + strings.Repeat("k", 500) + "]\n" + strings.Repeat("j", 13) + "=1", "f:2:1: the key and the tables it stands in have names of more than 512 characters together"},
		{"zero", "a = 1\nb = \"\x00\"", `f:2:6: the control character \x00 cannot stand in the file`},
		{"escape", "a = 1 # \x1b[31m", `f:1:9: the control character \x1b cannot stand in the file`},
		{"delete", "a = '\x7f'", `f:1:6: the control character \x7f cannot stand in the file`},
		{"lone CR", "a = 1\r\nb = 2\rc = 3", `f:2:6: the control character \r cannot stand in the file`},
		{"Latin-1, before what else is wrong", "größe = 1\n\"gr\xf6\xdfe\" = 1", "f:2:4: the byte 0xF6 is not UTF-8; save the file as UTF-8"},
		{"Latin-1 in a text", "ä = 1\na = \"gr\xf6\"", "f:2:8: the byte 0xF6 is not UTF-8; save the file as UTF-8"},
		{"cut letter", "a = \"\xe2\x82", "f:1:6: the byte 0xE2 is not UTF-8; save the file as UTF-8"},
		{"surrogate", "a = \"\xed\xa0\x80\"", "f:1:6: the byte 0xED is not UTF-8; save the file as UTF-8"},
		{"UTF-16, little end first", "\xff\xfea\x00=\x001\x00", "f:1:1: this is a text in UTF-16; save it as UTF-8"},
		{"UTF-16, big end first", "\xfe\xff\x00a\x00=\x001", "f:1:1: this is a text in UTF-16; save it as UTF-8"},
		{"UTF-16 without mark", "a\x00=\x001\x00", "f:1:2: this is not a text in UTF-8, perhaps one in UTF-16; save it as UTF-8"},
		{"two byte order marks", "\ufeff\ufeffa = 1", "f:1:1: here stands the invisible character U+FEFF, often copied from a web page; write a blank or nothing"},
	} {
		_, err := Parse("f", []byte(c.text))
		if err == nil || err.Error() != c.want {
			t.Errorf("%s: got %v, want %s", c.name, err, c.want)
		}
	}
	for _, text := range []string{
		nested(MaxNesting),
		strings.Repeat("a.", MaxNesting-1) + "b = 1\n",
		"[" + strings.Repeat("k", 500) + "]\n" + strings.Repeat("j", 12) + "=1",
		"#" + strings.Repeat("x", MaxSize-1),
	} {
		if _, err := Parse("f", []byte(text)); err != nil {
			t.Errorf("%.40q…: %v", text, err)
		}
	}
}

func TestLines(t *testing.T) {
	for text, want := range map[string][]string{
		"":                   {""},
		"a = 1":              {"a = 1"},
		"a = 1\r\n\nb = 2\n": {"a = 1", "", "b = 2", ""},
		"\ufeffa = 1\n":      {"a = 1", ""},
	} {
		d, err := Parse("f", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for i := range d.Lines() {
			got = append(got, d.Line(i+1))
		}
		if diff := cmp.Diff(want, got); diff != "" || d.Line(0)+d.Line(d.Lines()+1) != "" {
			t.Errorf("%q (-want +got)\n%s", text, diff)
		}
	}
}
