package catalog

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
	"placketeer/catalog/text"
)

// With is one change to a garment: a key of its file, and the value that the
// key gets. See Garment.Alter.
type With struct {
	// Key is a path in which closures, cords, anchors and clear zones go by
	// their names: closure.front.stand.extension. See source.Path.
	Key string
	// Value is what the key gets, as the file has it: a string, int64,
	// float64, bool, LengthIn, []any or map[string]any; nil takes the key out.
	Value any

	text string // KEY=VALUE where it was read from there
}

// LengthIn is a length as a value of a change, and the unit to write it in.
type LengthIn struct {
	measure.Toleranced
	Unit measure.Unit
}

// String gives the length exactly, as it is written in a file.
func (l LengthIn) String() string { return l.Exact(l.Unit) }

// Set is the change that gives a key a word, a number or a yes or no.
func Set[T string | int | int64 | float64 | bool](key string, value T) With {
	return With{Key: key, Value: plain(value)}
}

// SetLength is the change that gives a key a length, written in u.
func SetLength(key string, l measure.Length, u measure.Unit) With {
	return With{Key: key, Value: lengthIn(l, u)}
}

// SetSizes is the change that gives a key one length for each size, written
// in u.
func SetSizes(key string, sizes []string, lengths []measure.Length, u measure.Unit) With {
	table := make(map[string]any, len(sizes))
	for i, s := range sizes {
		table[s] = lengthIn(lengths[i], u)
	}
	return With{Key: key, Value: table}
}

// SetWindow is the change that gives a key the limits between which a length
// may lie.
func SetWindow(key string, least, most measure.Length, u measure.Unit) With {
	return With{Key: key, Value: map[string]any{"min": lengthIn(least, u), "max": lengthIn(most, u)}}
}

// SetNames is the change that gives a key a list of names, such as layers.
func SetNames(key string, names ...string) With { return With{Key: key, Value: plain(names)} }

// SetTable is the change that gives a key a table, or a value for each size,
// or limits. Its values are what With.Value may be.
func SetTable(key string, table map[string]any) With { return With{Key: key, Value: plain(table)} }

// TakeOut is the change that takes a key out.
func TakeOut(key string) With { return With{Key: key} }

func lengthIn(l measure.Length, u measure.Unit) LengthIn {
	return LengthIn{measure.Toleranced{V: l}, u}
}

