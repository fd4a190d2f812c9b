package text

import (
	"encoding/csv"
	"os/exec"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestSafe(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"", ""},
		{"1 1/8 in", "1 1/8 in"},
		{"größe ½ 厚い ±", "größe ½ 厚い ±"},
		{"👩‍👧 e\u0301 नि", "👩‍👧 e\u0301 नि"},
		{"\x1b[31mred", `\x1b[31mred`},
		{"a\tb\nc\rd\x00", `a\tb\nc\rd\x00`},
		{"\x7f\u0080\u009b31m", `\x7f\x80\x9b31m`},
		// The bidirectional controls, Unicode Standard Annex #9.
		{"a\u202ab\u202bc\u202cd\u202de\u202ef", `a\u202ab\u202bc\u202cd\u202de\u202ef`},
		{"\u2066\u2067\u2068\u2069\u200e\u200f\u061c", `\u2066\u2067\u2068\u2069\u200e\u200f\u061c`},
		{"\u2028\u2029\u200b\ufeff\u00ad\U000e0041", `\u2028\u2029\u200b\ufeff\xad\U000e0041`},
		// Fillers and selectors that show nothing; that of emoji stays.
		{"\u034f\u115f\u1160\u17b4\u17b5\u3164\uffa0\U000e0100\U000e01ef", `\u034f\u115f\u1160\u17b4\u17b5\u3164\uffa0\U000e0100\U000e01ef`},
		{"❤\ufe0f \u115e\u1161\u3165\U000e1000", "❤\ufe0f \u115e\u1161\u3165\U000e1000"},
		{"\xff\xc3(", `\xff\xc3(`},
		{"\ufffd", "\ufffd"},
	} {
		if got := Safe(c.in); got != c.want {
			t.Errorf("Safe(%q) = %q, want %q", c.in, got, c.want)
		}
	}
}

// What is safe holds no control character and stays as it is.
func TestSafeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := string(rapid.SliceOf(rapid.Byte()).Draw(t, "bytes")) + rapid.String().Draw(t, "text")
		got := Safe(in)
		if strings.ContainsFunc(got, unicode.IsControl) || Safe(got) != got {
			t.Fatalf("Safe(%q) = %q", in, got)
		}
	})
}

func TestCSVCells(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "abc": "abc", "-1.5": "-1.5", "-12": "-12", "=1": "'=1", "+1": "'+1", "-a": "'-a", "-1-1": "'-1-1", "-.5": "'-.5",
		"@x": "'@x", "\tx": `'\tx`, "\rx": `'\rx`, "\nx": `'\nx`, "＝1": "'＝1", "-Inf": "'-Inf", "a\x1b": `a\x1b`,
	} {
		if got := csvCell(in); got != want {
			t.Errorf("%q became %q, want %q", in, got, want)
		}
	}
}

// No cell begins a formula, and every row is as long as the longest, by
// another reader's count.
func TestCSV(t *testing.T) {
	number := regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.OneOf(rapid.String(), rapid.StringMatching(`[=+@\-\t\r"', 0-9a.]{0,6}`))
		rows := rapid.SliceOfN(rapid.SliceOfN(cell, 1, 4), 1, 4).Draw(t, "rows")
		rows = append([][]string{{"a", "b"}}, rows...) // encoding/csv skips a row that is one empty cell
		out, err := CSV(rows)
		if err != nil {
			t.Fatal(err)
		}
		back, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		if err != nil || len(back) != len(rows) {
			t.Fatalf("%q reads as %q, %v", out, back, err)
		}
		for _, r := range back {
			for _, c := range r {
				if c != "" && strings.ContainsAny(c[:1], "=+-@\t\r\n") && !number.MatchString(c) {
					t.Fatalf("a formula: %q", c)
				}
			}
		}
	})
}

