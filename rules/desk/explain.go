package desk

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func explainCommand() *command {
	units := unitsFlag()
	units.first = "those of the source"
	return &command{
		name: "explain", args: "[RULE…|KEY|WORD]",
		does:  "what a rule checks, its formula, its sources; or what a key of a garment file means",
		about: "Alone it lists all rules. Every finding names its rule in brackets at its end. A key of a garment file is explained too, and a word lists every rule and every key that has it.",
		examples: []string{
			"explain stand-narrow",
			"explain closure.front.measured.stack",
			"explain hole",
			"explain --format markdown --out rules.md",
		},
		flags:  []flag{units, oneUnitFlag(), formatFlag("text", "markdown", "json"), outFlag()},
		action: explain,
	}
}

func explain(in *call) error {
	var u measure.Unit // of the source
	if in.has("units") {
		var err error
		if u, err = measure.ParseUnit(in.text("units")); err != nil {
			return err
		}
	} else if in.on("one-unit") {
		return usagef("--one-unit: a rule is in no unit, so which one is not said").write("--units mm --one-unit")
	}
	u = in.alone(u)
	chosen := rules.Rules()
	names := strings.Fields(strings.Join(in.args(), " "))
	if len(names) == 0 && len(in.args()) > 0 {
		return usagef("what to explain is empty").write("%s explain, for all rules", Program)
	}
	if len(names) > 0 {
		chosen = nil
		for _, n := range names {
			n = strings.Trim(n, "[]")
			if r := rules.Find(n); r != nil {
				chosen = append(chosen, r)
				continue
			}
			if keys := keysCalled(n, u); len(names) == 1 && len(keys) > 0 && (strings.Contains(n, ".") || len(rules.About(n)) == 0) {
				return in.explainKeys(keys)
			}
			if len(names) > 1 {
				return noRule(n)
			}
			return in.about(n, u)
		}
	}
	chosen = explained(chosen, u)
	var b strings.Builder
	switch in.format() {
	case "json":
		data, err := text.JSON(rulesForPrograms(chosen, u))
		if err != nil {
			return err
		}
		return in.deliver(data)
	case "markdown":
		for i, r := range chosen {
			if i > 0 {
				b.WriteByte('\n')
			}
			markdownRule(&b, r, u)
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
			textRule(&b, r, u)
		}
	}
	return in.deliver([]byte(b.String()))
}

// rulesForPrograms are rules as JSON has them.
func rulesForPrograms(rs []*rules.Rule, u measure.Unit) []pairs {
	list := make([]pairs, len(rs))
	for i, r := range rs {
		list[i] = pairs{
			version, {"rule", r.Name}, {"severity", r.Severity.String()}, {"title", r.Title}, {"formula", r.Formula}, {"why", r.Why},
			{"sources", r.Sources}, {"ours", r.Ours}, {"others", r.Others},
			{"touches", maySet(r)}, {"rests", slices.DeleteFunc(append([]string{}, r.Rests...), func(s string) bool { return s == rules.FileSays })}, {"thresholds", thresholds(r, u)},
		}
	}
	return list
}

// explained are rules with their thresholds put into their texts.
func explained(rs []*rules.Rule, u measure.Unit) []*rules.Rule {
	out := make([]*rules.Rule, len(rs))
	for i, r := range rs {
		e := r.Explained(u)
		out[i] = &e
	}
	return out
}

// thresholds are the figures that a rule decides by, and what they rest on.
func thresholds(r *rules.Rule, u measure.Unit) []pairs {
	out := make([]pairs, len(r.Limits))
	for i := range r.Limits {
		t := &r.Limits[i]
		out[i] = pairs{{"name", t.Name}, {"figure", t.Text(u)}, {"ground", t.Ground.String()}}
		if slices.Contains(r.Lenient, t.Name) {
			out[i] = append(out[i], pair{"lenient", true})
		}
	}
	return out
}

// restsOn says what a rule rests on: the inputs that its conflicts go or stay by,
// and its thresholds, the firmest ground first.
func restsOn(r *rules.Rule, u measure.Unit) string {
	var words []string
	if len(r.Rests) > 0 {
		as := "; a conflict only where each of them that it needs is read, published, derived or common practice, else a caution"
		keys := r.Rests
		if r.ByFile() {
			keys, as = keys[1:], ", which the file itself says"
		}
		words = append(words, strings.Join(keys, ", ")+as)
	}
	for g := plan.Read; g <= plan.Memory; g++ {
		var names []string
		for i := range r.Limits {
			if t := &r.Limits[i]; t.Ground == g && slices.Contains(r.Lenient, t.Name) {
				names = append(names, t.Called(u)+" (which only lets pass)")
			} else if t.Ground == g {
				names = append(names, t.Called(u))
			}
		}
		if len(names) > 0 {
			words = append(words, g.String()+": "+strings.Join(names, ", "))
		}
	}
	if len(words) == 0 {
		return "no figure of its own: on what the file says, and the sources below"
	}
	return strings.Join(words, "; ")
}

