package desk

import "placketeer/rules/sheet"

func specCommand() *command {
	return &command{
		name: "spec", args: "FILE",
		does:  "the whole specification, each number with its working and source",
		about: "The page to work from: every fastener, hole, stand, strip, needle, thread and place by size, with how each number came about. Add --format html --out spec.html for a page to print.",
		examples: []string{
			"spec coat.toml",
			"spec coat.toml --size M --units mm",
			"spec coat.toml --out coat.html",
		},
		flags: []flag{
			formatFlag(sheet.Formats...), outFlag(), withFlag(), catalogFlag(), sizeFlag(), unitsFlag(),
			measuringFlag(), strictFlag(), colorFlag(),
		},
		fixes: true,
		action: func(in *call) error {
			names, err := in.oneFile()
			if err != nil {
				return err
			}
			return in.write(names, sheet.Spec)
		},
	}
}
