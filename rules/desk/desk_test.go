package desk

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"

	"placketeer/catalog/text"

	"github.com/google/go-cmp/cmp"
)

// ran is what a run of the whole program gave.
type ran struct {
	code     int
	out, err string
}

func runIn(t *testing.T, stdin string, env map[string]string, args ...string) ran {
	t.Helper()
	var out, errs bytes.Buffer
	code := run(append([]string{Program}, args...), world{
		in: strings.NewReader(stdin), out: &out, err: &errs,
		getenv: func(k string) string { return env[k] },
	})
	return ran{code, out.String(), errs.String()}
}

const coat = `garment = "Quay coat"
units = "in"
[cloth.shell]
use = "melton"
[[closure]]
name = "front"
use = "horn-30"
over = ["shell", "shell"]
[closure.run]
length = 24
count = 5
`

func TestLine(t *testing.T) {
	for _, tc := range []struct {
		name string
		args []string
		want []string
	}{
		{"nothing", nil, []string{}},
		{"flags after the file", []string{"check", "a.toml", "--format", "json"}, []string{"check", "--format=json", "--", "a.toml"}},
		{"flags between files", []string{"check", "a.toml", "--strict", "b.toml", "--out=x"}, []string{"check", "--strict=true", "--out=x", "--", "a.toml", "b.toml"}},
		{"one dash", []string{"check", "-strict", "a.toml"}, []string{"check", "--strict=true", "--", "a.toml"}},
		{"a value with =", []string{"check", "a", "--with", "a.b=c=d"}, []string{"check", "--with=a.b=c=d", "--", "a"}},
		{"a value with a dash", []string{"stand", "--diameter", "-5mm"}, []string{"stand", "--diameter=-5mm"}},
		{"a value that is a dash", []string{"check", "--catalog", "-", "a"}, []string{"check", "--catalog=-", "--", "a"}},
		{"the standard input", []string{"check", "-", "--strict"}, []string{"check", "--strict=true", "--", "-"}},
		{"after --", []string{"check", "--strict", "--", "--format", "-"}, []string{"check", "--strict=true", "--", "--format", "-"}},
		{"something negative", []string{"convert", "-5mm"}, []string{"convert", "--", "-5mm"}},
		{"a list", []string{"check", "--with", "a=1", "x", "--with=b=2"}, []string{"check", "--with=a=1", "--with=b=2", "--", "x"}},
		{"help wins", []string{"check", "--strict", "x", "-h"}, []string{"check", "--help"}},
		{"help for a command", []string{"help", "spec"}, []string{"spec", "--help"}},
		{"help first", []string{"--help", "spec"}, []string{"spec", "--help"}},
		{"version", []string{"-v"}, []string{"--version"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			l, err := parseLine(append([]string{Program}, tc.args...))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tc.want, l.args[1:]); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// The order in which flags were written is kept: the unit of a quick answer
// is that of the first length.
func TestLineKeepsOrder(t *testing.T) {
	l, err := parseLine([]string{Program, "stand", "--band", "2in", "--diameter", "25mm"})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]given{{"band", "2in"}, {"diameter", "25mm"}}, l.given, cmp.AllowUnexported(given{})); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestReport(t *testing.T) {
	wrap := func(err error) error { return fmt.Errorf("around: %w", err) }
	for _, tc := range []struct {
		name string
		err  error
		code int
		says string
	}{
		{"nothing", nil, ExitOK, ""},
		{"conflict", wrap(conflict{}), ExitConflict, ""},
		{"told before", wrap(told{ExitInput}), ExitInput, ""},
		{"usage", wrap(usagef("no").write("yes")), ExitUsage, "placketeer: no\n  write: yes\n  help:  placketeer --help\n"},
		{"problems", wrap(source.Problems{{Pos: source.Pos{File: "a", Line: 1, Column: 2}, Message: "bad"}}), ExitInput, "a:1:2: bad\n"},
		{"problems of a change", source.Problems{{Pos: source.Pos{File: "--with a=b"}, Message: "bad"}}, ExitUsage, "--with a=b: bad\n"},
		{"problems of both", source.Problems{{Pos: source.Pos{File: "--with a=b"}, Message: "bad"}, {Pos: source.Pos{File: "a", Line: 1}, Message: "bad"}}, ExitInput, "--with a=b: bad\na:1: bad\n"},
		{"input", wrap(&unusable{"x", errors.New("y")}), ExitInput, "placketeer: x: y\n"},
		{"file", wrap(&os.PathError{Op: "open", Path: "a\x1b", Err: os.ErrNotExist}), ExitInput, "placketeer: a\\x1b: there is no such file or folder\n"},
		{"anything else", errors.New("odd"), ExitInput, "placketeer: odd\n"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			var b bytes.Buffer
			if got := report(&b, tc.err); got != tc.code {
				t.Errorf("code %d, want %d", got, tc.code)
			}
			if diff := cmp.Diff(tc.says, b.String()); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// A fault of the program ends in a plain message and code 3.
func TestPanic(t *testing.T) {
	var out, errs bytes.Buffer
	code := run([]string{Program, "check", "-"}, world{
		in: strings.NewReader(coat), out: &out, err: &errs,
		getenv: func(string) string { panic("the sky\x1b fell\nin pieces") },
	})
	if code != ExitInput || out.Len() > 0 {
		t.Errorf("code %d, output %q", code, out.String())
	}
	got := errs.String()
	if !strings.Contains(got, `the sky\x1b fell`) || strings.Contains(got, "in pieces") || strings.Contains(got, "goroutine") {
		t.Errorf("says %q", got)
	}
}

// An output that cannot be written is code 3, not silence.
func TestCannotWrite(t *testing.T) {
	var errs bytes.Buffer
	code := run([]string{Program, "convert", "40L"}, world{in: strings.NewReader(""), out: full{}, err: &errs, getenv: os.Getenv})
	if code != ExitInput || !strings.Contains(errs.String(), "cannot be written") {
		t.Errorf("code %d: %s", code, errs.String())
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

// Every command has help that fits a terminal, stays on the standard output
// and names all its flags; every flag of every command is refused twice and
// without a value.
func TestHelpOfAll(t *testing.T) {
	for _, c := range commands() {
		t.Run(c.name, func(t *testing.T) {
			got := runIn(t, "", nil, c.name, "--help")
			if got.code != ExitOK || got.err != "" {
				t.Fatalf("code %d, stderr %q", got.code, got.err)
			}
			for _, l := range strings.Split(got.out, "\n") {
				if text.Width(l) > helpWidth {
					t.Errorf("wider than %d: %s", helpWidth, l)
				}
				if strings.HasSuffix(l, " ") {
					t.Errorf("ends in a blank: %q", l)
				}
			}
			for _, f := range c.flags {
				if !strings.Contains(got.out, "  --"+f.name) {
					t.Errorf("the help does not name --%s", f.name)
				}
				if f.kind == boolFlag {
					continue
				}
				if got := runIn(t, "", nil, c.name, "--"+f.name); got.code != ExitUsage || got.out != "" {
					t.Errorf("--%s without a value: %+v", f.name, got)
				}
				if !f.list {
					if got := runIn(t, "", nil, c.name, "--"+f.name, "x", "--"+f.name, "x"); got.code != ExitUsage {
						t.Errorf("--%s twice: %+v", f.name, got)
					}
				}
			}
			for _, e := range c.examples {
				if l, err := parseLine(append([]string{Program}, split(t, e)...)); err != nil {
					t.Errorf("the example %q: %v", e, err)
				} else if l.args[1] != c.name {
					t.Errorf("the example %q is of another command", e)
				}
			}
		})
	}
}

// split is a command line as a shell takes it apart.
func split(t *testing.T, s string) []string {
	t.Helper()
	var out []string
	word, in, quoted := "", false, false
	for _, r := range s {
		switch {
		case r == '"':
			quoted, in = !quoted, true
		case r == ' ' && !quoted:
			if in {
				out, word, in = append(out, word), "", false
			}
		default:
			word, in = word+string(r), true
		}
	}
	if quoted {
		t.Fatalf("a quote is open in %q", s)
	}
	if in {
		out = append(out, word)
	}
	return out
}

// Every command has two examples at least, and each works as it stands, in a
// folder with the boatyard's garments.
func TestExamplesWork(t *testing.T) {
	garments, err := filepath.Abs("../../testdata/garments")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range commands() {
		if len(c.examples) < 2 {
			t.Errorf("%s: %d examples", c.name, len(c.examples))
		}
		for _, e := range c.examples {
			if c.name == "live" {
				continue // it waits for a visitor: TestLive
			}
			t.Run(e, func(t *testing.T) {
				t.Chdir(laidOut(t, garments))
				answers := map[string]string{
					"start": "winter coat\nmelton\n45L\n24 in\n6\nend\n",
					"mend":  "a\nwrite\nyes\n",
				}[c.name]
				args := split(t, e)
				if (c.name == "start" || c.name == "schema") && slices.Contains(args, "--out") {
					os.Remove(args[slices.Index(args, "--out")+1]) // it begins one
				}
				got := runIn(t, answers, nil, args...)
				if got.code != ExitOK && got.code != ExitConflict || got.out == "" || got.err != "" && got.code == ExitOK && !strings.Contains(got.err, "skipped") {
					t.Errorf("code %d: %s", got.code, got.err)
				}
			})
		}
	}
}

// laidOut is a folder as the examples want it.
func laidOut(t *testing.T, garments string) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "patterns"), 0o755); err != nil {
		t.Fatal(err)
	}
	for to, from := range map[string]string{
		"coat.toml": "watch-coat.toml", "jacket.toml": "canvas-jacket.toml", "patterns/vest.toml": "rigger-vest-ready.toml",
		"tarn-quay-notions.toml": "tarn-quay-notions.toml", "tarn-quay-closings.toml": "tarn-quay-closings.toml",
		"patterns/tarn-quay-notions.toml": "tarn-quay-notions.toml", "patterns/tarn-quay-closings.toml": "tarn-quay-closings.toml",
		"own-notions.toml": "tarn-quay-notions.toml",
	} {
		data, err := os.ReadFile(filepath.Join(garments, from))
		if err != nil {
			t.Fatal(err)
		}
		if to == "patterns/vest.toml" { // of which some are made
			data = bytes.Replace(data, []byte("\nunits"), []byte("\nmake    = { S = 4, M = 6 }\nunits"), 1)
		}
		if err := os.WriteFile(filepath.Join(dir, to), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// Colours only where they are wanted; a file is never a terminal.
func TestColour(t *testing.T) {
	for _, tc := range []struct {
		args []string
		env  map[string]string
		want bool
	}{
		{nil, nil, false},
		{[]string{"--color", "always"}, map[string]string{"NO_COLOR": "1"}, true},
		{[]string{"--color", "never"}, nil, false},
		{[]string{"--color", "auto"}, map[string]string{"TERM": "xterm"}, false},
	} {
		got := runIn(t, coat, tc.env, append([]string{"check", "-"}, tc.args...)...)
		if is := strings.Contains(got.out, "\x1b["); is != tc.want {
			t.Errorf("%v: colours %v", tc.args, is)
		}
	}
}

// The same run gives the same answer, byte for byte.
func TestSameTwice(t *testing.T) {
	for _, args := range [][]string{
		{"check", "-", "--format", "json"}, {"spec", "-"}, {"catalog", "list"}, {"explain"}, {"schema"}, {"start"},
		{"spacing", "--length", "26in", "--first", "5/8in", "--last", "4in", "--count", "6", "--format", "json"},
	} {
		a, b := runIn(t, coat, nil, args...), runIn(t, coat, nil, args...)
		if a != b {
			t.Errorf("%v differs", args)
		}
		if a.out == "" || a.err != "" {
			t.Errorf("%v: %s", args, a.err)
		}
	}
}

// A very long argument is not thrown back whole.
func TestLongArguments(t *testing.T) {
	long := strings.Repeat("ä", 100_000)
	for _, args := range [][]string{
		{long}, {"check", "--" + long}, {"convert", long}, {"buttonhole", "--diameter", long}, {"catalog", long}, {"explain", long},
		{"check", "-", "--with", long}, {"check", "-", "--with", "closure.front.use=" + long}, {"spacing", "--count", long},
	} {
		got := runIn(t, coat, nil, args...)
		if got.code != ExitUsage || got.out != "" {
			t.Errorf("%.20s: code %d, output %.100s", args, got.code, got.out)
		}
		if len(got.err) > 4000 {
			t.Errorf("%.20s: %d bytes of complaint: %.200s", args, len(got.err), got.err)
		}
	}
	if got := runIn(t, coat, nil, "check", long); got.code != ExitInput {
		t.Errorf("code %d", got.code)
	}
}

// With --size only what is said of that size decides the exit code.
func TestVerdictOfSize(t *testing.T) {
	text := strings.Replace(coat, "length = 24", "length = { S = 24, M = 10 }", 1)
	text = strings.Replace(text, "count = 5", "count = 5\ngap = { min = 4 }", 1)
	text = strings.Replace(text, "[cloth.shell]", "[sizes]\nnames = [\"S\", \"M\"]\n[cloth.shell]", 1)
	for size, want := range map[string]int{"": ExitConflict, "M": ExitConflict, "S": ExitOK} {
		args := []string{"check", "-"}
		if size != "" {
			args = append(args, "--size", size)
		}
		if got := runIn(t, text, nil, args...); got.code != want || got.err != "" {
			t.Errorf("size %q: code %d, want %d: %s%s", size, got.code, want, got.out, got.err)
		}
	}
}

// What --catalog brings wins, and what the garment takes from it is said.
func TestOpen(t *testing.T) {
	name := t.TempDir() + "/own.toml"
	if err := os.WriteFile(name, []byte("[[cloth]]\nname = \"melton\"\nsource = \"measured\"\nweight = \"500 g/m2\"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	c, err := catalog.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Cloth("melton").Weight.V; got != measure.AreaWeight(500) {
		t.Errorf("melton weighs %v", got)
	}
}

// No command line whatever brings the program down or makes it print control
// characters.
func FuzzRun(f *testing.F) {
	for _, c := range commands() {
		for _, e := range c.examples {
			f.Add(e)
		}
	}
	f.Add("check - --with closure.front.run.length={S=1}")
	f.Add("buttonhole --diameter 1e9in --thickness ½in")
	f.Add("spacing --length 26in --first 0mm --last 0mm --count 1-200 --anchor =:: --clear a=b=1:2")
	f.Fuzz(func(t *testing.T, s string) {
		args := strings.Fields(s)
		for _, a := range args {
			if strings.HasPrefix(strings.TrimLeft(a, "-"), "out") || strings.ContainsAny(a, "/\\~") {
				t.Skip("it would touch files")
			}
		}
		if len(args) > 0 && (args[0] == "choose" || args[0] == "mark") {
			t.Skip("slow")
		}
		got := runIn(t, coat, nil, args...)
		if got.code < 0 || got.code > 3 {
			t.Errorf("code %d", got.code)
		}
		if strings.Contains(got.err, "a fault in the program") {
			t.Error(got.err)
		}
		if strings.ContainsAny(got.err, "\x1b\x00\x07\r") {
			t.Errorf("control characters: %q", got.err)
		}
		if (got.code == ExitUsage || got.code == ExitInput) && got.err == "" {
			t.Errorf("code %d without a word", got.code)
		}
	})
}
