package desk

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
)

// finishing is what a shell calls to complete a word: the words so far follow
// it, the last of them being the one that is written. It is no command that
// people type, so no help tells of it.
const finishing = "complete"

func completionCommand() *command {
	return &command{
		name: "completion", args: "bash|zsh",
		does:  "the words that the shell can finish: commands, flags, closures, sizes, rules, notions",
		about: "Prints a script for the shell. Put its line into ~/.bashrc or ~/.zshrc (in zsh below compinit), and the Tab key finishes commands, flags and their values, the closures and sizes of the file on the line, rules, keys and entries of the catalogue.",
		examples: []string{
			"completion bash",
			"completion zsh --out _placketeer",
		},
		flags: []flag{outFlag()},
		action: func(in *call) error {
			args := in.args()
			if len(args) == 1 && shells[args[0]] != "" {
				return in.deliver([]byte(shells[args[0]]))
			}
			e := usagef("say for which shell")
			if len(args) > 0 {
				e = usagef("there are words for bash and for zsh, not for %q", strings.Join(args, " "))
			}
			return e.write("%[1]s completion bash%[2]s%[1]s completion zsh", Program, orElse)
		},
	}
}

// shells are the scripts. Where the program has no word, the shell offers the
// names of files.
var shells = map[string]string{
	"bash": `# In ~/.bashrc: eval "$(placketeer completion bash)"
_placketeer() {
  local words
  words=$(placketeer complete "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
  local IFS=$'\n'
  COMPREPLY=($words)
}
complete -o default -F _placketeer placketeer
`,
	"zsh": `#compdef placketeer
# In ~/.zshrc, below compinit: eval "$(placketeer completion zsh)"
_placketeer() {
  local -a found
  found=("${(@f)$(placketeer complete "${(@)words[2,CURRENT]}" 2>/dev/null)}")
  if [[ -n "$found[1]" ]]; then
    compadd -- "${found[@]}"
  else
    _files
  fi
}
compdef _placketeer placketeer
`,
}

// finish writes the words that may stand where the last of some words is
// being written, one a line; nothing where a file's name is wanted.
func finish(words []string, w world) int {
	if len(words) == 0 {
		words = []string{""}
	}
	last := words[len(words)-1]
	for _, f := range following(words[:len(words)-1], last) {
		if strings.HasPrefix(f, last) && f == text.Safe(f) {
			fmt.Fprintln(w.out, f)
		}
	}
	return ExitOK
}

// following are the words that may follow others.
func following(before []string, last string) []string {
	if len(before) == 0 {
		var names []string
		for _, c := range commands() {
			names = append(names, c.name)
		}
		return append(names, "--help", "--version")
	}
	c, err := commandNamed(before[0])
	if err != nil {
		return nil
	}
	if f := c.flag(strings.TrimPrefix(before[len(before)-1], "--")); f != nil && f.kind != boolFlag && strings.HasPrefix(before[len(before)-1], "--") {
		return valuesOf(f, before)
	}
	if strings.HasPrefix(last, "-") {
		names := []string{"--help"}
		for _, f := range c.flags {
			if f.list || !slices.Contains(before, "--"+f.name) {
				names = append(names, "--"+f.name)
			}
		}
		return names
	}
	switch c.name {
	case "explain":
		return append(ruleNames(), keyNames()...)
	case "settle":
		if garmentOn(before) != nil {
			return ruleNames()
		}
	case "catalog":
		if slices.Contains(before, "show") {
			return entryNames("")
		}
		return []string{"show"}
	case "completion":
		return []string{"bash", "zsh"}
	case "schema":
		return []string{"output"}
	}
	return nil
}

// valuesOf are the values that a flag may have.
func valuesOf(f *flag, before []string) []string {
	if len(f.words) > 0 {
		return f.words
	}
	switch f.name {
	case "closure", "size", "variant":
		g := garmentOn(before)
		switch {
		case g == nil:
			return nil
		case f.name == "size":
			return g.Sizes
		case f.name == "variant":
			return g.Variants()
		}
		var names []string
		for i := range g.Closures {
			names = append(names, g.Closures[i].Name)
		}
		return names
	case "use":
		return entryNames("fastener")
	case "cloth", "interfacing", "thread", "machine", "kind":
		if f.name == "kind" {
			return catalog.Kinds()
		}
		return entryNames(f.name)
	}
	return nil
}

// garmentOn is the first garment file among some words that can be read.
func garmentOn(words []string) *catalog.Garment {
	for _, w := range words[1:] {
		if !strings.HasSuffix(w, ".toml") {
			continue
		}
		if st, err := os.Stat(w); err != nil || !st.Mode().IsRegular() {
			continue
		}
		if g, err := catalog.Load(w, catalog.Options{}); err == nil {
			return g
		}
	}
	return nil
}

func ruleNames() []string {
	var out []string
	for _, r := range rules.Rules() {
		out = append(out, r.Name)
	}
	return out
}

func keyNames() []string {
	cat, err := catalog.StockCatalog()
	if err != nil {
		return nil
	}
	var out []string
	for _, k := range cat.KeysAbout("") {
		out = append(out, k.Key)
	}
	return out
}

// entryNames are the names of the catalogue's entries of a kind, or of the
// fasteners; "" all.
func entryNames(kind string) []string {
	cat, err := catalog.StockCatalog()
	if err != nil {
		return nil
	}
	var out []string
	for _, it := range cat.Items() {
		if (kind == "" || it.Kind == kind || kind == "fastener" && fastens(it.Kind)) && !slices.Contains(out, it.Name) {
			out = append(out, it.Name)
		}
	}
	return out
}