// plain is a value as a document holds it.
func plain(v any) any {
	switch v := v.(type) {
	case int:
		return int64(v)
	case []string:
		out := make([]any, len(v))
		for i, s := range v {
			out[i] = s
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, e := range v {
			out[i] = plain(e)
		}
		return out
	case map[string]any:
		out := make(map[string]any, len(v))
		for k, e := range v {
			out[k] = plain(e)
		}
		return out
	}
	return v
}

// ParseWith reads KEY=VALUE. A value is a number, true or false, a text in
// quotes, a list or a table as TOML has them, and else the text itself; with
// nothing after the sign the key is taken out. The error is a *ChangeError.
func ParseWith(text string) (With, error) {
	key, value, ok := cutChange(text)
	if !ok || key == "" {
		return With{}, &ChangeError{text, "it is not KEY=VALUE", "closure.front.use=horn-36"}
	}
	w := With{Key: key, text: text}
	if value != "" {
		w.Value = source.ParseValue(value)
	}
	return w, nil
}

// parseWiths reads changes, up to the first that cannot be read.
func parseWiths(texts []string) ([]With, error) {
	out := make([]With, len(texts))
	for i, t := range texts {
		w, err := ParseWith(t)
		if err != nil {
			return nil, err
		}
		out[i] = w
	}
	return out, nil
}

// cutChange splits KEY=VALUE at the first equals sign outside quotes.
func cutChange(kv string) (key, value string, ok bool) {
	quoted := false
	for i := 0; i < len(kv); i++ {
		switch {
		case kv[i] == '\\' && quoted:
			i++
		case kv[i] == '"':
			quoted = !quoted
		case kv[i] == '=' && !quoted:
			return strings.TrimSpace(kv[:i]), strings.TrimSpace(kv[i+1:]), true
		}
	}
	return "", "", false
}

// String is the change as --with takes it: KEY=VALUE.
func (w With) String() string {
	if w.text != "" {
		return w.text
	}
	switch v := plain(w.Value).(type) {
	case nil:
		return w.Key + "="
	case LengthIn:
		return w.Key + "=" + v.String()
	case string:
		if back, same := source.ParseValue(v).(string); v != "" && same && back == v && strings.TrimSpace(v) == v {
			return w.Key + "=" + v
		}
		return w.Key + "=" + source.Text(v)
	default:
		return w.Key + "=" + source.Text(v)
	}
}

// Out says whether the change takes its key out.
func (w With) Out() bool { return w.Value == nil }

// Equal says whether two changes give the same key the same value.
func (w With) Equal(o With) bool {
	return w.Key == o.Key && reflect.DeepEqual(w.Value, o.Value)
}

// Texts are changes as --with takes them.
func Texts(with []With) []string {
	out := make([]string, len(with))
	for i, w := range with {
		out[i] = w.String()
	}
	return out
}

// Key is the key of a named part, for With, keep and --with:
// Key("cloth", "shell"). A name that could not be read otherwise stands in
// quotes.
func Key(parts ...string) string {
	p := make(source.Path, len(parts))
	for i, s := range parts {
		p[i] = source.Step{Key: s, Item: -1}
	}
	return p.Key()
}

// ChangeError is a what-if change that cannot be made.
type ChangeError struct {
	Change string
	Reason string
	Near   string // what to write instead, where that is near
}

func (e *ChangeError) Error() string {
	s := fmt.Sprintf("--with %s: %s", text.Safe(e.Change), e.Reason)
	if e.Near != "" {
		s += fmt.Sprintf("; write %s", e.Near)
	}
	return s
}

// edit is a change with its place in a document.
type edit struct {
	With
	source.Assignment
	parts []string // of the key, all by name
}

// String is the label that a changed value has in place of a position.
func (e *edit) String() string { return "--with " + e.With.String() }

// keyParts takes a key of a document apart, with all items by name.
func keyParts(doc *source.Document, key string) ([]string, bool) {
	p, ok := source.ParsePath(key)
	if ok && slices.ContainsFunc(p, func(s source.Step) bool { return s.Item >= 0 }) {
		p, ok = doc.Named(key)
	}
	parts := make([]string, len(p))
	for i, s := range p {
		if parts[i] = s.Key; s.Item >= 0 {
			return nil, false
		}
	}
	return parts, ok && len(parts) > 0
}

// edit finds the place of a change in a document.
func (g *Garment) edit(doc *source.Document, with With) (*edit, error) {
	u := measure.MM
	if doc != nil {
		u = unitsIn(doc)
	}
	return g.editIn(doc, with, u)
}

// apply makes the change in a document.
func (e *edit) apply(doc *source.Document) (*source.Document, error) {
	var err error
	if e.Assignment.Out {
		if _, there := doc.Get(e.Path); !there {
			return nil, &ChangeError{e.With.String(), "there is no " + strings.Join(e.parts, ".") + " to take out", ""}
		}
		doc, err = doc.Unset(e.Path, e)
	} else {
		doc, err = doc.Set(e.Path, e.Assignment.Value, e)
	}
	if err != nil {
		return nil, &ChangeError{e.With.String(), err.Error(), ""}
	}
	return doc, nil
}

// edits makes changes in the garment's document one after the other.
func (g *Garment) edits(with []With) (*source.Document, []*edit, error) {
	doc := g.doc
	out := make([]*edit, len(with))
	for i, w := range with {
		e, err := g.edit(doc, w)
		if err == nil {
			doc, err = e.apply(doc)
		}
		if err != nil {
			return nil, nil, err
		}
		out[i] = e
	}
	return doc, out, nil
}
