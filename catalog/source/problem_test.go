package source

import (
	"errors"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"
	"github.com/rivo/uniseg"
)

func TestPosString(t *testing.T) {
	for want, p := range map[string]Pos{
		"coat.toml:3:7":  {"coat.toml", 3, 7},
		"coat.toml:3":    {"coat.toml", 3, 0},
		"coat.toml":      {"coat.toml", 0, 7},
		"3:7":            {"", 3, 7},
		"":               {},
		`a\x1b[1mb\nc:1`: {"a\x1b[1mb\nc", 1, 0},
	} {
		if got := p.String(); got != want {
			t.Errorf("%#v: got %q, want %q", p, got, want)
		}
	}
}

func TestMark(t *testing.T) {
	x := strings.Repeat("x", 400)
	for _, c := range []struct {
		name          string
		line          string
		column, width int
		shown, mark   string
	}{
		{"plain", `first = 5/8 in`, 9, 6, `first = 5/8 in`, `        ^~~~~~`},
		{"one", `first = 5`, 9, 0, `first = 5`, `        ^`},
		{"leading tabs", "\t\tfirst = 5", 11, 1, "\t\tfirst = 5", "\t\t        ^"},
		{"tabs between", "a\t=\t5", 5, 1, "a\t=\t5", " \t \t^"},
		{"tab marked", "a = x\ty # c", 5, 3, "a = x y # c", "    ^~~"},
		{"tab after", "a = x\ty", 5, 1, "a = x\ty", "    ^"},
		{"Latin", "größe = é", 9, 1, "größe = é", "        ^"},
		// Two columns wide: Unicode Standard Annex #11, East_Asian_Width W.
		{"wide before", "厚い = 5", 6, 1, "厚い = 5", "       ^"},
		{"wide marked", "a = 厚い", 5, 2, "a = 厚い", "    ^~~~"},
		{"combining before", "e\u0301 = 5", 6, 1, "e\u0301 = 5", "    ^"},
		{"combining marked", "a = e\u0301x", 5, 3, "a = e\u0301x", "    ^~"},
		{"mark on a combining sign", "a = e\u0301x", 6, 1, "a = e\u0301x", "    ^"},
		{"emoji of several", "👩‍👧‍👦 = 5", 9, 1, "👩‍👧‍👦 = 5", "     ^"},
		{"flag", "🇫🇮x = 5", 7, 1, "🇫🇮x = 5", "      ^"},
		{"control before", "a\x1b[1m = 5", 9, 1, `a\x1b[1m = 5`, `           ^`},
		{"control marked", "a = \u202e5", 5, 1, `a = \u202e5`, `    ^~~~~~`},
		{"not UTF-8", "a = \xff5", 6, 1, `a = \xff5`, `        ^`},
		{"end of line", "first =", 8, 1, "first =", "       ^"},
		{"beyond the end", "first =", 20, 3, "first =", "       ^"},
		{"before the line", "first =", 0, 3, "first =", "^~"},
		{"empty", "", 1, 1, "", "^"},
		{"longer than the line", "a = 5", 5, 99, "a = 5", "    ^"},
		{"cut at the end", x, 3, 2, strings.Repeat("x", 76) + "…", "  ^~"},
		{"cut at both ends", x, 200, 2, "…" + strings.Repeat("x", 76) + "…", strings.Repeat(" ", 41) + "^~"},
		{"cut at the beginning", x, 400, 1, "…" + strings.Repeat("x", 41), strings.Repeat(" ", 41) + "^"},
		{"cut, all marked", x, 1, 400, strings.Repeat("x", 76) + "…", "^" + strings.Repeat("~", 75)},
		{"cut, wide", strings.Repeat("厚", 100), 50, 1, "…" + strings.Repeat("厚", 38) + "…", strings.Repeat(" ", 41) + "^~"},
		{"cut, tabs before", strings.Repeat("\t", 30) + "a = 5", 35, 1, "…" + strings.Repeat("\t", 4) + "a = 5", " " + strings.Repeat("\t", 4) + "    ^"},
	} {
		shown, mark := Mark(c.line, c.column, c.width)
		if diff := cmp.Diff([]string{c.shown, c.mark}, []string{shown, mark}); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.name, diff)
		}
	}
}

