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
	blocks := strings.Split(string(readme), "```console\n")[1:]
	for _, b := range blocks {
		b, _, _ = strings.Cut(b, "```")
		for _, part := range strings.Split("\n"+b, "\n$ "+Program+" ")[1:] {
			line, want, _ := strings.Cut(part, "\n")
			got := runIn(t, "", map[string]string{"LANG": "C.UTF-8"}, strings.Fields(line)...)
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