// noRule says that there is no rule of a name.
func noRule(n string) error {
	var known []string
	for _, r := range rules.Rules() {
		known = append(known, r.Name)
	}
	e := usagef("there is no rule %q", n)
	if near := text.Nearest(n, known); near != "" {
		return e.write("%s explain %s", Program, near)
	}
	return e.write("%s explain", Program)
}

// about lists every rule and every key of a garment file that has a word.
func (in *call) about(word string, u measure.Unit) error {
	cat, err := catalog.StockCatalog()
	if err != nil {
		return err
	}
	found, keys := rules.About(word), cat.KeysAbout(word)
	if len(found)+len(keys) == 0 {
		return noRule(word)
	}
	var b strings.Builder
	switch in.format() {
	case "json":
		data, err := text.JSON(append(rulesForPrograms(explained(found, u), u), keysForPrograms(keys)...))
		if err != nil {
			return err
		}
		return in.deliver(data)
	case "markdown":
		for _, r := range explained(found, u) {
			if b.Len() > 0 {
				b.WriteByte('\n')
			}
			markdownRule(&b, r, u)
		}
		for _, k := range keys {
			if b.Len() > 0 {
				b.WriteByte('\n')
			}
			explainKey(&b, k, true)
		}
		return in.deliver([]byte(b.String()))
	}
	if len(found) > 0 {
		put(&b, text.Wrap(fmt.Sprintf("Rules with the word %s. More about one: %s explain RULE", text.Safe(word), Program), helpWidth))
		b.WriteByte('\n')
		put(&b, text.Columns(ruleRows(found), "  ", helpWidth))
	}
	if len(keys) > 0 {
		if b.Len() > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "Keys of a garment file with it:\n\n")
		rows := make([][]string, len(keys))
		for i, k := range keys {
			rows[i] = []string{k.Key, k.Doc}
		}
		put(&b, text.Columns(rows, "  ", helpWidth))
	}
	return in.deliver([]byte(b.String()))
}

func ruleRows(rs []*rules.Rule) [][]string {
	rows := make([][]string, len(rs))
	for i, r := range rs {
		rows[i] = []string{r.Name, r.Severity.String(), r.Title}
	}
	return rows
}

func listRules(b *strings.Builder, rs []*rules.Rule) {
	put(b, text.Wrap(fmt.Sprintf("The %d rules, each with the worst it can report. More about one: %s explain RULE", len(rs), Program), helpWidth))
	b.WriteByte('\n')
	put(b, text.Columns(ruleRows(rs), "  ", helpWidth))
}

// maySet are the keys that the changes of a rule may set, each once.
func maySet(r *rules.Rule) []string {
	out := []string{}
	for _, key := range r.Touches {
		if !slices.Contains(out, key) {
			out = append(out, key)
		}
	}
	return out
}

func textRule(b *strings.Builder, r *rules.Rule, u measure.Unit) {
	put(b, text.Wrap(fmt.Sprintf("%s (%s): %s", r.Name, r.Severity, r.Title), helpWidth))
	b.WriteByte('\n')
	for _, part := range [][2]string{{"Formula", r.Formula}, {"Why", r.Why}, {"Ours", r.Ours}, {"Others", r.Others}, {"Rests on", restsOn(r, u)}, {"May set", strings.Join(maySet(r), ", ")}} {
		if part[1] != "" {
			put(b, text.Hang("  "+part[0], 12, part[1], helpWidth))
		}
	}
	for i, s := range r.Sources {
		head := "  Sources"
		if i > 0 {
			head = ""
		}
		for j, l := range text.Hang(head, 14, s, helpWidth) {
			if j == 0 {
				l = l[:12] + "-" + l[13:]
			}
			put(b, []string{l})
		}
	}
}

func markdownRule(b *strings.Builder, r *rules.Rule, u measure.Unit) {
	esc := text.Markdown
	fmt.Fprintf(b, "## %s\n\n%s: the worst it can report is a **%s**.\n", r.Name, esc(text.Capital(r.Title)), r.Severity)
	for _, part := range [][2]string{{"Formula", r.Formula}, {"Why", r.Why}, {"Our own choice", r.Ours}, {"Other rules", r.Others}, {"What it rests on", restsOn(r, u)}, {"Keys that its changes may set", strings.Join(maySet(r), ", ")}} {
		if part[1] != "" {
			fmt.Fprintf(b, "\n**%s.** %s\n", part[0], esc(part[1]))
		}
	}
	b.WriteString("\nSources:\n\n")
	for _, s := range r.Sources {
		fmt.Fprintf(b, "- %s\n", esc(s))
	}
}
