package desk

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"placketeer/catalog/measure"

	"placketeer/catalog/text"
	"placketeer/rules/sheet"

	"github.com/urfave/cli/v2"
)

// command is one command of the program.
type command struct {
	name     string
	args     string // what follows it, for the help
	does     string // one line
	about    string // more lines, for its own help
	examples []string
	flags    []flag
	fixes    bool // look for what would clear each conflict
	variants bool // tell the variants of a file beside it
	action   func(*call) error
}

// commands are all commands, in the order the help lists them.
func commands() []*command {
	made.Do(func() {
		for _, m := range makers() {
			all = append(all, m.command())
		}
	})
	return all
}

// What commands gives; nobody changes it.
var (
	made sync.Once
	all  []*command
)

// maker makes one command when it is asked for: a start needs no other.
type maker struct {
	name    string
	command func() *command
}

func makers() []maker {
	return []maker{
		{"check", checkCommand}, {"spec", specCommand}, {"checklist", checklistCommand}, {"mark", markCommand}, {"choose", chooseCommand},
		{"order", orderCommand}, {"settle", settleCommand}, {"mend", mendCommand}, {"live", liveCommand}, {"compare", compareCommand},
		{"buttonhole", buttonholeCommand}, {"stand", standCommand}, {"spacing", spacingCommand}, {"strip", stripCommand}, {"needle", needleCommand},
		{"convert", convertCommand}, {"post", postCommand}, {"zip", zipCommand}, {"loop", loopCommand}, {"thread", threadCommand}, {"press", pressCommand},
		{"catalog", catalogCommand}, {"start", startCommand}, {"explain", explainCommand}, {"schema", schemaCommand}, {"completion", completionCommand},
	}
}

func (c *command) flag(name string) *flag {
	for i := range c.flags {
		if c.flags[i].name == name {
			return &c.flags[i]
		}
	}
	return nil
}

// flagKind is what the value of a flag must be.
type flagKind uint8

const (
	textFlag   flagKind = iota
	boolFlag            // takes no value
	lengthFlag          // a length; of a pair A:B the first decides the unit
	numberFlag          // a number
)

// pattern is a pattern that is made ready when it is first asked for.
func pattern(s string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(s) })
}

// flag is one flag of a command.
type flag struct {
	name  string
	kind  flagKind
	list  bool // may be given again and again
	value string
	doc   string
	words []string // the only values it takes
	first string   // what it is when not given, for the help

	most   measure.Length // longest of a length
	zero   bool           // a length may be nothing
	lo, hi float64        // limits of a number
	whole  bool           // a whole number
	hint   string         // an example
}

func (f *flag) build() cli.Flag {
	switch {
	case f.kind == boolFlag:
		return &cli.BoolFlag{Name: f.name, Usage: f.doc}
	case f.list:
		return &cli.StringSliceFlag{Name: f.name, Usage: f.doc}
	}
	return &cli.StringFlag{Name: f.name, Usage: f.doc}
}

// like is an example of its value.
func (f *flag) like() string {
	switch {
	case f.hint != "":
		return f.hint
	case len(f.words) > 0:
		return f.words[0]
	case f.kind == lengthFlag:
		return `"1 in"`
	case f.kind == numberFlag:
		return "3"
	}
	return f.value
}

// call is a command being run.
type call struct {
	world
	ctx  *cli.Context
	cmd  *command
	line *line

	reading sync.Mutex     // holds inputs
	inputs  []os.FileInfo  // the files that were read, where --out may name one
	unread  []sheet.Unread // files that cannot be used
}

func (in *call) args() []string { return in.ctx.Args().Slice() }

func (in *call) has(name string) bool { return in.line.has(name) }

func (in *call) on(name string) bool { return in.ctx.Bool(name) }

func (in *call) text(name string) string { return in.ctx.String(name) }

func (in *call) list(name string) []string { return in.ctx.StringSlice(name) }

// or is the value of a flag that is a word, or what it is when not given.
func (in *call) or(name, otherwise string) string {
	if s := in.text(name); s != "" {
		return s
	}
	return otherwise
}

// checkFlags refuses values that no command takes.
func (in *call) checkFlags() error {
	for _, g := range in.line.given {
		f := in.cmd.flag(g.name)
		if len(f.words) == 0 || slices.Contains(f.words, g.value) {
			continue
		}
		e := usagef("--%s cannot be %q", f.name, g.value)
		if near := text.Nearest(g.value, f.words); near != "" {
			return e.write("--%s %s", f.name, near)
		}
		all := make([]string, len(f.words))
		for i, w := range f.words {
			all[i] = "--" + f.name + " " + w
		}
		return e.write("%s", strings.Join(all, orElse))
	}
	return nil
}

