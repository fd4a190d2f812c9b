// Package desk is the command line: it reads what is asked, has it planned,
// and hands over the answer. One file a command; it holds no trade knowledge
// and does no arithmetic.
//
// Results go to the standard output, everything else to the standard error.
package desk

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"syscall"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/source"

	"placketeer/catalog/text"

	"github.com/urfave/cli/v2"
)

// Name and version of the program.
const (
	Program = "placketeer"
	Version = "0.1.0"
)

// Exit codes.
const (
	ExitOK       = 0 // nothing stands in the way
	ExitConflict = 1 // at least one conflict, or a closure without places; with --strict also a caution
	ExitUsage    = 2 // the command line is wrong
	ExitInput    = 3 // an input cannot be used or an output cannot be written
)

// EndOnSignal has nothing left half written when a signal ends the program.
func EndOnSignal() { source.EndOnSignal() }

// Run runs the program and returns its exit code. args[0] is the program.
func Run(args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	return run(args, world{stdin, stdout, stderr, os.Getenv})
}

// world is all that the program sees of its surroundings.
type world struct {
	in       io.Reader
	out, err io.Writer
	getenv   func(string) string
}

func run(args []string, w world) (code int) {
	defer func() {
		if r := recover(); r != nil {
			what, _, _ := strings.Cut(fmt.Sprint(r), "\n")
			fmt.Fprintf(w.err, "%s: a fault in the program itself, not in your file: %s\nNothing was written. Please report it with the command you typed.\n", Program, text.Safe(what))
			code = ExitInput
		}
	}()
	if len(args) > 1 && args[1] == finishing {
		return finish(args[2:], w)
	}
	line, err := parseLine(args)
	if err == nil {
		out := &sticky{w: w.out}
		err = newApp(w, out, line).Run(line.args)
		if out.err != nil {
			err = unwritten(out.err)
		}
	}
	return report(w.err, err)
}

// sticky remembers that something could not be written: the library, which
// writes help and version, does not say so.
type sticky struct {
	w   io.Writer
	err error
}

func (s *sticky) Write(b []byte) (int, error) {
	n, err := s.w.Write(b)
	if s.err == nil {
		s.err = err
	}
	return n, err
}

// unwritten is the error of an answer that the standard output does not take.
func unwritten(err error) error {
	return &unusable{says: "the result cannot be written: " + source.Reason("write", err)}
}

// usageError says what is wrong with the command line.
type usageError struct {
	command string // the command it was about, "" for the program
	says    string
	instead string // what to write, "" if that cannot be told
}

func (e *usageError) Error() string { return e.says }

func usagef(format string, args ...any) *usageError {
	return &usageError{says: fmt.Sprintf(format, args...)}
}

// instead says what to write.
func (e *usageError) write(format string, args ...any) *usageError {
	e.instead = fmt.Sprintf(format, args...)
	return e
}

// unusable is an input that cannot be used or an output that cannot be
// written.
type unusable struct {
	says string
	err  error
}

func (e *unusable) Error() string {
	switch {
	case e.err == nil:
		return e.says
	case e.says == "":
		return e.err.Error()
	}
	return e.says + ": " + e.err.Error()
}

func (e *unusable) Unwrap() error { return e.err }

// conflict ends a run whose answer was printed but stands in the way.
type conflict struct{}

func (conflict) Error() string { return "there are conflicts" }

// report prints an error for people and maps it to the exit code. It is the
// one place that does.
func report(w io.Writer, err error) int {
	var (
		found    conflict
		usage    *usageError
		problems source.Problems
		parse    *measure.ParseError
		input    *unusable
		before   told
	)
	switch {
	case err == nil:
		return ExitOK
	case errors.As(err, &found):
		return ExitConflict
	case errors.As(err, &before):
		return before.code
	case errors.As(err, &usage):
		tellUsage(w, usage)
		return ExitUsage
	case errors.As(err, &problems):
		problems = problems.First() // a copy
		for i := range problems {
			p := &problems[i]
			p.Pos.File, p.Message, p.Instead = clip(p.Pos.File), clip(p.Message), clip(p.Instead)
		}
		problems.Render(w)
		if onlyChanges(problems) {
			return ExitUsage
		}
		return ExitInput
	case errors.As(err, &input):
		fmt.Fprintf(w, "%s: %s\n", Program, safeLines(input.Error()))
		return ExitInput
	case errors.As(err, &parse):
		fmt.Fprintf(w, "%s: %s\n", Program, safeLines(parse.Error()))
		return ExitUsage
	}
	fmt.Fprintf(w, "%s: %s\n", Program, safeLines(plain(err).Error()))
	return ExitInput
}

// isUsage says whether it is the command line that is wrong.
func isUsage(err error) bool {
	var u *usageError
	return errors.As(err, &u)
}

