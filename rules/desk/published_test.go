package desk

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
)

// Published cases, each through a garment file or a command, as a person would
// come by it: testdata/published/*.toml, and tables.txt for what a command
// answers in a line. The values were worked out from the
// publication before the program was run. A case is
//
//	[[case]]
//	source  = "Extension Bulletin 576, 1965"   # of all its entries that name none
//	garment = '''…'''              # the text of a garment file; or the name of one
//	                               # in testdata ("worked/melton-coat.toml"), altered
//	with    = ["closure.front.hole=hand"]   # by these, as by --with; or
//	command = "stand --diameter 1in"        # a command; GARMENT in it is the
//	                               # garment's file
//	exit    = 1                    # its exit code, where it is not 0
//
//	[[case.value]]                 # as in the want files of testdata/worked: in the
//	[[case.verdict]]               # JSON of spec or of the command; of a rule, in
//	[[case.task]]                  # check or the command; the order of tasks; in the
//	[[case.says]]                  # text of checklist, spec, check, or the "answer"

const publishedDir = "../../testdata/published"

type publishedCase struct {
	Source, Garment, Command string
	With                     []string
	Exit                     int
	Value                    []*expectation
	Verdict                  []*expectation
	Task                     []*expectation
	Says                     []*expectation

	line int
}

func (c *publishedCase) all() []*expectation {
	return slices.Concat(c.Value, c.Verdict, c.Task, c.Says)
}

// readPublished reads a file of cases; what is wrong with it comes back as one
// error.
func readPublished(name string, data []byte) ([]*publishedCase, error) {
	var file struct{ Case []*publishedCase }
	md, err := toml.Decode(string(data), &file)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var errs []error
	for _, k := range md.Undecoded() {
		errs = append(errs, fmt.Errorf("%s: unknown key %s", name, k))
	}
	for _, k := range md.Keys() {
		parts := strings.Split(k.String(), ".")
		if len(parts) == 3 && !slices.Contains(workedKeys[parts[1]], parts[2]) && !slices.ContainsFunc(md.Undecoded(), func(u toml.Key) bool { return u.String() == k.String() }) {
			errs = append(errs, fmt.Errorf("%s: %s does not belong there", name, k))
		}
	}
	cases, seen := -1, map[string]int{}
	for i, l := range strings.Split(string(data), "\n") {
		section := strings.TrimSuffix(strings.TrimPrefix(l, "[[case."), "]]")
		switch {
		case l == "[[case]]":
			cases++
			clear(seen)
			if cases < len(file.Case) {
				file.Case[cases].line = i + 1
			}
		case section != l && cases >= 0 && cases < len(file.Case):
			c := file.Case[cases]
			list := map[string][]*expectation{"value": c.Value, "verdict": c.Verdict, "task": c.Task, "says": c.Says}[section]
			if n := seen[section]; n < len(list) {
				list[n].section, list[n].line = section, i+1
				seen[section]++
			}
		}
	}
	for _, c := range file.Case {
		at := fmt.Sprintf("%s:%d", name, c.line)
		switch {
		case c.Garment == "" && c.Command == "":
			errs = append(errs, fmt.Errorf("%s: it needs a garment or a command", at))
		case c.Garment != "" && c.Command != "" && !strings.Contains(c.Command, "GARMENT"):
			errs = append(errs, fmt.Errorf("%s: its command has no GARMENT", at))
		case len(c.all()) == 0:
			errs = append(errs, fmt.Errorf("%s: it looks at nothing", at))
		case c.Command != "" && len(c.Task)+len(c.With) > 0:
			errs = append(errs, fmt.Errorf("%s: a command has no tasks and no with", at))
		case c.Command == "" && c.Exit != 0:
			errs = append(errs, fmt.Errorf("%s: a garment has verdicts, not an exit code", at))
		}
		for _, e := range c.all() {
			if e.Source == "" {
				e.Source = c.Source
			}
			at := fmt.Sprintf("%s:%d", name, e.line)
			answer := e.section == "says" && e.In == "answer"
			if answer != (c.Command != "" && e.section == "says") {
				errs = append(errs, fmt.Errorf("%s: in = \"answer\" is the text of a command, and nothing else is", at))
				continue
			}
			checked := *e
			if answer {
				checked.In = "spec" // the sections know no answers
			}
			if err := checked.check(); err != nil {
				errs = append(errs, fmt.Errorf("%s: %w", at, err))
			}
		}
	}
	return file.Case, errors.Join(errs...)
}

