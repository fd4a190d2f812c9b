package desk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/search"
)

// options are how garments are read, from the flags.
func (in *call) options() catalog.Options {
	return catalog.Options{Catalogs: in.list("catalog"), With: in.list("with"), Stdin: in.in, Units: in.text("units")}
}

// names are the garment files asked for: folders are walked. One that is not
// there is told at once and does not keep the others from being read; the
// error comes with the names there are.
func (in *call) names() ([]string, error) {
	args := in.args()
	if len(args) == 0 {
		return nil, usagef("say which file").write("%s %s coat.toml", Program, in.cmd.name)
	}
	var out []string
	code := ExitOK
	for _, a := range args {
		found, err := in.filesOf(a)
		if err != nil {
			code = report(in.err, err)
			continue
		}
		for _, f := range found {
			if !slices.Contains(out, f) {
				out = append(out, f)
			}
		}
	}
	if err := in.keepInputs(out); err != nil {
		return nil, err
	}
	if code != ExitOK {
		return out, told{code}
	}
	return out, nil
}

// filesOf is a file, or the garment files of a folder.
func (in *call) filesOf(name string) ([]string, error) {
	if name == "-" {
		return []string{name}, nil
	}
	name = filepath.Clean(name)
	st, err := os.Stat(name)
	switch {
	case err != nil:
		return nil, &unusable{"", in.missing(name, err)}
	case !st.IsDir():
		return []string{name}, nil
	}
	found, err := garmentsIn(name)
	switch {
	case err != nil:
		return nil, &unusable{"", plain(err)}
	case len(found) == 0:
		return nil, &unusable{says: fmt.Sprintf("%s: no garment file is in this folder: none of its .toml files has a line garment = \"…\"", name)}
	}
	return found, nil
}

// missing says that a file is not there, and which near one is.
func (in *call) missing(name string, err error) error {
	if errors.Is(err, os.ErrNotExist) {
		entries, _ := os.ReadDir(filepath.Dir(name))
		var names []string
		for _, e := range entries {
			names = append(names, e.Name())
		}
		if near := text.Nearest(filepath.Base(name), names); near != "" {
			return fmt.Errorf("%w; %s is there", plain(err), filepath.Join(filepath.Dir(name), near))
		}
	}
	return plain(err)
}

// keepInputs refuses to write the answer over what it is made from.
func (in *call) keepInputs(names []string) error {
	out := in.text("out")
	if out == "" {
		return nil
	}
	there, err := os.Stat(out)
	if err != nil {
		return nil
	}
	if there.IsDir() {
		return usagef("--out %s is a folder", out).write("--out %s", filepath.Join(out, "sheet.html"))
	}
	for _, n := range append(slices.Clone(names), in.list("catalog")...) {
		if st, err := os.Stat(n); err == nil && os.SameFile(st, there) {
			return usagef("--out %s would write over the file it is made from", out).write("another name after --out")
		}
	}
	return nil
}

// garmentLine is the line that tells a garment file from a catalogue.
var garmentLine = regexp.MustCompile(`(?m)^[ \t]*"?garment"?[ \t]*=`)

// garmentsIn are the garment files in a folder and below it, sorted. Hidden
// files and folders are left out.
func garmentsIn(dir string) ([]string, error) {
	var out []string
	err := filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case name != dir && strings.HasPrefix(e.Name(), "."):
			if e.IsDir() {
				return fs.SkipDir
			}
		case !e.IsDir() && strings.EqualFold(filepath.Ext(name), ".toml"):
			if isGarment(name) {
				out = append(out, name)
			}
		}
		return nil
	})
	slices.Sort(out)
	return out, err
}

// isGarment says whether a file has the key garment at its top level. Of one
// that is no TOML, a line that looks like it decides, so that it is reported;
// one that cannot be read is taken for a garment for the same reason.
func isGarment(name string) bool {
	data, err := source.ReadFile(name)
	if err != nil {
		return true
	}
	if !garmentLine.Match(data) {
		return false
	}
	doc, err := source.Parse(name, data)
	if err != nil {
		return true
	}
	_, there := doc.Root["garment"]
	return there
}

