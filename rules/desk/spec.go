package desk

import "placketeer/rules/sheet"

func specCommand() *command {
	return &command{
		name: "spec", args: "FILE",
		does:  "the page to work from: closures, places by size, what to cut, what to buy",
		about: "The page to work from: what to settle and to sample, then every fastener, hole, stand, needle, thread and place by size with its growth, what to cut, where things lie and what to buy. --working adds how each number came about, each finding in full, and what to measure first; --sources adds the sources and their numbers in the text. A page (--out coat.html) has both folded away, and prints without them unless they are asked for.",
		examples: []string{
			"spec coat.toml --working --sources",
			"spec coat.toml --size M --out coat.html",
			"spec coat.toml --table places --out places.csv",
		},
		flags: []flag{
			formatFlag(sheet.Formats...), tableFlag(sheet.Tables...), outFlag(), withFlag(), variantFlag(), catalogFlag(), sizeFlag(), unitsFlag(), oneUnitFlag(),
			{name: "working", kind: boolFlag, doc: "how each number came about too, and each finding in full"},
			{name: "sources", kind: boolFlag, doc: "the sources too, and their numbers in the text"},
			measuringFlag(), strictFlag(), colorFlag(),
		},
		fixes:    true,
		variants: true,
		action: func(in *call) error {
			if err := in.checkTable(); err != nil {
				return err
			}
			names, err := in.oneFile()
			if err != nil {
				return err
			}
			return in.write(names, sheet.Spec)
		},
	}
}
