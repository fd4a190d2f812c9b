package desk

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"placketeer/rules/trial"
)

// files are written into a new folder, and at is the name of one of them.
func files(t testing.TB, list map[string]string) (at func(string) string) {
	t.Helper()
	dir := t.TempDir()
	at = func(name string) string { return filepath.Join(dir, name) }
	for name, text := range list {
		if err := os.MkdirAll(filepath.Dir(at(name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at(name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return at
}

func link(t *testing.T, to, name string) {
	t.Helper()
	if err := os.Symlink(to, name); err != nil {
		t.Fatal(err)
	}
}

const ownNotions = "[[button]]\nname = \"quay-30\"\nsource = \"measured\"\ndiameter = \"30L\"\nthickness = \"4 mm\"\n"

// An answer never goes over a file that was read for it, whatever its way in:
// named, in a folder, by the garment, by --catalog, through a link of either
// kind.
func TestNothingReadIsWrittenOver(t *testing.T) {
	at := files(t, map[string]string{
		"d/coat.toml": "catalog = [\"own.toml\"]\n" + coat, "d/own.toml": ownNotions, "d/notes.toml": "a = 1\n", "more.toml": ownNotions,
	})
	link(t, "d/own.toml", at("soft"))
	if err := os.Link(at("d/own.toml"), at("hard")); err != nil {
		t.Fatal(err)
	}
	for _, c := range [][]string{
		{"check", at("d/coat.toml"), "--out", at("d/coat.toml")},
		{"check", at("d/coat.toml"), "--out", at("d/own.toml")},
		{"check", at("d/coat.toml"), "--out", at("soft")},
		{"check", at("d/coat.toml"), "--out", at("hard")},
		{"spec", at("d/coat.toml"), "--out", at("d/own.toml")},
		{"checklist", at("d/coat.toml"), "--out", at("d/own.toml")},
		{"choose", at("d/coat.toml"), "--closure", "front", "--out", at("d/own.toml")},
		{"check", at("d"), "--out", at("d/own.toml")},
		{"check", at("d"), "--out", at("d/notes.toml")},
		{"check", at("d/coat.toml"), "--catalog", at("more.toml"), "--out", at("more.toml")},
		{"catalog", "list", "--catalog", at("more.toml"), "--out", at("more.toml")},
		{"needle", "--cloth", "melton", "--catalog", at("more.toml"), "--out", at("more.toml")},
	} {
		out := c[len(c)-1]
		before, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		got := runIn(t, "", nil, c...)
		after, _ := os.ReadFile(out)
		if got.code != ExitUsage || !strings.Contains(got.err, "over the file it is made from") || string(before) != string(after) {
			t.Errorf("%v: %+v", c, got)
		}
	}
	// What was not read may be written over.
	if got := runIn(t, "", nil, "check", at("d/coat.toml"), "--out", at("more.toml")); got.code != ExitOK {
		t.Errorf("%+v", got)
	}
}

// One bad entry of a folder does not hide the others, and nothing vanishes
// without a word.
func TestFolders(t *testing.T) {
	at := files(t, map[string]string{
		"f/a.toml": coat, "f/sub/b.toml": coat, "f/own.toml": ownNotions, "f/notes.toml": "a = 1\n", "f/own-bad.toml": "[[button]\n",
		"f/misspelt.toml": strings.Replace(coat, "garment", "garmnt", 1), "f/no-toml.toml": "garment = \"x\n[[closure]]\n",
		"f/.hidden.toml": coat, "f/other.txt": coat, "g/x.toml": coat, "only/own.toml": ownNotions,
	})
	link(t, "nowhere", at("f/c.toml"))
	link(t, "a.toml", at("f/0-link.toml"))
	link(t, "../g/x.toml", at("f/outside.toml"))
	link(t, "../g", at("f/folder.toml"))
	got := runIn(t, "", nil, "check", at("f"), "--format", "csv")
	if got.code != ExitInput {
		t.Errorf("code %d", got.code)
	}
	for name, n := range map[string]bool{"a.toml": true, "sub/b.toml": true, "outside.toml": true, "0-link.toml": false, "own.toml": false, ".hidden.toml": false} {
		if is := strings.Contains(got.out, at("f/"+name)); is != n {
			t.Errorf("%s is checked: %v", name, is)
		}
	}
	for _, says := range []string{
		at("f/c.toml") + ": it is a link to a file that is not there",
		at("f/misspelt.toml") + ":1:1: unknown key \"garmnt\"", at("f/misspelt.toml") + ":1:1: garment is missing",
		at("f/no-toml.toml") + ":1:11: the text has no closing",
		at("f") + ": 5 skipped: 0-link.toml is a link to a file that is checked; folder.toml is a link to a folder, and such links are not followed; notes.toml is no garment: it has neither a line garment = … nor a [[closure]]; own-bad.toml is a catalogue file; own.toml is a catalogue file\n",
	} {
		if strings.Count(got.err, says) != 1 {
			t.Errorf("%q is not said once:\n%s", says, got.err)
		}
	}
	if strings.Contains(got.err, "hidden") {
		t.Error(got.err)
	}
	// Two names of a file are one garment.
	if got := runIn(t, "", nil, "check", at("g"), at("g/x.toml"), at("f/outside.toml"), "--format", "csv"); got.code != ExitOK || strings.Contains(got.out, "outside") {
		t.Errorf("%+v", got)
	}
	if got := runIn(t, "", nil, "check", at("only")); got.code != ExitInput || !strings.Contains(got.err, "no garment file is in this folder") || !strings.Contains(got.err, "1 skipped") {
		t.Errorf("%+v", got)
	}
}

// An empty name is no folder.
func TestEmptyName(t *testing.T) {
	for _, command := range []string{"check", "spec", "checklist", "choose"} {
		if got := runIn(t, coat, nil, command, ""); got.code != ExitUsage || got.out != "" || !strings.Contains(got.err, "the name of a file is empty") {
			t.Errorf("%s: %+v", command, got)
		}
	}
}

// Help and version that cannot be written end with exit 3.
func TestHelpCannotBeWritten(t *testing.T) {
	for _, args := range [][]string{{"--help"}, {"--version"}, {"check", "--help"}, {}, {"help", "spec"}} {
		var errs strings.Builder
		code := run(append([]string{Program}, args...), world{in: strings.NewReader(""), out: full{}, err: &errs, getenv: os.Getenv})
		if code != ExitInput || !strings.Contains(errs.String(), "cannot be written") {
			t.Errorf("%v: code %d: %s", args, code, errs.String())
		}
	}
}

// The null device is no screen: what goes there is not coloured.
func TestNullIsNoScreen(t *testing.T) {
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer null.Close()
	seen := false
	code := run([]string{Program, "check", "-"}, world{in: strings.NewReader(coat), out: null, err: null, getenv: func(k string) string {
		if k == "NO_COLOR" || k == "TERM" || k == "COLUMNS" {
			seen = true // asked for of a screen alone
		}
		return ""
	}})
	if code != ExitOK || seen {
		t.Errorf("code %d, taken for a screen: %v", code, seen)
	}
}

// What stands in a name or a catalogue cannot steer what shows it: no output
// for programs or people has a control character, one that turns the direction
// of writing, or an invisible one, and no cell begins a formula.
func TestNothingSteersTheReader(t *testing.T) {
	const odd = "\u009b31m\u202e\u2067\u200b\ufeff\u00ad"
	cells := []string{"=1+1", "＝1+1", "+1", "＋1", "-x", "－x", "@x", "＠x", "\t=1"}
	var own strings.Builder
	for i, c := range cells {
		own.WriteString("[[button]]\nname = \"odd-" + string(rune('a'+i)) + "\"\nabout = '''" + c + odd + "'''\nsource = '''" + c + "'''\ndiameter = \"30L\"\nthickness = \"4 mm\"\n")
	}
	text := strings.Replace(coat, "Quay coat", odd+"Coat", 1)
	text = strings.Replace(text, `use = "horn-30"`, `use = "odd-a"`, 1)
	at := files(t, map[string]string{"d/coat.toml": "catalog = [\"own.toml\"]\n" + text, "d/own.toml": own.String()})
	check := func(what, got string) {
		t.Helper()
		for _, r := range odd {
			if r != '3' && r != '1' && r != 'm' && strings.ContainsRune(got, r) {
				t.Errorf("%s holds %U", what, r)
			}
		}
	}
	for _, command := range []string{"check", "spec", "checklist", "choose"} {
		for _, format := range commandFlag(command, "format") {
			got := runIn(t, "", nil, command, at("d/coat.toml"), "--format", format)
			if got.code > ExitConflict || got.out == "" {
				t.Errorf("%s %s: %+v", command, format, got)
			}
			check(command+" "+format, got.out+got.err)
		}
	}
	for _, format := range []string{"text", "json", "csv"} {
		got := runIn(t, "", nil, "catalog", "list", "--catalog", at("d/own.toml"), "--format", format)
		check("catalog "+format, got.out+got.err)
		if format != "csv" {
			continue
		}
		for _, line := range strings.Split(got.out, "\n") {
			for _, cell := range strings.Split(line, ",") {
				if cell = strings.Trim(cell, `"`); cell != "" && strings.ContainsRune("=+-@＝＋－＠\t", []rune(cell)[0]) {
					t.Errorf("a cell begins like a formula: %s", cell)
				}
			}
		}
	}
	if got := runIn(t, "", nil, "catalog", "show", "odd-a", "--catalog", at("d/own.toml")); got.code != ExitOK {
		t.Errorf("%+v", got)
	} else {
		check("catalog show", got.out)
	}
	if got := runIn(t, "", nil, "mark", at("d/coat.toml"), "--out", at("x.svg")); got.code > ExitConflict {
		t.Errorf("%+v", got)
	} else if svg, err := os.ReadFile(at("x.svg")); err != nil {
		t.Error(err)
	} else {
		check("the SVG", string(svg))
	}
}

// A name that promises what the command does not write is refused before
// anything is written, with one that keeps its promise; - is no file.
func TestNameOfTheAnswer(t *testing.T) {
	at := files(t, map[string]string{"coat.toml": coat})
	for _, c := range []struct{ command, out, says, write string }{
		{"spec", "x.pdf", "spec writes no pdf", "x.html"},
		{"spec", "x.PNG", "spec writes no png", "x.html"},
		{"spec", "x.xlsx", "spec writes no xlsx", "x.csv"},
		{"checklist", "x.csv", "checklist writes no csv", "x.html"},
		{"checklist", "x.ods", "checklist writes no ods", "x.html"},
		{"choose", "x.html", "choose writes no html", "x.txt"},
		{"choose", "x.md", "choose writes no markdown", "x.txt"},
		{"check", "-", "is no file", "--out FILE"},
	} {
		out := c.out
		if out != "-" {
			out = at(out)
		}
		got := runIn(t, "", nil, c.command, at("coat.toml"), "--out", out)
		if got.code != ExitUsage || !strings.Contains(got.err, c.says) || !strings.Contains(got.err, c.write) {
			t.Errorf("%s --out %s: %+v", c.command, c.out, got)
		}
		if _, err := os.Stat(out); err == nil {
			t.Errorf("%s is written", c.out)
		}
	}
	// What is asked for is written, whatever it is called; so is what says nothing.
	for _, args := range [][]string{{"spec", at("coat.toml"), "--format", "text", "--out", at("y.pdf")}, {"spec", at("coat.toml"), "--out", at("y.page")}} {
		if got := runIn(t, "", nil, args...); got.code != ExitOK {
			t.Errorf("%v: %+v", args, got)
		}
	}
}

// What would do nothing, or something else than it says, is refused.
func TestNothingIsIgnored(t *testing.T) {
	at := files(t, map[string]string{"coat.toml": coat})
	for says, args := range map[string][]string{
		"what to explain is empty": {"explain", ""}, "what to explain is": {"explain", "  "},
		"a .pdf is drawn in lines": {"mark", at("coat.toml"), "--out", at("x.pdf"), "--dpi", "100"},
		"a .svg is drawn in lines": {"mark", at("coat.toml"), "--out", at("x.svg"), "--dpi", "100"},
	} {
		if got := runIn(t, "", nil, args...); got.code != ExitUsage || got.out != "" || !strings.Contains(got.err, says) {
			t.Errorf("%v: %+v", args, got)
		}
	}
}

// commandFlag are the words of a flag of a command.
func commandFlag(command, flag string) []string {
	c, err := commandNamed(command)
	if err != nil {
		panic(err)
	}
	return c.flag(flag).words
}

// A file within all limits that asks for as much as it may ends, and soon:
// the searches stop at what they count. The time is one that they exceeded by
// far before they did.
func TestLegalFilesEnd(t *testing.T) {
	head := "garment = \"Quay coat\"\nunits = \"mm\"\n"
	const cloth = "[cloth.shell]\nuse = \"melton\"\n"
	closure := func(n int, run string) string {
		return fmt.Sprintf("[[closure]]\nname = \"c%d\"\nuse = \"horn-30\"\nover = [\"shell\", \"shell\"]\n[closure.run]\n%s", n, run)
	}
	many := func(n int, of func(i int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(of(i))
		}
		return b.String()
	}
	all := trial.Many(40, 100) // closures
	const long = "length = \"10 m\"\nstep = \"0.1 mm\"\ncount = { min = 1, max = 200 }\nfirst = { min = \"1 mm\", max = \"4 m\" }\nlast = { min = \"1 mm\", max = \"4 m\" }\n"
	marks := "length = \"10 m\"\nstep = \"1 mm\"\ncount = { min = 1, max = 200 }\nanchor = [" +
		many(50, func(i int) string { return fmt.Sprintf("{ name = \"a%d\", at = %d, within = 10 },", i, 100+i*190) }) + "]\nclear = [" +
		many(50, func(i int) string {
			return fmt.Sprintf("{ name = \"z%d\", from = %d, to = %d },", i, 150+i*190, 160+i*190)
		}) + "]\n"
	for name, text := range map[string]string{
		"a long run":     head + cloth + closure(0, long),
		"long runs":      head + cloth + many(all, func(i int) string { return closure(i, long) }),
		"marks":          head + cloth + closure(0, marks),
		"closures":       head + cloth + many(all, func(i int) string { return closure(i, "length = 600\ncount = 5\n") }),
		"with conflicts": head + cloth + many(all, func(i int) string { return closure(i, "length = 600\ncount = 5\ngap = { min = 180 }\n") }),
		"sizes": head + "[sizes]\nnames = [" + many(60, func(i int) string { return fmt.Sprintf("\"s%d\",", i) }) + "]\n" + cloth +
			closure(0, "count = 5\nlength = { "+strings.TrimSuffix(many(60, func(i int) string { return fmt.Sprintf("s%d = %d, ", i, 500+3*i) }), ", ")+" }\n"),
	} {
		begin := time.Now()
		got := runIn(t, text, nil, "check", "-")
		if got.code > ExitConflict || got.err != "" || got.out == "" {
			t.Errorf("%s: code %d: %.500s", name, got.code, got.err)
		}
		if took := time.Since(begin); took > 30*time.Second {
			t.Errorf("%s: %v", name, took)
		}
	}
}
