package desk

import (
	"fmt"
	"strconv"
	"strings"
	"sync"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
)

func catalogCommand() *command {
	return &command{
		name: "catalog", args: "[list] [WORD…] | show NAME…",
		does:  "look up what the catalogue holds",
		about: "Alone it says how much there is of each kind. list, a --kind or words to look for give one line an entry; show prints an entry whole, with its sources, as a catalogue file has it: paste it into one of your own and change what your button in hand measures.",
		examples: []string{
			"catalog --kind button",
			"catalog horn",
			"catalog show horn-40 melton",
		},
		flags: []flag{
			{name: "kind", value: "KIND", words: append(catalog.Kinds(), "fastener"), doc: "only this kind: " + strings.Join(catalog.Kinds(), ", ") + ", or fastener for all that fasten"},
			catalogFlag(),
			{name: "units", words: []string{"in", "mm"}, doc: "figures in inches or millimetres", first: "mm"}, oneUnitFlag(),
			formatFlag("text", "json", "csv"), outFlag(),
		},
		action: look,
	}
}

func look(in *call) error {
	if err := in.keepInputs(nil); err != nil {
		return err
	}
	cat, err := in.catalog()
	if err != nil {
		return err
	}
	unit := measure.MM
	if in.text("units") == "in" {
		unit = measure.In
	}
	unit = in.alone(unit)
	words := in.args()
	verb := ""
	if len(words) > 0 && (words[0] == "list" || words[0] == "show") {
		verb, words = words[0], words[1:]
	}
	var all []catalog.Item
	for _, it := range cat.Items() {
		if in.ofKind(it.Kind) {
			all = append(all, it)
		}
	}
	if verb == "show" {
		return in.show(all, words, unit)
	}
	found := all
	if words = strings.Fields(strings.Join(words, " ")); len(words) > 0 {
		if found = having(all, words); len(found) == 0 {
			return noneHas(words, all)
		}
	}
	switch in.format() {
	case "json":
		return in.deliverItems(found, unit)
	case "csv":
		rows := [][]string{{"kind", "name", "about", "figures", "price", "pack", "source", "sure", "file"}}
		for _, it := range found {
			rows = append(rows, []string{it.Kind, it.Name, it.About, brief(it, unit), priceOf(it), packOf(it), it.Source, it.Sure, it.File})
		}
		data, err := text.CSV(rows)
		if err != nil {
			return err
		}
		return in.deliver([]byte(data))
	}
	var b strings.Builder
	if verb == "" && len(words) == 0 && !in.has("kind") {
		overview(&b, all)
	} else {
		listItems(&b, found, unit)
	}
	return in.deliver([]byte(b.String()))
}

// ofKind says whether a kind is asked for.
func (in *call) ofKind(kind string) bool {
	switch k := in.text("kind"); k {
	case "", kind:
		return true
	case "fastener":
		return fastens(kind)
	}
	return false
}

// fastens says whether a kind is one of fasteners.
func fastens(kind string) bool {
	for _, k := range catalog.Kinds() {
		if k == "cloth" { // the fasteners come before it
			return false
		}
		if k == kind {
			return true
		}
	}
	return false
}

// having are the entries that have all the words, or, where the words are a
// length, those that have one as long.
func having(all []catalog.Item, words []string) (found []catalog.Item) {
	l, err := measure.ParseLength(strings.Join(words, " "), measure.NoUnit)
	for _, it := range all {
		if matches(it, words) || err == nil && it.HasLength(l) {
			found = append(found, it)
		}
	}
	return found
}

// noneHas says that no entry has the words, and offers a kind, or the name of
// an entry, that is written nearly like one of them.
func noneHas(words []string, all []catalog.Item) error {
	e := usagef("nothing in the catalogue has %q", strings.Join(words, " "))
	for _, w := range words {
		if kind := text.Nearest(w, catalog.Kinds()); kind != "" {
			return e.write("%s catalog --kind %s", Program, kind)
		}
	}
	for _, w := range words {
		if near := text.Nearest(w, namesOf(all)); near != "" {
			return e.write("%s catalog show %s", Program, near)
		}
	}
	return e.write("%s catalog", Program)
}

// matches says whether every word stands in the entry.
func matches(it catalog.Item, words []string) bool {
	text := strings.ToLower(it.Kind)
	for _, f := range it.Figures(measure.MM) {
		if f.Key != "source" && f.Key != "sure" { // they speak of other things too
			text += " " + strings.ToLower(f.Text) + " " + strings.ToLower(f.TOML)
		}
	}
	for _, w := range words {
		if !strings.Contains(text, strings.ToLower(w)) {
			return false
		}
	}
	return true
}

func namesOf(items []catalog.Item) []string {
	out := make([]string, len(items))
	for i, it := range items {
		out[i] = it.Name
	}
	return out
}

