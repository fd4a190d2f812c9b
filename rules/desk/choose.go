package desk

import (
	"fmt"
	"io"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules/search"
	"placketeer/rules/sheet"
)

func chooseCommand() *command {
	return &command{
		name: "choose", args: "FILE --closure NAME",
		does:  "the fasteners of the catalogue that pass everything, ranked",
		about: "Plans the garment with every fastener of the kind that the closure has, from the built-in catalogue and your own, over all sizes. What brings no conflict and leaves room is listed: the likest to what the file has first, or to the size asked for, then the fittest for the cloth, then by cautions and price. Below stand near misses, and why they fail.",
		examples: []string{
			"choose coat.toml --closure front",
			"choose coat.toml --closure front --from 36L --to 45L",
			"choose coat.toml --all-closures",
			"choose coat.toml --closure front --needle",
		},
		flags: []flag{
			{name: "closure", value: "NAME", doc: "for which closure (not needed where there is one)", hint: "front"},
			{name: "all-closures", kind: boolFlag, doc: "one range of fasteners for the whole garment, such as 45 ligne for the front and 30 for the flaps"},
			{name: "needle", kind: boolFlag, doc: "choose the needle instead"},
			{name: "thread", kind: boolFlag, doc: "choose the thread instead"},
			{name: "interfacing", kind: boolFlag, doc: "choose the interfacing instead"},
			{name: "from", kind: lengthFlag, value: "SIZE", doc: "no smaller fastener", hint: "36L"},
			{name: "to", kind: lengthFlag, value: "SIZE", doc: "no larger fastener", hint: "45L"},
			{name: "limit", kind: numberFlag, value: "N", doc: "how many to list", first: fmt.Sprint(search.ListLimit), lo: 1, hi: 100000, whole: true, hint: "12"},
			formatFlag(sheet.ChoiceFormats...), outFlag(), withFlag(), variantFlag(), catalogFlag(), unitsFlag(), oneUnitFlag(), colorFlag(),
		},
		action: choose,
	}
}

func choose(in *call) error {
	o := search.ChoiceOptions{Closure: in.text("closure"), All: in.on("all-closures")}
	for _, what := range search.Choosable {
		if in.cmd.flag(what) == nil || !in.on(what) {
			continue
		}
		if o.What != "" {
			return usagef("--%s and --%s: one thing is chosen at a time", o.What, what).write("--%s", what)
		}
		o.What = what
	}
	if o.Closure != "" && o.All {
		return usagef("--closure is one closure, --all-closures all of them").write("one of them")
	}
	limit, _, err := in.number("limit")
	if err != nil {
		return err
	}
	for _, end := range []struct {
		flag string
		to   *measure.Length
	}{{"from", &o.From}, {"to", &o.To}} {
		s := in.text(end.flag)
		if s == "" {
			continue
		}
		if o.What != "" && o.What != "notion" {
			return usagef("--%s is a size of fastener, and the %s is chosen", end.flag, o.What).write("--%s alone", o.What)
		}
		if *end.to, err = measure.ParseLength(s, measure.MM); err != nil {
			return badValue(end.flag, s, err)
		}
	}
	if o.To > 0 && o.From > o.To {
		return usagef("--from is larger than --to").write("--from %s --to %s", text.Shell(in.text("to")), text.Shell(in.text("from")))
	}
	o.Limit = int(limit)
	names, err := in.oneFile()
	if err != nil {
		return err
	}
	defer collectEarly()()
	g, err := in.load(names[0])
	if err != nil {
		return err
	}
	var closures []string
	for i := range g.Closures {
		closures = append(closures, g.Closures[i].Name)
	}
	switch {
	case o.Closure != "":
		if err := oneOf("--closure", o.Closure, closures); err != nil {
			return err
		}
	case !o.All && len(closures) > 1:
		return usagef("the garment has %d closures (%s): say which", len(closures), strings.Join(closures, ", ")).
			write("--closure %s   or   --all-closures", text.Shell(closures[0]))
	}
	c, err := search.Choose(g, o)
	if err != nil {
		return usagef("%v", err)
	}
	if err := in.deliverText(func(w io.Writer) error { return sheet.Choice(w, c, in.sheetOptions()) }); err != nil {
		return err
	}
	if c.Passing == 0 {
		return conflict{}
	}
	return nil
}
