package desk

import (
	"io"

	"placketeer/rules"
	"placketeer/rules/sheet"
)

func checkCommand() *command {
	return &command{
		name: "check", args: "FILE|DIR…",
		does:  "say what in a garment will not work, and what would",
		about: "Reads garment files and says what stands in the way of cutting: conflicts first, then cautions and notes, each with its place in the file. A folder is searched for garment files; - reads the standard input.",
		examples: []string{
			"check coat.toml",
			"check patterns/ --strict",
			"check coat.toml --with closure.front.use=horn-36",
		},
		flags: []flag{
			formatFlag(sheet.Formats...), outFlag(), withFlag(), catalogFlag(), sizeFlag(), unitsFlag(),
			measuringFlag(), strictFlag(), colorFlag(),
		},
		fixes: true,
		action: func(in *call) error {
			names, failed := in.names()
			if len(names) == 0 {
				return failed
			}
			if err := in.write(names, sheet.Check); failed == nil || isUsage(err) {
				return err
			}
			return failed
		},
	}
}

// write plans the garments and hands them over as a sheet.
func (in *call) write(names []string, as func(io.Writer, []*rules.Planned, sheet.Options) error) error {
	plans, failed := in.plans(names)
	if len(plans) > 0 {
		if err := in.deliverText(func(w io.Writer) error { return as(w, plans, in.sheetOptions()) }); err != nil {
			return err
		}
	}
	if failed != nil {
		return failed
	}
	return in.verdict(plans)
}

// sheetOptions are how a sheet is to be written.
func (in *call) sheetOptions() sheet.Options {
	return sheet.Options{
		Format: in.format(), Color: in.color(), UTF8: in.utf8(), Width: in.width(),
		Size: in.text("size"), Strict: in.on("strict"),
	}
}
