package desk

import (
	"os"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
)

func startCommand() *command {
	return &command{
		name:  "start",
		does:  "write a garment file to begin from",
		about: "Writes the shortest garment file that works, and below each part every other key as a comment with a word of explanation. Fill in your own figures, take away the # of what you need, and check it. With --ask it asks instead, in plain questions, and writes the file from the answers; the first plan of it stands below.",
		examples: []string{
			"start --ask",
			"start --out coat.toml",
			`start --garment "Deck jacket" --units mm --out jacket.toml`,
		},
		flags: []flag{
			{name: "ask", kind: boolFlag, doc: "ask what it is to be, and write the file from the answers"},
			{name: "live", kind: boolFlag, doc: "with --ask: then the page at the table, in the browser"},
			{name: "no-open", kind: boolFlag, doc: "with --live: print the address, and open no browser"},
			{name: "garment", value: "NAME", doc: "what the garment is called", first: "Coat", hint: `"Deck jacket"`},
			{name: "units", words: []string{"in", "mm"}, doc: "units of bare numbers", first: "in"},
			outFlag(), catalogFlag(),
			{name: "force", kind: boolFlag, doc: "write over a file that is there"},
		},
		action: func(in *call) error {
			if args := in.args(); len(args) > 0 {
				e := usagef("start takes no file, but %q is given", args[0])
				if strings.HasSuffix(args[0], ".toml") {
					return e.write("%s start --out %s", Program, text.Shell(args[0]))
				}
				return e.write("%s start --garment %s", Program, text.Shell(strings.Join(args, " ")))
			}
			out := in.text("out")
			if out != "" && !in.on("force") {
				if _, err := os.Lstat(out); err == nil {
					return &unusable{says: out + " is there already and stays as it is; another name, or --force, writes"}
				}
			}
			unit, _ := measure.ParseUnit(in.or("units", "in"))
			cat, err := in.catalog()
			if err != nil {
				return err
			}
			if in.on("no-open") && !in.on("live") {
				return usagef("--no-open goes with --ask --live").write("%s start --ask --live --no-open", Program)
			}
			if in.on("ask") {
				if in.has("garment") {
					return usagef("--ask asks for the name itself").write("%s start --ask", Program)
				}
				return in.interview(cat)
			}
			if in.on("live") {
				return usagef("--live goes with --ask").write("%s start --ask --live", Program)
			}
			return in.deliver([]byte(cat.Starter(in.or("garment", "Coat"), unit)))
		},
	}
}
