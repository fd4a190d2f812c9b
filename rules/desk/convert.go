package desk

import (
	"strings"

	"placketeer/catalog/measure"
)

func convertCommand() *command {
	return &command{
		name: "convert", args: "QUANTITY",
		does:  "a length, cloth weight, thread, needle or heat in every unit",
		about: "Gives a quantity in every unit of its kind. A number without a unit is refused, and its possible meanings are named.",
		examples: []string{
			"convert 40L",
			"convert 12 oz/yd2",
			"convert Tkt 75",
			"convert 90/14",
		},
		flags: []flag{formatFlag("text", "json"), outFlag()},
		action: func(in *call) error {
			args := in.args()
			if len(args) == 0 {
				return usagef("say what to convert").write("%s convert 40L", Program)
			}
			text := strings.Join(args, " ")
			c, err := measure.Convert(text)
			if err != nil {
				return badQuantity(text, err)
			}
			q := &quick{call: in}
			a := &answer{head: text + " is a " + c.Kind + ":"}
			if c.Kind == "thread" {
				a.head = text + " is a thread size:"
			}
			a.json = pairs{{"kind", c.Kind}}
			for _, v := range c.Values {
				a.rows = append(a.rows, []string{v.Text})
				a.json = append(a.json, pair{v.Key, v.Value})
			}
			if c.Note != "" {
				a.notes = append(a.notes, c.Note)
			}
			a.json = append(a.json, pair{"note", c.Note})
			return q.hand(a, nil)
		},
	}
}

// badQuantity says why a text is no quantity.
func badQuantity(text string, err error) error {
	e, ok := err.(*measure.ParseError)
	if !ok {
		return usagef("%v", err)
	}
	u := usagef("%q: %s", text, e.Reason)
	u.instead = e.Instead
	return u
}
