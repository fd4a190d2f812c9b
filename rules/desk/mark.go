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
		about: "Draws the closures at 1:1: centre line, edges, folds, holes and fastener centres, and a square to check the print with. Print it at 100 %, never \"fit to page\", and measure the square before you trust it. The name after --out says the format: .pdf (pages to tape together), .svg or .png.",
		examples: []string{
			"mark coat.toml --out coat.pdf",
			"mark coat.toml --size M --paper letter --out coat-M.pdf",
		},
		flags: []flag{
			{name: "out", value: "FILE", doc: "the file to write, ending in .pdf, .svg or .png", hint: "marks.pdf"},
			sizeFlag(),
			{name: "closure", value: "NAME", doc: "only this closure", hint: "front"},
			{name: "paper", words: []string{"a4", "letter"}, doc: "paper of the pages", first: "letter for a garment in inches, else a4"},
			{name: "dpi", kind: numberFlag, value: "N", doc: "dots an inch of a .png, 36 to 600", first: "150", lo: 36, hi: 600, whole: true, hint: "150"},
			withFlag(), catalogFlag(), unitsFlag(), strictFlag(),
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
			dpi, _, err := in.number("dpi")
			if err != nil {
				return err
			}
			p, err := in.plan()
			if err != nil {
				return err
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
			data, err := guide.Mark(p, guide.Options{
				Closure: in.text("closure"), Size: in.text("size"), Paper: in.text("paper"), Format: kind, DPI: int(dpi),
			})
			if err != nil {
				return err
			}
			if err := in.deliver(data); err != nil {
				return err
			}
			for i := range p.Findings {
				if f := &p.Findings[i]; f.Severity == rules.Conflict {
					fmt.Fprintf(in.err, "%s: conflict: %s [%s]\n", f.Pos, text.Safe(f.Message()), f.Rule)
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
