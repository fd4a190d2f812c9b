package desk

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/rules/trial"
)

// What may stand where a word is being written.
var finished = []struct {
	words []string
	want  []string // among what is offered
	not   []string
}{
	{[]string{"ch"}, []string{"check", "checklist", "choose"}, []string{"spec"}},
	{[]string{"check", "--fo"}, []string{"--format"}, []string{"--full"}},
	{[]string{"check", "--format", ""}, []string{"text", "json", "lines"}, nil},
	{[]string{"choose", "coat.toml", "--closure", ""}, []string{"front", "flap", "cuff-tab"}, nil},
	{[]string{"mark", "coat.toml", "--size", "X"}, []string{"XS", "XL"}, []string{"M"}},
	{[]string{"explain", "stand-"}, []string{"stand-narrow"}, []string{"hole-long"}},
	{[]string{"explain", "closure.stand.to"}, nil, nil},
	{[]string{"settle", "coat.toml", "stack"}, []string{"stack-bulky"}, nil},
	{[]string{"catalog", "show", "horn-4"}, []string{"horn-40", "horn-45"}, []string{"horn-30"}},
	{[]string{"buttonhole", "--use", "corozo-3"}, []string{"corozo-36"}, []string{"melton"}},
	{[]string{"needle", "--cloth", "melt"}, []string{"melton", "melton-light"}, nil},
	{[]string{"check", "no-such.toml", "--size", ""}, nil, nil},
	{[]string{"check", ""}, nil, []string{"front"}}, // a file: the shell knows
	{[]string{"no-such-command", ""}, nil, nil},
}

// The words are those of the program, and real shells offer them.
func TestCompletion(t *testing.T) {
	garments, err := filepath.Abs("../../testdata/garments")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(laidOut(t, garments))
	for _, c := range finished {
		code, out, wrong := asked(append([]string{finishing}, c.words...)...)
		if code != ExitOK || wrong != "" {
			t.Fatalf("%q: %d %s", c.words, code, wrong)
		}
		offered(t, "the program", c.words, strings.Fields(out), c.want, c.not)
	}
	for _, bad := range [][]string{{"completion"}, {"completion", "fish"}} {
		if code, _, _ := asked(bad...); code != ExitUsage {
			t.Errorf("%q: %d", bad, code)
		}
	}
	bin := t.TempDir()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(self, filepath.Join(bin, Program)); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", bin+string(os.PathListSeparator)+os.Getenv("PATH"))
	for shell, ask := range map[string]string{
		"bash": `eval "$(placketeer completion bash)"; COMP_WORDS=(placketeer "$@"); COMP_CWORD=$#; _placketeer; printf '%s\n' "${COMPREPLY[@]}"`,
		// compadd works within a completion alone, so what it is given is printed.
		"zsh": `autoload -U compinit; compinit -D; eval "$(placketeer completion zsh)"; compadd() { shift; print -l -- "$@" }; _files() { }; words=(placketeer "$@"); CURRENT=$#words; _placketeer`,
	} {
		t.Run(shell, func(t *testing.T) {
			if raced {
				t.Skip("the shells start the program again and again")
			}
			path := trial.Program(t, shell, shell)
			for _, c := range finished {
				args := []string{"-c", ask, shell}
				if shell == "zsh" {
					args = append([]string{"-f"}, args...)
				}
				out, err := exec.Command(path, append(args, c.words...)...).CombinedOutput()
				if err != nil {
					t.Fatalf("%q: %v: %s", c.words, err, out)
				}
				offered(t, shell, c.words, strings.Fields(string(out)), c.want, c.not)
			}
		})
	}
}

func offered(t *testing.T, who string, words, got, want, not []string) {
	t.Helper()
	for _, w := range want {
		if !slices.Contains(got, w) {
			t.Errorf("%s, %q: no %s among %q", who, words, w, got)
		}
	}
	for _, w := range not {
		if slices.Contains(got, w) {
			t.Errorf("%s, %q: %s is offered", who, words, w)
		}
	}
	for _, g := range got {
		if !strings.HasPrefix(g, words[len(words)-1]) {
			t.Errorf("%s, %q: %q is offered", who, words, g)
		}
	}
}
