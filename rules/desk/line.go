package desk

import (
	"slices"
	"strings"

	"placketeer/catalog/text"
)

// line is the command line put in order: flags before files, so that the
// library, which stops reading flags at the first file, takes them all.
type line struct {
	cmd   *command // nil where none is named
	args  []string // program, command, flags, --, the rest
	given []given  // the flags in the order they were written
}

// given is a flag as it was written.
type given struct{ name, value string }

// parseLine puts the command line in order. What is wrong with it is said
// here, before the library sees it.
func parseLine(args []string) (*line, error) {
	l := &line{args: []string{Program}}
	if len(args) > 0 {
		args = args[1:]
	}
	if len(args) == 0 {
		return l, nil
	}
	switch args[0] {
	case "--version", "-v":
		l.args = append(l.args, "--version")
		return l, nil
	case "help", "--help", "-h":
		if len(args) > 1 && !strings.HasPrefix(args[1], "-") {
			cmd, err := commandNamed(args[1])
			if err != nil {
				return nil, err
			}
			l.cmd = cmd
			l.args = append(l.args, cmd.name)
		}
		l.args = append(l.args, "--help")
		return l, nil
	}
	if strings.HasPrefix(args[0], "-") {
		e := usagef("%s stands before any command", args[0])
		for i, a := range args {
			if cmd, err := commandNamed(a); err == nil {
				rest := slices.Concat(args[:i], args[i+1:])
				return nil, e.write("%s %s %s", Program, cmd.name, strings.Join(shorten(rest), " "))
			}
		}
		return nil, e.write("%s COMMAND, then the flags", Program)
	}
	cmd, err := commandNamed(args[0])
	if err != nil {
		return nil, err
	}
	l.cmd = cmd
	l.args = append(l.args, cmd.name)
	flags, rest, wrong := l.split(cmd, args[1:])
	if wrong != nil {
		wrong.command = cmd.name
		return nil, wrong
	}
	if slices.Contains(flags, "--help") {
		flags, rest = []string{"--help"}, nil
	}
	l.args = append(l.args, flags...)
	if len(rest) > 0 {
		l.args = append(append(l.args, "--"), rest...)
	}
	return l, nil
}

// split tells flags from the rest.
func (l *line) split(cmd *command, args []string) (flags, rest []string, err *usageError) {
	for i := 0; i < len(args); i++ {
		a := args[i]
		switch {
		case a == "--":
			return flags, append(rest, args[i+1:]...), nil
		case !isFlag(a):
			rest = append(rest, a)
			continue
		}
		name, value, joined := strings.Cut(strings.TrimLeft(a, "-"), "=")
		if name == "help" || name == "h" {
			flags = append(flags, "--help")
			continue
		}
		f := cmd.flag(name)
		if f == nil {
			return nil, nil, cmd.unknownFlag(a, name)
		}
		switch {
		case f.kind == boolFlag && !joined:
			value = "true"
		case f.kind == boolFlag && value != "true" && value != "false":
			return nil, nil, usagef("--%s is yes or no and takes no value", f.name).write("--%s", f.name)
		case f.kind != boolFlag && !joined:
			if i+1 == len(args) || args[i+1] == "--" || cmd.flagWritten(args[i+1]) {
				return nil, nil, usagef("--%s needs a value", f.name).write("--%s %s", f.name, f.like())
			}
			i++
			value = args[i]
			if cmd.args == "" && len(f.words) == 0 {
				more := continues(args[i+1:])
				value = strings.Join(append([]string{value}, args[i+1:i+1+more]...), " ")
				i += more
			}
		}
		if before, after, ate := strings.Cut(value, " --"); ate && f.kind == lengthFlag {
			name, next, _ := strings.Cut(after, " ")
			e := usagef("--%s %q: the shell took the inch mark for a quote", f.name, value)
			if cmd.flag(name) != nil {
				return nil, nil, e.write("--%s %s --%s %s", f.name, text.Shell(before+"in"), name, text.Shell(strings.TrimSpace(next)+"in"))
			}
			return nil, nil, e.write("--%s %s", f.name, text.Shell(before+"in"))
		}
		if f.kind != boolFlag && strings.TrimSpace(value) == "" {
			return nil, nil, usagef("--%s is empty", f.name).write("--%s %s", f.name, f.like())
		}
		if !f.list && f.kind != boolFlag && l.has(f.name) {
			return nil, nil, usagef("--%s is given twice", f.name).write("one of them")
		}
		l.given = append(l.given, given{f.name, value})
		flags = append(flags, "--"+f.name+"="+value)
	}
	return flags, rest, nil
}

// continues says how many of the arguments that follow a value belong to it. A
// command that takes no files has nothing else that they could be: a quantity
// of several words whose quotes were left out, as 1 1/8 in or 18oz melton.
func continues(rest []string) int {
	n := 0
	for n < len(rest) && !isFlag(rest[n]) {
		n++
	}
	return n
}

func (l *line) has(name string) bool {
	return slices.ContainsFunc(l.given, func(g given) bool { return g.name == name })
}

// isFlag tells a flag from a file, from - (the standard input) and from
// something like a negative number.
func isFlag(a string) bool {
	return len(a) > 1 && a[0] == '-' && (a[1] < '0' || a[1] > '9') && a[1] != '.' && a[1] != ' '
}

// flagWritten tells whether a is a flag of the command, as against a value
// that begins with a dash.
func (c *command) flagWritten(a string) bool {
	if !strings.HasPrefix(a, "--") {
		return false
	}
	name, _, _ := strings.Cut(a[2:], "=")
	return name == "help" || c.flag(name) != nil
}

func (c *command) unknownFlag(written, name string) *usageError {
	written, _, _ = strings.Cut(written, "=")
	e := usagef("there is no flag %s", written)
	names := []string{"help"}
	for _, f := range c.flags {
		names = append(names, f.name)
	}
	if near := text.Nearest(name, names); near != "" {
		return e.write("--%s", near)
	}
	var have []string
	for _, other := range commands() {
		if other.name != c.name && other.flag(name) != nil {
			have = append(have, other.name)
		}
	}
	if len(have) > 0 {
		e.says += ", only for " + strings.Join(have, ", ")
	}
	return e
}

// commandNamed finds a command, or says which was meant.
func commandNamed(name string) (*command, error) {
	var names []string
	for _, m := range makers() {
		if m.name == name {
			return m.command(), nil
		}
		names = append(names, m.name)
	}
	e := usagef("there is no command %q", name)
	switch near := text.Nearest(name, names); {
	case near != "":
		e.write("%s %s", Program, near)
	case strings.HasSuffix(name, ".toml"):
		e.write("%s check %s", Program, name)
	default:
		e.write("one of: %s", strings.Join(names, ", "))
	}
	return nil, e
}

// shorten keeps a hint from repeating a very long command line.
func shorten(args []string) []string {
	if len(args) > 6 {
		return append(slices.Clone(args[:6]), "…")
	}
	return args
}
