package desk

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What the README shows of the demo range is what the program says: every
// command in its blocks runs, and every line beneath it is in the answer, in
// that order. A line … stands for what is left out.
func TestReadmeIsTrue(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	files, err := filepath.Glob("../../testdata/collection/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal("no range", err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, filepath.Base(f)), data, 0o666)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir)
	commands := 0
	head := map[string]string{} // what git has
	for i, b := range strings.Split("\n"+string(readme), "\n```") {
		if i%2 == 0 {
			continue // between the blocks
		}
		kind, b, _ := strings.Cut(b, "\n")
		if kind == "diff" {
			edit(t, b+"\n", head)
			continue
		}
		if kind != "console" {
			continue
		}
		for _, part := range strings.Split("\n"+b, "\n$ ")[1:] {
			line, want, _ := strings.Cut(part, "\n")
			stdin := ""
			if file, rest, piped := strings.Cut(strings.TrimPrefix(line, "git show HEAD:"), " | "); piped {
				if stdin = head[file]; stdin == "" {
					t.Errorf("%s: git has no %s", line, file)
				}
				line = rest
			}
			args, ours := strings.CutPrefix(line, Program+" ")
			if !ours {
				t.Errorf("not run: %s", line)
				continue
			}
			got := runIn(t, stdin, map[string]string{"LANG": "C.UTF-8"}, strings.Fields(args)...)
			if got.code != ExitOK {
				t.Errorf("%s: exit %d\n%s", line, got.code, got.err)
			}
			rest := strings.Split(got.out, "\n")
			gap := false
			for _, w := range strings.Split(strings.TrimRight(want, "\n"), "\n") {
				if w == "…" {
					gap = true
					continue
				}
				for gap && len(rest) > 0 && rest[0] != w {
					rest = rest[1:]
				}
				if len(rest) == 0 || rest[0] != w {
					t.Errorf("%s: no line\n%s\nin\n%s", line, w, got.out)
					break
				}
				rest, gap = rest[1:], false
			}
			commands++
		}
	}
	if commands < 4 {
		t.Errorf("only %d commands", commands)
	}
	if len(head) == 0 {
		t.Error("nothing is changed")
	}
	// The TOML that it shows of the watch coat stands there.
	coat, err := os.ReadFile("watch-coat.toml")
	if err != nil {
		t.Fatal(err)
	}
	_, section, _ := strings.Cut(string(readme), "## A range, not a file")
	_, shown, _ := strings.Cut(section, "```toml\n")
	shown, _, _ = strings.Cut(shown, "```")
	for l := range strings.Lines(shown) {
		l, _, _ = strings.Cut(l, "#")
		if l = strings.Join(strings.Fields(l), " "); l != "" && !strings.Contains(strings.Join(strings.Fields(string(coat)), " "), l) {
			t.Errorf("the watch coat has no %s", l)
		}
	}
}

// edit makes the change of a block in a file of the folder, and keeps what it
// was: lines with a - are those with a + afterwards.
func edit(t *testing.T, block string, was map[string]string) {
	t.Helper()
	name, rest, _ := strings.Cut(strings.TrimPrefix(block, "--- "), "\n")
	var from, to string
	for l := range strings.Lines(rest) {
		if old, ok := strings.CutPrefix(l, "-"); ok {
			from += old
		} else {
			to += strings.TrimPrefix(l, "+")
		}
	}
	data, err := os.ReadFile(name)
	if err != nil || strings.Count(string(data), from) != 1 {
		t.Fatalf("%s: %v, and %d times\n%s", name, err, strings.Count(string(data), from), from)
	}
	was[name] = string(data)
	if err := os.WriteFile(name, []byte(strings.Replace(string(data), from, to, 1)), 0o666); err != nil {
		t.Fatal(err)
	}
}
