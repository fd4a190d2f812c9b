package desk

import (
	"io"

	"placketeer/rules"
	"placketeer/rules/sheet"
)

func checklistCommand() *command {
	return &command{
		name: "checklist", args: "FILE",
		does:  "what to buy, test, cut, mark and set, in the order the work needs",
		about: "A list to tick off at the table, with this garment's own figures in every line. Doing a step late can spoil the piece: holes of a flap are sewn before the flap is joined, hardware is set before the layer below is in the way.",
		examples: []string{
			"checklist coat.toml",
			"checklist coat.toml --size M --out coat-M.md",
		},
		flags: []flag{
			formatFlag(sheet.ChecklistFormats...), outFlag(), withFlag(), variantFlag(), catalogFlag(), sizeFlag(), unitsFlag(), oneUnitFlag(),
			strictFlag(), colorFlag(),
		},
		action: func(in *call) error {
			names, err := in.oneFile()
			if err != nil {
				return err
			}
			return in.write(names, func(w io.Writer, ps []*rules.Planned, o sheet.Options) error {
				return sheet.Checklist(w, ps[0], o)
			})
		},
	}
}

// planned are the plans of one.
func planned(p *rules.Planned) []*rules.Planned { return []*rules.Planned{p} }