// briefKeys are the figures that tell an entry of a kind from its neighbours.
var briefKeys = sync.OnceValue(func() map[string][]string {
	return map[string][]string{
		"button":      {"diameter", "thickness", "shank"},
		"tack-button": {"diameter", "grip"},
		"snap":        {"diameter", "grip", "attach"},
		"rivet":       {"diameter", "post"},
		"eyelet":      {"inside", "flange"},
		"toggle":      {"length", "width"},
		"frog":        {"knot", "length"},
		"hook":        {"length", "width"},
		"zip":         {"number", "chain", "opening"},
		"cloth":       {"weight", "thickness"},
		"interfacing": {"weight", "fixing"},
		"thread":      {"tex", "fibre"},
		"needle":      {"size", "point"},
		"machine":     {"foot_lift", "buttonhole_max"},
		"cord":        {"thickness"},
		"cord-lock":   {"diameter"},
		"family":      {"density"},
		"fibre":       {"density", "iron"},
	}
})

// briefSays is what stands before a figure, or after it.
var briefSays = sync.OnceValue(func() map[string]string {
	return map[string]string{
		"thickness": "thick", "shank": "shank", "grip": "grip", "post": "post", "inside": "opening", "flange": "flange",
		"length": "long", "width": "wide", "number": "no.", "chain": "chain", "foot_lift": "lifts", "buttonhole_max": "holes to",
		"density": "· g/cm³", "iron": "iron to",
	}
})

// brief is an entry in a few figures.
func brief(it catalog.Item, u measure.Unit) string {
	var out []string
	figs := it.Figures(u)
	for _, key := range briefKeys()[it.Kind] {
		for _, f := range figs {
			if f.Key != key {
				continue
			}
			text := f.Few
			switch say := briefSays()[key]; {
			case say == "":
			case strings.HasPrefix(say, "·"):
				text += strings.TrimPrefix(say, "·")
			default:
				text = say + " " + text
			}
			out = append(out, text)
		}
	}
	return strings.Join(out, ", ")
}

func priceOf(it catalog.Item) string {
	if !it.Price.Has() {
		return ""
	}
	return strconv.FormatFloat(it.Price.V, 'f', 2, 64)
}

func packOf(it catalog.Item) string {
	if !it.Pack.Has() {
		return ""
	}
	return strconv.Itoa(it.Pack.V)
}

func overview(b *strings.Builder, items []catalog.Item) {
	var rows [][]string
	for _, k := range catalog.Kinds() {
		var names []string
		for _, it := range items {
			if it.Kind == k {
				names = append(names, it.Name)
			}
		}
		if len(names) == 0 {
			continue
		}
		few := names[:min(3, len(names))]
		more := ""
		if len(names) > len(few) {
			more = ", …"
		}
		rows = append(rows, []string{k, fmt.Sprintf("%3d", len(names)), text.Safe(strings.Join(few, ", ")) + more})
	}
	b.WriteString("The catalogue holds:\n\n")
	put(b, text.Columns(rows, "  ", helpWidth))
	fmt.Fprintf(b, "\nList a kind:   %[1]s catalog --kind cloth\nLook for:      %[1]s catalog horn 40\nShow an entry: %[1]s catalog show horn-40\n", Program)
}

func listItems(b *strings.Builder, items []catalog.Item, u measure.Unit) {
	for i := 0; i < len(items); {
		j := i
		var rows [][]string
		for ; j < len(items) && items[j].Kind == items[i].Kind; j++ {
			own := ""
			if items[j].File != "" {
				own = " (" + items[j].File + ")"
			}
			rows = append(rows, []string{text.Safe(items[j].Name), text.Safe(text.Join("; ", brief(items[j], u), items[j].About) + own)})
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(b, "%s (%d)\n", items[i].Kind, len(rows))
		put(b, text.Columns(rows, "  ", helpWidth))
		i = j
	}
}

// show prints entries whole.
func (in *call) show(all []catalog.Item, names []string, u measure.Unit) error {
	if len(names) == 0 {
		return usagef("say which entry").write("%s catalog show horn-40", Program)
	}
	var found []catalog.Item
	for _, n := range names {
		before := len(found)
		for _, it := range all {
			if it.Name == n {
				found = append(found, it)
			}
		}
		if len(found) == before {
			e := usagef("the catalogue has no %q", n)
			if near := text.Nearest(n, namesOf(all)); near != "" {
				return e.write("%s catalog show %s", Program, near)
			}
			return e.write("%s catalog %s, to look for it", Program, text.Shell(n))
		}
	}
	switch in.format() {
	case "json":
		return in.deliverItems(found, u)
	case "csv":
		return usagef("an entry is shown as text or json, not as csv").write("--format json")
	}
	var b strings.Builder
	for i, it := range found {
		if i > 0 {
			b.WriteByte('\n')
		}
		if it.File != "" {
			fmt.Fprintf(&b, "# from %s\n", text.Safe(it.File))
		}
		b.WriteString(it.TOML())
	}
	return in.deliver([]byte(b.String()))
}

func (in *call) deliverItems(items []catalog.Item, u measure.Unit) error {
	list := make([]pairs, len(items))
	for i, it := range items {
		list[i] = pairs{version, {"kind", it.Kind}}
		for _, f := range it.Figures(u) {
			key := strings.ReplaceAll(f.Key, ".", "_")
			if f.Length {
				key += "_mm"
			}
			list[i] = append(list[i], pair{key, f.JSON})
		}
		list[i] = append(list[i], pair{"file", it.File})
	}
	data, err := text.JSON(list)
	if err != nil {
		return err
	}
	return in.deliver(data)
}