func FuzzMark(f *testing.F) {
	f.Add("\tfirst = 5/8 in", 10, 6)
	f.Add("厚い\x1b = e\u0301\u202e👩‍👧", 4, 90)
	f.Add(strings.Repeat("ab\t", 200), 300, 1)
	f.Fuzz(func(t *testing.T, line string, column, width int) {
		line = strings.NewReplacer("\n", "", "\r", "").Replace(line)
		shown, mark := Mark(line, column, width)
		for _, r := range shown {
			if r != '\t' && (unicode.IsControl(r) || r >= '\u202a' && r <= '\u202e') {
				t.Fatalf("%q: control character in %q", line, shown)
			}
		}
		if strings.Count(mark, "^") != 1 || strings.Trim(mark, " \t^~") != "" || !strings.HasSuffix(strings.TrimRight(mark, "~"), "^") {
			t.Fatalf("%q: mark %q", line, mark)
		}
		if w := uniseg.StringWidth(shown); w > maxShown+10 || uniseg.StringWidth(mark) > w+1 {
			t.Fatalf("%q: %d columns in %q, mark %q", line, w, shown, mark)
		}
		// Up to the sign both lines have their tabs at the same places.
		before := mark[:strings.IndexByte(mark, '^')]
		for i, part := range strings.Split(before, "\t")[1:] {
			rest := shown
			for range i + 1 {
				_, rest, _ = strings.Cut(rest, "\t")
			}
			head, _, _ := strings.Cut(rest, "\t")
			if uniseg.StringWidth(head) < len(part) {
				t.Fatalf("%q: tabs differ in %q and %q", line, shown, mark)
			}
		}
	})
}

func TestRender(t *testing.T) {
	ps := Problems{
		{Pos{"coat.toml", 12, 3}, 4, `unknown key "frist"`, "first", "\tfrist = \"5/8 in\""},
		{Pos{"coat.toml", 2, 10}, 3, "the gap is too large", "", "gap = \"9 in\""},
		{Pos{"coat.toml", 12, 3}, 4, `unknown key "frist"`, "first", "\tfrist = \"5/8 in\""},
		{Pos{"coat.toml", 2, 9}, 1, "b", "", "gap = \"9 in\""},
		{Pos{"coat.toml", 2, 9}, 1, "a\x1b[2J\nb", "", "gap = \"9 in\""},
		{Pos{"--with closure.front.use=horn-99", 0, 0}, 1, "there is no horn-99", "horn-40\u202e", ""},
		{Pos{}, 0, "nothing is known", "", "not shown"},
		{Pos{"coat.toml", 3, 0}, 1, "a line alone", "", "x = 1"},
		{Pos{"coat.toml", 4, 1}, 1, "on an empty line", "", "  "},
	}
	before := ps.Error()
	var b strings.Builder
	if err := ps.Render(&b); err != nil {
		t.Fatal(err)
	}
	want := `nothing is known
--with closure.front.use=horn-99: there is no horn-99
  write: horn-40\u202e
coat.toml:2:9: a\x1b[2J\nb
  gap = "9 in"
          ^
coat.toml:2:9: b
  gap = "9 in"
          ^
coat.toml:2:10: the gap is too large
  gap = "9 in"
           ^~~
coat.toml:3: a line alone
  x = 1
coat.toml:4:1: on an empty line
coat.toml:12:3: unknown key "frist"
  	frist = "5/8 in"
  	 ^~~~
  write: first
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	wantError := `nothing is known
--with closure.front.use=horn-99: there is no horn-99
coat.toml:2:9: a\x1b[2J\nb
coat.toml:2:9: b
coat.toml:2:10: the gap is too large
coat.toml:3: a line alone
coat.toml:4:1: on an empty line
coat.toml:12:3: unknown key "frist"`
	if diff := cmp.Diff(wantError, before); diff != "" {
		t.Errorf("Error (-want +got)\n%s", diff)
	}
	if ps[0].Pos.Line != 12 {
		t.Error("the list was changed")
	}
	b.Reset()
	if err := ps[1].Render(&b); err != nil || b.String() != "coat.toml:2:10: the gap is too large\n  gap = \"9 in\"\n           ^~~\n" {
		t.Errorf("one problem: %q, %v", b.String(), err)
	}
	if err := ps.Render(failing{}); !errors.Is(err, errFull) {
		t.Errorf("write error: %v", err)
	}
	if err := Problems(nil).Err(); err != nil {
		t.Errorf("no problem is the error %v", err)
	}
	if err := ps.Err(); len(err.(Problems)) != 8 {
		t.Errorf("Err: %v", err)
	}
}

var errFull = errors.New("full")

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errFull }
