package desk

import (
	"fmt"
	"slices"
	"strings"

	"placketeer/catalog"
	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
)

// keysCalled are the keys of a garment file that are called so.
func keysCalled(name string, u measure.Unit) []catalog.KeyDoc {
	cat, err := catalog.StockCatalog()
	if err != nil {
		return nil
	}
	if u.Is(measure.NoUnit) {
		u = measure.In
	}
	return cat.Explained(name, u)
}

// explainKeys explains keys of a garment file as rules are explained.
func (in *call) explainKeys(keys []catalog.KeyDoc) error {
	if in.format() == "json" {
		data, err := text.JSON(keysForPrograms(keys))
		if err != nil {
			return err
		}
		return in.deliver(data)
	}
	var b strings.Builder
	for i, k := range keys {
		if i > 0 {
			b.WriteByte('\n')
		}
		explainKey(&b, k, in.format() == "markdown")
	}
	return in.deliver([]byte(b.String()))
}

// keysForPrograms are keys as JSON has them.
func keysForPrograms(keys []catalog.KeyDoc) []pairs {
	list := make([]pairs, len(keys))
	for i, k := range keys {
		list[i] = pairs{
			version, {"key", k.Key}, {"says", k.Doc}, {"takes", k.Takes}, {"words", append([]string{}, k.Words...)}, {"example", k.Example},
			{"keys", append([]string{}, k.Keys...)}, {"changed_by", append([]string{}, changedBy(k.Key)...)},
		}
	}
	return list
}

// explainKey explains one key.
func explainKey(b *strings.Builder, k catalog.KeyDoc, markdown bool) {
	parts := [][2]string{
		{"Takes", k.Takes}, {"Words", strings.Join(k.Words, ", ")}, {"Example", k.Example}, {"Keys", strings.Join(k.Keys, ", ")},
		{"Changed by", strings.Join(changedBy(k.Key), ", ")},
	}
	if markdown {
		fmt.Fprintf(b, "## %s\n\n%s.\n", text.MarkdownCode(k.Key), text.Markdown(text.Capital(k.Doc)))
	} else {
		put(b, text.Wrap(k.Key+": "+k.Doc, helpWidth))
		b.WriteByte('\n')
	}
	for _, p := range parts {
		switch {
		case p[1] == "":
		case markdown:
			fmt.Fprintf(b, "\n**%s.** %s\n", p[0], text.Markdown(p[1]))
		default:
			put(b, text.Hang("  "+p[0], 14, p[1], helpWidth))
		}
	}
}

// changedBy are the rules whose proposals may set a key or take it out.
func changedBy(key string) []string {
	var out []string
	for _, r := range rules.Rules() {
		if slices.ContainsFunc(r.Touches, func(t string) bool { return t == key || strings.HasPrefix(key, t+".") }) {
			out = append(out, r.Name)
		}
	}
	return out
}
