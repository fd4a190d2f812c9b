package desk

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"placketeer/rules/trial"
	"unicode"
)

// answering gives one line at a time, as somebody types; before lines from the
// nth on, something happens.
type answering struct {
	lines  []string
	n      int
	before func()
}

func (a *answering) Read(p []byte) (int, error) {
	if a.before != nil && a.n <= 0 {
		a.before()
		a.before = nil
	}
	a.n--
	if len(a.lines) == 0 {
		return 0, io.EOF
	}
	n := copy(p, a.lines[0]+"\n")
	a.lines = a.lines[1:]
	return n, nil
}

// converse runs a command with answers.
func converse(in io.Reader, args ...string) (code int, out, wrong string) {
	var o, w bytes.Buffer
	code = run(append([]string{Program}, args...), world{in, &o, &w, func(string) string { return "" }})
	return code, o.String(), w.String()
}

const tight = `garment = "Coat" # ours
units = "in"
[cloth.shell]
use = "melton"
thickness = "2 mm"
[interfacing.stay]
use = "hair-canvas"
[[closure]]
name = "front"
use = "horn-36"
needle = "60/8"
over = ["shell", "stay", "shell"]
[closure.run]
length = 24
count = 5
`

func tightCoat(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "coat.toml")
	if err := os.WriteFile(file, []byte(tight), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// On a full disk mend writes nothing, whether there is room for the older text
// or not: the file is as it was, nothing is left beside it, and it says why.
func TestMendOnAFullDisk(t *testing.T) {
	for _, free := range []int64{0, 1} {
		file := trial.FullDisk(t, "coat.toml", tight, free)
		code, out, wrong := converse(strings.NewReader(""), "mend", file, "--all")
		if code != ExitInput || !strings.Contains(wrong, "the disk is full") || strings.Contains(out, "wrote") {
			t.Errorf("%d pages free: %d %s%s", free, code, out, wrong)
		}
		got, err := os.ReadFile(file)
		if err != nil || string(got) != tight {
			t.Errorf("%d pages free: %v: %s", free, err, got)
		}
		if all, err := os.ReadDir(filepath.Dir(file)); err != nil || len(all) != 2 {
			t.Errorf("%d pages free: left behind: %v %v", free, all, err)
		}
	}
}

// Whatever is answered to mend, or comes to be while it asks, the file is the
// one that was agreed to, or as it was.
func TestMendUnderAttack(t *testing.T) {
	besides := func(file string) []string {
		entries, err := os.ReadDir(filepath.Dir(file))
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, e := range entries {
			names = append(names, e.Name())
		}
		return names
	}
	t.Run("changed meanwhile", func(t *testing.T) {
		file := tightCoat(t)
		theirs := strings.Replace(tight, "count = 5", "count = 6", 1)
		in := &answering{lines: []string{"a", "yes"}, n: 1, before: func() { os.WriteFile(file, []byte(theirs), 0o644) }}
		code, out, wrong := converse(in, "mend", file)
		got, _ := os.ReadFile(file)
		if code != ExitInput || string(got) != theirs || !strings.Contains(wrong, "was changed") {
			t.Errorf("%d %s%s: %s", code, out, wrong, got)
		}
		if n := besides(file); len(n) != 1 {
			t.Errorf("left behind: %q", n)
		}
	})
	t.Run("gone meanwhile", func(t *testing.T) {
		file := tightCoat(t)
		in := &answering{lines: []string{"a", "yes"}, n: 1, before: func() { os.Remove(file) }}
		if code, _, wrong := converse(in, "mend", file); code != ExitInput || len(besides(file)) != 0 {
			t.Errorf("%d %s, and %q", code, wrong, besides(file))
		}
	})
	t.Run("older texts taken", func(t *testing.T) {
		file := tightCoat(t)
		for _, err := range []error{
			os.Mkdir(file+".before", 0o755), os.Symlink("nowhere", file+".before-2"),
			os.Symlink(file, file+".before-3"), os.WriteFile(file+".before-4", []byte("mine"), 0o644),
		} {
			if err != nil {
				t.Fatal(err)
			}
		}
		code, out, wrong := converse(strings.NewReader("a\nyes\n"), "mend", file)
		old, _ := os.ReadFile(file + ".before-5")
		mine, _ := os.ReadFile(file + ".before-4")
		if code != ExitOK || string(old) != tight || string(mine) != "mine" || !strings.Contains(out, ".before-5") {
			t.Errorf("%d %s%s: %s", code, out, wrong, old)
		}
		if _, err := os.Lstat(filepath.Join(filepath.Dir(file), "nowhere")); err == nil {
			t.Error("written through a link")
		}
	})
	t.Run("no room for a name", func(t *testing.T) {
		file := filepath.Join(filepath.Dir(tightCoat(t)), strings.Repeat("n", 244)+".toml")
		if err := os.WriteFile(file, []byte(tight), 0o644); err != nil {
			t.Fatal(err)
		}
		code, _, wrong := converse(strings.NewReader("a\nyes\n"), "mend", file)
		if got, _ := os.ReadFile(file); code != ExitInput || string(got) != tight || !strings.Contains(wrong, "the name is too long") {
			t.Errorf("%d %s: %s", code, wrong, got)
		}
	})
	for name, answers := range map[string]string{
		"nothing": "", "half a line": "a", "an endless line": strings.Repeat("a", 1<<20), "controls": "\x1b[2J\x00\u202e\nstop\n",
		"no letter of it": "z\n9\n-1\n\xff\xfe\nstop\n", "everything taken back": "back\nback\na\nno\n", "yes too early": "yes\nyes\nstop\n",
	} {
		t.Run(name, func(t *testing.T) {
			file := tightCoat(t)
			code, out, wrong := converse(strings.NewReader(answers), "mend", file)
			if got, _ := os.ReadFile(file); string(got) != tight || code == ExitOK || len(besides(file)) != 1 {
				t.Errorf("%d: %s", code, got)
			}
			for _, r := range out + wrong {
				if r != '\n' && (unicode.IsControl(r) || r >= 0x202a && r <= 0x202e) {
					t.Fatalf("prints %q", r)
				}
			}
			if len(out) > 1<<16 {
				t.Errorf("prints %d bytes", len(out))
			}
		})
	}
}

// The answers of an interview are not lost, and write over nothing.
func TestAnswersAreKept(t *testing.T) {
	answers := []string{"winter coat", "melton", "45L", "24 in", "6", "end"}
	out := filepath.Join(t.TempDir(), "coat.toml")
	in := &answering{lines: answers, n: 4, before: func() { os.WriteFile(out, []byte("theirs"), 0o644) }}
	code, said, wrong := converse(in, "start", "--ask", "--out", out)
	if got, _ := os.ReadFile(out); code != ExitInput || string(got) != "theirs" || !strings.Contains(said, `diameter = "45L"`) || !strings.Contains(wrong, "stays as it is") {
		t.Errorf("%d %s%s: %s", code, said, wrong, got)
	}
	// A folder that takes no file is told before the first question.
	code, said, wrong = converse(&answering{lines: answers}, "start", "--ask", "--out", filepath.Join(t.TempDir(), "none", "coat.toml"))
	if code != ExitInput || strings.Contains(said, "1.") || !strings.Contains(wrong, "nothing can be written") {
		t.Errorf("%d %s%s", code, said, wrong)
	}
	if code, _, _ := converse(nil, "start", "--live"); code != ExitUsage {
		t.Errorf("--live alone: %d", code)
	}
}

// What a question gives as an example is an answer to it.
func TestExamplesOfTheInterview(t *testing.T) {
	before := map[string][]string{"what": nil}
	sofar := []string{"coat", "melton", "45L", "24 in", "6", "", "", "", "", ""}
	n := 0
	for _, q := range questions() {
		switch q.key { // of some garments alone: see TestEverydayAnswers
		case "market", "columns", "repeat":
			continue
		}
		before[q.key] = sofar[:n]
		n++
		_, examples, ok := strings.Cut(q.asks, "For instance: ")
		if !ok {
			if _, examples, ok = strings.Cut(q.asks, "for instance "); !ok {
				continue
			}
		}
		list := strings.Split(examples, ";")
		for _, e := range list {
			e = strings.TrimSpace(e)
			out := filepath.Join(t.TempDir(), "it.toml")
			// A letter answers where several are meant, and is no answer after that.
			lines := append(append([]string{}, before[q.key]...), e, "a", "stop")
			_, said, wrong := converse(&answering{lines: lines}, "start", "--ask", "--out", out)
			asked := regexp.MustCompile(`(?m)^(\d+)\. `).FindAllString(said, -1)
			if want := len(before[q.key]) + 2; len(asked) < want && q.key != "machine" || strings.Contains(said, "knows no") {
				t.Errorf("%s: %q is not taken: %s%s", q.key, e, said, wrong)
			}
		}
	}
}

// One key has one value on a command line, however it is named; both are told.
func TestWithTwice(t *testing.T) {
	file := tightCoat(t)
	for _, second := range []string{"closure.front.needle=100/16", "closure[0].needle=100/16"} {
		code, _, wrong := asked("check", file, "--with", "closure.front.needle=90/14", "--with", second)
		if code != ExitUsage || !strings.Contains(wrong, "closure.front.needle=90/14") || !strings.Contains(wrong, second) {
			t.Errorf("%s: %d %s", second, code, wrong)
		}
	}
	if code, _, wrong := asked("check", file, "--with", "closure.front.needle=100/16", "--with", "closure.front.run.count=6"); code == ExitUsage {
		t.Error(wrong)
	}
}

// A pair of holes just past the machine's swing reads as past it.
func TestSwingJustMissed(t *testing.T) {
	file := tightCoat(t)
	for gap, reads := range map[string]string{"4.01 mm": "lie 4.01 mm", "1.99 mm": "lie 1.99 mm"} {
		_, out, wrong := asked("check", file, "--format", "lines", "--with", "machine.swing={min=\"2 mm\",max=\"4 mm\"}",
			"--with", "closure.front.sewn_by=machine", "--with", "closure.front.notion.hole_gap="+gap)
		if !strings.Contains(out, reads) {
			t.Errorf("%s: %s%s", gap, out, wrong)
		}
	}
}
