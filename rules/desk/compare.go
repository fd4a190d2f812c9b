package desk

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/search"
	"placketeer/rules/sheet"
)

func compareCommand() *command {
	return &command{
		name: "compare", args: "OLD NEW",
		does:  "what a change of a garment file does: values, findings, places, goods",
		about: "Plans two files of a garment and says which values changed, which findings went and came, which fasteners moved and which stayed, by size, and what is bought otherwise. One of them may be -, the standard input; with --as that is read as if it were the file of that name, so that its base and catalogues are found: git show HEAD:coat.toml | placketeer compare - coat.toml --as coat.toml. Exit code 1 where the new one has a conflict that the old one had not.",
		examples: []string{
			"compare coat-before.toml coat.toml",
			"compare coat-before.toml coat.toml --size M --format markdown",
		},
		flags: []flag{
			asFlag(), formatFlag(sheet.CompareFormats...), outFlag(), variantFlag(), catalogFlag(), sizeFlag(), unitsFlag(), oneUnitFlag(), strictFlag(), colorFlag(),
			{name: "full", kind: boolFlag, doc: "all of each part, however long"},
		},
		variants: true,
		action:   compare,
	}
}

func asFlag() flag {
	return flag{name: "as", value: "FILE", doc: "read - as if it were this file: its base and its catalogues are looked for beside it", hint: "coat.toml"}
}

func compare(in *call) error {
	args := in.args()
	if len(args) != 2 {
		e := usagef("say the old file and the new one")
		if len(args) > 2 {
			e = usagef("two files are compared, but %d are given", len(args))
		}
		return e.write("%s compare coat-before.toml coat.toml", Program)
	}
	switch {
	case args[0] == "-" && args[1] == "-":
		return usagef("only one of the two can be the standard input").write("%s compare - coat.toml", Program)
	case args[0] == "" || args[1] == "":
		return usagef("the name of a file is empty").write("%s compare coat-before.toml coat.toml", Program)
	}
	if err := in.checkAs(args); err != nil {
		return err
	}
	for i, a := range args {
		if a == "-" {
			continue
		}
		args[i] = filepath.Clean(a)
		switch st, err := os.Stat(a); {
		case err != nil:
			return &unusable{"", in.missing(a, err)}
		case st.IsDir():
			return usagef("%s is a folder, and compare takes two files", a).write("%s compare coat-before.toml %s", Program, text.Shell(filepath.Join(a, "coat.toml")))
		}
	}
	if err := in.keepInputs(args); err != nil {
		return err
	}
	now, err := in.side(args[1], in.options())
	o := in.options()
	if now != nil {
		o.Units = now.Garment.Units.String() // both are told in the same
	}
	old, wrong := in.side(args[0], o)
	switch {
	case isUsage(err) || err == nil && wrong != nil:
		return cmp.Or(err, wrong)
	case err != nil && wrong != nil:
		return told{max(report(in.err, wrong), report(in.err, err))}
	case err != nil:
		return err
	}
	if err := in.checkSize(now.Garment); err != nil {
		return err
	}
	c, err := sheet.NewCompared(old, now, in.sheetOptions())
	if err != nil {
		return err
	}
	if err := in.deliverText(c.Write); err != nil {
		return err
	}
	least := rules.Conflict
	if in.on("strict") {
		least = rules.Caution
	}
	if c.Worse(least) {
		return conflict{}
	}
	return nil
}

// side reads and plans one of the two. What is wrong with the standard input
// is told of it, for its places are not those of the file whose name it has.
func (in *call) side(name string, o catalog.Options) (*rules.Planned, error) {
	g, err := in.loadAs(name, o)
	if err == nil {
		p := search.Checked(g, search.CheckOptions{})
		if err = in.checkVariants(p); err == nil {
			err = p.SettledConflicts()
		}
		if err == nil {
			return p, nil
		}
	}
	if o.As != "" && name == "-" {
		fmt.Fprintf(in.err, "The standard input, read as %s, cannot be used:\n", text.Safe(o.As))
	}
	return nil, err
}

// checkAs refuses a name for the standard input where that is not read, and
// one that no file can have.
func (in *call) checkAs(names []string) error {
	as := in.text("as")
	if as == "" {
		return nil
	}
	read := false
	for _, n := range names {
		read = read || n == "-"
	}
	if !read {
		return usagef("--as names what is read from the standard input, and no - is among the files").write("%s %s - --as %s", Program, in.cmd.name, text.Shell(as))
	}
	if st, err := os.Stat(as); err == nil && st.IsDir() {
		return usagef("--as %s is a folder, and it names a file", as).write("--as %s", text.Shell(filepath.Join(as, "coat.toml")))
	}
	return nil
}