// plans reads and plans garments. What is wrong with a file is told at once
// and does not keep the others from being planned; the error comes with the
// plans there are.
func (in *call) plans(names []string) ([]*rules.Planned, error) {
	var out []*rules.Planned
	code := ExitOK
	for _, name := range names {
		g, err := in.load(name)
		if err == nil {
			err = in.checkSize(g)
		}
		var change *catalog.ChangeError
		var usage *usageError
		switch {
		case errors.As(err, &change), errors.As(err, &usage):
			return nil, err // the command line is wrong, whatever the other files say
		case err != nil:
			code = max(code, report(in.err, err))
			continue
		}
		p := search.Checked(g, search.CheckOptions{Measuring: in.measuring(), Fixes: in.cmd.fixes})
		if err := p.SettledConflicts(); err != nil {
			code = max(code, report(in.err, err))
			continue
		}
		out = append(out, p)
	}
	if code != ExitOK {
		return out, told{code}
	}
	return out, nil
}

// told is an error that was told already, with the exit code it asks for.
type told struct{ code int }

func (t told) Error() string { return "told" }

// oneFile is the one garment file a command is about.
func (in *call) oneFile() ([]string, error) {
	args := in.args()
	if len(args) != 1 {
		e := usagef("say which file")
		if len(args) > 1 {
			e = usagef("one garment at a time, but %d files are given", len(args))
		}
		return nil, e.write("%s %s coat.toml", Program, in.cmd.name)
	}
	if args[0] != "-" {
		if st, err := os.Stat(args[0]); err == nil && st.IsDir() {
			return nil, usagef("%s is a folder, and %s takes one file", args[0], in.cmd.name).write("%s %s %s", Program, in.cmd.name, text.Shell(filepath.Join(args[0], "coat.toml")))
		}
	}
	return in.names()
}

// plan reads and plans the one garment a command is about.
func (in *call) plan() (*rules.Planned, error) {
	names, err := in.oneFile()
	if err != nil {
		return nil, err
	}
	plans, err := in.plans(names)
	if err != nil {
		return nil, err
	}
	return plans[0], nil
}

func (in *call) load(name string) (*catalog.Garment, error) {
	for _, c := range in.list("catalog") {
		if _, err := os.Stat(c); err != nil {
			return nil, &unusable{"--catalog", in.missing(c, err)}
		}
	}
	g, err := catalog.Load(name, in.options())
	if err == nil {
		err = rules.SettledFaults(g)
	}
	var change *catalog.ChangeError
	var problems source.Problems
	switch {
	case err == nil, errors.As(err, &change), errors.As(err, &problems):
		return g, err
	}
	return nil, &unusable{"", plain(err)}
}

// checkSize refuses a --size that the garment has not.
func (in *call) checkSize(g *catalog.Garment) error {
	sizes := []string{in.text("size")}
	if f := in.cmd.flag("size"); f != nil && f.list {
		sizes = in.list("size")
	}
	for _, size := range sizes {
		if size == "" || slices.Contains(g.Sizes, size) {
			continue
		}
		says, instead := text.NoSuch(g.File, "size", size, g.Sizes)
		if instead == "" {
			return usagef("--size: %s", says).write("the command without --size")
		}
		return usagef("--size: %s", says).write("--size %s", instead)
	}
	return nil
}

// measuring is how lengths were measured, "" where that was not said.
func (in *call) measuring() string {
	if in.cmd.flag("measuring") == nil {
		return ""
	}
	return in.text("measuring")
}

// verdict is the error of a run whose answer has been handed over. With
// --size only what is said of that size counts.
func (in *call) verdict(plans []*rules.Planned) error {
	least := rules.Conflict
	if in.on("strict") {
		least = rules.Caution
	}
	size := in.text("size")
	for _, p := range plans {
		for i := range p.Findings {
			f := &p.Findings[i]
			if f.Severity >= least && f.Settled == "" && (size == "" || f.Size == "" || f.Size == size) {
				return conflict{}
			}
		}
	}
	return nil
}
