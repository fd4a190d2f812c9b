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
		about: "Reads garment files and says on one screen what to settle before cutting, what to sample, and what to know, with the changes that settle it. A folder is searched for garment files; - reads the standard input.",
		examples: []string{
			"check coat.toml",
			"check patterns/ --strict",
			"check coat.toml --with closure.front.use=horn-36",
		},
		flags: []flag{
			formatFlag(sheet.CheckFormats...), outFlag(), withFlag(), variantFlag(), catalogFlag(), sizeFlag(), unitsFlag(),
			measuringFlag(), strictFlag(), colorFlag(),
			{name: "full", kind: boolFlag, doc: "each finding with its place in the file and all that it says, and the runs drawn"},
			{name: "only", words: []string{"conflict", "caution", "note"}, doc: "show only these; the verdict and the exit code stay"},
			{name: "quiet", kind: boolFlag, doc: "of several garments only the table"},
		},
		fixes:    true,
		variants: true,
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
		Size: in.text("size"), Strict: in.on("strict"), Full: in.on("full"), Only: in.text("only"), Quiet: in.on("quiet"),
		Working: in.on("working"), Sources: in.on("sources"),
	}
}
