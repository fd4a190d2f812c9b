package desk

import (
	"fmt"
	"path/filepath"
	"strings"

	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/guide"
)

func markCommand() *command {
	return &command{
		name: "mark", args: "FILE --out X.pdf",
		does:  "the marking guide at full size, to lay on the cloth",
		about: "Draws the closures at 1:1: centre line, edges, folds, holes and fastener centres, and a square to check the print with. Print it at 100 %, never \"fit to page\", and measure the square before you trust it. The name after --out says the format: .pdf (pages to tape together, or one sheet with --paper none), .svg or .png. --layout strip draws one narrow strip a size instead: quick to print, tape and lay along the line of the holes. What is too wide for a strip is drawn in full, and said.",
		examples: []string{
			"mark coat.toml --out coat.pdf",
			"mark coat.toml --layout strip --size S --size M --out strips.pdf",
		},
		flags: []flag{
			{name: "out", value: "FILE", doc: "the file to write, ending in .pdf, .svg or .png", hint: "marks.pdf"},
			{name: "size", value: "NAME", list: true, doc: "only this size", hint: "M"},
			{name: "closure", value: "NAME", doc: "only this closure", hint: "front"},
			{name: "layout", words: guide.Layouts, doc: "full: each piece with its edges and areas; strip: one narrow strip a size, with the marks alone", first: "full"},
			{name: "side", words: guide.Sides, doc: "only the side on top or the side underneath", first: "both"},
			{name: "paper", words: guide.Papers, doc: "paper of the pages; none: one sheet to scale, for a plotter, a copy shop or a projector", first: "of a .pdf letter for a garment in inches, else a4; of a picture none"},
			{name: "dpi", kind: numberFlag, value: "N", doc: "dots an inch of a .png, 36 to 600", first: "150", lo: 36, hi: 600, whole: true, hint: "150"},
			withFlag(), variantFlag(), catalogFlag(), unitsFlag(), oneUnitFlag(), strictFlag(),
		},
		action: func(in *call) error {
			out := in.text("out")
			if out == "" {
				return usagef("say which file to draw to").write("%s mark %s --out marks.pdf", Program, strings.Join(append(in.args(), "coat.toml")[:1], " "))
			}
			kind := strings.TrimPrefix(strings.ToLower(filepath.Ext(out)), ".")
			switch kind {
			case "pdf", "svg", "png":
			default:
				return usagef("--out %s: the end of the name says the format, and %q is none", out, filepath.Ext(out)).
					write("--out %s", strings.TrimSuffix(out, filepath.Ext(out))+".pdf")
			}
			dpi, given, err := in.number("dpi")
			if err != nil {
				return err
			}
			if given && kind != "png" {
				return usagef("--dpi: a .%s is drawn in lines and has no dots", kind).write("no --dpi, or a name ending in .png")
			}
			p, err := in.plan()
			if err != nil {
				return err
			}
			if paper := in.text("paper"); kind != "pdf" && paper != "" && paper != "none" {
				return usagef("--paper %s: a .%s is one sheet", paper, kind).write("--paper none, or a name ending in .pdf")
			}
			if name := in.text("closure"); name != "" {
				var names []string
				for i := range p.Garment.Closures {
					names = append(names, p.Garment.Closures[i].Name)
				}
				if err := oneOf("--closure", name, names); err != nil {
					return err
				}
			}
			data, left, err := guide.Mark(p, guide.Options{
				Closure: in.text("closure"), Sizes: in.list("size"), Side: in.text("side"), Layout: in.text("layout"),
				Paper: in.text("paper"), Format: kind, DPI: int(dpi),
			})
			if err != nil {
				return err
			}
			if err := in.deliver(data); err != nil {
				return err
			}
			for _, l := range left {
				fmt.Fprintf(in.err, "drawn in full: %s\n", text.Safe(l))
			}
			for _, e := range rules.Gather(p.Findings) {
				if e.Severity == rules.Conflict {
					fmt.Fprintf(in.err, "%s: conflict: %s [%s]\n", e.Pos, text.Safe(e.Message()), e.Rule)
				}
			}
			return in.verdict(planned(p))
		},
	}
}

// oneOf refuses a word that is not among the known, and says which is near.
func oneOf(flag, word string, known []string) error {
	for _, k := range known {
		if k == word {
			return nil
		}
	}
	e := usagef("%s: there is no %q", flag, word)
	if near := text.Nearest(word, known); near != "" {
		return e.write("%s %s", flag, text.Shell(near))
	}
	if len(known) == 0 {
		return e
	}
	return e.write("one of: %s", strings.Join(known, ", "))
}