// onlyChanges says whether all that is wrong was written on the command
// line, in what-if changes.
func onlyChanges(ps source.Problems) bool {
	for _, p := range ps {
		if !strings.HasPrefix(p.Pos.File, "--with ") {
			return false
		}
	}
	return len(ps) > 0
}

func tellUsage(w io.Writer, e *usageError) {
	who := Program
	if e.command != "" {
		who += " " + e.command
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", who, clip(text.Safe(e.says)))
	if e.instead != "" {
		fmt.Fprintf(&b, "  write: %s\n", clip(text.Safe(e.instead)))
	}
	fmt.Fprintf(&b, "  help:  %s --help\n", who)
	io.WriteString(w, b.String())
}

// clip shortens what repeats a very long argument.
func clip(s string) string {
	const most = 600
	if r := []rune(s); len(r) > most {
		return string(r[:most-200]) + " … " + string(r[len(r)-200:])
	}
	return s
}

// safeLines is source.Safe that keeps line ends.
func safeLines(s string) string {
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		lines[i] = text.Safe(l)
	}
	return strings.Join(lines, "\n  ")
}

// plain puts an error of the file system into plain words.
func plain(err error) error {
	var path *os.PathError
	if !errors.As(err, &path) {
		return err
	}
	why := path.Err.Error()
	switch {
	case errors.Is(err, os.ErrNotExist):
		why = "there is no such file or folder"
	case errors.Is(err, os.ErrPermission):
		why = "you may not read or write it"
	case errors.Is(err, syscall.ELOOP):
		why = "this is a link that leads back to itself"
	}
	return fmt.Errorf("%s: %s", path.Path, why)
}

// newApp is the program for one run: flags keep state, so none is used twice.
func newApp(w world, out io.Writer, line *line) *cli.App {
	app := &cli.App{
		Name:                      Program,
		HelpName:                  Program,
		Usage:                     "plan and check the closures of a garment before any cloth is cut",
		Version:                   Version,
		Reader:                    w.in,
		Writer:                    out,
		ErrWriter:                 w.err,
		HideHelpCommand:           true,
		DisableSliceFlagSeparator: true,
		ExitErrHandler:            func(*cli.Context, error) {},
		OnUsageError:              func(_ *cli.Context, err error, _ bool) error { return usagef("%v", err) },
		Action: func(c *cli.Context) error {
			_, err := io.WriteString(out, programHelp())
			return err
		},
	}
	// Only what is asked for is put into words and made into flags.
	switch {
	case line.cmd != nil:
		app.Commands = []*cli.Command{line.cmd.build(w, line)}
	case slices.Contains(line.args, "--help"):
		app.CustomAppHelpTemplate = asTemplate(programHelp())
	}
	return app
}

// build is the command as the library wants it.
func (c *command) build(w world, line *line) *cli.Command {
	cc := &cli.Command{
		Name:            c.name,
		Usage:           c.does,
		ArgsUsage:       c.args,
		HideHelpCommand: true,
		OnUsageError: func(_ *cli.Context, err error, _ bool) error {
			u := usagef("%v", err)
			u.command = c.name
			return u
		},
		Action: func(ctx *cli.Context) error {
			in := &call{world: w, ctx: ctx, cmd: c, line: line}
			err := in.checkFlags()
			if err == nil {
				err = c.action(in)
			}
			var u *usageError
			var change *catalog.ChangeError
			if errors.As(err, &change) {
				err = usagef("%v", change)
			}
			if errors.As(err, &u) && u.command == "" {
				u.command = c.name
			}
			return err
		},
	}
	if slices.Contains(line.args, "--help") {
		cc.CustomHelpTemplate = asTemplate(c.help())
	}
	for _, f := range c.flags { // those that are given: the others have no value
		if line.has(f.name) {
			cc.Flags = append(cc.Flags, f.build())
		}
	}
	return cc
}

// asTemplate keeps a text as it is when the library takes it for a template.
func asTemplate(s string) string { return strings.ReplaceAll(s, "{{", `{{"{{"}}`) }

// deliver hands over a result: to the standard output, or whole to the file
// that --out names. Nothing has been written before.
func (in *call) deliver(data []byte) error {
	name := in.text("out")
	if name == "" {
		if _, err := in.out.Write(data); err != nil {
			return unwritten(err)
		}
		return nil
	}
	if err := in.keepInputs(nil); err != nil {
		return err
	}
	if err := source.WriteFile(name, data); err != nil { // in plain words
		return &unusable{says: "--out: " + err.Error()}
	}
	if _, err := fmt.Fprintf(in.out, "wrote %s\n", text.Safe(name)); err != nil {
		return unwritten(err)
	}
	return nil
}

// deliverText is deliver for what fill writes.
func (in *call) deliverText(fill func(io.Writer) error) error {
	var b bytes.Buffer
	if err := fill(&b); err != nil {
		return err
	}
	return in.deliver(b.Bytes())
}
