package desk

import (
	"io"
	"slices"

	"placketeer/rules"
	"placketeer/rules/sheet"
)

func checkCommand() *command {
	return &command{
		name: "check", args: "FILE|DIR…",
		does:  "say what in a garment will not work, and what would",
		about: "Reads garment files and says on one screen what to settle before cutting, what to sample, and what to know, with the changes that settle it. A folder is searched for garment files; - reads the standard input. --format lines is a line a finding, sarif the OASIS format, with the changes as fixes and what is settled suppressed.",
		examples: []string{
			"check coat.toml",
			"check patterns/ --strict",
			"check coat.toml --with closure.front.use=horn-36",
			"check patterns/ --format sarif --out findings.sarif",
		},
		flags: []flag{
			formatFlag(sheet.CheckFormats...), tableFlag(sheet.Tables...), outFlag(), asFlag(), withFlag(), variantFlag(), catalogFlag(), sizeFlag(), unitsFlag(), oneUnitFlag(),
			measuringFlag(), strictFlag(), colorFlag(),
			{name: "full", kind: boolFlag, doc: "each finding with its place in the file and all that it says, and the runs drawn"},
			{name: "only", words: []string{"conflict", "caution", "note"}, doc: "show only these; the verdict and the exit code stay"},
			{name: "quiet", kind: boolFlag, doc: "of several garments only the table"},
		},
		fixes:    true,
		variants: true,
		action: func(in *call) error {
			if err := in.checkAs(in.args()); err != nil {
				return err
			}
			if err := in.checkTable(); err != nil {
				return err
			}
			names, failed := in.names()
			if len(names) == 0 && (len(in.unread) == 0 || isUsage(failed)) {
				return failed
			}
			var err error
			if o := in.sheetOptions(); o.Reported() {
				err = in.report(names)
			} else {
				err = in.write(names, sheet.Check)
			}
			if failed == nil || isUsage(err) {
				return err
			}
			return failed
		},
	}
}

// write plans the garments and hands them over as a sheet.
func (in *call) write(names []string, as func(io.Writer, []*rules.Planned, sheet.Options) error) error {
	plans, failed := in.plans(names)
	if failed != nil && !isTold(failed) {
		return failed
	}
	// What editors and other programs read says of one file too that it cannot
	// be read; a paper is not written of nothing.
	tells := in.cmd.name == "check" && (in.format() == "sarif" || len(in.unread) > 1 && slices.Contains([]string{"json", "markdown"}, in.format()))
	if len(plans) > 0 || tells && len(in.unread) > 0 {
		if err := in.deliverText(func(w io.Writer) error { return as(w, plans, in.sheetOptions()) }); err != nil {
			return err
		}
	}
	if failed != nil {
		return failed
	}
	return in.verdict(plans)
}

// reported is the report of one garment, and whether something stands in its
// way.
type reported struct {
	*sheet.Report
	stands bool
}

// report plans the garments and hands over a report of each. Each is put into
// words where it was planned, and its plan is let go.
func (in *call) report(names []string) error {
	o := in.sheetOptions()
	done, failed := each(in, names, func(name string) (reported, error) {
		p, err := in.checked(name)
		if err != nil {
			return reported{}, err
		}
		r, err := sheet.NewReport(p, o)
		return reported{r, in.stands(p)}, err
	})
	if failed != nil && !isTold(failed) {
		return failed
	}
	stands := false
	reports := make([]*sheet.Report, len(done))
	for i, r := range done {
		reports[i], stands = r.Report, stands || r.stands
	}
	if o.Unread = in.unread; len(reports) > 0 || len(in.unread) > 1 || len(in.unread) == 1 && o.Format == "lines" {
		if err := in.deliverText(func(w io.Writer) error { return sheet.Reports(w, reports, o) }); err != nil {
			return err
		}
	}
	if failed == nil && stands {
		return conflict{}
	}
	return failed
}

// sheetOptions are how a sheet is to be written.
func (in *call) sheetOptions() sheet.Options {
	return sheet.Options{
		Format: in.format(), Color: in.color(), UTF8: in.utf8(), Width: in.width(),
		Size: in.text("size"), Strict: in.on("strict"), Full: in.on("full"), Only: in.text("only"), Quiet: in.on("quiet"),
		Unread: in.unread, Table: in.text("table"), Working: in.on("working"), Sources: in.on("sources"),
	}
}