// number is the value of a number flag, and whether it was given.
func (in *call) number(name string) (float64, bool, error) {
	if !in.has(name) {
		return 0, false, nil
	}
	f, s := in.cmd.flag(name), strings.TrimSpace(in.text(name))
	s = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(strings.TrimSuffix(s, " zip"), "no."), "#"))
	x, err := strconv.ParseFloat(s, 64)
	_, notWhole := strconv.ParseInt(s, 10, 64)
	switch {
	case err != nil || math.IsNaN(x) || math.IsInf(x, 0) || strings.ContainsAny(s, "xXpP_"):
		return 0, true, usagef("--%s %q is not a number", name, s).write("--%s %s", name, f.like())
	case f.whole && notWhole != nil:
		return 0, true, usagef("--%s %q is not a whole number", name, s).write("--%s %s", name, f.like())
	case x < f.lo || x > f.hi:
		return 0, true, usagef("--%s is %s, but must lie between %g and %g", name, s, f.lo, f.hi)
	}
	return x, true, nil
}

// badValue is a usage error about the value of a flag.
func badValue(name, value string, err error) *usageError {
	var pe *measure.ParseError
	if e, ok := err.(*measure.ParseError); ok {
		pe = e
	}
	if pe == nil {
		return usagef("--%s %s: %v", name, strconv.Quote(value), err)
	}
	e := usagef("--%s %q: %s", name, value, pe.Reason)
	all := pe.Meant()
	for i := range all {
		all[i] = "--" + name + " " + text.Shell(all[i])
	}
	e.instead = strings.Join(all, orElse)
	return e
}

const helpWidth = 80

// help is the help of a command.
func (c *command) help() string {
	var b strings.Builder
	put(&b, text.Wrap(fmt.Sprintf("%s %s: %s", Program, c.name, c.does), helpWidth))
	b.WriteByte('\n')
	usage := strings.TrimSpace(c.name + " " + c.args)
	if len(c.flags) > 0 {
		usage += " [flags]"
	}
	fmt.Fprintf(&b, "  %s %s\n", Program, usage)
	if c.about != "" {
		b.WriteByte('\n')
		put(&b, text.Wrap(c.about, helpWidth))
	}
	if len(c.examples) > 0 {
		b.WriteString("\nFor instance:\n\n")
		for _, e := range c.examples {
			put(&b, example(e))
		}
	}
	b.WriteString("\nFlags, before or after the rest:\n\n")
	for _, f := range c.flags {
		head := "  --" + f.name
		if f.value != "" {
			head += " " + f.value
		} else if len(f.words) > 0 {
			head += " " + strings.Join(f.words, "|")
		}
		doc := f.doc
		if f.list {
			doc += "; may be given again"
		}
		if f.first != "" {
			doc += " (otherwise " + f.first + ")"
		}
		put(&b, text.Hang(head, 26, doc, helpWidth))
	}
	put(&b, text.Hang("  --help", 26, "this help", helpWidth))
	return b.String()
}

// example is an example as it is typed, in several lines where it is long.
func example(args string) []string {
	var parts []string // a flag and its value each
	for _, w := range strings.SplitAfter(args, " ") {
		if n := len(parts); n > 0 && !strings.HasPrefix(w, "--") {
			parts[n-1] += w
		} else {
			parts = append(parts, w)
		}
	}
	lines, line := []string{}, "  "+Program+" "
	for _, p := range parts {
		if text.Width(line+strings.TrimSpace(p)) > helpWidth-2 {
			lines = append(lines, line+`\`)
			line = "      "
		}
		line += p
	}
	return append(lines, line)
}

// programHelp is the help of the program.
func programHelp() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s plans and checks the closures of a garment (buttons, snaps,\ntoggles, hooks, zips) before any cloth is cut.\n\n", Program, Version)
	groups := []struct {
		head  string
		names []string
	}{
		{"From a garment file:", []string{"check", "spec", "checklist", "mark", "choose", "order", "settle", "mend", "live", "compare"}},
		{"One answer, no file:", []string{"buttonhole", "stand", "spacing", "strip", "needle", "post", "zip", "loop", "thread", "press", "convert"}},
		{"To look up and begin:", []string{"start", "catalog", "explain", "schema", "completion"}},
	}
	for _, g := range groups {
		fmt.Fprintf(&b, "%s\n", g.head)
		for _, n := range g.names {
			c, err := commandNamed(n)
			if err != nil {
				panic(err)
			}
			put(&b, text.Hang("  "+n, 14, c.does, helpWidth))
		}
		b.WriteByte('\n')
	}
	fmt.Fprintf(&b, "To begin:\n\n  %[1]s start --out coat.toml\n  %[1]s check coat.toml\n\n", Program)
	b.WriteString("Exit codes: 0 nothing stands in the way, 1 a conflict or nothing laid out, 2 the\ncommand line is wrong, 3 a file cannot be used.\n\n")
	fmt.Fprintf(&b, "More about a command: %s COMMAND --help\n", Program)
	return b.String()
}
