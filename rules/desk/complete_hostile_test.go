package desk

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"placketeer/catalog/source"
	"placketeer/rules/trial"
)

// wild are names that a shell would run, spread or split.
var wild = []string{"$(touch ran)", "`touch ran`", "a b", "*", "~", "x;touch ran", "x&touch ran", "<ran", ">ran", "!!", "#x", `$HOME`, "{a,b}"}

// A name from a file is one word for the shell, whatever is in it, and a
// file's own name is run by nobody.
func TestCompletionOfWildNames(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	var names, lengths []string
	for _, w := range wild {
		names = append(names, source.Text(w))
		lengths = append(lengths, fmt.Sprintf("%s = 24", source.Text(w)))
	}
	text := fmt.Sprintf("garment = \"Wild\"\nunits = \"in\"\n[sizes]\nnames = [%s]\n[cloth.shell]\nuse = \"melton\"\n[[closure]]\nname = %s\nuse = \"horn-30\"\nover = [\"shell\", \"shell\"]\n[closure.run]\nlength = { %s }\ncount = 5\n",
		strings.Join(names, ", "), source.Text(wild[0]), strings.Join(lengths, ", "))
	files := []string{"coat.toml", "$(touch ran).toml", "`touch ran`.toml", "a b.toml", "new\nline.toml", "x;touch ran;.toml", "-rf.toml"}
	for _, f := range files {
		if err := os.WriteFile(f, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	code, out, wrong := asked(finishing, "mark", "coat.toml", "--size", "")
	if got := strings.Split(strings.TrimSuffix(out, "\n"), "\n"); code != ExitOK || !slices.Equal(got, wild) {
		t.Fatalf("%d %s%q", code, wrong, got)
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
	ran := func(what string) {
		t.Helper()
		if _, err := os.Lstat("ran"); err == nil {
			t.Errorf("%s: a name was run", what)
			os.Remove("ran")
		}
	}
	t.Run("bash", func(t *testing.T) {
		path := trial.Program(t, "bash", "bash")
		// What bash puts on the line is read as bash reads a line.
		const ask = `eval "$(placketeer completion bash)"; COMP_WORDS=(placketeer "$@"); COMP_CWORD=$#; _placketeer
for w in "${COMPREPLY[@]}"; do eval "set -- $w"; printf '%s|%s\n' "$#" "$1"; done`
		for _, f := range files {
			for _, words := range [][]string{{"mark", f, "--size", ""}, {"mark", "coat.toml", "--closure", ""}, {"mark", f, "--size", f}, {f, ""}, {"mark", f}} {
				out, err := exec.Command(path, append([]string{"-c", ask, "bash"}, words...)...).CombinedOutput()
				if err != nil {
					t.Fatalf("%q: %v: %s", words, err, out)
				}
				ran(fmt.Sprintf("%q", words))
				if strings.Join(words, " ") == "mark coat.toml --size " {
					if want := "1|" + strings.Join(wild, "\n1|") + "\n"; string(out) != want {
						t.Errorf("%q: %s", words, out)
					}
				}
			}
		}
	})
	t.Run("zsh", func(t *testing.T) {
		path := trial.Program(t, "zsh", "zsh")
		// A real line editor on a terminal of its own: Tab twice, so that a name
		// comes onto the line, and the line is entered.
		const ask = `zmodload zsh/zpty
zpty -b z zsh -f -i
zpty -w z 'PS1=; unsetopt beep; autoload -U compinit; compinit -D; eval "$(placketeer completion zsh)"; setopt menu_complete; echo re""ady'
zpty -r -m z out '*ready*'
for tabs in $'\t' $'\t\t' $'\t\t\t' $'\t\t\t\t\t\t'; do
  zpty -w -n z "echo got $1 --size $tabs"$'\n'
  zpty -w z "placketeer mark $1 --out no/such.pdf --size $tabs"
done
zpty -w z 'echo do""ne'
zpty -r -m z out '*done*'
print -r -- $out
zpty -d z`
		for _, f := range []string{"coat.toml", `'$(touch ran).toml'`} {
			out, err := exec.Command(path, "-f", "-c", ask, "zsh", f).CombinedOutput()
			if err != nil {
				t.Fatalf("%s: %v: %s", f, err, out)
			}
			ran(f)
			if f == "coat.toml" && !strings.Contains(string(out), "touch") {
				t.Errorf("no name came onto the line: %s", out)
			}
		}
	})
}