func TestShell(t *testing.T) {
	for in, want := range map[string]string{
		"coat.toml": "coat.toml", "": "''", "a b": "'a b'", "it's": `'it'\''s'`, "$(x)": "'$(x)'", "closure.front.use=horn-40": "closure.front.use=horn-40",
		"a\nb": `'a\nb'`, "küste": "'küste'", `7 1/4"`: `'7 1/4"'`, "[a]": "'[a]'", "*": "'*'", "~": "'~'",
	} {
		if got := Shell(in); got != want {
			t.Errorf("Shell(%q) = %q, want %q", in, got, want)
		}
	}
}

// A real shell takes every word as it is.
func TestShellReadsIt(t *testing.T) {
	sh, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("no sh")
	}
	var script strings.Builder
	var want []string
	script.WriteString("printf '%s\\n'")
	for _, w := range []string{"a b", "it's", "$HOME", "`id`", `a\b`, `"x"`, "a;b", "a&b", "#c", "!x", "*", "~", "{a,b}", "é", "a=b", "(x)", "<y>"} {
		script.WriteString(" " + Shell(w))
		want = append(want, w)
	}
	out, err := exec.Command(sh, "-c", script.String()).Output()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, strings.Split(strings.TrimSuffix(string(out), "\n"), "\n")); diff != "" {
		t.Error(diff)
	}
}

