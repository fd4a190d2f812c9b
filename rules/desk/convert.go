package desk

import (
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
)

func convertCommand() *command {
	return &command{
		name: "convert", args: "QUANTITY",
		does:  "a length, cloth weight, thread, needle, stitch or heat in every unit",
		about: "Gives a quantity in every unit of its kind. A number without a unit is refused, and its possible meanings are named.",
		examples: []string{
			"convert 40L",
			"convert 12 oz/yd2",
			"convert Tkt 75",
			"convert 90/14",
			"convert 12spi",
		},
		flags:  []flag{formatFlag("text", "json"), outFlag()},
		action: convert,
	}
}

func convert(in *call) error {
	args := in.args()
	if len(args) == 0 {
		return usagef("say what to convert").write("%s convert 40L", Program)
	}
	what := strings.Join(args, " ")
	c, err := measure.Convert(what)
	if err != nil {
		return badQuantity(what, err)
	}
	q := &quick{call: in}
	a := &answer{head: what + " is a " + c.Kind + ":"}
	switch c.Kind {
	case "thread":
		a.head = what + " is a thread size:"
	case "stitch":
		a.head = what + " is a stitch length:"
	}
	a.json = pairs{{"kind", c.Kind}}
	for _, v := range c.Values {
		a.rows = append(a.rows, []string{v.Text})
		a.json = append(a.json, pair{v.Key, v.Value})
	}
	a.say(c.Note)
	a.json = append(a.json, pair{"note", c.Note})
	a.next = nextOf(c.Kind, what)
	return q.hand(a, nil)
}

// nextOf is what is asked next about a quantity of a kind.
func nextOf(kind, what string) string {
	switch kind {
	case "length":
		return "catalog " + text.Shell(what)
	case "cloth weight":
		return "needle --weight " + text.Shell(what)
	case "thread":
		return "needle --cloth melton --thread " + text.Shell(what)
	case "needle":
		return "needle --cloth melton --needle " + text.Shell(what)
	case "stitch":
		return "needle --cloth melton"
	case "temperature":
		return "press --cloth melton --interfacing weft-fusible-medium"
	case "zip number":
		return "catalog --kind zip"
	}
	return ""
}

// badQuantity says why a text is no quantity.
func badQuantity(what string, err error) error {
	e, ok := err.(*measure.ParseError)
	if !ok {
		return usagef("%v", err)
	}
	u := usagef("%q: %s", what, e.Reason)
	if all := e.Meant(); len(all) > 0 {
		for i := range all {
			all[i] = Program + " convert " + text.Shell(all[i])
		}
		u.instead = strings.Join(all, orElse)
	}
	return u
}