// print is what the program prints for the case.
func (c *publishedCase) print(t *testing.T) *printed {
	t.Helper()
	path := ""
	if c.Garment != "" {
		path = filepath.Join("../../testdata", c.Garment)
		if strings.Contains(c.Garment, "\n") {
			path = filepath.Join(t.TempDir(), "case.toml")
			if err := os.WriteFile(path, []byte(c.Garment), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	if c.Command == "" {
		var more []string
		for _, w := range c.With {
			more = append(more, "--with", w)
		}
		return printWorked(t, path, more...)
	}
	args := shellWords(strings.ReplaceAll(c.Command, "GARMENT", path))
	code, text, stderr := asked(args...)
	if code != c.Exit {
		t.Errorf("%s: exit code %d, want %d\n%s", c.Command, code, c.Exit, stderr)
	}
	p := &printed{texts: map[string]string{"answer": strings.Join(strings.Fields(text+" "+stderr), " ")}}
	if jsonable(args[0]) {
		_, out, _ := asked(append(args, "--format", "json")...)
		if err := json.Unmarshal([]byte(out), &p.spec); err != nil {
			t.Fatalf("%s: %v", c.Command, err)
		}
		if one, ok := p.spec.(map[string]any); ok {
			p.findings, _ = one["findings"].([]any)
		}
	}
	return p
}

func TestPublishedCases(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(publishedDir, "*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if len(files) == 0 {
		t.Fatal("there are no published cases")
	}
	for _, path := range files {
		name := filepath.Base(path)
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		cases, err := readPublished(name, data)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range cases {
			t.Run(fmt.Sprintf("%s:%d", name, c.line), func(t *testing.T) {
				p := c.print(t)
				for _, e := range c.all() {
					if err := e.unmet(p); err != nil {
						t.Errorf("%s:%d: %s\n  %v\n  source: %s %s", name, e.line, e.key(), err, e.Source, e.How)
						continue
					}
					if wrong := e.spoiled(); wrong.unmet(p) == nil {
						t.Errorf("%s:%d: %s is met whatever it says", name, e.line, e.key())
					}
				}
			})
		}
	}
}

// Tables and worked examples that a command answers, a line each.
func TestPublishedTables(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(publishedDir, "tables.txt"))
	if err != nil {
		t.Fatal(err)
	}
	askAll(t, data, 90)
}

// A file of cases that is wrong itself is refused, so that no case is lost.
func TestPublishedRefuses(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"[[case]]\nsource = \"b\"\ncommand = \"stand\"", "looks at nothing"},
		{"[[case]]\nsource = \"b\"\n[[case.value]]\nat = \"x\"\nwant = 1", "a garment or a command"},
		{"[[case]]\ncommand = \"stand\"\n[[case.value]]\nat = \"x\"\nwant = 1", "c:3: it names no source"},
		{"[[case]]\nsource = \"b\"\ncommand = \"stand\"\nwith = [\"a=b\"]\n[[case.value]]\nat = \"x\"\nwant = 1", "no with"},
		{"[[case]]\nsource = \"b\"\ngarment = \"x.toml\"\nexit = 1\n[[case.value]]\nat = \"x\"\nwant = 1", "not an exit code"},
		{"[[case]]\nsource = \"b\"\ngarment = \"x.toml\"\n[[case.says]]\nin = \"answer\"\nwant = \"x\"", "the text of a command"},
		{"[[case]]\nsource = \"b\"\ncommand = \"stand\"\n[[case.says]]\nin = \"spec\"\nwant = \"x\"", "the text of a command"},
		{"[[case]]\nsource = \"b\"\ncommand = \"stand\"\n[[case.vlaue]]\nat = \"x\"", "unknown key case.vlaue"},
		{"[[case]]\nsource = \"b\"\ncommand = \"stand\"\n[[case.value]]\nat = \"x\"\nwant = 1\nrule = \"hole-short\"", "case.value.rule does not belong there"},
		{"[[case]]\nsource = \"b\"\ncommand = \"stand\"\n [[case.value]]\nat = \"x\"\nwant = 1", "beginning of a line"},
		{"[[case]]\nsource = \"from memory\"\ncommand = \"stand\"\n[[case.value]]\nat = \"x\"\nwant = 1", "[[ours]]"},
	} {
		if _, err := readPublished("c", []byte(c.text)); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s\nhave %v, want %q", c.text, err, c.says)
		}
	}
}