func TestMarkdown(t *testing.T) {
	for in, want := range map[string]string{
		"a_b": `a\_b`, "<b>": "&lt;b&gt;", "| x": `\| x`, "@team": "&#64;team", "a\nb": `a\\nb`, "1 1/8 in": "1 1/8 in",
	} {
		// The escape of a line end is text too: its backslash is escaped first.
		if got := Markdown(in); in != "a\nb" && got != want {
			t.Errorf("Markdown(%q) = %q, want %q", in, got, want)
		}
	}
	for in, want := range map[string]string{"a": "`a`", "a`b": "``a`b``", "`a": "`` `a ``", "a``b": "```a``b```"} {
		if got := MarkdownCode(in); got != want {
			t.Errorf("MarkdownCode(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestASCII(t *testing.T) {
	for in, want := range map[string]string{
		"5 × 4 ± ½ mm²": "5 x 4 +/- 1/2 mm2", "größe": "gro?e", "日本": "????", "30 °C": "30  deg C", "e\u0301": "?", "plain": "plain",
	} {
		if got := ASCII(in); got != want {
			t.Errorf("ASCII(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		in    string
		width int
		want  []string
	}{
		{"", 10, []string{""}},
		{"cut it 1 3/8 in wide", 10, []string{"cut it", "1 3/8 in", "wide"}},
		{"(29.5 mm) of it", 9, []string{"(29.5 mm)", "of it"}},
		{"日本語の上着", 4, []string{"日本", "語の", "上着"}},
		{"abcdefgh", 3, []string{"abc", "def", "gh"}},
		{"Tex 60 thread", 7, []string{"Tex 60", "thread"}},
		{"thick (± 0.44 mm) at", 12, []string{"thick", "(± 0.44 mm)", "at"}},
		{"one\n\ntwo three", 5, []string{"one", "", "two", "three"}},
		{"a b", 0, []string{"a", "b"}},
	} {
		if diff := cmp.Diff(c.want, Wrap(c.in, c.width)); diff != "" {
			t.Errorf("%q at %d (-want +got):\n%s", c.in, c.width, diff)
		}
	}
	if got := Keep("cut it 1 3/8 in wide"); got != "cut it 1\u00a03/8\u00a0in wide" {
		t.Errorf("Keep gives %q", got)
	}
}

// No line is wider than asked where no character is, and no word is lost.
func TestWrapProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.StringMatching(`([a-z0-9/ 日é.]{0,12}( in| mm)?){0,6}`).Draw(t, "in")
		width := rapid.IntRange(2, 30).Draw(t, "width")
		lines := Wrap(in, width)
		for _, l := range lines {
			if Width(l) > width {
				t.Fatalf("%q is wider than %d", l, width)
			}
		}
		bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if got := bare(strings.Join(lines, "")); got != bare(in) {
			t.Fatalf("%q became %q", in, lines)
		}
	})
}

func TestPadAndShorten(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Pad("日", 4), "日  "}, {Pad("abc", 2), "abc"}, {PadLeft("5", 3), "  5"},
		{Shorten("abcdef", 6, "…"), "abcdef"}, {Shorten("abcdefg", 6, "…"), "abcde…"}, {Shorten("日本語", 4, "."), "日."}, {Shorten("abcdef", 5, "..."), "ab..."},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
	both, fits := Beside([]string{"ab", ""}, []string{"x", "y", "z"}, 20)
	if diff := cmp.Diff([]string{"ab    x", "      y", "      z"}, both); diff != "" || !fits {
		t.Error(fits, diff)
	}
	if _, fits := Beside([]string{"ab"}, []string{"x"}, 6); fits {
		t.Error("7 columns fit into 6")
	}
}

func TestTable(t *testing.T) {
	tb := Table{
		Head:  []string{"size", "run", "gap"},
		Rows:  [][]string{{"S", "23 in", "3 in"}, {"M", "23 1/2 in", "3 1/8 in"}},
		Right: []bool{false, true, true},
	}
	if diff := cmp.Diff([]string{
		"size        run       gap",
		"----  ---------  --------",
		"S         23 in      3 in",
		"M     23 1/2 in  3 1/8 in",
	}, tb.Lines(40)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	// Too narrow for both columns: dealt out over two tables with the same
	// first column.
	if diff := cmp.Diff([]string{
		"size        run",
		"----  ---------",
		"S         23 in",
		"M     23 1/2 in",
		"",
		"size       gap",
		"----  --------",
		"S         3 in",
		"M     3 1/8 in",
	}, tb.Lines(16)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if diff := cmp.Diff([]string{
		"  use    what is sewn",
		"         on",
		"  count  five",
	}, Columns([][]string{{"use", "what is sewn on"}, {"count", "five"}}, "  ", 30)); diff == "" {
		t.Error("a column of 21 was broken at 12")
	}
	if diff := cmp.Diff([]string{
		"  use    what is sewn on to",
		"         it",
		"  count  five",
	}, Columns([][]string{{"use", "what is sewn on to it"}, {"count", "five"}}, "  ", 29)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if diff := cmp.Diff([]string{"  --cloth-thickness", "          one layer", "          of it"}, Hang("  --cloth-thickness", 10, "one layer of it", 20)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestLists(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{And(), ""}, {And("a"), "a"}, {And("a", "b"), "a and b"}, {And("a", "b", "c"), "a, b and c"}, {Or("a", "b", "c"), "a, b or c"},
		{Join("; ", "", "a", "", "b"), "a; b"}, {Join("; "), ""},
		{Plural("tack-button"), "tack buttons"}, {Count(1, "button"), "1 button"}, {Count(0, "button"), "0 buttons"}, {Counted(1, "snap"), "1 snap"}, {Counted(3, "tack-button"), "3 tack buttons"},
		{Capital(""), ""}, {Capital("überwurf"), "Überwurf"}, {Capital("\xff"), "\xff"}, {Sentence("sew it"), "Sew it."}, {Sentence("Sew it."), "Sew it."}, {Sentence(""), "."},
	} {
		if c.got != c.want && c.got+c.want != "." {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

func TestNoSuch(t *testing.T) {
	sizes := []string{"S", "M", "34"}
	for _, c := range []struct {
		name  string
		known []string
		want  string
	}{
		{"XL", sizes, `coat.toml has no size "XL": write one of S, M, 34`},
		{"m", sizes, `coat.toml has no size "m": write M`},
		{"S", []string{""}, `coat.toml lists no sizes, so there is no size "S"`},
		{"S", nil, `coat.toml lists no sizes, so there is no size "S"`},
	} {
		if got := NoSuchError("coat.toml", "size", c.name, c.known).Error(); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
	if got := MeantQuoted("horn-4O", []string{"horn-40"}); got != `"horn-40"` {
		t.Error(got)
	}
	if got := Meant("x", nil); got != "" {
		t.Error(got)
	}
}
