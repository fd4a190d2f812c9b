package source

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// All faults of a file are told in one go, in its order, and none because of
// another.
func TestAllFaults(t *testing.T) {
	const file = `garment = "Coat
units = in
count = 5
[sizes
names = ["S", "M"]
names = ["L"]
[cloth.shell]
thickness = 2,5 mm
use = "melton"
use = "melton"
[[closure]
name = "front"
[closure.stand]
extension = "3 \q in"
over = ["shell", "front"
under = ["shell",
  "front",,
  "shell"]
[closure.run]
anchor = [
  { name = "bust", at 8 in },
  { name = "waist", at = "15 in" },
]
table = {
  count = 5
  other = 6
}
[closure.run]
fine = 1
[[closure]]
name = "cuff"
[closure.run]
count = 2
gap = """
never closed
[closure.run]
last = yes
`
	_, err := Parse("f", []byte(file))
	ps, ok := err.(Problems)
	if !ok {
		t.Fatalf("got %v", err)
	}
	var got []string
	for _, p := range ps {
		got = append(got, fmt.Sprintf("%d:%d %s", p.Pos.Line, p.Pos.Column, p.Message))
	}
	want := []string{
		`1:11 the text has no closing "`,
		`2:9 a text, or a number with its unit, stands in quotes`,
		`4:1 the heading has no closing ]`,
		`6:1 names is already given on line 5`,
		`8:13 decimals take a point, not a comma`,
		`10:1 use is already given on line 9`,
		`11:1 the heading begins with two brackets and ends with one`,
		`14:16 \q means nothing: in "…" a \ begins a code, in '…' it is an ordinary sign`,
		`15:8 the list that begins here has no closing ]`,
		`17:11 there is a comma with nothing before it`,
		`21:20 there is no = after at`,
		`25:11 after this a comma is missing, or the } that closes the table`,
		`34:7 the text that begins here is never closed`,
		`36:1 [closure.run] already stands on line 32 for the same closure: a [[closure]] is missing above this one`,
		`37:8 yes and no are written true and false`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// Of very many faults the first are told, and the rest is counted.
func TestFaultsAreCounted(t *testing.T) {
	for _, c := range []struct {
		text string
		more string
	}{
		{strings.Repeat("x y\n", 51), "and 1 more fault"},
		{"x = y\n", ""},
		{numbered(50, "k%d = y\n"), ""},
		{numbered(999, "k%d = y\n"), "and 949 more faults"},
		{numbered(1000, "k%d = y\n"), "and very many more faults"},
		{numbered(5000, "[k%d\n"), "and very many more faults"},
		{numbered(60, "k%d = y\n") + strings.Repeat("x y\n", 60), "and 70 more faults"},
		{strings.Repeat("\x01\n", 70), "and 20 more faults"},
	} {
		_, err := Parse("f", []byte(c.text))
		said := err.Error()
		last := said[strings.LastIndexByte(said, '\n')+1:]
		if c.more != "" && last != "f: "+c.more || c.more == "" && strings.Contains(last, "more fault") || strings.Count(said, "\n") > MaxProblems {
			t.Errorf("%.20q: %d lines, the last %s", c.text, strings.Count(said, "\n"), last)
		}
		var b strings.Builder
		if err.(Problems).Render(&b); strings.Contains(b.String(), fmt.Sprint(maxLine)) {
			t.Errorf("%.20q: %s", c.text, b.String())
		}
	}
	var many Problems
	for i := range 120 {
		many = append(many, Problem{Pos: Pos{File: [...]string{"a", "b", "c"}[min(i/51, 2)], Line: i + 1}, Message: "odd"})
	}
	got := many.First()
	if len(got) != 51+51+18 || got[50].Message != "odd" {
		t.Errorf("%d problems: %v", len(got), got[50])
	}
	if got = append(many, many[0:1]...).First(); len(got) != 51+51+18 {
		t.Errorf("twice the same counts as two: %d", len(got))
	}
}

func numbered(n int, format string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// A file within the limit is read or refused at once, whatever it holds. The
// time is one that a quadratic search exceeds by far.
func TestHostileFiles(t *testing.T) {
	const M = MaxSize - 64
	rep := func(s string) string { return strings.Repeat(s, M/len(s)) }
	for name, text := range map[string]string{
		"lists in a list":        "a = [" + rep("[],") + "]",
		"blanks and lists":       "a = [" + rep("   [ ] , ") + "]",
		"faults on one line":     "a = [" + rep("5 in,") + "]",
		"texts on one line":      "a = [" + rep(`"\q",`) + "]",
		"open tables":            rep("a = {\n"),
		"open lists":             rep("a = [\n"),
		"open texts":             rep("a = \"\"\"\nb = '''\n"),
		"quotes":                 rep("\""),
		"brackets":               rep("["),
		"headings on one line":   rep("[a]"),
		"the same heading":       rep("[a.b]\n"),
		"the same key":           rep("a = 1\n"),
		"keys in keys":           rep("a.") + "a = 1",
		"control characters":     rep("\x01\n"),
		"no UTF-8":               rep("\xff"),
		"carriage returns":       rep("a\r"),
		"many tables":            rep("[[a]]\n"),
		"a very long word":       "a = " + rep("x"),
		"a very long comma list": "a = " + rep("1,"),
	} {
		begin := spent()
		d, err := Parse("f", []byte(text))
		if err != nil {
			var b strings.Builder
			err.(Problems).Render(&b)
			if b.Len() > 4<<20 {
				t.Errorf("%s: %d bytes are said", name, b.Len())
			}
		} else { // places on a long line
			for i := range 2000 {
				d.Pos(Item("a", i))
			}
		}
		if took := spent() - begin; took > answered {
			t.Errorf("%s: %v", name, took)
		}
	}
}

// A place on a very long line is counted right, whatever the letters.
func TestPlacesOnLongLines(t *testing.T) {
	for _, letter := range []string{"x", "ä", "€", "🧵"} {
		var text strings.Builder
		text.WriteString("b = 1\na = [")
		for i := range 9000 {
			fmt.Fprintf(&text, "%q,", letter+fmt.Sprint(i))
		}
		d, err := Parse("f", []byte(text.String()+"]"))
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range []int{0, 1, 999, 1000, 4711, 8999} {
			n := 6
			for k := range i {
				n += 4 + len(fmt.Sprint(k))
			}
			if got := d.Pos(Item("a", i)); got.Line != 2 || got.Column != n {
				t.Errorf("%s: item %d at %v, not column %d", letter, i, got, n)
			}
		}
	}
}
