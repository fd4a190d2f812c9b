package desk

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func explainCommand() *command {
	return &command{
		name: "explain", args: "[RULE…|KEY]",
		does:  "what a rule checks, its formula, its sources; or what a key of a garment file means",
		about: "Alone it lists all rules. Every finding names its rule in brackets at its end.",
		examples: []string{
			"explain stand-narrow",
			"explain closure.front.measured.stack",
			"explain --format markdown --out rules.md",
		},
		flags:  []flag{formatFlag("text", "markdown", "json"), outFlag()},
		action: explain,
	}
}

func explain(in *call) error {
	chosen := rules.Rules()
	if names := in.args(); len(names) > 0 {
		chosen = nil
		var known []string
		for _, r := range rules.Rules() {
			known = append(known, r.Name)
		}
		for _, n := range names {
			n = strings.Trim(n, "[]")
			r := rules.Find(n)
			if r == nil {
				if keys := keysCalled(n); len(keys) > 0 && len(names) == 1 {
					return in.explainKeys(keys)
				}
				e := usagef("there is no rule %q", n)
				if near := text.Nearest(n, known); near != "" {
					return e.write("%s explain %s", Program, near)
				}
				return e.write("%s explain, to list them", Program)
			}
			chosen = append(chosen, r)
		}
	}
	for i, r := range chosen {
		e := r.Explained()
		if i == 0 {
			chosen = slices.Clone(chosen)
		}
		chosen[i] = &e
	}
	var b strings.Builder
	switch in.format() {
	case "json":
		list := make([]pairs, len(chosen))
		for i, r := range chosen {
			list[i] = pairs{
				{"rule", r.Name}, {"severity", r.Severity.String()}, {"title", r.Title}, {"formula", r.Formula}, {"why", r.Why},
				{"sources", r.Sources}, {"ours", r.Ours}, {"others", r.Others},
				{"touches", append([]string{}, r.Touches...)}, {"thresholds", thresholds(r)},
			}
		}
		data, err := text.JSON(list)
		if err != nil {
			return err
		}
		return in.deliver(data)
	case "markdown":
		for i, r := range chosen {
			if i > 0 {
				b.WriteByte('\n')
			}
			markdownRule(&b, r)
		}
	default:
		if len(in.args()) == 0 {
			listRules(&b, chosen)
			break
		}
		for i, r := range chosen {
			if i > 0 {
				b.WriteByte('\n')
			}
			textRule(&b, r)
		}
	}
	return in.deliver([]byte(b.String()))
}

// thresholds are the figures that a rule decides by, and what they rest on.
func thresholds(r *rules.Rule) []pairs {
	out := make([]pairs, len(r.Limits))
	for i := range r.Limits {
		t := &r.Limits[i]
		out[i] = pairs{{"name", t.Name}, {"figure", t.String()}, {"ground", t.Ground.String()}}
	}
	return out
}

// restsOn is the same in words, the firmest ground first.
func restsOn(r *rules.Rule) string {
	var words []string
	for g := plan.Read; g <= plan.Memory; g++ {
		var names []string
		for i := range r.Limits {
			if t := &r.Limits[i]; t.Ground == g {
				names = append(names, t.Called())
			}
		}
		if len(names) > 0 {
			words = append(words, g.String()+": "+strings.Join(names, ", "))
		}
	}
	return strings.Join(words, "; ")
}

func listRules(b *strings.Builder, rs []*rules.Rule) {
	fmt.Fprintf(b, "The %d rules, each with the gravest it says. More about one: %s explain RULE\n\n", len(rs), Program)
	rows := make([][]string, len(rs))
	for i, r := range rs {
		rows[i] = []string{r.Name, r.Severity.String(), r.Title}
	}
	put(b, text.Columns(rows, "  ", 110))
}

func textRule(b *strings.Builder, r *rules.Rule) {
	fmt.Fprintf(b, "%s (%s): %s\n\n", r.Name, r.Severity, r.Title)
	for _, part := range [][2]string{{"Formula", r.Formula}, {"Why", r.Why}, {"Ours", r.Ours}, {"Others", r.Others}, {"Rests on", restsOn(r)}, {"May set", strings.Join(r.Touches, ", ")}} {
		if part[1] != "" {
			put(b, text.Hang("  "+part[0], 12, part[1], helpWidth))
		}
	}
	for i, s := range r.Sources {
		head := "  Sources"
		if i > 0 {
			head = ""
		}
		put(b, text.Hang(head, 12, "- "+s, helpWidth))
	}
}

func markdownRule(b *strings.Builder, r *rules.Rule) {
	esc := text.Markdown
	fmt.Fprintf(b, "## %s\n\n%s: gravest finding **%s**.\n", r.Name, esc(text.Capital(r.Title)), r.Severity)
	for _, part := range [][2]string{{"Formula", r.Formula}, {"Why", r.Why}, {"Our own choice", r.Ours}, {"Other rules", r.Others}, {"What its figures rest on", restsOn(r)}, {"Keys that its changes may set", strings.Join(r.Touches, ", ")}} {
		if part[1] != "" {
			fmt.Fprintf(b, "\n**%s.** %s\n", part[0], esc(part[1]))
		}
	}
	b.WriteString("\nSources:\n\n")
	for _, s := range r.Sources {
		fmt.Fprintf(b, "- %s\n", esc(s))
	}
}
