package desk

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/search"
)

func settleCommand() *command {
	return &command{
		name: "settle", args: "FILE RULE",
		does:  "write into the file that a sample has answered a caution or a note",
		about: "Writes a [[settled]] entry with the figure it holds at and your reason, and leaves the rest of the file as it is. The finding then counts no more, until it gets worse: a higher severity, a margin worse by more than one printed step, or another value of a key that it looked at. Conflicts and what is about safety cannot be settled.",
		examples: []string{
			`settle coat.toml stack-bulky --closure front --because "sample sewn 12 November, no skipped stitch"`,
			`settle coat.toml hole-frays --closure flap --because "edge sealed, washed three times"`,
		},
		flags: []flag{
			{name: "closure", value: "NAME", doc: "on which closure (not needed where it is found on one)", hint: "front"},
			{name: "size", value: "NAME", doc: "in this size alone", first: "all sizes, by the worst", hint: "M"},
			{name: "because", value: "TEXT", doc: "what the sample showed", hint: `"sample sewn 12 November, no skipped stitch"`},
			variantFlag(), catalogFlag(),
		},
		fixes:  true,
		action: settle,
	}
}

func settle(in *call) error {
	args := in.args()
	if len(args) != 2 {
		e := usagef("say which file, and the rule that the finding has in brackets at its end")
		if len(args) > 2 {
			e = usagef("one file and one rule, but %s are given", text.Count(len(args), "word"))
		}
		return e.write("%s", settleLike("coat.toml", "stack-bulky"))
	}
	file, name := args[0], strings.Trim(args[1], "[]")
	if file == "-" {
		return usagef("settle writes into the file, and the standard input is none").write("%s", settleLike("coat.toml", name))
	}
	if rules.Find(name) == nil {
		var known []string
		for _, r := range rules.Rules() {
			known = append(known, r.Name)
		}
		e := usagef("there is no rule %q", name)
		if near := text.Nearest(name, known); near != "" {
			return e.write("%s", settleLike(file, near))
		}
		return e.write("%s check %s, which names them in brackets", Program, text.Shell(file))
	}
	because := strings.TrimSpace(in.text("because"))
	if because == "" {
		return usagef("say what the sample showed").write("%s", settleLike(file, name))
	}
	g, err := in.load(file)
	if err != nil {
		return err
	}
	if err := in.checkSize(g); err != nil {
		return err
	}
	p := search.Checked(g, search.CheckOptions{Fixes: true})
	entry, err := in.settling(p, name)
	if err != nil {
		return err
	}
	entry.Because = because
	data, lines, err := g.Settle(entry)
	if err != nil {
		return &unusable{file, err}
	}
	if err := settles(g, data, in.options(), entry); err != nil {
		return err
	}
	if err := rewrite(g, data); err != nil {
		return err
	}
	var b strings.Builder
	on := ""
	if entry.Closure != "" {
		on += " on " + entry.Closure
	}
	if entry.Size != "" {
		on += " in size " + entry.Size
	}
	at := ", while " + text.And(entry.While...)
	if entry.Have.Has() {
		at = ", at " + entry.Have.String() + " against " + entry.Need.String()
	}
	put(&b, text.Wrap(text.Safe(fmt.Sprintf("%s: %s%s is settled%s", file, name, on, at)), helpWidth))
	for _, l := range lines {
		if strings.TrimSpace(l.Text) != "" {
			fmt.Fprintf(&b, "  %s\n", text.Safe(l.Text))
		}
	}
	return in.deliver([]byte(b.String()))
}

// settleLike is an example of the command.
func settleLike(file, rule string) string {
	return fmt.Sprintf("%s settle %s %s --because \"sample sewn 12 November, no skipped stitch\"", Program, text.Shell(file), text.Shell(rule))
}

// settling is the entry for what a rule found on the closure and in the size
// that are asked for.
func (in *call) settling(p *rules.Planned, name string) (catalog.Settled, error) {
	none := catalog.Settled{}
	closure, size := in.text("closure"), in.text("size")
	var names []string
	for i := range p.Garment.Closures {
		names = append(names, p.Garment.Closures[i].Name)
	}
	if closure != "" {
		if err := oneOf("--closure", closure, names); err != nil {
			return none, err
		}
	}
	var worst *rules.Finding
	var on, other []string
	for i := range p.Findings {
		f := &p.Findings[i]
		switch {
		case f.Rule != name:
			if _, err := p.Settling(f); err == nil && !slices.Contains(other, f.Rule) {
				other = append(other, f.Rule)
			}
			continue
		case closure != "" && f.Closure != closure, size != "" && f.Size != "" && f.Size != size:
			continue
		}
		if !slices.Contains(on, f.Closure) {
			on = append(on, f.Closure)
		}
		if worst == nil || f.Severity > worst.Severity || f.Severity == worst.Severity && f.Margin < worst.Margin {
			worst = f
		}
	}
	switch {
	case worst == nil:
		what := name
		if closure != "" {
			what += " on " + closure
		}
		e := usagef("nothing raises %s in %s", what, p.Garment.File)
		if len(other) == 0 {
			return none, e.write("nothing: there is nothing to settle")
		}
		return none, e.write("one of: %s", strings.Join(other, ", "))
	case len(on) > 1:
		return none, usagef("%s is raised on %s: say on which", name, text.And(on...)).write("--closure %s", text.Shell(on[0]))
	}
	entry, err := p.Settling(worst)
	if err != nil {
		e := usagef("%v", err)
		if len(worst.Fixes) > 0 {
			e.write("%s check %s --with %s", Program, text.Shell(p.Garment.File), text.Shell(worst.Fixes[0].With[0].String()))
		}
		return none, e
	}
	entry.Size = size
	return entry, nil
}

// settles reads and plans what is about to be written: the entry must hold.
func settles(g *catalog.Garment, data []byte, o catalog.Options, entry catalog.Settled) error {
	n, err := catalog.Read(g.File, data, o)
	if err == nil {
		err = rules.SettledFaults(n)
	}
	if err != nil {
		return &unusable{"with the entry the file could not be read, so nothing was written", err}
	}
	p := search.Checked(n, search.CheckOptions{})
	if err := p.SettledConflicts(); err != nil {
		return err
	}
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Rule == entry.Rule && f.Closure == entry.Closure && f.Settled == "" && (entry.Size == "" || f.Size == "" || f.Size == entry.Size) {
			return &unusable{says: fmt.Sprintf("%s would not be settled by the entry, so nothing was written: %s", entry.Rule, f.Message())}
		}
	}
	return nil
}

// rewrite puts a changed text in the place of a garment's file.
func rewrite(g *catalog.Garment, data []byte) error {
	err := g.Save(data)
	switch {
	case errors.Is(err, catalog.ErrChanged):
		return &unusable{says: err.Error()}
	case err != nil:
		return &unusable{"", err}
	}
	return nil
}
